//! "Found it unplugged, plugged it back in", "the hose was off, put it back on": something that nobody heard, or that an
//! alarm is open about. Decides that it is an alarm as any other, which its finder has taken and whose cause is known, so that what
//! remains is the check, where that was not said too; leaves that, and what is asked again after a loss of power, to `fixed`.

use chrono::TimeDelta;

use super::{
    Begun, SeenBy, card_key, caused, channel, fact, fixed_air, lay_out, own_card, priority_of,
    raise_because,
};
use crate::choice::Cause;
use crate::decide::draft::{Asked, state_after, take_back};
use crate::decision::{Decision, Lane};
use crate::due::{asking, ladder};
use crate::ids::AlarmNo;
use crate::message::{Answer, Message};
use crate::record::{Body, Found, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::rules::hand_check::{Air, Check};
use crate::rules::priority::AlarmKind;
use crate::say;
use crate::state::{Alarm, Life};

/// What was found wrong, and put right.
pub(in crate::decide) struct Mended {
    /// What the panel said, or that it had no power.
    pub kind: AlarmKind,
    /// What it was.
    pub cause: Cause,
    /// For how many minutes it was so, as far as anybody knows.
    pub minutes: Option<u16>,
    /// The check after it; asked where it was not said.
    pub air: Option<Air>,
}

/// A surface was found as `of` says, and put right. The unit reads its card, and nobody's phone rings where its finder may
/// check it: somebody is there. If the check does not come, it calls as any alarm that was taken.
pub(in crate::decide) fn mended(
    asked: &Asked<'_>,
    typed: &str,
    of: &Mended,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let may_answer = Right::AnswerAlarm.roles().contains(&asked.role);
    let (kind, cause) = (of.kind, of.cause);
    if let Some(no) = surface.alarm
        && let Some(open) = asked.state.alarms.get(&no)
    {
        return if may_answer {
            checked(asked, no, of)
        } else {
            Ok(Decision::private(own_card(asked, no, open)))
        };
    }
    let placed = matches!(surface.life, Life::Placed { .. });
    // While its CPR valve is open, that comes first.
    if !placed || surface.cpr.is_some() {
        return raise_because(asked, typed, Some(kind), None, Some(cause));
    }
    let lang = asked.lang;
    let power = kind == AlarmKind::Power;
    let mut draft = asked.draft();
    let begun = Begun {
        kind,
        priority: priority_of(kind, surface, asked.now),
        note: None,
        pulled: None,
        cause: None,
    };
    let since = of
        .minutes
        .map(|minutes| asked.now - TimeDelta::minutes(i64::from(minutes)));
    let (no, alarm) = fact(asked, &mut draft, tag, begun, Some(Found { since }));
    if may_answer {
        draft.fact(Body::AlarmTaken { alarm: no });
    }
    let newest = draft.fact(Body::AlarmCause { alarm: no, cause });
    let alarm = Alarm {
        taken: may_answer.then_some((asked.ask.who, asked.now)),
        cause: Some(cause),
        newest,
        ..alarm
    };
    let (state, home) = (asked.state, asked.state.lang());
    let (unit, now) = (state.unit_of(tag), asked.now);
    // Whoever may not check calls those who may.
    let asks = if may_answer {
        asking::routine(state, unit, &[], now)
    } else {
        asking::safety(state, unit, ladder::rung_roles(0), now).by(asked.ask.who)
    };
    let post = (
        card_key(no),
        channel(state, asked.facility, tag),
        Lane::Escalation,
    );
    let card = lay_out(state, home, no, &alarm, None, None, SeenBy::Channel);
    draft.ask(asked.facility, On::Surface(tag.clone()), &asks, post, card);
    if !may_answer {
        let said = say!(
            lang,
            if power {
                "alarm-power-found-call"
            } else {
                "alarm-found-call"
            },
            surface = asked.with_bed(tag)
        );
        let back = take_back(lang, &draft, tag);
        return Ok(draft.private(Message::text(said).buttons(vec![back])));
    }
    let after = state_after(state, Some(asked.ask.who), asked.now, &draft.decision);
    let later = Asked {
        state: &after,
        ..*asked
    };
    let next = checked(&later, no, of)?;
    let Some(Answer::Replace(Message { text, rows, .. })) = next.answer else {
        return Err(Refusal::new("fault-stale-tap"));
    };
    // Where the maker wants no check, it is over with this.
    let text = if next.entries.is_empty() {
        let key = if power {
            "alarm-power-found"
        } else {
            "alarm-found"
        };
        let said = say!(lang, key, surface = asked.with_bed(tag));
        format!("{said}\n{text}")
    } else {
        text
    };
    draft.decision.entries.extend(next.entries);
    draft.decision.posts.extend(next.posts);
    let mut message = Message::text(text);
    message.rows = rows;
    let back = take_back(lang, &draft, tag);
    Ok(draft.private(message.and_button(back)))
}

/// The cause, with the check after it where that was said, else the question for it.
fn checked(asked: &Asked<'_>, no: AlarmNo, of: &Mended) -> Result<Decision, Refusal> {
    let wanted = asked.state.alarms.get(&no).is_some_and(|open| {
        let surface = asked.state.surfaces.get(&open.tag);
        surface.is_some_and(|surface| {
            surface.bed().is_some() && asked.state.profile_of(surface).check != Check::None
        })
    });
    match of.air {
        Some(air) if wanted => fixed_air(asked, no, of.cause, air, None),
        Some(_) | None => caused(asked, no, of.cause),
    }
}
