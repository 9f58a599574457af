//! The taps of a turnover, each a step that it shows or a fault that ends it. Decides what may be shown when; the card
//! they answer with is its parent's.

use super::super::draft::{Asked, clock_time, person, take_back};
use super::super::{look, out};
use super::{Going, go_on, settle_contact, step_key, unbook_contact};
use crate::choice::TurnStep;
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Answer, Menu, MenuEntry, Message};
use crate::record::Fault;
use crate::refusal::Refusal;
use crate::rules::turnover::{self, Inspection};
use crate::say;
use crate::tap::{Began, PART_FAULTS, Tap, Turn};

/// A step of a turnover was tapped.
pub(in crate::decide) fn tapped(asked: &Asked<'_>, tap: Turn) -> Result<Decision, Refusal> {
    match tap {
        Turn::Dried { tag, of } => dried(asked, &tag, of),
        Turn::Inspected { tag, of, found } => inspected(asked, &tag, of, found),
        Turn::PartsWhole { tag, of } => parts(asked, &tag, of),
        Turn::PartDamaged { tag, of } => which_part(asked, &tag, of),
        Turn::PartFault { tag, of, fault } => failed(asked, &tag, of, fault),
        Turn::NotRunning { tag, of } => failed(asked, &tag, of, Fault::Alarm),
        Turn::Repaired { .. }
        | Turn::RepairNote { .. }
        | Turn::RepairNoted { .. }
        | Turn::Tested { .. }
        | Turn::Reported { .. }
        | Turn::LetGo { .. }
        | Turn::LetGoSure { .. }
        | Turn::HoldSure { .. }
        | Turn::RecallAll { .. } => Err(Refusal::new("fault-stale-tap")),
    }
}

/// The turnover that a card was about.
pub(in crate::decide) fn same<'a>(
    asked: &Asked<'a>,
    tag: &Tag,
    of: Began,
) -> Result<Going<'a>, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let going = Going::of(asked, tag, surface)?;
    if going.began() != of {
        return Err(Refusal::new("fault-turn-other").text("tag", tag));
    }
    Ok(going)
}

fn dried(asked: &Asked<'_>, tag: &Tag, of: Began) -> Result<Decision, Refusal> {
    let mut going = same(asked, tag, of)?;
    if going.has(TurnStep::Dried) {
        return Ok(already(asked, &going, TurnStep::Dried));
    }
    going.ready_for(TurnStep::Dried)?;
    if let Some(until) = going.turnover.wet_until.filter(|until| *until > asked.now) {
        // The minutes are rounded up: a product is not wiped off early.
        let minutes = ((until - asked.now).num_seconds() + 59) / 60;
        return Err(Refusal::new("fault-still-wet")
            .text("tag", tag)
            .number("minutes", minutes)
            .text("at", clock_time(until)));
    }
    let mut draft = asked.draft();
    going.show(asked, &mut draft, TurnStep::Dried);
    let called = settle_contact(asked, &mut draft, tag);
    unbook_contact(asked, &mut draft, tag);
    let message = go_on(asked, &mut draft, going, None);
    // The post that called is edited, and may be the very message that was tapped.
    Ok(draft.answer(if called {
        Answer::Private(message)
    } else {
        Answer::Replace(message)
    }))
}

fn inspected(
    asked: &Asked<'_>,
    tag: &Tag,
    of: Began,
    found: Inspection,
) -> Result<Decision, Refusal> {
    let mut going = same(asked, tag, of)?;
    if let Some(fault) = turnover::fault_of(found) {
        return failed(asked, tag, of, fault);
    }
    let mut draft = asked.draft();
    match found {
        Inspection::Stained => {
            let all = turnover::undoes(
                crate::choice::Cleaning::BetweenResidents,
                crate::choice::Method::Other,
                crate::choice::Cover::Stained,
            );
            if !all.iter().any(|step| going.has(*step)) {
                return Ok(already(asked, &going, TurnStep::Cleaned));
            }
            going.undo(&mut draft, all);
            going.wet_no_more(asked, &mut draft);
            let said = say!(asked.lang, "turn-stained", tag = tag.as_str());
            let message = go_on(asked, &mut draft, going, Some(said));
            Ok(draft.answer(Answer::Replace(message)))
        }
        Inspection::Whole | Inspection::WetInside | Inspection::Torn => {
            step(asked, going, TurnStep::Inspected)
        }
    }
}

fn parts(asked: &Asked<'_>, tag: &Tag, of: Began) -> Result<Decision, Refusal> {
    step(asked, same(asked, tag, of)?, TurnStep::Parts)
}

/// The test run from its button.
pub(in crate::decide) fn function(
    asked: &Asked<'_>,
    tag: &Tag,
    of: Began,
) -> Result<Decision, Refusal> {
    step(asked, same(asked, tag, of)?, TurnStep::Function)
}

/// A step was shown by a tap.
fn step(asked: &Asked<'_>, mut going: Going<'_>, step: TurnStep) -> Result<Decision, Refusal> {
    if going.has(step) {
        return Ok(already(asked, &going, step));
    }
    going.ready_for(step)?;
    let mut draft = asked.draft();
    going.show(asked, &mut draft, step);
    let message = go_on(asked, &mut draft, going, None);
    Ok(draft.answer(Answer::Replace(message)))
}

fn already(asked: &Asked<'_>, going: &Going<'_>, step: TurnStep) -> Decision {
    let said = match going.turnover.shown.get(&step) {
        Some(mark) => say!(
            asked.lang,
            "turn-already",
            step = say!(asked.lang, step_key(step)),
            who = mark.who.map_or_else(|| "loftwatch".to_owned(), person),
            at = clock_time(mark.at)
        ),
        None => say!(asked.lang, "turn-nothing-new"),
    };
    Decision {
        answer: Some(Answer::Replace(going.card(asked, Some(said), None))),
        ..Decision::default()
    }
}

/// One part is damaged: which?
fn which_part(asked: &Asked<'_>, tag: &Tag, of: Began) -> Result<Decision, Refusal> {
    let going = same(asked, tag, of)?;
    let lang = asked.lang;
    let entries = PART_FAULTS
        .iter()
        .map(|fault| MenuEntry {
            value: fault.as_str().to_owned(),
            label: say!(lang, look::fault_key(*fault)),
            about: None,
        })
        .collect();
    let id = Tap::Turn(Turn::PartFault {
        tag: going.tag.clone(),
        of,
        fault: Fault::Other,
    })
    .id();
    let menu = Menu {
        id,
        hint: say!(lang, "menu-part"),
        entries,
    };
    let text = say!(lang, "turn-which-part", tag = going.tag.as_str());
    Ok(Decision {
        answer: Some(Answer::Replace(Message::text(text).menu(menu))),
        ..Decision::default()
    })
}

/// What was found takes it out of service.
fn failed(asked: &Asked<'_>, tag: &Tag, of: Began, fault: Fault) -> Result<Decision, Refusal> {
    let going = same(asked, tag, of)?;
    let mut draft = asked.draft();
    out::take_out(asked, &mut draft, going.tag, going.surface, fault, None);
    let text = out::stored_words(asked, going.tag, fault);
    let message = Message::text(text);
    // An alarm that ended with it stays ended.
    let message = match going.surface.alarm {
        Some(_) => message,
        None => message.buttons(vec![take_back(asked.lang, &draft, going.tag)]),
    };
    Ok(draft.answer(Answer::Replace(message)))
}
