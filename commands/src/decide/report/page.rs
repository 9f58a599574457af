//! A report as a page to print. Decides the order of its parts and what stands around them; leaves the tables to `tables`, how
//! figures were worked out to `method`.

use chrono::{DateTime, Utc};

use super::tables::Sheet;
use super::{Facts, method};
use crate::decide::draft::Asked;
use crate::decide::duty::role_word;
use crate::decide::paper::{self, element};
use crate::message::File;
use crate::say;

/// Narrower than a timeline: ten columns stand beside each other.
const STYLE: &str = "body{font-size:9pt}\
h2{font-size:12pt;margin:5mm 0 1mm;break-after:avoid}\
h3{font-size:10pt;margin:3mm 0 1mm;break-after:avoid}\
table{font-size:7.5pt}\
th,td{padding:.6mm 1mm;overflow-wrap:normal}\
td.long{overflow-wrap:anywhere}\
td:first-child{white-space:nowrap}\
td.long:first-child{white-space:normal}\
td span{white-space:nowrap}\
code{overflow-wrap:anywhere}";

/// The page.
pub(super) fn file(asked: &Asked<'_>, facts: &Facts<'_>) -> File {
    let (lang, zone) = (asked.lang, &asked.facility.zone);
    let moment = |at: DateTime<Utc>| zone.local(at).format("%Y-%m-%d %H:%M").to_string();
    let sheet = Sheet {
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
    let mut page = paper::begin(lang, &title, STYLE);
    page.push_str(&paper::home(asked.facility));
    let who = format!("{} {}", role_word(lang, asked.role), asked.ask.who);
    page.push_str(&element(
        "p",
        &say!(
            lang,
            "report-made",
            who = who,
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
        page.push_str(&element(level, &say!(lang, key)));
        page.extend(texts.iter().map(String::as_str));
    };
    let lines: Vec<String> = facts
        .summary(lang)
        .iter()
        .map(|line| element("p", line))
        .collect();
    part("h2", "report-h-short", &lines);
    part("h2", "report-h-checks", &[sheet.checks(), sheet.again()]);
    part("h2", "report-h-lows", &[sheet.lows()]);
    part("h2", "report-h-alarms", &[sheet.waits()]);
    part("h3", "report-h-each-alarm", &[sheet.alarms()]);
    part("h2", "report-h-register", &[sheet.register()]);
    part("h2", "report-h-set-ups", &[sheet.set_ups()]);
    part("h2", "report-h-zones", &[sheet.zones()]);
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
    part("h2", "report-h-corrected", &[sheet.corrected()]);
    let lines: Vec<String> = method::page(asked, facts)
        .iter()
        .map(|line| element("li", line))
        .collect();
    let list = format!("<ul>\n{}</ul>\n", lines.concat());
    part("h2", "report-h-method", &[list]);
    part("h2", "report-h-seal", &seal(asked));
    page.push_str(paper::END);
    File {
        name: format!("report-{first}-to-{last}.html"),
        text: page,
    }
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
