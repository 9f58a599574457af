//! Who may do what: every role against every command, its suggestions and every button, menu and form.
//!
//! The matrix is made by asking, from the table of commands and the lists of verbs, so that nothing new is left out; it is
//! compared with `rights/matrix.txt`, where a change of a right is read in review (`UPDATE_EXPECT=1` writes it). Beside
//! it stands a reading of the design's list by hand, `rights/reading.rs`, which must agree.

mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use commands::ids::{ChatRole, Person};
use commands::message::{Answer, Row};
use commands::role::Role;
use commands::said::{Picked, Value};
use commands::table::{COMMANDS, Command, Takes};
use commands::tap::{Tap, verb_of};
use commands::words::Lang;
use commands::{Ask, Decision, Said, Source, say};
use common::every_tap::taps;
use common::{CARE, Home, answer_text, text};

#[path = "rights/reading.rs"]
mod reading;

use reading::{AFTER_SHIFT_BY_HAND, COMMANDS_BY_HAND, TAPS_BY_HAND, roles};

/// Somebody from an agency whose shift has ended.
const LEFT: Person = Person(4_712);

/// Every role that somebody can hold, the least first; a role to come stands here as soon as it can be mapped.
fn everybody() -> Vec<Role> {
    let mut all = Role::MAPPED.to_vec();
    all.push(Role::Admin);
    all
}

/// Somebody with these roles asks this; nothing becomes a fact.
fn ask(home: &Home, held: &[Role], said: &Said) -> Decision {
    let facility = home.state.facility.as_ref().expect("a home that is set up");
    let ask = Ask {
        source: Source::interaction(7),
        who: Person(4_711),
        chat_roles: held
            .iter()
            .filter_map(|role| facility.roles.get(role).copied())
            .chain([ChatRole(999)])
            .collect(),
        manages: held.contains(&Role::Admin),
        deleted: Vec::new(),
        channel: CARE,
        lang: Lang::English,
        at: home.now,
    };
    home.answer(&ask, said)
}

/// What the refusal of a right says whatever is refused.
fn refusal_says() -> [String; 2] {
    [1, 2].map(|count| {
        let whole = say!(
            Lang::English,
            "fault-role",
            act = "|",
            roles = "|",
            count = count
        );
        whole.split('|').nth(1).unwrap_or_default().to_owned()
    })
}

/// Whether somebody with these roles is let through; a refusal leaves no mark.
fn may(home: &Home, held: &[Role], said: &Said) -> bool {
    let decision = ask(home, held, said);
    let text = answer_text(&decision);
    let refused = refusal_says()
        .iter()
        .any(|says| text.contains(says.as_str()));
    if refused {
        assert!(
            decision.entries.is_empty() && decision.posts.is_empty(),
            "a refusal leaves a mark: {said:?}"
        );
    }
    !refused
}

/// A row of the matrix: what was asked, and the roles that are let through.
struct Asked {
    what: String,
    said: Said,
}

/// Every command, with its examples; one without any is typed with something for each option.
fn commands_asked() -> Vec<(&'static Command, Vec<Asked>)> {
    let of = |command: &'static Command| {
        let mut lines: Vec<BTreeMap<String, Value>> = command
            .examples
            .iter()
            .map(|example| commands::parse::typed(command, example).expect("an example"))
            .collect();
        if lines.is_empty() {
            lines.push(BTreeMap::new());
        }
        let asked = lines.into_iter().map(|mut options| {
            // As people pick them from the chat's list.
            for option in command.options {
                if let (Takes::Person, Some(value)) = (option.takes, options.get_mut(option.name)) {
                    *value = Value::Person(Picked::member(Person(4_000)));
                }
            }
            let lacking = command.options.iter().filter(|option| option.required);
            for (place, option) in lacking.enumerate() {
                let number = 100 + place as u64;
                let given = match &option.takes {
                    Takes::Channel => Value::Channel(CARE),
                    Takes::Role => Value::Role(ChatRole(number)),
                    Takes::File => Value::File(commands::said::FileRef {
                        name: "rows.csv".to_owned(),
                        url: String::new(),
                        size: 10,
                    }),
                    Takes::Person => Value::Person(Picked::member(Person(4_000))),
                    Takes::Choice(words) => text(words[0]),
                    Takes::Whole(least, _) => Value::Whole(*least),
                    Takes::Text | Takes::Suggested if option.name == "timezone" => {
                        text("America/Chicago")
                    }
                    Takes::Text | Takes::Suggested => text("LW-01"),
                };
                let as_is = matches!(option.takes, Takes::File | Takes::Person);
                if as_is || !options.contains_key(option.name) {
                    options.insert(option.name.to_owned(), given);
                }
            }
            Asked {
                what: format!("/{}", command.path),
                said: Said::Command {
                    path: command.path.to_owned(),
                    options,
                },
            }
        });
        (command, asked.collect())
    };
    COMMANDS.iter().map(of).collect()
}

/// Every button, menu and form, by its verb.
fn taps_asked() -> Vec<(String, Vec<Asked>)> {
    let mut of: BTreeMap<String, Vec<Asked>> = BTreeMap::new();
    for (tap, chosen, fields) in taps() {
        let id = tap.id();
        let kind = match (&chosen, fields.is_empty()) {
            (Some(_), _) => "menu",
            (None, false) => "form",
            (None, true) => "button",
        };
        let verb = verb_of(&id);
        let what = format!("{kind} {verb}");
        let said = if kind == "form" {
            let fields = fields.into_iter();
            let fields = fields
                .map(|(name, value)| (name.to_owned(), value))
                .collect();
            Said::Form { id, fields }
        } else {
            let chosen = chosen.into_iter().collect();
            Said::Tap { id, chosen }
        };
        of.entry(verb).or_default().push(Asked { what, said });
    }
    of.into_iter().collect()
}

fn allowed(home: &Home, said: &Said) -> BTreeSet<Role> {
    let all = everybody();
    all.into_iter()
        .filter(|role| may(home, &[*role], said))
        .collect()
}

/// Whether somebody whose shift as an aide from an agency has just ended is let through; a refusal leaves no mark.
fn may_after_shift(home: &Home, said: &Said) -> bool {
    let ask = Ask {
        source: Source::interaction(8),
        who: LEFT,
        chat_roles: Vec::new(),
        manages: false,
        deleted: Vec::new(),
        channel: CARE,
        lang: Lang::English,
        at: home.now,
    };
    let decision = home.answer(&ask, said);
    let refused = answer_text(&decision).starts_with("You were let in until");
    let mark = !decision.entries.is_empty() || !decision.posts.is_empty();
    assert!(!(refused && mark), "a refusal leaves a mark: {said:?}");
    !refused
}

/// A home in which somebody was let in until this moment.
fn home_after_a_shift() -> Home {
    let mut home = Home::set_up();
    let shift = [
        ("person", Value::Person(Picked::member(LEFT))),
        ("role", text("aide")),
        ("until", text("8 h")),
    ];
    home.does(Role::Supervisor, "agency", &shift);
    home.now += chrono::TimeDelta::hours(8);
    home
}

/// A row of the matrix: what was asked, the roles that are let through, whether nobody in particular is, and whether somebody
/// whose shift has ended is.
type MatrixRow = (String, BTreeSet<Role>, bool, bool);

/// The rows of the matrix. Taps of one verb that ask for different rights have a row for each.
fn rows(home: &Home) -> Vec<MatrixRow> {
    let left = home_after_a_shift();
    let mut rows: Vec<MatrixRow> = Vec::new();
    let mut add = |asked: &Asked| {
        let roles = allowed(home, &asked.said);
        let nobody = may(home, &[], &asked.said);
        let row = (
            asked.what.clone(),
            roles,
            nobody,
            may_after_shift(&left, &asked.said),
        );
        if !rows.contains(&row) {
            rows.push(row);
        }
    };
    for (_, asked) in commands_asked() {
        asked.iter().for_each(&mut add);
    }
    for (_, asked) in taps_asked() {
        asked.iter().for_each(&mut add);
    }
    rows
}

fn table(home: &Home) -> String {
    let all = everybody();
    let mut out = String::from(
        "# Who may do what, made by tests/rights.rs: `yes` is let through, `-` is refused. Read a change here as a change\n\
         # of somebody's rights. A second row of the same words is the same button about another matter. The last column is\n\
         # whoever was let in as an aide, once their shift has ended: an alarm, and nothing else.\n\n",
    );
    let cell = |yes: bool| if yes { "yes" } else { "-" };
    let mut head = format!("{:<26}{:<11}", "", "no role");
    for role in &all {
        let _ = write!(head, "{:<11}", role.as_str());
    }
    head.push_str("shift over");
    out.push_str(head.trim_end());
    out.push('\n');
    for (what, roles, nobody, left) in rows(home) {
        let mut line = format!("{what:<26}{:<11}", cell(nobody));
        for role in &all {
            let _ = write!(line, "{:<11}", cell(roles.contains(role)));
        }
        line.push_str(cell(left));
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

#[test]
fn the_matrix_is_the_one_that_was_agreed_to() {
    let made = table(&Home::set_up());
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/rights/matrix.txt");
    #[allow(
        clippy::disallowed_methods,
        reason = "asked for by whoever changes a right, not a setting"
    )]
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        std::fs::write(path, &made).expect("the matrix can be written");
        return;
    }
    let agreed = std::fs::read_to_string(path).unwrap_or_default();
    let changed: Vec<String> = made
        .lines()
        .filter(|line| !agreed.lines().any(|of| of == *line))
        .map(|line| format!("+ {line}"))
        .chain(
            agreed
                .lines()
                .filter(|line| !made.lines().any(|of| of == *line))
                .map(|line| format!("- {line}")),
        )
        .collect();
    assert!(
        agreed == made,
        "rights have changed:\n{}",
        changed.join("\n")
    );
}

#[test]
fn the_commands_are_for_whom_the_design_names() {
    let home = Home::set_up();
    let mut wrong = Vec::new();
    for (command, asked) in commands_asked() {
        for one in asked {
            // With an option that changes what is only read without it, a command may be for others.
            let with = |path: &str| match (path.split_once(' '), &one.said) {
                (Some((of, option)), Said::Command { options, .. }) => {
                    let option = option.strip_suffix(':');
                    of == command.path && option.is_some_and(|name| options.contains_key(name))
                }
                _ => false,
            };
            let by_hand = COMMANDS_BY_HAND.iter();
            let Some((_, named, beyond, _)) = by_hand
                .clone()
                .find(|(path, ..)| with(path))
                .or_else(|| by_hand.clone().find(|(path, ..)| *path == command.path))
            else {
                wrong.push(format!("/{} is in no reading of the design", command.path));
                continue;
            };
            let expected: BTreeSet<Role> = roles(named).union(&roles(beyond)).copied().collect();
            let found = allowed(&home, &one.said);
            if found != expected {
                wrong.push(format!(
                    "/{}: {found:?}, read as {expected:?}",
                    command.path
                ));
            }
        }
    }
    let gone = COMMANDS_BY_HAND.iter().filter(|(path, ..)| {
        let there = COMMANDS.iter().any(|command| {
            let rest = path.strip_prefix(command.path);
            rest.is_some_and(|rest| rest.is_empty() || rest.ends_with(':'))
        });
        !there
    });
    wrong.extend(gone.map(|(path, ..)| format!("/{path} is no command")));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_tap_is_for_whom_its_command_is() {
    let home = Home::set_up();
    let by_path: BTreeMap<&str, BTreeSet<Role>> = commands_asked()
        .iter()
        .map(|(command, asked)| (command.path, allowed(&home, &asked[0].said)))
        .collect();
    let mut wrong = Vec::new();
    let asked = taps_asked();
    let verbs: BTreeSet<String> = asked.iter().map(|(verb, _)| verb.clone()).collect();
    assert_eq!(
        verbs,
        Tap::all_verbs().into_iter().collect(),
        "a verb has no sample"
    );
    for (verb, asked) in asked {
        let Some((_, whose)) = TAPS_BY_HAND.iter().find(|(of, _)| *of == verb) else {
            wrong.push(format!("nobody has said what `{verb}` stands for"));
            continue;
        };
        let expected: BTreeSet<BTreeSet<Role>> = whose
            .iter()
            .map(|whose| match whose.strip_prefix('/') {
                Some(path) => by_path[path].clone(),
                None => roles(whose),
            })
            .collect();
        let found: BTreeSet<BTreeSet<Role>> =
            asked.iter().map(|one| allowed(&home, &one.said)).collect();
        if found != expected {
            wrong.push(format!("{verb}: {found:?}, read as {expected:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn whoever_has_two_roles_may_what_either_may_and_no_more() {
    let home = Home::set_up();
    let all = everybody();
    let commands = commands_asked().into_iter().flat_map(|(_, asked)| asked);
    let taps = taps_asked().into_iter().flat_map(|(_, asked)| asked);
    for asked in commands.chain(taps) {
        let allowed = allowed(&home, &asked.said);
        for (place, one) in all.iter().enumerate() {
            for other in &all[place + 1..] {
                assert_eq!(
                    may(&home, &[*one, *other], &asked.said),
                    allowed.contains(one) || allowed.contains(other),
                    "{one:?} and {other:?}: {}",
                    asked.what
                );
            }
        }
    }
}

#[test]
fn a_refusal_says_which_roles_may() {
    let home = Home::set_up();
    let commands = commands_asked().into_iter().flat_map(|(_, asked)| asked);
    let taps = taps_asked().into_iter().flat_map(|(_, asked)| asked);
    for asked in commands.chain(taps) {
        let allowed = allowed(&home, &asked.said);
        for held in everybody().iter().filter(|role| !allowed.contains(role)) {
            let said = answer_text(&ask(&home, &[*held], &asked.said)).to_owned();
            let list = refusal_says()
                .iter()
                .find_map(|says| said.split_once(says.as_str()))
                .and_then(|(_, list)| list.split('.').next());
            let named: BTreeSet<String> = list
                .unwrap_or_default()
                .split(", ")
                .map(|word| word.trim().to_owned())
                .collect();
            let words = |role: &Role| say!(Lang::English, &format!("role-{}", role.as_str()));
            let expected: BTreeSet<String> = allowed.iter().map(words).collect();
            assert_eq!(named, expected, "{}: {said}", asked.what);
        }
    }
}

#[test]
fn nothing_is_suggested_to_whom_the_command_is_not_for() {
    let home = Home::set_up();
    let mut offered = 0;
    for (command, asked) in commands_asked() {
        // Help is for everybody.
        if command.path == "help" {
            continue;
        }
        let allowed = allowed(&home, &asked[0].said);
        let suggested = |option: &&commands::table::Opt| matches!(option.takes, Takes::Suggested);
        for option in command.options.iter().filter(suggested) {
            let completing = Said::Completing {
                path: command.path.to_owned(),
                options: BTreeMap::new(),
                focused: option.name.to_owned(),
            };
            for held in everybody()
                .into_iter()
                .map(|role| vec![role])
                .chain([vec![]])
            {
                let decision = ask(&home, &held, &completing);
                let Some(Answer::Choices(choices)) = decision.answer else {
                    panic!("suggestions")
                };
                assert!(decision.entries.is_empty() && decision.posts.is_empty());
                let lets = held.iter().any(|role| allowed.contains(role));
                assert!(
                    lets || choices.is_empty(),
                    "{held:?} /{} {}",
                    command.path,
                    option.name
                );
                offered += choices.len();
            }
        }
    }
    assert!(offered > 50, "suggestions were asked for at all");
}

#[test]
fn aides_may_change_a_setting_where_the_home_says_so() {
    let mut home = Home::set_up();
    let before = rows(&home);
    home.does(
        Role::Supervisor,
        "facility policy",
        &[("name", text("setting-by-aides")), ("value", text("yes"))],
    );
    let after = rows(&home);
    let changed: Vec<&str> = after
        .iter()
        .filter(|row| !before.contains(row))
        .map(|(what, ..)| what.as_str())
        .collect();
    let setting = [
        "/setting",
        "menu at set",
        "button at same",
        "button at shown",
        "button at type",
        "form at typed",
    ];
    assert_eq!(
        changed.into_iter().collect::<BTreeSet<_>>(),
        BTreeSet::from(setting),
        "what changes a setting, and only that"
    );
}

/// The identifiers that an answer or a post offers to be tapped, with a choice for a menu.
fn offered(decision: &Decision) -> Vec<(String, Vec<String>)> {
    let posts = decision.posts.iter().map(|post| &post.message);
    common::answer_message(decision)
        .into_iter()
        .chain(posts)
        .flat_map(|message| &message.rows)
        .flat_map(|row| match row {
            Row::Buttons(buttons) => {
                let ids = buttons.iter().map(|button| (button.id.clone(), vec![]));
                ids.collect::<Vec<_>>()
            }
            Row::Menu(menu) => {
                let first = menu.entries.iter().take(1).map(|entry| entry.value.clone());
                vec![(menu.id.clone(), first.collect())]
            }
        })
        .collect()
}

/// What is in the log: everybody who may read a card reads it, a supervisor signs it.

#[test]
fn a_role_that_is_taken_away_between_card_and_tap_is_gone() {
    let mut home = Home::set_up();
    let alarm = home.does(Role::Aide, "alarm", &[("surface", text("LW-01"))]);
    let round = home.ask(
        Role::Aide,
        &common::command("round", &[("unit", text("Elm"))]),
    );
    let taps: Vec<_> = offered(&alarm).into_iter().chain(offered(&round)).collect();
    assert!(taps.len() > 8, "{} things to tap", taps.len());
    for (id, chosen) in taps {
        let said = Said::Tap { id, chosen };
        assert!(may(&home, &[Role::Aide], &said), "{said:?}");
        assert!(!may(&home, &[], &said), "{said:?}");
    }
}

#[test]
fn a_form_that_was_opened_with_a_right_is_not_taken_without_it() {
    let mut home = Home::set_up();
    let round = home.ask(
        Role::Aide,
        &common::command("round", &[("unit", text("Elm"))]),
    );
    let type_it = offered(&round)
        .into_iter()
        .find(|(id, _)| verb_of(id) == "type")
        .expect("a reading can be typed");
    let opened = home.taps(Role::Aide, &type_it.0, &[]);
    let Some(Answer::Form(form)) = opened.answer else {
        panic!("a form");
    };
    let said = Said::Form {
        id: form.id,
        fields: BTreeMap::from([("air".to_owned(), "1 1/4".to_owned())]),
    };
    assert!(!may(&home, &[], &said));
    assert!(!may(&home, &[Role::Upkeep, Role::Admin], &said));
    let taken = ask(&home, &[Role::Aide], &said);
    assert!(!taken.entries.is_empty(), "with the right it is taken");
}

/// Written from what it is for: to say that something is wrong, and what it is; not to put it right, and not to read.
#[test]
fn after_a_shift_only_an_alarm_is_let_through() {
    let home = Home::set_up();
    let through: BTreeSet<String> = rows(&home)
        .into_iter()
        .filter_map(|(what, _, nobody, left)| (left && !nobody).then_some(what))
        .collect();
    let expected = AFTER_SHIFT_BY_HAND.iter().map(|&what| what.to_owned());
    assert_eq!(through, expected.collect());
}

#[test]
fn whoever_has_no_role_gets_help_and_nothing_else() {
    let home = Home::set_up();
    for (what, _, nobody, _) in rows(&home) {
        assert_eq!(nobody, what == "/help", "{what}");
    }
}
