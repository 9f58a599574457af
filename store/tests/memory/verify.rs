//! A byte flipped in any column of the log is found, and the first number that does not fit is named.

use commands::Source;
use commands::decision::Lane;
use commands::ids::{Guild, RecordNo};
use commands::record::Body;
use rusqlite::Connection;
use rusqlite::types::Value;
use store::{Prepared, Store, Trouble};
use tempfile::TempDir;

use crate::samples::{GUILD, added, adequate, at, erase, open, owed, plain, post, raw, records};

/// Four causes, seven records, notes, an amendment, a post and an owed answer.
fn filled() -> (TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let taken_back = Body::TakenBack {
        first: RecordNo(3),
        tag: "LW-02".into(),
        called: false,
    };
    let causes = [
        (
            Source::interaction(10),
            vec![(added("LW-01"), None), (added("LW-02"), Some("two pads"))],
        ),
        (Source::message(12), vec![(adequate("LW-02"), None)]),
        (
            Source("slot/07:00".into()),
            vec![(added("LW-04"), Some("one sheet")), (added("LW-05"), None)],
        ),
        (
            Source::interaction(14),
            vec![(taken_back, None), (added("LW-06"), None)],
        ),
    ];
    for (source, bodies) in causes {
        let made = records(store.head(), bodies);
        let posts = [post(&source.0, Lane::Routine)];
        let prepared = Prepared {
            posts: &posts,
            owed: Some(owed(1, "noted")),
            ..plain(&source, &made)
        };
        store.commit(&[prepared], at(0)).unwrap();
    }
    store.snapshot(&store.replay().unwrap()).unwrap();
    (folder, store)
}

#[test]
fn a_file_that_says_it_is_of_another_format_does_not_verify() {
    let (folder, store) = filled();
    let raw = raw(&folder);
    raw.execute_batch("CREATE TABLE theirs (x); CREATE INDEX their_own ON records (who); ANALYZE;")
        .unwrap();
    store.verify().unwrap();
    let newest: i64 = raw
        .pragma_query_value(None, "user_version", |row| row.get(0))
        .unwrap();
    for older in 1..newest {
        raw.pragma_update(None, "user_version", older).unwrap();
        let trouble = store.verify().unwrap_err();
        let said = trouble.to_string();
        assert!(said.contains("of the format that it says"), "{said}");
    }
}

/// The file, with nothing left to stop whoever alters it.
fn unguarded(folder: &TempDir) -> Connection {
    let raw = raw(folder);
    raw.execute_batch(
        "PRAGMA foreign_keys = OFF; DROP TRIGGER records_stay; DROP TRIGGER records_remain;
         DROP TRIGGER causes_stay; DROP TRIGGER causes_remain;",
    )
    .unwrap();
    raw
}

/// One bit of the value's first byte or number; what is NULL gets a value.
fn flipped(value: Value, instead: Value) -> Value {
    let flip = |bytes: &mut Vec<u8>| match bytes.last_mut() {
        Some(byte) => *byte ^= 1,
        None => bytes.push(b'x'),
    };
    match value {
        Value::Null => instead,
        Value::Integer(n) => Value::Integer(n ^ 1),
        Value::Text(text) => {
            let mut bytes = text.into_bytes();
            flip(&mut bytes);
            Value::Text(String::from_utf8(bytes).unwrap())
        }
        Value::Blob(mut bytes) => {
            flip(&mut bytes);
            Value::Blob(bytes)
        }
        Value::Real(_) => unreachable!("the log has no such column"),
    }
}

fn flip(raw: &Connection, table: &str, column: &str, row: &str, instead: Value) {
    let value: Value = raw
        .query_row(
            &format!("SELECT {column} FROM {table} WHERE {row}"),
            [],
            |r| r.get(0),
        )
        .unwrap();
    let changed = raw
        .execute(
            &format!("UPDATE {table} SET {column} = ?1 WHERE {row}"),
            [flipped(value, instead)],
        )
        .unwrap();
    assert_eq!(changed, 1);
}

fn no_of(trouble: &Trouble) -> u64 {
    match trouble {
        Trouble::Altered { no }
        | Trouble::Missing { no }
        | Trouble::Note { no }
        | Trouble::Cause { no }
        | Trouble::Snapshot { no } => no.0,
        Trouble::Answer { .. } | Trouble::Waiting { .. } | Trouble::File(_) | Trouble::Store(_) => {
            panic!("{trouble}")
        }
    }
}

#[test]
fn what_nobody_touched_verifies() {
    let (_folder, store) = filled();
    let verified = store.verify().unwrap();
    assert_eq!(
        (
            verified.records,
            verified.causes,
            verified.notes,
            verified.erased,
            verified.snapshots
        ),
        (7, 4, 2, 0, 1)
    );
    assert_eq!(verified.tip.len(), 64);
}

#[test]
fn a_flip_in_any_column_of_a_record_names_that_record() {
    let columns = [
        ("cause", Value::Null),
        ("at", Value::Null),
        ("entered", Value::Null),
        ("who", Value::Integer(1)),
        ("role", Value::Null),
        ("kind", Value::Null),
        ("surface", Value::Text("LW-09".into())),
        ("amends", Value::Integer(1)),
        ("version", Value::Null),
        ("body", Value::Null),
        ("note", Value::Blob(vec![0; 32])),
        ("hash", Value::Null),
    ];
    for no in [1, 4, 6, 7] {
        for (column, instead) in columns.clone() {
            let (folder, store) = filled();
            flip(
                &unguarded(&folder),
                "records",
                column,
                &format!("no = {no}"),
                instead,
            );
            let trouble = store.verify().unwrap_err();
            assert!(
                matches!(trouble, Trouble::Altered { .. }),
                "{column}: {trouble}"
            );
            assert_eq!(no_of(&trouble), no, "{column}");
        }
    }
}

#[test]
fn values_taken_away_are_found() {
    for column in ["who", "surface", "note"] {
        let (folder, store) = filled();
        let sql = format!("UPDATE records SET {column} = NULL WHERE no = 4");
        unguarded(&folder).execute(&sql, []).unwrap();
        assert_eq!(no_of(&store.verify().unwrap_err()), 4, "{column}");
    }
}

#[test]
fn a_record_moved_removed_or_added_is_found() {
    for (sql, no) in [
        ("UPDATE records SET no = 17 WHERE no = 3", 3),
        ("UPDATE records SET no = 0 WHERE no = 1", 1),
        ("UPDATE records SET no = -no WHERE no IN (1, 2)", 1),
        ("DELETE FROM records WHERE no = 1", 1),
        ("DELETE FROM records WHERE no = 4", 4),
        ("DELETE FROM records WHERE no = 7", 7),
        ("DELETE FROM records WHERE no > 5", 6),
        (
            "INSERT INTO records SELECT 8, 6, at, entered, who, role, kind, surface, amends, version, body, note, hash
             FROM records WHERE no = 7",
            8,
        ),
    ] {
        let (folder, store) = filled();
        unguarded(&folder).execute(sql, []).unwrap();
        assert_eq!(no_of(&store.verify().unwrap_err()), no, "{sql}");
    }
}

#[test]
fn a_cause_altered_removed_or_added_is_found() {
    for (sql, no) in [
        ("UPDATE causes SET source = 11 WHERE source = 10", 1),
        ("UPDATE causes SET source = -13 WHERE source = -12", 3),
        (
            "UPDATE causes SET source = 'slot/08:00' WHERE source = 'slot/07:00'",
            4,
        ),
        ("UPDATE causes SET source = '10' WHERE source = 10", 1),
        ("UPDATE causes SET first = 2 WHERE first = 1", 1),
        ("UPDATE causes SET first = 7 WHERE first = 6", 6),
        ("UPDATE causes SET count = 3 WHERE first = 1", 3),
        ("UPDATE causes SET count = 1 WHERE first = 6", 7),
        ("UPDATE causes SET count = 3 WHERE first = 6", 8),
        ("DELETE FROM causes WHERE first = 3", 3),
        ("DELETE FROM causes WHERE first = 6", 6),
        (
            "INSERT INTO causes (source, first, count) VALUES (99, 8, 1)",
            8,
        ),
        (
            "INSERT INTO causes (source, first, count) VALUES (99, 2, 1)",
            3,
        ),
        (
            "INSERT INTO causes (source, first, count) VALUES (99, 2, 0)",
            8,
        ),
        (
            "INSERT INTO causes (source, first, count) VALUES (99, 2, -1)",
            3,
        ),
    ] {
        let (folder, store) = filled();
        unguarded(&folder).execute(sql, []).unwrap();
        let trouble = store.verify().unwrap_err();
        assert_eq!(no_of(&trouble), no, "{sql}: {trouble}");
    }
}

#[test]
fn a_note_altered_or_added_is_found_and_one_erased_is_not_trouble() {
    for (sql, no) in [
        ("UPDATE notes SET text = 'Two pads' WHERE no = 2", 2),
        ("UPDATE notes SET salt = zeroblob(16) WHERE no = 4", 4),
        ("UPDATE notes SET no = 3 WHERE no = 4", 3),
        ("UPDATE notes SET no = 70 WHERE no = 4", 4),
        (
            "INSERT INTO notes (no, salt, text) VALUES (7, x'00', 'new')",
            7,
        ),
    ] {
        let (folder, store) = filled();
        unguarded(&folder).execute(sql, []).unwrap();
        let trouble = store.verify().unwrap_err();
        assert!(
            matches!(trouble, Trouble::Note { .. } | Trouble::File(_)),
            "{sql}: {trouble}"
        );
        if let Trouble::Note { no: found } = trouble {
            assert_eq!(found.0, no, "{sql}");
        }
    }
    let (_folder, mut store) = filled();
    erase(&mut store, RecordNo(2)).unwrap();
    let verified = store.verify().unwrap();
    assert_eq!((verified.notes, verified.erased), (1, 1));
}

#[test]
fn a_note_that_is_gone_and_that_no_record_says_was_erased_is_found() {
    let gone = |folder: &TempDir, no: u64| {
        let sql = format!("DELETE FROM notes WHERE no = {no}");
        assert_eq!(unguarded(folder).execute(&sql, []).unwrap(), 1);
    };
    let (folder, store) = filled();
    gone(&folder, 2);
    let trouble = store.verify().unwrap_err();
    assert!(matches!(trouble, Trouble::Note { .. }), "{trouble}");
    assert_eq!(no_of(&trouble), 2);
    // The erasing of another cause's note covers only that.
    let (folder, mut store) = filled();
    erase(&mut store, RecordNo(2)).unwrap();
    gone(&folder, 4);
    assert_eq!(no_of(&store.verify().unwrap_err()), 4);
}

#[test]
fn a_snapshot_altered_is_found() {
    for sql in [
        "UPDATE snapshots SET no = 6",
        "UPDATE snapshots SET no = 70",
        "UPDATE snapshots SET version = version + 1",
        "UPDATE snapshots SET hash = zeroblob(32)",
        "UPDATE snapshots SET state = state || ' '",
        "UPDATE snapshots SET digest = zeroblob(32)",
    ] {
        let (folder, store) = filled();
        unguarded(&folder).execute(sql, []).unwrap();
        let trouble = store.verify().unwrap_err();
        assert!(
            matches!(trouble, Trouble::Snapshot { .. }),
            "{sql}: {trouble}"
        );
    }
}

#[test]
fn what_waits_to_be_sent_must_read() {
    for sql in [
        "UPDATE outbox SET message = '{'",
        "UPDATE owed SET answer = 'x'",
    ] {
        let (folder, store) = filled();
        raw(&folder).execute(sql, []).unwrap();
        let trouble = store.verify().unwrap_err();
        assert!(
            matches!(
                trouble,
                Trouble::Waiting { .. } | Trouble::Answer { row: -2 }
            ),
            "{sql}: {trouble}"
        );
    }
}

#[test]
fn bytes_overwritten_in_the_file_itself_are_found() {
    let (folder, store) = filled();
    drop(store);
    let path = folder.path().join(format!("{GUILD}.loft"));
    let mut bytes = std::fs::read(&path).unwrap();
    // The columns kind and surface of record 5, side by side in its row.
    let row = b"surface-addedLW-05";
    let at = bytes
        .windows(row.len())
        .rposition(|part| part == row)
        .unwrap();
    // The kind: it stands in no index, so SQLite itself sees nothing.
    bytes[at] = b't';
    std::fs::write(&path, bytes).unwrap();
    assert_eq!(no_of(&open(&folder).verify().unwrap_err()), 5);
}

/// Every row is as it was written; an index that no longer leads to one of them hides it from whoever asks for its surface.
#[test]
fn a_damaged_page_of_an_index_is_found() {
    let (folder, store) = filled();
    drop(store);
    let path = folder.path().join(format!("{GUILD}.loft"));
    let (page, size) = {
        let raw = raw(&folder);
        let number = |sql: &str| -> u32 { raw.query_row(sql, [], |row| row.get(0)).unwrap() };
        let root = "SELECT rootpage FROM sqlite_schema WHERE name = 'records_by_surface'";
        (number(root) as usize, number("PRAGMA page_size") as usize)
    };
    let mut bytes = std::fs::read(&path).unwrap();
    let of_index = &mut bytes[(page - 1) * size..page * size];
    let key = of_index.windows(5).rposition(|part| part == b"LW-05");
    of_index[key.unwrap() + 4] = b'7';
    std::fs::write(&path, bytes).unwrap();
    let trouble = open(&folder).verify().unwrap_err();
    assert!(matches!(trouble, Trouble::File(_)), "{trouble}");
    assert!(
        trouble.to_string().contains("records_by_surface"),
        "{trouble}"
    );
}

/// The chain begins with the facility: one facility's whole log does not pass for another's.
#[test]
fn another_facilitys_log_does_not_verify() {
    let (folder, store) = filled();
    drop(store);
    let other = Guild(GUILD.0 + 1);
    raw(&folder)
        .execute("UPDATE about SET guild = ?1", [other.0 as i64])
        .unwrap();
    let path = |guild: Guild| folder.path().join(format!("{guild}.loft"));
    std::fs::rename(path(GUILD), path(other)).unwrap();
    let store = Store::open(folder.path(), other).unwrap();
    assert_eq!(no_of(&store.verify().unwrap_err()), 1);
}
