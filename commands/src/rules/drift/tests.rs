//! Checks of the line and of when it is named: published examples of the parts through the whole, and what must not name.

use super::*;
use crate::rules::hand_check::Why;
use proptest::prelude::*;

/// One reading every so many hours.
fn readings(hours: i64, tenths: &[i32]) -> Vec<Reading> {
    let at = |place: usize| DateTime::UNIX_EPOCH + chrono::TimeDelta::hours(hours * place as i64);
    let all = tenths.iter().enumerate();
    all.map(|(place, air)| Reading::new(at(place), Tenths(*air)))
        .collect()
}

fn defaults() -> Asked {
    Asked::of(&Policies::default())
}

const LOW: Tenths = Tenths(254);

/// The EPA example (QA/G-9S, 2006, p. 109, from memory) upside down: two-sided p .091998 by pymannkendall 1.4.3, so half of it
/// one way, and nothing the other way.
#[test]
fn chance_is_of_a_fall_alone() {
    let values = [10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15];
    let upside_down = values.map(|value| 30 - value);
    assert_eq!(chance(&readings(24, &upside_down)), 46_000); // rounded up
    assert_eq!(chance(&readings(24, &values)), 1_000_000);
    assert_eq!(chance(&[]), 1_000_000);
}

/// Up to ten the orders are counted (Gilbert 1987): of 8! orders one falls throughout.
#[test]
fn few_readings_are_counted() {
    let falls = [400, 390, 380, 370, 360, 350, 340, 330];
    assert_eq!(chance(&readings(24, &falls)), 25); // 1 / 40,320 = .0000248
    assert_eq!(chance(&readings(24, &falls[..7])), 1_000_000, "too few");
}

/// Helsel and Hirsch's example of one wild value (ch. 10, from memory) upside down, a day apart: slope 1 a day in scipy 1.17.1 `theilslopes`, 95 % limits
/// 1.0 and 3.5.
#[test]
fn the_line_goes_by_days() {
    let found = line(&readings(24, &[-1, -2, -3, -4, -5, -16, -7])).unwrap();
    assert!((found.slope + 1.0).abs() < 1e-12);
    assert_eq!((found.low, found.high), (Some(-3.5), Some(-1.0)));
    // Twice a day the same line falls twice as fast, and two of a day are one point.
    let found = line(&readings(12, &[20, 18, 16, 14, 12, 10])).unwrap();
    assert!((found.slope + 4.0).abs() < 1e-12);
    assert!(line(&readings(1, &[20, 18, 16])).is_none(), "of one day");
}

/// 381, 379, 377 … a reading each eight hours: 6 tenths a day, and 254 is met on day 127 / 6 = 21.17.
#[test]
fn a_surface_that_loses_six_tenths_a_day() {
    let falls: Vec<i32> = (0..40).map(|n| 381 - 2 * n).collect();
    let line = readings(8, &falls);
    let asked = defaults();
    assert!(asked.rare(chance(&line)));
    let found = losing(&line, LOW, &asked).unwrap();
    assert_eq!(found.readings, 40);
    assert!((found.days - 13.0).abs() < 1e-9);
    let Crossing::At {
        earliest,
        likely,
        latest,
    } = found.crossing
    else {
        panic!("{:?}", found.crossing)
    };
    for days in [Some(likely), earliest, latest] {
        assert!((days.unwrap() - 127.0 / 6.0).abs() < 1e-9);
    }
    // The first that are enough to say so fell by the quarter of an inch: 64 tenths, after 32 steps of 2.
    let first = (0..falls.len()).find(|n| losing(&line[..*n], LOW, &asked).is_some());
    assert_eq!(first, Some(33));
}

#[test]
fn what_is_not_named() {
    let asked = defaults();
    let named = |line: &[Reading]| asked.rare(chance(line)) && losing(line, LOW, &asked).is_some();
    let falls: Vec<i32> = (0..40).map(|n| 381 - 2 * n).collect();
    assert!(named(&readings(8, &falls)));
    let rises: Vec<i32> = falls.iter().rev().copied().collect();
    assert!(!named(&readings(8, &rises)));
    assert!(!named(&readings(8, &[318; 40])), "all alike");
    // A quarter told now as the one and now as the other, evenly.
    let in_turn: Vec<i32> = (0..40)
        .map(|n| if n % 2 == 0 { 318 } else { 254 })
        .collect();
    assert!(!named(&readings(8, &in_turn)));
    assert!(!named(&readings(2, &falls)), "all in three days");
    assert!(!named(&readings(8, &falls[..14])), "too few");
    // Slowly, and far above: not below an inch within the home's days.
    let slowly: Vec<i32> = (0..40).map(|n| 1_000 - 2 * n).collect();
    assert!(!named(&readings(8, &slowly)));
    // An eighth of an inch in all: one reading told as two.
    let little: Vec<i32> = (0..40).map(|n| 290 - n * 32 / 39).collect();
    assert!(!named(&readings(8, &little)));
}

#[test]
fn a_line_below_the_limit_is_past_it() {
    let falls: Vec<i32> = (0..40).map(|n| 300 - 2 * n).collect();
    let found = losing(&readings(8, &falls), LOW, &defaults()).unwrap();
    assert_eq!(found.crossing, Crossing::Past);
}

#[test]
fn what_belongs_on_a_line() {
    let band = Band::default();
    let usual = How::default();
    let on = |air, how: &How<'_>| on_line(air, band, how, Some("4"));
    let inch = Air::Measured(LOW);
    assert_eq!(on(inch, &usual), Some(LOW));
    // Intervals tie with their bound.
    assert_eq!(on(Air::Under1, &usual), Some(band.low));
    assert_eq!(on(Air::Over, &usual), Some(band.high));
    assert_eq!(on(Air::Touching, &usual), Some(Tenths(0)));
    assert_eq!(on(Air::Within, &usual), None);
    assert_eq!(on(Air::CouldNot(Why::Asleep), &usual), None);
    let said = How {
        site: Some(Site::Buttocks),
        position: Some(Position::BackFlat),
        mode: Some(Mode::Alternating),
        layers: Some(2),
        setting: Some("4"),
        felt: false,
    };
    assert_eq!(on(inch, &said), Some(LOW));
    for other in [
        // A placement that went from hands to looks and back is one line of what hands found.
        How { felt: true, ..said },
        How {
            site: Some(Site::Hips),
            ..said
        },
        How {
            position: Some(Position::BackRaised),
            ..said
        },
        How {
            mode: Some(Mode::Static),
            ..said
        },
        How {
            layers: Some(3),
            ..said
        },
        How {
            setting: Some("5"),
            ..said
        },
    ] {
        assert_eq!(on(inch, &other), None, "{other:?}");
    }
    assert_eq!(
        on_line(inch, band, &said, None),
        Some(LOW),
        "no setting is known"
    );
}

proptest! {
    /// Shifting all readings shifts nothing else, and turning them round in time never leaves a fall a fall.
    #[test]
    fn a_fall_turned_round_is_none(tenths in proptest::collection::vec(0i32..600, 8..40), by in 0i32..400) {
        let line = readings(8, &tenths);
        let shifted: Vec<i32> = tenths.iter().map(|air| air + by).collect();
        prop_assert_eq!(chance(&line), chance(&readings(8, &shifted)));
        let round: Vec<i32> = tenths.iter().rev().copied().collect();
        let round = readings(8, &round);
        prop_assert!(chance(&line) == 1_000_000 || chance(&round) == 1_000_000);
    }
}
