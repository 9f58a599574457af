//! A surface for an admission. Decides what fits, what comes next, and what renting costs meanwhile; what is not on
//! record is asked, never assumed, and nothing of the question is recorded.

use super::draft::{Asked, day_time};
use super::place::find_bed;
use super::turnover::missing;
use super::{beds, frame, papers, rental};
use crate::choice::Owned;
use crate::decision::Decision;
use crate::ids::{Bed, Tag};
use crate::message::{BUTTONS_MAX, Button, Look, Message};
use crate::record::Profile;
use crate::refusal::Refusal;
use crate::request::Right;
use crate::rules::air::Tenths;
use crate::rules::frame as frames;
use crate::rules::hand_check::{Class, Kind};
use crate::rules::policy::Name;
use crate::rules::rent;
use crate::say;
use crate::state::{Life, State, Surface, Turnover};
use crate::tap::{Power, Tap};
use chrono::{DateTime, TimeDelta, Utc};

/// Surfaces that one answer lists of a sort.
const SHOWN: usize = 5;

/// What an admission wants.
struct Wanted<'a> {
    kind: Kind,
    width: Option<Tenths>,
    /// It was said, and not taken from the bed's frame: whoever lies there needs so much.
    wide: bool,
    /// The length of the bed's frame, where it is on record.
    length: Option<Tenths>,
    capacity: Option<i64>,
    bed: Option<&'a Bed>,
}

/// How a surface answers what is wanted.
pub(super) enum Fit {
    /// In all that was asked.
    Yes,
    /// In all that is on record; these are not.
    Ask(Vec<&'static str>),
    /// Not.
    No,
}

/// `/match`.
pub(super) fn find(
    asked: &Asked<'_>,
    kind: Kind,
    width: Option<&str>,
    capacity: Option<i64>,
    bed: Option<&str>,
) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let bed = bed.map(|typed| find_bed(asked, typed)).transpose()?;
    let there = bed.and_then(|bed| state.frame(bed));
    let wide = width.is_some();
    let width = match width {
        Some(typed) => {
            Some(frames::parse(typed).map_err(|fault| frame::size_fault("width", fault))?)
        }
        None => there.and_then(|frame| frame.width),
    };
    let wanted = Wanted {
        kind,
        width,
        wide,
        length: there.and_then(|frame| frame.length),
        capacity,
        bed,
    };
    let mut lines = vec![head(asked, &wanted)];
    if let (Some(bed), None) = (bed, wanted.width) {
        lines.push(say!(lang, "match-frame-unknown", bed = bed.as_str()));
    }
    if let Some(bed) = bed
        && let Some(tag) = state.under.get(bed)
    {
        lines.push(say!(
            lang,
            "match-bed-taken",
            bed = bed.as_str(),
            tag = tag.as_str()
        ));
    }
    let (mut fit, mut ask) = (Vec::new(), Vec::new());
    for (tag, surface) in &state.surfaces {
        if !matches!(surface.life, Life::Ready { .. }) {
            continue;
        }
        match fits(asked, tag, surface, &wanted) {
            Fit::Yes => fit.push((tag, surface)),
            Fit::Ask(what) => ask.push((tag, surface, what)),
            Fit::No => {}
        }
    }
    for (tag, surface) in fit.iter().take(SHOWN) {
        lines.push(line(asked, tag, surface, &[]));
    }
    if fit.is_empty() {
        lines.push(say!(
            lang,
            if ask.is_empty() {
                "match-none"
            } else {
                "match-none-sure"
            }
        ));
    }
    if !ask.is_empty() {
        lines.push(say!(lang, "match-ask"));
    }
    for (tag, surface, what) in ask.iter().take(SHOWN) {
        lines.push(line(asked, tag, surface, what));
    }
    let more = fit.len().saturating_sub(SHOWN) + ask.len().saturating_sub(SHOWN);
    if more > 0 {
        lines.push(say!(lang, "match-more", count = more as i64));
    }
    if let Some(storage) = state
        .storage
        .as_ref()
        .filter(|_| !fit.is_empty() || !ask.is_empty())
    {
        lines.push(say!(
            lang,
            "match-storage",
            place = super::check::escaped(&storage.clean)
        ));
    }
    if fit.is_empty() {
        let first = next_ones(asked, &wanted, &mut lines);
        lines.push(renting(asked, kind, first));
    }
    lines.push(say!(lang, "match-limits"));
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    let free = bed
        .filter(|bed| !state.under.contains_key(*bed))
        .filter(|_| super::items::may(asked, Right::Place));
    let buttons = free.map_or_else(Vec::new, |bed| {
        fit.iter()
            .take(BUTTONS_MAX)
            .map(|(tag, _)| place_button(asked, tag, bed))
            .collect()
    });
    Ok(Decision::private(Message::text(text).buttons(buttons)))
}

fn place_button(asked: &Asked<'_>, tag: &Tag, bed: &Bed) -> Button {
    let tap = Power::Place {
        tag: tag.clone(),
        bed: bed.clone(),
    };
    Button {
        id: Tap::Power(tap).id(),
        label: say!(
            asked.lang,
            "button-place-under",
            tag = tag.as_str(),
            bed = bed.as_str()
        ),
        look: Look::Main,
    }
}

/// What was asked, as it was understood.
fn head(asked: &Asked<'_>, wanted: &Wanted<'_>) -> String {
    let lang = asked.lang;
    let mut asks = vec![say!(lang, kind_key(wanted.kind))];
    if let Some(width) = wanted.width {
        asks.push(say!(lang, "match-wide", width = frames::show(width)));
    }
    if let Some(capacity) = wanted.capacity {
        asks.push(say!(lang, "match-carries", capacity = capacity));
    }
    if let Some(bed) = wanted.bed {
        asks.push(say!(lang, "match-for-bed", bed = bed.as_str()));
    }
    say!(lang, "match-head", asks = asks.join(", "))
}

/// What a surface does, in words.
pub(crate) fn kind_key(kind: Kind) -> &'static str {
    match kind {
        Kind::Alternating => "surface-kind-alternating",
        Kind::LowAirLoss => "surface-kind-low-air-loss",
        Kind::Both => "surface-kind-both",
        Kind::Static => "surface-kind-static",
    }
}

/// Whether a surface may take the place of one of this profile under a bed, by the same rule: it does what that one does,
/// fits the bed's frame, and carries no less.
pub(super) fn fits_instead(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    bed: &Bed,
    profile: &Profile,
) -> Fit {
    let frame = asked.state.frame(bed);
    let wanted = Wanted {
        kind: profile.kind,
        width: frame.and_then(|frame| frame.width),
        wide: false,
        length: frame.and_then(|frame| frame.length),
        capacity: profile.capacity_lb.map(i64::from),
        bed: Some(bed),
    };
    fits(asked, tag, surface, &wanted)
}

/// Whether a surface of this home answers what is wanted. What `/place` would refuse there is not offered, and no more is
/// what leaves a gap at the frame's side or end.
fn fits(asked: &Asked<'_>, tag: &Tag, surface: &Surface, wanted: &Wanted<'_>) -> Fit {
    // Not the home's to give to somebody else; kept for an inquiry; called away by its vendor.
    if surface.owned.is_of_others()
        || surface.hold.is_some()
        || rental::may_be_placed(tag, surface).is_err()
    {
        return Fit::No;
    }
    let profile = asked.state.profile_of(surface);
    let refused = wanted
        .bed
        .is_some_and(|bed| beds::fits(asked, bed, profile).is_err());
    if !does(profile.kind, wanted.kind) || refused {
        return Fit::No;
    }
    let mut ask = Vec::new();
    let free = asked.state.policies.length(Name::FrameFree);
    // A whole bed brings its own frame, which is no wider for that.
    if profile.class == Class::Integrated {
        match (wanted.width.filter(|_| wanted.wide), profile.width) {
            (Some(least), Some(own)) if own.0 + frames::SAME.0 < least.0 => return Fit::No,
            (Some(_), None) => ask.push("match-lacks-width"),
            (Some(_) | None, _) => {}
        }
    } else {
        for (frame, own, lacks) in [
            (wanted.width, profile.width, "match-lacks-width"),
            (wanted.length, profile.length, "match-lacks-length"),
        ] {
            match frames::fit(frame, own, free) {
                frames::Fit::Over | frames::Fit::Gap => return Fit::No,
                frames::Fit::Fits if frame.is_some() && own.is_none() => ask.push(lacks),
                frames::Fit::Fits => {}
            }
        }
    }
    match (wanted.capacity, profile.capacity_lb) {
        (None, _) => {}
        (Some(_), None) => ask.push("match-lacks-capacity"),
        (Some(least), Some(capacity)) if i64::from(capacity) < least => return Fit::No,
        (Some(_), Some(_)) => {}
    }
    if ask.is_empty() {
        Fit::Yes
    } else {
        Fit::Ask(ask)
    }
}

/// Whether a surface of one kind does what another asks for: one of both kinds does either.
pub(super) fn does(kind: Kind, wanted: Kind) -> bool {
    kind == wanted || (kind == Kind::Both && matches!(wanted, Kind::Alternating | Kind::LowAirLoss))
}

/// A ready surface in one line.
fn line(asked: &Asked<'_>, tag: &Tag, surface: &Surface, lacks: &[&'static str]) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let profile = state.profile_of(surface);
    let mut parts = facts(asked, profile);
    parts.extend(lacks.iter().map(|key| say!(lang, key)));
    if surface.owned == Owned::Rented {
        parts.push(say!(lang, "match-rented"));
    }
    let missing = papers::papers_missing(state, surface, asked.now);
    if !missing.is_empty() {
        let missing = papers::names(lang, &missing);
        parts.push(say!(lang, "match-papers", missing = missing));
    }
    say!(
        lang,
        "match-line",
        tag = tag.as_str(),
        parts = parts.join(" · ")
    )
}

fn facts(asked: &Asked<'_>, profile: &Profile) -> Vec<String> {
    let mut parts = vec![profile.name.to_string()];
    if let Some(width) = profile.width {
        parts.push(say!(asked.lang, "match-wide", width = frames::show(width)));
    }
    if let Some(capacity) = profile.capacity_lb {
        parts.push(say!(
            asked.lang,
            "match-carries",
            capacity = i64::from(capacity)
        ));
    }
    parts
}

/// The turnovers that will give one that fits, those that finish first before the rest; when the first should be done.
fn next_ones(
    asked: &Asked<'_>,
    wanted: &Wanted<'_>,
    lines: &mut Vec<String>,
) -> Option<DateTime<Utc>> {
    let (state, lang) = (asked.state, asked.lang);
    let mut under_way: Vec<(&Tag, &Surface, &Turnover)> = state
        .surfaces
        .iter()
        .filter_map(|(tag, surface)| match &surface.life {
            Life::Soiled(turnover) => Some((tag, surface, turnover)),
            Life::Placed { .. }
            | Life::Ready { .. }
            | Life::OutOfService { .. }
            | Life::Retired { .. } => None,
        })
        .filter(|(tag, surface, _)| !matches!(fits(asked, tag, surface, wanted), Fit::No))
        .collect();
    under_way.sort_by_key(|(_, surface, turnover)| {
        (surface.clean_last, steps_left(turnover), turnover.since)
    });
    if under_way.is_empty() {
        lines.push(say!(lang, "match-no-turnover"));
        return None;
    }
    lines.push(say!(lang, "match-turnovers"));
    for (tag, surface, turnover) in under_way.iter().take(SHOWN) {
        let lacks = match fits(asked, tag, surface, wanted) {
            Fit::Ask(lacks) => lacks,
            Fit::Yes | Fit::No => Vec::new(),
        };
        let mut parts = facts(asked, state.profile_of(surface));
        parts.extend(lacks.iter().map(|key| say!(lang, key)));
        let by = target(state, turnover);
        let key = if by < asked.now {
            "match-steps-left-late"
        } else {
            "match-steps-left"
        };
        let count = steps_left(turnover) as i64;
        parts.push(say!(lang, key, count = count, by = day_time(by)));
        if surface.clean_last {
            parts.push(say!(lang, "match-clean-last"));
        }
        lines.push(say!(
            lang,
            "match-line",
            tag = tag.as_str(),
            parts = parts.join(" · ")
        ));
    }
    under_way
        .first()
        .map(|(_, _, turnover)| target(state, turnover))
}

/// How many steps a turnover still has.
pub(crate) fn steps_left(turnover: &Turnover) -> usize {
    if turnover.steps.is_empty() {
        missing(turnover).len()
    } else {
        turnover.left().count()
    }
}

/// When a turnover should be done, by the home's target.
pub(crate) fn target(state: &State, turnover: &Turnover) -> DateTime<Utc> {
    turnover.since + TimeDelta::hours(state.policies.get(Name::TurnoverHours))
}

/// What a rental costs until the first of them is ready.
fn renting(asked: &Asked<'_>, kind: Kind, first: Option<DateTime<Utc>>) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let Some((rate, _)) = rates(state, Some(kind)) else {
        return rates(state, None).map_or_else(
            || say!(lang, "match-no-rate"),
            |(other, _)| say!(lang, "match-rate-of-other", rate = rent::money(other)),
        );
    };
    let Some(until) = first else {
        return say!(lang, "match-rent-a-day", rate = asked.money(rate));
    };
    let day = |at| asked.facility.zone.local(at).date();
    // One that is over its target is still not ready today.
    let days = rent::days(day(asked.now), day(until.max(asked.now)));
    let cost = rent::cost(rate, days).map_or_else(String::new, |cents| asked.money(cents));
    say!(
        lang,
        "match-rent",
        rate = asked.money(rate),
        days = days,
        cost = cost
    )
}

/// What renting one of a kind costs a day, in cents, and of how many rentals that is: the median of what this home pays and
/// paid for those that do it, else what it has said, of none; `None` if neither. Of all kinds if none is asked for.
pub(super) fn rates(state: &State, kind: Option<Kind>) -> Option<(i64, usize)> {
    let of_kind =
        |surface: &&Surface| kind.is_none_or(|kind| does(state.profile_of(surface).kind, kind));
    let mut rates: Vec<i64> = state
        .surfaces
        .values()
        .filter(|surface| surface.owned == Owned::Rented)
        .filter(of_kind)
        .filter_map(|surface| {
            surface
                .rental
                .as_ref()
                .map(|rental| rental.daily_cents)
                .or(surface.daily_cents)
        })
        .filter(|cents| *cents > 0)
        .collect();
    rates.sort_unstable();
    let middle = rates.len() / 2;
    match rates.get(middle) {
        Some(upper) if rates.len().is_multiple_of(2) => {
            // Half way between the two in the middle, rounded to a cent.
            Some(((rates[middle - 1] + upper + 1) / 2, rates.len()))
        }
        Some(middle) => Some((*middle, rates.len())),
        None => Some((state.policies.get(Name::RentalDay), 0)).filter(|(cents, _)| *cents > 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_of_both_kinds_does_either() {
        assert!(does(Kind::Both, Kind::Alternating));
        assert!(does(Kind::Both, Kind::LowAirLoss));
        assert!(!does(Kind::Alternating, Kind::Both));
        assert!(!does(Kind::Both, Kind::Static));
        assert!(does(Kind::Static, Kind::Static));
    }
}
