//! Out of service and back. Decides what a pull brings about wherever it comes from, and what must be shown before a
//! surface may go back into its turnover; leaves holds to `hold` and recalls to `recall`.

use super::alarm;
use super::draft::{Asked, Draft, clock_time, day_time, in_post, person, state_after, take_back};
use super::hold;
use super::nurse;
use super::recall;
use super::turnover;
use crate::choice::{Outcome, Work};
use crate::decision::{Decision, Lane};
use crate::due::asking::{self, Asks};
use crate::ids::Tag;
use crate::message::{Answer, Button, Field, Form, Look, Message};
use crate::record::{AlarmEnd, Body, Fault, On};
use crate::refusal::Refusal;
use crate::role::Role;
use crate::rules::priority::AlarmKind;
use crate::say;
use crate::state::{Life, Mark, Surface};
use crate::tap::{Tap, Turn};

/// `/pull`.
pub(super) fn pull(
    asked: &Asked<'_>,
    typed: &str,
    fault: Fault,
    note: Option<String>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let note = asked.guarded(note)?;
    super::clean::in_register(tag, surface)?;
    hold::not_held(tag, surface)?;
    let lang = asked.lang;
    if let Life::OutOfService {
        since,
        fault,
        under,
    } = &surface.life
    {
        let key = match (under.is_some(), nurse::acts(asked)) {
            (true, false) => "fault-pulled-under",
            (true, true) => "fault-pulled-under-nurse",
            (false, _) => "fault-pulled",
        };
        return Err(Refusal::new(key)
            .text("surface", asked.with_bed(tag))
            .text("since", day_time(*since))
            .keys("fault", [super::look::fault_key(*fault).to_owned()]));
    }
    let mut draft = asked.draft();
    let under = take_out(asked, &mut draft, tag, surface, fault, note);
    let text = if under {
        let key = if nurse::acts(asked) {
            "pulled-under-nurse"
        } else {
            "pulled-under"
        };
        say!(
            lang,
            key,
            surface = asked.with_bed(tag),
            fault = say!(lang, super::look::fault_key(fault))
        )
    } else {
        stored_words(asked, tag, fault)
    };
    let mut message = Message::text(text);
    if under {
        message = super::spare::offered(asked, message, tag, surface);
    }
    // An alarm that ended with it stays ended.
    if under || surface.alarm.is_none() {
        message = message.buttons(vec![take_back(lang, &draft, tag)]);
    }
    Ok(draft.private(message))
}

/// What is said of one that is out of service and under nobody.
pub(super) fn stored_words(asked: &Asked<'_>, tag: &Tag, fault: Fault) -> String {
    let lang = asked.lang;
    say!(
        lang,
        "pulled",
        tag = tag.as_str(),
        fault = say!(lang, super::look::fault_key(fault))
    )
}

/// Takes a surface out of service, wherever that was found: the fact, and whoever must know. Under somebody an alarm is
/// open until they lie on another surface. Says whether somebody lies on it.
pub(super) fn take_out(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
    fault: Fault,
    note: Option<String>,
) -> bool {
    let lang = asked.state.lang();
    let open = surface
        .alarm
        .and_then(|no| Some((no, asked.state.alarms.get(&no)?)));
    let under = surface.bed().is_some();
    if under && open.is_none() {
        // Before the pull: what the alarm's record would take back stands before it.
        alarm::open_pulled(asked, draft, tag, AlarmKind::Fault, fault, note.clone());
    }
    let shown = note.as_deref().map(super::check::quoted);
    let body = Body::Pulled {
        tag: tag.clone(),
        fault,
    };
    let record = draft.fact_at(asked.now, body, note);
    let mut say_so = |key: &str, lane, roles: &[Role]| {
        let mut text = say!(
            lang,
            key,
            surface = in_post(asked.state, lang, tag),
            fault = say!(lang, super::look::fault_key(fault)),
            who = person(asked.ask.who)
        );
        text.push_str(shown.as_deref().unwrap_or_default());
        let post = (
            format!("pulled:{record}"),
            alarm::channel(asked.state, asked.facility, tag),
            lane,
        );
        let asks = asks_for(asked, tag, surface, roles);
        let on = On::Surface(tag.clone());
        draft.ask(asked.facility, on, &asks, post, Message::text(text));
    };
    let held = fault == Fault::Inquiry;
    match (under, open) {
        (true, None) => {}
        (true, Some((no, open))) => {
            say_so(
                under_key(asked, held),
                Lane::Escalation,
                &[Role::Nurse, Role::Upkeep],
            );
            alarm::edit_pulled(asked, draft, no, open, Some(fault));
        }
        (false, open) => {
            let key = if held { "post-held" } else { "post-pulled" };
            say_so(key, Lane::Reminder, &[Role::Upkeep]);
            if let Some((no, open)) = open {
                alarm::end(asked, draft, no, open, AlarmEnd::OutOfService);
            }
        }
    }
    under
}

/// One that was out of service before is held now: whoever is near it is told.
pub(super) fn tell_held(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, surface: &Surface) {
    let lang = asked.state.lang();
    let under = surface.bed().is_some();
    let key = if under {
        under_key(asked, true)
    } else {
        "post-held"
    };
    let text = say!(
        lang,
        key,
        surface = in_post(asked.state, lang, tag),
        who = person(asked.ask.who)
    );
    let roles: &[Role] = if under {
        &[Role::Nurse, Role::Upkeep]
    } else {
        &[Role::Upkeep]
    };
    let post = (
        format!("pulled:{}", draft.first()),
        alarm::channel(asked.state, asked.facility, tag),
        Lane::Reminder,
    );
    let asks = asks_for(asked, tag, surface, roles);
    let on = On::Surface(tag.clone());
    draft.ask(asked.facility, on, &asks, post, Message::text(text));
}

/// What is called out of one that is under somebody. Nobody calls for a nurse who is there.
fn under_key(asked: &Asked<'_>, held: bool) -> &'static str {
    match (held, nurse::acts(asked)) {
        (true, false) => "post-held-under",
        (true, true) => "post-held-under-nurse",
        (false, false) => "post-pulled-under",
        (false, true) => "post-pulled-under-nurse",
    }
}

/// Under somebody it concerns their safety; on the shelf it waits for whoever is on duty.
fn asks_for(asked: &Asked<'_>, tag: &Tag, surface: &Surface, roles: &[Role]) -> Asks {
    let unit = asked.state.unit_of(tag);
    if surface.bed().is_some() {
        asking::safety(asked.state, unit, roles, asked.now).by(asked.ask.who)
    } else {
        asking::routine(asked.state, unit, roles, asked.now).by(asked.ask.who)
    }
}

/// `/return`.
pub(super) fn return_it(asked: &Asked<'_>, typed: &str) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    stored(asked, tag, surface)?;
    let mut draft = asked.draft();
    let back = Back::of(asked, surface);
    let message = back.go_on(asked, &mut draft, tag, surface, None);
    Ok(draft.private(message))
}

/// Whether a surface is out of service, under nobody and free to be brought back.
fn stored(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Result<(), Refusal> {
    hold::not_held(tag, surface)?;
    match &surface.life {
        Life::OutOfService { under: None, .. } => Ok(()),
        Life::OutOfService {
            under: Some(bed), ..
        } => Err(Refusal::new("fault-return-under")
            .text("tag", tag)
            .text("bed", bed)),
        Life::Placed { .. } => {
            Err(Refusal::new("fault-return-in-use").text("surface", asked.with_bed(tag)))
        }
        Life::Soiled(_) => Err(Refusal::new("fault-return-turnover").text("tag", tag)),
        Life::Ready { .. } => Err(Refusal::new("fault-ready-already").text("tag", tag)),
        Life::Retired { .. } => Err(Refusal::new("fault-retired").text("tag", tag)),
    }
}

/// How far the way back is, as it will stand once the draft is a fact.
struct Back {
    repaired: Option<Mark>,
    /// The test after that repair; one that failed undid it.
    tested: Option<Outcome>,
}

impl Back {
    /// A test counts that was made and entered after the repair: a repair undoes the test before it.
    fn of(asked: &Asked<'_>, surface: &Surface) -> Self {
        let zone = &asked.facility.zone;
        let test = surface.served.get(&Work::SafetyTest);
        let tested = match surface.repaired {
            Some(repaired) => test
                .filter(|test| test.at >= repaired.at && test.on >= zone.local(repaired.at).date())
                .map(|test| test.outcome),
            None => test
                .map(|test| test.outcome)
                .filter(|outcome| *outcome == Outcome::Failed),
        };
        Self {
            repaired: surface.repaired,
            tested,
        }
    }

    /// Back into its turnover once all was shown; else the card with what is left.
    fn go_on(
        &self,
        asked: &Asked<'_>,
        draft: &mut Draft,
        tag: &Tag,
        surface: &Surface,
        back: Option<Button>,
    ) -> Message {
        let lang = asked.lang;
        if self.repaired.is_some() && self.tested == Some(Outcome::Passed) {
            draft.fact(Body::Returned { tag: tag.clone() });
            turnover::open(asked, draft, tag, surface);
            let text = say!(lang, "returned", tag = tag.as_str());
            let who = Some(asked.ask.who);
            let after = state_after(asked.state, who, asked.now, &draft.decision);
            let later = Asked {
                state: &after,
                ..*asked
            };
            return turnover::shown_again(&later, tag, text);
        }
        let mut lines = vec![super::look::life(asked, surface)];
        lines.insert(0, say!(lang, "return-head", tag = tag.as_str()));
        if surface.clean_last {
            lines.push(say!(lang, "turn-marked"));
        }
        let recalled = asked.state.recall_of(tag).is_some();
        lines.push(match self.repaired {
            Some(mark) => say!(
                lang,
                if recalled {
                    "return-corrected"
                } else {
                    "return-repaired"
                },
                who = mark.who.map_or_else(|| "loftwatch".to_owned(), person),
                at = clock_time(mark.at)
            ),
            None if recalled => say!(lang, "return-correct"),
            None => say!(lang, "return-repair"),
        });
        lines.push(match self.tested {
            Some(Outcome::Failed) => say!(lang, "return-test-failed"),
            Some(Outcome::Passed) | None => say!(lang, "return-test"),
        });
        lines.push(say!(lang, "return-then"));
        let mut buttons = Vec::new();
        let turn = |key, look, tap: Turn| super::draft::button(lang, key, look, &Tap::Turn(tap));
        let tag = || tag.clone();
        if self.repaired.is_none() {
            let key = if recalled {
                "button-corrected"
            } else {
                "button-repaired"
            };
            buttons.push(turn(key, Look::Good, Turn::Repaired { tag: tag() }));
            buttons.push(turn(
                "button-repair-note",
                Look::Plain,
                Turn::RepairNote { tag: tag() },
            ));
        } else {
            let tested = |outcome| Turn::Tested {
                tag: tag(),
                outcome,
            };
            buttons.push(turn(
                "button-test-passed",
                Look::Good,
                tested(Outcome::Passed),
            ));
            buttons.push(turn(
                "button-test-failed",
                Look::Caution,
                tested(Outcome::Failed),
            ));
        }
        buttons.extend(back);
        Message::text(lines.join("\n")).buttons(buttons)
    }
}

/// A tap in a turnover or out of service.
pub(super) fn tapped(asked: &Asked<'_>, tap: Turn) -> Result<Decision, Refusal> {
    match tap {
        Turn::Dried { .. }
        | Turn::Inspected { .. }
        | Turn::PartsWhole { .. }
        | Turn::PartDamaged { .. }
        | Turn::PartFault { .. }
        | Turn::NotRunning { .. } => turnover::tapped(asked, tap),
        Turn::Repaired { tag } => repaired(asked, &tag, None),
        Turn::RepairNote { tag } => repair_form(asked, &tag),
        Turn::RepairNoted { tag, note } => repaired(asked, &tag, note),
        Turn::Tested { tag, outcome } => tested(asked, &tag, outcome),
        Turn::Reported { tag, hold: no } => hold::reported(asked, &tag, no),
        Turn::LetGo { tag, hold: no } => hold::let_go(asked, &tag, no),
        Turn::LetGoSure { tag, hold: no } => hold::let_go_sure(asked, &tag, no),
        Turn::HoldSure { tag, known } => hold::sure(asked, &tag, known),
        Turn::RecallAll { tag, lot, found } => recall::pull_all(asked, &tag, lot, found),
    }
}

fn repaired(asked: &Asked<'_>, tag: &Tag, note: Option<String>) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    stored(asked, tag, surface)?;
    let note = asked.guarded(note)?;
    let mut back = Back::of(asked, surface);
    let mut draft = asked.draft();
    if back.repaired.is_some() {
        let message = back.go_on(asked, &mut draft, tag, surface, None);
        return Ok(draft.answer(Answer::Replace(message)));
    }
    draft.fact_at(asked.now, Body::Repaired { tag: tag.clone() }, note);
    back.repaired = Some(Mark {
        who: Some(asked.ask.who),
        at: asked.now,
    });
    back.tested = None;
    let undo = take_back(asked.lang, &draft, tag);
    let message = back.go_on(asked, &mut draft, tag, surface, Some(undo));
    Ok(draft.answer(Answer::Replace(message)))
}

fn repair_form(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    stored(asked, tag, surface)?;
    let lang = asked.lang;
    let id = Tap::Turn(Turn::RepairNoted {
        tag: tag.clone(),
        note: None,
    })
    .id();
    let form = Form {
        id,
        title: say!(lang, "form-repair-title", tag = tag.as_str()),
        fields: vec![Field {
            id: "note".to_owned(),
            label: say!(lang, "form-note"),
            hint: say!(lang, "form-note-hint"),
            required: false,
            long: true,
        }],
    };
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// The safety test from its button: one that failed keeps the surface out.
fn tested(asked: &Asked<'_>, tag: &Tag, outcome: Outcome) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    stored(asked, tag, surface)?;
    let mut back = Back::of(asked, surface);
    if back.repaired.is_none() {
        return Err(Refusal::new("fault-test-first").text("tag", tag));
    }
    let mut draft = asked.draft();
    draft.fact(Body::Serviced {
        tag: tag.clone(),
        work: Work::SafetyTest,
        outcome,
        on: asked.facility.zone.local(asked.now).date(),
        next: None,
    });
    back.tested = Some(outcome);
    if outcome == Outcome::Failed {
        back.repaired = None;
    }
    let undo = take_back(asked.lang, &draft, tag);
    let message = back.go_on(asked, &mut draft, tag, surface, Some(undo));
    Ok(draft.answer(Answer::Replace(message)))
}
