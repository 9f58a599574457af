//! The pace of a round: whether checks were entered faster than hands can move.
//!
//! Decides it from the times between them: from their median, so that one long or one short wait changes nothing (the
//! median is [`statrs`]'s). The home says how fast is too fast, and how many checks in a row are looked at: common
//! practice, no published figure. Leaves to the caller which entries are of one round, and that nobody is blamed: a fast
//! entry often has a good reason, and a slow one is no proof that a hand was there.

use chrono::TimeDelta;
use statrs::statistics::{Data, OrderStatistics};

/// How many of the newest times between checks are looked at: more than the beds of any unit.
pub const GAPS_KEPT: usize = 64;

/// A round that was faster than hands can move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fast {
    /// The middle one of the times between two checks.
    pub middle: TimeDelta,
}

/// Judges the times between the checks of a round, in the order in which they were entered: `None` where there are fewer
/// checks than `least`, where the home has switched it off (`limit` of zero), or where the median is not under `limit`.
///
/// A time below zero, from a clock that was set back, counts as none at all.
#[must_use]
pub fn judge(gaps: &[TimeDelta], least: usize, limit: TimeDelta) -> Option<Fast> {
    // n checks have n - 1 times between them.
    if limit <= TimeDelta::zero() || gaps.len() + 1 < least.max(2) {
        return None;
    }
    let middle = median(gaps)?;
    (middle < limit).then_some(Fast { middle })
}

/// The median, to the millisecond; `None` of nothing.
#[must_use]
pub fn median(gaps: &[TimeDelta]) -> Option<TimeDelta> {
    if gaps.is_empty() {
        return None;
    }
    let ms: Vec<f64> = gaps
        .iter()
        .map(|gap| gap.num_milliseconds().max(0) as f64)
        .collect();
    let middle = Data::new(ms).median();
    #[allow(
        clippy::cast_possible_truncation,
        reason = "milliseconds of some hours"
    )]
    TimeDelta::try_milliseconds(middle.round() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn seconds(of: &[i64]) -> Vec<TimeDelta> {
        of.iter().map(|gap| TimeDelta::seconds(*gap)).collect()
    }

    /// By hand.
    #[test]
    fn the_middle_is_the_middle() {
        for (gaps, middle) in [
            (&[11][..], 11_000),
            (&[8, 14], 11_000),
            (&[600, 11, 9], 11_000),
            (&[10, 11, 12, 900], 11_500),
            (&[3, 3, 3, 40, 40], 3_000),
            // Back in time is no time.
            (&[-5, 7, 9], 7_000),
        ] {
            assert_eq!(
                median(&seconds(gaps)),
                Some(TimeDelta::milliseconds(middle)),
                "{gaps:?}"
            );
        }
        assert_eq!(median(&[]), None);
    }

    #[test]
    fn enough_in_a_row_and_under_the_figure() {
        let limit = TimeDelta::seconds(20);
        let fast = |gaps: &[i64], least| judge(&seconds(gaps), least, limit).is_some();
        assert!(!fast(&[11; 4], 6), "five checks");
        assert!(fast(&[11; 5], 6), "six checks");
        assert!(!fast(&[20; 5], 6), "at the figure is not under it");
        assert!(fast(&[19, 19, 19, 300, 300], 6), "a talk at two beds");
        assert!(!fast(&[1, 1, 40, 40, 40], 6), "two taps at once");
        assert!(
            judge(&seconds(&[1; 9]), 6, TimeDelta::zero()).is_none(),
            "off"
        );
        assert!(judge(&[], 0, limit).is_none(), "one check is no round");
    }

    fn gaps() -> impl Strategy<Value = Vec<i64>> {
        proptest::collection::vec(0i64..100_000, 1..GAPS_KEPT)
    }

    fn ms(of: &[i64]) -> Vec<TimeDelta> {
        of.iter().map(|gap| TimeDelta::milliseconds(*gap)).collect()
    }

    proptest! {
        /// The definition: no more than half lie under it, no more than half over it.
        #[test]
        fn half_are_on_either_side(of in gaps()) {
            let middle = median(&ms(&of)).unwrap().num_milliseconds();
            let under = of.iter().filter(|gap| **gap < middle).count();
            let over = of.iter().filter(|gap| **gap > middle).count();
            prop_assert!(2 * under <= of.len() && 2 * over <= of.len(), "{middle} of {of:?}");
        }

        #[test]
        fn their_order_is_nothing(of in gaps()) {
            let mut turned = of.clone();
            turned.reverse();
            prop_assert_eq!(median(&ms(&of)), median(&ms(&turned)));
        }

        /// Whoever takes longer at any bed is never the one to be pointed out for it.
        #[test]
        fn slower_is_never_faster(of in gaps(), which: prop::sample::Index, more in 0i64..100_000, limit in 1i64..120) {
            let limit = TimeDelta::seconds(limit);
            let mut slower = of.clone();
            slower[which.index(of.len())] += more;
            if judge(&ms(&slower), 2, limit).is_some() {
                prop_assert!(judge(&ms(&of), 2, limit).is_some());
            }
        }

        /// One wait, however long or short, is not the middle of a round.
        #[test]
        fn one_wait_hides_nothing(pace in 1i64..60_000, count in 2usize..30, wait in 0i64..10_000_000) {
            let mut of = vec![pace; count];
            of.push(wait);
            prop_assert_eq!(median(&ms(&of)), Some(TimeDelta::milliseconds(pace)));
        }

        #[test]
        fn no_times_stop_it(of in proptest::collection::vec(any::<i32>(), 0..80), least in 0usize..100, limit in any::<i16>()) {
            let of: Vec<i64> = of.into_iter().map(i64::from).collect();
            let _judged = judge(&ms(&of), least, TimeDelta::seconds(i64::from(limit)));
        }
    }
}
