//! Reads when something ends: `15:30`, `2 h`, `tomorrow 10:00`, `mon 10:00`, `3 days`, `2026-03-09`.
//!
//! Decides which instant ahead a text means, seen from now and in the facility's zone; `when` does the same for what
//! has happened. Leaves to the caller how far ahead is taken, and to say back what was read.

use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveTime, TimeDelta, Utc, Weekday};

use super::spanish;
use super::when::{self, Unread};
use super::zone::{Instants, Zone};

/// Longer texts are not times.
const MAX_CHARS: usize = 40;

/// A bare clock time whose next day is too far ahead is said to be past where it was no longer ago than this.
const PAST_WITHIN: TimeDelta = TimeDelta::hours(12);

/// The time of a day named without one.
const MIDDAY: NaiveTime = NaiveTime::from_hms_opt(12, 0, 0).expect("noon is a time");

/// Why a text is no time ahead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UntilFault {
    /// Nothing was typed.
    Empty,
    /// Not a time: a sentence should show the forms that are.
    Shape,
    /// A number without what it counts, such as `in 2`, or an hour without minutes.
    WhichUnit,
    /// It is past, or now.
    InPast {
        /// The instant that was read.
        at: DateTime<Utc>,
    },
    /// Further ahead than is taken.
    TooFar {
        /// The latest instant that is taken.
        latest: DateTime<Utc>,
    },
    /// It is past, and the clocks skipped that time of day.
    Skipped {
        /// The first moment after it.
        next: DateTime<Utc>,
    },
}

impl From<Unread> for UntilFault {
    fn from(of: Unread) -> UntilFault {
        match of {
            Unread::Shape => UntilFault::Shape,
            Unread::WhichUnit => UntilFault::WhichUnit,
        }
    }
}

/// Reads `15:30`, `3:30 pm`, `noon`, `2 h`, `in 45 min`, `3 days`, `today 15:30`, `tomorrow 10:00`, `mon 10:00`,
/// `2026-03-09`, `2026-03-09 14:00`; `until` before it and the day behind the time (`10:00 monday`) are taken as well,
/// and all of it in Spanish, such as `mañana 10:00`.
///
/// A bare clock time is the next such time ahead, and so is that of a weekday. A day named without a time is its
/// midday. Hours and minutes are elapsed time, whatever the clocks do; days are calendar days, to the same local time.
/// A time that the clocks skip is the first moment after it; one that they go back over is the first of the two
/// that is still ahead. `latest` is how far ahead is taken.
///
/// # Errors
/// [`UntilFault`] says what to type instead; nothing is guessed.
pub fn parse(
    text: &str,
    now: DateTime<Utc>,
    zone: &Zone,
    latest: TimeDelta,
) -> Result<DateTime<Utc>, UntilFault> {
    let lower = text.to_lowercase();
    let plain = lower.split_whitespace().collect::<Vec<_>>().join(" ");
    if plain.is_empty() {
        return Err(UntilFault::Empty);
    }
    if plain.chars().count() > MAX_CHARS {
        return Err(UntilFault::Shape);
    }
    let latest = now
        .checked_add_signed(latest)
        .unwrap_or(DateTime::<Utc>::MAX_UTC);
    let seen = Seen {
        now,
        today: zone.local(now).date(),
        zone,
    };
    let at = match seen.read(without_until(&plain), latest) {
        Err(unread @ (UntilFault::Shape | UntilFault::WhichUnit)) => match spanish::time(&plain) {
            Some(ours) => seen.read(without_until(&ours), latest)?,
            None => return Err(unread),
        },
        read => read?,
    };
    if at <= now {
        Err(UntilFault::InPast { at })
    } else if at > latest {
        Err(UntilFault::TooFar { latest })
    } else {
        Ok(at)
    }
}

fn without_until(plain: &str) -> &str {
    ["until ", "till ", "til "]
        .iter()
        .find_map(|word| plain.strip_prefix(word))
        .unwrap_or(plain)
}

/// Where and when a text is read.
struct Seen<'a> {
    now: DateTime<Utc>,
    today: NaiveDate,
    zone: &'a Zone,
}

/// A day as it is named.
#[derive(Debug, Clone, Copy)]
enum Named {
    /// So many days from today.
    Ahead(u64),
    Weekday(Weekday),
    Date(NaiveDate),
}

impl Seen<'_> {
    fn read(&self, plain: &str, latest: DateTime<Utc>) -> Result<DateTime<Utc>, UntilFault> {
        if let Some((day, time)) = day_and_time(plain) {
            let time = match (time, day) {
                // Said in the morning it would be midday, said later it would be nothing.
                ("", Named::Ahead(0)) => return Err(UntilFault::Shape),
                ("", Named::Ahead(_) | Named::Weekday(_) | Named::Date(_)) => MIDDAY,
                (time, _) => when::clock(time)?,
            };
            return self.on_named(day, time);
        }
        match when::clock(plain) {
            Ok(time) => self.next_clock(time, latest),
            Err(unread) => {
                let span = ["in ", "for "]
                    .iter()
                    .find_map(|word| plain.strip_prefix(word));
                match span {
                    Some(span) => self.after(when::span(span)?),
                    None if plain.contains(|c: char| c.is_ascii_alphabetic()) => {
                        self.after(when::span(plain)?)
                    }
                    None => Err(unread.into()),
                }
            }
        }
    }

    fn on_named(&self, day: Named, time: NaiveTime) -> Result<DateTime<Utc>, UntilFault> {
        match day {
            Named::Ahead(days) => self.on_day(self.days_ahead(days)?, time),
            Named::Date(date) => self.on_day(date, time),
            Named::Weekday(weekday) => {
                let away = Days::new(u64::from(weekday.days_since(self.weekday())));
                let first = self.today.checked_add_days(away).ok_or(UntilFault::Shape)?;
                self.on_day(first, time).or_else(|_| {
                    let next = first.checked_add_days(Days::new(7));
                    self.on_day(next.ok_or(UntilFault::Shape)?, time)
                })
            }
        }
    }

    /// Today's where that is ahead, else tomorrow's.
    fn next_clock(
        &self,
        time: NaiveTime,
        latest: DateTime<Utc>,
    ) -> Result<DateTime<Utc>, UntilFault> {
        let past = match self.on_day(self.today, time) {
            Ok(at) => return Ok(at),
            Err(past) => past,
        };
        let next = self.on_day(self.days_ahead(1)?, time)?;
        // "Too far ahead" would puzzle whoever meant the time that has just gone by.
        if let UntilFault::InPast { at } = past
            && next > latest
            && self.now - at <= PAST_WITHIN
        {
            return Err(past);
        }
        Ok(next)
    }

    fn after(&self, span: when::Span) -> Result<DateTime<Utc>, UntilFault> {
        let start = match u64::try_from(span.days) {
            Ok(0) => self.now,
            Ok(days) => self.on_day(self.days_ahead(days)?, self.zone.local(self.now).time())?,
            Err(_) => return Err(UntilFault::Shape),
        };
        start
            .checked_add_signed(TimeDelta::minutes(span.minutes))
            .ok_or(UntilFault::Shape)
    }

    fn on_day(&self, day: NaiveDate, time: NaiveTime) -> Result<DateTime<Utc>, UntilFault> {
        let ahead = |at: DateTime<Utc>| at > self.now;
        match self.zone.instants(day.and_time(time)) {
            Instants::One(at) if ahead(at) => Ok(at),
            Instants::One(at) => Err(UntilFault::InPast { at }),
            Instants::Skipped(next) if ahead(next) => Ok(next),
            Instants::Skipped(next) => Err(UntilFault::Skipped { next }),
            Instants::Two(first, _) if ahead(first) => Ok(first),
            Instants::Two(_, second) if ahead(second) => Ok(second),
            Instants::Two(_, second) => Err(UntilFault::InPast { at: second }),
        }
    }

    fn days_ahead(&self, days: u64) -> Result<NaiveDate, UntilFault> {
        self.today
            .checked_add_days(Days::new(days))
            .ok_or(UntilFault::Shape)
    }

    fn weekday(&self) -> Weekday {
        self.today.weekday()
    }
}

/// The day that stands before or behind a clock time, and that time; empty where the day stands alone.
fn day_and_time(plain: &str) -> Option<(Named, &str)> {
    let plain = plain.strip_prefix("on ").unwrap_or(plain);
    let (first, rest) = plain.split_once(' ').unwrap_or((plain, ""));
    if let Some(day) = named(first) {
        return Some((day, rest));
    }
    let (rest, last) = plain.rsplit_once(' ')?;
    let rest = rest.strip_suffix(" on").unwrap_or(rest);
    named(last).map(|day| (day, rest))
}

fn named(word: &str) -> Option<Named> {
    let word = word.trim_end_matches([',', '.']);
    let weekday = match word {
        "today" => return Some(Named::Ahead(0)),
        "tomorrow" => return Some(Named::Ahead(1)),
        "mon" | "monday" => Weekday::Mon,
        "tue" | "tues" | "tuesday" => Weekday::Tue,
        "wed" | "weds" | "wednesday" => Weekday::Wed,
        "thu" | "thur" | "thurs" | "thursday" => Weekday::Thu,
        "fri" | "friday" => Weekday::Fri,
        "sat" | "saturday" => Weekday::Sat,
        "sun" | "sunday" => Weekday::Sun,
        date => return written_date(date).map(Named::Date),
    };
    Some(Named::Weekday(weekday))
}

/// `2026-03-09`; nothing else, since `3/9` is another day elsewhere.
fn written_date(word: &str) -> Option<NaiveDate> {
    let shape = word.len() == 10
        && word.bytes().enumerate().all(|(place, b)| match place {
            4 | 7 => b == b'-',
            _digit => b.is_ascii_digit(),
        });
    if shape { word.parse().ok() } else { None }
}

#[cfg(test)]
mod tests;
