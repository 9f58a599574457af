//! What the home's own records say about how its surfaces were used: over which days, under which beds, for how long.
//! Decides which surfaces and which days count; leaves what follows from it to `fleet_cost` and `fleet_size`.
//!
//! A year at most is looked back on, so that summers and winters weigh alike and a home's newer ways count; whole days of it, up to
//! the last midnight, so that days added up and divided by how many they are come out as they are said. What was under
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
    /// From this midnight on.
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
        let (from, to) = span(asked, &surfaces);
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

    /// Whole days on record: a day on which clocks change is one, too.
    pub fn days(&self) -> i64 {
        days(self.to - self.from).round() as i64
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

    /// Those that are under a bed now, whose ever they are.
    pub fn under_bed(&self) -> usize {
        let under = |(_, surface): &&(&Tag, &Surface)| surface.bed().is_some();
        self.surfaces.iter().filter(under).count()
    }

    fn count(&self, owned: Owned) -> usize {
        let here = |surface: &&Surface| !matches!(surface.life, Life::Retired { .. });
        let of = self.surfaces.iter().map(|(_, surface)| *surface);
        of.filter(|surface| surface.owned == owned)
            .filter(here)
            .count()
    }

    /// How the home's own surfaces were used.
    pub fn of_own(&self) -> OfOwn {
        let mut of = OfOwn::default();
        for (tag, surface) in &self.surfaces {
            if surface.owned != Owned::Owned {
                continue;
            }
            let gone = match &surface.life {
                Life::Retired { since } => Some(*since),
                Life::Placed { .. }
                | Life::Soiled(_)
                | Life::Ready { .. }
                | Life::OutOfService { .. } => None,
            };
            let had = overlap((Some(surface.added), gone), self.from, self.to);
            if had <= TimeDelta::zero() {
                continue;
            }
            of.surfaces += 1;
            of.part += usize::from(had < self.to - self.from);
            of.had_days += days(had);
            for stay in self.stays.iter().filter(|stay| stay.tag == **tag) {
                of.under_days += days(stay.under(self.from, self.to));
                let left = stay
                    .left
                    .is_some_and(|left| (self.from..self.to).contains(&left));
                of.left += usize::from(left);
            }
        }
        of
    }

    /// How many surfaces were in use on average, from a bed to ready again: the home's own under a bed, others under one, and
    /// those in their turnover.
    pub fn in_use(&self) -> InUse {
        let own = self.of_own().under_days;
        let (mut under, mut turning) = (0.0, 0.0);
        for stay in &self.stays {
            under += days(stay.under(self.from, self.to));
            if stay.left.is_some() {
                turning += days(overlap((stay.left, stay.free), self.from, self.to));
            }
        }
        InUse {
            own: self.on_average(own),
            rented: self.on_average((under - own).max(0.0)),
            turning: self.on_average(turning),
        }
    }

    /// So many at once on average, where this is what their days add up to.
    pub fn on_average(&self, added_up: f64) -> f64 {
        let all = days(self.to - self.from);
        if all > 0.0 { added_up / all } else { 0.0 }
    }
}

/// How the home's own surfaces were used in that time.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct OfOwn {
    /// Days that they were under a bed, added up.
    pub under_days: f64,
    /// Days that the home had them, added up.
    pub had_days: f64,
    /// How many they were, those that have gone since among them.
    pub surfaces: usize,
    /// How many of them came or went in that time.
    pub part: usize,
    /// How often one came from its bed.
    pub left: usize,
}

/// Surfaces in use on average.
#[derive(Clone, Copy, Debug)]
pub(super) struct InUse {
    /// The home's own, under a bed.
    pub own: f64,
    /// Rented ones, under a bed.
    pub rented: f64,
    /// In their turnover.
    pub turning: f64,
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

/// From which midnight to which records count: of a year, or from the day after half of the surfaces that are here had come
/// into the register, up to the last one.
fn span(asked: &Asked<'_>, surfaces: &[(&Tag, &Surface)]) -> (DateTime<Utc>, DateTime<Utc>) {
    let zone = &asked.facility.zone;
    let midnight = |day: chrono::NaiveDate| zone.instant(day.and_time(NaiveTime::MIN));
    let mut added: Vec<DateTime<Utc>> = surfaces
        .iter()
        .filter(|(_, surface)| !matches!(surface.life, Life::Retired { .. }))
        .map(|(_, surface)| surface.added)
        .collect();
    added.sort_unstable();
    let today = zone.local(asked.now).date();
    let to = midnight(today).min(asked.now);
    let Some(half) = added.get(added.len().saturating_sub(1) / 2) else {
        return (to, to);
    };
    let known = zone.local(*half).date() + Days::new(1);
    let from = midnight(known.max(today - Days::new(WINDOW_DAYS)));
    (from.min(to), to)
}
