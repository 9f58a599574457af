//! Several readings that one message told: `101 1.25, 102 0.5, 108 asleep`. Decides which of them one tap confirms, and records
//! each as it would be by itself: a low one calls the nurse and is looked at again as ever. Leaves how a reading is judged to
//! `check`; where no air is left, and whatever says more than the air, has an echo of its own.

use super::{Offer, describe, newer, not_confirmed, offer};
use crate::decide::check::{self, band_of};
use crate::decide::draft::{Asked, in_post, person, take_back};
use crate::decide::{look_first, nurse, set_up};
use crate::decision::Decision;
use crate::ids::Person;
use crate::message::{Answer, BUTTONS_MAX, Button, Look, Message, TAP_ID_MAX};
use crate::refusal::Refusal;
use crate::rules::hand_check::{Judgement, judge};
use crate::rules::plain::Understood;
use crate::say;
use crate::state::Life;
use crate::tap::{Echo, OneOf, Plain, Reading, Spoken, Tap};

/// A part of what one message said.
pub(super) enum Part<'u> {
    /// Echoed by itself.
    Alone(&'u Understood),
    /// Readings that are echoed in one message.
    Together(Vec<OneOf>),
}

/// What is echoed together, and what by itself, in the order in which it was said.
pub(super) fn parts<'u>(asked: &Asked<'_>, several: &'u [Understood]) -> Vec<Part<'u>> {
    let mut groups: Vec<Vec<(usize, OneOf)>> = Vec::new();
    for (place, what) in several.iter().enumerate() {
        let Some(one) = plain_reading(asked, what) else {
            continue;
        };
        match groups.last_mut().filter(|group| fits(asked, group, &one)) {
            Some(group) => group.push((place, one)),
            None => groups.push(vec![(place, one)]),
        }
    }
    // One by itself is no group.
    groups.retain(|group| group.len() > 1);
    let mut parts = Vec::new();
    for (place, what) in several.iter().enumerate() {
        let group = groups
            .iter()
            .find(|group| group.iter().any(|(of, _)| *of == place));
        match group {
            None => parts.push(Part::Alone(what)),
            Some(group) if group[0].0 == place => {
                let readings = group.iter().map(|(_, one)| one.clone()).collect();
                parts.push(Part::Together(readings));
            }
            Some(_) => {}
        }
    }
    parts
}

/// A reading that says nothing but the air, of a surface about which nothing else is open.
fn plain_reading(asked: &Asked<'_>, what: &Understood) -> Option<OneOf> {
    let Ok(Offer::Entry(echo, Spoken::Check(of))) = offer(asked, what) else {
        return None;
    };
    let alone = Reading::alone(of.air);
    let surface = asked.state.surfaces.get(&echo.tag)?;
    let judged = judge(of.air, band_of(asked.state, surface));
    let quiet = judged != Judgement::BottomedOut
        && matches!(surface.life, Life::Placed { .. })
        && surface.alarm.is_none()
        && surface.cpr.is_none()
        && surface.leave.is_none()
        && set_up::placed_list(surface).is_none();
    (of == alone && quiet).then_some(OneOf {
        seen: echo.seen,
        tag: echo.tag,
        air: of.air,
    })
}

/// Whether one tap carries this one as well.
fn fits(asked: &Asked<'_>, group: &[(usize, OneOf)], one: &OneOf) -> bool {
    let readings: Vec<OneOf> = group
        .iter()
        .map(|(_, one)| one.clone())
        .chain([one.clone()])
        .collect();
    // A nurse chooses a setting under a reading that is off: under one message for one surface.
    let off = readings.iter().filter(|one| is_off(asked, one)).count();
    if nurse::acts(asked) && off > 1 {
        return false;
    }
    readings.len() <= BUTTONS_MAX && tap(asked, readings).id().len() <= TAP_ID_MAX
}

/// Whether it is a reading, and not an adequate one.
fn is_off(asked: &Asked<'_>, one: &OneOf) -> bool {
    asked.state.surfaces.get(&one.tag).is_some_and(|surface| {
        matches!(
            judge(one.air, band_of(asked.state, surface)),
            Judgement::Low | Judgement::High | Judgement::BottomedOut
        )
    })
}

fn tap(asked: &Asked<'_>, readings: Vec<OneOf>) -> Tap {
    Tap::Plain(Plain::Together {
        who: asked.ask.who,
        at: asked.now.timestamp(),
        readings,
    })
}

fn spoken(one: &OneOf) -> Spoken {
    Spoken::Check(Reading::alone(one.air))
}

/// All of them, with one button.
pub(super) fn echo(asked: &Asked<'_>, readings: &[OneOf]) -> Message {
    let lang = asked.lang;
    let mut lines: Vec<String> = readings
        .iter()
        .map(|one| describe(asked, &one.tag, &spoken(one)))
        .collect();
    lines.push(say!(lang, "plain-echo", who = person(asked.ask.who)));
    let all = Button {
        id: tap(asked, readings.to_vec()).id(),
        label: say!(lang, "button-confirm-all", count = readings.len() as i64),
        look: Look::Main,
    };
    Message::text(lines.join("\n")).buttons(vec![all])
}

/// "Yes, record all": each is recorded as by itself. One that has something newer on record is said, and keeps none of the
/// others back.
pub(super) fn confirm(
    asked: &Asked<'_>,
    who: Person,
    at: i64,
    readings: &[OneOf],
) -> Result<Decision, Refusal> {
    if let Some(no) = not_confirmed(asked, who, at)? {
        return Ok(no);
    }
    let (state, lang) = (asked.state, asked.lang);
    let mut draft = asked.draft();
    let mut lines = vec![say!(lang, "plain-confirmed", who = person(who))];
    let mut back = Vec::new();
    let mut said_before = None;
    for one in readings {
        let echo = Echo {
            who,
            at,
            seen: one.seen,
            tag: one.tag.clone(),
        };
        // The same tap twice: what the card says of the first stays.
        if let Some(instead) = newer(asked, &echo, &spoken(one))? {
            lines.push(say!(
                lang,
                "plain-newer-one",
                surface = in_post(state, lang, &one.tag)
            ));
            said_before.get_or_insert(instead);
            continue;
        }
        match check::log_one(asked, &mut draft, &one.tag, one.air) {
            Ok(text) => {
                lines.push(text);
                back.push(&one.tag);
            }
            Err(no) => lines.push(no.say(lang)),
        }
    }
    if back.is_empty()
        && let Some(instead) = said_before
    {
        return Ok(instead);
    }
    let buttons = back
        .iter()
        .map(|tag| {
            let of = take_back(lang, &draft, tag);
            let name = in_post(state, lang, tag);
            Button {
                label: check::named_label(lang, &name, &of.label),
                ..of
            }
        })
        .collect();
    let mut message = Message::text(lines.join("\n"));
    for one in readings.iter().filter(|one| back.contains(&&one.tag)) {
        if let Some(surface) = state.surfaces.get(&one.tag) {
            message = nurse::rows(asked, &draft, &one.tag, surface, message);
        }
    }
    let message = message.buttons(buttons);
    Ok(look_first::in_its_place(
        draft.answer(Answer::Private(message)),
    ))
}
