//! The tables of a report's page. Decides their columns and what stands in each cell; leaves their order to `page`. The first
//! cell of a row is its head, so that whoever hears the page instead of seeing it knows which line a cell is of.

use chrono::{DateTime, NaiveDate, Utc};

use super::{Facts, between, part_words, tally};
use crate::decide::draft::Asked;
use crate::decide::duty::role_word;
use crate::decide::paper::{self, element, html, plain};
use crate::decide::timeline::line::{Pen, words};
use crate::decide::timeline::{Row, page::cells};
use crate::decide::{check, look};
use crate::evidence::{Followed, Missing};
use crate::ids::{Bed, Tag};
use crate::past::Entry;
use crate::record::{Body, Record};
use crate::rules::hand_check::{Air, Band, Judgement};
use crate::say;
use crate::words::Lang;

mod alarms;
mod care;
mod fleet;
pub(super) mod settings;

/// The longest word of a cell that is never broken, in characters.
const WORD_MOST: usize = 14;

/// A cell, taken apart already.
type Cell = String;

/// What the tables are made from.
pub(super) struct Sheet<'a, 'b> {
    /// The most rows of one table: what is more stands in the rows' file.
    pub rows_most: usize,
    pub asked: &'a Asked<'a>,
    pub facts: &'a Facts<'b>,
    pub moment: &'a dyn Fn(DateTime<Utc>) -> String,
}

/// A table with its heads, or that there is nothing. The newest rows are kept where there are too many.
fn table(sheet: &Sheet<'_, '_>, heads: &[&str], rows: Vec<Vec<Cell>>) -> String {
    if rows.is_empty() {
        return element("p", &say!(sheet.lang(), "report-none"));
    }
    let left = rows.len().saturating_sub(sheet.rows_most);
    let mut text = opened(sheet.lang(), heads, left);
    for row in &rows[left..] {
        let cells = row.iter().enumerate();
        let cells: String = cells.map(|(nth, text)| cell(text, nth == 0)).collect();
        text.push_str(&format!("<tr>{cells}</tr>\n"));
    }
    text.push_str(paper::TABLE_END);
    text
}

/// The beginning of one, with so many of its oldest lines left out.
fn opened(lang: Lang, heads: &[&str], left: usize) -> String {
    let mut text = String::new();
    if left > 0 {
        text = element("p", &say!(lang, "report-table-left", count = left as i64));
    }
    text.push_str(&paper::heads(lang, heads.iter().map(|key| say!(lang, key))));
    text
}

/// A cell; a word that would make its column wider than paper has room for may be broken.
fn cell(text: &str, is_head: bool) -> String {
    let long = shown(text)
        .split_whitespace()
        .any(|word| word.chars().count() > WORD_MOST);
    let class = if long { " class=\"long\"" } else { "" };
    if is_head {
        format!("<th scope=\"row\"{class}>{text}</th>")
    } else {
        format!("<td{class}>{text}</td>")
    }
}

/// The text of a cell without its marks.
fn shown(cell: &str) -> String {
    let mut marks = 0;
    let seen = |c: &char| {
        marks += usize::from(*c == '<');
        let is_seen = marks == 0;
        marks -= usize::from(*c == '>' && marks > 0);
        is_seen
    };
    cell.chars().filter(seen).collect()
}

impl Sheet<'_, '_> {
    fn lang(&self) -> Lang {
        self.asked.lang
    }

    fn pen(&self) -> Pen<'_> {
        Pen {
            lang: self.lang(),
            moment: self.moment,
            typed: plain,
            beds: self.facts.beds,
        }
    }

    fn at(&self, at: DateTime<Utc>) -> Cell {
        // A day is not broken where a column is narrow.
        match (self.moment)(at).split_once(' ') {
            Some((day, time)) => format!("<span>{}</span> {}", html(day), html(time)),
            None => html(&(self.moment)(at)),
        }
    }

    /// A day, which is never broken.
    fn day(day: NaiveDate) -> Cell {
        format!("<span>{day}</span>")
    }

    fn maybe(&self, at: Option<DateTime<Utc>>) -> Cell {
        at.map_or_else(|| self.dash(), |at| self.at(at))
    }

    fn dash(&self) -> Cell {
        html(&say!(self.lang(), "report-not-on-record"))
    }

    fn words(&self, key: &str) -> Cell {
        html(&say!(self.lang(), key))
    }

    fn no(no: impl std::fmt::Display) -> Cell {
        format!("#{no}")
    }

    /// A surface with the unit that it lay in.
    fn surface(&self, tag: &Tag, at: DateTime<Utc>) -> Cell {
        let evidence = self.facts.evidence;
        let bed = evidence.places.get(tag).and_then(|place| place.bed_at(at));
        self.placed(tag, bed, at)
    }

    fn placed(&self, tag: &Tag, bed: Option<&Bed>, at: DateTime<Utc>) -> Cell {
        let unit = bed.and_then(|bed| self.facts.evidence.settings.unit(bed, at));
        let mut text = tag.to_string();
        if let Some(unit) = unit {
            text = format!("{text}, {}", unit.as_str());
        }
        if let Some(bed) = bed.filter(|_| self.facts.beds) {
            text = format!(
                "{text}, {}",
                say!(self.lang(), "timeline-bed", bed = bed.as_str())
            );
        }
        html(&text)
    }

    fn after(&self, from: DateTime<Utc>, to: Option<DateTime<Utc>>) -> Cell {
        match to {
            Some(to) => html(&between(self.lang(), from, to)),
            None => self.words("report-still-open"),
        }
    }

    fn reading(&self, air: Air, band: Band, judged: Judgement) -> String {
        let lang = self.lang();
        say!(
            lang,
            "line-checked",
            air = check::show_air(lang, air, band),
            judged = say!(lang, &format!("judged-{}", judged.as_str()))
        )
    }

    /// Checks by unit and shift.
    pub fn checks(&self) -> String {
        let lang = self.lang();
        let number = |number: u32| number.to_string();
        // Naught in every row says nothing.
        let any_not = self.facts.coverage.all.could_not > 0;
        let mut rows: Vec<Vec<Cell>> = Vec::new();
        let all = say!(lang, "report-all");
        let parts = self.facts.coverage.parts.iter();
        let parts = parts.map(|(part, of)| (part_words(lang, part), *of));
        for (part, of) in parts.chain([(all, self.facts.coverage.all)]) {
            let Some(share) = tally(lang, of) else {
                continue;
            };
            let missing = of.due - of.on_time();
            let mut row = vec![html(&part), html(&share), number(of.made)];
            row.extend(any_not.then(|| number(of.could_not)));
            row.extend([number(missing), number(of.missed_away)]);
            rows.push(row);
        }
        let mut head = vec!["report-col-part", "report-col-on-time", "report-col-made"];
        head.extend(any_not.then_some("report-col-could-not"));
        head.extend(["report-col-missing", "report-col-away"]);
        table(self, &head, rows)
    }

    /// Checks that were due and are not on record, a day a line.
    pub fn missing(&self) -> String {
        let lang = self.lang();
        let zone = &self.asked.facility.zone;
        let row = |of_day: &[Missing<'_>]| {
            let parts = of_day.iter().map(|missing| {
                let from = zone.local(missing.span.from).time();
                let unit = missing.unit.cloned();
                let tags: Vec<&str> = missing.tags.iter().map(|tag| tag.as_str()).collect();
                let part = part_words(lang, &(unit, from));
                let mut text = format!("{part}: {}", tags.join(", "));
                if missing.away {
                    text = format!("{text} ({})", say!(lang, "report-was-away"));
                }
                text
            });
            let count: usize = of_day.iter().map(|missing| missing.tags.len()).sum();
            vec![
                Self::day(zone.local(of_day[0].span.from).date()),
                count.to_string(),
                html(&parts.collect::<Vec<_>>().join("; ")),
            ]
        };
        let day = |missing: &Missing<'_>| zone.local(missing.span.from).date();
        let missing = &self.facts.coverage.missing;
        let days = missing.chunk_by(|a, b| day(a) == day(b));
        table(
            self,
            &["report-col-day", "report-col-missing", "report-col-which"],
            days.map(row).collect(),
        )
    }

    /// Low readings and what followed.
    pub fn lows(&self) -> String {
        let lang = self.lang();
        let row = |low: &crate::evidence::LowReading<'_>| {
            let followed: Vec<String> = low
                .followed
                .iter()
                .map(|(at, what)| {
                    let what = match what {
                        Followed::Checked(air, band, judged) => self.reading(*air, *band, *judged),
                        Followed::Alarm(no) => say!(lang, "report-alarm-no", no = no.to_string()),
                        Followed::Pulled(fault) => say!(
                            lang,
                            "line-pulled",
                            fault = say!(lang, look::fault_key(*fault))
                        ),
                        Followed::Released => say!(lang, "report-released"),
                    };
                    if *at <= low.at {
                        return what;
                    }
                    let after = between(lang, low.at, *at);
                    say!(lang, "report-after", after = after, what = what)
                })
                .collect();
            let followed = if followed.is_empty() {
                self.words("report-nothing-yet")
            } else {
                html(&followed.join("; "))
            };
            vec![
                Self::no(low.no),
                self.at(low.at),
                self.surface(low.tag, low.at),
                html(&self.reading(low.air, low.band, low.judged)),
                html(&role_word(lang, low.by)),
                followed,
            ]
        };
        table(
            self,
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-surface",
                "report-col-reading",
                "report-col-role",
                "report-col-followed",
            ],
            self.facts.lows.iter().map(row).collect(),
        )
    }

    /// Entries of a kind in the order in which they happened, each as a line.
    fn lines(&self, of: impl Fn(&Body) -> bool, note: bool) -> Vec<Vec<Cell>> {
        let lang = self.lang();
        let line = |(entry, body): &(&Entry<'_>, &Body)| {
            let mut what = words(self.pen(), body);
            if let Some(said) = entry.record.note.as_deref().filter(|_| note) {
                what = format!("{what} “{}”", plain(said));
            }
            let at = entry.at;
            let surface = match (body.surface(), body.beds().first()) {
                (Some(tag), Some(bed)) => self.placed(tag, Some(bed), at),
                (Some(tag), None) => self.surface(tag, at),
                (None, Some(bed)) => {
                    let unit = self.facts.evidence.settings.unit(bed, at);
                    let unit = unit.map_or_else(String::new, |unit| unit.to_string());
                    let bed = if self.facts.beds { bed.as_str() } else { "" };
                    html(format!("{unit} {bed}").trim())
                }
                (None, None) => String::new(),
            };
            vec![
                Self::no(entry.record.no),
                self.at(at),
                surface,
                html(&what),
                html(&role_word(lang, entry.record.role)),
            ]
        };
        let chosen = self.facts.counting.iter().filter(|(_, body)| of(body));
        chosen.map(line).collect()
    }

    fn lines_table(&self, rows: Vec<Vec<Cell>>) -> String {
        table(
            self,
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-surface",
                "report-col-what",
                "report-col-role",
            ],
            rows,
        )
    }

    /// What was corrected, remarked on, signed or taken back, as it read before and with its trail.
    pub fn corrected(&self) -> String {
        let lang = self.lang();
        let corrected = &self.facts.corrected;
        if corrected.is_empty() {
            return element("p", &say!(lang, "report-none"));
        }
        let left = corrected.len().saturating_sub(self.rows_most);
        let heads = [
            "timeline-col-entry",
            "timeline-col-when",
            "timeline-col-what",
            "report-col-role",
            "timeline-col-later",
        ];
        let mut text = opened(lang, &heads, left);
        let who = |record: &Record| role_word(lang, record.role);
        for entry in &corrected[left..] {
            let row = Row {
                entry: (*entry).clone(),
                tag: entry.record.body.surface().cloned(),
                gone_to: None,
            };
            text.push_str(&cells(self.asked, &row, &self.pen(), &who));
        }
        text.push_str(paper::TABLE_END);
        text
    }

    /// Looks out of turn.
    pub fn again(&self) -> String {
        let again = self.facts.coverage.rechecks;
        let (kept, booked) = (i64::from(again.kept), i64::from(again.booked));
        let lang = self.lang();
        element(
            "p",
            &say!(lang, "report-again", kept = kept, booked = booked),
        )
    }
}
