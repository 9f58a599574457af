//! The ways back from a tap on an alarm's card: from "On my way" by whoever cannot go, and from "Resident safe" that was a
//! mistake. Decides who may and until when, and that the next to go is asked at once; leaves whom that is to `due::ladder`.

use chrono::TimeDelta;

use super::{edit, edit_these, opened};
use crate::decide::draft::{Asked, Draft, button, person};
use crate::decision::Decision;
use crate::due::ladder;
use crate::ids::AlarmNo;
use crate::message::{Button, Look, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::rules::policy::Name;
use crate::say;
use crate::state::Alarm;
use crate::tap::Tap;
use crate::words::Lang;

/// "I cannot go", by whoever is on the way.
pub(in crate::decide) fn cannot_go(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    let (open, _) = opened(asked, no)?;
    match open.taken {
        Some((who, _)) if who == asked.ask.who => {}
        Some((who, _)) => {
            return Err(Refusal::new("fault-cannot-go-other")
                .text("surface", asked.with_bed(&open.tag))
                .text("who", person(who)));
        }
        None => {
            return Err(
                Refusal::new("fault-cannot-go-nobody").text("surface", asked.with_bed(&open.tag))
            );
        }
    }
    let mut draft = asked.draft();
    draft.fact(Body::AlarmGivenUp { alarm: no });
    let mut after = open.clone();
    after.give_up();
    go_on(asked, &mut draft, no, &after);
    let text = say!(
        asked.lang,
        "alarm-given-up",
        surface = asked.with_bed(&open.tag)
    );
    let take = button(
        asked.lang,
        "button-take",
        Look::Main,
        &Tap::Take { alarm: no },
    );
    Ok(draft.private(Message::text(text).buttons(vec![take])))
}

/// The next rung is asked now, and not only when its minute comes.
fn go_on(asked: &Asked<'_>, draft: &mut Draft, no: AlarmNo, alarm: &Alarm) {
    let older = match alarm.calls.split_last() {
        // The call that follows sees to the newest.
        Some((_, older)) if !asked.state.in_emergency(&alarm.tag) => older,
        Some(_) | None => &alarm.calls,
    };
    edit_these(asked.state, asked.facility, draft, alarm, older, None);
    if asked.state.in_emergency(&alarm.tag) {
        return;
    }
    ladder::ask_next(asked.state, asked.facility, draft, no, alarm, asked.now);
}

/// "Resident safe" was a mistake: within the minutes in which an entry can be taken back, by whoever said it.
pub(in crate::decide) fn not_safe(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    let (open, _) = opened(asked, no)?;
    let Some((who, at)) = open.safe else {
        return Err(
            Refusal::new("fault-not-safe-nobody").text("surface", asked.with_bed(&open.tag))
        );
    };
    if who != asked.ask.who {
        return Err(Refusal::new("fault-take-back-other"));
    }
    let minutes = asked.state.policies.get(Name::TakeBack);
    if asked.now - at > TimeDelta::minutes(minutes) {
        return Err(Refusal::new("fault-not-safe-late")
            .text("surface", asked.with_bed(&open.tag))
            .number("minutes", minutes));
    }
    let mut draft = asked.draft();
    let mut after = open.clone();
    after.safe = None;
    after.newest = draft.fact(Body::NotSafeYet { alarm: no });
    edit(asked.state, asked.facility, &mut draft, no, &after, None);
    let lang = asked.lang;
    let text = say!(
        lang,
        "alarm-not-safe",
        surface = asked.with_bed(&open.tag),
        safe = asked.state.policies.get(Name::SafeWithin)
    );
    let mut buttons = vec![button(
        lang,
        "button-safe",
        Look::Good,
        &Tap::Safe { alarm: no },
    )];
    if after.taken.is_some_and(|(who, _)| who == asked.ask.who) {
        buttons.push(cannot_go_button(lang, no));
    }
    Ok(draft.private(Message::text(text).buttons(buttons)))
}

/// The button for whoever is on the way.
pub(super) fn cannot_go_button(lang: Lang, no: AlarmNo) -> Button {
    let tap = Tap::CannotGo { alarm: no };
    button(lang, "button-cannot-go", Look::Plain, &tap)
}

/// The button under "resident safe".
pub(super) fn not_safe_button(lang: Lang, no: AlarmNo) -> Button {
    let tap = Tap::NotSafe { alarm: no };
    button(lang, "button-not-safe", Look::Plain, &tap)
}
