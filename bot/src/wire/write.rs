//! Messages, forms and suggestions as the platform's JSON, written straight from borrowed values.
//! Decides the spelling and the exact list of who is notified; leaves what is said to `commands`.

use std::borrow::Cow;
use std::fmt::Display;

use bytes::Bytes;
use commands::ids::Person;
use commands::message::{
    Answer, BUTTON_CHARS_MAX, BUTTONS_MAX, Button, Choice, ENTRIES_MAX, Field, Form,
    HINT_CHARS_MAX, LINE_CHARS_MAX, Look, Menu, MenuEntry, Message, ROWS_MAX, Row, TEXT_CHARS_MAX,
    TITLE_CHARS_MAX,
};
use serde::ser::{Serialize, SerializeSeq, Serializer};

use crate::draw;
use crate::request::Body;

/// Seen by the asker alone.
const EPHEMERAL: u32 = 64;
/// Arrives without a sound.
const SILENT: u32 = 4_096;
/// Nothing that looks like a link is followed to show what is behind it.
const NO_PREVIEW: u32 = 4;

const NEW_MESSAGE: u8 = 4;
const WAIT: u8 = 5;
const NOTHING: u8 = 6;
const REPLACE: u8 = 7;
const SUGGESTIONS: u8 = 8;
const FORM: u8 = 9;

/// The first answer to an interaction. `on_message` says whether it came from a message of ours.
pub fn callback(answer: &Answer, on_message: bool) -> Body {
    match answer {
        Answer::Private(message) => first(NEW_MESSAGE, message, EPHEMERAL),
        Answer::Shared(message) => first(NEW_MESSAGE, message, 0),
        Answer::Replace(message) if on_message => first(REPLACE, message, 0),
        // There is no message to take the place of.
        Answer::Replace(message) => first(NEW_MESSAGE, message, EPHEMERAL),
        Answer::Form(form) => json(&Callback {
            kind: FORM,
            data: FormJson(form),
        }),
        Answer::Choices(choices) => {
            let data = ChoicesJson {
                choices: List(first_of(choices), ChoiceJson),
            };
            json(&Callback {
                kind: SUGGESTIONS,
                data,
            })
        }
        Answer::Fetch(_) => json(&Callback {
            kind: WAIT,
            data: Flags { flags: EPHEMERAL },
        }),
    }
}

/// A first answer of nothing but words, seen by the asker alone.
pub fn callback_text(text: &str) -> Body {
    let message = Message {
        text: text.to_owned(),
        ..Message::default()
    };
    first(NEW_MESSAGE, &message, EPHEMERAL)
}

/// No suggestions.
pub fn no_choices() -> Body {
    callback(&Answer::Choices(Vec::new()), false)
}

/// A tap that nothing follows from.
pub fn nothing() -> Body {
    #[derive(serde::Serialize)]
    struct Nothing {
        #[serde(rename = "type")]
        kind: u8,
    }
    json(&Nothing { kind: NOTHING })
}

/// The message in an answer; `None` for forms, suggestions and files to fetch.
pub fn message_of(answer: &Answer) -> Option<&Message> {
    match answer {
        Answer::Private(message) | Answer::Shared(message) | Answer::Replace(message) => {
            Some(message)
        }
        Answer::Form(_) | Answer::Choices(_) | Answer::Fetch(_) => None,
    }
}

/// A message that takes the place of the first answer.
pub fn original(message: &Message) -> Body {
    edit(message)
}

/// A new message in a channel; the same nonce within minutes makes no second one.
pub fn post(message: &Message, nonce: &str, in_answer_to: Option<u64>) -> Body {
    let hung = hung(message);
    let mut json = MessageJson::of(message, &hung, 0);
    json.nonce = Some(nonce);
    json.enforce_nonce = Some(true);
    json.message_reference = in_answer_to.map(|id| Reference {
        message_id: Text(id),
        fail_if_not_exists: false,
    });
    whole(&json, &hung)
}

/// A message of ours that now reads so.
pub fn edit(message: &Message) -> Body {
    let hung = hung(message);
    let mut json = MessageJson::of(message, &hung, 0);
    json.flags = None;
    // What was below it goes, unless it is said again.
    json.components = Some(RowsJson(&message.rows));
    whole(&json, &hung)
}

fn first(kind: u8, message: &Message, flags: u32) -> Body {
    let hung = hung(message);
    let mut data = MessageJson::of(message, &hung, flags);
    if kind == REPLACE {
        data.components = Some(RowsJson(&message.rows));
    }
    whole(&Callback { kind, data }, &hung)
}

fn json(value: &impl Serialize) -> Body {
    Body::Json(Bytes::from(bytes(value)))
}

fn bytes(value: &impl Serialize) -> Vec<u8> {
    let mut out = Vec::with_capacity(512);
    serde_json::to_writer(&mut out, value).expect("plain data is JSON and a Vec takes any length");
    out
}

/// What hangs on a message, ready to go.
struct Hung<'a> {
    name: &'a str,
    /// What it says it holds.
    kind: &'static str,
    bytes: Cow<'a, [u8]>,
    /// What is read out in its place.
    text: Option<&'a str>,
}

/// The files and the picture of a message. A picture is drawn now; one that cannot be is left out, and the words go alone.
fn hung(message: &Message) -> Vec<Hung<'_>> {
    let files = message.files.iter().map(|file| Hung {
        name: &file.name,
        // A sheet to print opens as a page only where it is called one.
        kind: match file.name.rsplit_once('.') {
            Some((_, "html")) => "text/html; charset=utf-8",
            Some((_, "csv")) => "text/csv; charset=utf-8",
            Some(_) | None => "text/plain; charset=utf-8",
        },
        bytes: draw::page(file),
        text: None,
    });
    let picture = message.picture.as_deref().and_then(|picture| {
        let drawn = draw::png(picture)
            .inspect_err(|fault| tracing::error!(%fault, "a picture is left out of its message"));
        Some(Hung {
            name: &picture.name,
            kind: "image/png",
            bytes: Cow::Owned(drawn.ok()?),
            text: Some(&picture.text),
        })
    });
    files.chain(picture).collect()
}

fn whole(value: &impl Serialize, hung: &[Hung<'_>]) -> Body {
    if hung.is_empty() {
        return json(value);
    }
    let payload = bytes(value);
    let mut boundary = "loftwatch-part".to_owned();
    let holds = |all: &[u8], line: &str| all.windows(line.len()).any(|w| w == line.as_bytes());
    while holds(&payload, &boundary) || hung.iter().any(|one| holds(&one.bytes, &boundary)) {
        boundary.push('x');
    }
    let long: usize = hung.iter().map(|one| one.bytes.len() + 400).sum();
    let mut out = Vec::with_capacity(payload.len() + long + 400);
    out.extend_from_slice(
        format!("--{boundary}\r\nContent-Disposition: form-data; name=\"payload_json\"\r\nContent-Type: application/json\r\n\r\n")
            .as_bytes(),
    );
    out.extend_from_slice(&payload);
    for (place, one) in hung.iter().enumerate() {
        let (name, kind) = (plain_name(one.name), one.kind);
        out.extend_from_slice(
            format!("\r\n--{boundary}\r\nContent-Disposition: form-data; name=\"files[{place}]\"; filename=\"{name}\"\r\nContent-Type: {kind}\r\n\r\n")
                .as_bytes(),
        );
        out.extend_from_slice(&one.bytes);
    }
    out.extend_from_slice(format!("\r\n--{boundary}--\r\n").as_bytes());
    Body::Multipart {
        boundary,
        bytes: Bytes::from(out),
    }
}

/// A file's name that cannot break out of its line.
fn plain_name(name: &str) -> String {
    let plain = |c: char| {
        if c.is_ascii_alphanumeric() || "-_.".contains(c) {
            c
        } else {
            '_'
        }
    };
    name.chars().map(plain).collect()
}

/// A number as text, as the platform wants its numbers.
#[derive(Clone, Copy)]
struct Text<T>(T);

impl<T: Display> Serialize for Text<T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&self.0)
    }
}

/// A list, each of whose items is written through `F`.
struct List<'a, T, F>(&'a [T], F);

impl<'a, T, J: Serialize, F: Fn(&'a T) -> J> Serialize for List<'a, T, F> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut list = to.serialize_seq(Some(self.0.len()))?;
        for item in self.0 {
            list.serialize_element(&self.1(item))?;
        }
        list.end()
    }
}

#[derive(serde::Serialize)]
struct Callback<T> {
    #[serde(rename = "type")]
    kind: u8,
    data: T,
}

#[derive(serde::Serialize)]
struct Flags {
    flags: u32,
}

#[derive(serde::Serialize)]
struct MessageJson<'a> {
    content: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    flags: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    components: Option<RowsJson<'a>>,
    allowed_mentions: Mentions<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    attachments: Option<AttachedJson<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    nonce: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    enforce_nonce: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    message_reference: Option<Reference>,
}

impl<'a> MessageJson<'a> {
    fn of(message: &'a Message, hung: &'a [Hung<'a>], flags: u32) -> Self {
        let flags = flags | NO_PREVIEW | if message.silent { SILENT } else { 0 };
        Self {
            content: cut(&message.text),
            flags: Some(flags),
            components: (!message.rows.is_empty()).then_some(RowsJson(&message.rows)),
            allowed_mentions: Mentions::of(message),
            attachments: (!hung.is_empty()).then_some(AttachedJson(hung)),
            nonce: None,
            enforce_nonce: None,
            message_reference: None,
        }
    }
}

/// A message that is too long still goes out: an alarm cut short is better than none.
fn cut(text: &str) -> &str {
    if text.len() <= TEXT_CHARS_MAX {
        return text;
    }
    text.char_indices()
        .nth(TEXT_CHARS_MAX)
        .map_or(text, |(end, _)| &text[..end])
}

/// One label that is too long would refuse the whole message: it is cut, and shows that it was.
fn line(text: &str, most: usize) -> Cow<'_, str> {
    if text.chars().nth(most).is_none() {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.chars().take(most - 1).chain(['…']).collect())
}

/// The files that come with it, each known by its place.
struct AttachedJson<'a>(&'a [Hung<'a>]);

impl Serialize for AttachedJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        #[derive(serde::Serialize)]
        struct Attached<'a> {
            id: usize,
            filename: &'a str,
            #[serde(skip_serializing_if = "Option::is_none")]
            description: Option<&'a str>,
        }
        let mut list = to.serialize_seq(Some(self.0.len()))?;
        for (id, one) in self.0.iter().enumerate() {
            list.serialize_element(&Attached {
                id,
                filename: one.name,
                description: one.text,
            })?;
        }
        list.end()
    }
}

#[derive(serde::Serialize)]
struct Reference {
    message_id: Text<u64>,
    fail_if_not_exists: bool,
}

/// Exactly who is notified, whatever the text says.
#[derive(serde::Serialize)]
struct Mentions<'a> {
    parse: [&'a str; 0],
    roles: RolesJson<'a>,
    users: PeopleJson<'a>,
    replied_user: bool,
}

struct RolesJson<'a>(&'a [commands::ids::ChatRole]);
struct PeopleJson<'a>(&'a [Person]);

impl Serialize for RolesJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        List(self.0, Text).serialize(to)
    }
}

impl Serialize for PeopleJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        List(self.0, Text).serialize(to)
    }
}

impl<'a> Mentions<'a> {
    fn of(message: &'a Message) -> Self {
        Self {
            parse: [],
            roles: RolesJson(&message.ping_roles),
            users: PeopleJson(&message.ping_people),
            replied_user: false,
        }
    }
}

struct RowsJson<'a>(&'a [Row]);

impl Serialize for RowsJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        // A row or a button too many would refuse the whole message: buttons go on in a row more, rows end at the last that
        // is taken.
        let rows = self.0.iter().flat_map(|row| match row {
            Row::Buttons(buttons) => buttons.chunks(BUTTONS_MAX).map(RowJson::Buttons).collect(),
            Row::Menu(menu) => vec![RowJson::Menu(menu)],
        });
        to.collect_seq(rows.take(ROWS_MAX))
    }
}

enum RowJson<'a> {
    Buttons(&'a [Button]),
    Menu(&'a Menu),
}

impl Serialize for RowJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        #[derive(serde::Serialize)]
        struct Of<T> {
            #[serde(rename = "type")]
            kind: u8,
            components: T,
        }
        match self {
            Self::Buttons(buttons) => Of {
                kind: 1,
                components: List(buttons, button),
            }
            .serialize(to),
            Self::Menu(one) => Of {
                kind: 1,
                components: [menu(one)],
            }
            .serialize(to),
        }
    }
}

#[derive(serde::Serialize)]
struct ButtonJson<'a> {
    #[serde(rename = "type")]
    kind: u8,
    style: u8,
    label: Cow<'a, str>,
    custom_id: &'a str,
}

fn button(button: &Button) -> ButtonJson<'_> {
    let style = match button.look {
        Look::Main => 1,
        Look::Plain => 2,
        Look::Good => 3,
        Look::Caution => 4,
    };
    ButtonJson {
        kind: 2,
        style,
        label: line(&button.label, BUTTON_CHARS_MAX),
        custom_id: &button.id,
    }
}

fn menu(menu: &Menu) -> impl Serialize + '_ {
    #[derive(serde::Serialize)]
    struct MenuJson<'a, L> {
        #[serde(rename = "type")]
        kind: u8,
        custom_id: &'a str,
        placeholder: Cow<'a, str>,
        options: L,
    }
    MenuJson {
        kind: 3,
        custom_id: &menu.id,
        placeholder: line(&menu.hint, HINT_CHARS_MAX),
        options: List(first_of(&menu.entries), entry),
    }
}

#[derive(serde::Serialize)]
struct EntryJson<'a> {
    label: Cow<'a, str>,
    value: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    description: Option<Cow<'a, str>>,
}

/// As many of a list to choose from as are taken.
fn first_of<T>(all: &[T]) -> &[T] {
    &all[..all.len().min(ENTRIES_MAX)]
}

fn entry(entry: &MenuEntry) -> EntryJson<'_> {
    EntryJson {
        label: line(&entry.label, LINE_CHARS_MAX),
        value: &entry.value,
        description: entry
            .about
            .as_deref()
            .map(|about| line(about, LINE_CHARS_MAX)),
    }
}

struct FormJson<'a>(&'a Form);

impl Serialize for FormJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        #[derive(serde::Serialize)]
        struct Of<'a, L> {
            custom_id: &'a str,
            title: Cow<'a, str>,
            components: L,
        }
        let form = self.0;
        Of {
            custom_id: &form.id,
            title: line(&form.title, TITLE_CHARS_MAX),
            components: List(&form.fields, field),
        }
        .serialize(to)
    }
}

#[derive(serde::Serialize)]
struct FieldRow<'a> {
    #[serde(rename = "type")]
    kind: u8,
    components: [FieldJson<'a>; 1],
}

#[derive(serde::Serialize)]
struct FieldJson<'a> {
    #[serde(rename = "type")]
    kind: u8,
    custom_id: &'a str,
    label: Cow<'a, str>,
    style: u8,
    required: bool,
    #[serde(skip_serializing_if = "str::is_empty")]
    placeholder: Cow<'a, str>,
}

fn field(field: &Field) -> FieldRow<'_> {
    let input = FieldJson {
        kind: 4,
        custom_id: &field.id,
        label: line(&field.label, TITLE_CHARS_MAX),
        style: if field.long { 2 } else { 1 },
        required: field.required,
        placeholder: line(&field.hint, LINE_CHARS_MAX),
    };
    FieldRow {
        kind: 1,
        components: [input],
    }
}

#[derive(serde::Serialize)]
struct ChoicesJson<L> {
    choices: L,
}

struct ChoiceJson<'a>(&'a Choice);

impl Serialize for ChoiceJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        #[derive(serde::Serialize)]
        struct Of<'a> {
            name: Cow<'a, str>,
            value: &'a str,
        }
        Of {
            name: line(&self.0.label, LINE_CHARS_MAX),
            value: &self.0.value,
        }
        .serialize(to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use commands::ids::ChatRole;
    use commands::message::File;
    use commands::picture::{Axis, Drawn, Picture, Rows};
    use serde_json::{Value, json};

    fn read(body: &Body) -> Value {
        match body {
            Body::Json(bytes) => serde_json::from_slice(bytes).unwrap(),
            Body::Empty | Body::Multipart { .. } => panic!("not JSON"),
        }
    }

    fn message() -> Message {
        Message {
            text: "Low air. <@&7>".into(),
            ping_roles: vec![ChatRole(7)],
            ..Message::default()
        }
    }

    #[test]
    fn a_message_notifies_exactly_whom_it_names() {
        let body = read(&post(&message(), "n1", Some(9)));
        assert_eq!(
            body,
            json!({
                "content": "Low air. <@&7>",
                "flags": 4,
                "allowed_mentions": {"parse": [], "roles": ["7"], "users": [], "replied_user": false},
                "nonce": "n1", "enforce_nonce": true,
                "message_reference": {"message_id": "9", "fail_if_not_exists": false},
            })
        );
    }

    #[test]
    fn answers_are_private_shared_or_in_place() {
        let plain = Message {
            text: "Done.".into(),
            silent: true,
            ..Message::default()
        };
        let private = read(&callback(&Answer::Private(plain.clone()), false));
        assert_eq!(
            (&private["type"], &private["data"]["flags"]),
            (&json!(4), &json!(64 | 4 | 4096))
        );
        let shared = read(&callback(&Answer::Shared(message()), false));
        assert_eq!(
            (&shared["type"], shared["data"].get("flags")),
            (&json!(4), Some(&json!(4)))
        );
        let replaced = read(&callback(&Answer::Replace(plain.clone()), true));
        assert_eq!(
            (&replaced["type"], &replaced["data"]["components"]),
            (&json!(7), &json!([]))
        );
        let typed = read(&callback(&Answer::Replace(plain), false));
        assert_eq!(
            (&typed["type"], &typed["data"]["flags"]),
            (&json!(4), &json!(64 | 4 | 4096))
        );
        let wait = read(&callback(&Answer::Fetch("file".into()), false));
        assert_eq!(wait, json!({"type": 5, "data": {"flags": 64}}));
    }

    #[test]
    fn buttons_menus_forms_and_suggestions_have_the_platforms_shape() {
        let rows = vec![
            Row::Buttons(vec![Button {
                id: "a".into(),
                label: "On my way".into(),
                look: Look::Main,
            }]),
            Row::Menu(Menu {
                id: "m".into(),
                hint: "Which?".into(),
                entries: vec![MenuEntry {
                    value: "v".into(),
                    label: "L".into(),
                    about: None,
                }],
            }),
        ];
        let body = read(&edit(&Message {
            text: "x".into(),
            rows,
            ..Message::default()
        }));
        assert_eq!(
            body["components"],
            json!([
                {"type": 1, "components": [{"type": 2, "style": 1, "label": "On my way", "custom_id": "a"}]},
                {"type": 1, "components": [{"type": 3, "custom_id": "m", "placeholder": "Which?",
                    "options": [{"label": "L", "value": "v"}]}]},
            ])
        );
        let form = Form {
            id: "f".into(),
            title: "Note".into(),
            fields: vec![Field {
                id: "note".into(),
                label: "Note".into(),
                hint: String::new(),
                required: true,
                long: true,
            }],
        };
        assert_eq!(
            read(&callback(&Answer::Form(form), false)),
            json!({"type": 9, "data": {"custom_id": "f", "title": "Note", "components": [
                {"type": 1, "components": [{"type": 4, "custom_id": "note", "label": "Note", "style": 2, "required": true}]}]}})
        );
        let choices = vec![Choice {
            label: "214B".into(),
            value: "LW-07".into(),
        }];
        assert_eq!(
            read(&callback(&Answer::Choices(choices), false)),
            json!({"type": 8, "data": {"choices": [{"name": "214B", "value": "LW-07"}]}})
        );
    }

    #[test]
    fn a_file_hangs_on_and_cannot_break_out() {
        let file = File::new("due \"x\".csv", "--loftwatch-part\r\na");
        let sent = post(
            &Message {
                text: "x".into(),
                files: vec![
                    file.clone(),
                    File {
                        name: "b.csv".into(),
                        ..file
                    },
                ],
                ..Message::default()
            },
            "n",
            None,
        );
        let Body::Multipart { boundary, bytes } = sent else {
            panic!("not multipart")
        };
        let text = String::from_utf8(bytes.to_vec()).unwrap();
        assert_eq!(boundary, "loftwatch-partx");
        assert_eq!(text.matches(&format!("--{boundary}")).count(), 4);
        assert!(text.contains("name=\"files[0]\"; filename=\"due__x_.csv\""));
        assert!(text.contains("name=\"files[1]\"; filename=\"b.csv\""));
    }

    #[test]
    fn a_picture_hangs_on_with_its_words_and_one_that_fails_takes_none_with_it() {
        let message = |height: usize| Message {
            text: "x".into(),
            files: vec![File::new("a.csv", "a")],
            picture: Some(Box::new(Picture {
                name: "readings-LW-07.png".into(),
                title: "LW-07".into(),
                about: String::new(),
                text: "Three readings.".into(),
                drawn: Drawn::Rows(Rows {
                    across: Axis::default(),
                    rows: vec![commands::picture::Row::default(); height],
                }),
            })),
            ..Message::default()
        };
        let Body::Multipart { boundary, bytes } = post(&message(1), "n", None) else {
            panic!("not multipart")
        };
        let text = String::from_utf8_lossy(&bytes);
        assert_eq!(text.matches(&format!("--{boundary}")).count(), 4);
        assert!(text.contains(
            r#""attachments":[{"id":0,"filename":"a.csv"},{"id":1,"filename":"readings-LW-07.png","description":"Three readings."}]"#
        ));
        assert!(text.contains(
            "name=\"files[1]\"; filename=\"readings-LW-07.png\"\r\nContent-Type: image/png\r\n"
        ));
    }

    #[test]
    fn too_long_a_text_is_cut_between_characters() {
        let long = "é".repeat(2_100);
        let message = Message {
            text: long,
            ..Message::default()
        };
        let body = read(&post(&message, "n", None));
        assert_eq!(
            body["content"].as_str().unwrap().chars().count(),
            TEXT_CHARS_MAX
        );
    }
}
