//! How the invented home was set up: what its office typed, in order. Decides the sequence; each line is refused or
//! taken by the core as anybody's would be.

use std::collections::BTreeMap;

use anyhow::Context;
use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use commands::said::{FileRef, Options, Said, Value};

use super::ZONE;
use super::lived::Lived;
use super::people::{CARE_CHANNEL, Job, SUPERVISOR_CHANNEL, Staff, staff, unit_channel};
use super::register::{self, UNITS};

/// Between two lines.
const APART: TimeDelta = TimeDelta::minutes(2);

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
    let approval = [("name", "beds-in-posts"), ("value", "yes")];
    let approval = words("facility policy", &approval);
    asks.push((anybody(Job::Supervisor)?, approval));
    Ok(asks)
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
