//! What a policy is counted in: how a value is typed and shown. Decides that what is shown can be typed again; leaves
//! words of a language for it to `decide`.

use super::{Measure, length};
use crate::rules::bleach::{self, Strength};
use crate::rules::{air, rent};

/// What is typed for "once in each shift"; the first is what is shown.
const SHIFT: [&str; 6] = [
    "shift",
    "each shift",
    "every shift",
    "per shift",
    "cada turno",
    "por turno",
];

/// Units of elapsed time as people type them, in seconds.
const ELAPSED: [(&[&str], i64); 5] = [
    (
        &[
            "seconds", "second", "segundos", "segundo", "secs", "sec", "s",
        ],
        1,
    ),
    (
        &["minutes", "minute", "minutos", "minuto", "mins", "min", "m"],
        60,
    ),
    (&["hours", "hour", "horas", "hora", "hrs", "hr", "h"], 3_600),
    (&["days", "day", "días", "dias", "día", "dia", "d"], 86_400),
    (&["weeks", "week", "semanas", "semana"], 604_800),
];
/// Units of the calendar, in months.
const CALENDAR: [(&[&str], i64); 2] = [
    (&["months", "month", "meses", "mes", "mo"], 1),
    (
        &["years", "year", "años", "anos", "año", "yrs", "yr", "y"],
        12,
    ),
];
/// What may stand before the number of looks in which something comes once.
const ONCE_IN: [&str; 5] = ["1 in ", "once in ", "one in ", "1 de cada ", "una vez en "];

/// A number in units of `own`: alone, or with the unit that was typed, which may be another one and must come out even.
fn counted(text: &str, units: &[(&[&str], i64)], own: i64) -> Option<i64> {
    if let Ok(bare) = text.parse() {
        return Some(bare);
    }
    let (mut hundredths, mut rest) = (0_i64, text);
    while !rest.is_empty() {
        let unit_at = rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))?;
        let (amount, after) = rest.split_at(unit_at);
        let next = after.find(|c: char| c.is_ascii_digit());
        let (unit, more) = after.split_at(next.unwrap_or(after.len()));
        let unit = unit.trim();
        let (_, size) = units.iter().find(|(words, _)| words.contains(&unit))?;
        hundredths = hundredths.checked_add(in_hundredths(amount)?.checked_mul(*size)?)?;
        rest = more;
    }
    let own = own.checked_mul(100)?;
    (hundredths % own == 0).then_some(hundredths / own)
}

/// `1.5`, `1,5` or `90`. Three digits after a mark may be thousands, and are asked about.
fn in_hundredths(text: &str) -> Option<i64> {
    let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let part = match part.len() {
        0 => 0,
        1 => part.parse::<i64>().ok()? * 10,
        2 => part.parse().ok()?,
        _ => return None,
    };
    whole
        .parse::<i64>()
        .ok()?
        .checked_mul(100)?
        .checked_add(part)
}

/// An amount, with or without the span that it is for.
fn money(text: &str, each: &[&str]) -> Option<i64> {
    let amount = each.iter().find_map(|each| text.strip_suffix(each));
    rent::parse_money(amount.unwrap_or(text).trim()).ok()
}

impl Measure {
    /// Reads a value as people type it, in English or Spanish: `1 in`, `15`, `15 min`, `07:00`, `yes`, `sí`.
    pub(super) fn read(self, text: &str) -> Option<i64> {
        let text = text.trim().to_lowercase();
        let elapsed = |own| counted(&text, &ELAPSED, own);
        let count = |units: &[&str]| {
            let digits = units
                .iter()
                .find_map(|unit| text.strip_suffix(unit))
                .unwrap_or(&text);
            digits.trim().parse::<i64>().ok()
        };
        match self {
            Measure::Length => match air::parse(&text).ok()? {
                air::Said::Measured(tenths) => Some(i64::from(tenths.0)),
                air::Said::CouldNot => None,
            },
            Measure::Minutes => elapsed(60),
            Measure::Hours => elapsed(3_600),
            Measure::Days => elapsed(86_400),
            Measure::Months => counted(&text, &CALENDAR, 1),
            Measure::Years => counted(&text, &CALENDAR, 12),
            Measure::Layers => count(&["layers", "layer", "capas", "capa"]),
            Measure::Times => count(&["times", "time", "veces", "vez"]),
            Measure::Checks => count(&[
                "checks",
                "check",
                "comprobaciones",
                "comprobación",
                "revisiones",
                "revisión",
            ]),
            Measure::Readings => count(&["readings", "reading", "lecturas", "lectura"]),
            Measure::Looks => count(&["looks", "look", "miradas", "mirada", "veces", "revisiones"]),
            Measure::Odds => {
                let odds = ONCE_IN.iter().find_map(|once| text.strip_prefix(once));
                let odds = odds.unwrap_or(&text);
                let looks = ["looks", "look", "miradas", "mirada"];
                let number = looks.iter().find_map(|unit| odds.strip_suffix(unit));
                number.unwrap_or(odds).trim().parse().ok()
            }
            Measure::Percent => count(&["percent", "por ciento", "%"]),
            Measure::HoursOrShift if SHIFT.contains(&text.as_str()) => Some(0),
            Measure::HoursOrShift => elapsed(3_600).filter(|hours| *hours != 0),
            // None at all may be said in words.
            Measure::Seconds if text == "off" => Some(0),
            Measure::Seconds => elapsed(1),
            Measure::TimeOfDay => {
                let (hours, minutes) = text.split_once(':')?;
                let (hours, minutes) = (hours.parse::<i64>().ok()?, minutes.parse::<i64>().ok()?);
                ((0..24).contains(&hours) && (0..60).contains(&minutes))
                    .then_some(hours * 60 + minutes)
            }
            Measure::YesNo => match text.as_str() {
                "yes" | "y" | "on" | "1" | "sí" | "si" => Some(1),
                "no" | "n" | "off" | "0" => Some(0),
                _ => None,
            },
            Measure::MoneyADay => money(&text, &["a day", "/day", "al día", "por día"]),
            Measure::MoneyAYear => money(&text, &["a year", "/year", "al año", "por año"]),
            // Nothing said may be said in words.
            Measure::Strength if matches!(text.as_str(), "off" | "0") => Some(0),
            Measure::Strength => bleach::parse_stock(&text).ok().map(|it| i64::from(it.0)),
        }
    }

    /// A value as people read it, without words of any language: `1 in`, `15 min`, `07:00`.
    pub fn show(self, value: i64) -> String {
        match self {
            Measure::Length => air::show(length(value), air::Units::Inches),
            Measure::Minutes => format!("{value} min"),
            Measure::Hours => format!("{value} h"),
            // What is counted is a word of a language.
            Measure::Layers
            | Measure::Times
            | Measure::Checks
            | Measure::Readings
            | Measure::Looks
            | Measure::Odds => value.to_string(),
            Measure::Days => format!("{value} d"),
            Measure::Months => format!("{value} mo"),
            Measure::Percent => format!("{value} %"),
            Measure::HoursOrShift if value == 0 => SHIFT[0].to_owned(),
            Measure::HoursOrShift => format!("{value} h"),
            Measure::Seconds => format!("{value} s"),
            Measure::TimeOfDay => format!("{:02}:{:02}", value / 60, value % 60),
            Measure::YesNo => if value == 0 { "no" } else { "yes" }.to_owned(),
            Measure::MoneyADay | Measure::MoneyAYear => rent::money(value),
            Measure::Years => format!("{value} y"),
            Measure::Strength if value == 0 => "off".to_owned(),
            Measure::Strength => {
                let ppm = u32::try_from(value).unwrap_or_default();
                format!("{} %", Strength(ppm).percent())
            }
        }
    }
}
