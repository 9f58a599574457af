//! The pace of a round. A round that was entered faster than hands can move is pointed out to the supervisors, once a
//! person and round, in neutral words and with how it was computed; and said again with the whole round's figures when the
//! round is over. Nobody else is told, nothing is ranked, and no report has it. Decides when and in which words; the
//! arithmetic is `rules::pace`'s.
//!
//! What is not entered as it is made says nothing about hands: readings from paper, those typed with the time at which
//! they were made, and "could not check" are left out.

use chrono::TimeDelta;

use super::draft::{Asked, person};
use crate::decision::{Decision, Entry, Lane, Post, PostKind};
use crate::due;
use crate::ids::{RecordNo, Tag, Unit};
use crate::message::Message;
use crate::record::Body;
use crate::rules::hand_check::Judgement;
use crate::rules::pace::{judge, median};
use crate::rules::policy::Name;
use crate::say;
use crate::state::Pace;
use crate::words::Lang;

/// What was entered may be one more check of a fast round.
pub(super) fn watch(asked: &Asked<'_>, decision: &mut Decision) {
    let limit = asked.state.policies.get(Name::PaceSeconds);
    if limit <= 0 {
        return;
    }
    let Some(tag) = decision
        .entries
        .iter()
        .find_map(|entry| made_now(asked, entry))
    else {
        return;
    };
    let Some(unit) = asked.state.unit_of(tag) else {
        return;
    };
    let before = asked.state.staff.rounds.get(&asked.ask.who);
    let Some(pace) = Pace::after(before, unit, tag, asked.now) else {
        return;
    };
    let times = pace.times();
    match pace.said {
        None => {
            let least = asked.state.policies.get(Name::PaceChecks);
            let least = usize::try_from(least).unwrap_or(usize::MAX);
            let Some(fast) = judge(&times, least, TimeDelta::seconds(limit)) else {
                return;
            };
            let no = RecordNo(asked.state.next_no().0 + decision.entries.len() as u64);
            decision.entries.push(Entry {
                at: asked.now,
                role: asked.role,
                body: Body::PaceSaid {
                    person: asked.ask.who,
                    unit: unit.clone(),
                    checks: pace.checks,
                    lasted_ms: ms(pace.last - pace.first),
                    middle_ms: ms(fast.middle),
                    limit: u16::try_from(limit).unwrap_or(u16::MAX),
                },
                note: None,
            });
            let message = said(asked, unit, &pace, fast.middle, limit);
            post(asked, decision, key(no), PostKind::New, message);
        }
        Some(no) => {
            let Some(middle) = median(&times).filter(|_| round_over(asked, unit, tag)) else {
                return;
            };
            let message = said(asked, unit, &pace, middle, limit);
            let of = key(no);
            let key = format!("{of}:{}", pace.checks);
            post(asked, decision, key, PostKind::Edit { of }, message);
        }
    }
}

/// The surface of a check that was entered as it was made.
fn made_now<'e>(asked: &Asked<'_>, entry: &'e Entry) -> Option<&'e Tag> {
    let Body::HandChecked {
        tag,
        judged,
        from_paper: false,
        ..
    } = &entry.body
    else {
        return None;
    };
    (entry.at == asked.now && *judged != Judgement::CouldNot).then_some(tag)
}

/// Whether no check of the unit is left but the one that was just made.
fn round_over(asked: &Asked<'_>, unit: &Unit, tag: &Tag) -> bool {
    let state = asked.state;
    let shift = due::shift_start(state, asked.now);
    let beds = state.units.get(unit).map_or(&[][..], |unit| &unit.beds);
    beds.iter()
        .filter_map(|bed| state.under.get(bed))
        .filter(|other| *other != tag)
        .filter_map(|other| Some((other, state.surfaces.get(other)?)))
        .all(|(other, surface)| {
            surface.alarm.is_some()
                || due::check_due(state, other, surface, shift)
                    .is_none_or(|since| since > asked.now)
        })
}

fn said(asked: &Asked<'_>, unit: &Unit, pace: &Pace, middle: TimeDelta, limit: i64) -> Message {
    let lang = asked.state.lang();
    let text = say!(
        lang,
        "post-pace",
        unit = unit.as_str(),
        checks = i64::from(pace.checks),
        span = span(lang, pace.last - pace.first),
        who = person(asked.ask.who),
        middle = rounded(middle),
        limit = limit
    );
    let mut message = Message::text(text);
    message.silent = true;
    message
}

/// `2 minutes 10 seconds`.
fn span(lang: Lang, lasted: TimeDelta) -> String {
    let seconds = rounded(lasted);
    let seconds_words = say!(lang, "span-seconds", count = seconds % 60);
    if seconds < 60 {
        return seconds_words;
    }
    let minutes = say!(lang, "span-minutes", count = seconds / 60);
    if seconds % 60 == 0 {
        return minutes;
    }
    format!("{minutes} {seconds_words}")
}

/// Whole seconds, to the nearest.
fn rounded(time: TimeDelta) -> i64 {
    (time.num_milliseconds() + 500).div_euclid(1_000)
}

fn ms(time: TimeDelta) -> u64 {
    u64::try_from(time.num_milliseconds()).unwrap_or(0)
}

fn key(no: RecordNo) -> String {
    format!("pace:{no}")
}

fn post(asked: &Asked<'_>, decision: &mut Decision, key: String, kind: PostKind, message: Message) {
    decision.posts.push(Post {
        key,
        channel: asked.facility.supervisor_channel,
        kind,
        lane: Lane::Routine,
        message,
        in_place_of: Vec::new(),
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_long_a_round_lasted_is_said_in_whole_units() {
        let said = |ms| span(Lang::English, TimeDelta::milliseconds(ms));
        for (ms, words) in [
            (0, "0 seconds"),
            (1_499, "1 second"),
            (59_499, "59 seconds"),
            (59_500, "1 minute"),
            (60_000, "1 minute"),
            (61_000, "1 minute 1 second"),
            (130_000, "2 minutes 10 seconds"),
            (7_200_000, "120 minutes"),
        ] {
            assert_eq!(said(ms), words, "{ms} ms");
        }
    }

    #[test]
    fn each_round_has_a_message_of_its_own() {
        assert_eq!(key(RecordNo(7)), "pace:7");
    }
}
