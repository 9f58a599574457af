//! Bugs that are planted to see that the stories find them. Decides how the list is read and how a bug is written into
//! a copy of the code; leaves building it and telling stories to the program that asks.

use std::path::Path;

use anyhow::{Context, Result, bail, ensure};

/// A change that makes the program wrong.
#[derive(Clone, Debug)]
pub struct Bug {
    /// What it is called.
    pub name: String,
    /// What it does.
    pub does: String,
    /// The file, from the top of the workspace.
    pub file: String,
    /// What is taken out.
    pub old: String,
    /// What stands in its place.
    pub new: String,
}

/// The list in `tests/planted/bugs.txt`.
///
/// # Errors
/// What cannot be read of it.
pub fn read(workspace: &Path) -> Result<Vec<Bug>> {
    let path = workspace.join("tests/planted/bugs.txt");
    let list = std::fs::read_to_string(&path).context("tests/planted/bugs.txt")?;
    let mut bugs: Vec<Bug> = Vec::new();
    for line in list.lines() {
        if let Some(name) = line.strip_prefix("== ") {
            bugs.push(Bug {
                name: name.to_owned(),
                does: String::new(),
                file: String::new(),
                old: String::new(),
                new: String::new(),
            });
            continue;
        }
        let Some(bug) = bugs.last_mut() else {
            bail!("before the first bug stands: {line}");
        };
        if let Some(file) = line.strip_prefix("file ") {
            bug.file = file.to_owned();
        } else if let Some(old) = line.strip_prefix("- ") {
            bug.old.push_str(&format!("{old}\n"));
        } else if let Some(new) = line.strip_prefix("+ ") {
            bug.new.push_str(&format!("{new}\n"));
        } else if bug.does.is_empty() {
            bug.does = line.to_owned();
        } else {
            ensure!(line.is_empty(), "{}: what is this: {line}", bug.name);
        }
    }
    Ok(bugs)
}

impl Bug {
    /// The text of its file with the bug in it.
    ///
    /// # Errors
    /// When what it takes out does not stand there exactly once.
    pub fn planted(&self, workspace: &Path) -> Result<String> {
        let text = std::fs::read_to_string(workspace.join(&self.file))
            .with_context(|| format!("{}: {}", self.name, self.file))?;
        let found = text.matches(&self.old).count();
        ensure!(
            found == 1 && !self.old.is_empty() && self.old != self.new,
            "{}: what it takes out stands {found} times in {}",
            self.name,
            self.file
        );
        Ok(text.replacen(&self.old, &self.new, 1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_bug_can_be_planted() {
        let workspace = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
        let bugs = read(&workspace).unwrap();
        assert!(bugs.len() >= 20, "{} bugs", bugs.len());
        let failed: Vec<String> = bugs
            .iter()
            .filter_map(|bug| Some(bug.planted(&workspace).err()?.to_string()))
            .collect();
        assert!(failed.is_empty(), "{failed:#?}");
    }
}
