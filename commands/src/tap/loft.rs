//! Taps about a surface whose readings trend lower: why it is named, what was found, and whether its control unit reads as
//! it usually does. Leaves what they do to `decide::loft`.

use super::{NotOurs, join};
use crate::choice::{Cause, LoftAnswer};
use crate::ids::Tag;
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "loft";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Loft {
    /// The figures behind "trending lower".
    Why {
        /// The surface.
        tag: Tag,
    },
    /// How its readings stand against the usual of its control unit, over all its beds.
    Usual {
        /// The surface.
        tag: Tag,
    },
    /// What is to become of it.
    Answer {
        /// The surface.
        tag: Tag,
        /// When the line began that was shown, in seconds since 1970.
        since: i64,
        /// What was found, or that it waits.
        answer: LoftAnswer,
    },
    /// It was mended, and this is what was found.
    Found {
        /// The surface.
        tag: Tag,
        /// When the line began that was shown, in seconds since 1970.
        since: i64,
        /// What it was.
        cause: Cause,
    },
    /// Something was found that cannot be mended at the bed.
    Pull {
        /// The surface.
        tag: Tag,
        /// When the line began that was shown, in seconds since 1970.
        since: i64,
    },
}

verbs! { Loft:
    Why => "why",
    Usual => "usual",
    Answer => "answer",
    Found => "found",
    Pull => "pull",
}

impl Loft {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Loft::Why { .. } | Loft::Usual { .. } => Right::Read,
            Loft::Answer { .. } | Loft::Found { .. } => Right::Maintain,
            Loft::Pull { .. } => Right::Pull,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Loft::Why { tag } => join(&[GROUP, "why", tag.as_str()]),
            Loft::Usual { tag } => join(&[GROUP, "usual", tag.as_str()]),
            Loft::Answer { tag, since, answer } => join(&[
                GROUP,
                "answer",
                tag.as_str(),
                &since.to_string(),
                answer.as_str(),
            ]),
            // A menu brings what it was.
            Loft::Found { tag, since, .. } => {
                join(&[GROUP, "found", tag.as_str(), &since.to_string()])
            }
            Loft::Pull { tag, since } => join(&[GROUP, "pull", tag.as_str(), &since.to_string()]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read(parts: &[&str], chosen: Option<&str>) -> Result<Self, NotOurs> {
        let seconds = |text: &str| text.parse().map_err(|_| NotOurs);
        Ok(match parts {
            ["why", tag] => Loft::Why { tag: (*tag).into() },
            ["usual", tag] => Loft::Usual { tag: (*tag).into() },
            ["answer", tag, since, answer] => Loft::Answer {
                tag: (*tag).into(),
                since: seconds(since)?,
                answer: LoftAnswer::from_text(answer).ok_or(NotOurs)?,
            },
            ["found", tag, since] => Loft::Found {
                tag: (*tag).into(),
                since: seconds(since)?,
                cause: chosen.and_then(Cause::from_text).ok_or(NotOurs)?,
            },
            ["pull", tag, since] => Loft::Pull {
                tag: (*tag).into(),
                since: seconds(since)?,
            },
            _ => return Err(NotOurs),
        })
    }
}
