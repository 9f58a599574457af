//! What follows the first answer to an interaction: edits, further messages, removals.
//!
//! Decides which message a token's route means; how long a token serves is in `asked`.

use serde_json::Value;

use crate::answering::{Facts, change, write};
use crate::chat::Chat;
use crate::check::message::Draft;
use crate::clock::wall_ms;
use crate::frames::Happening;
use crate::http::body::File;
use crate::hub::Hub;
use crate::ids::Id;
use crate::problem::{self, Problem};
use crate::shapes;

/// The message that a token's route means: `@original` or one of its follow-ups.
///
/// # Errors
/// 10015, 50027 or 10008.
pub fn meant(hub: &Hub, token: &str, which: &str) -> Result<Id, Problem> {
    let mut chat = hub.chat();
    let asked = chat.asking.with_token(token, wall_ms())?;
    let (interaction, original) = (asked.id, asked.original);
    if which == "@original" {
        return original.ok_or(problem::UNKNOWN_MESSAGE);
    }
    let id: Id = which.parse().map_err(|_| problem::UNKNOWN_MESSAGE)?;
    let message = chat.message(id).ok_or(problem::UNKNOWN_MESSAGE)?;
    let ours = message
        .cause
        .is_some_and(|cause| cause.interaction == interaction);
    if ours || original == Some(id) {
        Ok(id)
    } else {
        Err(problem::UNKNOWN_MESSAGE)
    }
}

/// Changes a message that a token's route means. Who waited for a deferred answer is told that it
/// is there.
///
/// # Errors
/// As [`meant`], and what a message may be refused for.
pub fn edit(
    hub: &Hub,
    token: &str,
    which: &str,
    draft: Draft,
    files: Vec<File>,
) -> Result<Value, Problem> {
    let id = meant(hub, token, which)?;
    let mut chat = hub.chat();
    let pending = chat.message(id).is_some_and(|m| m.loading);
    let message = change(hub, &mut chat, id, draft, files)?;
    if pending {
        settle(hub, &mut chat, token);
    }
    Ok(shapes::message(&chat, &message))
}

/// Tells the page that a deferred answer is there.
fn settle(hub: &Hub, chat: &mut Chat, token: &str) {
    if let Ok(asked) = chat.asking.with_token(token, wall_ms()) {
        let nonce = asked.nonce.clone();
        hub.happened(|| Happening::Done { nonce });
    }
}

/// A further message of an interaction. The first one after a deferral takes its place, as the
/// platform does it (from memory).
///
/// # Errors
/// 10015, 50027, and what a message may be refused for.
pub fn follow_up(hub: &Hub, token: &str, draft: Draft, files: Vec<File>) -> Result<Value, Problem> {
    let mut chat = hub.chat();
    let asked = chat.asking.with_token(token, wall_ms())?;
    let facts = Facts {
        id: asked.id,
        person: asked.person,
        channel: asked.channel,
        deed: asked.deed,
        typed: None,
        nonce: None,
    };
    let original = asked.original;
    let pending = original
        .and_then(|id| chat.message(id))
        .filter(|m| m.loading)
        .map(|m| m.id);
    let message = match pending {
        Some(id) => {
            let message = change(hub, &mut chat, id, draft, files)?;
            settle(hub, &mut chat, token);
            message
        }
        None => write(hub, &mut chat, &facts, draft, files)?,
    };
    Ok(shapes::message(&chat, &message))
}

/// Removes a message that a token's route means.
///
/// # Errors
/// 10008.
pub fn remove(hub: &Hub, id: Id) -> Result<(), Problem> {
    let mut chat = hub.chat();
    let gone = chat.delete(id)?;
    hub.removed(&chat, &gone);
    Ok(())
}
