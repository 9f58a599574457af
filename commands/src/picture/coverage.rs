//! What share of the checks was made, by unit and shift, with how far chance alone may have moved it. Decides what is
//! drawn and read out, and where the axis begins, which is said where that is not at nothing; leaves what counts, and in which order the rows stand, to the caller. A row is a unit's work on a
//! shift, never one person's.

use super::axis::{WHOLE, millionths, percent, percent_tenths, shares_from};
use super::{
    Drawn, Picture, Row, RowMark, RowMarkKind, Rows, Said, Stretch, StretchKind, cut, file_name,
};
use crate::rules::share::{Share, share};
use crate::say;
use crate::words::Lang;

/// An axis begins at a multiple of this share, in millionths.
const STEP: i64 = 50_000;
/// Where it would begin below this, it begins at nothing.
const FROM_LEAST: i64 = 250_000;

/// A row.
#[derive(Clone, Copy, Debug)]
pub struct Covered<'a> {
    /// The unit and the shift: "West, night".
    pub name: &'a str,
    /// How many were made in time.
    pub made: u32,
    /// How many were to be made.
    pub of: u32,
}

/// The picture of these rows, in this order. `span` says from when to when; shares stand in it in millionths.
#[must_use]
pub fn coverage(lang: Lang, span: &str, rows: &[Covered<'_>]) -> Picture {
    let said = |row: &Covered<'_>| match share(row.made, row.of) {
        None => say!(lang, "picture-coverage-none"),
        Some(found) => {
            let [low, high] = limits(lang, found);
            say!(
                lang,
                "picture-coverage-said",
                made = i64::from(row.made),
                of = i64::from(row.of),
                low = low,
                high = high
            )
        }
    };
    let drawn = rows.iter().take(super::ROWS_MAX).map(|row| {
        let found = share(row.made, row.of);
        Row {
            name: row.name.to_owned(),
            says: vec![Said {
                mark: None,
                words: said(row),
            }],
            stretches: found
                .iter()
                .map(|found| Stretch {
                    from: millionths(found.low),
                    to: millionths(found.high),
                    kind: StretchKind::Chance,
                })
                .collect(),
            marks: found
                .iter()
                .map(|found| RowMark {
                    at: millionths(found.share),
                    kind: RowMarkKind::Share,
                })
                .collect(),
        }
    });
    // In few words: twelve rows with long names are read out whole.
    let told = rows.iter().map(|row| {
        let told = match share(row.made, row.of) {
            None => said(row),
            Some(found) => {
                let [low, high] = limits(lang, found);
                say!(
                    lang,
                    "picture-coverage-told",
                    made = i64::from(row.made),
                    of = i64::from(row.of),
                    low = low,
                    high = high
                )
            }
        };
        format!("{}: {told}", row.name)
    });
    let told: Vec<String> = told.collect();
    let from = begins(rows);
    let mut across = shares_from(lang, from, WHOLE);
    across.title = say!(lang, "picture-coverage-across");
    let about = match from {
        0 => span.to_owned(),
        _ => say!(
            lang,
            "picture-coverage-about",
            span = span,
            from = percent(lang, from)
        ),
    };
    Picture {
        name: file_name("coverage", span),
        title: say!(lang, "picture-coverage"),
        about,
        text: cut(say!(
            lang,
            "picture-coverage-text",
            span = span,
            rows = told.join("; ")
        )),
        drawn: Drawn::Rows(Rows {
            across,
            rows: drawn.collect(),
        }),
    }
}

/// Both ends of where a share likely lies; with a tenth where whole percents would make them one.
fn limits(lang: Lang, found: Share) -> [String; 2] {
    let ends = [found.low, found.high].map(millionths);
    let [low, high] = ends.map(|end| percent(lang, end));
    if low == high {
        ends.map(|end| percent_tenths(lang, end))
    } else {
        [low, high]
    }
}

/// Where the axis begins: just below the lowest of what is drawn, so that shares that are near to each other are told apart.
/// A dot and a line say where they stand whatever the beginning; a bar would not.
fn begins(rows: &[Covered<'_>]) -> i64 {
    let rows = rows.iter().take(super::ROWS_MAX);
    let lows = rows.filter_map(|row| Some(millionths(share(row.made, row.of)?.low)));
    let lowest = lows.min().unwrap_or(0);
    // A mark at the very end would look cut.
    let from = (lowest - 1).div_euclid(STEP) * STEP;
    if from < FROM_LEAST { 0 } else { from }
}
