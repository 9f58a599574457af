//! What schedules post, after a time without loftwatch, too: one list in place of all that were missed, which says that it is late;
//! whose shift a handover at the very edge of two is; the home in numbers. And what is told of the program itself: that the clock was
//! stepped, after which lists come by what it shows, and that a call reached nobody.

mod common;

use std::collections::BTreeSet;

use chrono::{DateTime, TimeDelta, Utc};
use commands::decision::{Lane, Post, PostKind};
use commands::ids::{Channel, ChatRole, Person};
use commands::record::Body;
use commands::role::Role;
use commands::words::Lang;
use commands::{Decision, Source, clock_stepped, undelivered};
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

/// What is told of a post that its channel does not take: the cause, and the one message.
fn told(home: &Home, key: &str, channel: Channel) -> Option<(Source, Post)> {
    let (source, decision) = undelivered(&home.state, key, channel, home.now)?;
    assert!(decision.entries.is_empty(), "{:#?}", decision.entries);
    let [post] = &decision.posts[..] else {
        panic!("{:#?}", decision.posts)
    };
    Some((source, post.clone()))
}

#[test]
fn each_call_that_its_channel_does_not_take_is_told_where_somebody_reads() {
    let mut home = Home::set_up();
    let raised = home.does(Role::Aide, "alarm", &[("surface", text("LW-01"))]);
    let mut calls = vec![raised.posts[0].key.clone()];
    assert!(calls[0].starts_with("alarm:"), "{calls:?}");
    let until = home.now + TimeDelta::minutes(41);
    let mut told_of = vec![told(&home, &calls[0], CARE).expect("a word")];
    while home.now < until {
        for decision in home.passes(1) {
            for post in decision.posts {
                if post.key.starts_with("rung:") && post.kind == PostKind::New {
                    told_of.push(told(&home, &post.key, CARE).expect("a word"));
                    calls.push(post.key);
                }
            }
        }
    }
    // Three rungs, and the repeats every five minutes after the third.
    assert_eq!(calls.len(), 1 + 3 + 5, "{calls:?}");
    let sources: BTreeSet<_> = told_of.iter().map(|(source, _)| &source.0).collect();
    let keys: BTreeSet<_> = told_of.iter().map(|(_, post)| &post.key).collect();
    assert_eq!((sources.len(), keys.len()), (calls.len(), calls.len()));
    for ((_, post), minutes) in told_of.iter().zip([0, 5, 10, 15, 20, 25, 30, 35, 40]) {
        let words = format!("**LW-01**: alarm open for {minutes} min");
        assert!(
            post.message.text.starts_with(&words),
            "{}",
            post.message.text
        );
        assert_eq!((post.channel, post.lane), (SUPERVISORS, Lane::Escalation));
        assert_eq!(post.message.ping_roles, [ChatRole(103)]);
        assert!(!post.message.rows.is_empty(), "whoever reads it can go");
        let phone = post.message.text.contains("**Phone now:**");
        assert_eq!(phone, minutes >= 15, "{}", post.message.text);
    }
    // The same call is told once. Where neither channel takes it nobody is left to read the word.
    let [first, second] = [&told_of[0], &told_of[1]];
    assert_eq!(told(&home, &calls[1], CARE).expect("a word").0, second.0);
    assert_eq!(told(&home, &first.1.key, SUPERVISORS), None);
    // A unit has its own channel, and neither that nor the supervisors' takes it: everybody reads it, once.
    const OWN: Channel = Channel(299);
    let of_unit = told(&home, &calls[1], OWN).expect("a word").1;
    assert_eq!(of_unit.channel, SUPERVISORS);
    let (source, again) = told(&home, &of_unit.key, SUPERVISORS).expect("a word");
    assert_eq!(again.channel, CARE);
    let neither = "could not be posted in <#299>, <#202>: **nobody there has been called.**";
    assert!(
        again.message.text.contains(neither),
        "{}",
        again.message.text
    );
    assert_ne!(source, second.0, "another word of the same call");
    assert_eq!(told(&home, &again.key, CARE), None);
    // Where the supervisors' own channel fails, everybody reads it.
    assert_eq!(
        told(&home, &calls[0], SUPERVISORS)
            .expect("a word")
            .1
            .channel,
        CARE
    );
    // A home that has beds in its posts reads the bed, too.
    home.fact(r#"{"k":"policy-set","name":"beds-in-posts","value":1}"#);
    let (_, with_bed) = told(&home, &calls[1], CARE).expect("a word");
    assert!(
        with_bed.message.text.starts_with("**LW-01 (bed 101)**"),
        "{}",
        with_bed.message.text
    );
    // Once somebody is on the way nobody is sent.
    let no = home.state.surfaces["LW-01"].alarm.expect("an alarm");
    home.fact(&format!(r#"{{"k":"alarm-taken","alarm":{no}}}"#));
    let (_, taken) = told(&home, &calls[1], CARE).expect("a word");
    assert!(
        taken
            .message
            .text
            .starts_with("A call could not be posted in <#"),
        "{}",
        taken.message.text
    );
}

#[test]
fn each_recheck_and_each_list_that_its_channel_does_not_take_is_told() {
    let home = Home::set_up();
    let [first, second] = ["recheck:LW-01:31:1", "recheck:LW-01:31:2"]
        .map(|key| told(&home, key, CARE).expect("a word"));
    let later = told(&home, "recheck:LW-01:9000:1", CARE).expect("a word");
    assert_ne!(first.0, second.0, "the next call of the same recheck");
    assert_ne!(
        first.0, later.0,
        "another recheck in the life of the surface"
    );
    assert_eq!(
        told(&home, "recheck:LW-01:31:1", CARE).as_ref(),
        Some(&first)
    );
    let text = &first.1.message.text;
    assert!(text.starts_with("**LW-01**: it is time to check"), "{text}");
    for list in [
        "slot:due-list:2026-03-02T12:00",
        "slot:due-list:2026-03-02T12:00:Elm",
        "handover:77",
    ] {
        let (_, post) = told(&home, list, CARE).expect("a word");
        assert_eq!((post.channel, post.lane), (SUPERVISORS, Lane::Reminder));
        assert!(
            post.message.text.starts_with("A list could not be posted"),
            "{}",
            post.message.text
        );
        // Nobody's phone rings for a list.
        assert!(post.message.silent, "{list}");
    }
    for of_nobody in [
        "undelivered:202:alarm:1",
        "undelivered:x:alarm:1",
        "away:1",
        "told:5",
    ] {
        assert_eq!(told(&home, of_nobody, CARE), None, "{of_nobody}");
    }
}

#[test]
fn that_nobody_is_called_is_read_in_every_channel_with_the_open_alarms() {
    let mut home = Home::set_up();
    home.does(Role::Aide, "alarm", &[("surface", text("LW-01"))]);
    let told = commands::uncalled(&home.state);
    let channels: Vec<Channel> = told.iter().map(|(channel, _)| *channel).collect();
    assert_eq!(channels, [CARE, SUPERVISORS]);
    for (_, message) in told {
        let text = message.text;
        assert!(
            text.starts_with("**I call nobody at the moment**"),
            "{text}"
        );
        assert!(text.contains("Alarms open: LW-01"), "{text}");
    }
    let over = commands::called_again(&home.state);
    assert_eq!(over.len(), 2);
    assert!(over[0].1.text.starts_with("**I call again.**"));
}

#[test]
fn a_refused_call_says_that_nobody_lies_on_it() {
    let mut home = Home::set_up();
    let raised = home.does(Role::Aide, "alarm", &[("surface", text("LW-04"))]);
    let (_, post) = told(&home, &raised.posts[0].key, CARE).expect("a word");
    let words = "**LW-04**: alarm open for 0 min. On record nobody lies on it.";
    assert!(
        post.message.text.starts_with(words),
        "{}",
        post.message.text
    );
}

/// The posts about late turnovers from now on until so many minutes after `begins`: at which of them, how many they name, and
/// how many people they ring.
fn late_turnovers(home: &mut Home, begins: DateTime<Utc>, until: i64) -> Vec<(i64, usize, usize)> {
    let mut posts = Vec::new();
    while home.now < begins + TimeDelta::minutes(until) {
        for decision in home.passes(1) {
            for post in decision.posts {
                if post.message.text.starts_with("**Turnovers over 24 h") {
                    let minute = (home.now - begins).num_minutes();
                    let named = post.message.text.matches("LW-").count();
                    posts.push((minute, named, post.message.ping_people.len()));
                }
            }
        }
    }
    posts
}

#[test]
fn one_post_is_the_call_for_all_turnovers_that_would_be_called_for_within_the_hour() {
    const DAY: i64 = 24 * 60;
    // LW-05 is soiled from the first minute on.
    let mut home = Home::set_up();
    let begins = home.now;
    let passes_to = |home: &mut Home, minute: i64| {
        home.passes((begins + TimeDelta::minutes(minute) - home.now).num_minutes());
    };
    // The first call about LW-13 comes ten minutes before the second about LW-05.
    for (minute, tag) in [(50, "LW-11"), (100, "LW-12"), (DAY - 10, "LW-13")] {
        passes_to(&mut home, minute);
        let options = [
            ("tag", text(tag)),
            ("profile", text("general")),
            ("state", text("soiled")),
        ];
        home.does(Role::Supervisor, "fleet add", &options);
    }
    assert_eq!(
        late_turnovers(&mut home, begins, 2 * DAY - 60),
        [(DAY, 1, 0), (DAY + 50, 2, 0), (DAY + 100, 3, 0)]
    );
    // A supervisor is asked once upkeep was called in vain about one of those that are named.
    home.does(
        Role::Supervisor,
        "duty",
        &[("unit", text("all")), ("until", text("4 h"))],
    );
    assert_eq!(
        late_turnovers(&mut home, begins, 2 * DAY + 200),
        [(2 * DAY - 10, 4, 1), (2 * DAY + 100, 4, 1)]
    );
    // For a while nobody is called; then one post says it of all.
    home.now = begins + TimeDelta::minutes(3 * DAY + 180);
    assert_eq!(
        late_turnovers(&mut home, begins, 4 * DAY + 200),
        [(3 * DAY + 181, 4, 0), (4 * DAY + 180, 4, 0)]
    );
}

#[test]
fn a_low_reading_that_nobody_looks_at_again_is_asked_for_with_each_shift_however_long() {
    let mut home = Home::set_up();
    let low = [("surface", text("LW-01")), ("air", text("0.75 in"))];
    home.does(Role::Aide, "handcheck", &low);
    let mut asked = BTreeSet::new();
    let mut asks = 0;
    for day in 0..100 {
        for decision in home.passes(24 * 60) {
            for post in decision.posts {
                if post.key.starts_with("recheck:LW-01:") && post.kind == PostKind::New {
                    asks += 1;
                    assert!(asked.insert(post.key), "day {day}: {asks}");
                }
            }
        }
    }
    // Twice in the first hour, and three shifts a day.
    assert!((299..=302).contains(&asks), "{asks}");
}

/// What a home posts of itself from now on for so many hours, with the moments.
fn lists(home: &mut Home, hours: i64) -> Vec<(DateTime<Utc>, Source, String)> {
    let until = home.now + TimeDelta::hours(hours);
    let mut lists = Vec::new();
    while let Some(due) = commands::next_due(&home.state).filter(|due| *due <= until) {
        home.now = home.now.max(due);
        while let Some((source, decision)) = commands::tick(&home.state, home.now) {
            for post in &decision.posts {
                if post.key.starts_with("slot:") && post.kind == PostKind::New {
                    lists.push((home.now, source.clone(), post.key.clone()));
                }
            }
            home.take(None, &decision);
        }
    }
    home.now = until;
    lists
}

/// The clock is stepped.
fn steps(home: &mut Home, step: TimeDelta) {
    home.now += step;
    let (_, told) = clock_stepped(&home.state, step, home.now).expect("a home");
    home.take(None, &told);
}

/// The clock was ahead by so much for ten minutes, and is put right: the lists of two days come by the right clock, under
/// names of their own.
#[test]
fn a_clock_that_was_ahead_silences_no_list() {
    let mut never = Home::set_up();
    never.now += TimeDelta::minutes(10);
    let by_the_right_clock = lists(&mut never, 48);
    assert!(by_the_right_clock.len() > 3, "{by_the_right_clock:?}");
    for ahead in [
        TimeDelta::hours(13),
        TimeDelta::days(1),
        TimeDelta::days(30),
        TimeDelta::days(800),
    ] {
        let mut home = Home::set_up();
        steps(&mut home, ahead);
        let mut before = lists(&mut home, 0);
        home.now += TimeDelta::minutes(10);
        assert!(!before.is_empty(), "{ahead}");
        let shifts = |home: &Home| home.state.duty.rounds.max(home.state.duty.looked);
        steps(&mut home, -ahead);
        assert!(shifts(&home) <= Some(home.now), "{:?}", shifts(&home));
        let after = lists(&mut home, 48);
        let moments = |all: &[(DateTime<Utc>, Source, String)]| -> Vec<DateTime<Utc>> {
            all.iter().map(|(at, ..)| *at).collect()
        };
        assert_eq!(moments(&after), moments(&by_the_right_clock), "{ahead}");
        before.extend(after);
        let keys: BTreeSet<_> = before.iter().map(|(.., key)| key).collect();
        assert_eq!(keys.len(), before.len(), "{before:#?}");
    }
}

/// A list that came at its time, or a little before by a clock that was a little ahead, comes once.
#[test]
fn a_clock_that_is_set_back_a_little_posts_no_list_twice() {
    for back in [1, 61, 600, 1_790] {
        let mut home = Home::set_up();
        let first = loop {
            if let Some((at, source, _)) = lists(&mut home, 1).pop() {
                home.now = at + TimeDelta::seconds(5);
                break source;
            }
        };
        steps(&mut home, TimeDelta::seconds(-back));
        let after = lists(&mut home, 30);
        assert!(!after.is_empty() && after.iter().all(|(_, source, _)| *source != first));
        assert_eq!(home.state.set_back, None);
        // Nor is it posted by its other name: the next is another slot.
        assert!(
            after.iter().all(|(_, source, _)| !source.0.contains('~')),
            "{after:?}"
        );
    }
}

/// The shift card that was posted by the wrong clock is edited under its own name until another one is there.
#[test]
fn a_card_keeps_its_name_when_the_clock_is_put_right() {
    let mut home = Home::set_up();
    let ahead = TimeDelta::days(1);
    steps(&mut home, ahead);
    lists(&mut home, 0);
    let edited = |home: &mut Home, role: Role| -> Vec<String> {
        let decision = home.does(role, "duty", &[("unit", text("Elm"))]);
        let edits = decision.posts.iter().filter_map(|post| match &post.kind {
            PostKind::Edit { of } if of.starts_with("slot:") => Some(of.clone()),
            PostKind::Edit { .. } | PostKind::New => None,
        });
        edits.collect()
    };
    let by_the_wrong_clock = edited(&mut home, Role::Aide);
    assert!(!by_the_wrong_clock.is_empty());
    steps(&mut home, -ahead);
    assert_eq!(edited(&mut home, Role::Nurse), by_the_wrong_clock);
    let posted: BTreeSet<String> = lists(&mut home, 24)
        .into_iter()
        .map(|(.., key)| key)
        .collect();
    let after = edited(&mut home, Role::Supervisor);
    assert!(
        !after.is_empty() && after.iter().all(|key| posted.contains(key)),
        "{after:?} {posted:?}"
    );
    assert!(after.iter().all(|key| key.contains('~')), "{after:?}");
}
