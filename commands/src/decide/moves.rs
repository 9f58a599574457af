//! Moves and swaps: a surface to another bed with the resident aboard, another surface under the resident of a bed.
//! Decides what each must find and what it begins; leaves leaves, static mode and the CPR valve to files of their own.

use chrono::{DateTime, TimeDelta, Utc};

use super::Notice;
use super::draft::{Asked, button, take_back};
use super::place::{bed_free, find_bed, let_go, may_go, put};
use super::set_up::{self, name_at};
use super::set_up_card::{View, message};
use crate::choice::{Call, Opening, Paper, ReleaseReason};
use crate::decision::Decision;
use crate::ids::{Bed, Tag};
use crate::message::{Look, Message};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Facility, Life, State, Surface};
use crate::tap::{Tap, Work};

/// `/move`.
pub(super) fn move_to(asked: &Asked<'_>, typed: &str, bed: &str) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let to = find_bed(asked, bed)?;
    let Life::Placed { bed: from, .. } = &surface.life else {
        return Err(not_placed(asked, tag, surface));
    };
    if surface.cpr.is_some() {
        return Err(super::cpr::open_fault(asked, tag));
    }
    if from == to {
        return Err(Refusal::new("fault-move-same")
            .text("tag", tag)
            .text("bed", to));
    }
    bed_free(asked, to)?;
    let profile = asked.state.profile_of(surface);
    let cautions = super::beds::fits(asked, to, profile)?;
    let most = asked.state.policies.get(Name::UnpluggedMost);
    let most = profile
        .holds_minutes
        .map_or(most, |holds| most.min(i64::from(holds)));
    let mut draft = asked.draft();
    draft.fact(Body::Moved {
        tag: tag.clone(),
        bed: to.clone(),
    });
    let list = set_up::open(
        asked,
        &mut draft,
        tag,
        to,
        Opening::Moved,
        &[],
        set_up::placed_list(surface),
    );
    draft.fact(Body::Booked {
        on: On::Surface(tag.clone()),
        call: Call::Plug,
        due: asked.now + TimeDelta::minutes(most),
    });
    let lang = asked.lang;
    let name = name_at(lang, tag, to);
    let view = View {
        name: name.clone(),
        ..View::new(asked, tag, surface, list)
    };
    let said = say!(
        lang,
        "moved",
        surface = name,
        from = from.as_str(),
        minutes = most
    );
    let mut card = message(asked, &view);
    let said = [said].into_iter().chain(cautions).collect::<Vec<_>>();
    card.text = format!("{}\n\n{}", said.join("\n"), card.text);
    let back = take_back(lang, &draft, tag);
    Ok(draft.private(card.and_button(back)))
}

/// `/swap`.
pub(super) fn swap(asked: &Asked<'_>, bed: &str, typed: &str) -> Result<Decision, Refusal> {
    let bed = find_bed(asked, bed)?;
    let (old, there, tag, surface) = may_swap(asked, bed, typed)?;
    let misfits = super::spare::misfits(asked, tag, surface, bed, (old, there));
    if !misfits.is_empty() {
        return Ok(swap_all_the_same(asked, bed, old, tag, misfits));
    }
    swap_or_papers(asked, bed, (old, there), (tag, surface))
}

/// The same, once it was said what does not fit: that is for whoever may place to decide.
pub(super) fn swap_sure(asked: &Asked<'_>, bed: &Bed, typed: &Tag) -> Result<Decision, Refusal> {
    let bed = find_bed(asked, bed.as_str())?;
    let (old, there, tag, surface) = may_swap(asked, bed, typed.as_str())?;
    swap_or_papers(asked, bed, (old, there), (tag, surface))
}

/// What does not fit, before it is done, and the button that does it all the same.
fn swap_all_the_same(
    asked: &Asked<'_>,
    bed: &Bed,
    old: &Tag,
    tag: &Tag,
    misfits: Vec<String>,
) -> Decision {
    let lang = asked.lang;
    let mut lines = vec![say!(
        lang,
        "swap-ask",
        bed = bed.as_str(),
        tag = tag.as_str()
    )];
    lines.extend(misfits.into_iter().map(|misfit| format!("- {misfit}")));
    lines.push(say!(lang, "swap-ask-caution"));
    let sure = Tap::Work(Work::SwapSure {
        bed: bed.clone(),
        old: old.clone(),
        new: tag.clone(),
    });
    Decision::private(Message::text(lines.join("\n")).buttons(vec![button(
        lang,
        "button-swap-sure",
        Look::Caution,
        &sure,
    )]))
}

/// What is under the bed and what is to come there, where such a swap may be.
fn may_swap<'a>(
    asked: &Asked<'a>,
    bed: &Bed,
    typed: &str,
) -> Result<(&'a Tag, &'a Surface, &'a Tag, &'a Surface), Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let Some((old, there)) = under(asked, bed) else {
        return Err(Refusal::new("fault-swap-empty")
            .text("bed", bed)
            .text("tag", tag));
    };
    if old == tag {
        return Err(Refusal::new("fault-swap-same")
            .text("tag", tag)
            .text("bed", bed));
    }
    if there.cpr.is_some() {
        return Err(super::cpr::open_fault(asked, old));
    }
    may_go(asked, tag, surface, bed)?;
    Ok((old, there, tag, surface))
}

/// The swap, or what papers are missing for it.
fn swap_or_papers(
    asked: &Asked<'_>,
    bed: &Bed,
    old: (&Tag, &Surface),
    (tag, surface): (&Tag, &Surface),
) -> Result<Decision, Refusal> {
    if let Some(instead) = super::papers::instead_of_placing(asked, tag, surface, bed)? {
        return Ok(instead);
    }
    swap_in(asked, bed, old, tag, &[])
}

/// One surface takes the place of another; a nurse did without these papers.
pub(super) fn swap_in(
    asked: &Asked<'_>,
    bed: &Bed,
    (old, there): (&Tag, &Surface),
    tag: &Tag,
    without: &[Paper],
) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let mut draft = asked.draft();
    let reason = ReleaseReason::SurfaceChange;
    let mut lines = vec![say!(
        lang,
        "swapped",
        bed = bed.as_str(),
        old = old.as_str(),
        new = tag.as_str()
    )];
    lines.extend(let_go(asked, &mut draft, old, there, reason));
    if there.clean_last {
        lines.push(say!(lang, "turn-marked"));
    }
    lines.push(String::new());
    // An alarm that ended with it stays ended.
    let back = there.alarm.is_none();
    put(asked, draft, tag, bed, Some((old, back)), without, lines)
}

/// The surface under a bed.
pub(super) fn under<'a>(asked: &Asked<'a>, bed: &Bed) -> Option<(&'a Tag, &'a Surface)> {
    let tag = asked.state.under.get(bed)?;
    asked.state.surfaces.get_key_value(tag)
}

/// Why a surface that is not in place cannot be moved, set, or held still.
pub(super) fn not_placed(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Refusal {
    match &surface.life {
        Life::OutOfService { under: Some(_), .. } => {
            Refusal::new("fault-out-still-under").text("surface", asked.with_bed(tag))
        }
        Life::OutOfService { since, .. } => Refusal::new("fault-out-of-service")
            .text("tag", tag)
            .text("since", super::draft::day_time(*since)),
        Life::Retired { .. } => Refusal::new("fault-retired").text("tag", tag),
        Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } => {
            Refusal::new("fault-under-no-bed").text("tag", tag)
        }
    }
}

/// What a promised call says.
pub(super) fn notice(
    state: &State,
    facility: &Facility,
    call: Call,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Option<Notice> {
    match call {
        Call::Static => super::static_mode::notice(state, facility, tag),
        Call::Leave => super::leave::notice(state, facility, tag),
        Call::Cpr => super::cpr::notice(state, facility, tag, now),
        Call::Full
        | Call::Plug
        | Call::Steps
        | Call::Contact
        | Call::Turnover
        | Call::Hold
        | Call::Idle
        | Call::Pickup
        | Call::Recall
        | Call::Roll
        | Call::Agree
        | Call::Handover => None,
    }
}
