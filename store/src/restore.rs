//! The way back to a backup. Decides that a backup is verified before anything of the facility's folder is touched, that the
//! file that was there stays beside it under a name of its own, that the new one takes its place in one step, and what
//! becomes of what waited to be said when the backup was made; leaves saying all that to `bot`.
//!
//! # What waited
//!
//! A backup is made at any moment, so messages that were on their way then are in it as waiting. Since then they were sent,
//! most likely, or what they call for is long over. None of them goes out again: they are marked as given up, and how many is
//! told. What is still open by the state of the backup (an alarm, a recheck) is called for anew by the clock, as after any
//! absence. The supervisors are told that the home was put back, and to when ([`Store::put_back`], [`Store::put_back_at`]).
//!
//! # What is numbered twice
//!
//! After the backup the log went on, and it goes on from there once more: numbers of records and alarms, and the keys of messages
//! made of them, are given a second time to something else, while the chat still has what was said the first time. So a restored
//! file keeps for good when it was put back ([`Store::restored`]): nonces are others from then on, and `bot` takes no tap on a
//! message from before.

use std::fs::{self, File};
use std::io;
use std::os::unix::fs::MetadataExt;
use std::path::{Path, PathBuf};

use chrono::{DateTime, Utc};
use commands::ids::{Guild, RecordNo};
use rusqlite::{Connection, ErrorCode, OpenFlags};

use crate::backup::sync;
use crate::log::{from_ms, to_ms};
use crate::open::{BUSY, another_programs, beside, file_in, log_of, owner, reader};
use crate::place::{
    Lock, at, home_file, local_disk, lock, new_file, plain_beside, plain_file, private_folder,
};
use crate::{Store, StoreError, Trouble, Verified, settings};

/// The setting that a restored file keeps until the home was told: how many messages were given up.
const PUT_BACK: &str = "put-back";

/// The setting beside it: where what the backup holds ends, in milliseconds since 1970; empty where it holds nothing.
const PUT_BACK_AT: &str = "put-back-at";

/// The setting that a restored file keeps for good: when that was, in milliseconds since 1970.
const RESTORED: &str = "restored";

/// What a restore did.
#[derive(Debug)]
pub struct Restored {
    /// Whose file it is.
    pub guild: Guild,
    /// Where it stands now.
    pub path: PathBuf,
    /// What is in the file, read before it was put in its place.
    pub verified: Verified,
    /// Whether it was also read where it stands now, or what was wrong with that: restored it is in any case.
    pub in_place: Result<(), Trouble>,
    /// What was there before; nothing where there was no file.
    pub before: Option<Before>,
    /// Messages and answers that waited in the backup and were given up.
    pub given_up: u64,
}

/// The file that was there.
#[derive(Debug)]
pub struct Before {
    /// Where it is now.
    pub kept: PathBuf,
    /// What it held, or why that cannot be said.
    pub past: Result<Past, StoreError>,
}

/// The newest that a file held, beside the backup's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Past {
    /// Its newest record.
    pub newest: RecordNo,
    /// When that was entered.
    pub entered: Option<DateTime<Utc>>,
    /// Whether the backup is an earlier or the same state of it: where not, they went different ways.
    pub same: bool,
    /// The records beside which something was written that was erased in it, and stands in the backup.
    pub unerased: Vec<RecordNo>,
}

/// Puts the backup at `file` into the place of its facility's file in `data`. `now` names the file that is set aside.
///
/// # Errors
/// [`StoreError::Locked`] while a bot runs on it, and whatever is wrong with the backup or the disk; the facility's file is then
/// as it was.
pub fn restore(file: &Path, data: &Path, now: DateTime<Utc>) -> Result<Restored, Trouble> {
    let file = fs::canonicalize(file).map_err(|why| at(file, why))?;
    let guild = owner_of(&file)?;
    // As it is, whoever made it, and before the folder is made or mended: a restore of which nothing came leaves nothing behind.
    Store::look(&file, guild)?.verify()?;
    let data = private_folder(data)?;
    local_disk(&data)?;
    let held = lock(data.join(format!("{guild}.lock")))?;
    let path = file_in(&data, guild);
    if file == path {
        return Err(StoreError::Taken { path }.into());
    }
    let moment = now.format("%Y-%m-%dT%H%M%SZ");
    let fresh = data.join(format!("{guild}.restoring.loft"));
    // It may be all that is left of the home.
    if is_one_file(&file, &fresh) {
        return Err(StoreError::LeftBehind { path: fresh }.into());
    }
    // An earlier one that was cut short.
    remove(&fresh)?;
    let placed = prepare(&file, &fresh, guild, now).and_then(|(verified, given_up)| {
        let kept = data.join(format!("{guild}.before-{moment}.loft"));
        let before = put_in_place(&fresh, &path, kept, &verified, &held)?;
        Ok((verified, before, given_up))
    });
    // A reader leaves an empty log beside the file that it read, and the file has another name by now; where nothing came of
    // it, none of it is of use.
    let removed = remove(&fresh);
    let (verified, before, given_up) = placed.map_err(|why| why.copying_to(&data))?;
    let stands = path.clone();
    let read_back = || -> Result<(), Trouble> {
        removed?;
        sync(&data)?;
        let size = fs::metadata(&path).map_err(|why| at(&path, why))?.len();
        Store::settled(path, guild, size, Some(held))?.verify()?;
        Ok(())
    };
    Ok(Restored {
        guild,
        path: stands,
        in_place: read_back(),
        verified,
        before,
        given_up,
    })
}

impl Store {
    /// When this file was last put in the place of another, by the clock of then.
    pub fn restored(&self) -> Option<DateTime<Utc>> {
        self.restored
    }

    /// How many messages were given up when this file was put in the place of another, until the home was told.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn put_back(&self) -> Result<Option<u64>, StoreError> {
        Ok(self.setting(PUT_BACK)?.and_then(|said| said.parse().ok()))
    }

    /// Where what the backup held ends, by the clock of then, as long as [`Store::put_back`] says something; what was entered after
    /// that is missing. Nothing where it held nothing, or an older loftwatch restored it.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn put_back_at(&self) -> Result<Option<DateTime<Utc>>, StoreError> {
        moment(&self.conn, PUT_BACK_AT)
    }

    /// The home was told.
    ///
    /// # Errors
    /// [`StoreError`]; it is then told again at the next start, under the same cause.
    pub fn told_of_put_back(&mut self) -> Result<(), StoreError> {
        self.write(|conn| {
            settings::set(conn, PUT_BACK, "")?;
            settings::set(conn, PUT_BACK_AT, "")
        })
    }

    /// Gives up all that waits to be said, and notes that it was put back at `now`.
    fn begin_again(&mut self, now: DateTime<Utc>) -> Result<u64, StoreError> {
        // A program says only once in a while that it is there, so an entry may be newer than that.
        let ends = self.last_alive()?.max(self.entered(self.head)?);
        let given_up = self.write(|conn| {
            // An edit says what a message has come to; what it comes to next will say so again.
            let edits = conn.execute(
                "DELETE FROM outbox WHERE edits IS NOT NULL AND state IN ('waiting', 'sending')",
                [],
            )?;
            let posts = conn.execute(
                "UPDATE outbox SET state = 'dead', message = '',
                        why = 'it waited in a backup that was restored'
                 WHERE state IN ('waiting', 'sending')",
                [],
            )?;
            let owed = conn.execute("DELETE FROM owed", [])?;
            // A running bot may still hold requests of the file that was there. The numbers of their rows are given to nothing
            // else: none had as many as there were milliseconds from 1970 to an earlier restore, or to now.
            conn.execute(
                "INSERT INTO outbox (key, channel, lane, state, entered, not_before, attempts, message)
                 VALUES ('', 0, 0, 'dead', 0, 0, 0, '')",
                [],
            )?;
            conn.execute("DELETE FROM outbox WHERE key = ''", [])?;
            conn.execute(
                "UPDATE sqlite_sequence SET seq = seq + ?1 WHERE name = 'outbox'",
                [to_ms(now)],
            )?;
            tracing::info!(posts, edits, owed, "given up: it waited in the backup");
            Ok((posts + owed) as u64)
        })?;
        self.write(|conn| {
            let ends = ends.map(|ends| to_ms(ends).to_string());
            settings::set(conn, PUT_BACK, &given_up.to_string())?;
            settings::set(conn, PUT_BACK_AT, &ends.unwrap_or_default())?;
            settings::set(conn, RESTORED, &to_ms(now).to_string())
        })?;
        self.restored = Some(now);
        Ok(given_up)
    }
}

/// What [`Store::restored`] says, as the file has it.
pub(crate) fn restored(conn: &Connection) -> Result<Option<DateTime<Utc>>, StoreError> {
    moment(conn, RESTORED)
}

/// A moment that the file keeps, if it does.
fn moment(conn: &Connection, name: &str) -> Result<Option<DateTime<Utc>>, StoreError> {
    let kept = settings::value(conn, name)?;
    let ms = kept.and_then(|ms| ms.parse().ok());
    ms.map(from_ms).transpose()
}

/// Whose file it says that it is, which is asked before anything else is known of it.
///
/// # Errors
/// [`StoreError::Foreign`] where it is no file of ours, [`StoreError::Damaged`] where it does not say.
pub fn owner_of(file: &Path) -> Result<Guild, StoreError> {
    let file = &fs::canonicalize(file).map_err(|why| at(file, why))?;
    let about = plain_file(file)?;
    plain_beside(file)?;
    let conn = reader(file)?;
    if let Some(why) = another_programs(&conn, about.len())? {
        return Err(StoreError::Foreign {
            path: file.clone(),
            why,
        });
    }
    owner(&conn).map_err(|why| {
        if !matches!(why, StoreError::Sqlite(_) | StoreError::Damaged { .. }) {
            return why;
        }
        StoreError::Damaged {
            what: format!("{} does not say whose it is", file.display()),
        }
    })
}

/// Sets aside what is at `path`, whatever it is, and gives that name to the fresh file, which nothing is left to be done to.
fn put_in_place(
    fresh: &Path,
    path: &Path,
    kept: PathBuf,
    backup: &Verified,
    held: &Lock,
) -> Result<Option<Before>, Trouble> {
    // Not `exists`, which follows a link that leads nowhere.
    let before = if fs::symlink_metadata(path).is_ok() {
        let past = past(path, fresh, backup);
        set_aside(path, &kept)?;
        Some(Before { kept, past })
    } else {
        // A log whose file was taken away would be read into the new one.
        let log = log_of(path);
        if fs::symlink_metadata(&log).is_ok() {
            fs::rename(&log, log_of(&kept)).map_err(|why| at(&log, why))?;
        }
        None
    };
    // The lock remembers the file that was there.
    held.0
        .set_len(0)
        .and_then(|()| held.0.sync_all())
        .map_err(|why| at(path, why))?;
    if let Err(why) = fs::rename(fresh, path) {
        if let Some(before) = &before {
            back_again(path, &before.kept);
        }
        return Err(at(path, why).into());
    }
    Ok(before)
}

/// A copy of the backup beside the facility's file, of the newest format, verified, with nothing left to be sent; what is
/// in it, and how many messages were given up.
fn prepare(
    file: &Path,
    fresh: &Path,
    guild: Guild,
    now: DateTime<Utc>,
) -> Result<(Verified, u64), Trouble> {
    copy(file, fresh)?;
    // Somebody may have copied a running home by hand, and then what is newest is in there.
    if log_of(file).exists() {
        copy(&log_of(file), &log_of(fresh))?;
    }
    let size = fs::metadata(fresh).map_err(|why| at(fresh, why))?.len();
    let mut store = Store::settled(fresh.to_owned(), guild, size, None)?;
    let given_up = store.begin_again(now)?;
    let verified = store.verify()?;
    // Closing moves the write-ahead log into the file, so that it is one file that takes the other's place.
    drop(store);
    if fs::metadata(log_of(fresh)).is_ok_and(|log| log.len() > 0) {
        return Err(StoreError::Busy.into());
    }
    File::open(fresh)
        .and_then(|file| file.sync_all())
        .map_err(|why| at(fresh, why))?;
    Ok((verified, given_up))
}

fn copy(from: &Path, to: &Path) -> Result<(), StoreError> {
    let mut source = File::open(from).map_err(|why| at(from, why))?;
    let mut copy = new_file(to)?;
    io::copy(&mut source, &mut copy).map_err(|why| at(to, why))?;
    copy.sync_all().map_err(|why| at(to, why))
}

fn past(path: &Path, fresh: &Path, backup: &Verified) -> Result<Past, StoreError> {
    home_file(path)?;
    let guild = owner_of(fresh)?;
    let store = Store::look(path, guild)?;
    let newest = store.head();
    let tip = RecordNo(backup.records);
    let same = tip == RecordNo(0) || store.hash_of(tip)?.as_ref() == Some(&backup.tip);
    Ok(Past {
        newest,
        entered: store.entered(newest)?,
        same,
        unerased: unerased(&store, &Store::look(fresh, guild)?)?,
    })
}

/// What was erased in the one file and stands in the other, beside the same record.
fn unerased(before: &Store, backup: &Store) -> Result<Vec<RecordNo>, StoreError> {
    let mut back = Vec::new();
    for no in before.erased()? {
        if backup.has_note(no)? && before.hash_of(no)? == backup.hash_of(no)? {
            back.push(no);
        }
    }
    Ok(back)
}

/// Gives the file a second name, which stays when the first is given to another; where the disk has no links, a copy has it. What is in its write-ahead log goes into it
/// first; where that cannot be, because the file is damaged, the log is kept beside it. Where it only cannot be now, because somebody
/// reads the file, nothing comes of it: the log has to go before the other file takes the name, and a power cut in between would
/// leave the home's file without its newest entries.
fn set_aside(path: &Path, kept: &Path) -> Result<(), StoreError> {
    // Neither somebody else's hold on the file nor a full disk says anything against the file.
    match home_file(path).map(|_| brought_up_to_date(path)) {
        Ok(Ok(true)) => {}
        Ok(Ok(false)) => return Err(StoreError::Busy),
        Ok(Err(fault)) if is_held(&fault) => return Err(StoreError::Busy),
        Ok(Err(fault)) if fault.sqlite_error_code() == Some(ErrorCode::DiskFull) => {
            return Err(StoreError::NotTaken {
                path: path.parent().unwrap_or(path).to_owned(),
                why: fault.to_string(),
            });
        }
        Ok(Err(_)) | Err(_) => {
            tracing::info!("the file that was there could not be brought up to date");
        }
    }
    second(path, kept)?;
    let log = log_of(path);
    if fs::metadata(&log).is_ok_and(|log| log.size() > 0) {
        second(&log, &log_of(kept))?;
    }
    for leftover in [log, beside(path, "-shm")] {
        gone(&leftover)?;
    }
    Ok(())
}

/// Puts what is in the write-ahead log into the file; false where somebody who reads it kept that from being all.
fn brought_up_to_date(path: &Path) -> rusqlite::Result<bool> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NOFOLLOW;
    let conn = Connection::open_with_flags(path, flags)?;
    conn.busy_timeout(BUSY)?;
    let kept_back: bool =
        conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))?;
    Ok(!kept_back)
}

fn is_held(fault: &rusqlite::Error) -> bool {
    matches!(
        fault.sqlite_error_code(),
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked)
    )
}

/// The file keeps its name, because no other could be given that: its log goes back beside it, and the second name goes. Where the
/// log cannot go back, its newest entries are in what was set aside, which stays.
fn back_again(path: &Path, kept: &Path) {
    let log = log_of(kept);
    let back = fs::symlink_metadata(&log).is_err() || fs::rename(&log, log_of(path)).is_ok();
    if back && fs::symlink_metadata(path).is_ok() {
        let _ = gone(kept);
    }
}

/// The same file under a second name, which nothing has so far.
fn second(path: &Path, name: &Path) -> Result<(), StoreError> {
    match fs::hard_link(path, name) {
        Ok(()) => Ok(()),
        Err(why) if fs::symlink_metadata(name).is_ok() => Err(at(name, why)),
        // A file that is only moved away would leave the home without one until the other has its name.
        Err(_no_links) => copy(path, name).inspect_err(|_| {
            // Half a copy is no file that anybody could want.
            let _ = fs::remove_file(name);
        }),
    }
}

/// Whether two names lead to one file, whatever path or link they take.
fn is_one_file(one: &Path, other: &Path) -> bool {
    let which = |path: &Path| fs::metadata(path).map(|about| (about.dev(), about.ino()));
    matches!((which(one), which(other)), (Ok(one), Ok(other)) if one == other)
}

/// Removes a file and what SQLite kept beside it.
fn remove(path: &Path) -> Result<(), StoreError> {
    for file in [path.to_owned(), log_of(path), beside(path, "-shm")] {
        gone(&file)?;
    }
    Ok(())
}

fn gone(file: &Path) -> Result<(), StoreError> {
    match fs::remove_file(file) {
        Ok(()) => Ok(()),
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(why) => Err(at(file, why)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_no_other_could_take_the_place_of_has_its_log_back_and_no_second_name() {
        let here = tempfile::tempdir().unwrap();
        let (path, kept) = (
            here.path().join("7.loft"),
            here.path().join("7.before.loft"),
        );
        fs::write(&path, "what was there").unwrap();
        second(&path, &kept).unwrap();
        fs::write(log_of(&kept), "its newest").unwrap();
        back_again(&path, &kept);
        assert_eq!(fs::read(&path).unwrap(), b"what was there");
        assert_eq!(fs::read(log_of(&path)).unwrap(), b"its newest");
        assert_eq!(fs::read_dir(here.path()).unwrap().count(), 2);
    }

    /// A disk without links is imitated by one that no link leads to from here.
    #[test]
    fn where_there_are_no_links_what_was_there_is_copied() {
        let (here, there) = (tempfile::tempdir().unwrap(), Path::new("/dev/shm"));
        let Ok(there) = tempfile::tempdir_in(there) else {
            return;
        };
        let (path, kept) = (here.path().join("7.loft"), there.path().join("kept"));
        fs::write(&path, "what was there").unwrap();
        second(&path, &kept).unwrap();
        assert_eq!(fs::read(&kept).unwrap(), b"what was there");
        fs::write(&path, "newer").unwrap();
        assert!(second(&path, &kept).is_err());
        assert_eq!(
            fs::read(&kept).unwrap(),
            b"what was there",
            "nothing is written over"
        );
    }
}
