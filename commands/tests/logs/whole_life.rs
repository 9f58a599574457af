//! What a surface lives through between two residents and beyond: set-up, moves, leaves, emergencies, turnover, repair,
//! recall, gaps, rental, the shelf, a power failure. Done by commands, by what their cards offer, and by the clock.

use commands::choice::{Call, Roll};
use commands::ids::Person;
use commands::message::Row;
use commands::record::{Body, On};
use commands::role::Role;
use commands::said::{Picked, Value};
use commands::{Decision, Said};

use crate::common::{Home, answer_message, text};

/// Every identifier of a button or a menu on the answer and on the messages of a decision.
fn offered(decision: &Decision) -> Vec<String> {
    let posts = decision.posts.iter().map(|post| &post.message);
    answer_message(decision)
        .into_iter()
        .chain(posts)
        .flat_map(|message| &message.rows)
        .flat_map(|row| match row {
            Row::Buttons(buttons) => buttons.iter().map(|one| one.id.clone()).collect(),
            Row::Menu(menu) => vec![menu.id.clone()],
        })
        .collect()
}

/// Somebody taps what a card offers that begins so.
fn press(home: &mut Home, role: Role, card: &Decision, begins: &str, chosen: &[&str]) -> Decision {
    let ids = offered(card);
    let id = ids.iter().find(|id| id.starts_with(begins));
    let id = id.unwrap_or_else(|| {
        panic!(
            "no {begins} among {ids:?} of {:?}",
            crate::common::answer_text(card)
        )
    });
    home.taps(role, id, chosen)
}

/// A card that is asked for, which records nothing.
fn look(home: &mut Home, role: Role, path: &str, options: &[(&str, Value)]) -> Decision {
    home.ask(role, &crate::common::command(path, options))
}

pub fn live(home: &mut Home) {
    settings(home);
    house(home);
    bedside(home);
    turnover(home);
    out_of_service(home);
    rental_and_shelf(home);
    power(home);
    staff(home);
    people(home);
    by_mistake(home);
}

/// What was done by mistake and put right: a unit, a surface that was retired, a note that says too much.
fn by_mistake(home: &mut Home) {
    for beds in ["301-302", "none"] {
        let unit = [("name", text("Mapel")), ("beds", text(beds))];
        home.does(Role::Admin, "facility unit", &unit);
    }
    let added = [("tag", text("LW-91")), ("profile", text("general"))];
    home.does(Role::Supervisor, "fleet add", &added);
    let entry = home.state.next_no();
    let pulled = [
        ("surface", text("LW-91")),
        ("fault", text("cord")),
        ("note", text("cut near the plug")),
    ];
    home.does(Role::Aide, "pull", &pulled);
    let sure = format!("entry|erasesure|{entry}|{entry}");
    home.taps(Role::Supervisor, &sure, &[]);
    let surface = [("surface", text("LW-91"))];
    let card = look(home, Role::Supervisor, "fleet retire", &surface);
    press(home, Role::Supervisor, &card, "house|retire", &[]);
    let said = Said::Form {
        id: "house|brought|LW-91".to_owned(),
        fields: [("reason".to_owned(), "retired by mistake".to_owned())].into(),
    };
    let back = home.ask(Role::Supervisor, &said);
    home.take(Some(Person(1_000 + Role::Supervisor as u64)), &back);
}

/// Changes that wait for a supervisor, a list that stops, beds in posts.
fn settings(home: &mut Home) {
    let due_list = [("what", text("due-list")), ("when", text("never"))];
    let asked = home.does(Role::Admin, "facility schedule", &due_list);
    press(home, Role::Supervisor, &asked, "set|decline", &[]);
    let weekend = [("what", text("weekend")), ("when", text("never"))];
    home.does(Role::Admin, "facility schedule", &weekend);
    let product = [
        ("name", text("Wipe Z")),
        ("method", text("quaternary")),
        ("contact", Value::Whole(3)),
    ];
    let asked = home.does(Role::Admin, "facility product", &product);
    press(home, Role::Supervisor, &asked, "set|agree", &[]);
    let beds = [("name", text("beds-in-posts")), ("value", text("no"))];
    home.does(Role::Supervisor, "facility policy", &beds);
}

/// Who has which unit, what is handed over and accepted, whom to phone.
fn people(home: &mut Home) {
    let words = [("words", text("charge nurse, extension 100"))];
    home.does(Role::Supervisor, "facility phone", &words);
    let card = home.does(Role::Aide, "duty", &[("unit", text("Elm"))]);
    press(home, Role::Aide, &card, "duty|end", &[]);
    home.does(Role::Nurse, "duty", &[("unit", text("all"))]);
    // Into the next shift, with the handover before it and the look at who has what after it.
    let posts = home.passes(60 * 9);
    let handover = posts
        .iter()
        .find(|decision| {
            offered(decision)
                .iter()
                .any(|id| id.starts_with("duty|accept"))
        })
        .expect("a handover");
    press(home, Role::Supervisor, handover, "duty|accept", &[]);
}

/// Beds, gaps, disinfectants, storage.
fn house(home: &mut Home) {
    home.does(
        Role::Upkeep,
        "facility frame",
        &[
            ("beds", text("101-104")),
            ("rails", text("split")),
            ("outlet", text("ordinary")),
            ("outlet-tested", text("2026-01-10")),
        ],
    );
    let over = [("bed", text("201")), ("zone1", text("5 in"))];
    let card = home.does(Role::Nurse, "zones", &over);
    press(home, Role::Nurse, &card, "house|acted", &["rail-lowered"]);
    let product = |name: &str, contact: &str| {
        [
            ("name", text(name)),
            ("method", text("quaternary")),
            ("contact", text(contact)),
        ]
    };
    home.does(
        Role::Supervisor,
        "facility product",
        &product("Wipe A", "3"),
    );
    home.does(
        Role::Supervisor,
        "facility product",
        &product("Wipe B", "1"),
    );
    let gone = [("name", text("Wipe B")), ("contact", text("0"))];
    home.does(Role::Supervisor, "facility product", &gone);
    let places = [("dirty", text("utility room")), ("clean", text("store B"))];
    home.does(Role::Supervisor, "facility storage", &places);
}

/// Set-up, setting, move, leave, static mode, the CPR valve.
fn bedside(home: &mut Home) {
    home.does(
        Role::Supervisor,
        "fleet add",
        &[("tag", text("LW-06")), ("profile", text("general"))],
    );
    let place = [("surface", text("LW-06")), ("bed", text("103"))];
    // No safety test is on record, and nobody is in the office any more who could give it: the nurse answers for it.
    home.passes(60 * 11);
    let card = look(home, Role::Nurse, "place", &place);
    let card = press(home, Role::Nurse, &card, "house|waive", &[]);
    let card = press(home, Role::Nurse, &card, "at|miss", &["valve"]);
    let card = press(home, Role::Aide, &card, "at|right", &["valve"]);
    press(home, Role::Aide, &card, "at|done", &[]);
    // Nobody says that it is full, so they are called.
    home.passes(45);
    let surface = |tag: &str| ("surface", text(tag));
    home.does(
        Role::Nurse,
        "setting",
        &[surface("LW-03"), ("set", text("4"))],
    );
    let to = [surface("LW-03"), ("bed", text("202"))];
    let card = home.does(Role::Nurse, "move", &to);
    press(home, Role::Aide, &card, "at|done", &[]);
    let away = [
        ("bed", text("202")),
        ("until", text("3 h")),
        ("why", text("chair")),
    ];
    let card = home.does(Role::Nurse, "leave", &away);
    press(home, Role::Aide, &card, "at|back", &[]);
    let still = [surface("LW-03"), ("until", text("45 min"))];
    let card = home.does(Role::Aide, "static", &still);
    press(home, Role::Aide, &card, "at|alt", &[]);
    let card = home.does(Role::Aide, "cpr", &[surface("LW-03")]);
    home.passes(30);
    press(home, Role::Aide, &card, "at|over", &[]);
}

/// A turnover to its end.
fn turnover(home: &mut Home) {
    let tag = || ("surface", text("LW-03"));
    home.does(Role::Nurse, "mark", &[tag(), ("clean-last", text("on"))]);
    home.does(Role::Nurse, "mark", &[tag(), ("clean-last", text("off"))]);
    home.does(
        Role::Nurse,
        "release",
        &[tag(), ("reason", text("discharge"))],
    );
    let clean = [
        tag(),
        ("reason", text("between-residents")),
        ("method", text("quaternary")),
        ("product", text("Wipe A")),
        ("cover", text("intact")),
    ];
    home.does(Role::Upkeep, "clean", &clean);
    home.passes(4);
    let dry = |home: &mut Home| {
        let card = look(home, Role::Upkeep, "surface", &[tag()]);
        press(home, Role::Upkeep, &card, "turn|dried", &[])
    };
    let card = dry(home);
    let stained = offered(&card);
    let stained = stained.iter().find(|id| id.ends_with("stained"));
    home.taps(Role::Upkeep, stained.expect("an inspection"), &[]);
    home.does(Role::Upkeep, "clean", &clean);
    home.passes(4);
    let card = dry(home);
    let whole = offered(&card);
    let whole = whole.iter().find(|id| id.ends_with("whole"));
    let card = home.taps(Role::Upkeep, whole.expect("an inspection"), &[]);
    let card = press(home, Role::Upkeep, &card, "turn|parts", &[]);
    let card = press(home, Role::Upkeep, &card, "turnf|", &[]);
    press(home, Role::Upkeep, &card, "turnok|", &[]);
}

/// Pulled, repaired and tested; held for an inquiry; recalled.
fn out_of_service(home: &mut Home) {
    let tag = |tag: &str| ("surface", text(tag));
    home.does(Role::Aide, "pull", &[tag("LW-03"), ("fault", text("cord"))]);
    let card = look(home, Role::Upkeep, "return", &[tag("LW-03")]);
    let card = press(home, Role::Upkeep, &card, "turn|repaired", &[]);
    press(home, Role::Upkeep, &card, "turn|tested|LW-03|passed", &[]);
    let card = home.does(Role::Supervisor, "hold", &[tag("LW-05")]);
    press(home, Role::Supervisor, &card, "turn|reported", &[]);
    let card = look(home, Role::Supervisor, "hold", &[tag("LW-05")]);
    let card = press(home, Role::Supervisor, &card, "turn|letgo|", &[]);
    press(home, Role::Supervisor, &card, "turn|letgosure", &[]);
    let reed = |tag: &str| {
        [
            ("tag", text(tag)),
            ("profile", text("Reed 8")),
            ("lot", text("L9")),
            ("tested", text("2026-01-15")),
        ]
    };
    home.does(Role::Supervisor, "fleet add", &reed("LW-08"));
    let recall = [("profile", text("Reed 8")), ("lot", text("L9"))];
    let card = look(home, Role::Supervisor, "recall", &recall);
    press(home, Role::Supervisor, &card, "turn|recall", &[]);
    home.does(Role::Supervisor, "fleet add", &reed("LW-09"));
}

/// A rented surface from first day to last, and a part that runs out.
fn rental_and_shelf(home: &mut Home) {
    let rented = || ("surface", text("R-01"));
    home.does(
        Role::Supervisor,
        "fleet add",
        &[
            ("tag", text("R-01")),
            ("profile", text("general")),
            ("owned", text("rented")),
            ("tested", text("2026-02-01")),
        ],
    );
    let begin = [rented(), ("rate", text("38.50"))];
    let card = home.does(Role::Supervisor, "rental start", &begin);
    press(home, Role::Upkeep, &card, "house|well", &[]);
    let card = home.does(Role::Supervisor, "rental stop", &[rented()]);
    let confirm = offered(&card);
    let confirm = confirm.iter().find(|id| id.starts_with("house|confirm"));
    let form = Said::Form {
        id: confirm
            .expect("a button")
            .replace("|confirm|", "|confirmed|"),
        fields: [("number".to_owned(), "P-1".to_owned())].into(),
    };
    let card = home.ask(Role::Supervisor, &form);
    home.take(Some(commands::ids::Person(1_003)), &card);
    press(home, Role::Supervisor, &card, "house|collected", &[]);
    let shelf = [("item", text("filter general")), ("count", text("6"))];
    home.does(Role::Upkeep, "stock", &shelf);
    let change = [
        ("surface", text("LW-01")),
        ("finding", text("clogged")),
        ("action", text("replaced")),
    ];
    home.does(Role::Upkeep, "filter", &change);
}

/// A power failure whose roll nobody calls, then somebody begins it and does not finish it, then it is finished.
fn power(home: &mut Home) {
    let card = home.does(Role::Aide, "outage", &[("unit", text("Elm"))]);
    home.passes(6);
    press(home, Role::Aide, &card, "power|take", &[]);
    home.passes(16);
    let card = press(home, Role::Nurse, &card, "power|take", &[]);
    let mut card = press(home, Role::Nurse, &card, "power|seen", &[]);
    while let Some(id) = offered(&card)
        .into_iter()
        .find(|id| id.starts_with("power|seen") && id.ends_with(Roll::Holding.as_str()))
    {
        card = home.taps(Role::Nurse, &id, &[]);
    }
    home.passes(20);
    press(home, Role::Nurse, &card, "power|back", &[]);
    let called = |call: Call| {
        home.log.iter().any(|record| {
            matches!(&record.body, Body::Called { on: On::Surface(_), call: of, .. } if *of == call)
        })
    };
    assert!(called(Call::Full), "the clock did its part");
}

/// Somebody let in for a shift, sign-offs, a second look, a fast round.
fn staff(home: &mut Home) {
    let surface = |tag: &str| [("surface", text(tag)), ("air", text("1 1/4"))];
    let policies = [("sign-off-wanted", "yes"), ("pace-checks", "3")];
    for (name, value) in policies {
        let policy = [("name", text(name)), ("value", text(value))];
        home.does(Role::Supervisor, "facility policy", &policy);
    }
    // As an aide who had lost the chat's role would be.
    let who = Person(1_000 + Role::Aide as u64);
    let person = || ("person", Value::Person(Picked::member(who)));
    let shift = [person(), ("role", text("aide")), ("until", text("8 h"))];
    let card = home.does(Role::Supervisor, "agency", &shift);
    let read = Said::Tap {
        id: "staff|read".to_owned(),
        chosen: Vec::new(),
    };
    let read = home.ask_by(who, &[], &read);
    home.take(Some(who), &read);
    press(home, Role::Supervisor, &card, "staff|out", &[]);
    let signed = [
        person(),
        ("task", text("hand-check")),
        ("profile", text("general")),
    ];
    let card = home.does(Role::Supervisor, "signoff", &signed);
    press(home, Role::Supervisor, &card, "staff|unsign", &[]);
    let new = ["LW-31", "LW-32"];
    for (tag, bed) in new.into_iter().zip(["104", "105"]) {
        let added = [
            ("tag", text(tag)),
            ("profile", text("general")),
            ("tested", text("2026-01-15")),
        ];
        home.does(Role::Supervisor, "fleet add", &added);
        let place = [("surface", text(tag)), ("bed", text(bed))];
        home.does(Role::Nurse, "place", &place);
    }
    // Kept, and looked at by a nurse.
    home.does(Role::Aide, "handcheck", &surface(new[0]));
    let card = look(home, Role::Nurse, "surface", &[("surface", text(new[0]))]);
    press(home, Role::Nurse, &card, "staff|looked", &[]);
    for tag in [new[1], new[0], new[1]] {
        home.now += chrono::TimeDelta::seconds(5);
        home.does(Role::Aide, "handcheck", &surface(tag));
    }
}
