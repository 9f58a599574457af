//! A unit without power: one incident, one roll after another. Decides what opening it, each answer of a roll and the
//! return of power begin; leaves the card to `card`, the order of a roll to `rules::holding`, and its ladder to `due`.

mod card;
mod roll;

use chrono::{DateTime, TimeDelta, Utc};

pub(crate) use card::{card, card_key, edit, edit_done, left, order, state_line};
pub(super) use roll::{again, back_to_roll, how_key, later, mended, seen};
use roll::{finished, next_card};

use super::draft::{Asked, Draft, button, clock_time, in_post, person, span, unit_channel};
use super::set_up;
use crate::choice::{Call, Opening, Roll, Step};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::{OutageNo, Tag, Unit};
use crate::message::{Button, Look, Message};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::Role;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Called, Facility, Life, Outage, State};
use crate::tap::{Power, Tap};
use crate::words::Lang;

/// Rolls follow on each other no faster than this, in minutes, however little air there may be left.
const ROLL_MINUTES_LEAST: i64 = 5;

/// Who is called when a roll begins: upkeep too, who see to plugs and the generator.
const FIRST_CALLED: [Role; 2] = [Role::Aide, Role::Upkeep];

/// Who is called when power fails under somebody. Nurses and supervisors must know even where an aide calls the roll
/// within the minute, and the ladder comes to them no more.
const CALLED_AT_ONCE: [Role; 4] = [Role::Aide, Role::Nurse, Role::Supervisor, Role::Upkeep];

/// `/outage`.
pub(super) fn outage(asked: &Asked<'_>, unit: Option<&str>) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let Some(unit) = asked.unit(unit)? else {
        if state.units.is_empty() {
            return Err(Refusal::new("fault-no-units"));
        }
        let all: Vec<&str> = state.units.keys().map(Unit::as_str).collect();
        return Err(Refusal::new("fault-outage-unit").text("these", all.join(", ")));
    };
    if let Some((no, open)) = state.outage_of(unit) {
        let said = say!(
            lang,
            "outage-open-already",
            unit = unit.as_str(),
            at = clock_time(open.since)
        );
        let mut message = card(state, lang, no, open);
        message.text = format!("{said}\n\n{}", message.text);
        if !may_call(asked) {
            message.rows.clear();
        }
        return Ok(Decision::private(message));
    }
    let order = order(state, unit, None, asked.now, asked.now);
    if order.is_empty() {
        return Err(Refusal::new("fault-outage-empty").text("unit", unit));
    }
    let count = order.len() as i64;
    let mut draft = asked.draft();
    let record = draft.fact(Body::OutageOpened {
        unit: unit.clone(),
        order: order.clone(),
        shift_over: asked.shift_over,
    });
    let no = OutageNo(record.0);
    let open = Outage {
        unit: unit.clone(),
        since: asked.now,
        by: Some(asked.ask.who),
        shift_over: asked.shift_over,
        order,
        seen: std::collections::BTreeMap::new(),
        taken: None,
        callers: Vec::new(),
        roll: 1,
        ladder_from: asked.now,
        rung: 0,
        asked: asked.now,
        overrun: false,
        passed: 0,
        called: Called::default(),
        newest: record,
    };
    post_card(state, asked.facility, &mut draft, no, &open, None);
    let text = say!(
        lang,
        "outage-opened",
        unit = unit.as_str(),
        count = count,
        first = say!(lang, "outage-first"),
        caution = say!(lang, "alarm-caution")
    );
    let mut buttons = Vec::new();
    if may_call(asked) {
        buttons.push(take_button(lang, no));
    }
    Ok(draft.private(Message::text(text).buttons(buttons)))
}

/// "I call the roll".
pub(super) fn take(asked: &Asked<'_>, no: OutageNo) -> Result<Decision, Refusal> {
    let open = opened(asked, no)?;
    let lang = asked.lang;
    let said = match open.taken {
        // Two may call it: each gets the next one that nobody has seen.
        Some((who, _)) if who != asked.ask.who => {
            say!(lang, "outage-both-call", who = person(who))
        }
        Some(_) => String::new(),
        None => say!(
            lang,
            "outage-taken",
            minutes = asked.state.policies.get(Name::SafeWithin)
        ),
    };
    if left(asked.state, open).is_empty() {
        return Ok(Decision::private(finished(asked, no, open, String::new())));
    }
    let mut draft = asked.draft();
    let mut after = open.clone();
    if open.taken.is_none() {
        after.newest = draft.fact(Body::OutageTaken { outage: no });
        after.taken = Some((asked.ask.who, asked.now));
        edit(asked.state, asked.facility, &mut draft, no, &after);
    }
    let next = next_card(asked, no, &after, said);
    Ok(draft.private(next))
}

/// "Power is back": what lost its power is looked at again, bed by bed.
pub(super) fn back(asked: &Asked<'_>, no: OutageNo) -> Result<Decision, Refusal> {
    let open = opened(asked, no)?;
    let (state, lang) = (asked.state, asked.state.lang());
    let mut draft = asked.draft();
    let on = On::Outage(no);
    if state.booking(&on, Call::Roll).is_some() {
        draft.fact(Body::Unbooked {
            on,
            call: Call::Roll,
        });
    }
    draft.fact(Body::OutageEnded { outage: no });
    let (mut again, mut opened) = (Vec::new(), 0);
    for tag in order(state, &open.unit, None, open.since, asked.now) {
        let how = open.seen.get(&tag).map(|(how, _)| *how);
        let spared = how == Some(Roll::Powered);
        let Some(surface) = state.surfaces.get(&tag).filter(|_| !spared) else {
            continue;
        };
        // Under an empty bed it lost its setting as well; there is nobody under whom to look.
        let shown: &[Step] = match how {
            Some(Roll::Empty) => &[Step::Check],
            Some(Roll::Holding | Roll::Low | Roll::Flat | Roll::Powered) | None => &[],
        };
        let Life::Placed { bed, .. } = &surface.life else {
            continue;
        };
        let list = set_up::placed_list(surface);
        set_up::list(asked, &mut draft, &tag, bed, Opening::Power, shown, list);
        opened += 1;
        // In an emergency nobody is asked for it by name; the list is there when that is over.
        if surface.cpr.is_none() {
            again.push(in_post(state, lang, &tag));
        }
    }
    if opened > 0 {
        // One call for the unit, and not one for each of its surfaces.
        let within = TimeDelta::minutes(state.policies.get(Name::SetUpWithin));
        draft.fact(Body::Booked {
            on: On::Unit(open.unit.clone()),
            call: Call::Steps,
            due: asked.now + within,
        });
    }
    let minutes = minutes_without(open, asked.now);
    let who = person(asked.ask.who);
    let count = again.len() as i64;
    let channel = unit_channel(state, asked.facility, Some(&open.unit));
    let ended = say!(
        lang,
        "card-outage-ended",
        unit = open.unit.as_str(),
        at = clock_time(asked.now),
        span = span(lang, minutes),
        rolls = i64::from(open.roll),
        who = who.clone()
    );
    card::change(
        state,
        asked.facility,
        &mut draft,
        no,
        open,
        Message::text(ended),
    );
    if count > 0 {
        let mut text = say!(
            lang,
            "post-power-back",
            unit = open.unit.as_str(),
            count = count,
            these = again.join(", ")
        );
        crate::due::truncate(&mut text);
        let unit = Some(&open.unit);
        let asks = asking::safety(state, unit, &[Role::Aide, Role::Nurse], asked.now);
        let asks = asks.by(asked.ask.who);
        let post = (format!("outage:{no}:back"), channel, Lane::Reminder);
        let on = On::Unit(open.unit.clone());
        draft.ask(asked.facility, on, &asks, post, Message::text(text));
    }
    let told = say!(
        lang,
        "post-power-was-out",
        unit = open.unit.as_str(),
        from = clock_time(open.since),
        span = span(lang, minutes),
        rolls = i64::from(open.roll),
        who = who
    );
    let mut told = Message::text(told);
    told.silent = true;
    draft.post(
        format!("outage:{no}:told"),
        asked.facility.supervisor_channel,
        Lane::Routine,
        told,
    );
    let text = say!(
        asked.lang,
        "outage-ended",
        unit = open.unit.as_str(),
        span = span(asked.lang, minutes),
        count = count
    );
    Ok(draft.private(Message::text(text)))
}

/// The roll is called again: holding times have run on, surfaces have come and gone.
pub(super) fn roll_again(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    no: OutageNo,
    now: DateTime<Utc>,
) {
    let Some(open) = state.outages.get(&no) else {
        return;
    };
    let order = order(state, &open.unit, Some(open), open.since, now);
    let record = draft.fact(Body::OutageRolled {
        outage: no,
        order: order.clone(),
    });
    let lang = state.lang();
    let over = say!(
        lang,
        "card-roll-over",
        unit = open.unit.as_str(),
        roll = i64::from(open.roll)
    );
    card::change(state, facility, draft, no, open, Message::text(over));
    let after = Outage {
        order,
        seen: std::collections::BTreeMap::new(),
        taken: None,
        roll: open.roll + 1,
        ladder_from: now,
        rung: 0,
        asked: now,
        overrun: false,
        passed: 0,
        called: Called::default(),
        newest: record,
        ..open.clone()
    };
    let next = after
        .order
        .is_empty()
        .then(|| next_roll(state, &after, now));
    if let Some(due) = next {
        // Nobody is left there; somebody may be placed while power is still out.
        book(draft, no, due);
    }
    post_card(state, facility, draft, no, &after, next);
}

/// The next roll is promised for then.
pub(crate) fn book(draft: &mut Draft, no: OutageNo, due: DateTime<Utc>) {
    draft.fact(Body::Booked {
        on: On::Outage(no),
        call: Call::Roll,
        due,
    });
}

/// When the roll after a finished one begins: by the home's policy, or sooner where a maker's holding time ends sooner.
pub(crate) fn next_roll(state: &State, open: &Outage, now: DateTime<Utc>) -> DateTime<Utc> {
    let policy = state.policies.get(Name::RollAgain);
    // What is under the unit's beds now: some may have gone since the roll began, and others come.
    let least = state
        .units
        .get(&open.unit)
        .into_iter()
        .flat_map(|unit| &unit.beds)
        .filter_map(|bed| state.under.get(bed))
        .filter(|tag| !matches!(open.seen.get(*tag), Some((Roll::Empty | Roll::Powered, _))))
        .filter_map(|tag| minutes_left(state, tag, Some(open), open.since, now))
        .min();
    let minutes = least.map_or(policy, |least| least.min(policy));
    now + TimeDelta::minutes(minutes.max(ROLL_MINUTES_LEAST))
}

/// Minutes that a surface still holds its air by its maker's figure; `None` where there is none. One that was seen
/// to have power has lost none until then.
fn minutes_left(
    state: &State,
    tag: &Tag,
    open: Option<&Outage>,
    since: DateTime<Utc>,
    now: DateTime<Utc>,
) -> Option<i64> {
    let surface = state.surfaces.get(tag)?;
    let holds = i64::from(state.profile_of(surface).holds_minutes?);
    let powered = open
        .and_then(|open| open.seen.get(tag))
        .filter(|(how, _)| *how == Roll::Powered)
        .map(|(_, mark)| mark.at);
    let since = powered.unwrap_or(since);
    // Placed since: it was pumped up somewhere else.
    let since = match &surface.life {
        Life::Placed { since: placed, .. } => since.max(*placed),
        Life::OutOfService { .. } | Life::Soiled(_) | Life::Ready { .. } | Life::Retired { .. } => {
            since
        }
    };
    Some(holds - (now - since).num_minutes())
}

/// The card of a roll with its ping: its minute 0.
fn post_card(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    no: OutageNo,
    open: &Outage,
    next: Option<DateTime<Utc>>,
) {
    let message = card::lay_out(state, state.lang(), no, open, next);
    let key = card_key(no, open.roll);
    let post = (
        key,
        unit_channel(state, facility, Some(&open.unit)),
        Lane::Escalation,
    );
    if open.order.is_empty() {
        draft.post(post.0, post.1, post.2, message);
    } else {
        let now = draft.at;
        let occupied = |tag: &Tag| {
            let surface = state.surfaces.get(tag);
            surface.is_some_and(|surface| surface.away(now).is_none())
        };
        let roles: &[Role] = if open.roll == 1 && open.order.iter().any(occupied) {
            &CALLED_AT_ONCE
        } else {
            &FIRST_CALLED
        };
        let asks = asking::safety(state, Some(&open.unit), roles, now);
        draft.ask(facility, On::Outage(no), &asks, post, message);
    }
}

fn take_button(lang: Lang, no: OutageNo) -> Button {
    let tap = Tap::Power(Power::Take { outage: no });
    button(lang, "button-call-roll", Look::Main, &tap)
}

fn back_button(lang: Lang, no: OutageNo) -> Button {
    let tap = Tap::Power(Power::Back { outage: no });
    button(lang, "button-power-back", Look::Good, &tap)
}

fn may_call(asked: &Asked<'_>) -> bool {
    Right::CallRoll.roles().contains(&asked.role)
}

fn opened<'a>(asked: &Asked<'a>, no: OutageNo) -> Result<&'a Outage, Refusal> {
    asked
        .state
        .outages
        .get(&no)
        .ok_or_else(|| Refusal::new("fault-outage-over"))
}

/// How long a unit has had no power, in whole minutes.
pub(crate) fn minutes_without(open: &Outage, now: DateTime<Utc>) -> i64 {
    (now - open.since).num_minutes()
}
