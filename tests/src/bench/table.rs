//! The one table of the benchmark. Decides what each target is and whether it was reached; leaves measuring
//! to the others. Ratios are of one run on one machine; a time stands beside them as context only.

use std::fmt::Write as _;
use std::time::Duration;

use crate::alone::DueList;
use crate::child::Memory;
use crate::load::Answers;
use crate::plan::AT_ONCE;
use crate::rounds::{Both, Long, Run};

/// CPU of an entry against the bare bot's, for each of [`AT_ONCE`].
const CPU_MOST: [f64; 3] = [1.1, 0.9, 0.9];
/// Median answer against the bare bot's, for each of [`AT_ONCE`]; none is promised in the middle.
const MEDIAN_MOST: [Option<f64>; 3] = [Some(1.15), None, Some(1.0)];
const MEMORY_MOST: f64 = 1.5;
const MANY_MEMORY_KB_MOST: u64 = 40_000;
const READY_MOST: Duration = Duration::from_millis(500);
const OPEN_MOST: Duration = Duration::from_millis(500);
/// "The same" answer times: within what two equal runs differ by.
const SAME_MOST: f64 = 1.1;
const DUE_MOST: Duration = Duration::from_millis(20);
/// "Near nothing": a thousandth of one core.
const IDLE_SHARE_MOST: f64 = 0.001;
const BYTES_MOST: f64 = 400.0;

/// All that was measured.
pub struct Seen {
    /// Both programs in turn.
    pub both: Both,
    /// Idle CPU in ms: the bare bot's, loftwatch's.
    pub idle: (f64, f64),
    /// How long idleness was watched.
    pub idle_for: Duration,
    /// Memory with many facilities.
    pub many: Memory,
    /// How many.
    pub facilities: usize,
    /// A long history.
    pub long: Long,
    /// Due lists.
    pub due: DueList,
    /// Over how many surfaces.
    pub due_surfaces: usize,
    /// Whether there was enough of it to judge times and sizes by.
    pub judged: bool,
}

/// One line of the table.
struct Line {
    what: String,
    target: String,
    bare: String,
    ours: String,
    seen: String,
    /// `None` where nothing is promised.
    reached: Option<bool>,
}

impl Seen {
    /// Answers that failed and entries that were lost, of both programs.
    pub fn failed(&self) -> i64 {
        let of = |run: &Run| {
            let answers: usize = run.loads.iter().map(|load| load.answers.failed).sum();
            (answers + run.failed_before) as i64 + run.lost.abs()
        };
        let runs = self.both.bare.iter().chain(&self.both.ours);
        let long = self.long.answers.failed + self.long.day_answers.failed;
        runs.map(of).sum::<i64>() + long as i64
    }

    /// Why answers failed, where one says so.
    pub fn why(&self) -> Option<&str> {
        let runs = self.both.bare.iter().chain(&self.both.ours);
        let loads = runs.flat_map(|run| &run.loads).map(|load| &load.answers);
        let all = loads.chain([&self.long.answers, &self.long.day_answers]);
        all.filter_map(|answers| answers.why.as_deref()).next()
    }

    /// The table, as text.
    pub fn table(&self) -> String {
        let mut lines = vec![self.failures()];
        for at in 0..AT_ONCE.len() {
            lines.extend(self.load(at));
        }
        lines.push(self.memory());
        lines.push(self.peak());
        lines.push(self.many_facilities());
        lines.extend(self.ready());
        lines.extend(self.long());
        lines.extend(self.due());
        lines.push(self.idle());
        lines.push(self.bytes());
        if !self.judged {
            // The first line needs no times.
            lines
                .iter_mut()
                .skip(1)
                .for_each(|line| line.reached = None);
        }
        let mut text = drawn(&lines);
        let _ = writeln!(
            text,
            "\nRanges in brackets are the least and the most of single rounds.\n\
             Other programs used {:.2} of a core during the rounds, the host took {:.2}.",
            self.both.foreign_share.max(0.0),
            self.both.stolen_share
        );
        text
    }

    fn failures(&self) -> Line {
        let of = |runs: &[Run]| {
            let entries: usize = runs
                .iter()
                .flat_map(|run| &run.loads)
                .map(|l| l.answers.entries())
                .sum();
            let failed: usize = runs
                .iter()
                .flat_map(|run| &run.loads)
                .map(|l| l.answers.failed)
                .sum();
            let lost: i64 = runs.iter().map(|run| run.lost.abs()).sum();
            format!("{failed} of {entries}, {lost} lost")
        };
        Line {
            what: "entries not answered, or not on disk".into(),
            target: "0".into(),
            bare: of(&self.both.bare),
            ours: of(&self.both.ours),
            seen: self.failed().to_string(),
            reached: Some(self.failed() == 0),
        }
    }

    fn load(&self, at: usize) -> Vec<Line> {
        let people = AT_ONCE[at];
        let (bare, ours) = (
            Pooled::of(&self.both.bare, at),
            Pooled::of(&self.both.ours, at),
        );
        let rounds = |of: fn(&Run, usize) -> f64| {
            let pairs = self.both.bare.iter().zip(&self.both.ours);
            spread(pairs.map(|(bare, ours)| of(ours, at) / of(bare, at)))
        };
        let line = |what: &str, most: Option<f64>, bare: f64, ours: f64, range: String| Line {
            what: format!("{what}, {people} at once"),
            target: most.map_or_else(|| "-".into(), |most| format!("at most {most}")),
            bare: format!("{bare:.2} ms"),
            ours: format!("{ours:.2} ms"),
            seen: ratio(ours, bare) + &range,
            reached: most.map(|most| ours / bare <= most),
        };
        vec![
            line(
                "CPU of 1,000 entries",
                Some(CPU_MOST[at]),
                bare.cpu_ms,
                ours.cpu_ms,
                rounds(|run, at| run.loads[at].cpu_ms_per_1000()),
            ),
            line(
                "median answer",
                MEDIAN_MOST[at],
                bare.answers.quantile_ms(0.5),
                ours.answers.quantile_ms(0.5),
                rounds(|run, at| run.loads[at].answers.quantile_ms(0.5)),
            ),
            line(
                "99th percentile answer",
                None,
                bare.answers.quantile_ms(0.99),
                ours.answers.quantile_ms(0.99),
                rounds(|run, at| run.loads[at].answers.quantile_ms(0.99)),
            ),
        ]
    }

    fn memory(&self) -> Line {
        let of = |runs: &[Run]| mean(runs.iter().map(|run| run.memory.now_kb as f64));
        let (bare, ours) = (of(&self.both.bare), of(&self.both.ours));
        Line {
            what: "resident memory, one facility".into(),
            target: format!("at most {MEMORY_MOST}"),
            bare: mb(bare),
            ours: mb(ours),
            seen: ratio(ours, bare),
            reached: Some(ours / bare <= MEMORY_MOST),
        }
    }

    fn peak(&self) -> Line {
        let of = |runs: &[Run]| mean(runs.iter().map(|run| run.memory.most_kb as f64));
        let (bare, ours) = (of(&self.both.bare), of(&self.both.ours));
        Line {
            what: "peak memory, one facility".into(),
            target: "-".into(),
            bare: mb(bare),
            ours: mb(ours),
            seen: ratio(ours, bare),
            reached: None,
        }
    }

    fn many_facilities(&self) -> Line {
        Line {
            what: format!("resident memory, {} facilities", self.facilities),
            target: format!("under {}", mb(MANY_MEMORY_KB_MOST as f64)),
            bare: "-".into(),
            ours: mb(self.many.now_kb as f64),
            seen: format!("peak {}", mb(self.many.most_kb as f64)),
            reached: Some(self.many.now_kb < MANY_MEMORY_KB_MOST),
        }
    }

    fn ready(&self) -> Vec<Line> {
        let of = |runs: &[Run]| middle(runs.iter().map(|run| run.ready));
        let (bare, ours) = (of(&self.both.bare), of(&self.both.ours));
        let long = middle(self.long.ready.iter().copied());
        let day = middle(self.long.day_ready.iter().copied());
        let more = long.saturating_sub(day);
        vec![
            Line {
                what: "start to ready, commands registered".into(),
                target: format!("at most {}", ms(READY_MOST)),
                bare: ms(bare),
                ours: ms(ours),
                seen: format!("{:.2}", ours.as_secs_f64() / bare.as_secs_f64()),
                reached: Some(ours <= READY_MOST),
            },
            Line {
                what: format!("the same with {}", self.history()),
                target: format!("{} more", ms(OPEN_MOST)),
                bare: "-".into(),
                ours: ms(long),
                seen: format!("{} more", ms(more)),
                reached: Some(more <= OPEN_MOST),
            },
        ]
    }

    fn history(&self) -> String {
        format!(
            "{:.1} years ({} records)",
            self.long.years, self.long.records
        )
    }

    fn long(&self) -> Vec<Line> {
        let long = self.long.answers.quantile_ms(0.5);
        let day = self.long.day_answers.quantile_ms(0.5);
        let open = |what: &str, took: Duration| Line {
            what: format!("opening that file {what}"),
            target: "-".into(),
            bare: "-".into(),
            ours: ms(took),
            seen: "-".into(),
            reached: None,
        };
        vec![
            open("with a snapshot", self.long.open),
            open("without one", self.long.open_cold),
            Line {
                what: "median answer, years against one day".into(),
                target: format!("at most {SAME_MOST}"),
                bare: format!("day {day:.2} ms"),
                ours: format!("{long:.2} ms"),
                seen: format!("{:.2}", long / day),
                reached: Some(long / day <= SAME_MOST),
            },
        ]
    }

    fn due(&self) -> Vec<Line> {
        let line = |what: &str, took: Duration, reached| Line {
            what: format!("due list, {} surfaces, {what}", self.due_surfaces),
            target: if reached {
                format!("at most {}", ms(DUE_MOST))
            } else {
                "-".into()
            },
            bare: "-".into(),
            ours: ms(took),
            seen: "-".into(),
            reached: reached.then_some(took <= DUE_MOST),
        };
        vec![
            line("all due", self.due.all_due, true),
            line("one unit of them", self.due.one_unit, false),
        ]
    }

    fn idle(&self) -> Line {
        let (bare, ours) = self.idle;
        let share = ours / (self.idle_for.as_secs_f64() * 1_000.0);
        Line {
            what: format!("idle CPU in {} s", self.idle_for.as_secs_f64()),
            target: format!("under {} of a core", IDLE_SHARE_MOST),
            bare: format!("{bare:.0} ms"),
            ours: format!("{ours:.0} ms"),
            seen: format!("{share:.4} of a core"),
            reached: Some(share < IDLE_SHARE_MOST),
        }
    }

    fn bytes(&self) -> Line {
        let bytes = mean(self.both.ours.iter().map(|run| run.bytes_a_record));
        Line {
            what: "bytes on disk a record".into(),
            target: format!("under {BYTES_MOST}"),
            bare: "-".into(),
            ours: format!("{bytes:.0}"),
            seen: format!("{:.0} over the long history", self.long.bytes_a_record),
            reached: Some(bytes < BYTES_MOST && self.long.bytes_a_record < BYTES_MOST),
        }
    }
}

/// One load over all rounds of one program.
struct Pooled {
    answers: Answers,
    /// Of 1,000 entries.
    cpu_ms: f64,
}

impl Pooled {
    fn of(runs: &[Run], at: usize) -> Pooled {
        let mut answers = Answers::default();
        let mut cpu_ms = 0.0;
        for load in runs.iter().map(|run| &run.loads[at]) {
            answers.add(load.answers.clone());
            cpu_ms += load.cpu_ms;
        }
        let entries = answers.entries() as f64;
        Pooled {
            answers,
            cpu_ms: cpu_ms * 1_000.0 / entries,
        }
    }
}

fn drawn(lines: &[Line]) -> String {
    let head = Line {
        what: "what".into(),
        target: "target".into(),
        bare: "bare bot".into(),
        ours: "loftwatch".into(),
        seen: "ratio or seen".into(),
        reached: None,
    };
    let mut text = String::new();
    let mut row = |line: &Line, reached: &str| {
        let _ = writeln!(
            text,
            "| {:<54} | {:<22} | {:<19} | {:<19} | {:<24} | {:<7} |",
            line.what, line.target, line.bare, line.ours, line.seen, reached
        );
    };
    row(&head, "reached");
    for line in lines {
        row(
            line,
            match line.reached {
                Some(true) => "yes",
                Some(false) => "no",
                None => "-",
            },
        );
    }
    text
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let values: Vec<f64> = values.collect();
    values.iter().sum::<f64>() / values.len() as f64
}

fn middle(values: impl Iterator<Item = Duration>) -> Duration {
    let mut values: Vec<Duration> = values.collect();
    values.sort_unstable();
    values.get(values.len() / 2).copied().unwrap_or_default()
}

fn spread(values: impl Iterator<Item = f64>) -> String {
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for value in values {
        least = least.min(value);
        most = most.max(value);
    }
    if least.is_finite() && most.is_finite() {
        format!(" [{least:.2} to {most:.2}]")
    } else {
        String::new()
    }
}

/// A ratio; nothing where so little was spent that the kernel did not count it.
fn ratio(ours: f64, bare: f64) -> String {
    if bare > 0.0 {
        format!("{:.2}", ours / bare)
    } else {
        "-".into()
    }
}

fn mb(kb: f64) -> String {
    format!("{:.1} MB", kb / 1_000.0)
}

fn ms(took: Duration) -> String {
    format!("{:.1} ms", took.as_secs_f64() * 1_000.0)
}
