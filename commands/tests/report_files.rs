//! What a report hands out, as those read it who did not write it: its page by a strict parser of HTML, its rows by the grammar
//! of RFC 4180, and both where a chat takes no more. Every text that a person can type is hostile here.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use std::collections::BTreeSet;

use chrono::TimeDelta;
use commands::choice::{Action, Finding};
use commands::choice::{Cover, Method};
use commands::ids::{Person, Tag};
use commands::message::FILE_BYTES_MAX;
use commands::record::{Body, Record};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Band, Judgement};
use commands::words::Lang;
use commands::{Decision, State};
use common::{Home, answer_message, answer_text, command, record_of, text};
use scraper::{ElementRef, Html, Selector};
use serde_json::Value as Json;

/// What would be markup, end a table, turn the line round, begin a formula, or be wider than a column.
const HOSTILE: &str = "=1+1 <script>alert(1)</script></td></table> & &amp; \"two\" 'pads' ]]> \u{202e}turned\u{2066}\u{0}\u{b}, \
    Rindfleischetikettierungsüberwachungsaufgabenübertragungsgesetz";
/// As a reader sees it.
const SEEN: &str = "=1+1 <script>alert(1)</script></td></table> & &amp; \"two\" 'pads' ]]> turned , \
    Rindfleischetikettierungsüberwachungsaufgabenübertragungsgesetz";

/// What people type in their own words, by the name of its field.
const TEXTS: [&str; 9] = [
    "note",
    "serial",
    "lot",
    "setting",
    "product",
    "dirty",
    "clean",
    "reference",
    "words",
];
/// What people give a name to.
const NAMES: [&str; 8] = [
    "unit", "units", "profile", "profiles", "approved", "tag", "bed", "beds",
];

/// Takes the texts of a line of a log for hostile ones.
fn spoil(line: &mut Json, key: &str, kind: &str) {
    match line {
        Json::Object(fields) => {
            for (name, value) in fields {
                spoil(value, name, kind);
            }
        }
        Json::Array(all) => all.iter_mut().for_each(|one| spoil(one, key, kind)),
        Json::String(text) if TEXTS.contains(&key) => *text = HOSTILE.to_owned(),
        Json::String(text)
            if NAMES.contains(&key)
                || (key == "name"
                    && matches!(kind, "profile-set" | "product-set" | "product-dropped"))
                || (key == "surface" && kind != "schedule-set") =>
        {
            text.push_str("<i>&amp;\"'");
        }
        Json::String(_) | Json::Null | Json::Bool(_) | Json::Number(_) => {}
    }
}

/// A home in which every kind of record happened, with hostile texts; an hour after the last.
fn hostile() -> Home {
    let mut home = Home::empty();
    home.state = State::default();
    for line in include_str!("logs/v3.jsonl").lines() {
        let mut line: Json = serde_json::from_str(line).unwrap();
        let kind = line["body"]["k"].as_str().unwrap().to_owned();
        spoil(&mut line, "", &kind);
        let mut record = record_of(&line);
        // Something is said to everything.
        record.note = Some(HOSTILE.to_owned());
        let done = home.state.apply(&record);
        done.unwrap_or_else(|fault| panic!("#{} {kind}: {fault}", record.no));
        home.now = home.now.max(record.entered) + TimeDelta::hours(1);
        home.log.push(record);
    }
    home
}

fn report(home: &mut Home, lang: Lang, options: &[(&str, &str)]) -> Decision {
    let options: Vec<_> = options.iter().map(|(name, of)| (*name, text(of))).collect();
    home.ask_as(&[Role::Supervisor], lang, &command("report", &options))
}

fn files(decision: &Decision) -> (&str, &str) {
    let files = &answer_message(decision).expect("a message").files;
    assert_eq!(files.len(), 2, "{}", answer_text(decision));
    (&files[0].text, &files[1].text)
}

fn all<'a>(page: &'a Html, css: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(css).unwrap()).collect()
}

fn shown(of: ElementRef<'_>) -> String {
    of.text().collect()
}

/// A page that a parser has nothing to say against, that is of this machine only, and that can be heard as well as seen.
fn sound(text: &str, lang: &str) -> Html {
    let page = Html::parse_document(text);
    assert_eq!(page.errors, Vec::<std::borrow::Cow<'_, str>>::new());
    let root = page.root_element();
    assert_eq!(root.attr("lang"), Some(lang));
    let title = shown(all(&page, "head > title")[0]);
    assert!(!title.trim().is_empty() && !all(&page, "h1").is_empty());
    let mut level = 1;
    for head in all(&page, "h1, h2, h3, h4, h5, h6") {
        let next: u32 = head.value().name()[1..].parse().unwrap();
        assert!(next <= level + 1, "{} skips a level", shown(head));
        level = next;
    }
    let known = [
        "html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "section", "p", "ul",
        "li", "a", "table", "thead", "tbody", "tr", "th", "td", "span", "small", "s", "code",
        "img", "div",
    ];
    let mut ids = BTreeSet::new();
    for one in all(&page, "*") {
        let name = one.value().name();
        assert!(known.contains(&name), "<{name}> in the page");
        for (attribute, value) in one.value().attrs() {
            assert!(
                [
                    "lang",
                    "charset",
                    "http-equiv",
                    "content",
                    "name",
                    "scope",
                    "class",
                    "id",
                    "href",
                    "src",
                    "alt",
                    "role",
                    "tabindex",
                    "aria-label"
                ]
                .contains(&attribute),
                "{attribute}=\"{value}\""
            );
            assert!(
                attribute != "id" || ids.insert(value.to_owned()),
                "#{value} twice"
            );
        }
    }
    for link in all(&page, "a") {
        let to = link.attr("href").and_then(|to| to.strip_prefix('#'));
        assert!(
            to.is_some_and(|to| ids.contains(to)),
            "{:?}",
            link.attr("href")
        );
    }
    // The core leaves a place for each picture, which is filled with the picture itself; its words are always there.
    for picture in all(&page, "img") {
        let place = picture.attr("src").unwrap_or_default();
        assert!(place.starts_with("picture:"), "{place}");
        assert!(!picture.attr("alt").unwrap_or_default().trim().is_empty());
    }
    for address in ["http:", "https:", "url(", "@import"] {
        assert!(!text.contains(address), "{address} in the page");
    }
    // No table makes the page wider than a phone: each is moved in a box of its own, by keys as well.
    let boxed = "div.wide[role=group][tabindex='0'][aria-label] > table";
    assert_eq!(all(&page, boxed).len(), all(&page, "table").len());
    assert!(text.contains("@media screen") && text.contains(".wide{overflow-x:auto"));
    // The paper is the printer's.
    assert!(text.contains("@page{margin") && !text.contains("{size:") && !text.contains(";size:"));
    for table in all(&page, "table") {
        let of = |css| {
            table
                .select(&Selector::parse(css).unwrap())
                .collect::<Vec<_>>()
        };
        let heads = of("thead > tr > th[scope=col]");
        assert!(!heads.is_empty() && heads.iter().all(|head| !shown(*head).trim().is_empty()));
        assert_eq!(of("thead > tr > *").len(), heads.len());
        for row in of("tbody > tr") {
            let cells: Vec<_> = row.child_elements().collect();
            assert_eq!(cells.len(), heads.len(), "{}", shown(row));
        }
    }
    let unseen = |c: char| {
        c.is_control() && c != '\n'
            || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    assert!(!text.contains(unseen), "what nobody sees");
    page
}

#[test]
fn the_page_is_read_strictly_and_all_that_was_typed_is_text() {
    let mut home = hostile();
    let mut notes = 0;
    for (lang, code) in [(Lang::English, "en"), (Lang::Spanish, "es")] {
        let report = report(&mut home, lang, &[("period", "2026")]);
        let page = sound(files(&report).0, code);
        let first: Vec<String> = all(&page, "h1").into_iter().map(shown).collect();
        assert_eq!(first, [shown(all(&page, "head > title")[0])]);
        for table in all(&page, "table") {
            let heads = Selector::parse("tbody > tr > th[scope=row]").unwrap();
            let rows = Selector::parse("tbody > tr").unwrap();
            assert_eq!(table.select(&heads).count(), table.select(&rows).count());
        }
        let seen: String = shown(page.root_element());
        notes += seen.matches(SEEN).count();
        // Each part has something in it: every kind of record happened.
        assert!(
            seen.matches("<i>&amp;\"'").count() > 100,
            "names are text as well"
        );
    }
    assert!(notes > 20, "{notes} texts");
}

/// What is listed under a heading is what that heading names, and all of it.
#[test]
fn each_list_holds_what_its_heading_names() {
    let mut home = hostile();
    let report = report(&mut home, Lang::English, &[("period", "2026")]);
    let page = files(&report).0;
    let gone: BTreeSet<u64> = home
        .log
        .iter()
        .filter_map(|record| {
            let Body::TakenBack { first, .. } = &record.body else {
                return None;
            };
            Some(first.0)
        })
        .collect();
    let looked = |body: &Body| {
        let Body::FilterLooked {
            finding, action, ..
        } = body
        else {
            return false;
        };
        (*finding, *action) != (Finding::Clean, Action::Left)
    };
    type Of<'a> = &'a dyn Fn(&Body) -> bool;
    let lists: [(&str, Of<'_>); 5] = [
        ("zones", &|body| {
            matches!(body.kind(), "zones-measured" | "zones-acted")
        }),
        ("services", &|body| {
            matches!(body.kind(), "serviced" | "repaired")
        }),
        ("cleanings", &|body| body.kind() == "cleaned"),
        ("filters", &looked),
        ("overrides", &|body| body.kind() == "paper-waived"),
    ];
    for (id, of) in lists {
        let from = page.split_once(&format!("id=\"{id}\"")).expect(id).1;
        let part = from.split("<h2").next().unwrap_or_default();
        let part = part.split("<h3").next().unwrap_or_default();
        let heads = Html::parse_fragment(part);
        let listed: BTreeSet<u64> = all(&heads, "tbody > tr > th")
            .into_iter()
            .map(|no| shown(no).trim_start_matches('#').parse().expect("a number"))
            .collect();
        let there: BTreeSet<u64> = home
            .log
            .iter()
            .filter(|record| of(&record.body) && !gone.contains(&record.first.0))
            .map(|record| record.no.0)
            .collect();
        assert!(!there.is_empty(), "{id}");
        assert_eq!(listed, there, "{id}");
    }
}

/// The numbers by which a chat knows people, roles and channels: none is anywhere in what leaves the house.
#[test]
fn no_number_of_the_chat_is_on_the_page_or_in_its_rows() {
    const FAR: u64 = 880_000_000_000;
    let mut home = hostile();
    for record in &mut home.log {
        record.who = record.who.map(|who| Person(FAR + who.0));
    }
    for lang in [Lang::English, Lang::Spanish] {
        let command = command("report", &[("period", text("2026"))]);
        let mut ask = |who| home.ask_by(Person(who), &[103], &command);
        let report = match lang {
            Lang::English => ask(FAR),
            Lang::Spanish => report(&mut home, lang, &[("period", "2026")]),
        };
        let (page, rows) = files(&report);
        let page = shown(Html::parse_document(page).root_element());
        for (of, text) in [("page", page.as_str()), ("rows", rows)] {
            for mention in ["88000000", "<@", "<#"] {
                assert!(!text.contains(mention), "{mention} in the {of}");
            }
        }
        // The home's own changes are there, by role.
        assert!(rows.contains("policy-set") && rows.contains("unit-set"));
    }
}

#[test]
fn the_other_pages_are_as_sound() {
    let mut home = hostile();
    let tags: Vec<String> = home
        .state
        .surfaces
        .keys()
        .map(ToString::to_string)
        .collect();
    let mut seen = 0;
    for (role, path, options) in [
        (
            Role::Supervisor,
            "fleet export",
            ("what", "wall".to_owned()),
        ),
        (Role::Nurse, "surface", ("surface", tags[0].clone())),
        (Role::Supervisor, "surface", ("surface", tags[1].clone())),
    ] {
        let said = home.ask(role, &command(path, &[(options.0, text(&options.1))]));
        for file in &answer_message(&said).expect("a message").files {
            if file.name.ends_with(".html") {
                sound(&file.text, "en");
                seen += 1;
            }
        }
    }
    assert!(seen > 0, "no page");
}

/// The records of a file by the grammar of RFC 4180, which our own writer has no part in: CR LF after every line, quotes around
/// what needs them and doubled within, nothing else quoted.
fn rfc_4180(file: &str) -> Vec<Vec<String>> {
    let mut rows = vec![Vec::new()];
    let mut rest = file;
    while !rest.is_empty() {
        let cell = if let Some(quoted) = rest.strip_prefix('"') {
            let mut cell = String::new();
            let mut left = quoted;
            loop {
                let (part, after) = left.split_once('"').expect("a quote that is closed");
                cell.push_str(part);
                left = after;
                let Some(after) = left.strip_prefix('"') else {
                    break;
                };
                cell.push('"');
                left = after;
            }
            rest = left;
            cell
        } else {
            let end = rest
                .find([',', '\r', '\n', '"'])
                .expect("an end of the line");
            let (cell, left) = rest.split_at(end);
            rest = left;
            cell.to_owned()
        };
        rows.last_mut().unwrap().push(cell);
        if let Some(left) = rest.strip_prefix(',') {
            rest = left;
        } else {
            rest = rest
                .strip_prefix("\r\n")
                .expect("a comma or the end of the line");
            rows.push(Vec::new());
        }
    }
    assert_eq!(rows.pop(), Some(Vec::new()), "the last line ends as well");
    rows
}

#[test]
fn the_rows_are_read_by_their_grammar_and_run_nothing() {
    let mut home = hostile();
    let report = report(&mut home, Lang::English, &[("period", "2026")]);
    let (_, rows) = files(&report);
    let rows = rfc_4180(rows);
    assert!(rows.len() > 100, "{} rows", rows.len());
    let heads = &rows[0];
    let note = heads.iter().position(|head| head == "note").unwrap();
    let mut notes = 0;
    for row in &rows {
        assert_eq!(row.len(), heads.len(), "{row:?}");
        for cell in row {
            assert!(
                !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
                "{cell}"
            );
            assert!(
                !cell.contains(|c: char| c.is_control() || c == '\u{202e}'),
                "{cell}"
            );
        }
        notes += usize::from(row[note] == format!("'{SEEN}"));
    }
    assert!(notes > 100, "{notes} notes");
}

fn put(home: &mut Home, role: Role, body: Body, note: &str) {
    let no = home.state.next_no();
    let record = Record {
        no,
        at: home.now,
        entered: home.now,
        who: Some(Person(1_003)),
        role,
        first: no,
        body,
        note: Some(note.to_owned()),
    };
    home.state.apply(&record).unwrap();
    home.log.push(record);
}

/// A fortnight in which more was entered than a chat takes: what is left out is said, with what to ask for, and whoever asks for that
/// has every entry.
#[test]
fn what_is_too_large_is_cut_and_nothing_is_lost() {
    let mut home = Home::set_up();
    let before = home.log.len();
    // Six bytes each on the page.
    let long = "\"".repeat(2_100);
    for n in 0..3_000 {
        home.now += TimeDelta::minutes(6);
        let tag = Tag::from(["LW-01", "LW-02", "LW-03"][n % 3]);
        let body = if n % 3 == 0 {
            Body::Cleaned {
                tag,
                reason: commands::choice::Cleaning::Routine,
                method: Method::SoapAndWater,
                product: None,
                cover: Cover::Intact,
            }
        } else {
            Body::HandChecked {
                tag,
                air: Air::Measured(Tenths(318)),
                judged: Judgement::Adequate,
                band: Band::default(),
                site: None,
                position: None,
                mode: None,
                layers: None,
                setting: None,
                recheck: None,
                round: false,
                from_paper: false,
                felt: false,
            }
        };
        put(&mut home, Role::Aide, body, &long);
    }
    let mut wanted: BTreeSet<String> = home.log[before..]
        .iter()
        .map(|record| format!("#{}", record.no))
        .collect();
    let mut asked = vec![("period", "2026-03".to_owned())];
    let mut reports = 0;
    loop {
        let options: Vec<(&str, &str)> = asked
            .iter()
            .map(|(name, of)| (*name, of.as_str()))
            .collect();
        let report = report(&mut home, Lang::English, &options);
        let (page, rows) = files(&report);
        assert!(
            page.len() + rows.len() < FILE_BYTES_MAX,
            "{} and {}",
            page.len(),
            rows.len()
        );
        let said = answer_text(&report);
        if reports == 0 {
            let page = sound(page, "en");
            let seen = shown(page.root_element());
            assert!(
                seen.contains("left out here; the rows' file has what the chat takes."),
                "it says so"
            );
        }
        let rows = rfc_4180(rows);
        for row in &rows[1..] {
            wanted.remove(&row[0]);
        }
        reports += 1;
        assert!(reports < 9, "it comes to no end: {said}");
        let Some((_, more)) = said.split_once("For them ask again: `/report from:") else {
            assert!(!said.contains("The chat takes no larger file"), "{said}");
            break;
        };
        assert!(
            said.contains("The chat takes no larger file: the oldest "),
            "{said}"
        );
        let (from, more) = more.split_once(" to:").unwrap();
        let (to, _) = more.split_once('`').unwrap();
        asked = vec![("from", from.to_owned()), ("to", to.to_owned())];
    }
    assert!(reports > 1, "it was not too large");
    assert_eq!(wanted, BTreeSet::new(), "in no file");
}
