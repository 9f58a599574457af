//! Backups made beside a writer, and the way back to one: nothing is overwritten, nothing is half done, and what waited in a
//! backup is not said again.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};

use chrono::{DateTime, TimeDelta, Utc};
use commands::Source;
use commands::decision::Lane;
use commands::ids::RecordNo;
use rusqlite::Connection;
use store::{
    Backup, Prepared, Store, StoreError, Trouble, back_up, backups, has_records, made_at,
    newest_backup, prune, restore,
};
use tempfile::TempDir;

use crate::samples::{
    GUILD, added, at, enqueue, erase, open, owed, plain, post, raw, records, say,
};

fn now() -> DateTime<Utc> {
    at(86_400)
}

fn with_one() -> (TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    say(&mut store, Source::interaction(1), vec![added("LW-01")]);
    (folder, store)
}

fn backed_up(folder: &TempDir, to: &Path) -> Backup {
    back_up(folder.path(), GUILD, to, now()).unwrap()
}

/// Without what SQLite puts beside a file that somebody reads.
fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(Result::unwrap)
        .filter(|entry| {
            let name = entry.file_name().into_string().unwrap();
            let empty_log = name.ends_with("-wal") && entry.metadata().unwrap().len() == 0;
            !empty_log && !name.ends_with("-shm")
        })
        .map(|entry| entry.file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn data(folder: &TempDir) -> PathBuf {
    folder.path().join(format!("{GUILD}.loft"))
}

/// A disk that is not there would be taken for a folder of the disk below it.
#[test]
fn only_the_last_part_of_a_folder_for_backups_is_made() {
    let (folder, _store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let missing = to.path().join("disk/safe");
    let made = back_up(folder.path(), GUILD, &missing, now());
    assert!(made.is_err() && !to.path().join("disk").exists());
}

#[test]
fn a_file_without_an_entry_is_known() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    assert!(!has_records(folder.path(), GUILD).unwrap());
    say(&mut store, Source::interaction(1), vec![added("LW-01")]);
    assert!(has_records(folder.path(), GUILD).unwrap());
    assert!(has_records(&folder.path().join("elsewhere"), GUILD).is_err());
    // As it is for a moment while it is made.
    let new = tempfile::tempdir().unwrap();
    std::fs::write(new.path().join(format!("{GUILD}.loft")), "").unwrap();
    assert!(!has_records(new.path(), GUILD).unwrap());
}

#[test]
fn a_backup_is_one_whole_file_that_only_its_owner_may_read() {
    let (folder, store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let backups_at = to.path().join("safe");
    let made = backed_up(&folder, &backups_at);
    assert_eq!(made.verified, store.verify().unwrap());
    assert_eq!(names(&backups_at), ["4200-2026-01-02T120000Z.loft"]);
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode(&made.path), mode(&backups_at)), (0o600, 0o700));
    assert_eq!(made.bytes, fs::metadata(&made.path).unwrap().len());
    assert_eq!(made_at(&made.path), Some((GUILD, now())));
}

/// Where there are no files but the system's own.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_takes_no_file_is_named() {
    let (folder, _store) = with_one();
    let fault = back_up(folder.path(), GUILD, Path::new("/proc"), now()).unwrap_err();
    assert!(
        matches!(&fault, Trouble::Store(StoreError::Folder { path, .. }) if path == Path::new("/proc")),
        "{fault:?}"
    );
}

#[test]
fn a_backup_takes_the_place_of_nothing() {
    let (folder, _store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    fs::write(&made.path, "somebody's letter").unwrap();
    let again = back_up(folder.path(), GUILD, to.path(), now()).unwrap_err();
    assert!(
        matches!(again, Trouble::Store(StoreError::SameMoment { .. })),
        "{again}"
    );
    assert_eq!(fs::read(&made.path).unwrap(), b"somebody's letter");
    assert_eq!(names(to.path()).len(), 1, "nothing is left over");
}

#[test]
fn what_is_wrong_with_a_homes_file_is_said_of_it_and_not_of_its_copy() {
    let refused = |alter: &dyn Fn(&Connection)| {
        let (folder, store) = with_one();
        drop(store);
        alter(&raw(&folder));
        let to = tempfile::tempdir().unwrap();
        let fault = back_up(folder.path(), GUILD, to.path(), now()).unwrap_err();
        assert_eq!(names(to.path()), [""; 0], "nothing is left over");
        let said = fault.to_string();
        assert!(
            !said.contains(".part") && !said.contains("did not take it"),
            "{said}"
        );
        (fault, said, data(&folder).display().to_string())
    };
    let (_, said, file) = refused(&|file| file.pragma_update(None, "user_version", 99).unwrap());
    assert!(
        said.starts_with(&file) && said.contains("newer loftwatch"),
        "{said}"
    );
    let (_, said, file) = refused(&|file| file.pragma_update(None, "application_id", 7).unwrap());
    assert!(
        said.starts_with(&file) && said.contains("another program"),
        "{said}"
    );
    let (fault, said, _) = refused(&|file| {
        file.execute_batch("DROP TRIGGER records_stay; UPDATE records SET at = at + 1;")
            .unwrap();
    });
    assert!(matches!(fault, Trouble::Altered { .. }), "{fault}");
    assert!(said.contains("Keep a copy of the data folder"), "{said}");
}

#[test]
fn a_file_where_the_backups_folder_should_be_is_no_folder() {
    let (folder, _store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let file = to.path().join("file");
    fs::write(&file, "").unwrap();
    let said = back_up(folder.path(), GUILD, &file, now())
        .unwrap_err()
        .to_string();
    assert!(said.contains("Name a folder"), "{said}");
}

#[test]
fn a_backup_that_another_is_just_making_is_left_to_it() {
    let (folder, _store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let part = to.path().join("4200-2026-01-02T120000Z.loft.part");
    fs::write(&part, "half of it").unwrap();
    let said = back_up(folder.path(), GUILD, to.path(), now())
        .unwrap_err()
        .to_string();
    assert!(
        said.contains("once more in a moment") && !said.contains("part "),
        "{said}"
    );
    assert_eq!(fs::read(&part).unwrap(), b"half of it");
}

#[test]
fn a_backup_beside_a_writer_is_the_log_as_it_stood_at_one_moment() {
    let (folder, mut store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let enough = AtomicBool::new(false);
    let made: Vec<Backup> = std::thread::scope(|scope| {
        let copier = scope.spawn(|| {
            let made = (0..8)
                .map(|n| {
                    back_up(
                        folder.path(),
                        GUILD,
                        to.path(),
                        now() + TimeDelta::seconds(n),
                    )
                    .unwrap()
                })
                .collect();
            enough.store(true, Ordering::Relaxed);
            made
        });
        let mut n = 1;
        while !enough.load(Ordering::Relaxed) {
            n += 1;
            let cause = vec![added(&format!("A-{n}")), added(&format!("B-{n}"))];
            say(&mut store, Source::interaction(n), cause);
        }
        copier.join().unwrap()
    });
    assert!(store.head() > RecordNo(9), "nothing was written meanwhile");
    for one in &made {
        let records = one.verified.records;
        assert_eq!(records % 2, 1, "half of a cause is in it");
        let hash = store.hash_of(RecordNo(records)).unwrap();
        assert_eq!(hash.as_ref(), Some(&one.verified.tip));
    }
    assert!(made.iter().any(|one| one.verified.records > 1));
    store.verify().unwrap();
}

#[test]
fn damage_makes_no_backup_and_touches_none() {
    let (folder, store) = with_one();
    let to = tempfile::tempdir().unwrap();
    backed_up(&folder, to.path());
    drop(store);
    let raw = raw(&folder);
    raw.execute_batch("DROP TRIGGER records_stay; UPDATE records SET role = 'nurse'")
        .unwrap();
    let later = now() + TimeDelta::hours(1);
    let trouble = back_up(folder.path(), GUILD, to.path(), later).unwrap_err();
    assert!(
        matches!(trouble, Trouble::Altered { no: RecordNo(1) }),
        "{trouble}"
    );
    assert_eq!(names(to.path()).len(), 1);
}

#[test]
fn the_oldest_go_and_what_is_not_ours_stays() {
    let (folder, _store) = with_one();
    let to = tempfile::tempdir().unwrap();
    for day in 0..5 {
        back_up(
            folder.path(),
            GUILD,
            to.path(),
            now() + TimeDelta::days(day),
        )
        .unwrap();
    }
    let others = [
        "4200-before-the-move.loft",
        "4201-2025-01-01T000000Z.loft",
        "letter.txt",
        // Of this day: it may be under way.
        "4200-2026-01-06T110000Z.loft.part",
    ];
    for name in others.iter().chain(&["4200-2026-01-05T115959Z.loft.part"]) {
        fs::write(to.path().join(name), "x").unwrap();
    }
    let gone = prune(to.path(), GUILD, 2, now() + TimeDelta::days(4)).unwrap();
    assert_eq!(gone, 4);
    let left: Vec<_> = backups(to.path(), GUILD)
        .unwrap()
        .iter()
        .filter_map(|path| made_at(path))
        .map(|(_, at)| at)
        .collect();
    assert_eq!(left, [3, 4].map(|day| now() + TimeDelta::days(day)));
    for name in others {
        assert!(to.path().join(name).exists(), "{name}");
    }
    let newest = now() + TimeDelta::days(4);
    prune(to.path(), GUILD, 0, newest).unwrap();
    assert_eq!(backups(to.path(), GUILD).unwrap().len(), 1, "one stays");
}

#[test]
fn one_that_is_dated_ahead_is_kept_and_not_counted_until_its_time() {
    let to = tempfile::tempdir().unwrap();
    let on = |day| now() + TimeDelta::days(day);
    for day in [0, 1, 2, 30, 31] {
        let name = format!("{GUILD}-{}.loft", on(day).format("%Y-%m-%dT%H%M%SZ"));
        fs::write(to.path().join(name), "x").unwrap();
    }
    let newest = |day| newest_backup(to.path(), GUILD, on(day)).unwrap();
    assert_eq!((newest(-1), newest(2)), (None, Some(on(2))));
    let left = || -> Vec<DateTime<Utc>> {
        let found = backups(to.path(), GUILD).unwrap();
        found
            .iter()
            .filter_map(|path| made_at(path))
            .map(|(_, at)| at)
            .collect()
    };
    assert_eq!(prune(to.path(), GUILD, 2, on(2)).unwrap(), 1);
    assert_eq!(left(), [1, 2, 30, 31].map(on));
    // The clock went back: none of what is ahead of it is removed.
    assert_eq!(prune(to.path(), GUILD, 2, on(0)).unwrap(), 0);
    assert_eq!(prune(to.path(), GUILD, 2, on(30)).unwrap(), 1);
    assert_eq!(left(), [2, 30, 31].map(on));
    assert_eq!(newest(30), Some(on(30)));
}

#[test]
fn only_a_folder_that_is_not_there_has_no_backups() {
    let there = tempfile::tempdir().unwrap();
    let none = there.path().join("none");
    assert_eq!(backups(&none, GUILD).unwrap(), Vec::<PathBuf>::new());
    store::not_lost(&none, GUILD, None).unwrap();
    let file = there.path().join("file");
    fs::write(&file, "x").unwrap();
    backups(&file, GUILD).unwrap_err();
    newest_backup(&file, GUILD, now()).unwrap_err();
    store::not_lost(&file, GUILD, None).unwrap_err();
}

#[test]
fn a_backup_is_restored_in_the_place_of_the_file_which_stays_beside_it() {
    let (folder, mut store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    say(&mut store, Source::interaction(2), vec![added("LW-02")]);
    let lost = store.verify().unwrap();
    drop(store);
    let restored = restore(&made.path, folder.path(), now()).unwrap();
    assert_eq!(restored.verified.tip, made.verified.tip);
    let before = restored.before.unwrap();
    let past = before.past.unwrap();
    assert_eq!((past.newest, past.same), (RecordNo(2), true));
    assert_eq!(past.entered, lost.newest);
    assert_eq!(
        names(folder.path()),
        [
            "4200.before-2026-01-02T120000Z.loft",
            "4200.lock",
            "4200.loft"
        ]
    );
    let kept = Store::look(&before.kept, GUILD).unwrap();
    assert_eq!(kept.verify().unwrap(), lost);
    drop(kept);
    let mut store = open(&folder);
    assert_eq!(store.head(), RecordNo(1));
    say(&mut store, Source::interaction(9), vec![added("LW-09")]);
    store.verify().unwrap();
}

#[test]
fn histories_that_part_are_told_from_one_that_goes_on() {
    let (folder, store) = with_one();
    let (other, mut theirs) = with_one();
    say(&mut theirs, Source::interaction(3), vec![added("LW-77")]);
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&other, to.path());
    let mut store = store;
    say(&mut store, Source::interaction(4), vec![added("LW-04")]);
    drop(store);
    let restored = restore(&made.path, folder.path(), now()).unwrap();
    let past = restored.before.unwrap().past.unwrap();
    assert_eq!((past.newest, past.same), (RecordNo(2), false));
}

#[test]
fn what_was_erased_since_a_backup_and_comes_back_with_it_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let notes = [Some("heron"), Some("stays"), None];
    for (place, note) in notes.into_iter().enumerate() {
        let made = records(store.head(), vec![(added(&format!("LW-0{place}")), note)]);
        let source = Source::interaction(place as u64 + 1);
        store.commit(&[plain(&source, &made)], at(0)).unwrap();
    }
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    erase(&mut store, RecordNo(1)).unwrap();
    drop(store);
    let restored = restore(&made.path, folder.path(), now()).unwrap();
    let past = restored.before.unwrap().past.unwrap();
    assert_eq!(past.unerased, [RecordNo(1)]);
    // Erased again, a backup from after it brings nothing back.
    let mut store = open(&folder);
    erase(&mut store, RecordNo(1)).unwrap();
    let later = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, later.path());
    drop(store);
    let restored = restore(
        &made.path,
        folder.path(),
        now() + chrono::TimeDelta::hours(1),
    )
    .unwrap();
    let past = restored.before.unwrap().past.unwrap();
    assert_eq!(past.unerased, []);
}

#[test]
fn what_waited_in_a_backup_is_given_up_and_counted() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let source = Source::interaction(1);
    let made = records(store.head(), vec![(added("LW-01"), None)]);
    let posts = ["a", "b", "c"].map(|key| post(key, Lane::Escalation));
    let prepared = Prepared {
        posts: &posts,
        owed: Some(owed(1, "noted")),
        ..plain(&source, &made)
    };
    let ids = store.commit(&[prepared], at(0)).unwrap().outbox;
    store.sent(ids[0], Some(77)).unwrap();
    store.sending(&ids[1..2], at(1)).unwrap();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    assert_eq!(made.verified.waiting, 3);
    drop(store);
    let restored = restore(&made.path, folder.path(), now()).unwrap();
    assert_eq!(restored.given_up, 3);
    let mut store = open(&folder);
    assert!(store.ready(DateTime::<Utc>::MAX_UTC, 9).unwrap().is_empty());
    assert!(store.unsettled().unwrap().is_empty());
    assert!(store.owing().unwrap().answers.is_empty());
    // What was sent can still be edited.
    assert!(store.message_of("a").unwrap().is_some());
    assert_eq!(store.put_back().unwrap(), Some(3));
    store.told_of_put_back().unwrap();
    assert_eq!(store.put_back().unwrap(), None);
}

/// A program says that it is there once in a while only, and a home may have been idle for long.
#[test]
fn a_restored_file_says_where_its_backup_ends_until_the_home_was_told() {
    // When the program was last there, and where the backup ends, in seconds after its newest entry.
    for (alive, ends) in [(None, 0), (Some(-60), 0), (Some(7_200), 7_200)] {
        let (folder, mut store) = with_one();
        let entered = store.entered(store.head()).unwrap().unwrap();
        let after = |seconds| entered + TimeDelta::seconds(seconds);
        if let Some(seconds) = alive {
            store.alive(after(seconds)).unwrap();
        }
        assert_eq!(store.put_back_at().unwrap(), None);
        let to = tempfile::tempdir().unwrap();
        let made = backed_up(&folder, to.path());
        drop(store);
        restore(&made.path, folder.path(), now()).unwrap();
        let mut store = open(&folder);
        // Whoever starts first is there, long before anybody was told.
        store.alive(now() + TimeDelta::days(3)).unwrap();
        assert_eq!(store.put_back_at().unwrap(), Some(after(ends)), "{alive:?}");
        store.told_of_put_back().unwrap();
        assert_eq!(store.put_back_at().unwrap(), None);
    }
    // A home that nobody had entered anything in.
    let folder = tempfile::tempdir().unwrap();
    drop(open(&folder));
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    restore(&made.path, folder.path(), now()).unwrap();
    let store = open(&folder);
    assert_eq!(store.put_back().unwrap(), Some(0));
    assert_eq!(store.put_back_at().unwrap(), None);
}

/// The log goes on from the backup and gives the same keys to something else; the chat would take a nonce that it knows for a repeat.
#[test]
fn no_nonce_from_before_a_restore_is_used_again() {
    let (folder, mut store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    let nonce = |store: &mut Store| {
        enqueue(store, "a", &[post("alarm:2", Lane::Escalation)]).unwrap();
        let rows = store.ready(DateTime::<Utc>::MAX_UTC, 9).unwrap();
        rows.last().unwrap().nonce.clone()
    };
    assert_eq!(store.restored(), None);
    let mut nonces = vec![nonce(&mut store)];
    drop(store);
    for hours in 0..2 {
        let then = now() + TimeDelta::hours(hours);
        restore(&made.path, folder.path(), then).unwrap();
        let mut store = open(&folder);
        assert_eq!(store.restored(), Some(then));
        store.told_of_put_back().unwrap();
        let new = nonce(&mut store);
        assert!(new.len() <= 25, "{new}");
        assert!(!nonces.contains(&new), "{new}");
        nonces.push(new.clone());
        drop(store);
        // The mark is for good, also in a backup of what was restored.
        let store = open(&folder);
        assert_eq!(store.restored(), Some(then));
        let rows = store.ready(DateTime::<Utc>::MAX_UTC, 9).unwrap();
        assert_eq!(rows.last().unwrap().nonce, new);
    }
}

/// Somebody reads the file that is to be set aside, so that its write-ahead log cannot go into it.
#[test]
fn nothing_is_restored_while_somebody_reads_the_file_that_was_there() {
    let (folder, mut store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    let reads = raw(&folder);
    reads
        .execute_batch("BEGIN; SELECT count(*) FROM records")
        .unwrap();
    say(&mut store, Source::interaction(2), vec![added("LW-02")]);
    drop(store);
    let before = names(folder.path());
    let busy = restore(&made.path, folder.path(), now()).unwrap_err();
    assert!(matches!(busy, Trouble::Store(StoreError::Busy)), "{busy}");
    assert_eq!(names(folder.path()), before);
    reads.execute_batch("COMMIT").unwrap();
    drop(reads);
    assert_eq!(open(&folder).head(), RecordNo(2));
    restore(&made.path, folder.path(), now()).unwrap();
    assert_eq!(open(&folder).head(), RecordNo(1));
}

#[test]
fn nothing_is_restored_below_a_running_bot_or_from_what_is_not_whole() {
    let (folder, store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    let running = restore(&made.path, folder.path(), now()).unwrap_err();
    assert!(
        matches!(running, Trouble::Store(StoreError::Locked { .. })),
        "{running}"
    );
    drop(store);
    let (before, there) = (fs::read(data(&folder)).unwrap(), names(folder.path()));
    let mut bytes = fs::read(&made.path).unwrap();
    bytes.truncate(bytes.len() / 2);
    let half = to.path().join("half.loft");
    fs::write(&half, bytes).unwrap();
    restore(&half, folder.path(), now()).unwrap_err();
    fs::write(&half, "a letter").unwrap();
    restore(&half, folder.path(), now()).unwrap_err();
    fs::write(&half, "").unwrap();
    restore(&half, folder.path(), now()).unwrap_err();
    restore(&to.path().join("nowhere"), folder.path(), now()).unwrap_err();
    restore(&data(&folder), folder.path(), now()).unwrap_err();
    let other = rusqlite::Connection::open(&made.path).unwrap();
    other.pragma_update(None, "user_version", 99).unwrap();
    let newer = restore(&made.path, folder.path(), now()).unwrap_err();
    assert!(
        matches!(newer, Trouble::Store(StoreError::Newer { found: 99, .. })),
        "{newer}"
    );
    assert_eq!(fs::read(data(&folder)).unwrap(), before);
    assert_eq!(names(folder.path()), there);
}

#[test]
fn a_home_is_restored_over_a_destroyed_file_and_into_an_empty_folder() {
    let (folder, store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    drop(store);
    fs::write(data(&folder), "destroyed").unwrap();
    let restored = restore(&made.path, folder.path(), now()).unwrap();
    let before = restored.before.unwrap();
    assert!(before.past.is_err());
    assert_eq!(fs::read(&before.kept).unwrap(), b"destroyed");
    let elsewhere = tempfile::tempdir().unwrap();
    let restored = restore(&made.path, &elsewhere.path().join("new"), now()).unwrap();
    assert!(restored.before.is_none());
    assert_eq!(restored.verified.records, 1);
}

/// The bytes that say how large a page is went bad on the disk, so that nothing can move the newest entries out of the write-ahead
/// log. Whoever mends those two bytes of the copy by hand has all of it again.
#[test]
fn a_damaged_file_that_is_set_aside_keeps_its_newest_entries() {
    let (folder, store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    drop(store);
    let mut store = open(&folder);
    say(&mut store, Source::interaction(2), vec![added("LW-02")]);
    let newest = store.verify().unwrap();
    let files = ["loft", "loft-wal"].map(|end| folder.path().join(format!("{GUILD}.{end}")));
    let [whole, log] = files.each_ref().map(|path| fs::read(path).unwrap());
    // What closing it moves out of its log is put back, as after a power cut.
    drop(store);
    let mut damaged = whole.clone();
    damaged[16..18].copy_from_slice(&8_192_u16.to_be_bytes());
    for (path, bytes) in files.iter().zip([&damaged, &log]) {
        fs::write(path, bytes).unwrap();
    }
    let restored = restore(&made.path, folder.path(), now()).unwrap();
    assert_eq!(restored.verified.tip, made.verified.tip);
    let before = restored.before.unwrap();
    assert!(before.past.is_err());
    assert!(fs::read(&before.kept).unwrap() == damaged, "it is another");
    fs::write(&before.kept, &whole).unwrap();
    let kept = Store::look(&before.kept, GUILD).unwrap();
    assert_eq!(kept.verify().unwrap(), newest);
    assert_eq!(open(&folder).head(), RecordNo(1));
}

/// Somebody who tried it with the wrong file, as the wrong account perhaps, has changed nothing of the service's.
#[test]
fn a_restore_from_what_is_not_whole_touches_no_folder() {
    let (folder, store) = with_one();
    drop(store);
    let bytes = fs::read(data(&folder)).unwrap();
    let to = tempfile::tempdir().unwrap();
    let half = to.path().join("half.loft");
    fs::write(&half, &bytes[..bytes.len() / 2]).unwrap();
    // It opens, and says whose it is; only who reads all of it sees that a record is not what was written.
    let flipped = to.path().join("flipped.loft");
    let mut bytes = bytes;
    let kind = b"surface-addedLW-01";
    let row = bytes.windows(kind.len()).rposition(|part| part == kind);
    bytes[row.unwrap()] ^= 1;
    fs::write(&flipped, bytes).unwrap();
    let mode = |folder: &Path| fs::metadata(folder).unwrap().permissions().mode() & 0o777;
    let there = tempfile::tempdir().unwrap();
    fs::set_permissions(there.path(), fs::Permissions::from_mode(0o755)).unwrap();
    let new = there.path().join("new");
    for broken in [&half, &flipped] {
        for data in [there.path(), &new] {
            restore(broken, data, now()).unwrap_err();
            assert_eq!(mode(there.path()), 0o755);
            assert_eq!(all_names(there.path()), [""; 0]);
        }
    }
    let trouble = restore(&flipped, &new, now()).unwrap_err();
    assert!(matches!(trouble, Trouble::Altered { .. }), "{trouble}");
}

/// A home that ran when its power failed, copied by hand: what is newest is in the write-ahead log beside it.
#[test]
fn a_copy_by_hand_is_restored_with_its_write_ahead_log() {
    let (folder, mut store) = with_one();
    say(&mut store, Source::interaction(2), vec![added("LW-02")]);
    let to = tempfile::tempdir().unwrap();
    for name in ["4200.loft", "4200.loft-wal"] {
        fs::copy(folder.path().join(name), to.path().join(name)).unwrap();
    }
    let elsewhere = tempfile::tempdir().unwrap();
    let copy = to.path().join("4200.loft");
    let restored = restore(&copy, elsewhere.path(), now()).unwrap();
    assert_eq!(restored.verified.records, 2);
    assert_eq!(names(elsewhere.path()), ["4200.lock", "4200.loft"]);
}

/// Everything in the folder, also what SQLite left there.
fn all_names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_restore_leaves_nothing_of_its_own_behind_whatever_was_there() {
    let (folder, store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    drop(store);
    let elsewhere = tempfile::tempdir().unwrap();
    let target = elsewhere.path().join("kept.loft");
    let content = fs::read(data(&folder)).unwrap();
    let old = |what: &str| {
        fs::remove_file(data(&folder)).unwrap();
        match what {
            "a link" => {
                fs::write(&target, &content).unwrap();
                std::os::unix::fs::symlink(&target, data(&folder)).unwrap();
            }
            "a link to nowhere" => std::os::unix::fs::symlink("nowhere", data(&folder)).unwrap(),
            "a pipe" => {
                let made = std::process::Command::new("mkfifo")
                    .arg(data(&folder))
                    .status();
                assert!(made.unwrap().success());
            }
            _ => {
                fs::write(data(&folder), &content).unwrap();
                if rustix::process::geteuid().is_root() {
                    std::os::unix::fs::chown(data(&folder), Some(65_534), None).unwrap();
                }
            }
        }
    };
    for (n, what) in ["a link", "a link to nowhere", "a pipe", "another account's"]
        .iter()
        .enumerate()
    {
        old(what);
        let at = now() + TimeDelta::minutes(n as i64);
        let restored = restore(&made.path, folder.path(), at).unwrap();
        assert!(restored.before.is_some(), "{what}");
        let left = all_names(folder.path());
        let own = |name: &&String| name.contains("restoring");
        assert_eq!(left.iter().find(own), None, "{what}: {left:?}");
        assert_eq!(restored.verified.records, 1, "{what}");
    }
    assert_eq!(
        fs::read(&target).unwrap(),
        content,
        "what a link led to was touched"
    );

    // A folder cannot be set aside by a second name, so nothing comes of it.
    fs::remove_file(data(&folder)).unwrap();
    fs::create_dir(data(&folder)).unwrap();
    let before = all_names(folder.path());
    restore(&made.path, folder.path(), now() + TimeDelta::hours(1)).unwrap_err();
    assert_eq!(all_names(folder.path()), before);
}

#[test]
fn a_log_whose_file_is_gone_is_not_read_into_the_restored_one() {
    let (folder, mut store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    say(&mut store, Source::interaction(2), vec![added("LW-02")]);
    let log = folder.path().join(format!("{GUILD}.loft-wal"));
    let orphan = fs::read(&log).unwrap();
    drop(store);
    for end in ["loft", "loft-shm"] {
        let _ = fs::remove_file(folder.path().join(format!("{GUILD}.{end}")));
    }
    fs::write(&log, &orphan).unwrap();
    let restored = restore(&made.path, folder.path(), now()).unwrap();
    assert!(restored.before.is_none());
    assert_eq!(restored.verified.records, 1);
    let kept: Vec<String> = all_names(folder.path())
        .into_iter()
        .filter(|name| name.contains(".before-"))
        .collect();
    assert_eq!(kept.len(), 1, "{kept:?}");
    assert_eq!(fs::read(folder.path().join(&kept[0])).unwrap(), orphan);
}

#[test]
fn a_backup_that_is_no_plain_file_is_not_waited_for() {
    let (folder, store) = with_one();
    drop(store);
    let pipe = folder.path().join("pipe.loft");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    assert!(made.unwrap().success());
    let before = fs::read(data(&folder)).unwrap();
    let fault = restore(&pipe, folder.path(), now()).unwrap_err();
    assert!(fault.to_string().contains("is a pipe"), "{fault}");
    assert_eq!(fs::read(data(&folder)).unwrap(), before);
}

/// What a restore that was cut short left in the folder is named as the file to restore from, because it is all that is left.
#[test]
fn a_restore_from_what_an_earlier_one_left_does_not_destroy_it() {
    let (folder, store) = with_one();
    let to = tempfile::tempdir().unwrap();
    let made = backed_up(&folder, to.path());
    drop(store);
    let left = folder.path().join(format!("{GUILD}.restoring.loft"));
    fs::rename(&made.path, &left).unwrap();
    for end in ["loft", "loft-wal", "loft-shm", "lock"] {
        let _ = fs::remove_file(folder.path().join(format!("{GUILD}.{end}")));
    }
    let (soft, hard) = (to.path().join("soft.loft"), to.path().join("hard.loft"));
    std::os::unix::fs::symlink(&left, &soft).unwrap();
    fs::hard_link(&left, &hard).unwrap();
    let before = fs::read(&left).unwrap();
    for named in [&left, &soft, &hard] {
        let said = restore(named, folder.path(), now())
            .unwrap_err()
            .to_string();
        assert!(said.contains("Move it into another folder"), "{said}");
        assert_eq!(fs::read(&left).unwrap(), before);
    }
    // As the sentence says.
    let moved = to.path().join(format!("{GUILD}.restoring.loft"));
    fs::rename(&left, &moved).unwrap();
    restore(&moved, folder.path(), now()).unwrap();
    assert!(data(&folder).exists() && moved.exists());
}
