//! Opening a facility's file. Decides what is refused (an old SQLite, a network file system, a folder
//! that others can read, a second program, a file that is not ours or from the future) and with which
//! settings SQLite runs. Leaves where the folder is to `bot`.

use std::fs::{self, DirBuilder, File, OpenOptions, Permissions};
use std::io;
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt, PermissionsExt};
use std::path::{Path, PathBuf};
use std::time::Duration;

use commands::ids::{Guild, RecordNo};
use rusqlite::config::DbConfig;
use rusqlite::types::{FromSql, ToSql};
use rusqlite::{Connection, OpenFlags, OptionalExtension, TransactionBehavior};
use rustix::fs::FlockOperation;

use crate::StoreError;
use crate::chain::{self, Hash};
use crate::migrations::{self, NEWEST};
use crate::views;

/// "loft" in ASCII: marks the file as ours for `file(1)` and for this crate.
pub const APPLICATION_ID: i32 = 0x6c6f_6674;

/// The oldest SQLite that will do, as [`rusqlite::version_number`] counts: releases before 3.51.3 could
/// damage a WAL that is reset while another connection reads (SQLite's release notes).
pub const SQLITE_OLDEST: i32 = 3_051_003;
const SQLITE_OLDEST_TEXT: &str = "3.51.3";

/// How long a write waits for another program, an analyst's tool for example, to let go of the file.
const BUSY: Duration = Duration::from_millis(2_000);

/// Pages in the WAL before SQLite moves them into the file: about 4 MB, its default.
const CHECKPOINT_PAGES: i64 = 1_000;

/// Statements kept ready: more than this crate has, so that none is prepared twice.
const STATEMENTS_KEPT: usize = 64;
/// Pages that SQLite keeps for itself, as its pragma counts them: 256 KiB.
const CACHE_KIB: i64 = -256;

/// Owner only.
const FOLDER_MODE: u32 = 0o700;
const FILE_MODE: u32 = 0o600;
const OTHERS: u32 = 0o077;

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
    /// When sent rows were last pruned.
    pub(crate) pruned_ms: Option<i64>,
    /// Reused from record to record.
    pub(crate) scratch: Vec<u8>,
    /// Locked for as long as it is open. The last field, so that the connection closes first.
    _lock: File,
}

impl Store {
    /// Creates or opens `<folder>/<guild>.loft`. The folder is made, owner-only, if it is not there.
    ///
    /// # Errors
    /// [`StoreError`] names what is refused and why; nothing of a refused file is changed.
    pub fn open(folder: &Path, guild: Guild) -> Result<Store, StoreError> {
        new_enough(rusqlite::version_number())?;
        let folder = private_folder(folder)?;
        local_disk(&folder)?;
        let lock = lock(folder.join(format!("{guild}.lock")))?;
        let path = folder.join(format!("{guild}.loft"));
        let file = private_file(&path)?;
        let size = file.metadata().map_err(|why| at(&path, why))?.len();
        drop(file);

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
        Ok(Store {
            conn,
            guild,
            head: RecordNo(head),
            tip,
            doubtful: None,
            pruned_ms: None,
            scratch: Vec::new(),
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
        result
    }

    pub(crate) fn certain(&self) -> Result<(), StoreError> {
        match &self.doubtful {
            Some(why) => Err(StoreError::Unknown { why: why.clone() }),
            None => Ok(()),
        }
    }

    pub(crate) fn doubt<T>(&mut self, result: &Result<T, StoreError>) {
        if let Err(StoreError::Unknown { why }) = result {
            self.doubtful = Some(why.clone());
        }
    }
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

/// The folder's real path; NOFOLLOW refuses a link anywhere in the path of the file.
fn private_folder(folder: &Path) -> Result<PathBuf, StoreError> {
    let made = DirBuilder::new()
        .recursive(true)
        .mode(FOLDER_MODE)
        .create(folder);
    made.map_err(|why| at(folder, why))?;
    let real = fs::canonicalize(folder).map_err(|why| at(folder, why))?;
    let mode = fs::metadata(&real)
        .map_err(|why| at(&real, why))?
        .permissions()
        .mode()
        & 0o777;
    if mode & OTHERS == 0 {
        return Ok(real);
    }
    // An empty folder, or one of ours, is made private. In any other, somebody may have named by mistake what
    // other programs use as well.
    if !ours_alone(&real)? {
        return Err(StoreError::TooOpen { path: real, mode });
    }
    fs::set_permissions(&real, Permissions::from_mode(FOLDER_MODE))
        .map_err(|why| at(&real, why))?;
    Ok(real)
}

/// Whether nothing is in the folder but facilities' files.
fn ours_alone(folder: &Path) -> Result<bool, StoreError> {
    for entry in fs::read_dir(folder).map_err(|why| at(folder, why))? {
        let path = entry.map_err(|why| at(folder, why))?.path();
        let kind = path.extension().and_then(|kind| kind.to_str());
        if !matches!(kind, Some("loft" | "loft-wal" | "loft-shm" | "lock")) {
            return Ok(false);
        }
    }
    Ok(true)
}

/// Creates the file empty and owner-only, before SQLite could create it with the process's usual mode.
/// The WAL and its index take their mode from it. A file that a restored backup left more open is tightened.
fn private_file(path: &Path) -> Result<File, StoreError> {
    let file = OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .mode(FILE_MODE)
        .custom_flags(nofollow())
        .open(path)
        .map_err(|why| at(path, why))?;
    let mode = file
        .metadata()
        .map_err(|why| at(path, why))?
        .permissions()
        .mode();
    if mode & OTHERS != 0 {
        file.set_permissions(Permissions::from_mode(FILE_MODE))
            .map_err(|why| at(path, why))?;
    }
    Ok(file)
}

fn nofollow() -> i32 {
    rustix::fs::OFlags::NOFOLLOW.bits().cast_signed()
}

/// The lock lives in a file of its own: closing any handle on the data file would drop SQLite's own locks on it.
fn lock(path: PathBuf) -> Result<File, StoreError> {
    let file = OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .mode(FILE_MODE)
        .custom_flags(nofollow())
        .open(&path)
        .map_err(|why| at(&path, why))?;
    match rustix::fs::flock(&file, FlockOperation::NonBlockingLockExclusive) {
        Ok(()) => Ok(file),
        Err(rustix::io::Errno::WOULDBLOCK) => Err(StoreError::Locked { path }),
        Err(fault) => Err(at(&path, fault.into())),
    }
}

fn at(path: &Path, why: io::Error) -> StoreError {
    StoreError::Folder {
        path: path.to_owned(),
        why,
    }
}

#[cfg(target_os = "linux")]
fn local_disk(folder: &Path) -> Result<(), StoreError> {
    let handle = File::open(folder).map_err(|why| at(folder, why))?;
    let stat = rustix::fs::fstatfs(&handle).map_err(|fault| at(folder, fault.into()))?;
    // The field's width differs between machines; the numbers are 32 bits everywhere.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "file-system numbers are 32 bits in a field of the machine's own width"
    )]
    match network(stat.f_type as u32) {
        None => Ok(()),
        Some(kind) => Err(StoreError::Network {
            path: folder.to_owned(),
            kind,
        }),
    }
}

/// Other systems give no such number; the README tells to use a disk of the computer.
#[cfg(not(target_os = "linux"))]
fn local_disk(_folder: &Path) -> Result<(), StoreError> {
    Ok(())
}

/// The file systems on which SQLite's locks or its shared memory do not hold, by the numbers of Linux's
/// `statfs(2)` and `linux/magic.h`. A FUSE mount may be a network or a local disk and does not say; it passes.
#[cfg(target_os = "linux")]
fn network(magic: u32) -> Option<&'static str> {
    match magic {
        0x0000_6969 => Some("NFS"),
        0x0000_517b | 0xff53_4d42 | 0xfe53_4d42 => Some("SMB"),
        0x5346_414f | 0x6b41_4653 => Some("AFS"),
        0x7375_7245 => Some("Coda"),
        0x0000_564c => Some("NCP"),
        0x0102_1997 => Some("9P"),
        0x00c3_6400 => Some("Ceph"),
        0x0bd0_0bd0 => Some("Lustre"),
        0x0116_1970 => Some("GFS2"),
        0x7461_636f => Some("OCFS2"),
        0x786f_4256 => Some("a shared folder of a virtual machine"),
        _ => None,
    }
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
    let tables: i64 = conn.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
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
    expect(conn, "temp_store", 2)?;
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

fn expect<T>(conn: &Connection, name: &'static str, wanted: T) -> Result<(), StoreError>
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
    let owner: i64 = conn.query_row("SELECT guild FROM about", [], |row| row.get(0))?;
    if owner == guild.0.cast_signed() {
        return Ok(());
    }
    Err(StoreError::NotOurs {
        path: path.to_owned(),
        guild,
        why: format!("it belongs to facility {}", owner.cast_unsigned()),
    })
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

    /// Outside check: the numbers that `statfs(2)` of the Linux manual pages lists for NFS, SMB, CIFS and ext4, from
    /// memory.
    #[cfg(target_os = "linux")]
    #[test]
    fn network_file_systems_are_told_from_local_ones() {
        assert_eq!(network(0x6969), Some("NFS"));
        assert_eq!(network(0x517b), Some("SMB"));
        assert_eq!(network(0xff53_4d42), Some("SMB"));
        assert_eq!(network(0xef53), None);
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
