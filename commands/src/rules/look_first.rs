//! What to look at first, in order, for a sign that somebody at the bed can name.
//!
//! Decides the order: the resident, then what is quickest to see and likeliest to be it. Nothing here opens a control unit, and
//! nobody is told to change a setting. The maker's instructions come before any of it; who is called, and what is recorded, is
//! left to `decide`, the words to `words`.
//!
//! The causes are the short list of events that published reports and alerts name between them (plug, switch, setting kept
//! or forgotten, hose, valve, leak, filter, layers); no source gives their frequencies, so the order is *common practice*:
//! what can be seen without touching anything first, what needs another person last. That the resident comes before the
//! equipment follows IEC 60601-1-8, whose priority is by harm to the person. Single points name their own source.

use super::named::named_enum;
use super::priority::AlarmKind;

named_enum! {
    /// What somebody sees, hears, feels or smells.
    pub enum Sign {
        /// It beeps, and the panel says low pressure.
        LowPressure = "low-pressure",
        /// It beeps, and the panel is dark.
        NoLights = "no-lights",
        /// No sound; the surface is soft or flat.
        Soft = "soft",
        /// Too hard or too high.
        Hard = "hard",
        /// One side or one part is flat.
        OnePart = "one-part",
        /// The cells no longer fill in turn.
        NotAlternating = "not-alternating",
        /// It is loud, rattles or shakes.
        Noise = "noise",
        /// The panel shows a fault.
        Fault = "fault",
        /// It is hot, smells burnt or smokes.
        Hot = "hot",
        /// Water or another fluid is inside of it.
        Wet = "wet",
        /// Something is wrong, and nobody can say what.
        NotKnown = "not-known",
    }
}

named_enum! {
    /// One thing to look at.
    pub enum LookAt {
        /// The resident: safe, and how they lie.
        Resident = "resident",
        /// The plug, at the wall and at the control unit.
        Plug = "plug",
        /// The power switch.
        Switch = "switch",
        /// Another wall outlet; never an extension cord.
        ///
        /// An extension cord is no substitute for fixed wiring (NFPA 99 and 70, CMS K920; from memory).
        Outlet = "outlet",
        /// The power cord: cut, crushed or hot.
        Cord = "cord",
        /// What the panel says.
        Panel = "panel",
        /// The CPR valve: closed.
        CprValve = "cpr-valve",
        /// The hoses: seated, not kinked, free at the foot end.
        Hoses = "hoses",
        /// The mode: static left on, or alternating, in which cells are soft by turns.
        Mode = "mode",
        /// The setting against the care plan. It is the nurse's to change.
        ///
        /// A unit that had no power may go back to its own setting, or keep the last person's (alerts of a hospital
        /// patient-safety organisation, California, 11 and 18 November 2010).
        Setting = "setting",
        /// The filter: clogged.
        Filter = "filter",
        /// Layers between the person and the surface.
        ///
        /// Every pad and sheet more raised the pressure under the sacrum (Williamson et al., Ostomy Wound Management, 2013).
        Layers = "layers",
        /// The head of the bed, raised.
        ///
        /// Above 30 degrees it presses more on the buttocks (NPUAP/EPUAP/PPPIA guideline, 2014; from memory).
        HeadAngle = "head-angle",
        /// Where the control unit hangs or stands, and what it touches.
        Place = "place",
        /// A leak: hiss, a cell that stays flat.
        Leak = "leak",
        /// Unplug it at the wall, with dry hands.
        ///
        /// The pump of a punctured surface keeps feeding air to a fire (a fire service's and the NHS's advice on powered air
        /// surfaces).
        Unplug = "unplug",
        /// Smoke or flame: the home's fire plan.
        FirePlan = "fire-plan",
        /// The cover, inside too where the maker allows it.
        ///
        /// A cover that lets fluid in is replaced at once (FDA safety communication, 19 April 2013).
        Cover = "cover",
    }
}

/// How a list ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// None of it was the cause: the nurse, a spare, out of service.
    IfNoneOfThese,
    /// Nothing of it puts it right: out of service now.
    OutOfServiceNow,
}

/// What to look at for a sign, in order. The resident is always first, but for the home's fire plan, which begins with them.
#[must_use]
pub const fn steps(sign: Sign) -> &'static [LookAt] {
    use LookAt::{
        Cord, Cover, CprValve, Filter, FirePlan, HeadAngle, Hoses, Layers, Leak, Mode, Outlet,
        Panel, Place, Plug, Resident, Setting, Switch, Unplug,
    };
    match sign {
        Sign::LowPressure => &[
            Resident, CprValve, Hoses, Plug, Switch, Mode, Setting, Filter, Leak,
        ],
        Sign::NoLights => &[Resident, Plug, Switch, Outlet, Cord, Setting],
        Sign::Soft => &[
            Resident, Plug, Switch, CprValve, Hoses, Mode, Setting, Layers, HeadAngle, Filter, Leak,
        ],
        Sign::Hard => &[Resident, Mode, Hoses, Setting],
        // In alternating mode every part is soft in turn, and that is no fault.
        Sign::OnePart => &[Resident, Mode, Hoses, CprValve, Leak],
        Sign::NotAlternating => &[Resident, Mode, Panel, Hoses],
        Sign::Noise => &[Resident, Place, Hoses, Filter, Panel],
        Sign::Fault => &[Resident, Panel, Plug, Filter],
        // A fire is the home's plan before it is anything else.
        Sign::Hot => &[FirePlan, Resident, Unplug],
        Sign::Wet => &[Resident, Unplug, Cover],
        Sign::NotKnown => &[Resident, Plug, Switch, Panel, CprValve, Hoses],
    }
}

/// How the list of a sign ends.
#[must_use]
pub const fn end(sign: Sign) -> End {
    match sign {
        Sign::Hot | Sign::Wet => End::OutOfServiceNow,
        Sign::LowPressure
        | Sign::NoLights
        | Sign::Soft
        | Sign::Hard
        | Sign::OnePart
        | Sign::NotAlternating
        | Sign::Noise
        | Sign::Fault
        | Sign::NotKnown => End::IfNoneOfThese,
    }
}

/// The sign that an alarm is: its card says what this file says.
#[must_use]
pub const fn of_alarm(kind: AlarmKind) -> Sign {
    match kind {
        AlarmKind::Unknown => Sign::NotKnown,
        AlarmKind::LowPressure => Sign::LowPressure,
        AlarmKind::Power => Sign::NoLights,
        AlarmKind::HighPressure => Sign::Hard,
        AlarmKind::Fault => Sign::Fault,
        AlarmKind::BottomedOut => Sign::Soft,
    }
}

/// The kind of the alarm that is opened for a sign. Only what the panel itself says, or that it says nothing, is a kind: the
/// rest is not known until somebody has looked.
#[must_use]
pub const fn alarm(sign: Sign) -> AlarmKind {
    match sign {
        Sign::LowPressure => AlarmKind::LowPressure,
        Sign::NoLights => AlarmKind::Power,
        Sign::Fault | Sign::Hot | Sign::Wet => AlarmKind::Fault,
        Sign::Soft
        | Sign::Hard
        | Sign::OnePart
        | Sign::NotAlternating
        | Sign::Noise
        | Sign::NotKnown => AlarmKind::Unknown,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_resident_first_and_nothing_twice() {
        for sign in Sign::ALL {
            let steps = steps(*sign);
            let first = if *sign == Sign::Hot {
                LookAt::FirePlan
            } else {
                LookAt::Resident
            };
            assert_eq!(steps.first(), Some(&first), "{sign:?}");
            assert!(steps.len() > 2, "{sign:?}");
            for (at, step) in steps.iter().enumerate() {
                assert!(!steps[..at].contains(step), "{sign:?} {step:?}");
            }
        }
        for step in LookAt::ALL {
            assert!(
                Sign::ALL.iter().any(|sign| steps(*sign).contains(step)),
                "{step:?} is looked at by nobody"
            );
        }
    }

    /// What needs no tool, no second person and no touch comes before what does: an open valve, a loose hose and a plug are
    /// looked for before a leak, and the setting, which is the nurse's, after them.
    #[test]
    fn the_quick_before_the_slow() {
        let place = |sign, of| steps(sign).iter().position(|step| *step == of);
        for sign in [Sign::LowPressure, Sign::Soft] {
            for quick in [
                LookAt::CprValve,
                LookAt::Hoses,
                LookAt::Plug,
                LookAt::Switch,
            ] {
                for slow in [LookAt::Setting, LookAt::Filter, LookAt::Leak] {
                    assert!(place(sign, quick) < place(sign, slow), "{sign:?} {quick:?}");
                }
            }
        }
        // After a loss of power the setting is looked at again (alerts of 11 and 18 November 2010), once there is power.
        assert!(steps(Sign::NoLights).ends_with(&[LookAt::Setting]));
    }

    /// Fire feeds on a running pump, and fluid inside is replaced, not looked for (the sources stand at the points).
    #[test]
    fn heat_and_fluid_end_at_once() {
        for sign in Sign::ALL {
            let at_once = matches!(sign, Sign::Hot | Sign::Wet);
            assert_eq!(end(*sign) == End::OutOfServiceNow, at_once, "{sign:?}");
            assert_eq!(steps(*sign).contains(&LookAt::Unplug), at_once, "{sign:?}");
        }
    }

    #[test]
    fn an_alarm_and_its_sign_agree() {
        for kind in AlarmKind::ALL {
            let back = alarm(of_alarm(*kind));
            let says_less = matches!(kind, AlarmKind::HighPressure | AlarmKind::BottomedOut);
            assert!(
                back == *kind || says_less && back == AlarmKind::Unknown,
                "{kind:?}"
            );
        }
    }
}
