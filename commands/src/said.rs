//! What the chat brings: who said it and what was said, before anything is understood. Decides only that nothing is heard
//! which cannot be seen; `bot` fills these in from the chat platform's events and [`crate::parse`] reads them.

use std::borrow::Cow;
use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use crate::ids::{Channel, ChatRole, Person};
use crate::rules::unseen::{is_unseen, without};
use crate::words::Lang;

/// Names the one event that caused a decision. The same event twice is one set of records.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Source(pub String);

impl Source {
    /// A slash command, tap, menu or form.
    pub fn interaction(id: u64) -> Self {
        Self(format!("i{id}"))
    }

    /// A message that mentions the bot.
    pub fn message(id: u64) -> Self {
        Self(format!("m{id}"))
    }
}

/// Who asks, from where and when.
#[derive(Clone, Debug)]
pub struct Ask {
    /// The event itself.
    pub source: Source,
    /// The chat user.
    pub who: Person,
    /// The chat roles they hold at this moment, as the event carried them.
    pub chat_roles: Vec<ChatRole>,
    /// Whether the chat lets them manage the guild.
    pub manages: bool,
    /// Chat roles that the home goes by and that the chat has no more, as far as the chat has told.
    pub deleted: Vec<ChatRole>,
    /// Where they typed or tapped.
    pub channel: Channel,
    /// The language of their chat client.
    pub lang: Lang,
    /// Facility time, stamped once at the edge.
    pub at: DateTime<Utc>,
}

/// What was said.
#[derive(Clone, Debug)]
pub enum Said {
    /// A slash command: `handcheck`, `fleet add`.
    Command {
        /// The command's name, and its subcommand's after one space.
        path: String,
        /// The options that were given.
        options: Options,
    },
    /// Somebody is still typing an option and wants suggestions.
    Completing {
        /// As in `Command`.
        path: String,
        /// What has been given so far, the focused option included.
        options: Options,
        /// The option being typed.
        focused: String,
    },
    /// A button, or a menu with what was chosen.
    Tap {
        /// The identifier we gave the button or menu.
        id: String,
        /// The values chosen; empty for a button.
        chosen: Vec<String>,
    },
    /// A form that was sent.
    Form {
        /// The identifier we gave the form.
        id: String,
        /// Field name to text.
        fields: BTreeMap<String, String>,
    },
    /// A plain message that mentions the bot, with the mention taken out.
    Mention {
        /// The text.
        text: String,
        /// Whether files hang on it.
        files: bool,
    },
    /// The file that an earlier command named has been fetched: the command again, with its bytes.
    Fetched {
        /// As in `Command`.
        path: String,
        /// As in `Command`.
        options: Options,
        /// The bytes, or why there are none.
        file: Result<Vec<u8>, FetchFault>,
    },
}

impl Said {
    /// The same without what shows nothing or turns the direction of a line, in every text of it.
    pub(crate) fn without_unseen(&self) -> Cow<'_, Said> {
        let any = |text: &str| text.chars().any(is_unseen);
        let any_given = |options: &Options| {
            options
                .values()
                .any(|value| matches!(value, Value::Text(text) if any(text)))
        };
        let table = |file: &Result<Vec<u8>, FetchFault>| {
            let bytes = file.as_ref().ok()?;
            let text = std::str::from_utf8(bytes).ok().filter(|text| any(text))?;
            // By its control characters a file of another kind is known.
            let plain = !text.contains(|c: char| c.is_control() && is_unseen(c));
            plain.then(|| without(text).into_owned().into_bytes())
        };
        let clean = |options: &mut Options| {
            for value in options.values_mut() {
                if let Value::Text(text) = value {
                    *text = without(text).into_owned();
                }
            }
        };
        let there = match self {
            Said::Command { options, .. } | Said::Completing { options, .. } => any_given(options),
            // What we did not write is refused as it is.
            Said::Tap { .. } => false,
            Said::Form { fields, .. } => fields.values().any(|text| any(text)),
            Said::Mention { text, .. } => any(text),
            Said::Fetched { options, file, .. } => any_given(options) || table(file).is_some(),
        };
        if !there {
            return Cow::Borrowed(self);
        }
        let mut said = self.clone();
        match &mut said {
            Said::Command { options, .. } | Said::Completing { options, .. } => clean(options),
            Said::Tap { .. } => {}
            Said::Form { fields, .. } => {
                for text in fields.values_mut() {
                    *text = without(text).into_owned();
                }
            }
            Said::Mention { text, .. } => *text = without(text).into_owned(),
            Said::Fetched { options, file, .. } => {
                clean(options);
                if let Some(bytes) = table(file) {
                    *file = Ok(bytes);
                }
            }
        }
        Cow::Owned(said)
    }
}

/// Options by name.
pub type Options = BTreeMap<String, Value>;

/// A value as the chat delivers it.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Text, also of a choice.
    Text(String),
    /// A whole number.
    Whole(i64),
    /// Yes or no.
    Flag(bool),
    /// A chat role.
    Role(ChatRole),
    /// The chat's own role of everybody: no list of anybody's roles holds it, and no message rings it.
    Everybody,
    /// A channel.
    Channel(Channel),
    /// Somebody of the chat.
    Person(Picked),
    /// An attached file, not yet fetched.
    File(FileRef),
}

/// Somebody who was picked from the chat's own list, by number only: their name is not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Picked {
    /// A member of the guild.
    Member {
        /// Their number.
        who: Person,
        /// The chat roles that they hold at this moment.
        chat_roles: Vec<ChatRole>,
    },
    /// A program.
    Program(Person),
    /// A user of the chat who is not in the guild.
    Outside(Person),
}

impl Picked {
    /// A member of the guild who holds none of its roles.
    pub fn member(who: Person) -> Self {
        Picked::Member {
            who,
            chat_roles: Vec::new(),
        }
    }
}

/// A file that hangs on an interaction.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileRef {
    /// Its name as the person's device had it.
    pub name: String,
    /// Where the platform keeps it.
    pub url: String,
    /// Its size in bytes, as the platform states it.
    pub size: u64,
}

/// Why a file could not be fetched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FetchFault {
    /// Larger than the limit.
    TooLarge,
    /// The platform did not hand it over in time.
    Unavailable,
    /// Its address is not the platform's own.
    Foreign,
}
