//! Small facts of the program, not of the facility: what is registered with the chat platform, and when
//! the program was last known to run. Decides how they are kept; leaves their meaning to `bot`.

use chrono::{DateTime, Utc};
use rusqlite::{Connection, OptionalExtension};

use crate::log::{from_ms, to_ms};
use crate::{Store, StoreError};

impl Store {
    /// The program runs at `now`. Once an hour of facility time this also prunes the outbox.
    ///
    /// # Errors
    /// [`StoreError`]; nothing was written then.
    pub fn alive(&mut self, now: DateTime<Utc>) -> Result<(), StoreError> {
        let now_ms = to_ms(now);
        let prune = self.prune_is_due(now_ms);
        self.write(|conn| {
            let aged_ms = crate::outbox::age(conn, now_ms)?;
            conn.prepare_cached("UPDATE about SET alive = ?1")?
                .execute([now_ms])?;
            if prune {
                crate::outbox::prune(conn, aged_ms)?;
            }
            Ok(())
        })?;
        if prune {
            self.pruned_ms = Some(now_ms);
        }
        Ok(())
    }

    /// When the program was last known to run; `None` in a new file.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn last_alive(&self) -> Result<Option<DateTime<Utc>>, StoreError> {
        let ms: Option<i64> = self
            .conn
            .prepare_cached("SELECT alive FROM about")?
            .query_row([], |row| row.get(0))?;
        ms.map(from_ms).transpose()
    }

    /// A setting's value, if it was ever set.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn setting(&self, name: &str) -> Result<Option<String>, StoreError> {
        value(&self.conn, name)
    }

    /// Sets a setting.
    ///
    /// # Errors
    /// [`StoreError`]; nothing was written then.
    pub fn set_setting(&mut self, name: &str, value: &str) -> Result<(), StoreError> {
        self.write(|conn| set(conn, name, value))
    }
}

/// What [`Store::set_setting`] writes.
pub(crate) fn set(conn: &Connection, name: &str, value: &str) -> Result<(), StoreError> {
    conn.prepare_cached(
        "INSERT INTO settings (name, value) VALUES (?1, ?2)
         ON CONFLICT (name) DO UPDATE SET value = excluded.value",
    )?
    .execute((name, value))?;
    Ok(())
}

/// What [`Store::setting`] reads.
pub(crate) fn value(conn: &Connection, name: &str) -> Result<Option<String>, StoreError> {
    Ok(conn
        .prepare_cached("SELECT value FROM settings WHERE name = ?1")?
        .query_row([name], |row| row.get(0))
        .optional()?)
}
