//! What schedules post, and when: a slot is posted once, under its own key. Decides where each post goes, the summary, and
//! the word to supervisors that loftwatch was away; leaves the shift card to `card`, the handover to `handover`.

use std::collections::BTreeSet;

use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};

use super::{asking, card, handover};
use crate::choice::{Call, What};
use crate::decide::{Draft, day_time, span, unit_channel};
use crate::decision::{Decision, Lane};
use crate::ids::{Channel, ChatRole, RecordNo, ScheduleName, Unit};
use crate::message::Message;
use crate::record::{Body, On};
use crate::role::Role;
use crate::rules::policy::Name;
use crate::said::Source;
use crate::say;
use crate::state::{Facility, Life, Schedule, State};
use crate::words::Lang;

/// How many missed slots are counted one by one; there may be more after a long time away.
const SLOTS_MAX: usize = 200;
/// A step of the clock that makes the times of entries misleading, and not only odd.
const STEP_SAID: TimeDelta = TimeDelta::minutes(1);

/// The schedule whose slot comes next.
pub(super) fn next(state: &State) -> Option<(DateTime<Utc>, &ScheduleName)> {
    state
        .schedules
        .iter()
        .filter_map(|(name, schedule)| Some((schedule.next?.1, name)))
        .min()
}

/// The newest slot that has come is posted; older ones that were missed are counted.
pub(super) fn fire(
    state: &State,
    facility: &Facility,
    name: &ScheduleName,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let schedule = state.schedules.get(name)?;
    let slots = schedule
        .pattern
        .slots_between(schedule.last, now, &facility.zone, SLOTS_MAX);
    let (slot, at) = *slots.due.last()?;
    let missed = u32::try_from(slots.left_out + slots.due.len() - 1).unwrap_or(u32::MAX);
    let mut draft = Draft::for_clock(state, now);
    draft.fact(Body::SlotFired {
        name: name.clone(),
        slot,
        missed,
    });
    let late = (now - at > TimeDelta::minutes(state.policies.get(Name::PostLate))).then_some(at);
    match schedule.what {
        What::Handover => hand_over(state, facility, &mut draft, schedule, (at, late), now),
        What::DueList | What::Summary | What::Weekend => {
            let key = slot_key(name, slot, state.set_back);
            for (suffix, channel, message) in posts(state, facility, schedule, late, now) {
                draft.post(format!("{key}{suffix}"), channel, Lane::Reminder, message);
            }
        }
    }
    let source = format!("slot{name}.{}", slot.format("%Y-%m-%dT%H:%M:%S"));
    let source = Source(source + &clock_mark(state.set_back));
    Some((source, draft.decision))
}

/// The key of what a slot posts; a card for one unit among all has the unit's name behind it. The same slot can come twice,
/// where the clock was ahead the first time.
pub(super) fn slot_key(
    name: &ScheduleName,
    slot: NaiveDateTime,
    set_back: Option<RecordNo>,
) -> String {
    format!("slot:{name}:{}", slot.format("%Y-%m-%dT%H:%M")) + &clock_mark(set_back)
}

/// What tells the name of something that comes at a time of day from that of the same by a clock that was ahead.
pub(super) fn clock_mark(set_back: Option<RecordNo>) -> String {
    set_back.map_or_else(String::new, |no| format!("~{no}"))
}

/// Where a schedule posts: to its unit, or to the supervisors and to every unit that has a channel of its own, so that
/// its silence means trouble.
pub(super) fn places<'a>(
    state: &'a State,
    facility: &Facility,
    of: Option<&'a Unit>,
) -> Vec<(String, Channel, Option<&'a Unit>)> {
    if let Some(unit) = of {
        let channel = unit_channel(state, facility, Some(unit));
        return vec![(String::new(), channel, Some(unit))];
    }
    let units = state.units.iter().filter_map(|(name, unit)| {
        let channel = unit.channel?;
        Some((format!(":{name}"), channel, Some(name)))
    });
    std::iter::once((String::new(), facility.supervisor_channel, None))
        .chain(units)
        .collect()
}

/// Where what a schedule for the whole house posts comes for upkeep, too. No unit's name has that sign.
pub(super) fn for_upkeep(facility: &Facility, schedule: &Schedule) -> Option<(String, Channel)> {
    let channel = facility
        .upkeep_channel
        .filter(|_| schedule.unit.is_none())?;
    Some(("|upkeep".to_owned(), channel))
}

fn late_line(lang: Lang, late: Option<DateTime<Utc>>) -> String {
    late.map_or_else(String::new, |at| {
        format!("{}\n", say!(lang, "slot-late", at = day_time(at)))
    })
}

fn posts(
    state: &State,
    facility: &Facility,
    schedule: &Schedule,
    late: Option<DateTime<Utc>>,
    now: DateTime<Utc>,
) -> Vec<(String, Channel, Message)> {
    let lang = state.lang();
    let mut places = places(state, facility, schedule.unit.as_ref());
    if schedule.what != What::DueList {
        places.truncate(1);
    }
    let for_upkeep = for_upkeep(facility, schedule).and_then(|(suffix, channel)| {
        let mut message = match schedule.what {
            What::DueList => card::upkeep_card(state, lang, now),
            What::Weekend => super::weekend::post(state, facility, lang, now),
            What::Summary | What::Handover => return None,
        };
        message.text.insert_str(0, &late_line(lang, late));
        Some((suffix, channel, message))
    });
    places
        .into_iter()
        .map(|(suffix, channel, unit)| {
            let mut message = match schedule.what {
                What::DueList => card::shift_card(state, lang, unit, now),
                What::Weekend => super::weekend::post(state, facility, lang, now),
                What::Summary | What::Handover => summary(state, lang, unit, now),
            };
            message.text.insert_str(0, &late_line(lang, late));
            (suffix, channel, message)
        })
        .chain(for_upkeep)
        .collect()
}

/// The handover of each unit that has a channel of its own, and of the whole house for the supervisors. Where people say
/// who is on duty, the next shift is asked to accept it.
fn hand_over(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    schedule: &Schedule,
    (at, late): (DateTime<Utc>, Option<DateTime<Utc>>),
    now: DateTime<Utc>,
) {
    let lang = state.lang();
    // At the very edge it is the shift before that hands over.
    let shift = super::shift_start(state, at - TimeDelta::seconds(1));
    for (_, channel, unit) in places(state, facility, schedule.unit.as_ref()) {
        let no = draft.fact(Body::HandoverMade {
            unit: unit.cloned(),
            shift,
        });
        if let Some(unit) = unit.filter(|_| state.duty.in_use(now)) {
            draft.fact(Body::Booked {
                on: On::Unit(unit.clone()),
                call: Call::Handover,
                due: now + TimeDelta::minutes(state.policies.get(Name::AcceptWithin)),
            });
        }
        let handover = handover::made(no, unit, shift, now);
        let mut message = handover::card(state, lang, &handover, now);
        message.text.insert_str(0, &late_line(lang, late));
        message.silent = true;
        draft.post(handover::key(handover.no), channel, Lane::Reminder, message);
    }
}

/// The home in numbers.
fn summary(state: &State, lang: Lang, unit: Option<&Unit>, now: DateTime<Utc>) -> Message {
    let shift = super::shift_start(state, now);
    let (mut placed, mut checked, mut ready, mut soiled, mut out) = (0, 0, 0, 0, 0);
    for (tag, surface) in &state.surfaces {
        if unit.is_some() && state.unit_of(tag) != unit {
            continue;
        }
        match &surface.life {
            Life::Placed { .. } => {
                placed += 1;
                checked += i64::from(surface.check_here().is_some_and(|check| check.at >= shift));
            }
            Life::Ready { .. } => ready += 1,
            Life::Soiled(_) => soiled += 1,
            Life::OutOfService { .. } => out += 1,
            Life::Retired { .. } => {}
        }
    }
    let alarms = state
        .alarms
        .values()
        .filter(|alarm| unit.is_none() || state.unit_of(&alarm.tag) == unit)
        .count();
    let head = match unit {
        Some(unit) => say!(lang, "summary-head-unit", unit = unit.as_str()),
        None => say!(lang, "summary-head"),
    };
    let figures = say!(
        lang,
        "summary-figures",
        placed = placed,
        checked = checked,
        ready = ready,
        soiled = soiled,
        out = out,
        alarms = alarms as i64
    );
    let head = card::under_outages(state, lang, unit, now, head);
    let mut message = Message::text(format!("{head}\n{figures}"));
    message.silent = true;
    message
}

/// The word to supervisors that loftwatch was away.
pub(crate) fn returned_post(
    state: &State,
    facility: &Facility,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
) -> (Source, Decision) {
    let lang = state.lang();
    let text = say!(lang, "post-away", from = day_time(from), to = day_time(to));
    away(state, facility, from, to, text)
}

/// The word to supervisors that what was entered since a backup is gone.
pub(crate) fn put_back_post(
    state: &State,
    facility: &Facility,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
) -> (Source, Decision) {
    let text = say!(state.lang(), "post-put-back", from = day_time(from));
    away(state, facility, from, to, text)
}

/// The word to supervisors that there is no new backup.
pub(crate) fn no_backup_post(
    state: &State,
    facility: &Facility,
    last: Option<DateTime<Utc>>,
    now: DateTime<Utc>,
) -> (Source, Decision) {
    let mut draft = Draft::for_clock(state, now);
    let lang = state.lang();
    let text = match last {
        Some(last) => say!(lang, "post-no-backup", last = day_time(last)),
        None => say!(lang, "post-no-backup-yet"),
    };
    let mut message = Message::text(text);
    message.silent = true;
    let day = facility.zone.local(now).date();
    draft.post(
        format!("no-backup:{day}"),
        facility.supervisor_channel,
        Lane::Routine,
        message,
    );
    (Source(format!("no-backup{day}")), draft.decision)
}

fn away(
    state: &State,
    facility: &Facility,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
    text: String,
) -> (Source, Decision) {
    let mut draft = Draft::for_clock(state, to);
    draft.fact(Body::Away { from, to });
    let asks = asking::safety(state, None, &[Role::Supervisor], to);
    let message = asks.on(facility, Message::text(text));
    draft.post(
        format!("away:{}", from.timestamp()),
        facility.supervisor_channel,
        Lane::Reminder,
        message,
    );
    (Source(format!("away{}", from.timestamp())), draft.decision)
}

/// The clock by which everything is called was stepped: what counts from a moment goes on counting, and who reads times
/// of before learns what is wrong with them.
pub(crate) fn stepped_post(
    state: &State,
    facility: &Facility,
    step: TimeDelta,
    now: DateTime<Utc>,
) -> (Source, Decision) {
    let mut draft = Draft::for_clock(state, now);
    let seconds = step.num_seconds();
    draft.fact(Body::ClockStepped { seconds });
    let source = format!("clock{}.{seconds}", now.timestamp_millis());
    if step.abs() >= STEP_SAID {
        let lang = state.lang();
        let key = if seconds.is_negative() {
            "post-clock-back"
        } else {
            "post-clock-on"
        };
        let text = say!(
            lang,
            key,
            span = span(lang, step.num_minutes().abs()),
            now = day_time(now)
        );
        draft.post(
            source.clone(),
            facility.supervisor_channel,
            Lane::Reminder,
            Message::text(text),
        );
    }
    (Source(source), draft.decision)
}

/// A chat role that is gone. Nobody acts in ours any more and its calls reach nobody, so it is said where everybody reads.
pub(crate) fn role_deleted(
    state: &State,
    facility: &Facility,
    gone: ChatRole,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    reaches_nobody(state, facility, gone, ("gone", "post-role-deleted"), now)
}

/// The chat's own role of everybody, which older versions took: nobody is known to hold it, and its calls ring nobody.
pub(crate) fn role_everybody(
    state: &State,
    facility: &Facility,
    chat: ChatRole,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let said = ("everybody", "post-role-everybody");
    reaches_nobody(state, facility, chat, said, now)
}

fn reaches_nobody(
    state: &State,
    facility: &Facility,
    gone: ChatRole,
    (word, key): (&str, &str),
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let (role, _) = facility.roles.iter().find(|(_, chat)| **chat == gone)?;
    let lang = state.lang();
    let mut draft = Draft::for_clock(state, now);
    let text = say!(
        lang,
        key,
        role = say!(lang, &format!("role-{}", role.as_str())),
        option = role.as_str()
    );
    let channels = BTreeSet::from([facility.care_channel, facility.supervisor_channel]);
    for (at, channel) in channels.into_iter().enumerate() {
        let message = Message::text(text.as_str());
        draft.post(
            format!("{word}:{gone}:{at}"),
            channel,
            Lane::Reminder,
            message,
        );
    }
    Some((Source(format!("{word}{gone}")), draft.decision))
}
