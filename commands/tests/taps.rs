//! What buttons, menus and forms carry: every tap comes back as it went, fits the platform, and whatever else
//! comes back is refused and breaks nothing.

use std::collections::{BTreeMap, BTreeSet};

use commands::choice::{Cause, Finding};
use commands::ids::{AlarmNo, OutageNo, RecordNo, Tag, Unit};
use commands::message::TAP_ID_MAX;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Why};
use commands::rules::priority::AlarmKind;
use commands::state::Ladder;
use commands::tap::{Bedside, Card, House, Power, Tap, Turn, air_word, fixed_menu_id, verb_of};
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
            Tap::Bedside(Bedside::Steps {
                tag: LONGEST_TAG.into(),
            }),
            None,
            none(),
        ),
        (
            Tap::Turn(Turn::Repaired {
                tag: LONGEST_TAG.into(),
            }),
            None,
            none(),
        ),
        (
            Tap::House(House::Acted { bed: "114A".into() }),
            None,
            none(),
        ),
        (
            Tap::Power(Power::Take {
                outage: OutageNo(FAR),
            }),
            None,
            none(),
        ),
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
        verb in "(go|air|type|typed|skip|take|safe|fixed|cause|fixair|fixtype|fixtyped|kind|pull|back|turnf|turnok|pick|policy|ladder)",
        rest in proptest::collection::vec("[A-Za-z0-9 -]{0,12}", 0..6),
        chosen in proptest::option::of("[a-z-]{0,16}"),
    ) {
        let id = std::iter::once(verb).chain(rest).collect::<Vec<_>>().join("|");
        if let Some(tap) = read(&id, chosen.as_deref(), &BTreeMap::new()) {
            let again = tap.id();
            let back = read(&again, chosen.as_deref(), &BTreeMap::new());
            prop_assert_eq!(back, Some(tap));
        }
    }
}
