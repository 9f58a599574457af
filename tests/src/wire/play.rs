//! Plays conversations over the wire. Decides what must be the same as in their files: each thing that people
//! notice in each step, to the letter, and the order of what one channel gets.

use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use anyhow::{Context, Result, ensure};
use tokio::runtime::Handle;

use super::house::House;
use super::used::Used;
use crate::talk::act;
use crate::talk::cast::Cast;
use crate::talk::script::{Script, Step, difference};
use crate::talk::talker::read;
use crate::talk::world::home_zone;

/// Conversations played at once.
const AT_ONCE: usize = 4;

/// Plays all of these, several at once. Returns what was used, and what went wrong, by file.
pub fn all(runtime: &Handle, files: &[PathBuf]) -> (Used, Vec<String>) {
    let next = AtomicUsize::new(0);
    let found = Mutex::new((Used::default(), Vec::new()));
    std::thread::scope(|scope| {
        for _ in 0..AT_ONCE {
            scope.spawn(|| {
                while let Some(file) = files.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let played = one(runtime, file);
                    let mut found = found.lock().expect("no thread has failed");
                    match played {
                        Ok(used) => found.0.merge(used),
                        Err(why) => {
                            let name = file.file_stem().unwrap_or_default().to_string_lossy();
                            found.1.push(format!("== {name}\n{why:#}\n"));
                        }
                    }
                }
            });
        }
    });
    let (used, mut wrong) = found.into_inner().expect("no thread has failed");
    wrong.sort();
    (used, wrong)
}

/// Plays one from its file. Returns what was used.
///
/// # Errors
/// The first step that cannot be done, or from which something else followed than is written.
pub fn one(runtime: &Handle, file: &Path) -> Result<Used> {
    let script = read(file)?;
    let steps: Vec<&Step> = script.steps().collect();
    let [home, begins, steps @ ..] = &steps[..] else {
        anyhow::bail!("a conversation names its home and says when it begins");
    };
    let home = home.says.strip_prefix("home: ").context("its home")?;
    let begins = begins.says.strip_prefix("at ").and_then(act::date_and_time);
    let begins = home_zone().instant(begins.context("when it begins")?);
    let prelude = match home {
        "none yet" => None,
        home => {
            let folder = file.parent().context("a file is in a folder")?;
            Some(read(&folder.join("homes").join(format!("{home}.txt")))?)
        }
    };
    let before: Vec<&Step> = prelude.iter().flat_map(Script::steps).collect();
    let mut cast = Cast::default();
    before
        .iter()
        .chain(steps)
        .try_for_each(|step| named(&mut cast, step))?;
    let power_fails = steps
        .iter()
        .any(|step| step.says.starts_with("the power fails"));
    let mut house = House::open(runtime.clone(), &cast, begins, power_fails)?;
    for step in before {
        take(&mut house, step).with_context(|| format!("home {home}"))?;
    }
    house.begin();
    for step in steps {
        take(&mut house, step)?;
    }
    house.close()
}

/// Adds the people and the channels that a step names: a guild is served with all that are ever going to be in it.
fn named(cast: &mut Cast, step: &Step) -> Result<()> {
    if step.says == "people:" {
        let known: Vec<String> = cast.people().iter().map(|one| one.name.clone()).collect();
        for line in &step.given {
            let name = line.split(',').next().unwrap_or_default().trim();
            if !known.iter().any(|there| there == name) {
                cast.add(line).map_err(anyhow::Error::msg)?;
            }
        }
    }
    for line in step.given.iter().chain([&step.says]) {
        for part in line.split('#').skip(1) {
            let end = part.find(|c: char| !(c.is_alphanumeric() || c == '-'));
            let name = &part[..end.unwrap_or(part.len())];
            if !name.is_empty() && name.starts_with(char::is_alphabetic) {
                cast.channel(name);
            }
        }
    }
    Ok(())
}

/// Does a step and compares what followed.
fn take(house: &mut House, step: &Step) -> Result<()> {
    let happened: Vec<String> = act::perform_in_blocks(house, step)?
        .iter()
        .map(|lines| act::block(lines))
        .collect();
    let written = act::blocks(&step.follows);
    let sorted = |blocks: &[String]| {
        let mut blocks = blocks.to_vec();
        blocks.sort();
        blocks
    };
    let (is, should) = (sorted(&happened), sorted(&written));
    ensure!(
        is == should,
        "line {}: {}: - is written, + is what happened\n{}",
        step.number,
        step.says,
        difference(&should.join("\n"), &is.join("\n"))
    );
    let (is, should) = (by_channel(&happened), by_channel(&written));
    ensure!(
        is == should,
        "line {}: {}: in another order: - is written, + is what happened\n{}",
        step.number,
        step.says,
        difference(&should.join("\n"), &is.join("\n"))
    );
    Ok(())
}

/// New messages, those of each channel in the order in which they came. An answer to a message goes a way of its own, as
/// the answer to a command does, and may come before or after what is posted.
fn by_channel(blocks: &[String]) -> Vec<&str> {
    fn channel(block: &str) -> Option<&str> {
        let head = block.lines().next()?;
        let head = match head
            .strip_prefix("at ")
            .and_then(|rest| rest.split_once(", "))
        {
            Some((_, rest)) => rest,
            None => head,
        };
        let posted = head.starts_with('#') && !head.contains(", in answer to ");
        posted.then(|| head.split(' ').next())?
    }
    let mut posts: Vec<(&str, &str)> = blocks
        .iter()
        .filter_map(|block| Some((channel(block)?, block.as_str())))
        .collect();
    posts.sort_by_key(|(channel, _)| *channel);
    posts.into_iter().map(|(_, block)| block).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_of_one_channel_counts_and_that_between_two_does_not() {
        let blocks = |heads: &[&str]| {
            heads
                .iter()
                .map(|one| (*one).to_owned())
                .collect::<Vec<_>>()
        };
        let played = blocks(&["#elm gets:\n  1", "only Ana sees:\n  0", "#oak gets:\n  2"]);
        let other = blocks(&["#oak gets:\n  2", "#elm gets:\n  1", "only Ana sees:\n  0"]);
        assert_eq!(by_channel(&played), by_channel(&other));
        let first = blocks(&[
            "at 07:25, #elm gets:\n  1",
            "at 07:25, #elm gets, calling @aides:\n  2",
        ]);
        let second = blocks(&[
            "at 07:25, #elm gets, calling @aides:\n  2",
            "at 07:25, #elm gets:\n  1",
        ]);
        assert_eq!(by_channel(&first).len(), 2);
        assert_ne!(by_channel(&first), by_channel(&second));
    }
}
