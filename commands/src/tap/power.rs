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
    /// This one later: ask about the next.
    Later {
        /// The power failure.
        outage: OutageNo,
        /// Which of its rolls asked, from 1.
        roll: u32,
        /// The surface that waits.
        tag: Tag,
    },
    /// What I said of it was a mistake: ask again.
    Again {
        /// The power failure.
        outage: OutageNo,
        /// Which of its rolls asked, from 1.
        roll: u32,
        /// The surface.
        tag: Tag,
    },
    /// This is how it stands, and not as I said before.
    Mended {
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
    /// Which beds are they under? Posts do not say before the home has approved that.
    Beds {
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
    Later => "later",
    Again => "again",
    Mended => "mended",
    Back => "back",
    Beds => "beds",
    Catchup => "paper",
    Place => "place",
}

impl Power {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Power::Take { .. }
            | Power::Seen { .. }
            | Power::Later { .. }
            | Power::Again { .. }
            | Power::Mended { .. }
            | Power::Back { .. } => Right::CallRoll,
            Power::Beds { .. } => Right::Read,
            Power::Catchup { .. } => Right::Check,
            Power::Place { .. } => Right::Place,
        }
    }

    pub(super) fn id(&self) -> String {
        let of = |word: &str, outage: &OutageNo, roll: &u32, tag: &Tag| {
            let (outage, roll) = (outage.to_string(), roll.to_string());
            join(&[GROUP, word, &outage, &roll, tag.as_str()])
        };
        match self {
            Power::Take { outage } => join(&[GROUP, "take", &outage.to_string()]),
            Power::Seen {
                outage,
                roll,
                tag,
                how,
            } => join(&[&of("seen", outage, roll, tag), how.as_str()]),
            Power::Later { outage, roll, tag } => of("later", outage, roll, tag),
            Power::Again { outage, roll, tag } => of("again", outage, roll, tag),
            Power::Mended {
                outage,
                roll,
                tag,
                how,
            } => join(&[&of("mended", outage, roll, tag), how.as_str()]),
            Power::Back { outage } => join(&[GROUP, "back", &outage.to_string()]),
            Power::Beds { outage } => join(&[GROUP, "beds", &outage.to_string()]),
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
        let roll = |text: &str| text.parse::<u32>().map_err(|_| NotOurs);
        Ok(match parts {
            ["take", no] => Power::Take {
                outage: outage(no)?,
            },
            ["seen", no, of, tag, how] => Power::Seen {
                outage: outage(no)?,
                roll: roll(of)?,
                tag: (*tag).into(),
                how: Roll::from_text(how).ok_or(NotOurs)?,
            },
            ["later", no, of, tag] => Power::Later {
                outage: outage(no)?,
                roll: roll(of)?,
                tag: (*tag).into(),
            },
            ["again", no, of, tag] => Power::Again {
                outage: outage(no)?,
                roll: roll(of)?,
                tag: (*tag).into(),
            },
            ["mended", no, of, tag, how] => Power::Mended {
                outage: outage(no)?,
                roll: roll(of)?,
                tag: (*tag).into(),
                how: Roll::from_text(how).ok_or(NotOurs)?,
            },
            ["back", no] => Power::Back {
                outage: outage(no)?,
            },
            ["beds", no] => Power::Beds {
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
