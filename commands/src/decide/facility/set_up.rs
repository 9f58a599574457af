//! `/facility setup`: the zone, the channels, whose chat role is which role, the language, beds in posts. Decides what must be
//! named the first time and what stays as it was later; another chat role for nurses or supervisors waits for a
//! supervisor of the roles that hold, once somebody lies on a surface of this home.

use std::collections::BTreeMap;

use super::super::draft::{Asked, Draft, person, private_fault};
use super::super::{check, fleet, settings, wish};
use super::{channel, schedule_body, told};
use crate::choice::{What, YesNo};
use crate::decision::{Decision, Lane};
use crate::ids::{Channel, ChatRole};
use crate::message::{Button, Message};
use crate::past::Past;
use crate::record::{Body, Wish};
use crate::refusal::Refusal;
use crate::request::{Currency, FacilitySetup, Right};
use crate::role::{Role, authorize};
use crate::rules::policy::Name;
use crate::rules::schedule::Pattern;
use crate::rules::zone::Zone;
use crate::said::Ask;
use crate::say;
use crate::state::{BedsApproval, Facility, State};
use crate::words::Lang;

/// The schedules that a home begins with: the shift card at each shift's start, the handover a little before, and what
/// is ready before the weekend.
const FIRST_SCHEDULES: [(What, &str); 3] = [
    (What::DueList, "every 8h from 07:00"),
    (What::Handover, "every 8h from 06:45"),
    (What::Weekend, "friday 12:00"),
];

/// `/facility setup`.
pub(in crate::decide) fn set_up(
    state: &State,
    ask: &Ask,
    role: Role,
    typed: &FacilitySetup,
    past: &Past,
) -> Result<Decision, Refusal> {
    let before = state.facility.as_ref();
    let wanted = wanted(state, typed)?;
    let lang = ask.lang;
    let mut draft = Draft::new(state, role, ask.at);
    let mut buttons: Vec<Button> = Vec::new();
    let mut waits = None;
    let mut after = wanted;
    if let Some(before) = before {
        let held_back = held_back(state, ask, before, &mut after);
        let asked = Asked::new(state, ask, role, past)?;
        if !held_back.is_empty() {
            let wish = Wish::Roles { roles: held_back };
            let (no, text) = wish::add(&asked, &mut draft, wish);
            buttons.push(wish::withdraw_button(lang, no));
            waits = Some(text);
        } else if typed.nurse.or(typed.supervisor).is_some() {
            let roles = after.roles.clone();
            wish::overtaken(&asked, &mut draft, &Wish::Roles { roles });
        }
    }
    let changed = before.is_none_or(|before| *before != after);
    if changed || typed.beds_in_posts.is_none() && waits.is_none() {
        draft.fact(body(&after));
    }
    let mut lines = vec![say!(
        lang,
        "facility-set",
        zone = after.zone.name(),
        care = channel(after.care_channel),
        supervisor = channel(after.supervisor_channel)
    )];
    if let Some(at) = after.upkeep_channel {
        lines.push(say!(lang, "facility-set-upkeep", channel = channel(at)));
    }
    if after.home.is_some() {
        lines.push(settings::home_line(lang, after.home.as_deref()));
    }
    if after.currency.is_some() || typed.currency.is_some() {
        lines.push(settings::currency_line(lang, after.currency.as_deref()));
    }
    if let Some(approved) = typed.beds_in_posts {
        draft.fact(Body::BedsApproved {
            approved: approved == YesNo::Yes,
        });
    }
    lines.push(beds_words(state, typed.beds_in_posts, lang, ask));
    if let Some(before) = before {
        tell_set_up(state, &mut draft, ask, before, typed.beds_in_posts, &after);
        tell_instead(state, &mut draft, ask, before, &after);
    }
    if state.schedules.is_empty() && before.is_none() {
        for (what, when) in FIRST_SCHEDULES {
            // These patterns are ours; a test reads them.
            let Ok(pattern) = Pattern::parse(when) else {
                continue;
            };
            draft.fact(schedule_body(what, None, &pattern, &after.zone, ask.at));
        }
        lines.push(say!(lang, "facility-first-schedules"));
    }
    lines.extend(waits);
    lines.push(say!(
        lang,
        if state.units.is_empty() {
            "facility-next-units"
        } else {
            "facility-set-again"
        }
    ));
    Ok(draft.private(Message::text(lines.join("\n")).buttons(buttons)))
}

/// The home as it would be: what was typed, and the rest as it was. The first time nothing was.
fn wanted(state: &State, typed: &FacilitySetup) -> Result<Facility, Refusal> {
    let before = state.facility.as_ref();
    let zone = match &typed.timezone {
        Some(text) => Some(zone(text)?),
        None => before.map(|before| before.zone.clone()),
    };
    let care = typed.care_channel.or(before.map(|of| of.care_channel));
    let supervisors = typed
        .supervisor_channel
        .or(before.map(|of| of.supervisor_channel));
    let mut roles = before.map_or_else(BTreeMap::new, |before| before.roles.clone());
    for (role, chat) in [
        (Role::Aide, typed.aide),
        (Role::Nurse, typed.nurse),
        (Role::Supervisor, typed.supervisor),
        (Role::Upkeep, typed.upkeep),
    ] {
        if let Some(chat) = chat {
            roles.insert(role, chat);
        }
    }
    if before.is_some() && *typed == FacilitySetup::default() {
        return Err(Refusal::new("fault-set-up-nothing"));
    }
    let lacks: Vec<&str> = [
        (zone.is_none(), "timezone"),
        (care.is_none(), "care-channel"),
        (supervisors.is_none(), "supervisor-channel"),
        (!roles.contains_key(&Role::Aide), "aide"),
        (!roles.contains_key(&Role::Nurse), "nurse"),
        (!roles.contains_key(&Role::Supervisor), "supervisor"),
    ]
    .into_iter()
    .filter_map(|(lacks, option)| lacks.then_some(option))
    .collect();
    let (Some(zone), Some(care_channel), Some(supervisor_channel), []) =
        (zone, care, supervisors, lacks.as_slice())
    else {
        return Err(Refusal::new("fault-set-up-lacks").text("these", lacks.join(", ")));
    };
    distinct(&roles)?;
    if let Some(found) = typed.home.as_deref().and_then(fleet::identifies) {
        return Err(private_fault(found));
    }
    let currency = match &typed.currency {
        Some(Currency::Sign(sign)) => Some(sign.clone()),
        Some(Currency::None) => None,
        None => before.and_then(|before| before.currency.clone()),
    };
    Ok(Facility {
        currency,
        zone,
        care_channel,
        supervisor_channel,
        roles,
        lang: typed.lang.unwrap_or_else(|| state.lang()),
        upkeep_channel: typed
            .upkeep_channel
            .or_else(|| before.and_then(|before| before.upkeep_channel)),
        home: typed
            .home
            .clone()
            .or_else(|| before.and_then(|before| before.home.clone())),
    })
}

fn zone(text: &str) -> Result<Zone, Refusal> {
    Zone::parse(text).map_err(|fault| {
        let key = if fault.nearest.is_empty() {
            "fault-zone"
        } else {
            "fault-zone-near"
        };
        Refusal::new(key)
            .text("typed", check::escaped(text))
            .text("these", fault.nearest.join(", "))
    })
}

fn distinct(roles: &BTreeMap<Role, ChatRole>) -> Result<(), Refusal> {
    let mut seen: Vec<_> = roles.values().collect();
    seen.sort();
    seen.dedup();
    if seen.len() < roles.len() {
        return Err(Refusal::new("fault-same-role"));
    }
    Ok(())
}

/// Who may judge what is clinical is no matter of whoever manages the chat: what they say of nurses and supervisors stays
/// as it was in `after`, and comes back to be asked for. While nobody lies on a surface the home is still being set up.
///
/// In place of a role that the chat has deleted another holds at once, since nobody can act in it and perhaps nobody could
/// agree. That gives whoever manages the chat no more than the chat does, which lets them give anybody the old role; what
/// they asked for before they still cannot agree to, and everybody is told.
fn held_back(
    state: &State,
    ask: &Ask,
    before: &Facility,
    after: &mut Facility,
) -> BTreeMap<Role, ChatRole> {
    let mut asked_for = BTreeMap::new();
    if state.under.is_empty() || authorize(state, ask, Right::ConfirmPolicy).is_ok() {
        return asked_for;
    }
    for role in [Role::Nurse, Role::Supervisor] {
        let (old, new) = (before.roles.get(&role), after.roles.get(&role));
        if let (Some(old), Some(new)) = (old.copied(), new.copied())
            && old != new
            && !ask.deleted.contains(&old)
        {
            asked_for.insert(role, new);
            after.roles.insert(role, old);
        }
    }
    // What one of them has until then no other role can have: they are asked for together.
    if !asked_for.is_empty() && distinct(&after.roles).is_err() {
        for (role, new) in &after.roles {
            if before.roles.get(role) != Some(new) {
                asked_for.insert(*role, *new);
            }
        }
        after.roles.clone_from(&before.roles);
    }
    asked_for
}

fn body(facility: &Facility) -> Body {
    Body::FacilitySet {
        zone: facility.zone.name().to_owned(),
        care_channel: facility.care_channel,
        supervisor_channel: facility.supervisor_channel,
        roles: facility.roles.clone(),
        lang: facility.lang,
        upkeep_channel: facility.upkeep_channel,
        home: facility.home.clone(),
        currency: facility.currency.clone(),
    }
}

/// The home with these roles in place of those that hold.
pub(in crate::decide) fn with_roles(
    facility: &Facility,
    roles: &BTreeMap<Role, ChatRole>,
) -> Result<Body, Refusal> {
    let mut after = facility.clone();
    after.roles.extend(roles);
    distinct(&after.roles)?;
    Ok(body(&after))
}

/// What holds of beds in posts once this draft is a fact.
fn beds_words(state: &State, said: Option<YesNo>, lang: Lang, ask: &Ask) -> String {
    let said = said.map(|said| said == YesNo::Yes);
    let approval = match said {
        Some(approved) => Some(BedsApproval {
            approved,
            who: Some(ask.who),
            role: None,
            at: ask.at,
        }),
        None => state.beds_approval,
    };
    let until_now = state.policies.get(Name::BedsInPosts) == 1;
    settings::beds_line(lang, said.unwrap_or(until_now), approval)
}

/// Everybody reads who acts now in place of a role that the chat has deleted.
fn tell_instead(state: &State, draft: &mut Draft, ask: &Ask, before: &Facility, after: &Facility) {
    let lang = state.lang();
    for (role, old) in &before.roles {
        let new = after.roles.get(role).filter(|new| *new != old);
        let (Some(new), true) = (new, ask.deleted.contains(old)) else {
            continue;
        };
        let text = say!(
            lang,
            "told-role-instead",
            role = say!(lang, &format!("role-{}", role.as_str())),
            new = format!("<@&{new}>"),
            who = person(ask.who)
        );
        let mut message = Message::text(text);
        message.ping_roles.push(*new);
        let key = format!("told:{}:{}", draft.first(), role.as_str());
        draft.post(key, after.care_channel, Lane::Routine, message);
    }
}

/// Supervisors read what changed where they read until now.
fn tell_set_up(
    state: &State,
    draft: &mut Draft,
    ask: &Ask,
    before: &Facility,
    beds_in_posts: Option<YesNo>,
    after: &Facility,
) {
    let lang = state.lang();
    let mut changes = Vec::new();
    let mut changed = |what: String, old: String, new: String| {
        if old != new {
            changes.push(say!(lang, "told-change", what = what, old = old, new = new));
        }
    };
    let (old_zone, new_zone) = (before.zone.name().to_owned(), after.zone.name().to_owned());
    changed(say!(lang, "what-zone"), old_zone, new_zone);
    let (old, new) = (before.care_channel, after.care_channel);
    changed(say!(lang, "what-care"), channel(old), channel(new));
    let (old, new): (Channel, Channel) = (before.supervisor_channel, after.supervisor_channel);
    changed(say!(lang, "what-supervisors"), channel(old), channel(new));
    if let Some(new) = after.upkeep_channel {
        let old = before
            .upkeep_channel
            .map_or_else(|| say!(lang, "not-on-the-list"), channel);
        changed(say!(lang, "what-upkeep-channel"), old, channel(new));
    }
    for role in Role::MAPPED {
        let shown = |of: &BTreeMap<Role, ChatRole>| {
            of.get(&role).map_or_else(
                || say!(lang, "not-on-the-list"),
                |chat| format!("<@&{chat}>"),
            )
        };
        let name = say!(lang, &format!("role-{}", role.as_str()));
        changed(name, shown(&before.roles), shown(&after.roles));
    }
    let name = |of| settings::language(lang, of);
    changed(
        say!(lang, "what-language"),
        name(before.lang),
        name(after.lang),
    );
    let shown =
        |home: Option<&str>| home.map_or_else(|| say!(lang, "not-on-the-list"), check::escaped);
    let (old, new) = (before.home.as_deref(), after.home.as_deref());
    changed(say!(lang, "what-home"), shown(old), shown(new));
    let shown = |of: &Option<String>| {
        of.as_deref()
            .map_or_else(|| say!(lang, "not-on-the-list"), check::escaped)
    };
    let (old, new) = (shown(&before.currency), shown(&after.currency));
    changed(say!(lang, "what-currency"), old, new);
    if let Some(approved) = beds_in_posts {
        let words = |yes: bool| say!(lang, if yes { "value-yes" } else { "value-no" });
        let old = state.policies.get(Name::BedsInPosts) == 1;
        let new = words(approved == YesNo::Yes);
        changed(say!(lang, "what-beds"), words(old), new);
    }
    if !changes.is_empty() {
        let who = person(ask.who);
        told(
            draft,
            before,
            say!(lang, "told-by", changes = changes.join("\n"), who = who),
        );
    }
}
