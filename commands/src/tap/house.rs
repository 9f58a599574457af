//! Taps about the house: gaps of beds, papers, rentals.

use super::{NotOurs, join};
use crate::ids::Bed;
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "house";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum House {
    /// Something was done at once about a gap over the limit.
    Acted {
        /// The bed.
        bed: Bed,
    },
}

verbs! { House:
    Acted => "acted",
}

impl House {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            House::Acted { .. } => Right::Gaps,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            House::Acted { bed } => join(&[GROUP, "acted", bed.as_str()]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        _chosen: Option<&str>,
        _field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        Ok(match parts {
            ["acted", bed] => House::Acted { bed: (*bed).into() },
            _ => return Err(NotOurs),
        })
    }
}
