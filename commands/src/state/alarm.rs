//! The part of the state that is one open alarm and its ladder.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::duty::{Called, passed_over};
use super::{EndedAlarm, Impossible, State, impossible};
use crate::choice::Cause;
use crate::ids::{AlarmNo, Person, RecordNo, Tag};
use crate::record::{AlarmEnd, Found, Overrun, Record};
use crate::rules::priority::{AlarmKind, Priority};

/// Posts of an alarm's calls that are remembered. Older ones say that it was called again, which stays true.
const CALLS_MOST: usize = 8;

/// Records that one event makes, at most, between a note and an alarm that it opens.
const TOGETHER_MOST: u64 = 16;

/// The key of the post of a rung, of the ladder that began `from` then.
pub(crate) fn rung_key(no: AlarmNo, from: DateTime<Utc>, rung: u32) -> String {
    format!("rung:{no}:{}:{rung}", from.timestamp())
}

/// The key of the post that a ladder begins again with.
pub(crate) fn again_key(no: AlarmNo, restarted: RecordNo) -> String {
    format!("again:{no}:{restarted}")
}

/// The key of the post that it got worse: by the first record of what found that.
pub(crate) fn worse_key(first: RecordNo) -> String {
    format!("worse:{first}")
}

/// The key of the post that what was put right could not be checked.
pub(crate) fn unchecked_key(cause: RecordNo) -> String {
    format!("unchecked:{cause}")
}

/// An open alarm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Alarm {
    /// The surface.
    pub tag: Tag,
    /// What it is, as far as known.
    pub kind: AlarmKind,
    /// By the table.
    pub priority: Priority,
    /// How it came to be known, where nobody heard it.
    #[serde(default)]
    pub found: Option<Found>,
    /// When it began.
    pub opened: DateTime<Utc>,
    /// Who reported it.
    pub by: Option<Person>,
    /// Since when they were let in no more.
    #[serde(default)]
    pub shift_over: Option<DateTime<Utc>>,
    /// What they wrote, if it has not been erased.
    pub note: Option<String>,
    /// Who is on the way, since when.
    pub taken: Option<(Person, DateTime<Utc>)>,
    /// Who was the last to be on the way and is not any more, and since when they were.
    #[serde(default)]
    pub left: Option<(Person, DateTime<Utc>)>,
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
    /// Rungs that were passed over since minute 0, because they had nobody new to ask.
    #[serde(default)]
    pub passed: u32,
    /// Who was called since minute 0.
    #[serde(default)]
    pub called: Called,
    /// The keys of its newest calls in the outbox, the newest last: each comes to say what became of it.
    #[serde(default)]
    pub calls: Vec<String>,
    /// The newest record about it: names each edit of its card.
    pub newest: RecordNo,
}

impl Alarm {
    /// A promise was not kept: the ladder begins again, and whoever was on the way no longer holds it.
    pub(crate) fn begin_again(&mut self, at: DateTime<Utc>, why: Overrun) {
        self.give_up();
        self.ladder_from = at;
        self.rung = 0;
        self.asked = at;
        self.overrun = Some(why);
        self.passed = 0;
        self.called = Called::default();
    }

    /// Whoever was on the way no longer is: the ladder goes on from where it was.
    pub(crate) fn give_up(&mut self) {
        self.left = self.taken.take().or(self.left);
    }

    /// What kept it quiet is over: the ladder begins again, and no promise of before counts.
    pub(crate) fn resume(&mut self, at: DateTime<Utc>) {
        self.give_up();
        self.ladder_from = at;
        self.rung = 0;
        self.asked = at;
        self.passed = 0;
        self.called = Called::default();
    }

    /// It was called out under this key.
    pub(crate) fn call(&mut self, key: String) {
        if self.calls.len() >= CALLS_MOST {
            self.calls.remove(0);
        }
        self.calls.push(key);
    }

    /// A rung was asked. Of the first three each is asked or passed over.
    pub(crate) fn climb(&mut self, at: DateTime<Utc>, rung: u32) {
        self.passed += passed_over(self.rung, rung);
        self.rung = rung;
        self.asked = at;
    }
}

impl State {
    pub(super) fn open_alarm(
        &mut self,
        record: &Record,
        tag: &Tag,
        (kind, priority): (AlarmKind, Priority),
        found: Option<Found>,
        shift_over: Option<DateTime<Utc>>,
    ) -> Result<(), Impossible> {
        let no = AlarmNo(record.no.0);
        if let Some(open) = self.surface_mut(record, tag)?.alarm {
            return Err(impossible(
                record,
                format!("for {tag}, whose alarm {open} is open"),
            ));
        }
        self.remember(record, tag)?.alarm = Some(no);
        let alarm = Alarm {
            tag: tag.clone(),
            kind,
            priority,
            found,
            opened: record.at,
            by: record.who,
            shift_over,
            note: record.note.clone(),
            taken: None,
            left: None,
            safe: None,
            cause: None,
            ladder_from: record.at,
            rung: 0,
            asked: record.at,
            overrun: None,
            passed: 0,
            called: Called::default(),
            calls: Vec::new(),
            newest: record.no,
        };
        self.alarms.insert(no, alarm);
        Ok(())
    }

    pub(super) fn change_alarm(
        &mut self,
        record: &Record,
        no: AlarmNo,
        change: impl FnOnce(&mut Alarm),
    ) -> Result<(), Impossible> {
        let alarm = self
            .alarms
            .get_mut(&no)
            .ok_or_else(|| not_open(record, no))?;
        change(alarm);
        alarm.newest = record.no;
        let tag = alarm.tag.clone();
        self.surface_mut(record, &tag)?.newest = record.no;
        Ok(())
    }

    /// What somebody wrote is not kept any more: an alarm that is open holds a copy.
    pub(super) fn forget_note(&mut self, of: RecordNo, first: RecordNo, tag: Option<&Tag>) {
        for (no, alarm) in &mut self.alarms {
            if is_with(*no, alarm, of, first, tag) {
                alarm.note = None;
            }
        }
    }

    /// The open alarms whose copy goes with what somebody wrote.
    pub(crate) fn noted(
        &self,
        of: RecordNo,
        first: RecordNo,
        tag: Option<&Tag>,
    ) -> impl Iterator<Item = (AlarmNo, &Alarm)> {
        let noted = self.alarms.iter().filter(|(_, alarm)| alarm.note.is_some());
        noted
            .filter(move |(no, alarm)| is_with(**no, alarm, of, first, tag))
            .map(|(no, alarm)| (*no, alarm))
    }

    /// A check that could not be made after what was put right, in the same entry: that was called out too.
    pub(super) fn fix_unchecked(&mut self, record: &Record, tag: &Tag) {
        let open = self.surfaces.get(tag).and_then(|surface| surface.alarm);
        if let Some(alarm) = open.and_then(|no| self.alarms.get_mut(&no))
            && alarm.cause.is_some()
            && alarm.newest >= record.first
        {
            alarm.call(unchecked_key(alarm.newest));
        }
    }

    pub(super) fn close_alarm(
        &mut self,
        record: &Record,
        no: AlarmNo,
        end: AlarmEnd,
        is_at: Option<Tag>,
    ) -> Result<(), Impossible> {
        let alarm = self
            .alarms
            .remove(&no)
            .ok_or_else(|| not_open(record, no))?;
        let surface = self.surface_mut(record, &alarm.tag)?;
        surface.alarm = None;
        surface.last_alarm = Some(EndedAlarm {
            no,
            end,
            at: record.at,
            who: record.who,
            is_at,
        });
        Ok(())
    }
}

fn not_open(record: &Record, no: AlarmNo) -> Impossible {
    impossible(record, format!("names alarm {no}, which is not open"))
}

/// Whether an alarm holds the words of this record, of an entry that began at `first`. What was opened by another event has
/// words of its own, unless nobody could tell them apart.
fn is_with(no: AlarmNo, alarm: &Alarm, of: RecordNo, first: RecordNo, tag: Option<&Tag>) -> bool {
    let with_it = no.0 == of.0 || (no.0 >= first.0 && Some(&alarm.tag) == tag);
    with_it && no.0 < of.0 + TOGETHER_MOST
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use chrono::TimeDelta;

    use super::*;

    /// A second post under a key would never be made.
    #[test]
    fn no_two_calls_have_one_key() {
        let (first, second) = (AlarmNo(1), AlarmNo(11));
        let from = DateTime::UNIX_EPOCH;
        let later = from + TimeDelta::seconds(1);
        let keys = [
            rung_key(first, from, 1),
            rung_key(first, from, 11),
            rung_key(first, later, 1),
            rung_key(second, from, 1),
            again_key(first, RecordNo(5)),
            again_key(first, RecordNo(6)),
            again_key(second, RecordNo(5)),
            worse_key(RecordNo(5)),
            worse_key(RecordNo(6)),
            unchecked_key(RecordNo(5)),
            unchecked_key(RecordNo(6)),
        ];
        let different: BTreeSet<&String> = keys.iter().collect();
        assert_eq!(different.len(), keys.len(), "{keys:?}");
    }

    fn noted(tag: &str) -> Alarm {
        Alarm {
            tag: tag.into(),
            kind: AlarmKind::Unknown,
            priority: Priority::High,
            found: None,
            opened: DateTime::UNIX_EPOCH,
            by: None,
            shift_over: None,
            note: Some("hisses at the foot end".into()),
            taken: None,
            left: None,
            safe: None,
            cause: None,
            ladder_from: DateTime::UNIX_EPOCH,
            rung: 0,
            asked: DateTime::UNIX_EPOCH,
            overrun: None,
            passed: 0,
            called: Called::default(),
            calls: Vec::new(),
            newest: RecordNo(0),
        }
    }

    #[test]
    fn rungs_that_were_passed_over_are_counted_up_to_the_last_new_one() {
        let mut alarm = noted("LW-01");
        let mut passed = |rung| {
            alarm.climb(DateTime::UNIX_EPOCH, rung);
            alarm.passed
        };
        assert_eq!(passed(2), 1, "the first");
        assert_eq!(passed(3), 1);
        assert_eq!(passed(7), 1, "repeats that were missed pass nobody over");
        let mut alarm = noted("LW-01");
        alarm.climb(DateTime::UNIX_EPOCH, 1);
        alarm.climb(DateTime::UNIX_EPOCH, 3);
        assert_eq!(alarm.passed, 1, "the second");
        alarm.resume(DateTime::UNIX_EPOCH);
        alarm.climb(DateTime::UNIX_EPOCH, 3);
        assert_eq!(
            alarm.passed, 2,
            "the first two, of a ladder that began again"
        );
    }

    /// Which of some alarms still have their words once those of record `of` are erased, which began with record `first` and is
    /// about a surface or none.
    fn left_of(alarms: &[(u64, &str)], of: u64, first: u64, tag: Option<&str>) -> Vec<u64> {
        let alarms = alarms.iter().map(|(no, tag)| (AlarmNo(*no), noted(tag)));
        let mut state = State {
            alarms: alarms.collect(),
            ..State::default()
        };
        let tag: Option<Tag> = tag.map(Tag::from);
        state.forget_note(RecordNo(of), RecordNo(first), tag.as_ref());
        let noted = state
            .alarms
            .iter()
            .filter(|(_, alarm)| alarm.note.is_some());
        noted.map(|(no, _)| no.0).collect()
    }

    #[test]
    fn erased_words_are_in_no_open_alarm_and_those_of_others_stay() {
        // Its own.
        assert_eq!(left_of(&[(5, "LW-01"), (6, "LW-02")], 5, 5, None), [6]);
        // The note of what opened it, in the same event.
        let two = [(6, "LW-01"), (7, "LW-02")];
        assert_eq!(left_of(&two, 5, 5, Some("LW-01")), [7]);
        assert_eq!(left_of(&[(4, "LW-01")], 5, 4, Some("LW-01")), [0; 0]);
        assert_eq!(left_of(&two, 5, 5, None), [6, 7]);
        // One that was open before, and one that another event opened long after.
        assert_eq!(left_of(&[(4, "LW-01")], 5, 5, Some("LW-01")), [4]);
        let far = [
            (5 + TOGETHER_MOST - 1, "LW-01"),
            (5 + TOGETHER_MOST, "LW-01"),
        ];
        assert_eq!(left_of(&far, 5, 5, Some("LW-01")), [5 + TOGETHER_MOST]);
    }
}
