//! Feeds every reader of text and bytes with what nobody means: `readers [MILLIONS] [SEED]`, so many texts to each. Decides how many
//! and on how many threads, says how many a second each took, and keeps what stopped one in `tests/readers`, where the tests find it.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::Path;
use std::process::ExitCode;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use anyhow::Result;
use loftwatch_tests::readers::{Corpus, READERS, Stopped, feed_one, identifiers};

/// Texts of one seed, all to one reader.
const PORTION: u64 = 50_000;

#[allow(
    clippy::disallowed_methods,
    reason = "the words after a program's own name are no settings of loftwatch, and how long a reader takes is asked of the machine"
)]
fn main() -> Result<ExitCode> {
    let mut numbers = std::env::args()
        .skip(1)
        .filter_map(|word| word.parse::<u64>().ok());
    let each = numbers.next().unwrap_or(10) * 1_000_000 / PORTION;
    let portions = each * READERS.len() as u64;
    let first = numbers.next().unwrap_or(1);
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    let corpus = Corpus::of(&tests.join(".."), identifiers(&tests.join("scenarios"))?)?;
    // What stops a reader is said at the end; the panic's own words would be said each time.
    std::panic::set_hook(Box::new(|_| {}));
    let next = AtomicU64::new(0);
    let spent: Vec<_> = READERS.iter().map(|_| AtomicU64::new(0)).collect();
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let feed = || {
        let mut stopped = 0;
        loop {
            let portion = next.fetch_add(1, Ordering::Relaxed);
            if portion >= portions {
                return stopped;
            }
            let no = (portion % READERS.len() as u64) as usize;
            if portion.is_multiple_of(20 * READERS.len() as u64) {
                eprintln!(
                    "{} of {each} portions to each",
                    portion / READERS.len() as u64
                );
            }
            let began = Instant::now();
            if let Some(one) = feed_one(&READERS[no], &corpus, first + portion, PORTION) {
                // At once: who ends this early has what was found.
                if let Err(fault) = keep(&one, tests) {
                    eprintln!("it could not be kept: {fault}");
                }
                stopped += 1;
            }
            let took = u64::try_from(began.elapsed().as_micros()).unwrap_or(u64::MAX);
            spent[no].fetch_add(took, Ordering::Relaxed);
        }
    };
    let stopped: usize = std::thread::scope(|scope| {
        let feeders: Vec<_> = (0..threads).map(|_| scope.spawn(feed)).collect();
        feeders
            .into_iter()
            .map(|feeder| feeder.join().unwrap_or(1))
            .sum()
    });
    for (reader, spent) in READERS.iter().zip(&spent) {
        let micros = spent.load(Ordering::Relaxed).max(1);
        println!(
            "{}: {} texts, {} a second",
            reader.name,
            each * PORTION,
            each * PORTION * 1_000_000 / micros
        );
    }
    println!("{} texts, {stopped} stopped a reader", portions * PORTION);
    Ok(if stopped == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}

/// Says what stopped a reader, and keeps it where the tests find it.
fn keep(one: &Stopped, tests: &Path) -> Result<()> {
    println!("{}: {:?}: {}", one.reader, one.text, one.why);
    let name = format!("{}-{:016x}.txt", one.reader, name(&one.text));
    std::fs::create_dir_all(tests.join("readers"))?;
    std::fs::write(tests.join("readers").join(name), &one.text)?;
    Ok(())
}

/// What tells one text's file from another's.
fn name(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}
