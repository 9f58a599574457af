//! Handovers: read, and accepted by the next shift. Decides who may accept which, and what that ends; leaves what is said
//! in one to `due::handover`.

use chrono::{DateTime, TimeDelta, Utc};

use super::Notice;
use super::draft::{Asked, button, clock_time, find_unit, person, unit_channel};
use super::duty::{have_button, role_word, whole_house};
use crate::choice::Call;
use crate::decision::Decision;
use crate::due::{self, calls, handover as text};
use crate::ids::{HandoverNo, Unit};
use crate::message::{Answer, Look, Message};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::say;
use crate::state::{Facility, Handover, State};
use crate::tap::{Duty, Tap};
use crate::words::Lang;

/// How long after the end of its shift a handover waits for somebody to take it over.
const WAITS_HOURS: i64 = 4;

/// The handover of a unit that nobody has accepted, while it still waits.
fn open<'a>(state: &'a State, unit: Option<&Unit>, now: DateTime<Utc>) -> Option<&'a Handover> {
    let of = state.duty.handover(unit)?;
    let until = due::next_shift(state, of.shift) + TimeDelta::hours(WAITS_HOURS);
    (of.accepted.is_none() && now < until).then_some(of)
}

/// The handover that waits for the asker, who has just come on duty.
pub(super) fn waiting(asked: &Asked<'_>, unit: Option<&Unit>) -> Option<HandoverNo> {
    open(asked.state, unit, asked.now).map(|of| of.no)
}

/// `/handover`: the one that waits, or how the present shift would hand over.
pub(super) fn handover(asked: &Asked<'_>, typed: Option<&str>) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let unit = match typed {
        Some(typed) if whole_house(typed) => None,
        typed => asked.unit(typed)?,
    };
    let may = Right::HandOver.roles().contains(&asked.role);
    if let Some(of) = open(state, unit, asked.now) {
        let mut message = text::card(state, lang, of, asked.now);
        if !may {
            message = without_accept(message);
            let waits = say!(lang, "handover-waits-for");
            message.text = format!("{}\n{waits}", message.text);
        }
        return Ok(Decision::private(message));
    }
    let from = due::shift_start(state, asked.now);
    let shift = text::Shift::of(state, unit, from, asked.now);
    let (mut message, more) = shift.message(state, lang, true);
    let mut buttons = Vec::new();
    if let Some(of) = newest(state, unit, from) {
        message.text = format!("{}\n{}", message.text, how_it_stands(lang, of));
        if of.accepted.is_none() && may {
            let tap = Tap::Duty(Duty::Accept { handover: of.no });
            buttons.push(button(lang, "button-accept-of", Look::Good, &tap));
        }
    }
    if more {
        buttons.push(text::rest_button(lang, unit, from, 0));
    }
    Ok(Decision::private(message.buttons(buttons)))
}

/// The handover from the shift before to the one that is read, or of that one already.
fn newest<'a>(state: &'a State, unit: Option<&Unit>, from: DateTime<Utc>) -> Option<&'a Handover> {
    let of = state.duty.handover(unit)?;
    (due::next_shift(state, of.shift) >= from).then_some(of)
}

/// Whether that was taken over, by whom and when.
fn how_it_stands(lang: Lang, of: &Handover) -> String {
    match of.accepted {
        Some((who, role, at)) => say!(
            lang,
            "handover-accepted-of",
            of = clock_time(of.at),
            at = clock_time(at),
            who = person(who),
            role = role_word(lang, role)
        ),
        None => say!(lang, "handover-not-accepted-of", of = clock_time(of.at)),
    }
}

/// Whoever may only read is not offered what they may not do.
fn without_accept(mut message: Message) -> Message {
    for row in &mut message.rows {
        if let crate::message::Row::Buttons(buttons) = row {
            buttons.retain(|button| !button.id.starts_with("duty|accept"));
        }
    }
    message
        .rows
        .retain(|row| !matches!(row, crate::message::Row::Buttons(buttons) if buttons.is_empty()));
    message
}

/// "The rest": what did not fit, as it stands now, a message at a time; each but the last opens the next.
pub(super) fn rest(
    asked: &Asked<'_>,
    unit: Option<&Unit>,
    shift: i64,
    part: u16,
) -> Result<Decision, Refusal> {
    let unit = unit
        .map(|unit| find_unit(asked.state, unit.as_str()))
        .transpose()?;
    let from = DateTime::from_timestamp(shift.saturating_mul(60), 0)
        .filter(|from| *from <= asked.now)
        .ok_or_else(|| Refusal::new("fault-stale-tap"))?;
    let lang = asked.lang;
    let rest = text::Shift::of(asked.state, unit, from, asked.now).rest(asked.state, lang);
    let parts = text::parts(&rest);
    // There may be less of it by now than when its button was made.
    let last = u16::try_from(parts.len().saturating_sub(1)).unwrap_or(u16::MAX);
    let part = part.min(last);
    let mut parts = parts.into_iter().skip(usize::from(part));
    let Some(lines) = parts.next() else {
        return Ok(Decision::private(Message::text(say!(
            lang,
            "handover-no-rest"
        ))));
    };
    let mut said = lines.join("\n");
    let left: usize = parts.map(|lines| lines.len()).sum();
    if left == 0 {
        return Ok(Decision::private(Message::text(said)));
    }
    said.push('\n');
    said.push_str(&say!(lang, "handover-rest", count = left as i64));
    let next = text::rest_button(lang, unit, from, part + 1);
    Ok(Decision::private(Message::text(said).buttons(vec![next])))
}

/// "I take over".
pub(super) fn accept(asked: &Asked<'_>, no: HandoverNo) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let known = state.duty.handovers.iter().find(|of| of.no == no);
    let Some(of) = known else {
        return Err(Refusal::new("fault-handover-newer"));
    };
    let unit = of.unit.as_ref();
    let end = due::next_shift(state, of.shift);
    if let Some((who, role, at)) = of.accepted {
        return Err(Refusal::new("fault-handover-accepted")
            .text("who", person(who))
            .text("at", clock_time(at))
            .keys("role", [format!("role-{}", role.as_str())]));
    }
    // It is for whoever comes, and not for whoever goes.
    let mine = || {
        state
            .duty
            .of(asked.ask.who, asked.now)
            .filter(|duty| duty.covers(unit))
    };
    if mine().next().is_some() && mine().all(|duty| duty.until <= end) {
        return Err(Refusal::new("fault-handover-own").text("at", clock_time(end)));
    }
    let mut draft = asked.draft();
    draft.fact(Body::HandoverAccepted { handover: no });
    let accepted = Handover {
        accepted: Some((asked.ask.who, asked.role, asked.now)),
        ..of.clone()
    };
    let post_lang = state.lang();
    let channel = match unit {
        Some(_) => unit_channel(state, asked.facility, unit),
        None => asked.facility.supervisor_channel,
    };
    draft.edit(
        format!("{}:{}", text::key(no), draft.first()),
        text::key(no),
        channel,
        text::card(state, post_lang, &accepted, asked.now),
    );
    if let Some(unit) = unit {
        let on = On::Unit(unit.clone());
        if let Some(booking) = state.booking(&on, Call::Handover) {
            draft.fact(Body::Unbooked {
                on,
                call: Call::Handover,
            });
            if let Some(post) = calls::newest_post(Call::Handover, booking) {
                let said = say!(
                    post_lang,
                    "post-handover-accepted",
                    unit = unit.as_str(),
                    who = person(asked.ask.who),
                    role = role_word(post_lang, asked.role),
                    at = clock_time(asked.now)
                );
                draft.edit(
                    format!("{post}:{}", draft.first()),
                    post,
                    channel,
                    Message::text(said),
                );
            }
        }
    }
    let said = match unit {
        Some(unit) => say!(lang, "handover-yours", unit = unit.as_str()),
        None => say!(lang, "handover-yours-all"),
    };
    let message = Message::text(said);
    let message = if mine().next().is_some() {
        message
    } else {
        let until = due::next_shift(state, end.max(asked.now));
        message.buttons(vec![have_button(state, lang, unit, until)])
    };
    Ok(draft.answer(Answer::Private(message)))
}

/// Nobody has accepted it in time.
pub(super) fn notice(state: &State, facility: &Facility, unit: &Unit) -> Option<Notice> {
    let of = state
        .duty
        .handover(Some(unit))
        .filter(|of| of.accepted.is_none())?;
    let lang = state.lang();
    let text = say!(
        lang,
        "post-handover-waits",
        unit = unit.as_str(),
        at = clock_time(of.at)
    );
    let accept = button(
        lang,
        "button-accept",
        Look::Good,
        &Tap::Duty(Duty::Accept { handover: of.no }),
    );
    Some(Notice {
        channel: unit_channel(state, facility, Some(unit)),
        message: Message::text(text).buttons(vec![accept]),
    })
}
