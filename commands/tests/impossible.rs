//! Records that no log can hold, because they say what cannot follow from those before: each is refused with its own
//! sentence. Such a one is in a file that was altered, or that two programs wrote.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use commands::State;
use commands::ids::{RecordNo, Tag};
use commands::record::Body;
use common::Home;

/// Why it cannot follow.
fn refused(home: &Home, body: &str) -> String {
    let mut state = home.state.clone();
    let before = state.next_no();
    let fault = state
        .apply(&home.record(body))
        .expect_err(&format!("taken: {body}"));
    assert_eq!((fault.no, state.next_no()), (before, before), "{body}");
    fault.why
}

/// Two units; LW-01 under 101 and LW-02 under 102, LW-04 ready, LW-05 soiled.
#[test]
fn what_cannot_follow_is_refused() {
    let home = Home::set_up();
    let last = home.state.next_no().0 - 1;
    let (this, next) = (last + 1, last + 2);
    let placed = |home: &Home, tag: &str| {
        home.log
            .iter()
            .find(|record| {
                matches!(record.body, Body::Placed { .. })
                    && record.body.surface().map(Tag::as_str) == Some(tag)
            })
            .map(|record| record.no.0)
    };
    let placed = placed(&home, "LW-01").unwrap();
    let cases = [
        (
            r#"{"k":"repaired","tag":"LW-77"}"#.to_owned(),
            "no surface LW-77 is in the register",
        ),
        (
            r#"{"k":"surface-added","tag":"LW-01","profile":"general","owned":"owned","start":"ready"}"#.to_owned(),
            "LW-01 is in the register already",
        ),
        (
            r#"{"k":"placed","tag":"LW-04","bed":"101"}"#.to_owned(),
            "under 101, where LW-01 is",
        ),
        (
            r#"{"k":"moved","tag":"LW-01","to":"102","bed":"102"}"#.to_owned(),
            "under 102, where LW-02 is",
        ),
        (
            r#"{"k":"moved","tag":"LW-04","to":"103","bed":"103"}"#.to_owned(),
            "LW-04, which is under no bed",
        ),
        (
            r#"{"k":"returned","tag":"LW-05"}"#.to_owned(),
            "LW-05, which is not out of service",
        ),
        (
            r#"{"k":"surface-brought-back","tag":"LW-05"}"#.to_owned(),
            "LW-05, which is not retired",
        ),
        (
            format!(r#"{{"k":"taken-back","tag":"LW-01","first":{}}}"#, placed - 1),
            "which is not its newest",
        ),
        (
            format!(r#"{{"k":"annotated","tag":"LW-01","entry":{this}}}"#),
            "which is no earlier one",
        ),
        (
            format!(r#"{{"k":"annotated","tag":"LW-01","entry":{next}}}"#),
            "which is no earlier one",
        ),
        (
            r#"{"k":"annotated","tag":"LW-01","entry":0}"#.to_owned(),
            "which is no earlier one",
        ),
        (
            format!(r#"{{"k":"countersigned","tag":"LW-01","entry":{next},"seen":1}}"#),
            "which is no earlier one",
        ),
        (
            format!(r#"{{"k":"alarm-taken","alarm":{last}}}"#),
            "which is not open",
        ),
        (
            format!(r#"{{"k":"outage-taken","outage":{last}}}"#),
            "which is over",
        ),
        (
            r#"{"k":"collected","tag":"LW-01"}"#.to_owned(),
            "LW-01, which is not rented",
        ),
        (
            format!(r#"{{"k":"recall-joined","tag":"LW-01","recall":{last}}}"#),
            "which is not there",
        ),
        (
            format!(r#"{{"k":"handover-accepted","handover":{last}}}"#),
            "which is past",
        ),
        (
            r#"{"k":"let-in-ended","person":1003}"#.to_owned(),
            "who was never let in",
        ),
        (
            r#"{"k":"sign-off-ended","person":1003,"task":"hand-check","profile":"general"}"#.to_owned(),
            "a sign-off that 1003 does not have",
        ),
        (
            r#"{"k":"slot-fired","name":"nightly","slot":"2026-03-02T09:00:00","missed":0}"#.to_owned(),
            "nightly, which is not set",
        ),
        (
            r#"{"k":"schedule-set","name":"weekend","what":"due-list","unit":null,"when":"whenever","from":"2026-03-02T07:10:00"}"#.to_owned(),
            "whenever, which cannot be read",
        ),
        (
            r#"{"k":"facility-set","zone":"Nowhere/Town","care_channel":201,"supervisor_channel":202,"roles":{}}"#.to_owned(),
            "Nowhere/Town, which the zone data lack",
        ),
    ];
    for (body, why) in &cases {
        let said = refused(&home, body);
        assert!(said.contains(why), "{body}: {said}");
    }
    // What a log begins with is its set-up.
    let empty = Home::empty();
    let said = refused(
        &empty,
        r#"{"k":"schedule-set","name":"weekend","what":"due-list","unit":null,"when":"daily 07:00","from":"2026-03-02T07:10:00"}"#,
    );
    assert!(said.contains("before the set-up"), "{said}");
}

/// A second alarm of a surface and a second outage of a unit cannot be opened.
#[test]
fn what_is_open_is_not_opened_again() {
    let mut home = Home::set_up();
    let alarm = r#"{"k":"alarm-opened","tag":"LW-01","kind":"unknown","priority":"medium"}"#;
    home.fact(alarm);
    let why = refused(&home, alarm);
    assert!(why.contains("for LW-01, whose alarm"), "{why}");
    let outage = r#"{"k":"outage-opened","unit":"Elm","order":["LW-01","LW-02"]}"#;
    home.fact(outage);
    let why = refused(&home, outage);
    assert!(why.contains("in Elm, where"), "{why}");
}

/// Numbers have no holes and no doubles.
#[test]
fn a_number_is_the_next_one() {
    let home = Home::set_up();
    let next = home.state.next_no().0;
    for no in [0, next - 1, next + 1] {
        let mut record = home.record(r#"{"k":"annotated","tag":"LW-01","entry":1}"#);
        record.no = RecordNo(no);
        let mut state: State = home.state.clone();
        let fault = state.apply(&record).unwrap_err();
        assert_eq!(fault.why, format!("it is not number {next}"));
    }
}

/// What is not taken back any more was once, in a log from before: it still follows, and a recall may name a surface
/// that nobody has heard of.
#[test]
fn what_was_taken_back_before_there_was_a_rule_against_it_still_follows() {
    let mut home = Home::set_up();
    home.fact(r#"{"k":"held","tag":"LW-01"}"#);
    home.fact(r#"{"k":"held","tag":"LW-02"}"#);
    let later = [
        ("LW-01", r#"{"k":"hold-reported","tag":"LW-01"}"#),
        (
            "LW-02",
            r#"{"k":"held","tag":"LW-02","known":"2026-02-26"}"#,
        ),
        (
            "LW-03",
            r#"{"k":"recall-opened","profile":"general","lot":null,"tags":["LW-03","LW-77"]}"#,
        ),
    ];
    for (tag, settles) in later {
        let first = home.state.next_no();
        home.fact(&format!(
            r#"{{"air":{{"m":286}},"band":{{"high":381,"low":254}},"judged":"adequate","k":"hand-checked","tag":"{tag}"}}"#
        ));
        home.fact(settles);
        let before = home.state.surfaces[&Tag::from(tag)].before.clone();
        assert!(before.is_some_and(|before| before.settled), "{settles}");
        home.fact(&format!(
            r#"{{"k":"taken-back","tag":"{tag}","first":{first}}}"#
        ));
    }
}
