//! How large the file is per record, and how long opening it takes, with 20,000 and 100,000 hand checks.
//!
//! `cargo run --release -p loftwatch-store --example size [folder]`.

use chrono::{DateTime, TimeDelta};
use commands::Source;
use commands::ids::{Guild, Person, RecordNo};
use commands::record::{Body, Record};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Band, Judgement};
use rustix::time::{ClockId, clock_gettime};
use store::{Prepared, Store};

const FIRST_INTERACTION: u64 = 1_440_000_000_000_000_000;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let parent = std::env::args().nth(1).unwrap_or_else(|| ".".into());
    let folder = tempfile::Builder::new().prefix("size").tempdir_in(parent)?;
    for (guild, count) in [(1, 20_000), (2, 100_000)] {
        let mut store = Store::open(folder.path(), Guild(guild))?;
        let path = folder.path().join(format!("{guild}.loft"));
        fill(&mut store, count)?;
        // Closing moves the WAL into the file.
        drop(store);
        let bytes = std::fs::metadata(&path)?.len();
        println!(
            "{count} hand checks: {bytes} bytes, {:.0} a record",
            bytes as f64 / count as f64
        );
        let start = seconds();
        let store = Store::open(folder.path(), Guild(guild))?;
        let opened = seconds();
        let state = store.replay()?;
        let replayed = seconds();
        store.verify()?;
        println!(
            "opened in {:.4} s, replayed to {} in {:.3} s, verified in {:.3} s",
            opened - start,
            state.next_no(),
            replayed - opened,
            seconds() - replayed
        );
    }
    Ok(())
}

fn seconds() -> f64 {
    let time = clock_gettime(ClockId::Monotonic);
    time.tv_sec as f64 + time.tv_nsec as f64 / 1e9
}

/// A home of 60 beds: most checks in a round, every tenth by command with more said, every fiftieth by message.
fn fill(store: &mut Store, count: u64) -> Result<(), Box<dyn std::error::Error>> {
    let start = DateTime::from_timestamp_millis(1_767_268_800_000).unwrap_or_default();
    for n in 0..count {
        let no = RecordNo(n + 1);
        let at = start + TimeDelta::milliseconds(n as i64 * 480_123);
        let typed = n % 10 == 0;
        let record = Record {
            no,
            at,
            entered: at,
            who: Some(Person(FIRST_INTERACTION / 2 + n % 40)),
            role: Role::Aide,
            first: no,
            body: hand_check(n, typed),
            note: None,
        };
        let id = FIRST_INTERACTION + n * 4_194_304 + n % 7;
        let source = match n % 50 {
            0 => Source::message(id),
            1 => Source(format!("recheck/{n}/1")),
            _ => Source::interaction(id),
        };
        let prepared = Prepared {
            source: &source,
            who: record.who,
            records: &[record],
            posts: &[],
            owed: None,
        };
        store.commit(&[prepared], at)?;
    }
    Ok(())
}

fn hand_check(n: u64, typed: bool) -> Body {
    use commands::choice::{Mode, Position, Site};
    Body::HandChecked {
        tag: format!("LW-{:02}", n % 60).into(),
        air: Air::Measured(Tenths(254 + (n % 100) as i32)),
        judged: Judgement::Adequate,
        band: Band {
            low: Tenths(254),
            high: Tenths(381),
        },
        site: typed.then_some(Site::Buttocks),
        position: typed.then_some(Position::BackFlat),
        mode: typed.then_some(Mode::Alternating),
        layers: typed.then_some(2),
        setting: typed.then(|| "5".into()),
        recheck: None,
        round: !typed,
        from_paper: false,
        felt: false,
    }
}
