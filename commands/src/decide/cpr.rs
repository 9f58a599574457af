//! The CPR valve: opened in an emergency, in which nothing is asked and nobody is called about this surface, and what
//! must be put right once it is over.

use chrono::{DateTime, TimeDelta, Utc};

use super::Notice;
use super::alarm;
use super::draft::{Asked, button, clock_time, in_post, person, span, take_back};
use super::moves::not_placed;
use super::set_up;
use super::set_up_calls::settle;
use super::set_up_card::{View, message};
use crate::choice::{Call, Opening};
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Answer, Button, Look, Message};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::rules::policy::Name;
use crate::say;
use crate::state::{Alarm, Facility, Life, OpenValve, State, Surface};
use crate::tap::{Bedside, Begun, Tap};
use crate::words::Lang;

/// `/cpr`. One short answer, no prompt, no post.
pub(super) fn cpr(asked: &Asked<'_>, typed: &str) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    if surface.cpr.is_some() {
        return card(asked, tag, surface);
    }
    if surface.bed().is_none() {
        return Err(not_placed(asked, tag, surface));
    }
    let mut draft = asked.draft();
    draft.fact(Body::CprOpened { tag: tag.clone() });
    draft.fact(Body::Booked {
        on: On::Surface(tag.clone()),
        call: Call::Cpr,
        due: asked.now + TimeDelta::minutes(asked.state.policies.get(Name::CprQuiet)),
    });
    let lang = asked.lang;
    let text = say!(lang, "cpr-opened", surface = asked.with_bed(tag));
    let buttons = vec![
        over_button(lang, tag, asked.now),
        take_back(lang, &draft, tag),
    ];
    Ok(draft.private(Message::text(text).buttons(buttons)))
}

fn over_button(lang: Lang, tag: &Tag, said: DateTime<Utc>) -> Button {
    let tap = Tap::Bedside(Bedside::CprOver {
        begun: Begun {
            tag: tag.clone(),
            since: said.timestamp(),
        },
    });
    button(lang, "button-cpr-over", Look::Main, &tap)
}

/// How it stands while the valve is open: the button that ends it, and nothing else.
pub(super) fn card(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Result<Decision, Refusal> {
    let Some(mark) = surface.cpr else {
        return Err(Refusal::new("fault-cpr-over").text("surface", asked.with_bed(tag)));
    };
    let lang = asked.lang;
    let text = open_words(asked, tag, &mark);
    let buttons = vec![over_button(lang, tag, mark.said)];
    Ok(Decision::private(Message::text(text).buttons(buttons)))
}

fn open_words(asked: &Asked<'_>, tag: &Tag, mark: &OpenValve) -> String {
    say!(
        asked.lang,
        "cpr-open",
        surface = asked.with_bed(tag),
        at = clock_time(mark.at),
        who = mark.who.map_or_else(String::new, person)
    )
}

/// An alarm on a surface whose valve is open is no news.
pub(super) fn expected(asked: &Asked<'_>, tag: &Tag, mark: &OpenValve) -> Decision {
    let lang = asked.lang;
    let text = format!(
        "{}\n{}",
        open_words(asked, tag, mark),
        say!(lang, "cpr-alarm")
    );
    Decision::private(Message::text(text).buttons(vec![over_button(lang, tag, mark.said)]))
}

/// Nothing else is recorded about a surface while its valve is open.
pub(super) fn open_fault(asked: &Asked<'_>, tag: &Tag) -> Refusal {
    Refusal::new("fault-cpr-open")
        .text("surface", asked.with_bed(tag))
        .text("tag", tag)
}

/// "It is over": what follows is a checklist, and what was quiet is quiet no more.
pub(super) fn over(asked: &Asked<'_>, which: &Begun) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(which.tag.as_str())?;
    let lang = asked.lang;
    let open = surface
        .cpr
        .filter(|mark| mark.said.timestamp() == which.since);
    let Some(bed) = surface.bed().filter(|_| open.is_some()) else {
        return Err(Refusal::new("fault-cpr-over").text("surface", asked.with_bed(tag)));
    };
    let mut draft = asked.draft();
    let newest = draft.fact(Body::CprOver { tag: tag.clone() });
    let post_lang = asked.state.lang();
    let said = say!(
        post_lang,
        "post-cpr-over",
        surface = in_post(asked.state, post_lang, tag),
        who = person(asked.ask.who),
        at = clock_time(asked.now)
    );
    settle(asked, &mut draft, tag, Call::Cpr, said.clone());
    // It lost its air: what it was filling for, or held still for, is over as well.
    settle(asked, &mut draft, tag, Call::Full, said);
    if surface.static_mode.is_some() {
        super::static_mode::end(asked, &mut draft, tag);
    }
    if let Some(no) = surface.alarm
        && let Some(alarm) = asked.state.alarms.get(&no)
        && asked.state.quiet_at(tag, asked.now)
    {
        let mut now: Alarm = alarm.clone();
        now.resume(asked.now);
        now.newest = newest;
        alarm::edit(asked.state, asked.facility, &mut draft, no, &now, None);
    }
    if !matches!(surface.life, Life::Placed { .. }) {
        // Out of service and still under a bed: what it needs is another surface, not a checklist.
        let text = say!(lang, "cpr-over-out", surface = asked.with_bed(tag));
        return Ok(draft.private(Message::text(text)));
    }
    let list = set_up::open(
        asked,
        &mut draft,
        tag,
        bed,
        Opening::Cpr,
        &[],
        set_up::placed_list(surface),
    );
    let view = View::new(asked, tag, surface, list);
    let mut next = message(asked, &view);
    next.text = format!("{}\n{}", next.text, say!(lang, "cpr-over-gone"));
    Ok(draft.answer(Answer::Private(next)))
}

/// The valve has been open for a while: the call about it, and the one after which nobody is spared any more.
pub(super) fn notice(
    state: &State,
    facility: &Facility,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Option<Notice> {
    let surface = state.surfaces.get(tag)?;
    let mark = surface.cpr?;
    let lang = state.lang();
    let text = say!(
        lang,
        if state.quiet_at(tag, now) {
            "post-cpr-open"
        } else {
            "post-cpr-forgotten"
        },
        surface = in_post(state, lang, tag),
        span = span(lang, (now - mark.at).num_minutes())
    );
    Some(Notice {
        channel: alarm::channel(state, facility, tag),
        message: Message::text(text).buttons(vec![over_button(lang, tag, mark.said)]),
    })
}
