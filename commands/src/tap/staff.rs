//! Taps about staff: who is let in, what they have read, who is signed off, and looking a second time.

use super::{NotOurs, join};
use crate::choice::{Stand, Task};
use crate::ids::{Person, RecordNo, Tag, Unit};
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "staff";

/// The identifier of the menu whose values are the numbers of sign-offs that can be ended.
pub(crate) const END_SIGN_OFF_MENU: &str = "staff|unsign|menu";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Staff {
    /// I have read what somebody new must know.
    Read {
        /// What they had typed before, to go on with.
        then: Option<String>,
    },
    /// What had been typed before that, as a line; it is read and judged as if it were typed now.
    Go {
        /// The line.
        line: String,
    },
    /// Somebody who is of the home already is let in all the same.
    LetIn {
        /// Who.
        person: Person,
        /// As what.
        stand: Stand,
        /// Until when, in minutes since 1970.
        until: i64,
        /// The unit they are told to go to.
        unit: Option<Unit>,
    },
    /// Whoever was let in by this record is out from now on.
    Out {
        /// The record that let them in.
        no: RecordNo,
    },
    /// This sign-off ends now.
    EndSignOff {
        /// Its record.
        no: RecordNo,
    },
    /// Another page of all sign-offs.
    SignOffs {
        /// How many were shown before.
        skip: u32,
    },
    /// I looked, it is right.
    Looked {
        /// The surface.
        tag: Tag,
        /// What was done.
        task: Task,
        /// The entry that was looked at.
        entry: RecordNo,
    },
}

verbs! { Staff:
    Read => "read",
    Go => "go",
    LetIn => "let-in",
    Out => "out",
    EndSignOff => "unsign",
    SignOffs => "sign-offs",
    Looked => "looked",
}

/// The longest line that a tap can carry, in bytes.
pub(crate) const LINE_BYTES_MAX: usize = crate::message::TAP_ID_MAX - "staff|read|".len();

impl Staff {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            // A line has the right of its command, which is asked about when it is read.
            Staff::Read { .. } | Staff::Go { .. } => Right::Read,
            Staff::LetIn { .. }
            | Staff::Out { .. }
            | Staff::EndSignOff { .. }
            | Staff::SignOffs { .. } => Right::Supervise,
            Staff::Looked { .. } => Right::LookAgain,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Staff::Read { then: None } => join(&[GROUP, "read"]),
            Staff::Read { then: Some(line) } => join(&[GROUP, "read", line]),
            Staff::Go { line } => join(&[GROUP, "go", line]),
            Staff::LetIn {
                person,
                stand,
                until,
                unit,
            } => join(&[
                GROUP,
                "let-in",
                &person.to_string(),
                stand.as_str(),
                &until.to_string(),
                unit.as_ref().map_or("", Unit::as_str),
            ]),
            Staff::Out { no } => join(&[GROUP, "out", &no.to_string()]),
            Staff::EndSignOff { no } => join(&[GROUP, "unsign", &no.to_string()]),
            Staff::SignOffs { skip } => join(&[GROUP, "sign-offs", &skip.to_string()]),
            Staff::Looked { tag, task, entry } => join(&[
                GROUP,
                "looked",
                tag.as_str(),
                task.as_str(),
                &entry.to_string(),
            ]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read(parts: &[&str], chosen: Option<&str>) -> Result<Self, NotOurs> {
        let number = |text: &str| text.parse().map(RecordNo).map_err(|_| NotOurs);
        Ok(match parts {
            ["read"] => Staff::Read { then: None },
            ["read", line] => Staff::Read {
                then: Some((*line).to_owned()),
            },
            ["go", line] => Staff::Go {
                line: (*line).to_owned(),
            },
            ["let-in", person, stand, until, unit] => Staff::LetIn {
                person: person.parse().map(Person).map_err(|_| NotOurs)?,
                stand: Stand::from_text(stand).ok_or(NotOurs)?,
                until: until.parse().map_err(|_| NotOurs)?,
                unit: Some(*unit).filter(|unit| !unit.is_empty()).map(Unit::from),
            },
            ["out", no] => Staff::Out { no: number(no)? },
            ["unsign", "menu"] => Staff::EndSignOff {
                no: number(chosen.ok_or(NotOurs)?)?,
            },
            ["unsign", no] => Staff::EndSignOff { no: number(no)? },
            ["sign-offs", skip] => Staff::SignOffs {
                skip: skip.parse().map_err(|_| NotOurs)?,
            },
            ["looked", tag, task, entry] => Staff::Looked {
                tag: (*tag).into(),
                task: Task::from_text(task).ok_or(NotOurs)?,
                entry: number(entry)?,
            },
            _ => return Err(NotOurs),
        })
    }
}
