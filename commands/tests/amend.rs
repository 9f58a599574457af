//! What a correction brings about: who may, what is judged anew, whom it calls, and that what it says of one entry is
//! right while another correction waits in the same commit.

mod common;

use commands::decision::{Decision, PostKind};
use commands::ids::{RecordNo, Tag};
use commands::record::{Body, Rebook};
use commands::role::Role;
use commands::rules::hand_check::Judgement;
use commands::rules::priority::AlarmKind;
use commands::said::Value;
use commands::state::Life;
use commands::tap::{Entry, Line, Tap};
use commands::{Past, Wanted};
use common::{Home, answer_message, answer_text, command, text};

fn check(home: &mut Home, tag: &str, air: &str) -> RecordNo {
    let no = home.state.next_no();
    let options = [("surface", text(tag)), ("air", text(air))];
    home.does(Role::Aide, "handcheck", &options);
    no
}

fn options(no: RecordNo, more: &[(&'static str, &str)]) -> Vec<(&'static str, Value)> {
    let mut options = vec![
        ("entry", text(&no.to_string())),
        ("reason", text("slip of the thumb")),
    ];
    options.extend(more.iter().map(|(name, value)| (*name, text(value))));
    options
}

fn amend(home: &mut Home, role: Role, no: RecordNo, more: &[(&'static str, &str)]) -> Decision {
    home.does(role, "amend", &options(no, more))
}

fn refused(home: &mut Home, role: Role, no: RecordNo, more: &[(&'static str, &str)]) -> String {
    let decision = home.ask(role, &command("amend", &options(no, more)));
    assert!(decision.entries.is_empty() && decision.posts.is_empty());
    answer_text(&decision).to_owned()
}

fn calls(decision: &Decision) -> Vec<&str> {
    let new = decision
        .posts
        .iter()
        .filter(|post| post.kind == PostKind::New);
    new.map(|post| post.key.as_str()).collect()
}

fn newest(home: &Home, tag: &str) -> (Judgement, Option<RecordNo>) {
    let check = home.state.surfaces[tag].check_here().expect("a check");
    (check.judged, check.told)
}

#[test]
fn from_adequate_to_low_calls_and_books_and_back_calls_off() {
    let mut home = Home::set_up();
    let no = check(&mut home, "LW-01", "1 1/4");
    let low = amend(&mut home, Role::Aide, no, &[("air", "3/4")]);
    // The call itself stands behind it.
    let amended = home
        .log
        .iter()
        .rfind(|record| record.body.kind() == "amended");
    let amended = amended.expect("the correction").no;
    assert_eq!(calls(&low), [format!("low:{amended}")]);
    assert_eq!(newest(&home, "LW-01"), (Judgement::Low, Some(amended)));
    let due = home.state.rechecks[&Tag::from("LW-01")].due;
    assert_eq!((due - home.now).num_minutes(), 15);
    let back = amend(&mut home, Role::Aide, no, &[("air", "1 1/4")]);
    assert!(home.state.rechecks.is_empty());
    let edited: Vec<&PostKind> = back.posts.iter().map(|post| &post.kind).collect();
    let of = format!("low:{amended}");
    assert_eq!(edited, [&PostKind::Edit { of }], "the call is called off");
    // And low once more: another call, for the first one's message says by now that it is over.
    let again = amend(&mut home, Role::Aide, no, &[("air", "3/4")]);
    assert_eq!(calls(&again).len(), 1);
    assert_ne!(calls(&again), calls(&low));
}

#[test]
fn to_the_right_surface_with_what_follows_there() {
    let mut home = Home::set_up();
    let no = check(&mut home, "LW-01", "3/4");
    let moved = amend(&mut home, Role::Aide, no, &[("surface", "LW-02")]);
    assert!(home.state.surfaces["LW-01"].check_here().is_none());
    assert_eq!(newest(&home, "LW-02").0, Judgement::Low);
    let tags: Vec<&str> = home.state.rechecks.keys().map(Tag::as_str).collect();
    assert_eq!(tags, ["LW-02"]);
    assert_eq!(calls(&moved).len(), 1, "its nurse is called");
    let edits = moved.posts.len() - calls(&moved).len();
    assert_eq!(edits, 1, "the other one is called off");
    let told = refused(&mut home, Role::Aide, no, &[("surface", "LW-04")]);
    assert!(told.contains("was not there"), "{told}");
}

#[test]
fn what_is_history_changes_nothing_else() {
    let mut home = Home::set_up();
    let no = check(&mut home, "LW-01", "1 1/4");
    home.passes(30);
    check(&mut home, "LW-01", "1");
    let decision = amend(&mut home, Role::Aide, no, &[("air", "0")]);
    assert!(decision.posts.is_empty() && home.state.alarms.is_empty());
    let Some(Body::Amended { stands, .. }) = decision.entries.last().map(|entry| &entry.body)
    else {
        panic!("a correction")
    };
    assert_eq!(stands[0].recheck, Rebook::Stays);
}

#[test]
fn a_fresh_one_that_bottomed_out_opens_an_alarm_and_a_late_one_begins_no_ladder() {
    let mut home = Home::set_up();
    let no = check(&mut home, "LW-01", "1 1/4");
    home.passes(10);
    amend(&mut home, Role::Aide, no, &[("air", "0")]);
    let alarm = home.state.alarms.values().next().expect("an alarm");
    assert_eq!(alarm.kind, AlarmKind::BottomedOut);
    let no = check(&mut home, "LW-02", "1 1/4");
    home.passes(40);
    let late = amend(&mut home, Role::Aide, no, &[("air", "0")]);
    assert_eq!(home.state.alarms.len(), 1);
    assert_eq!(calls(&late).len(), 1, "the nurse looks now");
    assert_eq!(home.state.rechecks[&Tag::from("LW-02")].due, home.now);
}

/// An alarm that was closed with this check; the check's number.
fn closed(home: &mut Home) -> RecordNo {
    let alarm = commands::ids::AlarmNo(home.state.next_no().0);
    home.does(
        Role::Aide,
        "alarm",
        &[("surface", text("LW-01")), ("kind", text("low-pressure"))],
    );
    let tap = Tap::FixedAir {
        alarm,
        cause: commands::choice::Cause::Hose,
        air: commands::rules::hand_check::Air::Measured(commands::rules::air::Tenths(300)),
    };
    home.taps(Role::Nurse, &tap.id(), &[]);
    assert!(home.state.alarms.is_empty());
    let check = home
        .log
        .iter()
        .rev()
        .find(|record| matches!(record.body, Body::HandChecked { .. }));
    check.expect("the check").no
}

#[test]
fn an_alarm_closed_by_a_check_that_was_low_opens_again_as_a_new_one() {
    let mut home = Home::set_up();
    let no = closed(&mut home);
    let text = amend(&mut home, Role::Nurse, no, &[("air", "3/4")]);
    let (new, alarm) = home.state.alarms.iter().next().expect("it is open again");
    assert_eq!(alarm.kind, AlarmKind::LowPressure);
    assert!(new.0 > no.0, "a new one");
    assert!(
        answer_text(&text).contains("**again**"),
        "{}",
        answer_text(&text)
    );
    assert!(home.state.rechecks.is_empty(), "its card does the asking");
}

#[test]
fn one_that_is_corrected_late_is_looked_at_now_and_climbs_no_ladder() {
    let mut home = Home::set_up();
    let no = closed(&mut home);
    home.passes(60);
    let text = amend(&mut home, Role::Nurse, no, &[("air", "3/4")]);
    assert!(home.state.alarms.is_empty());
    assert_eq!(home.state.rechecks[&Tag::from("LW-01")].due, home.now);
    assert!(
        answer_text(&text).contains("look again **now**"),
        "{}",
        answer_text(&text)
    );
    // Struck: no check holds the alarm closed either.
    let mut home = Home::set_up();
    let no = closed(&mut home);
    amend(&mut home, Role::Nurse, no, &[("strike", "on")]);
    assert!(home.state.alarms.is_empty() && home.state.surfaces["LW-01"].check_here().is_none());
}

#[test]
fn who_may() {
    let mut home = Home::set_up();
    let no = check(&mut home, "LW-01", "1 1/4");
    let told = refused(&mut home, Role::Nurse, no, &[("air", "3/4")]);
    assert!(told.contains("somebody else's"), "{told}");
    let told = refused(&mut home, Role::Nurse, no, &[]);
    assert!(told.contains("somebody else's"), "{told}");
    let told = refused(&mut home, Role::Supervisor, no, &[("air", "3/4")]);
    assert!(told.contains("only who made it"), "{told}");
    amend(&mut home, Role::Supervisor, no, &[]);
    let told = refused(&mut home, Role::Aide, RecordNo(999_999), &[]);
    assert!(told.contains("no entry #999999"), "{told}");
    let told = refused(&mut home, Role::Aide, no, &[("finding", "clean")]);
    assert!(told.contains("finding"), "{told}");
    let placed = home
        .log
        .iter()
        .find(|record| matches!(record.body, Body::Placed { .. }));
    let placed = placed.expect("a placement").no;
    let told = refused(&mut home, Role::Nurse, placed, &[("surface", "LW-04")]);
    assert!(told.contains("`/move`"), "{told}");
    // A correction's own number is as good as the entry's, and a name in a reason is refused.
    amend(&mut home, Role::Aide, no, &[("air", "1")]);
    let amended = RecordNo(home.state.next_no().0 - 1);
    amend(&mut home, Role::Aide, amended, &[("air", "1 1/2")]);
    assert!(
        matches!(&home.log.last().expect("it").body, Body::Amended { entry, .. } if *entry == no)
    );
    let mut named = options(no, &[("air", "1")]);
    named[1].1 = text("was Mr. Smith's bed");
    let decision = home.ask(Role::Aide, &command("amend", &named));
    assert!(decision.entries.is_empty(), "{}", answer_text(&decision));
}

#[test]
fn a_supervisor_signs_once_and_what_was_shown() {
    let mut home = Home::set_up();
    let no = check(&mut home, "LW-01", "1 1/4");
    let seen = RecordNo(home.state.next_no().0 - 1);
    let sign = |seen| Tap::Entry(Entry::Sign { entry: no, seen }).id();
    amend(&mut home, Role::Aide, no, &[("air", "1")]);
    let stale = home.taps(Role::Supervisor, &sign(seen), &[]);
    assert!(stale.entries.is_empty(), "it reads otherwise by now");
    let seen = RecordNo(home.state.next_no().0 - 1);
    let signed = home.taps(Role::Supervisor, &sign(seen), &[]);
    assert_eq!(signed.entries.len(), 1);
    let twice = home.taps(Role::Supervisor, &sign(seen), &[]);
    assert!(twice.entries.is_empty());
    amend(&mut home, Role::Aide, no, &[("air", "1 1/4")]);
    let seen = RecordNo(home.state.next_no().0 - 1);
    assert_eq!(
        home.taps(Role::Supervisor, &sign(seen), &[]).entries.len(),
        1
    );
}

#[test]
fn a_ready_surface_whose_filter_was_not_fit_is_turned_over_again() {
    let mut home = Home::set_up();
    home.does(
        Role::Nurse,
        "release",
        &[("surface", text("LW-02")), ("reason", text("discharge"))],
    );
    let no = home.state.next_no();
    let looked = [
        ("surface", text("LW-02")),
        ("finding", text("clogged")),
        ("action", text("replaced")),
    ];
    home.does(Role::Upkeep, "filter", &looked);
    let left = |home: &Home| {
        let Life::Soiled(turnover) = &home.state.surfaces["LW-02"].life else {
            return 0;
        };
        turnover.left().count()
    };
    let before = left(&home);
    amend(&mut home, Role::Upkeep, no, &[("action", "left")]);
    assert_eq!(left(&home), before + 1, "the filter is to be seen to again");
}

#[test]
fn two_corrections_of_one_commit_know_of_each_other() {
    let mut home = Home::set_up();
    let first = check(&mut home, "LW-01", "1 1/4");
    let written = home.log.len();
    amend(&mut home, Role::Aide, first, &[("surface", "LW-02")]);
    // The file knows nothing of the correction yet: it is only pending.
    let (file, pending) = home.log.split_at(written);
    for wanted in [
        Wanted::Entry(first),
        Wanted::Surface("LW-01".into()),
        Wanted::Surface("LW-02".into()),
        Wanted::Bed("102".into()),
    ] {
        let mut split = Vec::new();
        wanted.with_pending(&mut split, file);
        wanted.with_pending(&mut split, pending);
        let mut whole = Vec::new();
        wanted.with_pending(&mut whole, &home.log);
        assert_eq!(split, whole, "{wanted:?}");
    }
    // Where it was corrected to be is not where the file has it: then it is asked for by its number.
    let mut past = Past::default();
    let mut read = Vec::new();
    let moved = Wanted::Surface("LW-02".into());
    moved.with_pending(&mut read, pending);
    past.put(moved.clone(), read);
    assert_eq!(past.whole(&moved), Err(Wanted::Entry(first)));
}

#[test]
fn a_timeline_shows_what_was_corrected_at_both_ends() {
    let mut home = Home::set_up();
    let no = check(&mut home, "LW-01", "3/4");
    amend(
        &mut home,
        Role::Aide,
        no,
        &[("surface", "LW-02"), ("air", "1")],
    );
    let of = |home: &mut Home, what: &str| {
        let decision = home.ask(Role::Aide, &command("timeline", &[("what", text(what))]));
        let message = answer_message(&decision).expect("a message").clone();
        let file = message.files.into_iter().next().expect("a sheet").text;
        (message.text, file)
    };
    for what in ["LW-01", "101"] {
        let (text, file) = of(&mut home, what);
        assert!(text.contains("~~air ¾ in, low~~ now about LW-02"), "{text}");
        assert!(
            file.contains("<s>air ¾ in, low</s> now about LW-02"),
            "{file}"
        );
    }
    for what in ["LW-02", "102"] {
        let (text, file) = of(&mut home, what);
        assert!(text.contains("air 1 in, adequate"), "{text}");
        assert!(file.contains("slip of the thumb"), "{file}");
    }
    let line = Line::Surface("LW-02".into());
    let trail = home.taps(
        Role::Aide,
        &Tap::Entry(Entry::Corrections { line }).id(),
        &[],
    );
    assert!(answer_text(&trail).contains("slip of the thumb"));
}

#[test]
fn nothing_typed_becomes_markup_on_the_sheet() {
    let mut home = Home::set_up();
    home.does(
        Role::Aide,
        "handcheck",
        &[
            ("surface", text("LW-01")),
            ("air", text("1 1/4")),
            ("note", text("<script>x</script> & two \"pads\"")),
        ],
    );
    let decision = home.ask(Role::Aide, &command("timeline", &[("what", text("LW-01"))]));
    let file = answer_message(&decision).and_then(|message| message.files.first().cloned());
    let file = file.expect("a sheet").text;
    assert!(!file.contains("<script"), "{file}");
    assert!(file.contains("&lt;script&gt;x&lt;/script&gt; &amp; two &quot;pads&quot;"));
}
