//! A unit without power and what comes after it, as facts: what a tap or a form records, in which order and how judged.

mod common;

use std::collections::BTreeMap;

use commands::Said;
use commands::choice::{Call, Opening, Roll, Step};
use commands::decision::{Decision, Entry};
use commands::ids::{OutageNo, Tag};
use commands::record::{Body, On};
use commands::role::Role;
use commands::rules::hand_check::Judgement;
use commands::rules::priority::{AlarmKind, Priority};
use commands::tap::{Power, Tap};
use common::{Home, answer_text, text};

/// A home whose set-ups are all finished.
fn in_use() -> Home {
    let mut home = Home::set_up();
    let open: Vec<(Tag, Vec<Step>)> = home
        .state
        .surfaces
        .iter()
        .filter_map(|(tag, surface)| Some((tag.clone(), surface.open_steps()?.wanted.clone())))
        .collect();
    for (tag, steps) in open {
        let entry = Entry {
            at: home.now,
            role: Role::Nurse,
            body: Body::StepsDone { tag, steps },
            note: None,
        };
        let decision = Decision {
            entries: vec![entry],
            ..Decision::default()
        };
        home.take(None, &decision);
    }
    home
}

fn opened(home: &mut Home) -> OutageNo {
    home.does(Role::Aide, "outage", &[("unit", text("Elm"))]);
    *home.state.outages.keys().next().expect("it is open")
}

fn seen(outage: OutageNo, tag: &str, how: Roll) -> String {
    let roll = 1;
    let tag = tag.into();
    Tap::Power(Power::Seen {
        outage,
        roll,
        tag,
        how,
    })
    .id()
}

fn paper(home: &mut Home, lines: &str) -> commands::Decision {
    let tap = Tap::Power(Power::Catchup {
        unit: None,
        text: String::new(),
    });
    let said = Said::Form {
        id: tap.id(),
        fields: BTreeMap::from([("lines".to_owned(), lines.to_owned())]),
    };
    home.ask(Role::Aide, &said)
}

#[test]
fn flat_without_power_is_an_alarm_of_high_priority_once() {
    let mut home = Home::set_up();
    let outage = opened(&mut home);
    home.taps(Role::Aide, &seen(outage, "LW-01", Roll::Flat), &[]);
    let alarm = home.state.alarms.values().next().expect("an alarm");
    assert_eq!(
        (alarm.kind, alarm.priority, alarm.tag.as_str()),
        (AlarmKind::Power, Priority::High, "LW-01")
    );
    home.taps(Role::Nurse, &seen(outage, "LW-01", Roll::Flat), &[]);
    assert_eq!(home.state.alarms.len(), 1);
}

#[test]
fn a_finished_roll_promises_the_next_and_power_ends_the_promise() {
    let mut home = in_use();
    let outage = opened(&mut home);
    for tag in ["LW-01", "LW-02"] {
        home.taps(Role::Aide, &seen(outage, tag, Roll::Holding), &[]);
    }
    let booking = home.state.booking(&On::Outage(outage), Call::Roll);
    let due = booking.and_then(|booking| booking.next);
    assert_eq!(due, Some(home.now + chrono::TimeDelta::minutes(15)));
    home.taps(Role::Aide, &Tap::Power(Power::Back { outage }).id(), &[]);
    assert!(
        home.state
            .booking(&On::Outage(outage), Call::Roll)
            .is_none()
    );
    assert!(home.state.outages.is_empty());
    for tag in ["LW-01", "LW-02"] {
        let steps = home.state.surfaces[tag]
            .steps
            .as_ref()
            .expect("a checklist");
        assert_eq!(steps.opening, Opening::Power);
        assert_eq!(steps.wanted, [Step::Plugged, Step::Setting, Step::Check]);
    }
    // In another unit nothing lost its power.
    assert!(home.state.surfaces["LW-03"].open_steps().is_none());
}

#[test]
fn what_kept_its_power_is_asked_nothing_and_an_empty_bed_for_no_air() {
    let mut home = in_use();
    let outage = opened(&mut home);
    home.taps(Role::Aide, &seen(outage, "LW-01", Roll::Powered), &[]);
    home.taps(Role::Aide, &seen(outage, "LW-02", Roll::Empty), &[]);
    home.taps(Role::Aide, &Tap::Power(Power::Back { outage }).id(), &[]);
    let left = |tag: &str| {
        let steps = home.state.surfaces[tag].open_steps();
        steps.map(|steps| steps.left().collect::<Vec<_>>())
    };
    assert_eq!(left("LW-01"), None);
    // It lost its setting as the others did.
    assert_eq!(left("LW-02"), Some(vec![Step::Plugged, Step::Setting]));
}

#[test]
fn a_time_away_asks_each_of_the_first_rungs_and_of_the_repeats_the_newest() {
    let mut home = Home::set_up();
    opened(&mut home);
    let rungs_at = |home: &mut Home| {
        let mut rungs = Vec::new();
        while let Some((_, decision)) = commands::tick(&home.state, home.now) {
            for entry in &decision.entries {
                if let Body::OutageAsked { rung, .. } = entry.body {
                    rungs.push(rung);
                }
            }
            home.take(None, &decision);
        }
        rungs
    };
    home.now += chrono::TimeDelta::minutes(47);
    // Nurses and supervisors were called when it began, so that nobody waits for their rungs: after 5 minutes it is said
    // whom to phone, and that is said now. The repeats of 10 to 45 minutes would only say the same again.
    assert_eq!(rungs_at(&mut home), [3]);
    home.now += chrono::TimeDelta::minutes(2);
    assert!(rungs_at(&mut home).is_empty());
    // 10, 15, 20, 25, 30, 35, 40, 45 and 50, of which 50 is the twelfth rung.
    home.now += chrono::TimeDelta::minutes(1);
    assert_eq!(rungs_at(&mut home), [12]);
}

#[test]
fn paper_is_recorded_as_paper_oldest_first_and_all_or_none() {
    let mut home = Home::set_up();
    home.passes(12 * 60);
    let refused = paper(&mut home, "101, 20 min ago, 1\n102, 20 min ago, wet");
    assert!(refused.entries.is_empty() && refused.posts.is_empty());
    assert!(answer_text(&refused).contains("102, 20 min ago, wet"));
    let taken = paper(
        &mut home,
        "101, 20 min ago, 1\n102 3 h ago 3/4\n101, 2 h ago, 3/4",
    );
    let facts: Vec<(Tag, bool, Judgement)> = taken
        .entries
        .iter()
        .filter_map(|entry| {
            let Body::HandChecked {
                tag,
                from_paper,
                judged,
                ..
            } = &entry.body
            else {
                return None;
            };
            Some((tag.clone(), *from_paper, *judged))
        })
        .collect();
    assert_eq!(
        facts,
        [
            ("LW-02".into(), true, Judgement::Low),
            ("LW-01".into(), true, Judgement::Low),
            ("LW-01".into(), true, Judgement::Adequate),
        ]
    );
    // The low one that was looked at again calls nobody; the other does.
    assert_eq!(taken.posts.len(), 1, "{:?}", taken.posts);
    home.take(Some(commands::ids::Person(1)), &taken);
    assert!(!home.state.rechecks.contains_key("LW-01"));
    assert!(home.state.rechecks.contains_key("LW-02"));
    // Sent twice, nothing more is recorded.
    let again = paper(&mut home, "101, 20 min ago, 1");
    assert!(again.entries.is_empty(), "{}", answer_text(&again));
}

#[test]
fn more_than_sixty_lines_come_back_whole() {
    let mut home = Home::set_up();
    let lines: Vec<String> = (0..61).map(|n| format!("101, {n} min ago, 1")).collect();
    let lines = lines.join("\n");
    let refused = paper(&mut home, &lines);
    assert!(refused.entries.is_empty());
    let message = common::answer_message(&refused).expect("a message");
    assert_eq!(message.files.first().map(|file| &file.text), Some(&lines));
}
