//! What one part of a surface's life owes to another: a pull ends its set-up, an emergency is quiet everywhere, a stale
//! card is not taken for a new turn of things.

mod common;

use std::collections::BTreeMap;

use commands::Said;
use commands::choice::{Call, Outcome, Roll};
use commands::due::{DueKind, list};
use commands::ids::{OutageNo, Tag};
use commands::message::TEXT_CHARS_MAX;
use commands::record::On;
use commands::role::Role;
use commands::said::Value;
use commands::state::Life;
use commands::table::COMMANDS;
use commands::tap::{Began, House, Power, Tap, Turn};
use common::{CARE, Home, answer_text, buttons, command, text};

fn kinds(home: &Home, tag: &str) -> Vec<DueKind> {
    list(&home.state, None, home.now)
        .into_iter()
        .filter(|item| item.tag.as_str() == tag)
        .map(|item| item.kind)
        .collect()
}

fn opened(home: &mut Home) -> OutageNo {
    home.does(Role::Aide, "outage", &[("unit", text("Elm"))]);
    *home.state.outages.keys().next().expect("it is open")
}

fn seen(home: &mut Home, outage: OutageNo, tag: &str, how: Roll) -> commands::Decision {
    let tap = Power::Seen {
        outage,
        roll: 1,
        tag: tag.into(),
        how,
    };
    home.taps(Role::Aide, &Tap::Power(tap).id(), &[])
}

#[test]
fn a_pull_ends_what_was_promised_of_the_set_up() {
    let mut home = Home::set_up();
    home.does(
        Role::Nurse,
        "static",
        &[("surface", text("LW-01")), ("until", text("20 min"))],
    );
    let on = On::Surface("LW-01".into());
    assert!(home.state.booking(&on, Call::Steps).is_some());
    home.does(
        Role::Nurse,
        "pull",
        &[("surface", text("LW-01")), ("fault", text("cover"))],
    );
    assert!(home.state.bookings_of(&"LW-01".into()).is_empty());
    let surface = &home.state.surfaces["LW-01"];
    assert!(surface.static_mode.is_none() && surface.open_steps().is_none());
    let kinds = kinds(&home, "LW-01");
    assert!(
        matches!(kinds[..], [DueKind::Alarm(_), DueKind::StillUnder, ..]),
        "{kinds:?}"
    );
}

#[test]
fn in_an_emergency_nothing_asks_about_the_surface() {
    let mut home = Home::set_up();
    let outage = opened(&mut home);
    home.does(Role::Aide, "alarm", &[("surface", text("LW-01"))]);
    home.does(Role::Nurse, "cpr", &[("surface", text("LW-01"))]);
    assert_eq!(kinds(&home, "LW-01"), []);
    let asked = home.taps(Role::Aide, &Tap::Power(Power::Take { outage }).id(), &[]);
    assert!(!answer_text(&asked).contains("LW-01"));
    assert!(answer_text(&asked).contains("LW-02"));
    let not = seen(&mut home, outage, "LW-01", Roll::Flat);
    assert!(not.entries.is_empty() && answer_text(&not).contains("CPR"));
    // The roll is done without it, and its end wakes nobody before the next.
    seen(&mut home, outage, "LW-02", Roll::Holding);
    assert!(
        home.state
            .booking(&On::Outage(outage), Call::Roll)
            .is_some()
    );
}

#[test]
fn a_failed_test_asks_for_another_repair() {
    let mut home = Home::set_up();
    home.does(
        Role::Upkeep,
        "pull",
        &[("surface", text("LW-04")), ("fault", text("cord"))],
    );
    let tag = || Tag::from("LW-04");
    let tested = |outcome| {
        Tap::Turn(Turn::Tested {
            tag: tag(),
            outcome,
        })
        .id()
    };
    let repaired = Tap::Turn(Turn::Repaired { tag: tag() }).id();
    home.taps(Role::Upkeep, &repaired, &[]);
    let failed = home.taps(Role::Upkeep, &tested(Outcome::Failed), &[]);
    assert!(!failed.entries.is_empty());
    let passed = home.taps(Role::Upkeep, &tested(Outcome::Passed), &[]);
    assert!(passed.entries.is_empty(), "{}", answer_text(&passed));
    home.taps(Role::Upkeep, &repaired, &[]);
    home.taps(Role::Upkeep, &tested(Outcome::Passed), &[]);
    assert!(matches!(home.state.surfaces["LW-04"].life, Life::Soiled(_)));
}

#[test]
fn a_card_of_another_turnover_is_not_taken() {
    let mut home = Home::set_up();
    let tag = || Tag::from("LW-05");
    for of in [Began(0), Began(29_000_000)] {
        let tap = Tap::TurnFilter {
            tag: tag(),
            of,
            finding: commands::choice::Finding::Clean,
        };
        assert!(home.taps(Role::Upkeep, &tap.id(), &[]).entries.is_empty());
    }
    let of = home.turnover_of(&tag());
    let tap = Tap::TurnFilter {
        tag: tag(),
        of,
        finding: commands::choice::Finding::Clean,
    };
    assert!(!home.taps(Role::Upkeep, &tap.id(), &[]).entries.is_empty());
}

#[test]
fn a_card_for_an_empty_bed_lets_nobody_go() {
    let mut home = Home::set_up();
    home.does(
        Role::Supervisor,
        "fleet add",
        &[
            ("tag", text("LW-06")),
            ("profile", text("general")),
            ("state", text("ready")),
        ],
    );
    // Before office hours: the card with the button.
    let place = command("place", &[("surface", text("LW-06")), ("bed", text("103"))]);
    let shown = home.ask(Role::Nurse, &place);
    let waive = House::Waive {
        tag: "LW-06".into(),
        bed: "103".into(),
        instead_of: None,
    };
    let id = Tap::House(waive).id();
    assert!(buttons(&shown).contains(&id));
    home.does(
        Role::Nurse,
        "place",
        &[("surface", text("LW-04")), ("bed", text("103"))],
    );
    assert!(home.taps(Role::Nurse, &id, &[]).entries.is_empty());
    assert_eq!(home.state.under["103"], Tag::from("LW-04"));
}

#[test]
fn power_that_is_back_promises_a_call_for_its_checklist() {
    let mut home = Home::set_up();
    let outage = opened(&mut home);
    home.passes(200);
    home.taps(Role::Aide, &Tap::Power(Power::Back { outage }).id(), &[]);
    // One for its unit, and not one for each surface there.
    let on = On::Unit("Elm".into());
    let booking = home.state.booking(&on, Call::Steps).expect("a promise");
    assert!(booking.next.is_some_and(|next| next > home.now));
}

#[test]
fn what_was_said_wrong_in_a_roll_is_put_right_by_who_said_it() {
    let mut home = Home::set_up();
    let outage = opened(&mut home);
    let later = Power::Later {
        outage,
        roll: 1,
        tag: "LW-01".into(),
    };
    let later = home.taps(Role::Aide, &Tap::Power(later).id(), &[]);
    assert!(later.entries.is_empty());
    assert!(answer_text(&later).contains("How does **LW-02"));
    seen(&mut home, outage, "LW-01", Roll::Holding);
    let again = Power::Again {
        outage,
        roll: 1,
        tag: "LW-01".into(),
    };
    let mended = |how| {
        Tap::Power(Power::Mended {
            outage,
            roll: 1,
            tag: "LW-01".into(),
            how,
        })
        .id()
    };
    let other = home.taps(Role::Nurse, &mended(Roll::Low), &[]);
    assert!(other.entries.is_empty(), "{}", answer_text(&other));
    let shown = home.taps(Role::Aide, &Tap::Power(again).id(), &[]);
    assert!(shown.entries.is_empty() && buttons(&shown).contains(&mended(Roll::Low)));
    let low = home.taps(Role::Aide, &mended(Roll::Low), &[]);
    assert!(low.posts.iter().any(|post| post.key.contains(":nurse:")));
    let fine = home.taps(Role::Aide, &mended(Roll::Holding), &[]);
    assert!(fine.posts.iter().any(|post| post.key.contains(":mended:")));
    let stands = &home.state.outages[&outage].seen["LW-01"];
    assert_eq!(stands.0, Roll::Holding);
}

#[test]
fn a_roll_has_what_is_under_the_beds_now() {
    let mut home = Home::set_up();
    let outage = opened(&mut home);
    home.does(
        Role::Nurse,
        "release",
        &[("surface", text("LW-01")), ("reason", text("discharge"))],
    );
    home.does(
        Role::Nurse,
        "place",
        &[("surface", text("LW-04")), ("bed", text("103"))],
    );
    seen(&mut home, outage, "LW-02", Roll::Holding);
    assert!(
        home.state
            .booking(&On::Outage(outage), Call::Roll)
            .is_some()
    );
    home.passes(16);
    let mut order = home.state.outages[&outage].order.clone();
    order.sort();
    assert_eq!(order, [Tag::from("LW-02"), Tag::from("LW-04")]);
}

#[test]
fn one_paper_calls_nurses_once() {
    let mut home = Home::set_up();
    home.passes(60);
    let tap = Tap::Power(Power::Catchup {
        unit: None,
        text: String::new(),
    });
    let lines = "101, 5 min ago, 3/4 in\n102, 6 min ago, 3/4 in\n201, 7 min ago, 1 in";
    let said = Said::Form {
        id: tap.id(),
        fields: BTreeMap::from([("lines".to_owned(), lines.to_owned())]),
    };
    let taken = home.ask(Role::Aide, &said);
    assert!(!taken.entries.is_empty(), "{}", answer_text(&taken));
    let calls: Vec<&str> = taken
        .posts
        .iter()
        .filter(|post| post.key.starts_with("low:"))
        .map(|post| post.message.text.as_str())
        .collect();
    assert_eq!(calls.len(), 1, "{calls:?}");
    assert!(calls[0].contains("LW-01") && calls[0].contains("LW-02"));
    assert!(!calls[0].contains("LW-03"));
}

#[test]
fn every_topic_of_help_and_the_rules_fit_a_message() {
    let mut home = Home::set_up();
    for command in COMMANDS {
        let first = command.path.split(' ').next().expect("a word");
        for topic in [command.path, first, &first[..1]] {
            let said = common::command("help", &[("topic", text(topic))]);
            let answer = home.ask(Role::Supervisor, &said);
            let length = answer_text(&answer).chars().count();
            assert!((1..=TEXT_CHARS_MAX).contains(&length), "{topic}: {length}");
        }
    }
    let shown = home.ask(Role::Supervisor, &command("facility show", &[]));
    assert!(
        !answer_text(&shown).contains('…'),
        "{}",
        answer_text(&shown)
    );
}

#[test]
fn recalled_under_a_bed_is_told_to_its_unit_and_named_by_unit() {
    let mut home = Home::set_up();
    let asked = home.ask(
        Role::Supervisor,
        &command("recall", &[("profile", text("general"))]),
    );
    let id = buttons(&asked).pop().expect("a button");
    home.taps(Role::Supervisor, &id, &[]);
    let csv = "tag,profile,bed\nLW-09,general,104\n";
    let said = Said::Fetched {
        path: "fleet import".to_owned(),
        options: BTreeMap::from([
            ("what".to_owned(), text("surfaces")),
            (
                "file".to_owned(),
                Value::File(commands::said::FileRef {
                    name: "surfaces.csv".to_owned(),
                    size: csv.len() as u64,
                    url: "https://cdn.example/surfaces.csv".to_owned(),
                }),
            ),
        ]),
        file: Ok(csv.as_bytes().to_vec()),
    };
    let imported = home.ask(Role::Supervisor, &said);
    let told = imported
        .posts
        .iter()
        .any(|post| post.channel == CARE && post.message.text.contains("LW-09"));
    assert!(told, "{}", answer_text(&imported));
    home.take(Some(commands::ids::Person(1)), &imported);
    let daily = home.passes(25 * 60);
    let named = daily
        .iter()
        .flat_map(|decision| &decision.posts)
        .any(|post| post.message.text.contains("Birch: LW-03"));
    assert!(named);
}
