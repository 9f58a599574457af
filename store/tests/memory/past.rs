//! Parts of the log that an answer wants: all of it and nothing else, however the log is read.

use chrono::TimeDelta;
use commands::choice::ReleaseReason;
use commands::evidence::Span;
use commands::ids::{AlarmNo, Bed, Person, RecordNo, Tag};
use commands::past::USE_KINDS;
use commands::record::{AlarmEnd, Body, Record};
use commands::rules::hand_check::{Air, Judgement};
use commands::rules::priority::{AlarmKind, Priority};
use commands::{Source, Wanted};
use proptest::prelude::*;
use store::Store;

use crate::samples::{adequate, at, hand_check, open, say};

const TAGS: [&str; 3] = ["LW-01", "LW-02", "LW-03"];
const BEDS: [&str; 2] = ["101", "102"];

fn bodies() -> impl Strategy<Value = Vec<Body>> {
    let tag = || proptest::sample::select(TAGS.to_vec());
    let bed = || proptest::sample::select(BEDS.to_vec());
    let no = || 1u64..40;
    let one = prop_oneof![
        4 => tag().prop_map(adequate),
        2 => (tag(), bed()).prop_map(|(tag, bed)| Body::Placed { tag: tag.into(), bed: bed.into(), instead_of: None }),
        1 => (tag(), bed()).prop_map(|(tag, bed)| Body::Moved { tag: tag.into(), bed: bed.into() }),
        1 => tag().prop_map(|tag| Body::Released { tag: tag.into(), reason: ReleaseReason::Other }),
        1 => tag().prop_map(|tag| Body::Readied { tag: tag.into() }),
        2 => tag().prop_map(|tag| Body::AlarmOpened { tag: tag.into(), kind: AlarmKind::Power, priority: Priority::Low, found: None, shift_over: None }),
        2 => no().prop_map(|no| Body::AlarmTaken { alarm: AlarmNo(no) }),
        1 => no().prop_map(|no| Body::AlarmClosed { alarm: AlarmNo(no), end: AlarmEnd::Fixed, is_at: None }),
        2 => (no(), tag(), tag()).prop_map(|(entry, tag, to)| Body::Amended {
            entry: RecordNo(entry),
            tag: tag.into(),
            now: Some(Box::new(hand_check(to, Air::Over, Judgement::High))),
            happened: at(0),
            stands: Vec::new(),
        }),
        1 => (no(), tag()).prop_map(|(first, tag)| Body::TakenBack { first: RecordNo(first), tag: tag.into(), called: false }),
        1 => no().prop_map(|entry| Body::Annotated { entry: RecordNo(entry), tag: None, undoes: None }),
        1 => bed().prop_map(|bed| Body::ZonesActed { bed: bed.into(), did: None }),
        1 => Just(Body::PolicySet { name: "recheck".into(), value: 20 }),
    ];
    proptest::collection::vec(one, 1..4)
}

/// The same about something that is in the log already.
fn earlier(mut body: Body, head: u64) -> Body {
    let known = |no: u64| 1 + no % head.max(1);
    if let Body::Amended { entry: of, .. }
    | Body::TakenBack { first: of, .. }
    | Body::Annotated { entry: of, .. } = &mut body
    {
        of.0 = known(of.0);
    } else if let Body::AlarmTaken { alarm } | Body::AlarmClosed { alarm, .. } = &mut body {
        alarm.0 = known(alarm.0);
    }
    body
}

fn numbers(records: &[Record]) -> Vec<u64> {
    records.iter().map(|record| record.no.0).collect()
}

/// The same from all records, by what the words say and without an index.
fn expected(all: &[Record], wanted: &Wanted) -> Vec<u64> {
    let about = |record: &Record, tag: &Tag, from: u64, to: u64| {
        let moved_here = |of: RecordNo| {
            let to_tag = |body: &Body| {
                if let Body::Amended { now: Some(now), .. } = body {
                    return now.surface() == Some(tag);
                }
                false
            };
            (from..=to).contains(&of.0)
                && all
                    .iter()
                    .any(|one| one.body.amends() == Some(of) && to_tag(&one.body))
        };
        let within = (from..=to).contains(&record.no.0);
        let opened = record.body.alarm().is_some_and(|alarm| {
            (from..=to).contains(&alarm.0)
                && all.iter().any(|one| {
                    one.no.0 == alarm.0
                        && matches!(one.body, Body::AlarmOpened { .. })
                        && one.body.surface() == Some(tag)
                })
        });
        let amends = record.body.amends();
        let of_here = amends.is_some_and(|of| (from..=to).contains(&of.0))
            && record.body.surface() == Some(tag);
        (within && record.body.surface() == Some(tag))
            || opened
            || of_here
            || moved_here(record.no)
            || amends.is_some_and(moved_here)
    };
    let chosen = all.iter().filter(|record| match wanted {
        Wanted::Entry(no) => {
            let Some(first) = all.iter().find(|one| one.no == *no).map(|one| one.first) else {
                return false;
            };
            let cause = |no: RecordNo| all.iter().any(|one| one.no == no && one.first == first);
            record.first == first || record.body.amends().is_some_and(cause)
        }
        Wanted::Surface(tag) => about(record, tag, 0, u64::MAX),
        Wanted::Bed(bed) => {
            let came = all
                .iter()
                .filter(|one| matches!(one.body, Body::Placed { .. } | Body::Moved { .. }));
            let spans = came.clone().filter(|one| one.body.beds() == [bed.clone()]);
            record.body.beds().contains(bed)
                || spans.into_iter().any(|one| {
                    let tag = one.body.surface().expect("what came");
                    let until = came
                        .clone()
                        .find(|next| next.no > one.no && next.body.surface() == Some(tag));
                    about(
                        record,
                        tag,
                        one.no.0,
                        until.map_or(u64::MAX, |next| next.no.0),
                    )
                })
        }
        Wanted::Uses(since) => record.entered >= *since && USE_KINDS.contains(&record.body.kind()),
        Wanted::Own(_) | Wanted::Span(_) => false,
    });
    numbers(&chosen.cloned().collect::<Vec<_>>())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_wanted_is_found(causes in proptest::collection::vec(bodies(), 1..25)) {
        let folder = tempfile::tempdir().unwrap();
        let mut store = open(&folder);
        for (bodies, n) in causes.into_iter().zip(1..) {
            let head = store.head().0;
            let bodies = bodies.into_iter().map(|body| earlier(body, head)).collect();
            say(&mut store, Source::interaction(n), bodies);
        }
        let all = store.records_after(RecordNo(0), usize::MAX).unwrap();
        let mut wanted: Vec<Wanted> = TAGS.iter().map(|tag| Wanted::Surface(Tag::from(*tag))).collect();
        wanted.extend(BEDS.iter().map(|bed| Wanted::Bed(Bed::from(*bed))));
        wanted.extend(all.iter().step_by(3).map(|record| Wanted::Entry(record.no)));
        wanted.push(Wanted::Entry(RecordNo(999)));
        wanted.extend(all.iter().step_by(5).map(|record| Wanted::Uses(record.entered)));
        wanted.extend([at(-1), at(1_000_000)].map(Wanted::Uses));
        for wanted in wanted {
            let found = store.past(&wanted).unwrap();
            prop_assert_eq!(numbers(&found), expected(&all, &wanted), "{:?}", wanted);
        }
    }
}

#[test]
fn the_newest_of_ones_own_with_what_corrects_them() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    for n in 1..=30 {
        say(&mut store, Source::interaction(n), vec![adequate("LW-01")]);
    }
    let back = |store: &mut Store, first| {
        let (first, tag) = (RecordNo(first), "LW-01".into());
        say(
            store,
            Source::interaction(100),
            vec![Body::TakenBack {
                first,
                tag,
                called: false,
            }],
        );
    };
    back(&mut store, 28);
    let own = numbers(&store.past(&Wanted::Own(Person(77))).unwrap());
    let newest: Vec<u64> = (6..=31).collect();
    assert_eq!(own, newest, "25 entries, and what took one back");
    assert_eq!(store.past(&Wanted::Own(Person(78))).unwrap(), []);
}

#[test]
fn notes_come_along() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let made = crate::samples::records(store.head(), vec![(adequate("LW-01"), Some("two pads"))]);
    store
        .commit(
            &[crate::samples::plain(&Source::interaction(1), &made)],
            at(0),
        )
        .unwrap();
    let found = store.past(&Wanted::Surface("LW-01".into())).unwrap();
    assert_eq!(found, made);
}

#[test]
fn a_span_with_what_frames_it_and_what_came_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = open(&folder);
    let alarm = AlarmNo(4);
    let days = |days: i64| at(0) + TimeDelta::days(days);
    let amended = Body::Amended {
        entry: RecordNo(7),
        tag: "LW-01".into(),
        now: Some(Box::new(adequate("LW-01"))),
        happened: days(12),
        stands: Vec::new(),
    };
    let placed = Body::Placed {
        tag: "LW-01".into(),
        bed: "B1".into(),
        instead_of: None,
    };
    let opened = Body::AlarmOpened {
        tag: "LW-01".into(),
        kind: AlarmKind::Power,
        priority: Priority::Low,
        found: None,
        shift_over: None,
    };
    let end = AlarmEnd::Fixed;
    // When each was entered, and when it happened where that is another day.
    let lived = [
        (0, 0, placed),
        (1, 1, adequate("LW-01")),
        (10, 10, adequate("LW-01")),
        (11, 11, opened),
        (30, 12, adequate("LW-01")),
        (
            40,
            40,
            Body::AlarmClosed {
                alarm,
                end,
                is_at: None,
            },
        ),
        (41, 41, adequate("LW-01")),
        (42, 42, amended),
        (43, 43, adequate("LW-01")),
    ];
    for ((entered, happened, body), n) in lived.into_iter().zip(1..) {
        let mut made = crate::samples::records(store.head(), vec![(body, None)]);
        made[0].entered = days(entered);
        made[0].at = days(happened);
        let source = Source::interaction(n);
        store
            .commit(&[crate::samples::plain(&source, &made)], at(0))
            .unwrap();
    }
    let span = Span {
        from: days(9),
        to: days(13),
    };
    let found = numbers(&store.past(&Wanted::Span(span)).unwrap());
    assert_eq!(found, [1, 3, 4, 5, 6, 7, 8]);
    let all = store.records_after(RecordNo(0), usize::MAX).unwrap();
    let mut pending = Vec::new();
    Wanted::Span(span).with_pending(&mut pending, &all);
    assert_eq!(
        numbers(&pending),
        found,
        "the same of what is not in the file yet"
    );
    let seal = store.seal();
    assert_eq!(seal.no, RecordNo(9));
    assert_eq!(store.hash_of(seal.no).unwrap(), Some(seal.hash.clone()));
    assert_ne!(store.hash_of(RecordNo(8)).unwrap(), Some(seal.hash));
    assert_eq!(store.hash_of(RecordNo(99)).unwrap(), None);
}
