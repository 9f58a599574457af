//! The runs of both programs, one after another in turn, so that what else the machine does falls on both.
//! Decides what is measured of a run and in which order; leaves what it means to the table.

use std::path::Path;
use std::time::Duration;

use anyhow::{Context, ensure};
use bot::clock::{mono, wall};
use chrono::TimeDelta;
use commands::ids::{Channel, ChatRole, Guild as Facility};
use demo_guild::Guild;

use crate::child::{self, Machine, Memory, Process, Programs};
use crate::home::{self, Places, SURFACES};
use crate::load::{self, Answers, Load, PEOPLE};
use crate::plan::{AT_ONCE, Plan};

/// How long a program may take to be ready.
const READY_WITHIN: Duration = Duration::from_secs(60);
/// Rounds of hand checks on the day before.
const DAY_ROUNDS: usize = 3;

/// Which program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The yardstick.
    Bare,
    /// Ours.
    Loftwatch,
}

/// One load of one run.
#[derive(Clone, Debug, Default)]
pub struct Measured {
    /// The answers.
    pub answers: Answers,
    /// CPU time of the program, in ms.
    pub cpu_ms: f64,
}

impl Measured {
    /// CPU time per 1,000 entries, in ms.
    pub fn cpu_ms_per_1000(&self) -> f64 {
        self.cpu_ms * 1_000.0 / self.answers.entries() as f64
    }
}

/// One run of one program.
#[derive(Clone, Debug, Default)]
pub struct Run {
    /// From start to connected, commands registered.
    pub ready: Duration,
    /// For each of [`AT_ONCE`].
    pub loads: [Measured; 3],
    /// When the loads had passed.
    pub memory: Memory,
    /// Entries that were answered and are not in the file afterwards.
    pub lost: i64,
    /// The file's growth per record, in bytes; after it was closed.
    pub bytes_a_record: f64,
    /// Entries that failed while warming up.
    pub failed_before: usize,
    /// Had to be killed.
    pub killed: bool,
}

/// Both programs over all rounds.
#[derive(Clone, Debug, Default)]
pub struct Both {
    /// The bare bot's runs.
    pub bare: Vec<Run>,
    /// Loftwatch's.
    pub ours: Vec<Run>,
    /// Busy time that was neither ours nor the programs', as a share of one core.
    pub foreign_share: f64,
    /// Time that the host gave to other machines, as a share of one core.
    pub stolen_share: f64,
}

/// Runs both programs in turn.
///
/// # Errors
/// A program does not start, or ends by itself.
pub async fn run(programs: &Programs, plan: &Plan) -> anyhow::Result<Both> {
    let mut both = Both::default();
    let (began, machine, own) = (mono(), Machine::now(), child::own_cpu_ms());
    let mut theirs_ms = 0.0;
    for pair in 0..plan.pairs {
        let order = match pair % 2 {
            0 => [Which::Bare, Which::Loftwatch],
            _ => [Which::Loftwatch, Which::Bare],
        };
        for which in order {
            eprintln!("round {} of {}: {which:?}", pair + 1, plan.pairs);
            let (run, cpu_ms) = one(programs, plan, which).await?;
            theirs_ms += cpu_ms;
            match which {
                Which::Bare => both.bare.push(run),
                Which::Loftwatch => both.ours.push(run),
            }
        }
    }
    let (busy_ms, stolen_ms) = Machine::now().since(machine);
    let took_ms = (mono() - began).as_secs_f64() * 1_000.0;
    let ours_ms = child::own_cpu_ms() - own + theirs_ms;
    both.foreign_share = (busy_ms - stolen_ms - ours_ms) / took_ms;
    both.stolen_share = stolen_ms / took_ms;
    Ok(both)
}

async fn one(programs: &Programs, plan: &Plan, which: Which) -> anyhow::Result<(Run, f64)> {
    let folder = tempfile::tempdir()?;
    let guild = load::guild().await?;
    let facility = Facility(guild.guild_id().0);
    let file = folder.path().join(format!("{facility}.loft"));
    let mut before = (0, 0);
    if which == Which::Loftwatch {
        let head = day_of_records(folder.path(), &guild)?;
        before = (head, std::fs::metadata(&file)?.len());
    }
    let mut process = match which {
        Which::Bare => programs.bare(&guild.url(), &guild.token(), folder.path())?,
        Which::Loftwatch => start(programs, &guild, folder.path(), &[facility.0])?,
    };
    let mut run = Run {
        ready: ready(&mut process, &guild).await?,
        ..Run::default()
    };
    let mut entries = 0;
    for ((people, measured), asked) in AT_ONCE.into_iter().zip(&mut run.loads).zip(plan.entries) {
        let load = |entries| Load {
            people,
            entries,
            within: plan.load_within,
        };
        let warm_up = load::run(&guild, load(plan.warm_up)).await;
        run.failed_before += warm_up.failed;
        let cpu_before = process.cpu_ms()?;
        measured.answers = load::run(&guild, load(asked)).await;
        measured.cpu_ms = process.cpu_ms()? - cpu_before;
        entries += warm_up.waited.len() + measured.answers.waited.len();
    }
    run.memory = process.memory()?;
    process.check()?;
    let cpu_ms = process.cpu_ms()?;
    run.killed = process.stop()?;
    guild.shutdown();
    match which {
        Which::Bare => run.lost = entries as i64 - bare_rows(folder.path())?,
        Which::Loftwatch => {
            let head = home::head(folder.path(), facility)?.0;
            let made = head - before.0;
            // Beside the entries there is one word on a pace that no hand keeps, as the load's is.
            run.lost = entries as i64 - home::checks_after(folder.path(), facility, before.0)?;
            let grown = std::fs::metadata(&file)?.len() - before.1;
            run.bytes_a_record = grown as f64 / made as f64;
        }
    }
    Ok((run, cpu_ms))
}

/// Keeps people at work on one program, for whoever watches it.
///
/// # Errors
/// As [`run`].
pub async fn hold(
    programs: &Programs,
    which: Which,
    people: usize,
    within: Duration,
) -> anyhow::Result<()> {
    ensure!((1..=PEOPLE).contains(&people), "1 to {PEOPLE} people");
    let folder = tempfile::tempdir()?;
    let guild = load::guild().await?;
    let mut process = match which {
        Which::Bare => programs.bare(&guild.url(), &guild.token(), folder.path())?,
        Which::Loftwatch => {
            day_of_records(folder.path(), &guild)?;
            start(programs, &guild, folder.path(), &[guild.guild_id().0])?
        }
    };
    ready(&mut process, &guild).await?;
    eprintln!("{which:?} is process {}", process.id());
    let load = Load {
        people,
        entries: usize::MAX,
        within,
    };
    let before = process.cpu_ms()?;
    let answers = load::run(&guild, load).await;
    eprintln!(
        "{} entries, {} failed, median {:.2} ms, CPU {:.0} µs each",
        answers.entries(),
        answers.failed,
        answers.quantile_ms(0.5),
        (process.cpu_ms()? - before) * 1_000.0 / answers.entries() as f64
    );
    process.stop()?;
    Ok(())
}

/// CPU time of both programs while nobody asks anything, in ms: the bare bot's, loftwatch's.
///
/// # Errors
/// As [`run`].
pub async fn idle(programs: &Programs, plan: &Plan) -> anyhow::Result<(f64, f64)> {
    let mut spent = [0.0, 0.0];
    for (which, spent) in [Which::Bare, Which::Loftwatch].into_iter().zip(&mut spent) {
        eprintln!("idle: {which:?}");
        let folder = tempfile::tempdir()?;
        let guild = load::guild().await?;
        let mut process = match which {
            Which::Bare => programs.bare(&guild.url(), &guild.token(), folder.path())?,
            Which::Loftwatch => {
                day_of_records(folder.path(), &guild)?;
                start(programs, &guild, folder.path(), &[guild.guild_id().0])?
            }
        };
        ready(&mut process, &guild).await?;
        // What follows upon being ready is not idleness yet.
        tokio::time::sleep(plan.idle / 10).await;
        let before = process.cpu_ms()?;
        tokio::time::sleep(plan.idle).await;
        *spent = process.cpu_ms()? - before;
        process.stop()?;
        guild.shutdown();
    }
    Ok((spent[0], spent[1]))
}

/// Memory with that many facilities open, each with a day of records.
///
/// # Errors
/// As [`run`].
pub async fn many_facilities(programs: &Programs, plan: &Plan) -> anyhow::Result<Memory> {
    eprintln!("{} facilities", plan.facilities);
    let folder = tempfile::tempdir()?;
    let guild = load::guild().await?;
    let mut served = vec![guild.guild_id().0];
    day_of_records(folder.path(), &guild)?;
    for n in 1..plan.facilities as u64 {
        let other = Facility(guild.guild_id().0 + n * 1_000);
        fill_day(folder.path(), other, places(&guild))?;
        served.push(other.0);
    }
    let mut process = start(programs, &guild, folder.path(), &served)?;
    ready(&mut process, &guild).await?;
    let load = Load {
        people: PEOPLE,
        entries: plan.warm_up,
        within: plan.load_within,
    };
    let answers = load::run(&guild, load).await;
    ensure!(
        answers.failed == 0,
        "{} answers failed: {:?}",
        answers.failed,
        answers.why
    );
    process.check()?;
    let memory = process.memory()?;
    let open = std::fs::read_dir(format!("/proc/{}/task", process.id()))?.count();
    // One desk is one thread: fewer threads than files means that not every file is open.
    ensure!(
        open > plan.facilities,
        "only {open} threads for {} files",
        plan.facilities
    );
    process.stop()?;
    guild.shutdown();
    Ok(memory)
}

/// Loftwatch with a long history beside loftwatch with a day's.
#[derive(Clone, Debug, Default)]
pub struct Long {
    /// Records of the long history.
    pub records: u64,
    /// Years that they stand for.
    pub years: f64,
    /// From start to ready with the long history, its snapshot among it.
    pub ready: Vec<Duration>,
    /// From start to ready with a day's.
    pub day_ready: Vec<Duration>,
    /// Answers with the long history, one person.
    pub answers: Answers,
    /// Answers with a day's.
    pub day_answers: Answers,
    /// Opening and replaying in this process with the snapshot.
    pub open: Duration,
    /// The same without one.
    pub open_cold: Duration,
    /// Bytes on disk a record.
    pub bytes_a_record: f64,
}

/// Makes a long history and runs loftwatch with it and with a day's in turn.
///
/// # Errors
/// As [`run`], or the history cannot be made.
pub async fn long_history(programs: &Programs, plan: &Plan) -> anyhow::Result<Long> {
    let folder = tempfile::tempdir()?;
    let first = load::guild().await?;
    let facility = Facility(first.guild_id().0);
    let places = places(&first);
    first.shutdown();
    let mut long = make_long(folder.path(), facility, places, plan)?;

    let cold = mono();
    let mut store = store::Store::open(folder.path(), facility)?;
    let state = store.replay()?;
    long.open_cold = mono() - cold;
    store.snapshot(&state)?;
    drop(store);
    let warm = mono();
    let store = store::Store::open(folder.path(), facility)?;
    ensure!(store.replay()? == state, "a snapshot gives another state");
    long.open = mono() - warm;
    drop((store, state));

    for pair in 0..plan.long_pairs {
        let order = if pair % 2 == 0 {
            [true, false]
        } else {
            [false, true]
        };
        for with_years in order {
            eprintln!(
                "ten years: run {}, {}",
                pair + 1,
                if with_years { "ten years" } else { "one day" }
            );
            let day = tempfile::tempdir()?;
            let guild = load::guild().await?;
            let data = if with_years {
                folder.path()
            } else {
                day.path()
            };
            if !with_years {
                day_of_records(data, &guild)?;
            }
            let mut process = start(programs, &guild, data, &[facility.0])?;
            let ready = ready(&mut process, &guild).await?;
            let load = |entries| Load {
                people: 1,
                entries,
                within: plan.load_within,
            };
            load::run(&guild, load(plan.warm_up)).await;
            let answers = load::run(&guild, load(plan.long_entries)).await;
            process.check()?;
            process.stop()?;
            guild.shutdown();
            if with_years {
                long.ready.push(ready);
                long.answers.add(answers);
            } else {
                long.day_ready.push(ready);
                long.day_answers.add(answers);
            }
        }
    }
    Ok(long)
}

fn make_long(
    folder: &Path,
    facility: Facility,
    places: Places,
    plan: &Plan,
) -> anyhow::Result<Long> {
    eprintln!("ten years: making the records");
    let to = wall() - TimeDelta::days(1);
    let from = to - TimeDelta::days(i64::try_from(plan.long_rounds)? / 3);
    let mut keeper = home::build(folder, facility, plan.long_surfaces, places, from)?;
    let began = mono();
    let enough = || mono() - began > plan.long_within;
    let made = keeper.history(plan.long_surfaces, plan.long_rounds, (from, to), enough)?;
    drop(keeper);
    let records = home::head(folder, facility)?.0;
    let bytes = std::fs::metadata(folder.join(format!("{facility}.loft")))?.len();
    Ok(Long {
        records,
        years: made as f64 / plan.long_surfaces as f64 / 3.0 / 365.25,
        bytes_a_record: bytes as f64 / records as f64,
        ..Long::default()
    })
}

fn places(guild: &Guild) -> Places {
    Places {
        care: Channel(guild.channel("care").0),
        supervisors: Channel(guild.channel("supervisors").0),
        aide: ChatRole(guild.role("aides").0),
    }
}

fn day_of_records(folder: &Path, guild: &Guild) -> anyhow::Result<u64> {
    fill_day(folder, Facility(guild.guild_id().0), places(guild))
}

/// A home of [`SURFACES`] surfaces and one day of its records; returns the newest one's number.
fn fill_day(folder: &Path, facility: Facility, places: Places) -> anyhow::Result<u64> {
    let to = wall() - TimeDelta::hours(1);
    let from = to - TimeDelta::days(1);
    let mut keeper = home::build(folder, facility, SURFACES, places, from)?;
    keeper.history(SURFACES, DAY_ROUNDS, (from, to), || false)?;
    Ok(keeper.store.head().0)
}

fn start(
    programs: &Programs,
    guild: &Guild,
    data: &Path,
    guilds: &[u64],
) -> anyhow::Result<Process> {
    programs.loftwatch(&guild.url(), &guild.token(), data, guilds)
}

async fn ready(process: &mut Process, guild: &Guild) -> anyhow::Result<Duration> {
    let come = tokio::time::timeout(READY_WITHIN, guild.bot_ready()).await;
    let ready = mono() - process.started;
    process.check()?;
    come.context("a measured program is not ready after a minute")?;
    Ok(ready)
}

fn bare_rows(folder: &Path) -> anyhow::Result<i64> {
    let rows = rusqlite::Connection::open(folder.join("bare.db"))?;
    Ok(rows.query_row("SELECT count(*) FROM entries", [], |row| row.get(0))?)
}
