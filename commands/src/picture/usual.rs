//! How the readings of a surface stand against what is usual for it: each in order of time, their mean, between which
//! readings chance alone would keep them, and from where on a reading is adequate. Decides what is drawn and read out; leaves which readings are compared, and the
//! limits, to the caller.

use chrono::NaiveDateTime;

use super::axis::{day_time, span, time};
use super::readings::{depth, height_over};
use super::{Chart, Drawn, Layer, Level, Line, Mark, MarkKind, Picture, cut, file_name, moment};
use crate::ids::Tag;
use crate::rules::air::{Tenths, Units, show};
use crate::rules::trend;
use crate::say;
use crate::words::Lang;

/// So many of those that stand out have their reading beside them, the newest first.
const LABELS_MAX: usize = 6;

/// What is drawn. Moments are in the home's local time.
#[derive(Clone, Copy, Debug)]
pub struct Usual<'a> {
    /// The surface.
    pub tag: &'a Tag,
    /// The readings, oldest first.
    pub readings: &'a [(NaiveDateTime, Tenths)],
    /// What is usual, as [`trend::Chart::of`] says.
    pub chart: &'a trend::Chart,
    /// From what air on a reading is adequate, as the home or its profile has it.
    pub adequate: Tenths,
    /// A mean or a limit in words, from tenths of a millimetre.
    pub inches: fn(f64) -> String,
}

/// The picture. Readings stand in it in tenths of a millimetre.
#[must_use]
pub fn usual(lang: Lang, of: &Usual<'_>) -> Picture {
    let Usual { tag, chart, .. } = *of;
    let limits = [chart.low.max(0.0), chart.high];
    let tenths = |value: f64| value.round().clamp(0.0, 1e6) as i64;
    let values = of.readings.iter().map(|(_, air)| f64::from(air.0));
    let top = height_over(
        values
            .chain([chart.high, f64::from(of.adequate.0)])
            .fold(0.0, f64::max) as i32,
    );
    let (from, to) = match (of.readings.first(), of.readings.last()) {
        (Some((first, _)), Some((last, _))) => (*first, *last),
        (None, _) | (_, None) => (NaiveDateTime::default(), NaiveDateTime::default()),
    };
    let mut labels = 0;
    let mut marks: Vec<Mark> = of
        .readings
        .iter()
        .rev()
        .map(|(at, air)| {
            let value = f64::from(air.0);
            let kind = if !chart.stands_out(value) {
                MarkKind::Plain
            } else if value < chart.mean {
                MarkKind::Low
            } else {
                MarkKind::High
            };
            let said = kind != MarkKind::Plain && labels < LABELS_MAX;
            labels += usize::from(said);
            Mark {
                at: moment(*at),
                from: i64::from(air.0),
                to: i64::from(air.0),
                kind,
                label: if said {
                    show(*air, Units::Inches)
                } else {
                    String::new()
                },
            }
        })
        .collect();
    marks.reverse();
    let out: Vec<&Mark> = marks
        .iter()
        .filter(|mark| mark.kind != MarkKind::Plain)
        .collect();
    let [low, high] = limits.map(of.inches);
    let mean = (of.inches)(chart.mean);
    let mut text = vec![say!(
        lang,
        "picture-usual-text",
        tag = tag.as_str(),
        span = span(lang, from, to),
        count = marks.len() as i64,
        from = low.as_str(),
        to = high.as_str(),
        mean = mean.as_str()
    )];
    let adequate = show(of.adequate, Units::Inches);
    text.push(say!(
        lang,
        if chart.low < f64::from(of.adequate.0) {
            "picture-usual-below"
        } else {
            "picture-usual-within"
        },
        air = adequate.as_str()
    ));
    let named = of
        .readings
        .iter()
        .rev()
        .filter(|(_, air)| chart.stands_out(f64::from(air.0)))
        .take(LABELS_MAX)
        .map(|(at, air)| format!("{}: {}", day_time(lang, *at), show(*air, Units::Inches)));
    let named: Vec<String> = named.collect();
    text.push(if named.is_empty() {
        say!(lang, "picture-usual-none")
    } else {
        let more = out.len() - named.len();
        let mut these = named.join("; ");
        if more > 0 {
            these = say!(lang, "picture-and-more", these = these, count = more as i64);
        }
        say!(
            lang,
            "picture-usual-out",
            count = out.len() as i64,
            these = these
        )
    });
    let through = marks.iter().map(|mark| (mark.at, mark.from)).collect();
    let level = |kind: Level, at: f64, label: String| Layer::Level {
        at: tenths(at),
        kind,
        label,
    };
    let layers = vec![
        Layer::Line {
            points: through,
            kind: Line::Seen,
            label: String::new(),
        },
        level(
            Level::Chance,
            limits[1],
            say!(lang, "picture-usual-high", air = high),
        ),
        level(
            Level::Chance,
            limits[0],
            say!(lang, "picture-usual-low", air = low),
        ),
        // What is usual may lie below it.
        level(
            Level::Limit,
            f64::from(of.adequate.0),
            say!(lang, "picture-usual-adequate", air = adequate),
        ),
        level(
            Level::Mean,
            chart.mean,
            say!(lang, "picture-usual-mean", air = mean.as_str()),
        ),
        Layer::Marks(marks),
    ];
    Picture {
        name: file_name("usual", tag.as_str()),
        title: say!(lang, "picture-usual", tag = tag.as_str()),
        about: span(lang, from, to),
        text: cut(text.join(" ")),
        drawn: Drawn::Chart(Chart {
            across: time(lang, from, to),
            up: depth(top),
            layers,
        }),
    }
}
