//! What is due. Decides when work's time has come, what the clock brings about, and when it must be
//! asked again; it goes through the same kind of decision as people do.

pub(crate) mod asking;
pub(crate) mod calls;
pub(crate) mod card;
pub(crate) mod claim;
pub(crate) mod handover;
mod house;
pub(crate) mod ladder;
mod list;
pub(crate) mod outage;
mod recheck;
pub(crate) mod rounds;
mod slots;
mod undelivered;
mod unsaved;
mod weekend;

use chrono::{DateTime, NaiveDateTime, TimeDelta, Timelike, Utc};

pub(crate) use card::{body, for_supervisors, truncate, under_outages, words_key};
pub use handover::{CHARS_MOST, LINES_MOST};
pub use list::{Ahead, DueItem, DueKind, list};
pub use unsaved::{called_again, saved_again, uncalled, unsaved};
pub(crate) use weekend::ready_by_kind;

use crate::decision::Decision;
use crate::ids::{Channel, ChatRole, Tag};
use crate::rules::hand_check::Check;
use crate::rules::policy::Name;
use crate::rules::zone::Zone;
use crate::said::Source;
use crate::state::{Life, State, Surface};

/// The earliest thing that is due at `now`, with the cause it is recorded under; `None` when nothing
/// is. Call again after committing it, until there is nothing left.
pub fn tick(state: &State, now: DateTime<Utc>) -> Option<(Source, Decision)> {
    let facility = state.facility.as_ref()?;
    let ladder = ladder::next(state).filter(|(at, _)| *at <= now);
    let outage = outage::next(state).filter(|(at, _)| *at <= now);
    let recheck = recheck::next(state).filter(|(at, _)| *at <= now);
    let slot = slots::next(state).filter(|(at, _)| *at <= now);
    let call = calls::next(state).filter(|(at, ..)| *at <= now);
    let claim = claim::next(state).filter(|at| *at <= now);
    let rounds = rounds::next(state).filter(|at| *at <= now);
    // In the order of their times, so that stepping over an hour reads as if it had been lived through; alarms first.
    let earliest = [
        ladder.map(|(at, _)| at),
        outage.map(|(at, _)| at),
        recheck.map(|(at, _)| at),
        call.as_ref().map(|(at, ..)| *at),
        claim,
        rounds,
        slot.map(|(at, _)| at),
    ]
    .into_iter()
    .flatten()
    .min()?;
    if let Some((at, no)) = ladder
        && at == earliest
    {
        return ladder::climb(state, facility, no, now);
    }
    if let Some((at, no)) = outage
        && at == earliest
    {
        return outage::climb(state, facility, no, now);
    }
    if let Some((at, tag)) = recheck
        && at == earliest
    {
        return recheck::ask(state, facility, tag, now);
    }
    if let Some((at, call, on)) = call
        && at == earliest
    {
        return calls::ring(state, facility, call, on, now);
    }
    if claim == Some(earliest) {
        return claim::look(state, facility, now);
    }
    if rounds == Some(earliest) {
        return rounds::look(state, facility, now);
    }
    let (_, name) = slot?;
    slots::fire(state, facility, name, now)
}

/// The next moment at which [`tick`] will have something.
pub fn next_due(state: &State) -> Option<DateTime<Utc>> {
    state.facility.as_ref()?;
    let ladder = ladder::next(state).map(|(at, _)| at);
    let outage = outage::next(state).map(|(at, _)| at);
    let recheck = recheck::next(state).map(|(at, _)| at);
    let call = calls::next(state).map(|(at, ..)| at);
    let slot = slots::next(state).map(|(at, _)| at);
    let (claim, rounds) = (claim::next(state), rounds::next(state));
    [ladder, outage, recheck, call, claim, rounds, slot]
        .into_iter()
        .flatten()
        .min()
}

/// The program was away between two moments: what the supervisors are told, if that was long enough to say.
pub fn returned(
    state: &State,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let facility = state.facility.as_ref()?;
    (to - from > TimeDelta::minutes(state.policies.get(Name::AwayAfter)))
        .then(|| slots::returned_post(state, facility, from, to))
}

/// The home's records were put back to how they stood at `from`, from a backup: the supervisors are told, however
/// short that was.
pub fn put_back(
    state: &State,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let facility = state.facility.as_ref()?;
    Some(slots::put_back_post(state, facility, from, to))
}

/// No backup could be made; the newest there is, if any, is from `last`. The supervisors are told once a day, and nobody is
/// called: nothing at a bed waits for it.
pub fn without_backup(
    state: &State,
    last: Option<DateTime<Utc>>,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    Some(slots::no_backup_post(
        state,
        state.facility.as_ref()?,
        last,
        now,
    ))
}

/// The computer's clock was stepped: forward, or back where `step` is below 0. What it counted goes on counting.
pub fn clock_stepped(
    state: &State,
    step: TimeDelta,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let facility = state.facility.as_ref()?;
    Some(slots::stepped_post(state, facility, step, now))
}

/// A role of the home is the chat's own role of everybody: it is told that no call reaches anybody by it.
pub fn role_everybody(
    state: &State,
    role: ChatRole,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    slots::role_everybody(state, state.facility.as_ref()?, role, now)
}

/// The chat has deleted a role that the home goes by: everybody is told that nobody acts in it any more.
pub fn role_deleted(
    state: &State,
    role: ChatRole,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    slots::role_deleted(state, state.facility.as_ref()?, role, now)
}

/// A post could not be put in its channel, for good: who is told instead, where it called somebody or was a list. `key` is
/// the key of the post.
pub fn undelivered(
    state: &State,
    key: &str,
    channel: Channel,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    undelivered::undelivered(state, state.facility.as_ref()?, key, channel, now)
}

/// When the shift that `now` is in began. Shifts are local times of day; 07:00:00 belongs to the shift that
/// begins then, and a night shift keeps the date it began on (common practice).
pub fn shift_start(state: &State, now: DateTime<Utc>) -> DateTime<Utc> {
    shift_edges(state, now).0
}

/// When the next shift begins.
pub fn next_shift(state: &State, now: DateTime<Utc>) -> DateTime<Utc> {
    shift_edges(state, now).1
}

fn shift_edges(state: &State, now: DateTime<Utc>) -> (DateTime<Utc>, DateTime<Utc>) {
    let Some(facility) = &state.facility else {
        return (now, now);
    };
    let length = TimeDelta::hours(state.policies.get(Name::ShiftHours).max(1));
    let anchor = TimeDelta::minutes(state.policies.get(Name::ShiftStart));
    edges(&facility.zone, anchor, length, now)
}

/// The beginning and the end of the stretch that `now` is in, where one of this length begins at `anchor` after midnight.
pub(crate) fn edges(
    zone: &Zone,
    anchor: TimeDelta,
    length: TimeDelta,
    now: DateTime<Utc>,
) -> (DateTime<Utc>, DateTime<Utc>) {
    let local = zone.local(now);
    let since_anchor =
        TimeDelta::seconds(i64::from(local.time().num_seconds_from_midnight())) - anchor;
    let shifts = since_anchor.num_seconds().div_euclid(length.num_seconds());
    let begun = midnight(local) + anchor + length * i32::try_from(shifts).unwrap_or(0);
    let (mut start, mut end) = (zone.instant(begun), zone.instant(begun + length));
    // In the hour that clocks repeat, local time alone does not say on which side of an edge it is.
    if end <= now {
        (start, end) = (end, zone.instant(begun + length * 2));
    } else if start > now {
        (start, end) = (zone.instant(begun - length), start);
    }
    (start, end)
}

fn midnight(local: NaiveDateTime) -> NaiveDateTime {
    local.date().and_time(chrono::NaiveTime::MIN)
}

/// Since when a placed surface wants a look, `shift` being when the present shift began; a moment still
/// ahead where a look is booked for then, or the home has one every so many hours. `None` when it has been seen to.
pub(crate) fn check_due(
    state: &State,
    tag: &Tag,
    surface: &Surface,
    shift: DateTime<Utc>,
) -> Option<DateTime<Utc>> {
    let since = match &surface.life {
        Life::Placed { since, .. }
        // Out of service, and somebody still lies on it.
        | Life::OutOfService {
            since,
            under: Some(_),
            ..
        } => since,
        Life::OutOfService { under: None, .. }
        | Life::Soiled(_)
        | Life::Ready { .. }
        | Life::Retired { .. } => return None,
    };
    if surface.cpr.is_some() {
        return None;
    }
    // Nobody is in the bed until then, as far as anybody said; from then on a look is due.
    let empty_until = surface.leave.map(|leave| leave.until);
    if let Some(booked) = state.rechecks.get(tag) {
        return Some(empty_until.map_or(booked.due, |until| until.max(booked.due)));
    }
    if state.profile_of(surface).check == Check::None {
        return None;
    }
    if empty_until.is_some() {
        return empty_until;
    }
    let out = matches!(surface.life, Life::OutOfService { .. });
    let Some(check) = surface
        .check_here()
        .or_else(|| surface.last_check().filter(|_| out))
    else {
        return Some(*since);
    };
    match state.policies.get(Name::CheckEvery) {
        0 => (check.at < shift).then_some(shift),
        hours => Some(check.at + TimeDelta::hours(hours)),
    }
}

/// From when the next checks are due where none is now.
pub(crate) fn next_checks(state: &State, now: DateTime<Utc>) -> DateTime<Utc> {
    let shift = shift_start(state, now);
    let next = state
        .surfaces
        .iter()
        .filter_map(|(tag, surface)| check_due(state, tag, surface, shift))
        .filter(|at| *at > now)
        .min();
    match state.policies.get(Name::CheckEvery) {
        0 => next_shift(state, now),
        hours => next.unwrap_or_else(|| now + TimeDelta::hours(hours)),
    }
}
