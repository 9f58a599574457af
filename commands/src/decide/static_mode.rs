//! Static mode: an alternating surface held still for care or transfer. Decides for how long, and that somebody is
//! called to turn it back.

use chrono::TimeDelta;

use super::Notice;
use super::alarm;
use super::draft::{Asked, button, clock_time, in_post, person, take_back};
use super::leave::ahead;
use super::moves::not_placed;
use super::set_up_calls::settle;
use crate::choice::Call;
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Button, Look, Message};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::rules::hand_check::Kind;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Facility, Life, State, Surface};
use crate::tap::{Bedside, Begun, Tap};
use crate::words::Lang;

/// `/static`.
pub(super) fn static_mode(
    asked: &Asked<'_>,
    typed: &str,
    until: &str,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    if !matches!(surface.life, Life::Placed { .. }) {
        return Err(not_placed(asked, tag, surface));
    }
    if surface.cpr.is_some() {
        return Err(super::cpr::open_fault(asked, tag));
    }
    let profile = asked.state.profile_of(surface);
    match profile.kind {
        Kind::Alternating | Kind::Both => {}
        Kind::LowAirLoss | Kind::Static => {
            return Err(Refusal::new("fault-static-kind")
                .text("surface", asked.with_bed(tag))
                .text("profile", profile.name.as_str()));
        }
    }
    // Said twice, it is still the same time in static mode: the limit counts from its beginning.
    let (since, begun) = surface
        .static_mode
        .map_or((asked.now, asked.now), |held| (held.since, held.said));
    let most = TimeDelta::minutes(asked.state.policies.get(Name::StaticMost));
    let until = ahead(asked, until, since + most - asked.now)?;
    let mut draft = asked.draft();
    let post_lang = asked.state.lang();
    let said = say!(
        post_lang,
        "post-static-longer",
        surface = in_post(asked.state, post_lang, tag),
        who = person(asked.ask.who),
        until = clock_time(until)
    );
    draft.fact(Body::StaticBegan {
        tag: tag.clone(),
        until,
    });
    settle(asked, &mut draft, tag, Call::Static, said);
    draft.fact(Body::Booked {
        on: On::Surface(tag.clone()),
        call: Call::Static,
        due: until,
    });
    let lang = asked.lang;
    let text = say!(
        lang,
        "static-began",
        surface = asked.with_bed(tag),
        until = clock_time(until)
    );
    let buttons = vec![
        alternating(lang, tag, begun.timestamp()),
        take_back(lang, &draft, tag),
    ];
    Ok(draft.private(Message::text(text).buttons(buttons)))
}

fn alternating(lang: Lang, tag: &Tag, since: i64) -> Button {
    let tap = Tap::Bedside(Bedside::Alternating {
        begun: Begun {
            tag: tag.clone(),
            since,
        },
    });
    button(lang, "button-alternating", Look::Good, &tap)
}

/// "Alternating again".
pub(super) fn over(asked: &Asked<'_>, which: &Begun) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(which.tag.as_str())?;
    let lang = asked.lang;
    let running = surface
        .static_mode
        .is_some_and(|held| held.said.timestamp() == which.since);
    if !running {
        return Err(Refusal::new("fault-static-over").text("surface", asked.with_bed(tag)));
    }
    let mut draft = asked.draft();
    end(asked, &mut draft, tag);
    let text = say!(lang, "static-over", surface = asked.with_bed(tag));
    let back = take_back(lang, &draft, tag);
    Ok(draft.private(Message::text(text).buttons(vec![back])))
}

/// The facts that end static mode.
pub(super) fn end(asked: &Asked<'_>, draft: &mut super::draft::Draft, tag: &Tag) {
    draft.fact(Body::StaticEnded { tag: tag.clone() });
    let lang = asked.state.lang();
    let said = say!(
        lang,
        "post-alternating",
        surface = in_post(asked.state, lang, tag),
        who = person(asked.ask.who),
        at = clock_time(asked.now)
    );
    settle(asked, draft, tag, Call::Static, said);
}

/// The button that ends it, for a surface that is in static mode.
pub(super) fn end_button(lang: Lang, tag: &Tag, surface: &Surface) -> Option<Button> {
    let said = surface.static_mode?.said;
    Some(alternating(lang, tag, said.timestamp()))
}

/// The line on a surface's card.
pub(super) fn line(lang: Lang, surface: &Surface) -> Option<String> {
    let until = surface.static_mode?.until;
    Some(say!(lang, "surface-static", until = clock_time(until)))
}

/// A surface whose line on the due list was picked.
pub(super) fn card(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Decision {
    let lang = asked.lang;
    let mut lines = vec![format!("**{}**", asked.with_bed(tag))];
    lines.extend(line(lang, surface));
    let buttons = end_button(lang, tag, surface).into_iter().collect();
    Decision::private(Message::text(lines.join("\n")).buttons(buttons))
}

/// Static mode was to end now.
pub(super) fn notice(state: &State, facility: &Facility, tag: &Tag) -> Option<Notice> {
    let surface = state.surfaces.get(tag)?;
    if !matches!(surface.life, Life::Placed { .. }) {
        return None;
    }
    let held = surface.static_mode?;
    let lang = state.lang();
    let text = say!(
        lang,
        "post-static-over",
        surface = in_post(state, lang, tag),
        at = clock_time(held.since)
    );
    let buttons = vec![alternating(lang, tag, held.said.timestamp())];
    Some(Notice {
        channel: alarm::channel(state, facility, tag),
        message: Message::text(text).buttons(buttons),
    })
}
