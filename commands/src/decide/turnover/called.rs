//! What a turnover's promised calls say: the contact time is over, or it takes longer than its target. Decides which late
//! ones are named together, and called for by one post; leaves whom to call to `due`.

use chrono::{DateTime, TimeDelta, Utc};

use super::super::Notice;
use super::super::draft::{button, day_time, in_post};
use super::missing;
use crate::choice::Call;
use crate::ids::Tag;
use crate::message::{Look, Menu, MenuEntry, Message};
use crate::record::On;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Booking, Facility, Life, State, Turnover};
use crate::tap::{Began, Tap, Turn};

/// Late turnovers that one post names; the rest are counted.
const LATE_SHOWN: usize = 15;

/// One post about late turnovers is the call for all that would be called for within so many minutes.
const TOGETHER_MINUTES: i64 = 60;

/// What a promised call says.
pub(in crate::decide) fn notice(
    state: &State,
    facility: &Facility,
    call: Call,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Option<Notice> {
    match call {
        Call::Contact => contact_over(state, facility, tag),
        Call::Turnover => late(state, facility, now),
        Call::Full
        | Call::Plug
        | Call::Steps
        | Call::Static
        | Call::Leave
        | Call::Cpr
        | Call::Hold
        | Call::Idle
        | Call::Pickup
        | Call::Recall
        | Call::Roll
        | Call::Agree
        | Call::Handover => None,
    }
}

fn contact_over(state: &State, facility: &Facility, tag: &Tag) -> Option<Notice> {
    let Life::Soiled(turnover) = &state.surfaces.get(tag)?.life else {
        return None;
    };
    let lang = state.lang();
    let text = say!(lang, "post-contact", surface = in_post(state, lang, tag));
    let of = Began(turnover.said.timestamp() / 60);
    let tap = Tap::Turn(Turn::Dried {
        tag: tag.clone(),
        of,
    });
    let message = Message::text(text).buttons(vec![button(lang, "button-dried", Look::Good, &tap)]);
    Some(Notice {
        channel: facility.care_channel,
        message,
    })
}

/// The other late turnovers that the post about `tag` is the call for: those that would be called for within the hour.
pub(in crate::decide) fn together<'a>(
    state: &'a State,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Vec<(&'a On, &'a Booking)> {
    let soon = now + TimeDelta::minutes(TOGETHER_MINUTES);
    let of = state.calls.get(&Call::Turnover).into_iter().flatten();
    of.filter(|(on, booking)| {
        let own = matches!(on, On::Surface(other) if other == tag);
        !own && booking.due <= now && booking.next.is_some_and(|next| next <= soon)
    })
    .collect()
}

/// Turnovers that take longer than their target: one post names them all.
fn late(state: &State, facility: &Facility, now: DateTime<Utc>) -> Option<Notice> {
    let of = state.calls.get(&Call::Turnover)?;
    let lang = state.lang();
    let mut late: Vec<(bool, DateTime<Utc>, &Tag, &Turnover)> = of
        .iter()
        .filter(|(_, booking)| booking.due <= now)
        .filter_map(|(on, _)| match on {
            On::Surface(tag) => {
                let (tag, surface) = state.surfaces.get_key_value(tag)?;
                match &surface.life {
                    Life::Soiled(turnover) => {
                        Some((surface.clean_last, turnover.since, tag, turnover))
                    }
                    Life::Placed { .. }
                    | Life::Ready { .. }
                    | Life::OutOfService { .. }
                    | Life::Retired { .. } => None,
                }
            }
            On::Recall(_) | On::Outage(_) | On::Unit(_) | On::Wish(_) => None,
        })
        .collect();
    late.sort_by_key(|(marked, since, tag, _)| (*marked, *since, *tag));
    let hours = state.policies.get(Name::TurnoverHours);
    let mut lines = vec![say!(
        lang,
        "post-turnover-late",
        count = late.len() as i64,
        hours = hours
    )];
    for (marked, since, tag, turnover) in late.iter().take(LATE_SHOWN) {
        let left: Vec<String> = missing(turnover)
            .into_iter()
            .map(|key| say!(lang, key))
            .collect();
        let key = if *marked {
            "post-turnover-line-marked"
        } else {
            "post-turnover-line"
        };
        lines.push(say!(
            lang,
            key,
            surface = in_post(state, lang, tag),
            since = day_time(*since),
            left = left.join(", ")
        ));
    }
    if late.len() > LATE_SHOWN {
        let more = (late.len() - LATE_SHOWN) as i64;
        lines.push(say!(lang, "post-turnover-more", count = more));
    }
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    let entries = late
        .iter()
        .take(LATE_SHOWN)
        .map(|(_, _, tag, _)| MenuEntry {
            value: tag.to_string(),
            label: in_post(state, lang, tag),
            about: None,
        })
        .collect();
    let menu = Menu {
        id: "pick".to_owned(),
        hint: say!(lang, "menu-pick"),
        entries,
    };
    Some(Notice {
        channel: facility.upkeep_reads(),
        message: Message::text(text).menu(menu),
    })
}
