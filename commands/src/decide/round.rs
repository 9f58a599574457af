//! The round of a unit: its hand checks, one bed after another, one tap each. Decides which bed comes next, what is said of
//! it before its reading, and what is left at the end; leaves the reading itself to `check`.

use chrono::{DateTime, Utc};

use super::check::{after, ask_for, minutes, named_label, seen};
use super::draft::{Asked, Draft, button, clock_time, take_back_then};
use super::{leave, nurse, set_up};
use crate::decision::Decision;
use crate::due;
use crate::ids::{AlarmNo, Bed, Tag, Unit};
use crate::message::{Answer, Button, Look, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::rules::hand_check::Judgement;
use crate::say;
use crate::state::{Life, State, Surface};
use crate::tap::{Card, Tap, Then};

/// Names at the end of a round before it only counts.
const NAMES_MAX: usize = 12;

/// Where in a round it goes on.
#[derive(Clone, Copy)]
pub(super) enum From<'a> {
    /// At its first bed.
    Start,
    /// At this one.
    At(&'a Tag),
    /// After this one, which has been seen to.
    After(&'a Tag),
    /// After this one, which was left out.
    Skipped(&'a Tag),
}

/// `/round`, and the button that begins one.
pub(super) fn round(asked: &Asked<'_>, unit: Option<&str>) -> Result<Decision, Refusal> {
    let Some(unit) = asked.unit(unit)? else {
        let all: Vec<&str> = asked.state.units.keys().map(Unit::as_str).collect();
        return Err(Refusal::new("fault-round-unit").text("these", all.join(", ")));
    };
    let card = next_card(asked, asked.state, unit, From::Start, String::new());
    Ok(Decision::private(card))
}

/// On to the next bed.
pub(super) fn skip(asked: &Asked<'_>, card: &Card) -> Result<Decision, Refusal> {
    let Some(unit) = &card.round else {
        return Err(Refusal::new("fault-stale-tap"));
    };
    let (tag, surface) = asked.surface(card.tag.as_str())?;
    // It may have been seen to beside this card: by its own reading, or because nobody is back in the bed.
    let key = if waits(asked.state, asked.now, tag, surface) {
        "round-skipped"
    } else {
        "round-not-due"
    };
    let said = say!(asked.lang, key, surface = asked.with_bed(tag));
    let next = next_card(asked, asked.state, unit, From::Skipped(tag), said);
    Ok(Decision {
        answer: Some(Answer::Replace(next)),
        ..Decision::default()
    })
}

/// After a reading from a card: in a round the next bed takes the card's place; else the outcome does.
pub(super) fn go_on(asked: &Asked<'_>, draft: Draft, card: &Card, text: String) -> Decision {
    let lang = asked.lang;
    let Some(unit) = &card.round else {
        let message = Message::text(text);
        let message = match asked.state.surfaces.get(&card.tag) {
            Some(surface) => {
                let message = nurse::rows(asked, &draft, &card.tag, surface, message);
                after(asked, &draft, &card.tag, surface, message)
            }
            None => message,
        };
        return draft.private(message);
    };
    let back = take_back_then(lang, &draft, &card.tag, Then::Round(unit.clone()));
    let back = of_before(asked, &card.tag, back);
    let alarm = draft
        .decision
        .entries
        .iter()
        .position(|entry| matches!(entry.body, Body::AlarmOpened { .. }));
    if let Some(at) = alarm {
        // Nobody walks on from somebody who lies on no air: the round goes on when they say so. A tap that was meant
        // for the next bed's first button finds that one, and says nothing of this resident.
        let alarm = AlarmNo(draft.first().0 + at as u64);
        let go = Tap::StartRound { unit: unit.clone() };
        let safe = button(lang, "button-safe", Look::Good, &Tap::Safe { alarm });
        let buttons = vec![
            button(lang, "button-go-on", Look::Plain, &go),
            of_before(asked, &card.tag, safe),
            back,
        ];
        return draft.answer(Answer::Replace(Message::text(text).buttons(buttons)));
    }
    let from = From::After(&card.tag);
    let mut next = next_card(asked, asked.state, unit, from, text);
    // What belongs to the bed before says so.
    let missing = set_up::missing_first(asked, &draft, &card.tag);
    if missing.is_some() {
        let list = super::set_up_calls::card_button(lang, &card.tag);
        next = next.and_button(of_before(asked, &card.tag, list));
    }
    draft.answer(Answer::Replace(next.and_button(back)))
}

/// A button about a bed that is not the one asked about.
fn of_before(asked: &Asked<'_>, tag: &Tag, mut button: Button) -> Button {
    button.label = named_label(asked.lang, tag.as_str(), &button.label);
    button
}

/// Whether a surface is still to be checked in this round. As on the due list: while an alarm is open its card does the
/// asking, but for one that is out of service, where that takes until the resident lies on another.
fn waits(state: &State, now: DateTime<Utc>, tag: &Tag, surface: &Surface) -> bool {
    let start = due::shift_start(state, now);
    let asked_by_card = surface.alarm.is_some() && !out_of_service(surface);
    !asked_by_card && due::check_due(state, tag, surface, start).is_some_and(|since| since <= now)
}

fn out_of_service(surface: &Surface) -> bool {
    matches!(surface.life, Life::OutOfService { .. })
}

/// What comes before the order of the beds: who lies on a surface that is out of service, then where it was low.
fn urgency(state: &State, now: DateTime<Utc>, tag: &Tag, surface: &Surface) -> u8 {
    let low = state.rechecks.get(tag).is_some_and(|recheck| {
        recheck.due <= now && matches!(recheck.after, Judgement::Low | Judgement::BottomedOut)
    });
    if out_of_service(surface) {
        0
    } else if low {
        1
    } else {
        2
    }
}

/// The next bed of a round that is due; or how the round went.
pub(super) fn next_card(
    asked: &Asked<'_>,
    state: &State,
    unit: &Unit,
    from: From<'_>,
    said: String,
) -> Message {
    let (lang, now) = (asked.lang, asked.now);
    let empty = Vec::new();
    let beds: &[Bed] = state.units.get(unit).map_or(&empty, |unit| &unit.beds);
    let mut placed: Vec<(&Tag, &Surface)> = beds
        .iter()
        .filter_map(|bed| state.surfaces.get_key_value(state.under.get(bed)?))
        .collect();
    // Stable: among equals in the order of the beds.
    placed.sort_by_key(|(tag, surface)| urgency(state, now, tag, surface));
    let position = |of: &Tag| placed.iter().position(|(tag, _)| *tag == of);
    let (place, seen_to) = match from {
        From::Start => (0, None),
        From::At(tag) => (position(tag).unwrap_or(0), None),
        From::After(tag) => (position(tag).map_or(0, |at| at + 1), Some(tag)),
        From::Skipped(tag) => (position(tag).map_or(0, |at| at + 1), None),
    };
    let left: Vec<&Tag> = placed
        .iter()
        .filter(|(tag, surface)| Some(*tag) != seen_to && waits(state, now, tag, surface))
        .map(|(tag, _)| *tag)
        .collect();
    let next = placed[place.min(placed.len())..]
        .iter()
        .find(|(tag, surface)| waits(state, now, tag, surface));
    let count = left.len() as i64;
    let said = if said.is_empty() {
        said
    } else {
        format!("{said}\n\n")
    };
    let Some((tag, surface)) = next else {
        return ended(asked, state, unit, placed.len(), &left, said);
    };
    let head = say!(lang, "round-head", unit = unit.as_str(), left = count);
    let card = Card {
        round: Some(unit.clone()),
        tag: (*tag).clone(),
        seen: seen(surface),
        shown: minutes(now),
    };
    let before = format!("{said}{head}\n");
    match surface.leave.filter(|leave| leave.until <= now) {
        // Whether anybody lies there comes before how much air is under them.
        Some(over) => {
            let skip = button(lang, "button-skip", Look::Plain, &Tap::Skip { card });
            let own = leave::asks_back(asked, tag, &over);
            let message = Message {
                text: format!("{before}{}", own.text),
                ..own
            };
            message.buttons(vec![skip])
        }
        None => ask_for(asked, &card, before),
    }
}

/// No bed is left after this one: what is still due, by name, or that nothing is.
fn ended(
    asked: &Asked<'_>,
    state: &State,
    unit: &Unit,
    placed: usize,
    left: &[&Tag],
    said: String,
) -> Message {
    let lang = asked.lang;
    if placed == 0 {
        return Message::text(say!(lang, "round-no-surface", unit = unit.as_str()));
    }
    if left.is_empty() {
        let next = clock_time(due::next_shift(state, asked.now));
        let text = say!(
            lang,
            "round-done",
            unit = unit.as_str(),
            placed = placed as i64,
            at = next
        );
        return Message::text(format!("{said}{text}"));
    }
    let mut names: Vec<String> = left
        .iter()
        .take(NAMES_MAX)
        .map(|tag| asked.with_bed(tag))
        .collect();
    if left.len() > NAMES_MAX {
        names.push("…".to_owned());
    }
    let text = say!(
        lang,
        "round-some-left",
        unit = unit.as_str(),
        left = left.len() as i64,
        these = names.join(", ")
    );
    let go = Tap::StartRound { unit: unit.clone() };
    let go = button(lang, "button-go-again", Look::Main, &go);
    Message::text(format!("{said}{text}")).buttons(vec![go])
}
