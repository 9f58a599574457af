//! Which surface a message is about.
//!
//! Decides what the names in it come to, and when a short number is a bed and when a reading. Two surfaces are never one by
//! choice: they are asked about. Leaves the looking for names to `names`.

use super::amounts::Amount;
use super::names::{Home, Name, Named};
use super::sentence::Sentence;
use super::tokens::Kind;
use crate::rules::air::{self, AirFault};
use crate::rules::nearest::{self, Match};

/// What a message is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Subject<'a> {
    /// No surface was named.
    None,
    One(&'a str),
    /// More than one, all of them named.
    Several(Vec<&'a str>),
    /// A bed with nothing under it.
    EmptyBed(&'a str),
    /// A name that the home does not have.
    Strange(String),
    /// A short number that may be a bed or a reading.
    BedOrReading(String),
}

/// The subject, and the readings that are left once a number in front of them is a bed.
pub(super) fn of<'a>(sentence: &Sentence<'a>) -> (Subject<'a>, Vec<Amount>) {
    let strong: Vec<&Name<'a>> = sentence
        .names
        .iter()
        .filter(|name| !matches!(name.named, Named::Unit(_)))
        .filter(|name| !name.weak || continues_list(sentence, name))
        .collect();
    let without = |names: &[&Name<'a>]| {
        let mut left = sentence.amounts.clone();
        left.retain(|amount| !amount.bare || !names.iter().any(|name| name.start == amount.start));
        left
    };
    if !strong.is_empty() {
        return (together(&strong), without(&strong));
    }
    let weak: Vec<&Name<'a>> = sentence
        .names
        .iter()
        .filter(|name| name.weak && !matches!(name.named, Named::Unit(_)))
        .collect();
    if weak.is_empty() {
        return (Subject::None, sentence.amounts.clone());
    }
    let readings: Vec<&Name<'a>> = weak
        .iter()
        .copied()
        .filter(|name| {
            sentence
                .amounts
                .iter()
                .any(|amount| amount.start == name.start)
        })
        .collect();
    // Beside another number a short one is a bed if only one of them can be.
    let fits: Vec<(&Name<'a>, Vec<Amount>)> = readings
        .iter()
        .filter_map(|name| as_bed(sentence, name).map(|left| (*name, left)))
        .collect();
    match fits.as_slice() {
        [(name, left)] => return (together(&[*name]), left.clone()),
        [(name, _), ..] => return (Subject::BedOrReading(typed(sentence, name)), Vec::new()),
        [] => {}
    }
    // `3 3/4`: bed 3, or three and three quarters.
    let mixed = |name: &&Name<'a>| {
        let here =
            |amount: &&Amount| amount.start == name.start && amount.apart && amount.air.is_ok();
        sentence.amounts.iter().any(|amount| here(&amount))
    };
    if let Some(name) = readings.iter().copied().find(|name| mixed(name)) {
        return (Subject::BedOrReading(typed(sentence, name)), Vec::new());
    }
    let placed: Vec<&Name<'a>> = weak
        .iter()
        .copied()
        .filter(|name| stands_as_place(sentence, name))
        .collect();
    match placed.as_slice() {
        [] => (Subject::None, sentence.amounts.clone()),
        some => (together(some), without(some)),
    }
}

/// The readings that are left if this number is a bed: exactly one, and one that can be a reading.
fn as_bed(sentence: &Sentence<'_>, name: &Name<'_>) -> Option<Vec<Amount>> {
    let mut left = Vec::new();
    for amount in &sentence.amounts {
        if amount.start != name.start {
            left.push(amount.clone());
        } else if amount.apart && amount.air.is_err() {
            // `12 3/4`: too deep for one reading, so bed 12 and the fraction.
            let fraction = sentence.tokens.get(amount.end - 1)?;
            let at =
                (amount.start..amount.end).find(|at| sentence.tokens[*at].kind == Kind::Fraction);
            let text = at.map_or(fraction.text.as_str(), |at| {
                sentence.tokens[at].text.as_str()
            });
            let air = match air::parse(text) {
                Ok(air::Said::Measured(length)) => Ok(length),
                Ok(air::Said::CouldNot) | Err(_) => return None,
            };
            left.push(Amount {
                air,
                apart: false,
                ..amount.clone()
            });
        } else if !amount.bare {
            return None;
        }
    }
    match left.as_slice() {
        [one] if is_reading(one) => Some(left),
        _none_or_more => None,
    }
}

/// A length, or a number that is one as soon as its unit is said.
fn is_reading(amount: &Amount) -> bool {
    match &amount.air {
        Ok(_) => true,
        Err(AirFault::WhichUnit { number }) => air::in_each_unit(number)
            .first()
            .is_some_and(|text| text.ends_with("in")),
        Err(_) => false,
    }
}

/// A short number that stands where a bed would: first of all, or behind "in", "on", "la".
fn stands_as_place(sentence: &Sentence<'_>, name: &Name<'_>) -> bool {
    match name.start.checked_sub(1) {
        None => true,
        Some(before) => matches!(
            sentence.text(before),
            Some(
                "in" | "on"
                    | "for"
                    | "la"
                    | "el"
                    | "en"
                    | "de"
                    | "under"
                    | "wheres"
                    | "is"
                    | "hey"
                    | "check"
            )
        ),
    }
}

/// `ash 12 and 14`: the second goes with the first.
fn continues_list(sentence: &Sentence<'_>, name: &Name<'_>) -> bool {
    let Some(joint) = name.start.checked_sub(1) else {
        return false;
    };
    let joins = matches!(
        sentence.text(joint),
        Some("and" | "&" | "y" | "," | "/" | "n" | "e")
    );
    // A number that goes on as a length is none of the list: `103, 1 1/4`.
    let length = sentence
        .amounts
        .iter()
        .any(|amount| amount.start == name.start && !amount.bare);
    joins
        && !length
        && sentence
            .names
            .iter()
            .any(|other| other.end == joint && !matches!(other.named, Named::Unit(_)))
}

fn typed(sentence: &Sentence<'_>, name: &Name<'_>) -> String {
    sentence
        .tokens
        .get(name.start)
        .map_or_else(String::new, |token| token.text.clone())
}

/// What several names come to.
fn together<'a>(names: &[&Name<'a>]) -> Subject<'a> {
    let mut tags: Vec<&str> = Vec::new();
    let mut empty: Vec<&str> = Vec::new();
    let mut strange: Vec<&str> = Vec::new();
    for name in names {
        match &name.named {
            Named::Tag(tag) => tags.push(tag),
            Named::Bed(bed) => match bed.under {
                Some(tag) => tags.push(tag),
                None => empty.push(bed.bed),
            },
            Named::Several(several) => tags.extend(several),
            Named::Strange(typed) => strange.push(typed),
            Named::Unit(_) => {}
        }
    }
    let mut seen = Vec::new();
    tags.retain(|tag| {
        let new = !seen.contains(tag);
        seen.push(*tag);
        new
    });
    match (tags.as_slice(), empty.first(), strange.first()) {
        ([], _, Some(typed)) => Subject::Strange((*typed).to_owned()),
        ([], Some(bed), None) => Subject::EmptyBed(bed),
        ([], None, None) => Subject::None,
        ([one], None, None) => Subject::One(one),
        (_, _, _) => Subject::Several(tags),
    }
}

/// The tags that are near to a name which the home does not have, best first; and whether the name is the beginning of each
/// bed or tag, as a room's number is of its beds.
pub(super) fn near(typed: &str, home: &Home<'_>) -> (Vec<String>, bool) {
    let beds = home
        .beds
        .iter()
        .filter(|bed| bed.under.is_some())
        .map(|bed| bed.bed);
    let begins = |name: &str| nearest::fold(name).starts_with(&nearest::fold(typed));
    let found = match nearest::find(typed, home.tags.iter().copied().chain(beds)) {
        Match::One(one) => vec![one],
        // Both beds of a room come before what only looks like it.
        Match::Several(names) | Match::Nearest(names) if names.iter().any(|name| begins(name)) => {
            names.into_iter().filter(|name| begins(name)).collect()
        }
        Match::Several(names) | Match::Nearest(names) => names,
    };
    let room = found.iter().all(|name| begins(name));
    let mut tags: Vec<String> = Vec::new();
    for name in found {
        let under = home
            .beds
            .iter()
            .find(|bed| bed.bed == name)
            .and_then(|bed| bed.under);
        let tag = under.unwrap_or(name).to_owned();
        if !tags.contains(&tag) {
            tags.push(tag);
        }
    }
    (tags, room)
}
