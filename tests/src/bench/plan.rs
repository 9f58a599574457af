//! How much is measured: all of it, or a little of everything for a test that it runs.

use std::time::Duration;

/// What loads there are, by people at once.
pub const AT_ONCE: [usize; 3] = [1, 16, 64];

/// How much is measured.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Pairs of runs, the bare bot first and last in turn.
    pub pairs: usize,
    /// Entries for each of [`AT_ONCE`], before and while it is measured.
    pub warm_up: usize,
    /// Entries for each of [`AT_ONCE`].
    pub entries: [usize; 3],
    /// The longest that each load may take.
    pub load_within: Duration,
    /// How long idle programs are watched.
    pub idle: Duration,
    /// Facilities open at once.
    pub facilities: usize,
    /// Surfaces of the facility with the long history.
    pub long_surfaces: usize,
    /// Its rounds of hand checks: three a day for ten years.
    pub long_rounds: usize,
    /// The longest that making it may take.
    pub long_within: Duration,
    /// Entries for each run with the long history and with a short one.
    pub long_entries: usize,
    /// Pairs of those runs.
    pub long_pairs: usize,
    /// Surfaces of the due list.
    pub due_surfaces: usize,
}

impl Plan {
    /// All of it: about five minutes.
    pub fn full() -> Plan {
        Plan {
            pairs: 4,
            warm_up: 500,
            entries: [1_500, 6_000, 10_000],
            load_within: Duration::from_secs(20),
            idle: Duration::from_secs(20),
            facilities: 50,
            long_surfaces: 120,
            long_rounds: 3 * 3_652,
            long_within: Duration::from_secs(120),
            long_entries: 1_500,
            long_pairs: 2,
            due_surfaces: 30_000,
        }
    }

    /// A little of everything. Its figures say nothing.
    pub fn quick() -> Plan {
        Plan {
            pairs: 1,
            warm_up: 4,
            entries: [6, 32, 64],
            load_within: Duration::from_secs(20),
            idle: Duration::from_millis(200),
            facilities: 3,
            long_surfaces: 6,
            long_rounds: 20,
            long_within: Duration::from_secs(20),
            long_entries: 4,
            long_pairs: 1,
            due_surfaces: 300,
        }
    }
}
