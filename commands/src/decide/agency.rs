//! Somebody from outside, let in for a shift. Decides for how long and as what, that it ends by itself, and that they are
//! told where they work; what they read before anything else is `primer`'s. Only the chat user's number is kept.

use chrono::{DateTime, TimeDelta, Utc};

use super::draft::{Asked, button, clock_time, day_time, find_unit, person, unit_channel};
use super::duty;
use super::leave::ahead;
use crate::choice::Stand;
use crate::decision::{Decision, Lane};
use crate::ids::{ChatRole, Person, RecordNo, Unit};
use crate::message::{Button, Look, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::role::Role;
use crate::rules::policy::Name;
use crate::say;
use crate::state::LetIn;
use crate::tap::{Staff, Tap};
use crate::words::Lang;

/// `/agency`.
pub(super) fn agency(
    asked: &Asked<'_>,
    (who, chat_roles): (Person, &[ChatRole]),
    stand: Stand,
    until: &str,
    unit: Option<&str>,
) -> Result<Decision, Refusal> {
    if who == asked.ask.who {
        return Err(Refusal::new("fault-agency-self"));
    }
    let state = asked.state;
    let unit = unit.map(|typed| find_unit(state, typed)).transpose()?;
    let most = TimeDelta::hours(state.policies.get(Name::AgencyHours));
    let until = ahead(asked, until, most)?;
    let own: Vec<Role> = asked
        .facility
        .roles
        .iter()
        .filter(|(_, chat)| chat_roles.contains(chat))
        .map(|(role, _)| *role)
        .collect();
    if !own.is_empty() {
        return Ok(ask_first(asked, (who, &own), stand, until, unit));
    }
    Ok(let_in(asked, who, stand, until, unit))
}

/// One of the home needs no letting in: nothing is recorded before a supervisor has seen what it would change.
fn ask_first(
    asked: &Asked<'_>,
    (who, own): (Person, &[Role]),
    stand: Stand,
    until: DateTime<Utc>,
    unit: Option<&Unit>,
) -> Decision {
    let lang = asked.lang;
    let words: Vec<String> = own
        .iter()
        .map(|role| duty::role_word(lang, *role))
        .collect();
    // Who holds that very role gains nothing by it.
    if own.contains(&Role::from(stand)) {
        let text = say!(
            lang,
            "let-in-own-same",
            who = person(who),
            own = words.join(", ")
        );
        return Decision::private(Message::text(text));
    }
    let text = say!(
        lang,
        "let-in-own",
        who = person(who),
        own = words.join(", "),
        role = role_words(lang, stand),
        until = day_time(until)
    );
    let tap = Tap::Staff(Staff::LetIn {
        person: who,
        stand,
        until: until.timestamp() / 60,
        unit: unit.cloned(),
    });
    let sure = button(lang, "button-let-in", Look::Caution, &tap);
    Decision::private(Message::text(text).buttons(vec![sure]))
}

/// "Let in all the same".
pub(super) fn let_in_sure(
    asked: &Asked<'_>,
    who: Person,
    stand: Stand,
    until: i64,
    unit: Option<&Unit>,
) -> Result<Decision, Refusal> {
    if who == asked.ask.who {
        return Err(Refusal::new("fault-agency-self"));
    }
    let unit = unit
        .map(|unit| find_unit(asked.state, unit.as_str()))
        .transpose()?;
    let most = TimeDelta::hours(asked.state.policies.get(Name::AgencyHours));
    let until = DateTime::from_timestamp(until.saturating_mul(60), 0)
        .filter(|until| *until > asked.now && *until <= asked.now + most)
        .ok_or_else(|| Refusal::new("fault-stale-tap"))?;
    Ok(let_in(asked, who, stand, until, unit))
}

/// The fact, and that they are told.
fn let_in(
    asked: &Asked<'_>,
    who: Person,
    stand: Stand,
    until: DateTime<Utc>,
    unit: Option<&Unit>,
) -> Decision {
    let state = asked.state;
    let before = state.staff.let_in_at(who, asked.now);
    let mut draft = asked.draft();
    let no = draft.fact(Body::LetIn {
        person: who,
        stand,
        until,
        unit: unit.cloned(),
    });
    // As another role than before they have nothing that they took in that one.
    if state.duty.of(who, asked.now).next().is_some() {
        duty::tell(asked, &mut draft, None);
    }
    let post_lang = state.lang();
    let text = say!(
        post_lang,
        "post-let-in",
        who = person(who),
        by = person(asked.ask.who),
        role = role_words(post_lang, stand),
        until = day_time(until)
    );
    let mut message = Message::text(text);
    message.ping_people = vec![who];
    draft.post(
        post_key(no),
        unit_channel(state, asked.facility, unit),
        Lane::Reminder,
        message,
    );
    let lang = asked.lang;
    let mut lines = vec![say!(
        lang,
        "let-in",
        who = person(who),
        role = role_words(lang, stand),
        until = day_time(until)
    )];
    if let Some(before) = before {
        lines.push(say!(
            lang,
            "let-in-before",
            role = role_words(lang, before.stand),
            until = day_time(before.until)
        ));
    }
    lines.push(say!(lang, "let-in-next"));
    let out = out_button(lang, "button-out", no);
    draft.private(Message::text(lines.join("\n")).buttons(vec![out]))
}

fn post_key(no: RecordNo) -> String {
    format!("let-in:{no}")
}

/// What somebody stands in for, in words.
pub(super) fn role_words(lang: Lang, stand: Stand) -> String {
    let role = crate::role::Role::from(stand);
    say!(lang, &format!("role-{}", role.as_str()))
}

fn out_button(lang: Lang, key: &str, no: RecordNo) -> Button {
    button(lang, key, Look::Caution, &Tap::Staff(Staff::Out { no }))
}

/// "End it now": out from this moment.
pub(super) fn out(asked: &Asked<'_>, no: RecordNo) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let found = asked
        .state
        .staff
        .let_in
        .iter()
        .find(|(_, let_in)| let_in.no == no && asked.now < let_in.until);
    let Some((who, let_in)) = found else {
        return Err(Refusal::new("fault-out-already"));
    };
    let mut draft = asked.draft();
    draft.fact(Body::LetInEnded { person: *who });
    if asked.state.duty.of(*who, asked.now).next().is_some() {
        duty::tell(asked, &mut draft, None);
    }
    let post_lang = asked.state.lang();
    let text = say!(
        post_lang,
        "post-let-in-ended",
        who = person(*who),
        by = person(asked.ask.who),
        at = clock_time(asked.now)
    );
    draft.edit(
        format!("{}:ended", post_key(no)),
        post_key(no),
        unit_channel(asked.state, asked.facility, let_in.unit.as_ref()),
        Message::text(text),
    );
    let text = say!(lang, "let-in-ended", who = person(*who));
    Ok(draft.private(Message::text(text)))
}

/// A line of who is let in.
pub(super) fn line(lang: Lang, who: Person, let_in: &LetIn) -> String {
    let unit = let_in
        .unit
        .as_ref()
        .map_or_else(String::new, |unit| format!(", {unit}"));
    say!(
        lang,
        "team-let-in",
        who = person(who),
        role = role_words(lang, let_in.stand),
        until = day_time(let_in.until),
        unit = unit
    )
}
