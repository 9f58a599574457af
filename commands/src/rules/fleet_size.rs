//! How many surfaces to own so that one is nearly always free, and how many are asked for, from the records.
//!
//! Decides chances and counts. Leaves to the caller which promise is made, what a day without a surface costs, and every
//! sentence. A surface in repair is not counted as free: whoever asks adds those.
//!
//! Sources. Requests from outside, as if without end: Erlang's loss formula, B(0) = 1, B(n) = A B(n-1) / (n + A B(n-1)),
//! with the offered load A = requests a day x mean days of use (teletraffic texts). It needs requests that come independently of
//! each other, and those that find none are met elsewhere; how stays are spread about their mean does not matter. Requests
//! from so many beds, each of which asks only while it has none: Engset's formula, the same recursion with the beds that are
//! left. It is Erlang's where the beds are many. Where they are few, plenty of surfaces lose less than Erlang says, and too few of
//! them more: a bed that was refused asks again.
//!
//! Tried: `erlang_e1` 0.9.0-rc.1 is within 1.7e-15 of the formula in fifty digits, but has been a release
//! candidate since 2024, takes a negative load and knows no Engset; the ratio pmf / cdf of `statrs` 0.19.1's Poisson is within
//! 1.8e-13, and this recursion within 1.5e-15. So the recursion is our own; limits are `statrs`'s gamma and beta.

use chrono::{DateTime, Utc};
use statrs::distribution::{Beta, ContinuousCDF, Gamma};

/// The largest offered load that is worked out: a thousand surfaces in use at once.
pub const MAX_LOAD: f64 = 1000.0;

/// The boldest promise: one request in a million finds none.
pub const LEAST_SHORTFALL: f64 = 0.000_001;

/// The most surfaces a curve is drawn for.
pub const MOST_SURFACES: u32 = 2000;

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
    /// Requests in that time, those that found none included.
    pub requests: u32,
    /// Uses that ended in it.
    pub ended: u32,
    /// Days that surfaces were in use in it, added up.
    pub used_days: f64,
    /// Requests a day.
    pub requests_a_day: Estimate,
    /// The offered load.
    pub load: Estimate,
}

/// The demand from the records between two moments, and the requests of that time that found none.
///
/// The mean stay is the days of use in the window over the uses that ended in it, so that stays that are still going on
/// count for as long as they have lasted. Limits of the requests are Garwood's exact ones for a Poisson count (Biometrika, 1936;
/// gamma quantiles). Limits of the load carry the uncertainty of both counts: the exact ones for the ratio of two Poisson
/// rates (Przyborowski and Wilenski, Biometrika, 1940; beta quantiles), which takes stays as about exponential; where they vary
/// less, as most do, the limits are a little wide.
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
    let (mut requests, mut ended, mut used_days) = (found_none, 0u32, 0.0);
    for one in uses {
        if one.to.is_some_and(|end| end < one.from) {
            return Err(FleetFault::Backwards);
        }
        if (from..to).contains(&one.from) {
            requests = requests.saturating_add(1);
        }
        if one.to.is_some_and(|end| (from..to).contains(&end)) {
            ended += 1;
        }
        let end = one.to.map_or(to, |end| end.min(to));
        used_days += self::days(one.from.max(from), end).max(0.0);
    }
    let (low, high) = poisson_limits(requests);
    let requests_a_day = Estimate {
        value: f64::from(requests) / days,
        low: low / days,
        high: high / days,
    };
    Ok(Recorded {
        requests,
        ended,
        used_days,
        requests_a_day,
        load: ratio(requests, ended, used_days / days).ok_or(FleetFault::NoneEnded)?,
    })
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

/// `above / below * scale` with its exact limits; `None` where nothing is below.
fn ratio(above: u32, below: u32, scale: f64) -> Option<Estimate> {
    if below == 0 {
        return None;
    }
    let (k, m) = (f64::from(above), f64::from(below));
    // Of both counts together the share of the upper one is binomial; its limits are Clopper and Pearson's.
    let odds = |a: f64, b: f64, share: f64| {
        // The other tail of the mirrored beta, so that neither end loses digits.
        let beta = Beta::new(a, b).ok()?.inverse_cdf(share);
        let other = Beta::new(b, a).ok()?.inverse_cdf(1.0 - share);
        Some(beta / other * scale)
    };
    Some(Estimate {
        value: k / m * scale,
        low: if above == 0 {
            0.0
        } else {
            odds(k, m + 1.0, TAIL)?
        },
        high: odds(k + 1.0, m, 1.0 - TAIL)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::TimeDelta;
    use proptest::prelude::*;

    fn open(load: f64) -> Demand {
        Demand::Open { load }
    }

    fn close(found: f64, wanted: f64, within: f64) {
        assert!(
            (found - wanted).abs() <= within,
            "{found} is not {wanted} within {within}"
        );
    }

    /// Tables of Erlang's loss formula as printed in teletraffic texts (Boucher, Traffic System Design Handbook; from memory),
    /// recomputed with scipy 1.17.1: the load at which so many lose 1%, 2%, 5%.
    #[test]
    fn loads_of_the_printed_tables() {
        for (n, one, two, five) in [
            (1, 0.0101, 0.0204, 0.0526),
            (2, 0.1526, 0.2235, 0.3813),
            (3, 0.4555, 0.6022, 0.8994),
            (4, 0.8694, 1.0923, 1.5246),
            (5, 1.3608, 1.6571, 2.2185),
            (6, 1.9090, 2.2759, 2.9603),
            (7, 2.5009, 2.9354, 3.7378),
            (8, 3.1276, 3.6271, 4.5430),
            (9, 3.7825, 4.3447, 5.3702),
            (10, 4.4612, 5.0840, 6.2157),
            (15, 8.1080, 9.0096, 10.6327),
            (20, 12.0306, 13.1815, 15.2493),
        ] {
            for (promise, load) in [(0.01, one), (0.02, two), (0.05, five)] {
                // Four places: the printed load is within half of the last of the true one.
                assert_eq!(
                    open(load - 0.000_06).fewest(promise),
                    Ok(n),
                    "{n} {promise}"
                );
                assert_eq!(
                    open(load + 0.000_06).fewest(promise),
                    Ok(n + 1),
                    "{n} {promise}"
                );
            }
        }
    }

    /// Exact fractions of the formula (1/2 for one server and a load of 1 is in every text), and values by scipy 1.17.1 `poisson.pmf / cdf`.
    #[test]
    fn shares_of_the_formula() {
        for (n, load, share) in [
            (1, 1.0, 1.0 / 2.0),
            (2, 1.0, 1.0 / 5.0),
            (3, 2.0, 4.0 / 19.0),
            (4, 2.0, 2.0 / 21.0),
        ] {
            close(open(load).shortfall(n).unwrap(), share, 1e-15);
        }
        for (n, load, share) in [
            (5, 3.0, 0.110_054),
            (6, 4.0, 0.117_162),
            (10, 5.0, 0.018_385),
            (20, 12.0, 0.009_796),
            (21, 13.0, 0.011_087),
        ] {
            close(open(load).shortfall(n).unwrap(), share, 0.000_000_51);
        }
        let curve = open(4.5).curve(12).unwrap();
        let wanted = [
            1.0, 0.818_182, 0.648, 0.492_901, 0.356_712, 0.243_021, 0.154_166, 0.090_170,
            0.048_272, 0.023_567, 0.010_494, 0.004_275, 0.001_600,
        ];
        assert_eq!(curve.len(), wanted.len());
        for (found, wanted) in curve.into_iter().zip(wanted) {
            close(found, wanted, 0.000_000_51);
        }
        let fewest = [0.05, 0.02, 0.01].map(|promise| open(4.5).fewest(promise).unwrap());
        assert_eq!(fewest, [8, 10, 11]);
        close(offered_load(0.1, 45.0).unwrap(), 4.5, 1e-15);
    }

    /// scipy 1.17.1 `binom.pmf(n, beds - 1, load / beds) / binom.cdf(…)`: what one bed that asks sees of the others.
    #[test]
    fn shares_of_so_many_beds() {
        for (beds, load, n, share) in ENGSET {
            let demand = Demand::Beds { load, beds };
            close(demand.shortfall(n).unwrap(), share, 1e-12 * share);
        }
        // Two beds, one surface, each bed with one half of the time if it could: a request finds the other in use half of the time.
        let two = Demand::Beds { load: 1.0, beds: 2 };
        close(two.shortfall(1).unwrap(), 0.5, 1e-15);
        assert_eq!(two.shortfall(2), Ok(0.0));
    }

    const ENGSET: [(u32, f64, u32, f64); 5] = [
        (10, 4.5, 6, 0.12212792158502764),
        (40, 4.5, 10, 0.006501399868835976),
        (40, 12.0, 15, 0.07631703068056515),
        (100, 20.0, 28, 0.01294450592919134),
        (8, 3.0, 7, 0.0010428428649902344),
    ];

    /// Garwood's limits as printed in tables of the Poisson distribution (from memory): a count of 0, 1, 5, 10.
    #[test]
    fn limits_of_a_count() {
        for (count, low, high) in [
            (0, 0.0, 3.689),
            (1, 0.025_3, 5.572),
            (5, 1.623, 11.668),
            (10, 4.795, 18.390),
        ] {
            let found = poisson_limits(count);
            close(found.0, low, 0.000_51);
            close(found.1, high, 0.000_51);
        }
    }

    fn at(day: i64) -> DateTime<Utc> {
        DateTime::UNIX_EPOCH + TimeDelta::days(day)
    }

    fn used(from: i64, to: Option<i64>) -> Use {
        Use {
            from: at(from),
            to: to.map(at),
        }
    }

    #[test]
    fn demand_from_the_records() {
        let uses = [
            used(-10, Some(10)),
            used(5, Some(35)),
            used(20, None),
            used(50, Some(90)),
            used(95, Some(130)),
            used(-40, Some(-5)),
            used(100, None),
        ];
        let found = recorded(&uses, 2, at(0), at(100)).unwrap();
        assert_eq!((found.requests, found.ended), (6, 3));
        close(found.used_days, 10.0 + 30.0 + 80.0 + 40.0 + 5.0, 1e-9);
        close(found.requests_a_day.value, 0.06, 1e-15);
        close(found.load.value, 0.06 * 165.0 / 3.0, 1e-12);
        // scipy 1.17.1: binomtest(6, 9).proportion_ci("exact"), as odds x 1.65; gamma.ppf for the requests.
        close(found.load.low, 0.7047714549750129, 1e-9);
        close(found.load.high, 20.392724260425872, 1e-9);
        close(found.requests_a_day.low, 0.022018942534908506, 1e-12);
        close(found.requests_a_day.high, 0.13059474022518686, 1e-12);
        let nothing = recorded(&[used(-5, Some(3))], 0, at(0), at(30)).unwrap();
        assert_eq!((nothing.load.value, nothing.load.low), (0.0, 0.0));
        assert!(nothing.load.high > 0.0);
        assert_eq!(
            recorded(&[used(1, None)], 0, at(0), at(30)),
            Err(FleetFault::NoneEnded)
        );
        assert_eq!(
            recorded(&[used(9, Some(8))], 0, at(0), at(30)),
            Err(FleetFault::Backwards)
        );
        assert_eq!(recorded(&[], 0, at(3), at(3)), Err(FleetFault::Window));
    }

    #[test]
    fn edges_and_what_is_out_of_range() {
        assert_eq!(open(0.0).shortfall(0), Ok(1.0));
        assert_eq!(open(0.0).shortfall(1), Ok(0.0));
        assert_eq!(open(4.5).shortfall(0), Ok(1.0));
        assert_eq!(open(0.0).fewest(0.01), Ok(1));
        assert!(open(150.0).shortfall(200).unwrap() > 0.0);
        assert_eq!(open(1.0).shortfall(u32::from(u16::MAX)), Ok(0.0));
        for load in [-0.1, f64::NAN, f64::INFINITY, 1000.1] {
            assert_eq!(open(load).shortfall(3), Err(FleetFault::Load));
            assert_eq!(open(load).fewest(0.01), Err(FleetFault::Load));
            assert_eq!(
                Demand::Beds { load, beds: 9 }.curve(3),
                Err(FleetFault::Load)
            );
        }
        for beds in [0, 1, 4] {
            assert_eq!(
                Demand::Beds { load: 4.0, beds }.shortfall(3),
                Err(FleetFault::Beds)
            );
        }
        for promise in [0.0, -0.1, 1.0, 5.0, 1e-9, f64::NAN] {
            assert_eq!(open(4.5).fewest(promise), Err(FleetFault::Shortfall));
        }
        assert_eq!(offered_load(-1.0, 5.0), Err(FleetFault::Requests));
        assert_eq!(offered_load(f64::NAN, 5.0), Err(FleetFault::Requests));
        assert_eq!(offered_load(1.0, 0.0), Err(FleetFault::Stay));
        assert_eq!(offered_load(1.0, f64::INFINITY), Err(FleetFault::Stay));
        assert_eq!(offered_load(40.0, 30.0), Err(FleetFault::Load));
    }

    prop_compose! {
        fn demand()(load in 0.01..40.0f64, more in 1u32..60, open in any::<bool>()) -> Demand {
            if open {
                Demand::Open { load }
            } else {
                Demand::Beds { load, beds: load.ceil() as u32 + more }
            }
        }
    }

    proptest! {
        #[test]
        fn the_fewest_keep_the_promise_and_one_fewer_does_not(demand in demand(), promise in 0.001..0.999) {
            let fewest = demand.fewest(promise).unwrap();
            prop_assert!(demand.shortfall(fewest).unwrap() <= promise);
            prop_assert!(fewest > 0 && demand.shortfall(fewest - 1).unwrap() > promise);
            let curve = demand.curve(fewest + 5).unwrap();
            prop_assert!(curve.is_sorted_by(|a, b| a >= b));
            prop_assert_eq!(curve[fewest as usize], demand.shortfall(fewest).unwrap());
        }

        /// With twice as many surfaces as the load, so many beds never lose more than endless ones; very many lose as good as the
        /// same.
        #[test]
        fn few_beds_are_kinder(load in 0.1..20.0f64, spare in 0u32..20, more in 0u32..50) {
            let least = load.ceil() as u32;
            let surfaces = 2 * least + spare;
            let endless = open(load).shortfall(surfaces).unwrap();
            let few = Demand::Beds { load, beds: least + 1 + more }.shortfall(surfaces).unwrap();
            prop_assert!(few <= endless * (1.0 + 1e-12));
            let many = Demand::Beds { load, beds: 2_000_000_000 }.shortfall(surfaces).unwrap();
            prop_assert!((many / endless - 1.0).abs() < 1e-5);
        }

        /// The limits hold the figure, and more records bring them nearer.
        #[test]
        fn limits_hold_the_figure(requests in 0u32..500, ended in 1u32..500, scale in 0.01..10.0) {
            let one = ratio(requests, ended, scale).unwrap();
            prop_assert!(one.low <= one.value && one.value <= one.high);
            let ten = ratio(requests * 10, ended * 10, scale).unwrap();
            prop_assert!(ten.high - ten.low < one.high - one.low);
            let (low, high) = poisson_limits(requests);
            prop_assert!(low <= f64::from(requests) && f64::from(requests) < high);
        }

        #[test]
        fn no_numbers_stop_it(load: f64, beds: u32, surfaces in 0u32..3000, promise: f64) {
            for demand in [open(load), Demand::Beds { load, beds }] {
                if let Ok(share) = demand.shortfall(surfaces) {
                    prop_assert!((0.0..=1.0).contains(&share));
                }
                let _fewest = demand.fewest(promise);
            }
            let _load = offered_load(load, promise);
        }
    }
}
