//! Finds the tags, beds and units of a home in a message.
//!
//! Decides which pieces are a name, and which look like one that the home does not have. A name is never taken by its likeness:
//! what is only near is offered. Leaves to `compose` what two names, or none, mean.

use std::collections::BTreeMap;

use super::tokens::{Kind, Token};
use super::words::Vocabulary;
use crate::rules::nearest;
use crate::rules::time_of_day;

/// A bed of the home.
#[derive(Debug, Clone, Copy)]
pub struct HomeBed<'a> {
    /// Its name.
    pub bed: &'a str,
    /// The unit it belongs to.
    pub unit: &'a str,
    /// The tag of the surface under it.
    pub under: Option<&'a str>,
}

/// The names that a message may use.
#[derive(Debug, Clone, Default)]
pub struct Home<'a> {
    /// The tags of surfaces that are still in the register.
    pub tags: Vec<&'a str>,
    /// The beds.
    pub beds: Vec<HomeBed<'a>>,
    /// The units.
    pub units: Vec<&'a str>,
    /// The tags of surfaces that the writer most likely stands at, offered where none was named.
    pub likely: Vec<&'a str>,
    /// Other names of the home's own, such as those of profiles, which are no names of people.
    pub known: Vec<&'a str>,
}

/// What a name names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Named<'a> {
    Tag(&'a str),
    Bed(HomeBedName<'a>),
    /// Several tags or beds that are written the same but for dashes and zeros.
    Several(Vec<&'a str>),
    Unit(&'a str),
    /// Written like a tag or a bed, and the home has none of that name.
    Strange(String),
}

/// A bed and what is under it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct HomeBedName<'a> {
    pub bed: &'a str,
    pub under: Option<&'a str>,
}

/// A name in a message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Name<'a> {
    pub start: usize,
    /// One past its last piece.
    pub end: usize,
    pub named: Named<'a>,
    /// A number of one or two digits that nothing marks as a bed: it may be a reading as well.
    pub weak: bool,
}

/// No name has more pieces than this: `Elm - Wing 12 - B`.
const PIECES_MAX: usize = 6;

/// Numbers with at least this many digits are no readings.
const BED_DIGITS_MIN: usize = 3;

/// Words that say that a number behind them is a bed or a tag.
const MARKERS: &[&str] = &[
    "bed",
    "beds",
    "room",
    "rooms",
    "rm",
    "rms",
    "bd",
    "tag",
    "number",
    "num",
    "cama",
    "camas",
    "cuarto",
    "hab",
    "habitacion",
    "numero",
    "etiqueta",
];

/// Words that take an "a" before them: in "214 a quarter" the "a" is no part of the bed's name.
const AFTER_ARTICLE: &[&str] = &[
    "quarter", "half", "inch", "bit", "little", "pad", "sheet", "low", "high", "leak", "lot", "an",
    "la", "las", "full", "new", "media", "tres", "un", "una", "cuarto", "medio",
];

/// Glued to a number, these count or measure and make no name of it.
const COUNTED: &[&str] = &[
    "in", "ins", "inch", "inches", "cm", "cms", "mm", "mms", "am", "pm", "p", "m", "h", "hr",
    "hrs", "min", "mins", "s", "x", "d", "st", "nd", "rd", "th", "pulgada", "pulgadas", "pads",
    "ish", "deg", "hob", "oz", "ml", "ppm", "qt", "l",
];

/// Glued before a number: an error's code, and no tag.
const CODES: &[&str] = &["e", "er", "err", "f", "x"];

/// Every name in the message, in order.
pub(super) fn find<'a>(
    tokens: &[Token],
    home: &Home<'a>,
    vocabulary: &Vocabulary,
) -> Vec<Name<'a>> {
    let known = Known::new(home);
    let mut names = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        match known.at(tokens, at, vocabulary) {
            Some(name) => {
                at = name.end;
                names.push(name);
            }
            None => at += 1,
        }
    }
    names
}

/// Whether a piece says that a name follows.
pub(super) fn is_marker(token: &Token) -> bool {
    MARKERS.contains(&token.text.as_str()) || token.is_mark('#')
}

/// The home's names by the form in which two ways of writing one are equal.
struct Known<'a> {
    places: BTreeMap<String, Vec<Named<'a>>>,
    units: BTreeMap<String, &'a str>,
    /// The letters that tags begin with.
    prefixes: Vec<String>,
}

impl<'a> Known<'a> {
    fn new(home: &Home<'a>) -> Self {
        let mut places: BTreeMap<String, Vec<Named<'a>>> = BTreeMap::new();
        for tag in &home.tags {
            places
                .entry(nearest::fold(tag))
                .or_default()
                .push(Named::Tag(tag));
        }
        for bed in &home.beds {
            let name = HomeBedName {
                bed: bed.bed,
                under: bed.under,
            };
            for written in [bed.bed.to_owned(), format!("{} {}", bed.unit, bed.bed)] {
                let same = places.entry(nearest::fold(&written)).or_default();
                if !same.contains(&Named::Bed(name)) {
                    same.push(Named::Bed(name));
                }
            }
        }
        let mut prefixes: Vec<String> = home
            .tags
            .iter()
            .map(|tag| {
                let letters = tag.chars().take_while(char::is_ascii_alphabetic);
                letters.collect::<String>().to_ascii_lowercase()
            })
            .filter(|letters| letters.len() >= 2)
            .collect();
        prefixes.sort();
        prefixes.dedup();
        Self {
            places,
            units: home
                .units
                .iter()
                .map(|unit| (nearest::fold(unit), *unit))
                .collect(),
            prefixes,
        }
    }

    /// The longest name that begins here.
    fn at(&self, tokens: &[Token], start: usize, vocabulary: &Vocabulary) -> Option<Name<'a>> {
        let first = tokens.get(start)?;
        if matches!(
            first.kind,
            Kind::Mark(_) | Kind::Clock | Kind::Fraction | Kind::Decimal
        ) {
            return None;
        }
        let most = PIECES_MAX.min(tokens.len() - start);
        for count in (1..=most).rev() {
            let end = start + count;
            let window = &tokens[start..end];
            if !may_be_name(window, tokens.get(end)) || !self.stands_apart(tokens, start, end) {
                continue;
            }
            let folded = nearest::fold(&joined(window));
            if let Some(named) = self.places.get(&folded) {
                // Letters alone are a word sooner than a tag.
                let letters = window.iter().all(Token::is_word);
                if letters && (count > 1 || first.text.len() < 3 || vocabulary.has(&first.text)) {
                    continue;
                }
                return Some(Name {
                    start,
                    end,
                    named: one_of(named),
                    weak: count == 1 && is_weak(tokens, start),
                });
            }
            if let Some(unit) = self.units.get(&folded)
                && self.is_unit_here(tokens, start, window, vocabulary)
            {
                return Some(Name {
                    start,
                    end,
                    named: Named::Unit(unit),
                    weak: false,
                });
            }
        }
        self.strange(tokens, start)
    }

    /// Whether no letter or digit is glued to it: `104b` is not bed 104, and `12in` is none at all. `rm103` is bed 103.
    fn stands_apart(&self, tokens: &[Token], start: usize, end: usize) -> bool {
        let named = |token: &Token| token.is_word() || token.kind == Kind::Whole;
        let before = start.checked_sub(1).and_then(|at| tokens.get(at));
        let glued_before = tokens.get(start).is_some_and(|first| first.glued)
            && before.is_some_and(|before| named(before) && !is_marker(before));
        let glued_after = tokens
            .get(end)
            .is_some_and(|next| next.glued && named(next));
        !glued_before && !glued_after
    }

    /// A unit called like a word of ours, or by a number, is meant only where something says so.
    fn is_unit_here(
        &self,
        tokens: &[Token],
        start: usize,
        window: &[Token],
        vocabulary: &Vocabulary,
    ) -> bool {
        let plain = window
            .iter()
            .all(|token| !token.is_word() || vocabulary.has(&token.text));
        let before = start.checked_sub(1).and_then(|at| tokens.get(at));
        let introduced = before.is_some_and(|token| {
            matches!(
                token.text.as_str(),
                "in" | "on" | "for" | "unit" | "wing" | "en" | "unidad" | "ala" | "piso" | "floor"
            )
        });
        !plain || introduced
    }

    /// Something written like a tag or a bed that is none.
    fn strange(&self, tokens: &[Token], start: usize) -> Option<Name<'a>> {
        let first = tokens.get(start)?;
        let before = start.checked_sub(1).and_then(|at| tokens.get(at));
        let continues =
            first.glued && before.is_some_and(|before| before.is_word() && !is_marker(before));
        if continues || is_marker(first) {
            return None;
        }
        let after_marker = start
            .checked_sub(1)
            .and_then(|at| tokens.get(at))
            .is_some_and(is_marker);
        // `LW-99`, `lw99`, `214c`: letters and digits in one piece.
        let glued = tokens[start + 1..]
            .iter()
            .take_while(|token| {
                token.glued && (token.is_word() || token.kind == Kind::Whole || token.is_mark('-'))
            })
            .count();
        let mut end = start + 1 + glued;
        while end > start + 1 && tokens[end - 1].is_mark('-') {
            end -= 1;
        }
        let piece = &tokens[start..end];
        let letters: Vec<&str> = piece
            .iter()
            .filter(|token| token.is_word())
            .map(|token| token.text.as_str())
            .collect();
        let digits = piece.iter().any(|token| token.kind == Kind::Whole);
        let hour = first.kind == Kind::Whole && first.text.len() <= 2 && letters == ["a"];
        let code = first.is_word() && CODES.contains(&first.text.as_str());
        let counts = hour || code || letters.iter().any(|word| COUNTED.contains(word));
        let is_prefix = |word: &str| self.prefixes.iter().any(|prefix| prefix == word);
        let one_piece = digits && !letters.is_empty() && !counts && (letters.len() == 1);
        // `lw 99`.
        let apart = first.is_word()
            && is_prefix(&first.text)
            && tokens
                .get(start + 1)
                .is_some_and(|next| next.kind == Kind::Whole);
        let bare = first.kind == Kind::Whole
            && end == start + 1
            && (first.text.len() >= BED_DIGITS_MIN && !is_time(tokens, start) || after_marker);
        let end = match (one_piece, apart, bare) {
            (true, _, _) => end,
            (false, true, _) => start + 2,
            (false, false, true) => start + 1,
            (false, false, false) => return None,
        };
        Some(Name {
            start,
            end,
            named: Named::Strange(joined(&tokens[start..end]).to_uppercase()),
            weak: false,
        })
    }
}

/// Four digits that are a time of day, as shifts write them: `1340`.
pub(super) fn is_time(tokens: &[Token], at: usize) -> bool {
    tokens.get(at).is_some_and(|token| {
        token.kind == Kind::Whole
            && token.text.len() == 4
            && time_of_day::parse(&token.text).is_some()
    })
}

/// The pieces as they were written: with a space where there was one.
pub(super) fn joined(window: &[Token]) -> String {
    let mut text = String::new();
    for (place, token) in window.iter().enumerate() {
        if place > 0 && !token.glued {
            text.push(' ');
        }
        text.push_str(&token.text);
    }
    text
}

/// Whether pieces that stand in a row may be one name. A letter that stands alone behind a number may be an article.
fn may_be_name(window: &[Token], next: Option<&Token>) -> bool {
    let named = |token: &&Token| token.is_word() || token.kind == Kind::Whole;
    let Some(last) = window.last().filter(named) else {
        return false;
    };
    if next.is_some_and(|next| next.glued && next.kind == Kind::Whole && last.kind == Kind::Whole) {
        return false;
    }
    let letter_apart =
        window.len() > 1 && last.is_word() && !last.glued && last.text.chars().count() == 1;
    let article = matches!(last.text.as_str(), "a" | "y" | "e" | "o" | "n" | "x");
    !(letter_apart
        && article
        && next.is_some_and(|next| {
            AFTER_ARTICLE.contains(&next.text.as_str())
                || matches!(next.kind, Kind::Whole | Kind::Fraction)
        }))
}

/// A short number that nothing marks as a bed.
fn is_weak(tokens: &[Token], at: usize) -> bool {
    let marked = at
        .checked_sub(1)
        .and_then(|before| tokens.get(before))
        .is_some_and(is_marker);
    tokens
        .get(at)
        .is_some_and(|token| token.kind == Kind::Whole && token.text.len() < BED_DIGITS_MIN)
        && !marked
}

/// Two names that are written the same are one where they are the same surface.
fn one_of<'a>(named: &[Named<'a>]) -> Named<'a> {
    let tag = |named: &Named<'a>| match named {
        Named::Tag(tag) => Some(*tag),
        Named::Bed(bed) => bed.under,
        Named::Several(_) | Named::Unit(_) | Named::Strange(_) => None,
    };
    match named {
        [only] => only.clone(),
        several => {
            let mut tags: Vec<&str> = several.iter().filter_map(tag).collect();
            tags.sort_unstable();
            tags.dedup();
            match (tags.as_slice(), several.first()) {
                ([one], _) => Named::Tag(one),
                ([], Some(first)) => first.clone(),
                (_, _) => Named::Several(tags),
            }
        }
    }
}
