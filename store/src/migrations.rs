//! The formats that the file has had. Decides how an older file becomes a newer one; leaves reading
//! older record bodies to `commands`, since bodies are never rewritten.
//!
//! The list is append-only: a migration that was ever released is not changed again. No clock, no
//! domain code and nothing from outside of the file goes into one.

use std::collections::BTreeSet;

use rusqlite::Connection;

/// Migration *n* makes format *n + 1*, which is kept in `user_version`.
pub(crate) const MIGRATIONS: &[&str] = &[FORMAT_1, FORMAT_2, FORMAT_3];

/// The newest format that this program knows.
pub(crate) const NEWEST: i64 = MIGRATIONS.len() as i64;

/// The format from which on an answer that is owed says in which language.
pub(crate) const ANSWERS_HAVE_A_LANGUAGE: i64 = 2;

/// The format of a file.
///
/// # Errors
/// What SQLite says.
pub(crate) fn format(conn: &Connection) -> rusqlite::Result<i64> {
    conn.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Whether the file has the columns and indexes of the format that it says it has. What others put beside them is not looked at.
///
/// # Errors
/// What SQLite says.
pub(crate) fn fits(conn: &Connection) -> rusqlite::Result<bool> {
    let plain = Connection::open_in_memory()?;
    let (mut said, mut wanted) = (format(conn)?, BTreeSet::new());
    for migration in MIGRATIONS {
        plain.execute_batch(migration)?;
        said -= 1;
        if said == 0 {
            wanted = shape(&plain)?;
        }
    }
    let known = shape(&plain)?;
    let found = shape(conn)?;
    Ok(found.intersection(&known).eq(&wanted))
}

fn shape(conn: &Connection) -> rusqlite::Result<BTreeSet<String>> {
    let mut names = conn.prepare(
        "SELECT t.name || '.' || c.name FROM sqlite_schema t JOIN pragma_table_info(t.name) c WHERE t.type = 'table'
         UNION SELECT name FROM sqlite_schema WHERE type = 'index'",
    )?;
    let names = names.query_map([], |row| row.get(0))?;
    names.collect()
}

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

/// The language of whoever waits for an answer. Before, everybody was answered in English.
const FORMAT_2: &str = "
ALTER TABLE owed ADD COLUMN lang TEXT NOT NULL DEFAULT 'en';
";

/// The whole past of a surface, an alarm or a bed is found without reading the log from its beginning. The first of
/// the three is in every record's cost, 18 bytes of the file; the others are about few records.
const FORMAT_3: &str = "
CREATE INDEX records_by_surface ON records (surface) WHERE surface IS NOT NULL;
CREATE INDEX records_by_alarm ON records (body ->> '$.alarm')
    WHERE kind IN ('alarm-named', 'alarm-taken', 'resident-safe', 'alarm-asked', 'ladder-restarted',
        'alarm-cause', 'alarm-closed');
CREATE INDEX records_at_beds ON records (kind)
    WHERE kind IN ('placed', 'moved', 'frame-set', 'zones-measured', 'zones-acted');
";

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows as a program of that format left them, one entry a migration: later ones must carry them over.
    const SAMPLES: &[&[&str]] = &[&[FIRST], &[FIRST, SECOND], &[FIRST, SECOND, THIRD]];

    const FIRST: &str = "
        INSERT INTO about (one, guild, alive) VALUES (1, 42, 1767268800000);
        INSERT INTO causes (source, first, count) VALUES (1440000000000000000, 1, 1), ('slot/1', 0, 0);
        INSERT INTO records
            (no, cause, at, entered, who, role, kind, surface, amends, version, body, note, hash)
            VALUES (1, 1, 1767268800000, 1767268800000, 7, 'aide', 'function-shown', 'LW-01', NULL, 1,
                '{\"k\":\"function-shown\",\"tag\":\"LW-01\"}', zeroblob(32), zeroblob(32));
        INSERT INTO notes (no, salt, text) VALUES (1, zeroblob(16), 'two pads');
        INSERT INTO owed (id, source, interaction, token, channel, who, answer)
            VALUES (1, 1, 1, 'token', 2, 7, '{\"Choices\":[]}');
        INSERT INTO outbox (key, channel, edits, lane, state, entered, not_before, attempts, message)
            VALUES ('alarm/1/0', 2, NULL, 0, 'waiting', 1767268800000, 1767268800000, 0, '{\"text\":\"x\"}');
        INSERT INTO settings (name, value) VALUES ('registered', 'x');
        INSERT INTO snapshots (no, version, hash, state, digest)
            VALUES (1, 1, zeroblob(32), '{}', zeroblob(32));
    ";

    const SECOND: &str = "
        INSERT INTO owed (id, source, interaction, token, channel, who, answer, lang)
            VALUES (2, 2, 2, 'token', 2, 7, '{\"Choices\":[]}', 'es');
    ";

    const THIRD: &str = "
        INSERT INTO records
            (no, cause, at, entered, who, role, kind, surface, amends, version, body, note, hash)
            VALUES (2, 1, 1767268800000, 1767268800000, 7, 'nurse', 'placed', 'LW-01', NULL, 1,
                '{\"k\":\"placed\",\"tag\":\"LW-01\",\"bed\":\"101\"}', NULL, zeroblob(32)),
            (3, 1, 1767268800000, 1767268800000, 7, 'nurse', 'alarm-taken', NULL, NULL, 1,
                '{\"k\":\"alarm-taken\",\"alarm\":1}', NULL, zeroblob(32));
    ";

    const TABLES: &[&str] = &[
        "about",
        "causes",
        "records",
        "notes",
        "owed",
        "outbox",
        "settings",
        "snapshots",
    ];

    /// A file of format `n`, with that format's sample rows.
    fn of_format(n: usize) -> Connection {
        let conn = Connection::open_in_memory().unwrap();
        for migration in &MIGRATIONS[..n] {
            conn.execute_batch(migration).unwrap();
        }
        conn.pragma_update(None, "user_version", n as i64).unwrap();
        if n > 0 {
            for rows in SAMPLES[n - 1] {
                conn.execute_batch(rows).unwrap();
            }
        }
        conn
    }

    #[test]
    fn every_format_with_data_becomes_the_newest_and_a_second_time_changes_nothing() {
        assert_eq!(
            SAMPLES.len(),
            MIGRATIONS.len(),
            "each migration has its sample rows"
        );
        for n in 0..=MIGRATIONS.len() {
            let conn = of_format(n);
            migrate(&conn, n as i64).unwrap();
            assert_eq!(format(&conn).unwrap(), NEWEST);
            migrate(&conn, NEWEST).unwrap();
            assert_eq!(format(&conn).unwrap(), NEWEST);
            for table in TABLES {
                let sql = format!("SELECT count(*) FROM {table}");
                let rows: i64 = conn.query_row(&sql, [], |row| row.get(0)).unwrap();
                assert_eq!(rows > 0, n > 0, "{table} of format {n}");
            }
            let sound: String = conn
                .query_row("PRAGMA integrity_check", [], |row| row.get(0))
                .unwrap();
            assert_eq!(sound, "ok");
        }
    }
}
