//! Placing and releasing. Decides that nothing is placed that is not ready, and what a release begins.

use super::alarm;
use super::draft::{Asked, Draft, day_time, take_back};
use super::set_up::{self, name_at};
use super::set_up_card::{View, message};
use super::turnover::{self, missing};
use super::{beds, papers, rental, shelf};
use crate::choice::{Opening, Paper, ReleaseReason, Switch};
use crate::decision::Decision;
use crate::ids::{Bed, Tag};
use crate::message::Message;
use crate::record::{AlarmEnd, Body};
use crate::refusal::Refusal;
use crate::rules::nearest::{self, Match};
use crate::say;
use crate::state::{Life, Surface};

/// `/place`.
pub(super) fn place(asked: &Asked<'_>, typed: &str, bed: &str) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let bed = find_bed(asked, bed)?;
    // The same pair again: somebody carries on with its set-up.
    if surface.bed() == Some(bed) && set_up::placed_list(surface).is_some() {
        return set_up::show(asked, tag);
    }
    if let Some(other) = asked.state.under.get(bed) {
        return Err(Refusal::new("fault-bed-taken-swap")
            .text("bed", bed)
            .text("tag", tag)
            .text("other", other));
    }
    may_go(asked, tag, surface, bed)?;
    if let Some(instead) = papers::instead_of_placing(asked, tag, surface, bed)? {
        return Ok(instead);
    }
    put(asked, asked.draft(), tag, bed, None, &[], Vec::new())
}

/// Puts a surface that may go there under a bed, in the place of another where it takes one, and opens its set-up; a
/// nurse did without these papers. What was said about the other stands before the card. With the other comes whether both
/// may be taken back.
pub(super) fn put(
    asked: &Asked<'_>,
    mut draft: Draft,
    tag: &Tag,
    bed: &Bed,
    instead_of: Option<(&Tag, bool)>,
    without: &[Paper],
    mut lines: Vec<String>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let cautions = beds::fits(asked, bed, asked.state.profile_of(surface))?;
    draft.fact(Body::Placed {
        tag: tag.clone(),
        bed: bed.clone(),
        instead_of: instead_of.map(|(old, _)| old.clone()),
    });
    let list = set_up::open(asked, &mut draft, tag, bed, Opening::Placed, &[], None);
    let view = View {
        name: name_at(asked.lang, tag, bed),
        setting: None,
        ..View::new(asked, tag, surface, list)
    };
    let mut card = message(asked, &view);
    rental::went_under(asked, &mut draft, tag);
    lines.extend(papers::waived(asked, &mut draft, tag, without));
    lines.extend(beds::whose_caution(asked, tag, surface));
    lines.extend(cautions);
    lines.push(card.text);
    card.text = lines.join("\n");
    if instead_of.is_none_or(|(_, back)| back) {
        card = card.and_button(take_back(asked.lang, &draft, tag));
    }
    Ok(draft.private(card))
}

/// No bed has two surfaces.
pub(super) fn bed_free(asked: &Asked<'_>, bed: &Bed) -> Result<(), Refusal> {
    match asked.state.under.get(bed) {
        Some(other) => Err(Refusal::new("fault-bed-taken")
            .text("bed", bed)
            .text("tag", other)),
        None => Ok(()),
    }
}

/// Whether a surface may go under this bed, be there another or not: only a ready one does.
///
/// # Errors
/// A [`Refusal`] that says what is in the way.
pub(super) fn may_go(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    bed: &Bed,
) -> Result<(), Refusal> {
    match &surface.life {
        Life::Ready { .. } => {}
        Life::Placed { bed, .. } => {
            return Err(Refusal::new("fault-placed-already")
                .text("tag", tag)
                .text("bed", bed));
        }
        Life::Soiled(turnover) => {
            let missing = missing(turnover).into_iter().map(str::to_owned);
            return Err(Refusal::new("fault-not-ready")
                .text("tag", tag)
                .keys("missing", missing));
        }
        Life::OutOfService { since, .. } => {
            return Err(Refusal::new("fault-out-of-service")
                .text("tag", tag)
                .text("since", day_time(*since)));
        }
        Life::Retired { .. } => return Err(Refusal::new("fault-retired").text("tag", tag)),
    }
    rental::may_be_placed(tag, surface)?;
    beds::fits(asked, bed, asked.state.profile_of(surface))?;
    Ok(())
}

/// `/release`.
pub(super) fn release(
    asked: &Asked<'_>,
    typed: &str,
    reason: ReleaseReason,
    clean_last: Option<Switch>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    release_of(asked, asked.draft(), tag, surface, reason, clean_last)
}

/// The release of this surface, on top of what is in the draft already.
pub(super) fn release_of(
    asked: &Asked<'_>,
    mut draft: Draft,
    tag: &Tag,
    surface: &Surface,
    reason: ReleaseReason,
    clean_last: Option<Switch>,
) -> Result<Decision, Refusal> {
    let Some(bed) = surface.bed() else {
        return Err(Refusal::new("fault-under-no-bed").text("tag", tag));
    };
    let lang = asked.lang;
    let mut lines = vec![say!(
        lang,
        "released",
        tag = tag.as_str(),
        bed = bed.as_str()
    )];
    lines.extend(let_go(asked, &mut draft, tag, surface, reason));
    if clean_last == Some(Switch::On) && !surface.clean_last {
        shelf::set_mark(&mut draft, tag);
    }
    if clean_last == Some(Switch::On) || surface.clean_last {
        lines.push(say!(lang, "turn-marked"));
    }
    if reason == ReleaseReason::SurfaceChange {
        lines.push(say!(lang, "released-next", bed = bed.as_str()));
    }
    let mut message = Message::text(lines.join("\n"));
    // An alarm that ended with it stays ended.
    if surface.alarm.is_none() {
        message = message.and_button(take_back(lang, &draft, tag));
    }
    Ok(draft.private(message))
}

/// The facts of a release, and what is to be done with the surface now.
pub(super) fn let_go(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
    reason: ReleaseReason,
) -> Vec<String> {
    let lang = asked.lang;
    let mut lines = Vec::new();
    let out = matches!(surface.life, Life::OutOfService { .. });
    // The resident lies on it no more: what was open about it is over.
    if let Some(no) = surface.alarm
        && let Some(open) = asked.state.alarms.get(&no)
    {
        let how = if out {
            AlarmEnd::OutOfService
        } else {
            AlarmEnd::Released
        };
        alarm::end(asked, draft, no, open, how);
    }
    draft.fact(Body::Released {
        tag: tag.clone(),
        reason,
    });
    rental::left_bed(asked, draft, tag, surface);
    lines.extend(beds::whose_released(asked, tag, surface));
    if surface.hold.is_some() {
        lines.push(say!(lang, "released-held", tag = tag.as_str()));
    } else if out {
        lines.push(say!(lang, "released-out-of-service", tag = tag.as_str()));
    } else {
        turnover::open(asked, draft, tag, surface);
        lines.push(turnover::opened_words(asked, tag));
    }
    lines
}

/// The bed that was typed.
pub(super) fn find_bed<'a>(asked: &Asked<'a>, typed: &str) -> Result<&'a Bed, Refusal> {
    let beds = &asked.state.bed_units;
    let no_such = |near: Vec<&str>| {
        let key = if near.is_empty() {
            "fault-no-bed"
        } else {
            "fault-no-bed-near"
        };
        Refusal::new(key)
            .text("typed", super::check::escaped(typed))
            .text("these", near.join(", "))
    };
    match nearest::find_place(typed, beds.keys().map(Bed::as_str)) {
        Match::One(name) => beds
            .get_key_value(name)
            .map(|(bed, _)| bed)
            .ok_or_else(|| no_such(Vec::new())),
        Match::Several(near) | Match::Nearest(near) => Err(no_such(near)),
    }
}
