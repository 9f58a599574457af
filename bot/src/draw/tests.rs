//! Pictures dot by dot: marks stand where values say, words on the sheet and over no others, colours are told apart.

use chrono::{NaiveDate, NaiveDateTime, TimeDelta};
use commands::ids::Tag;
use commands::picture::coverage::Covered;
use commands::picture::readings::{Checked, Event, Readings};
use commands::picture::usual::Usual;
use commands::picture::waits::{Still, Waited};
use commands::picture::{self, Axis, Chart, Layer, Level, Line, Mark, MarkKind, Tick, Upright};
use commands::rules::air::{INCH_TENTHS, MAX_DEPTH, Tenths};
use commands::rules::hand_check::{Air, Band, Check, Why, judge};
use commands::rules::trend;
use commands::words::Lang;
use plotters::style::RGBColor;
use proptest::prelude::*;

use super::*;

/// The smallest height of letters for a picture that a phone shows at 390 points: 44 dots of type are 14 points on it.
const TYPE_LEAST: i32 = 44;

fn picture(drawn: Drawn) -> Picture {
    Picture {
        name: "a.png".into(),
        title: "LW-07: air under the person".into(),
        about: String::new(),
        text: "In words.".into(),
        drawn,
    }
}

fn chart(layers: Vec<Layer>) -> Picture {
    let ticks = [0, 500, 1_000].map(|at| Tick {
        at,
        label: at.to_string(),
    });
    let axis = || Axis {
        from: 0,
        to: 1_000,
        ticks: ticks.to_vec(),
        title: String::new(),
    };
    picture(Drawn::Chart(Chart {
        across: axis(),
        up: axis(),
        layers,
    }))
}

fn mark(at: i64, up: i64, kind: MarkKind) -> Mark {
    Mark {
        at,
        from: up,
        to: up,
        kind,
        label: String::new(),
    }
}

/// The dots of a colour, from left to right.
fn dots_of(drawing: &Drawing, color: RGBColor) -> Vec<(i32, i32)> {
    let wanted = [color.0, color.1, color.2];
    let dots = drawing.dots.chunks_exact(3).enumerate();
    let mut found: Vec<(i32, i32)> = dots
        .filter(|(_, dot)| **dot == wanted)
        .map(|(place, _)| {
            let place = place as i32;
            (place % WIDTH as i32, place / WIDTH as i32)
        })
        .collect();
    found.sort_unstable();
    found
}

fn middle(dots: &[(i32, i32)]) -> (i32, i32) {
    let count = dots.len() as i32;
    let sum = dots
        .iter()
        .fold((0, 0), |sum, dot| (sum.0 + dot.0, sum.1 + dot.1));
    (sum.0 / count, sum.1 / count)
}

/// Words on the sheet, over no others, and large enough to be read.
fn tidy(drawing: &Drawing) {
    let sheet = Spot {
        left: 0,
        top: 0,
        right: drawing.width as i32,
        bottom: drawing.height as i32,
    };
    for (place, words) in drawing.words.iter().enumerate() {
        assert!(sheet.holds(words), "{words:?} leaves {sheet:?}");
        assert!(
            words.bottom - words.top >= TYPE_LEAST,
            "{words:?} are small"
        );
        let other = drawing.words[..place]
            .iter()
            .find(|other| other.meets(words));
        assert_eq!(other, None, "{words:?} stand over others");
        let mark = drawing.marks.iter().find(|mark| mark.meets(words));
        assert_eq!(mark, None, "{words:?} stand over a mark");
    }
}

/// How many pieces of words have this width: words are looked for by what they measure.
fn said(drawing: &Drawing, kind: paper::Type, text: &str) -> usize {
    let wide = kind.width(text);
    let of = |spot: &&Spot| spot.right - spot.left == wide;
    drawing.words.iter().filter(of).count()
}

fn upright(at: i64, label: &str) -> Layer {
    Layer::Upright {
        at,
        kind: Upright::Upkeep,
        label: label.into(),
    }
}

#[test]
fn every_line_of_what_happened_has_its_words_or_a_number_that_the_key_explains() {
    // Room for both: each has its words.
    let two = [
        upright(100, "filter replaced"),
        upright(900, "filter replaced"),
    ];
    let drawing = drawn(&chart(two.to_vec())).unwrap();
    tidy(&drawing);
    assert_eq!(said(&drawing, paper::Type::Plain, "filter replaced"), 2);
    // No room: numbers, and the words once, below the chart.
    let words = "se cambió el filtro de la unidad de control por otro";
    let many: Vec<Layer> = (0..24).map(|nth| upright(480 + nth, words)).collect();
    let drawing = drawn(&chart(many)).unwrap();
    tidy(&drawing);
    assert_eq!(said(&drawing, paper::Type::Plain, words), 1);
    // Above the lines, and before the words.
    assert_eq!(said(&drawing, paper::Type::Strong, "1–24"), 2);
    // Near to each other, with words of their own: each is in the key.
    let names: Vec<String> = (0..24)
        .map(|nth| format!("event {nth} x{}", "m".repeat(nth)))
        .collect();
    let many = names
        .iter()
        .zip(0..)
        .map(|(name, nth)| upright(nth * 40, name));
    let drawing = drawn(&chart(many.collect())).unwrap();
    tidy(&drawing);
    for name in &names {
        assert_eq!(said(&drawing, paper::Type::Plain, name), 1, "{name}");
    }
    // Those that stand apart keep a number of their own.
    let apart = drawing
        .words
        .iter()
        .filter(|spot| spot.top > 100 && spot.bottom < 180);
    assert!(apart.count() > 8, "{:?}", drawing.words);
}

#[test]
fn words_that_have_no_room_in_the_chart_are_in_its_key() {
    let full: Vec<Mark> = (0..400)
        .map(|nth| mark(nth % 20 * 50, nth / 20 * 50, MarkKind::Low))
        .collect();
    let label = |text: &str| text.to_owned();
    let mut named = full.clone();
    named[210].label = label("newest 1 in");
    let drawing = drawn(&chart(vec![
        Layer::Band {
            from: 300,
            to: 600,
            label: label("adequate: from here to there"),
        },
        Layer::Level {
            at: 700,
            kind: Level::Limit,
            label: label("promised: so many"),
        },
        Layer::Line {
            points: vec![(0, 0), (1_000, 1_000)],
            kind: Line::Fitted,
            label: label("trend"),
        },
        Layer::Marks(named),
        Layer::Missing {
            at: (0..40).map(|nth| nth * 25).collect(),
            label: label("could not check"),
        },
    ]))
    .unwrap();
    tidy(&drawing);
    let lowest = drawing.marks.iter().map(|mark| mark.bottom).min().unwrap();
    let below = |text: &str| {
        let wide = paper::Type::Plain.width(text);
        let found = drawing
            .words
            .iter()
            .find(|spot| spot.right - spot.left == wide);
        found.is_some_and(|spot| spot.top > lowest + 500)
    };
    for text in [
        "adequate: from here to there",
        "promised: so many",
        "trend",
        "newest 1 in",
        "could not check",
    ] {
        assert!(below(text), "{text} is not in the key");
    }
    // With room they stand in the chart, and there is no key.
    let room = chart(vec![Layer::Level {
        at: 700,
        kind: Level::Mean,
        label: label("promised: so many"),
    }]);
    let empty = chart(vec![Layer::Level {
        at: 700,
        kind: Level::Chance,
        label: String::new(),
    }]);
    assert_eq!(drawn(&room).unwrap().height, drawn(&empty).unwrap().height);
}

#[test]
fn a_line_through_many_readings_is_seen_whole_and_so_is_its_crossing() {
    let marks: Vec<Mark> = (0..200)
        .map(|nth| mark(nth * 4, 800 - nth * 2, MarkKind::Good))
        .collect();
    let points = vec![(0, 800), (1_000, 300)];
    let with = |layers: Vec<Layer>| drawn(&chart(layers)).unwrap();
    let line = Layer::Line {
        points: points.clone(),
        kind: Line::Fitted,
        label: String::new(),
    };
    let crossing = Layer::Marks(vec![mark(600, 500, MarkKind::Chosen)]);
    let alone = with(vec![line.clone()]);
    let among = with(vec![line, Layer::Marks(marks), crossing]);
    // Every dot of the line that is alone is there among the readings as well, but for what the crossing covers.
    let (alone, among_line) = (dots_of(&alone, ink::BLUE), dots_of(&among, ink::BLUE));
    let green = dots_of(&among, ink::GREEN);
    let (x, y) = middle(&green);
    let far = |dot: &&(i32, i32)| (dot.0 - x).abs() > 30 || (dot.1 - y).abs() > 30;
    let hidden = alone
        .iter()
        .filter(far)
        .filter(|dot| among_line.binary_search(dot).is_err());
    assert_eq!(hidden.count(), 0);
    assert!(green.len() > 500, "{} dots of the crossing", green.len());
}

#[test]
fn a_mark_stands_where_its_value_says() {
    let at = |across, up| {
        let drawing = drawn(&chart(vec![Layer::Marks(vec![mark(
            across,
            up,
            MarkKind::Good,
        )])]))
        .unwrap();
        middle(&dots_of(&drawing, ink::BLUE))
    };
    let (low, high) = (at(250, 250), at(750, 750));
    assert!(low.0 < high.0 && low.1 > high.1, "{low:?} {high:?}");
    // Half way between is in the middle between, to a dot; so are the quarters of the whole.
    let half = at(500, 500);
    assert!((half.0 * 2 - low.0 - high.0).abs() <= 2, "{half:?}");
    assert!((half.1 * 2 - low.1 - high.1).abs() <= 2, "{half:?}");
    let (left, right) = (at(0, 500), at(1_000, 500));
    assert!((low.0 - left.0) * 4 - (right.0 - left.0) <= 8);
    assert_eq!(left.1, right.1);
    // What lies beyond an axis stands at its end.
    assert_eq!((at(-5_000, 500), at(9_000, 500)), (left, right));
    assert_eq!(at(i64::MAX, 500), right);
}

#[test]
fn the_band_is_as_high_as_its_limits_say() {
    let band = |from, to| {
        let label = String::new();
        let drawing = drawn(&chart(vec![Layer::Band { from, to, label }])).unwrap();
        let dots = dots_of(&drawing, ink::BAND);
        let rows = || dots.iter().map(|(_, y)| *y);
        rows().max().unwrap() - rows().min().unwrap()
    };
    let (narrow, wide) = (band(400, 500), band(300, 700));
    assert!((wide - 4 * narrow).abs() <= 24, "{narrow} {wide}");
}

#[test]
fn no_two_kinds_of_marks_have_one_shape_or_one_stroke() {
    // Drawn in one colour, each would still be another picture.
    let kinds = [
        MarkKind::Good,
        MarkKind::Low,
        MarkKind::None,
        MarkKind::High,
        MarkKind::Chosen,
    ];
    let mut shapes: Vec<Vec<(i32, i32)>> = kinds
        .into_iter()
        .map(|kind| {
            let drawing = drawn(&chart(vec![Layer::Marks(vec![mark(500, 750, kind)])])).unwrap();
            let empty = drawn(&chart(vec![])).unwrap();
            let differs = drawing
                .dots
                .chunks_exact(3)
                .zip(empty.dots.chunks_exact(3))
                .enumerate();
            differs
                .filter(|(_, (a, b))| a != b)
                .map(|(place, _)| (place as i32 % WIDTH as i32, place as i32 / WIDTH as i32))
                .collect()
        })
        .collect();
    assert!(shapes.iter().all(|shape| shape.len() > 100));
    shapes.sort();
    shapes.dedup();
    assert_eq!(shapes.len(), kinds.len());
}

#[test]
fn a_line_of_what_happened_stands_over_its_moment_with_its_words() {
    let upright = |at| Layer::Upright {
        at,
        kind: Upright::Alarm,
        label: "low pressure".into(),
    };
    let drawing = drawn(&chart(vec![upright(500)])).unwrap();
    let line = dots_of(&drawing, ink::VERMILION);
    let (first, last) = (line[0].0, line[line.len() - 1].0);
    assert!(last - first <= 8, "{first} {last}");
    let with = drawing.words.len();
    assert_eq!(with, drawn(&chart(vec![])).unwrap().words.len() + 1);
    let words = drawing
        .words
        .iter()
        .find(|words| (words.left - last).abs() < 16);
    assert!(words.is_some(), "{:?}", drawing.words);
}

fn at(minutes: i64) -> NaiveDateTime {
    let day = NaiveDate::from_ymd_opt(2026, 3, 2).unwrap();
    day.and_hms_opt(0, 0, 0).unwrap() + TimeDelta::minutes(minutes)
}

fn air() -> impl Strategy<Value = Air> {
    prop_oneof![
        6 => (0i32..4_000).prop_map(|tenths| Air::Measured(Tenths(tenths))),
        1 => Just(Air::Measured(MAX_DEPTH)),
        1 => Just(Air::Under1),
        1 => Just(Air::Over),
        1 => Just(Air::Touching),
        1 => Just(Air::Within),
        2 => Just(Air::CouldNot(Why::Asleep)),
    ]
}

fn checks() -> impl Strategy<Value = Vec<Checked>> {
    let one = (0i64..400_000, air());
    let one = one
        .prop_map(|(minutes, air)| Checked {
            at: at(minutes),
            air,
            judged: judge(air, Band::default()),
            felt: air == Air::Within,
        })
        .boxed();
    prop_oneof![
        prop::collection::vec(one.clone(), 0..4),
        prop::collection::vec(one.clone(), 1_000),
        (one, 1usize..30).prop_map(|(one, count)| vec![one; count]),
    ]
}

fn events() -> impl Strategy<Value = Vec<Event>> {
    let kinds = [
        Upright::Alarm,
        Upright::Setting,
        Upright::Moved,
        Upright::Upkeep,
    ];
    let one = (0i64..400_000, 0usize..4, "[a-zA-Z0-9 áñÍ]{0,40}");
    let one = one.prop_map(move |(minutes, kind, words)| Event {
        at: at(minutes),
        kind: kinds[kind],
        words,
    });
    prop::collection::vec(one, 0..40)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn any_readings_make_a_tidy_picture(checks in checks(), events in events(), span in 0i64..500_000, spanish: bool, by_feel: bool) {
        let lang = if spanish { Lang::Spanish } else { Lang::English };
        let tag = Tag::from("LW-07");
        let picture = picture::readings(lang, &Readings {
            tag: &tag,
            check: if by_feel { Check::LookAndFeel } else { Check::Hand },
            band: Band { low: Tenths(INCH_TENTHS), high: Tenths(INCH_TENTHS * 3 / 2) },
            from: at(0),
            to: at(span),
            checks,
            events,
            trend: None,
            left_out: 0,
        });
        prop_assert!((1..=picture::TEXT_CHARS_MAX).contains(&picture.text.chars().count()));
        tidy(&drawn(&picture).unwrap());
        let bytes = png(&picture).unwrap();
        prop_assert!(bytes.len() < 1_000_000, "{} bytes", bytes.len());
    }

    #[test]
    fn any_chart_and_any_rows_are_drawn(
        ends in (any::<i64>(), any::<i64>()),
        points in prop::collection::vec((any::<i64>(), any::<i64>()), 0..30),
        names in prop::collection::vec(("\\PC{0,60}", 0u32..2_000, 0u32..2_000), 0..30),
    ) {
        let axis = || Axis { from: ends.0, to: ends.1, ticks: Vec::new(), title: "t".repeat(200) };
        let marks = points.iter().map(|(at, up)| mark(*at, *up, MarkKind::High)).collect();
        let chart = picture(Drawn::Chart(Chart {
            across: axis(),
            up: axis(),
            layers: vec![
                Layer::Marks(marks),
                Layer::Line { points: points.clone(), kind: Line::Fitted, label: "line".into() },
                Layer::Between { points: points.iter().map(|(at, up)| (*at, *up, *at)).collect() },
                Layer::Level { at: ends.0, kind: Level::Chance, label: "level".into() },
                Layer::Missing { at: points.iter().map(|point| point.0).collect(), label: "x".repeat(100) },
            ],
        }));
        tidy(&drawn(&chart).unwrap());
        let rows: Vec<Covered<'_>> = names
            .iter()
            .map(|(name, made, of)| Covered { name, made: *made, of: *of })
            .collect();
        let drawing = drawn(&picture::coverage(Lang::English, "March", &rows)).unwrap();
        tidy(&drawing);
        prop_assert!(drawing.height <= HEIGHT_MAX);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn what_is_usual_and_how_alarms_waited_are_tidy(
        values in prop::collection::vec((0i64..400_000, 0i32..2_032), 2..60),
        rows in prop::collection::vec(("\\PC{0,60}", 0usize..200, prop::option::of(0.0..1e5), prop::option::of(0.0..1e5), prop::option::of(0.0..1e5)), 0..30),
        spanish: bool,
    ) {
        let lang = if spanish { Lang::Spanish } else { Lang::English };
        let mut values = values;
        values.sort_unstable();
        let readings: Vec<_> = values.iter().map(|(minutes, air)| (at(*minutes), Tenths(*air))).collect();
        let found: Vec<f64> = readings.iter().map(|(_, air)| f64::from(air.0)).collect();
        let tag = Tag::from("GARDEN-HOUSE-OVERLAY-0012");
        let of = Usual {
            tag: &tag,
            readings: &readings,
            chart: &trend::Chart::of(&found).unwrap(),
            adequate: Tenths(INCH_TENTHS),
            inches: |tenths| format!("{:.2}", tenths / f64::from(INCH_TENTHS)),
        };
        let usual = picture::usual(lang, &of);
        let rows: Vec<Waited<'_>> = rows
            .iter()
            .map(|(name, count, half, most, still)| Waited {
                name,
                count: *count,
                few: *count < 5,
                half: *half,
                most: *most,
                still: still.map(|longest| Still { count: 1, longest }),
            })
            .collect();
        let waits = picture::waits(lang, "March", &rows, &|time| format!("{time:.0} min"));
        for picture in [usual, waits] {
            prop_assert!((1..=picture::TEXT_CHARS_MAX).contains(&picture.text.chars().count()));
            tidy(&drawn(&picture).unwrap());
        }
    }
}

#[test]
fn a_page_carries_its_pictures_and_needs_nothing_beside_itself() {
    let mut file = File::new("page.html", String::new());
    let shown = chart(vec![]);
    let place = format!("<img src=\"{}\" alt=\"Words.\">", shown.place());
    file.text = format!("<p>{}</p>{place}", shown.place());
    assert!(matches!(page(&file), Cow::Borrowed(bytes) if bytes == file.text.as_bytes()));
    file.pictures = vec![shown.clone()];
    let text = String::from_utf8(page(&file).into_owned()).unwrap();
    let (before, after) = text
        .split_once("<img src=\"data:image/png;base64,")
        .unwrap();
    // What only reads like a place stays words.
    assert_eq!(before, format!("<p>{}</p>", shown.place()));
    let (image, after) = after.split_once('"').unwrap();
    assert_eq!(after, " alt=\"Words.\">");
    assert_eq!(STANDARD.decode(image).unwrap(), png(&shown).unwrap());
}

#[test]
fn one_that_cannot_be_drawn_is_an_error_and_the_next_is_drawn() {
    let tall = picture(Drawn::Rows(commands::picture::Rows {
        across: Axis::default(),
        rows: vec![commands::picture::Row::default(); 100_000],
    }));
    // As many rows as a picture has room for are drawn, not more.
    assert!(drawn(&tall).unwrap().height <= HEIGHT_MAX);
    assert!(png(&chart(vec![])).is_ok());
}

/// Relative luminance and contrast: WCAG 2.2, definitions of both terms.
fn luminance(RGBColor(red, green, blue): RGBColor) -> f64 {
    let part = |value: u8| {
        let value = f64::from(value) / 255.0;
        if value <= 0.040_45 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * part(red) + 0.7152 * part(green) + 0.0722 * part(blue)
}

fn contrast(one: RGBColor, other: RGBColor) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn words_and_marks_stand_out() {
    // White on black is 21 to 1, and the grey #767676 on white the well-known 4.54 (WCAG, both from memory).
    let white = RGBColor(255, 255, 255);
    assert!((contrast(white, RGBColor(0, 0, 0)) - 21.0).abs() < 1e-9);
    assert!((contrast(white, RGBColor(0x76, 0x76, 0x76)) - 4.54).abs() < 0.005);
    for ground in [ink::GROUND, ink::BAND, ink::LEEWAY] {
        // 1.4.3: words 4.5 to 1.
        assert!(contrast(ink::INK, ground) >= 7.0);
        // 1.4.11: marks and lines 3 to 1, against where they are drawn; where a fill has less, its edge of ink has it.
        assert!(contrast(ink::BLUE, ground) >= 3.0, "{ground:?}");
    }
    assert!(contrast(ink::QUIET, ink::GROUND) >= 4.5);
    for line in [ink::VERMILION, ink::GREEN, ink::EDGE] {
        assert!(
            contrast(line, ink::GROUND) >= 3.0,
            "{line:?}: {}",
            contrast(line, ink::GROUND)
        );
    }
    // The picture's own edge and ground are seen on a dark chat.
    assert!(contrast(ink::GROUND, RGBColor(0x1E, 0x1F, 0x24)) >= 7.0);
}

/// As dichromats see a colour: linear RGB through the matrices of Viénot, Brettel and Mollon (Color Research and Application
/// 24, 1999) for red-blind and green-blind, as Machado, Oliveira and Fernandes (IEEE TVCG 15, 2009, severity 1.0) print theirs
/// for blue-blind; both from memory.
fn seen_by(matrix: [[f64; 3]; 3], RGBColor(red, green, blue): RGBColor) -> [f64; 3] {
    let linear = [red, green, blue].map(|value| (f64::from(value) / 255.0).powf(2.2));
    matrix.map(|row| {
        let sum: f64 = row
            .iter()
            .zip(linear)
            .map(|(part, value)| part * value)
            .sum();
        sum.clamp(0.0, 1.0).powf(1.0 / 2.2) * 255.0
    })
}

#[test]
fn colours_are_told_apart_with_any_colour_vision() {
    let visions = [
        (
            "all cones",
            [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        ),
        (
            "red-blind",
            [
                [0.112_38, 0.887_62, 0.0],
                [0.112_38, 0.887_62, 0.0],
                [0.004_01, -0.004_01, 1.0],
            ],
        ),
        (
            "green-blind",
            [
                [0.292_75, 0.707_25, 0.0],
                [0.292_75, 0.707_25, 0.0],
                [-0.022_34, 0.022_34, 1.0],
            ],
        ),
        (
            "blue-blind",
            [
                [1.255_528, -0.076_749, -0.178_779],
                [-0.078_411, 0.930_809, 0.147_602],
                [0.004_733, 0.691_367, 0.303_900],
            ],
        ),
    ];
    let colors = [ink::INK, ink::BLUE, ink::VERMILION, ink::GREEN];
    // Blue and bluish green come near to each other for the blue-blind, one person in some ten thousand: there, as
    // everywhere, shape and stroke tell.
    let least = |who| if who == "blue-blind" { 25.0 } else { 40.0 };
    for (who, matrix) in visions {
        for (place, one) in colors.iter().enumerate() {
            for other in &colors[..place] {
                let (one, other) = (seen_by(matrix, *one), seen_by(matrix, *other));
                let apart: f64 = one.iter().zip(other).map(|(a, b)| (a - b).powi(2)).sum();
                assert!(
                    apart.sqrt() > least(who),
                    "{who}: {one:?} and {other:?} are {:.0} apart",
                    apart.sqrt()
                );
            }
        }
    }
}
