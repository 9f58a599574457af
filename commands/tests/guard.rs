//! The privacy guard against lines that were written without sight of its tables: what it misses is a name or a
//! diagnosis kept, what it stops in error is a note about a hose that somebody gives up on.

use commands::rules::guard::{Field, check};

/// The lines: whether the guard must refuse it, and the text.
fn lines() -> impl Iterator<Item = (bool, &'static str)> {
    include_str!("guard/fresh.txt")
        .lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .map(|line| match line.split_once(" | ") {
            Some(("no", text)) => (true, text),
            Some(("ok", text)) => (false, text),
            _ => panic!("neither `no | …` nor `ok | …`: {line}"),
        })
}

#[test]
fn what_names_or_describes_a_person_is_refused_and_what_is_said_of_a_surface_passes() {
    let mut wrong = Vec::new();
    for (private, text) in lines() {
        match (private, check(text, Field::Note)) {
            (true, Ok(())) => wrong.push(format!("missed: {text}")),
            (false, Err(found)) => wrong.push(format!("stopped as {}: {text}", found.as_str())),
            (true, Err(_)) | (false, Ok(())) => {}
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn there_are_enough_of_both() {
    let private = lines().filter(|(private, _)| *private).count();
    let all = lines().count();
    assert!(
        private >= 75 && all - private >= 75 && all >= 150,
        "{private} of {all}"
    );
}
