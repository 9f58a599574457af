//! Causes, records and owed answers.

use std::sync::atomic::{AtomicBool, Ordering};

use commands::Source;
use commands::ids::RecordNo;
use commands::record::Body;
use store::{Prepared, Store, StoreError};

use crate::samples::{
    GUILD, added, at, enqueue, erase, message, open, owed, plain, post, raw, records, say,
};
use commands::decision::Lane;

#[test]
fn what_is_committed_is_read_back_after_reopening() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let bodies = vec![(added("LW-01"), Some("two pads")), (added("LW-02"), None)];
    let made = records(RecordNo(0), bodies);
    let source = Source::interaction(11);
    store.commit(&[plain(&source, &made)], at(0)).unwrap();
    drop(store);
    let store = open(&folder);
    assert_eq!(store.head(), RecordNo(2));
    assert_eq!(store.records_after(RecordNo(0), 10).unwrap(), made);
    assert_eq!(store.records_after(RecordNo(1), 10).unwrap(), made[1..]);
    assert_eq!(store.records_after(RecordNo(0), 1).unwrap(), made[..1]);
    let seen = store.seen(&source).unwrap().unwrap();
    assert_eq!((seen.first, seen.count, seen.owed), (RecordNo(1), 2, None));
    assert_eq!(store.seen(&Source::interaction(12)).unwrap(), None);
    assert_eq!(store.replay().unwrap().next_no(), RecordNo(3));
}

#[test]
fn a_known_source_writes_nothing_of_its_group() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let again = Source::interaction(1);
    say(&mut store, again.clone(), vec![added("LW-01")]);
    let new = Source::interaction(2);
    let first = records(store.head(), vec![(added("LW-02"), Some("kept nowhere"))]);
    let second = records(RecordNo(2), vec![(added("LW-03"), None)]);
    let posts = [post("p", Lane::Routine)];
    let group = [
        Prepared {
            posts: &posts,
            owed: Some(owed(2, "noted")),
            ..plain(&new, &first)
        },
        plain(&again, &second),
    ];
    let fault = store.commit(&group, at(0)).unwrap_err();
    assert!(matches!(&fault, StoreError::AlreadyCaused { source_key } if source_key == "i1"));
    assert_eq!(store.head(), RecordNo(1));
    assert_eq!(store.seen(&new).unwrap(), None);
    assert_eq!(store.owing().unwrap().answers, []);
    assert_eq!(store.ready(at(9), 9).unwrap(), []);
    assert_eq!(store.verify().unwrap().records, 1);
    // And the store goes on from where it was.
    store.commit(&group[..1], at(0)).unwrap();
    assert_eq!(store.verify().unwrap().records, 2);
}

#[test]
fn a_source_twice_in_one_group_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let source = Source("slot/2026-01-01T07:00".into());
    let group = [plain(&source, &[]), plain(&source, &[])];
    let fault = store.commit(&group, at(0)).unwrap_err();
    assert!(matches!(fault, StoreError::AlreadyCaused { .. }));
    assert_eq!(store.seen(&source).unwrap(), None);
}

#[test]
fn numbers_that_do_not_follow_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let source = Source::interaction(1);
    let gap = records(RecordNo(4), vec![(added("LW-01"), None)]);
    let mut alien = records(RecordNo(0), vec![(added("LW-01"), None)]);
    alien[0].first = RecordNo(7);
    let mut fine = records(RecordNo(0), vec![(added("LW-01"), None)]);
    fine[0].at += chrono::TimeDelta::nanoseconds(1);
    for wrong in [gap, alien, fine] {
        let fault = store.commit(&[plain(&source, &wrong)], at(0)).unwrap_err();
        assert!(matches!(fault, StoreError::Misuse(_)), "{fault}");
    }
    assert_eq!(store.verify().unwrap().causes, 0);
}

#[test]
fn an_answer_is_owed_until_it_is_given() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let sources = [
        Source::interaction(30),
        Source::message(8),
        Source("form/1".into()),
        Source::interaction(31),
    ];
    let group: Vec<_> = sources
        .iter()
        .zip(0..)
        .map(|(source, n)| Prepared {
            owed: Some(owed(n, "noted")),
            ..plain(source, &[])
        })
        .collect();
    store.commit(&group, at(0)).unwrap();
    drop(store);
    let mut store = open(&folder);
    let waiting = store.owing().unwrap().answers;
    assert_eq!(waiting.len(), 4);
    for (source, n) in sources.iter().zip(0..) {
        let seen = store.seen(source).unwrap().unwrap();
        assert_eq!(seen.owed, Some(owed(n, "noted")), "{source:?}");
    }
    store.answered(&sources[..2]).unwrap();
    assert_eq!(store.seen(&sources[1]).unwrap().unwrap().owed, None);
    // The others are forgotten along with the next commit; one that is not owed is no mistake.
    let next = Source::interaction(32);
    store
        .commit_settling(
            &[plain(&next, &[])],
            &[sources[0].clone(), sources[2].clone()],
            at(1),
        )
        .unwrap();
    let left: Vec<_> = store
        .owing()
        .unwrap()
        .answers
        .into_iter()
        .map(|(source, _)| source)
        .collect();
    assert_eq!(left, [sources[3].clone()]);
}

#[test]
fn an_owed_answer_that_cannot_be_read_hides_no_other_and_nothing_of_the_log() {
    for spoils in [
        "answer = substr(answer, 2)",
        "source = x'01'",
        "token = CAST(x'ff' AS TEXT)",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let mut store = open(&folder);
        let sources = [1, 2, 3].map(Source::interaction);
        let group = [0, 1, 2].map(|n| Prepared {
            owed: Some(owed(n, "noted")),
            ..plain(&sources[n as usize], &[])
        });
        store.commit(&group, at(0)).unwrap();
        let sql = format!("UPDATE owed SET {spoils} WHERE id = 2");
        assert_eq!(raw(&folder).execute(&sql, []).unwrap(), 1);
        let owing = store.owing().unwrap();
        let left: Vec<_> = owing.answers.iter().map(|(of, _)| of.clone()).collect();
        assert_eq!(left, [sources[0].clone(), sources[2].clone()], "{spoils}");
        assert_eq!(owing.spoilt, [2], "{spoils}");
        assert_eq!(store.seen(&sources[1]).unwrap().unwrap().owed, None);
        let said = store.verify().unwrap_err().to_string();
        assert!(said.contains("answer 2, which is still owed"), "{said}");
        assert!(!said.contains("backup"), "{said}");
        store.give_up_owed(&owing.spoilt).unwrap();
        assert_eq!(store.verify().unwrap().waiting, 2, "{spoils}");
        assert_eq!(store.owing().unwrap().answers, owing.answers, "{spoils}");
    }
}

#[test]
fn the_database_itself_refuses_to_change_the_log() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    say(&mut store, Source::interaction(1), vec![added("LW-01")]);
    let raw = raw(&folder);
    for sql in [
        "UPDATE records SET surface = 'LW-02'",
        "DELETE FROM records",
        "UPDATE causes SET count = 2",
        "DELETE FROM causes",
    ] {
        let said = raw.execute(sql, []).unwrap_err().to_string();
        assert!(said.contains("never"), "{sql}: {said}");
    }
}

#[test]
fn an_erased_note_is_nowhere_in_the_files_and_the_chain_holds() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let secret = "heron heron heron heron";
    let made = records(
        RecordNo(0),
        vec![
            (added("LW-01"), Some(secret)),
            (added("LW-02"), Some("stays")),
        ],
    );
    store
        .commit(&[plain(&Source::interaction(1), &made)], at(0))
        .unwrap();
    assert!(on_disk(&folder, secret));
    erase(&mut store, RecordNo(1)).unwrap();
    assert!(!on_disk(&folder, secret));
    // Once more is no mistake.
    erase(&mut store, RecordNo(1)).unwrap();
    let read = store.records_after(RecordNo(0), 9).unwrap();
    assert_eq!(
        (read[0].note.as_deref(), read[1].note.as_deref()),
        (None, Some("stays"))
    );
    let verified = store.verify().unwrap();
    assert_eq!((verified.notes, verified.erased), (1, 1));
}

#[test]
fn a_record_that_a_note_is_erased_takes_it_out_of_the_table_at_once_and_then_out_of_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let secret = "heron heron heron heron";
    let made = records(
        RecordNo(0),
        vec![
            (added("LW-01"), Some(secret)),
            (added("LW-02"), Some(secret)),
            (added("LW-03"), Some("stays")),
        ],
    );
    store
        .commit(&[plain(&Source::interaction(1), &made)], at(0))
        .unwrap();
    assert!(!store.wants_scrub().unwrap());
    let erased = Body::NoteErased {
        of: RecordNo(1),
        first: RecordNo(1),
        tag: None,
    };
    let ordered = records(RecordNo(3), vec![(erased, None)]);
    store
        .commit(&[plain(&Source::interaction(2), &ordered)], at(0))
        .unwrap();
    // The same words beside another record of the same event went too.
    let read = store.records_after(RecordNo(0), 9).unwrap();
    let notes: Vec<_> = read.iter().map(|record| record.note.as_deref()).collect();
    assert_eq!(notes, [None, None, Some("stays"), None]);
    // A run that is cut short here is told by the file.
    drop(store);
    let mut store = open(&folder);
    assert!(store.wants_scrub().unwrap());
    store.scrub().unwrap();
    assert!(!store.wants_scrub().unwrap() && !on_disk(&folder, secret));
    assert_eq!(store.verify().unwrap().erased, 2);
}

#[test]
fn what_waits_to_be_sent_goes_without_a_note_that_was_erased_meanwhile() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let secret = "heron: heron";
    let made = records(RecordNo(0), vec![(added("LW-01"), Some(secret))]);
    let cause = Source::interaction(1);
    let said = |key: &str, text: &str| {
        let mut post = post(key, Lane::Routine);
        post.message = message(text);
        post
    };
    let posts = [
        said("a", "Look.\n> heron\\: heron\nCall."),
        said("b", "Look.\n> heron\\: heron"),
        said("c", "No heron\\: heron of theirs."),
    ];
    let prepared = Prepared {
        posts: &posts,
        ..plain(&cause, &made)
    };
    let ids = store.commit(&[prepared], at(0)).unwrap().outbox;
    store.sending(&ids[1..2], at(0)).unwrap();
    store.again(ids[1], at(0), true).unwrap();
    erase(&mut store, RecordNo(1)).unwrap();
    let rows = store.ready(at(1), 9).unwrap();
    let texts: Vec<_> = rows.iter().map(|row| row.message.text.as_str()).collect();
    assert_eq!(
        texts,
        [
            "Look.\nCall.",
            // It may be there already, and is looked for by its words.
            "Look.\n> heron\\: heron",
            "No heron\\: heron of theirs."
        ]
    );
}

#[test]
fn a_note_is_not_called_erased_while_a_reader_keeps_it_in_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let secret = "heron heron heron heron";
    let made = records(RecordNo(0), vec![(added("LW-01"), Some(secret))]);
    store
        .commit(&[plain(&Source::interaction(1), &made)], at(0))
        .unwrap();
    let reader = raw(&folder);
    reader.execute_batch("BEGIN").unwrap();
    let read = |reader: &rusqlite::Connection| {
        reader.query_row("SELECT count(*) FROM notes", [], |row| row.get::<_, i64>(0))
    };
    assert_eq!(read(&reader).unwrap(), 1);
    let fault = erase(&mut store, RecordNo(1)).unwrap_err();
    assert!(matches!(fault, StoreError::Busy), "{fault}");
    assert!(on_disk(&folder, secret));
    reader.execute_batch("COMMIT").unwrap();
    store.scrub().unwrap();
    assert!(!on_disk(&folder, secret));
}

#[test]
fn while_somebody_reads_the_file_trying_to_scrub_it_again_makes_nothing_longer() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    many_notes(&mut store, 400);
    let bytes = |end: &str| {
        let path = folder.path().join(format!("{GUILD}.loft{end}"));
        std::fs::metadata(path).map_or(0, |about| about.len())
    };
    let reader = raw(&folder);
    let begin = "BEGIN; SELECT count(*) FROM notes;";
    reader.execute_batch(begin).unwrap();
    let before = bytes("-wal");
    // Nothing is rewritten before the reader has gone.
    assert!(matches!(
        erase(&mut store, RecordNo(1)),
        Err(StoreError::Busy)
    ));
    assert!(matches!(store.scrub(), Err(StoreError::Busy)));
    assert!(
        bytes("-wal") - before < 300_000,
        "{before} {}",
        bytes("-wal")
    );
    reader.execute_batch("COMMIT").unwrap();
    store.scrub().unwrap();
    assert!(!store.wants_scrub().unwrap());
    // One that begins to read when all is in the file holds up only what comes after the rewriting.
    let erased = Body::NoteErased {
        of: RecordNo(2),
        first: RecordNo(2),
        tag: None,
    };
    let ordered = records(store.head(), vec![(erased, None)]);
    store
        .commit(&[plain(&Source::interaction(2), &ordered)], at(0))
        .unwrap();
    let checkpoint = "PRAGMA wal_checkpoint(PASSIVE)";
    raw(&folder).query_row(checkpoint, [], |_| Ok(())).unwrap();
    reader.execute_batch(begin).unwrap();
    assert!(matches!(store.scrub(), Err(StoreError::Busy)));
    let once = bytes("-wal");
    assert!(matches!(store.scrub(), Err(StoreError::Busy)));
    assert_eq!(bytes("-wal"), once);
    reader.execute_batch("COMMIT").unwrap();
    // Each rewriting counts this up.
    let rewritten = || {
        let version = "PRAGMA schema_version";
        raw(&folder)
            .query_row(version, [], |row| row.get::<_, i64>(0))
            .unwrap()
    };
    let before = rewritten();
    store.scrub().unwrap();
    assert!(!store.wants_scrub().unwrap());
    assert_eq!(rewritten(), before);
    store.verify().unwrap();
}

#[test]
fn a_file_is_rewritten_through_a_file_of_its_own_folder_and_not_through_memory() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    many_notes(&mut store, 4_000);
    let (here, done) = (
        std::fs::canonicalize(folder.path()).unwrap(),
        AtomicBool::new(false),
    );
    // It has no name, so it is only seen as what is open.
    let seen = || {
        std::fs::read_dir("/proc/self/fd").unwrap().any(|entry| {
            let open = entry.and_then(|entry| std::fs::read_link(entry.path()));
            open.is_ok_and(|path| {
                path.starts_with(&here) && path.to_string_lossy().ends_with("(deleted)")
            })
        })
    };
    let seen = std::thread::scope(|scope| {
        let looks = scope.spawn(|| {
            let mut found = false;
            while !found && !done.load(Ordering::Relaxed) {
                found = seen();
            }
            found
        });
        let scrubbed = store.scrub();
        done.store(true, Ordering::Relaxed);
        scrubbed.unwrap();
        looks.join().unwrap()
    });
    assert!(seen);
    store.verify().unwrap();
}

/// Records with long notes.
fn many_notes(store: &mut Store, count: usize) {
    let long = "heron ".repeat(200);
    for first in (0..count).step_by(200) {
        let tags: Vec<_> = (first..first + 200).map(|no| format!("LW-{no}")).collect();
        let bodies = tags.iter().map(|tag| (added(tag), Some(long.as_str())));
        let made = records(store.head(), bodies.collect());
        let source = Source::interaction(1_000 + first as u64);
        store.commit(&[plain(&source, &made)], at(0)).unwrap();
    }
}

fn on_disk(folder: &tempfile::TempDir, text: &str) -> bool {
    std::fs::read_dir(folder.path()).unwrap().any(|entry| {
        let bytes = std::fs::read(entry.unwrap().path()).unwrap();
        bytes
            .windows(text.len())
            .any(|part| part == text.as_bytes())
    })
}

#[test]
fn posts_alone_are_a_cause_too() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    enqueue(&mut store, "x", &[post("p", Lane::Routine)]).unwrap();
    let seen = store.seen(&Source("x".into())).unwrap().unwrap();
    assert_eq!((seen.first, seen.count), (RecordNo(0), 0));
    assert_eq!(store.verify().unwrap().causes, 1);
}
