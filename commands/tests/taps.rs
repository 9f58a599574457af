//! What buttons, menus and forms carry: every tap comes back as it went, fits the platform, and whatever else
//! comes back is refused and breaks nothing.

use std::collections::{BTreeMap, BTreeSet};

use commands::choice::{Cause, Finding, Outcome, Roll, Step};
use commands::ids::{AlarmNo, OutageNo, RecordNo, Tag, Unit};
use commands::message::TAP_ID_MAX;
use commands::record::Fault;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Why};
use commands::rules::priority::AlarmKind;
use commands::rules::set_up::Stage;
use commands::rules::turnover::Inspection;
use commands::state::Ladder;
use commands::tap::{
    Bedside, Began, Begun, Card, Entry, House, Line, ListCard, Longer, Power, RentalCard, Tap,
    Turn, air_word, fixed_menu_id, verb_of,
};
use proptest::prelude::*;

/// The longest names that the register takes (`TAG_CHARS_MAX`, `UNIT_BYTES_MAX`).
const LONGEST_TAG: &str = "ABCDEFGHIJ-12345";
const LONGEST_UNIT: &str = "Unit of the longest name";
/// Beyond any log.
const FAR: u64 = 99_999_999_999;

fn cards() -> Vec<Card> {
    let card = |round: Option<&str>| Card {
        round: round.map(Unit::from),
        tag: Tag::from(LONGEST_TAG),
        seen: RecordNo(FAR),
        shown: 99_999_999,
    };
    vec![card(None), card(Some("Elm")), card(Some(LONGEST_UNIT))]
}

/// Every kind of tap, with what a menu or a form would add.
fn taps() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let alarm = AlarmNo(FAR);
    let none = BTreeMap::new;
    let form = || {
        BTreeMap::from([
            ("air", "1 1/4".to_owned()),
            ("note", "hose was loose".to_owned()),
        ])
    };
    let note = Some("hose was loose".to_owned());
    let mut taps = vec![
        (
            Tap::StartRound {
                unit: Unit::from(LONGEST_UNIT),
            },
            None,
            none(),
        ),
        (Tap::Take { alarm }, None, none()),
        (Tap::Safe { alarm }, None, none()),
        (Tap::Fixed { alarm }, None, none()),
        (Tap::Pull { alarm }, None, none()),
        (
            Tap::TakeBack {
                first: RecordNo(FAR),
                tag: LONGEST_TAG.into(),
            },
            None,
            none(),
        ),
        (
            Tap::TurnFunction {
                tag: LONGEST_TAG.into(),
                of: Began(99_999_999),
            },
            None,
            none(),
        ),
        (
            Tap::Pick {
                tag: LONGEST_TAG.into(),
            },
            Some(LONGEST_TAG.to_owned()),
            none(),
        ),
        (
            Tap::ConfirmPolicy {
                word: "turnover-hours".to_owned(),
                value: -1,
            },
            None,
            none(),
        ),
        (
            Tap::ConfirmLadder {
                ladder: Ladder::default(),
            },
            None,
            none(),
        ),
    ];
    taps.extend(bedside());
    let outage = OutageNo(FAR);
    let power = [Power::Take { outage }, Power::Back { outage }]
        .into_iter()
        .chain(Roll::ALL.iter().map(|how| Power::Seen {
            outage,
            roll: u32::MAX,
            tag: LONGEST_TAG.into(),
            how: *how,
        }))
        .chain(Roll::ALL.iter().map(|how| Power::Mended {
            outage,
            roll: u32::MAX,
            tag: LONGEST_TAG.into(),
            how: *how,
        }))
        .chain([
            Power::Later {
                outage,
                roll: u32::MAX,
                tag: LONGEST_TAG.into(),
            },
            Power::Again {
                outage,
                roll: u32::MAX,
                tag: LONGEST_TAG.into(),
            },
        ])
        .chain([Power::Place {
            tag: LONGEST_TAG.into(),
            bed: "ABCDEFGH-12345".into(),
        }]);
    taps.extend(power.map(|tap| (Tap::Power(tap), None, none())));
    for unit in [None, Some(Unit::from(LONGEST_UNIT))] {
        let text = "103 13:40 1 1/4".to_owned();
        let fields = BTreeMap::from([("lines", text.clone())]);
        let tap = Tap::Power(Power::Catchup { unit, text });
        taps.push((tap, None, fields));
    }
    taps.extend(house_taps());
    taps.extend(turns());
    taps.extend(entries());
    for cause in Cause::ALL {
        let cause = *cause;
        taps.push((
            Tap::Caused { alarm, cause },
            Some(cause.as_str().to_owned()),
            none(),
        ));
        taps.push((Tap::TypeFixedAir { alarm, cause }, None, none()));
        taps.push((
            Tap::FixedAirTyped {
                alarm,
                cause,
                air: "1 1/4".to_owned(),
                note: note.clone(),
            },
            None,
            form(),
        ));
        taps.push((
            Tap::FixedAir {
                alarm,
                cause,
                air: Air::Touching,
            },
            None,
            none(),
        ));
    }
    for kind in AlarmKind::ALL {
        taps.push((
            Tap::NameAlarm { alarm, kind: *kind },
            Some(kind.as_str().to_owned()),
            none(),
        ));
    }
    for finding in Finding::ALL {
        taps.push((
            Tap::TurnFilter {
                tag: LONGEST_TAG.into(),
                of: Began(99_999_999),
                finding: *finding,
            },
            None,
            none(),
        ));
    }
    let airs = [
        Air::Measured(Tenths(318)),
        Air::Within,
        Air::Under1,
        Air::Over,
        Air::Touching,
    ];
    for card in cards() {
        for air in airs
            .into_iter()
            .chain(Why::ALL.iter().map(|why| Air::CouldNot(*why)))
        {
            taps.push((
                Tap::Air {
                    card: card.clone(),
                    air,
                },
                None,
                none(),
            ));
        }
        taps.push((Tap::TypeAir { card: card.clone() }, None, none()));
        taps.push((Tap::Skip { card: card.clone() }, None, none()));
        taps.push((
            Tap::AirTyped {
                card,
                air: "1 1/4".to_owned(),
                note: note.clone(),
            },
            None,
            form(),
        ));
    }
    taps
}

/// Those at the bed.
fn bedside() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let none = BTreeMap::new;
    let begun = Begun {
        tag: LONGEST_TAG.into(),
        since: 99_999_999_999,
    };
    let mut taps = vec![
        (
            Bedside::Steps {
                tag: LONGEST_TAG.into(),
            },
            None,
            none(),
        ),
        (
            Bedside::Alternating {
                begun: begun.clone(),
            },
            None,
            none(),
        ),
        (
            Bedside::CprOver {
                begun: begun.clone(),
            },
            None,
            none(),
        ),
        (
            Bedside::Back {
                begun: begun.clone(),
            },
            None,
            none(),
        ),
        (
            Bedside::Gone {
                begun: begun.clone(),
            },
            None,
            none(),
        ),
    ];
    for longer in Longer::ALL {
        taps.push((
            Bedside::Away {
                begun: begun.clone(),
                longer: *longer,
            },
            Some(longer.as_str().to_owned()),
            none(),
        ));
    }
    for post in [true, false] {
        let card = || ListCard {
            tag: LONGEST_TAG.into(),
            list: RecordNo(FAR),
            post,
        };
        for stage in Stage::ALL {
            taps.push((
                Bedside::Done {
                    card: card(),
                    stage,
                },
                None,
                none(),
            ));
        }
        for step in Step::ALL {
            let (step, chosen) = (*step, Some(step.as_str().to_owned()));
            let missed = Bedside::Missed { card: card(), step };
            taps.push((missed, chosen.clone(), none()));
            taps.push((Bedside::Mended { card: card(), step }, chosen, none()));
        }
        let setting = || "4".to_owned();
        taps.push((
            Bedside::Set {
                card: card(),
                setting: setting(),
            },
            Some(setting()),
            none(),
        ));
        taps.push((Bedside::Same { card: card() }, None, none()));
        taps.push((Bedside::TypeSetting { card: card() }, None, none()));
        taps.push((
            Bedside::SettingTyped {
                card: card(),
                setting: setting(),
            },
            None,
            BTreeMap::from([("setting", setting())]),
        ));
        taps.push((Bedside::TypeMinutes { card: card() }, None, none()));
        taps.push((
            Bedside::MinutesTyped {
                card: card(),
                minutes: "12".to_owned(),
            },
            None,
            BTreeMap::from([("minutes", "12".to_owned())]),
        ));
    }
    taps.into_iter()
        .map(|(tap, chosen, fields)| (Tap::Bedside(tap), chosen, fields))
        .collect()
}

/// Taps about the house, with the longest names that there are.
fn house_taps() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let rental = || RentalCard {
        tag: LONGEST_TAG.into(),
        since: 99_999_999,
    };
    let number = "P-20418".to_owned();
    let plain = [
        House::Acted {
            bed: "114ABCDE".into(),
            no: RecordNo(FAR),
        },
        House::Waive {
            tag: LONGEST_TAG.into(),
            bed: "114ABCDE".into(),
            instead_of: Some(LONGEST_TAG.into()),
        },
        House::ArrivedWell { rental: rental() },
        House::ArrivedBadly { rental: rental() },
        House::Confirm { rental: rental() },
        House::Collected { rental: rental() },
        House::NewItem {
            item: "hose connectors of the longest name ther".into(),
            count: 100_000,
        },
    ];
    let form = House::Confirmed {
        rental: rental(),
        number: Some(number.clone()),
    };
    let empty = House::Confirmed {
        rental: rental(),
        number: None,
    };
    plain
        .into_iter()
        .map(|tap| (Tap::House(tap), None, BTreeMap::new()))
        .chain([
            (Tap::House(form), None, BTreeMap::from([("number", number)])),
            (
                Tap::House(empty),
                None,
                BTreeMap::from([("number", "  ".to_owned())]),
            ),
        ])
        .collect()
}

/// Every tap in a turnover and out of service.
fn turns() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let tag = || Tag::from(LONGEST_TAG);
    let (of, hold) = (Began(99_999_999), RecordNo(FAR));
    let note = "new cord".to_owned();
    let mut turns = vec![
        Turn::Dried { tag: tag(), of },
        Turn::PartsWhole { tag: tag(), of },
        Turn::PartDamaged { tag: tag(), of },
        Turn::NotRunning { tag: tag(), of },
        Turn::Repaired { tag: tag() },
        Turn::RepairNote { tag: tag() },
        Turn::Reported { tag: tag(), hold },
        Turn::LetGo { tag: tag(), hold },
        Turn::LetGoSure { tag: tag(), hold },
    ];
    turns.extend(Inspection::ALL.iter().map(|found| Turn::Inspected {
        tag: tag(),
        of,
        found: *found,
    }));
    turns.extend(Outcome::ALL.iter().map(|outcome| Turn::Tested {
        tag: tag(),
        outcome: *outcome,
    }));
    turns.extend([true, false].map(|lot| Turn::RecallAll {
        tag: tag(),
        lot,
        found: u32::MAX,
    }));
    let mut taps: Vec<_> = turns
        .into_iter()
        .map(|turn| (Tap::Turn(turn), None, BTreeMap::new()))
        .collect();
    let fault = Fault::Hose;
    let part = Turn::PartFault {
        tag: tag(),
        of,
        fault,
    };
    let chosen = Some(fault.as_str().to_owned());
    taps.push((Tap::Turn(part), chosen, BTreeMap::new()));
    let noted = Turn::RepairNoted {
        tag: tag(),
        note: Some(note.clone()),
    };
    taps.push((Tap::Turn(noted), None, BTreeMap::from([("note", note)])));
    taps
}

fn entries() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let lines = [
        Line::Surface(LONGEST_TAG.into()),
        Line::Bed("ABCDEFGH-12345".into()),
    ];
    let far = RecordNo(FAR);
    let mut taps: Vec<(Entry, Option<String>)> = Vec::new();
    for line in lines {
        let page = Entry::Page {
            line: line.clone(),
            upto: far,
            skip: u32::MAX,
        };
        taps.push((page, None));
        taps.push((Entry::Corrections { line }, None));
    }
    taps.push((Entry::Look { entry: far }, Some(far.to_string())));
    let sign = Entry::Sign {
        entry: far,
        seen: far,
    };
    taps.push((sign, None));
    taps.into_iter()
        .map(|(tap, chosen)| (Tap::Entry(tap), chosen, BTreeMap::new()))
        .collect()
}

fn read(id: &str, chosen: Option<&str>, fields: &BTreeMap<&str, String>) -> Option<Tap> {
    Tap::read(id, chosen, |name| fields.get(name).map(String::as_str)).ok()
}

#[test]
fn every_tap_comes_back_as_it_went_and_fits() {
    for (tap, chosen, fields) in taps() {
        let id = tap.id();
        assert!(id.len() <= TAP_ID_MAX, "{id} has {} bytes", id.len());
        assert_eq!(read(&id, chosen.as_deref(), &fields), Some(tap), "{id}");
    }
}

#[test]
fn every_verb_of_the_list_is_written_and_none_beside() {
    let mut written = BTreeSet::new();
    for (tap, ..) in taps() {
        let verb = verb_of(&tap.id());
        assert!(
            verb == tap.verb() || verb.starts_with(&format!("{} ", tap.verb())),
            "{verb}"
        );
        written.insert(verb);
    }
    let listed: BTreeSet<String> = Tap::all_verbs().into_iter().collect();
    assert_eq!(written, listed);
    assert_eq!(
        listed.len(),
        Tap::all_verbs().len(),
        "a verb stands for two kinds of tap"
    );
}

#[test]
fn a_menu_of_readings_brings_each_of_them_back() {
    for why in Why::ALL {
        let air = Air::CouldNot(*why);
        for card in cards() {
            let id = card.menu_id();
            assert!(id.len() <= TAP_ID_MAX);
            assert_eq!(
                read(&id, Some(&air_word(air)), &BTreeMap::new()),
                Some(Tap::Air { card, air })
            );
        }
        let (alarm, cause) = (AlarmNo(FAR), Cause::Leak);
        let tap = read(
            &fixed_menu_id(alarm, cause),
            Some(&air_word(air)),
            &BTreeMap::new(),
        );
        assert_eq!(tap, Some(Tap::FixedAir { alarm, cause, air }));
    }
}

#[test]
fn a_menu_without_a_choice_is_nothing() {
    assert_eq!(read("cause|12", None, &BTreeMap::new()), None);
    assert_eq!(read("pick", None, &BTreeMap::new()), None);
    assert_eq!(read("turn|which|LW-01|12", None, &BTreeMap::new()), None);
    // What the menu does not offer is not taken from it.
    let recall = Some("recall");
    assert_eq!(read("turn|which|LW-01|12", recall, &BTreeMap::new()), None);
    assert_eq!(
        read("kind|12", Some("no such kind"), &BTreeMap::new()),
        None
    );
}

proptest! {
    #[test]
    fn whatever_comes_back_breaks_nothing(id in ".{0,120}", chosen in proptest::option::of(".{0,40}")) {
        let _ = read(&id, chosen.as_deref(), &BTreeMap::new());
    }

    #[test]
    fn a_forged_tap_is_a_tap_of_the_same_words_or_none(
        verb in "(go|air|type|typed|skip|take|safe|fixed|cause|fixair|fixtype|fixtyped|kind|pull|back|turnf|turnok|pick|policy|ladder|at\\|(steps|done|miss|right|set|same|type|typed|min|mins|alt|over|back|away|gone)|power.take|power.seen|power.back|power.paper|power.place|house|turn|entry|entry.page|entry.corrections|entry.look|entry.sign)",
        rest in proptest::collection::vec("[A-Za-z0-9 -]{0,12}", 0..6),
        chosen in proptest::option::of("[a-z-]{0,16}"),
    ) {
        let id = std::iter::once(verb.replace('.', "|")).chain(rest).collect::<Vec<_>>().join("|");
        if let Some(tap) = read(&id, chosen.as_deref(), &BTreeMap::new()) {
            let again = tap.id();
            let back = read(&again, chosen.as_deref(), &BTreeMap::new());
            prop_assert_eq!(back, Some(tap));
        }
    }
}
