//! Every threshold that a facility may set, in one table: its unit, default, safe bounds and source.
//! Decides what may be set to what; leaves who may set it to `role`, and its use to each rule.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::air::Tenths;
use super::hand_check::Band;

mod group;
mod measure;

pub use group::Group;

/// A threshold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Name {
    /// Less air than this is low.
    AirLow,
    /// More air than this is high.
    AirHigh,
    /// From a low or high reading to the next look.
    Recheck,
    /// From "could not check" to the next try.
    TryAgain,
    /// More layers than this are said to be too many.
    LayersMost,
    /// From "on my way" to "resident safe".
    SafeWithin,
    /// From "on my way" to "fixed".
    FixWithin,
    /// Between the calls for an alarm of a surface that is under nobody.
    SpareAlarm,
    /// When the first shift of the day starts.
    ShiftStart,
    /// How long a shift is.
    ShiftHours,
    /// From released to ready.
    TurnoverHours,
    /// How long the program may be away before supervisors are told.
    AwayAfter,
    /// Whether posts may show beds as well as tags.
    BedsInPosts,
    /// From a checklist's opening to the first call for it.
    SetUpWithin,
    /// How long a surface may be unplugged in a move, where the maker says nothing shorter.
    UnpluggedMost,
    /// How long static mode may last.
    StaticMost,
    /// From an opened CPR valve to the one call about it.
    CprQuiet,
    /// Whether aides may change a setting.
    SettingByAides,
    /// From a finished roll of a power failure to the next.
    RollAgain,
    /// What a rented surface costs a day where none is on record.
    RentalDay,
    /// From one safety test to the next.
    SafetyTestMonths,
    /// From one test of an ordinary outlet to the next.
    OutletTestMonths,
    /// When somebody is there who can give a paper, on work days: from.
    OfficeFrom,
    /// Until.
    OfficeTo,
    /// How long a rented surface may stand under no bed.
    IdleHours,
    /// From an order to its delivery.
    OrderDays,
    /// How often, of a hundred deliveries, the shelf must not be empty before.
    OrderService,
    /// From one hand check to the next; 0 for one in each shift.
    CheckEvery,
    /// From a high reading to the next look; as [`Name::Recheck`] until it is set itself.
    RecheckHigh,
    /// How often somebody is asked for the same thing before it is left to the lists.
    AskTimes,
    /// For how long one's own entry can be taken back.
    TakeBack,
    /// How far back an entry may be dated.
    LateDays,
    /// How long somebody may be in a chair while the bed counts as empty.
    ChairHours,
    /// How long a bed may be kept empty.
    LeaveDays,
    /// On which work day after an injury supervisors are first reminded of the report.
    HoldRemind,
    /// From one reminder of what stays undone to the next.
    RemindAgain,
    /// The days of use that a forecast of the shelf looks back on.
    OrderWindow,
    /// For how many days the shelf must last on a Friday.
    WeekendDays,
    /// A list that comes later than this after its time says so.
    PostLate,
    /// A surface that leaves more of its frame free than this is said to leave a gap.
    FrameFree,
    /// How long a wish waits for a supervisor before it is void.
    WishDays,
    /// For how many hours somebody from outside may be let in.
    AgencyHours,
    /// For how many days the primer need not be read again.
    PrimerDays,
    /// After how many months a sign-off is to be renewed.
    SignOffMonths,
    /// Whether entries of people without a sign-off are looked at a second time.
    SignOffWanted,
    /// Whether entries of people from outside are, wherever the home has not wanted it of everybody.
    AgencyLook,
    /// An adequate reading so soon after a low one is looked at by a nurse; 0 for never.
    LowLook,
    /// Whether a bare number of air is asked about: in a home that measures in centimetres it is not inches.
    AirUnit,
    /// A round with less time than this between two checks is pointed out; 0 for never.
    PaceSeconds,
    /// How many checks in a row are looked at for that.
    PaceChecks,
    /// Whether supervisors are told of units that nobody has.
    DutyWatched,
    /// From a shift's start until somebody must have said that they have a unit.
    ClaimWithin,
    /// From a shift's beginning until its rounds must have been made; 0 for never.
    RoundWithin,
    /// From a handover until the next shift must have accepted it.
    AcceptWithin,
    /// So many readings at least before a surface is said to trend lower.
    LoftReadings,
    /// Over so many days at least.
    LoftDays,
    /// Chance alone may bring such a fall once in so many looks.
    LoftOdds,
    /// A line that fell by less is not spoken of.
    LoftFall,
    /// Nor one that would not be below the low limit in so many days.
    LoftAhead,
    /// Whether bleach is mixed in this home.
    BleachMixing,
    /// How long a mixture may be used.
    BleachHours,
    /// The strength on the label of the bleach that the home buys.
    BleachStock,
    /// How many years a surface is reckoned to last.
    OwnYears,
    /// The interest that owning is reckoned with, a year.
    OwnInterest,
    /// What an owned surface is reckoned to cost in repairs, covers, filters and tests a year.
    OwnUpkeep,
    /// Of a hundred who need a surface, so many at most may find none ready.
    FleetShortfall,
    /// Whether the days between looks at a filter are learned.
    FilterLearn,
    /// How many of a hundred filters may be dirty before their next look.
    FilterChance,
    /// How many looks there must be before anything is learned from them.
    FilterLooks,
    /// Whether a filter may go longer without a look than its profile says.
    FilterLonger,
    /// The most days without a look at a filter, where they are learned.
    FilterMost,
}

/// In what a threshold is counted, and so how it is typed and shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A length, kept in tenths of a millimetre.
    Length,
    /// Minutes.
    Minutes,
    /// Hours.
    Hours,
    /// Layers between person and surface.
    Layers,
    /// How often something is asked.
    Times,
    /// Checks.
    Checks,
    /// Readings.
    Readings,
    /// Looks.
    Looks,
    /// Once in so many looks.
    Odds,
    /// Minutes after midnight.
    TimeOfDay,
    /// 1 for yes, 0 for no.
    YesNo,
    /// Cents a day; 0 where nobody has said.
    MoneyADay,
    /// Cents a year; 0 where nobody has said.
    MoneyAYear,
    /// Calendar days.
    Days,
    /// Calendar months.
    Months,
    /// Of a hundred.
    Percent,
    /// Hours; 0 for once in each shift.
    HoursOrShift,
    /// Seconds.
    Seconds,
    /// Calendar years.
    Years,
    /// Parts per million, typed as the percentage on a label; 0 where nobody has said.
    Strength,
}

/// A row of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Policy {
    /// Which.
    pub name: Name,
    /// The word it is typed by; its sentence is `policy-` and this.
    pub word: &'static str,
    /// Its unit.
    pub measure: Measure,
    /// What it is until somebody sets it.
    pub default: i64,
    /// The least it may be.
    pub least: i64,
    /// The most it may be.
    pub most: i64,
    /// A clinical one: it moves when a check, a recheck, a look at a filter or a call comes, whether one comes, or who may
    /// do something at the bed and until when an entry may be changed. An admin's change waits for a supervisor.
    pub clinical: bool,
    /// The key of the sentence that says where the default comes from.
    pub source: &'static str,
}

/// Common practice, without a published source.
const COMMON: &str = "source-common";

/// The table, in the order in which it is shown.
pub const POLICIES: &[Policy] = &[
    Policy {
        name: Name::AirLow,
        word: "air-low",
        measure: Measure::Length,
        default: 254,
        least: 127,
        most: 508,
        clinical: true,
        source: "source-air-low",
    },
    Policy {
        name: Name::AirHigh,
        word: "air-high",
        measure: Measure::Length,
        default: 381,
        least: 254,
        most: 1_016,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::Recheck,
        word: "recheck",
        measure: Measure::Minutes,
        default: 15,
        least: 5,
        most: 60,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::TryAgain,
        word: "try-again",
        measure: Measure::Minutes,
        default: 60,
        least: 15,
        most: 240,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::LayersMost,
        word: "layers-most",
        measure: Measure::Layers,
        default: 2,
        least: 1,
        most: 4,
        clinical: true,
        source: "source-layers",
    },
    Policy {
        name: Name::SafeWithin,
        word: "safe-within",
        measure: Measure::Minutes,
        default: 10,
        least: 5,
        most: 30,
        clinical: true,
        source: "source-well-inside-the-hour",
    },
    Policy {
        name: Name::FixWithin,
        word: "fix-within",
        measure: Measure::Minutes,
        default: 30,
        least: 10,
        most: 60,
        clinical: true,
        source: "source-inside-the-hour",
    },
    Policy {
        name: Name::SpareAlarm,
        word: "spare-alarm",
        measure: Measure::Minutes,
        default: 30,
        least: 10,
        most: 60,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::ShiftStart,
        word: "shift-start",
        measure: Measure::TimeOfDay,
        default: 7 * 60,
        least: 0,
        most: 24 * 60 - 1,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::ShiftHours,
        word: "shift-hours",
        measure: Measure::Hours,
        default: 8,
        least: 6,
        most: 12,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::TurnoverHours,
        word: "turnover-hours",
        measure: Measure::Hours,
        default: 24,
        least: 1,
        most: 168,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::AwayAfter,
        word: "away-after",
        measure: Measure::Minutes,
        default: 10,
        least: 2,
        most: 60,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::BedsInPosts,
        word: "beds-in-posts",
        measure: Measure::YesNo,
        default: 0,
        least: 0,
        most: 1,
        clinical: false,
        source: "source-beds-in-posts",
    },
    Policy {
        name: Name::SetUpWithin,
        word: "set-up-within",
        measure: Measure::Minutes,
        default: 60,
        least: 15,
        most: 240,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::UnpluggedMost,
        word: "unplugged-most",
        measure: Measure::Minutes,
        default: 15,
        least: 5,
        most: 60,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::StaticMost,
        word: "static-most",
        measure: Measure::Minutes,
        default: 120,
        least: 15,
        most: 480,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::CprQuiet,
        word: "cpr-quiet",
        measure: Measure::Minutes,
        default: 60,
        least: 30,
        most: 240,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::SettingByAides,
        word: "setting-by-aides",
        measure: Measure::YesNo,
        default: 0,
        least: 0,
        most: 1,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::RollAgain,
        word: "roll-again",
        measure: Measure::Minutes,
        default: 15,
        least: 5,
        most: 60,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::RentalDay,
        word: "rental-day",
        measure: Measure::MoneyADay,
        default: 0,
        least: 0,
        most: super::rent::MAX_DAILY_CENTS,
        clinical: false,
        source: "source-unknown",
    },
    Policy {
        name: Name::SafetyTestMonths,
        word: "safety-test-months",
        measure: Measure::Months,
        default: 12,
        least: 6,
        most: 36,
        clinical: false,
        source: "source-safety-test",
    },
    Policy {
        name: Name::OutletTestMonths,
        word: "outlet-test-months",
        measure: Measure::Months,
        default: 12,
        least: 6,
        most: 24,
        clinical: false,
        source: "source-outlet-test",
    },
    Policy {
        name: Name::OfficeFrom,
        word: "office-from",
        measure: Measure::TimeOfDay,
        default: 8 * 60,
        least: 0,
        most: 24 * 60 - 1,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::OfficeTo,
        word: "office-to",
        measure: Measure::TimeOfDay,
        default: 17 * 60,
        least: 0,
        most: 24 * 60 - 1,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::IdleHours,
        word: "idle-hours",
        measure: Measure::Hours,
        default: 24,
        least: 4,
        most: 168,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::OrderDays,
        word: "order-days",
        measure: Measure::Days,
        default: 14,
        least: 1,
        most: 120,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::OrderService,
        word: "order-service",
        measure: Measure::Percent,
        default: 95,
        least: 80,
        most: 99,
        clinical: false,
        source: "source-order-service",
    },
    Policy {
        name: Name::CheckEvery,
        word: "check-every",
        measure: Measure::HoursOrShift,
        default: 0,
        least: 0,
        most: 24,
        clinical: true,
        source: "source-check-every",
    },
    Policy {
        name: Name::RecheckHigh,
        word: "recheck-high",
        measure: Measure::Minutes,
        default: 15,
        least: 5,
        most: 120,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::AskTimes,
        word: "ask-times",
        measure: Measure::Times,
        default: 2,
        // The second time also calls the next role.
        least: 2,
        most: 6,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::TakeBack,
        word: "take-back",
        measure: Measure::Minutes,
        default: 5,
        least: 1,
        most: 15,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::LateDays,
        word: "late-days",
        measure: Measure::Days,
        default: 7,
        least: 1,
        most: 31,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::ChairHours,
        word: "chair-hours",
        measure: Measure::Hours,
        default: 12,
        least: 2,
        most: 16,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::LeaveDays,
        word: "leave-days",
        measure: Measure::Days,
        default: 60,
        least: 3,
        most: 180,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::HoldRemind,
        word: "hold-remind",
        measure: Measure::Days,
        default: 5,
        least: 1,
        most: 9,
        clinical: true,
        source: "source-hold-remind",
    },
    Policy {
        name: Name::RemindAgain,
        word: "remind-again",
        measure: Measure::Hours,
        default: 24,
        least: 4,
        most: 72,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::OrderWindow,
        word: "order-window",
        measure: Measure::Days,
        default: 90,
        least: 28,
        most: 365,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::WeekendDays,
        word: "weekend-days",
        measure: Measure::Days,
        default: 3,
        least: 2,
        most: 5,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::PostLate,
        word: "post-late",
        measure: Measure::Minutes,
        default: 5,
        least: 1,
        most: 30,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::FrameFree,
        word: "frame-free",
        measure: Measure::Length,
        default: 254,
        least: 127,
        most: 381,
        clinical: true,
        source: "source-frame-free",
    },
    Policy {
        name: Name::WishDays,
        word: "wish-days",
        measure: Measure::Days,
        default: 7,
        least: 1,
        most: 30,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::AgencyHours,
        word: "agency-hours",
        measure: Measure::Hours,
        default: 12,
        least: 4,
        most: 24,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::PrimerDays,
        word: "primer-days",
        measure: Measure::Days,
        default: 30,
        least: 1,
        most: 180,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::SignOffMonths,
        word: "sign-off-months",
        measure: Measure::Months,
        default: 12,
        least: 1,
        most: 36,
        clinical: true,
        source: "source-sign-off",
    },
    Policy {
        name: Name::SignOffWanted,
        word: "sign-off-wanted",
        measure: Measure::YesNo,
        default: 0,
        least: 0,
        most: 1,
        clinical: true,
        source: "source-sign-off-wanted",
    },
    Policy {
        name: Name::AgencyLook,
        word: "agency-second-look",
        measure: Measure::YesNo,
        default: 1,
        least: 0,
        most: 1,
        clinical: true,
        source: "source-agency-second-look",
    },
    Policy {
        name: Name::LowLook,
        word: "low-second-look",
        measure: Measure::Minutes,
        default: 5,
        least: 0,
        most: 60,
        clinical: true,
        source: "source-low-second-look",
    },
    Policy {
        name: Name::AirUnit,
        word: "air-unit-asked",
        measure: Measure::YesNo,
        default: 0,
        least: 0,
        most: 1,
        clinical: false,
        source: "source-air-unit-asked",
    },
    Policy {
        name: Name::PaceSeconds,
        word: "pace-seconds",
        measure: Measure::Seconds,
        default: 20,
        least: 0,
        most: 120,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::PaceChecks,
        word: "pace-checks",
        measure: Measure::Checks,
        default: 6,
        least: 3,
        most: 30,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::DutyWatched,
        word: "duty-watched",
        measure: Measure::YesNo,
        default: 1,
        least: 0,
        most: 1,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::ClaimWithin,
        word: "claim-within",
        measure: Measure::Minutes,
        default: 15,
        least: 5,
        most: 60,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::RoundWithin,
        word: "round-within",
        measure: Measure::Minutes,
        default: 240,
        least: 0,
        most: 720,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::AcceptWithin,
        word: "accept-within",
        measure: Measure::Minutes,
        default: 30,
        least: 10,
        most: 120,
        clinical: true,
        source: COMMON,
    },
    // The five defaults of a surface that loses loft were chosen by what `examples/drift.rs` counts; the figures stand in
    // `rules::drift`.
    Policy {
        name: Name::LoftReadings,
        word: "loft-readings",
        measure: Measure::Readings,
        default: 15,
        least: super::drift::READINGS_LEAST as i64,
        most: super::drift::READINGS_KEPT as i64,
        clinical: true,
        source: "source-loft",
    },
    Policy {
        name: Name::LoftDays,
        word: "loft-days",
        measure: Measure::Days,
        default: 4,
        least: 2,
        most: 14,
        clinical: true,
        source: "source-loft",
    },
    Policy {
        name: Name::LoftOdds,
        word: "loft-odds",
        measure: Measure::Odds,
        default: 1_000,
        least: 100,
        most: 100_000,
        clinical: true,
        source: "source-loft",
    },
    Policy {
        name: Name::LoftFall,
        word: "loft-fall",
        measure: Measure::Length,
        // A quarter of an inch: the step between two buttons.
        default: 64,
        least: 32,
        most: 254,
        clinical: true,
        source: "source-loft",
    },
    Policy {
        name: Name::LoftAhead,
        word: "loft-ahead",
        measure: Measure::Days,
        default: 28,
        least: 7,
        most: 90,
        clinical: true,
        source: "source-loft",
    },
    Policy {
        name: Name::BleachMixing,
        word: "bleach-mixing",
        measure: Measure::YesNo,
        default: 1,
        least: 0,
        most: 1,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::BleachHours,
        word: "bleach-hours",
        measure: Measure::Hours,
        default: 24,
        least: 1,
        most: 24,
        clinical: true,
        source: "source-bleach-hours",
    },
    Policy {
        name: Name::BleachStock,
        word: "bleach-stock",
        measure: Measure::Strength,
        default: 0,
        least: 0,
        most: super::bleach::STRONGEST_STOCK.0 as i64,
        clinical: false,
        source: "source-unknown",
    },
    Policy {
        name: Name::OwnYears,
        word: "own-years",
        measure: Measure::Years,
        default: 5,
        least: 1,
        most: 20,
        clinical: false,
        source: "source-own-years",
    },
    Policy {
        name: Name::OwnInterest,
        word: "own-interest",
        measure: Measure::Percent,
        default: 6,
        least: 0,
        most: 30,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::OwnUpkeep,
        word: "own-upkeep",
        measure: Measure::MoneyAYear,
        default: 0,
        least: 0,
        most: super::rent::MAX_DAILY_CENTS,
        clinical: false,
        source: "source-unknown",
    },
    Policy {
        name: Name::FleetShortfall,
        word: "fleet-shortfall",
        measure: Measure::Percent,
        default: 5,
        least: 1,
        most: 20,
        clinical: false,
        source: COMMON,
    },
    Policy {
        name: Name::FilterLearn,
        word: "filter-learn",
        measure: Measure::YesNo,
        default: 1,
        least: 0,
        most: 1,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::FilterChance,
        word: "filter-chance",
        measure: Measure::Percent,
        default: 20,
        least: 5,
        most: 40,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::FilterLooks,
        word: "filter-looks",
        measure: Measure::Looks,
        default: 8,
        least: 5,
        most: 100,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::FilterLonger,
        word: "filter-longer",
        measure: Measure::YesNo,
        default: 1,
        least: 0,
        most: 1,
        clinical: true,
        source: COMMON,
    },
    Policy {
        name: Name::FilterMost,
        word: "filter-most",
        measure: Measure::Days,
        default: 28,
        least: 7,
        most: 90,
        clinical: true,
        source: COMMON,
    },
];

/// What a facility has set; everything else is at its default.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Policies(BTreeMap<String, i64>);

/// Why a value cannot be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PolicyFault {
    /// There is no such policy; these are near.
    NoSuch,
    /// The text is not a value of its unit.
    NotAValue(&'static Policy),
    /// Outside of the safe bounds.
    OutOfBounds(&'static Policy),
    /// The low bound would not be below the high one.
    Crossed,
    /// Shifts must divide the day.
    ShiftsDoNotDivide,
    /// Office hours would end before they begin.
    OfficeBackwards,
}

impl Policies {
    /// The value that holds.
    pub fn get(&self, name: Name) -> i64 {
        let row = row(name);
        // A home that once set when low and high readings are looked at again meant both.
        let until_set = || {
            if name == Name::RecheckHigh {
                self.get(Name::Recheck)
            } else {
                row.default
            }
        };
        self.0.get(row.word).copied().unwrap_or_else(until_set)
    }

    /// Whether the facility has set it.
    pub fn is_set(&self, name: Name) -> bool {
        self.0.contains_key(row(name).word)
    }

    /// Sets it; what may be set was decided before.
    pub fn set(&mut self, word: &str, value: i64) {
        self.0.insert(word.to_owned(), value);
    }

    /// The length that holds, for one that is a length.
    pub fn length(&self, name: Name) -> Tenths {
        length(self.get(name))
    }

    /// The facility's band for the hand check.
    pub fn band(&self) -> Band {
        Band {
            low: self.length(Name::AirLow),
            high: self.length(Name::AirHigh),
        }
    }

    /// Reads a typed value for the policy of this word, inside its bounds and in keeping with the others.
    ///
    /// # Errors
    /// [`PolicyFault`], with what a sentence about it needs.
    pub fn read(&self, word: &str, text: &str) -> Result<(&'static Policy, i64), PolicyFault> {
        let row = find(word).ok_or(PolicyFault::NoSuch)?;
        let value = row.measure.read(text).ok_or(PolicyFault::NotAValue(row))?;
        if !(row.least..=row.most).contains(&value) {
            return Err(PolicyFault::OutOfBounds(row));
        }
        let crossed = (row.name == Name::AirLow && value >= self.get(Name::AirHigh))
            || (row.name == Name::AirHigh && value <= self.get(Name::AirLow));
        if crossed {
            return Err(PolicyFault::Crossed);
        }
        let backwards = (row.name == Name::OfficeFrom && value >= self.get(Name::OfficeTo))
            || (row.name == Name::OfficeTo && value <= self.get(Name::OfficeFrom));
        if backwards {
            return Err(PolicyFault::OfficeBackwards);
        }
        if row.name == Name::ShiftHours && 24 % value != 0 {
            return Err(PolicyFault::ShiftsDoNotDivide);
        }
        Ok((row, value))
    }
}

/// The row of a policy.
pub fn row(name: Name) -> &'static Policy {
    // The order of the table is the order of the names, which a test holds.
    &POLICIES[name as usize]
}

/// The row of the policy with this word.
pub fn find(word: &str) -> Option<&'static Policy> {
    POLICIES.iter().find(|policy| policy.word == word)
}

fn length(value: i64) -> Tenths {
    Tenths(i32::try_from(value).unwrap_or(i32::MAX))
}

#[cfg(test)]
mod tests;
