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
//! is would carry these six constants.

use super::air;

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
    /// United States tablespoons, two to the ounce.
    Tablespoon,
    /// United States fluid ounces, 32 to the quart.
    Ounce,
    /// United States liquid quarts, four to the gallon.
    Quart,
    /// United States gallons.
    Gallon,
}

impl Unit {
    /// Millilitres in one, exact.
    #[must_use]
    pub fn ml(self) -> f64 {
        match self {
            Unit::Millilitre => 1.0,
            Unit::Litre => 1000.0,
            Unit::Tablespoon => 14.786_764_781_25,
            Unit::Ounce => 29.573_529_562_5,
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
    /// A strength of nothing, or weaker than any that is worked out.
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
    if target < WEAKEST_TARGET {
        return Err(BleachFault::TooWeak {
            least: WEAKEST_TARGET,
        });
    }
    Ok(target)
}

/// Reads an amount of liquid and the measure it was typed in: `2 L`, `1 gallon`, `1 1/2 qt`, `32 oz`, `500 ml`.
///
/// # Errors
/// [`BleachFault`]; nothing and more than [`LARGEST`] are refused here already.
pub fn parse_volume(text: &str) -> Result<(Volume, Unit), BleachFault> {
    let plain = plain(text)?;
    let (amount, rest) = air::amount(&plain).map_err(|_| BleachFault::Shape)?;
    let unit = match rest.trim().trim_end_matches('.') {
        "" => return Err(BleachFault::WhichUnit),
        "ml" | "mls" | "milliliter" | "milliliters" | "millilitre" | "millilitres"
        | "mililitro" | "mililitros" => Unit::Millilitre,
        "l" | "liter" | "liters" | "litre" | "litres" | "litro" | "litros" => Unit::Litre,
        "tbsp" | "tablespoon" | "tablespoons" | "cucharada" | "cucharadas" => Unit::Tablespoon,
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
    let plain = plain(text)?;
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

/// A whole number, in which commas may set off thousands.
fn whole(number: &str) -> Option<u64> {
    let mut groups = number.split(',');
    let first = groups.next()?;
    let rest: Vec<&str> = groups.collect();
    if rest.iter().any(|group| group.len() != 3) || (!rest.is_empty() && first.len() > 3) {
        return None;
    }
    if first.is_empty() || !number.bytes().all(|b| b.is_ascii_digit() || b == b',') {
        return None;
    }
    number.replace(',', "").parse().ok()
}

/// A decimal with at most four places, after a point or a comma, times ten thousand.
fn ten_thousandths(number: &str) -> Option<u64> {
    let (before, after) = number.split_once(['.', ',']).unwrap_or((number, ""));
    let digits = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
    if before.is_empty() || !digits(before) || !digits(after) || after.len() > 4 {
        return None;
    }
    // A comma before three digits sets off thousands: no percentage.
    if number.contains(',') && after.len() == 3 {
        return None;
    }
    format!("{before}{after:0<4}").parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn percent(text: &str) -> Strength {
        parse_stock(text).unwrap()
    }

    fn close(found: f64, wanted: f64, within: f64) {
        assert!(
            (found - wanted).abs() <= within,
            "{found} is not {wanted} within {within}"
        );
    }

    const LITRE: Volume = Volume { ml: 1000.0 };

    /// CDC, Best Practices for Environmental Cleaning, appendix E: 3.5% to 0.5% is 6 parts of water, 5% to 0.1% is 49. WHO 2014,
    /// annex G, table G.1: 5% is 50,000 ppm, 1 part with 99 of water is 500 ppm; 2.5% is 2 parts with 98.
    #[test]
    fn published_dilutions() {
        for (stock, target, parts) in [
            ("3.5", "0.5%", 6.0),
            ("5.0", "0.1%", 49.0),
            ("5", "500 ppm", 99.0),
            ("2.5", "0.05%", 49.0),
            // The rest of the grid by the same formula, Python 3.11.7 fractions.
            ("5", "0.5%", 9.0),
            ("5.25", "0.5%", 9.5),
            ("5.25", "0.525%", 9.0),
            ("6", "0.5%", 11.0),
            ("8.25", "0.5%", 15.5),
            ("8.25", "0.05%", 164.0),
            ("10", "0.5%", 19.0),
        ] {
            let mixture = mix(percent(stock), parse_target(target).unwrap(), LITRE).unwrap();
            close(mixture.parts_of_water, parts, 1e-12 * parts);
            close(mixture.water.ml / mixture.bleach.ml, parts, 1e-11 * parts);
        }
        assert_eq!(percent("5"), Strength(50_000));
    }

    /// Washington Administrative Code 296-823-14055: 10 ml of 5.25% made up to 946 ml (555 ppm), 94 ml (5,217 ppm).
    /// CDC, household guidance of 2020: 5 tablespoons in a gallon of water; the ppm of each by Python 3.11.7 fractions.
    #[test]
    fn what_a_measured_amount_makes() {
        let ml = |ml: f64| Volume { ml };
        let washington = |bleach: f64| made(percent("5.25"), ml(bleach), ml(946.0 - bleach));
        close(washington(10.0).unwrap(), 555.0, 0.5);
        close(washington(94.0).unwrap(), 5217.0, 0.5);
        for (stock, ppm) in [("5.25", 1005.7), ("6", 1149.4), ("8.25", 1580.5)] {
            let spoons = Volume::of(5.0, Unit::Tablespoon);
            let made = made(percent(stock), spoons, Volume::of(1.0, Unit::Gallon)).unwrap();
            close(made, ppm, 0.05);
        }
        // "1:10" both ways.
        for (stock, nine, ten) in [
            ("5", 5000.0, 4545.5),
            ("5.25", 5250.0, 4772.7),
            ("6", 6000.0, 5454.5),
            ("6.15", 6150.0, 5590.9),
            ("8.25", 8250.0, 7500.0),
        ] {
            close(
                made(percent(stock), ml(1.0), ml(9.0)).unwrap(),
                nine,
                0.000_1,
            );
            close(made(percent(stock), ml(1.0), ml(10.0)).unwrap(), ten, 0.05);
        }
        assert_eq!(made(Strength(50_000), ml(0.0), ml(0.0)), None);
        assert_eq!(made(Strength(50_000), ml(-1.0), ml(5.0)), None);
        assert_eq!(made(Strength(50_000), ml(f64::NAN), ml(5.0)), None);
        assert_eq!(made(Strength(50_000), ml(0.0), ml(5.0)), Some(0.0));
    }

    /// NIST Handbook 44, appendix C: 1 gallon is 3.785411784 litres, 4 quarts, 128 fluid ounces, 256 tablespoons.
    #[test]
    fn measures_are_exact() {
        let gallon = Volume::of(1.0, Unit::Gallon);
        for (unit, count) in [
            (Unit::Millilitre, 3_785.411_784),
            (Unit::Litre, 3.785_411_784),
            (Unit::Tablespoon, 256.0),
            (Unit::Ounce, 128.0),
            (Unit::Quart, 4.0),
            (Unit::Gallon, 1.0),
        ] {
            close(gallon.count(unit), count, 1e-13 * count);
        }
    }

    #[test]
    fn as_people_type_them() {
        for (text, ppm) in [
            ("8.25", 82_500),
            ("8.25%", 82_500),
            ("5,25 %", 52_500),
            ("6.15 percent", 61_500),
            ("52500 ppm", 52_500),
            ("52,500 ppm", 52_500),
            ("15", 150_000),
        ] {
            assert_eq!(parse_stock(text), Ok(Strength(ppm)), "{text:?}");
        }
        for (text, ppm) in [
            ("5000 ppm", 5000),
            ("5,000 PPM", 5000),
            ("1000 mg/L", 1000),
            ("0.5%", 5000),
            ("0.0525 %", 525),
            ("0,05 por ciento", 500),
        ] {
            assert_eq!(parse_target(text), Ok(Strength(ppm)), "{text:?}");
        }
        for (text, ml, unit) in [
            ("2 L", 2000.0, Unit::Litre),
            ("500ml", 500.0, Unit::Millilitre),
            ("1 gallon", 3_785.411_784, Unit::Gallon),
            ("½ gal", 1_892.705_892, Unit::Gallon),
            ("1 1/2 qt", 1_419.529_419, Unit::Quart),
            ("32 oz", 946.352_946, Unit::Ounce),
            ("2,5 litros", 2500.0, Unit::Litre),
            ("5 Tbsp", 73.933_823_906_25, Unit::Tablespoon),
        ] {
            let (volume, typed) = parse_volume(text).unwrap();
            close(volume.ml, ml, 1e-9);
            assert_eq!(typed, unit, "{text:?}");
        }
    }

    #[test]
    fn faults_are_told_apart() {
        let strong = BleachFault::TooStrong {
            most: STRONGEST_STOCK,
        };
        let weak = BleachFault::TooWeak {
            least: WEAKEST_TARGET,
        };
        for (text, fault) in [
            ("", BleachFault::Empty),
            ("5000", BleachFault::PpmForPercent),
            ("5000%", BleachFault::PpmForPercent),
            ("15.01", strong),
            ("100", strong),
            ("200000 ppm", strong),
            ("99999999999 ppm", strong),
            ("0", weak),
            ("0 ppm", weak),
            ("-5", BleachFault::Negative),
            ("−5%", BleachFault::Negative),
            ("1:10", BleachFault::Ratio),
            ("1/10", BleachFault::Ratio),
            ("1 : 10 bleach", BleachFault::Ratio),
            ("strong", BleachFault::Shape),
            ("5.25 5", BleachFault::Shape),
            ("5.12345", BleachFault::Shape),
            ("5,250", BleachFault::Shape),
            ("5.000 ppm", BleachFault::Shape),
            ("52,50 ppm", BleachFault::Shape),
        ] {
            assert_eq!(parse_stock(text), Err(fault), "{text:?}");
        }
        for (text, fault) in [
            ("5000", BleachFault::WhichUnit),
            ("0.5", BleachFault::WhichUnit),
            ("0.5 ppm", BleachFault::Shape),
            ("5 ppm", weak),
            ("0.001%", weak),
            ("1:10", BleachFault::Ratio),
            ("500%", BleachFault::PpmForPercent),
            ("ppm", BleachFault::Shape),
            ("much", BleachFault::Shape),
        ] {
            assert_eq!(parse_target(text), Err(fault), "{text:?}");
        }
        for (text, fault) in [
            ("2", BleachFault::WhichUnit),
            ("1/2", BleachFault::WhichUnit),
            ("0 L", BleachFault::NoVolume),
            ("-1 L", BleachFault::Negative),
            ("201 L", BleachFault::TooMuch),
            ("53 gal", BleachFault::TooMuch),
            ("a bucket", BleachFault::Shape),
            ("2 buckets", BleachFault::Shape),
            ("", BleachFault::Empty),
        ] {
            assert_eq!(parse_volume(text), Err(fault), "{text:?}");
        }
        let stock = Strength(50_000);
        let not_below = Err(BleachFault::NotBelowStock { stock });
        assert_eq!(mix(stock, Strength(50_000), LITRE), not_below);
        assert_eq!(mix(stock, Strength(60_000), LITRE), not_below);
        assert_eq!(mix(stock, Strength(0), LITRE), Err(weak));
        assert_eq!(mix(Strength(0), Strength(500), LITRE), {
            let stock = Strength(0);
            Err(BleachFault::NotBelowStock { stock })
        });
        assert_eq!(mix(Strength(150_001), Strength(500), LITRE), Err(strong));
        for ml in [0.0, -1.0, f64::NAN, f64::NEG_INFINITY] {
            let none = mix(stock, Strength(500), Volume { ml });
            assert_eq!(none, Err(BleachFault::NoVolume), "{ml}");
        }
        let much = mix(stock, Strength(500), Volume { ml: f64::INFINITY });
        assert_eq!(much, Err(BleachFault::TooMuch));
    }

    proptest! {
        #[test]
        fn what_is_mixed_has_the_strength_and_the_volume(stock in 51u32..=150_000, share in 0.0f64..1.0,
                                                         ml in 1.0f64..200_000.0) {
            let target = Strength(50 + (f64::from(stock - 51) * share) as u32);
            let mixture = mix(Strength(stock), target, Volume { ml }).unwrap();
            let ppm = made(Strength(stock), mixture.bleach, mixture.water).unwrap();
            prop_assert!((ppm / f64::from(target.0) - 1.0).abs() < 1e-12);
            prop_assert!(((mixture.bleach.ml + mixture.water.ml) / ml - 1.0).abs() < 1e-12);
            prop_assert!(mixture.bleach.ml > 0.0 && mixture.water.ml > 0.0);
        }

        #[test]
        fn every_strength_is_read_back(ppm in 50u32..=150_000) {
            let strength = Strength(ppm);
            prop_assert_eq!(parse_stock(&format!("{} %", strength.percent())), Ok(strength));
            prop_assert_eq!(parse_target(&format!("{ppm} ppm")), Ok(strength));
        }

        #[test]
        fn no_text_stops_the_readers(text in "\\PC{0,45}") {
            if let Ok(stock) = parse_stock(&text) {
                prop_assert!(stock >= WEAKEST_TARGET && stock <= STRONGEST_STOCK);
            }
            let _target = parse_target(&text);
            let _volume = parse_volume(&text);
        }

        #[test]
        fn nothing_like_an_amount_stops_the_readers(text in "[-0-9.,:/%½ plmgaoqtz]{0,14}") {
            let _stock = parse_stock(&text);
            let _target = parse_target(&text);
            if let Ok((volume, _unit)) = parse_volume(&text) {
                prop_assert!(volume.ml > 0.0 && volume.ml <= LARGEST.ml);
            }
        }
    }
}
