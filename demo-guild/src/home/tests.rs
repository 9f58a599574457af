//! The months as they come out: plausible, the same every time, and with nobody's name in them.

use std::collections::BTreeMap;

use commands::choice::{Action, Finding};
use commands::due::{DueKind, list};
use commands::message::Answer;
use commands::record::{AlarmEnd, Body, Record};
use commands::rules::drift;
use commands::rules::guard::{self, Field};
use commands::rules::hand_check::{Air, Judgement};
use commands::rules::priority::AlarmKind;
use commands::rules::trend::Crossing;
use commands::said::Value;
use commands::state::Life;
use commands::{Said, Source};
use tempfile::TempDir;

use super::*;

fn lived(start: DateTime<Utc>, seed: u64) -> (TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let mut store = Store::open(folder.path(), guild()).unwrap();
    let home = prepare(&mut store, start, seed).unwrap();
    assert_eq!((home.now, home.kept), (start, false));
    assert_eq!(home.records, store.head().0);
    (folder, store)
}

fn usual() -> (TempDir, Store) {
    lived(demo_start(demo_day().unwrap()).unwrap(), DEMO_SEED)
}

fn records(store: &Store) -> Vec<Record> {
    store.records_after(RecordNo(0), usize::MAX).unwrap()
}

fn counts(records: &[Record]) -> BTreeMap<&'static str, usize> {
    let mut counts = BTreeMap::new();
    for record in records {
        *counts.entry(record.body.kind()).or_default() += 1;
    }
    counts
}

#[test]
fn the_months_are_plausible() {
    let (_folder, store) = usual();
    let records = records(&store);
    let counts = counts(&records);
    // 90 days, three rounds a day, about thirty surfaces that are checked by hand or by look.
    let between = |kind: &str, from: usize, to: usize| {
        let count = counts.get(kind).copied().unwrap_or_default();
        assert!((from..=to).contains(&count), "{count} of {kind}");
    };
    between("hand-checked", 7_000, 9_500);
    between("alarm-opened", 26, 32);
    between("alarm-closed", 26, 32);
    // Learned: sooner in the dusty unit, later in the others.
    between("filter-looked", 400, 640);
    between("cleaned", 330, 520);
    between("released", 18, 26);
    between("placed", 33 + 14, 33 + 22);
    // A list for each placement but the first ones, a move, a CPR valve, and what had no power.
    between("steps-opened", 30, 60);
    between("readied", 14, 20);
    between("recheck-asked", 40, 600);
    // Shift cards and handovers three times a day, the summary on weekdays.
    between("slot-fired", 590, 620);
    between("alarm-asked", 3, 40);
    between("ladder-restarted", 1, 3);
    between("taken-back", 3, 40);

    let share = |wanted: Judgement| {
        let of = |record: &&Record| matches!(&record.body, Body::HandChecked { judged, .. } if *judged == wanted);
        records.iter().filter(of).count() as f64 / counts["hand-checked"] as f64
    };
    assert!(share(Judgement::Adequate) > 0.85);
    assert!((0.004..0.03).contains(&share(Judgement::Low)));
    assert!((0.03..0.12).contains(&share(Judgement::CouldNot)));
    assert!(share(Judgement::BottomedOut) < 0.002);
}

#[test]
fn every_kind_of_alarm_came_and_one_climbed_to_the_third_rung() {
    let (_folder, store) = usual();
    let records = records(&store);
    let kinds: Vec<AlarmKind> = records
        .iter()
        .filter_map(|record| {
            let Body::AlarmOpened { kind, .. } = &record.body else {
                return None;
            };
            Some(*kind)
        })
        .collect();
    for kind in AlarmKind::ALL {
        assert!(kinds.contains(kind), "{kind:?}");
    }
    let third = |record: &Record| matches!(record.body, Body::AlarmAsked { rung: 3, .. });
    assert!(records.iter().any(third));
    let out = |record: &Record| {
        let end = AlarmEnd::OutOfService;
        matches!(record.body, Body::AlarmClosed { end: how, .. } if how == end)
    };
    // One that broke down, one with a torn hose, two that are held.
    assert_eq!(records.iter().filter(|record| out(record)).count(), 4);
}

#[test]
fn nobody_lay_long_on_a_surface_that_alarmed() {
    let (_folder, store) = usual();
    let mut opened = BTreeMap::new();
    let mut waits = BTreeMap::new();
    for record in records(&store) {
        if let Body::AlarmOpened { .. } = &record.body {
            opened.insert(record.no.0, record.at);
        } else if let Body::ResidentSafe { alarm } = &record.body {
            waits.insert(alarm.0, record.at - opened[&alarm.0]);
        } else if let Body::NotSafeYet { alarm } = &record.body {
            waits.remove(&alarm.0);
        }
    }
    assert_eq!(waits.len(), opened.len());
    // Inside of the hour that tissue-injury figures leave (Gefen, Ostomy Wound Management 2008).
    assert!(waits.values().all(|wait| *wait < TimeDelta::minutes(30)));
    assert!(waits.values().any(|wait| *wait > TimeDelta::minutes(15)));
}

#[test]
fn one_surface_loses_loft_and_one_unit_has_dusty_air() {
    let (_folder, store) = usual();
    let records = records(&store);
    let failing: Vec<i32> = records
        .iter()
        .filter_map(|record| {
            let Body::HandChecked { tag, air, .. } = &record.body else {
                return None;
            };
            let Air::Measured(air) = air else {
                return None;
            };
            (tag.as_str() == "LW-07").then_some(air.0)
        })
        .collect();
    let mean = |part: &[i32]| part.iter().sum::<i32>() / part.len() as i32;
    let (first, last) = (mean(&failing[..40]), mean(&failing[failing.len() - 40..]));
    assert!(first - last > 50, "{first} then {last}");
    let mut clogged: BTreeMap<String, usize> = BTreeMap::new();
    // Where each was when it was looked at.
    let mut then = commands::State::default();
    for record in &records {
        then.apply(record).unwrap();
        if let Body::FilterLooked { tag, finding, .. } = &record.body
            && *finding == Finding::Clogged
            && let Some(unit) = then.unit_of(tag)
        {
            *clogged.entry(unit.to_string()).or_default() += 1;
        }
    }
    let of = |unit: &str| clogged.get(unit).copied().unwrap_or_default();
    assert!(of("Cedar") > 2 * of("Elm").max(of("Birch")), "{clogged:?}");
}

#[test]
fn the_dusty_unit_has_learned_to_look_sooner() {
    let (_folder, store) = usual();
    let mut said: BTreeMap<String, Vec<u16>> = BTreeMap::new();
    let mut then = commands::State::default();
    for record in &records(&store) {
        then.apply(record).unwrap();
        // Of new filters: an old one is looked at sooner anywhere.
        if let Body::FilterLooked {
            tag,
            action: Action::Replaced | Action::Rinsed,
            next: Some(days),
            ..
        } = &record.body
            && let Some(unit) = then.unit_of(tag)
        {
            said.entry(unit.to_string()).or_default().push(*days);
        }
    }
    let middle = |unit: &str| {
        // The newest: the first weeks go by the profile.
        let mut days = said[unit][said[unit].len().saturating_sub(8)..].to_vec();
        days.sort_unstable();
        days[days.len() / 2]
    };
    assert!(middle("Cedar") < middle("Elm"), "{said:?}");
    assert!(middle("Cedar") < middle("Birch"), "{said:?}");
}

#[test]
fn the_demo_begins_with_a_little_to_do() {
    let start = demo_start(demo_day().unwrap()).unwrap();
    let (_folder, store) = usual();
    let state = store.replay().unwrap();
    assert!(state.alarms.is_empty());
    let due = list(&state, None, start);
    let count = |kind: &DueKind| due.iter().filter(|item| item.kind == *kind).count();
    assert!((2..=6).contains(&count(&DueKind::Check)), "{due:?}");
    // One from the evening, and one that is cleaned last.
    assert_eq!(count(&DueKind::Turnover), 2);
    // One broke down, one waits for the maker's correction.
    assert_eq!(count(&DueKind::Repair), 2);
    for kind in [
        DueKind::StillUnder,
        DueKind::GapOver,
        DueKind::Steps,
        DueKind::OutletTest,
        DueKind::LosingLoft,
        DueKind::Held,
        DueKind::Idle,
    ] {
        assert_eq!(count(&kind), 1, "{kind:?}");
    }
    assert!(due.len() < 30, "{due:?}");
    let loft = due.iter().find(|item| item.kind == DueKind::LosingLoft);
    assert_eq!(loft.map(|item| item.tag.as_str()), Some("LW-07"));
    // A newcomer sees a day on which it would be low, and between which days.
    let band = state.policies.band();
    let asked = drift::Asked::of(&state.policies);
    let line = state.surfaces["LW-07"].line.readings();
    let found = drift::losing(line, band.low, &asked).expect("it loses loft");
    let Crossing::At {
        earliest: Some(from),
        likely,
        latest: Some(to),
    } = found.crossing
    else {
        panic!("{:?}", found.crossing);
    };
    let ahead = [from, likely, to].map(|days| days - found.days);
    assert!(
        ahead[0] > 0.0 && ahead.is_sorted() && ahead[2] < 60.0,
        "{ahead:?}"
    );
    assert!(count(&DueKind::TryAgain) <= 2);
    // Low since 06:44, to be looked at again at 06:59.
    assert_eq!(state.rechecks["LW-04"].due, start + TimeDelta::minutes(7));
    let ready = |life: &Life| matches!(life, Life::Ready { .. });
    let ready = state
        .surfaces
        .values()
        .filter(|surface| ready(&surface.life));
    assert!((2..=7).contains(&ready.count()));
    // The first thing that the clock brings is that recheck, the next the shift card at 07:00.
    assert_eq!(
        commands::next_due(&state),
        Some(start + TimeDelta::minutes(7))
    );
    assert_eq!(
        commands::due::next_shift(&state, start),
        start + TimeDelta::minutes(8)
    );
    assert_eq!(store.last_alive().unwrap(), Some(start));
}

#[test]
fn the_demo_begins_with_something_open_of_every_kind() {
    let start = demo_start(demo_day().unwrap()).unwrap();
    let (_folder, store) = usual();
    let state = store.replay().unwrap();
    let surface = |tag: &str| &state.surfaces[tag];
    let minutes = |n| start + TimeDelta::minutes(n);
    // In hospital until 10:00.
    let leave = surface("LW-09").leave.as_ref().unwrap();
    assert_eq!(leave.until, minutes(188));
    // Held still until 07:10, just after the shift card.
    let until = surface("LW-22").static_mode.unwrap().until;
    assert_eq!(until, minutes(18));
    // Its set-up is not finished; it should be full at 07:01.
    let steps = surface("LW-31").open_steps().unwrap();
    assert_eq!(steps.full, Some(minutes(9)));
    assert!(matches!(surface("LW-38").life, Life::Soiled(_)) && surface("LW-38").clean_last);
    let hold = surface("LW-19").hold.as_ref().unwrap();
    assert!(hold.reported.is_none());
    // Recalled, and still under somebody.
    assert!(matches!(
        surface("LW-11").life,
        Life::OutOfService { under: Some(_), .. }
    ));
    // The last list at any other bed is done.
    let open = state
        .surfaces
        .values()
        .filter(|one| one.open_steps().is_some());
    assert_eq!(open.count(), 1);
}

/// What a supervisor is told of owning and renting, and of how many to own, rests on what the months hold.
#[test]
fn the_months_say_what_owning_pays_and_how_many_to_own() {
    let start = demo_start(demo_day().unwrap()).unwrap();
    let (_folder, store) = usual();
    let state = store.replay().unwrap();
    let supervisor = staff().find(|who| who.job == Job::Supervisor).unwrap();
    let asks = |path: &str, options: &[(&str, &str)]| {
        let said = Said::Command {
            path: path.to_owned(),
            options: options
                .iter()
                .map(|(name, value)| ((*name).to_owned(), Value::Text((*value).to_owned())))
                .collect(),
        };
        let ask = supervisor.ask(Source::interaction(7), start);
        let found = commands::answer_from(&state, &ask, &said, |wanted| store.past(wanted));
        let Some(Answer::Private(message)) = found.unwrap().answer else {
            panic!("no answer");
        };
        message.text
    };
    let cost = asks("fleet cost", &[("price", "4,200")]);
    assert!(cost.starts_with("Owning beats renting from"), "{cost}");
    for part in [
        "yours were used",
        "upkeep 340.00",
        "rentals)",
        "of the last 89 days: 39 surfaces were your own at some time, 2 of them not all of it; today 37",
    ] {
        assert!(cost.contains(part), "{part}: {cost}");
    }
    let size = asks("fleet size", &[]);
    for part in [
        "keep the promise",
        "Between",
        "were in use in the last 89 days",
        "that work now",
    ] {
        assert!(size.contains(part), "{part}: {size}");
    }
}

/// Kinds of record that the months do not hold, and why.
const NOT_LIVED: [(&str, &str); 2] = [
    ("away", "only a bot that was not running writes it"),
    ("clock-stepped", "nobody steps the months' clock"),
];

#[test]
fn everything_that_can_happen_has_happened() {
    let (_folder, store) = usual();
    let counts = counts(&records(&store));
    // What cannot be read names all that can.
    let fault = serde_json::from_str::<Body>(r#"{"k":"no-such-kind"}"#).unwrap_err();
    let fault = fault.to_string();
    let kinds: Vec<&str> = fault.split('`').skip(3).step_by(2).collect();
    assert!(kinds.len() > 70, "{fault}");
    for kind in kinds {
        let lived = counts.contains_key(kind);
        let left_out = NOT_LIVED.iter().any(|(not, _)| *not == kind);
        assert_ne!(lived, left_out, "{kind}");
    }
}

#[test]
fn the_same_seed_gives_the_same_records_and_another_one_others() {
    let start = demo_start(demo_day().unwrap()).unwrap();
    let (_one, first) = lived(start, 21);
    let (_two, second) = lived(start, 21);
    let (_three, third) = lived(start, 22);
    assert_eq!(records(&first), records(&second));
    assert_ne!(records(&first), records(&third));
}

#[test]
fn any_seed_and_any_day_will_do_and_the_file_is_whole() {
    // The second's months hold the night in which clocks go back.
    for (year, month, day, seed) in [(2026, 6, 9, 1), (2025, 12, 3, 2), (2027, 1, 15, 3)] {
        let start = demo_start(NaiveDate::from_ymd_opt(year, month, day).unwrap()).unwrap();
        let (_folder, store) = lived(start, seed);
        assert_eq!(store.verify().unwrap().records, store.head().0);
        assert!(store.replay().unwrap().alarms.is_empty());
    }
}

#[test]
fn nobody_is_named() {
    let (_folder, store) = usual();
    let mut notes = 0;
    for record in records(&store) {
        let body = String::from_utf8(record.body.encode()).unwrap();
        let words: Vec<&str> = body.split(|c: char| !c.is_alphanumeric()).collect();
        for who in staff() {
            assert!(!words.contains(&who.name), "{body}");
        }
        if let Some(note) = &record.note {
            assert_eq!(guard::check(note, Field::Note), Ok(()));
            notes += 1;
        }
    }
    assert!(notes > 20);
    assert!(store.unsettled().unwrap().is_empty(), "no post was kept");
    assert!(
        store.owing().unwrap().answers.is_empty(),
        "no answer is owed"
    );
}

#[test]
fn a_file_with_records_is_left_as_it_is_and_time_goes_on_from_there() {
    let start = demo_start(demo_day().unwrap()).unwrap();
    let (_folder, mut store) = usual();
    let later = start + TimeDelta::hours(30);
    store.alive(later).unwrap();
    let home = prepare(&mut store, start, DEMO_SEED + 1).unwrap();
    assert_eq!((home.now, home.kept), (later, true));
    assert_eq!(home.records, store.head().0);
}

#[test]
fn the_guild_and_the_file_agree_on_every_id() {
    let layout = layout();
    assert_eq!(layout.guild_id, Some(guild().0));
    let (_folder, store) = usual();
    let state = store.replay().unwrap();
    let facility = state.facility.as_ref().unwrap();
    let roles: Vec<u64> = layout.roles.iter().filter_map(|role| role.id).collect();
    for role in facility.roles.values() {
        assert!(roles.contains(&role.0));
    }
    let channels: Vec<u64> = layout.channels.iter().filter_map(|at| at.id).collect();
    for unit in state.units.values() {
        assert!(channels.contains(&unit.channel.unwrap().0));
    }
    let people: Vec<u64> = layout.people.iter().filter_map(|who| who.id).collect();
    for record in records(&store) {
        assert!(record.who.is_none_or(|who| people.contains(&who.0)));
    }
    for phone in &layout.phones {
        assert!(layout.people.iter().any(|who| who.name == *phone));
    }
}

#[test]
fn a_home_can_be_had_with_nothing_behind_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = Store::open(folder.path(), guild()).unwrap();
    let start = demo_start(demo_day().unwrap()).unwrap();
    set_up(&mut store, start).unwrap();
    let state = store.replay().unwrap();
    assert_eq!(state.surfaces.len(), 40);
    assert_eq!(state.under.len(), 33);
    assert_eq!(state.units.len(), 3);
    assert!(commands::next_due(&state).is_some_and(|at| at > start));
    assert!(set_up(&mut store, start).is_err());
}
