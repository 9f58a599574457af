//! How long a filter stays clean: the share that is clean still at each age, as it was seen and as it was worked out, with
//! the promise and the day that follows from it. Decides what is drawn and read out; leaves the figures to the rule.

use super::axis::{WHOLE, age, counts, millionths, percent, shares};
use super::{Chart, DAY, Drawn, Layer, Level, Line, Picture, Upright, cut, file_name};
use crate::choice::Finding;
use crate::rules::filter_life::{Cycle, Life, Mass, dirty_within};
use crate::say;
use crate::words::Lang;

/// The points of a curve.
const POINTS: u32 = 60;

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Lives<'a> {
    /// The filter that was asked about.
    pub tag: &'a str,
    /// Whose looks it rests on: its own tag, or a name for several.
    pub of: &'a str,
    /// How many lives were looked at.
    pub count: usize,
    /// Where they ended, as [`crate::rules::filter_life::turnbull`] says.
    pub masses: &'a [Mass],
    /// What they follow, as [`crate::rules::filter_life::learn`] says.
    pub life: &'a Life,
    /// Whether they follow no one curve.
    pub apart: bool,
    /// The age by which half of them are dirty, as it is said; `None` where there is no estimate.
    pub half: Option<f64>,
    /// The chance to be dirty before it is looked at that the home allows, 0 to 1.
    pub allowed: f64,
    /// The days of use that the filter had when it was last found clean; 0 for a new one.
    pub age: u32,
    /// What it was found to be on that day instead, where it was dirty and was left in: then nothing is promised of it.
    pub left: Option<Finding>,
    /// The cycle that was chosen from that age on, where there is one.
    pub cycle: Option<Cycle>,
}

/// The picture. Ages stand in it in minutes, shares in millionths.
#[must_use]
pub fn lives(lang: Lang, of: &Lives<'_>) -> Picture {
    let days = longest(of);
    let promised = WHOLE - millionths(of.allowed);
    // Of one that is dirty only what is promised of new ones can be drawn.
    let since = if of.left.is_some() { 0 } else { of.age };
    let clean = 1.0 - dirty_at(of, f64::from(since));
    let mut layers = seen(lang, of.masses);
    let curve: Vec<(i64, i64)> = (0..=POINTS)
        .filter_map(|place| {
            let at = f64::from(days) * f64::from(place) / f64::from(POINTS);
            Some((age(at), WHOLE - millionths(of.life.dirty_by(at)?)))
        })
        .collect();
    if !curve.is_empty() {
        layers.push(Layer::Line {
            points: curve,
            kind: Line::Fitted,
            label: say!(lang, "picture-lives-fitted"),
        });
    }
    let share = percent(lang, promised);
    layers.push(Layer::Level {
        at: millionths(clean * (1.0 - of.allowed)),
        kind: Level::Limit,
        label: match since {
            0 => say!(lang, "picture-lives-promise", share = share),
            age => say!(
                lang,
                "picture-lives-promise-from",
                share = share,
                age = i64::from(age)
            ),
        },
    });
    layers.extend(of.cycle.map(|cycle| Layer::Upright {
        at: i64::from(of.age + cycle.days) * DAY,
        kind: Upright::Chosen,
        label: match of.age {
            0 => say!(lang, "picture-lives-cycle", days = i64::from(cycle.days)),
            age => say!(
                lang,
                "picture-lives-next",
                day = i64::from(age + cycle.days)
            ),
        },
    }));
    let left = of.left.map(|finding| {
        let finding = say!(lang, &format!("finding-{}", finding.as_str()));
        let day = i64::from(of.age);
        let label = say!(
            lang,
            "picture-lives-left",
            finding = finding.as_str(),
            day = day
        );
        let words = say!(
            lang,
            "picture-lives-left-text",
            finding = finding,
            day = day
        );
        (label, words)
    });
    layers.extend(left.as_ref().map(|(label, _)| Layer::Upright {
        at: i64::from(of.age) * DAY,
        kind: Upright::Upkeep,
        label: label.clone(),
    }));
    let mut text = vec![say!(
        lang,
        "picture-lives-text",
        of = of.of,
        count = of.count as i64,
        share = percent(lang, promised)
    )];
    text.extend(of.apart.then(|| say!(lang, "picture-lives-apart")));
    text.extend(of.half.map(|_| say!(lang, "picture-lives-worse")));
    text.extend(half(of).map(|days| say!(lang, "picture-lives-half", days = days)));
    text.extend(of.cycle.map(|cycle| {
        let chance = percent(lang, millionths(cycle.chance));
        let days = i64::from(cycle.days);
        match of.age {
            0 => say!(
                lang,
                "picture-lives-cycle-text",
                days = days,
                chance = chance
            ),
            age => say!(
                lang,
                "picture-lives-next-text",
                age = i64::from(age),
                day = i64::from(age) + days,
                chance = chance
            ),
        }
    }));
    text.extend(left.map(|(_, words)| words));
    let mut up = shares(lang, WHOLE);
    up.title = say!(lang, "picture-lives-up");
    Picture {
        name: file_name("filter", of.tag),
        title: say!(lang, "picture-lives"),
        about: say!(
            lang,
            "picture-lives-about",
            of = of.of,
            count = of.count as i64
        ),
        text: cut(text.join(" ")),
        drawn: Drawn::Chart(Chart {
            across: counts(0, i64::from(days), DAY, say!(lang, "picture-lives-across")),
            up,
            layers,
        }),
    }
}

/// The share that is dirty at an age, by which of both the cycle comes from: the promise is of those that are clean then. Where there is no
/// cycle, by the worse.
fn dirty_at(of: &Lives<'_>, age: f64) -> f64 {
    let curve = of.life.dirty_by(age).unwrap_or(0.0);
    let Some(seen) = dirty_within(of.masses, 0.0, age) else {
        return curve;
    };
    let by_seen = of.cycle.map(|cycle| {
        let days = f64::from(cycle.days);
        let then = of.life.dirty_by(age + days).unwrap_or(0.0);
        let by_curve = 1.0 - (1.0 - then) / (1.0 - curve);
        dirty_within(of.masses, age, days).is_some_and(|by_seen| by_seen > by_curve)
    });
    match by_seen {
        Some(true) => seen,
        Some(false) => curve,
        None => seen.max(curve),
    }
}

/// The share still clean as it was seen: level where nothing ended, and the area between before and after where it
/// ended at nobody knows which day.
fn seen(lang: Lang, masses: &[Mass]) -> Vec<Layer> {
    let (mut since, mut left) = (0.0, 1.0);
    let mut layers = Vec::new();
    for (place, mass) in masses.iter().enumerate() {
        let before = millionths(left);
        let last = place + 1 == masses.len() || mass.by.is_none();
        layers.push(Layer::Line {
            points: vec![(age(since), before), (age(mass.after), before)],
            kind: Line::Seen,
            label: if last {
                say!(lang, "picture-lives-seen")
            } else {
                String::new()
            },
        });
        // Beyond the last look nobody knows.
        let Some(by) = mass.by else { break };
        (since, left) = (by, (left - mass.share).max(0.0));
        let after = millionths(left);
        layers.push(Layer::Between {
            points: vec![(age(mass.after), after, before), (age(by), after, before)],
        });
    }
    layers
}

/// The age at which half are dirty, in whole days.
fn half(of: &Lives<'_>) -> Option<i64> {
    of.half.map(|days| days.round() as i64)
}

/// How far the axis goes, in days.
fn longest(of: &Lives<'_>) -> u32 {
    let ends = of.masses.iter().map(|mass| mass.by.unwrap_or(mass.after));
    let cycle = of.cycle.map_or(f64::from(of.age), |cycle| {
        f64::from(of.age) + f64::from(cycle.days) * 1.5
    });
    let seen = ends.fold(cycle.max(7.0), f64::max);
    (seen * 1.05).ceil().clamp(7.0, 4_000.0) as u32
}
