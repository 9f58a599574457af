//! The part of the state that is one surface: where it is in its life, its last readings, what is booked.

use std::collections::{BTreeMap, VecDeque};

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::call::Booking;
use super::filter::{FilterLooks, InUse, Looked};
use super::line::Line;
use super::staff::SecondCheck;
use super::steps::{Mark, Steps};
use super::{Impossible, State, impossible};
use crate::choice::{
    Action, Call, Cleaning, Cover, FilterKind, Finding, LeaveWhy, Method, Outcome, Owned, Paper,
    ReleaseReason, Start, Task, TurnStep, Work,
};
use crate::ids::{AlarmNo, Bed, Person, ProfileName, RecordNo, Tag};
use crate::record::{AlarmEnd, Fault, Record};
use crate::rules::hand_check::{Air, Judgement};
use crate::rules::policy::Name;
use crate::rules::priority::{AlarmKind, Priority};
use crate::rules::turnover::disinfects;
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
    /// The day its filter was last changed or rinsed.
    pub filter_changed: Option<NaiveDate>,
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
    /// Static mode since one moment, until another.
    pub static_mode: Option<(DateTime<Utc>, DateTime<Utc>)>,
    /// The CPR valve is open.
    pub cpr: Option<Mark>,
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

/// A bed that is empty for a time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Leave {
    /// Why.
    pub why: LeaveWhy,
    /// Since when.
    pub since: DateTime<Utc>,
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
    pub asked: u8,
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

impl State {
    /// Whether the CPR valve of a surface is open: nobody is called about it then.
    pub fn in_emergency(&self, tag: &Tag) -> bool {
        self.surfaces
            .get(tag)
            .is_some_and(|surface| surface.cpr.is_some())
    }

    /// Until when an open CPR valve keeps everybody quiet about its surface, if it does: once a nurse was called about it
    /// and nobody said for as long again that it is over, it was forgotten, and whoever lies there lies on no air.
    pub(crate) fn quiet_until(&self, tag: &Tag) -> Option<DateTime<Utc>> {
        let opened = self.surfaces.get(tag)?.cpr?.at;
        let quiet = TimeDelta::minutes(self.policies.get(Name::CprQuiet));
        Some(opened + quiet * 2)
    }

    /// The day on which something happened, in the home's time.
    pub(super) fn day_of(&self, record: &Record) -> Option<NaiveDate> {
        let facility = self.facility.as_ref()?;
        Some(facility.zone.local(record.at).date())
    }

    /// How a surface begins: as it was said to come in.
    pub(super) fn first_life(&self, record: &Record, profile: &ProfileName, start: Start) -> Life {
        match start {
            Start::Ready => Life::Ready { since: record.at },
            Start::Soiled => {
                let filterless = self
                    .profiles
                    .get(profile)
                    .is_some_and(|profile| profile.filter == FilterKind::None);
                Life::Soiled(Turnover::begun(record.at, None, filterless))
            }
        }
    }

    pub(super) fn add(
        &mut self,
        record: &Record,
        tag: &Tag,
        surface: Surface,
    ) -> Result<(), Impossible> {
        if self.surfaces.contains_key(tag) {
            return Err(impossible(
                record,
                format!("but {tag} is in the register already"),
            ));
        }
        self.surfaces.insert(tag.clone(), surface);
        Ok(())
    }

    pub(super) fn placed(
        &mut self,
        record: &Record,
        tag: &Tag,
        bed: &Bed,
        instead_of: Option<&Tag>,
    ) -> Result<(), Impossible> {
        if let Some(other) = self.under.get(bed) {
            return Err(impossible(record, format!("under {bed}, where {other} is")));
        }
        let (day, unit) = (self.day_of(record), self.bed_units.get(bed).cloned());
        let surface = self.remember(record, tag)?;
        surface.life = Life::Placed {
            bed: bed.clone(),
            since: record.at,
            no: record.no,
        };
        surface.forget_the_bed();
        surface.in_use.came_to_bed(day, unit.as_ref());
        surface.instead_of = instead_of.cloned();
        surface.placements += 1;
        surface.waived = None;
        if let Some(rental) = &mut surface.rental {
            rental.idle_since = None;
        }
        self.under.insert(bed.clone(), tag.clone());
        if let (Some(who), Some(unit)) = (record.who, self.bed_units.get(bed).cloned()) {
            self.last_unit.insert(who, unit);
        }
        Ok(())
    }

    /// Released: a turnover begins; what was out of service stays so.
    pub(super) fn released(
        &mut self,
        record: &Record,
        tag: &Tag,
        reason: ReleaseReason,
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?.clone();
        let life = match &surface.life {
            Life::OutOfService { since, fault, .. } => Life::OutOfService {
                since: *since,
                fault: *fault,
                under: None,
            },
            Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } | Life::Retired { .. } => {
                let filterless = self.profile_of(&surface).filter == FilterKind::None;
                Life::Soiled(Turnover::begun(record.at, Some(reason), filterless))
            }
        };
        self.remember(record, tag)?;
        let before = self.surface_mut(record, tag)?.before.take();
        self.leave_bed(record, tag, life)?;
        self.surface_mut(record, tag)?.before = before;
        Ok(())
    }

    pub(super) fn pulled(
        &mut self,
        record: &Record,
        tag: &Tag,
        fault: Fault,
    ) -> Result<(), Impossible> {
        // One that was found within another entry, a cleaning or a recall, is not taken back with that entry.
        let alarm = self.surface_mut(record, tag)?.alarm;
        let own = record.no == record.first || alarm.is_some_and(|no| no.0 == record.first.0);
        if own {
            self.remember(record, tag)?;
        }
        let surface = self.surface_mut(record, tag)?;
        let under = surface.bed().cloned();
        surface.life = Life::OutOfService {
            since: record.at,
            fault,
            under,
        };
        surface.repaired = None;
        // Nobody sets it up or turns it back any more: what it needs is another surface in its place.
        surface.steps = None;
        surface.static_mode = None;
        if !own {
            surface.before = None;
        }
        surface.newest = record.no;
        self.rechecks.remove(tag);
        self.unbook_the_turnover(tag);
        self.unbook_what_a_pull_ends(tag);
        Ok(())
    }

    pub(super) fn moved(&mut self, record: &Record, tag: &Tag, to: &Bed) -> Result<(), Impossible> {
        if let Some(other) = self.under.get(to) {
            return Err(impossible(record, format!("under {to}, where {other} is")));
        }
        if !matches!(self.surface_mut(record, tag)?.life, Life::Placed { .. }) {
            return Err(impossible(record, format!("{tag}, which is under no bed")));
        }
        self.remember(record, tag)?;
        self.rechecks.remove(tag);
        self.unbook_at_the_bed(tag);
        let (day, unit) = (self.day_of(record), self.bed_units.get(to).cloned());
        let surface = self.surface_mut(record, tag)?;
        surface.in_use.came_to_bed(day, unit.as_ref());
        let Life::Placed { bed, since, no } = &mut surface.life else {
            return Err(impossible(record, format!("{tag}, which is under no bed")));
        };
        let from = std::mem::replace(bed, to.clone());
        (*since, *no) = (record.at, record.no);
        surface.leave = None;
        surface.static_mode = None;
        self.under.remove(&from);
        self.under.insert(to.clone(), tag.clone());
        Ok(())
    }

    /// It may go back into service: what is left is a turnover.
    pub(super) fn returned(&mut self, record: &Record, tag: &Tag) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?.clone();
        let Life::OutOfService { under: None, .. } = surface.life else {
            return Err(impossible(
                record,
                format!("{tag}, which is not out of service and under no bed"),
            ));
        };
        let filterless = self.profile_of(&surface).filter == FilterKind::None;
        let surface = self.surface_mut(record, tag)?;
        surface.life = Life::Soiled(Turnover::begun(record.at, None, filterless));
        surface.before = None;
        surface.newest = record.no;
        Ok(())
    }

    /// It comes back as one that is to be turned over, whatever it was when it left.
    pub(super) fn brought_back(&mut self, record: &Record, tag: &Tag) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?.clone();
        if !matches!(surface.life, Life::Retired { .. }) {
            return Err(impossible(record, format!("{tag}, which is not retired")));
        }
        let filterless = self.profile_of(&surface).filter == FilterKind::None;
        let surface = self.surface_mut(record, tag)?;
        surface.life = Life::Soiled(Turnover::begun(record.at, None, filterless));
        surface.before = None;
        surface.newest = record.no;
        Ok(())
    }

    pub(super) fn readied(&mut self, record: &Record, tag: &Tag) -> Result<(), Impossible> {
        let recalled = self.recall_of(tag).is_some();
        let surface = self.surface_mut(record, tag)?;
        if matches!(surface.life, Life::Soiled(_)) {
            surface.life = Life::Ready { since: record.at };
        }
        // The tap that finished it can be taken back; a recall that ended with it cannot.
        surface
            .before
            .take_if(|before| recalled || before.first != record.first);
        surface.newest = record.no;
        self.unbook_the_turnover(tag);
        self.recall_ends_for(tag);
        Ok(())
    }

    /// What a turnover must show. A surface that was ready and is not any more begins one with it.
    pub(super) fn turnover_opened(
        &mut self,
        record: &Record,
        tag: &Tag,
        steps: &[TurnStep],
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        if matches!(surface.life, Life::Ready { .. }) {
            let filterless = !steps.contains(&TurnStep::Filter);
            surface.life = Life::Soiled(Turnover::begun(record.at, None, filterless));
        }
        if let Life::Soiled(turnover) = &mut surface.life {
            turnover.steps = steps.to_vec();
            turnover.shown.clear();
        }
        // Without its list a turnover would ask for less: an entry before it cannot be taken back any more.
        surface
            .before
            .take_if(|before| before.first != record.first);
        surface.newest = record.no;
        Ok(())
    }

    /// A change of a turnover that is under way; nothing where there is none.
    pub(super) fn turning(
        &mut self,
        record: &Record,
        tag: &Tag,
        change: impl FnOnce(&mut Turnover),
    ) -> Result<(), Impossible> {
        if let Life::Soiled(turnover) = &mut self.remember(record, tag)?.life {
            change(turnover);
        }
        Ok(())
    }

    pub(super) fn checked(
        &mut self,
        record: &Record,
        tag: &Tag,
        check: CheckFact,
        recheck: Option<DateTime<Utc>>,
    ) -> Result<(), Impossible> {
        let (no, after) = (check.no, check.judged);
        let surface = self.remember(record, tag)?;
        // A late entry takes its place by when the hand was there.
        let place = surface
            .checks
            .partition_point(|earlier| earlier.at <= check.at);
        let newest = place == surface.checks.len();
        surface.checks.insert(place, check);
        if surface.checks.len() > CHECKS_KEPT {
            surface.checks.pop_front();
        }
        match recheck {
            _ if !newest => {}
            Some(due) => {
                self.rechecks.insert(
                    tag.clone(),
                    Recheck {
                        no,
                        due,
                        after,
                        asked: 0,
                        asked_at: None,
                    },
                );
            }
            None => {
                self.rechecks.remove(tag);
            }
        }
        Ok(())
    }

    pub(super) fn filter_looked(
        &mut self,
        record: &Record,
        tag: &Tag,
        (finding, action): (Finding, Action),
        next: Option<u16>,
    ) -> Result<(), Impossible> {
        let day = self.day_of(record);
        let surface = self.remember(record, tag)?;
        surface.filter = Some(FilterFact {
            no: record.no,
            at: record.at,
            finding,
            action,
            next,
        });
        if action != Action::Left {
            surface.filter_changed = day;
        }
        if let Some(on) = day {
            surface.filter_looks.push(Looked {
                no: record.no,
                on,
                finding,
                action,
            });
        }
        surface.turn(record.at, |turnover| {
            turnover.filter = filter_fit(finding, action)
        });
        Ok(())
    }

    pub(super) fn cleaned(
        &mut self,
        record: &Record,
        tag: &Tag,
        clean: CleanFact,
    ) -> Result<(), Impossible> {
        let between = clean.reason == Cleaning::BetweenResidents;
        let done = disinfects(clean.method, clean.cover);
        let surface = self.remember(record, tag)?;
        surface.cleaned = Some(clean);
        if between {
            surface.turn(record.at, |turnover| turnover.cleaned = done);
        }
        Ok(())
    }

    /// Keeps how a surface stood before the first record of an entry that may be taken back, and hands it out
    /// to be changed.
    pub(super) fn remember(
        &mut self,
        record: &Record,
        tag: &Tag,
    ) -> Result<&mut Surface, Impossible> {
        let recheck = self.rechecks.get(tag).cloned();
        let calls = self.bookings_of(tag);
        let open = self.surfaces.get(tag).and_then(|surface| surface.alarm);
        let alarm = open
            .and_then(|no| self.alarms.get(&no))
            .map(|alarm| (alarm.kind, alarm.priority));
        let surface = self.surface_mut(record, tag)?;
        surface.newest = record.no;
        if surface
            .before
            .as_ref()
            .is_some_and(|before| before.first == record.first)
        {
            return Ok(surface);
        }
        surface.before = None;
        let then = Box::new(surface.clone());
        surface.before = Some(Before {
            first: record.first,
            who: record.who,
            entered: record.entered,
            surface: then,
            recheck,
            calls,
            alarm,
        });
        Ok(surface)
    }

    pub(super) fn take_back(
        &mut self,
        record: &Record,
        tag: &Tag,
        first: RecordNo,
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        let then = surface
            .before
            .as_ref()
            .filter(|before| before.first == first)
            .map(|before| before.surface.bed().cloned());
        let now = surface.bed().cloned();
        let Some(then) = then else {
            return Err(impossible(
                record,
                format!("entry {first} of {tag}, which is not its newest"),
            ));
        };
        // It goes back to where it was.
        if then != now {
            if let Some(bed) = &then
                && let Some(other) = self.under.get(bed)
            {
                return Err(impossible(record, format!("under {bed}, where {other} is")));
            }
            if let Some(bed) = &now {
                self.under.remove(bed);
            }
            if let Some(bed) = then {
                self.under.insert(bed, tag.clone());
            }
        }
        let surface = self.surface_mut(record, tag)?;
        let Some(before) = surface.before.take() else {
            return Ok(());
        };
        let ended = surface.last_alarm.clone();
        *surface = *before.surface;
        // The alarm that the entry opened has been closed by a record of its own, which stays true.
        surface.last_alarm = ended;
        surface.newest = record.no;
        let open = surface.alarm;
        let open = open.filter(|no| self.alarms.contains_key(no));
        self.surface_mut(record, tag)?.alarm = open;
        self.rebook(tag, before.calls);
        // Whoever was asked for it in the meantime has been asked.
        let now = self.rechecks.remove(tag);
        if let Some(then) = before.recheck {
            let kept = now.filter(|now| now.no == then.no).unwrap_or(then);
            self.rechecks.insert(tag.clone(), kept);
        }
        Ok(())
    }

    pub(super) fn leave_bed(
        &mut self,
        record: &Record,
        tag: &Tag,
        life: Life,
    ) -> Result<(), Impossible> {
        self.rechecks.remove(tag);
        self.unbook_at_the_bed(tag);
        let day = self.day_of(record);
        let surface = self.surface_mut(record, tag)?;
        surface.newest = record.no;
        let bed = surface.bed().cloned();
        if bed.is_some() {
            surface.in_use.left_bed(day);
        }
        surface.life = life;
        surface.forget_the_bed();
        // What begins now shows all of it anew.
        surface.second_checks.clear();
        surface.before = None;
        if let Some(rental) = &mut surface.rental {
            rental.idle_since = Some(record.at);
        }
        if let Some(bed) = bed {
            self.under.remove(&bed);
        }
        Ok(())
    }
}

impl Turnover {
    /// A surface without a filter has nothing to look at there.
    fn begun(since: DateTime<Utc>, reason: Option<ReleaseReason>, filterless: bool) -> Self {
        Self {
            since,
            reason,
            cleaned: false,
            filter: filterless,
            function: false,
            steps: Vec::new(),
            shown: BTreeMap::new(),
            wet_until: None,
        }
    }
}

impl Surface {
    /// What belonged to the bed it was under.
    fn forget_the_bed(&mut self) {
        self.steps = None;
        self.setting = None;
        self.leave = None;
        self.static_mode = None;
        self.cpr = None;
        self.instead_of = None;
    }

    /// One step of a turnover; the last one makes the surface ready.
    pub(super) fn turn(&mut self, at: DateTime<Utc>, step: impl FnOnce(&mut Turnover)) {
        if let Life::Soiled(turnover) = &mut self.life {
            step(turnover);
            // One with a list of steps is ready when a record says so.
            if turnover.steps.is_empty() && turnover.complete() {
                self.life = Life::Ready { since: at };
            }
        }
    }
}
