//! Taps at the bed: the checklist of a placement, settings, moves, leaves, static mode, the CPR valve.

use super::{NotOurs, join};
use crate::ids::Tag;
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "at";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Bedside {
    /// The checklist, please.
    Steps {
        /// The surface.
        tag: Tag,
    },
}

verbs! { Bedside:
    Steps => "steps",
}

impl Bedside {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Bedside::Steps { .. } => Right::Place,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Bedside::Steps { tag } => join(&[GROUP, "steps", tag.as_str()]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        _chosen: Option<&str>,
        _field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        Ok(match parts {
            ["steps", tag] => Bedside::Steps { tag: (*tag).into() },
            _ => return Err(NotOurs),
        })
    }
}
