//! Our commands as the platform wants them registered. Decides when a guild's list must be set again, and
//! what of it is translated: descriptions and the names of choices. Names of commands and options are
//! typed, and the same for everybody. Leaves what commands there are to the one table in `commands`.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;
use std::time::Duration;

use bytes::Bytes;
use commands::decision::Lane;
use commands::ids::Guild;
use commands::table::{self, COMMANDS, Command, Opt, Takes};
use commands::words::{self, Lang};
use serde_json::{Value, json};

use crate::request::{Body, Outcome, Request, Route};

/// The setting under which a facility keeps what was last registered.
pub const SETTING: &str = "catalogue";
const BACKOFF_FIRST: Duration = Duration::from_secs(1);
const BACKOFF_MAX: Duration = Duration::from_secs(300);

/// The platform's limits (its documentation of application commands).
const DESCRIPTION_CHARS_MAX: usize = 100;

/// The platform's locales that a language of ours serves besides its default, English (its list of locales).
const LOCALES: &[(Lang, &[&str])] = &[(Lang::Spanish, &["es-ES", "es-419"])];

const SUB_COMMAND: u8 = 1;
const TEXT: u8 = 3;
const WHOLE: u8 = 4;
const USER: u8 = 6;
const CHANNEL: u8 = 7;
const ROLE: u8 = 8;
const FILE: u8 = 11;
const TEXT_CHANNEL: u8 = 0;
/// Commands are for guilds, not for direct messages.
const IN_GUILD: u8 = 0;

/// All commands, ready to be registered.
#[derive(Debug)]
pub struct Catalogue {
    body: Bytes,
    names: Vec<String>,
    hash: u64,
}

impl Catalogue {
    /// The commands of the table, in the words of the default language, with those of the others beside them.
    pub fn of_table() -> Arc<Self> {
        Arc::new(Self::of(&entries()))
    }

    fn of(list: &[Value]) -> Self {
        let mut names: Vec<String> = list.iter().filter_map(name).collect();
        names.sort_unstable();
        let body = serde_json::to_vec(list).expect("plain data is JSON");
        let mut hasher = DefaultHasher::new();
        body.hash(&mut hasher);
        Self {
            body: Bytes::from(body),
            names,
            hash: hasher.finish(),
        }
    }

    /// What a facility keeps when this catalogue has been registered for the application `app`.
    pub fn mark(&self, app: u64) -> String {
        format!("{app}:{:016x}", self.hash)
    }
}

fn name(entry: &Value) -> Option<String> {
    entry["name"].as_str().map(str::to_owned)
}

/// Commands in the table's order; those that share a first word are one, with subcommands.
fn entries() -> Vec<Value> {
    let mut list: Vec<Value> = Vec::new();
    let mut groups: BTreeMap<&str, usize> = BTreeMap::new();
    for command in COMMANDS {
        match command.path.split_once(' ') {
            None => list.push(top(command.path, command.about, options(command))),
            Some((group, sub)) => {
                let at = *groups.entry(group).or_insert_with(|| {
                    list.push(top(group, &table::group_about(group), Vec::new()));
                    list.len() - 1
                });
                let sub = described(
                    command.about,
                    json!({"type": SUB_COMMAND, "name": sub, "options": options(command)}),
                );
                if let Some(subs) = list[at]["options"].as_array_mut() {
                    subs.push(sub);
                }
            }
        }
    }
    list
}

fn top(name: &str, about_key: &str, options: Vec<Value>) -> Value {
    let command = json!({
        "type": 1, "name": name, "options": options,
        "contexts": [IN_GUILD], "integration_types": [0],
    });
    described(about_key, command)
}

fn options(command: &Command) -> Vec<Value> {
    command.options.iter().map(option).collect()
}

fn option(option: &Opt) -> Value {
    let mut json = described(
        option.about,
        json!({"name": option.name, "required": option.required}),
    );
    let kind = match option.takes {
        Takes::Text => TEXT,
        Takes::Suggested => {
            json["autocomplete"] = json!(true);
            TEXT
        }
        Takes::Choice(words) => {
            json["choices"] = words.iter().map(|word| choice(option, word)).collect();
            TEXT
        }
        Takes::Whole(least, most) => {
            json["min_value"] = json!(least);
            json["max_value"] = json!(most);
            WHOLE
        }
        Takes::Role => ROLE,
        Takes::Person => USER,
        Takes::Channel => {
            json["channel_types"] = json!([TEXT_CHANNEL]);
            CHANNEL
        }
        Takes::File => FILE,
    };
    json["type"] = json!(kind);
    json
}

/// A choice. Its name is what people read, its value is what comes back, whatever they read.
fn choice(option: &Opt, word: &str) -> Value {
    let mut json = json!({"name": word, "value": word});
    let key = option.choice(word);
    translated(&mut json, "name_localizations", |lang| {
        words::say(lang, &key, &[])
    });
    json
}

/// The command or option with its description in every language.
fn described(key: &str, mut json: Value) -> Value {
    json["description"] = about(Lang::default(), key).into();
    translated(&mut json, "description_localizations", |lang| {
        about(lang, key)
    });
    json
}

fn translated(json: &mut Value, field: &str, say: impl Fn(Lang) -> String) {
    for (lang, locales) in LOCALES {
        let text = say(*lang);
        for locale in *locales {
            json[field][*locale] = text.as_str().into();
        }
    }
}

/// A description, cut to what the platform takes; a test holds the words to it.
fn about(lang: Lang, key: &str) -> String {
    words::say(lang, key, &[])
        .chars()
        .take(DESCRIPTION_CHARS_MAX)
        .collect()
}

/// The registration of one guild's commands, a step machine.
#[derive(Debug)]
pub struct Registrar {
    guild: Guild,
    catalogue: Arc<Catalogue>,
    stage: Stage,
    app: u64,
    tries: u32,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    /// The gateway has not said who we are.
    Unknown,
    /// To be asked at this moment whether the guild has them.
    Ask(Duration),
    Asking,
    /// To be set at this moment.
    Set(Duration),
    Setting,
    Done,
}

impl Registrar {
    /// For this guild.
    pub fn new(guild: Guild, catalogue: Arc<Catalogue>) -> Self {
        Self {
            guild,
            catalogue,
            stage: Stage::Unknown,
            app: 0,
            tries: 0,
        }
    }

    /// We are in the guild, as the application `app`; `kept` is what the facility says was registered.
    pub fn joined(&mut self, app: u64, kept: Option<&str>, now: Duration) {
        if matches!(self.stage, Stage::Asking | Stage::Setting) {
            return;
        }
        self.app = app;
        self.tries = 0;
        let same = kept == Some(self.catalogue.mark(app).as_str());
        self.stage = if same {
            Stage::Ask(now)
        } else {
            Stage::Set(now)
        };
    }

    /// The request whose moment has come.
    pub fn send(&mut self, now: Duration) -> Option<Request> {
        let guild = self.guild.0;
        let (route, body) = match self.stage {
            Stage::Ask(at) if at <= now => {
                self.stage = Stage::Asking;
                (Route::Commands { guild }, Body::Empty)
            }
            Stage::Set(at) if at <= now => {
                self.stage = Stage::Setting;
                (
                    Route::SetCommands { guild },
                    Body::Json(self.catalogue.body.clone()),
                )
            }
            Stage::Unknown
            | Stage::Ask(_)
            | Stage::Asking
            | Stage::Set(_)
            | Stage::Setting
            | Stage::Done => return None,
        };
        self.tries += 1;
        Some(Request {
            route,
            body,
            lane: Lane::Reminder,
        })
    }

    /// The request came to this. Returns what the facility is to keep, when the guild has our commands.
    pub fn came(&mut self, outcome: &Outcome, now: Duration) -> Option<String> {
        let done = match (self.stage, outcome) {
            (Stage::Asking, Outcome::Named(names)) => {
                let mut names = names.clone();
                names.sort_unstable();
                if names != self.catalogue.names {
                    self.stage = Stage::Set(now);
                    return None;
                }
                true
            }
            (Stage::Setting, Outcome::Named(_) | Outcome::Made(_)) => true,
            _ => false,
        };
        if done {
            self.stage = Stage::Done;
            return Some(self.catalogue.mark(self.app));
        }
        let wait = match outcome {
            Outcome::Limited(asked) => *asked,
            Outcome::Refused { status, code } => {
                tracing::error!(
                    guild = self.guild.0,
                    status,
                    code,
                    "the guild refuses our commands"
                );
                BACKOFF_MAX
            }
            Outcome::Made(_)
            | Outcome::Listed(_)
            | Outcome::Named(_)
            | Outcome::NotMade
            | Outcome::Unsure => BACKOFF_FIRST
                .saturating_mul(1 << self.tries.min(9))
                .min(BACKOFF_MAX),
        };
        // Setting an equal list again changes nothing, asking again neither.
        self.stage = if self.stage == Stage::Asking {
            Stage::Ask(now + wait)
        } else {
            Stage::Set(now + wait)
        };
        None
    }

    /// When [`Registrar::send`] will have something.
    pub fn next(&self) -> Option<Duration> {
        match self.stage {
            Stage::Ask(at) | Stage::Set(at) => Some(at),
            Stage::Unknown | Stage::Asking | Stage::Setting | Stage::Done => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: Duration = Duration::from_secs(5);

    #[test]
    fn the_catalogue_keeps_to_the_platforms_limits() {
        let list = entries();
        assert!(list.len() <= 100);
        for entry in &list {
            check(entry, 1);
            let size = size(entry);
            assert!(size <= 8_000, "{}: {size}", entry["name"]);
        }
    }

    /// Names, descriptions and values of a command and all below it, in characters. The platform's
    /// documentation counts those; that it counts the longest translation of each is from memory.
    fn size(json: &Value) -> usize {
        let longest = |field: &str, translations: &str| {
            let texts = json[translations].as_object().into_iter().flatten();
            let texts = texts.map(|(_, text)| text).chain([&json[field]]);
            let counts = texts.filter_map(|text| Some(text.as_str()?.chars().count()));
            counts.max().unwrap_or(0)
        };
        let below = ["options", "choices"]
            .into_iter()
            .filter_map(|key| json[key].as_array())
            .flatten()
            .map(size);
        longest("name", "name_localizations")
            + longest("description", "description_localizations")
            + longest("value", "")
            + below.sum::<usize>()
    }

    /// The platform's documentation, "Localization": descriptions and the names of choices may be
    /// translated, by locale; what is not there is read in the default. The value is what comes back.
    #[test]
    fn descriptions_and_choices_are_translated_and_what_is_typed_or_comes_back_is_not() {
        fn walk(entry: &Value, seen: &mut usize) {
            assert!(
                entry.get("name_localizations").is_none(),
                "{}",
                entry["name"]
            );
            let theirs = entry["description_localizations"].as_object().unwrap();
            let locales: Vec<&str> = theirs.keys().map(String::as_str).collect();
            assert_eq!(locales, ["es-419", "es-ES"]);
            for text in theirs.values().filter_map(Value::as_str) {
                assert_ne!(text, entry["description"], "{}", entry["name"]);
                assert!((1..=DESCRIPTION_CHARS_MAX).contains(&text.chars().count()));
            }
            for choice in entry["choices"].as_array().into_iter().flatten() {
                assert_eq!(choice["name"], choice["value"]);
                for locale in ["es-ES", "es-419"] {
                    let name = choice["name_localizations"][locale].as_str().unwrap();
                    assert!((1..=100).contains(&name.chars().count()), "{name}");
                }
                *seen += 1;
            }
            let below = entry["options"].as_array().into_iter().flatten();
            below.for_each(|option| walk(option, seen));
        }
        let list = entries();
        let mut seen = 0;
        list.iter().for_each(|entry| walk(entry, &mut seen));
        assert!(seen > 60, "only {seen} choices");
        let clean = list.iter().find(|entry| entry["name"] == "clean").unwrap();
        assert_eq!(
            clean["description_localizations"]["es-419"],
            words::say(Lang::Spanish, "about-clean", &[]).as_str()
        );
        let reason = &clean["options"][1]["choices"][1];
        assert_eq!(reason["value"], "soiled");
        assert_eq!(reason["name_localizations"]["es-ES"], "por suciedad");
    }

    /// A guild that has the list of before gets the new one when only a translation is another.
    #[test]
    fn a_translation_is_part_of_what_is_registered() {
        let mut other = entries();
        let before = Catalogue::of(&other).mark(1);
        assert_eq!(before, Catalogue::of_table().mark(1));
        other[0]["description_localizations"]["es-ES"] = "otra".into();
        assert_ne!(before, Catalogue::of(&other).mark(1));
    }

    fn check(entry: &Value, depth: u8) {
        let name = entry["name"].as_str().unwrap();
        let about = entry["description"].as_str().unwrap();
        assert!(
            (1..=32).contains(&name.len()) && !name.contains(char::is_uppercase),
            "{name}"
        );
        assert!(
            (1..=DESCRIPTION_CHARS_MAX).contains(&about.chars().count()),
            "{name}: {about}"
        );
        let options = entry["options"].as_array().cloned().unwrap_or_default();
        assert!(options.len() <= 25, "{name}");
        let required: Vec<bool> = options
            .iter()
            .map(|o| o["required"] == json!(true))
            .collect();
        assert!(
            required.is_sorted_by(|a, b| a >= b),
            "{name}: required options come first"
        );
        assert!(
            entry["choices"]
                .as_array()
                .is_none_or(|choices| choices.len() <= 25),
            "{name}"
        );
        assert!(depth <= 3);
        options.iter().for_each(|option| check(option, depth + 1));
    }

    #[test]
    fn what_is_registered_is_only_looked_at() {
        let catalogue = Catalogue::of_table();
        let mark = catalogue.mark(7);
        let mut registrar = Registrar::new(Guild(1), catalogue.clone());
        registrar.joined(7, Some(&mark), NOW);
        assert_eq!(registrar.send(NOW).unwrap().route.name(), "commands");
        assert_eq!(registrar.send(NOW), None);
        assert_eq!(
            registrar.came(&Outcome::Named(catalogue.names.clone()), NOW),
            Some(mark)
        );
    }

    #[test]
    fn what_differs_is_set_again_and_a_fault_is_tried_again() {
        let mut registrar = Registrar::new(Guild(1), Catalogue::of_table());
        registrar.joined(7, None, NOW);
        assert_eq!(registrar.send(NOW).unwrap().route.name(), "set-commands");
        assert_eq!(registrar.came(&Outcome::Unsure, NOW), None);
        assert_eq!(registrar.send(NOW), None);
        let next = registrar.next().unwrap();
        assert!(next > NOW && next < NOW + Duration::from_secs(5));
        assert_eq!(registrar.send(next).unwrap().route.name(), "set-commands");
        assert!(registrar.came(&Outcome::Named(Vec::new()), next).is_some());
        assert_eq!(registrar.next(), None);
        registrar.joined(7, Some(&Catalogue::of_table().mark(7)), next);
        registrar.send(next);
        assert_eq!(
            registrar.came(&Outcome::Named(vec!["other".into()]), next),
            None
        );
        assert_eq!(registrar.send(next).unwrap().route.name(), "set-commands");
    }
}
