//! How many surfaces to own so that one is nearly always free, and how many are asked for, from the records.
//!
//! Decides chances and counts. Leaves to the caller which promise is made, what a day without a surface costs, and every
//! sentence. A surface in repair is not counted as free: whoever asks adds those.
//!
//! Sources. Requests from outside, as if without end: Erlang's loss formula, B(0) = 1, B(n) = A B(n-1) / (n + A B(n-1)),
//! with the offered load A = requests a day x mean days of use (teletraffic texts). It needs requests that come independently of
//! each other, and those that find none are met elsewhere; how stays are spread about their mean does not matter. Where the
//! records say how many were in use day by day, their mean is the load (Little's law: what comes in times how long it stays), without
//! either count and with the days of stays that are not over. Requests
//! from so many beds, each of which asks only while it has none: Engset's formula, the same recursion with the beds that are
//! left. It is Erlang's where the beds are many. Where they are few, plenty of surfaces lose less than Erlang says, and too few of
//! them more: a bed that was refused asks again.
//!
//! Tried: `erlang_e1` 0.9.0-rc.1 is within 1.7e-15 of the formula in fifty digits, but has been a release
//! candidate since 2024, takes a negative load and knows no Engset; the ratio pmf / cdf of `statrs` 0.19.1's Poisson is within
//! 1.8e-13, and this recursion within 1.5e-15. So the recursion is our own; limits are `statrs`'s gamma and Student's t.

use chrono::{DateTime, TimeDelta, Utc};
use statrs::distribution::{ContinuousCDF, Gamma, StudentsT};

/// The largest offered load that is worked out: a thousand surfaces in use at once.
pub const MAX_LOAD: f64 = 1000.0;

/// The boldest promise: one request in a million finds none.
pub const LEAST_SHORTFALL: f64 = 0.000_001;

/// The most surfaces a curve is drawn for.
pub const MOST_SURFACES: u32 = 2000;

/// Beds are few where there are fewer than so many of them for each surface in use on average: from ten on, both formulas
/// name the same number of surfaces or differ by one (a test holds it for loads up to 40 and promises from 0.5% to 20%).
pub const FEW_BEDS: f64 = 10.0;

/// How sure limits are, both together: common practice.
pub const CONFIDENCE: f64 = 0.95;

const SECONDS_IN_DAY: f64 = 86_400.0;

/// Why there is no figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FleetFault {
    /// Requests a day are no number from 0 up.
    Requests,
    /// Days of use are no number above 0.
    Stay,
    /// The load is no number from 0 to [`MAX_LOAD`].
    Load,
    /// The load leaves no bed that could ask: there must be more beds than surfaces in use on average.
    Beds,
    /// The promised shortfall is no share from [`LEAST_SHORTFALL`] to less than 1.
    Shortfall,
    /// The time that is looked at has no length.
    Window,
    /// A use that ends before it begins.
    Backwards,
    /// No use has ended in that time, so nobody knows how long one lasts.
    NoneEnded,
}

/// Where requests come from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Demand {
    /// From outside, however many are in use already.
    Open {
        /// Surfaces that would be in use on average if there were always one, 0 to [`MAX_LOAD`].
        load: f64,
    },
    /// From so many beds, one surface each at most.
    Beds {
        /// Surfaces that would be in use on average if there were always one, 0 to less than `beds`.
        load: f64,
        /// How many beds could ask.
        beds: u32,
    },
}

impl Demand {
    /// The share of requests that find none where so many are owned, 0 to 1.
    ///
    /// # Errors
    /// [`FleetFault::Load`], [`FleetFault::Beds`].
    pub fn shortfall(self, surfaces: u32) -> Result<f64, FleetFault> {
        let checked = self.checked()?;
        Ok((1..=surfaces).fold(1.0, |before, n| checked.next(before, n)))
    }

    /// The fewest that keep the share of requests that find none at `promise` or under.
    ///
    /// # Errors
    /// As [`Demand::shortfall`], and [`FleetFault::Shortfall`].
    pub fn fewest(self, promise: f64) -> Result<u32, FleetFault> {
        let checked = self.checked()?;
        if !(LEAST_SHORTFALL..1.0).contains(&promise) {
            return Err(FleetFault::Shortfall);
        }
        let mut shortfall = 1.0;
        let mut surfaces = 0;
        while shortfall > promise {
            surfaces += 1;
            shortfall = checked.next(shortfall, surfaces);
        }
        Ok(surfaces)
    }

    /// The shortfall with 0, 1, 2 … surfaces, up to `most` or [`MOST_SURFACES`].
    ///
    /// # Errors
    /// As [`Demand::shortfall`].
    pub fn curve(self, most: u32) -> Result<Vec<f64>, FleetFault> {
        let checked = self.checked()?;
        let mut curve = vec![1.0];
        let mut shortfall = 1.0;
        for n in 1..=most.min(MOST_SURFACES) {
            shortfall = checked.next(shortfall, n);
            curve.push(shortfall);
        }
        Ok(curve)
    }

    fn checked(self) -> Result<Checked, FleetFault> {
        let (Demand::Open { load } | Demand::Beds { load, .. }) = self;
        if !(0.0..=MAX_LOAD).contains(&load) {
            return Err(FleetFault::Load);
        }
        let Demand::Beds { beds, .. } = self else {
            return Ok(Checked {
                rate: load,
                others: None,
            });
        };
        let free = f64::from(beds) - load;
        if free <= 0.0 {
            return Err(FleetFault::Beds);
        }
        // With one for everybody each bed has one a share load / beds of the time: load / free for one day without.
        Ok(Checked {
            rate: load / free,
            others: Some(beds - 1),
        })
    }
}

/// A demand whose figures are in their ranges.
#[derive(Clone, Copy)]
struct Checked {
    /// Requests in one mean stay: of all, or of each bed that has none.
    rate: f64,
    /// The other beds that one that asks sees; `None` where requests have no end.
    others: Option<u32>,
}

impl Checked {
    /// The shortfall with `n` surfaces, from that with one fewer.
    fn next(self, before: f64, n: u32) -> f64 {
        let asking = match self.others {
            None => 1.0,
            // Of the other beds, n - 1 have one while the last is free.
            Some(others) => f64::from((others + 1).saturating_sub(n)),
        };
        let asked = self.rate * asking * before;
        asked / (f64::from(n) + asked)
    }
}

/// Surfaces that would be in use on average if there were always one: requests a day times days of use.
///
/// # Errors
/// [`FleetFault::Requests`], [`FleetFault::Stay`], and [`FleetFault::Load`] where the product is out of range.
pub fn offered_load(requests_a_day: f64, stay_days: f64) -> Result<f64, FleetFault> {
    if !(requests_a_day >= 0.0 && requests_a_day.is_finite()) {
        return Err(FleetFault::Requests);
    }
    if !(stay_days > 0.0 && stay_days.is_finite()) {
        return Err(FleetFault::Stay);
    }
    let load = requests_a_day * stay_days;
    if load <= MAX_LOAD {
        Ok(load)
    } else {
        Err(FleetFault::Load)
    }
}

/// A surface under somebody.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Use {
    /// When it was placed.
    pub from: DateTime<Utc>,
    /// When it was free again; `None` where it is still there.
    pub to: Option<DateTime<Utc>>,
    /// Whether it was asked for when it began: not so where it was there already when the records begin.
    pub asked: bool,
}

/// A figure with its [`CONFIDENCE`] limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The figure.
    pub value: f64,
    /// Not less than this.
    pub low: f64,
    /// Not more than this.
    pub high: f64,
}

/// What the records of some time say about the demand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recorded {
    /// How many days that is.
    pub days: f64,
    /// Requests in that time, those that found none included.
    pub requests: u32,
    /// Uses that ended in it.
    pub ended: u32,
    /// Days that surfaces were in use in it, added up.
    pub used_days: f64,
    /// Requests a day.
    pub requests_a_day: Estimate,
    /// Days that one use lasts.
    pub stay_days: Estimate,
    /// How far the mean over that time may be off by its own [`PARTS`] parts, to either side.
    parts: f64,
}

/// A time is cut into so many parts whose means are compared: few and long, because neighbours in time are alike.
const PARTS: u32 = 5;

impl Recorded {
    /// How many were in use on average: what [`Recorded::load`] is the figure of.
    #[must_use]
    pub fn in_use(&self) -> f64 {
        self.used_days / self.days
    }

    /// The offered load: the mean number in use, with how far it may be from what it would be over many years.
    ///
    /// A stay that began before the time, or goes on after it, counts for its days in it; requests that found none are in it
    /// only where something was got for them. Whoever has one today has it tomorrow, so days are no independent looks.
    /// Limits are the wider of two, each with Student's t:
    ///
    /// - *by the model*: with stays about exponential of the mean m, the number in use has the variance v and is alike over
    ///   the time c (its correlation falls as e^(-t/c)): from outside v = load and c = m (M/M/oo; Reynolds, The covariance structure of
    ///   queues, 1968, from memory), from so many beds, each on its own, v = beds p (1 - p) and c = m (1 - p), where p is the share that has
    ///   one. The mean over T days has the variance 2 v (c / T) (1 - (c / T) (1 - e^(-T/c))), which is the double integral of that correlation;
    /// - *by its parts*: the mean and spread of five equal parts of the time (batch means: Schmeiser, Operations Research, 1982, and
    ///   Law, Simulation Modeling and Analysis, from memory). It sees what no model knows, such as a demand that rises.
    ///
    /// Measured in 300 invented homes a row, 31 or 20 of 36 beds with one or 9 in use from outside, stays of 40 or 130 days, over 89 and 365
    /// days: limits of 95 in 100 held the mean in 92 to 100 of 100 homes where stays are exponential or more even, in 87 to 97 where most are
    /// short and a few very long. Weeks taken as if each stood alone held 17 to 91.
    #[must_use]
    pub fn load(&self, beds: Option<u32>) -> Estimate {
        let value = self.in_use();
        let (variance, alike) = match beds.map(f64::from).filter(|beds| *beds > 0.0) {
            None => (value, self.stay_days.value),
            Some(beds) => {
                let share = (value / beds).min(1.0);
                let free = 1.0 - share;
                (beds * share * free, self.stay_days.value * free)
            }
        };
        let alike = alike / self.days;
        // What is alike over no time at all has no spread over any.
        let over = if alike > 0.0 {
            2.0 * variance * alike * (1.0 - alike * (1.0 - (-1.0 / alike).exp()))
        } else {
            0.0
        };
        let model = student(self.ended.saturating_sub(1).max(1)) * over.max(0.0).sqrt();
        let most = beds.map_or(f64::INFINITY, f64::from).max(value);
        let off = model.max(self.parts);
        Estimate {
            value,
            low: (value - off).max(0.0),
            high: (value + off).min(most),
        }
    }
}

/// The demand from the records between two moments, and the requests of that time that found none.
///
/// The mean stay is the days of use in the window over the uses that ended in it, so that stays that are still going on
/// count for as long as they have lasted; its limits are those of the mean of an exponential seen for so long, which is
/// the count of those that ended turned over. Limits of the requests are Garwood's exact ones for a Poisson count (Biometrika, 1936;
/// gamma quantiles).
///
/// # Errors
/// [`FleetFault::Window`], [`FleetFault::Backwards`], [`FleetFault::NoneEnded`].
pub fn recorded(
    uses: &[Use],
    found_none: u32,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
) -> Result<Recorded, FleetFault> {
    let days = days(from, to);
    if days <= 0.0 {
        return Err(FleetFault::Window);
    }
    let (mut requests, mut ended) = (found_none, 0u32);
    for one in uses {
        if one.to.is_some_and(|end| end < one.from) {
            return Err(FleetFault::Backwards);
        }
        if one.asked && (from..to).contains(&one.from) {
            requests = requests.saturating_add(1);
        }
        if one.to.is_some_and(|end| (from..to).contains(&end)) {
            ended += 1;
        }
    }
    if ended == 0 {
        return Err(FleetFault::NoneEnded);
    }
    let used_days = used_between(uses, from, to);
    let (fewest, most) = poisson_limits(ended);
    let stay_days = Estimate {
        value: used_days / f64::from(ended),
        low: used_days / most,
        high: used_days / fewest,
    };
    let (low, high) = poisson_limits(requests);
    let requests_a_day = Estimate {
        value: f64::from(requests) / days,
        low: low / days,
        high: high / days,
    };
    Ok(Recorded {
        days,
        requests,
        ended,
        used_days,
        requests_a_day,
        stay_days,
        parts: by_parts(uses, from, to),
    })
}

/// Days of use between two moments, added up.
fn used_between(uses: &[Use], from: DateTime<Utc>, to: DateTime<Utc>) -> f64 {
    let of = |one: &Use| {
        let end = one.to.map_or(to, |end| end.min(to));
        days(one.from.max(from), end).max(0.0)
    };
    uses.iter().map(of).sum()
}

/// How far the mean number in use may be off to either side, by the spread of the means of its parts.
fn by_parts(uses: &[Use], from: DateTime<Utc>, to: DateTime<Utc>) -> f64 {
    let (count, length) = (f64::from(PARTS), days(from, to) / f64::from(PARTS));
    #[expect(
        clippy::cast_possible_truncation,
        reason = "milliseconds of some years"
    )]
    let at = |part: u32| {
        let after = f64::from(part) * length * SECONDS_IN_DAY * 1e3;
        from + TimeDelta::milliseconds(after.round() as i64)
    };
    let means: Vec<f64> = (0..PARTS)
        .map(|part| used_between(uses, at(part), at(part + 1)) / length)
        .collect();
    let mean = means.iter().sum::<f64>() / count;
    let squares: f64 = means.iter().map(|one| (one - mean).powi(2)).sum();
    student(PARTS - 1) * (squares / (count - 1.0) / count).sqrt()
}

/// So many standard errors to either side hold the mean so surely.
fn student(freedom: u32) -> f64 {
    StudentsT::new(0.0, 1.0, f64::from(freedom)).map_or(f64::NAN, |law| law.inverse_cdf(1.0 - TAIL))
}

fn days(from: DateTime<Utc>, to: DateTime<Utc>) -> f64 {
    (to - from).as_seconds_f64() / SECONDS_IN_DAY
}

const TAIL: f64 = (1.0 - CONFIDENCE) / 2.0;

/// Garwood's exact limits of the mean of a Poisson count.
fn poisson_limits(count: u32) -> (f64, f64) {
    let quantile = |shape: f64, share: f64| {
        Gamma::new(shape, 1.0).map_or(f64::NAN, |gamma| gamma.inverse_cdf(share))
    };
    let count = f64::from(count);
    let low = if count > 0.0 {
        quantile(count, TAIL)
    } else {
        0.0
    };
    (low, quantile(count + 1.0, 1.0 - TAIL))
}

#[cfg(test)]
mod tests;
