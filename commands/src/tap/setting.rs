//! Taps about the home's settings, and for more help.

use super::{NotOurs, join};
use crate::ids::RecordNo;
use crate::request::Right;
use crate::rules::named::named_enum;
use crate::rules::policy::Group;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "set";

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Setting {
    /// A supervisor agrees to a change that waits.
    Agree {
        /// The record that asked for it.
        wish: RecordNo,
    },
    /// A supervisor does not: the form for a reason, please.
    Decline {
        /// The record that asked for it.
        wish: RecordNo,
    },
    /// Whoever asked for a change takes it back.
    Withdraw {
        /// The record that asked for it.
        wish: RecordNo,
    },
    /// A supervisor does not, with the reason that they typed.
    Declined {
        /// The record that asked for it.
        wish: RecordNo,
        /// Why, for whoever asked.
        reason: Option<String>,
    },
    /// One page of the settings, please.
    Page {
        /// Which.
        page: Page,
    },
    /// More help, please.
    Topic {
        /// What about.
        topic: String,
    },
}

named_enum! {
    /// A page of the settings.
    pub enum Page {
        /// Zone, channels, roles, language, beds in posts.
        Home = "home",
        /// Units and their beds.
        Units = "units",
        /// The ladder and what is posted when.
        Ladder = "ladder",
        /// Disinfectants and storage places.
        Lists = "lists",
        /// Policies of the hand check.
        Checks = "checks",
        /// Policies of surfaces that lose loft.
        Loft = "loft",
        /// Policies of alarms and calls.
        Calls = "calls",
        /// Policies at the bed.
        Bedside = "bedside",
        /// Policies of turnover and tests.
        Upkeep = "upkeep",
        /// Policies of the looks at filters.
        Filters = "filters",
        /// Policies of the shelf and rentals.
        Supply = "supply",
        /// Policies of people let in, sign-offs and the pace of a round.
        Staff = "staff",
        /// Policies of shifts, entries and posts.
        House = "house",
    }
}

impl Page {
    /// The policies on it, if it has any.
    pub fn group(self) -> Option<Group> {
        match self {
            Page::Home | Page::Units | Page::Ladder | Page::Lists => None,
            Page::Checks => Some(Group::Checks),
            Page::Loft => Some(Group::Loft),
            Page::Calls => Some(Group::Calls),
            Page::Bedside => Some(Group::Bedside),
            Page::Upkeep => Some(Group::Upkeep),
            Page::Filters => Some(Group::Filters),
            Page::Supply => Some(Group::Supply),
            Page::Staff => Some(Group::Staff),
            Page::House => Some(Group::House),
        }
    }
}

verbs! { Setting:
    Agree => "agree",
    Decline => "decline",
    Withdraw => "withdraw",
    Declined => "declined",
    Page => "page",
    Topic => "topic",
}

impl Setting {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Setting::Agree { .. } | Setting::Decline { .. } | Setting::Declined { .. } => {
                Right::ConfirmPolicy
            }
            Setting::Withdraw { .. } | Setting::Page { .. } => Right::ReadSettings,
            Setting::Topic { .. } => Right::Read,
        }
    }

    /// The identifier of the menu of topics.
    pub fn topics_menu() -> String {
        join(&[GROUP, "topic"])
    }

    pub(super) fn id(&self) -> String {
        match self {
            Setting::Agree { wish } => join(&[GROUP, "agree", &wish.to_string()]),
            Setting::Decline { wish } => join(&[GROUP, "decline", &wish.to_string()]),
            Setting::Withdraw { wish } => join(&[GROUP, "withdraw", &wish.to_string()]),
            Setting::Declined { wish, .. } => join(&[GROUP, "declined", &wish.to_string()]),
            Setting::Page { .. } => join(&[GROUP, "page"]),
            Setting::Topic { .. } => Self::topics_menu(),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        chosen: Option<&str>,
        field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let wish = |no: &str| no.parse().map(RecordNo).map_err(|_| NotOurs);
        Ok(match parts {
            ["agree", no] => Setting::Agree { wish: wish(no)? },
            ["decline", no] => Setting::Decline { wish: wish(no)? },
            ["withdraw", no] => Setting::Withdraw { wish: wish(no)? },
            ["declined", no] => Setting::Declined {
                wish: wish(no)?,
                reason: field("reason")
                    .map(str::trim)
                    .filter(|reason| !reason.is_empty())
                    .map(str::to_owned),
            },
            ["page"] => Setting::Page {
                page: chosen.and_then(Page::from_text).ok_or(NotOurs)?,
            },
            // Screens of old had a second menu, with a number behind.
            ["topic"] | ["topic", _] => Setting::Topic {
                topic: chosen.ok_or(NotOurs)?.to_owned(),
            },
            _ => return Err(NotOurs),
        })
    }
}
