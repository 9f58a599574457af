//! Stories of a simulated home, from the command line: `story [FIRST] [COUNT] [DAYS] [until-broken] [aloud]`. Decides which are told
//! and on how many threads, and keeps each that broke a promise, with the fewest days in which it does, in `tests/stories`, where the
//! tests find it; what must hold in them is [`loftwatch_tests::sim`]'s.

use std::path::Path;
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};

use loftwatch_tests::sim::{Story, Tally, aloud, live};

#[allow(
    clippy::disallowed_methods,
    reason = "the words after a program's own name are no settings of loftwatch"
)]
fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let tell = words.iter().any(|word| word == "aloud");
    let until_broken = words.iter().any(|word| word == "until-broken");
    let mut numbers = words.iter().filter_map(|word| word.parse::<u64>().ok());
    let first = numbers.next().unwrap_or(1);
    let count = numbers.next().unwrap_or(1);
    let days = u32::try_from(numbers.next().unwrap_or(30)).unwrap_or(30);
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    let scenarios = tests.join("scenarios");
    let next = AtomicU64::new(first);
    let all = Mutex::new((Tally::default(), 0_u64));
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    let enough = until_broken && all.lock().is_ok_and(|all| all.1 > 0);
                    if seed >= first + count || enough {
                        return;
                    }
                    let story = Story { seed, days };
                    let told = if tell {
                        aloud(story, &scenarios).map(|(lived, told)| {
                            told.iter().for_each(|line| println!("{line}"));
                            lived
                        })
                    } else {
                        live(story, &scenarios)
                    };
                    if !matches!(told, Ok(Ok(_)))
                        && let Err(why) = story.keep(tests)
                    {
                        println!("seed {seed} could not be kept: {why:#}");
                    }
                    let mut all = all.lock().expect("no other teller failed");
                    match told {
                        Ok(Ok(tally)) => all.0 += tally,
                        Ok(Err(broken)) => {
                            all.1 += 1;
                            if count == 1 {
                                println!("{broken:#}");
                            } else {
                                println!("{broken}");
                            }
                        }
                        Err(why) => {
                            all.1 += 1;
                            println!("seed {seed}: {why:#}");
                        }
                    }
                }
            });
        }
    });
    let (tally, broken) = all.into_inner().expect("no teller failed");
    println!("{count} stories of {days} days, {broken} broken: {tally:?}");
    if broken == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
