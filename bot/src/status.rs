//! How far the program has come and whether it is to stop, for whoever waits for either. Decides when it
//! counts as ready and which reason for its end counts.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::Duration;

use commands::ids::Guild;
use store::StoreError;
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
    /// Guilds that the settings name.
    named: BTreeSet<Guild>,
    /// Guilds that the settings name and the bot is not in, once the chat has told where it is.
    absent: BTreeSet<Guild>,
    /// Homes with a file at the start, and those whose desks have reported since.
    desks: BTreeSet<Guild>,
    failed: BTreeSet<Guild>,
    /// Those of them whose files may be of use again without anybody's doing.
    later: BTreeSet<Guild>,
    /// Homes whose lock somebody held at their first try.
    held: BTreeSet<Guild>,
    /// Homes for which no thread could be had.
    unserved: BTreeSet<Guild>,
    /// Homes whose files take nothing at the moment.
    full: BTreeSet<Guild>,
    /// Homes in which nobody is called though their files take what is written.
    uncalled: BTreeSet<Guild>,
    /// Homes whose calls reached nobody.
    unheard: BTreeSet<Guild>,
    ended: Option<Exit>,
}

impl Progress {
    /// Whether files failed for good, and no home is left that is served or may be yet.
    fn none_left(&self) -> bool {
        let hopeless = |guild| {
            let never = self.absent.contains(guild) && !self.desks.contains(guild);
            never || (self.failed.contains(guild) && !self.later.contains(guild))
        };
        !self.failed.is_empty() && self.named.union(&self.desks).all(hopeless)
    }
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

    /// The gateway has let us in; these guilds are served. Those that are named and not among them, as far as that is new.
    pub(crate) fn connected(&self, guilds: impl Iterator<Item = Guild>) -> Vec<Guild> {
        let mut inner = locked(&self.inner);
        inner.connected = true;
        inner.expected = guilds.collect();
        let absent: BTreeSet<Guild> = inner.named.difference(&inner.expected).copied().collect();
        let new = absent.difference(&inner.absent).copied().collect();
        inner.absent = absent;
        let none_left = inner.none_left();
        drop(inner);
        self.bell.notify_all();
        if none_left {
            self.end(Exit::Files);
        }
        new
    }

    /// The bot is in this guild.
    pub(crate) fn joined(&self, guild: Guild) {
        locked(&self.inner).absent.remove(&guild);
    }

    /// The bot is in this guild no more; whether that is news of one that is named.
    pub(crate) fn left(&self, guild: Guild) -> bool {
        let mut inner = locked(&self.inner);
        inner.named.contains(&guild) && inner.absent.insert(guild)
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

    /// Homes with a file at the start, and those that the settings name: they count before their desks report, because one whose
    /// file cannot be used reports before the others.
    pub(crate) fn due(&self, there: &[Guild], named: &BTreeSet<Guild>) {
        let mut inner = locked(&self.inner);
        inner.desks.extend(there);
        inner.named.clone_from(named);
    }

    /// No thread could be had for the home's desk.
    pub(crate) fn unserved(&self, guild: Guild) {
        locked(&self.inner).unserved.insert(guild);
    }

    /// The home has one.
    pub(crate) fn hired(&self, guild: Guild) {
        locked(&self.inner).unserved.remove(&guild);
    }

    /// The home's file is open.
    pub(crate) fn opened(&self, guild: Guild) {
        let mut inner = locked(&self.inner);
        inner.desks.insert(guild);
        inner.held.remove(&guild);
        inner.failed.remove(&guild);
        inner.later.remove(&guild);
    }

    /// The home's file cannot be used, and will be tried again. Where somebody holds the lock of every home that can be used at the
    /// `first` try, that is another loftwatch; else it is a restore, which lets go.
    pub(crate) fn unusable(&self, guild: Guild, fault: &StoreError, first: bool) {
        let mut inner = locked(&self.inner);
        inner.desks.insert(guild);
        inner.failed.insert(guild);
        let held = matches!(fault, StoreError::Locked { .. });
        if held || fault.may_pass() {
            inner.later.insert(guild);
        } else {
            inner.later.remove(&guild);
        }
        if held && first {
            inner.held.insert(guild);
        }
        let lost = |guild| inner.failed.contains(guild) && !inner.later.contains(guild);
        let mut desks = inner.desks.iter();
        let all = desks.all(|guild| inner.held.contains(guild) || lost(guild));
        let another = first && all && !inner.held.is_empty();
        let none_left = inner.none_left();
        drop(inner);
        if another {
            self.end(Exit::Busy);
        } else if none_left {
            self.end(Exit::Files);
        }
    }

    /// What was seen of a home after a step of its desk.
    pub(crate) fn stepped(&self, guild: Guild, seen: Seen) {
        let mut inner = locked(&self.inner);
        inner.full.remove(&guild);
        inner.uncalled.remove(&guild);
        inner.unheard.remove(&guild);
        if !seen.saves {
            inner.full.insert(guild);
        }
        if !seen.calls {
            inner.uncalled.insert(guild);
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
        let uncalled = inner.uncalled.iter().map(|guild| {
            format!("what is due in home {guild} cannot be found out: entries are taken and nobody is called")
        });
        let unserved = inner.unserved.iter();
        let unserved = unserved
            .map(|guild| format!("nobody serves home {guild}: no thread could be had for it"));
        let unheard = inner.unheard.iter();
        let unheard = unheard.map(|guild| format!("calls of home {guild} reach nobody"));
        let absent = inner.absent.iter();
        let absent = absent.map(|guild| format!("the bot is not in guild {guild}"));
        let of_files = failed.chain(full).chain(unserved);
        of_files
            .chain(uncalled)
            .chain(unheard)
            .chain(absent)
            .collect()
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

#[cfg(test)]
mod tests {
    use super::*;

    fn status(there: &[u64], named: &[u64]) -> Arc<Status> {
        let status = Status::new(Stop::default());
        let there: Vec<Guild> = there.iter().copied().map(Guild).collect();
        status.due(&there, &named.iter().copied().map(Guild).collect());
        status
    }

    fn damaged() -> StoreError {
        StoreError::Damaged { what: "x".into() }
    }

    #[test]
    fn a_full_disk_or_another_programs_moment_with_the_file_ends_no_start() {
        use std::io::ErrorKind;
        let folder = |kind: ErrorKind| StoreError::Folder {
            path: "/x".into(),
            why: kind.into(),
        };
        let why = "full".to_owned();
        for fault in [
            StoreError::Busy,
            StoreError::Refused { why },
            folder(ErrorKind::StorageFull),
            folder(ErrorKind::ReadOnlyFilesystem),
            folder(ErrorKind::QuotaExceeded),
        ] {
            let status = status(&[7], &[7]);
            status.unusable(Guild(7), &fault, true);
            assert_eq!(status.ended(), None, "{fault}");
            assert_eq!(status.wrong(), ["the file of home 7 cannot be used"]);
            // What lasts ends it, also when it comes later.
            status.unusable(Guild(7), &folder(ErrorKind::PermissionDenied), false);
            assert_eq!(status.ended(), Some(Exit::Files), "{fault}");
        }
    }

    #[test]
    fn a_restore_of_one_home_ends_no_other() {
        let locked = || StoreError::Locked { path: "/x".into() };
        let alone = status(&[7], &[7]);
        alone.unusable(Guild(7), &locked(), true);
        assert_eq!(alone.ended(), Some(Exit::Busy), "another loftwatch");
        let beside = status(&[7, 77], &[7, 77]);
        beside.unusable(Guild(77), &damaged(), true);
        beside.opened(Guild(7));
        beside.unusable(Guild(77), &locked(), false);
        assert_eq!(beside.ended(), None);
        // It may be there before the others are open.
        let begins = status(&[7, 77], &[7, 77]);
        begins.unusable(Guild(77), &locked(), true);
        assert_eq!(begins.ended(), None);
        begins.unusable(Guild(7), &locked(), true);
        assert_eq!(begins.ended(), Some(Exit::Busy));
        // Nor a home that waits for room.
        let waits = status(&[7], &[7]);
        waits.unusable(Guild(7), &StoreError::Busy, true);
        waits.unusable(Guild(7), &locked(), false);
        assert_eq!(waits.ended(), None);
    }

    #[test]
    fn one_file_that_cannot_be_used_ends_no_other_home() {
        let status = status(&[7, 77], &[7, 77]);
        status.unusable(Guild(77), &damaged(), true);
        assert_eq!(status.ended(), None);
        status.opened(Guild(7));
        status.unusable(Guild(77), &damaged(), true);
        assert_eq!(status.ended(), None);
        assert_eq!(status.wrong(), ["the file of home 77 cannot be used"]);
    }

    #[test]
    fn it_ends_once_the_file_of_every_home_cannot_be_used() {
        let of_two = status(&[7, 77], &[7, 77]);
        of_two.unusable(Guild(7), &damaged(), true);
        assert_eq!(of_two.ended(), None);
        of_two.unusable(Guild(77), &damaged(), true);
        assert_eq!(of_two.ended(), Some(Exit::Files));
        // A home that nobody named, and whose file was not there at the start.
        let of_none = status(&[], &[]);
        of_none.unusable(Guild(7), &damaged(), true);
        assert_eq!(of_none.ended(), Some(Exit::Files));
        // One that is named and new may be served yet, until it is known that the bot is not there.
        let of_one = status(&[7], &[7, 43]);
        of_one.unusable(Guild(7), &damaged(), true);
        assert_eq!(of_one.ended(), None);
        of_one.connected([Guild(7)].into_iter());
        assert_eq!(of_one.ended(), Some(Exit::Files));
    }

    #[test]
    fn a_home_that_no_thread_could_be_had_for_is_not_well_until_one_is_there() {
        let status = status(&[7], &[7]);
        status.unserved(Guild(7));
        let said = "nobody serves home 7: no thread could be had for it";
        assert_eq!(status.wrong(), [said]);
        status.hired(Guild(7));
        assert!(status.wrong().is_empty() && status.ended().is_none());
    }

    #[test]
    fn a_named_guild_that_the_bot_is_not_in_is_not_well_and_news_once() {
        let status = status(&[43], &[7, 43]);
        status.opened(Guild(43));
        assert!(status.wrong().is_empty(), "nobody has told yet");
        let here = |guilds: &[u64]| status.connected(guilds.iter().copied().map(Guild));
        assert_eq!(here(&[7]), [Guild(43)]);
        assert_eq!(status.wrong(), ["the bot is not in guild 43"]);
        assert_eq!(here(&[7]), [], "news once");
        status.joined(Guild(43));
        assert!(status.wrong().is_empty());
        assert!(status.left(Guild(7)) && !status.left(Guild(7)));
        assert!(!status.left(Guild(8)), "nobody named it");
        assert_eq!(status.wrong(), ["the bot is not in guild 7"]);
        assert_eq!(here(&[7, 43]), []);
        assert!(status.wrong().is_empty() && status.ended().is_none());
    }
}
