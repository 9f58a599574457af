//! In which order the surfaces of an outage are called up.
//!
//! Decides the order only. Leaves to the caller how long a surface holds its air without power, which ones are
//! called, and what is asked of each. Source: common practice (what may already be failing under somebody comes
//! first); no published standard was found.

/// What the order of one surface rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Holding {
    /// Minutes that its maker says it still holds air without power, counted from now; below 0 where they are over,
    /// `None` where they are not known.
    pub left_minutes: Option<i64>,
    /// A hand check found it low not long ago.
    pub lately_low: bool,
    /// Somebody is on it.
    pub occupied: bool,
}

/// The order to call them in, as places in `items`, each once.
///
/// Occupied ones before empty ones. Among these, one whose holding time is not known before all others (it may hold
/// nothing), then the one with least time left. Among equals one that was lately low first, then as given.
#[must_use]
pub fn order(items: &[Holding]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..items.len()).collect();
    // The sort is stable, which keeps equals as given.
    places.sort_by_key(|place| rank(items[*place]));
    places
}

/// Earlier in the order is less: `false` before `true`, and an unknown time (`None`) before any known one.
fn rank(of: Holding) -> (bool, Option<i64>, bool) {
    (!of.occupied, of.left_minutes, !of.lately_low)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn holding(left_minutes: Option<i64>, lately_low: bool, occupied: bool) -> Holding {
        Holding {
            left_minutes,
            lately_low,
            occupied,
        }
    }

    #[test]
    fn in_the_order_of_a_roll_call() {
        // Already in their order.
        let called = [
            holding(None, true, true),
            holding(None, false, true),
            holding(Some(-20), false, true),
            holding(Some(0), false, true),
            holding(Some(30), true, true),
            holding(Some(30), false, true),
            holding(Some(240), true, true),
            holding(None, false, false),
            holding(Some(-60), true, false),
            holding(Some(5), false, false),
        ];
        assert_eq!(order(&called), [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
        let mut backwards = called;
        backwards.reverse();
        assert_eq!(order(&backwards), [9, 8, 7, 6, 5, 4, 3, 2, 1, 0]);
    }

    #[test]
    fn equals_stay_as_given() {
        let same = holding(Some(30), false, true);
        let first = holding(Some(10), false, true);
        assert_eq!(order(&[same, same, first, same]), [2, 0, 1, 3]);
        assert_eq!(order(&[]), [0usize; 0]);
    }

    /// The words of the rule, one after another, without the key that the sort uses.
    fn before(a: Holding, b: Holding) -> bool {
        if a.occupied != b.occupied {
            return a.occupied;
        }
        match (a.left_minutes, b.left_minutes) {
            (None, Some(_)) => return true,
            (Some(_), None) => return false,
            (Some(a), Some(b)) if a != b => return a < b,
            (None, None) | (Some(_), Some(_)) => {}
        }
        a.lately_low && !b.lately_low
    }

    fn any_holding() -> impl Strategy<Value = Holding> {
        // Few values, so that equals are common; and the ends.
        let left = prop_oneof![
            Just(None),
            (-3i64..4).prop_map(Some),
            Just(Some(i64::MIN)),
            Just(Some(i64::MAX)),
        ];
        (left, any::<bool>(), any::<bool>())
            .prop_map(|(left, low, occupied)| holding(left, low, occupied))
    }

    proptest! {
        #[test]
        fn a_total_order(a in any_holding(), b in any_holding(), c in any_holding()) {
            // One of three: before, after, or equal in all that counts.
            prop_assert!(!(before(a, b) && before(b, a)));
            prop_assert_eq!(!before(a, b) && !before(b, a), a == b);
            if before(a, b) && before(b, c) {
                prop_assert!(before(a, c));
            }
            prop_assert_eq!(before(a, b), rank(a) < rank(b));
        }

        #[test]
        fn a_permutation_in_that_order(items in proptest::collection::vec(any_holding(), 0..40)) {
            let places = order(&items);
            let mut each_once = places.clone();
            each_once.sort_unstable();
            prop_assert_eq!(each_once, (0..items.len()).collect::<Vec<_>>());
            for pair in places.windows(2) {
                let (first, second) = (pair[0], pair[1]);
                prop_assert!(!before(items[second], items[first]));
                if items[first] == items[second] {
                    prop_assert!(first < second);
                }
            }
        }

        #[test]
        fn who_comes_first_does_not_depend_on_the_list(items in proptest::collection::vec(any_holding(), 0..20)) {
            let in_order: Vec<_> = order(&items).into_iter().map(|place| items[place]).collect();
            let mut turned = items;
            turned.reverse();
            let again: Vec<_> = order(&turned).into_iter().map(|place| turned[place]).collect();
            prop_assert_eq!(in_order, again);
        }
    }
}
