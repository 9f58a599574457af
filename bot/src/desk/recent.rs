//! The causes a desk has seen lately, against events that come twice. Decides how many are kept; what
//! was recorded is in the file for ever.

use std::collections::{BTreeSet, VecDeque};

use commands::Source;

/// Causes remembered.
const RECENT_MAX: usize = 1_024;

/// Causes seen lately, the oldest forgotten first.
#[derive(Default)]
pub(super) struct Recent {
    set: BTreeSet<Source>,
    order: VecDeque<Source>,
}

impl Recent {
    /// Returns whether it was not there.
    pub(super) fn insert(&mut self, source: &Source) -> bool {
        if !self.set.insert(source.clone()) {
            return false;
        }
        self.order.push_back(source.clone());
        if self.order.len() > RECENT_MAX
            && let Some(oldest) = self.order.pop_front()
        {
            self.set.remove(&oldest);
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_newest_are_remembered() {
        let mut recent = Recent::default();
        for id in 0..=RECENT_MAX as u64 {
            assert!(recent.insert(&Source::interaction(id)));
        }
        assert!(!recent.insert(&Source::interaction(1)));
        assert!(
            recent.insert(&Source::interaction(0)),
            "the oldest is forgotten"
        );
        assert_eq!(recent.set.len(), RECENT_MAX);
    }
}
