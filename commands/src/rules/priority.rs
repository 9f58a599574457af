//! How urgent an alarm is, after the open standard's table of possible harm and how soon it comes.
//!
//! The standard gives the table and leaves to others which conditions are which; our reading of the
//! alarms of a powered air surface stands here, each case with its reason. It is no medical advice, and
//! this program is no alarm system.

use super::named::named_enum;

named_enum! {
    /// How urgently an alarm must be answered, least first.
    pub enum Priority {
        /// Awareness.
        Low = "low",
        /// Prompt response.
        Medium = "medium",
        /// Immediate response.
        High = "high",
    }
}

/// What could come of an alarm that nobody answers (IEC 60601-1-8, Table 1).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Severity {
    /// Death or irreversible injury.
    Irreversible,
    /// Reversible injury.
    Reversible,
    /// Minor injury or discomfort.
    Minor,
}

/// How soon harm could come (IEC 60601-1-8, Table 1, notes).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Onset {
    /// Usually too soon for somebody to put it right by hand.
    Immediate,
    /// Usually leaving time to put it right by hand.
    Prompt,
    /// Later than that.
    Delayed,
}

named_enum! {
    /// What a control unit's alarm, or a person, says is wrong.
    pub enum AlarmKind {
        /// Nobody has looked yet.
        Unknown = "unknown",
        /// Not enough air.
        LowPressure = "low-pressure",
        /// No electricity, or unplugged.
        Power = "power",
        /// Too much air.
        HighPressure = "high-pressure",
        /// The control unit says that it is broken.
        Fault = "fault",
        /// A check found no air left under the person.
        BottomedOut = "bottomed-out",
    }
}

/// The priority table of IEC 60601-1-8:2006 with its amendments, Table 1.
///
/// For a minor injury that comes late the standard allows low priority, an information signal or none;
/// low is taken, the most careful of them.
#[must_use]
pub fn priority(severity: Severity, onset: Onset) -> Priority {
    match (severity, onset) {
        (Severity::Irreversible, Onset::Immediate | Onset::Prompt) => Priority::High,
        (Severity::Irreversible, Onset::Delayed) => Priority::Medium,
        (Severity::Reversible, Onset::Immediate) => Priority::High,
        (Severity::Reversible, Onset::Prompt) => Priority::Medium,
        (Severity::Reversible, Onset::Delayed) => Priority::Low,
        (Severity::Minor, Onset::Immediate) => Priority::Medium,
        (Severity::Minor, Onset::Prompt | Onset::Delayed) => Priority::Low,
    }
}

/// The priority of an alarm of one surface.
///
/// `occupied`: somebody lies on it, or nobody has said otherwise. `power_lost`: it has no electricity
/// as well. `bottomed_out`: a check found no air left.
///
/// Sustained load very likely starts subdermal injury between 1 h and 4 to 6 h (Gefen, Ostomy Wound
/// Management, 2008): little air leaves time to act, so it is prompt. No air, or little air and no way to add
/// any, is taken as immediate. An alarm that nobody has looked at is taken as little air.
#[must_use]
pub fn alarm_priority(
    kind: AlarmKind,
    occupied: bool,
    power_lost: bool,
    bottomed_out: bool,
) -> Priority {
    if !occupied {
        return priority(Severity::Reversible, Onset::Delayed);
    }
    if bottomed_out {
        return priority(Severity::Reversible, Onset::Immediate);
    }
    let onset = match kind {
        AlarmKind::BottomedOut => Onset::Immediate,
        AlarmKind::LowPressure | AlarmKind::Unknown if power_lost => Onset::Immediate,
        AlarmKind::LowPressure | AlarmKind::Unknown => Onset::Prompt,
        // The air that is in it stays for a while.
        AlarmKind::Power | AlarmKind::Fault => Onset::Prompt,
        // Too much air is firm as any mattress is, until the power that holds it goes as well.
        AlarmKind::HighPressure if power_lost => Onset::Prompt,
        AlarmKind::HighPressure => Onset::Delayed,
    };
    priority(Severity::Reversible, onset)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// All nine cells of IEC 60601-1-8:2006+A1+A2, Table 1, as a public secondary copy gives them.
    #[test]
    fn the_nine_cells() {
        use Onset::{Delayed, Immediate, Prompt};
        use Priority::{High, Low, Medium};
        use Severity::{Irreversible, Minor, Reversible};
        for (severity, onset, expected) in [
            (Irreversible, Immediate, High),
            (Irreversible, Prompt, High),
            (Irreversible, Delayed, Medium),
            (Reversible, Immediate, High),
            (Reversible, Prompt, Medium),
            (Reversible, Delayed, Low),
            (Minor, Immediate, Medium),
            (Minor, Prompt, Low),
            (Minor, Delayed, Low),
        ] {
            assert_eq!(
                priority(severity, onset),
                expected,
                "{severity:?} {onset:?}"
            );
        }
    }

    #[test]
    fn our_alarms() {
        use AlarmKind::{BottomedOut, Fault, HighPressure, LowPressure, Power, Unknown};
        assert_eq!(
            alarm_priority(LowPressure, true, false, false),
            Priority::Medium
        );
        assert_eq!(
            alarm_priority(Unknown, true, false, false),
            Priority::Medium
        );
        assert_eq!(alarm_priority(Power, true, true, false), Priority::Medium);
        assert_eq!(alarm_priority(Fault, true, false, false), Priority::Medium);
        assert_eq!(
            alarm_priority(HighPressure, true, false, false),
            Priority::Low
        );
        assert_eq!(
            alarm_priority(LowPressure, true, true, false),
            Priority::High
        );
        assert_eq!(alarm_priority(Unknown, true, true, false), Priority::High);
        assert_eq!(
            alarm_priority(BottomedOut, true, false, false),
            Priority::High
        );
        for kind in AlarmKind::ALL {
            assert_eq!(
                alarm_priority(*kind, true, false, true),
                Priority::High,
                "{kind:?}"
            );
            assert_eq!(
                alarm_priority(*kind, false, true, true),
                Priority::Low,
                "{kind:?}"
            );
        }
    }

    /// Knowing of more trouble never makes an alarm less urgent.
    #[test]
    fn more_trouble_is_never_less_urgent() {
        for kind in AlarmKind::ALL {
            for (power, bottom) in [(false, false), (true, false), (false, true)] {
                let now = alarm_priority(*kind, true, power, bottom);
                assert!(alarm_priority(*kind, true, true, bottom) >= now);
                assert!(alarm_priority(*kind, true, power, true) >= now);
                assert!(now >= alarm_priority(*kind, false, power, bottom));
            }
        }
        assert!(Priority::High > Priority::Medium && Priority::Medium > Priority::Low);
    }

    #[test]
    fn written_forms() {
        assert_eq!(
            AlarmKind::from_text("Low pressure"),
            Some(AlarmKind::LowPressure)
        );
        assert_eq!(
            serde_json::to_string(&AlarmKind::BottomedOut).unwrap(),
            r#""bottomed-out""#
        );
        assert_eq!(AlarmKind::from_text("noise"), None);
    }
}
