//! Months of the invented home, made from a seed: one deed after another, each at its moment, through the core.
//!
//! Decides what people did and when, and so what a demo finds: habits, a surface that loses loft, dusty air in one
//! unit, low readings and their rechecks, alarms of every kind, turnovers, work that is late. The parts: `rounds`
//! (hand checks), `entry` (how they were entered), `alarms`, `care` (filters, cleaning, turnovers), `bedside` (checklists),
//! `wear` (how surfaces behave), `story` (everything else, line by line).

mod alarms;
mod bedside;
mod care;
mod entry;
mod rounds;
mod story;
mod wear;

use std::collections::BTreeMap;

use anyhow::Context;
use chrono::{DateTime, NaiveDate, TimeDelta, Timelike, Utc};
use commands::ids::{RecordNo, Tag};
use commands::rules::zone::Zone;
use commands::state::{Life, Surface};
use commands::tap::Card;
use commands::{Said, State};
use fastrand::Rng;
use store::Store;

use super::lived::Lived;
use super::people::{Job, Shift, Staff, staff};
use super::{register, setup, zone};
use wear::Wear;

/// Minutes before the demo's start in which nothing happens by chance: what is left then is planned.
const QUIET_MINUTES: i64 = 8 * 60;
/// The home was set up this long after the first midnight, before its first round.
const SET_UP_MINUTES: i64 = 5 * 60;
/// Of a hundred turns, so many are taken by a colleague of the same shift.
const COLLEAGUE_PERCENT: u32 = 15;

/// Something that happens at its moment.
#[derive(Clone, Debug)]
enum Deed {
    Round(rounds::Deed),
    Alarm(alarms::Deed),
    Bedside(bedside::Deed),
    Care(care::Deed),
    Story(story::Deed),
}

/// Lives from midnight of `from` up to `start`.
pub(super) fn live(
    store: &mut Store,
    from: NaiveDate,
    start: DateTime<Utc>,
    seed: u64,
) -> anyhow::Result<()> {
    let mut months = Months::begin(store, from, start, seed)?;
    while let Some(((at, _), deed)) = months.deeds.pop_first() {
        match deed {
            Deed::Round(deed) => rounds::happen(&mut months, at, deed)?,
            Deed::Alarm(deed) => alarms::happen(&mut months, at, deed)?,
            Deed::Bedside(deed) => bedside::happen(&mut months, at, deed)?,
            Deed::Care(deed) => care::happen(&mut months, at, deed)?,
            Deed::Story(deed) => story::happen(&mut months, at, deed)?,
        }
    }
    months.lived.until(start)?;
    months.lived.finish()
}

/// The home while its months are lived.
struct Months<'s> {
    lived: Lived<'s>,
    rng: Rng,
    zone: Zone,
    /// The first day.
    from: NaiveDate,
    /// When the demo begins.
    start: DateTime<Utc>,
    people: Vec<Staff>,
    wear: BTreeMap<Tag, Wear>,
    /// What is still to come; the number keeps those of one moment in order.
    deeds: BTreeMap<(DateTime<Utc>, u64), Deed>,
    planned: u64,
}

impl<'s> Months<'s> {
    fn begin(
        store: &'s mut Store,
        from: NaiveDate,
        start: DateTime<Utc>,
        seed: u64,
    ) -> anyhow::Result<Self> {
        let mut rng = Rng::with_seed(seed);
        let wear = (1..=register::SURFACES + story::ADDED)
            .map(|n| (Tag::from(register::tag(n)), Wear::of(n, &mut rng)))
            .collect();
        let mut months = Self {
            lived: Lived::new(store),
            rng,
            zone: zone()?,
            from,
            start,
            people: staff().collect(),
            wear,
            deeds: BTreeMap::new(),
            planned: 0,
        };
        let at = months.at(from, SET_UP_MINUTES)?;
        setup::type_it(&mut months.lived, from, at)?;
        rounds::plan(&mut months)?;
        alarms::plan(&mut months)?;
        care::plan(&mut months)?;
        bedside::plan(&mut months)?;
        story::plan(&mut months)?;
        Ok(months)
    }

    /// A local moment: so many minutes after midnight of that day.
    fn at(&self, day: NaiveDate, minutes: i64) -> anyhow::Result<DateTime<Utc>> {
        let midnight = day.and_hms_opt(0, 0, 0).context("no midnight")?;
        Ok(self.zone.instant(midnight + TimeDelta::minutes(minutes)))
    }

    /// The days of the history, and the day on which the demo begins.
    fn days(&self) -> impl Iterator<Item = NaiveDate> + use<> {
        let last = self.zone.local(self.start).date();
        self.from.iter_days().take_while(move |day| *day <= last)
    }

    /// Plans a deed; what would come after the demo's start is left for the demo.
    fn plan(&mut self, at: DateTime<Utc>, deed: Deed) {
        if at < self.start {
            self.planned += 1;
            self.deeds.insert((at, self.planned), deed);
        }
    }

    /// That many seconds after `at`, somewhere between the two.
    fn later(&mut self, at: DateTime<Utc>, from_s: i64, to_s: i64) -> DateTime<Utc> {
        at + TimeDelta::seconds(self.rng.i64(from_s..=to_s))
    }

    /// Whether something happens, of a thousand times so often.
    fn chance(&mut self, of_thousand: u32) -> bool {
        self.rng.u32(0..1_000) < of_thousand
    }

    /// Nothing happens by chance so shortly before the demo.
    fn quiet(&self, at: DateTime<Utc>) -> bool {
        self.start - at < TimeDelta::minutes(QUIET_MINUTES)
    }

    fn shift(&self, at: DateTime<Utc>) -> Shift {
        Shift::of(self.zone.local(at).hour())
    }

    fn anybody(&self, job: Job, shift: Shift) -> anyhow::Result<Staff> {
        let found = self
            .people
            .iter()
            .find(|who| who.job == job && who.shift == shift);
        found
            .or_else(|| self.people.iter().find(|who| who.job == job))
            .copied()
            .context("the home has nobody for this job")
    }

    /// The aide of a unit and a shift, or at times a colleague.
    fn aide(&mut self, unit: usize, shift: Shift) -> anyhow::Result<Staff> {
        let unit = if self.rng.u32(0..100) < COLLEAGUE_PERCENT {
            self.rng.usize(0..register::UNITS.len())
        } else {
            unit
        };
        let found = self
            .people
            .iter()
            .find(|who| who.job == Job::Aide && who.unit == Some(unit) && who.shift == shift);
        found.copied().context("the home has no aide for this unit")
    }

    /// The aide for a surface at that time.
    fn aide_for(&mut self, tag: &Tag, at: DateTime<Utc>) -> anyhow::Result<Staff> {
        let unit = self.unit_of(tag).unwrap_or(0);
        let shift = self.shift(at);
        self.aide(unit, shift)
    }

    /// The place of the unit that a surface is in.
    fn unit_of(&self, tag: &Tag) -> Option<usize> {
        let unit = self.state().unit_of(tag)?;
        register::UNITS
            .iter()
            .position(|spec| spec.name == unit.as_str())
    }

    fn state(&self) -> &State {
        &self.lived.state
    }

    fn surface(&self, tag: &Tag) -> anyhow::Result<&Surface> {
        self.state().surfaces.get(tag).context("no such surface")
    }

    /// Days since the beginning, with their fraction.
    fn day(&self, at: DateTime<Utc>) -> f64 {
        let began = self.zone.instant(self.from.into());
        (at - began).num_seconds() as f64 / 86_400.0
    }

    /// A card about a surface as it would be shown at that moment.
    fn card(&self, tag: &Tag, at: DateTime<Utc>, in_round: bool) -> anyhow::Result<Card> {
        let surface = self.surface(tag)?;
        let placed = match &surface.life {
            Life::Placed { no, .. } => *no,
            Life::Soiled(_)
            | Life::Ready { .. }
            | Life::OutOfService { .. }
            | Life::Retired { .. } => RecordNo(0),
        };
        let checked = surface.checks.iter().map(|check| check.no);
        Ok(Card {
            round: in_round
                .then(|| self.state().unit_of(tag).cloned())
                .flatten(),
            tag: tag.clone(),
            seen: checked.fold(placed, RecordNo::max),
            shown: at.timestamp().div_euclid(60),
        })
    }
}

/// A button.
fn tap(tap: &commands::tap::Tap) -> Said {
    Said::Tap {
        id: tap.id(),
        chosen: Vec::new(),
    }
}

fn is_placed(surface: &Surface) -> bool {
    matches!(surface.life, Life::Placed { .. })
}
