//! Work that leaves a paper. Decides what may be recorded of it, when it is next due, and that what failed a test is out
//! of service; leaves which papers are missing to `papers`.

use super::draft::{Asked, Draft, take_back};
use super::{out, papers};
use crate::choice::{Outcome, Work};
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::Message;
use crate::record::{Body, Fault};
use crate::refusal::Refusal;
use crate::say;
use crate::state::{Life, Service, Surface};

/// The next of a work is at most so many years ahead: more is a slip of the finger.
const NEXT_YEARS_MAX: i64 = 10;

/// `/service`.
pub(super) fn service(
    asked: &Asked<'_>,
    typed: &str,
    work: Work,
    outcome: Outcome,
    on: Option<&str>,
    next: Option<&str>,
    note: Option<String>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    if surface.hold.is_some() {
        return Err(Refusal::new("fault-service-held").text("tag", tag));
    }
    if matches!(surface.life, Life::Retired { .. }) {
        return Err(Refusal::new("fault-retired").text("tag", tag));
    }
    let today = papers::day_of(asked.state, asked.now);
    let on = on
        .map(|text| asked.day_past(text))
        .transpose()?
        .unwrap_or(today);
    let next = next.map(|text| asked.day(text)).transpose()?;
    if let Some(next) = next {
        if outcome == Outcome::Failed {
            return Err(Refusal::new("fault-service-next-failed"));
        }
        let longest = papers_ahead(on);
        if next <= on || longest.is_some_and(|longest| next > longest) {
            return Err(Refusal::new("fault-service-next")
                .text("on", on)
                .number("years", NEXT_YEARS_MAX));
        }
    }
    if let Some(newer) = surface.served.get(&work).filter(|newer| newer.on > on) {
        return Err(Refusal::new("fault-service-newer")
            .text("tag", tag)
            .text("day", newer.on));
    }
    let note = asked.guarded(note)?;
    let lang = asked.lang;
    let mut draft = asked.draft();
    let body = Body::Serviced {
        tag: tag.clone(),
        work,
        outcome,
        on,
        next,
    };
    let no = draft.fact_at(asked.now, body, note);
    let words = say!(lang, &format!("work-{}", work.as_str()));
    let mut after = surface.clone();
    let done = Service {
        no,
        on,
        at: asked.now,
        outcome,
        next,
    };
    after.served.insert(work, done);
    let message = match outcome {
        Outcome::Passed => {
            let mut lines = vec![say!(
                lang,
                "service-passed",
                surface = asked.with_bed(tag),
                work = words,
                day = on.to_string()
            )];
            let day = match work {
                Work::SafetyTest => papers::test_day(asked.state, &after),
                Work::Maintenance => papers::maintenance_day(asked.state, &after),
            };
            lines.push(match day {
                Some(day) => say!(lang, "service-next", day = day.to_string()),
                None => say!(lang, "service-no-next"),
            });
            lines.push(say!(lang, "service-caution"));
            let back = take_back(lang, &draft, tag);
            Message::text(lines.join("\n")).buttons(vec![back])
        }
        Outcome::Failed => {
            let failed = say!(
                lang,
                "service-failed",
                surface = asked.with_bed(tag),
                work = words,
                day = on.to_string()
            );
            let out = take_out(asked, &mut draft, tag, surface, Fault::Test);
            Message::text(format!("{failed}\n{out}"))
        }
    };
    Ok(draft.private(message))
}

/// Takes a surface out of service for a fault that was found, and says what follows. Under somebody an alarm is open
/// until they lie on another surface, and the nurse is called.
pub(super) fn take_out(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
    fault: Fault,
) -> String {
    let lang = asked.lang;
    let words = asked.with_bed(tag);
    if matches!(surface.life, Life::OutOfService { .. }) {
        return say!(lang, "out-already", surface = words);
    }
    if out::take_out(asked, draft, tag, surface, fault, None) {
        say!(lang, "out-under", surface = words)
    } else {
        say!(lang, "out-now", tag = tag.as_str())
    }
}

fn papers_ahead(on: chrono::NaiveDate) -> Option<chrono::NaiveDate> {
    crate::rules::papers::months_after(on, NEXT_YEARS_MAX * 12)
}
