//! The part of the state that is one surface: where it is in its life, its last readings, what is booked.

use std::collections::VecDeque;

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::{Impossible, State, impossible};
use crate::choice::{
    Action, Cleaning, Cover, FilterKind, Finding, Method, Owned, ReleaseReason, Start,
};
use crate::ids::{AlarmNo, Bed, Person, ProfileName, RecordNo, Tag};
use crate::record::{AlarmEnd, Body, Fault, Record};
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
    pub(super) fn admit_surface(&mut self, record: &Record) -> Result<(), Impossible> {
        match &record.body {
            Body::SurfaceAdded {
                tag,
                profile,
                serial,
                lot,
                owned,
                daily_cents,
                start,
                filter_changed,
                in_service: _,
            } => {
                if self.surfaces.contains_key(tag) {
                    return Err(impossible(
                        record,
                        format!("but {tag} is in the register already"),
                    ));
                }
                let filterless = self
                    .profiles
                    .get(profile)
                    .is_some_and(|profile| profile.filter == FilterKind::None);
                let life = match start {
                    Start::Ready => Life::Ready { since: record.at },
                    Start::Soiled => Life::Soiled(Turnover::begun(record.at, None, filterless)),
                };
                let surface = Surface {
                    profile: profile.clone(),
                    serial: serial.clone(),
                    lot: lot.clone(),
                    owned: *owned,
                    daily_cents: *daily_cents,
                    added: record.at,
                    life,
                    checks: VecDeque::new(),
                    filter: None,
                    filter_changed: *filter_changed,
                    cleaned: None,
                    alarm: None,
                    last_alarm: None,
                    newest: record.no,
                    before: None,
                };
                self.surfaces.insert(tag.clone(), surface);
                return Ok(());
            }
            Body::TakenBack { tag, first } => return self.take_back(record, tag, *first),
            Body::RecheckAsked { tag, step } => {
                if let Some(recheck) = self.rechecks.get_mut(tag) {
                    recheck.asked = *step;
                    recheck.asked_at = Some(record.at);
                }
                return Ok(());
            }
            Body::HandChecked { tag, .. }
            | Body::FilterLooked { tag, .. }
            | Body::Cleaned { tag, .. }
            | Body::FunctionShown { tag } => {
                self.remember(record, tag)?;
            }
            Body::SurfaceRetired { .. }
            | Body::Placed { .. }
            | Body::Released { .. }
            | Body::Pulled { .. } => {}
            _ => return Err(impossible(record, "is not about a surface".into())),
        }
        let Some(tag) = record.body.surface().cloned() else {
            return Ok(());
        };
        match &record.body {
            Body::SurfaceRetired { .. } => {
                self.leave_bed(record, &tag, Life::Retired { since: record.at })?;
            }
            Body::Placed { bed, .. } => {
                if let Some(other) = self.under.get(bed) {
                    return Err(impossible(record, format!("under {bed}, where {other} is")));
                }
                self.under.insert(bed.clone(), tag.clone());
                let life = Life::Placed {
                    bed: bed.clone(),
                    since: record.at,
                    no: record.no,
                };
                let surface = self.surface_mut(record, &tag)?;
                surface.life = life;
                surface.before = None;
                if let (Some(who), Some(unit)) = (record.who, self.unit_of(&tag).cloned()) {
                    self.last_unit.insert(who, unit);
                }
            }
            Body::Released { reason, .. } => {
                let surface = self.surface_mut(record, &tag)?.clone();
                let filterless = self.profile_of(&surface).filter == FilterKind::None;
                let life = match &surface.life {
                    Life::OutOfService { since, fault, .. } => Life::OutOfService {
                        since: *since,
                        fault: *fault,
                        under: None,
                    },
                    Life::Placed { .. }
                    | Life::Soiled(_)
                    | Life::Ready { .. }
                    | Life::Retired { .. } => {
                        Life::Soiled(Turnover::begun(record.at, Some(*reason), filterless))
                    }
                };
                self.leave_bed(record, &tag, life)?;
            }
            Body::Pulled { fault, .. } => {
                let surface = self.surface_mut(record, &tag)?;
                let under = surface.bed().cloned();
                surface.life = Life::OutOfService {
                    since: record.at,
                    fault: *fault,
                    under,
                };
                surface.before = None;
                self.rechecks.remove(&tag);
            }
            Body::HandChecked {
                air,
                judged,
                recheck,
                ..
            } => {
                let fact = CheckFact {
                    no: record.no,
                    at: record.at,
                    who: record.who,
                    air: *air,
                    judged: *judged,
                };
                let surface = self.surface_mut(record, &tag)?;
                // A late entry takes its place by when the hand was there.
                let place = surface
                    .checks
                    .partition_point(|earlier| earlier.at <= fact.at);
                let newest = place == surface.checks.len();
                surface.checks.insert(place, fact);
                if surface.checks.len() > CHECKS_KEPT {
                    surface.checks.pop_front();
                }
                if newest {
                    match recheck {
                        Some(due) => {
                            let booked = Recheck {
                                due: *due,
                                after: *judged,
                                asked: 0,
                                asked_at: None,
                            };
                            self.rechecks.insert(tag.clone(), booked);
                        }
                        None => {
                            self.rechecks.remove(&tag);
                        }
                    }
                }
            }
            Body::FilterLooked {
                finding, action, ..
            } => {
                let (finding, action) = (*finding, *action);
                let day = self
                    .facility
                    .as_ref()
                    .map(|f| f.zone.local(record.at).date());
                let surface = self.surface_mut(record, &tag)?;
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
            }
            Body::Cleaned {
                reason,
                method,
                cover,
                ..
            } => {
                let surface = self.surface_mut(record, &tag)?;
                surface.cleaned = Some(CleanFact {
                    at: record.at,
                    reason: *reason,
                    method: *method,
                    cover: *cover,
                });
                if *reason == Cleaning::BetweenResidents {
                    let done = *method != Method::SoapAndWater && *cover == Cover::Intact;
                    surface.turn(record.at, |turnover| turnover.cleaned = done);
                }
            }
            Body::FunctionShown { .. } => {
                self.surface_mut(record, &tag)?
                    .turn(record.at, |turnover| turnover.function = true);
            }
            _ => {}
        }
        self.surface_mut(record, &tag)?.newest = record.no;
        Ok(())
    }

    /// Keeps how a surface stood before the first record of an entry that may be taken back.
    pub(super) fn remember(&mut self, record: &Record, tag: &Tag) -> Result<(), Impossible> {
        let recheck = self.rechecks.get(tag).cloned();
        let surface = self.surface_mut(record, tag)?;
        if surface
            .before
            .as_ref()
            .is_some_and(|before| before.first == record.first)
        {
            return Ok(());
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
        Ok(())
    }

    fn take_back(&mut self, record: &Record, tag: &Tag, first: RecordNo) -> Result<(), Impossible> {
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
        match before.recheck {
            Some(recheck) => self.rechecks.insert(tag.clone(), recheck),
            None => self.rechecks.remove(tag),
        };
        Ok(())
    }

    fn leave_bed(&mut self, record: &Record, tag: &Tag, life: Life) -> Result<(), Impossible> {
        self.rechecks.remove(tag);
        let surface = self.surface_mut(record, tag)?;
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
    fn turn(&mut self, at: DateTime<Utc>, step: impl FnOnce(&mut Turnover)) {
        if let Life::Soiled(turnover) = &mut self.life {
            step(turnover);
            if turnover.complete() {
                self.life = Life::Ready { since: at };
            }
        }
    }
}
