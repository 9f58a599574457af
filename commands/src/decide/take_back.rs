//! Taking back what one just did, within the minutes of the home's policy. Decides who may and until when, and that what
//! stood before stands again: its call, its card, the check that was booked. What was recorded stays in the log, and the
//! new record names it.

use chrono::TimeDelta;

use super::draft::{Asked, Draft, clock_time, in_post, person, state_after};
use super::{alarm, check, round, set_up, stock, turnover};
use crate::decision::Decision;
use crate::ids::{AlarmNo, Bed, RecordNo, Tag};
use crate::message::{Answer, Message};
use crate::record::{AlarmEnd, Body};
use crate::refusal::Refusal;
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Alarm, Before, Recheck, Surface, worse_key};
use crate::tap::Then;

/// The button under an entry.
pub(super) fn take_back(
    asked: &Asked<'_>,
    first: RecordNo,
    tag: &Tag,
    then: &Then,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let Some(before) = surface
        .before
        .as_ref()
        .filter(|before| before.first == first && !before.settled)
    else {
        return Err(Refusal::new("fault-take-back-newer").text("tag", tag));
    };
    if before.who != Some(asked.ask.who) {
        return Err(Refusal::new("fault-take-back-other"));
    }
    let minutes = asked.state.policies.get(Name::TakeBack);
    if asked.now - before.entered > TimeDelta::minutes(minutes) {
        return Err(Refusal::new("fault-take-back-late").number("minutes", minutes));
    }
    let back = before.surface.bed();
    let mut swapped = None;
    if back != surface.bed() {
        if let Some(bed) = back.filter(|bed| !asked.state.bed_units.contains_key(*bed)) {
            return Err(Refusal::new("fault-take-back-no-bed").text("bed", bed));
        }
        if surface.instead_of.is_some() && surface.instead_of != before.surface.instead_of {
            swapped = Some(swapped_out(asked, first, tag, surface)?);
        }
        if let Some((bed, other)) = back.and_then(|bed| asked.state.under.get_key_value(bed)) {
            return Err(Refusal::new("fault-take-back-bed")
                .text("bed", bed)
                .text("tag", other));
        }
    }
    // The alarm was closed because nobody lay on it any more: a record of its own, which others have read.
    if before.surface.alarm.is_some() && surface.alarm.is_none() {
        return Err(Refusal::new("fault-take-back-alarm").text("tag", tag));
    }
    // The alarm that the entry opened ends with it, unless somebody is already on the way because of it.
    let mut draft = asked.draft();
    if let Some(no) = surface
        .alarm
        .filter(|no| is_of(*no, first, before.surface.alarm))
        && let Some(open) = asked.state.alarms.get(&no)
    {
        if open.taken.is_some_and(|(who, _)| who != asked.ask.who) {
            return Err(Refusal::new("fault-take-back-taken").text("tag", tag));
        }
        alarm::end(asked, &mut draft, no, open, AlarmEnd::TakenBack);
    }
    alarm_as_before(asked, &mut draft, surface, before);
    let stands = Stands::after(asked, first, tag, surface, before);
    let pulled =
        alarm::pulled_for(surface).is_some() && alarm::pulled_for(&before.surface).is_none();
    if pulled {
        back_in_service(asked, &mut draft, first, tag, &before.surface);
    }
    stock::filter_back(asked.state, &mut draft, surface, &before.surface, first);
    let no = draft.fact(Body::TakenBack {
        first,
        tag: tag.clone(),
        called: stands.low,
    });
    stands.tell(asked, &mut draft, no, tag, &before.surface);
    let name = match back {
        Some(bed) => set_up::name_at(asked.lang, tag, bed),
        None => tag.to_string(),
    };
    let mut text = say!(asked.lang, "taken-back", surface = name);
    if let Some(line) = stands.line(asked) {
        text = format!("{text}\n{line}");
    }
    if let Some((old, bed)) = swapped {
        draft.fact(Body::TakenBack {
            first,
            tag: old.clone(),
            called: false,
        });
        let name = set_up::name_at(asked.lang, old, bed);
        let line = say!(asked.lang, "taken-back-swap", surface = name);
        text = format!("{text}\n{line}");
    }
    Ok(answered(asked, draft, tag, text, then))
}

/// The answer: beside the card, in its place, or in the place of a round's card, which asks for that bed again. A turnover
/// that stands again asks for its step again.
fn answered(asked: &Asked<'_>, draft: Draft, tag: &Tag, text: String, then: &Then) -> Decision {
    let who = Some(asked.ask.who);
    let after = state_after(asked.state, who, asked.now, &draft.decision);
    let later = Asked {
        state: &after,
        ..*asked
    };
    let unit = match then {
        Then::Beside => return draft.private(turnover::shown_again(&later, tag, text)),
        Then::Instead => return draft.answer(Answer::Replace(Message::text(text))),
        Then::Round(unit) => unit,
    };
    let next = round::next_card(&later, &after, unit, round::From::At(tag), text);
    draft.answer(Answer::Replace(next))
}

/// A reading can make an open alarm another one: it is again what it was. What somebody else named it stays.
fn alarm_as_before(asked: &Asked<'_>, draft: &mut Draft, surface: &Surface, before: &Before) {
    let Some((no, (kind, priority))) = before.surface.alarm.zip(before.alarm) else {
        return;
    };
    let Some(open) = asked
        .state
        .alarms
        .get(&no)
        .filter(|open| surface.alarm == Some(no) && open.kind != kind)
        .filter(|open| open.calls.contains(&worse_key(before.first)))
    else {
        return;
    };
    let newest = draft.fact(Body::AlarmNamed {
        alarm: no,
        kind,
        priority,
    });
    let now = Alarm {
        kind,
        priority,
        newest,
        ..open.clone()
    };
    alarm::edit(asked.state, asked.facility, draft, no, &now, None);
    let lang = asked.state.lang();
    let post = worse_key(before.first);
    let text = say!(
        lang,
        "post-worse-taken-back",
        surface = in_post(asked.state, lang, &open.tag),
        who = person(asked.ask.who)
    );
    let channel = alarm::channel(asked.state, asked.facility, &open.tag);
    draft.edit(format!("{post}:back"), post, channel, Message::text(text));
}

/// What stands once a reading is taken back, and what its posts then say.
struct Stands {
    /// Was it a reading at all?
    reading: bool,
    /// The reading itself called nurses.
    called: bool,
    /// A low reading stands again for which nurses were called: they are called again.
    low: bool,
    /// It was low before that one, too.
    twice: bool,
    /// The posts that the reading had answered.
    posts: Vec<String>,
    /// The check that is booked again.
    recheck: Option<Recheck>,
}

impl Stands {
    fn after(
        asked: &Asked<'_>,
        first: RecordNo,
        tag: &Tag,
        surface: &Surface,
        before: &Before,
    ) -> Self {
        let taken = surface.checks.iter().find(|check| {
            check.no >= first && !before.surface.checks.iter().any(|then| then.no == check.no)
        });
        let newest = taken.filter(|taken| surface.last_check().is_some_and(|c| c.no == taken.no));
        let Some(newest) = newest else {
            return Self {
                reading: false,
                called: false,
                low: false,
                twice: false,
                posts: Vec::new(),
                recheck: None,
            };
        };
        let then = &before.surface;
        let low_post = then
            .check_here()
            .and_then(|check| check::low_post(then, check));
        let low = low_post.is_some();
        let recheck_post = before
            .recheck
            .as_ref()
            .and_then(|recheck| (recheck.asked > 0).then(|| check::recheck_key(tag, recheck)));
        let lows = then
            .checks_here()
            .filter(|check| check.judged != Judgement::CouldNot)
            .take_while(|check| check::is_low(check.judged))
            .count();
        Self {
            reading: true,
            // Nurses were called for a low reading: the call says that it was a mistake.
            called: newest.judged == Judgement::Low && before.surface.alarm.is_none(),
            low: low && !asked.state.in_emergency(tag),
            twice: lows > 1,
            posts: low_post.into_iter().chain(recheck_post).collect(),
            recheck: before.recheck.clone(),
        }
    }

    /// The posts say what stands again, and nurses are called for it: the call before was cancelled.
    fn tell(&self, asked: &Asked<'_>, draft: &mut Draft, no: RecordNo, tag: &Tag, then: &Surface) {
        let (state, lang) = (asked.state, asked.state.lang());
        let channel = alarm::channel(state, asked.facility, tag);
        let surface = in_post(state, lang, tag);
        let who = person(asked.ask.who);
        let first = draft.first();
        if self.called {
            let key = if self.low {
                "post-low-taken-back-newer"
            } else {
                "post-low-taken-back"
            };
            let text = say!(lang, key, surface = surface.as_str(), who = who.as_str());
            if let Some(last) = state.surfaces.get(tag).and_then(Surface::last_check) {
                let of = format!("low:{}", last.told.unwrap_or(last.no));
                draft.edit(format!("{of}:back"), of, channel, Message::text(text));
            }
        }
        for post in &self.posts {
            let key = format!("{post}:back:{first}");
            let message = if self.low {
                let text = say!(
                    lang,
                    "post-answer-taken-back",
                    surface = surface.as_str(),
                    who = who.as_str()
                );
                Message::text(text)
            } else {
                let text = say!(
                    lang,
                    "post-recheck-again",
                    surface = surface.as_str(),
                    who = who.as_str()
                );
                check::air_card(state, lang, tag, asked.now, text)
            };
            draft.edit(key, post.clone(), channel, message);
        }
        let check = then.check_here().filter(|_| self.low);
        if let Some(check) = check {
            check::call_nurse_back(asked, draft, no, tag, then, check, self.twice);
        }
    }

    /// The same for whoever took it back.
    fn line(&self, asked: &Asked<'_>) -> Option<String> {
        if !self.reading {
            return None;
        }
        let lang = asked.lang;
        let recheck = self.recheck.as_ref();
        let at = recheck.map(|recheck| {
            if recheck.due <= asked.now {
                say!(lang, "taken-back-now")
            } else {
                say!(lang, "taken-back-at", at = clock_time(recheck.due))
            }
        });
        match (self.low, at) {
            (true, at) => {
                let key = if self.twice {
                    "taken-back-low-twice"
                } else {
                    "taken-back-low"
                };
                let at = at.unwrap_or_else(|| say!(lang, "taken-back-now"));
                Some(say!(lang, key, check = at))
            }
            (false, Some(at)) => Some(say!(lang, "taken-back-check", check = at)),
            (false, None) => None,
        }
    }
}

/// The surface whose place was taken in this entry, and the bed it goes back to with it.
fn swapped_out<'a>(
    asked: &Asked<'a>,
    first: RecordNo,
    tag: &Tag,
    surface: &Surface,
) -> Result<(&'a Tag, &'a Bed), Refusal> {
    let newer = || Refusal::new("fault-take-back-swap").text("tag", tag);
    let old = surface.instead_of.as_ref().ok_or_else(newer)?;
    let (old, there) = asked.surface(old.as_str())?;
    let before = there
        .before
        .as_ref()
        .filter(|before| before.first == first && !before.settled)
        .ok_or_else(newer)?;
    if before.surface.alarm.is_some() && there.alarm.is_none() {
        return Err(Refusal::new("fault-take-back-alarm").text("tag", old));
    }
    let bed = before.surface.bed().ok_or_else(newer)?;
    Ok((old, bed))
}

/// Out of service no more: what was posted of it says so, and an alarm that was open before is as it was.
fn back_in_service(
    asked: &Asked<'_>,
    draft: &mut Draft,
    first: RecordNo,
    tag: &Tag,
    before: &Surface,
) {
    let (state, lang) = (asked.state, asked.state.lang());
    let open = before
        .alarm
        .and_then(|no| Some((no, state.alarms.get(&no)?)));
    // Where the pull opened an alarm itself, that alarm's card was the post.
    if open.is_some() || before.bed().is_none() {
        let text = say!(
            lang,
            "post-pull-taken-back",
            surface = in_post(state, lang, tag),
            who = person(asked.ask.who)
        );
        draft.edit(
            format!("pulled:{first}:back"),
            format!("pulled:{first}"),
            alarm::channel(state, asked.facility, tag),
            Message::text(text),
        );
    }
    if let Some((no, open)) = open {
        alarm::edit_pulled(asked, draft, no, open, None);
    }
}

/// Whether this entry opened the alarm: it was not there before.
fn is_of(alarm: AlarmNo, first: RecordNo, before: Option<AlarmNo>) -> bool {
    before != Some(alarm) && alarm.0 >= first.0
}
