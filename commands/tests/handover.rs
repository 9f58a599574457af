//! A handover fits on a phone however much there is to say, and loses nothing: what does not fit is counted and can be
//! opened. Ladders pass over rungs that would ask nobody new.

mod common;

use commands::Decision;
use commands::decision::Post;
use commands::due::{CHARS_MOST, LINES_MOST};
use commands::ids::{ChatRole, Person};
use commands::role::Role;
use common::{Home, answer_text, buttons, text};
use regex::Regex;

/// What is seen of a text on a phone: no markup, a time as 02:10 PM, a name as @Noor R.
fn seen(text: &str) -> String {
    let written_out = Regex::new(r"<[^>]*>").expect("a pattern");
    written_out
        .replace_all(&text.replace("**", ""), "12345678")
        .into_owned()
}

/// Lines as 390 px break them: some 42 characters of 16 px beside the picture of whoever wrote.
fn lines(text: &str) -> usize {
    seen(text)
        .lines()
        .map(|line| line.chars().count().div_ceil(42).max(1))
        .sum()
}

#[test]
fn whatever_happened_fits_on_one_screen_and_the_rest_is_counted() {
    let mut home = Home::set_up();
    home.does(
        Role::Admin,
        "facility unit",
        &[("name", text("Elm")), ("beds", text("101-160"))],
    );
    for number in 10..50 {
        let tag = format!("LW-{number}");
        home.does(
            Role::Supervisor,
            "fleet add",
            &[
                ("tag", text(&tag)),
                ("profile", text("general")),
                ("tested", text("2026-01-15")),
            ],
        );
        let bed = format!("1{number}");
        home.does(
            Role::Nurse,
            "place",
            &[("surface", text(&tag)), ("bed", text(&bed))],
        );
        home.does(
            Role::Aide,
            "handcheck",
            &[("surface", text(&tag)), ("air", text("3/4"))],
        );
    }
    home.passes(120);
    let card = home.ask(
        Role::Nurse,
        &common::command("handover", &[("unit", text("Elm"))]),
    );
    let shown = answer_text(&card).to_owned();
    assert!(
        lines(&shown) <= LINES_MOST,
        "{} lines:\n{shown}",
        lines(&shown)
    );
    assert!(seen(&shown).chars().count() <= CHARS_MOST);
    let rest = buttons(&card)
        .into_iter()
        .find(|id| id.starts_with("duty|rest"))
        .expect("the rest can be opened");
    let opened = home.taps(Role::Nurse, &rest, &[]);
    let more = answer_text(&opened);
    for number in 10..20 {
        assert!(
            shown.contains(&format!("LW-{number}")) || more.contains(&format!("LW-{number}")),
            "LW-{number} is lost"
        );
    }
}

/// The posts that ring somebody, with whom: roles of the chat, then people.
fn rings(decisions: &[Decision]) -> Vec<(Vec<ChatRole>, Vec<Person>)> {
    let posts = decisions.iter().flat_map(|decision| &decision.posts);
    posts
        .filter(|post: &&Post| {
            !post.message.ping_roles.is_empty() || !post.message.ping_people.is_empty()
        })
        .map(|post| {
            (
                post.message.ping_roles.clone(),
                post.message.ping_people.clone(),
            )
        })
        .collect()
}

/// Aides are 101, nurses 102, supervisors 103. Once the ladder begins again it calls aides and nurses at once; the rung of
/// aides and nurses would ask nobody new, so the one after it is asked at its minute.
#[test]
fn a_rung_that_asks_nobody_new_is_passed_over() {
    let mut home = Home::set_up();
    home.does(Role::Aide, "alarm", &[("surface", text("LW-01"))]);
    let no = home.state.alarms.keys().next().copied().expect("an alarm");
    home.taps(Role::Aide, &format!("take|{no}"), &[]);
    let after = rings(&home.passes(21));
    let role = |number| ChatRole(number);
    assert_eq!(
        after,
        [
            (vec![role(101), role(102)], vec![]),
            (vec![role(102), role(103)], vec![]),
            (vec![role(101), role(102), role(103)], vec![]),
        ],
        "taken at minute 0, not safe at 10, then 15 and 20"
    );
}

/// Whoever has the unit is called by person; whoever had it is not.
#[test]
fn people_on_duty_are_called_and_nobody_whose_duty_is_over() {
    let mut home = Home::set_up();
    home.does(
        Role::Nurse,
        "duty",
        &[("unit", text("Elm")), ("until", text("30 min"))],
    );
    home.does(Role::Supervisor, "duty", &[("unit", text("Birch"))]);
    let nurse = Person(1_000 + Role::Nurse as u64);
    let low = home.does(
        Role::Aide,
        "handcheck",
        &[("surface", text("LW-01")), ("air", text("3/4"))],
    );
    assert_eq!(rings(&[low]), [(vec![], vec![nurse])]);
    home.passes(31);
    let low = home.does(
        Role::Aide,
        "handcheck",
        &[("surface", text("LW-02")), ("air", text("3/4"))],
    );
    assert_eq!(rings(&[low]), [(vec![ChatRole(102)], vec![])]);
}
