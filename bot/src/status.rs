//! How far the program has come and whether it is to stop, for whoever waits for either. Decides when it
//! counts as ready and which reason for its end counts.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::Duration;

use commands::ids::Guild;
use tokio::sync::Notify;

use crate::config::Exit;
use crate::counters::Seen;
use crate::threads::{locked, thread};

/// Asks a running bot to stop. Clones ask the same one.
#[derive(Clone, Default)]
pub struct Stop(Arc<Bell>);

#[derive(Default)]
struct Bell {
    asked: Mutex<bool>,
    bell: Condvar,
}

impl Stop {
    /// Asks to stop.
    pub fn ask(&self) {
        *locked(&self.0.asked) = true;
        self.0.bell.notify_all();
    }

    /// Waits until somebody asks.
    pub fn wait(&self) {
        let waiting = |asked: &mut bool| !*asked;
        let asked = self.0.bell.wait_while(locked(&self.0.asked), waiting);
        drop(asked.unwrap_or_else(PoisonError::into_inner));
    }

    /// Waits for that at most this long; whether somebody asked.
    pub fn wait_for(&self, most: Duration) -> bool {
        let waiting = |asked: &mut bool| !*asked;
        let waited = self
            .0
            .bell
            .wait_timeout_while(locked(&self.0.asked), most, waiting);
        !waited.unwrap_or_else(PoisonError::into_inner).1.timed_out()
    }

    /// Asks when the operating system does (SIGTERM, SIGINT).
    ///
    /// # Errors
    /// When no thread can be had.
    pub fn at_signals(&self) -> std::io::Result<()> {
        let stop = self.clone();
        thread("signals", move || {
            let runtime = tokio::runtime::Builder::new_current_thread()
                .enable_io()
                .build()?;
            runtime.block_on(async {
                use tokio::signal::unix::{SignalKind, signal};
                let mut terminate = signal(SignalKind::terminate())?;
                let mut interrupt = signal(SignalKind::interrupt())?;
                tokio::select! { _ = terminate.recv() => {} _ = interrupt.recv() => {} }
                std::io::Result::Ok(())
            })?;
            tracing::info!("asked to stop");
            stop.ask();
            std::io::Result::Ok(())
        })
        .map(drop)
    }
}

/// How far the program has come, for whoever waits for it.
pub struct Status {
    inner: Mutex<Progress>,
    bell: Condvar,
    stop: Stop,
    /// Turns of the requests' runtime, and the wish for one more.
    turns: AtomicU64,
    nudge: Notify,
}

#[derive(Default)]
struct Progress {
    connected: bool,
    expected: BTreeSet<Guild>,
    registered: BTreeSet<Guild>,
    desks: BTreeSet<Guild>,
    failed: BTreeSet<Guild>,
    /// Homes whose files take nothing at the moment.
    full: BTreeSet<Guild>,
    /// Homes whose calls reached nobody.
    unheard: BTreeSet<Guild>,
    ended: Option<Exit>,
}

impl Status {
    pub(crate) fn new(stop: Stop) -> Arc<Self> {
        Arc::new(Self {
            inner: Mutex::default(),
            bell: Condvar::new(),
            stop,
            turns: AtomicU64::new(0),
            nudge: Notify::new(),
        })
    }

    /// The gateway has let us in; these guilds are served.
    pub fn connected(&self, guilds: impl Iterator<Item = Guild>) {
        let mut inner = locked(&self.inner);
        inner.connected = true;
        inner.expected = guilds.collect();
        self.bell.notify_all();
    }

    pub(crate) fn registered(&self, guild: Guild) {
        locked(&self.inner).registered.insert(guild);
        self.bell.notify_all();
    }

    /// The program ends with this code; the first one counts.
    pub(crate) fn end(&self, exit: Exit) {
        locked(&self.inner).ended.get_or_insert(exit);
        self.bell.notify_all();
        self.stop.ask();
    }

    pub(crate) fn desk(&self, guild: Guild, works: bool) {
        let mut inner = locked(&self.inner);
        inner.desks.insert(guild);
        if works {
            inner.failed.remove(&guild);
        } else {
            inner.failed.insert(guild);
        }
        let none_left = inner.failed.len() == inner.desks.len();
        drop(inner);
        if none_left {
            self.end(Exit::Files);
        }
    }

    /// What was seen of a home after a step of its desk.
    pub(crate) fn stepped(&self, guild: Guild, seen: Seen) {
        let mut inner = locked(&self.inner);
        inner.full.remove(&guild);
        inner.unheard.remove(&guild);
        if !seen.saves {
            inner.full.insert(guild);
        }
        if seen.unheard > 0 {
            inner.unheard.insert(guild);
        }
    }

    /// What is wrong with homes, a line each.
    pub(crate) fn wrong(&self) -> Vec<String> {
        let inner = locked(&self.inner);
        let failed = inner.failed.iter();
        let failed = failed.map(|guild| format!("the file of home {guild} cannot be used"));
        let full = inner.full.difference(&inner.failed);
        let full = full.map(|guild| {
            format!(
                "the file of home {guild} takes nothing: entries are refused and nobody is called"
            )
        });
        let unheard = inner.unheard.iter();
        let unheard = unheard.map(|guild| format!("calls of home {guild} reach nobody"));
        failed.chain(full).chain(unheard).collect()
    }

    /// The requests' runtime turns once more, when it is asked to.
    pub(crate) async fn turn(&self) {
        self.nudge.notified().await;
        self.turns.fetch_add(1, Ordering::Relaxed);
    }

    /// How often it has turned so far; asks for one more.
    pub(crate) fn turns(&self) -> u64 {
        self.nudge.notify_one();
        self.turns.load(Ordering::Relaxed)
    }

    /// Why it ended, if it did.
    pub(crate) fn ended(&self) -> Option<Exit> {
        locked(&self.inner).ended
    }

    pub(crate) fn ready(&self, within: Duration) -> Result<(), Exit> {
        let not_yet = |inner: &mut Progress| {
            let all = inner.connected && inner.expected.is_subset(&inner.registered);
            inner.ended.is_none() && !all
        };
        let waited = self
            .bell
            .wait_timeout_while(locked(&self.inner), within, not_yet);
        let (inner, timeout) = waited.unwrap_or_else(PoisonError::into_inner);
        match inner.ended {
            Some(exit) => Err(exit),
            None if timeout.timed_out() => Err(Exit::Unreachable),
            None => Ok(()),
        }
    }
}

impl Status {
    pub(crate) fn end_unless_stopped(&self, exit: Exit) {
        if exit != Exit::Stopped {
            self.end(exit);
        }
    }
}
