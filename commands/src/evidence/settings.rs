//! What the home had set, and since when: policies, units with their beds, profiles, and from these its shifts. Decides how a
//! setting read at a moment; leaves what follows from it to the other files.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveTime, TimeDelta, Utc};

use crate::due;
use crate::ids::{Bed, ProfileName, Unit};
use crate::past::Entry;
use crate::record::Body;
use crate::rules::hand_check::Check;
use crate::rules::policy::{Name, Policies};
use crate::rules::zone::Zone;
use crate::state::State;

/// What was set, each with since when, the oldest first.
pub struct Settings<'a> {
    zone: &'a Zone,
    policies: Vec<(DateTime<Utc>, Policies)>,
    units: Vec<(DateTime<Utc>, BTreeMap<&'a Bed, &'a Unit>)>,
    checks: BTreeMap<&'a ProfileName, Vec<(DateTime<Utc>, Check)>>,
    general: Check,
}

impl<'a> Settings<'a> {
    pub(super) fn of(entries: &[Entry<'a>], zone: &'a Zone) -> Self {
        let mut policies = vec![(DateTime::<Utc>::MIN_UTC, Policies::default())];
        let mut units = vec![(DateTime::<Utc>::MIN_UTC, BTreeMap::new())];
        let mut checks: BTreeMap<&ProfileName, Vec<(DateTime<Utc>, Check)>> = BTreeMap::new();
        for entry in entries {
            let Some(body) = entry.counts() else { continue };
            if let Body::PolicySet { name, value } = body {
                let mut now = policies
                    .last()
                    .map_or_else(Policies::default, |(_, at)| at.clone());
                now.set(name, *value);
                policies.push((entry.at, now));
            } else if let Body::UnitSet { unit, beds, .. } = body {
                let mut now = units
                    .last()
                    .map_or_else(BTreeMap::new, |(_, at)| at.clone());
                now.retain(|_, of| *of != unit);
                now.extend(beds.iter().map(|bed| (bed, unit)));
                units.push((entry.at, now));
            } else if let Body::UnitDropped { unit } = body {
                let mut now = units
                    .last()
                    .map_or_else(BTreeMap::new, |(_, at)| at.clone());
                now.retain(|_, of| *of != unit);
                units.push((entry.at, now));
            } else if let Body::ProfileSet(profile) = body {
                checks
                    .entry(&profile.name)
                    .or_default()
                    .push((entry.at, profile.check));
            }
        }
        Self {
            zone,
            policies,
            units,
            checks,
            general: State::default().general().check,
        }
    }

    /// A policy at a moment.
    pub fn policy(&self, name: Name, at: DateTime<Utc>) -> i64 {
        newest(&self.policies, at).map_or(0, |of| of.get(name))
    }

    /// The unit that a bed was in.
    pub fn unit(&self, bed: &Bed, at: DateTime<Utc>) -> Option<&'a Unit> {
        newest(&self.units, at)?.get(bed).copied()
    }

    /// Whether a profile wanted a check of the air.
    pub fn wants_check(&self, profile: &ProfileName, at: DateTime<Utc>) -> bool {
        let of = self.checks.get(profile).and_then(|all| newest(all, at));
        of.copied().unwrap_or(self.general) != Check::None
    }

    /// The shift that a moment is in: its beginning and its end.
    pub fn shift(&self, at: DateTime<Utc>) -> (DateTime<Utc>, DateTime<Utc>) {
        self.stretch(self.policy(Name::ShiftHours, at), at)
    }

    /// When the shift of a moment begins by the clock: what it is called by.
    pub fn shift_name(&self, at: DateTime<Utc>) -> NaiveTime {
        let minutes = TimeDelta::minutes(self.policy(Name::ShiftStart, at));
        let hours = self.policy(Name::ShiftHours, at).max(1);
        let (start, _) = self.shift(at);
        // By the clock that the shift is named by, also where the clocks changed in it.
        let local = self.zone.local(start + TimeDelta::minutes(1)).time();
        let since = (local - (NaiveTime::MIN + minutes))
            .num_minutes()
            .rem_euclid(24 * 60);
        let shifts = TimeDelta::hours(since / 60 / hours * hours);
        NaiveTime::MIN + minutes + shifts
    }

    /// For how long one check holds: a shift, or so many hours counted from the first shift of a day.
    pub fn check_stretch(&self, at: DateTime<Utc>) -> (DateTime<Utc>, DateTime<Utc>) {
        match self.policy(Name::CheckEvery, at) {
            0 => self.shift(at),
            hours => self.stretch(hours, at),
        }
    }

    fn stretch(&self, hours: i64, at: DateTime<Utc>) -> (DateTime<Utc>, DateTime<Utc>) {
        let anchor = TimeDelta::minutes(self.policy(Name::ShiftStart, at));
        due::edges(self.zone, anchor, TimeDelta::hours(hours.max(1)), at)
    }
}

/// What was set last by then.
fn newest<T>(all: &[(DateTime<Utc>, T)], at: DateTime<Utc>) -> Option<&T> {
    let end = all.partition_point(|(since, _)| *since <= at);
    all[..end].last().map(|(_, of)| of)
}
