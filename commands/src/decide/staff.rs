//! Staff: the taps about it, and what follows from anybody's entry besides what its own rule says. Decides only which
//! part that is: who is let in is `agency`'s, what they read first `primer`'s, who may what on which surface
//! `sign_off`'s, looking again `second_check`'s, the pace of a round `pace`'s.

use super::draft::Asked;
use super::{agency, pace, primer, second_check, sign_off};
use crate::decision::Decision;
use crate::message::{Answer, Message, TEXT_CHARS_MAX};
use crate::refusal::Refusal;
use crate::tap::Staff;

/// A tap about staff.
pub(super) fn tapped(asked: &Asked<'_>, tap: Staff) -> Result<Decision, Refusal> {
    match tap {
        Staff::Read { then } => primer::read(asked, then.as_deref()),
        // A line that is a command has become one before.
        Staff::Go { .. } => Err(Refusal::new("fault-stale-tap")),
        Staff::LetIn {
            person,
            stand,
            until,
            unit,
        } => agency::let_in_sure(asked, person, stand, until, unit.as_ref()),
        Staff::Out { no } => agency::out(asked, no),
        Staff::SignOffs { skip } => Ok(sign_off::all(asked, skip)),
        Staff::EndSignOff { no } => sign_off::end(asked, no),
        Staff::Looked { tag, task, entry } => second_check::looked(asked, &tag, task, entry),
    }
}

/// What follows from what somebody entered, whatever command or tap it came by.
pub(super) fn after(asked: &Asked<'_>, decision: &mut Decision) {
    if decision.entries.is_empty() {
        return;
    }
    second_check::watch(asked, decision);
    pace::watch(asked, decision);
}

/// The message that the asker gets for themselves, if there is one.
pub(super) fn own_message(decision: &mut Decision) -> Option<&mut Message> {
    match decision.answer.as_mut()? {
        Answer::Private(message) | Answer::Replace(message) => Some(message),
        Answer::Shared(_) | Answer::Form(_) | Answer::Choices(_) | Answer::Fetch(_) => None,
    }
}

/// Adds a line to what is said about an entry: before the next bed of a round is asked for, else at the end.
pub(super) fn add_line(message: &mut Message, line: &str) {
    if message.text.chars().count() + line.chars().count() >= TEXT_CHARS_MAX {
        return;
    }
    match message.text.split_once("\n\n") {
        Some((said, rest)) => message.text = format!("{said}\n{line}\n\n{rest}"),
        None => message.text = format!("{}\n{line}", message.text),
    }
}
