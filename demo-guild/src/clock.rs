//! The two times of a demo guild: the dial that the page shows and moves, and the wall clock that
//! ids and the age of an interaction are measured with.
//!
//! Decides nothing about who turns the dial; the demo's own dial, which drives the bot, is made
//! elsewhere.

use std::sync::Arc;
use std::time::{Duration, Instant};

use chrono::{DateTime, Utc};
use futures_util::future::BoxFuture;
use tokio::sync::watch;

/// The clock that people in the demo live by.
pub trait Dial: Send + Sync {
    /// What it shows.
    fn now(&self) -> DateTime<Utc>;
    /// How fast it runs: 0 stopped, 1 as the wall clock.
    fn rate(&self) -> f64;
    /// When the bot next wakes for something, where that is known.
    fn next(&self) -> Option<DateTime<Utc>>;
    /// Whether less time passes than was asked for, because messages are on their way.
    fn held(&self) -> bool {
        false
    }
    /// Makes it run at that rate from what it shows now.
    fn set_rate(&self, rate: f64);
    /// Moves it forward to that instant, visiting what falls due on the way.
    fn step_to(&self, to: DateTime<Utc>) -> BoxFuture<'static, ()>;
    /// Told at every change of rate, every step and every change of `next`.
    fn changed(&self) -> watch::Receiver<u64>;
}

/// A dial that follows the wall clock and cannot be turned: for tests and load.
#[derive(Debug)]
pub struct WallDial {
    changes: watch::Sender<u64>,
}

impl WallDial {
    /// A dial that shows the wall clock.
    pub fn new() -> Arc<WallDial> {
        Arc::new(WallDial {
            changes: watch::Sender::new(0),
        })
    }
}

impl Dial for WallDial {
    fn now(&self) -> DateTime<Utc> {
        wall()
    }
    fn rate(&self) -> f64 {
        1.0
    }
    fn next(&self) -> Option<DateTime<Utc>> {
        None
    }
    fn set_rate(&self, _rate: f64) {}
    fn step_to(&self, _to: DateTime<Utc>) -> BoxFuture<'static, ()> {
        Box::pin(std::future::ready(()))
    }
    fn changed(&self) -> watch::Receiver<u64> {
        self.changes.subscribe()
    }
}

/// The wall clock. The guild plays the platform's servers, whose ids carry real time whatever the
/// bot's own clock says; so it reads the clock here and nowhere else.
#[allow(clippy::disallowed_methods)]
pub(crate) fn wall() -> DateTime<Utc> {
    DateTime::from(std::time::SystemTime::now())
}

/// The wall clock in ms since the Unix epoch.
pub(crate) fn wall_ms() -> u64 {
    u64::try_from(wall().timestamp_millis()).unwrap_or(0)
}

/// A stopwatch on the monotonic clock, for waits and rate limits.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Watch(Instant);

impl Watch {
    /// Starts now.
    #[allow(clippy::disallowed_methods)]
    pub(crate) fn start() -> Watch {
        Watch(Instant::now())
    }

    /// Time since the start.
    pub(crate) fn passed(self) -> Duration {
        self.0.elapsed()
    }
}
