//! The part of the state that is a checklist at a bed: after a placement, a move, an opened CPR valve or a power
//! loss. Decides what is done and what is left; leaves which steps there are, and in which groups, to
//! [`crate::rules::set_up`].

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::{Impossible, State};
use crate::choice::{Call, Opening, Step};
use crate::ids::{Person, RecordNo, Tag};
use crate::record::{On, Record};

/// Who said something, and when.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mark {
    /// Who; nobody for the clock.
    pub who: Option<Person>,
    /// When.
    pub at: DateTime<Utc>,
}

impl Mark {
    pub(super) fn of(record: &Record) -> Self {
        Self {
            who: record.who,
            at: record.at,
        }
    }
}

/// A checklist that is open, or was the last to be.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Steps {
    /// Why.
    pub opening: Opening,
    /// The record that opened it.
    pub no: RecordNo,
    /// Since when.
    pub since: DateTime<Utc>,
    /// Who began it.
    pub by: Option<Person>,
    /// The list that was open when this one was, and goes on in it: why, since when, and who began it.
    #[serde(default)]
    pub goes_on: Option<(Opening, DateTime<Utc>, Option<Person>)>,
    /// What is to be done, in order.
    pub wanted: Vec<Step>,
    /// What is done, by whom and when.
    pub done: BTreeMap<Step, Mark>,
    /// What was found not to be right, and is not yet.
    pub missed: BTreeMap<Step, Mark>,
    /// When it should be full, once it fills.
    pub full: Option<DateTime<Utc>>,
}

impl Steps {
    /// What is left, in order.
    pub fn left(&self) -> impl Iterator<Item = Step> {
        self.wanted
            .iter()
            .copied()
            .filter(|step| !self.done.contains_key(step))
    }

    /// Whether nothing is left.
    pub fn complete(&self) -> bool {
        self.left().next().is_none()
    }

    /// A new one. What was done on one that was `open` until now can still be read, unless it is wanted again.
    pub(crate) fn opened(
        no: RecordNo,
        since: DateTime<Utc>,
        opening: Opening,
        wanted: Vec<Step>,
        open: Option<&Steps>,
    ) -> Self {
        let carried = |marks: &BTreeMap<Step, Mark>, wanted_too: bool| {
            marks
                .iter()
                .filter(|(step, _)| wanted.contains(step) == wanted_too)
                .map(|(step, mark)| (*step, *mark))
                .collect::<BTreeMap<_, _>>()
        };
        let (done, missed, full) = match open {
            Some(open) => (
                carried(&open.done, false),
                carried(&open.missed, true),
                // A valve that was open begins another fill.
                open.full.filter(|_| !wanted.contains(&Step::Valve)),
            ),
            None => (BTreeMap::new(), BTreeMap::new(), None),
        };
        let goes_on = open.map(|open| open.goes_on.unwrap_or((open.opening, open.since, open.by)));
        Self {
            by: None,
            goes_on,
            opening,
            no,
            since,
            wanted,
            done,
            missed,
            full,
        }
    }

    /// These are done.
    pub(crate) fn tick(&mut self, steps: &[Step], mark: Mark) {
        for step in steps {
            self.missed.remove(step);
            self.done.insert(*step, mark);
        }
    }

    /// This one is not right yet.
    pub(crate) fn miss(&mut self, step: Step, mark: Mark) {
        self.done.remove(&step);
        self.missed.insert(step, mark);
    }
}

impl State {
    pub(super) fn open_steps(
        &mut self,
        record: &Record,
        tag: &Tag,
        opening: Opening,
        wanted: &[Step],
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        surface.newest = record.no;
        // An entry before this one cannot be taken back any more: it would take the list with it.
        surface
            .before
            .take_if(|before| before.first != record.first);
        let mut steps = Steps::opened(
            record.no,
            record.at,
            opening,
            wanted.to_vec(),
            surface.open_steps(),
        );
        steps.by = record.who;
        surface.steps = Some(steps);
        Ok(())
    }

    pub(super) fn steps_done(
        &mut self,
        record: &Record,
        tag: &Tag,
        steps: &[Step],
    ) -> Result<(), Impossible> {
        let surface = self.remember(record, tag)?;
        if let Some(list) = &mut surface.steps {
            list.tick(steps, Mark::of(record));
            if list.complete() {
                // Nobody needs to be called for a list on which nothing is left.
                for call in [Call::Full, Call::Plug, Call::Steps] {
                    self.unbook(&On::Surface(tag.clone()), call);
                }
            }
        }
        Ok(())
    }

    pub(super) fn step_missed(
        &mut self,
        record: &Record,
        tag: &Tag,
        step: Step,
    ) -> Result<(), Impossible> {
        let surface = self.remember(record, tag)?;
        if let Some(list) = &mut surface.steps {
            list.miss(step, Mark::of(record));
        }
        Ok(())
    }
}
