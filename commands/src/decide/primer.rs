//! The primer: one screen that somebody from outside reads before anything else is done for them. Decides whom it holds
//! up, that an alarm is never held up, and what stands on it for the surfaces of this home; the sentences are in `words`,
//! and defer to the home's policy, the care plan and the makers' instructions.

use std::collections::BTreeSet;

use chrono::TimeDelta;

use super::draft::{Asked, button, clock_time, day_time, unit_of_asker};
use super::{agency, staff};
use crate::choice::Stand;
use crate::decision::Decision;
use crate::due::{DueKind, list};
use crate::message::{Answer, Button, Look, Message, ROWS_MAX, TEXT_CHARS_MAX};
use crate::parse;
use crate::record::{Body, Profile};
use crate::refusal::Refusal;
use crate::request::Request;
use crate::role::{Role, from_outside};
use crate::rules::air::{Units, show};
use crate::rules::hand_check::{Check, Kind};
use crate::rules::policy::Name;
use crate::said::{Ask, Said};
use crate::say;
use crate::state::{Facility, LetIn, State};
use crate::tap::{LINE_BYTES_MAX, Power, Staff, Tap};

/// How somebody is let in who has not read the primer lately; nothing for anybody else.
pub(super) fn unread<'a>(state: &'a State, ask: &Ask) -> Option<&'a LetIn> {
    let let_in = from_outside(state, ask)?;
    let days = TimeDelta::days(state.policies.get(Name::PrimerDays));
    let read = state.staff.primers.get(&ask.who);
    read.is_none_or(|read| ask.at - *read >= days)
        .then_some(let_in)
}

/// Whether this is done at once: to raise an alarm, to be on the way to one, to say that the resident is safe; and to
/// have read the primer.
pub(super) fn passes(request: &Request) -> bool {
    matches!(
        request,
        Request::Alarm { .. }
            | Request::Outage { .. }
            | Request::Tap(
                Tap::Take { .. }
                    | Tap::Safe { .. }
                    | Tap::NameAlarm { .. }
                    | Tap::Power(Power::Take { .. })
                    | Tap::Staff(Staff::Read { .. })
            )
    )
}

/// Whether what was decided raises an alarm or a power failure: nothing left under somebody does, however it was entered.
pub(super) fn raises(decision: &Decision) -> bool {
    decision.entries.iter().any(|entry| {
        matches!(
            entry.body,
            Body::AlarmOpened { .. } | Body::OutageOpened { .. }
        )
    })
}

/// The primer, in place of what was asked.
pub(super) fn shown(
    state: &State,
    facility: &Facility,
    ask: &Ask,
    said: &Said,
    let_in: &LetIn,
) -> Decision {
    let then = parse::retyped(said).filter(|line| line.len() <= LINE_BYTES_MAX);
    Decision::private(screen(state, facility, ask, let_in, then))
}

/// The primer below the answer to whoever raised an alarm. It comes with the next step where there is no room for it, and
/// for whoever is already on the way.
pub(super) fn below(
    state: &State,
    facility: &Facility,
    ask: &Ask,
    let_in: &LetIn,
    decision: &mut Decision,
) {
    let primer = screen(state, facility, ask, let_in, None);
    if let Some(message) = staff::own_message(decision) {
        let text = format!("{}\n\n{}", message.text, primer.text);
        if text.chars().count() <= TEXT_CHARS_MAX && message.rows.len() < ROWS_MAX {
            message.text = text;
            message.rows.extend(primer.rows);
        }
    }
}

/// One screen of a phone; its button keeps what was typed.
fn screen(
    state: &State,
    facility: &Facility,
    ask: &Ask,
    let_in: &LetIn,
    then: Option<String>,
) -> Message {
    let lang = ask.lang;
    let mut lines = vec![say!(
        lang,
        "primer-head",
        role = agency::role_words(lang, let_in.stand),
        until = clock_time(let_in.until)
    )];
    let here: Vec<&Profile> = state
        .under
        .values()
        .filter_map(|tag| Some(state.profile_of(state.surfaces.get(tag)?)))
        .collect();
    let checks: BTreeSet<Check> = here.iter().map(|profile| profile.check).collect();
    let kinds: BTreeSet<Kind> = here.iter().map(|profile| profile.kind).collect();
    if checks.contains(&Check::Hand) || checks.is_empty() {
        let band = state.policies.band();
        lines.push(say!(
            lang,
            "primer-hand",
            low = show(band.low, Units::Inches),
            high = show(band.high, Units::Inches)
        ));
    }
    if checks.contains(&Check::LookAndFeel) {
        lines.push(say!(lang, "primer-feel"));
    }
    if checks.contains(&Check::None) {
        lines.push(say!(lang, "primer-no-check"));
    }
    let has = |kind| kinds.contains(&kind) || kinds.contains(&Kind::Both);
    match (has(Kind::Alternating), has(Kind::LowAirLoss)) {
        (true, true) => lines.push(say!(lang, "primer-both-kinds")),
        (true, false) => lines.push(say!(lang, "primer-alternating")),
        (false, true) => lines.push(say!(lang, "primer-low-air-loss")),
        (false, false) => {}
    }
    lines.push(say!(lang, "primer-alarm"));
    lines.push(say!(lang, "primer-never"));
    let chat = |role| {
        facility
            .roles
            .get(&role)
            .map_or_else(String::new, |chat| format!("<@&{chat}>"))
    };
    lines.push(match let_in.stand {
        Stand::Aide => say!(lang, "primer-nurse", nurses = chat(Role::Nurse)),
        Stand::Nurse => say!(
            lang,
            "primer-for-nurse",
            supervisors = chat(Role::Supervisor)
        ),
    });
    // A role of the chat is nobody's number.
    if let Some(words) = &state.duty.phone {
        lines.push(say!(
            lang,
            "primer-phone",
            words = super::check::escaped(words)
        ));
    }
    lines.push(say!(lang, "primer-foot"));
    let tap = Tap::Staff(Staff::Read { then });
    Message::text(lines.join("\n")).buttons(vec![button(
        lang,
        "button-primer-read",
        Look::Main,
        &tap,
    )])
}

/// "I have read it". What they had typed is one tap away, and is judged as it stands then.
pub(super) fn read(asked: &Asked<'_>, then: Option<&str>) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let Some(let_in) = from_outside(asked.state, asked.ask) else {
        return Err(Refusal::new("fault-primer-not-yours"));
    };
    let mut lines = Vec::new();
    let mut draft = asked.draft();
    if unread(asked.state, asked.ask).is_some() {
        draft.fact(Body::PrimerRead {});
        lines.push(say!(lang, "primer-read"));
    } else {
        lines.push(say!(lang, "primer-read-already"));
    }
    let (first, begin) = first_thing(asked, let_in);
    lines.push(first);
    lines.push(say!(lang, "primer-next", until = day_time(let_in.until)));
    let go = then.filter(|line| parse::command_of(line).is_some());
    let go = go.map(|line| {
        // No markup: what would end a line of code is in none.
        lines.push(say!(lang, "primer-typed", line = line));
        let tap = Tap::Staff(Staff::Go {
            line: line.to_owned(),
        });
        button(lang, "button-primer-go", Look::Main, &tap)
    });
    let mut message = Message::text(lines.join("\n"));
    message = message.buttons(go.into_iter().chain(begin).collect());
    Ok(draft.answer(Answer::Private(message)))
}

/// That they can begin, and with what: an alarm of their unit before its round.
fn first_thing(asked: &Asked<'_>, let_in: &LetIn) -> (String, Option<Button>) {
    let (state, lang) = (asked.state, asked.lang);
    let unit = let_in
        .unit
        .as_ref()
        .or_else(|| unit_of_asker(state, asked.ask));
    let Some(unit) = unit else {
        return (say!(lang, "primer-begin"), None);
    };
    let due = list(state, Some(unit), asked.now);
    let count = |of: fn(&DueKind) -> bool| due.iter().filter(|item| of(&item.kind)).count() as i64;
    let alarms = count(|kind| matches!(kind, DueKind::Alarm(_)));
    let checks =
        count(|kind| matches!(kind, DueKind::Recheck | DueKind::TryAgain | DueKind::Check));
    let key = match (alarms, checks) {
        (1.., _) => "primer-begin-alarm",
        (_, 1..) => "primer-begin-round",
        (_, _) => "primer-begin-nothing",
    };
    let text = say!(lang, key, unit = unit.as_str(), count = checks);
    let begin = (alarms == 0 && checks > 0).then(|| Button {
        id: Tap::StartRound { unit: unit.clone() }.id(),
        label: say!(lang, "button-start-round", unit = unit.as_str()),
        look: Look::Main,
    });
    (text, begin)
}
