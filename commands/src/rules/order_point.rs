//! When to order more: how fast a part is used, how long the stock lasts, and the count at which to order.
//!
//! Decides figures only. Leaves to the caller how long a delivery takes, how often running out is acceptable,
//! whether there is enough history to say anything, and every sentence.
//!
//! Source: the order point of a stock with Poisson demand, as operations texts give it: the smallest stock whose
//! chance of covering the demand of one delivery time is at least the service level (the newsvendor's
//! F(Q) >= cu / (cu + co)). The quantile is the crate `statrs`, taken without its default features.

use chrono::{Days, NaiveDate};
use statrs::distribution::{DiscreteCDF, Poisson};

/// The most pieces that may be expected in one delivery time; more is a slip of the finger.
pub const MAX_MEAN: f64 = 10_000.0;

/// The highest service level: one delivery in a million finds the shelf empty. Certainty would be no finite stock.
pub const MAX_SERVICE: f64 = 0.999_999;

/// Why there is no order point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OrderFault {
    /// The expected use is no number from 0 to [`MAX_MEAN`].
    Mean,
    /// The service level is no number above 0 and up to [`MAX_SERVICE`].
    Service,
}

/// Pieces used in a day, over the newest `window` days or fewer where less is known; today counts as a whole day.
///
/// `uses` has one date for each piece, in any order: two on a day are two dates. Uses before `first_known` or after
/// `today` are left out. `None` where `first_known` is ahead. A mean over a fixed window is common practice; a
/// few days say little, and the caller decides how many are enough.
#[must_use]
pub fn rate(
    uses: &[NaiveDate],
    first_known: NaiveDate,
    today: NaiveDate,
    window: i64,
) -> Option<f64> {
    let from = days_known_from(first_known, today, window)?;
    let days = (today - from).num_days() + 1;
    let used = uses
        .iter()
        .filter(|day| (from..=today).contains(*day))
        .count();
    #[expect(
        clippy::cast_precision_loss,
        reason = "a list of uses is far shorter than 2^52, and at most a year"
    )]
    Some(used as f64 / days as f64)
}

/// The smallest stock that covers the demand of one delivery time with at least the chance `service`: order when
/// what is on hand, with what is on order, has come down to it.
///
/// `mean_in_lead_time` is the pieces expected to be used in one delivery time (rate times days), 0 to 10,000;
/// `service` is a share, such as 0.95.
///
/// # Errors
/// [`OrderFault`] names the argument that is out of its range or no number.
pub fn order_point(mean_in_lead_time: f64, service: f64) -> Result<u32, OrderFault> {
    if !(0.0..=MAX_MEAN).contains(&mean_in_lead_time) {
        return Err(OrderFault::Mean);
    }
    if !(service > 0.0 && service <= MAX_SERVICE) {
        return Err(OrderFault::Service);
    }
    if mean_in_lead_time == 0.0 {
        return Ok(0);
    }
    let demand = Poisson::new(mean_in_lead_time).map_err(|_| OrderFault::Mean)?;
    u32::try_from(demand.inverse_cdf(service)).map_err(|_| OrderFault::Mean)
}

/// How many days the stock lasts at so many pieces a day; `None` where nothing is used or the rate is no
/// positive number.
#[must_use]
pub fn days_left(on_hand: u32, rate: f64) -> Option<f64> {
    let days = f64::from(on_hand) / rate;
    (rate > 0.0 && rate.is_finite() && days.is_finite()).then_some(days)
}

/// The first day of the window; `None` where nothing is known yet.
fn days_known_from(first_known: NaiveDate, today: NaiveDate, window: i64) -> Option<NaiveDate> {
    let window = Days::new(window.unsigned_abs().saturating_sub(1));
    let oldest = today.checked_sub_days(window).unwrap_or(first_known);
    (first_known <= today).then(|| first_known.max(oldest))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// scipy 1.17.1 `stats.poisson.ppf` at each service level.
    #[test]
    fn order_points_agree_with_scipy() {
        for (mean, points) in [
            (2.0, [3, 3, 4, 5]),
            (3.0, [4, 4, 5, 6]),
            (4.5, [6, 6, 7, 8]),
            (5.0, [6, 7, 8, 9]),
            (8.0, [10, 10, 12, 13]),
        ] {
            for (service, point) in [0.75, 0.8, 0.9, 0.95].into_iter().zip(points) {
                assert_eq!(order_point(mean, service), Ok(point), "{mean} {service}");
            }
        }
        for (mean, points) in [
            (0.001, [0, 0, 0, 0, 0]),
            (0.01, [0, 0, 0, 0, 1]),
            (0.05, [0, 0, 0, 1, 2]),
            (0.1, [0, 0, 1, 1, 2]),
            (0.5, [0, 1, 2, 3, 4]),
            (1.0, [1, 2, 3, 4, 5]),
            (1.3, [1, 3, 3, 5, 6]),
            (12.0, [12, 17, 18, 21, 24]),
            (20.7, [21, 27, 28, 32, 36]),
            (45.0, [45, 54, 56, 61, 67]),
            (100.0, [100, 113, 117, 124, 132]),
            (365.25, [365, 390, 397, 410, 426]),
            (700.0, [700, 734, 744, 762, 783]),
            (750.0, [750, 785, 795, 814, 836]),
            (1000.0, [1000, 1041, 1052, 1074, 1099]),
            (2500.0, [2500, 2564, 2583, 2617, 2656]),
            (5000.0, [5000, 5091, 5117, 5165, 5220]),
            (9999.5, [9999, 10128, 10164, 10233, 10310]),
            (10_000.0, [10_000, 10_128, 10_165, 10_233, 10_310]),
        ] {
            for (service, point) in [0.5, 0.9, 0.95, 0.99, 0.999].into_iter().zip(points) {
                assert_eq!(order_point(mean, service), Ok(point), "{mean} {service}");
            }
        }
        // The ends of the service levels.
        for (service, points) in [
            (1e-9, [0, 0, 14, 816, 9406]),
            (0.01, [0, 0, 34, 927, 9768]),
            (0.999_999, [5, 14, 87, 1154, 10_479]),
        ] {
            for (mean, point) in [0.2, 3.0, 50.0, 1000.0, 10_000.0].into_iter().zip(points) {
                assert_eq!(order_point(mean, service), Ok(point), "{mean} {service}");
            }
        }
    }

    /// The printed table of the Poisson distribution with mean 3, on both sides of each of its steps.
    #[test]
    fn steps_where_a_printed_table_does() {
        for (point, chance) in [
            (0, 0.0498),
            (1, 0.1991),
            (2, 0.4232),
            (3, 0.6472),
            (4, 0.8153),
            (5, 0.9161),
            (6, 0.9665),
            (7, 0.9881),
        ] {
            // A table of four places is right to half of the last.
            assert_eq!(order_point(3.0, chance - 0.000_06), Ok(point));
            assert_eq!(order_point(3.0, chance + 0.000_06), Ok(point + 1));
        }
    }

    #[test]
    fn what_is_no_question_is_refused() {
        for mean in [-0.1, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 10_000.1] {
            assert_eq!(order_point(mean, 0.95), Err(OrderFault::Mean), "{mean}");
        }
        for service in [0.0, -0.5, 1.0, 95.0, 0.999_999_9, f64::NAN, f64::INFINITY] {
            assert_eq!(
                order_point(3.0, service),
                Err(OrderFault::Service),
                "{service}"
            );
        }
        assert_eq!(order_point(0.0, 0.95), Ok(0));
        assert_eq!(order_point(f64::MIN_POSITIVE, 0.95), Ok(0));
    }

    #[test]
    fn the_rate_is_of_the_newest_days() {
        let today = day("2026-06-30");
        let rate = |uses: &[&str], first: &str| {
            let uses: Vec<_> = uses.iter().map(|text| day(text)).collect();
            rate(&uses, day(first), today, 90)
        };
        // 90 days end today and begin on 2 April.
        let uses = ["2026-04-01", "2026-04-02", "2026-06-30", "2026-06-30"];
        assert_eq!(rate(&uses, "2025-01-01"), Some(3.0 / 90.0));
        assert_eq!(rate(&uses, "2026-04-02"), Some(3.0 / 90.0));
        assert_eq!(rate(&uses, "2026-04-03"), Some(2.0 / 89.0));
        assert_eq!(rate(&uses, "2026-06-30"), Some(2.0));
        assert_eq!(rate(&uses, "2026-07-01"), None);
        assert_eq!(rate(&["2026-07-01"], "2026-06-01"), Some(0.0));
        assert_eq!(rate(&[], "2026-06-01"), Some(0.0));
    }

    #[test]
    fn how_long_the_stock_lasts() {
        assert_eq!(days_left(12, 0.5), Some(24.0));
        assert_eq!(days_left(0, 0.5), Some(0.0));
        for rate in [0.0, -1.0, f64::NAN, f64::INFINITY, f64::MIN_POSITIVE] {
            assert_eq!(days_left(12, rate), None, "{rate}");
        }
    }

    /// The distribution summed term by term, for means where the first term is no zero.
    fn chance_of_at_most(point: u32, mean: f64) -> f64 {
        let mut term = (-mean).exp();
        let mut sum = term;
        for k in 1..=point {
            term *= mean / f64::from(k);
            sum += term;
        }
        sum
    }

    proptest! {
        #[test]
        fn it_is_the_smallest_that_is_enough(mean in 0.0..600.0, service in 0.000_1..0.999_9) {
            let point = order_point(mean, service).unwrap();
            prop_assert!(chance_of_at_most(point, mean) >= service - 1e-9);
            if point > 0 {
                prop_assert!(chance_of_at_most(point - 1, mean) < service + 1e-9);
            }
        }

        #[test]
        fn more_use_or_more_service_never_lowers_it(mean in 0.0..9_000.0, more in 0.0..1_000.0,
                                                    service in 0.000_1..0.9, higher in 0.0..0.099) {
            let point = order_point(mean, service).unwrap();
            prop_assert!(order_point(mean + more, service).unwrap() >= point);
            prop_assert!(order_point(mean, service + higher).unwrap() >= point);
        }

        #[test]
        fn no_number_stops_it(mean: f64, service: f64, rate: f64, on_hand: u32) {
            let _point = order_point(mean, service);
            if let Some(days) = days_left(on_hand, rate) {
                prop_assert!(days.is_finite() && days >= 0.0);
            }
        }
    }
}
