//! What counts minutes goes on as if the clock had not been set back: a home whose clock was does the same, at the same
//! moments after, as one whose clock was not.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use chrono::TimeDelta;
use commands::clock_stepped;
use commands::role::Role;
use common::{Home, text};

/// How long the home is watched, in minutes.
const WATCHED: i64 = 6 * 60;

/// What comes of itself and does not go by the clock on the wall: how many seconds after the start, and the kind of the record.
fn comes(mut home: Home) -> Vec<(i64, &'static str)> {
    let (start, before) = (home.now, home.log.len());
    home.passes(WATCHED);
    home.log[before..]
        .iter()
        .map(|record| ((record.at - start).num_seconds(), record.body.kind()))
        .filter(|(_, kind)| !["slot-fired", "handover-made", "rounds-looked"].contains(kind))
        .collect()
}

/// The clock is stepped, and it is on record by the clock of now.
fn stepped(home: &mut Home, step: TimeDelta) {
    home.now += step;
    let (_, told) = clock_stepped(&home.state, step, home.now).unwrap();
    home.take(None, &told);
}

/// A home in which this was entered, and so many minutes went by after each.
fn with(entered: &[(&str, i64)]) -> Home {
    let mut home = Home::set_up();
    for (body, minutes) in entered {
        home.fact(body);
        home.passes(*minutes);
    }
    home
}

#[test]
fn a_home_goes_on_as_if_the_clock_had_not_been_set_back() {
    let alarm = r#"{"k":"alarm-opened","tag":"LW-01","kind":"low-pressure","priority":"medium"}"#;
    let outage = r#"{"k":"outage-opened","unit":"Elm","order":["LW-01","LW-02"]}"#;
    let no = Home::set_up().state.next_no();
    let said = |body: &str| body.replace("NO", &no.to_string());
    let taken = said(r#"{"k":"alarm-taken","alarm":NO}"#);
    let outage_taken = said(r#"{"k":"outage-taken","outage":NO}"#);
    let low = r#"{"air":{"m":127},"band":{"high":381,"low":254},"judged":"low","k":"hand-checked","tag":"LW-01"}"#;
    let booked = |call: &str| {
        format!(
            r#"{{"k":"booked","call":"{call}","due":"2026-03-02T13:30:00Z","on":{{"surface":"LW-01"}}}}"#
        )
    };
    let mut cases = vec![
        vec![(alarm, 0)],
        vec![(alarm, 7)],
        vec![(alarm, 1), (taken.as_str(), 3)],
        vec![(alarm, 1), (taken.as_str(), 40)],
        vec![(outage, 0)],
        vec![(outage, 9)],
        vec![(outage, 1), (outage_taken.as_str(), 3)],
        vec![(outage, 1), (outage_taken.as_str(), 50)],
        vec![(low, 1)],
        vec![(low, 45)],
        vec![(r#"{"k":"cpr-opened","tag":"LW-01"}"#, 2)],
    ];
    let calls = ["full", "plug", "steps", "static", "cpr"].map(booked);
    for call in &calls {
        cases.push(vec![(call, 3)]);
        cases.push(vec![(call, 35)]);
    }
    for case in &cases {
        let expected = comes(with(case));
        assert!(!expected.is_empty(), "nothing comes of {case:?}");
        for back in [61, 600, 3 * 3_600] {
            let mut home = with(case);
            stepped(&mut home, TimeDelta::seconds(-back));
            assert_eq!(comes(home), expected, "{back} s back after {case:?}");
        }
    }
}

/// The clock was ahead by so long, an aide entered a good reading, and the clock was put right.
fn checked_by_a_clock_ahead(hours: i64) -> Home {
    let mut home = Home::set_up();
    home.now += TimeDelta::hours(hours);
    let good = [("surface", text("LW-01")), ("air", text("1 1/4"))];
    home.does(Role::Aide, "handcheck", &good);
    home.now += TimeDelta::minutes(5);
    if hours > 0 {
        stepped(&mut home, -TimeDelta::hours(hours));
    }
    home
}

/// A low reading after the clock was put right is called for again, like any other.
#[test]
fn a_low_reading_after_the_clock_was_put_right_is_looked_at_again() {
    low_after("1/2");
}

#[test]
fn no_air_left_after_the_clock_was_put_right_opens_an_alarm() {
    low_after("0");
}

fn low_after(air: &str) {
    let seen = |hours: i64| {
        let mut home = checked_by_a_clock_ahead(hours);
        home.now += TimeDelta::minutes(10);
        let low = [("surface", text("LW-01")), ("air", text(air))];
        let said = home.does(Role::Aide, "handcheck", &low);
        let booked = home.state.rechecks.len();
        let alarms = home.state.alarms.len();
        // The set-up of other beds was begun before the clock went ahead, and is called for early.
        let came = comes(home);
        let came: Vec<_> = came
            .into_iter()
            .filter(|(_, kind)| ["recheck-asked", "alarm-asked"].contains(kind))
            .collect();
        (booked, alarms, came, common::answer_text(&said).to_owned())
    };
    let right = seen(0);
    for hours in [1, 3, 30 * 24] {
        let ahead = seen(hours);
        assert_eq!(
            (ahead.0, ahead.1, &ahead.2),
            (right.0, right.1, &right.2),
            "{hours} h ahead:\n{}\n---\n{}",
            ahead.3,
            right.3
        );
    }
}

/// A good reading by a clock that was ahead does not keep its bed off the lists until that time.
#[test]
fn a_check_by_a_clock_ahead_silences_no_later_check() {
    let due = |hours: i64| {
        let mut home = checked_by_a_clock_ahead(hours);
        (0..6)
            .map(|_| {
                home.passes(12 * 60);
                commands::due::list(&home.state, None, home.now)
                    .iter()
                    .filter(|item| item.tag.as_str() == "LW-01")
                    .map(|item| format!("{:?}", item.kind))
                    .collect::<Vec<_>>()
            })
            .collect::<Vec<_>>()
    };
    let right = due(0);
    assert_eq!(due(30 * 24), right);
}

/// A surface that was released while the clock was a month ahead is called for when its turnover is late.
#[test]
fn a_turnover_begun_by_a_clock_ahead_is_called_for() {
    let calls = |hours: i64| {
        let mut home = Home::set_up();
        home.now += TimeDelta::hours(hours);
        let of = [("surface", text("LW-01")), ("reason", text("discharge"))];
        home.does(Role::Nurse, "release", &of);
        home.now += TimeDelta::minutes(5);
        if hours > 0 {
            stepped(&mut home, -TimeDelta::hours(hours));
        }
        let start = home.log.len();
        home.passes(7 * 24 * 60);
        home.log[start..]
            .iter()
            .filter(|one| {
                one.body.kind() == "called"
                    && serde_json::to_string(&one.body)
                        .unwrap()
                        .contains("turnover")
            })
            .count()
    };
    let right = calls(0);
    assert!(right > 0);
    assert_eq!(calls(30 * 24), right);
}

/// A turnover that was begun before the clock went ahead is called for in the days after it was put right.
#[test]
fn a_turnover_that_was_called_for_by_a_clock_ahead_is_called_for_again() {
    let calls = |hours: i64| {
        let mut home = Home::set_up();
        let of = [("surface", text("LW-01")), ("reason", text("discharge"))];
        home.does(Role::Nurse, "release", &of);
        if hours > 0 {
            let there = TimeDelta::hours(hours);
            stepped(&mut home, there);
            while let Some((_, decision)) = commands::tick(&home.state, home.now) {
                home.take(None, &decision);
            }
            stepped(&mut home, -there);
        }
        let start = home.log.len();
        home.passes(7 * 24 * 60);
        home.log[start..]
            .iter()
            .filter(|one| {
                one.body.kind() == "called"
                    && serde_json::to_string(&one.body)
                        .unwrap()
                        .contains("turnover")
            })
            .count()
    };
    let right = calls(0);
    assert!(right > 0);
    assert!(
        calls(30 * 24) > 0,
        "no call in a week, where there should be {right}"
    );
}

/// A surface that was placed by a clock that was ahead can be checked once the clock is right; as can one whose CPR valve was
/// opened then be raised an alarm for.
#[test]
fn a_surface_placed_by_a_clock_ahead_takes_readings() {
    for hours in [0, 1, 30 * 24] {
        let mut home = Home::set_up();
        home.now += TimeDelta::hours(hours);
        let of = [("surface", text("LW-04")), ("bed", text("104"))];
        home.does(Role::Nurse, "place", &of);
        home.now += TimeDelta::minutes(5);
        if hours > 0 {
            stepped(&mut home, -TimeDelta::hours(hours));
        }
        home.now += TimeDelta::minutes(10);
        let bottomed = [("surface", text("LW-04")), ("air", text("0"))];
        let said = home.ask(Role::Aide, &common::command("handcheck", &bottomed));
        assert!(
            !said.entries.is_empty(),
            "{hours} h ahead, no air under the person: {}",
            common::answer_text(&said)
        );
    }
}

/// A CPR valve was opened, the clock is set back by a little, and whoever opened it taps that it is over.
#[test]
fn that_cpr_is_over_is_taken_after_the_clock_was_set_back() {
    for back in [0, 3, 3_600] {
        let mut home = Home::set_up();
        let opened = home.does(Role::Nurse, "cpr", &[("surface", text("LW-01"))]);
        let over = common::buttons(&opened)[0].clone();
        home.now += TimeDelta::minutes(8);
        if back > 0 {
            stepped(&mut home, -TimeDelta::seconds(back));
        }
        let said = home.taps(Role::Nurse, &over, &[]);
        let open = home.state.surfaces.get("LW-01").unwrap().cpr.is_some();
        assert!(!open, "{back} s back: {}", common::answer_text(&said));
    }
}
