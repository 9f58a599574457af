//! What single answers say, and from where on: sentences that no longer conversation comes by.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

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
