//! A surface that loses loft is named before its first low reading, and leaves the list by itself when what was said of
//! it no longer holds.

mod common;

use commands::choice::{Cause, LoftAnswer};
use commands::decision::PostKind;
use commands::due::{DueKind, list};
use commands::ids::{RecordNo, Tag};
use commands::role::Role;
use commands::rules::drift::READINGS_KEPT;
use commands::rules::hand_check::Judgement;
use commands::tap::{Loft, Tap, Then};
use common::{Home, answer_text, buttons, command, text};

const SHIFT: i64 = 8 * 60;

/// Of a command, as typed.
type Options = &'static [(&'static str, &'static str)];

fn check(home: &mut Home, air: &str, more: &[(&'static str, &str)]) -> RecordNo {
    let no = home.state.next_no();
    let mut options = vec![("surface", text("LW-01")), ("air", text(air))];
    options.extend(more.iter().map(|(name, value)| {
        let whole = value.parse().map(commands::said::Value::Whole);
        let value = if *name == "layers" {
            whole.expect("a number")
        } else {
            text(value)
        };
        (*name, value)
    }));
    home.does(Role::Aide, "handcheck", &options);
    no
}

fn named(home: &Home) -> bool {
    let items = list(&home.state, None, home.now);
    items
        .iter()
        .any(|item| item.kind == DueKind::LosingLoft && item.tag.as_str() == "LW-01")
}

/// Readings of one in each shift, 0.02 in less each time from 1.45 in on, until the surface is named.
fn falls(home: &mut Home) -> (usize, RecordNo) {
    for place in 0..40 {
        let air = 1.45 - 0.02 * place as f64;
        let no = check(home, &format!("{air:.2} in"), &[]);
        if named(home) {
            return (place + 1, no);
        }
        home.passes(SHIFT);
    }
    panic!("never named");
}

fn tap(home: &mut Home, role: Role, tap: Loft) -> String {
    // What was found is chosen from a menu.
    let chosen: &[&str] = match &tap {
        Loft::Found { cause, .. } => &[cause.as_str()],
        Loft::Why { .. } | Loft::Usual { .. } | Loft::Answer { .. } | Loft::Pull { .. } => &[],
    };
    answer_text(&home.taps(role, &Tap::Loft(tap).id(), chosen)).to_owned()
}

fn answer(home: &Home, answer: LoftAnswer) -> Loft {
    let since = home.state.surfaces["LW-01"].line.since.expect("a line");
    let (tag, since) = ("LW-01".into(), since.timestamp());
    if answer == LoftAnswer::Mended {
        let cause = Cause::Hose;
        return Loft::Found { tag, since, cause };
    }
    Loft::Answer { tag, since, answer }
}

/// What stands behind **Why?** of the surface that loses loft.
fn why_of(home: &mut Home) -> String {
    let tag = "LW-01".into();
    tap(home, Role::Aide, Loft::Why { tag })
}

#[test]
fn it_is_named_before_its_first_low_reading_and_rings_nowhere() {
    let mut home = Home::set_up();
    let (count, _) = falls(&mut home);
    // Fifteen over four days and a quarter of an inch: 0.02 a shift has lost so much after a bit more than four days.
    assert!((15..=18).contains(&count), "{count}");
    let checks = &home.state.surfaces["LW-01"].checks;
    assert!(
        checks
            .iter()
            .all(|check| check.judged == Judgement::Adequate)
    );
    for decision in home.passes(SHIFT) {
        let new = decision
            .posts
            .iter()
            .filter(|post| post.kind == PostKind::New);
        for post in new.filter(|post| post.message.text.contains("rending lower")) {
            assert!(post.message.silent, "{}", post.message.text);
        }
    }
}

#[test]
fn the_figures_are_those_of_the_line() {
    let mut home = Home::set_up();
    // 1.45 in and 0.03 less each day, one reading a day at the same hour.
    home.does(
        Role::Supervisor,
        "facility policy",
        &[("name", text("loft-readings")), ("value", text("8"))],
    );
    for day in 0..12 {
        check(
            &mut home,
            &format!("{:.2} in", 1.45 - 0.03 * f64::from(day)),
            &[],
        );
        home.passes(24 * 60);
    }
    let why = why_of(&mut home);
    // Eleven days from March 2: 1.45 to 1.12; 0.21 a week; 1 in after 15 days, on March 17.
    for part in [
        "trending lower, low by about 17 Mar: inspect.** 12 readings over 11 days",
        "from 1.45 in to 1.12 in",
        "takes 0.21 in (0.21 to 0.21)",
        "below 1 in around 17 Mar (between 17 Mar and 17 Mar)",
        "by chance at most once in ten thousand such rows",
    ] {
        assert!(why.contains(part), "{part}: {why}");
    }
    // The same without a new reading when that day is past.
    home.passes(5 * 24 * 60);
    let why = why_of(&mut home);
    assert!(
        why.contains("trending lower, low by now, if it went on so: inspect.**"),
        "{why}"
    );
    // And when the line is there.
    for air in ["1 in", "0.95 in", "0.9 in", "0.9 in"] {
        check(&mut home, air, &[]);
        home.passes(24 * 60);
    }
    let why = why_of(&mut home);
    assert!(
        why.contains("trending lower, at the limit of 1 in already: inspect.**"),
        "{why}"
    );
}

#[test]
fn taking_back_or_correcting_the_reading_that_made_it_takes_it_off() {
    let mut home = Home::set_up();
    let (_, no) = falls(&mut home);
    let back = Tap::TakeBack {
        first: no,
        tag: "LW-01".into(),
        then: Then::Beside,
    };
    home.taps(Role::Aide, &back.id(), &[]);
    assert!(!named(&home), "taken back");
    let no = check(&mut home, "1.1 in", &[]);
    assert!(named(&home));
    let amend = |home: &mut Home, more: (&'static str, &str)| {
        let options = [
            ("entry", text(&no.to_string())),
            ("reason", text("slip of the thumb")),
            (more.0, text(more.1)),
        ];
        home.does(Role::Aide, "amend", &options);
    };
    amend(&mut home, ("position", "side"));
    assert!(!named(&home), "on the side it is no reading of this line");
    amend(&mut home, ("position", "back-flat"));
    assert!(named(&home));
    amend(&mut home, ("surface", "LW-02"));
    assert!(!named(&home), "of another surface");
    amend(&mut home, ("surface", "LW-01"));
    assert!(named(&home));
}

#[test]
fn it_leaves_the_list_by_itself() {
    let leaves: [(Role, &str, Options); 5] = [
        (Role::Nurse, "move", &[("surface", "LW-01"), ("bed", "104")]),
        (Role::Nurse, "swap", &[("bed", "101"), ("surface", "LW-04")]),
        (
            Role::Nurse,
            "release",
            &[
                ("surface", "LW-01"),
                ("reason", "discharge"),
                ("clean-last", "off"),
            ],
        ),
        (
            Role::Upkeep,
            "pull",
            &[("surface", "LW-01"), ("fault", "leak")],
        ),
        (
            Role::Nurse,
            "setting",
            &[("surface", "LW-01"), ("set", "4")],
        ),
    ];
    for (role, path, options) in leaves {
        let mut home = Home::set_up();
        falls(&mut home);
        let options: Vec<_> = options
            .iter()
            .map(|(name, value)| (*name, text(value)))
            .collect();
        home.does(role, path, &options);
        assert!(!named(&home), "/{path}");
        assert!(
            home.state.surfaces["LW-01"].line.readings().is_empty(),
            "/{path}"
        );
    }
}

#[test]
fn a_look_takes_it_off_and_only_what_comes_after_is_news() {
    for found in [LoftAnswer::Mended, LoftAnswer::Nothing] {
        let mut home = Home::set_up();
        falls(&mut home);
        let looked = answer(&home, found);
        let refused = tap(&mut home, Role::Aide, looked.clone());
        assert!(named(&home), "an aide may not say so: {refused}");
        home.passes(1);
        let first = home.state.next_no();
        tap(&mut home, Role::Upkeep, looked.clone());
        assert!(!named(&home));
        // An older card records nothing more.
        let before = home.state.next_no();
        tap(&mut home, Role::Supervisor, looked);
        assert_eq!(home.state.next_no(), before);
        let back = Tap::TakeBack {
            first,
            tag: "LW-01".into(),
            then: Then::Beside,
        };
        home.taps(Role::Upkeep, &back.id(), &[]);
        assert!(named(&home), "taken back");
        let again = answer(&home, found);
        tap(&mut home, Role::Upkeep, again);
        home.passes(SHIFT);
        let (count, _) = falls(&mut home);
        assert!(
            count >= 15,
            "named after {count}, for what comes after the look"
        );
    }
}

#[test]
fn what_is_put_aside_comes_back() {
    let mut home = Home::set_up();
    falls(&mut home);
    let later = answer(&home, LoftAnswer::Later);
    tap(&mut home, Role::Upkeep, later);
    assert!(!named(&home));
    home.passes(3 * 24 * 60 - 1);
    assert!(!named(&home));
    home.passes(1);
    assert!(named(&home));
}

#[test]
fn what_cannot_be_compared_is_not_on_the_line() {
    let mut home = Home::set_up();
    for more in [
        ("site", "hips"),
        ("position", "back-raised"),
        ("mode", "static"),
        ("layers", "3"),
    ] {
        check(&mut home, "1.2 in", &[more]);
    }
    check(&mut home, "none", &[]);
    assert!(home.state.surfaces["LW-01"].line.readings().is_empty());
    check(
        &mut home,
        "1.2 in",
        &[("layers", "2"), ("site", "buttocks")],
    );
    assert_eq!(home.state.surfaces["LW-01"].line.readings().len(), 1);
}

#[test]
fn the_line_holds_the_newest_and_a_late_entry_takes_its_place() {
    let mut home = Home::set_up();
    for _ in 0..READINGS_KEPT + 5 {
        home.passes(SHIFT);
        check(&mut home, "1.2 in", &[]);
    }
    home.passes(60);
    check(&mut home, "1.3 in", &[("when", "3 h ago")]);
    let line = home.state.surfaces["LW-01"].line.readings();
    assert_eq!(line.len(), READINGS_KEPT);
    assert!(line.is_sorted_by_key(|reading| reading.seconds()));
    let from_end = line.iter().rev().position(|reading| reading.air().0 == 330);
    assert_eq!(from_end, Some(1), "before the newest");
}

/// NIST/SEMATECH e-Handbook 6.3.2.2 (results seen, data from memory), in millimetres: mean 50.81, limits 45.8159 and 55.8041, none outside. Its
/// deviation of 1.66 mm is below an eighth of an inch, 3.175 mm, which stands in its place: 41.285 and 60.335.
#[test]
fn what_is_usual_for_a_control_unit() {
    let mut home = Home::set_up();
    let usual = || Loft::Usual {
        tag: "LW-01".into(),
    };
    let few = tap(&mut home, Role::Aide, usual());
    assert!(few.contains("0 readings"), "{few}");
    let nist = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
    for value in nist {
        home.passes(SHIFT);
        check(&mut home, &format!("{value} mm"), &[]);
    }
    let found = tap(&mut home, Role::Aide, usual());
    assert!(found.contains("0 of the last 10"), "{found}");
    // 41.285 / 25.4, 60.335 / 25.4, 50.81 / 25.4.
    assert!(found.contains("1.63 to 2.38 in, mean 2.00 in"), "{found}");
    // Under another bed it is the same control unit; a reading far off stands out.
    home.does(
        Role::Nurse,
        "move",
        &[("surface", text("LW-01")), ("bed", text("104"))],
    );
    home.passes(SHIFT);
    check(&mut home, "30 mm", &[]);
    let found = tap(&mut home, Role::Aide, usual());
    assert!(found.contains("1 of the last 11"), "{found}");
}

/// Where nearly all readings tie, one a step away is the hand's, and one four steps away is not.
#[test]
fn a_step_of_the_hand_does_not_stand_out() {
    let mut home = Home::set_up();
    let usual = || Loft::Usual {
        tag: "LW-01".into(),
    };
    for place in 0..20 {
        home.passes(SHIFT);
        let air = if place == 12 { "1 1/8" } else { "1 1/4" };
        check(&mut home, air, &[]);
    }
    let found = tap(&mut home, Role::Aide, usual());
    assert!(found.contains("0 of the last 20"), "{found}");
    home.passes(SHIFT);
    check(&mut home, "3/4", &[]);
    let found = tap(&mut home, Role::Aide, usual());
    assert!(found.contains("1 of the last 21"), "{found}");
}

#[test]
fn whoever_may_answers_from_the_list() {
    let mut home = Home::set_up();
    falls(&mut home);
    let tag = Tag::from("LW-01");
    let pick = |home: &mut Home, role| {
        let open = commands::tap::Work::Open {
            unit: None,
            tag: tag.clone(),
            kind: String::new(),
        };
        let id = Tap::Work(open).id();
        buttons(&home.taps(role, &id, &["LW-01 losing-loft"]))
    };
    let answers = |ids: &[String]| ids.iter().filter(|id| id.contains("loft|answer")).count();
    let shown = pick(&mut home, Role::Aide);
    assert_eq!(answers(&shown), 0, "{shown:?}");
    assert!(shown.iter().any(|id| id.contains("loft|why")));
    for role in [Role::Upkeep, Role::Supervisor] {
        assert_eq!(answers(&pick(&mut home, role)), 3);
    }
    let asked = command("handover", &[("unit", text("Elm"))]);
    let handover = home.ask(Role::Nurse, &asked);
    let handover = answer_text(&handover);
    assert!(
        handover.contains("Trending lower, inspect (1): LW-01"),
        "{handover}"
    );
}

/// Who found nothing, when, and until when it is quiet stand on its card, and the next reading is one tap away.
#[test]
fn nothing_found_leaves_a_trace_and_asks_for_a_reading() {
    let mut home = Home::set_up();
    falls(&mut home);
    let card = |home: &mut Home| {
        let asked = command("surface", &[("surface", text("LW-01"))]);
        answer_text(&home.ask(Role::Nurse, &asked)).to_owned()
    };
    assert!(!card(&mut home).contains("nothing found"));
    let looked = home.now;
    let tap = answer(&home, LoftAnswer::Nothing);
    let said = home.taps(Role::Supervisor, &Tap::Loft(tap).id(), &[]);
    assert!(answer_text(&said).contains("Next: a hand check."));
    let air = |ids: &[String]| ids.iter().any(|id| id.starts_with("air|"));
    assert!(air(&buttons(&said)), "{:?}", buttons(&said));
    let trace = "nothing found. Off the list until";
    let shown = card(&mut home);
    assert!(shown.contains(trace), "{shown}");
    assert!(shown.contains("looked at by <@"), "{shown}");
    assert!(
        shown.contains(&format!("<t:{}", looked.timestamp())),
        "{shown}"
    );
    // Four days: then it might be named again, and nothing more is said.
    home.passes(4 * 24 * 60 + 1);
    assert!(!card(&mut home).contains(trace));
    // Taken back, it leaves no trace either, and the line is as it was.
    let mut home = Home::set_up();
    falls(&mut home);
    let tap = answer(&home, LoftAnswer::Nothing);
    let said = home.taps(Role::Upkeep, &Tap::Loft(tap).id(), &[]);
    assert!(!air(&buttons(&said)), "upkeep makes no hand checks");
    let back = buttons(&said).remove(0);
    home.taps(Role::Upkeep, &back, &[]);
    let shown = card(&mut home);
    assert!(
        !shown.contains(trace) && shown.contains("Trending lower"),
        "{shown}"
    );
}
