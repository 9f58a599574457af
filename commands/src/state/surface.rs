//! The part of the state that is one surface: where it is in its life, its last readings, what is booked.

use std::collections::VecDeque;

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::{Impossible, State, impossible};
use crate::choice::{
    Action, Cleaning, Cover, FilterKind, Finding, Method, Owned, ReleaseReason, Start,
};
use crate::ids::{AlarmNo, Bed, Person, ProfileName, RecordNo, Tag};
use crate::record::{AlarmEnd, Fault, Record};
use crate::rules::hand_check::{Air, Judgement};

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
    /// The newest look at its filter.
    pub filter: Option<FilterFact>,
    /// The day its filter was last changed or rinsed.
    pub filter_changed: Option<NaiveDate>,
    /// The newest cleaning.
    pub cleaned: Option<CleanFact>,
    /// The alarm that is open.
    pub alarm: Option<AlarmNo>,
    /// The newest alarm that is over.
    pub last_alarm: Option<EndedAlarm>,
    /// The newest record about it.
    pub newest: RecordNo,
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
}

/// A look at a filter.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FilterFact {
    /// When.
    pub at: DateTime<Utc>,
    /// What was found.
    pub finding: Finding,
    /// What was done.
    pub action: Action,
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
    /// What was booked then.
    pub recheck: Option<Recheck>,
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
            filter: None,
            filter_changed: None,
            cleaned: None,
            alarm: None,
            last_alarm: None,
            newest: record.no,
            before: None,
        }
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
        let since = match &self.life {
            Life::Placed { no, .. } => *no,
            Life::Soiled(_)
            | Life::Ready { .. }
            | Life::OutOfService { .. }
            | Life::Retired { .. } => RecordNo(u64::MAX),
        };
        self.checks
            .iter()
            .rev()
            .filter(move |check| check.no > since)
    }

    /// The newest check since it was placed where it is.
    pub fn check_here(&self) -> Option<&CheckFact> {
        let Life::Placed { no, .. } = &self.life else {
            return None;
        };
        self.checks.back().filter(|check| check.no > *no)
    }
}

impl Turnover {
    /// Whether cover, filter and function were all seen to.
    pub fn complete(&self) -> bool {
        self.cleaned && self.filter && self.function
    }
}

impl State {
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
    ) -> Result<(), Impossible> {
        if let Some(other) = self.under.get(bed) {
            return Err(impossible(record, format!("under {bed}, where {other} is")));
        }
        let surface = self.surface_mut(record, tag)?;
        surface.life = Life::Placed {
            bed: bed.clone(),
            since: record.at,
            no: record.no,
        };
        surface.before = None;
        surface.newest = record.no;
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
        self.leave_bed(record, tag, life)
    }

    pub(super) fn pulled(
        &mut self,
        record: &Record,
        tag: &Tag,
        fault: Fault,
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        let under = surface.bed().cloned();
        surface.life = Life::OutOfService {
            since: record.at,
            fault,
            under,
        };
        surface.before = None;
        surface.newest = record.no;
        self.rechecks.remove(tag);
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
        finding: Finding,
        action: Action,
    ) -> Result<(), Impossible> {
        let day = self
            .facility
            .as_ref()
            .map(|facility| facility.zone.local(record.at).date());
        let surface = self.remember(record, tag)?;
        surface.filter = Some(FilterFact {
            at: record.at,
            finding,
            action,
        });
        if action != Action::Left {
            surface.filter_changed = day;
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
        let done = clean.method != Method::SoapAndWater && clean.cover == Cover::Intact;
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
        let Some(before) = surface.before.take_if(|before| before.first == first) else {
            return Err(impossible(
                record,
                format!("entry {first} of {tag}, which is not its newest"),
            ));
        };
        let ended = surface.last_alarm.clone();
        *surface = *before.surface;
        // The alarm that the entry opened has been closed by a record of its own, which stays true.
        surface.last_alarm = ended;
        surface.newest = record.no;
        let open = surface.alarm;
        let open = open.filter(|no| self.alarms.contains_key(no));
        self.surface_mut(record, tag)?.alarm = open;
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
        let surface = self.surface_mut(record, tag)?;
        surface.newest = record.no;
        let bed = surface.bed().cloned();
        surface.life = life;
        surface.before = None;
        if let Some(bed) = bed {
            self.under.remove(&bed);
        }
        Ok(())
    }
}

/// Whether a filter is fit to go on with after a look: clean or dusty, or a new or rinsed one went in.
pub fn filter_fit(finding: Finding, action: Action) -> bool {
    match action {
        Action::Replaced => true,
        Action::Rinsed => finding != Finding::Damaged,
        Action::Left => matches!(finding, Finding::Clean | Finding::Dusty),
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
        }
    }
}

impl Surface {
    /// One step of a turnover; the last one makes the surface ready.
    pub(super) fn turn(&mut self, at: DateTime<Utc>, step: impl FnOnce(&mut Turnover)) {
        if let Life::Soiled(turnover) = &mut self.life {
            step(turnover);
            if turnover.complete() {
                self.life = Life::Ready { since: at };
            }
        }
    }
}
