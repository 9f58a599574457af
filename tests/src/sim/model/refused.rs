//! A channel may let nobody of ours in for hours: its rights were changed. Decides that a call which it refuses is not lost in silence:
//! the supervisors read that nobody there was called, in time, or everybody where theirs is shut, too.

use std::collections::{BTreeMap, BTreeSet};
use std::time::Duration;

use bot::request::{Request, Route};

use super::posts::UNDELIVERED;
use super::{Call, Model, Row};
use crate::talk::chat::{self, Posted};

/// A message that its channel did not let in.
#[derive(Debug)]
pub(super) struct Refused {
    channel: u64,
    nonce: String,
    /// The call that it was.
    pub call: Option<Call>,
}

impl Model {
    /// A channel lets nobody of ours in from then to `until`.
    pub fn shut(&mut self, channel: u64, at: Duration, until: Duration) {
        self.shut.push((channel, at, until));
    }

    /// Whether a channel did so at any time between two moments.
    pub(super) fn is_shut(&self, channel: u64, from: Duration, to: Duration) -> bool {
        let near =
            |(one, a, b): &(u64, Duration, Duration)| *one == channel && *a <= to && *b >= from;
        self.shut.iter().any(near)
    }

    /// A channel did not let this in.
    pub fn refused(&mut self, request: &Request, channel: u64, at: Duration) {
        if !matches!(request.route, Route::Post { .. }) {
            return;
        }
        let (json, files) = chat::read(&request.body);
        let nonce = json["nonce"].as_str().unwrap_or_default().to_owned();
        // Where the answer was lost it is tried again.
        let known = |one: &Refused| one.channel == channel && one.nonce == nonce;
        if self.refused.iter().any(known) {
            return;
        }
        let look = chat::look(&json, files);
        let called = chat::called(&json, &look.text);
        let call = Call::of(&look, &called, channel, at);
        self.refused.push(Refused {
            channel,
            nonce,
            call,
        });
    }

    /// Tried again after an answer that was lost, it was let in.
    pub(super) fn let_in_after_all(&mut self, new: &Posted) {
        let is =
            |one: &Refused| one.channel == new.channel && new.nonce.as_ref() == Some(&one.nonce);
        self.refused.retain(|one| !is(one));
    }

    /// Of each alarm whose call was refused somebody else is told, once for a channel.
    pub(super) fn told_elsewhere(
        &self,
        rows: &BTreeMap<u64, Row>,
        now: Duration,
        why: &mut Vec<String>,
    ) {
        let Some(home) = rows.values().rfind(|row| row.kind == "facility-set") else {
            return;
        };
        let at_home = |name: &str| home.body[name].as_u64().unwrap_or_default();
        let (office, care) = (at_home("supervisor_channel"), at_home("care_channel"));
        let mut told = BTreeSet::new();
        for Refused { channel, call, .. } in &self.refused {
            let Some(call) = call else { continue };
            // The word about another's refusal: what becomes of it is asked of that one.
            if call.says.contains(UNDELIVERED) || !told.insert((channel, call.alarm)) {
                continue;
            }
            let last = self.at_last(call.at, call.at, now);
            let shut = |to: u64| to == *channel || self.is_shut(to, call.at, last);
            // One that is shut for a part of that time may have let it in.
            let to = if shut(office) {
                vec![office, care]
            } else {
                vec![office]
            };
            // Where all are shut nobody can be told.
            if last >= now || to.iter().all(|to| shut(*to)) {
                continue;
            }
            let word = format!("{UNDELIVERED}<#{channel}>");
            let said = self.posts.iter().any(|post| {
                let in_time = post.at >= call.at && post.at <= last;
                in_time && to.contains(&post.channel) && post.called && post.text.contains(&word)
            });
            if !said {
                why.push(format!(
                    "alarm {}: its call was refused in {channel}, and nobody read so in {to:?} within {} s",
                    call.alarm,
                    (last - call.at).as_secs()
                ));
            }
        }
    }
}
