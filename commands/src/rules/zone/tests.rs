//! Clock changes beside their source, and names.

use proptest::prelude::*;

use super::*;

fn at(text: &str) -> NaiveDateTime {
    NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
}

fn zone(name: &str) -> Zone {
    Zone::parse(name).unwrap()
}

/// The changes of 2026 and 2027 as Python's zoneinfo gives them with tzdata 2026f; the first moment
/// after a gap is our rule, the first of two is its `fold=0`.
#[test]
fn clock_changes_in_new_york() {
    let zone = zone("America/New_York");
    for (local, utc) in [
        ("2026-03-08 01:59", "2026-03-08 06:59"),
        ("2026-03-08 02:00", "2026-03-08 07:00"),
        ("2026-03-08 02:30", "2026-03-08 07:00"),
        ("2026-03-08 03:00", "2026-03-08 07:00"),
        ("2026-03-08 03:01", "2026-03-08 07:01"),
        ("2026-11-01 01:30", "2026-11-01 05:30"),
        ("2026-11-01 02:00", "2026-11-01 07:00"),
        ("2027-03-14 02:30", "2027-03-14 07:00"),
        ("2027-11-07 01:30", "2027-11-07 05:30"),
    ] {
        assert_eq!(zone.instant(at(local)), at(utc).and_utc(), "{local}");
    }
    assert_eq!(
        zone.instants(at("2026-11-01 01:30")),
        Instants::Two(
            at("2026-11-01 05:30").and_utc(),
            at("2026-11-01 06:30").and_utc()
        )
    );
    assert_eq!(
        zone.local(at("2026-11-01 06:30").and_utc()),
        at("2026-11-01 01:30")
    );
    assert_eq!(zone.offset(at("2026-07-01 00:00").and_utc()), -4 * 3600);
}

/// An alarm at 01:50 on a night of change, and 15 minutes later (zoneinfo, tzdata 2026f).
#[test]
fn elapsed_time_over_a_change() {
    let zone = zone("America/New_York");
    let quarter = chrono::TimeDelta::minutes(15);
    assert_eq!(
        zone.local(zone.instant(at("2026-11-01 01:50")) + quarter),
        at("2026-11-01 01:05")
    );
    assert_eq!(
        zone.local(zone.instant(at("2026-03-08 01:50")) + quarter),
        at("2026-03-08 03:05")
    );
}

/// UTC hour of the spring change on 2026-03-08 (zoneinfo, tzdata 2026f).
#[test]
fn zones_of_the_united_states() {
    for (name, hour) in [
        ("America/New_York", 7),
        ("America/Indiana/Indianapolis", 7),
        ("America/Chicago", 8),
        ("America/Denver", 9),
        ("America/Los_Angeles", 10),
        ("America/Anchorage", 11),
    ] {
        let change = zone(name).instant(at("2026-03-08 02:15"));
        assert_eq!(
            change,
            at(&format!("2026-03-08 {hour:02}:00")).and_utc(),
            "{name}"
        );
    }
    for name in ["America/Phoenix", "Pacific/Honolulu", "America/Puerto_Rico"] {
        assert!(
            matches!(
                zone(name).instants(at("2026-03-08 02:15")),
                Instants::One(_)
            ),
            "{name}"
        );
    }
}

#[test]
fn names() {
    assert_eq!(zone(" america/chicago ").name(), "America/Chicago");
    assert_eq!(zone("america/new york").name(), "America/New_York");
    assert_eq!(zone("utc"), Zone::utc());
    for (text, meant) in [
        ("EST", "America/New_York"),
        ("Central Time", "America/Chicago"),
        ("Chicago", "America/Chicago"),
        ("America/Chigaco", "America/Chicago"),
        ("los angeles", "America/Los_Angeles"),
    ] {
        let nearest = Zone::parse(text).unwrap_err().nearest;
        assert_eq!(
            nearest.first().map(String::as_str),
            Some(meant),
            "{text}: {nearest:?}"
        );
    }
    assert!(Zone::parse("Etc/GMT+5").is_err());
    assert!(Zone::parse("../../etc/passwd").is_err());
    assert!(Zone::parse("").is_err());
    assert_eq!(
        Zone::parse("qqqqzzzz").unwrap_err().nearest,
        Vec::<String>::new()
    );
}

#[test]
fn written_as_its_name() {
    let zone = zone("Europe/London");
    let text = serde_json::to_string(&zone).unwrap();
    assert_eq!(text, r#""Europe/London""#);
    assert_eq!(serde_json::from_str::<Zone>(&text).unwrap(), zone);
    assert!(serde_json::from_str::<Zone>(r#""Nowhere/Town""#).is_err());
}

/// 2026 is the first release with the zones that changed late in 2025.
#[test]
fn the_data_is_known_by_its_release() {
    assert!(database_version() >= "2026f", "{}", database_version());
}

proptest! {
    #[test]
    fn there_and_back(seconds in 1_700_000_000i64..2_200_000_000, index in 0usize..6) {
        let zone = zone(["America/Chicago", "Europe/London", "Australia/Lord_Howe", "Asia/Kathmandu",
            "America/Phoenix", "Africa/Casablanca"][index]);
        let at = DateTime::from_timestamp(seconds, 0).unwrap();
        let local = zone.local(at);
        match zone.instants(local) {
            Instants::One(back) => prop_assert_eq!(back, at),
            Instants::Two(first, second) => {
                prop_assert!(first < second && (at == first || at == second));
            }
            Instants::Skipped(_) => prop_assert!(false, "{} exists", local),
        }
    }

    #[test]
    fn instants_never_go_back(seconds in 1_700_000_000i64..2_200_000_000, step in 1i64..7200) {
        let zone = zone("Australia/Lord_Howe");
        let local = DateTime::from_timestamp(seconds, 0).unwrap().naive_utc();
        let later = local + chrono::TimeDelta::seconds(step);
        prop_assert!(zone.instant(local) <= zone.instant(later));
    }
}
