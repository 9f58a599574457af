//! What can go wrong with a facility's file. Decides the kinds and their sentences, each for whoever
//! runs the computer and with what to do about it; leaves what the people in the chat are told to `bot`.

use std::path::{Path, PathBuf};

use commands::ids::{Guild, RecordNo};
use commands::record::Unreadable;
use commands::state::Impossible;
use rusqlite::ErrorCode;

use crate::place::takes_files;

/// What went wrong.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The disk would not take it. Nothing was written, and memory and disk still agree.
    #[error(
        "nothing was recorded, because the disk would not take it ({why}). Free some space, or make the data folder writable again; loftwatch goes on by itself"
    )]
    Refused {
        /// What SQLite said.
        why: String,
    },
    /// The last step of a transaction failed: it may be on disk or not. Drop the store, open it again
    /// and ask [`crate::Store::seen`].
    #[error(
        "the disk failed while an entry was being written ({why}), so it is not known whether it was kept. loftwatch must open the file again and look; if this repeats, check the disk"
    )]
    Unknown {
        /// What SQLite said.
        why: String,
    },
    /// Another program is writing to the file at this moment, and did not finish in time. Nothing was written.
    #[error(
        "another program is writing to the facility's file and did not finish in time. Nothing was recorded. Close the program that has the file open for writing"
    )]
    Busy,
    /// The file was written by a newer loftwatch.
    #[error(
        "{path} was written by a newer loftwatch (format {found}; this program knows {known}). Start the newer program again, or restore the backup from before the upgrade"
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// The format of the file.
        found: i64,
        /// The newest format that this program knows.
        known: i64,
    },
    /// It is no file of ours, or another facility's.
    #[error(
        "{path} is not the file of facility {guild}: {why}. Move it out of the data folder, or name another folder; it was not changed"
    )]
    NotOurs {
        /// The file.
        path: PathBuf,
        /// The facility that was asked for.
        guild: Guild,
        /// What it is instead.
        why: String,
    },
    /// It is not a file that loftwatch made.
    #[error(
        "{path} is no file of loftwatch: {why}. It was not changed. Name a facility's file or a backup of one, which end with .loft"
    )]
    Foreign {
        /// The file.
        path: PathBuf,
        /// What it is instead.
        why: &'static str,
    },
    /// It is no file at all.
    #[error(
        "{path} is {kind} and no plain file, so it was not opened. Name the file itself; where it stands in the place of a facility's file, move it away and restore the newest backup"
    )]
    Kind {
        /// What is there.
        path: PathBuf,
        /// Of what kind it is.
        kind: &'static str,
    },
    /// The folder that something was to be copied to did not take it.
    #[error(
        "{path} did not take it ({why}). Free some space on its disk, or make it writable again, and do the same once more"
    )]
    NotTaken {
        /// The folder.
        path: PathBuf,
        /// What the system or SQLite said.
        why: String,
    },
    /// A file could not be read, whatever was to be done with it.
    #[error("{path} could not be read ({why}). {}", where_to_read(path))]
    NotRead {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        why: String,
    },
    /// Two backups of one facility within one second.
    #[error(
        "{path} is there already, because another backup was made or is being made in this very second. It was not touched. Do the same once more in a moment"
    )]
    SameMoment {
        /// What is there.
        path: PathBuf,
    },
    /// A second program wants the same facility.
    #[error(
        "another loftwatch is already running on this facility ({path} is locked). Stop that one first; never run two on one data folder"
    )]
    Locked {
        /// The lock file.
        path: PathBuf,
    },
    /// The file is not the one that was opened, or that its write-ahead log belongs to.
    #[error(
        "{path} was taken away or cut short, or another file was put in its place, so nothing more is recorded. Stop loftwatch. To go back to a backup use `loftwatch restore`; to go on with the old file, put it back with its -wal file. Where file, -wal and .lock were copied here together, remove the .lock file and start"
    )]
    Replaced {
        /// The file.
        path: PathBuf,
    },
    /// A facility's file that is remembered is not there, or empty.
    #[error(
        "{path} is gone or empty, and it held a facility before. Nothing was begun in its place. Where its disk is not there, bring that back; to go back to a backup use `loftwatch restore`. Only to begin with an empty facility: `loftwatch erase`, which removes what is left of the old one, its backups too{}",
        by_hand(others)
    )]
    Missing {
        /// The file.
        path: PathBuf,
        /// What is left of it under names of somebody's own, which `loftwatch erase` leaves where it is.
        others: Vec<PathBuf>,
    },
    /// The folder or a file belongs to another account.
    #[error(
        "{path} belongs to the account with the number {owner}, and loftwatch serves here as {us}. Start it as the account that owns it, or hand over what is there: chown -R {us} {path}"
    )]
    OtherOwner {
        /// The folder or file.
        path: PathBuf,
        /// Whose it is.
        owner: u32,
        /// Who we are; of a file, whose its folder is.
        us: u32,
    },
    /// What is there would be put in its own place.
    #[error("{path} is there already and was not touched. Name another file or folder")]
    Taken {
        /// What is there.
        path: PathBuf,
    },
    /// What an earlier restore left is to be restored from, whose name the next one needs.
    #[error(
        "{path} is what an earlier restore left when it was cut short, and the next one begins by removing what has this name. It was not touched. Move it into another folder, with the file of the same name and -wal behind it where there is one, and restore from there"
    )]
    LeftBehind {
        /// What is there.
        path: PathBuf,
    },
    /// The file's content is broken.
    #[error(
        "the file of this facility is damaged: {what}. Stop loftwatch, keep a copy of the data folder, run `loftwatch verify`, and restore the newest good backup"
    )]
    Damaged {
        /// What does not fit.
        what: String,
    },
    /// A record that cannot follow on the ones before it. Why may name what people entered, and this goes into logs: whoever
    /// asked for a file to be read is told by [`StoreError::found`].
    #[error(
        "the log does not hold together: record {} cannot follow on those before it. Keep a copy of the data folder and restore the newest good backup",
        .0.no
    )]
    Impossible(#[from] Impossible),
    /// A record whose bytes this program cannot read.
    #[error(
        "record {no} cannot be read: {why}. Start the newest loftwatch, or restore the newest good backup"
    )]
    Unreadable {
        /// The record.
        no: RecordNo,
        /// Why.
        why: Unreadable,
    },
    /// This event was recorded before. Nothing of the group was written; ask [`crate::Store::seen`] first.
    #[error(
        "{source_key} is already recorded, so nothing of this group was written. This is a mistake in loftwatch; please report it"
    )]
    AlreadyCaused {
        /// The event.
        source_key: String,
    },
    /// The caller broke a rule of this crate. Nothing was written.
    #[error(
        "loftwatch asked its memory for something impossible: {0}. Nothing was written; please report it"
    )]
    Misuse(String),
    /// The data folder is on a network file system.
    #[error(
        "{path} is on a network file system ({kind}), where a power cut or a second computer can destroy the log. Name a data folder on a disk of this computer"
    )]
    Network {
        /// The folder.
        path: PathBuf,
        /// Which one.
        kind: &'static str,
    },
    /// The disk of the data folder gives a file another mode than it is made with.
    #[error(
        "{path} is on a disk that gives every new file the mode {mode:o}, whatever is asked for, as a network file system or one of another system does: other accounts of this computer could open the log, or this one not write it. Name a data folder on a disk of this computer that keeps modes"
    )]
    Modes {
        /// The folder.
        path: PathBuf,
        /// The mode of a file that was made for its owner alone.
        mode: u32,
    },
    /// The same of the disk for backups, which may be another one and is mounted for that.
    #[error(
        "{path} is on a disk that gives every new file the mode {mode:o}, whatever is asked for, so that other accounts of this computer could open the backups, and chmod does not help. Mount it with file_mode=0600,dir_mode=0700 (a network disk by SMB) or umask=077 (vfat) and with the account that loftwatch runs as for its owner, or name another folder for the backups"
    )]
    BackupModes {
        /// The folder.
        path: PathBuf,
        /// The mode of a file that was made for its owner alone.
        mode: u32,
    },
    /// Other accounts of the computer can read the folder.
    #[error(
        "other accounts of this computer can open {path} (mode {mode:o}). Make it private: chmod 700 {path}"
    )]
    TooOpen {
        /// The folder.
        path: PathBuf,
        /// Its mode.
        mode: u32,
    },
    /// The SQLite in this program is too old.
    #[error(
        "this program was built with SQLite {found}, which can damage its files; {oldest} or newer is needed. Use the released program, or build with the bundled SQLite"
    )]
    SqliteTooOld {
        /// Its version.
        found: &'static str,
        /// The oldest that will do.
        oldest: &'static str,
    },
    /// SQLite did not take a safety setting.
    #[error(
        "SQLite did not accept the setting {pragma} = {wanted} (it says {found}) for this file. Name a data folder on an ordinary disk of this computer"
    )]
    Pragma {
        /// The setting.
        pragma: &'static str,
        /// What was asked for.
        wanted: String,
        /// What it is.
        found: String,
    },
    /// A file or folder could not be used.
    #[error("{path} cannot be used: {}. {}", in_words(why), what_to_do(why))]
    Folder {
        /// Which.
        path: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
    /// The state could not be written as a snapshot. Nothing is lost: the log is whole, start-up is slower.
    #[error(
        "no snapshot could be made ({0}). The log itself is whole; only the next start is slower"
    )]
    Snapshot(String),
    /// The computer has no source of random bytes.
    #[error(
        "this computer gives no random bytes ({0}), so a note cannot be kept. Nothing was written"
    )]
    Random(getrandom::Error),
    /// Anything else that SQLite says.
    #[error(
        "the facility's file could not be used: {0}. Nothing was written; if this repeats, run `loftwatch verify`"
    )]
    Sqlite(rusqlite::Error),
}

#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the list of SQLite's codes is not ours and grows"
)]
impl From<rusqlite::Error> for StoreError {
    fn from(fault: rusqlite::Error) -> Self {
        let Some(code) = fault.sqlite_error_code() else {
            return match fault {
                // A value of the wrong type where our own triggers and STRICT tables allow none.
                rusqlite::Error::FromSqlConversionFailure(..)
                | rusqlite::Error::IntegralValueOutOfRange(..)
                | rusqlite::Error::Utf8Error(..)
                | rusqlite::Error::InvalidColumnType(..) => Self::Damaged {
                    what: fault.to_string(),
                },
                other => Self::Sqlite(other),
            };
        };
        match code {
            ErrorCode::DiskFull
            | ErrorCode::ReadOnly
            | ErrorCode::SystemIoFailure
            | ErrorCode::CannotOpen => Self::Refused {
                why: fault.to_string(),
            },
            ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Self::Busy,
            ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase => Self::Damaged {
                what: fault.to_string(),
            },
            _ => Self::Sqlite(fault),
        }
    }
}

/// What the system said. Where it was not asked, because somebody here knew already, it is said in words of our own, and not in those of
/// the language's library.
fn in_words(why: &std::io::Error) -> String {
    use std::io::ErrorKind as Kind;
    if why.raw_os_error().is_some() {
        return why.to_string();
    }
    #[expect(
        clippy::wildcard_enum_match_arm,
        reason = "the list of the system's answers is not ours and grows"
    )]
    match why.kind() {
        Kind::NotFound => "it is not there".to_owned(),
        Kind::NotADirectory => "it is no folder".to_owned(),
        _ => why.to_string(),
    }
}

/// What helps where the system gave this answer.
fn what_to_do(why: &std::io::Error) -> &'static str {
    use std::io::ErrorKind as Kind;
    #[expect(
        clippy::wildcard_enum_match_arm,
        reason = "the list of the system's answers is not ours and grows"
    )]
    match why.kind() {
        Kind::NotFound => "Check the name, and that the disk it is on is mounted",
        Kind::PermissionDenied => {
            "Start loftwatch as the account that it belongs to, or give that account the right to it"
        }
        Kind::NotADirectory => "Name a folder, and check each part of the name",
        Kind::AlreadyExists => {
            "Something of that name is there already: name another, or do the same once more in a moment"
        }
        Kind::StorageFull | Kind::QuotaExceeded | Kind::FileTooLarge => {
            "Free some space on that disk and do the same once more"
        }
        Kind::ReadOnlyFilesystem => "Mount that disk so that it can be written",
        _ => "Check that it exists and belongs to the account that loftwatch runs as",
    }
}

/// What somebody has to remove who wants to begin anew, because no question to the program does.
fn by_hand(others: &[PathBuf]) -> String {
    let names: Vec<String> = others
        .iter()
        .map(|path| path.display().to_string())
        .collect();
    if names.is_empty() {
        return String::new();
    }
    format!(
        "; it leaves what has a name of somebody's own, so move away or remove yourself {}",
        names.join(" and ")
    )
}

/// What helps where a file could not be read.
fn where_to_read(path: &Path) -> String {
    let folder = path.parent().filter(|above| !above.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new("."));
    if takes_files(folder).is_ok() {
        return "Check that this account may read it, and look at its disk".to_owned();
    }
    // The file may be in order: SQLite keeps its index of the write-ahead log beside it also for whoever only reads.
    format!(
        "This account cannot write in {}, and beside the file of a home SQLite writes also when it is only read. Copy the .loft file,          and the file of the same name with -wal behind it where there is one, into a folder that can be written, and do the same there",
        folder.display()
    )
}

impl StoreError {
    /// What is wrong with what stands in the file, without what to do about it; other faults with it.
    #[expect(
        clippy::wildcard_enum_match_arm,
        reason = "the others are no damage, and say the same of every file"
    )]
    pub fn found(&self) -> String {
        match self {
            Self::Damaged { what } => what.clone(),
            Self::Impossible(why) => format!("the log does not hold together: {why}"),
            Self::Unreadable { no, why } => format!("record {no} cannot be read: {why}"),
            other => other.to_string(),
        }
    }

    /// As it is for whoever only reads the file at `path`: nothing was to be recorded.
    pub(crate) fn reading(self, path: &Path) -> Self {
        if let Self::Refused { why } | Self::Unknown { why } = self {
            let path = path.to_owned();
            return Self::NotRead { path, why };
        }
        self
    }

    /// As it is for work that copies into `folder`: nothing was to be recorded, and it is that folder's disk which took no more.
    pub(crate) fn copying_to(self, folder: &Path) -> Self {
        if let Self::Refused { why } | Self::Unknown { why } = self {
            let path = folder.to_owned();
            return Self::NotTaken { path, why };
        }
        self
    }

    /// Whether the same may do later without anybody touching the file: there is room again, or another program is done with it.
    #[expect(
        clippy::wildcard_enum_match_arm,
        reason = "the others last until somebody does something"
    )]
    pub fn may_pass(&self) -> bool {
        use std::io::ErrorKind as Kind;
        match self {
            Self::Refused { .. } | Self::Busy => true,
            Self::Folder { why, .. } => matches!(
                why.kind(),
                Kind::StorageFull | Kind::ReadOnlyFilesystem | Kind::QuotaExceeded
            ),
            _ => false,
        }
    }

    /// Whether the caller must drop the store and open the file again before anything else.
    pub fn needs_reopening(&self) -> bool {
        matches!(self, Self::Unknown { .. } | Self::Replaced { .. })
    }
}

#[cfg(test)]
mod tests {
    use std::io::{Error, ErrorKind};

    use super::{StoreError, what_to_do};

    #[test]
    fn what_is_known_without_the_system_is_said_in_our_own_words() {
        let said = |why: Error| {
            let path = "/mnt/safe".into();
            StoreError::Folder { path, why }.to_string()
        };
        let gone = said(ErrorKind::NotFound.into());
        assert!(
            gone.starts_with("/mnt/safe cannot be used: it is not there. Check the name"),
            "{gone}"
        );
        let file = said(ErrorKind::NotADirectory.into());
        assert!(file.contains("it is no folder. Name a folder"), "{file}");
        // What the system itself says has its number, by which it can be looked up.
        let theirs = said(Error::from_raw_os_error(2));
        assert!(theirs.contains("(os error 2)"), "{theirs}");
    }

    #[test]
    fn each_answer_of_the_system_has_its_own_advice() {
        for (kind, advice) in [
            (ErrorKind::NotFound, "mounted"),
            (ErrorKind::PermissionDenied, "the right to it"),
            (ErrorKind::NotADirectory, "Name a folder"),
            (ErrorKind::StorageFull, "Free some space"),
            (ErrorKind::QuotaExceeded, "Free some space"),
            (ErrorKind::FileTooLarge, "Free some space"),
            (ErrorKind::ReadOnlyFilesystem, "can be written"),
            (ErrorKind::AlreadyExists, "there already"),
            (ErrorKind::Other, "Check that it exists"),
        ] {
            let said = what_to_do(&Error::from(kind));
            assert!(said.contains(advice), "{kind:?}: {said}");
        }
    }
}
