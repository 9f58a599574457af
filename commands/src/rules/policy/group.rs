//! Which policies are read together: the pages of the settings. Decides their order; the words are `group-policy-` and
//! the page's.

use super::{Name, POLICIES, Policy};
use crate::rules::named::named_enum;

named_enum! {
    /// A page of policies.
    pub enum Group {
        /// The hand check and what follows from a reading.
        Checks = "checks",
        /// When a surface is said to trend lower.
        Loft = "loft",
        /// Alarms, power failures, and who is asked how often.
        Calls = "calls",
        /// What is done at the bed.
        Bedside = "bedside",
        /// Turnover, disinfectants, tests, papers, injuries.
        Upkeep = "upkeep",
        /// How often filters are looked at.
        Filters = "filters",
        /// The shelf, orders, rentals, what owning costs.
        Supply = "supply",
        /// People let in, sign-offs, the pace of a round.
        Staff = "staff",
        /// Shifts, entries, posts, wishes.
        House = "house",
    }
}

impl Name {
    /// The page it stands on.
    pub fn group(self) -> Group {
        match self {
            Name::AirLow
            | Name::AirHigh
            | Name::CheckEvery
            | Name::Recheck
            | Name::RecheckHigh
            | Name::TryAgain
            | Name::LowLook
            | Name::AirUnit
            | Name::LayersMost => Group::Checks,
            Name::LoftReadings
            | Name::LoftDays
            | Name::LoftOdds
            | Name::LoftFall
            | Name::LoftAhead => Group::Loft,
            Name::SafeWithin
            | Name::FixWithin
            | Name::SpareAlarm
            | Name::RollAgain
            | Name::AskTimes
            | Name::RemindAgain
            | Name::AwayAfter
            | Name::DutyWatched
            | Name::ClaimWithin
            | Name::RoundWithin
            | Name::AcceptWithin => Group::Calls,
            Name::SetUpWithin
            | Name::UnpluggedMost
            | Name::StaticMost
            | Name::CprQuiet
            | Name::SettingByAides
            | Name::ChairHours
            | Name::LeaveDays
            | Name::FrameFree => Group::Bedside,
            Name::TurnoverHours
            | Name::SafetyTestMonths
            | Name::OutletTestMonths
            | Name::OfficeFrom
            | Name::OfficeTo
            | Name::HoldRemind
            | Name::BleachMixing
            | Name::BleachHours
            | Name::BleachStock => Group::Upkeep,
            Name::FilterLearn
            | Name::FilterChance
            | Name::FilterLooks
            | Name::FilterLonger
            | Name::FilterMost => Group::Filters,
            Name::RentalDay
            | Name::IdleHours
            | Name::OrderDays
            | Name::OrderService
            | Name::OrderWindow
            | Name::WeekendDays
            | Name::OwnYears
            | Name::OwnInterest
            | Name::OwnUpkeep
            | Name::FleetShortfall => Group::Supply,
            Name::AgencyHours
            | Name::PrimerDays
            | Name::SignOffMonths
            | Name::SignOffWanted
            | Name::AgencyLook
            | Name::PaceSeconds
            | Name::PaceChecks => Group::Staff,
            Name::ShiftStart
            | Name::ShiftHours
            | Name::BedsInPosts
            | Name::TakeBack
            | Name::LateDays
            | Name::PostLate
            | Name::WishDays => Group::House,
        }
    }
}

impl Group {
    /// Its policies, in the order of the table.
    pub fn policies(self) -> impl Iterator<Item = &'static Policy> {
        POLICIES.iter().filter(move |row| row.name.group() == self)
    }
}
