//! What schedules post: the shift card with its due list, the handover, the summary, and the word to
//! supervisors that loftwatch was away. Decides what they say; a slot is posted once, under its own key.

use chrono::{DateTime, TimeDelta, Utc};

use super::list::{DueItem, DueKind, list};
use crate::choice::What;
use crate::decide::{
    Draft, clock_time, day_time, in_post, lines_for_handover, minutes_open, paper_names, person,
    renewals_due, still_missing, unit_channel, wish_lines,
};
use crate::decision::{Decision, Lane};
use crate::ids::{Channel, ScheduleName, Unit};
use crate::message::{Look, Menu, MenuEntry, Message, ROWS_MAX, TEXT_CHARS_MAX};
use crate::record::Body;
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;
use crate::said::Source;
use crate::say;
use crate::state::{Facility, Life, Schedule, State};
use crate::tap::Tap;
use crate::words::Lang;

/// How many missed slots are counted one by one; there may be more after a long time away.
const SLOTS_MAX: usize = 200;
/// Lines of one kind that a list shows before it only counts.
const LINES_MAX: usize = 8;
/// Entries in the menu of a due list.
const PICKS_MAX: usize = 25;

/// The schedule whose slot comes next.
pub(super) fn next(state: &State) -> Option<(DateTime<Utc>, &ScheduleName)> {
    state
        .schedules
        .iter()
        .filter_map(|(name, schedule)| Some((schedule.next?.1, name)))
        .min()
}

/// The newest slot that has come is posted; older ones that were missed are counted.
pub(super) fn fire(
    state: &State,
    facility: &Facility,
    name: &ScheduleName,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let schedule = state.schedules.get(name)?;
    let slots = schedule
        .pattern
        .slots_between(schedule.last, now, &facility.zone, SLOTS_MAX);
    let (slot, at) = *slots.due.last()?;
    let missed = u32::try_from(slots.left_out + slots.due.len() - 1).unwrap_or(u32::MAX);
    let mut draft = Draft::for_clock(state, now);
    draft.fact(Body::SlotFired {
        name: name.clone(),
        slot,
        missed,
    });
    let key = format!("slot:{name}:{}", slot.format("%Y-%m-%dT%H:%M"));
    for (suffix, channel, message) in posts(state, facility, schedule, at, now) {
        draft.post(format!("{key}{suffix}"), channel, Lane::Reminder, message);
    }
    let source = Source(format!("slot{name}.{}", slot.format("%Y-%m-%dT%H:%M:%S")));
    Some((source, draft.decision))
}

type Out = (String, crate::ids::Channel, Message);

fn posts(
    state: &State,
    facility: &Facility,
    schedule: &Schedule,
    at: DateTime<Utc>,
    now: DateTime<Utc>,
) -> Vec<Out> {
    let lang = state.lang();
    let late = if now - at > TimeDelta::minutes(state.policies.get(Name::PostLate)) {
        format!("{}\n", say!(lang, "slot-late", at = day_time(at)))
    } else {
        String::new()
    };
    let one = |unit: Option<&Unit>| {
        let mut message = match schedule.what {
            What::DueList => shift_card(state, lang, unit, now),
            What::Handover => handover(state, lang, unit, now),
            What::Summary => summary(state, lang, unit, now),
            What::Weekend => super::weekend::post(state, facility, lang, now),
        };
        message.text.insert_str(0, &late);
        message.silent = !matches!(schedule.what, What::DueList | What::Weekend);
        message
    };
    match &schedule.unit {
        Some(unit) => vec![(
            String::new(),
            unit_channel(state, facility, Some(unit)),
            one(Some(unit)),
        )],
        None => {
            let mut out = vec![(String::new(), facility.supervisor_channel, one(None))];
            // The shift card goes to every unit that has a channel of its own, so that its silence means trouble.
            if schedule.what == What::DueList {
                for (name, unit) in &state.units {
                    if let Some(channel) = unit.channel {
                        out.push((format!(":{name}"), channel, one(Some(name))));
                    }
                }
            }
            out
        }
    }
}

/// The card at a shift's start: always there, with one line when nothing is due.
fn shift_card(state: &State, lang: Lang, unit: Option<&Unit>, now: DateTime<Utc>) -> Message {
    let items = list(state, unit, now);
    let head = match unit {
        Some(unit) => say!(lang, "shift-head-unit", unit = unit.as_str()),
        None => say!(lang, "shift-head"),
    };
    let mut head = under_outages(state, lang, unit, now, head);
    if unit.is_none() {
        for line in wish_lines(state, lang) {
            head.push('\n');
            head.push_str(&line);
        }
        head = with_renewals(state, lang, now, head);
    }
    let mut message = body(state, lang, &items, now, head, false);
    let rounds: Vec<&Unit> = match unit {
        Some(unit) => vec![unit],
        None => state.units.keys().collect(),
    };
    let with_checks = rounds
        .into_iter()
        .filter(|unit| {
            items
                .iter()
                .any(|item| item.unit.as_ref() == Some(*unit) && is_check(&item.kind))
        })
        .take(crate::message::BUTTONS_MAX);
    let buttons = with_checks
        .map(|unit| crate::message::Button {
            id: Tap::StartRound { unit: unit.clone() }.id(),
            label: say!(lang, "button-start-round", unit = unit.as_str()),
            look: Look::Main,
        })
        .collect();
    if message.rows.len() < ROWS_MAX {
        message = message.buttons(buttons);
    }
    message
}

/// The head of a list, with a line for each unit without power.
pub(crate) fn under_outages(
    state: &State,
    lang: Lang,
    unit: Option<&Unit>,
    now: DateTime<Utc>,
    head: String,
) -> String {
    let lines = super::outage::lines(state, lang, unit, now);
    std::iter::once(head)
        .chain(lines)
        .collect::<Vec<_>>()
        .join("\n")
}

/// The head of a list for supervisors, with a line where sign-offs are to be renewed.
pub(crate) fn with_renewals(state: &State, lang: Lang, now: DateTime<Utc>, head: String) -> String {
    match renewals_due(state, lang, now) {
        Some(line) => format!("{head}\n{line}"),
        None => head,
    }
}

fn is_check(kind: &DueKind) -> bool {
    matches!(kind, DueKind::Recheck | DueKind::TryAgain | DueKind::Check)
}

/// A due list as a message: one line a kind of work, the surfaces behind it, and a menu to act on one.
pub(crate) fn body(
    state: &State,
    lang: Lang,
    items: &[DueItem],
    now: DateTime<Utc>,
    head: String,
    beds: bool,
) -> Message {
    let mut text = head;
    if items.is_empty() {
        text.push('\n');
        text.push_str(&say!(
            lang,
            "due-nothing",
            at = clock_time(super::next_checks(state, now))
        ));
        return Message::text(text);
    }
    let mut start = 0;
    while start < items.len() {
        let key = words_key(&items[start].kind);
        let end = items[start..]
            .iter()
            .position(|item| words_key(&item.kind) != key)
            .map_or(items.len(), |n| start + n);
        // A surface can be due for two pieces of one kind of work; it is named once.
        let mut group: Vec<&DueItem> = items[start..end].iter().collect();
        group.dedup_by_key(|item| &item.tag);
        let names: Vec<String> = group
            .iter()
            .take(LINES_MAX)
            .map(|item| match (&item.bed, beds) {
                (Some(bed), true) => say!(
                    lang,
                    "surface-with-bed",
                    tag = item.tag.as_str(),
                    bed = bed.as_str()
                ),
                _ => in_post(state, lang, &item.tag),
            })
            .zip(&group)
            .map(|(name, item)| {
                if item.clean_last {
                    say!(lang, "due-clean-last", surface = name)
                } else {
                    name
                }
            })
            .collect();
        let more = group.len().saturating_sub(LINES_MAX) as i64;
        let oldest = group.iter().map(|item| item.since).min().unwrap_or(now);
        let mut line = say!(
            lang,
            key,
            count = group.len() as i64,
            oldest = clock_time(oldest)
        );
        line.push_str(&names.join(", "));
        if more > 0 {
            line.push_str(&say!(lang, "due-more", count = more));
        }
        text.push('\n');
        text.push_str(&line);
        start = end;
    }
    truncate(&mut text);
    let mut entries: Vec<MenuEntry> = Vec::new();
    for item in items {
        // A surface can be due for two things; a menu names it once, for the more urgent one.
        if entries.len() < PICKS_MAX
            && !entries.iter().any(|entry| entry.value == item.tag.as_str())
        {
            let label = match (&item.bed, beds) {
                (Some(bed), true) => say!(
                    lang,
                    "surface-with-bed",
                    tag = item.tag.as_str(),
                    bed = bed.as_str()
                ),
                _ => in_post(state, lang, &item.tag),
            };
            let about = say!(lang, &format!("{}-short", words_key(&item.kind)));
            entries.push(MenuEntry {
                value: item.tag.to_string(),
                label,
                about: Some(about),
            });
        }
    }
    let menu = Menu {
        id: "pick".to_owned(),
        hint: say!(lang, "menu-pick"),
        entries,
    };
    Message::text(text).menu(menu)
}

/// The key of a kind of work; with `-short` behind it, of its two or three words in a menu.
pub(crate) fn words_key(kind: &DueKind) -> &'static str {
    match kind {
        DueKind::Alarm(_) => "due-alarm",
        DueKind::StillUnder => "due-still-under",
        DueKind::GapOver => "due-gap-over",
        DueKind::Recheck => "due-recheck",
        DueKind::TryAgain => "due-try-again",
        DueKind::Steps => "due-steps",
        DueKind::StaticOver => "due-static-over",
        DueKind::LeaveOver => "due-leave-over",
        DueKind::Check => "due-check",
        DueKind::SecondCheck(_) => "due-second-check",
        DueKind::FilterOld => "due-filter-old",
        DueKind::FilterLook => "due-filter-look",
        DueKind::Turnover => "due-turnover",
        DueKind::Repair => "due-repair",
        DueKind::SafetyTest => "due-safety-test",
        DueKind::Maintenance => "due-maintenance",
        DueKind::OutletTest => "due-outlet-test",
        DueKind::PaperMissing => "due-paper-missing",
        DueKind::Held => "due-held",
        DueKind::Idle => "due-idle",
        DueKind::Pickup => "due-pickup",
    }
}

/// What the next shift must know.
fn handover(state: &State, lang: Lang, unit: Option<&Unit>, now: DateTime<Utc>) -> Message {
    let mut lines = vec![match unit {
        Some(unit) => say!(lang, "handover-head-unit", unit = unit.as_str()),
        None => say!(lang, "handover-head"),
    }];
    lines.extend(super::outage::lines(state, lang, unit, now));
    let here = |tag| unit.is_none() || state.unit_of(tag) == unit;
    for (_, alarm) in state.alarms.iter().filter(|(_, alarm)| here(&alarm.tag)) {
        let taken = match alarm.taken {
            Some((who, _)) => say!(lang, "handover-taken", who = person(who)),
            None => say!(lang, "handover-not-taken"),
        };
        lines.push(say!(
            lang,
            "handover-alarm",
            surface = in_post(state, lang, &alarm.tag),
            minutes = minutes_open(alarm, now),
            taken = taken
        ));
    }
    for (tag, recheck) in state.rechecks.iter().filter(|(tag, _)| here(tag)) {
        let key = match recheck.after {
            Judgement::CouldNot => "handover-unchecked",
            Judgement::Adequate | Judgement::Low | Judgement::High | Judgement::BottomedOut => {
                "handover-recheck"
            }
        };
        lines.push(say!(
            lang,
            key,
            surface = in_post(state, lang, tag),
            at = clock_time(recheck.due)
        ));
    }
    lines.extend(lines_for_handover(state, lang, unit, now));
    let items = list(state, unit, now);
    let papers = items
        .iter()
        .filter(|item| item.kind == DueKind::PaperMissing);
    for item in papers.take(LINES_MAX) {
        let missing = state
            .surfaces
            .get(&item.tag)
            .map_or_else(Vec::new, |surface| still_missing(state, surface, now));
        lines.push(say!(
            lang,
            "handover-paper-missing",
            surface = in_post(state, lang, &item.tag),
            missing = paper_names(lang, &missing)
        ));
    }
    let count = |wanted: &str| {
        items
            .iter()
            .filter(|item| words_key(&item.kind) == wanted)
            .count() as i64
    };
    let named = |wanted: &str| {
        let of: Vec<String> = items
            .iter()
            .filter(|item| words_key(&item.kind) == wanted)
            .map(|item| in_post(state, lang, &item.tag))
            .collect();
        let mut tags = of
            .iter()
            .take(LINES_MAX)
            .cloned()
            .collect::<Vec<_>>()
            .join(", ");
        if of.len() > LINES_MAX {
            let more = (of.len() - LINES_MAX) as i64;
            tags = say!(lang, "handover-more", tags = tags, count = more);
        }
        tags
    };
    for key in [
        "due-still-under",
        "due-gap-over",
        "due-steps",
        "due-static-over",
        "due-leave-over",
        "due-check",
        "due-filter-old",
        "due-filter-look",
        "due-safety-test",
        "due-maintenance",
        "due-outlet-test",
        "due-turnover",
        "due-repair",
        "due-held",
        "due-idle",
        "due-pickup",
    ] {
        let number = count(key);
        if number == 0 {
            continue;
        }
        // What nobody may use is named: recalled ones are under a bed, held, or with those that wait for repair.
        let tags = match key {
            "due-still-under" | "due-held" | "due-repair" => named(key),
            _ => String::new(),
        };
        lines.push(say!(
            lang,
            &format!("handover-{}", &key[4..]),
            count = number,
            tags = tags
        ));
    }
    let marked: Vec<String> = state
        .surfaces
        .iter()
        .filter(|(_, surface)| surface.clean_last && !matches!(surface.life, Life::Retired { .. }))
        .filter(|(tag, surface)| here(tag) || surface.bed().is_none())
        .map(|(tag, _)| in_post(state, lang, tag))
        .collect();
    if !marked.is_empty() {
        lines.push(say!(lang, "handover-clean-last", tags = marked.join(", ")));
    }
    lines.extend(empty_beds_over(state, lang, unit));
    let target = TimeDelta::hours(state.policies.get(Name::TurnoverHours));
    let old = items
        .iter()
        .filter(|item| item.kind == DueKind::Turnover && now - item.since > target)
        .count() as i64;
    if old > 0 {
        lines.push(say!(
            lang,
            "handover-turnover-late",
            count = old,
            hours = target.num_hours()
        ));
    }
    if lines.len() == 1 {
        lines.push(say!(lang, "handover-nothing"));
    }
    let mut text = lines.join("\n");
    truncate(&mut text);
    Message::text(text)
}

/// Gaps over the limit at beds without a surface: no list of surfaces has them. Only supervisors read which beds.
fn empty_beds_over(state: &State, lang: Lang, unit: Option<&Unit>) -> Option<String> {
    let beds: Vec<&str> = state
        .frames
        .iter()
        .filter(|(bed, frame)| frame.over.is_some() && !state.under.contains_key(*bed))
        .filter(|(bed, _)| unit.is_none() || state.bed_units.get(*bed) == unit)
        .map(|(bed, _)| bed.as_str())
        .collect();
    if beds.is_empty() {
        return None;
    }
    let count = beds.len() as i64;
    Some(match unit {
        None => say!(
            lang,
            "handover-gap-beds",
            count = count,
            beds = beds.join(", ")
        ),
        Some(_) => say!(lang, "handover-gap-empty", count = count),
    })
}

/// The home in numbers.
fn summary(state: &State, lang: Lang, unit: Option<&Unit>, now: DateTime<Utc>) -> Message {
    let shift = super::shift_start(state, now);
    let (mut placed, mut checked, mut ready, mut soiled, mut out) = (0, 0, 0, 0, 0);
    for (tag, surface) in &state.surfaces {
        if unit.is_some() && state.unit_of(tag) != unit {
            continue;
        }
        match &surface.life {
            Life::Placed { .. } => {
                placed += 1;
                checked += i64::from(surface.check_here().is_some_and(|check| check.at >= shift));
            }
            Life::Ready { .. } => ready += 1,
            Life::Soiled(_) => soiled += 1,
            Life::OutOfService { .. } => out += 1,
            Life::Retired { .. } => {}
        }
    }
    let alarms = state
        .alarms
        .values()
        .filter(|alarm| unit.is_none() || state.unit_of(&alarm.tag) == unit)
        .count();
    let head = match unit {
        Some(unit) => say!(lang, "summary-head-unit", unit = unit.as_str()),
        None => say!(lang, "summary-head"),
    };
    let figures = say!(
        lang,
        "summary-figures",
        placed = placed,
        checked = checked,
        ready = ready,
        soiled = soiled,
        out = out,
        alarms = alarms as i64
    );
    let head = under_outages(state, lang, unit, now, head);
    Message::text(format!("{head}\n{figures}"))
}

/// The word to supervisors that loftwatch was away.
pub(crate) fn returned_post(
    state: &State,
    facility: &Facility,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
) -> (Source, Decision) {
    let mut draft = Draft::for_clock(state, to);
    draft.fact(Body::Away { from, to });
    let lang = state.lang();
    let text = say!(lang, "post-away", from = day_time(from), to = day_time(to));
    let message = Message::text(text).pinging(crate::decide::ping_roles(
        facility,
        &[crate::role::Role::Supervisor],
    ));
    draft.post(
        format!("away:{}", from.timestamp()),
        facility.supervisor_channel,
        Lane::Reminder,
        message,
    );
    (Source(format!("away{}", from.timestamp())), draft.decision)
}

/// A call that its channel does not take: the supervisors are told, or everybody where theirs is the one that fails.
/// `key` is the key of the post. `None` for what calls nobody, and for this word itself.
pub(crate) fn undelivered(
    state: &State,
    facility: &Facility,
    key: &str,
    channel: Channel,
) -> Option<(Source, Decision)> {
    let calls = [
        "alarm:",
        "rung:",
        "again:",
        "worse:",
        "unchecked:",
        "pulled:",
        "low:",
        "recheck:",
        "call:",
        "gap:",
        "outage:",
        "roll:",
        "recall:",
    ];
    if !calls.iter().any(|call| key.starts_with(call)) {
        return None;
    }
    let to = if channel == facility.supervisor_channel {
        facility.care_channel
    } else {
        facility.supervisor_channel
    };
    // One word a channel and alarm is enough: its rungs fail as its card did.
    let about: Vec<&str> = key.split(':').take(2).skip(1).collect();
    let about = about.concat();
    let mut draft = Draft::for_clock(state, DateTime::UNIX_EPOCH);
    let lang = state.lang();
    let text = say!(lang, "post-undelivered", channel = format!("<#{channel}>"));
    let message = Message::text(text).pinging(crate::decide::ping_roles(
        facility,
        &[crate::role::Role::Supervisor],
    ));
    draft.post(
        format!("undelivered:{channel}:{about}"),
        to,
        Lane::Escalation,
        message,
    );
    Some((
        Source(format!("undelivered{channel}.{about}")),
        draft.decision,
    ))
}

/// Keeps a text inside of what one message holds, at a line's end, and says that it was cut.
pub(crate) fn truncate(text: &mut String) {
    // Room for a late line before it and roles after it.
    const ROOM: usize = 200;
    let most = TEXT_CHARS_MAX - ROOM;
    if text.chars().count() <= most {
        return;
    }
    let end = text
        .char_indices()
        .nth(most)
        .map_or(text.len(), |(at, _)| at);
    let line = text[..end].rfind('\n').unwrap_or(end);
    text.truncate(line);
    text.push_str("\n…");
}
