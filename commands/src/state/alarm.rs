//! The part of the state that is one open alarm and its ladder.

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::{Impossible, Ladder, State, impossible};
use crate::choice::Cause;
use crate::ids::{AlarmNo, Person, RecordNo, Tag};
use crate::record::{Body, Overrun, Record};
use crate::rules::priority::{AlarmKind, Priority};

/// An open alarm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Alarm {
    /// The surface.
    pub tag: Tag,
    /// What it is, as far as known.
    pub kind: AlarmKind,
    /// By the table.
    pub priority: Priority,
    /// When it began.
    pub opened: DateTime<Utc>,
    /// Who reported it.
    pub by: Option<Person>,
    /// What they wrote, if it has not been erased.
    pub note: Option<String>,
    /// Who is on the way, since when.
    pub taken: Option<(Person, DateTime<Utc>)>,
    /// Who said that the resident is safe, and when.
    pub safe: Option<(Person, DateTime<Utc>)>,
    /// What it turned out to be.
    pub cause: Option<Cause>,
    /// Minute 0 of the ladder: the opening, or the moment it began again.
    pub ladder_from: DateTime<Utc>,
    /// The newest rung that was asked, 0 for the people of the unit.
    pub rung: u32,
    /// When the newest rung was asked.
    pub asked: DateTime<Utc>,
    /// Why the ladder began again, the last time it did.
    pub overrun: Option<Overrun>,
    /// The newest record about it: names each edit of its card.
    pub newest: RecordNo,
}

impl Alarm {
    /// When rung `rung` (from 1; from 4 the repeats) is asked. Elapsed time: a change of the clocks moves nothing.
    pub fn rung_at(&self, ladder: Ladder, rung: u32) -> DateTime<Utc> {
        let minutes = match rung {
            0 => 0,
            1 => i64::from(ladder.first),
            2 => i64::from(ladder.second),
            3 => i64::from(ladder.third),
            repeats => i64::from(ladder.third) + i64::from(repeats - 3) * i64::from(ladder.repeat),
        };
        self.ladder_from + TimeDelta::minutes(minutes)
    }
}

impl State {
    pub(super) fn admit_alarm(&mut self, record: &Record) -> Result<(), Impossible> {
        let at = record.at;
        let no = match &record.body {
            Body::AlarmOpened {
                tag,
                kind,
                priority,
            } => {
                let no = AlarmNo(record.no.0);
                self.remember(record, tag)?;
                let surface = self.surface_mut(record, tag)?;
                if let Some(open) = surface.alarm {
                    return Err(impossible(
                        record,
                        format!("for {tag}, whose alarm {open} is open"),
                    ));
                }
                surface.alarm = Some(no);
                surface.newest = record.no;
                let alarm = Alarm {
                    tag: tag.clone(),
                    kind: *kind,
                    priority: *priority,
                    opened: at,
                    by: record.who,
                    note: record.note.clone(),
                    taken: None,
                    safe: None,
                    cause: None,
                    ladder_from: at,
                    rung: 0,
                    asked: at,
                    overrun: None,
                    newest: record.no,
                };
                self.alarms.insert(no, alarm);
                return Ok(());
            }
            Body::AlarmClosed { alarm, end } => {
                if !self.alarms.contains_key(alarm) {
                    return Err(impossible(
                        record,
                        format!("names alarm {alarm}, which is not open"),
                    ));
                }
                self.end_alarm(*alarm, *end, at, record.who);
                return Ok(());
            }
            Body::AlarmNamed { alarm, .. }
            | Body::AlarmTaken { alarm }
            | Body::ResidentSafe { alarm }
            | Body::AlarmAsked { alarm, .. }
            | Body::LadderRestarted { alarm, .. }
            | Body::AlarmCause { alarm, .. } => *alarm,
            _ => return Err(impossible(record, "is not about an alarm".into())),
        };
        let Some(alarm) = self.alarms.get_mut(&no) else {
            return Err(impossible(
                record,
                format!("names alarm {no}, which is not open"),
            ));
        };
        match &record.body {
            Body::AlarmNamed { kind, priority, .. } => {
                alarm.kind = *kind;
                alarm.priority = *priority;
            }
            Body::AlarmTaken { .. } => alarm.taken = record.who.map(|who| (who, at)),
            Body::ResidentSafe { .. } => alarm.safe = record.who.map(|who| (who, at)),
            Body::AlarmAsked { rung, .. } => {
                alarm.rung = *rung;
                alarm.asked = at;
            }
            Body::LadderRestarted { why, .. } => {
                alarm.taken = None;
                alarm.ladder_from = at;
                alarm.rung = 0;
                alarm.asked = at;
                alarm.overrun = Some(*why);
            }
            Body::AlarmCause { cause, .. } => alarm.cause = Some(*cause),
            _ => {}
        }
        alarm.newest = record.no;
        let tag = alarm.tag.clone();
        self.surface_mut(record, &tag)?.newest = record.no;
        Ok(())
    }
}
