//! Every sentence exists in every language, is used, is filled in by whoever says it, and fits where it is
//! read. The sources are read as text, so that a key that is mistyped is found without anybody having to say it.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use commands::choice::{
    Action, Cause, Cleaning, Cover, Finding, GapAct, Import, LeaveWhy, LoftAnswer, Method, Opening,
    Outcome, Outlet, Owned, Paper, Rails, Step, Task, What, Work,
};
use commands::message::{Message, Row};
use commands::role::Role;
use commands::rules::guard::Found;
use commands::rules::hand_check::{Judgement, Why};
use commands::rules::look_first::{LookAt, Sign};
use commands::rules::policy::POLICIES;
use commands::rules::priority::AlarmKind;
use commands::rules::schedule::DAY_WORDS;
use commands::rules::set_up::Stage;
use commands::table::{COMMANDS, Opt, Takes, group_about};
use commands::tap::{Longer, Page};
use commands::words::{FluentArgs, Lang, has, render};
use regex::Regex;

/// Kinds of work that the clock lists; with `-short` behind each, its words in a menu.
const DUE: [&str; 23] = [
    "due-alarm",
    "due-still-under",
    "due-gap-over",
    "due-recheck",
    "due-try-again",
    "due-after-power",
    "due-steps",
    "due-static-over",
    "due-leave-over",
    "due-check",
    "due-second-check",
    "due-filter-old",
    "due-losing-loft",
    "due-filter-look",
    "due-safety-test",
    "due-maintenance",
    "due-outlet-test",
    "due-paper-missing",
    "due-turnover",
    "due-repair",
    "due-held",
    "due-idle",
    "due-pickup",
];

/// Fields of forms.
const FIELDS: [&str; 10] = [
    "air", "note", "result", "day", "next-day", "zone1", "zone2", "zone3", "zone4", "angle4",
];

/// Families of keys that the sources build at run time: what stands before the part that varies, what
/// behind it, and every value of it.
fn families() -> Vec<(&'static str, &'static str, Vec<String>)> {
    let owned = |words: &[&str]| {
        words
            .iter()
            .map(|word| (*word).to_owned())
            .collect::<Vec<_>>()
    };
    let handed_over = [
        "still-under",
        "gap-over",
        "steps",
        "static-over",
        "leave-over",
        "check",
        "filter-old",
        "losing-loft",
        "filter-look",
        "safety-test",
        "maintenance",
        "outlet-test",
        "turnover",
        "repair",
        "held",
        "idle",
        "pickup",
    ];
    let shorts: BTreeSet<String> = Role::MAPPED
        .into_iter()
        .chain([Role::Admin])
        .flat_map(commands::decide::help_most)
        .map(|paths| paths.join("-").replace(' ', "-"))
        .collect();
    let shorts: Vec<String> = shorts.into_iter().collect();
    let groups: BTreeSet<&str> = COMMANDS
        .iter()
        .filter_map(|command| command.path.split_once(' '))
        .map(|(group, _)| group)
        .collect();
    let roles: Vec<String> = Role::MAPPED
        .iter()
        .chain([&Role::Admin])
        .map(|role| role.as_str().to_owned())
        .collect();
    vec![
        ("action-", "", owned(Action::WORDS)),
        // An adequate check closes the alarm and says so in other words.
        ("alarm-fixed-but-", "", owned(&["low", "high"])),
        ("cause-", "", owned(Cause::WORDS)),
        ("check-", "", owned(Judgement::WORDS)),
        ("clean-steps-", "", owned(Method::WORDS)),
        ("", "-short", owned(&DUE)),
        ("finding-", "", owned(Finding::WORDS)),
        ("choice-cover-", "", owned(Cover::WORDS)),
        ("look-at-", "", owned(LookAt::WORDS)),
        ("look-how-", "", owned(LookAt::WORDS)),
        ("sign-", "", owned(Sign::WORDS)),
        (
            "plain-like-",
            "",
            owned(&["check", "alarm", "filter", "clean", "due", "where", "look"]),
        ),
        ("form-", "", owned(&FIELDS)),
        ("form-", "-hint", owned(&FIELDS)),
        ("group-", "", owned(&groups.into_iter().collect::<Vec<_>>())),
        ("handover-", "", owned(&handed_over)),
        ("help-short-", "", shorts),
        ("page-", "", owned(Page::WORDS)),
        ("import-", "", owned(Import::WORDS)),
        ("judged-", "", owned(Judgement::WORDS)),
        ("kind-", "", owned(AlarmKind::WORDS)),
        ("leave-", "", owned(LeaveWhy::WORDS)),
        ("longer-", "", owned(Longer::WORDS)),
        ("method-", "", owned(Method::WORDS)),
        (
            "policy-",
            "",
            POLICIES.iter().map(|row| row.word.to_owned()).collect(),
        ),
        ("lack-paper-", "", owned(Paper::WORDS)),
        ("outlet-", "", owned(Outlet::WORDS)),
        ("owned-", "", owned(Owned::WORDS)),
        ("paper-", "", owned(Paper::WORDS)),
        ("pattern-", "", owned(&DAY_WORDS)),
        ("rails-", "", owned(Rails::WORDS)),
        ("outcome-", "", owned(Outcome::WORDS)),
        (
            "told-",
            "",
            roles.iter().cloned().chain(["clock".to_owned()]).collect(),
        ),
        ("loft-", "", owned(LoftAnswer::WORDS)),
        ("line-loft-", "", owned(LoftAnswer::WORDS)),
        ("work-cover-", "", owned(Cover::WORDS)),
        ("work-", "", owned(Work::WORDS)),
        ("private-", "", owned(Found::WORDS)),
        ("reason-", "", owned(Cleaning::WORDS)),
        ("role-", "", roles),
        ("stage-", "", owned(&Stage::ALL.map(Stage::as_str))),
        ("step-", "", owned(Step::WORDS)),
        ("steps-head-", "", owned(Opening::WORDS)),
        ("gap-act-", "", owned(GapAct::WORDS)),
        ("task-", "", owned(Task::WORDS)),
        ("what-", "", owned(What::WORDS)),
        ("why-", "", owned(Why::WORDS)),
    ]
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.map(|entry| entry.unwrap().path()) {
        if entry.is_dir() {
            files(&entry, ending, found);
        } else if entry.extension().is_some_and(|it| it == ending) {
            found.push(entry);
        }
    }
}

/// The sources without their comments and the tests at their ends.
static SOURCES: LazyLock<Vec<(String, String)>> = LazyLock::new(|| {
    let mut paths = Vec::new();
    files(&root().join("src"), "rs", &mut paths);
    files(&root().join("../bot/src"), "rs", &mut paths);
    paths.sort();
    let comment = Regex::new(r"(?m)^\s*//.*$").unwrap();
    paths
        .into_iter()
        .filter(|path| !path.ends_with("tests.rs") && !path.ends_with("src/words.rs"))
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let text = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
            (
                path.display().to_string(),
                comment.replace_all(text, "").into_owned(),
            )
        })
        .collect()
});

/// What is picked beside each option: the option, the word that comes back, the key of its name.
fn choices() -> Vec<(&'static Opt, &'static str, String)> {
    COMMANDS
        .iter()
        .flat_map(|command| command.options)
        .filter_map(|option| {
            let Takes::Choice(words) = option.takes else {
                return None;
            };
            Some((option, words))
        })
        .flat_map(|(option, words)| {
            words
                .iter()
                .map(move |word| (option, *word, option.choice(word)))
        })
        .collect()
}

/// A language's folder.
const fn folder(lang: Lang) -> &'static str {
    match lang {
        Lang::English => "en",
        Lang::Spanish => "es",
    }
}

/// The English files.
static WORDS: LazyLock<Words> = LazyLock::new(|| words(Lang::English));

/// Key to the file and the pattern that it has there.
type Words = BTreeMap<String, (String, String)>;

fn words(lang: Lang) -> Words {
    let mut paths = Vec::new();
    files(
        &root().join("src/words").join(folder(lang)),
        "ftl",
        &mut paths,
    );
    let head = Regex::new(r"^([a-zA-Z][a-zA-Z0-9_-]*) *=(.*)$").unwrap();
    let mut words = Words::new();
    for path in paths {
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        let mut key = None;
        for line in fs::read_to_string(&path).unwrap().lines() {
            if let Some(found) = head.captures(line) {
                let pattern = (file.clone(), found[2].to_owned());
                let before = words.insert(found[1].to_owned(), pattern);
                assert!(before.is_none(), "{} stands twice", &found[1]);
                key = Some(found[1].to_owned());
            } else if line.starts_with('#') {
                key = None;
            } else if let Some((_, pattern)) = key.as_ref().and_then(|key| words.get_mut(key)) {
                pattern.push('\n');
                pattern.push_str(line);
            }
        }
    }
    words
}

fn variables(pattern: &str) -> BTreeSet<String> {
    let variable = Regex::new(r"\$([a-z_]+)").unwrap();
    variable
        .captures_iter(pattern)
        .map(|found| found[1].to_owned())
        .collect()
}

/// The pieces of Rust text between its top-level commas, up to the bracket that closes the one just
/// opened, and how long all of it is. Brackets and commas in string literals do not count.
fn arguments(text: &str) -> (Vec<&str>, usize) {
    let (mut depth, mut quoted, mut escaped, mut start) = (0_i32, false, false, 0);
    let mut parts = Vec::new();
    for (at, c) in text.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '(' | '[' | '{' if !quoted => depth += 1,
            ')' | ']' | '}' if !quoted => depth -= 1,
            ',' if !quoted && depth == 0 => {
                parts.push(text[start..at].trim());
                start = at + 1;
            }
            _ => {}
        }
        if depth < 0 {
            parts.push(text[start..at].trim());
            return (parts, at);
        }
    }
    (parts, text.len())
}

/// A sentence said somewhere: the expression of its key and the names that fill it in.
struct Spoken {
    place: String,
    key: String,
    names: BTreeSet<String>,
}

/// Every `say!`, `say(` and `Refusal::new(`.
fn spoken() -> Vec<Spoken> {
    let call = Regex::new(r"\bsay!\(|\bsay\(|\bRefusal::new\(").unwrap();
    let filled = Regex::new(r"^\s*\.(text|number|keys)\(").unwrap();
    let pair = Regex::new(r#"\("([a-z]+)", Arg::"#).unwrap();
    let mut all = Vec::new();
    for (place, text) in SOURCES.iter() {
        for start in call.find_iter(text) {
            let (parts, length) = arguments(&text[start.end()..]);
            let mut names = BTreeSet::new();
            let key = if start.as_str() == "Refusal::new(" {
                let mut rest = &text[start.end() + length + 1..];
                while let Some(next) = filled.find(rest) {
                    let (parts, length) = arguments(&rest[next.end()..]);
                    names.insert(parts[0].trim_matches('"').to_owned());
                    rest = &rest[next.end() + length + 1..];
                }
                parts[0]
            } else {
                let Some(key) = parts.get(1) else { continue };
                let given = parts[2..].iter().filter_map(|part| part.split_once('='));
                names.extend(given.map(|(name, _)| name.trim().to_owned()));
                // The function beside the macro is given pairs.
                for part in &parts[2..] {
                    names.extend(pair.captures_iter(part).map(|found| found[1].to_owned()));
                }
                key
            };
            all.push(Spoken {
                place: place.clone(),
                key: key.to_owned(),
                names,
            });
        }
    }
    assert!(
        all.len() > 200,
        "only {} sentences were found in the sources",
        all.len()
    );
    all
}

fn literals(text: &str) -> Vec<String> {
    static LITERAL: LazyLock<Regex> =
        LazyLock::new(|| Regex::new(r#""([a-z][a-z0-9]*(?:-[a-z0-9]+)*)""#).unwrap());
    LITERAL
        .captures_iter(text)
        .map(|found| found[1].to_owned())
        .collect()
}

/// Every literal that stands where only a key can, and in which file.
fn literal_keys() -> BTreeMap<String, String> {
    let mut keys = BTreeMap::new();
    // The key itself, or an `if` between two; what is formatted belongs to a family.
    for said in spoken().iter().filter(|said| !said.key.contains("format!")) {
        keys.extend(
            literals(&said.key)
                .into_iter()
                .map(|key| (key, said.place.clone())),
        );
    }
    let places = [
        // `let key = if … { "one" } else { "other" };` and the same with more names beside it.
        r"(?s)let \(?key\b[^=;]*= (.*?);",
        // `fn end_key(…) -> &'static str { match … }`.
        r"(?s)fn \w*key\([^)]*\) -> &'static str \{(.*?)\n\}",
        r#"\bbutton\(\s*\w+,\s*("[a-z-]+")"#,
        r#"\bother\(\s*("[a-z-]+")"#,
        r#"\bladder_words\(\s*[\w.]+,\s*("[a-z-]+")"#,
        r#"\bbounds\(\s*("[a-z-]+")"#,
        r#"\b(?:ended_words|over_with)\([^"()]*("[a-z-]+")"#,
        // Some keys are known by how they begin, wherever they stand.
        r#"("(?:option|about|fault|post|source|csv|lack|card|button|menu|bot|show|suggest|call|set-up|wall|match|fits|missing|amend-field|timeline-col|report)-[a-z0-9-]+")"#,
    ];
    for at in places.map(|place| Regex::new(place).unwrap()) {
        for (place, text) in SOURCES.iter() {
            for found in at.captures_iter(text) {
                keys.extend(
                    literals(&found[1])
                        .into_iter()
                        // The word that a policy is typed by may begin as a key does.
                        .filter(|key| POLICIES.iter().all(|row| row.word != key))
                        .map(|key| (key, place.clone())),
                );
            }
        }
    }
    keys
}

/// As `format!` builds them: the text before and behind the one gap.
fn built(text: &str) -> Vec<(String, String)> {
    static BUILT: LazyLock<Regex> =
        LazyLock::new(|| Regex::new(r#"format!\("([a-z-]*)\{\w*\}([a-z-]*)""#).unwrap());
    BUILT
        .captures_iter(text)
        .map(|found| (found[1].to_owned(), found[2].to_owned()))
        .collect()
}

fn members(before: &str, behind: &str) -> Vec<String> {
    families()
        .into_iter()
        .filter(|family| (family.0, family.1) == (before, behind))
        .flat_map(|(before, behind, words)| {
            words
                .into_iter()
                .map(move |word| format!("{before}{word}{behind}"))
        })
        .collect()
}

/// The sentence with something in every gap: a number where a plural is chosen, else a tag. The
/// gaps are the English ones, and a test holds those of the others to them.
fn filled(lang: Lang, key: &str) -> String {
    let (_, pattern) = &WORDS[key];
    let mut args = FluentArgs::new();
    for name in variables(pattern) {
        if pattern.contains(&format!("${name} ->")) {
            args.set(name, 2_i64);
        } else {
            args.set(name, "LW-07");
        }
    }
    render(lang, key, &args)
}

/// Every key with every language.
fn each() -> impl Iterator<Item = (Lang, &'static String)> {
    Lang::ALL
        .into_iter()
        .flat_map(|lang| WORDS.keys().map(move |key| (lang, key)))
}

/// A sentence that is in one language only would be a key on somebody's phone, or English to those
/// who have none.
#[test]
fn every_language_has_the_same_sentences_in_the_same_files() {
    for lang in Lang::ALL {
        let theirs = words(lang);
        for (key, (file, pattern)) in WORDS.iter() {
            let Some((there, translated)) = theirs.get(key) else {
                panic!("{lang:?} lacks {key}, which is in {file}");
            };
            assert_eq!(there, file, "{lang:?}: {key} is in another file");
            assert_eq!(
                variables(translated),
                variables(pattern),
                "{lang:?}: {key} fills in something else"
            );
            assert_eq!(
                markup(translated),
                markup(pattern),
                "{lang:?}: {key} has other commands, lines or plurals"
            );
        }
        let more: Vec<&String> = theirs
            .keys()
            .filter(|key| !WORDS.contains_key(*key))
            .collect();
        assert!(more.is_empty(), "{lang:?} has more: {more:?}");
    }
}

/// What is the same in every language: the commands that it says to type, its lines, what it counts.
fn markup(pattern: &str) -> (Vec<String>, usize, Vec<String>) {
    let command = Regex::new(r"`/([a-z]+(?: [a-z]+)?)").unwrap();
    let counted = Regex::new(r"\$([a-z_]+) ->").unwrap();
    let all = |of: &Regex| {
        let mut all: Vec<String> = of
            .captures_iter(pattern)
            .map(|found| found[1].to_owned())
            .collect();
        all.sort_unstable();
        all
    };
    (all(&command), pattern.trim().lines().count(), all(&counted))
}

/// Whoever drives the commands from outside, or types them, uses the words of the table.
#[test]
fn english_choices_are_the_words_that_come_back() {
    for (option, word, key) in choices() {
        assert_eq!(filled(Lang::English, &key), word, "{}", option.name);
    }
    for (option, _, _) in choices() {
        let Takes::Choice(words) = option.takes else {
            continue;
        };
        for lang in Lang::ALL {
            let names: BTreeSet<String> = words
                .iter()
                .map(|word| filled(lang, &option.choice(word)))
                .collect();
            assert_eq!(
                names.len(),
                words.len(),
                "{lang:?} {}: {names:?}",
                option.name
            );
        }
    }
}

#[test]
fn every_key_in_the_sources_has_a_sentence() {
    let missing: Vec<String> = literal_keys()
        .into_iter()
        .filter(|(key, _)| !has(Lang::English, key))
        .map(|(key, place)| format!("{key} in {place}"))
        .collect();
    assert!(
        missing.is_empty(),
        "no sentence for:\n{}",
        missing.join("\n")
    );
}

#[test]
fn every_member_of_a_family_has_a_sentence() {
    let mut missing = Vec::new();
    for (before, behind, _) in families() {
        let keys = members(before, behind);
        assert!(!keys.is_empty(), "{before}…{behind} has no members");
        missing.extend(keys.into_iter().filter(|key| !has(Lang::English, key)));
    }
    assert!(
        missing.is_empty(),
        "no sentence for: {}",
        missing.join(", ")
    );
}

#[test]
fn every_family_in_the_sources_is_listed_here() {
    let keyed = Regex::new(r"\.keys\(").unwrap();
    let mut found: BTreeSet<(String, String)> =
        spoken().iter().flat_map(|said| built(&said.key)).collect();
    for (_, text) in SOURCES.iter() {
        for start in keyed.find_iter(text) {
            let (parts, _) = arguments(&text[start.end()..]);
            found.extend(parts.iter().flat_map(|part| built(part)));
        }
    }
    assert!(found.len() > 15, "only {} families were found", found.len());
    let unlisted: Vec<_> = found
        .iter()
        .filter(|(before, behind)| members(before, behind).is_empty())
        .collect();
    assert!(
        unlisted.is_empty(),
        "these families are not listed: {unlisted:?}"
    );
}

#[test]
fn no_sentence_is_without_use() {
    let mut used: BTreeSet<String> = literal_keys().into_keys().collect();
    for (before, behind, _) in families() {
        used.extend(members(before, behind));
    }
    used.extend(choices().into_iter().map(|(_, _, key)| key));
    let unused: Vec<&String> = WORDS.keys().filter(|key| !used.contains(*key)).collect();
    assert!(unused.is_empty(), "nobody says: {unused:?}");
}

/// What a sentence asks for must be given by everybody who says it.
#[test]
fn every_sentence_is_given_what_it_asks_for() {
    let mut lacking = Vec::new();
    let mut looked = 0;
    for said in spoken() {
        let mut keys: Vec<String> = built(&said.key)
            .iter()
            .flat_map(|(before, behind)| members(before, behind))
            .collect();
        if keys.is_empty() {
            keys = literals(&said.key);
        }
        for key in keys {
            let Some((_, pattern)) = WORDS.get(&key) else {
                continue;
            };
            looked += 1;
            let not_given: Vec<String> = variables(pattern)
                .difference(&said.names)
                .cloned()
                .collect();
            if !not_given.is_empty() {
                lacking.push(format!("{key} asks for {not_given:?}: {}", said.place));
            }
        }
    }
    assert!(looked > 200, "only {looked} were looked at");
    assert!(lacking.is_empty(), "{}", lacking.join("\n"));
}

/// A fault while filling in stops a debug build, which tests are.
#[test]
fn every_sentence_fills_in() {
    for (lang, key) in each() {
        let text = filled(lang, key);
        assert!(!text.trim().is_empty(), "{lang:?} {key} is empty");
        assert!(
            !text.contains('$') && !text.contains("{ "),
            "{lang:?} {key}: {text}"
        );
    }
}

#[test]
fn counts_have_a_singular() {
    for (lang, key) in each() {
        let (_, pattern) = &WORDS[key];
        if !pattern.contains("->") {
            continue;
        }
        let counted = |count: i64| {
            let mut args = FluentArgs::new();
            for name in variables(pattern) {
                args.set(name, count);
            }
            render(lang, key, &args)
        };
        assert_ne!(
            counted(1),
            counted(2).replace('2', "1"),
            "{lang:?} {key} says the same for one and for two"
        );
    }
}

#[test]
fn sentences_fit_where_they_are_read() {
    // Limits of the chat platform (its published description), and tighter ones of ours for a phone.
    let limits = [
        ("about-", 100),
        ("option-", 100),
        ("choice-", 40),
        ("group-", 100),
        ("menu-", 60),
        ("button-", 25),
        ("form-", 45),
        ("kind-", 45),
        ("cause-", 45),
        ("why-", 45),
        ("suggest-", 60),
    ];
    for (lang, key) in each() {
        let text = filled(lang, key);
        let count = text.chars().count();
        // Spanish takes more letters for the same; what the platform holds is the same for all.
        let ours = |most: usize| match lang {
            Lang::English => most,
            Lang::Spanish => most + most / 5,
        };
        for (_, most) in limits
            .iter()
            .filter(|(beginning, _)| key.starts_with(beginning))
        {
            let most = match (key.ends_with("-hint"), *most) {
                (true, _) => 100,
                (false, 25) => ours(25),
                (false, most) => most,
            };
            assert!(
                count <= most,
                "{lang:?} {key} has {count} characters, at most {most}"
            );
        }
        if key.ends_with("-short") {
            assert!(
                (2..=5).contains(&text.split(' ').count()) && count <= 25,
                "{lang:?} {key} is too long: {text}"
            );
        }
        if key.starts_with("post-") {
            assert!(count <= ours(320), "{lang:?} {key} has {count} characters");
        }
        // Several stand in one message of 2000 characters.
        assert!(count <= ours(620), "{lang:?} {key} has {count} characters");
    }
    for (group, _) in COMMANDS
        .iter()
        .filter_map(|command| command.path.split_once(' '))
    {
        for lang in Lang::ALL {
            assert!(has(lang, &group_about(group)), "{lang:?} {group}");
        }
    }
}

/// Posts are read by a whole unit on a phone: which surface comes first.
#[test]
fn posts_begin_with_the_surface() {
    for (lang, key) in each().filter(|(_, key)| key.starts_with("post-") || *key == "card-head") {
        // These are about the home, not about one surface.
        let elsewhere = [
            "post-away",
            "post-clock-back",
            "post-clock-on",
            "post-put-back",
            "post-no-backup",
            "post-no-backup-yet",
            "post-policy-asked",
            "post-ladder-asked",
            "post-undelivered",
            "post-undelivered-list",
            "post-gap-over-empty",
            "post-stock-order",
            "post-recall",
            "post-role-deleted",
            "post-role-everybody",
            "post-recall-unit",
            "post-turnover-late",
            "post-turnover-more",
            "post-let-in",
            "post-let-in-ended",
            "post-pace",
        ]
        .contains(&key.as_str());
        // Lines of a list begin with its dash.
        let text = filled(lang, key);
        assert!(
            elsewhere || text.trim_start_matches("- ").starts_with("**LW-07**"),
            "{lang:?} {key}: {text}"
        );
    }
}

/// "Hasta las 15:00", "desde el 8 de febrero": before a moment Spanish has an article.
#[test]
fn spanish_moments_have_their_article() {
    let moment = Regex::new(
        r"(?i)\b(hasta|desde) \{ \$(at|until|since|from|by|renew|day|next|oldest|first|last)\b",
    )
    .unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/words/es");
    let mut paths = Vec::new();
    files(&folder, "ftl", &mut paths);
    assert!(!paths.is_empty());
    for path in paths {
        for line in fs::read_to_string(&path).unwrap().lines() {
            assert!(!moment.is_match(line), "{}: {line}", path.display());
        }
    }
}

/// A passed check is no proof of safety, so no answer to one may say so.
#[test]
fn no_answer_to_a_check_calls_anything_safe() {
    for (lang, key) in each() {
        let about_checks = ["check-", "round-", "judged-", "alarm-closed"]
            .iter()
            .any(|beginning| key.starts_with(beginning));
        let safe: &[&str] = match lang {
            Lang::English => &["safe"],
            Lang::Spanish => &["segur", "a salvo"],
        };
        let text = filled(lang, key).to_lowercase();
        assert!(
            !about_checks || safe.iter().all(|word| !text.contains(word)),
            "{lang:?} {key}: {text}"
        );
    }
}

/// Lists of names follow right behind these, so the blanks at their ends must not be lost.
#[test]
fn blanks_at_the_ends_are_kept() {
    for lang in Lang::ALL {
        for key in DUE {
            assert!(filled(lang, key).ends_with(": "), "{lang:?} {key}");
        }
        assert!(filled(lang, "due-more").starts_with(' '), "{lang:?}");
    }
}

/// Lines that the log of a phone of 390 by 844 holds beside a head and a menu, and characters in each; `tests/tests/page.rs`
/// measures it in a browser.
const SCREEN: (usize, usize) = (14, 40);

/// How many lines a text takes on a phone; a command of the help takes one.
fn screen_lines(text: &str) -> usize {
    let shown = text.replace(['`', '*'], "");
    shown
        .lines()
        .map(|line| line.chars().count().div_ceil(SCREEN.1).max(1))
        .sum()
}

/// How wide a line is, in characters of its text: those of code are a quarter wider.
fn width(line: &str) -> usize {
    let pieces = line.split('`').enumerate();
    let quarters: usize = pieces
        .map(|(place, piece)| piece.chars().count() * if place % 2 == 1 { 5 } else { 4 })
        .sum();
    quarters.div_ceil(4)
}

/// What the menus of a message lead to.
fn topics(message: &Message) -> BTreeSet<String> {
    message
        .rows
        .iter()
        .flat_map(|row| match row {
            Row::Menu(menu) => menu.entries.as_slice(),
            Row::Buttons(_) => &[],
        })
        .map(|entry| entry.value.clone())
        .collect()
}

/// What people may do is on one screen, for every role and every two of them, and what is not there is behind its menu.
#[test]
fn help_fits_one_screen_and_leaves_nothing_out() {
    let mut home = common::Home::set_up();
    let roles = || Role::MAPPED.into_iter().chain([Role::Admin]);
    let pairs = roles().flat_map(|one| roles().map(move |other| (one, other)));
    for (one, other) in pairs {
        for lang in Lang::ALL {
            let decision = home.ask_as(&[one, other], lang, &common::command("help", &[]));
            let message = common::answer_message(&decision).expect("help");
            let text = &message.text;
            let lines = screen_lines(text);
            assert!(
                lines <= SCREEN.0,
                "{one:?} {other:?}: {lines} lines:\n{text}"
            );
            for line in text.lines().filter(|line| line.starts_with('`')) {
                assert!(width(line) <= SCREEN.1, "too long: {line}");
            }
            let mut more = topics(message);
            // One menu at most stands on a screen; what it cannot hold is one entry further.
            assert!(message.rows.len() <= 1, "{one:?} {other:?}");
            if more.contains("more") {
                let command = common::command("help", &[("topic", common::text("more"))]);
                let decision = home.ask_as(&[one, other], lang, &command);
                more.extend(topics(common::answer_message(&decision).expect("the rest")));
            }
            let may = |role: &Role| *role == one || *role == other;
            let own = COMMANDS
                .iter()
                .filter(|command| command.right.roles().iter().any(may));
            for command in own {
                let group = command.path.split(' ').next().unwrap_or_default();
                assert!(
                    command.path == "help"
                        || text.contains(&format!("`/{}`", command.path))
                        || more.contains(group),
                    "{one:?} and {other:?} are not told of {}",
                    command.path
                );
            }
        }
    }
}

/// What a role does most is something it may do, and is in the table.
#[test]
fn what_help_names_first_may_be_done() {
    for role in Role::MAPPED.into_iter().chain([Role::Admin]) {
        for path in commands::decide::help_most(role).concat() {
            let command = commands::table::find(path).unwrap_or_else(|| panic!("/{path}"));
            assert!(command.right.roles().contains(&role), "{role:?} /{path}");
        }
    }
}

/// Who has no role, and who comes before the set-up, is told what to do next.
#[test]
fn help_for_those_without_a_role_and_before_the_set_up() {
    let help = common::command("help", &[]);
    for lang in Lang::ALL {
        let mut before = common::Home::empty();
        for held in [vec![], vec![Role::Admin]] {
            let decision = before.ask_as(&held, lang, &help);
            let text = common::answer_text(&decision);
            assert!(text.contains("/facility setup"), "{text}");
            assert!(screen_lines(text) <= SCREEN.0, "{text}");
        }
        let mut home = common::Home::set_up();
        let decision = home.ask_as(&[], lang, &help);
        let message = common::answer_message(&decision).expect("help");
        assert!(!message.text.is_empty() && message.rows.is_empty());
        assert!(screen_lines(&message.text) <= SCREEN.0);
    }
}
