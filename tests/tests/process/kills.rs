//! The program, killed again and again while alarms climb the ladder and people enter readings: no rung is missed or comes
//! twice, and no entry that was answered is gone. Several homes at once, so that many deaths take little time; what a kill
//! hits depends on the machine.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use bot::clock::{mono, wall};

use crate::child::Programs;
use crate::climbing::{EVERY, House, SETTLED};

/// As many as the alarms of the homes last for.
const AT_ONCE: u64 = 300;
const HOMES: u64 = 4;
const ALARMS: usize = 38;
const PEOPLE: usize = 2;
/// How long a program lives, in ms.
const LIFE_MS: std::ops::Range<u64> = 100..1_700;

/// `KILLS=1000 cargo test --workspace --test process kills` kills as often as that.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn kills_lose_and_double_nothing() {
    let mut left = wanted();
    while left > 0 {
        killed(left.min(AT_ONCE)).await;
        left = left.saturating_sub(AT_ONCE);
    }
}

/// How many kills whoever runs the tests asks for.
#[allow(
    clippy::disallowed_methods,
    reason = "a test's own switches are no settings of the program"
)]
fn wanted() -> u64 {
    let asked = std::env::var("KILLS").ok();
    asked.map_or(AT_ONCE, |many| many.parse().expect("KILLS is a number"))
}

/// So many kills, in homes that live beside each other.
async fn killed(kills: u64) {
    let programs = Programs::build().unwrap();
    let homes: Vec<_> = (0..HOMES)
        .map(|home| tokio::spawn(home_of(programs.clone(), home, kills.div_ceil(HOMES))))
        .collect();
    for home in homes {
        home.await.unwrap();
    }
}

async fn home_of(programs: Programs, home: u64, kills: u64) {
    let house = House::open(ALARMS, PEOPLE).await;
    let enough = Arc::new(AtomicBool::new(false));
    let people = house.work(&enough);
    let begun = mono();
    let mut dice = fastrand::Rng::with_seed(home);
    for _ in 0..kills {
        let process = house.start(&programs);
        let life = dice.u64(LIFE_MS);
        tokio::time::sleep(Duration::from_millis(life)).await;
        drop(process);
    }
    let took = mono() - begun;
    let due = took.as_millis() / EVERY.num_milliseconds().unsigned_abs() as u128;
    let process = house.start(&programs);
    tokio::time::sleep(SETTLED).await;
    enough.store(true, Ordering::Relaxed);
    let mut answered = Vec::new();
    for person in people {
        answered.extend(person.await.unwrap());
    }
    let killed = process.stop().unwrap();
    assert!(!killed, "it did not stop when asked");
    house.whole(&answered, wall());
    eprintln!(
        "home {home}: {kills} kills in {} s, over {due} rungs due, {} answered entries",
        took.as_secs(),
        answered.len()
    );
}
