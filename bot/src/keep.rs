//! `loftwatch verify`, `backup` and `restore`: what is done to files while nobody is in the chat, in sentences for whoever runs
//! the computer. Decides the words and the exit code; how files are read, copied and put back is `store`'s.

use std::collections::BTreeSet;
use std::path::Path;

use chrono::{DateTime, Utc};
use commands::ids::{Guild, RecordNo};
use store::{Past, Restored, Store, StoreError, Trouble, Verified};

use crate::config::Exit;
use crate::run::homes_in;

/// What remembers a home beside its data folder: the setting that names it, and the folder of its backups.
#[derive(Clone, Copy)]
pub struct Known<'a> {
    /// The guilds that are named.
    pub guilds: &'a BTreeSet<Guild>,
    /// The folder for backups, where there is one.
    pub backups: Option<&'a Path>,
}

/// The homes that are remembered, by a lock file, by what a restore set aside or by a backup, and whose files in `data` are gone or
/// empty; each with what is said of it. `run` serves none of them.
pub(crate) fn lost(data: &Path, known: Known<'_>) -> Vec<(Guild, StoreError)> {
    let named = known.guilds.iter().copied();
    // Where homes are named, the others in the backups' folder may be another computer's, which keeps its own there.
    let backups = known.backups.filter(|_| known.guilds.is_empty());
    let guilds: BTreeSet<Guild> = remembered(data, backups).chain(named).collect();
    let lost = guilds.into_iter().filter_map(|guild| {
        let fault = store::not_lost(data, guild, known.backups).err()?;
        Some((guild, fault))
    });
    lost.collect()
}

/// The homes whose names stand in the two folders: before the first dot of what lies beside a home's file, and in a backup's name.
/// Whether that says that one is lost is `store`'s.
fn remembered(data: &Path, backups: Option<&Path>) -> impl Iterator<Item = Guild> {
    // A folder that cannot be read is said beside the homes' files.
    let names = |folder: &Path| std::fs::read_dir(folder).into_iter().flatten().flatten();
    let beside = names(data).filter_map(|entry| {
        let name = entry.file_name();
        let (guild, _) = name.to_str()?.split_once('.')?;
        guild.parse().ok().map(Guild)
    });
    let copied = backups.map(names).into_iter().flatten();
    let copied = copied.filter_map(|entry| Some(store::made_at(&entry.path())?.0));
    beside.chain(copied)
}

/// The homes whose files are to be read: those that are lost have been told of.
pub(crate) fn left(mut homes: Vec<Guild>, lost: &[(Guild, StoreError)]) -> Vec<Guild> {
    homes.retain(|home| lost.iter().all(|(guild, _)| guild != home));
    homes
}

/// Reads every facility's file from end to end, changing nothing, also while the bot runs; says what was looked at, and the
/// hash of the newest record and of the one that is asked for.
pub fn verify(
    folder: &Path,
    known: Known<'_>,
    record: Option<RecordNo>,
    said: &mut Vec<String>,
) -> Exit {
    // A folder that is not there holds nothing that is not whole, and whoever asks most likely meant another one.
    let guilds = match homes_in(folder) {
        Ok(guilds) => guilds,
        Err(why) => {
            said.push(format!(
                "Nothing was verified: {}. Or name one file, as in loftwatch verify FILE.",
                unreadable(folder, why)
            ));
            return Exit::Files;
        }
    };
    let lost = lost(folder, known);
    let guilds = left(guilds, &lost);
    if guilds.is_empty() && lost.is_empty() {
        said.push(format!("Files: none in {} yet.", folder.display()));
    }
    let mut exit = Exit::Stopped;
    for (_, fault) in &lost {
        said.push(format!("{fault}."));
        exit = exit.worse(of_fault(fault));
    }
    for guild in guilds {
        let (sentence, found) = verify_home(folder, guild, record);
        said.push(sentence);
        exit = exit.worse(found);
    }
    exit
}

/// Why nothing is known of a data folder, and what to do.
pub(crate) fn unreadable(folder: &Path, why: std::io::Error) -> String {
    use std::io::ErrorKind as Kind;
    let path = folder.display();
    #[expect(
        clippy::wildcard_enum_match_arm,
        reason = "the list of the system's answers is not ours and grows"
    )]
    match why.kind() {
        Kind::PermissionDenied => format!(
            "this account may not read the data folder {path}. Do the same as the account that loftwatch runs as, or let this one read \
             that folder"
        ),
        Kind::NotADirectory => format!(
            "{path} is a file and no folder. Name the data folder with --data or LOFTWATCH_DATA"
        ),
        _ => format!(
            "the data folder {path} cannot be read ({why}). Name the right one with --data or LOFTWATCH_DATA"
        ),
    }
}

/// The same for one facility's file in its place; what was found, and the exit code of that.
pub(crate) fn verify_home(folder: &Path, guild: Guild, record: Option<RecordNo>) -> (String, Exit) {
    let looked = Store::look_in(folder, guild);
    one(&format!("{guild}.loft"), looked, record, Of::Home)
}

/// The same for one file of any name.
pub fn verify_file(file: &Path, record: Option<RecordNo>, said: &mut Vec<String>) -> Exit {
    if file.is_dir() {
        let file = file.display();
        said.push(format!(
            "{file} is a folder and no file, so nothing was verified. To read every facility's file in it: loftwatch verify \
             --data {file}. Otherwise name the file."
        ));
        return Exit::Files;
    }
    let looked = store::owner_of(file).and_then(|guild| Store::look(file, guild));
    let name = file.display().to_string();
    let (sentence, exit) = one(&name, looked, record, Of::Backup);
    said.push(sentence);
    exit
}

/// Copies every facility's file.
pub fn back_up(
    data: &Path,
    to: &Path,
    guilds: &BTreeSet<Guild>,
    now: DateTime<Utc>,
    said: &mut Vec<String>,
) -> Exit {
    let backups = Some(to);
    let known = Known { guilds, backups };
    let guilds = match homes_in(data) {
        Ok(guilds) => guilds,
        Err(why) => {
            let why = unreadable(data, why);
            said.push(format!("Nothing was backed up: {why}."));
            return Exit::Files;
        }
    };
    if is_file(to) {
        said.push(format!(
            "Nothing was backed up: {} is a file and no folder. Name a folder for the backups.",
            to.display()
        ));
        return Exit::Files;
    }
    let lost = lost(data, known);
    let guilds = left(guilds, &lost);
    if guilds.is_empty() && lost.is_empty() {
        said.push(format!(
            "Nothing to back up: there is no facility's file in {}. Name the data folder with --data.",
            data.display()
        ));
        return Exit::Files;
    }
    let mut exit = Exit::Stopped;
    for (guild, fault) in &lost {
        exit = exit.worse(of_fault(fault));
        said.push(format!("No backup of {guild}.loft was made: {fault}."));
    }
    for guild in guilds {
        match store::back_up(data, guild, to, now) {
            Ok(made) => said.push(format!(
                "{guild}.loft is backed up as {} ({} bytes), read back and whole: {}.",
                made.path.display(),
                made.bytes,
                counted(&made.verified)
            )),
            Err(trouble) => {
                exit = exit.worse(of(&trouble));
                let why = backing_up(&trouble);
                said.push(format!("No backup of {guild}.loft was made: {why}."));
            }
        }
    }
    exit
}

/// What a store says of a file that another program writes to is worded for a bot that was about to record something.
fn backing_up(trouble: &Trouble) -> String {
    if let Trouble::Store(busy @ StoreError::Busy) = trouble {
        return in_reading(busy, Of::Home);
    }
    trouble.to_string()
}

fn is_file(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|about| !about.is_dir())
}

/// Records that a sentence names; the rest is counted.
const RECORDS_NAMED: usize = 20;

/// Puts a backup in the place of its facility's file.
pub fn restore(file: &Path, data: &Path, now: DateTime<Utc>, said: &mut Vec<String>) -> Exit {
    if is_file(data) {
        let why = unreadable(data, std::io::ErrorKind::NotADirectory.into());
        said.push(format!("Nothing was restored: {why}."));
        return Exit::Files;
    }
    match store::restore(file, data, now) {
        Ok(restored) => put_back(&restored, said),
        Err(trouble) => {
            let exit = of(&trouble);
            let named =
                (exit == Exit::Damaged).then(|| format!("{} is not whole: ", file.display()));
            let named = named.unwrap_or_default();
            let why = damage_or(&trouble, Of::Backup);
            said.push(format!("Nothing was restored: {named}{why}."));
            exit
        }
    }
}

fn put_back(restored: &Restored, said: &mut Vec<String>) -> Exit {
    let (path, now) = (restored.path.display(), &restored.verified);
    said.push(match &restored.in_place {
        Ok(()) => format!(
            "{path} is restored, and whole where it stands now: {}.",
            counted(now)
        ),
        Err(trouble) => format!(
            "{path} is restored, and was whole before it was put in its place: {}. There it could not be read back: {}. \
             Before you start, see what `loftwatch verify` says of it.",
            counted(now),
            damage_or(trouble, Of::Backup)
        ),
    });
    if let Some(before) = &restored.before {
        said.push(match &before.past {
            Ok(past) => what_is_lost(past, now),
            Err(why) => format!(
                "What was there before cannot be read, so it cannot be said what is lost: {why}."
            ),
        });
        said.push(format!(
            "The file that was there is kept as {}. Remove it once you no longer need it.",
            before.kept.display()
        ));
    } else {
        // A folder that was mistyped, or that no setting named, is made and looks like a new computer.
        said.push(
            "No file of this home was there before. If there should have been one, look at --data or LOFTWATCH_DATA.".to_owned(),
        );
    }
    if let Some(Ok(past)) = restored.before.as_ref().map(|before| &before.past)
        && !past.unerased.is_empty()
    {
        said.push(erased_again(&past.unerased));
    }
    if restored.given_up > 0 {
        said.push(match restored.given_up {
            1 => "One message or answer that waited when the backup was made is given up, because it was sent since or is out of \
                  date. What is still open is called for anew."
                .to_owned(),
            some => format!(
                "{some} messages and answers that waited when the backup was made are given up, because they were sent since or \
                 are out of date. What is still open is called for anew."
            ),
        });
    }
    said.push(
        "At the next start the supervisors are told from when the backup is, and to enter again what is missing.".to_owned(),
    );
    restored
        .in_place
        .as_ref()
        .map_or_else(of, |()| Exit::Stopped)
}

/// What was erased since the backup was made, and is back with it.
fn erased_again(back: &[RecordNo]) -> String {
    let shown: Vec<String> = back
        .iter()
        .take(RECORDS_NAMED)
        .map(RecordNo::to_string)
        .collect();
    let more = back.len().saturating_sub(RECORDS_NAMED);
    let more = match more {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let records = if back.len() == 1 { "record" } else { "records" };
    format!(
        "CAREFUL: what was written beside {records} {}{more} was erased after this backup was made, and is back with it. Have a \
         supervisor erase it again: `/timeline`, the entry, the button that erases.",
        shown.join(", ")
    )
}

/// What is in the one and not in the other.
fn what_is_lost(past: &Past, now: &Verified) -> String {
    let entered = time(past.entered);
    if !past.same {
        return format!(
            "The file that was there and the backup went different ways: it ended with record {} of {entered}, and is no later \
             state of the backup. Compare them before you go on.",
            past.newest
        );
    }
    if past.newest.0 <= now.records {
        return format!(
            "Nothing is lost: the file that was there ended with record {}.",
            past.newest
        );
    }
    let (first, last) = (now.records + 1, past.newest.0);
    let lost = if first == last {
        format!("Lost is record {last}")
    } else {
        format!("Lost are records {first} to {last}")
    };
    format!(
        "{lost}: the backup ends at {}, the file that was there at {entered}.",
        time(now.newest)
    )
}

/// Whose file is read.
#[derive(Clone, Copy)]
enum Of {
    /// A home's own.
    Home,
    /// One that was named, such as a backup.
    Backup,
}

impl Of {
    /// What to do about damage, where `loftwatch verify` has just found it.
    fn instead(self) -> &'static str {
        match self {
            Of::Home => {
                "Stop loftwatch, keep a copy of the data folder and restore the newest backup that is whole"
            }
            Of::Backup => {
                "Take another backup, the newest that is whole; where this one is the only one, keep it and look at its disk"
            }
        }
    }
}

fn one(
    name: &str,
    looked: Result<Store, StoreError>,
    record: Option<RecordNo>,
    whose: Of,
) -> (String, Exit) {
    let store = match looked {
        Ok(store) => store,
        Err(fault) => {
            let exit = of_fault(&fault);
            let why = in_reading(&fault, whose);
            return (format!("{name} cannot be read: {why}."), exit);
        }
    };
    match store.verify() {
        Ok(whole) => {
            let mut sentence = format!("{name} is whole. Looked at: {}.", counted(&whole));
            sentence.push_str(&format!(" The newest record has the hash {}.", whole.tip));
            if let Some(no) = record {
                sentence.push_str(&hash_of(&store, no));
            }
            (sentence, Exit::Stopped)
        }
        Err(trouble) => {
            let exit = of(&trouble);
            let why = damage_or(&trouble, whose);
            (format!("{name} is not whole: {why}."), exit)
        }
    }
}

/// What [`in_reading`] says of a fault; damage of a home's own file says for itself what it is and what to do.
fn damage_or(trouble: &Trouble, whose: Of) -> String {
    match (trouble, whose) {
        (Trouble::Store(fault), _) => in_reading(fault, whose),
        (damage, Of::Home) => damage.to_string(),
        (damage, Of::Backup) => format!("{}. {}", damage.found(), whose.instead()),
    }
}

/// A fault in words for whoever asked for a file to be read. Some of them are worded for a bot that was about to record
/// something, or send to the very question that was asked.
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the others say the same whatever was being done"
)]
fn in_reading(fault: &StoreError, whose: Of) -> String {
    let instead = whose.instead();
    match fault {
        StoreError::Damaged { what } => format!("it is damaged: {what}. {instead}"),
        StoreError::Impossible(_) => format!("{}. {instead}", fault.found()),
        StoreError::Unreadable { .. } if matches!(whose, Of::Backup) => {
            format!("{}. {instead}", fault.found())
        }
        StoreError::Refused { why } => format!(
            "it could not be read ({why}). Check that the account may read it and write in its folder, and look at the disk"
        ),
        StoreError::Busy => {
            "another program is writing to it and did not finish in time. Close that program and ask again".to_owned()
        }
        StoreError::Sqlite(why) => format!("it could not be read ({why}). {instead}"),
        other => other.to_string(),
    }
}

fn hash_of(store: &Store, no: RecordNo) -> String {
    match store.hash_of(no) {
        Ok(Some(hash)) => format!(" Record {no} has the hash {hash}."),
        Ok(None) => format!(" There is no record {no} in it."),
        Err(fault) => format!(" Record {no} cannot be read: {fault}."),
    }
}

/// What was looked at, each with its number.
fn counted(whole: &Verified) -> String {
    format!(
        "SQLite's own check, {} in {} chain with {}, the newest of {}; {} against {} ({} more erased), {} against the state worked \
         out from the first record on, {} that {}",
        many(whole.records, "record", "records"),
        one_or(whole.records, "its", "their"),
        many(whole.causes, "event", "events"),
        time(whole.newest),
        many(whole.notes, "note", "notes"),
        one_or(whole.notes, "its hash", "their hashes"),
        whole.erased,
        many(whole.snapshots, "snapshot", "snapshots"),
        many(whole.waiting, "message or answer", "messages and answers"),
        one_or(whole.waiting, "waits", "wait"),
    )
}

/// So many of them.
fn many(count: u64, one: &str, more: &str) -> String {
    format!("{count} {}", one_or(count, one, more))
}

/// The word for one, or that for any other number.
fn one_or<'a>(count: u64, one: &'a str, more: &'a str) -> &'a str {
    if count == 1 { one } else { more }
}

fn time(at: Option<DateTime<Utc>>) -> String {
    at.map_or_else(
        || "no time".to_owned(),
        |at| at.format("%Y-%m-%d %H:%M:%S UTC").to_string(),
    )
}

/// The exit code of what was found.
fn of(trouble: &Trouble) -> Exit {
    match trouble {
        Trouble::Altered { .. }
        | Trouble::Missing { .. }
        | Trouble::Note { .. }
        | Trouble::Cause { .. }
        | Trouble::Snapshot { .. }
        | Trouble::Answer { .. }
        | Trouble::Waiting { .. }
        | Trouble::File(_) => Exit::Damaged,
        Trouble::Store(fault) => of_fault(fault),
    }
}

pub(crate) fn of_fault(fault: &StoreError) -> Exit {
    match fault {
        StoreError::Damaged { .. } | StoreError::Impossible(_) | StoreError::Unreadable { .. } => {
            Exit::Damaged
        }
        StoreError::Locked { .. } => Exit::Busy,
        StoreError::Refused { .. }
        | StoreError::Unknown { .. }
        | StoreError::Busy
        | StoreError::Newer { .. }
        | StoreError::NotOurs { .. }
        | StoreError::Replaced { .. }
        | StoreError::Missing { .. }
        | StoreError::OtherOwner { .. }
        | StoreError::Taken { .. }
        | StoreError::LeftBehind { .. }
        | StoreError::Foreign { .. }
        | StoreError::Kind { .. }
        | StoreError::NotTaken { .. }
        | StoreError::NotRead { .. }
        | StoreError::SameMoment { .. }
        | StoreError::AlreadyCaused { .. }
        | StoreError::Misuse(_)
        | StoreError::Network { .. }
        | StoreError::Modes { .. }
        | StoreError::BackupModes { .. }
        | StoreError::TooOpen { .. }
        | StoreError::SqliteTooOld { .. }
        | StoreError::Pragma { .. }
        | StoreError::Folder { .. }
        | StoreError::Snapshot(_)
        | StoreError::Random(_)
        | StoreError::Sqlite(_) => Exit::Files,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn damage_of_a_backup_is_said_with_what_to_do_about_a_backup() {
        for damage in [
            Trouble::Altered { no: RecordNo(3) },
            Trouble::File("page 7".into()),
            StoreError::Damaged {
                what: "page 7".into(),
            }
            .into(),
        ] {
            let of_backup = damage_or(&damage, Of::Backup);
            assert!(of_backup.contains("Take another backup"), "{of_backup}");
            assert!(!of_backup.contains("data folder"), "{of_backup}");
            let of_home = damage_or(&damage, Of::Home);
            assert!(
                of_home
                    .to_lowercase()
                    .contains("keep a copy of the data folder"),
                "{of_home}"
            );
        }
    }

    #[test]
    fn one_of_something_is_said_as_one() {
        let whole = |records, waiting| Verified {
            records,
            causes: records,
            notes: records,
            erased: 0,
            snapshots: records,
            waiting,
            newest: None,
            tip: String::new(),
        };
        let past = |newest| Past {
            newest: RecordNo(newest),
            entered: None,
            same: true,
            unerased: Vec::new(),
        };
        let said = |newest| what_is_lost(&past(newest), &whole(13, 0));
        assert!(said(14).starts_with("Lost is record 14: "), "{}", said(14));
        assert!(
            said(15).starts_with("Lost are records 14 to 15: "),
            "{}",
            said(15)
        );
        assert_eq!(
            counted(&whole(1, 1)),
            "SQLite's own check, 1 record in its chain with 1 event, the newest of no time; 1 note against its hash (0 more erased), \
             1 snapshot against the state worked out from the first record on, 1 message or answer that waits"
        );
        assert_eq!(
            counted(&whole(2, 0)),
            "SQLite's own check, 2 records in their chain with 2 events, the newest of no time; 2 notes against their hashes (0 more \
             erased), 2 snapshots against the state worked out from the first record on, 0 messages and answers that wait"
        );
        assert!(erased_again(&[RecordNo(3)]).contains("beside record 3 was"));
        let two = erased_again(&[RecordNo(3), RecordNo(5)]);
        assert!(two.contains("beside records 3, 5 was"), "{two}");
    }

    /// Whoever reads "nothing was restored" starts again; here the backup is in place already.
    #[test]
    fn a_file_that_is_in_place_and_cannot_be_read_back_is_not_said_to_be_as_it_was() {
        let verified = Verified {
            records: 7,
            causes: 5,
            notes: 0,
            erased: 0,
            snapshots: 0,
            waiting: 0,
            newest: None,
            tip: "ab12".into(),
        };
        let restored = Restored {
            guild: Guild(42),
            path: "/here/42.loft".into(),
            verified,
            in_place: Err(StoreError::Busy.into()),
            before: None,
            given_up: 0,
        };
        let mut said = Vec::new();
        assert_eq!(put_back(&restored, &mut said), Exit::Files);
        let said = said.join("\n");
        assert!(
            said.starts_with("/here/42.loft is restored, and was whole"),
            "{said}"
        );
        assert!(
            said.contains("There it could not be read back: another program"),
            "{said}"
        );
        assert!(said.contains("`loftwatch verify`"), "{said}");
    }

    #[test]
    fn whoever_restores_reads_into_which_folder_and_that_nothing_was_there() {
        let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let (guild, now) = (Guild(42), DateTime::UNIX_EPOCH);
        drop(Store::open(here.path(), guild).unwrap());
        let made = store::back_up(here.path(), guild, there.path(), now).unwrap();
        let data = there.path().join("data");
        let mut said = Vec::new();
        assert_eq!(restore(&made.path, &data, now, &mut said), Exit::Stopped);
        let path = std::fs::canonicalize(&data).unwrap().join("42.loft");
        let first = format!("{} is restored, and whole", path.display());
        assert!(said[0].starts_with(&first), "{said:?}");
        let said = said.join("\n");
        assert!(
            said.contains("No file of this home was there before"),
            "{said}"
        );
        let mut again = Vec::new();
        assert_eq!(restore(&made.path, &data, now, &mut again), Exit::Stopped);
        let again = again.join("\n");
        assert!(!again.contains("No file of this home"), "{again}");
    }

    /// Nobody names the home, and the disk with its files is not there.
    #[test]
    fn a_home_that_only_a_backup_or_what_was_set_aside_remembers_is_lost() {
        let (data, backups) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        std::fs::write(backups.path().join("7-2026-01-02T120000Z.loft"), "x").unwrap();
        std::fs::write(data.path().join("8.before-2026-01-02T120000Z.loft"), "x").unwrap();
        for other in ["9.probe.lock", "holiday.loft", "10.before-it.txt"] {
            std::fs::write(data.path().join(other), "").unwrap();
        }
        let known = Known {
            guilds: &BTreeSet::new(),
            backups: Some(backups.path()),
        };
        let found = lost(data.path(), known);
        let found: Vec<Guild> = found.into_iter().map(|(guild, _)| guild).collect();
        assert_eq!(found, [Guild(7), Guild(8)]);
        let beside_another = Known {
            guilds: &BTreeSet::from([Guild(6)]),
            ..known
        };
        let found = lost(data.path(), beside_another);
        let found: Vec<Guild> = found.into_iter().map(|(guild, _)| guild).collect();
        assert_eq!(found, [Guild(8)]);
        let mut said = Vec::new();
        assert_eq!(verify(data.path(), known, None, &mut said), Exit::Files);
        assert_eq!(said.len(), 2, "{said:?}");
    }
}
