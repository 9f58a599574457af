//! Invented facts and small helpers for all tests.

use std::io::Write;

use chrono::{DateTime, TimeDelta, Utc};
use commands::Source;
use commands::choice::{Owned, Start};
use commands::decision::{Lane, Post, PostKind};
use commands::ids::{Channel, Guild, Person, RecordNo};
use commands::message::{Answer, Message};
use commands::record::{Body, Record};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Band, Judgement};
use commands::words::Lang;
use rusqlite::Connection;
use store::{Committed, Owed, Prepared, Store, StoreError};
use tempfile::TempDir;

pub const GUILD: Guild = Guild(4_200);

/// A moment, `seconds` after an invented noon.
pub fn at(seconds: i64) -> DateTime<Utc> {
    DateTime::from_timestamp_millis(1_767_268_800_000).unwrap() + TimeDelta::seconds(seconds)
}

/// Says that a test left something out, and why. What a test that passes prints is kept from whoever runs it; this is not.
pub fn not_tested(why: &str) {
    let _ = writeln!(std::io::stderr(), "\n*** NOT TESTED: {why}. ***\n");
}

pub fn open(folder: &TempDir) -> Store {
    Store::open(folder.path(), GUILD).unwrap()
}

pub fn raw(folder: &TempDir) -> Connection {
    Connection::open(folder.path().join(format!("{GUILD}.loft"))).unwrap()
}

pub fn hand_check(tag: &str, air: Air, judged: Judgement) -> Body {
    Body::HandChecked {
        tag: tag.into(),
        air,
        judged,
        band: Band {
            low: Tenths(254),
            high: Tenths(381),
        },
        site: None,
        position: None,
        mode: None,
        layers: None,
        setting: None,
        recheck: None,
        round: true,
        from_paper: false,
        felt: false,
    }
}

pub fn adequate(tag: &str) -> Body {
    hand_check(tag, Air::Measured(Tenths(286)), Judgement::Adequate)
}

/// A surface comes into the register: follows on any state that has no such tag.
pub fn added(tag: &str) -> Body {
    Body::SurfaceAdded {
        tag: tag.into(),
        profile: "general".into(),
        serial: None,
        lot: None,
        owned: Owned::Owned,
        daily_cents: None,
        start: Start::Ready,
        filter_changed: None,
        in_service: None,
        tested: None,
    }
}

/// Records of one cause that follow on `head`.
pub fn records(head: RecordNo, bodies: Vec<(Body, Option<&str>)>) -> Vec<Record> {
    let first = head.next();
    bodies
        .into_iter()
        .zip(first.0..)
        .map(|((body, note), no)| Record {
            no: RecordNo(no),
            at: at(no as i64),
            entered: at(no as i64 + 1),
            who: Some(Person(77)),
            role: Role::Aide,
            first,
            body,
            note: note.map(str::to_owned),
        })
        .collect()
}

/// Commits one cause of these bodies.
pub fn say(store: &mut Store, source: Source, bodies: Vec<Body>) -> Vec<Record> {
    let bodies = bodies.into_iter().map(|body| (body, None)).collect();
    let made = records(store.head(), bodies);
    store.commit(&[plain(&source, &made)], at(0)).unwrap();
    made
}

/// Records that the note of a record was erased, which takes it out of its table, and scrubs the file.
pub fn erase(store: &mut Store, of: RecordNo) -> Result<(), StoreError> {
    let first = RecordNo(1);
    let tag = None;
    let head = store.head();
    let body = Body::NoteErased { of, first, tag };
    say(store, Source::interaction(70_000 + head.0), vec![body]);
    store.scrub()
}

pub fn plain<'a>(source: &'a Source, records: &'a [Record]) -> Prepared<'a> {
    Prepared {
        source,
        who: Some(Person(77)),
        records,
        posts: &[],
        owed: None,
    }
}

pub fn owed(interaction: u64, text: &str) -> Owed {
    Owed {
        interaction,
        token: format!("token-of-{interaction}"),
        channel: Channel(9),
        who: Person(77),
        lang: Lang::Spanish,
        answer: Answer::Private(message(text)),
    }
}

pub fn message(text: &str) -> Message {
    Message {
        text: text.into(),
        ..Message::default()
    }
}

pub fn post(key: &str, lane: Lane) -> Post {
    Post {
        key: key.into(),
        channel: Channel(5),
        kind: PostKind::New,
        lane,
        message: message(key),
        in_place_of: Vec::new(),
    }
}

pub fn edit(key: &str, of: &str) -> Post {
    Post {
        kind: PostKind::Edit { of: of.into() },
        ..post(key, Lane::Routine)
    }
}

/// Commits a cause of nothing but posts.
pub fn enqueue(store: &mut Store, source: &str, posts: &[Post]) -> Result<Committed, StoreError> {
    let source = Source(source.into());
    let prepared = Prepared {
        posts,
        ..plain(&source, &[])
    };
    store.commit(&[prepared], at(0))
}
