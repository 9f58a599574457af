//! Whether more filters were dirty early than a curve says.
//!
//! Decides whether looks let a curve stand; leaves what is said instead to the caller, which has the steps of `npmle`.
//!
//! Some filters clog for a cause of their own, such as lint or a blanket over the intake, and the others wear. One curve through both
//! lies below what was seen early, and a Weibull's bends under a shape of 1, so that it calls an old filter safer: it is what is left when
//! the weak ones are gone (Proschan, Technometrics 5, 1963, of why failures seem to become rarer: from memory), which is no comfort about
//! one whose cause is at its bed still.
//!
//! Not by the likelihood against Turnbull's, which bends to every look: of sets that do follow the curve, looked at every 3 to 14 days
//! and often a day late, chi-squared refused 11 to 98 in 100. By counting: by an age the dirty ones are, less what the curve makes of
//! the time for which each was looked at, a martingale (Fleming and Harrington, Counting Processes and Survival Analysis, 1991, from
//! memory), and about as spread as a Poisson count of that mean. In a thousand invented sets of 15, 40 and 150 lives for each of
//! exponentials of mean 20, 60, 200 days and Weibulls of shape 2 and 3.5, looked at every 3, 7 and 14 days and up to half of them late, what follows
//! the curve was refused in at most 9 of 100. Of 150 where one in ten clogs at 2 days on average and the others wear (shape 3, scale 50), 92
//! of 100 were; of sets of 15 such lives 8, of 40 looked at every 14 days 5: so few say little. `--example filter_curves` repeats it.

use statrs::distribution::{ContinuousCDF, Gamma};

use super::{Life, Span};

/// The shares, by the curve, whose ages are looked at: what homes promise.
const SHARES: [f64; 3] = [0.05, 0.10, 0.20];

/// A curve is refused where chance brings so many dirty ones less often than this: on the careful side, because to refuse it
/// costs a sooner look.
pub const SELDOM: f64 = 0.20;

/// Whether by any of some early ages more were seen dirty than chance makes of the curve.
#[must_use]
pub fn more_early(spans: &[Span], life: &Life) -> bool {
    let ages = SHARES.into_iter().filter_map(|share| life.age_at(share));
    ages.into_iter().any(|age| {
        let (seen, expected) = seen_and_expected(spans, life, age);
        at_least(seen, expected) < SELDOM
    })
}

/// How many were seen dirty by an age, and how many the curve lets one expect of the time for which they were looked at.
fn seen_and_expected(spans: &[Span], life: &Life, age: f64) -> (u32, f64) {
    let hazard = |days: f64| life.hazard(days).unwrap_or(0.0);
    spans.iter().fold((0, 0.0), |(seen, expected), span| {
        let clean = hazard(span.after.min(age));
        match span.by.filter(|by| *by <= age) {
            // Of the days in which it got dirty only the outcome is known.
            Some(by) => (seen + 1, expected + clean - (clean - hazard(by)).exp_m1()),
            None => (seen, expected + clean),
        }
    })
}

/// The chance that a Poisson count of this mean is so large: the sum of so many exponentials is no longer than the mean.
fn at_least(count: u32, mean: f64) -> f64 {
    if count == 0 {
        return 1.0;
    }
    Gamma::new(f64::from(count), 1.0).map_or(1.0, |sum| sum.cdf(mean))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::filter_life::Spread;

    fn steady(mean: f64) -> Life {
        Life::Exponential {
            mean,
            log_likelihood: 0.0,
            spread: Spread {
                unit: 1.0,
                variance: [0.0; 3],
            },
        }
    }

    fn repeated(rows: &[(usize, f64, Option<f64>)]) -> Vec<Span> {
        rows.iter()
            .flat_map(|(count, after, by)| {
                vec![
                    Span {
                        after: *after,
                        by: *by
                    };
                    *count
                ]
            })
            .collect()
    }

    /// One less the sum of e^-m m^i / i! below the count (NIST/SEMATECH e-Handbook, 1.3.6.6.19), summed by Python 3.11.
    #[test]
    fn tails_of_a_count() {
        for (count, mean, chance) in [
            (0, 1.0, 1.0),
            (1, 0.5, 0.393_469_340_287),
            (3, 1.0, 0.080_301_397_071),
            (5, 2.5, 0.108_821_981_085),
            (12, 8.0, 0.111_924_001_018),
        ] {
            let found = at_least(count, mean);
            assert!((found - chance).abs() < 1e-10, "{count} {mean}: {found}");
        }
    }

    /// By hand: a mean of 100 days lets 5% be dirty by 5.13 days. Ten clean at 4 have used 0.04 each; three were found at 2.
    #[test]
    fn what_was_seen_and_what_was_to_be_expected() {
        let lives = repeated(&[(10, 4.0, Some(40.0)), (3, 0.0, Some(2.0)), (2, 60.0, None)]);
        let age = -100.0 * 0.95_f64.ln();
        let (seen, expected) = seen_and_expected(&lives, &steady(100.0), age);
        let wanted = 10.0 * 0.04 + 3.0 * (1.0 - (-0.02_f64).exp()) + 2.0 * age / 100.0;
        assert_eq!(seen, 3);
        assert!((expected - wanted).abs() < 1e-12, "{expected}");
        assert!(more_early(&lives, &steady(100.0)), "0.56 were expected");
        assert!(!more_early(&lives, &steady(15.0)));
    }

    /// What looks every week make of a steady chance lets the curve stand, to the count.
    #[test]
    fn what_follows_its_curve_is_let_stand() {
        let clean = |week: i32| (100.0 * (-7.0 * f64::from(week) / 60.0).exp()).round() as usize;
        let mut rows: Vec<(usize, f64, Option<f64>)> = (0..12)
            .map(|week| {
                let ends = clean(week) - clean(week + 1);
                (ends, 7.0 * f64::from(week), Some(7.0 * f64::from(week + 1)))
            })
            .collect();
        rows.push((clean(12), 84.0, None));
        assert!(!more_early(&repeated(&rows), &steady(60.0)));
        // Fifteen more that were dirty by the second day do not.
        rows.push((15, 0.0, Some(2.0)));
        assert!(more_early(&repeated(&rows), &steady(60.0)));
    }
}
