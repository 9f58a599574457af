//! Checks that were booked out of turn: somebody is asked when one's time has come, and once more, higher
//! up, when it still has not been made. After that it stands on every due list and handover, and a low reading comes back
//! with every shift until somebody looks again.

use chrono::{DateTime, TimeDelta, Utc};

use super::asking;
use crate::decide::{Draft, air_card, alarm_channel, day_time, in_post};
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
    state
        .rechecks
        .iter()
        // While an alarm is open its card does the asking.
        .filter(|(tag, recheck)| {
            (!asked_enough(state, recheck) || was_low(state, tag, recheck))
                && state
                    .surfaces
                    .get(*tag)
                    .is_some_and(|surface| surface.alarm.is_none() && surface.cpr.is_none())
        })
        .map(|(tag, recheck)| (asks_at(state, tag, recheck), tag))
        .min()
}

/// As often as the home wants it, one time soon after the other.
fn asked_enough(state: &State, recheck: &Recheck) -> bool {
    i64::from(recheck.asked) >= state.policies.get(Name::AskTimes)
}

/// A low reading, or one that could not be looked at again since: nobody may forget it, so that it comes back every shift.
fn was_low(state: &State, tag: &Tag, recheck: &Recheck) -> bool {
    match recheck.after {
        Judgement::Low | Judgement::BottomedOut => true,
        Judgement::CouldNot => state.surfaces.get(tag).is_some_and(|surface| {
            surface
                .checks_here()
                .find(|check| check.judged != Judgement::CouldNot)
                .is_some_and(|check| {
                    matches!(check.judged, Judgement::Low | Judgement::BottomedOut)
                })
        }),
        Judgement::Adequate | Judgement::High => false,
    }
}

/// Nobody is asked to check an empty bed. At the end of a leave it is asked first whether anybody is back.
fn asks_at(state: &State, tag: &Tag, recheck: &Recheck) -> DateTime<Utc> {
    let at = match recheck.asked_at {
        None => recheck.due,
        Some(asked) if asked_enough(state, recheck) => super::next_shift(state, asked),
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
    let step = recheck.asked.saturating_add(1);
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
        Judgement::Low | Judgement::BottomedOut if asked_enough(state, recheck) => {
            "post-recheck-shift"
        }
        Judgement::Adequate | Judgement::Low | Judgement::BottomedOut | Judgement::High => {
            "post-recheck"
        }
    };
    let roles: &[Role] = if step == 1 {
        &[Role::Aide]
    } else {
        &[Role::Aide, Role::Nurse]
    };
    let message = air_card(
        state,
        lang,
        tag,
        now,
        say!(lang, key, surface = surface, at = day_time(recheck.due)),
    );
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
