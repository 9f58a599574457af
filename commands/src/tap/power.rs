//! Taps in a power failure, and about what comes after it.

use super::{NotOurs, join};
use crate::ids::OutageNo;
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "power";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Power {
    /// I call the roll.
    Take {
        /// The power failure.
        outage: OutageNo,
    },
}

verbs! { Power:
    Take => "take",
}

impl Power {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Power::Take { .. } => Right::AnswerAlarm,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Power::Take { outage } => join(&[GROUP, "take", &outage.to_string()]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        _chosen: Option<&str>,
        _field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        Ok(match parts {
            ["take", outage] => Power::Take {
                outage: outage.parse().map(OutageNo).map_err(|_| NotOurs)?,
            },
            _ => return Err(NotOurs),
        })
    }
}
