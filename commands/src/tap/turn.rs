//! Taps in a turnover and out of service: its steps, repair, holds, recalls.

use chrono::NaiveDate;

use super::{NotOurs, join};
use crate::choice::Outcome;
use crate::ids::{RecordNo, Tag};
use crate::record::Fault;
use crate::request::Right;
use crate::rules::turnover::Inspection;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "turn";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Turn {
    /// The contact time is over, it was rinsed and it is dry.
    Dried {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
    },
    /// The inspection.
    Inspected {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
        /// What it found.
        found: Inspection,
    },
    /// Control unit, hoses, cord and straps are clean and whole.
    PartsWhole {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
    },
    /// One of them is damaged: ask which.
    PartDamaged {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
    },
    /// This one is damaged.
    PartFault {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
        /// Which.
        fault: Fault,
    },
    /// The test run gave an alarm, or it did not fill.
    NotRunning {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
    },
    /// It was repaired, or looked through and found whole.
    Repaired {
        /// The surface.
        tag: Tag,
    },
    /// The same, with a note: the form, please.
    RepairNote {
        /// The surface.
        tag: Tag,
    },
    /// The form with the note.
    RepairNoted {
        /// The surface.
        tag: Tag,
        /// Free text.
        note: Option<String>,
    },
    /// The safety test after the repair.
    Tested {
        /// The surface.
        tag: Tag,
        /// How it came out.
        outcome: Outcome,
    },
    /// The injury was reported to those who must know.
    Reported {
        /// The surface.
        tag: Tag,
        /// The record of its hold.
        hold: RecordNo,
    },
    /// The hold is to end: ask once more.
    LetGo {
        /// The surface.
        tag: Tag,
        /// The record of its hold.
        hold: RecordNo,
    },
    /// Yes, the hold ends.
    LetGoSure {
        /// The surface.
        tag: Tag,
        /// The record of its hold.
        hold: RecordNo,
    },
    /// Yes, hold it: the injury was known on that day, however long ago that is.
    HoldSure {
        /// The surface.
        tag: Tag,
        /// The day on which somebody of the home first knew.
        known: NaiveDate,
    },
    /// Pull all that a recall found. The profile, and the lot, are those of this surface.
    RecallAll {
        /// One of them.
        tag: Tag,
        /// Only its lot, or every lot.
        lot: bool,
        /// Which were found, as [`crate::decide`] sums them up: if there are others by now, it is asked again.
        found: u32,
    },
}

/// When a turnover began, in minutes since 1970: a card of an earlier one is not taken for this one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Began(pub i64);

verbs! { Turn:
    Dried => "dried",
    Inspected => "looked",
    PartsWhole => "parts",
    PartDamaged => "part",
    PartFault => "which",
    NotRunning => "fails",
    Repaired => "repaired",
    RepairNote => "note",
    RepairNoted => "noted",
    Tested => "tested",
    Reported => "reported",
    LetGo => "letgo",
    LetGoSure => "letgosure",
    HoldSure => "holdsure",
    RecallAll => "recall",
}

impl Turn {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Turn::Dried { .. }
            | Turn::Inspected { .. }
            | Turn::PartsWhole { .. }
            | Turn::PartDamaged { .. }
            | Turn::PartFault { .. }
            | Turn::NotRunning { .. } => Right::Upkeep,
            Turn::Repaired { .. }
            | Turn::RepairNote { .. }
            | Turn::RepairNoted { .. }
            | Turn::Tested { .. } => Right::Maintain,
            Turn::Reported { .. }
            | Turn::LetGo { .. }
            | Turn::LetGoSure { .. }
            | Turn::HoldSure { .. }
            | Turn::RecallAll { .. } => Right::Supervise,
        }
    }

    pub(super) fn id(&self) -> String {
        let step = |word: &str, tag: &Tag, of: &Began| {
            join(&[GROUP, word, tag.as_str(), &of.0.to_string()])
        };
        let hold = |word: &str, tag: &Tag, hold: &RecordNo| {
            join(&[GROUP, word, tag.as_str(), &hold.to_string()])
        };
        match self {
            Turn::Dried { tag, of } => step("dried", tag, of),
            Turn::Inspected { tag, of, found } => join(&[
                GROUP,
                "looked",
                tag.as_str(),
                &of.0.to_string(),
                found.as_str(),
            ]),
            Turn::PartsWhole { tag, of } => step("parts", tag, of),
            Turn::PartDamaged { tag, of } => step("part", tag, of),
            Turn::PartFault { tag, of, .. } => step("which", tag, of),
            Turn::NotRunning { tag, of } => step("fails", tag, of),
            Turn::Repaired { tag } => join(&[GROUP, "repaired", tag.as_str()]),
            Turn::RepairNote { tag } => join(&[GROUP, "note", tag.as_str()]),
            Turn::RepairNoted { tag, .. } => join(&[GROUP, "noted", tag.as_str()]),
            Turn::Tested { tag, outcome } => {
                join(&[GROUP, "tested", tag.as_str(), outcome.as_str()])
            }
            Turn::Reported { tag, hold: no } => hold("reported", tag, no),
            Turn::LetGo { tag, hold: no } => hold("letgo", tag, no),
            Turn::LetGoSure { tag, hold: no } => hold("letgosure", tag, no),
            Turn::HoldSure { tag, known } => {
                join(&[GROUP, "holdsure", tag.as_str(), &known.to_string()])
            }
            Turn::RecallAll { tag, lot, found } => join(&[
                GROUP,
                "recall",
                tag.as_str(),
                if *lot { "lot" } else { "all" },
                &found.to_string(),
            ]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        chosen: Option<&str>,
        field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let of = |text: &str| text.parse().map(Began).map_err(|_| NotOurs);
        let no = |text: &str| text.parse().map(RecordNo).map_err(|_| NotOurs);
        Ok(match parts {
            ["dried", tag, began] => Turn::Dried {
                tag: (*tag).into(),
                of: of(began)?,
            },
            ["looked", tag, began, found] => Turn::Inspected {
                tag: (*tag).into(),
                of: of(began)?,
                found: Inspection::from_text(found).ok_or(NotOurs)?,
            },
            ["parts", tag, began] => Turn::PartsWhole {
                tag: (*tag).into(),
                of: of(began)?,
            },
            ["part", tag, began] => Turn::PartDamaged {
                tag: (*tag).into(),
                of: of(began)?,
            },
            ["which", tag, began] => Turn::PartFault {
                tag: (*tag).into(),
                of: of(began)?,
                fault: chosen
                    .and_then(Fault::from_text)
                    .filter(|fault| PART_FAULTS.contains(fault))
                    .ok_or(NotOurs)?,
            },
            ["fails", tag, began] => Turn::NotRunning {
                tag: (*tag).into(),
                of: of(began)?,
            },
            ["repaired", tag] => Turn::Repaired { tag: (*tag).into() },
            ["note", tag] => Turn::RepairNote { tag: (*tag).into() },
            ["noted", tag] => Turn::RepairNoted {
                tag: (*tag).into(),
                note: field("note")
                    .map(str::trim)
                    .filter(|note| !note.is_empty())
                    .map(str::to_owned),
            },
            ["tested", tag, outcome] => Turn::Tested {
                tag: (*tag).into(),
                outcome: Outcome::from_text(outcome).ok_or(NotOurs)?,
            },
            ["reported", tag, hold] => Turn::Reported {
                tag: (*tag).into(),
                hold: no(hold)?,
            },
            ["letgo", tag, hold] => Turn::LetGo {
                tag: (*tag).into(),
                hold: no(hold)?,
            },
            ["holdsure", tag, known] => Turn::HoldSure {
                tag: (*tag).into(),
                known: crate::rules::period::day(known).ok_or(NotOurs)?,
            },
            ["letgosure", tag, hold] => Turn::LetGoSure {
                tag: (*tag).into(),
                hold: no(hold)?,
            },
            ["recall", tag, which, found] => Turn::RecallAll {
                tag: (*tag).into(),
                lot: match *which {
                    "lot" => true,
                    "all" => false,
                    _ => return Err(NotOurs),
                },
                found: found.parse().map_err(|_| NotOurs)?,
            },
            _ => return Err(NotOurs),
        })
    }
}

/// The parts that a look at them can find damaged.
pub(crate) const PART_FAULTS: [Fault; 5] = [
    Fault::ControlUnit,
    Fault::Cord,
    Fault::Hose,
    Fault::CprValve,
    Fault::Other,
];
