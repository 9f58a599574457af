//! What single answers say, and from where on: sentences that no longer conversation comes by.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use commands::Said;
use commands::ids::Person;
use commands::role::Role;
use commands::said::Value;
use common::{Home, answer_text, command, text};

fn lines(home: &mut Home, role: Role, path: &str, options: &[(&str, &str)]) -> Vec<String> {
    let options: Vec<(&str, Value)> = options.iter().map(|(name, of)| (*name, text(of))).collect();
    let decision = home.ask(role, &command(path, &options));
    answer_text(&decision).lines().map(str::to_owned).collect()
}

/// Which of the lines that name what a home lacks are there.
fn lacking(home: &mut Home) -> Vec<String> {
    let said = lines(home, Role::Admin, "facility show", &[]);
    let lack = said.iter().filter(|line| line.starts_with("- "));
    lack.take_while(|line| line.contains(": "))
        .map(|line| line[2..].split(':').next().unwrap().to_owned())
        .collect()
}

#[test]
fn what_a_home_lacks_goes_from_the_list_as_it_is_done() {
    let mut home = Home::set_up();
    let with_list = lacking(&mut home);
    assert_eq!(
        with_list,
        [
            "The home's disinfectants",
            "Where soiled and ready surfaces stand"
        ]
    );
    let schedule = |home: &mut Home, what: &str, when: &str| {
        let options = [("what", text(what)), ("when", text(when))];
        home.does(Role::Admin, "facility schedule", &options);
    };
    // A summary is no due list.
    home.fact(r#"{"k":"schedule-dropped","name":"due-list"}"#);
    schedule(&mut home, "summary", "daily 06:45");
    let without = lacking(&mut home);
    assert_eq!(without[0], "The due list at each shift");
    assert_eq!(without[1..], with_list);
    schedule(&mut home, "due-list", "every 8h from 07:00");
    assert_eq!(lacking(&mut home), with_list);
}

/// The next test may be ten years after this one, and not a day more: what is later was mistyped.
#[test]
fn the_next_test_is_not_too_far_ahead() {
    let mut home = Home::set_up();
    let mut next = |day: &str| {
        let options = [
            ("surface", text("LW-01")),
            ("work", text("maintenance")),
            ("result", text("passed")),
            ("on", text("2026-02-20")),
            ("next", text(day)),
        ];
        home.ask(Role::Upkeep, &command("service", &options))
            .entries
            .len()
    };
    assert_eq!((next("2026-02-20"), next("2026-02-21")), (0, 1));
    assert_eq!((next("2036-02-20"), next("2036-02-21")), (1, 0));
}

#[test]
fn where_ready_surfaces_stand_is_said_where_there_is_one() {
    let mut home = Home::set_up();
    let dirty = ("dirty", text("utility room"));
    let storage = [dirty, ("clean", text("store B"))];
    home.does(Role::Supervisor, "facility storage", &storage);
    let says = |home: &mut Home, kind: &str| {
        let said = lines(home, Role::Nurse, "match", &[("kind", kind)]);
        said.iter().any(|line| line.ends_with("store B"))
    };
    assert!(says(&mut home, "alternating"));
    assert!(!says(&mut home, "low-air-loss"));
    home.does(
        Role::Aide,
        "pull",
        &[("surface", text("LW-04")), ("fault", text("cord"))],
    );
    assert!(!says(&mut home, "alternating"), "none is ready");
}

/// Nobody would be known to hold it, and a call to it rings no phone.
#[test]
fn the_chats_own_role_of_everybody_is_no_role_of_the_home() {
    let mut home = Home::set_up();
    for option in ["aide", "nurse", "supervisor", "upkeep"] {
        let decision = home.ask(
            Role::Admin,
            &command("facility setup", &[(option, Value::Everybody)]),
        );
        assert!(decision.entries.is_empty(), "{option}");
        let said = answer_text(&decision);
        assert!(
            said.starts_with(&format!("**{option}**: `@everyone` is no role to choose.")),
            "{said}"
        );
    }
}

/// Whoever is in the chat can mention the bot: of a card that names people and says what they noted, they read nothing.
#[test]
fn of_what_is_open_somebody_without_a_role_hears_no_more_than_that() {
    let mut home = Home::set_up();
    let note = "hissing at the foot end";
    home.does(
        Role::Aide,
        "alarm",
        &[("surface", text("LW-01")), ("note", text(note))],
    );
    home.does(Role::Aide, "outage", &[("unit", text("Birch"))]);
    for (typed, open) in [
        ("LW-01 low pressure", true),
        ("LW-01 is flat, the hose came off", true),
        ("LW-01 hose came off, plugged it back in", true),
        ("LW-01 is beeping", false),
        ("no power in Birch", true),
    ] {
        let said = Said::Mention {
            text: typed.to_owned(),
            files: false,
        };
        let member = home.ask_by(Person(7), &[101], &said);
        assert!(answer_text(&member).len() > 1, "{typed}");
        let stranger = home.ask_by(Person(8), &[], &said);
        let told = answer_text(&stranger);
        assert!(
            !told.contains(note) && !told.contains("<@1"),
            "{typed}: {told}"
        );
        assert_eq!(told.contains("already, since"), open, "{typed}: {told}");
    }
}

/// The same signs as in a file of beds: what reads as markup or as a mention stands in no list's head.
#[test]
fn a_units_name_has_the_signs_that_a_file_may_have() {
    let mut home = Home::set_up();
    let mut named = |name: &str| {
        let options = [("name", text(name)), ("beds", text("301-304"))];
        let decision = home.ask(Role::Admin, &command("facility unit", &options));
        !decision.entries.is_empty()
    };
    for name in ["Oak", "East (2nd)", "2/B & C", "Encina-Ñ"] {
        assert!(named(name), "{name}");
    }
    for name in ["**Oak**", "<@7>", "`Oak`", "Oak|2", "()", "Oak\nElm"] {
        assert!(!named(name), "{name}");
    }
}

#[test]
fn what_a_vendor_writes_as_its_number_is_no_markup() {
    let mut home = Home::set_up();
    home.has_rented("VR-01");
    let start = [
        ("surface", text("VR-01")),
        ("rate", text("41")),
        ("reference", text("*77*")),
    ];
    home.does(Role::Supervisor, "rental start", &start);
    let stop = home.does(
        Role::Supervisor,
        "rental stop",
        &[("surface", text("VR-01"))],
    );
    assert!(
        answer_text(&stop).contains(r"\*77\*"),
        "{}",
        answer_text(&stop)
    );
}
