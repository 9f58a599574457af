//! Chances against printed tables, and demand from made-up records against a library of statistics.

use super::*;
use chrono::TimeDelta;
use proptest::prelude::*;

fn open(load: f64) -> Demand {
    Demand::Open { load }
}

fn close(found: f64, wanted: f64, within: f64) {
    assert!(
        (found - wanted).abs() <= within,
        "{found} is not {wanted} within {within}"
    );
}

/// Tables of Erlang's loss formula as printed in teletraffic texts (Boucher, Traffic System Design Handbook; from memory),
/// recomputed with scipy 1.17.1: the load at which so many lose 1%, 2%, 5%.
#[test]
fn loads_of_the_printed_tables() {
    for (n, one, two, five) in [
        (1, 0.0101, 0.0204, 0.0526),
        (2, 0.1526, 0.2235, 0.3813),
        (3, 0.4555, 0.6022, 0.8994),
        (4, 0.8694, 1.0923, 1.5246),
        (5, 1.3608, 1.6571, 2.2185),
        (6, 1.9090, 2.2759, 2.9603),
        (7, 2.5009, 2.9354, 3.7378),
        (8, 3.1276, 3.6271, 4.5430),
        (9, 3.7825, 4.3447, 5.3702),
        (10, 4.4612, 5.0840, 6.2157),
        (15, 8.1080, 9.0096, 10.6327),
        (20, 12.0306, 13.1815, 15.2493),
    ] {
        for (promise, load) in [(0.01, one), (0.02, two), (0.05, five)] {
            // Four places: the printed load is within half of the last of the true one.
            assert_eq!(
                open(load - 0.000_06).fewest(promise),
                Ok(n),
                "{n} {promise}"
            );
            assert_eq!(
                open(load + 0.000_06).fewest(promise),
                Ok(n + 1),
                "{n} {promise}"
            );
        }
    }
}

/// Exact fractions of the formula (1/2 for one server and a load of 1 is in every text), and values by scipy 1.17.1 `poisson.pmf / cdf`.
#[test]
fn shares_of_the_formula() {
    for (n, load, share) in [
        (1, 1.0, 1.0 / 2.0),
        (2, 1.0, 1.0 / 5.0),
        (3, 2.0, 4.0 / 19.0),
        (4, 2.0, 2.0 / 21.0),
    ] {
        close(open(load).shortfall(n).unwrap(), share, 1e-15);
    }
    for (n, load, share) in [
        (5, 3.0, 0.110_054),
        (6, 4.0, 0.117_162),
        (10, 5.0, 0.018_385),
        (20, 12.0, 0.009_796),
        (21, 13.0, 0.011_087),
    ] {
        close(open(load).shortfall(n).unwrap(), share, 0.000_000_51);
    }
    let curve = open(4.5).curve(12).unwrap();
    let wanted = [
        1.0, 0.818_182, 0.648, 0.492_901, 0.356_712, 0.243_021, 0.154_166, 0.090_170, 0.048_272,
        0.023_567, 0.010_494, 0.004_275, 0.001_600,
    ];
    assert_eq!(curve.len(), wanted.len());
    for (found, wanted) in curve.into_iter().zip(wanted) {
        close(found, wanted, 0.000_000_51);
    }
    let fewest = [0.05, 0.02, 0.01].map(|promise| open(4.5).fewest(promise).unwrap());
    assert_eq!(fewest, [8, 10, 11]);
    close(offered_load(0.1, 45.0).unwrap(), 4.5, 1e-15);
}

/// scipy 1.17.1 `binom.pmf(n, beds - 1, load / beds) / binom.cdf(…)`: what one bed that asks sees of the others.
#[test]
fn shares_of_so_many_beds() {
    for (beds, load, n, share) in ENGSET {
        let demand = Demand::Beds { load, beds };
        close(demand.shortfall(n).unwrap(), share, 1e-12 * share);
    }
    // Two beds, one surface, each bed with one half of the time if it could: a request finds the other in use half of the time.
    let two = Demand::Beds { load: 1.0, beds: 2 };
    close(two.shortfall(1).unwrap(), 0.5, 1e-15);
    assert_eq!(two.shortfall(2), Ok(0.0));
}

const ENGSET: [(u32, f64, u32, f64); 5] = [
    (10, 4.5, 6, 0.12212792158502764),
    (40, 4.5, 10, 0.006501399868835976),
    (40, 12.0, 15, 0.07631703068056515),
    (100, 20.0, 28, 0.01294450592919134),
    (8, 3.0, 7, 0.0010428428649902344),
];

/// Garwood's limits as printed in tables of the Poisson distribution (from memory): a count of 0, 1, 5, 10.
#[test]
fn limits_of_a_count() {
    for (count, low, high) in [
        (0, 0.0, 3.689),
        (1, 0.025_3, 5.572),
        (5, 1.623, 11.668),
        (10, 4.795, 18.390),
    ] {
        let found = poisson_limits(count);
        close(found.0, low, 0.000_51);
        close(found.1, high, 0.000_51);
    }
}

fn at(day: i64) -> DateTime<Utc> {
    DateTime::UNIX_EPOCH + TimeDelta::days(day)
}

fn used(from: i64, to: Option<i64>) -> Use {
    Use {
        from: at(from),
        to: to.map(at),
        asked: true,
    }
}

#[test]
fn demand_from_the_records() {
    let uses = [
        used(-10, Some(10)),
        used(5, Some(35)),
        used(20, None),
        used(50, Some(90)),
        used(95, Some(130)),
        used(-40, Some(-5)),
        used(100, None),
    ];
    let found = recorded(&uses, 2, at(0), at(100)).unwrap();
    assert_eq!((found.requests, found.ended), (6, 3));
    close(found.used_days, 10.0 + 30.0 + 80.0 + 40.0 + 5.0, 1e-9);
    close(found.requests_a_day.value, 0.06, 1e-15);
    // What was in use day by day, whatever was asked for: 165 days of 100.
    close(found.in_use(), 1.65, 1e-12);
    // In its fifths 1.25 (10 + 15 of 20 days), 1.75, 1.5, 2 and 1.75; scipy 1.17.1: t.ppf(0.975, 4) * sem(of these).
    close(found.parts, 0.35392869424556794, 1e-9);
    // scipy 1.17.1: gamma.ppf for the requests.
    close(found.requests_a_day.low, 0.022018942534908506, 1e-12);
    close(found.requests_a_day.high, 0.13059474022518686, 1e-12);
    // 165 / gamma.ppf(0.975, 4) and 165 / gamma.ppf(0.025, 3), the same.
    close(found.stay_days.value, 55.0, 1e-12);
    close(found.stay_days.low, 18.819990969535237, 1e-8);
    close(found.stay_days.high, 266.7002340880375, 1e-7);
    // What was there when the records begin was in use and was not asked for.
    let there = Use {
        asked: false,
        ..used(5, Some(35))
    };
    let found = recorded(&[there, used(20, Some(30))], 0, at(0), at(100)).unwrap();
    assert_eq!((found.requests, found.ended), (1, 2));
    close(found.used_days, 40.0, 1e-9);
    let nothing = recorded(&[used(-5, Some(3))], 0, at(0), at(30)).unwrap();
    // Three days of use, of which nobody asked for one.
    assert_eq!((nothing.requests, nothing.ended), (0, 1));
    close(nothing.load(None).value, 0.1, 1e-12);
    assert_eq!(
        recorded(&[used(1, None)], 0, at(0), at(30)),
        Err(FleetFault::NoneEnded)
    );
    assert_eq!(
        recorded(&[used(9, Some(8))], 0, at(0), at(30)),
        Err(FleetFault::Backwards)
    );
    assert_eq!(recorded(&[], 0, at(3), at(3)), Err(FleetFault::Window));
}

/// Student's t as its printed tables have it (NIST/SEMATECH e-Handbook 1.3.6.7.2: 0.975 with 1, 4, 10 and 30 degrees of freedom).
#[test]
fn limits_of_a_mean() {
    for (freedom, table) in [(1, 12.706), (4, 2.776), (10, 2.228), (30, 2.042)] {
        close(student(freedom), table, 0.000_51);
    }
}

/// Who stays for ever is in use for sure; one bed that changes over slowly leaves its mean open; the same over ten times as long is
/// known about three times as well (the square root of ten, where time is long beside a stay).
#[test]
fn how_sure_a_mean_is() {
    let whole = [used(-5, None), used(-9, Some(1)), used(-1, Some(2))];
    let found = recorded(&whole, 0, at(0), at(3000)).unwrap();
    close(found.in_use(), 3003.0 / 3000.0, 1e-12);
    let turns = |count: i64| -> Vec<Use> {
        (0..count)
            .map(|n| used(20 * n, Some(20 * n + 10)))
            .collect()
    };
    let [short, long] = [50, 500].map(|count| {
        let found = recorded(&turns(count), 0, at(0), at(20 * count)).unwrap();
        close(found.in_use(), 0.5, 1e-12);
        let load = found.load(Some(1));
        (load.high - load.low) / 2.0
    });
    // By hand: v = 1/4, c = 5 days of T = 1,000: 2 x 1/4 x 0.005 x (1 - 0.005) = 0.0024875, its root 0.049875, times t(49) = 2.00958.
    close(short, 0.100_227, 0.000_001);
    close(short / long, 10f64.sqrt() * 2.009_58 / 1.964_73, 0.01);
}

/// Invented homes of 36 beds, each free for 21 days and then in use for 130, both exponential: for a quarter of a year the limits hold
/// what is so over many years about as often as they say. Numbers at random by Lehmer's generator (Park and Miller 1988: 16807, 2^31 - 1).
#[test]
fn limits_hold_what_is_so_over_years() {
    let mut seed = 20_260_304u64;
    let mut long = |mean: f64| {
        seed = seed * 16_807 % 2_147_483_647;
        -(seed as f64 / 2_147_483_647.0).ln() * mean
    };
    let moment =
        |day: f64| DateTime::UNIX_EPOCH + TimeDelta::seconds((day * SECONDS_IN_DAY) as i64);
    let wanted = 36.0 * 130.0 / 151.0;
    let (mut held, mut wide) = (0, 0.0);
    for _home in 0..200 {
        let mut uses = Vec::new();
        for _bed in 0..36 {
            let mut day = -1000.0;
            while day < 89.0 {
                day += long(21.0);
                let end = day + long(130.0);
                uses.push(Use {
                    from: moment(day),
                    to: Some(moment(end)),
                    asked: true,
                });
                day = end;
            }
        }
        let load = recorded(&uses, 0, at(0), at(89)).unwrap().load(Some(36));
        held += i32::from((load.low..=load.high).contains(&wanted));
        wide += (load.high - load.low) / 200.0;
    }
    assert!((186..=200).contains(&held), "{held} of 200");
    assert!((3.0..7.0).contains(&wide), "{wide}");
}

#[test]
fn edges_and_what_is_out_of_range() {
    assert_eq!(open(0.0).shortfall(0), Ok(1.0));
    assert_eq!(open(0.0).shortfall(1), Ok(0.0));
    assert_eq!(open(4.5).shortfall(0), Ok(1.0));
    assert_eq!(open(0.0).fewest(0.01), Ok(1));
    assert!(open(150.0).shortfall(200).unwrap() > 0.0);
    assert_eq!(open(1.0).shortfall(u32::from(u16::MAX)), Ok(0.0));
    for load in [-0.1, f64::NAN, f64::INFINITY, 1000.1] {
        assert_eq!(open(load).shortfall(3), Err(FleetFault::Load));
        assert_eq!(open(load).fewest(0.01), Err(FleetFault::Load));
        assert_eq!(
            Demand::Beds { load, beds: 9 }.curve(3),
            Err(FleetFault::Load)
        );
    }
    for beds in [0, 1, 4] {
        assert_eq!(
            Demand::Beds { load: 4.0, beds }.shortfall(3),
            Err(FleetFault::Beds)
        );
    }
    for promise in [0.0, -0.1, 1.0, 5.0, 1e-9, f64::NAN] {
        assert_eq!(open(4.5).fewest(promise), Err(FleetFault::Shortfall));
    }
    assert_eq!(offered_load(-1.0, 5.0), Err(FleetFault::Requests));
    assert_eq!(offered_load(f64::NAN, 5.0), Err(FleetFault::Requests));
    assert_eq!(offered_load(1.0, 0.0), Err(FleetFault::Stay));
    assert_eq!(offered_load(1.0, f64::INFINITY), Err(FleetFault::Stay));
    assert_eq!(offered_load(40.0, 30.0), Err(FleetFault::Load));
}

prop_compose! {
    fn demand()(load in 0.01..40.0f64, more in 1u32..60, open in any::<bool>()) -> Demand {
        if open {
            Demand::Open { load }
        } else {
            Demand::Beds { load, beds: load.ceil() as u32 + more }
        }
    }
}

proptest! {
    #[test]
    fn the_fewest_keep_the_promise_and_one_fewer_does_not(demand in demand(), promise in 0.001..0.999) {
        let fewest = demand.fewest(promise).unwrap();
        prop_assert!(demand.shortfall(fewest).unwrap() <= promise);
        prop_assert!(fewest > 0 && demand.shortfall(fewest - 1).unwrap() > promise);
        let curve = demand.curve(fewest + 5).unwrap();
        prop_assert!(curve.is_sorted_by(|a, b| a >= b));
        prop_assert_eq!(curve[fewest as usize], demand.shortfall(fewest).unwrap());
    }

    /// From ten beds for each surface in use on, whether requests have an end makes at most one surface of difference.
    #[test]
    fn where_beds_are_many_both_formulas_agree(load in 0.1..40.0f64, promise in 0.005..0.2, more in 0u32..200) {
        let beds = (FEW_BEDS * load).ceil() as u32 + more;
        let few = Demand::Beds { load, beds }.fewest(promise).unwrap();
        let endless = open(load).fewest(promise).unwrap();
        prop_assert!(few.abs_diff(endless) <= 1);
    }

    /// With twice as many surfaces as the load, so many beds never lose more than endless ones; very many lose as good as the
    /// same.
    #[test]
    fn few_beds_are_kinder(load in 0.1..20.0f64, spare in 0u32..20, more in 0u32..50) {
        let least = load.ceil() as u32;
        let surfaces = 2 * least + spare;
        let endless = open(load).shortfall(surfaces).unwrap();
        let few = Demand::Beds { load, beds: least + 1 + more }.shortfall(surfaces).unwrap();
        prop_assert!(few <= endless * (1.0 + 1e-12));
        let many = Demand::Beds { load, beds: 2_000_000_000 }.shortfall(surfaces).unwrap();
        prop_assert!((many / endless - 1.0).abs() < 1e-5);
    }

    /// The limits hold the figure; so many beds hold the upper one; the same uses a hundred days later say the same.
    #[test]
    fn limits_hold_the_figure(uses in prop::collection::vec((-100i64..200, 0i64..90), 1..30), beds in 1u32..60) {
        let uses = |later: i64| -> Vec<Use> {
            let one = |(from, long): &(i64, i64)| used(from + later, Some(from + later + long));
            let there = used(later - 1, Some(later + 1));
            uses.iter().map(one).chain([there]).collect()
        };
        let found = recorded(&uses(0), 0, at(0), at(200)).unwrap();
        for beds in [None, Some(beds)] {
            let load = found.load(beds);
            prop_assert!(0.0 <= load.low && load.low <= load.value && load.value <= load.high);
            if let Some(beds) = beds {
                prop_assert!(load.high <= f64::from(beds).max(load.value));
            }
            let later = recorded(&uses(100), 0, at(100), at(300)).unwrap().load(beds);
            prop_assert!((later.low - load.low).abs() < 1e-9 && (later.high - load.high).abs() < 1e-9);
        }
        let (low, high) = poisson_limits(found.requests);
        prop_assert!(low <= f64::from(found.requests) && f64::from(found.requests) < high);
    }

    #[test]
    fn no_numbers_stop_it(load: f64, beds: u32, surfaces in 0u32..3000, promise: f64) {
        for demand in [open(load), Demand::Beds { load, beds }] {
            if let Ok(share) = demand.shortfall(surfaces) {
                prop_assert!((0.0..=1.0).contains(&share));
            }
            let _fewest = demand.fewest(promise);
        }
        let _load = offered_load(load, promise);
    }
}
