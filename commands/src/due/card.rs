//! The card of a shift and what else lists work: a line a kind, a menu to act on one, who is on duty. Decides what is shown
//! and what is only counted; leaves what is due to `list`, and what follows from a choice to `decide::work`.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, TimeDelta, Utc};

use super::list::{DueItem, DueKind, list};
use super::slots;
use crate::choice::What;
use crate::decide::{
    Draft, clock_time, for_role, have_button, in_post, on_duty_line, order_line, renewals_due,
    wish_lines, with_acts,
};
use crate::ids::Unit;
use crate::message::{BUTTONS_MAX, Button, Look, Menu, MenuEntry, Message, Row, TEXT_CHARS_MAX};
use crate::role::Role;
use crate::say;
use crate::state::{Facility, State};
use crate::tap::{Tap, Work};
use crate::words::Lang;

/// The keys of all kinds of work.
const KINDS: [&str; 23] = [
    "due-alarm",
    "due-still-under",
    "due-gap-over",
    "due-recheck",
    "due-try-again",
    "due-after-power",
    "due-steps",
    "due-static-over",
    "due-leave-over",
    "due-check",
    "due-second-check",
    "due-losing-loft",
    "due-filter-old",
    "due-filter-look",
    "due-turnover",
    "due-repair",
    "due-safety-test",
    "due-maintenance",
    "due-outlet-test",
    "due-paper-missing",
    "due-held",
    "due-idle",
    "due-pickup",
];
/// Lines of one kind that a list shows before it only counts.
const LINES_MAX: usize = 8;
/// Entries in the menu of a due list.
const PICKS_MAX: usize = 25;
/// A shift card older than this stays as it is.
const CARD_HOURS: i64 = 14;

/// The card at a shift's start: always there, with one line when nothing is due.
/// Without a sound, unless an alarm or a power failure is open.
pub(super) fn shift_card(
    state: &State,
    lang: Lang,
    unit: Option<&Unit>,
    now: DateTime<Utc>,
) -> Message {
    let items = list(state, unit, now);
    let head = match unit {
        Some(unit) => say!(lang, "shift-head-unit", unit = unit.as_str()),
        None => say!(lang, "shift-head"),
    };
    let mut head = under_outages(state, lang, unit, now, head);
    if let Some(line) = on_duty_line(state, lang, unit, now) {
        head = format!("{head}\n{line}");
    }
    if unit.is_none() {
        head = for_supervisors(state, lang, None, now, head);
    }
    let menu = Tap::Work(Work::Open {
        unit: unit.cloned(),
        tag: "".into(),
        kind: String::new(),
    });
    let mut message = body(state, lang, &items, now, head, false, menu.id());
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
        .take(BUTTONS_MAX - 1);
    let mut buttons: Vec<Button> = with_checks
        .map(|unit| Button {
            id: Tap::StartRound { unit: unit.clone() }.id(),
            label: say!(lang, "button-start-round", unit = unit.as_str()),
            look: Look::Main,
        })
        .collect();
    buttons.push(have_button(
        state,
        lang,
        unit,
        super::next_shift(state, now),
    ));
    message = message.buttons(buttons);
    let alarm = items
        .iter()
        .any(|item| matches!(item.kind, DueKind::Alarm(_)));
    let dark = state
        .outages
        .values()
        .any(|open| unit.is_none_or(|unit| open.unit == *unit));
    message.silent = !(alarm || dark);
    message
}

/// The same for upkeep, in its own channel: its work in all units, and what is to be ordered.
pub(super) fn upkeep_card(state: &State, lang: Lang, now: DateTime<Utc>) -> Message {
    let mut items = list(state, None, now);
    items.retain(|item| for_role(&item.kind, Role::Upkeep));
    let head = say!(lang, "shift-head-upkeep");
    let mut head = under_outages(state, lang, None, now, head);
    if let Some(line) = order_line(state, lang, now) {
        head = format!("{head}\n{line}");
    }
    let menu = Tap::Work(Work::Open {
        unit: None,
        tag: "".into(),
        kind: String::new(),
    });
    let mut message = body(state, lang, &items, now, head, false, menu.id());
    message.silent = true;
    message
}

/// The newest shift cards of a unit, and of all of them, read so from now on; `after` is the state with the draft's facts.
pub(crate) fn refresh(after: &State, facility: &Facility, draft: &mut Draft, unit: Option<&Unit>) {
    let now = draft.at;
    let recent = now - TimeDelta::hours(CARD_HOURS);
    let (lang, first) = (after.lang(), draft.first());
    for (name, card) in &after.duty.cards {
        let Some(schedule) = after.schedules.get(name) else {
            continue;
        };
        if facility.zone.instant(card.slot) < recent {
            continue;
        }
        let posted = slots::slot_key(name, card.slot, card.set_back);
        for (suffix, channel, of) in slots::places(after, facility, schedule.unit.as_ref()) {
            if of.is_none() || unit.is_none() || of == unit {
                let key = format!("{posted}{suffix}");
                let message = shift_card(after, lang, of, now);
                draft.edit(format!("{key}:{first}"), key, channel, message);
            }
        }
        if let Some((suffix, channel)) = slots::for_upkeep(facility, schedule)
            && schedule.what == What::DueList
        {
            let key = format!("{posted}{suffix}");
            let message = upkeep_card(after, lang, now);
            draft.edit(format!("{key}:{first}"), key, channel, message);
        }
    }
}

/// The head of a list that supervisors read, with what waits for one of them: wishes, and where it is of all units,
/// what is to be ordered and sign-offs to be renewed.
pub(crate) fn for_supervisors(
    state: &State,
    lang: Lang,
    unit: Option<&Unit>,
    now: DateTime<Utc>,
    head: String,
) -> String {
    let renewals = unit.is_none().then(|| renewals_due(state, lang, now));
    let order = unit.is_none().then(|| order_line(state, lang, now));
    std::iter::once(head)
        .chain(wish_lines(state, lang))
        .chain(order.flatten())
        .chain(renewals.flatten())
        .collect::<Vec<_>>()
        .join("\n")
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
    menu: String,
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
                let name = marked(state, lang, item, name);
                if item.kind == DueKind::GapOver {
                    with_acts(state, lang, &item.tag, name)
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
    let mut offered = BTreeSet::new();
    // A surface can be due for two pieces of one kind of work; it is offered once.
    let mut picks: Vec<&DueItem> = items
        .iter()
        .filter(|item| offered.insert(value_of(item)))
        .collect();
    let all = picks.len();
    if all > PICKS_MAX {
        picks = of_every_kind(picks);
    }
    let hint = if all > PICKS_MAX {
        say!(
            lang,
            "menu-pick-some",
            some = PICKS_MAX as i64,
            all = all as i64
        )
    } else {
        say!(lang, "menu-pick")
    };
    let entries = picks
        .into_iter()
        .map(|item| {
            let label = match (&item.bed, beds) {
                (Some(bed), true) => say!(
                    lang,
                    "surface-with-bed",
                    tag = item.tag.as_str(),
                    bed = bed.as_str()
                ),
                _ => in_post(state, lang, &item.tag),
            };
            MenuEntry {
                value: value_of(item),
                label,
                about: Some(say!(lang, &format!("{}-short", words_key(&item.kind)))),
            }
        })
        .collect();
    let mut message = Message::text(text);
    message.rows.push(Row::Menu(Menu {
        id: menu,
        hint,
        entries,
    }));
    message
}

/// As many as a menu holds, the first of every kind before the second of any: much of one kind does not hide the rest.
fn of_every_kind(items: Vec<&DueItem>) -> Vec<&DueItem> {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    let mut ranked: Vec<(usize, usize, &DueItem)> = Vec::new();
    for (place, item) in items.into_iter().enumerate() {
        let of_kind = seen.entry(kind_word(&item.kind)).or_default();
        ranked.push((*of_kind, place, item));
        *of_kind += 1;
    }
    ranked.sort_by_key(|(rank, place, _)| (*rank, *place));
    ranked.truncate(PICKS_MAX);
    ranked.sort_by_key(|(_, place, _)| *place);
    ranked.into_iter().map(|(.., item)| item).collect()
}

/// What a menu brings back for an item: the tag and the word of its kind.
fn value_of(item: &DueItem) -> String {
    format!("{} {}", item.tag, kind_word(&item.kind))
}

/// A surface's name with what must be known before somebody goes there.
fn marked(state: &State, lang: Lang, item: &DueItem, name: String) -> String {
    let recalled = item.kind == DueKind::Repair && state.recall_of(&item.tag).is_some();
    let name = if recalled {
        say!(lang, "due-recalled", surface = name)
    } else {
        name
    };
    let name = if item.clean_last {
        say!(lang, "due-clean-last", surface = name)
    } else {
        name
    };
    match item.ahead {
        Some(ahead) => say!(lang, ahead.key(), surface = name),
        None => name,
    }
}

/// The two or three words of a kind of work, by its word in a menu's values; `None` for a word that is none of ours.
pub(crate) fn short_words(lang: Lang, word: &str) -> Option<String> {
    KINDS
        .iter()
        .find(|key| key.trim_start_matches("due-") == word)
        .map(|key| say!(lang, &format!("{key}-short")))
}

/// The word of a kind of work in a menu's values.
pub(crate) fn kind_word(kind: &DueKind) -> &'static str {
    words_key(kind).trim_start_matches("due-")
}

/// The key of a kind of work; with `-short` behind it, of its two or three words in a menu.
pub(crate) fn words_key(kind: &DueKind) -> &'static str {
    match kind {
        DueKind::Alarm(_) => "due-alarm",
        DueKind::StillUnder => "due-still-under",
        DueKind::GapOver => "due-gap-over",
        DueKind::Recheck => "due-recheck",
        DueKind::TryAgain => "due-try-again",
        DueKind::AfterPower => "due-after-power",
        DueKind::Steps => "due-steps",
        DueKind::StaticOver => "due-static-over",
        DueKind::LeaveOver => "due-leave-over",
        DueKind::Check => "due-check",
        DueKind::SecondCheck(_) => "due-second-check",
        DueKind::LosingLoft => "due-losing-loft",
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_too_long_ends_with_a_whole_line_and_says_that_it_was_cut() {
        let line = format!("- **LW-07**, bed 101: {}", "é".repeat(30));
        let mut long = vec![line.as_str(); 100].join("\n");
        let mut short = long.chars().take(1_800).collect::<String>();
        let before = short.clone();
        truncate(&mut short);
        assert_eq!(short, before, "it fits");
        truncate(&mut long);
        let (kept, end) = long.rsplit_once('\n').unwrap();
        assert_eq!(end, "…");
        assert!(kept.lines().all(|one| one == line), "{kept}");
        // A late line and roles have room beside it, and no more is cut than need be.
        let most = TEXT_CHARS_MAX - 200;
        let count = kept.chars().count();
        assert!(
            count <= most && count + line.chars().count() >= most,
            "{count}"
        );
    }
}
