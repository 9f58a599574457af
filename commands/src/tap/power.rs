//! Taps in a power failure, and about what comes after it.

use super::{NotOurs, join};
use crate::choice::Roll;
use crate::ids::{Bed, OutageNo, Tag, Unit};
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
    /// This is how a surface stands.
    Seen {
        /// The power failure.
        outage: OutageNo,
        /// Which of its rolls asked, from 1.
        roll: u32,
        /// The surface.
        tag: Tag,
        /// How it stands.
        how: Roll,
    },
    /// Power is back.
    Back {
        /// The power failure.
        outage: OutageNo,
    },
    /// The form with readings from paper.
    Catchup {
        /// The unit that they are from, where somebody named one.
        unit: Option<Unit>,
        /// One reading a line, as typed.
        text: String,
    },
    /// A surface that was found for an admission goes under this bed.
    Place {
        /// The surface.
        tag: Tag,
        /// The bed.
        bed: Bed,
    },
}

verbs! { Power:
    Take => "take",
    Seen => "seen",
    Back => "back",
    Catchup => "paper",
    Place => "place",
}

impl Power {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Power::Take { .. } | Power::Seen { .. } | Power::Back { .. } => Right::AnswerAlarm,
            Power::Catchup { .. } => Right::Check,
            Power::Place { .. } => Right::Place,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Power::Take { outage } => join(&[GROUP, "take", &outage.to_string()]),
            Power::Seen {
                outage,
                roll,
                tag,
                how,
            } => join(&[
                GROUP,
                "seen",
                &outage.to_string(),
                &roll.to_string(),
                tag.as_str(),
                how.as_str(),
            ]),
            Power::Back { outage } => join(&[GROUP, "back", &outage.to_string()]),
            Power::Catchup { unit, .. } => {
                join(&[GROUP, "paper", unit.as_ref().map_or("", Unit::as_str)])
            }
            Power::Place { tag, bed } => join(&[GROUP, "place", tag.as_str(), bed.as_str()]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        _chosen: Option<&str>,
        field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let outage = |text: &str| text.parse().map(OutageNo).map_err(|_| NotOurs);
        Ok(match parts {
            ["take", no] => Power::Take {
                outage: outage(no)?,
            },
            ["seen", no, roll, tag, how] => Power::Seen {
                outage: outage(no)?,
                roll: roll.parse().map_err(|_| NotOurs)?,
                tag: (*tag).into(),
                how: Roll::from_text(how).ok_or(NotOurs)?,
            },
            ["back", no] => Power::Back {
                outage: outage(no)?,
            },
            ["paper", unit] => Power::Catchup {
                unit: (!unit.is_empty()).then(|| (*unit).into()),
                text: field("lines").unwrap_or_default().to_owned(),
            },
            ["place", tag, bed] => Power::Place {
                tag: (*tag).into(),
                bed: (*bed).into(),
            },
            _ => return Err(NotOurs),
        })
    }
}
