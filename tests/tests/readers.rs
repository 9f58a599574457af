//! A bounded run of the readers, and what once stopped one. `cargo run --release -p loftwatch-tests --bin readers MILLIONS` goes on for as
//! long as is wanted.

#![allow(clippy::unwrap_used, reason = "helpers of tests are tests")]

use std::collections::BTreeSet;
use std::path::Path;

use loftwatch_tests::readers::{Corpus, READERS, feed, feed_one, identifiers};

#[test]
fn no_text_stops_a_reader() {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    let ids = identifiers(&tests.join("scenarios")).unwrap();
    assert!(ids.len() > 100, "only {} identifiers", ids.len());
    let corpus = Corpus::of(&tests.join(".."), ids).unwrap();
    for reader in READERS {
        if let Some(stopped) = feed_one(reader, &corpus, 1, 1_000) {
            panic!("{stopped:?}");
        }
    }
}

/// And hard ones for each, kept from the start.
#[test]
fn what_once_stopped_a_reader_does_not() {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("readers");
    let mut fed = BTreeSet::new();
    for entry in std::fs::read_dir(kept).expect("texts are kept") {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let (name, _) = name.split_once('-').unwrap();
        let reader = READERS.iter().find(|one| one.name == name).unwrap();
        let text = std::fs::read_to_string(&path).unwrap();
        assert!(feed(reader, &text).is_none(), "{}", path.display());
        fed.insert(reader.name);
    }
    assert_eq!(fed.len(), READERS.len(), "each reader has its hard text");
}
