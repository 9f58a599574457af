//! Finds lengths in a message: `1 1/4`, `inch and a half`, `three quarters`, `una pulgada y media`, `<1`, `almost an inch`.
//!
//! Decides which words are one length and whether it is said to be less, more or about as much. What the length comes to is
//! left to [`air::parse`], so that a message and the option of a command are read by one rule.

use super::sentence::Sentence;
use super::tokens::{Kind, Token};
use super::words::Meaning;
use crate::rules::air::{self, AirFault, Said, Tenths};

/// A length in a message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Amount {
    pub start: usize,
    /// One past its last piece.
    pub end: usize,
    pub air: Result<Tenths, AirFault>,
    pub limit: Limit,
    /// A whole number without a unit: of air, of linen, or a bed.
    pub bare: bool,
    /// It does not say of what: "half", `3/4`, `1 1/4`. Lunch comes in those too.
    pub vague: bool,
    /// A mixed number whose whole part stands apart, such as `3 3/4`: it may be bed 3 and ¾ in as well.
    pub apart: bool,
}

/// How a length is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Limit {
    /// As much.
    Exact,
    /// Less.
    Under,
    /// More.
    Over,
    /// About as much.
    About,
    /// "Air under 1 1/4": the trade's word for the reading, or less than it.
    UnderOrExact,
}

/// Every length that is not taken by something else, in order. Takes their pieces.
pub(super) fn find(sentence: &mut Sentence<'_>) -> Vec<Amount> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < sentence.tokens.len() {
        match length(sentence, at) {
            Some(amount) => {
                sentence.take(amount.start, amount.end);
                at = amount.end;
                found.push(amount);
            }
            None => at += 1,
        }
    }
    found
}

/// A length that begins here.
fn length(of: &Sentence<'_>, start: usize) -> Option<Amount> {
    if !of.free(start) {
        return None;
    }
    let (mut written, mut end) = written(of, start)?;
    if written.unit.is_none()
        && let Some((unit, after)) = unit(of, end)
    {
        written.unit = Some(unit);
        end = after;
    }
    let text = written.text();
    let air = match air::parse(&text) {
        Ok(Said::Measured(length)) => Ok(length),
        Ok(Said::CouldNot) => Err(AirFault::NoNumber),
        Err(fault) => Err(fault),
    };
    let limit = limit(of, start, end);
    let plain = written.fraction.is_none() && written.unit.is_none() && !written.decimal;
    Some(Amount {
        start,
        end,
        air,
        limit,
        // "<1" is said of lengths only.
        bare: plain && limit == Limit::Exact,
        vague: written.unit.is_none(),
        apart: written.fraction.is_some() && written.whole.is_some() && !written.joined,
    })
}

/// A number as it stands in a message.
#[derive(Debug, Default)]
struct Written {
    whole: Option<String>,
    fraction: Option<&'static str>,
    typed_fraction: Option<String>,
    unit: Option<&'static str>,
    decimal: bool,
    /// Whole and fraction are joined by "and" or a unit, so that they are one number.
    joined: bool,
}

impl Written {
    fn text(&self) -> String {
        let whole = self.whole.as_deref().unwrap_or_default();
        let fraction = self
            .typed_fraction
            .as_deref()
            .or(self.fraction)
            .unwrap_or_default();
        let unit = self.unit.unwrap_or_default();
        format!("{whole} {fraction} {unit}")
    }
}

fn written(of: &Sentence<'_>, start: usize) -> Option<(Written, usize)> {
    // `inch and a half`, `an inch and a half`, `una pulgada`.
    let article = matches!(of.word(start), Some("a" | "an" | "una" | "un"));
    let first = start + usize::from(article);
    if of.free(first)
        && let Some(("in", after)) = unit_word(of, first)
        && of.word(first) != Some("in")
    {
        let mut written = Written {
            whole: Some("1".to_owned()),
            unit: Some("in"),
            ..Written::default()
        };
        let end = more(of, &mut written, after).unwrap_or(after);
        return Some((written, end));
    }
    if let Some((written, end)) = slurred(of, start) {
        return Some((written, end));
    }
    if let Some((fraction, end)) = fraction(of, start) {
        let mut written = Written {
            fraction: Some(fraction.read),
            typed_fraction: fraction.typed,
            ..Written::default()
        };
        // `of an inch`, `de pulgada`.
        let of_inch = [
            &["of", "an"][..],
            &["of", "a"],
            &["de", "una"],
            &["de"],
            &["of"],
            &["an"],
            &["a"],
        ]
        .into_iter()
        .find(|words| {
            words
                .iter()
                .enumerate()
                .all(|(place, word)| of.word(end + place) == Some(*word))
        });
        let behind = end + of_inch.map_or(0, <[&str]>::len);
        return Some(match unit(of, behind) {
            Some((unit, after)) => {
                written.unit = Some(unit);
                (written, after)
            }
            None => (written, end),
        });
    }
    let (whole, decimal, words, mut end) = whole(of, start)?;
    let mut written = Written {
        whole: Some(whole),
        decimal,
        ..Written::default()
    };
    if decimal {
        return Some((written, end));
    }
    if let Some((unit, after)) = unit(of, end) {
        written.unit = Some(unit);
        end = after;
    }
    if let Some(after) = more(of, &mut written, end) {
        end = after;
    }
    if words && written.unit.is_none() && written.fraction.is_none() {
        // "One" and "two" by themselves are words before they are lengths.
        return None;
    }
    Some((written, end))
}

/// `one an a half`, `un i medio`: a word with a slip for "and" behind it, so that the number is no half alone.
fn slurred(of: &Sentence<'_>, start: usize) -> Option<(Written, usize)> {
    let word = |at: usize| of.word(at).filter(|_| of.free(at));
    let whole = match word(start)? {
        "un" | "una" | "uno" | "one" | "won" => "1",
        other => digit(other)?,
    };
    if !matches!(
        word(start + 1)?,
        "an" | "nd" | "ad" | "amd" | "ans" | "i" | "y" | "e" | "and" | "n"
    ) {
        return None;
    }
    let (fraction, end) = fraction(of, start + 2)?;
    let mut written = Written {
        whole: Some(whole.to_owned()),
        fraction: Some(fraction.read),
        typed_fraction: fraction.typed,
        joined: true,
        ..Written::default()
    };
    let unit = unit(of, end);
    written.unit = unit.map(|(unit, _)| unit);
    Some((written, unit.map_or(end, |(_, after)| after)))
}

/// The fraction behind a whole number: `1/4`, `and a half`, `y media`.
fn more(of: &Sentence<'_>, written: &mut Written, start: usize) -> Option<usize> {
    let joint = matches!(
        of.text(start),
        Some("and" | "n" | "&" | "+" | "y" | "con" | "with" | "-")
    );
    let begin = start + usize::from(joint);
    if joint && !of.free(start) {
        return None;
    }
    let (fraction, end) = fraction(of, begin)?;
    let in_words = fraction.typed.is_none();
    // Words without "and" between: `one half` is no mixed number, and was read before as a fraction.
    if in_words && !joint && written.unit.is_none() {
        return None;
    }
    written.joined = joint || written.unit.is_some();
    written.fraction = Some(fraction.read);
    written.typed_fraction = fraction.typed;
    Some(end)
}

/// A whole number or a decimal: its text, whether it is a decimal, whether in words, and where it ends.
fn whole(of: &Sentence<'_>, start: usize) -> Option<(String, bool, bool, usize)> {
    let token = of.tokens.get(start).filter(|_| of.free(start))?;
    match token.kind {
        Kind::Decimal => Some((token.text.clone(), true, false, start + 1)),
        Kind::Whole => Some((token.text.clone(), false, false, start + 1)),
        Kind::Word => {
            let digit = digit(of.word(start)?)?;
            // `one point five`, `1 point 25`.
            if of.word(start + 1) == Some("point") {
                let part = of.word(start + 2).and_then(digit_or_number)?;
                return Some((format!("{digit}.{part}"), true, true, start + 3));
            }
            Some((digit.to_owned(), false, true, start + 1))
        }
        Kind::Fraction | Kind::Clock | Kind::Mark(_) => None,
    }
}

/// A fraction.
struct Part {
    read: &'static str,
    typed: Option<String>,
}

fn fraction(of: &Sentence<'_>, start: usize) -> Option<(Part, usize)> {
    let token = of.tokens.get(start).filter(|_| of.free(start))?;
    if token.kind == Kind::Fraction {
        let typed = Some(token.text.clone());
        return Some((Part { read: "", typed }, start + 1));
    }
    let word = |at: usize| of.word(at).filter(|_| of.free(at));
    let part = |read: &'static str, end: usize| Some((Part { read, typed: None }, end));
    let is_half = |word: Option<&str>| {
        matches!(
            word,
            Some("half" | "halves" | "haf" | "hlf" | "medio" | "media")
        )
    };
    let is_quarter = |word: Option<&str>| {
        matches!(
            word,
            Some(
                "quarter"
                    | "quarters"
                    | "quater"
                    | "quaters"
                    | "quartr"
                    | "quartrs"
                    | "qtr"
                    | "qtrs"
                    | "cuarto"
                    | "cuartos"
            )
        )
    };
    let counted = match word(start) {
        Some("a" | "an" | "un" | "una" | "one" | "1") => Some("1"),
        Some("three" | "tres" | "3") => Some("3"),
        _no_count => None,
    };
    match counted {
        Some("1") if is_half(word(start + 1)) => part("1/2", start + 2),
        Some("1") if is_quarter(word(start + 1)) => part("1/4", start + 2),
        Some("3") if is_quarter(word(start + 1)) => part("3/4", start + 2),
        Some(_) => None,
        None if is_half(word(start)) => part("1/2", start + 1),
        None if is_quarter(word(start)) => part("1/4", start + 1),
        None => None,
    }
}

/// A unit of length here. "In" before a name is where, not how long.
fn unit(of: &Sentence<'_>, at: usize) -> Option<(&'static str, usize)> {
    let token = of.tokens.get(at).filter(|_| of.free(at))?;
    if token.is_mark('"') {
        return Some(("in", at + 1));
    }
    let place = of.word(at) == Some("in") && !token.glued && of.is_place(at + 1);
    if place {
        return None;
    }
    // `quarter of an inch` is read with its fraction; `inches of air` needs no more.
    unit_word(of, at)
}

fn unit_word(of: &Sentence<'_>, at: usize) -> Option<(&'static str, usize)> {
    let unit = match of.word(at).filter(|_| of.free(at))? {
        "in" | "ins" | "inch" | "inches" | "pulgada" | "pulgadas" | "pulg" => "in",
        "cm" | "cms" | "centimeter" | "centimeters" | "centimetre" | "centimetres"
        | "centimetro" | "centimetros" => "cm",
        "mm" | "mms" | "millimeter" | "millimeters" | "millimetre" | "millimetres"
        | "milimetro" | "milimetros" => "mm",
        _no_unit => return None,
    };
    Some((unit, at + 1))
}

fn digit(word: &str) -> Option<&'static str> {
    Some(match word {
        "zero" | "cero" => "0",
        "one" | "uno" | "una" => "1",
        "two" | "dos" => "2",
        "three" | "tres" => "3",
        "four" | "cuatro" => "4",
        "five" | "cinco" => "5",
        "six" | "seis" => "6",
        _no_number => return None,
    })
}

fn digit_or_number(word: &str) -> Option<String> {
    let typed = word.len() <= 2 && word.bytes().all(|byte| byte.is_ascii_digit());
    digit(word)
        .map(str::to_owned)
        .or_else(|| typed.then(|| word.to_owned()))
}

/// What stands around a length says how it is meant.
fn limit(of: &Sentence<'_>, start: usize, end: usize) -> Limit {
    let mut before = start;
    // "Just under an inch": the article belongs to the length, "a" before it to nobody.
    while before > 0
        && matches!(
            of.word(before - 1),
            Some("a" | "an" | "the" | "to" | "de" | "la")
        )
    {
        before -= 1;
    }
    let hit = of
        .hits
        .iter()
        .find(|hit| hit.end == before || hit.end == start);
    let mark = |at: Option<usize>| at.and_then(|at| of.tokens.get(at));
    if mark(start.checked_sub(1)).is_some_and(|token| token.is_mark('<')) {
        return Limit::Under;
    }
    if mark(start.checked_sub(1)).is_some_and(|token| token.is_mark('>')) {
        return Limit::Over;
    }
    let vague = |token: &Token| token.is_mark('~') || token.is_mark('±');
    let open_end = |token: &Token| (token.is_mark('+') || token.is_mark('~')) && token.glued;
    let ish = of.hits.iter().any(|hit| {
        let dash = usize::from(of.text(end) == Some("-"));
        hit.meaning == Meaning::Approx && hit.start == end + dash
    });
    if mark(start.checked_sub(1)).is_some_and(vague) || mark(Some(end)).is_some_and(open_end) || ish
    {
        return Limit::About;
    }
    let is = |meanings: &[Meaning]| hit.is_some_and(|hit| meanings.contains(&hit.meaning));
    if is(&[Meaning::Almost]) {
        Limit::Under
    } else if is(&[Meaning::More]) {
        Limit::Over
    } else if is(&[Meaning::Approx, Meaning::Barely]) {
        Limit::About
    } else if is(&[Meaning::AirUnder]) {
        Limit::UnderOrExact
    } else {
        Limit::Exact
    }
}
