//! Which message is whose. Decides whether one that stands in a channel is the message of a row, and whether two rows say the
//! same; leaves what follows from it to `delivery`.

use std::collections::BTreeSet;
use std::ops::Range;

use commands::words::{self, Arg, Lang};
use store::OutRow;

use crate::clock::Ages;
use crate::request::Past;

/// Whether a message there is this one, perhaps with a line of ours above: that it comes late, or that it may be a repeat, by a run
/// of the program that did not live to note it.
fn says(there: &str, row: &OutRow) -> bool {
    there
        .strip_suffix(row.message.text.as_str())
        .is_some_and(|above| {
            let ours = |line: &str| {
                Lang::ALL.iter().any(|lang| {
                    line == words::say(*lang, "bot-possible-repeat", &[])
                        || late_mark(row, *lang).is_some_and(|mark| line == mark)
                })
            };
            (above.is_empty() || above.ends_with('\n')) && above.lines().all(ours)
        })
}

pub(super) fn says_the_same(one: &OutRow, other: &OutRow) -> bool {
    one.channel == other.channel && one.kind == other.kind && one.message.text == other.message.text
}

/// The line that says when a message was to be said.
pub(super) fn late_mark(row: &OutRow, lang: Lang) -> Option<String> {
    let at = format!("<t:{}:f>", row.entered?.timestamp());
    Some(words::say(lang, "bot-late-call", &[("at", Arg::Text(&at))]))
}

/// Our message among those of the channel: by its nonce, or by writer, text and age, where no other row made it.
pub(super) fn find(
    row: &OutRow,
    past: &[Past],
    us: Option<u64>,
    made: &Range<i64>,
    known: &BTreeSet<u64>,
) -> Option<u64> {
    past.iter()
        .filter(|one| !known.contains(&one.id))
        .filter(|one| us.is_none_or(|us| one.author == us))
        .filter(|one| made.contains(&Ages::made_ms(one.id)))
        .find(|one| match &one.nonce {
            Some(nonce) => *nonce == row.nonce,
            None => says(&one.text, row),
        })
        .map(|one| one.id)
}
