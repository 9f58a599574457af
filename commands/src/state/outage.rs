//! The part of the state that is a unit without power: its roll and its ladder.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::duty::{Called, passed_over};
use super::steps::Mark;
use super::{Impossible, State, impossible};
use crate::choice::Roll;
use crate::ids::{OutageNo, Person, RecordNo, Tag, Unit};
use crate::record::Record;

/// A unit without power.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Outage {
    /// The unit.
    pub unit: Unit,
    /// Since when.
    pub since: DateTime<Utc>,
    /// Who said so.
    pub by: Option<Person>,
    /// Since when they were let in no more.
    #[serde(default)]
    pub shift_over: Option<DateTime<Utc>>,
    /// The surfaces of this roll, in the order in which they are looked at.
    pub order: Vec<Tag>,
    /// How each was found in this roll.
    pub seen: BTreeMap<Tag, (Roll, Mark)>,
    /// Who calls the roll.
    pub taken: Option<(Person, DateTime<Utc>)>,
    /// Who has called a roll since it began.
    #[serde(default)]
    pub callers: Vec<Person>,
    /// Which roll this is, from 1.
    pub roll: u32,
    /// Minute 0 of the ladder: when this roll began.
    pub ladder_from: DateTime<Utc>,
    /// The newest rung that was asked.
    pub rung: u32,
    /// When the newest rung was asked.
    pub asked: DateTime<Utc>,
    /// This roll was begun and not finished in time, so that its ladder began again.
    #[serde(default)]
    pub overrun: bool,
    /// Rungs that were passed over since minute 0, because they had nobody new to ask.
    #[serde(default)]
    pub passed: u32,
    /// Who was called since minute 0.
    #[serde(default)]
    pub called: Called,
    /// The newest record about it.
    pub newest: RecordNo,
}

/// A power failure that is over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OutageOver {
    /// The unit.
    pub unit: Unit,
    /// Since when.
    pub from: DateTime<Utc>,
    /// Until when.
    pub to: DateTime<Utc>,
    /// Who called its rolls.
    pub callers: Vec<Person>,
}

/// How long one that is over is remembered: longer than any shift with the one before it.
const OVER_KEPT: TimeDelta = TimeDelta::hours(26);

impl Outage {
    /// Those of this roll that nobody has looked at yet, in order.
    pub fn left(&self) -> impl Iterator<Item = &Tag> {
        self.order
            .iter()
            .filter(|tag| !self.seen.contains_key(*tag))
    }

    /// Whether everybody of this roll has been looked at.
    pub fn complete(&self) -> bool {
        self.left().next().is_none()
    }

    fn begin_roll(&mut self, record: &Record, order: &[Tag]) {
        self.order = order.to_vec();
        self.seen.clear();
        self.taken = None;
        self.roll += 1;
        self.ladder_from = record.at;
        self.rung = 0;
        self.asked = record.at;
        self.overrun = false;
        self.passed = 0;
        self.called = Called::default();
    }

    /// Whoever called the roll did not finish it in time, and no longer holds it.
    pub(crate) fn begin_again(&mut self, at: DateTime<Utc>) {
        self.taken = None;
        self.ladder_from = at;
        self.rung = 0;
        self.asked = at;
        self.overrun = true;
        self.passed = 0;
        self.called = Called::default();
    }

    /// A rung was asked. Of the first three each is asked or passed over.
    pub(crate) fn climb(&mut self, at: DateTime<Utc>, rung: u32) {
        self.passed += passed_over(self.rung, rung);
        self.rung = rung;
        self.asked = at;
    }
}

impl State {
    /// The power failure of a unit.
    pub fn outage_of(&self, unit: &Unit) -> Option<(OutageNo, &Outage)> {
        self.outages
            .iter()
            .find(|(_, outage)| outage.unit == *unit)
            .map(|(no, outage)| (*no, outage))
    }

    pub(super) fn open_outage(
        &mut self,
        record: &Record,
        unit: &Unit,
        order: &[Tag],
        shift_over: Option<DateTime<Utc>>,
    ) -> Result<(), Impossible> {
        if let Some((no, _)) = self.outage_of(unit) {
            return Err(impossible(record, format!("in {unit}, where {no} is open")));
        }
        let mut outage = Outage {
            unit: unit.clone(),
            since: record.at,
            by: record.who,
            shift_over,
            order: Vec::new(),
            seen: BTreeMap::new(),
            taken: None,
            callers: Vec::new(),
            roll: 0,
            ladder_from: record.at,
            rung: 0,
            asked: record.at,
            overrun: false,
            passed: 0,
            called: Called::default(),
            newest: record.no,
        };
        outage.begin_roll(record, order);
        self.outages.insert(OutageNo(record.no.0), outage);
        Ok(())
    }

    pub(super) fn change_outage(
        &mut self,
        record: &Record,
        no: OutageNo,
        change: impl FnOnce(&mut Outage),
    ) -> Result<(), Impossible> {
        let outage = self
            .outages
            .get_mut(&no)
            .ok_or_else(|| not_open(record, no))?;
        change(outage);
        outage.newest = record.no;
        Ok(())
    }

    pub(super) fn roll_again(
        &mut self,
        record: &Record,
        no: OutageNo,
        order: &[Tag],
    ) -> Result<(), Impossible> {
        self.change_outage(record, no, |outage| outage.begin_roll(record, order))
    }

    pub(super) fn end_outage(&mut self, record: &Record, no: OutageNo) -> Result<(), Impossible> {
        let outage = self
            .outages
            .remove(&no)
            .ok_or_else(|| not_open(record, no))?;
        self.outages_over
            .retain(|over| record.at - over.to < OVER_KEPT);
        self.outages_over.push(OutageOver {
            unit: outage.unit,
            from: outage.since,
            to: record.at,
            callers: outage.callers,
        });
        Ok(())
    }
}

fn not_open(record: &Record, no: OutageNo) -> Impossible {
    impossible(record, format!("names outage {no}, which is over"))
}
