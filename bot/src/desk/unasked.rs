//! What a desk says unasked: that the program was away, that the file was put back, that the clock was stepped, that a chat role
//! is gone or everybody's. Decides when each is said, and that it is said once; the words and who reads them are `commands`'.

use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::ChatRole;
use commands::{Decision, Source};

use super::{Desk, Output};
use crate::clock::Moment;

/// A clock that goes forward by less is not worth a record.
const SET_ON: TimeDelta = TimeDelta::minutes(1);

impl Desk {
    /// Tells the facility from when to when the program was away.
    pub(super) fn say_if_away(&mut self, now: Moment, out: &mut Vec<Output>) {
        if self.memory.is_none() || self.tick_rests_until > now.mono {
            return;
        }
        if let Some(ends) = self.put_back {
            self.say_put_back(ends, now, out);
            return;
        }
        let Some(from) = self.away_since.take().filter(|from| *from < now.facility) else {
            return;
        };
        let Some(memory) = &self.memory else {
            return;
        };
        let decided = commands::returned(&memory.state, from, now.facility);
        if !self.say_itself(decided, now, out) {
            self.away_since = Some(from);
            self.rest(now);
        }
    }

    /// Tells the facility that its file is a backup that ends then: what was entered since is to be entered again. That it was away
    /// goes without saying.
    fn say_put_back(&mut self, ends: DateTime<Utc>, now: Moment, out: &mut Vec<Output>) {
        let Some(memory) = &self.memory else {
            return;
        };
        tracing::warn!(guild = self.guild.0, since = %ends, "the file was restored from a backup");
        let decided = commands::put_back(&memory.state, ends, now.facility);
        if !self.say_itself(decided, now, out) {
            self.rest(now);
            return;
        }
        (self.put_back, self.away_since) = (None, None);
        if let Some(memory) = &mut self.memory
            && let Err(fault) = memory.store.told_of_put_back()
        {
            tracing::warn!(guild = self.guild.0, %fault, "that a restore was told could not be noted");
        }
    }

    /// Tells the facility that the clock was stepped, before anything is counted by it.
    pub(super) fn say_if_stepped(&mut self, now: Moment, out: &mut Vec<Output>) {
        let step = now.stepped - self.stepped;
        if step.is_zero() || self.tick_rests_until > now.mono {
            return;
        }
        let Some(memory) = &self.memory else {
            return;
        };
        let tells = step < TimeDelta::zero() || step >= SET_ON;
        let decided = tells
            .then(|| commands::clock_stepped(&memory.state, step, now.facility))
            .flatten();
        if self.say_itself(decided, now, out) {
            self.stepped = now.stepped;
            // What it was by the clock of before would look, after a power cut, like a clock that was set back once more.
            self.alive_at = None;
            self.note_alive(now);
        } else {
            self.rest(now);
        }
    }

    /// Chat roles that the home goes by and that the chat has no more.
    pub(super) fn deleted(&self) -> Vec<ChatRole> {
        let facility = self.state().and_then(|state| state.facility.as_ref());
        let (Some(facility), Some(roles)) = (facility, &self.roles) else {
            return Vec::new();
        };
        let of_home = facility.roles.values().copied();
        of_home.filter(|role| !roles.contains(role)).collect()
    }

    /// Tells the facility, once for each, of a chat role that nobody can hold any more, or is known to hold.
    pub(super) fn say_deleted(&mut self, now: Moment, out: &mut Vec<Output>) {
        if !self.says_deleted || self.tick_rests_until > now.mono {
            return;
        }
        // The chat's own role of everybody has the number of the guild.
        let everybody = ChatRole(self.guild.0);
        for role in self.deleted().into_iter().chain([everybody]) {
            let Some(memory) = &self.memory else {
                return;
            };
            let state = &memory.state;
            let decided = if role == everybody {
                commands::role_everybody(state, role, now.facility)
            } else {
                commands::role_deleted(state, role, now.facility)
            };
            if !self.say_itself(decided, now, out) {
                self.rest(now);
                return;
            }
        }
        self.says_deleted = self.memory.is_none();
    }

    /// What the desk says unasked, once. Returns whether it is on disk, or nothing was to be said.
    pub(super) fn say_itself(
        &mut self,
        decided: Option<(Source, Decision)>,
        now: Moment,
        out: &mut Vec<Output>,
    ) -> bool {
        let (Some((source, decision)), Some(memory)) = (decided, &mut self.memory) else {
            return true;
        };
        match memory.store.seen(&source) {
            Ok(None) => {}
            Ok(Some(_)) => return true,
            Err(fault) => {
                tracing::error!(guild = self.guild.0, %fault, "the log could not be read");
                return false;
            }
        }
        match memory.apply(source, None, decision, now) {
            Ok(cause) => self.commit(vec![cause], now, out),
            Err(_spoilt) => {
                self.rebuild(now);
                false
            }
        }
    }
}
