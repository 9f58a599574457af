//! Taps in a turnover and out of service: its steps, repair, holds, recalls.

use super::{NotOurs, join};
use crate::ids::Tag;
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "turn";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Turn {
    /// It was repaired, or looked through and found whole.
    Repaired {
        /// The surface.
        tag: Tag,
    },
}

verbs! { Turn:
    Repaired => "repaired",
}

impl Turn {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Turn::Repaired { .. } => Right::Maintain,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Turn::Repaired { tag } => join(&[GROUP, "repaired", tag.as_str()]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        _chosen: Option<&str>,
        _field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        Ok(match parts {
            ["repaired", tag] => Turn::Repaired { tag: (*tag).into() },
            _ => return Err(NotOurs),
        })
    }
}
