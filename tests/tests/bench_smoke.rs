//! The benchmark runs: a handful of entries against both programs, none fails, and every row is in the table.
//! No time is judged here; the figures of such a run say nothing.

use std::process::Command;

/// How the rows begin, in their order.
const ROWS: &[&str] = &[
    "what",
    "entries not answered, or not on disk",
    "CPU of 1,000 entries, 1 at once",
    "median answer, 1 at once",
    "99th percentile answer, 1 at once",
    "CPU of 1,000 entries, 16 at once",
    "median answer, 16 at once",
    "99th percentile answer, 16 at once",
    "CPU of 1,000 entries, 64 at once",
    "median answer, 64 at once",
    "99th percentile answer, 64 at once",
    "resident memory, one facility",
    "peak memory, one facility",
    "resident memory, 3 facilities",
    "start to ready, commands registered",
    "the same with",
    "opening that file with a snapshot",
    "opening that file without one",
    "median answer, years against one day",
    "due list, 300 surfaces, all due",
    "due list, 300 surfaces, one unit of them",
    "idle CPU in",
    "bytes on disk a record",
];

#[test]
fn a_quick_run_loses_nothing_and_prints_every_row() {
    let run = Command::new(env!("CARGO_BIN_EXE_bench"))
        .arg("--quick")
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&run.stderr);
    assert!(run.status.success(), "{said}");
    let table = String::from_utf8(run.stdout).unwrap();
    let rows: Vec<Vec<&str>> = table
        .lines()
        .filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |"))
        .map(|line| line.split(" | ").map(str::trim).collect())
        .collect();
    let begins: Vec<&str> = rows.iter().map(|row| row[0]).collect();
    assert_eq!(begins.len(), ROWS.len(), "{table}");
    for (begin, wanted) in begins.iter().zip(ROWS) {
        assert!(begin.starts_with(wanted), "{begin} where {wanted} belongs");
    }
    // 4 + 6, 4 + 32 and 4 + 64 entries were sent to each; those of the warm-up are not in the sum.
    let failures = &rows[1];
    assert_eq!(
        &failures[1..],
        ["0", "0 of 102, 0 lost", "0 of 102, 0 lost", "0", "yes"]
    );
    for row in &rows[1..] {
        assert_eq!(row.len(), 6, "{row:?}");
        assert!(!row.iter().any(|cell| cell.contains("NaN")), "{row:?}");
    }
}
