//! Reads a day that is past as people type it: `2026-03-02`, `yesterday`, `3 days ago`, `2 March`, `03/02`, and the same in
//! Spanish.
//!
//! Decides which day a text means, seen from today, and that one which could be two days is asked about. Leaves to the caller
//! which days are taken, a day to come among them, and to say back which was read.

use chrono::{Datelike, Days, NaiveDate};

use super::period;
use super::spanish::without_accents;

/// Longer texts are no days.
const MAX_CHARS: usize = 40;
/// Larger numbers of days are a slip.
const MOST: u64 = 5_000;

/// Why a text is no day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayFault {
    /// Not a day: a sentence should show the forms that are.
    Shape,
    /// Month and day could stand either way round, and both are past.
    WhichOfTwo {
        /// The later of them.
        first: NaiveDate,
        /// The earlier of them.
        second: NaiveDate,
    },
}

/// Reads a day. A day without its year is the newest such day that is not ahead.
///
/// # Errors
/// [`DayFault`] says what to type instead; nothing is guessed.
pub fn parse(text: &str, today: NaiveDate) -> Result<NaiveDate, DayFault> {
    if text.chars().count() > MAX_CHARS {
        return Err(DayFault::Shape);
    }
    let plain = without_accents(&text.trim().to_lowercase());
    if let Some(day) = period::day(&plain) {
        return Ok(day);
    }
    let spread = plain.replace([',', '.'], " ");
    let words: Vec<&str> = spread
        .split_whitespace()
        .filter(|word| !["the", "of", "el", "de", "del", "on"].contains(word))
        .collect();
    let back = |days: u64| {
        today
            .checked_sub_days(Days::new(days))
            .ok_or(DayFault::Shape)
    };
    match *words {
        ["today" | "hoy"] => Ok(today),
        ["yesterday" | "ayer"] => back(1),
        ["anteayer"] => back(2),
        [count, "day" | "days", "ago"] | ["hace", count, "dia" | "dias"] => back(
            count
                .parse()
                .ok()
                .filter(|count| *count <= MOST)
                .ok_or(DayFault::Shape)?,
        ),
        [one] => figures(one, today),
        [a, b] => named(a, b, None, today),
        [a, b, year] => named(a, b, Some(year), today),
        _ => Err(DayFault::Shape),
    }
}

/// `2 March`, `March 2nd`, with a year or without.
fn named(a: &str, b: &str, year: Option<&str>, today: NaiveDate) -> Result<NaiveDate, DayFault> {
    let number = |word: &str| {
        let digits = word.trim_end_matches(|c: char| c.is_ascii_lowercase());
        let ending = &word[digits.len()..];
        ["", "st", "nd", "rd", "th"]
            .contains(&ending)
            .then(|| digits.parse::<u32>().ok())
            .flatten()
    };
    let of = |day: &str, month: &str, year: i32| {
        let month = period::named_month(month, year)?.0.month();
        NaiveDate::from_ymd_opt(year, month, number(day)?)
    };
    let either = |year: i32| of(a, b, year).or_else(|| of(b, a, year));
    match year {
        Some(year) => read_year(year).and_then(either),
        None => newest(today, either),
    }
    .ok_or(DayFault::Shape)
}

/// `3/2`, `03-02`, `03/02/2026`, either of them first.
fn figures(text: &str, today: NaiveDate) -> Result<NaiveDate, DayFault> {
    let parts: Vec<&str> = text.split(['/', '-']).collect();
    let (a, b, year) = match *parts {
        [a, b] => (a, b, None),
        [a, b, year] => (a, b, Some(read_year(year).ok_or(DayFault::Shape)?)),
        _ => return Err(DayFault::Shape),
    };
    let number = |text: &str| {
        let shaped = (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
        shaped.then(|| text.parse::<u32>().ok()).flatten()
    };
    let (Some(a), Some(b)) = (number(a), number(b)) else {
        return Err(DayFault::Shape);
    };
    let of = |month: u32, day: u32| match year {
        Some(year) => NaiveDate::from_ymd_opt(year, month, day),
        None => newest(today, |year| NaiveDate::from_ymd_opt(year, month, day)),
    };
    match (of(a, b), of(b, a)) {
        (Some(one), Some(other)) if one != other => {
            // What is still to come is no day that is past.
            match (one <= today, other <= today) {
                (true, false) => Ok(one),
                (false, true) => Ok(other),
                (true, true) | (false, false) => Err(DayFault::WhichOfTwo {
                    first: one.max(other),
                    second: one.min(other),
                }),
            }
        }
        (Some(day), _) | (None, Some(day)) => Ok(day),
        (None, None) => Err(DayFault::Shape),
    }
}

/// The newest such day that is not ahead; 29 February is looked for in four years.
fn newest(today: NaiveDate, of: impl Fn(i32) -> Option<NaiveDate>) -> Option<NaiveDate> {
    (0..=4)
        .filter_map(|back| of(today.year() - back))
        .find(|day| *day <= today)
}

fn read_year(text: &str) -> Option<i32> {
    let year = text.parse().ok()?;
    (text.len() == 4 && (2000..2100).contains(&year)).then_some(year)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        period::day(text).expect("a day")
    }

    #[test]
    fn days_as_people_type_them() {
        for (typed, meant) in [
            ("2026-03-02", "2026-03-02"),
            ("yesterday", "2026-03-19"),
            (" Ayer ", "2026-03-19"),
            ("today", "2026-03-20"),
            ("3 days ago", "2026-03-17"),
            ("hace 3 d\u{ed}as", "2026-03-17"),
            ("2 March", "2026-03-02"),
            ("March 2nd", "2026-03-02"),
            ("mar. 2, 2026", "2026-03-02"),
            ("2 de marzo de 2025", "2025-03-02"),
            ("24 december", "2025-12-24"),
            ("3/16", "2026-03-16"),
            ("16/03", "2026-03-16"),
            ("12/24", "2025-12-24"),
            ("03/03", "2026-03-03"),
            ("29 feb", "2024-02-29"),
            // One way round it is still to come.
            ("03/12/2026", "2026-03-12"),
            ("2026-04-01", "2026-04-01"),
        ] {
            assert_eq!(parse(typed, day("2026-03-20")), Ok(day(meant)), "{typed}");
        }
    }

    #[test]
    fn what_could_be_two_days_is_asked_about() {
        let two = |first, second| {
            Err(DayFault::WhichOfTwo {
                first: day(first),
                second: day(second),
            })
        };
        let today = day("2026-03-20");
        assert_eq!(parse("03/02", today), two("2026-03-02", "2026-02-03"));
        assert_eq!(parse("3-2-2026", today), two("2026-03-02", "2026-02-03"));
        // The newest of each that is past.
        assert_eq!(parse("03/12", today), two("2026-03-12", "2025-12-03"));
    }

    #[test]
    fn no_days() {
        for typed in [
            "",
            "3",
            "soon",
            "31/31",
            "2 moons",
            "99999 days ago",
            "1/2/3",
            "30 feb",
        ] {
            assert_eq!(
                parse(typed, day("2026-03-20")),
                Err(DayFault::Shape),
                "{typed}"
            );
        }
    }

    proptest! {
        #[test]
        fn a_day_without_its_year_is_never_ahead(text in "[0-9]{1,2}[/-][0-9]{1,2}") {
            let today = day("2026-03-20");
            if let Ok(read) = parse(&text, today) {
                prop_assert!(read <= today);
            }
        }

        #[test]
        fn nothing_breaks_it(text in "\\PC{0,45}") {
            let _ = parse(&text, day("2026-03-20"));
        }
    }
}
