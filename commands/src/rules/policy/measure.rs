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

impl Measure {
    /// Reads a value as people type it, in English or Spanish: `1 in`, `15`, `15 min`, `07:00`, `yes`, `sí`.
    pub(super) fn read(self, text: &str) -> Option<i64> {
        let text = text.trim().to_lowercase();
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
            Measure::Minutes => {
                count(&["minutes", "minute", "minutos", "minuto", "mins", "min", "m"])
            }
            Measure::Hours => count(&["hours", "hour", "horas", "hora", "h"]),
            Measure::Count => count(&[
                "layers",
                "layer",
                "capas",
                "capa",
                "checks",
                "check",
                "looks",
                "look",
                "revisiones",
                "revisión",
            ]),
            Measure::Days => count(&["days", "day", "días", "dias", "día", "dia", "d"]),
            Measure::Months => count(&["months", "month", "meses", "mes", "mo"]),
            Measure::Percent => count(&["percent", "por ciento", "%"]),
            Measure::HoursOrShift if SHIFT.contains(&text.as_str()) => Some(0),
            Measure::HoursOrShift => {
                count(&["hours", "hour", "horas", "hora", "h"]).filter(|hours| *hours != 0)
            }
            // None at all may be said in words.
            Measure::Seconds if text == "off" => Some(0),
            Measure::Seconds => count(&[
                "seconds", "second", "segundos", "segundo", "secs", "sec", "s",
            ]),
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
            Measure::Money => rent::parse_money(&text).ok(),
            Measure::Years => count(&["years", "year", "años", "anos", "año", "yrs", "yr", "y"]),
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
            Measure::Count => value.to_string(),
            Measure::Days => format!("{value} d"),
            Measure::Months => format!("{value} mo"),
            Measure::Percent => format!("{value} %"),
            Measure::HoursOrShift if value == 0 => SHIFT[0].to_owned(),
            Measure::HoursOrShift => format!("{value} h"),
            Measure::Seconds => format!("{value} s"),
            Measure::TimeOfDay => format!("{:02}:{:02}", value / 60, value % 60),
            Measure::YesNo => if value == 0 { "no" } else { "yes" }.to_owned(),
            Measure::Money => rent::money(value),
            Measure::Years => format!("{value} y"),
            Measure::Strength if value == 0 => "off".to_owned(),
            Measure::Strength => {
                let ppm = u32::try_from(value).unwrap_or_default();
                format!("{} %", Strength(ppm).percent())
            }
        }
    }
}
