//! Axes: where their ticks are and what is written there. Decides steps that people count in; leaves to whoever draws
//! which of the words have room.

use chrono::{Datelike, Days, NaiveDateTime, NaiveTime, TimeDelta};

use super::{Axis, Tick, moment};
use crate::say;
use crate::words::Lang;

/// Millionths of a whole: how shares and chances stand in a picture.
pub const WHOLE: i64 = 1_000_000;
/// Minutes of a day: how ages stand in a picture.
pub const DAY: i64 = 1_440;

/// Steps of days that a time axis may have.
const DAY_STEPS: [i64; 10] = [1, 2, 3, 7, 14, 30, 61, 91, 182, 365];
/// Steps of hours for less than that.
const HOUR_STEPS: [i64; 5] = [1, 2, 4, 6, 12];
/// About so many ticks.
const TICKS: i64 = 6;

/// Local time from one moment to another, in seconds, with days or hours written beside it.
pub fn time(lang: Lang, from: NaiveDateTime, to: NaiveDateTime) -> Axis {
    let (start, end) = (moment(from), moment(to));
    let hours = (end - start) / 3_600;
    let mut ticks = Vec::new();
    let mut mark = |at: NaiveDateTime, label: String| {
        let at = moment(at);
        if (start..=end).contains(&at) {
            ticks.push(Tick { at, label });
        }
    };
    let midnight = from.date().and_time(NaiveTime::MIN);
    if hours >= 48 {
        let most = (hours / 24).div_euclid(TICKS).max(1);
        let step = DAY_STEPS.into_iter().find(|step| *step >= most);
        let step = u64::try_from(step.unwrap_or(most)).unwrap_or(1);
        let mut at = Some(midnight);
        for _ in 0..=3 * TICKS {
            let Some(now) = at else { break };
            mark(now, day(lang, now));
            at = now.checked_add_days(Days::new(step));
        }
    } else {
        let step = HOUR_STEPS
            .into_iter()
            .find(|step| hours / *step <= TICKS)
            .unwrap_or(12);
        for place in 0..=48 / step + 1 {
            let now = midnight.checked_add_signed(TimeDelta::hours(place * step));
            if let Some(now) = now {
                mark(now, now.format("%H:%M").to_string());
            }
        }
    }
    Axis {
        from: start,
        to: end.max(start),
        ticks,
        title: String::new(),
    }
}

/// A day as a picture writes it.
pub fn day(lang: Lang, at: NaiveDateTime) -> String {
    say!(
        lang,
        "picture-day",
        day = i64::from(at.day()),
        month = i64::from(at.month())
    )
}

/// From one day to another; one day where both are the same.
pub fn span(lang: Lang, from: NaiveDateTime, to: NaiveDateTime) -> String {
    if from.date() == to.date() {
        return day(lang, from);
    }
    let said = |at: NaiveDateTime| {
        let day = day(lang, at);
        if from.year() == to.year() {
            return day;
        }
        let year = at.year().to_string();
        say!(lang, "picture-day-year", day = day, year = year)
    };
    say!(lang, "picture-span", from = said(from), to = said(to))
}

/// A day with its time.
pub fn day_time(lang: Lang, at: NaiveDateTime) -> String {
    format!("{} {}", day(lang, at), at.format("%H:%M"))
}

/// Shares from 0 to `to` millionths.
pub fn shares(lang: Lang, to: i64) -> Axis {
    shares_from(lang, 0, to)
}

/// Shares from one to another, in millionths.
pub fn shares_from(lang: Lang, from: i64, to: i64) -> Axis {
    let step = [10_000, 20_000, 50_000, 100_000, 250_000]
        .into_iter()
        .find(|step| (to - from) / step <= 5)
        .unwrap_or(250_000);
    let first = from.div_euclid(step) + i64::from(from.rem_euclid(step) > 0);
    let ticks = (first..=to / step).map(|place| Tick {
        at: place * step,
        label: percent(lang, place * step),
    });
    Axis {
        from,
        to,
        ticks: ticks.collect(),
        title: String::new(),
    }
}

/// A share in words: whole percents, tenths below ten.
pub fn percent(lang: Lang, millionths: i64) -> String {
    let part = if millionths > 0 && millionths < WHOLE / 10 {
        let tenths = (millionths + 500) / 1_000;
        if tenths == 0 {
            "<0.1".to_owned()
        } else if tenths % 10 == 0 {
            (tenths / 10).to_string()
        } else {
            format!("{}.{}", tenths / 10, tenths % 10)
        }
    } else {
        ((millionths + 5_000) / 10_000).to_string()
    };
    say!(lang, "picture-percent", part = part)
}

/// A share in words with one decimal: for two that whole percents would make one.
pub fn percent_tenths(lang: Lang, millionths: i64) -> String {
    let tenths = (millionths + 500) / 1_000;
    let part = format!("{}.{}", tenths / 10, tenths % 10);
    say!(lang, "picture-percent", part = part)
}

/// Whole numbers from `from` to `to`, each `unit` long on the axis.
pub fn counts(from: i64, to: i64, unit: i64, title: String) -> Axis {
    let step = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1_000]
        .into_iter()
        .find(|step| (to - from) / step <= 7)
        .unwrap_or(1_000);
    let first = from.div_euclid(step) + i64::from(from.rem_euclid(step) > 0);
    let ticks = (first..=to / step).map(|place| Tick {
        at: place * step * unit,
        label: (place * step).to_string(),
    });
    Axis {
        from: from * unit,
        to: to * unit,
        ticks: ticks.collect(),
        title,
    }
}

/// A share from 0 to 1 in millionths.
pub fn millionths(share: f64) -> i64 {
    (share.clamp(0.0, 1.0) * WHOLE as f64).round() as i64
}

/// An age in days as it stands in a picture.
pub fn age(days: f64) -> i64 {
    (days.clamp(0.0, 100_000.0) * DAY as f64).round() as i64
}
