//! Alarms: raised, taken, made safe, fixed, put out of service. Decides who is told what and when the
//! ladder stops; leaves its rungs and its starting again to `due`, which the clock asks.

pub(super) mod way_back;

use chrono::{DateTime, Utc};

use super::check;
use super::draft::{
    Asked, Draft, ago, button, clock_time, in_post, person, take_back, unit_channel, with_bed,
};
use super::look_first;
use super::set_up;
use super::set_up_card::{self, View};
use super::which_bed::which_button;
use super::{nurse, pictures, setting, spare};
use crate::choice::{Cause, Opening, Step};
use crate::decision::{Decision, Lane};
use crate::due::{asking, ladder};
use crate::ids::{AlarmNo, Tag};
use crate::message::{Answer, Look, Menu, MenuEntry, Message};
use crate::parse::air_text;
use crate::record::{AlarmEnd, Body, Fault, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::Role;
use crate::rules::air::{self, MAX_DEPTH, Tenths};
use crate::rules::hand_check::{Air, Check, Judgement, Why, judge};
use crate::rules::policy::Name;
use crate::rules::priority::{AlarmKind, Priority, alarm_priority};
use crate::say;
use crate::state::{
    Alarm, Called, EndedAlarm, Facility, Life, State, Steps, Surface, unchecked_key, worse_key,
};
use crate::tap::{Tap, fixed_menu_id};
use crate::words::Lang;

/// `/alarm`.
pub(super) fn raise(
    asked: &Asked<'_>,
    typed: &str,
    kind: Option<AlarmKind>,
    note: Option<String>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let note = asked.guarded(note)?;
    if matches!(surface.life, Life::Retired { .. }) {
        return Err(Refusal::new("fault-retired").text("tag", tag));
    }
    let quiet = asked.state.quiet_until(tag);
    if let Some(mark) = &surface.cpr
        && quiet.is_some_and(|until| asked.now < until)
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
    let no = open(asked, &mut draft, tag, kind, priority, note);
    let lang = asked.lang;
    let mut lines = vec![say!(lang, "alarm-raised", surface = asked.with_bed(tag))];
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
    buttons.push(take_back(lang, &draft, tag));
    Ok(draft.private(message.buttons(buttons)))
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
    // Bottomed out cannot wait for the first rung: the nurse is called at once.
    let rung = match kind {
        AlarmKind::BottomedOut => 1,
        AlarmKind::Unknown
        | AlarmKind::LowPressure
        | AlarmKind::Power
        | AlarmKind::HighPressure
        | AlarmKind::Fault => first_rung(asked, tag),
    };
    let roles = ladder::rung_roles(rung);
    begin(asked, draft, tag, (kind, priority), note, None, roles)
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
    let roles = [Role::Nurse, Role::Upkeep];
    begin(
        asked,
        draft,
        tag,
        (kind, priority),
        note,
        Some(fault),
        &roles,
    );
}

fn begin(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    (kind, priority): (AlarmKind, Priority),
    note: Option<String>,
    pulled: Option<Fault>,
    roles: &[Role],
) -> AlarmNo {
    let body = Body::AlarmOpened {
        tag: tag.clone(),
        kind,
        priority,
    };
    let record = draft.fact_at(asked.now, body, note.clone());
    let no = AlarmNo(record.0);
    let alarm = Alarm {
        tag: tag.clone(),
        kind,
        priority,
        opened: asked.now,
        by: Some(asked.ask.who),
        note,
        taken: None,
        left: None,
        safe: None,
        cause: None,
        ladder_from: asked.now,
        rung: 0,
        asked: asked.now,
        overrun: None,
        passed: 0,
        called: Called::default(),
        calls: Vec::new(),
        newest: record,
    };
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
    let (open, _) = opened(asked, no)?;
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
    let text = say!(
        lang,
        "alarm-taken",
        surface = asked.with_bed(&open.tag),
        safe = minutes(Name::SafeWithin),
        fix = minutes(Name::FixWithin)
    );
    // Whoever reported it has read there what to look at.
    let reported = open.by == Some(asked.ask.who);
    let text = if reported {
        text
    } else {
        format!("{text}\n{}", look_first::short(lang, open.kind))
    };
    let message = Message::text(text).buttons(vec![
        button(lang, "button-safe", Look::Good, &Tap::Safe { alarm: no }),
        button(lang, "button-fixed", Look::Good, &Tap::Fixed { alarm: no }),
        way_back::cannot_go_button(lang, no),
    ]);
    Ok(draft.private(message))
}

/// "Resident safe": its own fact with its own time. Whoever says so is there, and has taken the alarm.
pub(super) fn safe(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    let (open, _) = opened(asked, no)?;
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
    let text = say!(
        lang,
        "alarm-safe",
        surface = asked.with_bed(&open.tag),
        fix = asked.state.policies.get(Name::FixWithin)
    );
    let mut buttons = vec![button(
        lang,
        "button-fixed",
        Look::Good,
        &Tap::Fixed { alarm: no },
    )];
    // Whoever was on the roll when they found it goes on from here.
    buttons.extend(roll);
    buttons.push(way_back::not_safe_button(lang, no));
    Ok(draft.private(Message::text(text).buttons(buttons)))
}

/// "Fixed": asks for the cause first.
pub(super) fn fixed(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    let (open, surface) = opened(asked, no)?;
    if out_under_nobody(surface) {
        return Ok(close_out(asked, no, open, surface));
    }
    let (open, _) = mendable(asked, no)?;
    let lang = asked.lang;
    let entries = Cause::ALL
        .iter()
        .map(|cause| MenuEntry {
            value: cause.as_str().to_owned(),
            label: cause_words(lang, *cause),
            about: None,
        })
        .collect();
    let id = Tap::Caused {
        alarm: no,
        cause: Cause::Other,
    }
    .id();
    let menu = Menu {
        id,
        hint: say!(lang, "menu-cause"),
        entries,
    };
    let text = say!(lang, "alarm-ask-cause", surface = asked.with_bed(&open.tag));
    Ok(Decision::private(Message::text(text).menu(menu)))
}

/// The cause is known: asks for the check that the profile wants. Where the maker wants none, it is over.
pub(super) fn caused(asked: &Asked<'_>, no: AlarmNo, cause: Cause) -> Result<Decision, Refusal> {
    let (open, surface) = mendable(asked, no)?;
    let lang = asked.lang;
    let profile = asked.state.profile_of(surface);
    if profile.check == Check::None || surface.bed().is_none() {
        let mut draft = asked.draft();
        draft.fact(Body::AlarmCause { alarm: no, cause });
        let list = set_up::placed_list(surface).cloned();
        let message = close(asked, &mut draft, no, open, cause, None, list);
        return Ok(draft.answer(Answer::Replace(message)));
    }
    let band = check::band_of(asked.state, surface);
    let mut text = say!(
        lang,
        "alarm-ask-check",
        surface = asked.with_bed(&open.tag),
        cause = cause_words(lang, cause)
    );
    if profile.check == Check::LookAndFeel {
        text = format!("{text}\n{}", say!(lang, "check-maker-look"));
    }
    let tap = |air| {
        Tap::FixedAir {
            alarm: no,
            cause,
            air,
        }
        .id()
    };
    let message = check::buttons(
        Message::text(text),
        lang,
        profile.check,
        band,
        tap,
        fixed_menu_id(no, cause),
    )
    .buttons(vec![button(
        lang,
        "button-type",
        Look::Plain,
        &Tap::TypeFixedAir { alarm: no, cause },
    )]);
    Ok(Decision {
        answer: Some(Answer::Replace(message)),
        ..Decision::default()
    })
}

/// The check after a fix wants to be typed: the form for it.
pub(super) fn type_it(asked: &Asked<'_>, no: AlarmNo, cause: Cause) -> Result<Decision, Refusal> {
    let (open, _) = mendable(asked, no)?;
    let id = Tap::FixedAirTyped {
        alarm: no,
        cause,
        air: String::new(),
        note: None,
    }
    .id();
    let form = check::air_form(asked.lang, &open.tag, id);
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// The form with the typed check after a fix.
pub(super) fn fixed_typed(
    asked: &Asked<'_>,
    no: AlarmNo,
    cause: Cause,
    air: &str,
    note: Option<String>,
) -> Result<Decision, Refusal> {
    mendable(asked, no)?;
    let air = match air_text(air)? {
        air::Said::Measured(tenths) => Air::Measured(tenths),
        air::Said::CouldNot => Air::CouldNot(Why::Other),
    };
    let note = asked.guarded(note)?;
    fixed_air(asked, no, cause, air, note)
}

/// The check after a fix: only an adequate one closes the alarm.
pub(super) fn fixed_air(
    asked: &Asked<'_>,
    no: AlarmNo,
    cause: Cause,
    air: Air,
    note: Option<String>,
) -> Result<Decision, Refusal> {
    if let Air::Measured(tenths) = air
        && !(Tenths(0)..=MAX_DEPTH).contains(&tenths)
    {
        return Err(Refusal::new("fault-stale-tap"));
    }
    let (open, surface) = mendable(asked, no)?;
    let (state, lang) = (asked.state, asked.lang);
    let band = check::band_of(state, surface);
    let judged = judge(air, band);
    let mut draft = asked.draft();
    let record = draft.fact(Body::AlarmCause { alarm: no, cause });
    let body = Body::HandChecked {
        tag: open.tag.clone(),
        air,
        judged,
        band,
        site: None,
        position: None,
        mode: None,
        layers: None,
        setting: None,
        recheck: None,
        round: false,
        from_paper: false,
    };
    draft.fact_at(asked.now, body, note);
    let in_bed = judged != Judgement::CouldNot && surface.leave.is_some();
    if in_bed {
        super::leave::end(asked, &mut draft, &open.tag);
    }
    let checked = set_up::checked(asked, &mut draft, &open.tag, surface, asked.now, judged);
    let surface_words = asked.with_bed(&open.tag);
    let air_words = check::show_air(lang, air, band);
    let now = Alarm {
        cause: Some(cause),
        newest: record,
        ..open.clone()
    };
    let text = match judged {
        Judgement::Adequate => {
            let (said, list) = match checked {
                Some((said, list)) => (Some(said), Some(list)),
                None => (None, set_up::placed_list(surface).cloned()),
            };
            let mut message = close(asked, &mut draft, no, open, cause, Some(air), list);
            if let Some(said) = said {
                message.text = format!("{said}\n{}", message.text);
            }
            return Ok(draft.answer(Answer::Replace(message)));
        }
        Judgement::Low | Judgement::High => {
            edit(state, asked.facility, &mut draft, no, &now, None);
            let key = match (judged == Judgement::Low, nurse::acts(asked)) {
                (true, false) => "alarm-fixed-but-low",
                (true, true) => "alarm-fixed-but-low-nurse",
                (false, false) => "alarm-fixed-but-high",
                (false, true) => "alarm-fixed-but-high-nurse",
            };
            say!(lang, key, surface = surface_words, air = air_words)
        }
        Judgement::BottomedOut => {
            bottomed_out(asked, &mut draft, no, now);
            let key = if nurse::acts(asked) {
                "alarm-fixed-but-bottomed-out-nurse"
            } else {
                "alarm-fixed-but-bottomed-out"
            };
            say!(lang, key, surface = surface_words)
        }
        Judgement::CouldNot => {
            edit(state, asked.facility, &mut draft, no, &now, None);
            edit_newest_call(state, asked.facility, &mut draft, &now);
            let post_lang = state.lang();
            let text = say!(
                post_lang,
                "post-fixed-unchecked",
                surface = in_post(state, post_lang, &open.tag),
                cause = cause_words(post_lang, cause),
                who = person(asked.ask.who)
            );
            let tap = Tap::Fixed { alarm: no };
            let fixed = button(post_lang, "button-fixed", Look::Good, &tap);
            let bed = which_button(state, post_lang, &open.tag);
            let buttons = std::iter::once(fixed).chain(bed).collect();
            let message = Message::text(text).buttons(buttons);
            let asks = asking::safety(state, state.unit_of(&open.tag), &[Role::Nurse], asked.now);
            let asks = asks.by(asked.ask.who);
            let post = (
                unchecked_key(record),
                channel(state, asked.facility, &open.tag),
                Lane::Escalation,
            );
            let on = On::Surface(open.tag.clone());
            draft.ask(asked.facility, on, &asks, post, message);
            say!(lang, "alarm-fixed-but-could-not", surface = surface_words)
        }
    };
    let mut message = Message::text(text);
    if nurse::acts(asked) && matches!(judged, Judgement::Low | Judgement::High) {
        let lines = setting::decide_lines(asked, surface);
        message.text = format!("{}\n{}", message.text, lines.join("\n"));
        message = setting::choose(asked, message, &open.tag, surface);
    }
    if matches!(judged, Judgement::Low | Judgement::BottomedOut) {
        message = spare::offered(asked, message, &open.tag, surface);
    }
    // The way on: what was put right is said again, on this card and not on another.
    if judged != Judgement::CouldNot {
        message = message.and_button(button(
            lang,
            "button-fixed",
            Look::Good,
            &Tap::Fixed { alarm: no },
        ));
    }
    Ok(draft.answer(Answer::Replace(message)))
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
    draft.fact(Body::AlarmClosed { alarm: no, end });
    let ended = EndedAlarm {
        no,
        end,
        at: asked.now,
        who: Some(asked.ask.who),
    };
    edit(asked.state, asked.facility, draft, no, open, Some(&ended));
    edit_calls(asked.state, asked.facility, draft, open, Some(&ended));
}

/// Closes an alarm that was fixed. After a loss of power the setting is asked for again; `list` is the checklist that is
/// open at its bed.
fn close(
    asked: &Asked<'_>,
    draft: &mut Draft,
    no: AlarmNo,
    open: &Alarm,
    cause: Cause,
    air: Option<Air>,
    list: Option<Steps>,
) -> Message {
    let lang = asked.lang;
    let now = Alarm {
        cause: Some(cause),
        ..open.clone()
    };
    end(asked, draft, no, &now, AlarmEnd::Fixed);
    let surface = asked.with_bed(&open.tag);
    let cause_text = cause_words(lang, cause);
    let mut text = match air {
        Some(_) => say!(
            lang,
            "alarm-closed-checked",
            surface = surface,
            cause = cause_text
        ),
        None => say!(lang, "alarm-closed", surface = surface, cause = cause_text),
    };
    let Some((tag, surface)) = asked.state.surfaces.get_key_value(&open.tag) else {
        return Message::text(text);
    };
    if !lost_power(open.kind, Some(cause)) {
        return Message::text(text);
    }
    text = format!("{text}\n{}", say!(lang, "alarm-power-setting"));
    let Life::Placed { bed, .. } = &surface.life else {
        return Message::text(text);
    };
    // An adequate check under it, and that it runs, were shown by closing the alarm.
    let shown = [Step::Plugged, Step::Check];
    let list = list.filter(|list| !list.complete());
    let list = set_up::open(
        asked,
        draft,
        tag,
        bed,
        Opening::Power,
        &shown,
        list.as_ref(),
    );
    let mut message = set_up_card::message(asked, &View::new(asked, tag, surface, list));
    message.text = format!("{text}\n\n{}", message.text);
    message
}

/// A card whose surface goes out of service under somebody says so; or says no more that it is.
pub(super) fn edit_pulled(
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

fn edit_these(
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
pub(super) fn own_card(asked: &Asked<'_>, no: AlarmNo, alarm: &Alarm) -> Message {
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
enum SeenBy {
    /// Everybody in the channel.
    Channel,
    /// Whoever asked for it.
    One,
}

/// What a surface is out of service for.
pub(super) fn pulled_for(surface: &Surface) -> Option<Fault> {
    match &surface.life {
        Life::OutOfService { fault, .. } => Some(*fault),
        Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } | Life::Retired { .. } => None,
    }
}

/// What it is out of service for while somebody still lies on it: its alarm waits for another surface then.
fn pulled_under(surface: &Surface) -> Option<Fault> {
    pulled_for(surface).filter(|_| !out_under_nobody(surface))
}

/// The card of an alarm whose surface is out of service, or is not.
fn lay_out(
    state: &State,
    lang: Lang,
    no: AlarmNo,
    alarm: &Alarm,
    ended: Option<&EndedAlarm>,
    pulled: Option<Fault>,
    seen_by: SeenBy,
) -> Message {
    // Once its cause is known somebody has looked.
    let looked = ended.is_some() || alarm.cause.is_some();
    let kind = if looked && alarm.kind == AlarmKind::Unknown {
        say!(lang, "card-kind-never-named")
    } else {
        kind_words_where(lang, alarm.kind, pulled)
    };
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
    lines.push(say!(
        lang,
        "card-reported",
        at = clock_time(alarm.opened),
        who = alarm.by.map_or_else(|| "loftwatch".to_owned(), person)
    ));
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
            let next = ladder::next_rung(state.ladder, alarm);
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
        lines.push(say!(
            lang,
            end_key(ended.end),
            at = clock_time(ended.at),
            who = ended.who.map_or_else(String::new, person)
        ));
        let message = Message::text(lines.join("\n"));
        // What was a mistake went no way that is worth a look.
        return match ended.end {
            AlarmEnd::TakenBack => message,
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
        let fault_words = say!(lang, super::look::fault_key(fault));
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
    if seen_by == SeenBy::Channel {
        buttons.extend(which_button(state, lang, &alarm.tag));
    }
    Message::text(lines.join("\n")).buttons(buttons)
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

fn lost_power(kind: AlarmKind, cause: Option<Cause>) -> bool {
    kind == AlarmKind::Power || matches!(cause, Some(Cause::Unplugged | Cause::SwitchedOff))
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

/// What an alarm is, in words.
pub(crate) fn kind_words(lang: Lang, kind: AlarmKind) -> String {
    say!(lang, &format!("kind-{}", kind.as_str()))
}

/// What the alarm is of a surface that is out of service for `pulled`. What is kept for an inquiry need not have a fault.
pub(super) fn kind_words_where(lang: Lang, kind: AlarmKind, pulled: Option<Fault>) -> String {
    if kind == AlarmKind::Fault && pulled == Some(Fault::Inquiry) {
        return say!(lang, "kind-kept");
    }
    kind_words(lang, kind)
}

/// What it turned out to be, in words.
pub(crate) fn cause_words(lang: Lang, cause: Cause) -> String {
    say!(lang, &format!("cause-{}", cause.as_str()))
}

pub(super) fn priority_key(priority: Priority) -> &'static str {
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
    }
}

/// As [`opened`], where the surface can still be put right: one that is out of service stays under alarm until
/// the resident lies on another.
fn mendable<'a>(asked: &Asked<'a>, no: AlarmNo) -> Result<(&'a Alarm, &'a Surface), Refusal> {
    let (open, surface) = opened(asked, no)?;
    if matches!(surface.life, Life::OutOfService { .. }) {
        return Err(Refusal::new("fault-alarm-pulled").text("tag", &open.tag));
    }
    Ok((open, surface))
}

/// How long an alarm has been open, in whole minutes.
pub(crate) fn minutes_open(alarm: &Alarm, now: DateTime<Utc>) -> i64 {
    (now - alarm.opened).num_minutes()
}
