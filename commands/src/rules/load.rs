//! What a surface is made to carry, as people type it: `600 lb`, `272 kg`, `600`.
//!
//! Decides what a text says in pounds and to which side a kilogram is rounded. Leaves to the caller what can be, and every
//! sentence. One pound is 0.453 592 37 kg exactly (NIST Handbook 44, appendix C, from memory).

use super::figure::{self, FigureFault};

/// Kilograms in a pound.
const POUND_KG: f64 = 0.453_592_37;

const POUNDS: [&str; 6] = ["lb", "lbs", "pound", "pounds", "libra", "libras"];
const KILOGRAMS: [&str; 6] = ["kg", "kgs", "kilo", "kilos", "kilograms", "kilogramos"];

/// To which side a part of a pound goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// What is to be carried: never less than was said.
    Up,
    /// What may be carried: never more.
    Down,
}

/// Reads a load in whole pounds; a bare number is pounds.
///
/// # Errors
/// [`FigureFault`]; another unit, nothing, and more than a million are [`FigureFault::Shape`].
pub fn pounds(text: &str, side: Side) -> Result<u32, FigureFault> {
    let (value, unit) = figure::read(text)?;
    let pounds = match unit.as_str() {
        "" => value,
        unit if POUNDS.contains(&unit) => value,
        unit if KILOGRAMS.contains(&unit) => value / POUND_KG,
        _another => return Err(FigureFault::Shape),
    };
    // A thousandth either way is how the number was typed, and no pound more.
    let whole = match side {
        Side::Up => (pounds - 0.001).ceil(),
        Side::Down => (pounds + 0.001).floor(),
    };
    if !(0.0..=1_000_000.0).contains(&whole) {
        return Err(FigureFault::Shape);
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "bounded just above"
    )]
    Ok(whole as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked out by hand from the definition: 272 / 0.45359237 = 599.66, 600 × 0.45359237 = 272.155422.
    #[test]
    fn as_people_type_it() {
        for (text, up, down) in [
            ("600", 600, 600),
            ("600 lb", 600, 600),
            ("600lbs.", 600, 600),
            ("600 libras", 600, 600),
            ("272 kg", 600, 599),
            ("272.1554 kg", 600, 600),
            ("1000 kg", 2_205, 2_204),
        ] {
            assert_eq!(pounds(text, Side::Up), Ok(up), "{text}");
            assert_eq!(pounds(text, Side::Down), Ok(down), "{text}");
        }
        for text in ["", "heavy", "600 in", "42 stone"] {
            assert_eq!(pounds(text, Side::Up), Err(FigureFault::Shape), "{text:?}");
        }
        assert_eq!(pounds("-5 lb", Side::Up), Err(FigureFault::Negative));
    }
}
