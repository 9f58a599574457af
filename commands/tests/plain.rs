//! Everyday sentences, as people type them to the bot, and what must come of each. The table is `plain/sentences.txt`; its head
//! says how a line is read. Besides: whatever is typed, nothing stops, and what is understood is there.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use std::collections::BTreeMap;

use commands::choice::Cause;
use commands::role::Role;
use commands::rules::air::{Tenths, Units, show};
use commands::rules::hand_check::Why;
use commands::rules::plain::{
    About, AirSaid, Asks, Deed, Doubt, Example, Heard, Home as Names, HomeBed, Left, Mishap, Place,
    Understood, listen, read,
};
use commands::rules::priority::AlarmKind;
use commands::table;
use commands::words::Lang;
use commands::{Said, in_public};
use common::Home;
use proptest::prelude::*;

const TABLE: &str = include_str!("plain/sentences.txt");

/// A home as the table writes it: `Elm: 101 103=LW-07; loose: LW-20`.
fn home(line: &str) -> Names<'_> {
    let mut home = Names::default();
    for part in line.split(';') {
        let (name, list) = part.trim().split_once(": ").unwrap();
        for entry in list.split_whitespace() {
            if name == "loose" {
                home.tags.push(entry);
                continue;
            }
            let (bed, under) = match entry.split_once('=') {
                Some((bed, tag)) => (bed, Some(tag)),
                None => (entry, None),
            };
            home.tags.extend(under);
            home.beds.push(HomeBed {
                bed,
                unit: name,
                under,
            });
        }
        if name != "loose" {
            home.units.push(name);
        }
    }
    home
}

fn inches(length: Tenths) -> String {
    show(length, Units::Inches)
}

fn air(air: AirSaid) -> String {
    match air {
        AirSaid::Measured(length) => inches(length),
        AirSaid::Under(length) => format!("under {}", inches(length)),
        AirSaid::Over(length) => format!("over {}", inches(length)),
        AirSaid::Touching => "touching".to_owned(),
        AirSaid::Within => "within".to_owned(),
        AirSaid::CouldNot(Why::Other) => "could not".to_owned(),
        AirSaid::CouldNot(why) => format!("could not, {}", why.as_str()),
    }
}

fn extras(about: &About) -> String {
    let mut text = String::new();
    let mut add = |word: String| {
        text.push_str(", ");
        text.push_str(&word);
    };
    if let Some(site) = about.site {
        add(site.as_str().to_owned());
    }
    if let Some(position) = about.position {
        add(position.as_str().to_owned());
    }
    if let Some(mode) = about.mode {
        add(mode.as_str().to_owned());
    }
    if let Some(layers) = about.layers {
        add(format!("layers {layers}"));
    }
    if let Some(setting) = &about.setting {
        add(format!("setting {setting}"));
    }
    if let Some(when) = &about.when {
        add(format!("at {when}"));
    }
    text
}

/// `found`: it is put right. `cause`: what was wrong, and nobody said whether it is right.
fn mishap(of: &Mishap, cause: &str) -> String {
    let power = of.kind == AlarmKind::Power;
    // A plug that is out is a loss of power.
    let implied = power && matches!(of.cause, Cause::Unplugged | Cause::SwitchedOff);
    let kind = if of.kind == AlarmKind::Unknown || implied {
        String::new()
    } else {
        format!("{}, ", of.kind.as_str())
    };
    let since = of.since.as_deref().unwrap_or("?");
    let since = if of.mended {
        format!(", since {since}")
    } else {
        String::new()
    };
    let read = of
        .air
        .map_or_else(String::new, |said| format!(", air {}", air(said)));
    let begins = if of.mended { "found" } else { "cause" };
    format!("{begins} {}: {kind}{cause}{since}{read}", of.tag)
}

fn understood(what: &Understood) -> String {
    match what {
        Understood::HandCheck { about, air: said } => {
            format!("check {}: {}{}", about.tag, air(*said), extras(about))
        }
        Understood::Alarm { tag, kind } => format!("alarm {tag}: {}", kind.as_str()),
        Understood::Caused(of) => mishap(of, of.cause.as_str()),
        Understood::Answered { tag } => format!("card {tag}"),
        Understood::Filter {
            tag,
            finding,
            action,
        } => format!("filter {tag}: {}, {}", finding.as_str(), action.as_str()),
        Understood::Clean {
            tag,
            reason,
            method,
            cover,
        } => format!(
            "clean {tag}: {}, {}, {}",
            reason.as_str(),
            method.as_str(),
            cover.as_str()
        ),
        Understood::Outage { unit } => {
            format!("outage {}", unit.as_deref().unwrap_or("?"))
        }
        Understood::Match { kind, bed } => format!(
            "match {} {}",
            kind.map_or("?", |kind| kind.as_str()),
            bed.as_deref().unwrap_or("?")
        ),
        Understood::OnDuty { unit } => format!("on duty {unit}"),
        Understood::Claim { unit, until } => {
            format!("duty {unit} {}", until.as_deref().unwrap_or("shift"))
        }
        Understood::Gaps {
            place: Place::Surface(at) | Place::Bed(at),
        } => format!("gaps {at}"),
        Understood::Deed { tag, deed } => match deed {
            Deed::Cpr => format!("cpr {tag}"),
            Deed::Away(why) => format!("away {tag}: {}", why.as_str()),
            Deed::Back => format!("back {tag}"),
            Deed::Static => format!("static {tag}"),
            Deed::Set(setting) => format!("set {tag}: {setting}"),
        },
        Understood::Due { unit: None } => "due".to_owned(),
        Understood::Due { unit: Some(unit) } => format!("due {unit}"),
        Understood::Where(Place::Surface(tag)) => format!("where {tag}"),
        Understood::Where(Place::Bed(bed)) => format!("where bed {bed}"),
        Understood::LookFirst { tag: None, sign } => format!("look: {}", sign.as_str()),
        Understood::LookFirst {
            tag: Some(tag),
            sign,
        } => format!("look {tag}: {}", sign.as_str()),
        Understood::Help => "help".to_owned(),
    }
}

fn example(of: Example) -> String {
    match of {
        Example::HandCheck => "check".to_owned(),
        Example::Alarm => "alarm".to_owned(),
        Example::AlarmCard => "card".to_owned(),
        Example::TakeBack => "take back".to_owned(),
        Example::Filter => "filter".to_owned(),
        Example::Clean => "clean".to_owned(),
        Example::Due => "due".to_owned(),
        Example::Where => "where".to_owned(),
        Example::LookFirst => "look".to_owned(),
        Example::Command(name) => format!("/{name}"),
        Example::Voice => "voice".to_owned(),
        Example::NoSurface => "no surface".to_owned(),
        Example::Any => "any".to_owned(),
    }
}

fn words<T>(list: &[T], word: impl Fn(&T) -> String) -> String {
    let words: Vec<String> = list.iter().map(word).collect();
    format!("[{}]", words.join("; "))
}

fn asks(ask: &Asks) -> String {
    let taps = |each: &[Understood]| if each.is_empty() { "" } else { ", one tap" };
    match ask {
        Asks::Which { tags, each } => format!("which {}{}", tags.join(" "), taps(each)),
        Asks::Surface { of, each, .. } => format!("surface, {}{}", example(*of), taps(each)),
        Asks::NoSurface { typed, near, .. } if near.is_empty() => format!("no {typed}, none near"),
        Asks::NoSurface { typed, near, each } => {
            format!("no {typed}, near {}{}", near.join(" "), taps(each))
        }
        Asks::EmptyBed { bed } => format!("empty {bed}"),
        Asks::Unit { typed } => format!("unit {typed}"),
        Asks::BedOrReading { number } => format!("bed or reading {number}"),
        Asks::Reading { about, among } => {
            format!(
                "reading {}{} {}",
                about.tag,
                extras(about),
                words(among, |said| air(*said))
            )
        }
        Asks::Air { about, fault } => format!("air {}{} {fault:?}", about.tag, extras(about)),
        Asks::When { tag } => format!("when {tag}"),
        Asks::HowLow { tag } => format!("how low {tag}"),
        Asks::HowHigh { tag } => format!("how high {tag}"),
        Asks::Kind { tag, among } => {
            format!(
                "kind {tag} {}",
                words(among, |kind| kind.as_str().to_owned())
            )
        }
        Asks::Filter {
            tag,
            findings,
            actions,
        } => format!(
            "filter {tag} {} {}",
            words(findings, |finding| finding.as_str().to_owned()),
            words(actions, |action| action.as_str().to_owned())
        ),
        Asks::Clean {
            tag,
            reason,
            method,
            cover,
        } => format!(
            "clean {tag} {} {} {}",
            reason.map_or("-", |reason| reason.as_str()),
            method.map_or("-", |method| method.as_str()),
            cover.map_or("-", |cover| cover.as_str())
        ),
        Asks::Doubt { doubt, tag, of } => {
            let doubt = match doubt {
                Doubt::Question => "question",
                Doubt::Negation => "not",
                Doubt::Over => "over",
                Doubt::Past => "past",
                Doubt::Unsure => "unsure",
                Doubt::NotYet => "not yet",
            };
            let what = of.as_ref().map_or_else(
                || tag.clone().unwrap_or_default(),
                |what| format!("({})", understood(what)),
            );
            format!("{doubt} {what}")
        }
        Asks::Each(each) => format!("each {}", words(each, understood)),
        Asks::Cause { of, among } => {
            format!(
                "which {}",
                mishap(of, &words(among, |cause| cause.as_str().to_owned()))
            )
        }
        Asks::Some { taken, left } => format!(
            "{}, left {}",
            words(taken, understood),
            words(left, |left| match left {
                Left::NoSurface { typed, near } if near.is_empty() => format!("no {typed}"),
                Left::NoSurface { typed, near } => format!("no {typed}, near {}", near.join(" ")),
                Left::EmptyBed { bed } => format!("empty {bed}"),
                Left::Unclear { tag } => format!("unclear {tag}"),
            })
        ),
        Asks::OneAtATime => "one at a time".to_owned(),
        Asks::TooLong => "too long".to_owned(),
    }
}

/// What was heard, as the table writes it.
fn shown(heard: &Heard) -> String {
    match heard {
        Heard::Understood { what, rest } => {
            format!("{}{}", understood(what), if *rest { " +rest" } else { "" })
        }
        Heard::Asks(ask) => format!("ask {}", asks(ask)),
        Heard::Nearest(of) => format!("nearest {}", example(*of)),
        Heard::Private(found) => format!("private {}", found.as_str()),
    }
}

struct Row<'a> {
    home: &'a str,
    text: String,
    expected: &'a str,
    spanish: bool,
}

fn rows() -> Vec<Row<'static>> {
    let mut rows = Vec::new();
    let (mut at, mut spanish) = ("", false);
    for line in TABLE.lines().filter(|line| !line.trim().is_empty()) {
        if let Some(line) = line.strip_prefix("home ") {
            at = line;
        } else if let Some(heading) = line.strip_prefix("## ") {
            spanish = heading.starts_with("Spanish");
        } else if !line.starts_with('#') {
            let (text, expected) = line.rsplit_once(" | ").unwrap();
            rows.push(Row {
                home: at,
                text: text.replace("\\n", "\n"),
                expected,
                spanish,
            });
        }
    }
    rows
}

#[test]
fn the_table() {
    let mut wrong = Vec::new();
    for row in rows() {
        let heard = shown(&read(&row.text, &home(row.home)));
        if heard != row.expected {
            wrong.push(format!(
                "{:?}\n    {heard}\n  not {}",
                row.text, row.expected
            ));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// A unit's name may hold more than words and figures.
#[test]
fn a_name_with_marks_in_it_is_heard() {
    let home = home("St. Ann: 301=LW-40 302=LW-41; Day/Night: 401=LW-42; loose: LW-20");
    for (text, wanted) in [
        ("what alarms in St. Ann", "due St. Ann"),
        ("any alarms open in day/night?", "due Day/Night"),
    ] {
        assert_eq!(shown(&read(text, &home)), wanted, "{text}");
    }
}

/// A message is answered in the language that its words are in; what has no words of either leaves it open.
#[test]
fn the_language_of_a_message() {
    let heard = |text: &str| listen(text, &home(rows()[0].home)).lang;
    for text in [
        "esta pitando",
        "cama 103 pita, poco aire",
        "103 esta tocando el fondo",
    ] {
        assert_eq!(heard(text), Some(Lang::Spanish), "{text}");
    }
    for text in ["its beeping", "103 low pressure", "the pump in 103 quit"] {
        assert_eq!(heard(text), Some(Lang::English), "{text}");
    }
    assert_eq!(heard("103 1 1/4"), None);
}

/// The table is as large as it claims to be, and in every part of it.
#[test]
fn the_table_is_large() {
    let rows = rows();
    let count = |of: &dyn Fn(&Row<'_>) -> bool| rows.iter().filter(|row| of(row)).count();
    let asked =
        |row: &Row<'_>| row.expected.starts_with("ask ") || row.expected.starts_with("private ");
    let nothing = |row: &Row<'_>| row.expected.starts_with("nearest ");
    assert!(rows.len() >= 550, "{}", rows.len());
    assert!(count(&|row| !row.spanish) >= 400);
    assert!(count(&|row| row.spanish) >= 100);
    assert!(count(&asked) >= 150);
    assert!(count(&nothing) >= 150);
    let mut twice = BTreeMap::new();
    for row in &rows {
        *twice.entry((row.home, &row.text)).or_insert(0) += 1;
    }
    twice.retain(|_, count| *count > 1);
    assert!(twice.is_empty(), "{twice:?}");
}

/// A command that is named is one that there is.
#[test]
fn named_commands_exist() {
    for row in rows() {
        if let Some(name) = row.expected.strip_prefix("nearest /") {
            assert!(table::find(name).is_some(), "{name}");
        }
    }
}

/// The surface of what was understood, where it names one.
fn tag_of(what: &Understood) -> Option<&str> {
    match what {
        Understood::HandCheck { about, .. } => Some(&about.tag),
        Understood::Alarm { tag, .. }
        | Understood::Caused(Mishap { tag, .. })
        | Understood::Answered { tag }
        | Understood::Filter { tag, .. }
        | Understood::Clean { tag, .. }
        | Understood::Deed { tag, .. }
        | Understood::Gaps {
            place: Place::Surface(tag),
        }
        | Understood::Where(Place::Surface(tag)) => Some(tag),
        Understood::LookFirst { tag, .. } => tag.as_deref(),
        Understood::Where(Place::Bed(_))
        | Understood::Gaps {
            place: Place::Bed(_),
        }
        | Understood::Outage { .. }
        | Understood::Match { .. }
        | Understood::OnDuty { .. }
        | Understood::Claim { .. }
        | Understood::Due { .. }
        | Understood::Help => None,
    }
}

/// Everything that a heard message would have recorded.
fn all_of(heard: &Heard) -> Vec<&Understood> {
    match heard {
        Heard::Understood { what, .. } => vec![what],
        Heard::Asks(Asks::Which { each, .. } | Asks::NoSurface { each, .. } | Asks::Each(each)) => {
            each.iter().collect()
        }
        Heard::Asks(Asks::Doubt { of: Some(of), .. }) => vec![of],
        Heard::Asks(_) | Heard::Nearest(_) | Heard::Private(_) => Vec::new(),
    }
}

/// Beds that are called like lengths and counts do not hide what a confirmation leads to: the next steps of a low reading
/// stand where everybody reads, and no bed does.
#[test]
fn short_names_of_beds_hide_no_answer() {
    let mut home = Home::set_up();
    let (name, beds) = (common::text("Ash"), common::text("1-20"));
    home.does(
        Role::Admin,
        "facility unit",
        &[("name", name), ("beds", beds)],
    );
    let (surface, bed) = (common::text("LW-04"), common::text("3"));
    home.does(Role::Nurse, "place", &[("surface", surface), ("bed", bed)]);
    let said = Said::Mention {
        text: "bed 3 3/4 inch, 2 pads".to_owned(),
        files: false,
    };
    let echo = home.ask(Role::Aide, &said);
    let button = common::buttons(&echo).into_iter().next().unwrap();
    let confirmed = home.taps(Role::Aide, &button, &[]);
    let read = in_public(&home.state, common::answer_message(&confirmed).unwrap());
    assert!(read.text.contains("Low"), "{}", read.text);
    assert!(
        read.text.contains("LW-04") && !read.text.contains("bed 3"),
        "{}",
        read.text
    );
    // Told once more after the surface left that bed it reads the same.
    let (surface, reason) = (common::text("LW-04"), common::text("discharge"));
    home.does(
        Role::Nurse,
        "release",
        &[("surface", surface), ("reason", reason)],
    );
    let again = in_public(&home.state, common::answer_message(&confirmed).unwrap());
    assert_eq!(again.text, read.text);
    // A sentence that names the bed in words is still for its reader alone.
    let mut names = read.clone();
    names.text = "Next: bed 3.".to_owned();
    assert!(!in_public(&home.state, &names).text.contains("bed 3"));
}

const WORDS: &[&str] = &[
    "LW-07",
    "lw7",
    "103",
    "214B",
    "12",
    "3",
    "1",
    "1 1/4",
    "3/4",
    "half",
    "inch",
    "an inch and a half",
    "and",
    "a",
    "pads",
    "2",
    "not",
    "beeping",
    "low",
    "low pressure",
    "filter",
    "clogged",
    "changed",
    "wiped",
    "soap and water",
    "cover",
    "fine",
    "where",
    "due",
    "in",
    "elm",
    "ash",
    "maybe",
    "was",
    "yesterday",
    "at",
    "13:40",
    "7",
    "20 min ago",
    "?",
    ",",
    "asleep",
    "cant check",
    "under",
    "pita",
    "la",
    "media pulgada",
    "setting",
    "hob",
    "30",
    "-",
    "\"",
    "no",
    "touching",
    "bed",
    "hace",
    "1.5",
    "cm",
    "layers",
    "x",
];

proptest! {
    #[test]
    fn nothing_stops_it(text in "\\PC{0,120}") {
        let _ = read(&text, &home(rows()[0].home));
    }

    /// Whatever is put together of known words: what comes of it names a surface of the home.
    #[test]
    fn what_is_understood_is_there(picked in prop::collection::vec(prop::sample::select(WORDS), 0..9)) {
        let line = rows()[0].home;
        let home = home(line);
        let heard = read(&picked.join(" "), &home);
        for what in all_of(&heard) {
            if let Some(tag) = tag_of(what) {
                prop_assert!(home.tags.contains(&tag), "{heard:?}");
            }
        }
    }

    /// A surface that was not named is not understood.
    #[test]
    fn only_what_was_named_is_meant(picked in prop::collection::vec(prop::sample::select(WORDS), 0..9)) {
        let line = rows()[0].home;
        let home = home(line);
        let text = picked.join(" ");
        let heard = read(&text, &home);
        for tag in all_of(&heard).into_iter().filter_map(tag_of) {
            let number = tag.trim_start_matches("LW-").trim_start_matches('0');
            let bed = home.beds.iter().find(|bed| bed.under == Some(tag)).map(|bed| bed.bed);
            let named = text.to_uppercase().contains(number)
                || bed.is_some_and(|bed| text.to_uppercase().contains(bed));
            prop_assert!(named || matches!(heard, Heard::Asks(Asks::NoSurface { .. })), "{text}: {heard:?}");
        }
    }
}
