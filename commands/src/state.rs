//! The state of a facility: a fold of its records. Decides what is remembered for decisions and that a
//! record can follow on what is there; leaves every rule to `decide`, so that a stricter rule never
//! makes an old log unreadable.

mod alarm;
mod facility;
mod surface;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

pub use alarm::Alarm;
pub(crate) use facility::general_profile;
pub use facility::{Facility, Ladder, Schedule, UnitState};
pub use surface::{
    Before, CheckFact, CleanFact, EndedAlarm, FilterFact, Life, Recheck, Surface, Turnover,
    filter_fit,
};

use crate::ids::{AlarmNo, Bed, Person, ProfileName, RecordNo, ScheduleName, Tag, Unit};
use crate::record::{Body, Profile, Record};
use crate::rules::policy::Policies;

/// The state of a facility.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct State {
    /// The newest record's number, 0 before the first.
    head: u64,
    /// `None` until `/facility setup`.
    pub facility: Option<Facility>,
    /// What differs from home to home.
    pub policies: Policies,
    /// Changes of clinical policy that wait for a supervisor.
    pub asked: BTreeMap<String, i64>,
    /// Who is asked next while an alarm is not taken, and when.
    pub ladder: Ladder,
    /// Another ladder that waits for a supervisor.
    pub ladder_asked: Option<Ladder>,
    /// What is posted when.
    pub schedules: BTreeMap<ScheduleName, Schedule>,
    /// The units.
    pub units: BTreeMap<Unit, UnitState>,
    /// What each make-and-model needs.
    pub profiles: BTreeMap<ProfileName, Profile>,
    /// The register.
    pub surfaces: BTreeMap<Tag, Surface>,
    /// Which surface is under which bed.
    pub under: BTreeMap<Bed, Tag>,
    /// Which unit a bed is in.
    pub bed_units: BTreeMap<Bed, Unit>,
    /// The alarms that are open.
    pub alarms: BTreeMap<AlarmNo, Alarm>,
    /// Checks that are booked out of turn: the only surfaces the clock has to watch.
    pub rechecks: BTreeMap<Tag, Recheck>,
    /// The unit in which somebody last did something.
    pub last_unit: BTreeMap<Person, Unit>,
}

/// A record that cannot follow on this state.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("record {no} cannot follow: {why}")]
pub struct Impossible {
    /// The record.
    pub no: RecordNo,
    /// Both sides, in a sentence.
    pub why: String,
}

impl Default for State {
    fn default() -> Self {
        let general = facility::general_profile();
        Self {
            head: 0,
            facility: None,
            policies: Policies::default(),
            asked: BTreeMap::new(),
            ladder: Ladder::default(),
            ladder_asked: None,
            schedules: BTreeMap::new(),
            units: BTreeMap::new(),
            profiles: BTreeMap::from([(general.name.clone(), general)]),
            surfaces: BTreeMap::new(),
            under: BTreeMap::new(),
            bed_units: BTreeMap::new(),
            alarms: BTreeMap::new(),
            rechecks: BTreeMap::new(),
            last_unit: BTreeMap::new(),
        }
    }
}

impl State {
    /// The version of the fold: a snapshot made by another one is not read.
    pub const VERSION: u32 = 1;

    /// The number the next record gets.
    pub fn next_no(&self) -> RecordNo {
        RecordNo(self.head + 1)
    }

    /// The unit that a surface's bed is in.
    pub fn unit_of(&self, tag: &Tag) -> Option<&Unit> {
        self.bed_units.get(self.surfaces.get(tag)?.bed()?)
    }

    /// The profile of a surface; the built-in one if it names none that is left.
    pub fn profile_of(&self, surface: &Surface) -> &Profile {
        self.profiles
            .get(&surface.profile)
            .unwrap_or_else(|| &self.profiles[facility::GENERAL])
    }

    /// This record is now a fact. A record that fails changes nothing.
    ///
    /// # Errors
    /// [`Impossible`] when the record names what is not there or stands in the wrong place.
    pub fn apply(&mut self, record: &Record) -> Result<(), Impossible> {
        let next = self.next_no();
        if record.no != next {
            return Err(Impossible {
                no: record.no,
                why: format!("it is not number {next}"),
            });
        }
        self.admit(record)?;
        self.head = record.no.0;
        Ok(())
    }

    fn admit(&mut self, record: &Record) -> Result<(), Impossible> {
        if let Some(tag) = record.body.surface()
            && !matches!(record.body, Body::SurfaceAdded { .. })
        {
            if !self.surfaces.contains_key(tag) {
                return Err(impossible(
                    record,
                    format!("no surface {tag} is in the register"),
                ));
            }
            if let (Some(who), Some(unit)) = (record.who, self.unit_of(tag).cloned()) {
                self.last_unit.insert(who, unit);
            }
        }
        match &record.body {
            Body::FacilitySet {
                zone,
                care_channel,
                supervisor_channel,
                roles,
            } => self.set_facility(record, zone, *care_channel, *supervisor_channel, roles),
            Body::UnitSet {
                unit,
                beds,
                channel,
            } => self.set_unit(unit, beds, *channel),
            Body::ScheduleSet {
                name,
                what,
                unit,
                when,
                from,
            } => self.set_schedule(record, name, *what, unit.clone(), when, *from),
            Body::SlotFired { name, slot, .. } => self.slot_fired(record, name, *slot),
            Body::LadderSet {
                first,
                second,
                third,
                repeat,
            } => {
                self.ladder = Ladder {
                    first: *first,
                    second: *second,
                    third: *third,
                    repeat: *repeat,
                };
                self.ladder_asked = None;
                Ok(())
            }
            Body::LadderAsked {
                first,
                second,
                third,
                repeat,
            } => {
                self.ladder_asked = Some(Ladder {
                    first: *first,
                    second: *second,
                    third: *third,
                    repeat: *repeat,
                });
                Ok(())
            }
            Body::PolicySet { name, value } => {
                self.asked.remove(name);
                self.policies.set(name, *value);
                Ok(())
            }
            Body::PolicyAsked { name, value } => {
                self.asked.insert(name.clone(), *value);
                Ok(())
            }
            Body::ProfileSet(profile) => {
                self.profiles
                    .insert(profile.name.clone(), (**profile).clone());
                Ok(())
            }
            Body::SurfaceAdded {
                tag,
                profile,
                serial,
                lot,
                owned,
                daily_cents,
                start,
                filter_changed,
                in_service: _,
            } => {
                let mut surface = Surface::new(
                    record,
                    profile.clone(),
                    *owned,
                    self.first_life(record, profile, *start),
                );
                surface.serial.clone_from(serial);
                surface.lot.clone_from(lot);
                surface.daily_cents = *daily_cents;
                surface.filter_changed = *filter_changed;
                self.add(record, tag, surface)
            }
            Body::SurfaceRetired { tag } => {
                self.leave_bed(record, tag, Life::Retired { since: record.at })
            }
            Body::Placed { tag, bed } => self.placed(record, tag, bed),
            Body::Released { tag, reason } => self.released(record, tag, *reason),
            Body::Pulled { tag, fault } => self.pulled(record, tag, *fault),
            Body::HandChecked {
                tag,
                air,
                judged,
                recheck,
                ..
            } => {
                let check = CheckFact {
                    no: record.no,
                    at: record.at,
                    who: record.who,
                    air: *air,
                    judged: *judged,
                };
                self.checked(record, tag, check, *recheck)
            }
            Body::RecheckAsked { tag, step } => {
                if let Some(recheck) = self.rechecks.get_mut(tag) {
                    recheck.asked = *step;
                    recheck.asked_at = Some(record.at);
                }
                Ok(())
            }
            Body::FilterLooked {
                tag,
                finding,
                action,
            } => self.filter_looked(record, tag, *finding, *action),
            Body::Cleaned {
                tag,
                reason,
                method,
                cover,
                ..
            } => {
                let clean = CleanFact {
                    at: record.at,
                    reason: *reason,
                    method: *method,
                    cover: *cover,
                };
                self.cleaned(record, tag, clean)
            }
            Body::FunctionShown { tag } => {
                let surface = self.remember(record, tag)?;
                surface.turn(record.at, |turnover| turnover.function = true);
                Ok(())
            }
            Body::TakenBack { tag, first } => self.take_back(record, tag, *first),
            Body::AlarmOpened {
                tag,
                kind,
                priority,
            } => self.open_alarm(record, tag, *kind, *priority),
            Body::AlarmNamed {
                alarm,
                kind,
                priority,
            } => self.change_alarm(record, *alarm, |alarm| {
                alarm.kind = *kind;
                alarm.priority = *priority;
            }),
            Body::AlarmTaken { alarm } => self.change_alarm(record, *alarm, |alarm| {
                alarm.taken = record.who.map(|who| (who, record.at))
            }),
            Body::ResidentSafe { alarm } => self.change_alarm(record, *alarm, |alarm| {
                alarm.safe = record.who.map(|who| (who, record.at))
            }),
            Body::AlarmAsked { alarm, rung } => self.change_alarm(record, *alarm, |alarm| {
                alarm.rung = *rung;
                alarm.asked = record.at;
            }),
            Body::LadderRestarted { alarm, why } => {
                self.change_alarm(record, *alarm, |alarm| alarm.begin_again(record.at, *why))
            }
            Body::AlarmCause { alarm, cause } => {
                self.change_alarm(record, *alarm, |alarm| alarm.cause = Some(*cause))
            }
            Body::AlarmClosed { alarm, end } => self.close_alarm(record, *alarm, *end),
            Body::Away { .. } => Ok(()),
        }
    }

    /// The surface that a record is about. `admit` has seen to it that it is there.
    fn surface_mut(&mut self, record: &Record, tag: &Tag) -> Result<&mut Surface, Impossible> {
        self.surfaces
            .get_mut(tag)
            .ok_or_else(|| impossible(record, format!("no surface {tag} is in the register")))
    }
}

fn impossible(record: &Record, why: String) -> Impossible {
    Impossible {
        no: record.no,
        why: format!("{} {why}", record.body.kind()),
    }
}
