//! What of the log a question needs before it has an answer, and how the entries in it stand after what was taken back
//! and corrected. Decides what is wanted and what an entry reads now; leaves reading the log to whoever keeps it: the
//! core remembers nothing of it and asks again with what was read.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, TimeDelta, Utc};

use crate::choice::Action;
use crate::evidence::Span;
use crate::ids::{Bed, Person, RecordNo, Tag};
use crate::record::{Body, Record, Standing};
use crate::rules::zone::Zone;
use crate::state::{CHECKS_KEPT, CheckFact, CleanFact, FilterFact, FilterLooks, Line, Looked};

pub mod stays;

/// How many of their newest entries somebody is offered to correct.
pub const OWN_OFFERED: usize = 25;

/// A part of the log.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wanted {
    /// A record, what was recorded with it, and every later one that is about these.
    Entry(RecordNo),
    /// All that is about a surface, its alarms and what was corrected to be about it included.
    Surface(Tag),
    /// All that is about a bed itself, and about each surface from when it came there until it came elsewhere.
    Bed(Bed),
    /// Somebody's newest entries that can be corrected, at most [`OWN_OFFERED`] of them, with what corrects them.
    Own(Person),
    /// What was entered since this moment about when surfaces were in use: those of [`USE_KINDS`].
    Uses(DateTime<Utc>),
    /// All that happened or was entered in a span of time, and from [`BEFORE`] of it on; what ended its alarms since; of
    /// all the time before, what [`frames`] the work of that span; and every correction. It comes with the log's [`Seal`].
    Span(Span),
}

/// What of the time before a span is read as well: the checks by which those of its first shift are judged.
pub const BEFORE: TimeDelta = TimeDelta::days(2);

/// The kinds of record that say what was due at a later time and what stood where: few beside what they frame.
pub const FRAMES: [&str; 43] = [
    "facility-set",
    "unit-set",
    "unit-dropped",
    "policy-set",
    "policy-asked",
    "ladder-set",
    "ladder-asked",
    "schedule-set",
    "schedule-dropped",
    "beds-approved",
    "product-set",
    "product-dropped",
    "storage-set",
    "wish-asked",
    "wish-ended",
    "profile-set",
    "surface-added",
    "surface-retired",
    "surface-brought-back",
    "placed",
    "released",
    "moved",
    "pulled",
    "repaired",
    "returned",
    "readied",
    "serviced",
    "leave-began",
    "leave-ended",
    "cpr-opened",
    "cpr-over",
    "held",
    "hold-reported",
    "hold-released",
    "recall-opened",
    "recall-joined",
    "frame-set",
    "zones-measured",
    "zones-acted",
    "taken-back",
    "amended",
    "annotated",
    "countersigned",
];

/// What an alarm or a power failure came to: read also where that was after the span.
pub const ALARM_ENDS: [&str; 5] = [
    "alarm-taken",
    "resident-safe",
    "alarm-cause",
    "alarm-closed",
    "outage-ended",
];

/// Whether records of a kind frame the work of a later time.
fn frames(body: &Body) -> bool {
    FRAMES.contains(&body.kind())
}

/// What stood at the end of the log when it was read: whoever keeps it elsewhere can tell later that nothing was altered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seal {
    /// The newest record.
    pub no: RecordNo,
    /// Its hash in hexadecimal, over all the records before it.
    pub hash: String,
}

/// What was read for a part of the log.
#[derive(Clone, Debug, Default)]
pub struct Read {
    /// Its records.
    pub records: Vec<Record>,
    /// The log's seal, where it belongs to the part.
    pub seal: Option<Seal>,
}

impl From<Vec<Record>> for Read {
    fn from(records: Vec<Record>) -> Self {
        Self {
            records,
            seal: None,
        }
    }
}

/// The kinds of record that say when a surface was in use, as [`Body::kind`] names them, and what takes one back.
pub const USE_KINDS: [&str; 8] = [
    "surface-added",
    "surface-retired",
    "placed",
    "released",
    "pulled",
    "readied",
    "pickup-called",
    "taken-back",
];

/// What was read of the log, in the order of the records.
#[derive(Clone, Debug, Default)]
pub struct Past {
    read: BTreeMap<Wanted, Vec<Record>>,
    seal: Option<Seal>,
}

impl Past {
    /// What was read for this; `None` where nobody has looked yet.
    pub fn get(&self, wanted: &Wanted) -> Option<&[Record]> {
        self.read.get(wanted).map(Vec::as_slice)
    }

    /// What was read for this, with each entry that was corrected to be about it: one that was corrected only in the
    /// commit of this moment was not found with the rest.
    ///
    /// # Errors
    /// What must be read first.
    pub fn whole(&self, wanted: &Wanted) -> Result<Cow<'_, [Record]>, Wanted> {
        let Some(read) = self.get(wanted) else {
            return Err(wanted.clone());
        };
        let known = |no: RecordNo| read.binary_search_by_key(&no, |record| record.no).is_ok();
        let mut more = Vec::new();
        for record in read {
            if let Body::Amended { entry, .. } = &record.body
                && !known(*entry)
            {
                let of = Wanted::Entry(*entry);
                more.extend_from_slice(self.get(&of).ok_or(of)?);
            }
        }
        if more.is_empty() {
            return Ok(Cow::Borrowed(read));
        }
        more.extend_from_slice(read);
        more.sort_by_key(|record| record.no);
        more.dedup_by_key(|record| record.no);
        Ok(Cow::Owned(more))
    }

    /// The log's seal, where a part was read that comes with it.
    pub fn seal(&self) -> Option<&Seal> {
        self.seal.as_ref()
    }

    /// This is what the log has for it.
    pub fn put(&mut self, wanted: Wanted, read: impl Into<Read>) {
        let Read { mut records, seal } = read.into();
        self.seal = seal.or(self.seal.take());
        records.sort_by_key(|record| record.no);
        records.dedup_by_key(|record| record.no);
        self.read.insert(wanted, records);
    }
}

impl Wanted {
    /// Adds what is wanted of records that are not in the file yet: those of the same commit. They are newer than all
    /// that was `read`, and a part may be about what another of them began.
    pub fn with_pending<'a, P>(&self, read: &mut Vec<Record>, pending: P)
    where
        P: IntoIterator<Item = &'a Record>,
        P::IntoIter: Clone,
    {
        let pending = pending.into_iter();
        // What one event did belongs together, whichever of it was named.
        let cause = match self {
            Wanted::Entry(no) => pending
                .clone()
                .find(|record| record.no == *no)
                .map(|record| record.first),
            Wanted::Surface(_)
            | Wanted::Bed(_)
            | Wanted::Own(_)
            | Wanted::Uses(_)
            | Wanted::Span(_) => None,
        };
        // An entry may have been corrected to have happened in the span.
        let corrected: BTreeSet<RecordNo> = match self {
            Wanted::Span(_) => pending
                .clone()
                .filter_map(|record| record.body.amends())
                .collect(),
            Wanted::Entry(_)
            | Wanted::Surface(_)
            | Wanted::Bed(_)
            | Wanted::Own(_)
            | Wanted::Uses(_) => BTreeSet::new(),
        };
        for record in pending {
            let corrected = corrected.contains(&record.no);
            if cause == Some(record.first) || corrected || self.fits(record, read) {
                read.push(record.clone());
            }
        }
    }

    fn fits(&self, record: &Record, read: &[Record]) -> bool {
        let known = |no: RecordNo| read.iter().any(|earlier| earlier.no == no);
        let amends_known = record.body.amends().is_some_and(known);
        match self {
            Wanted::Entry(_) => amends_known,
            Wanted::Surface(tag) => {
                let alarm = record.body.alarm().map(|alarm| RecordNo(alarm.0));
                is_about(&record.body, tag) || alarm.is_some_and(known) || amends_known
            }
            Wanted::Bed(bed) => {
                let alarm = record.body.alarm().map(|alarm| RecordNo(alarm.0));
                let there = |tag: &Tag| read.iter().any(|earlier| is_about(&earlier.body, tag));
                record.body.beds().contains(bed)
                    || record.body.surface().is_some_and(there)
                    || corrected_to(&record.body).is_some_and(there)
                    || alarm.is_some_and(known)
                    || amends_known
            }
            Wanted::Uses(since) => {
                record.entered >= *since && USE_KINDS.contains(&record.body.kind())
            }
            Wanted::Own(who) => {
                (record.who == Some(*who) && record.body.can_be_corrected()) || amends_known
            }
            Wanted::Span(span) => {
                let inside = record.entered >= span.from - BEFORE
                    && (record.entered < span.to + BEFORE
                        || record.at < span.to + BEFORE
                        || ALARM_ENDS.contains(&record.body.kind()));
                inside || frames(&record.body)
            }
        }
    }
}

/// Whether a record is about this surface, as it was entered or as it was corrected.
fn is_about(body: &Body, tag: &Tag) -> bool {
    corrected_to(body) == Some(tag) || body.surface() == Some(tag)
}

/// The surface that an entry is about as it was corrected.
fn corrected_to(body: &Body) -> Option<&Tag> {
    if let Body::Amended { now: Some(now), .. } = body {
        return now.surface();
    }
    None
}

/// An entry as it stands.
#[derive(Clone, Debug)]
pub struct Entry<'a> {
    /// As it was entered.
    pub record: &'a Record,
    /// As it reads now; `None` where it was entered by mistake.
    pub body: Option<&'a Body>,
    /// When it happened, as it reads now.
    pub at: DateTime<Utc>,
    /// What corrected it, in order.
    pub amended: Vec<&'a Record>,
    /// Remarks on it, and who signed it beside its author.
    pub remarks: Vec<&'a Record>,
    /// What took it back.
    pub taken_back: Option<&'a Record>,
}

impl<'a> Entry<'a> {
    /// As it reads now, where it counts: neither taken back nor entered by mistake.
    pub fn counts(&self) -> Option<&'a Body> {
        self.body.filter(|_| self.taken_back.is_none())
    }

    /// How it read before its newest correction but `back` more, and when it had happened.
    pub fn before(&self, back: usize) -> (Option<&'a Body>, DateTime<Utc>) {
        let Some(place) = self.amended.len().checked_sub(back + 1) else {
            return (Some(&self.record.body), self.record.at);
        };
        if let Some(Body::Amended { now, happened, .. }) =
            place.checked_sub(1).map(|place| &self.amended[place].body)
        {
            (now.as_deref(), *happened)
        } else {
            (Some(&self.record.body), self.record.at)
        }
    }

    /// Whether a remark on it was taken back.
    pub fn unremarked(&self, remark: RecordNo) -> bool {
        self.remarks.iter().any(|record| {
            matches!(record.body, Body::Annotated { undoes: Some(no), .. } if no == remark)
        })
    }

    /// The newest record about it, itself included: what a card about it has seen.
    pub fn newest(&self) -> RecordNo {
        let later = self.amended.iter().chain(&self.remarks);
        later
            .map(|record| record.no)
            .max()
            .unwrap_or(self.record.no)
    }
}

/// What lies ahead of something that was entered later was recorded by a clock that was ahead and has been put right since: in a
/// copy of the records it is put where it cannot be newer than what came after it. The state does the same with what it keeps.
pub fn behind_the_later(records: &mut [Record], now: DateTime<Utc>) {
    let mut latest = now;
    for record in records.iter_mut().rev() {
        record.at = record.at.min(latest);
        if let Body::Amended { happened, .. } = &mut record.body {
            *happened = (*happened).min(latest);
        }
        latest = latest.min(record.entered);
    }
}

/// The entries of these records, in their order, each with what was said about it later. What only corrects, remarks on
/// or takes back another is no entry of its own.
pub fn entries(records: &[Record]) -> Vec<Entry<'_>> {
    let mut all: Vec<Entry<'_>> = Vec::new();
    let mut place: BTreeMap<RecordNo, usize> = BTreeMap::new();
    for record in records {
        let known = |no: &RecordNo| place.get(no).copied();
        if let Body::Amended {
            entry,
            now,
            happened,
            ..
        } = &record.body
        {
            if let Some(entry) = known(entry).and_then(|place| all.get_mut(place)) {
                entry.body = now.as_deref();
                entry.at = *happened;
                entry.amended.push(record);
            }
        } else if let Body::Annotated { entry, .. } | Body::Countersigned { entry, .. } =
            &record.body
        {
            if let Some(entry) = known(entry).and_then(|place| all.get_mut(place)) {
                entry.remarks.push(record);
            }
        } else if let Body::TakenBack { first, tag, .. } = &record.body {
            let back = all.iter_mut().rev().filter(|entry| {
                entry.record.first == *first
                    && entry.record.body.surface().is_none_or(|of| of == tag)
            });
            back.for_each(|entry| entry.taken_back = Some(record));
        } else {
            place.insert(record.no, all.len());
            all.push(Entry {
                record,
                body: Some(&record.body),
                at: record.at,
                amended: Vec::new(),
                remarks: Vec::new(),
                taken_back: None,
            });
        }
    }
    all
}

/// The newest checks of a surface that count, oldest first, as many as the state keeps. `told` says of one which record
/// called a nurse for it.
pub fn checks(entries: &[Entry<'_>], tag: &Tag) -> Vec<CheckFact> {
    let mut checks: Vec<CheckFact> = entries
        .iter()
        .filter_map(|entry| {
            let Body::HandChecked {
                tag: of,
                air,
                judged,
                from_paper,
                ..
            } = entry.counts()?
            else {
                return None;
            };
            (of == tag).then_some(CheckFact {
                no: entry.record.no,
                at: entry.at,
                who: entry.record.who,
                air: *air,
                judged: *judged,
                from_paper: *from_paper,
                told: None,
            })
        })
        .collect();
    checks.sort_by_key(|check| (check.at, check.no));
    checks.split_off(checks.len().saturating_sub(CHECKS_KEPT))
}

/// The line of a surface's readings, as it stands.
pub fn line(entries: &[Entry<'_>], tag: &Tag) -> Line {
    let mut line = Line::default();
    let mut in_use: Option<&str> = None;
    for entry in entries {
        let Some(body) = entry.counts().filter(|body| body.surface() == Some(tag)) else {
            continue;
        };
        line.follow(body, (entry.record.who, entry.at), in_use);
        if let Body::SettingSet { setting, .. } = body {
            in_use = Some(setting);
        } else if let Body::Placed { .. } | Body::Released { .. } = body {
            in_use = None;
        }
    }
    line
}

/// The looks at a surface's filter that count, oldest first.
pub fn looks(entries: &[Entry<'_>], tag: &Tag) -> Vec<FilterFact> {
    let mut found: Vec<FilterFact> = entries
        .iter()
        .filter_map(|entry| {
            let Body::FilterLooked {
                tag: of,
                finding,
                action,
                next,
            } = entry.counts()?
            else {
                return None;
            };
            (of == tag).then_some(FilterFact {
                no: entry.record.no,
                at: entry.at,
                finding: *finding,
                action: *action,
                next: *next,
            })
        })
        .collect();
    found.sort_by_key(|look| (look.at, look.no));
    found
}

/// What stands of a surface's filter: the newest look that counts, the day it was last changed or rinsed, or came in, the day it was
/// last changed, and the looks that are kept.
pub fn filter(entries: &[Entry<'_>], tag: &Tag, zone: &Zone) -> Standing {
    let mut found = looks(entries, tag);
    let came = entries.iter().find_map(|entry| {
        let Body::SurfaceAdded {
            tag: of,
            filter_changed,
            ..
        } = &entry.record.body
        else {
            return None;
        };
        filter_changed.filter(|_| of == tag)
    });
    let mut looks = FilterLooks::new(came);
    let (mut changed, mut new) = (came, came);
    for look in &found {
        let on = zone.local(look.at).date();
        if look.action != Action::Left {
            changed = Some(on);
        }
        if look.action == Action::Replaced {
            new = Some(on);
        }
        looks.push(Looked {
            no: look.no,
            on,
            finding: look.finding,
            action: look.action,
        });
    }
    Standing::Filter {
        last: found.pop(),
        changed,
        new: new.into(),
        looks: Some(looks),
    }
}

/// The newest cleaning of a surface that counts.
pub fn cleaned(entries: &[Entry<'_>], tag: &Tag) -> Option<CleanFact> {
    entries
        .iter()
        .filter_map(|entry| {
            let Body::Cleaned {
                tag: of,
                reason,
                method,
                product,
                cover,
            } = entry.counts()?
            else {
                return None;
            };
            let clean = CleanFact {
                at: entry.at,
                reason: *reason,
                method: *method,
                product: product.clone(),
                cover: *cover,
            };
            (of == tag).then_some((entry.record.no, clean))
        })
        .max_by_key(|(no, clean)| (clean.at, *no))
        .map(|(_, clean)| clean)
}

/// What now stands of a surface, in the part of it that an entry of this kind is about; nothing for other kinds.
pub fn stand(entries: &[Entry<'_>], tag: &Tag, kind: &Body, zone: &Zone) -> Option<Standing> {
    if matches!(kind, Body::HandChecked { .. }) {
        let newest = checks(entries, tag);
        let line = line(entries, tag).readings().to_vec();
        Some(Standing::Checks { newest, line })
    } else if matches!(kind, Body::FilterLooked { .. }) {
        Some(filter(entries, tag, zone))
    } else if matches!(kind, Body::Cleaned { .. }) {
        let last = cleaned(entries, tag);
        Some(Standing::Cleaned { last })
    } else {
        None
    }
}

/// Where a surface was under a bed, and where under none: from which record on.
pub fn beds_of<'a>(records: &'a [Record], tag: &Tag) -> Vec<(RecordNo, Option<&'a Bed>)> {
    // Each change with the event that made it, so that taking the event back undoes it.
    let mut changes: Vec<(RecordNo, Option<&Bed>)> = Vec::new();
    let mut beds = Vec::new();
    for record in records {
        if record.body.surface() != Some(tag) {
            continue;
        }
        let now = if let Body::Placed { bed, .. } | Body::Moved { bed, .. } = &record.body {
            changes.push((record.first, Some(bed)));
            Some(bed)
        } else if let Body::Released { .. } | Body::SurfaceRetired { .. } = &record.body {
            changes.push((record.first, None));
            None
        } else if let Body::TakenBack { first, .. } = &record.body {
            changes.retain(|(of, _)| of != first);
            changes.last().and_then(|(_, bed)| *bed)
        } else {
            continue;
        };
        beds.push((record.no, now));
    }
    beds
}

/// The bed that a surface was under when this number was the newest.
pub fn bed_at<'a>(beds: &[(RecordNo, Option<&'a Bed>)], no: RecordNo) -> Option<&'a Bed> {
    beds.iter()
        .rfind(|(since, _)| *since <= no)
        .and_then(|(_, bed)| *bed)
}
