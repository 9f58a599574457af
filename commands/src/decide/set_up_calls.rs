//! What is promised for a checklist at a bed: the call when it should be full, plugged in again, or all done. Decides
//! what such a call says, and how it is settled; whom it calls is for `due::calls`.

use chrono::{DateTime, Utc};

use super::Notice;
use super::alarm;
use super::draft::{Asked, Draft, button, clock_time, in_post, person, span, unit_channel};
use super::set_up::placed_list;
use super::set_up_card::left_words;
use crate::choice::{Call, Opening, Step};
use crate::due::calls;
use crate::ids::{Tag, Unit};
use crate::message::{ENTRIES_MAX, Look, Menu, MenuEntry, Message};
use crate::record::{Body, On};
use crate::rules::set_up::Stage;
use crate::say;
use crate::state::{Facility, State, Steps};
use crate::tap::{Bedside, ListCard, Tap};
use crate::words::Lang;

/// Nothing is left: nobody needs to be called for it.
pub(super) fn complete(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, list: &Steps) {
    if list.complete() {
        for call in [Call::Full, Call::Plug, Call::Steps] {
            let lang = asked.state.lang();
            let said = say!(
                lang,
                "post-steps-complete",
                surface = in_post(asked.state, lang, tag),
                who = person(asked.ask.who),
                at = clock_time(asked.now)
            );
            settle(asked, draft, tag, call, said);
        }
        settle_unit(asked, draft, tag);
    }
}

/// The last of a unit's surfaces is seen to after a power failure: nobody needs to be called for them.
fn settle_unit(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag) {
    let state = asked.state;
    let Some(unit) = state.unit_of(tag) else {
        return;
    };
    let on = On::Unit(unit.clone());
    let Some(booking) = state.booking(&on, Call::Steps) else {
        return;
    };
    if after_power(state, unit).any(|(other, _)| other != tag) {
        return;
    }
    let call = Call::Steps;
    draft.fact(Body::Unbooked { on, call });
    if let Some(post) = calls::newest_post(call, booking) {
        let said = say!(
            state.lang(),
            "post-steps-complete-unit",
            unit = unit.as_str(),
            at = clock_time(asked.now)
        );
        let channel = unit_channel(state, asked.facility, Some(unit));
        let key = format!("{post}:{}", draft.first());
        draft.edit(key, post, channel, Message::text(said));
    }
}

/// The surfaces of a unit on which something is left to do after a power failure, in the order of their beds.
fn after_power<'a>(state: &'a State, unit: &Unit) -> impl Iterator<Item = (&'a Tag, &'a Steps)> {
    let beds = state
        .units
        .get(unit)
        .into_iter()
        .flat_map(|unit| &unit.beds);
    beds.filter_map(|bed| {
        let (tag, surface) = state.surfaces.get_key_value(state.under.get(bed)?)?;
        let list = placed_list(surface)?;
        (list.opening == Opening::Power && surface.cpr.is_none()).then_some((tag, list))
    })
}

/// What the call for a unit after a power failure says.
pub(super) fn notice_of_unit(state: &State, facility: &Facility, unit: &Unit) -> Option<Notice> {
    let lang = state.lang();
    let open: Vec<(&Tag, &Steps)> = after_power(state, unit).collect();
    if open.is_empty() {
        return None;
    }
    let mut lines = vec![say!(
        lang,
        "post-steps-open-unit",
        unit = unit.as_str(),
        count = open.len() as i64
    )];
    lines.extend(open.iter().map(|(tag, list)| {
        let surface = in_post(state, lang, tag);
        let left = left_words(lang, list);
        say!(lang, "post-steps-open-line", surface = surface, left = left)
    }));
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    let entries = open
        .iter()
        .take(ENTRIES_MAX)
        .map(|(tag, _)| MenuEntry {
            value: tag.to_string(),
            label: in_post(state, lang, tag),
            about: None,
        })
        .collect();
    let menu = Menu {
        id: Tap::Pick { tag: "".into() }.id(),
        hint: say!(lang, "menu-pick"),
        entries,
    };
    Some(Notice {
        channel: unit_channel(state, facility, Some(unit)),
        message: Message::text(text).menu(menu),
    })
}

/// What was promised about a surface is settled: nobody is called for it, and a post that called somebody says so.
pub(super) fn settle(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, call: Call, said: String) {
    let on = On::Surface(tag.clone());
    let Some(booking) = asked.state.booking(&on, call) else {
        return;
    };
    // It can have been settled by this very tap already.
    let gone = draft.decision.entries.iter().any(|entry| {
        matches!(&entry.body, Body::Unbooked { on: of, call: which } if *of == on && *which == call)
    });
    if gone {
        return;
    }
    draft.fact(Body::Unbooked { on, call });
    if let Some(post) = calls::newest_post(call, booking) {
        let channel = alarm::channel(asked.state, asked.facility, tag);
        draft.edit(
            format!("{post}:{}", draft.first()),
            post,
            channel,
            Message::text(said),
        );
    }
}

/// The button to a surface's checklist, for an answer about something else.
pub(super) fn card_button(lang: Lang, tag: &Tag) -> crate::message::Button {
    let tap = Tap::Bedside(Bedside::Steps { tag: tag.clone() });
    button(lang, "button-steps", Look::Plain, &tap)
}

/// What a promised call says.
pub(super) fn notice(
    state: &State,
    facility: &Facility,
    call: Call,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Option<Notice> {
    let lang = state.lang();
    let surface = state.surfaces.get(tag)?;
    let list = placed_list(surface)?;
    let open = |step: Step| list.left().any(|left| left == step);
    let name = in_post(state, lang, tag);
    let card = ListCard {
        tag: tag.clone(),
        list: list.no,
        post: true,
    };
    let tap = |stage| {
        Tap::Bedside(Bedside::Done {
            card: card.clone(),
            stage,
        })
    };
    let mut buttons = Vec::new();
    let text = match call {
        Call::Full if open(Step::Full) => {
            let refill = list.opening == Opening::Cpr;
            let (said, key) = if refill {
                ("post-refill-over", "button-refilled")
            } else {
                ("post-fill-over", "button-full")
            };
            buttons.push(button(lang, key, Look::Good, &tap(Stage::Full)));
            say!(lang, said, surface = name)
        }
        Call::Plug if open(Step::Plugged) => {
            let tap = tap(Stage::Empty);
            buttons.push(button(lang, "button-plugged", Look::Good, &tap));
            let moved = span(lang, (now - list.since).num_minutes());
            say!(lang, "post-plug-over", surface = name, span = moved)
        }
        Call::Steps => say!(
            lang,
            "post-steps-open",
            surface = name,
            left = left_words(lang, list)
        ),
        Call::Full
        | Call::Plug
        | Call::Static
        | Call::Leave
        | Call::Cpr
        | Call::Contact
        | Call::Turnover
        | Call::Hold
        | Call::Idle
        | Call::Pickup
        | Call::Recall
        | Call::Roll
        | Call::Agree
        | Call::Handover => return None,
    };
    buttons.push(card_button(lang, tag));
    Some(Notice {
        channel: alarm::channel(state, facility, tag),
        message: Message::text(text).buttons(buttons),
    })
}
