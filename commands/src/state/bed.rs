//! The part of the state that is a bed's frame: its measures, rails, outlet, what is approved for it, and the newest
//! reading of its gaps.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::State;
use super::steps::Mark;
use crate::choice::{GapAct, Outlet, Rails};
use crate::ids::{Bed, Person, ProfileName, RecordNo, Tag};
use crate::record::{Body, GapReading, Record};
use crate::rules::air::Tenths;

/// A bed's frame, as far as it is known.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Frame {
    /// The width of the deck.
    pub width: Option<Tenths>,
    /// The length of the deck.
    pub length: Option<Tenths>,
    /// The rails.
    pub rails: Option<Rails>,
    /// The wall outlet.
    pub outlet: Option<Outlet>,
    /// The day the outlet was last tested.
    pub outlet_tested: Option<NaiveDate>,
    /// The day the outlet failed its test, and has passed none since.
    pub outlet_failed: Option<NaiveDate>,
    /// The profiles approved for it; all where none is named.
    pub approved: BTreeSet<ProfileName>,
    /// The newest reading of its gaps.
    pub zones: Option<ZonesFact>,
    /// The zones that were over the limit and have not been measured again within it.
    pub over: Option<OverFact>,
    /// When its measures or its rails last changed.
    pub changed: Option<DateTime<Utc>>,
}

impl Frame {
    /// Takes what was set of it; nothing from a record of another kind.
    pub fn takes(&mut self, body: &Body, at: DateTime<Utc>) {
        let Body::FrameSet {
            beds: _,
            width,
            length,
            rails,
            outlet,
            outlet_tested,
            outlet_failed,
            approved,
        } = body
        else {
            return;
        };
        let before = (self.width, self.length, self.rails);
        self.width = width.or(self.width);
        self.length = length.or(self.length);
        self.rails = rails.or(self.rails);
        if before != (self.width, self.length, self.rails) {
            self.changed = Some(at);
        }
        self.outlet = outlet.or(self.outlet);
        self.outlet_tested = outlet_tested.or(self.outlet_tested);
        // A test that it passed is of the outlet as it is after that.
        if outlet_tested.is_some() {
            self.outlet_failed = None;
        }
        self.outlet_failed = outlet_failed.or(self.outlet_failed);
        if let Some(approved) = approved {
            self.approved = approved.iter().cloned().collect();
        }
    }
}

/// Gaps over the limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OverFact {
    /// The zones.
    pub zones: BTreeSet<u8>,
    /// The newest reading that leaves them so: what its post and its button are known by.
    pub no: RecordNo,
    /// Since when.
    pub since: DateTime<Utc>,
    /// Who did something at once, and when.
    pub acted: Option<Mark>,
    /// What was done at once, each by whom and when.
    #[serde(default)]
    pub did: BTreeMap<GapAct, Mark>,
}

/// A reading of a bed's gaps.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ZonesFact {
    /// Its record.
    pub no: RecordNo,
    /// When.
    pub at: DateTime<Utc>,
    /// By whom.
    pub who: Option<Person>,
    /// The surface that was there.
    pub tag: Option<Tag>,
    /// The readings.
    pub gaps: Vec<GapReading>,
    /// The angle at zone 4, in degrees.
    pub angle4: Option<u16>,
    /// Who did something at once about what was over.
    pub acted: Option<Mark>,
}

impl ZonesFact {
    /// The zones that were over the limit.
    pub fn over(&self) -> impl Iterator<Item = u8> {
        self.gaps.iter().filter(|gap| gap.over).map(|gap| gap.zone)
    }
}

impl State {
    /// What is known of a bed's frame.
    pub fn frame(&self, bed: &Bed) -> Option<&Frame> {
        self.frames.get(bed)
    }

    pub(super) fn zones_measured(
        &mut self,
        record: &Record,
        bed: &Bed,
        tag: Option<&Tag>,
        gaps: &[GapReading],
        angle4: Option<u16>,
    ) {
        let frame = self.frames.entry(bed.clone()).or_default();
        frame.zones = Some(ZonesFact {
            no: record.no,
            at: record.at,
            who: record.who,
            tag: tag.cloned(),
            gaps: gaps.to_vec(),
            angle4,
            acted: None,
        });
        // One that was not measured now stays as it was; without its angle zone 4 is not known to be within.
        let before = frame.over.take();
        let mut zones = before
            .as_ref()
            .map_or_else(BTreeSet::new, |over| over.zones.clone());
        for gap in gaps {
            if gap.over {
                zones.insert(gap.zone);
            } else if gap.zone != 4 || angle4.is_some() {
                zones.remove(&gap.zone);
            }
        }
        if zones.is_empty() {
            return;
        }
        // A new one is to be acted on anew; what was over before keeps its post and who acted on it.
        let anew = gaps.iter().any(|gap| gap.over);
        frame.over = Some(match before {
            Some(over) if !anew => OverFact { zones, ..over },
            before => OverFact {
                zones,
                no: record.no,
                since: before.map_or(record.at, |over| over.since),
                acted: None,
                did: BTreeMap::new(),
            },
        });
    }

    pub(super) fn zones_acted(&mut self, record: &Record, bed: &Bed, did: Option<GapAct>) {
        let Some(frame) = self.frames.get_mut(bed) else {
            return;
        };
        if let Some(zones) = &mut frame.zones {
            zones.acted = Some(Mark::of(record));
        }
        if let Some(over) = &mut frame.over {
            over.acted = Some(Mark::of(record));
            over.did.extend(did.map(|did| (did, Mark::of(record))));
        }
    }
}
