//! How often steady surfaces are named as losing loft, and how early those that do lose it: the figures beside the
//! defaults of the policies. Invented surfaces from a seed, through the rule that the home uses.
//!
//! `cargo run --release -p loftwatch-commands --example drift`

use chrono::{DateTime, TimeDelta, Utc};
use commands::rules::air::{INCH_TENTHS, Tenths};
use commands::rules::drift::{Asked, READINGS_KEPT, Reading, chance, losing};
use commands::rules::hand_check::Band;
use commands::rules::policy::Policies;
use fastrand::Rng;

const SURFACES: usize = 1_000;
/// One reading in each shift, of which so many of a hundred are missed.
const SHIFT_HOURS: i64 = 8;
const MISSED_PERCENT: u32 = 8;
/// In inches: how far a hand's readings scatter, and what one of twelve people reads more or less than another.
const SCATTER: f64 = 0.08;
const HANDS: f64 = 0.04;
const PEOPLE: usize = 12;

/// What is under the person, beside the scatter.
#[derive(Clone, Copy)]
struct World {
    /// Inches lost a day.
    loss: f64,
    /// Slow ups and downs from day to day, in inches: how the person lies, the room.
    wander: f64,
    days: i64,
    /// Readings are told in so many parts of an inch.
    parts: f64,
}

/// A bell, nearly.
fn bell(rng: &mut Rng) -> f64 {
    (0..12).map(|_| rng.f64()).sum::<f64>() - 6.0
}

/// The day on which a surface is first named, and that of its first low reading.
fn lived(world: World, asked: &Asked, rng: &mut Rng) -> (Option<f64>, Option<f64>) {
    let start: DateTime<Utc> = DateTime::UNIX_EPOCH;
    let air = if world.loss > 0.0 {
        1.35
    } else {
        1.15 + rng.f64() * 0.25
    };
    let hands: Vec<f64> = (0..PEOPLE).map(|_| bell(rng) * HANDS).collect();
    let mut wander = bell(rng) * world.wander;
    let mut line: Vec<Reading> = Vec::new();
    let low = Band::default().low;
    let (mut named, mut first_low) = (None, None);
    for shift in 0..world.days * 24 / SHIFT_HOURS {
        if shift % 3 == 0 {
            wander = 0.8 * wander + 0.6 * bell(rng) * world.wander;
        }
        if rng.u32(0..100) < MISSED_PERCENT {
            continue;
        }
        let minutes = shift * SHIFT_HOURS * 60 + rng.i64(20..80);
        let day = minutes as f64 / 1_440.0;
        let there = air - world.loss * day + wander;
        let read = there + bell(rng) * SCATTER + hands[rng.usize(0..PEOPLE)];
        let told = ((read * world.parts).round() / world.parts).max(0.0);
        let air = Tenths((told * f64::from(INCH_TENTHS)).round() as i32);
        line.push(Reading::new(start + TimeDelta::minutes(minutes), air));
        if line.len() > READINGS_KEPT {
            line.remove(0);
        }
        if first_low.is_none() && air < low {
            first_low = Some(day);
        }
        if named.is_none() && asked.rare(chance(&line)) && losing(&line, low, asked).is_some() {
            named = Some(day);
        }
    }
    (named, first_low)
}

fn middle(mut days: Vec<f64>) -> f64 {
    days.sort_by(f64::total_cmp);
    days.get(days.len() / 2).copied().unwrap_or(f64::NAN)
}

fn main() {
    let asked = Asked::of(&Policies::default());
    println!("with {asked:?}");
    for parts in [4.0, 8.0] {
        println!("told in 1/{parts} in:");
        for wander in [0.0, 0.03, 0.06] {
            let mut rng = Rng::with_seed(7);
            let (loss, days) = (0.0, 90);
            let world = World {
                loss,
                wander,
                days,
                parts,
            };
            let named = (0..SURFACES)
                .filter(|_| lived(world, &asked, &mut rng).0.is_some())
                .count();
            println!(
                "  steady, wandering by {wander} in: named in {days} days: {named} of {SURFACES}"
            );
        }
        for loss in [0.01, 0.02, 0.04] {
            let mut rng = Rng::with_seed(8);
            let (wander, days) = (0.03, 40);
            let world = World {
                loss,
                wander,
                days,
                parts,
            };
            let lives: Vec<_> = (0..SURFACES)
                .map(|_| lived(world, &asked, &mut rng))
                .collect();
            let named: Vec<f64> = lives.iter().filter_map(|life| life.0).collect();
            let lows: Vec<f64> = lives.iter().filter_map(|life| life.1).collect();
            let before = |life: &&(Option<f64>, Option<f64>)| {
                life.0
                    .is_some_and(|named| life.1.is_none_or(|low| named < low))
            };
            let before = lives.iter().filter(before).count();
            println!(
                "  losing {loss} in a day from 1.35: named {} in {days} days, half by day {:.0}; half low by day {:.0}; named before the first low reading: {before}",
                named.len(),
                middle(named),
                middle(lows)
            );
        }
    }
}
