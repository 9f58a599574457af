//! Calls that somebody was promised: it should be full, static mode is over, the contact time is over. Decides whom
//! each kind calls, how often, and after how long again; what is to be said and tapped belongs to the part that promised it.

use chrono::{DateTime, TimeDelta, Utc};

use super::asking::{self, Asks};
use crate::choice::Call;
use crate::decide::{self, Draft};
use crate::decision::{Decision, Lane};
use crate::record::{Body, On};
use crate::role::Role;
use crate::rules::policy::Name;
use crate::said::Source;
use crate::state::{Booking, Facility, State};

/// Whom a kind of call asks.
struct Plan {
    /// The first time.
    first: &'static [Role],
    /// Every later time.
    then: &'static [Role],
    /// Minutes until the next time.
    again: i64,
    /// How often at most; what is left stands on due lists and handovers.
    most: u32,
    /// It can wait: it rings only those on duty, and else waits on the shift card.
    routine: bool,
}

/// From one reminder of what stays undone to the next.
pub(crate) fn remind_again(state: &State) -> TimeDelta {
    TimeDelta::hours(state.policies.get(Name::RemindAgain))
}

fn plan(state: &State, call: Call) -> Plan {
    let soon = state.policies.get(Name::Recheck);
    let later = remind_again(state).num_minutes();
    let times = u32::try_from(state.policies.get(Name::AskTimes)).unwrap_or(2);
    let (first, then, again, most): (&[Role], &[Role], i64, u32) = match call {
        Call::Full | Call::Plug | Call::Static | Call::Leave => {
            (&[Role::Aide], &[Role::Aide, Role::Nurse], soon, times)
        }
        Call::Steps => (
            &[Role::Nurse],
            &[Role::Nurse, Role::Supervisor],
            soon * 2,
            times,
        ),
        // One call: whoever is in that room has other things to do. And one more where that was forgotten.
        Call::Cpr => (
            &[Role::Nurse],
            &[Role::Nurse, Role::Supervisor],
            state.policies.get(Name::CprQuiet),
            2,
        ),
        // The first time the person who cleaned is called by name.
        Call::Contact => (&[], &[Role::Upkeep], soon, times),
        Call::Turnover => (
            &[Role::Upkeep],
            &[Role::Upkeep, Role::Supervisor],
            later,
            u32::MAX,
        ),
        Call::Hold => (&[Role::Supervisor], &[Role::Supervisor], later, u32::MAX),
        Call::Idle | Call::Pickup | Call::Recall => {
            (&[Role::Supervisor], &[Role::Supervisor], later, u32::MAX)
        }
        Call::Agree => (&[Role::Supervisor], &[Role::Supervisor], later, u32::MAX),
        // The ladder of the outage calls; this only begins the next roll.
        Call::Roll => (&[], &[], 0, 1),
        Call::Handover => (
            &[Role::Nurse],
            &[Role::Supervisor],
            state.policies.get(Name::AcceptWithin),
            2,
        ),
    };
    let routine = match call {
        Call::Full
        | Call::Plug
        | Call::Steps
        | Call::Static
        | Call::Leave
        | Call::Cpr
        | Call::Contact
        | Call::Agree
        | Call::Roll => false,
        Call::Turnover | Call::Hold | Call::Idle | Call::Pickup | Call::Recall | Call::Handover => {
            true
        }
    };
    Plan {
        routine,
        first,
        then,
        again,
        most,
    }
}

/// The next promised call.
pub(super) fn next(state: &State) -> Option<(DateTime<Utc>, Call, &On)> {
    state
        .calls
        .iter()
        .flat_map(|(call, of)| of.iter().map(move |(on, booking)| (*call, on, booking)))
        .filter(|(call, on, _)| !quiet(state, *call, on))
        .filter_map(|(call, on, booking)| Some((booking.next?, call, on)))
        .min()
}

/// Nobody is called about a surface whose CPR valve is open, but for the one call about that; and nothing fills while
/// its unit has no power.
fn quiet(state: &State, call: Call, on: &On) -> bool {
    match on {
        On::Surface(tag) => {
            let dark = || {
                state
                    .unit_of(tag)
                    .is_some_and(|unit| state.outage_of(unit).is_some())
            };
            (call != Call::Cpr && state.in_emergency(tag)) || (call == Call::Full && dark())
        }
        On::Recall(_) | On::Outage(_) | On::Unit(_) | On::Wish(_) => false,
    }
}

/// Somebody is called.
pub(super) fn ring(
    state: &State,
    facility: &Facility,
    call: Call,
    on: &On,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let booking = state.booking(on, call)?;
    let plan = plan(state, call);
    let step = booking.step.saturating_add(1);
    let again = |step| (step < plan.most).then(|| now + TimeDelta::minutes(plan.again));
    let mut draft = Draft::for_clock(state, now);
    draft.fact(Body::Called {
        on: on.clone(),
        call,
        step,
        again: again(step),
    });
    // Of what one post calls for whoever would be asked about any of it is asked.
    let mut asked = step;
    for (on, booking) in decide::together(state, call, on, now) {
        let step = booking.step.saturating_add(1);
        asked = asked.max(step);
        draft.fact(Body::Called {
            on: on.clone(),
            call,
            step,
            again: again(step),
        });
    }
    if let Some(notice) = decide::notice(state, facility, &mut draft, call, on, now) {
        let post = (key(call, booking, step), notice.channel, Lane::Reminder);
        let asks = asks(state, &plan, call, on, booking, asked, now);
        if call == Call::Handover {
            // The next one need not say that somebody was asked to read this one.
            draft.post(post.0, post.1, post.2, asks.on(facility, notice.message));
        } else {
            draft.ask(facility, on.clone(), &asks, post, notice.message);
        }
    }
    let source = Source(format!("call{}.{}.{step}", call.as_str(), booking.no));
    Some((source, draft.decision))
}

/// Whom this call asks.
fn asks(
    state: &State,
    plan: &Plan,
    call: Call,
    on: &On,
    booking: &Booking,
    step: u32,
    now: DateTime<Utc>,
) -> Asks {
    let unit = match on {
        On::Surface(tag) => state.unit_of(tag),
        On::Unit(unit) => Some(unit),
        On::Recall(_) | On::Outage(_) | On::Wish(_) => None,
    };
    if call == Call::Contact && step == 1 {
        let named = booking
            .by
            .and_then(|who| asking::by_name(state, who, Role::Upkeep, now));
        return named.unwrap_or_else(|| asking::safety(state, unit, plan.then, now));
    }
    let roles = if step == 1 { plan.first } else { plan.then };
    if plan.routine {
        return asking::routine(state, unit, roles, now);
    }
    let mut asks = asking::safety(state, unit, roles, now);
    // Whoever began to fill it waits for it too.
    if call == Call::Full
        && let Some(who) = booking.by
        && let Some(duty) = state
            .duty
            .now(unit, now)
            .iter()
            .find(|duty| duty.who == who)
    {
        asks.called.add(&[], &[(who, duty.role)]);
    }
    asks
}

/// The key of a call's post.
fn key(call: Call, booking: &Booking, step: u32) -> String {
    format!("call:{}:{}:{step}", booking.no, call.as_str())
}

/// The key of the newest post of a promised call, so that whoever settles it can say so there.
pub(crate) fn newest_post(call: Call, booking: &Booking) -> Option<String> {
    (booking.step > 0).then(|| key(call, booking, booking.step))
}
