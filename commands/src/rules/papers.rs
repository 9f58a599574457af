//! Which papers a surface lacks: of its safety test, of the maker's maintenance, of the check when a rented one came.
//!
//! Decides what is missing and the day on which work is due again. Leaves to the caller who may do without a paper for a
//! night, and every sentence. That it is clean, whole and working is no paper, and nobody does without it.
//!
//! Sources: a test before first use and after repair: NFPA 99-2012, chapter 10 (from memory). How often again: the
//! facility's policy, inside the 6 to 36 months that IEC 62353 gives where a maker names none (from memory).

use chrono::{DateTime, Days, Months, NaiveDate, Utc};

use crate::choice::{Outcome, Paper};

/// Work that left a paper, as it is on record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Done {
    /// The day it was done.
    pub on: NaiveDate,
    /// When it was entered.
    pub at: DateTime<Utc>,
    /// How it came out.
    pub outcome: Outcome,
}

/// What is known of a surface's papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Known {
    /// It was never under a bed, or went there without its papers.
    pub first_use: bool,
    /// The newest repair: its day, and when it was entered.
    pub repaired: Option<(NaiveDate, DateTime<Utc>)>,
    /// The newest safety test.
    pub test: Option<Done>,
    /// The newest maintenance.
    pub maintenance: Option<Done>,
    /// The day on which maintenance is due, if ever.
    pub maintenance_day: Option<NaiveDate>,
    /// For one that is rented: whether it was found as it should be when it came.
    pub arrived: Option<bool>,
}

/// The papers that are missing on a day, in the order in which they are asked for.
#[must_use]
pub fn missing(known: &Known, today: NaiveDate) -> Vec<Paper> {
    let mut papers = Vec::new();
    if known.arrived == Some(false) {
        papers.push(Paper::Arrival);
    }
    let tested = known.test.filter(|test| test.outcome == Outcome::Passed);
    // One that was entered before the repair on the same day may have been the test that failed.
    let since_repair = |(day, at): (NaiveDate, DateTime<Utc>)| {
        tested.is_some_and(|test| test.on >= day && test.at >= at)
    };
    let failed = known.test.is_some() && tested.is_none();
    let tested_enough = known
        .repaired
        .map_or(tested.is_some() || !known.first_use, since_repair);
    if failed || !tested_enough {
        papers.push(Paper::SafetyTest);
    }
    let failed = known
        .maintenance
        .is_some_and(|done| done.outcome == Outcome::Failed);
    if failed || known.maintenance_day.is_some_and(|day| day < today) {
        papers.push(Paper::Maintenance);
    }
    papers
}

/// The day on which work is due again: the day that was named, else so many days after it was last done, else so many
/// days after the surface came. `None` where nobody says how often.
#[must_use]
pub fn due_day(
    named: Option<NaiveDate>,
    done: Option<NaiveDate>,
    came: NaiveDate,
    every_days: Option<u16>,
) -> Option<NaiveDate> {
    named.or_else(|| {
        done.unwrap_or(came)
            .checked_add_days(Days::new(u64::from(every_days?)))
    })
}

/// The same day so many months later; the last of a month that is shorter.
#[must_use]
pub fn months_after(day: NaiveDate, months: i64) -> Option<NaiveDate> {
    day.checked_add_months(Months::new(u32::try_from(months).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn done(on: &str, at: &str, outcome: Outcome) -> Option<Done> {
        let at = format!("{at}:00Z").parse().unwrap();
        Some(Done {
            on: day(on),
            at,
            outcome,
        })
    }

    const NOTHING: Known = Known {
        first_use: true,
        repaired: None,
        test: None,
        maintenance: None,
        maintenance_day: None,
        arrived: None,
    };

    #[test]
    fn before_first_use_and_after_repair() {
        let today = day("2026-03-02");
        let passed = done("2026-01-15", "2026-01-15T12:00", Outcome::Passed);
        let failed = done("2026-01-15", "2026-01-15T12:00", Outcome::Failed);
        assert_eq!(missing(&NOTHING, today), [Paper::SafetyTest]);
        let tested = Known {
            test: passed,
            ..NOTHING
        };
        assert_eq!(missing(&tested, today), []);
        let known = Known {
            test: failed,
            ..NOTHING
        };
        assert_eq!(missing(&known, today), [Paper::SafetyTest]);
        // Once in use, an old register without tests stops nobody: the due list asks for them.
        let known = Known {
            first_use: false,
            ..NOTHING
        };
        assert_eq!(missing(&known, today), []);
        let repair = |on: &str, at: &str| {
            let at = format!("{at}:00Z").parse().unwrap();
            Known {
                first_use: false,
                repaired: Some((day(on), at)),
                ..tested
            }
        };
        assert_eq!(
            missing(&repair("2026-02-01", "2026-02-01T12:00"), today),
            [Paper::SafetyTest]
        );
        assert_eq!(
            missing(&repair("2026-01-15", "2026-01-15T12:01"), today),
            [Paper::SafetyTest]
        );
        assert_eq!(
            missing(&repair("2026-01-15", "2026-01-15T11:00"), today),
            []
        );
    }

    #[test]
    fn maintenance_past_its_day_and_the_arrival() {
        let known = Known {
            first_use: false,
            maintenance_day: Some(day("2026-03-02")),
            ..NOTHING
        };
        assert_eq!(missing(&known, day("2026-03-02")), []);
        assert_eq!(missing(&known, day("2026-03-03")), [Paper::Maintenance]);
        let failed = Known {
            maintenance: done("2026-03-01", "2026-03-01T12:00", Outcome::Failed),
            ..known
        };
        assert_eq!(missing(&failed, day("2026-03-02")), [Paper::Maintenance]);
        let rented = Known {
            arrived: Some(false),
            ..NOTHING
        };
        assert_eq!(
            missing(&rented, day("2026-03-02")),
            [Paper::Arrival, Paper::SafetyTest]
        );
        let rented = Known {
            arrived: Some(true),
            ..known
        };
        assert_eq!(missing(&rented, day("2026-03-02")), []);
    }

    /// Python 3.11 `datetime` and dateutil 2.8 `relativedelta(months=…)`, from memory of their rule: the last day of a
    /// shorter month.
    #[test]
    fn the_day_of_the_next() {
        let came = day("2026-01-31");
        assert_eq!(due_day(None, None, came, None), None);
        assert_eq!(
            due_day(None, None, came, Some(365)),
            Some(day("2027-01-31"))
        );
        let done = Some(day("2026-02-01"));
        assert_eq!(due_day(None, done, came, Some(28)), Some(day("2026-03-01")));
        let named = Some(day("2026-06-01"));
        assert_eq!(due_day(named, done, came, Some(28)), named);
        assert_eq!(due_day(named, done, came, None), named);
        assert_eq!(months_after(came, 1), Some(day("2026-02-28")));
        assert_eq!(months_after(day("2028-02-29"), 12), Some(day("2029-02-28")));
        assert_eq!(months_after(came, -1), None);
    }
}
