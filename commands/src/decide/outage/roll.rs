//! The roll of a power failure: one surface after another, what was found at each, and what that begins. Decides what each answer
//! records and which comes next; leaves their order to `rules::holding`, opening and ending it to `outage`.

use chrono::{DateTime, Utc};

use super::{back_button, book, card, edit, edit_done, left, next_roll, opened};
use crate::choice::{Call, Roll};
use crate::decide::check::named_label;
use crate::decide::draft::{Asked, Draft, button, clock_time, in_post, person};
use crate::decide::{alarm, which_bed};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::{AlarmNo, OutageNo, RecordNo, Tag};
use crate::message::{Answer, Button, Look, Message, Row};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::Role;
use crate::rules::priority::{AlarmKind, alarm_priority};
use crate::say;
use crate::state::{Mark, Outage, State, Surface};
use crate::tap::{Power, Tap};
use crate::words::Lang;

/// One surface was looked at.
pub(in crate::decide) fn seen(
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
pub(in crate::decide) fn later(
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
pub(in crate::decide) fn again(
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
pub(in crate::decide) fn mended(
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
                let key = if crate::decide::nurse::acts(asked) {
                    "post-flat-no-power-nurse"
                } else {
                    "post-flat-no-power"
                };
                call_nurse(asked, &mut draft, no, key, tag, record);
            }
        }
        Roll::Low => {
            let key = if crate::decide::nurse::acts(asked) {
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
    let asks = if crate::decide::nurse::acts(asked) {
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

/// The private card that asks how the next one stands; or that the roll is done.
pub(super) fn next_card(asked: &Asked<'_>, no: OutageNo, open: &Outage, said: String) -> Message {
    let left = left(asked.state, open);
    match left.first() {
        Some(tag) => ask(asked, no, open, tag, said),
        None => finished(asked, no, open, said),
    }
}

/// The private card that asks how this one stands.
pub(super) fn ask(
    asked: &Asked<'_>,
    no: OutageNo,
    open: &Outage,
    tag: &Tag,
    said: String,
) -> Message {
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
pub(super) fn finished(asked: &Asked<'_>, no: OutageNo, open: &Outage, said: String) -> Message {
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
pub(in crate::decide) fn back_to_roll(asked: &Asked<'_>, tag: &Tag) -> Option<Button> {
    let unit = asked.state.unit_of(tag)?;
    let (no, open) = asked.state.outage_of(unit)?;
    let goes_on = open.order.contains(tag) && !left(asked.state, open).is_empty();
    goes_on.then(|| go_on_button(asked.lang, no))
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

fn how_button(how: Roll) -> (&'static str, Look) {
    match how {
        Roll::Holding => ("button-holding", Look::Good),
        Roll::Low => ("button-low", Look::Caution),
        Roll::Flat => ("button-flat", Look::Caution),
        Roll::Powered => ("button-powered", Look::Plain),
        Roll::Empty => ("button-empty", Look::Plain),
    }
}

pub(in crate::decide) fn how_key(how: Roll) -> &'static str {
    match how {
        Roll::Holding => "roll-holding",
        Roll::Low => "roll-low",
        Roll::Flat => "roll-flat",
        Roll::Powered => "roll-powered",
        Roll::Empty => "roll-empty",
    }
}
