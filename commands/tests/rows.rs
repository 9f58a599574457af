//! What the platform takes below a message: so many rows, so many buttons in each, words so long. One too many and the whole
//! message is refused, and whoever asked gets no answer at all.

mod common;

use commands::Decision;
use commands::message::{BUTTON_CHARS_MAX, BUTTONS_MAX, ROWS_MAX, Row};
use commands::role::Role;
use common::{Home, answer_message, buttons, command, text};

/// What stands below an answer holds to all of it.
fn fits(decision: &Decision) {
    let message = answer_message(decision).expect("a message");
    assert!(message.rows.len() <= ROWS_MAX, "{:?}", message.rows);
    for row in &message.rows {
        if let Row::Buttons(buttons) = row {
            assert!(
                (1..=BUTTONS_MAX).contains(&buttons.len()),
                "{} buttons in a row: {buttons:?}",
                buttons.len()
            );
            for button in buttons {
                let long = button.label.chars().count();
                assert!(long <= BUTTON_CHARS_MAX, "{}", button.label);
            }
        }
    }
}

fn label_of(decision: &Decision, starts: &str) -> String {
    let rows = &answer_message(decision).expect("a message").rows;
    let buttons = rows.iter().filter_map(|row| match row {
        Row::Buttons(buttons) => Some(buttons),
        Row::Menu(_) => None,
    });
    let mut labels = buttons.flatten().map(|button| button.label.clone());
    labels
        .find(|label| label.starts_with(starts))
        .unwrap_or_else(|| panic!("no {starts} in {rows:?}"))
}

/// Everything at once of which a surface's card offers the next step.
#[test]
fn a_card_with_more_than_a_row_of_buttons_goes_on_in_the_next() {
    let mut home = Home::set_up();
    home.has_rented("VR-01");
    home.does(
        Role::Supervisor,
        "rental start",
        &[("surface", text("VR-01")), ("rate", text("41"))],
    );
    // Its arrival check is wanting, and it is placed all the same.
    let place = command("place", &[("surface", text("VR-01")), ("bed", text("103"))]);
    let asked = home.ask(Role::Nurse, &place);
    home.taps(Role::Nurse, &buttons(&asked)[0], &[]);
    home.does(Role::Aide, "alarm", &[("surface", text("VR-01"))]);
    home.does(
        Role::Aide,
        "static",
        &[("surface", text("VR-01")), ("until", text("45 min"))],
    );
    let decision = home.ask(
        Role::Supervisor,
        &command("surface", &[("surface", text("VR-01"))]),
    );
    fits(&decision);
}

#[test]
fn a_change_for_a_whole_unit_names_one_bed_on_its_button_and_how_many_more() {
    let all = "301A,302B,303C,304D,305E,306F,307G,308H,309J,310K,311L,312M";
    let mut home = Home::set_up();
    home.does(
        Role::Admin,
        "facility unit",
        &[("name", text("Oak")), ("beds", text(all))],
    );
    home.does(
        Role::Supervisor,
        "facility frame",
        &[("beds", text(all)), ("approved", text("general"))],
    );
    // What widens it waits for a supervisor, where an admin asks.
    home.does(
        Role::Admin,
        "facility frame",
        &[("beds", text(all)), ("approved", text("all"))],
    );
    for path in ["due", "facility show"] {
        let list = home.ask(Role::Supervisor, &command(path, &[]));
        fits(&list);
        assert_eq!(
            label_of(&list, "Agree"),
            "Agree: Surfaces approved for 301A and 11 more"
        );
    }
}
