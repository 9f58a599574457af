//! How fast and how small loftwatch is, as ratios to a bare bot of the same library in the same run:
//!
//! ```text
//! cargo run --release -p loftwatch-tests --bin bench
//! ```
//!
//! Serves the demo guild in this process, without rate limits, and measures the real programs `loftwatch run`
//! and `bare` as processes of their own, in turn and in several rounds. Prints one table of the targets,
//! what was seen, and whether it is reached. An absolute time in it is context and no claim: the chat, the load
//! and the program share the machine's cores. `--quick` does a little of everything; its figures say nothing.
//! `--hold loftwatch 16 30` keeps 16 people at work on that program for 30 s and says its process id, for a
//! profiler.
//!
//! Ends with 1 when an entry was not answered or is not on disk, whatever the times.

#[path = "../bench/alone.rs"]
mod alone;
#[path = "../bench/child.rs"]
mod child;
#[path = "../bench/home.rs"]
mod home;
#[path = "../bench/load.rs"]
mod load;
#[path = "../bench/plan.rs"]
mod plan;
#[path = "../bench/rounds.rs"]
mod rounds;
#[path = "../bench/table.rs"]
mod table;

use std::process::ExitCode;
use std::time::Duration;

use child::Programs;
use plan::Plan;
use table::Seen;

#[tokio::main]
async fn main() -> anyhow::Result<ExitCode> {
    let told: Vec<String> = std::env::args().skip(1).collect();
    let plan = match told.as_slice() {
        [] => Plan::full(),
        [flag] if flag == "--quick" => Plan::quick(),
        [flag, program, people, seconds] if flag == "--hold" => {
            let which = match program.as_str() {
                "bare" => rounds::Which::Bare,
                _ => rounds::Which::Loftwatch,
            };
            let within = Duration::from_secs(seconds.parse()?);
            rounds::hold(&Programs::build()?, which, people.parse()?, within).await?;
            return Ok(ExitCode::SUCCESS);
        }
        _ => anyhow::bail!("bench [--quick | --hold <bare|loftwatch> <people> <seconds>]"),
    };
    if cfg!(debug_assertions) && told.is_empty() {
        eprintln!("without --release the figures say nothing");
    }
    let programs = Programs::build()?;
    let seen = Seen {
        due: alone::due_list(plan.due_surfaces)?,
        both: rounds::run(&programs, &plan).await?,
        idle: rounds::idle(&programs, &plan).await?,
        many: rounds::many_facilities(&programs, &plan).await?,
        long: rounds::long_history(&programs, &plan).await?,
        idle_for: plan.idle,
        facilities: plan.facilities,
        due_surfaces: plan.due_surfaces,
        judged: told.is_empty(),
    };
    println!("{}", seen.table());
    if seen.failed() != 0 {
        eprintln!(
            "{} entries failed: {}",
            seen.failed(),
            seen.why().unwrap_or("no reason was told")
        );
        return Ok(ExitCode::FAILURE);
    }
    Ok(ExitCode::SUCCESS)
}
