//! Hand checks, typed or tapped, one by one or in a round. Decides what a reading leads to: what is
//! said, what is booked, who is called, when an alarm opens by itself. The judgement is a rule of
//! `rules::hand_check`.

pub(super) mod again;

use chrono::{DateTime, TimeDelta, Utc};

use super::draft::{
    Asked, Draft, ago, button, clock_time, in_post, person, take_back_then, unit_channel,
};
use super::which_bed::which_button;
use super::{alarm, nurse, round, set_up};
use crate::choice::{Mode, Position};
use crate::decision::{Decision, Lane};
use crate::due::{self, asking};
use crate::ids::{RecordNo, Tag};
use crate::message::{Answer, Button, Field, Form, Look, Menu, MenuEntry, Message, Row};
use crate::parse::{air_text, as_air};
use crate::record::{Body, On};
use crate::refusal::Refusal;
use crate::request::HandCheck;
use crate::role::Role;
use crate::rules::air::{self, MAX_DEPTH, Tenths, Units};
use crate::rules::hand_check::{Air, Band, Check, Judgement, Why, judge, too_many_layers};
use crate::rules::policy::Name;
use crate::rules::priority::{AlarmKind, Priority};
use crate::rules::when::{self, WhenFault};
use crate::say;
use crate::state::{CheckFact, Life, Recheck, State, Surface};
use crate::tap::{Card, Tap, Then, air_word};
use crate::words::Lang;

/// A card with air buttons that is older than this belongs to another shift: its taps are not taken.
const CARD_HOURS_MAX: i64 = 12;

/// Characters of a button that a phone shows beside two others.
const LABEL_CHARS: usize = 25;
/// Characters of a tag below which nobody knows it again.
const NAME_CHARS: usize = 5;

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

/// The form with a field for the air and one for a note.
pub(super) fn air_form(lang: Lang, tag: &Tag, id: String) -> Form {
    let field = |id: &str, required, long| Field {
        id: id.to_owned(),
        label: say!(lang, &format!("form-{id}")),
        hint: say!(lang, &format!("form-{id}-hint")),
        required,
        long,
    };
    Form {
        id,
        title: say!(lang, "form-air-title", tag = tag.as_str()),
        fields: vec![field("air", true, false), field("note", false, true)],
    }
}

/// The card that asks for the air under one surface, outside of a round.
pub(super) fn air_for(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Message {
    let card = Card {
        round: None,
        tag: tag.clone(),
        seen: seen(surface),
        shown: minutes(asked.now),
    };
    ask_for(asked, &card, String::new())
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

/// When a reading is to be looked at again, out of turn. While an alarm is open its card does the asking.
pub(super) fn recheck(
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
pub(super) fn call_nurse(
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
pub(super) fn call_nurse_back(
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
fn answered(
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
        let key = if super::second_check::is_soon(asked, surface, judged, asked.now) {
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
pub(super) fn low_post(surface: &Surface, check: &CheckFact) -> Option<String> {
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
pub(super) fn recheck_post(state: &State, tag: &Tag) -> Option<String> {
    let recheck = state
        .rechecks
        .get(tag)
        .filter(|recheck| recheck.asked > 0)?;
    Some(recheck_key(tag, recheck))
}

/// The key of the post that last asked for a booked check.
pub(super) fn recheck_key(tag: &Tag, recheck: &Recheck) -> String {
    format!("recheck:{tag}:{}:{}", recheck.no, recheck.asked)
}

/// Nothing left under somebody: an alarm opens by itself, or the one that is open becomes this one.
fn bottomed_out(
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
        lines.push(super::spare::line(asked, bed, surface));
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

/// The card that asks for the air under one surface.
pub(super) fn ask_for(asked: &Asked<'_>, card: &Card, before: String) -> Message {
    let lang = asked.lang;
    let Some(surface) = asked.state.surfaces.get(&card.tag) else {
        return Message::text(before);
    };
    let band = band_of(asked.state, surface);
    let mut text = before;
    text.push_str(&say!(lang, "ask-air", surface = asked.with_bed(&card.tag)));
    if matches!(surface.life, Life::OutOfService { .. }) {
        text.push('\n');
        text.push_str(&say!(lang, "ask-air-out"));
    }
    if let Some(last) = surface.check_here() {
        let air = show_air(lang, last.air, band);
        let key = match last.judged {
            Judgement::Low | Judgement::BottomedOut => "ask-air-last-low",
            Judgement::Adequate | Judgement::High | Judgement::CouldNot => "ask-air-last",
        };
        text.push('\n');
        text.push_str(&say!(lang, key, air = air, ago = ago(last.at)));
    }
    if asked.state.profile_of(surface).check == Check::LookAndFeel {
        text.push('\n');
        text.push_str(&say!(lang, "check-maker-look"));
    }
    with_air_rows(
        Message::text(text),
        asked.state,
        lang,
        card,
        card.round.is_some(),
        None,
    )
}

/// A card for everybody that asks for the air under one surface.
pub(crate) fn air_card(
    state: &State,
    lang: Lang,
    tag: &Tag,
    now: DateTime<Utc>,
    text: String,
) -> Message {
    let card = card_of(state, tag, now);
    call_rows(Message::text(text), state, lang, &card)
}

/// Rows of a post that everybody sees: it comes up where somebody's own card stood a moment ago, so that its buttons
/// say whose reading they take.
fn call_rows(message: Message, state: &State, lang: Lang, card: &Card) -> Message {
    let message = with_air_rows(message, state, lang, card, false, Some(card.tag.as_str()));
    match which_button(state, lang, &card.tag) {
        Some(which) => message.and_button(which),
        None => message,
    }
}

/// A card about one surface as it stands at `now`.
fn card_of(state: &State, tag: &Tag, now: DateTime<Utc>) -> Card {
    Card {
        round: None,
        tag: tag.clone(),
        seen: state.surfaces.get(tag).map_or(RecordNo(0), seen),
        shown: minutes(now),
    }
}

/// The buttons and the menu for a reading of one surface, as it stands at `now`.
pub(super) fn air_rows(
    message: Message,
    state: &State,
    lang: Lang,
    tag: &Tag,
    now: DateTime<Utc>,
) -> Message {
    let card = card_of(state, tag, now);
    with_air_rows(message, state, lang, &card, false, None)
}

/// The buttons and the menu for a reading; its buttons begin with what is `named`.
fn with_air_rows(
    message: Message,
    state: &State,
    lang: Lang,
    card: &Card,
    skip: bool,
    named: Option<&str>,
) -> Message {
    let Some(surface) = state.surfaces.get(&card.tag) else {
        return message;
    };
    let (check, band) = (state.profile_of(surface).check, band_of(state, surface));
    let tap = |air| {
        Tap::Air {
            card: card.clone(),
            air,
        }
        .id()
    };
    let mut last = vec![button(
        lang,
        "button-type",
        Look::Plain,
        &Tap::TypeAir { card: card.clone() },
    )];
    if skip {
        last.push(button(
            lang,
            "button-skip",
            Look::Plain,
            &Tap::Skip { card: card.clone() },
        ));
    }
    let mut message = buttons(message, lang, check, band, tap, card.menu_id()).buttons(last);
    if let Some(name) = named {
        name_buttons(&mut message, lang, name);
    }
    message
}

/// Every button says what it is about, as far as it then still fits on a phone.
pub(super) fn name_buttons(message: &mut Message, lang: Lang, name: &str) {
    for row in &mut message.rows {
        if let Row::Buttons(buttons) = row {
            for button in buttons {
                button.label = named_label(lang, name, &button.label);
            }
        }
    }
}

/// A button's words behind a name. One that is too long for both gives up its bed, then its beginning: tags differ at
/// their end. Words so long that no name fits have a row of their own, where there is room.
pub(super) fn named_label(lang: Lang, name: &str, label: &str) -> String {
    let of = |name: &str| say!(lang, "button-of", name = name, label = label);
    let tag = name.split(" (").next().unwrap_or(name);
    let short = [name, tag]
        .into_iter()
        .map(of)
        .find(|words| words.chars().count() <= LABEL_CHARS);
    if let Some(words) = short {
        return words;
    }
    let over = of(tag).chars().count().saturating_sub(LABEL_CHARS);
    let end: String = tag.chars().skip(over + 1).collect();
    if end.chars().count() < NAME_CHARS {
        return of(tag);
    }
    of(&format!("…{end}"))
}

/// Rows for a reading by the check that the maker wants: in inches for a hand, in words for a look; then why
/// there was none.
pub(crate) fn buttons(
    message: Message,
    lang: Lang,
    check: Check,
    band: Band,
    tap: impl Fn(Air) -> String,
    menu_id: String,
) -> Message {
    let reading = |tenths: Tenths| Button {
        id: tap(Air::Measured(tenths)),
        label: show(tenths),
        look: Look::Good,
    };
    let other = |key: &str, air, look| Button {
        id: tap(air),
        label: say!(lang, key, low = show(band.low), high = show(band.high)),
        look,
    };
    let (adequate, under, over) = match check {
        Check::LookAndFeel => (
            vec![other("button-within", Air::Within, Look::Good)],
            "button-feels-low",
            "button-feels-high",
        ),
        Check::Hand | Check::None => {
            // Rounded as a typed reading is: half way from 1 to 1½ in is 1¼ in.
            (
                vec![
                    reading(band.low),
                    reading(band.middle()),
                    reading(band.high),
                ],
                "button-under",
                "button-over",
            )
        }
    };
    message
        .buttons(adequate)
        .buttons(vec![
            other("button-touching", Air::Touching, Look::Caution),
            other(under, Air::Under1, Look::Caution),
            other(over, Air::Over, Look::Plain),
        ])
        .menu(could_not_menu(lang, menu_id))
}

fn could_not_menu(lang: Lang, id: String) -> Menu {
    let entries = Why::ALL
        .iter()
        .map(|why| MenuEntry {
            value: air_word(Air::CouldNot(*why)),
            label: say!(lang, &format!("why-{}", why.as_str())),
            about: None,
        })
        .collect();
    Menu {
        id,
        hint: say!(lang, "menu-could-not"),
        entries,
    }
}

/// A card whose surface has been checked or moved since it was shown, or that is from another shift: what
/// to answer instead of taking the tap.
pub(super) fn stale(asked: &Asked<'_>, card: &Card) -> Option<Result<Decision, Refusal>> {
    let surface = match asked.surface(card.tag.as_str()) {
        Ok((_, surface)) => surface,
        Err(no) => return Some(Err(no)),
    };
    if minutes(asked.now) - card.shown > CARD_HOURS_MAX * 60 {
        return Some(Err(Refusal::new("fault-card-old")));
    }
    if seen(surface) <= card.seen {
        return None;
    }
    let band = band_of(asked.state, surface);
    let said = match surface.check_here() {
        Some(check) if check.who == Some(asked.ask.who) => say!(
            asked.lang,
            "check-already-yours",
            surface = asked.with_bed(&card.tag),
            air = show_air(asked.lang, check.air, band),
            at = clock_time(check.at)
        ),
        Some(check) => say!(
            asked.lang,
            "check-already",
            surface = asked.with_bed(&card.tag),
            air = show_air(asked.lang, check.air, band),
            at = clock_time(check.at),
            who = check.who.map_or_else(String::new, person)
        ),
        None => say!(asked.lang, "check-moved", tag = card.tag.as_str()),
    };
    let answer = match &card.round {
        Some(unit) => Answer::Replace(round::next_card(
            asked,
            asked.state,
            unit,
            round::From::After(&card.tag),
            said,
        )),
        None => Answer::Private(Message::text(said)),
    };
    Some(Ok(Decision {
        answer: Some(answer),
        ..Decision::default()
    }))
}

/// The newest record after which a card about this surface is out of date: a check or a placement.
pub(super) fn seen(surface: &Surface) -> RecordNo {
    let placed = match &surface.life {
        Life::Placed { no, .. } => *no,
        Life::Soiled(_) | Life::Ready { .. } | Life::OutOfService { .. } | Life::Retired { .. } => {
            RecordNo(0)
        }
    };
    surface
        .checks
        .iter()
        .map(|check| check.no)
        .max()
        .unwrap_or(RecordNo(0))
        .max(placed)
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
