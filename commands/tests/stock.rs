//! The shelf over weeks: what is known of the use, when somebody is asked to order, and that they are asked once.

mod common;

use commands::Decision;
use commands::role::Role;
use commands::said::Value;
use common::{Home, answer_text, command, text};

const DAY: i64 = 24 * 60;

fn count(home: &mut Home, count: i64) -> Decision {
    let item = ("item", text("filter general"));
    let options = [item, ("count", Value::Whole(count))];
    home.does(Role::Upkeep, "stock", &options)
}

fn replaced(home: &mut Home) -> Decision {
    let options = [
        ("surface", text("LW-01")),
        ("finding", text("dusty")),
        ("action", text("replaced")),
    ];
    home.does(Role::Upkeep, "filter", &options)
}

fn asked_to_order(decision: &Decision) -> bool {
    decision
        .posts
        .iter()
        .any(|post| post.key.starts_with("stock:"))
}

fn about(home: &mut Home) -> String {
    let said = command("stock", &[("item", text("filter general"))]);
    answer_text(&home.ask(Role::Upkeep, &said)).to_owned()
}

/// Two a week over 28 days, 14 days of delivery: 4 are expected, and 8 are enough in 95 of 100 cases (scipy 1.17.1
/// `poisson.ppf(0.95, 4)` is 8).
#[test]
fn the_order_point_comes_from_the_use_and_somebody_is_asked_once() {
    let mut home = Home::set_up();
    count(&mut home, 18);
    for week in 0..4 {
        assert!(about(&mut home).contains("too little history"), "{week}");
        for _ in 0..2 {
            assert!(!asked_to_order(&replaced(&mut home)));
        }
        home.passes(7 * DAY - if week == 3 { DAY } else { 0 });
    }
    // 8 in 28 days, today being the 28th.
    let said = about(&mut home);
    assert!(said.contains("2.0 a week"), "{said}");
    assert!(said.contains("order at 8"), "{said}");
    assert!(said.contains("4.0 used"), "{said}");
    assert!(said.contains("10 on hand"), "{said}");
    // A use raises what is expected: 9 in 28 days are 4.5, and 8 are enough (scipy: ppf(0.95, 4.5) is 8).
    assert!(!asked_to_order(&replaced(&mut home)), "9 are left");
    // 10 in 28 days are 5: 9 are enough.
    let third = replaced(&mut home);
    assert!(asked_to_order(&third), "8 are left");
    assert!(!asked_to_order(&replaced(&mut home)), "asked already");
    assert!(about(&mut home).contains("order now"));
    let counted = count(&mut home, 40);
    assert!(!answer_text(&counted).contains("order now"));
    assert!(!asked_to_order(&replaced(&mut home)));
}

#[test]
fn an_empty_shelf_is_said_even_before_anything_is_known() {
    let mut home = Home::set_up();
    count(&mut home, 2);
    assert!(!asked_to_order(&replaced(&mut home)));
    assert!(asked_to_order(&replaced(&mut home)));
    assert!(!asked_to_order(&replaced(&mut home)));
    let said = about(&mut home);
    assert!(said.contains("1 more were used"), "{said}");
}

#[test]
fn a_filter_taken_back_is_on_the_shelf_again_unless_it_was_counted_since() {
    let mut home = Home::set_up();
    let on_hand = |home: &Home| home.state.stock["filter general"].on_hand;
    count(&mut home, 5);
    for counted_since in [false, true] {
        let first = home.state.next_no();
        replaced(&mut home);
        assert_eq!(on_hand(&home), 4);
        if counted_since {
            count(&mut home, 5);
        }
        let tap = commands::tap::Tap::TakeBack {
            first,
            tag: "LW-01".into(),
            then: commands::tap::Then::Beside,
        };
        home.taps(Role::Upkeep, &tap.id(), &[]);
        assert_eq!(on_hand(&home), 5);
    }
}
