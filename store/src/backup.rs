//! A copy of a facility's file while others write to it. Decides that a backup is one whole file that was read back and
//! verified before it has its name, that it is the owner's alone, and that nothing is ever overwritten; leaves when,
//! where to and how many to `bot`.
//!
//! `VACUUM INTO` reads the file as it stood at one moment, holds up no writer, and writes what is in the tables and nothing
//! else: notes that were erased are not in it, and no write-ahead log belongs to it. Free pages are left out, so that a
//! backup is no larger than the file.

use std::fs::{self, File};
use std::io::ErrorKind;
use std::os::unix::fs::MetadataExt;
use std::path::{Path, PathBuf};

use chrono::{DateTime, NaiveDateTime, Utc};
use commands::ids::Guild;
use rusqlite::ffi::{SQLITE_IOERR_READ, SQLITE_IOERR_SHORT_READ};

use crate::erase::is_somebodys;
use crate::open::{file_in, reader};
use crate::place::{FOLDER_MODE, at, home_file, kept_of_backups, new_file};
use crate::{Store, StoreError, Trouble, Verified};

/// How the moment stands in a backup's name: to the second, in UTC, so that names sort as times do.
pub(crate) const NAME_TIME: &str = "%Y-%m-%dT%H%M%SZ";
/// What a backup is called until it is whole.
pub(crate) const UNFINISHED: &str = "part";

/// A backup that was made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Backup {
    /// Where it is.
    pub path: PathBuf,
    /// What was found in it when it was read back.
    pub verified: Verified,
    /// How large it is.
    pub bytes: u64,
}

/// Copies the facility's file in `data` into `folder` under a name with the moment `now` in it, reads the copy from end to
/// end, and gives it its name only then. The bot may run meanwhile. The folder is made, owner-only, if it is not there.
///
/// # Errors
/// [`Trouble`]: the disk, [`StoreError::SameMoment`] where there is a backup of this second, or damage of the facility's own file,
/// of which the first part is named. No backup was made then, and those that were there are untouched.
pub fn back_up(
    data: &Path,
    guild: Guild,
    folder: &Path,
    now: DateTime<Utc>,
) -> Result<Backup, Trouble> {
    let source = fs::canonicalize(data).map_err(|why| at(data, why))?;
    let source = file_in(&source, guild);
    // What is wrong with it is said of it, and not of the copy.
    Store::read_in(data, guild)?;
    let folder = folder_for(folder)?;
    let path = folder.join(format!("{guild}-{}.loft", now.format(NAME_TIME)));
    if path.exists() {
        return Err(StoreError::SameMoment { path }.into());
    }
    let part = path.with_extension(format!("loft.{UNFINISHED}"));
    match new_file(&part) {
        Ok(file) => drop(file),
        Err(StoreError::Folder { why, .. }) if why.kind() == ErrorKind::AlreadyExists => {
            return Err(taken(&path).into());
        }
        Err(StoreError::Folder { why, .. }) => return Err(at(&folder, why).into()),
        Err(fault) => return Err(fault.into()),
    }
    let made = copy(&source, &part)
        .map_err(|why| why.copying_to(&folder))
        .and_then(|()| checked(&part, guild).map_err(|why| whose(why, &source, guild, &folder)));
    match made.and_then(|made| name(&part, &path).map(|()| made)) {
        Ok((verified, bytes)) => Ok(Backup {
            path,
            verified,
            bytes,
        }),
        Err(why) => {
            // What is left of it is of no use; where even that fails, the next one removes it.
            let _ = fs::remove_file(&part);
            Err(why)
        }
    }
}

/// Whether the facility's file in `data` holds an entry: one is made before the home has said a word, and while it is being made
/// it has no tables yet.
///
/// # Errors
/// The file cannot be read.
pub fn has_records(data: &Path, guild: Guild) -> Result<bool, StoreError> {
    let path = file_in(data, guild);
    home_file(&path)?;
    let conn = reader(&path)?;
    Ok(conn.table_exists(None, "records")?
        && conn.query_row("SELECT EXISTS (SELECT 1 FROM records)", [], |row| {
            row.get(0)
        })?)
}

/// The facility's backups in `folder`, oldest first, as far as their names are ours.
///
/// # Errors
/// The folder cannot be read. One that is not there has none.
pub fn backups(folder: &Path, guild: Guild) -> Result<Vec<PathBuf>, StoreError> {
    let mut found: Vec<_> = named(folder)?
        .into_iter()
        .filter(|path| made_at(path).is_some_and(|(of, _)| of == guild))
        .collect();
    found.sort_unstable();
    Ok(found)
}

/// When the newest of the facility's backups in `folder` was made, of those that are not dated ahead of `now`: the clock was wrong
/// when those were made or is wrong now, and they say nothing of how old the newest real one is.
///
/// # Errors
/// As [`backups`].
pub fn newest_backup(
    folder: &Path,
    guild: Guild,
    now: DateTime<Utc>,
) -> Result<Option<DateTime<Utc>>, StoreError> {
    let found = backups(folder, guild)?;
    Ok(found
        .iter()
        .rev()
        .filter_map(|path| made_at(path))
        .map(|(_, at)| at)
        .find(|at| *at <= now))
}

/// That the facility's file in `data` is there, or never was as far as its lock file, what a restore set aside and the backups in
/// `folder` remember: an empty one is begun for a facility that is new, and not for one whose disk is not there.
///
/// # Errors
/// [`StoreError::Missing`], or what cannot be read.
pub fn not_lost(data: &Path, guild: Guild, folder: Option<&Path>) -> Result<(), StoreError> {
    let path = file_in(data, guild);
    if !is_nothing(&path)? {
        return Ok(());
    }
    let locked = fs::metadata(path.with_extension("lock")).is_ok_and(|about| about.len() > 0);
    let kept = folder.map_or(Ok(false), |folder| {
        backups(folder, guild).map(|found| !found.is_empty())
    })?;
    let beside = format!("{guild}.");
    let mut aside = named(data)?;
    aside.retain(|other| {
        let name = other.file_name().and_then(|name| name.to_str());
        other.extension().is_some_and(|end| end == "loft")
            && *other != path
            && name.is_some_and(|name| name.starts_with(&beside))
    });
    if locked || kept || !aside.is_empty() {
        aside.retain(|other| is_somebodys(other, guild));
        aside.sort_unstable();
        let others = aside;
        return Err(StoreError::Missing { path, others });
    }
    Ok(())
}

/// Whether there is no file, or an empty one.
fn is_nothing(path: &Path) -> Result<bool, StoreError> {
    match fs::symlink_metadata(path) {
        Ok(about) => Ok(about.is_file() && about.len() == 0),
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => Ok(true),
        Err(why) => Err(at(path, why)),
    }
}

/// Whose backup it is and when it was made, by its name; nothing for a file of any other name.
pub fn made_at(path: &Path) -> Option<(Guild, DateTime<Utc>)> {
    let name = path.file_name()?.to_str()?.strip_suffix(".loft")?;
    let (guild, moment) = name.split_once('-')?;
    let moment = NaiveDateTime::parse_from_str(moment, NAME_TIME).ok()?;
    Some((Guild(guild.parse().ok()?), moment.and_utc()))
}

/// Removes the facility's oldest backups in `folder` until `keep` are left (one at least), and what a backup that was cut
/// short on an earlier day left behind. One that is dated ahead of `now` stays and counts only once its time has come: it would
/// take the place of a real one all that while. Files of any other name are not touched.
///
/// # Errors
/// What could not be read or removed.
pub fn prune(
    folder: &Path,
    guild: Guild,
    keep: usize,
    now: DateTime<Utc>,
) -> Result<usize, StoreError> {
    let mut found = backups(folder, guild)?;
    found.retain(|path| made_at(path).is_some_and(|(_, at)| at <= now));
    found.truncate(found.len().saturating_sub(keep.max(1)));
    for path in named(folder)? {
        let begun = (path.extension().is_some_and(|end| end == UNFINISHED))
            .then(|| made_at(&path.with_extension("")))
            .flatten();
        if begun.is_some_and(|(of, at)| of == guild && (now - at).num_days() >= 1) {
            found.push(path);
        }
    }
    for path in &found {
        fs::remove_file(path).map_err(|why| at(path, why))?;
    }
    Ok(found.len())
}

pub(crate) fn named(folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(why) => return Err(at(folder, why)),
    };
    entries
        .map(|entry| Ok(entry.map_err(|why| at(folder, why))?.path()))
        .collect()
}

/// The folder, made if need be; where a file stands, the system would only say that it is there. One that is there is left as it is: it may be a disk for backups whose modes are its own.
/// What is above it is not made: where a disk is missing, the folders on it would come to be on another.
fn folder_for(folder: &Path) -> Result<PathBuf, StoreError> {
    use std::os::unix::fs::DirBuilderExt;
    match fs::DirBuilder::new().mode(FOLDER_MODE).create(folder) {
        Err(why) if why.kind() == ErrorKind::AlreadyExists => {
            if !folder.is_dir() {
                return Err(at(folder, ErrorKind::NotADirectory.into()));
            }
        }
        made => made.map_err(|why| at(folder, why))?,
    }
    fs::canonicalize(folder).map_err(|why| at(folder, why))
}

fn copy(source: &Path, part: &Path) -> Result<(), Trouble> {
    // Some disks give every file the mode that they were mounted with.
    let about = fs::metadata(part).map_err(|why| at(part, why))?;
    kept_of_backups(part.parent().unwrap_or(part), about.mode())?;
    let into = part.to_str().ok_or_else(|| {
        StoreError::Misuse(format!(
            "a backup named {}, which is no text",
            part.display()
        ))
    })?;
    let read = reader(source)?;
    let copied = read.execute("VACUUM INTO ?1", [into]);
    copied.map_err(
        |fault| match fault.sqlite_error().map(|of| of.extended_code) {
            // Only the facility's file is read here.
            Some(SQLITE_IOERR_READ | SQLITE_IOERR_SHORT_READ) => {
                StoreError::from(fault).reading(source)
            }
            _ => fault.into(),
        },
    )?;
    Ok(())
}

/// What is wrong with a copy, said of the side that is to blame: either the file that was copied has it as well, or it came about on
/// the way.
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the others are found in a file, and so in one of the two"
)]
fn whose(of_copy: Trouble, source: &Path, guild: Guild, folder: &Path) -> Trouble {
    let why = match of_copy {
        Trouble::Store(StoreError::Folder { why, .. }) => why.to_string(),
        Trouble::Store(
            StoreError::Refused { why }
            | StoreError::Unknown { why }
            | StoreError::NotRead { why, .. },
        ) => why,
        damage => {
            let own = Store::look(source, guild).map_err(Trouble::from);
            if let Err(of_source) = own.and_then(|own| own.verify()) {
                return of_source;
            }
            format!(
                "the copy, read back, is not what was written: {}",
                damage.found()
            )
        }
    };
    let path = folder.to_owned();
    StoreError::NotTaken { path, why }.into()
}

fn checked(part: &Path, guild: Guild) -> Result<(Verified, u64), Trouble> {
    let verified = Store::look(part, guild)?.verify()?;
    let file = File::open(part).map_err(|why| at(part, why))?;
    // VACUUM INTO leaves that to the system.
    file.sync_all().map_err(|why| at(part, why))?;
    let bytes = file.metadata().map_err(|why| at(part, why))?.size();
    Ok((verified, bytes))
}

/// Gives the file its name, unless something has that name already, and makes that last.
fn name(part: &Path, path: &Path) -> Result<(), Trouble> {
    // Linking refuses a name that is taken, in one step; where there are no links, looking first has to do.
    match fs::hard_link(part, path) {
        Ok(()) => fs::remove_file(part).map_err(|why| at(path, why))?,
        Err(why) if why.kind() == std::io::ErrorKind::AlreadyExists => {
            return Err(taken(path).into());
        }
        Err(_no_links) if !path.exists() => {
            fs::rename(part, path).map_err(|why| at(path, why))?;
        }
        Err(_no_links) => return Err(taken(path).into()),
    }
    if let Some(folder) = path.parent() {
        sync(folder)?;
    }
    Ok(())
}

fn taken(path: &Path) -> StoreError {
    StoreError::SameMoment {
        path: path.to_owned(),
    }
}

/// A name lasts once its folder is on disk.
pub(crate) fn sync(folder: &Path) -> Result<(), StoreError> {
    File::open(folder)
        .and_then(|folder| folder.sync_all())
        .map_err(|why| at(folder, why))
}
