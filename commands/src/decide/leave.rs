//! A bed that is empty for a time while its surface stays: up in a chair, in hospital, held. Decides how long that may
//! be said for, and what is asked at its end; that nothing is checked meanwhile is for `due`.

use chrono::{DateTime, Days, NaiveTime, TimeDelta, Utc};

use super::Notice;
use super::alarm;
use super::check::air_rows;
use super::draft::{Asked, button, clock_time, day_time, in_post, person, take_back};
use super::moves::{not_placed, under};
use super::place::{find_bed, release_of};
use super::set_up_calls::settle;
use crate::choice::{Call, LeaveWhy, ReleaseReason};
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Look, Menu, MenuEntry, Message};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::rules::hand_check::Check;
use crate::rules::policy::Name;
use crate::rules::until::{self, UntilFault};
use crate::say;
use crate::state::{Facility, Leave, Life, State, Surface};
use crate::tap::{Bedside, Begun, Longer, Tap};
use crate::words::Lang;

/// For how many hours somebody may be in a chair, and for how many days a bed may be kept empty, by the home's policy.
fn most(state: &State) -> (i64, i64) {
    let of = |name| state.policies.get(name);
    (of(Name::ChairHours), of(Name::LeaveDays))
}

/// `/leave`.
pub(super) fn leave(
    asked: &Asked<'_>,
    bed: &str,
    typed: &str,
    why: Option<LeaveWhy>,
) -> Result<Decision, Refusal> {
    let bed = find_bed(asked, bed)?;
    let Some((tag, surface)) = under(asked, bed) else {
        return Err(Refusal::new("fault-leave-no-surface").text("bed", bed));
    };
    if !matches!(surface.life, Life::Placed { .. }) {
        return Err(not_placed(asked, tag, surface));
    }
    if surface.cpr.is_some() {
        return Err(super::cpr::open_fault(asked, tag));
    }
    let (chair_most, away_most) = most(asked.state);
    let until = ahead(asked, typed, TimeDelta::days(away_most))?;
    let chair = until - asked.now <= TimeDelta::hours(chair_most);
    let why = match why {
        Some(LeaveWhy::Chair) if !chair => {
            // A time that has just gone by was meant for today.
            let chair = TimeDelta::hours(chair_most);
            if let Err(UntilFault::InPast { at }) =
                until::parse(typed, asked.now, &asked.facility.zone, chair)
            {
                return Err(Refusal::new("fault-until-past").text("at", day_time(at)));
            }
            return Err(Refusal::new("fault-leave-chair").number("most", chair_most));
        }
        Some(why) => why,
        // Said again without a reason: it is away for the one that was said before.
        None => match surface.leave.map(|leave| leave.why) {
            Some(why @ (LeaveWhy::Hospital | LeaveWhy::BedHold)) => why,
            Some(LeaveWhy::Chair) | None if chair => LeaveWhy::Chair,
            Some(LeaveWhy::Chair) | None => {
                return Err(Refusal::new("fault-leave-why").number("most", chair_most));
            }
        },
    };
    let earlier = surface.leave.as_ref().map(|leave| {
        say!(
            asked.lang,
            "leave-instead",
            why = why_words(asked.lang, leave.why),
            until = day_time(leave.until)
        )
    });
    begin(asked, tag, why, until, earlier)
}

/// The facts of a leave. `earlier` says that it takes the place of one that somebody else may have said.
fn begin(
    asked: &Asked<'_>,
    tag: &Tag,
    why: LeaveWhy,
    until: DateTime<Utc>,
    earlier: Option<String>,
) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let mut draft = asked.draft();
    let post_lang = asked.state.lang();
    let said = say!(
        post_lang,
        "post-still-away",
        surface = in_post(asked.state, post_lang, tag),
        until = day_time(until),
        who = person(asked.ask.who)
    );
    draft.fact(Body::LeaveBegan {
        tag: tag.clone(),
        why,
        until,
    });
    settle(asked, &mut draft, tag, Call::Leave, said);
    draft.fact(Body::Booked {
        on: On::Surface(tag.clone()),
        call: Call::Leave,
        due: until,
    });
    let mut text = say!(
        lang,
        "leave-began",
        surface = asked.with_bed(tag),
        why = why_words(lang, why),
        until = day_time(until)
    );
    if let Some(earlier) = earlier {
        text = format!("{text}\n{earlier}");
    }
    // Its own cards must name when this leave began, as it was said then.
    let said = asked
        .state
        .surfaces
        .get(tag)
        .and_then(|surface| surface.leave)
        .filter(|leave| leave.why == why)
        .map_or(asked.now, |leave| leave.said);
    let back = Tap::Bedside(Bedside::Back {
        begun: begun(tag, said),
    });
    let buttons = vec![
        button(lang, "button-back", Look::Good, &back),
        take_back(lang, &draft, tag),
    ];
    Ok(draft.private(Message::text(text).buttons(buttons)))
}

/// Back in bed: it counts as occupied, and a check is due.
pub(super) fn back(asked: &Asked<'_>, which: &Begun) -> Result<Decision, Refusal> {
    let (tag, surface, _) = current(asked, which)?;
    let lang = asked.lang;
    let mut draft = asked.draft();
    end(asked, &mut draft, tag);
    let mut lines = vec![say!(lang, "leave-back", surface = asked.with_bed(tag))];
    let mut message = Message::default();
    if asked.state.profile_of(surface).check != Check::None {
        lines.push(say!(lang, "leave-back-check"));
        message = air_rows(message, asked.state, lang, tag, asked.now);
    }
    message.text = lines.join("\n");
    let back = take_back(lang, &draft, tag);
    Ok(draft.private(message.buttons(vec![back])))
}

/// The facts that end a leave.
pub(super) fn end(asked: &Asked<'_>, draft: &mut super::draft::Draft, tag: &Tag) {
    draft.fact(Body::LeaveEnded { tag: tag.clone() });
    let lang = asked.state.lang();
    let said = say!(
        lang,
        "post-back",
        surface = in_post(asked.state, lang, tag),
        who = person(asked.ask.who),
        at = clock_time(asked.now)
    );
    settle(asked, draft, tag, Call::Leave, said);
}

/// Still away, for so much longer.
pub(super) fn longer(
    asked: &Asked<'_>,
    which: &Begun,
    longer: Longer,
) -> Result<Decision, Refusal> {
    let (tag, _, leave) = current(asked, which)?;
    let until = match longer {
        Longer::Hour => asked.now + TimeDelta::hours(1),
        Longer::FourHours => asked.now + TimeDelta::hours(4),
        Longer::Tomorrow => tomorrow(asked),
        Longer::ThreeDays => asked.now + TimeDelta::days(3),
    };
    let (chair_most, away_most) = most(asked.state);
    let most = match leave.why {
        LeaveWhy::Chair => TimeDelta::hours(chair_most),
        LeaveWhy::Hospital | LeaveWhy::BedHold => TimeDelta::days(away_most),
    };
    if until - leave.since > most {
        return Err(match leave.why {
            LeaveWhy::Chair => Refusal::new("fault-leave-chair").number("most", chair_most),
            LeaveWhy::Hospital | LeaveWhy::BedHold => {
                Refusal::new("fault-leave-long").number("most", away_most)
            }
        });
    }
    begin(asked, tag, leave.why, until, None)
}

fn tomorrow(asked: &Asked<'_>) -> DateTime<Utc> {
    let zone = &asked.facility.zone;
    let day = zone.local(asked.now).date();
    let next = day.checked_add_days(Days::new(1)).unwrap_or(day);
    let noon = NaiveTime::from_hms_opt(12, 0, 0).unwrap_or(NaiveTime::MIN);
    zone.instant(next.and_time(noon))
}

/// Gone for good: the release follows.
pub(super) fn gone(asked: &Asked<'_>, which: &Begun) -> Result<Decision, Refusal> {
    let (tag, surface, _) = current(asked, which)?;
    let lang = asked.state.lang();
    let said = say!(
        lang,
        "post-gone",
        surface = in_post(asked.state, lang, tag),
        who = person(asked.ask.who)
    );
    let mut draft = asked.draft();
    settle(asked, &mut draft, tag, Call::Leave, said);
    release_of(asked, draft, tag, surface, ReleaseReason::Discharge, None)
}

/// The leave that a card is about, as long as it has not ended.
fn current<'a>(asked: &Asked<'a>, which: &Begun) -> Result<(&'a Tag, &'a Surface, Leave), Refusal> {
    let (tag, surface) = asked.surface(which.tag.as_str())?;
    match surface.leave {
        Some(leave) if leave.said.timestamp() == which.since => Ok((tag, surface, leave)),
        Some(_) | None => {
            Err(Refusal::new("fault-leave-over").text("surface", asked.with_bed(tag)))
        }
    }
}

fn begun(tag: &Tag, said: DateTime<Utc>) -> Begun {
    Begun {
        tag: tag.clone(),
        since: said.timestamp(),
    }
}

fn why_words(lang: Lang, why: LeaveWhy) -> String {
    say!(lang, &format!("leave-{}", why.as_str()))
}

/// The line on a surface's card.
pub(super) fn line(lang: Lang, leave: &Leave, now: DateTime<Utc>) -> String {
    let why = why_words(lang, leave.why);
    let until = day_time(leave.until);
    if now < leave.until {
        say!(lang, "surface-away", why = why, until = until)
    } else {
        say!(lang, "surface-away-over", why = why, until = until)
    }
}

/// What can be said of a leave, as buttons and a menu.
pub(super) fn rows(message: Message, lang: Lang, tag: &Tag, leave: &Leave) -> Message {
    let which = begun(tag, leave.said);
    let back = Tap::Bedside(Bedside::Back {
        begun: which.clone(),
    });
    let gone = Tap::Bedside(Bedside::Gone {
        begun: which.clone(),
    });
    let away = Tap::Bedside(Bedside::Away {
        begun: which,
        longer: Longer::Hour,
    });
    let entries = Longer::offered(leave.why)
        .iter()
        .map(|longer| MenuEntry {
            value: longer.as_str().to_owned(),
            label: say!(lang, &format!("longer-{}", longer.as_str())),
            about: None,
        })
        .collect();
    message
        .buttons(vec![
            button(lang, "button-back", Look::Good, &back),
            button(lang, "button-gone", Look::Caution, &gone),
        ])
        .menu(Menu {
            id: away.id(),
            hint: say!(lang, "menu-still-away"),
            entries,
        })
}

/// The leave of a surface whose line on the due list was picked.
pub(super) fn card(asked: &Asked<'_>, tag: &Tag, leave: &Leave) -> Decision {
    let lang = asked.lang;
    let text = format!(
        "**{}**\n{}",
        asked.with_bed(tag),
        line(lang, leave, asked.now)
    );
    Decision::private(rows(Message::text(text), lang, tag, leave))
}

/// In a round: the leave was to have ended, and nobody has said whether anybody is back.
pub(super) fn asks_back(asked: &Asked<'_>, tag: &Tag, leave: &Leave) -> Message {
    let lang = asked.lang;
    let text = say!(
        lang,
        "round-back-in-bed",
        surface = asked.with_bed(tag),
        why = why_words(lang, leave.why),
        until = day_time(leave.until)
    );
    rows(Message::text(text), lang, tag, leave)
}

/// The leave was to end now.
pub(super) fn notice(state: &State, facility: &Facility, tag: &Tag) -> Option<Notice> {
    let surface = state.surfaces.get(tag)?;
    let leave = surface.leave.as_ref()?;
    let lang = state.lang();
    let text = say!(
        lang,
        "post-leave-over",
        surface = in_post(state, lang, tag),
        why = why_words(lang, leave.why)
    );
    Some(Notice {
        channel: alarm::channel(state, facility, tag),
        message: rows(Message::text(text), lang, tag, leave),
    })
}

/// A moment ahead that was typed.
pub(super) fn ahead(
    asked: &Asked<'_>,
    typed: &str,
    latest: TimeDelta,
) -> Result<DateTime<Utc>, Refusal> {
    until::parse(typed, asked.now, &asked.facility.zone, latest).map_err(|fault| match fault {
        // Days are offered only where they are taken.
        UntilFault::Empty | UntilFault::Shape if latest < TimeDelta::days(3) => {
            Refusal::new("fault-until-hours")
        }
        UntilFault::Empty | UntilFault::Shape => Refusal::new("fault-until-shape"),
        UntilFault::WhichUnit => Refusal::new("fault-until-unit"),
        UntilFault::InPast { at } => Refusal::new("fault-until-past").text("at", day_time(at)),
        UntilFault::TooFar { latest } => {
            Refusal::new("fault-until-far").text("latest", day_time(latest))
        }
        UntilFault::Skipped { next } => {
            Refusal::new("fault-when-skipped").text("next", clock_time(next))
        }
    })
}
