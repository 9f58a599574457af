//! Draws every kind of picture of an invented home into a folder, to be looked at, and prints how long each took: in
//! milliseconds, and as a ratio to an empty picture in the same run.
//!
//! `cargo run --release -p loftwatch --example pictures -- FOLDER`

use std::path::PathBuf;
use std::time::Duration;

use bot::clock::mono;
use bot::draw;
use chrono::{NaiveDate, NaiveDateTime, TimeDelta};
use commands::ids::Tag;
use commands::picture::alarms::{Alarm, Step};
use commands::picture::coverage::Covered;
use commands::picture::fleet::Fleet;
use commands::picture::lives::Lives;
use commands::picture::readings::{Checked, Event, Readings, Trending};
use commands::picture::usual::Usual;
use commands::picture::waits::{Still, Waited};
use commands::picture::{self, Axis, Drawn, Picture, RowMarkKind, Rows, Upright};
use commands::rules::air::{INCH_TENTHS, MAX_DEPTH, Tenths};
use commands::rules::filter_life::{self, Span};
use commands::rules::fleet_size::Demand;
use commands::rules::hand_check::{Air, Band, Check, Why, judge};
use commands::rules::trend::{self, Point};
use commands::words::Lang;

/// As long as a tag may be.
const LONG_TAG: &str = "GARDEN-HOUSE-OVERLAY-0012";
/// Each is drawn so often; the median counts.
const TIMES: usize = 9;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args()
        .nth(1)
        .unwrap_or_else(|| "pictures".to_owned());
    let folder = PathBuf::from(folder);
    std::fs::create_dir_all(&folder)?;
    let empty = Picture {
        name: "empty.png".to_owned(),
        title: String::new(),
        about: String::new(),
        text: String::new(),
        drawn: Drawn::Rows(Rows {
            across: Axis::default(),
            rows: Vec::new(),
        }),
    };
    let (_, least) = timed(&empty)?;
    for (name, picture) in all()? {
        let (bytes, took) = timed(&picture)?;
        let ratio = took.as_secs_f64() / least.as_secs_f64();
        println!(
            "{name}: {:.1} ms, {ratio:.1} times an empty one, {} bytes",
            took.as_secs_f64() * 1_000.0,
            bytes.len()
        );
        println!("  {}", picture.text);
        std::fs::write(folder.join(format!("{name}.png")), bytes)?;
    }
    Ok(())
}

fn timed(picture: &Picture) -> Result<(Vec<u8>, Duration), draw::Undrawn> {
    let mut bytes = Vec::new();
    let mut took = Vec::new();
    for _ in 0..TIMES {
        let begin = mono();
        bytes = draw::png(picture)?;
        took.push(mono() - begin);
    }
    took.sort();
    Ok((bytes, took[TIMES / 2]))
}

fn all() -> Result<Vec<(String, Picture)>, Box<dyn std::error::Error>> {
    let mut all = Vec::new();
    for lang in [Lang::English, Lang::Spanish] {
        let code = lang.code();
        let mut add = |name: &str, picture: Picture| all.push((format!("{name}-{code}"), picture));
        let tag = Tag::from("LW-07");
        add("readings", picture::readings(lang, &weeks(&tag, lang)));
        add("readings-trend", picture::readings(lang, &losing(&tag)));
        add("readings-felt", picture::readings(lang, &felt(&tag, lang)));
        add("readings-few", picture::readings(lang, &few(&tag)));
        let long = Tag::from(LONG_TAG);
        add("readings-one", picture::readings(lang, &one(&long)));
        add("readings-many", picture::readings(lang, &many(&tag)));
        add(
            "readings-crowded",
            picture::readings(lang, &crowded(&tag, lang)),
        );
        let spans = looks();
        let masses = filter_life::turnbull(&spans).map_err(|fault| format!("{fault:?}"))?;
        let life = filter_life::life(&spans).map_err(|fault| format!("{fault:?}"))?;
        add(
            "lives",
            picture::lives(
                lang,
                &Lives {
                    tag: "LW-07",
                    of: "LW-07",
                    count: spans.len(),
                    masses: &masses,
                    life: &life,
                    apart: false,
                    half: life.age_at(0.5),
                    allowed: 0.1,
                    age: 0,
                    left: None,
                    cycle: life.cycle(0.0, 0.1, 30),
                },
            ),
        );
        add(
            "lives-older",
            picture::lives(
                lang,
                &Lives {
                    tag: LONG_TAG,
                    of: if lang == Lang::Spanish {
                        "toda la residencia"
                    } else {
                        "the whole home"
                    },
                    count: spans.len(),
                    masses: &masses,
                    life: &life,
                    apart: false,
                    half: life.age_at(0.5),
                    allowed: 0.2,
                    age: 9,
                    left: None,
                    cycle: life.cycle(9.0, 0.2, 30),
                },
            ),
        );
        let two = &spans[..2];
        let (masses, life) = (filter_life::turnbull(two), filter_life::steady(two));
        let (masses, life) = masses
            .and_then(|masses| Ok((masses, life?)))
            .map_err(|fault| format!("{fault:?}"))?;
        add(
            "lives-two",
            picture::lives(
                lang,
                &Lives {
                    tag: "LW-07",
                    of: "Garden House by the Old Mill",
                    count: 2,
                    masses: &masses,
                    life: &life,
                    apart: false,
                    half: life.age_at(0.5),
                    allowed: 0.05,
                    age: 0,
                    left: None,
                    cycle: life.cycle(0.0, 0.05, 365),
                },
            ),
        );
        for (name, load, owned) in [
            ("fleet", 18.0, 22),
            ("fleet-large", 300.0, 340),
            ("fleet-small", 0.4, 2),
            ("fleet-none", 3.0, 0),
            ("fleet-far", 12.0, 900),
        ] {
            let fleet = Fleet {
                range: None,
                demand: Demand::Open { load },
                promise: 0.02,
                owned,
            };
            let picture = picture::fleet(lang, &fleet).map_err(|fault| format!("{fault:?}"))?;
            add(name, picture);
        }
        for (name, values) in usual() {
            let readings: Vec<(NaiveDateTime, Tenths)> = values
                .into_iter()
                .zip(0..)
                .map(|(value, place)| (at(place / 2, [7, 19][place as usize % 2], 5), value))
                .collect();
            let found: Vec<f64> = readings.iter().map(|(_, air)| f64::from(air.0)).collect();
            let chart = trend::Chart::of(&found).ok_or("no chart")?;
            let of = Usual {
                tag: &tag,
                readings: &readings,
                chart: &chart,
                adequate: Tenths(INCH_TENTHS),
                inches: |tenths| format!("{:.2}", tenths / f64::from(INCH_TENTHS)),
            };
            add(name, picture::usual(lang, &of));
        }
        let span = "2026-11-01 to 2026-11-26";
        add("coverage", picture::coverage(lang, span, &rows(lang)));
        add("coverage-full", picture::coverage(lang, span, &full()));
        add("waits", waits(lang, span));
        let alarms = alarms(lang);
        add("alarm", picture::alarms(lang, "LW-07", &alarms[..1]));
        let shift = if lang == Lang::Spanish {
            "West, noche"
        } else {
            "West, night"
        };
        add("alarms", picture::alarms(lang, shift, &alarms));
    }
    Ok(all)
}

fn at(day: u32, hour: u32, minute: u32) -> NaiveDateTime {
    let first = NaiveDate::from_ymd_opt(2026, 10, 1).unwrap_or_default();
    let at = first + TimeDelta::days(i64::from(day));
    at.and_hms_opt(hour, minute, 0).unwrap_or_default()
}

fn checked(at: NaiveDateTime, air: Air) -> Checked {
    let judged = judge(air, Band::default());
    Checked {
        at,
        air,
        judged,
        felt: air == Air::Within,
    }
}

/// Eighths of an inch.
fn eighths(count: i32) -> Air {
    Air::Measured(Tenths((INCH_TENTHS * count + 4) / 8))
}

/// Five weeks of three checks a day, with all that can happen.
fn weeks<'a>(tag: &'a Tag, lang: Lang) -> Readings<'a> {
    let mut checks = Vec::new();
    for day in 0..36 {
        for (place, hour) in [7, 15, 23].into_iter().enumerate() {
            let wave = [9, 10, 11, 10, 12, 9, 8, 10, 11][(day as usize * 5 + place * 7) % 9];
            let air = match (day, hour) {
                (12, 15) => eighths(6),
                (12, 23) | (25, 7) => Air::Under1,
                (13, 7) => Air::Touching,
                (20, 15) => eighths(14),
                (21, 7) => Air::Over,
                (5, 23) | (17, 7) | (17, 15) | (30, 23) => Air::CouldNot(Why::Asleep),
                (35, 23) => continue,
                _ => eighths(wave),
            };
            checks.push(checked(at(day, hour, 10 + place as u32 * 5), air));
        }
    }
    let words = |english: &str, spanish: &str| {
        if lang == Lang::Spanish {
            spanish
        } else {
            english
        }
        .to_owned()
    };
    let event = |day, hour, kind, words| Event {
        at: at(day, hour, 0),
        kind,
        words,
    };
    Readings {
        tag,
        check: Check::Hand,
        band: Band::default(),
        from: at(0, 6, 0),
        to: at(35, 18, 0),
        checks,
        events: vec![
            event(0, 6, Upright::Moved, words("placed", "colocada")),
            event(
                8,
                9,
                Upright::Upkeep,
                words("filter replaced", "filtro cambiado"),
            ),
            event(13, 8, Upright::Alarm, words("low pressure", "presión baja")),
            event(13, 9, Upright::Setting, words("setting 5", "ajuste 5")),
            event(21, 10, Upright::Setting, words("setting 4", "ajuste 4")),
            event(26, 14, Upright::Moved, words("moved", "trasladada")),
            event(
                33,
                9,
                Upright::Upkeep,
                words("filter replaced", "filtro cambiado"),
            ),
        ],
        trend: None,
        left_out: 0,
    }
}

/// Two hundred checks of a surface that is looked at and felt.
fn felt<'a>(tag: &'a Tag, lang: Lang) -> Readings<'a> {
    let checks = (0..200u32).map(|place| {
        let air = match place {
            41 | 120 => Air::Under1,
            121 => Air::Touching,
            77 => Air::Over,
            _ if place % 23 == 5 => Air::CouldNot(Why::Asleep),
            _ => Air::Within,
        };
        checked(at(place / 3, [7, 15, 23][place as usize % 3], 10), air)
    });
    let checks = checks.collect();
    Readings {
        check: Check::LookAndFeel,
        to: at(67, 6, 0),
        checks,
        ..weeks(tag, lang)
    }
}

/// As [`weeks`], with many things at almost the same time, in long words, and a line through the readings.
fn crowded<'a>(tag: &'a Tag, lang: Lang) -> Readings<'a> {
    let long = match lang {
        Lang::English => "filter replaced after it was found clogged",
        Lang::Spanish => "filtro cambiado tras encontrarlo atascado",
    };
    let mut all = losing(tag);
    all.events = (0..12)
        .map(|nth| Event {
            at: at(6 + nth / 6, 8 + nth % 6, 10),
            kind: [Upright::Upkeep, Upright::Setting, Upright::Alarm][nth as usize % 3],
            words: match nth % 3 {
                0 => long.to_owned(),
                _ => format!("{nth}"),
            },
        })
        .collect();
    all
}

/// A surface that loses loft, with its line.
fn losing(tag: &Tag) -> Readings<'_> {
    let mut checks = Vec::new();
    let mut points = Vec::new();
    for place in 0..42 {
        let (day, hour) = (place / 3, [7, 15, 23][place as usize % 3]);
        let jitter = [0, 9, -7, 4, -11, 6, 12, -5][place as usize % 8];
        let tenths = 360 - place as i32 * 2 + jitter;
        let when = at(day, hour, 10);
        checks.push(checked(when, Air::Measured(Tenths(tenths))));
        points.push(Point {
            days: (when - at(0, 0, 0)).num_minutes() as f64 / 1_440.0,
            value: f64::from(tenths),
        });
    }
    let trending = trend::trend(&points).ok().map(|trend| {
        let newest_days = points.last().map_or(0.0, |point| point.days);
        Trending {
            since: at(0, 0, 0),
            oldest_days: points[0].days,
            newest_days,
            trend,
            crossing: trend.crossing(f64::from(INCH_TENTHS), true, newest_days),
            ahead: 28.0,
        }
    });
    Readings {
        tag,
        check: Check::Hand,
        band: Band::default(),
        from: at(0, 6, 0),
        to: at(14, 8, 0),
        checks,
        events: Vec::new(),
        trend: trending,
        left_out: 3,
    }
}

/// The day it came.
fn few(tag: &Tag) -> Readings<'_> {
    Readings {
        tag,
        check: Check::Hand,
        band: Band::default(),
        from: at(0, 9, 30),
        to: at(0, 17, 0),
        checks: vec![
            checked(at(0, 10, 5), eighths(10)),
            checked(at(0, 15, 40), eighths(7)),
        ],
        events: vec![Event {
            at: at(0, 9, 30),
            kind: Upright::Moved,
            words: "placed".to_owned(),
        }],
        trend: None,
        left_out: 0,
    }
}

/// One reading, much more than a surface gives.
fn one(tag: &Tag) -> Readings<'_> {
    Readings {
        checks: vec![checked(at(0, 10, 5), Air::Measured(MAX_DEPTH))],
        events: Vec::new(),
        ..few(tag)
    }
}

/// A year.
fn many(tag: &Tag) -> Readings<'_> {
    let mut checks = Vec::new();
    let mut events = Vec::new();
    for place in 0..1_095 {
        let wave = [9, 10, 11, 10, 12, 9, 8, 10, 11, 7, 13][place as usize * 7 % 11];
        checks.push(checked(
            at(place / 3, [7, 15, 23][place as usize % 3], 10),
            eighths(wave),
        ));
        if place % 29 == 0 {
            events.push(Event {
                at: at(place / 3, 12, 0),
                kind: [Upright::Alarm, Upright::Setting, Upright::Upkeep][place as usize / 29 % 3],
                words: ["low pressure", "setting 4", "filter replaced"][place as usize / 29 % 3]
                    .to_owned(),
            });
        }
    }
    Readings {
        tag,
        check: Check::Hand,
        band: Band::default(),
        from: at(0, 6, 0),
        to: at(365, 6, 0),
        checks,
        events,
        trend: None,
        left_out: 0,
    }
}

fn looks() -> Vec<Span> {
    let ends = [
        (12.0, 19.0),
        (14.0, 21.0),
        (7.0, 14.0),
        (16.0, 23.0),
        (20.0, 27.0),
        (13.0, 20.0),
        (21.0, 28.0),
        (10.0, 17.0),
    ];
    let dirty = ends.into_iter().map(|(after, by)| Span {
        after,
        by: Some(by),
    });
    let clean = [14.0, 9.0, 21.0]
        .into_iter()
        .map(|after| Span { after, by: None });
    dirty.chain(clean).collect()
}

fn rows(lang: Lang) -> Vec<Covered<'static>> {
    let names: [&str; 6] = if lang == Lang::Spanish {
        [
            "West, día",
            "West, tarde",
            "West, noche",
            "Garden House, día",
            "Garden House, tarde",
            "Garden House, noche",
        ]
    } else {
        [
            "West, day",
            "West, evening",
            "West, night",
            "Garden House, day",
            "Garden House, evening",
            "Garden House, night",
        ]
    };
    let counts = [(262, 270), (251, 270), (18, 20), (0, 0), (6, 6), (3, 11)];
    let row = |(name, (made, of))| Covered { name, made, of };
    names.into_iter().zip(counts).map(row).collect()
}

fn alarms(lang: Lang) -> Vec<Alarm> {
    let step = |minutes: i64, kind| Step {
        after: minutes * 60,
        kind,
    };
    let kind = if lang == Lang::Spanish {
        "presión baja"
    } else {
        "low pressure"
    };
    vec![
        Alarm {
            name: format!("LW-07, {kind}, 02:14"),
            steps: vec![
                step(5, RowMarkKind::Asked),
                step(10, RowMarkKind::Asked),
                step(12, RowMarkKind::Taken),
                step(16, RowMarkKind::Safe),
                step(41, RowMarkKind::Fixed),
            ],
            open_for: None,
        },
        Alarm {
            name: format!("LW-19, {kind}, 03:40"),
            steps: vec![
                step(1, RowMarkKind::Taken),
                step(3, RowMarkKind::Safe),
                step(6, RowMarkKind::Fixed),
            ],
            open_for: None,
        },
        Alarm {
            name: format!("LW-21, {kind}, 06:31"),
            steps: vec![step(5, RowMarkKind::Asked), step(7, RowMarkKind::Taken)],
            open_for: Some(19 * 60),
        },
    ]
}

/// Readings of one control unit: with two that stand out, and all the same.
fn usual() -> [(&'static str, Vec<Tenths>); 2] {
    let wave = [9, 10, 11, 10, 12, 9, 10, 10, 11, 10];
    let eighth = |count: i32| Tenths((INCH_TENTHS * count + 4) / 8);
    let mut values: Vec<Tenths> = (0..40).map(|place| eighth(wave[place % 10])).collect();
    values[17] = eighth(4);
    values[31] = eighth(18);
    [("usual", values), ("usual-same", vec![eighth(10); 10])]
}

/// As many rows as a picture has room for, with long names, of more.
fn full() -> Vec<Covered<'static>> {
    let row = |place: u32| Covered {
        name: "Garden House by the Old Mill, shift from 23:00",
        made: 30 - place % 9,
        of: 30,
    };
    (0..30).map(row).collect()
}

fn waits(lang: Lang, span: &str) -> Picture {
    let row = |name, count, half, most| Waited {
        name,
        count,
        few: count < 5,
        half,
        most,
        still: None,
    };
    let still = |count, longest| Some(Still { count, longest });
    let rows = [
        row("All together", 31, Some(3.0), Some(14.0)),
        row("West, shift from 07:00", 14, Some(2.0), Some(6.0)),
        row("West, shift from 23:00", 12, Some(6.0), None),
        row(
            "Garden House by the Old Mill, shift from 23:00",
            4,
            Some(1.0),
            Some(41.0),
        ),
        Waited {
            still: still(1, 5.4),
            ..row("Hill, shift from 15:00", 1, None, None)
        },
        Waited {
            still: still(2, 19.0),
            ..row("Hill, shift from 23:00", 4, Some(3.0), Some(9.0))
        },
    ];
    picture::waits(lang, span, &rows, &|time| format!("{time:.0} min"))
}
