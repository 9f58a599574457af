//! A simulated home: the production desk, store and delivery over months, with the clock, the chat and the disk in the
//! hands of a seed. Decides what goes wrong and when ([`weather`]), what people do ([`people`]), and what must hold of
//! what they saw ([`model`]), which knows nothing of the rules but what is promised. One thread, one seed, one story: a
//! seed that fails tells it.

mod ears;
mod house;
mod model;
mod people;
mod weather;

use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result};

pub use house::House;
pub use model::Tally;

/// So many of its last lines tell how a story ended.
const TOLD_LAST: usize = 40;

/// One story.
#[derive(Clone, Copy, Debug)]
pub struct Story {
    /// What it is made of.
    pub seed: u64,
    /// How long it is, in days.
    pub days: u32,
}

/// Those that broke a promise once, a line each; from the folder of the tests.
const KEPT: &str = "stories/seeds.txt";

impl Story {
    /// Every story that is kept.
    ///
    /// # Errors
    /// When there is no such file, or a line is neither a remark nor two numbers.
    pub fn kept(tests: &Path) -> Result<Vec<Story>> {
        let text = std::fs::read_to_string(tests.join(KEPT))?;
        let lines = text.lines().filter(|line| !line.starts_with('#'));
        let story = |line: &str| {
            let (seed, days) = line.split_once(' ')?;
            Some(Story {
                seed: seed.parse().ok()?,
                days: days.parse().ok()?,
            })
        };
        lines
            .map(|line| story(line).with_context(|| format!("no seed and days: {line}")))
            .collect()
    }

    /// Keeps this one, which broke a promise, with the fewest days in which it does.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn keep(self, tests: &Path) -> Result<()> {
        let scenarios = tests.join("scenarios");
        let breaks = |days: &u32| {
            let shorter = Story {
                days: *days,
                ..self
            };
            !matches!(live(shorter, &scenarios), Ok(Ok(_)))
        };
        let days = (1..self.days).find(breaks).unwrap_or(self.days);
        let mut file = std::fs::OpenOptions::new()
            .append(true)
            .open(tests.join(KEPT))?;
        Ok(writeln!(file, "{} {days}", self.seed)?)
    }
}

/// A story that broke a promise.
#[derive(Debug)]
pub struct Broken {
    /// Which.
    pub story: Story,
    /// The promises, each with what was seen.
    pub why: Vec<String>,
    /// What happened, a line each.
    pub told: Vec<String>,
}

impl std::fmt::Display for Broken {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        writeln!(f, "seed {} over {} days:", self.story.seed, self.story.days)?;
        for why in &self.why {
            writeln!(f, "- {why}")?;
        }
        // The whole of it, or how it ended.
        let from = if f.alternate() {
            0
        } else {
            self.told.len().saturating_sub(TOLD_LAST)
        };
        for line in &self.told[from..] {
            writeln!(f, "    {line}")?;
        }
        Ok(())
    }
}

/// Lives through a story and returns what was counted.
///
/// # Errors
/// What broke; or that the story could not be told at all.
pub fn live(story: Story, scenarios: &Path) -> Result<std::result::Result<Tally, Broken>> {
    aloud(story, scenarios).map(|(told, _)| told)
}

/// The same, and what happened, a line each.
///
/// # Errors
/// As [`live`].
pub fn aloud(
    story: Story,
    scenarios: &Path,
) -> Result<(std::result::Result<Tally, Broken>, Vec<String>)> {
    let ears = ears::Ears::default();
    let (result, heard) = ears.listen(|| -> Result<_> {
        let mut house = House::open(story, scenarios)?;
        house.live()?;
        house.end()
    });
    let (tally, mut why, told) = result?;
    why.extend(heard.leaks());
    let lived = if why.is_empty() {
        Ok(tally)
    } else {
        let told = told.clone();
        Err(Broken { story, why, told })
    };
    Ok((lived, told))
}
