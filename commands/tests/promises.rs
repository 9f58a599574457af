//! What became of an alarm that somebody took: whoever takes one promises that the resident is safe and that it is fixed, each
//! within the home's policy. Time is walked through every way in which that can go by the board: nobody must wait longer than
//! the promise, whoever took it, whatever was said of it, whether they are still here or not. And how an alarm goes on of a
//! surface that is under nobody.

mod common;

use chrono::TimeDelta;
use commands::choice::Cause;
use commands::ids::{AlarmNo, ChatRole, Person};
use commands::record::{AlarmEnd, Body, Overrun};
use commands::role::Role;
use commands::rules::hand_check::{Air, Why};
use commands::tap::{Astray, Tap};
use commands::{Decision, Said};
use common::{Home, answer_message, answer_text, buttons, command, text};

const AIDE: ChatRole = ChatRole(101);
const NURSE: ChatRole = ChatRole(102);
const SUPERVISOR: ChatRole = ChatRole(103);
/// Two aides.
const ANA: Person = Person(1);
const BEN: Person = Person(2);

/// An alarm of a surface that somebody lies on, raised by Ana, and its number.
fn alarming(tag: &str) -> (Home, AlarmNo) {
    let mut home = Home::set_up();
    let said = command("alarm", &[("surface", text(tag))]);
    let raised = home.ask_by(ANA, &[AIDE.0], &said);
    home.take(Some(ANA), &raised);
    let no = home.state.surfaces[tag].alarm.expect("an alarm");
    (home, no)
}

fn taps(home: &mut Home, who: Person, role: u64, tap: &Tap) -> Decision {
    let said = Said::Tap {
        id: tap.id(),
        chosen: Vec::new(),
    };
    let decision = home.ask_by(who, &[role], &said);
    home.take(Some(who), &decision);
    decision
}

/// At which minute from now each call came about an alarm, and why where a promise was not kept.
fn walk(home: &mut Home, minutes: i64) -> Vec<(i64, Option<Overrun>, Vec<ChatRole>)> {
    let mut calls = Vec::new();
    for minute in 1..=minutes {
        for decision in home.passes(1) {
            let overrun = decision.entries.iter().find_map(|entry| {
                if let Body::LadderRestarted { why, .. } = &entry.body {
                    Some(*why)
                } else {
                    None
                }
            });
            let rung = decision
                .entries
                .iter()
                .any(|entry| matches!(entry.body, Body::AlarmAsked { .. }));
            if overrun.is_some() || rung {
                let called = decision
                    .posts
                    .iter()
                    .flat_map(|post| &post.message.ping_roles);
                calls.push((minute, overrun, called.copied().collect()));
            }
        }
    }
    calls
}

fn minutes_of(calls: &[(i64, Option<Overrun>, Vec<ChatRole>)]) -> Vec<i64> {
    calls.iter().map(|(minute, _, _)| *minute).collect()
}

#[test]
fn taken_and_nothing_said_calls_again_and_climbs_to_the_top() {
    let (mut home, no) = alarming("LW-01");
    taps(&mut home, BEN, AIDE.0, &Tap::Take { alarm: no });
    let calls = walk(&mut home, 40);
    assert_eq!(calls[0].0, 10, "safe within 10 minutes: {calls:?}");
    assert_eq!(calls[0].1, Some(Overrun::NotSafe));
    assert_eq!(minutes_of(&calls)[..4], [10, 15, 20, 25], "{calls:?}");
    assert!(
        calls
            .iter()
            .any(|(_, _, called)| called.contains(&SUPERVISOR)),
        "{calls:?}"
    );
    // And it does not stop while nobody takes it.
    assert_eq!(minutes_of(&calls).last(), Some(&40), "{calls:?}");
}

#[test]
fn safe_and_not_fixed_calls_again_when_the_fix_is_due() {
    let (mut home, no) = alarming("LW-01");
    taps(&mut home, BEN, AIDE.0, &Tap::Take { alarm: no });
    assert_eq!(minutes_of(&walk(&mut home, 4)), Vec::<i64>::new());
    taps(&mut home, BEN, AIDE.0, &Tap::Safe { alarm: no });
    let calls = walk(&mut home, 30);
    assert_eq!(calls[0].0, 26, "30 minutes after it was taken: {calls:?}");
    assert_eq!(calls[0].1, Some(Overrun::NotFixed));
}

#[test]
fn of_two_promises_that_end_at_once_it_is_said_that_nobody_is_known_to_be_safe() {
    for (safe, fixed, at, why) in [
        ("20", "20", 20, Overrun::NotSafe),
        ("21", "20", 20, Overrun::NotFixed),
        ("20", "21", 20, Overrun::NotSafe),
    ] {
        let (mut home, no) = alarming("LW-01");
        for (name, minutes) in [("safe-within", safe), ("fix-within", fixed)] {
            let options = [("name", text(name)), ("value", text(minutes))];
            home.does(Role::Supervisor, "facility policy", &options);
        }
        taps(&mut home, BEN, AIDE.0, &Tap::Take { alarm: no });
        let calls = walk(&mut home, 22);
        assert_eq!(
            (calls[0].0, calls[0].1),
            (at, Some(why)),
            "{safe} and {fixed}"
        );
    }
}

#[test]
fn taken_by_another_counts_from_that_and_no_earlier() {
    let (mut home, no) = alarming("LW-01");
    taps(&mut home, ANA, AIDE.0, &Tap::Take { alarm: no });
    walk(&mut home, 12);
    assert_eq!(home.state.alarms[&no].taken, None);
    taps(&mut home, BEN, AIDE.0, &Tap::Take { alarm: no });
    let calls = walk(&mut home, 10);
    assert_eq!(minutes_of(&calls), [10], "{calls:?}");
    assert_eq!(calls[0].1, Some(Overrun::NotSafe));
    // Given up, the next are asked at once, and the ladder goes on by itself.
    taps(&mut home, ANA, AIDE.0, &Tap::Take { alarm: no });
    let given_up = taps(&mut home, ANA, AIDE.0, &Tap::CannotGo { alarm: no });
    let rung = |body: &Body| matches!(body, Body::AlarmAsked { .. });
    assert!(given_up.entries.iter().any(|entry| rung(&entry.body)));
    // The one called early brings those after it nearer: each comes as long after the one before as the ladder says.
    assert_eq!(minutes_of(&walk(&mut home, 15)), [5, 10, 15]);
}

#[test]
fn whoever_took_it_and_is_off_duty_by_then_is_not_the_one_who_is_called() {
    let (mut home, no) = alarming("LW-01");
    for (who, until) in [(BEN, "20 min"), (ANA, "4 h")] {
        let said = command("duty", &[("unit", text("Elm")), ("until", text(until))]);
        let duty = home.ask_by(who, &[AIDE.0], &said);
        home.take(Some(who), &duty);
    }
    taps(&mut home, BEN, AIDE.0, &Tap::Take { alarm: no });
    taps(&mut home, BEN, AIDE.0, &Tap::Safe { alarm: no });
    // Ben goes home after 20 minutes; what he promised ends after 30.
    let mut called = Vec::new();
    for _ in 0..30 {
        for decision in home.passes(1) {
            let posts = decision.posts.iter();
            called.extend(posts.flat_map(|post| post.message.ping_people.clone()));
        }
    }
    assert!(called.contains(&ANA), "{called:?}");
    assert!(!called.contains(&BEN), "{called:?}");
    let next = walk(&mut home, 6);
    assert!(!next.is_empty(), "and the ladder goes on");
}

#[test]
fn a_cause_without_a_check_keeps_the_promise_open() {
    let (mut home, no) = alarming("LW-01");
    taps(&mut home, BEN, AIDE.0, &Tap::Safe { alarm: no });
    let cause = Cause::Hose;
    let air = Air::CouldNot(Why::Asleep);
    let tap = Tap::FixedAir {
        alarm: no,
        cause,
        air,
    };
    taps(&mut home, BEN, AIDE.0, &tap);
    assert_eq!(home.state.alarms[&no].cause, Some(cause));
    let calls = walk(&mut home, 30);
    assert_eq!(calls[0].0, 30, "{calls:?}");
    assert_eq!(calls[0].1, Some(Overrun::NotFixed));
}

#[test]
fn out_of_service_under_somebody_calls_again_until_it_is_swapped() {
    let (mut home, no) = alarming("LW-01");
    taps(&mut home, BEN, AIDE.0, &Tap::Safe { alarm: no });
    taps(&mut home, BEN, AIDE.0, &Tap::Pull { alarm: no });
    let calls = walk(&mut home, 36);
    assert_eq!(minutes_of(&calls)[..2], [30, 35], "{calls:?}");
}

#[test]
fn safe_of_what_is_out_of_service_leads_to_another_surface_and_to_no_fix() {
    let (mut home, no) = alarming("LW-01");
    taps(&mut home, BEN, AIDE.0, &Tap::Pull { alarm: no });
    let nurse = Person(3);
    let said = taps(&mut home, nurse, NURSE.0, &Tap::Safe { alarm: no });
    let fixed = Tap::Fixed { alarm: no }.id();
    assert!(!buttons(&said).contains(&fixed));
    assert!(answer_text(&said).contains("swap it"));
    let menus = answer_message(&said).into_iter().flat_map(|m| &m.rows);
    let swap = menus
        .filter(|row| matches!(row, commands::message::Row::Menu(_)))
        .count();
    assert_eq!(swap, 1, "a nurse chooses the other one here");
}

/// LW-04 stands ready: the first call is as any, then those who can look are called, seldom and without an end.
#[test]
fn an_alarm_of_what_is_under_nobody_says_so_and_goes_on_quietly() {
    let (mut home, no) = alarming("LW-04");
    let calls = walk(&mut home, 200);
    assert_eq!(minutes_of(&calls), [5, 35, 65, 95, 125, 155, 185]);
    for (_, _, called) in &calls {
        assert!(!called.contains(&SUPERVISOR), "{calls:?}");
        assert!(called.contains(&NURSE), "{calls:?}");
    }
    // Somebody had moved it, and says so: from then on it is as any.
    home.does(
        Role::Nurse,
        "place",
        &[("surface", text("LW-04")), ("bed", text("103"))],
    );
    assert!(home.state.alarms.contains_key(&no));
    let calls = walk(&mut home, 11);
    assert!(calls.len() >= 2, "{calls:?}");
    assert!(
        calls
            .iter()
            .any(|(_, _, called)| called.contains(&SUPERVISOR)),
        "{calls:?}"
    );
}

#[test]
fn taken_of_what_is_under_nobody_waits_for_the_fix_alone() {
    let (mut home, no) = alarming("LW-04");
    taps(&mut home, BEN, AIDE.0, &Tap::Take { alarm: no });
    let calls = walk(&mut home, 31);
    assert_eq!(minutes_of(&calls), [30], "{calls:?}");
}

#[test]
fn a_wrong_tag_moves_the_alarm() {
    let (mut home, no) = alarming("LW-04");
    let which = taps(
        &mut home,
        BEN,
        AIDE.0,
        &Tap::Astray(Astray::Which { alarm: no }),
    );
    assert!(which.entries.is_empty(), "asking records nothing");
    let tag = "LW-01".into();
    let said = Said::Tap {
        id: Tap::Astray(Astray::Is { alarm: no, tag }).id(),
        chosen: vec!["LW-01".to_owned()],
    };
    let moved = home.ask_by(BEN, &[AIDE.0], &said);
    home.take(Some(BEN), &moved);
    let ended = home.state.surfaces["LW-04"].last_alarm.as_ref();
    assert_eq!(ended.map(|ended| ended.end), Some(AlarmEnd::WrongTag));
    let there = home.state.surfaces["LW-01"].alarm.expect("the alarm");
    assert!(home.state.alarms.contains_key(&there));
    let calls = walk(&mut home, 10);
    assert_eq!(minutes_of(&calls), [5, 10], "{calls:?}");
    // The same tap again: that alarm is over.
    let again = home.ask_by(BEN, &[AIDE.0], &said);
    assert!(again.entries.is_empty());
}

/// "Found it unplugged, plugged it back in", with no alarm open.
#[test]
fn a_loss_of_power_that_was_found_wants_a_check_or_calls() {
    for checked in [true, false] {
        let mut home = Home::set_up();
        let said = Said::Mention {
            text: "101 found it unplugged, plugged it back in".to_owned(),
            files: false,
        };
        let echo = home.ask_by(BEN, &[AIDE.0], &said);
        assert!(
            echo.entries.is_empty(),
            "nothing is recorded before the tap"
        );
        let hour = buttons(&echo)[1].clone();
        let said = Said::Tap {
            id: hour,
            chosen: Vec::new(),
        };
        let found = home.ask_by(BEN, &[AIDE.0], &said);
        let rings = found
            .posts
            .iter()
            .any(|post| !post.message.ping_roles.is_empty());
        assert!(!rings, "somebody is there");
        home.take(Some(BEN), &found);
        let no = home.state.surfaces["LW-01"].alarm.expect("an alarm");
        let alarm = &home.state.alarms[&no];
        let since = alarm.found.and_then(|found| found.since);
        assert_eq!(since, Some(home.now - TimeDelta::minutes(60)));
        assert_eq!(alarm.cause, Some(Cause::Unplugged));
        if checked {
            let cause = Cause::Unplugged;
            let air = Air::Measured(commands::rules::air::Tenths(318));
            let tap = Tap::FixedAir {
                alarm: no,
                cause,
                air,
            };
            assert!(
                buttons(&found).contains(&tap.id()),
                "the check is asked at once"
            );
            taps(&mut home, BEN, AIDE.0, &tap);
            assert_eq!(home.state.surfaces["LW-01"].alarm, None);
            assert!(home.state.surfaces["LW-01"].open_steps().is_some());
        } else {
            let calls = walk(&mut home, 10);
            assert_eq!(minutes_of(&calls), [10], "{calls:?}");
        }
    }
}
