//! Taps about what is in the log: the pages of a timeline, its corrections, one entry, its pictures, a supervisor's
//! signature.

use super::{NotOurs, join};
use crate::ids::{Bed, RecordNo, Tag};
use crate::request::Right;
use crate::rules::air::Tenths;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "entry";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// Another page of a timeline.
    Page {
        /// Of what.
        line: Line,
        /// The newest record when it was first shown: pages do not shift under whoever reads.
        upto: RecordNo,
        /// How many newer lines come before it.
        skip: u32,
    },
    /// What was corrected on a timeline.
    Corrections {
        /// Of what.
        line: Line,
    },
    /// One entry, chosen from a menu.
    Look {
        /// Its number.
        entry: RecordNo,
    },
    /// A surface's readings, drawn.
    Readings {
        /// The surface.
        tag: Tag,
    },
    /// How an alarm of a surface went, drawn.
    Alarm {
        /// The surface.
        tag: Tag,
        /// The record that opened it; nothing for the last one.
        of: Option<RecordNo>,
    },
    /// A supervisor signs an entry.
    Sign {
        /// Its number.
        entry: RecordNo,
        /// The newest record about it that was shown.
        seen: RecordNo,
    },
    /// Erase a note: are you sure?
    Erase {
        /// The entry that it is of, or about.
        entry: RecordNo,
        /// The record beside which it stands.
        of: RecordNo,
    },
    /// Yes, erase it.
    EraseSure {
        /// The entry that it is of, or about.
        entry: RecordNo,
        /// The record beside which it stands.
        of: RecordNo,
    },
    /// The reading that stands in a reason is what the entry should have read.
    Meant {
        /// The remark with that reason.
        remark: RecordNo,
        /// The entry.
        entry: RecordNo,
        /// The reading.
        air: Tenths,
    },
    /// Somebody takes their own remark back.
    Unremark {
        /// The remark.
        remark: RecordNo,
        /// The entry that it is on.
        entry: RecordNo,
    },
}

/// What a timeline is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Line {
    /// A surface.
    Surface(Tag),
    /// A bed.
    Bed(Bed),
}

verbs! { Entry:
    Page => "page",
    Corrections => "corrections",
    Look => "look",
    Readings => "readings",
    Alarm => "alarm",
    Sign => "sign",
    Erase => "erase",
    EraseSure => "erasesure",
    Meant => "meant",
    Unremark => "unremark",
}

impl Entry {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Entry::Page { .. }
            | Entry::Corrections { .. }
            | Entry::Look { .. }
            | Entry::Readings { .. }
            | Entry::Alarm { .. } => Right::Read,
            Entry::Sign { .. } | Entry::Erase { .. } | Entry::EraseSure { .. } => {
                Right::Countersign
            }
            Entry::Meant { .. } | Entry::Unremark { .. } => Right::Amend,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Entry::Page { line, upto, skip } => {
                let (kind, name) = line.words();
                let (upto, skip) = (upto.to_string(), skip.to_string());
                join(&[GROUP, "page", kind, name, &upto, &skip])
            }
            Entry::Corrections { line } => {
                let (kind, name) = line.words();
                join(&[GROUP, "corrections", kind, name])
            }
            Entry::Look { .. } => join(&[GROUP, "look"]),
            Entry::Readings { tag } => join(&[GROUP, "readings", tag.as_str()]),
            Entry::Alarm { tag, of: None } => join(&[GROUP, "alarm", tag.as_str()]),
            Entry::Alarm { tag, of: Some(of) } => {
                join(&[GROUP, "alarm", tag.as_str(), &of.to_string()])
            }
            Entry::Meant { remark, entry, air } => join(&[
                GROUP,
                "meant",
                &remark.to_string(),
                &entry.to_string(),
                &air.0.to_string(),
            ]),
            Entry::Unremark { remark, entry } => {
                join(&[GROUP, "unremark", &remark.to_string(), &entry.to_string()])
            }
            Entry::Erase { entry, of } => {
                join(&[GROUP, "erase", &entry.to_string(), &of.to_string()])
            }
            Entry::EraseSure { entry, of } => {
                join(&[GROUP, "erasesure", &entry.to_string(), &of.to_string()])
            }
            Entry::Sign { entry, seen } => {
                join(&[GROUP, "sign", &entry.to_string(), &seen.to_string()])
            }
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        chosen: Option<&str>,
        _field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let number = |text: &str| text.parse().map(RecordNo).map_err(|_| NotOurs);
        Ok(match parts {
            ["page", kind, name, upto, skip] => Entry::Page {
                line: Line::read(kind, name)?,
                upto: number(upto)?,
                skip: skip.parse().map_err(|_| NotOurs)?,
            },
            ["corrections", kind, name] => Entry::Corrections {
                line: Line::read(kind, name)?,
            },
            ["look"] => Entry::Look {
                entry: number(chosen.ok_or(NotOurs)?)?,
            },
            ["readings", tag] => Entry::Readings { tag: (*tag).into() },
            ["alarm", tag] => Entry::Alarm {
                tag: (*tag).into(),
                of: None,
            },
            ["alarm", tag, of] => Entry::Alarm {
                tag: (*tag).into(),
                of: Some(number(of)?),
            },
            ["meant", remark, entry, air] => Entry::Meant {
                remark: number(remark)?,
                entry: number(entry)?,
                air: air.parse().map(Tenths).map_err(|_| NotOurs)?,
            },
            ["unremark", remark, entry] => Entry::Unremark {
                remark: number(remark)?,
                entry: number(entry)?,
            },
            ["erase", entry, of] => Entry::Erase {
                entry: number(entry)?,
                of: number(of)?,
            },
            ["erasesure", entry, of] => Entry::EraseSure {
                entry: number(entry)?,
                of: number(of)?,
            },
            ["sign", entry, seen] => Entry::Sign {
                entry: number(entry)?,
                seen: number(seen)?,
            },
            _ => return Err(NotOurs),
        })
    }
}

impl Line {
    fn words(&self) -> (&'static str, &str) {
        match self {
            Line::Surface(tag) => ("s", tag.as_str()),
            Line::Bed(bed) => ("b", bed.as_str()),
        }
    }

    fn read(kind: &str, name: &str) -> Result<Self, NotOurs> {
        match kind {
            "s" => Ok(Line::Surface(name.into())),
            "b" => Ok(Line::Bed(name.into())),
            _ => Err(NotOurs),
        }
    }
}
