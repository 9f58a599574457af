//! What was ever used, and what there is. Decides what counts: each command, each option, each verb of a tap, each kind
//! of button, menu and form that was ever shown, and each wording of a button; one that was not used is named. A
//! button is the same in whatever language it is read.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;

use commands::Said;
use commands::table;
use commands::tap::{Tap, in_list, verb_of};
use regex::Regex;

use crate::talk::chat::{Look, Row};

/// What was used and what was shown, over all conversations.
#[derive(Clone, Debug, Default)]
pub struct Used {
    /// Commands, each with the options that were given.
    pub commands: BTreeMap<String, BTreeSet<String>>,
    /// Options that suggestions were asked for, each after its command.
    pub suggested: BTreeSet<String>,
    /// Taps, menus and forms, by kind and verb.
    pub taps: BTreeSet<(Part, String)>,
    /// Those that were shown.
    pub shown: BTreeSet<(Part, String)>,
    /// Words on buttons that were tapped.
    pub tapped: BTreeSet<String>,
    /// Words on buttons that were shown.
    pub labels: BTreeSet<String>,
    /// Those of each identifier on each message, in this conversation: the same tap reads otherwise on another card.
    words: BTreeMap<(u64, String), String>,
    /// Messages that mentioned the bot.
    pub mentions: usize,
    /// Commands that no phone would have sent, in the phone's words; they were sent past its checks.
    pub unsendable: Vec<String>,
}

/// What somebody can act on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// A button.
    Button,
    /// A menu.
    Menu,
    /// A form.
    Form,
}

/// What an identifier asks for, and in a list what it asks for there.
fn verbs(id: &str) -> impl Iterator<Item = String> {
    [Some(id), in_list(id)].into_iter().flatten().map(verb_of)
}

impl Used {
    /// Somebody did this.
    pub fn by(&mut self, said: &Said) {
        match said {
            Said::Command { path, options } => {
                let of = self.commands.entry(path.clone()).or_default();
                of.extend(options.keys().cloned());
            }
            Said::Completing { path, focused, .. } => {
                self.suggested.insert(format!("/{path} {focused}"));
            }
            Said::Tap { id, chosen } => {
                let part = if chosen.is_empty() {
                    Part::Button
                } else {
                    Part::Menu
                };
                self.taps.extend(verbs(id).map(|verb| (part, verb)));
            }
            Said::Form { id, .. } => {
                self.taps.extend(verbs(id).map(|verb| (Part::Form, verb)));
            }
            Said::Mention { .. } => self.mentions += 1,
            Said::Fetched { .. } => {}
        }
    }

    /// Somebody's finger is on this. What follows from it may change the words there, so it is asked before.
    pub fn aim(&mut self, message: u64, said: &Said) {
        if let Said::Tap { id, .. } = said {
            let words = self.words.get(&(message, id.clone()));
            self.tapped.extend(words.cloned());
        }
    }

    /// Somebody was shown this.
    pub fn show(&mut self, message: u64, look: &Look) {
        for row in &look.rows {
            match row {
                Row::Buttons(all) => {
                    for (id, label) in all {
                        self.shown
                            .extend(verbs(id).map(|verb| (Part::Button, verb)));
                        let words = wording(label);
                        self.labels.insert(words.clone());
                        self.words.insert((message, id.clone()), words);
                    }
                }
                Row::Menu { id, .. } => {
                    self.shown.extend(verbs(id).map(|verb| (Part::Menu, verb)));
                }
            }
        }
    }

    /// Somebody was shown this form.
    pub fn show_form(&mut self, id: &str) {
        self.shown.extend(verbs(id).map(|verb| (Part::Form, verb)));
    }

    /// Takes over what another conversation used.
    pub fn merge(&mut self, other: Used) {
        for (path, options) in other.commands {
            self.commands.entry(path).or_default().extend(options);
        }
        self.suggested.extend(other.suggested);
        self.taps.extend(other.taps);
        self.shown.extend(other.shown);
        self.tapped.extend(other.tapped);
        self.labels.extend(other.labels);
        self.mentions += other.mentions;
        self.unsendable.extend(other.unsendable);
    }

    /// Whatever there is and nobody used, by name: `/alarm`, `/alarm kind`, `suggestions for /alarm surface`,
    /// `tap take`, `tap at steps`, `menu air`, `[On my way]`.
    pub fn unused(&self) -> BTreeSet<String> {
        let mut unused = BTreeSet::new();
        for command in table::COMMANDS {
            let path = command.path;
            let Some(given) = self.commands.get(path) else {
                unused.insert(format!("/{path}"));
                continue;
            };
            for option in command.options {
                if !given.contains(option.name) {
                    unused.insert(format!("/{path} {}", option.name));
                }
            }
        }
        for verb in Tap::all_verbs() {
            if !self.taps.iter().any(|(_, used)| *used == verb) {
                unused.insert(format!("tap {verb}"));
            }
        }
        for (part, verb) in self.shown.difference(&self.taps) {
            let part = match part {
                Part::Button => "button",
                Part::Menu => "menu",
                Part::Form => "form",
            };
            unused.insert(format!("{part} {verb}"));
        }
        for label in self.labels.difference(&self.tapped) {
            unused.insert(format!("[{label}]"));
        }
        if self.mentions == 0 {
            unused.insert("a message that mentions the bot".to_owned());
        }
        if self.suggested.is_empty() {
            unused.insert("suggestions".to_owned());
        }
        unused
    }

    /// Verbs that were shown or used and that no list of taps knows: the list is not whole.
    pub fn unknown(&self) -> BTreeSet<&str> {
        let known: BTreeSet<String> = Tap::all_verbs().into_iter().collect();
        let met = self.taps.union(&self.shown).map(|(_, verb)| verb.as_str());
        met.filter(|verb| !known.contains(*verb)).collect()
    }
}

/// Buttons of other languages: how each is written, with a gap for what is filled in, and the English one.
static OTHERS: LazyLock<Vec<(Regex, String)>> = LazyLock::new(|| {
    let english: BTreeMap<String, String> = buttons("en").into_iter().collect();
    let gap = Regex::new(r"\\\{ \\\$([a-z]+) \\\}").expect("a pattern");
    let mut spanish = buttons("es");
    // What is all written down comes before what is mostly filled in.
    spanish.sort_by_key(|(_, pattern)| pattern.matches("{ $").count());
    spanish
        .into_iter()
        .filter_map(|(key, pattern)| {
            let pattern = gap
                .replace_all(&regex::escape(&pattern), "(?<$1>.+)")
                .into_owned();
            let theirs = Regex::new(&format!("^{pattern}$")).ok()?;
            let ours = english.get(&key)?;
            Some((theirs, ours.replace("{ $", "${").replace(" }", "}")))
        })
        .collect()
});

/// The buttons of a language, by key.
fn buttons(folder: &str) -> Vec<(String, String)> {
    let words = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../commands/src/words")
        .join(folder);
    let files = std::fs::read_dir(words).into_iter().flatten().flatten();
    let texts = files.filter_map(|file| std::fs::read_to_string(file.path()).ok());
    texts
        .flat_map(|text| {
            let lines = text.lines().filter_map(|line| line.split_once(" = "));
            let buttons = lines.filter(|(key, _)| key.starts_with("button-"));
            let owned = buttons.map(|(key, words)| (key.to_owned(), words.to_owned()));
            owned.collect::<Vec<_>>()
        })
        .collect()
}

/// The surface, and its bed, that stands before a button's own words where several surfaces meet.
static NAMED: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"^[A-Z]{2}-[0-9]+( \([^)]*\))?: ").expect("a pattern"));
/// What somebody typed or wishes, at the end of a button's own words.
static TYPED: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new("^(The panel shows|Agree:|Decline:|Take back:) .+$").expect("a pattern")
});

/// The words of a button in English, without tags, beds, sizes, counts and what was typed, which are countless.
fn wording(label: &str) -> String {
    let label = NAMED.replace(label, "");
    let label = label.as_ref();
    let label = OTHERS
        .iter()
        .find(|(theirs, _)| theirs.is_match(label))
        .map_or_else(
            || label.to_owned(),
            |(theirs, ours)| theirs.replace(label, ours.as_str()).into_owned(),
        );
    let label = TYPED.replace(&label, "$1 …");
    let plain = |word: &str| {
        let counts = word.chars().any(char::is_numeric);
        if counts {
            "…".to_owned()
        } else {
            word.to_owned()
        }
    };
    let words: Vec<String> = label.split_whitespace().map(plain).collect();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_button_is_the_same_in_every_language() {
        for (label, words) in [
            ("Ya voy", "On my way"),
            ("Ronda Elm", "Round Elm"),
            ("Menos de 1 in", "Under … in"),
            ("Poner LW-20 en 103", "Place … under …"),
            ("On my way", "On my way"),
            ("Fuga: fuera de servicio", "Leak: out of service"),
            ("1¼ in", "… in"),
            ("LW-11 (102): Touching", "Touching"),
            ("El panel muestra duro", "The panel shows …"),
        ] {
            assert_eq!(wording(label), words);
        }
    }

    #[test]
    fn what_was_not_used_is_named() {
        let mut used = Used::default();
        let before = used.unused();
        for name in ["/handcheck", "tap take", "a message that mentions the bot"] {
            assert!(before.contains(name), "{name}");
        }
        let look = Look {
            text: "a card".to_owned(),
            rows: vec![Row::Buttons(vec![
                ("take|12".to_owned(), "On my way".to_owned()),
                ("at|steps|LW-07".to_owned(), "Steps for LW-07".to_owned()),
            ])],
            files: Vec::new(),
            picture: None,
        };
        used.show(7, &look);
        let options = [("air".to_owned(), commands::said::Value::Whole(1))].into();
        let path = "handcheck".to_owned();
        used.by(&Said::Command { path, options });
        let tap = Said::Tap {
            id: "take|12".to_owned(),
            chosen: Vec::new(),
        };
        used.aim(8, &tap);
        assert!(used.tapped.is_empty(), "it is on another message");
        used.aim(7, &tap);
        used.by(&tap);
        let after = used.unused();
        for name in [
            "/handcheck",
            "/handcheck air",
            "tap take",
            "button take",
            "[On my way]",
        ] {
            assert!(!after.contains(name), "{name}");
        }
        let left = [
            "/handcheck surface",
            "tap at steps",
            "button at steps",
            "[Steps for …]",
        ];
        for name in left {
            assert!(after.contains(name), "{name}: {after:?}");
        }
        assert!(used.unknown().is_empty());
        used.show_form("no-such-verb|1");
        assert_eq!(used.unknown(), BTreeSet::from(["no-such-verb"]));
    }
}
