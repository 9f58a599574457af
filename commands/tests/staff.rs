//! Staff from outside and from the home: whom the primer holds up and that it fits a phone, when a shift and a sign-off
//! are over, who is refused, and that what the state keeps of a round stays small.

mod common;

use chrono::TimeDelta;
use commands::choice::Task;
use commands::ids::{Channel, Person};
use commands::message::TEXT_CHARS_MAX;
use commands::record::Body;
use commands::role::{ALARM_AFTER_SHIFT, Role};
use commands::rules::pace::GAPS_KEPT;
use commands::said::{Picked, Value};
use commands::table::COMMANDS;
use commands::tap::{Staff, Tap};
use commands::words::Lang;
use commands::{Ask, Decision, Said, Source};
use common::{CARE, Home, answer_text, buttons, command, text};

const DORA: Person = Person(4_000);

fn picked() -> (&'static str, Value) {
    ("person", Value::Person(Picked::member(DORA)))
}

/// A home in which Dora is let in for eight hours.
fn let_in(role: &str) -> Home {
    let mut home = Home::set_up();
    let shift = [picked(), ("role", text(role)), ("until", text("8 h"))];
    home.does(Role::Supervisor, "agency", &shift);
    home
}

/// Dora, who holds no role of the chat, asks this.
fn dora(home: &Home, lang: Lang, said: &Said) -> Decision {
    let ask = Ask {
        source: Source::interaction(9_000),
        who: DORA,
        chat_roles: Vec::new(),
        manages: false,
        deleted: Vec::new(),
        channel: CARE,
        lang,
        at: home.now,
    };
    home.answer(&ask, said)
}

fn tapped(tap: Tap) -> Said {
    Said::Tap {
        id: tap.id(),
        chosen: Vec::new(),
    }
}

fn is_primer(decision: &Decision) -> bool {
    // Its button keeps what was typed.
    let read = Tap::Staff(Staff::Read { then: None }).id();
    buttons(decision).iter().any(|id| id.starts_with(&read))
}

fn has_read(home: &mut Home) {
    let decision = dora(
        home,
        Lang::English,
        &tapped(Tap::Staff(Staff::Read { then: None })),
    );
    home.take(Some(DORA), &decision);
}

#[test]
fn until_it_is_read_every_command_but_an_alarm_gets_the_primer_and_does_nothing() {
    for role in ["aide", "nurse"] {
        let home = let_in(role);
        for command in COMMANDS {
            for example in command.examples {
                let said = Said::Command {
                    path: command.path.to_owned(),
                    options: commands::parse::typed(command, example).expect("an example"),
                };
                let decision = dora(&home, Lang::English, &said);
                let raises = matches!(command.path, "alarm" | "outage");
                // An example names a surface that this home may not have: then nothing is raised, and it says so.
                if raises && decision.entries.is_empty() {
                    assert!(!is_primer(&decision), "{example}");
                    continue;
                }
                // What cannot be read is no question yet.
                if command.options.iter().any(|option| {
                    matches!(
                        option.takes,
                        commands::table::Takes::Person | commands::table::Takes::File
                    )
                }) {
                    assert!(decision.entries.is_empty(), "{example}");
                    continue;
                }
                assert!(is_primer(&decision), "{role} {example}");
                assert_eq!(decision.entries.is_empty(), !raises, "{role} {example}");
                assert_eq!(decision.posts.is_empty(), !raises, "{role} {example}");
            }
        }
    }
}

#[test]
fn an_alarm_is_raised_before_the_primer() {
    let home = let_in("aide");
    let surface = ("surface", text("LW-01"));
    for said in [
        command("alarm", std::slice::from_ref(&surface)),
        command("handcheck", &[surface, ("air", text("0"))]),
    ] {
        let decision = dora(&home, Lang::English, &said);
        let opened = |body: &Body| matches!(body, Body::AlarmOpened { .. });
        assert!(decision.entries.iter().any(|entry| opened(&entry.body)));
        assert!(is_primer(&decision), "{}", answer_text(&decision));
        assert!(answer_text(&decision).chars().count() <= TEXT_CHARS_MAX);
    }
}

/// What a phone of 390 by 844 has room for beside its head and its button, as `tests/tests/page.rs` measures it: so many rows of
/// some 42 characters, whatever the surfaces of the home are. Spanish is longer, and is not measured there.
#[test]
fn the_primer_fits_a_phone() {
    let mut home = let_in("aide");
    let profiles = "profile,class,kind,check,filter\nA,overlay,alternating,hand,none\nB,replacement,low-air-loss,look-and-feel,none\n\
                    C,integrated,both,none,none\n";
    let file = commands::said::FileRef {
        name: "p.csv".into(),
        url: String::new(),
        size: 9,
    };
    let imported = Said::Fetched {
        path: "fleet import".to_owned(),
        options: [
            ("what".to_owned(), text("profiles")),
            ("file".to_owned(), Value::File(file)),
        ]
        .into(),
        file: Ok(profiles.as_bytes().to_vec()),
    };
    let decision = home.ask(Role::Supervisor, &imported);
    assert!(!decision.entries.is_empty(), "{}", answer_text(&decision));
    home.take(Some(Person(1_003)), &decision);
    for (tag, profile, bed) in [
        ("X-1", "A", "103"),
        ("X-2", "B", "104"),
        ("X-3", "C", "105"),
    ] {
        home.does(
            Role::Supervisor,
            "fleet add",
            &[
                ("tag", text(tag)),
                ("profile", text(profile)),
                ("tested", text("2026-01-15")),
            ],
        );
        home.does(
            Role::Nurse,
            "place",
            &[("surface", text(tag)), ("bed", text(bed))],
        );
    }
    for (role, lang) in [
        ("aide", Lang::English),
        ("nurse", Lang::English),
        ("aide", Lang::Spanish),
    ] {
        let shift = [picked(), ("role", text(role)), ("until", text("8 h"))];
        home.does(Role::Supervisor, "agency", &shift);
        let decision = dora(&home, lang, &command("due", &[]));
        let text = answer_text(&decision);
        // A moment is shown as `15:30`.
        let shown = match text.split_once("<t:") {
            Some((before, rest)) => {
                let after = rest.split_once('>').map_or("", |(_, after)| after);
                format!("{before}15:30{after}")
            }
            None => text.to_owned(),
        };
        let most = if lang == Lang::English { 13 } else { 16 };
        let rows: usize = shown
            .lines()
            .map(|line| line.replace(['`', '*'], "").chars().count().div_ceil(42))
            .sum();
        assert!(rows <= most, "{role}: {rows} rows:\n{text}");
        assert_eq!(text.lines().count(), 9, "each kind has its line: {text}");
    }
}

#[test]
fn a_shift_is_over_at_its_moment_and_not_before() {
    let mut home = let_in("aide");
    has_read(&mut home);
    let over = |decision: &Decision| {
        answer_text(decision).starts_with("You were let in until") && decision.entries.is_empty()
    };
    let check = command(
        "handcheck",
        &[("surface", text("LW-01")), ("air", text("1 1/4"))],
    );
    home.now += TimeDelta::hours(8) - TimeDelta::milliseconds(1);
    assert!(!dora(&home, Lang::English, &check).entries.is_empty());
    home.now += TimeDelta::milliseconds(1);
    assert!(over(&dora(&home, Lang::English, &check)));
    assert!(over(&dora(
        &home,
        Lang::English,
        &tapped(Tap::Staff(Staff::Read { then: None }))
    )));
}

/// Every command, as soon as the shift is over and as long as an alarm may still be raised: nothing else leaves a mark, and each
/// refusal says who can let them in. After that, alarms are refused as well, and it says to call by voice.
#[test]
fn after_a_shift_an_alarm_goes_out_for_a_while_and_nothing_else() {
    let mut home = let_in("aide");
    has_read(&mut home);
    home.now += TimeDelta::hours(8);
    let last = home.now + ALARM_AFTER_SHIFT;
    let said = || {
        COMMANDS.iter().flat_map(|command| {
            command.examples.iter().map(|example| {
                let options = commands::parse::typed(command, example).expect("an example");
                let path = command.path.to_owned();
                (command.path, Said::Command { path, options })
            })
        })
    };
    for at in [
        home.now,
        last - TimeDelta::milliseconds(1),
        last,
        last + TimeDelta::days(30),
    ] {
        home.now = at;
        for (path, said) in said() {
            let decision = dora(&home, Lang::English, &said);
            let text = answer_text(&decision);
            let raises = matches!(path, "alarm" | "outage") && at < last;
            if path == "help" || raises {
                continue;
            }
            let (over, who) = (
                text.contains("You were let in until"),
                text.contains("/agency"),
            );
            // A name that is typed and not picked, or a file that is not there, is no question yet.
            let unread = ["Pick somebody from the chat's list", "**file** is missing"];
            let unread = unread.iter().any(|says| text.contains(says));
            assert!(over && who || unread, "{path}: {text}");
            let mark = !decision.entries.is_empty() || !decision.posts.is_empty();
            assert!(!mark, "{path}: {text}");
            assert_eq!(
                text.contains("`/alarm` still works"),
                over && at < last,
                "{path}"
            );
        }
    }
    home.now = last - TimeDelta::minutes(1);
    let alarm = command("alarm", &[("surface", text("LW-01"))]);
    let raised = dora(&home, Lang::English, &alarm);
    let call = &raised.posts[0].message;
    assert!(
        call.text.contains("Their shift had ended at"),
        "{}",
        call.text
    );
    assert!(!call.ping_roles.is_empty() || !call.ping_people.is_empty());
    let own = answer_text(&raised);
    assert!(own.contains("Your shift ended at"), "{own}");
    assert!(own.contains("/agency"), "{own}");
    // They may say of which kind it is, and are offered nothing that would be refused.
    assert!(buttons(&raised).is_empty(), "{:?}", buttons(&raised));
    let menus = common::answer_message(&raised).map(|message| message.rows.len());
    assert_eq!(menus, Some(1));
    home.take(Some(DORA), &raised);
    let again = dora(&home, Lang::English, &alarm);
    assert!(again.entries.is_empty() && answer_text(&again).contains("Your shift ended at"));
    assert!(buttons(&again).is_empty(), "{:?}", buttons(&again));
    // Who is let in again, or is of the home, is nobody whose shift ended.
    let shift = [picked(), ("role", text("aide")), ("until", text("8 h"))];
    home.does(Role::Supervisor, "agency", &shift);
    let again = dora(&home, Lang::English, &alarm);
    assert!(!answer_text(&again).contains("Your shift ended"));
}

#[test]
fn only_members_of_the_guild_are_taken_and_nobodys_name_is_read() {
    let mut home = Home::set_up();
    let rest = [("role", text("aide")), ("until", text("8 h"))];
    for (person, begins) in [
        (Value::Person(Picked::Program(DORA)), "That is a program"),
        (
            Value::Person(Picked::Outside(DORA)),
            "That person is not in",
        ),
        (text("Dora Lind"), "Pick somebody from the chat's list"),
    ] {
        let mut options = vec![("person", person)];
        options.extend(rest.clone());
        let decision = home.ask(Role::Supervisor, &command("agency", &options));
        assert!(answer_text(&decision).starts_with(begins), "{begins}");
        assert!(decision.entries.is_empty() && decision.posts.is_empty());
    }
}

#[test]
fn whoever_is_let_in_is_the_only_one_who_is_called() {
    let mut home = Home::set_up();
    let elm = Channel(301);
    let unit = [
        ("name", text("Elm")),
        ("beds", text("101-106")),
        ("channel", Value::Channel(elm)),
    ];
    home.does(Role::Admin, "facility unit", &unit);
    let shift = [
        picked(),
        ("role", text("aide")),
        ("until", text("8 h")),
        ("unit", text("Elm")),
    ];
    let decision = home.does(Role::Supervisor, "agency", &shift);
    let [post] = decision.posts.as_slice() else {
        panic!("one post")
    };
    assert_eq!(post.channel, elm);
    assert_eq!(post.message.ping_people, [DORA]);
    assert!(post.message.ping_roles.is_empty());
}

#[test]
fn a_sign_off_holds_through_its_last_day() {
    let mut home = Home::set_up();
    let on = [("name", text("sign-off-wanted")), ("value", text("on"))];
    home.does(Role::Supervisor, "facility policy", &on);
    // The aide of this home.
    let aide = Person(1_000 + Role::Aide as u64);
    let signed = [
        ("person", Value::Person(Picked::member(aide))),
        ("task", text("hand-check")),
        ("profile", text("general")),
        ("renew", text("2026-03-04")),
    ];
    home.does(Role::Supervisor, "signoff", &signed);
    let check = command(
        "handcheck",
        &[("surface", text("LW-01")), ("air", text("1 1/4"))],
    );
    let wanted = |decision: &Decision| {
        let of = |body: &Body| {
            matches!(
                body,
                Body::SecondCheckWanted {
                    task: Task::HandCheck,
                    ..
                }
            )
        };
        decision.entries.iter().any(|entry| of(&entry.body))
    };
    // 2026-03-04 23:59 and 2026-03-05 00:00 in Chicago.
    let at = |home: &mut Home, moment: &str| {
        home.now = moment.parse().expect("a moment");
    };
    at(&mut home, "2026-03-05T05:59:59Z");
    assert!(!wanted(&home.ask(Role::Aide, &check)));
    at(&mut home, "2026-03-05T06:00:00Z");
    let decision = home.ask(Role::Aide, &check);
    assert!(wanted(&decision));
    // The reading is kept all the same, in the same decision.
    let kept = |body: &Body| matches!(body, Body::HandChecked { .. });
    assert!(kept(&decision.entries[0].body));
}

#[test]
fn what_is_kept_of_rounds_stays_small() {
    let mut home = Home::set_up();
    for turn in 0..400 {
        let tag = ["LW-01", "LW-02"][turn % 2];
        home.now += TimeDelta::seconds(25);
        home.does(
            Role::Aide,
            "handcheck",
            &[("surface", text(tag)), ("air", text("1 1/4"))],
        );
    }
    let pace = home.state.staff.rounds.values().next().expect("a round");
    assert_eq!((pace.checks, pace.gaps.len()), (400, GAPS_KEPT));
    // A round that is over is forgotten when the next one begins.
    home.now += TimeDelta::hours(2);
    home.does(
        Role::Nurse,
        "handcheck",
        &[("surface", text("LW-01")), ("air", text("1 1/4"))],
    );
    assert_eq!(home.state.staff.rounds.len(), 1);
}

/// As the platform's clock has it: gaps are judged to the millisecond, and one person's round is no other's.
#[test]
fn two_people_in_one_unit_are_two_rounds() {
    let mut home = Home::set_up();
    let three = [("name", text("pace-checks")), ("value", text("3"))];
    home.does(Role::Supervisor, "facility policy", &three);
    let mut said = 0;
    for (role, tag) in [
        (Role::Aide, "LW-01"),
        (Role::Nurse, "LW-02"),
        (Role::Aide, "LW-02"),
        (Role::Nurse, "LW-01"),
    ] {
        home.now += TimeDelta::milliseconds(4_900);
        let decision = home.does(
            role,
            "handcheck",
            &[("surface", text(tag)), ("air", text("1 1/4"))],
        );
        let of = |body: &Body| matches!(body, Body::PaceSaid { .. });
        said += decision
            .entries
            .iter()
            .filter(|entry| of(&entry.body))
            .count();
    }
    assert_eq!(said, 0, "two checks each are no three in a row");
    home.now += TimeDelta::milliseconds(10_199);
    let decision = home.does(
        Role::Aide,
        "handcheck",
        &[("surface", text("LW-01")), ("air", text("1 1/4"))],
    );
    let Some(Body::PaceSaid {
        person,
        checks,
        lasted_ms,
        middle_ms,
        limit,
        ..
    }) = decision.entries.last().map(|entry| &entry.body)
    else {
        panic!("it is pointed out")
    };
    assert_eq!(*person, Person(1_000 + Role::Aide as u64));
    // 9.8 s and 15.099 s between three checks: 24.899 s in all, the middle of two is half their sum (12.4495 s).
    assert_eq!((*checks, *lasted_ms, *limit), (3, 24_899, 20));
    assert_eq!(*middle_ms, 12_450);
    assert!(
        answer_text(&decision)
            .lines()
            .all(|line| !line.contains("apart"))
    );
}
