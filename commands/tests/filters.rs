//! Filters, as those hear of them who look: what is dirty already has no chance to become so, and a rinse makes none new. Words and days
//! are worked out by hand beside each check.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use commands::role::Role;
use common::{Home, answer_message, answer_text, buttons, command, text};

/// A home with a rinsable filter under a bed, new on the day that it came.
fn rinsable() -> Home {
    let mut home = Home::set_up();
    let profile = commands::record::Profile {
        filter: commands::choice::FilterKind::Rinsable,
        ..home.state.profiles["general"].clone()
    };
    let record = commands::record::Record {
        no: home.state.next_no(),
        at: home.now,
        entered: home.now,
        who: None,
        role: Role::Clock,
        first: home.state.next_no(),
        body: commands::record::Body::ProfileSet(Box::new(profile)),
        note: None,
    };
    home.state.apply(&record).unwrap();
    home.log.push(record);
    home
}

fn looked(home: &mut Home, tag: &str, finding: &str, action: &str) -> String {
    let options = [
        ("surface", text(tag)),
        ("finding", text(finding)),
        ("action", text(action)),
    ];
    answer_text(&home.does(Role::Upkeep, "filter", &options)).to_owned()
}

fn days(home: &mut Home, days: i64) {
    home.passes(days * 24 * 60);
}

/// The card, and what is behind its why, with the words of the picture.
fn card_and_why(home: &mut Home, tag: &str) -> (String, String) {
    let card = home.ask(Role::Upkeep, &command("surface", &[("surface", text(tag))]));
    let ids = buttons(&card);
    let why = ids.iter().find(|id| id.contains("cycle"));
    let why = home.taps(Role::Upkeep, why.expect("a why"), &[]);
    let drawn = answer_message(&why).and_then(|message| message.picture.clone());
    let words = drawn.map_or_else(String::new, |picture| picture.text);
    let why = format!("{}\n{words}", answer_text(&why));
    (answer_text(&card).to_owned(), why)
}

/// Looks every ten days at two others that were dirty then leave enough to draw a line; the third is found dusty and left.
#[test]
fn what_is_dirty_and_left_in_has_no_chance_to_become_so() {
    let mut home = Home::set_up();
    for _ in 0..5 {
        days(&mut home, 7);
        looked(&mut home, "LW-02", "clean", "left");
        looked(&mut home, "LW-01", "clean", "left");
        days(&mut home, 3);
        looked(&mut home, "LW-02", "dusty", "replaced");
    }
    let (_, why) = card_and_why(&mut home, "LW-01");
    assert!(why.contains("Dirty before the next look"), "{why}");
    // Fifty days after it came.
    looked(&mut home, "LW-01", "dusty", "left");
    let (card, why) = card_and_why(&mut home, "LW-01");
    let left = "**Found dusty on day 50 of its use and left in: change it.**";
    assert!(card.contains(left), "{card}");
    assert!(why.contains(left), "{why}");
    assert!(why.contains("This one was found dusty on day 50"), "{why}");
    for wrong in [
        "was clean on day",
        "Dirty before the next look",
        "As they were seen",
    ] {
        assert!(!why.contains(wrong), "{why}");
    }
    looked(&mut home, "LW-01", "dusty", "replaced");
    let (card, _) = card_and_why(&mut home, "LW-01");
    assert!(!card.contains("left in"), "{card}");
}

/// The usual limit is 90 days: a rinse on day 60 leaves 30 of them.
#[test]
fn a_rinse_makes_no_filter_new() {
    let mut home = rinsable();
    looked(&mut home, "LW-01", "clean", "replaced");
    let new = home.state.surfaces["LW-01"].filter_changed;
    assert!(new.is_some());
    days(&mut home, 60);
    looked(&mut home, "LW-01", "dusty", "rinsed");
    let rinsed = home.state.surfaces["LW-01"].clone();
    assert_eq!(rinsed.filter_changed, new);
    assert_eq!(
        (rinsed.filter_renewed.unwrap() - new.unwrap()).num_days(),
        60
    );
    let export = home.ask(Role::Supervisor, &command("fleet export", &[]));
    let file = &answer_message(&export).unwrap().files[0].text;
    let row = file
        .lines()
        .find(|line| line.starts_with("LW-01,"))
        .unwrap();
    assert!(row.contains(&new.unwrap().to_string()), "{row}");
    assert!(
        !row.contains(&rinsed.filter_renewed.unwrap().to_string()),
        "{row}"
    );
    let report = home.ask(
        Role::Supervisor,
        &command("report", &[("period", text("last 7 days"))]),
    );
    let files = &answer_message(&report).unwrap().files;
    let page = &files
        .iter()
        .find(|file| file.name.ends_with(".html"))
        .unwrap()
        .text;
    let row = page
        .lines()
        .find(|line| line.contains("LW-01") && line.contains("rinsed"));
    let row = row.unwrap_or_else(|| panic!("no row of a rinse: {page}"));
    for day in [new, rinsed.filter_renewed] {
        assert!(row.contains(&day.unwrap().to_string()), "{row}");
    }
    days(&mut home, 30);
    let card = home.ask(
        Role::Upkeep,
        &command("surface", &[("surface", text("LW-01"))]),
    );
    let over = "Its filter is 90 days old, and its maker's limit is 90: change it.";
    assert!(answer_text(&card).contains(over), "{}", answer_text(&card));
    // Neither another rinse nor one that is taken back moves that day.
    looked(&mut home, "LW-01", "dusty", "rinsed");
    let card = home.ask(
        Role::Upkeep,
        &command("surface", &[("surface", text("LW-01"))]),
    );
    assert!(answer_text(&card).contains(over), "{}", answer_text(&card));
    looked(&mut home, "LW-01", "dusty", "replaced");
    let card = home.ask(
        Role::Upkeep,
        &command("surface", &[("surface", text("LW-01"))]),
    );
    assert!(
        !answer_text(&card).contains("change it"),
        "{}",
        answer_text(&card)
    );
}
