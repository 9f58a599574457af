//! "I have Elm till 3": who says that a unit is theirs, and until when.
//!
//! Decides that a message says so, and which words say until when. Leaves which moment those are to `until`, and whether the
//! writer may to `decide`.

use super::compose::whole;
use super::doubts::is_question;
use super::names::Named;
use super::sentence::Sentence;
use super::subject::Subject;
use super::tokens::Kind;
use super::words::Meaning;
use super::{Example, Heard, Understood};

/// How such a message begins, right before the unit.
const BEGINNINGS: &[&[&str]] = &[
    &["i", "have"],
    &["i", "got"],
    &["i", "have", "got"],
    &["ive", "got"],
    &["ive"],
    &["i", "am", "on"],
    &["im", "on"],
    &["im", "in"],
    &["im", "with"],
    &["i", "am", "covering"],
    &["im", "covering"],
    &["i", "cover"],
    &["ill", "cover"],
    &["covering"],
    &["im", "taking"],
    &["i", "take"],
    &["ill", "take"],
    &["ill", "have"],
    &["taking"],
    &["i", "am", "on", "duty", "in"],
    &["im", "on", "duty", "in"],
    &["on", "duty", "in"],
    &["tengo"],
    &["me", "toca"],
    &["me", "toco"],
    &["estoy", "en"],
    &["estoy", "con"],
    &["estoy", "cubriendo"],
    &["cubro"],
    &["voy", "a", "cubrir"],
    &["me", "quedo", "con"],
    &["me", "quedo", "en"],
    &["me", "encargo", "de"],
    &["tomo"],
    &["agarro"],
];

/// Between those and the unit.
const ARTICLES: &[&str] = &[
    "the", "unit", "wing", "hall", "all", "of", "whole", "a", "la", "el", "unidad", "ala", "toda",
    "pasillo", "piso",
];

/// Before the words of how long.
const UNTIL: &[&str] = &["till", "til", "until", "thru", "through", "hasta"];

/// The time words that may stand behind it instead: they say nothing that a shift's end does not.
const NOW: &[&str] = &[
    "today", "now", "this", "shift", "hoy", "ahora", "este", "turno", "wing", "unit", "hall",
    "for", "the", "ok", "thanks", "thx", "gracias", "pls", "please", "por", "la", "de",
];

/// A part of the day that may not have begun: which shift it is, the command is told.
const LATER: &[&str] = &[
    "tonight", "tonite", "night", "evening", "tomorrow", "noche", "tarde", "manana",
];

/// Such words end the time, and say something else.
const GOES_ON: &[&str] = &[
    "ok", "thanks", "thx", "gracias", "pls", "please", "porfa", "if", "so", "then", "and", "y",
    "but", "pero", "for", "today", "tonight",
];

/// The most pieces that say until when.
const UNTIL_PIECES_MAX: usize = 6;

/// What looks like a claim and is none may have at most so many words that mean nothing here, to be told of the command.
const UNREAD_MAX: usize = 2;

/// What such a message says besides: nothing that another command does.
const SMALL: &[Meaning] = &[
    Meaning::Filler,
    Meaning::Taking,
    Meaning::If,
    Meaning::NotYet,
    Meaning::Not,
    Meaning::Or,
    Meaning::Maybe,
    Meaning::Past,
    Meaning::Amount,
];

/// Whether every number in it stands behind "till": then it is no reading.
pub(super) fn only_until(of: &Sentence<'_>) -> bool {
    let Some(until) =
        (0..of.tokens.len()).find(|at| of.word(*at).is_some_and(|word| UNTIL.contains(&word)))
    else {
        return false;
    };
    let behind = |start: usize| start > until;
    of.amounts
        .iter()
        .all(|amount| amount.bare && behind(amount.start))
}

/// Whether somebody says that a unit is theirs.
pub(super) fn of(of: &Sentence<'_>, subject: &Subject<'_>) -> Option<Heard> {
    let mut units = of
        .names
        .iter()
        .filter(|name| matches!(name.named, Named::Unit(_)));
    let unit = units.next()?;
    let Named::Unit(called) = unit.named else {
        return None;
    };
    let mut before = unit.start;
    while before > 0
        && of
            .word(before - 1)
            .is_some_and(|word| ARTICLES.contains(&word) && !begins(of, before))
    {
        before -= 1;
    }
    if !begins(of, before) || is_question(of) {
        return None;
    }
    let (until, end) = until(of, unit.end);
    let idle = |at: usize| {
        matches!(
            of.tokens.get(at).map(|token| token.kind),
            Some(Kind::Mark(_))
        ) || of.word(at).is_some_and(|word| NOW.contains(&word))
    };
    let more = (unit.end..until.as_ref().map_or(unit.end, |(start, _)| *start))
        .chain(end..of.tokens.len())
        .any(|at| !idle(at));
    // "I have a low pressure in Elm" does not come here; "I have Elm and 103 beeps" is more than a claim.
    let whole_unit = matches!(subject, Subject::None) && units.next().is_none();
    if more
        || !whole_unit
        || of.has_any(&[Meaning::Not, Meaning::Or, Meaning::Maybe, Meaning::Past])
    {
        let later = (unit.end..of.tokens.len())
            .any(|at| of.word(at).is_some_and(|word| LATER.contains(&word)));
        let claims = (until.is_some() || later)
            && matches!(subject, Subject::None)
            && of.unread() <= UNREAD_MAX
            && of.hits.iter().all(|hit| SMALL.contains(&hit.meaning));
        return claims.then_some(Heard::Nearest(Example::Command("duty")));
    }
    Some(whole(Understood::Claim {
        unit: called.to_owned(),
        // The end of the shift is until when a duty lasts that says nothing.
        until: until
            .map(|(_, text)| text)
            .filter(|text| !text.contains("shift") && !text.contains("turno")),
    }))
}

/// Whether the words right before this piece say that something is the writer's.
fn begins(of: &Sentence<'_>, end: usize) -> bool {
    BEGINNINGS.iter().any(|words| {
        let Some(start) = end.checked_sub(words.len()) else {
            return false;
        };
        let said = words
            .iter()
            .enumerate()
            .all(|(place, word)| of.word(start + place) == Some(*word));
        // "Who is covering Elm" asks; "taking" by itself begins the message.
        said && (start == 0 || before_it(of, start))
    })
}

/// What may stand before such a beginning: a greeting, a "yo".
fn before_it(of: &Sentence<'_>, start: usize) -> bool {
    (0..start).all(|at| {
        matches!(
            of.tokens.get(at).map(|token| token.kind),
            Some(Kind::Mark(_))
        ) || matches!(
            of.word(at),
            Some(
                "hey"
                    | "hi"
                    | "hello"
                    | "ok"
                    | "okay"
                    | "good"
                    | "morning"
                    | "evening"
                    | "yo"
                    | "hola"
                    | "buenas"
                    | "buenos"
                    | "dias"
                    | "noches"
                    | "tardes"
                    | "so"
                    | "and"
                    | "today"
                    | "tonight"
                    | "hoy"
            )
        )
    })
}

/// The words that say until when, where they begin, and where they end.
fn until(of: &Sentence<'_>, from: usize) -> (Option<(usize, String)>, usize) {
    let Some(start) =
        (from..of.tokens.len()).find(|at| of.word(*at).is_some_and(|word| UNTIL.contains(&word)))
    else {
        return (None, from);
    };
    let mut at = start + 1;
    while matches!(
        of.word(at),
        Some("las" | "la" | "el" | "the" | "que" | "like" | "about")
    ) {
        at += 1;
    }
    let mut text = String::new();
    let mut end = at;
    while end < of.tokens.len().min(at + UNTIL_PIECES_MAX) {
        let Some(token) = of.tokens.get(end) else {
            break;
        };
        let mark = matches!(token.kind, Kind::Mark(mark) if mark != '.' && mark != ':');
        if mark || of.word(end).is_some_and(|word| GOES_ON.contains(&word)) {
            break;
        }
        if !text.is_empty() && !token.glued {
            text.push(' ');
        }
        text.push_str(&token.text);
        end += 1;
    }
    let text = text.trim_end_matches(['.', ' ']).to_owned();
    (Some((start, text)), end)
}
