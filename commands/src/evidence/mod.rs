//! What the log shows of a period: which checks were due and made, what became of alarms, low readings, placements,
//! turnovers and surfaces out of service.
//!
//! Decides the facts and figures of a period from its entries as they stand, corrected and taken back ones included.
//! Leaves the days that are meant to `rules::period`, every sentence to whoever shows them, and people out: no figure here
//! is of anybody.
//!
//! The state keeps no history, and the fold cannot be asked how things stood at a moment of the past once an entry was made
//! late or corrected: it takes records in the order of their numbers. So what was due is worked out from the corrected
//! entries in the order in which they happened.

#![expect(
    clippy::wildcard_enum_match_arm,
    reason = "most kinds of record say nothing of what is looked for"
)]

mod alarms;
mod changes;
mod coverage;
mod places;
mod settings;
mod stories;
mod turnovers;

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveTime, Utc};

pub use alarms::{AlarmStory, Figures, figures};
pub use changes::{Change, Changed};
pub use coverage::{Coverage, Missed, Missing, Rechecks, Tally};
pub use places::{Place, Stretches};
pub use settings::Settings;
pub use stories::{Followed, HoldStory, LowReading, OutStory, OutageStory, SetUpStory};
pub use turnovers::{TurnEnd, TurnStory};

use crate::ids::{Tag, Unit};
use crate::past::{self, Entry};
use crate::record::{Body, Record};
use crate::rules::zone::Zone;

/// From a moment to another, which is not part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    /// The first moment.
    pub from: DateTime<Utc>,
    /// The first moment after it.
    pub to: DateTime<Utc>,
}

impl Span {
    /// Whether a moment is in it.
    #[must_use]
    pub fn has(self, at: DateTime<Utc>) -> bool {
        self.from <= at && at < self.to
    }

    /// What both have in common; nothing where that is no time at all.
    #[must_use]
    pub fn and(self, other: Span) -> Option<Span> {
        let both = Span {
            from: self.from.max(other.from),
            to: self.to.min(other.to),
        };
        (both.from < both.to).then_some(both)
    }
}

/// A unit, if the bed was in one then, and when the shift began by the clock.
pub type Part = (Option<Unit>, NaiveTime);

/// What the log shows of a period.
pub struct Evidence<'a> {
    /// The period.
    pub span: Span,
    /// When it was looked at.
    pub now: DateTime<Utc>,
    /// Everything that was read, as it stands, in the order of the records.
    pub entries: Vec<Entry<'a>>,
    /// What the home had set, and since when.
    pub settings: Settings<'a>,
    /// Where each surface was.
    pub places: BTreeMap<&'a Tag, Place<'a>>,
}

impl<'a> Evidence<'a> {
    /// What these records, read for this period, show of it.
    #[must_use]
    pub fn of(records: &'a [Record], zone: &'a Zone, span: Span, now: DateTime<Utc>) -> Self {
        let entries = past::entries(records);
        let settings = Settings::of(&entries, zone);
        let places = places::all(&entries);
        Self {
            span,
            now,
            entries,
            settings,
            places,
        }
    }

    /// The entries that count and happened in the period, in the order in which they happened.
    pub fn counting(&self) -> Vec<(&Entry<'a>, &'a Body)> {
        let mut all = self.all_counting();
        all.retain(|(entry, _)| self.span.has(entry.at));
        all
    }

    /// As [`Evidence::counting`], with what was read besides.
    fn all_counting(&self) -> Vec<(&Entry<'a>, &'a Body)> {
        let mut all: Vec<(&Entry<'a>, &'a Body)> = self
            .entries
            .iter()
            .filter_map(|entry| Some((entry, entry.counts()?)))
            .collect();
        all.sort_by_key(|(entry, _)| (entry.at, entry.record.no));
        all
    }

    /// When the first of all that was entered happened: of the time before, the log knows nothing.
    pub fn began(&self) -> Option<DateTime<Utc>> {
        self.entries.iter().map(|entry| entry.at).min()
    }

    /// The unit that a surface lay in at a moment.
    pub fn unit_at(&self, tag: &Tag, at: DateTime<Utc>) -> Option<&'a Unit> {
        let bed = self.places.get(tag)?.bed_at(at)?;
        self.settings.unit(bed, at)
    }

    /// When loftwatch was away in the period.
    pub fn away(&self) -> Vec<Span> {
        let away = |entry: &Entry<'a>| match entry.record.body {
            Body::Away { from, to } => Span { from, to }.and(self.span),
            _ => None,
        };
        self.entries.iter().filter_map(away).collect()
    }
}
