//! Counts work days and knows the federal holidays of the United States.
//!
//! Decides which days are work days. Leaves to the caller from which day a report is counted and what is said when
//! its days run out.
//!
//! Sources, from memory: 21 CFR 803.3 (a work day is Monday to Friday, federal holidays left out) and 21 CFR 803.30
//! (a user facility reports within 10 work days of becoming aware); 5 U.S.C. 6103 and Executive Order 11582 (which
//! days are holidays, and on which day one is observed that falls on a weekend). Days off that a president gives
//! by order, and Inauguration Day, which is a holiday around the capital only, count as work days: a report is then
//! asked for a day early and never late.

use chrono::{Datelike, NaiveDate, Weekday};

/// Work days that a user facility has to report a death or a serious injury by a device (21 CFR 803.30, from
/// memory).
pub const REPORT_WORK_DAYS: u16 = 10;

/// The first year with Juneteenth (Public Law 117-17, from memory).
const JUNETEENTH_SINCE: i32 = 2021;

/// The holidays of a year in their order, each on the day on which it is observed.
///
/// One on a Saturday is observed on the Friday before, one on a Sunday on the Monday after; so New Year's Day
/// may be observed on 31 December of the year before. The law as it stands is applied to any year, with
/// Juneteenth since 2021; it was checked for 2000 to 2100.
#[must_use]
pub fn holidays(year: i32) -> Vec<NaiveDate> {
    observed(year).into_iter().flatten().collect()
}

/// Monday to Friday, and no federal holiday is observed on it.
#[must_use]
pub fn is_work_day(day: NaiveDate) -> bool {
    if matches!(day.weekday(), Weekday::Sat | Weekday::Sun) {
        return false;
    }
    // The last day of a year may be the next year's first holiday.
    let next_new_year = observed(day.year().saturating_add(1))[0];
    !observed(day.year()).contains(&Some(day)) && next_new_year != Some(day)
}

/// The `n`th work day after a day, which itself is not counted whatever day it is; the day itself for 0.
///
/// Stops at the last day that the calendar of the library has.
#[must_use]
pub fn nth_work_day_after(day: NaiveDate, n: u16) -> NaiveDate {
    let mut at = day;
    let mut left = n;
    while left > 0
        && let Some(next) = at.succ_opt()
    {
        at = next;
        if is_work_day(at) {
            left -= 1;
        }
    }
    at
}

/// How many work days lie after `from`, up to and including `to`; 0 where `to` is not after `from`.
#[must_use]
pub fn work_days_between(from: NaiveDate, to: NaiveDate) -> i64 {
    let mut count = 0;
    let mut at = from;
    while at < to
        && let Some(next) = at.succ_opt()
    {
        at = next;
        count += i64::from(is_work_day(at));
    }
    count
}

/// The last work day that is not after `day`: when what comes due on it, and can be done before, is done. `day` itself at
/// the end of the calendar.
pub fn last_work_day(day: NaiveDate) -> NaiveDate {
    // No run of days off is longer than a weekend with a holiday on either side.
    const RUN_MAX: usize = 7;
    std::iter::successors(Some(day), NaiveDate::pred_opt)
        .take(RUN_MAX)
        .find(|day| is_work_day(*day))
        .unwrap_or(day)
}

/// Whether there is a Saturday or a Sunday among the days after `from`, up to `to`.
pub fn over_a_weekend(from: NaiveDate, to: NaiveDate) -> bool {
    from.iter_days()
        .skip(1)
        .take_while(|day| *day <= to)
        .any(|day| matches!(day.weekday(), Weekday::Sat | Weekday::Sun))
}

/// The holidays of a year, New Year's Day first; without a day where there is no such holiday or no such date.
fn observed(year: i32) -> [Option<NaiveDate>; 11] {
    let on = |month, day| NaiveDate::from_ymd_opt(year, month, day).and_then(moved_off_weekend);
    let the = |n, weekday, month| NaiveDate::from_weekday_of_month_opt(year, month, weekday, n);
    [
        // New Year's Day.
        on(1, 1),
        // Birthday of Martin Luther King, Jr.
        the(3, Weekday::Mon, 1),
        // Washington's Birthday.
        the(3, Weekday::Mon, 2),
        // Memorial Day, the last Monday of May.
        the(5, Weekday::Mon, 5).or_else(|| the(4, Weekday::Mon, 5)),
        // Juneteenth.
        on(6, 19).filter(|_| year >= JUNETEENTH_SINCE),
        // Independence Day.
        on(7, 4),
        // Labor Day.
        the(1, Weekday::Mon, 9),
        // Columbus Day.
        the(2, Weekday::Mon, 10),
        // Veterans Day.
        on(11, 11),
        // Thanksgiving Day.
        the(4, Weekday::Thu, 11),
        // Christmas Day.
        on(12, 25),
    ]
}

fn moved_off_weekend(day: NaiveDate) -> Option<NaiveDate> {
    match day.weekday() {
        Weekday::Sat => day.pred_opt(),
        Weekday::Sun => day.succ_opt(),
        Weekday::Mon | Weekday::Tue | Weekday::Wed | Weekday::Thu | Weekday::Fri => Some(day),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::Days;
    use proptest::prelude::*;

    /// Every holiday on a weekday of 2000 to 2100; how it was made stands in its head.
    const PUBLISHED: &str = include_str!("federal_holidays.txt");

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// The federal calendars of 2026 and 2027 as the personnel office of the government prints them (from memory).
    #[test]
    fn two_years_as_they_are_printed() {
        for (year, printed) in [
            (
                2026,
                [
                    "01-01", "01-19", "02-16", "05-25", "06-19", "07-03", "09-07", "10-12",
                    "11-11", "11-26", "12-25",
                ],
            ),
            (
                2027,
                [
                    "01-01", "01-18", "02-15", "05-31", "06-18", "07-05", "09-06", "10-11",
                    "11-11", "11-25", "12-24",
                ],
            ),
        ] {
            let printed: Vec<_> = printed.map(|d| day(&format!("{year}-{d}"))).into();
            assert_eq!(holidays(year), printed);
        }
        // 1 January 2028 is a Saturday.
        assert_eq!(holidays(2028).first(), Some(&day("2027-12-31")));
    }

    /// Python library holidays 0.109, for all of 2000 to 2100.
    #[test]
    fn every_day_of_a_century_agrees_with_a_calendar_library() {
        let mut years = 0;
        for line in PUBLISHED.lines().filter(|line| !line.starts_with('#')) {
            let (year, days) = line.split_once(": ").unwrap();
            let off: Vec<_> = days
                .split(' ')
                .map(|d| day(&format!("{year}-{d}")))
                .collect();
            let all = day(&format!("{year}-01-01"))
                .iter_days()
                .take_while(|d| d.year().to_string() == year);
            for at in all {
                let weekend = at.weekday().number_from_monday() > 5;
                assert_eq!(is_work_day(at), !weekend && !off.contains(&at), "{at}");
            }
            years += 1;
        }
        assert_eq!(years, 101);
    }

    /// numpy 2.4.6 `busday_offset(day, n, roll="backward")` with the holidays of the library holidays 0.109.
    #[test]
    fn report_days_agree_with_numpy() {
        for (from, first, tenth) in [
            // Over Washington's Birthday.
            ("2026-02-02", "2026-02-03", "2026-02-17"),
            // Independence Day 2026 is a Saturday and observed on the Friday.
            ("2026-07-02", "2026-07-06", "2026-07-17"),
            ("2026-07-03", "2026-07-06", "2026-07-17"),
            ("2026-07-04", "2026-07-06", "2026-07-17"),
            ("2026-11-20", "2026-11-23", "2026-12-07"),
            ("2026-12-18", "2026-12-21", "2027-01-05"),
            // New Year's Day 2028 is observed in 2027.
            ("2027-12-17", "2027-12-20", "2028-01-04"),
            ("2027-12-31", "2028-01-03", "2028-01-14"),
            ("2027-06-11", "2027-06-14", "2027-06-28"),
            ("2021-12-20", "2021-12-21", "2022-01-05"),
            ("2028-01-03", "2028-01-04", "2028-01-18"),
            ("2024-12-31", "2025-01-02", "2025-01-15"),
        ] {
            assert_eq!(nth_work_day_after(day(from), 1), day(first), "{from}");
            let last = nth_work_day_after(day(from), REPORT_WORK_DAYS);
            assert_eq!(last, day(tenth), "{from}");
        }
    }

    /// numpy 2.4.6 `busday_count`, both ends moved by a day, with the same holidays.
    #[test]
    fn counts_agree_with_numpy() {
        for (from, to, count) in [
            ("2026-01-01", "2026-12-31", 250),
            ("2027-01-01", "2027-12-31", 249),
            ("2026-07-02", "2026-07-06", 1),
            ("2026-07-03", "2026-07-05", 0),
            ("2026-11-25", "2026-11-27", 1),
            ("2021-12-30", "2022-01-03", 1),
            ("1999-12-31", "2100-12-31", 25_260),
            ("2026-03-02", "2026-03-02", 0),
        ] {
            assert_eq!(
                work_days_between(day(from), day(to)),
                count,
                "{from} to {to}"
            );
        }
        assert_eq!(work_days_between(day("2026-03-05"), day("2026-03-02")), 0);
    }

    /// numpy 2.4.6 `busday_offset(day, 0, roll="backward")` with the holidays of the library holidays 0.109.
    #[test]
    fn the_last_work_day_agrees_with_numpy() {
        for (of, last, weekend) in [
            ("2026-03-06", "2026-03-06", false),
            ("2026-03-07", "2026-03-06", true),
            ("2026-03-08", "2026-03-06", true),
            // Washington's Birthday, a Monday.
            ("2026-02-16", "2026-02-13", true),
            // Independence Day 2026, a Saturday, observed on the Friday.
            ("2026-07-03", "2026-07-02", false),
            ("2026-07-05", "2026-07-02", true),
            // Thanksgiving Day.
            ("2026-11-26", "2026-11-25", false),
        ] {
            assert_eq!(last_work_day(day(of)), day(last), "{of}");
            assert_eq!(over_a_weekend(day(last), day(of)), weekend, "{of}");
        }
    }

    #[test]
    fn at_the_ends_of_the_calendar() {
        assert_eq!(nth_work_day_after(day("2026-03-07"), 0), day("2026-03-07"));
        assert_eq!(nth_work_day_after(NaiveDate::MAX, 10), NaiveDate::MAX);
        assert!(holidays(i32::MAX).is_empty());
        assert_eq!(work_days_between(NaiveDate::MAX, NaiveDate::MAX), 0);
    }

    proptest! {
        #[test]
        fn counting_undoes_stepping(after in 0u64..36_000, n in 1u16..60) {
            let from = day("2000-01-01") + Days::new(after);
            let to = nth_work_day_after(from, n);
            prop_assert!(is_work_day(to));
            prop_assert_eq!(work_days_between(from, to), i64::from(n));
            prop_assert_eq!(work_days_between(from, to.pred_opt().unwrap()), i64::from(n) - 1);
        }
    }
}
