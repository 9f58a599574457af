//! Beds and surfaces together: what fits a bed's frame, when its gaps are to be measured again, what a surface's card
//! says of the house. Decides what is refused and what is only said; leaves the limits to `rules::gap` and `rules::frame`.

use super::draft::{Asked, day_time};
use super::{fleet, frame, papers, rental, stock, zones};
use crate::choice::{Owned, Rails};
use crate::decision::Decision;
use crate::ids::{Bed, Tag};
use crate::message::Button;
use crate::record::Profile;
use crate::refusal::Refusal;
use crate::rules::frame::{Fit, fit, show};
use crate::rules::hand_check::Class;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Life, State, Surface};
use crate::tap::House;

/// A tap about the house.
pub(super) fn tapped(asked: &Asked<'_>, tap: House) -> Result<Decision, Refusal> {
    match tap {
        House::Acted { bed, no, did } => zones::acted(asked, &bed, no, did),
        House::Retire { tag, seen } => fleet::retired(asked, &tag, seen),
        House::BringBack { tag } => fleet::bring_back(asked, &tag),
        House::BroughtBack { tag, reason } => fleet::brought_back(asked, &tag, reason),
        House::Waive {
            tag,
            bed,
            instead_of,
        } => papers::waive(asked, &tag, &bed, instead_of.as_ref()),
        House::ArrivedWell { rental } => rental::arrived_well(asked, &rental),
        House::ArrivedBadly { rental } => rental::arrived_badly(asked, &rental),
        House::Confirm { rental } => rental::confirm(asked, &rental),
        House::Confirmed { rental, number } => rental::confirmed(asked, &rental, number),
        House::Collected { rental } => rental::collected(asked, &rental),
        House::NewItem { item, count } => stock::new_item(asked, &item, count),
    }
}

/// Whether a surface of this profile may lie on this bed: what the home did not approve, or what is wider or longer than
/// the frame, may not. What may and still leaves something to look at is said in the sentences that come back.
///
/// # Errors
/// A [`Refusal`] that says what does not fit, and who can change that.
pub(super) fn fits(
    asked: &Asked<'_>,
    bed: &Bed,
    profile: &Profile,
) -> Result<Vec<String>, Refusal> {
    let Some(frame) = asked.state.frame(bed) else {
        return Ok(Vec::new());
    };
    if !frame.approved.is_empty() && !frame.approved.contains(&profile.name) {
        let approved = frame.approved.iter().map(|name| name.as_str());
        return Err(Refusal::new("fault-not-approved")
            .text("bed", bed)
            .text("profile", &profile.name)
            .text("these", approved.collect::<Vec<_>>().join(", ")));
    }
    let lang = asked.lang;
    // A whole bed brings its own frame.
    if profile.class != Class::Integrated {
        let free = asked.state.policies.length(Name::FrameFree);
        for (deck, size, over) in [
            (frame.width, profile.width, "fault-too-wide"),
            (frame.length, profile.length, "fault-too-long-for"),
        ] {
            if let (Some(frame), Some(own), Fit::Over) = (deck, size, fit(deck, size, free)) {
                return Err(Refusal::new(over)
                    .text("profile", &profile.name)
                    .text("size", show(own))
                    .text("bed", bed)
                    .text("frame", show(frame)));
            }
        }
    }
    let mut cautions = gaps_left(asked, bed, profile);
    if let Some(over) = &frame.over {
        cautions.push(say!(
            lang,
            "fits-gap-over",
            bed = bed.as_str(),
            zones = zones::numbers(over.zones.iter().copied())
        ));
    }
    Ok(cautions)
}

/// What would be left open at this bed's frame, at the side or the end, by a surface of this profile that may lie there.
pub(super) fn gaps_left(asked: &Asked<'_>, bed: &Bed, profile: &Profile) -> Vec<String> {
    let Some(frame) = asked.state.frame(bed) else {
        return Vec::new();
    };
    if profile.class == Class::Integrated {
        return Vec::new();
    }
    let free = asked.state.policies.length(Name::FrameFree);
    [
        (frame.width, profile.width, "fits-narrower"),
        (frame.length, profile.length, "fits-shorter"),
    ]
    .into_iter()
    .filter(|(deck, size, _)| fit(*deck, *size, free) == Fit::Gap)
    .filter_map(|(deck, size, key)| {
        Some(say!(
            asked.lang,
            key,
            size = show(size?),
            frame = show(deck?),
            free = show(free)
        ))
    })
    .collect()
}

/// What is said when somebody else's surface is to go under a bed again.
pub(super) fn whose_caution(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Option<String> {
    let lang = asked.lang;
    (surface.owned.is_of_others() && surface.placements > 0).then(|| match surface.owned {
        Owned::Hospice => say!(lang, "placed-again-hospice", tag = tag.as_str()),
        Owned::Resident | Owned::Owned | Owned::Rented => {
            say!(lang, "placed-again-resident", tag = tag.as_str())
        }
    })
}

/// What is said when a surface that is not the home's comes from under its bed.
pub(super) fn whose_released(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Option<String> {
    let lang = asked.lang;
    match surface.owned {
        Owned::Resident => Some(say!(lang, "released-resident", tag = tag.as_str())),
        Owned::Hospice => Some(say!(lang, "released-hospice", tag = tag.as_str())),
        Owned::Owned | Owned::Rented => None,
    }
}

/// Whether the gaps of a surface's bed are to be measured again: it has rails, as far as anybody said, and was not
/// measured since this surface went there or since its frame changed.
pub(super) fn zones_wanted(state: &State, surface: &Surface) -> bool {
    let Life::Placed { bed, since, .. } = &surface.life else {
        return false;
    };
    let Some(frame) = state.frame(bed) else {
        return true;
    };
    if frame.rails == Some(Rails::None) {
        return false;
    }
    let from = frame.changed.map_or(*since, |changed| changed.max(*since));
    frame.zones.as_ref().is_none_or(|zones| zones.at < from)
}

/// What a surface's card says of the house: whose it is, its bed, its papers.
pub(super) fn card_lines(asked: &Asked<'_>, surface: &Surface) -> Vec<String> {
    let (state, lang) = (asked.state, asked.lang);
    let mut lines = Vec::new();
    match surface.owned {
        Owned::Owned => {}
        Owned::Rented => lines.extend(rental::card_line(asked, surface)),
        Owned::Resident => lines.push(say!(lang, "whose-resident")),
        Owned::Hospice => lines.push(say!(lang, "whose-hospice")),
    }
    if let Some(bed) = surface.bed() {
        if let Some(frame) = state.frame(bed) {
            lines.extend(
                frame::words(lang, frame)
                    .map(|frame| say!(lang, "surface-frame", bed = bed.as_str(), frame = frame)),
            );
            if let Some(over) = &frame.over {
                lines.push(say!(
                    lang,
                    "surface-gap-over",
                    zones = zones::numbers(over.zones.iter().copied()),
                    since = day_time(over.since)
                ));
            }
        }
        if zones_wanted(state, surface) {
            lines.push(say!(lang, "surface-gaps-wanted", bed = bed.as_str()));
        }
    }
    lines.extend(papers::card_lines(asked, surface));
    lines
}

/// The buttons of a surface's card that are about the house.
pub(super) fn card_buttons(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<Button> {
    let mut buttons = rental::card_buttons(asked, tag, surface);
    if matches!(surface.life, Life::Retired { .. }) {
        buttons.extend(fleet::way_back(asked, tag));
    }
    buttons
}
