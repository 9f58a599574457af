//! The readings of one surface at one placement, and what happened meanwhile. Decides what of it is drawn and read out;
//! leaves which readings belong together, and which trend goes through them, to the caller.

use chrono::{NaiveDateTime, TimeDelta};

use super::axis::{day, day_time, span, time};
use super::looked::{all_by_feel, looked};
use super::{
    Axis, Chart, Drawn, Layer, Line, MARKS_MAX, Mark, MarkKind, Picture, Tick, Upright, cut,
    file_name, moment,
};
use crate::ids::Tag;
use crate::rules::air::{INCH_TENTHS, MAX_DEPTH, Tenths, Units, show};
use crate::rules::hand_check::{Air, Band, Check, Judgement};
use crate::rules::trend::{Crossing, Trend};
use crate::say;
use crate::words::Lang;

/// What happened is named in the words to be read out up to this many times.
const TOLD_MAX: usize = 8;

/// What is drawn. Moments are in the home's local time.
#[derive(Clone, Debug)]
pub struct Readings<'a> {
    /// The surface.
    pub tag: &'a Tag,
    /// How it is checked: what is looked at and felt has no inches.
    pub check: Check,
    /// What is adequate.
    pub band: Band,
    /// From when on.
    pub from: NaiveDateTime,
    /// Until when.
    pub to: NaiveDateTime,
    /// The checks in between, oldest first.
    pub checks: Vec<Checked>,
    /// What happened in between, oldest first.
    pub events: Vec<Event>,
    /// The line through the readings, where there is one to speak of.
    pub trend: Option<Trending>,
    /// So many checks in between are not on that line, and not among [`Readings::checks`].
    pub left_out: usize,
}

impl Readings<'_> {
    /// Whether it is looked at and felt, and nothing that a hand found is left among the checks.
    fn by_feel(&self, checks: &[Checked]) -> bool {
        let measured = |check: &Checked| matches!(check.air, Air::Measured(_));
        let by_hand = |check: &Checked| !check.felt && !matches!(check.air, Air::CouldNot(_));
        let felt = checks.iter().any(|check| check.felt);
        // In old records nothing says of what was not right how it was found.
        (self.check == Check::LookAndFeel && !checks.iter().any(measured))
            || (felt && !checks.iter().any(by_hand))
    }
}

/// A check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Checked {
    /// When.
    pub at: NaiveDateTime,
    /// What was found.
    pub air: Air,
    /// How it was judged then, by the band of then.
    pub judged: Judgement,
    /// Looked at and felt from above, so that it has no inches.
    pub felt: bool,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// When.
    pub at: NaiveDateTime,
    /// What kind.
    pub kind: Upright,
    /// Two or three words: "setting 4", "low pressure".
    pub words: String,
}

/// The line that readings follow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trending {
    /// The moment from which the trend counts its days.
    pub since: NaiveDateTime,
    /// The days of the oldest reading that it was made of.
    pub oldest_days: f64,
    /// The days of the newest.
    pub newest_days: f64,
    /// The line, in tenths of a millimetre a day.
    pub trend: Trend,
    /// Where it meets the band's limit, as [`Trend::crossing`] says.
    pub crossing: Crossing,
    /// It is drawn at most so many days beyond the newest reading: a date long after is no forecast.
    pub ahead: f64,
}

impl Trending {
    /// The days at which it meets the limit, where that is near enough to be said.
    fn crosses(&self) -> Option<f64> {
        match self.crossing {
            Crossing::At { likely, .. } if likely <= self.newest_days + self.ahead => Some(likely),
            Crossing::At { .. } | Crossing::Past | Crossing::Never => None,
        }
    }

    /// Days of the line as a moment.
    fn at(&self, days: f64) -> Option<NaiveDateTime> {
        let seconds = TimeDelta::try_seconds((days * 86_400.0) as i64)?;
        self.since.checked_add_signed(seconds)
    }
}

/// The picture.
#[must_use]
pub fn readings(lang: Lang, of: &Readings<'_>) -> Picture {
    let older = of.checks.len().saturating_sub(MARKS_MAX);
    let checks = &of.checks[older..];
    let (mut from, to) = (of.from.min(of.to), of.to.max(of.from));
    if older > 0 {
        from = checks
            .first()
            .map_or(from, |first| first.at.clamp(from, to));
    }
    let mut about = span(lang, from, to);
    if older > 0 {
        about = say!(
            lang,
            "picture-newest-of",
            span = about,
            shown = checks.len() as i64,
            count = of.checks.len() as i64
        );
    }
    if of.left_out > 0 {
        about = say!(
            lang,
            "picture-left-out-about",
            span = about,
            count = of.left_out as i64
        );
    }
    let tag = of.tag.as_str();
    if of.by_feel(checks) {
        let events: Vec<&Event> = of.events.iter().filter(|event| event.at >= from).collect();
        return Picture {
            name: file_name("readings", tag),
            title: say!(lang, "picture-looked", tag = tag),
            text: text(lang, of, checks, &about),
            about,
            drawn: looked(lang, (from, to), checks, &events),
        };
    }
    let mut layers = vec![Layer::Band {
        from: i64::from(of.band.low.0),
        to: i64::from(of.band.high.0),
        label: say!(lang, "picture-band", band = band_words(of.band)),
    }];
    let (trend, end) = match &of.trend {
        Some(trend) => trend_layers(lang, trend, to),
        None => (Vec::new(), to),
    };
    layers.extend(trend);
    // The words of alarms have room before those of settings, and the newest before older ones.
    let shown = of.events.iter().filter(|event| event.at >= from);
    let mut events: Vec<&Event> = shown.rev().collect();
    events.sort_by_key(|event| rank(event.kind));
    layers.extend(events.iter().map(|event| Layer::Upright {
        at: moment(event.at),
        kind: event.kind,
        label: event.words.clone(),
    }));
    let top = height(of.band, checks);
    layers.push(Layer::Marks(marks(lang, checks, of.band, top)));
    let felt = checks.iter().filter(|check| check.felt);
    let felt: Vec<(i64, MarkKind)> = felt
        .filter_map(|check| Some((moment(check.at), mark_of(check.judged)?)))
        .collect();
    if !felt.is_empty() {
        layers.push(Layer::Felt {
            marks: felt,
            label: say!(lang, "picture-felt"),
        });
    }
    let missing = checks
        .iter()
        .filter(|check| matches!(check.air, Air::CouldNot(_)));
    layers.push(Layer::Missing {
        at: missing.map(|check| moment(check.at)).collect(),
        label: say!(lang, "picture-could-not"),
    });
    Picture {
        name: file_name("readings", tag),
        title: say!(lang, "picture-readings", tag = tag),
        text: text(lang, of, checks, &about),
        about,
        drawn: Drawn::Chart(Chart {
            across: time(lang, from, end),
            up: depth(top),
            layers,
        }),
    }
}

/// How high the picture reaches, in tenths of a millimetre: over the band, and over all but a few readings that no surface gives.
fn height(band: Band, checks: &[Checked]) -> i32 {
    let most = checks.iter().filter_map(|check| match check.air {
        Air::Measured(found) => Some(found.0),
        Air::Within | Air::Under1 | Air::Over | Air::Touching | Air::CouldNot(_) => None,
    });
    let half = INCH_TENTHS / 2;
    let most = most.max().unwrap_or(0).clamp(0, MAX_DEPTH.0);
    // At least half an inch of room above the band, and a little above the highest.
    (most + half / 4).max(band.high.0 + half)
}

/// How high a picture reaches whose highest is this.
pub(super) fn height_over(most: i32) -> i32 {
    (most.clamp(0, MAX_DEPTH.0) + INCH_TENTHS / 4).max(INCH_TENTHS)
}

/// The axis of readings.
pub(super) fn depth(top: i32) -> Axis {
    let mut finer = [INCH_TENTHS / 2, INCH_TENTHS].into_iter();
    let step = finer.find(|step| top / step <= 6);
    let step = step.unwrap_or(INCH_TENTHS * 2);
    let ticks = (0..=top / step).map(|place| Tick {
        at: i64::from(place * step),
        label: show(Tenths(place * step), Units::Inches),
    });
    Axis {
        from: 0,
        to: i64::from(top),
        ticks: ticks.collect(),
        title: String::new(),
    }
}

fn marks(lang: Lang, checks: &[Checked], band: Band, top: i32) -> Vec<Mark> {
    let (low, high) = (band.low.0, band.high.0);
    // What was felt has no inches, and stands below.
    let hand: Vec<Checked> = checks.iter().copied().filter(|check| !check.felt).collect();
    let lowest = lowest(&hand);
    let newest = hand
        .last()
        .filter(|_| checks.last().is_some_and(|last| !last.felt));
    hand.iter()
        .filter_map(|check| {
            let (from, to) = match check.air {
                Air::Measured(found) => (found.0, found.0),
                Air::Within => (low, high),
                Air::Under1 => (0, low),
                Air::Over => (high, top),
                Air::Touching => (0, 0),
                Air::CouldNot(_) => return None,
            };
            let kind = mark_of(check.judged)?;
            // The newest reading says what it is; so does the lowest that is not adequate.
            let is = |one: Option<&Checked>| one.is_some_and(|one| std::ptr::eq(one, check));
            let air = || crate::decide::show_air(lang, check.air, band);
            let label = if is(newest) && from == to {
                say!(lang, "picture-mark-newest", air = air())
            } else if is(lowest) && kind != MarkKind::Good {
                say!(lang, "picture-mark-lowest", air = air())
            } else {
                String::new()
            };
            Some(Mark {
                at: moment(check.at),
                from: i64::from(from),
                to: i64::from(to),
                kind,
                label,
            })
        })
        .collect()
}

/// The mark of a judgement; nothing where the check could not be made.
fn mark_of(judged: Judgement) -> Option<MarkKind> {
    match judged {
        Judgement::Adequate => Some(MarkKind::Good),
        Judgement::Low => Some(MarkKind::Low),
        Judgement::BottomedOut => Some(MarkKind::None),
        Judgement::High => Some(MarkKind::High),
        Judgement::CouldNot => None,
    }
}

/// The lowest of all that was found, the newest of several. Nothing left is the lowest; then an interval that begins there, since
/// nobody knows how little it was.
fn lowest(checks: &[Checked]) -> Option<&Checked> {
    let found = checks.iter().enumerate().filter_map(|(place, check)| {
        let from = match check.air {
            Air::Touching => (0, 0),
            Air::Measured(Tenths(..=0)) => (0, 0),
            Air::Under1 => (0, 1),
            Air::Measured(found) => (1, found.0),
            Air::Over => (2, 0),
            Air::Within | Air::CouldNot(_) => return None,
        };
        Some(((from, std::cmp::Reverse(place)), check))
    });
    found.min_by_key(|(low, _)| *low).map(|(_, check)| check)
}

/// The lowest with a number, the newest of several.
fn lowest_measured(checks: &[Checked]) -> Option<(&Checked, Tenths)> {
    let found = checks.iter().rev().filter_map(|check| match check.air {
        Air::Measured(found) => Some((check, found)),
        Air::Within | Air::Under1 | Air::Over | Air::Touching | Air::CouldNot(_) => None,
    });
    found.min_by_key(|(_, found)| *found)
}

/// The line with its limits and where it crosses, and where the axis then ends.
fn trend_layers(lang: Lang, of: &Trending, to: NaiveDateTime) -> (Vec<Layer>, NaiveDateTime) {
    let Trending {
        oldest_days,
        newest_days,
        trend,
        ..
    } = *of;
    let at = |days: f64| of.at(days);
    let likely = of.crosses();
    let last = likely.map_or(newest_days, |likely| likely.max(newest_days));
    let mut layers = Vec::new();
    let place = |days: f64, value: f64| Some((moment(at(days)?), value.round() as i64));
    if let (Some(low), Some(high)) = (trend.low, trend.high) {
        let between = [oldest_days, trend.days, last]
            .into_iter()
            .filter_map(|days| {
                let ends = [low, high].map(|slope| trend.value + slope * (days - trend.days));
                let (across, lower) = place(days, ends[0].min(ends[1]))?;
                Some((across, lower, ends[0].max(ends[1]).round() as i64))
            });
        layers.push(Layer::Between {
            points: between.collect(),
        });
    }
    let ends = [oldest_days, last];
    let points = ends
        .into_iter()
        .filter_map(|days| place(days, trend.value_at(days)));
    layers.push(Layer::Line {
        points: points.collect(),
        kind: Line::Fitted,
        label: say!(lang, "picture-trend"),
    });
    let crossed = likely.and_then(at);
    // Where it meets the limit, which is what is pointed out.
    layers.extend(
        likely
            .and_then(|likely| place(likely, trend.value_at(likely)))
            .map(|(across, up)| {
                Layer::Marks(vec![Mark {
                    at: across,
                    from: up,
                    to: up,
                    kind: MarkKind::Chosen,
                    label: String::new(),
                }])
            }),
    );
    layers.extend(crossed.map(|crossed| Layer::Upright {
        at: moment(crossed),
        kind: Upright::Chosen,
        label: say!(lang, "picture-crosses", day = day(lang, crossed)),
    }));
    let end = crossed.map_or(to, |crossed| {
        let room = TimeDelta::try_hours(12).unwrap_or_default();
        to.max(crossed.checked_add_signed(room).unwrap_or(crossed))
    });
    (layers, end)
}

fn rank(kind: Upright) -> u8 {
    match kind {
        Upright::Alarm => 0,
        Upright::Chosen | Upright::Now => 1,
        Upright::Setting => 2,
        Upright::Moved => 3,
        Upright::Upkeep => 4,
    }
}

fn band_words(band: Band) -> String {
    let (low, high) = (
        show(band.low, Units::Inches),
        show(band.high, Units::Inches),
    );
    format!("{low} – {high}")
}

/// All that the picture shows, in words.
fn text(lang: Lang, of: &Readings<'_>, checks: &[Checked], about: &str) -> String {
    let count =
        |judged: Judgement| checks.iter().filter(|check| check.judged == judged).count() as i64;
    let tag = of.tag.as_str();
    let by_feel = of.by_feel(checks);
    let mut text = vec![if by_feel {
        say!(lang, "picture-looked-text", tag = tag, span = about)
    } else {
        say!(
            lang,
            "picture-readings-text",
            tag = tag,
            span = about,
            band = band_words(of.band)
        )
    }];
    if checks.is_empty() {
        text.push(say!(lang, "picture-no-readings"));
    }
    let counted = [
        Judgement::Adequate,
        Judgement::Low,
        Judgement::BottomedOut,
        Judgement::High,
        Judgement::CouldNot,
    ];
    let counts: Vec<String> = counted
        .into_iter()
        .filter(|judged| count(*judged) > 0)
        .map(|judged| {
            let count = count(judged);
            if by_feel && judged == Judgement::Adequate && all_by_feel(checks) {
                say!(lang, "picture-count-right", count = count)
            } else {
                count_words(lang, judged, count)
            }
        })
        .collect();
    if !counts.is_empty() {
        text.push(say!(lang, "picture-counts", counts = counts.join(", ")));
    }
    let felt = checks.iter().filter(|check| check.felt).count() as i64;
    if felt > 0 && !by_feel {
        text.push(say!(lang, "picture-felt-of", count = felt));
    }
    let said = |check: &Checked| {
        let air = crate::decide::show_air(lang, check.air, of.band);
        (day_time(lang, check.at), air)
    };
    text.extend(
        checks
            .last()
            .map(said)
            .map(|(at, air)| say!(lang, "picture-newest", at = at, air = air)),
    );
    let newest = |check: &Checked| checks.last().is_some_and(|last| std::ptr::eq(last, check));
    if let Some(lowest) = lowest(checks).filter(|_| !by_feel) {
        if !newest(lowest) {
            let (at, air) = said(lowest);
            text.push(say!(lang, "picture-lowest", at = at, air = air));
        }
        // How little an interval was is not known: a number below its end is said as well.
        let measured = lowest_measured(checks).filter(|(_, found)| *found < of.band.low);
        if let (Air::Under1, Some((measured, _))) = (lowest.air, measured) {
            let (at, air) = said(measured);
            text.push(say!(lang, "picture-lowest-measured", at = at, air = air));
        }
    }
    if let Some(trend) = &of.trend {
        text.push(trend_words(lang, trend));
    }
    let told: Vec<String> = of
        .events
        .iter()
        .rev()
        .take(TOLD_MAX)
        .map(|event| format!("{}: {}", day_time(lang, event.at), event.words))
        .collect();
    if !told.is_empty() {
        let more = of.events.len() - told.len();
        let mut told = told.join("; ");
        if more > 0 {
            told = say!(lang, "picture-and-more", these = told, count = more as i64);
        }
        text.push(say!(lang, "picture-events", events = told));
    }
    cut(text.join(" "))
}

fn count_words(lang: Lang, judged: Judgement, count: i64) -> String {
    match judged {
        Judgement::Adequate => say!(lang, "picture-count-adequate", count = count),
        Judgement::Low => say!(lang, "picture-count-low", count = count),
        Judgement::BottomedOut => say!(lang, "picture-count-bottomed-out", count = count),
        Judgement::High => say!(lang, "picture-count-high", count = count),
        Judgement::CouldNot => say!(lang, "picture-count-could-not", count = count),
    }
}

fn trend_words(lang: Lang, of: &Trending) -> String {
    let key = if of.trend.slope < 0.0 {
        "picture-trend-lower"
    } else if of.trend.slope > 0.0 {
        "picture-trend-higher"
    } else {
        "picture-trend-level"
    };
    let mut words = say!(lang, key);
    if let Some(at) = of.crosses().and_then(|likely| of.at(likely)) {
        words.push(' ');
        words.push_str(&say!(lang, "picture-trend-crosses", day = day(lang, at)));
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_axis_has_seven_lines_at_most_at_whole_or_half_inches() {
        let inches = |top: i32| {
            let axis = depth(top);
            assert!(axis.from == 0 && axis.to == i64::from(top));
            let at = |tick: &Tick| tick.at * 2 / i64::from(INCH_TENTHS);
            axis.ticks.iter().map(at).collect::<Vec<i64>>()
        };
        assert_eq!(inches(INCH_TENTHS), [0, 1, 2]);
        assert_eq!(inches(INCH_TENTHS * 3 + 60), [0, 1, 2, 3, 4, 5, 6]);
        assert_eq!(inches(INCH_TENTHS * 4), [0, 2, 4, 6, 8]);
        assert_eq!(inches(INCH_TENTHS * 6 + 200), [0, 2, 4, 6, 8, 10, 12]);
        assert_eq!(inches(INCH_TENTHS * 7), [0, 4, 8, 12]);
        // The deepest that can be entered, with its room.
        assert_eq!(inches(height_over(MAX_DEPTH.0)), [0, 4, 8, 12, 16]);
        let labels: Vec<String> = depth(INCH_TENTHS * 7)
            .ticks
            .into_iter()
            .map(|tick| tick.label)
            .collect();
        assert_eq!(labels, ["0 in", "2 in", "4 in", "6 in"]);
    }
}
