//! Who has a unit, and until when; whom to phone when nobody answers. Decides until when a duty lasts, what the cards say of
//! it, and who may end it; leaves whom a call then rings to `due::asking`.

use chrono::{DateTime, TimeDelta, Utc};

use super::check::escaped;
use super::draft::{
    Asked, Draft, button, clock_time, find_unit, person, private_fault, unit_channel,
};
use super::handover;
use super::leave::ahead;
use crate::decision::{Decision, Lane};
use crate::due::{self, card, claim};
use crate::ids::{RecordNo, Unit};
use crate::message::{BUTTONS_MAX, Button, ENTRIES_MAX, Look, Menu, MenuEntry, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::{Role, only_let_in};
use crate::rules::guard::{self, Field, Found};
use crate::rules::nearest;
use crate::say;
use crate::state::{OnDuty, State};
use crate::tap::{Duty, RELIEVE_MENU, Tap};
use crate::words::Lang;

/// The word for the whole house.
pub(super) const ALL: &str = "all";
/// A duty lasts at most so long: two shifts of eight hours, one after the other (common practice).
const HOURS_MAX: i64 = 16;
/// Whoever takes a duty so shortly before a shift ends means the one that begins then.
const BEFORE_SHIFT_MINUTES: i64 = 30;
/// The word that takes the number to phone away.
const NONE: [&str; 2] = ["none", "ninguno"];

/// Whether somebody means the whole house, as either language says it.
pub(super) fn whole_house(typed: &str) -> bool {
    let words = [ALL, "allunits", "wholehouse", "todas", "todalacasa"];
    words.contains(&nearest::fold(typed).as_str())
}

/// A tap about duty.
pub(super) fn tapped(asked: &Asked<'_>, tap: Duty) -> Result<Decision, Refusal> {
    match tap {
        Duty::Have { unit, until } => have(asked, unit.as_ref(), until),
        Duty::End { no } => end(asked, no),
        Duty::Relieve { no } => relieve(asked, no),
        Duty::Accept { handover } => handover::accept(asked, handover),
        Duty::Rest { unit, shift, part } => handover::rest(asked, unit.as_ref(), shift, part),
    }
}

/// `/duty`.
pub(super) fn duty(
    asked: &Asked<'_>,
    unit: Option<&str>,
    until: Option<&str>,
) -> Result<Decision, Refusal> {
    let unit = match unit {
        Some(typed) if whole_house(typed) => None,
        Some(typed) => Some(find_unit(asked.state, typed)?),
        // Said without a unit, it is the one they have, or the one they are in.
        None => match asked.state.duty.of(asked.ask.who, asked.now).last() {
            Some(of) => of.unit.as_ref(),
            None => Some(asked.unit(None)?.ok_or_else(|| which_unit(asked))?),
        },
    };
    let until = match until {
        Some(typed) => ahead(asked, typed, TimeDelta::hours(HOURS_MAX))?,
        None => end_of_shift(asked.state, asked.now),
    };
    Ok(take(asked, unit, until))
}

fn which_unit(asked: &Asked<'_>) -> Refusal {
    let all: Vec<&str> = asked.state.units.keys().map(Unit::as_str).collect();
    Refusal::new("fault-duty-unit").text("these", all.join(", "))
}

/// The end of the shift that runs, or of the one that is about to begin.
fn end_of_shift(state: &State, now: DateTime<Utc>) -> DateTime<Utc> {
    let next = due::next_shift(state, now);
    if next - now <= TimeDelta::minutes(BEFORE_SHIFT_MINUTES) {
        due::next_shift(state, next)
    } else {
        next
    }
}

/// Until when a duty lasts that was told in everyday words: the shift's end where nothing is said. "Till 3" is the next
/// one of the two that a duty can last to, or both, the nearer one first.
pub(super) fn until_as_said(
    asked: &Asked<'_>,
    typed: Option<&str>,
) -> Result<Vec<DateTime<Utc>>, Refusal> {
    let Some(typed) = typed else {
        return Ok(vec![end_of_shift(asked.state, asked.now)]);
    };
    let latest = TimeDelta::hours(HOURS_MAX);
    // `3`, `7:30`, and `15`, which is an hour of the day as well.
    let hour = typed
        .split(':')
        .next()
        .and_then(|hour| hour.parse::<u8>().ok());
    let typed = match typed.parse::<u8>() {
        Ok(hour) => format!("{hour}:00"),
        Err(_) => typed.to_owned(),
    };
    if !hour.is_some_and(|hour| (1..=12).contains(&hour)) {
        return ahead(asked, &typed, latest).map(|until| vec![until]);
    }
    let mut both: Vec<DateTime<Utc>> = ["am", "pm"]
        .iter()
        .filter_map(|half| ahead(asked, &format!("{typed} {half}"), latest).ok())
        .collect();
    both.sort_unstable();
    if both.is_empty() {
        return ahead(asked, &typed, latest).map(|until| vec![until]);
    }
    Ok(both)
}

/// "I have Elm until 07:00".
fn have(asked: &Asked<'_>, unit: Option<&Unit>, until: i64) -> Result<Decision, Refusal> {
    let unit = unit
        .map(|unit| find_unit(asked.state, unit.as_str()))
        .transpose()?;
    let until = DateTime::from_timestamp(until.saturating_mul(60), 0)
        .filter(|until| *until <= asked.now + TimeDelta::hours(HOURS_MAX))
        .ok_or_else(|| Refusal::new("fault-stale-tap"))?;
    if until <= asked.now {
        return Err(Refusal::new("fault-duty-past").text("at", clock_time(until)));
    }
    Ok(take(asked, unit, until))
}

/// The fact, the cards that show it, and what can be tapped next.
fn take(asked: &Asked<'_>, unit: Option<&Unit>, until: DateTime<Utc>) -> Decision {
    let (state, lang) = (asked.state, asked.lang);
    // Who is let in no more could not answer a call, and would keep it from those who can.
    let let_in_until = only_let_in(state, asked.ask, asked.role)
        .map(|let_in| let_in.until)
        .filter(|last| *last < until);
    let until = let_in_until.unwrap_or(until);
    let mine = state.duty.of(asked.ask.who, asked.now);
    let key = if mine.into_iter().any(|of| of.unit.as_ref() == unit) {
        "duty-changed"
    } else {
        "duty-taken"
    };
    let mut draft = asked.draft();
    let no = draft.fact(Body::DutyTaken {
        unit: unit.cloned(),
        until,
    });
    let mut lines = vec![say!(
        lang,
        key,
        unit = unit_words(lang, unit),
        role = role_word(lang, asked.role),
        until = clock_time(until)
    )];
    lines.extend(let_in_until.map(|_| say!(lang, "duty-let-in")));
    let others: Vec<String> = state
        .duty
        .now(unit, asked.now)
        .into_iter()
        .filter(|of| of.who != asked.ask.who)
        .map(|of| who_words(lang, of))
        .collect();
    if !others.is_empty() {
        lines.push(say!(lang, "duty-others", who = others.join(", ")));
    }
    let mut buttons = Vec::new();
    // Whoever comes and finds a handover waiting takes it over with the next tap.
    if Right::HandOver.roles().contains(&asked.role)
        && let Some(open) = handover::waiting(asked, unit)
    {
        buttons.push(button(
            lang,
            "button-accept",
            Look::Good,
            &Tap::Duty(Duty::Accept { handover: open }),
        ));
    }
    buttons.push(button(
        lang,
        "button-duty-end",
        Look::Plain,
        &Tap::Duty(Duty::End { no }),
    ));
    tell(asked, &mut draft, unit);
    draft.private(Message::text(lines.join("\n")).buttons(buttons))
}

/// "I have it no longer".
fn end(asked: &Asked<'_>, no: RecordNo) -> Result<Decision, Refusal> {
    let mut mine = asked.state.duty.of(asked.ask.who, asked.now);
    let Some(of) = mine.find(|of| of.no == no) else {
        return still_have(asked);
    };
    let lang = asked.lang;
    let mut draft = asked.draft();
    draft.fact(Body::DutyEnded {
        unit: of.unit.clone(),
        of: None,
    });
    let text = say!(
        lang,
        "duty-ended",
        unit = unit_words(lang, of.unit.as_ref())
    );
    tell(asked, &mut draft, of.unit.as_ref());
    Ok(draft.private(Message::text(text)))
}

/// An old card's button: what somebody has by now they took, or changed, later. Nothing is changed.
fn still_have(asked: &Asked<'_>) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let mine: Vec<&OnDuty> = asked.state.duty.of(asked.ask.who, asked.now).collect();
    if mine.is_empty() {
        return Err(Refusal::new("fault-duty-over"));
    }
    let mut lines = vec![say!(lang, "duty-newer")];
    let mut buttons = Vec::new();
    for of in mine.into_iter().take(BUTTONS_MAX) {
        let unit = unit_words(lang, of.unit.as_ref());
        lines.push(say!(
            lang,
            "duty-newer-line",
            unit = unit.as_str(),
            role = role_word(lang, of.role),
            since = clock_time(of.since),
            until = clock_time(of.until)
        ));
        buttons.push(Button {
            id: Tap::Duty(Duty::End { no: of.no }).id(),
            label: say!(lang, "button-duty-end-of", unit = unit),
            look: Look::Plain,
        });
    }
    Ok(Decision::private(
        Message::text(lines.join("\n")).buttons(buttons),
    ))
}

/// Somebody went and did not say so: a supervisor says it for them, and they are told.
fn relieve(asked: &Asked<'_>, no: RecordNo) -> Result<Decision, Refusal> {
    let taken = &asked.state.duty.taken;
    let Some(of) = taken.iter().find(|of| of.no == no && of.at(asked.now)) else {
        return Err(Refusal::new("fault-relieve-over"));
    };
    if of.who == asked.ask.who {
        return end(asked, no);
    }
    let unit = of.unit.as_ref();
    let mut draft = asked.draft();
    draft.fact(Body::DutyEnded {
        unit: unit.cloned(),
        of: Some(of.who),
    });
    let post_lang = asked.state.lang();
    let mut told = Message::text(say!(
        post_lang,
        "post-relieved",
        who = person(of.who),
        unit = unit_words(post_lang, unit),
        by = person(asked.ask.who),
        at = clock_time(asked.now)
    ));
    told.ping_people.push(of.who);
    draft.post(
        format!("relieved:{}", draft.first()),
        unit_channel(asked.state, asked.facility, unit),
        Lane::Routine,
        told,
    );
    tell(asked, &mut draft, unit);
    let text = say!(
        asked.lang,
        "duty-relieved",
        who = person(of.who),
        unit = unit_words(asked.lang, unit)
    );
    Ok(draft.private(Message::text(text)))
}

/// Who has what at this moment, and a menu to say of one that they have it no longer; nothing where nobody says so.
pub(super) fn on_duty(asked: &Asked<'_>) -> Option<(Vec<String>, Menu)> {
    let (state, lang) = (asked.state, asked.lang);
    let now: Vec<&OnDuty> = state
        .duty
        .taken
        .iter()
        .filter(|of| of.at(asked.now))
        .collect();
    if now.is_empty() {
        return None;
    }
    let mut lines = vec![say!(lang, "team-on-duty", count = now.len() as i64)];
    let mut entries = Vec::new();
    for (place, of) in now.iter().take(ENTRIES_MAX).enumerate() {
        let number = place as i64 + 1;
        let unit = unit_words(lang, of.unit.as_ref());
        lines.push(say!(
            lang,
            "team-on-duty-line",
            number = number,
            who = who_words(lang, of),
            unit = unit.as_str(),
            until = clock_time(of.until)
        ));
        entries.push(MenuEntry {
            value: of.no.to_string(),
            label: say!(
                lang,
                "team-on-duty-entry",
                number = number,
                role = role_word(lang, of.role),
                unit = unit.as_str()
            ),
            about: None,
        });
    }
    let menu = Menu {
        id: RELIEVE_MENU.to_owned(),
        hint: say!(lang, "menu-relieve"),
        entries,
    };
    Some((lines, menu))
}

/// The cards that show who is on duty read so from now on.
pub(super) fn tell(asked: &Asked<'_>, draft: &mut Draft, unit: Option<&Unit>) {
    let state = asked.state;
    let after = super::state_after(state, Some(asked.ask.who), asked.now, &draft.decision);
    card::refresh(&after, asked.facility, draft, unit);
    let duty = &after.duty;
    let Some(shift) = duty.looked.filter(|_| !duty.unclaimed.is_empty()) else {
        return;
    };
    if shift != due::shift_start(state, asked.now) {
        return;
    }
    let mut left = claim::unclaimed(&after, asked.now);
    left.retain(|unit| duty.unclaimed.contains(unit));
    let key = claim::key(state, shift);
    let message = claim::message(&after, state.lang(), shift, &left, asked.now);
    draft.edit(
        format!("{key}:{}", draft.first()),
        key,
        asked.facility.supervisor_channel,
        message,
    );
}

/// The button with which somebody has a unit until then.
pub(crate) fn have_button(
    state: &State,
    lang: Lang,
    unit: Option<&Unit>,
    until: DateTime<Utc>,
) -> Button {
    // A button has no markup of the platform's: the home's own clock.
    let at = state
        .facility
        .as_ref()
        .map_or_else(String::new, |facility| {
            facility.zone.local(until).format("%H:%M").to_string()
        });
    let label = match unit {
        Some(unit) => say!(lang, "button-have", unit = unit.as_str(), at = at),
        None => say!(lang, "button-have-all", at = at),
    };
    let tap = Tap::Duty(Duty::Have {
        unit: unit.cloned(),
        until: until.timestamp().div_euclid(60),
    });
    Button {
        id: tap.id(),
        label,
        look: Look::Plain,
    }
}

/// Who is on duty, in one line; nothing in a home where nobody says so.
pub(crate) fn on_duty_line(
    state: &State,
    lang: Lang,
    unit: Option<&Unit>,
    now: DateTime<Utc>,
) -> Option<String> {
    if !state.duty.in_use(now) {
        return None;
    }
    let here = state.duty.now(unit, now);
    if here.is_empty() {
        return Some(say!(lang, "duty-nobody"));
    }
    let who: Vec<String> = here.into_iter().map(|of| who_words(lang, of)).collect();
    Some(say!(lang, "duty-line", who = who.join(", ")))
}

/// Who had duty between two moments, in one line; nothing where nobody has said so lately.
pub(crate) fn had_duty_line(
    state: &State,
    lang: Lang,
    unit: Option<&Unit>,
    (from, to): (DateTime<Utc>, DateTime<Utc>),
) -> Option<String> {
    let mut who: Vec<String> = Vec::new();
    let then = state.duty.taken.iter();
    for of in then.filter(|of| of.since < to && of.until > from && of.covers(unit)) {
        let words = who_words(lang, of);
        if !who.contains(&words) {
            who.push(words);
        }
    }
    (!who.is_empty()).then(|| say!(lang, "duty-had", who = who.join(", ")))
}

fn who_words(lang: Lang, of: &OnDuty) -> String {
    say!(
        lang,
        "duty-who",
        who = person(of.who),
        role = role_word(lang, of.role)
    )
}

fn unit_words(lang: Lang, unit: Option<&Unit>) -> String {
    unit.map_or_else(|| say!(lang, "duty-whole-house"), Unit::to_string)
}

/// A role in words.
pub(crate) fn role_word(lang: Lang, role: Role) -> String {
    match role {
        Role::Clock => "loftwatch".to_owned(),
        Role::Admin | Role::Upkeep | Role::Aide | Role::Nurse | Role::Supervisor => {
            say!(lang, &format!("role-{}", role.as_str()))
        }
    }
}

/// What a ladder ends with: whom to phone, in the home's own words.
pub(crate) fn whom_to_phone(state: &State, lang: Lang) -> String {
    match &state.duty.phone {
        Some(words) => say!(lang, "phone-now", words = escaped(words)),
        None => say!(lang, "phone-now-unset"),
    }
}

/// Whom people are told to phone.
pub(super) fn phone_line(state: &State, lang: Lang) -> String {
    match &state.duty.phone {
        Some(words) => say!(lang, "phone-is", words = escaped(words)),
        None => say!(lang, "phone-unset"),
    }
}

/// `/facility phone`.
pub(super) fn phone(asked: &Asked<'_>, words: Option<String>) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let Some(words) = words else {
        return Ok(Decision::private(Message::text(phone_line(
            asked.state,
            lang,
        ))));
    };
    let mut draft = asked.draft();
    if NONE.contains(&words.to_lowercase().as_str()) {
        draft.fact(Body::PhoneSet { words: None });
        return Ok(draft.private(Message::text(say!(lang, "phone-unset"))));
    }
    if !words.chars().any(|c| c.is_ascii_digit()) {
        return Err(Refusal::new("fault-phone-number"));
    }
    // A house extension or an on-call number is meant to be read; what would identify a resident is not.
    guard::check(&words, Field::Register).map_err(|found| {
        if found == Found::Name {
            Refusal::new("fault-phone-name")
        } else {
            private_fault(found)
        }
    })?;
    let text = say!(lang, "phone-set", words = escaped(&words));
    draft.fact(Body::PhoneSet { words: Some(words) });
    Ok(draft.private(Message::text(text)))
}
