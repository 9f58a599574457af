//! Reads the pattern of a schedule: `daily 07:00`, `weekdays 06:45`, `every 8h from 07:00`, or a cron line.
//!
//! Decides what is refused because two schedulers would read it differently, or because it would fire
//! too often. When a pattern fires is in `schedule`.

use std::fmt;
use std::str::FromStr;

use chrono::{NaiveTime, Timelike};
use cron::{Schedule, TimeUnitSpec};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::{spanish, time_of_day};

/// The least time between two firings of one pattern.
pub const LEAST_SPACING_MINUTES: u32 = 15;

/// Longer texts are not read.
const MAX_CHARS: usize = 120;

const MINUTES_IN_DAY: u32 = 24 * 60;

/// Day words, as they are written back, and as the library wants them.
const DAYS: &[(&str, &str, &[&str])] = &[
    ("monday", "MON", &["mon", "mondays"]),
    ("tuesday", "TUE", &["tue", "tues", "tuesdays"]),
    ("wednesday", "WED", &["wed", "wednesdays"]),
    ("thursday", "THU", &["thu", "thur", "thurs", "thursdays"]),
    ("friday", "FRI", &["fri", "fridays"]),
    ("saturday", "SAT", &["sat", "saturdays"]),
    ("sunday", "SUN", &["sun", "sundays"]),
];

/// The words of days that a pattern is written with; its other words are times, or those of `every 8h from 07:00`.
pub const DAY_WORDS: [&str; 10] = [
    "daily",
    "weekdays",
    "weekends",
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
];

/// A repeated local time, with the one text that it is written as.
#[derive(Clone)]
pub struct Pattern {
    text: String,
    schedules: Vec<Schedule>,
}

/// Why a text is no pattern that we take.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PatternFault {
    /// Nothing was typed.
    Empty,
    /// Not a pattern: a sentence should show the forms that are.
    Shape,
    /// A word stands where a time of day should; none of the text is carried.
    NotATime,
    /// The same time twice.
    TimeTwice,
    /// Hours that do not divide a day: the times would wander.
    HoursDoNotDivideDay {
        /// The hours that were typed.
        hours: u32,
    },
    /// `every 8h` without the time that it counts from.
    FromMissing,
    /// A cron line without five to seven fields.
    CronFields {
        /// How many there were.
        found: usize,
    },
    /// A cron field that the library does not understand.
    CronField,
    /// A weekday by number: 1 is Sunday to some and Monday to others.
    WeekdayNumber,
    /// Day of month together with weekday: some read "or", some "and".
    DayAndWeekday,
    /// More often than every fifteen minutes.
    TooOften {
        /// The least minutes between two firings.
        least_minutes: u32,
    },
    /// It would never fire, such as on 31 February.
    Never,
}

impl Pattern {
    /// Reads a pattern.
    ///
    /// - `daily 07:00`, `daily 07:00 15:00 23:00`
    /// - `weekdays 06:45`, `weekends 09:00`, `monday 09:00`, `monday thursday 09:00`
    /// - `every 8h from 07:00`: local times of day, so the hours must divide 24
    /// - a cron line of five fields, or six or seven with seconds first, weekdays by name
    /// - the first three in Spanish: `cada día 07:00`, `laborables 06:45`, `cada 8h desde las 07:00`
    ///
    /// # Errors
    /// [`PatternFault`] says what to change.
    pub fn parse(text: &str) -> Result<Pattern, PatternFault> {
        if text.chars().count() > MAX_CHARS {
            return Err(PatternFault::Shape);
        }
        let said = text.trim().to_lowercase();
        // As people say it: "every day at 07:00", "every friday at 11:00".
        let text = &match said.strip_prefix("every ") {
            Some(rest) if !rest.starts_with(|c: char| c.is_ascii_digit()) => {
                let rest = rest.replacen(" at ", " ", 1);
                rest.strip_prefix("day ")
                    .map_or(rest.clone(), |time| format!("daily {time}"))
            }
            _ => text.to_owned(),
        };
        match Pattern::in_our_words(text) {
            Err(PatternFault::Shape) => match spanish::time(text) {
                Some(ours) => Pattern::in_our_words(&ours),
                None => Err(PatternFault::Shape),
            },
            read => read,
        }
    }

    fn in_our_words(text: &str) -> Result<Pattern, PatternFault> {
        let lower = text.to_lowercase();
        let words: Vec<&str> = lower
            .split(|c: char| c.is_whitespace())
            .filter(|word| !word.is_empty())
            .collect();
        let Some(first) = words.first() else {
            return Err(PatternFault::Empty);
        };
        if first.starts_with(|c: char| c.is_ascii_digit() || c == '*') {
            return cron_line(&words);
        }
        if *first == "every"
            && words
                .get(1)
                .is_some_and(|word| word.starts_with(|c: char| c.is_ascii_digit()))
        {
            return every_hours(&words);
        }
        days_at(&lower)
    }

    pub(super) fn schedules(&self) -> &[Schedule] {
        &self.schedules
    }

    fn build(text: String, lines: &[String]) -> Result<Pattern, PatternFault> {
        let schedules = lines
            .iter()
            .map(|line| Schedule::from_str(line).map_err(|_| PatternFault::CronField))
            .collect::<Result<Vec<_>, _>>()?;
        check_spacing(&schedules)?;
        let pattern = Pattern { text, schedules };
        let long_ago = chrono::DateTime::UNIX_EPOCH;
        if pattern
            .schedules
            .iter()
            .all(|schedule| schedule.after(&long_ago).next().is_none())
        {
            return Err(PatternFault::Never);
        }
        Ok(pattern)
    }
}

/// Its one written form, which reads back as the same pattern.
impl fmt::Display for Pattern {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl fmt::Debug for Pattern {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Pattern({})", self.text)
    }
}

impl PartialEq for Pattern {
    fn eq(&self, other: &Pattern) -> bool {
        self.text == other.text
    }
}

impl Eq for Pattern {}

impl Serialize for Pattern {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}

impl<'de> Deserialize<'de> for Pattern {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Pattern, D::Error> {
        let text = String::deserialize(deserializer)?;
        Pattern::parse(&text)
            .map_err(|fault| serde::de::Error::custom(format!("no pattern: {fault:?}")))
    }
}

fn days_at(lower: &str) -> Result<Pattern, PatternFault> {
    // "7:00 pm" is one time, not two words.
    let joined = lower
        .replace(',', " ")
        .replace(" am", "am")
        .replace(" pm", "pm");
    let words: Vec<&str> = joined
        .split_whitespace()
        .filter(|word| !matches!(*word, "at" | "and"))
        .collect();
    let is_day = |word: &&&str| day_words(word).is_some();
    let day_count = words.iter().take_while(is_day).count();
    let (days, times) = words.split_at(day_count);
    if days.is_empty() || times.is_empty() {
        return Err(PatternFault::Shape);
    }
    let (said, cron_days) = fold_days(days)?;
    let times = times_of_day(times)?;
    let said_times: Vec<String> = times
        .iter()
        .map(|time| time.format("%H:%M").to_string())
        .collect();
    Pattern::build(
        format!("{said} {}", said_times.join(" ")),
        &lines(&times, &cron_days),
    )
}

/// The library's days of a day word, empty for "daily".
fn day_words(word: &str) -> Option<Vec<usize>> {
    match word {
        "daily" | "everyday" => return Some((0..7).collect()),
        "weekdays" | "weekday" => return Some((0..5).collect()),
        "weekends" | "weekend" => return Some(vec![5, 6]),
        _a_day => {}
    }
    let position = DAYS
        .iter()
        .position(|(name, _, others)| *name == word || others.contains(&word))?;
    Some(vec![position])
}

/// The written form of a set of days, and the cron field.
fn fold_days(words: &[&str]) -> Result<(String, String), PatternFault> {
    let mut chosen: Vec<usize> = words
        .iter()
        .filter_map(|word| day_words(word))
        .flatten()
        .collect();
    chosen.sort_unstable();
    chosen.dedup();
    let said = match chosen.as_slice() {
        [0, 1, 2, 3, 4, 5, 6] => return Ok(("daily".to_owned(), "*".to_owned())),
        [0, 1, 2, 3, 4] => "weekdays".to_owned(),
        [5, 6] => "weekends".to_owned(),
        some => some
            .iter()
            .filter_map(|day| DAYS.get(*day))
            .map(|day| day.0)
            .collect::<Vec<_>>()
            .join(" "),
    };
    let field: Vec<&str> = chosen
        .iter()
        .filter_map(|day| DAYS.get(*day))
        .map(|day| day.1)
        .collect();
    if field.is_empty() {
        Err(PatternFault::Shape)
    } else {
        Ok((said, field.join(",")))
    }
}

fn times_of_day(words: &[&str]) -> Result<Vec<NaiveTime>, PatternFault> {
    let mut times = words
        .iter()
        .map(|word| time_of_day::parse(word).ok_or(PatternFault::NotATime))
        .collect::<Result<Vec<_>, _>>()?;
    times.sort_unstable();
    if times.windows(2).any(|pair| pair.first() == pair.last()) {
        return Err(PatternFault::TimeTwice);
    }
    Ok(times)
}

fn lines(times: &[NaiveTime], days: &str) -> Vec<String> {
    times
        .iter()
        .map(|time| format!("0 {} {} * * {days}", time.minute(), time.hour()))
        .collect()
}

fn every_hours(words: &[&str]) -> Result<Pattern, PatternFault> {
    let joined = words.join(" ");
    let rest = joined.trim_start_matches("every ");
    let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let (hours, rest) = rest.split_at(digits);
    let hours: u32 = hours.parse().map_err(|_| PatternFault::Shape)?;
    let (unit, from) = match rest.split_once(" from ") {
        Some((unit, from)) => (unit.trim(), Some(from)),
        None => (rest.trim(), None),
    };
    if matches!(unit, "m" | "min" | "mins" | "minutes") {
        return Err(PatternFault::TooOften {
            least_minutes: LEAST_SPACING_MINUTES,
        });
    }
    if !matches!(unit, "h" | "hr" | "hrs" | "hour" | "hours") {
        return Err(PatternFault::Shape);
    }
    if hours == 0 || hours > 24 || 24 % hours != 0 {
        return Err(PatternFault::HoursDoNotDivideDay { hours });
    }
    let from =
        time_of_day::parse(from.ok_or(PatternFault::FromMissing)?).ok_or(PatternFault::NotATime)?;
    let times: Vec<NaiveTime> = (0..24 / hours)
        .map(|turn| {
            from.overflowing_add_signed(chrono::TimeDelta::hours(i64::from(turn * hours)))
                .0
        })
        .collect();
    Pattern::build(
        format!("every {hours}h from {}", from.format("%H:%M")),
        &lines(&times, "*"),
    )
}

fn cron_line(words: &[&str]) -> Result<Pattern, PatternFault> {
    let upper: Vec<String> = words.iter().map(|word| word.to_uppercase()).collect();
    let mut fields: Vec<&str> = upper.iter().map(String::as_str).collect();
    match fields.len() {
        5 => fields.insert(0, "0"),
        6 | 7 => {}
        found => return Err(PatternFault::CronFields { found }),
    }
    let any = |field: &str| matches!(field, "*" | "?");
    let (day, weekday) = (
        fields.get(3).copied().unwrap_or("*"),
        fields.get(5).copied().unwrap_or("*"),
    );
    if weekday.chars().any(|c| c.is_ascii_digit()) {
        return Err(PatternFault::WeekdayNumber);
    }
    if !any(day) && !any(weekday) {
        return Err(PatternFault::DayAndWeekday);
    }
    Pattern::build(upper.join(" "), &[fields.join(" ")])
}

/// Refuses firings less than fifteen minutes apart, on one day or over midnight.
fn check_spacing(schedules: &[Schedule]) -> Result<(), PatternFault> {
    let too_often = PatternFault::TooOften {
        least_minutes: LEAST_SPACING_MINUTES,
    };
    let mut minutes = Vec::new();
    for schedule in schedules {
        if schedule.seconds().count() != 1 {
            return Err(too_often);
        }
        for hour in schedule.hours().iter() {
            minutes.extend(schedule.minutes().iter().map(|minute| hour * 60 + minute));
        }
    }
    minutes.sort_unstable();
    let over_midnight = minutes.first().map(|first| first + MINUTES_IN_DAY);
    let later = minutes.iter().copied().skip(1).chain(over_midnight);
    if minutes
        .iter()
        .zip(later)
        .any(|(one, next)| next - one < LEAST_SPACING_MINUTES)
    {
        return Err(too_often);
    }
    Ok(())
}

#[cfg(test)]
mod tests;
