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
use crate::rules::filter_life::{self, Cycle, Life, Mass, Span};
use crate::rules::fleet_size::Demand;
use crate::rules::hand_check::{Air, Band, Check, Why, judge};
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
                felt: false,
            }
        })
        .collect();
    let picture = readings(
        Lang::English,
        &Readings {
            tag: &tag,
            check: Check::Hand,
            band: Band::default(),
            from: at(0),
            to: at(365 * 24),
            checks,
            events: Vec::new(),
            trend: None,
            left_out: 0,
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

/// A filter of nine days, of whose kind one in five may be dirty when it is looked at; the picture and where its promise lies.
fn of_an_older_filter(masses: &[Mass], life: &Life, cycle: Cycle) -> (Picture, i64) {
    let picture = lives(
        Lang::English,
        &Lives {
            tag: "LW-07",
            of: "LW-07",
            count: 4,
            masses,
            life,
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
    (picture, level.unwrap())
}

/// Where what was seen says more dirty ones than the curve, the days come from it, and the promise is of those that were clean by it.
#[test]
fn the_promise_is_of_those_clean_by_what_the_days_come_from() {
    let span = |after: f64, by: f64| Span {
        after,
        by: Some(by),
    };
    let spans = [span(5.0, 30.0), span(10.0, 40.0)];
    let life = filter_life::steady(&spans).unwrap();
    let cycle = life.cycle(9.0, 0.2, 365).unwrap();
    let mass = |after, by, share| Mass {
        after,
        by: Some(by),
        share,
    };
    // Four of five days of the first have passed, so 20 % were dirty, and 80 % of the 80 % are promised.
    let masses = [mass(5.0, 10.0, 0.25), mass(10.0, 14.0, 0.75)];
    let (_, level) = of_an_older_filter(&masses, &life, cycle);
    assert_eq!(level, 640_000);
    // The same shares, later than the curve has them: by the curve.
    let masses = [mass(5.0, 10.0, 0.25), mass(90.0, 99.0, 0.75)];
    let (_, level) = of_an_older_filter(&masses, &life, cycle);
    let clean = 1.0 - life.dirty_by(9.0).unwrap();
    assert_eq!(level, axis::millionths(clean * 0.8));
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
    let (picture, level) = of_an_older_filter(&masses, &life, cycle);
    let clean = |day: u32| axis::WHOLE - axis::millionths(life.dirty_by(f64::from(day)).unwrap());
    let day = 9 + cycle.days;
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
            range: None,
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
            check: Check::Hand,
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
            left_out: 0,
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

fn row_marks(row: &Row) -> Vec<(i64, RowMarkKind)> {
    row.marks.iter().map(|mark| (mark.at, mark.kind)).collect()
}

fn rows(picture: &Picture) -> &[Row] {
    match &picture.drawn {
        Drawn::Rows(rows) => &rows.rows,
        Drawn::Chart(_) => panic!("no rows"),
    }
}

fn found(airs: &[Air]) -> Vec<readings::Checked> {
    let checks = airs.iter().zip(0..).map(|(air, place)| Checked {
        at: at(place * 8),
        air: *air,
        judged: judge(*air, Band::default()),
        felt: *air == Air::Within,
    });
    checks.collect()
}

fn of<'a>(tag: &'a Tag, check: Check, checks: Vec<Checked>) -> Readings<'a> {
    let to = checks.last().map_or(at(0), |last| last.at);
    Readings {
        tag,
        check,
        band: Band::default(),
        from: at(0),
        to,
        checks,
        events: Vec::new(),
        trend: None,
        left_out: 0,
    }
}

/// Hands first, then looks: the looks are no bars over the band, and are told apart.
#[test]
fn hands_and_looks_at_one_placement_are_drawn_as_what_they_are() {
    let tag = Tag::from("LW-28");
    let inch = Air::Measured(Tenths(INCH_TENTHS));
    let mut checks = found(&[inch, inch, Air::Within, Air::Under1]);
    checks[3].felt = true;
    let picture = readings(Lang::English, &of(&tag, Check::LookAndFeel, checks));
    let hands = layers(&picture).iter().find_map(|layer| match layer {
        Layer::Marks(marks) => Some(marks.iter().map(|mark| mark.at).collect::<Vec<_>>()),
        _ => None,
    });
    assert_eq!(hands.unwrap(), [moment(at(0)), moment(at(8))]);
    let felt = layers(&picture).iter().find_map(|layer| match layer {
        Layer::Felt { marks, .. } => Some(marks.clone()),
        _ => None,
    });
    let wanted = [
        (moment(at(16)), MarkKind::Good),
        (moment(at(24)), MarkKind::Low),
    ];
    assert_eq!(felt.unwrap(), wanted);
    assert!(
        picture.text.contains("Of these 2 were looked at and felt"),
        "{}",
        picture.text
    );
    // Where no hand is left among them there are no inches at all, whatever its profile says by now.
    let looks = found(&[Air::Within, Air::Within, Air::CouldNot(Why::Asleep)]);
    let picture = readings(Lang::English, &of(&tag, Check::Hand, looks));
    assert_eq!(rows(&picture).len(), 2);
}

/// Nobody who listens takes eight for all.
#[test]
fn how_much_more_happened_is_said() {
    let tag = Tag::from("LW-28");
    let mut of = of(
        &tag,
        Check::Hand,
        found(&[Air::Measured(Tenths(INCH_TENTHS))]),
    );
    of.events = (0..11)
        .map(|hour| readings::Event {
            at: at(hour),
            kind: Upright::Upkeep,
            words: "filter replaced".to_owned(),
        })
        .collect();
    let picture = readings(Lang::English, &of);
    assert!(
        picture.text.contains("; and 3 more, older"),
        "{}",
        picture.text
    );
}

/// A wait of 4 min 10 s is said as 5 min, and stands there.
#[test]
fn a_wait_stands_where_it_is_said() {
    let row = super::waits::Waited {
        name: "West",
        count: 9,
        few: false,
        half: Some(4.0 + 1.0 / 6.0),
        most: Some(61.5),
        still: Some(super::waits::Still {
            count: 1,
            longest: 70.9,
        }),
    };
    let said = |time| super::lasted(Lang::English, time);
    let picture = super::waits(Lang::English, "March", &[row], &said);
    let marks: Vec<i64> = rows(&picture)[0].marks.iter().map(|mark| mark.at).collect();
    assert_eq!(marks, [5 * 60, 62 * 60, 70 * 60]);
    assert!(
        picture.text.contains("5 min") && picture.text.contains("1 h 2 min"),
        "{}",
        picture.text
    );
}

/// The fewest keep it, one fewer does not, and is of another shape; nobody is told that none will ever find none.
#[test]
fn what_breaks_the_promise_looks_like_it_and_the_range_is_told() {
    let open = |load| Demand::Open { load };
    let fleet = Fleet {
        demand: open(12.0),
        range: Some([open(10.0), open(14.0)]),
        promise: 0.02,
        owned: 18,
    };
    let picture = fleet::fleet(Lang::English, &fleet).unwrap();
    let marks = layers(&picture).iter().find_map(|layer| match layer {
        Layer::Marks(marks) => Some(marks),
        _ => None,
    });
    let kind = |count: i64| {
        marks
            .unwrap()
            .iter()
            .find(|mark| mark.at == count)
            .unwrap()
            .kind
    };
    assert_eq!(
        [kind(18), kind(19), kind(20)],
        [MarkKind::High, MarkKind::Chosen, MarkKind::Plain]
    );
    let area = layers(&picture).iter().find_map(|layer| match layer {
        Layer::Between { points } => Some(points),
        _ => None,
    });
    let curve = |load: f64| axis::millionths(open(load).shortfall(18).unwrap());
    assert!(area.unwrap().contains(&(18, curve(10.0), curve(14.0))));
    assert!(
        picture
            .text
            .contains("By your records it may be more or less"),
        "{}",
        picture.text
    );
    let many = fleet::fleet(Lang::English, &Fleet { owned: 60, ..fleet }).unwrap();
    assert!(
        many.text.contains("under 1 in 1,000 find none"),
        "{}",
        many.text
    );
}

#[test]
fn what_is_looked_at_and_felt_has_a_row_for_each_outcome_and_no_inches() {
    let tag = Tag::from("LW-28");
    let mut airs = [Air::Within].repeat(200);
    (airs[40], airs[90], airs[91]) = (Air::Under1, Air::CouldNot(Why::Asleep), Air::Over);
    let mut of = of(&tag, Check::LookAndFeel, found(&airs));
    let event = |hours, kind, words: &str| readings::Event {
        at: at(hours),
        kind,
        words: words.to_owned(),
    };
    of.events = vec![
        event(0, Upright::Moved, "placed"),
        event(30, Upright::Upkeep, "filter replaced"),
        event(321, Upright::Alarm, "Low pressure"),
        event(500, Upright::Upkeep, "filter replaced"),
    ];
    let picture = readings(Lang::English, &of);
    let told: Vec<_> = rows(&picture)
        .iter()
        .map(|row| (row.name.as_str(), row.marks.len()))
        .collect();
    let wanted = [
        ("looked and felt right", 197),
        ("low", 1),
        ("high", 1),
        ("could not check", 1),
        ("filter replaced", 2),
        ("Low pressure", 1),
        ("placed", 1),
    ];
    assert_eq!(told, wanted);
    let low = [(moment(at(40 * 8)), RowMarkKind::Low)];
    assert_eq!(row_marks(&rows(&picture)[1]), low);
    assert!(rows(&picture).iter().all(|row| row.stretches.is_empty()));
    assert_eq!(
        picture.text,
        "Picture of how LW-28 looked and felt, 1 Dec 2025 to 5 Feb 2026. Checks: 197 looked and felt right, 1 low, 1 high, \
         1 could not be made. Newest, 5 Feb 15:00: looked and felt right. What happened, newest first: 22 Dec 03:00: filter \
         replaced; 14 Dec 16:00: Low pressure; 2 Dec 13:00: filter replaced; 1 Dec 07:00: placed."
    );
    for lang in [Lang::English, Lang::Spanish] {
        let picture = readings(lang, &of);
        assert!(!picture.text.contains(" in"), "{}", picture.text);
    }
    // Measured before its maker's rule was known: the inches are drawn.
    let mut checks = of.checks.clone();
    checks[0].air = Air::Measured(Tenths(INCH_TENTHS));
    of.checks = checks;
    let Drawn::Chart(chart) = readings(Lang::English, &of).drawn else {
        panic!("no chart");
    };
    // Words of alarms have room first, then those of moves, then those of upkeep, the newest before older ones.
    let words: Vec<_> = chart
        .layers
        .iter()
        .filter_map(|layer| match layer {
            Layer::Upright { label, .. } => Some(label.as_str()),
            _ => None,
        })
        .collect();
    let upkeep = "filter replaced";
    assert_eq!(words, ["Low pressure", "placed", upkeep, upkeep]);
}

#[test]
fn the_lowest_is_the_lowest_of_all_that_is_drawn() {
    let tag = Tag::from("LW-07");
    let one = |tenths| Air::Measured(Tenths(tenths));
    let inch = one(INCH_TENTHS);
    for (airs, said, drawn) in [
        (
            &[one(0), inch, inch][..],
            "Lowest, 1 Dec 07:00: 0 in.",
            "lowest 0 in",
        ),
        (
            &[inch, Air::Touching, inch],
            "Lowest, 1 Dec 15:00: no air.",
            "lowest no air",
        ),
        (
            &[one(127), Air::Under1, one(300)],
            "Lowest, 1 Dec 15:00: under 1 in. Lowest with a number, 1 Dec 07:00: ½ in.",
            "lowest under 1 in",
        ),
        (
            &[inch, one(127), inch],
            "Lowest, 1 Dec 15:00: ½ in.",
            "lowest ½ in",
        ),
        // None is lower than the newest, and of several that are the same the newest is named.
        (&[inch, inch], "", ""),
        (&[inch, Air::Under1], "", ""),
        (
            &[one(127), one(127), inch],
            "Lowest, 1 Dec 15:00: ½ in.",
            "lowest ½ in",
        ),
        (
            &[inch, Air::Within, Air::CouldNot(Why::Asleep)],
            "Lowest, 1 Dec 07:00: 1 in.",
            "",
        ),
    ] {
        let picture = readings(Lang::English, &of(&tag, Check::Hand, found(airs)));
        let told = picture.text.split_once("Lowest").map(|(_, rest)| rest);
        let told = told.map_or_else(String::new, |rest| format!("Lowest{rest}"));
        assert_eq!(told, said, "{airs:?}");
        let marks = layers(&picture).iter().filter_map(|layer| match layer {
            Layer::Marks(marks) => Some(marks),
            _ => None,
        });
        let labels: Vec<&str> = marks
            .flatten()
            .map(|mark| mark.label.as_str())
            .filter(|label| label.starts_with("lowest") && !drawn.is_empty())
            .collect();
        let wanted: Vec<&str> = [drawn]
            .into_iter()
            .filter(|label| !label.is_empty())
            .collect();
        assert_eq!(labels, wanted, "{airs:?}");
    }
}

#[test]
fn what_is_not_on_the_line_is_counted() {
    let tag = Tag::from("LW-07");
    let mut of = of(
        &tag,
        Check::Hand,
        found(&[Air::Measured(Tenths(INCH_TENTHS))]),
    );
    assert_eq!(readings(Lang::English, &of).about, "1 Dec");
    for (left_out, said) in [
        (1, "1 Dec; one check is not on the line, and left out"),
        (3, "1 Dec; 3 checks are not on the line, and left out"),
    ] {
        of.left_out = left_out;
        let picture = readings(Lang::English, &of);
        assert_eq!(picture.about, said);
        assert!(picture.text.contains(said), "{}", picture.text);
    }
}

#[test]
fn one_that_still_waits_is_a_bar_up_to_now_with_an_arrow() {
    let row = |count, half, still, longest| waits::Waited {
        name: "West",
        count,
        few: true,
        half,
        most: None,
        still: Some(waits::Still {
            count: still,
            longest,
        }),
    };
    let draw = |row| {
        waits(Lang::English, "March", &[row], &|time| {
            lasted(Lang::English, time)
        })
    };
    // Five minutes and 54 seconds are longer than five minutes, and not longer than six: it stands where it is said.
    let one = draw(row(1, None, 1, 5.9));
    let drawn = &rows(&one)[0];
    assert_eq!(row_marks(drawn), [(300, RowMarkKind::Still)]);
    let bar = Stretch {
        from: 0,
        to: 300,
        kind: StretchKind::Waiting,
    };
    assert_eq!(drawn.stretches, [bar]);
    assert_eq!(across(&one).to, 300);
    assert!(
        one.text
            .ends_with("West: 1 alarm, still waiting, longer than 5 min."),
        "{}",
        one.text
    );
    // One was taken after three minutes, another waits on: the bar goes on to now.
    let two = draw(row(2, Some(3.0), 1, 8.0));
    let ends: Vec<_> = rows(&two)[0]
        .stretches
        .iter()
        .map(|one| (one.from, one.to))
        .collect();
    assert_eq!(ends, [(0, 180), (180, 480)]);
    assert!(
        two.text.contains("one still waiting, longer than 8 min"),
        "{}",
        two.text
    );
    for (longest, said) in [
        (0.5, "still waiting."),
        (1.0, "still waiting, longer than 1 min."),
        (59.99, "longer than 59 min."),
        (4_379.0, "longer than 3 days."),
    ] {
        let text = draw(row(1, None, 1, longest)).text;
        assert!(text.ends_with(said), "{text}");
    }
}

/// One alarm has a row for each step, each from where the one before ended; of many calls the first have rows.
#[test]
fn one_alarm_is_a_stair() {
    let step = |after, kind| super::alarms::Step { after, kind };
    let mut steps = vec![step(0, RowMarkKind::Opened)];
    steps.extend((1..=12).map(|n| step(n * 300, RowMarkKind::Asked)));
    steps.push(step(4_000, RowMarkKind::Taken));
    steps.push(step(4_300, RowMarkKind::Fixed));
    let alarm = super::alarms::Alarm {
        name: "LW-28".to_owned(),
        steps,
        open_for: None,
    };
    let picture = super::alarms::alarms(Lang::English, "LW-28", &[alarm]);
    let marks: Vec<_> = rows(&picture).iter().flat_map(row_marks).collect();
    let mut expected = vec![(0, RowMarkKind::Opened)];
    expected.extend((1..=8).map(|n| (n * 300, RowMarkKind::Asked)));
    expected.push((4_000, RowMarkKind::Taken));
    expected.push((4_300, RowMarkKind::Fixed));
    assert_eq!(marks, expected);
}

/// Half an inch above the band, or a little above the highest reading where that is higher.
#[test]
fn a_picture_of_readings_is_as_high_as_it_must_be() {
    let tag = Tag::from("LW-28");
    let top = |tenths: i32| {
        let airs = [Air::Measured(Tenths(tenths)), Air::Touching];
        let of = of(&tag, Check::Hand, found(&airs));
        let Drawn::Chart(chart) = readings(Lang::English, &of).drawn else {
            panic!("no chart")
        };
        chart.up.to
    };
    let (inch, band) = (i64::from(INCH_TENTHS), i64::from(Band::default().high.0));
    assert_eq!(top(0), band + inch / 2);
    assert_eq!(top(INCH_TENTHS), band + inch / 2);
    assert_eq!(top(3 * INCH_TENTHS), 3 * inch + inch / 2 / 4);
}
