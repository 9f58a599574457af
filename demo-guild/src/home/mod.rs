//! An invented care home for the demo guild, and the months that it has behind it.
//!
//! Decides who and what is in the home, and what happened there; every fact goes through the core's own rules,
//! as it does in life, and one that they refuse is an error here. Leaves serving the home to the guild, and
//! everything after the demo's first minute to whoever plays with it.
//!
//! Nothing here stands for a real home, person, make or model.

mod history;
mod lived;
mod people;
mod register;
mod setup;

use anyhow::{Context, anyhow, ensure};
use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};
use commands::ids::{Guild, RecordNo};
use commands::rules::zone::Zone;
use store::Store;

use lived::Lived;

pub use people::{GUILD, Job, Shift, Staff, layout, staff};
pub use setup::setup_asks;

/// The home's zone.
pub const ZONE: &str = "America/Chicago";
/// The day on which the demo begins when nothing else is asked for, as year, month, day: a Wednesday, four days
/// before clocks go forward there.
pub const DEMO_DAY: (i32, u32, u32) = (2026, 3, 4);
/// The seed of the history when nothing else is asked for.
pub const DEMO_SEED: u64 = 7;
/// The demo begins this long after midnight, in minutes: 06:52, so that the first shift card comes after eight.
const START_MINUTES: u32 = 6 * 60 + 52;
/// How much history the home has, in days.
pub const HISTORY_DAYS: i64 = 90;

/// The facility whose file [`prepare`] fills.
pub fn guild() -> Guild {
    Guild(GUILD)
}

/// What [`prepare`] found or made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Home {
    /// Records in the log.
    pub records: u64,
    /// Where the demo's clock goes on.
    pub now: DateTime<Utc>,
    /// The file was there before.
    pub kept: bool,
}

/// The moment at which a demo on this day begins: 06:52 in the home's zone.
///
/// # Errors
/// The zone rules do not know the home's zone.
pub fn demo_start(day: NaiveDate) -> anyhow::Result<DateTime<Utc>> {
    let time = NaiveTime::from_hms_opt(START_MINUTES / 60, START_MINUTES % 60, 0);
    let time = time.context("no such time of day")?;
    Ok(zone()?.instant(day.and_time(time)))
}

/// The day on which the demo begins when nothing else is asked for.
///
/// # Errors
/// Never: the day is in the calendar, which a test holds.
pub fn demo_day() -> anyhow::Result<NaiveDate> {
    let (year, month, day) = DEMO_DAY;
    NaiveDate::from_ymd_opt(year, month, day).context("no such day")
}

/// Gives a new file its [`HISTORY_DAYS`] of history up to `start`, a moment of [`demo_start`]; the same seed and start
/// give the same records. A file that already holds records is left as it is.
///
/// # Errors
/// The store's, or a rule of the core that refused what was to happen.
pub fn prepare(store: &mut Store, start: DateTime<Utc>, seed: u64) -> anyhow::Result<Home> {
    if store.head() > RecordNo(0) {
        return kept(store, start);
    }
    prepare_days(store, start, seed, HISTORY_DAYS)
}

/// As [`prepare`], with so many days of history: for measurements. What is told line by line is all in the first
/// [`HISTORY_DAYS`] of them; the habits go on.
///
/// # Errors
/// As [`prepare`]; a file that holds records is refused.
pub fn prepare_days(
    store: &mut Store,
    start: DateTime<Utc>,
    seed: u64,
    days: i64,
) -> anyhow::Result<Home> {
    ensure!(store.head() == RecordNo(0), "the file holds records");
    let from = zone()?.local(start).date() - TimeDelta::days(days);
    history::live(store, from, start, seed)?;
    store.alive(start)?;
    Ok(Home {
        records: store.head().0,
        now: start,
        kept: false,
    })
}

/// Gives a new file the home as it was set up at `at`, with nothing behind it: for tests and benchmarks.
///
/// # Errors
/// As [`prepare`]; a file that holds records is refused.
pub fn set_up(store: &mut Store, at: DateTime<Utc>) -> anyhow::Result<Home> {
    ensure!(store.head() == RecordNo(0), "the file holds records");
    let day = zone()?.local(at).date();
    let mut lived = Lived::new(store);
    setup::type_it(&mut lived, day, at - TimeDelta::hours(1))?;
    lived.until(at)?;
    lived.finish()?;
    store.alive(at)?;
    Ok(Home {
        records: store.head().0,
        now: at,
        kept: false,
    })
}

/// Facility time goes on where it was last seen, so that it never runs backwards.
fn kept(store: &Store, start: DateTime<Utc>) -> anyhow::Result<Home> {
    let head = store.head();
    let newest = store.records_after(RecordNo(head.0.saturating_sub(1)), 1)?;
    let seen = newest.iter().map(|record| record.entered);
    let now = seen.chain(store.last_alive()?).fold(start, DateTime::max);
    Ok(Home {
        records: head.0,
        now,
        kept: true,
    })
}

fn zone() -> anyhow::Result<Zone> {
    Zone::parse(ZONE).map_err(|_| anyhow!("the zone {ZONE} is not in the zone rules"))
}

#[cfg(test)]
mod tests;
