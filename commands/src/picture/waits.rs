//! How long alarms waited until somebody was on the way, by unit and shift: half of them and nine in ten, of a few the
//! shortest and the longest; and for how long nobody has been yet. Decides what is drawn and read out; leaves what counts, the
//! figures and the order of the rows to the caller. A row is a unit's work on a shift, never one person's.

use super::axis::counts;
use super::{
    Drawn, Picture, Row, RowMark, RowMarkKind, Rows, Said, Stretch, StretchKind, cut, file_name,
};
use crate::rules::waits::Whole;
use crate::say;
use crate::words::Lang;

/// The longest wait that is drawn to scale, in minutes: a day. What is longer stands at its end.
const LONGEST: i64 = 1_440;

/// The most rows: with three or four lines of words each more would be taller than a picture may be.
pub const ROWS_MAX: usize = 12;

/// A row.
#[derive(Clone, Copy, Debug)]
pub struct Waited<'a> {
    /// The unit and the shift: "West, shift from 23:00".
    pub name: &'a str,
    /// How many alarms.
    pub count: usize,
    /// Whether they are so few that the shortest and the longest wait are said.
    pub few: bool,
    /// In minutes, by when half were taken, or the shortest of a few; nothing where that is not known yet.
    pub half: Option<f64>,
    /// In minutes, by when nine in ten were, or the longest of a few.
    pub most: Option<f64>,
    /// Those that nobody has taken yet.
    pub still: Option<Still>,
}

/// Alarms that still wait.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Still {
    /// How many.
    pub count: usize,
    /// In minutes, how long the first of them has waited so far.
    pub longest: f64,
}

/// The picture of these rows, in this order: `span` says from when to when, `minutes` a wait in words. Times stand in it in
/// seconds.
#[must_use]
pub fn waits(
    lang: Lang,
    span: &str,
    rows: &[Waited<'_>],
    minutes: &dyn Fn(f64) -> String,
) -> Picture {
    // One number for the words and for the dot: as it is said, in whole units.
    let rows: Vec<Waited<'_>> = rows.iter().take(ROWS_MAX).map(as_said).collect();
    let shown = rows.as_slice();
    let longest = shown
        .iter()
        .flat_map(|row| [row.half, row.most, row.still.map(|still| still.longest)])
        .flatten()
        .fold(1.0, f64::max);
    let drawn = shown.iter().map(|row| {
        let still = row.still.map(|still| still.longest);
        let marks = [
            (row.half, RowMarkKind::Half),
            (row.most, RowMarkKind::Most),
            (still, RowMarkKind::Still),
        ];
        let place = |time: Option<f64>| time.map(seconds);
        let mut stretches = Vec::new();
        if let Some(half) = place(row.half) {
            stretches.push(Stretch {
                from: 0,
                to: half,
                kind: StretchKind::Waiting,
            });
            stretches.extend(place(row.most).map(|most| Stretch {
                from: half,
                to: most,
                kind: StretchKind::Rest,
            }));
        }
        // Up to now; as a wait where no other is known, so that what lasts never looks like nothing.
        let known = [row.half, row.most].into_iter().flatten().map(seconds);
        let known = known.max();
        let so_far = place(still).filter(|now| known.is_none_or(|known| known < *now));
        stretches.extend(so_far.map(|now| Stretch {
            from: known.unwrap_or(0),
            to: now,
            kind: match known {
                Some(_) => StretchKind::Rest,
                None => StretchKind::Waiting,
            },
        }));
        let marks = marks.into_iter().filter_map(|(time, kind)| {
            Some(RowMark {
                at: place(time)?,
                kind,
            })
        });
        Row {
            name: row.name.to_owned(),
            says: says(lang, row, minutes),
            stretches,
            marks: marks.collect(),
        }
    });
    let told = shown.iter().map(|row| {
        let said: Vec<String> = says(lang, row, minutes)
            .into_iter()
            .map(|said| said.words)
            .collect();
        format!("{}: {}", row.name, said.join(", "))
    });
    let told: Vec<String> = told.collect();
    let axis = (longest.ceil() as i64).min(LONGEST);
    Picture {
        name: file_name("waits", span),
        title: say!(lang, "picture-waits"),
        about: span.to_owned(),
        text: cut(say!(
            lang,
            "picture-waits-text",
            span = span,
            rows = told.join("; ")
        )),
        drawn: Drawn::Rows(Rows {
            across: counts(0, axis, 60, say!(lang, "picture-alarms-across")),
            rows: drawn.collect(),
        }),
    }
}

/// Its times as they are said: what was taken in whole units upwards, what still waits in whole units downwards.
fn as_said<'a>(row: &Waited<'a>) -> Waited<'a> {
    let whole = |time: f64| Whole::of(time).minutes();
    Waited {
        half: row.half.map(whole),
        most: row.most.map(whole),
        still: row.still.map(|still| {
            // The units of [`Whole`]: minutes, from three days on hours.
            let unit = if still.longest < 4_320.0 { 1.0 } else { 60.0 };
            let whole = (still.longest / unit).floor() * unit;
            Still {
                // Of less than a minute no number is said, and it never looks like nothing.
                longest: if whole > 0.0 { whole } else { still.longest },
                ..still
            }
        }),
        ..*row
    }
}

/// How long something took, in words: one rule for paper and pictures ([`Whole::of`]).
#[must_use]
pub fn lasted(lang: Lang, minutes: f64) -> String {
    match Whole::of(minutes) {
        Whole::Minutes(count) => say!(lang, "report-minutes", count = count),
        Whole::Hours(count, 0) => say!(lang, "report-hours", count = count),
        Whole::Hours(count, rest) => say!(lang, "report-hours-and", count = count, rest = rest),
        Whole::Days(count, 0) => say!(lang, "report-days", count = count),
        Whole::Days(count, rest) => say!(lang, "report-days-and", count = count, rest = rest),
    }
}

fn seconds(minutes: f64) -> i64 {
    (minutes * 60.0).round().clamp(0.0, (LONGEST * 60) as f64) as i64
}

/// How many there were, and how long they took, each with the mark that it explains.
fn says(lang: Lang, row: &Waited<'_>, minutes: &dyn Fn(f64) -> String) -> Vec<Said> {
    let mut said = vec![Said {
        mark: None,
        words: say!(lang, "picture-waits-count", count = row.count as i64),
    }];
    let ends = [
        (half_key(row), row.half, RowMarkKind::Half),
        (most_key(row), row.most, RowMarkKind::Most),
    ];
    let mut known = false;
    for (key, time, kind) in ends {
        let Some(time) = time else { continue };
        known = true;
        said.push(Said {
            mark: Some(kind),
            words: say!(lang, key, time = minutes(time)),
        });
    }
    if !known && row.still.is_none() {
        said.push(Said {
            mark: None,
            words: say!(lang, "picture-waits-not-known"),
        });
    }
    said.extend(row.still.map(|still| Said {
        mark: Some(RowMarkKind::Still),
        words: still_words(lang, still, row.count, minutes),
    }));
    said
}

/// How many still wait, and for longer than what.
fn still_words(lang: Lang, still: Still, of: usize, minutes: &dyn Fn(f64) -> String) -> String {
    let key = match (still.count == of, still.longest >= 1.0) {
        (true, true) => "picture-waits-still",
        (true, false) => "picture-waits-still-new",
        (false, true) => "picture-waits-some-still",
        (false, false) => "picture-waits-some-still-new",
    };
    say!(
        lang,
        key,
        count = still.count as i64,
        time = minutes(still.longest.max(1.0))
    )
}

fn half_key(row: &Waited<'_>) -> &'static str {
    if !row.few {
        "picture-waits-half"
    } else if row.most.is_none() {
        "picture-waits-one"
    } else {
        "picture-waits-first"
    }
}

fn most_key(row: &Waited<'_>) -> &'static str {
    if row.few {
        "picture-waits-last"
    } else {
        "picture-waits-most"
    }
}
