//! Measures the learned cycle in invented homes whose filters' lives are known: how often a look finds a dirty filter against the chance
//! that was promised, and how far the cycle wanders (for a new filter: from the 10th to the 90th of a hundred).
//!
//! `cargo run --release -p loftwatch-commands --example filter_homes [SEED]`. Decides nothing; the rule is `rules/filter_cycle`.

use chrono::{Days, NaiveDate};
use commands::rules::filter_cycle::{At, Looks, Terms, learn, next};
use commands::rules::filter_life::{Found, Going, Look, spans};

/// Control units in a care unit.
const SURFACES: usize = 12;
/// The looks that are kept of each.
const KEPT: usize = 40;
/// The profile's days between looks, and the maker's limit.
const USUAL: u32 = 7;
const LIMIT: u32 = 90;
/// Two years; the second is measured.
const LEARNING: u32 = 365;
const DAYS: u32 = 730;
/// Homes of each sort.
const HOMES: u64 = 20;

/// Steele's splitmix64: enough for this, and the same everywhere.
struct Random(u64);

impl Random {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A life in days.
    fn weibull(&mut self, shape: f64, scale: f64) -> f64 {
        scale * (-(1.0 - self.unit()).ln()).powf(shape.recip())
    }
}

struct Unit {
    care: usize,
    looks: Vec<Look>,
    before: Option<Going>,
    new: u32,
    dies: f64,
    due: u32,
    said: Option<u32>,
}

/// What was told in a care unit in the second year.
#[derive(Default)]
struct Told {
    looks: u32,
    dirty: u32,
    days: f64,
    /// Looks after which other days were said than after the one before.
    moves: u32,
    /// What was said of each filter that was new.
    new: Vec<u32>,
}

impl Told {
    fn add(&mut self, other: Self) {
        self.looks += other.looks;
        self.dirty += other.dirty;
        self.days += other.days;
        self.moves += other.moves;
        self.new.extend(other.new);
    }

    fn new_at(&self, share: usize) -> u32 {
        let place = self.new.len() * share / 100;
        self.new.get(place).copied().unwrap_or_default()
    }
}

fn day(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 1, 1).expect("a day") + Days::new(day.into())
}

fn looks(unit: &Unit) -> Looks {
    Looks {
        spans: spans(&unit.looks, unit.before),
        looks: unit.looks.len() as u32,
        dirty: unit
            .looks
            .iter()
            .filter(|look| look.found == Found::Dirty)
            .count() as u32,
        units: 1,
    }
}

fn longest(looks: &[Look]) -> u32 {
    let gaps = looks
        .windows(2)
        .map(|two| (two[1].day - two[0].day).num_days());
    gaps.max().unwrap_or(0) as u32
}

fn home(random: &mut Random, cares: &[(f64, f64)], terms: Terms, learning: bool) -> Vec<Told> {
    let mut units: Vec<Unit> = (0..cares.len() * SURFACES)
        .map(|no| Unit {
            care: no / SURFACES,
            looks: Vec::new(),
            before: Some(Going::from_new(day(0))),
            new: 0,
            dies: random.weibull(cares[no / SURFACES].0, cares[no / SURFACES].1),
            due: (no as u32) % USUAL + 1,
            said: None,
        })
        .collect();
    let mut told: Vec<Told> = cares.iter().map(|_| Told::default()).collect();
    for today in 1..DAYS {
        for no in 0..units.len() {
            // One in four looks comes a day late.
            if units[no].due > today || random.unit() < 0.25 {
                continue;
            }
            let (care, new) = (units[no].care, units[no].new);
            let dirty = units[no].dies <= f64::from(today - new);
            let old = today - new >= LIMIT;
            let renewed = dirty || old;
            let one = Look {
                day: day(today),
                found: if dirty { Found::Dirty } else { Found::Clean },
                renewed,
            };
            units[no].looks.push(one);
            if units[no].looks.len() > KEPT {
                let first = units[no].looks.remove(0);
                units[no].before = Going::after(units[no].before, first);
            }
            if renewed {
                units[no].new = today;
                units[no].dies = random.weibull(cares[care].0, cares[care].1);
            }
            let mut groups = [Looks::default(), Looks::default(), Looks::default()];
            for (other, unit) in units.iter().enumerate() {
                let group = if other == no {
                    0
                } else if unit.care == care {
                    1
                } else {
                    2
                };
                groups[group].add(&looks(unit));
            }
            let age = today - units[no].new;
            let at = At {
                age,
                left_dusty: false,
                usual: USUAL,
                limit: LIMIT.saturating_sub(age),
                before: units[no].said,
                same: !renewed,
                longest: longest(&units[no].looks),
            };
            let learned =
                learn(&groups[0], &groups[1], &groups[2], terms.looks).filter(|_| learning);
            let said = next(learned.as_ref(), at, Some(terms));
            if today > LEARNING {
                let told = &mut told[care];
                told.looks += 1;
                told.dirty += u32::from(dirty);
                told.days += f64::from(said.days);
                told.moves += u32::from(units[no].said != Some(said.days));
                if age == 0 {
                    told.new.push(said.days);
                }
            }
            units[no].said = Some(said.days);
            units[no].due = today + said.days;
        }
    }
    told
}

fn main() {
    let seed = std::env::args()
        .nth(1)
        .and_then(|seed| seed.parse().ok())
        .unwrap_or(1);
    let terms = Terms {
        chance: 0.20,
        looks: 8,
        longer: true,
        most: 28,
    };
    for (name, cares) in [
        ("steady", [(1.0, 30.0), (1.0, 90.0), (1.0, 200.0)]),
        ("wearing", [(2.0, 30.0), (2.0, 90.0), (2.0, 200.0)]),
        ("wearing fast", [(3.5, 25.0), (3.5, 60.0), (3.5, 120.0)]),
    ] {
        for learning in [false, true] {
            let mut all: Vec<Told> = cares.iter().map(|_| Told::default()).collect();
            for no in 0..HOMES {
                let mut random = Random(seed * 1000 + no);
                let one = home(&mut random, &cares, terms, learning);
                all.iter_mut().zip(one).for_each(|(sum, one)| sum.add(one));
            }
            for (told, (shape, scale)) in all.iter_mut().zip(cares) {
                told.new.sort_unstable();
                let looks = f64::from(told.looks);
                println!(
                    "{name:>12}, shape {shape}, scale {scale:>3}, by the {}: {:>4.1} in 100 dirty, {:>4.1} days apart; a new one {} to {} days; {:>2.0} in 100 looks move it",
                    if learning { "looks" } else { "profile" },
                    100.0 * f64::from(told.dirty) / looks,
                    told.days / looks,
                    told.new_at(10),
                    told.new_at(90),
                    100.0 * f64::from(told.moves) / looks,
                );
            }
        }
    }
}
