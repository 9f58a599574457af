//! "Found it unplugged, plugged it back in": a loss of power that nobody heard. Decides that it is an alarm as any other, which
//! its finder has taken and whose cause is known, so that what remains is the check; leaves that, and what is asked again
//! after a loss of power, to `fixed`.

use chrono::TimeDelta;

use super::{
    Begun, SeenBy, card_key, caused, channel, fact, lay_out, own_card, priority_of, raise,
};
use crate::choice::Cause;
use crate::decide::draft::{Asked, state_after, take_back};
use crate::decision::{Decision, Lane};
use crate::due::{asking, ladder};
use crate::message::{Answer, Message};
use crate::record::{Body, Found, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::rules::priority::AlarmKind;
use crate::say;
use crate::state::{Alarm, Life};

/// A surface was found without power, `minutes` after it lost it as far as anybody knows, and has it again. The unit reads
/// its card, and nobody's phone rings where its finder may check it: somebody is there. If the check does not come, it calls as any alarm that was taken.
pub(in crate::decide) fn power_found(
    asked: &Asked<'_>,
    typed: &str,
    cause: Cause,
    minutes: Option<u16>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let may_answer = Right::AnswerAlarm.roles().contains(&asked.role);
    if let Some(no) = surface.alarm
        && let Some(open) = asked.state.alarms.get(&no)
    {
        return if may_answer {
            caused(asked, no, cause)
        } else {
            Ok(Decision::private(own_card(asked, no, open)))
        };
    }
    let placed = matches!(surface.life, Life::Placed { .. });
    // While its CPR valve is open, that comes first.
    if !placed || surface.cpr.is_some() {
        return raise(asked, typed, Some(AlarmKind::Power), None);
    }
    let lang = asked.lang;
    let mut draft = asked.draft();
    let kind = AlarmKind::Power;
    let begun = Begun {
        kind,
        priority: priority_of(kind, surface, asked.now),
        note: None,
        pulled: None,
    };
    let since = minutes.map(|minutes| asked.now - TimeDelta::minutes(i64::from(minutes)));
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
            "alarm-power-found-call",
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
    let next = caused(&later, no, cause)?;
    let Some(Answer::Replace(Message { text, rows, .. })) = next.answer else {
        return Err(Refusal::new("fault-stale-tap"));
    };
    // Where the maker wants no check, it is over with this.
    let text = if next.entries.is_empty() {
        let said = say!(lang, "alarm-power-found", surface = asked.with_bed(tag));
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
