//! What counts minutes goes on as if the clock had not been set back: a home whose clock was does the same, at the same
//! moments after, as one whose clock was not.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use chrono::TimeDelta;
use commands::choice::Call;
use commands::clock_stepped;
use commands::record::Body;
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

/// How often somebody is called about a late turnover in the week from now on.
fn turnovers_called_in_a_week(home: &mut Home) -> usize {
    let start = home.log.len();
    home.passes(7 * 24 * 60);
    let calls = home.log[start..].iter().filter(|one| {
        matches!(
            one.body,
            Body::Called {
                call: Call::Turnover,
                ..
            }
        )
    });
    calls.count()
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
        turnovers_called_in_a_week(&mut home)
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
        turnovers_called_in_a_week(&mut home)
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

/// A correction reads the log, in which the reading by the clock that was ahead still lies ahead.
#[test]
fn a_reading_that_is_corrected_after_the_clock_was_put_right_is_the_newest() {
    for hours in [0, 1, 30 * 24] {
        let mut home = checked_by_a_clock_ahead(hours);
        home.now += TimeDelta::minutes(10);
        let entry = home.state.next_no().to_string();
        let good = [("surface", text("LW-01")), ("air", text("1 1/4"))];
        home.does(Role::Aide, "handcheck", &good);
        let none = [
            ("entry", text(&entry)),
            ("reason", text("typed wrong")),
            ("air", text("0")),
        ];
        let said = home.does(Role::Aide, "amend", &none);
        let alarms = home.state.alarms.len();
        assert_eq!(alarms, 1, "{hours} h ahead: {}", common::answer_text(&said));
        let checks = &home.state.surfaces["LW-01"].checks;
        assert!(checks.iter().all(|check| check.at <= home.now));
    }
}

/// What is entered by a clock that is right, or by one that is ahead by so many seconds; then that is put right.
fn entered(ahead: i64, entry: impl Fn(&mut Home)) -> Home {
    let mut home = Home::set_up();
    home.now += TimeDelta::seconds(ahead);
    entry(&mut home);
    home.now += TimeDelta::minutes(5);
    if ahead > 0 {
        stepped(&mut home, TimeDelta::seconds(-ahead));
    }
    home
}

/// Three seconds, an hour, a day that is not whole, a month.
const AHEAD: [i64; 4] = [3, 3_600, 23 * 3_600, 30 * 86_400];

/// What has to be there first.
fn before(home: &mut Home, path: &str) {
    if path == "clean" {
        let of = [("surface", text("LW-03")), ("reason", text("discharge"))];
        home.does(Role::Nurse, "release", &of);
    } else if path == "rental start" {
        let rented = [
            ("tag", text("LW-06")),
            ("profile", text("general")),
            ("owned", text("rented")),
            ("state", text("ready")),
            ("tested", text("2026-01-15")),
        ];
        home.does(Role::Supervisor, "fleet add", &rented);
    }
}

#[test]
fn a_button_knows_what_it_was_made_with_after_the_clock_was_set_back() {
    type Case = (
        &'static str,
        Role,
        &'static [(&'static str, &'static str)],
        &'static str,
    );
    let cases: [Case; 5] = [
        ("cpr", Role::Nurse, &[("surface", "LW-01")], "at|over"),
        (
            "static",
            Role::Nurse,
            &[("surface", "LW-01"), ("until", "30 min")],
            "at|alt",
        ),
        (
            "leave",
            Role::Nurse,
            &[("bed", "101"), ("until", "2 h"), ("why", "chair")],
            "at|back",
        ),
        (
            "clean",
            Role::Upkeep,
            &[
                ("surface", "LW-03"),
                ("reason", "between-residents"),
                ("method", "quaternary"),
                ("cover", "intact"),
            ],
            "turn|dried",
        ),
        (
            "rental start",
            Role::Supervisor,
            &[("surface", "LW-06"), ("rate", "38.50")],
            "house|well",
        ),
    ];
    for (path, role, options, verb) in cases {
        let options: Vec<_> = options
            .iter()
            .map(|(name, value)| (*name, text(value)))
            .collect();
        for ahead in [0].into_iter().chain(AHEAD) {
            // Begun by the clock that is ahead, and begun before it was.
            for early in [false, true] {
                let mut home = Home::set_up();
                if !early {
                    home.now += TimeDelta::seconds(ahead);
                }
                before(&mut home, path);
                let card = home.does(role, path, &options);
                let id = common::buttons(&card)
                    .into_iter()
                    .find(|id| id.starts_with(verb))
                    .unwrap_or_else(|| panic!("{path}: {:?}", common::buttons(&card)));
                home.now += TimeDelta::minutes(8);
                if early {
                    home.now += TimeDelta::seconds(ahead);
                }
                stepped(&mut home, TimeDelta::seconds(-ahead));
                let said = home.taps(role, &id, &[]);
                assert!(
                    !said.entries.is_empty(),
                    "{path}, {ahead} s: {}",
                    common::answer_text(&said)
                );
            }
        }
    }
}

/// The state that a start reads from its snapshot is the one that the log folds to.
#[test]
fn a_snapshot_after_the_clock_was_set_back_is_what_the_log_folds_to() {
    for ahead in AHEAD {
        let home = entered(ahead, |home| {
            let low = [("surface", text("LW-01")), ("air", text("1/2"))];
            home.does(Role::Aide, "handcheck", &low);
            let of = [("surface", text("LW-02")), ("reason", text("discharge"))];
            home.does(Role::Nurse, "release", &of);
            home.does(Role::Nurse, "duty", &[("unit", text("Birch"))]);
        });
        let mut folded = commands::state::State::default();
        for record in &home.log {
            folded.apply(record).unwrap();
        }
        assert_eq!(folded, home.state);
        let kept = serde_json::to_string(&home.state).unwrap();
        let read: commands::state::State = serde_json::from_str(&kept).unwrap();
        assert_eq!(read, home.state);
    }
}

/// By the clock of now it was in the shift before.
#[test]
fn a_check_in_the_shift_before_is_none_of_this_one_because_the_clock_was_ahead() {
    let due = |ahead: i64| {
        let mut home = Home::set_up();
        // A quarter of an hour before the next shift.
        home.now = commands::due::next_shift(&home.state, home.now) - TimeDelta::minutes(15);
        home.now += TimeDelta::seconds(ahead);
        let good = [("surface", text("LW-01")), ("air", text("1 1/4"))];
        home.does(Role::Aide, "handcheck", &good);
        home.now += TimeDelta::minutes(20);
        if ahead > 0 {
            stepped(&mut home, TimeDelta::seconds(-ahead));
        }
        commands::due::list(&home.state, None, home.now)
            .iter()
            .any(|item| item.tag.as_str() == "LW-01" && item.kind == commands::due::DueKind::Check)
    };
    assert!(due(0));
    for ahead in AHEAD {
        assert!(due(ahead), "{ahead} s ahead");
    }
}

/// Asked about in time, a little too early at most.
#[test]
fn a_leave_that_was_said_by_a_clock_ahead_ends_in_time() {
    for ahead in [0].into_iter().chain(AHEAD) {
        let mut home = entered(ahead, |home| {
            let away = [("bed", text("101")), ("until", text("2 h"))];
            home.does(Role::Nurse, "leave", &away);
        });
        let start = home.log.len();
        home.passes(2 * 60);
        let asked = home.log[start..].iter().any(|record| {
            let body = serde_json::to_string(&record.body).unwrap();
            record.body.kind() == "called" && body.contains("leave")
        });
        assert!(asked, "{ahead} s ahead");
        assert!(home.state.surfaces["LW-01"].away(home.now).is_none());
    }
}

/// It may be late and never early, and it is over some time.
#[test]
fn a_contact_time_that_began_by_a_clock_ahead_is_kept_and_ends() {
    for ahead in [0].into_iter().chain(AHEAD) {
        let mut home = entered(ahead, |home| {
            let product = [
                ("name", text("Q")),
                ("method", text("quaternary")),
                ("contact", text("10")),
                ("sporicidal", text("off")),
            ];
            home.does(Role::Supervisor, "facility product", &product);
            let of = [("surface", text("LW-03")), ("reason", text("discharge"))];
            home.does(Role::Nurse, "release", &of);
            let clean = [
                ("surface", text("LW-03")),
                ("reason", text("between-residents")),
                ("method", text("quaternary")),
                ("cover", text("intact")),
                ("product", text("Q")),
            ];
            home.does(Role::Upkeep, "clean", &clean);
        });
        let wet = |home: &Home| {
            let commands::state::Life::Soiled(turnover) = &home.state.surfaces["LW-03"].life else {
                panic!("it is in a turnover");
            };
            turnover.wet_until.unwrap()
        };
        let left = wet(&home) - home.now;
        assert!(left >= TimeDelta::minutes(5), "{ahead} s: {left}");
        assert!(left <= TimeDelta::minutes(10), "{ahead} s: {left}");
        home.passes(11);
        assert!(wet(&home) <= home.now);
    }
}

/// Who said that they have a unit has it once the clock is right, and no longer than their shift.
#[test]
fn whoever_took_a_unit_by_a_clock_ahead_has_it_until_the_shift_ends() {
    for ahead in [3, 3_600, 30 * 86_400] {
        let home = entered(ahead, |home| {
            home.does(Role::Nurse, "duty", &[("unit", text("Birch"))]);
        });
        let birch = commands::ids::Unit::from("Birch");
        let has = |at| !home.state.duty.now(Some(&birch), at).is_empty();
        assert!(has(home.now), "{ahead} s ahead");
        let over = commands::due::next_shift(&home.state, home.now) + TimeDelta::hours(1);
        assert!(!has(over), "{ahead} s ahead");
    }
}

/// Nothing that has happened lies ahead of the clock of now, in what would be taken back either.
#[test]
fn what_is_taken_back_after_the_clock_was_put_right_stands_as_it_did() {
    let booked = |ahead: i64| {
        let mut home = entered(ahead, |home| {
            let low = [("surface", text("LW-01")), ("air", text("1/2"))];
            home.does(Role::Aide, "handcheck", &low);
            home.now += TimeDelta::minutes(2);
            let good = [("surface", text("LW-01")), ("air", text("1 1/4"))];
            home.does(Role::Aide, "handcheck", &good);
        });
        let first = home.state.surfaces["LW-01"].before.as_ref().unwrap().first;
        let back = commands::tap::Tap::TakeBack {
            first,
            tag: "LW-01".into(),
            then: commands::tap::Then::Beside,
        };
        let said = home.taps(Role::Aide, &back.id(), &[]);
        let recheck = home.state.rechecks.get("LW-01");
        let due = recheck.map(|recheck| recheck.due - home.now);
        (due, common::answer_text(&said).to_owned())
    };
    let right = booked(0);
    assert!(right.0.is_some(), "{}", right.1);
    for ahead in AHEAD {
        assert_eq!(booked(ahead).0, right.0, "{ahead} s ahead");
    }
}
