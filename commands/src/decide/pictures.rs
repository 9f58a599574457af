//! The pictures behind the buttons of a surface's card: its readings at its present placement, and how an alarm of it
//! went, which the card of one that is over has too. Decides which entries of the log are in them; leaves what is drawn of these to [`crate::picture`]. They are for
//! whoever asked alone, and name tags only, because a picture is passed on more easily than a message.

use chrono::{DateTime, Utc};

use super::alarm::{Known, pulled_for};
use super::check::band_of;
use super::draft::{Asked, button};
use crate::choice::Action;
use crate::decision::Decision;
use crate::ids::{AlarmNo, RecordNo, Tag};
use crate::message::{Button, Look, Message};
use crate::past::{self, Entry, Wanted};
use crate::picture::alarms::{Alarm, Step};
use crate::picture::axis::day_time;
use crate::picture::readings::{Checked, Event, Readings};
use crate::picture::{self, RowMarkKind, Upright};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::rules::hand_check::{Air, Check};
use crate::say;
use crate::state::Surface;
use crate::tap::{self, Tap};
use crate::words::Lang;

/// Fewer readings are as easily read as drawn.
const READINGS_LEAST: usize = 3;

/// The button under a surface's card, where there is something to draw.
pub(super) fn card_button(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Option<Button> {
    let checked = asked.state.profile_of(surface).check != Check::None;
    let tap = Tap::Entry(tap::Entry::Readings { tag: tag.clone() });
    (checked && surface.checks.len() >= READINGS_LEAST)
        .then(|| button(asked.lang, "button-picture", Look::Plain, &tap))
}

/// A surface's readings since it was placed; since its newest placement where it is under no bed.
pub(super) fn readings(asked: &Asked<'_>, typed: &str) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let read = match asked.past.whole(&Wanted::Surface(tag.clone())) {
        Ok(read) => read,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let lang = asked.lang;
    let mut entries = past::entries(&read);
    entries.sort_by_key(|entry| (entry.at, entry.record.no));
    let about = |entry: &Entry<'_>| entry.counts().and_then(Body::surface) == Some(tag);
    let placed = entries
        .iter()
        .filter(|entry| about(entry))
        .filter(|entry| matches!(entry.counts(), Some(Body::Placed { .. })))
        .map(|entry| entry.at)
        .next_back();
    let there: Vec<&Entry<'_>> = entries
        .iter()
        .filter(|entry| about(entry) && placed.is_none_or(|since| entry.at >= since))
        .collect();
    let local = |at: DateTime<Utc>| asked.facility.zone.local(at);
    let checks: Vec<Checked> = there
        .iter()
        .filter_map(|entry| {
            let Body::HandChecked {
                air, judged, felt, ..
            } = entry.counts()?
            else {
                return None;
            };
            Some(Checked {
                at: local(entry.at),
                air: *air,
                judged: *judged,
                felt: *felt || *air == Air::Within,
            })
        })
        .collect();
    let surface_name = asked.with_bed(tag);
    let (Some(first), Some(last)) = (checks.first(), checks.last()) else {
        return Ok(Decision::private(Message::text(say!(
            lang,
            "picture-nothing",
            surface = surface_name,
            tag = tag.as_str()
        ))));
    };
    let under_bed = surface.bed().is_some();
    let events = there.iter().filter_map(|entry| {
        let (kind, words) = match alarm_words(asked, surface, &entries, entry) {
            Some(words) => (Upright::Alarm, words),
            None => event(lang, entry.counts()?)?,
        };
        Some(Event {
            at: local(entry.at),
            kind,
            words,
        })
    });
    let picture = picture::readings(
        lang,
        &Readings {
            tag,
            check: asked.state.profile_of(surface).check,
            band: band_of(asked.state, surface),
            from: placed.map_or(first.at, |at| local(at).min(first.at)),
            to: if under_bed { local(asked.now) } else { last.at },
            checks: checks.clone(),
            events: events.collect(),
            trend: None,
            left_out: 0,
        },
    );
    let key = if under_bed {
        "picture-said"
    } else {
        "picture-said-no-bed"
    };
    let text = say!(
        lang,
        key,
        surface = surface_name,
        count = checks.len() as i64
    );
    let mut message = Message::text(text);
    message.picture = Some(Box::new(picture));
    if last_alarm(&entries, tag).is_some() {
        let tap = Tap::Entry(tap::Entry::Alarm {
            tag: tag.clone(),
            of: None,
        });
        message = message.buttons(vec![button(
            lang,
            "button-picture-alarm",
            Look::Plain,
            &tap,
        )]);
    }
    Ok(Decision::private(message))
}

/// What stands as a line among the readings, but for alarms.
fn event(lang: Lang, body: &Body) -> Option<(Upright, String)> {
    if let Body::SettingSet { setting, .. } = body {
        let words = say!(lang, "picture-setting", setting = setting.as_str());
        return Some((Upright::Setting, words));
    }
    if let Body::FilterLooked { action, .. } = body {
        let done = say!(lang, &format!("action-{}", action.as_str()));
        let words = say!(lang, "picture-filter", action = done);
        return (*action != Action::Left).then_some((Upright::Upkeep, words));
    }
    let key = if matches!(body, Body::Placed { .. }) {
        "picture-placed"
    } else if matches!(body, Body::Moved { .. }) {
        "picture-moved"
    } else {
        return None;
    };
    Some((Upright::Moved, say!(lang, key)))
}

/// The button under the card of an alarm that is over.
pub(super) fn alarm_button(lang: Lang, tag: &Tag, of: AlarmNo) -> Button {
    let tap = Tap::Entry(tap::Entry::Alarm {
        tag: tag.clone(),
        of: Some(RecordNo(of.0)),
    });
    button(lang, "button-picture", Look::Plain, &tap)
}

/// How an alarm of a surface went: the last one where none is named.
pub(super) fn alarm(
    asked: &Asked<'_>,
    typed: &str,
    of: Option<RecordNo>,
) -> Result<Decision, Refusal> {
    let (tag, on_record) = asked.surface(typed)?;
    let read = match asked.past.whole(&Wanted::Surface(tag.clone())) {
        Ok(read) => read,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let lang = asked.lang;
    let entries = past::entries(&read);
    let surface = asked.with_bed(tag);
    let opened = match of {
        None => last_alarm(&entries, tag),
        Some(of) => alarms(&entries, tag).find(|entry| entry.record.no == of),
    };
    let Some(opened) = opened else {
        let text = say!(lang, "picture-alarm-none", surface = surface);
        return Ok(Decision::private(Message::text(text)));
    };
    let mut ended = false;
    let mut steps = Vec::new();
    for entry in &entries {
        let Some(body) = entry.counts() else { continue };
        if body.alarm().map(|alarm| RecordNo(alarm.0)) != Some(opened.record.no) {
            continue;
        }
        let Some(step) = step(body) else { continue };
        ended |= step == RowMarkKind::Fixed;
        steps.push(Step {
            after: (entry.at - opened.at).num_seconds(),
            kind: step,
        });
    }
    let at = day_time(lang, asked.facility.zone.local(opened.at));
    let kind = alarm_words(asked, on_record, &entries, opened).unwrap_or_default();
    let one = Alarm {
        name: say!(
            lang,
            "picture-alarm-name",
            tag = tag.as_str(),
            kind = kind,
            at = at
        ),
        steps,
        open_for: (!ended).then(|| (asked.now - opened.at).num_seconds()),
    };
    let mut message = Message::text(say!(lang, "picture-alarm-said", surface = surface));
    message.picture = Some(Box::new(picture::alarms(lang, tag.as_str(), &[one])));
    Ok(Decision::private(message))
}

/// What an alarm is called by now, as its card has it: not by what was known when it was raised.
fn alarm_words(
    asked: &Asked<'_>,
    surface: &Surface,
    entries: &[Entry<'_>],
    opened: &Entry<'_>,
) -> Option<String> {
    let Body::AlarmOpened { kind, .. } = opened.counts()? else {
        return None;
    };
    let mut known = Known {
        kind: *kind,
        cause: None,
        taken: false,
        safe: false,
        over: false,
    };
    let of = |body: &Body| body.alarm().map(|alarm| RecordNo(alarm.0)) == Some(opened.record.no);
    for body in entries
        .iter()
        .filter_map(Entry::counts)
        .filter(|body| of(body))
    {
        if let Body::AlarmNamed { kind, .. } = body {
            known.kind = *kind;
        } else if let Body::AlarmCause { cause, .. } = body {
            known.cause = Some(*cause);
        } else if let Body::AlarmTaken { .. } = body {
            known.taken = true;
        } else if let Body::AlarmGivenUp { .. } | Body::LadderRestarted { .. } = body {
            known.taken = false;
        } else if let Body::ResidentSafe { .. } = body {
            known.safe = true;
        } else if let Body::NotSafeYet { .. } = body {
            known.safe = false;
        } else if let Body::AlarmClosed { .. } = body {
            known.over = true;
        }
    }
    let pulled = pulled_for(surface).filter(|_| !known.over);
    Some(known.words(asked.lang, pulled))
}

/// What a record is among the steps of its alarm.
fn step(body: &Body) -> Option<RowMarkKind> {
    if matches!(body, Body::AlarmAsked { .. }) {
        Some(RowMarkKind::Asked)
    } else if matches!(body, Body::LadderRestarted { .. }) {
        Some(RowMarkKind::Again)
    } else if matches!(body, Body::AlarmTaken { .. }) {
        Some(RowMarkKind::Taken)
    } else if matches!(body, Body::ResidentSafe { .. }) {
        Some(RowMarkKind::Safe)
    } else if matches!(body, Body::AlarmClosed { .. }) {
        Some(RowMarkKind::Fixed)
    } else {
        None
    }
}

/// The newest alarm of a surface that was not taken back.
fn last_alarm<'a, 'r>(entries: &'a [Entry<'r>], tag: &'a Tag) -> Option<&'a Entry<'r>> {
    alarms(entries, tag).max_by_key(|entry| (entry.at, entry.record.no))
}

/// The alarms of a surface that were not taken back.
fn alarms<'a, 'r>(entries: &'a [Entry<'r>], tag: &'a Tag) -> impl Iterator<Item = &'a Entry<'r>> {
    entries.iter().filter(
        move |entry| matches!(entry.counts(), Some(Body::AlarmOpened { tag: of, .. }) if of == tag),
    )
}
