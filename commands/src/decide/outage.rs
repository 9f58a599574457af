//! A unit without power: one incident, one roll after another. Decides what opening it, each answer of a roll and the
//! return of power begin; leaves the card to `card`, the order of a roll to `rules::holding`, and its ladder to `due`.

mod card;

use chrono::{DateTime, TimeDelta, Utc};

pub(crate) use card::{card, card_key, edit, edit_done, left, order, state_line};

use super::alarm;
use super::check::named_label;
use super::draft::{Asked, Draft, button, clock_time, in_post, person, span, unit_channel};
use super::set_up;
use super::which_bed;
use crate::choice::{Call, Opening, Roll, Step};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::{AlarmNo, OutageNo, RecordNo, Tag, Unit};
use crate::message::{Answer, Button, Look, Message, Row};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::Role;
use crate::rules::policy::Name;
use crate::rules::priority::{AlarmKind, alarm_priority};
use crate::say;
use crate::state::{Called, Facility, Life, Mark, Outage, State, Surface};
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
    });
    let no = OutageNo(record.0);
    let open = Outage {
        unit: unit.clone(),
        since: asked.now,
        by: Some(asked.ask.who),
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

/// One surface was looked at.
pub(super) fn seen(
    asked: &Asked<'_>,
    no: OutageNo,
    roll: u32,
    tag: &Tag,
    how: Roll,
) -> Result<Decision, Refusal> {
    let open = opened(asked, no)?;
    let (state, lang) = (asked.state, asked.lang);
    // A card that is behind the roll is answered with the one that is up to date, and not taken.
    let behind = if open.roll != roll {
        Some(say!(lang, "outage-other-roll"))
    } else if let Some((stood, mark)) = open.seen.get(tag) {
        Some(say!(
            lang,
            if mark.who == Some(asked.ask.who) {
                "outage-seen-by-you"
            } else {
                "outage-seen-already"
            },
            surface = asked.with_bed(tag),
            who = mark.who.map_or_else(String::new, person),
            how = say!(lang, how_key(*stood)),
            at = clock_time(mark.at)
        ))
    } else {
        gone(state, lang, open, tag)
    };
    let surface = state.surfaces.get(tag);
    let (None, Some(surface)) = (&behind, surface) else {
        let said = behind.unwrap_or_else(|| say!(lang, "outage-gone", tag = tag.as_str()));
        let mut next = next_card(asked, no, open, said);
        if open.roll == roll && mine(asked, open, tag).is_some() {
            next = next.buttons(vec![mend_button(lang, no, open, tag)]);
        }
        return Ok(replace(next));
    };
    Ok(look(asked, no, open, (tag, surface), how, None))
}

/// Why a surface of the roll is not asked about any more, or not now.
fn gone(state: &State, lang: Lang, open: &Outage, tag: &Tag) -> Option<String> {
    let key = if !open.order.contains(tag) || state.unit_of(tag) != Some(&open.unit) {
        "outage-gone"
    } else if state.in_emergency(tag) {
        "outage-cpr"
    } else {
        return None;
    };
    Some(say!(lang, key, tag = tag.as_str()))
}

/// What the person who asks has said of a surface in this roll.
fn mine(asked: &Asked<'_>, open: &Outage, tag: &Tag) -> Option<Roll> {
    open.seen
        .get(tag)
        .filter(|(_, mark)| mark.who == Some(asked.ask.who))
        .map(|(how, _)| *how)
}

fn replace(message: Message) -> Decision {
    Decision {
        answer: Some(Answer::Replace(message)),
        ..Decision::default()
    }
}

/// "Later": the one after it is asked for; nothing is recorded, and it stays open.
pub(super) fn later(
    asked: &Asked<'_>,
    no: OutageNo,
    roll: u32,
    tag: &Tag,
) -> Result<Decision, Refusal> {
    let open = opened(asked, no)?;
    let lang = asked.lang;
    if open.roll != roll {
        let said = say!(lang, "outage-other-roll");
        return Ok(replace(next_card(asked, no, open, said)));
    }
    let left = left(asked.state, open);
    // The next that is left in the order of the roll; from its end on again from the front.
    let place = |tag: &Tag| open.order.iter().position(|of| of == tag);
    let next = left
        .iter()
        .find(|of| place(of) > place(tag))
        .or_else(|| left.first())
        .copied();
    let said = say!(lang, "outage-later", surface = asked.with_bed(tag));
    Ok(replace(match next {
        Some(next) => ask(asked, no, open, next, said),
        None => finished(asked, no, open, String::new()),
    }))
}

/// "Said by mistake": how does it stand? Only whoever said it puts it right; others who see it worse raise an alarm.
pub(super) fn again(
    asked: &Asked<'_>,
    no: OutageNo,
    roll: u32,
    tag: &Tag,
) -> Result<Decision, Refusal> {
    let open = opened(asked, no)?;
    Ok(match mendable(asked, open, roll, tag) {
        Err(said) => replace(next_card(asked, no, open, said)),
        Ok((how, _)) => {
            let lang = asked.lang;
            let text = say!(
                lang,
                "outage-ask-again",
                surface = asked.with_bed(tag),
                how = say!(lang, how_key(how))
            );
            let rows = Roll::ALL.chunks(3).map(|these| {
                these
                    .iter()
                    .map(|how| {
                        let tap = Power::Mended {
                            outage: no,
                            roll,
                            tag: tag.clone(),
                            how: *how,
                        };
                        let (key, look) = how_button(*how);
                        button(lang, key, look, &Tap::Power(tap))
                    })
                    .collect()
            });
            replace(rows.fold(Message::text(text), Message::buttons))
        }
    })
}

/// Said again, and otherwise.
pub(super) fn mended(
    asked: &Asked<'_>,
    no: OutageNo,
    roll: u32,
    tag: &Tag,
    how: Roll,
) -> Result<Decision, Refusal> {
    let open = opened(asked, no)?;
    Ok(match mendable(asked, open, roll, tag) {
        Err(said) => replace(next_card(asked, no, open, said)),
        Ok((stood, _)) if stood == how => {
            let said = say!(
                asked.lang,
                "outage-said",
                surface = asked.with_bed(tag),
                how = say!(asked.lang, how_key(how))
            );
            replace(next_card(asked, no, open, said))
        }
        Ok((stood, surface)) => look(asked, no, open, (tag, surface), how, Some(stood)),
    })
}

/// What somebody said of a surface in this roll and may put right; else why not.
fn mendable<'a>(
    asked: &Asked<'a>,
    open: &Outage,
    roll: u32,
    tag: &Tag,
) -> Result<(Roll, &'a Surface), String> {
    let lang = asked.lang;
    if open.roll != roll {
        return Err(say!(lang, "outage-other-roll"));
    }
    if let Some(said) = gone(asked.state, lang, open, tag) {
        return Err(said);
    }
    mine(asked, open, tag)
        .zip(asked.state.surfaces.get(tag))
        .ok_or_else(|| say!(lang, "outage-not-yours", surface = asked.with_bed(tag)))
}

/// The facts of one look, the first at it in this roll or one that puts right what was said before.
fn look(
    asked: &Asked<'_>,
    no: OutageNo,
    open: &Outage,
    (tag, surface): (&Tag, &Surface),
    how: Roll,
    before: Option<Roll>,
) -> Decision {
    let (state, lang) = (asked.state, asked.lang);
    let mut draft = asked.draft();
    let mut after = open.clone();
    // Whoever says how one stands is there, and calls the roll.
    if open.taken.is_none() {
        draft.fact(Body::OutageTaken { outage: no });
        after.taken = Some((asked.ask.who, asked.now));
    }
    let record = draft.fact(Body::OutageSeen {
        outage: no,
        tag: tag.clone(),
        roll: how,
    });
    after.newest = record;
    let mark = Mark {
        who: Some(asked.ask.who),
        at: asked.now,
    };
    after.seen.insert(tag.clone(), (how, mark));
    let mut said = say!(
        lang,
        "outage-said",
        surface = asked.with_bed(tag),
        how = say!(lang, how_key(how))
    );
    let mut flat_alarm = None;
    match how {
        Roll::Flat => {
            let (alarm, next) = flat(asked, &mut draft, tag, surface);
            said = format!("{said}\n{next}");
            flat_alarm = Some(alarm);
            // No air cannot wait for the rung that calls nurses; an alarm that was open has called them.
            if surface.alarm.is_none() {
                let key = if super::nurse::acts(asked) {
                    "post-flat-no-power-nurse"
                } else {
                    "post-flat-no-power"
                };
                call_nurse(asked, &mut draft, no, key, tag, record);
            }
        }
        Roll::Low => {
            let key = if super::nurse::acts(asked) {
                "post-low-no-power-nurse"
            } else {
                "post-low-no-power"
            };
            call_nurse(asked, &mut draft, no, key, tag, record);
            said = format!("{said}\n{}", say!(lang, "outage-said-low"));
        }
        Roll::Holding | Roll::Powered | Roll::Empty => {
            if matches!(before, Some(Roll::Low | Roll::Flat)) {
                // A nurse was called for it.
                tell_mistake(asked, &mut draft, no, tag, how, record);
            }
            if before == Some(Roll::Flat) && surface.alarm.is_some() {
                said = format!("{said}\n{}", say!(lang, "outage-alarm-stays"));
            }
        }
    }
    let done = left(state, &after).is_empty();
    if done {
        let due = next_roll(state, &after, asked.now);
        book(&mut draft, no, due);
        edit_done(state, asked.facility, &mut draft, no, &after, due);
        let mut message = finished_at(asked, no, &after, said, due);
        if let Some(safe) = flat_alarm.and_then(|alarm| safe_button(asked, alarm, tag)) {
            message.rows.push(Row::Buttons(vec![safe]));
        }
        message = message.buttons(vec![mend_button(lang, no, &after, tag)]);
        return draft.answer(Answer::Replace(message));
    }
    edit(state, asked.facility, &mut draft, no, &after);
    let next = match flat_alarm {
        // Nobody walks on from somebody who lies on no air: the roll goes on when they say so.
        Some(alarm) => {
            // A tap that was meant for the next one's first button finds the way on, and says nothing of this resident.
            let safe = safe_button(asked, alarm, tag);
            let buttons = std::iter::once(go_on_button(lang, no)).chain(safe);
            Message::text(said).buttons(buttons.collect())
        }
        None => next_card(asked, no, &after, said),
    };
    let next = next.buttons(vec![mend_button(lang, no, &after, tag)]);
    draft.answer(Answer::Replace(next))
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

/// Flat under somebody, and no power: an alarm, or more of the one that is open.
fn flat(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, surface: &Surface) -> (AlarmNo, String) {
    let open = surface
        .alarm
        .and_then(|no| Some((no, asked.state.alarms.get(&no)?)));
    if let Some((no, open)) = open {
        alarm::bottomed_out(asked, draft, no, open.clone());
        return (no, say!(asked.lang, "outage-said-flat-open"));
    }
    // No air and no power to add any.
    let priority = alarm_priority(AlarmKind::Power, true, true, true);
    let no = alarm::open(asked, draft, tag, AlarmKind::Power, priority, None);
    (no, say!(asked.lang, "outage-said-flat"))
}

fn call_nurse(
    asked: &Asked<'_>,
    draft: &mut Draft,
    no: OutageNo,
    key: &'static str,
    tag: &Tag,
    record: RecordNo,
) {
    let lang = asked.state.lang();
    let text = say!(
        lang,
        key,
        surface = in_post(asked.state, lang, tag),
        who = person(asked.ask.who)
    );
    let unit = asked.state.unit_of(tag);
    // A nurse who is there is not called for, and needs a second pair of hands.
    let asks = if super::nurse::acts(asked) {
        asking::safety(asked.state, unit, &[Role::Aide, Role::Nurse], asked.now).by(asked.ask.who)
    } else {
        asking::safety(asked.state, unit, &[Role::Nurse], asked.now)
    };
    let post = (
        format!("outage:{no}:nurse:{record}"),
        alarm::channel(asked.state, asked.facility, tag),
        Lane::Reminder,
    );
    let on = On::Surface(tag.clone());
    let bed = which_bed::which_button(asked.state, lang, tag);
    let message = Message::text(text).buttons(bed.into_iter().collect());
    draft.ask(asked.facility, on, &asks, post, message);
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

/// The private card that asks how the next one stands; or that the roll is done.
fn next_card(asked: &Asked<'_>, no: OutageNo, open: &Outage, said: String) -> Message {
    let left = left(asked.state, open);
    match left.first() {
        Some(tag) => ask(asked, no, open, tag, said),
        None => finished(asked, no, open, said),
    }
}

/// The private card that asks how this one stands.
fn ask(asked: &Asked<'_>, no: OutageNo, open: &Outage, tag: &Tag, said: String) -> Message {
    let lang = asked.lang;
    let left = left(asked.state, open);
    let mut text = before(said);
    text.push_str(&say!(
        lang,
        "outage-ask",
        unit = open.unit.as_str(),
        left = left.len() as i64,
        surface = asked.with_bed(tag),
        holds = card::holds(asked.state, lang, tag, open, asked.now)
    ));
    let tap = |how| {
        let tap = Power::Seen {
            outage: no,
            roll: open.roll,
            tag: tag.clone(),
            how,
        };
        let (key, look) = how_button(how);
        button(lang, key, look, &Tap::Power(tap))
    };
    let mut second = vec![tap(Roll::Powered), tap(Roll::Empty)];
    if left.len() > 1 {
        let later = Power::Later {
            outage: no,
            roll: open.roll,
            tag: tag.clone(),
        };
        second.push(button(
            lang,
            "button-later",
            Look::Plain,
            &Tap::Power(later),
        ));
    }
    Message::text(text)
        .buttons(vec![tap(Roll::Holding), tap(Roll::Low), tap(Roll::Flat)])
        .buttons(second)
}

/// The roll is done: when the next one is.
fn finished(asked: &Asked<'_>, no: OutageNo, open: &Outage, said: String) -> Message {
    let next = asked
        .state
        .booking(&On::Outage(no), Call::Roll)
        .and_then(|booking| booking.next)
        .unwrap_or_else(|| next_roll(asked.state, open, asked.now));
    finished_at(asked, no, open, said, next)
}

fn finished_at(
    asked: &Asked<'_>,
    no: OutageNo,
    open: &Outage,
    said: String,
    next: DateTime<Utc>,
) -> Message {
    let text = say!(
        asked.lang,
        "outage-roll-done",
        unit = open.unit.as_str(),
        count = open.seen.len() as i64,
        at = clock_time(next)
    );
    Message::text(format!("{}{text}", before(said))).buttons(vec![back_button(asked.lang, no)])
}

fn before(said: String) -> String {
    if said.is_empty() {
        said
    } else {
        format!("{said}\n\n")
    }
}

/// Whoever may call the roll and not answer an alarm leaves that to those who are called.
fn safe_button(asked: &Asked<'_>, alarm: AlarmNo, tag: &Tag) -> Option<Button> {
    let may = Right::AnswerAlarm.roles().contains(&asked.role);
    may.then(|| {
        let mut safe = button(asked.lang, "button-safe", Look::Good, &Tap::Safe { alarm });
        safe.label = named_label(asked.lang, tag.as_str(), &safe.label);
        safe
    })
}

fn go_on_button(lang: Lang, no: OutageNo) -> Button {
    let tap = Tap::Power(Power::Take { outage: no });
    button(lang, "button-go-on-roll", Look::Plain, &tap)
}

/// The way back from the alarm of a surface to the roll that it is in, while somebody is left in that roll.
pub(super) fn back_to_roll(asked: &Asked<'_>, tag: &Tag) -> Option<Button> {
    let unit = asked.state.unit_of(tag)?;
    let (no, open) = asked.state.outage_of(unit)?;
    let goes_on = open.order.contains(tag) && !left(asked.state, open).is_empty();
    goes_on.then(|| go_on_button(asked.lang, no))
}

fn take_button(lang: Lang, no: OutageNo) -> Button {
    let tap = Tap::Power(Power::Take { outage: no });
    button(lang, "button-call-roll", Look::Main, &tap)
}

fn back_button(lang: Lang, no: OutageNo) -> Button {
    let tap = Tap::Power(Power::Back { outage: no });
    button(lang, "button-power-back", Look::Good, &tap)
}

fn mend_button(lang: Lang, no: OutageNo, open: &Outage, tag: &Tag) -> Button {
    let tap = Power::Again {
        outage: no,
        roll: open.roll,
        tag: tag.clone(),
    };
    Button {
        id: Tap::Power(tap).id(),
        label: say!(lang, "button-said-wrong", tag = tag.as_str()),
        look: Look::Plain,
    }
}

/// Whoever was called for a surface reads that it was a mistake.
fn tell_mistake(
    asked: &Asked<'_>,
    draft: &mut Draft,
    no: OutageNo,
    tag: &Tag,
    how: Roll,
    record: RecordNo,
) {
    let lang = asked.state.lang();
    let text = say!(
        lang,
        "post-roll-mistake",
        surface = in_post(asked.state, lang, tag),
        how = say!(lang, how_key(how)),
        who = person(asked.ask.who)
    );
    draft.post(
        format!("outage:{no}:mended:{record}"),
        alarm::channel(asked.state, asked.facility, tag),
        Lane::Reminder,
        Message::text(text),
    );
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

fn how_button(how: Roll) -> (&'static str, Look) {
    match how {
        Roll::Holding => ("button-holding", Look::Good),
        Roll::Low => ("button-low", Look::Caution),
        Roll::Flat => ("button-flat", Look::Caution),
        Roll::Powered => ("button-powered", Look::Plain),
        Roll::Empty => ("button-empty", Look::Plain),
    }
}

pub(super) fn how_key(how: Roll) -> &'static str {
    match how {
        Roll::Holding => "roll-holding",
        Roll::Low => "roll-low",
        Roll::Flat => "roll-flat",
        Roll::Powered => "roll-powered",
        Roll::Empty => "roll-empty",
    }
}
