//! A report as a page to print. Decides the order of its parts and what stands around them; leaves the tables to `tables`, how
//! figures were worked out to `method`.

use chrono::{DateTime, Utc};

use super::tables::Sheet;
use super::{Facts, drawn, method};
use crate::decide::draft::Asked;
use crate::decide::duty::role_word;
use crate::decide::paper::{self, element, html};
use crate::message::{FILE_BYTES_MAX, File};
use crate::say;
use crate::words::Lang;

/// Narrower than a timeline: ten columns stand beside each other.
const STYLE: &str = "body{font-size:9pt}\
h2{font-size:12pt;margin:5mm 0 1mm;break-after:avoid}\
h3{font-size:10pt;margin:3mm 0 1mm;break-after:avoid}\
table{font-size:7.5pt}\
th,td{padding:.6mm 1mm;overflow-wrap:normal}\
.long{overflow-wrap:anywhere}\
tbody th{white-space:nowrap}\
tbody th.long{white-space:normal}\
td span{white-space:nowrap}\
code{overflow-wrap:anywhere}\
a{color:inherit}\
ul{margin:1mm 0;padding-left:5mm}";

/// The most rows of one table, where there is room.
const ROWS_MOST: usize = 1_500;
/// The most of the page, in bytes: as much again is left to the rows' file, at the least.
const PAGE_BYTES_MAX: usize = FILE_BYTES_MAX / 2;

/// What a survey asks for, where it is asked for, and the parts that show it. Numbers of regulations of the United States
/// (Code of Federal Regulations); all but 483.25(b)(1), 483.25(n), 483.80(a) and 803.30 were seen in a stored copy, these
/// are from memory.
const ASKED_FOR: [(&str, &[&str]); 9] = [
    (
        "report-ask-skin",
        &[
            "report-h-checks",
            "report-h-missing",
            "report-h-lows",
            "report-h-trending",
        ],
    ),
    (
        "report-ask-hazards",
        &["report-h-alarms", "report-h-outages", "report-h-holds"],
    ),
    (
        "report-ask-equipment",
        &[
            "report-h-register",
            "report-h-services",
            "report-h-outs",
            "report-h-filters",
            "report-h-recalls",
        ],
    ),
    (
        "report-ask-beds",
        &["report-h-beds", "report-h-zones", "report-h-set-ups"],
    ),
    (
        "report-ask-infection",
        &["report-h-turns", "report-h-cleanings"],
    ),
    ("report-ask-staff", &["report-h-sign-offs"]),
    ("report-ask-injury", &["report-h-holds"]),
    (
        "report-ask-absent",
        &["report-h-missing", "report-h-away", "report-h-overrides"],
    ),
    (
        "report-ask-true",
        &[
            "report-h-settings",
            "report-h-corrected",
            "report-h-method",
            "report-h-seal",
        ],
    ),
];

/// The page. Where it would be too large its tables keep fewer of their newest rows, and say so.
pub(super) fn file(asked: &Asked<'_>, facts: &Facts<'_>) -> File {
    let mut rows_most = ROWS_MOST;
    loop {
        let file = with_rows(asked, facts, rows_most);
        if file.text.len() <= PAGE_BYTES_MAX || rows_most == 0 {
            return file;
        }
        rows_most /= 2;
    }
}

fn with_rows(asked: &Asked<'_>, facts: &Facts<'_>, rows_most: usize) -> File {
    let (lang, zone) = (asked.lang, &asked.facility.zone);
    let moment = |at: DateTime<Utc>| zone.local(at).format("%Y-%m-%d %H:%M").to_string();
    let sheet = Sheet {
        rows_most,
        asked,
        facts,
        moment: &moment,
    };
    let (first, last) = (facts.of.first.to_string(), facts.of.last.to_string());
    let title = say!(
        lang,
        "report-title",
        first = first.as_str(),
        last = last.as_str()
    );
    let mut page = paper::begin(lang, &title, &format!("{STYLE}{}", drawn::STYLE));
    page.push_str(&paper::home(asked.facility));
    let (checks, waits) = (drawn::checks(lang, facts), drawn::waits(lang, facts));
    page.push_str(&element(
        "p",
        &say!(
            lang,
            "report-made",
            who = role_word(lang, asked.role),
            at = moment(asked.now),
            zone = zone.name()
        ),
    ));
    let mut say_so = |key: &str| page.push_str(&element("p", &say!(lang, key)));
    say_so("report-what");
    say_so(if facts.beds {
        "report-beds"
    } else {
        "report-no-beds"
    });
    let mut part = |level: &str, key: &str, texts: &[String]| {
        let (id, head) = (anchor(key), html(&say!(lang, key)));
        page.push_str(&format!("<{level} id=\"{id}\">{head}</{level}>\n"));
        page.extend(texts.iter().map(String::as_str));
    };
    let lines: Vec<String> = facts
        .summary(lang)
        .iter()
        .map(|line| element("p", line))
        .collect();
    part("h2", "report-h-short", &lines);
    part("h2", "report-h-asked", &asked_for(lang));
    let shown = drawn::places(&checks);
    // A picture is never broken: behind its table it leaves no sheet half empty.
    part(
        "h2",
        "report-h-checks",
        &[sheet.checks(), sheet.again(), shown],
    );
    part("h3", "report-h-missing", &[sheet.missing()]);
    part("h2", "report-h-lows", &[sheet.lows()]);
    part("h3", "report-h-trending", &[sheet.trending()]);
    part(
        "h2",
        "report-h-alarms",
        &[sheet.waits(), drawn::places(&waits)],
    );
    part("h3", "report-h-each-alarm", &[sheet.alarms()]);
    part("h2", "report-h-register", &[sheet.register()]);
    part("h2", "report-h-set-ups", &[sheet.set_ups()]);
    part("h2", "report-h-beds", &[sheet.beds()]);
    part("h3", "report-h-zones", &[sheet.zones()]);
    part("h2", "report-h-outs", &[sheet.outs()]);
    part("h3", "report-h-services", &[sheet.services()]);
    let turns: Vec<String> = sheet
        .turn_times()
        .into_iter()
        .chain([sheet.turns()])
        .collect();
    part("h2", "report-h-turns", &turns);
    part("h3", "report-h-cleanings", &[sheet.cleanings()]);
    part("h2", "report-h-filters", &[sheet.filters()]);
    part("h2", "report-h-holds", &[sheet.holds()]);
    part("h2", "report-h-recalls", &[sheet.recalls()]);
    part("h2", "report-h-outages", &[sheet.outages()]);
    part("h3", "report-h-away", &[sheet.away()]);
    part("h2", "report-h-overrides", &[sheet.overrides()]);
    part("h2", "report-h-sign-offs", &[sheet.sign_offs()]);
    part("h2", "report-h-settings", &[sheet.settings()]);
    part("h2", "report-h-corrected", &[sheet.corrected()]);
    let lines: Vec<String> = method::page(asked, facts)
        .iter()
        .map(|line| element("li", line))
        .collect();
    let list = format!("<ul>\n{}</ul>\n", lines.concat());
    part("h2", "report-h-method", &[list]);
    part("h2", "report-h-seal", &seal(asked));
    page.push_str(paper::END);
    let mut file = File::new(format!("report-{first}-to-{last}.html"), page);
    file.pictures = checks.into_iter().chain(waits).collect();
    file
}

/// The name of a part, by which it is found on the page.
fn anchor(key: &str) -> &str {
    key.strip_prefix("report-h-").unwrap_or(key)
}

/// Where on the page stands what is often asked for.
fn asked_for(lang: Lang) -> Vec<String> {
    let link = |key: &&str| {
        let (id, head) = (anchor(key), html(&say!(lang, key)));
        format!("<a href=\"#{id}\">{head}</a>")
    };
    let line = |(key, parts): &(&str, &[&str])| {
        let parts: Vec<String> = parts.iter().map(link).collect();
        format!(
            "<li>{}: {}</li>\n",
            html(&say!(lang, key)),
            parts.join("; ")
        )
    };
    let lines: String = ASKED_FOR.iter().map(line).collect();
    vec![
        element("p", &say!(lang, "report-asked-how")),
        format!("<ul>\n{lines}</ul>\n"),
    ]
}

/// What stood at the end of the log, and how that is looked up again.
fn seal(asked: &Asked<'_>) -> Vec<String> {
    let lang = asked.lang;
    let Some(seal) = asked.past.seal() else {
        return vec![element("p", &say!(lang, "report-seal-none"))];
    };
    let no = seal.no.to_string();
    vec![
        element("p", &say!(lang, "report-seal", no = no.as_str())),
        format!("<p>{}</p>\n", element("code", &seal.hash).trim_end()),
        element("p", &say!(lang, "report-seal-how", no = no.as_str())),
    ]
}
