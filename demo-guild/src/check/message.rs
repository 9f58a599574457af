//! Checks what a message carries and reads it into a draft.
//!
//! Decides what is accepted; where the message goes, and who is reached by it, is the chat's.

use std::sync::Arc;

use serde_json::{Map, Value};

use super::{Need, component, length, list, object, text, whole};
use crate::ids::Id;
use crate::limits::What;
use crate::problem::{Faulty, Problem};

/// Only the person who asked sees the message.
pub const EPHEMERAL: u64 = 1 << 6;
/// The bot is still thinking.
pub const LOADING: u64 = 1 << 7;
/// Nobody's phone makes a sound.
pub const SILENT: u64 = 1 << 12;
/// Links are not shown larger.
pub const NO_PREVIEW: u64 = 1 << 2;

/// The message is made of newer layout components.
const NEWER_LAYOUT: u64 = 1 << 15;

/// A message to be sent, or what of one is to change. `None` leaves a part as it is.
#[derive(Clone, Debug, Default)]
pub struct Draft {
    /// Its text.
    pub content: Option<String>,
    /// Its embeds.
    pub embeds: Option<Arc<[Value]>>,
    /// Its rows.
    pub components: Option<Arc<[Value]>>,
    /// Its flags.
    pub flags: u64,
    /// Who may be reached; `None` is everyone named in the text.
    pub allowed: Option<Allowed>,
    /// What the sender knows it by.
    pub nonce: Option<Value>,
    /// Whether a message with the same nonce is to be returned instead.
    pub enforce_nonce: bool,
    /// Attachments that an edit keeps.
    pub keep: Option<Vec<Id>>,
    /// What is read out in the place of files, by the numbers that the message names them with.
    pub described: Vec<(Id, String)>,
    /// The message that it answers.
    pub answers: Option<Id>,
}

/// What `allowed_mentions` says.
#[derive(Clone, Debug, Default)]
pub struct Allowed {
    /// Everyone and here.
    pub everyone: bool,
    /// Any role named in the text.
    pub any_role: bool,
    /// Any user named in the text.
    pub any_user: bool,
    /// These roles.
    pub roles: Vec<Id>,
    /// These users.
    pub users: Vec<Id>,
}

impl Draft {
    /// Whether there is nothing that a person could see.
    pub fn is_empty(&self, files: usize) -> bool {
        self.content.as_deref().is_none_or(str::is_empty)
            && self.embeds.as_ref().is_none_or(|e| e.is_empty())
            && self.components.as_ref().is_none_or(|c| c.is_empty())
            && files == 0
    }
}

/// Reads a message's body.
///
/// # Errors
/// 50035 with every error found.
pub fn message(value: Value) -> Result<Draft, Problem> {
    let mut faulty = Faulty::default();
    let draft = read(&mut faulty, value);
    faulty.done()?;
    Ok(draft)
}

/// Reads a message's body at where `faulty` is.
pub fn read(faulty: &mut Faulty, mut value: Value) -> Draft {
    let mut draft = Draft::default();
    if value.is_null() {
        return draft;
    }
    {
        let Some(body) = object(faulty, &value) else {
            return draft;
        };
        text(faulty, body, "content", Need::May, What::Content);
        embeds(faulty, body);
        let rows = list(faulty, body, "components", Need::May, What::Rows);
        faulty.key("components", |f| component::rows(f, rows));
        draft.flags = whole(faulty, body, "flags", 0..=u64::MAX).unwrap_or(0);
        if draft.flags & NEWER_LAYOUT != 0 {
            faulty.key("flags", |f| {
                f.here(
                    "MESSAGE_FLAGS_INVALID",
                    "This guild draws classic rows only.",
                );
            });
        }
        draft.allowed = allowed(faulty, body);
        nonce(faulty, body);
        draft.enforce_nonce = body
            .get("enforce_nonce")
            .and_then(Value::as_bool)
            .unwrap_or(false);
        attachments(faulty, body, &mut draft);
        draft.answers = body
            .get("message_reference")
            .and_then(|r| r.get("message_id"))
            .and_then(id);
    }
    let Value::Object(body) = &mut value else {
        return draft;
    };
    draft.content = match body.remove("content") {
        Some(Value::String(content)) => Some(content),
        Some(Value::Null) => Some(String::new()),
        _ => None,
    };
    draft.embeds = taken_list(body, "embeds");
    draft.components = taken_list(body, "components");
    draft.nonce = body.remove("nonce").filter(|n| !n.is_null());
    draft
}

fn taken_list(body: &mut Map<String, Value>, key: &str) -> Option<Arc<[Value]>> {
    match body.remove(key) {
        Some(Value::Array(items)) => Some(items.into()),
        Some(Value::Null) => Some(Arc::from([])),
        _ => None,
    }
}

fn id(value: &Value) -> Option<Id> {
    value
        .as_str()
        .map_or_else(|| value.as_u64().map(Id), |text| text.parse().ok())
}

fn nonce(faulty: &mut Faulty, body: &Map<String, Value>) {
    match body.get("nonce") {
        None | Some(Value::Null) => {}
        Some(Value::String(text)) => {
            faulty.key("nonce", |f| length(f, text.chars().count(), What::Nonce));
        }
        Some(Value::Number(n)) if n.is_i64() || n.is_u64() => {}
        Some(_) => faulty.key("nonce", |f| {
            f.here(
                "NONCE_TYPE_CONVERT",
                "Could not interpret the value as a nonce.",
            );
        }),
    }
}

fn attachments(faulty: &mut Faulty, body: &Map<String, Value>, draft: &mut Draft) {
    let named = list(faulty, body, "attachments", Need::May, What::Files);
    if body.get("attachments").is_some_and(Value::is_array) {
        draft.keep = Some(named.iter().filter_map(|a| id(&a["id"])).collect());
    }
    faulty.key("attachments", |f| {
        for (index, one) in named.iter().enumerate() {
            f.at(index, |f| {
                let Some(one) = object(f, one) else { return };
                let said = text(f, one, "description", Need::May, What::FileDescription);
                if let (Some(file), Some(said)) = (one.get("id").and_then(id), said) {
                    draft.described.push((file, said.to_owned()));
                }
            });
        }
    });
}

fn allowed(faulty: &mut Faulty, body: &Map<String, Value>) -> Option<Allowed> {
    let value = body.get("allowed_mentions").filter(|v| !v.is_null())?;
    let mut allowed = Allowed::default();
    faulty.key("allowed_mentions", |f| {
        let Some(body) = object(f, value) else { return };
        for (index, kind) in list(f, body, "parse", Need::May, What::AllowedMentions)
            .iter()
            .enumerate()
        {
            match kind.as_str() {
                Some("everyone") => allowed.everyone = true,
                Some("roles") => allowed.any_role = true,
                Some("users") => allowed.any_user = true,
                Some(_) | None => f.key("parse", |f| {
                    f.at(index, |f| {
                        super::not_among(f, "'roles', 'users', 'everyone'")
                    });
                }),
            }
        }
        allowed.roles = ids(f, body, "roles", allowed.any_role);
        allowed.users = ids(f, body, "users", allowed.any_user);
    });
    Some(allowed)
}

fn ids(faulty: &mut Faulty, body: &Map<String, Value>, key: &'static str, any: bool) -> Vec<Id> {
    let listed = list(faulty, body, key, Need::May, What::AllowedMentions);
    if any && !listed.is_empty() {
        faulty.key(key, |f| {
            f.here(
                "MESSAGE_ALLOWED_MENTIONS_PARSE_EXCLUSIVE",
                format!("parse:[\"{key}\"] and {key}: [ids...] are mutually exclusive."),
            );
        });
    }
    listed.iter().filter_map(id).collect()
}

fn embeds(faulty: &mut Faulty, body: &Map<String, Value>) {
    let embeds = list(faulty, body, "embeds", Need::May, What::Embeds);
    let mut size = 0;
    faulty.key("embeds", |f| {
        for (index, embed) in embeds.iter().enumerate() {
            f.at(index, |f| size += self::embed(f, embed));
        }
        if size > What::EmbedSize.most() {
            f.here(
                "MAX_EMBED_SIZE_EXCEEDED",
                format!(
                    "Embed size exceeds maximum size of {}",
                    What::EmbedSize.most()
                ),
            );
        }
    });
}

/// Checks one embed; its text in characters.
fn embed(faulty: &mut Faulty, embed: &Value) -> usize {
    let Some(body) = object(faulty, embed) else {
        return 0;
    };
    let count = |t: Option<&str>| t.map_or(0, |t| t.chars().count());
    let mut size = count(text(faulty, body, "title", Need::May, What::EmbedTitle));
    size += count(text(
        faulty,
        body,
        "description",
        Need::May,
        What::EmbedDescription,
    ));
    if let Some(footer) = body.get("footer").and_then(Value::as_object) {
        faulty.key("footer", |f| {
            size += count(text(f, footer, "text", Need::May, What::EmbedFooter));
        });
    }
    if let Some(author) = body.get("author").and_then(Value::as_object) {
        faulty.key("author", |f| {
            size += count(text(f, author, "name", Need::May, What::EmbedAuthor));
        });
    }
    let fields = list(faulty, body, "fields", Need::May, What::EmbedFields);
    faulty.key("fields", |f| {
        for (index, field) in fields.iter().enumerate() {
            f.at(index, |f| {
                let Some(field) = object(f, field) else {
                    return;
                };
                size += count(text(f, field, "name", Need::Must, What::EmbedFieldName));
                size += count(text(f, field, "value", Need::Must, What::EmbedFieldValue));
            });
        }
    });
    size
}

#[cfg(test)]
mod tests {
    use super::*;
    use bot::request;
    use bot::wire::write;
    use commands::message::{
        Answer, Button, Field, Form, Look, Menu, MenuEntry, Message, Row, TEXT_CHARS_MAX,
    };

    fn read(body: &request::Body) -> Value {
        match body {
            request::Body::Json(bytes) => serde_json::from_slice(bytes).unwrap(),
            request::Body::Empty | request::Body::Multipart { .. } => panic!("not JSON"),
        }
    }

    /// A bed's list, a product's name or a reason can be of any length: no part of a message may take the message with it.
    #[test]
    fn the_bot_sends_nothing_that_is_refused_for_its_length() {
        let long = "é".repeat(200);
        let button = |at: usize| Button {
            id: format!("b{at}"),
            label: long.clone(),
            look: Look::Plain,
        };
        let mut rows: Vec<Row> = vec![Row::Buttons((0..6).map(button).collect())];
        rows.extend((0..5).map(|at| {
            Row::Menu(Menu {
                id: format!("m{at}"),
                hint: long.clone(),
                entries: (0..30)
                    .map(|entry| MenuEntry {
                        value: format!("v{entry}"),
                        label: long.clone(),
                        about: Some(long.clone()),
                    })
                    .collect(),
            })
        }));
        let sent = Message {
            text: "é".repeat(TEXT_CHARS_MAX + 1),
            rows,
            ..Message::default()
        };
        for body in [write::edit(&sent), write::post(&sent, "n", None)] {
            let body = read(&body);
            assert_eq!(message(body.clone()).map(drop), Ok(()));
            let rows = body["components"].as_array().unwrap();
            let buttons = |row: &Value| row["components"].as_array().unwrap().len();
            // The sixth button is not lost: it stands below the others.
            assert_eq!(
                (rows.len(), buttons(&rows[0]), buttons(&rows[1])),
                (5, 5, 1)
            );
            let label = rows[0]["components"][0]["label"].as_str().unwrap();
            assert_eq!(label, format!("{}…", "é".repeat(79)));
        }

        let shown = Form {
            id: "f".into(),
            title: long.clone(),
            fields: vec![Field {
                id: "one".into(),
                label: long.clone(),
                hint: long,
                required: true,
                long: false,
            }],
        };
        let body = read(&write::callback(&Answer::Form(shown), false));
        let mut faulty = Faulty::default();
        super::super::form::form(&mut faulty, &body["data"]);
        assert_eq!(faulty.done(), Ok(()));
    }
}
