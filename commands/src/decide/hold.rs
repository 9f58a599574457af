//! Holds after an injury. Decides that nothing on a held surface is touched until a supervisor releases it, and when
//! the days to report run out; whether and what to report is decided by people.

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};

use super::Notice;
use super::draft::{Asked, Draft, button, day_time, in_post, person};
use super::{out, spare};
use crate::choice::Call;
use crate::decision::Decision;
use crate::due::calls;
use crate::ids::{RecordNo, Tag};
use crate::message::{Answer, Button, Look, Message};
use crate::record::{Body, Fault, On};
use crate::refusal::Refusal;
use crate::request::Request;
use crate::rules::policy::Name;
use crate::rules::work_days::{REPORT_WORK_DAYS, nth_work_day_after, work_days_between};
use crate::say;
use crate::state::{Facility, Hold, Life, State, Surface};
use crate::tap::{Bedside, House, Plain, Power, Spoken, Tap, Turn, Work};
use crate::words::Lang;

/// Whether a surface may be touched: one that is held may not, and the refusal says who holds it since when.
pub(super) fn not_held(tag: &Tag, surface: &Surface) -> Result<(), Refusal> {
    let Some(hold) = &surface.hold else {
        return Ok(());
    };
    Err(Refusal::new("fault-held")
        .text("tag", tag)
        .text("who", hold.mark.who.map_or_else(String::new, person))
        .text("since", day_time(hold.mark.at)))
}

/// Refuses whatever would touch a held surface, in one place for all commands and taps.
pub(super) fn allows(asked: &Asked<'_>, request: &Request) -> Result<(), Refusal> {
    match touches(request) {
        // A surface that is not found is said to be so by the command itself.
        Some(typed) => asked
            .surface(typed)
            .map_or(Ok(()), |(tag, surface)| not_held(tag, surface)),
        None => Ok(()),
    }
}

/// The surface, as typed, that a question would clean, reset, move, test, bring back or retire. The resident may always
/// get off, be checked and be called for; so releases, checks and alarms are not among them.
fn touches(request: &Request) -> Option<&str> {
    match request {
        Request::Filter { surface, .. }
        | Request::Place { surface, .. }
        | Request::Setting {
            surface,
            set: Some(_),
        }
        | Request::Move { surface, .. }
        | Request::Swap { surface, .. }
        | Request::Static { surface, .. }
        | Request::Return { surface }
        | Request::Service { surface, .. }
        | Request::RentalStop { surface }
        | Request::FleetRetire { surface } => Some(surface),
        Request::Clean(typed) => Some(&typed.surface),
        Request::Tap(tap) => match tap {
            Tap::TurnFilter { tag, .. } | Tap::TurnFunction { tag, .. } => Some(tag.as_str()),
            Tap::Turn(turn) => match turn {
                Turn::Dried { tag, .. }
                | Turn::Inspected { tag, .. }
                | Turn::PartsWhole { tag, .. }
                | Turn::PartDamaged { tag, .. }
                | Turn::PartFault { tag, .. }
                | Turn::NotRunning { tag, .. }
                | Turn::Repaired { tag }
                | Turn::RepairNote { tag }
                | Turn::RepairNoted { tag, .. }
                | Turn::Tested { tag, .. } => Some(tag.as_str()),
                Turn::Reported { .. }
                | Turn::LetGo { .. }
                | Turn::LetGoSure { .. }
                | Turn::HoldSure { .. }
                | Turn::RecallAll { .. } => None,
            },
            Tap::Plain(Plain::Confirm { echo, entry } | Plain::Pick { echo, entry }) => match entry
            {
                Spoken::Filter { .. }
                | Spoken::Clean { .. }
                | Spoken::Static { .. }
                | Spoken::Set { .. } => Some(echo.tag.as_str()),
                Spoken::Check(_) | Spoken::Alarm { .. } | Spoken::Found { .. } | Spoken::Cpr | Spoken::Away { .. } => None,
            },
            Tap::Bedside(tap) => touched_at_the_bed(tap),
            Tap::House(
                House::ArrivedWell { rental }
                | House::ArrivedBadly { rental }
                | House::Collected { rental },
            ) => Some(rental.tag.as_str()),
            Tap::House(House::Waive { tag, .. } | House::Retire { tag, .. })
            | Tap::Power(Power::Place { tag, .. })
            | Tap::Work(
                Work::Filter { tag, .. }
                | Work::Served { tag, .. }
                | Work::Serve { tag, .. }
                | Work::ServeTyped { tag, .. }
                | Work::Cleaned { tag, .. }
                | Work::Rinsed { tag, .. }
                | Work::Return { tag }
                | Work::Stop { tag }
                | Work::Swap { new: tag, .. }
                | Work::SwapSure { new: tag, .. },
            ) => Some(tag.as_str()),
            // Unwrapped before it comes here.
            Tap::Work(
                Work::Open { .. }
                | Work::Pick { .. }
                | Work::Next { .. }
                | Work::All { .. }
                | Work::In { .. }
                | Work::Cycle { .. }
                | Work::Cycles
                | Work::Outlet { .. }
                | Work::OutletBad { .. }
                | Work::Zones { .. }
                | Work::ZonesTyped { .. },
            )
            // What is held is out of service, and so not looked at for this.
            | Tap::Loft(_)
            | Tap::Duty(_) => None,
            Tap::House(
                House::Acted { .. }
                // A held surface is not retired.
                | House::BringBack { .. }
                | House::BroughtBack { .. }
                | House::Confirm { .. }
                | House::Confirmed { .. }
                | House::NewItem { .. },
            )
            | Tap::StartRound { .. }
            | Tap::Air { .. }
            | Tap::AirAgain { .. }
            | Tap::TypeAir { .. }
            | Tap::AirTyped { .. }
            | Tap::Skip { .. }
            | Tap::Take { .. }
            | Tap::Safe { .. }
            | Tap::CannotGo { .. }
            | Tap::NotSafe { .. }
            | Tap::WhichBed { .. }
            | Tap::Fixed { .. }
            | Tap::Caused { .. }
            | Tap::FixedAir { .. }
            | Tap::TypeFixedAir { .. }
            | Tap::FixedAirTyped { .. }
            | Tap::NameAlarm { .. }
            | Tap::Pull { .. }
            | Tap::Astray(_)
            | Tap::TakeBack { .. }
            | Tap::Pick { .. }
            | Tap::Power(
                Power::Take { .. }
                | Power::Seen { .. }
                | Power::Later { .. }
                | Power::Again { .. }
                | Power::Mended { .. }
                | Power::Back { .. }
                | Power::Beds { .. }
                | Power::Catchup { .. },
            )
            | Tap::Setting(_)
            | Tap::Staff(_)
            | Tap::Entry(_)
            | Tap::Sum(_)
            | Tap::Report(_)
            | Tap::Plain(
                Plain::Together { .. } | Plain::Outage { .. } | Plain::Look { .. } | Plain::Sign { .. } | Plain::Start { .. } | Plain::Card { .. },
            ) => None,
        },
        Request::HandCheck(_)
        | Request::Round { .. }
        | Request::Alarm { .. }
        | Request::Due { .. }
        | Request::Duty { .. }
        | Request::Handover { .. }
        | Request::FacilityPhone { .. }
        | Request::Surface { .. }
        // Paper only: the surface stays untouched.
        | Request::Amend(_)
        | Request::Timeline { .. }
        | Request::Report { .. }
        | Request::Release { .. }
        | Request::Setting { set: None, .. }
        | Request::Leave { .. }
        | Request::Cpr { .. }
        | Request::Mark { .. }
        | Request::Pull { .. }
        | Request::Hold { .. }
        | Request::Recall { .. }
        | Request::Zones { .. }
        | Request::Outage { .. }
        | Request::Catchup { .. }
        | Request::Match { .. }
        | Request::Stock { .. }
        | Request::RentalStart { .. }
        | Request::RentalList
        | Request::FacilityProduct { .. }
        | Request::FacilityStorage { .. }
        | Request::FacilityFrame(_)
        | Request::FleetAdd(_)
        | Request::FleetImport { .. }
        | Request::FleetImported { .. }
        | Request::FleetList
        | Request::FleetCost(_)
        | Request::FleetSize(_)
        | Request::Mix(_)
        | Request::FleetExport { .. }
        | Request::FacilitySetup(_)
        | Request::FacilityUnit { .. }
        | Request::FacilitySchedule { .. }
        | Request::FacilityLadder(_)
        | Request::FacilityPolicy { .. }
        | Request::FacilityShow
        | Request::Agency { .. }
        | Request::SignOff { .. }
        | Request::SignOffs
        | Request::Team { .. }
        | Request::Help { .. }
        | Request::LookFirst { .. }
        | Request::Mention { .. } => None,
    }
}

/// `/hold`.
pub(super) fn hold(
    asked: &Asked<'_>,
    typed: &str,
    known: Option<&str>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    super::clean::in_register(tag, surface)?;
    let known = known.map(|day| asked.day_lately(day)).transpose()?;
    let today = asked.facility.zone.local(asked.now).date();
    if let Some(day) = known.filter(|day| *day > today) {
        return Err(Refusal::new("fault-known-ahead").text("typed", day));
    }
    if let Some(hold) = &surface.hold {
        return Ok(
            match known.filter(|day| *day != counted_from(asked.facility, hold)) {
                Some(day) => known_since(asked, tag, surface, hold, day),
                None => Decision::private(card(asked, tag, surface, hold)),
            },
        );
    }
    // A day so long ago may be a slip, and a surface is pulled from under somebody for it.
    if let Some(day) = known.filter(|day| today > nth_work_day_after(*day, REPORT_WORK_DAYS)) {
        return Ok(ask_first(asked, tag, surface, day));
    }
    Ok(hold_it(asked, tag, surface, known))
}

/// Whether the day is right, before anything is recorded.
fn ask_first(asked: &Asked<'_>, tag: &Tag, surface: &Surface, day: NaiveDate) -> Decision {
    let lang = asked.lang;
    let today = asked.facility.zone.local(asked.now).date();
    let mut lines = vec![say!(
        lang,
        "hold-ask",
        surface = asked.with_bed(tag),
        day = day.to_string(),
        count = (today - day).num_days()
    )];
    if surface.bed().is_some() {
        lines.push(say!(lang, "hold-ask-under"));
    }
    let tap = Tap::Turn(Turn::HoldSure {
        tag: tag.clone(),
        known: day,
    });
    let sure = button(lang, "button-hold-sure", Look::Caution, &tap);
    Decision::private(Message::text(lines.join("\n")).buttons(vec![sure]))
}

/// "Yes, hold it": the day is right.
pub(super) fn sure(asked: &Asked<'_>, tag: &Tag, known: NaiveDate) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    super::clean::in_register(tag, surface)?;
    if known > asked.facility.zone.local(asked.now).date() {
        return Err(Refusal::new("fault-stale-tap"));
    }
    Ok(match &surface.hold {
        Some(hold) => Decision::private(card(asked, tag, surface, hold)),
        None => hold_it(asked, tag, surface, Some(known)),
    })
}

/// The facts of a hold, and what comes next.
fn hold_it(asked: &Asked<'_>, tag: &Tag, surface: &Surface, known: Option<NaiveDate>) -> Decision {
    let mut draft = asked.draft();
    let out_already = matches!(surface.life, Life::OutOfService { .. });
    if !out_already {
        out::take_out(asked, &mut draft, tag, surface, Fault::Inquiry, None);
    }
    let no = draft.fact(Body::Held {
        tag: tag.clone(),
        known,
    });
    if out_already {
        out::tell_held(asked, &mut draft, tag, surface);
    }
    let today = asked.facility.zone.local(asked.now).date();
    let began = known.unwrap_or(today);
    draft.fact(Body::Booked {
        on: On::Surface(tag.clone()),
        call: Call::Hold,
        due: first_call(asked, began),
    });
    let lang = asked.lang;
    let mut lines = vec![say!(lang, "held", surface = asked.with_bed(tag))];
    if surface.bed().is_some() {
        lines.push(say!(lang, "held-under"));
    }
    lines.push(say!(lang, "held-steps"));
    let by = nth_work_day_after(began, REPORT_WORK_DAYS);
    lines.push(report_words(lang, began, by, today));
    // Whoever lies on it needs another first of all.
    let message = spare::offered(asked, Message::text(lines.join("\n")), tag, surface);
    let buttons = vec![reported_button(lang, tag, no)];
    draft.private(message.buttons(buttons))
}

/// The days to report are counted from another day: the hold itself is as old as it was.
fn known_since(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    hold: &Hold,
    day: NaiveDate,
) -> Decision {
    let mut draft = asked.draft();
    draft.fact(Body::Held {
        tag: tag.clone(),
        known: Some(day),
    });
    let on = On::Surface(tag.clone());
    let booked = asked.state.booking(&on, Call::Hold);
    // Where it was brought up already it comes again by itself.
    let due = first_call(asked, day);
    if booked.is_some_and(|booked| booked.step == 0 && booked.next.is_some_and(|next| due < next)) {
        let call = Call::Hold;
        draft.fact(Body::Booked { on, call, due });
    }
    let after = Hold {
        known: Some(day),
        ..*hold
    };
    draft.private(card(asked, tag, surface, &after))
}

/// When the report is first brought up. What was known long ago is at the next moment that is not yet past.
fn first_call(asked: &Asked<'_>, began: NaiveDate) -> DateTime<Utc> {
    let today = asked.facility.zone.local(asked.now).date();
    let due = remind(asked.state, asked.facility, began);
    if due > asked.now {
        due
    } else {
        remind_on(asked.state, asked.facility, nth_work_day_after(today, 1))
    }
}

/// The moment of the first reminder: when the office opens on the work day of the home's policy.
fn remind(state: &State, facility: &Facility, began: NaiveDate) -> DateTime<Utc> {
    let days = state.policies.get(Name::HoldRemind);
    remind_on(
        state,
        facility,
        nth_work_day_after(began, u16::try_from(days).unwrap_or(1)),
    )
}

/// When the office opens on this day.
fn remind_on(state: &State, facility: &Facility, day: NaiveDate) -> DateTime<Utc> {
    let opens = TimeDelta::minutes(state.policies.get(Name::OfficeFrom));
    facility.zone.instant(day.and_time(NaiveTime::MIN) + opens)
}

/// What reports are made by when: 21 CFR 803.30, figures from memory (see `rules::work_days`).
fn report_words(lang: Lang, began: NaiveDate, by: NaiveDate, today: NaiveDate) -> String {
    let key = if today > by {
        "held-report-over"
    } else {
        "held-report"
    };
    say!(
        lang,
        key,
        days = i64::from(REPORT_WORK_DAYS),
        from = began.to_string(),
        by = by.to_string()
    )
}

/// The day from which the days to report are counted: that on which somebody of the home first knew.
fn counted_from(facility: &Facility, hold: &Hold) -> NaiveDate {
    hold.known
        .unwrap_or_else(|| facility.zone.local(hold.mark.at).date())
}

fn reported_button(lang: Lang, tag: &Tag, no: RecordNo) -> Button {
    let tap = Tap::Turn(Turn::Reported {
        tag: tag.clone(),
        hold: no,
    });
    button(lang, "button-reported", Look::Good, &tap)
}

/// A surface that is held already.
fn card(asked: &Asked<'_>, tag: &Tag, surface: &Surface, hold: &Hold) -> Message {
    let lang = asked.lang;
    let mut lines = vec![say!(
        lang,
        "hold-head",
        surface = asked.with_bed(tag),
        who = hold.mark.who.map_or_else(String::new, person),
        since = day_time(hold.mark.at)
    )];
    if surface.bed().is_some() {
        lines.push(say!(lang, "held-under"));
    }
    let mut buttons = Vec::new();
    match hold.reported {
        Some(mark) => lines.push(say!(
            lang,
            "hold-reported",
            who = mark.who.map_or_else(String::new, person),
            at = day_time(mark.at)
        )),
        None => {
            let began = counted_from(asked.facility, hold);
            let by = nth_work_day_after(began, REPORT_WORK_DAYS);
            let today = asked.facility.zone.local(asked.now).date();
            lines.push(report_words(lang, began, by, today));
            buttons.push(reported_button(lang, tag, hold.no));
        }
    }
    let tap = Tap::Turn(Turn::LetGo {
        tag: tag.clone(),
        hold: hold.no,
    });
    buttons.push(button(lang, "button-let-go", Look::Caution, &tap));
    let message = spare::offered(asked, Message::text(lines.join("\n")), tag, surface);
    message.buttons(buttons)
}

/// The hold that a card was about.
fn same<'a>(
    asked: &Asked<'a>,
    tag: &Tag,
    no: RecordNo,
) -> Result<(&'a Tag, &'a Surface, &'a Hold), Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    match &surface.hold {
        Some(hold) if hold.no == no => Ok((tag, surface, hold)),
        Some(_) | None => Err(Refusal::new("fault-hold-over").text("tag", tag)),
    }
}

/// "Reported": nobody is reminded any more.
pub(super) fn reported(asked: &Asked<'_>, tag: &Tag, no: RecordNo) -> Result<Decision, Refusal> {
    let (tag, surface, hold) = same(asked, tag, no)?;
    let lang = asked.lang;
    if hold.reported.is_some() {
        return Ok(Decision::private(card(asked, tag, surface, hold)));
    }
    let mut draft = asked.draft();
    draft.fact(Body::HoldReported { tag: tag.clone() });
    settle(asked, &mut draft, tag);
    let text = say!(lang, "hold-reported-now", tag = tag.as_str());
    Ok(draft.private(Message::text(text)))
}

/// "Release the hold": are you sure?
pub(super) fn let_go(asked: &Asked<'_>, tag: &Tag, no: RecordNo) -> Result<Decision, Refusal> {
    let (tag, _, hold) = same(asked, tag, no)?;
    let lang = asked.lang;
    let mut lines = vec![say!(lang, "hold-sure", tag = tag.as_str())];
    if hold.reported.is_none() {
        lines.push(say!(lang, "hold-sure-unreported"));
    }
    let tap = Tap::Turn(Turn::LetGoSure {
        tag: tag.clone(),
        hold: no,
    });
    let message = Message::text(lines.join("\n")).buttons(vec![button(
        lang,
        "button-let-go-sure",
        Look::Caution,
        &tap,
    )]);
    Ok(Decision {
        answer: Some(Answer::Replace(message)),
        ..Decision::default()
    })
}

/// Yes: the hold ends, and the surface stays out of service.
pub(super) fn let_go_sure(asked: &Asked<'_>, tag: &Tag, no: RecordNo) -> Result<Decision, Refusal> {
    let (tag, _, _) = same(asked, tag, no)?;
    let mut draft = asked.draft();
    draft.fact(Body::HoldReleased { tag: tag.clone() });
    settle(asked, &mut draft, tag);
    let text = say!(asked.lang, "hold-released", tag = tag.as_str());
    Ok(draft.answer(Answer::Replace(Message::text(text))))
}

/// Nobody is called for it any more, and the newest call says so.
fn settle(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag) {
    let on = On::Surface(tag.clone());
    let call = Call::Hold;
    let Some(booking) = asked.state.booking(&on, call) else {
        return;
    };
    if let Some(post) = calls::newest_post(call, booking) {
        let lang = asked.state.lang();
        let text = say!(
            lang,
            "post-hold-settled",
            surface = in_post(asked.state, lang, tag),
            who = person(asked.ask.who)
        );
        let key = format!("{post}:done:{}", draft.first());
        draft.edit(
            key,
            post,
            asked.facility.supervisor_channel,
            Message::text(text),
        );
    }
    draft.fact(Body::Unbooked { on, call });
}

/// What the call about a hold says: the work days to report that are left.
pub(super) fn notice(
    state: &State,
    facility: &Facility,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Option<Notice> {
    let hold = state.surfaces.get(tag)?.hold.as_ref()?;
    let lang = state.lang();
    let today = facility.zone.local(now).date();
    let began = counted_from(facility, hold);
    let by = nth_work_day_after(began, REPORT_WORK_DAYS);
    let surface = in_post(state, lang, tag);
    let text = if today > by {
        say!(
            lang,
            "post-hold-over",
            surface = surface,
            by = by.to_string()
        )
    } else {
        say!(
            lang,
            "post-hold",
            surface = surface,
            left = work_days_between(today, by),
            by = by.to_string()
        )
    };
    let message = Message::text(text).buttons(vec![reported_button(lang, tag, hold.no)]);
    Some(Notice {
        channel: facility.supervisor_channel,
        message,
    })
}

/// The surface that a tap at the bed would set or change. That the emergency is over, or that the resident is away or
/// back, changes nothing about it.
fn touched_at_the_bed(tap: &Bedside) -> Option<&str> {
    match tap {
        Bedside::Done { card, .. }
        | Bedside::FullAlready { card }
        | Bedside::Missed { card, .. }
        | Bedside::Mended { card, .. }
        | Bedside::Set { card, .. }
        | Bedside::Same { card }
        | Bedside::Shown { card, .. }
        | Bedside::TypeSetting { card }
        | Bedside::SettingTyped { card, .. }
        | Bedside::TypeMinutes { card }
        | Bedside::MinutesTyped { card, .. } => Some(card.tag.as_str()),
        Bedside::Alternating { begun } => Some(begun.tag.as_str()),
        Bedside::Steps { .. }
        | Bedside::CprOver { .. }
        | Bedside::Back { .. }
        | Bedside::Away { .. }
        | Bedside::Gone { .. } => None,
    }
}
