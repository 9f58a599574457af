//! What a message says was wrong, and why: an alarm whose cause is known from the beginning, or what was found and put right.
//! Decides what is offered, by whether its alarm is open, whether it is said to be right again, and what was read; what each tap
//! records is decided where alarms are. An answer to an alarm is given on its card, which is shown.

use super::{Offer, as_air, said_of};
use crate::choice::Cause;
use crate::decide::alarm;
use crate::decide::check::{self, band_of, show_air};
use crate::decide::draft::{Asked, button, clock_time, in_post, person};
use crate::ids::Tag;
use crate::message::{Button, Look, Message};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::authorize;
use crate::rules::hand_check::Air;
use crate::rules::plain::Mishap;
use crate::rules::priority::AlarmKind;
use crate::say;
use crate::state::Surface;
use crate::tap::{Plain, Reading, Spoken, Tap};

/// For how long it may have been so, in buttons, where nobody said since when.
const SINCE_MINUTES: [u16; 3] = [10, 60, 180];

/// What was found and put right, in words. Of an open alarm it is what closes it.
pub(super) fn describe(
    asked: &Asked<'_>,
    tag: &Tag,
    cause: Cause,
    kind: AlarmKind,
    air: Option<Air>,
) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let surface = in_post(state, lang, tag);
    let words = alarm::cause_words(lang, cause);
    let of = state.surfaces.get(tag);
    let open = of
        .and_then(|surface| surface.alarm)
        .and_then(|no| state.alarms.get(&no));
    let mut text = match open {
        Some(open) => say!(
            lang,
            "plain-fixed",
            surface = surface,
            at = clock_time(open.opened),
            cause = words
        ),
        None if kind == AlarmKind::Power => {
            say!(lang, "plain-power-found", surface = surface, cause = words)
        }
        None => say!(lang, "plain-found", surface = surface, cause = words),
    };
    if let (Some(air), Some(of)) = (air, of) {
        let air = show_air(lang, air, band_of(state, of));
        text = format!("{text} {}", say!(lang, "plain-found-air", air = air));
    }
    text
}

/// What may be recorded of it, as a tap carries it.
struct Of<'a> {
    asked: &'a Asked<'a>,
    tag: &'a Tag,
    surface: &'a Surface,
    mishap: &'a Mishap,
    /// The reading that goes with it.
    air: Option<Air>,
}

impl<'a> Of<'a> {
    fn new(asked: &'a Asked<'a>, mishap: &'a Mishap) -> Result<Self, Refusal> {
        let (tag, surface) = asked.surface(&mishap.tag)?;
        authorize(asked.state, asked.ask, Right::RaiseAlarm)?;
        // Whoever may not check calls those who may, and they measure.
        let air = mishap
            .air
            .filter(|_| may_answer(asked))
            .and_then(|said| as_air(asked, surface, said));
        Ok(Self {
            asked,
            tag,
            surface,
            mishap,
            air,
        })
    }

    fn found(&self, minutes: Option<u16>, air: Option<Air>) -> Spoken {
        Spoken::Found {
            minutes,
            cause: self.mishap.cause,
            kind: self.mishap.kind,
            air,
        }
    }

    fn alarm(&self) -> Spoken {
        Spoken::Alarm {
            kind: self.mishap.kind,
            cause: Some(self.mishap.cause),
        }
    }

    fn describe(&self, entry: &Spoken) -> String {
        super::describe(self.asked, self.tag, entry)
    }

    fn button(&self, entry: Spoken, label: String, look: Look) -> Button {
        let echo = match entry {
            Spoken::Check(_) => said_of(self.asked, self.tag, check::seen(self.surface)),
            Spoken::Alarm { .. }
            | Spoken::Found { .. }
            | Spoken::Filter { .. }
            | Spoken::Clean { .. }
            | Spoken::Cpr
            | Spoken::Away { .. }
            | Spoken::Static { .. }
            | Spoken::Set { .. } => said_of(self.asked, self.tag, self.surface.newest),
        };
        Button {
            id: Tap::Plain(Plain::Confirm { echo, entry }).id(),
            label,
            look,
        }
    }

    /// The first lines of an echo, then these, then that nothing is recorded yet.
    fn message(&self, first: String, more: Vec<String>, row: Vec<Button>) -> Message {
        let (asked, lang) = (self.asked, self.asked.lang);
        let mut lines = vec![first];
        lines.extend(more);
        // The list of causes has none that says it: what it was is a note.
        if self.mishap.cause == Cause::Other {
            lines.push(say!(lang, "plain-cause-other"));
        }
        if self.mishap.air.is_some() && self.air.is_none() {
            lines.push(say!(lang, "plain-cause-no-air"));
        }
        lines.push(say!(lang, "plain-echo", who = person(asked.ask.who)));
        Message::text(lines.join("\n")).buttons(row)
    }
}

fn may_answer(asked: &Asked<'_>) -> bool {
    Right::AnswerAlarm.roles().contains(&asked.role)
}

/// What was wrong: what can be tapped for it.
pub(super) fn caused(asked: &Asked<'_>, mishap: &Mishap) -> Result<Message, Refusal> {
    let of = Of::new(asked, mishap)?;
    if of.surface.alarm.is_some() {
        return open_alarm(&of);
    }
    if mishap.mended {
        return found(&of);
    }
    let lang = asked.lang;
    let alarm = of.alarm();
    let mut more = Vec::new();
    let mut row = Vec::new();
    if of.surface.bed().is_none() {
        more.extend(alarm::nobody::echo_line(asked, of.tag));
        row.push(of.button(
            alarm.clone(),
            say!(lang, "button-confirm-alarm"),
            Look::Main,
        ));
        return Ok(of.message(of.describe(&alarm), more, row));
    }
    more.push(say!(lang, "plain-cause-mended"));
    let start = say!(lang, "button-not-mended");
    row.push(of.button(alarm.clone(), start, Look::Caution));
    row.push(mended_button(&of));
    row.extend(only_air(&of));
    Ok(of.message(of.describe(&alarm), more, row))
}

/// It is put right, with the reading where there is one.
fn mended_button(of: &Of<'_>) -> Button {
    let lang = of.asked.lang;
    let label = match of.air {
        Some(air) => {
            let air = show_air(lang, air, band_of(of.asked.state, of.surface));
            say!(lang, "button-mended-air", air = air)
        }
        None => say!(lang, "button-mended"),
    };
    of.button(of.found(None, of.air), label, Look::Main)
}

/// Nothing but the reading.
fn only_air(of: &Of<'_>) -> Option<Button> {
    let lang = of.asked.lang;
    let air = of.air?;
    let words = show_air(lang, air, band_of(of.asked.state, of.surface));
    let reading = Reading::alone(air);
    let label = say!(lang, "button-only-air", air = words);
    Some(of.button(Spoken::Check(reading), label, Look::Plain))
}

/// Its alarm is open: what closes it, or its card where it is not said to be right again.
fn open_alarm(of: &Of<'_>) -> Result<Message, Refusal> {
    let (asked, lang) = (of.asked, of.asked.lang);
    let entry = of.found(None, of.air);
    if !may_answer(asked) {
        return answered(asked, of.tag.as_str());
    }
    if of.mishap.mended {
        let next = of.air.is_none().then(|| say!(lang, "plain-fixed-next"));
        let yes = of.button(entry.clone(), say!(lang, "button-confirm"), Look::Main);
        return Ok(of.message(of.describe(&entry), next.into_iter().collect(), vec![yes]));
    }
    let mut row = vec![mended_button(of)];
    row.extend(only_air(of));
    let said = say!(
        lang,
        "plain-cause-open",
        surface = in_post(asked.state, lang, of.tag),
        cause = alarm::cause_words(lang, of.mishap.cause)
    );
    let mut message = of.message(said, Vec::new(), row);
    message.rows.extend(card_of(asked, of.tag)?.rows);
    Ok(message)
}

/// "Found it unplugged, plugged it back in": since when, where that is not said; and the check that it wants, once that is
/// confirmed.
fn found(of: &Of<'_>) -> Result<Message, Refusal> {
    let (asked, lang, mishap) = (of.asked, of.asked.lang, of.mishap);
    if of.surface.bed().is_none() {
        return Err(Refusal::new("fault-under-no-bed").text("tag", of.tag));
    }
    let known = mishap
        .since
        .as_deref()
        .and_then(|text| check::moment(asked, text).ok())
        .and_then(|at| u16::try_from((asked.now - at).num_minutes()).ok());
    let choices: Vec<Option<u16>> = match known {
        Some(minutes) => vec![Some(minutes)],
        None => SINCE_MINUTES
            .iter()
            .copied()
            .map(Some)
            .chain([None])
            .collect(),
    };
    let key = if mishap.kind == AlarmKind::Power {
        "plain-power-since"
    } else {
        "plain-found-since"
    };
    let asks = known.is_none().then(|| say!(lang, key));
    let row = choices
        .into_iter()
        .map(|minutes| {
            let label = match minutes {
                Some(_) if known.is_some() => say!(lang, "button-confirm"),
                Some(minutes) if minutes % 60 == 0 => {
                    say!(lang, "plain-button-hours", count = i64::from(minutes / 60))
                }
                Some(minutes) => say!(lang, "plain-button-minutes", count = i64::from(minutes)),
                None => say!(lang, "plain-button-since-unknown"),
            };
            of.button(of.found(minutes, of.air), label, Look::Main)
        })
        .collect();
    let first = of.describe(&of.found(None, of.air));
    Ok(of.message(first, asks.into_iter().collect(), row))
}

/// What one tap records of it, where it is one of several choices. Since when is not known then.
pub(super) fn offer(asked: &Asked<'_>, mishap: &Mishap) -> Result<Offer, Refusal> {
    let of = Of::new(asked, mishap)?;
    let placed = of.surface.bed().is_some();
    if of.surface.alarm.is_some() {
        return answered(asked, &mishap.tag).map(Offer::Instead);
    }
    if mishap.mended && !placed {
        return Err(Refusal::new("fault-under-no-bed").text("tag", of.tag));
    }
    let entry = if mishap.mended {
        of.found(None, of.air)
    } else {
        of.alarm()
    };
    let echo = said_of(asked, of.tag, of.surface.newest);
    Ok(Offer::Entry(echo, entry))
}

/// Which of several causes was it?
pub(super) fn which(
    asked: &Asked<'_>,
    mishap: &Mishap,
    among: &[Cause],
) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let first = Of::new(asked, mishap)?;
    let open = first.surface.alarm.is_some();
    if open && !may_answer(asked) {
        return answered(asked, &mishap.tag);
    }
    // Where it is not said to be right again, an alarm begins, and that is said first.
    let starts = !open && !mishap.mended;
    let mut row = Vec::new();
    for cause in among {
        let one = Mishap {
            cause: *cause,
            ..mishap.clone()
        };
        let of = Of::new(asked, &one)?;
        let entry = if starts {
            of.alarm()
        } else {
            of.found(None, of.air)
        };
        row.push(of.button(entry, alarm::cause_words(lang, *cause), Look::Main));
    }
    let key = match (starts, open) {
        (true, _) => "plain-ask-cause-alarm",
        (false, true) => "plain-ask-cause-fixed",
        (false, false) => "plain-ask-cause",
    };
    let name = in_post(asked.state, lang, first.tag);
    let text = [
        say!(lang, key, surface = name),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ];
    Ok(Message::text(text.join("\n")).buttons(row))
}

fn card_of(asked: &Asked<'_>, tag: &Tag) -> Result<Message, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let open = surface
        .alarm
        .and_then(|no| Some((no, asked.state.alarms.get(&no)?)));
    Ok(match open {
        Some((no, open)) => alarm::card(asked.state, asked.lang, no, open, None),
        None => {
            let tap = Tap::Plain(Plain::Card { tag: tag.clone() });
            let name = in_post(asked.state, asked.lang, tag);
            let text = say!(asked.lang, "plain-no-alarm", surface = name);
            let card = button(asked.lang, "button-card", Look::Plain, &tap);
            Message::text(text).buttons(vec![card])
        }
    })
}

/// "Resident in 104 is safe", "omw to 104": its card, on which that is a tap.
pub(super) fn answered(asked: &Asked<'_>, tag: &str) -> Result<Message, Refusal> {
    let (tag, surface) = asked.surface(tag)?;
    if asked.unknown
        && let Some(open) = surface.alarm.and_then(|no| asked.state.alarms.get(&no))
    {
        return Ok(super::only_open(asked, tag, open));
    }
    let mut card = card_of(asked, tag)?;
    if surface.alarm.is_some() {
        let said = say!(
            asked.lang,
            "plain-on-card",
            surface = in_post(asked.state, asked.lang, tag)
        );
        card.text = format!("{said}\n\n{}", card.text);
    }
    Ok(card)
}
