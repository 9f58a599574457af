//! Which way readings go over time, whether that is more than chance, when a limit would be crossed, and which
//! reading stands out.
//!
//! Decides figures only. Leaves to the caller which readings belong together (one placement, one setting), how many are
//! enough to speak of, what is chance enough to ignore, and every sentence: the chat says "trending lower, inspect".
//!
//! Sources. Slope: the median of all slopes between two readings at different times (Theil 1950; Sen, JASA 1968, who gives
//! the limits too; Gilbert, Statistical Methods for Environmental Pollution Monitoring, 1987, ch. 16). Significance: Mann and Kendall's S,
//! with Kendall's variance where values or times are tied; up to ten readings by counting every order they could have come in, as Gilbert
//! prefers for so few. Chart of single values: mean and moving range (NIST/SEMATECH e-Handbook 6.3.2.2), no finer than the step of a value.
//!
//! Tried: `mann_kendall` 0.1.0, the only crate found, takes evenly spaced single-precision values, rounds the variance down to a
//! whole number and mistakes ties: p is .0244 for 1, 2, 3, 4, 5 (pymannkendall 1.4.3: .0275) and .535 for the EPA's example below (.0920).
//! So the counting is our own; the normal distribution is `statrs`'s.

use statrs::distribution::{ContinuousCDF, Normal};

/// Up to so many readings the significance is counted, not approximated.
pub const EXACT_UP_TO: usize = 10;

/// The most readings that are taken, the newest where there are more: pairs grow with their square.
pub const MOST_POINTS: usize = 500;

/// How sure the limits of a slope are, both together.
pub const CONFIDENCE: f64 = 0.95;

/// Mean of the range of two normal values, in standard deviations (d2, as tables of control charts print it).
const D2: f64 = 1.128;

/// Upper limit of a moving range of two, in mean ranges (D4, from the same tables).
const D4: f64 = 3.267;

/// A reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// When, in days after a moment of the caller's choice; hours are parts of a day.
    pub days: f64,
    /// What was read, in any unit.
    pub value: f64,
}

/// The line that readings follow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trend {
    /// Units a day.
    pub slope: f64,
    /// The slope is not less than this; `None` where so few readings leave it open.
    pub low: Option<f64>,
    /// The slope is not more than this; `None` where so few readings leave it open.
    pub high: Option<f64>,
    /// The median time, through which the line goes…
    pub days: f64,
    /// …at the median value.
    pub value: f64,
    /// Whether it is more than chance.
    pub significance: Significance,
}

/// Mann and Kendall's test of no trend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Significance {
    /// Pairs that rise less pairs that fall.
    pub s: i64,
    /// The variance of S if only chance ordered the readings.
    pub variance: f64,
    /// S drawn one nearer to 0, in standard deviations.
    pub z: f64,
    /// The chance of an S at least as far from 0, both ways, if only chance ordered the readings; 0 to 1.
    pub p: f64,
    /// Whether `p` was counted rather than taken from the normal distribution.
    pub exact: bool,
}

/// Why there is no trend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TrendFault {
    /// Fewer than two different times.
    TooFew,
    /// A time or a value is no number.
    NoNumber,
}

/// When a line meets a limit, in days as the readings count them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Crossing {
    /// The line is there, or beyond it, at the newest reading already.
    Past,
    /// The line does not go towards it.
    Never,
    /// It goes there.
    At {
        /// Where the steepest slope within its limits would meet it; `None` where nobody knows how steep it is.
        earliest: Option<f64>,
        /// Where the line meets it.
        likely: f64,
        /// Where the gentlest slope within its limits would meet it; `None` where that may be never.
        latest: Option<f64>,
    },
}

/// The line that `points` follow, in any order, with what speaks for it.
///
/// # Errors
/// [`TrendFault`].
pub fn trend(points: &[Point]) -> Result<Trend, TrendFault> {
    let points = in_order(points)?;
    let mut slopes = Vec::with_capacity(points.len() * (points.len() - 1) / 2);
    for (place, first) in points.iter().enumerate() {
        for second in &points[place + 1..] {
            if second.days > first.days {
                slopes.push((second.value - first.value) / (second.days - first.days));
            }
        }
    }
    slopes.sort_by(f64::total_cmp);
    let slope = median(&slopes).ok_or(TrendFault::TooFew)?;
    let significance = significance(&points);
    let (low, high) = limits(&slopes, sen_variance(&points));
    let mut days: Vec<f64> = points.iter().map(|point| point.days).collect();
    let mut values: Vec<f64> = points.iter().map(|point| point.value).collect();
    days.sort_by(f64::total_cmp);
    values.sort_by(f64::total_cmp);
    let trend = Trend {
        slope,
        low,
        high,
        days: median(&days).ok_or(TrendFault::TooFew)?,
        value: median(&values).ok_or(TrendFault::TooFew)?,
        significance,
    };
    // Times that are nearly the same, values near the largest number: no figure comes of them.
    if trend.slope.is_finite() && trend.value_at(0.0).is_finite() {
        Ok(trend)
    } else {
        Err(TrendFault::NoNumber)
    }
}

impl Trend {
    /// What the line says for a time, in days as the readings count them.
    #[must_use]
    pub fn value_at(&self, days: f64) -> f64 {
        self.value + self.slope * (days - self.days)
    }

    /// When the line meets `limit`, seen from the newest reading at `newest_days`, which lies on the near side of it where
    /// `falling` says from above, else from below.
    ///
    /// Earliest and latest are where lines through the same middle meet it with the slope's own limits: how readings
    /// scatter about the line is not in them. A date long after the newest reading is no forecast, and a
    /// caller says so.
    #[must_use]
    pub fn crossing(&self, limit: f64, falling: bool, newest_days: f64) -> Crossing {
        let toward = |value: f64| if falling { -value } else { value };
        if toward(self.value_at(newest_days)) >= toward(limit) {
            return Crossing::Past;
        }
        let meets = |slope: f64| {
            let days = self.days + (limit - self.value) / slope;
            (toward(slope) > 0.0 && days.is_finite()).then_some(days)
        };
        let Some(likely) = meets(self.slope) else {
            return Crossing::Never;
        };
        let (steep, gentle) = if falling {
            (self.low, self.high)
        } else {
            (self.high, self.low)
        };
        Crossing::At {
            earliest: steep.and_then(meets),
            likely,
            latest: gentle.and_then(meets),
        }
    }
}

/// Mann and Kendall's test, for readings in any order; equal times are tied and say nothing of each other.
///
/// # Errors
/// [`TrendFault`].
pub fn mann_kendall(points: &[Point]) -> Result<Significance, TrendFault> {
    Ok(significance(&in_order(points)?))
}

/// The newest points by time, checked.
fn in_order(points: &[Point]) -> Result<Vec<Point>, TrendFault> {
    if points
        .iter()
        .any(|point| !point.days.is_finite() || !point.value.is_finite())
    {
        return Err(TrendFault::NoNumber);
    }
    let mut points = points.to_vec();
    points.sort_by(|a, b| a.days.total_cmp(&b.days));
    let points = points.split_off(points.len().saturating_sub(MOST_POINTS));
    match (points.first(), points.last()) {
        (Some(first), Some(last)) if first.days < last.days => Ok(points),
        _none_or_one_time => Err(TrendFault::TooFew),
    }
}

fn median(sorted: &[f64]) -> Option<f64> {
    let middle = sorted.len() / 2;
    let upper = sorted.get(middle)?;
    if sorted.len().is_multiple_of(2) {
        Some(sorted[middle - 1].midpoint(*upper))
    } else {
        Some(*upper)
    }
}

/// Sen's limits: so many slopes from either end of the sorted ones. Few readings have none, and readings that are all
/// alike, where chance could have done nothing.
fn limits(slopes: &[f64], variance: f64) -> (Option<f64>, Option<f64>) {
    let Ok(normal) = Normal::new(0.0, 1.0) else {
        return (None, None);
    };
    if variance <= 0.0 {
        return (None, None);
    }
    let half = normal.inverse_cdf(0.5 + CONFIDENCE / 2.0) * variance.sqrt();
    // So many slopes lie outside on either side; less than one, and there is no limit.
    let outside = ((slopes.len() as f64 - half) / 2.0).round_ties_even();
    if outside < 1.0 {
        return (None, None);
    }
    let outside = outside as usize;
    let low = slopes.get(outside - 1).copied();
    let high = slopes
        .len()
        .checked_sub(outside)
        .and_then(|place| slopes.get(place))
        .copied();
    (low, high)
}

/// How often each value comes, where it comes more than once.
fn ties(mut values: Vec<f64>) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values
        .chunk_by(|a, b| a == b)
        .map(|tied| tied.len() as f64)
        .filter(|count| *count > 1.0)
        .collect()
}

fn ties_of(points: &[Point]) -> (Vec<f64>, Vec<f64>) {
    let days = ties(points.iter().map(|point| point.days).collect());
    let values = ties(points.iter().map(|point| point.value).collect());
    (days, values)
}

fn of_ties(ties: &[f64], what: impl Fn(f64) -> f64) -> f64 {
    ties.iter().map(|t| what(*t)).sum()
}

/// The variance of S as Sen's limits take it (his eq. 2.6).
fn sen_variance(points: &[Point]) -> f64 {
    let (days, values) = ties_of(points);
    let third = |t: f64| t * (t - 1.0) * (2.0 * t + 5.0);
    (third(points.len() as f64) - of_ties(&days, third) - of_ties(&values, third)) / 18.0
}

/// Kendall's variance of S, with ties in either or both.
fn kendall_variance(points: &[Point]) -> f64 {
    let (days, values) = ties_of(points);
    let n = points.len() as f64;
    let second = |t: f64| t * (t - 1.0);
    let third = |t: f64| t * (t - 1.0) * (t - 2.0);
    let mut variance = sen_variance(points);
    variance += of_ties(&days, second) * of_ties(&values, second) / (2.0 * n * (n - 1.0));
    if n > 2.0 {
        variance +=
            of_ties(&days, third) * of_ties(&values, third) / (9.0 * n * (n - 1.0) * (n - 2.0));
    }
    variance
}

/// Of points in order of time.
fn significance(points: &[Point]) -> Significance {
    let mut s = 0i64;
    for (place, first) in points.iter().enumerate() {
        for second in &points[place + 1..] {
            if second.days > first.days {
                s += i64::from(second.value > first.value) - i64::from(second.value < first.value);
            }
        }
    }
    let variance = kendall_variance(points);
    let z = if s == 0 || variance <= 0.0 {
        0.0
    } else {
        (s - s.signum()) as f64 / variance.sqrt()
    };
    let exact = points.len() <= EXACT_UP_TO;
    let p = if exact {
        counted(points, s)
    } else {
        Normal::new(0.0, 1.0).map_or(1.0, |normal| (2.0 * normal.sf(z.abs())).min(1.0))
    };
    Significance {
        s,
        variance,
        z,
        p,
        exact,
    }
}

/// The share of all orders of the values, dealt out over the same times, whose S is at least as far from 0.
///
/// Goes through the times one after the other; what matters of the past is only which values are left, so there are
/// at most 2^10 states and not 10! orders.
fn counted(points: &[Point], s: i64) -> f64 {
    use std::collections::BTreeMap;
    let mut values: Vec<f64> = points.iter().map(|point| point.value).collect();
    values.sort_by(f64::total_cmp);
    let left: Vec<u8> = values
        .chunk_by(|a, b| a == b)
        .map(|tied| u8::try_from(tied.len()).unwrap_or(u8::MAX))
        .collect();
    // Which values are left, and in how many ways each S so far comes about.
    let mut states = BTreeMap::from([(left, BTreeMap::from([(0i64, 1.0f64)]))]);
    for same_time in points.chunk_by(|a, b| a.days == b.days) {
        let mut next: BTreeMap<Vec<u8>, BTreeMap<i64, f64>> = BTreeMap::new();
        for (left, sums) in &states {
            for (dealt, ways) in deals(left, same_time.len()) {
                let rest: Vec<u8> = left.iter().zip(&dealt).map(|(l, d)| l - d).collect();
                let step = rises_less_falls(&dealt, &rest);
                let to = next.entry(rest).or_default();
                for (sum, before) in sums {
                    *to.entry(sum + step).or_default() += before * ways;
                }
            }
        }
        states = next;
    }
    let (mut far, mut all) = (0.0, 0.0);
    for (sum, ways) in states.values().flatten() {
        all += ways;
        if sum.abs() >= s.abs() {
            far += ways;
        }
    }
    far / all
}

/// Every way to take `count` of what is left, and in how many ways each comes about.
fn deals(left: &[u8], count: usize) -> Vec<(Vec<u8>, f64)> {
    let Some((first, others)) = left.split_first() else {
        return if count == 0 {
            vec![(Vec::new(), 1.0)]
        } else {
            Vec::new()
        };
    };
    let mut all = Vec::new();
    for taken in 0..=usize::from(*first).min(count) {
        for (rest, ways) in deals(others, count - taken) {
            let mut dealt = vec![taken as u8];
            dealt.extend(rest);
            all.push((dealt, ways * choose(*first, taken as u8)));
        }
    }
    all
}

fn choose(of: u8, count: u8) -> f64 {
    (0..count).fold(1.0, |ways, k| ways * f64::from(of - k) / f64::from(k + 1))
}

/// Pairs that rise less pairs that fall, from what is dealt now to what comes later.
fn rises_less_falls(dealt: &[u8], rest: &[u8]) -> i64 {
    let mut sum = 0;
    for (value, now) in dealt.iter().enumerate() {
        for (other, later) in rest.iter().enumerate() {
            let sign = i64::from(other > value) - i64::from(other < value);
            sum += sign * i64::from(*now) * i64::from(*later);
        }
    }
    sum
}

/// A chart of single values: where chance alone would keep them.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// The mean of the values.
    pub mean: f64,
    /// The mean of the ranges between each value and the next.
    pub range: f64,
    /// Chance keeps values above this…
    pub low: f64,
    /// …and below this: three standard deviations, taken from the ranges.
    pub high: f64,
    /// Chance keeps ranges below this.
    pub range_high: f64,
}

impl Chart {
    /// The chart of values in order of time, at least two; `None` for fewer, or where one is no number.
    #[must_use]
    pub fn of(values: &[f64]) -> Option<Self> {
        if values.len() < 2 {
            return None;
        }
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        let ranges = values.windows(2).map(|pair| (pair[1] - pair[0]).abs());
        let range = ranges.sum::<f64>() / (values.len() - 1) as f64;
        let chart = Chart {
            mean,
            range,
            low: mean - 3.0 * range / D2,
            high: mean + 3.0 * range / D2,
            range_high: D4 * range,
        };
        (chart.low.is_finite() && chart.high.is_finite()).then_some(chart)
    }

    /// The same where values are told in steps: the standard deviation is taken as one step at least.
    ///
    /// Where most values tie, the ranges between them are nearly none, and one step away would stand out as if the hand had
    /// told it finer than it can. That limits are too narrow where the deviation is below the step of the measure is Wheeler's
    /// rule (Wheeler, EMP III: Evaluating the Measurement Process, "probable error"; from memory); to take the step instead is our own.
    #[must_use]
    pub fn in_steps(self, step: f64) -> Self {
        if self.range / D2 >= step {
            return self;
        }
        Self {
            low: self.mean - 3.0 * step,
            high: self.mean + 3.0 * step,
            ..self
        }
    }

    /// Whether a value stands out.
    #[must_use]
    pub fn stands_out(&self, value: f64) -> bool {
        !(self.low..=self.high).contains(&value)
    }
}

#[cfg(test)]
#[path = "trend/tests.rs"]
mod tests;
