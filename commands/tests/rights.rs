//! Who may do what: every role against every question, however it was put. The table of rights is the
//! design's; the matrix is made from the table of commands and from every kind of tap.

mod common;

use std::collections::BTreeMap;

use commands::Said;
use commands::choice::{Cause, Finding, Outcome, Roll, Step};
use commands::ids::{AlarmNo, OutageNo, RecordNo};
use commands::record::Fault;
use commands::request::Right;
use commands::role::Role;
use commands::rules::hand_check::Air;
use commands::rules::priority::AlarmKind;
use commands::rules::set_up::Stage;
use commands::rules::turnover::Inspection;
use commands::said::Value;
use commands::state::Ladder;
use commands::table::{self, COMMANDS};
use commands::tap::{
    Bedside, Began, Begun, Card, Entry, House, Line, ListCard, Longer, Power, RentalCard, Tap, Turn,
};
use common::{Home, answer_text};

const EVERYBODY: [Role; 5] = [
    Role::Aide,
    Role::Nurse,
    Role::Supervisor,
    Role::Upkeep,
    Role::Admin,
];

/// Who may, as the design's list of commands says it.
fn may(right: Right) -> &'static [Role] {
    match right {
        Right::Read | Right::RaiseAlarm | Right::Pull | Right::Amend => &EVERYBODY,
        Right::Check | Right::AnswerAlarm => &[Role::Aide, Role::Nurse, Role::Supervisor],
        Right::Upkeep | Right::CallRoll => {
            &[Role::Aide, Role::Nurse, Role::Supervisor, Role::Upkeep]
        }
        Right::Place | Right::Setting => &[Role::Nurse, Role::Supervisor],
        Right::Gaps => &[Role::Nurse, Role::Supervisor, Role::Upkeep],
        Right::Maintain => &[Role::Supervisor, Role::Upkeep],
        Right::Frames => &[Role::Supervisor, Role::Upkeep, Role::Admin],
        Right::ReadFleet => &[Role::Supervisor, Role::Upkeep, Role::Admin],
        Right::ChangeFleet | Right::ReadSettings | Right::Policy => {
            &[Role::Supervisor, Role::Admin]
        }
        Right::Settings => &[Role::Admin],
        Right::ConfirmPolicy | Right::Supervise | Right::Countersign => &[Role::Supervisor],
    }
}

/// The sentence that turns somebody away begins so.
fn turned_away(home: &mut Home, role: Role, said: &Said) -> bool {
    let decision = home.ask(role, said);
    let refusal = commands::say!(commands::words::Lang::English, "fault-role", roles = "");
    let begins = refusal.split(':').next().unwrap_or(&refusal).to_owned();
    let refused = answer_text(&decision).starts_with(begins.trim_end_matches(['.', ' ']));
    if refused {
        assert!(
            decision.entries.is_empty() && decision.posts.is_empty(),
            "a refusal leaves no mark"
        );
    }
    refused
}

#[test]
fn every_command_and_its_suggestions_are_held_to_the_same_roles() {
    let mut home = Home::set_up();
    for command in COMMANDS.iter().filter(|command| command.path != "help") {
        for example in command.examples {
            let mut options = commands::parse::typed(command, example).expect("an example");
            if let Some(Value::Text(name)) = options.get("file") {
                let file = commands::said::FileRef {
                    name: name.clone(),
                    url: String::new(),
                    size: 10,
                };
                options.insert("file".to_owned(), Value::File(file));
            }
            let said = Said::Command {
                path: command.path.to_owned(),
                options: options.clone(),
            };
            for role in EVERYBODY {
                let refused = turned_away(&mut home, role, &said);
                assert_eq!(
                    refused,
                    !may(command.right).contains(&role),
                    "{role:?} {example}"
                );
                for option in command
                    .options
                    .iter()
                    .filter(|option| matches!(option.takes, table::Takes::Suggested))
                {
                    let completing = Said::Completing {
                        path: command.path.to_owned(),
                        options: BTreeMap::new(),
                        focused: option.name.to_owned(),
                    };
                    let decision = home.ask(role, &completing);
                    let Some(commands::message::Answer::Choices(choices)) = decision.answer else {
                        panic!("suggestions")
                    };
                    assert!(
                        !refused || choices.is_empty(),
                        "{role:?} is offered something for {}",
                        command.path
                    );
                }
            }
        }
    }
}

#[test]
fn the_set_up_itself_is_for_whoever_manages_the_guild() {
    let mut home = Home::set_up();
    let setup = table::find("facility setup").expect("the set-up");
    assert_eq!(setup.right, Right::Settings);
    let said = Said::Command {
        path: "facility setup".to_owned(),
        options: BTreeMap::from([
            (
                "timezone".to_owned(),
                Value::Text("America/Chicago".to_owned()),
            ),
            ("care-channel".to_owned(), Value::Channel(common::CARE)),
            (
                "supervisor-channel".to_owned(),
                Value::Channel(common::SUPERVISORS),
            ),
            ("aide".to_owned(), Value::Role(commands::ids::ChatRole(101))),
            (
                "nurse".to_owned(),
                Value::Role(commands::ids::ChatRole(102)),
            ),
            (
                "supervisor".to_owned(),
                Value::Role(commands::ids::ChatRole(103)),
            ),
        ]),
    };
    for role in EVERYBODY {
        assert_eq!(
            turned_away(&mut home, role, &said),
            role != Role::Admin,
            "{role:?}"
        );
    }
}

#[test]
fn every_tap_is_held_to_the_roles_of_what_it_does() {
    let mut home = Home::set_up();
    let alarm = AlarmNo(1);
    let card = Card {
        round: Some("Elm".into()),
        tag: "LW-01".into(),
        seen: RecordNo(9_999),
        shown: home.now.timestamp() / 60,
    };
    let cause = Cause::Hose;
    let soiled = || commands::ids::Tag::from("LW-05");
    let (of, hold) = (Began(1), RecordNo(1));
    let taps: Vec<(Tap, Right, Option<&str>)> = vec![
        (Tap::StartRound { unit: "Elm".into() }, Right::Check, None),
        (
            Tap::Air {
                card: card.clone(),
                air: Air::Over,
            },
            Right::Check,
            None,
        ),
        (Tap::TypeAir { card: card.clone() }, Right::Check, None),
        (Tap::Skip { card: card.clone() }, Right::Check, None),
        (Tap::Take { alarm }, Right::AnswerAlarm, None),
        (Tap::Safe { alarm }, Right::AnswerAlarm, None),
        (Tap::Fixed { alarm }, Right::AnswerAlarm, None),
        (
            Tap::Caused { alarm, cause },
            Right::AnswerAlarm,
            Some("hose"),
        ),
        (
            Tap::FixedAir {
                alarm,
                cause,
                air: Air::Over,
            },
            Right::AnswerAlarm,
            None,
        ),
        (Tap::TypeFixedAir { alarm, cause }, Right::AnswerAlarm, None),
        (
            Tap::NameAlarm {
                alarm,
                kind: AlarmKind::Power,
            },
            Right::RaiseAlarm,
            Some("power"),
        ),
        (Tap::Pull { alarm }, Right::Pull, None),
        (
            Tap::TakeBack {
                first: RecordNo(1),
                tag: "LW-01".into(),
            },
            Right::Read,
            None,
        ),
        (
            Tap::TurnFilter {
                tag: "LW-05".into(),
                of: Began(29_540_000),
                finding: Finding::Clean,
            },
            Right::Upkeep,
            None,
        ),
        (
            Tap::TurnFunction {
                tag: "LW-05".into(),
                of: Began(29_540_000),
            },
            Right::Upkeep,
            None,
        ),
        (
            Tap::Pick {
                tag: "LW-01".into(),
            },
            Right::Read,
            Some("LW-01"),
        ),
        (
            Tap::Turn(Turn::Dried { tag: soiled(), of }),
            Right::Upkeep,
            None,
        ),
        (
            Tap::Turn(Turn::Inspected {
                tag: soiled(),
                of,
                found: Inspection::Torn,
            }),
            Right::Upkeep,
            None,
        ),
        (
            Tap::Turn(Turn::PartsWhole { tag: soiled(), of }),
            Right::Upkeep,
            None,
        ),
        (
            Tap::Turn(Turn::PartDamaged { tag: soiled(), of }),
            Right::Upkeep,
            None,
        ),
        (
            Tap::Turn(Turn::PartFault {
                tag: soiled(),
                of,
                fault: Fault::Cord,
            }),
            Right::Upkeep,
            Some("cord"),
        ),
        (
            Tap::Turn(Turn::NotRunning { tag: soiled(), of }),
            Right::Upkeep,
            None,
        ),
        (
            Tap::Turn(Turn::Repaired { tag: soiled() }),
            Right::Maintain,
            None,
        ),
        (
            Tap::Turn(Turn::RepairNote { tag: soiled() }),
            Right::Maintain,
            None,
        ),
        (
            Tap::Turn(Turn::Tested {
                tag: soiled(),
                outcome: Outcome::Passed,
            }),
            Right::Maintain,
            None,
        ),
        (
            Tap::Turn(Turn::Reported {
                tag: soiled(),
                hold,
            }),
            Right::Supervise,
            None,
        ),
        (
            Tap::Turn(Turn::LetGo {
                tag: soiled(),
                hold,
            }),
            Right::Supervise,
            None,
        ),
        (
            Tap::Turn(Turn::LetGoSure {
                tag: soiled(),
                hold,
            }),
            Right::Supervise,
            None,
        ),
        (
            Tap::Turn(Turn::RecallAll {
                tag: soiled(),
                lot: false,
                found: 1,
            }),
            Right::Supervise,
            None,
        ),
        (
            Tap::ConfirmPolicy {
                word: "recheck".to_owned(),
                value: 20,
            },
            Right::ConfirmPolicy,
            None,
        ),
        (
            Tap::ConfirmLadder {
                ladder: Ladder::default(),
            },
            Right::ConfirmPolicy,
            None,
        ),
        (
            Tap::Power(Power::Take {
                outage: OutageNo(1),
            }),
            Right::CallRoll,
            None,
        ),
        (
            Tap::Power(Power::Seen {
                outage: OutageNo(1),
                roll: 1,
                tag: "LW-01".into(),
                how: Roll::Flat,
            }),
            Right::CallRoll,
            None,
        ),
        (
            Tap::Power(Power::Later {
                outage: OutageNo(1),
                roll: 1,
                tag: "LW-01".into(),
            }),
            Right::CallRoll,
            None,
        ),
        (
            Tap::Power(Power::Again {
                outage: OutageNo(1),
                roll: 1,
                tag: "LW-01".into(),
            }),
            Right::CallRoll,
            None,
        ),
        (
            Tap::Power(Power::Mended {
                outage: OutageNo(1),
                roll: 1,
                tag: "LW-01".into(),
                how: Roll::Low,
            }),
            Right::CallRoll,
            None,
        ),
        (
            Tap::Power(Power::Back {
                outage: OutageNo(1),
            }),
            Right::CallRoll,
            None,
        ),
        (
            Tap::Power(Power::Place {
                tag: "LW-04".into(),
                bed: "104".into(),
            }),
            Right::Place,
            None,
        ),
    ];
    let mut taps = taps.to_vec();
    taps.extend(
        bedside()
            .into_iter()
            .map(|(tap, right, chosen)| (Tap::Bedside(tap), right, chosen)),
    );
    let taps = taps.into_iter().chain(house_taps()).chain(entry_taps());
    for (tap, right, chosen) in taps {
        let chosen: Vec<String> = chosen.into_iter().map(str::to_owned).collect();
        let said = Said::Tap {
            id: tap.id(),
            chosen,
        };
        for role in EVERYBODY {
            let refused = turned_away(&mut home, role, &said);
            assert_eq!(refused, !may(right).contains(&role), "{role:?} {tap:?}");
        }
    }
}

/// Taps at the bed: nurses and aides share the list; the setting, rails and gaps, and who is gone are a nurse's.
fn bedside() -> Vec<(Bedside, Right, Option<&'static str>)> {
    let card = || ListCard {
        tag: "LW-01".into(),
        list: RecordNo(9_999),
        post: false,
    };
    let begun = || Begun {
        tag: "LW-01".into(),
        since: 0,
    };
    let step = Step::Brakes;
    let done = |stage| Bedside::Done {
        card: card(),
        stage,
    };
    vec![
        (
            Bedside::Steps {
                tag: "LW-01".into(),
            },
            Right::Check,
            None,
        ),
        (done(Stage::Empty), Right::Check, None),
        (done(Stage::Full), Right::Check, None),
        (done(Stage::Rest), Right::Check, None),
        (done(Stage::Rails), Right::Place, None),
        (
            Bedside::Missed { card: card(), step },
            Right::Check,
            Some("brakes"),
        ),
        (
            Bedside::Mended { card: card(), step },
            Right::Check,
            Some("brakes"),
        ),
        (
            Bedside::Set {
                card: card(),
                setting: String::new(),
            },
            Right::Setting,
            Some("4"),
        ),
        (Bedside::Same { card: card() }, Right::Setting, None),
        (Bedside::TypeSetting { card: card() }, Right::Setting, None),
        (Bedside::TypeMinutes { card: card() }, Right::Check, None),
        (Bedside::Alternating { begun: begun() }, Right::Check, None),
        (Bedside::CprOver { begun: begun() }, Right::Check, None),
        (Bedside::Back { begun: begun() }, Right::Check, None),
        (
            Bedside::Away {
                begun: begun(),
                longer: Longer::Hour,
            },
            Right::Check,
            Some("1h"),
        ),
        (Bedside::Gone { begun: begun() }, Right::Place, None),
    ]
}

#[test]
fn aides_may_change_a_setting_where_the_home_says_so() {
    let mut home = Home::set_up();
    let said = common::command(
        "setting",
        &[
            ("surface", common::text("LW-01")),
            ("set", common::text("4")),
        ],
    );
    assert!(turned_away(&mut home, Role::Aide, &said));
    home.does(
        Role::Supervisor,
        "facility policy",
        &[
            ("name", common::text("setting-by-aides")),
            ("value", common::text("yes")),
        ],
    );
    assert!(!turned_away(&mut home, Role::Aide, &said));
    assert!(!turned_away(&mut home, Role::Nurse, &said));
    assert!(turned_away(&mut home, Role::Upkeep, &said));
    assert!(turned_away(&mut home, Role::Admin, &said));
}

fn house_taps() -> Vec<(Tap, Right, Option<&'static str>)> {
    let rental = || RentalCard {
        tag: "LW-01".into(),
        since: 1,
    };
    let acted = House::Acted {
        bed: "101".into(),
        no: RecordNo(1),
    };
    let waive = House::Waive {
        tag: "LW-04".into(),
        bed: "103".into(),
        instead_of: None,
    };
    let item = House::NewItem {
        item: "hose connectors".into(),
        count: 6,
    };
    [
        (acted, Right::Gaps),
        (waive, Right::Place),
        (House::ArrivedWell { rental: rental() }, Right::Maintain),
        (House::ArrivedBadly { rental: rental() }, Right::Maintain),
        (House::Confirm { rental: rental() }, Right::Supervise),
        (House::Collected { rental: rental() }, Right::Supervise),
        (item, Right::Maintain),
    ]
    .into_iter()
    .map(|(tap, right)| (Tap::House(tap), right, None))
    .collect()
}

/// What is in the log: everybody who may read a card reads it, a supervisor signs it.
fn entry_taps() -> Vec<(Tap, Right, Option<&'static str>)> {
    let line = || Line::Bed("101".into());
    let entry = RecordNo(1);
    let page = Entry::Page {
        line: line(),
        upto: RecordNo(9_999),
        skip: 1,
    };
    let seen = RecordNo(9_999);
    [
        (page, Right::Read, None),
        (Entry::Corrections { line: line() }, Right::Read, None),
        (Entry::Look { entry }, Right::Read, Some("1")),
        (Entry::Sign { entry, seen }, Right::Countersign, None),
    ]
    .into_iter()
    .map(|(tap, right, chosen)| (Tap::Entry(tap), right, chosen))
    .collect()
}

#[test]
fn the_form_of_a_pickup_is_held_to_the_roles_of_its_button() {
    let mut home = Home::set_up();
    let tap = House::Confirmed {
        rental: RentalCard {
            tag: "LW-01".into(),
            since: 1,
        },
        number: None,
    };
    let said = Said::Form {
        id: Tap::House(tap).id(),
        fields: BTreeMap::from([("number".to_owned(), "P-20418".to_owned())]),
    };
    for role in EVERYBODY {
        let refused = turned_away(&mut home, role, &said);
        assert_eq!(refused, !may(Right::Supervise).contains(&role), "{role:?}");
    }
}

#[test]
fn every_form_is_held_to_the_roles_of_what_it_does() {
    let mut home = Home::set_up();
    let card = Card {
        round: None,
        tag: "LW-01".into(),
        seen: RecordNo(9_999),
        shown: home.now.timestamp() / 60,
    };
    let forms = [
        (
            Tap::AirTyped {
                card,
                air: String::new(),
                note: None,
            },
            Right::Check,
        ),
        (
            Tap::FixedAirTyped {
                alarm: AlarmNo(1),
                cause: Cause::Leak,
                air: String::new(),
                note: None,
            },
            Right::Check,
        ),
        (
            Tap::Turn(Turn::RepairNoted {
                tag: "LW-05".into(),
                note: None,
            }),
            Right::Maintain,
        ),
        (
            Tap::Power(Power::Catchup {
                unit: None,
                text: String::new(),
            }),
            Right::Check,
        ),
    ];
    let list = || ListCard {
        tag: "LW-01".into(),
        list: RecordNo(9_999),
        post: false,
    };
    let setting = Tap::Bedside(Bedside::SettingTyped {
        card: list(),
        setting: String::new(),
    });
    let minutes = Tap::Bedside(Bedside::MinutesTyped {
        card: list(),
        minutes: String::new(),
    });
    let at_the_bed = [(setting, Right::Setting), (minutes, Right::Check)];
    for (form, right) in forms.into_iter().chain(at_the_bed) {
        let fields = BTreeMap::from([
            ("air".to_owned(), "1 1/4".to_owned()),
            ("setting".to_owned(), "4".to_owned()),
            ("minutes".to_owned(), "12".to_owned()),
        ]);
        let said = Said::Form {
            id: form.id(),
            fields,
        };
        for role in EVERYBODY {
            let refused = turned_away(&mut home, role, &said);
            assert_eq!(refused, !may(right).contains(&role), "{role:?} {form:?}");
        }
    }
}

#[test]
fn whoever_has_no_role_is_told_so_and_gets_help() {
    let mut home = Home::set_up();
    let said = common::command("due", &[]);
    assert!(turned_away(&mut home, Role::Clock, &said));
    let help = home.ask(Role::Clock, &common::command("help", &[]));
    assert!(!answer_text(&help).is_empty());
}
