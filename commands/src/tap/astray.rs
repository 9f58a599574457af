//! Taps of an alarm that may have been said of the wrong surface.

use super::{NotOurs, join};
use crate::ids::{AlarmNo, Tag};
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "astray";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Astray {
    /// It is another one: which?
    Which {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// It is this one.
    Is {
        /// The alarm.
        alarm: AlarmNo,
        /// The surface that alarms.
        tag: Tag,
    },
    /// It is none of those that were named.
    Type {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// The form with its tag or bed.
    Typed {
        /// The alarm.
        alarm: AlarmNo,
        /// As typed.
        surface: String,
    },
}

verbs! { Astray:
    Which => "which",
    Is => "is",
    Type => "type",
    Typed => "typed",
}

impl Astray {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Astray::Which { .. }
            | Astray::Is { .. }
            | Astray::Type { .. }
            | Astray::Typed { .. } => Right::RaiseAlarm,
        }
    }

    pub(super) fn id(&self) -> String {
        let of = |word: &str, alarm: &AlarmNo| join(&[GROUP, word, &alarm.to_string()]);
        match self {
            Astray::Which { alarm } => of("which", alarm),
            Astray::Is { alarm, .. } => of("is", alarm),
            Astray::Type { alarm } => of("type", alarm),
            Astray::Typed { alarm, .. } => of("typed", alarm),
        }
    }

    /// Reads what follows the group's word; `field` is what a form brings.
    pub(super) fn read<'a>(
        parts: &[&str],
        chosen: Option<&str>,
        field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let alarm = |text: &str| text.parse().map(AlarmNo).map_err(|_| NotOurs);
        Ok(match parts {
            ["which", no] => Astray::Which { alarm: alarm(no)? },
            ["is", no] => Astray::Is {
                alarm: alarm(no)?,
                tag: chosen.ok_or(NotOurs)?.into(),
            },
            ["type", no] => Astray::Type { alarm: alarm(no)? },
            ["typed", no] => Astray::Typed {
                alarm: alarm(no)?,
                surface: field("surface").unwrap_or_default().to_owned(),
            },
            _ => return Err(NotOurs),
        })
    }
}
