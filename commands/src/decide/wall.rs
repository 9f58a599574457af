//! The sheets for the wall: bed lists and empty forms for when chat or network are gone. Decides what they hold; one
//! printable page in plain HTML. Everybody reads the wall, so it speaks the
//! home's language, whoever printed it.

use super::draft::Asked;
use super::outage;
use super::paper::{self, element, html};
use crate::choice::{FirstFill, Outlet};
use crate::decision::Decision;
use crate::ids::{Bed, Unit};
use crate::message::{File, Message};
use crate::refusal::Refusal;
use crate::say;
use crate::state::{Life, Surface};

/// Empty lines of a unit's form.
const FORM_LINES: usize = 16;
/// Blanks for telephone numbers.
const PHONES: [&str; 5] = [
    "wall-phone-nurse",
    "wall-phone-supervisor",
    "wall-phone-upkeep",
    "wall-phone-physician",
    "wall-phone-power",
];

/// In a type that is read from a step away, each part on a sheet of its own, whatever the paper.
const STYLE: &str = "body{font-size:13pt}\
section{break-after:page}\
section:last-child{break-after:auto}\
h1{font-size:20pt;margin:0 0 2mm}\
h2{font-size:15pt;margin:5mm 0 2mm;break-after:avoid}\
th,td{border-color:#000;padding:1.5mm 2mm}\
td.tall{height:9mm}\
.line{border-bottom:1px solid #000;display:inline-block;min-width:60mm}";

/// `/fleet export what:wall`.
pub(super) fn file(asked: &Asked<'_>) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    if state.units.is_empty() {
        return Err(Refusal::new("fault-no-units"));
    }
    let day = asked.facility.zone.local(asked.now).date();
    let title = say!(state.lang(), "wall-title", day = day.to_string());
    let mut page = paper::untitled(state.lang(), &title, STYLE);
    for unit in state.units.keys() {
        page.push_str(&bed_list(asked, unit, &day.to_string()));
        page.push_str(&form(asked, unit));
    }
    page.push_str(paper::END);
    let mut message = Message::text(say!(lang, "wall-made", count = state.units.len() as i64));
    message
        .files
        .push(File::new(format!("wall-{day}.html"), page));
    Ok(Decision::private(message))
}

/// A unit's surfaces in the order of a roll, then its beds without one; whom to call after how long.
fn bed_list(asked: &Asked<'_>, unit: &Unit, day: &str) -> String {
    let (state, lang) = (asked.state, asked.state.lang());
    let mut text = String::from("<section>\n");
    text.push_str(&element(
        "h1",
        &say!(lang, "wall-beds", unit = unit.as_str(), day = day),
    ));
    for key in [
        "wall-private",
        "wall-anew",
        "wall-order",
        "wall-first",
        "wall-valve",
    ] {
        text.push_str(&element("p", &say!(lang, key)));
    }
    text.push_str(&head_row(
        asked,
        &[
            "wall-bed",
            "wall-tag",
            "wall-profile",
            "wall-holds",
            "wall-setting",
            "wall-first-fill",
            "wall-outlet",
        ],
    ));
    for tag in outage::order(state, unit, None, asked.now, asked.now) {
        let Some(surface) = state.surfaces.get(&tag) else {
            continue;
        };
        text.push_str(&row(&bed_cells(asked, tag.as_str(), surface)));
    }
    let empty = state.units.get(unit).into_iter().flat_map(|of| &of.beds);
    for bed in empty.filter(|bed| !state.under.contains_key(*bed)) {
        let outlet = outlet(asked, bed);
        let none = say!(lang, "wall-no-surface");
        text.push_str(&row(&[
            bed.to_string(),
            none,
            String::new(),
            String::new(),
            String::new(),
            String::new(),
            outlet,
        ]));
    }
    text.push_str(paper::TABLE_END);
    let ready: Vec<&str> = state
        .surfaces
        .iter()
        .filter(|(_, surface)| matches!(surface.life, Life::Ready { .. }))
        .map(|(tag, _)| tag.as_str())
        .collect();
    let spare = if ready.is_empty() {
        say!(lang, "wall-no-spare")
    } else {
        say!(lang, "wall-spare", these = ready.join(", "))
    };
    text.push_str(&element("p", &spare));
    if let Some(storage) = &state.storage {
        let line = say!(lang, "wall-storage", place = storage.clean.as_str());
        text.push_str(&element("p", &line));
    }
    text.push_str(&element("h2", &say!(lang, "wall-whom")));
    let ladder = state.ladder;
    let line = say!(
        lang,
        "wall-ladder",
        first = i64::from(ladder.first),
        second = i64::from(ladder.second),
        third = i64::from(ladder.third),
        repeat = i64::from(ladder.repeat)
    );
    text.push_str(&element("p", &line));
    for key in PHONES {
        let label = html(&say!(lang, key));
        text.push_str(&format!(
            "<p>{label} <span class=\"line\">&nbsp;</span></p>\n"
        ));
    }
    text.push_str("</section>\n");
    text
}

fn bed_cells(asked: &Asked<'_>, tag: &str, surface: &Surface) -> [String; 7] {
    let (state, lang) = (asked.state, asked.state.lang());
    let profile = state.profile_of(surface);
    let holds = profile.holds_minutes.map_or_else(
        || say!(lang, "wall-not-known"),
        |minutes| say!(lang, "wall-minutes", minutes = i64::from(minutes)),
    );
    let fill = say!(
        lang,
        match profile.first_fill {
            FirstFill::Lowest => "wall-fill-lowest",
            FirstFill::Highest => "wall-fill-highest",
        },
        minutes = i64::from(profile.fill_minutes)
    );
    let setting = surface.setting.as_ref().map_or_else(
        || say!(lang, "wall-not-known"),
        |setting| setting.text.clone(),
    );
    let bed = surface.bed();
    [
        bed.map_or_else(String::new, Bed::to_string),
        tag.to_owned(),
        profile.name.to_string(),
        holds,
        setting,
        fill,
        bed.map_or_else(String::new, |bed| outlet(asked, bed)),
    ]
}

fn outlet(asked: &Asked<'_>, bed: &Bed) -> String {
    let kind = asked.state.frame(bed).and_then(|frame| frame.outlet);
    let key = match kind {
        Some(Outlet::HospitalGrade) => "wall-outlet-hospital",
        Some(Outlet::Ordinary) => "wall-outlet-ordinary",
        Some(Outlet::Emergency) => "wall-outlet-emergency",
        None => "wall-not-known",
    };
    say!(asked.state.lang(), key)
}

/// The form to write on while nothing can be typed.
fn form(asked: &Asked<'_>, unit: &Unit) -> String {
    let lang = asked.state.lang();
    let mut text = String::from("<section>\n");
    text.push_str(&element(
        "h1",
        &say!(lang, "wall-form", unit = unit.as_str()),
    ));
    text.push_str(&element("p", &say!(lang, "wall-form-how")));
    text.push_str(&head_row(
        asked,
        &[
            "wall-when",
            "wall-bed-or-tag",
            "wall-air",
            "wall-what",
            "wall-role",
        ],
    ));
    for _ in 0..FORM_LINES {
        text.push_str("<tr>");
        for _ in 0..5 {
            text.push_str("<td class=\"tall\"></td>");
        }
        text.push_str("</tr>\n");
    }
    text.push_str(paper::TABLE_END);
    text.push_str(&element("p", &say!(lang, "wall-form-after")));
    text.push_str("</section>\n");
    text
}

fn head_row(asked: &Asked<'_>, keys: &[&str]) -> String {
    let lang = asked.state.lang();
    paper::heads(lang, keys.iter().map(|key| say!(lang, key)))
}

fn row(cells: &[String]) -> String {
    let cells: String = cells
        .iter()
        .map(|cell| format!("<td>{}</td>", html(cell)))
        .collect();
    format!("<tr>{cells}</tr>\n")
}
#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_typed_becomes_markup() {
        assert_eq!(
            row(&["<b onclick='x'>\"&".to_owned()]),
            "<tr><td>&lt;b onclick=&#39;x&#39;&gt;&quot;&amp;</td></tr>\n"
        );
    }
}
