//! What a commit costs in processor time, beside a bare insert of one row in the same run.
//!
//! `cargo run --release -p loftwatch-store --example cost [folder]`. Times are CPU time of this process, user and
//! system, so that a busy machine and a slow disk tell little; each figure is the least of several rounds.
//!
//! Seen on two shared cores, µs CPU a cause at groups of 1, 16 and 64, bare insert against ours with its answer owed
//! and settled: ext4 47 / 59, 4.2 / 8.4, 1.2 / 5.1; in memory (tmpfs, where fsync is nothing) 4.3 / 11.2, 0.6 / 4.7,
//! 0.4 / 4.1.

use std::path::Path;

use chrono::DateTime;
use commands::Source;
use commands::ids::{Channel, Guild, Person, RecordNo};
use commands::message::{Answer, Button, Look, Message, Row};
use commands::record::{Body, Record};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Band, Judgement};
use commands::words::Lang;
use rusqlite::Connection;
use rustix::time::{ClockId, clock_gettime};
use store::{Owed, Prepared, Store};

const CAUSES: usize = 6_400;
const ROUNDS: usize = 5;
/// A snowflake of these years.
const FIRST_INTERACTION: u64 = 1_440_000_000_000_000_000;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let parent = std::env::args().nth(1).unwrap_or_else(|| ".".into());
    let folder = tempfile::Builder::new().prefix("cost").tempdir_in(parent)?;
    println!(
        "SQLite {}, {CAUSES} causes a round, least of {ROUNDS} rounds",
        rusqlite::version()
    );
    println!("group | bare insert | ours | ours, answer owed and settled | ratio (µs CPU a cause)");
    for group in [1, 16, 64] {
        let bare = least(|| bare(&folder.path().join("bare"), group));
        let plain = least(|| ours(&folder.path().join("plain"), group, false));
        let whole = least(|| ours(&folder.path().join("whole"), group, true));
        let (bare, plain, whole) = (bare?, plain?, whole?);
        println!(
            "{group:5} | {bare:11.1} | {plain:4.1} | {whole:29.1} | {:.2}",
            whole / bare
        );
    }
    Ok(())
}

type Measured = Result<f64, Box<dyn std::error::Error>>;

fn least(mut round: impl FnMut() -> Measured) -> Measured {
    let mut least = f64::INFINITY;
    for _ in 0..ROUNDS {
        least = least.min(round()?);
    }
    Ok(least)
}

fn cpu_us() -> f64 {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    time.tv_sec as f64 * 1e6 + time.tv_nsec as f64 / 1e3
}

/// One row with an index-free table, in the same groups, under the same pragmas.
fn bare(folder: &Path, group: usize) -> Measured {
    std::fs::create_dir_all(folder)?;
    let path = folder.join(format!("{group}.db"));
    let conn = Connection::open(path)?;
    conn.execute_batch(
        "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;
         CREATE TABLE IF NOT EXISTS entries (id INTEGER PRIMARY KEY, who INTEGER, at INTEGER, text TEXT)",
    )?;
    let start = cpu_us();
    for _ in 0..CAUSES / group {
        conn.prepare_cached("BEGIN IMMEDIATE")?.execute([])?;
        for _ in 0..group {
            conn.prepare_cached("INSERT INTO entries (who, at, text) VALUES (?1, ?2, ?3)")?
                .execute((7, 1_767_268_800_000_i64, "LW-07 1.25"))?;
        }
        conn.prepare_cached("COMMIT")?.execute([])?;
    }
    Ok((cpu_us() - start) / CAUSES as f64)
}

fn ours(folder: &Path, group: usize, owed: bool) -> Measured {
    let mut store = Store::open(folder, Guild(group as u64))?;
    let base = store.head().0;
    let at = DateTime::from_timestamp_millis(1_767_268_800_000).unwrap_or_default();
    let made: Vec<_> = (0..CAUSES as u64)
        .map(|n| {
            let no = RecordNo(base + n + 1);
            let record = Record {
                no,
                at,
                entered: at,
                who: Some(Person(FIRST_INTERACTION / 2 + n % 40)),
                role: Role::Aide,
                first: no,
                body: hand_check(n),
                note: None,
            };
            (
                Source::interaction(FIRST_INTERACTION + (base + n) * 4_194_304),
                [record],
            )
        })
        .collect();
    // Told apart from the measured part: the desk has these at hand anyway.
    let mut groups: Vec<Vec<_>> = Vec::new();
    for chunk in made.chunks(group) {
        let prepared = chunk.iter().map(|(source, records)| Prepared {
            source,
            who: records[0].who,
            records,
            posts: &[],
            owed: owed.then(|| answer(records[0].no.0)),
        });
        groups.push(prepared.collect());
    }
    let sources: Vec<_> = made.iter().map(|(source, _)| source.clone()).collect();
    let start = cpu_us();
    let mut given: &[Source] = &[];
    for (prepared, sources) in groups.iter().zip(sources.chunks(group)) {
        store.commit_settling(prepared, given, at)?;
        given = if owed { sources } else { &[] };
    }
    let spent = cpu_us() - start;
    store.answered(given)?;
    Ok(spent / CAUSES as f64)
}

fn hand_check(n: u64) -> Body {
    Body::HandChecked {
        tag: format!("LW-{:02}", n % 60).into(),
        air: Air::Measured(Tenths(254 + (n % 100) as i32)),
        judged: Judgement::Adequate,
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

/// About 700 bytes of JSON, as a round's answer with its row of buttons is.
fn answer(n: u64) -> Owed {
    let button = |label: &str| Button {
        id: format!("round:{n}:214B:{label}"),
        label: label.into(),
        look: Look::Plain,
    };
    Owed {
        interaction: FIRST_INTERACTION + n,
        token: "x".repeat(180),
        channel: Channel(FIRST_INTERACTION),
        who: Person(FIRST_INTERACTION / 2),
        lang: Lang::English,
        answer: Answer::Replace(Message {
            text:
                "LW-07: 1¼ in of air, adequate. Next: bed 214B, LW-08. How much air is under the \
                   person, between hand and body?"
                    .into(),
            rows: vec![
                Row::Buttons(["1", "1¼", "1½"].map(button).into()),
                Row::Buttons(
                    ["touching", "under 1", "over 1½", "couldn't"]
                        .map(button)
                        .into(),
                ),
            ],
            ..Message::default()
        }),
    }
}
