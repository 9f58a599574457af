//! What a turnover must show, and which cleaning counts in it.
//!
//! Decides the steps and their order, what a cleaning is worth, what it undoes, and which finding takes a surface out
//! of service. Leaves who is told, and where the surface stands meanwhile, to the caller.
//!
//! Sources: the order soap, disinfectant wet for its contact time, rinse, dry, then a look, is common practice of
//! terminal cleaning. A look at the cover's outside and inside, and taking out of service what let fluid in: FDA
//! Safety Communication of 19 April 2013 on medical bed mattress covers, and MHRA MDA/2010/002. That soap and water
//! alone does not do between two residents, and that only what a label calls sporicidal kills spores: CDC Guideline
//! for Disinfection and Sterilization in Healthcare Facilities, 2008 (from memory). A test run after parts went back
//! on is common practice.

use super::named::named_enum;
use crate::choice::{Action, Cleaning, Cover, FilterKind, Finding, Method, TurnStep};
use crate::record::Fault;

named_enum! {
    /// What the inspection after cleaning found.
    pub enum Inspection {
        /// Whole and dry, inside too where the maker allows a look.
        Whole = "whole",
        /// Stained on the outside: cleaned again.
        Stained = "stained",
        /// Wet or stained inside.
        WetInside = "wet-inside",
        /// Torn, cracked, or with a failing zip.
        Torn = "torn",
    }
}

/// What a turnover must show before a surface is ready, in order.
#[must_use]
pub fn steps(filter: FilterKind) -> Vec<TurnStep> {
    let mut steps = vec![
        TurnStep::Cleaned,
        TurnStep::Dried,
        TurnStep::Inspected,
        TurnStep::Parts,
    ];
    match filter {
        FilterKind::Replaceable | FilterKind::Rinsable => steps.push(TurnStep::Filter),
        FilterKind::None => {}
    }
    steps.push(TurnStep::Function);
    steps
}

/// What must be shown before a step counts: a wet surface is not looked at, and nothing wet is plugged in.
#[must_use]
pub fn before(step: TurnStep) -> &'static [TurnStep] {
    match step {
        TurnStep::Cleaned | TurnStep::Filter => &[],
        TurnStep::Dried => &[TurnStep::Cleaned],
        TurnStep::Inspected | TurnStep::Parts => &[TurnStep::Cleaned, TurnStep::Dried],
        TurnStep::Function => &[
            TurnStep::Cleaned,
            TurnStep::Dried,
            TurnStep::Inspected,
            TurnStep::Parts,
        ],
    }
}

/// Whether a filter is fit to go on with after a look: clean or dusty, or a new or rinsed one went in.
#[must_use]
pub fn filter_fit(finding: Finding, action: Action) -> bool {
    match action {
        Action::Replaced => true,
        Action::Rinsed => finding != Finding::Damaged,
        Action::Left => matches!(finding, Finding::Clean | Finding::Dusty),
    }
}

/// Whether a cleaning between residents disinfected a whole cover: soap and water alone does not.
#[must_use]
pub fn disinfects(method: Method, cover: Cover) -> bool {
    method != Method::SoapAndWater && cover == Cover::Intact
}

/// Whether a cleaning between residents finishes that step. One that is marked needs a product whose label says that
/// it kills spores.
#[must_use]
pub fn cleaning_counts(method: Method, cover: Cover, marked: bool, sporicidal: bool) -> bool {
    disinfects(method, cover) && (!marked || sporicidal)
}

/// What a cleaning undoes of what was shown: what is wet again is dried and looked at again; what was soiled again,
/// or is still stained, is disinfected again, too.
#[must_use]
pub fn undoes(reason: Cleaning, method: Method, cover: Cover) -> &'static [TurnStep] {
    const ALL: &[TurnStep] = &[
        TurnStep::Cleaned,
        TurnStep::Dried,
        TurnStep::Inspected,
        TurnStep::Parts,
        TurnStep::Function,
    ];
    const WET: &[TurnStep] = &[
        TurnStep::Dried,
        TurnStep::Inspected,
        TurnStep::Parts,
        TurnStep::Function,
    ];
    match (reason, cover) {
        (Cleaning::Soiled, _)
        | (Cleaning::BetweenResidents | Cleaning::Routine, Cover::Stained | Cover::Damaged) => ALL,
        // A second disinfectant is shown anew by the cleaning itself, with who and when.
        (Cleaning::BetweenResidents, Cover::Intact) if method != Method::SoapAndWater => ALL,
        (Cleaning::BetweenResidents | Cleaning::Routine, Cover::Intact) => WET,
    }
}

/// The fault that an inspection takes a surface out of service for.
#[must_use]
pub fn fault_of(found: Inspection) -> Option<Fault> {
    match found {
        Inspection::Whole | Inspection::Stained => None,
        Inspection::WetInside => Some(Fault::WetInside),
        Inspection::Torn => Some(Fault::Cover),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_is_wet_then_dry_then_looked_at_then_run() {
        use TurnStep::*;
        assert_eq!(
            steps(FilterKind::Replaceable),
            [Cleaned, Dried, Inspected, Parts, Filter, Function]
        );
        assert_eq!(
            steps(FilterKind::None),
            [Cleaned, Dried, Inspected, Parts, Function]
        );
        // Every step comes after all that it needs.
        let order = steps(FilterKind::Rinsable);
        for (place, step) in order.iter().enumerate() {
            for needed in before(*step) {
                assert!(
                    order[..place].contains(needed),
                    "{step:?} before {needed:?}"
                );
            }
        }
    }

    /// Common practice; CDC 2008 (from memory) for soap and for spores.
    #[test]
    fn soap_stains_and_a_product_that_leaves_spores_do_not_finish_it() {
        use Cover::*;
        use Method::*;
        for (method, cover, marked, sporicidal, counts) in [
            (Quaternary, Intact, false, false, true),
            (Bleach, Intact, false, false, true),
            (SoapAndWater, Intact, false, false, false),
            (SoapAndWater, Intact, true, true, false),
            (Quaternary, Stained, false, false, false),
            (Bleach, Damaged, false, true, false),
            (Quaternary, Intact, true, false, false),
            // Bleach is counted by the label that the home has written down, not by its kind.
            (Bleach, Intact, true, false, false),
            (Bleach, Intact, true, true, true),
            (Other, Intact, true, true, true),
        ] {
            assert_eq!(
                cleaning_counts(method, cover, marked, sporicidal),
                counts,
                "{method:?} {cover:?} marked {marked} sporicidal {sporicidal}"
            );
        }
    }

    #[test]
    fn what_was_wet_again_is_dried_and_looked_at_again() {
        use Cleaning::*;
        use Cover::*;
        use Method::*;
        let again = |reason, method, cover, step| undoes(reason, method, cover).contains(&step);
        assert!(again(Soiled, SoapAndWater, Intact, TurnStep::Cleaned));
        assert!(again(
            BetweenResidents,
            Quaternary,
            Stained,
            TurnStep::Cleaned
        ));
        assert!(!again(Routine, SoapAndWater, Intact, TurnStep::Cleaned));
        assert!(again(Routine, SoapAndWater, Intact, TurnStep::Function));
        for reason in Cleaning::ALL {
            for cover in Cover::ALL {
                assert!(again(*reason, Quaternary, *cover, TurnStep::Dried));
                assert!(again(*reason, Quaternary, *cover, TurnStep::Inspected));
                assert!(!again(*reason, Quaternary, *cover, TurnStep::Filter));
            }
        }
    }

    /// FDA 2013: replace at once what is damaged or let fluid in.
    #[test]
    fn wet_inside_and_torn_go_out_of_service() {
        assert_eq!(fault_of(Inspection::Whole), None);
        assert_eq!(fault_of(Inspection::Stained), None);
        assert_eq!(fault_of(Inspection::WetInside), Some(Fault::WetInside));
        assert_eq!(fault_of(Inspection::Torn), Some(Fault::Cover));
    }

    #[test]
    fn a_filter_is_fit_when_it_lets_air_through_and_is_whole() {
        use Action::*;
        use Finding::*;
        for (finding, action, fit) in [
            (Clean, Left, true),
            (Dusty, Left, true),
            (Clogged, Left, false),
            (Damaged, Left, false),
            (Clogged, Rinsed, true),
            (Damaged, Rinsed, false),
            (Damaged, Replaced, true),
        ] {
            assert_eq!(filter_fit(finding, action), fit, "{finding:?} {action:?}");
        }
    }
}
