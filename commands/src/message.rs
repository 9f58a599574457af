//! What goes out, in words and parts that any team chat has: text, buttons, a menu, a form. Decides
//! the shape and its limits; leaves the platform's own spelling of it to `bot`.

use serde::{Deserialize, Deserializer, Serialize};

use crate::decide::quoted;
use crate::ids::{ChatRole, Person};
use crate::picture::Picture;

/// The longest text of one message, in characters.
pub const TEXT_CHARS_MAX: usize = 2_000;
/// The most rows of buttons and menus.
pub const ROWS_MAX: usize = 5;
/// The most buttons in a row.
pub const BUTTONS_MAX: usize = 5;
/// The most entries of a menu, and of suggestions.
pub const ENTRIES_MAX: usize = 25;
/// The largest file, and the most that all files of a message may hold, in bytes: the platform's own limit is 10 MiB.
pub const FILE_BYTES_MAX: usize = 8_000_000;
/// The most files of one message.
pub const FILES_MAX: usize = 10;
/// The longest words of a button, in characters.
pub const BUTTON_CHARS_MAX: usize = 80;
/// The longest line of a menu's entry, of a suggestion, and of a field's example, in characters.
pub const LINE_CHARS_MAX: usize = 100;
/// The longest words of a menu before a choice, in characters.
pub const HINT_CHARS_MAX: usize = 150;
/// The longest title of a form, and label of a field, in characters.
pub const TITLE_CHARS_MAX: usize = 45;
/// The longest identifier of a button, a menu or a form, in bytes.
pub const TAP_ID_MAX: usize = 100;

/// One message.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Message {
    /// The text, with the platform's markup for times and mentions.
    pub text: String,
    /// Buttons and menus below it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rows: Vec<Row>,
    /// Roles that are notified. Nobody else ever is, whatever the text says.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ping_roles: Vec<ChatRole>,
    /// People that are notified.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ping_people: Vec<Person>,
    /// Arrives without a sound.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub silent: bool,
    /// Files that hang on it, at most [`FILES_MAX`]. Messages kept from before there could be several name one `file`.
    #[serde(
        default,
        alias = "file",
        deserialize_with = "one_or_several",
        skip_serializing_if = "Vec::is_empty"
    )]
    pub files: Vec<File>,
    /// A picture that hangs on it. The words say all that matters: one that cannot be drawn is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub picture: Option<Box<Picture>>,
}

/// A file to send.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct File {
    /// Its name.
    pub name: String,
    /// Its content: text, as all our files are.
    pub text: String,
    /// The pictures of a page, each to be put where the page holds its place ([`Picture::place`]). The page says in words
    /// what each shows: one that cannot be drawn leaves its words.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pictures: Vec<Picture>,
}

impl File {
    /// A file without pictures.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            text: text.into(),
            pictures: Vec::new(),
        }
    }
}

/// Reads what older programs kept as one file, or none, as well as a list.
fn one_or_several<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<File>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Kept {
        Several(Vec<File>),
        One(Option<File>),
    }
    Ok(match Kept::deserialize(from)? {
        Kept::Several(files) => files,
        Kept::One(file) => file.into_iter().collect(),
    })
}

/// One row below a message.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Row {
    /// Up to [`BUTTONS_MAX`] buttons.
    Buttons(Vec<Button>),
    /// One menu.
    Menu(Menu),
}

/// A button.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Button {
    /// What comes back when it is tapped.
    pub id: String,
    /// Its words.
    pub label: String,
    /// Its weight.
    pub look: Look,
}

/// How a button stands out. The words carry the meaning; this only repeats it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Look {
    /// One of several.
    Plain,
    /// The usual next step.
    Main,
    /// It went well.
    Good,
    /// Think before tapping.
    Caution,
}

/// A menu of which one entry is chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Menu {
    /// What comes back with the choice.
    pub id: String,
    /// What stands in it before a choice.
    pub hint: String,
    /// Up to [`ENTRIES_MAX`] entries.
    pub entries: Vec<MenuEntry>,
}

/// An entry of a menu.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct MenuEntry {
    /// What comes back.
    pub value: String,
    /// Its words, up to 100 characters.
    pub label: String,
    /// A second line, up to 100 characters.
    pub about: Option<String>,
}

/// A form of up to five text fields.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Form {
    /// What comes back with the fields.
    pub id: String,
    /// Up to 45 characters.
    pub title: String,
    /// The fields.
    pub fields: Vec<Field>,
}

/// A field of a form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Field {
    /// The field's name in what comes back.
    pub id: String,
    /// Up to 45 characters.
    pub label: String,
    /// An example, up to 100 characters.
    pub hint: String,
    /// Must be filled in.
    pub required: bool,
    /// More than one line.
    pub long: bool,
}

/// A suggestion while somebody types.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Choice {
    /// What is shown, up to 100 characters.
    pub label: String,
    /// What is put in, up to 100 characters.
    pub value: String,
}

/// What the person who asked gets.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Answer {
    /// Seen by the asker alone.
    Private(Message),
    /// Seen by everybody in the channel.
    Shared(Message),
    /// Takes the place of the message that was tapped.
    Replace(Message),
    /// A form to fill in.
    Form(Form),
    /// Suggestions.
    Choices(Vec<Choice>),
    /// The command is allowed; fetch the file it names and come back with [`crate::said::Said::Fetched`].
    Fetch(String),
}

impl Message {
    /// Takes a note that was erased since out of the words, and says whether it stood there. In what others read a note stands
    /// in lines of its own, quoted; words that merely are the same stay.
    pub fn forget(&mut self, note: &str) -> bool {
        let quoted = quoted(note);
        let quoted = quoted.trim_start();
        if quoted.is_empty() {
            return false;
        }
        let (with, without) = (format!("\n{quoted}\n"), "\n");
        let mut lines = format!("\n{}\n", self.text);
        let before = lines.len();
        while let Some(at) = lines.find(&with) {
            lines.replace_range(at..at + with.len(), without);
        }
        if lines.len() == before {
            return false;
        }
        let text = lines.strip_prefix('\n').unwrap_or(&lines);
        self.text = text.strip_suffix('\n').unwrap_or(text).to_owned();
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A row of the outbox as programs wrote it that knew one file of a message.
    #[test]
    fn a_message_with_one_file_is_still_read() {
        let one = r#"{"text":"x","file":{"name":"due.csv","text":"a,b"}}"#;
        let message: Message = serde_json::from_str(one).unwrap();
        assert_eq!(message.files.len(), 1);
        assert_eq!(message.files[0].name, "due.csv");
        let again = serde_json::to_string(&message).unwrap();
        assert_eq!(
            again,
            r#"{"text":"x","files":[{"name":"due.csv","text":"a,b"}]}"#
        );
        assert_eq!(serde_json::from_str::<Message>(&again).unwrap(), message);
        for none in [r#"{"text":"x"}"#, r#"{"text":"x","file":null}"#] {
            assert_eq!(
                serde_json::from_str::<Message>(none).unwrap(),
                Message::text("x")
            );
        }
    }

    #[test]
    fn a_note_goes_from_the_words_and_what_only_reads_the_same_stays() {
        let after = |text: &str, note: &str| {
            let mut message = Message::text(text);
            message.forget(note).then_some(message.text)
        };
        let two = "**LW-01**\n> hisses\n> at 10\\:00\nCall the nurse.";
        assert_eq!(
            after(two, "hisses\nat 10:00").as_deref(),
            Some("**LW-01**\nCall the nurse.")
        );
        assert_eq!(
            after(two, "hisses").as_deref(),
            Some("**LW-01**\n> at 10\\:00\nCall the nurse.")
        );
        assert_eq!(after("> a\n> a\nb\n> a", "a").as_deref(), Some("b"));
        for note in ["hiss", "Call the nurse.", "LW-01", "", " ", "\n"] {
            assert_eq!(after(two, note), None, "{note:?}");
        }
    }
}
