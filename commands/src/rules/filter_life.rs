//! How long a filter stays clean, learned from looks that each say only that it got dirty since the look before.
//!
//! Decides lifetimes, chances, the longest cycle of looks, and whether looks let a curve stand (`early`). Leaves to `filter_cycle` what counts as dirty, whose looks go together
//! and what a home allows, and every sentence to the chat: "look every 12 days".
//!
//! A look that finds a clean filter dirty puts its life into (last look that was clean, this look]: interval-censored. One
//! that is clean still, or was changed while clean, has a life beyond its last look.
//!
//! Sources. Without any shape: Turnbull's estimate (JRSS B, 1976) for half-open intervals, as R's packages take them; `lifelines`
//! takes closed ones and finds other figures from the same looks. With one parameter: the exponential, a constant chance a day. With
//! two: Weibull's, S(t) = exp(-(t / scale)^shape), by maximum likelihood (Nelson, Applied Life Data Analysis, 1982;
//! Meeker and Escobar, Statistical Methods for Reliability Data, 1998, ch. 3 and 7). Where the looks cannot tell two
//! parameters apart there is one; where nothing got dirty there is only a bound (Hanley and Lippman-Hand, JAMA 1983).
//!
//! Tried: `survival` 2.0.0 is right to 7e-4 on the published data below (it stops its steps at 5e-5, as R's does), and is 184,000
//! lines with threads and a shim for Python; `solow-duration` 0.7.4 and `inferust` 0.8.2 know no intervals. The likelihood is concave
//! in (shape, log rate), because the extreme value distribution is log-concave (Prékopa), so Newton's own method in `fit.rs` is enough.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

mod early;
mod fit;
mod npmle;

pub use early::more_early;
pub use npmle::{Mass, dirty_within, half_by, turnbull};

/// How sure the bound is where nothing got dirty.
pub const CONFIDENCE: f64 = 0.95;

/// The longest life that is taken, in days: ten years.
pub const MAX_DAYS: f64 = 3653.0;

/// The most lives that are taken, the last where there are more.
pub const MOST_LIVES: usize = 2000;

/// When a filter got dirty, in days after it was new or rinsed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// It was clean still at this age, 0 to [`MAX_DAYS`].
    pub after: f64,
    /// It was dirty by this age, above `after` and up to [`MAX_DAYS`]; `None` where it never was seen dirty.
    pub by: Option<f64>,
}

/// Why lives say nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LifeFault {
    /// There are none, or none was looked at after its first day.
    NoLooks,
    /// An age is no number in its range, or dirty does not come after clean.
    Span,
}

/// What lives follow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Life {
    /// The chance to get dirty changes with age.
    Weibull {
        /// Above 1 it grows with age, below 1 it shrinks.
        shape: f64,
        /// Days at which 63.2% are dirty.
        scale: f64,
        /// Of the likelihood, natural.
        log_likelihood: f64,
        /// How far the looks leave them open.
        spread: Spread,
    },
    /// The same chance every day: what is left where looks cannot tell a shape.
    Exponential {
        /// Mean life in days.
        mean: f64,
        /// Of the likelihood, natural.
        log_likelihood: f64,
        /// How far the looks leave it open.
        spread: Spread,
    },
    /// Nothing got dirty: no estimate, and no date may be named.
    NoFailures {
        /// The mean life is at least so many days, [`CONFIDENCE`] sure, if the chance is the same every day.
        mean_at_least: f64,
    },
    /// Every one was dirty at its first look: no estimate, look sooner.
    AllDirty {
        /// The earliest age at which one was.
        by: f64,
    },
}

/// How far looks leave an estimate open: the inverse of the curvature of the likelihood at its top, which for many looks is the
/// variance of the estimate (Meeker and Escobar, ch. 8). H(t) = exp(a + shape ln(t / unit)).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// The unit of time of `a`, in days.
    pub unit: f64,
    /// Variances of `a`, of both together, of the shape; the last two are 0 where there is no shape.
    pub variance: [f64; 3],
}

/// How long to wait for the next look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycle {
    /// Whole days, at least 1.
    pub days: u32,
    /// The chance that it is dirty before, 0 to 1; above the policy's only where `days` is 1.
    pub chance: f64,
    /// Whether the maker's limit is what ends it.
    pub at_limit: bool,
}

/// How a filter was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    /// Clean still.
    Clean,
    /// Dirty: since some day after the look before.
    Dirty,
    /// It was at its end for another reason, and nobody can say whether it was clean.
    Unknown,
}

/// A look at one filter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// The day.
    pub day: NaiveDate,
    /// How it was found.
    pub found: Found,
    /// Whether it was changed or rinsed then, so that a new life begins.
    pub renewed: bool,
}

/// A life that goes on: a filter that was clean when it was last looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Going {
    /// The day it was new or rinsed.
    pub new: NaiveDate,
    /// The day it was last known clean, from `new` on.
    pub clean: NaiveDate,
}

impl Going {
    /// A life that begins.
    #[must_use]
    pub fn from_new(day: NaiveDate) -> Self {
        Self {
            new: day,
            clean: day,
        }
    }

    /// The life that goes on after a look; `None` until a new one begins. This is what is left of looks that are not kept.
    #[must_use]
    pub fn after(going: Option<Self>, look: Look) -> Option<Self> {
        if look.renewed {
            return Some(Self::from_new(look.day));
        }
        let life = going?;
        if look.day < life.new {
            return Some(life);
        }
        (look.found == Found::Clean).then(|| Self {
            clean: life.clean.max(look.day),
            ..life
        })
    }

    fn age(self, day: NaiveDate) -> f64 {
        (day - self.new).num_days() as f64
    }
}

/// The lives of one unit's filter, from its looks in any order and the life that was going on before the first of them, where
/// that is known.
///
/// Looks before the first renewal say nothing where it is unknown, and a filter that was left dirty says nothing
/// more until it is renewed. Of several looks on a day the worst counts. Dirty on the day it was known clean is dirty within a day.
#[must_use]
pub fn spans(looks: &[Look], before: Option<Going>) -> Vec<Span> {
    let mut looks = looks.to_vec();
    looks.sort_by_key(|look| look.day);
    let mut spans = Vec::new();
    let mut going = before;
    for day in looks.chunk_by(|a, b| a.day == b.day) {
        let on = day[0].day;
        let found = |found| day.iter().any(|look| look.found == found);
        if let Some(life) = going
            && on >= life.new
        {
            if found(Found::Dirty) {
                let after = life.age(life.clean);
                spans.push(Span {
                    after,
                    by: Some(life.age(on).max(after + 1.0)),
                });
                going = None;
            } else if found(Found::Unknown) {
                spans.extend(still_clean(going));
                going = None;
            } else {
                going = Some(Going {
                    clean: life.clean.max(on),
                    ..life
                });
            }
        }
        if day.iter().any(|look| look.renewed) {
            spans.extend(still_clean(going));
            going = Some(Going::from_new(on));
        }
    }
    spans.extend(still_clean(going));
    spans
}

/// The span of a life that ends clean, where it was looked at at all.
fn still_clean(going: Option<Going>) -> Option<Span> {
    let life = going?;
    let after = life.age(life.clean);
    (after > 0.0).then_some(Span { after, by: None })
}

/// What lives follow, by the looks at them.
///
/// Two parameters where some filter was known clean at a greater age than another was known dirty, and the chance does not fall
/// so fast with age that the best shape is no positive number; else one.
///
/// # Errors
/// [`LifeFault`].
pub fn life(spans: &[Span]) -> Result<Life, LifeFault> {
    let spans = checked(spans)?;
    let first_dirty = spans
        .iter()
        .filter_map(|span| span.by)
        .min_by(f64::total_cmp);
    let exposure: f64 = spans.iter().map(|span| span.after).sum();
    let Some(first_dirty) = first_dirty else {
        // P(none dirty) = exp(-exposure / mean) is 5% at the bound.
        return Ok(Life::NoFailures {
            mean_at_least: exposure / -(1.0 - CONFIDENCE).ln(),
        });
    };
    if exposure <= 0.0 {
        return Ok(Life::AllDirty { by: first_dirty });
    }
    let last_clean = spans.iter().map(|span| span.after).fold(0.0, f64::max);
    let weibull = (last_clean > first_dirty)
        .then(|| fit::weibull(spans))
        .flatten();
    Ok(weibull.unwrap_or_else(|| fit::exponential(spans)))
}

/// The same chance every day, whatever a shape would be; a bound where nothing got dirty, as [`life`].
///
/// # Errors
/// [`LifeFault`].
pub fn steady(spans: &[Span]) -> Result<Life, LifeFault> {
    Ok(match life(spans)? {
        Life::Weibull { .. } => fit::exponential(checked(spans)?),
        other @ (Life::Exponential { .. } | Life::NoFailures { .. } | Life::AllDirty { .. }) => {
            other
        }
    })
}

impl Life {
    /// The share that is dirty by an age in days, 0 to 1; `None` where there is no estimate.
    #[must_use]
    pub fn dirty_by(&self, days: f64) -> Option<f64> {
        Some(-(-self.hazard(days)?).exp_m1())
    }

    /// The age by which a share of them is dirty; `None` where there is no estimate, or the share is not above 0 and below 1.
    #[must_use]
    pub fn age_at(&self, share: f64) -> Option<f64> {
        (share > 0.0 && share < 1.0).then_some(())?;
        self.age(-(-share).ln_1p())
    }

    /// The longest time to the next look at a filter that is clean at the age `age_days`, so that the chance that it is dirty before
    /// is at most `chance`, and no longer than the maker's `limit_days`.
    ///
    /// Age 0 gives the cycle of a new filter. A filter that wears (a shape above 1) needs looks nearer to each other as it gets older.
    /// Whole days, rounded down, and at least one. `None` where there is no estimate: keep the maker's or the policy's days;
    /// and where `chance` is not above 0 and below 1, or the age is no number from 0 to [`MAX_DAYS`].
    #[must_use]
    pub fn cycle(&self, age_days: f64, chance: f64, limit_days: u32) -> Option<Cycle> {
        if !(chance > 0.0 && chance < 1.0 && (0.0..=MAX_DAYS).contains(&age_days)) {
            return None;
        }
        let now = self.hazard(age_days)?;
        let free = self.age(now - (-chance).ln_1p())? - age_days;
        // What is a whole day but for the last digits of the arithmetic is one.
        let days = (free + 1e-9).floor();
        let limit = limit_days.max(1);
        let at_limit = days >= f64::from(limit);
        let days = if at_limit {
            limit
        } else {
            (days as u32).max(1)
        };
        let then = self.hazard(age_days + f64::from(days))?;
        Some(Cycle {
            days,
            chance: -(now - then).exp_m1(),
            at_limit,
        })
    }

    /// As [`Self::cycle`], with the chance taken at its upper bound: `sure` standard deviations above the estimate, on the scale of
    /// the logarithm of what happens between the looks (the delta method: Meeker and Escobar, ch. 8). Few looks leave that far above,
    /// so that the cycle is short where little is known.
    #[must_use]
    pub fn sure_cycle(
        &self,
        age_days: f64,
        chance: f64,
        limit_days: u32,
        sure: f64,
    ) -> Option<Cycle> {
        let longest = self.cycle(age_days, chance, limit_days)?;
        let most = -(-chance).ln_1p();
        let fits = |days: &u32| {
            let bound = self.bound(age_days, f64::from(*days), sure);
            bound.is_some_and(|bound| bound <= most)
        };
        let days = (1..=longest.days).take_while(fits).last().unwrap_or(1);
        let (now, then) = (
            self.hazard(age_days)?,
            self.hazard(age_days + f64::from(days))?,
        );
        Some(Cycle {
            days,
            chance: -(now - then).exp_m1(),
            at_limit: longest.at_limit && days == longest.days,
        })
    }

    /// How far the looks leave open what an age and `days` more, at least a part of one, add to the hazard: the standard deviation of its
    /// logarithm. `None` where there is no estimate.
    #[must_use]
    pub fn deviation(&self, age_days: f64, days: f64) -> Option<f64> {
        let variance = match *self {
            Life::Weibull { spread, .. } => {
                let (now, then) = (self.hazard(age_days)?, self.hazard(age_days + days)?);
                let lean = |hazard: f64, days: f64| {
                    if days > 0.0 {
                        hazard * (days / spread.unit).ln()
                    } else {
                        0.0
                    }
                };
                let by_shape = (lean(then, age_days + days) - lean(now, age_days)) / (then - now);
                let [aa, both, ss] = spread.variance;
                aa + 2.0 * by_shape * both + by_shape * by_shape * ss
            }
            Life::Exponential { spread, .. } => spread.variance[0],
            Life::NoFailures { .. } | Life::AllDirty { .. } => return None,
        };
        Some(variance.max(0.0).sqrt())
    }

    /// The upper bound of what an age and `days` more add to the hazard; `None` where there is no estimate.
    fn bound(&self, age: f64, days: f64, sure: f64) -> Option<f64> {
        let added = self.hazard(age + days)? - self.hazard(age)?;
        Some(added * (sure * self.deviation(age, days)?).exp())
    }

    /// Minus the logarithm of the share that is clean at an age.
    fn hazard(&self, days: f64) -> Option<f64> {
        match *self {
            Life::Weibull { shape, scale, .. } => Some((days / scale).powf(shape)),
            Life::Exponential { mean, .. } => Some(days / mean),
            Life::NoFailures { .. } | Life::AllDirty { .. } => None,
        }
    }

    fn age(&self, hazard: f64) -> Option<f64> {
        match *self {
            Life::Weibull { shape, scale, .. } => Some(scale * hazard.powf(shape.recip())),
            Life::Exponential { mean, .. } => Some(mean * hazard),
            Life::NoFailures { .. } | Life::AllDirty { .. } => None,
        }
    }
}

/// The last lives, checked; one that was never looked at is none.
fn checked(spans: &[Span]) -> Result<&[Span], LifeFault> {
    let spans = &spans[spans.len().saturating_sub(MOST_LIVES)..];
    let ages = 0.0..=MAX_DAYS;
    let fits = |span: &Span| {
        ages.contains(&span.after)
            && span
                .by
                .is_none_or(|by| by > span.after && ages.contains(&by))
    };
    if !spans.iter().all(fits) {
        Err(LifeFault::Span)
    } else if spans
        .iter()
        .all(|span| span.after == 0.0 && span.by.is_none())
    {
        Err(LifeFault::NoLooks)
    } else {
        Ok(spans)
    }
}

#[cfg(test)]
mod tests;
