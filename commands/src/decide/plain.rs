//! Messages in everyday words: what was understood is echoed in the channel with one button, and becomes the same question
//! as a command once its writer has tapped it. Decides what is echoed, who may confirm it, and until when; what a text says is
//! a rule of `rules::plain`, what follows from an entry is decided where commands are, and what is asked back in `asks`.

mod asks;
mod caused;
mod together;
mod works;

use chrono::{DateTime, TimeDelta, Utc};

use super::check::{self, band_of, show_air};
use super::draft::{Asked, button, clock_time, day_time, in_post, person, private_fault};
use super::{alarm, clean, filter, look, look_first};
use crate::decision::Decision;
use crate::due;
use crate::ids::{Person, ProfileName, RecordNo, Tag, Unit};
use crate::message::{Answer, Button, ENTRIES_MAX, Look, Message};
use crate::past::Past;
use crate::refusal::Refusal;
use crate::request::{Clean, HandCheck, Right};
use crate::role::{Role, authorize};
use crate::rules::air::{Units, show};
use crate::rules::hand_check::{Air, Band, Check};
use crate::rules::plain::{
    self, About, AirSaid, Asks, Example, Heard, Home, HomeBed, Own, Place, Understood,
};
use crate::rules::priority::AlarmKind;
use crate::said::Ask;
use crate::say;
use crate::state::{Alarm, Life, State, Surface};
use crate::tap::{
    Card, Echo, LookCard, Plain, Reading, SETTING_BYTES_MAX, SeenBy, Spoken, Tap, Work,
};

/// An echo that is older than this, in minutes, is not confirmed: it must be said again as it is now.
const CONFIRM_MINUTES_MAX: i64 = 15;

/// A message that mentions the bot.
pub(super) fn mention(asked: &Asked<'_>, text: &str, files: bool) -> Result<Decision, Refusal> {
    if files {
        return Ok(Decision::private(Message::text(say!(
            asked.lang,
            "mention-files"
        ))));
    }
    let listened = plain::listen(text, &home(asked));
    // It is answered in the language that it is written in, whatever the writer's phone is set to.
    let lang = listened.lang.unwrap_or(asked.lang);
    let asked = &Asked { lang, ..*asked };
    let calls = listened.calls;
    let answered = match listened.heard {
        Heard::Private(found) => Err(private_fault(found)),
        Heard::Nearest(example) => {
            let message = Message::text(nearest(asked, example, &listened.own));
            return Ok(Decision::private(message));
        }
        Heard::Understood { what, rest } => understood(asked, &what, rest).map(Decision::private),
        Heard::Asks(ask) => asks::asked_back(asked, ask, &listened.own),
    };
    let mut decision =
        answered.unwrap_or_else(|refused| Decision::private(Message::text(refused.say(lang))));
    // "Need a nurse" beside an entry: a chat does not call one by voice.
    if let (true, Some(Answer::Private(message))) = (calls, &mut decision.answer) {
        message.text = format!("{}\n{}", say!(lang, "plain-calls"), message.text);
    }
    Ok(decision)
}

/// A message of somebody of whom it shows no role. Who manages the chat is in no message, so an alarm, and what to look at
/// first, is answered whoever writes: its button brings what the message lacks, and is judged then as every tap is. Of an
/// alarm that is open already they hear no more than that: its card names people and says what they noted.
pub(super) fn mention_unknown(
    state: &State,
    ask: &Ask,
    text: &str,
    past: &Past,
    no: Refusal,
) -> Result<Decision, Refusal> {
    let ask = Ask {
        manages: true,
        ..ask.clone()
    };
    let Ok(mut asked) = Asked::new(state, &ask, Role::Admin, past) else {
        return Err(no);
    };
    asked.unknown = true;
    let listened = plain::listen(text, &home(&asked));
    if is_alarm(&listened.heard) {
        return mention(&asked, text, false);
    }
    let lang = listened.lang.unwrap_or(ask.lang);
    let lines = [no.say(lang), say!(lang, "plain-unknown")];
    Ok(Decision::private(Message::text(lines.join("\n"))))
}

/// Whether this is an alarm, or what to look at because of one, as far as it goes.
fn is_alarm(heard: &Heard) -> bool {
    let one = |of: &Understood| {
        matches!(
            of,
            Understood::Alarm { .. }
                | Understood::Caused(_)
                | Understood::LookFirst { .. }
                | Understood::Outage { .. }
        )
    };
    match heard {
        Heard::Understood { what, .. } => one(what),
        Heard::Asks(
            Asks::Which { each, .. } | Asks::Surface { each, .. } | Asks::NoSurface { each, .. },
        ) => !each.is_empty() && each.iter().all(one),
        Heard::Asks(Asks::Kind { .. }) => true,
        Heard::Asks(_) | Heard::Nearest(_) | Heard::Private(_) => false,
    }
}

/// The names that a message may use.
fn home<'a>(asked: &Asked<'a>) -> Home<'a> {
    let state = asked.state;
    let here = super::draft::unit_of_asker(state, asked.ask);
    let in_register = state
        .surfaces
        .iter()
        .filter(|(_, surface)| !matches!(surface.life, Life::Retired { .. }));
    let likely: Vec<&str> = match here {
        Some(_) => in_register
            .clone()
            .filter(|(_, surface)| surface.bed().and_then(|bed| state.bed_units.get(bed)) == here)
            .map(|(tag, _)| tag.as_str())
            .collect(),
        None => Vec::new(),
    };
    Home {
        tags: in_register.map(|(tag, _)| tag.as_str()).collect(),
        beds: state
            .bed_units
            .iter()
            .map(|(bed, unit)| HomeBed {
                bed: bed.as_str(),
                unit: unit.as_str(),
                under: state.under.get(bed).map(Tag::as_str),
            })
            .collect(),
        units: state.units.keys().map(Unit::as_str).collect(),
        // More than a menu holds are no help.
        likely: if likely.len() > ENTRIES_MAX {
            Vec::new()
        } else {
            likely
        },
        known: state.profiles.keys().map(ProfileName::as_str).collect(),
    }
}

/// What was understood: an entry is echoed, a question is answered.
fn understood(asked: &Asked<'_>, what: &Understood, rest: bool) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let mut message = match what {
        Understood::Help => Message::text(say!(lang, "plain-help")),
        Understood::Due { unit } => due_list(asked, unit.as_deref())?,
        Understood::Where(Place::Bed(_)) => Message::text(say!(lang, "plain-empty-bed")),
        Understood::Where(Place::Surface(tag)) => where_is(asked, tag)?,
        Understood::LookFirst { tag, sign } => {
            let tag = tag.as_deref().map(Tag::from);
            let card = look_first::card(asked, tag.as_ref(), Some(*sign), SeenBy::Channel)?;
            match tag {
                Some(_) => card,
                None => works::which_beeps(asked, card, *sign),
            }
        }
        Understood::Outage { unit } => works::outage(asked, unit.as_deref(), false)?,
        Understood::OnDuty { unit } => works::on_duty(asked, unit)?,
        Understood::Claim { unit, until } => works::claim(asked, unit, until.as_deref())?,
        Understood::Match { kind, bed } => works::matching(asked, *kind, bed.as_deref())?,
        Understood::Gaps { place } => works::gaps(asked, place)?,
        Understood::Deed { tag, deed } => works::deed(asked, tag, deed)?,
        Understood::Caused(of) => caused::caused(asked, of)?,
        Understood::Answered { tag } => caused::answered(asked, tag)?,
        Understood::HandCheck { .. }
        | Understood::Alarm { .. }
        | Understood::Filter { .. }
        | Understood::Clean { .. } => return echo(asked, what, rest),
    };
    if rest {
        message.text = format!("{}\n{}", message.text, say!(lang, "plain-rest"));
    }
    Ok(message)
}

/// What was understood, with one button to confirm it.
fn echo(asked: &Asked<'_>, what: &Understood, rest: bool) -> Result<Message, Refusal> {
    let lang = asked.lang;
    if let Understood::HandCheck { about, air } = what
        && let Some(message) = works::two_times(asked, about, *air, rest)?
    {
        return Ok(message);
    }
    let offer = match offer(asked, what)? {
        Offer::Entry(echo, entry) => (echo, entry),
        Offer::Instead(message) => return Ok(message),
        Offer::Look(_) => return Err(Refusal::new("fault-stale-tap")),
    };
    let (echo, entry) = offer;
    let mut lines = vec![
        describe(asked, &echo.tag, &entry),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ];
    if rest {
        lines.push(say!(lang, "plain-rest"));
    }
    if matches!(entry, Spoken::Alarm { .. })
        && let Some(line) = alarm::nobody::echo_line(asked, &echo.tag)
    {
        lines.insert(1, line);
    }
    // Nothing left under somebody is an alarm, however it is entered, and a voice comes first.
    let none_left = matches!(&entry, Spoken::Check(of) if of.air == Air::Touching);
    if none_left {
        lines.insert(1, say!(lang, "look-stay"));
    }
    let key = if none_left || matches!(entry, Spoken::Alarm { .. }) {
        "button-confirm-alarm"
    } else {
        "button-confirm"
    };
    let tap = Tap::Plain(Plain::Confirm { echo, entry });
    Ok(Message::text(lines.join("\n")).buttons(vec![button(lang, key, Look::Main, &tap)]))
}

/// What can be tapped for something that was understood.
enum Offer {
    /// An entry, once its writer confirms it.
    Entry(Echo, Spoken),
    /// Something to look at.
    Look(Plain),
    /// Nothing; this is said instead.
    Instead(Message),
}

/// What can be tapped for it. Whoever may not is told who may.
fn offer(asked: &Asked<'_>, what: &Understood) -> Result<Offer, Refusal> {
    let entry = match what {
        Understood::HandCheck { about, air } => return check_offer(asked, about, *air),
        Understood::Alarm { tag, kind } => {
            let (tag, surface) = asked.surface(tag)?;
            authorize(asked.state, asked.ask, Right::RaiseAlarm)?;
            if let Some(no) = surface.alarm
                && let Some(open) = asked.state.alarms.get(&no)
            {
                if asked.unknown {
                    return Ok(Offer::Instead(only_open(asked, tag, open)));
                }
                // Its card is what is acted on; a second one would only confuse.
                let said = say!(
                    asked.lang,
                    "alarm-open-already",
                    surface = in_post(asked.state, asked.lang, tag),
                    at = clock_time(open.opened)
                );
                let mut card = alarm::card(asked.state, asked.lang, no, open, None);
                card.text = format!("{said}\n\n{}", card.text);
                return Ok(Offer::Instead(card));
            }
            let entry = Spoken::Alarm {
                kind: *kind,
                cause: None,
            };
            ((tag, surface), entry)
        }
        // Since when is a choice of its own; where a surface is chosen, it is not known.
        Understood::Caused(of) => return caused::offer(asked, of),
        Understood::Answered { .. } => {
            return understood(asked, what, false).map(Offer::Instead);
        }
        Understood::Filter {
            tag,
            finding,
            action,
        } => {
            let entry = Spoken::Filter {
                finding: *finding,
                action: *action,
            };
            (asked.surface(tag)?, entry)
        }
        Understood::Clean {
            tag,
            reason,
            method,
            cover,
        } => {
            let entry = Spoken::Clean {
                reason: *reason,
                method: *method,
                cover: *cover,
            };
            (asked.surface(tag)?, entry)
        }
        Understood::LookFirst { tag, sign } => {
            let card = LookCard {
                tag: tag.as_deref().map(Tag::from),
                seen_by: SeenBy::Channel,
                at: asked.now.timestamp(),
            };
            return Ok(Offer::Look(Plain::Look { card, sign: *sign }));
        }
        Understood::Where(Place::Surface(tag)) => {
            let tag = asked.surface(tag)?.0.clone();
            return Ok(Offer::Look(Plain::Card { tag }));
        }
        Understood::Where(Place::Bed(_)) => {
            let text = say!(asked.lang, "plain-empty-bed");
            return Ok(Offer::Instead(Message::text(text)));
        }
        Understood::Outage { .. }
        | Understood::OnDuty { .. }
        | Understood::Claim { .. }
        | Understood::Match { .. }
        | Understood::Gaps { .. }
        | Understood::Deed { .. } => {
            return understood(asked, what, false).map(Offer::Instead);
        }
        Understood::Due { .. } | Understood::Help => {
            let text = say!(asked.lang, "plain-help");
            return Ok(Offer::Instead(Message::text(text)));
        }
    };
    let ((tag, surface), entry) = entry;
    authorize(asked.state, asked.ask, entry.right())?;
    Ok(Offer::Entry(said_of(asked, tag, surface.newest), entry))
}

/// That an alarm is open, to somebody who may be anybody.
fn only_open(asked: &Asked<'_>, tag: &Tag, open: &Alarm) -> Message {
    Message::text(say!(
        asked.lang,
        "plain-open-unknown",
        surface = in_post(asked.state, asked.lang, tag),
        at = clock_time(open.opened)
    ))
}

/// A hand check that waits for a yes. A limit that is no limit of the home's says too little, and is asked about.
fn check_offer(asked: &Asked<'_>, about: &About, air: AirSaid) -> Result<Offer, Refusal> {
    let (tag, surface) = asked.surface(&about.tag)?;
    authorize(asked.state, asked.ask, Right::Check)?;
    let reading = reading(asked, surface, about)?;
    match as_air(asked, surface, air) {
        Some(air) => Ok(Offer::Entry(
            said_of(asked, tag, check::seen(surface)),
            Spoken::Check(Reading { air, ..reading }),
        )),
        None => Ok(Offer::Instead(asks::reading(asked, about, &[])?)),
    }
}

/// A message about this surface, as it stands now.
fn said_of(asked: &Asked<'_>, tag: &Tag, seen: RecordNo) -> Echo {
    Echo {
        who: asked.ask.who,
        at: asked.now.timestamp(),
        seen,
        tag: tag.clone(),
    }
}

/// A check with everything but its reading.
fn reading(asked: &Asked<'_>, surface: &Surface, about: &About) -> Result<Reading, Refusal> {
    if surface.bed().is_none() {
        return Err(Refusal::new("fault-under-no-bed").text("tag", &about.tag));
    }
    let when = match &about.when {
        Some(text) => Some(check::moment(asked, text)?.timestamp().div_euclid(60)),
        None => None,
    };
    let setting = match &about.setting {
        Some(text) => {
            let profile = asked.state.profile_of(surface);
            let read = super::setting::read(asked, profile, text)?;
            Some(read).filter(|text| text.is_ascii() && text.len() <= SETTING_BYTES_MAX)
        }
        None => None,
    };
    Ok(Reading {
        air: Air::Touching,
        site: about.site,
        position: about.position,
        mode: about.mode,
        layers: about.layers,
        when,
        setting,
    })
}

/// The reading as it is recorded. "Under" and "over" are intervals of the band, so a limit inside of it is neither.
fn as_air(asked: &Asked<'_>, surface: &Surface, said: AirSaid) -> Option<Air> {
    let band = band_of(asked.state, surface);
    match said {
        AirSaid::Measured(length) => Some(Air::Measured(length)),
        AirSaid::Touching => Some(Air::Touching),
        AirSaid::CouldNot(why) => Some(Air::CouldNot(why)),
        AirSaid::Under(limit) => (limit <= band.low).then_some(Air::Under1),
        AirSaid::Over(limit) => (limit >= band.high).then_some(Air::Over),
        AirSaid::Within => {
            let by_feel = asked.state.profile_of(surface).check == Check::LookAndFeel;
            by_feel.then_some(Air::Within)
        }
    }
}

/// An entry in words, as it is echoed.
fn describe(asked: &Asked<'_>, tag: &Tag, entry: &Spoken) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let surface = in_post(state, lang, tag);
    let choice = |list: &str, word: &str| say!(lang, &format!("choice-{list}-{word}"));
    match entry {
        Spoken::Check(of) => {
            let band = state
                .surfaces
                .get(tag)
                .map_or_else(Band::default, |surface| band_of(state, surface));
            let air = show_air(lang, of.air, band);
            let key = match of.air {
                Air::CouldNot(_) => "plain-could-not",
                Air::Measured(_) | Air::Within | Air::Under1 | Air::Over | Air::Touching => {
                    "plain-check"
                }
            };
            let mut parts = vec![say!(lang, key, surface = surface, air = air)];
            parts.extend(of.site.map(|site| choice("site", site.as_str())));
            parts.extend(of.position.map(|of| choice("position", of.as_str())));
            parts.extend(of.mode.map(|mode| choice("mode", mode.as_str())));
            parts.extend(
                of.layers
                    .map(|layers| say!(lang, "plain-layers", count = i64::from(layers))),
            );
            parts.extend(
                of.setting
                    .as_ref()
                    .map(|setting| say!(lang, "plain-setting", setting = setting.as_str())),
            );
            parts.extend(of.when.and_then(minute).map(day_time));
            parts.join(" · ")
        }
        Spoken::Alarm { kind, cause } => {
            let known = *kind != AlarmKind::Unknown;
            let kind = alarm::kind_words(lang, *kind);
            match cause {
                None => say!(lang, "plain-alarm", surface = surface, kind = kind),
                Some(cause) if !known => say!(
                    lang,
                    "plain-alarm",
                    surface = surface,
                    kind = alarm::cause_words(lang, *cause)
                ),
                Some(cause) => say!(
                    lang,
                    "plain-alarm-cause",
                    surface = surface,
                    kind = kind,
                    cause = alarm::cause_words(lang, *cause)
                ),
            }
        }
        Spoken::Found {
            cause, kind, air, ..
        } => caused::describe(asked, tag, *cause, *kind, *air),
        Spoken::Filter { finding, action } => say!(
            lang,
            "plain-filter",
            surface = surface,
            finding = say!(lang, &format!("finding-{}", finding.as_str())),
            action = say!(lang, &format!("action-{}", action.as_str()))
        ),
        Spoken::Clean {
            reason,
            method,
            cover,
        } => say!(
            lang,
            "plain-clean",
            surface = surface,
            reason = say!(lang, &format!("reason-{}", reason.as_str())),
            method = say!(lang, &format!("method-{}", method.as_str())),
            cover = choice("cover", cover.as_str())
        ),
        Spoken::Cpr => say!(lang, "plain-cpr", surface = surface),
        Spoken::Away { why, .. } => say!(
            lang,
            "plain-away",
            surface = surface,
            why = choice("leave-why", why.as_str())
        ),
        Spoken::Static { .. } => say!(lang, "plain-static", surface = surface),
        Spoken::Set { setting } => say!(
            lang,
            "plain-set",
            surface = surface,
            setting = super::check::escaped(setting)
        ),
    }
}

/// The moment that so many minutes since 1970 are.
fn minute(minutes: i64) -> Option<DateTime<Utc>> {
    DateTime::from_timestamp(minutes.checked_mul(60)?, 0)
}

/// Where a surface is, as a channel may read it.
fn where_is(asked: &Asked<'_>, tag: &str) -> Result<Message, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let (tag, surface) = asked.surface(tag)?;
    let name = in_post(state, lang, tag);
    let unit = state.unit_of(tag).map_or_else(String::new, Unit::to_string);
    let line = match &surface.life {
        Life::Placed { since, .. } => say!(
            lang,
            "plain-where-placed",
            surface = name,
            unit = unit,
            since = day_time(*since)
        ),
        Life::OutOfService {
            under: Some(_),
            since,
            ..
        } => say!(
            lang,
            "plain-where-out-under",
            surface = name,
            unit = unit,
            since = day_time(*since)
        ),
        Life::Soiled(_)
        | Life::Ready { .. }
        | Life::OutOfService { under: None, .. }
        | Life::Retired { .. } => {
            let life = look::life(asked, surface);
            match look::place_line(asked, surface) {
                Some(place) => format!("**{name}** · {place}\n{life}"),
                None => format!("**{name}** · {life}"),
            }
        }
    };
    let alarm = surface.alarm.and_then(|no| state.alarms.get(&no));
    let alarm = alarm.map(|alarm| {
        let at = clock_time(alarm.opened);
        match alarm.taken {
            Some((who, since)) => say!(
                lang,
                "plain-where-alarm-taken",
                at = at,
                who = person(who),
                since = clock_time(since)
            ),
            None => say!(lang, "plain-where-alarm", at = at),
        }
    });
    let line = line + &alarm.map_or_else(String::new, |alarm| format!("\n{alarm}"));
    let tap = Tap::Plain(Plain::Card { tag: tag.clone() });
    let card = button(lang, "button-card", Look::Plain, &tap);
    Ok(Message::text(line).buttons(vec![card]))
}

/// What is due, as a channel may read it.
fn due_list(asked: &Asked<'_>, unit: Option<&str>) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let unit = look::scope(asked, unit)?;
    let items = super::work::of_scope(asked.state, asked, unit);
    let head = match unit {
        Some(unit) => say!(lang, "due-head-unit", unit = unit.as_str()),
        None => say!(lang, "due-head"),
    };
    let head = due::under_outages(asked.state, lang, unit, asked.now, head);
    // What is chosen from it is shown to the one who chose.
    let menu = Tap::Work(Work::Open {
        unit: unit.cloned(),
        tag: "".into(),
        kind: String::new(),
    });
    Ok(due::body(
        asked.state,
        lang,
        &items,
        asked.now,
        head,
        false,
        menu.id(),
    ))
}

/// The nearest thing that would have been understood.
fn nearest(asked: &Asked<'_>, example: Example, own: &Own) -> String {
    let lang = asked.lang;
    if let Example::Command(name) = example {
        return say!(lang, "plain-none-command", name = name);
    }
    let example = match example {
        Example::Voice => return say!(lang, "plain-none-voice"),
        Example::NoSurface => return say!(lang, "plain-none-surface"),
        Example::AlarmCard => return say!(lang, "plain-none-card"),
        Example::TakeBack => return say!(lang, "plain-none-take-back"),
        Example::Any | Example::Command(_) => return say!(lang, "plain-none"),
        Example::HandCheck => "check",
        Example::Alarm => "alarm",
        Example::Filter => "filter",
        Example::Clean => "clean",
        Example::Due => "due",
        Example::Where => "where",
        Example::LookFirst => "look",
    };
    say!(lang, "plain-none-like", example = like(asked, example, own))
}

/// An example with the writer's own surface, reading and unit in it; else with the home's, so that it can be typed as it stands.
fn like(asked: &Asked<'_>, example: &str, own: &Own) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let of_home = || {
        let here = super::draft::unit_of_asker(state, asked.ask);
        let in_unit = state
            .under
            .values()
            .find(|tag| here.is_some() && state.unit_of(tag) == here);
        in_unit
            .or_else(|| state.under.values().next())
            .or_else(|| state.surfaces.keys().next())
            .map(Tag::to_string)
    };
    let surface = own.surface.clone().or_else(of_home);
    let surface = surface.map_or_else(|| "LW-07".to_owned(), |of| check::escaped(&of));
    let air = own.air.as_deref().unwrap_or("1 1/4");
    let key = format!("plain-like-{example}");
    match example {
        "check" => say!(lang, &key, surface = surface, air = check::escaped(air)),
        "due" => {
            let here = super::draft::unit_of_asker(state, asked.ask).or(state.units.keys().next());
            let unit = own.unit.as_deref().or(here.map(Unit::as_str));
            say!(lang, &key, unit = unit.unwrap_or("Elm"))
        }
        _of_a_surface => say!(lang, &key, surface = surface),
    }
}

/// A tap under a message, or on a card of what to look at first.
pub(super) fn tapped(asked: &Asked<'_>, tap: Plain) -> Result<Decision, Refusal> {
    match tap {
        Plain::Confirm { echo, entry } | Plain::Pick { echo, entry } => {
            confirm(asked, &echo, entry)
        }
        Plain::Together { who, at, readings } => together::confirm(asked, who, at, &readings),
        Plain::Look { card, sign } | Plain::Sign { card, sign } => {
            look_first::other_sign(asked, &card, sign)
        }
        Plain::Start { card, kind } => look_first::start(asked, &card, kind),
        Plain::Outage { who, at, unit } => works::no_power(asked, who, at, &unit),
        Plain::Card { tag } => look::surface(asked, tag.as_str()),
    }
}

/// "Yes, record it": the same question as the command, asked now. The message says so, so that it is not tapped twice.
fn confirm(asked: &Asked<'_>, echo: &Echo, entry: Spoken) -> Result<Decision, Refusal> {
    if let Some(no) = not_confirmed(asked, echo.who, echo.at)? {
        return Ok(no);
    }
    let lang = asked.lang;
    // What the card says now may be what this very tap has recorded before: it stays.
    if let Some(newer) = newer(asked, echo, &entry)? {
        return Ok(newer);
    }
    let surface = echo.tag.as_str();
    let decision = match entry {
        Spoken::Check(of) => check::hand_check(asked, typed(asked, surface, of))?,
        Spoken::Alarm { kind, cause } => {
            alarm::raise_because(asked, surface, Some(kind), None, cause)?
        }
        Spoken::Found {
            minutes,
            cause,
            kind,
            air,
        } => {
            let of = alarm::found::Mended {
                kind,
                cause,
                minutes,
                air,
            };
            alarm::found::mended(asked, surface, &of)?
        }
        Spoken::Filter { finding, action } => filter::filter(asked, surface, finding, action)?,
        Spoken::Clean {
            reason,
            method,
            cover,
        } => {
            let typed = Clean {
                surface: surface.to_owned(),
                reason,
                method,
                product: None,
                cover,
                note: None,
            };
            clean::clean(asked, typed)?
        }
        Spoken::Cpr | Spoken::Away { .. } | Spoken::Static { .. } | Spoken::Set { .. } => {
            works::done(asked, surface, entry)?
        }
    };
    let mut decision = look_first::in_its_place(decision);
    if let Some(Answer::Replace(message)) = &mut decision.answer {
        let head = say!(lang, "plain-confirmed", who = person(echo.who));
        message.text = format!("{head}\n{}", message.text);
    }
    Ok(decision)
}

/// What is answered where it is not its writer who confirms, or too late.
fn not_confirmed(asked: &Asked<'_>, who: Person, at: i64) -> Result<Option<Decision>, Refusal> {
    if who != asked.ask.who {
        return Err(Refusal::new("fault-plain-not-yours").text("who", person(who)));
    }
    let old = TimeDelta::minutes(CONFIRM_MINUTES_MAX).num_seconds();
    if asked.now.timestamp() - at <= old {
        return Ok(None);
    }
    let text = say!(asked.lang, "plain-old", minutes = CONFIRM_MINUTES_MAX);
    let said = Decision::private(Message::text(text));
    Ok(Some(look_first::in_its_place(said)))
}

/// The hand check as the command has it.
fn typed(asked: &Asked<'_>, surface: &str, of: Reading) -> HandCheck {
    let minutes = |at: i64| {
        asked
            .now
            .timestamp()
            .div_euclid(60)
            .saturating_sub(at)
            .max(0)
    };
    HandCheck {
        surface: surface.to_owned(),
        air: of.air,
        site: of.site,
        position: of.position,
        mode: of.mode,
        layers: of.layers,
        setting: of.setting,
        when: of.when.map(|at| format!("{} min ago", minutes(at))),
        note: None,
    }
}

/// Something newer is on record than the message knew: what to answer instead of recording it. Two things that one message
/// said are recorded one after the other, so only what is of the same kind counts.
fn newer(asked: &Asked<'_>, echo: &Echo, entry: &Spoken) -> Result<Option<Decision>, Refusal> {
    let (tag, surface) = asked.surface(echo.tag.as_str())?;
    let since = |at: Option<DateTime<Utc>>| at.is_some_and(|at| at.timestamp() >= echo.at);
    let same_kind = match entry {
        Spoken::Check(_) => {
            let card = Card {
                round: None,
                tag: tag.clone(),
                seen: echo.seen,
                shown: echo.at.div_euclid(60),
            };
            return check::stale(asked, &card).transpose();
        }
        // One that is open is answered with its card by the rule for alarms.
        Spoken::Alarm { .. } | Spoken::Found { .. } => {
            surface.alarm.is_none() && since(surface.last_alarm.as_ref().map(|ended| ended.at))
        }
        Spoken::Filter { .. } => since(surface.filter.as_ref().map(|look| look.at)),
        Spoken::Clean { .. } => since(surface.cleaned.as_ref().map(|clean| clean.at)),
        // Whatever was done at the bed since then may have changed it.
        Spoken::Cpr | Spoken::Away { .. } | Spoken::Static { .. } | Spoken::Set { .. } => true,
    };
    let name = in_post(asked.state, asked.lang, tag);
    let text = say!(asked.lang, "plain-newer", surface = name);
    let newer = surface.newest > echo.seen && same_kind;
    Ok(newer.then(|| Decision::private(Message::text(text))))
}

/// A reading as a button names it.
fn air_label(asked: &Asked<'_>, surface: &Surface, air: Air) -> String {
    let lang = asked.lang;
    let band = band_of(asked.state, surface);
    let (low, high) = (
        show(band.low, Units::Inches),
        show(band.high, Units::Inches),
    );
    let by_feel = asked.state.profile_of(surface).check == Check::LookAndFeel;
    match air {
        Air::Measured(_) | Air::CouldNot(_) => show_air(lang, air, band),
        Air::Touching => say!(lang, "button-touching"),
        Air::Within => say!(lang, "button-within"),
        Air::Under1 if by_feel => say!(lang, "button-feels-low"),
        Air::Over if by_feel => say!(lang, "button-feels-high"),
        Air::Under1 => say!(lang, "button-under", low = low),
        Air::Over => say!(lang, "button-over", high = high),
    }
}

/// The band of a surface, for words.
fn band(state: &State, tag: &str) -> Band {
    state
        .surfaces
        .get(tag)
        .map_or_else(Band::default, |surface| band_of(state, surface))
}

/// A button for something that was understood.
fn choice_button(
    asked: &Asked<'_>,
    what: &Understood,
    label: String,
) -> Result<Option<Button>, Refusal> {
    let tap = match offer(asked, what)? {
        Offer::Entry(echo, entry) => Plain::Confirm { echo, entry },
        Offer::Look(tap) => tap,
        Offer::Instead(_) => return Ok(None),
    };
    Ok(Some(Button {
        id: Tap::Plain(tap).id(),
        label,
        look: Look::Plain,
    }))
}
