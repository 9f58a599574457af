//! Damage below SQLite: single bits, missing ends, files put in the place of others. Whatever happens is an error with a
//! sentence, never a panic; and a file that still verifies has the very records that were written.

use std::fs;
use std::path::Path;

use commands::Source;
use commands::ids::RecordNo;
use rusqlite::types::Value;
use rusqlite::{Connection, OpenFlags};
use store::{Store, StoreError, Trouble};
use tempfile::TempDir;

use crate::samples::{
    GUILD, added, adequate, at, erase, not_tested, open, plain, raw, records, say,
};

/// Enough records for several pages of every table.
const CAUSES: u64 = 150;
/// Bits flipped one at a time, by seed.
const FLIPS: u64 = 600;
const SEED: u64 = 0x10f7;

/// A home with notes and a snapshot, in one file without a write-ahead log.
fn home() -> (TempDir, Vec<u8>) {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    for n in 0..CAUSES {
        let tag = format!("LW-{n:03}");
        let source = Source::interaction(n + 1);
        let note = (n % 3 == 0).then_some("two pads, head low");
        let made = records(
            store.head(),
            vec![(added(&tag), note), (adequate(&tag), None)],
        );
        store.commit(&[plain(&source, &made)], at(0)).unwrap();
    }
    // The state needs what these records do not say, so the snapshot is that of the first.
    if let Ok(state) = store.replay() {
        store.snapshot(&state).unwrap();
    }
    drop(store);
    let bytes = fs::read(path(folder.path())).unwrap();
    (folder, bytes)
}

fn path(folder: &Path) -> std::path::PathBuf {
    folder.join(format!("{GUILD}.loft"))
}

/// All that the chain promises, read past every index and without this crate.
fn kept(path: &Path) -> Vec<Vec<Value>> {
    let conn = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY).unwrap();
    let mut all = Vec::new();
    for (table, columns) in [
        ("records NOT INDEXED ORDER BY no", 13),
        ("causes ORDER BY source", 3),
        ("notes NOT INDEXED ORDER BY no", 3),
    ] {
        let mut statement = conn.prepare(&format!("SELECT * FROM {table}")).unwrap();
        let rows = statement
            .query_map([], |row| (0..columns).map(|n| row.get(n)).collect())
            .unwrap();
        all.extend(rows.map(Result::unwrap));
    }
    all
}

/// What verifying says, and that nothing panics however the file is used.
fn verified(folder: &Path) -> Result<(), String> {
    let looked = Store::look(&path(folder), GUILD).map_err(|fault| fault.to_string());
    let verified = looked.and_then(|store| store.verify().map_err(|trouble| trouble.to_string()));
    if let Ok(store) = Store::open(folder, GUILD) {
        let _ = store.replay();
        let _ = store.owing();
        let _ = store.unsettled();
        let _ = store.ready(at(1), 9);
        let _ = store.records_after(RecordNo(0), usize::MAX);
    }
    verified.map(drop)
}

/// xorshift64: the same bits on every machine.
fn dice(state: &mut u64, below: usize) -> usize {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    (*state % below as u64) as usize
}

#[test]
fn a_flipped_bit_is_found_or_changed_nothing_that_was_recorded() {
    let (folder, whole) = home();
    assert_eq!(verified(folder.path()), Ok(()));
    let wanted = kept(&path(folder.path()));
    let (mut state, mut found) = (SEED, 0);
    for n in 0..FLIPS {
        let mut bytes = whole.clone();
        let (byte, bit) = (dice(&mut state, bytes.len()), dice(&mut state, 8));
        bytes[byte] ^= 1 << bit;
        let beside = tempfile::tempdir().unwrap();
        fs::write(path(beside.path()), &bytes).unwrap();
        // Before anything opens it for writing.
        let before = beside.path().join("before");
        fs::write(&before, &bytes).unwrap();
        match verified(beside.path()) {
            Ok(()) => assert_eq!(kept(&before), wanted, "flip {n}: bit {bit} of byte {byte}"),
            Err(_) => found += 1,
        }
    }
    assert!(found > FLIPS / 2, "only {found} of {FLIPS} were found");
}

#[test]
fn a_bit_in_the_body_of_any_record_is_found() {
    let (folder, whole) = home();
    let bodies: Vec<(i64, String)> = {
        let raw = raw(&folder);
        let mut statement = raw.prepare("SELECT no, body FROM records").unwrap();
        let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)));
        rows.unwrap().map(Result::unwrap).collect()
    };
    assert_eq!(bodies.len() as u64, 2 * CAUSES);
    let (mut state, mut missed, mut hit) = (SEED, Vec::new(), 0);
    for (no, body) in bodies {
        // Bodies name their surface, so one stands once in the file; a second one is what SQLite left where it moved a page.
        let starts: Vec<usize> = (0..whole.len() - body.len())
            .filter(|start| whole[*start..].starts_with(body.as_bytes()))
            .collect();
        if starts.is_empty() {
            continue;
        }
        hit += 1;
        let mut bytes = whole.clone();
        let (byte, bit) = (dice(&mut state, body.len()), dice(&mut state, 8));
        for start in starts {
            bytes[start + byte] ^= 1 << bit;
        }
        let beside = tempfile::tempdir().unwrap();
        fs::write(path(beside.path()), &bytes).unwrap();
        let looked = Store::look(&path(beside.path()), GUILD).unwrap();
        if looked.verify().is_ok() {
            missed.push(no);
        }
    }
    assert!(hit > CAUSES, "only {hit} bodies stand in one piece");
    assert_eq!(missed, Vec::<i64>::new());
}

#[test]
fn a_file_cut_short_anywhere_is_refused() {
    let (_folder, whole) = home();
    let mut state = SEED;
    for n in 0..40 {
        let length = match n {
            0 => whole.len() - 1,
            1 => 1,
            2 => 100,
            _ => 1 + dice(&mut state, whole.len() - 1),
        };
        let beside = tempfile::tempdir().unwrap();
        fs::write(path(beside.path()), &whole[..length]).unwrap();
        assert!(verified(beside.path()).is_err(), "{length} bytes");
    }
}

#[test]
fn a_file_that_is_taken_away_or_replaced_records_nothing_and_is_not_begun_anew() {
    let (folder, _) = home();
    let mut store = open(&folder);
    let (here, away) = (path(folder.path()), folder.path().join("away.loft"));
    fs::rename(&here, &away).unwrap();
    let said = records(store.head(), vec![(added("N-1"), None)]);
    let source = Source::interaction(9_001);
    let gone = store.commit(&[plain(&source, &said)], at(1)).unwrap_err();
    assert!(matches!(gone, StoreError::Replaced { .. }), "{gone}");
    assert!(gone.needs_reopening());
    drop(store);
    let anew = Store::reopen(folder.path(), GUILD).unwrap_err();
    assert!(matches!(anew, StoreError::Replaced { .. }), "{anew}");
    assert!(!here.exists());
    fs::rename(&away, &here).unwrap();
    let store = Store::reopen(folder.path(), GUILD).unwrap();
    assert_eq!(store.seen(&source).unwrap(), None);
    assert_eq!(store.head(), RecordNo(2 * CAUSES));
}

/// Empty or gone while nobody was there: an empty home is not begun in the place of one that is known.
#[test]
fn a_file_that_is_missing_or_empty_is_not_begun_anew() {
    let (folder, whole) = home();
    let here = path(folder.path());
    let copies = tempfile::tempdir().unwrap();
    store::back_up(folder.path(), GUILD, copies.path(), at(1)).unwrap();
    for empty in [false, true] {
        if empty {
            fs::write(&here, "").unwrap();
        } else {
            fs::remove_file(&here).unwrap();
        }
        let fault = Store::open(folder.path(), GUILD).unwrap_err();
        assert!(matches!(fault, StoreError::Missing { .. }), "{fault}");
        assert_eq!(fs::metadata(&here).map_or(0, |about| about.len()), 0);
        assert_eq!(here.exists(), empty, "it was made");
        let fault = store::not_lost(folder.path(), GUILD, Some(copies.path())).unwrap_err();
        assert!(matches!(fault, StoreError::Missing { .. }), "{fault}");
    }
    // Its disk is back.
    fs::write(&here, &whole).unwrap();
    store::not_lost(folder.path(), GUILD, Some(copies.path())).unwrap();
    assert_eq!(open(&folder).head(), RecordNo(2 * CAUSES));
    // The lock of a program that was ended before it made the file remembers nothing.
    let locked = tempfile::tempdir().unwrap();
    let lock = locked.path().join(format!("{GUILD}.lock"));
    fs::write(&lock, "").unwrap();
    store::not_lost(locked.path(), GUILD, None).unwrap();
    fs::write(&lock, "12\n").unwrap();
    let fault = store::not_lost(locked.path(), GUILD, None).unwrap_err();
    assert!(matches!(fault, StoreError::Missing { .. }), "{fault}");
    // A restore that was cut short between two steps has set it aside.
    let halfway = tempfile::tempdir().unwrap();
    let aside = format!("{GUILD}.before-2026-03-02T131000Z.loft");
    fs::write(halfway.path().join(&aside), &whole).unwrap();
    let fault = store::not_lost(halfway.path(), GUILD, None).unwrap_err();
    assert!(matches!(fault, StoreError::Missing { .. }), "{fault}");
    // Another facility's backups, or none, say nothing of one that is new.
    let new = tempfile::tempdir().unwrap();
    let other = commands::ids::Guild(GUILD.0 + 1);
    store::not_lost(new.path(), other, Some(copies.path())).unwrap();
    store::not_lost(new.path(), GUILD, Some(&new.path().join("none"))).unwrap();
    let fault = store::not_lost(new.path(), GUILD, Some(copies.path())).unwrap_err();
    assert!(matches!(fault, StoreError::Missing { .. }), "{fault}");
}

/// Below the open store: what would be written then would be lost.
#[test]
fn a_file_or_log_that_is_cut_short_or_taken_away_records_nothing_more() {
    type Harm = fn(&Path, &Path);
    let harms: [(&str, Harm); 5] = [
        ("file emptied", |file, _| fs::write(file, "").unwrap()),
        ("file cut short", |file, _| {
            let bytes = fs::metadata(file).unwrap().len();
            let file = fs::OpenOptions::new().write(true).open(file).unwrap();
            file.set_len(bytes - 4_096).unwrap();
        }),
        ("log emptied", |_, log| {
            let log = fs::OpenOptions::new().write(true).open(log).unwrap();
            log.set_len(0).unwrap();
        }),
        ("log taken away", |_, log| fs::remove_file(log).unwrap()),
        ("another log", |_, log| {
            fs::copy(log, log.with_extension("other")).unwrap();
            fs::rename(log.with_extension("other"), log).unwrap();
        }),
    ];
    for (name, harm) in harms {
        let (folder, _) = home();
        let mut store = open(&folder);
        say(&mut store, Source::interaction(9_001), vec![added("N-1")]);
        let here = path(folder.path());
        harm(&here, &folder.path().join(format!("{GUILD}.loft-wal")));
        let said = records(store.head(), vec![(added("N-2"), None)]);
        let source = Source::interaction(9_002);
        let fault = store.commit(&[plain(&source, &said)], at(1)).unwrap_err();
        assert!(
            matches!(fault, StoreError::Replaced { .. }),
            "{name}: {fault}"
        );
    }
}

/// What the store itself makes shorter is no damage.
#[test]
fn a_file_that_was_written_anew_to_erase_goes_on() {
    let (folder, _) = home();
    let mut store = open(&folder);
    say(&mut store, Source::interaction(9_001), vec![added("N-1")]);
    for no in [1, 7, 13] {
        erase(&mut store, RecordNo(no)).unwrap();
        let n = 9_100 + no;
        say(
            &mut store,
            Source::interaction(n),
            vec![added(&format!("E-{n}"))],
        );
    }
}

#[test]
fn the_write_ahead_log_of_one_file_is_never_read_into_another() {
    let (folder, whole) = home();
    let mut store = open(&folder);
    say(&mut store, Source::interaction(9_001), vec![added("N-1")]);
    let other = folder.path().join("other.loft");
    fs::write(&other, &whole).unwrap();
    let log = fs::read(folder.path().join("4200.loft-wal")).unwrap();
    assert!(!log.is_empty());
    fs::rename(&other, path(folder.path())).unwrap();
    // As a power cut leaves it.
    std::mem::forget(store);
    let lock = folder.path().join("4200.lock");
    let known = fs::read(&lock).unwrap();
    fs::remove_file(&lock).unwrap();
    fs::write(&lock, known).unwrap();
    // A layered file system, as containers have, may make numbers up; there nothing is refused.
    let magic = rustix::fs::statfs(folder.path()).unwrap().f_type;
    if matches!(magic, 0x6573_5546 | 0x794c_7630) {
        not_tested("files have no lasting numbers here");
        return;
    }
    // Whoever only looks would read it into what is found, or into a backup.
    let to = tempfile::tempdir().unwrap();
    let fault = store::back_up(folder.path(), GUILD, to.path(), at(2)).unwrap_err();
    let replaced = matches!(fault, Trouble::Store(StoreError::Replaced { .. }));
    assert!(replaced, "{fault}");
    let fault = Store::look_in(folder.path(), GUILD).unwrap_err();
    assert!(matches!(fault, StoreError::Replaced { .. }), "{fault}");
    let fault = Store::open(folder.path(), GUILD).unwrap_err();
    assert!(matches!(fault, StoreError::Replaced { .. }), "{fault}");
    assert_eq!(fs::read(path(folder.path())).unwrap(), whole);
    // A whole folder that was copied by hand: the sentence says to remove the lock file.
    assert!(fault.to_string().contains("remove the .lock file"));
}
