//! A few stories of a simulated home, each a few days of faults. `cargo run --release -p loftwatch-tests --bin story FIRST COUNT
//! DAYS` tells as many as are wanted; a seed that broke a promise is put into `BROKE` once it is mended.

use std::path::Path;

use loftwatch_tests::sim::{Story, Tally, live};

/// What the first of them are made of.
const SEEDS: std::ops::Range<u64> = 1..13;
const DAYS: u32 = 3;
/// Each broke a promise once: a call that came twice because the computer's clock was ahead of the chat's.
const BROKE: &[(u64, u32)] = &[(1, 4)];

#[test]
fn promises_hold_through_faults() {
    let scenarios = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let seeds = SEEDS.map(|seed| (seed, DAYS)).chain(BROKE.iter().copied());
    let mut all = Tally::default();
    let mut broken = Vec::new();
    for (seed, days) in seeds {
        match live(Story { seed, days }, &scenarios) {
            Ok(Ok(tally)) => all += tally,
            Ok(Err(story)) => broken.push(story.to_string()),
            Err(why) => broken.push(format!("seed {seed}: {why:#}")),
        }
    }
    assert!(broken.is_empty(), "\n{}", broken.join("\n"));
    // A story in which nothing happens keeps every promise.
    let Tally {
        confirmed,
        calls,
        lists,
        dark,
        faults,
        ..
    } = all;
    assert!(
        confirmed > 50 && calls > 500 && lists > 200 && dark > 20 && faults > 200,
        "{all:?}"
    );
}
