//! Every file of one facility, found by its name and removed for good. Decides which names are ours, that everything is looked at
//! before it is listed and before the first file goes, that one file which is not ours stops it all, and in which order they go. Leaves asking whether
//! it is meant, and the words, to `bot`.
//!
//! The home's own file goes after all others: whatever stops it halfway, a whole home is left or a home that is gone, and the same
//! asked again removes the rest.

use std::fs;
use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;
use commands::ids::Guild;

use crate::StoreError;
use crate::backup::{NAME_TIME, UNFINISHED, named, sync};
use crate::open::{another_programs, file_in, owner, reader};
use crate::place::{Lock, at, home_file, lock, own_folder};

/// The files whose names begin with a facility's number.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FilesOf {
    /// Those with a name that loftwatch gives, in the order in which they go.
    pub ours: Vec<PathBuf>,
    /// Those that somebody else named. They stay.
    pub others: Vec<PathBuf>,
}

/// What was removed.
#[derive(Debug)]
pub struct Erased {
    /// These are gone: all that [`files_of`] found.
    pub gone: Vec<PathBuf>,
    /// What stopped it before all were.
    pub stopped: Option<StoreError>,
}

/// Every file of the facility in the data folder, and in the folder for backups where there is one. Nothing is changed.
///
/// # Errors
/// A folder that is not there, not ours or cannot be written; a file that is no plain file, or another account's;
/// [`StoreError::NotOurs`] where one is another facility's or another program's: whoever asks hears the same as whoever removes.
pub fn files_of(data: &Path, backups: Option<&Path>, guild: Guild) -> Result<FilesOf, StoreError> {
    for path in named_of(data, backups, guild)?.ours {
        if let Some(why) = not_this_facilitys(&path, guild) {
            return Err(StoreError::NotOurs { path, guild, why });
        }
    }
    // Reading one may leave an empty log beside it, which belongs to what there is.
    named_of(data, backups, guild)
}

/// The same by their names alone.
fn named_of(data: &Path, backups: Option<&Path>, guild: Guild) -> Result<FilesOf, StoreError> {
    let mut found = FilesOf::default();
    for folder in [Some(data), backups].into_iter().flatten() {
        own_folder(folder)?;
        for path in named(folder)? {
            let Some(rest) = path
                .file_name()
                .and_then(|name| after(name.to_str()?, guild))
            else {
                continue;
            };
            if is_given(rest) {
                home_file(&path)?;
                found.ours.push(path);
            } else {
                found.others.push(path);
            }
        }
    }
    let own = file_in(data, guild);
    let begins = |path: &PathBuf| {
        let own = own.as_os_str().as_encoded_bytes();
        path.as_os_str().as_encoded_bytes().starts_with(own)
    };
    let last = |path: &PathBuf| {
        (
            path.extension().is_some_and(|end| end == "lock"),
            begins(path),
        )
    };
    found.ours.sort_by_key(|path| (last(path), path.clone()));
    found.others.sort();
    Ok(found)
}

/// Removes them. No loftwatch may run on the data folder meanwhile, not even for another home: it makes backups of each.
///
/// # Errors
/// [`StoreError::Locked`] while one runs; what [`files_of`] refuses. Nothing was removed then.
pub fn erase(data: &Path, backups: Option<&Path>, guild: Guild) -> Result<Erased, StoreError> {
    let listed = files_of(data, backups, guild)?.ours;
    let _held = nobody_runs(data, guild)?;
    let mut erased = Erased {
        gone: Vec::new(),
        stopped: None,
    };
    // Looked for again: the lock is there now, and whoever ran until then may have made more. These go too, and are no files that
    // anybody had listed.
    let removed = named_of(data, backups, guild).and_then(|found| {
        for path in found.ours {
            fs::remove_file(&path).map_err(|why| at(&path, why))?;
            if listed.contains(&path) {
                erased.gone.push(path);
            }
        }
        backups.map_or(Ok(()), sync)?;
        sync(data)
    });
    erased.stopped = removed.err();
    Ok(erased)
}

/// What stands behind the facility's number, if the name begins with that and not with a longer one.
fn after(name: &str, guild: Guild) -> Option<&str> {
    let rest = name.strip_prefix(&guild.to_string())?;
    rest.starts_with(['.', '-']).then_some(rest)
}

/// Whether it is a file of the facility whose name somebody else gave it, so that it stays whatever is removed.
pub(crate) fn is_somebodys(path: &Path, guild: Guild) -> bool {
    let name = path.file_name().and_then(|name| name.to_str());
    let rest = name.and_then(|name| after(name, guild));
    rest.is_some_and(|rest| !is_given(rest))
}

/// Whether loftwatch gives a name that goes on like this behind the number.
fn is_given(rest: &str) -> bool {
    let sqlites = ["-wal", "-shm", "-journal"];
    let rest = sqlites
        .iter()
        .find_map(|end| rest.strip_suffix(end))
        .unwrap_or(rest);
    if matches!(rest, ".loft" | ".lock" | ".restoring.loft") {
        return true;
    }
    let unfinished = rest.strip_suffix(UNFINISHED);
    let rest = unfinished.map_or(rest, |rest| rest.trim_end_matches('.'));
    let moment = rest
        .strip_prefix(".before-")
        .or_else(|| rest.strip_prefix('-'))
        .and_then(|rest| rest.strip_suffix(".loft"));
    moment.is_some_and(|moment| NaiveDateTime::parse_from_str(moment, NAME_TIME).is_ok())
}

/// Why it is not a file of this facility, if it says so itself. One that is damaged says nothing, and is the facility's by its name.
fn not_this_facilitys(path: &Path, guild: Guild) -> Option<String> {
    if path.extension().is_none_or(|end| end != "loft") {
        return None;
    }
    let size = fs::metadata(path).ok()?.len();
    let conn = reader(path).ok()?;
    match (another_programs(&conn, size), owner(&conn)) {
        (_, Ok(other)) if other != guild => Some(format!("it belongs to facility {other}")),
        (Ok(Some(why)), _) if size > 0 => Some(why.to_owned()),
        _ => None,
    }
}

/// The locks of every facility in the folder: whoever holds them knows that no loftwatch runs there.
fn nobody_runs(data: &Path, guild: Guild) -> Result<Vec<Lock>, StoreError> {
    let mut held = Vec::new();
    for path in named(data)? {
        let number = path
            .file_stem()
            .and_then(|stem| stem.to_str()?.parse::<u64>().ok());
        let is_lock = path.extension().is_some_and(|end| end == "lock");
        if is_lock && number.is_some_and(|number| number != guild.0) {
            held.push(lock(path)?);
        }
    }
    held.push(lock(data.join(format!("{guild}.lock")))?);
    Ok(held)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_loftwatch_gives_are_told_from_others() {
        for ours in [
            "7.loft",
            "7.loft-wal",
            "7.loft-shm",
            "7.lock",
            "7.before-2026-03-09T101112Z.loft",
            "7.before-2026-03-09T101112Z.loft-wal",
            "7.restoring.loft-shm",
            "7-2026-03-09T101112Z.loft",
            "7-2026-03-09T101112Z.loft.part",
            "7-2026-03-09T101112Z.loft.part-journal",
        ] {
            assert!(after(ours, Guild(7)).is_some_and(is_given), "{ours}");
        }
        for others in ["7.loft.bak", "7-kept.loft", "7.txt", "7.before-then.loft"] {
            assert!(!after(others, Guild(7)).is_some_and(is_given), "{others}");
            assert!(after(others, Guild(7)).is_some(), "{others}");
        }
        for another_homes in ["77.loft", "77-2026-03-09T101112Z.loft", "17.loft"] {
            assert_eq!(after(another_homes, Guild(7)), None, "{another_homes}");
        }
    }
}
