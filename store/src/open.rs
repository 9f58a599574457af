//! Opening a facility's file. Decides what is refused (an old SQLite, a network file system, another account's
//! folder or one that others can read, a second program, a file that is not ours or from the future, one that
//! was put in the place of ours) and with which settings SQLite runs. Leaves where the folder is to `bot`, and what
//! the folder is like to `place`.

use std::cell::Cell;
use std::fs::{self, File};
use std::io::{Read, Seek, SeekFrom, Write};
use std::os::unix::fs::MetadataExt;
use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::{DateTime, Utc};
use commands::ids::{Guild, RecordNo};
use rusqlite::config::DbConfig;
use rusqlite::types::{FromSql, ToSql};
use rusqlite::{Connection, OpenFlags, OptionalExtension, TransactionBehavior};

use crate::StoreError;
use crate::backup::not_lost;
use crate::chain::{self, Hash};
use crate::migrations::{self, NEWEST};
use crate::place::{
    Lock, at, home_file, keeps_numbers, local_disk, lock, made_or_found, plain_beside, plain_file,
    private_folder, servable,
};
use crate::{restore, views};

/// "loft" in ASCII: marks the file as ours for `file(1)` and for this crate.
pub const APPLICATION_ID: i32 = 0x6c6f_6674;

/// The oldest SQLite that will do, as [`rusqlite::version_number`] counts: releases before 3.51.3 could
/// damage a WAL that is reset while another connection reads (SQLite's release notes).
pub const SQLITE_OLDEST: i32 = 3_051_003;
const SQLITE_OLDEST_TEXT: &str = "3.51.3";

/// How long a write waits for another program, an analyst's tool for example, to let go of the file.
pub(crate) const BUSY: Duration = Duration::from_millis(2_000);

/// Pages in the WAL before SQLite moves them into the file: about 4 MB, its default.
const CHECKPOINT_PAGES: i64 = 1_000;

/// Where SQLite keeps what it needs only for a moment, as its pragma says it.
pub(crate) const TEMP_IN_FILES: i32 = 1;
pub(crate) const TEMP_IN_MEMORY: i32 = 2;

/// Statements kept ready: more than this crate has, so that none is prepared twice.
const STATEMENTS_KEPT: usize = 64;
/// Pages that SQLite keeps for itself, as its pragma counts them: 256 KiB.
const CACHE_KIB: i64 = -256;

/// One facility's file, open. Owns the one connection that writes to it.
#[derive(Debug)]
pub struct Store {
    pub(crate) conn: Connection,
    pub(crate) guild: Guild,
    /// The newest record's number, 0 before the first.
    pub(crate) head: RecordNo,
    /// The newest record's hash.
    pub(crate) tip: Hash,
    /// A COMMIT failed: what is on disk is not known, so nothing more is written through this connection.
    pub(crate) doubtful: Option<String>,
    /// When it was put in the place of another, if it ever was.
    pub(crate) restored: Option<DateTime<Utc>>,
    /// When sent rows were last pruned.
    pub(crate) pruned_ms: Option<i64>,
    /// Reused from record to record.
    pub(crate) scratch: Vec<u8>,
    /// Which file is open, to see whether another was put in its place.
    file: (PathBuf, Inode),
    /// How long it and its write-ahead log were when last seen: neither grows shorter by itself.
    least: Cell<Lengths>,
    /// Locked for as long as it is open; none for whoever only reads. The last field, so that the connection closes first.
    _lock: Option<Lock>,
}

/// Bytes of a file, and which file its write-ahead log is, with its bytes; none before the first commit.
#[derive(Clone, Copy, Debug, Default)]
struct Lengths {
    file: u64,
    log: Option<(Inode, u64)>,
}

/// Which file it is, whatever its name. Its number alone: a disk may be another device after the computer was started again.
type Inode = u64;

impl Store {
    /// Creates or opens `<folder>/<guild>.loft`. The folder is made, owner-only, if it is not there.
    ///
    /// # Errors
    /// [`StoreError`] names what is refused and why; nothing of a refused file is changed, its mode neither.
    pub fn open(folder: &Path, guild: Guild) -> Result<Store, StoreError> {
        new_enough(rusqlite::version_number())?;
        let folder = private_folder(folder)?;
        local_disk(&folder)?;
        let mut lock = lock(lock_of(&folder, guild))?;
        let path = file_in(&folder, guild);
        let known = remembered(&mut lock.0);
        not_beside_anothers_log(&path, known)?;
        not_lost(&folder, guild, None)?;
        let found = made_or_found(&path)?;
        let size = found.size();
        if found.too_open() {
            not_anothers(&path, guild, size)?;
            found.tighten(&path)?;
        }
        drop(found);
        let store = Store::settled(path, guild, size, None)?;
        if known != Some(store.file.1) {
            remember(&mut lock.0, store.file.1).map_err(|why| at(&folder, why))?;
        }
        let mut store = Store {
            _lock: Some(lock),
            ..store
        };
        store.drop_damaged_snapshots()?;
        Ok(store)
    }

    /// As [`Store::open`], of a file that was open before: one that is gone is not begun anew.
    ///
    /// # Errors
    /// As [`Store::open`]; [`StoreError::Replaced`] when there is none.
    pub fn reopen(folder: &Path, guild: Guild) -> Result<Store, StoreError> {
        let path = file_in(folder, guild);
        if path.exists() {
            return Store::open(folder, guild);
        }
        Err(StoreError::Replaced { path })
    }

    /// Opens the file at `path` to read it as it is: nothing is locked, migrated or mended, and whoever writes to it goes on.
    /// Every attempt to write is refused. Whose account it belongs to is not asked: a backup may lie anywhere.
    ///
    /// # Errors
    /// [`StoreError`] names what is refused and why.
    pub fn look(path: &Path, guild: Guild) -> Result<Store, StoreError> {
        let path = fs::canonicalize(path).map_err(|why| at(path, why))?;
        let about = plain_file(&path)?;
        plain_beside(&path)?;
        Store::looked_at(path, guild, &about)
    }

    /// As [`Store::look`], of a facility's own file in the folder `data`; refuses of the file itself what [`Store::open`] would.
    ///
    /// # Errors
    /// [`StoreError`] names what is refused and why.
    pub fn look_in(data: &Path, guild: Guild) -> Result<Store, StoreError> {
        let folder = fs::canonicalize(data).map_err(|why| at(data, why))?;
        servable(&file_in(&folder, guild))?;
        Store::read_in(data, guild)
    }

    /// As [`Store::look_in`], of a file that need not be one that can be written: a copy of it may be wanted all the more, or
    /// whom to tell.
    ///
    /// # Errors
    /// [`StoreError`] names what is refused and why.
    pub fn read_in(data: &Path, guild: Guild) -> Result<Store, StoreError> {
        let folder = fs::canonicalize(data).map_err(|why| at(data, why))?;
        let path = file_in(&folder, guild);
        let about = home_file(&path)?;
        // Where a loftwatch runs, it may just be writing it anew; then nothing is known for that moment.
        let lock = lock_of(&folder, guild);
        let lock = plain_file(&lock).ok().and_then(|_| File::open(lock).ok());
        let known = lock.and_then(|mut lock| remembered(&mut lock));
        not_beside_anothers_log(&path, known)?;
        Store::looked_at(path, guild, &about)
    }

    fn looked_at(path: PathBuf, guild: Guild, about: &fs::Metadata) -> Result<Store, StoreError> {
        new_enough(rusqlite::version_number())?;
        let conn = reader(&path)?;
        if recognised(&conn, &path, guild, about.len())? == 0 {
            return Err(StoreError::NotOurs {
                path,
                guild,
                why: if about.len() == 0 {
                    "it is empty"
                } else {
                    NO_TABLES
                }
                .to_owned(),
            });
        }
        theirs(&conn, &path, guild)?;
        Store::at_its_end(conn, guild, (path, inode(about)), None)
    }

    /// The file at `path`, which is there and is perhaps still empty, brought to the newest format.
    pub(crate) fn settled(
        path: PathBuf,
        guild: Guild,
        size: u64,
        lock: Option<Lock>,
    ) -> Result<Store, StoreError> {
        // NOFOLLOW: a link planted in the folder must not make us write elsewhere.
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
            | OpenFlags::SQLITE_OPEN_NO_MUTEX
            | OpenFlags::SQLITE_OPEN_NOFOLLOW;
        let mut conn = Connection::open_with_flags(&path, flags)?;
        conn.set_prepared_statement_cache_capacity(STATEMENTS_KEPT);
        conn.busy_timeout(BUSY)?;
        let found = recognised(&conn, &path, guild, size)?;
        settle_pragmas(&conn)?;
        bring_up(&mut conn, &path, guild, found)?;
        views::refresh(&mut conn)?;
        let about = fs::metadata(&path).map_err(|why| at(&path, why))?;
        Store::at_its_end(conn, guild, (path, inode(&about)), lock)
    }

    fn at_its_end(
        conn: Connection,
        guild: Guild,
        file: (PathBuf, Inode),
        lock: Option<Lock>,
    ) -> Result<Store, StoreError> {
        let newest = conn
            .query_row(
                "SELECT no, hash FROM records ORDER BY no DESC LIMIT 1",
                [],
                |row| Ok((row.get::<_, i64>(0)?, row.get::<_, Hash>(1)?)),
            )
            .optional()?;
        let (head, tip) = newest.map_or((0, chain::genesis(guild)), |(no, tip)| {
            (no.cast_unsigned(), tip)
        });
        let restored = restore::restored(&conn)?;
        Ok(Store {
            conn,
            guild,
            head: RecordNo(head),
            tip,
            doubtful: None,
            restored,
            pruned_ms: None,
            scratch: Vec::new(),
            file,
            least: Cell::default(),
            _lock: lock,
        })
    }

    /// The facility whose file this is.
    pub fn guild(&self) -> Guild {
        self.guild
    }

    /// The newest record's number; 0 before the first.
    pub fn head(&self) -> RecordNo {
        self.head
    }

    /// Runs `work` in one write transaction, unless an earlier one ended in doubt.
    pub(crate) fn write<T>(
        &mut self,
        work: impl FnOnce(&Connection) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        self.certain()?;
        let result = crate::write::transaction(&self.conn, || work(&self.conn));
        self.doubt(&result);
        self.measured();
        result
    }

    /// Whether what is written now is written where the next start will read it.
    pub(crate) fn certain(&self) -> Result<(), StoreError> {
        if let Some(why) = &self.doubtful {
            return Err(StoreError::Unknown { why: why.clone() });
        }
        // SQLite goes on with a file that was renamed, deleted or cut short below it, and all of it would be lost.
        let (path, ours) = &self.file;
        let mut least = self.least.get();
        least.file = stands(path, *ours, least.file)?;
        if let Some((ours, bytes)) = least.log {
            least.log = Some((ours, stands(&log_of(path), ours, bytes)?));
        }
        self.least.set(least);
        Ok(())
    }

    /// Remembers how long the write-ahead log is after something was written.
    pub(crate) fn measured(&self) {
        let about = fs::metadata(log_of(&self.file.0)).ok();
        let log = about.map(|about| (inode(&about), about.len()));
        self.least.set(Lengths {
            log,
            ..self.least.get()
        });
    }

    /// From now on the file may be shorter: it was written anew.
    pub(crate) fn shortened(&self) {
        self.least.set(Lengths::default());
    }

    /// Where the file is.
    pub(crate) fn path(&self) -> &Path {
        &self.file.0
    }

    pub(crate) fn doubt<T>(&mut self, result: &Result<T, StoreError>) {
        if let Err(StoreError::Unknown { why }) = result {
            self.doubtful = Some(why.clone());
        }
    }
}

/// Where a facility's file is.
pub(crate) fn file_in(folder: &Path, guild: Guild) -> PathBuf {
    folder.join(format!("{guild}.loft"))
}

/// Where its lock is.
fn lock_of(folder: &Path, guild: Guild) -> PathBuf {
    folder.join(format!("{guild}.lock"))
}

/// SQLite's write-ahead log of the file at `path`.
pub(crate) fn log_of(path: &Path) -> PathBuf {
    beside(path, "-wal")
}

/// What SQLite keeps beside the file at `path`.
pub(crate) fn beside(path: &Path, end: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(end);
    name.into()
}

/// A connection that cannot write, not even where SQLite would mend something. It has read the file once, so that whoever copies
/// out of it knows which of the two sides failed.
pub(crate) fn reader(path: &Path) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_NO_MUTEX
        | OpenFlags::SQLITE_OPEN_NOFOLLOW;
    let conn = Connection::open_with_flags(path, flags)
        .map_err(|fault| StoreError::from(fault).reading(path))?;
    conn.busy_timeout(BUSY)?;
    expect(&conn, "trusted_schema", 0)?;
    expect(&conn, "cell_size_check", 1)?;
    expect(&conn, "temp_store", TEMP_IN_MEMORY)?;
    // What it holds is judged by whoever asked.
    match pragma::<i32>(&conn, "application_id").map_err(StoreError::from) {
        Err(fault @ StoreError::Refused { .. }) => Err(fault.reading(path)),
        Ok(_) | Err(_) => Ok(conn),
    }
}

/// That the file of this number is at the path, no shorter than it was; its bytes.
fn stands(path: &Path, ours: Inode, least: u64) -> Result<u64, StoreError> {
    match fs::metadata(path) {
        Ok(about) if inode(&about) == ours && about.len() >= least => Ok(about.len()),
        Ok(_) => Err(StoreError::Replaced {
            path: path.to_owned(),
        }),
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => Err(StoreError::Replaced {
            path: path.to_owned(),
        }),
        Err(why) => Err(StoreError::Refused {
            why: why.to_string(),
        }),
    }
}

fn inode(about: &fs::Metadata) -> Inode {
    about.ino()
}

/// SQLite would read the write-ahead log of one file into another that was put in its place, and destroy it. The lock
/// file remembers which file the log belongs to.
fn not_beside_anothers_log(path: &Path, known: Option<Inode>) -> Result<(), StoreError> {
    let log = fs::metadata(log_of(path)).map_or(0, |about| about.len());
    if log == 0 || !keeps_numbers(path) {
        return Ok(());
    }
    let there = fs::metadata(path).ok().map(|about| inode(&about));
    if known.is_none() || known == there {
        return Ok(());
    }
    Err(StoreError::Replaced {
        path: path.to_owned(),
    })
}

/// What the lock file remembers; nothing where it is new, or a restore emptied it.
fn remembered(lock: &mut File) -> Option<Inode> {
    let mut text = String::new();
    lock.read_to_string(&mut text).ok()?;
    text.trim().parse().ok()
}

/// On disk before the first commit: an old number beside a new file would be a refusal after a power cut.
fn remember(lock: &mut File, number: Inode) -> std::io::Result<()> {
    lock.set_len(0)?;
    lock.seek(SeekFrom::Start(0))?;
    writeln!(lock, "{number}")?;
    lock.sync_all()
}

fn new_enough(found: i32) -> Result<(), StoreError> {
    if found >= SQLITE_OLDEST {
        return Ok(());
    }
    Err(StoreError::SqliteTooOld {
        found: rusqlite::version(),
        oldest: SQLITE_OLDEST_TEXT,
    })
}

/// Why the file is not one that loftwatch made, if it is not.
pub(crate) fn another_programs(
    conn: &Connection,
    size: u64,
) -> Result<Option<&'static str>, StoreError> {
    if size == 0 {
        return Ok(Some("it is empty"));
    }
    match pragma::<i32>(conn, "application_id") {
        Ok(APPLICATION_ID) => Ok(None),
        Ok(0) if tables(conn)? == 0 => Ok(Some(NO_TABLES)),
        Ok(_other) => Ok(Some("another program made it")),
        Err(fault) if fault.sqlite_error_code() == Some(rusqlite::ErrorCode::NotADatabase) => {
            Ok(Some("it is no SQLite file"))
        }
        Err(fault) => Err(fault.into()),
    }
}

/// What is newest of a young home stands in the `-wal` file alone, the tables and our mark too.
const NO_TABLES: &str = "it holds no tables, so it is a copy of a home's file without the -wal file that belongs to it, or another program's; \
     copy both, or better make a copy with `loftwatch backup`";

fn tables(conn: &Connection) -> Result<i64, StoreError> {
    Ok(conn.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?)
}

/// Whether the file is ours, before anything in it is touched: its format, or 0 for one that is new.
fn recognised(conn: &Connection, path: &Path, guild: Guild, size: u64) -> Result<i64, StoreError> {
    let not_ours = |why: &str| StoreError::NotOurs {
        path: path.to_owned(),
        guild,
        why: why.to_owned(),
    };
    let id = match pragma::<i32>(conn, "application_id") {
        Ok(id) => id,
        Err(fault) if fault.sqlite_error_code() == Some(rusqlite::ErrorCode::NotADatabase) => {
            return Err(not_ours("it is no SQLite file"));
        }
        Err(fault) => return Err(fault.into()),
    };
    let found: i64 = pragma(conn, "user_version")?;
    let tables = tables(conn)?;
    if id == APPLICATION_ID {
        if found > NEWEST {
            return Err(StoreError::Newer {
                path: path.to_owned(),
                found,
                known: NEWEST,
            });
        }
        return Ok(found);
    }
    // A new file is empty. One whose making was cut short has no table yet and no mark.
    if size == 0 || (id == 0 && found == 0 && tables == 0) {
        return Ok(0);
    }
    Err(not_ours("another program made it"))
}

/// Sets what this connection needs, and reads each back: SQLite ignores what it does not know or cannot do.
fn settle_pragmas(conn: &Connection) -> Result<(), StoreError> {
    // One fsync per commit instead of several, and readers never wait for the writer.
    expect(conn, "journal_mode", "wal".to_owned())?;
    // FULL: NORMAL may lose the last commits at a power cut, and every entry is on disk before its answer.
    expect(conn, "synchronous", 2)?;
    // A note without its record is refused.
    expect(conn, "foreign_keys", 1)?;
    // A file that somebody tampered with must not run functions through its views or triggers.
    expect(conn, "trusted_schema", 0)?;
    // A damaged page is noticed when it is read, not when it has led to a wrong answer.
    expect(conn, "cell_size_check", 1)?;
    // Sorting for a view or `verify` must leave no copy of the data outside of the folder.
    expect(conn, "temp_store", TEMP_IN_MEMORY)?;
    // In KiB, where it is negative. Reads come from the state; a commit touches a handful of pages, and one computer
    // may hold many homes.
    expect(conn, "cache_size", CACHE_KIB)?;
    // How large the WAL grows before it is moved into the file: the file's reader-visible size stays bounded.
    expect(conn, "wal_autocheckpoint", CHECKPOINT_PAGES)?;
    // A kept statement is not planned anew for every other value that is bound to it.
    conn.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    let busy = i64::try_from(BUSY.as_millis()).unwrap_or(i64::MAX);
    expect(conn, "busy_timeout", busy)
}

pub(crate) fn expect<T>(conn: &Connection, name: &'static str, wanted: T) -> Result<(), StoreError>
where
    T: FromSql + ToSql + PartialEq + ToString,
{
    // Some pragmas answer with a row and some do not; either way only what is read back counts.
    conn.pragma_update(None, name, &wanted)?;
    let found: T = pragma(conn, name)?;
    if found == wanted {
        return Ok(());
    }
    Err(StoreError::Pragma {
        pragma: name,
        wanted: wanted.to_string(),
        found: found.to_string(),
    })
}

fn pragma<T: FromSql>(conn: &Connection, name: &str) -> rusqlite::Result<T> {
    conn.pragma_query_value(None, name, |row| row.get(0))
}

/// Migrates in one exclusive transaction, and checks that the file is this facility's.
fn bring_up(
    conn: &mut Connection,
    path: &Path,
    guild: Guild,
    found: i64,
) -> Result<(), StoreError> {
    if found < NEWEST {
        let change = conn.transaction_with_behavior(TransactionBehavior::Exclusive)?;
        migrations::migrate(&change, found)?;
        if found == 0 {
            change.pragma_update(None, "application_id", APPLICATION_ID)?;
            change.execute(
                "INSERT INTO about (one, guild, alive) VALUES (1, ?1, NULL)",
                [guild.0.cast_signed()],
            )?;
        }
        change.commit()?;
    }
    theirs(conn, path, guild)
}

/// That the file is not somebody else's as far as it says, before its mode is mended: what is refused is not changed. Whatever else
/// is wrong with it is found when it is opened.
fn not_anothers(path: &Path, guild: Guild, size: u64) -> Result<(), StoreError> {
    let said = reader(path).and_then(|conn| match recognised(&conn, path, guild, size)? {
        0 => Ok(()),
        _format => theirs(&conn, path, guild),
    });
    match said {
        Err(fault @ (StoreError::NotOurs { .. } | StoreError::Newer { .. })) => Err(fault),
        Ok(()) | Err(_) => Ok(()),
    }
}

/// Whether the file is this facility's.
fn theirs(conn: &Connection, path: &Path, guild: Guild) -> Result<(), StoreError> {
    let owner = owner(conn)?;
    if owner == guild {
        return Ok(());
    }
    Err(StoreError::NotOurs {
        path: path.to_owned(),
        guild,
        why: format!("it belongs to facility {owner}"),
    })
}

/// Whose file it says that it is.
pub(crate) fn owner(conn: &Connection) -> Result<Guild, StoreError> {
    let owner: i64 = conn.query_row("SELECT guild FROM about", [], |row| row.get(0))?;
    Ok(Guild(owner.cast_unsigned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_old_sqlite_is_refused() {
        assert!(new_enough(SQLITE_OLDEST).is_ok());
        let fault = new_enough(SQLITE_OLDEST - 1).unwrap_err();
        assert!(matches!(fault, StoreError::SqliteTooOld { .. }));
    }

    #[test]
    fn a_setting_that_did_not_take_is_an_error() {
        let conn = Connection::open_in_memory().unwrap();
        let fault = expect(&conn, "journal_mode", "wal".to_owned()).unwrap_err();
        assert!(matches!(fault, StoreError::Pragma { .. }), "{fault}");
        let unknown = expect(&conn, "no_such_pragma", 1);
        assert!(unknown.is_err());
    }

    #[test]
    fn the_open_file_has_the_settings() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path(), Guild(1)).unwrap();
        for (name, wanted) in [
            ("synchronous", 2),
            ("foreign_keys", 1),
            ("trusted_schema", 0),
            ("cell_size_check", 1),
            ("user_version", NEWEST),
            ("application_id", i64::from(APPLICATION_ID)),
        ] {
            assert_eq!(pragma::<i64>(&store.conn, name).unwrap(), wanted, "{name}");
        }
        assert_eq!(
            pragma::<String>(&store.conn, "journal_mode").unwrap(),
            "wal"
        );
    }
}
