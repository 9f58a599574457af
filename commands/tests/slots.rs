//! What schedules post, after a time without loftwatch, too: one list in place of all that were missed, which says that it is late;
//! whose shift a handover at the very edge of two is; the home in numbers. And what is told of the program itself: that the clock was
//! stepped, and that a call reached nobody.

mod common;

use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::Person;
use commands::record::Body;
use commands::role::Role;
use commands::words::Lang;
use commands::{Decision, clock_stepped, undelivered};
use common::{CARE, Home, SUPERVISORS, answer_text, command, text};

/// Noon in the home's zone on the day of its set-up, a day in March before the clocks change.
fn noon() -> DateTime<Utc> {
    "2026-03-02T18:00:00Z".parse().expect("a moment")
}

/// A home whose only schedule is this.
fn with(what: &str, when: &str) -> Home {
    let mut home = Home::set_up();
    schedule(&mut home, &[("what", what), ("when", when)]);
    // Those that a home begins with.
    for other in ["due-list", "handover", "weekend"] {
        if other != what {
            schedule(&mut home, &[("what", other), ("when", "never")]);
        }
    }
    home
}

/// Set by somebody whose word needs no other's.
fn schedule(home: &mut Home, options: &[(&str, &str)]) {
    let options: Vec<_> = options
        .iter()
        .map(|(name, value)| (*name, text(value)))
        .collect();
    let said = command("facility schedule", &options);
    let decision = home.ask_as(&[Role::Supervisor, Role::Admin], Lang::English, &said);
    assert!(!decision.entries.is_empty(), "{}", answer_text(&decision));
    home.take(Some(Person(1)), &decision);
}

/// The computer was off until then; all that follows.
fn wakes(home: &mut Home, at: DateTime<Utc>) -> Vec<Decision> {
    home.now = at;
    home.passes(0)
}

/// The slots that were posted, each with how many were missed before it.
fn fired(done: &[Decision]) -> Vec<(String, u32)> {
    let entries = done.iter().flat_map(|decision| &decision.entries);
    entries
        .filter_map(|entry| {
            if let Body::SlotFired { slot, missed, .. } = &entry.body {
                Some((slot.to_string(), *missed))
            } else {
                None
            }
        })
        .collect()
}

#[test]
fn of_the_slots_that_were_missed_the_newest_is_posted_and_the_others_are_counted() {
    for (days, slot, missed) in [
        (0, "2026-03-02 12:00:00", 0),
        (1, "2026-03-03 12:00:00", 1),
        (3, "2026-03-05 12:00:00", 3),
        // More than are counted one by one, over both changes of the clocks.
        (250, "2026-11-07 12:00:00", 250),
    ] {
        let mut home = with("due-list", "daily 12:00");
        let done = wakes(&mut home, noon() + TimeDelta::days(days));
        assert_eq!(
            fired(&done),
            [(slot.to_owned(), missed)],
            "after {days} days"
        );
    }
}

#[test]
fn a_list_says_that_it_is_late_from_the_policys_minutes_on() {
    for (late, said) in [
        (TimeDelta::zero(), false),
        // What the policy says unless the home says otherwise.
        (TimeDelta::minutes(5), false),
        (TimeDelta::minutes(5) + TimeDelta::seconds(1), true),
        (TimeDelta::hours(2), true),
    ] {
        let mut home = with("due-list", "daily 12:00");
        let done = wakes(&mut home, noon() + late);
        let posts = done.iter().flat_map(|decision| &decision.posts);
        let lists: Vec<_> = posts.filter(|post| post.key.starts_with("slot:")).collect();
        assert!(!lists.is_empty());
        for list in lists {
            let text = &list.message.text;
            assert_eq!(
                text.starts_with("Late: this was meant for"),
                said,
                "{late}: {text}"
            );
        }
    }
}

/// Shifts begin at 07:00, 15:00 and 23:00 unless the home says otherwise.
#[test]
fn at_the_edge_of_two_shifts_the_one_before_hands_over() {
    for (when, begin) in [
        ("daily 15:00", "2026-03-02T13:00:00Z"),
        ("daily 15:01", "2026-03-02T21:00:00Z"),
        ("daily 14:59", "2026-03-02T13:00:00Z"),
    ] {
        let mut home = with("handover", when);
        let done = home.passes(8 * 60);
        let entries = done.iter().flat_map(|decision| &decision.entries);
        let shifts: Vec<_> = entries
            .filter_map(|entry| {
                if let Body::HandoverMade { shift, .. } = &entry.body {
                    Some(*shift)
                } else {
                    None
                }
            })
            .collect();
        let begin: DateTime<Utc> = begin.parse().expect("a moment");
        assert!(
            !shifts.is_empty() && shifts.iter().all(|shift| *shift == begin),
            "{when}: {shifts:?}"
        );
    }
}

#[test]
fn a_step_of_the_clock_is_told_from_a_minute_on_and_kept_however_short() {
    let home = Home::set_up();
    for (seconds, told) in [
        (59, None),
        (-59, None),
        (60, Some("set forward by")),
        (-60, Some("set back by")),
        (7_200, Some("set forward by")),
        (-7_200, Some("set back by")),
    ] {
        let step = TimeDelta::seconds(seconds);
        let (_, decision) = clock_stepped(&home.state, step, home.now).expect("a home");
        let bodies: Vec<_> = decision.entries.iter().map(|entry| &entry.body).collect();
        assert_eq!(bodies, [&Body::ClockStepped { seconds }]);
        let texts: Vec<_> = decision
            .posts
            .iter()
            .map(|post| &post.message.text)
            .collect();
        assert_eq!(
            texts.len(),
            usize::from(told.is_some()),
            "{seconds}: {texts:?}"
        );
        if let Some(told) = told {
            assert!(texts[0].contains(told), "{seconds}: {texts:?}");
        }
    }
}

/// Elm has two in place, one of them checked; Birch has one, and it alarms.
#[test]
fn the_summary_counts_each_surface_once() {
    let mut home = with("summary", "daily 12:00");
    schedule(
        &mut home,
        &[
            ("what", "summary"),
            ("when", "daily 12:00"),
            ("unit", "Elm"),
        ],
    );
    for tag in ["LW-06", "LW-07", "LW-08"] {
        let options = [
            ("tag", text(tag)),
            ("profile", text("general")),
            ("state", text("ready")),
            ("tested", text("2026-01-15")),
        ];
        home.does(Role::Supervisor, "fleet add", &options);
    }
    for tag in ["LW-07", "LW-08"] {
        let failed = [
            ("surface", text(tag)),
            ("work", text("safety-test")),
            ("result", text("failed")),
        ];
        home.does(Role::Supervisor, "service", &failed);
    }
    let read = [("surface", text("LW-01")), ("air", text("1 1/4 in"))];
    home.does(Role::Aide, "handcheck", &read);
    home.does(Role::Aide, "alarm", &[("surface", text("LW-03"))]);
    let done = wakes(&mut home, noon());
    let posts = done.iter().flat_map(|decision| &decision.posts);
    let mut figures: Vec<_> = posts
        .filter_map(|post| post.message.text.split_once("Checked this shift: "))
        .map(|(_, figures)| figures.to_owned())
        .collect();
    figures.sort();
    assert_eq!(
        figures,
        [
            "1 of 2 placed\nReady 0 · soiled 0 · out of service 0\nAlarms open: 0",
            "1 of 3 placed\nReady 2 · soiled 1 · out of service 2\nAlarms open: 1",
        ]
    );
}

#[test]
fn a_call_that_its_channel_does_not_take_is_told_where_somebody_reads() {
    let mut home = Home::set_up();
    let raised = home.does(Role::Aide, "alarm", &[("surface", text("LW-01"))]);
    home.passes(3);
    let no = home.state.surfaces["LW-01"].alarm.expect("an alarm");
    let told = |key: &str, channel| {
        let (source, decision) = undelivered(&home.state, key, channel)?;
        let [post] = &decision.posts[..] else {
            panic!("{:#?}", decision.posts)
        };
        Some((source, post.key.clone(), post.channel))
    };
    // Whatever calls somebody about it; the key of its card is a real one.
    let card = &raised.posts[0].key;
    assert!(card.starts_with("alarm:"), "{card}");
    let (source, key, channel) = told(card, CARE).expect("a word");
    assert_eq!(channel, SUPERVISORS);
    // Its rungs fail as its card did: one word is enough.
    let rung = format!("rung:{no}:1772457000:1");
    assert_eq!(told(&rung, CARE), Some((source, key, SUPERVISORS)));
    // That of another alarm, or about another channel, is another.
    let other = format!("rung:{}:1772457000:1", no.0 + 1);
    assert_ne!(told(&other, CARE), told(&rung, CARE));
    let theirs = told(&rung, SUPERVISORS).expect("a word");
    assert_eq!(theirs.2, CARE, "the one that fails is the supervisors' own");
    assert_ne!(Some(theirs), told(&rung, CARE));
    for calls_nobody in [
        "slot:due-list:2026-03-02T12:00",
        "undelivered:201:1",
        "away:1",
    ] {
        assert_eq!(told(calls_nobody, CARE), None, "{calls_nobody}");
    }
}
