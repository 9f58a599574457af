//! How long things take, where some are not over yet: alarms until the resident is safe, turnovers until ready.
//!
//! Decides figures only. Leaves to the caller what is timed, which waits belong together, and every sentence. A wait is of a
//! unit's work, never of one person's.
//!
//! Source: the product-limit estimate (Kaplan and Meier, JASA 1958). Leaving out what is not over yet would make every figure
//! look better than it is.
//!
//! Tried: `solow-duration` 0.7.4 is within 2e-16 of exact fractions on the data below, without quantiles, and brings four
//! more crates of its own and an array library for thirty lines; `survival` 2.0.0 is far larger (see `filter_life`). So the product is our own.

/// How near to a share the curve must come to count as there: the last digits of the products are noise.
const NOISE: f64 = 1e-12;

/// One wait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// How long, in any unit, 0 or more.
    pub time: f64,
    /// Whether it is over; if not, it takes longer than `time`.
    pub over: bool,
}

/// From a time on, what share still waits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// The time at which some were over.
    pub time: f64,
    /// The share that takes longer, 0 to 1.
    pub waiting: f64,
}

/// A wait in whole units, as it is said: nowhere more than a sixtieth longer than it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whole {
    /// Minutes, below an hour.
    Minutes(i64),
    /// Hours and the minutes beyond them, below three days.
    Hours(i64, i64),
    /// Days and the hours beyond them.
    Days(i64, i64),
}

impl Whole {
    /// So many minutes, never said shorter than they were, and one minute at least: whoever reads that a resident was safe
    /// within ten minutes can rely on it. Parts of the smaller unit count as a whole one, on paper and in pictures alike.
    #[must_use]
    pub fn of(minutes: f64) -> Self {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "a float beyond the whole numbers is cut to the last of them"
        )]
        let whole = (minutes.ceil() as i64).max(1);
        let hours = whole / 60 + i64::from(whole % 60 > 0);
        match whole {
            ..60 => Self::Minutes(whole),
            60..4_320 => Self::Hours(whole / 60, whole % 60),
            _ => Self::Days(hours / 24, hours % 24),
        }
    }

    /// So many minutes it says: where a picture puts what its words call so.
    #[must_use]
    pub fn minutes(self) -> f64 {
        (match self {
            Self::Minutes(minutes) => minutes,
            Self::Hours(hours, minutes) => 60 * hours + minutes,
            Self::Days(days, hours) => 60 * (24 * days + hours),
        }) as f64
    }
}

/// How waits are spread.
#[derive(Debug, Clone, PartialEq)]
pub struct Waits {
    /// The steps of the curve, in order of time; before the first all wait.
    pub steps: Vec<Step>,
}

impl Waits {
    /// The spread of waits in any order; `None` where there are none, or a time is no number from 0 up.
    #[must_use]
    pub fn of(waits: &[Wait]) -> Option<Self> {
        let fits = |wait: &Wait| wait.time >= 0.0 && wait.time.is_finite();
        if waits.is_empty() || !waits.iter().all(fits) {
            return None;
        }
        let mut waits = waits.to_vec();
        waits.sort_by(|a, b| a.time.total_cmp(&b.time));
        let mut steps = Vec::new();
        let mut left = waits.len();
        let mut waiting = 1.0;
        // One that is not over at a time waits with those that are over at it.
        for same in waits.chunk_by(|a, b| a.time == b.time) {
            let over = same.iter().filter(|wait| wait.over).count();
            if over > 0 {
                waiting *= (left - over) as f64 / left as f64;
                steps.push(Step {
                    time: same[0].time,
                    waiting,
                });
            }
            left -= same.len();
        }
        Some(Waits { steps })
    }

    /// The time within which a share of them is over, such as 0.9: the first at which no more than the rest still waits.
    ///
    /// `None` where so many are not over yet that nobody knows, or the share is not above 0 and below 1.
    #[must_use]
    pub fn within(&self, share: f64) -> Option<f64> {
        (share > 0.0 && share < 1.0).then_some(())?;
        let reached = |step: &&Step| step.waiting <= 1.0 - share + NOISE;
        self.steps.iter().find(reached).map(|step| step.time)
    }

    /// Half are over within this.
    #[must_use]
    pub fn median(&self) -> Option<f64> {
        self.within(0.5)
    }

    /// Nine of ten are over within this.
    #[must_use]
    pub fn ninetieth(&self) -> Option<f64> {
        self.within(0.9)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Times of the treated patients of Freireich and others, Blood 1963, as every text on survival prints them (from memory): weeks; 0 is over.
    fn freireich() -> Vec<Wait> {
        [
            (6.0, 1),
            (6.0, 1),
            (6.0, 1),
            (6.0, 0),
            (7.0, 1),
            (9.0, 0),
            (10.0, 1),
            (10.0, 0),
            (11.0, 0),
            (13.0, 1),
            (16.0, 1),
            (17.0, 0),
            (19.0, 0),
            (20.0, 0),
            (22.0, 1),
            (23.0, 1),
            (25.0, 0),
            (32.0, 0),
            (32.0, 0),
            (34.0, 0),
            (35.0, 0),
        ]
        .map(|(time, over)| Wait {
            time,
            over: over == 1,
        })
        .to_vec()
    }

    #[test]
    fn what_is_said_is_no_shorter_and_at_most_a_sixtieth_longer() {
        for (minutes, said, shown) in [
            (0.2, Whole::Minutes(1), 1.0),
            (59.0, Whole::Minutes(59), 59.0),
            (135.5, Whole::Hours(2, 16), 136.0),
            (4_319.0, Whole::Hours(71, 59), 4_319.0),
            // 3 days 2 h 1 min.
            (4_441.0, Whole::Days(3, 3), 4_500.0),
        ] {
            assert_eq!(Whole::of(minutes), said);
            assert!((said.minutes() - shown).abs() < 1e-9, "{said:?}");
        }
    }

    /// The product-limit table of the same data as texts print it, four places (Cox and Oakes, Analysis of Survival Data, 1984, ch. 4; from
    /// memory); lifelines 0.30.3 gives the same. Median 23 weeks.
    #[test]
    fn the_printed_table() {
        let waits = Waits::of(&freireich()).unwrap();
        let wanted = [
            (6.0, 0.8571),
            (7.0, 0.8067),
            (10.0, 0.7529),
            (13.0, 0.6902),
            (16.0, 0.6275),
            (22.0, 0.5378),
            (23.0, 0.4482),
        ];
        assert_eq!(waits.steps.len(), wanted.len());
        for (step, (time, waiting)) in waits.steps.iter().zip(wanted) {
            assert_eq!(step.time, time);
            assert!((step.waiting - waiting).abs() <= 0.000_051, "{step:?}");
        }
        assert_eq!(waits.median(), Some(23.0));
        assert_eq!(waits.within(0.25), Some(13.0));
        assert_eq!(waits.ninetieth(), None);
    }

    /// Remissions of leukaemia with maintained chemotherapy, the data set `aml` of R's package survival (Miller, Survival Analysis,
    /// 1981, p. 49), with the table that its documented example prints, three places (from 31 weeks on from memory). Median 31.
    #[test]
    fn the_documented_example_of_r() {
        let weeks = [
            (9, true),
            (13, true),
            (13, false),
            (18, true),
            (23, true),
            (28, false),
            (31, true),
            (34, true),
            (45, false),
            (48, true),
            (161, false),
        ];
        let waits = weeks.map(|(week, over)| Wait {
            time: f64::from(week),
            over,
        });
        let found = Waits::of(&waits).unwrap();
        let wanted = [
            (9.0, 0.909),
            (13.0, 0.818),
            (18.0, 0.716),
            (23.0, 0.614),
            (31.0, 0.491),
            (34.0, 0.368),
            (48.0, 0.184),
        ];
        assert_eq!(found.steps.len(), wanted.len());
        for (step, (time, waiting)) in found.steps.iter().zip(wanted) {
            assert_eq!(step.time, time);
            assert!((step.waiting - waiting).abs() <= 0.000_51, "{step:?}");
        }
        assert_eq!(found.median(), Some(31.0));
    }

    /// The untreated ones of the same trial are all over: the curve is what is left of 21, the median 8, nine of ten within 17.
    #[test]
    fn without_open_ones_it_counts() {
        let weeks = [
            1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23,
        ];
        let waits: Vec<Wait> = weeks
            .into_iter()
            .map(|week| Wait {
                time: f64::from(week),
                over: true,
            })
            .collect();
        let waits = Waits::of(&waits).unwrap();
        for step in &waits.steps {
            let left = weeks
                .iter()
                .filter(|week| f64::from(**week) > step.time)
                .count();
            assert!((step.waiting - left as f64 / 21.0).abs() < 1e-12);
        }
        assert_eq!((waits.median(), waits.ninetieth()), (Some(8.0), Some(17.0)));
    }

    #[test]
    fn a_tenth_is_a_tenth() {
        // Nine of ten are over at 9, whatever the last digit of the product.
        let waits: Vec<Wait> = (1..=10)
            .map(|n| Wait {
                time: f64::from(n),
                over: true,
            })
            .collect();
        let waits = Waits::of(&waits).unwrap();
        assert_eq!((waits.median(), waits.ninetieth()), (Some(5.0), Some(9.0)));
    }

    #[test]
    fn what_is_no_wait() {
        assert_eq!(Waits::of(&[]), None);
        for time in [-1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(Waits::of(&[Wait { time, over: true }]), None);
        }
        let open = Waits::of(&[Wait {
            time: 5.0,
            over: false,
        }])
        .unwrap();
        assert_eq!((open.steps.len(), open.median()), (0, None));
        let waits = Waits::of(&freireich()).unwrap();
        for share in [0.0, 1.0, -0.5, 50.0, f64::NAN] {
            assert_eq!(waits.within(share), None);
        }
    }

    fn waits() -> impl Strategy<Value = Vec<Wait>> {
        let wait = (0u16..60, any::<bool>()).prop_map(|(time, over)| Wait {
            time: f64::from(time),
            over,
        });
        prop::collection::vec(wait, 1..60)
    }

    #[test]
    fn no_wait_is_said_shorter_than_it_was() {
        for (minutes, said) in [
            (0.0, Whole::Minutes(1)),
            (0.3, Whole::Minutes(1)),
            (1.0, Whole::Minutes(1)),
            (1.0 + 1.0 / 60.0, Whole::Minutes(2)),
            (9.5, Whole::Minutes(10)),
            (59.0, Whole::Minutes(59)),
            (59.1, Whole::Hours(1, 0)),
            (179.1, Whole::Hours(3, 0)),
            // From 10:27 to 13:31.
            (184.0, Whole::Hours(3, 4)),
            (4_319.0, Whole::Hours(71, 59)),
            (4_320.0, Whole::Days(3, 0)),
            (4_321.0, Whole::Days(3, 1)),
            (5_759.0, Whole::Days(4, 0)),
        ] {
            assert_eq!(Whole::of(minutes), said, "{minutes}");
        }
        for odd in [f64::NAN, -1.0, f64::NEG_INFINITY] {
            assert_eq!(Whole::of(odd), Whole::Minutes(1));
        }
        assert!(matches!(Whole::of(f64::INFINITY), Whole::Days(..)));
    }

    proptest! {
        /// Whole seconds: never shorter than they were, and by less than one unit longer.
        #[test]
        fn what_is_said_is_the_next_whole_unit(seconds in 1i64..10_000_000) {
            let (count, unit) = match Whole::of(seconds as f64 / 60.0) {
                Whole::Minutes(count) => (count, 60),
                Whole::Hours(count, rest) => (60 * count + rest, 60),
                Whole::Days(count, rest) => (24 * count + rest, 3_600),
            };
            prop_assert!(count * unit >= seconds);
            // Up to a minute, and then up to the unit.
            prop_assert!(count * unit - seconds < unit + 60);
        }

        /// The curve falls; a wait that is over sooner makes no figure longer; the order of the list says nothing.
        #[test]
        fn it_follows_the_waits(all in waits(), sooner in 0u16..30) {
            let found = Waits::of(&all).unwrap();
            prop_assert!(found.steps.is_sorted_by(|a, b| a.time < b.time && a.waiting > b.waiting));
            prop_assert!(found.steps.iter().all(|step| (0.0..1.0).contains(&step.waiting)));
            let mut other = all.clone();
            other.reverse();
            prop_assert_eq!(&Waits::of(&other).unwrap(), &found);
            if let (Some(median), Some(ninetieth)) = (found.median(), found.ninetieth()) {
                prop_assert!(median <= ninetieth);
            }
            let by = f64::from(sooner);
            let shifted: Vec<Wait> = all.iter().map(|wait| Wait { time: wait.time + by, ..*wait }).collect();
            let shifted = Waits::of(&shifted).unwrap();
            prop_assert_eq!(shifted.median(), found.median().map(|median| median + by));
        }

        /// To leave out what is not over can only make the curve look lower.
        #[test]
        fn open_waits_count(all in waits()) {
            let over: Vec<Wait> = all.iter().filter(|wait| wait.over).copied().collect();
            if let Some(without) = Waits::of(&over) {
                let with = Waits::of(&all).unwrap();
                for (with, without) in with.steps.iter().zip(&without.steps) {
                    prop_assert!(with.waiting >= without.waiting - 1e-12);
                }
            }
        }

        #[test]
        fn no_numbers_stop_it(pairs in prop::collection::vec((any::<f64>(), any::<bool>()), 0..9), share: f64) {
            let all: Vec<Wait> = pairs.into_iter().map(|(time, over)| Wait { time, over }).collect();
            if let Some(waits) = Waits::of(&all) {
                let _time = waits.within(share);
            }
        }
    }
}
