//! That a home's file takes nothing: who is told, and when it works again. Nothing of it can be a fact, so it is no decision; when it
//! is said, and that the file is full, is whoever writes it to decide.

use std::collections::BTreeSet;

use chrono::DateTime;

use super::asking;
use crate::decide::unit_channel;
use crate::ids::Channel;
use crate::message::Message;
use crate::role::Role;
use crate::say;
use crate::state::{Facility, State};

/// While nothing can be saved nobody is called: for each channel whose people go on without it, what they read.
pub fn unsaved(state: &State) -> Vec<(Channel, Message)> {
    let lang = state.lang();
    with_open(state, say!(lang, "unsaved"))
}

/// What people read where entries are taken and nobody is called.
pub fn uncalled(state: &State) -> Vec<(Channel, Message)> {
    with_open(state, say!(state.lang(), "uncalled"))
}

/// What they read once what is due is done again.
pub fn called_again(state: &State) -> Vec<(Channel, Message)> {
    told(state, &say!(state.lang(), "uncalled-over"))
}

/// With the alarms that are open: nobody is called for them.
fn with_open(state: &State, text: String) -> Vec<(Channel, Message)> {
    let lang = state.lang();
    let mut lines = vec![text];
    let open: Vec<&str> = state
        .alarms
        .values()
        .map(|alarm| alarm.tag.as_str())
        .collect();
    if !open.is_empty() {
        lines.push(say!(lang, "unsaved-open", tags = open.join(", ")));
    }
    told(state, &lines.join("\n"))
}

/// What they read once it can be saved again.
pub fn saved_again(state: &State) -> Vec<(Channel, Message)> {
    told(state, &say!(state.lang(), "unsaved-over"))
}

/// Every channel in which somebody may be waited for: the units' and the supervisors'.
fn told(state: &State, text: &str) -> Vec<(Channel, Message)> {
    let Some(facility) = &state.facility else {
        return Vec::new();
    };
    let care = if state.units.is_empty() {
        BTreeSet::from([facility.care_channel])
    } else {
        let units = state.units.keys();
        units
            .map(|unit| unit_channel(state, facility, Some(unit)))
            .collect()
    };
    let mut all: Vec<(Channel, Message)> = care
        .into_iter()
        .filter(|channel| *channel != facility.supervisor_channel)
        .map(|channel| {
            let roles = [Role::Aide, Role::Nurse];
            (channel, asks(state, facility, &roles, text))
        })
        .collect();
    let supervisors = asks(state, facility, &[Role::Supervisor], text);
    all.push((facility.supervisor_channel, supervisors));
    all
}

fn asks(state: &State, facility: &Facility, roles: &[Role], text: &str) -> Message {
    // All of them: who is on duty may have changed, and could not be saved.
    let asked = asking::everybody(state, None, roles, DateTime::UNIX_EPOCH);
    asked.on(facility, Message::text(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_home_that_is_not_set_up_has_nobody_to_tell() {
        assert_eq!(unsaved(&State::default()), []);
    }
}
