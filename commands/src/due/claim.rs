//! Units that nobody has after a shift began. Decides when that is looked at, what counts as having a unit, and that the
//! supervisors are told once a shift; leaves taking a duty to `decide::duty`. Only in homes where somebody said within a
//! week that they are on duty: the others are not told what they never asked for.

use chrono::{DateTime, TimeDelta, Utc};

use super::asking;
use super::slots::clock_mark;
use crate::decide::{Draft, clock_time, have_button};
use crate::decision::{Decision, Lane};
use crate::ids::Unit;
use crate::message::{BUTTONS_MAX, Message};
use crate::record::{Body, On};
use crate::role::Role;
use crate::rules::policy::Name;
use crate::said::Source;
use crate::say;
use crate::state::{Facility, REMEMBERED, State};
use crate::words::Lang;

/// When the next shift's duties are looked at.
pub(super) fn next(state: &State) -> Option<DateTime<Utc>> {
    if state.policies.get(Name::DutyWatched) == 0 {
        return None;
    }
    let (looked, used) = (state.duty.looked?, state.duty.used?);
    let at = super::next_shift(state, looked) + within(state);
    (at - used < REMEMBERED).then_some(at)
}

fn within(state: &State) -> TimeDelta {
    TimeDelta::minutes(state.policies.get(Name::ClaimWithin))
}

/// Whether somebody has a unit: an aide or a nurse who has it or the whole house, or a supervisor who named it.
fn claimed(state: &State, unit: &Unit, now: DateTime<Utc>) -> bool {
    state
        .duty
        .now(Some(unit), now)
        .iter()
        .any(|duty| match duty.role {
            Role::Aide | Role::Nurse => true,
            Role::Supervisor => duty.unit.is_some(),
            Role::Upkeep | Role::Admin | Role::Clock => false,
        })
}

/// The units with a surface under a bed that nobody has.
pub(crate) fn unclaimed(state: &State, now: DateTime<Utc>) -> Vec<Unit> {
    let lies_there = |unit: &Unit| {
        state
            .under
            .keys()
            .any(|bed| state.bed_units.get(bed) == Some(unit))
    };
    state
        .units
        .keys()
        .filter(|unit| lies_there(unit) && !claimed(state, unit, now))
        .cloned()
        .collect()
}

/// The duties of the shift are looked at.
pub(super) fn look(
    state: &State,
    facility: &Facility,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let mut shift = super::shift_start(state, now);
    let early = now - shift < within(state);
    if early {
        // One that was missed while loftwatch was away is past; the present one is looked at in its time.
        shift = super::shift_start(state, shift - TimeDelta::seconds(1));
    }
    let unclaimed = if early {
        Vec::new()
    } else {
        unclaimed(state, now)
    };
    let mut draft = Draft::for_clock(state, now);
    draft.fact(Body::ClaimsLooked {
        shift,
        unclaimed: unclaimed.clone(),
    });
    if !unclaimed.is_empty() {
        let asks = asking::safety(state, None, &[Role::Supervisor], now);
        for unit in &unclaimed {
            draft.tell(On::Unit(unit.clone()), &asks);
        }
        let message = message(state, state.lang(), shift, &unclaimed, now);
        draft.post(
            key(state, shift),
            facility.supervisor_channel,
            Lane::Reminder,
            asks.on(facility, message),
        );
    }
    let source = format!("claims{}", shift.timestamp());
    let source = Source(source + &clock_mark(state.set_back));
    Some((source, draft.decision))
}

/// The key of the word about a shift's units.
pub(crate) fn key(state: &State, shift: DateTime<Utc>) -> String {
    format!("claim:{}", shift.timestamp()) + &clock_mark(state.set_back)
}

/// Which units nobody has, with a button for each.
pub(crate) fn message(
    state: &State,
    lang: Lang,
    shift: DateTime<Utc>,
    unclaimed: &[Unit],
    now: DateTime<Utc>,
) -> Message {
    let names: Vec<&str> = unclaimed.iter().map(Unit::as_str).collect();
    if names.is_empty() {
        return Message::text(say!(lang, "claim-all-taken", since = clock_time(shift)));
    }
    let text = say!(
        lang,
        "post-unclaimed",
        units = names.join(", "),
        count = names.len() as i64,
        since = clock_time(shift)
    );
    let end = super::next_shift(state, now);
    let buttons = unclaimed
        .iter()
        .take(BUTTONS_MAX)
        .map(|unit| have_button(state, lang, Some(unit), end))
        .collect();
    Message::text(text).buttons(buttons)
}
