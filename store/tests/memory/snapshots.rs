//! Snapshots are shortcuts that must never lie.

use commands::Source;
use commands::record::Body;
use store::{SNAPSHOTS_KEPT, StoreError, Trouble};

use crate::samples::{added, open, raw, say};

fn numbers(folder: &tempfile::TempDir) -> Vec<i64> {
    let raw = raw(folder);
    let mut statement = raw.prepare("SELECT no FROM snapshots ORDER BY no").unwrap();
    let rows = statement.query_map([], |row| row.get(0)).unwrap();
    rows.collect::<Result<_, _>>().unwrap()
}

#[test]
fn the_newest_two_are_kept_and_used() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    store.snapshot(&store.replay().unwrap()).unwrap();
    assert_eq!(
        numbers(&folder),
        [0; 0],
        "nothing to keep before the first record"
    );
    for n in 1..=4 {
        say(
            &mut store,
            Source::interaction(n),
            vec![added(&format!("LW-0{n}"))],
        );
        store.snapshot(&store.replay().unwrap()).unwrap();
    }
    assert_eq!(numbers(&folder), [3, 4]);
    say(&mut store, Source::interaction(5), vec![added("LW-05")]);
    assert_eq!(SNAPSHOTS_KEPT, 2);
    assert_eq!(store.verify().unwrap().snapshots, 2);
    let whole = store.replay().unwrap();
    raw(&folder).execute("DELETE FROM snapshots", []).unwrap();
    assert_eq!(store.replay().unwrap(), whole);
}

#[test]
fn a_snapshot_is_of_the_newest_record() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let old = store.replay().unwrap();
    say(&mut store, Source::interaction(1), vec![added("LW-01")]);
    assert!(matches!(store.snapshot(&old), Err(StoreError::Misuse(_))));
}

/// Whoever waits must not take it for a program that hangs.
#[test]
fn reading_a_long_log_without_a_snapshot_tells_that_it_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let policy = |value| Body::PolicySet {
        name: "x".into(),
        value,
    };
    for source in 1..=9 {
        let bodies = (0..1_000).map(policy).collect();
        say(&mut store, Source::interaction(source), bodies);
    }
    let told = std::cell::Cell::new(0);
    let state = store.replay_telling(|| told.set(told.get() + 1)).unwrap();
    assert!(told.get() >= 2, "{told:?}");
    assert_eq!(state, store.replay().unwrap());
}

/// That a good one is really used: with the log made unreadable before it, start-up still succeeds.
#[test]
fn the_log_before_a_good_snapshot_is_not_read() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    say(&mut store, Source::interaction(1), vec![added("LW-01")]);
    say(&mut store, Source::interaction(2), vec![added("LW-02")]);
    store.snapshot(&store.replay().unwrap()).unwrap();
    let raw = raw(&folder);
    raw.execute_batch("DROP TRIGGER records_stay; UPDATE records SET body = 'x' WHERE no = 1")
        .unwrap();
    assert_eq!(store.replay().unwrap().next_no().0, 3);
    for spoil in [
        "UPDATE snapshots SET version = version + 1",
        "UPDATE snapshots SET version = version - 1, digest = zeroblob(32)",
        "UPDATE snapshots SET hash = zeroblob(32)",
        "UPDATE snapshots SET state = replace(state, '2', '3')",
        "UPDATE snapshots SET state = '{'",
    ] {
        assert_eq!(raw.execute(spoil, []).unwrap(), 1);
        let fault = store.replay().unwrap_err();
        assert!(
            matches!(fault, StoreError::Unreadable { .. }),
            "{spoil}: {fault}"
        );
    }
}

/// Whoever reads that a snapshot is damaged starts loftwatch anew, and that is all.
#[test]
fn opening_a_file_removes_what_is_damaged_of_its_snapshots_and_nothing_else() {
    for spoil in [
        "UPDATE snapshots SET state = replace(state, '2', '3') WHERE no = 2",
        "UPDATE snapshots SET hash = zeroblob(32) WHERE no = 2",
        "UPDATE snapshots SET no = 9 WHERE no = 2",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let mut store = open(&folder);
        for n in 1..=2 {
            say(
                &mut store,
                Source::interaction(n),
                vec![added(&format!("LW-0{n}"))],
            );
            store.snapshot(&store.replay().unwrap()).unwrap();
        }
        let whole = store.replay().unwrap();
        assert_eq!(raw(&folder).execute(spoil, []).unwrap(), 1);
        let fault = store.verify().unwrap_err();
        assert!(
            matches!(fault, Trouble::Snapshot { .. }),
            "{spoil}: {fault}"
        );
        drop(store);
        let store = open(&folder);
        let verified = store.verify();
        assert_eq!(
            verified.map(|found| found.snapshots).ok(),
            Some(1),
            "{spoil}"
        );
        assert_eq!(numbers(&folder), [1], "{spoil}");
        assert_eq!(store.replay().unwrap(), whole, "{spoil}");
    }
}
