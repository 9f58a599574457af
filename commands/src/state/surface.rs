//! The part of the state that is one surface: where it is in its life, its last readings, what is booked.

use std::collections::{BTreeMap, VecDeque};

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::call::Booking;
use super::filter::{FilterLooks, InUse};
use super::line::Line;
use super::staff::SecondCheck;
use super::steps::{Mark, Steps};
use crate::choice::{
    Action, Call, Cleaning, Cover, Finding, LeaveWhy, Method, Outcome, Owned, Paper, ReleaseReason,
    Task, TurnStep, Work,
};
use crate::ids::{AlarmNo, Bed, Person, ProfileName, RecordNo, Tag};
use crate::record::{AlarmEnd, Fault, Record};
use crate::rules::hand_check::{Air, Judgement};
use crate::rules::priority::{AlarmKind, Priority};
pub use crate::rules::turnover::filter_fit;

/// How many of a surface's newest checks the state keeps; older ones are read from the store.
pub const CHECKS_KEPT: usize = 8;

/// A surface with its control unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Surface {
    /// What it needs.
    pub profile: ProfileName,
    /// The maker's serial number.
    pub serial: Option<String>,
    /// The maker's lot.
    pub lot: Option<String>,
    /// Owned or rented.
    pub owned: Owned,
    /// What a rented one costs a day, in cents.
    pub daily_cents: Option<i64>,
    /// When it came into the register.
    pub added: DateTime<Utc>,
    /// Where it is in its life.
    pub life: Life,
    /// Its newest checks, oldest first.
    pub checks: VecDeque<CheckFact>,
    /// Those readings that can be compared.
    pub line: Line,
    /// The newest look at its filter.
    pub filter: Option<FilterFact>,
    /// The day its filter was last changed, or was new when it came: the maker's limit runs from it.
    pub filter_changed: Option<NaiveDate>,
    /// The day its filter was last changed or rinsed: dust gathers from it.
    pub filter_renewed: Option<NaiveDate>,
    /// The day it came into service, where the register was told.
    pub in_service: Option<NaiveDate>,
    /// The newest looks at its filter, of which its cycle is learned.
    pub filter_looks: FilterLooks,
    /// Where its filter drew air.
    pub in_use: InUse,
    /// The newest cleaning.
    pub cleaned: Option<CleanFact>,
    /// The alarm that is open.
    pub alarm: Option<AlarmNo>,
    /// The newest alarm that is over.
    pub last_alarm: Option<EndedAlarm>,
    /// The checklist at its bed.
    pub steps: Option<Steps>,
    /// The setting in use.
    pub setting: Option<Setting>,
    /// The bed is empty for a time.
    pub leave: Option<Leave>,
    /// It is held still.
    pub static_mode: Option<HeldStill>,
    /// The CPR valve is open.
    pub cpr: Option<OpenValve>,
    /// The surface whose place it took under this bed.
    pub instead_of: Option<Tag>,
    /// How often it was placed.
    pub placements: u32,
    /// To be cleaned last and with a sporicide only.
    pub clean_last: bool,
    /// Placed although these papers were missing.
    pub waived: Option<Waived>,
    /// Since it went out of service: repaired, or found whole.
    pub repaired: Option<Mark>,
    /// Kept untouched for an inquiry.
    pub hold: Option<Hold>,
    /// The newest of each work that leaves a paper.
    pub served: BTreeMap<Work, Service>,
    /// What is known of it as a rented one.
    pub rental: Option<Rental>,
    /// Entries that somebody else is to look at, or has: the newest of each task.
    pub second_checks: BTreeMap<Task, SecondCheck>,
    /// The newest record about it.
    pub newest: RecordNo,
    /// Who last recorded something about it.
    pub touched: Option<Mark>,
    /// How it stood before the newest entry that can be taken back.
    pub before: Option<Before>,
}

/// Where a surface is in its life.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Life {
    /// Under a bed, and taken to be under somebody.
    Placed {
        /// The bed.
        bed: Bed,
        /// Since when.
        since: DateTime<Utc>,
        /// The record that put it there.
        no: RecordNo,
    },
    /// Released, and in its turnover.
    Soiled(Turnover),
    /// Clean, whole, working; may be placed.
    Ready {
        /// Since when.
        since: DateTime<Utc>,
    },
    /// Out of service.
    OutOfService {
        /// Since when.
        since: DateTime<Utc>,
        /// Why.
        fault: Fault,
        /// The bed it is still under.
        under: Option<Bed>,
    },
    /// Gone for good.
    Retired {
        /// Since when.
        since: DateTime<Utc>,
    },
}

/// How far a turnover is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Turnover {
    /// When it was released.
    pub since: DateTime<Utc>,
    /// The same as the clock had it then: what its buttons are known by, which are out when the clock is put right.
    pub said: DateTime<Utc>,
    /// Why.
    pub reason: Option<ReleaseReason>,
    /// Cleaned between residents, cover whole.
    pub cleaned: bool,
    /// Filter looked at and fit.
    pub filter: bool,
    /// It ran, filled and gave no alarm.
    pub function: bool,
    /// What it must show, in order; none for one that was begun before there were such lists.
    pub steps: Vec<TurnStep>,
    /// What it has shown.
    pub shown: BTreeMap<TurnStep, Mark>,
    /// Until when the disinfectant must stay wet.
    pub wet_until: Option<DateTime<Utc>>,
}

/// A setting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Setting {
    /// As the panel shows it.
    pub text: String,
    /// Who set it, and when.
    pub mark: Mark,
}

/// An alternating surface that is held still.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct HeldStill {
    /// Since when.
    pub since: DateTime<Utc>,
    /// The same as the clock had it then: what its buttons are known by.
    pub said: DateTime<Utc>,
    /// Until when.
    pub until: DateTime<Utc>,
}

/// A CPR valve that is open.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct OpenValve {
    /// Who said so.
    pub who: Option<Person>,
    /// Since when.
    pub at: DateTime<Utc>,
    /// The same as the clock had it then: what its buttons are known by.
    pub said: DateTime<Utc>,
}

/// A bed that is empty for a time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Leave {
    /// Why.
    pub why: LeaveWhy,
    /// Since when.
    pub since: DateTime<Utc>,
    /// The same as the clock had it then: what its buttons are known by.
    pub said: DateTime<Utc>,
    /// Until when. From then on the bed counts as occupied.
    pub until: DateTime<Utc>,
}

/// A placement without its papers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Waived {
    /// Which are missing.
    pub papers: Vec<Paper>,
    /// Who took it on themselves, and when.
    pub mark: Mark,
}

/// A surface that is kept untouched.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Hold {
    /// The record that began it.
    pub no: RecordNo,
    /// Who said so, and when.
    pub mark: Mark,
    /// The day on which somebody of the home first knew of the injury, where that was said.
    pub known: Option<NaiveDate>,
    /// Who said that the injury was reported, and when.
    pub reported: Option<Mark>,
}

/// Work that left a paper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Service {
    /// Its record.
    pub no: RecordNo,
    /// The day it was done.
    pub on: NaiveDate,
    /// When it was entered.
    pub at: DateTime<Utc>,
    /// How it came out.
    pub outcome: Outcome,
    /// The day of the next, where somebody named it.
    pub next: Option<NaiveDate>,
}

/// A surface that is rented.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Rental {
    /// Since when it costs.
    pub since: DateTime<Utc>,
    /// The same as the clock had it then: what its buttons are known by.
    pub said: DateTime<Utc>,
    /// What it costs a day, in cents.
    pub daily_cents: i64,
    /// The vendor's number for it.
    pub reference: Option<String>,
    /// When it was looked through, and how it was.
    pub arrived: Option<(Outcome, Mark)>,
    /// When the vendor was asked to fetch it.
    pub called: Option<Mark>,
    /// When the vendor confirmed that it costs nothing any more, with their number.
    pub confirmed: Option<(Option<String>, Mark)>,
    /// When it was fetched.
    pub collected: Option<Mark>,
    /// Since when it has been under no bed.
    pub idle_since: Option<DateTime<Utc>>,
}

/// A check as the state keeps it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CheckFact {
    /// Its record.
    pub no: RecordNo,
    /// When the hand was there.
    pub at: DateTime<Utc>,
    /// Whose hand.
    pub who: Option<Person>,
    /// The reading.
    pub air: Air,
    /// How it was judged then.
    pub judged: Judgement,
    /// It was entered from paper.
    #[serde(default)]
    pub from_paper: bool,
    /// The correction that called a nurse for it; where there is none, its own record did if any.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub told: Option<RecordNo>,
}

/// A look at a filter.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FilterFact {
    /// Its record.
    pub no: RecordNo,
    /// When.
    pub at: DateTime<Utc>,
    /// What was found.
    pub finding: Finding,
    /// What was done.
    pub action: Action,
    /// Days to the next look, as whoever looked was told; the profile's if none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<u16>,
}

/// A cleaning.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CleanFact {
    /// When.
    pub at: DateTime<Utc>,
    /// Why.
    pub reason: Cleaning,
    /// With what.
    pub method: Method,
    /// The product, as it stood on the home's list.
    pub product: Option<String>,
    /// How the cover looked.
    pub cover: Cover,
}

/// An alarm that is over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct EndedAlarm {
    /// Which.
    pub no: AlarmNo,
    /// How.
    pub end: AlarmEnd,
    /// When.
    pub at: DateTime<Utc>,
    /// Who said so.
    pub who: Option<Person>,
    /// The surface that alarms in truth, where its tag was wrong.
    pub is_at: Option<Tag>,
}

/// A check that is booked out of turn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Recheck {
    /// The record that booked it: what the asking is known by.
    pub no: RecordNo,
    /// When.
    pub due: DateTime<Utc>,
    /// After a low or high reading, or because it could not be checked.
    pub after: Judgement,
    /// How often somebody was asked.
    pub asked: u32,
    /// When somebody was last asked.
    pub asked_at: Option<DateTime<Utc>>,
}

/// How a surface stood before an entry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Before {
    /// The entry's first record.
    pub first: RecordNo,
    /// Who made it.
    pub who: Option<Person>,
    /// When it was typed.
    pub entered: DateTime<Utc>,
    /// The surface then.
    pub surface: Box<Surface>,
    /// The check that was booked then.
    pub recheck: Option<Recheck>,
    /// The calls that were promised then.
    pub calls: Vec<(Call, Booking)>,
    /// What its open alarm was then: a reading can make it another.
    #[serde(default)]
    pub alarm: Option<(AlarmKind, Priority)>,
    /// Something was settled since that would go with it: it is not taken back any more. One that an older log took
    /// back all the same still reads as it did.
    #[serde(default)]
    pub settled: bool,
}

impl Surface {
    /// One that has just come into the register.
    pub(super) fn new(record: &Record, profile: ProfileName, owned: Owned, life: Life) -> Self {
        Self {
            profile,
            serial: None,
            lot: None,
            owned,
            daily_cents: None,
            added: record.at,
            life,
            checks: VecDeque::new(),
            line: Line::default(),
            filter: None,
            filter_changed: None,
            filter_renewed: None,
            in_service: None,
            filter_looks: FilterLooks::default(),
            in_use: InUse::default(),
            cleaned: None,
            alarm: None,
            last_alarm: None,
            steps: None,
            setting: None,
            leave: None,
            static_mode: None,
            cpr: None,
            instead_of: None,
            placements: 0,
            clean_last: false,
            waived: None,
            repaired: None,
            hold: None,
            served: BTreeMap::new(),
            rental: None,
            second_checks: BTreeMap::new(),
            newest: record.no,
            touched: None,
            before: None,
        }
    }

    /// Whether the bed above it is taken to be empty at `now`: somebody said so, and the time is not over.
    pub fn away(&self, now: DateTime<Utc>) -> Option<&Leave> {
        self.leave.as_ref().filter(|leave| now < leave.until)
    }

    /// The checklist at its bed, while something is left on it.
    pub fn open_steps(&self) -> Option<&Steps> {
        self.steps.as_ref().filter(|steps| !steps.complete())
    }

    /// The bed it is under.
    pub fn bed(&self) -> Option<&Bed> {
        match &self.life {
            Life::Placed { bed, .. } => Some(bed),
            Life::OutOfService { under, .. } => under.as_ref(),
            Life::Soiled(_) | Life::Ready { .. } | Life::Retired { .. } => None,
        }
    }

    /// The newest check, answered or not.
    pub fn last_check(&self) -> Option<&CheckFact> {
        self.checks.back()
    }

    /// The checks since it was placed where it is, the newest first.
    pub fn checks_here(&self) -> impl Iterator<Item = &CheckFact> {
        self.checks
            .iter()
            .rev()
            .filter(move |check| match &self.life {
                Life::Placed { no, .. } => check.no > *no,
                // Where it lies it has lain since before that.
                Life::OutOfService {
                    since,
                    under: Some(_),
                    ..
                } => check.at >= *since,
                Life::OutOfService { under: None, .. }
                | Life::Soiled(_)
                | Life::Ready { .. }
                | Life::Retired { .. } => false,
            })
    }

    /// The newest check since it was placed where it is.
    pub fn check_here(&self) -> Option<&CheckFact> {
        let newest = self.checks.back()?;
        self.checks_here()
            .next()
            .filter(|check| check.no == newest.no)
    }
}

impl Turnover {
    /// Whether cover, filter and function were all seen to.
    pub fn complete(&self) -> bool {
        if self.steps.is_empty() {
            return self.cleaned && self.filter && self.function;
        }
        self.left().next().is_none()
    }

    /// What it still has to show, in order.
    pub fn left(&self) -> impl Iterator<Item = TurnStep> {
        self.steps
            .iter()
            .copied()
            .filter(|step| !self.shown.contains_key(step))
    }
}
