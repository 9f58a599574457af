//! How long a filter may go without a look: what the looks of a home say, and how far a home lets them.
//!
//! Decides what counts as dirty, whose looks go together, and the days to the next look. Leaves the arithmetic of lives to
//! `filter_life`, keeping looks to the state, what a home allows to its policies, and every sentence to the caller.
//!
//! - *Dirty* is dusty or clogged, whatever was done about it: a look is to come before the dust counts. A damaged filter says
//!   nothing of dust, so its life ends at the look before; one that is changed while clean was clean so long.
//! - *Whose*: those of the control unit itself, which has the air at its bed and the pull of its own fan, where it was found dirty
//!   [`OWN_ENOUGH`] times; else with those of its care unit, which has the same air, floors and laundry; else with the whole home's.
//!   Only filters of one kind go together: a rinsed one is less new than a new one.
//! - *The careful side*: the curve's chance is taken at its upper bound, [`SURE`]; a shape is taken only where the looks insist on it
//!   ([`SHAPE_SHOWN`]), and never one under 1, by which an early clog would make old filters safer; the worse of the curve and of what was
//!   seen without any curve (Turnbull's estimate, where [`STEPS_REST_ON`] filters reached that age) holds, whether or not a test would let the curve stand: nobody is told a day by which more
//!   were dirty than the home allows because a curve runs above them; where even a day is too long, it is a day, and it is said ([`By::EvenADay`]).
//! - *Steady*: a cycle of one filter grows by half at most beyond what was said of it before, and a new filter's by half beyond what that control
//!   unit went before; it is cut down at once, stands on steps ([`STEPS`]), and stays where it would grow by one of them, so that a look
//!   more does not move it to and fro. Looking less often makes the spans longer and so the bound higher: a cycle that ran away would
//!   pull itself back.
//!
//! Measured by `cargo run --release -p loftwatch-commands --example filter_homes` in twenty invented homes of three care units with twelve
//! surfaces each, whose lives are Weibull's, with the usual policies (20 in 100, 28 days at most), a profile's 7 days and a limit of 90,
//! one look in four a day late: the second year. A new filter's days: from the tenth to the ninetieth of a hundred.
//!
//! | shape, scale in days | by the profile: dirty of 100 looks, days apart | as learned | a new filter's days | looks that move them |
//! | --- | --- | --- | --- | --- |
//! | 1, 30 | 22 · 7.0 | 12 · 3.5 | 2 to 8 | 50% |
//! | 1, 90 | 7 · 6.8 | 10 · 9.5 | 7 to 21 | 66% |
//! | 1, 200 | 3 · 6.8 | 8 · 19.2 | 21 to 28 | 56% |
//! | 2, 30 | 24 · 7.0 | 12 · 3.2 | 3 to 17 | 43% |
//! | 2, 90 | 6 · 6.9 | 10 · 10.9 | 12 to 28 | 81% |
//! | 2, 200 | 2 · 6.8 | 5 · 22.7 | 28 | 47% |
//! | 3.5, 25 | 28 · 7.0 | 15 · 3.2 | 8 to 17 | 43% |
//! | 3.5, 60 | 12 · 7.0 | 11 · 6.1 | 21 to 28 | 56% |
//! | 3.5, 120 | 3 · 6.8 | 8 · 20.5 | 28 | 66% |
//!
//! So the promise of 20 in 100 is kept with a margin, which is the care's price, in dusty air by looking sooner and in clean air with a third
//! of the looks. Days move often, because what was seen moves with every look. Most moves are those of age: where filters wear (a shape above 1) an old one is looked at sooner than a new one, and
//! the maker's limit cuts the last days of each. With the same chance every day taken always, one look in four moves the days instead of
//! two in three and as many filters are dirty over all, but those of old filters far more often than was promised.

use chrono::NaiveDate;

use super::filter_life::{
    Cycle, Found, Life, Look, Mass, Span, dirty_within, half_by, life, more_early, steady, turnbull,
};
use crate::choice::{Action, Finding};

/// A group of looks that found so many dirty is judged by them alone. Common practice: below five failures a
/// shape is guesswork.
pub const OWN_ENOUGH: u32 = 5;

/// Steps are heard at an age that so many filters are known to have reached. Common practice: a share of fewer is chance.
pub const STEPS_REST_ON: usize = 5;

/// How sure the bound of the chance is, in standard deviations: four to one (0.8416 is the 80% point of the normal distribution).
pub const SURE: f64 = 0.8416;

/// A shape is taken where twice the gain of the logarithm of the likelihood is above this: 95% of the chi-squared distribution with
/// one degree of freedom (Meeker and Escobar, ch. 8; NIST/SEMATECH e-Handbook, table of critical values: 3.841).
pub const SHAPE_SHOWN: f64 = 3.841;

/// The days on which a learned cycle stands: about a fifth apart, whole weeks from two on.
pub const STEPS: &[u32] = &[
    1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 17, 21, 28, 35, 42, 56, 70, 84, 112, 140, 168,
];

/// What a home allows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// The chance that it is dirty before the next look, above 0 and below 1.
    pub chance: f64,
    /// Nothing is learned from fewer looks.
    pub looks: u32,
    /// Whether a look may come later than the profile says.
    pub longer: bool,
    /// The most days without a look, whatever was learned.
    pub most: u32,
}

/// Looks that go together.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Looks {
    /// The lives in them.
    pub spans: Vec<Span>,
    /// How many looks.
    pub looks: u32,
    /// How many of them found it dirty.
    pub dirty: u32,
    /// At how many control units.
    pub units: u32,
}

/// Whose looks were taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Whose {
    /// The control unit's own.
    Own,
    /// With the others of its care unit.
    Unit,
    /// With all others of the home.
    Home,
}

/// What was learned.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// What lives follow.
    pub life: Life,
    /// How they were seen to end, without any curve; nothing where there is no estimate. The worse of both holds.
    pub steps: Option<Vec<Mass>>,
    /// Whether they follow no one curve: more were dirty early than it lets chance do.
    pub apart: bool,
    /// Whose looks are in it.
    pub whose: Whose,
    /// They.
    pub from: Looks,
}

impl Learned {
    /// The chance that a filter that is clean at an age is dirty so many days later; `None` where there is no estimate.
    #[must_use]
    pub fn chance(&self, age: f64, days: f64) -> Option<f64> {
        let curve = self.by_curve(age, days)?;
        Some(self.by_steps(age, days).unwrap_or(0.0).max(curve))
    }

    /// The same by the curve alone.
    #[must_use]
    pub fn by_curve(&self, age: f64, days: f64) -> Option<f64> {
        let [now, then] = [age, age + days].map(|age| self.life.dirty_by(age));
        let (now, then) = (1.0 - now?, 1.0 - then?);
        Some(if now > 0.0 { 1.0 - then / now } else { 1.0 })
    }

    /// The same by the steps alone; `None` where fewer than [`STEPS_REST_ON`] filters are known to have reached that age.
    #[must_use]
    pub fn by_steps(&self, age: f64, days: f64) -> Option<f64> {
        let reached = |span: &&Span| span.by.map_or(span.after >= age, |by| by > age);
        if self.from.spans.iter().filter(reached).count() < STEPS_REST_ON {
            return None;
        }
        dirty_within(self.steps.as_deref()?, age, days)
    }

    /// The longest time to the next look at a filter that is clean at an age, on the careful side ([`Life::sure_cycle`]), and by the
    /// steps; `None` where there is no estimate. Where even one day is more than the chance, it is one day, and its chance says so.
    #[must_use]
    pub fn cycle(&self, age: f64, chance: f64, limit: u32) -> Option<Cycle> {
        let curve = self.life.sure_cycle(age, chance, limit, SURE)?;
        let kept = |days: &u32| {
            let steps = self.by_steps(age, f64::from(*days));
            steps.is_none_or(|steps| steps <= chance + 1e-9)
        };
        let days = (1..=curve.days).take_while(kept).last().unwrap_or(1);
        Some(Cycle {
            days,
            chance: self.chance(age, f64::from(days))?,
            at_limit: curve.at_limit && days == curve.days,
        })
    }

    /// The age by which half of them are dirty, by the worse of both where they follow no one curve; `None` where there is no estimate.
    #[must_use]
    pub fn half(&self) -> Option<f64> {
        let curve = self.life.age_at(0.5)?;
        let steps = self.steps.as_deref().filter(|_| self.apart);
        let steps = steps.and_then(half_by);
        Some(steps.map_or(curve, |steps| steps.min(curve)))
    }
}

/// Whether a filter that was dirty at an age was so long before the usual: where looks tell, one in twenty or fewer of its like
/// are by then; where nobody knows yet, within a quarter of the profile's days. Common practice: then the cause is looked for, such as
/// a draught, lint or a blanket over the intake.
#[must_use]
pub fn early(usual: Option<&Learned>, age: f64, profile_days: u32) -> bool {
    let chance = match usual.map(|usual| usual.life) {
        Some(Life::NoFailures { mean_at_least }) => Some(-(-age / mean_at_least).exp_m1()),
        Some(Life::AllDirty { .. }) => return false,
        Some(Life::Weibull { .. } | Life::Exponential { .. }) => {
            usual.and_then(|usual| usual.chance(0.0, age))
        }
        None => None,
    };
    chance.map_or(4.0 * age <= f64::from(profile_days), |chance| {
        chance <= EARLY
    })
}

/// The share of filters that may be dirty by an age that is called early.
pub const EARLY: f64 = 0.05;

/// The look after which the next is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct At {
    /// How old the filter is that is in it now, in days of use.
    pub age: u32,
    /// It is dusty and was left in.
    pub left_dusty: bool,
    /// The days of the profile.
    pub usual: u32,
    /// Days that are left to the maker's limit.
    pub limit: u32,
    /// The days that were said at the look before.
    pub before: Option<u32>,
    /// It is the filter that they were said of, and they were a cycle of it: it grows from them.
    pub same: bool,
    /// The most days that there were between two looks at it.
    pub longest: u32,
}

/// When to look again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Next {
    /// In so many days, at least 1.
    pub days: u32,
    /// What made it so.
    pub by: By,
}

/// What the days to the next look come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// The profile: nothing was learned.
    Profile,
    /// The chance that the home allows, or what was said before where it would be one step longer.
    Chance,
    /// Even a day is more than the chance that the home allows: nothing shorter can be said.
    EvenADay,
    /// It would be longer, and grows step by step.
    Growing,
    /// It would be longer, and the home wants no more than the profile's.
    NoLonger,
    /// It would be longer, and a filter that is dusty is looked at no later than the profile says.
    Dusty,
    /// It would be longer, and the home lets none go longer.
    Most,
    /// It would be longer, or the profile's days would, and the maker's limit comes first.
    Limit,
    /// Every filter was dirty at its first look: half of the soonest.
    AllDirty,
    /// It would be longer, and the last one was dirty long before the usual: the cause may be there still.
    Early,
}

/// The days that hold after a look: what was said then, as far as the home lets it now; the profile's where nothing was said.
///
/// A home that stops learning keeps what was said where it is sooner, until the next look: nothing that is due becomes undue.
#[must_use]
pub fn holds(said: Option<u32>, usual: u32, terms: Option<Terms>) -> u32 {
    let Some(said) = said else { return usual };
    match terms {
        Some(terms) if terms.longer => said.min(terms.most.max(usual)),
        Some(_) | None => said.min(usual),
    }
}

/// How a filter was found.
#[must_use]
pub fn found(finding: Finding) -> Found {
    match finding {
        Finding::Clean => Found::Clean,
        Finding::Dusty | Finding::Clogged => Found::Dirty,
        Finding::Damaged => Found::Unknown,
    }
}

/// A look, as lives are told from it.
#[must_use]
pub fn look(day: NaiveDate, finding: Finding, action: Action) -> Look {
    Look {
        day,
        found: found(finding),
        renewed: action != Action::Left,
    }
}

/// A day in days of use: the days before it on which the unit stood on a shelf, where no air is drawn, are taken off.
///
/// `idle` has the day it left a bed and the day it came to one, in order.
#[must_use]
pub fn in_use(day: NaiveDate, idle: &[(NaiveDate, NaiveDate)]) -> NaiveDate {
    let off: i64 = idle
        .iter()
        .filter(|(left, _)| *left < day)
        .map(|(left, came)| (day.min(*came) - *left).num_days())
        .sum();
    day - chrono::TimeDelta::days(off)
}

impl Looks {
    /// Adds others.
    pub fn add(&mut self, others: &Self) {
        self.spans.extend_from_slice(&others.spans);
        self.looks += others.looks;
        self.dirty += others.dirty;
        self.units += others.units;
    }

    fn failures(&self) -> u32 {
        u32::try_from(self.spans.iter().filter(|span| span.by.is_some()).count())
            .unwrap_or(u32::MAX)
    }
}

/// What a control unit's filter follows, from the narrowest looks that are enough: its own, those of its care unit with them,
/// those of the whole home with them. `None` where all of them are fewer than `floor`, or say nothing.
#[must_use]
pub fn learn(own: &Looks, unit: &Looks, home: &Looks, floor: u32) -> Option<Learned> {
    let mut from = Looks::default();
    for (whose, more) in [(Whose::Own, own), (Whose::Unit, unit), (Whose::Home, home)] {
        from.add(more);
        let enough = from.failures() >= OWN_ENOUGH && from.looks >= floor;
        if enough || whose == Whose::Home {
            if from.looks < floor.max(1) {
                return None;
            }
            let (life, apart) = plainest(&from.spans)?;
            let known = matches!(life, Life::Weibull { .. } | Life::Exponential { .. });
            return Some(Learned {
                life,
                steps: known.then(|| turnbull(&from.spans).ok()).flatten(),
                apart,
                whose,
                from,
            });
        }
    }
    None
}

/// The life with a shape above 1 where the looks insist on it, else the same chance every day; and whether they follow neither.
fn plainest(spans: &[Span]) -> Option<(Life, bool)> {
    let shaped = life(spans).ok()?;
    let plain = steady(spans).ok()?;
    let (found, falls) = match (shaped, plain) {
        (
            Life::Weibull {
                shape,
                log_likelihood: with,
                ..
            },
            Life::Exponential {
                log_likelihood: without,
                ..
            },
        ) => {
            let insist = 2.0 * (with - without) > SHAPE_SHOWN;
            let wears = insist && shape > 1.0;
            (if wears { shaped } else { plain }, insist && !wears)
        }
        (shaped, _) => (shaped, false),
    };
    Some((found, falls || more_early(spans, &found)))
}

/// When to look again after a look: by the profile where nothing was learned, or the home allows nothing to be (`terms`), and never
/// beyond the maker's limit.
#[must_use]
pub fn next(learned: Option<&Learned>, at: At, terms: Option<Terms>) -> Next {
    let limit = at.limit.max(1);
    let usual = at.usual.clamp(1, limit);
    let profile = Next {
        days: usual,
        by: if limit < at.usual {
            By::Limit
        } else {
            By::Profile
        },
    };
    let (Some(learned), Some(terms)) = (learned, terms) else {
        return profile;
    };
    if let Life::AllDirty { by } = learned.life {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "an age in days, 1 to ten years"
        )]
        let half = ((by / 2.0) as u32).max(1);
        return Next {
            days: half.min(usual),
            by: By::AllDirty,
        };
    }
    // Beyond the longest step nothing is asked of the arithmetic.
    let longest = STEPS.last().copied().unwrap_or(1);
    let age = f64::from(at.age);
    let Some(free) = learned.cycle(age, terms.chance, longest) else {
        return profile;
    };
    let step = |days: u32| {
        let steps = STEPS.iter().take_while(|step| **step <= days);
        steps.last().copied().unwrap_or(1)
    };
    let over = free.chance > terms.chance + 1e-9;
    let mut chance = Next {
        days: step(free.days),
        by: if over { By::EvenADay } else { By::Chance },
    };
    // One step longer is not worth a change.
    let above = |before: u32| STEPS.iter().find(|step| **step > before).copied();
    if let Some(before) = at.before
        && above(before) == Some(chance.days)
    {
        chance.days = before.max(1);
    }
    // Half as much again, and one day at least: beyond what was said of this filter, and of a new one beyond the longest that its control
    // unit went so far, or the profile's. An old filter's short days, or those that the maker's limit cut, do not make a new one begin again.
    let grown = match at.before {
        Some(before) if at.same => before,
        before => before.unwrap_or(0).max(at.longest).max(at.usual),
    };
    let bounds = [
        (
            step((grown.saturating_mul(3) / 2).max(grown + 1)),
            By::Growing,
        ),
        (if terms.longer { u32::MAX } else { at.usual }, By::NoLonger),
        (if at.left_dusty { at.usual } else { u32::MAX }, By::Dusty),
        (terms.most.max(at.usual), By::Most),
        (limit, By::Limit),
    ];
    bounds.into_iter().fold(chance, |next, (days, by)| {
        if days < next.days {
            Next {
                days: days.max(1),
                by,
            }
        } else {
            next
        }
    })
}

#[cfg(test)]
mod tests;
