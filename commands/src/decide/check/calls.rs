//! Who is called because of a reading, and what those calls come to say. Decides the words, the card and the keys of the posts for
//! a low one, for its recheck, and for one without any air left; leaves whether a reading is any of these to `check`.

use chrono::{DateTime, TimeDelta, Utc};

use super::{band_of, call_rows, minutes, quoted, show_air};
use crate::decide::draft::{Asked, Draft, clock_time, in_post, person, unit_channel};
use crate::decide::{alarm, nurse};
use crate::decision::Lane;
use crate::due::asking;
use crate::ids::{RecordNo, Tag};
use crate::message::Message;
use crate::record::On;
use crate::role::Role;
use crate::rules::hand_check::{Air, Band, Judgement};
use crate::rules::policy::Name;
use crate::rules::priority::{AlarmKind, Priority};
use crate::say;
use crate::state::{CheckFact, Life, Recheck, State, Surface};
use crate::tap::Card;

/// When a reading is to be looked at again, out of turn. While an alarm is open its card does the asking.
pub(in crate::decide) fn recheck(
    state: &State,
    surface: &Surface,
    judged: Judgement,
    was_low: bool,
    at: DateTime<Utc>,
) -> Option<DateTime<Utc>> {
    if !matches!(surface.life, Life::Placed { .. }) {
        // Out of service and still under somebody: what it needs is another surface.
        return None;
    }
    let minutes = |name| TimeDelta::minutes(state.policies.get(name));
    match judged {
        Judgement::Adequate | Judgement::BottomedOut => None,
        Judgement::Low | Judgement::High if surface.alarm.is_some() => None,
        Judgement::Low => Some(at + minutes(Name::Recheck)),
        Judgement::High => Some(at + minutes(Name::RecheckHigh)),
        Judgement::CouldNot if was_low => Some(at + minutes(Name::Recheck)),
        Judgement::CouldNot => Some(at + minutes(Name::TryAgain)),
    }
}

#[allow(clippy::too_many_arguments, reason = "one reading, told to the unit")]
pub(in crate::decide) fn call_nurse(
    asked: &Asked<'_>,
    draft: &mut Draft,
    record: RecordNo,
    tag: &Tag,
    surface: &Surface,
    air: Air,
    band: Band,
    note: Option<&str>,
    again: bool,
) {
    let state = asked.state;
    // While an alarm is open its card does the calling.
    if surface.alarm.is_some() {
        return;
    }
    // A nurse who measured it herself has come already, and it rings nobody but others on duty.
    let own = nurse::acts(asked);
    let key = match (again, own) {
        (true, false) => "post-low-again",
        (true, true) => "post-low-again-nurse",
        (false, false) => "post-low",
        (false, true) => "post-low-nurse",
    };
    let post_lang = state.lang();
    let mut text = say!(
        post_lang,
        key,
        surface = in_post(state, post_lang, tag),
        air = show_air(post_lang, air, band),
        who = person(asked.ask.who)
    );
    if let Some(note) = note {
        text.push_str(&quoted(note));
    }
    post_low(asked, draft, record, tag, text, own);
}

/// A reading that had answered a call to nurses was taken back: they are called again for the low one that stands.
pub(in crate::decide) fn call_nurse_back(
    asked: &Asked<'_>,
    draft: &mut Draft,
    record: RecordNo,
    tag: &Tag,
    surface: &Surface,
    check: &CheckFact,
    twice: bool,
) {
    let lang = asked.state.lang();
    let key = if twice {
        "post-low-stands-twice"
    } else {
        "post-low-stands"
    };
    let text = say!(
        lang,
        key,
        surface = in_post(asked.state, lang, tag),
        air = show_air(lang, check.air, band_of(asked.state, surface)),
        at = clock_time(check.at),
        who = person(asked.ask.who)
    );
    post_low(asked, draft, record, tag, text, false);
}

/// The card that calls nurses to a low reading; `own` where it is a nurse's own.
fn post_low(
    asked: &Asked<'_>,
    draft: &mut Draft,
    record: RecordNo,
    tag: &Tag,
    text: String,
    own: bool,
) {
    let (state, post_lang) = (asked.state, asked.state.lang());
    let unit = state.unit_of(tag);
    let asks = if own {
        asking::routine(state, unit, &[Role::Nurse], asked.now).by(asked.ask.who)
    } else {
        asking::safety(state, unit, &[Role::Nurse], asked.now)
    };
    let card = Card {
        round: None,
        tag: tag.clone(),
        seen: record,
        shown: minutes(asked.now),
    };
    let message = call_rows(Message::text(text), state, post_lang, &card);
    let post = (
        format!("low:{record}"),
        unit_channel(state, asked.facility, unit),
        Lane::Reminder,
    );
    draft.ask(
        asked.facility,
        On::Surface(tag.clone()),
        &asks,
        post,
        message,
    );
}

/// What asked for this reading in the unit's channel says that it has come, and by whom: nobody goes twice.
#[allow(
    clippy::too_many_arguments,
    reason = "one reading, told where it was asked for"
)]
pub(super) fn answered(
    asked: &Asked<'_>,
    draft: &mut Draft,
    record: RecordNo,
    tag: &Tag,
    surface: &Surface,
    air: Air,
    band: Band,
    judged: Judgement,
) {
    let state = asked.state;
    let low = surface
        .check_here()
        .and_then(|check| low_post(surface, check));
    let lang = state.lang();
    for post in low.into_iter().chain(recheck_post(state, tag)) {
        let key = if crate::decide::second_check::is_soon(asked, surface, judged, asked.now) {
            "post-answered-soon"
        } else {
            "post-answered"
        };
        let text = say!(
            lang,
            key,
            surface = in_post(state, lang, tag),
            air = show_air(lang, air, band),
            judged = say!(lang, &format!("judged-{}", judged.as_str())),
            who = person(asked.ask.who),
            at = clock_time(asked.now)
        );
        let channel = alarm::channel(state, asked.facility, tag);
        draft.edit(
            format!("{post}:{record}"),
            post,
            channel,
            Message::text(text),
        );
    }
}

/// The post that called a nurse for this check, if one did.
pub(in crate::decide) fn low_post(surface: &Surface, check: &CheckFact) -> Option<String> {
    // One under an open alarm called nobody: the alarm's card did.
    let quiet = surface
        .last_alarm
        .as_ref()
        .is_none_or(|ended| ended.at < check.at);
    // One from paper was named in the post of its paper.
    let told = !check.from_paper || check.told.is_some();
    let called = check.judged == Judgement::Low && surface.alarm.is_none() && quiet && told;
    called.then(|| format!("low:{}", check.told.unwrap_or(check.no)))
}

/// The post that asked for the check that is booked, if it was asked for.
pub(in crate::decide) fn recheck_post(state: &State, tag: &Tag) -> Option<String> {
    let recheck = state
        .rechecks
        .get(tag)
        .filter(|recheck| recheck.asked > 0)?;
    Some(recheck_key(tag, recheck))
}

/// The key of the post that last asked for a booked check.
pub(in crate::decide) fn recheck_key(tag: &Tag, recheck: &Recheck) -> String {
    format!("recheck:{tag}:{}:{}", recheck.no, recheck.asked)
}

/// Nothing left under somebody: an alarm opens by itself, or the one that is open becomes this one.
pub(super) fn bottomed_out(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
    note: Option<String>,
    lines: &mut Vec<String>,
) {
    let key = match nurse::acts(asked) {
        true => "check-bottomed-out-next-nurse",
        false => "check-bottomed-out-next",
    };
    lines.push(say!(asked.lang, key));
    if let Some(bed) = surface.bed() {
        lines.push(crate::decide::spare::line(asked, bed, surface));
    }
    match surface.alarm {
        Some(no) => {
            if let Some(open) = asked.state.alarms.get(&no) {
                alarm::bottomed_out(asked, draft, no, open.clone());
            }
        }
        None => {
            alarm::open(
                asked,
                draft,
                tag,
                AlarmKind::BottomedOut,
                Priority::High,
                note,
            );
        }
    }
}
