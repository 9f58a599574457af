//! Taps about staff: who is let in, what they have read, who is signed off, and looking a second time.

use super::{NotOurs, join};
use crate::choice::Task;
use crate::ids::{RecordNo, Tag};
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "staff";

/// The identifier of the menu whose values are the numbers of sign-offs that can be ended.
pub(crate) const END_SIGN_OFF_MENU: &str = "staff|unsign|menu";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Staff {
    /// I have read what somebody new must know.
    Read,
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
    Out => "out",
    EndSignOff => "unsign",
    SignOffs => "sign-offs",
    Looked => "looked",
}

impl Staff {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Staff::Read => Right::Read,
            Staff::Out { .. } | Staff::EndSignOff { .. } | Staff::SignOffs { .. } => {
                Right::Supervise
            }
            Staff::Looked { .. } => Right::LookAgain,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Staff::Read => join(&[GROUP, "read"]),
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
            ["read"] => Staff::Read,
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
