//! Lists that are worked through: an item is chosen, its own taps or form come, and after them the list goes on with the
//! next, like a round. Decides what each kind of work leads to, and what is said when somebody else has done it meanwhile;
//! leaves what a tap does to the part that it belongs to, and what is due to `due::list`.

use super::check::{name_buttons, named_label};
use super::draft::{Asked, button, clock_time, person, state_after};
use super::{items, second_check, wish};
use crate::decision::Decision;
use crate::due::{self, DueItem, DueKind, card};
use crate::ids::{Tag, Unit};
use crate::message::{Answer, BUTTONS_MAX, Look, Message, ROWS_MAX, Row, TEXT_CHARS_MAX};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::request::{Request, Right};
use crate::role::Role;
use crate::say;
use crate::state::State;
use crate::tap::{Bedside, Duty, List, Loft, Tap, Work};
use crate::words::Lang;

/// What stays free in a message for the roles and beds that a post might add.
const ROOM: usize = 100;

/// What a tap in a list is about, without the list; the list goes on once it is done.
pub(super) fn of_list(request: Request) -> (Option<List>, Request) {
    if let Request::Tap(Tap::Work(Work::In { list, tap })) = request {
        (Some(list), Request::Tap(*tap))
    } else {
        (None, request)
    }
}

/// A tap in a list.
pub(super) fn tapped(asked: &Asked<'_>, tap: Work) -> Result<Decision, Refusal> {
    match tap {
        Work::Open { unit, tag, kind } => {
            let unit = unit.and_then(|unit| {
                let known = asked.state.units.get_key_value(&unit);
                known.map(|(unit, _)| unit.clone())
            });
            let all = of_scope(asked.state, asked, unit.as_ref()).len();
            let list = List {
                unit,
                all: u16::try_from(all).unwrap_or(u16::MAX),
                card: true,
            };
            Ok(Decision::private(chosen(asked, &list, &tag, &kind)))
        }
        Work::Pick { list, tag, kind } => Ok(replaced(chosen(asked, &list, &tag, &kind))),
        Work::Next { list, tag, kind } => {
            let items = of_scope(asked.state, asked, list.unit.as_ref());
            let after = |item: &DueItem| item.tag == tag && card::kind_word(&item.kind) == kind;
            let place = items.iter().position(after).map_or(0, |at| at + 1);
            // At the end it begins again with what was left.
            let next = items.get(place).or_else(|| items.first());
            Ok(replaced(match next {
                Some(item) => shown(asked, &list, item, items.len(), None),
                None => nothing_left(asked, &list, None),
            }))
        }
        Work::All { list } => Ok(replaced(message(asked, &list, None))),
        // Unwrapped before anything was decided.
        Work::In { .. } => Err(Refusal::new("fault-stale-tap")),
        Work::Filter { .. }
        | Work::Cycle { .. }
        | Work::Cycles
        | Work::Served { .. }
        | Work::Serve { .. }
        | Work::ServeTyped { .. }
        | Work::Outlet { .. }
        | Work::OutletBad { .. }
        | Work::Zones { .. }
        | Work::ZonesTyped { .. }
        | Work::Cleaned { .. }
        | Work::Rinsed { .. }
        | Work::Return { .. }
        | Work::Stop { .. }
        | Work::Swap { .. }
        | Work::SwapSure { .. } => items::tapped(asked, tap),
    }
}

fn replaced(message: Message) -> Decision {
    Decision {
        answer: Some(Answer::Replace(message)),
        ..Decision::default()
    }
}

/// What is due for the asker, in a unit or in all of them.
pub(super) fn of_scope(state: &State, asked: &Asked<'_>, unit: Option<&Unit>) -> Vec<DueItem> {
    let mut items = due::list(state, unit, asked.now);
    items.retain(|item| for_role(&item.kind, asked.role));
    items
}

/// Whether a piece of work stands on the list of somebody in this role: nobody reads every morning what they may not do.
pub(crate) fn for_role(kind: &DueKind, role: Role) -> bool {
    let right = if matches!(kind, DueKind::Held | DueKind::Idle | DueKind::Pickup) {
        Right::Supervise
    } else if at_the_resident(kind) {
        Right::Check
    } else {
        Right::Read
    };
    right.roles().contains(&role)
}

/// What only those do who may check: it is done with the resident.
pub(super) fn at_the_resident(kind: &DueKind) -> bool {
    match kind {
        DueKind::Check
        | DueKind::Recheck
        | DueKind::TryAgain
        | DueKind::AfterPower
        | DueKind::Steps
        | DueKind::StaticOver
        | DueKind::LeaveOver => true,
        DueKind::SecondCheck(task) => second_check::at_the_bed(*task),
        DueKind::Alarm(_)
        | DueKind::StillUnder
        | DueKind::GapOver
        | DueKind::LosingLoft
        | DueKind::FilterOld
        | DueKind::FilterLook
        | DueKind::SafetyTest
        | DueKind::Maintenance
        | DueKind::OutletTest
        | DueKind::PaperMissing
        | DueKind::Turnover
        | DueKind::Repair
        | DueKind::Held
        | DueKind::Idle
        | DueKind::Pickup => false,
    }
}

/// The list, for its reader alone. `said` stands before it.
pub(super) fn message(asked: &Asked<'_>, list: &List, said: Option<String>) -> Message {
    let items = of_scope(asked.state, asked, list.unit.as_ref());
    let lang = asked.lang;
    let unit = list.unit.as_ref();
    let mut head = match unit {
        Some(unit) => say!(lang, "due-head-unit", unit = unit.as_str()),
        None => say!(lang, "due-head"),
    };
    if usize::from(list.all) != items.len() {
        head = format!("{head} {}", left_words(lang, items.len(), list));
    }
    head = due::under_outages(asked.state, lang, unit, asked.now, head);
    if let Some(line) = super::duty::on_duty_line(asked.state, lang, unit, asked.now) {
        head = format!("{head}\n{line}");
    }
    if asked.role == Role::Supervisor {
        head = due::for_supervisors(asked.state, lang, unit, asked.now, head);
    } else if asked.role == Role::Admin {
        head = std::iter::once(head)
            .chain(wish::lines(asked.state, lang))
            .collect::<Vec<_>>()
            .join("\n");
    } else if asked.role == Role::Upkeep
        && let Some(line) = super::stock::order_line(asked.state, lang, asked.now)
    {
        head = format!("{head}\n{line}");
    }
    if let Some(said) = said {
        head = format!("{said}\n\n{head}");
    }
    let menu = Tap::Work(Work::Pick {
        list: list.clone(),
        tag: "".into(),
        kind: String::new(),
    });
    let mut message = due::body(asked.state, lang, &items, asked.now, head, true, menu.id());
    let checks = items.iter().any(|item| {
        matches!(
            item.kind,
            DueKind::Check | DueKind::Recheck | DueKind::TryAgain
        )
    });
    if let Some(unit) = unit.filter(|_| checks) {
        message = message.buttons(vec![super::look::start_round(lang, unit)]);
    }
    for row in wish::on_a_list(asked) {
        message = message.buttons(row);
    }
    message
}

fn left_words(lang: Lang, left: usize, list: &List) -> String {
    say!(
        lang,
        "due-left",
        left = left as i64,
        // More can have come since the list was read.
        all = (left as i64).max(i64::from(list.all))
    )
}

/// An item was chosen: its card, or who has done it meanwhile and the next one.
fn chosen(asked: &Asked<'_>, list: &List, tag: &Tag, kind: &str) -> Message {
    let items = of_scope(asked.state, asked, list.unit.as_ref());
    let wanted = |item: &&DueItem| item.tag == *tag && card::kind_word(&item.kind) == kind;
    if let Some(item) = items.iter().find(wanted) {
        return shown(asked, list, item, items.len(), None);
    }
    let said = done_words(asked, tag, kind);
    match items.first() {
        Some(item) => shown(asked, list, item, items.len(), Some(said)),
        None => nothing_left(asked, list, Some(said)),
    }
}

/// Who did what is no longer due, as far as that is known.
fn done_words(asked: &Asked<'_>, tag: &Tag, kind: &str) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let Some((tag, surface)) = state.surfaces.get_key_value(tag) else {
        return say!(lang, "work-gone", tag = tag.as_str());
    };
    let mark = match kind {
        "check" | "recheck" | "try-again" => {
            surface.check_here().map(|check| (check.who, check.at))
        }
        "alarm" => surface
            .last_alarm
            .as_ref()
            .map(|ended| (ended.who, ended.at)),
        _ => None,
    };
    let mark = mark.or_else(|| surface.touched.map(|mark| (mark.who, mark.at)));
    let Some(what) = card::short_words(lang, kind) else {
        return Refusal::new("fault-stale-tap").say(lang);
    };
    match mark {
        Some((who, at)) => say!(
            lang,
            "work-done-by",
            surface = asked.with_bed(tag),
            what = what,
            who = who.map_or_else(|| "loftwatch".to_owned(), person),
            at = clock_time(at)
        ),
        None => say!(
            lang,
            "work-done",
            surface = asked.with_bed(tag),
            what = what
        ),
    }
}

/// An item's card in its list, with the way to the next and back.
fn shown(
    asked: &Asked<'_>,
    list: &List,
    item: &DueItem,
    left: usize,
    said: Option<String>,
) -> Message {
    let lang = asked.lang;
    let mut message = match items::card(asked, item) {
        Ok(message) => message,
        Err(no) => Message::text(no.say(lang)),
    };
    around(list, &mut message);
    if matches!(
        item.kind,
        DueKind::Check | DueKind::Recheck | DueKind::TryAgain
    ) {
        // One comes up where the one before stood: each button says whose reading it takes.
        let name = match &item.bed {
            Some(bed) => say!(
                lang,
                "button-bed",
                tag = item.tag.as_str(),
                bed = bed.as_str()
            ),
            None => item.tag.to_string(),
        };
        name_buttons(&mut message, lang, &name);
    }
    let head = match &list.unit {
        Some(unit) => say!(lang, "work-head-unit", unit = unit.as_str()),
        None => say!(lang, "work-head"),
    };
    let before = said.map_or_else(String::new, |said| format!("{said}\n\n"));
    message.text = format!(
        "{before}{head} {}\n{}",
        left_words(lang, left, list),
        message.text
    );
    due::truncate(&mut message.text);
    let kind = card::kind_word(&item.kind).to_owned();
    let mut nav = Vec::new();
    if left > 1 {
        let next = Work::Next {
            list: list.clone(),
            tag: item.tag.clone(),
            kind,
        };
        nav.push(button(lang, "button-next", Look::Plain, &Tap::Work(next)));
    }
    nav.push(all_button(lang, list));
    with_last_buttons(message, nav)
}

fn all_button(lang: Lang, list: &List) -> crate::message::Button {
    let tap = Tap::Work(Work::All { list: list.clone() });
    button(lang, "button-list", Look::Plain, &tap)
}

fn nothing_left(asked: &Asked<'_>, list: &List, said: Option<String>) -> Message {
    message(asked, list, said)
}

/// Every button and menu of a card comes back with the list around it, but for those that lead elsewhere.
fn around(list: &List, message: &mut Message) {
    let wrap = |id: &mut String| {
        let leads_elsewhere = matches!(
            Tap::read(id, Some(""), |_| None),
            Ok(Tap::StartRound { .. }
                | Tap::Work(Work::All { .. } | Work::Next { .. } | Work::Cycle { .. })
                | Tap::Loft(Loft::Why { .. })
                | Tap::Duty(Duty::Have { .. }))
        );
        if !leads_elsewhere {
            *id = list.around(id);
        }
    };
    for row in &mut message.rows {
        match row {
            Row::Buttons(buttons) => buttons.iter_mut().for_each(|button| wrap(&mut button.id)),
            Row::Menu(menu) => wrap(&mut menu.id),
        }
    }
}

/// More buttons: in the last row where there is room, else in a row of their own, else in any row that has room.
fn with_last_buttons(mut message: Message, more: Vec<crate::message::Button>) -> Message {
    if more.is_empty() {
        return message;
    }
    let has_room = |row: &Row| match row {
        Row::Buttons(row) => row.len() + more.len() <= BUTTONS_MAX,
        Row::Menu(_) => false,
    };
    let last = message.rows.len().saturating_sub(1);
    let place = match message.rows.iter().rposition(has_room) {
        Some(place) if place == last || message.rows.len() >= ROWS_MAX => place,
        Some(_) | None if message.rows.len() < ROWS_MAX => return message.buttons(more),
        Some(_) | None => return message,
    };
    if let Some(Row::Buttons(row)) = message.rows.get_mut(place) {
        row.extend(more);
    }
    message
}

/// What was tapped in a list has been decided: its answer, and the list goes on.
pub(super) fn go_on(asked: &Asked<'_>, list: &List, mut decision: Decision) -> Decision {
    let mut said = match decision.answer.take() {
        Some(Answer::Form(mut form)) => {
            form.id = list.around(&form.id);
            decision.answer = Some(Answer::Form(form));
            return decision;
        }
        Some(Answer::Private(message) | Answer::Replace(message) | Answer::Shared(message)) => {
            message
        }
        other => {
            decision.answer = other;
            return decision;
        }
    };
    let after = state_after(asked.state, Some(asked.ask.who), asked.now, &decision);
    let then = Asked {
        state: &after,
        ..*asked
    };
    if list.card && !decision.entries.is_empty() {
        let mut draft = asked.draft();
        draft.decision = decision;
        card::refresh(&after, asked.facility, &mut draft, list.unit.as_ref());
        decision = draft.decision;
    }
    let unfinished = has_steps(&said);
    around(list, &mut said);
    let items = of_scope(&after, &then, list.unit.as_ref());
    // What is done to a bed's frame or outlet stands on the list under the surface there.
    let at_bed = |body: &Body| match body.beds() {
        [bed] => asked.state.under.get(bed),
        _ => None,
    };
    let done = decision
        .entries
        .iter()
        .find_map(|entry| entry.body.surface().or_else(|| at_bed(&entry.body)));
    let before = of_scope(asked.state, asked, list.unit.as_ref());
    let taken_back = decision
        .entries
        .iter()
        .any(|entry| matches!(entry.body, Body::TakenBack { .. }));
    let next = if taken_back {
        asked_again(&before, &items, done).or_else(|| next_after(&before, &items, done))
    } else {
        next_after(&before, &items, done)
    };
    let answer = match next {
        // It has steps of its own that come first.
        _ if unfinished || decision.entries.is_empty() => {
            with_last_buttons(said, vec![all_button(asked.lang, list)])
        }
        None => {
            let mut left = nothing_left(&then, list, Some(said.text));
            left.rows.extend(said.rows);
            left
        }
        Some(item) => {
            let next = shown(&then, list, item, items.len(), None);
            let text = format!("{}\n\n{}", said.text, next.text);
            if text.chars().count() + ROOM > TEXT_CHARS_MAX {
                with_last_buttons(said, vec![all_button(asked.lang, list)])
            } else {
                let mut both = next;
                both.text = text;
                let mut back: Vec<_> = said.rows.into_iter().flat_map(buttons_of).collect();
                // Under the next one's text they say whose they are.
                if let Some(tag) = done {
                    for button in &mut back {
                        button.label = named_label(asked.lang, tag.as_str(), &button.label);
                    }
                }
                with_last_buttons(both, back)
            }
        }
    };
    decision.answer = Some(Answer::Replace(answer));
    decision
}

/// What was taken back is to be done again, and it is asked about that before anything else.
fn asked_again<'a>(
    before: &[DueItem],
    now: &'a [DueItem],
    done: Option<&Tag>,
) -> Option<&'a DueItem> {
    let about = || now.iter().filter(|item| Some(&item.tag) == done);
    about()
        .find(|item| !before.iter().any(|other| same(other, item)))
        .or_else(|| about().next())
}

fn same(a: &DueItem, b: &DueItem) -> bool {
    a.tag == b.tag && card::kind_word(&a.kind) == card::kind_word(&b.kind)
}

/// The item after the one that was just seen to, in the order in which the list was read; from its end on again from the
/// front. Another piece of work on the same surface waits for its turn.
fn next_after<'a>(
    before: &[DueItem],
    now: &'a [DueItem],
    done: Option<&Tag>,
) -> Option<&'a DueItem> {
    let about = |item: &&DueItem| Some(&item.tag) == done;
    // What is gone from the list was seen to; where nothing is, the first about that surface.
    let gone = |item: &&DueItem| about(item) && !now.iter().any(|other| same(other, item));
    let place = before
        .iter()
        .position(|item| gone(&item))
        .or_else(|| before.iter().position(|item| about(&item)))
        .map_or(0, |at| at + 1);
    let still = |item: &DueItem| now.iter().find(|other| same(other, item));
    let others = |item: &&DueItem| Some(&item.tag) != done;
    before
        .iter()
        .skip(place)
        .filter(others)
        .find_map(still)
        .or_else(|| now.iter().find(others))
        .or_else(|| now.first())
}

fn buttons_of(row: Row) -> Vec<crate::message::Button> {
    match row {
        Row::Buttons(buttons) => buttons,
        Row::Menu(_) => Vec::new(),
    }
}

/// Whether an answer asks for more than to be read: the way to a checklist stands on the list itself.
fn has_steps(message: &Message) -> bool {
    message.rows.iter().any(|row| match row {
        Row::Menu(_) => true,
        Row::Buttons(buttons) => buttons.iter().any(|button| {
            !matches!(
                Tap::read(&button.id, None, |_| None),
                Ok(Tap::TakeBack { .. }
                    | Tap::Bedside(Bedside::Steps { .. })
                    | Tap::Work(Work::Cycle { .. }))
            )
        }),
    })
}
