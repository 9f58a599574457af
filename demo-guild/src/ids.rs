//! The platform's snowflakes: how ids are made, read and written.
//!
//! Decides that an id is always real wall time, whatever the demo clock says; leaves what an id
//! names to the chat.

use std::fmt;
use std::str::FromStr;
use std::sync::atomic::{AtomicU64, Ordering};

use serde::{Serialize, Serializer};

/// The first millisecond a snowflake can hold: 2015-01-01T00:00:00Z, in ms since the Unix epoch
/// (the platform's reference, "Snowflakes").
pub const FIRST_MS: u64 = 1_420_070_400_000;
const TIME_SHIFT: u32 = 22;

/// One id. Zero is never given out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(pub u64);

impl Id {
    /// When the id was made, in ms since the Unix epoch.
    pub fn made_ms(self) -> u64 {
        (self.0 >> TIME_SHIFT) + FIRST_MS
    }

    /// The smallest id of that millisecond (ms since the Unix epoch).
    pub fn at_ms(ms: u64) -> Id {
        Id(ms.saturating_sub(FIRST_MS) << TIME_SHIFT)
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl From<Id> for serde_json::Value {
    fn from(id: Id) -> Self {
        id.to_string().into()
    }
}

impl FromStr for Id {
    type Err = std::num::ParseIntError;
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        text.parse().map(Id)
    }
}

impl Serialize for Id {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        out.collect_str(&self.0)
    }
}

/// Makes ids: each larger than the one before, also within one millisecond and when the wall
/// clock steps back.
#[derive(Debug, Default)]
pub struct Mint {
    last: AtomicU64,
}

impl Mint {
    /// A new id for that wall time (ms since the Unix epoch).
    pub fn next(&self, wall_ms: u64) -> Id {
        let floor = Id::at_ms(wall_ms).0;
        let step = |last: u64| Some(floor.max(last + 1));
        // The closure never says no, so both arms hold the value before the step.
        let before = match self
            .last
            .fetch_update(Ordering::Relaxed, Ordering::Relaxed, step)
        {
            Ok(before) | Err(before) => before,
        };
        Id(floor.max(before + 1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_grow_within_a_millisecond_and_when_the_clock_steps_back() {
        let mint = Mint::default();
        let now = FIRST_MS + 1_000_000;
        let mut last = Id(0);
        for step in 0..10_000u64 {
            let id = mint.next(if step % 3 == 0 { now - 5_000 } else { now });
            assert!(id > last);
            last = id;
        }
        assert_eq!(mint.next(now + 60_000).made_ms(), now + 60_000);
    }
}
