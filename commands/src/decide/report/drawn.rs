//! The pictures of a report. Decides which rows are in them and how a page holds their place; leaves what is drawn of these to
//! [`crate::picture`], and the dots to whoever sends them.

use super::{FEW, Facts, minutes, part_words};
use crate::decide::paper::html;
use crate::evidence::Figures;
use crate::picture::coverage::Covered;
use crate::picture::waits::{ROWS_MAX, Still, Waited};
use crate::picture::{self, Picture};
use crate::rules::waits::Waits;
use crate::say;
use crate::words::Lang;

/// The most rows of one picture: it stays shorter than a page of paper, and than three screens of a phone.
const ROWS_EACH: usize = ROWS_MAX;
/// Room that a page leaves for each of its pictures, in bytes: as large as they come, and as a page holds them.
pub(super) const ROOM: usize = 600_000;

/// As wide as its words are easily read on paper, and never taller than a page.
pub(super) const STYLE: &str =
    "img{display:block;max-width:min(100%,100mm);max-height:240mm;margin:2mm 0;break-inside:avoid}";

/// The checks on time, all together and by unit and shift; several pictures where one has no room for all rows, none where
/// no check was due.
pub(super) fn checks(lang: Lang, facts: &Facts<'_>) -> Vec<Picture> {
    let coverage = &facts.coverage;
    let parts = coverage.parts.iter().filter(|(_, of)| of.due > 0);
    let parts = parts.map(|(part, of)| (part_words(lang, part), *of));
    let mut rows: Vec<_> = parts.collect();
    if rows.len() > 1 {
        rows.insert(0, (say!(lang, "report-all"), coverage.all));
    }
    let rows: Vec<Covered<'_>> = rows
        .iter()
        .map(|(name, of)| Covered {
            name,
            made: of.on_time(),
            of: of.due,
        })
        .collect();
    sheets(lang, (facts, "coverage"), &rows, |span, rows| {
        picture::coverage(lang, span, rows)
    })
}

/// How long alarms waited until somebody was on the way, as [`checks`].
pub(super) fn waits(lang: Lang, facts: &Facts<'_>) -> Vec<Picture> {
    let parts = facts.alarms_by(|alarm| (alarm.unit.cloned(), alarm.shift));
    let mut rows: Vec<(String, Figures)> = parts
        .into_iter()
        .map(|(part, of)| (part_words(lang, &part), of))
        .collect();
    if rows.len() > 1 {
        let all = facts.alarms_by(|_| ()).into_iter();
        let all = all.map(|((), of)| (say!(lang, "report-all"), of));
        rows.splice(0..0, all);
    }
    let rows: Vec<Waited<'_>> = rows.iter().map(|(name, of)| waited(name, of)).collect();
    sheets(lang, (facts, "waits"), &rows, |span, rows| {
        picture::waits(lang, span, rows, &|time| minutes(lang, time))
    })
}

/// By the same rule as the sentences of a report.
fn waited<'a>(name: &'a str, of: &Figures) -> Waited<'a> {
    let few = of.count < FEW;
    let end = |step: Option<&crate::rules::waits::Step>| step.map(|step| step.time);
    let (half, most) = if few {
        (end(of.taken.steps.first()), end(of.taken.steps.last()))
    } else {
        (Waits::median(&of.taken), Waits::ninetieth(&of.taken))
    };
    Waited {
        name,
        count: of.count,
        few,
        half,
        most: most.filter(|most| Some(*most) != half),
        still: of
            .waiting
            .iter()
            .copied()
            .reduce(f64::max)
            .map(|longest| Still {
                count: of.waiting.len(),
                longest,
            }),
    }
}

/// A picture of so many rows each; where there are several, each says which it has. `name` begins their files' names.
fn sheets<T>(
    lang: Lang,
    (facts, name): (&Facts<'_>, &str),
    rows: &[T],
    draw: impl Fn(&str, &[T]) -> Picture,
) -> Vec<Picture> {
    let (first, last) = (facts.of.first.to_string(), facts.of.last.to_string());
    let span = if first == last {
        first.clone()
    } else {
        say!(
            lang,
            "picture-span",
            from = first.as_str(),
            to = last.as_str()
        )
    };
    let sheet = |(place, some): (usize, &[T])| {
        let mut of = format!("{first}-to-{last}");
        let before = place * ROWS_EACH;
        if before > 0 {
            of.push_str(&format!("-{}", place + 1));
        }
        let said = if some.len() == rows.len() {
            span.clone()
        } else {
            say!(
                lang,
                "picture-rows",
                span = span.as_str(),
                from = before as i64 + 1,
                to = (before + some.len()) as i64,
                rows = rows.len() as i64
            )
        };
        Picture {
            name: picture::file_name(name, &of),
            ..draw(&said, some)
        }
    };
    rows.chunks(ROWS_EACH).enumerate().map(sheet).collect()
}

/// Where pictures stand in a page, with their words.
pub(super) fn places(pictures: &[Picture]) -> String {
    let place = |picture: &Picture| {
        let (at, text) = (picture.place(), html(&picture.text));
        format!("<img src=\"{}\" alt=\"{text}\">\n", html(&at))
    };
    pictures.iter().map(place).collect()
}
