//! The part of the state that is staff: who is let in for a shift, who has read the primer, who is signed off for what,
//! which entries somebody else is to look at, and how a person's round goes on. Decides what is remembered of it, by the
//! chat user's number only; leaves who may what to `role` and `decide`.

use std::collections::{BTreeMap, VecDeque};

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::steps::Mark;
use super::{Impossible, State, impossible};
use crate::choice::{Stand, Task};
use crate::ids::{Person, ProfileName, RecordNo, Tag, Unit};
use crate::record::Record;
use crate::rules::pace::GAPS_KEPT;

/// What was entered later than this after it happened was not entered as it was made: the chat takes a moment, no more.
const LIVE_WITHIN: TimeDelta = TimeDelta::seconds(10);
/// After a wait longer than this a person's next check begins another round.
const ROUND_WAIT: TimeDelta = TimeDelta::minutes(30);
/// A reading of the primer, or a shift that is over, is forgotten after this: longer than any policy asks for.
const FORGET_AFTER: TimeDelta = TimeDelta::days(200);

/// Staff, as far as decisions need it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Staff {
    /// Who was let in, the newest time of each.
    pub let_in: BTreeMap<Person, LetIn>,
    /// When somebody last read the primer.
    pub primers: BTreeMap<Person, DateTime<Utc>>,
    /// Who is signed off for what, on which surfaces.
    pub sign_offs: BTreeMap<Person, BTreeMap<Task, BTreeMap<ProfileName, SignOff>>>,
    /// The round that each person is on, or was last.
    pub rounds: BTreeMap<Person, Pace>,
}

/// Somebody from outside, for a shift.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LetIn {
    /// The record that let them in.
    pub no: RecordNo,
    /// As what.
    pub stand: Stand,
    /// Until when; they are out at that moment.
    pub until: DateTime<Utc>,
    /// The unit they work in.
    pub unit: Option<Unit>,
    /// Who let them in, and when.
    pub mark: Mark,
}

/// Somebody may do a task on surfaces of one profile.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SignOff {
    /// Its record.
    pub no: RecordNo,
    /// Who signed, and when.
    pub mark: Mark,
    /// The last day on which it holds.
    pub renew: NaiveDate,
}

/// An entry that somebody else is to look at, or has looked at.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SecondCheck {
    /// The entry.
    pub entry: RecordNo,
    /// Whose entry, and when.
    pub mark: Mark,
    /// Who looked, and when.
    pub seen: Option<Mark>,
}

/// How the round of one person goes on: no more than is needed to judge its pace.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Pace {
    /// In which unit.
    pub unit: Unit,
    /// The surface that was checked last.
    pub tag: Tag,
    /// The first check.
    pub first: DateTime<Utc>,
    /// The last check.
    pub last: DateTime<Utc>,
    /// How many checks.
    pub checks: u32,
    /// The newest times between two checks, in milliseconds, the oldest first; at most [`GAPS_KEPT`].
    pub gaps: VecDeque<u64>,
    /// The record that pointed it out.
    pub said: Option<RecordNo>,
}

impl Staff {
    /// Whether somebody is let in at a moment, and how.
    pub fn let_in_at(&self, who: Person, at: DateTime<Utc>) -> Option<&LetIn> {
        self.let_in.get(&who).filter(|let_in| at < let_in.until)
    }

    /// Whether somebody is signed off on a day: for this task on surfaces of this profile, and not over.
    pub fn signed_off(
        &self,
        who: Person,
        task: Task,
        profile: &ProfileName,
        today: NaiveDate,
    ) -> bool {
        self.sign_off(who, task, profile)
            .is_some_and(|sign_off| today <= sign_off.renew)
    }

    /// Somebody's sign-off, over or not.
    pub fn sign_off(&self, who: Person, task: Task, profile: &ProfileName) -> Option<&SignOff> {
        self.sign_offs.get(&who)?.get(&task)?.get(profile)
    }

    /// Every sign-off.
    pub fn all_sign_offs(&self) -> impl Iterator<Item = (Person, Task, &ProfileName, &SignOff)> {
        self.sign_offs.iter().flat_map(|(who, tasks)| {
            tasks.iter().flat_map(move |(task, profiles)| {
                let one = move |(profile, sign_off)| -> (Person, Task, &ProfileName, &SignOff) {
                    (*who, *task, profile, sign_off)
                };
                profiles.iter().map(one)
            })
        })
    }
}

impl Pace {
    /// The round of a person after another check: it goes on, begins anew, or is left as it was where the same surface
    /// was only looked at again.
    pub fn after(before: Option<&Pace>, unit: &Unit, tag: &Tag, at: DateTime<Utc>) -> Option<Self> {
        let goes_on = before
            .filter(|pace| pace.unit == *unit && at >= pace.last && at - pace.last <= ROUND_WAIT);
        let Some(pace) = goes_on else {
            return Some(Self {
                unit: unit.clone(),
                tag: tag.clone(),
                first: at,
                last: at,
                checks: 1,
                gaps: VecDeque::new(),
                said: None,
            });
        };
        if pace.tag == *tag {
            return None;
        }
        let mut pace = pace.clone();
        if pace.gaps.len() >= GAPS_KEPT {
            pace.gaps.pop_front();
        }
        let gap = u64::try_from((at - pace.last).num_milliseconds()).unwrap_or(0);
        pace.gaps.push_back(gap);
        pace.tag = tag.clone();
        pace.last = at;
        pace.checks += 1;
        Some(pace)
    }

    /// The times between its checks.
    pub fn times(&self) -> Vec<TimeDelta> {
        self.gaps
            .iter()
            .filter_map(|ms| TimeDelta::try_milliseconds(i64::try_from(*ms).ok()?))
            .collect()
    }
}

impl State {
    pub(super) fn let_in(
        &mut self,
        record: &Record,
        person: Person,
        stand: Stand,
        until: DateTime<Utc>,
        unit: Option<&Unit>,
    ) {
        self.forget_old_staff(record.at);
        let let_in = LetIn {
            no: record.no,
            stand,
            until,
            unit: unit.cloned(),
            mark: Mark::of(record),
        };
        let before = self.staff.let_in.insert(person, let_in);
        if let Some(before) = before.filter(|before| record.at < before.until) {
            let until = if before.stand == stand {
                until
            } else {
                record.at
            };
            let given = (before.stand.into(), before.until);
            self.duty.no_longer(person, given, until);
        }
        // Their round begins where they were sent.
        if let Some(unit) = unit {
            self.last_unit.insert(person, unit.clone());
        }
    }

    pub(super) fn let_in_ended(
        &mut self,
        record: &Record,
        person: Person,
    ) -> Result<(), Impossible> {
        let let_in =
            self.staff.let_in.get_mut(&person).ok_or_else(|| {
                impossible(record, format!("names {person}, who was never let in"))
            })?;
        let given = (let_in.stand.into(), let_in.until);
        let_in.until = let_in.until.min(record.at);
        self.duty.no_longer(person, given, let_in.until);
        Ok(())
    }

    pub(super) fn primer_read(&mut self, record: &Record) {
        self.forget_old_staff(record.at);
        if let Some(who) = record.who {
            self.staff.primers.insert(who, record.at);
        }
    }

    fn forget_old_staff(&mut self, now: DateTime<Utc>) {
        self.staff
            .let_in
            .retain(|_, let_in| now - let_in.until <= FORGET_AFTER);
        self.staff
            .primers
            .retain(|_, read| now - *read <= FORGET_AFTER);
    }

    pub(super) fn signed_off(
        &mut self,
        record: &Record,
        person: Person,
        task: Task,
        profile: &ProfileName,
        renew: NaiveDate,
    ) {
        let sign_off = SignOff {
            no: record.no,
            mark: Mark::of(record),
            renew,
        };
        self.staff
            .sign_offs
            .entry(person)
            .or_default()
            .entry(task)
            .or_default()
            .insert(profile.clone(), sign_off);
    }

    pub(super) fn sign_off_ended(
        &mut self,
        record: &Record,
        person: Person,
        task: Task,
        profile: &ProfileName,
    ) -> Result<(), Impossible> {
        let tasks = self.staff.sign_offs.get_mut(&person);
        let profiles = tasks.and_then(|tasks| tasks.get_mut(&task));
        profiles
            .and_then(|profiles| profiles.remove(profile))
            .ok_or_else(|| {
                impossible(
                    record,
                    format!("names a sign-off that {person} does not have"),
                )
            })?;
        self.staff.sign_offs.retain(|_, tasks| {
            tasks.retain(|_, profiles| !profiles.is_empty());
            !tasks.is_empty()
        });
        Ok(())
    }

    pub(super) fn second_check_wanted(
        &mut self,
        record: &Record,
        tag: &Tag,
        task: Task,
        entry: RecordNo,
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        surface.newest = record.no;
        let wanted = SecondCheck {
            entry,
            mark: Mark::of(record),
            seen: None,
        };
        surface.second_checks.insert(task, wanted);
        Ok(())
    }

    pub(super) fn second_checked(
        &mut self,
        record: &Record,
        tag: &Tag,
        task: Task,
        entry: RecordNo,
    ) -> Result<(), Impossible> {
        let seen = Mark::of(record);
        let surface = self.settled(record, tag)?;
        if let Some(check) = surface
            .second_checks
            .get_mut(&task)
            .filter(|check| check.entry == entry)
        {
            check.seen = Some(seen);
        }
        Ok(())
    }

    /// A check that was entered as it was made is one of the round that the person is on in that unit.
    pub(super) fn paced(&mut self, record: &Record, tag: &Tag) {
        let (Some(who), Some(unit)) = (record.who, self.unit_of(tag).cloned()) else {
            return;
        };
        if record.entered - record.at > LIVE_WITHIN {
            return;
        }
        let before = self.staff.rounds.get(&who);
        if let Some(pace) = Pace::after(before, &unit, tag, record.at) {
            if pace.checks == 1 {
                // Rounds that are over tell nobody anything any more.
                self.staff
                    .rounds
                    .retain(|_, pace| record.at - pace.last <= ROUND_WAIT);
            }
            self.staff.rounds.insert(who, pace);
        }
    }

    pub(super) fn pace_said(&mut self, record: &Record, person: Person, unit: &Unit) {
        if let Some(pace) = self
            .staff
            .rounds
            .get_mut(&person)
            .filter(|pace| pace.unit == *unit)
        {
            pace.said = Some(record.no);
        }
    }
}
