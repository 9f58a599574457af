//! The platform's rate limits, kept on our side. Decides when a request may go; time is passed in.
//! Leaves waiting and sending to [`crate::courier`]. A header that makes no sense is ignored: a wrong
//! one must neither repeat a message nor block a channel.

use std::collections::{BTreeMap, VecDeque};
use std::time::Duration;

/// What shares one limit: a route and the channel or guild in it.
pub type Bucket = (&'static str, u64);

/// Requests a second for the whole program; the platform allows 50, the interaction routes apart
/// (its documentation on rate limits).
const GLOBAL_PER_SECOND: usize = 45;
const SECOND: Duration = Duration::from_secs(1);
/// No wait that a header asks for is longer.
const WAIT_MAX: Duration = Duration::from_secs(3_600);
/// The wait after a refusal that does not say how long.
const WAIT_UNSAID: Duration = Duration::from_secs(5);
/// 10,000 answers of 401, 403 or 429 in ten minutes ban the address (its documentation); we stop at half.
const INVALID_MAX: usize = 5_000;
const INVALID_WINDOW: Duration = Duration::from_secs(600);
/// Buckets that have passed are thrown away when there are this many.
const BUCKETS_SWEEP: usize = 256;

/// When requests may go.
#[derive(Debug, Default)]
pub struct Limiter {
    /// A bucket is here only while it is shut: until this moment.
    shut: BTreeMap<Bucket, Duration>,
    shut_for_all: Duration,
    sent: VecDeque<Duration>,
    invalid: VecDeque<Duration>,
}

/// What the headers of an answer said.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Said {
    /// `x-ratelimit-remaining`.
    pub remaining: Option<u64>,
    /// `x-ratelimit-reset-after`, in seconds.
    pub reset_after_s: Option<f64>,
    /// `retry-after`, in seconds.
    pub retry_after_s: Option<f64>,
    /// The refusal was for everything, not for this bucket.
    pub global: bool,
}

impl Said {
    /// How long a refusal asks to wait, an hour at most: the one place where that is read, so that whoever was refused rests no
    /// longer than what it shares its limit with.
    pub fn wait(&self) -> Duration {
        let asked = self.retry_after_s.and_then(seconds);
        asked
            .or(self.reset_after_s.and_then(seconds))
            .unwrap_or(WAIT_UNSAID)
    }
}

impl Limiter {
    /// Lets a request go now, or says when to ask again.
    ///
    /// # Errors
    /// The moment before which asking again is in vain.
    pub fn ask(&mut self, bucket: Bucket, now: Duration) -> Result<(), Duration> {
        self.forget(now);
        let shut = self.shut.get(&bucket).copied().unwrap_or_default();
        let mut until = shut.max(self.shut_for_all);
        if self.sent.len() >= GLOBAL_PER_SECOND {
            until = until.max(self.sent[self.sent.len() - GLOBAL_PER_SECOND] + SECOND);
        }
        if self.invalid.len() >= INVALID_MAX {
            until = until.max(self.invalid[0] + INVALID_WINDOW);
        }
        if until > now {
            return Err(until);
        }
        self.sent.push_back(now);
        Ok(())
    }

    /// An answer came with these headers.
    pub fn told(&mut self, bucket: Bucket, said: &Said, now: Duration) {
        if said.remaining == Some(0)
            && let Some(wait) = said.reset_after_s.and_then(seconds)
        {
            self.shut.insert(bucket, now + wait);
        }
    }

    /// It was refused with 429; returns how long nothing may be tried.
    pub fn refused(&mut self, bucket: Option<Bucket>, said: &Said, now: Duration) -> Duration {
        let wait = said.wait();
        if said.global {
            self.shut_for_all = self.shut_for_all.max(now + wait);
        } else if let Some(bucket) = bucket {
            self.shut.insert(bucket, now + wait);
        }
        self.invalid(now);
        wait
    }

    /// An answer of 401, 403 or 429 was counted by the platform.
    pub fn invalid(&mut self, now: Duration) {
        self.invalid.push_back(now);
    }

    fn forget(&mut self, now: Duration) {
        let old = |at: &Duration, window| *at + window <= now;
        while self.sent.front().is_some_and(|at| old(at, SECOND)) {
            self.sent.pop_front();
        }
        while self
            .invalid
            .front()
            .is_some_and(|at| old(at, INVALID_WINDOW))
        {
            self.invalid.pop_front();
        }
        if self.shut.len() > BUCKETS_SWEEP {
            self.shut.retain(|_, until| *until > now);
        }
    }
}

/// Seconds of a header as a wait; none for what is no number, negative or endless.
fn seconds(text: f64) -> Option<Duration> {
    let wait = Duration::try_from_secs_f64(text).ok()?;
    Some(wait.min(WAIT_MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    const POST: Bucket = ("post", 1);
    const OTHER: Bucket = ("post", 2);

    fn ms(ms: u64) -> Duration {
        Duration::from_millis(ms)
    }

    #[test]
    fn an_empty_bucket_waits_and_others_do_not() {
        let mut limiter = Limiter::default();
        let said = Said {
            remaining: Some(0),
            reset_after_s: Some(1.5),
            ..Said::default()
        };
        assert_eq!(limiter.ask(POST, ms(0)), Ok(()));
        limiter.told(POST, &said, ms(100));
        assert_eq!(limiter.ask(POST, ms(200)), Err(ms(1_600)));
        assert_eq!(limiter.ask(OTHER, ms(200)), Ok(()));
        assert_eq!(limiter.ask(POST, ms(1_600)), Ok(()));
    }

    #[test]
    fn no_second_has_more_than_the_gate_allows() {
        let mut limiter = Limiter::default();
        let mut sent = Vec::new();
        for at in (0..3_000).step_by(5) {
            if limiter.ask((("post"), at), ms(at)).is_ok() {
                sent.push(at);
            }
        }
        for (i, from) in sent.iter().enumerate() {
            let within = sent[i..]
                .iter()
                .take_while(|at| **at < from + 1_000)
                .count();
            assert!(within <= GLOBAL_PER_SECOND, "{within} from {from}");
        }
        assert!(sent.len() >= 3 * GLOBAL_PER_SECOND);
    }

    #[test]
    fn a_refusal_holds_its_bucket_or_everything() {
        let mut limiter = Limiter::default();
        let said = Said {
            retry_after_s: Some(2.0),
            ..Said::default()
        };
        assert_eq!(limiter.refused(Some(POST), &said, ms(0)), ms(2_000));
        assert_eq!(limiter.ask(POST, ms(1_999)), Err(ms(2_000)));
        assert_eq!(limiter.ask(OTHER, ms(1_999)), Ok(()));
        let all = Said {
            retry_after_s: Some(1.0),
            global: true,
            ..Said::default()
        };
        limiter.refused(Some(POST), &all, ms(2_000));
        assert_eq!(limiter.ask(OTHER, ms(2_500)), Err(ms(3_000)));
    }

    #[test]
    fn senseless_headers_are_ignored() {
        let mut limiter = Limiter::default();
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1e300] {
            let said = Said {
                remaining: Some(0),
                reset_after_s: Some(bad),
                retry_after_s: Some(bad),
                global: false,
            };
            limiter.told(OTHER, &said, ms(0));
            let wait = limiter.refused(Some(POST), &said, ms(0));
            assert!(wait == WAIT_UNSAID || wait == WAIT_MAX, "{bad}: {wait:?}");
        }
    }

    #[test]
    fn half_way_to_a_ban_everything_waits() {
        let mut limiter = Limiter::default();
        (0..INVALID_MAX).for_each(|_| limiter.invalid(ms(0)));
        assert_eq!(limiter.ask(POST, ms(10)), Err(INVALID_WINDOW));
        assert_eq!(limiter.ask(POST, INVALID_WINDOW), Ok(()));
    }

    #[test]
    fn passed_buckets_are_freed() {
        let mut limiter = Limiter::default();
        let said = Said {
            remaining: Some(0),
            reset_after_s: Some(0.1),
            ..Said::default()
        };
        (0..1_000).for_each(|n| limiter.told(("post", n), &said, ms(0)));
        assert_eq!(limiter.ask(POST, ms(500)), Ok(()));
        assert!(limiter.shut.is_empty());
    }
}
