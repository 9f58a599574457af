//! Free text beside a record. Decides how it is kept so that it can be erased while the chain holds:
//! the record has only a salted hash of it. Leaves the privacy guard to `commands`.

use std::path::Path;

use commands::ids::RecordNo;
use commands::message::Message;
use rusqlite::{Connection, OptionalExtension};

use crate::chain::{self, Hash};
use crate::open::{TEMP_IN_FILES, TEMP_IN_MEMORY, expect};
use crate::{Store, StoreError};

/// Enough that a short note cannot be guessed from its hash once it is erased.
const SALT_BYTES: usize = 16;

/// Records that one cause makes, at most, beside which the same words are looked for.
const TOGETHER_MOST: i64 = 256;

/// A note ready to be written: made before its record, because the record holds its hash.
pub(crate) struct Salted<'a> {
    salt: [u8; SALT_BYTES],
    text: &'a str,
    pub hash: Hash,
}

impl<'a> Salted<'a> {
    pub(crate) fn new(text: &'a str) -> Result<Self, StoreError> {
        let mut salt = [0; SALT_BYTES];
        getrandom::fill(&mut salt).map_err(StoreError::Random)?;
        Ok(Self {
            salt,
            text,
            hash: chain::note_hash(&salt, text.as_bytes()),
        })
    }

    pub(crate) fn insert(&self, conn: &Connection, no: RecordNo) -> Result<(), StoreError> {
        conn.prepare_cached("INSERT INTO notes (no, salt, text) VALUES (?1, ?2, ?3)")?
            .execute((no.0.cast_signed(), &self.salt, self.text))?;
        Ok(())
    }
}

/// The setting that says that text is gone from the tables and not yet from the file.
const SCRUB: &str = "scrub";
/// What it says once the text is only in the WAL.
const REWRITTEN: &str = "rewritten";

/// Takes the note of a record that the log says was erased out of its table, and the same words from beside the other records of its cause; what else
/// may hold a copy goes too. The record stays and still verifies. Until [`Store::scrub`] the file's free pages hold it.
pub(crate) fn erase(conn: &Connection, of: RecordNo) -> rusqlite::Result<()> {
    take_from_what_waits(conn, of)?;
    conn.execute(
        "DELETE FROM notes WHERE no IN (
             SELECT n.no FROM notes n JOIN records r ON r.no = n.no
             JOIN records o ON o.no = ?1 JOIN notes t ON t.no = ?1
             WHERE n.no BETWEEN o.cause AND o.cause + ?2 AND r.cause = o.cause AND n.text = t.text)",
        (of.0.cast_signed(), TOGETHER_MOST),
    )?;
    // The state as it was is a copy; so is, in a file from before they were emptied, a message that was given up.
    conn.execute("UPDATE outbox SET message = '' WHERE state = 'dead'", [])?;
    conn.execute("DELETE FROM snapshots", [])?;
    conn.execute(
        "INSERT INTO settings (name, value) VALUES (?1, '1') ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        [SCRUB],
    )?;
    Ok(())
}

/// What waits to be sent goes without it. A message that may be in the chat already keeps its words, by which it is looked for.
fn take_from_what_waits(conn: &Connection, of: RecordNo) -> rusqlite::Result<()> {
    let note: Option<String> = conn
        .prepare_cached("SELECT text FROM notes WHERE no = ?1")?
        .query_row([of.0.cast_signed()], |row| row.get(0))
        .optional()?;
    let Some(note) = note else {
        return Ok(());
    };
    let mut waiting = conn.prepare_cached(
        "SELECT id, message FROM outbox
         WHERE state = 'waiting' AND (edits IS NOT NULL OR sending_at IS NULL)",
    )?;
    let mut change = conn.prepare_cached("UPDATE outbox SET message = ?2 WHERE id = ?1")?;
    let mut changed: Vec<(i64, String)> = Vec::new();
    let mut rows = waiting.query([])?;
    while let Some(row) = rows.next()? {
        // One that cannot be read is never sent, and is emptied when it is given up.
        let Ok(mut message) = serde_json::from_slice::<Message>(row.get_ref(1)?.as_bytes()?) else {
            continue;
        };
        if message.forget(&note)
            && let Ok(text) = serde_json::to_string(&message)
        {
            changed.push((row.get(0)?, text));
        }
    }
    for (id, text) in changed {
        change.execute((id, text))?;
    }
    Ok(())
}

impl Store {
    /// The records beside which something was written that was erased since, oldest first.
    pub(crate) fn erased(&self) -> Result<Vec<RecordNo>, StoreError> {
        let mut statement = self.conn.prepare(
            "SELECT r.no FROM records r LEFT JOIN notes n ON n.no = r.no
             WHERE r.note IS NOT NULL AND n.no IS NULL ORDER BY r.no",
        )?;
        let rows = statement.query_map([], |row| row.get::<_, i64>(0))?;
        let mut erased = Vec::new();
        for no in rows {
            erased.push(RecordNo(no?.cast_unsigned()));
        }
        Ok(erased)
    }

    /// Whether something is written beside a record.
    pub(crate) fn has_note(&self, no: RecordNo) -> Result<bool, StoreError> {
        let count: i64 = self.conn.query_row(
            "SELECT count(*) FROM notes WHERE no = ?1",
            [no.0.cast_signed()],
            |row| row.get(0),
        )?;
        Ok(count > 0)
    }

    /// Whether text that was erased is still in the file's free pages or its WAL.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn wants_scrub(&self) -> Result<bool, StoreError> {
        Ok(self.setting(SCRUB)?.is_some())
    }

    /// Takes what was erased out of the free pages and the WAL. Rewrites the whole file, so it is slow: some tenths of a
    /// second; and it wants room on its disk for two more of the file.
    ///
    /// Backups made before, and blocks that the disk itself has retired, still hold it.
    ///
    /// # Errors
    /// [`StoreError::Busy`] when another program reads the file at this moment, others when it cannot be written: call
    /// again.
    pub fn scrub(&mut self) -> Result<(), StoreError> {
        self.certain()?;
        if self.setting(SCRUB)?.as_deref() != Some(REWRITTEN) {
            // While somebody reads, each rewriting would only make the WAL longer by the whole file.
            self.empty_log()?;
            self.shortened();
            self.rewrite()?;
            self.write(|conn| {
                conn.execute(
                    "UPDATE settings SET value = ?2 WHERE name = ?1",
                    [SCRUB, REWRITTEN],
                )?;
                Ok(())
            })?;
        }
        self.empty_log()?;
        self.write(|conn| {
            conn.execute("DELETE FROM settings WHERE name = ?1", [SCRUB])?;
            Ok(())
        })
    }

    /// Moves what is in the WAL into the file, and leaves nothing in it.
    fn empty_log(&self) -> Result<(), StoreError> {
        self.shortened();
        let kept_back: bool =
            self.conn
                .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))?;
        // A reader beside us still needs the old pages, and so the text is still in the WAL.
        if kept_back {
            return Err(StoreError::Busy);
        }
        Ok(())
    }

    /// Writes the file anew. The copy that SQLite makes of it on the way may be larger than the memory that we are given, so it goes
    /// into the data folder, as a file without a name.
    fn rewrite(&self) -> Result<(), StoreError> {
        let folder = self.path().parent().and_then(Path::to_str);
        let Some(folder) = folder else {
            return Ok(self.conn.execute_batch("VACUUM")?);
        };
        // One for the whole program, as the data folder is; nobody else lets SQLite make such files.
        expect(&self.conn, "temp_store_directory", folder.to_owned())?;
        expect(&self.conn, "temp_store", TEMP_IN_FILES)?;
        let rewritten = self.conn.execute_batch("VACUUM");
        expect(&self.conn, "temp_store", TEMP_IN_MEMORY)?;
        Ok(rewritten?)
    }
}
