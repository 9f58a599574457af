//! How the invented home was set up: what its office typed, in order. Decides the sequence; each line is refused or
//! taken by the core as anybody's would be.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use commands::said::{FileRef, Options, Said, Value};

use super::ZONE;
use super::people::{CARE_CHANNEL, Job, SUPERVISOR_CHANNEL, unit_channel};
use super::register::{self, UNITS};

/// What was typed by whom, first to last.
pub(super) fn asks(day: NaiveDate) -> Vec<(Job, Said)> {
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
    let mut asks: Vec<_> = asks.into_iter().map(|said| (Job::Admin, said)).collect();
    let approval = [("name", "beds-in-posts"), ("value", "yes")];
    asks.push((Job::Supervisor, words("facility policy", &approval)));
    asks
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
