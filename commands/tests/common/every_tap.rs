//! One of every kind of tap and more, with what a menu or a form would add: what is tested of taps is tested of all.

use std::collections::BTreeMap;

use commands::choice::{
    Action, Cause, Cleaning, Cover, Finding, GapAct, LeaveWhy, LoftAnswer, Method, Mode, Outcome,
    Position, Roll, Site, Stand, Step, Task, Work as Kind,
};
use commands::ids::{AlarmNo, HandoverNo, OutageNo, Person, RecordNo, Tag, Unit};
use commands::record::Fault;
use commands::rules::air::Tenths;
use commands::rules::bleach::{Strength, Unit as Liquid};
use commands::rules::hand_check::Kind as Does;
use commands::rules::hand_check::{Air, Why};
use commands::rules::look_first::Sign;
use commands::rules::period::Period;
use commands::rules::priority::AlarmKind;
use commands::rules::set_up::Stage;
use commands::rules::turnover::Inspection;
use commands::tap::{
    Astray, Bedside, Began, Begun, Card, Costing, Duty, Echo, Entry, House, Line, List, ListCard,
    Loft, Longer, LookCard, Mixing, OneOf, Page, Plain, Power, Reading, RentalCard, Report,
    SETTING_BYTES_MAX, SeenBy, Setting, Sizing, Spoken, Staff, Sum, Tap, Then, Turn, Work,
};

/// The longest names that the register takes (`TAG_CHARS_MAX`, `UNIT_BYTES_MAX`).
const LONGEST_TAG: &str = "ABCDEFGHIJ-12345";
const LONGEST_UNIT: &str = "Unit of the longest name";
/// Beyond any log.
pub const FAR: u64 = 99_999_999_999;

/// Cards with air buttons, in a round and beside it.
pub fn cards() -> Vec<Card> {
    let card = |round: Option<&str>| Card {
        round: round.map(Unit::from),
        tag: Tag::from(LONGEST_TAG),
        seen: RecordNo(FAR),
        shown: 99_999_999,
    };
    vec![card(None), card(Some("Elm")), card(Some(LONGEST_UNIT))]
}

/// Every kind of tap, with what a menu or a form would add.
pub fn taps() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let alarm = AlarmNo(FAR);
    let none = BTreeMap::new;
    let form = || {
        BTreeMap::from([
            ("air", "1 1/4".to_owned()),
            ("note", "hose was loose".to_owned()),
        ])
    };
    let note = Some("hose was loose".to_owned());
    let mut taps = vec![
        (
            Tap::StartRound {
                unit: Unit::from(LONGEST_UNIT),
            },
            None,
            none(),
        ),
        (Tap::Take { alarm }, None, none()),
        (Tap::Safe { alarm }, None, none()),
        (Tap::Fixed { alarm }, None, none()),
        (Tap::CannotGo { alarm }, None, none()),
        (Tap::NotSafe { alarm }, None, none()),
        (
            Tap::WhichBed {
                tag: LONGEST_TAG.into(),
            },
            None,
            none(),
        ),
        (Tap::Pull { alarm }, None, none()),
        (
            Tap::TakeBack {
                first: RecordNo(FAR),
                tag: LONGEST_TAG.into(),
                then: Then::Beside,
            },
            None,
            none(),
        ),
        (
            Tap::TakeBack {
                first: RecordNo(FAR),
                tag: LONGEST_TAG.into(),
                then: Then::Instead,
            },
            None,
            none(),
        ),
        (
            Tap::TakeBack {
                first: RecordNo(FAR),
                tag: LONGEST_TAG.into(),
                then: Then::Round(LONGEST_UNIT.into()),
            },
            None,
            none(),
        ),
        (
            Tap::TurnFunction {
                tag: LONGEST_TAG.into(),
                of: Began(99_999_999),
            },
            None,
            none(),
        ),
        (
            Tap::Pick {
                tag: LONGEST_TAG.into(),
            },
            Some(LONGEST_TAG.to_owned()),
            none(),
        ),
    ];
    taps.extend(bedside());
    taps.extend(duties());
    taps.extend(astray());
    taps.extend(work());
    taps.extend(sums());
    let outage = OutageNo(FAR);
    let power = [
        Power::Take { outage },
        Power::Back { outage },
        Power::Beds { outage },
    ]
    .into_iter()
    .chain(Roll::ALL.iter().map(|how| Power::Seen {
        outage,
        roll: u32::MAX,
        tag: LONGEST_TAG.into(),
        how: *how,
    }))
    .chain(Roll::ALL.iter().map(|how| Power::Mended {
        outage,
        roll: u32::MAX,
        tag: LONGEST_TAG.into(),
        how: *how,
    }))
    .chain([
        Power::Later {
            outage,
            roll: u32::MAX,
            tag: LONGEST_TAG.into(),
        },
        Power::Again {
            outage,
            roll: u32::MAX,
            tag: LONGEST_TAG.into(),
        },
    ])
    .chain([Power::Place {
        tag: LONGEST_TAG.into(),
        bed: "ABCDEFGH-12345".into(),
    }]);
    taps.extend(power.map(|tap| (Tap::Power(tap), None, none())));
    for unit in [None, Some(Unit::from(LONGEST_UNIT))] {
        let text = "103 13:40 1 1/4".to_owned();
        let fields = BTreeMap::from([("lines", text.clone())]);
        let tap = Tap::Power(Power::Catchup { unit, text });
        taps.push((tap, None, fields));
    }
    taps.extend(house_taps());
    let no = RecordNo(FAR);
    let staff = [
        Staff::Read { then: None },
        Staff::Read {
            then: Some("/handcheck surface:LW-07 air:1 1/4".to_owned()),
        },
        Staff::Go {
            line: "/handcheck surface:LW-07 air:1 1/4".to_owned(),
        },
        Staff::LetIn {
            person: Person(u64::MAX),
            stand: Stand::Nurse,
            until: 99_999_999,
            unit: Some(LONGEST_UNIT.into()),
        },
        Staff::Out { no },
        Staff::EndSignOff { no },
        Staff::SignOffs { skip: 20 },
    ]
    .into_iter()
    .chain(Task::ALL.iter().map(|task| Staff::Looked {
        tag: LONGEST_TAG.into(),
        task: *task,
        entry: no,
    }));
    taps.extend(staff.map(|tap| (Tap::Staff(tap), None, none())));
    taps.extend(turns());
    taps.extend(settings());
    taps.extend(plain());
    taps.extend(loft());
    taps.extend(entries());
    taps.extend(reports());
    for cause in Cause::ALL {
        let cause = *cause;
        taps.push((
            Tap::Caused { alarm, cause },
            Some(cause.as_str().to_owned()),
            none(),
        ));
        taps.push((Tap::TypeFixedAir { alarm, cause }, None, none()));
        taps.push((
            Tap::FixedAirTyped {
                alarm,
                cause,
                air: "1 1/4".to_owned(),
                note: note.clone(),
            },
            None,
            form(),
        ));
        taps.push((
            Tap::FixedAir {
                alarm,
                cause,
                air: Air::Touching,
            },
            None,
            none(),
        ));
    }
    for kind in AlarmKind::ALL {
        taps.push((
            Tap::NameAlarm { alarm, kind: *kind },
            Some(kind.as_str().to_owned()),
            none(),
        ));
    }
    for finding in Finding::ALL {
        taps.push((
            Tap::TurnFilter {
                tag: LONGEST_TAG.into(),
                of: Began(99_999_999),
                finding: *finding,
            },
            None,
            none(),
        ));
    }
    let airs = [
        Air::Measured(Tenths(318)),
        Air::Within,
        Air::Under1,
        Air::Over,
        Air::Touching,
    ];
    for card in cards() {
        for air in airs
            .into_iter()
            .chain(Why::ALL.iter().map(|why| Air::CouldNot(*why)))
        {
            taps.push((
                Tap::Air {
                    card: card.clone(),
                    air,
                },
                None,
                none(),
            ));
        }
        let again = Tap::AirAgain {
            card: card.clone(),
            air: Air::Within,
        };
        taps.push((again, None, none()));
        taps.push((Tap::TypeAir { card: card.clone() }, None, none()));
        taps.push((Tap::Skip { card: card.clone() }, None, none()));
        taps.push((
            Tap::AirTyped {
                card,
                air: "1 1/4".to_owned(),
                note: note.clone(),
            },
            None,
            form(),
        ));
    }
    taps
}

/// Those of an alarm that may be of another surface.
fn astray() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let alarm = AlarmNo(FAR);
    let none = BTreeMap::new;
    let (tag, surface) = (Tag::from(LONGEST_TAG), LONGEST_TAG.to_owned());
    let form = BTreeMap::from([("surface", surface.clone())]);
    [
        (Astray::Which { alarm }, None, none()),
        (Astray::Is { alarm, tag }, Some(surface.clone()), none()),
        (Astray::Type { alarm }, None, none()),
        (Astray::Typed { alarm, surface }, None, form),
    ]
    .map(|(tap, chosen, fields)| (Tap::Astray(tap), chosen, fields))
    .into()
}

/// Those about who has a unit.
fn duties() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let units = [None, Some(Unit::from(LONGEST_UNIT))];
    let of_units = units.into_iter().flat_map(|unit| {
        let have = Duty::Have {
            unit: unit.clone(),
            until: 99_999_999,
        };
        let rest = |part| Duty::Rest {
            unit: unit.clone(),
            shift: 99_999_999,
            part,
        };
        [have, rest(0), rest(u16::MAX)]
    });
    let end = Duty::End { no: RecordNo(FAR) };
    let relieve = Duty::Relieve { no: RecordNo(FAR) };
    let accept = Duty::Accept {
        handover: HandoverNo(FAR),
    };
    of_units
        .chain([end, relieve, accept])
        .map(|tap| (Tap::Duty(tap), None, BTreeMap::new()))
        .collect()
}

/// Those of lists that are worked through.
fn work() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let none = BTreeMap::new;
    let tag = || Tag::from(LONGEST_TAG);
    let bed = || commands::ids::Bed::from("ABCDEFGH-12345");
    let seen = RecordNo(99_999_999);
    let item = format!("{LONGEST_TAG} paper-missing");
    let kind = || "paper-missing".to_owned();
    let mut taps = Vec::new();
    for (unit, card) in [(None, true), (Some(Unit::from(LONGEST_UNIT)), false)] {
        let list = List {
            unit: unit.clone(),
            all: u16::MAX,
            card,
        };
        taps.extend([
            (
                Work::Open {
                    unit,
                    tag: tag(),
                    kind: kind(),
                },
                Some(item.clone()),
                none(),
            ),
            (
                Work::Pick {
                    list: list.clone(),
                    tag: tag(),
                    kind: kind(),
                },
                Some(item.clone()),
                none(),
            ),
            (
                Work::Next {
                    list: list.clone(),
                    tag: tag(),
                    kind: kind(),
                },
                None,
                none(),
            ),
            (Work::All { list: list.clone() }, None, none()),
            (
                Work::In {
                    list: list.clone(),
                    tap: Box::new(Tap::Air {
                        card: Card {
                            round: None,
                            tag: tag(),
                            seen: RecordNo(9_999_999),
                            shown: 99_999_999,
                        },
                        air: Air::Touching,
                    }),
                },
                None,
                none(),
            ),
            (
                Work::In {
                    list: list.clone(),
                    tap: Box::new(Tap::Work(Work::Swap {
                        bed: bed(),
                        old: tag(),
                        new: tag(),
                    })),
                },
                Some(LONGEST_TAG.to_owned()),
                none(),
            ),
            (
                Work::In {
                    list,
                    tap: Box::new(Tap::Work(Work::Outlet { bed: bed() })),
                },
                None,
                none(),
            ),
        ]);
    }
    taps.push((Work::Cycle { tag: tag() }, None, none()));
    taps.push((Work::Cycles, None, none()));
    for (finding, action) in Finding::ALL.iter().zip(Action::ALL.iter().cycle()) {
        let tap = Work::Filter {
            tag: tag(),
            seen,
            finding: *finding,
            action: *action,
        };
        taps.push((tap, None, none()));
    }
    for work in Kind::ALL.iter().copied() {
        taps.push((
            Work::Serve {
                tag: tag(),
                seen,
                work,
            },
            None,
            none(),
        ));
        for outcome in Outcome::ALL.iter().copied() {
            let tap = Work::Served {
                tag: tag(),
                seen,
                work,
                outcome,
            };
            taps.push((tap, None, none()));
        }
        let typed = Work::ServeTyped {
            tag: tag(),
            seen,
            work,
            outcome: "passed".to_owned(),
            on: Some("2026-03-01".to_owned()),
            next: None,
            note: Some("label worn".to_owned()),
        };
        let fields = BTreeMap::from([
            ("result", "passed".to_owned()),
            ("on", "2026-03-01".to_owned()),
            ("next", " ".to_owned()),
            ("note", "label worn".to_owned()),
        ]);
        taps.push((typed, None, fields));
    }
    let zones = Work::ZonesTyped {
        bed: bed(),
        zones: [
            Some("110 mm".to_owned()),
            None,
            None,
            Some("50 mm".to_owned()),
        ],
        angle4: Some("65".to_owned()),
    };
    let fields = BTreeMap::from([
        ("zone1", "110 mm".to_owned()),
        ("zone4", "50 mm".to_owned()),
        ("angle4", "65".to_owned()),
    ]);
    taps.push((zones, None, fields));
    for product in [None, Some("Wipe A".to_owned())] {
        let value = Work::cleaned_value(Method::Quaternary, Cover::Intact, product.as_deref());
        let tap = Work::Cleaned {
            tag: tag(),
            of: Began(99_999_999),
            method: Method::Quaternary,
            cover: Cover::Intact,
            product,
        };
        taps.push((tap, Some(value), none()));
    }
    for product in [None, Some("W".repeat(40))] {
        let tap = Work::Rinsed {
            tag: tag(),
            of: Began(99_999_999),
            reason: Cleaning::BetweenResidents,
            method: Method::Bleach,
            cover: Cover::Intact,
            product,
        };
        taps.push((tap, None, none()));
    }
    taps.extend([
        (Work::Outlet { bed: bed() }, None, none()),
        (Work::OutletBad { bed: bed() }, None, none()),
        (Work::Zones { bed: bed() }, None, none()),
        (Work::Return { tag: tag() }, None, none()),
        (Work::Stop { tag: tag() }, None, none()),
        (
            Work::Swap {
                bed: bed(),
                old: tag(),
                new: tag(),
            },
            Some(LONGEST_TAG.to_owned()),
            none(),
        ),
        (
            Work::SwapSure {
                bed: bed(),
                old: tag(),
                new: tag(),
            },
            None,
            none(),
        ),
    ]);
    taps.into_iter()
        .map(|(tap, chosen, fields)| (Tap::Work(tap), chosen, fields))
        .collect()
}

/// Those at the bed.
fn bedside() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let none = BTreeMap::new;
    let begun = Begun {
        tag: LONGEST_TAG.into(),
        since: 99_999_999_999,
    };
    let mut taps = vec![
        (
            Bedside::Steps {
                tag: LONGEST_TAG.into(),
            },
            None,
            none(),
        ),
        (
            Bedside::Alternating {
                begun: begun.clone(),
            },
            None,
            none(),
        ),
        (
            Bedside::CprOver {
                begun: begun.clone(),
            },
            None,
            none(),
        ),
        (
            Bedside::Back {
                begun: begun.clone(),
            },
            None,
            none(),
        ),
        (
            Bedside::Gone {
                begun: begun.clone(),
            },
            None,
            none(),
        ),
    ];
    for longer in Longer::ALL {
        taps.push((
            Bedside::Away {
                begun: begun.clone(),
                longer: *longer,
            },
            Some(longer.as_str().to_owned()),
            none(),
        ));
    }
    for post in [true, false] {
        let card = || ListCard {
            tag: LONGEST_TAG.into(),
            list: RecordNo(FAR),
            post,
        };
        for stage in Stage::ALL {
            taps.push((
                Bedside::Done {
                    card: card(),
                    stage,
                },
                None,
                none(),
            ));
        }
        for step in Step::ALL {
            let (step, chosen) = (*step, Some(step.as_str().to_owned()));
            let missed = Bedside::Missed { card: card(), step };
            taps.push((missed, chosen.clone(), none()));
            taps.push((Bedside::Mended { card: card(), step }, chosen, none()));
        }
        let setting = || "4".to_owned();
        taps.push((
            Bedside::Set {
                card: card(),
                setting: setting(),
            },
            Some(setting()),
            none(),
        ));
        taps.push((Bedside::Same { card: card() }, None, none()));
        taps.push((Bedside::FullAlready { card: card() }, None, none()));
        taps.push((
            Bedside::Shown {
                card: card(),
                setting: "½".repeat(24),
            },
            None,
            none(),
        ));
        taps.push((Bedside::TypeSetting { card: card() }, None, none()));
        taps.push((
            Bedside::SettingTyped {
                card: card(),
                setting: setting(),
            },
            None,
            BTreeMap::from([("setting", setting())]),
        ));
        taps.push((Bedside::TypeMinutes { card: card() }, None, none()));
        taps.push((
            Bedside::MinutesTyped {
                card: card(),
                minutes: "12".to_owned(),
            },
            None,
            BTreeMap::from([("minutes", "12".to_owned())]),
        ));
    }
    taps.into_iter()
        .map(|(tap, chosen, fields)| (Tap::Bedside(tap), chosen, fields))
        .collect()
}

/// Taps about the house, with the longest names that there are.
fn house_taps() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let rental = || RentalCard {
        tag: LONGEST_TAG.into(),
        since: 99_999_999,
    };
    let number = "P-20418".to_owned();
    let plain = [
        House::Acted {
            bed: "114ABCDE".into(),
            no: RecordNo(FAR),
            did: None,
        },
        House::Retire {
            tag: LONGEST_TAG.into(),
            seen: 9_999_999_999,
        },
        House::BringBack {
            tag: LONGEST_TAG.into(),
        },
        House::BroughtBack {
            tag: LONGEST_TAG.into(),
            reason: None,
        },
        House::Waive {
            tag: LONGEST_TAG.into(),
            bed: "114ABCDE".into(),
            instead_of: Some(LONGEST_TAG.into()),
        },
        House::ArrivedWell { rental: rental() },
        House::ArrivedBadly { rental: rental() },
        House::Confirm { rental: rental() },
        House::Collected { rental: rental() },
        House::NewItem {
            item: "hose connectors of the longest name ther".into(),
            count: 100_000,
        },
    ];
    let form = House::Confirmed {
        rental: rental(),
        number: Some(number.clone()),
    };
    let empty = House::Confirmed {
        rental: rental(),
        number: None,
    };
    let acts = GapAct::ALL.iter().map(|did| House::Acted {
        bed: "114ABCDE".into(),
        no: RecordNo(FAR),
        did: Some(*did),
    });
    plain
        .into_iter()
        .chain(acts)
        .map(|tap| (Tap::House(tap), None, BTreeMap::new()))
        .chain([
            (Tap::House(form), None, BTreeMap::from([("number", number)])),
            (
                Tap::House(empty),
                None,
                BTreeMap::from([("number", "  ".to_owned())]),
            ),
        ])
        .collect()
}

/// Every tap in a turnover and out of service.
fn turns() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let tag = || Tag::from(LONGEST_TAG);
    let (of, hold) = (Began(99_999_999), RecordNo(FAR));
    let note = "new cord".to_owned();
    let mut turns = vec![
        Turn::Dried { tag: tag(), of },
        Turn::PartsWhole { tag: tag(), of },
        Turn::PartDamaged { tag: tag(), of },
        Turn::NotRunning { tag: tag(), of },
        Turn::Repaired { tag: tag() },
        Turn::RepairNote { tag: tag() },
        Turn::Reported { tag: tag(), hold },
        Turn::LetGo { tag: tag(), hold },
        Turn::LetGoSure { tag: tag(), hold },
        Turn::HoldSure {
            tag: tag(),
            known: chrono::NaiveDate::from_ymd_opt(2026, 3, 2).expect("a day"),
        },
    ];
    turns.extend(Inspection::ALL.iter().map(|found| Turn::Inspected {
        tag: tag(),
        of,
        found: *found,
    }));
    turns.extend(Outcome::ALL.iter().map(|outcome| Turn::Tested {
        tag: tag(),
        outcome: *outcome,
    }));
    turns.extend([true, false].map(|lot| Turn::RecallAll {
        tag: tag(),
        lot,
        found: u32::MAX,
    }));
    let mut taps: Vec<_> = turns
        .into_iter()
        .map(|turn| (Tap::Turn(turn), None, BTreeMap::new()))
        .collect();
    let fault = Fault::Hose;
    let part = Turn::PartFault {
        tag: tag(),
        of,
        fault,
    };
    let chosen = Some(fault.as_str().to_owned());
    taps.push((Tap::Turn(part), chosen, BTreeMap::new()));
    let noted = Turn::RepairNoted {
        tag: tag(),
        note: Some(note.clone()),
    };
    taps.push((Tap::Turn(noted), None, BTreeMap::from([("note", note)])));
    taps
}

/// Under a message in everyday words, with the longest of everything.
fn plain() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let echo = || Echo {
        // The platform's identifiers of people have 63 bits.
        who: Person(u64::MAX >> 1),
        at: 99_999_999_999 >> 3,
        seen: RecordNo(FAR),
        tag: LONGEST_TAG.into(),
    };
    let reading = Reading {
        air: Air::Measured(Tenths(2032)),
        site: Some(Site::Shoulders),
        position: Some(Position::BackRaised),
        mode: Some(Mode::Static),
        layers: Some(20),
        when: Some(99_999_999),
        setting: Some("x".repeat(SETTING_BYTES_MAX)),
    };
    let could_not = Reading::alone(Air::CouldNot(Why::Isolation));
    let mut entries = vec![Spoken::Check(reading), Spoken::Check(could_not)];
    entries.extend(AlarmKind::ALL.iter().map(|kind| Spoken::Alarm {
        kind: *kind,
        cause: None,
    }));
    entries.extend(Cause::ALL.iter().map(|cause| Spoken::Alarm {
        kind: AlarmKind::HighPressure,
        cause: Some(*cause),
    }));
    entries.extend(Finding::ALL.iter().flat_map(|finding| {
        Action::ALL.iter().map(|action| Spoken::Filter {
            finding: *finding,
            action: *action,
        })
    }));
    entries.push(Spoken::Cpr);
    for cause in Cause::ALL {
        entries.extend([None, Some(u16::MAX)].map(|minutes| Spoken::Found {
            minutes,
            cause: *cause,
            kind: AlarmKind::HighPressure,
            air: minutes.map(|_| Air::Measured(Tenths(1_111))),
        }));
    }
    entries.extend(AlarmKind::ALL.iter().map(|kind| Spoken::Found {
        minutes: None,
        cause: Cause::Hose,
        kind: *kind,
        air: None,
    }));
    entries.push(Spoken::Static { minutes: 60 });
    entries.push(Spoken::Set {
        setting: "x".repeat(SETTING_BYTES_MAX),
    });
    entries.extend(LeaveWhy::ALL.iter().map(|why| Spoken::Away {
        why: *why,
        days: u8::MAX,
    }));
    for reason in Cleaning::ALL {
        entries.extend(Method::ALL.iter().flat_map(|method| {
            Cover::ALL.iter().map(|cover| Spoken::Clean {
                reason: *reason,
                method: *method,
                cover: *cover,
            })
        }));
    }
    let none = BTreeMap::new;
    let mut taps = Vec::new();
    for entry in entries {
        let chosen = Plain::picked(&echo(), &entry);
        let (echo, again) = (echo(), entry.clone());
        let pick = Plain::Pick {
            echo: echo.clone(),
            entry: again,
        };
        taps.push((pick, Some(chosen), none()));
        taps.push((Plain::Confirm { echo, entry }, None, none()));
    }
    for seen_by in SeenBy::ALL {
        for tag in [None, Some(Tag::from(LONGEST_TAG))] {
            let card = || LookCard {
                tag: tag.clone(),
                seen_by: *seen_by,
                at: 99_999_999_999 >> 3,
            };
            for sign in Sign::ALL {
                let (card, again, sign) = (card(), card(), *sign);
                taps.push((Plain::Look { card, sign }, None, none()));
                let chosen = Some(sign.as_str().to_owned());
                taps.push((Plain::Sign { card: again, sign }, chosen, none()));
            }
            for kind in AlarmKind::ALL {
                let (card, kind) = (card(), *kind);
                taps.push((Plain::Start { card, kind }, None, none()));
            }
        }
    }
    let unit = Unit::from(LONGEST_UNIT);
    let (who, at) = (Person(u64::MAX), 99_999_999_999 >> 3);
    taps.push((Plain::Outage { who, at, unit }, None, none()));
    let one = |number: u32| OneOf {
        seen: RecordNo(9_999_999),
        tag: format!("LW-{number}").as_str().into(),
        air: Air::Measured(Tenths(318)),
    };
    let readings = (1001..=1003).map(one).collect();
    taps.push((Plain::Together { who, at, readings }, None, none()));
    let tag = LONGEST_TAG.into();
    taps.push((Plain::Card { tag }, None, none()));
    taps.into_iter()
        .map(|(tap, chosen, fields)| (Tap::Plain(tap), chosen, fields))
        .collect()
}

/// About the settings, and for more help.
fn settings() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let wish = RecordNo(FAR);
    let chosen = |tap, chosen: &str| (Tap::Setting(tap), Some(chosen.to_owned()), BTreeMap::new());
    let of_wish = [
        Setting::Agree { wish },
        Setting::Decline { wish },
        Setting::Withdraw { wish },
    ];
    let mut taps: Vec<_> = of_wish
        .into_iter()
        .map(|tap| (Tap::Setting(tap), None, BTreeMap::new()))
        .collect();
    let reason = "two rooms first".to_owned();
    let declined = Setting::Declined {
        wish,
        reason: Some(reason.clone()),
    };
    let fields = BTreeMap::from([("reason", reason)]);
    taps.push((Tap::Setting(declined), None, fields));
    let pages = Page::ALL.iter();
    taps.extend(pages.map(|page| chosen(Setting::Page { page: *page }, page.as_str())));
    let topic = "rental start".to_owned();
    taps.push(chosen(Setting::Topic { topic }, "rental start"));
    taps
}

fn entries() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let lines = [
        Line::Surface(LONGEST_TAG.into()),
        Line::Bed("ABCDEFGH-12345".into()),
    ];
    let far = RecordNo(FAR);
    let mut taps: Vec<(Entry, Option<String>)> = Vec::new();
    for line in lines {
        let page = Entry::Page {
            line: line.clone(),
            upto: far,
            skip: u32::MAX,
        };
        taps.push((page, None));
        taps.push((Entry::Corrections { line }, None));
    }
    taps.push((Entry::Look { entry: far }, Some(far.to_string())));
    let tag = || Tag::from(LONGEST_TAG);
    taps.push((Entry::Readings { tag: tag() }, None));
    for of in [None, Some(far)] {
        taps.push((Entry::Alarm { tag: tag(), of }, None));
    }
    let sign = Entry::Sign {
        entry: far,
        seen: far,
    };
    taps.push((sign, None));
    let (entry, of) = (far, far);
    taps.push((Entry::Erase { entry, of }, None));
    taps.push((Entry::EraseSure { entry, of }, None));
    let meant = Entry::Meant {
        remark: far,
        entry: far,
        air: Tenths(9_999),
    };
    taps.push((meant, None));
    let unremark = Entry::Unremark {
        remark: far,
        entry: far,
    };
    taps.push((unremark, None));
    taps.into_iter()
        .map(|(tap, chosen)| (Tap::Entry(tap), chosen, BTreeMap::new()))
        .collect()
}

fn loft() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let tag = || Tag::from(LONGEST_TAG);
    let since = 99_999_999_999;
    let answer = |answer: &LoftAnswer| Loft::Answer {
        tag: tag(),
        since,
        answer: *answer,
    };
    let mut taps = vec![
        Loft::Why { tag: tag() },
        Loft::Usual { tag: tag() },
        Loft::Pull { tag: tag(), since },
    ];
    taps.extend(LoftAnswer::ALL.iter().map(answer));
    let mut taps: Vec<_> = taps
        .into_iter()
        .map(|tap| (Tap::Loft(tap), None, BTreeMap::new()))
        .collect();
    taps.extend(Cause::ALL.iter().map(|cause| {
        let found = Loft::Found {
            tag: tag(),
            since,
            cause: *cause,
        };
        let chosen = Some(cause.as_str().to_owned());
        (Tap::Loft(found), chosen, BTreeMap::new())
    }));
    taps
}
/// Figures that were reckoned, with the longest of everything that can be typed, and with nothing.
fn sums() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let mixing = |unit| Mixing {
        stock: Strength(150_000),
        target: Strength(149_999),
        microlitres: 200_000_000,
        unit,
    };
    let units = || Liquid::ALL.into_iter().map(mixing);
    let mut taps: Vec<Sum> = units().map(Sum::Mix).collect();
    taps.extend(units().map(Sum::MixSure));
    let money = Some(100_000_000);
    for kind in Does::ALL {
        taps.push(Sum::Cost(Costing {
            price: 100_000_000,
            salvage: money,
            years: Some(5_000),
            interest: Some(10_000),
            upkeep: money,
            rental: Some(10_000_000),
            days: Some(36_500),
            kind: Some(*kind),
        }));
        taps.push(Sum::Size(Sizing {
            admissions: Some(100_000_000),
            stay: Some(365_000),
            shortfall: Some(5_000),
            beds: Some(2_000),
            kind: Some(*kind),
        }));
    }
    taps.push(Sum::Cost(Costing {
        price: 0,
        salvage: None,
        years: None,
        interest: None,
        upkeep: None,
        rental: None,
        days: None,
        kind: None,
    }));
    taps.push(Sum::Size(Sizing {
        admissions: None,
        stay: None,
        shortfall: None,
        beds: None,
        kind: None,
    }));
    taps.into_iter()
        .map(|tap| (Tap::Sum(tap), None, BTreeMap::new()))
        .collect()
}

/// Under reports, of the longest days there are.
fn reports() -> Vec<(Tap, Option<String>, BTreeMap<&'static str, String>)> {
    let day = |text| commands::rules::period::day(text).expect("a day");
    let of = Period {
        first: day("2026-12-31"),
        last: day("2027-12-31"),
    };
    [Report::Why { of }, Report::Parts { of }]
        .map(|tap| (Tap::Report(tap), None, BTreeMap::new()))
        .into()
}
