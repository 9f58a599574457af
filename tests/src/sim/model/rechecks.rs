//! Who entered low air reads when to look again, and relies on being asked. Decides from the log which looks were owed and when,
//! and from what the bed's channel read whether somebody was asked in time. Where anything else was entered of that surface in between
//! nothing is said: what an entry changes is the rules' and not known here.

use std::collections::BTreeMap;
use std::time::Duration;

use chrono::{DateTime, Utc};

use super::{Model, Row, SLACK};

/// So somebody is asked to look again: after a reading, and where it could not be read.
const ASKS: [&str; 2] = ["time to check again", "could not be checked before"];
/// What settles a look that is owed, replaces it, or takes over the asking.
const SETTLES: [&str; 11] = [
    "hand-checked",
    "alarm-opened",
    "placed",
    "released",
    "moved",
    "pulled",
    "leave-began",
    "cpr-opened",
    "taken-back",
    "amended",
    "surface-retired",
];
/// Where what the second ends comes after what the first began, the asking waits for that end.
const WAITS: [(&str, &str); 2] = [("leave-began", "leave-ended"), ("cpr-opened", "cpr-over")];
/// Between a tap and the entry that it makes lie so many seconds at most; an older tap makes none.
const ENTERED_WITHIN: Duration = Duration::from_millis(2_500);

impl Model {
    /// Somebody is asked to look again. Returns how many looks were owed.
    pub(super) fn rechecks(
        &self,
        rows: &BTreeMap<u64, Row>,
        now: Duration,
        why: &mut Vec<String>,
    ) -> usize {
        let mut owed = 0;
        for row in rows.values().filter(|row| row.kind == "hand-checked") {
            let Some((booked, due)) = self.owed(row) else {
                continue;
            };
            let tag = row.body["tag"].as_str().unwrap_or_default();
            let last = self.at_last(booked, due, now);
            let Some(channel) = channel(rows, row.no, tag) else {
                continue;
            };
            // Whom the channel does not let in can ask nobody there.
            let shut = self.is_shut(channel, booked, last);
            if shut || last >= now || waits(rows, row, tag) || self.settled(rows, row, tag, last) {
                continue;
            }
            owed += 1;
            let name = format!("**{tag}");
            let came = self.posts.iter().any(|post| {
                let asks = ASKS.iter().any(|words| post.text.contains(words));
                let in_time = post.at >= booked && post.at <= last;
                in_time
                    && asks
                    && post.called
                    && post.channel == channel
                    && post.text.contains(&name)
            });
            if !came {
                why.push(format!(
                    "nobody was asked to look at {tag} again within {} s, though #{} has it for {}",
                    (last - booked).as_secs(),
                    row.no,
                    row.body["recheck"]
                ));
            }
        }
        owed
    }

    /// When this check was entered, and when the look after it is owed; as time that has passed, since a clock that is set is no excuse.
    fn owed(&self, row: &Row) -> Option<(Duration, Duration)> {
        let asked = self.asked.get(&row.cause.unsigned_abs())?;
        let at: DateTime<Utc> = serde_json::from_value(row.body["recheck"].clone()).ok()?;
        let wait = (at - row.entered).to_std().unwrap_or_default();
        Some((asked.at, asked.at + ENTERED_WITHIN + wait))
    }

    /// The last moment at which what was due then may come.
    pub(super) fn at_last(&self, booked: Duration, due: Duration, now: Duration) -> Duration {
        let due = due + self.unseen(booked, due);
        let mut last = due + SLACK;
        while last < now {
            let later = due + SLACK + self.excuse(due, last);
            if later <= last {
                break;
            }
            last = later;
        }
        last
    }

    /// Something was entered of this surface until then, behind this check.
    fn settled(&self, rows: &BTreeMap<u64, Row>, check: &Row, tag: &str, last: Duration) -> bool {
        rows.range(check.no + 1..).any(|(_, row)| {
            let asked = self.asked.get(&row.cause.unsigned_abs());
            SETTLES.contains(&row.kind.as_str())
                && row.body["tag"] == tag
                && asked.is_none_or(|asked| asked.at <= last)
        })
    }
}

/// At this check its surface had an alarm, or nobody lay on it, or a valve was open.
fn waits(rows: &BTreeMap<u64, Row>, check: &Row, tag: &str) -> bool {
    let before = || rows.range(..check.no).map(|(_, row)| row);
    let closed = |no: u64| {
        rows.values().any(|row| {
            let by_then = row.no < check.no || row.cause == check.cause;
            row.kind == "alarm-closed" && row.body["alarm"] == no && by_then
        })
    };
    let of_tag = || before().filter(|row| row.body["tag"] == tag);
    of_tag().any(|row| row.kind == "alarm-opened" && !closed(row.no))
        || WAITS.iter().any(|(began, ended)| {
            let mut newest = of_tag().filter(|row| row.kind == *began || row.kind == *ended);
            newest.next_back().is_some_and(|row| row.kind == *began)
        })
}

/// Where those read who are at the bed that this surface was under before this entry.
fn channel(rows: &BTreeMap<u64, Row>, before: u64, tag: &str) -> Option<u64> {
    let before = || rows.range(..before).rev().map(|(_, row)| row);
    let under = before()
        .find(|row| row.body["tag"] == tag && ["placed", "moved"].contains(&row.kind.as_str()))?;
    let bed = &under.body["bed"];
    let unit = before().find(|row| {
        let beds = row.body["beds"].as_array();
        row.kind == "unit-set" && beds.is_some_and(|beds| beds.contains(bed))
    })?;
    let home = before().find(|row| row.kind == "facility-set")?;
    unit.body["channel"]
        .as_u64()
        .or_else(|| home.body["care_channel"].as_u64())
}
