//! Reads and shows the air under a person: what was typed becomes tenths of a millimetre.
//!
//! Decides what a text says and when it could mean two things. Leaves to `hand_check` whether the
//! reading is enough, and to the caller the sentence that asks again.

use serde::{Deserialize, Serialize};

/// One inch in tenths of a millimetre: 25.4 mm exactly (international yard and pound agreement, 1959).
pub const INCH_TENTHS: i32 = 254;

/// No reading is deeper than this: 8 in, more than the height of a powered mattress's cells, so a
/// larger number is a slip of the finger or another unit.
pub const MAX_DEPTH: Tenths = Tenths(8 * INCH_TENTHS);

/// A bare number from here on could be inches or centimetres: 3 cm of air is adequate, 3 in is high.
const ASK_FROM: f64 = 2.0;

/// A bare decimal from here on is inches only where a ruler in inches shows it: 1.2 is as likely centimetres, in which it
/// is low. Below, inches and centimetres are both low.
const RULER_FROM: f64 = 1.0;

/// A bare number from here on may be millimetres as well; below, nobody means them.
const MILLIMETRES_FROM: f64 = 10.0;

/// Longer texts than this are not readings.
pub(super) const MAX_CHARS: usize = 40;

/// A length in tenths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Tenths(pub i32);

/// What the text of a reading says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Said {
    /// So much air under the person; 0 is none at all.
    Measured(Tenths),
    /// The check could not be made.
    CouldNot,
}

/// Why a text is no reading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AirFault {
    /// Nothing was typed.
    Empty,
    /// A number that could be inches, centimetres or millimetres: ask, never guess.
    WhichUnit {
        /// The number as it was typed, without spaces.
        number: String,
    },
    /// Less than nothing.
    Negative,
    /// Deeper than any surface is.
    TooDeep {
        /// The deepest reading that is taken.
        max: Tenths,
    },
    /// Two numbers, such as a range: one reading is one number.
    TwoNumbers,
    /// A fraction such as `11/4` or `1/7`, which is more often a missing space than meant.
    OddFraction,
    /// A number followed by something that is no length unit of ours.
    UnknownUnit,
    /// No number in it.
    NoNumber,
}

/// The unit that a reading is shown in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Inches, in eighths where the reading is one.
    Inches,
    /// Centimetres.
    Centimetres,
}

/// Reads a hand-check reading: `1 1/4`, `1¼`, `1.25"`, `3 cm`, `32 mm`, `none`; its words in Spanish too: `1 1/4 pulg`,
/// `media pulgada`, `ninguno`.
///
/// A fraction is inches: nobody writes one in metric units. So is a bare number under 2 that a ruler in inches shows,
/// such as `1`, `1.25` or `1.5`: the trade's band is 1 to 1.5 in, its buttons are inches, and each answer says the unit
/// that was read. Any other bare number is asked about: `3` is adequate in centimetres and high in inches, `1.2` low in
/// centimetres and adequate in inches.
///
/// `2.5 cm` and `25 mm` are the customary metric words for one inch (25.4 mm) and count as one inch, so
/// that a metric home is not told "low" for the reading that its policy calls enough.
///
/// Rounds to the nearest tenth of a millimetre.
///
/// # Errors
/// [`AirFault`] says what is wrong; nothing is guessed.
pub fn parse(text: &str) -> Result<Said, AirFault> {
    if text.chars().count() > MAX_CHARS {
        return Err(AirFault::NoNumber);
    }
    let plain = plain_text(text);
    if plain.is_empty() {
        return Err(AirFault::Empty);
    }
    if let Some(said) = phrase(&plain) {
        return Ok(said);
    }
    if let "two" | "dos" = plain.as_str() {
        return Err(which_unit("2"));
    }
    let (negative, rest) = match plain.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, plain.as_str()),
    };
    let (amount, rest) = amount(rest)?;
    let unit = unit(rest)?;
    if negative && amount.value > 0.0 {
        return Err(AirFault::Negative);
    }
    tenths(&amount, unit).map(Said::Measured)
}

/// A number that says no unit, where [`parse`] reads it as inches: in a home that measures in centimetres `1` is less than
/// half an inch. `None` for a text that names its unit, for a fraction, for words, and for nothing left.
#[must_use]
pub fn bare(text: &str) -> Option<String> {
    let plain = plain_text(text);
    if phrase(&plain).is_some() || !matches!(parse(text), Ok(Said::Measured(Tenths(1..)))) {
        return None;
    }
    let (amount, rest) = amount(&plain).ok()?;
    (!amount.fraction && unit(rest) == Ok(Unit::Bare)).then_some(amount.typed)
}

fn which_unit(number: &str) -> AirFault {
    AirFault::WhichUnit {
        number: number.to_owned(),
    }
}

/// A number that lacks its unit, in each unit in which it is a reading, the likeliest first: `3 in`, `3 cm`; `30 mm`.
#[must_use]
pub fn in_each_unit(number: &str) -> Vec<String> {
    let metric = number
        .parse::<f64>()
        .is_ok_and(|value| value >= MILLIMETRES_FROM);
    let units: [&str; 2] = if metric { ["mm", "cm"] } else { ["in", "cm"] };
    units
        .iter()
        .map(|unit| format!("{number} {unit}"))
        .filter(|text| parse(text).is_ok())
        .collect()
}

/// Shows a length: `1¼ in` where it is an eighth of an inch, `0.99 in` otherwise; or `3.2 cm`.
///
/// An eighth is written only for the tenth of a millimetre that the eighth itself rounds to, so that
/// no reading just under a limit is shown as the limit.
#[must_use]
pub fn show(length: Tenths, units: Units) -> String {
    match units {
        Units::Inches => format!("{} in", show_inches(length)),
        Units::Centimetres => format!("{} cm", trimmed(f64::from(length.0) / 100.0, 2)),
    }
}

/// A number as it was typed.
pub(super) struct Amount {
    pub(super) value: f64,
    /// Written with a fraction, which nobody does in metric units.
    pub(super) fraction: bool,
    pub(super) typed: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Inch,
    Centimetre,
    Millimetre,
    Bare,
}

/// Lower case, one space between words, typographic signs replaced by typed ones, `¼` by ` 1/4`.
pub(super) fn plain_text(text: &str) -> String {
    let mut plain = String::with_capacity(text.len() + 8);
    for c in text.chars().flat_map(char::to_lowercase) {
        match c {
            '¼' => plain.push_str(" 1/4"),
            '½' => plain.push_str(" 1/2"),
            '¾' => plain.push_str(" 3/4"),
            '⅛' => plain.push_str(" 1/8"),
            '⅜' => plain.push_str(" 3/8"),
            '⅝' => plain.push_str(" 5/8"),
            '⅞' => plain.push_str(" 7/8"),
            '⅓' => plain.push_str(" 1/3"),
            '⅔' => plain.push_str(" 2/3"),
            '⁄' | '∕' => plain.push('/'),
            '″' | '”' | '“' | '„' => plain.push('"'),
            '’' | '‘' | '′' => plain.push('\''),
            '−' | '–' | '‐' | '‑' => plain.push('-'),
            other => plain.push(other),
        }
    }
    let plain = plain.replace("''", "\"");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Readings that are words. "None" is "could not check" (it is the choice's own name), and never
/// "no air": that is `0` or `touching`.
fn phrase(plain: &str) -> Option<Said> {
    let plain = plain.trim_end_matches(['.', '!']);
    let eighths = match plain {
        "none" | "n/a" | "na" | "could not" | "could not check" | "couldn't" | "couldn't check"
        | "couldnt" | "couldnt check" | "can't" | "cannot" | "not checked" | "unable"
        // "Nada" is not among them: it could be no air.
        | "ninguno" | "ninguna" | "no se pudo" | "no se pudo comprobar" | "no pude"
        | "no pude comprobar" | "sin comprobar" => {
            return Some(Said::CouldNot);
        }
        "touching" | "bottomed out" | "no air" | "toca fondo" | "tocando fondo" | "sin aire"
        | "no hay aire" => 0,
        "quarter" | "a quarter" | "quarter inch" | "a quarter inch" | "a quarter of an inch"
        | "un cuarto" | "un cuarto de pulgada" | "cuarto de pulgada" => 2,
        "half" | "a half" | "half inch" | "half an inch" | "a half inch" | "media" | "media pulgada" => 4,
        "three quarters"
        | "three-quarters"
        | "three quarters of an inch"
        | "three quarter inch"
        | "tres cuartos"
        | "tres cuartos de pulgada" => 6,
        "an inch" | "one inch" | "one" | "inch" | "una pulgada" | "una" | "pulgada" => 8,
        "one and a quarter" | "one and a quarter inches" | "an inch and a quarter"
        | "una y cuarto" | "una pulgada y cuarto" | "una pulgada y un cuarto"
        | "pulgada y cuarto" => 10,
        "one and a half" | "one and a half inches" | "an inch and a half" | "una y media"
        | "una pulgada y media" | "pulgada y media" => 12,
        "two inches" | "dos pulgadas" => 16,
        _other_words => return None,
    };
    Some(Said::Measured(eighth(eighths)))
}

/// Takes the number from the front: whole, decimal, fraction or mixed.
pub(super) fn amount(plain: &str) -> Result<(Amount, &str), AirFault> {
    let (first, rest) = split_number(plain);
    if first.is_empty() {
        return Err(AirFault::NoNumber);
    }
    if let Some(rest) = rest.strip_prefix('/') {
        let (below, rest) = split_number(rest);
        let value = fraction(first, below)?;
        let typed = format!("{first}/{below}");
        return Ok((
            Amount {
                value,
                fraction: true,
                typed,
            },
            rest,
        ));
    }
    let value = decimal(first)?;
    if let Some((part, rest)) = following_fraction(rest)? {
        if first.contains(['.', ',']) {
            return Err(AirFault::TwoNumbers);
        }
        let typed = format!("{first}+{part}");
        return Ok((
            Amount {
                value: value + part,
                fraction: true,
                typed,
            },
            rest,
        ));
    }
    Ok((
        Amount {
            value,
            fraction: false,
            typed: first.replace(',', "."),
        },
        rest,
    ))
}

/// The fraction of `1 1/4`, `1-1/4`, `1 and 1/4` or `1 y 1/4`, where the whole number has been taken.
fn following_fraction(rest: &str) -> Result<Option<(f64, &str)>, AirFault> {
    let after = rest.trim_start();
    let after = after
        .strip_prefix("and ")
        .or_else(|| after.strip_prefix("y "))
        .or_else(|| after.strip_prefix('-'))
        .unwrap_or(after);
    let (above, tail) = split_number(after.trim_start());
    if above.is_empty() {
        return Ok(None);
    }
    let Some(tail) = tail.strip_prefix('/') else {
        return Err(AirFault::TwoNumbers);
    };
    let (below, tail) = split_number(tail);
    Ok(Some((fraction(above, below)?, tail)))
}

pub(super) fn split_number(text: &str) -> (&str, &str) {
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .unwrap_or(text.len());
    text.split_at(end)
}

/// A decimal with a point or a comma; a comma before three digits would be a thousand and is no reading.
fn decimal(typed: &str) -> Result<f64, AirFault> {
    let marks = typed.matches(['.', ',']).count();
    let digits = typed.len() - marks;
    let thousands = typed
        .split_once(',')
        .is_some_and(|(_, after)| after.len() > 2);
    if digits == 0 || marks > 1 || thousands {
        return Err(AirFault::NoNumber);
    }
    typed
        .replace(',', ".")
        .parse::<f64>()
        .map_err(|_| AirFault::NoNumber)
}

/// Only proper fractions with the denominators of a ruler (and thirds): `11/4` is more often `1 1/4`
/// with its space lost than two and three quarters.
fn fraction(above: &str, below: &str) -> Result<f64, AirFault> {
    let above: u32 = above.parse().map_err(|_| AirFault::OddFraction)?;
    let below: u32 = below.parse().map_err(|_| AirFault::OddFraction)?;
    if !matches!(below, 2 | 3 | 4 | 8 | 16) || above >= below {
        return Err(AirFault::OddFraction);
    }
    Ok(f64::from(above) / f64::from(below))
}

pub(super) fn unit(rest: &str) -> Result<Unit, AirFault> {
    let word = rest
        .trim()
        .trim_end_matches('.')
        .trim_start_matches('-')
        .trim();
    match word {
        "" => Ok(Unit::Bare),
        "\"" | "in" | "ins" | "inch" | "inches" | "of an inch" | "pulgada" | "pulgadas"
        | "pulg" | "pulgs" | "plg" | "de pulgada" => Ok(Unit::Inch),
        "cm" | "cms" | "centimeter" | "centimeters" | "centimetre" | "centimetres"
        | "centimetro" | "centimetros" | "centímetro" | "centímetros" => Ok(Unit::Centimetre),
        "mm" | "mms" | "millimeter" | "millimeters" | "millimetre" | "millimetres"
        | "milimetro" | "milimetros" | "milímetro" | "milímetros" => Ok(Unit::Millimetre),
        more if more.chars().any(|c| c.is_ascii_digit()) => Err(AirFault::TwoNumbers),
        _other_words => Err(AirFault::UnknownUnit),
    }
}

fn tenths(amount: &Amount, unit: Unit) -> Result<Tenths, AirFault> {
    let inch = f64::from(INCH_TENTHS);
    let typed = amount.value;
    let scaled = match unit {
        Unit::Inch => typed * inch,
        Unit::Centimetre if typed == 2.5 => inch,
        Unit::Centimetre => typed * 100.0,
        Unit::Millimetre if typed == 25.0 => inch,
        Unit::Millimetre => typed * 10.0,
        Unit::Bare if typed * 10.0 > f64::from(MAX_DEPTH.0) => {
            return Err(AirFault::TooDeep { max: MAX_DEPTH });
        }
        Unit::Bare if amount.fraction => typed * inch,
        Unit::Bare if typed >= ASK_FROM || (typed > RULER_FROM && (typed * 8.0).fract() != 0.0) => {
            return Err(which_unit(&amount.typed));
        }
        Unit::Bare => typed * inch,
    };
    // Written so that whatever is no number lands here as well.
    if !(0.0..=f64::from(MAX_DEPTH.0)).contains(&scaled) {
        return Err(AirFault::TooDeep { max: MAX_DEPTH });
    }
    #[expect(
        clippy::cast_possible_truncation,
        reason = "between 0 and MAX_DEPTH, checked above"
    )]
    Ok(Tenths(scaled.round() as i32))
}

/// The tenths of a millimetre that so many eighths of an inch round to.
const fn eighth(count: i32) -> Tenths {
    Tenths((count * INCH_TENTHS + 4) / 8)
}

fn show_inches(length: Tenths) -> String {
    if length.0 >= 0 {
        let nearest = (length.0 * 8 + INCH_TENTHS / 2) / INCH_TENTHS;
        if eighth(nearest) == length {
            return eighths_text(nearest);
        }
    }
    let inches = f64::from(length.0) / f64::from(INCH_TENTHS);
    let short = trimmed(inches, 2);
    let same = short.parse::<f64>().is_ok_and(|read| {
        ((read * f64::from(INCH_TENTHS)).round() - f64::from(length.0)).abs() < 0.5
    });
    if same { short } else { trimmed(inches, 3) }
}

fn eighths_text(eighths: i32) -> String {
    let part = match eighths % 8 {
        1 => "⅛",
        2 => "¼",
        3 => "⅜",
        4 => "½",
        5 => "⅝",
        6 => "¾",
        7 => "⅞",
        _whole => "",
    };
    match eighths / 8 {
        0 if !part.is_empty() => part.to_owned(),
        whole => format!("{whole}{part}"),
    }
}

/// So many decimals at most, without zeros at the end.
pub(super) fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests;
