//! The names of things, each a type of its own so that a bed cannot stand where a tag belongs.
//! Decides how names are written and compared; leaves which of them exist to [`crate::state`].

use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

macro_rules! number {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub u64);
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    };
}

macro_rules! name {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(Arc<str>);
        impl $name {
            /// The name as people read it.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }
        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                Self(text.into())
            }
        }
        impl From<String> for $name {
            fn from(text: String) -> Self {
                Self(text.into())
            }
        }
        impl std::borrow::Borrow<str> for $name {
            fn borrow(&self) -> &str {
                &self.0
            }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    };
}

number!(
    /// A chat user. The only thing kept of a member of staff.
    Person
);
number!(
    /// A channel of the chat.
    Channel
);
number!(
    /// A role of the chat, which a facility maps to one of ours.
    ChatRole
);
number!(
    /// A guild of the chat: one facility.
    Guild
);
number!(
    /// A record's number in its facility's log; the first is 1.
    RecordNo
);
number!(
    /// An alarm, named by the number of the record that opened it.
    AlarmNo
);
number!(
    /// A recall, named by the number of the record that opened it.
    RecallNo
);
number!(
    /// A power failure, named by the number of the record that opened it.
    OutageNo
);
number!(
    /// A handover, named by the number of the record that made it.
    HandoverNo
);
name!(
    /// A disinfectant of the home's list.
    ProductName
);
name!(
    /// Something on the shelf that is counted, such as the filters of one profile.
    Item
);
name!(
    /// The tag on a surface and its control unit, such as `LW-07`. Never given to another one.
    Tag
);
name!(
    /// A bed, such as `214B`.
    Bed
);
name!(
    /// A unit (wing, floor, household) of the facility.
    Unit
);
name!(
    /// A profile: what one make-and-model needs, as the facility typed it from the maker's instructions.
    ProfileName
);
name!(
    /// A schedule's name: what it posts and for whom.
    ScheduleName
);

impl RecordNo {
    /// The number after this one.
    #[must_use]
    pub fn next(self) -> Self {
        Self(self.0 + 1)
    }
}
