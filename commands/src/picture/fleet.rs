//! How many surfaces are enough: the share of requests that find none ready against how many are owned, with the promise, today's count
//! and the fewest that keep it. Decides what is drawn and read out; leaves the figures to the rule.

use super::axis::{WHOLE, counts, millionths, percent, shares};
use super::{Chart, Drawn, Layer, Level, Line, Mark, MarkKind, Picture, Upright, cut};
use crate::rules::fleet_size::{Demand, FleetFault, MOST_SURFACES};
use crate::say;
use crate::words::Lang;

/// The chance at which the picture begins, where the promise is bolder: one request in five finding none is no plan.
const FROM: f64 = 0.2;
/// The chance by the most that may be asked for at which it begins, where there are counts enough above it.
const FROM_MOST: f64 = 0.5;
/// How many counts beyond the fewest and today's are drawn, at least.
const BEYOND: u32 = 3;
/// Today's count stands at the end of the axis where it is more than so many times the fewest.
const FAR: u32 = 5;
/// What is less is said to be under it, in millionths.
const LEAST_SAID: i64 = WHOLE / 1_000;
/// The most counts with a mark each.
const MARKED_MAX: usize = 60;

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Fleet {
    /// What is asked for.
    pub demand: Demand,
    /// The least and the most that may be asked for as well, by what is on record; `None` where all of it was typed.
    pub range: Option<[Demand; 2]>,
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
    let longest = most.max(of.owned.min(MOST_SURFACES));
    let curve = of.demand.curve(longest)?;
    let range = match of.range {
        Some([least, most]) => Some([least.curve(longest)?, most.curve(longest)?]),
        None => None,
    };
    let first = curve.partition_point(|chance| *chance > FROM.max(of.promise * 2.0));
    // From the first count that is worth drawing, or from today's where that is fewer; where so few that more than half might find
    // none, only the one below them, which would else press all others down.
    let least = of.owned.min(fewest) as usize;
    let first = first.saturating_sub(1).min(least);
    let bold = |count: &usize| {
        let high = range.as_ref().and_then(|[_, most]| most.get(*count));
        high.is_some_and(|high| *high > FROM_MOST)
    };
    let first = (first..least.saturating_sub(1))
        .take_while(bold)
        .last()
        .map_or(first, |last| last + 1);
    let shown: Vec<(i64, i64)> = curve
        .iter()
        .enumerate()
        .take(most as usize + 1)
        .skip(first)
        .map(|(count, chance)| (count as i64, millionths(*chance)))
        .collect();
    let chance = |count: u32| curve.get(count as usize).copied().map_or(0, millionths);
    let (promise, now) = (millionths(of.promise), chance(of.owned));
    // All of the area stands in the picture: cut off, its edge would look like a limit.
    let high = range.as_ref().and_then(|[_, most]| most.get(first));
    let top = shown
        .first()
        .map_or(0, |(_, chance)| *chance)
        .max(high.copied().map_or(0, millionths))
        .max(promise * 2);
    let mut layers = Vec::new();
    layers.extend(range.as_ref().map(|[least, most]| {
        let ends = |count: i64| {
            let place = usize::try_from(count).ok()?;
            let [low, high] = [least, most].map(|curve| curve.get(place).copied());
            Some((count, millionths(low?), millionths(high?)))
        };
        Layer::Between {
            points: shown.iter().filter_map(|(count, _)| ends(*count)).collect(),
        }
    }));
    layers.extend([
        Layer::Line {
            points: shown.clone(),
            kind: Line::Seen,
            label: String::new(),
        },
        Layer::Level {
            at: promise,
            kind: Level::Limit,
            label: say!(
                lang,
                "picture-fleet-promise",
                chance = percent(lang, promise)
            ),
        },
    ]);
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
        let over = *chance > promise;
        Mark {
            at: *count,
            from: *chance,
            to: *chance,
            // What breaks the promise has another shape than what keeps it, however near the line it lies.
            kind: if chosen {
                MarkKind::Chosen
            } else if over {
                MarkKind::High
            } else {
                MarkKind::Plain
            },
            label: if chosen || *count == i64::from(of.owned) {
                let key = if over {
                    "picture-fleet-none-over"
                } else {
                    "picture-fleet-none"
                };
                say!(lang, key, count = *count, chance = worse(lang, *chance))
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
    let mut text = vec![say!(
        lang,
        "picture-fleet-text",
        owned = i64::from(of.owned),
        now = worse(lang, now),
        fewest = i64::from(fewest),
        then = worse(lang, chance(fewest)),
        promise = percent(lang, promise)
    )];
    let counts_told = [fewest, of.owned];
    let counts_told = &counts_told[usize::from(same)..];
    text.extend(range.as_ref().into_iter().flat_map(|ends| {
        counts_told.iter().filter_map(move |count| {
            let place = *count as usize;
            let [least, most] = [ends[0].get(place)?, ends[1].get(place)?];
            Some(say!(
                lang,
                "picture-fleet-range-text",
                count = i64::from(*count),
                least = worse(lang, millionths(*least)),
                most = worse(lang, millionths(*most))
            ))
        })
    }));
    Ok(Picture {
        name: "fleet.png".to_owned(),
        title: say!(lang, "picture-fleet"),
        about: range.map_or_else(String::new, |_| say!(lang, "picture-fleet-range")),
        text: cut(text.join(" ")),
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
    // Never nothing: however many are owned, one request may find none.
    if millionths < LEAST_SAID {
        return say!(lang, "share-under");
    }
    let step = if millionths < WHOLE / 10 {
        1_000
    } else {
        10_000
    };
    percent(lang, (millionths + step - 1) / step * step)
}
