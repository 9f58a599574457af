//! A handover fits on a phone however much there is to say, and loses nothing: what does not fit is counted and can be
//! opened. Ladders pass over rungs that would ask nobody new.

mod common;

use chrono::{DateTime, TimeDelta, Utc};
use commands::Decision;
use commands::decision::Post;
use commands::due::{CHARS_MOST, LINES_MOST};
use commands::ids::{ChatRole, Person};
use commands::message::TEXT_CHARS_MAX;
use commands::role::Role;
use commands::words::Lang;
use common::{Home, answer_message, answer_text, buttons, text};
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
    let mut home = placed(50);
    for number in 10..50 {
        let tag = format!("LW-{number}");
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

/// A home with so many beds in Elm, and a surface under each of those from the tenth on.
fn placed(beds: u32) -> Home {
    let mut home = Home::set_up();
    let names = format!("101-1{beds}");
    home.does(
        Role::Admin,
        "facility unit",
        &[("name", text("Elm")), ("beds", text(&names))],
    );
    for number in 10..beds {
        let (tag, bed) = (format!("LW-{number}"), format!("1{number}"));
        home.does(
            Role::Supervisor,
            "fleet add",
            &[
                ("tag", text(&tag)),
                ("profile", text("general")),
                ("tested", text("2026-01-15")),
            ],
        );
        home.does(
            Role::Nurse,
            "place",
            &[("surface", text(&tag)), ("bed", text(&bed))],
        );
    }
    home
}

fn alarms(home: &mut Home, tags: &[&str]) {
    for tag in tags {
        home.does(Role::Aide, "alarm", &[("surface", text(tag))]);
    }
}

/// How many lines a message says are left, by its own last words.
fn said_left(text: &str) -> usize {
    let more =
        Regex::new(r"(?m)^… (?:and|y) (\d+) (?:more|más): (?:tap|toque) ").expect("a pattern");
    more.captures(text)
        .map_or(0, |found| found[1].parse().expect("a number"))
}

/// A handover as a nurse reads it, from its first screen to the end, tap after tap: the first screen's lines, and those of
/// each part. Every message is one that the platform takes, and says how many lines are still to come.
fn read_whole(home: &mut Home, lang: Lang) -> (Vec<String>, Vec<Vec<String>>) {
    let nurse = [Role::Nurse];
    let said = common::command("handover", &[("unit", text("Elm"))]);
    let mut answer = home.ask_as(&nurse, lang, &said);
    let mut messages = Vec::new();
    let mut left = Vec::new();
    loop {
        let message = answer_message(&answer).expect("a message");
        assert!(
            message.text.chars().count() <= TEXT_CHARS_MAX,
            "{}",
            message.text
        );
        assert!(!message.text.contains("`/handover"), "{}", message.text);
        left.push(said_left(&message.text));
        let lines = message.text.lines().filter(|line| said_left(line) == 0);
        messages.push(lines.map(str::to_owned).collect::<Vec<_>>());
        let on = buttons(&answer)
            .into_iter()
            .find(|id| id.starts_with("duty|rest"));
        let Some(id) = on else { break };
        assert!(messages.len() < 20, "the rest has no end");
        let tap = commands::Said::Tap {
            id,
            chosen: Vec::new(),
        };
        answer = home.ask_as(&nurse, lang, &tap);
    }
    let first = messages.remove(0);
    for (place, left) in left.iter().enumerate().skip(1) {
        let to_come: usize = messages[place..].iter().map(Vec::len).sum();
        assert_eq!(*left, to_come, "after part {place}");
    }
    // Lines that only count some stand on the screen and, whole, in the rest; others may stand in both.
    let counts = Regex::new(r" (?:and|y) \d+ (?:more|más)$").expect("a pattern");
    let cut = first.iter().filter(|line| counts.is_match(line)).count();
    let new = messages
        .iter()
        .flatten()
        .filter(|line| !first.contains(line));
    assert_eq!(left[0] + cut, new.count(), "{first:#?}");
    (first, messages)
}

/// What is said of the calls about a surface, in English.
fn calls_about(lines: &[String], tag: &str) -> Vec<String> {
    let begins = format!("- Called about **{tag}**: ");
    let lines = lines.iter().filter_map(|line| line.strip_prefix(&begins));
    lines.map(str::to_owned).collect()
}

/// The shown time so many minutes after a moment.
fn minutes_after(from: DateTime<Utc>, minutes: i64) -> String {
    format!("<t:{}:t>", (from + TimeDelta::minutes(minutes)).timestamp())
}

/// Two alarms that nobody takes, from 07:00 to 23:00, in a unit where much else is open. Shifts begin at 07:00 and 15:00.
#[test]
fn a_day_of_open_alarms_is_read_to_its_last_line() {
    let mut home = placed(80);
    home.passes(23 * 60 + 50);
    let opened = home.now;
    alarms(&mut home, &["LW-01", "LW-02"]);
    let at = |minutes| minutes_after(opened, minutes);
    let mut said = Vec::new();
    for minutes in [8 * 60 - 1, 8 * 60] {
        home.passes(minutes);
        for lang in [Lang::English, Lang::Spanish] {
            let (first, parts) = read_whole(&mut home, lang);
            assert!(parts.len() > 1, "{parts:#?}");
            let all: Vec<String> = first.into_iter().chain(parts.concat()).collect();
            for number in 10..80 {
                let tag = format!("**LW-{number}**");
                assert!(all.iter().any(|line| line.contains(&tag)), "{tag}");
            }
            if lang == Lang::English {
                said.push(["LW-01", "LW-02"].map(|tag| calls_about(&all, tag)));
            }
        }
    }
    let morning = format!(
        "aides {}, nurses {}, supervisors {}, everybody {}, last {}, 96 calls",
        at(0),
        at(5),
        at(10),
        at(15),
        at(8 * 60 - 5)
    );
    let evening = format!(
        "aides {0}, nurses {0}, supervisors {0}, last {1}, 96 calls",
        at(8 * 60),
        at(16 * 60 - 5)
    );
    let of_both = |line: String| [vec![line.clone()], vec![line]];
    assert_eq!(said, [of_both(morning), of_both(evening)]);
}

/// Six alarms and as many calls as are not remembered: no line says who was called first, as if none had been before.
#[test]
fn calls_beyond_those_that_are_remembered_are_not_said_to_be_all() {
    let mut home = placed(80);
    home.passes(23 * 60 + 50);
    let opened = home.now;
    let tags = ["LW-10", "LW-11", "LW-12", "LW-13", "LW-14", "LW-15"];
    alarms(&mut home, &tags);
    home.passes(8 * 60 - 1);
    let (first, parts) = read_whole(&mut home, Lang::English);
    let all: Vec<String> = first.into_iter().chain(parts.concat()).collect();
    let last = minutes_after(opened, 8 * 60 - 5);
    for tag in tags {
        let said = calls_about(&all, tag);
        let [line] = said.as_slice() else {
            panic!("{tag}: {said:?}");
        };
        assert!(line.starts_with(&format!("last {last}, ")), "{line}");
        assert!(line.ends_with(" calls or more"), "{line}");
    }
}

/// A button from before there were parts, and one to a part that there is no more, open what there is.
#[test]
fn a_part_that_is_gone_opens_the_last_one() {
    let mut home = placed(80);
    let (_, parts) = read_whole(&mut home, Lang::English);
    let said = common::command("handover", &[("unit", text("Elm"))]);
    let card = home.ask(Role::Nurse, &said);
    let old = buttons(&card)
        .into_iter()
        .find(|id| id.starts_with("duty|rest"))
        .expect("the rest can be opened");
    assert_eq!(old.split('|').count(), 4, "{old}");
    for (id, part) in [
        (old.clone(), parts.first()),
        (format!("{old}|65535"), parts.last()),
    ] {
        let opened = home.taps(Role::Nurse, &id, &[]);
        let shown = answer_text(&opened).lines();
        let shown: Vec<String> = shown
            .filter(|line| said_left(line) == 0)
            .map(str::to_owned)
            .collect();
        assert_eq!(Some(&shown), part, "{id}");
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
