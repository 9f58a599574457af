//! Between the outbox in the file and [`crate::delivery`]. Decides what of the file may go, and that what became of a message is
//! in the file, now or once it takes it again; leaves when something goes and what an outcome means to `delivery`.

use std::collections::BTreeSet;

use chrono::{DateTime, Utc};
use commands::decision::PostKind;
use store::{OutRow, StoreError};

use super::{Desk, REOPEN_AFTER, ROWS_MAX};
use crate::clock::Moment;
use crate::delivery::{Settled, is_call};
use crate::request::{Outcome, Past};

/// Why a row is given up that cannot be read.
const UNREADABLE: &str = "the file has it in a form that cannot be read";

impl Desk {
    /// Whether nothing at all was read of a channel in which we have posted: so it reads for whoever may not read what was said there.
    pub(super) fn reads_nothing(&self, id: i64, outcome: &Outcome) -> bool {
        let nothing = matches!(outcome, Outcome::Listed(past) if past.is_empty());
        let channel = self.delivery.reads_newest_of(id).filter(|_| nothing);
        let there = channel.zip(self.memory.as_ref());
        there.is_some_and(|(channel, memory)| !matches!(memory.store.posted_in(channel), Ok(false)))
    }

    /// Which of the messages read back from a channel are no longer looked for: those of rows that are settled, and those from
    /// before the file was put back, which its rows know nothing of. Nothing where that is not known.
    pub(super) fn known(&self, outcome: &Outcome) -> Option<BTreeSet<u64>> {
        let Outcome::Listed(past) = outcome else {
            return Some(BTreeSet::new());
        };
        let Some(oldest) = past.iter().map(|one| one.id).min() else {
            return Some(BTreeSet::new());
        };
        let memory = self.memory.as_ref()?;
        let mut known = match memory.store.sent_since(oldest) {
            Ok(known) => known,
            Err(fault) => {
                tracing::error!(guild = self.guild.0, %fault, "the outbox could not be read");
                return None;
            }
        };
        let unwritten = self.unwritten.values().chain(&self.fresh);
        known.extend(unwritten.filter_map(|settled| match settled {
            Settled::Sent { message, .. } => *message,
            Settled::Again { .. } | Settled::Overtaken { .. } | Settled::Dead { .. } => None,
        }));
        if let Some(restored) = &self.restored {
            let before = |one: &&Past| restored.made_before(one.id);
            known.extend(past.iter().filter(before).map(|one| one.id));
        }
        Some(known)
    }

    pub(super) fn settled(&mut self, settled: Option<Settled>) {
        self.outbox_dirty = true;
        let Some(settled) = settled else {
            return;
        };
        match &settled {
            Settled::Sent { call: true, .. } => self.unheard = 0,
            Settled::Sent { call: false, .. } | Settled::Again { .. } => {}
            Settled::Overtaken { id } => {
                tracing::debug!(
                    guild = self.guild.0,
                    row = id,
                    "a newer call took its place"
                );
            }
            Settled::Dead {
                id,
                why,
                loud,
                call,
            } => {
                if *loud {
                    tracing::error!(
                        guild = self.guild.0,
                        row = id,
                        why,
                        "a message will never be sent"
                    );
                } else {
                    tracing::warn!(guild = self.guild.0, row = id, why, "an edit came too late");
                }
                self.unheard += usize::from(call.as_ref().is_some_and(|row| is_call(row)));
            }
        }
        self.fresh.push(settled);
    }

    pub(super) fn write_settled(&mut self, now: Moment) {
        let mut waits = std::mem::take(&mut self.fresh);
        let rests = self.unwritten_at > now.mono;
        if !rests {
            waits.extend(std::mem::take(&mut self.unwritten).into_values());
        }
        for settled in waits {
            if rests || self.shut || !self.noted(&settled, now) {
                self.keep_unwritten(settled, now);
            } else {
                // What waited for it may go.
                self.outbox_dirty = true;
            }
        }
    }

    /// What the file did not take is taken there later, and until then nothing of it is sent again.
    fn keep_unwritten(&mut self, settled: Settled, now: Moment) {
        if self.unwritten_at <= now.mono {
            self.unwritten_at = now.mono + REOPEN_AFTER;
        }
        match settled {
            // On disk it is on its way still: it is taken over from there, and goes when its time has come.
            Settled::Again { .. } => self.adopts = true,
            Settled::Sent { id, .. } | Settled::Overtaken { id } | Settled::Dead { id, .. } => {
                self.unwritten.insert(id, settled);
            }
        }
    }

    /// Whether it is in the file, what became of a message, and, of a call or a list that its channel does not take, that others are told.
    fn noted(&mut self, settled: &Settled, now: Moment) -> bool {
        if let Settled::Dead {
            call: Some(row), ..
        } = settled
            && !self.told_elsewhere(row, now)
        {
            return false;
        }
        let Some(memory) = &mut self.memory else {
            return false;
        };
        let store = &mut memory.store;
        let written = match settled {
            Settled::Sent { id, message, .. } => store.sent(*id, *message),
            Settled::Again { id, unsure } => store
                .again(*id, now.wall, *unsure)
                .map(|looked_for| self.adopts |= looked_for),
            Settled::Overtaken { id } => store.dead(*id, "overtaken"),
            Settled::Dead { id, why, .. } => store.dead(*id, why),
        };
        let Err(fault) = written else {
            return true;
        };
        tracing::error!(guild = self.guild.0, %fault, "a message's fate could not be noted");
        // The file has it as settled already: nothing is left to be noted.
        if matches!(fault, StoreError::Misuse(_)) {
            return true;
        }
        self.shut = true;
        if fault.needs_reopening() {
            self.let_go(now);
        }
        false
    }

    /// A call or a list that its channel does not take is told in another one, once. Whether that is on disk, or nothing was to be said.
    fn told_elsewhere(&mut self, row: &OutRow, now: Moment) -> bool {
        let Some(memory) = &self.memory else {
            return false;
        };
        let decided = commands::undelivered(&memory.state, &row.key, row.channel, now.facility);
        self.say_itself(decided, now, &mut Vec::new())
    }

    /// Marks what went on its way while the file did not take it: before anything new takes its place there.
    pub(super) fn mark_what_goes(&mut self, now: Moment) {
        // What is settled and not noted yet counts as on its way there.
        let fresh: BTreeSet<i64> = self.fresh.iter().map(Settled::id).collect();
        let goes = |id: &i64| {
            self.delivery.holds(*id) || self.unwritten.contains_key(id) || fresh.contains(id)
        };
        self.unmarked.retain(goes);
        let Some(memory) = &mut self.memory else {
            return;
        };
        let mut fails = false;
        self.unmarked.retain(|id| {
            if fails {
                return true;
            }
            match memory.store.sending(&[*id], now.wall) {
                // One that the file has as settled, or no more, needs no mark.
                Ok(()) | Err(StoreError::Misuse(_)) => false,
                Err(fault) => {
                    tracing::error!(guild = self.guild.0, %fault, "a message could not be marked");
                    fails = true;
                    true
                }
            }
        });
    }

    /// Takes from the file what may go now, and tells which of its rows cannot be read.
    pub(super) fn pick(&mut self, now: Moment) -> Vec<OutRow> {
        let mut spoilt = Vec::new();
        let shut = self.shut;
        let mut unread = false;
        if let Some(memory) = &mut self.memory {
            self.outbox_dirty = false;
            let mut readable = |rows: Vec<OutRow>| {
                let unsettled = rows.into_iter();
                let unsettled = unsettled.filter(|row| !self.unwritten.contains_key(&row.id));
                let (bad, good): (Vec<_>, Vec<_>) = unsettled.partition(|row| row.spoilt);
                spoilt.extend(bad);
                good
            };
            if self.adopts {
                match memory.store.unsettled() {
                    Ok(rows) => {
                        self.delivery.found_sending(readable(rows), now);
                        self.adopts = false;
                    }
                    Err(fault) => {
                        tracing::error!(guild = self.guild.0, %fault, "the outbox could not be read");
                        unread = true;
                    }
                }
            }
            match memory.store.ready(DateTime::<Utc>::MAX_UTC, ROWS_MAX) {
                Ok(rows) => {
                    let picked = self.delivery.pick(readable(rows), now);
                    // It goes out all the same: at worst it goes again under its own nonce.
                    self.unmarked.extend(&picked);
                    if !picked.is_empty() && !shut {
                        match memory.store.sending(&picked, now.wall) {
                            Ok(()) => self.unmarked.retain(|id| !picked.contains(id)),
                            Err(fault) => {
                                tracing::error!(guild = self.guild.0, %fault, "a message could not be marked");
                                self.shut = true;
                            }
                        }
                    }
                }
                Err(fault) => {
                    tracing::error!(guild = self.guild.0, %fault, "the outbox could not be read");
                    unread = true;
                }
            }
        }
        if unread {
            self.outbox_dirty = true;
            self.unwritten_at = now.mono + REOPEN_AFTER;
        }
        spoilt
    }

    /// A row that cannot be read is given up as one that the chat refuses, so that others are told of a call instead.
    pub(super) fn give_up(&mut self, row: OutRow) {
        let id = row.id;
        let new = matches!(row.kind, PostKind::New);
        let settled = if row.overtaken {
            Settled::Overtaken { id }
        } else {
            Settled::Dead {
                id,
                why: UNREADABLE.to_owned(),
                loud: true,
                call: new.then(|| Box::new(row)),
            }
        };
        self.settled(Some(settled));
    }
}
