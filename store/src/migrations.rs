//! The formats that the file has had. Decides how an older file becomes a newer one; leaves reading
//! older record bodies to `commands`, since bodies are never rewritten.
//!
//! The list is append-only: a migration that was ever released is not changed again. No clock, no
//! domain code and nothing from outside of the file goes into one.

use rusqlite::Connection;

/// Migration *n* makes format *n + 1*, which is kept in `user_version`.
pub(crate) const MIGRATIONS: &[&str] = &[FORMAT_1];

/// The newest format that this program knows.
pub(crate) const NEWEST: i64 = MIGRATIONS.len() as i64;

/// Brings the file from format `found` to [`NEWEST`]. The caller holds the exclusive transaction.
///
/// # Errors
/// What SQLite says; the caller then rolls back.
pub(crate) fn migrate(conn: &Connection, found: i64) -> rusqlite::Result<()> {
    let done = usize::try_from(found).unwrap_or(0);
    for migration in MIGRATIONS.iter().skip(done) {
        conn.execute_batch(migration)?;
    }
    conn.pragma_update(None, "user_version", NEWEST)
}

/// `schema.sql` says what each table and column is for.
const FORMAT_1: &str = "
CREATE TABLE about (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    guild INTEGER NOT NULL,
    alive INTEGER
) STRICT;

CREATE TABLE causes (
    source ANY NOT NULL PRIMARY KEY,
    first INTEGER NOT NULL,
    count INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE records (
    no INTEGER PRIMARY KEY,
    cause INTEGER NOT NULL,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who INTEGER,
    role TEXT NOT NULL,
    kind TEXT NOT NULL,
    surface TEXT,
    amends INTEGER,
    version INTEGER NOT NULL,
    body TEXT NOT NULL,
    note BLOB,
    hash BLOB NOT NULL
) STRICT;

CREATE INDEX records_by_amended ON records (amends) WHERE amends IS NOT NULL;

CREATE TABLE notes (
    no INTEGER PRIMARY KEY REFERENCES records (no),
    salt BLOB NOT NULL,
    text TEXT NOT NULL
) STRICT;

CREATE TABLE owed (
    id INTEGER PRIMARY KEY,
    source ANY NOT NULL,
    interaction INTEGER NOT NULL,
    token TEXT NOT NULL,
    channel INTEGER NOT NULL,
    who INTEGER NOT NULL,
    answer TEXT NOT NULL
) STRICT;

CREATE TABLE outbox (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    key TEXT NOT NULL UNIQUE,
    channel INTEGER NOT NULL,
    edits TEXT,
    lane INTEGER NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('waiting', 'sending', 'sent', 'dead')),
    entered INTEGER NOT NULL,
    not_before INTEGER NOT NULL,
    attempts INTEGER NOT NULL,
    sending_at INTEGER,
    sent_as INTEGER,
    why TEXT,
    message TEXT NOT NULL
) STRICT;

CREATE INDEX outbox_by_state ON outbox (state, lane);
CREATE INDEX outbox_by_edited ON outbox (edits) WHERE edits IS NOT NULL;

CREATE TABLE settings (
    name TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE snapshots (
    no INTEGER PRIMARY KEY,
    version INTEGER NOT NULL,
    hash BLOB NOT NULL,
    state TEXT NOT NULL,
    digest BLOB NOT NULL
) STRICT;

CREATE TRIGGER records_stay BEFORE UPDATE ON records
BEGIN SELECT RAISE(ABORT, 'a record is never changed; add an amendment'); END;
CREATE TRIGGER records_remain BEFORE DELETE ON records
BEGIN SELECT RAISE(ABORT, 'a record is never deleted; add an amendment'); END;
CREATE TRIGGER causes_stay BEFORE UPDATE ON causes
BEGIN SELECT RAISE(ABORT, 'a cause is never changed'); END;
CREATE TRIGGER causes_remain BEFORE DELETE ON causes
BEGIN SELECT RAISE(ABORT, 'a cause is never deleted'); END;
";
