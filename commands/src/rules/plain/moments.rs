//! Finds when something happened: `at 13:40`, `20 min ago`, `hace 20 min`, `yesterday 22:15`, `1340`.
//!
//! Decides which words are one moment and writes it in the form that [`when`](crate::rules::when) reads. Which instant that
//! is, and whether an entry that old may be made, is left to it.

use super::names;
use super::sentence::Sentence;
use super::tokens::Kind;
use super::words::Meaning;
use crate::rules::spanish;
use crate::rules::time_of_day;
use crate::rules::when;

/// When, as a message says it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Moment {
    /// A text that `when` reads.
    Said(String),
    /// An hour without its half of the day: "at 7".
    HalfDay,
}

/// The most pieces of a span: `1 hour and 30 minutes`.
const SPAN_PIECES_MAX: usize = 5;

/// Every moment that is not taken by something else, in order. Takes its pieces, and those of spans and counts, which are
/// no readings.
pub(super) fn find(sentence: &mut Sentence<'_>) -> Vec<Moment> {
    let mut found = Vec::new();
    for at in 0..sentence.tokens.len() {
        if !sentence.free(at) {
            continue;
        }
        let moment = ago(sentence, at)
            .or_else(|| hace(sentence, at))
            .or_else(|| clock(sentence, at));
        match moment {
            Some((Some(moment), start, end)) => {
                sentence.take(start, end);
                found.push(moment);
            }
            Some((None, start, end)) => sentence.take(start, end),
            None => {
                if let Some(end) = counted(sentence, at) {
                    sentence.take(at, end);
                }
            }
        }
    }
    found
}

type Found = (Option<Moment>, usize, usize);

/// `20 min ago`, `an hour ago`.
fn ago(of: &Sentence<'_>, start: usize) -> Option<Found> {
    for count in 1..=SPAN_PIECES_MAX {
        let end = start + count;
        if matches!(of.word(end), Some("ago" | "back")) {
            let text = span(of, start, end)?;
            return Some((Some(Moment::Said(format!("{text} ago"))), start, end + 1));
        }
    }
    None
}

/// `hace 20 min`, `hace una hora`.
fn hace(of: &Sentence<'_>, start: usize) -> Option<Found> {
    if of.word(start) != Some("hace") {
        return None;
    }
    (1..=SPAN_PIECES_MAX).rev().find_map(|count| {
        let end = start + 1 + count;
        let text = span(of, start + 1, end)?;
        // "Desde hace 20 min" is since then, and goes on.
        let since = start.checked_sub(1).and_then(|before| of.word(before)) == Some("desde");
        let moment = (!since).then(|| Moment::Said(format!("{text} ago")));
        Some((moment, start, end))
    })
}

/// A span in the words that `when` knows; nothing for what it does not.
fn span(of: &Sentence<'_>, start: usize, end: usize) -> Option<String> {
    if !(start..end).all(|at| of.free(at)) {
        return None;
    }
    let words: Option<Vec<&str>> = (start..end).map(|at| of.text(at)).collect();
    let typed = words?.join(" ");
    let text = spanish::time(&typed).unwrap_or(typed);
    when::is_span(&text).then_some(text)
}

/// `at 13:40`, `13:40`, `7am`, `1340 hrs`, `yesterday 22:15`, `a las 13:40`.
fn clock(of: &Sentence<'_>, at: usize) -> Option<Found> {
    let token = of.tokens.get(at)?;
    if !matches!(token.kind, Kind::Clock | Kind::Whole) {
        return None;
    }
    let mut text = token.text.clone();
    let mut end = at + 1;
    let behind = |at: usize| of.word(at).filter(|_| of.free(at));
    let half = match behind(end) {
        Some("am" | "a") => Some("am"),
        Some("pm" | "p") => Some("pm"),
        _no_half => None,
    };
    // "7 a" alone is no time.
    let half = half.filter(|_| {
        behind(end).is_some_and(|word| word.len() == 2)
            || token.kind == Kind::Clock && of.tokens[end].glued
    });
    if let Some(half) = half {
        text = format!("{text} {half}");
        end += 1;
    }
    let military =
        matches!(behind(end), Some("hrs" | "hours" | "h" | "hr")) && names::is_time(&of.tokens, at);
    if military {
        end += 1;
    }
    let (introduced, start) = introduction(of, at);
    let plain = token.kind == Kind::Clock
        || half.is_some()
        || military
        || (names::is_time(&of.tokens, at)
            && (introduced || of.names.iter().any(|name| !name.weak)));
    if plain && time_of_day::parse(&text).is_some() {
        if of.word(start) == Some("since") || of.word(start) == Some("desde") {
            return Some((None, start, end));
        }
        return Some((
            Some(Moment::Said(on_day(of, start, end, &text))),
            start,
            end,
        ));
    }
    // "At 7": morning or evening.
    let hour = token.kind == Kind::Whole && token.text.len() <= 2 && introduced;
    let clock_before =
        matches!(of.word(start), Some("at" | "a" | "around")) || of.text(start) == Some("@");
    let another = of.names.iter().any(|name| !name.weak);
    (hour && clock_before && (another || !of.is_place(at)) && !is_length(of, end)).then_some((
        Some(Moment::HalfDay),
        start,
        end,
    ))
}

/// Whether the number that ends here goes on as a length.
fn is_length(of: &Sentence<'_>, end: usize) -> bool {
    of.tokens
        .get(end)
        .is_some_and(|token| token.kind == Kind::Fraction || token.is_mark('"'))
        || matches!(
            of.word(end),
            Some(
                "in" | "inch"
                    | "inches"
                    | "cm"
                    | "mm"
                    | "and"
                    | "y"
                    | "pulgada"
                    | "pulgadas"
                    | "pads"
                    | "layers"
            )
        )
}

/// The words before a time: whether they say that it is one, and where they begin.
fn introduction(of: &Sentence<'_>, at: usize) -> (bool, usize) {
    let before = |back: usize| at.checked_sub(back).and_then(|at| of.text(at));
    match (before(2), before(1)) {
        (Some("a"), Some("las" | "la")) => (true, at - 2),
        (_, Some("at" | "@" | "around" | "about" | "since" | "desde" | "by")) => (true, at - 1),
        (_, _) => (false, at),
    }
}

/// The day that stands beside a time, before the clock's words.
fn on_day(of: &Sentence<'_>, start: usize, end: usize, time: &str) -> String {
    let near = |at: Option<usize>| at.and_then(|at| of.word(at));
    for word in [
        near(start.checked_sub(1)),
        near(start.checked_sub(2)),
        near(Some(end)),
    ] {
        match word {
            Some("yesterday" | "yest" | "ayer") => return format!("yesterday {time}"),
            Some("today" | "hoy") => return format!("today {time}"),
            Some(_) | None => {}
        }
    }
    time.to_owned()
}

/// Numbers that count something that is no length: `20 min`, `3 times`, `2x`, `30 degrees`; an error's number.
fn counted(of: &Sentence<'_>, at: usize) -> Option<usize> {
    let token = of.tokens.get(at)?;
    if token.kind != Kind::Whole {
        return None;
    }
    let of_error = of
        .hits
        .iter()
        .any(|hit| hit.meaning == Meaning::Fault && at >= hit.end && at - hit.end <= 2);
    if of_error {
        return Some(at + 1);
    }
    match of.word(at + 1)? {
        "min" | "mins" | "minute" | "minutes" | "hr" | "hrs" | "hour" | "hours" | "h" | "sec"
        | "secs" | "seconds" | "minuto" | "minutos" | "hora" | "horas" | "day" | "days" | "dia"
        | "dias" | "weeks" | "week" | "times" | "x" | "veces" | "th" | "nd" | "rd" | "st"
        | "degrees" | "deg" | "grados" | "people" | "staff" | "of" => Some(at + 2),
        _something => None,
    }
}
