//! `/help`: what to do, by role, on one screen of a phone; one command with its options and examples. Decides what each
//! role does most; leaves what a command is for to its row in the table.

use super::after_shift;
use crate::choice::Import;
use crate::decision::Decision;
use crate::message::{ENTRIES_MAX, Menu, MenuEntry, Message};
use crate::role::{Role, held, shift_over};
use crate::rules::import;
use crate::rules::nearest::slips;
use crate::rules::spanish::without_accents;
use crate::said::Ask;
use crate::say;
use crate::state::State;
use crate::table::{COMMANDS, Command, Takes, group_about};
use crate::tap::Setting;
use crate::words::Lang;

/// Commands that one answer about a topic explains in full.
const TOPICS: usize = 2;
/// Lines of commands on one screen, of all roles that somebody has: with its head and its foot it is read whole on a phone.
const LINES: usize = 10;
/// The topic that opens a second menu, where one cannot hold all the rest.
const MORE: &str = "more";

/// Commands that stand on one line, because they belong together.
pub type Line = &'static [&'static str];

/// What a role does most, the most first, line by line. Whatever else it may do is in the menu below.
pub fn most(role: Role) -> &'static [Line] {
    match role {
        Role::Aide => &[
            &["round"],
            &["alarm"],
            &["due"],
            &["handcheck"],
            &["clean", "filter"],
            &["static", "cpr"],
            &["surface", "timeline"],
            &["duty", "handover"],
            &["pull"],
            &["outage"],
        ],
        Role::Nurse => &[
            &["due"],
            &["alarm", "outage"],
            &["place", "release"],
            &["move", "swap", "leave"],
            &["setting"],
            &["handcheck", "round"],
            &["duty", "handover"],
            &["match"],
            &["surface", "timeline"],
            &["static", "cpr"],
        ],
        Role::Supervisor => &[
            &["due"],
            &["duty", "handover"],
            &["fleet list"],
            &["report"],
            &["agency", "team", "signoff"],
            &["place", "release"],
            &["hold", "recall"],
            &["match", "rental list"],
            &["facility show"],
            &["alarm", "outage"],
        ],
        Role::Upkeep => &[
            &["due"],
            &["clean", "filter"],
            &["pull", "return"],
            &["service"],
            &["stock"],
            &["mix"],
            &["match"],
            &["surface", "timeline"],
            &["zones"],
            &["alarm", "outage"],
        ],
        Role::Admin => &[
            &["facility show"],
            &["facility setup"],
            &["facility unit"],
            &["fleet import"],
            &["facility schedule"],
            &["facility policy"],
            &["facility ladder"],
            &["fleet list"],
            &["fleet size"],
            &["fleet cost"],
        ],
        Role::Clock => &[],
    }
}

/// `/help`.
pub(super) fn help(state: &State, ask: &Ask, topic: Option<&str>) -> Decision {
    let lang = ask.lang;
    let mut held = held(state, ask);
    held.sort_unstable_by(|a, b| b.cmp(a));
    Decision::private(match topic {
        Some(MORE) => the_rest(lang, &held),
        Some(topic) => Message::text(about_topic(lang, topic)),
        None if state.facility.is_none() && ask.manages => Message::text(say!(lang, "help-begin")),
        None if state.facility.is_none() => Message::text(say!(lang, "help-not-set-up")),
        None if held.is_empty() => Message::text(match shift_over(state, ask) {
            Some(let_in) => after_shift::words(lang, let_in, false),
            None => say!(lang, "help-no-role"),
        }),
        None => screen(lang, &held),
    })
}

/// The screen of somebody with these roles, the one with the most clinical right first.
fn screen(lang: Lang, held: &[Role]) -> Message {
    let names: Vec<String> = held
        .iter()
        .map(|role| say!(lang, &format!("role-{}", role.as_str())))
        .collect();
    let shown = shown(held);
    let mut lines = vec![say!(lang, "help-head", roles = names.join(", "))];
    lines.extend(shown.iter().map(|paths| {
        let named: Vec<String> = paths.iter().map(|path| format!("`/{path}`")).collect();
        let short = say!(lang, &short_key(paths));
        say!(lang, "help-group", paths = named.join(" "), about = short)
    }));
    lines.push(say!(lang, "help-foot"));
    let mut message = Message::text(lines.join("\n"));
    let mut entries = rest(lang, held);
    if entries.len() > ENTRIES_MAX {
        entries.truncate(ENTRIES_MAX - 1);
        entries.push(MenuEntry {
            value: MORE.to_owned(),
            label: say!(lang, "help-more"),
            about: None,
        });
    }
    if !entries.is_empty() {
        message = message.menu(menu(lang, entries));
    }
    message
}

/// What did not fit the menu of the first screen.
fn the_rest(lang: Lang, held: &[Role]) -> Message {
    let all = rest(lang, held);
    let entries: Vec<MenuEntry> = match all.len() > ENTRIES_MAX {
        true => all.into_iter().skip(ENTRIES_MAX - 1).collect(),
        false => all,
    };
    if entries.is_empty() {
        return screen(lang, held);
    }
    let entries = entries.into_iter().take(ENTRIES_MAX).collect();
    Message::text(say!(lang, "help-more")).menu(menu(lang, entries))
}

fn menu(lang: Lang, entries: Vec<MenuEntry>) -> Menu {
    Menu {
        id: Setting::topics_menu(),
        hint: say!(lang, "menu-help"),
        entries,
    }
}

/// The key of the few words on the commands of a line, so that all fit one line of a phone.
fn short_key(paths: Line) -> String {
    format!("help-short-{}", paths.join("-").replace(' ', "-"))
}

/// Each role's work in turn, so that nobody's first thing is missing.
fn shown(held: &[Role]) -> Vec<Line> {
    let longest = held.iter().map(|role| most(*role).len()).max().unwrap_or(0);
    let mut shown: Vec<Line> = Vec::new();
    for place in 0..longest {
        for line in held.iter().filter_map(|role| most(*role).get(place)) {
            let said = |path: &&str| shown.iter().any(|line| line.contains(path));
            if shown.len() < LINES && !line.iter().all(said) {
                shown.push(line);
            }
        }
    }
    shown
}

/// What else they may do, a group of subcommands as one.
fn rest(lang: Lang, held: &[Role]) -> Vec<MenuEntry> {
    let shown: Vec<&str> = shown(held).concat();
    let mut entries: Vec<MenuEntry> = Vec::new();
    let may = |command: &&Command| command.right.roles().iter().any(|role| held.contains(role));
    // Whoever reads this has found `/help`.
    for command in COMMANDS
        .iter()
        .filter(|command| command.path != "help")
        .filter(may)
    {
        let (topic, about) = match command.path.split_once(' ') {
            Some((group, _)) => (group, group_about(group)),
            None => (command.path, command.about.to_owned()),
        };
        if shown.contains(&command.path) || entries.iter().any(|entry| entry.value == topic) {
            continue;
        }
        entries.push(MenuEntry {
            value: topic.to_owned(),
            label: format!("/{topic}"),
            about: Some(say!(lang, &about)),
        });
    }
    entries
}

fn about_topic(lang: Lang, topic: &str) -> String {
    let topic = topic.trim().trim_start_matches('/');
    let found: Vec<&Command> = COMMANDS
        .iter()
        .filter(|command| command.path.starts_with(topic))
        .collect();
    // A whole name is that command, whatever else begins so.
    let found = match found.iter().find(|command| command.path == topic) {
        Some(exact) => vec![*exact],
        None => found,
    };
    // What is typed in a hurry is what is heard or seen, not the name of a command.
    let found = match found.is_empty() {
        true => of_word(topic),
        false => found,
    };
    if found.is_empty() {
        return say!(lang, "help-unknown", topic = super::check::escaped(topic));
    }
    // Many at once would not fit a message: their names, and one of them is asked for next.
    if found.len() > TOPICS {
        let lines: Vec<String> = found.iter().map(|command| line(lang, command)).collect();
        return lines.join("\n");
    }
    let abouts: Vec<String> = found.iter().map(|command| about(lang, command)).collect();
    abouts.join("\n\n")
}

/// What people look for, and the commands that it leads to. Both languages stand together: one home types both.
const WORDS: [(&str, &[&str]); 54] = [
    ("beep", &["alarm"]),
    ("beeps", &["alarm"]),
    ("beeping", &["alarm"]),
    ("noise", &["alarm"]),
    ("light", &["alarm"]),
    ("pita", &["alarm"]),
    ("pitido", &["alarm"]),
    ("suena", &["alarm"]),
    ("alarma", &["alarm"]),
    ("flat", &["alarm", "handcheck"]),
    ("bottomed", &["alarm", "handcheck"]),
    ("low", &["handcheck", "alarm"]),
    ("soft", &["handcheck", "alarm"]),
    ("reading", &["handcheck", "round"]),
    ("air", &["handcheck", "round"]),
    ("check", &["handcheck", "round"]),
    ("baja", &["handcheck", "alarm"]),
    ("floja", &["handcheck", "alarm"]),
    ("desinflada", &["alarm", "handcheck"]),
    ("lectura", &["handcheck", "round"]),
    ("aire", &["handcheck", "round"]),
    ("revision", &["handcheck", "round"]),
    ("ronda", &["round"]),
    ("filtro", &["filter"]),
    ("dust", &["filter"]),
    ("polvo", &["filter"]),
    ("cleaning", &["clean", "mix"]),
    ("wipe", &["clean"]),
    ("soiled", &["clean"]),
    ("turnover", &["clean", "release"]),
    ("limpiar", &["clean", "mix"]),
    ("limpieza", &["clean", "mix"]),
    ("bleach", &["mix", "clean"]),
    ("dilution", &["mix"]),
    ("lejia", &["mix", "clean"]),
    ("cloro", &["mix", "clean"]),
    ("agencia", &["agency"]),
    ("power", &["outage", "alarm"]),
    ("blackout", &["outage"]),
    ("luz", &["outage", "alarm"]),
    ("apagon", &["outage"]),
    ("admission", &["match", "place"]),
    ("ingreso", &["match", "place"]),
    ("discharge", &["release"]),
    ("alta", &["release"]),
    ("broken", &["pull", "return"]),
    ("damaged", &["pull", "return"]),
    ("rota", &["pull", "return"]),
    ("mistake", &["amend"]),
    ("undo", &["amend"]),
    ("error", &["amend"]),
    ("rails", &["zones"]),
    ("gap", &["zones"]),
    ("hueco", &["zones"]),
];

/// The commands that a word leads to, also where it is typed with a slip.
fn of_word(topic: &str) -> Vec<&'static Command> {
    let topic = without_accents(&topic.to_lowercase());
    let words: Vec<&str> = topic.split_whitespace().collect();
    let known = |wanted: &str| WORDS.iter().find(|(word, _)| *word == wanted);
    let exact = words.iter().find_map(|word| known(word));
    let slip = || {
        let list = || WORDS.iter().map(|(word, _)| *word);
        words
            .iter()
            .find_map(|word| slips(word, list()).first().copied())
            .and_then(known)
    };
    let Some((_, paths)) = exact.or_else(slip) else {
        return Vec::new();
    };
    paths
        .iter()
        .filter_map(|path| COMMANDS.iter().find(|command| command.path == *path))
        .collect()
}

fn line(lang: Lang, command: &Command) -> String {
    say!(
        lang,
        "help-line",
        path = command.path,
        about = say!(lang, command.about)
    )
}

fn about(lang: Lang, command: &Command) -> String {
    let mut lines = vec![line(lang, command)];
    for option in command.options {
        let key = if option.required {
            "help-option"
        } else {
            "help-option-may"
        };
        lines.push(say!(
            lang,
            key,
            name = option.name,
            about = say!(lang, option.about)
        ));
    }
    if command.path == "fleet import" {
        lines.extend(Import::ALL.iter().map(|what| {
            let (must, may) = import::columns(*what);
            say!(
                lang,
                "help-columns",
                what = say!(lang, &format!("import-{}", what.as_str())),
                must = must.join(", "),
                may = may.join(", ")
            )
        }));
    }
    lines.extend(
        command
            .examples
            .iter()
            .map(|example| format!("`{}`", in_words(lang, command, example))),
    );
    lines.join("\n")
}

/// An example with the names that a client of this language offers for its choices.
fn in_words(lang: Lang, command: &Command, example: &str) -> String {
    let mut text = example.to_owned();
    for option in command.options {
        let Takes::Choice(words) = option.takes else {
            continue;
        };
        let before = format!(" {}:", option.name);
        let Some((_, rest)) = example.split_once(before.as_str()) else {
            continue;
        };
        if let Some(word) = words
            .iter()
            .find(|word| rest.split(' ').next() == Some(word))
        {
            let name = say!(lang, &option.choice(word));
            text = text.replace(&format!("{before}{word}"), &format!("{before}{name}"));
        }
    }
    text
}
