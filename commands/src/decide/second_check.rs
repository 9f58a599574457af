//! Looking a second time. An entry by somebody who is not signed off for it is kept like any other, and somebody else is
//! to look; so is an adequate reading right after a low one. Decides which entries those are, who may look, and that one tap or a fresh entry by them settles it; leaves
//! who is signed off to `sign_off`, and of whom the home wants this to its policies.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};

use super::check::{air_rows, band_of, is_low, show_air};
use super::draft::{Asked, button, clock_time, in_post, person};
use super::nurse;
use super::sign_off::{self, task_words};
use super::staff;
use crate::choice::{Step, Task, TurnStep};
use crate::decision::{Decision, Entry};
use crate::due;
use crate::ids::{RecordNo, Tag, Unit};
use crate::message::{Button, Look, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::role::{Role, from_outside};
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Life, SecondCheck, State, Surface};
use crate::tap::{Staff, Tap};
use crate::words::Lang;

/// So many surfaces are named in a handover before the rest is counted.
const NAMED_MOST: usize = 8;

/// The task that a fact is a piece of, and on which surface; none for facts that need no hand or show nothing to look at.
fn task_of(body: &Body) -> Option<(&Tag, Task)> {
    if let Body::HandChecked { tag, judged, .. } = body {
        return (*judged != Judgement::CouldNot).then_some((tag, Task::HandCheck));
    }
    if let Body::StepsDone { tag, steps } = body {
        // That the check was made is the check's own entry.
        return (steps.as_slice() != [Step::Check]).then_some((tag, Task::SetUp));
    }
    if let Body::TurnShown { tag, step } = body {
        // The cleaning and the look at the filter have their own entries.
        let own = matches!(step, TurnStep::Cleaned | TurnStep::Filter);
        return (!own).then_some((tag, Task::Turnover));
    }
    if let Body::Cleaned { tag, .. } = body {
        return Some((tag, Task::Cleaning));
    }
    if let Body::FilterLooked { tag, .. } = body {
        return Some((tag, Task::Filter));
    }
    if let Body::FunctionShown { tag } = body {
        return Some((tag, Task::Turnover));
    }
    None
}

/// What is to be looked at on a surface as it stands now. A check at a bed is of that bed only.
pub(crate) fn open(surface: &Surface) -> impl Iterator<Item = (Task, &SecondCheck)> {
    let placed = matches!(surface.life, Life::Placed { .. });
    let retired = matches!(surface.life, Life::Retired { .. });
    surface
        .second_checks
        .iter()
        .map(|(task, check)| (*task, check))
        .filter(move |(task, check)| {
            check.seen.is_none() && !retired && (placed || !at_the_bed(*task))
        })
}

/// Whether a task is done at a bed with somebody in it.
pub(crate) fn at_the_bed(task: Task) -> bool {
    match task {
        Task::HandCheck | Task::SetUp => true,
        Task::Cleaning | Task::Filter | Task::Turnover => false,
    }
}

/// Whether the asker may look at what others did: nurses and supervisors, and who is signed off for it here.
fn may_look(asked: &Asked<'_>, surface: &Surface, task: Task) -> bool {
    matches!(asked.role, Role::Nurse | Role::Supervisor)
        || sign_off::holds(asked, task, &surface.profile)
}

/// What was entered: somebody else is to look, or it settles what somebody else was to look at.
pub(super) fn watch(asked: &Asked<'_>, decision: &mut Decision) {
    let first = asked.state.next_no();
    let mut done: BTreeMap<(Tag, Task), (RecordNo, DateTime<Utc>)> = BTreeMap::new();
    for (place, entry) in decision.entries.iter().enumerate() {
        if let Some((tag, task)) = task_of(&entry.body) {
            let no = RecordNo(first.0 + place as u64);
            done.insert((tag.clone(), task), (no, entry.at));
        }
    }
    if done.is_empty() {
        return;
    }
    let outside = from_outside(asked.state, asked.ask).is_some();
    // Nobody here has seen the hand of somebody from outside: that needs no list of sign-offs to be said.
    let wants = |name| asked.state.policies.get(name) == 1;
    let on = wants(Name::SignOffWanted) || (outside && wants(Name::AgencyLook));
    let mut lines = Vec::new();
    for ((tag, task), (entry, at)) in done {
        let Some(surface) = asked.state.surfaces.get(&tag) else {
            continue;
        };
        let newer = surface.last_check().is_some_and(|check| check.at > at);
        if task == Task::HandCheck && newer {
            continue;
        }
        let others = open(surface)
            .filter(|(of, check)| *of == task && check.mark.who != Some(asked.ask.who))
            .map(|(_, check)| check)
            .find(|check| at >= check.mark.at && may_look(asked, surface, task));
        if let Some(check) = others {
            add(
                asked,
                decision,
                Body::SecondChecked {
                    tag: tag.clone(),
                    task,
                    entry: check.entry,
                    anew: Some(entry),
                },
            );
            lines.push(say!(
                asked.lang,
                "second-settled",
                task = task_words(asked.lang, task),
                who = check.mark.who.map_or_else(String::new, person)
            ));
        }
        let soon = task == Task::HandCheck && soon_after_low(asked, decision, surface, entry, at);
        let settles = others.is_some() && !outside;
        let signed = !outside && sign_off::holds(asked, task, &surface.profile);
        if soon || (on && !signed && !settles) {
            let again = open(surface)
                .any(|(of, check)| of == task && check.mark.who == Some(asked.ask.who));
            add(
                asked,
                decision,
                Body::SecondCheckWanted {
                    tag: tag.clone(),
                    task,
                    entry,
                },
            );
            // Each step of one list is the same piece of work: that is said once.
            let said = again && matches!(task, Task::SetUp | Task::Turnover);
            if !said {
                let key = match (soon, outside) {
                    (true, _) => "second-wanted-soon",
                    (false, true) => "second-wanted-outside",
                    (false, false) => "second-wanted",
                };
                lines.push(say!(asked.lang, key));
            }
        }
    }
    lines.dedup();
    if let Some(message) = staff::own_message(decision) {
        for line in &lines {
            staff::add_line(message, line);
        }
    }
}

/// Whether a reading says "adequate" so soon after a low one that a nurse is to look too: cells that were low take longer
/// to fill, and the nurse who was called would not come any more.
pub(super) fn is_soon(
    asked: &Asked<'_>,
    surface: &Surface,
    judged: Judgement,
    at: DateTime<Utc>,
) -> bool {
    let within = TimeDelta::minutes(asked.state.policies.get(Name::LowLook));
    judged == Judgement::Adequate
        && !nurse::acts(asked)
        && surface.check_here().is_some_and(|before| {
            is_low(before.judged) && before.at <= at && at - before.at < within
        })
}

fn soon_after_low(
    asked: &Asked<'_>,
    decision: &Decision,
    surface: &Surface,
    entry: RecordNo,
    at: DateTime<Utc>,
) -> bool {
    let place = entry.0.saturating_sub(asked.state.next_no().0);
    let body = usize::try_from(place)
        .ok()
        .and_then(|place| decision.entries.get(place))
        .map(|entry| &entry.body);
    matches!(body, Some(Body::HandChecked { judged, .. }) if is_soon(asked, surface, *judged, at))
}

fn add(asked: &Asked<'_>, decision: &mut Decision, body: Body) {
    decision.entries.push(Entry {
        at: asked.now,
        role: asked.role,
        body,
        note: None,
    });
}

/// "I looked, it is right".
pub(super) fn looked(
    asked: &Asked<'_>,
    tag: &Tag,
    task: Task,
    entry: RecordNo,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let check = surface
        .second_checks
        .get(&task)
        .filter(|check| check.entry == entry)
        .ok_or_else(|| Refusal::new("fault-second-over").text("tag", tag))?;
    let lang = asked.lang;
    if let Some(seen) = check.seen {
        let text = say!(
            lang,
            "second-already",
            surface = asked.with_bed(tag),
            task = task_words(lang, task),
            who = seen.who.map_or_else(String::new, person),
            at = clock_time(seen.at)
        );
        return Ok(Decision::private(Message::text(text)));
    }
    if open(surface).all(|(of, _)| of != task) {
        return Err(Refusal::new("fault-second-over").text("tag", tag));
    }
    if check.mark.who == Some(asked.ask.who) {
        return Err(Refusal::new("fault-second-own"));
    }
    if !may_look(asked, surface, task) {
        return Err(Refusal::new("fault-second-may"));
    }
    let mut draft = asked.draft();
    draft.fact(Body::SecondChecked {
        tag: tag.clone(),
        task,
        entry,
        anew: None,
    });
    let text = say!(
        lang,
        "second-looked",
        surface = asked.with_bed(tag),
        task = task_words(lang, task),
        who = check.mark.who.map_or_else(String::new, person)
    );
    Ok(draft.private(Message::text(text)))
}

/// The card of one that was chosen from the due list.
pub(super) fn card(asked: &Asked<'_>, tag: &Tag, task: Task) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let lang = asked.lang;
    let Some((_, check)) = open(surface).find(|(of, _)| *of == task) else {
        return Err(Refusal::new("fault-second-over").text("tag", tag));
    };
    let mut lines = vec![say!(
        lang,
        "second-head",
        surface = asked.with_bed(tag),
        task = task_words(lang, task),
        who = check.mark.who.map_or_else(String::new, person),
        at = clock_time(check.mark.at)
    )];
    let reading = surface
        .checks
        .iter()
        .find(|reading| reading.no == check.entry && task == Task::HandCheck);
    if let Some(reading) = reading {
        let band = band_of(asked.state, surface);
        lines.push(say!(
            lang,
            "surface-reading",
            air = show_air(lang, reading.air, band),
            judged = say!(lang, &format!("judged-{}", reading.judged.as_str())),
            ago = super::draft::ago(reading.at)
        ));
    }
    if check.mark.who == Some(asked.ask.who) {
        lines.push(say!(lang, "fault-second-own"));
        return Ok(Decision::private(Message::text(lines.join("\n"))));
    }
    if !may_look(asked, surface, task) {
        lines.push(say!(lang, "fault-second-may"));
        return Ok(Decision::private(Message::text(lines.join("\n"))));
    }
    lines.push(say!(lang, "second-how"));
    let buttons = buttons(asked, tag, surface)
        .into_iter()
        .filter(|(of, _)| *of == task)
        .map(|(_, button)| button)
        .collect();
    let message = Message::text(lines.join("\n")).buttons(buttons);
    Ok(Decision::private(match task {
        Task::HandCheck => air_rows(message, asked.state, lang, tag, asked.now),
        Task::SetUp | Task::Cleaning | Task::Filter | Task::Turnover => message,
    }))
}

/// What a surface's card says of it.
pub(super) fn card_lines(asked: &Asked<'_>, surface: &Surface) -> Vec<String> {
    let lang = asked.lang;
    let wanted = open(surface).map(|(task, check)| {
        say!(
            lang,
            "surface-second-wanted",
            task = task_words(lang, task),
            who = check.mark.who.map_or_else(String::new, person),
            at = super::draft::day_time(check.mark.at)
        )
    });
    let seen = surface.second_checks.iter().filter_map(|(task, check)| {
        let seen = check.seen?;
        Some(say!(
            lang,
            "surface-second-seen",
            task = task_words(lang, *task),
            who = check.mark.who.map_or_else(String::new, person),
            by = seen.who.map_or_else(String::new, person),
            at = super::draft::day_time(seen.at)
        ))
    });
    wanted.chain(seen).collect()
}

/// The buttons of a surface's card for those who may look.
pub(super) fn card_buttons(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<Button> {
    buttons(asked, tag, surface)
        .into_iter()
        .map(|(_, button)| button)
        .collect()
}

fn buttons(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<(Task, Button)> {
    let lang = asked.lang;
    let single = open(surface).count() == 1;
    open(surface)
        .filter(|(task, check)| {
            check.mark.who != Some(asked.ask.who) && may_look(asked, surface, *task)
        })
        .map(|(task, check)| {
            let tap = Tap::Staff(Staff::Looked {
                tag: tag.clone(),
                task,
                entry: check.entry,
            });
            let mut looked = button(lang, "button-looked", Look::Good, &tap);
            if !single {
                looked.label = say!(lang, "button-looked-at", task = task_words(lang, task));
            }
            (task, looked)
        })
        .collect()
}

/// What the next shift must know of it: what is still to be looked at, by whom it was entered, and how much was looked at
/// in this shift. Without beds where the home has not approved them.
pub(crate) fn lines_for_handover(
    state: &State,
    lang: Lang,
    unit: Option<&Unit>,
    now: DateTime<Utc>,
) -> Vec<String> {
    let shift = due::shift_start(state, now);
    let mut wanted = Vec::new();
    let mut seen = 0_i64;
    let here = |tag: &Tag| unit.is_none() || state.unit_of(tag) == unit;
    for (tag, surface) in state.surfaces.iter().filter(|(tag, _)| here(tag)) {
        wanted.extend(open(surface).map(|(task, check)| {
            say!(
                lang,
                "handover-second-one",
                surface = in_post(state, lang, tag),
                task = task_words(lang, task),
                who = check.mark.who.map_or_else(String::new, person)
            )
        }));
        let looked = surface.second_checks.values();
        seen += looked
            .filter(|check| check.seen.is_some_and(|seen| seen.at >= shift))
            .count() as i64;
    }
    let mut lines = Vec::new();
    if !wanted.is_empty() {
        let count = wanted.len() as i64;
        let more = wanted.len().saturating_sub(NAMED_MOST) as i64;
        wanted.truncate(NAMED_MOST);
        let mut these = wanted.join(", ");
        if more > 0 {
            these.push_str(&say!(lang, "due-more", count = more));
        }
        lines.push(say!(lang, "handover-second", count = count, these = these));
    }
    if seen > 0 {
        lines.push(say!(lang, "handover-second-seen", count = seen));
    }
    lines
}
