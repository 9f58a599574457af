//! How long a new connection to the gateway waits. The chat service allows 1,000 of them a day and then resets the token (its
//! published documentation of the gateway), so it is asked what is left before each one, and whoever starts the program again need
//! not count. Decides the wait; reminders and calls, which need no gateway, go out meanwhile.

use std::collections::VecDeque;
use std::time::Duration;

/// What one start may use: the first, those that the library makes by itself, and the one that is too many.
const EACH: u64 = OWN_MAX as u64 + 2;
/// What the service counts its connections by.
const DAY: Duration = Duration::from_secs(86_400);
/// New connections that the chat library may make by itself within [`WINDOW`]; it cannot be made to wait.
const OWN_MAX: usize = 10;
const WINDOW: Duration = Duration::from_secs(3_600);

/// The connections that the service still lets us begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// Of so many a day.
    pub total: u64,
    /// So many.
    pub remaining: u64,
    /// Until there are as many as ever.
    pub reset_after: Duration,
}

impl Left {
    /// How long the next start waits: not at all while at least half of what the rest of the day is worth is left, and so that
    /// what is left lasts as long as the day from then on, though the gateway turns each connection away.
    pub fn wait(self) -> Duration {
        let rest = self.reset_after.min(DAY);
        let worth = self.total as f64 * rest.as_secs_f64() / DAY.as_secs_f64();
        if self.remaining as f64 * 2.0 >= worth && self.remaining > EACH {
            return Duration::ZERO;
        }
        // What the very last start would use is never used.
        let starts = self.remaining.saturating_sub(EACH) / EACH;
        let starts = u32::try_from(starts).unwrap_or(u32::MAX);
        rest.checked_div(starts).unwrap_or(rest)
    }
}

/// The connections that the library made anew by itself.
#[derive(Debug, Default)]
pub struct Own(VecDeque<Duration>);

impl Own {
    /// One more, at this steady time; whether it was one too many.
    pub fn too_many(&mut self, now: Duration) -> bool {
        self.0.retain(|at| now.saturating_sub(*at) < WINDOW);
        self.0.push_back(now);
        self.0.len() > OWN_MAX
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn nobody_waits_on_a_good_day() {
        let left = |remaining: u64, hours: u64| Left {
            total: 1_000,
            remaining,
            reset_after: Duration::from_secs(hours * 3_600),
        };
        assert_eq!(left(1_000, 24).wait(), Duration::ZERO);
        assert_eq!(left(500, 24).wait(), Duration::ZERO);
        assert_eq!(left(60, 2).wait(), Duration::ZERO);
        // Less than half: what is left is spread over the rest.
        assert_eq!(left(396, 24).wait(), Duration::from_secs(24 * 3_600 / 32));
        assert_eq!(left(12, 0).wait(), Duration::ZERO);
        assert_eq!(left(12, 3).wait(), Duration::from_secs(3 * 3_600));
        assert_eq!(left(1, 3).wait(), Duration::from_secs(3 * 3_600));
        assert_eq!(left(0, 3).wait(), Duration::from_secs(3 * 3_600));
    }

    proptest! {
        /// Whatever ends the program, however soon it is started again, and however many connections each start used.
        #[test]
        fn the_day_never_runs_out(starts in proptest::collection::vec((0_u64..4_000, 1..=EACH), 1..50)) {
            let (mut now, mut used) = (0_u64, 0_u64);
            for (pause, uses) in starts.into_iter().cycle() {
                let left = Left { total: 1_000, remaining: 1_000 - used, reset_after: Duration::from_secs(86_400 - now) };
                now += left.wait().as_secs();
                if now >= 86_400 {
                    break;
                }
                used += uses;
                prop_assert!(used < 1_000, "none left after {now} s");
                now += pause;
                if now >= 86_400 {
                    break;
                }
            }
        }
    }

    #[test]
    fn a_gateway_that_ends_every_connection_is_noticed() {
        let mut own = Own::default();
        let minute = Duration::from_secs(60);
        assert!((0..10).all(|n| !own.too_many(minute * n)));
        assert!(own.too_many(minute * 10));
        assert!(!own.too_many(minute * 200));
    }
}
