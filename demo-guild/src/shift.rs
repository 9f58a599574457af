//! When the next shift starts, on a wall clock in the home's zone.

use chrono::{DateTime, Utc};
use jiff::tz::TimeZoneDatabase;
use jiff::{Timestamp, ToSpan, civil};

/// When shifts start, in local hours: common practice for three shifts of eight hours.
const STARTS: [i8; 3] = [7, 15, 23];

/// The first start of a shift after `now`.
///
/// # Errors
/// A sentence, where the zone is unknown or the calendar ends.
pub fn next(now: DateTime<Utc>, zone: &str) -> Result<DateTime<Utc>, String> {
    let none = |_| format!("There is no next shift in the zone {zone}.");
    let zone_rules = TimeZoneDatabase::bundled().get(zone).map_err(none)?;
    let stamp = Timestamp::from_millisecond(now.timestamp_millis()).map_err(none)?;
    let local = zone_rules.to_datetime(stamp);
    for day in 0..=2 {
        let date = local.date().checked_add(day.days()).map_err(none)?;
        for hour in STARTS {
            let start = date.to_datetime(civil::time(hour, 0, 0, 0));
            let start = zone_rules.to_timestamp(start).map_err(none)?;
            if start > stamp {
                let ms = start.as_millisecond();
                return DateTime::from_timestamp_millis(ms)
                    .ok_or_else(|| "The calendar ends here.".to_owned());
            }
        }
    }
    Err(format!("There is no next shift in the zone {zone}."))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(now: &str) -> String {
        let now = DateTime::parse_from_rfc3339(now).unwrap().to_utc();
        next(now, "America/Chicago").unwrap().to_rfc3339()
    }

    #[test]
    fn shifts_start_at_seven_fifteen_and_twenty_three_on_the_wall() {
        // Central Standard Time is UTC-6, Central Daylight Time UTC-5 (15 U.S.C. 260a).
        assert_eq!(after("2026-01-10T12:59:59Z"), "2026-01-10T13:00:00+00:00");
        assert_eq!(after("2026-01-10T13:00:00Z"), "2026-01-10T21:00:00+00:00");
        assert_eq!(after("2026-01-11T05:00:00Z"), "2026-01-11T13:00:00+00:00");
        // The night of 8 March 2026 is an hour shorter.
        assert_eq!(after("2026-03-08T05:00:00Z"), "2026-03-08T12:00:00+00:00");
    }
}
