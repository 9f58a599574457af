//! Patterns that are taken, and those that are refused.

use proptest::prelude::*;

use super::*;

#[test]
fn written_in_one_way() {
    for (text, written) in [
        ("daily 07:00", "daily 07:00"),
        (" Daily  7:00 ", "daily 07:00"),
        ("daily at 7 am", "daily 07:00"),
        ("daily 23:00 07:00 15:00", "daily 07:00 15:00 23:00"),
        ("daily 7:00, 15:00 and 23:00", "daily 07:00 15:00 23:00"),
        ("weekdays 06:45", "weekdays 06:45"),
        ("monday 09:00", "monday 09:00"),
        ("Thu, Mon 0900", "monday thursday 09:00"),
        ("mon tue wed thu fri 06:45", "weekdays 06:45"),
        ("sat sun 10:00", "weekends 10:00"),
        ("every 8h from 07:00", "every 8h from 07:00"),
        ("every 12 hours from 7:30 pm", "every 12h from 19:30"),
        ("0 7 * * *", "0 7 * * *"),
        ("0 0 7 * * mon-fri", "0 0 7 * * MON-FRI"),
        ("0  7 1 * ?", "0 7 1 * ?"),
        ("*/15 * * * *", "*/15 * * * *"),
    ] {
        let pattern = Pattern::parse(text).unwrap_or_else(|fault| panic!("{text:?}: {fault:?}"));
        assert_eq!(pattern.to_string(), written, "{text:?}");
        assert_eq!(Pattern::parse(written), Ok(pattern.clone()));
        let json = serde_json::to_string(&pattern).unwrap();
        assert_eq!(serde_json::from_str::<Pattern>(&json).unwrap(), pattern);
    }
}

#[test]
fn faults_are_told_apart() {
    let too_often = PatternFault::TooOften { least_minutes: 15 };
    for (text, fault) in [
        ("", PatternFault::Empty),
        ("sometimes", PatternFault::Shape),
        ("daily", PatternFault::Shape),
        ("07:00 daily", PatternFault::CronFields { found: 2 }),
        ("@daily", PatternFault::Shape),
        ("daily 25:00", PatternFault::NotATime),
        ("daily 7", PatternFault::NotATime),
        ("daily 07:00 7am", PatternFault::TimeTwice),
        ("daily 07:00 07:10", too_often.clone()),
        ("daily 23:55 00:05", too_often.clone()),
        (
            "every 5h from 07:00",
            PatternFault::HoursDoNotDivideDay { hours: 5 },
        ),
        (
            "every 0h from 07:00",
            PatternFault::HoursDoNotDivideDay { hours: 0 },
        ),
        ("every 8h", PatternFault::FromMissing),
        ("every 10 minutes", too_often.clone()),
        ("every 8h from noonish", PatternFault::NotATime),
        ("every 8 days from 07:00", PatternFault::Shape),
        ("0 7 * * 1", PatternFault::WeekdayNumber),
        ("0 7 * * MON#1", PatternFault::WeekdayNumber),
        ("0 7 1 * MON", PatternFault::DayAndWeekday),
        ("*/10 * * * *", too_often.clone()),
        ("* * * * * *", too_often.clone()),
        ("0,30 0 7 * * *", too_often),
        ("0 7 * *", PatternFault::CronFields { found: 4 }),
        ("0 99 * * *", PatternFault::CronField),
        ("0 7 * * NODAY", PatternFault::CronField),
        ("0 7 31 2 *", PatternFault::Never),
        ("0 0 7 * * * 1960", PatternFault::CronField),
    ] {
        assert_eq!(
            Pattern::parse(text).map(|p| p.to_string()),
            Err(fault),
            "{text:?}"
        );
    }
}

#[test]
fn as_a_spanish_speaker_types_them() {
    for (text, written) in [
        ("cada día 07:00", "daily 07:00"),
        ("todos los días a las 07:00 y 15:00", "daily 07:00 15:00"),
        ("Diario 07:00", "daily 07:00"),
        ("laborables 06:45", "weekdays 06:45"),
        ("días laborables a las 06:45", "weekdays 06:45"),
        ("fines de semana 09:00", "weekends 09:00"),
        ("lunes y jueves 09:00", "monday thursday 09:00"),
        ("los miércoles 09:00", "wednesday 09:00"),
        ("cada 8h desde 07:00", "every 8h from 07:00"),
        ("cada 8 horas desde las 07:00", "every 8h from 07:00"),
    ] {
        let read = Pattern::parse(text).map(|pattern| pattern.to_string());
        assert_eq!(read.as_deref(), Ok(written), "{text:?}");
    }
    for (text, fault) in [
        ("cada día", PatternFault::Shape),
        ("cada día 25:00", PatternFault::NotATime),
        ("cada 8h", PatternFault::FromMissing),
        (
            "cada 5h desde 07:00",
            PatternFault::HoursDoNotDivideDay { hours: 5 },
        ),
        ("a veces", PatternFault::Shape),
    ] {
        let read = Pattern::parse(text).map(|pattern| pattern.to_string());
        assert_eq!(read, Err(fault), "{text:?}");
    }
}

proptest! {
    #[test]
    fn no_text_stops_the_reader(text in "\\PC{0,60}") {
        let _ = Pattern::parse(&text);
    }

    #[test]
    fn whatever_is_read_is_written_and_read_again(
        text in "(daily|weekdays|mon|sun tue|every [0-9]{1,2}h from) [0-2]?[0-9]:[0-5][0-9]( [0-9]{4})?"
    ) {
        if let Ok(pattern) = Pattern::parse(&text) {
            prop_assert_eq!(Pattern::parse(&pattern.to_string()), Ok(pattern));
        }
    }
}
