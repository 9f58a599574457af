//! Whatever is committed in whatever groups is read back the same, in the same order, from a reopened file.

use commands::Source;
use commands::ids::{Person, RecordNo};
use commands::record::{Body, Record};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Judgement, Why};
use proptest::prelude::*;
use store::Prepared;

use crate::samples::{GUILD, hand_check, open, owed, post};
use chrono::{DateTime, Utc};
use commands::decision::Lane;

/// Body, time, who, role, note.
type Fact = (Body, i64, Option<u64>, Role, Option<String>);

#[derive(Clone, Debug)]
struct Cause {
    records: Vec<Fact>,
    posts: bool,
    owed: bool,
}

fn body() -> impl Strategy<Value = Body> {
    let tag = "[A-Z]{2}-[0-9]{2}|.{1,12}";
    let air = prop_oneof![
        (-50..2_032i32).prop_map(|n| Air::Measured(Tenths(n))),
        Just(Air::Under1),
        Just(Air::Over),
        Just(Air::Touching),
        Just(Air::CouldNot(Why::Refused)),
    ];
    prop_oneof![
        (tag, air).prop_map(|(tag, air)| hand_check(&tag, air, Judgement::Low)),
        tag.prop_map(|tag| Body::FunctionShown { tag: tag.into() }),
        (".{0,20}", any::<i64>()).prop_map(|(name, value)| Body::PolicySet { name, value }),
        (any::<u64>(), tag).prop_map(|(no, tag)| Body::TakenBack {
            first: RecordNo(no),
            tag: tag.into(),
            called: false
        }),
    ]
}

fn cause() -> impl Strategy<Value = Cause> {
    let role = prop_oneof![
        Just(Role::Clock),
        Just(Role::Admin),
        Just(Role::Upkeep),
        Just(Role::Aide),
        Just(Role::Nurse),
        Just(Role::Supervisor)
    ];
    // Any time that chrono and the file's milliseconds both hold.
    let at = -60_000_000_000_000i64..250_000_000_000_000;
    let note = proptest::option::of(".{0,40}");
    let one = (body(), at, any::<Option<u64>>(), role, note);
    (
        proptest::collection::vec(one, 0..4),
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(records, posts, owed)| Cause {
            records,
            posts,
            owed,
        })
}

fn anywhere(body: &Body) -> Body {
    Body::PolicySet {
        name: body.kind().into(),
        value: 1,
    }
}

fn ms(ms: i64) -> DateTime<Utc> {
    DateTime::from_timestamp_millis(ms).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]
    #[test]
    fn what_goes_in_comes_out(
        groups in proptest::collection::vec(proptest::collection::vec(cause(), 1..5), 1..6),
        snapshot_after in 0..6usize,
        // Half of the logs hold only what follows on any state, so that the fold is run as well.
        folds in any::<bool>(),
    ) {
        let folder = tempfile::tempdir().unwrap();
        let mut log: Vec<Record> = Vec::new();
        let mut sources = Vec::new();
        let mut store = open(&folder);
        for (n, group) in groups.iter().enumerate() {
            let mut made = Vec::new();
            let mut next = store.head().next();
            for cause in group {
                let first = next;
                let records: Vec<Record> = cause.records.iter().map(|(body, at, who, role, note)| {
                    let record = Record {
                        no: next, at: ms(*at), entered: ms(*at / 2), who: who.map(Person), role: *role, first,
                        body: if folds { anywhere(body) } else { body.clone() }, note: note.clone(),
                    };
                    next = next.next();
                    record
                }).collect();
                let number = sources.len() as u64 + 1;
                let source = match number % 3 {
                    0 => Source(format!("slot/{number}")),
                    1 => Source::interaction(number),
                    _ => Source::message(number),
                };
                sources.push((source.clone(), records.len() as u64, cause.owed));
                made.push((source, records, vec![post(&format!("{number}"), Lane::Routine)], cause));
            }
            let prepared: Vec<_> = made.iter().map(|(source, records, posts, cause)| Prepared {
                source, who: None, records,
                posts: if cause.posts { posts } else { &[] },
                owed: cause.owed.then(|| owed(7, &source.0)),
            }).collect();
            store.commit(&prepared, ms(0)).unwrap();
            log.extend(made.iter().flat_map(|(_, records, ..)| records.clone()));
            if folds && n == snapshot_after {
                store.snapshot(&store.replay().unwrap()).unwrap();
            }
            drop(store);
            store = open(&folder);
            prop_assert_eq!(store.guild(), GUILD);
            prop_assert_eq!(store.head().0, log.len() as u64);
        }
        prop_assert_eq!(&store.records_after(RecordNo(0), usize::MAX).unwrap(), &log);
        for (source, count, owes) in &sources {
            let seen = store.seen(source).unwrap().unwrap();
            prop_assert_eq!((seen.count, seen.owed.is_some()), (*count, *owes));
        }
        if !folds {
            return Ok(());
        }
        prop_assert_eq!(store.replay().unwrap().next_no().0, log.len() as u64 + 1);
        let verified = store.verify().unwrap();
        prop_assert_eq!((verified.records, verified.causes), (log.len() as u64, sources.len() as u64));
    }
}
