//! What a message is made of.
//!
//! Decides nothing; the chat keeps messages and says whom they reach.

use std::sync::Arc;

use bytes::Bytes;
use serde_json::Value;

use crate::asked::Deed;
use crate::ids::Id;

/// Who wrote a message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Author {
    /// Their id.
    pub id: Id,
    /// The name shown.
    pub name: String,
    /// Whether it is the bot.
    pub bot: bool,
}

/// The interaction that a message answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cause {
    /// The interaction.
    pub interaction: Id,
    /// What was done.
    pub deed: Deed,
    /// Who did it.
    pub person: Id,
}

/// A file on a message.
#[derive(Clone, Debug)]
pub struct Attachment {
    /// Its id.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// What it says it holds.
    pub content_type: Option<String>,
    /// Where it is served.
    pub url: String,
    /// Its bytes.
    pub bytes: Bytes,
    /// What is read out in its place.
    pub description: Option<String>,
}

/// The first bytes of every PNG, up to the width of its dots (PNG specification, third edition, 5.2 and 11.2.1).
const PNG_START: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR";

impl Attachment {
    /// Width and height in dots, where it is a PNG.
    pub fn size(&self) -> Option<(u32, u32)> {
        let rest = self.bytes.strip_prefix(PNG_START)?;
        let (width, rest) = rest.split_first_chunk::<4>()?;
        let (height, _) = rest.split_first_chunk::<4>()?;
        Some((u32::from_be_bytes(*width), u32::from_be_bytes(*height)))
    }
}

/// A message.
#[derive(Clone, Debug)]
pub struct Message {
    /// Its id.
    pub id: Id,
    /// Where it is.
    pub channel: Id,
    /// Who wrote it.
    pub author: Author,
    /// Its text.
    pub content: String,
    /// When it was written, in ms of the demo clock.
    pub at: i64,
    /// When it was last changed, in ms of the demo clock.
    pub edited: Option<i64>,
    /// When it was last changed, in ms of the wall clock.
    pub edited_wall: Option<u64>,
    /// The one person who sees it.
    pub ephemeral_for: Option<Id>,
    /// Its rows, as the platform has them.
    pub components: Arc<[Value]>,
    /// Its embeds.
    pub embeds: Arc<[Value]>,
    /// Its files.
    pub attachments: Vec<Attachment>,
    /// Roles it reaches.
    pub mention_roles: Vec<Id>,
    /// Users it reaches.
    pub mentions: Vec<Id>,
    /// Whether it reaches everyone.
    pub mention_everyone: bool,
    /// The platform's flags.
    pub flags: u64,
    /// Whether phones stay quiet.
    pub silent: bool,
    /// Whether the bot only said so far that it thinks.
    pub loading: bool,
    /// What was typed, where it answers a command.
    pub reply_to_command: Option<String>,
    /// The interaction it answers.
    pub cause: Option<Cause>,
    /// The sender's nonce.
    pub nonce: Option<Value>,
    /// The message it answers.
    pub answers: Option<Id>,
}

/// What a new message has beside its draft.
#[derive(Clone, Debug)]
pub struct Posting {
    /// Its id.
    pub id: Id,
    /// Where.
    pub channel: Id,
    /// By whom.
    pub author: Author,
    /// Now, in ms of the demo clock.
    pub at: i64,
    /// Now, in ms of the wall clock.
    pub wall_ms: u64,
    /// Its files.
    pub files: Vec<Attachment>,
    /// The interaction that it answers.
    pub cause: Option<Cause>,
    /// What was typed for it.
    pub typed: Option<String>,
}

/// Whether a post made a message, or an enforced nonce found one.
#[derive(Debug)]
pub enum Posted {
    /// It is new.
    New(Arc<Message>),
    /// It was there.
    Same(Arc<Message>),
}
