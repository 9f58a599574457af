//! The demo's page in a real browser, as a newcomer, an aide with a phone, and somebody without a mouse use it, against
//! the real bot in the invented home. Decides what they must be able to see and do; leaves the words of answers to the
//! scenarios, and how a browser is driven to `browser`.

#[path = "page/browser.rs"]
mod browser;
#[path = "page/driver.rs"]
mod driver;
#[path = "page/stage.rs"]
mod stage;

use std::cell::OnceCell;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use browser::Page;
use demo_guild::show::Show;
use demo_guild::{Fault, Faults, Guild};
use driver::Screen;
use fantoccini::key::Key;
use serde_json::json;
use stage::{on_stage, on_stage_after};

/// From the open page to a hand check's answer, for somebody who has never seen it.
const NEWCOMER_TAPS: usize = 6;

#[test]
fn a_newcomer_logs_a_hand_check_by_what_is_written_on_the_page() {
    on_stage(Screen::Phone, |page| {
        page.shoot("first-view");
        let mut taps = 0;
        let mut tap = |text: &str| {
            page.tap_text_with(text);
            taps += 1;
        };
        tap("Log a hand check");
        page.shoot("sheet");
        tap("hand check due");
        tap("Air under the person");
        page.keys("1 1/4");
        page.shoot("filled");
        tap("Send");
        let answer = page.phone(1).entry(&["air 1¼ in", "Adequate"]);
        page.shoot("answer");
        assert!(answer.contains("only you see this"), "{answer}");
        assert!(taps <= NEWCOMER_TAPS, "{taps} taps");
        page.phone(1).newest_is_in_sight();
        page.is_sound();
    });
}

#[test]
fn an_alarm_left_alone_calls_one_phone_after_another() {
    on_stage(Screen::Desk, |page| {
        let (aide, nurse, supervisor) = (page.phone(1), page.phone(2), page.phone(3));
        page.tap("[data-test='try-alarm']");
        aide.tap("suggestion-lw-02");
        aide.tap("run");
        // 06:52 in Chicago, whatever the zone of the browser is.
        let card = aide.entry(&["LW-02", "Reported 06:52", "Next call 06:57"]);
        assert!(card.contains("calls you: Aides"), "{card}");
        let card = nurse.entry(&["LW-02", "Reported 06:52", "Nobody has taken it"]);
        assert!(!card.contains("calls you"), "{card}");
        page.shoot("raised");

        let elm = supervisor.at("[data-test='channel-elm']");
        step_5(page, "06:57");
        let call = nurse.entry(&["open for 5 min"]);
        assert!(call.contains("calls you: Nurses"), "{call}");
        let call = aide.entry(&["open for 5 min"]);
        assert!(call.contains("calls you: Aides"), "{call}");
        assert!(!page.text(&elm).contains("calls you"));

        step_5(page, "07:02");
        let call = nurse.entry(&["open for 10 min"]);
        assert!(call.contains("calls you: Nurses"), "{call}");
        let call = aide.entry(&["open for 10 min"]);
        assert!(!call.contains("calls you"), "{call}");
        page.until("the supervisor called", || {
            page.text(&elm).contains("calls you").then_some(())
        });

        step_5(page, "07:07");
        supervisor.tap("channel-elm");
        for (phone, role) in [
            (aide, "Aides"),
            (nurse, "Nurses"),
            (supervisor, "Supervisors"),
        ] {
            let call = phone.entry(&["open for 15 min", "Go now"]);
            assert!(call.contains(&format!("calls you: {role}")), "{call}");
            phone.newest_is_in_sight();
        }
        page.shoot("escalated");

        nurse.tap("button-on-my-way");
        nurse.entry(&["LW-02", "is yours", "only you see this"]);
        aide.entry(&["LW-02", "On the way: Ines, 07:07"]);
        step_5(page, "07:12");
        step_5(page, "07:17");
        let again = aide.entry(&["after 10 min nobody has said that the resident is safe"]);
        assert!(again.contains("calls you"), "{again}");
        // Taking it stopped the ladder: by now it would have called twice more. A call that is past says what became of it.
        let called_at = |time: &str| {
            let call = |entry: &String| entry.starts_with(time) && entry.contains("\nLW-02: ");
            aide.entries().iter().any(call)
        };
        assert!(
            called_at("07:07") && !called_at("07:12"),
            "{:?}",
            aide.entries()
        );

        nurse.tap("button-on-my-way");
        aide.entry(&["LW-02", "On the way: Ines, 07:17"]);
        nurse.tap("button-resident-safe");
        aide.entry(&["LW-02", "Resident safe: Ines, 07:17"]);
        for minute in (22..=47).step_by(5) {
            step_5(page, &format!("07:{minute}"));
        }
        let again = aide.entry(&["taken, but not fixed after 30 min"]);
        assert!(again.contains("calls you"), "{again}");
        assert!(!called_at("07:22"), "{:?}", aide.entries());
        page.shoot("not-fixed");
        page.is_sound();
    });
}

#[test]
fn a_phone_that_is_not_looked_at_says_that_it_is_called() {
    on_stage(Screen::Phone, |page| {
        page.tap_text("Raise an alarm and leave it");
        let aide = page.phone(1);
        aide.tap("suggestion-lw-02");
        aide.tap("run");
        aide.entry(&["LW-02", "Next call 06:57", "calls you: Aides"]);
        aide.newest_is_in_sight();
        page.shoot("card");
        let tab = |n| page.text(&format!("[data-test='tab-{n}']"));
        assert!(!tab(2).contains("calls you") && !tab(3).contains("calls you"));
        step_5(page, "06:57");
        page.until("the nurse called", || {
            tab(2).contains("calls you").then_some(())
        });
        assert!(!tab(3).contains("calls you"), "{}", tab(3));
        page.shoot("called");
        let nurse = page.phone(2);
        nurse.entry(&["open for 5 min", "calls you: Nurses"]);
        nurse.newest_is_in_sight();
        page.shoot("nurse");
        page.tap_text_with("On my way");
        nurse.entry(&["LW-02", "is yours"]);
        nurse.newest_is_in_sight();
        page.phone(1).entry(&["On the way: Ines, 06:57"]);
        page.shoot("taken");
        page.is_sound();
    });
}

#[test]
fn a_round_is_one_tap_a_bed() {
    on_stage(Screen::Phone, |page| {
        page.tap("[data-test='to-shift']");
        clock_shows(page, "07:00");
        page.tap("[data-test='try-round']");
        let phone = page.phone(1);
        let mut card = phone.entry(&["Round Elm", "how much air"]);
        let mut beds = vec![asked_bed(&card)];
        for tap in 1..=3 {
            let bed = asked_bed(&card);
            card = tap_bed(page, &card);
            let (answer, _) = card.split_once("Round Elm").unwrap();
            assert!(answer.contains(&format!("{bed} (bed")), "{card}");
            assert!(answer.contains("Adequate"), "{card}");
            beds.push(asked_bed(&card));
            page.shoot(&format!("bed-{tap}"));
        }
        let logged = beds.len() - 1;
        beds.sort();
        beds.dedup();
        assert_eq!(
            beds.len(),
            logged + 1,
            "a bed was asked for twice: {beds:?}"
        );
        phone.newest_is_in_sight();
        page.is_sound();
    });
}

#[test]
fn what_cannot_be_recorded_is_said_and_what_was_typed_is_kept() {
    on_stage(Screen::Desk, |page| {
        let (aide, nurse) = (page.phone(1), page.phone(2));
        aide.command("handcheck");
        let offered = page.until("suggestions", || {
            let offered = page.texts(&aide.at(".suggestion"));
            (!offered.is_empty()).then_some(offered)
        });
        // What is due comes first, then what is not.
        let due: Vec<bool> = offered.iter().map(|it| it.contains("): ")).collect();
        assert!(due[0] && !due.iter().all(|due| *due), "{offered:?}");
        assert!(due.is_sorted_by(|a, b| a >= b), "{offered:?}");
        aide.write("surface", "104");
        page.until("one suggestion", || {
            (page.texts(&aide.at(".suggestion")).len() == 1).then_some(())
        });
        aide.tap("suggestion-lw-04");
        aide.write("air", "30");
        aide.tap("run");
        aide.entry(&["30 of what?", "only you see this"]);
        page.shoot("refused");
        aide.tap("again");
        let kept = |option: &str| page.value(&aide.at(&format!("[data-test='field-{option}']")));
        assert!(kept("surface").starts_with("LW-04"), "{}", kept("surface"));
        assert_eq!(kept("air"), "30");
        aide.write("air", "30 mm");
        aide.tap("run");
        let answer = aide.entry(&["LW-04", "Adequate"]);
        assert!(
            answer.contains("30 mm") || answer.contains("3 cm"),
            "{answer}"
        );

        // A form, opened by a button of the card that a low reading brings to the nurse.
        aide.command("handcheck");
        aide.write("surface", "LW-06");
        aide.write("air", "3/4");
        aide.tap("run");
        aide.entry(&["LW-06", "Low"]);
        nurse.entry(&["LW-06", "low, air", "calls you: Nurses"]);
        page.shoot("low");
        nurse.tap("button-lw-06:-type-it");
        page.see(&nurse.at("[data-test='form-sheet']"));
        nurse.write("air", "30");
        nurse.tap("run");
        nurse.entry(&["30 of what?", "only you see this"]);
        nurse.tap("again");
        page.see(&nurse.at("[data-test='form-sheet']"));
        let typed = nurse.at("[data-test='field-air']");
        assert_eq!(page.value(&typed), "30");
        nurse.write("air", "1 1/4");
        page.shoot("form");
        nurse.tap("run");
        nurse.entry(&["LW-06", "air 1¼ in", "Adequate"]);

        // A menu: the reason why a bed of the round could not be checked.
        aide.tap("log-button");
        aide.tap("command-round");
        aide.tap("run");
        let bed = asked_bed(&aide.entry(&["Round Elm"]));
        page.tap(&aide.at("[data-test='message']:last-child .menu"));
        // A finger that trembles taps twice.
        page.see(&aide.at("[data-test='option-asleep']"));
        let twice = "const option = document.querySelector(arguments[0]); const { send } = WebSocket.prototype; let sent = 0; \
            WebSocket.prototype.send = function (frame) { sent += 1; send.call(this, frame); }; \
            option.click(); option.click(); WebSocket.prototype.send = send; return sent";
        let sent = page.ask(twice, &aide.at("[data-test='option-asleep']"));
        assert_eq!(sent, 1);
        aide.entry(&[&format!("{bed} (bed"), "not checked (asleep)"]);
        page.see_gone(&aide.at("[data-test='menu-sheet']"));
        // Whoever goes by keyboard goes on from the card, though it was drawn anew.
        let focus = "return Boolean(document.activeElement.closest(arguments[0]))";
        assert_eq!(page.ask(focus, &aide.at("[data-test='message']")), true);

        // A form that the card itself answers: no later answer may offer what stood in it.
        aide.tap("button-type-it");
        page.see(&aide.at("[data-test='form-sheet']"));
        aide.write("air", "1 1/4");
        aide.tap("run");
        page.see_gone(&aide.at("[data-test='form-sheet']"));
        assert_eq!(page.ask(focus, &aide.at("[data-test='message']")), true);
        assert_eq!(page.ask("return sentForms.size", ""), 0);

        // A role that may not.
        aide.command("place");
        aide.write("surface", "LW-34");
        aide.write("bed", "112");
        aide.tap("run");
        aide.entry(&["you need one of these roles: nurse, supervisor"]);
        page.is_sound();
    });
}

#[test]
fn a_phone_whose_client_speaks_spanish_is_offered_and_answered_in_spanish() {
    on_stage(Screen::Desk, |page| {
        let (nurse, aide) = (page.phone(2), page.phone(1));
        page.hold(aide, "Marisol", "birch");
        // The frame too, and only of her phone.
        let button = |phone: browser::Phone<'_>| page.text(&phone.at("[data-test='log-button']"));
        assert_eq!(button(aide), "Anotar algo");
        assert_eq!(button(nurse), "Log something");
        aide.tap("log-button");
        let offered = page.text(&aide.at("[data-test='command-clean']"));
        assert!(
            offered.contains("/clean") && offered.contains("Anotar una limpieza"),
            "{offered}"
        );
        aide.tap("command-clean");
        let sheet = page.text(&aide.at("[data-test='sheet-clean']"));
        for words in [
            "Anotar una limpieza",
            "por suciedad",
            "agua y jabón",
            "dañada",
        ] {
            assert!(sheet.contains(words), "{words}: {sheet}");
        }
        page.shoot("spanish-sheet");
        aide.write("surface", "LW-13");
        aide.tap("choice-soiled");
        aide.tap("choice-soap-and-water");
        aide.tap("choice-intact");
        aide.tap("run");
        let answer = aide.entry(&["LW-13", "limpiada con agua y jabón", "solo usted lo ve"]);
        assert!(answer.contains("Deshacer"), "{answer}");
        // What the channel reads is in the home's language, for her too.
        aide.command("handcheck");
        aide.write("surface", "LW-13");
        aide.write("air", "media pulgada");
        aide.tap("run");
        aide.entry(&["LW-13", "Bajo", "Llame a enfermería"]);
        page.hold(nurse, "Ines", "birch");
        nurse.entry(&["LW-13", "low, air ½ in", "calls you: Nurses"]);
        page.shoot("spanish-answer");
        page.is_sound();
    });
}

#[test]
fn the_next_shift_brings_its_card_to_the_unit_and_the_supervisors() {
    on_stage(Screen::Desk, |page| {
        page.tap("[data-test='to-shift']");
        clock_shows(page, "07:00");
        let (unit, supervisor) = (page.phone(1), page.phone(3));
        let card = unit.entry(&["New shift, Elm", "Hand checks", "LW-"]);
        assert!(card.starts_with("07:00"), "{card}");
        let card = supervisor.entry(&["New shift, all units", "Hand checks", "LW-"]);
        assert!(card.starts_with("07:00"), "{card}");
        for phone in [unit, supervisor] {
            phone.newest_is_in_sight();
        }
        page.shoot("shift");
        page.is_sound();
    });
}

#[test]
fn help_is_read_whole_on_one_screen_of_a_phone() {
    on_stage(Screen::Phone, |page| {
        let roles = [
            (1, None, "aide"),
            (2, None, "nurse"),
            (3, None, "supervisor"),
            (3, Some(("Gus", "upkeep")), "upkeep"),
            (3, Some(("Noor", "supervisors")), "admin"),
        ];
        for (place, person, role) in roles {
            let phone = page.phone(place);
            if let Some((person, channel)) = person {
                page.hold(phone, person, channel);
            }
            phone.command("help");
            phone.tap("run");
            let help = phone.entry(&["What you do most", role, "/help topic:alarm"]);
            assert!(help.contains("More of what you can do"), "{help}");
            page.shoot(&format!("help-{role}"));
            // From its first line to its menu, in the room that a phone leaves for the entries.
            phone.newest_is_in_sight();
            let heights = phone.newest_height();
            assert!(heights.0 <= heights.1, "{role}: {heights:?}");
            page.is_sound();
        }
        let supervisor = page.phone(3);
        page.hold(supervisor, "Ruth", "supervisors");
        // It asks for nothing, and so is sent at once.
        supervisor.tap("log-button");
        supervisor.tap("command-facility-show");
        supervisor.entry(&["Not as usual", "settings.txt"]);
        page.shoot("settings");
        page.is_sound();
    });
}

/// The demo's home has surfaces of every kind, so that each line of the primer is there.
#[test]
fn the_primer_is_read_whole_on_one_screen_of_a_phone() {
    for (role, tag) in [("aide", "primer-aide"), ("nurse", "primer-nurse")] {
        let let_in = |show: &Show| {
            let wait = tokio::runtime::Runtime::new().expect("a runtime");
            let (guild, ruth) = (&show.guild, show.guild.person("Ruth"));
            let office = guild.channel("supervisors");
            for (command, options) in [
                // Imre has read it in the weeks before.
                (
                    "facility policy",
                    vec![("name", json!("primer-days")), ("value", json!("1 day"))],
                ),
                (
                    "agency",
                    vec![
                        ("person", json!(guild.person("Imre").to_string())),
                        ("role", json!(role)),
                        ("until", json!("8 h")),
                    ],
                ),
            ] {
                let done = wait.block_on(guild.command(ruth, office, command, &options));
                assert_eq!(done.failed, None, "{}", done.text());
            }
        };
        on_stage_after(Screen::Phone, let_in, |page| {
            let phone = page.phone(1);
            page.hold(phone, "Imre", "all-care");
            phone.command("due");
            phone.tap("run");
            phone.entry(&["Read this once", "I have read it"]);
            page.shoot(tag);
            phone.newest_is_in_sight();
            let heights = phone.newest_height();
            assert!(heights.0 <= heights.1, "{role}: {heights:?}");
            page.is_sound();
        });
    }
}

#[test]
fn everything_goes_by_keyboard() {
    on_stage(Screen::Desk, |page| {
        let aide = page.phone(1);
        let focus = || {
            page.ask("return document.activeElement.dataset.test || ''", "")
                .as_str()
                .unwrap_or_default()
                .to_owned()
        };
        let stops = (0..60).find(|_| {
            page.press(Key::Tab);
            focus() == "log-button"
        });
        assert!(stops.is_some(), "no Tab leads to the list of commands");
        page.press(Key::Enter);
        page.see(&aide.at("[data-test='command-list']"));
        page.press(Key::Escape);
        page.see_gone(&aide.at("[data-test='command-list']"));
        assert_eq!(focus(), "log-button");

        page.press(Key::Enter);
        page.see(&aide.at("[data-test='command-list']"));
        page.keys("hand");
        page.press(Key::Enter);
        page.see(&aide.at(".suggestion"));
        assert_eq!(focus(), "field-surface");
        page.press(Key::Down);
        page.press(Key::Enter);
        assert_eq!(focus(), "field-air");
        page.shoot("keys");
        page.keys("1 1/2");
        page.press(Key::Enter);
        aide.entry(&["air 1½ in", "Adequate"]);
        page.see_gone(&aide.at("[data-test='sheet-handcheck']"));
        page.is_sound();
    });
}

#[test]
fn suggestions_that_do_not_come_are_asked_for_once_more_and_then_typed() {
    let faults = OnceCell::new();
    let late = |n| {
        let later = Fault::Late(Duration::from_secs(4));
        let faults: &Faults = faults.get().expect("the guild's faults");
        faults.next(n, "POST /interactions/*/*/callback", later);
    };
    let left = || faults.get().expect("the guild's faults").left();
    let slow = |show: &Show| {
        assert!(faults.set(show.guild.faults()).is_ok());
        late(2);
    };
    on_stage_after(Screen::Phone, slow, |page| {
        let aide = page.phone(1);
        let (field, hint) = (
            aide.at(".field:has([data-test='field-surface'])"),
            "No suggestions came. You can type it.",
        );
        aide.command("handcheck");
        page.until("that none came", || {
            page.text(&field).contains(hint).then_some(())
        });
        assert!(!page.shown(&aide.at(".suggestion")));
        assert_eq!(left(), 0);
        // Whoever goes to the field asks anew, and has them in time.
        let typed = aide.at("[data-test='field-surface']");
        page.tap(&typed);
        page.see(&aide.at(".suggestion"));
        assert!(!page.text(&field).contains(hint));
        // What is then put in, all at once, asks anew too: late the first time, and in time the second.
        late(1);
        let put = "const field = document.querySelector(arguments[0]); field.value = '104'; \
            field.dispatchEvent(new Event('input', { bubbles: true }))";
        page.ask(put, &typed);
        page.until("the one that fits", || {
            (page.texts(&aide.at(".suggestion")).len() == 1).then_some(())
        });
        assert_eq!(left(), 0);
        assert!(!page.text(&field).contains(hint));
        page.is_sound();
    });
}

#[test]
fn what_was_begun_in_the_line_is_not_lost() {
    on_stage(Screen::Desk, |page| {
        let aide = page.phone(1);
        let line = aide.at("[data-test='say']");
        let list = aide.at("[data-test='command-list']");
        // A slash moves it into the list, and without a choice it is in the line again.
        page.write(&line, "/alarm LW-07 beeping");
        page.see(&list);
        page.until("all of it in the list", || {
            let find = page.value(&aide.at("[data-test='find-command']"));
            (find == "alarm LW-07 beeping").then_some(())
        });
        page.press(Key::Escape);
        page.see_gone(&list);
        assert_eq!(page.value(&line), "/alarm LW-07 beeping");
        // It is hers whose phone it was.
        let holder = page.value(&aide.at("[data-test='person-switch']"));
        page.hold(aide, "Imre", "all-care");
        assert_eq!(page.value(&line), "");
        let back = "const held = document.querySelector(arguments[0]); held.value = held.dataset.back; \
            held.dispatchEvent(new Event('change'))";
        let switch = aide.at("[data-test='person-switch']");
        page.ask(
            &back.replace("held.dataset.back", &format!("'{holder}'")),
            &switch,
        );
        assert_eq!(page.value(&line), "/alarm LW-07 beeping");
        // Words after a command that needs none go to what takes a text.
        page.write(&line, "/handover Birch");
        page.see(&list);
        page.until("all of it in the list", || {
            let find = page.value(&aide.at("[data-test='find-command']"));
            (find == "handover Birch").then_some(())
        });
        page.press(Key::Enter);
        page.see(&aide.at("[data-test='sheet-handover']"));
        let unit = page.value(&aide.at("[data-test='field-unit']"));
        assert_eq!(unit, "Birch");
        page.is_sound();
    });
}

#[test]
fn a_line_that_dropped_costs_nobody_their_place_nor_what_was_written_meanwhile() {
    let kept = OnceCell::new();
    let keep = |show: &Show| assert!(kept.set(show.guild.clone()).is_ok());
    on_stage_after(Screen::Phone, keep, |page| {
        let guild: &Guild = kept.get().expect("the guild");
        let (ines, aide) = (guild.person("Ines"), page.phone(1));
        let say = |channel: &str, text: &str| {
            guild.say(ines, guild.channel(channel), text).expect("said");
        };
        let other = aide.at("[data-test='channel-all-care']");
        page.ask(
            "window.folder = document.querySelector(arguments[0])",
            &other,
        );
        let log = aide.at("[data-test='log']");
        let at = |log: &str| page.ask("return document.querySelector(arguments[0]).scrollTop", log);
        for _ in 0..20 {
            say("elm", "Nothing to tell\nyet.");
        }
        page.until("all of them", || (aide.entries().len() >= 20).then_some(()));
        page.ask("document.querySelector(arguments[0]).scrollTop = 0", &log);
        page.until("that somebody reads further up", || {
            (page.ask("return phones[0].pinned", "") == false).then_some(())
        });
        page.ask(
            "window.again = connect; connect = () => {}; socket.close()",
            "",
        );
        page.see("[data-test='connection']");
        say("elm", "Where is the pump of LW-07?");
        say("all-care", "Rounds are early today.");
        page.ask("connect = again; connect()", "");
        page.see_gone("[data-test='connection']");
        aide.entry(&["Where is the pump"]);
        page.see(&aide.at(".below"));
        assert_eq!(at(&log), 0, "the reader was moved");
        let mark = page.text(&aide.at("[data-test='channel-all-care'] .mark"));
        assert_eq!(mark.split_whitespace().collect::<Vec<_>>(), ["1", "new"]);
        // A finger that is on the button meanwhile is still on it.
        let same = "return window.folder === document.querySelector(arguments[0])";
        assert_eq!(page.ask(same, &other), true);
        aide.tap("channel-all-care");
        aide.entry(&["Rounds are early today."]);

        // What somebody typed without a space is as wide as the phone, too.
        aide.command("handcheck");
        aide.write("surface", "LW-02");
        aide.write("air", &"9".repeat(120));
        aide.tap("run");
        aide.entry(&["9999", "only you see this"]);
        page.shoot("unbroken");
        page.is_sound();
    });
}

/// What the README shows can be reached; `UPDATE_PICTURES=1 cargo test` keeps the pictures of it in `docs/`.
#[test]
fn the_pictures_of_the_readme_can_be_taken() {
    let keep = |picture: PathBuf, name: &str| {
        #[allow(
            clippy::disallowed_methods,
            reason = "asked for by whoever runs the tests, not a setting"
        )]
        if std::env::var_os("UPDATE_PICTURES").is_some() {
            let docs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs");
            fs::copy(picture, docs.join(name)).unwrap();
        }
    };
    on_stage(Screen::Tall, |page| {
        let (aide, nurse) = (page.phone(1), page.phone(2));
        page.tap("[data-test='to-shift']");
        clock_shows(page, "07:00");
        page.phone(3).entry(&["New shift, all units"]);
        page.hold(nurse, "Marisol", "birch");
        nurse.command("alarm");
        nurse.write("surface", "LW-13");
        page.tap_text_with("kind, note");
        nurse.tap("choice-low-pressure");
        nurse.tap("run");
        nurse.entry(&["LW-13", "le llama: Aides"]);
        page.hold(nurse, "Ines", "birch");
        step_5(page, "07:05");
        nurse.entry(&["LW-13", "open for 5 min", "calls you: Nurses"]);
        page.tap("[data-test='try-round']");
        let mut card = aide.entry(&["Round Elm", "how much air"]);
        for _ in 0..2 {
            card = tap_bed(page, &card);
        }
        page.see_gone(".buzz");
        keep(page.shoot("readme"), "shift.png");
    });
    on_stage(Screen::Phone, |page| {
        page.tap("[data-test='to-shift']");
        clock_shows(page, "07:00");
        page.tap("[data-test='try-round']");
        let card = page.phone(1).entry(&["Round Elm", "how much air"]);
        tap_bed(page, &card);
        page.see_gone(".buzz");
        keep(page.shoot("readme"), "phone.png");
    });
}

/// Lets five minutes pass, and waits until the clock on the page says so.
fn step_5(page: &Page, then: &str) {
    page.tap("[data-test='step-5']");
    clock_shows(page, then);
}

fn clock_shows(page: &Page, time: &str) {
    page.until(&format!("{time} on the clock"), || {
        (page.text("[data-test='clock-now']") == time).then_some(())
    });
}

/// One tap for the bed that a round on the first phone asks for; gives the card with the next bed.
fn tap_bed(page: &Page, card: &str) -> String {
    let bed = asked_bed(card);
    // Taps what is in sight: nobody should have to look for the button.
    let asked = card.rfind("Round ").map_or(card, |at| &card[at..]);
    page.tap_text(if asked.contains("looked at and felt") {
        "Looks and feels right"
    } else {
        "1¼ in"
    });
    page.until("the next bed", || {
        let card = page.phone(1).entry(&["Round ", "how much air"]);
        (asked_bed(&card) != bed).then_some(card)
    })
}

/// The tag of the surface that a round asks for.
fn asked_bed(card: &str) -> String {
    let line = card.lines().find(|line| line.contains("how much air"));
    let line = line.unwrap_or_else(|| panic!("no bed is asked for: {card}"));
    line.split(' ').next().unwrap_or_default().to_owned()
}
