//! People at work: each sends the next hand check when the answer to the last one has come. Decides how
//! answers are counted and their times summed up; leaves to the demo guild what a person waits for.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use bot::clock::mono;
use demo_guild::{Guild, Id, Layout, Options};
use serde_json::json;

use crate::home::{SURFACES, tag};

/// The most people at once.
pub const PEOPLE: usize = 64;
/// The reading that everybody enters: adequate, so that nobody is called.
const AIR: &str = "1.25";

/// A guild of [`PEOPLE`] aides, without rate limits, on a port of its own.
///
/// # Errors
/// No port can be had.
pub async fn guild() -> anyhow::Result<Guild> {
    let mut layout = Layout::new("Benchmark House", "America/Chicago")
        .role("aides")
        .channel("care")
        .channel("supervisors");
    for n in 0..PEOPLE {
        layout = layout.person(&name(n), "aide", &["aides"]);
    }
    Guild::serve(layout, Options::headless()).await
}

fn name(n: usize) -> String {
    format!("Aide {n}")
}

/// How much is asked of a program.
#[derive(Clone, Copy, Debug)]
pub struct Load {
    /// At once.
    pub people: usize,
    /// In all.
    pub entries: usize,
    /// But no longer than this.
    pub within: Duration,
}

/// What came of it.
#[derive(Clone, Debug, Default)]
pub struct Answers {
    /// Times from sending to the answer.
    pub waited: Vec<Duration>,
    /// Entries without an answer.
    pub failed: usize,
    /// What the first failure said.
    pub why: Option<String>,
}

impl Answers {
    /// With those of another round.
    pub fn add(&mut self, other: Answers) {
        self.waited.extend(other.waited);
        self.failed += other.failed;
        self.why = self.why.take().or(other.why);
    }

    /// Entries in all.
    pub fn entries(&self) -> usize {
        self.waited.len() + self.failed
    }

    /// The time that this share of the answers did not exceed (nearest rank), in ms.
    pub fn quantile_ms(&self, share: f64) -> f64 {
        let mut sorted = self.waited.clone();
        sorted.sort_unstable();
        let rank = (share * sorted.len() as f64).ceil() as usize;
        let at = sorted.get(rank.saturating_sub(1));
        at.map_or(f64::NAN, |waited| waited.as_secs_f64() * 1_000.0)
    }
}

/// Runs a load against whatever bot is connected to the guild.
pub async fn run(guild: &Guild, load: Load) -> Answers {
    let left = Arc::new(AtomicUsize::new(load.entries));
    let until = mono() + load.within;
    let channel = guild.channel("care");
    let people: Vec<_> = (0..load.people)
        .map(|n| {
            let person = Person {
                guild: guild.clone(),
                id: guild.person(&name(n)),
                channel,
                first: n,
                step: load.people,
            };
            tokio::spawn(person.work(Arc::clone(&left), until))
        })
        .collect();
    let mut all = Answers::default();
    for person in people {
        match person.await {
            Ok(answers) => all.add(answers),
            Err(why) => {
                all.failed += 1;
                all.why = Some(why.to_string());
            }
        }
    }
    all
}

struct Person {
    guild: Guild,
    id: Id,
    channel: Id,
    first: usize,
    step: usize,
}

impl Person {
    async fn work(self, left: Arc<AtomicUsize>, until: Duration) -> Answers {
        let mut answers = Answers::default();
        let mut n = self.first;
        let one_less = |n: usize| n.checked_sub(1);
        while mono() < until
            && left
                .fetch_update(Ordering::Relaxed, Ordering::Relaxed, one_less)
                .is_ok()
        {
            let options = [("surface", json!(tag(n % SURFACES))), ("air", json!(AIR))];
            let outcome = self
                .guild
                .command(self.id, self.channel, "handcheck", &options)
                .await;
            // A surface's tag stands in every confirmation and in no refusal of the whole entry.
            if outcome.text().contains(&tag(n % SURFACES)) {
                answers.waited.push(outcome.waited);
            } else {
                answers.failed += 1;
                let why = outcome
                    .failed
                    .clone()
                    .unwrap_or_else(|| outcome.text().to_owned());
                answers.why.get_or_insert(why);
            }
            n += self.step;
        }
        answers
    }
}
