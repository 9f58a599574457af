//! The part of the state that `/facility` sets: zone, channels, roles, units, schedules, the ladder.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::{Impossible, State, impossible};
use crate::choice::{FilterKind, FirstFill, What};
use crate::ids::{Bed, Channel, ChatRole, ScheduleName, Unit};
use crate::record::{On, Profile, Record};
use crate::role::Role;
use crate::rules::hand_check::{Check, Class, Kind};
use crate::rules::schedule::Pattern;
use crate::rules::zone::Zone;
use crate::words::Lang;

/// The built-in profile's name.
pub const GENERAL: &str = "general";

/// What `/facility setup` said.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Facility {
    /// The zone that its clocks show.
    pub zone: Zone,
    /// Where everybody reads.
    pub care_channel: Channel,
    /// Where supervisors read.
    pub supervisor_channel: Channel,
    /// Our roles to the chat's.
    pub roles: BTreeMap<Role, ChatRole>,
    /// The language that channels read.
    pub lang: Lang,
    /// What the home is called, for what is printed.
    #[serde(default)]
    pub home: Option<String>,
    /// Where upkeep reads, if it has a channel.
    pub upkeep_channel: Option<Channel>,
    /// The sign or the ISO 4217 code of its money.
    #[serde(default)]
    pub currency: Option<String>,
}

impl Facility {
    /// Where upkeep reads: its own channel, else where everybody does.
    pub fn upkeep_reads(&self) -> Channel {
        self.upkeep_channel.unwrap_or(self.care_channel)
    }
}

/// A unit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct UnitState {
    /// Its beds, in the order of a round.
    pub beds: Vec<Bed>,
    /// Where its people read.
    pub channel: Option<Channel>,
}

/// Minutes from an alarm's opening to each rung.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ladder {
    /// To the first.
    pub first: u16,
    /// To the second.
    pub second: u16,
    /// To the third.
    pub third: u16,
    /// Between pings after the third.
    pub repeat: u16,
}

impl Default for Ladder {
    /// 5, 10, 15 minutes, then every 5. Common practice, chosen so that alarm to resident-safe stays well
    /// inside the hour that published tissue-injury figures leave (Gefen, Ostomy Wound Management,
    /// October 2008: deep injury very likely starts between 1 and 4–6 hours of sustained load).
    fn default() -> Self {
        Self {
            first: 5,
            second: 10,
            third: 15,
            repeat: 5,
        }
    }
}

impl Ladder {
    /// When rung `rung` (from 1; from 4 the repeats) of a ladder that began at `from` is asked. Elapsed time: a change of
    /// the clocks moves nothing.
    pub fn rung_at(self, from: DateTime<Utc>, rung: u32) -> DateTime<Utc> {
        let minutes = match rung {
            0 => 0,
            1 => i64::from(self.first),
            2 => i64::from(self.second),
            3 => i64::from(self.third),
            repeats => i64::from(self.third) + i64::from(repeats - 3) * i64::from(self.repeat),
        };
        from + TimeDelta::minutes(minutes)
    }
}

/// A schedule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Schedule {
    /// What it posts.
    pub what: What,
    /// For one unit, or for all.
    pub unit: Option<Unit>,
    /// When.
    pub pattern: Pattern,
    /// The newest slot that is done with, in local time. Stepping goes on from here and never from now.
    pub last: NaiveDateTime,
    /// The next slot, in local time and as an instant; derived, kept so that waiting costs nothing.
    pub next: Option<(NaiveDateTime, DateTime<Utc>)>,
}

impl Schedule {
    fn armed(mut self, zone: &Zone) -> Self {
        self.next = self
            .pattern
            .next(self.last)
            .map(|slot| (slot, zone.instant(slot)));
        self
    }

    /// Goes on from this moment, whatever was posted before.
    pub(super) fn begin(&mut self, now: DateTime<Utc>, zone: &Zone) {
        self.last = self.pattern.start(now, zone);
        *self = self.clone().armed(zone);
    }
}

impl State {
    /// The zone that a record names.
    pub(super) fn known_zone(record: &Record, zone: &str) -> Result<Zone, Impossible> {
        Zone::parse(zone).map_err(|_| {
            impossible(
                record,
                format!("names the zone {zone}, which the zone data lack"),
            )
        })
    }

    pub(super) fn set_facility(&mut self, facility: Facility) {
        let schedules = std::mem::take(&mut self.schedules);
        self.schedules = schedules
            .into_iter()
            .map(|(name, s)| (name, s.armed(&facility.zone)))
            .collect();
        self.facility = Some(facility);
    }

    pub(super) fn set_unit(
        &mut self,
        unit: &Unit,
        beds: &[Bed],
        channel: Option<Channel>,
    ) -> Result<(), Impossible> {
        self.bed_units.retain(|_, of| of != unit);
        for bed in beds {
            self.bed_units.insert(bed.clone(), unit.clone());
        }
        self.units.insert(
            unit.clone(),
            UnitState {
                beds: beds.to_vec(),
                channel,
            },
        );
        Ok(())
    }

    /// What is booked for its people, and who had it, is over with it.
    pub(super) fn drop_unit(&mut self, unit: &Unit) {
        self.units.remove(unit);
        self.bed_units.retain(|_, of| of != unit);
        self.last_unit.retain(|_, of| of != unit);
        self.duty.drop_unit(unit);
        let on = On::Unit(unit.clone());
        for booked in self.calls.values_mut() {
            booked.remove(&on);
        }
        self.calls.retain(|_, booked| !booked.is_empty());
    }

    pub(super) fn set_schedule(
        &mut self,
        record: &Record,
        name: &ScheduleName,
        what: What,
        unit: Option<Unit>,
        when: &str,
        from: NaiveDateTime,
    ) -> Result<(), Impossible> {
        let pattern = Pattern::parse(when).map_err(|_| {
            impossible(
                record,
                format!("has the pattern {when}, which cannot be read"),
            )
        })?;
        let schedule = Schedule {
            what,
            unit,
            pattern,
            last: from,
            next: None,
        };
        let zone = self.zone(record)?;
        self.schedules.insert(name.clone(), schedule.armed(&zone));
        Ok(())
    }

    pub(super) fn slot_fired(
        &mut self,
        record: &Record,
        name: &ScheduleName,
        slot: NaiveDateTime,
    ) -> Result<(), Impossible> {
        let zone = self.zone(record)?;
        let schedule = self.schedules.get_mut(name).ok_or_else(|| {
            impossible(
                record,
                format!("names the schedule {name}, which is not set"),
            )
        })?;
        schedule.last = slot;
        *schedule = schedule.clone().armed(&zone);
        Ok(())
    }

    fn zone(&self, record: &Record) -> Result<Zone, Impossible> {
        let facility = self
            .facility
            .as_ref()
            .ok_or_else(|| impossible(record, "before the set-up".into()))?;
        Ok(facility.zone.clone())
    }
}

/// The profile that is there from the start, so that a home can begin before it has typed any. Its
/// figures are common practice, and stand back as soon as the maker's are entered.
pub(crate) fn general_profile() -> Profile {
    Profile {
        name: GENERAL.into(),
        class: Class::Replacement,
        kind: Kind::Alternating,
        check: Check::Hand,
        first_fill: FirstFill::Highest,
        fill_minutes: 30,
        filter: FilterKind::Replaceable,
        filter_check_days: 7,
        filter_max_days: 90,
        width: None,
        length: None,
        capacity_lb: None,
        settings: Vec::new(),
        band: None,
        holds_minutes: None,
        cover_opens: None,
        service_days: None,
    }
}
