//! Runs a conversation from its file. Decides in which ways each is run and what must be the same in all
//! of them.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail, ensure};

use super::act;
use super::script::{Script, difference};
use super::world::{Trouble, World, home_zone};

/// A conversation, read, and the world it begins in.
pub struct Talk {
    /// As it is written.
    pub script: Script,
    file: PathBuf,
    start: World,
    /// How many steps have been taken when it begins: its home and its time.
    opening: usize,
}

impl Talk {
    /// Reads a file and sets its home up.
    ///
    /// # Errors
    /// What is wrong with the file, or with its home's.
    pub fn open(file: &Path) -> Result<Self> {
        let script = read(file)?;
        let steps: Vec<_> = script.steps().cloned().collect();
        let home = steps
            .first()
            .and_then(|step| step.says.strip_prefix("home: "))
            .context("the second line is the home: home: elm")?;
        let begins = steps
            .get(1)
            .and_then(|step| step.says.strip_prefix("at "))
            .and_then(act::date_and_time);
        let begins = begins
            .context("after its home a conversation says when it begins: at 2026-03-02 07:10")?;
        let mut start = World::new(home_zone().instant(begins))?;
        if home != "none yet" {
            let folder = file.parent().context("a file is in a folder")?;
            let prelude = read(&folder.join("homes").join(format!("{home}.txt")))?;
            for step in prelude.steps() {
                act::perform(&mut start, step).with_context(|| format!("home {home}"))?;
            }
            start.chat.messages.clear();
        }
        Ok(Self {
            script,
            file: file.to_owned(),
            start,
            opening: 2,
        })
    }

    /// Runs it with `trouble`: what followed from each step, and the world at its end.
    ///
    /// # Errors
    /// The step that could not be done.
    pub fn run(&mut self, trouble: Trouble) -> Result<(Vec<Vec<String>>, World)> {
        let mut world = self.start.again(trouble)?;
        let mut follows = vec![Vec::new(); self.opening];
        for step in self.script.steps().skip(self.opening) {
            follows.push(act::perform(&mut world, step)?);
        }
        Ok((follows, world))
    }

    /// The world it begins in.
    ///
    /// # Errors
    /// When its file cannot be copied.
    pub fn begin(&mut self) -> Result<World> {
        self.start.again(Trouble::None)
    }

    /// From now on the program is down for this long after a power cut.
    pub fn down(&mut self, down: std::time::Duration) {
        self.start.down = down;
    }

    /// Runs it plainly and compares it with what is written, or writes it anew.
    ///
    /// # Errors
    /// The difference.
    pub fn plainly(&mut self, update: bool) -> Result<World> {
        let (follows, mut world) = self.run(Trouble::None)?;
        world.verify()?;
        compare(&self.file, &self.script.with(&follows), update)?;
        Ok(world)
    }

    /// Runs it with `trouble` that must change nothing that anybody sees.
    ///
    /// # Errors
    /// The difference.
    pub fn unshaken(&mut self, trouble: Trouble) -> Result<()> {
        let (follows, mut world) = self.run(trouble)?;
        world.verify()?;
        let happened = self.script.with(&follows).write();
        let written = self.script.write();
        ensure!(
            happened == written,
            "{trouble:?}: - is written, + is what happened\n{}",
            difference(&written, &happened)
        );
        Ok(())
    }
}

/// Reads a file.
pub(crate) fn read(file: &Path) -> Result<Script> {
    let text = std::fs::read_to_string(file).with_context(|| format!("{}", file.display()))?;
    Script::read(&text).map_err(|why| anyhow::anyhow!("{}: {why}", file.display()))
}

/// Sets a home up and compares what followed with what is written, or writes it anew: a home whose set-up
/// was refused would make every conversation in it a different one.
///
/// # Errors
/// The difference.
pub fn home_as_written(file: &Path, update: bool) -> Result<()> {
    let script = read(file)?;
    let morning = act::date_and_time("2026-03-02 06:00").context("a time")?;
    let mut world = World::new(home_zone().instant(morning))?;
    let follows: Result<Vec<_>> = script
        .steps()
        .map(|step| act::perform(&mut world, step))
        .collect();
    world.verify()?;
    compare(file, &script.with(&follows?), update)
}

fn compare(file: &Path, happened: &Script, update: bool) -> Result<()> {
    let happened = happened.write();
    let written = std::fs::read_to_string(file)?;
    if happened == written {
        return Ok(());
    }
    if !update {
        bail!(
            "- is written, + is what happened\n{}",
            difference(&written, &happened)
        );
    }
    Ok(std::fs::write(file, &happened)?)
}

/// All conversations of a folder, by name.
///
/// # Errors
/// When the folder cannot be read.
pub fn all(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .collect();
    files.retain(|file| file.extension().is_some_and(|end| end == "txt"));
    files.sort();
    Ok(files)
}
