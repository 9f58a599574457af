//! What share of the checks was made, by unit and shift, with how far chance alone may have moved it. Decides what is
//! drawn and read out; leaves what counts, and in which order the rows stand, to the caller. A row is a unit's work on a
//! shift, never one person's.

use super::axis::{WHOLE, millionths, percent, shares};
use super::{
    Drawn, Picture, Row, RowMark, RowMarkKind, Rows, Said, Stretch, StretchKind, cut, file_name,
};
use crate::rules::share::share;
use crate::say;
use crate::words::Lang;

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
    let said = |row: &Covered<'_>| match row.of {
        0 => say!(lang, "picture-coverage-none"),
        of => say!(
            lang,
            "picture-so-many",
            made = i64::from(row.made),
            of = i64::from(of)
        ),
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
    let told = rows.iter().map(|row| {
        let told = match share(row.made, row.of) {
            None => said(row),
            Some(found) => say!(
                lang,
                "picture-coverage-told",
                said = said(row),
                low = percent(lang, millionths(found.low)),
                high = percent(lang, millionths(found.high))
            ),
        };
        format!("{}: {told}", row.name)
    });
    let told: Vec<String> = told.collect();
    let mut across = shares(lang, WHOLE);
    across.title = say!(lang, "picture-coverage-across");
    Picture {
        name: file_name("coverage", span),
        title: say!(lang, "picture-coverage"),
        about: span.to_owned(),
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
