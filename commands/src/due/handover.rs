//! What the next shift must know, on one screen of a phone. Decides what is said first and what is only counted; leaves who
//! may accept it to `decide::handover`, and what is due to `list`.

mod calls;
mod parts;

use chrono::{DateTime, TimeDelta, Utc};

pub(crate) use parts::parts;

use super::card::words_key;
use super::list::{DueItem, DueKind, list};
use crate::choice::Opening;
use crate::decide::{
    button, clock_time, day_time, had_duty_line, in_post, lines_for_handover, minutes_open,
    on_duty_line, paper_names, person, role_word, span, still_missing, with_acts,
};
use crate::ids::{HandoverNo, Person, RecordNo, Unit};
use crate::message::{Look, Message};
use crate::rules;
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Handover, Life, State};
use crate::tap::{Duty, Tap};
use crate::words::Lang;

/// The most characters of a handover, as they are shown.
pub const CHARS_MOST: usize = 1_200;
/// The most lines, as a phone of 390 px breaks them.
pub const LINES_MOST: usize = 25;
/// Characters that such a line holds.
const LINE_CHARS: usize = 42;
/// A moment so long ago could be one of yesterday.
const PLAIN: TimeDelta = TimeDelta::hours(12);
/// Names, or runs of them, that a line shows before it only counts.
const NAMES_MAX: usize = 8;

/// A handover that is posted now.
pub(super) fn made(
    no: RecordNo,
    unit: Option<&Unit>,
    shift: DateTime<Utc>,
    now: DateTime<Utc>,
) -> Handover {
    Handover {
        no: HandoverNo(no.0),
        unit: unit.cloned(),
        shift,
        at: now,
        accepted: None,
    }
}

/// The key of a handover's card in the outbox.
pub(crate) fn key(no: HandoverNo) -> String {
    format!("handover:{no}")
}

/// The card of a handover, as things stand at `now`.
pub(crate) fn card(state: &State, lang: Lang, of: &Handover, now: DateTime<Utc>) -> Message {
    let mut told = Shift::of(state, of.unit.as_ref(), of.shift, now);
    told.posted = Some(of.at);
    let (mut message, more) = told.message(state, lang, of.accepted.is_none());
    let mut buttons = Vec::new();
    match of.accepted {
        None => buttons.push(button(
            lang,
            "button-accept",
            Look::Good,
            &Tap::Duty(Duty::Accept { handover: of.no }),
        )),
        Some((who, role, at)) => {
            let line = say!(
                lang,
                "handover-accepted",
                at = clock_time(at),
                who = person(who),
                role = role_word(lang, role)
            );
            message.text = format!("{}\n{line}", message.text);
        }
    }
    if more {
        buttons.push(rest_button(lang, of.unit.as_ref(), of.shift, 0));
    }
    message.buttons(buttons)
}

/// The button that opens a part of what did not fit, for its reader alone.
pub(crate) fn rest_button(
    lang: Lang,
    unit: Option<&Unit>,
    shift: DateTime<Utc>,
    part: u16,
) -> crate::message::Button {
    let tap = Tap::Duty(Duty::Rest {
        unit: unit.cloned(),
        shift: shift.timestamp() / 60,
        part,
    });
    button(lang, "button-rest", Look::Plain, &tap)
}

/// A shift that hands over, or is about to.
pub(crate) struct Shift<'a> {
    unit: Option<&'a Unit>,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
    /// When it is looked at.
    now: DateTime<Utc>,
    /// When it was posted, if it was.
    posted: Option<DateTime<Utc>>,
}

impl<'a> Shift<'a> {
    /// The shift that began at `from`.
    pub fn of(
        state: &State,
        unit: Option<&'a Unit>,
        from: DateTime<Utc>,
        now: DateTime<Utc>,
    ) -> Self {
        let to = super::next_shift(state, from);
        Self {
            unit,
            from,
            to,
            now,
            posted: None,
        }
    }

    /// The handover, and whether there are lines that are not on it whole: those that did not fit, and those that only
    /// count some.
    pub fn message(&self, state: &State, lang: Lang, open: bool) -> (Message, bool) {
        let (shown, kept) = self.screen(state, lang, open);
        let more = !self.after(state, lang, kept).is_empty();
        (Message::text(shown.join("\n")), more)
    }

    /// The lines that its card does not show whole. A card stands in the home's language or in its reader's, as it was
    /// posted or as it was accepted: what the shortest of those leaves out is said here, so that none leaves a gap.
    pub fn rest(mut self, state: &State, lang: Lang) -> Vec<String> {
        let card = state.duty.handover(self.unit);
        self.posted = card.filter(|of| of.shift == self.from).map(|of| of.at);
        let kept = [lang, state.lang()]
            .into_iter()
            .flat_map(|lang| [true, false].map(|open| self.screen(state, lang, open).1))
            .min();
        self.after(state, lang, kept.unwrap_or(0))
    }

    /// What one screen shows, and how many of the lines those are.
    fn screen(&self, state: &State, lang: Lang, open: bool) -> (Vec<String>, usize) {
        let head = match self.unit {
            Some(unit) => say!(
                lang,
                "handover-head-unit",
                unit = unit.as_str(),
                from = clock_time(self.from)
            ),
            None => say!(lang, "handover-head", from = clock_time(self.from)),
        };
        let mut shown = vec![head];
        // Who is on duty while it is read in its shift; later, and at its acceptance, those are other people.
        shown.extend(if open && self.now < self.to {
            on_duty_line(state, lang, self.unit, self.now)
        } else {
            let end = self.posted.unwrap_or(self.to).min(self.to);
            had_duty_line(state, lang, self.unit, (self.from, end))
        });
        let mut lines = self.lines(state, lang, NAMES_MAX);
        if lines.is_empty() {
            lines.push(say!(lang, "handover-nothing"));
        }
        let kept = parts::fit(lang, &mut shown, &lines);
        (shown, kept)
    }

    /// The lines that a screen with the first `kept` does not show whole.
    fn after(&self, state: &State, lang: Lang, kept: usize) -> Vec<String> {
        let lines = self.lines(state, lang, NAMES_MAX);
        let whole = self.lines(state, lang, usize::MAX);
        whole
            .into_iter()
            .enumerate()
            .filter(|(place, line)| *place >= kept || lines.get(*place) != Some(line))
            .map(|(_, line)| line)
            .collect()
    }

    /// Everything there is to say, the most urgent first; a line names so many at `most`.
    fn lines(&self, state: &State, lang: Lang, most: usize) -> Vec<String> {
        let mut lines = super::outage::lines(state, lang, self.unit, self.now);
        lines.extend(self.outages(state, lang));
        lines.extend(self.alarms(state, lang));
        lines.extend(self.rechecks(state, lang));
        lines.extend(lines_for_handover(state, lang, self.unit, self.now));
        // What was due in the shift that hands over, not in the one that has begun meanwhile.
        let as_of = self.now.min(self.to - TimeDelta::seconds(1));
        let items = list(state, self.unit, as_of);
        let counted = |key: &str| {
            let of_kind = |item: &&DueItem| words_key(&item.kind) == key;
            let of: Vec<&DueItem> = items.iter().filter(of_kind).collect();
            let named = match key {
                "due-still-under" | "due-gap-over" | "due-losing-loft" | "due-held"
                | "due-repair" => {
                    let tags = of.iter().map(|item| match key {
                        "due-gap-over" => {
                            with_acts(state, lang, &item.tag, in_post(state, lang, &item.tag))
                        }
                        _ => in_post(state, lang, &item.tag),
                    });
                    names(lang, tags.collect(), most)
                }
                _ => short_names(state, lang, &of, most),
            };
            let count = of.len() as i64;
            (count > 0).then(|| {
                let key = format!("handover-{}", key.trim_start_matches("due-"));
                say!(lang, &key, count = count, tags = named)
            })
        };
        lines.extend(
            ["due-still-under", "due-gap-over"]
                .into_iter()
                .filter_map(counted),
        );
        lines.extend(self.empty_beds_over(state, lang));
        lines.extend(self.static_modes(state, lang));
        lines.extend(self.set_ups(state, lang));
        lines.extend(["due-leave-over"].into_iter().filter_map(counted));
        lines.extend(self.papers(state, lang, &items));
        lines.extend(
            ["due-losing-loft", "due-check"]
                .into_iter()
                .filter_map(counted),
        );
        lines.extend(self.told(state, lang, most));
        let target = TimeDelta::hours(state.policies.get(Name::TurnoverHours));
        let late: Vec<&DueItem> = items
            .iter()
            .filter(|item| item.kind == DueKind::Turnover && self.now - item.since > target)
            .collect();
        if !late.is_empty() {
            lines.push(say!(
                lang,
                "handover-turnover-late",
                count = late.len() as i64,
                hours = target.num_hours(),
                tags = short_names(state, lang, &late, most)
            ));
        }
        lines.extend(["due-held", "due-repair"].into_iter().filter_map(counted));
        lines.extend(self.clean_last(state, lang, most));
        lines.extend(
            [
                "due-turnover",
                "due-filter-old",
                "due-filter-look",
                "due-safety-test",
                "due-maintenance",
                "due-outlet-test",
                "due-idle",
                "due-pickup",
            ]
            .into_iter()
            .filter_map(counted),
        );
        lines
    }

    /// A moment by the clock, with its day where that is not plain.
    fn moment(&self, at: DateTime<Utc>) -> String {
        if self.now - at < PLAIN {
            clock_time(at)
        } else {
            day_time(at)
        }
    }

    /// The power failures of the shift that are over.
    fn outages(&self, state: &State, lang: Lang) -> Vec<String> {
        let over = state.outages_over.iter().filter(|over| {
            self.unit.is_none_or(|unit| over.unit == *unit)
                && over.to > self.from
                && over.from < self.to
        });
        over.map(|over| {
            let callers: Vec<String> = over.callers.iter().map(|who| person(*who)).collect();
            let who = if callers.is_empty() {
                say!(lang, "handover-roll-nobody")
            } else {
                say!(lang, "handover-roll-by", who = callers.join(", "))
            };
            say!(
                lang,
                "handover-outage",
                unit = over.unit.as_str(),
                from = self.moment(over.from),
                to = self.moment(over.to),
                who = who
            )
        })
        .collect()
    }

    fn here(&self, state: &State, tag: &crate::ids::Tag) -> bool {
        self.unit.is_none() || state.unit_of(tag) == self.unit
    }

    fn alarms(&self, state: &State, lang: Lang) -> Vec<String> {
        let mut open: Vec<_> = state
            .alarms
            .values()
            .filter(|alarm| self.here(state, &alarm.tag))
            .collect();
        open.sort_by_key(|alarm| alarm.opened);
        open.into_iter()
            .map(|alarm| {
                // Once it was taken, it stays so, even where the ladder has begun again since.
                let mut taken = match (alarm.taken, alarm.left) {
                    (Some((who, _)), _) => say!(lang, "handover-taken", who = person(who)),
                    (None, Some((who, at))) => say!(
                        lang,
                        "handover-was-taken",
                        who = person(who),
                        at = self.moment(at)
                    ),
                    (None, None) => say!(lang, "handover-not-taken"),
                };
                if let Some((who, at)) = alarm.safe {
                    let at = self.moment(at);
                    let safe = say!(lang, "handover-was-safe", who = person(who), at = at);
                    taken = format!("{safe}, {taken}");
                }
                say!(
                    lang,
                    "handover-alarm",
                    surface = in_post(state, lang, &alarm.tag),
                    span = span(lang, minutes_open(alarm, self.now)),
                    taken = taken
                )
            })
            .collect()
    }

    fn rechecks(&self, state: &State, lang: Lang) -> Vec<String> {
        let mut booked: Vec<_> = state
            .rechecks
            .iter()
            .filter(|(tag, _)| self.here(state, tag))
            .collect();
        booked.sort_by_key(|(_, recheck)| (recheck.after == Judgement::CouldNot, recheck.due));
        booked
            .into_iter()
            .map(|(tag, recheck)| {
                let key = match recheck.after {
                    Judgement::CouldNot => "handover-unchecked",
                    Judgement::High => "handover-recheck-high",
                    Judgement::Adequate | Judgement::Low | Judgement::BottomedOut => {
                        "handover-recheck-low"
                    }
                };
                say!(
                    lang,
                    key,
                    surface = in_post(state, lang, tag),
                    at = self.moment(recheck.due)
                )
            })
            .collect()
    }

    /// Gaps over the limit at beds without a surface: no list of surfaces has them. Only supervisors read which beds.
    fn empty_beds_over(&self, state: &State, lang: Lang) -> Option<String> {
        let beds: Vec<&str> = state
            .frames
            .iter()
            .filter(|(bed, frame)| frame.over.is_some() && !state.under.contains_key(*bed))
            .filter(|(bed, _)| self.unit.is_none() || state.bed_units.get(*bed) == self.unit)
            .map(|(bed, _)| bed.as_str())
            .collect();
        if beds.is_empty() {
            return None;
        }
        let count = beds.len() as i64;
        Some(match self.unit {
            None => say!(
                lang,
                "handover-gap-beds",
                count = count,
                beds = beds.join(", ")
            ),
            Some(_) => say!(lang, "handover-gap-empty", count = count),
        })
    }

    /// Static mode that still runs, over its time or not: it is to be turned back by whoever comes.
    fn static_modes(&self, state: &State, lang: Lang) -> Vec<String> {
        let running = state.surfaces.iter().filter_map(|(tag, surface)| {
            let held = surface.static_mode?;
            matches!(surface.life, Life::Placed { .. }).then_some((tag, held.since, held.until))
        });
        running
            .filter(|(tag, ..)| self.here(state, tag))
            .map(|(tag, since, until)| {
                let key = if until <= self.now {
                    "handover-static-over"
                } else {
                    "handover-static"
                };
                say!(
                    lang,
                    key,
                    surface = in_post(state, lang, tag),
                    since = clock_time(since),
                    until = clock_time(until)
                )
            })
            .collect()
    }

    /// Checklists at beds that are not finished, and who began them.
    fn set_ups(&self, state: &State, lang: Lang) -> Vec<String> {
        let open = state
            .surfaces
            .iter()
            .filter(|(tag, surface)| surface.cpr.is_none() && self.here(state, tag));
        open.filter_map(|(tag, surface)| {
            let steps = surface.open_steps()?;
            let name = |who: Option<Person>| who.map_or_else(|| "loftwatch".to_owned(), person);
            let (surface, since) = (in_post(state, lang, tag), self.moment(steps.since));
            let left = steps.left().count() as i64;
            // Whoever said that power was back has begun nobody's set-up.
            Some(match (steps.opening, steps.goes_on) {
                (Opening::Power, None | Some((Opening::Power, ..))) => say!(
                    lang,
                    "handover-after-power",
                    surface = surface,
                    left = left,
                    since = since
                ),
                (Opening::Power, Some((_, began, who))) => say!(
                    lang,
                    "handover-after-power-too",
                    surface = surface,
                    left = left,
                    since = since,
                    began = self.moment(began),
                    who = name(who)
                ),
                (Opening::Placed | Opening::Moved | Opening::Cpr, _) => say!(
                    lang,
                    "handover-steps",
                    surface = surface,
                    left = left,
                    since = since,
                    who = name(steps.by)
                ),
            })
        })
        .collect()
    }

    /// Papers that were done without: in this shift by whom, and those of before that have still not come.
    fn papers(&self, state: &State, lang: Lang, items: &[DueItem]) -> Vec<String> {
        let missing = items
            .iter()
            .filter(|item| item.kind == DueKind::PaperMissing);
        missing
            .filter_map(|item| {
                let surface = state.surfaces.get(&item.tag)?;
                let mark = surface.waived.as_ref()?.mark;
                let missing = still_missing(state, surface, self.now);
                let (key, who) = match mark.who.filter(|_| mark.at >= self.from) {
                    Some(who) => ("handover-waived", person(who)),
                    None => ("handover-paper-missing", String::new()),
                };
                Some(say!(
                    lang,
                    key,
                    surface = in_post(state, lang, &item.tag),
                    missing = paper_names(lang, &missing),
                    who = who,
                    at = clock_time(mark.at)
                ))
            })
            .collect()
    }

    fn clean_last(&self, state: &State, lang: Lang, most: usize) -> Option<String> {
        let marked: Vec<String> = state
            .surfaces
            .iter()
            .filter(|(_, surface)| {
                surface.clean_last && !matches!(surface.life, Life::Retired { .. })
            })
            .filter(|(tag, surface)| self.here(state, tag) || surface.bed().is_none())
            .map(|(tag, _)| in_post(state, lang, tag))
            .collect();
        (!marked.is_empty()).then(|| {
            say!(
                lang,
                "handover-clean-last",
                tags = names(lang, marked, most)
            )
        })
    }
}

/// The beds, where the home has approved them in posts, and else the tags; those under no bed by their tags. Short.
pub(super) fn short_names(state: &State, lang: Lang, items: &[&DueItem], most: usize) -> String {
    let approved = state.policies.get(Name::BedsInPosts) == 1;
    let (mut beds, mut tags) = (Vec::new(), Vec::new());
    for item in items {
        match item.bed.as_ref().filter(|_| approved) {
            Some(bed) => beds.push(bed.to_string()),
            None => tags.push(item.tag.to_string()),
        }
    }
    let mut pieces = rules::beds::grouped(&beds);
    if let Some((first, _)) = pieces.first_mut() {
        let count = beds.len() as i64;
        *first = say!(lang, "handover-beds", count = count, beds = first.as_str());
    }
    pieces.extend(rules::beds::grouped(&tags));
    let more: usize = pieces.iter().skip(most).map(|(_, of)| of).sum();
    let shown: Vec<String> = pieces
        .into_iter()
        .take(most)
        .map(|(piece, _)| piece)
        .collect();
    and_more(lang, shown.join(", "), more)
}

fn names(lang: Lang, all: Vec<String>, most: usize) -> String {
    let more = all.len().saturating_sub(most);
    let shown: Vec<String> = all.into_iter().take(most).collect();
    and_more(lang, shown.join(", "), more)
}

fn and_more(lang: Lang, shown: String, more: usize) -> String {
    if more == 0 {
        return shown;
    }
    say!(lang, "handover-more", tags = shown, count = more as i64)
}
