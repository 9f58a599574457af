//! What the demo's channel reads when its clock is run ten minutes a second with five alarms open that nobody takes: how
//! many rows wait to be sent, how long an answer takes, and how late the handover is. Decides nothing; it prints.
//!
//! `cargo run --release -p loftwatch-demo-guild --example five_alarms -- SECONDS`, 90 of them where none are given.

#![allow(clippy::print_stdout, reason = "it is what it is for")]

use std::path::Path;
use std::time::Duration;

use anyhow::Context;
use bot::Stop;
use chrono::{DateTime, Utc};
use demo_guild::clock::Dial;
use demo_guild::home;
use demo_guild::show::{Show, Wishes, folder};
use serde_json::json;
use store::Store;

/// As fast as the page lets it run.
const RATE: f64 = 600.0;
/// How many alarms are left open.
const ALARMS: usize = 5;
/// How often it is looked at.
const EVERY: Duration = Duration::from_secs(5);

fn main() -> anyhow::Result<()> {
    let seconds = std::env::args().nth(1).map(|word| word.parse::<u64>());
    let seconds = seconds.transpose().context("a number of seconds")?;
    let seconds = seconds.unwrap_or(90);
    let data = tempfile::tempdir()?;
    let wishes = Wishes {
        data: data.path().join("data"),
        fresh: false,
        port: 0,
        headless: true,
    };
    let home = folder(&wishes)?;
    let state = Store::open(&wishes.data, home::guild())?.replay()?;
    let show = Show::start(&wishes, home.now, Stop::default())?;
    let wait = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()?;
    let (ana, elm) = (show.guild.person("Ana"), show.guild.channel("elm"));
    let inside = |tag: &&commands::ids::Tag| {
        let bed = state.under.iter().find(|(_, of)| of == tag);
        bed.is_some_and(|(bed, _)| {
            let unit = state.units.iter().find(|(_, unit)| unit.beds.contains(bed));
            unit.is_some_and(|(name, _)| name.as_str() == "Elm")
        })
    };
    let tags: Vec<_> = state.under.values().filter(inside).take(ALARMS).collect();
    for tag in &tags {
        let given = [("surface", json!(tag.as_str()))];
        let raised = wait.block_on(show.guild.command(ana, elm, "alarm", &given));
        println!(
            "{tag}: {}",
            raised.text().lines().next().unwrap_or_default()
        );
    }
    show.clock.set_rate(RATE);
    for _ in 0..seconds.div_ceil(EVERY.as_secs()) {
        std::thread::sleep(EVERY);
        let (before, asked) = (bot::clock::mono(), Dial::now(&show.clock));
        let answer = wait.block_on(show.guild.command(ana, elm, "due", &[]));
        let took = bot::clock::mono() - before;
        let posts = show.guild.messages(elm);
        println!(
            "{}: {} posts in the channel, {} rows wait, /due took {} ms{}",
            asked.format("%H:%M:%S"),
            posts.iter().filter(|post| post.author.bot).count(),
            waiting(&wishes.data)?,
            took.as_millis(),
            answer.failed.map_or("", |_| " and failed"),
        );
    }
    for post in show.guild.messages(elm) {
        let head = post.content.lines().next().unwrap_or_default();
        if head.contains("Handover") || head.contains("New shift") {
            let at = DateTime::<Utc>::from_timestamp_millis(post.at).unwrap_or_default();
            println!("{} UTC: {head}", at.format("%H:%M:%S"));
        }
    }
    show.stop();
    Ok(())
}

/// Rows of the outbox that are not sent yet.
fn waiting(data: &Path) -> anyhow::Result<usize> {
    let file = data.join(format!("{}.loft", home::guild()));
    Ok(Store::look(&file, home::guild())?
        .ready(DateTime::<Utc>::MAX_UTC, usize::MAX)?
        .len())
}
