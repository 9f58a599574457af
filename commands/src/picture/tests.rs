//! What stands in pictures, by values that are known by heart; how they are drawn is looked at dot by dot in `bot`.

#![expect(
    clippy::wildcard_enum_match_arm,
    reason = "one kind of layer is looked for"
)]

use chrono::{NaiveDate, NaiveDateTime, TimeDelta};

use super::coverage::Covered;
use super::fleet::Fleet;
use super::lives::Lives;
use super::readings::{Checked, Readings, Trending};
use super::usual::Usual;
use super::*;
use crate::ids::Tag;
use crate::rules::air::{INCH_TENTHS, Tenths};
use crate::rules::filter_life::{self, Span};
use crate::rules::fleet_size::Demand;
use crate::rules::hand_check::{Air, Band, judge};
use crate::rules::trend;
use crate::words::Lang;

fn at(hours: i64) -> NaiveDateTime {
    let first = NaiveDate::from_ymd_opt(2025, 12, 1).unwrap();
    first.and_hms_opt(7, 0, 0).unwrap() + TimeDelta::hours(hours)
}

fn layers(picture: &Picture) -> &[Layer] {
    match &picture.drawn {
        Drawn::Chart(chart) => &chart.layers,
        Drawn::Rows(_) => panic!("no chart"),
    }
}

fn uprights(picture: &Picture, of: Upright) -> Vec<(i64, &str)> {
    let found = layers(picture).iter().filter_map(|layer| match layer {
        Layer::Upright { at, kind, label } if *kind == of => Some((*at, label.as_str())),
        _ => None,
    });
    found.collect()
}

#[test]
fn a_year_of_readings_begins_with_the_first_that_is_drawn() {
    let tag = Tag::from("LW-07");
    let checks: Vec<Checked> = (0..1_095)
        .map(|place| {
            let air = Air::Measured(Tenths(INCH_TENTHS));
            let judged = judge(air, Band::default());
            Checked {
                at: at(place * 8),
                air,
                judged,
            }
        })
        .collect();
    let picture = readings(
        Lang::English,
        &Readings {
            tag: &tag,
            band: Band::default(),
            from: at(0),
            to: at(365 * 24),
            checks,
            events: Vec::new(),
            trend: None,
        },
    );
    // 595 of 1,095 are left out; the 596th is 595 times 8 hours after 07:00 of 1 December: 198 days and 8 hours, 17 June.
    assert_eq!(picture.about, "17 Jun to 1 Dec; the newest 500 of 1095");
    let Drawn::Chart(chart) = &picture.drawn else {
        panic!("no chart")
    };
    assert_eq!(chart.across.from, moment(at(595 * 8)));
    assert!(picture.text.contains("500 adequate"), "{}", picture.text);
}

#[test]
fn days_of_two_years_say_which() {
    let span = axis::span(Lang::English, at(0), at(40 * 24));
    assert_eq!(span, "1 Dec 2025 to 10 Jan 2026");
    assert_eq!(axis::span(Lang::English, at(0), at(24)), "1 Dec to 2 Dec");
}

/// Limits that whole percents would make one are told apart by a tenth: 9,700 of 10,000 are 96.6% to 97.3% by Wilson's interval.
#[test]
fn a_narrow_interval_has_two_ends() {
    let row = coverage::Covered {
        name: "all",
        made: 9_700,
        of: 10_000,
    };
    let picture = coverage::coverage(Lang::English, "November", &[row]);
    assert!(picture.text.contains("96.6% to 97.3%"), "{}", picture.text);
}

/// Of filters that were clean at an age, the promise is of those, and the next look is the last day that keeps it.
#[test]
fn the_next_look_at_an_older_filter_is_where_its_promise_ends() {
    let span = |after: f64, by: f64| Span {
        after,
        by: Some(by),
    };
    let spans = [
        span(5.0, 10.0),
        span(10.0, 20.0),
        span(20.0, 30.0),
        span(25.0, 35.0),
    ];
    let life = filter_life::steady(&spans).unwrap();
    let masses = filter_life::turnbull(&spans).unwrap();
    let cycle = life.cycle(9.0, 0.2, 365).unwrap();
    let picture = lives(
        Lang::English,
        &Lives {
            tag: "LW-07",
            of: "LW-07",
            count: 4,
            masses: &masses,
            life: &life,
            apart: false,
            half: life.age_at(0.5),
            allowed: 0.2,
            age: 9,
            left: None,
            cycle: Some(cycle),
        },
    );
    let level = layers(&picture).iter().find_map(|layer| match layer {
        Layer::Level { at, .. } => Some(*at),
        _ => None,
    });
    let clean = |day: u32| axis::WHOLE - axis::millionths(life.dirty_by(f64::from(day)).unwrap());
    let day = 9 + cycle.days;
    let level = level.unwrap();
    assert!(clean(day) >= level && level > clean(day + 1), "{level}");
    assert_eq!(
        uprights(&picture, Upright::Chosen),
        [(
            i64::from(day) * DAY,
            format!("next look on day {day}").as_str()
        )]
    );
}

#[test]
fn far_more_than_are_needed_leave_room_for_the_curve() {
    let of = |owned| {
        let fleet = Fleet {
            demand: Demand::Open { load: 12.0 },
            promise: 0.02,
            owned,
        };
        fleet::fleet(Lang::English, &fleet).unwrap()
    };
    let end = |picture: &Picture| match &picture.drawn {
        Drawn::Chart(chart) => chart.across.to,
        Drawn::Rows(_) => panic!("no chart"),
    };
    // Tables of Erlang's loss formula at 2 % (from memory): 18 lines carry 11.5 erlang, 19 carry 12.3; so 12 need 19.
    let far = of(900);
    assert_eq!(uprights(&far, Upright::Chosen), [(19, "enough: 19")]);
    assert_eq!(uprights(&far, Upright::Now), [(900, "owned today: 900 →")]);
    assert_eq!(end(&far), 41);
    assert_eq!(uprights(&of(22), Upright::Now), [(22, "owned today: 22")]);
    assert_eq!(end(&of(22)), 25);
}

#[test]
fn a_reading_that_stands_out_has_its_shape_and_its_words() {
    let tag = Tag::from("LW-07");
    let mut values = [254, 270, 260, 250, 264, 256, 262, 258, 266, 252].to_vec();
    values[6] = 120;
    let readings: Vec<(NaiveDateTime, Tenths)> = values
        .iter()
        .enumerate()
        .map(|(place, air)| (at(place as i64 * 8), Tenths(*air)))
        .collect();
    let found: Vec<f64> = values.iter().map(|air| f64::from(*air)).collect();
    let chart = trend::Chart::of(&found).unwrap();
    let picture = usual(
        Lang::English,
        &Usual {
            tag: &tag,
            readings: &readings,
            chart: &chart,
            adequate: Tenths(INCH_TENTHS),
            inches: |tenths| format!("{:.2}", tenths / f64::from(INCH_TENTHS)),
        },
    );
    let out: Vec<&Mark> = layers(&picture)
        .iter()
        .filter_map(|layer| match layer {
            Layer::Marks(marks) => Some(marks),
            _ => None,
        })
        .flatten()
        .filter(|mark| chart.stands_out(mark.from as f64))
        .collect();
    let low: Vec<_> = out.iter().map(|mark| (mark.from, mark.kind)).collect();
    assert_eq!(low, [(120, MarkKind::Low)]);
    assert!(!out[0].label.is_empty());
    assert!(picture.text.contains("One stands out"), "{}", picture.text);
}

fn across(picture: &Picture) -> &Axis {
    match &picture.drawn {
        Drawn::Chart(chart) => &chart.across,
        Drawn::Rows(rows) => &rows.across,
    }
}

#[test]
fn shares_near_to_each_other_are_told_apart_and_the_axis_says_where_it_begins() {
    let of = |made: &[u32]| {
        let rows: Vec<Covered<'_>> = made
            .iter()
            .map(|made| Covered {
                name: "West, night",
                made: *made,
                of: 1_000,
            })
            .collect();
        coverage(Lang::English, "March", &rows)
    };
    // Wilson by scipy 1.17.1 for 940 of 1000: 0.9235 to 0.9531; the next multiple of five below is 90 %.
    let near = of(&[940, 970]);
    assert_eq!((across(&near).from, across(&near).to), (900_000, 1_000_000));
    assert_eq!(across(&near).ticks[0].label, "90%");
    assert_eq!(near.about, "March; the axis begins at 90%");
    // Two shares that are three in a hundred apart are three tenths of the axis apart.
    let Drawn::Rows(rows) = &near.drawn else {
        panic!("no rows")
    };
    let apart = rows.rows[1].marks[0].at - rows.rows[0].marks[0].at;
    assert_eq!(apart * 10, (across(&near).to - across(&near).from) * 3);
    // From nothing where a share is that low, and where none is known.
    for none in [of(&[200, 970]), of(&[])] {
        assert_eq!(across(&none).from, 0);
        assert_eq!(none.about, "March");
    }
}

#[test]
fn every_share_is_read_out_with_where_it_likely_lies() {
    for (lang, name, part) in [
        (
            Lang::English,
            "Garden House by the Mill, shift from 23:00",
            "30 of 30, 89% to 100%",
        ),
        (
            Lang::Spanish,
            "Garden House West, turno desde las 23:00",
            "30 de 30, de 89 % a 100 %",
        ),
    ] {
        let row = Covered {
            name,
            made: 30,
            of: 30,
        };
        // As many as one picture of a report has. Wilson for 30 of 30: 1 / (1 + 1.96² / 30) = 0.8865.
        let picture = coverage(lang, "2026-03-01 to 2026-03-31", &[row; waits::ROWS_MAX]);
        let told = picture.text.matches(part).count();
        assert_eq!(told, waits::ROWS_MAX, "{}", picture.text);
    }
}

#[test]
fn where_a_trend_meets_the_limit_is_marked() {
    let tag = Tag::from("LW-07");
    let points: Vec<trend::Point> = (0..40)
        .map(|nth| trend::Point {
            days: f64::from(nth),
            value: 420.0 - 4.0 * f64::from(nth),
        })
        .collect();
    let line = trend::trend(&points).unwrap();
    let crossing = line.crossing(f64::from(INCH_TENTHS), true, 39.0);
    let picture = readings(
        Lang::English,
        &Readings {
            tag: &tag,
            band: Band::default(),
            from: at(0),
            to: at(39 * 24),
            checks: Vec::new(),
            events: Vec::new(),
            trend: Some(Trending {
                since: at(0),
                oldest_days: 0.0,
                newest_days: 39.0,
                trend: line,
                crossing,
                ahead: 28.0,
            }),
        },
    );
    let chosen = layers(&picture).iter().find_map(|layer| match layer {
        Layer::Marks(marks) => marks.iter().find(|mark| mark.kind == MarkKind::Chosen),
        _ => None,
    });
    // From 420 by 4 a day to 254 in 41.5 days.
    let chosen = chosen.expect("it is marked");
    assert_eq!(chosen.from, i64::from(INCH_TENTHS));
    assert_eq!(chosen.at, moment(at(41 * 24 + 12)));
    assert_eq!(uprights(&picture, Upright::Chosen)[0].0, chosen.at);
}
