//! An alarm's card and its calls, as they read now. Decides what each says and which buttons it has; leaves what is true of
//! the alarm to the rules that record it.

use chrono::{DateTime, Utc};

use super::{nobody, out_under_nobody, way_back};
use crate::choice::Cause;
use crate::decide::check;
use crate::decide::draft::{
    Asked, Draft, ago, button, clock_time, in_post, person, unit_channel, with_bed,
};
use crate::decide::which_bed::which_button;
use crate::decide::{look, look_first, pictures};
use crate::due::ladder;
use crate::ids::{AlarmNo, Tag};
use crate::message::{Look, Message};
use crate::record::{AlarmEnd, Fault};
use crate::rules::priority::{AlarmKind, Priority};
use crate::say;
use crate::state::{Alarm, EndedAlarm, Facility, Life, State, Surface};
use crate::tap::Tap;
use crate::words::Lang;

/// A card whose surface goes out of service under somebody says so; or says no more that it is.
pub(in crate::decide) fn edit_pulled(
    asked: &Asked<'_>,
    draft: &mut Draft,
    no: AlarmNo,
    open: &Alarm,
    pulled: Option<Fault>,
) {
    let lang = asked.state.lang();
    let message = lay_out(asked.state, lang, no, open, None, pulled, SeenBy::Channel);
    draft.edit(
        edit_key(no, draft.first().0),
        card_key(no),
        channel(asked.state, asked.facility, &open.tag),
        message,
    );
}

/// The card reads so from now on.
pub(crate) fn edit(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    no: AlarmNo,
    alarm: &Alarm,
    ended: Option<&EndedAlarm>,
) {
    let message = card(state, state.lang(), no, alarm, ended);
    let count = draft.first().0;
    draft.edit(
        edit_key(no, count),
        card_key(no),
        channel(state, facility, &alarm.tag),
        message,
    );
}

/// Every call of an alarm reads from now on what became of it, and has no buttons: those are on its card.
pub(crate) fn edit_calls(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    alarm: &Alarm,
    ended: Option<&EndedAlarm>,
) {
    edit_these(state, facility, draft, alarm, &alarm.calls, ended);
}

/// The newest call of an alarm, before a newer one takes its place. The older ones read so already.
pub(crate) fn edit_newest_call(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    alarm: &Alarm,
) {
    let newest = alarm.calls.last().map_or(&[][..], std::slice::from_ref);
    edit_these(state, facility, draft, alarm, newest, None);
}

pub(super) fn edit_these(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    alarm: &Alarm,
    calls: &[String],
    ended: Option<&EndedAlarm>,
) {
    let text = call_words(state, state.lang(), alarm, ended, draft.at);
    let count = draft.first().0;
    for call in calls {
        draft.edit(
            format!("{call}:{count}"),
            call.clone(),
            channel(state, facility, &alarm.tag),
            Message::text(text.clone()),
        );
    }
}

/// What became of a call.
fn call_words(
    state: &State,
    lang: Lang,
    alarm: &Alarm,
    ended: Option<&EndedAlarm>,
    now: DateTime<Utc>,
) -> String {
    let surface = in_post(state, lang, &alarm.tag);
    if let Some(ended) = ended {
        let end = say!(
            lang,
            end_key(ended.end),
            at = clock_time(ended.at),
            who = ended.who.map_or_else(String::new, person)
        );
        return say!(lang, "post-call-ended", surface = surface, end = end);
    }
    match (alarm.taken, alarm.left) {
        (Some((who, at)), _) => say!(
            lang,
            "post-call-taken",
            surface = surface,
            who = person(who),
            at = clock_time(at)
        ),
        (None, Some((who, at))) => say!(
            lang,
            "post-call-left",
            surface = surface,
            who = person(who),
            at = clock_time(at)
        ),
        (None, None) => say!(
            lang,
            "post-call-again",
            surface = surface,
            at = clock_time(now)
        ),
    }
}

/// An alarm's card.
pub(crate) fn card(
    state: &State,
    lang: Lang,
    no: AlarmNo,
    alarm: &Alarm,
    ended: Option<&EndedAlarm>,
) -> Message {
    let surface = state.surfaces.get(&alarm.tag);
    let pulled = surface.and_then(pulled_under);
    lay_out(state, lang, no, alarm, ended, pulled, SeenBy::Channel)
}

/// An alarm's card for whoever asks: it names the bed, and lets who is on the way say that they cannot go.
pub(in crate::decide) fn own_card(asked: &Asked<'_>, no: AlarmNo, alarm: &Alarm) -> Message {
    let (state, lang) = (asked.state, asked.lang);
    let pulled = state.surfaces.get(&alarm.tag).and_then(pulled_under);
    let message = lay_out(state, lang, no, alarm, None, pulled, SeenBy::One);
    match alarm.taken {
        Some((who, _)) if who == asked.ask.who => {
            message.and_button(way_back::cannot_go_button(lang, no))
        }
        Some(_) | None => message,
    }
}

/// Who reads a card.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum SeenBy {
    /// Everybody in the channel.
    Channel,
    /// Whoever asked for it.
    One,
}

/// What a surface is out of service for.
pub(in crate::decide) fn pulled_for(surface: &Surface) -> Option<Fault> {
    match &surface.life {
        Life::OutOfService { fault, .. } => Some(*fault),
        Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } | Life::Retired { .. } => None,
    }
}

/// What it is out of service for while somebody still lies on it: its alarm waits for another surface then.
pub(super) fn pulled_under(surface: &Surface) -> Option<Fault> {
    pulled_for(surface).filter(|_| !out_under_nobody(surface))
}

/// The card of an alarm whose surface is out of service, or is not.
pub(super) fn lay_out(
    state: &State,
    lang: Lang,
    no: AlarmNo,
    alarm: &Alarm,
    ended: Option<&EndedAlarm>,
    pulled: Option<Fault>,
    seen_by: SeenBy,
) -> Message {
    let kind = title(lang, alarm, ended, pulled);
    let mut lines = vec![say!(
        lang,
        "card-head",
        surface = match seen_by {
            SeenBy::Channel => in_post(state, lang, &alarm.tag),
            SeenBy::One => with_bed(state, lang, &alarm.tag),
        },
        kind = kind,
        priority = say!(lang, priority_key(alarm.priority))
    )];
    if let Some(unit) = state.unit_of(&alarm.tag) {
        lines.push(say!(lang, "card-unit", unit = unit.as_str()));
    }
    let (at, who) = (
        clock_time(alarm.opened),
        alarm.by.map_or_else(|| "loftwatch".to_owned(), person),
    );
    let power = alarm.kind == AlarmKind::Power;
    lines.push(match alarm.found {
        None => say!(lang, "card-reported", at = at, who = who),
        Some(found) => match found.since {
            Some(since) => say!(
                lang,
                if power {
                    "card-found-since"
                } else {
                    "card-mended-since"
                },
                at = at,
                who = who,
                since = clock_time(since)
            ),
            None if power => say!(lang, "card-found", at = at, who = who),
            None => say!(lang, "card-mended", at = at, who = who),
        },
    });
    if let Some(over) = alarm.shift_over {
        lines.push(say!(lang, "card-shift-over", at = clock_time(over)));
    }
    if ended.is_none()
        && let Some(line) = nobody::card_line(state, lang, &alarm.tag)
    {
        lines.push(line);
    }
    if let Some(note) = &alarm.note {
        lines.push(check::quoted(note).trim_start().to_owned());
    }
    match (alarm.taken, ended) {
        (Some((who, at)), _) => lines.push(say!(
            lang,
            "card-taken",
            who = person(who),
            at = clock_time(at)
        )),
        (None, None) => {
            let next = ladder::next_rung(state, alarm);
            let key = if alarm.left.is_some() {
                "card-nobody-again"
            } else {
                "card-nobody"
            };
            lines.push(say!(lang, key, at = clock_time(next.1), ago = ago(next.1)));
        }
        (None, Some(_)) => {}
    }
    match (alarm.safe, ended) {
        (Some((who, at)), _) => lines.push(say!(
            lang,
            "card-safe",
            who = person(who),
            at = clock_time(at)
        )),
        (None, None) => lines.push(say!(lang, "card-not-safe")),
        (None, Some(ended)) if ended.end == AlarmEnd::Fixed => {
            lines.push(say!(lang, "card-safe-never"));
        }
        (None, Some(_)) => {}
    }
    if let Some(cause) = alarm.cause {
        lines.push(say!(lang, "card-cause", cause = cause_words(lang, cause)));
    }
    if let Some(ended) = ended {
        let who = ended.who.map_or_else(String::new, person);
        lines.push(match &ended.is_at {
            Some(tag) => say!(
                lang,
                "card-end-is-at",
                at = clock_time(ended.at),
                surface = match seen_by {
                    SeenBy::Channel => in_post(state, lang, tag),
                    SeenBy::One => with_bed(state, lang, tag),
                },
                who = who
            ),
            None => say!(
                lang,
                end_key(ended.end),
                at = clock_time(ended.at),
                who = who
            ),
        });
        let message = Message::text(lines.join("\n"));
        // What was a mistake went no way that is worth a look.
        return match ended.end {
            AlarmEnd::TakenBack | AlarmEnd::WrongTag => message,
            AlarmEnd::Fixed | AlarmEnd::OutOfService | AlarmEnd::Released => {
                message.buttons(vec![pictures::alarm_button(lang, &alarm.tag, no)])
            }
        };
    }
    // What is kept for an inquiry is not to be touched. Whoever is on the way has the list; a card that is read again and
    // again is short from then on.
    let wanted = alarm.taken.is_none() || seen_by == SeenBy::One;
    let held = state
        .surfaces
        .get(&alarm.tag)
        .is_some_and(|surface| surface.hold.is_some());
    let held = held || pulled == Some(Fault::Inquiry);
    if !held && wanted {
        lines.push(look_first::short(lang, alarm.kind));
    }
    if let Some(fault) = pulled {
        let fault_words = say!(lang, look::fault_key(fault));
        lines.push(say!(lang, "card-pulled", fault = fault_words));
    }
    if held {
        lines.push(say!(lang, "card-held"));
    }
    let mut buttons = Vec::new();
    if alarm.taken.is_none() {
        buttons.push(button(
            lang,
            "button-take",
            Look::Main,
            &Tap::Take { alarm: no },
        ));
    }
    if alarm.safe.is_none() {
        buttons.push(button(
            lang,
            "button-safe",
            Look::Good,
            &Tap::Safe { alarm: no },
        ));
    }
    if pulled.is_none() {
        buttons.push(button(
            lang,
            "button-fixed",
            Look::Good,
            &Tap::Fixed { alarm: no },
        ));
        buttons.push(button(
            lang,
            "button-pull",
            Look::Caution,
            &Tap::Pull { alarm: no },
        ));
    }
    if nobody::is_under(state, &alarm.tag) {
        buttons.push(nobody::wrong_tag_button(lang, no));
    }
    if seen_by == SeenBy::Channel {
        buttons.extend(which_button(state, lang, &alarm.tag));
    }
    Message::text(lines.join("\n")).buttons(buttons)
}

/// What stands first on a card.
fn title(lang: Lang, alarm: &Alarm, ended: Option<&EndedAlarm>, pulled: Option<Fault>) -> String {
    let known = Known {
        kind: alarm.kind,
        cause: alarm.cause,
        taken: alarm.taken.is_some(),
        safe: alarm.safe.is_some(),
        over: ended.is_some(),
    };
    known.words(lang, pulled)
}

/// What is known of an alarm by now.
#[derive(Clone, Copy, Debug)]
pub(in crate::decide) struct Known {
    /// The newest kind.
    pub kind: AlarmKind,
    /// Its cause, once that was found.
    pub cause: Option<Cause>,
    /// Whether somebody is on the way.
    pub taken: bool,
    /// Whether the resident is safe.
    pub safe: bool,
    /// Whether it is over.
    pub over: bool,
}

impl Known {
    /// What it is called: its kind, and where that was never said, what is known by now. `pulled` as for [`kind_words_where`].
    pub(in crate::decide) fn words(self, lang: Lang, pulled: Option<Fault>) -> String {
        if self.kind != AlarmKind::Unknown {
            return kind_words_where(lang, self.kind, pulled);
        }
        if let Some(cause) = self.cause {
            return say!(lang, "title-cause", cause = cause_words(lang, cause));
        }
        let key = if self.over {
            "title-over"
        } else if self.safe {
            "title-safe"
        } else if self.taken {
            "title-taken"
        } else {
            return kind_words(lang, self.kind);
        };
        say!(lang, key)
    }
}

/// The key of an alarm's card in the outbox.
pub(crate) fn card_key(no: AlarmNo) -> String {
    format!("alarm:{no}")
}

fn edit_key(no: AlarmNo, record: u64) -> String {
    format!("alarm:{no}:card:{record}")
}

/// The channel of a surface's unit.
pub(crate) fn channel(state: &State, facility: &Facility, tag: &Tag) -> crate::ids::Channel {
    unit_channel(state, facility, state.unit_of(tag))
}

/// What an alarm is, in words.
pub(crate) fn kind_words(lang: Lang, kind: AlarmKind) -> String {
    say!(lang, &format!("kind-{}", kind.as_str()))
}

/// What the alarm is of a surface that is out of service for `pulled`. What is kept for an inquiry need not have a fault.
pub(in crate::decide) fn kind_words_where(
    lang: Lang,
    kind: AlarmKind,
    pulled: Option<Fault>,
) -> String {
    if kind == AlarmKind::Fault && pulled == Some(Fault::Inquiry) {
        return say!(lang, "kind-kept");
    }
    kind_words(lang, kind)
}

/// What it turned out to be, in words.
pub(crate) fn cause_words(lang: Lang, cause: Cause) -> String {
    say!(lang, &format!("cause-{}", cause.as_str()))
}

pub(in crate::decide) fn priority_key(priority: Priority) -> &'static str {
    match priority {
        Priority::High => "priority-high",
        Priority::Medium => "priority-medium",
        Priority::Low => "priority-low",
    }
}

fn end_key(end: AlarmEnd) -> &'static str {
    match end {
        AlarmEnd::Fixed => "card-end-fixed",
        AlarmEnd::OutOfService => "card-end-out-of-service",
        AlarmEnd::Released => "card-end-released",
        AlarmEnd::TakenBack => "card-end-taken-back",
        AlarmEnd::WrongTag => "card-end-wrong-tag",
    }
}

/// How long an alarm has been open, in whole minutes.
pub(crate) fn minutes_open(alarm: &Alarm, now: DateTime<Utc>) -> i64 {
    (now - alarm.opened).num_minutes()
}
