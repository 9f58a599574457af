//! Readings as people write them, and how they are shown.

use proptest::prelude::*;

use super::*;

fn measured(text: &str) -> i32 {
    match parse(text) {
        Ok(Said::Measured(Tenths(tenths))) => tenths,
        other => panic!("{text:?} is {other:?}"),
    }
}

#[test]
fn a_bare_number_is_told_from_one_that_says_its_unit() {
    for text in ["1", "1.25", "1,5", ".5", "0.75"] {
        assert!(bare(text).is_some(), "{text}");
        let number = bare(text).unwrap_or_default();
        assert_eq!(in_each_unit(&number).len(), 2, "{text}");
    }
    for text in [
        "1 in", "1\"", "1 1/4", "3/4", "1¼", "3 cm", "0", "none", "one", "touching", "3", "x", "",
    ] {
        assert_eq!(bare(text), None, "{text}");
    }
}

#[test]
fn inches_as_people_write_them() {
    for text in [
        "1 1/4",
        "1¼",
        "1 ¼",
        "1-1/4",
        "1.25\"",
        "1.25 in",
        "1.25in",
        "1,25\"",
        "1.25",
        "1 and 1/4",
        "1.25 inches",
        "1 1/4\"",
        "1 1/4 in.",
        "1.25”",
        "1.25''",
        " 1.25  IN ",
        "one and a quarter",
    ] {
        assert_eq!(measured(text), 318, "{text:?}");
    }
    for text in [
        "¾",
        "3/4",
        "3/4\"",
        "0.75",
        ".75 in",
        "0,75",
        "3⁄4",
        "three quarters",
        "3/4 of an inch",
    ] {
        assert_eq!(measured(text), 191, "{text:?}");
    }
    for text in [
        "1", "1 in", "1 inch", "an inch", "1\"", "1.0", "2.5 cm", "25 mm", "2.5cm", "25mm",
        "2,5 cm",
    ] {
        assert_eq!(measured(text), 254, "{text:?}");
    }
    assert_eq!(measured("3 cm"), 300);
    assert_eq!(measured("32 mm"), 320);
    assert_eq!(measured("25.4 mm"), 254);
    assert_eq!(measured("24 mm"), 240);
    assert_eq!(measured("4 in"), 1016);
    assert_eq!(measured("0"), 0);
    assert_eq!(measured("0 mm"), 0);
    assert_eq!(measured("touching"), 0);
    assert_eq!(measured("8 in"), 2032);
}

#[test]
fn as_a_spanish_speaker_writes_them() {
    for text in [
        "1 1/4 pulg",
        "1 1/4 pulgadas",
        "1,25 pulgadas",
        "1¼ pulg.",
        "1 y 1/4",
        "una pulgada y cuarto",
        "Una y cuarto",
    ] {
        assert_eq!(measured(text), 318, "{text:?}");
    }
    for text in ["3/4 de pulgada", "tres cuartos", "0,75 plg", "0,75"] {
        assert_eq!(measured(text), 191, "{text:?}");
    }
    for (text, tenths) in [
        ("una pulgada", 254),
        ("media pulgada", 127),
        ("pulgada y media", 381),
        ("3,2 cm", 320),
        ("3 centímetros", 300),
        ("toca fondo", 0),
        ("sin aire", 0),
    ] {
        assert_eq!(measured(text), tenths, "{text:?}");
    }
    for text in ["ninguno", "Ninguno", "no se pudo", "no pude comprobar"] {
        assert_eq!(parse(text), Ok(Said::CouldNot), "{text:?}");
    }
    // Could be no air, or no check: asked about.
    assert_eq!(parse("nada"), Err(AirFault::NoNumber));
    assert_eq!(parse("1,250 mm"), Err(AirFault::NoNumber));
}

#[test]
fn could_not_check() {
    for text in [
        "none",
        "n/a",
        "N/A",
        "could not",
        "couldn't",
        "couldn’t",
        "Could not check",
        "couldnt",
    ] {
        assert_eq!(parse(text), Ok(Said::CouldNot), "{text:?}");
    }
}

#[test]
fn what_could_be_two_things_is_asked_about() {
    for (text, number) in [
        ("30", "30"),
        ("5", "5"),
        ("25", "25"),
        ("2.5", "2.5"),
        ("2,5", "2.5"),
        ("4.5", "4.5"),
        ("2", "2"),
        ("2.0", "2.0"),
        ("two", "2"),
        ("dos", "2"),
        ("3", "3"),
        ("3,5", "3.5"),
        ("4", "4"),
        // No ruler in inches shows them, one in centimetres does.
        ("1.1", "1.1"),
        ("1.2", "1.2"),
        ("1,3", "1.3"),
        ("1.8", "1.8"),
    ] {
        assert_eq!(
            parse(text),
            Err(AirFault::WhichUnit {
                number: number.to_owned()
            }),
            "{text:?}"
        );
    }
}

/// What centimetres typed without their unit come to: none of those that a home may call adequate is taken for inches,
/// and none that is taken for inches is told to be high.
#[test]
fn centimetres_without_their_unit_are_asked_about_where_it_matters() {
    for tenths in 20..=80 {
        let text = format!("{}.{}", tenths / 10, tenths % 10);
        assert!(
            matches!(parse(&text), Err(AirFault::WhichUnit { .. })),
            "{text}"
        );
    }
    // Low in either unit.
    for (text, tenths) in [("0.5", 127), ("0,9", 229), (".25", 64)] {
        assert_eq!(measured(text), tenths, "{text:?}");
    }
    // The marks of a ruler in inches, and fractions, which are inches by the way they are written.
    for (text, tenths) in [
        ("1", 254),
        ("1.25", 318),
        ("1.5", 381),
        ("1,5", 381),
        ("1.75", 445),
        ("2 1/4", 572),
        ("3½", 889),
        ("2 in", 508),
        ("two inches", 508),
        ("3 cm", 300),
        ("2 cm", 200),
    ] {
        assert_eq!(measured(text), tenths, "{text:?}");
    }
}

#[test]
fn what_is_asked_about_is_offered_in_the_units_it_can_be_in() {
    for (number, each) in [
        ("2", vec!["2 in", "2 cm"]),
        ("3", vec!["3 in", "3 cm"]),
        ("1.2", vec!["1.2 in", "1.2 cm"]),
        ("9", vec!["9 cm"]),
        ("12", vec!["12 mm", "12 cm"]),
        ("25", vec!["25 mm"]),
        ("30", vec!["30 mm"]),
    ] {
        assert_eq!(in_each_unit(number), each, "{number}");
    }
}

#[test]
fn faults_are_told_apart() {
    let too_deep = AirFault::TooDeep { max: MAX_DEPTH };
    for (text, fault) in [
        ("", AirFault::Empty),
        ("   ", AirFault::Empty),
        ("-1", AirFault::Negative),
        ("−1 in", AirFault::Negative),
        ("8.1 in", too_deep.clone()),
        ("21 cm", too_deep.clone()),
        ("300", too_deep.clone()),
        ("99999999999999999999", too_deep),
        ("1 2", AirFault::TwoNumbers),
        ("1 to 1.5", AirFault::TwoNumbers),
        ("1-1.5", AirFault::TwoNumbers),
        ("1 in 2 in", AirFault::TwoNumbers),
        ("1.5 1/4", AirFault::TwoNumbers),
        ("11/4", AirFault::OddFraction),
        ("4/4", AirFault::OddFraction),
        ("1/0", AirFault::OddFraction),
        ("1/", AirFault::OddFraction),
        ("1/7", AirFault::OddFraction),
        ("1 ft", AirFault::UnknownUnit),
        ("1'", AirFault::UnknownUnit),
        ("1 pad", AirFault::UnknownUnit),
        ("NaN", AirFault::NoNumber),
        ("inf", AirFault::NoNumber),
        ("plenty", AirFault::NoNumber),
        ("1.2.3", AirFault::NoNumber),
        ("1,250 mm", AirFault::NoNumber),
        ("/4", AirFault::NoNumber),
    ] {
        assert_eq!(parse(text), Err(fault), "{text:?}");
    }
}

#[test]
fn shown_as_people_write_them() {
    for (tenths, inches, centimetres) in [
        (0, "0 in", "0 cm"),
        (127, "½ in", "1.27 cm"),
        (191, "¾ in", "1.91 cm"),
        (251, "0.99 in", "2.51 cm"),
        (253, "0.996 in", "2.53 cm"),
        (254, "1 in", "2.54 cm"),
        (300, "1.18 in", "3 cm"),
        (318, "1¼ in", "3.18 cm"),
        (381, "1½ in", "3.81 cm"),
        (1016, "4 in", "10.16 cm"),
    ] {
        assert_eq!(show(Tenths(tenths), Units::Inches), inches);
        assert_eq!(show(Tenths(tenths), Units::Centimetres), centimetres);
    }
}

#[test]
fn every_length_is_read_back_as_it_is_shown() {
    for tenths in 0..=MAX_DEPTH.0 {
        assert_eq!(measured(&show(Tenths(tenths), Units::Inches)), tenths);
        // 25.0 mm is written as the customary word for an inch, and read as one.
        let back = if tenths == 250 { INCH_TENTHS } else { tenths };
        assert_eq!(measured(&show(Tenths(tenths), Units::Centimetres)), back);
    }
}

proptest! {
    #[test]
    fn no_text_stops_the_reader(text in "\\PC{0,50}") {
        if let Ok(Said::Measured(length)) = parse(&text) {
            prop_assert!(length >= Tenths(0) && length <= MAX_DEPTH);
        }
    }

    #[test]
    fn nothing_like_a_number_stops_the_reader(text in "[-0-9./, ¼½\"incm]{0,12}") {
        if let Ok(Said::Measured(length)) = parse(&text) {
            prop_assert!(length >= Tenths(0) && length <= MAX_DEPTH);
        }
    }
}
