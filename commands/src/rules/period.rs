//! Reads which days are meant: `last month`, `2026-10`, `2026-10-01 to 2026-10-31`, `last 30 days`, `octubre de 2026`.
//!
//! Decides the first and the last day, both included, seen from today. Leaves to the caller what is shown of them, and to
//! say back which days were read. A day with slashes is not read: two countries read it two ways.

use chrono::{Datelike, Days, Months, NaiveDate};

/// The most days of a period: a year, and the month before it that a survey may reach into.
pub const DAYS_MOST: i64 = 400;

/// Longer texts are no periods.
const MAX_CHARS: usize = 60;

/// Days, the first and the last included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Period {
    /// The first.
    pub first: NaiveDate,
    /// The last; not before the first.
    pub last: NaiveDate,
}

/// Why a text is no period.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PeriodFault {
    /// Not a period: a sentence should show the forms that are.
    Shape,
    /// It begins after today.
    Ahead {
        /// Its first day.
        first: NaiveDate,
    },
    /// Its last day is before its first.
    Backwards {
        /// The day named first.
        first: NaiveDate,
        /// The day named last.
        last: NaiveDate,
    },
    /// It has more days than [`DAYS_MOST`].
    TooLong {
        /// How many it has.
        days: i64,
    },
}

impl Period {
    /// From one day to another; what lies ahead is left out.
    ///
    /// # Errors
    /// [`PeriodFault`], but never of shape.
    pub fn between(
        first: NaiveDate,
        last: NaiveDate,
        today: NaiveDate,
    ) -> Result<Period, PeriodFault> {
        if last < first {
            return Err(PeriodFault::Backwards { first, last });
        }
        if first > today {
            return Err(PeriodFault::Ahead { first });
        }
        let period = Period {
            first,
            last: last.min(today),
        };
        match period.days() {
            days if days > DAYS_MOST => Err(PeriodFault::TooLong { days }),
            _ => Ok(period),
        }
    }

    /// How many days.
    #[must_use]
    pub fn days(self) -> i64 {
        (self.last - self.first).num_days() + 1
    }
}

/// A day as `2026-10-31`, between the years 2000 and 2099.
#[must_use]
pub fn day(text: &str) -> Option<NaiveDate> {
    let day = NaiveDate::parse_from_str(text.trim(), "%Y-%m-%d").ok()?;
    (2000..2100).contains(&day.year()).then_some(day)
}

/// Reads a day, a month, a year, two of them with `to` between, `today`, `yesterday`, `this` or `last` and `week`, `month`,
/// `quarter` or `year`, and `last 30 days` (or weeks or months); and the same in Spanish.
///
/// A week begins on Monday. The last so many days end with today; so many weeks or months are whole ones, before this
/// one. The name of a month alone is the newest that has begun.
///
/// # Errors
/// [`PeriodFault`] says what to type instead; nothing is guessed.
pub fn parse(text: &str, today: NaiveDate) -> Result<Period, PeriodFault> {
    let plain = plain(text).ok_or(PeriodFault::Shape)?;
    let words: Vec<&str> = plain.split(' ').collect();
    if let Some(place) = words.iter().position(|word| *word == "to") {
        let (first, last) = (&words[..place], &words[place + 1..]);
        let first = stretch(first, today).ok_or(PeriodFault::Shape)?.0;
        let last = stretch(last, today).ok_or(PeriodFault::Shape)?.1;
        return Period::between(first, last, today);
    }
    let (first, last) = stretch(&words, today).ok_or(PeriodFault::Shape)?;
    Period::between(first, last, today)
}

/// In small letters and our words, with one blank between, and none of what says nothing.
fn plain(text: &str) -> Option<String> {
    let lower = text.to_lowercase();
    // "2026-10-01 - 2026-10-31" and "2026-10-01..2026-10-31": a dash within a day has no blank beside it.
    let lower = lower.replace("..", " to ").replace(['–', '—'], " to ");
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !word.is_empty())
        .map(ours)
        .filter(|word| !word.is_empty())
        .collect();
    (!words.is_empty() && lower.chars().count() <= MAX_CHARS).then(|| words.join(" "))
}

/// The word in ours; nothing where it says nothing. Spanish: Real Academia Española, names of months (from memory).
fn ours(word: &str) -> &str {
    match word {
        "the" | "of" | "in" | "for" | "from" | "between" | "el" | "la" | "los" | "las" | "de"
        | "del" | "en" | "entre" | "desde" => "",
        "-" | "until" | "till" | "through" | "thru" | "and" | "a" | "al" | "hasta" | "y" => "to",
        "past" | "previous" | "pasado" | "pasada" | "pasados" | "pasadas" | "último" | "ultimo"
        | "última" | "ultima" | "últimos" | "ultimos" | "últimas" | "ultimas" | "anterior" => {
            "last"
        }
        "current" | "este" | "esta" | "actual" => "this",
        "hoy" => "today",
        "ayer" => "yesterday",
        "day" | "día" | "dia" | "días" | "dias" => "days",
        "weeks" | "semana" | "semanas" => "week",
        "months" | "mes" | "meses" => "month",
        "trimestre" => "quarter",
        "año" | "ano" => "year",
        word => word,
    }
}

/// The first and the last day of what has no "to" in it.
fn stretch(words: &[&str], today: NaiveDate) -> Option<(NaiveDate, NaiveDate)> {
    let back = |days: u64| today.checked_sub_days(Days::new(days));
    match *words {
        ["today"] => Some((today, today)),
        ["yesterday"] => Some((back(1)?, back(1)?)),
        ["this", unit] | [unit, "this"] => around(unit, 0, today),
        ["last", unit] | [unit, "last"] => around(unit, 1, today),
        ["last", count, "days"] | [count, "days"] | [count, "days", "last"] => {
            let count: u64 = count
                .parse()
                .ok()
                .filter(|count| (1..=9_999).contains(count))?;
            Some((back(count - 1)?, today))
        }
        ["last", count, unit @ ("week" | "month")]
        | [count, unit @ ("week" | "month")]
        | [count, unit @ ("week" | "month"), "last"] => {
            let count: u32 = count
                .parse()
                .ok()
                .filter(|count| (1..=999).contains(count))?;
            Some((around(unit, count, today)?.0, around(unit, 1, today)?.1))
        }
        [name, year] => named_month(name, year_of(year)?),
        [one] => {
            if let Some(day) = day(one) {
                return Some((day, day));
            }
            if let Some((year, month)) = one.split_once('-')
                && month.len() == 2
            {
                return month_of(year_of(year)?, month.parse().ok()?);
            }
            if let Some(year) = year_of(one) {
                return Some((
                    NaiveDate::from_ymd_opt(year, 1, 1)?,
                    NaiveDate::from_ymd_opt(year, 12, 31)?,
                ));
            }
            let this = named_month(one, today.year())?;
            if this.0 <= today {
                return Some(this);
            }
            named_month(one, today.year() - 1)
        }
        _ => None,
    }
}

/// The week, month, quarter or year that is so many before this one.
fn around(unit: &str, before: u32, today: NaiveDate) -> Option<(NaiveDate, NaiveDate)> {
    let first_of_month = today.with_day(1)?;
    let (first, months) = match unit {
        "days" if before == 1 => {
            let day = today.pred_opt()?;
            return Some((day, day));
        }
        "week" => {
            let monday = u64::from(today.weekday().num_days_from_monday());
            let first = today.checked_sub_days(Days::new(monday + 7 * u64::from(before)))?;
            return Some((first, first.checked_add_days(Days::new(6))?));
        }
        "month" => (first_of_month.checked_sub_months(Months::new(before))?, 1),
        "quarter" => {
            let into = today.month0() % 3;
            let back = Months::new(into + 3 * before);
            (first_of_month.checked_sub_months(back)?, 3)
        }
        "year" => {
            let back = Months::new(today.month0() + 12 * before);
            (first_of_month.checked_sub_months(back)?, 12)
        }
        _ => return None,
    };
    Some((
        first,
        first.checked_add_months(Months::new(months))?.pred_opt()?,
    ))
}

fn year_of(text: &str) -> Option<i32> {
    let year: i32 = text.parse().ok().filter(|_| text.len() == 4)?;
    (2000..2100).contains(&year).then_some(year)
}

fn month_of(year: i32, month: u32) -> Option<(NaiveDate, NaiveDate)> {
    let first = NaiveDate::from_ymd_opt(year, month, 1)?;
    Some((first, first.checked_add_months(Months::new(1))?.pred_opt()?))
}

/// Months by their names and by the first three letters of these, in English and Spanish.
const MONTHS: [[&str; 2]; 12] = [
    ["january", "enero"],
    ["february", "febrero"],
    ["march", "marzo"],
    ["april", "abril"],
    ["may", "mayo"],
    ["june", "junio"],
    ["july", "julio"],
    ["august", "agosto"],
    ["september", "septiembre"],
    ["october", "octubre"],
    ["november", "noviembre"],
    ["december", "diciembre"],
];

/// The first and the last day of a month that is named, in either language.
pub(super) fn named_month(name: &str, year: i32) -> Option<(NaiveDate, NaiveDate)> {
    let name = name.trim_end_matches('.');
    let is = |full: &str| full == name || (name.len() == 3 && full.starts_with(name));
    let place = MONTHS
        .iter()
        .position(|names| names.iter().any(|full| is(full)))?;
    month_of(year, u32::try_from(place).ok()? + 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn on(text: &str) -> NaiveDate {
        day(text).unwrap()
    }

    /// A Thursday, a month with a short one before it in the year, and no leap year.
    const TODAY: &str = "2026-11-26";

    #[test]
    fn as_people_say_it() {
        for (typed, first, last) in [
            ("last month", "2026-10-01", "2026-10-31"),
            ("the previous month", "2026-10-01", "2026-10-31"),
            ("this month", "2026-11-01", TODAY),
            ("2026-10", "2026-10-01", "2026-10-31"),
            ("October", "2026-10-01", "2026-10-31"),
            ("oct 2026", "2026-10-01", "2026-10-31"),
            ("december", "2025-12-01", "2025-12-31"),
            ("feb 2024", "2024-02-01", "2024-02-29"),
            ("2026-10-01 to 2026-10-31", "2026-10-01", "2026-10-31"),
            (
                "from 2026-10-01 through 2026-10-31",
                "2026-10-01",
                "2026-10-31",
            ),
            ("2026-10-01 - 2026-10-31", "2026-10-01", "2026-10-31"),
            ("2026-10-01–2026-10-31", "2026-10-01", "2026-10-31"),
            ("2026-10-01..2026-10-31", "2026-10-01", "2026-10-31"),
            ("2026-09 to 2026-10", "2026-09-01", "2026-10-31"),
            ("august to october", "2026-08-01", "2026-10-31"),
            ("2026-10-15", "2026-10-15", "2026-10-15"),
            ("2026-10-15 to today", "2026-10-15", TODAY),
            ("last 30 days", "2026-10-28", TODAY),
            ("30 days", "2026-10-28", TODAY),
            ("the past 7 days", "2026-11-20", TODAY),
            ("last week", "2026-11-16", "2026-11-22"),
            ("this week", "2026-11-23", TODAY),
            ("last 2 weeks", "2026-11-09", "2026-11-22"),
            ("last 3 months", "2026-08-01", "2026-10-31"),
            ("last quarter", "2026-07-01", "2026-09-30"),
            ("this quarter", "2026-10-01", TODAY),
            ("last year", "2025-01-01", "2025-12-31"),
            ("2025", "2025-01-01", "2025-12-31"),
            ("2026", "2026-01-01", TODAY),
            ("today", TODAY, TODAY),
            ("Yesterday", "2026-11-25", "2026-11-25"),
            // What reaches ahead ends today.
            ("2026-11-20 to 2026-12-24", "2026-11-20", TODAY),
            // Spanish.
            ("mes pasado", "2026-10-01", "2026-10-31"),
            ("el mes pasado", "2026-10-01", "2026-10-31"),
            ("este mes", "2026-11-01", TODAY),
            ("últimos 30 días", "2026-10-28", TODAY),
            ("los ultimos 30 dias", "2026-10-28", TODAY),
            ("octubre de 2026", "2026-10-01", "2026-10-31"),
            ("ene 2026", "2026-01-01", "2026-01-31"),
            ("del 2026-10-01 al 2026-10-31", "2026-10-01", "2026-10-31"),
            ("2026-10-01 hasta 2026-10-31", "2026-10-01", "2026-10-31"),
            ("la semana pasada", "2026-11-16", "2026-11-22"),
            ("el año pasado", "2025-01-01", "2025-12-31"),
            ("ayer", "2026-11-25", "2026-11-25"),
        ] {
            let wanted = Period {
                first: on(first),
                last: on(last),
            };
            assert_eq!(parse(typed, on(TODAY)), Ok(wanted), "{typed}");
        }
    }

    #[test]
    fn what_is_none() {
        for typed in [
            "",
            "   ",
            "10/1/2026",
            "1.10.2026",
            "2026-13",
            "2026-02-30",
            "last",
            "last 0 days",
            "last blue moon",
            "2026-10-01 to",
            "to 2026-10-01",
            "2026-1",
            "1999",
            "may be",
            &"x".repeat(200),
        ] {
            assert_eq!(parse(typed, on(TODAY)), Err(PeriodFault::Shape), "{typed}");
        }
        assert_eq!(
            parse("2026-12", on(TODAY)),
            Err(PeriodFault::Ahead {
                first: on("2026-12-01")
            })
        );
        assert_eq!(
            parse("2026-10-31 to 2026-10-01", on(TODAY)),
            Err(PeriodFault::Backwards {
                first: on("2026-10-31"),
                last: on("2026-10-01")
            })
        );
        assert_eq!(
            parse("2025-01-01 to 2026-10-31", on(TODAY)),
            Err(PeriodFault::TooLong { days: 669 })
        );
        assert_eq!(
            parse("last 401 days", on(TODAY)),
            Err(PeriodFault::TooLong { days: 401 })
        );
        assert!(parse("last 400 days", on(TODAY)).is_ok());
    }

    proptest! {
        /// Whatever is typed on whatever day: a period that is read has its days in order, none of them ahead, and not too many.
        #[test]
        fn no_text_stops_it(text in "\\PC{0,40}", ago in 0u64..20_000) {
            let today = on("2077-05-31").checked_sub_days(Days::new(ago)).unwrap();
            if let Ok(period) = parse(&text, today) {
                prop_assert!(period.first <= period.last && period.last <= today);
                prop_assert!((1..=DAYS_MOST).contains(&period.days()));
            }
        }

        /// The months of a year are next to each other and are the year.
        #[test]
        fn months_make_a_year(year in 2000i32..2098) {
            let today = NaiveDate::from_ymd_opt(year + 1, 6, 1).unwrap();
            let mut next = NaiveDate::from_ymd_opt(year, 1, 1).unwrap();
            for month in 1..=12 {
                let period = parse(&format!("{year}-{month:02}"), today).unwrap();
                prop_assert_eq!(period.first, next);
                next = period.last.succ_opt().unwrap();
            }
            prop_assert_eq!(next, NaiveDate::from_ymd_opt(year + 1, 1, 1).unwrap());
        }
    }
}
