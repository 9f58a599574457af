//! Times ahead as people type them, and the changes of the clocks.

use chrono::NaiveDateTime;
use proptest::prelude::*;

use super::*;

const LATEST: TimeDelta = TimeDelta::days(30);

fn at(text: &str) -> DateTime<Utc> {
    NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M")
        .unwrap()
        .and_utc()
}

fn chicago() -> Zone {
    Zone::parse("America/Chicago").unwrap()
}

fn read_at(text: &str, now: &str) -> Result<DateTime<Utc>, UntilFault> {
    parse(text, at(now), &chicago(), LATEST)
}

#[test]
fn as_people_type_them() {
    // Wednesday, 14:00 in Chicago.
    let now = "2026-06-10 19:00";
    for (text, expected) in [
        ("15:30", "2026-06-10 20:30"),
        ("3:30 pm", "2026-06-10 20:30"),
        ("at 3:30pm", "2026-06-10 20:30"),
        ("until 15:30", "2026-06-10 20:30"),
        ("today 15:30", "2026-06-10 20:30"),
        ("15:30 today", "2026-06-10 20:30"),
        ("14:01", "2026-06-10 19:01"),
        ("14:00", "2026-06-11 19:00"),
        ("13:00", "2026-06-11 18:00"),
        ("noon", "2026-06-11 17:00"),
        ("midnight", "2026-06-11 05:00"),
        ("2 h", "2026-06-10 21:00"),
        ("2h", "2026-06-10 21:00"),
        ("in 2 h", "2026-06-10 21:00"),
        ("for 2 hours", "2026-06-10 21:00"),
        ("in about 2 h", "2026-06-10 21:00"),
        ("45 min", "2026-06-10 19:45"),
        ("1 h 30 min", "2026-06-10 20:30"),
        ("half an hour", "2026-06-10 19:30"),
        ("in an hour", "2026-06-10 20:00"),
        ("tomorrow 10:00", "2026-06-11 15:00"),
        ("tomorrow at 10:00", "2026-06-11 15:00"),
        ("10:00 tomorrow", "2026-06-11 15:00"),
        ("tomorrow", "2026-06-11 17:00"),
        ("mon 10:00", "2026-06-15 15:00"),
        ("Monday 10:00", "2026-06-15 15:00"),
        ("on monday at 10 am", "2026-06-15 15:00"),
        ("10:00 on monday", "2026-06-15 15:00"),
        ("monday", "2026-06-15 17:00"),
        ("wed 15:00", "2026-06-10 20:00"),
        ("wed 13:00", "2026-06-17 18:00"),
        ("tue 23:59", "2026-06-17 04:59"),
        ("3 days", "2026-06-13 19:00"),
        ("in 3 days", "2026-06-13 19:00"),
        ("1 day 2 h", "2026-06-11 21:00"),
        ("2026-06-12", "2026-06-12 17:00"),
        ("2026-06-12 14:00", "2026-06-12 19:00"),
        ("until 2026-06-12 at 2 pm", "2026-06-12 19:00"),
        ("30 days", "2026-07-10 19:00"),
    ] {
        assert_eq!(read_at(text, now), Ok(at(expected)), "{text:?}");
    }
}

#[test]
fn faults_are_told_apart() {
    let now = "2026-06-10 19:00";
    let too_far = UntilFault::TooFar {
        latest: at("2026-07-10 19:00"),
    };
    let past = |text: &str| UntilFault::InPast { at: at(text) };
    for (text, fault) in [
        ("", UntilFault::Empty),
        (" \n ", UntilFault::Empty),
        ("later", UntilFault::Shape),
        ("25:00", UntilFault::Shape),
        ("13:40 xx", UntilFault::Shape),
        ("today", UntilFault::Shape),
        ("next monday", UntilFault::Shape),
        ("3/9", UntilFault::Shape),
        ("2026-06-31", UntilFault::Shape),
        ("2026-6-12", UntilFault::Shape),
        ("2 weeks", UntilFault::Shape),
        ("-5 min", UntilFault::Shape),
        ("30 min 1 h", UntilFault::Shape),
        ("999999 min", UntilFault::Shape),
        ("monday sometime", UntilFault::Shape),
        ("monday tuesday", UntilFault::Shape),
        ("2 h ago", UntilFault::Shape),
        ("in", UntilFault::Shape),
        ("in 15:30", UntilFault::Shape),
        ("7", UntilFault::WhichUnit),
        ("in 2", UntilFault::WhichUnit),
        ("1 h 30", UntilFault::WhichUnit),
        ("tomorrow 7", UntilFault::WhichUnit),
        ("2026-06-12 7", UntilFault::WhichUnit),
        ("today 13:59", past("2026-06-10 18:59")),
        ("today 14:00", past("2026-06-10 19:00")),
        ("2026-06-10", past("2026-06-10 17:00")),
        ("2026-06-09 14:00", past("2026-06-09 19:00")),
        ("0 min", past("2026-06-10 19:00")),
        ("0 days", past("2026-06-10 19:00")),
        ("31 days", too_far.clone()),
        ("30 days 1 min", too_far.clone()),
        ("2027-06-12", too_far.clone()),
        ("9999-12-31 23:59", too_far),
    ] {
        assert_eq!(read_at(text, now), Err(fault), "{text:?}");
    }
}

#[test]
fn as_a_spanish_speaker_types_them() {
    // Wednesday, 14:00 in Chicago.
    let now = "2026-06-10 19:00";
    for (text, expected) in [
        ("hasta las 15:30", "2026-06-10 20:30"),
        ("a las 3:30 de la tarde", "2026-06-10 20:30"),
        ("hoy a las 15:30", "2026-06-10 20:30"),
        ("mediodía", "2026-06-11 17:00"),
        ("2 horas", "2026-06-10 21:00"),
        ("dentro de 2 h", "2026-06-10 21:00"),
        ("en 45 minutos", "2026-06-10 19:45"),
        ("media hora", "2026-06-10 19:30"),
        ("una hora y media", "2026-06-10 20:30"),
        ("por 2 horas", "2026-06-10 21:00"),
        ("mañana 10:00", "2026-06-11 15:00"),
        ("manana a las 10:00", "2026-06-11 15:00"),
        ("mañana a las 10 de la mañana", "2026-06-11 15:00"),
        ("mañana", "2026-06-11 17:00"),
        ("mañana al mediodía", "2026-06-11 17:00"),
        ("hasta el lunes a las 10:00", "2026-06-15 15:00"),
        ("el lunes", "2026-06-15 17:00"),
        ("miércoles 15:00", "2026-06-10 20:00"),
        ("3 días", "2026-06-13 19:00"),
        ("1 día y 2 horas", "2026-06-11 21:00"),
        ("hasta 2026-06-12 a las 14:00", "2026-06-12 19:00"),
    ] {
        assert_eq!(read_at(text, now), Ok(at(expected)), "{text:?}");
    }
    for (text, fault) in [
        ("luego", UntilFault::Shape),
        ("hoy", UntilFault::Shape),
        ("2 semanas", UntilFault::Shape),
        ("hace 2 h", UntilFault::Shape),
        ("mañana 7", UntilFault::WhichUnit),
        ("dentro de 2", UntilFault::WhichUnit),
        ("mañana por la mañana", UntilFault::Shape),
        (
            "hoy 13:59",
            UntilFault::InPast {
                at: at("2026-06-10 18:59"),
            },
        ),
    ] {
        assert_eq!(read_at(text, now), Err(fault), "{text:?}");
    }
}

#[test]
fn a_clock_time_beyond_the_limit_is_past_or_too_far() {
    let read = |text| {
        parse(
            text,
            at("2026-06-10 19:00"),
            &chicago(),
            TimeDelta::hours(4),
        )
    };
    assert_eq!(read("18:00"), Ok(at("2026-06-10 23:00")));
    let too_far = UntilFault::TooFar {
        latest: at("2026-06-10 23:00"),
    };
    assert_eq!(read("18:01"), Err(too_far.clone()));
    // An hour ago; 12 hours ago; more than that.
    for (text, then) in [("13:00", "2026-06-10 18:00"), ("02:00", "2026-06-10 07:00")] {
        assert_eq!(read(text), Err(UntilFault::InPast { at: at(then) }));
    }
    assert_eq!(read("01:59"), Err(too_far));
}

/// Python 3.11.7 zoneinfo with PyPI tzdata 2026.6 (2026f) and no system zone files: `fold=0` and `fold=1` are the
/// two of an overlap; the moment after a gap is its end (03:00 local), not zoneinfo's own later answer.
#[test]
fn over_the_changes_of_the_clocks() {
    for (text, now, expected) in [
        // 02:30 on 8 March does not exist: 03:00 is the first moment after. Said at 23:00 the evening before.
        ("02:30", "2026-03-08 05:00", "2026-03-08 08:00"),
        ("tomorrow 02:30", "2026-03-07 21:00", "2026-03-08 08:00"),
        ("sun 02:30", "2026-03-07 21:00", "2026-03-08 08:00"),
        ("2026-03-08 02:30", "2026-03-07 21:00", "2026-03-08 08:00"),
        ("02:30", "2026-03-08 18:00", "2026-03-09 07:30"),
        // Past and skipped: the next Sunday.
        ("sun 02:30", "2026-03-08 18:00", "2026-03-15 07:30"),
        // A day of 23 hours, and 24 hours across it.
        ("1 day", "2026-03-07 21:00", "2026-03-08 20:00"),
        ("24 h", "2026-03-07 21:00", "2026-03-08 21:00"),
        ("1 day", "2026-03-07 08:30", "2026-03-08 08:00"),
        ("1 day 2 h", "2026-03-07 21:00", "2026-03-08 22:00"),
        ("2026-03-09", "2026-03-07 21:00", "2026-03-09 17:00"),
        ("2026-03-09 14:00", "2026-03-07 21:00", "2026-03-09 19:00"),
        // 01:30 on 1 November is twice. Said at 01:00, 01:50, again 01:10 and again 01:50.
        ("01:30", "2026-11-01 06:00", "2026-11-01 06:30"),
        ("01:30", "2026-11-01 06:50", "2026-11-01 07:30"),
        ("01:30", "2026-11-01 07:10", "2026-11-01 07:30"),
        ("01:30", "2026-11-01 07:50", "2026-11-02 07:30"),
        ("tomorrow 01:30", "2026-10-31 20:00", "2026-11-01 06:30"),
        // A day of 25 hours.
        ("1 day", "2026-10-31 20:00", "2026-11-01 21:00"),
        ("24 h", "2026-10-31 20:00", "2026-11-01 20:00"),
        ("90 min", "2026-11-01 06:50", "2026-11-01 08:20"),
    ] {
        assert_eq!(
            read_at(text, now),
            Ok(at(expected)),
            "{text:?} said at {now}"
        );
    }
    assert_eq!(
        read_at("today 02:30", "2026-03-08 18:00"),
        Err(UntilFault::Skipped {
            next: at("2026-03-08 08:00")
        })
    );
    assert_eq!(
        read_at("today 01:30", "2026-11-01 07:50"),
        Err(UntilFault::InPast {
            at: at("2026-11-01 07:30")
        })
    );
}

/// As above, in two more zones.
#[test]
fn in_other_zones() {
    for (zone, text, now, expected) in [
        (
            "America/New_York",
            "7 days",
            "2026-03-05 14:00",
            "2026-03-12 13:00",
        ),
        (
            "Europe/London",
            "01:30",
            "2026-03-28 22:00",
            "2026-03-29 01:00",
        ),
        (
            "Europe/London",
            "01:30",
            "2026-10-25 00:10",
            "2026-10-25 00:30",
        ),
        (
            "Europe/London",
            "01:30",
            "2026-10-25 00:40",
            "2026-10-25 01:30",
        ),
    ] {
        let zone = Zone::parse(zone).unwrap();
        let read = parse(text, at(now), &zone, LATEST);
        assert_eq!(read, Ok(at(expected)), "{text:?} in {zone}");
    }
}

proptest! {
    #[test]
    fn never_stops_and_never_answers_with_the_past(text in "\\PC{0,45}", seconds in 0i64..4_000_000_000) {
        let now = DateTime::from_timestamp(seconds, 0).unwrap();
        if let Ok(read) = parse(&text, now, &chicago(), LATEST) {
            prop_assert!(read > now && read - now <= LATEST);
        }
    }

    #[test]
    fn nothing_like_a_time_stops_it(text in "(until |in |on )?(mon|today|tomorrow|2026-0[0-9]-[0-9]{2}|[0-9]{1,5})?[ :]?[0-9]{0,5} ?(min|h|days|pm|on|sun)?",
                                    seconds in 0i64..4_000_000_000) {
        let now = DateTime::from_timestamp(seconds, 0).unwrap();
        if let Ok(read) = parse(&text, now, &chicago(), LATEST) {
            prop_assert!(read > now && read - now <= LATEST);
        }
    }

    /// Whatever minute ahead is written as a date and a time is read as it, or as the first of the two it may be.
    #[test]
    fn a_written_minute_reads_back(minutes in 1i64..40_000, seconds in 1_700_000_000i64..2_000_000_000) {
        let now = DateTime::from_timestamp(seconds - seconds % 60, 0).unwrap();
        let then = now + TimeDelta::minutes(minutes);
        let local = |at| chicago().local(at);
        let text = local(then).format("%Y-%m-%d %H:%M").to_string();
        let read = parse(&text, now, &chicago(), LATEST).unwrap();
        prop_assert!(read <= then);
        prop_assert_eq!(local(read), local(then));
    }

    #[test]
    fn a_clock_time_is_the_next_such(minute in 0u32..1440, seconds in 1_700_000_000i64..2_000_000_000) {
        let now = DateTime::from_timestamp(seconds, 0).unwrap();
        let text = format!("{:02}:{:02}", minute / 60, minute % 60);
        let read = parse(&text, now, &chicago(), LATEST).unwrap();
        // A day may have 25 hours.
        prop_assert!(read > now && read - now <= TimeDelta::hours(25));
    }
}
