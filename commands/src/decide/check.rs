//! Hand checks, typed or tapped, one by one or in a round. Decides what a reading leads to: what is
//! said, what is booked, who is called, when an alarm opens by itself. The judgement is a rule of
//! `rules::hand_check`.

pub(super) mod again;
mod calls;
mod cards;

use chrono::{DateTime, TimeDelta, Utc};

use calls::{answered, bottomed_out};
pub(super) use calls::{call_nurse, call_nurse_back, low_post, recheck, recheck_key, recheck_post};
use cards::call_rows;
pub(crate) use cards::{air_card, buttons};
pub(super) use cards::{
    air_for, air_form, air_rows, ask_for, name_buttons, named_label, seen, stale,
};

use super::draft::{Asked, Draft, ago, clock_time, take_back_then};
use super::{nurse, round, set_up};
use crate::choice::{Mode, Position};
use crate::decision::Decision;
use crate::due;
use crate::ids::Tag;
use crate::message::{Answer, Message};
use crate::parse::{air_text, as_air};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::request::HandCheck;
use crate::rules::air::{self, MAX_DEPTH, Tenths, Units};
use crate::rules::hand_check::{Air, Band, Check, Judgement, judge, too_many_layers};
use crate::rules::policy::Name;
use crate::rules::when::{self, WhenFault};
use crate::say;
use crate::state::{Life, State, Surface};
use crate::tap::{Card, Tap, Then};
use crate::words::Lang;

/// What belongs to a reading besides the air.
#[derive(Default)]
struct About {
    site: Option<crate::choice::Site>,
    position: Option<Position>,
    mode: Option<Mode>,
    layers: Option<u8>,
    setting: Option<String>,
    note: Option<String>,
    round: bool,
    /// From paper; one that a later line of the same paper answers is history already.
    paper: Option<Paper>,
}

/// How a reading from paper stands among the others there.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Paper {
    /// The newest there of its surface.
    Newest,
    /// A later one of the same surface follows.
    Followed,
}

/// A reading from paper, with the same judgement and bookings as one that is typed late. Says whether a nurse is to be
/// called for it: whoever enters the paper does so once for all of it.
pub(super) fn log_paper(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    air: Air,
    at: DateTime<Utc>,
    paper: Paper,
) -> Result<bool, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let about = About {
        paper: Some(paper),
        ..About::default()
    };
    let alarms = |draft: &Draft| {
        let opened = |body: &Body| matches!(body, Body::AlarmOpened { .. });
        let entries = draft.decision.entries.iter();
        entries.filter(|entry| opened(&entry.body)).count()
    };
    let before = alarms(draft);
    let newest = is_newest(surface, at, Some(paper));
    log(asked, draft, tag, surface, air, at, about)?;
    let low = is_low(judge(air, band_of(asked.state, surface)));
    // While an alarm is open its card does the calling.
    Ok(newest && low && surface.alarm.is_none() && alarms(draft) == before)
}

/// One of several readings that were told together, as it would be by itself.
pub(super) fn log_one(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    air: Air,
) -> Result<String, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    log(asked, draft, tag, surface, air, asked.now, About::default())
}

/// Whether a reading is the newest there: an older one is history, is kept, and books and calls nothing.
fn is_newest(surface: &Surface, at: DateTime<Utc>, paper: Option<Paper>) -> bool {
    surface.last_check().is_none_or(|check| check.at <= at) && paper != Some(Paper::Followed)
}

/// `/handcheck`.
pub(super) fn hand_check(asked: &Asked<'_>, typed: HandCheck) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(&typed.surface)?;
    let at = match &typed.when {
        Some(text) => moment(asked, text)?,
        None => asked.now,
    };
    let about = About {
        site: typed.site,
        position: typed.position,
        mode: typed.mode,
        layers: typed.layers,
        setting: match &typed.setting {
            Some(text) => Some(super::setting::read(
                asked,
                asked.state.profile_of(surface),
                text,
            )?),
            None => None,
        },
        note: asked.guarded(typed.note)?,
        round: false,
        paper: None,
    };
    let mut draft = asked.draft();
    let text = log(asked, &mut draft, tag, surface, typed.air, at, about)?;
    let message = nurse::rows(asked, &draft, tag, surface, Message::text(text));
    let message = after(asked, &draft, tag, surface, message);
    Ok(draft.private(message))
}

/// What can be tapped after a reading: what is missing before it counts, the checklist where something is left on it,
/// and to take it back.
pub(super) fn after(
    asked: &Asked<'_>,
    draft: &Draft,
    tag: &Tag,
    surface: &Surface,
    message: Message,
) -> Message {
    let back = take_back_then(asked.lang, draft, tag, Then::Instead);
    if let Some(missing) = set_up::missing_first(asked, draft, tag) {
        let mut message = message;
        message.rows.extend(missing.rows);
        return message.and_button(back);
    }
    let last_step = set_up::placed_list(surface).is_some_and(|list| {
        let ticked = draft
            .decision
            .entries
            .iter()
            .any(|entry| matches!(&entry.body, Body::StepsDone { .. }));
        ticked && list.left().count() == 1
    });
    let mut buttons = Vec::new();
    if set_up::placed_list(surface).is_some() && !last_step {
        buttons.push(super::set_up_calls::card_button(asked.lang, tag));
    }
    buttons.push(back);
    message.buttons(buttons)
}

/// A button on a card with air buttons.
pub(super) fn tapped(asked: &Asked<'_>, card: &Card, air: Air) -> Result<Decision, Refusal> {
    if let Air::Measured(tenths) = air
        && !(Tenths(0)..=MAX_DEPTH).contains(&tenths)
    {
        return Err(Refusal::new("fault-stale-tap"));
    }
    if let Some(stale) = stale(asked, card) {
        return stale;
    }
    let (tag, surface) = asked.surface(card.tag.as_str())?;
    if let Some(question) = again::asked_back(asked, card, tag, surface, air) {
        return Ok(question);
    }
    taken(asked, card, tag, surface, air)
}

/// A reading that was asked back was measured again.
pub(super) fn tapped_again(asked: &Asked<'_>, card: &Card, air: Air) -> Result<Decision, Refusal> {
    if let Some(stale) = stale(asked, card) {
        return stale;
    }
    let (tag, surface) = asked.surface(card.tag.as_str())?;
    taken(asked, card, tag, surface, air)
}

fn taken(
    asked: &Asked<'_>,
    card: &Card,
    tag: &Tag,
    surface: &Surface,
    air: Air,
) -> Result<Decision, Refusal> {
    let mut draft = asked.draft();
    let about = About {
        round: card.round.is_some(),
        ..About::default()
    };
    let text = log(asked, &mut draft, tag, surface, air, asked.now, about)?;
    Ok(round::go_on(asked, draft, card, text))
}

/// The form with a typed reading.
pub(super) fn typed(
    asked: &Asked<'_>,
    card: &Card,
    air: &str,
    note: Option<String>,
) -> Result<Decision, Refusal> {
    if let Some(stale) = stale(asked, card) {
        return stale;
    }
    let (tag, surface) = asked.surface(card.tag.as_str())?;
    let air = as_air(air_text(air)?);
    let note = asked.guarded(note)?;
    let mut draft = asked.draft();
    let about = About {
        round: card.round.is_some(),
        note,
        ..About::default()
    };
    let text = log(asked, &mut draft, tag, surface, air, asked.now, about)?;
    Ok(round::go_on(asked, draft, card, text))
}

/// The reading wants to be typed: the form for it.
pub(super) fn type_it(asked: &Asked<'_>, card: Card) -> Result<Decision, Refusal> {
    if let Some(stale) = stale(asked, &card) {
        return stale;
    }
    let form = air_form(
        asked.lang,
        &card.tag,
        Tap::AirTyped {
            card: card.clone(),
            air: String::new(),
            note: None,
        }
        .id(),
    );
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// The facts, posts and sentence that one reading leads to.
fn log(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
    air: Air,
    at: DateTime<Utc>,
    about: About,
) -> Result<String, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    if surface.bed().is_none() {
        return Err(Refusal::new("fault-under-no-bed").text("tag", tag));
    }
    if let Life::Placed { since, .. } = &surface.life
        && at < *since
    {
        return Err(Refusal::new("fault-before-placed")
            .text("tag", tag)
            .text("since", super::draft::day_time(*since)));
    }
    if surface.cpr.is_some_and(|opened| opened.at <= at) {
        return Err(super::cpr::open_fault(asked, tag));
    }
    let profile = state.profile_of(surface);
    let band = band_of(state, surface);
    let judged = judge(air, band);
    let newest = is_newest(surface, at, about.paper);
    let paper = about.paper.is_some();
    // One that could not be made in between does not make a low reading forgotten.
    let was_low = surface
        .checks_here()
        .find(|check| check.judged != Judgement::CouldNot)
        .is_some_and(|check| is_low(check.judged));
    let again = newest && was_low && is_low(judged);
    // What was found some time ago and only now typed begins no ladder: it may be over. It is to be looked at now.
    let window = TimeDelta::minutes(state.policies.get(Name::Recheck));
    let stale = judged == Judgement::BottomedOut && asked.now - at > window;
    let recheck = match (
        newest,
        stale && surface.alarm.is_none() && matches!(surface.life, Life::Placed { .. }),
    ) {
        (false, _) => None,
        (true, true) => Some(asked.now),
        (true, false) => recheck(state, surface, judged, was_low, at),
    };

    let mut lines = vec![say!(
        lang,
        &format!("check-{}", judged.as_str()),
        surface = asked.with_bed(tag),
        air = show_air(lang, air, band),
        low = show(band.low),
        high = show(band.high)
    )];
    let layers = about
        .layers
        .is_some_and(|layers| too_many_layers(layers, most_layers(state)));
    let position = about.position;
    let body = Body::HandChecked {
        tag: tag.clone(),
        air,
        judged,
        band,
        site: about.site,
        position,
        mode: about.mode,
        layers: about.layers,
        setting: about.setting,
        recheck,
        round: about.round,
        from_paper: about.paper.is_some(),
        felt: air.is_felt(profile.check),
    };
    let note = about.note.clone();
    let record = draft.fact_at(at, body, about.note);
    lines[0] = super::entry::numbered(lang, &lines[0], record);
    if newest {
        answered(asked, draft, record, tag, surface, air, band, judged);
    }
    // There was somebody under whom a hand could go: the bed is not empty.
    let in_bed =
        judged != Judgement::CouldNot && surface.leave.is_some_and(|leave| leave.since <= at);
    if in_bed {
        super::leave::end(asked, draft, tag);
    }
    let set_up = set_up::checked(asked, draft, tag, surface, at, judged);
    if at < asked.now {
        lines.push(say!(lang, "check-late", at = super::draft::day_time(at)));
    }
    if !newest {
        lines.push(say!(lang, "check-not-newest"));
    }
    if newest {
        match judged {
            Judgement::Adequate => {}
            Judgement::Low | Judgement::High => {
                lines.extend(nurse::next_words(asked, surface, judged, again));
            }
            Judgement::BottomedOut if stale => {
                let key = match nurse::acts(asked) {
                    true => "check-bottomed-out-late-nurse",
                    false => "check-bottomed-out-late",
                };
                lines.push(say!(lang, key));
            }
            Judgement::BottomedOut => {
                bottomed_out(asked, draft, tag, surface, note.clone(), &mut lines);
            }
            Judgement::CouldNot => lines.push(nurse::could_not_words(asked, was_low)),
        }
        // Lines from paper are told to the nurse together.
        if !paper && (judged == Judgement::Low || stale) {
            let note = note.as_deref();
            call_nurse(asked, draft, record, tag, surface, air, band, note, again);
        }
    }
    if in_bed {
        lines.push(say!(lang, "leave-ended"));
    }
    lines.extend(set_up.map(|(said, _)| said));
    if layers {
        lines.push(say!(lang, "check-layers", most = most_layers(state)));
    }
    if position == Some(Position::BackRaised) && judged != Judgement::CouldNot {
        lines.push(say!(lang, "check-raised"));
    }
    if matches!(surface.life, Life::OutOfService { .. }) {
        let key = match nurse::acts(asked) {
            true => "check-out-of-service-nurse",
            false => "check-out-of-service",
        };
        lines.push(say!(lang, key));
    } else if surface.alarm.is_some() && judged != Judgement::BottomedOut {
        lines.push(say!(lang, "check-alarm-open"));
    }
    match profile.check {
        Check::Hand => {}
        Check::LookAndFeel => lines.push(say!(lang, "check-maker-look")),
        Check::None => lines.push(say!(lang, "check-maker-none")),
    }
    match recheck {
        Some(due) => lines.push(say!(
            lang,
            "check-recheck",
            at = clock_time(due),
            ago = ago(due)
        )),
        None if judged == Judgement::Adequate && newest => {
            let next = due::next_shift(state, asked.now);
            lines.push(say!(lang, "check-next", at = clock_time(next)));
        }
        None => {}
    }
    Ok(lines.join("\n"))
}

pub(super) fn moment(asked: &Asked<'_>, text: &str) -> Result<DateTime<Utc>, Refusal> {
    moment_before(asked, text, asked.now)
}

/// A moment as it was meant by somebody who typed it then.
pub(super) fn moment_before(
    asked: &Asked<'_>,
    text: &str,
    then: DateTime<Utc>,
) -> Result<DateTime<Utc>, Refusal> {
    when::parse(
        text,
        then,
        &asked.facility.zone,
        TimeDelta::days(asked.state.policies.get(Name::LateDays)),
    )
    .map_err(|fault| match fault {
        WhenFault::Empty | WhenFault::Shape => Refusal::new("fault-when-shape"),
        WhenFault::WhichUnit => Refusal::new("fault-when-unit"),
        WhenFault::InFuture { at } => {
            Refusal::new("fault-when-future").text("at", super::draft::day_time(at))
        }
        WhenFault::TooOld { oldest } => {
            Refusal::new("fault-when-old").text("oldest", super::draft::day_time(oldest))
        }
        WhenFault::Skipped { next } => {
            Refusal::new("fault-when-skipped").text("next", clock_time(next))
        }
        WhenFault::WhichOfTwo { .. } => Refusal::new("fault-when-twice"),
        WhenFault::HalfDay { first, second } => {
            let typed = |at| asked.facility.zone.local(at).format("%H:%M").to_string();
            Refusal::new("fault-when-half-day")
                .text("second", typed(second))
                .text("first", typed(first))
        }
    })
}

/// The two moments that a time means which leaves its half of the day open; nothing where it is one, or none.
pub(super) fn half_day(asked: &Asked<'_>, text: &str) -> Option<(DateTime<Utc>, DateTime<Utc>)> {
    let oldest = TimeDelta::days(asked.state.policies.get(Name::LateDays));
    match when::parse(text, asked.now, &asked.facility.zone, oldest) {
        Err(WhenFault::HalfDay { first, second }) => Some((first, second)),
        Ok(_) | Err(_) => None,
    }
}

/// The band that a surface's readings are judged by: the maker's if the profile has one, else the home's.
pub(super) fn band_of(state: &State, surface: &Surface) -> Band {
    state
        .profile_of(surface)
        .band
        .unwrap_or_else(|| state.policies.band())
}

/// Minutes since 1970: how a card says when it was shown.
pub(crate) fn minutes(at: DateTime<Utc>) -> i64 {
    at.timestamp().div_euclid(60)
}

pub(super) fn is_low(judged: Judgement) -> bool {
    matches!(judged, Judgement::Low | Judgement::BottomedOut)
}

fn most_layers(state: &State) -> u8 {
    u8::try_from(state.policies.get(Name::LayersMost)).unwrap_or(u8::MAX)
}

fn show(length: Tenths) -> String {
    air::show(length, Units::Inches)
}

/// A reading in words.
pub(crate) fn show_air(lang: Lang, air: Air, band: Band) -> String {
    match air {
        Air::Measured(tenths) => show(tenths),
        Air::Under1 => say!(lang, "air-under", low = show(band.low)),
        Air::Over => say!(lang, "air-over", high = show(band.high)),
        Air::Within => say!(lang, "air-within"),
        Air::Touching => say!(lang, "air-touching"),
        Air::CouldNot(why) => say!(lang, &format!("why-{}", why.as_str())),
    }
}

/// Free text under a post, quoted line by line so that it cannot pass for ours.
pub(crate) fn quoted(note: &str) -> String {
    note.lines()
        .map(|line| format!("\n> {}", escaped(line)))
        .collect()
}

/// Free text with the platform's markup taken apart.
pub(crate) fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        if matches!(
            c,
            '*' | '_' | '~' | '`' | '|' | '<' | '>' | '#' | '[' | ']' | '\\' | '@' | ':'
        ) {
            plain.push('\\');
        }
        plain.push(c);
    }
    plain
}
