//! What buttons, menus and forms carry: every tap comes back as it went, fits the platform, and whatever else
//! comes back is refused and breaks nothing.

mod common;

use std::collections::{BTreeMap, BTreeSet};

use commands::choice::Cause;
use commands::ids::{AlarmNo, RecordNo};
use commands::message::TAP_ID_MAX;
use commands::rules::hand_check::{Air, Why};
use commands::tap::{Staff, Tap, air_word, fixed_menu_id, verb_of};
use common::every_tap::{FAR, cards, taps};
use proptest::prelude::*;

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
    assert_eq!(read("staff|unsign|menu", None, &BTreeMap::new()), None);
    assert_eq!(
        read("staff|unsign|menu", Some("12"), &BTreeMap::new()),
        Some(Tap::Staff(Staff::EndSignOff { no: RecordNo(12) }))
    );
    assert_eq!(read("turn|which|LW-01|12", None, &BTreeMap::new()), None);
    // What the menu does not offer is not taken from it.
    let recall = Some("recall");
    assert_eq!(read("turn|which|LW-01|12", recall, &BTreeMap::new()), None);
    assert_eq!(
        read("kind|12", Some("no such kind"), &BTreeMap::new()),
        None
    );
}

/// What follows a whole identifier is not passed over: it is refused, or it is another identifier of ours that says just this.
#[test]
fn an_identifier_with_something_behind_it_is_not_the_shorter_one() {
    let (mut refused, mut passed_over) = (0, BTreeSet::new());
    for (tap, chosen, fields) in taps() {
        let id = tap.id();
        for behind in ["|", "|1", "|x", "|1|1", "||", "|LW-01", "x", "\u{202e}"] {
            let longer = format!("{id}{behind}");
            match read(&longer, chosen.as_deref(), &fields) {
                None => refused += 1,
                Some(other) if other.id() == longer => {}
                Some(_shorter) => {
                    passed_over.insert(verb_of(&longer));
                }
            }
        }
    }
    // Its second menu had a number behind once, and such screens still stand in the chat.
    assert_eq!(passed_over, BTreeSet::from(["set topic".to_owned()]));
    assert!(refused > 1_000, "{refused}");
}

proptest! {
    #[test]
    fn whatever_comes_back_breaks_nothing(id in ".{0,120}", chosen in proptest::option::of(".{0,40}")) {
        let _ = read(&id, chosen.as_deref(), &BTreeMap::new());
    }

    #[test]
    fn a_forged_tap_is_a_tap_of_the_same_words_or_none(
        verb in "(go|air|type|typed|skip|take|safe|fixed|cause|fixair|fixtype|fixtyped|kind|pull|back|turnf|turnok|pick|set\\|(agree|decline|page|topic)|at\\|(steps|done|miss|right|set|same|type|typed|min|mins|alt|over|back|away|gone)|power.take|power.seen|power.back|power.paper|power.place|house|turn|staff.read|staff.out|staff.unsign|staff.looked)",
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
