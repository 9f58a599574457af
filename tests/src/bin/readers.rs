//! Feeds every reader of text and bytes with what nobody means: `readers [MILLIONS] [SEED]`. Decides how many and on how many threads, and
//! keeps what stopped one in `tests/readers`, where the tests find it.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::Path;
use std::process::ExitCode;
use std::sync::atomic::{AtomicU64, Ordering};

use anyhow::Result;
use loftwatch_tests::readers::{Corpus, feed_all, identifiers};

/// Texts of one seed.
const PORTION: u64 = 100_000;

#[allow(
    clippy::disallowed_methods,
    reason = "the words after a program's own name are no settings of loftwatch"
)]
fn main() -> Result<ExitCode> {
    let mut numbers = std::env::args()
        .skip(1)
        .filter_map(|word| word.parse::<u64>().ok());
    let portions = numbers.next().unwrap_or(10) * 1_000_000 / PORTION;
    let first = numbers.next().unwrap_or(1);
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    let corpus = Corpus::of(&tests.join(".."), identifiers(&tests.join("scenarios"))?)?;
    // What stops a reader is said at the end; the panic's own words would be said each time.
    std::panic::set_hook(Box::new(|_| {}));
    let next = AtomicU64::new(0);
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let stopped: Vec<_> = std::thread::scope(|scope| {
        let feeders: Vec<_> = (0..threads)
            .map(|_| {
                scope.spawn(|| {
                    let mut stopped = Vec::new();
                    loop {
                        let portion = next.fetch_add(1, Ordering::Relaxed);
                        if portion >= portions {
                            return stopped;
                        }
                        stopped.extend(feed_all(&corpus, first + portion, PORTION));
                    }
                })
            })
            .collect();
        feeders
            .into_iter()
            .flat_map(|feeder| feeder.join().unwrap_or_default())
            .collect()
    });
    for one in &stopped {
        println!("{}: {:?}: {}", one.reader, one.text, one.why);
        let name = format!("{}-{:016x}.txt", one.reader, name(&one.text));
        std::fs::create_dir_all(tests.join("readers"))?;
        std::fs::write(tests.join("readers").join(name), &one.text)?;
    }
    println!(
        "{} texts, {} stopped a reader",
        portions * PORTION,
        stopped.len()
    );
    Ok(if stopped.is_empty() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}

/// What tells one text's file from another's.
fn name(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}
