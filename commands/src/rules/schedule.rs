//! When a repeated post is due: a pattern of local times, and the slots of it that have come.
//!
//! Patterns are evaluated in naive local time, as if it were UTC, and each naive time is then mapped to
//! its one instant by `zone`: evaluated in a zone, the `cron` crate skips, repeats or goes back at clock
//! changes. A slot is known by its naive time, so that it fires once, and stepping goes from the last
//! fired slot and never from now. How to read a pattern is in `pattern`; posting is left to the caller.

use std::collections::VecDeque;

use chrono::{DateTime, NaiveDateTime, Timelike, Utc};

use super::zone::Zone;

pub use super::pattern::{DAY_WORDS, LEAST_SPACING_MINUTES, Pattern, PatternFault};

/// How many of the next firings are shown back to whoever sets a schedule.
const SHOWN_BACK: usize = 5;

/// One firing: its local time, which is its key, and its instant.
pub type Slot = (NaiveDateTime, DateTime<Utc>);

/// What has come due since the last slot fired, and what comes next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slots {
    /// Slots that have come and were not fired, oldest first; the newest ones where there were too many.
    pub due: Vec<Slot>,
    /// How many older ones were left out of `due`.
    pub left_out: usize,
    /// The next slot after now; `None` where the pattern ends.
    pub next: Option<Slot>,
}

impl Pattern {
    /// The first firing strictly after a local time; `None` where the pattern has no more (the library's
    /// years end with 2100).
    #[must_use]
    pub fn next(&self, after: NaiveDateTime) -> Option<NaiveDateTime> {
        // Fractions of a second would be lost in the library; slots are on whole seconds anyway.
        let after = after.with_nanosecond(0).unwrap_or(after).and_utc();
        self.schedules()
            .iter()
            .filter_map(|schedule| schedule.after(&after).next())
            .map(|at| at.naive_utc())
            .min()
    }

    /// The slots after `last_fired` that have come by `now`, at most the newest `limit` of them, and
    /// the next one.
    ///
    /// A slot in a spring gap comes at the first moment after the gap; one in an autumn overlap at the
    /// first of its two moments. Two slots in one gap come at the same instant and stay two slots.
    #[must_use]
    pub fn slots_between(
        &self,
        last_fired: NaiveDateTime,
        now: DateTime<Utc>,
        zone: &Zone,
        limit: usize,
    ) -> Slots {
        let mut due = VecDeque::new();
        let mut left_out = 0;
        let mut naive = last_fired;
        let next = loop {
            let Some(slot) = self.next(naive) else {
                break None;
            };
            let at = zone.instant(slot);
            if at > now {
                break Some((slot, at));
            }
            due.push_back((slot, at));
            if due.len() > limit {
                due.pop_front();
                left_out += 1;
            }
            naive = slot;
        };
        Slots {
            due: due.into(),
            left_out,
            next,
        }
    }

    /// The local time to count from for a pattern that begins now: nothing that has already come is due.
    ///
    /// In the second pass of an autumn overlap this is later than the local time, since the slots of that
    /// hour came in the first pass.
    #[must_use]
    pub fn start(&self, now: DateTime<Utc>, zone: &Zone) -> NaiveDateTime {
        let mut from = zone.local(now);
        while let Some(slot) = self.next(from)
            && zone.instant(slot) <= now
        {
            from = slot;
        }
        from
    }

    /// The next five firings after now, to be shown back to whoever sets a schedule.
    #[must_use]
    pub fn next_five(&self, now: DateTime<Utc>, zone: &Zone) -> Vec<Slot> {
        let mut naive = self.start(now, zone);
        let mut slots = Vec::with_capacity(SHOWN_BACK);
        while slots.len() < SHOWN_BACK
            && let Some(slot) = self.next(naive)
        {
            slots.push((slot, zone.instant(slot)));
            naive = slot;
        }
        slots
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(text: &str) -> NaiveDateTime {
        NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
    }

    fn pattern(text: &str) -> Pattern {
        Pattern::parse(text).unwrap()
    }

    fn zone(name: &str) -> Zone {
        Zone::parse(name).unwrap()
    }

    /// Every line of the table: its head says how the instants were found, and by which oracle.
    #[test]
    fn clock_changes_agree_with_the_table() {
        let mut lines = 0;
        for line in include_str!("clock_changes.txt").lines() {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let fields: Vec<&str> = line.split(" | ").collect();
            let [zone_name, text, from, slots] = fields[..] else {
                panic!("{line}")
            };
            let (zone, pattern) = (zone(zone_name), pattern(text));
            let mut naive = at(from);
            for slot in slots.split(", ") {
                let (local, utc) = slot.split_once(" = ").unwrap();
                naive = pattern.next(naive).unwrap();
                assert_eq!(
                    (naive, zone.instant(naive)),
                    (at(local), at(utc).and_utc()),
                    "{line}"
                );
            }
            lines += 1;
        }
        assert!(lines > 100, "{lines} lines");
    }

    /// 02:30 in the gap fires at 03:00 EDT as croniter 7.0.0 has it (zoneinfo alone would say 03:30, systemd
    /// skips the day); 01:30 in the overlap fires once, first pass, as systemd 252 and vixie-type cron have it
    /// (croniter would fire twice).
    #[test]
    fn once_over_each_change() {
        let zone = zone("America/New_York");
        let gap = pattern("daily 02:30").slots_between(
            at("2026-03-07 02:30"),
            at("2026-03-09 12:00").and_utc(),
            &zone,
            9,
        );
        assert_eq!(
            gap.due,
            [
                (at("2026-03-08 02:30"), at("2026-03-08 07:00").and_utc()),
                (at("2026-03-09 02:30"), at("2026-03-09 06:30").and_utc()),
            ]
        );
        let overlap = pattern("daily 01:30").slots_between(
            at("2026-10-31 01:30"),
            at("2026-11-01 12:00").and_utc(),
            &zone,
            9,
        );
        assert_eq!(
            overlap.due,
            [(at("2026-11-01 01:30"), at("2026-11-01 05:30").and_utc())]
        );
        assert_eq!(
            overlap.next,
            Some((at("2026-11-02 01:30"), at("2026-11-02 06:30").and_utc()))
        );
    }

    #[test]
    fn the_newest_are_kept() {
        let slots = pattern("daily 07:00").slots_between(
            at("2026-01-01 07:00"),
            at("2026-01-11 08:00").and_utc(),
            &Zone::utc(),
            3,
        );
        assert_eq!(slots.left_out, 7);
        assert_eq!(
            slots.due.first().map(|slot| slot.0),
            Some(at("2026-01-09 07:00"))
        );
        assert_eq!(
            slots.due.last().map(|slot| slot.0),
            Some(at("2026-01-11 07:00"))
        );
        assert_eq!(slots.next.map(|slot| slot.0), Some(at("2026-01-12 07:00")));
        let none = pattern("daily 07:00").slots_between(
            at("2026-01-01 07:00"),
            at("2026-01-03 08:00").and_utc(),
            &Zone::utc(),
            0,
        );
        assert_eq!((none.due.len(), none.left_out), (0, 2));
    }

    #[test]
    fn a_pattern_that_begins_now_owes_nothing() {
        let zone = zone("America/New_York");
        let pattern = pattern("every 1h from 00:00");
        // 01:10 of the second pass: the slots of 01:00 and 02:00 (07:00Z).
        let now = at("2026-11-01 06:10").and_utc();
        let slots = pattern.slots_between(pattern.start(now, &zone), now, &zone, 10);
        assert_eq!(slots.due, []);
        assert_eq!(
            slots.next,
            Some((at("2026-11-01 02:00"), at("2026-11-01 07:00").and_utc()))
        );
        assert_eq!(pattern.next_five(now, &zone).len(), 5);
    }

    #[test]
    fn a_pattern_may_end() {
        let once = pattern("0 30 9 1 6 * 2026");
        assert_eq!(
            once.next(at("2026-01-01 00:00")),
            Some(at("2026-06-01 09:30"))
        );
        assert_eq!(once.next(at("2026-06-01 09:30")), None);
        let slots = once.slots_between(
            at("2026-01-01 00:00"),
            at("2027-01-01 00:00").and_utc(),
            &Zone::utc(),
            5,
        );
        assert_eq!((slots.due.len(), slots.next), (1, None));
    }

    #[test]
    fn parts_of_a_second_change_nothing() {
        let daily = pattern("daily 07:00");
        let nearly = at("2026-01-01 07:00") - chrono::TimeDelta::milliseconds(1);
        assert_eq!(daily.next(nearly), Some(at("2026-01-01 07:00")));
        let just = at("2026-01-01 07:00") + chrono::TimeDelta::milliseconds(1);
        assert_eq!(daily.next(just), Some(at("2026-01-02 07:00")));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// Looked at whenever, with stops and clock jumps in between, every slot fires exactly once.
        #[test]
        fn every_slot_fires_once_over_any_restarts(
            which in 0usize..5,
            place in 0usize..5,
            month in prop::sample::select(vec![3u32, 4, 10, 11]),
            looks in prop::collection::vec(-600i64..30_000, 1..120),
        ) {
            let pattern = pattern(["every 1h from 00:30", "daily 01:30 02:30", "every 6h from 02:15",
                "0 */20 1-3 * * *", "weekdays 02:05"][which]);
            let zone = zone(["America/New_York", "Europe/London", "Australia/Lord_Howe",
                "America/Chicago", "America/Phoenix"][place]);
            let begin = at(&format!("2026-{month:02}-01 00:00"));
            let mut last = begin;
            let mut now = zone.instant(begin);
            let mut newest = now;
            let mut fired = Vec::new();
            for step in looks {
                now += chrono::TimeDelta::seconds(step);
                newest = newest.max(now);
                for (naive, instant) in pattern.slots_between(last, now, &zone, 10_000).due {
                    prop_assert!(instant <= now);
                    fired.push(naive);
                    last = naive;
                }
            }
            let mut expected = Vec::new();
            let mut naive = begin;
            while let Some(next) = pattern.next(naive) && zone.instant(next) <= newest {
                expected.push(next);
                naive = next;
            }
            prop_assert_eq!(fired, expected);
        }
    }
}
