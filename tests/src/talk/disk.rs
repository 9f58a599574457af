//! The disk below a conversation: a power cut after any single commit. Decides which bytes survive;
//! knows of SQLite only how its write-ahead log is laid out, which its file format page publishes
//! (sqlite.org/fileformat2.html, "The Write-Ahead Log"; from memory).

use std::fs;
use std::io;
use std::path::Path;

const HEADER: usize = 32;
const FRAME_HEADER: usize = 24;

/// How much had been committed at some moment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Mark {
    salt: u64,
    commits: usize,
}

/// The commits in a facility's write-ahead log.
#[derive(Clone, Debug, Default)]
pub struct Commits {
    salt: u64,
    /// Where in the log each commit ends.
    ends: Vec<usize>,
}

impl Commits {
    /// Reads those of the facility whose database is at `database`; none when there is no log.
    pub fn of(database: &Path) -> Self {
        let Ok(wal) = fs::read(log_of(database)) else {
            return Self::default();
        };
        if wal.len() < HEADER {
            return Self::default();
        }
        let word = |at: usize| u32::from_be_bytes([wal[at], wal[at + 1], wal[at + 2], wal[at + 3]]);
        let page = word(8) as usize;
        let salt = |at: usize| u64::from(word(at)) << 32 | u64::from(word(at + 4));
        let ours = salt(16);
        let mut ends = Vec::new();
        let mut at = HEADER;
        while at + FRAME_HEADER + page <= wal.len() && salt(at + 8) == ours {
            let commits = word(at + 4) != 0;
            at += FRAME_HEADER + page;
            if commits {
                ends.push(at);
            }
        }
        Self { salt: ours, ends }
    }

    /// Where the log ends now.
    pub fn mark(&self) -> Mark {
        Mark {
            salt: self.salt,
            commits: self.ends.len(),
        }
    }

    /// Where the newest commit ends.
    pub fn end(&self) -> Option<usize> {
        self.ends.last().copied()
    }

    /// Whether this is the same log as `earlier`, not one that began anew since.
    pub fn follows(&self, earlier: &Self) -> bool {
        self.salt == earlier.salt
    }

    /// Where each commit since `mark` ends. After the log began anew only those of the new one are known.
    pub fn since(&self, mark: Mark) -> &[usize] {
        if mark.salt == self.salt {
            &self.ends[mark.commits.min(self.ends.len())..]
        } else {
            &self.ends
        }
    }
}

/// What is on disk after a power cut: the database, and its log up to `end`.
///
/// # Errors
/// When the files cannot be copied.
pub fn survives(database: &Path, into: &Path, end: Option<usize>) -> io::Result<()> {
    let name = database.file_name().ok_or(io::ErrorKind::InvalidInput)?;
    let copy = into.join(name);
    fs::copy(database, &copy)?;
    let log = log_of(database);
    if log.exists() {
        let to = log_of(&copy);
        fs::copy(&log, &to)?;
        if let Some(end) = end {
            fs::OpenOptions::new()
                .write(true)
                .open(&to)?
                .set_len(end as u64)?;
        }
    }
    Ok(())
}

/// What may be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Disk {
    /// Everything.
    Roomy,
    /// Nothing as long as a record: it is almost full.
    Tight,
    /// Nothing: it is full, or may only be read.
    Shut,
}

/// From now on only so much may be written. Triggers stand in for it: what they refuse fails as it does where there is no room.
///
/// # Errors
/// When the file cannot be reached.
pub fn becomes(database: &Path, disk: Disk) -> anyhow::Result<()> {
    let file = rusqlite::Connection::open(database)?;
    let tables: Vec<String> = file
        .prepare(
            "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'",
        )?
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    for table in &tables {
        for change in ["INSERT", "UPDATE", "DELETE"] {
            let name = format!("no_room_{table}_{change}");
            file.execute_batch(&format!("DROP TRIGGER IF EXISTS {name}"))?;
            let refused = match disk {
                Disk::Roomy => false,
                Disk::Tight => table == "records" && change == "INSERT",
                Disk::Shut => true,
            };
            if refused {
                file.execute_batch(&format!(
                    "CREATE TRIGGER {name} BEFORE {change} ON {table} BEGIN SELECT RAISE(ABORT, 'no room'); END"
                ))?;
            }
        }
    }
    Ok(())
}

fn log_of(database: &Path) -> std::path::PathBuf {
    database.with_extension("loft-wal")
}
