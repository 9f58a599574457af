//! A home whose file was put back from a backup, and what of ours still stands in the chat from before. The numbers on those
//! messages are given once more to something else, so that a tap on one would take another bed's alarm. Decides which messages
//! these are; leaves the mark in the file to `store`, and what is answered to the desk.
//!
//! By the chat's own time, which is in its numbers: the computer's clock may have been wrong by a month at the restore, and would
//! then refuse every tap for a month. All messages from before are older than the moment at which the first run after the restore
//! opened the file, and that is known from the first thing it hears, or posts: what the chat's time was then, less what passed since by the
//! steady time. It is too early by what the request took to get here, which is less than a restore takes.

use std::time::Duration;

use store::{Store, StoreError};

use crate::clock::Ages;
use crate::event::{Heard, Way};

/// Tells messages from before the newest restore.
pub(super) struct Restored {
    /// The setting that keeps `since`; another one after each restore.
    setting: String,
    /// The chat's time at which the first run after the restore opened the file, in milliseconds since 1970.
    since: Option<i64>,
    kept: bool,
    opened: Duration,
}

impl Restored {
    /// Of a file that was just opened, with what was `known` when it was open before. Nothing where it was never put back.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub(super) fn of(
        known: Option<Self>,
        store: &Store,
        opened: Duration,
    ) -> Result<Option<Self>, StoreError> {
        let Some(at) = store.restored() else {
            return Ok(None);
        };
        let setting = format!("restored.{}", at.timestamp_millis());
        if known.as_ref().is_some_and(|known| known.setting == setting) {
            return Ok(known);
        }
        let since = store.setting(&setting)?.and_then(|ms| ms.parse().ok());
        Ok(Some(Self {
            setting,
            since,
            kept: since.is_some(),
            opened,
        }))
    }

    /// What tells one restore from another.
    pub(super) fn mark(&self) -> String {
        self.setting.clone()
    }

    /// Something was heard at `now` that the chat gave its number to, at most moments ago.
    pub(super) fn heard(&mut self, number: u64, store: &mut Store, now: Duration) {
        if self.kept {
            return;
        }
        let passed = now.saturating_sub(self.opened).as_millis() as i64;
        let since = *self.since.get_or_insert(Ages::made_ms(number) - passed);
        match store.set_setting(&self.setting, &since.to_string()) {
            Ok(()) => self.kept = true,
            // The next run then takes its own start, which refuses more and takes no more.
            Err(fault) => tracing::debug!(%fault, "since when messages are good is not kept"),
        }
    }

    /// Whether it came from a message of ours that was made before.
    pub(super) fn is_before(&self, heard: &Heard) -> bool {
        let Way::Interaction {
            on_message: Some(message),
            ..
        } = heard.way
        else {
            return false;
        };
        self.since
            .is_some_and(|since| Ages::made_ms(message) < since)
    }

    /// Whether a message of ours is none of the file's as it is now. As long as nothing is known of the chat's time since, none is.
    pub(super) fn made_before(&self, message: u64) -> bool {
        self.since
            .is_none_or(|since| Ages::made_ms(message) < since)
    }
}
