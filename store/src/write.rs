//! One write transaction from beginning to end. Decides what a failure means: before COMMIT nothing was
//! written, at COMMIT nobody knows.

use rusqlite::Connection;

use crate::StoreError;

/// Runs `work` in a transaction that holds the write lock from its start.
///
/// # Errors
/// Whatever `work` says, after a rollback; [`StoreError::Unknown`] when COMMIT or the rollback itself fails.
pub(crate) fn transaction<T>(
    conn: &Connection,
    work: impl FnOnce() -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    // IMMEDIATE: a transaction that began as a reader could be refused halfway.
    conn.prepare_cached("BEGIN IMMEDIATE")?.execute([])?;
    match work() {
        Ok(value) => match conn
            .prepare_cached("COMMIT")
            .and_then(|mut s| s.execute([]))
        {
            Ok(_) => Ok(value),
            Err(fault) => {
                // With a full disk some of it may already be there, so even a clean rollback proves nothing.
                let _ = rollback(conn);
                Err(StoreError::Unknown {
                    why: fault.to_string(),
                })
            }
        },
        Err(why) => match rollback(conn) {
            Ok(()) => Err(why),
            Err(fault) => Err(StoreError::Unknown {
                why: format!("{why}; and then: {fault}"),
            }),
        },
    }
}

fn rollback(conn: &Connection) -> rusqlite::Result<()> {
    // Some faults make SQLite roll back by itself; then there is nothing left to undo.
    if conn.is_autocommit() {
        return Ok(());
    }
    conn.execute_batch("ROLLBACK")
}

/// Faults are made through the store's own connection, which only this crate can reach: a page limit for a full
/// disk, `query_only` for a read-only one, a hook that refuses for a COMMIT that fails. A disk that fails in the
/// middle of COMMIT is not imitated: that would take a file system of our own, and `unsafe` is forbidden.
#[cfg(test)]
mod tests {
    use chrono::DateTime;
    use commands::Source;
    use commands::ids::{Guild, Person, RecordNo};
    use commands::record::{Body, Record};
    use commands::role::Role;

    use crate::{Prepared, Store, StoreError, Verified};

    fn with_one_record(folder: &tempfile::TempDir) -> Store {
        let mut store = Store::open(folder.path(), Guild(1)).unwrap();
        commit(&mut store, 1, 1).unwrap();
        store
    }

    fn commit(store: &mut Store, source: u64, count: u64) -> Result<(), StoreError> {
        let first = store.head().next();
        let records: Vec<_> = (first.0..first.0 + count)
            .map(|no| Record {
                no: RecordNo(no),
                at: DateTime::UNIX_EPOCH,
                entered: DateTime::UNIX_EPOCH,
                who: Some(Person(3)),
                role: Role::Aide,
                first,
                body: Body::PolicySet {
                    name: "x".into(),
                    value: 1,
                },
                note: Some("a note".into()),
            })
            .collect();
        let prepared = Prepared {
            source: &Source::interaction(source),
            who: Some(Person(3)),
            records: &records,
            posts: &[],
            owed: None,
        };
        store.commit(&[prepared], DateTime::UNIX_EPOCH).map(|_| ())
    }

    fn unchanged(store: &Store, before: &Verified) {
        assert_eq!(store.verify().unwrap(), *before);
        assert!(store.conn.is_autocommit(), "no transaction is left open");
    }

    #[test]
    fn a_full_disk_writes_nothing_and_the_store_goes_on_when_there_is_room() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = with_one_record(&folder);
        let before = store.verify().unwrap();
        // SQLite raises a limit below the file's size to that size: not a page more.
        store.conn.pragma_update(None, "max_page_count", 1).unwrap();
        let fault = commit(&mut store, 2, 500).unwrap_err();
        assert!(matches!(fault, StoreError::Refused { .. }), "{fault}");
        unchanged(&store, &before);
        store
            .conn
            .pragma_update(None, "max_page_count", 1_000_000)
            .unwrap();
        commit(&mut store, 2, 500).unwrap();
        assert_eq!(store.verify().unwrap().records, 501);
    }

    #[test]
    fn a_read_only_file_writes_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = with_one_record(&folder);
        let before = store.verify().unwrap();
        store.conn.pragma_update(None, "query_only", 1).unwrap();
        let fault = commit(&mut store, 2, 1).unwrap_err();
        assert!(matches!(fault, StoreError::Refused { .. }), "{fault}");
        assert!(store.set_setting("a", "b").is_err());
        unchanged(&store, &before);
        store.conn.pragma_update(None, "query_only", 0).unwrap();
        commit(&mut store, 2, 1).unwrap();
    }

    #[test]
    fn a_writer_beside_us_writes_nothing_of_ours() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = with_one_record(&folder);
        let before = store.verify().unwrap();
        store.conn.busy_timeout(std::time::Duration::ZERO).unwrap();
        let other = rusqlite::Connection::open(folder.path().join("1.loft")).unwrap();
        other.execute_batch("BEGIN IMMEDIATE").unwrap();
        assert!(matches!(commit(&mut store, 2, 1), Err(StoreError::Busy)));
        other.execute_batch("ROLLBACK").unwrap();
        unchanged(&store, &before);
        commit(&mut store, 2, 1).unwrap();
    }

    #[test]
    fn after_a_commit_in_doubt_nothing_is_written_until_the_file_is_opened_again() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = with_one_record(&folder);
        store.conn.commit_hook(Some(|| true)).unwrap();
        let fault = commit(&mut store, 2, 1).unwrap_err();
        assert!(matches!(fault, StoreError::Unknown { .. }), "{fault}");
        assert!(fault.needs_reopening());
        store.conn.commit_hook(None::<fn() -> bool>).unwrap();
        for fault in [
            commit(&mut store, 3, 1).unwrap_err(),
            store.alive(DateTime::UNIX_EPOCH).unwrap_err(),
            store.answered(&[Source::interaction(1)]).unwrap_err(),
        ] {
            assert!(fault.needs_reopening(), "{fault}");
        }
        drop(store);
        let mut store = Store::open(folder.path(), Guild(1)).unwrap();
        assert_eq!(store.seen(&Source::interaction(2)).unwrap(), None);
        commit(&mut store, 2, 1).unwrap();
        assert_eq!(store.verify().unwrap().records, 2);
    }
}
