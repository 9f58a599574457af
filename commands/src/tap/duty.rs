//! Taps about who has a unit and what is handed over.

use super::{NotOurs, join};
use crate::ids::{HandoverNo, RecordNo, Unit};
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "duty";

/// The identifier of the menu whose values are the records by which others have a unit.
pub(crate) const RELIEVE_MENU: &str = "duty|relieve|menu";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Duty {
    /// I have it until then.
    Have {
        /// The unit; the whole house if none.
        unit: Option<Unit>,
        /// Until when, in minutes since 1970.
        until: i64,
    },
    /// I have it no longer.
    End {
        /// The record by which it was taken.
        no: RecordNo,
    },
    /// Somebody else has it no longer.
    Relieve {
        /// The record by which it was taken.
        no: RecordNo,
    },
    /// The next shift accepts a handover.
    Accept {
        /// Which.
        handover: HandoverNo,
    },
    /// What did not fit into a handover.
    Rest {
        /// The unit; all of them if none.
        unit: Option<Unit>,
        /// When the shift that hands over began, in minutes since 1970.
        shift: i64,
        /// Which message of it, from 0.
        part: u16,
    },
}

verbs! { Duty:
    Have => "have",
    End => "end",
    Relieve => "relieve",
    Accept => "accept",
    Rest => "rest",
}

impl Duty {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Duty::Have { .. } | Duty::End { .. } => Right::Duty,
            Duty::Relieve { .. } => Right::Supervise,
            Duty::Accept { .. } => Right::HandOver,
            Duty::Rest { .. } => Right::Check,
        }
    }

    pub(super) fn id(&self) -> String {
        let of = |word: &str, unit: &Option<Unit>, minutes: &i64| {
            let unit = unit.as_ref().map_or("", Unit::as_str);
            join(&[GROUP, word, unit, &minutes.to_string()])
        };
        match self {
            Duty::Have { unit, until } => of("have", unit, until),
            Duty::End { no } => join(&[GROUP, "end", &no.to_string()]),
            Duty::Relieve { no } => join(&[GROUP, "relieve", &no.to_string()]),
            Duty::Accept { handover } => join(&[GROUP, "accept", &handover.to_string()]),
            // As it was written before there were parts.
            Duty::Rest {
                unit,
                shift,
                part: 0,
            } => of("rest", unit, shift),
            Duty::Rest { unit, shift, part } => {
                join(&[&of("rest", unit, shift), &part.to_string()])
            }
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read(parts: &[&str], chosen: Option<&str>) -> Result<Self, NotOurs> {
        let unit = |unit: &str| (!unit.is_empty()).then(|| Unit::from(unit));
        let number = |text: &str| text.parse().map(RecordNo).map_err(|_| NotOurs);
        let minutes = |text: &str| text.parse::<i64>().map_err(|_| NotOurs);
        Ok(match parts {
            ["have", of, until] => Duty::Have {
                unit: unit(of),
                until: minutes(until)?,
            },
            ["end", no] => Duty::End { no: number(no)? },
            ["relieve", "menu"] => Duty::Relieve {
                no: number(chosen.ok_or(NotOurs)?)?,
            },
            ["relieve", no] => Duty::Relieve { no: number(no)? },
            ["accept", no] => Duty::Accept {
                handover: no.parse().map(HandoverNo).map_err(|_| NotOurs)?,
            },
            ["rest", of, shift] => Duty::Rest {
                unit: unit(of),
                shift: minutes(shift)?,
                part: 0,
            },
            ["rest", of, shift, part] => Duty::Rest {
                unit: unit(of),
                shift: minutes(shift)?,
                part: part.parse().map_err(|_| NotOurs)?,
            },
            _ => return Err(NotOurs),
        })
    }
}
