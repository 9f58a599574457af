//! Checks that were booked out of turn: somebody is asked when one's time has come, and once more, higher
//! up, when it still has not been made. After that it stands on every due list and handover.

use chrono::{DateTime, TimeDelta, Utc};

use super::asking;
use crate::decide::{Draft, air_card, alarm_channel, in_post};
use crate::decision::{Decision, Lane};
use crate::ids::Tag;
use crate::record::{Body, On};
use crate::role::Role;
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;
use crate::said::Source;
use crate::say;
use crate::state::{Facility, Recheck, State};

/// The next booked check that somebody must be asked for.
pub(super) fn next(state: &State) -> Option<(DateTime<Utc>, &Tag)> {
    let times = state.policies.get(Name::AskTimes);
    state
        .rechecks
        .iter()
        // While an alarm is open its card does the asking.
        .filter(|(tag, recheck)| {
            i64::from(recheck.asked) < times
                && state
                    .surfaces
                    .get(*tag)
                    .is_some_and(|surface| surface.alarm.is_none() && surface.cpr.is_none())
        })
        .map(|(tag, recheck)| (asks_at(state, tag, recheck), tag))
        .min()
}

/// Nobody is asked to check an empty bed. At the end of a leave it is asked first whether anybody is back.
fn asks_at(state: &State, tag: &Tag, recheck: &Recheck) -> DateTime<Utc> {
    let at = match recheck.asked_at {
        None => recheck.due,
        Some(asked) => asked + TimeDelta::minutes(state.policies.get(Name::Recheck)),
    };
    let leave = state.surfaces.get(tag).and_then(|surface| surface.leave);
    let wait = TimeDelta::minutes(state.policies.get(Name::Recheck));
    leave.map_or(at, |leave| at.max(leave.until + wait))
}

/// Somebody is asked.
pub(super) fn ask(
    state: &State,
    facility: &Facility,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let recheck = state.rechecks.get(tag)?;
    let step = recheck.asked + 1;
    let mark = recheck.no;
    let mut draft = Draft::for_clock(state, now);
    draft.fact(Body::RecheckAsked {
        tag: tag.clone(),
        step,
    });
    let lang = state.lang();
    let surface = in_post(state, lang, tag);
    let key = match recheck.after {
        Judgement::CouldNot => "post-try-again",
        Judgement::Adequate | Judgement::Low | Judgement::BottomedOut | Judgement::High => {
            "post-recheck"
        }
    };
    let roles: &[Role] = if step == 1 {
        &[Role::Aide]
    } else {
        &[Role::Aide, Role::Nurse]
    };
    let message = air_card(state, lang, tag, now, say!(lang, key, surface = surface));
    let asks = asking::safety(state, state.unit_of(tag), roles, now);
    let post = (
        format!("recheck:{tag}:{mark}:{step}"),
        alarm_channel(state, facility, tag),
        Lane::Reminder,
    );
    draft.ask(facility, On::Surface(tag.clone()), &asks, post, message);
    Some((
        Source(format!("recheck{tag}.{mark}.{step}")),
        draft.decision,
    ))
}
