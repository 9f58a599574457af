//! The house rules that a compiler does not hold: which crate may know which, who reads the clock and the
//! environment, where SQL and sentences stand. Each failure names the file and what to do instead.

use std::fs;
use std::path::{Path, PathBuf};

/// What each of our crates may depend on among ours.
const DIRECTION: &[(&str, &[&str])] = &[
    ("commands", &[]),
    ("store", &["commands"]),
    ("bot", &["commands", "store"]),
    ("demo-guild", &["commands", "store", "bot"]),
    ("tests", &["commands", "store", "bot", "demo-guild"]),
];

/// What the core must never know: I/O, async, the chat library, SQL, randomness.
const NOT_IN_THE_CORE: &[&str] = &[
    "tokio",
    "serenity",
    "rusqlite",
    "hyper",
    "reqwest",
    "axum",
    "rustix",
    "getrandom",
    "tracing",
];

fn house() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("the workspace")
        .to_owned()
}

/// The dependencies that a crate's manifest names, those for its tests left out.
fn dependencies(name: &str) -> Vec<String> {
    let text = fs::read_to_string(house().join(name).join("Cargo.toml")).expect("a manifest");
    text.lines()
        .skip_while(|line| *line != "[dependencies]")
        .skip(1)
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| line.split(['.', ' ', '=']).next())
        .filter(|word| !word.is_empty() && !word.starts_with('#'))
        .map(str::to_owned)
        .collect()
}

fn sources(of: &str) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![house().join(of).join("src")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder of sources") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                let text = fs::read_to_string(&path).expect("a source");
                found.push((
                    path.strip_prefix(house()).expect("in the house").to_owned(),
                    text,
                ));
            }
        }
    }
    found.sort();
    found
}

#[test]
fn dependencies_point_one_way() {
    for (name, allowed) in DIRECTION {
        let named = dependencies(name);
        assert!(
            !named.is_empty(),
            "{name} names no dependencies: is its manifest still read right?"
        );
        for other in DIRECTION
            .iter()
            .map(|(other, _)| *other)
            .filter(|other| named.iter().any(|d| d == other))
        {
            assert!(allowed.contains(&other), "{name} may not know {other}");
        }
    }
}

#[test]
fn the_core_knows_no_io_no_clock_and_no_chat_library() {
    let named = dependencies("commands");
    for banned in NOT_IN_THE_CORE {
        assert!(
            !named.iter().any(|name| name == banned),
            "commands may not know {banned}"
        );
    }
    for (path, text) in sources("commands") {
        for word in [
            "std::fs",
            "std::net",
            "std::time::Instant",
            "SystemTime",
            "std::thread",
            "std::env::",
            "async fn",
        ] {
            assert!(
                !text.contains(word),
                "{}: {word} does not belong in the core",
                path.display()
            );
        }
    }
}

#[test]
fn one_file_reads_the_clock_and_one_the_environment() {
    // Clippy refuses the calls themselves (clippy.toml); this holds who may ask it to look away.
    let allowed = [
        "bot/src/clock.rs",
        "bot/src/config.rs",
        "demo-guild/src/clock.rs",
    ];
    for (name, _) in DIRECTION {
        for (path, text) in sources(name) {
            let file = path.to_string_lossy().replace('\\', "/");
            let looks_away = text.contains("disallowed_methods");
            assert!(
                !looks_away || allowed.contains(&file.as_str()) || file.starts_with("tests/"),
                "{file} looks away from clippy.toml"
            );
        }
    }
}

#[test]
fn sql_stands_in_the_store_only() {
    for name in ["commands", "bot", "demo-guild"] {
        for (path, text) in sources(name) {
            for word in ["rusqlite", "SELECT * ", " FROM records", "INSERT INTO"] {
                assert!(
                    !text.contains(word),
                    "{}: {word} belongs in store",
                    path.display()
                );
            }
        }
    }
}

#[test]
fn every_file_says_what_it_is_for() {
    for (name, _) in DIRECTION {
        for (path, text) in sources(name) {
            assert!(
                text.starts_with("//!"),
                "{} must open with what it decides and what it leaves to whom",
                path.display()
            );
        }
    }
}
