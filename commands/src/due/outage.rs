//! The ladder of a power failure: who is asked while its roll is not finished. The rungs after the first are those of an alarm; whoever
//! calls the roll stops it for as long as the home gives an alarm to be safe. Leaves the roll itself to `decide`.

use chrono::{DateTime, TimeDelta, Utc};

use super::asking;
use super::ladder::{Climb, TOP, overtaken, rung_asks};
use crate::choice::Call;
use crate::decide::which_bed::outage_button;
use crate::decide::{Draft, button, outage as rules, span, unit_channel, whom_to_phone};
use crate::decision::{Decision, Lane};
use crate::ids::{OutageNo, Unit};
use crate::message::{Look, Message};
use crate::record::{Body, On};
use crate::role::Role;
use crate::rules::policy::Name;
use crate::said::Source;
use crate::say;
use crate::state::{Facility, Outage, State};
use crate::tap::{Power, Tap};
use crate::words::Lang;

/// How far the ladder of a roll has been climbed.
pub(crate) fn climb_of(open: &Outage) -> Climb {
    Climb {
        from: open.ladder_from,
        rung: open.rung,
        passed: open.passed,
        asked: open.asked,
    }
}

/// What the clock has to do next about any power failure.
pub(super) fn next(state: &State) -> Option<(DateTime<Utc>, OutageNo)> {
    state
        .outages
        .iter()
        .filter_map(|(no, open)| Some((wakes(state, *no, open)?, *no)))
        .min()
}

/// When a power failure next wants the clock; `None` while its roll is finished and the next one promised.
fn wakes(state: &State, no: OutageNo, open: &Outage) -> Option<DateTime<Utc>> {
    // One that was in an emergency until now, or came back to its bed, waits for the next roll.
    let promised = state
        .booking(&On::Outage(no), Call::Roll)
        .is_some_and(|booking| booking.next.is_some());
    if promised {
        return None;
    }
    if rules::left(state, open).is_empty() {
        // The last one that was left has gone from its bed: nobody will say that the roll is finished.
        return Some(open.asked);
    }
    Some(overrun(state, open).unwrap_or_else(|| climb_of(open).next(state.ladder).1))
}

/// When whoever calls the roll should have finished it.
fn overrun(state: &State, open: &Outage) -> Option<DateTime<Utc>> {
    let (_, taken) = open.taken?;
    Some(taken + TimeDelta::minutes(state.policies.get(Name::SafeWithin)))
}

/// The next rung is asked, or the ladder begins again, or the next roll is promised.
pub(super) fn climb(
    state: &State,
    facility: &Facility,
    no: OutageNo,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let open = state.outages.get(&no)?;
    let mut draft = Draft::for_clock(state, now);
    let lang = state.lang();
    let left = rules::left(state, open).len() as i64;
    let channel = unit_channel(state, facility, Some(&open.unit));
    if left == 0 {
        let due = rules::next_roll(state, open, now);
        rules::book(&mut draft, no, due);
        rules::edit_done(state, facility, &mut draft, no, open, due);
        let source = Source(format!("rolled{no}.{}.{}", open.roll, draft.first()));
        return Some((source, draft.decision));
    }
    let message = |text: String| {
        let tap = Tap::Power(Power::Take { outage: no });
        let call = button(lang, "button-call-roll", Look::Main, &tap);
        let beds = outage_button(state, lang, no);
        Message::text(text).buttons(std::iter::once(call).chain(beds).collect())
    };
    let on = On::Outage(no);
    if let Some(at) = overrun(state, open) {
        let source = Source(format!("outage{no}.again.{}", at.timestamp()));
        let newest = draft.fact(Body::OutageRestarted { outage: no });
        let mut after = open.clone();
        after.begin_again(now);
        after.newest = newest;
        rules::edit(state, facility, &mut draft, no, &after);
        let text = say!(
            lang,
            "post-roll-again",
            unit = open.unit.as_str(),
            minutes = state.policies.get(Name::SafeWithin),
            left = left
        );
        let post = (
            format!("outage:{no}:again:{newest}"),
            channel,
            Lane::Escalation,
        );
        let asks = asking::safety(state, Some(&open.unit), &[Role::Aide, Role::Nurse], now);
        draft.ask(facility, on, &asks, post, message(text));
        return Some((source, draft.decision));
    }
    let asks = |rung| rung_asks(state, Some(&open.unit), rung, now);
    let rung = climb_of(open).newest(state.ladder, now, |rung| {
        open.called.covers(&asks(rung).called)
    });
    let from = open.ladder_from.timestamp();
    let source = Source(format!("outage{no}.rung.{from}.{rung}"));
    let newest = draft.fact(Body::OutageAsked { outage: no, rung });
    let mut after = open.clone();
    after.climb(now, rung);
    after.newest = newest;
    rules::edit(state, facility, &mut draft, no, &after);
    let key = match rung {
        0..TOP => "post-roll-rung",
        _ => "post-roll-top",
    };
    let mut text = say!(
        lang,
        key,
        unit = open.unit.as_str(),
        span = span(lang, rules::minutes_without(open, now)),
        left = left
    );
    if rung >= TOP {
        text = format!("{text}\n{}", whom_to_phone(state, lang));
    }
    let post = (
        format!("outage:{no}:rung:{from}:{rung}"),
        channel,
        Lane::Escalation,
    );
    draft.ask(facility, on, &asks(rung), post, message(text));
    let keys = |rung| format!("outage:{no}:rung:{from}:{rung}");
    draft.in_place_of(overtaken(open.rung, rung).into_iter().map(keys));
    Some((source, draft.decision))
}

/// The units without power, a line each: what stands on top of every list.
pub(crate) fn lines(
    state: &State,
    lang: Lang,
    unit: Option<&Unit>,
    now: DateTime<Utc>,
) -> Vec<String> {
    state
        .outages
        .values()
        .filter(|open| unit.is_none_or(|unit| open.unit == *unit))
        .map(|open| rules::state_line(state, lang, open, now))
        .collect()
}
