//! Plants each bug of `tests/planted/bugs.txt` in a copy of the code and tells stories until one breaks: `planted
//! [NAME…]`. Decides how many stories a bug is given; what a story must hold is [`loftwatch_tests::sim`]'s.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};

use anyhow::{Context, Result, ensure};
use loftwatch_tests::planted::{self, Bug};

/// The parts of the workspace that a story is built of.
const PARTS: [&str; 5] = ["commands", "store", "bot", "demo-guild", "tests"];
/// So many stories, of so many days, are told until one breaks; and of a bug that they do not notice, so many more.
const STORIES: (u32, u32) = (60, 10);
const MORE: (u32, u32) = (240, 30);

#[allow(
    clippy::disallowed_methods,
    reason = "the words after a program's own name are no settings of loftwatch"
)]
fn main() -> Result<ExitCode> {
    let workspace = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let wanted: Vec<String> = std::env::args().skip(1).collect();
    let bugs = planted::read(&workspace)?;
    let copy = Copy::of(&workspace)?;
    copy.build()?;
    // What breaks without a bug would be taken for caught.
    for told in [STORIES, MORE] {
        let (well, said) = copy.tell(told)?;
        ensure!(well, "a story breaks with no bug planted:\n{said}");
        println!(
            "with no bug planted: {} stories of {} days hold",
            told.0, told.1
        );
    }
    let mut missed = 0;
    for bug in bugs
        .iter()
        .filter(|bug| wanted.is_empty() || wanted.contains(&bug.name))
    {
        let (well, said) = match copy.with(bug) {
            Ok(told) => told,
            // It is none of the code as it is now, and the others are told nevertheless.
            Err(why) => {
                missed += 1;
                println!("NOT TOLD {}: {why}", bug.name);
                continue;
            }
        };
        if well {
            missed += 1;
            println!("UNNOTICED {}: {}", bug.name, bug.does);
        } else {
            // A promise that broke, or why a story could not be told to its end.
            let broke = said.lines().find(|line| line.starts_with("- "));
            let broke = broke.or(said.lines().next()).unwrap_or("it died");
            println!("caught   {}: {broke}", bug.name);
        }
    }
    println!("{missed} unnoticed or not told");
    Ok(if missed == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}

/// The code, copied to where bugs may be planted.
struct Copy {
    code: PathBuf,
    build: PathBuf,
}

impl Copy {
    fn of(workspace: &Path) -> Result<Self> {
        let root = workspace.join("target").join("planted");
        let code = root.join("code");
        if code.exists() {
            fs::remove_dir_all(&code)?;
        }
        fs::create_dir_all(&code)?;
        for part in PARTS {
            copied(&workspace.join(part), &code.join(part))?;
        }
        for file in ["Cargo.toml", "Cargo.lock", "clippy.toml"] {
            fs::copy(workspace.join(file), code.join(file)).context(file)?;
        }
        let build = root.join("build");
        Ok(Self { code, build })
    }

    /// Plants a bug, tells stories, and takes it out again.
    fn with(&self, bug: &Bug) -> Result<(bool, String)> {
        let file = self.code.join(&bug.file);
        let well = fs::read_to_string(&file)?;
        fs::write(&file, bug.planted(&self.code)?)?;
        let built = self.build();
        fs::write(&file, well)?;
        built?;
        let told = self.tell(STORIES)?;
        if told.0 { self.tell(MORE) } else { Ok(told) }
    }

    fn build(&self) -> Result<()> {
        let built = Command::new(env!("CARGO"))
            .args([
                "build",
                "--quiet",
                "-p",
                "loftwatch-tests",
                "--bin",
                "story",
            ])
            .current_dir(&self.code)
            .env("CARGO_TARGET_DIR", &self.build)
            // Built once more for each bug, and told for minutes.
            .env("CARGO_PROFILE_DEV_DEBUG", "0")
            .env("CARGO_PROFILE_DEV_OPT_LEVEL", "1")
            .output()?;
        ensure!(
            built.status.success(),
            "it does not build:\n{}",
            String::from_utf8_lossy(&built.stderr)
        );
        Ok(())
    }

    /// Tells so many stories of so many days. Returns whether all held, and what was said.
    fn tell(&self, (stories, days): (u32, u32)) -> Result<(bool, String)> {
        let told = Command::new(self.build.join("debug").join("story"))
            .args(["1", &stories.to_string(), &days.to_string(), "until-broken"])
            .output()?;
        let said = String::from_utf8_lossy(&told.stdout).into_owned();
        Ok((told.status.success(), said))
    }
}

fn copied(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        let to = to.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            copied(&entry.path(), &to)?;
        } else {
            fs::copy(entry.path(), to)?;
        }
    }
    Ok(())
}
