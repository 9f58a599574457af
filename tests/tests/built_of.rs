//! What the program is built of: licences, registries and crates that are never taken, by the lists in `deny.toml`, so that they hold
//! on every run and not only where `cargo deny` is at hand. Decides nothing of its own; advisories are not looked at.

#![allow(clippy::unwrap_used, reason = "helpers of tests are tests")]

use std::path::Path;

use cargo_metadata::{Metadata, MetadataCommand};
use serde::Deserialize;
use spdx::{Expression, LicenseReq, ParseMode};

#[derive(Deserialize)]
struct Deny {
    licenses: Licenses,
    bans: Bans,
}

#[derive(Deserialize)]
struct Licenses {
    allow: Vec<String>,
}

#[derive(Deserialize)]
struct Bans {
    deny: Vec<Named>,
}

#[derive(Deserialize)]
struct Named {
    name: String,
}

fn read() -> (Deny, Metadata) {
    let house = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let deny = std::fs::read_to_string(house.join("deny.toml")).unwrap();
    let metadata = MetadataCommand::new()
        .manifest_path(house.join("Cargo.toml"))
        .other_options(["--locked".to_owned()])
        .exec()
        .unwrap();
    (toml::from_str(&deny).unwrap(), metadata)
}

#[test]
fn every_licence_is_one_of_the_list() {
    let (deny, metadata) = read();
    assert!(metadata.packages.len() > 100, "{}", metadata.packages.len());
    let allowed = |one: &LicenseReq| deny.licenses.allow.contains(&one.to_string());
    let refused: Vec<String> = metadata
        .packages
        .iter()
        .filter(|package| {
            let text = package.license.as_deref().unwrap_or_default();
            // The old way to write OR is a slash.
            let read = Expression::parse_mode(text, ParseMode::LAX);
            !read.is_ok_and(|read| read.evaluate(allowed))
        })
        .map(|package| {
            format!(
                "{} {}: {:?}",
                package.name, package.version, package.license
            )
        })
        .collect();
    assert!(refused.is_empty(), "{refused:#?}");
}

#[test]
fn every_crate_comes_from_the_registry_or_from_here() {
    let (_, metadata) = read();
    for package in &metadata.packages {
        match &package.source {
            Some(source) => assert!(source.is_crates_io(), "{}: {source}", package.name),
            None => assert!(
                metadata.workspace_members.contains(&package.id),
                "{} comes from a folder elsewhere",
                package.name
            ),
        }
    }
}

#[test]
fn what_is_banned_is_not_there() {
    let (deny, metadata) = read();
    assert!(!deny.bans.deny.is_empty());
    for banned in &deny.bans.deny {
        let there = metadata.packages.iter().any(|one| *one.name == banned.name);
        assert!(!there, "{} is built in", banned.name);
    }
}

#[test]
fn a_licence_that_is_not_on_the_list_is_seen() {
    let (deny, _) = read();
    let allowed = |one: &LicenseReq| deny.licenses.allow.contains(&one.to_string());
    let holds = |text| {
        Expression::parse_mode(text, ParseMode::LAX).is_ok_and(|read| read.evaluate(allowed))
    };
    assert!(holds("MIT/Apache-2.0") && holds("GPL-3.0-only OR MIT"));
    assert!(!holds("GPL-3.0-only") && !holds("MIT AND AGPL-3.0-only") && !holds(""));
}
