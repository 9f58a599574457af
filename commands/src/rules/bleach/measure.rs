//! What a spoon, a cup, a jug or a syringe can show of an amount of bleach.
//!
//! Decides the measures and the rounding: up, so that the mixture is never weaker than was wanted, and by no more than a
//! tenth. That a kitchen's set has cups in quarters and teaspoons in halves and quarters, and that a jug is read to about
//! a twenty-fifth of what is in it, is common practice.

use super::{BleachFault, Unit, Volume};

/// By how much of itself an amount may be rounded up: a twenty-fifth where a coarser measure is at hand.
const COARSE: f64 = 0.04;

/// By how much of itself an amount may be rounded up at most: a tenth.
const COARSEST: f64 = 0.1;

/// The finest that a syringe or a graduated cup shows.
const LEAST_ML: f64 = 0.1;

/// Steps of metric measures, in millilitres, the coarsest first.
const METRIC: [f64; 8] = [500.0, 100.0, 50.0, 10.0, 5.0, 1.0, 0.5, LEAST_ML];

/// Quarters of a teaspoon in each customary measure, the largest first.
const CUSTOMARY: [(Unit, u32); 5] = [
    (Unit::Gallon, 3072),
    (Unit::Quart, 768),
    (Unit::Cup, 192),
    (Unit::Tablespoon, 12),
    (Unit::Teaspoon, 4),
];

/// Steps of customary measures in quarters of a teaspoon, the coarsest first: ¼ cup, two tablespoons, one, a teaspoon, half
/// of one, a quarter.
const STEPS: [u32; 6] = [48, 24, 12, 4, 2, 1];

/// So much of one measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// How many: in quarters where the measure is customary.
    pub count: f64,
    /// Which.
    pub unit: Unit,
}

/// An amount that can be measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// What is measured, the largest measure first; never empty.
    pub pieces: Vec<Piece>,
    /// All of it.
    pub volume: Volume,
}

/// The least amount from `exact` up that can be measured in the system of `unit`, in millilitres where spoons are too
/// coarse for it.
///
/// # Errors
/// [`BleachFault::NoVolume`] for no amount, [`BleachFault::TooLittle`] for less than a syringe shows.
pub fn measured(exact: Volume, unit: Unit) -> Result<Measured, BleachFault> {
    if !(exact.ml > 0.0 && exact.ml.is_finite()) {
        return Err(BleachFault::NoVolume);
    }
    if !unit.is_metric()
        && let Some(spoons) = in_spoons(exact)
    {
        return Ok(spoons);
    }
    let step = step(exact.ml, METRIC).ok_or(BleachFault::TooLittle)?;
    // Tenths, so that no sum of steps leaves a digit of its own.
    let ml = (up(exact.ml / step) * step * 10.0).round() / 10.0;
    let (count, unit) = if ml >= 1000.0 {
        (ml / 1000.0, Unit::Litre)
    } else {
        (ml, Unit::Millilitre)
    };
    Ok(Measured {
        pieces: vec![Piece { count, unit }],
        volume: Volume { ml },
    })
}

fn in_spoons(exact: Volume) -> Option<Measured> {
    let quarters = exact.count(Unit::Teaspoon) * 4.0;
    let step = step(quarters, STEPS.map(f64::from))?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count of quarter teaspoons from 1 on; far beyond any drum it is cut off"
    )]
    let all = (up(quarters / step) * step) as u32;
    let mut left = all;
    let mut pieces = Vec::new();
    for (unit, size) in CUSTOMARY {
        // Cups are in quarters too, and so is what is left for the teaspoon.
        let part = match unit {
            Unit::Cup => size / 4,
            Unit::Teaspoon => 1,
            Unit::Millilitre
            | Unit::Litre
            | Unit::Tablespoon
            | Unit::Ounce
            | Unit::Quart
            | Unit::Gallon => size,
        };
        let count = left / part;
        if count > 0 {
            left -= count * part;
            let count = f64::from(count) * f64::from(part) / f64::from(size);
            pieces.push(Piece { count, unit });
        }
    }
    let volume = Volume::of(f64::from(all) / 4.0, Unit::Teaspoon);
    Some(Measured { pieces, volume })
}

/// The coarsest step that adds no more than a twenty-fifth, else the finest where it adds no more than a tenth.
fn step<const N: usize>(exact: f64, steps: [f64; N]) -> Option<f64> {
    let over = |step: f64| up(exact / step) * step / exact - 1.0;
    let fine = steps.into_iter().find(|step| over(*step) <= COARSE);
    fine.or_else(|| steps.last().copied().filter(|step| over(*step) <= COARSEST))
}

/// The next whole number, with what a sum in doubles is off by forgiven.
fn up(steps: f64) -> f64 {
    let nearest = steps.round();
    if (steps - nearest).abs() < 1e-9 * steps.max(1.0) {
        nearest
    } else {
        steps.ceil()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Strength, made, mix, parse_stock, parse_target, parse_volume};
    use super::*;
    use proptest::prelude::*;

    fn shown(stock: &str, target: &str, volume: &str) -> Vec<(f64, Unit)> {
        let (volume, unit) = parse_volume(volume).unwrap();
        let stock = parse_stock(stock).unwrap();
        let mixture = mix(stock, parse_target(target).unwrap(), volume).unwrap();
        let found = measured(mixture.bleach, unit).unwrap();
        found
            .pieces
            .iter()
            .map(|piece| (piece.count, piece.unit))
            .collect()
    }

    /// CDC, household guidance of 2020: 5 tablespoons, and again 4 teaspoons a quart, for about 1,000 ppm of 5.25% and more. Made
    /// *up to* a gallon rather than added to one, 1,000 ppm of 5.25% takes 72.1 ml (Python 3.11.7 fractions); WAC
    /// 296-823-14055 has 94 ml for 5,217 ppm in 946 ml.
    #[test]
    fn in_the_measures_of_published_rules() {
        let (cup, spoon, tea) = (Unit::Cup, Unit::Tablespoon, Unit::Teaspoon);
        for (stock, target, volume, pieces) in [
            (
                "5.25",
                "1000 ppm",
                "1 gal",
                &[(0.25, cup), (1.0, spoon)][..],
            ),
            ("5.25", "1000 ppm", "1 qt", &[(1.0, spoon), (0.75, tea)]),
            ("5.25", "5217 ppm", "946 ml", &[(95.0, Unit::Millilitre)]),
            ("8.25", "5000 ppm", "1 L", &[(61.0, Unit::Millilitre)]),
            ("8.25", "500 ppm", "1 L", &[(6.1, Unit::Millilitre)]),
            ("5", "0.5%", "10 L", &[(1.0, Unit::Litre)]),
            ("5", "0.5%", "5 gal", &[(2.0, Unit::Quart)]),
            // A quarter teaspoon would be twice as strong.
            ("8.25", "50 ppm", "1 qt", &[(0.6, Unit::Millilitre)]),
        ] {
            assert_eq!(
                shown(stock, target, volume),
                pieces,
                "{stock} {target} {volume}"
            );
        }
        let little = Volume { ml: 0.05 };
        for unit in [Unit::Millilitre, Unit::Gallon] {
            assert_eq!(measured(little, unit), Err(BleachFault::TooLittle));
        }
        for ml in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(
                measured(Volume { ml }, Unit::Litre),
                Err(BleachFault::NoVolume)
            );
        }
    }

    proptest! {
        /// Never weaker than was wanted, never more than a tenth stronger, and the pieces are all of it.
        #[test]
        fn what_is_measured_is_no_weaker(stock in 10_000u32..=150_000, share in 0.001f64..0.9, ml in 50.0f64..200_000.0,
                                         unit in proptest::sample::select(Unit::ALL.to_vec())) {
            let target = Strength(((f64::from(stock) * share) as u32).max(50));
            let total = Volume { ml };
            let mixture = mix(Strength(stock), target, total).unwrap();
            let Ok(found) = measured(mixture.bleach, unit) else {
                prop_assert!(mixture.bleach.ml < 10.0 * LEAST_ML);
                return Ok(());
            };
            let sum: f64 = found.pieces.iter().map(|piece| Volume::of(piece.count, piece.unit).ml).sum();
            prop_assert!((sum / found.volume.ml - 1.0).abs() < 1e-12);
            let ratio = found.volume.ml / mixture.bleach.ml;
            prop_assert!((1.0 - 1e-8..=1.0 + COARSEST + 1e-8).contains(&ratio), "{ratio}");
            // A tenth more of a strong share may fill the vessel; below that there is room for water.
            if share < 0.9 / (1.0 + COARSEST) {
                let water = Volume { ml: total.ml - found.volume.ml };
                let ppm = made(Strength(stock), found.volume, water).unwrap();
                prop_assert!(ppm >= f64::from(target.0) * (1.0 - 1e-8));
            }
            for piece in found.pieces.iter().filter(|piece| !piece.unit.is_metric()) {
                prop_assert!(((piece.count * 4.0).round() - piece.count * 4.0).abs() < 1e-9);
            }
        }
    }
}
