//! The readers of text and bytes, fed with what nobody means: everyday sentences, readings, times, tables, button
//! identifiers and records of the tests, cut, swapped, spliced and spoilt by a seed. Decides what is fed to whom; the only promise
//! is that nothing stops and that what comes back can be read again where a reader says so. What once stopped a
//! reader is kept in `tests/readers`, a file each, and is fed again on every run.

use std::fmt::Write as _;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use anyhow::{Context, Result};
use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use commands::record::Body;
use commands::rules::plain::{Home, HomeBed};
use commands::rules::zone::Zone;
use commands::rules::{
    air, air_in_text, beds, bleach, day_ahead, figure, frame, gap, guard, import, nearest, period,
    plain, rent, schedule, time_of_day, until, when,
};
use commands::tap::Tap;
use fastrand::Rng;

use crate::talk::talker::{self, Talk};
use crate::talk::world::Trouble;

/// A reader: its name, what it is fed with, and itself.
pub struct Reader {
    /// Its name, which begins the names of kept files.
    pub name: &'static str,
    kind: Kind,
    read: fn(&str),
}

/// Which texts a reader's own are made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// Everyday sentences and what stands in options.
    Words,
    /// Tables.
    Tables,
    /// Identifiers of buttons and forms.
    Ids,
    /// Records as they stand in a file.
    Records,
}

/// All of them.
pub const READERS: &[Reader] = &[
    reader("air", Kind::Words, |text| {
        if let Ok(said) = air::parse(text) {
            let _ = format!("{said:?}");
        }
        let _ = (air::bare(text), air_in_text::readings(text));
    }),
    reader("gap", Kind::Words, |text| {
        let _ = (gap::parse(text), gap::parse_angle(text), frame::parse(text));
    }),
    reader("when", Kind::Words, |text| {
        let now = noon();
        if let Ok(at) = when::parse(text, now, &zone(), TimeDelta::days(400)) {
            assert!(at <= now, "in the future: {at}");
        }
    }),
    reader("until", Kind::Words, |text| {
        let now = noon();
        if let Ok(at) = until::parse(text, now, &zone(), TimeDelta::days(400)) {
            assert!(at > now, "in the past: {at}");
        }
    }),
    reader("day", Kind::Words, |text| {
        let today = day();
        let _ = (
            day_ahead::parse(text, today),
            period::day(text),
            period::parse(text, today),
        );
        let _ = time_of_day::parse(text);
    }),
    reader("schedule", Kind::Words, |text| {
        if let Ok(pattern) = schedule::Pattern::parse(text) {
            let _ = format!("{pattern:?}");
        }
    }),
    reader("beds", Kind::Words, |text| {
        if let Ok(all) = beds::parse(text) {
            let shown = beds::show(&all);
            assert_eq!(beds::parse(&shown).as_ref(), Ok(&all), "shown as {shown}");
        }
        let _ = beds::name(text);
    }),
    reader("figure", Kind::Words, |text| {
        let _ = (
            figure::read(text),
            rent::parse_money(text),
            rent::parse_price(text),
            rent::currency(text),
        );
    }),
    reader("bleach", Kind::Words, |text| {
        let _ = (
            bleach::parse_stock(text),
            bleach::parse_target(text),
            bleach::parse_volume(text),
        );
    }),
    reader("name", Kind::Words, |text| {
        let names = ["LW-07", "LW-7", "101", "101A", "Elm", "Elmwood", "Zürich"];
        let _ = (
            nearest::find(text, names),
            nearest::find_place(text, names),
            Zone::parse(text),
        );
        assert_eq!(nearest::fold(&nearest::fold(text)), nearest::fold(text));
    }),
    reader("guard", Kind::Words, |text| {
        let _ = (
            guard::check(text, guard::Field::Note),
            guard::check(text, guard::Field::Register),
        );
    }),
    reader("plain", Kind::Words, |text| {
        let home = Home {
            beds: vec![
                HomeBed {
                    bed: "101",
                    unit: "Elm",
                    under: Some("LW-07"),
                },
                HomeBed {
                    bed: "102",
                    unit: "Elm",
                    under: None,
                },
            ],
            tags: vec!["LW-07", "LW-20"],
            units: vec!["Elm"],
            ..Home::default()
        };
        let _ = plain::listen(text, &home);
    }),
    reader("table", Kind::Tables, |text| {
        for bytes in [text.as_bytes(), &narrow(text)] {
            let _ = (
                import::profiles(bytes).is_ok(),
                import::beds(bytes).is_ok(),
                import::surfaces(bytes).is_ok(),
            );
        }
    }),
    reader("tap", Kind::Ids, |text| {
        let (id, chosen) = text
            .split_once(' ')
            .map_or((text, None), |(id, chosen)| (id, Some(chosen)));
        if let Ok(tap) = Tap::read(id, chosen, |_field| Some("1.25")) {
            let _ = tap.id();
        }
    }),
    reader("record", Kind::Records, |text| {
        for bytes in [text.as_bytes(), &narrow(text)] {
            if let Ok(body) = Body::decode(1, bytes) {
                assert_eq!(Body::decode(1, &body.encode()).as_ref(), Ok(&body));
            }
        }
    }),
];

const fn reader(name: &'static str, kind: Kind, read: fn(&str)) -> Reader {
    Reader { name, kind, read }
}

/// As a program writes it that knows one byte for each letter: what is beyond ASCII is no UTF-8 any more.
fn narrow(text: &str) -> Vec<u8> {
    text.chars()
        .map(|letter| u8::try_from(letter).unwrap_or(0xff))
        .collect()
}

fn noon() -> DateTime<Utc> {
    // In the home's zone the second of two hours of the same name has just begun.
    DateTime::from_timestamp(1_793_520_120, 0).unwrap_or_default()
}

fn day() -> NaiveDate {
    noon().date_naive()
}

fn zone() -> Zone {
    Zone::parse("America/Chicago").unwrap_or_else(|_| Zone::utc())
}

/// What the fed texts are made of.
pub struct Corpus {
    words: Vec<String>,
    tables: Vec<String>,
    ids: Vec<String>,
    records: Vec<String>,
}

impl Corpus {
    /// The texts of the tests, below the workspace's folder, and identifiers that the core has written.
    ///
    /// # Errors
    /// What cannot be read.
    pub fn of(house: &Path, ids: Vec<String>) -> Result<Self> {
        let mut words = Vec::new();
        for file in [
            "commands/tests/plain/sentences.txt",
            "commands/src/rules/guard_cases.txt",
        ] {
            let text = std::fs::read_to_string(house.join(file)).context(file)?;
            let of = |line: &str| line.rsplit(" | ").next().unwrap_or(line).to_owned();
            words.extend(text.lines().filter(|line| !line.starts_with('#')).map(of));
        }
        let mut tables = Vec::new();
        for file in talker::all(&house.join("tests/scenarios"))? {
            let text = std::fs::read_to_string(&file)?;
            for line in text.lines().filter(|line| line.contains(": /")) {
                words.extend(
                    line.split_whitespace()
                        .filter_map(|word| Some(word.split_once(':')?.1.to_owned())),
                );
                words.push(
                    line.split_once(": ")
                        .map_or(line, |(_, said)| said)
                        .to_owned(),
                );
            }
            if text.contains("serial,") {
                tables.push(text);
            }
        }
        tables.push("tag,profile,serial,owned,state\nLW-01,general,A-1,owned,ready\nLW-02,general,,rented,new\n".into());
        tables.push("unit,bed\nElm,101\nElm,102\nOak,201\n".into());
        tables.push(
            "\u{feff}profile;check;low;high\ngeneral;hand;1;1.5\n\"a \"\"b\"\"\";none;;\n".into(),
        );
        words.retain(|text| !text.is_empty());
        words.sort();
        words.dedup();
        let mut records = Vec::new();
        for line in std::fs::read_to_string(house.join("commands/tests/logs/v3.jsonl"))?.lines() {
            let record: serde_json::Value = serde_json::from_str(line)?;
            records.push(record["body"].to_string());
        }
        Ok(Self {
            words,
            tables,
            ids,
            records,
        })
    }

    fn of_kind(&self, kind: Kind) -> &[String] {
        match kind {
            Kind::Words => &self.words,
            Kind::Tables => &self.tables,
            Kind::Ids => &self.ids,
            Kind::Records => &self.records,
        }
    }

    /// A text that nobody means.
    fn spoilt(&self, dice: &mut Rng, kind: Kind) -> String {
        let own = self.of_kind(kind);
        let mut text: Vec<char> = dice
            .choice(own)
            .map(|text| text.chars().collect())
            .unwrap_or_default();
        for _ in 0..dice.usize(0..6) {
            let at = dice.usize(0..=text.len());
            let to = dice.usize(at..=text.len());
            match dice.u8(0..8) {
                0 => drop(text.drain(at..to)),
                1 => {
                    let part = text[at..to].to_vec();
                    text.splice(at..at, part);
                }
                2 => {
                    let other: Vec<char> = dice
                        .choice(own)
                        .map(|text| text.chars().collect())
                        .unwrap_or_default();
                    let from = dice.usize(0..=other.len());
                    text.splice(at..to, other[from..].iter().copied());
                }
                3 | 4 => text.insert(at, ODD[dice.usize(..ODD.len())]),
                5 => {
                    let number = NUMBERS[dice.usize(..NUMBERS.len())];
                    text.splice(at..at, number.chars());
                }
                6 => text[at..to].reverse(),
                _ => {
                    if let Some(there) = text.get_mut(at) {
                        *there = dice.char(..);
                    }
                }
            }
            text.truncate(LONGEST);
        }
        text.into_iter().collect()
    }
}

/// The identifiers that some of the conversations show.
///
/// # Errors
/// A conversation that cannot be run.
pub fn identifiers(scenarios: &Path) -> Result<Vec<String>> {
    let mut ids = Vec::new();
    for file in talker::all(scenarios)?.into_iter().step_by(12) {
        let (_, world) = Talk::open(&file)?.run(Trouble::None)?;
        ids.extend(world.chat.messages.iter().flat_map(|one| one.look.ids()));
    }
    ids.sort();
    ids.dedup();
    Ok(ids)
}

/// More than any field of the chat can hold.
const LONGEST: usize = 6_500;
const ODD: &[char] = &[
    ' ',
    '\n',
    '\r',
    '\t',
    '\0',
    '"',
    '\'',
    '`',
    ',',
    ';',
    ':',
    '|',
    '/',
    '\\',
    '-',
    '–',
    '+',
    '.',
    '%',
    '½',
    '¼',
    '⅛',
    '¾',
    '″',
    '@',
    '<',
    '>',
    '*',
    '_',
    '[',
    '(',
    '0',
    '1',
    '9',
    'a',
    'p',
    'm',
    'i',
    'n',
    'h',
    'c',
    'é',
    'ß',
    'İ',
    'ﬁ',
    'Ⅷ',
    '٣',
    '１',
    '\u{200b}',
    '\u{202e}',
    '\u{feff}',
    '\u{301}',
    '🛏',
    '\u{10ffff}',
];
const NUMBERS: &[&str] = &[
    "0",
    "-0",
    "1",
    "1.",
    ".5",
    "1/0",
    "0/0",
    "9999999999",
    "99999999999999999999999",
    "-1",
    "1e9",
    "1e309",
    "NaN",
    "inf",
    "0x10",
    "1,000.5",
    "1.000,5",
    "18446744073709551616",
    "9223372036854775807",
    "24:00",
    "25:61",
    "00:00",
    "29 feb",
    "2026-02-30",
    "31/12/9999",
    "12:00 am",
];

/// A text that stopped a reader.
#[derive(Debug)]
pub struct Stopped {
    /// Which.
    pub reader: &'static str,
    /// The text.
    pub text: String,
    /// What it said.
    pub why: String,
}

/// Feeds a reader; what stopped it.
pub fn feed(reader: &Reader, text: &str) -> Option<Stopped> {
    let fed = catch_unwind(AssertUnwindSafe(|| (reader.read)(text)));
    let panic = fed.err()?;
    let mut why = String::new();
    let words = panic.downcast_ref::<String>().map(String::as_str);
    let words = words.or_else(|| panic.downcast_ref::<&str>().copied());
    // Writing to a string cannot fail.
    let _ = write!(why, "{}", words.unwrap_or("it panicked"));
    Some(Stopped {
        reader: reader.name,
        text: text.to_owned(),
        why,
    })
}

/// Feeds a reader with so many texts made of a seed. Returns what stopped it first.
pub fn feed_one(reader: &Reader, corpus: &Corpus, seed: u64, count: u64) -> Option<Stopped> {
    let mut dice = Rng::with_seed(seed);
    (0..count).find_map(|_| feed(reader, &corpus.spoilt(&mut dice, reader.kind)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reader_that_stops_is_told_with_its_text() {
        let unsure = reader("unsure", Kind::Words, |text| {
            assert!(!text.contains('½'), "no halves")
        });
        assert!(feed(&unsure, "1 1/2 in").is_none());
        let stopped = feed(&unsure, "1 ½ in").unwrap();
        assert_eq!(
            (stopped.reader, stopped.text.as_str(), stopped.why.as_str()),
            ("unsure", "1 ½ in", "no halves")
        );
    }
}
