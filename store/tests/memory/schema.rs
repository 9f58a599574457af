//! The page for readers against the real file.

use std::collections::BTreeMap;

use rusqlite::Connection;

use crate::samples::{open, raw};

/// Statements by type and name, without comments and with single spaces.
fn schema(conn: &Connection) -> BTreeMap<(String, String), String> {
    conn.prepare("SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%'")
        .unwrap()
        .query_map([], |row| Ok(((row.get(0)?, row.get(1)?), row.get::<_, String>(2)?)))
        .unwrap()
        .map(|row| row.map(|(key, sql)| (key, plain(&sql))).unwrap())
        .collect()
}

fn plain(sql: &str) -> String {
    let code = sql
        .lines()
        .map(|line| line.split("--").next().unwrap_or(""));
    let code: Vec<_> = code.flat_map(str::split_whitespace).collect();
    code.join(" ")
}

#[test]
fn the_page_for_readers_is_the_real_schema() {
    let folder = tempfile::tempdir().unwrap();
    drop(open(&folder));
    let page = Connection::open_in_memory().unwrap();
    page.execute_batch(include_str!("../../schema.sql"))
        .unwrap();
    assert_eq!(schema(&page), schema(&raw(&folder)));
}

#[test]
fn every_table_and_view_has_a_comment_above_it() {
    let page = include_str!("../../schema.sql");
    let lines: Vec<_> = page.lines().collect();
    for (n, line) in lines.iter().enumerate() {
        if line.starts_with("CREATE TABLE") || line.starts_with("CREATE VIEW") {
            assert!(lines[n - 1].starts_with("--"), "{line}");
        }
    }
}
