//! The card of a power failure, and in which order its surfaces stand there. Decides what it shows; leaves what a tap
//! on it begins to the rules beside it.

use chrono::{DateTime, Utc};

use super::{back_button, how_key, minutes_left, minutes_without, take_button};
use crate::choice::{Call, Roll};
use crate::decide::draft::{Draft, ago, clock_time, in_post, person, span, unit_channel};
use crate::decide::which_bed::outage_button;
use crate::ids::{OutageNo, Tag, Unit};
use crate::message::Message;
use crate::record::On;
use crate::rules::hand_check::Judgement;
use crate::rules::holding::{self, Holding};
use crate::say;
use crate::state::{Facility, Outage, State, Surface};
use crate::words::Lang;

/// Surfaces that a card gives a line of their own before it only names them.
const LINES_MAX: usize = 12;

/// The surfaces under the unit's beds as a roll looks at them. What the last roll found low or flat comes first of all;
/// what it found empty counts as empty, and what had power has time.
pub(crate) fn order(
    state: &State,
    unit: &Unit,
    last: Option<&Outage>,
    since: DateTime<Utc>,
    now: DateTime<Utc>,
) -> Vec<Tag> {
    let Some(beds) = state.units.get(unit).map(|unit| &unit.beds) else {
        return Vec::new();
    };
    let found: Vec<(&Tag, &Surface)> = beds
        .iter()
        .filter_map(|bed| state.surfaces.get_key_value(state.under.get(bed)?))
        .collect();
    let stood = |tag: &Tag| {
        last.and_then(|last| last.seen.get(tag))
            .map(|(how, _)| *how)
    };
    let standing: Vec<Holding> = found
        .iter()
        .map(|(tag, surface)| {
            let how = stood(tag);
            Holding {
                left_minutes: match how {
                    Some(Roll::Powered) => Some(i64::MAX),
                    Some(Roll::Holding | Roll::Low | Roll::Flat | Roll::Empty) | None => {
                        minutes_left(state, tag, last, since, now)
                    }
                },
                lately_low: lately_low(state, tag, surface),
                occupied: how != Some(Roll::Empty) && surface.away(now).is_none(),
            }
        })
        .collect();
    let mut order: Vec<Tag> = holding::order(&standing)
        .into_iter()
        .filter_map(|place| found.get(place))
        .map(|(tag, _)| (*tag).clone())
        .collect();
    // Stable: among these and among the rest the order stays.
    order.sort_by_key(|tag| match stood(tag) {
        Some(Roll::Flat) => 0,
        Some(Roll::Low) => 1,
        Some(Roll::Holding | Roll::Powered | Roll::Empty) | None => 2,
    });
    order
}

/// The last reading there was low, or one that was is still to be looked at again.
fn lately_low(state: &State, tag: &Tag, surface: &Surface) -> bool {
    let low = |judged| match judged {
        Judgement::Low | Judgement::BottomedOut => true,
        Judgement::Adequate | Judgement::High | Judgement::CouldNot => false,
    };
    surface.check_here().is_some_and(|check| low(check.judged))
        || state
            .rechecks
            .get(tag)
            .is_some_and(|recheck| low(recheck.after))
}

/// Those of this roll that nobody has looked at yet and that are still under a bed of the unit, in order. Where a CPR
/// valve is open nothing is asked: its own card comes back to it.
pub(crate) fn left<'a>(state: &State, open: &'a Outage) -> Vec<&'a Tag> {
    open.left()
        .filter(|tag| state.unit_of(tag) == Some(&open.unit) && !state.in_emergency(tag))
        .collect()
}

/// The card as it stands.
pub(crate) fn card(state: &State, lang: Lang, no: OutageNo, open: &Outage) -> Message {
    let next = state
        .booking(&On::Outage(no), Call::Roll)
        .and_then(|booking| booking.next);
    lay_out(state, lang, no, open, next)
}

/// The card, where the next roll is promised for `next`.
pub(super) fn lay_out(
    state: &State,
    lang: Lang,
    no: OutageNo,
    open: &Outage,
    next: Option<DateTime<Utc>>,
) -> Message {
    let left = left(state, open);
    let mut lines = vec![say!(
        lang,
        "card-outage",
        unit = open.unit.as_str(),
        at = clock_time(open.since),
        who = open.by.map_or_else(|| "loftwatch".to_owned(), person)
    )];
    if let Some(over) = open.shift_over {
        lines.push(say!(lang, "card-shift-over", at = clock_time(over)));
    }
    lines.push(match (open.taken, next) {
        _ if open.order.is_empty() => {
            let at = next.map_or_else(String::new, clock_time);
            say!(lang, "card-roll-none", at = at)
        }
        _ if left.is_empty() => {
            let at = next.map_or_else(String::new, clock_time);
            say!(lang, "card-roll-done", roll = i64::from(open.roll), at = at)
        }
        (Some((who, at)), _) => say!(
            lang,
            "card-roll-taken",
            roll = i64::from(open.roll),
            left = left.len() as i64,
            who = person(who),
            at = clock_time(at)
        ),
        (None, _) => {
            let (_, at) = crate::due::outage::climb_of(open).next(state.ladder);
            say!(
                lang,
                if open.overrun {
                    "card-roll-dropped"
                } else {
                    "card-roll-nobody"
                },
                roll = i64::from(open.roll),
                at = clock_time(at),
                ago = ago(at)
            )
        }
    });
    // As at the beginning of the roll: what has run on since is in the time itself.
    let from = open.ladder_from;
    for (place, tag) in left.iter().take(LINES_MAX).enumerate() {
        lines.push(say!(
            lang,
            "card-roll-next",
            place = (place + 1) as i64,
            surface = in_post(state, lang, tag),
            holds = holds(state, lang, tag, open, from)
        ));
    }
    if left.len() > LINES_MAX {
        let rest: Vec<String> = left[LINES_MAX..]
            .iter()
            .map(|tag| in_post(state, lang, tag))
            .collect();
        lines.push(say!(lang, "card-roll-then", these = rest.join(", ")));
    }
    for how in [
        Roll::Flat,
        Roll::Low,
        Roll::Holding,
        Roll::Powered,
        Roll::Empty,
    ] {
        let these: Vec<String> = open
            .order
            .iter()
            .filter(|tag| open.seen.get(*tag).is_some_and(|(seen, _)| *seen == how))
            .map(|tag| in_post(state, lang, tag))
            .collect();
        if !these.is_empty() {
            lines.push(say!(
                lang,
                "card-roll-seen",
                how = say!(lang, how_key(how)),
                these = these.join(", ")
            ));
        }
    }
    lines.push(say!(lang, "outage-first"));
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    let mut buttons = Vec::new();
    if !left.is_empty() {
        buttons.push(take_button(lang, no));
    }
    buttons.push(back_button(lang, no));
    if !open.order.is_empty() {
        buttons.extend(outage_button(state, lang, no));
    }
    Message::text(text).buttons(buttons)
}

/// How long one holds its air by its maker's figure.
pub(super) fn holds(
    state: &State,
    lang: Lang,
    tag: &Tag,
    open: &Outage,
    now: DateTime<Utc>,
) -> String {
    match minutes_left(state, tag, None, open.since, now) {
        None => say!(lang, "holds-unknown"),
        Some(minutes) if minutes <= 0 => say!(lang, "holds-over"),
        Some(minutes) => say!(lang, "holds-minutes", span = span(lang, minutes)),
    }
}

/// The card reads so from now on.
pub(crate) fn edit(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    no: OutageNo,
    open: &Outage,
) {
    let message = card(state, state.lang(), no, open);
    change(state, facility, draft, no, open, message);
}

/// As [`edit`], where this decision promises the next roll for `next`.
pub(crate) fn edit_done(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    no: OutageNo,
    open: &Outage,
    next: DateTime<Utc>,
) {
    let message = lay_out(state, state.lang(), no, open, Some(next));
    change(state, facility, draft, no, open, message);
}

/// The card of this roll becomes this message.
pub(super) fn change(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    no: OutageNo,
    open: &Outage,
    message: Message,
) {
    draft.edit(
        format!("outage:{no}:card:{}", draft.first()),
        card_key(no, open.roll),
        unit_channel(state, facility, Some(&open.unit)),
        message,
    );
}

/// The key of a roll's card in the outbox.
pub(crate) fn card_key(no: OutageNo, roll: u32) -> String {
    format!("outage:{no}:roll:{roll}")
}

/// A unit without power in one line, for due lists, handovers and summaries.
pub(crate) fn state_line(state: &State, lang: Lang, open: &Outage, now: DateTime<Utc>) -> String {
    say!(
        lang,
        "outage-line",
        unit = open.unit.as_str(),
        span = span(lang, minutes_without(open, now)),
        left = left(state, open).len() as i64
    )
}
