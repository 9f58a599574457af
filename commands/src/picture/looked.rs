//! The checks of a surface that is looked at and felt, because its maker rules a hand out: what each found, and what happened
//! meanwhile. There is no number in it, so there is no scale of inches and no band: a row of marks for each outcome, and one for
//! each thing that happened. Decides what is drawn; leaves the words to be read out to [`super::readings`].

use chrono::NaiveDateTime;

use super::axis::time;
use super::readings::{Checked, Event};
use super::{Drawn, MARKS_MAX, ROWS_MAX, Row, RowMark, RowMarkKind, Rows, Said, Upright, moment};
use crate::rules::hand_check::{Air, Judgement};
use crate::say;
use crate::words::Lang;

/// Rows for what happened: the newest of it, where there is more.
const EVENT_ROWS_MAX: usize = 8;

/// The outcomes in the order of their rows.
const OUTCOMES: [Judgement; 5] = [
    Judgement::Adequate,
    Judgement::Low,
    Judgement::BottomedOut,
    Judgement::High,
    Judgement::CouldNot,
];

/// The rows. `checks` and `events` are oldest first.
pub(super) fn looked(
    lang: Lang,
    (from, to): (NaiveDateTime, NaiveDateTime),
    checks: &[Checked],
    events: &[&Event],
) -> Drawn {
    let mut rows: Vec<Row> = OUTCOMES
        .into_iter()
        .filter_map(|outcome| outcome_row(lang, outcome, checks))
        .collect();
    rows.extend(event_rows(events));
    rows.truncate(ROWS_MAX);
    Drawn::Rows(Rows {
        across: time(lang, from, to),
        rows,
    })
}

/// Whether all that is right was looked at and felt.
pub(super) fn all_by_feel(checks: &[Checked]) -> bool {
    let mut right = checks
        .iter()
        .filter(|check| check.judged == Judgement::Adequate);
    right.all(|check| check.air == Air::Within)
}

/// What an outcome is called: where all that is right was looked at, as every answer says it.
fn outcome_words(lang: Lang, outcome: Judgement, checks: &[Checked]) -> String {
    if outcome == Judgement::Adequate && all_by_feel(checks) {
        return say!(lang, "air-within");
    }
    say!(
        lang,
        match outcome {
            Judgement::Adequate => "judged-adequate",
            Judgement::Low => "judged-low",
            Judgement::BottomedOut => "judged-bottomed-out",
            Judgement::High => "judged-high",
            Judgement::CouldNot => "picture-could-not",
        }
    )
}

/// The checks with this outcome; nothing where there are none.
fn outcome_row(lang: Lang, outcome: Judgement, checks: &[Checked]) -> Option<Row> {
    let kind = mark_of(outcome);
    let marks: Vec<RowMark> = checks
        .iter()
        .filter(|check| check.judged == outcome)
        .map(|check| RowMark {
            at: moment(check.at),
            kind,
        })
        .collect();
    let count = marks.len();
    (count > 0).then(|| Row {
        name: outcome_words(lang, outcome, checks),
        says: vec![Said {
            mark: Some(kind),
            words: count.to_string(),
        }],
        stretches: Vec::new(),
        marks,
    })
}

/// What happened, a row for each thing, the newest first.
fn event_rows(events: &[&Event]) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for event in events.iter().rev() {
        let kind = match event.kind {
            Upright::Alarm => RowMarkKind::Opened,
            Upright::Setting
            | Upright::Moved
            | Upright::Upkeep
            | Upright::Chosen
            | Upright::Now => RowMarkKind::Event,
        };
        let mark = RowMark {
            at: moment(event.at),
            kind,
        };
        let same = rows
            .iter()
            .position(|row| row.name == event.words && row.marks.iter().all(|m| m.kind == kind));
        match same {
            Some(place) if rows[place].marks.len() < MARKS_MAX => rows[place].marks.push(mark),
            None if rows.len() < EVENT_ROWS_MAX => rows.push(Row {
                name: event.words.clone(),
                says: Vec::new(),
                stretches: Vec::new(),
                marks: vec![mark],
            }),
            Some(_) | None => {}
        }
    }
    rows
}

fn mark_of(outcome: Judgement) -> RowMarkKind {
    match outcome {
        Judgement::Adequate => RowMarkKind::Good,
        Judgement::Low => RowMarkKind::Low,
        Judgement::BottomedOut => RowMarkKind::None,
        Judgement::High => RowMarkKind::High,
        Judgement::CouldNot => RowMarkKind::CouldNot,
    }
}
