//! The checklist at a bed: after a placement, a move, an opened CPR valve, a power loss. Decides what is asked in which
//! order, when it fills, and when it is done; leaves which steps there are to `rules::set_up`, how its card reads to
//! `set_up_card`, who is called to `set_up_calls`, and the setting to `setting`.

use chrono::{DateTime, TimeDelta, Utc};

use super::draft::{Asked, Draft, button, clock_time, in_post, person, take_back};
use super::set_up_calls::{complete, settle};
use super::set_up_card::{View, left_words, message, names, part_words};
use crate::choice::{Call, Opening, Rails, Step};
use crate::decision::Decision;
use crate::ids::{Bed, Tag};
use crate::message::{Answer, Field, Form, Look, Message, Row};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::rules::hand_check::{Check, Judgement};
use crate::rules::policy::Name;
use crate::rules::set_up::{self as rules, Needs, Stage};
use crate::say;
use crate::state::{Life, Mark, Setting, Steps, Surface};
use crate::tap::{Bedside, ListCard, Tap};
use crate::words::Lang;

/// The longest time without power that can be typed, in minutes.
const UNPLUGGED_MINUTES_MAX: u16 = 720;

/// A tap at the bed.
pub(super) fn tapped(asked: &Asked<'_>, tap: Bedside) -> Result<Decision, Refusal> {
    match tap {
        Bedside::Steps { tag } => show(asked, &tag),
        Bedside::Done { card, stage } => done(asked, &card, stage, false),
        Bedside::FullAlready { card } => done(asked, &card, Stage::Full, true),
        Bedside::Missed { card, step } => missed(asked, &card, step),
        Bedside::Mended { card, step } => mended(asked, &card, step),
        Bedside::Set { card, setting } | Bedside::SettingTyped { card, setting } => {
            super::setting::set(asked, &card, &setting)
        }
        Bedside::Same { card } => super::setting::same(asked, &card),
        Bedside::Shown { card, setting } => super::setting::shown(asked, &card, &setting),
        Bedside::TypeSetting { card } => super::setting::type_it(asked, &card),
        Bedside::TypeMinutes { card } => type_minutes(asked, &card),
        Bedside::MinutesTyped { card, minutes } => minutes_typed(asked, &card, &minutes),
        Bedside::Alternating { begun } => super::static_mode::over(asked, &begun),
        Bedside::CprOver { begun } => super::cpr::over(asked, &begun),
        Bedside::Back { begun } => super::leave::back(asked, &begun),
        Bedside::Away { begun, longer } => super::leave::longer(asked, &begun, longer),
        Bedside::Gone { begun } => super::leave::gone(asked, &begun),
    }
}

/// Opens a checklist, on top of the one that is `open`, and books the call for it. What was just `shown` otherwise is
/// not asked for again after a power loss.
pub(super) fn open(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    bed: &Bed,
    opening: Opening,
    shown: &[Step],
    open: Option<&Steps>,
) -> Steps {
    let state = asked.state;
    let steps = list(asked, draft, tag, bed, opening, shown, open);
    let on = On::Surface(tag.clone());
    // A call that is still to come for the list before does for this one; a move drops all that were promised.
    let booked = opening != Opening::Moved
        && open.is_some()
        && state
            .booking(&on, Call::Steps)
            .and_then(|booking| booking.next)
            .is_some_and(|next| next > asked.now);
    if !booked {
        let within = TimeDelta::minutes(state.policies.get(Name::SetUpWithin));
        draft.fact(Body::Booked {
            on,
            call: Call::Steps,
            due: asked.now + within,
        });
    }
    steps
}

/// As [`open`], where one call for several of them is booked elsewhere.
pub(super) fn list(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    bed: &Bed,
    opening: Opening,
    shown: &[Step],
    open: Option<&Steps>,
) -> Steps {
    let state = asked.state;
    let check = state
        .surfaces
        .get(tag)
        .is_some_and(|surface| state.profile_of(surface).check != Check::None);
    let rails = state.frame(bed).and_then(|frame| frame.rails);
    let needs = Needs {
        check,
        rails: rails != Some(Rails::None),
    };
    let fresh = rules::steps(opening, needs, shown);
    let wanted = match open {
        Some(list) => rules::merged(list.left(), fresh),
        None => fresh,
    };
    let no = draft.fact(Body::StepsOpened {
        tag: tag.clone(),
        opening,
        steps: wanted.clone(),
    });
    Steps::opened(no, asked.now, opening, wanted, open)
}

/// The checklist of a surface.
pub(super) fn show(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    if surface.cpr.is_some() {
        return super::cpr::card(asked, tag, surface);
    }
    let Some(list) = placed_list(surface) else {
        return Err(Refusal::new("fault-steps-none").text("surface", asked.with_bed(tag)));
    };
    let view = View::new(asked, tag, surface, list.clone());
    Ok(Decision::private(message(asked, &view)))
}

/// The list that is open while the surface is in place.
pub(super) fn placed_list(surface: &Surface) -> Option<&Steps> {
    surface
        .open_steps()
        .filter(|_| matches!(surface.life, Life::Placed { .. }))
}

/// The checklist that a card is about, as long as it is still that one and something is left on it; else what to
/// answer instead of taking the tap.
pub(super) fn found<'a>(
    asked: &Asked<'a>,
    card: &ListCard,
) -> Result<Result<View<'a>, Decision>, Refusal> {
    let (tag, surface) = asked.surface(card.tag.as_str())?;
    if surface.cpr.is_some() {
        return Err(super::cpr::open_fault(asked, tag));
    }
    let same = surface
        .steps
        .as_ref()
        .is_some_and(|list| list.no == card.list);
    let name = asked.with_bed(tag);
    match placed_list(surface) {
        Some(list) if same => Ok(Ok(View::new(asked, tag, surface, list.clone()))),
        Some(list) => {
            let view = View::new(asked, tag, surface, list.clone());
            let mut now = message(asked, &view);
            let said = say!(asked.lang, "steps-stale", surface = name);
            now.text = format!("{said}\n\n{}", now.text);
            Ok(Err(reply(card, now)))
        }
        None if same => Ok(Err(reply(
            card,
            Message::text(say!(asked.lang, "steps-complete-already", surface = name)),
        ))),
        None => Err(Refusal::new("fault-steps-none").text("surface", name)),
    }
}

/// On one's own card the answer takes its place; under a post that everybody sees it does not.
pub(super) fn reply(card: &ListCard, message: Message) -> Decision {
    Decision {
        answer: Some(placed_answer(card, message)),
        ..Decision::default()
    }
}

fn placed_answer(card: &ListCard, message: Message) -> Answer {
    if card.post {
        Answer::Private(message)
    } else {
        Answer::Replace(message)
    }
}

/// The card after what the draft records, with the button that takes it back.
pub(super) fn go_on(
    asked: &Asked<'_>,
    mut draft: Draft,
    card: &ListCard,
    view: &View<'_>,
    said: Option<String>,
) -> Decision {
    complete(asked, &mut draft, view.tag, &view.list);
    let mut now = message(asked, view);
    if let Some(said) = said {
        now.text = format!("{said}\n{}", now.text);
    }
    let back = take_back(asked.lang, &draft, view.tag);
    let room = now.rows.len() < crate::message::ROWS_MAX;
    match now.rows.last_mut() {
        Some(Row::Buttons(last)) if last.len() < crate::message::BUTTONS_MAX => last.push(back),
        Some(_) | None if room => now = now.buttons(vec![back]),
        Some(_) | None => {}
    }
    draft.answer(placed_answer(card, now))
}

/// These steps are done, with all that follows from it: it is plugged in, it begins to fill, it is full.
pub(super) fn tick(asked: &Asked<'_>, draft: &mut Draft, view: &mut View<'_>, steps: &[Step]) {
    let mark = Mark {
        who: Some(asked.ask.who),
        at: asked.now,
    };
    draft.fact(Body::StepsDone {
        tag: view.tag.clone(),
        steps: steps.to_vec(),
    });
    // What was not right and is now may well have changed the air.
    let mended = steps.iter().any(|step| view.list.missed.contains_key(step));
    view.list.tick(steps, mark);
    let lang = asked.state.lang();
    let post = |key| {
        say!(
            lang,
            key,
            surface = in_post(asked.state, lang, view.tag),
            who = person(asked.ask.who),
            at = clock_time(asked.now)
        )
    };
    let plugged = steps.contains(&Step::Plugged);
    if plugged {
        // How long it had no power is known only where it was unplugged for this.
        if view.list.opening == Opening::Moved {
            let minutes = (asked.now - view.list.since).num_minutes();
            let minutes = u16::try_from(minutes).unwrap_or(u16::MAX);
            view.unplugged = Some(minutes);
            draft.fact(Body::PluggedIn {
                tag: view.tag.clone(),
                minutes,
            });
        }
        settle(asked, draft, view.tag, Call::Plug, post("post-plugged"));
    }
    if steps.contains(&Step::Full) {
        settle(asked, draft, view.tag, Call::Full, post("post-full"));
    }
    let fills = view.list.left().any(|step| step == Step::Full)
        && rules::in_turn(Stage::Full, view.list.left())
        && (view.list.full.is_none() || plugged);
    if fills {
        let minutes = TimeDelta::minutes(i64::from(view.profile.fill_minutes));
        let full = asked.now + minutes;
        draft.fact(Body::FillBegan {
            tag: view.tag.clone(),
            full,
        });
        draft.fact(Body::Booked {
            on: On::Surface(view.tag.clone()),
            call: Call::Full,
            due: full,
        });
        view.list.full = Some(full);
    }
    count_check(asked, draft, view, steps, mended);
}

/// A check that was made before its turn counts as soon as that has come, as long as nothing since then changes the air.
fn count_check(
    asked: &Asked<'_>,
    draft: &mut Draft,
    view: &mut View<'_>,
    steps: &[Step],
    mended: bool,
) {
    let wanted = view.list.left().any(|step| step == Step::Check);
    if mended || !wanted || !rules::in_turn(Stage::Check, view.list.left()) {
        return;
    }
    let Some(surface) = asked.state.surfaces.get(view.tag) else {
        return;
    };
    let Some(check) = surface
        .check_here()
        .filter(|check| check.judged == Judgement::Adequate && check.at >= view.list.since)
    else {
        return;
    };
    let done_since = |step: Step| {
        let at = view.list.done.get(&step).map(|mark| mark.at);
        steps.contains(&step) || at.is_some_and(|at| at > check.at)
    };
    let text = |setting: &Option<Setting>| setting.as_ref().map(|setting| setting.text.clone());
    let set_since = surface
        .setting
        .as_ref()
        .is_some_and(|setting| setting.mark.at > check.at);
    let changed = set_since || text(&view.setting) != text(&surface.setting);
    let unknown = view.setting.is_none() && steps.contains(&Step::Setting);
    if changed || unknown || rules::MOVES_AIR.into_iter().any(done_since) {
        return;
    }
    draft.fact(Body::StepsDone {
        tag: view.tag.clone(),
        steps: vec![Step::Check],
    });
    let mark = Mark {
        who: Some(asked.ask.who),
        at: asked.now,
    };
    view.list.tick(&[Step::Check], mark);
    view.counted = Some((check.at, check.who));
}

/// The taps that are left before a check counts that was made before its turn: on the answer to that check.
pub(super) fn missing_first(asked: &Asked<'_>, draft: &Draft, tag: &Tag) -> Option<Message> {
    let (tag, surface) = asked.state.surfaces.get_key_value(tag)?;
    let list = placed_list(surface)?;
    let wanted = list.left().any(|step| step == Step::Check);
    if !wanted || rules::in_turn(Stage::Check, list.left()) {
        return None;
    }
    let adequate = draft.decision.entries.iter().any(|entry| {
        matches!(
            &entry.body,
            Body::HandChecked {
                judged: Judgement::Adequate,
                ..
            }
        ) && entry.at >= list.since
    });
    let view = View::new(asked, tag, surface, list.clone());
    adequate.then(|| message(asked, &view))
}

/// Whether a step can be named as not right, and as right again: those of the two groups. The others have an answer of
/// their own, a setting or a reading or a look, and a tap in a menu is none.
pub(super) fn by_name(step: Step) -> bool {
    match rules::stage(step) {
        Stage::Empty | Stage::Rest => true,
        Stage::Full | Stage::Setting | Stage::Check | Stage::Rails => false,
    }
}

/// All that a stage asks for is done.
fn done(asked: &Asked<'_>, card: &ListCard, stage: Stage, sure: bool) -> Result<Decision, Refusal> {
    let mut view = match found(asked, card)? {
        Ok(view) => view,
        Err(instead) => return Ok(instead),
    };
    if matches!(stage, Stage::Setting | Stage::Check) {
        // A setting is said, and a check is made: neither is a tick.
        return Err(Refusal::new("fault-stale-tap"));
    }
    let open: Vec<Step> = view
        .list
        .left()
        .filter(|step| rules::stage(*step) == stage)
        .collect();
    if open.is_empty() {
        return Ok(already(asked, card, &view, stage));
    }
    in_turn(asked, &view, stage)?;
    if stage == Stage::Full
        && !sure
        && let Some(question) = full_already(asked, &view)
    {
        return Ok(Decision::private(question));
    }
    let right: Vec<Step> = open
        .iter()
        .copied()
        .filter(|step| !by_name(*step) || !view.list.missed.contains_key(step))
        .collect();
    if right.is_empty() {
        return Err(Refusal::new("fault-steps-not-right")
            .text("surface", &view.name)
            .text("steps", names(asked.lang, open)));
    }
    let mut draft = asked.draft();
    tick(asked, &mut draft, &mut view, &right);
    Ok(go_on(asked, draft, card, &view, None))
}

/// Full while less than half of the time is over that its profile gives: asked once, for a thumb slips.
fn full_already(asked: &Asked<'_>, view: &View<'_>) -> Option<Message> {
    let full = view.list.full?;
    let takes = TimeDelta::minutes(i64::from(view.profile.fill_minutes));
    if (full - asked.now) * 2 <= takes {
        return None;
    }
    let lang = asked.lang;
    let text = say!(
        lang,
        "steps-full-already",
        surface = view.name.as_str(),
        minutes = takes.num_minutes(),
        at = clock_time(full - takes)
    );
    let tap = Tap::Bedside(Bedside::FullAlready { card: view.card() });
    let sure = button(lang, "button-full-already", Look::Caution, &tap);
    Some(Message::text(text).buttons(vec![sure]))
}

/// A second tap on a stage that is done: who did it, and how the list stands now.
pub(super) fn already(
    asked: &Asked<'_>,
    card: &ListCard,
    view: &View<'_>,
    stage: Stage,
) -> Decision {
    let mark = view
        .list
        .done
        .iter()
        .filter(|(step, _)| rules::stage(**step) == stage)
        .map(|(_, mark)| *mark)
        .max_by_key(|mark| mark.at);
    let mut now = message(asked, view);
    if let Some(mark) = mark {
        let said = say!(
            asked.lang,
            "steps-done-already",
            part = part_words(asked.lang, view.list.opening, stage),
            who = mark.who.map_or_else(String::new, person),
            at = clock_time(mark.at)
        );
        now.text = format!("{said}\n\n{}", now.text);
    }
    reply(card, now)
}

/// No step before its turn.
pub(super) fn in_turn(asked: &Asked<'_>, view: &View<'_>, stage: Stage) -> Result<(), Refusal> {
    if rules::in_turn(stage, view.list.left()) {
        return Ok(());
    }
    let first = rules::next(view.list.left()).unwrap_or(stage);
    Err(Refusal::new("fault-steps-order")
        .text("surface", &view.name)
        .text("first", part_words(asked.lang, view.list.opening, first)))
}

/// One thing is not right.
fn missed(asked: &Asked<'_>, card: &ListCard, step: Step) -> Result<Decision, Refusal> {
    let mut view = match found(asked, card)? {
        Ok(view) => view,
        Err(instead) => return Ok(instead),
    };
    if !view.list.wanted.contains(&step) || !by_name(step) {
        return Err(Refusal::new("fault-stale-tap"));
    }
    if view.list.done.contains_key(&step) {
        return Ok(already(asked, card, &view, rules::stage(step)));
    }
    let mark = Mark {
        who: Some(asked.ask.who),
        at: asked.now,
    };
    if view.list.missed.contains_key(&step) {
        // Two people saw the same thing.
        return Ok(reply(card, message(asked, &view)));
    }
    let mut draft = asked.draft();
    draft.fact(Body::StepMissed {
        tag: view.tag.clone(),
        step,
    });
    view.list.miss(step, mark);
    let said = say!(
        asked.lang,
        "steps-missed",
        step = names(asked.lang, vec![step])
    );
    Ok(go_on(asked, draft, card, &view, Some(said)))
}

/// What was not right is right now.
fn mended(asked: &Asked<'_>, card: &ListCard, step: Step) -> Result<Decision, Refusal> {
    let mut view = match found(asked, card)? {
        Ok(view) => view,
        Err(instead) => return Ok(instead),
    };
    if !by_name(step) {
        return Err(Refusal::new("fault-stale-tap"));
    }
    if !view.list.missed.contains_key(&step) {
        return Ok(already(asked, card, &view, rules::stage(step)));
    }
    let mut draft = asked.draft();
    tick(asked, &mut draft, &mut view, &[step]);
    Ok(go_on(asked, draft, card, &view, None))
}

fn type_minutes(asked: &Asked<'_>, card: &ListCard) -> Result<Decision, Refusal> {
    let view = match found(asked, card)? {
        Ok(view) => view,
        Err(instead) => return Ok(instead),
    };
    let tap = Tap::Bedside(Bedside::MinutesTyped {
        card: card.clone(),
        minutes: String::new(),
    });
    let lang = asked.lang;
    let form = Form {
        id: tap.id(),
        title: say!(lang, "form-minutes-title", tag = view.tag.as_str()),
        fields: vec![Field {
            id: "minutes".to_owned(),
            label: say!(lang, "form-minutes"),
            hint: say!(lang, "form-minutes-hint"),
            required: true,
            long: false,
        }],
    };
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// How long it had no power, corrected.
fn minutes_typed(asked: &Asked<'_>, card: &ListCard, typed: &str) -> Result<Decision, Refusal> {
    let mut view = match found(asked, card)? {
        Ok(view) => view,
        Err(instead) => return Ok(instead),
    };
    let plugged = view.list.done.contains_key(&Step::Plugged);
    if view.list.opening != Opening::Moved || !plugged {
        return Err(Refusal::new("fault-stale-tap"));
    }
    let digits = typed.trim().trim_end_matches(|c: char| c.is_alphabetic());
    let minutes = digits
        .trim()
        .parse::<u16>()
        .ok()
        .filter(|minutes| *minutes <= UNPLUGGED_MINUTES_MAX)
        .ok_or_else(|| {
            Refusal::new("fault-minutes").number("most", i64::from(UNPLUGGED_MINUTES_MAX))
        })?;
    let mut draft = asked.draft();
    draft.fact(Body::PluggedIn {
        tag: view.tag.clone(),
        minutes,
    });
    view.unplugged = Some(minutes);
    Ok(go_on(asked, draft, card, &view, None))
}

/// An adequate check is on record now: the step is done where its turn has come. Says so, and how the list stands then.
pub(super) fn checked(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
    at: DateTime<Utc>,
    judged: Judgement,
) -> Option<(String, Steps)> {
    let mut list = placed_list(surface)?.clone();
    let wanted = list.left().any(|step| step == Step::Check);
    if judged != Judgement::Adequate || !wanted || at < list.since {
        return None;
    }
    let lang = asked.lang;
    if !rules::in_turn(Stage::Check, list.left()) {
        let first = rules::next(list.left())?;
        let first = part_words(lang, list.opening, first);
        return Some((say!(lang, "steps-check-early", first = first), list));
    }
    let mark = Mark {
        who: Some(asked.ask.who),
        at,
    };
    draft.fact(Body::StepsDone {
        tag: tag.clone(),
        steps: vec![Step::Check],
    });
    list.tick(&[Step::Check], mark);
    complete(asked, draft, tag, &list);
    let said = if list.complete() {
        say!(lang, "steps-check-last")
    } else {
        let left = left_words(lang, &list);
        say!(lang, "steps-check-done", left = left)
    };
    Some((said, list))
}

/// The name of a surface that will be under this bed once the draft is a fact.
pub(super) fn name_at(lang: Lang, tag: &Tag, bed: &Bed) -> String {
    say!(
        lang,
        "surface-with-bed",
        tag = tag.as_str(),
        bed = bed.as_str()
    )
}
