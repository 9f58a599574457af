//! The demo's clock: one clock that the page turns and the bot lives by. Decides how the two views of it hang together;
//! leaves keeping the time, and visiting what falls due on the way of a step, to the bot's own stepped clock.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use bot::SteppedClock;
use bot::clock::Wake;
use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::Guild;
use futures_util::future::BoxFuture;
use tokio::sync::watch;

use crate::clock::Dial;

/// As fast as the wall clock.
const EVEN_RATE: f64 = 1.0;
/// No step goes further: each moment at which something is due is visited, and a year would take minutes.
pub const STEP_DAYS_MAX: i64 = 31;

/// The clock of a demo. Clones are views of the same one.
#[derive(Clone)]
pub struct DemoClock(Arc<Inner>);

struct Inner {
    kept: Arc<SteppedClock>,
    /// The rate that was asked for last: during a step the clock itself stands.
    rate: Mutex<f64>,
    /// When each desk looks again.
    desks: Mutex<BTreeMap<Guild, Option<DateTime<Utc>>>>,
    changes: watch::Sender<u64>,
}

impl DemoClock {
    /// A clock that shows `at` and runs as fast as the wall clock.
    pub fn running_from(at: DateTime<Utc>) -> Self {
        let clock = Self::stopped_at(at);
        clock.set_rate(EVEN_RATE);
        clock
    }

    /// A clock that shows `at` and stands, for tests.
    pub fn stopped_at(at: DateTime<Utc>) -> Self {
        Self(Arc::new(Inner {
            kept: SteppedClock::stopped_at(at),
            rate: Mutex::new(0.0),
            desks: Mutex::default(),
            changes: watch::Sender::new(0),
        }))
    }

    /// The clock as the page sees it.
    pub fn dial(&self) -> Arc<dyn Dial> {
        Arc::new(self.clone())
    }

    /// The clock as the bot sees it.
    pub fn clock(&self) -> Arc<dyn bot::Clock> {
        Arc::new(self.clone())
    }

    fn tell(&self) {
        self.0.changes.send_modify(|count| *count += 1);
    }
}

impl Dial for DemoClock {
    fn now(&self) -> DateTime<Utc> {
        bot::Clock::now(&*self.0.kept)
    }

    fn rate(&self) -> f64 {
        *locked(&self.0.rate)
    }

    fn next(&self) -> Option<DateTime<Utc>> {
        locked(&self.0.desks).values().flatten().min().copied()
    }

    fn held(&self) -> bool {
        self.0.kept.held()
    }

    fn set_rate(&self, rate: f64) {
        let mut kept = locked(&self.0.rate);
        *kept = rate.max(0.0);
        self.0.kept.run(*kept);
        drop(kept);
        self.tell();
    }

    fn step_to(&self, to: DateTime<Utc>) -> BoxFuture<'static, ()> {
        let clock = self.clone();
        let to = to.min(Dial::now(self) + TimeDelta::days(STEP_DAYS_MAX));
        Box::pin(async move {
            let stepping = clock.clone();
            // It waits for desks on the way, which no thread of the server should.
            let step = tokio::task::spawn_blocking(move || stepping.0.kept.step_to(to));
            if step.await.is_err() {
                tracing::error!("a step of the demo clock failed");
            }
            // Whoever turned the rate meanwhile is right.
            let rate = locked(&clock.0.rate);
            clock.0.kept.run(*rate);
            drop(rate);
            clock.tell();
        })
    }

    fn changed(&self) -> watch::Receiver<u64> {
        self.0.changes.subscribe()
    }
}

impl bot::Clock for DemoClock {
    fn now(&self) -> DateTime<Utc> {
        bot::Clock::now(&*self.0.kept)
    }

    fn real_until(&self, at: DateTime<Utc>) -> Duration {
        self.0.kept.real_until(at)
    }

    fn subscribe(&self, wake: Wake) {
        self.0.kept.subscribe(wake);
    }

    fn sending(&self, desk: Guild, on: bool) {
        self.0.kept.sending(desk, on);
    }

    fn armed(&self, desk: Guild, next: Option<DateTime<Utc>>) {
        let before = locked(&self.0.desks).insert(desk, next);
        self.0.kept.armed(desk, next);
        if before != Some(next) {
            self.tell();
        }
    }
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(seconds: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(1_800_000_000 + seconds, 0).unwrap()
    }

    #[tokio::test]
    async fn a_step_visits_what_is_due_and_keeps_the_rate() {
        let clock = DemoClock::stopped_at(at(0));
        let bot = clock.clock();
        let desk = Guild(1);
        bot.armed(desk, Some(at(10)));
        assert_eq!(clock.next(), Some(at(10)));
        let seen = Arc::new(Mutex::new(Vec::new()));
        let (woken, visited) = (clock.clone(), Arc::clone(&seen));
        // A desk that has something to do every ten seconds, and does it as soon as it is woken.
        let (ring, rung) = std::sync::mpsc::channel();
        bot.subscribe(Box::new(move || {
            let _ = ring.send(());
        }));
        let worker = std::thread::spawn(move || {
            while rung.recv().is_ok() {
                let now = Dial::now(&woken);
                let due = woken.next().is_some_and(|next| next <= now);
                if due {
                    locked(&visited).push(now);
                    let next = (now < at(30)).then(|| now + TimeDelta::seconds(10));
                    bot.armed(desk, next);
                    if next.is_none() {
                        return;
                    }
                }
            }
        });
        let mut changes = clock.changed();
        clock.step_to(at(35)).await;
        worker.join().unwrap();
        assert_eq!(*locked(&seen), [at(10), at(20), at(30)]);
        assert_eq!(Dial::now(&clock), at(35));
        assert_eq!(clock.rate(), 0.0);
        assert!(changes.has_changed().unwrap());
        changes.mark_unchanged();
        clock.set_rate(60.0);
        assert!(changes.has_changed().unwrap());
        clock.step_to(at(95)).await;
        assert_eq!(clock.rate(), 60.0);
        assert!(Dial::now(&clock) >= at(95));
    }

    #[tokio::test]
    async fn no_step_goes_back_or_further_than_a_month() {
        let clock = DemoClock::stopped_at(at(0));
        clock.step_to(at(-60)).await;
        assert_eq!(Dial::now(&clock), at(0));
        clock.step_to(at(0) + TimeDelta::days(400)).await;
        assert_eq!(Dial::now(&clock), at(0) + TimeDelta::days(STEP_DAYS_MAX));
    }
}
