//! Free text beside a record. Decides how it is kept so that it can be erased while the chain holds:
//! the record has only a salted hash of it. Leaves the privacy guard to `commands`.

use commands::ids::RecordNo;
use rusqlite::Connection;

use crate::chain::{self, Hash};
use crate::{Store, StoreError};

/// Enough that a short note cannot be guessed from its hash once it is erased.
const SALT_BYTES: usize = 16;

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

impl Store {
    /// Erases the note of a record from the file, its free pages and its WAL; the record stays and still
    /// verifies. Says whether there was one. Rewrites the whole file, so it is slow: some tenths of a second.
    ///
    /// Backups made before, and blocks that the disk itself has retired, still hold it.
    ///
    /// # Errors
    /// [`StoreError`]; the note may then be gone from the table but not yet from the free pages: call again.
    /// [`StoreError::Busy`] when another program reads the file at this moment.
    pub fn erase_note(&mut self, no: RecordNo) -> Result<bool, StoreError> {
        let gone = self.write(|conn| {
            let gone = conn.execute("DELETE FROM notes WHERE no = ?1", [no.0.cast_signed()])?;
            Ok(gone > 0)
        })?;
        // Also when it was gone already: an earlier call may have been cut short here.
        self.conn.execute_batch("VACUUM")?;
        let kept_back: bool =
            self.conn
                .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))?;
        // A reader beside us still needs the old pages, and so the text is still in the WAL.
        if kept_back {
            return Err(StoreError::Busy);
        }
        Ok(gone)
    }
}
