//! Reads the gaps of a bed and judges them against the limits for entrapment.
//!
//! Decides what a text says in millimetres or degrees, and whether a gap is under the limit of its zone.
//! Leaves to the caller which gaps are asked for, what is done about one that is over, and every sentence.
//! A gap within its limit is no promise that nobody is caught there.
//!
//! Source: FDA, *Hospital Bed System Dimensional and Assessment Guidance to Reduce Entrapment*, 10 March 2006;
//! its figures and its exclusions are from memory, the guidance's date and the sizes of the tools behind the
//! figures (head 120 mm, neck 60 mm) were seen in other documents.

use serde::{Deserialize, Serialize};

use super::air::{self, AirFault, INCH_TENTHS, Tenths, Unit};

/// No gap of a bed is wider than this: one metre. A larger number is a slip of the finger or another unit.
pub const MAX_GAP: Tenths = Tenths(10_000);

/// Zones 1 to 3 are for a small head: 120 mm, and a gap must be narrower than that.
pub const HEAD: Tenths = Tenths(1200);

/// Zone 4 is for a neck: 60 mm, and a gap must be narrower than that.
pub const NECK: Tenths = Tenths(600);

/// Zone 4: the angle between rail and mattress must be wider than this, in degrees, lest a neck be wedged.
pub const WEDGE_DEGREES: u16 = 60;

/// No angle is wider than this, in degrees.
pub const MAX_DEGREES: u16 = 90;

/// A place of the bed where somebody may be caught, numbered as the guidance does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Zone {
    /// Within the rail.
    Z1,
    /// Under the rail, between its supports or beside a single one.
    Z2,
    /// Between the rail and the mattress.
    Z3,
    /// Under the rail, at its end.
    Z4,
    /// Between split rails.
    Z5,
    /// Between the end of the rail and the head or foot board.
    Z6,
    /// Between the head or foot board and the end of the mattress.
    Z7,
}

impl Zone {
    /// All seven, in their order.
    pub const ALL: [Zone; 7] = [
        Zone::Z1,
        Zone::Z2,
        Zone::Z3,
        Zone::Z4,
        Zone::Z5,
        Zone::Z6,
        Zone::Z7,
    ];

    /// Its number, 1 to 7.
    #[must_use]
    pub const fn number(self) -> u8 {
        match self {
            Zone::Z1 => 1,
            Zone::Z2 => 2,
            Zone::Z3 => 3,
            Zone::Z4 => 4,
            Zone::Z5 => 5,
            Zone::Z6 => 6,
            Zone::Z7 => 7,
        }
    }

    /// The zone of a number; `None` outside of 1 to 7.
    #[must_use]
    pub fn from_number(number: u8) -> Option<Zone> {
        Zone::ALL.into_iter().find(|zone| zone.number() == number)
    }

    /// The width that a gap here must be narrower than; `None` where the guidance gives none.
    #[must_use]
    pub const fn limit(self) -> Option<Tenths> {
        match self {
            Zone::Z1 | Zone::Z2 | Zone::Z3 => Some(HEAD),
            Zone::Z4 => Some(NECK),
            Zone::Z5 | Zone::Z6 | Zone::Z7 => None,
        }
    }
}

/// What a reading is, against the limit of its zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Gap {
    /// Under the limit.
    Within,
    /// At the limit or over it: something is to be done now.
    Over,
    /// Kept, neither passed nor failed: the guidance has no figure for it, or none for a mattress of air.
    Noted,
    /// Zone 4, narrow enough, but its angle is not known.
    NotJudged,
}

/// Why a text is no gap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum GapFault {
    /// Nothing was typed.
    Empty,
    /// A number that could be inches, centimetres or millimetres: ask, never guess.
    WhichUnit {
        /// The number as it was typed, without spaces.
        number: String,
    },
    /// Less than nothing.
    Negative,
    /// Wider than any gap of a bed.
    TooBig {
        /// The widest that is taken.
        max: Tenths,
    },
    /// Two numbers, such as a range: one reading is one number.
    TwoNumbers,
    /// A fraction that no ruler shows, such as `11/4` or `1/7`, or one of a metric unit.
    OddFraction,
    /// A number followed by something that is no length unit of ours.
    UnknownUnit,
    /// No number in it.
    NoNumber,
}

/// Why a text is no angle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AngleFault {
    /// Nothing was typed.
    Empty,
    /// Less than nothing.
    Negative,
    /// More than a right angle.
    TooBig {
        /// The widest that is taken, in degrees.
        max: u16,
    },
    /// Part of a degree, which no gauge for beds shows: `60.5` is 60, and 60 is not enough.
    NotWhole,
    /// Two numbers, such as a range.
    TwoNumbers,
    /// A number followed by something that is not degrees.
    UnknownUnit,
    /// No number in it.
    NoNumber,
}

/// Reads a gap: `118 mm`, `11.8 cm`, `4 3/4 in`, `4¾"`, `2 3/8`; 0 to 1000 mm.
///
/// A fraction without a unit is inches. Any other bare number is asked about, save 0, which is the same in
/// each. An inch is 25.4 mm exactly, also where it is written as `2.5 cm` elsewhere: at a limit there is no
/// customary length. Rounds to the nearest tenth of a millimetre, a half away from zero, so that no gap at a
/// limit becomes one under it (4 3/4 in is 120.65 mm and kept as 120.7).
///
/// # Errors
/// [`GapFault`] says what is wrong; nothing is guessed.
pub fn parse(text: &str) -> Result<Tenths, GapFault> {
    if text.chars().count() > air::MAX_CHARS {
        return Err(GapFault::NoNumber);
    }
    let plain = air::plain_text(text);
    if plain.is_empty() {
        return Err(GapFault::Empty);
    }
    let (negative, rest) = sign(&plain);
    let (amount, rest) = air::amount(rest).map_err(fault)?;
    let unit = air::unit(rest).map_err(fault)?;
    if negative && amount.value > 0.0 {
        return Err(GapFault::Negative);
    }
    let too_big = GapFault::TooBig { max: MAX_GAP };
    let scaled = match unit {
        Unit::Inch => amount.value * f64::from(INCH_TENTHS),
        Unit::Bare if amount.fraction => amount.value * f64::from(INCH_TENTHS),
        Unit::Centimetre | Unit::Millimetre if amount.fraction => {
            return Err(GapFault::OddFraction);
        }
        Unit::Centimetre => amount.value * 100.0,
        Unit::Millimetre => amount.value * 10.0,
        Unit::Bare if amount.value == 0.0 => 0.0,
        // Too wide even as millimetres.
        Unit::Bare if amount.value * 10.0 > f64::from(MAX_GAP.0) => return Err(too_big),
        Unit::Bare => {
            return Err(GapFault::WhichUnit {
                number: amount.typed,
            });
        }
    };
    // Written so that whatever is no number lands here as well.
    if !(0.0..=f64::from(MAX_GAP.0)).contains(&scaled) {
        return Err(too_big);
    }
    #[expect(
        clippy::cast_possible_truncation,
        reason = "between 0 and MAX_GAP, checked above"
    )]
    Ok(Tenths(scaled.round() as i32))
}

/// Reads an angle in whole degrees, 0 to 90: `61`, `61°`, `61 deg`, `61 degrees`.
///
/// # Errors
/// [`AngleFault`] says what is wrong; nothing is rounded.
pub fn parse_angle(text: &str) -> Result<u16, AngleFault> {
    if text.chars().count() > air::MAX_CHARS {
        return Err(AngleFault::NoNumber);
    }
    let plain = air::plain_text(text);
    if plain.is_empty() {
        return Err(AngleFault::Empty);
    }
    let (negative, rest) = sign(&plain);
    let (number, rest) = air::split_number(rest);
    if !number.contains(|c: char| c.is_ascii_digit()) {
        return Err(AngleFault::NoNumber);
    }
    match rest.trim().trim_end_matches('.') {
        "" | "°" | "º" | "deg" | "degs" | "degree" | "degrees" | "grado" | "grados" => {}
        more if more.contains(|c: char| c.is_ascii_digit()) => return Err(AngleFault::TwoNumbers),
        _other_words => return Err(AngleFault::UnknownUnit),
    }
    let whole = number.trim_end_matches(['.', ',']);
    if whole.contains(['.', ',']) {
        return Err(AngleFault::NotWhole);
    }
    // Digits only: what does not fit is too big.
    let degrees = whole.parse::<u16>().unwrap_or(u16::MAX);
    if negative && degrees > 0 {
        Err(AngleFault::Negative)
    } else if degrees > MAX_DEGREES {
        Err(AngleFault::TooBig { max: MAX_DEGREES })
    } else {
        Ok(degrees)
    }
}

/// Judges a gap that was read by [`parse`], on a bed with or without a powered air mattress.
///
/// Zones 1 to 3 must be under 120 mm; zone 4 under 60 mm with an angle of more than 60 degrees. The angle counts
/// in zone 4 only. Zones 5 to 7 have no figure and are always [`Gap::Noted`].
///
/// On powered air a gap of zones 2 to 4 is over or noted and never within: the guidance leaves these surfaces out
/// of all but zone 1, since they give way under a person and the gap widens. One that is over without a person
/// stays over.
#[must_use]
pub fn judge(zone: Zone, reading: Tenths, angle4: Option<u16>, powered_air: bool) -> Gap {
    let under = if powered_air { Gap::Noted } else { Gap::Within };
    match zone {
        Zone::Z1 if reading < HEAD => Gap::Within,
        Zone::Z2 | Zone::Z3 if reading < HEAD => under,
        Zone::Z1 | Zone::Z2 | Zone::Z3 => Gap::Over,
        Zone::Z4 if reading >= NECK => Gap::Over,
        Zone::Z4 => match angle4 {
            Some(degrees) if degrees <= WEDGE_DEGREES => Gap::Over,
            Some(_) => under,
            None => Gap::NotJudged,
        },
        Zone::Z5 | Zone::Z6 | Zone::Z7 => Gap::Noted,
    }
}

/// Shows a gap in both units, as `118 mm (4.65 in)`: millimetres to the tenth where there is one, inches to the
/// hundredth. The millimetres are what is judged.
#[must_use]
pub fn show(gap: Tenths) -> String {
    let mm = air::trimmed(f64::from(gap.0) / 10.0, 1);
    let inches = air::trimmed(f64::from(gap.0) / f64::from(INCH_TENTHS), 2);
    format!("{mm} mm ({inches} in)")
}

fn sign(plain: &str) -> (bool, &str) {
    match plain.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, plain),
    }
}

impl From<AirFault> for GapFault {
    fn from(of: AirFault) -> Self {
        fault(of)
    }
}

fn fault(of: AirFault) -> GapFault {
    match of {
        AirFault::Empty => GapFault::Empty,
        AirFault::WhichUnit { number } => GapFault::WhichUnit { number },
        AirFault::Negative => GapFault::Negative,
        AirFault::TooDeep { .. } => GapFault::TooBig { max: MAX_GAP },
        AirFault::TwoNumbers => GapFault::TwoNumbers,
        AirFault::OddFraction => GapFault::OddFraction,
        AirFault::UnknownUnit => GapFault::UnknownUnit,
        AirFault::NoNumber => GapFault::NoNumber,
    }
}

#[cfg(test)]
mod tests;
