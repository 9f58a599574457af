//! Rented surfaces: from arrival to pickup. Decides what they cost so far, what is asked when one comes and when one goes,
//! and who is reminded of those that stand idle.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

use super::Notice;
use super::alarm;
use super::draft::{Asked, Draft, button, day_time, in_post, private_fault, take_back};
use super::papers::day_of;
use super::upkeep::take_out;
use super::zones::replace;
use crate::choice::{Call, Outcome, Owned};
use crate::decision::Decision;
use crate::due::calls::remind_again;
use crate::ids::Tag;
use crate::message::{Answer, Button, Field, Form, Look, Message};
use crate::record::{AlarmEnd, Body, Fault, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::rules::guard;
use crate::rules::policy::Name;
use crate::rules::rent::{self, MoneyFault};
use crate::say;
use crate::state::{Facility, Life, Rental, State, Surface};
use crate::tap::{House, RentalCard, Tap};
use crate::words::Lang;

/// The longest number of a vendor, in characters.
const NUMBER_MAX: usize = 40;
/// The most surfaces that one list names.
const LINES_SHOWN: usize = 20;

/// `/rental start`.
pub(super) fn start(
    asked: &Asked<'_>,
    typed: &str,
    rate: &str,
    reference: Option<String>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    in_house(asked, tag, surface)?;
    if let Some(rental) = surface.rental.as_ref().filter(|rental| !off_rent(rental)) {
        let since = day_of(asked.state, rental.since);
        if rental.called.is_some() {
            return Err(Refusal::new("fault-rental-called")
                .text("tag", tag)
                .text("since", since));
        }
        return Err(Refusal::new("fault-rental-runs")
            .text("tag", tag)
            .text("since", since));
    }
    let cents = rent::parse_money(rate).map_err(money_fault)?;
    let reference = number(reference)?;
    let lang = asked.lang;
    let mut draft = asked.draft();
    draft.fact(Body::RentalStarted {
        tag: tag.clone(),
        daily_cents: cents,
        reference,
    });
    unbook(asked.state, &mut draft, tag, Call::Pickup);
    if surface.bed().is_none() {
        book_idle(asked.state, &mut draft, tag, asked.now);
    }
    let card = RentalCard {
        tag: tag.clone(),
        since: asked.now.timestamp() / 60,
    };
    let text = say!(
        lang,
        "rental-started",
        surface = asked.with_bed(tag),
        rate = asked.money(cents)
    );
    let back = take_back(lang, &draft, tag);
    let mut buttons = arrival_buttons(lang, &card);
    buttons.push(back);
    let check = say!(lang, "rental-arrival");
    Ok(draft.private(Message::text(format!("{text}\n{check}")).buttons(buttons)))
}

/// "Arrived as it should".
pub(super) fn arrived_well(asked: &Asked<'_>, card: &RentalCard) -> Result<Decision, Refusal> {
    let (tag, surface, rental) = rented(asked, card)?;
    not_looked_through(tag, rental)?;
    let lang = asked.lang;
    let mut draft = asked.draft();
    draft.fact(Body::RentalArrived {
        tag: tag.clone(),
        outcome: Outcome::Passed,
    });
    let mut lines = vec![say!(lang, "rental-arrived", surface = asked.with_bed(tag))];
    if !surface
        .served
        .contains_key(&crate::choice::Work::SafetyTest)
    {
        lines.push(say!(lang, "rental-arrived-test"));
    }
    let back = take_back(lang, &draft, tag);
    Ok(replace(
        draft,
        Message::text(lines.join("\n")).buttons(vec![back]),
    ))
}

/// "Not as it should": out of service, whatever it lacks.
pub(super) fn arrived_badly(asked: &Asked<'_>, card: &RentalCard) -> Result<Decision, Refusal> {
    let (tag, surface, rental) = rented(asked, card)?;
    not_looked_through(tag, rental)?;
    let lang = asked.lang;
    let mut draft = asked.draft();
    draft.fact(Body::RentalArrived {
        tag: tag.clone(),
        outcome: Outcome::Failed,
    });
    let out = take_out(asked, &mut draft, tag, surface, Fault::Arrival);
    let text = say!(lang, "rental-arrived-badly");
    Ok(replace(draft, Message::text(format!("{out}\n{text}"))))
}

/// `/rental stop`.
pub(super) fn stop(asked: &Asked<'_>, typed: &str) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    in_house(asked, tag, surface)?;
    let Some(rental) = surface.rental.as_ref() else {
        return Err(Refusal::new("fault-rental-not-started").text("tag", tag));
    };
    may_leave(tag, surface)?;
    let lang = asked.lang;
    let buttons = pickup_buttons(lang, tag, rental);
    if let Some(called) = rental.called {
        let key = if rental.confirmed.is_some() {
            "rental-confirmed-already"
        } else {
            "rental-called-already"
        };
        let text = say!(lang, key, tag = tag.as_str(), since = day_time(called.at));
        return Ok(Decision::private(Message::text(text).buttons(buttons)));
    }
    let on = On::Surface(tag.clone());
    let mut draft = asked.draft();
    draft.fact(Body::PickupCalled { tag: tag.clone() });
    unbook(asked.state, &mut draft, tag, Call::Idle);
    draft.fact(Body::Booked {
        on,
        call: Call::Pickup,
        due: asked.now + remind_again(asked.state),
    });
    let mut lines = vec![say!(lang, "rental-called", tag = tag.as_str())];
    if let Some(reference) = &rental.reference {
        lines.push(say!(
            lang,
            "rental-reference",
            reference = super::check::escaped(reference)
        ));
    }
    let mut buttons = buttons;
    buttons.push(take_back(lang, &draft, tag));
    Ok(draft.private(Message::text(lines.join("\n")).buttons(buttons)))
}

/// "Vendor confirmed": the form for their number.
pub(super) fn confirm(asked: &Asked<'_>, card: &RentalCard) -> Result<Decision, Refusal> {
    let (tag, _, rental) = rented(asked, card)?;
    to_be_confirmed(tag, rental)?;
    let lang = asked.lang;
    let tap = House::Confirmed {
        rental: card.clone(),
        number: None,
    };
    let form = Form {
        id: Tap::House(tap).id(),
        title: say!(lang, "form-pickup-title", tag = tag.as_str()),
        fields: vec![Field {
            id: "number".to_owned(),
            label: say!(lang, "form-pickup"),
            hint: say!(lang, "form-pickup-hint"),
            required: false,
            long: false,
        }],
    };
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// The form with the vendor's number: it costs nothing from tomorrow on.
pub(super) fn confirmed(
    asked: &Asked<'_>,
    card: &RentalCard,
    typed: Option<String>,
) -> Result<Decision, Refusal> {
    let (tag, _, rental) = rented(asked, card)?;
    to_be_confirmed(tag, rental)?;
    let reference = number(typed)?;
    let lang = asked.lang;
    let mut draft = asked.draft();
    draft.fact(Body::PickupConfirmed {
        tag: tag.clone(),
        reference,
    });
    draft.fact(Body::Booked {
        on: On::Surface(tag.clone()),
        call: Call::Pickup,
        due: asked.now + remind_again(asked.state),
    });
    let (days, cents) = so_far(asked.state, rental, asked.now);
    let text = say!(
        lang,
        "rental-confirmed",
        tag = tag.as_str(),
        days = days,
        cost = asked.money(cents)
    );
    let collected = collected_button(lang, card);
    let back = take_back(lang, &draft, tag);
    Ok(replace(
        draft,
        Message::text(text).buttons(vec![collected, back]),
    ))
}

/// What lies under somebody, or is kept for an inquiry, does not leave the house.
fn may_leave(tag: &Tag, surface: &Surface) -> Result<(), Refusal> {
    if let Some(bed) = surface.bed() {
        return Err(Refusal::new("fault-rental-under")
            .text("tag", tag)
            .text("bed", bed));
    }
    if surface.hold.is_some() {
        return Err(Refusal::new("fault-rental-held").text("tag", tag));
    }
    Ok(())
}

/// "Collected": it left the house for good.
pub(super) fn collected(asked: &Asked<'_>, card: &RentalCard) -> Result<Decision, Refusal> {
    let (tag, surface, rental) = rented(asked, card)?;
    if rental.called.is_none() {
        return Err(Refusal::new("fault-pickup-not-called").text("tag", tag));
    }
    may_leave(tag, surface)?;
    let lang = asked.lang;
    let mut draft = asked.draft();
    if let Some(no) = surface.alarm
        && let Some(open) = asked.state.alarms.get(&no)
    {
        alarm::end(asked, &mut draft, no, open, AlarmEnd::OutOfService);
    }
    draft.fact(Body::Collected { tag: tag.clone() });
    unbook(asked.state, &mut draft, tag, Call::Pickup);
    unbook(asked.state, &mut draft, tag, Call::Turnover);
    draft.fact(Body::SurfaceRetired { tag: tag.clone() });
    let (days, cents) = so_far(asked.state, rental, asked.now);
    let mut lines = vec![say!(
        lang,
        "rental-collected",
        tag = tag.as_str(),
        days = days,
        cost = asked.money(cents)
    )];
    if rental.confirmed.is_none() {
        lines.push(say!(lang, "rental-collected-unconfirmed"));
    }
    Ok(replace(draft, Message::text(lines.join("\n"))))
}

/// `/rental list`.
pub(super) fn list(asked: &Asked<'_>) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let mut all: Vec<(&Tag, &Surface)> = state
        .surfaces
        .iter()
        .filter(|(_, surface)| {
            surface.owned == Owned::Rented && !matches!(surface.life, Life::Retired { .. })
        })
        .collect();
    if all.is_empty() {
        return Ok(Decision::private(Message::text(say!(lang, "rental-none"))));
    }
    // Those that cost and stand idle come first, the longest idle before the others.
    all.sort_by_key(|(tag, surface)| {
        let idle = surface.rental.as_ref().and_then(idle_since);
        (idle.is_none(), idle, (*tag).clone())
    });
    let total = all
        .iter()
        .filter_map(|(_, surface)| surface.rental.as_ref())
        .map(|rental| so_far(state, rental, asked.now).1)
        .fold(0_i64, i64::saturating_add);
    let mut lines = vec![say!(
        lang,
        "rental-head",
        count = all.len() as i64,
        cost = asked.money(total)
    )];
    lines.extend(
        all.iter()
            .take(LINES_SHOWN)
            .map(|(tag, surface)| list_line(asked, tag, surface)),
    );
    if all.len() > LINES_SHOWN {
        lines.push(say!(
            lang,
            "rental-more",
            count = (all.len() - LINES_SHOWN) as i64
        ));
    }
    lines.push(say!(lang, "rental-foot"));
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    Ok(Decision::private(Message::text(text)))
}

/// What a promised call says.
pub(super) fn notice(
    state: &State,
    facility: &Facility,
    call: Call,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Option<Notice> {
    let surface = state.surfaces.get(tag)?;
    let rental = surface.rental.as_ref()?;
    let lang = state.lang();
    let (days, cents) = so_far(state, rental, now);
    let (text, buttons) = match call {
        Call::Idle => {
            let since = idle_since(rental)?;
            let text = say!(
                lang,
                "post-rental-idle",
                surface = in_post(state, lang, tag),
                since = day_time(since),
                days = days,
                cost = rent::signed(lang, facility.currency.as_deref(), cents)
            );
            (text, Vec::new())
        }
        Call::Pickup if rental.collected.is_some() || rental.called.is_none() => return None,
        Call::Pickup => {
            let key = if rental.confirmed.is_some() {
                "post-pickup-late"
            } else {
                "post-pickup-unconfirmed"
            };
            let called = rental.called.map_or(now, |mark| mark.at);
            let text = say!(
                lang,
                key,
                surface = in_post(state, lang, tag),
                called = day_time(called)
            );
            (text, pickup_buttons(lang, tag, rental))
        }
        Call::Full
        | Call::Plug
        | Call::Steps
        | Call::Static
        | Call::Leave
        | Call::Cpr
        | Call::Contact
        | Call::Turnover
        | Call::Hold
        | Call::Recall
        | Call::Roll
        | Call::Agree
        | Call::Handover => return None,
    };
    Some(Notice {
        channel: facility.supervisor_channel,
        message: Message::text(text).buttons(buttons),
    })
}

/// A rented surface came from under its bed: somebody is reminded, should it stand idle.
pub(super) fn left_bed(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, surface: &Surface) {
    if surface
        .rental
        .as_ref()
        .is_some_and(|rental| rental.called.is_none())
    {
        book_idle(asked.state, draft, tag, asked.now);
    }
}

/// A rented surface goes under a bed: it stands idle no more.
pub(super) fn went_under(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag) {
    unbook(asked.state, draft, tag, Call::Idle);
}

/// A surface left for good: nobody is reminded of it any more.
pub(super) fn gone(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag) {
    unbook(asked.state, draft, tag, Call::Idle);
    unbook(asked.state, draft, tag, Call::Pickup);
}

/// A surface that the vendor was asked to fetch goes under nobody.
///
/// # Errors
/// A [`Refusal`] that says so.
pub(super) fn may_be_placed(tag: &Tag, surface: &Surface) -> Result<(), Refusal> {
    match &surface.rental {
        Some(rental) if rental.called.is_some() => {
            Err(Refusal::new("fault-place-called").text("tag", tag))
        }
        Some(_) | None => Ok(()),
    }
}

/// The line of a surface's card about its rental.
pub(super) fn card_line(asked: &Asked<'_>, surface: &Surface) -> Option<String> {
    let lang = asked.lang;
    let Some(rental) = &surface.rental else {
        return Some(say!(lang, "whose-rented"));
    };
    let (days, _) = so_far(asked.state, rental, asked.now);
    let key = if rental.confirmed.is_some() {
        "whose-rented-confirmed"
    } else if rental.called.is_some() {
        "whose-rented-called"
    } else if rental.arrived.is_none() {
        "whose-rented-arrival"
    } else {
        "whose-rented-days"
    };
    Some(say!(lang, key, days = days))
}

/// The buttons of a surface's card: to look it through when it came, to say how its pickup stands.
pub(super) fn card_buttons(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<Button> {
    let Some(rental) = &surface.rental else {
        return Vec::new();
    };
    let may = |right: Right| right.roles().contains(&asked.role);
    if rental.called.is_some() {
        if rental.collected.is_none() && may(Right::Supervise) {
            return pickup_buttons(asked.lang, tag, rental);
        }
    } else if rental.arrived.is_none() && may(Right::Maintain) {
        return arrival_buttons(asked.lang, &card(tag, rental));
    }
    Vec::new()
}

/// Since when a rented surface stands idle and costs.
pub(crate) fn idle_since(rental: &Rental) -> Option<DateTime<Utc>> {
    rental.idle_since.filter(|_| rental.called.is_none())
}

/// Days charged and what they cost, up to `now` or to the day on which the vendor let it end.
fn so_far(state: &State, rental: &Rental, now: DateTime<Utc>) -> (i64, i64) {
    let days = rent::days(day_of(state, rental.since), last_day(state, rental, now));
    let cents = rent::cost(rental.daily_cents, days).unwrap_or(i64::MAX);
    (days, cents)
}

fn last_day(state: &State, rental: &Rental, now: DateTime<Utc>) -> NaiveDate {
    let confirmed = rental.confirmed.as_ref().map(|(_, mark)| mark.at);
    let collected = rental.collected.map(|mark| mark.at);
    day_of(state, confirmed.or(collected).unwrap_or(now))
}

fn list_line(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let name = asked.with_bed(tag);
    let Some(rental) = &surface.rental else {
        return say!(lang, "rental-line-unknown", surface = name);
    };
    let (days, cents) = so_far(state, rental, asked.now);
    let mut line = say!(
        lang,
        "rental-line",
        surface = name,
        days = days,
        cost = asked.money(cents)
    );
    let more = if rental.confirmed.is_some() {
        Some(say!(lang, "rental-line-confirmed"))
    } else if rental.called.is_some() {
        Some(say!(lang, "rental-line-called"))
    } else {
        idle_since(rental).map(|since| say!(lang, "rental-line-idle", since = day_time(since)))
    };
    if let Some(more) = more {
        line.push_str(" · ");
        line.push_str(&more);
    }
    line
}

fn card(tag: &Tag, rental: &Rental) -> RentalCard {
    RentalCard {
        tag: tag.clone(),
        since: rental.said.timestamp() / 60,
    }
}

fn arrival_buttons(lang: Lang, card: &RentalCard) -> Vec<Button> {
    let rental = card.clone();
    let well = House::ArrivedWell { rental };
    let rental = card.clone();
    let badly = House::ArrivedBadly { rental };
    vec![
        button(lang, "button-arrived-well", Look::Good, &Tap::House(well)),
        button(
            lang,
            "button-arrived-badly",
            Look::Caution,
            &Tap::House(badly),
        ),
    ]
}

fn pickup_buttons(lang: Lang, tag: &Tag, rental: &Rental) -> Vec<Button> {
    let card = card(tag, rental);
    let mut buttons = Vec::new();
    if rental.confirmed.is_none() {
        let tap = House::Confirm {
            rental: card.clone(),
        };
        buttons.push(button(
            lang,
            "button-pickup-confirmed",
            Look::Main,
            &Tap::House(tap),
        ));
    }
    buttons.push(collected_button(lang, &card));
    buttons
}

fn collected_button(lang: Lang, card: &RentalCard) -> Button {
    let tap = House::Collected {
        rental: card.clone(),
    };
    button(lang, "button-collected", Look::Good, &Tap::House(tap))
}

fn book_idle(state: &State, draft: &mut Draft, tag: &Tag, now: DateTime<Utc>) {
    draft.fact(Body::Booked {
        on: On::Surface(tag.clone()),
        call: Call::Idle,
        due: now + TimeDelta::hours(state.policies.get(Name::IdleHours)),
    });
}

fn unbook(state: &State, draft: &mut Draft, tag: &Tag, call: Call) {
    let on = On::Surface(tag.clone());
    if state.booking(&on, call).is_some() {
        draft.fact(Body::Unbooked { on, call });
    }
}

/// A surface of the register that is rented.
fn in_house(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Result<(), Refusal> {
    if matches!(surface.life, Life::Retired { .. }) {
        return Err(Refusal::new("fault-retired").text("tag", tag));
    }
    if surface.owned == Owned::Rented {
        return Ok(());
    }
    let whose = format!("owned-{}", surface.owned.as_str());
    Err(Refusal::new("fault-not-rented")
        .text("tag", tag)
        .text("whose", say!(asked.lang, &whose)))
}

/// The surface of a card, while the rental that it was about is the present one.
fn rented<'a>(
    asked: &Asked<'a>,
    of: &RentalCard,
) -> Result<(&'a Tag, &'a Surface, &'a Rental), Refusal> {
    let (tag, surface) = asked.surface(of.tag.as_str())?;
    if matches!(surface.life, Life::Retired { .. }) {
        return Err(Refusal::new("fault-retired-back").text("tag", tag));
    }
    surface
        .rental
        .as_ref()
        .filter(|rental| card(tag, rental) == *of)
        .map(|rental| (tag, surface, rental))
        .ok_or_else(|| Refusal::new("fault-rental-other").text("tag", tag))
}

fn not_looked_through(tag: &Tag, rental: &Rental) -> Result<(), Refusal> {
    match &rental.arrived {
        None => Ok(()),
        Some((_, mark)) => Err(Refusal::new("fault-arrived-already")
            .text("tag", tag)
            .text("at", day_time(mark.at))
            .text(
                "who",
                mark.who.map_or_else(String::new, super::draft::person),
            )),
    }
}

fn to_be_confirmed(tag: &Tag, rental: &Rental) -> Result<(), Refusal> {
    if rental.called.is_none() {
        return Err(Refusal::new("fault-pickup-not-called").text("tag", tag));
    }
    match &rental.confirmed {
        None => Ok(()),
        Some((_, mark)) => Err(Refusal::new("fault-confirmed-already")
            .text("tag", tag)
            .text("at", day_time(mark.at))),
    }
}

fn off_rent(rental: &Rental) -> bool {
    rental.confirmed.is_some() || rental.collected.is_some()
}

/// A vendor's number, once the guard has read it.
fn number(typed: Option<String>) -> Result<Option<String>, Refusal> {
    if let Some(text) = &typed {
        if text.chars().count() > NUMBER_MAX {
            return Err(Refusal::new("fault-too-long")
                .text("option", "reference")
                .number("most", NUMBER_MAX as i64));
        }
        guard::check(text, guard::Field::Register).map_err(private_fault)?;
    }
    Ok(typed)
}

fn money_fault(fault: MoneyFault) -> Refusal {
    match fault {
        MoneyFault::Empty | MoneyFault::Shape => Refusal::new("fault-money"),
        MoneyFault::Negative => Refusal::new("fault-money-negative"),
        MoneyFault::PartCents => Refusal::new("fault-money-cents"),
        MoneyFault::Comma => Refusal::new("fault-money-comma"),
        MoneyFault::TooMuch { max } => {
            Refusal::new("fault-money-much").text("most", rent::money(max))
        }
    }
}
