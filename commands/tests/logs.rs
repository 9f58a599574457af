//! Logs that earlier versions wrote still open. `tests/logs` holds one file a version of the bodies, a record a
//! line, each kind of record at least once; a file once committed is never written again. A new version adds its own:
//! `NEW_LOG=v2 cargo test -p loftwatch-commands --test logs`.

mod common;
#[path = "logs/whole_life.rs"]
mod whole_life;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use commands::State;
use commands::choice::{Cause, Paper};
use commands::ids::{AlarmNo, Person, RecordNo};
use commands::record::{BODY_VERSION, Record};
use commands::role::Role;
use commands::rules::hand_check::Air;
use commands::said::Value;
use commands::state::Life;
use commands::tap::Tap;
use common::{Home, buttons, command, text};
use serde_json::{Value as Json, json};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/logs")
}

/// The kinds of record that each version knew.
const KINDS: &[(&str, usize)] = &[("v1", 29), ("v2", 80), ("v3", 110)];

/// Every kind of record that there is now: the words of `Body::kind`, whose match is total.
fn every_kind() -> BTreeSet<&'static str> {
    let source = include_str!("../src/record.rs");
    let (_, kinds) = source.split_once("pub fn kind(&self)").expect("the words");
    let (kinds, _) = kinds.split_once("\n    }\n").expect("their end");
    kinds
        .lines()
        .filter_map(|line| line.split_once(" => \"")?.1.strip_suffix("\","))
        .collect()
}

#[test]
fn every_earlier_log_still_opens() {
    for (version, kinds) in KINDS {
        let (state, seen) = open(version);
        assert_eq!(seen.len(), *kinds, "{version} holds {seen:?}");
        assert_eq!(
            state.surfaces["LW-01"].checks.len(),
            4,
            "{version}: what was read means what it meant"
        );
        assert_eq!(state.ladder.first, 4, "{version}");
        assert!(state.alarms.is_empty(), "{version}");
    }
}

/// The state after a log, and the kinds of record in it.
fn open(version: &str) -> (State, BTreeSet<&'static str>) {
    let path = folder().join(format!("{version}.jsonl"));
    let file =
        fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
    let mut state = State::default();
    let mut seen = BTreeSet::new();
    for line in file.lines() {
        let record = read(line);
        seen.insert(record.body.kind());
        state
            .apply(&record)
            .unwrap_or_else(|fault| panic!("{version}: {fault}"));
    }
    assert_eq!(state.next_no().0 as usize, file.lines().count() + 1);
    (state, seen)
}

#[test]
fn what_the_second_version_wrote_means_what_it_meant() {
    let (state, _) = open("v2");
    let under: Vec<(&str, &str)> = state
        .under
        .iter()
        .map(|(bed, tag)| (bed.as_str(), tag.as_str()))
        .collect();
    assert_eq!(under, [("101", "LW-01"), ("103", "LW-06")]);
    let waived = state.surfaces["LW-06"].waived.as_ref();
    assert_eq!(waived.expect("one paper").papers, [Paper::SafetyTest]);
    assert!(matches!(state.surfaces["R-01"].life, Life::Retired { .. }));
    assert!(matches!(state.surfaces["LW-03"].life, Life::Soiled(_)));
    let recall = state.recalls.values().next().expect("a recall");
    assert_eq!((recall.all.len(), recall.open.len()), (2, 2));
    assert_eq!(state.products.len(), 1, "the other one was dropped");
    assert_eq!(state.frames.len(), 5, "four with rails, one with gaps");
    assert_eq!(state.stock["filter general"].on_hand, 5);
    assert!(state.storage.is_some());
    assert!(state.outages.is_empty(), "power is back");
}

#[test]
fn a_day_with_every_kind_of_record_writes_a_log() {
    let log = a_day();
    let kinds: BTreeSet<&str> = log.iter().map(|record| record.body.kind()).collect();
    let all = every_kind();
    assert!(all.len() > 70, "the words are found: {all:?}");
    assert!(
        kinds == all,
        "no record of these kinds comes up: {:?}; these have no word: {:?}",
        all.difference(&kinds),
        kinds.difference(&all)
    );
    #[allow(
        clippy::disallowed_methods,
        reason = "asked for by whoever adds a version, not a setting"
    )]
    if let Ok(version) = std::env::var("NEW_LOG") {
        let path = folder().join(format!("{version}.jsonl"));
        assert!(
            !path.exists(),
            "{} is committed and stays as it is",
            path.display()
        );
        let lines: String = log.iter().map(|record| write(record) + "\n").collect();
        fs::write(path, lines).expect("a new log");
    }
}

/// A day in the small home in which each kind of record comes up.
fn a_day() -> Vec<Record> {
    let mut home = Home::set_up();
    home.does(
        Role::Admin,
        "facility policy",
        &[("name", text("recheck")), ("value", text("20 min"))],
    );
    home.does(
        Role::Supervisor,
        "facility policy",
        &[("name", text("late-days")), ("value", text("10"))],
    );
    let ladder = [
        ("first", "4"),
        ("second", "8"),
        ("third", "12"),
        ("repeat", "5"),
    ]
    .map(|(name, minutes)| (name, text(minutes)));
    home.does(Role::Admin, "facility ladder", &ladder);
    home.does(Role::Supervisor, "facility ladder", &ladder);
    home.does(
        Role::Admin,
        "facility schedule",
        &[("what", text("summary")), ("when", text("daily 09:00"))],
    );
    let profiles = "profile,class,kind,check,filter,settings\nReed 8,overlay,alternating,hand,rinsable,120:1;160:2\n";
    let imported = commands::Said::Fetched {
        path: "fleet import".to_owned(),
        options: [
            ("what".to_owned(), text("profiles")),
            (
                "file".to_owned(),
                Value::File(commands::said::FileRef {
                    name: "p.csv".into(),
                    url: String::new(),
                    size: 9,
                }),
            ),
        ]
        .into(),
        file: Ok(profiles.as_bytes().to_vec()),
    };
    let decision = home.ask(Role::Supervisor, &imported);
    home.take(Some(Person(1_003)), &decision);
    let check = |home: &mut Home, air: &str| {
        home.does(
            Role::Aide,
            "handcheck",
            &[
                ("surface", text("LW-01")),
                ("air", text(air)),
                ("position", text("side")),
            ],
        );
    };
    check(&mut home, "1 1/4");
    check(&mut home, "3/4");
    home.passes(45);
    check(&mut home, "none");
    let taken_back = home.state.next_no();
    check(&mut home, "2 in");
    home.taps(
        Role::Aide,
        &Tap::TakeBack {
            first: taken_back,
            tag: "LW-01".into(),
            then: commands::tap::Then::Beside,
        }
        .id(),
        &[],
    );
    let alarm = AlarmNo(home.state.next_no().0);
    home.does(
        Role::Aide,
        "alarm",
        &[
            ("surface", text("LW-01")),
            ("note", text("hissing at the hose")),
        ],
    );
    home.taps(
        Role::Aide,
        &Tap::NameAlarm {
            alarm,
            kind: commands::rules::priority::AlarmKind::LowPressure,
        }
        .id(),
        &["low-pressure"],
    );
    home.passes(6);
    home.taps(Role::Aide, &Tap::Take { alarm }.id(), &[]);
    home.taps(Role::Aide, &Tap::CannotGo { alarm }.id(), &[]);
    home.taps(Role::Nurse, &Tap::Take { alarm }.id(), &[]);
    home.passes(11);
    home.taps(Role::Nurse, &Tap::Safe { alarm }.id(), &[]);
    home.taps(Role::Nurse, &Tap::NotSafe { alarm }.id(), &[]);
    home.taps(Role::Nurse, &Tap::Safe { alarm }.id(), &[]);
    home.taps(
        Role::Nurse,
        &Tap::FixedAir {
            alarm,
            cause: Cause::Hose,
            air: Air::Within,
        }
        .id(),
        &[],
    );
    home.does(
        Role::Upkeep,
        "filter",
        &[
            ("surface", text("LW-02")),
            ("finding", text("dusty")),
            ("action", text("left")),
        ],
    );
    home.does(
        Role::Nurse,
        "release",
        &[("surface", text("LW-02")), ("reason", text("discharge"))],
    );
    home.does(
        Role::Upkeep,
        "clean",
        &[
            ("surface", text("LW-02")),
            ("reason", text("between-residents")),
            ("method", text("bleach")),
            ("cover", text("intact")),
        ],
    );
    let of = home.turnover_of(&"LW-02".into());
    home.taps(
        Role::Upkeep,
        &Tap::TurnFunction {
            tag: "LW-02".into(),
            of,
        }
        .id(),
        &[],
    );
    home.does(
        Role::Upkeep,
        "clean",
        &[
            ("surface", text("LW-04")),
            ("reason", text("routine")),
            ("method", text("quaternary")),
            ("cover", text("damaged")),
        ],
    );
    let asked = home.ask(
        Role::Supervisor,
        &command("fleet retire", &[("surface", text("LW-04"))]),
    );
    let retire = buttons(&asked)
        .into_iter()
        .next()
        .expect("it is asked first");
    home.taps(Role::Supervisor, &retire, &[]);
    whole_life::live(&mut home);
    corrected(&mut home);
    loses_loft(&mut home);
    home.passes(60 * 8);
    let from = home.now;
    home.now += chrono::TimeDelta::hours(2);
    let (_, decision) =
        commands::returned(&home.state, from, home.now).expect("two hours are long");
    home.take(None, &decision);
    home.now -= chrono::TimeDelta::minutes(5);
    let step = chrono::TimeDelta::minutes(-5);
    let (_, decision) =
        commands::clock_stepped(&home.state, step, home.now).expect("a home that is set up");
    home.take(None, &decision);
    home.log
}

/// An entry is corrected, remarked on and signed.
fn corrected(home: &mut Home) {
    let entry = home.state.next_no();
    home.does(
        Role::Upkeep,
        "filter",
        &[
            ("surface", text("LW-01")),
            ("finding", text("clogged")),
            ("action", text("replaced")),
        ],
    );
    let number = text(&entry.to_string());
    home.does(
        Role::Upkeep,
        "amend",
        &[
            ("entry", number.clone()),
            ("reason", text("it was dusty only")),
            ("finding", text("dusty")),
        ],
    );
    home.does(
        Role::Supervisor,
        "amend",
        &[("entry", number), ("reason", text("seen with upkeep"))],
    );
    let seen = RecordNo(home.state.next_no().0 - 1);
    home.taps(
        Role::Supervisor,
        &Tap::Entry(commands::tap::Entry::Sign { entry, seen }).id(),
        &[],
    );
}

/// Readings that fall shift by shift, and what was found.
fn loses_loft(home: &mut Home) {
    for (name, value) in [
        ("loft-readings", "8"),
        ("loft-days", "2"),
        ("duty-watched", "no"),
    ] {
        let options = [("name", text(name)), ("value", text(value))];
        home.does(Role::Supervisor, "facility policy", &options);
    }
    for air in [
        "1 1/2", "1.45 in", "1.4 in", "1.35 in", "1.3 in", "1 1/4", "1.2 in", "1.15 in",
    ] {
        home.passes(60 * 8);
        home.does(
            Role::Aide,
            "handcheck",
            &[("surface", text("LW-06")), ("air", text(air))],
        );
    }
    let line = &home.state.surfaces["LW-06"].line;
    let looked = commands::tap::Loft::Found {
        tag: "LW-06".into(),
        since: line.since.expect("a line").timestamp(),
        cause: Cause::Hose,
    };
    home.taps(Role::Upkeep, &Tap::Loft(looked).id(), &["hose"]);
}

fn write(record: &Record) -> String {
    let body: Json = serde_json::from_slice(&record.body.encode()).expect("a body");
    json!({
        "no": record.no, "at": record.at.to_rfc3339(), "entered": record.entered.to_rfc3339(), "who": record.who,
        "role": record.role, "first": record.first, "note": record.note, "version": BODY_VERSION, "body": body,
    })
    .to_string()
}

fn read(line: &str) -> Record {
    common::record_of(&serde_json::from_str(line).expect("a line of a log"))
}
