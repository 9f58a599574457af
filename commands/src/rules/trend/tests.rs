//! Checks of trends and charts against published examples, reference libraries, and every order there is.

use super::*;
use proptest::prelude::*;

fn points(days: &[f64], values: &[f64]) -> Vec<Point> {
    let pair = |(days, value): (&f64, &f64)| Point {
        days: *days,
        value: *value,
    };
    days.iter().zip(values).map(pair).collect()
}

fn close(found: f64, wanted: f64, within: f64) {
    assert!(
        (found - wanted).abs() <= within,
        "{found} is not {wanted} within {within}"
    );
}

const WEEK: [f64; 7] = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0];

/// Helsel and Hirsch, Statistical Methods in Water Resources, ch. 10 (from memory): one wild value leaves the slope at 1 where least squares
/// gives 1.714. Limits by scipy 1.17.1 `theilslopes`.
#[test]
fn one_wild_value_moves_nothing() {
    let found = trend(&points(&WEEK, &[1.0, 2.0, 3.0, 4.0, 5.0, 16.0, 7.0])).unwrap();
    close(found.slope, 1.0, 1e-15);
    close(found.value_at(0.0), 0.0, 1e-15);
    assert_eq!((found.low, found.high), (Some(1.0), Some(3.5)));
}

/// Kendall's variance is that of S over all orders of the values, whatever is tied: here each of the 120 is gone through.
#[test]
fn the_variance_is_that_of_all_orders() {
    for (days, values) in [
        ([1.0, 2.0, 3.0, 4.0, 5.0], [1.0, 2.0, 3.0, 4.0, 5.0]),
        ([1.0, 1.0, 2.0, 2.0, 3.0], [1.0, 2.0, 2.0, 3.0, 3.0]),
        ([1.0, 1.0, 1.0, 2.0, 3.0], [4.0, 4.0, 4.0, 5.0, 5.0]),
    ] {
        let mut squares = Vec::new();
        for code in 0..120_usize {
            let (mut left, mut code) = (values.to_vec(), code);
            let dealt = days.map(|_| {
                let place = code % left.len();
                code /= left.len();
                left.remove(place)
            });
            let s = significance(&points(&days, &dealt)).s as f64;
            squares.push(s * s);
        }
        let wanted = squares.iter().sum::<f64>() / 120.0;
        close(kendall_variance(&points(&days, &values)), wanted, 1e-9);
    }
}

/// EPA QA/G-9S (2006), p. 109 (the example from memory), recomputed with pymannkendall 1.4.3 and scipy 1.17.1.
#[test]
fn ties_as_in_the_epa_example() {
    let values = [
        10.0, 10.0, 10.0, 5.0, 10.0, 20.0, 18.0, 17.0, 15.0, 24.0, 15.0,
    ];
    let days: Vec<f64> = (1..=11).map(f64::from).collect();
    let found = trend(&points(&days, &values)).unwrap();
    let Significance {
        s,
        variance,
        z,
        p,
        exact,
    } = found.significance;
    assert_eq!((s, exact), (22, false));
    close(variance, 155.333, 0.000_51);
    close(z, 1.684_950, 0.000_000_51);
    close(p, 0.091_998, 0.000_000_51);
    close(found.slope, 1.0, 1e-15);
    close(found.value_at(0.0), 9.0, 1e-12);
    assert_eq!((found.low, found.high), (Some(0.0), Some(2.0)));
}

/// Readings on uneven days, recomputed with scipy 1.17.1: by the day, not by the reading (which would be -1.0).
#[test]
fn uneven_days() {
    let days = [0.0, 7.0, 14.0, 21.0, 30.0, 37.0, 44.0];
    let found = trend(&points(&days, &[30.0, 29.0, 31.0, 27.0, 26.0, 26.0, 24.0])).unwrap();
    close(found.slope, -0.135_135, 0.000_000_51);
    close(found.value_at(0.0), 29.837_838, 0.000_000_51);
    close(found.low.unwrap(), -0.233_333, 0.000_000_51);
    close(found.high.unwrap(), -0.0625, 1e-12);
    assert_eq!(found.significance.s, -16);
    close(found.significance.variance, 43.333_3, 0.000_051);
    close(found.significance.z, -2.278_664, 0.000_000_51);

    // Where the line, and lines as steep as its limits, through (21, 27) meet 25.
    let Crossing::At {
        earliest,
        likely,
        latest,
    } = found.crossing(22.0, true, 44.0)
    else {
        panic!("it falls towards 22");
    };
    close(likely, 21.0 + 5.0 * 37.0 / 5.0, 1e-9);
    close(earliest.unwrap(), 21.0 + 5.0 / 0.233_333_333_333, 1e-6);
    close(latest.unwrap(), 21.0 + 5.0 / 0.0625, 1e-9);
    assert_eq!(found.crossing(25.0, true, 44.0), Crossing::Past);
    assert_eq!(found.crossing(35.0, false, 44.0), Crossing::Never);
}

/// Pairs at one time are skipped: scipy 1.17.1 gives 1.0.
#[test]
fn two_readings_at_one_time() {
    let found = trend(&points(&[0.0, 0.0, 1.0, 2.0], &[1.0, 2.0, 3.0, 3.0])).unwrap();
    close(found.slope, 1.0, 1e-15);
    // Four readings cannot be sure of a slope.
    assert_eq!((found.low, found.high), (None, None));
}

/// Gilbert (1987), table A18, which is Kendall's (from memory): the chance of an S of at least so much, one way. Its S of 10 for five untied readings is .0083;
/// twice that both ways. pymannkendall 1.4.3 gives the variance and z.
#[test]
fn few_readings_are_counted() {
    let found = mann_kendall(&points(&WEEK[..5], &WEEK[..5])).unwrap();
    assert_eq!((found.s, found.exact), (10, true));
    close(found.variance, 16.666_7, 0.000_051);
    close(found.z, 2.204_541, 0.000_000_51);
    close(found.p, 2.0 / 120.0, 1e-15);
    for (values, s, one_way) in [
        (&[1.0, 2.0, 3.0, 4.0][..], 6, 0.042),
        (&[1.0, 2.0, 4.0, 3.0], 4, 0.167),
        (&[1.0, 3.0, 2.0, 5.0, 4.0], 6, 0.117),
        (&[1.0, 2.0, 3.0, 5.0, 4.0], 8, 0.042),
        (&[1.0, 2.0, 3.0, 4.0, 6.0, 5.0], 13, 0.0083),
        (&[2.0, 1.0, 4.0, 3.0, 6.0, 5.0], 9, 0.068),
    ] {
        let days: Vec<f64> = (0u8..).map(f64::from).take(values.len()).collect();
        let found = mann_kendall(&points(&days, values)).unwrap();
        assert_eq!(found.s, s);
        close(found.p / 2.0, one_way, 0.000_51);
    }
}

/// Montgomery, Introduction to Statistical Quality Control, p. 242: viscosity of fifteen batches of primer (the data as R's package qcc has them
/// in its examples). By qcc the mean is 33.52333 and the limits are 32.24484 and 34.80183; the mean range of .48 and its limit of
/// 1.57 are from memory. No batch stands out.
#[test]
fn the_chart_of_the_textbook() {
    let batches = [
        33.75, 33.05, 34.00, 33.81, 33.46, 34.02, 33.68, 33.27, 33.49, 33.20, 33.62, 33.00, 33.54,
        33.12, 33.84,
    ];
    let chart = Chart::of(&batches).unwrap();
    for (found, printed) in [
        (chart.mean, 33.52333),
        (chart.low, 32.24484),
        (chart.high, 34.80183),
    ] {
        close(found, printed, 0.000_005_1);
    }
    close(chart.range, 0.48, 0.005_1);
    close(chart.range_high, 1.57, 0.005_1);
    assert!(batches.iter().all(|batch| !chart.stands_out(*batch)));
    assert!(chart.stands_out(34.9) && chart.stands_out(32.1));
}

/// NIST/SEMATECH e-Handbook 6.3.2.2 (the data from memory): mean 50.81, mean range 1.8778, limits 45.8159 and 55.8041.
#[test]
fn the_chart_of_the_handbook() {
    let values = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
    let chart = Chart::of(&values).unwrap();
    close(chart.mean, 50.81, 1e-12);
    close(chart.range, 1.8778, 0.000_051);
    close(chart.low, 45.8159, 0.000_051);
    close(chart.high, 55.8041, 0.000_051);
    close(chart.range_high, 6.1347, 0.000_051);
    // Tables that print E2 = 2.660 instead differ by .0008 at most.
    close(chart.high, chart.mean + 2.660 * chart.range, 0.0008);
    assert!(!values.iter().any(|value| chart.stands_out(*value)));
    assert!(chart.stands_out(45.8) && chart.stands_out(55.81) && chart.stands_out(f64::NAN));
    // A step that is below the deviation changes nothing; one above it stands in its place.
    assert_eq!(chart.clone().in_steps(1.6), chart);
    let coarse = chart.clone().in_steps(2.0);
    close(coarse.low, 44.81, 1e-12);
    close(coarse.high, 56.81, 1e-12);
    assert_eq!((coarse.mean, coarse.range), (chart.mean, chart.range));
    assert_eq!(Chart::of(&[1.0]), None);
    assert_eq!(Chart::of(&[1.0, f64::NAN]), None);
    assert_eq!(Chart::of(&[f64::MAX, -f64::MAX]), None);
}

#[test]
fn what_is_no_trend() {
    assert_eq!(trend(&[]), Err(TrendFault::TooFew));
    assert_eq!(trend(&points(&[1.0], &[1.0])), Err(TrendFault::TooFew));
    assert_eq!(
        trend(&points(&[1.0, 1.0], &[1.0, 2.0])),
        Err(TrendFault::TooFew)
    );
    assert_eq!(
        trend(&points(&[1.0, f64::NAN], &[1.0, 2.0])),
        Err(TrendFault::NoNumber)
    );
    assert_eq!(
        trend(&points(&[1.0, 2.0], &[1.0, f64::INFINITY])),
        Err(TrendFault::NoNumber)
    );
    let flat = trend(&points(&WEEK, &[5.0; 7])).unwrap();
    assert_eq!(
        (flat.slope, flat.significance.s, flat.significance.p),
        (0.0, 0, 1.0)
    );
    assert_eq!(flat.crossing(4.0, true, 7.0), Crossing::Never);
    assert_eq!(flat.crossing(5.0, true, 7.0), Crossing::Past);
}

/// Every order of the values over the times, one by one.
fn by_brute_force(points: &[Point]) -> f64 {
    fn orders(values: &mut Vec<f64>, from: usize, each: &mut dyn FnMut(&[f64])) {
        if from == values.len() {
            each(values);
        }
        for other in from..values.len() {
            values.swap(from, other);
            orders(values, from + 1, each);
            values.swap(from, other);
        }
    }
    let s = |values: &[f64]| {
        let mut s = 0i64;
        for i in 0..values.len() {
            for j in 0..values.len() {
                if points[j].days > points[i].days {
                    s += i64::from(values[j] > values[i]) - i64::from(values[j] < values[i]);
                }
            }
        }
        s.abs()
    };
    let mut values: Vec<f64> = points.iter().map(|point| point.value).collect();
    let seen = s(&values);
    let (mut far, mut all) = (0u32, 0u32);
    orders(&mut values, 0, &mut |order| {
        all += 1;
        far += u32::from(s(order) >= seen);
    });
    f64::from(far) / f64::from(all)
}

prop_compose! {
    /// Whole days and values, so that some are tied.
    fn readings(most: usize)(pairs in prop::collection::vec((0u8..40, 0u8..30), 2..most)) -> Vec<Point> {
        pairs.into_iter().map(|(days, value)| Point { days: f64::from(days), value: f64::from(value) }).collect()
    }
}

proptest! {
    #[test]
    fn counting_agrees_with_every_order(pairs in prop::collection::vec((0u8..5, 0u8..4), 2..7)) {
        let points: Vec<Point> = pairs.into_iter()
            .map(|(days, value)| Point { days: f64::from(days), value: f64::from(value) })
            .collect();
        if let Ok(found) = mann_kendall(&points) {
            let p = by_brute_force(&in_order(&points).unwrap());
            prop_assert!((found.p - p).abs() < 1e-12, "{} is not {p}", found.p);
        }
    }

    /// Later, larger, turned upside down: the figures follow. The order of the list says nothing.
    #[test]
    fn it_follows_the_readings(readings in readings(30), later in 0u8..100, by in 1u8..9) {
        if let Ok(one) = trend(&readings) {
            let moved: Vec<Point> = readings.iter().rev()
                .map(|point| Point { days: point.days + f64::from(later), value: -point.value * f64::from(by) })
                .collect();
            let two = trend(&moved).unwrap();
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * (1.0 + a.abs());
            prop_assert!(near(two.slope, -one.slope * f64::from(by)));
            prop_assert_eq!(two.significance.s, -one.significance.s);
            prop_assert!(near(two.significance.p, one.significance.p));
            prop_assert!((0.0..=1.0 + 1e-12).contains(&one.significance.p));
            for (a, b) in [(one.low, two.high), (one.high, two.low)] {
                prop_assert_eq!(a.is_some(), b.is_some());
                if let (Some(a), Some(b)) = (a, b) {
                    prop_assert!(near(b, -a * f64::from(by)));
                }
            }
            prop_assert!(one.low.is_none_or(|low| low <= one.slope) && one.high.is_none_or(|high| one.slope <= high));
        }
    }

    /// At the crossing the line is at the limit; earliest, likely, latest stand in that order.
    #[test]
    fn the_crossing_is_on_the_line(readings in readings(20), limit in -10.0..40.0, falling: bool) {
        if let Ok(trend) = trend(&readings)
            && let Crossing::At { earliest, likely, latest } = trend.crossing(limit, falling, 40.0)
        {
            prop_assert!((trend.value_at(likely) - limit).abs() < 1e-6);
            prop_assert!(likely >= 40.0 - 1e-6);
            prop_assert!(latest.is_none_or(|latest| likely <= latest));
            prop_assert!(earliest.is_none_or(|earliest| earliest <= likely));
        }
    }

    /// In other units, and turned round, the chart is the same chart; what is alike never stands out.
    #[test]
    fn the_chart_follows_its_values(values in prop::collection::vec(-500i32..500, 2..40), by in 1i32..20, more in -300i32..300) {
        let of = |change: &dyn Fn(f64) -> f64| {
            let values: Vec<f64> = values.iter().map(|value| change(f64::from(*value))).collect();
            Chart::of(&values).unwrap()
        };
        let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
        let (by, more) = (f64::from(by), f64::from(more));
        let (one, other) = (of(&|value| value), of(&|value| more - by * value));
        prop_assert!(near(other.mean, more - by * one.mean) && near(other.range, by * one.range));
        prop_assert!(near(other.low, more - by * one.high) && near(other.high, more - by * one.low));
        prop_assert!(near(other.range_high, by * one.range_high));
        prop_assert!(one.low <= one.mean && one.mean <= one.high && !one.stands_out(one.mean));
        let same = Chart::of(&vec![more; values.len()]).unwrap();
        prop_assert!(!same.stands_out(more));
        // In steps it is never narrower, and three steps from where all tie is not outside yet.
        let coarse = one.clone().in_steps(by);
        prop_assert!(coarse.low <= one.low && coarse.high >= one.high && coarse.high - coarse.mean >= 3.0 * by - 1e-9);
        prop_assert!(!same.in_steps(by).stands_out(more - by));
    }

    #[test]
    fn no_numbers_stop_it(pairs in prop::collection::vec((any::<f64>(), any::<f64>()), 0..12), limit: f64, newest: f64) {
        let points: Vec<Point> = pairs.iter().map(|(days, value)| Point { days: *days, value: *value }).collect();
        if let Ok(trend) = trend(&points) {
            prop_assert!(trend.slope.is_finite());
            let _crossing = trend.crossing(limit, true, newest);
        }
        let values: Vec<f64> = pairs.into_iter().map(|pair| pair.1).collect();
        let _chart = Chart::of(&values);
    }
}
