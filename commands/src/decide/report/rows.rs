//! The rows of a report: every entry of the period about care and equipment, and every setting that was changed, one line each,
//! as a spreadsheet opens it. Decides which entries and columns; leaves the writing to `rules::export`, which defuses formulas.

use chrono::{DateTime, FixedOffset, NaiveDate, SecondsFormat, Utc};

use super::Facts;
use super::tables::settings;
use crate::decide::draft::Asked;
use crate::decide::duty::role_word;
use crate::decide::paper::plain;
use crate::decide::timeline::line::{Pen, tells, words};
use crate::message::{FILE_BYTES_MAX, File};
use crate::past::Entry;
use crate::record::Body;
use crate::rules::export;
use crate::rules::period::Period;
use crate::say;
use crate::words::Lang;

/// The columns. They are names for programs, the same in every language. That of beds is left out where none may be named: a column that is
/// empty throughout would look as if beds were not known.
const COLUMNS: [&str; 15] = [
    "entry",
    "happened",
    "entered",
    "kind",
    "surface",
    "unit",
    "bed",
    "what",
    "status",
    "as_entered",
    "corrected_by",
    "role",
    "reason",
    "note",
    "remarks",
];

/// The column of beds.
const BED: &str = "bed";

/// What quotes, commas and the end of a line add to a row, in bytes.
const AROUND_CELLS: usize = 3 * COLUMNS.len();
/// What the platform's own part of the message takes at most, in bytes.
const AROUND_FILES: usize = 20_000;

/// Whether an entry is about care or equipment: what is about staff and calls is no part of a report, and of
/// settings only what was changed.
pub(super) fn of_care(body: &Body) -> bool {
    let about = body.surface().is_some()
        || body.alarm().is_some()
        || !body.beds().is_empty()
        || matches!(
            body,
            Body::OutageOpened { .. } | Body::OutageEnded { .. } | Body::RecallOpened { .. }
        );
    about
        && tells(body)
        && !matches!(
            body,
            Body::Called { .. }
                | Body::Told { .. }
                | Body::SecondCheckWanted { .. }
                | Body::SecondChecked { .. }
        )
}

/// What is not in the file, because a chat takes no more.
pub(super) struct Left {
    /// So many of the oldest rows.
    count: usize,
    /// The day of the oldest that is in it; none where there is none at all.
    from: Option<NaiveDate>,
}

impl Left {
    /// How many, and what to ask for to have them as well.
    pub fn words(&self, lang: Lang, of: Period) -> String {
        let count = self.count as i64;
        let first = of.first.to_string();
        // The day on which it was cut is in both, so that no row is in neither.
        match self.from.filter(|from| *from > of.first) {
            Some(from) => say!(
                lang,
                "report-rows-left",
                count = count,
                from = from.to_string(),
                first = first
            ),
            None => say!(lang, "report-rows-left-day", count = count, first = first),
        }
    }
}

/// The file, beside a page of so many bytes, and what is left out of it.
pub(super) fn file(asked: &Asked<'_>, facts: &Facts<'_>, page: usize) -> (File, Option<Left>) {
    let evidence = facts.evidence;
    let mut entries: Vec<&Entry<'_>> = evidence
        .entries
        .iter()
        .filter(|entry| evidence.span.has(entry.at))
        .filter(|entry| of_care(&entry.record.body) || facts.changed(entry).is_some())
        .collect();
    entries.sort_by_key(|entry| (entry.at, entry.record.no));
    let mut room = FILE_BYTES_MAX.saturating_sub(page + AROUND_FILES);
    let mut rows = Vec::with_capacity(entries.len());
    // The newest are kept.
    for entry in entries.iter().rev() {
        let row = cells(asked, facts, entry);
        let bytes = row
            .iter()
            .map(|cell| cell.len() + cell.matches('"').count());
        let bytes = bytes.sum::<usize>() + AROUND_CELLS;
        if bytes > room {
            break;
        }
        room -= bytes;
        rows.push(row);
    }
    let count = entries.len() - rows.len();
    let left = (count > 0).then(|| Left {
        count,
        from: entries
            .get(count)
            .map(|entry| facts.zone.local(entry.at).date()),
    });
    rows.reverse();
    // Rows of one length, written to memory: nothing can fail.
    let shown = |column: &str| facts.beds || column != BED;
    let rows = rows.iter().map(|row| {
        let cells = COLUMNS.iter().zip(row);
        cells
            .filter(|(column, _)| shown(column))
            .map(|(_, cell)| cell)
    });
    let columns: Vec<&str> = COLUMNS.into_iter().filter(|column| shown(column)).collect();
    let bytes = export::write(&columns, rows).unwrap_or_default();
    let name = format!("report-rows-{}-to-{}.csv", facts.of.first, facts.of.last);
    let file = File::new(name, String::from_utf8_lossy(&bytes));
    (file, left)
}

fn cells(asked: &Asked<'_>, facts: &Facts<'_>, entry: &Entry<'_>) -> [String; COLUMNS.len()] {
    let (zone, evidence) = (&asked.facility.zone, facts.evidence);
    let moment = |at: DateTime<Utc>| {
        let offset = FixedOffset::east_opt(zone.offset(at));
        let local = offset.map(|offset| at.with_timezone(&offset));
        local.map_or_else(
            || at.to_rfc3339_opts(SecondsFormat::Secs, true),
            |local| local.to_rfc3339_opts(SecondsFormat::Secs, false),
        )
    };
    let pen = Pen {
        lang: asked.lang,
        moment: &moment,
        typed: plain,
        beds: facts.beds,
    };
    let record = entry.record;
    let entered = &record.body;
    let reads = entry.body.unwrap_or(entered);
    let alarm = |body: &Body| {
        let of = body.alarm()?;
        let known = facts.alarms.iter().find(|alarm| alarm.no == of);
        known.map(|alarm| alarm.tag)
    };
    let tag = reads.surface().or_else(|| alarm(reads));
    let place = tag.and_then(|tag| evidence.places.get(tag));
    let bed = reads.beds().first().or_else(|| place?.bed_at(entry.at));
    let unit = bed.and_then(|bed| evidence.settings.unit(bed, entry.at));
    let status = match (entry.taken_back, entry.body, entry.amended.is_empty()) {
        (Some(_), _, _) => "taken back",
        (None, None, _) => "entered by mistake",
        (None, Some(_), false) => "corrected",
        (None, Some(_), true) => "stands",
    };
    let was = if status == "corrected" {
        format!("{} {}", moment(record.at), words(pen, entered))
    } else {
        String::new()
    };
    let what = match facts.changed(entry) {
        Some(changed) => settings::line(asked.state, asked.lang, changed, facts.beds),
        None => words(pen, reads),
    };
    let corrections = entry.amended.iter().chain(entry.taken_back.iter());
    let (mut by, mut reason) = (Vec::new(), Vec::new());
    for correction in corrections {
        by.push(format!("#{}", correction.no));
        reason.extend(correction.note.as_deref().map(plain));
    }
    // Who said more of it, or signed it, and what.
    let remarks = entry.remarks.iter().map(|remark| {
        let (no, at) = (remark.no, moment(remark.entered));
        let (who, what) = (role_word(asked.lang, remark.role), words(pen, &remark.body));
        match remark.note.as_deref().map(plain) {
            Some(note) => format!("#{no} {at} {who}: {what}: {note}"),
            None => format!("#{no} {at} {who}: {what}"),
        }
    });
    let text = |text: Option<&str>| text.map_or_else(String::new, str::to_owned);
    [
        format!("#{}", record.no),
        moment(entry.at),
        moment(record.entered),
        reads.kind().to_owned(),
        text(tag.map(crate::ids::Tag::as_str)),
        text(unit.map(crate::ids::Unit::as_str)),
        text(bed.filter(|_| facts.beds).map(crate::ids::Bed::as_str)),
        what,
        status.to_owned(),
        was,
        by.join(" "),
        role_word(asked.lang, record.role),
        reason.join(" / "),
        record.note.as_deref().map_or_else(String::new, plain),
        remarks.collect::<Vec<_>>().join(" / "),
    ]
}
