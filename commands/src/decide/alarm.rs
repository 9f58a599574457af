//! Alarms: raised, taken, made safe, fixed, put out of service. Decides who is told what and when the
//! ladder stops; leaves its rungs and its starting again to `due`, which the clock asks.

mod card;
mod fixed;
pub(super) mod found;
pub(crate) mod nobody;
pub(super) mod way_back;

use chrono::{DateTime, Utc};

pub(super) use card::{Known, edit_pulled, kind_words_where, own_card, priority_key, pulled_for};
pub(crate) use card::{
    card, card_key, cause_words, channel, edit, edit_calls, edit_newest_call, kind_words,
    minutes_open,
};
pub(super) use fixed::{caused, fixed, fixed_air, fixed_typed, type_it};

use card::{SeenBy, edit_these, lay_out, pulled_under};

use super::draft::{Asked, Draft, button, clock_time, in_post, person, take_back};
use super::look_first;
use super::which_bed::which_button;
use super::{nurse, spare};
use crate::choice::Cause;
use crate::decision::{Decision, Lane};
use crate::due::{asking, ladder};
use crate::ids::{AlarmNo, Tag};
use crate::message::{Look, Menu, MenuEntry, Message};
use crate::record::{AlarmEnd, Body, Fault, Found, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::Role;
use crate::rules::policy::Name;
use crate::rules::priority::{AlarmKind, Priority, alarm_priority};
use crate::say;
use crate::state::{Alarm, Called, EndedAlarm, Life, Surface, worse_key};
use crate::tap::Tap;
use crate::words::Lang;

/// `/alarm`.
pub(super) fn raise(
    asked: &Asked<'_>,
    typed: &str,
    kind: Option<AlarmKind>,
    note: Option<String>,
) -> Result<Decision, Refusal> {
    raise_because(asked, typed, kind, note, None)
}

/// As [`raise`], by somebody who knows what it is and says so with it.
pub(super) fn raise_because(
    asked: &Asked<'_>,
    typed: &str,
    kind: Option<AlarmKind>,
    note: Option<String>,
    cause: Option<Cause>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let note = asked.guarded(note)?;
    if matches!(surface.life, Life::Retired { .. }) {
        return Err(Refusal::new("fault-retired").text("tag", tag));
    }
    if let Some(mark) = &surface.cpr
        && asked.state.quiet_at(tag, asked.now)
    {
        return Ok(super::cpr::expected(asked, tag, mark));
    }
    if let Some(no) = surface.alarm
        && let Some(open) = asked.state.alarms.get(&no)
    {
        // Two people at one beeping bed: one alarm, and whoever knows more says so.
        if let Some(kind) =
            kind.filter(|kind| open.kind == AlarmKind::Unknown && *kind != AlarmKind::Unknown)
        {
            return name(asked, no, kind);
        }
        let said = say!(
            asked.lang,
            "alarm-open-already",
            surface = asked.with_bed(tag),
            at = clock_time(open.opened)
        );
        let mut message = own_card(asked, no, open);
        let lost = note
            .map(|_| format!("\n{}", say!(asked.lang, "alarm-note-not-kept")))
            .unwrap_or_default();
        message.text = format!("{said}{lost}\n\n{}", message.text);
        return Ok(Decision::private(message));
    }
    let kind = kind.unwrap_or(AlarmKind::Unknown);
    let priority = priority_of(kind, surface, asked.now);
    let mut draft = asked.draft();
    let no = open_because(asked, &mut draft, tag, (kind, priority), note, cause);
    let message = raised(asked, (tag, surface), no, kind);
    let back = take_back(asked.lang, &draft, tag);
    Ok(draft.private(message.and_button(back)))
}

/// What whoever reported an alarm reads: that it is open, what to look at, and what they may tap.
fn raised(
    asked: &Asked<'_>,
    (tag, surface): (&Tag, &Surface),
    no: AlarmNo,
    kind: AlarmKind,
) -> Message {
    let lang = asked.lang;
    // What stands under nobody has no unit to call.
    let key = if asked.state.unit_of(tag).is_some() {
        "alarm-raised"
    } else {
        "alarm-raised-nowhere"
    };
    let mut lines = vec![say!(lang, key, surface = asked.with_bed(tag))];
    lines.extend(nobody::raised_line(asked, tag));
    // What is kept for an inquiry is not to be touched.
    if surface.hold.is_some() {
        lines.push(say!(lang, "alarm-held"));
    } else {
        lines.push(look_first::short(lang, kind));
    }
    lines.push(say!(lang, "alarm-caution"));
    let mut message = Message::text(lines.join("\n"));
    if kind == AlarmKind::Unknown {
        message = message.menu(kind_menu(lang, no));
    }
    // Whoever may only report is not offered what they may not do.
    let mut buttons = Vec::new();
    if Right::AnswerAlarm.roles().contains(&asked.role) {
        buttons.push(button(
            lang,
            "button-take",
            Look::Main,
            &Tap::Take { alarm: no },
        ));
        buttons.push(button(
            lang,
            "button-safe",
            Look::Good,
            &Tap::Safe { alarm: no },
        ));
    }
    if surface.bed().is_none() {
        buttons.push(nobody::wrong_tag_button(lang, no));
    }
    message.buttons(buttons)
}

/// Opens an alarm: the fact, the card in the unit's channel with its ping, minute 0 of the ladder.
pub(super) fn open(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    kind: AlarmKind,
    priority: Priority,
    note: Option<String>,
) -> AlarmNo {
    open_because(asked, draft, tag, (kind, priority), note, None)
}

fn open_because(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    (kind, priority): (AlarmKind, Priority),
    note: Option<String>,
    cause: Option<Cause>,
) -> AlarmNo {
    // Bottomed out cannot wait for the first rung: the nurse is called at once.
    let rung = match kind {
        AlarmKind::BottomedOut => 1,
        AlarmKind::Unknown
        | AlarmKind::LowPressure
        | AlarmKind::Power
        | AlarmKind::HighPressure
        | AlarmKind::Fault => first_rung(asked, tag),
    };
    let begun = Begun {
        kind,
        priority,
        note,
        pulled: None,
        cause,
    };
    begin(asked, draft, tag, begun, ladder::rung_roles(rung))
}

/// Whoever reports an alarm knows of it: where nobody else would be asked at once, the next rung is asked in that place.
fn first_rung(asked: &Asked<'_>, tag: &Tag) -> u32 {
    let unit = asked.state.unit_of(tag);
    let asks = asking::safety(asked.state, unit, ladder::rung_roles(0), asked.now);
    let knows = Called {
        roles: Vec::new(),
        people: vec![(asked.ask.who, asked.role)],
    };
    u32::from(knows.covers(&asks.called))
}

/// The alarm of a surface that goes out of service under somebody: it stays open until they lie on another one.
pub(super) fn open_pulled(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    kind: AlarmKind,
    fault: Fault,
    note: Option<String>,
) {
    let priority = alarm_priority(kind, true, false, false);
    let begun = Begun {
        kind,
        priority,
        note,
        pulled: Some(fault),
        cause: None,
    };
    begin(asked, draft, tag, begun, &[Role::Nurse, Role::Upkeep]);
}

/// An alarm that begins.
struct Begun {
    kind: AlarmKind,
    priority: Priority,
    note: Option<String>,
    /// What its surface goes out of service for with it.
    pulled: Option<Fault>,
    /// What it is, where whoever reports it says so.
    cause: Option<Cause>,
}

/// The fact, and the card that calls these roles.
fn begin(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, begun: Begun, roles: &[Role]) -> AlarmNo {
    let pulled = begun.pulled;
    let (no, alarm) = fact(asked, draft, tag, begun, None);
    let lang = asked.state.lang();
    let message = lay_out(asked.state, lang, no, &alarm, None, pulled, SeenBy::Channel);
    let asks = asking::safety(asked.state, asked.state.unit_of(tag), roles, asked.now);
    let asks = asks.by(asked.ask.who);
    let post = (
        card_key(no),
        channel(asked.state, asked.facility, tag),
        Lane::Escalation,
    );
    draft.ask(
        asked.facility,
        On::Surface(tag.clone()),
        &asks,
        post,
        message,
    );
    no
}

/// The fact, and the alarm as it stands with it.
fn fact(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    begun: Begun,
    found: Option<Found>,
) -> (AlarmNo, Alarm) {
    let Begun {
        kind,
        priority,
        note,
        cause,
        ..
    } = begun;
    let body = Body::AlarmOpened {
        tag: tag.clone(),
        kind,
        priority,
        found,
        shift_over: asked.shift_over,
    };
    let record = draft.fact_at(asked.now, body, note.clone());
    let no = AlarmNo(record.0);
    let newest = match cause {
        Some(cause) => draft.fact(Body::AlarmCause { alarm: no, cause }),
        None => record,
    };
    let alarm = Alarm {
        tag: tag.clone(),
        kind,
        priority,
        found,
        opened: asked.now,
        by: Some(asked.ask.who),
        shift_over: asked.shift_over,
        note,
        taken: None,
        left: None,
        safe: None,
        cause,
        ladder_from: asked.now,
        rung: 0,
        asked: asked.now,
        overrun: None,
        passed: 0,
        called: Called::default(),
        calls: Vec::new(),
        newest,
    };
    (no, alarm)
}

/// A check under an open alarm found no air left: whatever it was before, it is that now, and whoever is near is
/// called again. `alarm` is the alarm with what else this decision changed.
pub(super) fn bottomed_out(asked: &Asked<'_>, draft: &mut Draft, no: AlarmNo, mut alarm: Alarm) {
    let kind = AlarmKind::BottomedOut;
    let priority = Priority::High;
    // Said again of one that is that already: its call is one more that comes to say what became of it.
    alarm.newest = draft.fact(Body::AlarmNamed {
        alarm: no,
        kind,
        priority,
    });
    alarm.kind = kind;
    alarm.priority = priority;
    edit(asked.state, asked.facility, draft, no, &alarm, None);
    edit_newest_call(asked.state, asked.facility, draft, &alarm);
    let lang = asked.state.lang();
    let surface = in_post(asked.state, lang, &alarm.tag);
    let text = say!(
        lang,
        "post-worse",
        surface = surface,
        kind = kind_words(lang, kind)
    );
    let take = button(lang, "button-take", Look::Main, &Tap::Take { alarm: no });
    let bed = which_button(asked.state, lang, &alarm.tag);
    let message = Message::text(text).buttons(std::iter::once(take).chain(bed).collect());
    let unit = asked.state.unit_of(&alarm.tag);
    let asks = asking::safety(asked.state, unit, &[Role::Aide, Role::Nurse], asked.now);
    let asks = asks.by(asked.ask.who);
    let post = (
        worse_key(draft.first()),
        channel(asked.state, asked.facility, &alarm.tag),
        Lane::Escalation,
    );
    let on = On::Surface(alarm.tag.clone());
    draft.ask(asked.facility, on, &asks, post, message);
}

/// What it is was said.
pub(super) fn name(asked: &Asked<'_>, no: AlarmNo, kind: AlarmKind) -> Result<Decision, Refusal> {
    let (open, surface) = opened(asked, no)?;
    let mut draft = asked.draft();
    if open.kind != kind {
        let priority = priority_of(kind, surface, asked.now);
        // A bottomed-out surface does not get better by a word; only a check closes it.
        if open.kind == AlarmKind::BottomedOut {
            return Err(Refusal::new("fault-alarm-bottomed-out").text("tag", &open.tag));
        }
        let record = draft.fact(Body::AlarmNamed {
            alarm: no,
            kind,
            priority,
        });
        edit(
            asked.state,
            asked.facility,
            &mut draft,
            no,
            &Alarm {
                kind,
                priority,
                newest: record,
                ..open.clone()
            },
            None,
        );
    }
    let lang = asked.lang;
    let text = say!(
        lang,
        "alarm-named",
        surface = asked.with_bed(&open.tag),
        kind = kind_words(lang, kind)
    );
    Ok(draft.private(Message::text(format!(
        "{text}\n{}",
        look_first::short(lang, kind)
    ))))
}

/// "On my way".
pub(super) fn take(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    let (open, surface) = opened(asked, no)?;
    let lang = asked.lang;
    if let Some((who, at)) = open.taken {
        let key = if who == asked.ask.who {
            "alarm-taken-by-you"
        } else {
            "alarm-taken-already"
        };
        let text = say!(
            lang,
            key,
            surface = asked.with_bed(&open.tag),
            who = person(who),
            at = clock_time(at)
        );
        let own = who == asked.ask.who;
        let leave = own.then(|| way_back::cannot_go_button(lang, no));
        let buttons = leave.into_iter().collect();
        return Ok(Decision::private(Message::text(text).buttons(buttons)));
    }
    let mut draft = asked.draft();
    let record = draft.fact(Body::AlarmTaken { alarm: no });
    let now = Alarm {
        taken: Some((asked.ask.who, asked.now)),
        newest: record,
        ..open.clone()
    };
    edit(asked.state, asked.facility, &mut draft, no, &now, None);
    edit_calls(asked.state, asked.facility, &mut draft, &now, None);
    let minutes = |name| asked.state.policies.get(name);
    let swap = pulled_under(surface).is_some();
    let key = if swap {
        "alarm-taken-pulled"
    } else if surface.bed().is_none() {
        "alarm-taken-nobody"
    } else {
        "alarm-taken"
    };
    let text = say!(
        lang,
        key,
        surface = asked.with_bed(&open.tag),
        safe = minutes(Name::SafeWithin),
        fix = minutes(Name::FixWithin)
    );
    // Whoever reported it has read there what to look at.
    let reported = open.by == Some(asked.ask.who);
    let text = if surface.hold.is_some() {
        // What is kept for an inquiry is not to be touched.
        format!("{text}\n{}", say!(lang, "alarm-held"))
    } else if reported {
        text
    } else {
        format!("{text}\n{}", look_first::short(lang, open.kind))
    };
    let mut buttons = vec![button(
        lang,
        "button-safe",
        Look::Good,
        &Tap::Safe { alarm: no },
    )];
    // Out of service under somebody: what ends it is another surface.
    if !swap {
        let tap = Tap::Fixed { alarm: no };
        buttons.push(button(lang, "button-fixed", Look::Good, &tap));
    }
    buttons.push(way_back::cannot_go_button(lang, no));
    Ok(draft.private(Message::text(text).buttons(buttons)))
}

/// "Resident safe": its own fact with its own time. Whoever says so is there, and has taken the alarm.
pub(super) fn safe(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    let (open, surface) = opened(asked, no)?;
    let lang = asked.lang;
    let roll = super::outage::back_to_roll(asked, &open.tag);
    if let Some((who, at)) = open.safe {
        let text = say!(
            lang,
            "alarm-safe-already",
            surface = asked.with_bed(&open.tag),
            who = person(who),
            at = clock_time(at)
        );
        let message = Message::text(text);
        return Ok(Decision::private(match roll {
            Some(roll) => message.buttons(vec![roll]),
            None => message,
        }));
    }
    let mut draft = asked.draft();
    let mut now = open.clone();
    if open.taken.is_none() {
        draft.fact(Body::AlarmTaken { alarm: no });
        now.taken = Some((asked.ask.who, asked.now));
    }
    now.newest = draft.fact(Body::ResidentSafe { alarm: no });
    now.safe = Some((asked.ask.who, asked.now));
    edit(asked.state, asked.facility, &mut draft, no, &now, None);
    if open.taken.is_none() {
        edit_calls(asked.state, asked.facility, &mut draft, &now, None);
    }
    // Out of service under somebody: what ends it is another surface, and no fix.
    let swap = pulled_under(surface).is_some();
    let text = if swap {
        let key = if nurse::acts(asked) {
            "alarm-safe-pulled-nurse"
        } else {
            "alarm-safe-pulled"
        };
        say!(lang, key, surface = asked.with_bed(&open.tag))
    } else {
        say!(
            lang,
            "alarm-safe",
            surface = asked.with_bed(&open.tag),
            fix = asked.state.policies.get(Name::FixWithin)
        )
    };
    let mut message = Message::text(text);
    let mut buttons = Vec::new();
    if swap {
        message = spare::offered(asked, message, &open.tag, surface);
    } else {
        buttons.push(button(
            lang,
            "button-fixed",
            Look::Good,
            &Tap::Fixed { alarm: no },
        ));
    }
    // Whoever was on the roll when they found it goes on from here.
    buttons.extend(roll);
    buttons.push(way_back::not_safe_button(lang, no));
    Ok(draft.private(message.buttons(buttons)))
}

/// Out of service. Under somebody the alarm stays open until they lie on another surface.
pub(super) fn pull(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    let (open, surface) = opened(asked, no)?;
    let lang = asked.lang;
    if out_under_nobody(surface) {
        return Ok(close_out(asked, no, open, surface));
    }
    if matches!(surface.life, Life::OutOfService { .. }) {
        return Ok(Decision::private(Message::text(say!(
            lang,
            "alarm-pulled-already",
            surface = asked.with_bed(&open.tag)
        ))));
    }
    let mut draft = asked.draft();
    let surface_words = asked.with_bed(&open.tag);
    let under = super::out::take_out(asked, &mut draft, &open.tag, surface, Fault::Alarm, None);
    let key = if under {
        if nurse::acts(asked) {
            "alarm-pulled-under-nurse"
        } else {
            "alarm-pulled-under"
        }
    } else {
        "alarm-pulled"
    };
    let mut message = Message::text(say!(lang, key, surface = surface_words));
    if under {
        // An alarm that ended with it stays ended.
        message = spare::offered(asked, message, &open.tag, surface)
            .buttons(vec![take_back(lang, &draft, &open.tag)]);
    }
    Ok(draft.private(message))
}

/// Nothing waits on such a surface but its repair.
fn out_under_nobody(surface: &Surface) -> bool {
    matches!(surface.life, Life::OutOfService { under: None, .. })
}

/// An alarm of a surface that was out of service before, and under nobody: there is no bed at which it could end.
fn close_out(asked: &Asked<'_>, no: AlarmNo, open: &Alarm, surface: &Surface) -> Decision {
    let mut draft = asked.draft();
    end(asked, &mut draft, no, open, AlarmEnd::OutOfService);
    // What is kept for an inquiry stays as it is, switches and all.
    let key = if surface.hold.is_some() {
        "alarm-out-closed-held"
    } else {
        "alarm-out-closed"
    };
    let surface = asked.with_bed(&open.tag);
    draft.private(Message::text(say!(asked.lang, key, surface = surface)))
}

/// Ends an alarm for a reason that lies elsewhere: its surface was released, or it was a mistake.
pub(super) fn end(asked: &Asked<'_>, draft: &mut Draft, no: AlarmNo, open: &Alarm, end: AlarmEnd) {
    end_elsewhere(asked, draft, no, open, end, None);
}

/// As [`end`], of an alarm that is at another surface in truth.
fn end_elsewhere(
    asked: &Asked<'_>,
    draft: &mut Draft,
    no: AlarmNo,
    open: &Alarm,
    end: AlarmEnd,
    is_at: Option<&Tag>,
) {
    draft.fact(Body::AlarmClosed {
        alarm: no,
        end,
        is_at: is_at.cloned(),
    });
    let ended = EndedAlarm {
        no,
        end,
        at: asked.now,
        who: Some(asked.ask.who),
        is_at: is_at.cloned(),
    };
    edit(asked.state, asked.facility, draft, no, open, Some(&ended));
    edit_calls(asked.state, asked.facility, draft, open, Some(&ended));
}

/// An open alarm and its surface; a refusal that says how it ended where it is over.
fn opened<'a>(asked: &Asked<'a>, no: AlarmNo) -> Result<(&'a Alarm, &'a Surface), Refusal> {
    if let Some(alarm) = asked.state.alarms.get(&no)
        && let Some(surface) = asked.state.surfaces.get(&alarm.tag)
    {
        return Ok((alarm, surface));
    }
    let ended = asked.state.surfaces.iter().find_map(|(tag, surface)| {
        surface
            .last_alarm
            .as_ref()
            .filter(|ended| ended.no == no)
            .map(|ended| (tag, ended))
    });
    Err(match ended {
        Some((tag, ended)) => Refusal::new("fault-alarm-over")
            .text("tag", tag)
            .text("at", super::draft::day_time(ended.at))
            .text("who", ended.who.map_or_else(String::new, person)),
        None => Refusal::new("fault-alarm-unknown"),
    })
}

/// Nobody is in a bed that somebody said is empty, until the time that they said.
pub(super) fn priority_of(kind: AlarmKind, surface: &Surface, now: DateTime<Utc>) -> Priority {
    alarm_priority(
        kind,
        surface.bed().is_some() && surface.away(now).is_none(),
        kind == AlarmKind::Power,
        kind == AlarmKind::BottomedOut,
    )
}

fn kind_menu(lang: Lang, no: AlarmNo) -> Menu {
    let entries = AlarmKind::ALL
        .iter()
        .filter(|kind| !matches!(kind, AlarmKind::Unknown | AlarmKind::BottomedOut))
        .map(|kind| MenuEntry {
            value: kind.as_str().to_owned(),
            label: kind_words(lang, *kind),
            about: None,
        })
        .collect();
    let id = Tap::NameAlarm {
        alarm: no,
        kind: AlarmKind::Unknown,
    }
    .id();
    Menu {
        id,
        hint: say!(lang, "menu-kind"),
        entries,
    }
}
