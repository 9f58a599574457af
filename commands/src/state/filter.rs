//! The part of a surface that its filter's cycle is learned from: the newest looks, and where it drew air. Decides what is kept and
//! that a correction leaves what an entry that had read so would have left; leaves what it means to `rules/filter_cycle`.

use std::collections::VecDeque;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::moments::Each;
use crate::choice::{Action, Finding};
use crate::ids::{RecordNo, Unit};
use crate::rules::filter_cycle::{self, Looks};
use crate::rules::filter_life::{Found, Going, Look, spans};

/// How many of a surface's newest looks are kept: a year and a half of looks every two weeks. What older ones left is
/// the life that was going on then.
pub const LOOKS_KEPT: usize = 40;

/// How many stays on a shelf are kept.
const SHELVES_KEPT: usize = 40;

/// A look at a filter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(from = "(RecordNo, NaiveDate, Finding, Action)")]
#[serde(into = "(RecordNo, NaiveDate, Finding, Action)")]
pub struct Looked {
    /// Its record.
    pub no: RecordNo,
    /// The day.
    pub on: NaiveDate,
    /// What was found.
    pub finding: Finding,
    /// What was done.
    pub action: Action,
}

impl From<(RecordNo, NaiveDate, Finding, Action)> for Looked {
    fn from((no, on, finding, action): (RecordNo, NaiveDate, Finding, Action)) -> Self {
        Self {
            no,
            on,
            finding,
            action,
        }
    }
}

impl From<Looked> for (RecordNo, NaiveDate, Finding, Action) {
    fn from(look: Looked) -> Self {
        (look.no, look.on, look.finding, look.action)
    }
}

impl Looked {
    fn as_look(self) -> Look {
        filter_cycle::look(self.on, self.finding, self.action)
    }
}

/// The newest looks at a surface's filter.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct FilterLooks {
    /// They, oldest first, at most [`LOOKS_KEPT`].
    pub newest: VecDeque<Looked>,
    /// The life that was going on before the first of them, where it is known.
    pub before: Option<Going>,
}

impl FilterLooks {
    /// Of a filter that was new on a day.
    pub fn new(day: Option<NaiveDate>) -> Self {
        Self {
            newest: VecDeque::new(),
            before: day.map(Going::from_new),
        }
    }

    /// Adds a look at its day; the oldest beyond what is kept becomes what it left.
    pub fn push(&mut self, look: Looked) {
        let place = self.newest.partition_point(|earlier| earlier.on <= look.on);
        self.newest.insert(place, look);
        if self.newest.len() > LOOKS_KEPT
            && let Some(oldest) = self.newest.pop_front()
        {
            self.before = Going::after(self.before, oldest.as_look());
        }
    }

    /// Goes through the days of what has happened.
    pub(super) fn happened(&mut self, each: &mut impl Each) {
        if let Some(Going { new, clean }) = &mut self.before {
            each.on(new);
            each.on(clean);
        }
        for look in &mut self.newest {
            each.on(&mut look.on);
        }
    }

    /// Takes a look out.
    pub(super) fn forget(&mut self, no: RecordNo) {
        self.newest.retain(|look| look.no != no);
    }

    /// The most days between two of them.
    pub fn longest(&self) -> u32 {
        let days = self.newest.iter().map(|look| look.on);
        let later = days.clone().skip(1);
        let gaps = days.zip(later).map(|(on, next)| (next - on).num_days());
        gaps.max()
            .map_or(0, |days| u32::try_from(days).unwrap_or(0))
    }

    /// The newest of them where it found a filter dirty whose age is known: what was found, by which day of use, and the looks
    /// without it.
    pub fn newest_dirty(&self, in_use: &InUse) -> Option<(Finding, u32, Self)> {
        let mut without = self.clone();
        let newest = without.newest.pop_back()?;
        let ends = |looks: &Self| -> Vec<f64> {
            let said = looks.say(in_use, None);
            said.spans.iter().filter_map(|span| span.by).collect()
        };
        let (all, before) = (ends(self), ends(&without));
        let age = all.last().filter(|_| all.len() > before.len())?;
        Some((newest.finding, age.round() as u32, without))
    }

    /// What they say, in days of use; since it came to its care unit only, where that is `since`.
    pub fn say(&self, in_use: &InUse, since: Option<NaiveDate>) -> Looks {
        let shelves = in_use.shelves();
        let here = |day: NaiveDate| since.is_none_or(|since| day >= since);
        let day = |day| filter_cycle::in_use(day, &shelves);
        let looks: Vec<Look> = self
            .newest
            .iter()
            .filter(|look| here(look.on))
            .map(|look| Look {
                day: day(look.on),
                ..look.as_look()
            })
            .collect();
        let before = self.before.filter(|life| here(life.new)).map(|life| Going {
            new: day(life.new),
            clean: day(life.clean),
        });
        let count = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
        // A second look on the same day says no more of the days between two.
        let on_days = || looks.chunk_by(|a, b| a.day == b.day);
        let dirty = on_days().filter(|day| day.iter().any(|look| look.found == Found::Dirty));
        Looks {
            dirty: count(dirty.count()),
            looks: count(on_days().count()),
            units: u32::from(!looks.is_empty()),
            spans: spans(&looks, before),
        }
    }
}

/// Where a filter drew air: a shelf has none, another care unit has other air.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct InUse {
    /// Since when it stands on a shelf.
    left: Option<NaiveDate>,
    /// The newest stays on a shelf: the day it left a bed, and the day it came to one.
    shelves: VecDeque<(NaiveDate, NaiveDate)>,
    /// The care unit it was in last.
    unit: Option<Unit>,
    /// Since when, where it was in another before.
    since: Option<NaiveDate>,
}

impl InUse {
    /// Goes through the days of what has happened.
    pub(super) fn happened(&mut self, each: &mut impl Each) {
        each.maybe_on(&mut self.left);
        each.maybe_on(&mut self.since);
        for (left, came) in &mut self.shelves {
            each.on(left);
            each.on(came);
        }
    }

    /// It is under no bed.
    pub(super) fn left_bed(&mut self, day: Option<NaiveDate>) {
        self.left = day;
    }

    /// It is under a bed of a unit.
    pub(super) fn came_to_bed(&mut self, day: Option<NaiveDate>, unit: Option<&Unit>) {
        let Some(day) = day else { return };
        if let Some(left) = self.left.take()
            && left < day
        {
            self.shelves.push_back((left, day));
            if self.shelves.len() > SHELVES_KEPT {
                self.shelves.pop_front();
            }
        }
        if self.unit.as_ref() != unit {
            if self.unit.is_some() {
                self.since = Some(day);
            }
            self.unit = unit.cloned();
        }
    }

    /// Since when it is in its care unit, where it was in another before.
    pub fn here_since(&self) -> Option<NaiveDate> {
        self.since
    }

    /// The care unit whose air it drew last.
    pub fn unit(&self) -> Option<&Unit> {
        self.unit.as_ref()
    }

    /// Its stays on a shelf, the one that lasts included.
    pub fn shelves(&self) -> Vec<(NaiveDate, NaiveDate)> {
        let now = self.left.map(|left| (left, NaiveDate::MAX));
        self.shelves.iter().copied().chain(now).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 3, 1).unwrap() + chrono::Days::new(day.into())
    }

    fn looked(no: u64, on: u32, finding: Finding, action: Action) -> Looked {
        Looked {
            no: RecordNo(no),
            on: day(on),
            finding,
            action,
        }
    }

    fn spans_of(looks: &FilterLooks) -> Vec<(f64, Option<f64>)> {
        let said = looks.say(&InUse::default(), None);
        said.spans
            .iter()
            .map(|span| (span.after, span.by))
            .collect()
    }

    /// What falls out leaves the age at which the filter was last clean.
    #[test]
    fn the_oldest_look_becomes_what_it_left() {
        let mut looks = FilterLooks::new(Some(day(0)));
        looks.push(looked(1, 7, Finding::Clean, Action::Left));
        for no in 0..LOOKS_KEPT as u64 {
            let (finding, action) = match no {
                0 => (Finding::Dusty, Action::Replaced),
                _ => (Finding::Clean, Action::Left),
            };
            looks.push(looked(2 + no, 14 + no as u32, finding, action));
        }
        assert_eq!(looks.newest.len(), LOOKS_KEPT);
        let going = Going {
            new: day(0),
            clean: day(7),
        };
        assert_eq!(looks.before, Some(going));
        assert_eq!(spans_of(&looks), [(7.0, Some(14.0)), (39.0, None)]);
        // The one that was dirty goes next, and the new filter's life with it is not lost.
        looks.push(looked(99, 60, Finding::Clogged, Action::Left));
        assert_eq!(looks.before, Some(Going::from_new(day(14))));
        assert_eq!(spans_of(&looks), [(39.0, Some(46.0))]);
    }

    #[test]
    fn other_air_and_shelves_are_left_out() {
        let unit = |name: &str| Some(Unit::from(name));
        let mut at = InUse::default();
        at.left_bed(Some(day(0)));
        at.came_to_bed(Some(day(2)), unit("Elm").as_ref());
        assert_eq!(at.here_since(), None, "the first is no change");
        let mut looks = FilterLooks::new(Some(day(0)));
        looks.push(looked(1, 9, Finding::Clean, Action::Left));
        at.left_bed(Some(day(9)));
        at.came_to_bed(Some(day(19)), unit("Elm").as_ref());
        looks.push(looked(2, 26, Finding::Dusty, Action::Replaced));
        let said = looks.say(&at, at.here_since());
        // Two days before its first bed and ten between: clean at 7, dirty at 14 days of use.
        assert_eq!(said.spans.len(), 1);
        assert_eq!((said.spans[0].after, said.spans[0].by), (7.0, Some(14.0)));
        at.came_to_bed(Some(day(30)), unit("Oak").as_ref());
        assert_eq!(at.here_since(), Some(day(30)));
        assert_eq!(looks.say(&at, at.here_since()), Looks::default());
        assert_eq!(looks.say(&at, None).dirty, 1, "the home still has them");
        // On a shelf it does not age.
        at.left_bed(Some(day(31)));
        looks.push(looked(3, 50, Finding::Clean, Action::Left));
        assert_eq!(
            looks.say(&at, None).spans.last().map(|span| span.after),
            Some(5.0)
        );
    }

    proptest! {
        /// In whatever order they come, as long as all are kept.
        #[test]
        fn late_looks_find_their_place(ons in prop::collection::vec(0u32..60, 1..LOOKS_KEPT), turn in 0usize..40) {
            let all: Vec<Looked> = ons.iter().enumerate()
                .map(|(no, on)| looked(no as u64, *on, Finding::ALL[no % 4], Action::ALL[no % 3]))
                .collect();
            let of = |all: &[Looked]| {
                let mut looks = FilterLooks::new(None);
                all.iter().for_each(|look| looks.push(*look));
                looks
            };
            let mut turned = all.clone();
            turned.rotate_left(turn % all.len());
            prop_assert_eq!(spans_of(&of(&all)), spans_of(&of(&turned)));
            let text = serde_json::to_string(&of(&all)).unwrap();
            prop_assert_eq!(serde_json::from_str::<FilterLooks>(&text).unwrap(), of(&all));
        }
    }
}
