//! What follows from something said or from a time that has come: facts to record, an answer to
//! whoever asked, messages for others. A value that can be printed and compared; `bot` carries it out.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use crate::ids::Channel;
use crate::message::{Answer, Message};
use crate::past::Wanted;
use crate::record::Body;
use crate::role::Role;

/// What follows. `Default` is: nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Decision {
    /// Facts to append, in this order, under one cause.
    pub entries: Vec<Entry>,
    /// For whoever asked; `None` when the clock asked.
    pub answer: Option<Answer>,
    /// For others.
    pub posts: Vec<Post>,
    /// What of the log must be read before there is an answer: then nothing else is decided yet.
    pub wants: Option<Wanted>,
}

/// A fact that is not yet numbered.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// When it happened, by facility time.
    pub at: DateTime<Utc>,
    /// The role it was done in.
    pub role: Role,
    /// What happened.
    pub body: Body,
    /// Free text that belongs to it, already past the privacy guard. Kept apart, so that it can be erased.
    pub note: Option<String>,
}

/// A message for others: a row of the outbox.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Post {
    /// Unique for ever: the alarm and the rung, the schedule and its slot.
    pub key: String,
    /// Where to.
    pub channel: Channel,
    /// A new message, or a change of an earlier one.
    pub kind: PostKind,
    /// What is sent first when there is much.
    pub lane: Lane,
    /// The message.
    pub message: Message,
    /// New messages under these keys that still wait to be sent are not sent any more: this one says all that they say, to
    /// everybody whom they call.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub in_place_of: Vec<String>,
}

/// A new message, or a change of an earlier one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum PostKind {
    /// A new message.
    New,
    /// The message that the post under this key made now reads so. A newer edit replaces an unsent older one.
    Edit {
        /// The key of the post that made the message.
        of: String,
    },
}

/// What is sent first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Lane {
    /// Alarms and their ladder.
    Escalation,
    /// Work whose time has come.
    Reminder,
    /// Everything else.
    Routine,
}
