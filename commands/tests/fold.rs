//! The state is a fold of the records: whatever people do, in whatever order, every record that a decision
//! makes can follow, the parts of the state agree with each other, and replaying the log from its bytes gives the
//! same state.

mod common;

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, Utc};
use commands::State;
use commands::choice::{
    Action, Call, Cause, Cover, Finding, GapAct, LeaveWhy, Method, Outcome, Roll, Step, Task,
};
use commands::ids::{RecordNo, Tag};
use commands::record::{BODY_VERSION, Body, Fault, On, Record, Unreadable};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Judgement, Why};
use commands::rules::priority::AlarmKind;
use commands::rules::set_up::Stage;
use commands::rules::turnover::Inspection;
use commands::rules::zone::Zone;
use commands::said::{Picked, Value};
use commands::state::{Life, Looked};
use commands::tap::{
    Bedside, Began, Begun, Card, House, ListCard, Longer, Power, RentalCard, Staff, Tap, Turn,
};
use common::{Home, command, text};
use proptest::prelude::*;

const EVERYBODY: [Role; 6] = [
    Role::Clock,
    Role::Admin,
    Role::Upkeep,
    Role::Aide,
    Role::Nurse,
    Role::Supervisor,
];
/// The last is rented, and comes in for these tests alone.
const TAGS: [&str; 6] = ["LW-01", "LW-02", "LW-03", "LW-04", "LW-05", "LW-06"];
const BEDS: [&str; 4] = ["101", "102", "103", "201"];

/// One thing that somebody does, or time that passes. Numbers pick among what is there.
#[derive(Clone, Debug)]
enum Deed {
    Command(Role, &'static str, Vec<(&'static str, String)>),
    Air(u8, usize, Air),
    Alarm(Role, u8),
    Fixed(Cause, Air),
    Named(AlarmKind),
    TakeBack(u8, usize),
    Turn(Role, usize, Option<Finding>),
    /// A stage of the newest list of a surface, or one thing of it.
    Stage(Role, usize, Stage),
    Step(Role, usize, Step, bool),
    Setting(Role, usize, bool),
    /// What began at a bed ends, or goes on for longer.
    Ends(Role, usize, u8),
    Roll(Role, usize, u32, Option<Roll>),
    Paper(Vec<String>),
    House(Role, u8, usize),
    Stock(Role, i64),
    Turned(Role, usize, u8),
    /// A supervisor lets an aide in or out, signs them off or no longer; somebody looks a second time.
    Staff(Role, usize, u8),
    /// Whoever made one of the newest entries says that it should have read otherwise.
    Amend(usize, Corrections),
    Pass(i64),
    /// The clock is stepped by so many seconds.
    SetClock(i64),
}

fn roles() -> impl Strategy<Value = Role> {
    prop_oneof![
        Just(Role::Aide),
        Just(Role::Nurse),
        Just(Role::Supervisor),
        Just(Role::Upkeep)
    ]
}

fn airs() -> impl Strategy<Value = Air> {
    prop_oneof![
        (0i32..600).prop_map(|tenths| Air::Measured(Tenths(tenths))),
        Just(Air::Within),
        Just(Air::Under1),
        Just(Air::Over),
        Just(Air::Touching),
        Just(Air::CouldNot(Why::Asleep)),
    ]
}

fn deeds() -> impl Strategy<Value = Deed> {
    let tag = proptest::sample::select(TAGS.to_vec());
    let bed = proptest::sample::select(BEDS.to_vec());
    let (tag2, bed2) = (tag.clone(), bed.clone());
    let cause = proptest::sample::select(Cause::ALL.to_vec());
    let word = |words: &'static [&'static str]| proptest::sample::select(words.to_vec());
    prop_oneof![
        3 => (roles(), tag.clone(), word(&["1 1/4", "3/4", "0", "2 in", "none", "1"])).prop_map(|(role, tag, air)|
            Deed::Command(role, "handcheck", vec![("surface", tag.into()), ("air", air.into())])),
        2 => (roles(), tag.clone(), word(&["1 1/4", "3/4"]), word(&["buttocks", "hips"]), word(&["back-flat", "side"]), word(&["1", "4"]), word(&["4", "5"]))
            .prop_map(|(role, tag, air, site, position, layers, setting)| Deed::Command(role, "handcheck", vec![
                ("surface", tag.into()), ("air", air.into()), ("site", site.into()), ("position", position.into()),
                ("layers", layers.into()), ("setting", setting.into())])),
        1 => (roles(), tag.clone(), word(&["1 1/4", "0"]), word(&["2 h ago", "20 min ago"])).prop_map(|(role, tag, air, when)|
            Deed::Command(role, "handcheck", vec![("surface", tag.into()), ("air", air.into()), ("when", when.into())])),
        2 => (roles(), tag.clone(), word(&["unknown", "power", "fault"])).prop_map(|(role, tag, kind)|
            Deed::Command(role, "alarm", vec![("surface", tag.into()), ("kind", kind.into())])),
        1 => (roles(), tag.clone(), word(&["clean", "clogged", "damaged"]), word(&["left", "replaced"])).prop_map(|(role, tag, finding, action)|
            Deed::Command(role, "filter", vec![("surface", tag.into()), ("finding", finding.into()), ("action", action.into())])),
        1 => (roles(), tag.clone(), word(&["routine", "between-residents"]), word(&["quaternary", "soap-and-water"]), word(&["intact", "stained", "damaged"]))
            .prop_map(|(role, tag, reason, method, cover)| Deed::Command(role, "clean", vec![
                ("surface", tag.into()), ("reason", reason.into()), ("method", method.into()), ("cover", cover.into())])),
        2 => (roles(), tag.clone(), bed.clone()).prop_map(|(role, tag, bed)|
            Deed::Command(role, "place", vec![("surface", tag.into()), ("bed", bed.into())])),
        2 => (roles(), tag.clone()).prop_map(|(role, tag)|
            Deed::Command(role, "release", vec![("surface", tag.into()), ("reason", "discharge".into()), ("clean-last", "off".into())])),
        2 => (roles(), tag.clone(), bed.clone()).prop_map(|(role, tag, bed)|
            Deed::Command(role, "move", vec![("surface", tag.into()), ("bed", bed.into())])),
        2 => (roles(), tag.clone(), bed.clone()).prop_map(|(role, tag, bed)|
            Deed::Command(role, "swap", vec![("surface", tag.into()), ("bed", bed.into())])),
        2 => (roles(), bed, word(&["2 h", "3 days", "tomorrow 10:00"]), proptest::option::of(proptest::sample::select(LeaveWhy::ALL.to_vec())))
            .prop_map(|(role, bed, until, why)| {
                let mut options = vec![("bed", bed.into()), ("until", until.into())];
                options.extend(why.map(|why| ("why", why.as_str().to_owned())));
                Deed::Command(role, "leave", options)
            }),
        2 => (roles(), word(&["Elm", "Birch", "all"]), word(&["20 min", "9 h"])).prop_map(|(role, unit, until)|
            Deed::Command(role, "duty", vec![("unit", unit.into()), ("until", until.into())])),
        1 => (roles(), tag.clone(), word(&["45 min", "3 h"])).prop_map(|(role, tag, until)|
            Deed::Command(role, "static", vec![("surface", tag.into()), ("until", until.into())])),
        2 => (roles(), tag.clone()).prop_map(|(role, tag)| Deed::Command(role, "cpr", vec![("surface", tag.into())])),
        1 => (roles(), tag.clone(), word(&["4", "150 lb", "soft"])).prop_map(|(role, tag, set)|
            Deed::Command(role, "setting", vec![("surface", tag.into()), ("set", set.into())])),
        6 => (roles(), 0..TAGS.len(), proptest::sample::select(Stage::ALL.to_vec()))
            .prop_map(|(role, tag, stage)| Deed::Stage(role, tag, stage)),
        2 => (roles(), 0..TAGS.len(), proptest::sample::select(Step::ALL.to_vec()), any::<bool>())
            .prop_map(|(role, tag, step, right)| Deed::Step(role, tag, step, right)),
        3 => (roles(), 0..TAGS.len(), any::<bool>()).prop_map(|(role, tag, same)| Deed::Setting(role, tag, same)),
        3 => (roles(), 0..TAGS.len(), 0u8..5).prop_map(|(role, tag, what)| Deed::Ends(role, tag, what)),
        1 => roles().prop_map(|role| Deed::Command(role, "outage", vec![("unit", "Elm".into())])),
        4 => (roles(), 0..TAGS.len(), 0u32..3, proptest::option::weighted(0.9, proptest::sample::select(Roll::ALL.to_vec())))
            .prop_map(|(role, tag, back, how)| Deed::Roll(role, tag, back, how)),
        1 => proptest::collection::vec((tag.clone(), word(&["5 min ago", "40 min ago", "3 h ago"]), word(&["1 1/4", "3/4", "0", "none"]))
            .prop_map(|(tag, when, air)| format!("{tag}, {when}, {air}")), 1..6).prop_map(Deed::Paper),
        1 => (roles(), tag).prop_map(|(role, tag)| Deed::Command(role, "fleet retire", vec![("surface", tag.into())])),
        3 => (any::<u8>(), 0..TAGS.len(), airs()).prop_map(|(back, tag, air)| Deed::Air(back, tag, air)),
        4 => (roles(), 0u8..4).prop_map(|(role, what)| Deed::Alarm(role, what)),
        2 => (cause, airs()).prop_map(|(cause, air)| Deed::Fixed(cause, air)),
        1 => proptest::sample::select(AlarmKind::ALL.to_vec()).prop_map(Deed::Named),
        2 => (any::<u8>(), 0..TAGS.len()).prop_map(|(back, tag)| Deed::TakeBack(back, tag)),
        1 => (roles(), 0..TAGS.len(), proptest::option::of(proptest::sample::select(Finding::ALL.to_vec())))
            .prop_map(|(role, tag, finding)| Deed::Turn(role, tag, finding)),
        1 => (roles(), bed2, word(&["100 mm", "120 mm", "5 in"]), word(&["50 mm", "70 mm"]), word(&["65", "60"]))
            .prop_map(|(role, bed, zone2, zone4, angle)| Deed::Command(role, "zones", vec![
                ("bed", bed.into()), ("zone2", zone2.into()), ("zone4", zone4.into()), ("angle4", angle.into())])),
        1 => (roles(), word(&["none", "split"]), word(&["ordinary", "emergency"])).prop_map(|(role, rails, outlet)|
            Deed::Command(role, "facility frame", vec![("beds", "101-103".into()), ("rails", rails.into()), ("outlet", outlet.into())])),
        1 => (roles(), tag2.clone(), word(&["safety-test", "maintenance"]), word(&["passed", "passed", "failed"]))
            .prop_map(|(role, tag, work, result)| Deed::Command(role, "service", vec![
                ("surface", tag.into()), ("work", work.into()), ("result", result.into())])),
        1 => (roles(), 0i64..12).prop_map(|(role, count)| Deed::Stock(role, count)),
        1 => (roles(), tag2, word(&["start", "stop"])).prop_map(|(role, tag, what)| match what {
            "start" => Deed::Command(role, "rental start", vec![("surface", tag.into()), ("rate", "38.50".into())]),
            _stop => Deed::Command(role, "rental stop", vec![("surface", tag.into())]),
        }),
        3 => (roles(), 0u8..6, 0..TAGS.len()).prop_map(|(role, what, tag)| Deed::House(role, what, tag)),
        // Turnovers to their end, out of service and back, holds and recalls.
        6 => (roles(), 0..TAGS.len(), 0u8..12).prop_map(|(role, tag, what)| Deed::Turned(role, tag, what)),
        3 => (roles(), 0..TAGS.len(), 0u8..8).prop_map(|(role, tag, what)| Deed::Staff(role, tag, what)),
        1 => lives().prop_map(|(role, path, options)| Deed::Command(role, path, options)),
        12 => (any::<usize>(), corrections()).prop_map(|(which, options)| Deed::Amend(which, options)),
        3 => (0i64..700).prop_map(Deed::Pass),
    ]
}

/// What a check, a look at a filter and a cleaning should have read: the entry that is met takes its own.
type Corrections = [Vec<(&'static str, String)>; 3];

fn corrections() -> impl Strategy<Value = Corrections> {
    let word = |words: &'static [&'static str]| proptest::sample::select(words.to_vec());
    let one = |name: &'static str, words: &'static [&'static str]| {
        word(words).prop_map(move |word| vec![(name, word.to_owned())])
    };
    let any = || {
        prop_oneof![
            2 => one("surface", &TAGS),
            1 => one("strike", &["on"]),
            1 => one("when", &["10 min ago", "3 h ago"]),
            1 => Just(Vec::new()),
        ]
    };
    let check = prop_oneof![
        4 => one("air", &["1 1/4", "3/4", "0", "2 in", "none", "1"]),
        2 => (word(&["1 1/4", "3/4", "0"]), word(&TAGS)).prop_map(|(air, tag)| {
            vec![("air", air.to_owned()), ("surface", tag.to_owned())]
        }),
        2 => one("layers", &["1", "4"]),
        1 => one("position", &["back-flat", "side"]),
        1 => one("setting", &["4", "5"]),
        3 => any(),
    ];
    let look = prop_oneof![
        2 => one("finding", &["clean", "clogged"]),
        2 => one("action", &["left", "replaced"]),
        2 => any(),
    ];
    let cleaning = prop_oneof![
        2 => one("method", &["quaternary", "soap-and-water"]),
        2 => one("cover", &["intact", "stained", "damaged"]),
        2 => any(),
    ];
    (check, look, cleaning).prop_map(|(check, look, cleaning)| [check, look, cleaning])
}

type Asked = (Role, &'static str, Vec<(&'static str, String)>);

/// Commands about a surface that is in a turnover, out of service, held or recalled.
fn lives() -> impl Strategy<Value = Asked> {
    let tag = || proptest::sample::select(TAGS.to_vec());
    let word = |words: &'static [&'static str]| proptest::sample::select(words.to_vec());
    let about = |path: &'static str| {
        (roles(), tag())
            .prop_map(move |(role, tag)| (role, path, vec![("surface", tag.to_owned())]))
    };
    prop_oneof![
        (roles(), tag(), word(&["cord", "leak", "other"])).prop_map(|(role, tag, fault)| {
            (
                role,
                "pull",
                vec![("surface", tag.into()), ("fault", fault.into())],
            )
        }),
        about("return"),
        about("hold"),
        (roles(), tag(), word(&["on", "off"])).prop_map(|(role, tag, switch)| {
            (
                role,
                "mark",
                vec![("surface", tag.into()), ("clean-last", switch.into())],
            )
        }),
        Just((
            Role::Supervisor,
            "recall",
            vec![("profile", "general".to_owned())]
        )),
        (word(&["quaternary", "bleach"]), word(&["0", "3"])).prop_map(|(method, contact)| {
            (
                Role::Supervisor,
                "facility product",
                vec![
                    ("name", "Wipe A".into()),
                    ("method", method.into()),
                    ("contact", contact.into()),
                ],
            )
        }),
        (word(&["ready", "soiled"]), 6u8..9).prop_map(|(start, number)| {
            (
                Role::Supervisor,
                "fleet add",
                vec![
                    ("tag", format!("LW-0{number}")),
                    ("profile", "general".into()),
                    ("state", start.into()),
                ],
            )
        }),
    ]
}

/// A tap in a turnover or out of service, on a card of this moment.
fn turn(home: &Home, tag: Tag, what: u8) -> Turn {
    let surface = &home.state.surfaces[&tag];
    let of = match &surface.life {
        Life::Soiled(turnover) => Began(turnover.said.timestamp() / 60),
        Life::Placed { .. }
        | Life::Ready { .. }
        | Life::OutOfService { .. }
        | Life::Retired { .. } => Began(0),
    };
    let hold = surface.hold.map_or(RecordNo(1), |hold| hold.no);
    match what {
        0 | 1 => Turn::Dried { tag, of },
        2 | 3 => Turn::Inspected {
            tag,
            of,
            found: Inspection::Whole,
        },
        4 | 5 => Turn::PartsWhole { tag, of },
        6 => Turn::Inspected {
            tag,
            of,
            found: Inspection::Stained,
        },
        7 => Turn::NotRunning { tag, of },
        8 => Turn::Repaired { tag },
        9 => Turn::Tested {
            tag,
            outcome: Outcome::Passed,
        },
        10 => Turn::LetGoSure { tag, hold },
        _ => Turn::Reported { tag, hold },
    }
}

fn do_it(home: &mut Home, deed: &Deed) {
    let newest_alarm = home.state.alarms.keys().next_back().copied();
    let earlier = |home: &Home, back: u8| {
        RecordNo(home.state.next_no().0.saturating_sub(u64::from(back % 8)))
    };
    match deed {
        Deed::Command(role, path, options) => {
            let options: Vec<(&str, _)> = options
                .iter()
                .map(|(name, value)| (*name, text(value)))
                .collect();
            let decision = home.ask(*role, &command(path, &options));
            home.take(Some(commands::ids::Person(1_000 + *role as u64)), &decision);
            // These are first shown, then done with their button.
            if matches!(*path, "recall" | "fleet retire")
                && let Some(id) = common::buttons(&decision).first()
            {
                home.taps(*role, id, &[]);
            }
        }
        Deed::Air(back, tag, air) => {
            let seen = earlier(home, *back);
            let card = Card {
                round: None,
                tag: TAGS[*tag].into(),
                seen,
                shown: home.now.timestamp() / 60,
            };
            home.taps(Role::Aide, &Tap::Air { card, air: *air }.id(), &[]);
        }
        Deed::Alarm(role, what) => {
            if let Some(alarm) = newest_alarm {
                let tap = match what {
                    0 => Tap::Take { alarm },
                    1 => Tap::Safe { alarm },
                    2 => Tap::Fixed { alarm },
                    _ => Tap::Pull { alarm },
                };
                home.taps(*role, &tap.id(), &[]);
            }
        }
        Deed::Fixed(cause, air) => {
            if let Some(alarm) = newest_alarm {
                home.taps(
                    Role::Nurse,
                    &Tap::FixedAir {
                        alarm,
                        cause: *cause,
                        air: *air,
                    }
                    .id(),
                    &[],
                );
            }
        }
        Deed::Named(kind) => {
            if let Some(alarm) = newest_alarm {
                home.taps(
                    Role::Aide,
                    &Tap::NameAlarm { alarm, kind: *kind }.id(),
                    &[kind.as_str()],
                );
            }
        }
        Deed::TakeBack(back, tag) => {
            let first = earlier(home, *back);
            for role in [Role::Aide, Role::Nurse] {
                home.taps(
                    role,
                    &Tap::TakeBack {
                        first,
                        tag: TAGS[*tag].into(),
                        then: commands::tap::Then::Beside,
                    }
                    .id(),
                    &[],
                );
            }
        }
        Deed::Turn(role, tag, finding) => {
            let tag = TAGS[*tag].into();
            let of = home.turnover_of(&tag);
            let tap = match finding {
                Some(finding) => Tap::TurnFilter {
                    tag,
                    of,
                    finding: *finding,
                },
                None => Tap::TurnFunction { tag, of },
            };
            home.taps(*role, &tap.id(), &[]);
        }
        Deed::Stage(role, tag, stage) => {
            let tap = Bedside::Done {
                card: newest_list(home, TAGS[*tag]),
                stage: *stage,
            };
            home.taps(*role, &Tap::Bedside(tap).id(), &[]);
        }
        Deed::Step(role, tag, step, right) => {
            let (card, step) = (newest_list(home, TAGS[*tag]), *step);
            let tap = if *right {
                Bedside::Mended { card, step }
            } else {
                Bedside::Missed { card, step }
            };
            home.taps(*role, &Tap::Bedside(tap).id(), &[step.as_str()]);
        }
        Deed::Setting(role, tag, same) => {
            let card = newest_list(home, TAGS[*tag]);
            let (tap, chosen): (_, &[&str]) = if *same {
                (Bedside::Same { card }, &[])
            } else {
                let setting = String::new();
                (Bedside::Set { card, setting }, &["5"])
            };
            home.taps(*role, &Tap::Bedside(tap).id(), chosen);
        }
        Deed::Ends(role, tag, what) => ends(home, *role, TAGS[*tag], *what),
        Deed::Roll(role, tag, back, how) => {
            let Some((outage, roll)) = home
                .state
                .outages
                .iter()
                .next()
                .map(|(no, open)| (*no, open.roll))
            else {
                return;
            };
            let tap = match how {
                Some(how) => Power::Seen {
                    outage,
                    roll: roll.saturating_sub(*back / 2),
                    tag: TAGS[*tag].into(),
                    how: *how,
                },
                None if *back == 0 => Power::Back { outage },
                None => Power::Take { outage },
            };
            home.taps(*role, &Tap::Power(tap).id(), &[]);
        }
        Deed::Paper(lines) => {
            let tap = Tap::Power(Power::Catchup {
                unit: None,
                text: String::new(),
            });
            let said = commands::Said::Form {
                id: tap.id(),
                fields: std::collections::BTreeMap::from([("lines".to_owned(), lines.join("\n"))]),
            };
            let decision = home.ask(Role::Nurse, &said);
            home.take(Some(commands::ids::Person(1_001)), &decision);
        }
        Deed::House(role, what, tag) => {
            let tag = commands::ids::Tag::from(TAGS[*tag]);
            let since = home.state.surfaces[&tag]
                .rental
                .as_ref()
                .map_or(0, |rental| rental.said.timestamp() / 60);
            let rental = RentalCard {
                tag: tag.clone(),
                since,
            };
            let over = home.state.frames.iter().find_map(|(bed, frame)| {
                let over = frame.over.as_ref()?;
                Some((bed.clone(), over.no))
            });
            let tap = match what {
                0 => House::ArrivedWell { rental },
                1 => House::ArrivedBadly { rental },
                2 => House::Confirmed {
                    rental,
                    number: None,
                },
                3 => House::Collected { rental },
                4 => House::Waive {
                    tag,
                    bed: BEDS[2].into(),
                    instead_of: None,
                },
                _acted => match over {
                    Some((bed, no)) => House::Acted {
                        bed,
                        no,
                        did: Some(GapAct::RailLowered),
                    },
                    None => return,
                },
            };
            home.taps(*role, &Tap::House(tap).id(), &[]);
        }
        Deed::Stock(role, count) => {
            let options = [
                ("item", text("filter general")),
                ("count", commands::said::Value::Whole(*count)),
            ];
            let decision = home.ask(*role, &command("stock", &options));
            home.take(Some(commands::ids::Person(1_000 + *role as u64)), &decision);
        }
        Deed::Turned(role, tag, what) => {
            let tap = turn(home, TAGS[*tag].into(), *what);
            home.taps(*role, &Tap::Turn(tap).id(), &[]);
        }
        Deed::Staff(role, tag, what) => staff(home, *role, TAGS[*tag], *what),
        Deed::Amend(which, options) => {
            let mut made: Vec<&Record> = home.log.iter().collect();
            made.retain(|record| record.body.can_be_corrected());
            // Mostly one of the newest, which something follows from.
            let newest = made.split_off(made.len().saturating_sub(8));
            let Some(record) = newest.get(which % newest.len().max(1)) else {
                return;
            };
            let Some(who) = record.who else { return };
            let no = record.no;
            let options = if matches!(record.body, Body::HandChecked { .. }) {
                &options[0]
            } else if matches!(record.body, Body::FilterLooked { .. }) {
                &options[1]
            } else {
                &options[2]
            };
            let author = EVERYBODY
                .into_iter()
                .find(|role| who.0 == 1_000 + *role as u64)
                .expect("somebody of the home");
            let mut options: Vec<(&str, _)> = options
                .iter()
                .map(|(name, value)| (*name, text(value)))
                .collect();
            options.push(("entry", text(&no.to_string())));
            options.push(("reason", text("slip of the thumb")));
            let decision = home.ask(author, &command("amend", &options));
            home.take(Some(who), &decision);
        }
        Deed::Pass(minutes) => {
            home.passes(*minutes);
        }
        Deed::SetClock(seconds) => {
            let step = chrono::TimeDelta::seconds(*seconds);
            home.now += step;
            let (_, told) = commands::clock_stepped(&home.state, step, home.now).expect("a home");
            home.take(None, &told);
            while let Some((_, decision)) = commands::tick(&home.state, home.now) {
                home.take(None, &decision);
            }
        }
    }
}

/// What is done about staff. Whether an entry is looked at again is switched on by the first of these.
fn staff(home: &mut Home, role: Role, tag: &str, what: u8) {
    let aide = commands::ids::Person(1_000 + Role::Aide as u64);
    let person = || ("person", Value::Person(Picked::member(aide)));
    let supervisor = |home: &mut Home, path: &str, options: &[(&str, Value)]| {
        let decision = home.ask(Role::Supervisor, &command(path, options));
        home.take(Some(commands::ids::Person(1_003)), &decision);
    };
    match what {
        0 | 1 => {
            for (name, value) in [("sign-off-wanted", "yes"), ("pace-checks", "3")] {
                let policy = [("name", text(name)), ("value", text(value))];
                supervisor(home, "facility policy", &policy);
            }
        }
        2 => {
            let shift = [person(), ("role", text("nurse")), ("until", text("3 h"))];
            supervisor(home, "agency", &shift);
        }
        3 => {
            let task = Task::ALL[tag.len() % Task::ALL.len()].as_str();
            let signed = [person(), ("task", text(task)), ("profile", text("general"))];
            supervisor(home, "signoff", &signed);
        }
        4 => {
            let no = home.state.staff.let_in.values().map(|one| one.no).next();
            let no = no.unwrap_or(RecordNo(1));
            home.taps(Role::Supervisor, &Tap::Staff(Staff::Out { no }).id(), &[]);
        }
        5 => {
            let first = home.state.staff.all_sign_offs().next();
            let no = first.map_or(RecordNo(1), |(.., one)| one.no);
            let tap = Tap::Staff(Staff::EndSignOff { no });
            home.taps(Role::Supervisor, &tap.id(), &[]);
        }
        _ => {
            let checks = &home.state.surfaces[tag].second_checks;
            let newest = checks
                .last_key_value()
                .map(|(task, check)| (*task, check.entry));
            let (task, entry) = newest.unwrap_or((Task::Filter, RecordNo(1)));
            let tap = Tap::Staff(Staff::Looked {
                tag: tag.into(),
                task,
                entry,
            });
            home.taps(role, &tap.id(), &[]);
        }
    }
}

/// The card of a surface's newest list.
fn newest_list(home: &Home, tag: &str) -> ListCard {
    let list = home.state.surfaces[tag].steps.as_ref();
    ListCard {
        tag: tag.into(),
        list: list.map_or(RecordNo(1), |list| list.no),
        post: false,
    }
}

fn ends(home: &mut Home, role: Role, tag: &str, what: u8) {
    let surface = &home.state.surfaces[tag];
    let begun = |since: Option<i64>| Begun {
        tag: tag.into(),
        since: since.unwrap_or_default(),
    };
    let leave = begun(surface.leave.map(|leave| leave.said.timestamp()));
    let tap = match what {
        0 => Bedside::Alternating {
            begun: begun(surface.static_mode.map(|held| held.said.timestamp())),
        },
        1 => Bedside::CprOver {
            begun: begun(surface.cpr.map(|open| open.said.timestamp())),
        },
        2 => Bedside::Back { begun: leave },
        3 => Bedside::Away {
            begun: leave,
            longer: Longer::FourHours,
        },
        _ => Bedside::Gone { begun: leave },
    };
    home.taps(role, &Tap::Bedside(tap).id(), &["4h"]);
}

fn parts_agree(state: &State) {
    for (bed, tag) in &state.under {
        assert_eq!(state.surfaces[tag].bed(), Some(bed), "{tag} and {bed}");
    }
    for (tag, surface) in &state.surfaces {
        if let Some(bed) = surface.bed() {
            assert_eq!(state.under.get(bed), Some(tag), "{tag} and {bed}");
        }
        if let Some(no) = surface.alarm {
            assert_eq!(
                state.alarms.get(&no).map(|alarm| &alarm.tag),
                Some(tag),
                "alarm {no}"
            );
            assert!(
                !matches!(surface.life, Life::Retired { .. }),
                "{tag} is gone and alarms"
            );
        }
        if state.rechecks.contains_key(tag) {
            assert!(
                matches!(surface.life, Life::Placed { .. }),
                "a check is booked for {tag}, which is under nobody"
            );
        }
        for call in [Call::Full, Call::Plug, Call::Steps] {
            if state.booking(&On::Surface(tag.clone()), call).is_some() {
                let open = surface.open_steps().is_some();
                assert!(
                    open && surface.bed().is_some(),
                    "{call:?} is promised for {tag}"
                );
            }
        }
        for (call, open) in [
            (Call::Static, surface.static_mode.is_some()),
            (Call::Leave, surface.leave.is_some()),
            (Call::Cpr, surface.cpr.is_some()),
        ] {
            let promised = state.booking(&On::Surface(tag.clone()), call).is_some();
            assert_eq!(promised, open, "{call:?} for {tag}");
        }
        if let Life::Soiled(turnover) = &surface.life {
            assert!(
                !turnover.complete(),
                "{tag} is turned over and still soiled"
            );
        }
    }
    for (bed, frame) in &state.frames {
        let over = frame.over.as_ref();
        assert!(
            over.is_none_or(|over| !over.zones.is_empty()),
            "{bed} is over nowhere"
        );
    }
    for (tag, surface) in &state.surfaces {
        if let Some(rental) = &surface.rental {
            let gone = matches!(surface.life, Life::Retired { .. });
            assert!(rental.collected.is_none() || gone, "{tag} is back and here");
            let idle = rental.idle_since.is_some();
            assert_eq!(idle, surface.bed().is_none(), "{tag} idle");
        }
    }
    for (tag, surface) in &state.surfaces {
        let soiled = matches!(surface.life, Life::Soiled(_));
        for (call, _) in state.bookings_of(tag) {
            assert!(
                soiled || !matches!(call, Call::Turnover | Call::Contact),
                "{tag} is in no turnover and {call:?} is promised"
            );
        }
        if surface.hold.is_some() {
            assert!(
                matches!(surface.life, Life::OutOfService { .. }),
                "{tag} is held and in use"
            );
        }
        if let Life::OutOfService {
            under: Some(_),
            fault,
            ..
        } = &surface.life
        {
            assert!(
                surface.alarm.is_some() || *fault == Fault::Recall,
                "{tag} is out of service under somebody, and no alarm is open"
            );
        }
        if matches!(surface.life, Life::Placed { .. } | Life::Ready { .. }) {
            assert!(
                state.recall_of(tag).is_none(),
                "{tag} is recalled and in use"
            );
        }
    }
    for (no, recall) in &state.recalls {
        let promised = state.booking(&On::Recall(*no), Call::Recall).is_some();
        assert_eq!(promised, !recall.open.is_empty(), "recall {no}");
    }
    for (no, alarm) in &state.alarms {
        assert_eq!(state.surfaces[&alarm.tag].alarm, Some(*no), "alarm {no}");
    }
    for (no, open) in &state.outages {
        assert_eq!(state.outage_of(&open.unit).map(|(no, _)| no), Some(*no));
        assert!(open.seen.keys().all(|tag| open.order.contains(tag)), "{no}");
    }
    if let Some(due) = commands::next_due(state) {
        assert!(due.timestamp() > 0);
    }
}

/// What was done at a look, and the days to the next.
type Done = (Action, Option<u16>);

/// What is kept of a surface's checks, filter and cleanings.
#[derive(Debug, Default, PartialEq)]
struct Kept {
    checks: Vec<(DateTime<Utc>, RecordNo, Air, Judgement)>,
    filter: Option<(DateTime<Utc>, RecordNo, Finding, Done)>,
    looks: Vec<(DateTime<Utc>, Looked)>,
    changed: Option<NaiveDate>,
    renewed: Option<NaiveDate>,
    cleaned: Option<(DateTime<Utc>, RecordNo, Method, Cover)>,
    /// Every reading that some line could hold, with the setting that it was taken at, where that was said.
    readings: Vec<(i64, RecordNo, Tenths, Option<String>)>,
    /// What begins a line, or ends one, and from which second on.
    turns: Vec<(RecordNo, Option<i64>)>,
    /// The settings in use, each from its record on.
    settings: Vec<(RecordNo, Option<String>)>,
}

impl Kept {
    /// The line as it stands: what was read after the last turn, at the setting in use then.
    fn line(&self) -> Vec<(i64, Tenths)> {
        let Some((turn, Some(since))) = self.turns.last() else {
            return Vec::new();
        };
        let in_use = |no: RecordNo| {
            let before = self.settings.iter().rfind(|(since, _)| *since <= no);
            before.and_then(|(_, setting)| setting.as_ref())
        };
        let mut line: Vec<_> = self
            .readings
            .iter()
            .filter(|(at, no, _, setting)| {
                let other = setting.as_ref().zip(in_use(*no));
                no > turn && at >= since && other.is_none_or(|(said, used)| said == used)
            })
            .map(|(at, no, air, _)| (*at, *no, *air))
            .collect();
        line.sort();
        let older = line
            .len()
            .saturating_sub(commands::rules::drift::READINGS_KEPT);
        line.drain(..older);
        line.into_iter().map(|(at, _, air)| (at, air)).collect()
    }
}

/// The facts of a log in which each entry had been entered as it was corrected later, worked out from the records alone.
fn as_if_entered_so(log: &[Record], zone: &Zone) -> BTreeMap<Tag, Kept> {
    // How each entry reads in the end.
    let mut reads: BTreeMap<RecordNo, Option<(Body, DateTime<Utc>)>> = BTreeMap::new();
    for record in log {
        if let Body::Amended {
            entry,
            now,
            happened,
            ..
        } = &record.body
        {
            reads.insert(*entry, now.as_deref().cloned().map(|now| (now, *happened)));
        }
    }
    let back: BTreeSet<(RecordNo, Tag)> = log
        .iter()
        .filter_map(|record| {
            let Body::TakenBack { first, tag, .. } = &record.body else {
                return None;
            };
            Some((*first, tag.clone()))
        })
        .collect();
    let mut all: BTreeMap<Tag, Kept> = BTreeMap::new();
    for record in log {
        let as_entered = || Some((record.body.clone(), record.at));
        let Some((body, at)) = reads.get(&record.no).cloned().unwrap_or_else(as_entered) else {
            continue;
        };
        let Some(tag) = body.surface().cloned() else {
            continue;
        };
        if back.contains(&(record.first, tag.clone())) {
            continue;
        }
        let kept = all.entry(tag).or_default();
        kept.turn(&body, record.no, at.timestamp());
        if let Body::HandChecked { air, judged, .. } = body {
            kept.checks.push((at, record.no, air, judged));
        } else if let Body::FilterLooked {
            finding,
            action,
            next,
            ..
        } = body
        {
            kept.filter = kept
                .filter
                .max_by_time((at, record.no, finding, (action, next)));
            let look = Looked {
                no: record.no,
                on: zone.local(at).date(),
                finding,
                action,
            };
            kept.looks.push((at, look));
            if action != Action::Left {
                kept.renewed = kept.renewed.max(Some(zone.local(at).date()));
            }
            if action == Action::Replaced {
                kept.changed = kept.changed.max(Some(zone.local(at).date()));
            }
        } else if let Body::Cleaned { method, cover, .. } = body {
            kept.cleaned = kept.cleaned.max_by_time((at, record.no, method, cover));
        }
    }
    for kept in all.values_mut() {
        kept.checks.sort_by_key(|(at, no, ..)| (*at, *no));
        let older = kept
            .checks
            .len()
            .saturating_sub(commands::state::CHECKS_KEPT);
        kept.checks.drain(..older);
        kept.looks.sort_by_key(|(at, look)| (*at, look.no));
    }
    all
}

impl Kept {
    /// What a fact means for the line of a surface's readings.
    fn turn(&mut self, body: &Body, no: RecordNo, at: i64) {
        if let Body::HandChecked {
            air,
            band,
            site,
            position,
            mode,
            layers,
            setting,
            felt,
            ..
        } = body
        {
            let usual = site.is_none_or(|site| site.as_str() == "buttocks")
                && position.is_none_or(|position| position.as_str() == "back-flat")
                && mode.is_none_or(|mode| mode.as_str() == "alternating")
                && layers.is_none_or(|layers| layers <= 2);
            let air = match air {
                Air::Measured(air) => Some(*air),
                Air::Under1 => Some(band.low),
                Air::Over => Some(band.high),
                Air::Touching => Some(Tenths(0)),
                Air::Within | Air::CouldNot(_) => None,
            };
            if let Some(air) = air.filter(|_| usual && !felt) {
                self.readings.push((at, no, air, setting.clone()));
            }
        }
        match body.kind() {
            "placed" => {
                self.turns.push((no, Some(at)));
                self.settings.push((no, None));
            }
            "moved" => self.turns.push((no, Some(at))),
            "released" | "surface-retired" => {
                self.turns.push((no, None));
                self.settings.push((no, None));
            }
            "pulled" => self.turns.push((no, None)),
            _ => {}
        }
        if let Body::SettingSet { setting, .. } = body {
            let before = self
                .settings
                .last()
                .and_then(|(_, setting)| setting.as_ref());
            let there = self.turns.last().is_some_and(|(_, since)| since.is_some());
            if there && before != Some(setting) {
                self.turns.push((no, Some(at)));
            }
            self.settings.push((no, Some(setting.clone())));
        }
    }
}

/// The later of two things that happened.
trait Later<T> {
    fn max_by_time(self, other: T) -> Option<T>;
}

impl<A, B> Later<(DateTime<Utc>, RecordNo, A, B)> for Option<(DateTime<Utc>, RecordNo, A, B)> {
    fn max_by_time(
        self,
        other: (DateTime<Utc>, RecordNo, A, B),
    ) -> Option<(DateTime<Utc>, RecordNo, A, B)> {
        match self {
            Some(one) if (one.0, one.1) > (other.0, other.1) => Some(one),
            Some(_) | None => Some(other),
        }
    }
}

fn facts_agree(home: &Home) {
    let zone = &home.state.facility.as_ref().expect("a home").zone;
    let mut all = as_if_entered_so(&home.log, zone);
    for (tag, surface) in &home.state.surfaces {
        let kept = all.remove(tag).unwrap_or_default();
        let checks: Vec<_> = surface
            .checks
            .iter()
            .map(|check| (check.at, check.no, check.air, check.judged))
            .collect();
        assert_eq!(checks, kept.checks, "checks of {tag}");
        let line: Vec<_> = surface
            .line
            .readings()
            .iter()
            .map(|reading| (reading.seconds(), reading.air()))
            .collect();
        assert_eq!(line, kept.line(), "the line of {tag}");
        let filter = kept
            .filter
            .map(|(at, _, finding, action)| (at, finding, action));
        let known = surface.filter.as_ref();
        let known = known.map(|look| (look.at, look.finding, (look.action, look.next)));
        assert_eq!(known, filter, "filter of {tag}");
        let looks: Vec<Looked> = kept.looks.into_iter().map(|(_, look)| look).collect();
        assert!(looks.len() <= commands::state::LOOKS_KEPT);
        assert!(
            surface.filter_looks.newest.iter().eq(&looks),
            "looks at {tag}: {:?}, not {looks:?}",
            surface.filter_looks
        );
        assert_eq!(surface.filter_changed, kept.changed, "filter of {tag}");
        assert_eq!(surface.filter_renewed, kept.renewed, "filter of {tag}");
        let cleaned = kept
            .cleaned
            .map(|(at, _, method, cover)| (at, method, cover));
        let known = surface.cleaned.as_ref();
        let known = known.map(|clean| (clean.at, clean.method, clean.cover));
        assert_eq!(known, cleaned, "cleaning of {tag}");
    }
}

fn replay(log: &[Record]) -> State {
    let mut state = State::default();
    for record in log {
        let body = Body::decode(BODY_VERSION, &record.body.encode()).expect("what we wrote");
        assert_eq!(body, record.body);
        state
            .apply(&Record {
                body,
                ..record.clone()
            })
            .unwrap_or_else(|fault| panic!("{fault}"));
    }
    state
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_people_do_can_follow_and_replays(deeds in proptest::collection::vec(deeds(), 1..60)) {
        let mut home = Home::set_up();
        home.does(Role::Supervisor, "fleet add", &[
            ("tag", text("LW-06")),
            ("profile", text("general")),
            ("owned", text("rented")),
            ("tested", text("2026-01-15")),
        ]);
        for deed in &deeds {
            do_it(&mut home, deed);
            parts_agree(&home.state);
            facts_agree(&home);
            // Nothing is left due: the clock asked until there was nothing more.
            prop_assert!(commands::next_due(&home.state).is_none_or(|at| at > home.now) || commands::tick(&home.state, home.now).is_some());
        }
        prop_assert_eq!(&replay(&home.log), &home.state);
        let bytes = serde_json::to_vec(&home.state).expect("a snapshot");
        let back: State = serde_json::from_slice(&bytes).expect("what we wrote");
        prop_assert_eq!(back, home.state);
    }
}

/// Steps of the clock, by seconds, hours and weeks.
fn steps() -> impl Strategy<Value = Deed> {
    prop_oneof![-60i64..0, -90_000i64..0, -3_000_000i64..0, 0i64..90_000].prop_map(Deed::SetClock)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    /// The log reads as the clocks of then had it; the state goes by the clock of now.
    #[test]
    fn whatever_people_do_replays_where_the_clock_is_stepped(deeds in proptest::collection::vec(prop_oneof![4 => deeds(), 1 => steps()], 1..60)) {
        let mut home = Home::set_up();
        home.does(Role::Supervisor, "fleet add", &[
            ("tag", text("LW-06")),
            ("profile", text("general")),
            ("owned", text("rented")),
            ("tested", text("2026-01-15")),
        ]);
        for deed in &deeds {
            do_it(&mut home, deed);
            parts_agree(&home.state);
            for (tag, surface) in &home.state.surfaces {
                let last = surface.checks.back();
                prop_assert!(last.is_none_or(|check| check.at <= home.now), "a check of {tag}");
                prop_assert!(surface.checks.iter().is_sorted_by_key(|check| check.at), "checks of {tag}");
                prop_assert!(surface.line.since.is_none_or(|since| since <= home.now), "the line of {tag}");
            }
            prop_assert!(commands::next_due(&home.state).is_none_or(|at| at > home.now) || commands::tick(&home.state, home.now).is_some());
        }
        prop_assert_eq!(&replay(&home.log), &home.state);
        let bytes = serde_json::to_vec(&home.state).expect("a snapshot");
        let back: State = serde_json::from_slice(&bytes).expect("what we wrote");
        prop_assert_eq!(back, home.state);
    }
}

#[test]
fn a_record_in_the_wrong_place_changes_nothing() {
    let home = Home::set_up();
    let mut state = home.state.clone();
    let placed = home
        .log
        .iter()
        .rfind(|record| matches!(record.body, Body::Placed { .. }));
    let mut wrong = placed.expect("a placement").clone();
    assert!(
        state.apply(&wrong).is_err(),
        "a number that was there already"
    );
    wrong.no = state.next_no();
    assert!(state.apply(&wrong).is_err(), "a bed that is taken");
    assert_eq!(state, home.state);
}

#[test]
fn a_newer_or_garbled_body_is_said_to_be_so() {
    assert_eq!(
        Body::decode(BODY_VERSION + 1, b"{}"),
        Err(Unreadable::Newer(BODY_VERSION + 1))
    );
    assert!(matches!(
        Body::decode(BODY_VERSION, b"{}"),
        Err(Unreadable::Garbled(_))
    ));
    assert!(matches!(
        Body::decode(BODY_VERSION, &[0xff, 0x00]),
        Err(Unreadable::Garbled(_))
    ));
}
