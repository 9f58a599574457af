//! Measures how often looks that do follow a curve are said not to, and how often looks that do not are found out.
//!
//! `cargo run --release -p loftwatch-commands --example filter_curves [SEED]`. Decides nothing; the rule is `rules/filter_life/early`.

use commands::rules::filter_cycle::{Looks, learn};
use commands::rules::filter_life::Span;
use fastrand::Rng;

/// Sets of each sort.
const SETS: u64 = 1_000;
/// So many must have been found dirty before a set tells anything.
const LEAST: usize = 5;

/// A life in days.
fn weibull(random: &mut Rng, shape: f64, scale: f64) -> f64 {
    scale * (-(1.0 - random.f64()).ln()).powf(shape.recip())
}

/// Filters whose lives are Weibull's, but for a share that clogs at two days on average.
struct Law {
    early: f64,
    shape: f64,
    scale: f64,
}

/// One that is looked at every so many days until it is dirty, or up to 90 days old; with the chance `late`, each time a day later.
fn one(random: &mut Rng, law: &Law, every: u32, late: f64) -> Span {
    let dirty = if random.f64() < law.early {
        weibull(random, 1.0, 2.0)
    } else {
        weibull(random, law.shape, law.scale)
    };
    let stop = (random.f64() * 90.0) as u32 + every;
    let mut clean = 0;
    loop {
        let mut look = clean + every;
        while random.f64() < late {
            look += 1;
        }
        let (after, by) = (f64::from(clean), f64::from(look));
        if dirty <= by {
            return Span {
                after,
                by: Some(by),
            };
        }
        if look >= stop {
            return Span {
                after: by,
                by: None,
            };
        }
        clean = look;
    }
}

fn main() {
    let seed = std::env::args()
        .nth(1)
        .and_then(|seed| seed.parse().ok())
        .unwrap_or(1);
    for (early, shape, scale) in [
        (0.0, 1.0, 20.0),
        (0.0, 1.0, 60.0),
        (0.0, 1.0, 200.0),
        (0.0, 2.0, 60.0),
        (0.0, 3.5, 40.0),
        (0.1, 1.0, 100.0),
        (0.1, 3.0, 50.0),
        (0.2, 3.0, 50.0),
        (0.0, 0.6, 60.0),
    ] {
        let law = Law {
            early,
            shape,
            scale,
        };
        for (lives, every, late) in [
            (15, 7, 0.0),
            (40, 7, 0.25),
            (150, 7, 0.25),
            (150, 3, 0.5),
            (40, 14, 0.5),
        ] {
            let (mut told, mut refused) = (0, 0);
            for set in 0..SETS {
                let mut random = Rng::with_seed(seed * 1_000_000 + set);
                let spans: Vec<Span> = (0..lives)
                    .map(|_| one(&mut random, &law, every, late))
                    .collect();
                if spans.iter().filter(|span| span.by.is_some()).count() < LEAST {
                    continue;
                }
                let own = Looks {
                    spans,
                    looks: u32::MAX / 2,
                    dirty: 0,
                    units: 1,
                };
                let none = Looks::default();
                let learned = learn(&own, &none, &none, 1);
                told += 1;
                refused += u32::from(learned.is_some_and(|of| of.apart));
            }
            println!(
                "{:>3.0}% early, shape {shape}, scale {scale:>3}; {lives:>3} lives, every {every:>2} days, late {late}: {:>5.1} in 100 refused",
                early * 100.0,
                100.0 * f64::from(refused) / f64::from(told.max(1)),
            );
        }
    }
}
