//! Dilutions and measures against published tables, and amounts as people type them.

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

/// NIST Handbook 44, appendix C: 1 gallon is 3.785411784 litres, 4 quarts, 16 cups, 128 fluid ounces, 256 tablespoons, 768
/// teaspoons.
#[test]
fn measures_are_exact() {
    let gallon = Volume::of(1.0, Unit::Gallon);
    for (unit, count) in [
        (Unit::Millilitre, 3_785.411_784),
        (Unit::Litre, 3.785_411_784),
        (Unit::Teaspoon, 768.0),
        (Unit::Cup, 16.0),
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
        ("52.500 ppm", 52_500),
        ("52 500 ppm", 52_500),
        ("8,25 %", 82_500),
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
        ("0,525 %", 5250),
        ("1.000 ppm", 1000),
        ("1\u{a0}000 ppm", 1000),
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
        ("1 gal", 3_785.411_784, Unit::Gallon),
        ("1 galón", 3_785.411_784, Unit::Gallon),
        ("¼ cup", 59.147_059_125, Unit::Cup),
        ("1/3 taza", 78.862_745_5, Unit::Cup),
        ("4 tsp", 19.715_686_375, Unit::Teaspoon),
        ("3 500 mL", 3500.0, Unit::Millilitre),
        ("3\u{202f}500 ml", 3500.0, Unit::Millilitre),
        ("1500 ml", 1500.0, Unit::Millilitre),
        ("0,125 gal", 473.176_473, Unit::Gallon),
        ("0.125 gal", 473.176_473, Unit::Gallon),
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
        ("0", BleachFault::Nothing),
        ("0 ppm", BleachFault::Nothing),
        ("-5", BleachFault::Negative),
        ("−5%", BleachFault::Negative),
        ("1:10", BleachFault::Ratio),
        ("1/10", BleachFault::Ratio),
        ("1 : 10 bleach", BleachFault::Ratio),
        ("strong", BleachFault::Shape),
        ("5.25 5", BleachFault::Shape),
        ("5.12345", BleachFault::Shape),
        ("5,250", BleachFault::Shape),
        ("5.00 ppm", BleachFault::Shape),
        ("1.000,5 ppm", BleachFault::Shape),
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
        ("1.500 L", BleachFault::Thousands),
        ("1,500 ml", BleachFault::Thousands),
        ("3 50 ml", BleachFault::Shape),
        ("35 000 00 ml", BleachFault::Shape),
        ("53 gal", BleachFault::TooMuch),
        ("a bucket", BleachFault::Shape),
        ("2 buckets", BleachFault::Shape),
        ("", BleachFault::Empty),
    ] {
        assert_eq!(parse_volume(text), Err(fault), "{text:?}");
    }
    let stock = Strength(50_000);
    assert_eq!(parse_target("0 %"), Err(BleachFault::Nothing));
    assert_eq!(parse_stock("0"), Err(BleachFault::Nothing));
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
