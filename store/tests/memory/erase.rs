//! A home that leaves: all of it goes and nothing else, or nothing goes and it is said why.

use std::fs;
use std::path::Path;

use chrono::{DateTime, TimeDelta, Utc};
use commands::Source;
use commands::ids::Guild;
use store::{Store, StoreError, back_up, erase, files_of, restore};
use tempfile::TempDir;

use crate::samples::{GUILD, added, at, open, say};

const OTHER: Guild = Guild(42);

fn now() -> DateTime<Utc> {
    at(86_400)
}

/// A home with a backup and a file that was set aside, and another home beside it, whose number begins the same.
fn two_homes() -> (TempDir, TempDir) {
    let (data, safe) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mut store = open(&data);
    say(&mut store, Source::interaction(1), vec![added("LW-01")]);
    let made = back_up(data.path(), GUILD, safe.path(), now()).unwrap();
    drop(store);
    restore(&made.path, data.path(), now()).unwrap();
    drop(Store::open(data.path(), OTHER).unwrap());
    back_up(data.path(), OTHER, safe.path(), now()).unwrap();
    let later = now() + TimeDelta::hours(1);
    back_up(data.path(), GUILD, safe.path(), later).unwrap();
    fs::write(
        safe.path()
            .join(format!("{GUILD}-2026-01-01T000000Z.loft.part")),
        "",
    )
    .unwrap();
    (data, safe)
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let of_sqlite = |name: &String| name.ends_with("-shm") || name.ends_with("-wal");
    let mut names: Vec<String> = names.filter(|name| !of_sqlite(name)).collect();
    names.sort();
    names
}

#[test]
fn all_of_one_home_goes_and_nothing_of_another() {
    let (data, safe) = two_homes();
    fs::write(safe.path().join("4200-kept.loft"), "somebody's own").unwrap();
    let listed = files_of(data.path(), Some(safe.path()), GUILD).unwrap();
    assert!(listed.ours.len() >= 6, "{listed:?}");
    // While the lock is there nobody takes the home for a new one.
    let last = listed.ours.last().unwrap();
    assert_eq!(*last, data.path().join("4200.lock"), "{listed:?}");
    assert_eq!(listed.others, [safe.path().join("4200-kept.loft")]);
    let erased = erase(data.path(), Some(safe.path()), GUILD).unwrap();
    assert!(erased.stopped.is_none(), "{erased:?}");
    assert_eq!(erased.gone, listed.ours);
    assert_eq!(names(data.path()), ["42.lock", "42.loft"]);
    let other = format!("{OTHER}-");
    let left = names(safe.path());
    assert!(left.len() == 2 && left[0].starts_with(&other), "{left:?}");
    let nothing = files_of(data.path(), Some(safe.path()), GUILD).unwrap();
    assert!(nothing.ours.is_empty(), "{nothing:?}");
    drop(Store::open(data.path(), OTHER).unwrap());
}

#[test]
fn nothing_goes_while_loftwatch_runs_there_or_where_something_is_not_ours() {
    let (data, safe) = two_homes();
    let erased = |backups| erase(data.path(), backups, GUILD).unwrap_err();
    let before = (names(data.path()), names(safe.path()));
    for running in [GUILD, OTHER] {
        let held = Store::open(data.path(), running).unwrap();
        let fault = erased(Some(safe.path()));
        assert!(matches!(fault, StoreError::Locked { .. }), "{fault}");
        drop(held);
    }
    let typo = safe.path().join("typo");
    let fault = erased(Some(&typo));
    assert!(matches!(fault, StoreError::Folder { .. }), "{fault}");
    // Of another home, by what it says itself.
    let stray = safe.path().join(format!("{GUILD}-2026-02-02T000000Z.loft"));
    fs::copy(data.path().join("42.loft"), &stray).unwrap();
    let fault = erased(Some(safe.path()));
    assert!(
        fault.to_string().contains("belongs to facility 42"),
        "{fault}"
    );
    let listed = files_of(data.path(), Some(safe.path()), GUILD).unwrap_err();
    assert_eq!(
        listed.to_string(),
        fault.to_string(),
        "whoever only asks hears the same"
    );
    fs::remove_file(&stray).unwrap();
    std::os::unix::fs::symlink("/dev/null", &stray).unwrap();
    let fault = erased(Some(safe.path()));
    assert!(matches!(fault, StoreError::Kind { .. }), "{fault}");
    fs::remove_file(&stray).unwrap();
    assert_eq!((names(data.path()), names(safe.path())), before);
    // One that is damaged says nothing, and goes.
    fs::write(data.path().join("4200.loft"), "").unwrap();
    assert!(
        erase(data.path(), Some(safe.path()), GUILD)
            .unwrap()
            .stopped
            .is_none()
    );
}

/// What nobody but its owner removes keeps an empty home from being begun, and whoever reads why hears what to do.
#[test]
fn what_is_left_under_a_name_of_somebodys_own_is_to_be_removed_by_hand() {
    let data = tempfile::tempdir().unwrap();
    let mine = data.path().join(format!("{GUILD}.before-mine.loft"));
    fs::write(&mine, "somebody's own").unwrap();
    let listed = files_of(data.path(), None, GUILD).unwrap();
    assert_eq!((listed.ours, listed.others), (vec![], vec![mine.clone()]));
    let why = Store::open(data.path(), GUILD).unwrap_err().to_string();
    let what = format!("remove yourself {}", mine.display());
    assert!(why.ends_with(&what), "{why}");
    // What `erase` removes is not said to be left to anybody.
    let set_aside = format!("{GUILD}.before-2026-03-02T131000Z.loft");
    fs::write(data.path().join(&set_aside), "").unwrap();
    let why = Store::open(data.path(), GUILD).unwrap_err().to_string();
    assert!(why.ends_with(&what) && !why.contains(&set_aside), "{why}");
    fs::remove_file(&mine).unwrap();
    let why = Store::open(data.path(), GUILD).unwrap_err().to_string();
    assert!(why.ends_with("its backups too"), "{why}");
}
