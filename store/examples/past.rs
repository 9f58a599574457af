//! How long the past of an entry, a surface, a bed and a person takes over ten years of a home, with the indices of the
//! newest format and without, and what those cost in the file.
//!
//! `cargo run --release -p loftwatch-store --example past [folder]`. Times are CPU time of this process, each
//! the least of five.

use chrono::{DateTime, TimeDelta, Utc};
use commands::choice::ReleaseReason;
use commands::evidence::Span;
use commands::ids::{AlarmNo, Guild, Person, RecordNo};
use commands::record::{AlarmEnd, Body, Record};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Band, Judgement};
use commands::rules::priority::{AlarmKind, Priority};
use commands::{Source, Wanted};
use rusqlite::Connection;
use rustix::time::{ClockId, clock_gettime};
use store::{Prepared, Store};

const SURFACES: u64 = 100;
const RECORDS: u64 = 1_000_000;
const GROUP: usize = 512;
const FIRST_INTERACTION: u64 = 1_440_000_000_000_000_000;
const INDICES: [&str; 3] = ["records_by_surface", "records_by_alarm", "records_at_beds"];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let parent = std::env::args().nth(1).unwrap_or_else(|| ".".into());
    let folder = tempfile::Builder::new().prefix("past").tempdir_in(parent)?;
    let mut store = Store::open(folder.path(), Guild(1))?;
    fill(&mut store)?;
    let head = store.head();
    drop(store);
    let path = folder.path().join("1.loft");
    let with = std::fs::metadata(&path)?.len();
    measure(folder.path(), head, "with")?;
    let raw = Connection::open(&path)?;
    for index in INDICES {
        raw.execute_batch(&format!("DROP INDEX {index}"))?;
    }
    raw.execute_batch("VACUUM; PRAGMA wal_checkpoint(TRUNCATE)")?;
    drop(raw);
    let without = std::fs::metadata(&path)?.len();
    measure(folder.path(), head, "without")?;
    println!(
        "{head} records: {:.0} bytes a record with the indices, {:.0} without",
        with as f64 / head.0 as f64,
        without as f64 / head.0 as f64
    );
    Ok(())
}

fn measure(
    folder: &std::path::Path,
    head: RecordNo,
    how: &str,
) -> Result<(), Box<dyn std::error::Error>> {
    let store = Store::open(folder, Guild(1))?;
    for (name, wanted) in [
        ("entry", Wanted::Entry(RecordNo(head.0 / 2))),
        ("surface", Wanted::Surface("LW-07".into())),
        ("bed", Wanted::Bed("B7".into())),
        // Of ten years the last.
        ("uses", Wanted::Uses(at(0) + TimeDelta::days(9 * 365))),
        ("own", Wanted::Own(Person(FIRST_INTERACTION / 2 + 7))),
        ("last month", days_before(head, 61, 30)),
        ("last year", days_before(head, 366, 365)),
    ] {
        let mut least = f64::INFINITY;
        let mut found = 0;
        for _ in 0..5 {
            let start = seconds();
            found = store.past(&wanted)?.len();
            least = least.min(seconds() - start);
        }
        println!("{how}: {name}, {found} records in {:.1} ms", least * 1e3);
    }
    Ok(())
}

/// So many days of the log, from so many before its end.
fn days_before(head: RecordNo, ago: i64, days: i64) -> Wanted {
    let end = at(head.0);
    let from = end - TimeDelta::days(ago);
    let to = from + TimeDelta::days(days);
    Wanted::Span(Span { from, to })
}

fn at(no: u64) -> DateTime<Utc> {
    let start = DateTime::from_timestamp_millis(1_767_268_800_000).unwrap_or_default();
    start + TimeDelta::milliseconds(no as i64 * 315_000)
}

fn seconds() -> f64 {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    time.tv_sec as f64 + time.tv_nsec as f64 / 1e9
}

/// Rounds over all surfaces; now and then an alarm from its beginning to its end, and a surface to the next bed.
fn fill(store: &mut Store) -> Result<(), Box<dyn std::error::Error>> {
    let start = at(0);
    let mut bodies: Vec<Body> = Vec::new();
    let mut no = 0;
    let mut turn = 0;
    while no + (bodies.len() as u64) < RECORDS {
        let tag = format!("LW-{:02}", turn % SURFACES);
        let bed = format!("B{}", (turn + turn / 20_000) % SURFACES);
        if turn % 20_000 < SURFACES {
            bodies.push(Body::Released {
                tag: tag.as_str().into(),
                reason: ReleaseReason::Transfer,
            });
            bodies.push(Body::Placed {
                tag: tag.as_str().into(),
                bed: bed.as_str().into(),
                instead_of: None,
            });
        }
        bodies.push(hand_check(&tag, turn));
        if turn % 400 == 0 {
            let alarm = AlarmNo(no + bodies.len() as u64 + 1);
            bodies.extend([
                Body::AlarmOpened {
                    tag: tag.as_str().into(),
                    kind: AlarmKind::LowPressure,
                    priority: Priority::Medium,
                    found: None,
                    shift_over: None,
                },
                Body::AlarmTaken { alarm },
                Body::ResidentSafe { alarm },
                Body::AlarmClosed {
                    alarm,
                    end: AlarmEnd::Fixed,
                    is_at: None,
                },
            ]);
        }
        turn += 1;
        if bodies.len() >= GROUP {
            no = commit(store, no, start, std::mem::take(&mut bodies))?;
        }
    }
    commit(store, no, start, bodies)?;
    Ok(())
}

fn commit(
    store: &mut Store,
    no: u64,
    start: DateTime<Utc>,
    bodies: Vec<Body>,
) -> Result<u64, Box<dyn std::error::Error>> {
    let records: Vec<(Source, [Record; 1])> = bodies
        .into_iter()
        .zip(no + 1..)
        .map(|(body, no)| {
            let at = at(no);
            let record = Record {
                no: RecordNo(no),
                at,
                entered: at,
                who: Some(Person(FIRST_INTERACTION / 2 + no % 40)),
                role: Role::Aide,
                first: RecordNo(no),
                body,
                note: None,
            };
            let source = Source::interaction(FIRST_INTERACTION + no * 4_194_304);
            (source, [record])
        })
        .collect();
    let group: Vec<Prepared<'_>> = records
        .iter()
        .map(|(source, records)| Prepared {
            source,
            who: records[0].who,
            records,
            posts: &[],
            owed: None,
        })
        .collect();
    store.commit(&group, start)?;
    Ok(no + group.len() as u64)
}

fn hand_check(tag: &str, n: u64) -> Body {
    Body::HandChecked {
        tag: tag.into(),
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
