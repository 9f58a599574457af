//! The table against itself, and values as people type them.

use super::*;

#[test]
fn the_table_is_in_the_order_of_the_names_and_its_defaults_are_in_bounds() {
    for (place, policy) in POLICIES.iter().enumerate() {
        assert_eq!(policy.name as usize, place, "{}", policy.word);
        assert!(
            (policy.least..=policy.most).contains(&policy.default),
            "{}",
            policy.word
        );
    }
}

#[test]
fn values_are_read_as_people_type_them_and_read_back_as_they_are_shown() {
    let policies = Policies::default();
    for (word, text, value) in [
        ("air-low", "3/4", 191),
        ("air-low", "20 mm", 200),
        ("recheck", "20 min", 20),
        ("recheck", "20", 20),
        ("shift-start", "06:30", 390),
        ("shift-hours", "12 h", 12),
        ("beds-in-posts", "Yes", 1),
        ("safety-test-months", "24 months", 24),
        ("agency-hours", "8 hours", 8),
        ("sign-off-wanted", "on", 1),
        ("pace-seconds", "15 s", 15),
        ("pace-seconds", "off", 0),
        ("pace-checks", "8 checks", 8),
        ("idle-hours", "48 h", 48),
        ("order-days", "10 days", 10),
        ("order-service", "90%", 90),
        ("office-to", "16:30", 990),
        ("recheck", "20 minutos", 20),
        ("recheck", "1 h", 60),
        ("recheck", "1 hora", 60),
        ("recheck", "0.5 h", 30),
        ("recheck", "0,5 horas", 30),
        ("recheck", "1200 s", 20),
        ("try-again", "2 hours", 120),
        ("try-again", "2 horas", 120),
        ("try-again", "120 min", 120),
        ("try-again", "1 h 30 min", 90),
        ("idle-hours", "2 days", 48),
        ("order-days", "2 weeks", 14),
        ("safety-test-months", "1 year", 12),
        ("own-years", "84 months", 7),
        ("check-every", "1 day", 24),
        ("layers-most", "3 layers", 3),
        ("layers-most", "3 capas", 3),
        ("ask-times", "3 veces", 3),
        ("loft-readings", "20 lecturas", 20),
        ("loft-odds", "1 in 500 looks", 500),
        ("loft-odds", "1 de cada 500", 500),
        ("rental-day", "$35.50 a day", 3_550),
        ("rental-day", "35.50 al día", 3_550),
        ("shift-hours", "12 horas", 12),
        ("beds-in-posts", "Sí", 1),
        ("safety-test-months", "24 meses", 24),
        ("order-days", "10 días", 10),
        ("order-service", "90 por ciento", 90),
        ("check-every", "cada turno", 0),
        ("bleach-stock", "8,25 %", 82_500),
        ("bleach-stock", "off", 0),
        ("bleach-hours", "12 h", 12),
        ("own-years", "7 años", 7),
        ("own-upkeep", "$300", 30_000),
        ("fleet-shortfall", "2%", 2),
    ] {
        let (row, read) = policies.read(word, text).unwrap();
        assert_eq!(read, value, "{word} {text}");
        assert_eq!(
            row.measure
                .read(&row.measure.show(read))
                .map(|v| (v - read).abs() < 10),
            Some(true),
            "{word}"
        );
    }
}

#[test]
fn what_is_out_of_bounds_or_crosses_is_refused() {
    let policies = Policies::default();
    let outcome = |word, text| policies.read(word, text).map(|(_, value)| value);
    assert_eq!(outcome("nap-time", "3"), Err(PolicyFault::NoSuch));
    assert!(matches!(
        outcome("recheck", "soon"),
        Err(PolicyFault::NotAValue(_))
    ));
    // Another unit must come out even, and a mark before three digits may be one of thousands.
    for (word, text) in [
        ("shift-hours", "90 min"),
        ("recheck", "1,000 s"),
        ("recheck", "2 moons"),
        ("recheck", "h"),
        ("recheck", "1 h 30"),
        ("own-years", "5 days"),
        ("recheck", "99999999999999999 h"),
    ] {
        assert!(
            matches!(outcome(word, text), Err(PolicyFault::NotAValue(_))),
            "{word} {text}"
        );
    }
    assert!(matches!(
        outcome("recheck", "2 hours"),
        Err(PolicyFault::OutOfBounds(_))
    ));
    assert!(matches!(
        outcome("recheck", "4"),
        Err(PolicyFault::OutOfBounds(_))
    ));
    assert!(matches!(
        outcome("recheck", "61"),
        Err(PolicyFault::OutOfBounds(_))
    ));
    assert_eq!(outcome("air-low", "1.5 in"), Err(PolicyFault::Crossed));
    assert_eq!(outcome("air-high", "1 in"), Err(PolicyFault::Crossed));
    assert_eq!(
        outcome("office-from", "17:00"),
        Err(PolicyFault::OfficeBackwards)
    );
    assert_eq!(
        outcome("office-to", "08:00"),
        Err(PolicyFault::OfficeBackwards)
    );
    assert_eq!(
        outcome("shift-hours", "7"),
        Err(PolicyFault::ShiftsDoNotDivide)
    );
}
