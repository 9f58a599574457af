//! Other work that a message told of: one tap for what the message has whole, the question itself where nothing is recorded,
//! and the alarm of a surface that was not named. Decides what is offered; each tap is the same question as the command.

use chrono::{DateTime, Utc};

use super::{Offer, describe, offer, said_of};
use crate::choice::LeaveWhy;
use crate::decide::draft::{Asked, button, clock_time, find_unit, in_post, person, unit_of_asker};
use crate::decide::{check, cpr, duty, leave, look_first, matching as matches, outage as power};
use crate::decide::{setting, static_mode};
use crate::decision::Decision;
use crate::ids::{Person, Tag, Unit};
use crate::message::{Answer, BUTTONS_MAX, Button, ENTRIES_MAX, Look, Menu, MenuEntry, Message};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::authorize;
use crate::rules::hand_check::Kind;
use crate::rules::look_first::{self as rules, Sign};
use crate::rules::plain::{About, AirSaid, Deed, Place, Understood};
use crate::rules::policy::Name;
use crate::say;
use crate::state::Leave;
use crate::tap::{Bedside, Begun, Plain, SETTING_BYTES_MAX, Spoken, Tap, Work};

/// For how many days a bed is said to be empty, in buttons, where nobody said until when.
const DAYS: [u8; 2] = [1, 3];
/// The same of static mode, in minutes.
const STATIC_MINUTES: [u16; 3] = [15, 30, 60];

/// "Power is out in Cedar": one button that says so, or one for each unit.
pub(super) fn outage(
    asked: &Asked<'_>,
    unit: Option<&str>,
    doubted: bool,
) -> Result<Message, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    authorize(state, asked.ask, Right::RaiseAlarm)?;
    let here = match unit {
        Some(typed) => Some(find_unit(state, typed)?),
        None => unit_of_asker(state, asked.ask),
    };
    let tap = |unit: &Unit| {
        Tap::Plain(Plain::Outage {
            who: asked.ask.who,
            at: asked.now.timestamp(),
            unit: unit.clone(),
        })
    };
    let after = say!(lang, "plain-echo", who = person(asked.ask.who));
    if let Some(unit) = here {
        if !doubted && let Some((no, open)) = state.outage_of(unit) {
            if asked.unknown {
                return Ok(Message::text(say!(
                    lang,
                    "plain-outage-unknown",
                    unit = unit.as_str(),
                    at = clock_time(open.since)
                )));
            }
            return Ok(power::card(state, lang, no, open));
        }
        let text = say!(lang, "plain-outage", unit = unit.as_str());
        let yes = button(lang, "button-confirm-outage", Look::Caution, &tap(unit));
        return Ok(Message::text(format!("{text}\n{after}")).buttons(vec![yes]));
    }
    if state.units.is_empty() {
        return Err(Refusal::new("fault-no-units"));
    }
    let buttons: Vec<Button> = state
        .units
        .keys()
        .take(ENTRIES_MAX)
        .map(|unit| Button {
            id: tap(unit).id(),
            label: say!(lang, "plain-button-outage", unit = unit.as_str()),
            look: Look::Caution,
        })
        .collect();
    let text = say!(lang, "plain-outage-where");
    Ok(buttons
        .chunks(BUTTONS_MAX)
        .fold(Message::text(format!("{text}\n{after}")), |message, row| {
            message.buttons(row.to_vec())
        }))
}

/// "Yes, no power": the same question as `/outage`.
pub(super) fn no_power(
    asked: &Asked<'_>,
    who: Person,
    at: i64,
    unit: &Unit,
) -> Result<Decision, Refusal> {
    if let Some(no) = super::not_confirmed(asked, who, at)? {
        return Ok(no);
    }
    power::outage(asked, Some(unit.as_str())).map(look_first::in_its_place)
}

/// "Who has Cedar tonight?"
pub(super) fn on_duty(asked: &Asked<'_>, unit: &str) -> Result<Message, Refusal> {
    let unit = find_unit(asked.state, unit)?;
    let line = duty::on_duty_line(asked.state, asked.lang, Some(unit), asked.now)
        .unwrap_or_else(|| say!(asked.lang, "plain-no-duties"));
    Ok(Message::text(format!("**{unit}** · {line}")))
}

/// "I have Elm till 3": the button of the shift's card, for that unit and until then. An hour without its half of the day
/// has a button for each of the two, the nearer one first.
pub(super) fn claim(
    asked: &Asked<'_>,
    unit: &str,
    until: Option<&str>,
) -> Result<Message, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let unit = find_unit(state, unit)?;
    authorize(state, asked.ask, Right::Duty)?;
    let moments = match duty::until_as_said(asked, until) {
        Ok(moments) => moments,
        // Words that are no time: the command shows the forms that are.
        Err(no) if matches!(no.key, "fault-until-shape" | "fault-until-unit") => {
            return Ok(Message::text(say!(
                lang,
                "plain-none-command",
                name = "duty"
            )));
        }
        Err(no) => return Err(no),
    };
    let row = moments
        .into_iter()
        .map(|until| duty::have_button(state, lang, Some(unit), until))
        .collect();
    let text = [
        say!(lang, "plain-duty", unit = unit.as_str()),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ];
    Ok(Message::text(text.join("\n")).buttons(row))
}

/// "Need low air loss for 312": what fits, as `/match` says it.
pub(super) fn matching(
    asked: &Asked<'_>,
    kind: Option<Kind>,
    bed: Option<&str>,
) -> Result<Message, Refusal> {
    authorize(asked.state, asked.ask, Right::Spares)?;
    let Some(kind) = kind else {
        return Ok(Message::text(say!(asked.lang, "plain-match-kind")));
    };
    let found = matches::find(asked, kind, None, None, bed)?;
    Ok(match found.answer {
        Some(Answer::Private(message)) => message,
        _another => Message::default(),
    })
}

/// "Rail gap too big at 305": the form for the gaps of that bed.
pub(super) fn gaps(asked: &Asked<'_>, place: &Place) -> Result<Message, Refusal> {
    authorize(asked.state, asked.ask, Right::Gaps)?;
    let lang = asked.lang;
    let bed = match place {
        Place::Bed(bed) => crate::ids::Bed::from(bed.as_str()),
        Place::Surface(tag) => {
            let (tag, surface) = asked.surface(tag)?;
            surface
                .bed()
                .cloned()
                .ok_or_else(|| Refusal::new("fault-under-no-bed").text("tag", tag))?
        }
    };
    let form = button(
        lang,
        "plain-button-gaps",
        Look::Main,
        &Tap::Work(Work::Zones { bed }),
    );
    Ok(Message::text(say!(lang, "plain-gaps")).buttons(vec![form]))
}

/// Work at one surface: one tap where the message has it whole, else one for each usual choice.
pub(super) fn deed(asked: &Asked<'_>, tag: &str, deed: &Deed) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let (tag, surface) = asked.surface(tag)?;
    let name = in_post(asked.state, lang, tag);
    let entries: Vec<Spoken> = match deed {
        Deed::Back => {
            authorize(asked.state, asked.ask, Right::Check)?;
            let Some(Leave { said, .. }) = &surface.leave else {
                return Ok(Message::text(say!(lang, "plain-not-away", surface = name)));
            };
            let begun = Begun {
                tag: tag.clone(),
                since: said.timestamp(),
            };
            let back = button(
                lang,
                "button-back",
                Look::Main,
                &Tap::Bedside(Bedside::Back { begun }),
            );
            let text = say!(lang, "plain-back", surface = name);
            return Ok(Message::text(text).buttons(vec![back]));
        }
        Deed::Cpr => vec![Spoken::Cpr],
        Deed::Set(setting) => {
            let read = setting::read(asked, asked.state.profile_of(surface), setting)?;
            if !read.is_ascii() || read.len() > SETTING_BYTES_MAX {
                let text = say!(lang, "plain-none-command", name = "setting");
                return Ok(Message::text(text));
            }
            vec![Spoken::Set { setting: read }]
        }
        Deed::Static => {
            let most = asked.state.policies.get(Name::StaticMost);
            STATIC_MINUTES
                .into_iter()
                .filter(|minutes| i64::from(*minutes) <= most)
                .map(|minutes| Spoken::Static { minutes })
                .collect()
        }
        Deed::Away(why) => {
            let most = asked.state.policies.get(Name::LeaveDays);
            DAYS.into_iter()
                .filter(|days| i64::from(*days) <= most && *why != LeaveWhy::Chair)
                .map(|days| Spoken::Away { why: *why, days })
                .collect()
        }
    };
    let Some(first) = entries.first() else {
        return Ok(Message::text(say!(lang, "plain-none")));
    };
    authorize(asked.state, asked.ask, first.right())?;
    let mut lines = vec![describe(asked, tag, first)];
    if *first == Spoken::Cpr {
        lines.push(say!(lang, "plain-cpr-first"));
    }
    lines.push(say!(lang, "plain-echo", who = person(asked.ask.who)));
    let echo = said_of(asked, tag, surface.newest);
    let row = entries
        .into_iter()
        .map(|entry| {
            let label = match &entry {
                Spoken::Static { minutes } => {
                    say!(lang, "plain-button-minutes", count = i64::from(*minutes))
                }
                Spoken::Away { days, .. } => {
                    say!(lang, "plain-button-days", count = i64::from(*days))
                }
                Spoken::Check(_)
                | Spoken::Alarm { .. }
                | Spoken::Found { .. }
                | Spoken::Filter { .. }
                | Spoken::Clean { .. }
                | Spoken::Cpr
                | Spoken::Set { .. } => say!(lang, "button-confirm"),
            };
            let echo = echo.clone();
            Button {
                id: Tap::Plain(Plain::Confirm { echo, entry }).id(),
                label,
                look: Look::Main,
            }
        })
        .collect();
    Ok(Message::text(lines.join("\n")).buttons(row))
}

/// "Yes" to one of these: the same question as its command.
pub(super) fn done(asked: &Asked<'_>, tag: &str, entry: Spoken) -> Result<Decision, Refusal> {
    match entry {
        Spoken::Cpr => cpr::cpr(asked, tag),
        Spoken::Set { setting: text } => setting::setting(asked, tag, Some(text)),
        Spoken::Static { minutes } => {
            static_mode::static_mode(asked, tag, &format!("{minutes} min"))
        }
        Spoken::Away { why, days } => {
            let (tag, surface) = asked.surface(tag)?;
            let bed = surface
                .bed()
                .ok_or_else(|| Refusal::new("fault-under-no-bed").text("tag", tag))?;
            leave::leave(
                asked,
                bed.as_str(),
                &format!("{} h", u32::from(days) * 24),
                Some(why),
            )
        }
        Spoken::Check(_)
        | Spoken::Alarm { .. }
        | Spoken::Found { .. }
        | Spoken::Filter { .. }
        | Spoken::Clean { .. } => Err(Refusal::new("fault-stale-tap")),
    }
}

/// Something beeps, and nobody said where: the list, and a menu of the writer's unit that starts the alarm.
pub(super) fn which_beeps(asked: &Asked<'_>, card: Message, sign: Sign) -> Message {
    let lang = asked.lang;
    let kind = rules::alarm(sign);
    let here = unit_of_asker(asked.state, asked.ask);
    let mut entries = Vec::new();
    let mut said = None;
    for (bed, tag) in &asked.state.under {
        if here.is_none() || asked.state.bed_units.get(bed) != here {
            continue;
        }
        let tag = tag.to_string();
        let what = Understood::Alarm {
            tag: tag.clone(),
            kind,
        };
        if let Ok(Offer::Entry(echo, entry)) = offer(asked, &what) {
            entries.push(MenuEntry {
                value: Plain::picked(&echo, &entry),
                label: in_post(asked.state, lang, &Tag::from(tag.as_str())),
                about: None,
            });
            said = Some((echo, entry));
        }
    }
    let fits = entries.len() <= ENTRIES_MAX;
    let Some((echo, entry)) = said.filter(|_| fits) else {
        let text = format!("{}\n{}", say!(lang, "plain-which-beeps"), card.text);
        return Message { text, ..card };
    };
    let menu = Menu {
        id: Tap::Plain(Plain::Pick { echo, entry }).id(),
        hint: say!(lang, "menu-start-alarm"),
        entries,
    };
    let text = format!("{}\n{}", say!(lang, "plain-which-beeps-menu"), card.text);
    let mut message = Message { text, ..card };
    message.rows.insert(0, crate::message::Row::Menu(menu));
    message
}

/// "At 3:10" is two times a day: both are buttons, the one that is nearer first.
pub(super) fn two_times(
    asked: &Asked<'_>,
    about: &About,
    air: AirSaid,
    rest: bool,
) -> Result<Option<Message>, Refusal> {
    let Some(typed) = &about.when else {
        return Ok(None);
    };
    let Some((first, second)) = check::half_day(asked, typed) else {
        return Ok(None);
    };
    let lang = asked.lang;
    let mut row = Vec::new();
    let mut said = None;
    for (at, look) in [(second, Look::Main), (first, Look::Plain)] {
        let about = About {
            when: Some(minutes_ago(asked, at)),
            ..about.clone()
        };
        let what = Understood::HandCheck { about, air };
        let Offer::Entry(echo, entry) = offer(asked, &what)? else {
            return Ok(None);
        };
        let zone = &asked.facility.zone;
        let time = zone.local(at).format("%H:%M").to_string();
        row.push(Button {
            id: Tap::Plain(Plain::Confirm {
                echo: echo.clone(),
                entry: entry.clone(),
            })
            .id(),
            label: say!(lang, "plain-button-at", time = time),
            look,
        });
        said.get_or_insert((echo, entry));
    }
    let Some((echo, Spoken::Check(of))) = said else {
        return Ok(None);
    };
    let without_time = Spoken::Check(crate::tap::Reading { when: None, ..of });
    let mut lines = vec![
        describe(asked, &echo.tag, &without_time),
        say!(lang, "plain-ask-half-day"),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ];
    if rest {
        lines.push(say!(lang, "plain-rest"));
    }
    Ok(Some(Message::text(lines.join("\n")).buttons(row)))
}

/// A moment in words that `when` reads.
fn minutes_ago(asked: &Asked<'_>, at: DateTime<Utc>) -> String {
    format!("{} min ago", (asked.now - at).num_minutes().max(0))
}
