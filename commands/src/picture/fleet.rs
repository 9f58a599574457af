//! How many surfaces are enough: the share of requests that find none ready against how many are owned, with the promise, today's count
//! and the fewest that keep it. Decides what is drawn and read out; leaves the figures to the rule.

use super::axis::{WHOLE, counts, millionths, percent, shares};
use super::{Chart, Drawn, Layer, Line, Mark, MarkKind, Picture, Upright, cut};
use crate::rules::fleet_size::{Demand, FleetFault, MOST_SURFACES};
use crate::say;
use crate::words::Lang;

/// The chance at which the picture begins, where the promise is bolder: one request in five finding none is no plan.
const FROM: f64 = 0.2;
/// How many counts beyond the fewest and today's are drawn, at least.
const BEYOND: u32 = 3;
/// Today's count stands at the end of the axis where it is more than so many times the fewest.
const FAR: u32 = 5;
/// The most counts with a mark each.
const MARKED_MAX: usize = 60;

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Fleet {
    /// What is asked for.
    pub demand: Demand,
    /// The chance that none is free which the home accepts, 0 to 1.
    pub promise: f64,
    /// How many are owned today.
    pub owned: u32,
}

/// The picture. Counts stand in it as they are, chances in millionths.
///
/// # Errors
/// As [`Demand::fewest`].
pub fn fleet(lang: Lang, of: &Fleet) -> Result<Picture, FleetFault> {
    let fewest = of.demand.fewest(of.promise)?;
    // Far more than are needed would leave no room for the curve.
    let beyond = of.owned > fewest.saturating_mul(FAR) + FAR;
    let most = if beyond {
        fewest * 2
    } else {
        fewest.max(of.owned)
    };
    let most = most
        .saturating_add(BEYOND.max(most / 20))
        .min(MOST_SURFACES);
    let curve = of.demand.curve(most.max(of.owned.min(MOST_SURFACES)))?;
    let first = curve.partition_point(|chance| *chance > FROM.max(of.promise * 2.0));
    // From the first count that is worth drawing, or from today's where that is fewer.
    let first = first
        .saturating_sub(1)
        .min(of.owned as usize)
        .min(fewest as usize);
    let shown: Vec<(i64, i64)> = curve
        .iter()
        .enumerate()
        .take(most as usize + 1)
        .skip(first)
        .map(|(count, chance)| (count as i64, millionths(*chance)))
        .collect();
    let chance = |count: u32| curve.get(count as usize).copied().map_or(0, millionths);
    let (promise, now) = (millionths(of.promise), chance(of.owned));
    let top = shown
        .first()
        .map_or(0, |(_, chance)| *chance)
        .max(promise * 2);
    let mut layers = vec![
        Layer::Line {
            points: shown.clone(),
            kind: Line::Seen,
            label: String::new(),
        },
        Layer::Level {
            at: promise,
            label: say!(
                lang,
                "picture-fleet-promise",
                chance = percent(lang, promise)
            ),
        },
    ];
    let same = fewest == of.owned;
    if !same {
        layers.push(Layer::Upright {
            at: i64::from(of.owned),
            kind: Upright::Now,
            label: if beyond {
                say!(
                    lang,
                    "picture-fleet-now-beyond",
                    count = i64::from(of.owned)
                )
            } else {
                say!(lang, "picture-fleet-now", count = i64::from(of.owned))
            },
        });
    }
    let key = if same {
        "picture-fleet-both"
    } else {
        "picture-fleet-fewest"
    };
    layers.push(Layer::Upright {
        at: i64::from(fewest),
        kind: Upright::Chosen,
        label: say!(lang, key, count = i64::from(fewest)),
    });
    let marks = shown.iter().map(|(count, chance)| {
        let chosen = *count == i64::from(fewest);
        Mark {
            at: *count,
            from: *chance,
            to: *chance,
            kind: if chosen {
                MarkKind::Chosen
            } else {
                MarkKind::Plain
            },
            label: if chosen || *count == i64::from(of.owned) {
                say!(lang, "picture-fleet-none", chance = worse(lang, *chance))
            } else {
                String::new()
            },
        }
    });
    let many = shown.len() > MARKED_MAX;
    let marks = marks
        .filter(|mark| !many || !mark.label.is_empty())
        .collect();
    layers.push(Layer::Marks(marks));
    let mut up = shares(lang, top);
    up.title = say!(lang, "picture-fleet-up");
    let text = say!(
        lang,
        "picture-fleet-text",
        owned = i64::from(of.owned),
        now = worse(lang, now),
        fewest = i64::from(fewest),
        then = worse(lang, chance(fewest)),
        promise = percent(lang, promise)
    );
    Ok(Picture {
        name: "fleet.png".to_owned(),
        title: say!(lang, "picture-fleet"),
        about: String::new(),
        text: cut(text),
        drawn: Drawn::Chart(Chart {
            across: counts(
                first as i64,
                i64::from(most),
                1,
                say!(lang, "picture-fleet-across"),
            ),
            up,
            layers,
        }),
    })
}

/// A chance in words, rounded to the worse side, so that what breaks the promise never reads like it.
fn worse(lang: Lang, millionths: i64) -> String {
    let step = if millionths < WHOLE / 10 {
        1_000
    } else {
        10_000
    };
    percent(lang, (millionths + step - 1) / step * step)
}
