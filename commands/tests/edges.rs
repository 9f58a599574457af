//! What single answers say, and from where on: sentences that no longer conversation comes by.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use commands::Said;
use commands::ids::Person;
use commands::message::Row;
use commands::role::Role;
use commands::said::Value;
use commands::tap::{Setting, Tap};
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

#[test]
fn a_home_that_goes_by_the_role_of_everybody_is_told_what_to_set_instead() {
    let home = Home::set_up();
    let facility = home.state.facility.as_ref().unwrap();
    let (role, chat) = facility.roles.iter().next().unwrap();
    let said = commands::role_everybody(&home.state, *chat, home.now);
    let (source, decision) = said.unwrap();
    assert_ne!(
        Some(source),
        commands::role_deleted(&home.state, *chat, home.now).map(|(source, _)| source)
    );
    assert_eq!(decision.posts.len(), 2);
    for post in &decision.posts {
        let text = &post.message.text;
        let set = format!("`/facility setup {}:@role`", role.as_str());
        assert!(
            text.contains("`@everyone`") && text.ends_with(&set),
            "{text}"
        );
    }
    let another = commands::ids::ChatRole(u64::MAX);
    assert!(commands::role_everybody(&home.state, another, home.now).is_none());
}

/// What stands in a record itself is there for good; a note can be erased.
#[test]
fn a_product_that_is_on_no_list_is_kept_as_a_note_and_one_of_the_list_in_the_record() {
    let mut home = Home::set_up();
    let cleaned = |home: &mut Home, product: &str, note: Option<&str>| {
        let mut options = vec![
            ("surface", text("LW-01")),
            ("reason", text("routine")),
            ("method", text("quaternary")),
            ("cover", text("intact")),
            ("product", text(product)),
        ];
        options.extend(note.map(|note| ("note", text(note))));
        let decision = home.ask(Role::Aide, &command("clean", &options));
        home.take(Some(Person(1)), &decision);
        decision
    };
    let kept = |decision: &commands::decision::Decision| {
        let entry = &decision.entries[0];
        let commands::record::Body::Cleaned { product, .. } = &entry.body else {
            panic!("{entry:?}")
        };
        (product.clone(), entry.note.clone())
    };
    let free = cleaned(&mut home, "Wipe Q", Some("foot end twice"));
    assert_eq!(kept(&free), (None, Some("Wipe Q\nfoot end twice".into())));
    assert!(answer_text(&free).contains("cleaned with Wipe Q"));
    // What went on before is not known any more: it may have been another.
    let again = cleaned(&mut home, "Wipe R", None);
    assert!(again.entries.is_empty());
    assert!(answer_text(&again).contains("Rinse it off"));
    home.passes(61);
    let alone = cleaned(&mut home, "Wipe Q", None);
    assert_eq!(kept(&alone), (None, Some("Wipe Q".into())));
    home.passes(61);
    // What is noted may be as long as ever.
    let long = ["foot end twice."; 18].join(" ");
    let both = cleaned(&mut home, "Wipe Q", Some(&long));
    assert_eq!(kept(&both), (None, Some(format!("Wipe Q\n{long}"))));
    home.passes(61);
    home.fact(
        r#"{"k":"product-set","name":"Wipe A","method":"quaternary","contact_minutes":3,"sporicidal":false}"#,
    );
    let listed = cleaned(&mut home, "wipe a", Some("foot end twice"));
    assert_eq!(
        kept(&listed),
        (Some("Wipe A".into()), Some("foot end twice".into()))
    );
}

/// What is declined is on no timeline: the card that shows the reason has the button.
#[test]
fn why_something_was_declined_is_erased_from_its_card_and_no_message_shows_it_any_more() {
    let mut home = Home::set_up();
    let options = [("what", text("due-list")), ("when", text("never"))];
    home.does(Role::Admin, "facility schedule", &options);
    let wish = *home.state.wishes.keys().next().unwrap();
    let reason = "two rooms first";
    let said = Said::Form {
        id: Tap::Setting(Setting::Declined { wish, reason: None }).id(),
        fields: [("reason".to_owned(), reason.to_owned())].into(),
    };
    let declined = home.ask(Role::Supervisor, &said);
    home.take(Some(Person(9)), &declined);
    assert_eq!(declined.entries[0].note.as_deref(), Some(reason));
    let card = &declined.posts[0].message;
    assert!(card.text.ends_with("> two rooms first"), "{}", card.text);
    let [Row::Buttons(buttons)] = &card.rows[..] else {
        panic!("{card:?}")
    };
    let ask = home.taps(Role::Supervisor, &buttons[0].id, &[]);
    assert!(answer_text(&ask).contains(reason));
    let sure = home.taps(Role::Supervisor, &common::buttons(&ask)[0], &[]);
    assert!(matches!(
        sure.entries[0].body,
        commands::record::Body::NoteErased { .. }
    ));
    let anew: Vec<_> = sure.posts.iter().map(|post| &post.kind).collect();
    let edit = |of: String| commands::decision::PostKind::Edit { of };
    let (card, told) = (
        edit(format!("wish:{wish}")),
        edit(format!("wish:{wish}:told")),
    );
    assert_eq!(anew, [&card, &told]);
    for post in &sure.posts {
        assert!(!post.message.text.contains(reason));
        assert!(
            post.message.text.ends_with("was erased."),
            "{:?}",
            post.message
        );
    }
}

/// The platform refuses a whole list for one of its choices.
#[test]
fn a_suggestion_over_the_platforms_limit_is_left_out_and_its_words_are_cut() {
    let mut home = Home::set_up();
    for name in ["W".repeat(101), "😀".repeat(51), "V".repeat(100)] {
        home.fact(&format!(
            r#"{{"k":"product-set","name":"{name}","method":"quaternary","contact_minutes":3,"sporicidal":false}}"#
        ));
    }
    let typing = Said::Completing {
        path: "clean".into(),
        options: [("product".to_owned(), text(""))].into_iter().collect(),
        focused: "product".into(),
    };
    let decision = home.ask(Role::Aide, &typing);
    let Some(commands::message::Answer::Choices(choices)) = decision.answer else {
        panic!("{decision:?}")
    };
    assert_eq!(choices.len(), 1, "{choices:?}");
    assert_eq!(choices[0].value, "V".repeat(100));
    assert_eq!(choices[0].label.chars().count(), 100);
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
