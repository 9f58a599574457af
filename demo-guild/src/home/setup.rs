//! How the invented home was set up: what its office typed, in order. Decides the sequence; each line is refused or
//! taken by the core as anybody's would be.

use std::collections::BTreeMap;

use anyhow::Context;
use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use commands::said::{FileRef, Options, Said, Value};

use super::ZONE;
use super::lived::Lived;
use super::people::{
    CARE_CHANNEL, Job, SUPERVISOR_CHANNEL, Staff, UPKEEP_CHANNEL, staff, unit_channel,
};
use super::register::{self, UNITS};

/// How long ago the ordinary outlet was tested, in days.
const OUTLET_TESTED_DAYS: i64 = 300;
/// Between two lines.
const APART: TimeDelta = TimeDelta::minutes(1);

/// Types it all, one line after another from `at` on.
///
/// # Errors
/// A line was refused.
pub(super) fn type_it(
    lived: &mut Lived<'_>,
    day: NaiveDate,
    mut at: DateTime<Utc>,
) -> anyhow::Result<()> {
    for (who, said) in setup_asks(day)? {
        lived.ask(&who, at, &said)?;
        at += APART;
    }
    Ok(())
}

/// What was typed by whom to set the home up, first to last; `day` is the one before which its surfaces came.
///
/// # Errors
/// Never: the home has somebody for each job, which a test holds.
pub fn setup_asks(day: NaiveDate) -> anyhow::Result<Vec<(Staff, Said)>> {
    let mut asks = vec![facility()];
    for (place, unit) in UNITS.iter().enumerate() {
        asks.push(command(
            "facility unit",
            [
                ("name", Value::Text(unit.name.to_owned())),
                ("beds", Value::Text(unit.beds.to_owned())),
                ("channel", Value::Channel(unit_channel(place))),
            ],
        ));
    }
    asks.push(import("profiles", register::PROFILES.to_owned()));
    asks.push(import("surfaces", register::surfaces(day)));
    asks.push(words(
        "facility schedule",
        &[("what", "summary"), ("when", "weekdays 06:30")],
    ));
    let anybody = |job: Job| {
        let found = staff().find(|who| who.job == job);
        found.context("the home has nobody for this job")
    };
    let office = anybody(Job::Admin)?;
    let mut asks: Vec<_> = asks.into_iter().map(|said| (office, said)).collect();
    let upkeep = anybody(Job::Upkeep)?;
    asks.extend(frames(day).into_iter().map(|said| (upkeep, said)));
    let supervisor = anybody(Job::Supervisor)?;
    asks.extend(lists().into_iter().map(|said| (supervisor, said)));
    for (item, count) in SHELF {
        let counted = [
            ("item", Value::Text(item.to_owned())),
            ("count", Value::Whole(count)),
        ];
        asks.push((upkeep, command("stock", counted)));
    }
    Ok(asks)
}

/// Filters that were counted on the shelf.
const SHELF: [(&str, i64); 3] = [
    ("filter Standard A", 30),
    ("filter Wide B", 16),
    ("filter Whole bed E", 10),
];

/// The frames, as far as somebody has looked at them; one wall outlet was tested a year before the third month of the
/// history, and so is due again in it.
fn frames(day: NaiveDate) -> Vec<Said> {
    let old = (day - TimeDelta::days(OUTLET_TESTED_DAYS)).to_string();
    let hospital = ("outlet", "hospital-grade");
    vec![
        words(
            "facility frame",
            &[("beds", "101-111"), ("rails", "split"), hospital],
        ),
        words(
            "facility frame",
            &[("beds", "201-211"), ("rails", "half"), hospital],
        ),
        words(
            "facility frame",
            &[
                ("beds", "301-310"),
                ("rails", "split"),
                ("outlet", "emergency"),
            ],
        ),
        // Where the length is known, only what is no longer goes there.
        words(
            "facility frame",
            &[
                ("beds", "112,212"),
                ("width", "36 in"),
                ("length", "80 in"),
                ("rails", "split"),
                hospital,
            ],
        ),
        words(
            "facility frame",
            &[
                ("beds", "312"),
                ("width", "36 in"),
                ("rails", "grip"),
                hospital,
            ],
        ),
        words(
            "facility frame",
            &[
                ("beds", "311"),
                ("rails", "split"),
                ("outlet", "ordinary"),
                ("outlet-tested", &old),
            ],
        ),
    ]
}

/// Products, storage places, what renting costs, and the two that are on rent from the first day.
fn lists() -> Vec<Said> {
    let product = |name: &str, method: &str, minutes: i64, sporicidal: &str| {
        command(
            "facility product",
            [
                ("name", Value::Text(name.to_owned())),
                ("method", Value::Text(method.to_owned())),
                ("contact", Value::Whole(minutes)),
                ("sporicidal", Value::Text(sporicidal.to_owned())),
            ],
        )
    };
    let rented = |surface: &str, reference: &str| {
        words(
            "rental start",
            &[
                ("surface", surface),
                ("rate", "38.50"),
                ("reference", reference),
            ],
        )
    };
    vec![
        product("Wipe A", "quaternary", 3, "off"),
        product("Bleach B", "bleach", 5, "on"),
        words(
            "facility storage",
            &[("dirty", "soiled utility room"), ("clean", "store 2")],
        ),
        words(
            "facility policy",
            &[("name", "rental-day"), ("value", "38.50")],
        ),
        rented("LW-32", "V-1107"),
        rented("LW-33", "V-1108"),
    ]
}

/// A command with options of text.
pub(super) fn words(path: &str, options: &[(&str, &str)]) -> Said {
    let text = |(name, text): &(&str, &str)| ((*name).to_owned(), Value::Text((*text).to_owned()));
    Said::Command {
        path: path.to_owned(),
        options: options.iter().map(text).collect(),
    }
}

fn facility() -> Said {
    command(
        "facility setup",
        [
            ("timezone", Value::Text(ZONE.to_owned())),
            ("care-channel", Value::Channel(CARE_CHANNEL)),
            ("supervisor-channel", Value::Channel(SUPERVISOR_CHANNEL)),
            ("aide", Value::Role(Job::Aide.role())),
            ("nurse", Value::Role(Job::Nurse.role())),
            ("supervisor", Value::Role(Job::Supervisor.role())),
            ("upkeep", Value::Role(Job::Upkeep.role())),
            ("upkeep-channel", Value::Channel(UPKEEP_CHANNEL)),
            ("beds-in-posts", Value::Text("yes".to_owned())),
            ("home", Value::Text(super::people::NAME.to_owned())),
        ],
    )
}

fn command<const N: usize>(path: &str, options: [(&str, Value); N]) -> Said {
    Said::Command {
        path: path.to_owned(),
        options: named(options),
    }
}

/// An import, with its file fetched.
fn import(what: &str, csv: String) -> Said {
    Said::Fetched {
        path: "fleet import".to_owned(),
        options: named([
            ("what", Value::Text(what.to_owned())),
            (
                "file",
                Value::File(FileRef {
                    name: format!("{what}.csv"),
                    url: String::new(),
                    size: csv.len() as u64,
                }),
            ),
        ]),
        file: Ok(csv.into_bytes()),
    }
}

fn named<const N: usize>(options: [(&str, Value); N]) -> Options {
    BTreeMap::from(options.map(|(name, value)| (name.to_owned(), value)))
}
