//! The largest files that are read go in whole, and the largest that is wrong in every row is told so like a small one.

mod common;

use std::collections::BTreeMap;
use std::fmt::Write;

use commands::Decision;
use commands::role::Role;
use commands::said::{FileRef, Said, Value};
use commands::words::Lang;
use common::{Home, answer_text, text};

/// As many rows as a file may have.
const ROWS: usize = 20_000;

fn imports(home: &mut Home, what: &str, file: String) -> Decision {
    let options = BTreeMap::from([
        ("what".to_owned(), text(what)),
        (
            "file".to_owned(),
            Value::File(FileRef {
                url: String::new(),
                size: file.len() as u64,
                name: "file.csv".to_owned(),
            }),
        ),
    ]);
    let decision = home.ask_as(
        &[Role::Admin, Role::Nurse],
        Lang::English,
        &Said::Fetched {
            path: "fleet import".to_owned(),
            options,
            file: Ok(file.into_bytes()),
        },
    );
    home.take(None, &decision);
    decision
}

fn file(header: &str, row: impl Fn(usize, &mut String)) -> String {
    let mut file = format!("{header}\n");
    for number in 1..=ROWS {
        row(number, &mut file);
        file.push('\n');
    }
    file
}

#[test]
fn as_many_rows_as_a_file_may_have_go_in_whole() {
    let mut home = Home::set_up();
    let (beds, surfaces) = (home.state.bed_units.len(), home.state.surfaces.len());
    let rows = file("unit,bed,frame_width_in", |number, row| {
        let (unit, wide) = (number / 40, 30 + number % 9);
        write!(row, "Unit {unit},B{number},{wide}").expect("text");
    });
    let said = imports(&mut home, "beds", rows);
    assert_eq!(
        home.state.bed_units.len(),
        beds + ROWS,
        "{}",
        answer_text(&said)
    );
    assert_eq!(home.state.units["Unit 7"].beds.len(), 40);
    let rows = file("tag,profile,serial,state,bed", |number, row| {
        write!(row, "S{number},general,N-{number},ready,B{number}").expect("text");
    });
    let said = imports(&mut home, "surfaces", rows);
    assert_eq!(
        home.state.surfaces.len(),
        surfaces + ROWS,
        "{}",
        answer_text(&said)
    );
    assert_eq!(
        home.state.under["B20000"].as_str(),
        "S20000",
        "{}",
        answer_text(&said)
    );
}

#[test]
fn as_many_rows_that_are_all_wrong_are_told_like_a_few() {
    let mut home = Home::set_up();
    let before = home.log.len();
    let rows = file("tag,profile,state,bed", |number, row| {
        write!(row, "S{number},generel,ready,Z{number}").expect("text");
    });
    let said = imports(&mut home, "surfaces", rows);
    let text = answer_text(&said);
    assert!(text.contains("Did you mean general?"), "{text}");
    assert!(text.ends_with("…and 39985 more."), "{text}");
    let rows = file("unit,bed,approved", |number, row| {
        write!(row, "Unit {number},{number},Profile {number}").expect("text");
    });
    let said = imports(&mut home, "beds", rows);
    let text = answer_text(&said);
    assert!(text.starts_with("Nothing was read."), "{text}");
    assert_eq!(home.log.len(), before);
}
