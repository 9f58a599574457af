//! Reads when something happened: `13:40`, `20 min ago`, `yesterday 22:15`.
//!
//! Decides which instant a text means, seen from now and in the facility's zone. Leaves to the caller
//! whether an entry that old may be made.

use chrono::{DateTime, Days, NaiveDate, NaiveTime, TimeDelta, Utc};

use super::spanish;
use super::time_of_day;
use super::zone::{Instants, Zone};

/// How old an entry may be unless the facility says otherwise.
pub const DEFAULT_OLDEST: TimeDelta = TimeDelta::days(7);

/// A bare clock time later than now means yesterday, where that is no longer ago than this.
const YESTERDAY_WITHIN: TimeDelta = TimeDelta::hours(12);

/// A time this little ahead of now is now: people's clocks differ by a minute or two.
const AHEAD_ALLOWED: TimeDelta = TimeDelta::minutes(2);

/// Longer texts are not times.
const MAX_CHARS: usize = 40;

/// Why a text is no time in the past.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WhenFault {
    /// Nothing was typed.
    Empty,
    /// Not a time: a sentence should show the forms that are.
    Shape,
    /// A number without what it counts, such as `20 ago`, or an hour without minutes.
    WhichUnit,
    /// An hour from 1 to 12 without its half of the day, and the half that was not typed is past as well and nearer: `03:10`,
    /// `15:10` or `3:10 pm` would say which.
    HalfDay {
        /// The first of them.
        first: DateTime<Utc>,
        /// The second of them.
        second: DateTime<Utc>,
    },
    /// It has not happened yet.
    InFuture {
        /// The instant that was read.
        at: DateTime<Utc>,
    },
    /// Longer ago than is taken.
    TooOld {
        /// The oldest instant that is taken.
        oldest: DateTime<Utc>,
    },
    /// The clocks skipped that time of day.
    Skipped {
        /// The first moment after it.
        next: DateTime<Utc>,
    },
    /// The clocks went back over that time and both moments are past: `20 min ago` would say which.
    WhichOfTwo {
        /// The first of them.
        first: DateTime<Utc>,
        /// The second of them.
        second: DateTime<Utc>,
    },
}

/// Reads `now`, `13:40`, `1:40 pm`, `1340`, `20 min ago`, `2 h ago`, `yesterday 22:15`, `today 07:10`, and the same in
/// Spanish, such as `hace 20 min`.
///
/// An hour from 1 to 12 without `am`, `pm` or a zero before it is asked about where both are past.
///
/// A bare clock time is today's; where that is ahead of now it is yesterday's, if at most 12 hours ago (a night
/// shift writing up 23:40 after midnight), else a fault. A minute or two ahead is taken as now. A time that
/// the clocks went back over is taken as the first where the second is still ahead, and asked about where both
/// are past. "Ago" is elapsed time, whatever the clocks did. `oldest` is how far back is taken.
///
/// # Errors
/// [`WhenFault`] says what to type instead; nothing is guessed.
pub fn parse(
    text: &str,
    now: DateTime<Utc>,
    zone: &Zone,
    oldest: TimeDelta,
) -> Result<DateTime<Utc>, WhenFault> {
    let lower = text.to_lowercase();
    let plain = lower.split_whitespace().collect::<Vec<_>>().join(" ");
    if plain.is_empty() {
        return Err(WhenFault::Empty);
    }
    if plain.chars().count() > MAX_CHARS {
        return Err(WhenFault::Shape);
    }
    let at = match read(&plain, now, zone) {
        Err(unread @ (WhenFault::Shape | WhenFault::WhichUnit)) => match spanish::time(&plain) {
            Some(ours) => read(&ours, now, zone)?,
            None => return Err(unread),
        },
        read => read?,
    };
    let at = if at > now && at - now <= AHEAD_ALLOWED {
        now
    } else {
        at
    };
    let oldest = now
        .checked_sub_signed(oldest)
        .unwrap_or(DateTime::<Utc>::MIN_UTC);
    if at > now {
        Err(WhenFault::InFuture { at })
    } else if at < oldest {
        Err(WhenFault::TooOld { oldest })
    } else {
        Ok(at)
    }
}

fn read(plain: &str, now: DateTime<Utc>, zone: &Zone) -> Result<DateTime<Utc>, WhenFault> {
    if matches!(plain, "now" | "just now") {
        return Ok(now);
    }
    if let Some(span) = plain.strip_suffix(" ago") {
        return ago(span, now);
    }
    let today = zone.local(now).date();
    let yesterday = today.checked_sub_days(Days::new(1)).unwrap_or(today);
    let (day, rest) = match (plain.strip_prefix("yesterday"), plain.strip_prefix("today")) {
        (Some(rest), _) => (Some(yesterday), rest),
        (None, Some(rest)) => (Some(today), rest),
        (None, None) => (None, plain),
    };
    let time = clock(rest)?;
    let read = |time| match day {
        Some(day) => on_day(day, time, now, zone),
        None => on_nearest_day(time, now, zone),
    };
    let typed = read(time);
    if !is_half_day(rest) {
        return typed;
    }
    let past = |at: &DateTime<Utc>| *at <= now + AHEAD_ALLOWED;
    let (other, _) = time.overflowing_add_signed(TimeDelta::hours(12));
    match (typed, read(other).ok().filter(past)) {
        // Who means the nearer one is taken at their word; the farther one is doubted.
        (Ok(typed), Some(other)) if past(&typed) => {
            if other < typed {
                return Ok(typed);
            }
            Err(WhenFault::HalfDay {
                first: typed,
                second: other,
            })
        }
        (Ok(_) | Err(WhenFault::InFuture { .. }), Some(other)) => Ok(other),
        (typed, _) => typed,
    }
}

/// Whether a time leaves open which half of the day it is in: an hour from 1 to 12, without `am` or `pm` and without the
/// zero that the 24-hour clock puts before it.
fn is_half_day(text: &str) -> bool {
    let text = text.trim();
    let text = text.strip_prefix("at ").unwrap_or(text).trim();
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let hour = match text.split_once([':', '.']) {
        Some((hour, minute)) if digits(hour) && digits(minute) => hour,
        None if digits(text) && text.len() == 3 => &text[..1],
        Some(_) | None => return false,
    };
    !hour.starts_with('0')
        && hour
            .parse::<u32>()
            .is_ok_and(|hour| (1..=12).contains(&hour))
}

/// A clock time without a day: today's, or yesterday's where that is ahead and yesterday's is not long ago.
fn on_nearest_day(
    time: NaiveTime,
    now: DateTime<Utc>,
    zone: &Zone,
) -> Result<DateTime<Utc>, WhenFault> {
    let today = zone.local(now).date();
    let yesterday = today.checked_sub_days(Days::new(1)).unwrap_or(today);
    let read = on_day(today, time, now, zone)?;
    if read <= now + AHEAD_ALLOWED {
        return Ok(read);
    }
    let recent = |at: DateTime<Utc>| now - at <= YESTERDAY_WITHIN;
    match on_day(yesterday, time, now, zone) {
        Ok(before) if recent(before) => Ok(before),
        Err(WhenFault::WhichOfTwo { first, second }) if recent(second) => {
            Err(WhenFault::WhichOfTwo { first, second })
        }
        Ok(_) | Err(_) => Err(WhenFault::InFuture { at: read }),
    }
}

/// Why a piece of a text is neither a clock time nor a span.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unread {
    Shape,
    WhichUnit,
}

impl From<Unread> for WhenFault {
    fn from(of: Unread) -> WhenFault {
        match of {
            Unread::Shape => WhenFault::Shape,
            Unread::WhichUnit => WhenFault::WhichUnit,
        }
    }
}

pub(super) fn clock(text: &str) -> Result<NaiveTime, Unread> {
    let text = text.trim();
    let text = text.strip_prefix("at ").unwrap_or(text);
    time_of_day::parse(text).ok_or_else(|| {
        let bare = !text.is_empty() && text.len() <= 2 && text.bytes().all(|b| b.is_ascii_digit());
        if bare {
            Unread::WhichUnit
        } else {
            Unread::Shape
        }
    })
}

fn on_day(
    day: NaiveDate,
    time: NaiveTime,
    now: DateTime<Utc>,
    zone: &Zone,
) -> Result<DateTime<Utc>, WhenFault> {
    match zone.instants(day.and_time(time)) {
        Instants::One(at) => Ok(at),
        // Ahead of now it was never meant as today's.
        Instants::Skipped(next) if next > now => Ok(next),
        Instants::Skipped(next) => Err(WhenFault::Skipped { next }),
        Instants::Two(first, second) if second > now + AHEAD_ALLOWED => Ok(first),
        Instants::Two(first, second) => Err(WhenFault::WhichOfTwo { first, second }),
    }
}

fn ago(text: &str, now: DateTime<Utc>) -> Result<DateTime<Utc>, WhenFault> {
    let span = span(text)?;
    now.checked_sub_signed(TimeDelta::days(span.days) + TimeDelta::minutes(span.minutes))
        .ok_or(WhenFault::Shape)
}

/// So many days and so many minutes, neither below 0 nor above any limit that a facility may set.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Span {
    pub(super) days: i64,
    pub(super) minutes: i64,
}

/// `20 min`, `2 h`, `1 h 30 min`, `1h30m`, `half an hour`, `an hour`, `3 days`.
pub(super) fn span(text: &str) -> Result<Span, Unread> {
    let text = text.trim().trim_start_matches("about ");
    let minutes = match text {
        "half an hour" => 30,
        "an hour" | "one hour" => 60,
        "a minute" | "one minute" => 1,
        counted => return counted_span(counted),
    };
    Ok(Span { days: 0, minutes })
}

/// Whether a text is such a span.
pub(super) fn is_span(text: &str) -> bool {
    span(text).is_ok()
}

fn counted_span(text: &str) -> Result<Span, Unread> {
    let mut rest = text.trim();
    let mut total = Span::default();
    let mut last_unit = i64::MAX;
    while !rest.is_empty() {
        let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        let (count, after) = rest.split_at(digits);
        // Five digits: more minutes than any limit that a facility may set.
        if !(1..=5).contains(&count.len()) {
            return Err(Unread::Shape);
        }
        let count: i64 = count.parse().map_err(|_| Unread::Shape)?;
        let after = after.trim_start();
        let letters = after.len()
            - after
                .trim_start_matches(|c: char| c.is_ascii_alphabetic())
                .len();
        let (word, after) = after.split_at(letters);
        let unit = match word {
            "m" | "min" | "mins" | "minute" | "minutes" => 1,
            "h" | "hr" | "hrs" | "hour" | "hours" => 60,
            "d" | "day" | "days" => 24 * 60,
            "" if after.is_empty() || after.starts_with(|c: char| c.is_ascii_digit()) => {
                return Err(Unread::WhichUnit);
            }
            _another_word => return Err(Unread::Shape),
        };
        if unit >= last_unit {
            return Err(Unread::Shape);
        }
        last_unit = unit;
        if unit == 24 * 60 {
            total.days = count;
        } else {
            total.minutes += count * unit;
        }
        rest = after.trim_start().trim_start_matches("and ").trim_start();
    }
    Ok(total)
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::NaiveDateTime;
    use proptest::prelude::*;

    fn at(text: &str) -> DateTime<Utc> {
        NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M")
            .unwrap()
            .and_utc()
    }

    fn chicago() -> Zone {
        Zone::parse("America/Chicago").unwrap()
    }

    fn read_at(text: &str, now: &str) -> Result<DateTime<Utc>, WhenFault> {
        parse(text, at(now), &chicago(), DEFAULT_OLDEST)
    }

    #[test]
    fn as_people_type_them() {
        // 14:00 in Chicago.
        let now = "2026-06-10 19:00";
        for (text, expected) in [
            ("now", "2026-06-10 19:00"),
            ("13:40", "2026-06-10 18:40"),
            ("1:40 pm", "2026-06-10 18:40"),
            ("1340", "2026-06-10 18:40"),
            ("at 1:40pm", "2026-06-10 18:40"),
            ("today 07:10", "2026-06-10 12:10"),
            ("20 min ago", "2026-06-10 18:40"),
            ("20min ago", "2026-06-10 18:40"),
            ("2 h ago", "2026-06-10 17:00"),
            ("1 h 30 min ago", "2026-06-10 17:30"),
            ("1 hour and 30 minutes ago", "2026-06-10 17:30"),
            ("1h30m ago", "2026-06-10 17:30"),
            ("half an hour ago", "2026-06-10 18:30"),
            ("0 min ago", "2026-06-10 19:00"),
            ("2 days ago", "2026-06-08 19:00"),
            ("yesterday 22:15", "2026-06-10 03:15"),
            ("yesterday at 22:15", "2026-06-10 03:15"),
            ("14:01", "2026-06-10 19:00"),
            ("14:02", "2026-06-10 19:00"),
        ] {
            assert_eq!(read_at(text, now), Ok(at(expected)), "{text:?}");
        }
    }

    #[test]
    fn as_a_spanish_speaker_types_them() {
        // 14:00 in Chicago.
        let now = "2026-06-10 19:00";
        for (text, expected) in [
            ("ahora", "2026-06-10 19:00"),
            ("a las 13:40", "2026-06-10 18:40"),
            ("13:40 h", "2026-06-10 18:40"),
            ("1:40 de la tarde", "2026-06-10 18:40"),
            ("hoy 07:10", "2026-06-10 12:10"),
            ("hace 20 min", "2026-06-10 18:40"),
            ("hace 20min", "2026-06-10 18:40"),
            ("Hace unos 20 minutos", "2026-06-10 18:40"),
            ("hace 2 horas", "2026-06-10 17:00"),
            ("hace 1 hora y 30 minutos", "2026-06-10 17:30"),
            ("hace media hora", "2026-06-10 18:30"),
            ("hace 2 días", "2026-06-08 19:00"),
            ("ayer a las 22:15", "2026-06-10 03:15"),
        ] {
            assert_eq!(read_at(text, now), Ok(at(expected)), "{text:?}");
        }
        for (text, fault) in [
            ("hace 20", WhenFault::WhichUnit),
            ("hace mucho", WhenFault::Shape),
            ("ayer", WhenFault::Shape),
            ("hace 2 semanas", WhenFault::Shape),
            ("antes", WhenFault::Shape),
            ("3:00 de la noche", WhenFault::Shape),
            (
                "hace 8 días",
                WhenFault::TooOld {
                    oldest: at("2026-06-03 19:00"),
                },
            ),
        ] {
            assert_eq!(read_at(text, now), Err(fault), "{text:?}");
        }
    }

    #[test]
    fn a_time_ahead_is_yesterday_at_night_and_a_fault_by_day() {
        // 00:20 in Chicago on the 11th.
        assert_eq!(
            read_at("23:40", "2026-06-11 05:20"),
            Ok(at("2026-06-11 04:40"))
        );
        // An hour later.
        assert_eq!(
            read_at("13:20", "2026-06-11 06:20"),
            Ok(at("2026-06-10 18:20"))
        );
        assert_eq!(
            read_at("13:19", "2026-06-11 06:20"),
            Err(WhenFault::InFuture {
                at: at("2026-06-11 18:19")
            })
        );
        assert_eq!(
            read_at("15:00", "2026-06-10 19:00"),
            Err(WhenFault::InFuture {
                at: at("2026-06-10 20:00")
            })
        );
        assert_eq!(
            read_at("today 15:00", "2026-06-10 19:00"),
            Err(WhenFault::InFuture {
                at: at("2026-06-10 20:00")
            })
        );
    }

    #[test]
    fn faults_are_told_apart() {
        let now = "2026-06-10 19:00";
        for (text, fault) in [
            ("", WhenFault::Empty),
            ("earlier", WhenFault::Shape),
            ("25:00", WhenFault::Shape),
            ("20 ago", WhenFault::WhichUnit),
            ("7", WhenFault::WhichUnit),
            ("yesterday 7", WhenFault::WhichUnit),
            ("yesterday", WhenFault::Shape),
            ("2 weeks ago", WhenFault::Shape),
            ("30 min 1 h ago", WhenFault::Shape),
            ("5 min 5 min ago", WhenFault::Shape),
            (
                "14:03",
                WhenFault::InFuture {
                    at: at("2026-06-10 19:03"),
                },
            ),
            ("-5 min ago", WhenFault::Shape),
            ("999999999999 min ago", WhenFault::Shape),
            (
                "8 days ago",
                WhenFault::TooOld {
                    oldest: at("2026-06-03 19:00"),
                },
            ),
        ] {
            assert_eq!(read_at(text, now), Err(fault), "{text:?}");
        }
        assert_eq!(read_at("7 days ago", now), Ok(at("2026-06-03 19:00")));
    }

    /// The changes of 2026 in Chicago: 2026-03-08 08:00Z and 2026-11-01 07:00Z (zoneinfo, tzdata 2026f).
    #[test]
    fn over_the_changes_of_the_clocks() {
        // 01:30 is said at 01:50 of the first pass, then of the second, then at noon.
        assert_eq!(
            read_at("01:30", "2026-11-01 06:50"),
            Ok(at("2026-11-01 06:30"))
        );
        let two = WhenFault::WhichOfTwo {
            first: at("2026-11-01 06:30"),
            second: at("2026-11-01 07:30"),
        };
        assert_eq!(
            read_at("01:30", "2026-11-01 07:10"),
            Ok(at("2026-11-01 06:30"))
        );
        assert_eq!(read_at("01:30", "2026-11-01 07:50"), Err(two.clone()));
        assert_eq!(read_at("01:30", "2026-11-01 18:00"), Err(two));
        // Elapsed time, not the clock's: 90 minutes before 01:50 of the second pass is 01:20 of the first.
        assert_eq!(
            read_at("90 min ago", "2026-11-01 07:50"),
            Ok(at("2026-11-01 06:20"))
        );
        assert_eq!(
            read_at("02:30", "2026-03-08 18:00"),
            Err(WhenFault::Skipped {
                next: at("2026-03-08 08:00")
            })
        );
        assert_eq!(
            read_at("1 h ago", "2026-03-08 08:10"),
            Ok(at("2026-03-08 07:10"))
        );
    }

    proptest! {
        #[test]
        fn never_stops_and_never_answers_with_the_future(text in "\\PC{0,45}", seconds in 0i64..4_000_000_000) {
            let now = DateTime::from_timestamp(seconds, 0).unwrap();
            if let Ok(read) = parse(&text, now, &chicago(), DEFAULT_OLDEST) {
                prop_assert!(read <= now && now - read <= DEFAULT_OLDEST);
            }
        }

        #[test]
        fn a_clock_time_reads_back(minutes in 0i64..700, seconds in 1_700_000_000i64..2_000_000_000) {
            let now = DateTime::from_timestamp(seconds - seconds % 60, 0).unwrap();
            let then = now - TimeDelta::minutes(minutes);
            let text = chicago().local(then).format("%H:%M").to_string();
            match parse(&text, now, &chicago(), DEFAULT_OLDEST) {
                Ok(read) => {
                    // The first of two where the second is ahead is the only other answer.
                    let local = |at| chicago().local(at);
                    prop_assert_eq!(local(read), local(then));
                }
                Err(WhenFault::WhichOfTwo { first, second }) => prop_assert!(then == first || then == second),
                Err(other) => prop_assert!(false, "{:?} for {}", other, text),
            }
        }
    }
}
