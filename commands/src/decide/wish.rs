//! Changes that wait for a supervisor: asked for by an admin, agreed to or declined by a supervisor, reminded of until
//! somebody answers or their time is over. Decides what waits and what holds meanwhile; leaves what may be wished at all
//! to the parts that are asked for it.

use chrono::{DateTime, TimeDelta, Utc};

use super::Notice;
use super::check::quoted;
use super::draft::{Asked, Draft, button, day_time, person};
use super::entry::erase;
use super::fleet::profiles;
use super::{facility, shelf};
use crate::choice::{Call, What};
use crate::decision::{Decision, Lane};
use crate::due::{asking, calls};
use crate::ids::{Bed, ChatRole, Person, ProfileName, RecordNo, ScheduleName, Unit};
use crate::message::{Answer, Button, Field, Form, Look, Message};
use crate::past::Wanted;
use crate::record::{Body, On, Profile, Record, Wish, WishEnd};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::{Role, authorize};
use crate::rules::beds;
use crate::rules::policy::{self, Name, Policy};
use crate::rules::rent;
use crate::rules::schedule::Pattern;
use crate::say;
use crate::state::{Facility, Ladder, Product, State, Waiting};
use crate::table::RUNG_MINUTES_MOST;
use crate::tap::{Setting, Tap};
use crate::words::Lang;

/// Whether a clinical change by this person waits: an admin's does, unless they are a supervisor too.
pub(super) fn waits(asked: &Asked<'_>) -> bool {
    asked.role == Role::Admin && authorize(asked.state, asked.ask, Right::ConfirmPolicy).is_err()
}

/// It is asked for, and nothing else is said.
pub(super) fn ask(asked: &Asked<'_>, wish: Wish) -> Decision {
    let mut draft = asked.draft();
    let (no, text) = add(asked, &mut draft, wish);
    draft.private(Message::text(text).buttons(vec![withdraw_button(asked.lang, no)]))
}

/// It is asked for: a record, a card for the supervisors, a reminder promised. What its asker reads, beside the number
/// of the record.
pub(super) fn add(asked: &Asked<'_>, draft: &mut Draft, wish: Wish) -> (RecordNo, String) {
    let state = asked.state;
    let older = |waiting: &Waiting| waiting.wish.same_matter(&wish);
    for (no, waiting) in state.wishes.iter().filter(|(_, of)| older(of)) {
        let text = ended_words(state, waiting, "wish-replaced", None);
        settled(state, draft, *no, text);
    }
    let no = draft.fact(match &wish {
        Wish::Policy { name, value } => Body::PolicyAsked {
            name: name.clone(),
            value: *value,
        },
        Wish::Ladder {
            first,
            second,
            third,
            repeat,
        } => Body::LadderAsked {
            first: *first,
            second: *second,
            third: *third,
            repeat: *repeat,
        },
        Wish::Schedule { .. }
        | Wish::Product { .. }
        | Wish::ProductOff { .. }
        | Wish::Roles { .. }
        | Wish::Profile { .. }
        | Wish::Approved { .. } => Body::WishAsked { wish: wish.clone() },
    });
    draft.fact(Body::Booked {
        on: On::Wish(no),
        call: Call::Agree,
        due: asked.now + calls::remind_again(state),
    });
    let text = wish_words(state, "post-wish", &wish, person(asked.ask.who));
    let message = Message::text(text).buttons(buttons(state.lang(), no));
    // It stands on lists that nobody else reads, and is no routine work: they are all asked where none is on duty.
    let message =
        asking::safety(state, None, &[Role::Supervisor], asked.now).on(asked.facility, message);
    draft.post(
        key(no),
        asked.facility.supervisor_channel,
        Lane::Routine,
        message,
    );
    let lang = asked.lang;
    let text = say!(
        lang,
        "wish-waits",
        what = subject(lang, &wish),
        wished = wished(state, lang, &wish),
        now = now(state, lang, &wish)
    );
    (no, text)
}

/// It is set at once: what was asked before about the same thing waits no more, and its card and its asker hear so.
pub(super) fn overtaken(asked: &Asked<'_>, draft: &mut Draft, by: &Wish) {
    over_with(asked, draft, "wish-overtaken", |wish| wish.same_matter(by));
}

/// A unit is taken off the list, and with it what is asked for it.
pub(super) fn unit_dropped(asked: &Asked<'_>, draft: &mut Draft, of: &Unit) {
    over_with(
        asked,
        draft,
        "wish-unit-dropped",
        |wish| matches!(wish, Wish::Schedule { unit: Some(unit), .. } if unit == of),
    );
}

fn over_with(asked: &Asked<'_>, draft: &mut Draft, key: &str, is_over: impl Fn(&Wish) -> bool) {
    let state = asked.state;
    for (no, waiting) in &state.wishes {
        if is_over(&waiting.wish) {
            draft.fact(Body::WishEnded {
                wish: *no,
                end: WishEnd::Overtaken,
            });
            let text = ended_words(state, waiting, key, Some(asked.ask.who));
            settled(state, draft, *no, text.clone());
            tell_asker(asked, draft, *no, waiting, text);
        }
    }
}

/// It was asked for by mistake, or is settled another way: whoever asked takes it back.
pub(super) fn withdraw(asked: &Asked<'_>, no: RecordNo) -> Result<Decision, Refusal> {
    let waiting = current(asked, no)?;
    if waiting.who != Some(asked.ask.who) {
        let who = waiting.who.map_or_else(String::new, person);
        return Err(Refusal::new("fault-wish-of-other").text("who", who));
    }
    let mut draft = asked.draft();
    draft.fact(Body::WishEnded {
        wish: no,
        end: WishEnd::Withdrawn,
    });
    Ok(answered(
        asked,
        draft,
        no,
        waiting,
        WishEnd::Withdrawn,
        None,
    ))
}

/// A supervisor agrees.
pub(super) fn agree(asked: &Asked<'_>, no: RecordNo) -> Result<Decision, Refusal> {
    let (state, waiting) = (asked.state, current(asked, no)?);
    // A second pair of eyes is the point of it, whatever roles the first have come to hold.
    if waiting.who == Some(asked.ask.who) {
        return Err(Refusal::new("fault-wish-own"));
    }
    let mut draft = asked.draft();
    draft.fact(Body::WishEnded {
        wish: no,
        end: WishEnd::Agreed,
    });
    draft.fact(match &waiting.wish {
        Wish::Policy { name, value } => {
            let row = policy::find(name).ok_or_else(gone)?;
            // What was safe when it was asked for may cross another threshold by now.
            let read = state.policies.read(name, &row.measure.show(*value));
            let (_, value) =
                read.map_err(|fault| facility::policy_fault(state, asked.lang, fault))?;
            Body::PolicySet {
                name: name.clone(),
                value,
            }
        }
        Wish::Ladder {
            first,
            second,
            third,
            repeat,
        } => Body::LadderSet {
            first: *first,
            second: *second,
            third: *third,
            repeat: *repeat,
        },
        Wish::Schedule { what, unit, when } => match when {
            Some(when) => {
                let when = Pattern::parse(when).map_err(|_| gone())?;
                facility::schedule_body(
                    *what,
                    unit.as_ref(),
                    &when,
                    &asked.facility.zone,
                    asked.now,
                )
            }
            None => Body::ScheduleDropped {
                name: schedule_name(*what, unit.as_ref()),
            },
        },
        Wish::Product {
            name,
            method,
            contact_minutes,
            sporicidal,
        } => Body::ProductSet {
            name: name.clone(),
            method: *method,
            contact_minutes: *contact_minutes,
            sporicidal: *sporicidal,
        },
        Wish::Approved { beds, profiles } => Body::FrameSet {
            beds: beds.clone(),
            width: None,
            length: None,
            rails: None,
            outlet: None,
            outlet_tested: None,
            outlet_failed: None,
            approved: Some(profiles.clone()),
        },
        Wish::ProductOff { name } => Body::ProductDropped { name: name.clone() },
        Wish::Roles { roles } => facility::set_up::with_roles(asked.facility, roles)?,
        Wish::Profile { profile } => Body::ProfileSet(profile.clone()),
    });
    Ok(answered(asked, draft, no, waiting, WishEnd::Agreed, None))
}

/// A supervisor does not agree: a reason may be given, and what holds goes on holding.
pub(super) fn decline(asked: &Asked<'_>, no: RecordNo) -> Result<Decision, Refusal> {
    let waiting = current(asked, no)?;
    let lang = asked.lang;
    let tap = Setting::Declined {
        wish: no,
        reason: None,
    };
    let what = subject(lang, &waiting.wish);
    let form = Form {
        id: Tap::Setting(tap).id(),
        title: say!(lang, "form-decline-title"),
        fields: vec![Field {
            id: "reason".to_owned(),
            label: say!(lang, "form-decline"),
            hint: what.chars().take(100).collect(),
            required: false,
            long: false,
        }],
    };
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// The form with the reason: whoever asked reads it on the card.
pub(super) fn declined(
    asked: &Asked<'_>,
    no: RecordNo,
    reason: Option<String>,
) -> Result<Decision, Refusal> {
    let waiting = current(asked, no)?;
    let reason = asked.guarded(reason)?;
    let mut draft = asked.draft();
    let end = WishEnd::Declined;
    let body = Body::WishEnded { wish: no, end };
    let ended = draft.fact_at(asked.now, body, reason.clone());
    let reason = reason.as_deref().map(|words| (ended, words));
    Ok(answered(asked, draft, no, waiting, end, reason))
}

/// The reason was erased: the messages that showed it are written anew without it. `None` where what had been asked for
/// must be read first.
pub(super) fn without_reason(
    asked: &Asked<'_>,
    draft: &mut Draft,
    no: RecordNo,
    declined: &Record,
) -> Option<()> {
    let read = asked.past.get(&Wanted::Entry(no))?;
    let Some(record) = read.iter().find(|record| record.no == no) else {
        return Some(());
    };
    let Some(wish) = Wish::asked_in(&record.body) else {
        return Some(());
    };
    let waiting = Waiting {
        wish,
        who: record.who,
        since: record.at,
    };
    let text = ended_words(asked.state, &waiting, "wish-reason-erased", declined.who);
    let told = waiting.who.filter(|asker| declined.who != Some(*asker));
    let told = told.map(|_| format!("{}:told", key(no)));
    for of in [Some(key(no)), told].into_iter().flatten() {
        let message = Message::text(text.as_str());
        draft.edit(
            format!("{of}:erased"),
            of,
            asked.facility.supervisor_channel,
            message,
        );
    }
    Some(())
}

fn answered(
    asked: &Asked<'_>,
    mut draft: Draft,
    no: RecordNo,
    waiting: &Waiting,
    end: WishEnd,
    reason: Option<(RecordNo, &str)>,
) -> Decision {
    let key = match end {
        WishEnd::Agreed => "wish-agreed",
        WishEnd::Withdrawn => "wish-withdrawn",
        WishEnd::Declined | WishEnd::Expired | WishEnd::Overtaken => "wish-declined",
    };
    let (state, who) = (asked.state, person(asked.ask.who));
    let text = |lang: Lang| {
        let said = say!(
            lang,
            key,
            what = subject(lang, &waiting.wish),
            wished = wished(state, lang, &waiting.wish),
            now = now(state, lang, &waiting.wish),
            asker = waiting.who.map_or_else(String::new, person),
            who = who.as_str()
        );
        match (&waiting.wish, end) {
            (Wish::Policy { name, .. }, WishEnd::Agreed) => {
                let lists = facility::lists_stay(state, lang, name);
                [Some(said), lists]
                    .into_iter()
                    .flatten()
                    .collect::<Vec<_>>()
                    .join("\n")
            }
            _ => said,
        }
    };
    let why = reason.map_or_else(String::new, |(_, words)| quoted(words));
    settled_with(
        state,
        &mut draft,
        no,
        &text(state.lang()),
        reason.map(|(ended, words)| (erase::reason_button(asked, ended), words)),
    );
    tell_asker(
        asked,
        &mut draft,
        no,
        waiting,
        text(state.lang()) + why.as_str(),
    );
    draft.private(Message::text(text(asked.lang) + why.as_str()))
}

/// Whoever asked hears how it ended, unless it was their own doing.
fn tell_asker(asked: &Asked<'_>, draft: &mut Draft, no: RecordNo, waiting: &Waiting, text: String) {
    let Some(asker) = waiting.who.filter(|asker| *asker != asked.ask.who) else {
        return;
    };
    // Whoever is called is named.
    let named = text.contains(&person(asker));
    let text = if named {
        text
    } else {
        format!("{text}\n{}", person(asker))
    };
    let mut message = Message::text(text);
    message.ping_people.push(asker);
    let channel = asked.facility.supervisor_channel;
    draft.post(format!("{}:told", key(no)), channel, Lane::Routine, message);
}

/// How a wish ended that nobody answered, by whoever brought that about.
fn ended_words(state: &State, waiting: &Waiting, key: &str, by: Option<Person>) -> String {
    let lang = state.lang();
    say!(
        lang,
        key,
        what = subject(lang, &waiting.wish),
        wished = wished(state, lang, &waiting.wish),
        who = by.map_or_else(String::new, person)
    )
}

/// The cards of a wish say how it ended, and have no buttons any more.
fn settled(state: &State, draft: &mut Draft, no: RecordNo, text: String) {
    settled_with(state, draft, no, &text, None);
}

/// The same, with why: it stands on the first card alone, where it can be erased again.
fn settled_with(
    state: &State,
    draft: &mut Draft,
    no: RecordNo,
    text: &str,
    why: Option<(Button, &str)>,
) {
    let Some(facility) = &state.facility else {
        return;
    };
    let reminder = state
        .booking(&On::Wish(no), Call::Agree)
        .and_then(|booking| calls::newest_post(Call::Agree, booking));
    let plain = Message::text(text);
    let first = match why {
        Some((button, words)) => {
            Message::text(format!("{text}{}", quoted(words))).buttons(vec![button])
        }
        None => plain.clone(),
    };
    let of_reminder = reminder.map(|of| (of, plain));
    for (of, message) in [Some((key(no), first)), of_reminder].into_iter().flatten() {
        draft.edit(
            format!("{of}:end"),
            of,
            facility.supervisor_channel,
            message,
        );
    }
}

/// A wish that waits is brought up again; one whose time is over is void, and that is said once.
pub(super) fn waits_still(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    no: RecordNo,
    at: DateTime<Utc>,
) -> Option<Notice> {
    let waiting = state.wishes.get(&no)?;
    let lang = state.lang();
    let days = state.policies.get(Name::WishDays);
    let over = at - waiting.since >= TimeDelta::days(days);
    let asker = waiting.who.map_or_else(String::new, person);
    let message = if over {
        draft.fact(Body::WishEnded {
            wish: no,
            end: WishEnd::Expired,
        });
        let text = say!(
            lang,
            "wish-expired",
            what = subject(lang, &waiting.wish),
            wished = wished(state, lang, &waiting.wish),
            now = now(state, lang, &waiting.wish),
            asker = asker,
            days = days
        );
        settled(state, draft, no, text.clone());
        Message::text(text)
    } else {
        let text = wish_words(state, "post-wish-again", &waiting.wish, asker);
        Message::text(text).buttons(buttons(lang, no))
    };
    Some(Notice {
        channel: facility.supervisor_channel,
        message,
    })
}

fn current<'a>(asked: &Asked<'a>, no: RecordNo) -> Result<&'a Waiting, Refusal> {
    asked.state.wishes.get(&no).ok_or_else(gone)
}

fn gone() -> Refusal {
    Refusal::new("fault-wish-gone")
}

fn key(no: RecordNo) -> String {
    format!("wish:{no}")
}

fn buttons(lang: Lang, wish: RecordNo) -> Vec<Button> {
    vec![
        button(
            lang,
            "button-agree",
            Look::Caution,
            &Tap::Setting(Setting::Agree { wish }),
        ),
        button(
            lang,
            "button-decline",
            Look::Plain,
            &Tap::Setting(Setting::Decline { wish }),
        ),
    ]
}

pub(super) fn withdraw_button(lang: Lang, wish: RecordNo) -> Button {
    let tap = Tap::Setting(Setting::Withdraw { wish });
    button(lang, "button-withdraw", Look::Plain, &tap)
}

/// The same where several of one's own wait, with its name on it.
pub(super) fn named_withdraw(lang: Lang, wish: RecordNo, of: &Wish) -> Button {
    let mut one = withdraw_button(lang, wish);
    one.label = say!(lang, "button-withdraw-of", what = short(lang, of));
    one
}

/// What waits, each as [`buttons`] with its name on them, as far as there is room for them.
pub(super) fn named_buttons(lang: Lang, wish: RecordNo, of: &Wish) -> Vec<Button> {
    let what = short(lang, of);
    let mut both = buttons(lang, wish);
    for (one, key) in both
        .iter_mut()
        .zip(["button-agree-to", "button-decline-of"])
    {
        one.label = say!(lang, key, what = what.as_str());
    }
    both
}

fn wish_words(state: &State, key: &str, wish: &Wish, who: String) -> String {
    let lang = state.lang();
    let mut text = say!(
        lang,
        key,
        what = subject(lang, wish),
        wished = wished(state, lang, wish),
        now = now(state, lang, wish),
        who = who
    );
    if let Wish::Policy { name, .. } = wish
        && let Some(row) = policy::find(name)
    {
        text.push('\n');
        text.push_str(&say!(
            lang,
            "wish-meaning",
            meaning = facility::meaning(lang, row),
            default = value_words(state, lang, row, row.default),
            least = value_words(state, lang, row, row.least),
            most = value_words(state, lang, row, row.most)
        ));
        if let Some(lists) = facility::lists_stay(state, lang, name) {
            text.push('\n');
            text.push_str(&lists);
        }
    }
    if let Wish::Ladder { .. } = wish {
        text.push('\n');
        text.push_str(&say!(
            lang,
            "wish-ladder",
            usual = facility::ladder_figures(lang, Ladder::default()),
            most = RUNG_MINUTES_MOST
        ));
    }
    text.push('\n');
    text.push_str(&say!(lang, "wish-caution"));
    text
}

/// What waits, in a line each: the supervisors' lists begin with it.
pub(crate) fn lines(state: &State, lang: Lang) -> Vec<String> {
    let waiting: Vec<String> = state
        .wishes
        .values()
        .map(|waiting| subject(lang, &waiting.wish))
        .collect();
    if waiting.is_empty() {
        return Vec::new();
    }
    let count = waiting.len() as i64;
    vec![say!(
        lang,
        "due-wishes",
        count = count,
        these = waiting.join(" · ")
    )]
}

/// Changes that a list offers to settle; the rest are in the settings.
const ON_A_LIST: usize = 2;

/// The buttons of what waits under somebody's own list, a row for each: to agree or decline for whoever may, to take back
/// for whoever asked.
pub(super) fn on_a_list(asked: &Asked<'_>) -> Vec<Vec<Button>> {
    let (state, lang) = (asked.state, asked.lang);
    let decides = authorize(state, asked.ask, Right::ConfirmPolicy).is_ok();
    let rows = state.wishes.iter().filter_map(|(no, waiting)| {
        if waiting.who == Some(asked.ask.who) {
            Some(vec![named_withdraw(lang, *no, &waiting.wish)])
        } else if decides {
            Some(named_buttons(lang, *no, &waiting.wish))
        } else {
            None
        }
    });
    rows.take(ON_A_LIST).collect()
}

/// A line of one that waits, with who asked for it and since when.
pub(super) fn line(state: &State, lang: Lang, waiting: &Waiting) -> String {
    say!(
        lang,
        "show-wish",
        what = subject(lang, &waiting.wish),
        wished = wished(state, lang, &waiting.wish),
        now = now(state, lang, &waiting.wish),
        who = waiting.who.map_or_else(String::new, person),
        since = day_time(waiting.since)
    )
}

/// What a wish is about.
pub(super) fn subject(lang: Lang, wish: &Wish) -> String {
    match wish {
        Wish::Policy { name, .. } => name.clone(),
        Wish::Ladder { .. } => say!(lang, "what-ladder"),
        Wish::Schedule { what, unit, .. } => schedule_words(lang, *what, unit.as_ref()),
        Wish::Product { name, .. } | Wish::ProductOff { name } => {
            super::check::escaped(name.as_str())
        }
        Wish::Roles { .. } => say!(lang, "what-roles"),
        Wish::Profile { profile } => say!(
            lang,
            "what-profile",
            profile = super::check::escaped(profile.name.as_str())
        ),
        Wish::Approved { beds, .. } => {
            say!(lang, "what-approved", beds = beds::show(&names_of(beds)))
        }
    }
}

/// The longest list of beds that a button names whole, in characters.
const BEDS_ON_A_BUTTON: usize = 24;

/// The same on a button, which has no room for a unit's beds: the first of them and how many more.
fn short(lang: Lang, wish: &Wish) -> String {
    if let Wish::Approved { beds, .. } = wish
        && let Some((bed, others)) = beds.split_first()
        && beds::show(&names_of(beds)).chars().count() > BEDS_ON_A_BUTTON
    {
        let (bed, count) = (bed.to_string(), others.len());
        return say!(lang, "what-approved-more", bed = bed, count = count);
    }
    subject(lang, wish)
}

fn wished(state: &State, lang: Lang, wish: &Wish) -> String {
    match wish {
        Wish::Policy { name, value } => match policy::find(name) {
            Some(row) => value_words(state, lang, row, *value),
            None => value.to_string(),
        },
        Wish::Ladder {
            first,
            second,
            third,
            repeat,
        } => facility::ladder_figures(
            lang,
            Ladder {
                first: *first,
                second: *second,
                third: *third,
                repeat: *repeat,
            },
        ),
        Wish::Schedule { when, .. } => when_words(lang, when.as_deref()),
        Wish::Product {
            name: _,
            method,
            contact_minutes,
            sporicidal,
        } => product_words(
            lang,
            &Product {
                method: *method,
                contact_minutes: *contact_minutes,
                sporicidal: *sporicidal,
            },
        ),
        Wish::Approved { profiles, .. } => approved_words(lang, profiles.iter()),
        Wish::ProductOff { .. } => say!(lang, "not-on-the-list"),
        Wish::Roles { roles } => roles_words(lang, roles.iter()),
        Wish::Profile { profile } => changes_of(state, profile).1,
    }
}

/// What holds until then.
fn now(state: &State, lang: Lang, wish: &Wish) -> String {
    match wish {
        Wish::Policy { name, .. } => match policy::find(name) {
            Some(row) => value_words(state, lang, row, state.policies.get(row.name)),
            None => String::new(),
        },
        Wish::Ladder { .. } => facility::ladder_figures(lang, state.ladder),
        Wish::Schedule { what, unit, .. } => {
            let schedule = state.schedules.get(&schedule_name(*what, unit.as_ref()));
            let when = schedule.map(|schedule| schedule.pattern.to_string());
            when_words(lang, when.as_deref())
        }
        Wish::Product { name, .. } | Wish::ProductOff { name } => match state.products.get(name) {
            Some(product) => product_words(lang, product),
            None => say!(lang, "not-on-the-list"),
        },
        Wish::Approved { beds, .. } => {
            let empty = std::collections::BTreeSet::new();
            let of = beds.first().and_then(|bed| state.frame(bed));
            approved_words(lang, of.map_or(&empty, |frame| &frame.approved).iter())
        }
        Wish::Roles { roles } => {
            let now = state.facility.iter().flat_map(|facility| &facility.roles);
            roles_words(lang, now.filter(|(role, _)| roles.contains_key(*role)))
        }
        Wish::Profile { profile } => changes_of(state, profile).0,
    }
}

/// What a profile says now of what would change, and what it would say, in the words of its file.
fn changes_of(state: &State, profile: &Profile) -> (String, String) {
    let Some(before) = state.profiles.get(&profile.name) else {
        return (String::new(), String::new());
    };
    profiles::changes(before, profile)
}

/// Roles as the chat shows them.
fn roles_words<'a>(lang: Lang, roles: impl Iterator<Item = (&'a Role, &'a ChatRole)>) -> String {
    let each = roles.map(|(role, chat)| {
        let role = say!(lang, &format!("role-{}", role.as_str()));
        format!("{role} <@&{chat}>")
    });
    each.collect::<Vec<_>>().join(", ")
}

/// A value as people read it, with its words in their language.
pub(super) fn value_words(state: &State, lang: Lang, row: &Policy, value: i64) -> String {
    use crate::rules::policy::Measure;
    let facility = state.facility.as_ref();
    let sign = facility.and_then(|of| of.currency.as_deref());
    let money = |amount| rent::signed(lang, sign, amount);
    match (row.measure, value) {
        (Measure::YesNo, 0) => say!(lang, "value-no"),
        (Measure::YesNo, _) => say!(lang, "value-yes"),
        (Measure::HoursOrShift, 0) => say!(lang, "value-shift"),
        (Measure::Months, months) => say!(lang, "value-months", count = months),
        (Measure::Years, years) => say!(lang, "value-years", count = years),
        (Measure::Strength, 0) => say!(lang, "value-unset"),
        (Measure::MoneyADay, amount) => say!(lang, "value-a-day", amount = money(amount)),
        (Measure::MoneyAYear, amount) => say!(lang, "value-a-year", amount = money(amount)),
        (Measure::Layers, count) => say!(lang, "value-layers", count = count),
        (Measure::Times, count) => say!(lang, "value-times", count = count),
        (Measure::Checks, count) => say!(lang, "value-checks", count = count),
        (Measure::Readings, count) => say!(lang, "value-readings", count = count),
        (Measure::Looks, count) => say!(lang, "value-looks", count = count),
        (Measure::Odds, count) => say!(lang, "value-odds", count = count),
        (
            Measure::Length
            | Measure::Minutes
            | Measure::Hours
            | Measure::TimeOfDay
            | Measure::Days
            | Measure::Percent
            | Measure::HoursOrShift
            | Measure::Seconds
            | Measure::Strength,
            _,
        ) => row.measure.show(value),
    }
}

pub(super) fn when_words(lang: Lang, when: Option<&str>) -> String {
    when.map_or_else(
        || say!(lang, "when-never"),
        // The stars of a cron line would be read as markup.
        |when| facility::pattern_words(lang, when).replace('*', r"\*"),
    )
}

pub(super) fn schedule_words(lang: Lang, what: What, unit: Option<&Unit>) -> String {
    let whose = unit.map_or_else(|| say!(lang, "all-units"), Unit::to_string);
    let what = say!(lang, &format!("what-{}", what.as_str()));
    say!(lang, "what-for", what = what, unit = whose)
}

/// A schedule is known by what it posts and for whom.
pub(super) fn schedule_name(what: What, unit: Option<&Unit>) -> ScheduleName {
    ScheduleName::from(match unit {
        Some(unit) => format!("{}:{unit}", what.as_str()),
        None => what.as_str().to_owned(),
    })
}

fn product_words(lang: Lang, product: &Product) -> String {
    shelf::figures(lang, product)
}

pub(super) fn approved_words<'a>(
    lang: Lang,
    profiles: impl Iterator<Item = &'a ProfileName>,
) -> String {
    let names: Vec<&str> = profiles.map(ProfileName::as_str).collect();
    if names.is_empty() {
        return say!(lang, "approved-all");
    }
    names.join(", ")
}

fn names_of(beds: &[Bed]) -> Vec<String> {
    beds.iter().map(Bed::to_string).collect()
}
