//! What each kind of record says in one line of a timeline. Decides the words; who and when stand beside them.

use chrono::{DateTime, Utc};

use super::super::check::{escaped, show_air};
use super::super::draft::{clock_time, day_time, span};
use super::super::{alarm, look, turnover};
use crate::choice::{Action, Finding, Method, Step, TurnStep};
use crate::ids::Tag;
use crate::record::{AlarmEnd, Body};
use crate::rules::priority::AlarmKind;
use crate::say;
use crate::words::Lang;

/// How it is written: on a phone, or on paper.
#[derive(Clone, Copy)]
pub(in crate::decide) struct Pen<'a> {
    /// The language.
    pub lang: Lang,
    /// A moment: as each phone shows it, or in the home's time.
    pub moment: &'a dyn Fn(DateTime<Utc>) -> String,
    /// What somebody typed, so that it stands as it is.
    pub typed: fn(&str) -> String,
    /// Whether beds are named.
    pub beds: bool,
}

impl Pen<'static> {
    /// In the chat, moments by the clock.
    pub fn chat(lang: Lang) -> Self {
        Self {
            lang,
            moment: &clock_time,
            typed: escaped,
            beds: true,
        }
    }

    /// In the chat, moments with their day.
    pub fn chat_with_days(lang: Lang) -> Self {
        Self {
            moment: &day_time,
            ..Self::chat(lang)
        }
    }
}

/// What a record says.
pub(in crate::decide) fn words(pen: Pen<'_>, body: &Body) -> String {
    let Pen {
        lang,
        moment,
        typed,
        beds,
    } = pen;
    let steps = |steps: &[Step]| {
        let words: Vec<String> = steps
            .iter()
            .map(|step| say!(lang, &format!("step-{}", step.as_str())))
            .collect();
        words.join(", ")
    };
    let turn_steps = |steps: &[TurnStep]| {
        let words: Vec<String> = steps
            .iter()
            .map(|step| say!(lang, turnover::step_key(*step)))
            .collect();
        words.join(", ")
    };
    let reading = |air, band, judged: &str| {
        say!(
            lang,
            "line-checked",
            air = show_air(lang, air, band),
            judged = say!(lang, &format!("judged-{judged}"))
        )
    };
    match body {
        Body::SurfaceAdded { profile, .. } => {
            say!(lang, "line-added", profile = typed(profile.as_str()))
        }
        Body::SurfaceRetired { .. } => say!(lang, "line-retired"),
        Body::NoteErased { of, .. } => say!(lang, "line-note-erased", entry = of.to_string()),
        Body::SurfaceBroughtBack { .. } => say!(lang, "line-brought-back"),
        Body::Placed { .. } if !beds => say!(lang, "line-placed-unnamed"),
        Body::Placed { bed, .. } => say!(lang, "line-placed", bed = bed.as_str()),
        Body::Released { reason, .. } => say!(lang, "line-released", reason = reason.as_str()),
        Body::HandChecked {
            air, judged, band, ..
        } => reading(*air, *band, judged.as_str()),
        Body::RecheckAsked { .. } => say!(lang, "line-recheck-asked"),
        Body::AlarmOpened {
            kind,
            found: Some(found),
            ..
        } => {
            let power = *kind == AlarmKind::Power;
            let kind = alarm::kind_words(lang, *kind);
            match found.since {
                Some(since) => {
                    let key = if power {
                        "line-alarm-found-since"
                    } else {
                        "line-alarm-mended-since"
                    };
                    say!(lang, key, kind = kind, since = (pen.moment)(since))
                }
                None if power => say!(lang, "line-alarm-found", kind = kind),
                None => say!(lang, "line-alarm-mended", kind = kind),
            }
        }
        Body::AlarmOpened {
            kind,
            shift_over: Some(at),
            ..
        } => say!(
            lang,
            "line-alarm-shift-over",
            kind = alarm::kind_words(lang, *kind),
            at = (pen.moment)(*at)
        ),
        Body::AlarmOpened { kind, .. } => {
            say!(lang, "line-alarm", kind = alarm::kind_words(lang, *kind))
        }
        Body::AlarmNamed { kind, .. } => say!(
            lang,
            "line-alarm-named",
            kind = alarm::kind_words(lang, *kind)
        ),
        Body::AlarmTaken { .. } => say!(lang, "line-alarm-taken"),
        Body::ResidentSafe { .. } => say!(lang, "line-alarm-safe"),
        Body::AlarmGivenUp { .. } => say!(lang, "line-alarm-given-up"),
        Body::NotSafeYet { .. } => say!(lang, "line-alarm-not-safe"),
        Body::AlarmAsked { rung, .. } => {
            say!(lang, "line-alarm-asked", rung = i64::from(*rung))
        }
        Body::LadderRestarted { .. } => say!(lang, "line-alarm-again"),
        Body::AlarmCause { cause, .. } => say!(
            lang,
            "line-alarm-cause",
            cause = alarm::cause_words(lang, *cause)
        ),
        Body::AlarmClosed {
            is_at: Some(tag), ..
        } => say!(lang, "line-alarm-is-at", tag = tag.as_str()),
        Body::AlarmClosed { end, .. } => say!(lang, end_key(*end)),
        Body::FilterLooked {
            finding, action, ..
        } => say!(
            lang,
            "line-filter",
            finding = say!(lang, &format!("finding-{}", finding.as_str())),
            action = say!(lang, &format!("action-{}", action.as_str()))
        ),
        Body::Cleaned {
            reason,
            method,
            product,
            cover,
            ..
        } => {
            let with = match product {
                Some(product) => typed(product),
                None => say!(lang, &format!("method-{}", method.as_str())),
            };
            say!(
                lang,
                "line-cleaned",
                reason = say!(lang, &format!("reason-{}", reason.as_str())),
                with = with,
                cover = cover.as_str()
            )
        }
        Body::FunctionShown { .. } => say!(
            lang,
            "line-turn-shown",
            step = say!(lang, turnover::step_key(TurnStep::Function))
        ),
        Body::Pulled { fault, .. } => say!(
            lang,
            "line-pulled",
            fault = say!(lang, look::fault_key(*fault))
        ),
        Body::TakenBack { first, .. } => {
            say!(lang, "line-taken-back", entry = first.to_string())
        }
        Body::Booked { due, .. } => say!(lang, "line-booked", at = moment(*due)),
        Body::Unbooked { .. } => say!(lang, "line-unbooked"),
        Body::Called { .. } => say!(lang, "line-called"),
        Body::StepsOpened { .. } => say!(lang, "line-steps"),
        Body::StepsDone { steps: done, .. } => {
            say!(lang, "line-steps-done", steps = steps(done))
        }
        Body::StepMissed { step, .. } => {
            say!(lang, "line-step-missed", step = steps(&[*step]))
        }
        Body::FillBegan { full, .. } => say!(lang, "line-fill", at = moment(*full)),
        Body::SettingSet { setting, .. } => {
            say!(lang, "line-setting", setting = typed(setting))
        }
        Body::Moved { .. } if !beds => say!(lang, "line-moved-unnamed"),
        Body::Moved { bed, .. } => say!(lang, "line-moved", bed = bed.as_str()),
        Body::PluggedIn { minutes, .. } => {
            say!(lang, "line-plugged", span = span(lang, i64::from(*minutes)))
        }
        Body::LeaveBegan { why, until, .. } => say!(
            lang,
            "line-leave",
            why = say!(lang, &format!("leave-{}", why.as_str())),
            until = moment(*until)
        ),
        Body::LeaveEnded { .. } => say!(lang, "line-leave-ended"),
        Body::StaticBegan { until, .. } => say!(lang, "line-static", until = moment(*until)),
        Body::StaticEnded { .. } => say!(lang, "line-static-ended"),
        Body::CprOpened { .. } => say!(lang, "line-cpr"),
        Body::CprOver { .. } => say!(lang, "line-cpr-over"),
        Body::TurnoverOpened { .. } => say!(lang, "line-turnover"),
        Body::TurnShown { step, .. } => {
            say!(lang, "line-turn-shown", step = turn_steps(&[*step]))
        }
        Body::TurnUndone { steps, .. } => {
            say!(lang, "line-turn-undone", steps = turn_steps(steps))
        }
        Body::ContactBegan { until, .. } => say!(lang, "line-contact", until = moment(*until)),
        Body::Readied { .. } => say!(lang, "line-ready"),
        Body::PaperWaived { papers, .. } => {
            let papers: Vec<String> = papers
                .iter()
                .map(|paper| say!(lang, &format!("paper-{}", paper.as_str())))
                .collect();
            say!(lang, "line-waived", papers = papers.join(", "))
        }
        Body::Marked { clean_last, .. } => {
            let key = if *clean_last {
                "line-marked"
            } else {
                "line-unmarked"
            };
            say!(lang, key)
        }
        Body::Repaired { .. } => say!(lang, "line-repaired"),
        Body::Returned { .. } => say!(lang, "line-returned"),
        Body::Held {
            known: Some(day), ..
        } => say!(lang, "line-held-known", day = day.to_string()),
        Body::Held { .. } => say!(lang, "line-held"),
        Body::HoldReported { .. } => say!(lang, "line-hold-reported"),
        Body::HoldReleased { .. } => say!(lang, "line-hold-released"),
        Body::RecallJoined { .. } | Body::RecallOpened { .. } => say!(lang, "line-recalled"),
        Body::FrameSet { .. } => say!(lang, "line-frame"),
        Body::ZonesMeasured { gaps, .. } => {
            let gaps: Vec<String> = gaps
                .iter()
                .map(|gap| {
                    let key = if gap.over {
                        "line-gap-over"
                    } else {
                        "line-gap"
                    };
                    say!(
                        lang,
                        key,
                        zone = i64::from(gap.zone),
                        gap = i64::from(gap.gap.0 / 10)
                    )
                })
                .collect();
            say!(lang, "line-zones", gaps = gaps.join(", "))
        }
        Body::ZonesActed { did: None, .. } => say!(lang, "line-zones-acted"),
        Body::ZonesActed { did: Some(did), .. } => say!(
            lang,
            "line-zones-did",
            did = say!(lang, &format!("gap-act-{}", did.as_str()))
        ),
        Body::Serviced { work, outcome, .. } => say!(
            lang,
            "line-serviced",
            work = say!(lang, &format!("work-{}", work.as_str())),
            outcome = outcome.as_str()
        ),
        Body::OutageSeen { roll, .. } => say!(lang, "line-outage", roll = roll.as_str()),
        Body::RentalStarted { .. } => say!(lang, "line-rented"),
        Body::RentalArrived { outcome, .. } => {
            say!(lang, "line-arrived", outcome = outcome.as_str())
        }
        Body::PickupCalled { .. } => say!(lang, "line-pickup"),
        Body::PickupConfirmed { .. } => say!(lang, "line-pickup-confirmed"),
        Body::Collected { .. } => say!(lang, "line-collected"),
        Body::Amended { entry, .. } => say!(lang, "line-amended", entry = entry.to_string()),
        Body::Annotated {
            entry,
            undoes: Some(_),
            ..
        } => say!(lang, "line-unremarked", entry = entry.to_string()),
        Body::Annotated { entry, .. } => {
            say!(lang, "line-annotated", entry = entry.to_string())
        }
        Body::Countersigned { entry, .. } => {
            say!(lang, "line-countersigned", entry = entry.to_string())
        }
        Body::SecondCheckWanted { task, .. } => say!(
            lang,
            "line-second-wanted",
            task = say!(lang, &format!("task-{}", task.as_str()))
        ),
        Body::SecondChecked { task, .. } => say!(
            lang,
            "line-second-checked",
            task = say!(lang, &format!("task-{}", task.as_str()))
        ),
        Body::Told { .. } => say!(lang, "line-called"),
        Body::LoftAnswered {
            cause: Some(cause), ..
        } => say!(
            lang,
            "line-loft-found",
            cause = alarm::cause_words(lang, *cause)
        ),
        Body::LoftAnswered { answer, .. } => {
            say!(lang, &format!("line-loft-{}", answer.as_str()))
        }
        // About the house: on no timeline, but an entry of one's own like any other.
        Body::LetIn { .. }
        | Body::LetInEnded { .. }
        | Body::PrimerRead {}
        | Body::SignedOff { .. }
        | Body::SignOffEnded { .. }
        | Body::PaceSaid { .. }
        | Body::DutyTaken { .. }
        | Body::DutyEnded { .. }
        | Body::ClaimsLooked { .. }
        | Body::RoundsLooked { .. }
        | Body::HandoverMade { .. }
        | Body::HandoverAccepted { .. }
        | Body::PhoneSet { .. }
        | Body::WishAsked { .. }
        | Body::WishEnded { .. }
        | Body::ScheduleDropped { .. }
        | Body::BedsApproved { .. }
        | Body::FacilitySet { .. }
        | Body::UnitSet { .. }
        | Body::UnitDropped { .. }
        | Body::ScheduleSet { .. }
        | Body::LadderSet { .. }
        | Body::LadderAsked { .. }
        | Body::PolicySet { .. }
        | Body::PolicyAsked { .. }
        | Body::ProfileSet(_)
        | Body::ProductSet { .. }
        | Body::ProductDropped { .. }
        | Body::StorageSet { .. }
        | Body::OutageOpened { .. }
        | Body::OutageTaken { .. }
        | Body::OutageRolled { .. }
        | Body::OutageAsked { .. }
        | Body::OutageRestarted { .. }
        | Body::OutageEnded { .. }
        | Body::StockCounted { .. }
        | Body::StockUsed { .. }
        | Body::SlotFired { .. }
        | Body::Away { .. }
        | Body::ClockStepped { .. } => {
            say!(lang, "line-other", kind = body.kind().replace('-', " "))
        }
    }
}

pub(in crate::decide) fn end_key(end: AlarmEnd) -> &'static str {
    match end {
        AlarmEnd::Fixed => "line-alarm-fixed",
        AlarmEnd::OutOfService => "line-alarm-out",
        AlarmEnd::Released => "line-alarm-released",
        AlarmEnd::TakenBack => "line-alarm-taken-back",
        AlarmEnd::WrongTag => "line-alarm-wrong-tag",
    }
}

/// Whether a record tells something that happened: bookings and what they drop are about what was still to come, and
/// a call says itself that somebody was called.
pub(in crate::decide) fn tells(body: &Body) -> bool {
    !matches!(body, Body::Booked { .. } | Body::Unbooked { .. })
}

/// One thing about an entry that reads otherwise than before.
pub(in crate::decide) struct Change {
    /// Which.
    pub label: String,
    /// As it read.
    pub old: String,
    /// As it reads.
    pub new: String,
}

/// What reads otherwise between two states of an entry, each with when it happened; an entry that was struck reads as
/// that.
pub(in crate::decide) fn changes(
    pen: Pen<'_>,
    (old, old_at): (Option<&Body>, DateTime<Utc>),
    (new, new_at): (Option<&Body>, DateTime<Utc>),
) -> Vec<Change> {
    let Pen {
        lang,
        moment,
        typed,
        ..
    } = pen;
    let mut all = Vec::new();
    let mut add = |key: &str, old: String, new: String| {
        if old != new {
            all.push(Change {
                label: say!(lang, key),
                old,
                new,
            });
        }
    };
    let whole = |body: Option<&Body>| {
        body.map_or_else(|| say!(lang, "line-struck"), |body| words(pen, body))
    };
    let tag = |body: &Body| body.surface().map_or_else(String::new, Tag::to_string);
    let (Some(old), Some(new)) = (old, new) else {
        add("amend-field-entry", whole(old), whole(new));
        return all;
    };
    add("amend-field-surface", tag(old), tag(new));
    add("amend-field-when", moment(old_at), moment(new_at));
    let none = || say!(lang, "line-none");
    let word = |word: Option<&str>| word.map_or_else(none, str::to_owned);
    if let (
        Body::HandChecked {
            air,
            judged,
            band,
            position,
            mode,
            layers,
            setting,
            ..
        },
        Body::HandChecked {
            air: air2,
            judged: judged2,
            band: band2,
            position: position2,
            mode: mode2,
            layers: layers2,
            setting: setting2,
            ..
        },
    ) = (old, new)
    {
        let reading = |air, band, judged: &str| {
            format!(
                "{}, {}",
                show_air(lang, air, band),
                say!(lang, &format!("judged-{judged}"))
            )
        };
        add(
            "amend-field-air",
            reading(*air, *band, judged.as_str()),
            reading(*air2, *band2, judged2.as_str()),
        );
        add(
            "amend-field-position",
            word(position.map(|it| it.as_str())),
            word(position2.map(|it| it.as_str())),
        );
        add(
            "amend-field-mode",
            word(mode.map(|it| it.as_str())),
            word(mode2.map(|it| it.as_str())),
        );
        let number = |layers: Option<u8>| layers.map_or_else(none, |layers| layers.to_string());
        add("amend-field-layers", number(*layers), number(*layers2));
        let text = |text: &Option<String>| text.as_deref().map_or_else(none, typed);
        add("amend-field-setting", text(setting), text(setting2));
    } else if let (
        Body::FilterLooked {
            finding, action, ..
        },
        Body::FilterLooked {
            finding: finding2,
            action: action2,
            ..
        },
    ) = (old, new)
    {
        let found = |finding: Finding| say!(lang, &format!("finding-{}", finding.as_str()));
        add("amend-field-finding", found(*finding), found(*finding2));
        let done = |action: Action| say!(lang, &format!("action-{}", action.as_str()));
        add("amend-field-action", done(*action), done(*action2));
    } else if let (
        Body::Cleaned {
            method,
            product,
            cover,
            ..
        },
        Body::Cleaned {
            method: method2,
            product: product2,
            cover: cover2,
            ..
        },
    ) = (old, new)
    {
        let with = |product: &Option<String>, method: Method| match product {
            Some(product) => typed(product),
            None => say!(lang, &format!("method-{}", method.as_str())),
        };
        add(
            "amend-field-method",
            with(product, *method),
            with(product2, *method2),
        );
        add(
            "amend-field-cover",
            cover.as_str().to_owned(),
            cover2.as_str().to_owned(),
        );
    } else {
        // Another kind of entry is not corrected.
        add("amend-field-entry", whole(Some(old)), whole(Some(new)));
    }
    all
}
