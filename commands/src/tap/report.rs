//! Taps under the answer to `/report`: how its figures were worked out, and the same by unit and shift.

use chrono::NaiveDate;

use super::{NotOurs, join};
use crate::request::Right;
use crate::rules::period::{Period, day};

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "report";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Report {
    /// How the figures were worked out.
    Why {
        /// Of which days.
        of: Period,
    },
    /// The figures by unit and shift.
    Parts {
        /// Of which days.
        of: Period,
    },
}

verbs! { Report:
    Why => "why",
    Parts => "parts",
}

impl Report {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Report::Why { .. } | Report::Parts { .. } => Right::ReadEvidence,
        }
    }

    pub(super) fn id(&self) -> String {
        let (Report::Why { of } | Report::Parts { of }) = self;
        join(&[
            GROUP,
            self.verb(),
            &of.first.to_string(),
            &of.last.to_string(),
        ])
    }

    /// Reads what follows the group's word.
    pub(super) fn read(parts: &[&str]) -> Result<Self, NotOurs> {
        let [verb, first, last] = parts else {
            return Err(NotOurs);
        };
        let day = |text: &str| -> Result<NaiveDate, NotOurs> { day(text).ok_or(NotOurs) };
        let of = Period {
            first: day(first)?,
            last: day(last)?,
        };
        match *verb {
            "why" => Ok(Report::Why { of }),
            "parts" => Ok(Report::Parts { of }),
            _ => Err(NotOurs),
        }
    }
}
