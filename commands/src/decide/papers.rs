//! Papers: what a surface lacks before it is placed, who gives it, and who may do without for a night. Decides when that
//! may be; cleaning, cover and function are no papers, and nobody may do without them.

use chrono::{DateTime, NaiveDate, Timelike, Utc};

use super::draft::{Asked, Draft, button, in_post, person};
use super::{moves, place};
use crate::choice::{Outcome, Owned, Paper, Work};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::{Bed, Tag};
use crate::message::{Look, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::role::Role;
use crate::rules::papers::{self, Done, Known};
use crate::rules::policy::{self, Name};
use crate::rules::work_days;
use crate::say;
use crate::state::{Life, State, Surface};
use crate::tap::{House, Tap};
use crate::words::Lang;

/// The papers that a surface lacks for being placed at `now`.
pub(crate) fn papers_missing(state: &State, surface: &Surface, now: DateTime<Utc>) -> Vec<Paper> {
    let known = known(state, surface, surface.placements == 0);
    papers::missing(&known, today(state, now))
}

/// Of the papers that a nurse did without when it was placed, those that have not come yet.
pub(crate) fn still_missing(state: &State, surface: &Surface, now: DateTime<Utc>) -> Vec<Paper> {
    let Some(waived) = &surface.waived else {
        return Vec::new();
    };
    let mut missing = papers::missing(&known(state, surface, true), today(state, now));
    missing.retain(|paper| waived.papers.contains(paper));
    missing
}

/// The day on which the next safety test is due; the day it came into the register where none is on record.
pub(crate) fn test_day(state: &State, surface: &Surface) -> Option<NaiveDate> {
    let Some(test) = surface.served.get(&Work::SafetyTest) else {
        return Some(day_of(state, surface.added));
    };
    let months = state.policies.get(Name::SafetyTestMonths);
    match test.outcome {
        Outcome::Passed => test.next.or_else(|| papers::months_after(test.on, months)),
        Outcome::Failed => Some(test.on),
    }
}

/// The day on which the maker's maintenance is due, if ever.
pub(crate) fn maintenance_day(state: &State, surface: &Surface) -> Option<NaiveDate> {
    let done = surface.served.get(&Work::Maintenance);
    if let Some(failed) = done.filter(|done| done.outcome == Outcome::Failed) {
        return Some(failed.on);
    }
    papers::due_day(
        done.and_then(|done| done.next),
        done.map(|done| done.on),
        day_of(state, surface.added),
        state.profile_of(surface).service_days,
    )
}

/// What is said instead of placing it, where papers are missing: refused while somebody is there who gives them, else the
/// button with which whoever may place does without. Nothing where none is missing.
pub(super) fn instead_of_placing(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    bed: &Bed,
) -> Result<Option<Decision>, Refusal> {
    let missing = papers_missing(asked.state, surface, asked.now);
    if missing.is_empty() {
        return Ok(None);
    }
    let (state, lang) = (asked.state, asked.lang);
    if in_office(asked) {
        return Err(Refusal::new("fault-papers")
            .text("tag", tag)
            .keys("missing", missing.iter().map(|paper| lack_key(*paper))));
    }
    let shown = |name| policy::row(name).measure.show(state.policies.get(name));
    let mut text = say!(
        lang,
        "papers-ask",
        tag = tag.as_str(),
        missing = names(lang, &missing),
        from = shown(Name::OfficeFrom),
        to = shown(Name::OfficeTo)
    );
    let other = state.surfaces.iter().find(|(_, other)| {
        matches!(other.life, Life::Ready { .. })
            && other.profile == surface.profile
            && !other.owned.is_of_others()
            && papers_missing(state, other, asked.now).is_empty()
    });
    if let Some((other, _)) = other {
        text = format!(
            "{text}\n{}",
            say!(lang, "papers-other", tag = other.as_str())
        );
    }
    let tap = House::Waive {
        tag: tag.clone(),
        bed: bed.clone(),
        instead_of: state.under.get(bed).cloned(),
    };
    let message = Message::text(text).buttons(vec![button(
        lang,
        "button-waive",
        Look::Caution,
        &Tap::House(tap),
    )]);
    Ok(Some(Decision::private(message)))
}

/// "Place without the paper": all is looked at again, for the card may be old.
pub(super) fn waive(
    asked: &Asked<'_>,
    tag: &Tag,
    bed: &Bed,
    instead_of: Option<&Tag>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let bed = place::find_bed(asked, bed.as_str())?;
    let there = moves::under(asked, bed).filter(|(old, _)| *old != tag);
    if let Some((old, old_surface)) = there {
        // Whatever has come under the bed since the card was shown is not let go by it.
        if instead_of != Some(old) {
            place::bed_free(asked, bed)?;
        }
        if old_surface.cpr.is_some() {
            return Err(super::cpr::open_fault(asked, old));
        }
    }
    place::may_go(asked, tag, surface, bed)?;
    let missing = papers_missing(asked.state, surface, asked.now);
    if !missing.is_empty() && in_office(asked) {
        instead_of_placing(asked, tag, surface, bed)?;
    }
    match there {
        // It was to take the place of another.
        Some(old) => moves::swap_in(asked, bed, old, tag, &missing),
        None => place::put(asked, asked.draft(), tag, bed, None, &missing, Vec::new()),
    }
}

/// The facts and the post of a placement without these papers, and what its answer says of it.
pub(super) fn waived(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    missing: &[Paper],
) -> Option<String> {
    if missing.is_empty() {
        return None;
    }
    let record = draft.fact(Body::PaperWaived {
        tag: tag.clone(),
        papers: missing.to_vec(),
    });
    let lang = asked.state.lang();
    let text = say!(
        lang,
        "post-paper-waived",
        surface = in_post(asked.state, lang, tag),
        missing = names(lang, missing),
        who = person(asked.ask.who)
    );
    let roles = [Role::Supervisor, Role::Upkeep];
    let asks = asking::routine(asked.state, None, &roles, asked.now);
    let message = asks.on(asked.facility, Message::text(text));
    draft.post(
        format!("paper:{record}"),
        asked.facility.supervisor_channel,
        Lane::Routine,
        message,
    );
    Some(say!(
        asked.lang,
        "placed-without",
        missing = names(asked.lang, missing)
    ))
}

/// The lines of a surface's card about its papers.
pub(super) fn card_lines(asked: &Asked<'_>, surface: &Surface) -> Vec<String> {
    let (state, lang) = (asked.state, asked.lang);
    let mut lines = vec![match surface.served.get(&Work::SafetyTest) {
        None => say!(lang, "surface-not-tested"),
        Some(test) if test.outcome == Outcome::Failed => {
            say!(lang, "surface-test-failed", day = test.on.to_string())
        }
        Some(test) => say!(
            lang,
            "surface-tested",
            day = test.on.to_string(),
            next = test_day(state, surface).map_or_else(String::new, |day| day.to_string())
        ),
    }];
    if let Some(day) = maintenance_day(state, surface) {
        lines.push(say!(lang, "surface-maintenance", day = day.to_string()));
    }
    let missing = still_missing(state, surface, asked.now);
    if !missing.is_empty() {
        lines.push(say!(
            lang,
            "surface-waived",
            missing = names(lang, &missing)
        ));
    }
    lines
}

/// Papers by their names.
pub(crate) fn names(lang: Lang, papers: &[Paper]) -> String {
    papers
        .iter()
        .map(|paper| say!(lang, &format!("paper-{}", paper.as_str())))
        .collect::<Vec<_>>()
        .join(", ")
}

fn lack_key(paper: Paper) -> String {
    format!("lack-paper-{}", paper.as_str())
}

fn known(state: &State, surface: &Surface, first_use: bool) -> Known {
    let done = |work| {
        surface.served.get(&work).map(|service| Done {
            on: service.on,
            at: service.at,
            outcome: service.outcome,
        })
    };
    let arrived = match (&surface.rental, surface.owned) {
        (Some(rental), Owned::Rented) => Some(
            rental
                .arrived
                .is_some_and(|(outcome, _)| outcome == Outcome::Passed),
        ),
        // In use before anybody counted its days here.
        (None, Owned::Rented) => first_use.then_some(false),
        (_, Owned::Owned | Owned::Resident | Owned::Hospice) => None,
    };
    Known {
        first_use,
        repaired: surface
            .repaired
            .map(|mark| (day_of(state, mark.at), mark.at)),
        test: done(Work::SafetyTest),
        maintenance: done(Work::Maintenance),
        maintenance_day: maintenance_day(state, surface),
        arrived,
    }
}

/// Whether somebody who gives papers is taken to be there: in office hours on a work day.
fn in_office(asked: &Asked<'_>) -> bool {
    let local = asked.facility.zone.local(asked.now);
    let minutes = i64::from(local.time().num_seconds_from_midnight() / 60);
    let of = |name| asked.state.policies.get(name);
    work_days::is_work_day(local.date())
        && (of(Name::OfficeFrom)..of(Name::OfficeTo)).contains(&minutes)
}

fn today(state: &State, now: DateTime<Utc>) -> NaiveDate {
    day_of(state, now)
}

/// The home's day of a moment.
pub(crate) fn day_of(state: &State, at: DateTime<Utc>) -> NaiveDate {
    match &state.facility {
        Some(facility) => facility.zone.local(at).date(),
        None => at.date_naive(),
    }
}
