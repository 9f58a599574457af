//! Taking back what one just did, within the minutes of the home's policy. Decides who may and until when; what was
//! recorded stays in the log, and the new record names it.

use chrono::TimeDelta;

use super::draft::{Asked, Draft, in_post, person};
use super::{alarm, set_up, stock};
use crate::decision::Decision;
use crate::ids::{AlarmNo, Bed, RecordNo, Tag};
use crate::message::Message;
use crate::record::{AlarmEnd, Body};
use crate::refusal::Refusal;
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;
use crate::say;
use crate::state::Surface;

/// The button under an entry.
pub(super) fn take_back(
    asked: &Asked<'_>,
    first: RecordNo,
    tag: &Tag,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let Some(before) = surface
        .before
        .as_ref()
        .filter(|before| before.first == first)
    else {
        return Err(Refusal::new("fault-take-back-newer").text("tag", tag));
    };
    if before.who != Some(asked.ask.who) {
        return Err(Refusal::new("fault-take-back-other"));
    }
    let minutes = asked.state.policies.get(Name::TakeBack);
    if asked.now - before.entered > TimeDelta::minutes(minutes) {
        return Err(Refusal::new("fault-take-back-late").number("minutes", minutes));
    }
    let back = before.surface.bed();
    let mut swapped = None;
    if back != surface.bed() {
        if surface.instead_of.is_some() && surface.instead_of != before.surface.instead_of {
            swapped = Some(swapped_out(asked, first, tag, surface)?);
        }
        if let Some((bed, other)) = back.and_then(|bed| asked.state.under.get_key_value(bed)) {
            return Err(Refusal::new("fault-take-back-bed")
                .text("bed", bed)
                .text("tag", other));
        }
    }
    // The alarm was closed because nobody lay on it any more: a record of its own, which others have read.
    if before.surface.alarm.is_some() && surface.alarm.is_none() {
        return Err(Refusal::new("fault-take-back-alarm").text("tag", tag));
    }
    // The alarm that the entry opened ends with it, unless somebody is already on the way because of it.
    let mut draft = asked.draft();
    if let Some(no) = surface
        .alarm
        .filter(|no| is_of(*no, first, before.surface.alarm))
        && let Some(open) = asked.state.alarms.get(&no)
    {
        if open.taken.is_some_and(|(who, _)| who != asked.ask.who) {
            return Err(Refusal::new("fault-take-back-taken").text("tag", tag));
        }
        alarm::end(asked, &mut draft, no, open, AlarmEnd::TakenBack);
    }
    // Nurses were called for a low reading: the call says that it was a mistake.
    let called = surface
        .last_check()
        .is_some_and(|check| check.no == first && check.judged == Judgement::Low);
    if called && before.surface.alarm.is_none() {
        let lang = asked.state.lang();
        let text = say!(
            lang,
            "post-low-taken-back",
            surface = in_post(asked.state, lang, tag),
            who = person(asked.ask.who)
        );
        let channel = alarm::channel(asked.state, asked.facility, tag);
        draft.edit(
            format!("low:{first}:back"),
            format!("low:{first}"),
            channel,
            Message::text(text),
        );
    }
    let pulled =
        alarm::pulled_for(surface).is_some() && alarm::pulled_for(&before.surface).is_none();
    if pulled {
        back_in_service(asked, &mut draft, first, tag, &before.surface);
    }
    stock::filter_back(asked.state, &mut draft, surface, &before.surface, first);
    draft.fact(Body::TakenBack {
        first,
        tag: tag.clone(),
    });
    let mut lines = Vec::new();
    let name = match back {
        Some(bed) => set_up::name_at(asked.lang, tag, bed),
        None => tag.to_string(),
    };
    lines.push(say!(asked.lang, "taken-back", surface = name));
    if let Some((old, bed)) = swapped {
        draft.fact(Body::TakenBack {
            first,
            tag: old.clone(),
        });
        let name = set_up::name_at(asked.lang, old, bed);
        lines.push(say!(asked.lang, "taken-back-swap", surface = name));
    }
    Ok(draft.private(Message::text(lines.join("\n"))))
}

/// The surface whose place was taken in this entry, and the bed it goes back to with it.
fn swapped_out<'a>(
    asked: &Asked<'a>,
    first: RecordNo,
    tag: &Tag,
    surface: &Surface,
) -> Result<(&'a Tag, &'a Bed), Refusal> {
    let newer = || Refusal::new("fault-take-back-swap").text("tag", tag);
    let old = surface.instead_of.as_ref().ok_or_else(newer)?;
    let (old, there) = asked.surface(old.as_str())?;
    let before = there
        .before
        .as_ref()
        .filter(|before| before.first == first)
        .ok_or_else(newer)?;
    if before.surface.alarm.is_some() && there.alarm.is_none() {
        return Err(Refusal::new("fault-take-back-alarm").text("tag", old));
    }
    let bed = before.surface.bed().ok_or_else(newer)?;
    Ok((old, bed))
}

/// Out of service no more: what was posted of it says so, and an alarm that was open before is as it was.
fn back_in_service(
    asked: &Asked<'_>,
    draft: &mut Draft,
    first: RecordNo,
    tag: &Tag,
    before: &Surface,
) {
    let (state, lang) = (asked.state, asked.state.lang());
    let open = before
        .alarm
        .and_then(|no| Some((no, state.alarms.get(&no)?)));
    // Where the pull opened an alarm itself, that alarm's card was the post.
    if open.is_some() || before.bed().is_none() {
        let text = say!(
            lang,
            "post-pull-taken-back",
            surface = in_post(state, lang, tag),
            who = person(asked.ask.who)
        );
        draft.edit(
            format!("pulled:{first}:back"),
            format!("pulled:{first}"),
            alarm::channel(state, asked.facility, tag),
            Message::text(text),
        );
    }
    if let Some((no, open)) = open {
        alarm::edit_pulled(asked, draft, no, open, None);
    }
}

/// Whether this entry opened the alarm: it was not there before.
fn is_of(alarm: AlarmNo, first: RecordNo, before: Option<AlarmNo>) -> bool {
    before != Some(alarm) && alarm.0 >= first.0
}
