//! The operator's page knows every exit code, every warning and error that the program can log, and every field of the log, so that it
//! cannot go stale.

use std::fs;
use std::path::{Path, PathBuf};

fn house() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("the workspace")
        .to_owned()
}

fn page() -> String {
    fs::read_to_string(house().join("docs/operator.md")).expect("the operator's page")
}

fn sources(folder: &Path, into: &mut Vec<String>) {
    for entry in fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|end| end == "rs") {
            into.push(fs::read_to_string(&path).expect("a source"));
        }
    }
}

/// What each `warn!` and `error!` says: the last text in its parentheses.
fn events() -> Vec<String> {
    let mut texts = Vec::new();
    for name in ["bot", "store", "commands"] {
        sources(&house().join(name).join("src"), &mut texts);
    }
    let mut events = Vec::new();
    for text in texts {
        for level in ["warn!(", "error!("] {
            for (at, _) in text.match_indices(level) {
                events.push(said(&text[at + level.len()..]));
            }
        }
    }
    events.sort();
    events.dedup();
    events
}

fn said(rest: &str) -> String {
    let (mut depth, mut last, mut inside) = (1, None, None);
    let mut before = ' ';
    for (at, letter) in rest.char_indices() {
        match (letter, inside) {
            ('"', None) => inside = Some(at + 1),
            ('"', Some(begun)) if before != '\\' => {
                last = Some(&rest[begun..at]);
                inside = None;
            }
            ('(', None) => depth += 1,
            (')', None) => depth -= 1,
            _ => {}
        }
        before = letter;
        if depth == 0 {
            break;
        }
    }
    last.unwrap_or_else(|| panic!("an event without words: {}", &rest[..60.min(rest.len())]))
        .to_owned()
}

/// The names of the fields of every line that can be logged, in the sources of the program.
fn fields() -> Vec<String> {
    let mut texts = Vec::new();
    for name in ["bot", "store"] {
        sources(&house().join(name).join("src"), &mut texts);
    }
    let mut fields = Vec::new();
    for text in &texts {
        for level in ["trace!(", "debug!(", "info!(", "warn!(", "error!("] {
            for (at, _) in text.match_indices(&format!("tracing::{level}")) {
                let rest = &text[at + "tracing::".len() + level.len()..];
                fields.extend(arguments(rest).iter().filter_map(|one| field(one)));
            }
        }
    }
    fields.sort();
    fields.dedup();
    fields
}

/// What stands between the commas of a call, as far as its closing bracket.
fn arguments(rest: &str) -> Vec<&str> {
    let (mut depth, mut inside, mut begun, mut found) = (1, false, 0, Vec::new());
    let mut before = ' ';
    for (at, letter) in rest.char_indices() {
        match letter {
            '"' if before != '\\' => inside = !inside,
            '(' | '[' | '{' if !inside => depth += 1,
            ')' | ']' | '}' if !inside => depth -= 1,
            _ => {}
        }
        if depth == 0 || (depth == 1 && letter == ',' && !inside) {
            found.push(rest[begun..at].trim());
            begun = at + 1;
        }
        if depth == 0 {
            break;
        }
        before = letter;
    }
    found
}

/// The name of a field; nothing for the words themselves. `%fault`, `guild = guild.0` and `row` are all of it.
fn field(argument: &str) -> Option<String> {
    if argument.is_empty() || argument.starts_with('"') {
        return None;
    }
    let name = argument.split('=').next()?.trim();
    Some(name.trim_start_matches(['%', '?']).to_owned())
}

#[test]
fn every_field_of_the_log_is_on_the_page_and_no_other() {
    let page = page();
    let table = page.split("| field |").nth(1).expect("the table of fields");
    let rows = table
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'));
    let names = rows.filter_map(|row| row.split('|').nth(1));
    let mut listed: Vec<String> = names
        .flat_map(|names| names.split(','))
        .map(|name| name.trim().trim_matches('`').to_owned())
        .collect();
    listed.sort();
    let fields = fields();
    assert!(fields.len() > 20, "only {fields:?} were found");
    assert_eq!(listed, fields);
}

#[test]
fn every_warning_and_error_is_on_the_page() {
    let (page, events) = (page(), events());
    assert!(events.len() > 40, "only {} events were found", events.len());
    let missing: Vec<_> = events
        .iter()
        .filter(|event| !page.contains(&format!("| {event} |")))
        .collect();
    assert!(missing.is_empty(), "not in docs/operator.md: {missing:#?}");
}

#[test]
fn the_page_has_no_warning_that_is_gone() {
    let events = events();
    let page = page();
    let table = page
        .split("| in the log |")
        .nth(1)
        .expect("the table of the log");
    for row in table
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'))
    {
        let event = row
            .split(" | ")
            .next()
            .unwrap_or_default()
            .trim_start_matches("| ");
        assert!(
            events.iter().any(|one| one == event),
            "{event} is logged nowhere"
        );
    }
}

/// The exit codes of `config.rs`: number, and what stands above it.
fn exits() -> Vec<(String, String)> {
    let config = fs::read_to_string(house().join("bot/src/config.rs")).expect("a source");
    let (_, rest) = config
        .split_once("pub enum Exit {")
        .expect("the exit codes");
    let (body, _) = rest.split_once("\n}").expect("their end");
    let (mut exits, mut about) = (Vec::new(), String::new());
    for line in body.lines().map(str::trim) {
        if let Some(words) = line.strip_prefix("///") {
            about.push_str(words);
        } else if let Some((_, number)) = line.trim_end_matches(',').split_once(" = ") {
            exits.push((number.to_owned(), std::mem::take(&mut about)));
        }
    }
    assert!(exits.len() >= 9, "{exits:?}");
    exits
}

#[test]
fn every_exit_code_is_on_the_page() {
    let page = page();
    let table = page
        .split("| exit |")
        .nth(1)
        .expect("the table of exit codes");
    let listed: Vec<&str> = table
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .filter_map(|line| line.split('|').nth(1))
        .map(str::trim)
        .collect();
    let exits = exits();
    let ours = exits.iter().map(|(number, _)| number.as_str());
    // And the one that Rust ends a program with whose main thread failed.
    let codes: Vec<&str> = ours.chain(["101"]).collect();
    assert_eq!(listed, codes);
}

#[test]
fn the_unit_starts_again_only_what_that_helps_and_soon() {
    let unit = fs::read_to_string(house().join("bot/deploy/loftwatch.service")).expect("the unit");
    let value = |name: &str| {
        let line = unit.lines().find_map(|line| line.strip_prefix(name));
        line.unwrap_or_else(|| panic!("the unit has no {name}"))
            .to_owned()
    };
    let hopeless: Vec<String> = exits()
        .into_iter()
        .filter(|(_, about)| about.contains("Starting again does not help"))
        .map(|(number, _)| number)
        .collect();
    assert_eq!(value("RestartPreventExitStatus="), hopeless.join(" "));
    // The chat may have been silent for 45 seconds by then, and people wait no longer than two minutes.
    let seconds: u32 = value("RestartSec=").parse().expect("seconds");
    assert!(seconds <= 30, "a long time to be away");
}

#[test]
fn every_counter_is_on_the_page() {
    let page = page();
    // What was never counted for any home is not written.
    let counters = bot::counters::Counters::default();
    let seen = bot::counters::Seen {
        heard: 1,
        records: Some(1),
        ..bot::counters::Seen::default()
    };
    counters.stepped(commands::ids::Guild(1), seen);
    counters.asked("post", &bot::request::Outcome::NotMade);
    counters.backed_up(commands::ids::Guild(1), None);
    counters.not_backed_up(commands::ids::Guild(1));
    let text = counters.text();
    let names = text.lines().filter_map(|line| line.strip_prefix("# TYPE "));
    let mut names: Vec<String> = names
        .map(|line| match line.split_once(' ') {
            Some((name, "counter")) => format!("{name}_total"),
            other => other.expect("a name and a kind").0.to_owned(),
        })
        .collect();
    names.sort();
    let listed = page
        .lines()
        .filter_map(|line| line.strip_prefix("| `loftwatch_"));
    let mut listed: Vec<String> = listed
        .filter_map(|line| Some(format!("loftwatch_{}", line.split_once('`')?.0)))
        .collect();
    listed.sort();
    assert_eq!(listed, names);
}
