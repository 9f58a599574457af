//! What became of the alarms of a period, and how long that took. Decides what ends each wait; leaves how waits are spread to
//! `rules::waits`.
//!
//! - **Taken**: somebody said that they were on the way, or did what comes after it.
//! - **Safe**: somebody said that the resident was safe, or the alarm was over.
//! - **Over**: fixed with an adequate check, or the surface came away from under the person.
//!
//! What is not over yet counts as longer than it has lasted. An alarm that was entered by mistake and taken back, or of a wrong
//! tag, is none; one that was found by whoever took it was waited for by nobody, and counts for nobody's way there.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveTime, Utc};

use super::Evidence;
use crate::choice::Cause;
use crate::ids::{AlarmNo, Tag, Unit};
use crate::record::{AlarmEnd, Body};
use crate::role::Role;
use crate::rules::priority::{AlarmKind, Priority};
use crate::rules::waits::{Wait, Waits};

/// An alarm from its beginning to its end.
#[derive(Clone, Debug, PartialEq)]
pub struct AlarmStory<'a> {
    /// Which.
    pub no: AlarmNo,
    /// The surface.
    pub tag: &'a Tag,
    /// When it began.
    pub opened: DateTime<Utc>,
    /// The role that raised it.
    pub by: Role,
    /// What it is, as far as somebody said.
    pub kind: AlarmKind,
    /// By the table.
    pub priority: Priority,
    /// The unit that the surface lay in.
    pub unit: Option<&'a Unit>,
    /// When the shift began by the clock.
    pub shift: NaiveTime,
    /// The highest rung that was asked.
    pub rung: u32,
    /// When somebody was on the way.
    pub taken: Option<DateTime<Utc>>,
    /// When the resident was safe.
    pub safe: Option<DateTime<Utc>>,
    /// When it was over, and how.
    pub over: Option<(DateTime<Utc>, AlarmEnd)>,
    /// What it was.
    pub cause: Option<Cause>,
    /// Nobody heard it: whoever found it was there, so that nobody was waited for.
    pub found: bool,
}

/// How long the alarms of one group took, in minutes.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// How many.
    pub count: usize,
    /// How many are not over yet.
    pub open: usize,
    /// Until somebody was on the way.
    pub taken: Waits,
    /// How long each has lasted so far that nobody has taken.
    pub waiting: Vec<f64>,
    /// Until the resident was safe.
    pub safe: Waits,
    /// Until it was over.
    pub over: Waits,
}

/// How long these took by `now`; nothing where there are none.
pub fn figures<'a, 'b: 'a>(
    alarms: impl IntoIterator<Item = &'a AlarmStory<'b>>,
    now: DateTime<Utc>,
) -> Option<Figures> {
    let alarms: Vec<&AlarmStory<'_>> = alarms.into_iter().collect();
    // For what was found by somebody who stood there nobody waited, which makes no answer quicker.
    let waited = |alarm: &&AlarmStory<'_>| !(alarm.found && alarm.taken == Some(alarm.opened));
    let taken: Vec<&AlarmStory<'_>> = match alarms.iter().any(waited) {
        true => alarms.iter().copied().filter(waited).collect(),
        false => alarms.clone(),
    };
    let waits = |alarms: &[&AlarmStory<'_>],
                 end: &dyn Fn(&AlarmStory<'_>) -> Option<DateTime<Utc>>| {
        let wait = |alarm: &&AlarmStory<'_>| {
            let ended = end(alarm);
            Wait {
                time: minutes(alarm.opened, ended.unwrap_or(now)),
                over: ended.is_some(),
            }
        };
        Waits::of(&alarms.iter().map(wait).collect::<Vec<_>>())
    };
    Some(Figures {
        count: alarms.len(),
        open: alarms.iter().filter(|alarm| alarm.over.is_none()).count(),
        taken: waits(&taken, &|alarm| alarm.taken)?,
        waiting: taken
            .iter()
            .filter(|alarm| alarm.taken.is_none())
            .map(|alarm| minutes(alarm.opened, now))
            .collect(),
        safe: waits(&alarms, &|alarm| alarm.safe)?,
        over: waits(&alarms, &|alarm| Some(alarm.over?.0))?,
    })
}

fn minutes(from: DateTime<Utc>, to: DateTime<Utc>) -> f64 {
    (to - from).num_seconds().max(0) as f64 / 60.0
}

impl<'a> Evidence<'a> {
    /// The alarms that began in the period, in order.
    #[must_use]
    pub fn alarms(&self) -> Vec<AlarmStory<'a>> {
        let mut all = self.alarms_read();
        all.retain(|alarm| self.span.has(alarm.opened));
        all
    }

    /// Every alarm of which the beginning was read.
    pub(super) fn alarms_read(&self) -> Vec<AlarmStory<'a>> {
        let mut all: Vec<AlarmStory<'a>> = Vec::new();
        let mut place: BTreeMap<AlarmNo, usize> = BTreeMap::new();
        for (entry, body) in self.all_counting() {
            if let Body::AlarmOpened {
                tag,
                kind,
                priority,
                found,
                ..
            } = body
            {
                let (no, at) = (AlarmNo(entry.record.no.0), entry.at);
                place.insert(no, all.len());
                all.push(AlarmStory {
                    no,
                    tag,
                    opened: at,
                    by: entry.record.role,
                    kind: *kind,
                    priority: *priority,
                    unit: self.unit_at(tag, at),
                    shift: self.settings.shift_name(at),
                    rung: 0,
                    taken: None,
                    safe: None,
                    over: None,
                    cause: None,
                    found: found.is_some(),
                });
                continue;
            }
            let of = body.alarm().and_then(|no| place.get(&no));
            if let Some(alarm) = of.and_then(|of| all.get_mut(*of)) {
                alarm.takes(entry.at, body);
            }
        }
        let mistaken = |alarm: &AlarmStory<'_>| {
            matches!(
                alarm.over,
                Some((_, AlarmEnd::TakenBack | AlarmEnd::WrongTag))
            )
        };
        all.retain(|alarm| !mistaken(alarm));
        all
    }
}

impl AlarmStory<'_> {
    fn takes(&mut self, at: DateTime<Utc>, body: &Body) {
        match body {
            Body::AlarmNamed { kind, priority, .. } => {
                self.kind = *kind;
                self.priority = *priority;
            }
            Body::AlarmAsked { rung, .. } => self.rung = self.rung.max(*rung),
            Body::AlarmTaken { .. } => {
                self.taken.get_or_insert(at);
            }
            Body::ResidentSafe { .. } => {
                self.taken.get_or_insert(at);
                self.safe.get_or_insert(at);
            }
            Body::AlarmCause { cause, .. } => {
                self.taken.get_or_insert(at);
                self.cause = Some(*cause);
            }
            Body::AlarmClosed { end, .. } => {
                self.taken.get_or_insert(at);
                self.safe.get_or_insert(at);
                self.over.get_or_insert((at, *end));
            }
            _ => {}
        }
    }
}
