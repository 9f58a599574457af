//! Placing and releasing. Decides that nothing is placed that is not ready, and what a release begins.

use super::alarm;
use super::draft::{Asked, day_time};
use super::shelf;
use super::turnover::{self, missing};
use crate::choice::{ReleaseReason, Switch};
use crate::decision::Decision;
use crate::ids::Bed;
use crate::message::Message;
use crate::record::{AlarmEnd, Body};
use crate::refusal::Refusal;
use crate::rules::nearest::{self, Match};
use crate::say;
use crate::state::Life;

/// `/place`.
pub(super) fn place(asked: &Asked<'_>, typed: &str, bed: &str) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let bed = find_bed(asked, bed)?;
    if let Some(other) = asked.state.under.get(bed) {
        return Err(Refusal::new("fault-bed-taken")
            .text("bed", bed)
            .text("tag", other));
    }
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
    let mut draft = asked.draft();
    draft.fact(Body::Placed {
        tag: tag.clone(),
        bed: bed.clone(),
        instead_of: None,
    });
    let lang = asked.lang;
    let text = say!(lang, "placed", tag = tag.as_str(), bed = bed.as_str());
    Ok(draft.private(Message::text(text)))
}

/// `/release`.
pub(super) fn release(
    asked: &Asked<'_>,
    typed: &str,
    reason: ReleaseReason,
    clean_last: Option<Switch>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let Some(bed) = surface.bed() else {
        return Err(Refusal::new("fault-under-no-bed").text("tag", tag));
    };
    let lang = asked.lang;
    let mut draft = asked.draft();
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
        alarm::end(asked, &mut draft, no, open, how);
    }
    draft.fact(Body::Released {
        tag: tag.clone(),
        reason,
    });
    let mut lines = vec![say!(
        lang,
        "released",
        tag = tag.as_str(),
        bed = bed.as_str()
    )];
    if surface.hold.is_some() {
        lines.push(say!(lang, "released-held"));
    } else if out {
        lines.push(say!(lang, "released-out-of-service"));
    } else {
        turnover::open(asked, &mut draft, tag, surface);
        lines.push(turnover::opened_words(asked));
    }
    if clean_last == Some(Switch::On) && !surface.clean_last {
        shelf::set_mark(&mut draft, tag);
    }
    if clean_last == Some(Switch::On) || surface.clean_last {
        lines.push(say!(lang, "turn-marked"));
    }
    if reason == ReleaseReason::SurfaceChange {
        lines.push(say!(lang, "released-next", bed = bed.as_str()));
    }
    Ok(draft.private(Message::text(lines.join("\n"))))
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
    match nearest::find(typed, beds.keys().map(Bed::as_str)) {
        Match::One(name) => beds
            .get_key_value(name)
            .map(|(bed, _)| bed)
            .ok_or_else(|| no_such(Vec::new())),
        Match::Several(near) | Match::Nearest(near) => Err(no_such(near)),
    }
}
