//! What else happened in the invented months, as it was typed and tapped: the script of `story.txt`, a line a deed.
//! Decides how a line is read and done; the beds and surfaces of the story are its own, so that nothing which happens
//! by chance crosses it.

use anyhow::{Context, bail};
use chrono::{DateTime, NaiveTime, TimeDelta, Timelike, Utc};
use commands::message::{Answer, Message, Row};
use commands::said::{Picked, Value};
use commands::table::Takes;
use commands::{Said, parse, table};

use super::super::people::{Staff, staff};
use super::super::register;
use super::Months;

/// One deed a line: `12 09:30 Ines: /leave bed:109 until:6 h why:hospital`, the day counted from the first; then what
/// the same person taps, chooses or fills in, in the words that they see.
const SCRIPT: &str = include_str!("story.txt");

/// The surfaces of the story, by number.
const OWN: [u32; 16] = [8, 9, 11, 19, 20, 21, 22, 31, 32, 33, 37, 38, 39, 41, 42, 43];
/// So many of them come into the register in the months.
pub(super) const ADDED: u32 = 3;
/// Between two taps of one line, in seconds.
const NEXT_SECONDS: i64 = 25;

/// A line of the script, by its place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Deed(usize);

/// Whether a surface belongs to the story.
pub(super) fn owns(tag: &str) -> bool {
    OWN.iter().any(|n| register::tag(*n) == tag)
}

pub(super) fn plan(months: &mut Months<'_>) -> anyhow::Result<()> {
    for (place, line) in lines() {
        let read = Line::read(line).with_context(|| format!("the story's line {line:?}"))?;
        let minutes = i64::from(read.time.num_seconds_from_midnight() / 60);
        let at = months.at(months.from + TimeDelta::days(read.day), minutes)?;
        months.plan(at, super::Deed::Story(Deed(place)));
    }
    Ok(())
}

pub(super) fn happen(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    Deed(place): Deed,
) -> anyhow::Result<()> {
    let (_, line) = lines().nth(place).context("the story has no such line")?;
    let told = || format!("the story's line {line:?}");
    // What the clock brings up to now can be tapped on too.
    months.lived.until(at)?;
    let read = Line::read(line).with_context(told)?;
    if let Some(roll) = read.does.strip_prefix("taps all ") {
        return tap_all(months, at, place, &read.who, roll).with_context(told);
    }
    let said = said(months, &read).with_context(told)?;
    months.lived.say(&read.who, at, &said).with_context(told)
}

/// Taps one button after another, as long as there is one: `taps all [Holds air], at LW-20 [Flat]` does the other
/// thing there and ends with it.
fn tap_all(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    place: usize,
    who: &Staff,
    roll: &str,
) -> anyhow::Result<()> {
    let (label, other) = match roll.split_once(", at ") {
        Some((label, other)) => (label, other.split_once(' ')),
        None => (roll, None),
    };
    let shown = months.lived.shown(who);
    let card = shown.first().context("nothing is before them")?;
    let other = other.filter(|(tag, _)| card.text.contains(tag));
    let wanted = other.map_or(label, |(_, label)| label);
    let wanted = between(wanted, "[", "]").context("it names no button")?;
    let Some(id) = button(card, wanted) else {
        return Ok(());
    };
    let chosen = Vec::new();
    months.lived.say(who, at, &Said::Tap { id, chosen })?;
    if other.is_none() {
        let next = at + TimeDelta::seconds(NEXT_SECONDS);
        months.plan(next, super::Deed::Story(Deed(place)));
    }
    Ok(())
}

fn lines() -> impl Iterator<Item = (usize, &'static str)> {
    SCRIPT
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .enumerate()
}

struct Line {
    day: i64,
    time: NaiveTime,
    who: Staff,
    does: &'static str,
}

impl Line {
    fn read(line: &'static str) -> anyhow::Result<Self> {
        let mut parts = line.splitn(3, ' ');
        let (day, time, rest) = (parts.next(), parts.next(), parts.next());
        let rest = rest.context("it has no deed")?;
        let end = rest.find([':', ' ']).context("it names nobody")?;
        let (name, does) = rest.split_at(end);
        let who = staff().find(|who| who.name == name);
        Ok(Self {
            day: day.context("it has no day")?.parse()?,
            time: NaiveTime::parse_from_str(time.context("it has no time")?, "%H:%M")?,
            who: who.with_context(|| format!("nobody is called {name}"))?,
            does: does.trim_start_matches(':').trim(),
        })
    }
}

fn said(months: &Months<'_>, line: &Line) -> anyhow::Result<Said> {
    if line.does.starts_with('/') {
        return typed(line.does);
    }
    if let Some(label) = between(line.does, "taps [", "]") {
        let shown = months.lived.shown(&line.who);
        let id = shown.iter().find_map(|message| button(message, label));
        let id = id.with_context(|| format!("no button {label:?} before {}", line.who.name))?;
        return Ok(Said::Tap {
            id,
            chosen: Vec::new(),
        });
    }
    if let Some(label) = between(line.does, "chooses [", "]") {
        let shown = months.lived.shown(&line.who);
        let found = shown.iter().find_map(|message| entry(message, label));
        let (id, value) =
            found.with_context(|| format!("no entry {label:?} before {}", line.who.name))?;
        return Ok(Said::Tap {
            id,
            chosen: vec![value],
        });
    }
    if let Some(fields) = line.does.strip_prefix("fills in ") {
        let Some(Answer::Form(form)) = months.lived.answer(&line.who) else {
            bail!("no form is before {}", line.who.name);
        };
        let fields = fields.split("; ").map(|field| {
            let (name, text) = field
                .split_once(" = ")
                .context("a field is `name = text`")?;
            Ok((name.to_owned(), text.replace(" / ", "\n")))
        });
        return Ok(Said::Form {
            id: form.id.clone(),
            fields: fields.collect::<anyhow::Result<_>>()?,
        });
    }
    bail!("it is no deed that is known")
}

fn typed(line: &str) -> anyhow::Result<Said> {
    // The longest that fits: `/rental start` before `/rental`.
    let command = table::COMMANDS
        .iter()
        .filter(|command| line[1..].starts_with(command.path))
        .max_by_key(|command| command.path.len())
        .context("there is no such command")?;
    let mut options = parse::typed(command, line).context("it has no such option")?;
    // People are picked from the chat's list, as a phone lets one.
    for option in command.options {
        if matches!(option.takes, Takes::Person)
            && let Some(value) = options.get_mut(option.name)
        {
            let Value::Text(name) = &*value else { continue };
            let who = staff().find(|who| name.strip_prefix('@') == Some(who.name));
            let who = who.with_context(|| format!("nobody is called {name}"))?;
            *value = Value::Person(Picked::member(who.person()));
        }
    }
    Ok(Said::Command {
        path: command.path.to_owned(),
        options,
    })
}

fn between<'a>(text: &'a str, before: &str, after: &str) -> Option<&'a str> {
    text.strip_prefix(before)?.strip_suffix(after)
}

fn button(message: &Message, label: &str) -> Option<String> {
    message
        .rows
        .iter()
        .find_map(|row| match row {
            Row::Buttons(buttons) => buttons.iter().find(|button| button.label == label),
            Row::Menu(_) => None,
        })
        .map(|button| button.id.clone())
}

fn entry(message: &Message, label: &str) -> Option<(String, String)> {
    message.rows.iter().find_map(|row| match row {
        Row::Buttons(_) => None,
        Row::Menu(menu) => menu
            .entries
            .iter()
            // The number of an entry in the log stands before its words.
            .find(|entry| entry.label == label || entry.label.ends_with(&format!(" · {label}")))
            .map(|entry| (menu.id.clone(), entry.value.clone())),
    })
}
