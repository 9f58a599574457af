//! Looks at a filter and cleanings in a message.
//!
//! Decides what was found, done and used, and what of it is missing and has to be asked. Leaves which surface to `subject`.

use super::compose::Part;
use super::sentence::Sentence;
use super::words::{Hit, Meaning};
use super::{Asks, Understood};
use crate::choice::{Action, Cleaning, Cover, Finding, Method};

/// A message about a filter or a cleaning has at most so many words that mean nothing here.
pub(super) const CARE_UNREAD_MAX: usize = 3;

/// How far a word may stand from the noun that it tells of, in pieces.
const NEAR: usize = 4;

/// What the message says of this surface's filter.
pub(super) fn filter(of: &Sentence<'_>, tag: &str) -> Option<Part> {
    let noun = &filter_word(of)?;
    let said = |meaning: Meaning| {
        of.hits
            .iter()
            .any(|hit| hit.meaning == meaning && !of.denied(hit))
    };
    let mut findings = Vec::new();
    if said(Meaning::Dusty) {
        findings.push(Finding::Dusty);
    }
    if said(Meaning::Clogged) {
        findings.push(Finding::Clogged);
    }
    if of
        .hits
        .iter()
        .any(|hit| hit.meaning == Meaning::Damaged && !of.denied(hit) && belongs(of, hit, noun))
    {
        findings.push(Finding::Damaged);
    }
    // Dirty is either; the look decides how often filters are looked at, so it is not guessed.
    if findings.is_empty() && said(Meaning::Dirty) {
        findings.extend([Finding::Dusty, Finding::Clogged]);
    }
    let mut actions = Vec::new();
    if said(Meaning::Replaced) {
        actions.push(Action::Replaced);
    }
    if said(Meaning::Rinsed) || said(Meaning::Washed) {
        actions.push(Action::Rinsed);
    }
    // What was rinsed is put back as well.
    if actions.is_empty() && said(Meaning::Left) {
        actions.push(Action::Left);
    }
    // "Clean" before the noun is as often what was done, or is to be done.
    let is_clean = of
        .first(Meaning::Clean)
        .is_some_and(|hit| !(of.denied(hit) || hit.end == noun.start && hit.end - hit.start == 1));
    if findings.is_empty() && is_clean && !of.has(Meaning::Cleaned) {
        findings.push(Finding::Clean);
        if actions.is_empty() {
            actions.push(Action::Left);
        }
    }
    // What is still to be done was not done.
    let to_do = of.has(Meaning::NotYet) && !of.has(Meaning::Left);
    if to_do {
        actions.clear();
    }
    let tag = tag.to_owned();
    if let ([finding], [action]) = (findings.as_slice(), actions.as_slice()) {
        return Some(Part::Done(Understood::Filter {
            tag,
            finding: *finding,
            action: *action,
        }));
    }
    let something = !findings.is_empty()
        || !actions.is_empty()
        || of.has_any(&[
            Meaning::Cleaned,
            Meaning::Check,
            Meaning::AllGood,
            Meaning::Clean,
            Meaning::NotYet,
        ]);
    something.then_some(Part::Ask(Asks::Filter {
        tag,
        findings,
        actions,
    }))
}

/// The word "filter", by itself or in a phrase such as "new filter".
fn filter_word(of: &Sentence<'_>) -> Option<Hit> {
    let named = |at: &usize| {
        matches!(
            of.word(*at),
            Some("filter" | "filters" | "filtro" | "filtros")
        )
    };
    let in_phrase = || {
        (0..of.tokens.len()).find(named).map(|at| Hit {
            meaning: Meaning::Filter,
            start: at,
            end: at + 1,
        })
    };
    of.first(Meaning::Filter).copied().or_else(in_phrase)
}

/// Whether a word tells of the filter: it stands near it, and nearer than to a cover.
fn belongs(of: &Sentence<'_>, hit: &Hit, noun: &Hit) -> bool {
    let distance = |noun: &Hit| {
        if hit.start >= noun.end {
            hit.start - noun.end
        } else {
            noun.start.saturating_sub(hit.end)
        }
    };
    let cover = of.first(Meaning::Cover).map(distance);
    cover.is_none_or(|cover| distance(noun) < cover)
}

/// What the message says of a cleaning of this surface.
pub(super) fn clean(of: &Sentence<'_>, tag: &str) -> Option<Part> {
    let said = |meaning: Meaning| {
        of.hits
            .iter()
            .any(|hit| hit.meaning == meaning && !of.denied(hit))
    };
    let about_filter = filter_word(of).is_some();
    let cover = cover(of);
    let done = said(Meaning::Cleaned) || (said(Meaning::Washed) && !about_filter);
    let products: Vec<Method> = [
        (Meaning::Soap, Method::SoapAndWater),
        (Meaning::Quaternary, Method::Quaternary),
        (Meaning::Bleach, Method::Bleach),
    ]
    .into_iter()
    .filter(|(meaning, _)| said(*meaning))
    .map(|(_, method)| method)
    .collect();
    // "Cleaned the filter" is a filter's.
    if about_filter && products.is_empty() && !of.has(Meaning::Cover) {
        return None;
    }
    // "Quat, cover intact": what it was wiped with, and how it looked then.
    let done = done || (!products.is_empty() && cover.is_some());
    let meant =
        !products.is_empty() && of.has_any(&[Meaning::Cover, Meaning::Clean, Meaning::NotYet]);
    // Hands and hair are washed too.
    let of_surface = !products.is_empty() || cover.is_some() || of.unread() == 0;
    if !(done || meant) || !of_surface {
        return None;
    }
    let method = match products.as_slice() {
        [one] if !said(Meaning::Wipes) || *one != Method::SoapAndWater => Some(*one),
        _none_or_more => None,
    };
    let reasons: Vec<Cleaning> = [
        (said(Meaning::Routine), Cleaning::Routine),
        (
            said(Meaning::Soiled) || said(Meaning::Dirty),
            Cleaning::Soiled,
        ),
        (said(Meaning::BetweenResidents), Cleaning::BetweenResidents),
    ]
    .into_iter()
    .filter_map(|(said, reason)| said.then_some(reason))
    .collect();
    let reason = match reasons.as_slice() {
        [one] => Some(*one),
        _none_or_more => None,
    };
    let tag = tag.to_owned();
    let to_do = of.has(Meaning::NotYet) || !done;
    if let (Some(reason), Some(method), Some(cover), false) = (reason, method, cover, to_do) {
        return Some(Part::Done(Understood::Clean {
            tag,
            reason,
            method,
            cover,
        }));
    }
    Some(Part::Ask(Asks::Clean {
        tag,
        reason,
        method,
        cover,
    }))
}

/// How the cover looked. "Fine" tells of it only near the word.
fn cover(of: &Sentence<'_>) -> Option<Cover> {
    let said = |meaning: Meaning| {
        of.hits
            .iter()
            .any(|hit| hit.meaning == meaning && !of.denied(hit))
    };
    let noun = of.first(Meaning::Cover);
    let near = |meaning: Meaning| {
        noun.is_some_and(|noun| {
            of.hits.iter().any(|hit| {
                let apart = if hit.start >= noun.end {
                    hit.start - noun.end
                } else {
                    noun.start.saturating_sub(hit.end)
                };
                hit.meaning == meaning && apart <= NEAR && !of.denied(hit)
            })
        })
    };
    let filter = filter_word(of).is_some();
    let damaged = near(Meaning::Damaged) || (said(Meaning::Damaged) && !filter);
    match (damaged, said(Meaning::Stained)) {
        (true, _) => Some(Cover::Damaged),
        (false, true) => Some(Cover::Stained),
        (false, false) if said(Meaning::Intact) || near(Meaning::AllGood) => Some(Cover::Intact),
        (false, false) => None,
    }
}
