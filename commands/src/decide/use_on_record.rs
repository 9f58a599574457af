//! What the home's own records say about how its surfaces were used: over which days, under which beds, for how long.
//! Decides which surfaces and which days count; leaves what follows from it to `fleet_cost` and `fleet_size`.
//!
//! A year at most is looked back on, so that summers and winters weigh alike and a home's newer ways count. What was under
//! somebody when a home began to record is in use from the first day on, and was not asked for then. Surfaces of a
//! resident or a hospice are not the home's to give, and do not count.

use chrono::{DateTime, Days, NaiveTime, TimeDelta, Utc};

use super::draft::Asked;
use super::matching::does;
use crate::choice::Owned;
use crate::ids::Tag;
use crate::past::Wanted;
use crate::past::stays::{Stay, overlap, stays};
use crate::rules::hand_check::Kind;
use crate::state::{Life, Surface};

/// How far back records are looked at, in days.
const WINDOW_DAYS: u64 = 365;
/// With fewer days than these on record a figure would be a guess (common practice).
pub(super) const DAYS_ENOUGH: i64 = 28;

/// What was read.
pub(super) struct OnRecord<'a> {
    /// From this moment on.
    pub from: DateTime<Utc>,
    /// Up to this one.
    pub to: DateTime<Utc>,
    /// Every use of the surfaces that count.
    pub stays: Vec<Stay>,
    /// The surfaces that count, those that are gone among them.
    pub surfaces: Vec<(&'a Tag, &'a Surface)>,
}

impl<'a> OnRecord<'a> {
    /// The uses of all surfaces that do what this kind does, or of all.
    ///
    /// # Errors
    /// What of the log must be read first.
    pub fn read(asked: &Asked<'a>, kind: Option<Kind>) -> Result<Self, Wanted> {
        let surfaces = counting(asked, kind);
        let (from, to) = (begins(asked, &surfaces), asked.now);
        let wanted = Wanted::Uses(from);
        let Some(records) = asked.past.get(&wanted) else {
            return Err(wanted);
        };
        let mut stays = stays(records, asked.state, from);
        stays.retain(|stay| surfaces.iter().any(|(tag, _)| **tag == stay.tag));
        Ok(Self {
            from,
            to,
            stays,
            surfaces,
        })
    }

    /// Whole days on record.
    pub fn days(&self) -> i64 {
        (self.to - self.from).num_days().max(0)
    }

    /// The home's own surfaces that count and are not gone.
    pub fn own(&self) -> usize {
        self.count(Owned::Owned)
    }

    /// Rented ones that are here.
    pub fn rented(&self) -> usize {
        self.count(Owned::Rented)
    }

    /// The home's own that are out of service now.
    pub fn own_out(&self) -> usize {
        let out = |surface: &&Surface| matches!(surface.life, Life::OutOfService { .. });
        let own = self.surfaces.iter().map(|(_, surface)| *surface);
        own.filter(|surface| surface.owned == Owned::Owned)
            .filter(out)
            .count()
    }

    fn count(&self, owned: Owned) -> usize {
        let here = |surface: &&Surface| !matches!(surface.life, Life::Retired { .. });
        let of = self.surfaces.iter().map(|(_, surface)| *surface);
        of.filter(|surface| surface.owned == owned)
            .filter(here)
            .count()
    }

    /// Days that the home's own surfaces were under a bed, days that it owned them, and how often one came from its bed.
    pub fn of_own(&self) -> (f64, f64, usize) {
        let own = |tag: &Tag| {
            let mut own = self.surfaces.iter();
            own.any(|(of, surface)| *of == tag && surface.owned == Owned::Owned)
        };
        let stays = || self.stays.iter().filter(|stay| own(&stay.tag));
        let used: f64 = stays()
            .map(|stay| days(stay.under(self.from, self.to)))
            .sum();
        let left = stays().filter(|stay| stay.left.is_some_and(|left| left >= self.from));
        let owned = self
            .surfaces
            .iter()
            .filter(|(_, surface)| surface.owned == Owned::Owned)
            .map(|(_, surface)| {
                let gone = match &surface.life {
                    Life::Retired { since } => Some(*since),
                    Life::Placed { .. }
                    | Life::Soiled(_)
                    | Life::Ready { .. }
                    | Life::OutOfService { .. } => None,
                };
                days(overlap((Some(surface.added), gone), self.from, self.to))
            })
            .sum();
        (used, owned, left.count())
    }

    /// How many surfaces were in their turnover on average.
    pub fn in_turnover(&self) -> f64 {
        let all: f64 = self
            .stays
            .iter()
            .filter(|stay| stay.left.is_some())
            .map(|stay| days(overlap((stay.left, stay.free), self.from, self.to)))
            .sum();
        let days = days(self.to - self.from);
        if days > 0.0 { all / days } else { 0.0 }
    }
}

/// So much time in days.
pub(super) fn days(time: TimeDelta) -> f64 {
    time.as_seconds_f64() / 86_400.0
}

fn counting<'a>(asked: &Asked<'a>, kind: Option<Kind>) -> Vec<(&'a Tag, &'a Surface)> {
    let state = asked.state;
    let counts = |surface: &Surface| {
        !surface.owned.is_of_others()
            && kind.is_none_or(|kind| does(state.profile_of(surface).kind, kind))
    };
    let all = state.surfaces.iter();
    all.filter(|(_, surface)| counts(surface)).collect()
}

/// From which midnight on records count: of a year, or from the day after half of the surfaces that are here had come
/// into the register.
fn begins(asked: &Asked<'_>, surfaces: &[(&Tag, &Surface)]) -> DateTime<Utc> {
    let zone = &asked.facility.zone;
    let midnight = |day: chrono::NaiveDate| zone.instant(day.and_time(NaiveTime::MIN));
    let mut added: Vec<DateTime<Utc>> = surfaces
        .iter()
        .filter(|(_, surface)| !matches!(surface.life, Life::Retired { .. }))
        .map(|(_, surface)| surface.added)
        .collect();
    added.sort_unstable();
    let Some(half) = added.get(added.len().saturating_sub(1) / 2) else {
        return asked.now;
    };
    let today = zone.local(asked.now).date();
    let known = zone.local(*half).date() + Days::new(1);
    midnight(known.max(today - Days::new(WINDOW_DAYS))).min(asked.now)
}
