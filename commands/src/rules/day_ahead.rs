//! Reads a day ahead as people type it: `2027-03-31`, `2 weeks`, `6 months`, `1 year`, and the same in Spanish.
//!
//! Decides which day a text means, seen from today. Leaves to the caller which days are taken, and to say back which was
//! read.

use chrono::{Datelike, Days, Months, NaiveDate};

use super::spanish::without_accents;

/// Longer texts are no days.
const MAX_CHARS: usize = 40;
/// Larger numbers are a slip.
const MOST: u32 = 5_000;

/// What a number counts, as it is typed, without accents.
const UNITS: [(&str, Unit); 20] = [
    ("d", Unit::Days),
    ("day", Unit::Days),
    ("days", Unit::Days),
    ("dia", Unit::Days),
    ("dias", Unit::Days),
    ("w", Unit::Weeks),
    ("wk", Unit::Weeks),
    ("week", Unit::Weeks),
    ("weeks", Unit::Weeks),
    ("semana", Unit::Weeks),
    ("semanas", Unit::Weeks),
    ("mo", Unit::Months),
    ("month", Unit::Months),
    ("months", Unit::Months),
    ("mes", Unit::Months),
    ("meses", Unit::Months),
    ("year", Unit::Years),
    ("years", Unit::Years),
    ("ano", Unit::Years),
    ("anos", Unit::Years),
];

#[derive(Clone, Copy)]
enum Unit {
    Days,
    Weeks,
    Months,
    Years,
}

/// Reads a day. Months and years are calendar months: from 31 January, one month is the last day of February.
#[must_use]
pub fn parse(text: &str, today: NaiveDate) -> Option<NaiveDate> {
    if text.chars().count() > MAX_CHARS {
        return None;
    }
    let plain = without_accents(&text.trim().to_lowercase());
    if let Ok(day) = NaiveDate::parse_from_str(&plain, "%Y-%m-%d") {
        return Some(day).filter(|day| (2000..2100).contains(&day.year()));
    }
    let said = ["in ", "for ", "en ", "por "]
        .iter()
        .find_map(|word| plain.strip_prefix(word))
        .unwrap_or(&plain)
        .trim_start();
    let digits = said
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(said.len());
    let (number, word) = said.split_at(digits);
    let (number, word) = match (number.parse::<u32>(), word.trim()) {
        (Ok(number), word) => (number, word),
        // "a week", "una semana".
        (Err(_), word) => (
            1,
            ["a ", "one ", "un ", "una "]
                .iter()
                .find_map(|one| word.strip_prefix(one))?,
        ),
    };
    let (_, unit) = UNITS.iter().find(|(known, _)| *known == word.trim())?;
    if number > MOST {
        return None;
    }
    match unit {
        Unit::Days => today.checked_add_days(Days::new(u64::from(number))),
        Unit::Weeks => today.checked_add_days(Days::new(7 * u64::from(number))),
        Unit::Months => today.checked_add_months(Months::new(number)),
        Unit::Years => today.checked_add_months(Months::new(12 * number)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        NaiveDate::parse_from_str(text, "%Y-%m-%d").expect("a day")
    }

    #[test]
    fn days_as_people_type_them() {
        for (typed, meant) in [
            ("2027-03-31", "2027-03-31"),
            (" 2 weeks ", "2026-02-14"),
            ("2weeks", "2026-02-14"),
            ("in 10 days", "2026-02-10"),
            ("a week", "2026-02-07"),
            ("1 month", "2026-02-28"),
            ("6 months", "2026-07-31"),
            ("6 Meses", "2026-07-31"),
            ("1 a\u{f1}o", "2027-01-31"),
            ("3 d\u{ed}as", "2026-02-03"),
            ("una semana", "2026-02-07"),
        ] {
            assert_eq!(parse(typed, day("2026-01-31")), Some(day(meant)), "{typed}");
        }
    }

    #[test]
    fn no_days() {
        for typed in [
            "",
            "next year",
            "6",
            "months",
            "6 moons",
            "-2 weeks",
            "9999 years",
            "31/03/2027",
            "1999-01-01",
        ] {
            assert_eq!(parse(typed, day("2026-01-31")), None, "{typed}");
        }
    }

    proptest! {
        #[test]
        fn nothing_breaks_it(text in "\\PC{0,45}") {
            let _ = parse(&text, day("2026-01-31"));
        }
    }
}
