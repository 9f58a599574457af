//! What to look at first: one card for a sign, by command, from a message, and in short on an alarm's card. Decides what
//! stands on the card and that it never takes the place of an alarm; the order of things is a rule of
//! `rules::look_first`.

use super::alarm;
use super::draft::{Asked, button, in_post};
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Answer, Look, Menu, MenuEntry, Message};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::rules::look_first::{self, End, LookAt, Sign};
use crate::rules::priority::AlarmKind;
use crate::say;
use crate::state::{Life, Surface};
use crate::tap::{LookCard, Plain, SeenBy, Tap};
use crate::words::Lang;

/// From a card that is older than this no alarm is started: it belongs to another shift.
const START_HOURS_MAX: i64 = 12;

/// `/lookfirst`.
pub(super) fn look_first(
    asked: &Asked<'_>,
    surface: Option<&str>,
    sign: Option<Sign>,
) -> Result<Decision, Refusal> {
    let tag = match surface {
        Some(typed) => Some(asked.surface(typed)?.0),
        None => None,
    };
    card(asked, tag, sign, SeenBy::Asker).map(Decision::private)
}

/// The card for a sign; without one it asks for it.
pub(super) fn card(
    asked: &Asked<'_>,
    tag: Option<&Tag>,
    sign: Option<Sign>,
    seen_by: SeenBy,
) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let found = match tag {
        Some(tag) => Some(asked.surface(tag.as_str())?),
        None => None,
    };
    if let Some((tag, surface)) = found
        && matches!(surface.life, Life::Retired { .. })
    {
        return Err(Refusal::new("fault-retired").text("tag", tag));
    }
    let name = found.map(|(tag, _)| match seen_by {
        SeenBy::Asker => asked.with_bed(tag),
        SeenBy::Channel => in_post(asked.state, lang, tag),
    });
    let shown = LookCard {
        tag: found.map(|(tag, _)| tag.clone()),
        seen_by,
        at: asked.now.timestamp(),
    };
    let words = match sign {
        Some(sign) => say!(lang, &sign_key(sign)),
        None => say!(lang, "look-which"),
    };
    let mut lines = vec![match &name {
        Some(name) => say!(lang, "look-head", surface = name.as_str(), sign = words),
        None => say!(lang, "look-head-any", sign = words),
    }];
    let open = found.and_then(|(_, surface)| surface.alarm);
    if open.is_none() && found.is_some_and(|(_, surface)| is_under_somebody(asked, surface)) {
        lines.push(say!(lang, "look-raise"));
    }
    let held = found.is_some_and(|(_, surface)| surface.hold.is_some());
    if held {
        lines.push(say!(lang, "look-held"));
    } else if let Some(sign) = sign {
        lines.extend(list(lang, sign));
    }
    let mut message = Message::text(lines.join("\n")).menu(signs(lang, &shown));
    match (
        found,
        open.and_then(|no| Some((no, asked.state.alarms.get(&no)?))),
    ) {
        (Some(_), Some((no, alarm))) => {
            let card = alarm::own_card(asked, no, alarm);
            message.rows.extend(card.rows);
        }
        (Some(_), None) if Right::RaiseAlarm.roles().contains(&asked.role) => {
            let kind = sign.map_or(AlarmKind::Unknown, look_first::alarm);
            let tap = Tap::Plain(Plain::Start { card: shown, kind });
            message = message.buttons(vec![button(lang, "button-start-alarm", Look::Main, &tap)]);
        }
        (Some(_) | None, None) | (None, Some(_)) => {}
    }
    Ok(message)
}

/// A tap on the card that asks for another sign: the card takes its own place.
pub(super) fn other_sign(
    asked: &Asked<'_>,
    shown: &LookCard,
    sign: Sign,
) -> Result<Decision, Refusal> {
    let message = card(asked, shown.tag.as_ref(), Some(sign), shown.seen_by)?;
    Ok(Decision {
        answer: Some(Answer::Replace(message)),
        ..Decision::default()
    })
}

/// "Start the alarm" on the card: the same rule as `/alarm`.
pub(super) fn start(
    asked: &Asked<'_>,
    shown: &LookCard,
    kind: AlarmKind,
) -> Result<Decision, Refusal> {
    let Some(tag) = &shown.tag else {
        return Err(Refusal::new("fault-stale-tap"));
    };
    if asked.now.timestamp() - shown.at > START_HOURS_MAX * 3_600 {
        return Err(Refusal::new("fault-look-old").text("tag", tag));
    }
    alarm::raise(asked, tag.as_str(), Some(kind), None).map(in_its_place)
}

/// The answer takes the place of the card that was tapped, so that nobody taps it twice.
pub(super) fn in_its_place(mut decision: Decision) -> Decision {
    decision.answer = decision.answer.map(|answer| match answer {
        Answer::Private(message) => Answer::Replace(message),
        Answer::Shared(_)
        | Answer::Replace(_)
        | Answer::Form(_)
        | Answer::Choices(_)
        | Answer::Fetch(_) => answer,
    });
    decision
}

/// What an alarm's card says in one line.
pub(super) fn short(lang: Lang, kind: AlarmKind) -> String {
    let sign = look_first::of_alarm(kind);
    let these: Vec<String> = look_first::steps(sign)
        .iter()
        .map(|at| say!(lang, &format!("look-at-{}", at.as_str())))
        .collect();
    let line = say!(lang, "look-in-order", these = these.join(", "));
    match kind {
        AlarmKind::BottomedOut => format!("{}\n{line}", say!(lang, "look-stay")),
        AlarmKind::Unknown
        | AlarmKind::LowPressure
        | AlarmKind::Power
        | AlarmKind::HighPressure
        | AlarmKind::Fault => line,
    }
}

/// The whole list: each thing with how it is looked at, then what to do if it is none of them.
fn list(lang: Lang, sign: Sign) -> Vec<String> {
    let mut lines: Vec<String> = look_first::steps(sign)
        .iter()
        .enumerate()
        .map(|(place, at)| {
            let how = say!(lang, &how_key(*at));
            format!("{}. {how}", place + 1)
        })
        .collect();
    let key = match look_first::end(sign) {
        End::IfNoneOfThese => "look-end-none",
        End::OutOfServiceNow => "look-end-now",
    };
    lines.push(say!(lang, key));
    lines.push(say!(lang, "look-maker"));
    lines
}

fn signs(lang: Lang, shown: &LookCard) -> Menu {
    let entries = Sign::ALL
        .iter()
        .map(|sign| MenuEntry {
            value: sign.as_str().to_owned(),
            label: say!(lang, &sign_key(*sign)),
            about: None,
        })
        .collect();
    let tap = Tap::Plain(Plain::Sign {
        card: shown.clone(),
        sign: Sign::NotKnown,
    });
    Menu {
        id: tap.id(),
        hint: say!(lang, "menu-sign"),
        entries,
    }
}

fn is_under_somebody(asked: &Asked<'_>, surface: &Surface) -> bool {
    surface.bed().is_some() && surface.away(asked.now).is_none()
}

pub(super) fn sign_key(sign: Sign) -> String {
    format!("sign-{}", sign.as_str())
}

fn how_key(at: LookAt) -> String {
    format!("look-how-{}", at.as_str())
}
