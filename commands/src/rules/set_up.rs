//! What a checklist at a bed holds, by why it was opened, and in which order it is gone through.
//!
//! Decides the steps, the three groups that are confirmed, and when a step's turn has come. Leaves who may confirm
//! them to `role`, and what was done to the state.
//!
//! The steps before filling and with the resident are common practice. That a control unit may come back at its
//! default, or keep the last person's setting, so that the setting is looked at again whenever it had no power, is in
//! two hospital patient-safety alerts (California, 11 and 18 November 2010). That a powered surface in the place of
//! another can change a bed's gaps is in Health Canada's bed guidance, section 2.2.3.

use crate::choice::{Opening, Step};

/// The three groups of a checklist.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Before filling.
    Empty,
    /// Filled, with nobody on it.
    Filled,
    /// With the resident.
    Resident,
}

/// What is asked for at one time: a group, or the piece of one that needs its own answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Before filling; after a move, plugged in again.
    Empty,
    /// Filled, with nobody on it.
    Full,
    /// The setting.
    Setting,
    /// What else belongs to the resident's first minutes on it.
    Rest,
    /// The check that the maker wants.
    Check,
    /// Rails and gaps.
    Rails,
}

/// What decides which steps there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Needs {
    /// The profile wants a check.
    pub check: bool,
    /// The bed may have rails.
    pub rails: bool,
}

/// Before filling.
const EMPTY: [Step; 8] = [
    Step::Brakes,
    Step::FrameFits,
    Step::Hoses,
    Step::Straps,
    Step::Hung,
    Step::Outlet,
    Step::Connector,
    Step::Valve,
];

/// Steps that change how much air there is: a check from before one of them says nothing of after it (common practice).
pub const MOVES_AIR: [Step; 5] = [
    Step::Connector,
    Step::Valve,
    Step::Full,
    Step::Settled,
    Step::Linen,
];

/// With the resident.
const RESIDENT: [Step; 7] = [
    Step::Setting,
    Step::Settled,
    Step::Linen,
    Step::Audible,
    Step::Locked,
    Step::Check,
    Step::Rails,
];

/// The steps of a checklist, in order. After a power loss, what was just `shown` otherwise is left out; the setting
/// never is.
#[must_use]
pub fn steps(opening: Opening, needs: Needs, shown: &[Step]) -> Vec<Step> {
    let all: Vec<Step> = match opening {
        Opening::Placed => EMPTY
            .into_iter()
            .chain([Step::Full])
            .chain(RESIDENT)
            .collect(),
        Opening::Moved => vec![
            Step::Hoses,
            Step::Outlet,
            Step::Plugged,
            Step::Setting,
            Step::Check,
            Step::Rails,
        ],
        Opening::Cpr => vec![Step::Valve, Step::Full, Step::Setting, Step::Check],
        Opening::Power => [Step::Plugged, Step::Setting, Step::Check]
            .into_iter()
            .filter(|step| *step == Step::Setting || !shown.contains(step))
            .collect(),
    };
    all.into_iter()
        .filter(|step| match step {
            Step::Check => needs.check,
            Step::Rails => needs.rails,
            Step::Brakes
            | Step::FrameFits
            | Step::Hoses
            | Step::Straps
            | Step::Hung
            | Step::Outlet
            | Step::Connector
            | Step::Valve
            | Step::Plugged
            | Step::Full
            | Step::Setting
            | Step::Settled
            | Step::Linen
            | Step::Audible
            | Step::Locked => true,
        })
        .collect()
}

/// The steps of a checklist that comes on top of one that is still open: what was left, and what is new, in order.
#[must_use]
pub fn merged(left: impl IntoIterator<Item = Step>, new: Vec<Step>) -> Vec<Step> {
    let all: std::collections::BTreeSet<Step> = left.into_iter().chain(new).collect();
    all.into_iter().collect()
}

/// When a step is asked for.
#[must_use]
pub fn stage(step: Step) -> Stage {
    match step {
        Step::Brakes
        | Step::FrameFits
        | Step::Hoses
        | Step::Straps
        | Step::Hung
        | Step::Outlet
        | Step::Connector
        | Step::Valve
        | Step::Plugged => Stage::Empty,
        Step::Full => Stage::Full,
        Step::Setting => Stage::Setting,
        Step::Settled | Step::Linen | Step::Audible | Step::Locked => Stage::Rest,
        Step::Check => Stage::Check,
        Step::Rails => Stage::Rails,
    }
}

impl Stage {
    /// Every stage, in order.
    pub const ALL: [Stage; 6] = [
        Stage::Empty,
        Stage::Full,
        Stage::Setting,
        Stage::Rest,
        Stage::Check,
        Stage::Rails,
    ];

    /// The group it belongs to.
    #[must_use]
    pub fn part(self) -> Part {
        match self {
            Stage::Empty => Part::Empty,
            Stage::Full => Part::Filled,
            Stage::Setting | Stage::Rest | Stage::Check | Stage::Rails => Part::Resident,
        }
    }

    /// Its word in a tap, and in the key of its sentences.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Stage::Empty => "empty",
            Stage::Full => "full",
            Stage::Setting => "setting",
            Stage::Rest => "rest",
            Stage::Check => "check",
            Stage::Rails => "rails",
        }
    }

    /// Reads the word.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|stage| stage.as_str() == text)
    }
}

/// The stage whose turn it is, given what is left; `None` when nothing is.
#[must_use]
pub fn next(left: impl IntoIterator<Item = Step>) -> Option<Stage> {
    left.into_iter().map(stage).min()
}

/// Whether a stage's turn has come: nothing that must come before it is left. A check that cannot be made now, with
/// the resident asleep, holds up neither rails nor gaps.
#[must_use]
pub fn in_turn(wanted: Stage, left: impl IntoIterator<Item = Step>) -> bool {
    !left
        .into_iter()
        .map(stage)
        .any(|open| open < wanted && !(open == Stage::Check && wanted == Stage::Rails))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: Needs = Needs {
        check: true,
        rails: true,
    };

    #[test]
    fn a_placement_asks_for_everything_but_being_plugged_in_again() {
        let steps = steps(Opening::Placed, ALL, &[]);
        assert!(steps.is_sorted(), "in the order of the list");
        let missing: Vec<Step> = Step::ALL
            .iter()
            .copied()
            .filter(|step| !steps.contains(step))
            .collect();
        assert_eq!(missing, [Step::Plugged]);
    }

    #[test]
    fn every_list_is_in_order_and_asks_for_the_setting() {
        for opening in Opening::ALL {
            let steps = steps(*opening, ALL, &[Step::Plugged, Step::Setting, Step::Check]);
            assert!(steps.is_sorted(), "{opening:?}");
            assert!(steps.contains(&Step::Setting), "{opening:?}");
        }
    }

    #[test]
    fn what_the_maker_and_the_bed_do_not_have_is_not_asked_for() {
        let none = Needs {
            check: false,
            rails: false,
        };
        for opening in Opening::ALL {
            let steps = steps(*opening, none, &[]);
            assert!(!steps.contains(&Step::Check) && !steps.contains(&Step::Rails));
        }
        // A valve that was opened moves no rail.
        assert!(!steps(Opening::Cpr, ALL, &[]).contains(&Step::Rails));
    }

    #[test]
    fn after_a_power_loss_only_what_was_not_just_shown_is_asked_for() {
        assert_eq!(
            steps(Opening::Power, ALL, &[Step::Plugged, Step::Check]),
            [Step::Setting]
        );
        assert_eq!(
            steps(Opening::Power, ALL, &[]),
            [Step::Plugged, Step::Setting, Step::Check]
        );
    }

    #[test]
    fn the_stages_come_in_turn() {
        let left = steps(Opening::Placed, ALL, &[]);
        assert_eq!(next(left.clone()), Some(Stage::Empty));
        assert!(!in_turn(Stage::Full, left.clone()));
        assert!(in_turn(Stage::Empty, left));
        let asleep = [Step::Check, Step::Rails];
        assert_eq!(next(asleep), Some(Stage::Check));
        assert!(in_turn(Stage::Rails, asleep));
        assert!(!in_turn(Stage::Check, [Step::Locked, Step::Check]));
        assert_eq!(next([]), None);
    }

    #[test]
    fn what_was_open_stays_open_beside_what_is_new() {
        let open = [Step::Linen, Step::Rails];
        assert_eq!(
            merged(open, vec![Step::Setting]),
            [Step::Setting, Step::Linen, Step::Rails]
        );
    }

    #[test]
    fn the_words_of_the_stages_come_back() {
        for stage in Stage::ALL {
            assert_eq!(Stage::from_text(stage.as_str()), Some(stage));
        }
    }
}
