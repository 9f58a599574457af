//! Where each surface was, and when nobody lay on it or it was out of service. Decides when a check could have been asked for;
//! leaves which were to `coverage`.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};

use super::Span;
use crate::ids::{Bed, ProfileName, Tag};
use crate::past::Entry;
use crate::record::Body;

/// Where one surface was.
#[derive(Debug, Default)]
pub struct Place<'a> {
    /// What it needs, by its newest entry in the register.
    pub profile: Option<&'a ProfileName>,
    /// Under which bed, in order.
    pub stays: Vec<(Span, &'a Bed)>,
    /// When nobody lay on it: leave, an opened CPR valve; or it was out of service.
    pub exempt: Stretches,
}

/// Stretches of time in order, none touching another.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Stretches(Vec<Span>);

impl Stretches {
    /// Adds one; what touches becomes one.
    pub fn add(&mut self, new: Span) {
        if new.from >= new.to {
            return;
        }
        let mut new = new;
        self.0.retain(|old| {
            let apart = old.to < new.from || new.to < old.from;
            if !apart {
                new.from = new.from.min(old.from);
                new.to = new.to.max(old.to);
            }
            apart
        });
        let place = self.0.partition_point(|old| old.from < new.from);
        self.0.insert(place, new);
    }

    /// How much of a span they cover.
    #[must_use]
    pub fn within(&self, span: Span) -> TimeDelta {
        let both = self.0.iter().filter_map(|one| one.and(span));
        both.map(|both| both.to - both.from).sum()
    }

    /// Whether a moment is in one of them.
    #[must_use]
    pub fn has(&self, at: DateTime<Utc>) -> bool {
        self.0.iter().any(|one| one.has(at))
    }
}

impl<'a> Place<'a> {
    /// The bed it was under.
    pub fn bed_at(&self, at: DateTime<Utc>) -> Option<&'a Bed> {
        self.stays
            .iter()
            .find(|(span, _)| span.has(at))
            .map(|(_, bed)| *bed)
    }

    /// For how long of a span it lay in service under an occupied bed, and under which for the longest.
    pub fn occupied(&self, span: Span) -> Option<(TimeDelta, &'a Bed)> {
        let mut whole = TimeDelta::zero();
        let mut most: Option<(TimeDelta, &Bed)> = None;
        for (stay, bed) in &self.stays {
            let Some(both) = stay.and(span) else { continue };
            let lasted = both.to - both.from - self.exempt.within(both);
            whole += lasted;
            if most.is_none_or(|(before, _)| before < lasted) {
                most = Some((lasted, bed));
            }
        }
        most.map(|(_, bed)| (whole, bed))
    }

    /// Whether it lay in service under an occupied bed.
    pub fn occupied_at(&self, at: DateTime<Utc>) -> bool {
        self.bed_at(at).is_some() && !self.exempt.has(at)
    }
}

/// Something that changes where a surface is.
#[derive(Default)]
struct Going<'a> {
    place: Place<'a>,
    bed: Option<(DateTime<Utc>, &'a Bed)>,
    out: Option<DateTime<Utc>>,
    leave: Option<Span>,
    valve: Option<DateTime<Utc>>,
}

impl<'a> Going<'a> {
    fn leaves_bed(&mut self, at: DateTime<Utc>) {
        if let Some((from, bed)) = self.bed.take() {
            let span = Span { from, to: at };
            self.place.stays.push((span, bed));
        }
    }

    fn leave_ends(&mut self, at: DateTime<Utc>) {
        if let Some(leave) = self.leave.take() {
            let to = leave.to.min(at);
            self.place.exempt.add(Span { to, ..leave });
        }
    }

    fn back_in_service(&mut self, at: DateTime<Utc>) {
        if let Some(from) = self.out.take() {
            self.place.exempt.add(Span { from, to: at });
        }
    }

    fn valve_closed(&mut self, at: DateTime<Utc>) {
        if let Some(from) = self.valve.take() {
            self.place.exempt.add(Span { from, to: at });
        }
    }

    fn takes(&mut self, at: DateTime<Utc>, body: &'a Body) {
        match body {
            Body::SurfaceAdded { profile, .. } => self.place.profile = Some(profile),
            Body::Placed { bed, .. } => {
                self.leaves_bed(at);
                self.leave_ends(at);
                self.back_in_service(at);
                self.bed = Some((at, bed));
            }
            Body::Moved { bed, .. } => {
                self.leaves_bed(at);
                self.bed = Some((at, bed));
            }
            Body::Released { .. } | Body::SurfaceRetired { .. } => {
                self.leaves_bed(at);
                self.leave_ends(at);
                self.valve_closed(at);
            }
            Body::Pulled { .. } => {
                self.out.get_or_insert(at);
            }
            Body::Returned { .. } | Body::Readied { .. } => self.back_in_service(at),
            Body::LeaveBegan { until, .. } => {
                self.leave_ends(at);
                self.leave = Some(Span {
                    from: at,
                    to: *until,
                });
            }
            Body::LeaveEnded { .. } => self.leave_ends(at),
            Body::CprOpened { .. } => {
                self.valve.get_or_insert(at);
            }
            Body::CprOver { .. } => self.valve_closed(at),
            _ => {}
        }
    }
}

/// Where each surface was, by what counts, in the order in which it happened.
pub(super) fn all<'a>(entries: &[Entry<'a>]) -> BTreeMap<&'a Tag, Place<'a>> {
    let mut events: Vec<(&Entry<'a>, &'a Body)> = entries
        .iter()
        .filter_map(|entry| Some((entry, entry.counts()?)))
        .filter(|(_, body)| body.surface().is_some())
        .collect();
    events.sort_by_key(|(entry, _)| (entry.at, entry.record.no));
    let mut going: BTreeMap<&Tag, Going<'_>> = BTreeMap::new();
    for (entry, body) in events {
        if let Some(tag) = body.surface() {
            going.entry(tag).or_default().takes(entry.at, body);
        }
    }
    let ended = |(tag, mut of): (&'a Tag, Going<'a>)| {
        let never = DateTime::<Utc>::MAX_UTC;
        of.leaves_bed(never);
        of.leave_ends(never);
        of.back_in_service(never);
        of.valve_closed(never);
        (tag, of.place)
    };
    going.into_iter().map(ended).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(minute: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(minute * 60, 0).unwrap()
    }

    fn span((from, to): (i64, i64)) -> Span {
        Span {
            from: at(from),
            to: at(to),
        }
    }

    proptest! {
        /// As minutes that are ticked off one by one.
        #[test]
        fn stretches_are_minutes(all in prop::collection::vec((0i64..60, 0i64..60), 0..8), of in (0i64..60, 0i64..60)) {
            let mut stretches = Stretches::default();
            let mut ticked = [false; 60];
            for (from, to) in all {
                stretches.add(span((from, to)));
                (from..to).for_each(|minute| ticked[minute as usize] = true);
            }
            let of = (of.0.min(of.1), of.0.max(of.1));
            let wanted = (of.0..of.1).filter(|minute| ticked[*minute as usize]).count() as i64;
            prop_assert_eq!(stretches.within(span(of)), TimeDelta::minutes(wanted));
            for minute in 0..60 {
                prop_assert_eq!(stretches.has(at(minute)), ticked[minute as usize]);
            }
            prop_assert!(stretches.0.is_sorted_by(|a, b| a.to < b.from));
        }
    }
}
