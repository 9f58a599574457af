//! How lives are spread, without any shape: Turnbull's estimate for half-open intervals.
//!
//! Decides where the mass lies and how much of it; what it is used for is left to the caller. Within an interval nobody knows
//! where the mass lies, so a picture of it has steps with gaps.

use std::collections::BTreeMap;

use super::{LifeFault, Span, checked};

/// The logarithm of the likelihood is within this of the top, for each life.
const NEAR: f64 = 1e-11;

/// Steps after which the estimate is taken as it is; some hundred are usual. In eight hundred random sets of 20 to 2,000 lives one in
/// thirty ran out of them, all within 2e-8 of the top.
const MOST_STEPS: usize = 5_000;

/// A share of lives that ends in (after, by].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mass {
    /// Not at this age yet, in days.
    pub after: f64,
    /// By this age; `None` where nobody looked so late.
    pub by: Option<f64>,
    /// The share, above 0 and up to 1.
    pub share: f64,
}

/// Where lives end, in order of age; the shares sum to 1.
///
/// Mass can only lie where a span begins and the next thing that happens is that one ends (Turnbull). How much lies in each is
/// found by his self-consistency steps, taken far by Varadhan and Roland's squared extrapolation (Scandinavian Journal of Statistics,
/// 2008) wherever that climbs, until the likelihood is provably within a hair of its top.
///
/// # Errors
/// [`LifeFault`].
pub fn turnbull(spans: &[Span]) -> Result<Vec<Mass>, LifeFault> {
    let spans = checked(spans)?;
    let cells = cells(spans);
    // The cells that a span covers stand next to each other; spans that cover the same are counted.
    let mut covers: BTreeMap<(usize, usize), f64> = BTreeMap::new();
    for span in spans {
        let first = cells.partition_point(|cell| cell.0 < span.after);
        let last = cells.partition_point(|cell| cell.1 <= span.by.unwrap_or(f64::INFINITY));
        *covers.entry((first, last)).or_default() += 1.0;
    }
    let covers: Vec<Cover> = covers
        .into_iter()
        .map(|((first, last), count)| Cover {
            first,
            last,
            part: count / spans.len() as f64,
        })
        .collect();
    let shares = most_likely(&covers, cells.len());
    Ok(cells
        .into_iter()
        .zip(shares)
        .filter(|(_, share)| *share > 1e-9)
        .map(|((after, by), share)| Mass {
            after,
            by: by.is_finite().then_some(by),
            share,
        })
        .collect())
}

/// The share of those clean at an age that is dirty so many days later, as the masses have it; within one, whose days nobody knows,
/// as if spread evenly. `None` where nothing was left clean at that age, or nobody looked later.
#[must_use]
pub fn dirty_within(masses: &[Mass], age: f64, days: f64) -> Option<f64> {
    // How much of a mass comes after an age.
    let after = |mass: &Mass, age: f64| match mass.by {
        None => mass.share,
        Some(by) => mass.share * ((by - age.max(mass.after)) / (by - mass.after)).max(0.0),
    };
    let left = |age: f64| masses.iter().map(|mass| after(mass, age)).sum::<f64>();
    let seen = masses.iter().filter_map(|mass| mass.by).fold(0.0, f64::max);
    let now = left(age);
    (age < seen && now > 1e-9).then(|| 1.0 - left(age + days) / now)
}

/// The age by which half are dirty, in days, as [`dirty_within`] spreads them; `None` where half never were.
#[must_use]
pub fn half_by(masses: &[Mass]) -> Option<f64> {
    let mut dirty = 0.0;
    for mass in masses {
        let by = mass.by?;
        if dirty + mass.share >= 0.5 {
            return Some(mass.after + (by - mass.after) * (0.5 - dirty) / mass.share);
        }
        dirty += mass.share;
    }
    None
}

/// Spans that cover the same cells.
struct Cover {
    first: usize,
    /// One past the last.
    last: usize,
    /// The part of all spans that they are.
    part: f64,
}

impl Cover {
    fn likely(&self, shares: &[f64]) -> f64 {
        shares[self.first..self.last].iter().sum()
    }
}

/// The innermost intervals, in order.
fn cells(spans: &[Span]) -> Vec<(f64, f64)> {
    // At one age ends come before beginnings: (0, 7] and (7, 14] share nothing.
    let mut ends: Vec<(f64, bool)> = spans
        .iter()
        .flat_map(|span| {
            [
                (span.after, true),
                (span.by.unwrap_or(f64::INFINITY), false),
            ]
        })
        .collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    ends.windows(2)
        .filter(|pair| pair[0].1 && !pair[1].1)
        .map(|pair| (pair[0].0, pair[1].0))
        .collect()
}

fn most_likely(covers: &[Cover], cells: usize) -> Vec<f64> {
    let mut shares = vec![1.0 / cells as f64; cells];
    for _ in 0..MOST_STEPS {
        let (first, pull) = step(covers, &shares);
        // The top is no higher above than the strongest pull is above 1, for each life (the likelihood is concave).
        let gap = pull.iter().copied().fold(0.0, f64::max) - 1.0;
        if gap <= NEAR {
            break;
        }
        let (second, _) = step(covers, &first);
        shares = extrapolated(covers, &shares, &first, second);
    }
    shares
}

/// One self-consistency step, and how strongly each cell is pulled: below 1 it loses.
fn step(covers: &[Cover], shares: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let mut pull = vec![0.0; shares.len()];
    for cover in covers {
        let pulls = cover.part / cover.likely(shares);
        for cell in &mut pull[cover.first..cover.last] {
            *cell += pulls;
        }
    }
    let next = shares.iter().zip(&pull).map(|(share, pull)| share * pull);
    (next.collect(), pull)
}

/// Far along the way of two steps, where that is a climb; else their end.
fn extrapolated(covers: &[Cover], from: &[f64], first: &[f64], second: Vec<f64>) -> Vec<f64> {
    let way: Vec<f64> = first.iter().zip(from).map(|(a, b)| a - b).collect();
    let bend: Vec<f64> = second
        .iter()
        .zip(first)
        .zip(&way)
        .map(|((a, b), way)| a - b - way)
        .collect();
    let length = |of: &[f64]| of.iter().map(|x| x * x).sum::<f64>().sqrt();
    let far = length(&way) / length(&bend);
    if !(far.is_finite() && far > 1.0) {
        return second;
    }
    let mut there: Vec<f64> = from
        .iter()
        .zip(way.iter().zip(&bend))
        .map(|(from, (way, bend))| (from + 2.0 * far * way + far * far * bend).max(0.0))
        .collect();
    // A cell that is empty for good cannot come back, so none is emptied quite.
    let sum: f64 = there.iter().sum();
    for (share, safe) in there.iter_mut().zip(&second) {
        *share = (*share / sum).max(safe * 1e-3);
    }
    let sum: f64 = there.iter().sum();
    there.iter_mut().for_each(|share| *share /= sum);
    if log_likelihood(covers, &there) > log_likelihood(covers, &second) {
        there
    } else {
        second
    }
}

/// The logarithm of the likelihood, for each life.
fn log_likelihood(covers: &[Cover], shares: &[f64]) -> f64 {
    let of = |cover: &Cover| cover.part * cover.likely(shares).ln();
    covers.iter().map(of).sum()
}
