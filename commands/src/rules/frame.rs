//! Whether a surface fits a bed's frame, and the measures of frames and surfaces as people type them.
//!
//! Decides what a text says in tenths of a millimetre and how two widths or two lengths compare. Leaves to the caller
//! which pairs the home approved, the gaps beside the rails (see [`super::gap`]), and every sentence.
//!
//! No published figure says how much narrower than its frame a surface may be: the inch of `frame-free` in [`super::policy`] is common practice, and
//! the gaps that matter are measured at the rails afterwards.

use super::air::{self, INCH_TENTHS, Tenths, Unit};
use super::gap::GapFault;

/// No bed is narrower or shorter than this, in inches: a smaller number is a slip or another unit.
pub const LEAST_IN: i32 = 20;
/// No bed is longer than this, in inches.
pub const MOST_IN: i32 = 120;

/// What two measures may differ by and be the same: half a centimetre, since who measures in whole centimetres is off
/// by that much (36 in is 91.4 cm).
pub const SAME: Tenths = Tenths(50);

/// How a surface compares with its frame, in one direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// Larger than the frame.
    Over,
    /// It leaves more free than the home's policy allows.
    Gap,
    /// It fits, or one of the two is not known.
    Fits,
}

/// Compares one measure of a surface with the frame's; more than `free` beside it is a gap.
#[must_use]
pub fn fit(frame: Option<Tenths>, surface: Option<Tenths>, free: Tenths) -> Fit {
    let (Some(frame), Some(surface)) = (frame, surface) else {
        return Fit::Fits;
    };
    if surface.0 > frame.0 + SAME.0 {
        Fit::Over
    } else if frame.0 - surface.0 > free.0 {
        Fit::Gap
    } else {
        Fit::Fits
    }
}

/// Reads a width or a length: `36 in`, `36 1/2"`, `91 cm`, `914 mm`; 20 to 120 in.
///
/// A number without a unit is asked about, as is every other doubt.
///
/// # Errors
/// [`GapFault`]; `TooBig` stands for whatever no bed measures, too small or too large.
pub fn parse(text: &str) -> Result<Tenths, GapFault> {
    if text.chars().count() > air::MAX_CHARS {
        return Err(GapFault::NoNumber);
    }
    let plain = air::plain_text(text);
    if plain.is_empty() {
        return Err(GapFault::Empty);
    }
    if plain.starts_with('-') {
        return Err(GapFault::Negative);
    }
    let (amount, rest) = air::amount(&plain)?;
    let scaled = match air::unit(rest)? {
        Unit::Inch => amount.value * f64::from(INCH_TENTHS),
        Unit::Centimetre | Unit::Millimetre if amount.fraction => {
            return Err(GapFault::OddFraction);
        }
        Unit::Centimetre => amount.value * 100.0,
        Unit::Millimetre => amount.value * 10.0,
        Unit::Bare => {
            return Err(GapFault::WhichUnit {
                number: amount.typed,
            });
        }
    };
    let (least, most) = (LEAST_IN * INCH_TENTHS, MOST_IN * INCH_TENTHS);
    if !(f64::from(least)..=f64::from(most)).contains(&scaled) {
        return Err(GapFault::TooBig { max: Tenths(most) });
    }
    #[expect(
        clippy::cast_possible_truncation,
        reason = "between the least and the most, checked above"
    )]
    Ok(Tenths(scaled.round() as i32))
}

/// A width or a length as a person reads it, in inches: `36 in`, `35.8 in`.
#[must_use]
pub fn show(length: Tenths) -> String {
    let inches = air::trimmed(f64::from(length.0) / f64::from(INCH_TENTHS), 1);
    format!("{inches} in")
}

#[cfg(test)]
mod tests {
    use super::*;

    const INCH: Tenths = Tenths(INCH_TENTHS);
    use proptest::prelude::*;

    /// An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    #[test]
    fn measures_are_read_with_their_unit() {
        for (text, tenths) in [
            ("36 in", 9_144),
            ("36\"", 9_144),
            ("36 1/2 in", 9_271),
            ("91 cm", 9_100),
            ("91.4 cm", 9_140),
            ("914 mm", 9_140),
            ("20 in", 5_080),
            ("120 in", 30_480),
        ] {
            assert_eq!(parse(text), Ok(Tenths(tenths)), "{text}");
        }
        let too_big = GapFault::TooBig {
            max: Tenths(30_480),
        };
        let which = |number: &str| GapFault::WhichUnit {
            number: number.to_owned(),
        };
        for (text, fault) in [
            ("", GapFault::Empty),
            ("36", which("36")),
            ("80", which("80")),
            ("-36 in", GapFault::Negative),
            ("19.9 in", too_big.clone()),
            ("36 cm", too_big.clone()),
            ("121 in", too_big),
            ("36 x 80 in", GapFault::TwoNumbers),
            ("wide", GapFault::NoNumber),
        ] {
            assert_eq!(parse(text), Err(fault), "{text}");
        }
    }

    #[test]
    fn a_surface_is_over_leaves_a_gap_or_fits() {
        let fit = |frame: &str, surface: &str| {
            super::fit(
                Some(parse(frame).unwrap()),
                Some(parse(surface).unwrap()),
                INCH,
            )
        };
        for (frame, surface, outcome) in [
            ("36 in", "36 in", Fit::Fits),
            ("36 in", "35 in", Fit::Fits),
            ("36 in", "34.9 in", Fit::Gap),
            ("36 in", "34 in", Fit::Gap),
            ("36 in", "42 in", Fit::Over),
            // Whole centimetres: 91 cm is 35.8 in, and the same frame.
            ("91 cm", "36 in", Fit::Fits),
            ("36 in", "91 cm", Fit::Fits),
            ("914 mm", "919 mm", Fit::Fits),
            ("914 mm", "920 mm", Fit::Over),
        ] {
            assert_eq!(fit(frame, surface), outcome, "{surface} on {frame}");
        }
        assert_eq!(super::fit(None, Some(Tenths(9_144)), INCH), Fit::Fits);
        assert_eq!(super::fit(Some(Tenths(9_144)), None, INCH), Fit::Fits);
    }

    proptest! {
        #[test]
        fn no_text_stops_the_reader(text in "\\PC{0,45}") {
            if let Ok(length) = parse(&text) {
                prop_assert!((5_080..=30_480).contains(&length.0));
            }
        }

        #[test]
        fn what_is_shown_is_read_back(tenths in 5_080..=30_480i32) {
            let back = parse(&show(Tenths(tenths)));
            prop_assert!(back.is_ok_and(|back| (back.0 - tenths).abs() <= 13), "{}", show(Tenths(tenths)));
        }
    }
}
