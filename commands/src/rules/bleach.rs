//! How much bleach and how much water make a wanted strength.
//!
//! Decides amounts and strengths, and reads both as people type them. Leaves to the caller which strength is
//! wanted, for which method and surface, contact and discard times, what never to mix, and every sentence. The
//! label, the maker's instructions and the facility's policy decide over all of it.
//!
//! Source: parts of water for each part of bleach = (strength of the stock / strength wanted) - 1 (CDC, Best Practices
//! for Environmental Cleaning, appendix E; WHO, Infection prevention and control of epidemic-prone acute respiratory
//! infections, 2014, annex G). 1% is 10,000 parts per million. An answer has parts of water *and* ppm, never a bare ratio:
//! "1:10" is nine parts of water to some and ten to others, so it is not read either.
//!
//! Assumption, the same as those sources': every liquid is as heavy as water and volumes add up, so the label's percent is
//! taken as it stands, whether it counts sodium hypochlorite or available chlorine, by weight or by volume. Bleach is
//! a little heavier than water (about 1.1 at 8%, from memory), so a label that counts by weight makes a mixture
//! that much stronger than said, never weaker. What a bottle has lost in storage is not in it.
//!
//! Volumes are United States customary or metric: a gallon is 231 cubic inches, 3.785411784 litres exactly (NIST Handbook
//! 44, appendix C). The crate `uom` knows them too and was passed over: its types for every quantity there
//! is would carry these few constants.

use super::{air, figure};

mod measure;

pub use measure::{Measured, Piece, measured};

/// Parts per million in one percent.
const PPM_IN_PERCENT: u32 = 10_000;

/// The strongest stock that is taken, 15%: above what is sold for cleaning, so a larger number is a slip or another unit.
pub const STRONGEST_STOCK: Strength = Strength(15 * PPM_IN_PERCENT);

/// The weakest mixture that is worked out, 50 ppm: the weakest in the CDC's glossary of 2008 (one part in a thousand,
/// 53 to 62 ppm; from memory). Less is more often a percentage with the wrong unit.
pub const WEAKEST_TARGET: Strength = Strength(50);

/// The most that is mixed at once: 200 litres, a drum. More is a slip of the finger.
pub const LARGEST: Volume = Volume { ml: 200_000.0 };

/// Longer texts are no amounts.
const MAX_CHARS: usize = 40;

/// How much chlorine is in it as its label counts it, in whole parts per million.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Strength(pub u32);

impl Strength {
    /// The same in percent: 52,500 ppm is 5.25.
    #[must_use]
    pub fn percent(self) -> f64 {
        f64::from(self.0) / f64::from(PPM_IN_PERCENT)
    }
}

/// A measure that stands on the shelf.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Millilitres.
    Millilitre,
    /// Litres.
    Litre,
    /// United States teaspoons, three to the tablespoon.
    Teaspoon,
    /// United States tablespoons, two to the ounce.
    Tablespoon,
    /// United States fluid ounces, 32 to the quart.
    Ounce,
    /// United States cups, four to the quart.
    Cup,
    /// United States liquid quarts, four to the gallon.
    Quart,
    /// United States gallons.
    Gallon,
}

impl Unit {
    /// All of them, the smallest of each system first.
    pub const ALL: [Unit; 8] = [
        Unit::Millilitre,
        Unit::Litre,
        Unit::Teaspoon,
        Unit::Tablespoon,
        Unit::Ounce,
        Unit::Cup,
        Unit::Quart,
        Unit::Gallon,
    ];

    /// The word that it can be typed by.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Unit::Millilitre => "ml",
            Unit::Litre => "l",
            Unit::Teaspoon => "tsp",
            Unit::Tablespoon => "tbsp",
            Unit::Ounce => "oz",
            Unit::Cup => "cup",
            Unit::Quart => "qt",
            Unit::Gallon => "gal",
        }
    }

    /// Whether it is metric.
    #[must_use]
    pub fn is_metric(self) -> bool {
        matches!(self, Unit::Millilitre | Unit::Litre)
    }

    /// Millilitres in one, exact.
    #[must_use]
    pub fn ml(self) -> f64 {
        match self {
            Unit::Millilitre => 1.0,
            Unit::Litre => 1000.0,
            Unit::Teaspoon => 4.928_921_593_75,
            Unit::Tablespoon => 14.786_764_781_25,
            Unit::Ounce => 29.573_529_562_5,
            Unit::Cup => 236.588_236_5,
            Unit::Quart => 946.352_946,
            Unit::Gallon => 3_785.411_784,
        }
    }
}

/// An amount of liquid.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Volume {
    /// Millilitres.
    pub ml: f64,
}

impl Volume {
    /// So many of a measure.
    #[must_use]
    pub fn of(count: f64, unit: Unit) -> Self {
        Volume {
            ml: count * unit.ml(),
        }
    }

    /// How many of a measure it is.
    #[must_use]
    pub fn count(self, unit: Unit) -> f64 {
        self.ml / unit.ml()
    }
}

/// What to put together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixture {
    /// The strength that comes of it.
    pub strength: Strength,
    /// Parts of water for one part of bleach, above 0.
    pub parts_of_water: f64,
    /// How much bleach.
    pub bleach: Volume,
    /// How much water; with the bleach it is the volume asked for.
    pub water: Volume,
}

/// Why there is no mixture, or a text is no amount for one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BleachFault {
    /// Nothing was typed.
    Empty,
    /// Water makes nothing stronger: the strength wanted is that of the stock, or above it.
    NotBelowStock {
        /// The stock's.
        stock: Strength,
    },
    /// A number above 100 where a percentage belongs: parts per million were meant.
    PpmForPercent,
    /// A stock stronger than any that is taken.
    TooStrong {
        /// The strongest.
        most: Strength,
    },
    /// A strength of nothing: that is water.
    Nothing,
    /// Weaker than any that is worked out.
    TooWeak {
        /// The weakest.
        least: Strength,
    },
    /// A ratio such as `1:10`, which means two things.
    Ratio,
    /// A number without a unit, where more than one could be meant.
    WhichUnit,
    /// Less than nothing.
    Negative,
    /// No liquid at all.
    NoVolume,
    /// More than is mixed at once.
    TooMuch,
    /// So little bleach that no spoon, cup or syringe shows it.
    TooLittle,
    /// A mark before three digits, such as `1.500 L`: fifteen hundred, or one and a half?
    Thousands,
    /// Not an amount: a sentence should show the forms that are.
    Shape,
}

/// How much bleach and water make `volume` of the strength `target` out of `stock`.
///
/// # Errors
/// [`BleachFault`]: a stock above [`STRONGEST_STOCK`], a target under [`WEAKEST_TARGET`] or not under the stock, a
/// volume that is no number above 0 and up to [`LARGEST`].
pub fn mix(stock: Strength, target: Strength, volume: Volume) -> Result<Mixture, BleachFault> {
    if stock > STRONGEST_STOCK {
        return Err(BleachFault::TooStrong {
            most: STRONGEST_STOCK,
        });
    }
    if target < WEAKEST_TARGET {
        return Err(BleachFault::TooWeak {
            least: WEAKEST_TARGET,
        });
    }
    if target >= stock {
        return Err(BleachFault::NotBelowStock { stock });
    }
    let volume = in_range(volume)?;
    let share = f64::from(target.0) / f64::from(stock.0);
    Ok(Mixture {
        strength: target,
        parts_of_water: f64::from(stock.0 - target.0) / f64::from(target.0),
        bleach: Volume {
            ml: volume.ml * share,
        },
        water: Volume {
            ml: volume.ml * (1.0 - share),
        },
    })
}

/// What so much bleach in so much water comes to, in ppm: to say what a measured, rounded amount makes.
///
/// `None` where there is nothing of both, or an amount is negative or no number.
#[must_use]
pub fn made(stock: Strength, bleach: Volume, water: Volume) -> Option<f64> {
    let amounts = bleach.ml >= 0.0 && water.ml >= 0.0;
    let ppm = f64::from(stock.0) * (bleach.ml / (bleach.ml + water.ml));
    (amounts && ppm.is_finite()).then_some(ppm)
}

/// Reads the strength on a bottle's label: `8.25`, `5,25 %`, `52500 ppm`. A bare number is a percentage, as labels have it.
///
/// # Errors
/// [`BleachFault`]; 0 and more than [`STRONGEST_STOCK`] are refused here already.
pub fn parse_stock(text: &str) -> Result<Strength, BleachFault> {
    let stock = strength(text, Some(Scale::Percent))?;
    if stock > STRONGEST_STOCK {
        Err(BleachFault::TooStrong {
            most: STRONGEST_STOCK,
        })
    } else if stock.0 == 0 {
        Err(BleachFault::Nothing)
    } else if stock < WEAKEST_TARGET {
        Err(BleachFault::TooWeak {
            least: WEAKEST_TARGET,
        })
    } else {
        Ok(stock)
    }
}

/// Reads the strength that is wanted: `5000 ppm`, `1,000 ppm`, `0.5%`. A bare number is asked about.
///
/// # Errors
/// [`BleachFault`]; less than [`WEAKEST_TARGET`] is refused here already.
pub fn parse_target(text: &str) -> Result<Strength, BleachFault> {
    let target = strength(text, None)?;
    if target.0 == 0 {
        return Err(BleachFault::Nothing);
    }
    if target < WEAKEST_TARGET {
        return Err(BleachFault::TooWeak {
            least: WEAKEST_TARGET,
        });
    }
    Ok(target)
}

/// Reads an amount of liquid and the measure it was typed in: `2 L`, `1 gallon`, `1 1/2 qt`, `32 oz`, `3 500 ml`.
///
/// A point or a comma before three digits could set off thousands or a fraction, and is asked about unless nothing
/// but a zero stands before it.
///
/// # Errors
/// [`BleachFault`]; nothing and more than [`LARGEST`] are refused here already.
pub fn parse_volume(text: &str) -> Result<(Volume, Unit), BleachFault> {
    let plain = figure::without_spaces(&plain(text)?);
    let plain = &figure::after_zero(&plain);
    if figure::thousands(air::split_number(plain).0) {
        return Err(BleachFault::Thousands);
    }
    let (amount, rest) = air::amount(plain).map_err(|_| BleachFault::Shape)?;
    let unit = match rest.trim().trim_end_matches('.') {
        "" => return Err(BleachFault::WhichUnit),
        "ml" | "cc" | "mls" | "milliliter" | "milliliters" | "millilitre" | "millilitres"
        | "mililitro" | "mililitros" => Unit::Millilitre,
        "l" | "liter" | "liters" | "litre" | "litres" | "litro" | "litros" => Unit::Litre,
        "tsp" | "tsps" | "teaspoon" | "teaspoons" | "cucharadita" | "cucharaditas" => {
            Unit::Teaspoon
        }
        "cup" | "cups" | "taza" | "tazas" => Unit::Cup,
        "tbsp" | "tbsps" | "tablespoon" | "tablespoons" | "cucharada" | "cucharadas" => {
            Unit::Tablespoon
        }
        "oz" | "fl oz" | "ounce" | "ounces" | "fluid ounces" | "onza" | "onzas" => Unit::Ounce,
        "qt" | "qts" | "quart" | "quarts" | "cuarto" | "cuartos" => Unit::Quart,
        "gal" | "gals" | "gallon" | "gallons" | "galón" | "galon" | "galones" => Unit::Gallon,
        _other => return Err(BleachFault::Shape),
    };
    Ok((in_range(Volume::of(amount.value, unit))?, unit))
}

fn in_range(volume: Volume) -> Result<Volume, BleachFault> {
    if volume.ml > LARGEST.ml {
        return Err(BleachFault::TooMuch);
    }
    // Written so that whatever is no number lands here as well.
    if volume.ml > 0.0 {
        Ok(volume)
    } else {
        Err(BleachFault::NoVolume)
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Scale {
    Percent,
    Ppm,
}

/// The text in plain lower case, where it is not negative.
fn plain(text: &str) -> Result<String, BleachFault> {
    if text.chars().count() > MAX_CHARS {
        return Err(BleachFault::Shape);
    }
    let plain = air::plain_text(text);
    if plain.is_empty() {
        return Err(BleachFault::Empty);
    }
    if plain.starts_with('-') {
        return Err(BleachFault::Negative);
    }
    Ok(plain)
}

fn strength(text: &str, bare: Option<Scale>) -> Result<Strength, BleachFault> {
    let plain = figure::without_spaces(&plain(text)?);
    let (number, rest) = air::split_number(&plain);
    if !number.is_empty() && rest.trim_start().starts_with([':', '/']) {
        return Err(BleachFault::Ratio);
    }
    let scale = match rest.trim().trim_end_matches('.') {
        "%" | "percent" | "per cent" | "por ciento" => Some(Scale::Percent),
        "ppm" | "parts per million" | "mg/l" => Some(Scale::Ppm),
        "" => bare,
        _other => return Err(BleachFault::Shape),
    };
    let typed = match scale.ok_or(BleachFault::WhichUnit) {
        Ok(Scale::Ppm) => whole(number).ok_or(BleachFault::Shape)?,
        Ok(Scale::Percent) => ten_thousandths(number).ok_or(BleachFault::Shape)?,
        // What is no number at all is not asked which number it is.
        Err(which) => {
            return Err(if ten_thousandths(number).or(whole(number)).is_some() {
                which
            } else {
                BleachFault::Shape
            });
        }
    };
    if scale == Some(Scale::Percent) && typed > 100 * u64::from(PPM_IN_PERCENT) {
        return Err(BleachFault::PpmForPercent);
    }
    // Digits only: what does not fit is too much.
    u32::try_from(typed)
        .map(Strength)
        .map_err(|_| BleachFault::TooStrong {
            most: STRONGEST_STOCK,
        })
}

/// A whole number, in which commas or points may set off thousands: parts of a part per million are nobody's.
fn whole(number: &str) -> Option<u64> {
    let mark = if number.contains('.') { '.' } else { ',' };
    let mut groups = number.split(mark);
    let first = groups.next()?;
    let rest: Vec<&str> = groups.collect();
    if rest.iter().any(|group| group.len() != 3) || (!rest.is_empty() && first.len() > 3) {
        return None;
    }
    let digits = number.replace(mark, "");
    if first.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    digits.parse().ok()
}

/// A decimal with at most four places, after a point or a comma, times ten thousand.
fn ten_thousandths(number: &str) -> Option<u64> {
    let (before, after) = number.split_once(['.', ',']).unwrap_or((number, ""));
    let digits = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
    if before.is_empty() || !digits(before) || !digits(after) || after.len() > 4 {
        return None;
    }
    // A comma before three digits sets off thousands, unless nothing stands before it: no percentage.
    if number.contains(',') && after.len() == 3 && before != "0" {
        return None;
    }
    format!("{before}{after:0<4}").parse().ok()
}

#[cfg(test)]
mod tests;
