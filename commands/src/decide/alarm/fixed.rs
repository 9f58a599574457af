//! "Fixed": the cause, then the check that the profile wants. Decides when an alarm is over, and what is asked again after a
//! loss of power; leaves how a reading is judged to `rules::hand_check`.

use super::{
    bottomed_out, cause_words, channel, close_out, edit, edit_newest_call, end, opened,
    out_under_nobody,
};
use crate::choice::{Cause, Opening, Step};
use crate::decide::check;
use crate::decide::draft::{Asked, Draft, button, in_post, person};
use crate::decide::set_up_card::{self, View};
use crate::decide::which_bed::which_button;
use crate::decide::{nurse, set_up, setting, spare};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::AlarmNo;
use crate::message::{Answer, Look, Menu, MenuEntry, Message};
use crate::parse::air_text;
use crate::record::{AlarmEnd, Body, On};
use crate::refusal::Refusal;
use crate::role::Role;
use crate::rules::air::{self, MAX_DEPTH, Tenths};
use crate::rules::hand_check::{Air, Check, Judgement, Why, judge};
use crate::rules::priority::AlarmKind;
use crate::say;
use crate::state::{Alarm, Life, Steps, Surface, unchecked_key};
use crate::tap::{Tap, fixed_menu_id};

/// "Fixed": asks for the cause first.
pub(in crate::decide) fn fixed(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
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
pub(in crate::decide) fn caused(
    asked: &Asked<'_>,
    no: AlarmNo,
    cause: Cause,
) -> Result<Decision, Refusal> {
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
pub(in crate::decide) fn type_it(
    asked: &Asked<'_>,
    no: AlarmNo,
    cause: Cause,
) -> Result<Decision, Refusal> {
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
pub(in crate::decide) fn fixed_typed(
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
pub(in crate::decide) fn fixed_air(
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
        felt: air.is_felt(state.profile_of(surface).check),
    };
    draft.fact_at(asked.now, body, note);
    let in_bed = judged != Judgement::CouldNot && surface.leave.is_some();
    if in_bed {
        crate::decide::leave::end(asked, &mut draft, &open.tag);
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

fn lost_power(kind: AlarmKind, cause: Option<Cause>) -> bool {
    kind == AlarmKind::Power || matches!(cause, Some(Cause::Unplugged | Cause::SwitchedOff))
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
