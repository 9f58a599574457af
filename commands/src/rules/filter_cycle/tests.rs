//! The careful side and the bounds of a cycle. The arithmetic of lives has its outside checks beside it, in `filter_life`; what the whole
//! does in a home is measured by the example `filter_homes`.

use super::*;
use crate::rules::filter_life::Spread;
use proptest::prelude::*;

const TERMS: Terms = Terms {
    chance: 0.10,
    looks: 8,
    longer: true,
    most: 28,
};

const NEW: At = At {
    age: 0,
    left_dusty: false,
    usual: 7,
    limit: 90,
    before: None,
    same: false,
    longest: 0,
};

fn looks(spans: &[(f64, Option<f64>, u32)]) -> Looks {
    let spans: Vec<Span> = spans
        .iter()
        .flat_map(|(after, by, count)| {
            vec![
                Span {
                    after: *after,
                    by: *by
                };
                *count as usize
            ]
        })
        .collect();
    let dirty = spans.iter().filter(|span| span.by.is_some()).count() as u32;
    Looks {
        looks: 4 * spans.len() as u32,
        dirty,
        units: 1,
        spans,
    }
}

/// The same chance every day, so well known that the bound is the estimate.
fn steady_mean(mean: f64) -> Learned {
    Learned {
        life: Life::Exponential {
            mean,
            log_likelihood: 0.0,
            spread: Spread {
                unit: 1.0,
                variance: [0.0; 3],
            },
        },
        steps: None,
        apart: false,
        whose: Whose::Own,
        from: Looks::default(),
    }
}

fn days(mean: f64, at: At, terms: Terms) -> (u32, By) {
    let next = next(Some(&steady_mean(mean)), at, Some(terms));
    (next.days, next.by)
}

#[test]
fn what_counts_as_dirty() {
    assert_eq!(
        [
            Finding::Clean,
            Finding::Dusty,
            Finding::Clogged,
            Finding::Damaged
        ]
        .map(found),
        [Found::Clean, Found::Dirty, Found::Dirty, Found::Unknown]
    );
    let day = NaiveDate::from_ymd_opt(2026, 3, 1).unwrap();
    assert!(!look(day, Finding::Dusty, Action::Left).renewed);
    assert!(look(day, Finding::Clean, Action::Replaced).renewed);
    assert!(look(day, Finding::Dusty, Action::Rinsed).renewed);
}

#[test]
fn a_shelf_draws_no_air() {
    let day = |day| NaiveDate::from_ymd_opt(2026, 3, day).unwrap();
    let idle = [(day(5), day(9)), (day(20), NaiveDate::MAX)];
    for (on, used) in [(1, 1), (5, 5), (7, 5), (9, 5), (12, 8), (20, 16), (25, 16)] {
        assert_eq!(in_use(day(on), &idle), day(used), "{on}");
    }
}

/// The narrowest looks with five dirty, and enough of them; else all there are; and nothing from too few.
#[test]
fn whose_looks_are_taken() {
    let own = looks(&[(7.0, Some(14.0), 4), (21.0, None, 3)]);
    let unit = looks(&[(7.0, Some(14.0), 2), (14.0, None, 9)]);
    let home = looks(&[(14.0, Some(21.0), 9), (28.0, None, 9)]);
    let none = Looks::default();
    let whose = |own, unit, home, floor| learn(own, unit, home, floor).map(|found| found.whose);
    assert_eq!(whose(&own, &unit, &home, 8), Some(Whose::Unit));
    let five = looks(&[(7.0, Some(14.0), 5), (21.0, None, 3)]);
    assert_eq!(whose(&five, &unit, &home, 8), Some(Whose::Own));
    assert_eq!(whose(&five, &unit, &home, 33), Some(Whose::Unit));
    assert_eq!(whose(&own, &none, &home, 8), Some(Whose::Home));
    let found = learn(&own, &unit, &home, 8).unwrap();
    assert_eq!((found.from.dirty, found.from.units), (6, 2));
    assert_eq!(whose(&own, &none, &none, 28), Some(Whose::Home));
    assert_eq!(whose(&own, &none, &none, 29), None);
    assert_eq!(whose(&none, &none, &none, 0), None);
}

/// Nothing dirty gives a bound and no date; everything dirty at once gives half of the soonest.
#[test]
fn what_cannot_be_learned() {
    let clean = looks(&[(30.0, None, 10)]);
    let none = Looks::default();
    let found = learn(&clean, &none, &none, 8).unwrap();
    assert!(matches!(found.life, Life::NoFailures { .. }));
    let profile = Next {
        days: 7,
        by: By::Profile,
    };
    assert_eq!(next(Some(&found), NEW, Some(TERMS)), profile);
    assert_eq!(next(None, NEW, Some(TERMS)), profile);
    assert_eq!(next(Some(&found), NEW, None), profile);
    // The maker's limit cuts the profile's days, too, learned or not, down to a day.
    for (limit, days) in [(5, 5), (0, 1)] {
        let near = At { limit, ..NEW };
        let by = By::Limit;
        assert_eq!(next(None, near, Some(TERMS)), Next { days, by });
        assert_eq!(next(None, near, None), Next { days, by });
    }
    let dirty = looks(&[(0.0, Some(7.0), 9)]);
    let found = learn(&dirty, &none, &none, 8).unwrap();
    let half = Next {
        days: 3,
        by: By::AllDirty,
    };
    assert_eq!(next(Some(&found), NEW, Some(TERMS)), half);
}

/// A shape is taken where twice the gain is above 3.841. Nelson's turbine wheels insist on theirs (shape 1.485, deviation .147: some 11);
/// ten lives of an invented set (shape 1.381 by lifelines 0.30.3) do not.
#[test]
fn a_shape_is_taken_where_looks_insist_on_it() {
    let months = [6.12, 19.92, 29.64, 35.40, 39.72, 45.24, 52.32, 63.48];
    let cracked = [5, 16, 12, 18, 18, 2, 6, 17];
    let mut after = 0.0;
    let mut rows = vec![(63.48, None, 73)];
    for (by, count) in months.into_iter().zip(cracked) {
        rows.push((after, Some(by), count));
        after = by;
    }
    let wheels = looks(&rows);
    assert!(matches!(
        plainest(&wheels.spans),
        Some((Life::Weibull { .. }, false))
    ));
    let few = looks(&[
        (0.0, Some(7.0), 2),
        (7.0, Some(14.0), 3),
        (14.0, Some(21.0), 2),
        (21.0, Some(28.0), 1),
        (28.0, None, 2),
    ]);
    assert!(matches!(life(&few.spans), Ok(Life::Weibull { .. })));
    assert!(matches!(
        plainest(&few.spans),
        Some((Life::Exponential { .. }, false))
    ));
}

/// Six of thirty clogged by day 2 and the others went on for weeks: the likeliest Weibull has a shape far under 1, by which
/// an old filter is the safest of all. None such is taken, and what was seen of the first days holds.
#[test]
fn an_early_clog_makes_no_old_filter_safer() {
    let many = looks(&[
        (0.0, Some(2.0), 6),
        (14.0, Some(28.0), 2),
        (28.0, Some(42.0), 2),
        (60.0, None, 20),
    ]);
    let Ok(Life::Weibull { shape, .. }) = life(&many.spans) else {
        panic!("it has a shape");
    };
    assert!(shape < 0.7, "{shape}");
    let none = Looks::default();
    let learned = learn(&many, &none, &none, 8).unwrap();
    assert!(matches!(learned.life, Life::Exponential { .. }) && learned.apart);
    // 20 in 100 were dirty by day 2: that is what is said of a new filter, and no day more than keeps 10 in 100.
    let new = learned.chance(0.0, 7.0).unwrap();
    assert!((new - 0.2).abs() < 1e-6, "{new}");
    assert_eq!(learned.cycle(0.0, 0.1, 90).unwrap().days, 1);
    // Of an old one the steady chance is said, at least: never less than of a younger one by the curve.
    let steady = learned.life.dirty_by(7.0).unwrap();
    for age in [7.0, 21.0, 60.0, 100.0] {
        assert!(learned.chance(age, 7.0).unwrap() >= steady - 1e-9, "{age}");
    }
    // One more clog at day 2 never makes a look come later, at any age.
    let mut more = many.clone();
    more.add(&looks(&[(0.0, Some(2.0), 1)]));
    let after = learn(&more, &none, &none, 8).unwrap();
    for age in [0.0, 14.0, 40.0, 80.0] {
        let days = |of: &Learned| of.cycle(age, 0.2, 90).unwrap().days;
        assert!(days(&after) <= days(&learned), "{age}");
    }
}

/// No test refuses the curve, and yet it runs above what was seen: of twelve lives one was dirty by day 7, one more by day 14, four more
/// by day 21. By hand: from day 14 on 4 of 10 are dirty within the week; within an interval days are taken as alike, so 20 in 100 are
/// after 3.5 days, where the steady chance, about six in 210 days at its bound, would allow five.
#[test]
fn what_was_seen_holds_though_no_test_refuses_the_curve() {
    let looks = looks(&[
        (0.0, Some(7.0), 1),
        (7.0, Some(14.0), 1),
        (14.0, Some(21.0), 4),
        (21.0, None, 6),
    ]);
    let none = Looks::default();
    let learned = learn(&looks, &none, &none, 8).unwrap();
    assert!(!learned.apart, "a test lets it stand");
    let [seen, curve] = [
        learned.by_steps(14.0, 7.0).unwrap(),
        learned.by_curve(14.0, 7.0).unwrap(),
    ];
    assert!((seen - 0.4).abs() < 1e-6 && seen > curve, "{seen} {curve}");
    assert!((learned.by_steps(7.0, 7.0).unwrap() - 1.0 / 11.0).abs() < 1e-6);
    assert!((learned.chance(14.0, 7.0).unwrap() - seen).abs() < 1e-12);
    let alone = learned.life.sure_cycle(14.0, 0.2, 90, SURE).unwrap();
    assert_eq!(alone.days, 5);
    let cycle = learned.cycle(14.0, 0.2, 90).unwrap();
    assert_eq!(cycle.days, 3);
    assert!((cycle.chance - 3.0 / 7.0 * 0.4).abs() < 1e-6);
}

/// Where even a day is more than is allowed it is a day, and not called kept: of 20 in (0, 2] 30 in 100 are dirty within one.
#[test]
fn even_a_day_is_too_long() {
    let early = looks(&[(0.0, Some(2.0), 12), (30.0, None, 8)]);
    let none = Looks::default();
    let learned = learn(&early, &none, &none, 8).unwrap();
    let cycle = learned.cycle(0.0, 0.2, 90).unwrap();
    assert!(
        cycle.days == 1 && (cycle.chance - 0.3).abs() < 1e-6,
        "{cycle:?}"
    );
    let said = next(Some(&learned), NEW, Some(TERMS));
    assert_eq!((said.days, said.by), (1, By::EvenADay));
    // It is kept where the home allows as much.
    let more = Terms {
        chance: 0.3,
        ..TERMS
    };
    assert_eq!(next(Some(&learned), NEW, Some(more)).by, By::Chance);
}

/// A filter that was left in goes from 2 days to 3, not to 17 because the control unit once went so long; a new one does.
#[test]
fn days_grow_from_what_was_said_of_the_same_filter() {
    let before = At {
        before: Some(2),
        longest: 17,
        ..NEW
    };
    let same = At {
        same: true,
        ..before
    };
    assert_eq!(days(400.0, same, TERMS), (3, By::Growing));
    assert_eq!(days(400.0, before, TERMS), (21, By::Growing));
    assert_eq!(
        days(
            400.0,
            At {
                before: Some(12),
                ..same
            },
            TERMS
        ),
        (17, By::Growing)
    );
}

/// One in twenty by then, or a quarter of the profile's days: t = -60 ln(0.95) is 3.08 days.
#[test]
fn dirty_long_before_the_usual() {
    let usual = steady_mean(60.0);
    assert!(early(Some(&usual), 3.0, 7) && !early(Some(&usual), 4.0, 7));
    assert!(early(None, 1.0, 7) && !early(None, 2.0, 7));
    assert!(early(None, 3.0, 14) && !early(None, 4.0, 14));
    let of = |life| Learned {
        life,
        ..steady_mean(1.0)
    };
    // Nothing was dirty in so long that the mean is 100 days at least: -100 ln(0.95) is 5.1.
    let never = of(Life::NoFailures {
        mean_at_least: 100.0,
    });
    assert!(early(Some(&never), 5.0, 7) && !early(Some(&never), 6.0, 7));
    assert!(!early(Some(&of(Life::AllDirty { by: 2.0 })), 1.0, 7));
}

/// t = mean x -ln(0.9), on the steps.
#[test]
fn the_bounds_of_a_cycle() {
    assert_eq!(days(57.0, NEW, TERMS), (6, By::Chance));
    assert_eq!(days(95.0, NEW, TERMS), (10, By::Chance));
    assert_eq!(days(120.0, NEW, TERMS), (10, By::Growing));
    let grown = At {
        before: Some(10),
        ..NEW
    };
    assert_eq!(days(120.0, grown, TERMS), (10, By::Chance), "one step more");
    assert_eq!(days(137.0, grown, TERMS), (14, By::Chance));
    assert_eq!(days(400.0, grown, TERMS), (14, By::Growing));
    assert_eq!(days(11.0, grown, TERMS), (1, By::Chance), "down at once");
    assert_eq!(
        days(9.0, grown, TERMS),
        (1, By::EvenADay),
        "10.5 in 100 in a day"
    );
    let cut = At {
        before: Some(2),
        longest: 21,
        ..NEW
    };
    assert_eq!(
        days(400.0, cut, TERMS),
        (28, By::Growing),
        "the limit cut it"
    );
    let long = At {
        before: Some(28),
        ..NEW
    };
    assert_eq!(days(4_000.0, long, TERMS), (28, By::Most));
    let dusty = At {
        left_dusty: true,
        ..grown
    };
    assert_eq!(days(400.0, dusty, TERMS), (7, By::Dusty));
    let old = At { limit: 3, ..grown };
    assert_eq!(days(400.0, old, TERMS), (3, By::Limit));
    let strict = Terms {
        longer: false,
        ..TERMS
    };
    assert_eq!(days(400.0, grown, strict), (7, By::NoLonger));
    assert_eq!(days(30.0, grown, strict), (3, By::Chance));
}

#[test]
fn what_was_said_holds_as_far_as_the_home_lets_it() {
    let strict = Terms {
        longer: false,
        ..TERMS
    };
    for (said, terms, holds_now) in [
        (None, Some(TERMS), 7),
        (None, None, 7),
        (Some(12), Some(TERMS), 12),
        (Some(35), Some(TERMS), 28),
        (Some(12), Some(strict), 7),
        (Some(4), Some(strict), 4),
        // Learning is off: nothing that is due becomes undue.
        (Some(12), None, 7),
        (Some(4), None, 4),
    ] {
        assert_eq!(holds(said, 7, terms), holds_now, "{said:?} {terms:?}");
    }
}

proptest! {
    /// The maker's limit and the home's bounds hold whatever was learned; more chance never means sooner; nothing is said below a day.
    #[test]
    fn bounds_hold(
        spans in prop::collection::vec((0u32..60, 1u32..30, any::<bool>()), 1..60),
        age in 0u32..200, usual in 1u32..60, limit in 0u32..120, before in prop::option::of(1u32..100), longest in 0u32..60,
        most in 7u32..90, longer: bool, left_dusty: bool, same: bool, chance in 0.02..0.25,
    ) {
        let rows: Vec<_> = spans.iter()
            .map(|(after, more, ends)| (f64::from(*after), ends.then(|| f64::from(after + more)), 1))
            .collect();
        let learned = learn(&looks(&rows), &Looks::default(), &Looks::default(), 1);
        let at = At { age, left_dusty, usual, limit, before, same, longest };
        let terms = Terms { chance, looks: 1, longer, most };
        let said = next(learned.as_ref(), at, Some(terms));
        prop_assert!(said.days >= 1 && said.days <= limit.max(1));
        prop_assert!(said.days <= most.max(usual));
        prop_assert!((longer && !left_dusty) || said.days <= usual);
        let free = At { before: None, ..at };
        let [less, more] = [terms.chance, 0.3].map(|chance| next(learned.as_ref(), free, Some(Terms { chance, ..terms })).days);
        prop_assert!(less <= more);
        if let Some(learned) = &learned && let Some(cycle) = learned.cycle(f64::from(age), chance, 168) {
            // By neither of both more are dirty before it than the home allows, or it is a day; and a day more is one too many by one of them.
            let both = |days: u32| {
                let days = f64::from(days);
                [learned.by_curve(f64::from(age), days), learned.by_steps(f64::from(age), days)]
            };
            let over = |days: u32| both(days).into_iter().flatten().any(|dirty| dirty > chance + 1e-9);
            prop_assert!(cycle.days == 1 || !over(cycle.days), "{cycle:?}");
            let bound = learned.life.sure_cycle(f64::from(age), chance, 168, SURE).unwrap().days;
            prop_assert!(cycle.days == bound || over(cycle.days + 1), "{cycle:?}");
            // Said of it, it is no longer than that but where what was said before is one step less.
            prop_assert!(said.days <= cycle.days.max(before.unwrap_or(0)), "{said:?} {cycle:?}");
            prop_assert_eq!(said.by == By::EvenADay, over(1) && !matches!(said.by, By::Limit));
            if let Some(before) = before.filter(|_| same) {
                prop_assert!(said.days <= (before * 3 / 2).max(before + 1));
            }
        }
        // Said once, it is not longer than what holds.
        prop_assert!(holds(Some(said.days), usual, Some(terms)) <= said.days);
    }
}
