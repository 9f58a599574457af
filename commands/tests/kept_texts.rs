//! What somebody typed once and a home keeps is shown later, by other commands, by cards and by the clock, to people who did not
//! type it. A text that would call somebody, pass for a link or turn what stands beside it goes into every way that keeps one;
//! then the clock passes over the ladder, everything is read and every button under it looked at. Nothing of it acts anywhere.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use std::collections::{BTreeMap, BTreeSet};

use commands::message::{Answer, Message, Row};
use commands::role::Role;
use commands::said::Value;
use commands::table::COMMANDS;
use commands::words::Lang;
use commands::{Decision, Said};
use common::{Home, command, text};
use serde_json::json;

const ALL: [Role; 5] = [
    Role::Admin,
    Role::Supervisor,
    Role::Nurse,
    Role::Aide,
    Role::Upkeep,
];

/// A word that says where the text came from, between what would act: calls, markup, a link, what turns the direction of what
/// follows, and letters that nobody sees. It fits where a name does.
fn hostile(word: &str) -> String {
    format!("{}\u{202e}\u{e0041}", marked(word))
}

fn marked(word: &str) -> String {
    format!("{word} 7 <@&1> @here **qb [qc](qd)")
}

/// So it would act, if no backslash stands before it.
const ACTS: [&str; 5] = ["<@&1>", "@here", "**qb", "[qc", "](qd"];

/// Characters that show nothing or turn what stands beside them: from Unicode's own lists, and not from those of the code that
/// takes them away.
fn shows_nothing(c: char) -> bool {
    matches!(u32::from(c), 0x200b..=0x200f | 0x202a..=0x202e | 0x2060..=0x206f | 0xe0000..=0xe0fff)
}

/// What was shown, by what showed it.
#[derive(Default)]
struct Shown {
    messages: Vec<(String, Message)>,
    tapped: BTreeSet<(String, Option<String>)>,
}

impl Shown {
    fn decided(&mut self, home: &mut Home, what: &str, decision: &Decision) {
        for post in &decision.posts {
            self.message(
                home,
                &format!("{what}, post {}", post.key),
                &post.message,
                0,
            );
        }
        self.answered(home, what, decision, 0);
    }

    fn answered(&mut self, home: &mut Home, what: &str, decision: &Decision, deep: u8) {
        match &decision.answer {
            Some(Answer::Private(shown) | Answer::Shared(shown) | Answer::Replace(shown)) => {
                self.message(home, what, shown, deep);
            }
            Some(Answer::Form(_) | Answer::Choices(_) | Answer::Fetch(_)) | None => {}
        }
    }

    /// The message, and what each of its buttons and entries would bring; nothing of that is done.
    fn message(&mut self, home: &mut Home, what: &str, message: &Message, deep: u8) {
        self.messages.push((what.to_owned(), message.clone()));
        if deep == 2 {
            return;
        }
        let mut taps = Vec::new();
        for row in &message.rows {
            match row {
                Row::Buttons(buttons) => taps.extend(buttons.iter().map(|b| (b.id.clone(), None))),
                Row::Menu(menu) => {
                    let entries = menu.entries.iter();
                    taps.extend(entries.map(|e| (menu.id.clone(), Some(e.value.clone()))));
                }
            }
        }
        for (id, chosen) in taps {
            if !self.tapped.insert((id.clone(), chosen.clone())) {
                continue;
            }
            let what = format!("{what}, {id} {}", chosen.as_deref().unwrap_or_default());
            let said = Said::Tap {
                id,
                chosen: chosen.into_iter().collect(),
            };
            let decision = home.ask_as(&ALL, Lang::English, &said);
            for post in &decision.posts {
                let what = format!("{what}, post {}", post.key);
                self.messages.push((what, post.message.clone()));
            }
            self.answered(home, &what, &decision, deep + 1);
        }
    }

    /// Where this stands, in words or in a file.
    fn places(&self, word: &str) -> BTreeSet<&str> {
        let stands = |message: &Message| {
            let files = message.files.iter().map(|file| &file.text);
            files.chain([&message.text]).any(|text| text.contains(word))
        };
        let showing = self.messages.iter().filter(|(_, message)| stands(message));
        showing.map(|(what, _)| what.as_str()).collect()
    }

    fn acting(&self) -> BTreeMap<&str, &str> {
        let mut acting = BTreeMap::new();
        for (what, message) in &self.messages {
            let shown = outside_blocks(&message.text);
            if ACTS.iter().any(|mark| stands(&shown, mark))
                || message.text.chars().any(shows_nothing)
            {
                acting.insert(what.as_str(), message.text.as_str());
            }
            for row in &message.rows {
                for label in labels(row) {
                    if label.chars().any(shows_nothing) {
                        acting.insert(what, label);
                    }
                }
            }
            // A page shows it as letters; a table of a file is read by no browser.
            for file in &message.files {
                let raw = file.name.ends_with(".html") && file.text.contains("<@&1>");
                if raw || file.text.chars().any(shows_nothing) {
                    acting.insert(what, &file.name);
                }
            }
        }
        acting
    }
}

fn labels(row: &Row) -> Vec<&str> {
    match row {
        Row::Buttons(buttons) => buttons.iter().map(|button| button.label.as_str()).collect(),
        Row::Menu(menu) => {
            let entries = menu.entries.iter();
            let words = entries.flat_map(|e| [Some(e.label.as_str()), e.about.as_deref()]);
            words.flatten().chain([menu.hint.as_str()]).collect()
        }
    }
}

/// What stands outside of the blocks in which text is given back as it was typed, to be copied: nothing acts in them.
fn outside_blocks(shown: &str) -> String {
    shown.split("\n```\n").step_by(2).collect()
}

/// Whether this stands there and no backslash before it.
fn stands(shown: &str, mark: &str) -> bool {
    shown
        .match_indices(mark)
        .any(|(at, _)| !shown[..at].ends_with('\\'))
}

/// Does it, and looks at all that comes of it. `{word}` in an option is the text, with that word.
fn does(home: &mut Home, shown: &mut Shown, role: Role, path: &str, options: &[(&str, &str)]) {
    let options: Vec<(&str, Value)> = options
        .iter()
        .map(|(name, of)| match of.strip_prefix('{') {
            Some(word) => (*name, text(&hostile(word.trim_end_matches('}')))),
            None => (*name, text(of)),
        })
        .collect();
    let decision = home.does(role, path, &options);
    shown.decided(home, &format!("/{path}"), &decision);
}

fn passes(home: &mut Home, shown: &mut Shown, minutes: i64) {
    for decision in home.passes(minutes) {
        shown.decided(home, "the clock", &decision);
    }
}

/// Every command that has an example, as anybody might read it then; nothing is done.
fn read_everything(home: &mut Home, shown: &mut Shown) {
    let mut asks = Vec::new();
    for command in COMMANDS {
        for example in command.examples {
            let example = example
                .replace("LW-07", "LW-01")
                .replace("LW-20", "LW-04")
                .replace("103", "101");
            let options = commands::parse::typed(command, &example).unwrap();
            let path = command.path.to_owned();
            asks.push((example, Said::Command { path, options }));
        }
    }
    for what in [
        "LW-01", "LW-02", "LW-03", "LW-04", "LW-05", "LW-40", "101", "102", "201",
    ] {
        asks.push((
            format!("/timeline {what}"),
            command("timeline", &[("what", text(what))]),
        ));
        asks.push((
            format!("/surface {what}"),
            command("surface", &[("surface", text(what))]),
        ));
    }
    for (what, said) in asks {
        for lang in [Lang::English, Lang::Spanish] {
            let decision = home.ask_as(&ALL, lang, &said);
            shown.decided(home, &what, &decision);
        }
    }
}

#[test]
fn a_text_that_is_kept_acts_nowhere_it_is_shown_later() {
    let (mut home, mut shown) = (Home::set_up(), Shown::default());
    let mut of = |home: &mut Home, role, path: &str, options: &[(&str, &str)]| {
        does(home, &mut shown, role, path, options);
    };
    of(
        &mut home,
        Role::Admin,
        "facility setup",
        &[("home", "{qhome}")],
    );
    of(
        &mut home,
        Role::Supervisor,
        "facility phone",
        &[("words", "{qphone}")],
    );
    // No signs are taken in these any more. What stands in a log stays there, whatever is taken since.
    let storage = json!({"k": "storage-set", "dirty": marked("qdirty"), "clean": marked("qclean")});
    home.fact(&storage.to_string());
    let product = json!({
        "k": "product-set", "name": marked("qproduct"), "method": "quaternary", "contact_minutes": 3, "sporicidal": false,
    });
    home.fact(&product.to_string());
    let add = [
        ("tag", "LW-40"),
        ("profile", "general"),
        ("serial", "{qserial}"),
        ("lot", "{qlot}"),
        ("owned", "rented"),
    ];
    of(&mut home, Role::Supervisor, "fleet add", &add);
    let rent = [
        ("surface", "LW-40"),
        ("rate", "38.50"),
        ("reference", "{qrent}"),
    ];
    of(&mut home, Role::Supervisor, "rental start", &rent);
    let check = [
        ("surface", "LW-01"),
        ("air", "3/4"),
        ("note", "{qnote}"),
        ("setting", "4"),
    ];
    of(&mut home, Role::Aide, "handcheck", &check);
    let wrong = home
        .log
        .iter()
        .rev()
        .find(|record| record.note.is_some())
        .unwrap()
        .no;
    let amend = [
        ("entry", &*wrong.to_string()),
        ("reason", "{qreason}"),
        ("air", "1 1/4"),
    ];
    of(&mut home, Role::Aide, "amend", &amend);
    let remark = [("entry", &*wrong.to_string()), ("reason", "{qremark}")];
    of(&mut home, Role::Supervisor, "amend", &remark);
    of(
        &mut home,
        Role::Aide,
        "alarm",
        &[("surface", "LW-03"), ("note", "{qalarm}")],
    );
    passes(&mut home, &mut shown, 40);
    read_everything(&mut home, &mut shown);
    let mut of = |home: &mut Home, role, path: &str, options: &[(&str, &str)]| {
        does(home, &mut shown, role, path, options);
    };
    of(
        &mut home,
        Role::Nurse,
        "release",
        &[("surface", "LW-02"), ("reason", "discharge")],
    );
    of(
        &mut home,
        Role::Supervisor,
        "pull",
        &[("surface", "LW-04"), ("fault", "cord"), ("note", "{qpull}")],
    );
    passes(&mut home, &mut shown, 600);
    read_everything(&mut home, &mut shown);
    assert_eq!(shown.acting(), BTreeMap::new());
    assert!(shown.messages.len() > 1_000, "{}", shown.messages.len());
    // And each is shown where somebody else reads it.
    for (word, by) in [
        ("qhome", "/facility show"),
        ("qphone", "the clock, post rung:"),
        ("qdirty", "/release"),
        ("qclean", "/release"),
        ("qproduct", "/facility show"),
        ("qserial", "/fleet export"),
        ("qlot", "/recall"),
        ("qnote", "/timeline LW-01"),
        ("qreason", "/timeline what:LW-01, entry|look"),
        ("qremark", "/timeline LW-01"),
        ("qalarm", "/alarm, post alarm:"),
        ("qpull", "/timeline LW-04"),
    ] {
        let places = shown.places(word);
        assert!(
            places.iter().any(|at| at.starts_with(by)),
            "{word}: {places:#?}"
        );
    }
}
