//! From a question to a decision. Decides what follows from what was asked; leaves reading the text to
//! `parse`, what the clock brings to `due`, and carrying it all out to `bot`.

mod after_shift;
mod agency;
mod alarm;
mod amend;
mod beds;
mod catchup;
mod check;
mod clean;
mod complete;
mod cpr;
pub(crate) mod cycle;
mod draft;
mod duty;
mod entry;
mod facility;
mod filter;
mod fleet;
mod fleet_cost;
mod fleet_size;
mod frame;
mod handover;
mod help;
mod hold;
mod items;
mod leave;
mod loft;
mod look;
mod look_first;
pub(crate) mod matching;
mod mix;
mod moves;
mod nurse;
mod out;
pub(crate) mod outage;
mod pace;
mod paper;
mod papers;
mod pictures;
mod place;
mod plain;
mod primer;
mod recall;
mod rental;
mod report;
mod round;
mod second_check;
mod set_up;
mod set_up_calls;
mod set_up_card;
mod setting;
mod settings;
mod shelf;
mod sign_off;
mod spare;
mod staff;
mod static_mode;
mod stock;
mod take_back;
mod timeline;
mod turnover;
mod upkeep;
mod use_on_record;
mod wall;
pub(crate) mod which_bed;
mod wish;
mod work;
mod zones;

pub(crate) use alarm::nobody as alarm_nobody;
pub(crate) use alarm::{
    card_key as alarm_card_key, channel as alarm_channel, edit as alarm_edit, edit_calls,
    edit_newest_call, minutes_open,
};
pub(crate) use check::{air_card, escaped, quoted, show_air};
pub use draft::in_public;
pub(crate) use draft::{
    Asked, Draft, button, clock_time, day_time, in_post, person, span, state_after, unit_channel,
};
pub(crate) use duty::{had_duty_line, have_button, on_duty_line, role_word, whom_to_phone};
pub use help::most as help_most;
pub(crate) use loft::losing;
pub(crate) use look::start_round;
pub(crate) use papers::{maintenance_day, names as paper_names, still_missing, test_day};
pub(crate) use rental::idle_since;
pub(crate) use second_check::{lines_for_handover, open as second_checks};
pub(crate) use sign_off::due_line as renewals_due;
pub(crate) use stock::order_line;
pub(crate) use wish::lines as wish_lines;
pub(crate) use work::for_role;
pub(crate) use zones::with_acts;

use chrono::{DateTime, Utc};

use crate::choice::{Call, YesNo};
use crate::decision::Decision;
use crate::ids::Channel;
use crate::message::{Answer, Message};
use crate::parse;
use crate::past::{Past, Read, Wanted};
use crate::record::On;
use crate::refusal::Refusal;
use crate::request::{Request, Right};
use crate::role::{authorize, let_in_over, shift_over};
use crate::rules::policy::Name;
use crate::said::{Ask, Said, Value};
use crate::state::{Booking, Facility, State};
use crate::tap::{Power, Setting, Staff, Sum, Tap};

/// The most parts of the log that one answer reads, one after the other: an entry, the surfaces that it was and is about,
/// and what was corrected to be about these in the same commit.
const PARTS_MOST: usize = 32;

/// Somebody said something: what follows from it, where nothing of the log is at hand. Refusals are answers too, to the
/// asker alone. A question about what was entered before comes back with what it [wants](Decision::wants).
pub fn answer(state: &State, ask: &Ask, said: &Said) -> Decision {
    answer_knowing(state, ask, said, &Past::default())
}

/// As [`answer`], by whoever has the log: `read` is asked for each part of it that is wanted, and only for those who
/// may have the answer.
///
/// # Errors
/// What `read` says; nothing was decided then.
pub fn answer_from<R: Into<Read>, E>(
    state: &State,
    ask: &Ask,
    said: &Said,
    mut read: impl FnMut(&Wanted) -> Result<R, E>,
) -> Result<Decision, E> {
    let mut past = Past::default();
    let mut decision = answer_knowing(state, ask, said, &past);
    for _ in 0..PARTS_MOST {
        let Some(wanted) = decision.wants.take() else {
            break;
        };
        let found = read(&wanted)?;
        past.put(wanted, found);
        decision = answer_knowing(state, ask, said, &past);
    }
    Ok(decision)
}

/// As [`answer`], with what was read of the log.
pub fn answer_knowing(state: &State, ask: &Ask, said: &Said, past: &Past) -> Decision {
    let said = &*said.without_unseen();
    if let Said::Completing {
        path,
        options,
        focused,
    } = said
    {
        return complete::suggest(state, ask, path, options, focused, past).map_or_else(
            Decision::wanting,
            |choices| Decision {
                answer: Some(Answer::Choices(choices)),
                ..Decision::default()
            },
        );
    }
    if let Some(line) = parse::carried(said) {
        return answer_knowing(state, ask, &line, past);
    }
    parse::request(said)
        .and_then(|request| unit_said(state, said).map(|()| request))
        .and_then(|request| decide(state, ask, said, request, past))
        .unwrap_or_else(|no| {
            let no = typed(said).into_iter().fold(no, Refusal::of_command);
            Decision::private(Message::text(no.say(ask.lang)))
        })
}

/// The command that was typed; none where something was tapped, sent or written.
fn typed(said: &Said) -> Option<&str> {
    match said {
        Said::Command { path, .. } | Said::Fetched { path, .. } => Some(path),
        Said::Completing { .. } | Said::Tap { .. } | Said::Form { .. } | Said::Mention { .. } => {
            None
        }
    }
}

/// A reading that was typed says its unit, where the home wants that.
fn unit_said(state: &State, said: &Said) -> Result<(), Refusal> {
    let typed = match said {
        Said::Command { options, .. } => match options.get("air") {
            Some(Value::Text(text)) => Some(text),
            Some(_) | None => None,
        },
        Said::Form { fields, .. } => fields.get("air"),
        Said::Tap { .. }
        | Said::Completing { .. }
        | Said::Mention { .. }
        | Said::Fetched { .. } => None,
    };
    typed.map_or(Ok(()), |text| parse::air_unit_said(asks_unit(state), text))
}

/// Whether the home wants to be asked about a bare number of air.
fn asks_unit(state: &State) -> bool {
    state.policies.get(Name::AirUnit) == 1
}

fn decide(
    state: &State,
    ask: &Ask,
    said: &Said,
    request: Request,
    past: &Past,
) -> Result<Decision, Refusal> {
    let Some(let_in) = primer::unread(state, ask) else {
        return known(state, ask, request, past);
    };
    let Some(facility) = &state.facility else {
        return known(state, ask, request, past);
    };
    // Somebody new reads one screen first; an alarm is raised before that.
    if matches!(request, Request::Tap(Tap::Staff(Staff::Read { .. }))) {
        return known(state, ask, request, past);
    }
    let passes = primer::passes(&request);
    match known(state, ask, request, past) {
        Err(no) if passes => Err(no),
        Ok(mut decision) if passes || primer::raises(&decision) => {
            if primer::raises(&decision) {
                primer::below(state, facility, ask, let_in, &mut decision);
            }
            Ok(decision)
        }
        Ok(_) | Err(_) => Ok(primer::shown(state, facility, ask, said, let_in)),
    }
}

/// What somebody asked who knows their way here.
fn known(state: &State, ask: &Ask, request: Request, past: &Past) -> Result<Decision, Refusal> {
    // Help is for everybody, and with the set-up the only question that has an answer before it.
    if let Request::Help { topic } = &request {
        return Ok(help::help(state, ask, topic.as_deref()));
    }
    let (list, request) = work::of_list(request);
    let role = match (authorize(state, ask, right(&request)), &request) {
        (Ok(role), _) => role,
        (Err(no), Request::Mention { text, .. }) => {
            return plain::mention_unknown(state, ask, text, past, no);
        }
        (Err(no), _) => return Err(no),
    };
    let over = shift_over(state, ask);
    if let Some(let_in) = over.filter(|_| !after_shift::may(&request)) {
        return Err(let_in_over(let_in, ask.at));
    }
    if let Request::FacilitySetup(setup) = &request {
        return facility::set_up::set_up(state, ask, role, setup, past);
    }
    let asked = Asked::new(state, ask, role, past)?;
    hold::allows(&asked, &request)?;
    let mut decision = asked_for(&asked, request)?;
    staff::after(&asked, &mut decision);
    if let Some(let_in) = over {
        after_shift::answered(&asked, let_in, &mut decision);
    }
    Ok(match list {
        Some(list) => work::go_on(&asked, &list, decision),
        None => decision,
    })
}

/// What follows from a question of somebody who may.
fn asked_for(asked: &Asked<'_>, request: Request) -> Result<Decision, Refusal> {
    match request {
        Request::HandCheck(typed) => check::hand_check(asked, typed),
        Request::Round { unit } => round::round(asked, unit.as_deref()),
        Request::Alarm {
            surface,
            kind,
            note,
        } => alarm::raise(asked, &surface, kind, note),
        Request::Filter {
            surface,
            finding,
            action,
        } => filter::filter(asked, &surface, finding, action),
        Request::Clean(typed) => clean::clean(asked, typed),
        Request::Due { unit } => look::due(asked, unit.as_deref()),
        Request::Surface { surface } => look::surface(asked, &surface),
        Request::Place { surface, bed } => place::place(asked, &surface, &bed),
        Request::Release {
            surface,
            reason,
            clean_last,
        } => place::release(asked, &surface, reason, clean_last),
        Request::Setting { surface, set } => setting::setting(asked, &surface, set),
        Request::Move { surface, bed } => moves::move_to(asked, &surface, &bed),
        Request::Swap { bed, surface } => moves::swap(asked, &bed, &surface),
        Request::Leave { bed, until, why } => leave::leave(asked, &bed, &until, why),
        Request::Static { surface, until } => static_mode::static_mode(asked, &surface, &until),
        Request::Cpr { surface } => cpr::cpr(asked, &surface),
        Request::Mark {
            surface,
            clean_last,
        } => shelf::mark(asked, &surface, clean_last),
        Request::Pull {
            surface,
            fault,
            note,
        } => out::pull(asked, &surface, fault, note),
        Request::Return { surface } => out::return_it(asked, &surface),
        Request::Hold { surface, known } => hold::hold(asked, &surface, known.as_deref()),
        Request::Recall { profile, lot } => recall::recall(asked, &profile, lot.as_deref()),
        Request::Zones { bed, zones, angle4 } => {
            zones::zones(asked, &bed, &zones, angle4.as_deref())
        }
        Request::Service {
            surface,
            work,
            outcome,
            on,
            next,
            note,
        } => upkeep::service(
            asked,
            &surface,
            work,
            outcome,
            on.as_deref(),
            next.as_deref(),
            note,
        ),
        Request::Outage { unit } => outage::outage(asked, unit.as_deref()),
        Request::Catchup { unit } => catchup::open(asked, unit.as_deref()),
        Request::Match {
            kind,
            width,
            capacity,
            bed,
        } => matching::find(asked, kind, width.as_deref(), capacity, bed.as_deref()),
        Request::Stock { item, count } => stock::stock(asked, item.as_deref(), count),
        Request::RentalStart {
            surface,
            rate,
            reference,
        } => rental::start(asked, &surface, &rate, reference),
        Request::RentalStop { surface } => rental::stop(asked, &surface),
        Request::RentalList => rental::list(asked),
        Request::Amend(typed) => amend::amend(asked, *typed),
        Request::Timeline { what } => timeline::timeline(asked, &what),
        Request::Report { period, from, to } => {
            report::report(asked, period.as_deref(), from.as_deref(), to.as_deref())
        }
        Request::FacilityProduct {
            name,
            method,
            contact,
            sporicidal,
        } => shelf::product(asked, &name, method, contact, sporicidal),
        Request::FacilityStorage { dirty, clean } => shelf::storage(asked, &dirty, &clean),
        Request::FacilityFrame(typed) => frame::frame(asked, &typed),
        Request::FleetAdd(typed) => fleet::add(asked, typed),
        Request::FleetImport { what: _, file } => fleet::fetch(&file),
        Request::FleetImported { what, file } => fleet::import(asked, what, file),
        Request::FleetList => fleet::list(asked),
        Request::Mix(mixing) => mix::mix(asked, mixing),
        Request::FleetCost(costing) => fleet_cost::cost(asked, costing),
        Request::FleetSize(sizing) => fleet_size::size(asked, sizing),
        Request::FleetExport { what } => fleet::export(asked, what),
        Request::FleetRetire { surface } => fleet::retire(asked, &surface),
        Request::FacilityUnit {
            name,
            beds,
            channel,
            take,
        } => match beds {
            Some(beds) => facility::unit(asked, &name, &beds, channel, take == Some(YesNo::Yes)),
            None => facility::drop_unit(asked, &name),
        },
        Request::FacilitySchedule { what, when, unit } => {
            facility::schedule(asked, what, when.as_ref(), unit.as_deref())
        }
        Request::FacilityLadder(ladder) => Ok(facility::ladder(asked, ladder)),
        Request::FacilityPolicy { name, value } => facility::policy(asked, &name, value.as_deref()),
        Request::Duty { unit, until } => duty::duty(asked, unit.as_deref(), until.as_deref()),
        Request::Handover { unit } => handover::handover(asked, unit.as_deref()),
        Request::FacilityPhone { words } => duty::phone(asked, words),
        Request::FacilityShow => Ok(settings::show(asked)),
        Request::Agency {
            person,
            chat_roles,
            stand,
            until,
            unit,
        } => agency::agency(asked, (person, &chat_roles), stand, &until, unit.as_deref()),
        Request::SignOff {
            person,
            task,
            profile,
            renew,
        } => sign_off::sign_off(asked, person, task, &profile, renew.as_deref()),
        Request::SignOffs => Ok(sign_off::all(asked, 0)),
        Request::Team { person } => Ok(sign_off::team(asked, person)),
        Request::Mention { text, files } => plain::mention(asked, &text, files),
        Request::LookFirst { surface, sign } => {
            look_first::look_first(asked, surface.as_deref(), sign)
        }
        Request::Tap(tap) => tapped(asked, tap),
        Request::FacilitySetup(_) | Request::Help { .. } => {
            Err(Refusal::new("fault-unknown-command"))
        }
    }
}

/// What a promised call says, and where.
pub(crate) struct Notice {
    pub channel: Channel,
    pub message: Message,
}

/// What a promised call says now; nothing where there is nothing more to say. What else the moment brings about
/// is added to the draft.
pub(crate) fn notice(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    call: Call,
    on: &On,
    now: DateTime<Utc>,
) -> Option<Notice> {
    match (call, on) {
        (Call::Full | Call::Plug | Call::Steps, On::Surface(tag)) => {
            set_up_calls::notice(state, facility, call, tag, now)
        }
        (Call::Steps, On::Unit(unit)) => set_up_calls::notice_of_unit(state, facility, unit),
        (Call::Static | Call::Leave | Call::Cpr, On::Surface(tag)) => {
            moves::notice(state, facility, call, tag, now)
        }
        (Call::Contact | Call::Turnover, On::Surface(tag)) => {
            turnover::notice(state, facility, call, tag, now)
        }
        (Call::Hold, On::Surface(tag)) => hold::notice(state, facility, tag, now),
        (Call::Recall, On::Recall(no)) => recall::notice(state, facility, *no),
        (Call::Idle | Call::Pickup, On::Surface(tag)) => {
            rental::notice(state, facility, call, tag, now)
        }
        (Call::Handover, On::Unit(unit)) => handover::notice(state, facility, unit),
        (Call::Roll, On::Outage(no)) => {
            outage::roll_again(state, facility, draft, *no, now);
            None
        }
        (Call::Agree, On::Wish(no)) => wish::waits_still(state, facility, draft, *no, now),
        // What is booked about one kind of thing is never about another.
        (
            Call::Full
            | Call::Plug
            | Call::Static
            | Call::Leave
            | Call::Cpr
            | Call::Contact
            | Call::Turnover
            | Call::Hold
            | Call::Idle
            | Call::Pickup,
            On::Recall(_) | On::Outage(_) | On::Unit(_) | On::Wish(_),
        )
        | (Call::Steps, On::Recall(_) | On::Outage(_) | On::Wish(_))
        | (Call::Recall, On::Surface(_) | On::Outage(_) | On::Unit(_) | On::Wish(_))
        | (Call::Roll, On::Surface(_) | On::Recall(_) | On::Unit(_) | On::Wish(_))
        | (Call::Agree, On::Surface(_) | On::Recall(_) | On::Outage(_) | On::Unit(_))
        | (Call::Handover, On::Surface(_) | On::Recall(_) | On::Outage(_) | On::Wish(_)) => None,
    }
}

/// What else is called for by the post about this.
pub(crate) fn together<'a>(
    state: &'a State,
    call: Call,
    on: &On,
    now: DateTime<Utc>,
) -> Vec<(&'a On, &'a Booking)> {
    match (call, on) {
        (Call::Turnover, On::Surface(tag)) => turnover::together(state, tag, now),
        _ => Vec::new(),
    }
}

fn tapped(asked: &Asked<'_>, tap: Tap) -> Result<Decision, Refusal> {
    match tap {
        Tap::StartRound { unit } => round::round(asked, Some(unit.as_str())),
        Tap::Air { card, air } => check::tapped(asked, &card, air),
        Tap::AirAgain { card, air } => check::tapped_again(asked, &card, air),
        Tap::TypeAir { card } => check::type_it(asked, card),
        Tap::AirTyped { card, air, note } => check::typed(asked, &card, &air, note),
        Tap::Skip { card } => round::skip(asked, &card),
        Tap::Take { alarm } => alarm::take(asked, alarm),
        Tap::Safe { alarm } => alarm::safe(asked, alarm),
        Tap::CannotGo { alarm } => alarm::way_back::cannot_go(asked, alarm),
        Tap::NotSafe { alarm } => alarm::way_back::not_safe(asked, alarm),
        Tap::WhichBed { tag } => which_bed::of(asked, &tag),
        Tap::Fixed { alarm } => alarm::fixed(asked, alarm),
        Tap::Caused { alarm, cause } => alarm::caused(asked, alarm, cause),
        Tap::FixedAir { alarm, cause, air } => alarm::fixed_air(asked, alarm, cause, air, None),
        Tap::TypeFixedAir { alarm, cause } => alarm::type_it(asked, alarm, cause),
        Tap::FixedAirTyped {
            alarm,
            cause,
            air,
            note,
        } => alarm::fixed_typed(asked, alarm, cause, &air, note),
        Tap::NameAlarm { alarm, kind } => alarm::name(asked, alarm, kind),
        Tap::Pull { alarm } => alarm::pull(asked, alarm),
        Tap::Astray(tap) => alarm::nobody::tapped(asked, &tap),
        Tap::TakeBack { first, tag, then } => take_back::take_back(asked, first, &tag, &then),
        Tap::TurnFilter { tag, of, finding } => filter::turn_filter(asked, &tag, of, finding),
        Tap::TurnFunction { tag, of } => turnover::function(asked, &tag, of),
        Tap::Pick { tag } => items::pick(asked, &tag),
        Tap::Bedside(tap) => set_up::tapped(asked, tap),
        Tap::Turn(tap) => out::tapped(asked, tap),
        Tap::House(tap) => beds::tapped(asked, tap),
        Tap::Power(tap) => power(asked, tap),
        Tap::Setting(tap) => settings(asked, &tap),
        Tap::Plain(tap) => plain::tapped(asked, tap),
        Tap::Staff(tap) => staff::tapped(asked, tap),
        Tap::Duty(tap) => duty::tapped(asked, tap),
        Tap::Work(tap) => work::tapped(asked, tap),
        Tap::Entry(tap) => entry::tapped(asked, tap),
        Tap::Loft(tap) => loft::tapped(asked, tap),
        Tap::Sum(Sum::Mix(mixing)) => mix::why(asked, mixing),
        Tap::Sum(Sum::MixSure(mixing)) => mix::recipe(asked, mixing),
        Tap::Sum(Sum::Cost(costing)) => fleet_cost::why(asked, costing),
        Tap::Sum(Sum::Size(sizing)) => fleet_size::why(asked, sizing),
        Tap::Report(tap) => report::tapped(asked, &tap),
    }
}

fn settings(asked: &Asked<'_>, tap: &Setting) -> Result<Decision, Refusal> {
    match tap {
        Setting::Agree { wish } => wish::agree(asked, *wish),
        Setting::Decline { wish } => wish::decline(asked, *wish),
        Setting::Withdraw { wish } => wish::withdraw(asked, *wish),
        Setting::Declined { wish, reason } => wish::declined(asked, *wish, reason.clone()),
        Setting::Page { page } => Ok(settings::page(asked, *page)),
        Setting::Topic { topic } => Ok(help::help(asked.state, asked.ask, Some(topic))),
    }
}

fn power(asked: &Asked<'_>, tap: Power) -> Result<Decision, Refusal> {
    match tap {
        Power::Take { outage } => outage::take(asked, outage),
        Power::Seen {
            outage,
            roll,
            tag,
            how,
        } => outage::seen(asked, outage, roll, &tag, how),
        Power::Later { outage, roll, tag } => outage::later(asked, outage, roll, &tag),
        Power::Again { outage, roll, tag } => outage::again(asked, outage, roll, &tag),
        Power::Mended {
            outage,
            roll,
            tag,
            how,
        } => outage::mended(asked, outage, roll, &tag, how),
        Power::Back { outage } => outage::back(asked, outage),
        Power::Beds { outage } => which_bed::of_outage(asked, outage),
        Power::Catchup { unit, text } => catchup::enter(asked, unit.as_ref(), &text),
        Power::Place { tag, bed } => place::place(asked, tag.as_str(), bed.as_str()),
    }
}

/// What one must be allowed to do for this. The only place that says so, whatever brought the question.
pub fn right(request: &Request) -> Right {
    match request {
        Request::HandCheck(_)
        | Request::Round { .. }
        | Request::Static { .. }
        | Request::Cpr { .. }
        | Request::Handover { .. }
        | Request::Catchup { .. } => Right::Check,
        Request::Alarm { .. } | Request::Outage { .. } => Right::RaiseAlarm,
        Request::Setting { .. } => Right::Setting,
        Request::Pull { .. } => Right::Pull,
        Request::Zones { .. } => Right::Gaps,
        Request::Stock { count: None, .. } => Right::ReadShelf,
        Request::Return { .. } | Request::Service { .. } | Request::Stock { .. } => Right::Maintain,
        // Who follows a recall may read it; pulling is its button's right.
        Request::Recall { .. } => Right::ReadRecalls,
        Request::Match { .. } => Right::Spares,
        Request::Hold { .. }
        | Request::RentalStart { .. }
        | Request::RentalStop { .. }
        | Request::Agency { .. }
        | Request::SignOff { .. }
        | Request::SignOffs
        | Request::Team { .. } => Right::Supervise,
        Request::RentalList | Request::Report { .. } => Right::ReadEvidence,
        Request::Amend(_) => Right::Amend,
        Request::FacilityFrame(_) => Right::Frames,
        Request::Filter { .. } | Request::Clean(_) | Request::Mix(_) => Right::Upkeep,
        Request::Due { .. }
        | Request::Surface { .. }
        | Request::Timeline { .. }
        | Request::Help { .. }
        | Request::LookFirst { .. }
        | Request::Mention { .. } => Right::Read,
        Request::Place { .. }
        | Request::Release { .. }
        | Request::Move { .. }
        | Request::Swap { .. }
        | Request::Leave { .. }
        | Request::Mark { .. } => Right::Place,
        Request::FleetAdd(_)
        | Request::FacilityProduct { .. }
        | Request::FacilityStorage { .. }
        | Request::FleetImport { .. }
        | Request::FleetImported { .. }
        | Request::FleetRetire { .. } => Right::ChangeFleet,
        Request::FleetList | Request::FleetExport { .. } => Right::ReadFleet,
        Request::FleetCost(_) | Request::FleetSize(_) => Right::Reckon,
        Request::FacilitySetup(_)
        | Request::FacilityUnit { .. }
        | Request::FacilitySchedule { .. } => Right::Settings,
        Request::FacilityLadder(_) | Request::FacilityPolicy { .. } => Right::Policy,
        Request::FacilityPhone { .. } => Right::ChangeFleet,
        Request::Duty { .. } => Right::Duty,
        Request::FacilityShow => Right::ReadSettings,
        Request::Tap(tap) => right_of_tap(tap),
    }
}

/// As [`right`], for a tap.
pub(crate) fn right_of_tap(tap: &Tap) -> Right {
    match tap {
        Tap::StartRound { .. }
        | Tap::Air { .. }
        | Tap::AirAgain { .. }
        | Tap::TypeAir { .. }
        | Tap::AirTyped { .. }
        | Tap::Skip { .. } => Right::Check,
        Tap::Take { .. }
        | Tap::Safe { .. }
        | Tap::CannotGo { .. }
        | Tap::NotSafe { .. }
        | Tap::Fixed { .. }
        | Tap::Caused { .. }
        | Tap::FixedAir { .. }
        | Tap::TypeFixedAir { .. }
        | Tap::FixedAirTyped { .. } => Right::AnswerAlarm,
        Tap::NameAlarm { .. } => Right::RaiseAlarm,
        Tap::Pull { .. } => Right::Pull,
        // What was taken back was done by the same person in their own right.
        Tap::TakeBack { .. } | Tap::Pick { .. } | Tap::WhichBed { .. } => Right::Read,
        Tap::TurnFilter { .. } | Tap::TurnFunction { .. } => Right::Upkeep,
        Tap::Astray(tap) => tap.right(),
        Tap::Bedside(tap) => tap.right(),
        Tap::Turn(tap) => tap.right(),
        Tap::House(tap) => tap.right(),
        Tap::Power(tap) => tap.right(),
        Tap::Duty(tap) => tap.right(),
        Tap::Work(tap) => tap.right(),
        Tap::Setting(tap) => tap.right(),
        Tap::Plain(tap) => tap.right(),
        Tap::Staff(tap) => tap.right(),
        Tap::Entry(tap) => tap.right(),
        Tap::Loft(tap) => tap.right(),
        Tap::Sum(tap) => tap.right(),
        Tap::Report(tap) => tap.right(),
    }
}
