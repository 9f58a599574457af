//! `loftwatch erase`: a home that leaves. Decides what is asked before anything is removed and in which words it is told what is gone
//! and what no program can reach; which files those are, and how they go, is `store`'s.

use std::path::{Path, PathBuf};

use commands::ids::Guild;
use store::{Erased, FilesOf, StoreError};

use crate::config::Exit;
use crate::keep::of_fault;

/// What stays wherever this program cannot look.
const OUT_OF_REACH: &str = "Out of reach of this: what stands in the chat itself, which only its people can delete; copies elsewhere, such \
     as other folders of backups, other disks and computers, and whatever another program keeps of these folders; and the blocks of the \
     disk, which hold what was in the files until the system writes over them.";

/// Lists the facility's files; removes them where its number was typed twice.
pub fn erase(
    guild: Guild,
    sure: Option<Guild>,
    data: &Path,
    backups: Option<&Path>,
    said: &mut Vec<String>,
) -> Exit {
    if sure.is_some_and(|sure| sure != guild) {
        said.push(format!(
            "Nothing was removed: the number behind --sure is not {guild}. Type the same number in both places."
        ));
        return Exit::Settings;
    }
    let found = match store::files_of(data, backups, guild) {
        Ok(found) => found,
        Err(fault) => return refused(&fault, said),
    };
    if backups.is_none() {
        said.push(
            "No folder for backups is named, so none was looked into. Where there is one, name it with --backup-folder or \
             LOFTWATCH_BACKUPS."
                .to_owned(),
        );
    }
    if found.ours.is_empty() {
        said.push(format!(
            "Nothing was removed: there is no file of facility {guild} in {}. Look at the number, and at the folders that are named.",
            folders(data, backups)
        ));
        stay(&found, guild, said);
        return Exit::Files;
    }
    if sure.is_none() {
        let these = match found.ours.len() {
            1 => "This file is what there is".to_owned(),
            some => format!("These {some} files are what there is"),
        };
        said.push(format!(
            "{these} of facility {guild} in {}:",
            folders(data, backups)
        ));
        said.extend(found.ours.iter().map(listed));
        stay(&found, guild, said);
        said.push(format!(
            "Nothing was removed. To remove all of it for good, backups too, stop loftwatch and say: loftwatch erase {guild} \
             --sure {guild}"
        ));
        return Exit::Stopped;
    }
    match store::erase(data, backups, guild) {
        Ok(erased) => told(&erased, &found, guild, said),
        Err(fault) => refused(&fault, said),
    }
}

fn told(erased: &Erased, found: &FilesOf, guild: Guild, said: &mut Vec<String>) -> Exit {
    said.push(match erased.gone.len() {
        1 => format!("1 file of facility {guild} is gone for good:"),
        some => format!("{some} files of facility {guild} are gone for good:"),
    });
    let gone = erased.gone.iter();
    said.extend(gone.map(|path| format!("  {}", path.display())));
    stay(found, guild, said);
    if let Some(fault) = &erased.stopped {
        said.push(format!(
            "WRONG: then it was stopped: {fault}. Mend that and say the same again, which removes the rest."
        ));
        return of_fault(fault);
    }
    said.push(format!(
        "Take {guild} out of LOFTWATCH_GUILDS before you start loftwatch again, or it begins a new file where that guild still has it."
    ));
    said.push(OUT_OF_REACH.to_owned());
    Exit::Stopped
}

/// What begins with the number and has a name that somebody else gave it.
fn stay(found: &FilesOf, guild: Guild, said: &mut Vec<String>) {
    said.extend(found.others.iter().map(|path| {
        format!(
            "{} begins with {guild} but has no name that loftwatch gives, and stays. See what it is, and remove it yourself.",
            path.display()
        )
    }));
}

#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the others say the same whatever was being done"
)]
fn refused(fault: &StoreError, said: &mut Vec<String>) -> Exit {
    let why = match fault {
        StoreError::Kind { path, kind } => format!(
            "{} is {kind}, which loftwatch does not make. See what it is, remove it yourself, and say the same again",
            path.display()
        ),
        StoreError::NotOurs { path, why, .. } => format!(
            "{} has a name of this facility, but {why}. Move it out of the folder and say the same again",
            path.display()
        ),
        other => other.to_string(),
    };
    said.push(format!("Nothing was removed: {why}."));
    of_fault(fault)
}

fn listed(path: &PathBuf) -> String {
    let bytes = std::fs::metadata(path).map_or(0, |about| about.len());
    format!("  {} ({bytes} bytes)", path.display())
}

fn folders(data: &Path, backups: Option<&Path>) -> String {
    match backups {
        None => data.display().to_string(),
        Some(backups) => format!("{} and {}", data.display(), backups.display()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_file_is_said_as_one() {
        let data = tempfile::tempdir().unwrap();
        let guild = Guild(42);
        let asked = |sure| {
            let mut said = Vec::new();
            erase(guild, sure, data.path(), None, &mut said);
            said.join("\n")
        };
        std::fs::write(data.path().join("42.lock"), "").unwrap();
        let said = asked(None);
        assert!(
            said.contains("This file is what there is of facility 42"),
            "{said}"
        );
        let said = asked(Some(guild));
        assert!(
            said.contains("1 file of facility 42 is gone for good"),
            "{said}"
        );
        for name in ["42.lock", "42.loft"] {
            std::fs::write(data.path().join(name), "").unwrap();
        }
        let said = asked(None);
        assert!(said.contains("These 2 files are what there is"), "{said}");
        let said = asked(Some(guild));
        assert!(said.contains("2 files of facility 42 are gone"), "{said}");
    }
}
