//! Backups while the bot runs, on a thread of their own beside the desks. Decides when a facility's next one is due (so many
//! hours after the newest in the folder that is not dated ahead, so that a restart changes nothing) and who hears of one that failed: the log each time,
//! the home's supervisors once a day. One home's that breaks off holds up no other's. How one is made and verified is `store`'s.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::Arc;
use std::thread::JoinHandle;
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::Guild;

use crate::clock;
use crate::config::Backups;
use crate::desk::Input;
use crate::gateway::Router;
use crate::run::{files, or_end};
use crate::status::{Status, Stop};
use crate::threads::thread;

/// One that failed is tried again after this long.
const AGAIN_AFTER: TimeDelta = TimeDelta::hours(1);
/// The folder is looked at this often at least: a computer that slept does not wake a thread for the hours that it slept.
const LOOK_EVERY: Duration = Duration::from_secs(600);
/// And not more often than this.
const REST: Duration = Duration::from_secs(1);

/// Who makes them.
pub(crate) struct Keeper {
    wish: Backups,
    router: Arc<Router>,
    failed: BTreeMap<Guild, DateTime<Utc>>,
}

impl Keeper {
    /// Starts, where backups are wished for.
    ///
    /// # Errors
    /// When no thread can be had.
    pub(crate) fn start(
        router: &Arc<Router>,
        status: &Arc<Status>,
    ) -> std::io::Result<Option<(Stop, JoinHandle<()>)>> {
        let Some(wish) = router.settings.backups.clone() else {
            return Ok(None);
        };
        let stop = Stop::default();
        let asked = stop.clone();
        let mut keeper = Keeper {
            wish,
            router: router.clone(),
            failed: BTreeMap::new(),
        };
        let status = status.clone();
        let work = move || {
            or_end(&status, || {
                let mut wait = REST;
                while !asked.wait_for(wait) {
                    wait = keeper.round();
                }
            });
        };
        Ok(Some((stop, thread("backups", work)?)))
    }

    /// Makes what is due; how long until something is again.
    fn round(&mut self) -> Duration {
        let mut wait = LOOK_EVERY;
        for guild in files(&self.router.settings.data) {
            // A backup of nothing would hold up the first that is worth something by a day.
            if matches!(
                store::has_records(&self.router.settings.data, guild),
                Ok(false)
            ) {
                continue;
            }
            let now = clock::wall();
            // Where the folder cannot be read, making one says why.
            let newest = store::newest_backup(&self.wish.folder, guild, now)
                .ok()
                .flatten();
            self.router.counters.backed_up(guild, newest);
            let failed = self.failed.get(&guild).copied();
            let mut due = due_at(newest, failed, self.wish.every, now);
            if due <= now {
                self.attempt(guild, newest, now);
                due = clock::wall() + AGAIN_AFTER.min(self.wish.every);
            }
            wait = wait.min((due - clock::wall()).to_std().unwrap_or_default());
        }
        wait.max(REST)
    }

    /// Makes one that is due, and says so where nothing comes of it.
    fn attempt(&mut self, guild: Guild, newest: Option<DateTime<Utc>>, now: DateTime<Utc>) {
        // Why it broke off is in the log by then.
        let data = &self.router.settings.data;
        let made = catch_unwind(AssertUnwindSafe(|| make(data, &self.wish, guild, now)));
        if made.unwrap_or(false) {
            self.failed.remove(&guild);
            self.router.counters.backed_up(guild, Some(now));
            return;
        }
        self.failed.insert(guild, now);
        self.router.counters.not_backed_up(guild);
        if let Some(inbox) = self.router.inbox(guild) {
            inbox.tell(Input::NoBackup { last: newest });
        }
    }
}

/// Whether there is a new one.
fn make(data: &Path, wish: &Backups, guild: Guild, now: DateTime<Utc>) -> bool {
    // First what is too many: a folder that is full stays so otherwise, whatever is wished for by then.
    prune(wish, guild, now);
    let made = match store::back_up(data, guild, &wish.folder, now) {
        Ok(made) => made,
        Err(fault) => {
            tracing::error!(guild = guild.0, %fault, "a backup failed");
            return false;
        }
    };
    let records = made.verified.records;
    tracing::info!(guild = guild.0, records, bytes = made.bytes, "backed up");
    prune(wish, guild, now);
    true
}

fn prune(wish: &Backups, guild: Guild, now: DateTime<Utc>) {
    if let Err(fault) = store::prune(&wish.folder, guild, wish.keep, now) {
        tracing::warn!(guild = guild.0, %fault, "old backups could not be removed");
    }
}

/// When the next is due. A failure that is dated ahead of the clock, which was wrong then or is now, holds nothing up.
fn due_at(
    newest: Option<DateTime<Utc>>,
    failed: Option<DateTime<Utc>>,
    every: TimeDelta,
    now: DateTime<Utc>,
) -> DateTime<Utc> {
    let due = newest.map_or(now, |at| at + every);
    match failed.filter(|at| *at <= now) {
        Some(at) => due.max(at + AGAIN_AFTER),
        None => due,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_counts_from_the_newest_and_a_failure_waits_an_hour() {
        let at = |hours| DateTime::UNIX_EPOCH + TimeDelta::hours(hours);
        let every = TimeDelta::hours(24);
        assert_eq!(due_at(None, None, every, at(100)), at(100));
        assert_eq!(due_at(Some(at(90)), None, every, at(100)), at(114));
        assert_eq!(due_at(Some(at(60)), None, every, at(100)), at(84));
        assert_eq!(due_at(Some(at(60)), Some(at(100)), every, at(100)), at(101));
        // The clock went back over the failure.
        assert_eq!(due_at(None, Some(at(201)), every, at(100)), at(100));
    }

    #[test]
    fn a_folder_that_is_full_has_room_again_once_fewer_are_wished_for() {
        let folder = tempfile::tempdir().unwrap();
        let (guild, now) = (
            Guild(7),
            DateTime::from_timestamp(1_790_000_000, 0).unwrap(),
        );
        let name = |days: i64, end: &str| {
            let at = now - TimeDelta::days(days);
            format!("{guild}-{}.loft{end}", at.format("%Y-%m-%dT%H%M%SZ"))
        };
        let names = [
            (1, ""),
            (2, ""),
            (3, ""),
            (2, ".part"),
            (0, ".part"),
            (-1, ""),
        ];
        for (days, end) in names {
            std::fs::write(folder.path().join(name(days, end)), "x").unwrap();
        }
        let wish = Backups {
            folder: folder.path().to_owned(),
            every: TimeDelta::hours(24),
            keep: 2,
        };
        // It fails: there is no such home.
        assert!(!make(&folder.path().join("data"), &wish, guild, now));
        let left = names.map(|(days, end)| folder.path().join(name(days, end)).exists());
        // What is a day old at most may be somebody's who makes one by hand at this moment.
        assert_eq!(left, [true, true, false, false, true, true]);
    }

    /// The clock was a month ahead once, and a backup was dated so.
    #[test]
    fn one_that_is_dated_ahead_neither_hurries_the_next_nor_costs_a_real_one() {
        let folder = tempfile::tempdir().unwrap();
        let (guild, every, keep) = (Guild(7), TimeDelta::hours(24), 14);
        let made = |at: DateTime<Utc>| {
            let name = format!("{guild}-{}.loft", at.format("%Y-%m-%dT%H%M%SZ"));
            std::fs::write(folder.path().join(name), "x").unwrap();
        };
        let start = DateTime::from_timestamp(1_790_000_000, 0).unwrap();
        let on = |day| start + TimeDelta::days(day);
        for day in -(keep as i64) + 1..=0 {
            made(on(day));
        }
        made(on(30));
        // As it is decided in each round, for 40 days.
        let (mut now, mut count) = (start, 0);
        while now < on(40) {
            let newest = store::newest_backup(folder.path(), guild, now).unwrap();
            if due_at(newest, None, every, now) <= now {
                made(now);
                count += 1;
                store::prune(folder.path(), guild, keep, now).unwrap();
                let kept = store::backups(folder.path(), guild).unwrap();
                let ahead = usize::from(now < on(30));
                assert_eq!(kept.len(), keep + ahead, "at {now}");
            }
            now += TimeDelta::from_std(LOOK_EVERY).unwrap();
        }
        // One a day, but for the day that the one that was dated ahead stands for.
        assert_eq!(count, 38);
        let newest = store::newest_backup(folder.path(), guild, now).unwrap();
        assert!(newest.is_some_and(|at| now - at <= every));
    }
}
