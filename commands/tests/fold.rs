//! The state is a fold of the records: whatever people do, in whatever order, every record that a decision
//! makes can follow, the parts of the state agree with each other, and replaying the log from its bytes gives the
//! same state.

mod common;

use commands::State;
use commands::choice::{Call, Cause, Finding, Outcome};
use commands::ids::{RecordNo, Tag};
use commands::record::{BODY_VERSION, Body, Fault, On, Record, Unreadable};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Why};
use commands::rules::priority::AlarmKind;
use commands::rules::turnover::Inspection;
use commands::state::Life;
use commands::tap::{Began, Card, Tap, Turn};
use common::{Home, command, text};
use proptest::prelude::*;

const TAGS: [&str; 5] = ["LW-01", "LW-02", "LW-03", "LW-04", "LW-05"];
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
    Step(Role, usize, u8),
    Pass(i64),
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
    let cause = proptest::sample::select(Cause::ALL.to_vec());
    let word = |words: &'static [&'static str]| proptest::sample::select(words.to_vec());
    prop_oneof![
        3 => (roles(), tag.clone(), word(&["1 1/4", "3/4", "0", "2", "none", "1"])).prop_map(|(role, tag, air)|
            Deed::Command(role, "handcheck", vec![("surface", tag.into()), ("air", air.into())])),
        1 => (roles(), tag.clone(), word(&["1 1/4", "0"]), word(&["2 h ago", "20 min ago"])).prop_map(|(role, tag, air, when)|
            Deed::Command(role, "handcheck", vec![("surface", tag.into()), ("air", air.into()), ("when", when.into())])),
        2 => (roles(), tag.clone(), word(&["unknown", "power", "fault"])).prop_map(|(role, tag, kind)|
            Deed::Command(role, "alarm", vec![("surface", tag.into()), ("kind", kind.into())])),
        1 => (roles(), tag.clone(), word(&["clean", "clogged", "damaged"]), word(&["left", "replaced"])).prop_map(|(role, tag, finding, action)|
            Deed::Command(role, "filter", vec![("surface", tag.into()), ("finding", finding.into()), ("action", action.into())])),
        1 => (roles(), tag.clone(), word(&["routine", "between-residents"]), word(&["quaternary", "soap-and-water"]), word(&["intact", "stained", "damaged"]))
            .prop_map(|(role, tag, reason, method, cover)| Deed::Command(role, "clean", vec![
                ("surface", tag.into()), ("reason", reason.into()), ("method", method.into()), ("cover", cover.into())])),
        2 => (roles(), tag.clone(), bed).prop_map(|(role, tag, bed)|
            Deed::Command(role, "place", vec![("surface", tag.into()), ("bed", bed.into())])),
        2 => (roles(), tag.clone()).prop_map(|(role, tag)|
            Deed::Command(role, "release", vec![("surface", tag.into()), ("reason", "discharge".into()), ("clean-last", "off".into())])),
        1 => (roles(), tag).prop_map(|(role, tag)| Deed::Command(role, "fleet retire", vec![("surface", tag.into())])),
        3 => (any::<u8>(), 0..TAGS.len(), airs()).prop_map(|(back, tag, air)| Deed::Air(back, tag, air)),
        4 => (roles(), 0u8..4).prop_map(|(role, what)| Deed::Alarm(role, what)),
        2 => (cause, airs()).prop_map(|(cause, air)| Deed::Fixed(cause, air)),
        1 => proptest::sample::select(AlarmKind::ALL.to_vec()).prop_map(Deed::Named),
        2 => (any::<u8>(), 0..TAGS.len()).prop_map(|(back, tag)| Deed::TakeBack(back, tag)),
        1 => (roles(), 0..TAGS.len(), proptest::option::of(proptest::sample::select(Finding::ALL.to_vec())))
            .prop_map(|(role, tag, finding)| Deed::Turn(role, tag, finding)),
        // Turnovers to their end, out of service and back, holds and recalls.
        6 => (roles(), 0..TAGS.len(), 0u8..12).prop_map(|(role, tag, what)| Deed::Step(role, tag, what)),
        1 => lives().prop_map(|(role, path, options)| Deed::Command(role, path, options)),
        3 => (0i64..700).prop_map(Deed::Pass),
    ]
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
        Life::Soiled(turnover) => Began(turnover.since.timestamp() / 60),
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
            // A recall is first shown, then done with its button.
            if *path == "recall"
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
                    }
                    .id(),
                    &[],
                );
            }
        }
        Deed::Turn(role, tag, finding) => {
            let tag = TAGS[*tag].into();
            let tap = match finding {
                Some(finding) => Tap::TurnFilter {
                    tag,
                    finding: *finding,
                },
                None => Tap::TurnFunction { tag },
            };
            home.taps(*role, &tap.id(), &[]);
        }
        Deed::Step(role, tag, what) => {
            let tap = turn(home, TAGS[*tag].into(), *what);
            home.taps(*role, &Tap::Turn(tap).id(), &[]);
        }
        Deed::Pass(minutes) => {
            home.passes(*minutes);
        }
    }
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
        if let Life::Soiled(turnover) = &surface.life {
            assert!(
                !turnover.complete(),
                "{tag} is turned over and still soiled"
            );
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
    if let Some(due) = commands::next_due(state) {
        assert!(due.timestamp() > 0);
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
        for deed in &deeds {
            do_it(&mut home, deed);
            parts_agree(&home.state);
            // Nothing is left due: the clock asked until there was nothing more.
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
    let mut wrong = home.log[home.log.len() - 1].clone();
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
