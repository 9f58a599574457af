//! What its channel does not take, for good: who is told instead. Decides which posts are worth a word, where it goes and
//! what it says; leaves to the desk when a post counts as refused. Each refused post is told, and once: a ladder's calls are
//! refused at the ladder's own minutes, and in a channel that is gone each of these words may be the only call that
//! somebody reads.

use chrono::{DateTime, Utc};

use super::asking;
use super::ladder::{TOP, buttons};
use crate::decide::{
    Draft, alarm_card_key, alarm_nobody, in_post, minutes_open, span, whom_to_phone,
};
use crate::decision::{Decision, Lane};
use crate::ids::{AlarmNo, Channel};
use crate::message::Message;
use crate::role::Role;
use crate::said::Source;
use crate::say;
use crate::state::{Alarm, Facility, State};

/// How the keys begin of posts that call somebody.
const CALLS: [&str; 15] = [
    "alarm:",
    "rung:",
    "again:",
    "worse:",
    "unchecked:",
    "pulled:",
    "low:",
    "recheck:",
    "call:",
    "gap:",
    "outage:",
    "roll:",
    "recall:",
    "claim:",
    "rounds:",
];
/// How the keys begin of what is read when a shift begins or ends.
const LISTS: [&str; 2] = ["slot:", "handover:"];

/// How the key begins of the word about one of those; behind it stand its channel and its own key.
const WORD: &str = "undelivered:";

/// The word about a post that its channel does not take, `key` being the key of the post: for the supervisors, or for
/// everybody where the supervisors' channel is the one that fails. Where the supervisors' channel does not take the word
/// everybody reads it. `None` for what nobody waits for, and for a word that nobody else is left to read.
pub(super) fn undelivered(
    state: &State,
    facility: &Facility,
    key: &str,
    channel: Channel,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    // A word that was refused itself is about the post that it was about.
    let word = key.strip_prefix(WORD).and_then(|rest| rest.split_once(':'));
    let (first, key) = match word {
        Some((first, key)) => (Channel(first.parse().ok()?), key),
        None => (channel, key),
    };
    let begins = |with: &[&str]| with.iter().any(|kind| key.starts_with(kind));
    let list = begins(&LISTS);
    if !list && !begins(&CALLS) {
        return None;
    }
    let to = if channel == facility.supervisor_channel {
        facility.care_channel
    } else {
        facility.supervisor_channel
    };
    if to == first || to == channel {
        return None;
    }
    let silent = if first == channel {
        format!("<#{channel}>")
    } else {
        format!("<#{first}>, <#{channel}>")
    };
    let (asks, lane) = if list {
        let asks = asking::routine(state, None, &[Role::Supervisor], now);
        (asks, Lane::Reminder)
    } else {
        // Those on duty may be in the channel that is gone.
        let asks = asking::everybody(state, None, &[Role::Supervisor], now);
        (asks, Lane::Escalation)
    };
    let message = asks.on(facility, message(state, key, list, &silent, now));
    // By the whole key: the next rung of the same alarm is another call that nobody got.
    let mut draft = Draft::for_clock(state, now);
    draft.post(format!("{WORD}{channel}:{key}"), to, lane, message);
    let source = Source(format!("undelivered{channel}.{key}"));
    Some((source, draft.decision))
}

/// `silent` are the channels that did not take it.
fn message(state: &State, key: &str, list: bool, silent: &str, now: DateTime<Utc>) -> Message {
    let lang = state.lang();
    if list {
        return Message::text(say!(lang, "post-undelivered-list", channel = silent));
    }
    if let Some((no, alarm)) = alarm_of(state, key) {
        let nobody = alarm_nobody::is_under(state, &alarm.tag);
        let words = if nobody {
            "post-undelivered-spare"
        } else {
            "post-undelivered-alarm"
        };
        let mut text = say!(
            lang,
            words,
            surface = in_post(state, lang, &alarm.tag),
            span = span(lang, minutes_open(alarm, now)),
            channel = silent
        );
        if alarm.rung >= TOP && !nobody {
            text = format!("{text}\n{}", whom_to_phone(state, lang));
        }
        return Message::text(text).buttons(buttons(state, no, alarm));
    }
    let recheck = key.strip_prefix("recheck:");
    let tag = recheck.and_then(|rest| rest.split(':').next());
    if let Some((tag, _)) = tag.and_then(|tag| state.surfaces.get_key_value(tag)) {
        let surface = in_post(state, lang, tag);
        return Message::text(say!(
            lang,
            "post-undelivered-recheck",
            surface = surface,
            channel = silent
        ));
    }
    Message::text(say!(lang, "post-undelivered", channel = silent))
}

/// The alarm that a post calls about, where it is open and nobody is on the way.
fn alarm_of<'a>(state: &'a State, key: &str) -> Option<(AlarmNo, &'a Alarm)> {
    let waiting = state
        .alarms
        .iter()
        .filter(|(_, alarm)| alarm.taken.is_none());
    waiting
        .map(|(no, alarm)| (*no, alarm))
        .find(|(no, alarm)| *key == alarm_card_key(*no) || alarm.calls.iter().any(|of| of == key))
}
