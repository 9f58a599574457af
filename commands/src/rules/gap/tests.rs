//! Gaps and angles as people write them, and what they are at the limits.

use proptest::prelude::*;

use super::*;

/// Unit pairs of the published limits; 25.4 mm = 1 in exactly (international yard and pound agreement, 1959).
#[test]
fn as_people_write_them() {
    for (text, tenths) in [
        ("118 mm", 1180),
        ("118mm", 1180),
        ("118 MM.", 1180),
        ("11.8 cm", 1180),
        ("11,8 cm", 1180),
        ("119.9 mm", 1199),
        ("120 mm", 1200),
        ("12 cm", 1200),
        // 120.65 mm.
        ("4 3/4 in", 1207),
        ("4 3/4", 1207),
        ("4-3/4\"", 1207),
        ("4¾\"", 1207),
        ("4¾”", 1207),
        ("4.75 inches", 1207),
        // 60.325 mm.
        ("2 3/8", 603),
        ("2⅜ in", 603),
        ("2.375\"", 603),
        // 317.5 mm.
        ("12 1/2 in", 3175),
        ("4 11/16 in", 1191),
        ("1 in", 254),
        // Not the customary inch of a hand check.
        ("2.5 cm", 250),
        ("25 mm", 250),
        ("0", 0),
        ("0 mm", 0),
        ("-0 mm", 0),
        ("1000 mm", 10_000),
        ("100 cm", 10_000),
    ] {
        assert_eq!(parse(text), Ok(Tenths(tenths)), "{text:?}");
    }
}

#[test]
fn a_bare_number_is_asked_about() {
    for (text, number) in [
        ("118", "118"),
        ("4.75", "4.75"),
        ("4,75", "4.75"),
        ("60", "60"),
        ("1", "1"),
        ("1000", "1000"),
    ] {
        let asked = GapFault::WhichUnit {
            number: number.to_owned(),
        };
        assert_eq!(parse(text), Err(asked), "{text:?}");
    }
}

#[test]
fn faults_are_told_apart() {
    let too_big = GapFault::TooBig { max: MAX_GAP };
    for (text, fault) in [
        ("", GapFault::Empty),
        ("  ", GapFault::Empty),
        ("-118 mm", GapFault::Negative),
        ("−4 3/4 in", GapFault::Negative),
        ("1000.1 mm", too_big.clone()),
        ("101 cm", too_big.clone()),
        ("39 1/2 in", too_big.clone()),
        ("1001", too_big.clone()),
        ("99999999999999999999 mm", too_big),
        ("110 120 mm", GapFault::TwoNumbers),
        ("110-120 mm", GapFault::TwoNumbers),
        ("118 mm 61", GapFault::TwoNumbers),
        ("11/4", GapFault::OddFraction),
        ("4 3/7 in", GapFault::OddFraction),
        ("4 3/4 cm", GapFault::OddFraction),
        ("118½ mm", GapFault::OddFraction),
        ("1 ft", GapFault::UnknownUnit),
        ("118 m", GapFault::UnknownUnit),
        ("wide", GapFault::NoNumber),
        ("none", GapFault::NoNumber),
        ("NaN", GapFault::NoNumber),
        ("inf mm", GapFault::NoNumber),
        ("<120 mm", GapFault::NoNumber),
        ("1,000 mm", GapFault::NoNumber),
    ] {
        assert_eq!(parse(text), Err(fault), "{text:?}");
    }
}

#[test]
fn angles() {
    for (text, read) in [
        ("61", Ok(61)),
        ("61°", Ok(61)),
        ("61 °", Ok(61)),
        ("61 deg", Ok(61)),
        ("61 grados", Ok(61)),
        ("61deg.", Ok(61)),
        ("61 Degrees", Ok(61)),
        ("61.", Ok(61)),
        ("0", Ok(0)),
        ("90", Ok(90)),
        ("", Err(AngleFault::Empty)),
        ("91", Err(AngleFault::TooBig { max: 90 })),
        ("999999", Err(AngleFault::TooBig { max: 90 })),
        ("-5", Err(AngleFault::Negative)),
        ("60.5", Err(AngleFault::NotWhole)),
        ("60,5°", Err(AngleFault::NotWhole)),
        ("60 61", Err(AngleFault::TwoNumbers)),
        ("60-65", Err(AngleFault::TwoNumbers)),
        ("61 mm", Err(AngleFault::UnknownUnit)),
        ("steep", Err(AngleFault::NoNumber)),
        (".", Err(AngleFault::NoNumber)),
        ("°", Err(AngleFault::NoNumber)),
    ] {
        assert_eq!(parse_angle(text), read, "{text:?}");
    }
}

/// The limits of the guidance (FDA 2006, figures from memory): "less than" for each width, "greater than" for
/// the angle, at the last value on each side.
#[test]
fn at_the_limits() {
    for (zone, text, angle, judged) in [
        (1, "119 mm", None, Gap::Within),
        (1, "119.9 mm", None, Gap::Within),
        (1, "120 mm", None, Gap::Over),
        (1, "120.65 mm", None, Gap::Over),
        (1, "4 3/4 in", None, Gap::Over),
        (2, "119 mm", None, Gap::Within),
        (2, "119.9 mm", None, Gap::Within),
        (2, "120 mm", None, Gap::Over),
        (2, "120.65 mm", None, Gap::Over),
        (3, "119 mm", None, Gap::Within),
        (3, "119.9 mm", None, Gap::Within),
        (3, "120 mm", None, Gap::Over),
        (3, "120.65 mm", None, Gap::Over),
        // The angle is of zone 4 only.
        (3, "119 mm", Some(10), Gap::Within),
        (4, "59.9 mm", Some(61), Gap::Within),
        (4, "59.9 mm", Some(60), Gap::Over),
        (4, "59.9 mm", None, Gap::NotJudged),
        (4, "60 mm", Some(75), Gap::Over),
        (4, "60 mm", None, Gap::Over),
        (4, "2 3/8 in", Some(75), Gap::Over),
        (4, "0 mm", Some(0), Gap::Over),
        (5, "10 mm", None, Gap::Noted),
        (5, "59 mm", Some(90), Gap::Noted),
        (6, "400 mm", None, Gap::Noted),
        (7, "0 mm", None, Gap::Noted),
    ] {
        let zone = Zone::from_number(zone).unwrap();
        let reading = parse(text).unwrap();
        assert_eq!(
            judge(zone, reading, angle, false),
            judged,
            "{zone:?} {text}"
        );
    }
}

/// Framed flotation and powered air replacements are left out of all but zone 1 (FDA 2006, from memory; the
/// same in the Canadian text, seen).
#[test]
fn on_air_only_zone_1_can_be_within() {
    let judge = |zone, mm: i32, angle| judge(zone, Tenths(mm * 10), angle, true);
    assert_eq!(judge(Zone::Z1, 119, None), Gap::Within);
    assert_eq!(judge(Zone::Z1, 120, None), Gap::Over);
    assert_eq!(judge(Zone::Z2, 119, None), Gap::Noted);
    assert_eq!(judge(Zone::Z2, 120, None), Gap::Over);
    assert_eq!(judge(Zone::Z3, 119, None), Gap::Noted);
    assert_eq!(judge(Zone::Z3, 120, None), Gap::Over);
    assert_eq!(judge(Zone::Z4, 59, Some(61)), Gap::Noted);
    assert_eq!(judge(Zone::Z4, 59, Some(60)), Gap::Over);
    assert_eq!(judge(Zone::Z4, 59, None), Gap::NotJudged);
    assert_eq!(judge(Zone::Z4, 60, Some(61)), Gap::Over);
    assert_eq!(judge(Zone::Z7, 500, None), Gap::Noted);
}

#[test]
fn zones_by_number() {
    for (number, zone) in (1..).zip(Zone::ALL) {
        assert_eq!(zone.number(), number);
        assert_eq!(Zone::from_number(number), Some(zone));
    }
    assert_eq!(Zone::from_number(0), None);
    assert_eq!(Zone::from_number(8), None);
}

/// Unit pairs recomputed: 120 mm = 4.724 in, 60 mm = 2.362 in, 318 mm = 12.52 in, 120.65 mm = 4 3/4 in.
#[test]
fn shown_in_both_units() {
    for (tenths, shown) in [
        (0, "0 mm (0 in)"),
        (254, "25.4 mm (1 in)"),
        (600, "60 mm (2.36 in)"),
        (603, "60.3 mm (2.37 in)"),
        (1180, "118 mm (4.65 in)"),
        (1199, "119.9 mm (4.72 in)"),
        (1200, "120 mm (4.72 in)"),
        (1207, "120.7 mm (4.75 in)"),
        (3180, "318 mm (12.52 in)"),
    ] {
        assert_eq!(show(Tenths(tenths)), shown);
    }
}

#[test]
fn every_gap_is_read_back_as_it_is_shown() {
    for tenths in 0..=MAX_GAP.0 {
        let shown = show(Tenths(tenths));
        let (mm, _inches) = shown.split_once(" (").unwrap();
        assert_eq!(parse(mm), Ok(Tenths(tenths)));
    }
}

proptest! {
    #[test]
    fn no_text_stops_the_readers(text in "\\PC{0,50}") {
        if let Ok(gap) = parse(&text) {
            prop_assert!(gap >= Tenths(0) && gap <= MAX_GAP);
        }
        if let Ok(degrees) = parse_angle(&text) {
            prop_assert!(degrees <= MAX_DEGREES);
        }
    }

    #[test]
    fn nothing_like_a_number_stops_the_readers(text in "[-0-9./, ¼½°\"incmdeg]{0,12}") {
        if let Ok(gap) = parse(&text) {
            prop_assert!(gap >= Tenths(0) && gap <= MAX_GAP);
        }
        if let Ok(degrees) = parse_angle(&text) {
            prop_assert!(degrees <= MAX_DEGREES);
        }
    }

    #[test]
    fn a_wider_gap_is_never_judged_better(number in 1u8..=7, narrow in 0..=10_000i32, wider in 0..=10_000i32,
                                          angle in proptest::option::of(0u16..=90), air: bool) {
        let zone = Zone::from_number(number).unwrap();
        let (narrow, wider) = (narrow.min(wider), narrow.max(wider));
        if judge(zone, Tenths(narrow), angle, air) == Gap::Over {
            prop_assert_eq!(judge(zone, Tenths(wider), angle, air), Gap::Over);
        }
    }
}
