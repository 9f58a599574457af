//! A clock that is moved by hand and knows when the bot has come to rest. Decides nothing about time, which is
//! the demo's own clock; it only listens to what the desks tell it.

use std::collections::BTreeSet;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use anyhow::{Result, ensure};
use bot::clock::{Wake, mono};
use chrono::{DateTime, Utc};
use commands::ids::Guild;
use demo_guild::Dial;
use demo_guild::dial::DemoClock;

/// A desk that has not come to rest by then never will.
const PATIENCE: Duration = Duration::from_secs(20);
/// A desk keeps good news about answers for the next time that it is awake; so it is woken again after this.
const RING_AGAIN: Duration = Duration::from_millis(10);

/// The clock.
#[derive(Clone)]
pub struct Watched(Arc<Inner>);

struct Inner {
    demo: DemoClock,
    bot: Arc<dyn bot::Clock>,
    heard: Mutex<Heard>,
    told: Condvar,
}

#[derive(Default)]
struct Heard {
    /// How often a desk has said that it has done all that was due.
    rests: u64,
    sending: BTreeSet<Guild>,
}

impl Watched {
    /// A clock that shows `at` and stands.
    pub fn stopped_at(at: DateTime<Utc>) -> Self {
        let demo = DemoClock::stopped_at(at);
        let bot = demo.clock();
        Self(Arc::new(Inner {
            demo,
            bot,
            heard: Mutex::default(),
            told: Condvar::new(),
        }))
    }

    /// The clock as the guild's people see it.
    pub fn dial(&self) -> Arc<dyn Dial> {
        self.0.demo.dial()
    }

    /// The clock as the bot sees it.
    pub fn clock(&self) -> Arc<dyn bot::Clock> {
        Arc::new(self.clone())
    }

    /// When the bot next has something to do.
    pub fn next(&self) -> Option<DateTime<Utc>> {
        Dial::next(&self.0.demo)
    }

    /// Waits until the desk has nothing in hand and nothing on its way.
    ///
    /// # Errors
    /// When it does not come to rest.
    pub fn rest(&self) -> Result<()> {
        let until = mono() + PATIENCE;
        // The first time may be that of a turn which had begun before; the second one is not.
        let mut turns = 0;
        loop {
            let before = self.heard().rests;
            self.0.demo.set_rate(0.0);
            let woken = |heard: &mut Heard| heard.rests == before;
            let heard = self
                .0
                .told
                .wait_timeout_while(self.heard(), RING_AGAIN, woken)
                .unwrap_or_else(PoisonError::into_inner)
                .0;
            turns += u32::from(heard.rests > before);
            if turns >= 2 && heard.sending.is_empty() {
                return Ok(());
            }
            let sending = heard.sending.clone();
            drop(heard);
            ensure!(
                mono() < until,
                "the desk does not come to rest; on their way: {sending:?}"
            );
            if turns >= 2 {
                let _more = self
                    .0
                    .told
                    .wait_timeout_while(self.heard(), RING_AGAIN, |heard| {
                        !heard.sending.is_empty()
                    });
            }
        }
    }

    fn heard(&self) -> MutexGuard<'_, Heard> {
        self.0.heard.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl bot::Clock for Watched {
    fn now(&self) -> DateTime<Utc> {
        self.0.bot.now()
    }

    fn real_until(&self, at: DateTime<Utc>) -> Duration {
        self.0.bot.real_until(at)
    }

    fn subscribe(&self, wake: Wake) {
        self.0.bot.subscribe(wake);
    }

    fn sending(&self, desk: Guild, on: bool) {
        let mut heard = self.heard();
        if on {
            heard.sending.insert(desk);
        } else {
            heard.sending.remove(&desk);
        }
        drop(heard);
        self.0.bot.sending(desk, on);
    }

    fn armed(&self, desk: Guild, next: Option<DateTime<Utc>>) {
        self.0.bot.armed(desk, next);
        self.heard().rests += 1;
        self.0.told.notify_all();
    }
}
