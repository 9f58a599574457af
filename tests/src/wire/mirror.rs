//! What people see in the demo guild, as a conversation's chat. Decides which happening is an answer, a message or a
//! change; leaves how that reads to [`crate::talk::show`].

use chrono::{DateTime, Utc};
use demo_guild::{Form as Opened, Message};
use serde_json::json;

use crate::talk::chat::{Called, Chat, Form, Look, Noticed, Posted, What, look};

/// How a message of the guild looks.
pub fn seen(message: &Message) -> Look {
    let files = message.attachments.iter();
    let said: Vec<_> = files
        .clone()
        .map(|file| json!({"description": file.description}))
        .collect();
    look(
        &json!({
            "content": message.content, "components": &message.components[..], "attachments": said,
        }),
        files
            .map(|file| (file.name.clone(), file.bytes.to_vec()))
            .collect(),
    )
}

/// A new message of the bot's. `written_by` finds whose message it answers.
pub fn wrote(chat: &mut Chat, message: &Message, written_by: impl Fn(u64) -> Option<u64>) {
    let look = seen(message);
    let called = Called {
        roles: message.mention_roles.iter().map(|id| id.0).collect(),
        people: message.mentions.iter().map(|id| id.0).collect(),
    };
    let only = message.ephemeral_for.map(|who| who.0);
    let channel = message.channel.0;
    let what = match (message.cause, only) {
        (_, Some(who)) => What::Private(who, look.clone()),
        (Some(cause), None) => What::Shared(channel, cause.person.0, look.clone()),
        (None, None) => What::Post {
            channel,
            called: called.clone(),
            to: message.answers.and_then(|id| written_by(id.0)),
            silent: message.silent,
            look: look.clone(),
        },
    };
    let at = when(message.at);
    chat.noticed.push(Noticed { at, what });
    let posted = Posted {
        id: message.id.0,
        channel,
        only,
        look,
        called: if message.cause.is_some() {
            Called::default()
        } else {
            called
        },
        at,
        answers: message.cause.map(|cause| cause.interaction.0),
        nonce: None,
        changed: false,
    };
    // An answer that had to wait has the number of the moment when it was asked for.
    let place = chat.messages.partition_point(|one| one.id < posted.id);
    chat.messages.insert(place, posted);
}

/// A message of the bot's that changed. It is noticed where it reads otherwise than before, and where it is the
/// answer to what somebody did.
pub fn rewrote(chat: &mut Chat, message: &Message, is_answer: bool) {
    let look = seen(message);
    let known = chat.messages.iter_mut().find(|one| one.id == message.id.0);
    let Some(one) = known else { return };
    if one.look == look && !is_answer {
        return;
    }
    one.look = look.clone();
    let what = match one.only {
        Some(who) => What::PrivateChanged(who, look),
        None => What::Changed(one.channel, look),
    };
    let at = when(message.edited.unwrap_or(message.at));
    chat.noticed.push(Noticed { at, what });
}

/// A form that came up for a person, because of something on that message.
pub fn opened(chat: &mut Chat, who: u64, on: Option<u64>, form: &Opened, at: DateTime<Utc>) {
    let form = Form {
        id: form.custom_id.clone(),
        title: form.title.clone(),
        fields: form
            .fields
            .iter()
            .map(|field| {
                (
                    field.custom_id.clone(),
                    field.label.clone(),
                    field.placeholder.clone().unwrap_or_default(),
                    field.required,
                )
            })
            .collect(),
    };
    chat.forms.insert(who, (form.clone(), on));
    let what = What::Form(who, form);
    chat.noticed.push(Noticed { at, what });
}

fn when(ms: i64) -> DateTime<Utc> {
    DateTime::from_timestamp_millis(ms).unwrap_or(DateTime::UNIX_EPOCH)
}
