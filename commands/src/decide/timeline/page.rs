//! A timeline as a sheet to print: every line of it. Decides its columns, and that it stays within what a chat takes; leaves
//! the page around it to `paper`.

use chrono::{DateTime, Utc};

use super::super::draft::Asked;
use super::super::paper::{self, element, html, struck};
use super::line::{Pen, changes};
use super::people::People;
use super::{Row, Told};
use crate::evidence::Missed;
use crate::message::{FILE_BYTES_MAX, File};
use crate::record::{Body, Record};
use crate::say;
use crate::tap::Line;

/// What the head, the foot and the end of the sheet take at most, in bytes.
const AROUND_BYTES: usize = 8_000;

/// The sheet; where it would be more than a chat takes, its oldest lines are left out and it says so.
pub(super) fn sheet(
    asked: &Asked<'_>,
    told: &Told<'_>,
    people: &People,
    missed: &[Missed<'_>],
) -> File {
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
    let key = people.key(lang);
    let gaps = missed_part(asked, told, missed);
    let mut rows: Vec<String> = Vec::new();
    let mut bytes = AROUND_BYTES + key.len() + gaps.len();
    for row in told.rows.iter().rev() {
        let row = cells(asked, row, &pen, &|record| people.who(lang, record));
        bytes += row.len();
        if bytes > FILE_BYTES_MAX {
            break;
        }
        rows.push(row);
    }
    let left = told.rows.len() - rows.len();
    let mut page = paper::begin(lang, &title, "");
    page.push_str(&paper::home(asked.facility));
    page.extend(about(asked, told).map(|line| element("p", &line)));
    let day = |at: DateTime<Utc>| zone.local(at).date().to_string();
    if let (Some(first), Some(last)) = (told.rows.get(left), told.rows.last()) {
        let days = say!(
            lang,
            "timeline-days",
            first = day(first.entry.at),
            last = day(last.entry.at)
        );
        page.push_str(&element("p", &days));
    }
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
        "timeline-col-later",
    ];
    page.push_str(&paper::heads(lang, heads.iter().map(|key| say!(lang, key))));
    page.extend(rows);
    page.push_str(paper::TABLE_END);
    page.push_str(&gaps);
    page.push_str(&element("h2", &say!(lang, "timeline-h-who")));
    page.push_str(&key);
    page.push_str(paper::END);
    let day = zone.local(asked.now).date();
    let name: String = name
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .collect();
    File::new(format!("timeline-{name}-{day}.html"), page)
}

/// What a surface is and where it is now; of a bed, what is under it.
fn about(asked: &Asked<'_>, told: &Told<'_>) -> impl Iterator<Item = String> {
    let (state, lang) = (asked.state, asked.lang);
    let tag = match told.line {
        Line::Surface(tag) => Some(tag),
        Line::Bed(bed) => state.under.get(bed),
    };
    let bed = match told.line {
        Line::Surface(tag) => state.surfaces.get(tag).and_then(|surface| surface.bed()),
        Line::Bed(bed) => Some(bed),
    };
    let unit = bed.and_then(|bed| state.bed_units.get(bed));
    let profile = tag
        .and_then(|tag| state.surfaces.get(tag))
        .map(|surface| &surface.profile);
    let surface = tag.zip(profile).map(|(tag, profile)| {
        let profile = paper::plain(profile.as_str());
        say!(
            lang,
            "timeline-surface",
            tag = tag.as_str(),
            profile = profile
        )
    });
    let place = bed.zip(unit).map(|(bed, unit)| {
        say!(
            lang,
            "timeline-place",
            bed = bed.as_str(),
            unit = unit.as_str()
        )
    });
    surface.into_iter().chain(place)
}

/// The shifts of this surface, or at this bed, in which a check was due and nothing is on record.
fn missed_part(asked: &Asked<'_>, told: &Told<'_>, missed: &[Missed<'_>]) -> String {
    let (lang, zone) = (asked.lang, &asked.facility.zone);
    let here: Vec<&Missed<'_>> = missed
        .iter()
        .filter(|missed| match told.line {
            Line::Surface(tag) => missed.tag == tag,
            Line::Bed(bed) => missed.bed == bed,
        })
        .collect();
    let mut part = element("h2", &say!(lang, "timeline-h-missed"));
    let days = super::MISSED_DAYS.num_days();
    let head = say!(
        lang,
        "timeline-missed",
        count = here.len() as i64,
        days = days
    );
    part.push_str(&element("p", &head));
    let lines: String = here
        .iter()
        .rev()
        .map(|missed| {
            let (from, to) = (
                zone.local(missed.stretch.from),
                zone.local(missed.stretch.to),
            );
            let (from, to) = (from.format("%Y-%m-%d %H:%M"), to.format("%H:%M"));
            let key = match missed.away {
                true => "timeline-missed-away",
                false => "timeline-missed-one",
            };
            let line = say!(
                lang,
                key,
                from = from.to_string(),
                to = to.to_string(),
                tag = missed.tag.as_str(),
                bed = missed.bed.as_str()
            );
            element("li", &line)
        })
        .collect();
    if !lines.is_empty() {
        part.push_str(&format!("<ul>\n{lines}</ul>\n"));
    }
    part
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
    let later: String = trail(row)
        .into_iter()
        .map(|later| {
            let text = struck(&remark(asked, row, later, pen, who));
            format!("<small>{text}</small>")
        })
        .collect();
    let mut at = html(&moment(entry.at));
    if record.entered != entry.at {
        let entered = say!(lang, "entry-entered", at = moment(record.entered));
        at.push_str(&small(&entered));
    }
    let no = record.no;
    format!(
        "<tr><th scope=\"row\" class=\"no\">#{no}</th><td class=\"at\">{at}</td><td>{what}</td><td>{}</td><td>{later}</td></tr>\n",
        html(&who(record))
    )
}

/// What was said about an entry later, in order.
pub(super) fn trail<'a>(row: &Row<'a>) -> Vec<&'a Record> {
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
    if let Body::Annotated {
        undoes: Some(_), ..
    } = &later.body
    {
        return say!(lang, "entry-unremarked", who = who, at = at);
    }
    if let Body::Annotated { .. } = &later.body {
        let mut reason = reason();
        if row.entry.unremarked(later.no) {
            reason = paper::strike(&reason);
        }
        return say!(lang, "entry-annotated", who = who, at = at, reason = reason);
    }
    let key = if let Body::Countersigned { .. } = &later.body {
        "entry-signed"
    } else {
        "entry-taken-back"
    };
    say!(lang, key, who = who, at = at)
}
