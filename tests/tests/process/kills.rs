//! The program, killed again and again while alarms climb the ladder and people enter readings: no rung is missed or comes
//! twice, and no entry that was answered is gone. Several homes at once, so that many deaths take little time; what a kill
//! hits depends on the machine.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use bot::clock::{mono, wall};

use crate::child::Programs;
use crate::climbing::{EVERY, House, SETTLED};

const HOMES: u64 = 4;
const ALARMS: usize = 38;
const PEOPLE: usize = 2;
/// How long a program lives, in ms.
const LIFE_MS: std::ops::Range<u64> = 100..1_700;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn three_hundred_kills_lose_and_double_nothing() {
    killed(300).await;
}

/// `cargo test -p loftwatch-tests --test process -- --ignored`: some minutes.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
#[ignore = "as often as this is for whoever wants to know more"]
async fn a_thousand_kills_lose_and_double_nothing() {
    let mut left: u64 = 1_000;
    while left > 0 {
        killed(left.min(300)).await;
        left = left.saturating_sub(300);
    }
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
    let mut dice = 0x2545_f491_4f6c_dd1d_u64 ^ (home << 32);
    for _ in 0..kills {
        let process = house.start(&programs);
        // xorshift64, with a fixed seed.
        dice ^= dice << 13;
        dice ^= dice >> 7;
        dice ^= dice << 17;
        let life = LIFE_MS.start + dice % (LIFE_MS.end - LIFE_MS.start);
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
