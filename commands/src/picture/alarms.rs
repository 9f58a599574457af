//! How an alarm went, or those of a shift: opened, asked, taken, safe, fixed, in minutes from when each was opened. Decides
//! what is drawn and read out; leaves which alarms belong together to the caller. Nobody is named in it: it shows how long a
//! resident waited, and ranks no one.

use super::axis::counts;
use super::waits::lasted;
use super::{
    Drawn, MARKS_MAX, Picture, ROWS_MAX, Row, RowMark, RowMarkKind, Rows, Said, Stretch,
    StretchKind, cut, file_name,
};
use crate::say;
use crate::words::Lang;

/// The longest time that is drawn to scale, in seconds: a day. What came later stands at its end.
const LONGEST: i64 = 86_400;
/// The most calls of one alarm that have a row each.
const ASKED_ROWS_MAX: usize = 8;

/// An alarm.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Alarm {
    /// What it is called: the tag, its kind, when it was opened.
    pub name: String,
    /// What followed, in order, with seconds since it was opened. That it was opened need not be among it.
    pub steps: Vec<Step>,
    /// How long it has been open, in seconds, where it still is.
    pub open_for: Option<i64>,
}

/// What followed on an alarm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Seconds since it was opened.
    pub after: i64,
    /// What it was.
    pub kind: RowMarkKind,
}

/// The picture. `of` names it: a tag, or a unit and a shift. Times stand in it in seconds.
#[must_use]
pub fn alarms(lang: Lang, of: &str, all: &[Alarm]) -> Picture {
    let shown = &all[all.len().saturating_sub(ROWS_MAX)..];
    let rows = match shown {
        [one] => steps(lang, one),
        _ => shown.iter().map(|alarm| row(lang, alarm)).collect(),
    };
    let longest = shown.iter().map(end).max().unwrap_or(0).clamp(60, LONGEST);
    let minutes = longest / 60 + i64::from(longest % 60 > 0);
    let title = match shown {
        [one] => say!(lang, "picture-alarm", name = one.name.as_str()),
        _ => say!(lang, "picture-alarms", of = of, count = shown.len() as i64),
    };
    let told: Vec<String> = shown
        .iter()
        .map(|alarm| {
            let said: Vec<String> = says(lang, alarm)
                .into_iter()
                .map(|said| said.words)
                .collect();
            format!("{}: {}", alarm.name, said.join(", "))
        })
        .collect();
    let text = if told.is_empty() {
        say!(lang, "picture-alarms-none", of = of)
    } else {
        say!(lang, "picture-alarms-text", alarms = told.join("; "))
    };
    Picture {
        name: file_name("alarm", of),
        title,
        about: match shown {
            [one] => still(lang, one).unwrap_or_default(),
            _ => String::new(),
        },
        text: cut(text),
        drawn: Drawn::Rows(Rows {
            across: counts(0, minutes, 60, say!(lang, "picture-alarms-across")),
            rows,
        }),
    }
}

/// One alarm: a row for each step, which begins where the one before ended.
fn steps(lang: Lang, of: &Alarm) -> Vec<Row> {
    let mut rows = vec![Row {
        name: name(lang, RowMarkKind::Opened),
        says: Vec::new(),
        stretches: Vec::new(),
        marks: vec![mark(RowMarkKind::Opened, 0)],
    }];
    let mut before = (0, StretchKind::Waiting);
    let mut asked = 0;
    for step in ordered(of) {
        if step.kind == RowMarkKind::Asked {
            asked += 1;
            if asked > ASKED_ROWS_MAX {
                continue;
            }
        }
        rows.push(Row {
            name: name(lang, step.kind),
            says: vec![Said {
                mark: None,
                words: minutes(lang, step.after),
            }],
            stretches: vec![Stretch {
                from: before.0,
                to: step.after,
                kind: before.1,
            }],
            marks: vec![mark(step.kind, step.after)],
        });
        before = (step.after, then(step.kind, before.1));
    }
    rows.truncate(ROWS_MAX);
    rows
}

/// An alarm as one row.
fn row(lang: Lang, of: &Alarm) -> Row {
    let mut before = (0, StretchKind::Waiting);
    let mut stretches = Vec::new();
    let mut marks = vec![mark(RowMarkKind::Opened, 0)];
    for step in ordered(of).take(MARKS_MAX) {
        stretches.push(Stretch {
            from: before.0,
            to: step.after,
            kind: before.1,
        });
        marks.push(mark(step.kind, step.after));
        before = (step.after, then(step.kind, before.1));
    }
    if let Some(open) = of.open_for {
        stretches.push(Stretch {
            from: before.0,
            to: open.max(before.0),
            kind: before.1,
        });
    }
    Row {
        name: of.name.clone(),
        says: says(lang, of),
        stretches,
        marks,
    }
}

fn ordered(of: &Alarm) -> impl Iterator<Item = Step> {
    let mut steps = of.steps.clone();
    let is_step = |kind| {
        matches!(
            kind,
            RowMarkKind::Asked
                | RowMarkKind::Again
                | RowMarkKind::Taken
                | RowMarkKind::Safe
                | RowMarkKind::Fixed
        )
    };
    steps.retain(|step| is_step(step.kind));
    steps
        .iter_mut()
        .for_each(|step| step.after = step.after.clamp(0, LONGEST));
    steps.sort_by_key(|step| step.after);
    steps.into_iter()
}

fn mark(kind: RowMarkKind, at: i64) -> RowMark {
    RowMark { at, kind }
}

/// What the time after a step is.
fn then(kind: RowMarkKind, before: StretchKind) -> StretchKind {
    match kind {
        RowMarkKind::Again => StretchKind::Waiting,
        RowMarkKind::Taken => StretchKind::InHand,
        RowMarkKind::Safe | RowMarkKind::Fixed => StretchKind::Safe,
        RowMarkKind::Opened
        | RowMarkKind::Asked
        | RowMarkKind::Share
        | RowMarkKind::Half
        | RowMarkKind::Most
        | RowMarkKind::Still
        | RowMarkKind::Good
        | RowMarkKind::Low
        | RowMarkKind::None
        | RowMarkKind::High
        | RowMarkKind::CouldNot
        | RowMarkKind::Event => before,
    }
}

fn end(of: &Alarm) -> i64 {
    let steps = of.steps.iter().map(|step| step.after);
    steps.chain(of.open_for).max().unwrap_or(0)
}

fn name(lang: Lang, kind: RowMarkKind) -> String {
    let key = match kind {
        RowMarkKind::Opened => "picture-step-opened",
        RowMarkKind::Asked => "picture-step-asked",
        RowMarkKind::Again => "picture-step-again",
        RowMarkKind::Taken => "picture-step-taken",
        RowMarkKind::Safe => "picture-step-safe",
        RowMarkKind::Fixed
        | RowMarkKind::Share
        | RowMarkKind::Half
        | RowMarkKind::Most
        | RowMarkKind::Still
        | RowMarkKind::Good
        | RowMarkKind::Low
        | RowMarkKind::None
        | RowMarkKind::High
        | RowMarkKind::CouldNot
        | RowMarkKind::Event => "picture-step-fixed",
    };
    say!(lang, key)
}

/// As the report says it.
fn minutes(lang: Lang, seconds: i64) -> String {
    lasted(lang, seconds as f64 / 60.0)
}

/// What followed, in words: how often somebody was asked, then each other step once.
fn says(lang: Lang, of: &Alarm) -> Vec<Said> {
    let mut said = Vec::new();
    let asked = of
        .steps
        .iter()
        .filter(|step| step.kind == RowMarkKind::Asked)
        .count();
    if asked > 0 {
        said.push(Said {
            mark: Some(RowMarkKind::Asked),
            words: say!(lang, "picture-asked", count = asked as i64),
        });
    }
    for kind in [
        RowMarkKind::Taken,
        RowMarkKind::Again,
        RowMarkKind::Safe,
        RowMarkKind::Fixed,
    ] {
        let first = ordered(of).find(|step| step.kind == kind);
        said.extend(first.map(|step| Said {
            mark: Some(kind),
            words: format!("{} {}", name(lang, kind), minutes(lang, step.after)),
        }));
    }
    said.extend(still(lang, of).map(|words| Said { mark: None, words }));
    said
}

fn still(lang: Lang, of: &Alarm) -> Option<String> {
    let open = of.open_for?;
    Some(say!(lang, "picture-still-open", time = minutes(lang, open)))
}
