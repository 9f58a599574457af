//! How a policy was set: every value that it has had, since when, who set it, and where it had to wait who asked and who
//! agreed. Decides what of the log that takes; leaves what the policy decides to its card.

use super::super::draft::{Asked, day_time, person};
use super::super::wish::value_words;
use super::cut;
use crate::decision::Decision;
use crate::evidence::Span;
use crate::ids::{Person, RecordNo};
use crate::message::Message;
use crate::past::Wanted;
use crate::record::{Body, Record, WishEnd};
use crate::rules::policy::Policy;
use crate::say;

/// The newest changes that one answer shows.
const SHOWN: usize = 20;

/// `/timeline what:check-every`.
pub(super) fn history(asked: &Asked<'_>, row: &Policy) -> Decision {
    // Settings of all the time are read with any span; no more than that is needed.
    let wanted = Wanted::Span(Span {
        from: asked.now,
        to: asked.now,
    });
    let read = match asked.past.whole(&wanted) {
        Ok(read) => read,
        Err(wanted) => return Decision::wanting(wanted),
    };
    let lang = asked.lang;
    let now = value_words(asked.state, lang, row, asked.state.policies.get(row.name));
    let mut lines = vec![say!(lang, "history-head", name = row.word, value = now)];
    let changes = changes(&read, row.word);
    if changes.is_empty() {
        lines.push(say!(lang, "history-none"));
    }
    let mut before = row.default;
    let mut told: Vec<String> = Vec::new();
    for (record, value) in changes {
        let who = record.who.map_or_else(String::new, person);
        let asker = asker(&read, record);
        let key = if asker.is_some() {
            "history-agreed"
        } else {
            "history-set"
        };
        told.push(say!(
            lang,
            key,
            at = day_time(record.at),
            old = value_words(asked.state, lang, row, before),
            new = value_words(asked.state, lang, row, value),
            who = who,
            asker = asker.map_or_else(String::new, person)
        ));
        before = value;
    }
    told.reverse();
    let left = told.len().saturating_sub(SHOWN);
    lines.extend(told.into_iter().take(SHOWN));
    if left > 0 {
        lines.push(say!(lang, "timeline-more", count = left as i64));
    }
    let mut text = lines.join("\n");
    cut(&mut text);
    Decision::private(Message::text(text))
}

/// Each value it was set to, the oldest first.
fn changes<'a>(read: &'a [Record], word: &str) -> Vec<(&'a Record, i64)> {
    read.iter()
        .filter_map(|record| {
            let Body::PolicySet { name, value } = &record.body else {
                return None;
            };
            (name == word).then_some((record, *value))
        })
        .collect()
}

/// Who asked for it, where it was agreed to.
fn asker(read: &[Record], set: &Record) -> Option<Person> {
    let wish: RecordNo = read.iter().find_map(|record| {
        let Body::WishEnded { wish, end } = record.body else {
            return None;
        };
        (end == WishEnd::Agreed && record.first == set.first).then_some(wish)
    })?;
    read.iter().find(|record| record.no == wish)?.who
}
