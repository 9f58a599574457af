//! Files for a spreadsheet, as they arrive in the chat: whatever was typed, no cell of them begins a formula, a number is a number, and a
//! register that is read back elsewhere says the same. Decides what is typed; leaves how a cell is written to `rules::export`.
//!
//! Source of the signs and of the advice on separators and quotes: OWASP, CSV Injection (`www-community`, `CSV_Injection.md`, as of
//! August 2025); the full-width forms of the signs are from memory.

use std::collections::BTreeSet;
use std::time::Duration;

use demo_guild::{Layout, Outcome};
use loftwatch_tests::wire::served::served;
use serde_json::json;

use super::House;

const PATIENCE: Duration = Duration::from_secs(30);

/// The signs that begin a formula, as typed and in full width.
const SIGNS: [char; 11] = [
    '=', '+', '-', '@', '\t', '\r', '\n', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}',
];

/// What somebody might type who means no good, or nothing by it. The last but one is OWASP's own example.
const TYPED: [&str; 17] = [
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(A1)",
    "\t=1+2",
    "\r=1+3",
    "\n=1+4",
    "\u{ff1d}1+5",
    "\u{ff0b}1+6",
    "\u{ff0d}1+7",
    "\u{ff20}SUM(A2)",
    "'=1+8",
    "''-1+9",
    "\"=2+1\"",
    "a;=2+2",
    "=1+2\";=1+2",
    "a,\"=2+3\nb",
];

/// As the list of a home's products takes it, and as a panel may show it.
const PRODUCT: &str = "+Wipe";
const SETTING: &str = "+4";

/// As it is kept: a line, without what stands around it.
fn line(typed: &str) -> String {
    typed.trim().replace(['\t', '\r', '\n'], " ")
}

impl House {
    /// The files of spreadsheets that a command brings.
    async fn sheet(&self, path: &str, options: &[(&str, serde_json::Value)]) -> Vec<u8> {
        let outcome = self.does("Cy", path, options).await;
        assert_eq!(outcome.failed, None);
        let message = self.guild.settled(&outcome, PATIENCE).await.unwrap();
        let mut files = message.attachments.iter();
        let file = files.find(|file| file.name.ends_with(".csv"));
        let file = file.unwrap_or_else(|| panic!("no file: {}", message.content));
        file.bytes.to_vec()
    }

    /// A home that has nothing yet.
    async fn bare() -> House {
        let layout = Layout::new("Ash House", "America/Chicago")
            .role("Aides")
            .role("Nurses")
            .role("Supervisors")
            .person("Cy", "supervisor", &["Supervisors"])
            .person("Max", "admin", &[])
            .manager()
            .channel("north");
        let (guild, bot, folder) = served(layout).await.unwrap();
        let north = guild.channel("north");
        let set_up = [
            ("timezone", json!("America/Chicago")),
            ("care-channel", json!(north.to_string())),
            ("supervisor-channel", json!(north.to_string())),
            ("aide", json!(guild.role("Aides").to_string())),
            ("nurse", json!(guild.role("Nurses").to_string())),
            ("supervisor", json!(guild.role("Supervisors").to_string())),
        ];
        let bot = Some(bot);
        let house = House {
            guild,
            bot,
            folder,
            north,
        };
        let set = house.does("Max", "facility setup", &set_up).await;
        assert!(set.text().contains("Set: time zone"), "{}", set.text());
        house
    }

    async fn reads(&self, what: &str, bytes: &[u8], says: &str) -> Outcome {
        let text = String::from_utf8(bytes.to_vec()).unwrap();
        let file = json!({"name": "back.csv", "text": text});
        let options = [("what", json!(what)), ("file", file)];
        let outcome = self.does("Cy", "fleet import", &options).await;
        let message = self.guild.settled(&outcome, PATIENCE).await.unwrap();
        assert!(message.content.contains(says), "{}", message.content);
        outcome
    }
}

/// The rows of a file, its header first, once it was looked at as a spreadsheet would that separates cells by any of the signs for it,
/// whatever the quotes say.
fn inert(bytes: &[u8]) -> Vec<Vec<String>> {
    let text = std::str::from_utf8(bytes).unwrap();
    for separator in [',', ';', '\t'] {
        for cell in text.split([separator, '\r', '\n']) {
            let cell = cell.trim_start_matches('"');
            assert!(!cell.starts_with(SIGNS), "{cell:?} in\n{text}");
        }
    }
    let mut rows = csv::ReaderBuilder::new();
    let mut rows = rows.has_headers(false).from_reader(bytes);
    let rows = rows.records().map(|row| {
        let row = row.unwrap();
        for cell in &row {
            assert!(!cell.starts_with(SIGNS), "{cell:?}");
        }
        row.iter().map(str::to_owned).collect()
    });
    rows.collect()
}

/// The cells of a column.
fn column(rows: &[Vec<String>], name: &str) -> Vec<String> {
    let at = rows[0].iter().position(|column| column == name);
    let at = at.unwrap_or_else(|| panic!("no {name}: {:?}", rows[0]));
    rows[1..].iter().map(|row| row[at].clone()).collect()
}

/// What was put in front of a sign is no part of what was typed: without any of these apostrophes a text is found again.
fn has(cells: &[String], typed: &str) -> bool {
    let bare = |text: &str| text.replace('\'', "");
    cells
        .iter()
        .any(|cell| bare(cell).contains(&bare(&line(typed))))
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_register_begins_no_formula_and_reads_back_as_it_was() {
    let house = House::bare().await;
    let profiles = "profile,class,kind,check,filter,width_in,capacity_lb,low_in,high_in,settings\n\
         -Deep,overlay,alternating,hand,replaceable,35.5,400,1,1.5,120:1;160:2\n\
         +Broad,overlay,alternating,hand,none,36,350,1.5,2,\n\
         'Low,overlay,alternating,hand,none,36,350,1.5,2,\n";
    house.reads("profiles", profiles.as_bytes(), "3 ").await;
    let names = ["-Deep", "+Broad", "'Low", "general"];
    for (n, typed) in TYPED.iter().enumerate() {
        // A tag's only sign is the dash, and it may begin with one.
        let tag = format!("{}{n}", if n % 2 == 0 { "-" } else { "LW-" });
        let add = [
            ("tag", json!(tag)),
            ("profile", json!(names[n % names.len()])),
            ("serial", json!(typed)),
            ("lot", json!(format!("{typed}{n}"))),
            ("owned", json!("rented")),
        ];
        let added = house.does("Cy", "fleet add", &add).await;
        let says = "is in the register";
        assert!(added.text().contains(says), "{typed:?}: {}", added.text());
    }
    let register = house.sheet("fleet export", &[]).await;
    let rows = inert(&register);
    assert_eq!(rows.len(), TYPED.len() + 1, "{rows:#?}");
    for typed in TYPED {
        for name in ["serial", "lot"] {
            assert!(has(&column(&rows, name), typed), "{typed:?}: {rows:#?}");
        }
    }
    let kinds = house
        .sheet("fleet export", &[("what", json!("profiles"))])
        .await;
    let rows = inert(&kinds);
    for (name, numbers) in [
        ("width_in", ["35.5", "36", "36"]),
        ("capacity_lb", ["400", "350", "350"]),
        ("low_in", ["1", "1.5", "1.5"]),
    ] {
        let there: BTreeSet<_> = column(&rows, name).into_iter().collect();
        assert_eq!(there, numbers.map(str::to_owned).into(), "{name}");
    }

    let elsewhere = House::bare().await;
    elsewhere.reads("profiles", &kinds, "3 ").await;
    elsewhere.reads("surfaces", &register, "17 ").await;
    let text = |bytes| String::from_utf8(bytes).unwrap();
    let again = elsewhere
        .sheet("fleet export", &[("what", json!("profiles"))])
        .await;
    assert_eq!(text(again), text(kinds));
    assert_eq!(
        text(elsewhere.sheet("fleet export", &[]).await),
        text(register)
    );
    house.close().await;
    elsewhere.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_rows_of_a_report_begin_no_formula() {
    let house = House::open().await;
    for typed in TYPED {
        let check = [
            ("surface", json!("LW-07")),
            ("air", json!("1.25")),
            ("note", json!(typed)),
        ];
        let checked = house.does("Ana", "handcheck", &check).await;
        assert!(checked.text().contains("Adequate"), "{}", checked.text());
        let entry = json!(house.records().to_string());
        let (air, no_air) = (vec![("air", json!("1.5"))], vec![]);
        // A correction by whoever entered it, and a remark of somebody else's.
        for (who, more, says) in [("Ana", air, "corrected"), ("Cy", no_air, "remark stands")] {
            let amend = [
                vec![("entry", entry.clone()), ("reason", json!(typed))],
                more,
            ];
            let amended = house.does(who, "amend", &amend.concat()).await;
            assert!(amended.text().contains(says), "{}", amended.text());
        }
    }
    // A product of the home's list, one that is on no list yet and stands where notes do, and a setting.
    let listed = [
        ("name", json!(PRODUCT)),
        ("method", json!("quaternary")),
        ("contact", json!(3)),
        ("sporicidal", json!("off")),
    ];
    for (surface, product) in [("LW-07", TYPED[0]), ("LW-08", PRODUCT)] {
        let clean = [
            ("surface", json!(surface)),
            ("reason", json!("routine")),
            ("method", json!("quaternary")),
            ("cover", json!("intact")),
            ("product", json!(product)),
        ];
        let cleaned = house.does("Cy", "clean", &clean).await;
        assert!(cleaned.text().contains("Recorded"), "{}", cleaned.text());
        house.does("Cy", "facility product", &listed).await;
    }
    let set = [("surface", json!("LW-07")), ("set", json!(SETTING))];
    let set = house.does("Cy", "setting", &set).await;
    assert!(set.text().contains(SETTING), "{}", set.text());
    let report = house.sheet("report", &[("period", json!("today"))]).await;
    let rows = inert(&report);
    for typed in TYPED {
        for name in ["note", "reason", "remarks"] {
            assert!(
                has(&column(&rows, name), typed),
                "{name} {typed:?}: {rows:#?}"
            );
        }
    }
    for typed in [PRODUCT, SETTING] {
        assert!(has(&column(&rows, "what"), typed), "{typed:?}: {rows:#?}");
    }
    house.close().await;
}
