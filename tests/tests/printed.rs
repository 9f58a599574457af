//! The pages that the bot hands out, on paper: printed by a real browser on A4 and on Letter, and read back from what it printed.
//! Decides that a sheet is as large as the paper, that nothing on it is cut or beyond its margins, that every line of every
//! table is there whole, and that a table's head stands on every sheet that it reaches; and that on a phone no page is wider
//! than the screen. Leaves what the pages say to the core.

#[path = "page/driver.rs"]
#[allow(dead_code, reason = "the demo's page needs more of it")]
mod driver;
#[path = "printed/sheets.rs"]
mod sheets;

use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use commands::message::{Answer, File};
use commands::past::Read;
use commands::record::Record;
use commands::said::Value;
use commands::{Said, Source};
use demo_guild::home::{self, Job};
use driver::Screen;
use fantoccini::wd::PrintSize;
use scraper::{ElementRef, Html, Selector};
use sheets::{Sheet, Shown, print, shown};
use store::Store;

/// Somebody's own words, wider than any column.
const LONG: &str = "Rindfleischetikettierungsüberwachungsaufgabenübertragungsgesetz_0123456789012345678901234567890123456789";

/// Both papers, with what they measure in points.
const PAPERS: [(&str, PrintSize, (f64, f64)); 2] = [
    ("A4", PrintSize::A4, (595.3, 841.9)),
    ("Letter", PrintSize::US_LETTER, (612.0, 792.0)),
];

/// What the invented home hands out after its months: a report, a surface's line and the sheets for the wall.
static FILES: LazyLock<Vec<File>> = LazyLock::new(|| {
    let folder = tempfile::tempdir().expect("a folder");
    let mut store = Store::open(folder.path(), home::guild()).expect("a store");
    let day = home::demo_day().expect("a day");
    let now = home::demo_start(day).expect("a moment");
    home::prepare(&mut store, now, home::DEMO_SEED).expect("a home");
    let mut state = store.replay().expect("a state");
    for surface in state.surfaces.values_mut().take(3) {
        surface.serial = Some(LONG.to_owned());
    }
    let supervisor = home::staff().find(|who| who.job == Job::Supervisor);
    let ask = supervisor
        .expect("a supervisor")
        .ask(Source::interaction(7), now);
    let mut all = Vec::new();
    for (path, option, value) in [
        ("report", "period", "last 90 days"),
        ("timeline", "what", "LW-07"),
        ("fleet export", "what", "wall"),
    ] {
        let said = Said::Command {
            path: path.to_owned(),
            options: [(option.to_owned(), Value::Text(value.to_owned()))].into(),
        };
        let found = commands::answer_from(&state, &ask, &said, |wanted| {
            let records = store.past(wanted)?;
            Ok::<_, store::StoreError>(Read {
                records: records.into_iter().map(wordy).collect(),
                seal: Some(store.seal()),
            })
        });
        let answer = found.expect("the log").answer;
        let Some(Answer::Private(message)) = answer else {
            panic!("/{path} answers nothing");
        };
        all.extend(message.files);
    }
    all.retain(|file| file.name.ends_with(".html"));
    all
});

/// Every thirtieth entry has a word that is wider than any column.
fn wordy(mut record: Record) -> Record {
    if record.no.0.is_multiple_of(30) {
        record.note = Some(LONG.to_owned());
    }
    record
}

#[test]
fn a_report_fits_both_papers_and_nothing_is_cut() {
    fits("report");
}

#[test]
fn the_sheets_for_the_wall_fit_both_papers() {
    fits("wall");
}

/// A page with everything in its place, on a phone held upright: only boxes of tables are moved sideways.
#[test]
fn no_page_is_wider_than_a_phone() {
    if !driver::is_here() {
        return;
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("printed");
    fs::create_dir_all(&folder).expect("a folder for pictures of pages");
    for name in ["report", "timeline", "wall"] {
        let page = bot::draw::page(file(name));
        let page = String::from_utf8_lossy(&page);
        fs::write(folder.join(format!("{name}.html")), page.as_bytes()).expect("a file");
        let Shown {
            wide,
            widest,
            tables,
            picture,
        } = shown(&page, Screen::Phone);
        fs::write(folder.join(format!("{name}-phone.png")), picture).expect("a file");
        assert_eq!(wide, u64::from(Screen::Phone.size().0), "{name}: {widest}");
        assert!(tables > 0, "{name} has no table");
    }
}

fn file(name: &str) -> &'static File {
    let file = FILES.iter().find(|file| file.name.contains(name));
    file.unwrap_or_else(|| {
        panic!(
            "no {name} among {:?}",
            FILES.iter().map(|file| &file.name).collect::<Vec<_>>()
        )
    })
}

fn fits(name: &str) {
    if !driver::is_here() {
        return;
    }
    let file = file(name);
    let page = Html::parse_document(&file.text);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("printed");
    fs::create_dir_all(&folder).expect("a folder for sheets");
    for (paper, size, measure) in PAPERS {
        let pdf = print(&file.text, size);
        fs::write(folder.join(format!("{name}-{paper}.pdf")), &pdf).expect("a file");
        let sheets = sheets::read(&pdf);
        assert!(!sheets.is_empty());
        for (nth, sheet) in sheets.iter().enumerate() {
            sheet.is_of(measure, &format!("{name} on {paper}, sheet {}", nth + 1));
        }
        every_line_is_there(&page, &sheets, paper);
    }
}

/// The lines of every table, each whole on one sheet under its table's head; and everything else, somewhere.
fn every_line_is_there(page: &Html, sheets: &[Sheet], paper: &str) {
    let all = |css: &str| Selector::parse(css).expect("a selector");
    let (rows, heads) = (all("tbody > tr"), all("thead > tr"));
    let mut lines = 0;
    // The order of the sheets is that of the page: what was found is not looked for again.
    let mut from = 0;
    for table in page.select(&all("table")) {
        let head = table.select(&heads).next().map(said).unwrap_or_default();
        for row in table.select(&rows) {
            let line = said(row);
            if line.is_empty() {
                continue;
            }
            let on = (from..sheets.len()).find(|nth| sheets[*nth].text.contains(&line));
            let on =
                on.unwrap_or_else(|| panic!("{paper}: from sheet {} on nowhere: {line}", from + 1));
            assert!(
                sheets[on].text.contains(&head),
                "{paper}: sheet {} has no head {head} over {line}",
                on + 1
            );
            from = on;
            lines += 1;
        }
    }
    let whole: String = sheets.iter().map(|sheet| sheet.text.as_str()).collect();
    for text in page.select(&all("h1, h2, h3, li")) {
        assert!(
            whole.contains(&said(text)),
            "{paper}: nowhere: {}",
            said(text)
        );
    }
    assert!(lines > 0, "no line in any table");
}

/// The text of an element without its spaces, as it is compared with what was printed.
fn said(of: ElementRef<'_>) -> String {
    sheets::close(&of.text().collect::<String>())
}
