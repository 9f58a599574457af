//! The whole of what happened to a surface or at a bed, in one answer. Decides what belongs to it, what a phone shows of
//! it, and what is said of an entry that was corrected or taken back; leaves each record's words to `line` and the sheet
//! to print to `page`. Beds are named, so it is for whoever asked alone.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

use super::check::{escaped, quoted};
use super::draft::{Asked, button, clock_time, day_time, person};
use super::entry;
use crate::decision::Decision;
use crate::evidence::{Evidence, Span};
use crate::ids::{Bed, RecordNo, Tag};
use crate::message::{ENTRIES_MAX, Look, Menu, MenuEntry, Message, TEXT_CHARS_MAX};
use crate::past::{self, Entry, Wanted, bed_at, beds_of};
use crate::record::{Body, Record};
use crate::refusal::Refusal;
use crate::rules::nearest::{self, Match};
use crate::say;
use crate::tap::{self, Line, Tap};
use line::{Pen, changes, tells, words};
use people::People;

pub(super) mod line;
pub(super) mod page;
mod people;
mod policy;

/// Shifts without a check are named of so many days: what a month's survey looks at. Older ones are in `/report`.
const MISSED_DAYS: TimeDelta = TimeDelta::days(31);
/// The most of a page's text, in characters: the rest is for its head and what the platform adds.
const PAGE_CHARS: usize = TEXT_CHARS_MAX - 300;
/// How many corrected entries the trail shows.
const TRAIL_MOST: usize = 10;

/// The fewest letters and digits that a serial is found by from its end.
const SERIAL_TAIL_LEAST: usize = 3;
/// Surfaces that are named where several end so.
const ENDING_MOST: usize = 10;

/// `/timeline`.
pub(super) fn timeline(asked: &Asked<'_>, typed: &str) -> Result<Decision, Refusal> {
    let word = typed.trim().to_lowercase();
    let line = match find(asked, typed) {
        Ok(line) => line,
        // A tag or a bed goes before; a policy is known by its whole name.
        Err(no) => match crate::rules::policy::find(&word) {
            Some(row) => return Ok(policy::history(asked, row)),
            None => return Err(no),
        },
    };
    let read = match asked.past.whole(&wanted(&line)) {
        Ok(read) => read,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let days = Wanted::Span(lately(asked));
    let Some(whole) = asked.past.get(&days) else {
        return Ok(Decision::wanting(days));
    };
    let told = Told::of(&line, &read);
    let upto = read.last().map_or(RecordNo(0), |record| record.no);
    let mut message = told.page(asked, upto, 0);
    let evidence = Evidence::of(whole, &asked.facility.zone, lately(asked), asked.now);
    let people = People::of(&told);
    // Who is who is read whole; what has no room beside it stands on the sheet.
    let who = people.on_phone(asked.lang);
    cut_to(&mut message.text, TEXT_CHARS_MAX - who.chars().count());
    message.text.push_str(&who);
    message
        .files
        .push(page::sheet(asked, &told, &people, &evidence.missed()));
    Ok(Decision::private(message))
}

/// The days in which shifts without a check are named.
fn lately(asked: &Asked<'_>) -> Span {
    Span {
        from: asked.now - MISSED_DAYS,
        to: asked.now,
    }
}

/// Another page of it.
pub(super) fn page(
    asked: &Asked<'_>,
    line: &Line,
    upto: RecordNo,
    skip: u32,
) -> Result<Decision, Refusal> {
    let read = match asked.past.whole(&wanted(line)) {
        Ok(read) => read,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let end = read.partition_point(|record| record.no <= upto);
    let told = Told::of(line, &read[..end]);
    // A message of its own: in the place of the first page it would keep that page's file.
    Ok(Decision::private(told.page(asked, upto, skip as usize)))
}

/// What was corrected, remarked on or taken back, with who and why.
pub(super) fn corrections(asked: &Asked<'_>, line: &Line) -> Result<Decision, Refusal> {
    let read = match asked.past.whole(&wanted(line)) {
        Ok(read) => read,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let told = Told::of(line, &read);
    let lang = asked.lang;
    let mut lines = vec![say!(lang, "timeline-corrections", of = told.name(asked))];
    let corrected = told.rows.iter().rev().filter(|row| row.has_trail());
    let mut left = 0;
    for (place, row) in corrected.enumerate() {
        if place >= TRAIL_MOST {
            left += 1;
            continue;
        }
        lines.push(told.short(asked, row));
        lines.extend(entry::trail(asked, &row.entry));
    }
    if left > 0 {
        lines.push(say!(lang, "timeline-more", count = left));
    }
    if lines.len() == 1 {
        lines.push(say!(lang, "timeline-uncorrected"));
    }
    let mut text = lines.join("\n");
    cut(&mut text);
    Ok(Decision::private(Message::text(text)))
}

fn wanted(line: &Line) -> Wanted {
    match line {
        Line::Surface(tag) => Wanted::Surface(tag.clone()),
        Line::Bed(bed) => Wanted::Bed(bed.clone()),
    }
}

/// A tag or a bed, as typed.
fn find(asked: &Asked<'_>, typed: &str) -> Result<Line, Refusal> {
    let state = asked.state;
    let named = |name: &str| {
        let surface = state.surfaces.get_key_value(name);
        let bed = state.bed_units.get_key_value(name);
        surface
            .map(|(tag, _)| Line::Surface(tag.clone()))
            .or_else(|| bed.map(|(bed, _)| Line::Bed(bed.clone())))
    };
    let names = state
        .surfaces
        .keys()
        .map(Tag::as_str)
        .chain(state.bed_units.keys().map(Bed::as_str));
    let none = || Refusal::new("fault-no-timeline").text("typed", escaped(typed));
    let place = nearest::find_place(typed, names);
    if let Match::Nearest(_) = place {
        match *ending_so(asked, typed) {
            [] => {}
            [tag] => return Ok(Line::Surface(tag.clone())),
            ref several => {
                let these: Vec<String> = several
                    .iter()
                    .take(ENDING_MOST)
                    .map(|tag| of_serial(asked, tag))
                    .collect();
                return Err(Refusal::new("fault-timeline-several")
                    .text("typed", escaped(typed))
                    .text("these", these.join(", ")));
            }
        }
    }
    match place {
        Match::One(name) => named(name).ok_or_else(none),
        Match::Nearest(near) if near.is_empty() => Err(none()),
        Match::Several(near) | Match::Nearest(near) => Err(Refusal::new("fault-no-timeline-near")
            .text("typed", escaped(typed))
            .text("these", near.join(", "))),
    }
}

/// Surfaces whose serial ends as it was typed, or whose tag has that number: what stands on a plate is read from its end.
fn ending_so<'a>(asked: &Asked<'a>, typed: &str) -> Vec<&'a Tag> {
    let letters = |text: &str| -> String {
        let kept = text.chars().filter(|c| c.is_alphanumeric());
        kept.flat_map(char::to_lowercase).collect()
    };
    let wanted = letters(typed);
    if !wanted.chars().any(|c| c.is_ascii_digit()) {
        return Vec::new();
    }
    let number: Option<u64> = wanted.parse().ok();
    let of_tag = |tag: &Tag| {
        let name = letters(tag.as_str());
        let before = name.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        number.is_some() && name[before..].parse().ok() == number
    };
    let of_plate = |serial: &str| {
        wanted.chars().count() >= SERIAL_TAIL_LEAST && letters(serial).ends_with(&wanted)
    };
    let surfaces = asked.state.surfaces.iter();
    surfaces
        .filter(|(tag, surface)| of_tag(tag) || surface.serial.as_deref().is_some_and(of_plate))
        .map(|(tag, _)| tag)
        .collect()
}

/// A tag with its serial, where it has one.
fn of_serial(asked: &Asked<'_>, tag: &Tag) -> String {
    let surface = asked.state.surfaces.get(tag);
    match surface.and_then(|surface| surface.serial.as_deref()) {
        Some(serial) => format!("{tag} ({})", escaped(serial)),
        None => tag.to_string(),
    }
}

/// A timeline as it is told.
struct Told<'a> {
    line: &'a Line,
    /// Oldest first.
    rows: Vec<Row<'a>>,
}

/// One thing that happened.
pub(super) struct Row<'a> {
    pub entry: Entry<'a>,
    /// The surface, where the timeline is a bed's.
    pub tag: Option<Tag>,
    /// It was entered here and is about another surface now.
    pub gone_to: Option<Tag>,
}

impl Row<'_> {
    pub fn has_trail(&self) -> bool {
        let entry = &self.entry;
        !entry.amended.is_empty() || !entry.remarks.is_empty() || entry.taken_back.is_some()
    }

    /// As it reads now, where it counts here.
    fn counts(&self) -> Option<&Body> {
        self.entry.counts().filter(|_| self.gone_to.is_none())
    }
}

impl<'a> Told<'a> {
    fn of(line: &'a Line, read: &'a [Record]) -> Self {
        let alarms: BTreeMap<u64, &Tag> = read
            .iter()
            .filter(|record| matches!(record.body, Body::AlarmOpened { .. }))
            .filter_map(|record| Some((record.no.0, record.body.surface()?)))
            .collect();
        let of_alarm = |body: &Body| alarms.get(&body.alarm()?.0).copied();
        let mut beds: BTreeMap<&Tag, Vec<(RecordNo, Option<&Bed>)>> = BTreeMap::new();
        for tag in read.iter().filter_map(|record| record.body.surface()) {
            beds.entry(tag).or_insert_with(|| beds_of(read, tag));
        }
        let mut rows: Vec<Row<'a>> = past::entries(read)
            .into_iter()
            .filter(|entry| tells(&entry.record.body))
            .filter_map(|entry| {
                let entered = &entry.record.body;
                let was = entered.surface().or_else(|| of_alarm(entered)).cloned();
                let is = entry.body.and_then(Body::surface).cloned();
                let moved = is.filter(|is| was.as_ref() != Some(is));
                let (gone_to, tag) = match line {
                    Line::Surface(tag) if was.as_ref() == Some(tag) => (moved, None),
                    Line::Surface(tag) if moved.as_ref() == Some(tag) => (None, None),
                    Line::Surface(_) => return None,
                    Line::Bed(bed) => {
                        let no = entry.record.no;
                        let under = |tag: &Tag| {
                            let of_tag = beds.get(tag)?;
                            let before = RecordNo(no.0.saturating_sub(1));
                            bed_at(of_tag, no).or_else(|| {
                                let leaves = of_tag.iter().any(|(at, _)| *at == no);
                                leaves.then(|| bed_at(of_tag, before)).flatten()
                            })
                        };
                        let here = |tag: &Option<Tag>| {
                            tag.as_ref().is_some_and(|tag| under(tag) == Some(bed))
                        };
                        let was_here = entered.beds().contains(bed) || here(&was);
                        match (was_here, &moved) {
                            (true, Some(to)) if under(to) != Some(bed) => (moved, was),
                            (_, Some(to)) if under(to) == Some(bed) => (None, moved),
                            (true, _) => (None, was),
                            (false, _) => return None,
                        }
                    }
                };
                Some(Row {
                    entry,
                    tag,
                    gone_to,
                })
            })
            .collect();
        rows.sort_by_key(|row| (row.entry.at, row.entry.record.no));
        Self { line, rows }
    }

    fn name(&self, asked: &Asked<'_>) -> String {
        match self.line {
            Line::Surface(tag) => asked.with_bed(tag),
            Line::Bed(bed) => say!(asked.lang, "timeline-bed", bed = bed.as_str()),
        }
    }

    /// What the phone shows after `skip` newer ones.
    fn page(&self, asked: &Asked<'_>, upto: RecordNo, skip: usize) -> Message {
        let lang = asked.lang;
        let count = self.rows.len();
        let mut text = say!(
            lang,
            "timeline-head",
            of = self.name(asked),
            count = count as i64
        );
        let mut shown: Vec<&Row<'_>> = Vec::new();
        let mut day: Option<NaiveDate> = None;
        for row in self.rows.iter().rev().skip(skip).take(ENTRIES_MAX) {
            let of = asked.facility.zone.local(row.entry.at).date();
            let mut line = self.short(asked, row);
            line.push_str(&Self::remarks(asked, row));
            if day != Some(of) {
                line = format!("**<t:{}:D>**\n{line}", row.entry.at.timestamp());
            }
            if text.chars().count() + line.chars().count() > PAGE_CHARS && !shown.is_empty() {
                break;
            }
            day = Some(of);
            text.push('\n');
            text.push_str(&line);
            shown.push(row);
        }
        if count == 0 {
            text.push('\n');
            text.push_str(&say!(lang, "timeline-empty"));
        }
        if skip == 0 {
            text.push('\n');
            text.push_str(&say!(lang, "timeline-foot"));
        }
        cut(&mut text);
        let mut message = Message::text(text);
        if !shown.is_empty() {
            let entries = shown
                .iter()
                .map(|row| self.menu_entry(asked, row))
                .collect();
            message = message.menu(Menu {
                id: Tap::Entry(tap::Entry::Look { entry: RecordNo(0) }).id(),
                hint: say!(lang, "menu-entry"),
                entries,
            });
        }
        let mut buttons = Vec::new();
        let next = skip + shown.len();
        let line = self.line.clone();
        if next < count {
            let skip = u32::try_from(next).unwrap_or(u32::MAX);
            let tap = Tap::Entry(tap::Entry::Page {
                line: line.clone(),
                upto,
                skip,
            });
            buttons.push(button(lang, "button-earlier", Look::Plain, &tap));
        }
        if skip > 0 {
            let tap = Tap::Entry(tap::Entry::Page {
                line: line.clone(),
                upto,
                skip: 0,
            });
            buttons.push(button(lang, "button-newest", Look::Plain, &tap));
        }
        if self.rows.iter().any(Row::has_trail) {
            let tap = Tap::Entry(tap::Entry::Corrections { line });
            buttons.push(button(lang, "button-corrections", Look::Plain, &tap));
        }
        message.buttons(buttons)
    }

    /// One line: when, what, who, and the entry's number.
    fn short(&self, asked: &Asked<'_>, row: &Row<'_>) -> String {
        let lang = asked.lang;
        let entry = &row.entry;
        let record = entry.record;
        let mut what = told(asked, row, Pen::chat(lang), |old| format!("~~{old}~~"));
        if let Some(tag) = &row.tag {
            what = format!("{tag}: {what}");
        }
        let mut line = say!(
            lang,
            "timeline-line",
            at = clock_time(entry.at),
            what = what,
            who = record.who.map_or_else(|| "loftwatch".to_owned(), person),
            entry = record.no.to_string()
        );
        line.extend(record.note.as_deref().map(quoted));
        line
    }

    /// The remarks on an entry that stand, a line each.
    fn remarks(asked: &Asked<'_>, row: &Row<'_>) -> String {
        let (lang, entry) = (asked.lang, &row.entry);
        let mut line = String::new();
        let remarks = entry.remarks.iter().filter(|record| {
            record.note.is_some()
                && matches!(record.body, Body::Annotated { .. })
                && !entry.unremarked(record.no)
        });
        for remark in remarks {
            let who = remark.who.map_or_else(|| "loftwatch".to_owned(), person);
            let reason = remark.note.as_deref().map_or_else(String::new, escaped);
            let at = day_time(remark.at);
            line.push('\n');
            line.push_str(&say!(
                lang,
                "entry-annotated",
                who = who,
                at = at,
                reason = reason
            ));
        }
        line
    }

    fn menu_entry(&self, asked: &Asked<'_>, row: &Row<'_>) -> MenuEntry {
        let zone = &asked.facility.zone;
        let moment = |at: DateTime<Utc>| zone.local(at).format("%H:%M").to_string();
        let pen = Pen {
            lang: asked.lang,
            moment: &moment,
            typed: str::to_owned,
            beds: true,
        };
        let body = row.entry.body.unwrap_or(&row.entry.record.body);
        let no = row.entry.record.no;
        let tag = row.tag.as_ref().or_else(|| body.surface());
        let about = tag.map(|tag| asked.with_bed(tag));
        let label = format!("#{no} · {} {}", moment(row.entry.at), words(pen, body));
        MenuEntry {
            value: no.to_string(),
            label: label.chars().take(100).collect(),
            about,
        }
    }
}

/// What a row says: how the entry reads, and marked with `struck` how it read before, or that it does not count.
fn told(asked: &Asked<'_>, row: &Row<'_>, pen: Pen<'_>, struck: impl Fn(&str) -> String) -> String {
    let entry = &row.entry;
    let lang = asked.lang;
    let last = entry.body.unwrap_or(&entry.record.body);
    if entry.taken_back.is_some() {
        return say!(
            lang,
            "timeline-taken-back",
            what = struck(&words(pen, last))
        );
    }
    if let Some(to) = &row.gone_to {
        let what = struck(&words(pen, &entry.record.body));
        return say!(lang, "timeline-moved", what = what, tag = to.as_str());
    }
    let Some(body) = row.counts() else {
        let what = struck(&words(pen, &entry.record.body));
        return say!(lang, "timeline-struck", what = what);
    };
    if entry.amended.is_empty() {
        return words(pen, body);
    }
    let first = (Some(&entry.record.body), entry.record.at);
    let mut what = vec![words(pen, body)];
    for change in changes(pen, first, (Some(body), entry.at)) {
        what.push(format!("{} {}", change.label, struck(&change.old)));
    }
    what.join(" · ")
}

/// A text that fits a message: what is over is said to be left out.
pub(super) fn cut(text: &mut String) {
    cut_to(text, TEXT_CHARS_MAX);
}

fn cut_to(text: &mut String, most: usize) {
    if text.chars().count() <= most {
        return;
    }
    *text = text.chars().take(most - 2).collect();
    // A line is shown whole or not at all.
    if let Some(end) = text.rfind('\n') {
        text.truncate(end + 1);
    }
    text.push('…');
}
