//! What is reckoned from the home's own records: when surfaces were in use, what that says of owning and of how many to own,
//! the same for whoever asks; and a mixture's last hour.

mod common;

use chrono::{DateTime, TimeDelta, Utc};
use commands::choice::ReleaseReason;
use commands::decision::{Decision, Entry};
use commands::past::stays::{Stay, stays};
use commands::past::{USE_KINDS, Wanted};
use commands::record::{Body, Fault};
use commands::role::Role;
use commands::said::Value;
use commands::words::Lang;
use common::{Home, answer_text, buttons, command, text};

const DAY: i64 = 24 * 60;

/// Facts that happen now, as one event made them.
fn facts(home: &mut Home, bodies: Vec<Body>) {
    let at = home.now;
    let entries = bodies.into_iter().map(|body| Entry {
        at,
        role: Role::Nurse,
        body,
        note: None,
    });
    let decision = Decision {
        entries: entries.collect(),
        ..Decision::default()
    };
    home.take(None, &decision);
}

fn placed(home: &mut Home, tag: &str, bed: &str) {
    let body = Body::Placed {
        tag: tag.into(),
        bed: bed.into(),
        instead_of: None,
    };
    facts(home, vec![body]);
}

fn released(home: &mut Home, tag: &str) {
    let body = Body::Released {
        tag: tag.into(),
        reason: ReleaseReason::Discharge,
    };
    facts(home, vec![body]);
}

fn readied(home: &mut Home, tag: &str) {
    facts(home, vec![Body::Readied { tag: tag.into() }]);
}

fn pulled(home: &mut Home, tag: &str) {
    let fault = Fault::Hose;
    facts(
        home,
        vec![Body::Pulled {
            tag: tag.into(),
            fault,
        }],
    );
}

/// Time passes, and nothing is asked of anybody.
fn days(home: &mut Home, days: i64) {
    home.now += TimeDelta::minutes(days * DAY);
}

fn of(home: &Home, since: DateTime<Utc>, tag: &str) -> Vec<(i64, Option<i64>, Option<i64>, bool)> {
    let mut read = Vec::new();
    Wanted::Uses(since).with_pending(&mut read, &home.log);
    let day = |at: DateTime<Utc>| (at - since).num_days();
    stays(&read, &home.state, since)
        .into_iter()
        .filter(|stay| stay.tag == tag.into())
        .map(
            |Stay {
                 from,
                 asked,
                 left,
                 free,
                 ..
             }| { (from.map_or(-1, day), left.map(day), free.map(day), asked) },
        )
        .collect()
}

#[test]
fn a_use_lasts_until_the_surface_is_ready_again() {
    let mut home = Home::set_up();
    let since = home.now;
    days(&mut home, 1);
    placed(&mut home, "LW-04", "103");
    days(&mut home, 10);
    released(&mut home, "LW-04");
    assert_eq!(of(&home, since, "LW-04"), [(1, Some(11), None, true)]);
    days(&mut home, 2);
    readied(&mut home, "LW-04");
    placed(&mut home, "LW-04", "104");
    days(&mut home, 5);
    // Out of service where it is: its use goes on until it leaves the bed, and its repair is none.
    pulled(&mut home, "LW-04");
    days(&mut home, 1);
    released(&mut home, "LW-04");
    days(&mut home, 3);
    facts(
        &mut home,
        vec![Body::Returned {
            tag: "LW-04".into(),
        }],
    );
    days(&mut home, 1);
    readied(&mut home, "LW-04");
    let first = (1, Some(11), Some(13), true);
    let second = (13, Some(19), Some(19), true);
    assert_eq!(of(&home, since, "LW-04"), [first, second]);
    // Found wet inside in its turnover: from then on it is in repair.
    placed(&mut home, "LW-04", "104");
    days(&mut home, 4);
    released(&mut home, "LW-04");
    days(&mut home, 1);
    pulled(&mut home, "LW-04");
    days(&mut home, 9);
    let third = (23, Some(27), Some(28), true);
    assert_eq!(of(&home, since, "LW-04"), [first, second, third]);
}

#[test]
fn what_was_there_before_the_records_is_known_by_what_came_after() {
    let mut home = Home::set_up();
    let set_up = home.log.first().unwrap().entered;
    // From the whole log: LW-01 was placed after it came; nobody has used LW-04.
    assert_eq!(of(&home, set_up, "LW-01"), [(0, None, None, true)]);
    assert_eq!(of(&home, set_up, "LW-04"), []);
    days(&mut home, 1);
    let since = home.now;
    days(&mut home, 1);
    // Still there, gone since, and put out of service before it went.
    released(&mut home, "LW-02");
    pulled(&mut home, "LW-03");
    days(&mut home, 1);
    released(&mut home, "LW-03");
    assert_eq!(of(&home, since, "LW-01"), [(-1, None, None, false)]);
    assert_eq!(of(&home, since, "LW-02"), [(-1, Some(1), None, false)]);
    assert_eq!(of(&home, since, "LW-03"), [(-1, Some(2), Some(2), false)]);
    // In its turnover when the records begin; one that came soiled was in nobody's use.
    let since = home.now;
    days(&mut home, 2);
    assert_eq!(of(&home, since, "LW-02"), [(-1, Some(-1), None, false)]);
    readied(&mut home, "LW-02");
    assert_eq!(of(&home, since, "LW-02"), [(-1, Some(0), Some(2), false)]);
    assert_eq!(of(&home, since, "LW-05"), []);
    facts(
        &mut home,
        vec![Body::SurfaceRetired {
            tag: "LW-01".into(),
        }],
    );
    days(&mut home, 2);
    let before = since - TimeDelta::days(1);
    assert_eq!(of(&home, before, "LW-02"), [(-1, Some(0), Some(3), false)]);
}

#[test]
fn what_was_taken_back_never_was() {
    let mut home = Home::set_up();
    let since = home.now;
    days(&mut home, 1);
    let said = [("surface", text("LW-04")), ("bed", text("103"))];
    let placing = home.does(Role::Nurse, "place", &said);
    let back = buttons(&placing)
        .into_iter()
        .find(|id| id.starts_with("back|"));
    home.taps(Role::Nurse, &back.unwrap(), &[]);
    assert_eq!(of(&home, since, "LW-04"), []);
    days(&mut home, 1);
    placed(&mut home, "LW-04", "103");
    days(&mut home, 3);
    let said = [("surface", text("LW-04")), ("reason", text("discharge"))];
    let release = home.does(Role::Nurse, "release", &said);
    let back = buttons(&release)
        .into_iter()
        .find(|id| id.starts_with("back|"));
    home.taps(Role::Nurse, &back.unwrap(), &[]);
    days(&mut home, 1);
    assert_eq!(of(&home, since, "LW-04"), [(2, None, None, true)]);
}

#[test]
fn the_kinds_that_are_read_are_kinds_of_record() {
    let home = Home::set_up();
    for kind in ["surface-added", "placed"] {
        assert!(USE_KINDS.contains(&kind));
        assert!(home.log.iter().any(|record| record.body.kind() == kind));
    }
    let tag = || "LW-01".into();
    for (body, kind) in [
        (Body::SurfaceRetired { tag: tag() }, "surface-retired"),
        (Body::Readied { tag: tag() }, "readied"),
        (Body::PickupCalled { tag: tag() }, "pickup-called"),
    ] {
        assert!(body.kind() == kind && USE_KINDS.contains(&kind));
    }
}

/// Ten weeks in which somebody needs one each Monday for eleven days, and its turnover takes one more.
fn ten_weeks() -> Home {
    let mut home = Home::set_up();
    days(&mut home, 1);
    for week in 0..10 {
        let (tag, bed) = [("LW-04", "103"), ("LW-05", "104")][week % 2];
        if week == 1 {
            readied(&mut home, "LW-05");
        }
        placed(&mut home, tag, bed);
        days(&mut home, 4);
        if week > 0 {
            let (before, _) = [("LW-05", "104"), ("LW-04", "103")][week % 2];
            released(&mut home, before);
            days(&mut home, 1);
            readied(&mut home, before);
        } else {
            days(&mut home, 1);
        }
        days(&mut home, 2);
    }
    home
}

fn asks(home: &mut Home, role: Role, path: &str, options: &[(&str, Value)]) -> String {
    let decision = home.ask(role, &command(path, options));
    assert!(decision.entries.is_empty() && decision.posts.is_empty());
    answer_text(&decision).to_owned()
}

/// Three stand under beds all the time, one comes each week for eleven days and a day of turnover. Worked out by hand over
/// 70 days from the midnight after the register to the last: 3 x 70 + 9 x 11 + 6.7 days under a bed, of which 4.5 a day, and 9 of turnover.
#[test]
fn how_many_to_own_comes_from_the_records() {
    let mut home = ten_weeks();
    let said = asks(&mut home, Role::Supervisor, "fleet size", &[]);
    assert!(
        said.contains("on average 4.6 were in use in the last 70 days"),
        "{said}"
    );
    assert!(said.contains("You own **5**"), "{said}");
    let decision = home.ask(Role::Supervisor, &command("fleet size", &[]));
    let why = buttons(&decision).remove(0);
    let why = answer_text(&home.taps(Role::Supervisor, &why, &[])).to_owned();
    for part in [
        "If there were always one, **4.6** would be in use on average (95 of 100 sure: ",
        "Your records of 70 whole days: on average 4.5 of your own under a bed, 0 rented ones, 0.1 in their turnover",
        "9 ended in that time",
        "only 10 beds can ask",
    ] {
        assert!(why.contains(part), "{part}: {why}");
    }
    // The other command tells the same of the same days.
    let options = [("price", text("4200")), ("rental", text("38.50"))];
    let cost = home.ask(Role::Supervisor, &command("fleet cost", &options));
    let cost_why = buttons(&cost).remove(0);
    let cost_why = answer_text(&home.taps(Role::Supervisor, &cost_why, &[])).to_owned();
    assert!(
        cost_why.contains("On average 4.5 of 5 were under a bed"),
        "{cost_why}"
    );
    // Of one that is typed, the other is what placements and their ends say.
    let options = [("stay", text("12"))];
    let half = home.ask(Role::Supervisor, &command("fleet size", &options));
    let half = buttons(&half).remove(0);
    let half = answer_text(&home.taps(Role::Supervisor, &half, &[])).to_owned();
    assert!(
        half.contains("10 placements and 9 uses that ended in 70 days"),
        "{half}"
    );
    // The same for whoever may ask, and nothing for whoever may not.
    let admin = asks(&mut home, Role::Admin, "fleet size", &[]);
    assert_eq!(said, admin);
    for role in [Role::Aide, Role::Nurse, Role::Upkeep] {
        let no = asks(&mut home, role, "fleet size", &[]);
        assert!(no.contains("you need one of these roles"), "{no}");
    }
    // A stricter promise never needs fewer; each answer holds the number that the table calls enough.
    let mut before = 0;
    for shortfall in ["20", "10", "5", "2", "1", "0.5"] {
        let options = [("shortfall", text(shortfall))];
        let said = asks(&mut home, Role::Supervisor, "fleet size", &options);
        // "**Between 5 and 8 surfaces** keep the promise by what is on record, 6 most likely", or "**6 surfaces** keep".
        let need = match said.split_once(" most likely") {
            Some((before, _)) => before.rsplit(' ').next(),
            None => said.trim_start_matches('*').split(' ').next(),
        };
        let need: u32 = need.and_then(|word| word.parse().ok()).unwrap();
        assert!(need >= before, "{said}");
        before = need;
    }
}

/// 3 x 70 days, 9 x 11 and the 6.7 since the tenth came, of 5 x 70 days: 329 days of use a year.
#[test]
fn days_of_use_come_from_the_records_and_are_typed_over() {
    let mut home = ten_weeks();
    let price = ("price", text("$4,200"));
    let options = [price.clone(), ("rental", text("38.50"))];
    let said = asks(&mut home, Role::Supervisor, "fleet cost", &options);
    assert!(said.contains("yours were used **329**"), "{said}");
    assert!(
        said.contains(
            "From your records: used 329 days a year (of the last 70 days: 5 surfaces were your own at some time; today 5. Each day of each counted, they were yours for 350 days)"
        ),
        "{said}"
    );
    let same = asks(&mut home, Role::Admin, "fleet cost", &options);
    assert_eq!(said, same);
    let options = [
        price.clone(),
        ("rental", text("38.50")),
        ("days", text("12")),
    ];
    let said = asks(&mut home, Role::Supervisor, "fleet cost", &options);
    assert!(said.contains("so it is at **12**"), "{said}");
    assert!(!said.contains("From your records"), "{said}");
    assert!(
        said.contains("Your own records, not taken here: used 329 days a year"),
        "{said}"
    );
    // Money is for those who buy.
    for role in [Role::Aide, Role::Nurse, Role::Upkeep] {
        let no = asks(&mut home, role, "fleet cost", &options);
        assert!(no.contains("you need one of these roles"), "{no}");
    }
}

/// The median of an even number of them lies half way between the two in the middle, rounded up to a cent.
#[test]
fn what_renting_costs_is_the_median_of_what_is_paid() {
    let mut home = Home::set_up();
    let rented = |home: &mut Home, tag: &str, rate: &str| {
        let options = [
            ("tag", text(tag)),
            ("profile", text("general")),
            ("owned", text("rented")),
            ("tested", text("2026-01-15")),
        ];
        home.does(Role::Supervisor, "fleet add", &options);
        let options = [("surface", text(tag)), ("rate", text(rate))];
        home.does(Role::Supervisor, "rental start", &options);
        asks(
            home,
            Role::Supervisor,
            "fleet cost",
            &[("price", text("4200"))],
        )
    };
    for (tag, rate, median) in [
        ("LW-60", "20", "20.00"),
        ("LW-61", "38.51", "29.26"),
        ("LW-62", "25", "25.00"),
        ("LW-63", "90", "31.76"),
    ] {
        let said = rented(&mut home, tag, rate);
        let line = format!("rent {median} a day");
        assert!(said.contains(&line), "{said}");
    }
}

/// Nearly the bleach itself, in whatever it is measured.
#[test]
fn a_mixture_has_water_in_it() {
    let mut home = Home::set_up();
    for volume in ["1 L", "1 quart", "32 oz", "1 gallon"] {
        let options = [
            ("stock", text("6 %")),
            ("target", text("5.8 %")),
            ("volume", text(volume)),
        ];
        let said = asks(&mut home, Role::Aide, "mix", &options);
        assert!(
            said.contains("leaves no room for water"),
            "{volume}: {said}"
        );
    }
}

#[test]
fn three_days_of_records_say_nothing_yet() {
    let mut home = Home::set_up();
    days(&mut home, 3);
    let options = [("price", text("4200")), ("rental", text("38.50"))];
    let said = asks(&mut home, Role::Supervisor, "fleet cost", &options);
    assert!(said.contains("is not known yet: type `days`"), "{said}");
    assert!(said.contains("Only 2 days are on record"), "{said}");
    let said = asks(&mut home, Role::Supervisor, "fleet size", &[]);
    assert!(
        said.contains("Too little is on record: 2 days and 0 uses"),
        "{said}"
    );
    // Of a home without any surface nothing is on record at all.
    let mut empty = Home::empty();
    let said = asks(&mut empty, Role::Supervisor, "fleet size", &[]);
    assert!(!said.is_empty());
}

/// What is older than a year does not count, however much of it there is.
#[test]
fn a_year_is_looked_back_on() {
    let mut home = Home::set_up();
    days(&mut home, 700);
    let options = [("price", text("4200")), ("rental", text("38.50"))];
    let said = asks(&mut home, Role::Supervisor, "fleet cost", &options);
    // Three of five all year round.
    assert!(
        said.contains(
            "used 219 days a year (of the last 365 days: 5 surfaces were your own at some time; today 5. Each day of each counted, they were yours for 1,825 days)"
        ),
        "{said}"
    );
}

/// The rows of the table: how many, one in how many where it is said so, and what stands beside.
fn rows(said: &str) -> Vec<(u32, Option<f64>, String)> {
    let block = said.split("```").nth(1).expect("a table");
    let row = |line: &str| {
        let (count, rest) = line.trim().split_once(' ')?;
        let (share, mark) = rest
            .trim()
            .split_at_checked(18)
            .unwrap_or((rest.trim(), ""));
        let one = share.trim().strip_prefix("1 in ");
        Some((
            count.parse().ok()?,
            one?.trim().parse().ok(),
            mark.trim().to_owned(),
        ))
    };
    block.lines().filter_map(row).collect()
}

/// A row that breaks the promise never reads like it, and one that keeps it never reads as if it did not; one is always enough.
#[test]
fn odds_are_rounded_to_the_worse_side_of_the_promise() {
    let mut home = ten_weeks();
    let mut looked = 0;
    for (admissions, stay, shortfall) in [
        ("0.2", "40", "5"),
        ("0.3", "40", "5"),
        ("0.35", "40", "5"),
        ("0.35", "41", "5"),
        ("1", "9", "3"),
        ("1", "12", "3"),
        ("0.5", "33", "10"),
        ("2", "17", "2"),
    ] {
        let options = [
            ("admissions", text(admissions)),
            ("stay", text(stay)),
            ("shortfall", text(shortfall)),
            // More than the ten of this home: those who ask are many.
            ("beds", text("1000")),
        ];
        let said = asks(&mut home, Role::Supervisor, "fleet size", &options);
        let promise = 100.0 / shortfall.parse::<f64>().unwrap();
        let need: u32 = said
            .trim_start_matches('*')
            .split(' ')
            .next()
            .and_then(|word| word.parse().ok())
            .unwrap();
        for (count, one, mark) in rows(&said) {
            let Some(one) = one else { continue };
            looked += 1;
            assert_eq!(count >= need, one >= promise - 0.05, "{count} in {said}");
            if count < need {
                assert!(
                    one < promise - 1e-9,
                    "{count} reads like the promise: {said}"
                );
            }
            assert_eq!(mark.contains("enough"), count == need, "{said}");
        }
        // The unit that a bare number was taken in stands in the answer.
        let day = format!("{admissions} a day need one, which is ");
        assert!(said.contains(&day), "{said}");
    }
    assert!(looked > 20, "{looked}");
}

/// Where what is owned is just enough its row says both.
#[test]
fn the_row_that_is_enough_is_marked_though_it_is_ones_own() {
    let mut home = ten_weeks();
    for shortfall in ["50", "30", "20", "10", "5", "2", "1"] {
        let options = [("shortfall", text(shortfall)), ("beds", Value::Whole(40))];
        let said = asks(&mut home, Role::Supervisor, "fleet size", &options);
        assert_eq!(said.matches("enough").count(), 1, "{said}");
        assert_eq!(said.matches("yours").count(), 1, "{said}");
    }
}

/// Who multiplies what is shown finds what is shown, to the whole dollar.
#[test]
fn a_year_is_the_product_of_what_is_shown() {
    let mut home = ten_weeks();
    for rate in ["38", "38.75", "41.99"] {
        let options = [("price", text("4200")), ("rental", text(rate))];
        let said = asks(&mut home, Role::Supervisor, "fleet cost", &options);
        let product = (329.0 * rate.parse::<f64>().unwrap()).round() as i64;
        let shown = format!("{},{:03}", product / 1000, product % 1000);
        assert!(
            said.contains(&format!("329 days a year: {shown} rented")),
            "{said}"
        );
    }
}

/// A ratio is of what is measured: 25 mL in 2 L are 1 to 79.
#[test]
fn the_parts_of_water_are_of_what_is_measured() {
    let mut home = Home::set_up();
    for (target, volume, bleach, parts) in [
        ("1000 ppm", "2 L", 25.0, "79"),
        ("5000 ppm", "1 L", 61.0, "15.4"),
        ("500 ppm", "1 L", 6.1, "162.9"),
    ] {
        let options = [
            ("stock", text("8.25")),
            ("target", text(target)),
            ("volume", text(volume)),
        ];
        let said = asks(&mut home, Role::Aide, "mix", &options);
        assert!(said.contains(&format!("## {bleach} mL")), "{said}");
        assert!(
            said.contains(&format!("1 part bleach and {parts} parts water")),
            "{said}"
        );
    }
    // Whoever is told that a figure is out of range is told which.
    for (stock, target, field) in [("0", "500 ppm", "stock"), ("8.25", "5 ppm", "target")] {
        let options = [
            ("stock", text(stock)),
            ("target", text(target)),
            ("volume", text("1 L")),
        ];
        let said = asks(&mut home, Role::Aide, "mix", &options);
        assert!(said.contains(&format!("**{field}**")), "{said}");
    }
}

/// Blocks with a table are as wide as a phone shows without breaking a line, in each language.
#[test]
fn tables_fit_a_phone() {
    let mut home = ten_weeks();
    for lang in Lang::ALL {
        for (path, options) in [
            (
                "fleet cost",
                vec![("price", text("4200")), ("rental", text("2"))],
            ),
            (
                "fleet cost",
                vec![
                    ("price", text("4200")),
                    ("rental", text("38.50")),
                    ("upkeep", text("4000")),
                    ("salvage", text("4100")),
                ],
            ),
            ("fleet size", Vec::new()),
            (
                "fleet size",
                vec![
                    ("admissions", text("100")),
                    ("stay", text("9")),
                    ("shortfall", text("0.5")),
                    ("beds", text("2000")),
                ],
            ),
        ] {
            let said = home.ask_as(&[Role::Supervisor], lang, &command(path, &options));
            let said = answer_text(&said).to_owned();
            let block = said.split("```").nth(1).unwrap();
            for line in block.lines() {
                assert!(line.chars().count() <= 34, "{lang:?} {line:?}");
            }
        }
    }
}

/// A mixture made at 20:00 before the clocks go forward is good for 24 hours that pass, not for a day on the wall.
#[test]
fn a_mixture_is_thrown_away_after_hours_that_pass() {
    let mut home = Home::set_up();
    // 8 March 2026, 02:00 in Chicago (15 USC 260a).
    home.now = DateTime::parse_from_rfc3339("2026-03-07T20:00:00-06:00")
        .unwrap()
        .to_utc();
    let options = [
        ("stock", text("8.25")),
        ("target", text("5000 ppm")),
        ("volume", text("1 L")),
    ];
    let said = asks(&mut home, Role::Aide, "mix", &options);
    let made = home.now.timestamp();
    assert!(said.contains(&format!("made <t:{made}:f>")), "{said}");
    assert!(
        said.contains(&format!("at <t:{}:f>**", made + 24 * 3_600)),
        "{said}"
    );
    // Protection comes before the amounts, and no ratio stands anywhere.
    assert!(said.find("gloves") < said.find("61 mL"), "{said}");
    assert!(!said.contains("1:1"), "{said}");
}

/// Three lie under beds and the home has ten: neither can be more than the beds.
#[test]
fn no_more_can_be_in_use_than_there_are_beds() {
    let mut home = Home::set_up();
    let mut said = |admissions: &str, stay: &str, beds: &str| {
        let mut options = vec![("admissions", text(admissions)), ("stay", text(stay))];
        if !beds.is_empty() {
            options.push(("beds", text(beds)));
        }
        asks(&mut home, Role::Supervisor, "fleet size", &options)
    };
    let used = said("0.01", "40", "2");
    assert!(
        used.contains("**beds**: 3 surfaces lie under beds now"),
        "{used}"
    );
    assert!(used.contains("Type 3 or more"), "{used}");
    let fills = said("4", "60", "");
    assert!(
        fills.contains("keep 240 surfaces in use at once, and your home has 10 beds"),
        "{fills}"
    );
    for (admissions, stay, beds) in [("0.01", "40", "3"), ("0.2", "40", ""), ("4", "60", "300")] {
        let fits = said(admissions, stay, beds);
        assert!(fits.contains("keep the promise"), "{fits}");
    }
}
