//! What is ready before a weekend, and what still can be. Decides what the supervisors and upkeep read on a Friday;
//! leaves a surface for one admission to `/match`. Admissions are not guessed.

use chrono::{DateTime, Utc};

use super::asking;
use crate::choice::Owned;
use crate::decide::matching;
use crate::ids::Tag;
use crate::message::Message;
use crate::role::Role;
use crate::rules::hand_check::Kind;
use crate::rules::order_point;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Facility, Life, State, Surface};
use crate::words::Lang;

/// Names that a line shows before it only counts.
const NAMES_MAX: usize = 6;

/// The post.
pub(super) fn post(state: &State, facility: &Facility, lang: Lang, now: DateTime<Utc>) -> Message {
    let mut lines = vec![say!(lang, "weekend-head")];
    lines.extend(super::outage::lines(state, lang, None, now));
    lines.extend(ready_by_kind(state, lang));
    lines.extend(turnovers(state, lang, now));
    let out = tags(state, |surface| {
        matches!(surface.life, Life::OutOfService { .. }) || surface.hold.is_some()
    });
    if !out.is_empty() {
        lines.push(say!(
            lang,
            "weekend-out",
            count = out.len() as i64,
            these = names(lang, &out)
        ));
    }
    let idle = tags(state, idle);
    if !idle.is_empty() {
        lines.push(say!(
            lang,
            "weekend-idle",
            count = idle.len() as i64,
            these = names(lang, &idle)
        ));
    }
    let low = short_stock(state, facility, now);
    if !low.is_empty() {
        lines.push(say!(
            lang,
            "weekend-stock",
            count = low.len() as i64,
            these = low.join(", ")
        ));
    }
    lines.push(say!(lang, "weekend-foot"));
    let mut text = lines.join("\n");
    super::truncate(&mut text);
    asking::routine(state, None, &[Role::Upkeep], now).on(facility, Message::text(text))
}

/// What is ready, a line for each kind that the home has.
pub(crate) fn ready_by_kind(state: &State, lang: Lang) -> impl Iterator<Item = String> {
    Kind::ALL
        .iter()
        .filter_map(move |kind| ready(state, lang, *kind))
}

/// What is ready of a kind; nothing where the home has none of that kind.
fn ready(state: &State, lang: Lang, kind: Kind) -> Option<String> {
    let ours = |surface: &Surface| {
        state.profile_of(surface).kind == kind
            && matches!(surface.owned, Owned::Owned | Owned::Rented)
            && !matches!(surface.life, Life::Retired { .. })
    };
    let all = tags(state, ours);
    let ready = tags(state, |surface| {
        ours(surface) && matches!(surface.life, Life::Ready { .. })
    });
    if all.is_empty() {
        return None;
    }
    Some(if ready.is_empty() {
        say!(
            lang,
            "weekend-none",
            kind = say!(lang, matching::kind_key(kind))
        )
    } else {
        say!(
            lang,
            "weekend-ready",
            kind = say!(lang, matching::kind_key(kind)),
            count = ready.len() as i64,
            these = names(lang, &ready)
        )
    })
}

/// Turnovers under way: those that should be done by their target, and those that are past it.
fn turnovers(state: &State, lang: Lang, now: DateTime<Utc>) -> Vec<String> {
    let mut under_way: Vec<_> = state
        .surfaces
        .iter()
        .filter_map(|(tag, surface)| match &surface.life {
            Life::Soiled(turnover) => Some((matching::target(state, turnover), tag, turnover)),
            Life::Placed { .. }
            | Life::Ready { .. }
            | Life::OutOfService { .. }
            | Life::Retired { .. } => None,
        })
        .collect();
    under_way.sort_by_key(|(target, tag, _)| (*target, *tag));
    let mut lines: Vec<String> = under_way
        .iter()
        .take(NAMES_MAX)
        .map(|(target, tag, turnover)| {
            let key = if *target > now {
                "weekend-turnover"
            } else {
                "weekend-turnover-late"
            };
            say!(
                lang,
                key,
                tag = tag.as_str(),
                left = matching::steps_left(turnover) as i64,
                by = crate::decide::day_time(*target)
            )
        })
        .collect();
    if under_way.len() > NAMES_MAX {
        lines.push(say!(
            lang,
            "weekend-turnovers-more",
            count = (under_way.len() - NAMES_MAX) as i64
        ));
    }
    lines
}

/// Rented, under no bed and not yet fetched.
fn idle(surface: &Surface) -> bool {
    surface.owned == Owned::Rented
        && surface.bed().is_none()
        && !matches!(surface.life, Life::Retired { .. })
        && surface
            .rental
            .as_ref()
            .is_none_or(|rental| rental.collected.is_none() && rental.confirmed.is_none())
}

/// What is counted and would not last over the weekend at the rate it is used.
fn short_stock(state: &State, facility: &Facility, now: DateTime<Utc>) -> Vec<String> {
    let today = facility.zone.local(now).date();
    let window = state.policies.get(Name::OrderWindow);
    // From Friday noon to the delivery of a Monday.
    let weekend = state.policies.get(Name::WeekendDays) as f64;
    state
        .stock
        .iter()
        .filter(|(_, stock)| {
            let uses: Vec<_> = stock.uses.iter().copied().collect();
            let on_hand = u32::try_from(stock.on_hand).unwrap_or(0);
            on_hand == 0
                || order_point::rate(&uses, stock.known_since(), today, window)
                    .and_then(|rate| order_point::days_left(on_hand, rate))
                    .is_some_and(|days| days < weekend)
        })
        .map(|(item, _)| crate::decide::escaped(item.as_str()))
        .collect()
}

fn tags(state: &State, wanted: impl Fn(&Surface) -> bool) -> Vec<&Tag> {
    state
        .surfaces
        .iter()
        .filter(|(_, surface)| wanted(surface))
        .map(|(tag, _)| tag)
        .collect()
}

fn names(lang: Lang, tags: &[&Tag]) -> String {
    let mut text = tags
        .iter()
        .take(NAMES_MAX)
        .map(|tag| tag.as_str())
        .collect::<Vec<_>>()
        .join(", ");
    if tags.len() > NAMES_MAX {
        text.push_str(&say!(
            lang,
            "due-more",
            count = (tags.len() - NAMES_MAX) as i64
        ));
    }
    text
}
