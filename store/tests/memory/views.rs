//! The views give an analyst the facts that went in.

use commands::Source;
use commands::choice::{Action, Call, Cause, Cleaning, Cover, Finding, Method, ReleaseReason};
use commands::ids::{AlarmNo, RecordNo, Tag};
use commands::record::{AlarmEnd, Body, On};
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Judgement, Why};
use commands::rules::priority::{AlarmKind, Priority};
use rusqlite::types::Value;

use crate::samples::{adequate, at, hand_check, open, plain, raw, records, say};

/// The rows of a query, each as one line of `a|b|c`, NULL as `-`.
fn rows(folder: &tempfile::TempDir, sql: &str) -> Vec<String> {
    let raw = raw(folder);
    raw.pragma_update(None, "trusted_schema", 0).unwrap();
    let mut statement = raw.prepare(sql).unwrap();
    let columns = statement.column_count();
    let rows = statement.query_map([], |row| {
        let cells: Vec<_> = (0..columns)
            .map(|column| match row.get(column).unwrap() {
                Value::Null => "-".to_owned(),
                Value::Integer(n) => n.to_string(),
                Value::Real(n) => n.to_string(),
                Value::Text(text) => text,
                Value::Blob(_) => panic!("no view shows bytes"),
            })
            .collect();
        Ok(cells.join("|"))
    });
    rows.unwrap().collect::<Result<_, _>>().unwrap()
}

#[test]
fn hand_checks_show_the_reading_the_interval_or_the_reason() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let made = records(store.head(), vec![(adequate("LW-01"), Some("two pads"))]);
    store
        .commit(&[plain(&Source::interaction(1), &made)], at(0))
        .unwrap();
    let over = serde_json::to_value(Air::Over).unwrap();
    let bodies = [
        hand_check("LW-02", Air::Over, Judgement::High),
        hand_check("LW-03", Air::CouldNot(Why::Asleep), Judgement::CouldNot),
        hand_check("LW-04", Air::Measured(Tenths(0)), Judgement::BottomedOut),
    ];
    for (body, n) in bodies.into_iter().zip(2..) {
        say(&mut store, Source::interaction(n), vec![body]);
    }
    let first = RecordNo(2);
    say(
        &mut store,
        Source::interaction(9),
        vec![Body::TakenBack {
            first,
            tag: "LW-02".into(),
            called: false,
        }],
    );
    let sql = "SELECT record, happened, entered, surface, air, air_mm, why_not, judged, band_low_mm, band_high_mm,
        in_round, layers, person, role, note, taken_back FROM hand_checks ORDER BY record";
    assert_eq!(
        rows(&folder, sql),
        [
            "1|2026-01-01T12:00:01.000Z|2026-01-01T12:00:02.000Z|LW-01|measured|28.6|-|adequate|25.4|38.1|1|-|77|aide|two pads|0".to_owned(),
            format!("2|2026-01-01T12:00:02.000Z|2026-01-01T12:00:03.000Z|LW-02|{}|-|-|high|25.4|38.1|1|-|77|aide|-|1", over.as_str().unwrap()),
            "3|2026-01-01T12:00:03.000Z|2026-01-01T12:00:04.000Z|LW-03|could not check|-|asleep|could-not|25.4|38.1|1|-|77|aide|-|0".to_owned(),
            "4|2026-01-01T12:00:04.000Z|2026-01-01T12:00:05.000Z|LW-04|measured|0|-|bottomed-out|25.4|38.1|1|-|77|aide|-|0".to_owned(),
        ]
    );
}

#[test]
fn an_alarm_is_one_row() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let alarm = AlarmNo(1);
    let opened = |tag: &str| Body::AlarmOpened {
        tag: tag.into(),
        kind: AlarmKind::Unknown,
        priority: Priority::Low,
        found: None,
        shift_over: None,
    };
    let (kind, priority) = (AlarmKind::LowPressure, Priority::Medium);
    for (body, n) in [
        opened("LW-01"),
        Body::AlarmAsked { alarm, rung: 1 },
        Body::AlarmAsked { alarm, rung: 2 },
        Body::AlarmTaken { alarm },
        Body::AlarmNamed {
            alarm,
            kind,
            priority,
        },
        Body::ResidentSafe { alarm },
        Body::AlarmCause {
            alarm,
            cause: Cause::Hose,
        },
        Body::AlarmClosed {
            alarm,
            end: AlarmEnd::Fixed,
            is_at: None,
        },
        opened("LW-02"),
    ]
    .into_iter()
    .zip(1..)
    {
        say(&mut store, Source::interaction(n), vec![body]);
    }
    let sql = "SELECT alarm, surface, kind, priority, opened, taken, resident_safe, closed,
        round(minutes_to_safe * 60), cause, ended, times_asked, ladder_restarts, taken_back FROM alarms ORDER BY alarm";
    let day = "2026-01-01T12:00:0";
    assert_eq!(
        rows(&folder, sql),
        [
            format!(
                "1|LW-01|low-pressure|medium|{day}1.000Z|{day}4.000Z|{day}6.000Z|{day}8.000Z|5|hose|fixed|2|0|0"
            ),
            format!("9|LW-02|unknown|low|{day}9.000Z|-|-|-|-|-|-|0|0|0"),
        ]
    );
}

#[test]
fn cleanings_and_filter_checks_are_rows() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let cleaned = Body::Cleaned {
        tag: "LW-01".into(),
        reason: Cleaning::BetweenResidents,
        method: Method::Bleach,
        product: Some("stock".into()),
        cover: Cover::Intact,
    };
    let looked = Body::FilterLooked {
        tag: "LW-01".into(),
        finding: Finding::Dusty,
        action: Action::Rinsed,
        next: None,
    };
    say(&mut store, Source::interaction(1), vec![cleaned, looked]);
    let (first, tag) = (RecordNo(1), "LW-01".into());
    say(
        &mut store,
        Source::interaction(2),
        vec![Body::TakenBack {
            first,
            tag,
            called: false,
        }],
    );
    let sql =
        "SELECT record, surface, reason, method, product, cover, role, taken_back FROM cleanings";
    assert_eq!(
        rows(&folder, sql),
        ["1|LW-01|between-residents|bleach|stock|intact|aide|1"]
    );
    let sql = "SELECT record, surface, finding, action, person, taken_back FROM filter_checks";
    assert_eq!(
        rows(&folder, sql),
        ["2|LW-01|dusty|rinsed|77|1"],
        "one tap is taken back whole"
    );
}

#[test]
fn a_placement_ends_with_what_comes_next_unless_that_was_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let placed = |tag: &str, bed: &str| Body::Placed {
        tag: tag.into(),
        bed: bed.into(),
        instead_of: None,
    };
    let released = || Body::Released {
        tag: "LW-01".into(),
        reason: ReleaseReason::Discharge,
    };
    for (body, n) in [
        placed("LW-01", "101"),
        placed("LW-02", "102"),
        released(),
        Body::TakenBack {
            first: RecordNo(3),
            tag: "LW-01".into(),
            called: false,
        },
        placed("LW-01", "103"),
        released(),
    ]
    .into_iter()
    .zip(1..)
    {
        say(&mut store, Source::interaction(n), vec![body]);
    }
    let sql = "SELECT record, surface, bed, placed, ended, release_reason, taken_back FROM placements ORDER BY record";
    let day = "2026-01-01T12:00:0";
    assert_eq!(
        rows(&folder, sql),
        [
            format!("1|LW-01|101|{day}1.000Z|{day}5.000Z|-|0"),
            format!("2|LW-02|102|{day}2.000Z|-|-|0"),
            format!("5|LW-01|103|{day}5.000Z|{day}6.000Z|discharge|0"),
        ]
    );
}

/// One message said something of two surfaces, and one of its entries was taken back.
#[test]
fn of_one_message_only_what_was_said_of_that_surface_is_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let (one, two): (Tag, Tag) = ("LW-01".into(), "LW-02".into());
    let opened = |tag: &Tag| Body::AlarmOpened {
        tag: tag.clone(),
        kind: AlarmKind::Unknown,
        priority: Priority::Low,
        found: None,
        shift_over: None,
    };
    let named = |alarm: u64| Body::AlarmNamed {
        alarm: AlarmNo(alarm),
        kind: AlarmKind::BottomedOut,
        priority: Priority::High,
    };
    let cleaned = |tag: &Tag| Body::Cleaned {
        tag: tag.clone(),
        reason: Cleaning::Routine,
        method: Method::SoapAndWater,
        product: None,
        cover: Cover::Intact,
    };
    let looked = |tag: &Tag| Body::FilterLooked {
        tag: tag.clone(),
        finding: Finding::Clean,
        action: Action::Left,
        next: None,
    };
    let placed = |tag: &Tag, bed: &str| Body::Placed {
        tag: tag.clone(),
        bed: bed.into(),
        instead_of: None,
    };
    say(&mut store, Source::interaction(1), vec![opened(&one)]);
    say(&mut store, Source::interaction(2), vec![opened(&two)]);
    let said = vec![
        adequate("LW-01"),
        adequate("LW-02"),
        named(1),
        named(2),
        cleaned(&one),
        cleaned(&two),
        looked(&one),
        looked(&two),
        placed(&one, "101"),
        placed(&two, "102"),
    ];
    say(&mut store, Source::interaction(3), said);
    let opened_too = vec![opened(&"LW-03".into()), opened(&"LW-04".into())];
    say(&mut store, Source::interaction(4), opened_too);
    for (n, first, tag) in [(5, 3, "LW-02"), (6, 13, "LW-04")] {
        let back = Body::TakenBack {
            first: RecordNo(first),
            tag: tag.into(),
            called: false,
        };
        say(&mut store, Source::interaction(n), vec![back]);
    }
    for view in ["hand_checks", "cleanings", "filter_checks", "placements"] {
        let sql = format!("SELECT surface, taken_back FROM {view} ORDER BY surface");
        assert_eq!(rows(&folder, &sql), ["LW-01|0", "LW-02|1"], "{view}");
    }
    let sql = "SELECT surface, kind, taken_back FROM alarms ORDER BY alarm";
    assert_eq!(
        rows(&folder, sql),
        [
            "LW-01|bottomed-out|0",
            "LW-02|unknown|0",
            "LW-03|unknown|0",
            "LW-04|unknown|1",
        ]
    );
}

#[test]
fn a_move_ends_one_placement_and_begins_another() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let placed = |tag: &str, bed: &str, instead_of: Option<&str>| Body::Placed {
        tag: tag.into(),
        bed: bed.into(),
        instead_of: instead_of.map(Into::into),
    };
    let moved = |bed: &str| Body::Moved {
        tag: "LW-01".into(),
        bed: bed.into(),
    };
    let swapped_out = Body::Released {
        tag: "LW-01".into(),
        reason: ReleaseReason::SurfaceChange,
    };
    for (bodies, n) in [
        vec![placed("LW-01", "101", None)],
        vec![moved("102")],
        // Two records of one cause, taken back with it.
        vec![
            moved("103"),
            Body::Unbooked {
                on: On::Surface("LW-01".into()),
                call: Call::Plug,
            },
        ],
        vec![Body::TakenBack {
            first: RecordNo(3),
            tag: "LW-01".into(),
            called: false,
        }],
        // A swap: one goes, another takes its place.
        vec![swapped_out, placed("LW-02", "102", Some("LW-01"))],
    ]
    .into_iter()
    .zip(1..)
    {
        say(&mut store, Source::interaction(n), bodies);
    }
    let sql =
        "SELECT record, surface, bed, moved, instead_of, placed, ended, release_reason, taken_back
        FROM placements ORDER BY record";
    let day = "2026-01-01T12:00:0";
    assert_eq!(
        rows(&folder, sql),
        [
            format!("1|LW-01|101|0|-|{day}1.000Z|{day}2.000Z|-|0"),
            format!("2|LW-01|102|1|-|{day}2.000Z|{day}6.000Z|surface-change|0"),
            format!("3|LW-01|103|1|-|{day}3.000Z|-|-|1"),
            format!("7|LW-02|102|0|LW-01|{day}7.000Z|-|-|0"),
        ]
    );
    let there = "SELECT bed, surface FROM placements WHERE ended IS NULL AND NOT taken_back";
    assert_eq!(
        rows(&folder, there),
        ["102|LW-02"],
        "one surface a bed, one bed a surface"
    );
}

/// A correction of `entry`, which was about `tag`.
fn amended(entry: u64, tag: &str, now: Option<Body>, happened: i64) -> Body {
    Body::Amended {
        entry: RecordNo(entry),
        tag: tag.into(),
        now: now.map(Box::new),
        happened: at(happened),
        stands: Vec::new(),
    }
}

/// Commits one record with a note.
fn noted(store: &mut store::Store, source: u64, body: Body, note: &str) {
    let made = records(store.head(), vec![(body, Some(note))]);
    store
        .commit(&[plain(&Source::interaction(source), &made)], at(0))
        .unwrap();
}

#[test]
fn what_was_corrected_is_shown_as_it_reads_now_and_its_trail_as_it_read() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    say(&mut store, Source::interaction(1), vec![adequate("LW-01")]);
    say(&mut store, Source::interaction(2), vec![adequate("LW-03")]);
    let low = hand_check("LW-02", Air::Measured(Tenths(190)), Judgement::Low);
    let touching = hand_check("LW-02", Air::Touching, Judgement::BottomedOut);
    noted(
        &mut store,
        3,
        amended(1, "LW-01", Some(low), 1),
        "wrong bed",
    );
    noted(
        &mut store,
        4,
        amended(1, "LW-02", Some(touching), 0),
        "and no air",
    );
    noted(
        &mut store,
        5,
        amended(2, "LW-03", None, 2),
        "no check at all",
    );
    let entry = RecordNo(1);
    let tag = || Some("LW-02".into());
    noted(
        &mut store,
        6,
        Body::Annotated {
            entry,
            tag: tag(),
            undoes: None,
        },
        "seen",
    );
    let signed = Body::Countersigned {
        entry,
        tag: tag(),
        seen: RecordNo(6),
    };
    say(&mut store, Source::interaction(7), vec![signed]);
    let sql = "SELECT record, happened, surface, air, air_mm, judged, taken_back, struck, amended, amended_by,
        amend_reason, remarks FROM hand_checks ORDER BY record";
    assert_eq!(
        rows(&folder, sql),
        [
            "1|2026-01-01T12:00:00.000Z|LW-02|touching|-|bottomed-out|0|0|1|77|and no air|1",
            "2|2026-01-01T12:00:02.000Z|LW-03|measured|28.6|adequate|1|1|1|77|no check at all|0",
        ]
    );
    let sql = "SELECT record, entry, what, field, old, new, reason FROM amendments ORDER BY record, field";
    assert_eq!(
        rows(&folder, sql),
        [
            "3|1|amended|air|{\"m\":286}|{\"m\":190}|wrong bed",
            "3|1|amended|judged|adequate|low|wrong bed",
            "3|1|amended|tag|LW-01|LW-02|wrong bed",
            "4|1|amended|air|{\"m\":190}|touching|and no air",
            "4|1|amended|happened|2026-01-01T12:00:01.000Z|2026-01-01T12:00:00.000Z|and no air",
            "4|1|amended|judged|low|bottomed-out|and no air",
            "5|2|amended|struck|0|1|no check at all",
            "6|1|annotated|-|-|-|seen",
            "7|1|countersigned|-|-|-|-",
        ]
    );
    let looked = |finding| Body::FilterLooked {
        tag: "LW-01".into(),
        finding,
        action: Action::Left,
        next: None,
    };
    let cleaned = |method| Body::Cleaned {
        tag: "LW-01".into(),
        reason: Cleaning::Routine,
        method,
        product: None,
        cover: Cover::Intact,
    };
    let both = vec![looked(Finding::Clean), cleaned(Method::Bleach)];
    say(&mut store, Source::interaction(8), both);
    let dusty = amended(8, "LW-01", Some(looked(Finding::Dusty)), 8);
    noted(&mut store, 9, dusty, "dust inside");
    let soap = amended(9, "LW-01", Some(cleaned(Method::SoapAndWater)), 9);
    noted(&mut store, 10, soap, "soap");
    let sql = "SELECT record, finding, amended, amend_reason FROM filter_checks";
    assert_eq!(rows(&folder, sql), ["8|dusty|1|dust inside"]);
    let sql = "SELECT record, method, amended, amend_reason FROM cleanings";
    assert_eq!(rows(&folder, sql), ["9|soap-and-water|1|soap"]);
}

#[test]
fn views_are_made_anew_when_they_differ() {
    let folder = tempfile::tempdir().unwrap();
    drop(open(&folder));
    raw(&folder)
        .execute_batch(
            "DROP VIEW alarms; DROP VIEW cleanings; CREATE VIEW cleanings AS SELECT 1 AS one",
        )
        .unwrap();
    drop(open(&folder));
    assert_eq!(rows(&folder, "SELECT surface FROM cleanings"), [""; 0]);
    assert_eq!(rows(&folder, "SELECT surface FROM alarms"), [""; 0]);
}
