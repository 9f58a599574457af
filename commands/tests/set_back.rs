//! What counts minutes goes on as if the clock had not been set back: a home whose clock was does the same, at the same
//! moments after, as one whose clock was not.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use chrono::TimeDelta;
use commands::clock_stepped;
use common::Home;

/// How long the home is watched, in minutes.
const WATCHED: i64 = 6 * 60;

/// What comes of itself: how many seconds after the start, and the kind of the record.
fn comes(mut home: Home) -> Vec<(i64, &'static str)> {
    let (start, before) = (home.now, home.log.len());
    home.passes(WATCHED);
    home.log[before..]
        .iter()
        .map(|record| ((record.at - start).num_seconds(), record.body.kind()))
        .collect()
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
            let step = TimeDelta::seconds(-back);
            let (_, told) = clock_stepped(&home.state, step, home.now).unwrap();
            home.now += step;
            home.take(None, &told);
            assert_eq!(comes(home), expected, "{back} s back after {case:?}");
        }
    }
}
