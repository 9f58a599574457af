//! How long a report takes in a home with ten years of records:
//!
//! ```text
//! cargo run --release -p loftwatch-tests --example ten_years [days]
//! ```
//!
//! Lives the invented home for so many days, then asks for reports as the desk does: what is wanted of the log is read, and the
//! answer with its page and its rows is decided. Prints each beside the time that reading the whole log takes in the same run.
//! Decides nothing; a figure of one machine is context and no claim.

use std::hint::black_box;
use std::time::Duration;

use anyhow::Context;
use bot::clock::mono;
use commands::ids::RecordNo;
use commands::message::Answer;
use commands::said::Value;
use commands::{Said, Source};
use demo_guild::home::{self, Job};
use store::Store;

/// Ten years.
const DAYS: i64 = 3_653;
/// Each is asked so often; the middle one is printed.
const TIMES: usize = 5;

fn main() -> anyhow::Result<()> {
    let days = std::env::args()
        .nth(1)
        .map_or(Ok(DAYS), |days| days.parse())?;
    let folder = tempfile::tempdir()?;
    let mut store = Store::open(folder.path(), home::guild())?;
    let now = home::demo_start(home::demo_day()?)?;
    let lived = took(|| home::prepare_days(&mut store, now, home::DEMO_SEED, days).map(drop))?;
    let records = store.head().0;
    println!("{days} days lived in {lived:.1?}: {records} records");
    let state = store.replay()?;
    let whole = middle(|| {
        black_box(store.records_after(RecordNo(0), usize::MAX)?);
        Ok(())
    })?;
    println!("reading all of them: {whole:.0?}");
    let supervisor = home::staff().find(|who| who.job == Job::Supervisor);
    let ask = supervisor
        .context("a supervisor")?
        .ask(Source::interaction(7), now);
    for period in ["last 30 days", "last 12 months", "2025-02-01 to 2026-03-04"] {
        let said = Said::Command {
            path: "report".to_owned(),
            options: [("period".to_owned(), Value::Text(period.to_owned()))].into(),
        };
        let (mut read, mut sizes, mut lines) = (Vec::new(), Vec::new(), String::new());
        let all = middle(|| {
            let mut reading = Duration::ZERO;
            let found = commands::answer_from(&state, &ask, &said, |wanted| {
                let from = mono();
                let records = store.past(wanted);
                reading += mono() - from;
                records
            })?;
            read.push(reading);
            let Some(Answer::Private(message)) = found.answer else {
                anyhow::bail!("no report");
            };
            sizes = message
                .files
                .iter()
                .map(|file| file.text.len() / 1_000)
                .collect();
            lines = message.text;
            Ok(())
        })?;
        read.sort_unstable();
        println!(
            "report {period}: {all:.0?}, {:.0?} of it reading ({:.2} of reading all); files of {sizes:?} kB",
            read[read.len() / 2],
            all.as_secs_f64() / whole.as_secs_f64(),
        );
        println!("  {}", lines.replace('\n', "\n  "));
    }
    Ok(())
}

fn took(mut what: impl FnMut() -> anyhow::Result<()>) -> anyhow::Result<Duration> {
    let from = mono();
    what()?;
    Ok(mono() - from)
}

/// The middle of some tries.
fn middle(mut what: impl FnMut() -> anyhow::Result<()>) -> anyhow::Result<Duration> {
    let mut all: Vec<Duration> = (0..TIMES)
        .map(|_| took(&mut what))
        .collect::<Result<_, _>>()?;
    all.sort_unstable();
    Ok(all[all.len() / 2])
}
