//! What else a survey asks for, each from its beginning to its end: low readings and what followed, placements with their
//! checklists, surfaces out of service and back, holds, power failures. Decides which entries belong together.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, Utc};

use super::{AlarmStory, Evidence};
use crate::choice::{Opening, Outcome, Paper, Step, Work};
use crate::ids::{AlarmNo, OutageNo, RecordNo, Tag, Unit};
use crate::past::Entry;
use crate::record::{Body, Fault};
use crate::role::Role;
use crate::rules::hand_check::{Air, Band, Judgement};
use crate::state::{Mark, Steps};

/// A reading under the limit.
#[derive(Clone, Debug, PartialEq)]
pub struct LowReading<'a> {
    /// Its record.
    pub no: RecordNo,
    /// When.
    pub at: DateTime<Utc>,
    /// The role that took it.
    pub by: Role,
    /// The surface.
    pub tag: &'a Tag,
    /// The unit that it lay in.
    pub unit: Option<&'a Unit>,
    /// The reading.
    pub air: Air,
    /// The band it was judged by.
    pub band: Band,
    /// Low, or bottomed out.
    pub judged: Judgement,
    /// What followed on the same bed, in order.
    pub followed: Vec<(DateTime<Utc>, Followed)>,
}

/// What followed on a low reading.
#[derive(Clone, Debug, PartialEq)]
pub enum Followed {
    /// The next check.
    Checked(Air, Band, Judgement),
    /// An alarm that was open then, or began with it.
    Alarm(AlarmNo),
    /// It was taken out of service.
    Pulled(Fault),
    /// It was released from the bed.
    Released,
}

/// A surface that came under a bed, with its checklist.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUpStory<'a> {
    /// The record that placed it.
    pub no: RecordNo,
    /// When.
    pub at: DateTime<Utc>,
    /// The role that placed it.
    pub by: Role,
    /// The surface.
    pub tag: &'a Tag,
    /// The bed.
    pub bed: &'a crate::ids::Bed,
    /// It came with the resident aboard.
    pub moved: bool,
    /// The checklist as it was when the surface left the bed, or is; none where none was opened.
    pub steps: Option<Steps>,
    /// When nothing was left on it.
    pub complete: Option<DateTime<Utc>>,
    /// Papers that were done without, and what was said to it.
    pub waived: Option<(Vec<Paper>, Option<&'a str>)>,
    /// When it left the bed.
    pub left: Option<DateTime<Utc>>,
}

/// A surface that went out of service.
#[derive(Clone, Debug, PartialEq)]
pub struct OutStory<'a> {
    /// The record that took it out.
    pub no: RecordNo,
    /// When.
    pub at: DateTime<Utc>,
    /// The surface.
    pub tag: &'a Tag,
    /// Why.
    pub fault: Fault,
    /// Repaired, or found whole.
    pub repaired: Option<DateTime<Utc>>,
    /// The safety test after it: the day, and how it came out.
    pub tested: Option<(NaiveDate, Outcome)>,
    /// It might go back into service.
    pub returned: Option<DateTime<Utc>>,
    /// Clean, whole, working again.
    pub ready: Option<DateTime<Utc>>,
}

/// A surface that was kept for an inquiry.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldStory<'a> {
    /// The record that began it.
    pub no: RecordNo,
    /// When.
    pub at: DateTime<Utc>,
    /// The surface.
    pub tag: &'a Tag,
    /// When the report was entered as made.
    pub reported: Option<DateTime<Utc>>,
    /// When it was released.
    pub ended: Option<DateTime<Utc>>,
}

/// A unit without power.
#[derive(Clone, Debug, PartialEq)]
pub struct OutageStory<'a> {
    /// Which.
    pub no: OutageNo,
    /// When.
    pub at: DateTime<Utc>,
    /// The unit.
    pub unit: &'a Unit,
    /// How many surfaces were to be looked at.
    pub surfaces: usize,
    /// How many were looked at.
    pub seen: usize,
    /// When power was back.
    pub ended: Option<DateTime<Utc>>,
}

impl<'a> Evidence<'a> {
    /// What is about each surface, in the order in which it happened.
    fn by_surface(&self) -> BTreeMap<&'a Tag, Vec<(&Entry<'a>, &'a Body)>> {
        let mut all: BTreeMap<&Tag, Vec<_>> = BTreeMap::new();
        for (entry, body) in self.all_counting() {
            if let Some(tag) = body.surface() {
                all.entry(tag).or_default().push((entry, body));
            }
        }
        all
    }

    /// Low readings and what followed.
    #[must_use]
    pub fn low_readings(&self, alarms: &[AlarmStory<'a>]) -> Vec<LowReading<'a>> {
        let mut all = Vec::new();
        for (tag, story) in self.by_surface() {
            for (nth, (entry, body)) in story.iter().enumerate() {
                let Body::HandChecked {
                    air, judged, band, ..
                } = body
                else {
                    continue;
                };
                let low = matches!(judged, Judgement::Low | Judgement::BottomedOut);
                if !low || !self.span.has(entry.at) {
                    continue;
                }
                let mut followed = after_low(&story[nth + 1..]);
                let until = followed.last().map_or(self.now, |(at, _)| *at);
                let open = |alarm: &&AlarmStory<'_>| {
                    let over = alarm.over.is_some_and(|(over, _)| over <= entry.at);
                    alarm.tag == tag && alarm.opened <= until && !over
                };
                followed.extend(
                    alarms
                        .iter()
                        .filter(open)
                        .map(|alarm| (alarm.opened, Followed::Alarm(alarm.no))),
                );
                followed.sort_by_key(|(at, _)| *at);
                all.push(LowReading {
                    no: entry.record.no,
                    at: entry.at,
                    by: entry.record.role,
                    tag,
                    unit: self.unit_at(tag, entry.at),
                    air: *air,
                    band: *band,
                    judged: *judged,
                    followed,
                });
            }
        }
        all.sort_by_key(|reading| (reading.at, reading.no));
        all
    }

    /// Surfaces that came under a bed in the period, with their checklists. One that came into the register with its bed lay there
    /// already: nobody set it up then.
    #[must_use]
    pub fn set_ups(&self) -> Vec<SetUpStory<'a>> {
        let mut all = Vec::new();
        for (tag, story) in self.by_surface() {
            for (nth, (entry, body)) in story.iter().enumerate() {
                let (bed, moved) = match body {
                    Body::Placed { bed, .. } => (bed, false),
                    Body::Moved { bed, .. } => (bed, true),
                    _ => continue,
                };
                let brought = nth.checked_sub(1).is_some_and(|before| {
                    let (added, body) = story[before];
                    matches!(body, Body::SurfaceAdded { .. }) && added.at == entry.at
                });
                if brought || !self.span.has(entry.at) {
                    continue;
                }
                let mut set_up = SetUpStory {
                    no: entry.record.no,
                    at: entry.at,
                    by: entry.record.role,
                    tag,
                    bed,
                    moved,
                    steps: None,
                    complete: None,
                    waived: None,
                    left: None,
                };
                for (entry, body) in &story[nth + 1..] {
                    if !set_up.takes(entry, body) {
                        break;
                    }
                }
                all.push(set_up);
            }
        }
        all.sort_by_key(|set_up| (set_up.at, set_up.no));
        all
    }

    /// Surfaces that went out of service in the period.
    #[must_use]
    pub fn outs(&self) -> Vec<OutStory<'a>> {
        let mut all = Vec::new();
        for (tag, story) in self.by_surface() {
            for (nth, (entry, body)) in story.iter().enumerate() {
                let Body::Pulled { fault, .. } = body else {
                    continue;
                };
                if !self.span.has(entry.at) {
                    continue;
                }
                let mut out = OutStory {
                    no: entry.record.no,
                    at: entry.at,
                    tag,
                    fault: *fault,
                    repaired: None,
                    tested: None,
                    returned: None,
                    ready: None,
                };
                for (entry, body) in &story[nth + 1..] {
                    match body {
                        Body::Repaired { .. } => out.repaired = Some(entry.at),
                        Body::Serviced {
                            work: Work::SafetyTest,
                            outcome,
                            on,
                            ..
                        } => out.tested = Some((*on, *outcome)),
                        Body::Returned { .. } => out.returned = Some(entry.at),
                        Body::Readied { .. } => out.ready = Some(entry.at),
                        _ => {}
                    }
                    if out.ready.is_some()
                        || matches!(body, Body::Placed { .. } | Body::Pulled { .. })
                    {
                        break;
                    }
                }
                all.push(out);
            }
        }
        all.sort_by_key(|out| (out.at, out.no));
        all
    }

    /// Surfaces that were kept for an inquiry in the period, also where that began before.
    #[must_use]
    pub fn holds(&self) -> Vec<HoldStory<'a>> {
        let mut all: Vec<HoldStory<'a>> = Vec::new();
        for (entry, body) in self.all_counting() {
            if let Body::Held { tag, .. } = body {
                // Said again, it is the same hold, counted from another day.
                let open = |hold: &&HoldStory<'_>| hold.tag == tag && hold.ended.is_none();
                if all.iter().any(|hold| open(&hold)) {
                    continue;
                }
                all.push(HoldStory {
                    no: entry.record.no,
                    at: entry.at,
                    tag,
                    reported: None,
                    ended: None,
                });
                continue;
            }
            let Some(tag) = body.surface() else { continue };
            let of = all
                .iter_mut()
                .rev()
                .find(|hold| hold.tag == tag && hold.ended.is_none());
            if let Some(hold) = of {
                match body {
                    Body::HoldReported { .. } => hold.reported = Some(entry.at),
                    Body::HoldReleased { .. } => hold.ended = Some(entry.at),
                    _ => {}
                }
            }
        }
        all.retain(|hold| {
            hold.at < self.span.to && hold.ended.is_none_or(|ended| ended >= self.span.from)
        });
        all
    }

    /// Power failures that began in the period.
    #[must_use]
    pub fn outages(&self) -> Vec<OutageStory<'a>> {
        let mut all: Vec<OutageStory<'a>> = Vec::new();
        let mut seen: BTreeMap<OutageNo, std::collections::BTreeSet<&Tag>> = BTreeMap::new();
        for (entry, body) in self.all_counting() {
            match body {
                Body::OutageOpened { unit, order, .. } if self.span.has(entry.at) => {
                    all.push(OutageStory {
                        no: OutageNo(entry.record.no.0),
                        at: entry.at,
                        unit,
                        surfaces: order.len(),
                        seen: 0,
                        ended: None,
                    });
                }
                Body::OutageSeen { outage, tag, .. } => {
                    seen.entry(*outage).or_default().insert(tag);
                }
                Body::OutageEnded { outage } => {
                    if let Some(of) = all.iter_mut().find(|of| of.no == *outage) {
                        of.ended = Some(entry.at);
                    }
                }
                _ => {}
            }
        }
        for outage in &mut all {
            outage.seen = seen
                .get(&outage.no)
                .map_or(0, std::collections::BTreeSet::len);
        }
        all
    }
}

/// What followed on a low reading until somebody looked again, or the surface went.
fn after_low(story: &[(&Entry<'_>, &Body)]) -> Vec<(DateTime<Utc>, Followed)> {
    let mut followed = Vec::new();
    for (entry, body) in story {
        let (what, last) = match body {
            Body::HandChecked {
                air, judged, band, ..
            } => {
                let looked = *judged != Judgement::CouldNot;
                (Followed::Checked(*air, *band, *judged), looked)
            }
            Body::Pulled { fault, .. } => (Followed::Pulled(*fault), false),
            Body::Released { .. } | Body::SurfaceRetired { .. } => (Followed::Released, true),
            _ => continue,
        };
        followed.push((entry.at, what));
        if last {
            break;
        }
    }
    followed
}

impl<'a> SetUpStory<'a> {
    /// Takes what came next; `false` where it left the bed.
    fn takes(&mut self, entry: &Entry<'a>, body: &'a Body) -> bool {
        let mark = Mark {
            who: entry.record.who,
            at: entry.at,
        };
        match body {
            Body::StepsOpened { opening, steps, .. } => {
                // What came later, such as a power failure, has a list of its own.
                let ours = matches!(opening, Opening::Placed | Opening::Moved);
                if ours || self.steps.as_ref().is_some_and(|open| !open.complete()) {
                    let open = self.steps.as_ref().filter(|open| !open.complete());
                    let (no, since) = (entry.record.no, entry.at);
                    self.steps = Some(Steps::opened(no, since, *opening, steps.clone(), open));
                    self.complete = None;
                }
            }
            Body::StepsDone { steps: done, .. } => {
                if let Some(steps) = &mut self.steps {
                    steps.tick(done, mark);
                    if steps.complete() {
                        self.complete.get_or_insert(entry.at);
                    }
                }
            }
            Body::StepMissed { step, .. } => {
                if let Some(steps) = &mut self.steps {
                    steps.miss(*step, mark);
                    self.complete = None;
                }
            }
            Body::PaperWaived { papers, .. } => {
                self.waived = Some((papers.clone(), entry.record.note.as_deref()));
            }
            Body::Placed { .. }
            | Body::Moved { .. }
            | Body::Released { .. }
            | Body::SurfaceRetired { .. } => {
                self.left = Some(entry.at);
                return false;
            }
            _ => {}
        }
        true
    }

    /// When rails and gaps were looked at again; `None` where that was not asked for.
    #[must_use]
    pub fn rails(&self) -> Option<Option<DateTime<Utc>>> {
        let steps = self.steps.as_ref()?;
        let done = steps.done.get(&Step::Rails).map(|mark| mark.at);
        (done.is_some() || steps.wanted.contains(&Step::Rails)).then_some(done)
    }
}
