//! Which checks were due in a period, and which were made on time. Decides what counts; leaves how sure a share is to
//! `rules::share`.
//!
//! - **Due**: one check in each shift (or in each stretch of so many hours, where the home has set that), for every surface
//!   whose profile wants one and that lay in service under an occupied bed for at least half of it. A shift that is not over
//!   is not counted.
//! - **On time**: a check, or why there could be none, that happened in that shift; when it was typed does not matter.
//! - **Looked at again**: each time that a reading, or the want of one, booked another look. In time is: by the moment at which
//!   somebody would have been asked a second time, which is the home's time from a reading to the next look after it was due.
//!   What was no more needed by then (the surface left the bed or the service, the bed was empty, an alarm asked for the
//!   check instead) is not counted.
//!
//! The half of a shift is common practice: who came or left in it was there for the round or was not.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};

use super::{Evidence, Part, Span};
use crate::ids::{Bed, Tag, Unit};
use crate::record::Body;
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;

/// How many checks were due, and what became of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// So many were due.
    pub due: u32,
    /// Of these, made on time.
    pub made: u32,
    /// Of these, why it could not be made was entered in its time, and no more.
    pub could_not: u32,
    /// Of those that are not on record, in a shift in which loftwatch was away.
    pub missed_away: u32,
}

impl Tally {
    /// Made, or entered why not.
    #[must_use]
    pub fn on_time(self) -> u32 {
        self.made + self.could_not
    }

    fn add(&mut self, other: Tally) {
        self.due += other.due;
        self.made += other.made;
        self.could_not += other.could_not;
        self.missed_away += other.missed_away;
    }
}

/// Looks that were booked after a reading, or after there could be none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Rechecks {
    /// So many were booked and needed.
    pub booked: u32,
    /// Of these, in time.
    pub kept: u32,
    /// Booked, and no more needed when it was time.
    pub moot: u32,
}

/// Checks of one unit and one stretch of time that are not on record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing<'a> {
    /// The stretch.
    pub span: Span,
    /// The unit; none where a bed was in no unit.
    pub unit: Option<&'a Unit>,
    /// The surfaces.
    pub tags: Vec<&'a Tag>,
    /// loftwatch was away in it.
    pub away: bool,
}

/// What of the checks was done on time.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Coverage<'a> {
    /// All together.
    pub all: Tally,
    /// By unit and shift.
    pub parts: BTreeMap<Part, Tally>,
    /// What is not on record, in order.
    pub missing: Vec<Missing<'a>>,
    /// Looks out of turn.
    pub rechecks: Rechecks,
    /// When the shift began that is not over, and so is not counted.
    pub running: Option<DateTime<Utc>>,
}

/// A shift in which a check was due of which nothing is on record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missed<'a> {
    /// The surface.
    pub tag: &'a Tag,
    /// The bed it was under for the longest of it.
    pub bed: &'a Bed,
    /// The shift, or what stands for it.
    pub stretch: Span,
    /// Whether loftwatch was away in it.
    pub away: bool,
}

/// One check that was due.
struct Due<'a> {
    of: Missed<'a>,
    made: bool,
    could_not: bool,
}

/// A check of one surface.
struct Looked {
    at: DateTime<Utc>,
    made: bool,
    again: Option<DateTime<Utc>>,
}

impl<'a> Evidence<'a> {
    /// What of the checks was done on time.
    #[must_use]
    pub fn coverage(&self) -> Coverage<'a> {
        let looks = self.looks();
        // When an alarm was open, since its card then asks for the check.
        let mut alarmed: BTreeMap<&Tag, Vec<Span>> = BTreeMap::new();
        for alarm in self.alarms_read() {
            let to = alarm.over.map_or(DateTime::<Utc>::MAX_UTC, |(at, _)| at);
            let from = alarm.opened;
            alarmed
                .entry(alarm.tag)
                .or_default()
                .push(Span { from, to });
        }
        let mut found = Coverage {
            running: self.running(),
            ..Coverage::default()
        };
        self.rounds(&looks, &mut found);
        for (tag, looks) in &looks {
            let alarmed = alarmed.get(tag).map_or(&[][..], Vec::as_slice);
            self.again(tag, looks, alarmed, &mut found.rechecks);
        }
        found
    }

    /// The shifts in which a check was due of which nothing is on record, neither a reading nor why there could be none;
    /// the oldest first.
    #[must_use]
    pub fn missed(&self) -> Vec<Missed<'a>> {
        let all = self.due(&self.looks()).into_iter();
        all.filter(|due| !due.made && !due.could_not)
            .map(|due| due.of)
            .collect()
    }

    fn looks(&self) -> BTreeMap<&Tag, Vec<Looked>> {
        let mut looks: BTreeMap<&Tag, Vec<Looked>> = BTreeMap::new();
        for (entry, body) in self.all_counting() {
            if let Body::HandChecked {
                tag,
                judged,
                recheck,
                ..
            } = body
            {
                looks.entry(tag).or_default().push(Looked {
                    at: entry.at,
                    made: *judged != Judgement::CouldNot,
                    again: *recheck,
                });
            }
        }
        looks
    }

    /// The stretches in which one check is due, that begin in the period and are over.
    fn stretches(&self) -> Vec<Span> {
        let mut all = Vec::new();
        let mut at = self.span.from;
        let (start, end) = self.settings.check_stretch(at);
        if start < at {
            at = end;
        }
        while at < self.span.to {
            let (start, end) = self.settings.check_stretch(at);
            let from = start.max(at);
            // A setting that changed may have cut one short: less than half of one is none.
            if end <= self.now && (end - from) * 2 >= end - start {
                all.push(Span { from, to: end });
            }
            at = end.max(at + TimeDelta::minutes(1));
        }
        all
    }

    /// When the stretch began that begins in the period and is not over yet.
    fn running(&self) -> Option<DateTime<Utc>> {
        let (start, end) = self.settings.check_stretch(self.now);
        let runs = start <= self.now && self.now < end;
        (runs && self.span.has(start)).then_some(start)
    }

    fn rounds(&self, looks: &BTreeMap<&Tag, Vec<Looked>>, found: &mut Coverage<'a>) {
        let mut missing: BTreeMap<_, Missing<'a>> = BTreeMap::new();
        for Due {
            of,
            made,
            could_not,
        } in self.due(looks)
        {
            let none = !made && !could_not;
            let one = Tally {
                due: 1,
                made: u32::from(made),
                could_not: u32::from(could_not && !made),
                missed_away: u32::from(none && of.away),
            };
            let shift = self.settings.shift_name(of.stretch.from);
            let unit = self.settings.unit(of.bed, last(of.stretch));
            found.all.add(one);
            let part = (unit.cloned(), shift);
            found.parts.entry(part).or_default().add(one);
            if none {
                let there = missing.entry((of.stretch.from, unit));
                let group = there.or_insert_with(|| Missing {
                    span: of.stretch,
                    unit,
                    tags: Vec::new(),
                    away: of.away,
                });
                group.tags.push(of.tag);
            }
        }
        found.missing = missing.into_values().collect();
    }

    /// Every check that was due, and what is on record of it.
    fn due(&self, looks: &BTreeMap<&Tag, Vec<Looked>>) -> Vec<Due<'a>> {
        let away = self.away();
        let mut all = Vec::new();
        for stretch in self.stretches() {
            let was_away = away.iter().any(|away| away.and(stretch).is_some());
            for (tag, place) in &self.places {
                let Some((lay, bed)) = place.occupied(stretch) else {
                    continue;
                };
                let wants = |profile| self.settings.wants_check(profile, last(stretch));
                if !place.profile.is_none_or(wants) || lay * 2 < stretch.to - stretch.from {
                    continue;
                }
                let looks = looks.get(tag).map_or(&[][..], Vec::as_slice);
                let first = looks.partition_point(|look| look.at < stretch.from);
                let inside = looks[first..]
                    .iter()
                    .take_while(|look| look.at < stretch.to);
                let (mut made, mut could_not) = (false, false);
                inside.for_each(|look| {
                    made |= look.made;
                    could_not |= !look.made;
                });
                all.push(Due {
                    of: Missed {
                        tag,
                        bed,
                        stretch,
                        away: was_away,
                    },
                    made,
                    could_not,
                });
            }
        }
        all
    }

    fn again(&self, tag: &Tag, looks: &[Looked], alarmed: &[Span], found: &mut Rechecks) {
        let Some(place) = self.places.get(tag) else {
            return;
        };
        for (nth, look) in looks.iter().enumerate() {
            let Some(due) = look.again.filter(|_| self.span.has(look.at)) else {
                continue;
            };
            let grace = TimeDelta::minutes(self.settings.policy(Name::Recheck, due));
            let latest = due + grace;
            let next = looks[nth + 1..].iter().find(|next| next.at > look.at);
            if next.is_some_and(|next| next.at <= latest) {
                found.booked += 1;
                found.kept += 1;
            } else if !place.occupied_at(due)
                || !place.occupied_at(latest)
                || alarmed.iter().any(|open| open.has(due) || open.has(latest))
            {
                found.moot += 1;
            } else if latest <= self.now {
                found.booked += 1;
            }
        }
    }
}

/// What was set in the course of a stretch holds for it.
fn last(stretch: Span) -> DateTime<Utc> {
    stretch.to - TimeDelta::seconds(1)
}
