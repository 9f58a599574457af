//! A timeline as a sheet to print: every line of it. Decides its columns, and that it stays within what a chat takes; leaves
//! the page around it to `paper`.

use chrono::{DateTime, Utc};

use super::super::draft::Asked;
use super::super::paper::{self, element, html, struck};
use super::line::{Pen, changes};
use super::{Row, Told};
use crate::ids::Person;
use crate::message::{FILE_BYTES_MAX, File};
use crate::record::{Body, Record};
use crate::say;
use crate::tap::Line;

/// What the head, the foot and the end of the sheet take at most, in bytes.
const AROUND_BYTES: usize = 8_000;

/// The sheet; where it would be more than a chat takes, its oldest lines are left out and it says so.
pub(super) fn sheet(asked: &Asked<'_>, told: &Told<'_>) -> File {
    let lang = asked.lang;
    let zone = &asked.facility.zone;
    let moment = |at: DateTime<Utc>| zone.local(at).format("%Y-%m-%d %H:%M").to_string();
    let name = match told.line {
        Line::Surface(tag) => tag.to_string(),
        Line::Bed(bed) => say!(lang, "timeline-bed", bed = bed.as_str()),
    };
    let title = say!(lang, "timeline-title", of = name.as_str());
    let pen = Pen {
        lang,
        moment: &moment,
        typed: paper::plain,
        beds: true,
    };
    let mut rows: Vec<String> = Vec::new();
    let mut bytes = AROUND_BYTES;
    for row in told.rows.iter().rev() {
        let row = cells(asked, row, &pen, &|record| who(asked, record));
        bytes += row.len();
        if bytes > FILE_BYTES_MAX {
            break;
        }
        rows.push(row);
    }
    let left = told.rows.len() - rows.len();
    let mut page = paper::begin(lang, &title, "");
    let made = say!(
        lang,
        "timeline-made",
        at = moment(asked.now),
        zone = zone.name(),
        count = rows.len() as i64
    );
    page.push_str(&element("p", &made));
    page.push_str(&element("p", &say!(lang, "timeline-how")));
    if left > 0 {
        let cut = say!(lang, "timeline-cut", count = left as i64);
        page.push_str(&element("p", &cut));
    }
    let heads = [
        "timeline-col-entry",
        "timeline-col-when",
        "timeline-col-what",
        "timeline-col-who",
    ];
    page.push_str(&paper::heads(heads.iter().map(|key| say!(lang, key))));
    page.extend(rows);
    page.push_str("</tbody></table>\n");
    page.push_str(paper::END);
    let day = zone.local(asked.now).date();
    let name: String = name
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .collect();
    File::new(format!("timeline-{name}-{day}.html"), page)
}

/// One line of a sheet. `who` says who a record is from.
pub(in crate::decide) fn cells(
    asked: &Asked<'_>,
    row: &Row<'_>,
    pen: &Pen<'_>,
    who: &dyn Fn(&Record) -> String,
) -> String {
    let (lang, pen) = (asked.lang, *pen);
    let moment = pen.moment;
    let entry = &row.entry;
    let record = entry.record;
    let mut what = struck(&super::told(asked, row, pen, paper::strike));
    if let Some(tag) = &row.tag {
        what = format!("{}: {what}", html(tag.as_str()));
    }
    let small = |text: &str| format!("<small>{}</small>", html(text));
    what.extend(
        record
            .note
            .as_deref()
            .map(|note| small(&format!("“{note}”"))),
    );
    for later in trail(row) {
        what.push_str(&small(&remark(asked, row, later, pen, who)));
    }
    let mut at = html(&moment(entry.at));
    if record.entered != entry.at {
        let entered = say!(lang, "entry-entered", at = moment(record.entered));
        at.push_str(&small(&entered));
    }
    let no = record.no;
    format!(
        "<tr><th scope=\"row\" class=\"no\">#{no}</th><td class=\"at\">{at}</td><td>{what}</td><td>{}</td></tr>\n",
        html(&who(record))
    )
}

/// What was said about an entry later, in order.
fn trail<'a>(row: &Row<'a>) -> Vec<&'a Record> {
    let entry = &row.entry;
    let mut later: Vec<&Record> = entry
        .amended
        .iter()
        .chain(&entry.remarks)
        .copied()
        .collect();
    later.extend(entry.taken_back);
    later.sort_by_key(|record| record.no);
    later
}

fn remark(
    asked: &Asked<'_>,
    row: &Row<'_>,
    later: &Record,
    pen: Pen<'_>,
    who: &dyn Fn(&Record) -> String,
) -> String {
    let lang = asked.lang;
    let (who, at) = (who(later), (pen.moment)(later.at));
    let reason = || {
        let none = || say!(lang, "entry-no-reason");
        later.note.clone().unwrap_or_else(none)
    };
    if let Body::Amended { now, happened, .. } = &later.body {
        let amended = &row.entry.amended;
        let place = amended.iter().position(|one| one.no == later.no);
        let back = amended.len() - 1 - place.unwrap_or_default();
        let now = (now.as_deref(), *happened);
        let what: Vec<String> = changes(pen, row.entry.before(back), now)
            .iter()
            .map(|change| format!("{} {} → {}", change.label, change.old, change.new))
            .collect();
        return say!(
            lang,
            "entry-amended",
            what = what.join("; "),
            who = who,
            at = at,
            reason = reason()
        );
    }
    if let Body::Annotated { .. } = &later.body {
        let reason = reason();
        return say!(lang, "entry-annotated", who = who, at = at, reason = reason);
    }
    let key = if let Body::Countersigned { .. } = &later.body {
        "entry-signed"
    } else {
        "entry-taken-back"
    };
    say!(lang, key, who = who, at = at)
}

/// Who, on paper: the role, and the number that the chat knows them by, since names are not kept.
fn who(asked: &Asked<'_>, record: &Record) -> String {
    let clock = || "loftwatch".to_owned();
    let person = |Person(number): Person| {
        let role = say!(asked.lang, &format!("role-{}", record.role.as_str()));
        format!("{role} {number}")
    };
    record.who.map_or_else(clock, person)
}
