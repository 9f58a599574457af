//! Other work in everyday words: a power failure of a unit, a surface for an admission, who is on duty, and what is done at
//! one bed besides checks, filters and cleanings.
//!
//! Decides which of these a message means where nothing of it is missing but a yes, or one choice. Leaves to `decide` who may,
//! and whatever can only be typed to the command itself.

use super::Place;
use super::claims;
use super::compose::whole;
use super::doubts::{is_question, over};
use super::examples::command;
use super::names::Named;
use super::sentence::Sentence;
use super::subject::Subject;
use super::words::Meaning;
use super::{Asks, Deed, Doubt, Example, Heard, Understood};
use crate::choice::LeaveWhy;
use crate::rules::hand_check::Kind;

/// A message about other work has at most so many words that mean nothing here.
const WORK_UNREAD_MAX: usize = 4;

/// What concerns no single surface: a unit without power, an admission, who is on duty, and who says that they are.
pub(super) fn of_the_house(
    of: &Sentence<'_>,
    subject: &Subject<'_>,
    no_reading: bool,
) -> Option<Heard> {
    if let Some(claim) = claims::of(of, subject) {
        return Some(claim);
    }
    if of.unread() > WORK_UNREAD_MAX || !(no_reading || claims::only_until(of)) {
        return None;
    }
    admission(of, subject)
        .or_else(|| on_duty(of, subject))
        .or_else(|| outage(of, subject))
}

/// "Admission tonight, need low air loss for 312".
fn admission(of: &Sentence<'_>, subject: &Subject<'_>) -> Option<Heard> {
    let kind = match (of.has(Meaning::LowAirLoss), of.has(Meaning::Alternating)) {
        (true, false) => Some(Kind::LowAirLoss),
        (false, true) => Some(Kind::Alternating),
        (true, true) | (false, false) => None,
    };
    let wanted = of.has_any(&[Meaning::NotYet, Meaning::Ought, Meaning::Question]);
    let asks = of.has(Meaning::Admission)
        || of.has(Meaning::Match)
        || of.has(Meaning::LowAirLoss) && wanted;
    let bed = match subject {
        Subject::None => None,
        Subject::EmptyBed(bed) => Some((*bed).to_owned()),
        // Somebody lies there already, or it says more than one bed: that is typed.
        Subject::One(_) => of.names.iter().find_map(|name| match &name.named {
            Named::Bed(bed) => Some(bed.bed.to_owned()),
            Named::Tag(_) | Named::Several(_) | Named::Unit(_) | Named::Strange(_) => None,
        }),
        Subject::Several(_) | Subject::Strange(_) | Subject::BedOrReading(_) => return None,
    };
    let denied = of
        .first(Meaning::Admission)
        .or_else(|| of.first(Meaning::Match))
        .is_some_and(|hit| of.denied(hit));
    // "Cleaned LW-20 after the admission" is a cleaning.
    let other = of.has_any(&[
        Meaning::Beeping,
        Meaning::Alarm,
        Meaning::LowPressure,
        Meaning::Cleaned,
        Meaning::Filter,
        Meaning::Low,
    ]);
    (asks && !denied && !other).then(|| whole(Understood::Match { kind, bed }))
}

/// "Who has Cedar tonight?"
fn on_duty(of: &Sentence<'_>, subject: &Subject<'_>) -> Option<Heard> {
    if !matches!(subject, Subject::None) || !is_about_people(of) {
        return None;
    }
    let mut units = of.units();
    let unit = units.next()?;
    units.next().is_none().then(|| {
        whole(Understood::OnDuty {
            unit: unit.to_owned(),
        })
    })
}

/// "Who has Elm tonight?" is about staff.
pub(super) fn is_about_people(of: &Sentence<'_>) -> bool {
    of.hits.iter().any(|hit| {
        hit.meaning == Meaning::Where
            && (hit.start..hit.end).any(|at| {
                matches!(
                    of.word(at),
                    Some("who" | "whos" | "quien" | "duty" | "turno")
                )
            })
    })
}

/// "Power is out in Cedar", "no power whole hall".
fn outage(of: &Sentence<'_>, subject: &Subject<'_>) -> Option<Heard> {
    if !matches!(subject, Subject::None) || !of.says(Meaning::Outage) || of.denies_trouble() {
        return None;
    }
    // What else is wrong is wrong with a surface: which one is asked.
    let of_surface = of.has_any(&[
        Meaning::LowPressure,
        Meaning::HighPressure,
        Meaning::Fault,
        Meaning::Beeping,
        Meaning::NoPower,
        Meaning::Low,
        Meaning::Touching,
        Meaning::LookFirst,
    ]);
    // "Generator": a test of it is no failure.
    let sure = of.hits.iter().any(|hit| {
        hit.meaning == Meaning::Outage && !matches!(of.word(hit.start), Some("generator"))
    });
    if of_surface || !sure || over(of) {
        return None;
    }
    let mut units = of.units();
    let unit = match (units.next(), units.next()) {
        (unit, None) => unit.map(str::to_owned),
        (_, Some(_)) => None,
    };
    if unit.is_none()
        && let Some(typed) = super::compose::unread_place(of)
    {
        return Some(Heard::Asks(Asks::Unit { typed }));
    }
    let what = Understood::Outage { unit };
    let past = of.has_any(&[Meaning::Past, Meaning::Was]) || !of.moments.is_empty();
    let doubt = [
        (of.has(Meaning::If), Doubt::NotYet),
        (is_question(of), Doubt::Question),
        (past, Doubt::Past),
        (of.has_any(&[Meaning::Maybe, Meaning::Or]), Doubt::Unsure),
    ]
    .into_iter()
    .find_map(|(is, doubt)| is.then_some(doubt));
    Some(match doubt {
        Some(doubt) => Heard::Asks(Asks::Doubt {
            doubt,
            tag: None,
            of: Some(what),
        }),
        None => whole(what),
    })
}

/// What is done at this surface, where the message would only have been told which command does it.
pub(super) fn at_surface(of: &Sentence<'_>, tag: &str, heard: Heard) -> Heard {
    let Heard::Nearest(Example::Command(name)) = heard else {
        return heard;
    };
    let tag = tag.to_owned();
    let said = |words: &[&str]| {
        (0..of.tokens.len()).any(|at| of.word(at).is_some_and(|word| words.contains(&word)))
    };
    if name == "outage" {
        return Heard::Nearest(Example::HandCheck);
    }
    // "Rails up" tells of no gap.
    let of_gaps = said(&[
        "gap",
        "zone",
        "zones",
        "entrapment",
        "hueco",
        "espacio",
        "zona",
        "zonas",
        "atrapamiento",
    ]);
    if name == "zones" && of_gaps && !is_question(of) && of.unread() <= WORK_UNREAD_MAX {
        return whole(Understood::Gaps {
            place: Place::Surface(tag),
        });
    }
    let deed = match name {
        "cpr" => Some(Deed::Cpr),
        "leave" if of.has(Meaning::BackInBed) => Some(Deed::Back),
        "leave" => away(of).map(Deed::Away),
        // Until when was said: that is typed, not chosen.
        "static" if of.moments.is_empty() && !said(&["till", "til", "until", "hasta"]) => {
            Some(Deed::Static)
        }
        "setting" => of.setting.clone().map(Deed::Set),
        _typed => None,
    };
    let Some(deed) = deed.filter(|_| of.unread() <= WORK_UNREAD_MAX) else {
        return heard;
    };
    let what = Understood::Deed {
        tag: tag.clone(),
        deed,
    };
    if is_question(of) || of.has(Meaning::Not) {
        let doubt = if of.has(Meaning::Not) {
            Doubt::Negation
        } else {
            Doubt::Question
        };
        return Heard::Asks(Asks::Doubt {
            doubt,
            tag: Some(tag),
            of: Some(what),
        });
    }
    whole(what)
}

/// Why a bed is empty, where it is said.
fn away(of: &Sentence<'_>) -> Option<LeaveWhy> {
    let said = |words: &[&str]| {
        (0..of.tokens.len()).any(|at| of.word(at).is_some_and(|word| words.contains(&word)))
    };
    if said(&["hospital", "er"]) {
        Some(LeaveWhy::Hospital)
    } else if said(&["hold", "leave", "loa"]) {
        Some(LeaveWhy::BedHold)
    } else {
        None
    }
}

/// Where gaps were named at a bed with nothing under it.
pub(super) fn at_empty_bed(of: &Sentence<'_>, bed: &str) -> Option<Heard> {
    (command(of) == Some("zones") && !is_question(of)).then(|| {
        whole(Understood::Gaps {
            place: Place::Bed(bed.to_owned()),
        })
    })
}
