//! The part of the state that is people and shifts: who has which unit until when, what was handed over and accepted,
//! who was called about what. Decides what is remembered and for how long; leaves whom to call to `due::asking`.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::{Impossible, State, impossible};
use crate::choice::What;
use crate::ids::{HandoverNo, Person, RecordNo, ScheduleName, Unit};
use crate::record::{On, Record};
use crate::role::Role;

/// How long a duty that is over is remembered, and how long after the newest one a home counts as using duty.
pub const REMEMBERED: TimeDelta = TimeDelta::days(7);
/// How long calls are remembered: longer than any shift with the one before it.
const TOLD_KEPT: TimeDelta = TimeDelta::hours(26);
/// Calls that are remembered at most.
const TOLD_MOST: usize = 400;
/// The first rung that only repeats the one before.
pub(crate) const FIRST_REPEAT: u32 = 4;

/// People and shifts.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Duty {
    /// Who has or had what, the newest last.
    pub taken: Vec<OnDuty>,
    /// When somebody last took a duty.
    pub used: Option<DateTime<Utc>>,
    /// The beginning of the newest shift whose duties were looked at; when duty came into use before the first.
    pub looked: Option<DateTime<Utc>>,
    /// The units that nobody had in that shift, when it was looked at.
    pub unclaimed: Vec<Unit>,
    /// The beginning of the newest shift whose rounds were looked at; when the home was set up before the first.
    #[serde(default)]
    pub rounds: Option<DateTime<Utc>>,
    /// The newest handover of each unit, and of all of them.
    pub handovers: Vec<Handover>,
    /// Who was called about what, the newest last.
    pub told: Vec<Told>,
    /// The newest shift cards of each schedule that were posted.
    pub cards: BTreeMap<ScheduleName, Carded>,
    /// Whom to phone when nobody answers.
    pub phone: Option<String>,
}

/// Shift cards that were posted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Carded {
    /// For which slot.
    pub slot: NaiveDateTime,
    /// After which step back of the clock: part of their names.
    pub set_back: Option<RecordNo>,
}

/// Somebody has a unit, or had it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OnDuty {
    /// The record that said so.
    pub no: RecordNo,
    /// Who.
    pub who: Person,
    /// In which role.
    pub role: Role,
    /// The unit; the whole house if none.
    pub unit: Option<Unit>,
    /// Since when.
    pub since: DateTime<Utc>,
    /// Until when.
    pub until: DateTime<Utc>,
}

/// What was handed over to the next shift.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Handover {
    /// Its name.
    pub no: HandoverNo,
    /// The unit; all of them if none.
    pub unit: Option<Unit>,
    /// When the shift that handed over began.
    pub shift: DateTime<Utc>,
    /// When it was posted.
    pub at: DateTime<Utc>,
    /// Who accepted it, in which role, and when.
    pub accepted: Option<(Person, Role, DateTime<Utc>)>,
}

/// Who was called, by the chat's role or by person.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Called {
    /// Everybody with these roles.
    pub roles: Vec<Role>,
    /// People, in the role in which they were called.
    pub people: Vec<(Person, Role)>,
}

/// Somebody was called.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Told {
    /// When.
    pub at: DateTime<Utc>,
    /// About what.
    pub on: On,
    /// Who.
    pub called: Called,
}

impl Called {
    /// These were called as well.
    pub fn add(&mut self, roles: &[Role], people: &[(Person, Role)]) {
        for role in roles {
            if !self.roles.contains(role) {
                self.roles.push(*role);
            }
        }
        for person in people {
            if !self.people.contains(person) {
                self.people.push(*person);
            }
        }
    }

    /// Whether nobody was called.
    pub fn is_empty(&self) -> bool {
        self.roles.is_empty() && self.people.is_empty()
    }

    /// Whether everybody of `others` was called already: as a person, or with everybody of their role.
    pub fn covers(&self, others: &Called) -> bool {
        let had = |role: &Role| self.roles.contains(role);
        others.roles.iter().all(had)
            && others
                .people
                .iter()
                .all(|(who, role)| had(role) || self.people.iter().any(|(called, _)| called == who))
    }
}

/// How many rungs were passed over between two that were asked one after the other. Repeats pass nobody over: of those
/// that were missed only the newest is asked.
pub(super) fn passed_over(before: u32, rung: u32) -> u32 {
    if rung < FIRST_REPEAT {
        rung.saturating_sub(before + 1)
    } else {
        0
    }
}

impl OnDuty {
    /// Whether it holds at this moment.
    pub fn at(&self, now: DateTime<Utc>) -> bool {
        self.since <= now && now < self.until
    }

    /// Whether it is for this unit, by name or with the whole house; any is, where no unit is asked about.
    pub fn covers(&self, unit: Option<&Unit>) -> bool {
        match (&self.unit, unit) {
            (Some(of), Some(unit)) => of == unit,
            (None, _) | (_, None) => true,
        }
    }
}

/// A shift that began so short a time ago has just begun.
const JUST_BEGUN: TimeDelta = TimeDelta::minutes(15);

impl Duty {
    /// Who is on duty for a unit at this moment; for any, if none is named. Nobody stands there twice in one role.
    pub fn now(&self, unit: Option<&Unit>, now: DateTime<Utc>) -> Vec<&OnDuty> {
        let mut here: Vec<&OnDuty> = Vec::new();
        for duty in &self.taken {
            if duty.at(now)
                && duty.covers(unit)
                && !here
                    .iter()
                    .any(|other| (other.who, other.role) == (duty.who, duty.role))
            {
                here.push(duty);
            }
        }
        here
    }

    /// What somebody has at this moment.
    pub fn of(&self, who: Person, now: DateTime<Utc>) -> impl Iterator<Item = &OnDuty> {
        self.taken
            .iter()
            .filter(move |duty| duty.who == who && duty.at(now))
    }

    /// Whether somebody's duty is over: they had one, and have none at this moment. Who never took one has not ended any.
    pub fn is_over(&self, who: Person, now: DateTime<Utc>) -> bool {
        self.taken.iter().any(|duty| duty.who == who) && self.of(who, now).next().is_none()
    }

    /// Whether the home says who is on duty: somebody did within a week.
    pub fn in_use(&self, now: DateTime<Utc>) -> bool {
        self.used.is_some_and(|used| now - used < REMEMBERED)
    }

    /// Whether each call since then is still remembered.
    pub(crate) fn told_since(&self, from: DateTime<Utc>) -> bool {
        self.told.len() < TOLD_MOST || self.told.first().is_some_and(|oldest| oldest.at < from)
    }

    /// The newest handover of a unit, or of all of them.
    pub fn handover(&self, unit: Option<&Unit>) -> Option<&Handover> {
        self.handovers
            .iter()
            .find(|handover| handover.unit.as_ref() == unit)
    }

    /// What somebody took in the role in which they were let in until `given` lasts no longer than until then. What lasts longer than
    /// that they took in a role of their own.
    pub(super) fn no_longer(
        &mut self,
        who: Person,
        (role, given): (Role, DateTime<Utc>),
        until: DateTime<Utc>,
    ) {
        let by_it =
            |duty: &&mut OnDuty| (duty.who, duty.role) == (who, role) && duty.until <= given;
        for duty in self.taken.iter_mut().filter(by_it) {
            duty.until = duty.until.min(until);
        }
    }

    /// Replaces what the same person had of it; the whole house takes the place of every unit.
    pub(super) fn take(&mut self, record: &Record, unit: Option<&Unit>, until: DateTime<Utc>) {
        let Some(who) = record.who else {
            return;
        };
        let mut since = record.at;
        self.taken.retain(|duty| {
            let same = duty.who == who && (unit.is_none() || duty.unit.as_ref() == unit);
            if same && duty.at(record.at) && duty.unit.as_ref() == unit {
                since = duty.since;
            }
            !(same && duty.at(record.at)) && record.at - duty.until < REMEMBERED
        });
        // Where duty comes into use, the shifts before are nobody's fault; one that has just begun is looked at.
        if !self.in_use(record.at) {
            self.looked = Some(record.at - JUST_BEGUN);
        }
        self.used = Some(record.at);
        self.taken.push(OnDuty {
            no: record.no,
            who,
            role: record.role,
            unit: unit.cloned(),
            since,
            until,
        });
    }

    pub(super) fn end(&mut self, record: &Record, unit: Option<&Unit>, who: Option<Person>) {
        for duty in &mut self.taken {
            if Some(duty.who) == who && duty.unit.as_ref() == unit && duty.at(record.at) {
                duty.until = record.at;
            }
        }
    }

    /// There is no such unit any more.
    pub(super) fn drop_unit(&mut self, unit: &Unit) {
        let of = |there: &Option<Unit>| there.as_ref() == Some(unit);
        self.taken.retain(|duty| !of(&duty.unit));
        self.handovers.retain(|handover| !of(&handover.unit));
        self.unclaimed.retain(|there| there != unit);
    }

    pub(super) fn hand_over(&mut self, record: &Record, unit: Option<&Unit>, shift: DateTime<Utc>) {
        self.handovers.retain(|old| old.unit.as_ref() != unit);
        self.handovers.push(Handover {
            no: HandoverNo(record.no.0),
            unit: unit.cloned(),
            shift,
            at: record.at,
            accepted: None,
        });
    }

    pub(super) fn tell(
        &mut self,
        record: &Record,
        on: &On,
        roles: &[Role],
        people: &[(Person, Role)],
    ) {
        // The oldest stand first: each word looks at those that go, and not at all that stay.
        let kept = |told: &Told| record.at - told.at < TOLD_KEPT;
        let over = (self.told.len() + 1).saturating_sub(TOLD_MOST);
        let old = self.told.iter().position(kept);
        self.told.drain(..old.unwrap_or(self.told.len()).max(over));
        self.told.push(Told {
            at: record.at,
            on: on.clone(),
            called: Called {
                roles: roles.to_vec(),
                people: people.to_vec(),
            },
        });
    }
}

impl State {
    /// A schedule's slot was posted: its shift cards can be found again.
    pub(super) fn carded(&mut self, name: &ScheduleName, slot: NaiveDateTime) {
        let due_list = self
            .schedules
            .get(name)
            .is_some_and(|schedule| schedule.what == What::DueList);
        if due_list {
            let set_back = self.set_back;
            self.duty
                .cards
                .insert(name.clone(), Carded { slot, set_back });
        }
    }

    pub(super) fn accepted(&mut self, record: &Record, no: HandoverNo) -> Result<(), Impossible> {
        let handover = self
            .duty
            .handovers
            .iter_mut()
            .find(|handover| handover.no == no)
            .ok_or_else(|| impossible(record, format!("names handover {no}, which is past")))?;
        handover.accepted = record.who.map(|who| (who, record.role, record.at));
        Ok(())
    }
}
