//! What is refused when a file is opened, and that the file is then untouched.

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};

use commands::Source;
use commands::ids::{Guild, RecordNo};
use rusqlite::Connection;
use store::{APPLICATION_ID, Store, StoreError};
use tempfile::TempDir;

use crate::samples::{GUILD, added, adequate, at, not_tested, open, raw, say};

fn mode(path: &std::path::Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

fn refused(folder: &TempDir) -> StoreError {
    Store::open(folder.path(), GUILD).unwrap_err()
}

#[test]
fn folder_and_files_are_the_owners_alone() {
    let parent = tempfile::tempdir().unwrap();
    let folder = parent.path().join("data/loft");
    let mut store = Store::open(&folder, GUILD).unwrap();
    say(&mut store, Source::interaction(1), vec![adequate("LW-01")]);
    assert_eq!(mode(&folder), 0o700);
    let mut names = Vec::new();
    for entry in fs::read_dir(&folder).unwrap() {
        let entry = entry.unwrap();
        assert_eq!(mode(&entry.path()), 0o600, "{:?}", entry.path());
        names.push(entry.file_name().into_string().unwrap());
    }
    names.sort();
    assert_eq!(
        names,
        ["4200.lock", "4200.loft", "4200.loft-shm", "4200.loft-wal"]
    );
    drop(store);
    let file = folder.join("4200.loft");
    fs::set_permissions(&file, fs::Permissions::from_mode(0o644)).unwrap();
    drop(Store::open(&folder, GUILD).unwrap());
    assert_eq!(mode(&file), 0o600);
}

#[test]
fn an_open_folder_is_made_private_when_it_is_ours_alone_and_refused_otherwise() {
    let folder = tempfile::tempdir().unwrap();
    let open_to_all = fs::Permissions::from_mode(0o755);
    fs::set_permissions(folder.path(), open_to_all.clone()).unwrap();
    drop(open(&folder));
    assert_eq!(mode(folder.path()), 0o700);
    fs::set_permissions(folder.path(), open_to_all.clone()).unwrap();
    drop(open(&folder));
    assert_eq!(mode(folder.path()), 0o700);

    let shared = tempfile::tempdir().unwrap();
    fs::set_permissions(shared.path(), open_to_all).unwrap();
    fs::write(shared.path().join("letter.txt"), "").unwrap();
    let fault = refused(&shared);
    assert!(matches!(fault, StoreError::TooOpen { mode: 0o755, .. }));
    assert!(fault.to_string().contains("chmod 700"), "{fault}");
    assert_eq!(mode(shared.path()), 0o755);
    assert_eq!(fs::read_dir(shared.path()).unwrap().count(), 1);
}

#[test]
fn a_second_program_is_refused_until_the_first_is_gone() {
    let folder = tempfile::tempdir().unwrap();
    let first = open(&folder);
    assert!(matches!(refused(&folder), StoreError::Locked { .. }));
    // Another facility in the same folder is no concern of it.
    drop(Store::open(folder.path(), Guild(1)).unwrap());
    drop(first);
    drop(open(&folder));
}

#[test]
fn a_file_from_the_future_is_refused_and_stays_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    drop(open(&folder));
    raw(&folder)
        .pragma_update(None, "user_version", 99)
        .unwrap();
    let before = fs::read(folder.path().join("4200.loft")).unwrap();
    let fault = refused(&folder);
    assert!(
        matches!(fault, StoreError::Newer { found: 99, .. }),
        "{fault}"
    );
    assert!(fault.to_string().contains("newer loftwatch"), "{fault}");
    assert_eq!(fs::read(folder.path().join("4200.loft")).unwrap(), before);
}

#[test]
fn a_file_that_is_not_ours_is_refused_and_stays_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("4200.loft");
    Connection::open(&path)
        .unwrap()
        .execute_batch("CREATE TABLE recipes (name TEXT)")
        .unwrap();
    let made_by_another = fs::read(&path).unwrap();
    let words: &[u8] =
        b"These are words and no database at all. These are words and no database at all. \
        These are words and no database.";
    for content in [&made_by_another[..], words] {
        fs::write(&path, content).unwrap();
        let fault = refused(&folder);
        assert!(matches!(fault, StoreError::NotOurs { .. }), "{fault}");
        assert_eq!(fs::read(&path).unwrap(), content);
    }
}

/// Who may open it is part of how it is.
#[test]
fn a_refused_file_keeps_its_mode_and_a_homes_own_is_made_its_owners_alone() {
    let open_to_all = |path: &std::path::Path| {
        fs::set_permissions(path, fs::Permissions::from_mode(0o644)).unwrap();
    };
    let foreign = |path: &std::path::Path| {
        let other = Connection::open(path).unwrap();
        other
            .execute_batch("CREATE TABLE recipes (name TEXT)")
            .unwrap();
    };
    let letter = |path: &std::path::Path| fs::write(path, "words and no database").unwrap();
    let neighbours = |path: &std::path::Path| {
        let folder = tempfile::tempdir().unwrap();
        drop(Store::open(folder.path(), Guild(1)).unwrap());
        fs::copy(folder.path().join("1.loft"), path).unwrap();
    };
    for made in [&foreign as &dyn Fn(&std::path::Path), &letter, &neighbours] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("4200.loft");
        made(&path);
        open_to_all(&path);
        let before = fs::read(&path).unwrap();
        let fault = refused(&folder);
        assert!(fault.to_string().contains("it was not changed"), "{fault}");
        assert_eq!((fs::read(&path).unwrap(), mode(&path)), (before, 0o644));
    }
    // Stopped, and as a power cut leaves it, with what is newest in the log beside it.
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    say(&mut store, Source::interaction(1), vec![adequate("LW-01")]);
    let cut = tempfile::tempdir().unwrap();
    for end in ["loft", "loft-wal"] {
        let name = format!("4200.{end}");
        fs::copy(folder.path().join(&name), cut.path().join(&name)).unwrap();
    }
    drop(store);
    for home in [&folder, &cut] {
        for entry in fs::read_dir(home.path()).unwrap() {
            open_to_all(&entry.unwrap().path());
        }
        let mut store = open(home);
        assert!(store.head() > RecordNo(0));
        say(&mut store, Source::interaction(2), vec![adequate("LW-01")]);
        for end in ["loft", "loft-wal", "loft-shm"] {
            let path = home.path().join(format!("4200.{end}"));
            assert_eq!(mode(&path), 0o600, "{end}");
        }
    }
}

#[test]
fn another_facilitys_file_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    drop(Store::open(folder.path(), Guild(1)).unwrap());
    fs::rename(
        folder.path().join("1.loft"),
        folder.path().join("4200.loft"),
    )
    .unwrap();
    let fault = refused(&folder);
    assert!(matches!(fault, StoreError::NotOurs { .. }));
    assert!(
        fault.to_string().contains("belongs to facility 1"),
        "{fault}"
    );
}

#[test]
fn a_link_in_the_place_of_the_file_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let elsewhere = tempfile::tempdir().unwrap();
    let target = elsewhere.path().join("x");
    fs::write(&target, "").unwrap();
    for name in ["4200.loft", "4200.lock"] {
        let link = folder.path().join(name);
        let _ = fs::remove_file(&link);
        symlink(&target, &link).unwrap();
        let fault = refused(&folder);
        assert!(
            matches!(fault, StoreError::Folder { .. } | StoreError::Kind { .. }),
            "{name}: {fault}"
        );
        fs::remove_file(&link).unwrap();
    }
    assert_eq!(fs::read(&target).unwrap(), b"");
    // A link on the way to the folder is the operator's own choice.
    let way = elsewhere.path().join("way");
    symlink(folder.path(), &way).unwrap();
    drop(Store::open(&way, GUILD).unwrap());
}

#[test]
fn a_making_that_was_cut_short_is_begun_again() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("4200.loft"), "").unwrap();
    drop(open(&folder));
    let other = tempfile::tempdir().unwrap();
    // Switched to WAL, and no further.
    raw(&other)
        .pragma_update(None, "journal_mode", "wal")
        .unwrap();
    raw(&other)
        .execute_batch("BEGIN EXCLUSIVE; COMMIT")
        .unwrap();
    drop(open(&other));
}

#[test]
fn a_damaged_file_is_said_to_be_damaged() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    say(&mut store, Source::interaction(1), vec![adequate("LW-01")]);
    drop(store);
    let path = folder.path().join("4200.loft");
    let mut bytes = fs::read(&path).unwrap();
    for byte in &mut bytes[4_096..] {
        *byte = 0xa5;
    }
    fs::write(&path, bytes).unwrap();
    let fault = refused(&folder);
    assert!(matches!(fault, StoreError::Damaged { .. }), "{fault}");
}

#[test]
fn the_file_is_marked_as_ours() {
    let folder = tempfile::tempdir().unwrap();
    drop(open(&folder));
    let id: i32 = raw(&folder)
        .pragma_query_value(None, "application_id", |row| row.get(0))
        .unwrap();
    assert_eq!(id, APPLICATION_ID);
    assert_eq!(APPLICATION_ID.to_be_bytes(), *b"loft");
}

/// What can stand in a file's place, each made there by itself.
fn strange(path: &std::path::Path, kind: &str) {
    match kind {
        "a pipe" => {
            let made = std::process::Command::new("mkfifo").arg(path).status();
            assert!(made.unwrap().success());
        }
        "a folder" => fs::create_dir(path).unwrap(),
        "a socket" => drop(std::os::unix::net::UnixListener::bind(path).unwrap()),
        _ => symlink("/dev/null", path).unwrap(),
    }
}

/// One rule for whoever opens a home's file, to serve or to look: none of them waits for a pipe or follows a link.
#[test]
fn what_is_no_plain_file_is_named_and_not_opened_by_anybody() {
    for kind in ["a pipe", "a folder", "a socket", "a link"] {
        let folder = tempfile::tempdir().unwrap();
        strange(&folder.path().join("4200.loft"), kind);
        let safe = tempfile::tempdir().unwrap();
        let now = chrono::DateTime::UNIX_EPOCH;
        let faults = [
            Store::open(folder.path(), GUILD).unwrap_err().to_string(),
            Store::look_in(folder.path(), GUILD)
                .unwrap_err()
                .to_string(),
            store::has_records(folder.path(), GUILD)
                .unwrap_err()
                .to_string(),
            store::back_up(folder.path(), GUILD, safe.path(), now)
                .unwrap_err()
                .to_string(),
        ];
        for fault in faults {
            assert!(
                fault.contains(kind) && fault.contains("not opened"),
                "{fault}"
            );
        }
    }
    // Beside a good file, where SQLite would open it.
    let folder = tempfile::tempdir().unwrap();
    drop(open(&folder));
    strange(&folder.path().join("4200.loft-wal"), "a pipe");
    for fault in [
        refused(&folder),
        Store::look_in(folder.path(), GUILD).unwrap_err(),
        store::owner_of(&folder.path().join("4200.loft")).unwrap_err(),
    ] {
        assert!(fault.to_string().contains("-wal is a pipe"), "{fault}");
    }
}

/// The folder's account is the one that serves. Only the administrator can give a file away.
#[test]
fn a_file_of_another_account_than_its_folders_is_refused_by_whoever_looks() {
    if !rustix::process::geteuid().is_root() {
        not_tested("a file of another account, which only the administrator can make");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    drop(open(&folder));
    let file = folder.path().join("4200.loft");
    std::os::unix::fs::chown(&file, Some(65_534), None).unwrap();
    for fault in [
        refused(&folder),
        Store::look_in(folder.path(), GUILD).unwrap_err(),
    ] {
        let all = matches!(
            fault,
            StoreError::OtherOwner {
                owner: 65_534,
                us: 0,
                ..
            }
        );
        assert!(all, "{fault}");
    }
}

/// The administrator may write whatever its mode, so the file is given to somebody else where he asks.
#[test]
fn a_home_whose_account_may_not_write_it_is_refused_by_whoever_looks_and_still_backed_up() {
    let (folder, safe) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mut store = open(&folder);
    say(&mut store, Source::interaction(1), vec![added("LW-01")]);
    drop(store);
    let file = folder.path().join("4200.loft");
    if rustix::process::geteuid().is_root() {
        for path in [folder.path(), &file] {
            std::os::unix::fs::chown(path, Some(65_534), None).unwrap();
        }
    }
    assert!(Store::look_in(folder.path(), GUILD).is_ok());
    std::fs::set_permissions(&file, std::fs::Permissions::from_mode(0o400)).unwrap();
    let fault = Store::look_in(folder.path(), GUILD).unwrap_err();
    assert!(matches!(fault, StoreError::Folder { .. }), "{fault}");
    let said = fault.to_string();
    assert!(said.contains("4200.loft cannot be used"), "{said}");
    store::back_up(folder.path(), GUILD, safe.path(), at(0)).unwrap();
}

/// What is newest of a home stands in the log beside its file, and of a young one that is all of it.
#[test]
fn a_copy_of_a_young_home_without_its_log_may_be_one() {
    let folder = tempfile::tempdir().unwrap();
    let store = open(&folder);
    let copies = tempfile::tempdir().unwrap();
    let copy = copies.path().join("4200.loft");
    fs::copy(folder.path().join("4200.loft"), &copy).unwrap();
    drop(store);
    for fault in [
        store::owner_of(&copy).unwrap_err(),
        Store::look_in(copies.path(), GUILD).unwrap_err(),
    ] {
        let said = fault.to_string();
        assert!(
            said.contains("without the -wal file") && said.contains("or another program's"),
            "{said}"
        );
    }
}

#[test]
fn what_loftwatch_did_not_make_is_told_from_what_is_damaged() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("some");
    let another = rusqlite::Connection::open(folder.path().join("recipes")).unwrap();
    another
        .execute_batch("CREATE TABLE recipes (name TEXT)")
        .unwrap();
    drop(another);
    let recipes = fs::read(folder.path().join("recipes")).unwrap();
    for (content, why) in [
        (&b""[..], "it is empty"),
        (b"a letter", "it is no SQLite file"),
        (&recipes, "another program made it"),
    ] {
        fs::write(&path, content).unwrap();
        let fault = store::owner_of(&path).unwrap_err();
        assert!(matches!(fault, StoreError::Foreign { .. }), "{fault}");
        assert!(fault.to_string().contains(why), "{fault}");
    }
}

#[test]
fn a_file_of_ours_that_does_not_say_whose_it_is_is_damaged() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("4200.loft");
    drop(open(&folder));
    for broken in ["DELETE FROM about", "DROP TABLE about"] {
        let file = rusqlite::Connection::open(&path).unwrap();
        file.execute_batch(broken).unwrap();
        drop(file);
        let fault = store::owner_of(&path).unwrap_err();
        assert!(matches!(fault, StoreError::Damaged { .. }), "{fault}");
        let said = fault.to_string();
        assert!(said.contains("does not say whose it is"), "{said}");
    }
}
