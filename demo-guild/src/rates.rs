//! Rate limits as the platform keeps them: one bucket of messages a channel, and a global gate.
//!
//! Decides who must wait and what the headers say; interaction routes never come here.

use std::collections::HashMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::clock::{Watch, wall_ms};
use crate::ids::Id;
use crate::limits::{CHANNEL_MESSAGES, CHANNEL_WINDOW_MS, GLOBAL_PER_SECOND, IDENTIFY_SPACING_MS};

/// Which limits are on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Messages a channel takes, and in how many ms; `None` is no limit.
    pub channel: Option<(u32, u64)>,
    /// Requests a second over all routes but the interaction ones; `None` is no limit.
    pub global: Option<u32>,
    /// The least time between two IDENTIFYs in ms; `None` is no limit.
    pub identify_ms: Option<u64>,
}

impl Limits {
    /// As the platform has them.
    pub const fn published() -> Limits {
        Limits {
            channel: Some((CHANNEL_MESSAGES, CHANNEL_WINDOW_MS)),
            global: Some(GLOBAL_PER_SECOND),
            identify_ms: Some(IDENTIFY_SPACING_MS),
        }
    }

    /// None at all, for load.
    pub const fn off() -> Limits {
        Limits {
            channel: None,
            global: None,
            identify_ms: None,
        }
    }
}

/// What a bucket says after a request.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bucket {
    /// Requests in a window.
    pub limit: u32,
    /// Requests left in this one.
    pub remaining: u32,
    /// Until the window ends, in ms.
    pub reset_after_ms: u64,
    /// When it ends on the wall clock, in ms since the Unix epoch.
    pub reset_ms: u64,
    /// Whether this request was one too many.
    pub spent: bool,
}

/// The buckets.
#[derive(Debug)]
pub struct Rates {
    limits: Limits,
    clock: Watch,
    windows: Mutex<HashMap<Option<Id>, Window>>,
}

#[derive(Clone, Copy, Debug)]
struct Window {
    ends_ms: u64,
    used: u32,
}

impl Rates {
    /// Buckets of those limits.
    pub fn new(limits: Limits) -> Rates {
        Rates {
            limits,
            clock: Watch::start(),
            windows: Mutex::default(),
        }
    }

    /// Which limits are on.
    pub fn limits(&self) -> Limits {
        self.limits
    }

    /// Counts a message into a channel.
    pub fn message(&self, channel: Id) -> Option<Bucket> {
        let (limit, window_ms) = self.limits.channel?;
        Some(self.count(Some(channel), limit, window_ms))
    }

    /// Counts a request against the global gate; the bucket only where it is spent.
    pub fn request(&self) -> Option<Bucket> {
        let limit = self.limits.global?;
        Some(self.count(None, limit, 1_000)).filter(|b| b.spent)
    }

    fn count(&self, key: Option<Id>, limit: u32, window_ms: u64) -> Bucket {
        let now_ms = u64::try_from(self.clock.passed().as_millis()).unwrap_or(u64::MAX);
        let mut windows: MutexGuard<'_, _> =
            self.windows.lock().unwrap_or_else(PoisonError::into_inner);
        let window = windows.entry(key).or_insert(Window {
            ends_ms: 0,
            used: 0,
        });
        if window.ends_ms <= now_ms {
            *window = Window {
                ends_ms: now_ms + window_ms,
                used: 0,
            };
        }
        let spent = window.used >= limit;
        window.used += u32::from(!spent);
        let reset_after_ms = window.ends_ms - now_ms;
        Bucket {
            limit,
            remaining: limit - window.used,
            reset_after_ms,
            reset_ms: wall_ms() + reset_after_ms,
            spent,
        }
    }
}
