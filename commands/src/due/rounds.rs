//! Rounds that were not made. Decides when a shift's are looked at, when a unit's counts as not made, and that the
//! supervisors are told once a shift, in one post, of beds and of nobody: those on duty by a call, else without a sound.
//! Leaves single checks to the due lists and the handover, and what was low to its own calls.

use chrono::{DateTime, TimeDelta, Utc};

use super::asking;
use super::handover::short_names;
use super::list::{DueItem, DueKind, list};
use super::slots::clock_mark;
use crate::decide::{Draft, clock_time, start_round};
use crate::decision::{Decision, Lane};
use crate::ids::Unit;
use crate::message::{BUTTONS_MAX, Message};
use crate::record::{Body, On};
use crate::role::Role;
use crate::rules::policy::Name;
use crate::said::Source;
use crate::say;
use crate::state::{Facility, Life, State};

/// However late a home wants to be told, so long before the shift ends there is still time to make the checks.
const BEFORE_END: TimeDelta = TimeDelta::minutes(60);
/// Names, or runs of them, that a unit's line shows.
const NAMED: usize = 20;

/// A unit whose round was not made: its checks, and how many were made.
struct Missed {
    unit: Unit,
    left: Vec<DueItem>,
    made: usize,
}

/// When the next shift's rounds are looked at; never, where the home wants no word of it or nobody lies anywhere.
pub(super) fn next(state: &State) -> Option<DateTime<Utc>> {
    if state.policies.get(Name::RoundWithin) == 0 || state.under.is_empty() {
        return None;
    }
    let shift = super::next_shift(state, state.duty.rounds?);
    Some(shift + within(state, shift))
}

fn within(state: &State, shift: DateTime<Utc>) -> TimeDelta {
    let latest = super::next_shift(state, shift) - shift - BEFORE_END;
    TimeDelta::minutes(state.policies.get(Name::RoundWithin)).min(latest.max(TimeDelta::zero()))
}

/// The units of which no more checks were made than are left. A bed that somebody said is empty wants none; a low reading
/// and a check that could not be made have their own calls; without power, and with an alarm, others look already.
fn missed(state: &State, shift: DateTime<Utc>, now: DateTime<Utc>) -> Vec<Missed> {
    let mut missed = Vec::new();
    for unit in state.units.keys() {
        if state.outage_of(unit).is_some() {
            continue;
        }
        let left: Vec<DueItem> = list(state, Some(unit), now)
            .into_iter()
            .filter(|item| item.kind == DueKind::Check && item.since <= shift)
            .filter(|item| {
                let away = |surface: &crate::state::Surface| surface.leave.is_some();
                !state.surfaces.get(&item.tag).is_some_and(away)
            })
            .collect();
        let made = state.surfaces.iter().filter(|(tag, surface)| {
            matches!(surface.life, Life::Placed { .. })
                && state.unit_of(tag) == Some(unit)
                && surface.check_here().is_some_and(|check| check.at >= shift)
        });
        let made = made.count();
        if !left.is_empty() && left.len() >= made {
            missed.push(Missed {
                unit: unit.clone(),
                left,
                made,
            });
        }
    }
    missed
}

/// The rounds of the shift are looked at.
pub(super) fn look(
    state: &State,
    facility: &Facility,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let mut shift = super::shift_start(state, now);
    let mut found = Vec::new();
    if now - shift < within(state, shift) {
        // One that was missed while loftwatch was away is past; the present one is looked at in its time.
        shift = super::shift_start(state, shift - TimeDelta::seconds(1));
    } else {
        found = missed(state, shift, now);
    }
    let name = format!("{}{}", shift.timestamp(), clock_mark(state.set_back));
    let mut draft = Draft::for_clock(state, now);
    draft.fact(Body::RoundsLooked {
        shift,
        missed: found.iter().map(|of| of.unit.clone()).collect(),
    });
    if !found.is_empty() {
        let asks = asking::routine(state, None, &[Role::Supervisor], now);
        for of in &found {
            draft.tell(On::Unit(of.unit.clone()), &asks);
        }
        draft.post(
            format!("rounds:{name}"),
            facility.supervisor_channel,
            Lane::Reminder,
            asks.on(facility, message(state, shift, &found)),
        );
    }
    Some((Source(format!("rounds{name}")), draft.decision))
}

fn message(state: &State, shift: DateTime<Utc>, found: &[Missed]) -> Message {
    let lang = state.lang();
    let mut lines = vec![say!(lang, "rounds-head", since = clock_time(shift))];
    for of in found {
        let left: Vec<&DueItem> = of.left.iter().collect();
        lines.push(say!(
            lang,
            "rounds-line",
            unit = of.unit.as_str(),
            left = left.len() as i64,
            all = (left.len() + of.made) as i64,
            tags = short_names(state, lang, &left, NAMED)
        ));
    }
    lines.push(say!(lang, "rounds-foot"));
    let mut text = lines.join("\n");
    super::truncate(&mut text);
    let rounds = found.iter().take(BUTTONS_MAX);
    let buttons = rounds.map(|of| start_round(lang, &of.unit)).collect();
    Message::text(text).buttons(buttons)
}
