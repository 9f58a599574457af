//! Everything that happens, as the page and its tests hear of it.
//!
//! Decides how a happening reads in the page's JSON; each is serialised once, and only if
//! somebody asks for its text.

use std::sync::{Arc, OnceLock};

use serde::Serialize;
use serde_json::{Value, json};

use crate::chat::Message;
use crate::check::form::Form;
use crate::clock::Dial;
use crate::ids::Id;
use crate::outcome::Choice;

/// One thing that happened.
#[derive(Clone, Debug, Serialize)]
#[serde(tag = "t", rename_all = "lowercase")]
pub enum Happening {
    /// A new message.
    Message {
        /// The message.
        #[serde(serialize_with = "as_seen")]
        message: Arc<Message>,
    },
    /// A changed message, whole.
    Edit {
        /// The message.
        #[serde(serialize_with = "as_seen")]
        message: Arc<Message>,
    },
    /// A message is gone.
    Gone {
        /// Where it was.
        channel_id: Id,
        /// Which.
        id: Id,
    },
    /// A form opened on a person's phone.
    Form {
        /// Whose phone.
        person: Id,
        /// The form.
        form: Form,
        /// Where.
        channel_id: Id,
    },
    /// Choices to complete with.
    Choices {
        /// What the page asked under.
        nonce: Option<String>,
        /// The choices.
        choices: Vec<Choice>,
    },
    /// An interaction was answered.
    Done {
        /// What the page asked under.
        nonce: Option<String>,
    },
    /// An interaction was put off.
    Waiting {
        /// What the page asked under.
        nonce: Option<String>,
    },
    /// Something did not work.
    Failed {
        /// What the page asked under.
        nonce: Option<String>,
        /// A sentence for people.
        why: String,
    },
    /// The registered commands changed.
    Commands {
        /// All of them.
        commands: Vec<Arc<Value>>,
    },
    /// The demo clock.
    Clock {
        /// What it shows.
        clock: Value,
    },
    /// The bot came or went.
    Bot {
        /// Whether it is connected.
        up: bool,
    },
}

/// A happening and, once asked for, its text.
#[derive(Debug)]
pub struct Frame {
    /// What happened.
    pub what: Happening,
    text: OnceLock<Arc<str>>,
}

impl Frame {
    /// A frame of that happening.
    pub fn new(what: Happening) -> Arc<Frame> {
        Arc::new(Frame {
            what,
            text: OnceLock::new(),
        })
    }

    /// The page's JSON.
    pub fn text(&self) -> &Arc<str> {
        self.text
            .get_or_init(|| serde_json::to_string(&self.what).unwrap_or_default().into())
    }
}

/// A message as the page draws it.
pub fn seen(message: &Message) -> Value {
    let files: Vec<Value> = message
        .attachments
        .iter()
        .map(|a| {
            let (width, height) = a.size().unzip();
            json!({
                "name": a.name, "url": a.url, "size": a.bytes.len(), "text": a.description,
                "width": width, "height": height,
            })
        })
        .collect();
    json!({
        "id": message.id, "channel_id": message.channel,
        "author": {"id": message.author.id, "name": message.author.name, "bot": message.author.bot},
        "content": message.content, "at": message.at, "edited": message.edited,
        "ephemeral_for": message.ephemeral_for, "components": &message.components[..],
        "embeds": &message.embeds[..], "attachments": files,
        "mentions": message.mentions, "mention_roles": message.mention_roles, "silent": message.silent,
        "reply_to_command": message.reply_to_command,
    })
}

/// The demo clock as the page shows it.
pub fn clock(dial: &dyn Dial, zone: &str) -> Value {
    json!({
        "now": dial.now().timestamp_millis(), "rate": dial.rate(), "zone": zone,
        "next": dial.next().map(|at| at.timestamp_millis()), "held": dial.held(),
    })
}

fn as_seen<S: serde::Serializer>(message: &Arc<Message>, out: S) -> Result<S::Ok, S::Error> {
    seen(message).serialize(out)
}
