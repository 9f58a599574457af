//! The watch that a supervisor of services keeps over the program (systemd's `Type=notify` and `WatchdogSec`). Decides what counts as
//! alive: every desk takes its letters when it is rung, or goes on reading the log of its file, and the requests' runtime turns. A program that hangs says nothing, and is
//! restarted by whoever waits for a word. Whether the chat is alive is the gateway's own probe to say.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::thread::JoinHandle;
use std::time::Duration;

use commands::ids::Guild;
use sd_notify::NotifyState;

use crate::gateway::Router;
use crate::status::{Status, Stop};
use crate::threads::{locked, thread};

/// A word this many times in the time that is waited for one, so that a slow step is not taken for a dead program.
const WORDS: u32 = 3;

/// What was seen at the last look.
struct Watch {
    router: Arc<Router>,
    status: Arc<Status>,
    desks: BTreeMap<Guild, u64>,
    turns: Option<u64>,
}

/// Says that the program is up, and that it is alive as often as somebody waits to hear it; nothing where nobody does.
///
/// # Errors
/// When no thread can be had.
pub(crate) fn start(
    waited: Option<Duration>,
    router: &Arc<Router>,
    status: &Arc<Status>,
) -> std::io::Result<Option<(Stop, JoinHandle<()>)>> {
    say(NotifyState::Ready);
    let Some(waited) = waited else {
        return Ok(None);
    };
    let stop = Stop::default();
    let asked = stop.clone();
    let mut watch = Watch {
        router: router.clone(),
        status: status.clone(),
        desks: BTreeMap::new(),
        turns: None,
    };
    let work = move || {
        watch.alive();
        while !asked.wait_for(waited / WORDS) {
            if watch.alive() {
                say(NotifyState::Watchdog);
            }
        }
    };
    Ok(Some((stop, thread("watchdog", work)?)))
}

/// Says that the program comes to its end.
pub(crate) fn stopping() {
    say(NotifyState::Stopping);
}

fn say(word: NotifyState<'_>) {
    // Nobody may be listening, and then nobody misses it.
    let _ = sd_notify::notify(&[word]);
}

impl Watch {
    /// Whether everything moved since the last look, and rings every desk for the next one.
    fn alive(&mut self) -> bool {
        let turns = self.status.turns();
        let turned = self
            .turns
            .replace(turns)
            .is_none_or(|before| before != turns);
        if !turned {
            tracing::error!("requests stand still, so the watchdog is not told that all is well");
        }
        let mut all = turned;
        for (guild, inbox) in &locked(&self.router.desks).boxes {
            let taken = inbox.taken();
            let moved = self
                .desks
                .insert(*guild, taken)
                .is_none_or(|before| before != taken);
            if !moved {
                tracing::error!(
                    guild = guild.0,
                    "a desk stands still, so the watchdog is not told that all is well"
                );
            }
            all &= moved;
            inbox.ring();
        }
        all
    }
}
