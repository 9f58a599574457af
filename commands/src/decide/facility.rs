//! What `/facility` sets: zone, channels, roles, units, schedules, ladder, policies. Decides what may be
//! set by whom; a change of clinical policy by an admin waits for a supervisor.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};

use super::draft::{Asked, Draft, find_unit};
use super::{settings, wish};
use crate::choice::{What, YesNo};
use crate::decision::{Decision, Lane};
use crate::ids::{Bed, Channel, ChatRole, Unit};
use crate::message::Message;
use crate::record::{Body, Wish};
use crate::refusal::Refusal;
use crate::request::FacilitySetup;
use crate::role::Role;
use crate::rules::beds;
use crate::rules::guard::{self, Field};
use crate::rules::nearest::{self, Match};
use crate::rules::policy::{self, Measure, Name, POLICIES, Policy, PolicyFault};
use crate::rules::schedule::{DAY_WORDS, Pattern};
use crate::rules::zone::Zone;
use crate::said::Ask;
use crate::say;
use crate::state::{BedsApproval, Facility, Ladder, State, UnitState};
use crate::tap::UNIT_BYTES_MAX;
use crate::words::Lang;

/// Whether a list comes less often is counted over so many days.
const RARER_DAYS: i64 = 28;
/// Slots that are counted one by one; a pattern has fewer in that time.
const SLOTS_COUNTED: usize = 3_000;

/// The most units.
const UNITS_MAX: usize = 60;

/// The schedules that a home begins with: the shift card at each shift's start, the handover a little before, and what
/// is ready before the weekend.
const FIRST_SCHEDULES: [(What, &str); 3] = [
    (What::DueList, "every 8h from 07:00"),
    (What::Handover, "every 8h from 06:45"),
    (What::Weekend, "friday 12:00"),
];

/// `/facility setup`.
pub(super) fn set_up(
    state: &State,
    ask: &Ask,
    role: Role,
    typed: &FacilitySetup,
) -> Result<Decision, Refusal> {
    let zone = Zone::parse(&typed.timezone).map_err(|fault| {
        let key = if fault.nearest.is_empty() {
            "fault-zone"
        } else {
            "fault-zone-near"
        };
        Refusal::new(key)
            .text("typed", super::check::escaped(&typed.timezone))
            .text("these", fault.nearest.join(", "))
    })?;
    let mut roles = BTreeMap::from([
        (Role::Aide, typed.aide),
        (Role::Nurse, typed.nurse),
        (Role::Supervisor, typed.supervisor),
    ]);
    let kept = state
        .facility
        .as_ref()
        .and_then(|facility| facility.roles.get(&Role::Upkeep).copied());
    if let Some(upkeep) = typed.upkeep.or(kept) {
        roles.insert(Role::Upkeep, upkeep);
    }
    let kept = state
        .facility
        .as_ref()
        .and_then(|facility| facility.upkeep_channel);
    let upkeep_channel = typed.upkeep_channel.or(kept);
    let mut seen: Vec<_> = roles.values().collect();
    seen.sort();
    seen.dedup();
    if seen.len() < roles.len() {
        return Err(Refusal::new("fault-same-role"));
    }
    if let Some(found) = typed.home.as_deref().and_then(super::fleet::identifies) {
        return Err(super::draft::private_fault(found));
    }
    let lang = ask.lang;
    let home = typed
        .home
        .clone()
        .or_else(|| state.facility.as_ref()?.home.clone());
    let mut draft = Draft::new(state, role, ask.at);
    let roles_now = roles.clone();
    draft.fact(Body::FacilitySet {
        zone: zone.name().to_owned(),
        care_channel: typed.care_channel,
        supervisor_channel: typed.supervisor_channel,
        roles,
        lang: typed.lang.unwrap_or_else(|| state.lang()),
        upkeep_channel,
        home: home.clone(),
    });
    let mut text = say!(
        lang,
        "facility-set",
        zone = zone.name(),
        care = channel(typed.care_channel),
        supervisor = channel(typed.supervisor_channel)
    );
    if let Some(at) = upkeep_channel {
        text.push('\n');
        text.push_str(&say!(lang, "facility-set-upkeep", channel = channel(at)));
    }
    if home.is_some() {
        text.push('\n');
        text.push_str(&settings::home_line(lang, home.as_deref()));
    }
    if let Some(approved) = typed.beds_in_posts {
        draft.fact(Body::BedsApproved {
            approved: approved == YesNo::Yes,
        });
    }
    text.push('\n');
    text.push_str(&beds_words(state, typed.beds_in_posts, lang, ask));
    if let Some(before) = &state.facility {
        tell_set_up(state, &mut draft, ask, before, typed, &zone, &roles_now);
    }
    if state.schedules.is_empty() && state.facility.is_none() {
        for (what, when) in FIRST_SCHEDULES {
            // These patterns are ours; a test reads them.
            let Ok(pattern) = Pattern::parse(when) else {
                continue;
            };
            draft.fact(schedule_body(what, None, &pattern, &zone, ask.at));
        }
        text.push('\n');
        text.push_str(&say!(lang, "facility-first-schedules"));
    }
    text.push('\n');
    text.push_str(&say!(
        lang,
        if state.units.is_empty() {
            "facility-next-units"
        } else {
            "facility-set-again"
        }
    ));
    Ok(draft.private(Message::text(text)))
}

/// What holds of beds in posts once this draft is a fact.
fn beds_words(state: &State, said: Option<YesNo>, lang: Lang, ask: &Ask) -> String {
    let said = said.map(|said| said == YesNo::Yes);
    let approval = match said {
        Some(approved) => Some(BedsApproval {
            approved,
            who: Some(ask.who),
            at: ask.at,
        }),
        None => state.beds_approval,
    };
    let until_now = state.policies.get(Name::BedsInPosts) == 1;
    settings::beds_line(lang, said.unwrap_or(until_now), approval)
}

/// Supervisors read what changed where they read until now.
fn tell_set_up(
    state: &State,
    draft: &mut Draft,
    ask: &Ask,
    before: &Facility,
    typed: &FacilitySetup,
    zone: &Zone,
    roles: &BTreeMap<Role, ChatRole>,
) {
    let lang = state.lang();
    let mut changes = Vec::new();
    let mut changed = |what: String, old: String, new: String| {
        if old != new {
            changes.push(say!(lang, "told-change", what = what, old = old, new = new));
        }
    };
    let (old_zone, new_zone) = (before.zone.name().to_owned(), zone.name().to_owned());
    changed(say!(lang, "what-zone"), old_zone, new_zone);
    let (old, new) = (before.care_channel, typed.care_channel);
    changed(say!(lang, "what-care"), channel(old), channel(new));
    let (old, new) = (before.supervisor_channel, typed.supervisor_channel);
    changed(say!(lang, "what-supervisors"), channel(old), channel(new));
    if let Some(new) = typed.upkeep_channel {
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
        changed(name, shown(&before.roles), shown(roles));
    }
    if let Some(new) = typed.lang {
        let name = |of| settings::language(lang, of);
        changed(say!(lang, "what-language"), name(before.lang), name(new));
    }
    if let Some(new) = &typed.home {
        let shown = |home: Option<&str>| match home {
            Some(home) => super::check::escaped(home),
            None => say!(lang, "not-on-the-list"),
        };
        let old = shown(before.home.as_deref());
        changed(say!(lang, "what-home"), old, shown(Some(new)));
    }
    if let Some(approved) = typed.beds_in_posts {
        let words = |yes: bool| say!(lang, if yes { "value-yes" } else { "value-no" });
        let old = state.policies.get(Name::BedsInPosts) == 1;
        let new = words(approved == YesNo::Yes);
        changed(say!(lang, "what-beds"), words(old), new);
    }
    if !changes.is_empty() {
        let who = super::draft::person(ask.who);
        told(
            draft,
            before,
            say!(lang, "told-by", changes = changes.join("\n"), who = who),
        );
    }
}

/// What changed: its name, and how it was before and is now, in the language of posts.
pub(super) type Change = (String, String, String);

/// A change is made: supervisors read it, without a sound, with what was before and who made it.
pub(super) fn tell(asked: &Asked<'_>, draft: &mut Draft, changes: Vec<Change>) {
    let lang = asked.state.lang();
    let lines: Vec<String> = changes
        .into_iter()
        .filter(|(_, old, new)| old != new)
        .map(|(what, old, new)| say!(lang, "told-change", what = what, old = old, new = new))
        .collect();
    if !lines.is_empty() {
        let who = super::draft::person(asked.ask.who);
        let text = say!(lang, "told-by", changes = lines.join("\n"), who = who);
        told(draft, asked.facility, text);
    }
}

fn told(draft: &mut Draft, facility: &Facility, text: String) {
    let mut message = Message::text(text);
    message.silent = true;
    draft.post(
        format!("told:{}", draft.first()),
        facility.supervisor_channel,
        Lane::Routine,
        message,
    );
}

/// `/facility unit`.
pub(super) fn unit(
    asked: &Asked<'_>,
    name: &str,
    beds: &str,
    at: Option<Channel>,
    take: bool,
) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let name = name.trim();
    if name.len() > UNIT_BYTES_MAX || name.contains('|') || name.chars().any(char::is_control) {
        return Err(Refusal::new("fault-unit-name").number("most", UNIT_BYTES_MAX as i64));
    }
    guard::check(name, Field::Note).map_err(super::draft::private_fault)?;
    // A name that is there in other capitals is the same unit.
    let unit = find_unit(asked.state, name)
        .cloned()
        .unwrap_or_else(|_| Unit::from(name));
    if !asked.state.units.contains_key(&unit) && asked.state.units.len() >= UNITS_MAX {
        return Err(Refusal::new("fault-too-many-units").number("most", UNITS_MAX as i64));
    }
    let names = beds::parse(beds).map_err(super::fleet::bed_fault)?;
    let beds: Vec<Bed> = names.iter().map(|name| Bed::from(name.as_str())).collect();
    let elsewhere = |bed: &&Bed| {
        let of = asked.state.bed_units.get(*bed);
        of.is_some_and(|of| *of != unit)
    };
    let taken: Vec<&Bed> = beds.iter().filter(elsewhere).collect();
    if let Some(bed) = taken.first().filter(|_| !take) {
        let of = &asked.state.bed_units[*bed];
        return Err(Refusal::new("fault-bed-elsewhere")
            .text("bed", bed)
            .text("unit", of));
    }
    if let Some(tag) = asked.state.surfaces.keys().find(|tag| {
        beds.iter()
            .any(|bed| nearest::fold(bed.as_str()) == nearest::fold(tag.as_str()))
    }) {
        return Err(Refusal::new("fault-bed-is-tag").text("tag", tag));
    }
    if let Some(before) = asked.state.units.get(&unit)
        && let Some((bed, tag)) = before
            .beds
            .iter()
            .filter(|bed| !beds.contains(bed))
            .find_map(|bed| asked.state.under.get(bed).map(|tag| (bed, tag)))
    {
        return Err(Refusal::new("fault-bed-in-use")
            .text("bed", bed)
            .text("tag", tag));
    }
    let at = at.or_else(|| asked.state.units.get(&unit).and_then(|unit| unit.channel));
    let mut draft = asked.draft();
    let count = beds.len() as i64;
    let shown = |of: &UnitState| {
        let names: Vec<String> = of.beds.iter().map(Bed::to_string).collect();
        let place = of.channel.unwrap_or(asked.facility.care_channel);
        format!("{} {}", beds::show(&names), channel(place))
    };
    let mut changes = Vec::new();
    // What lies under a bed that comes along stays there.
    for (of, before) in &asked.state.units {
        let left = before.beds.iter().filter(|bed| !taken.contains(bed));
        let after = UnitState {
            beds: left.cloned().collect(),
            channel: before.channel,
        };
        if after.beds.len() == before.beds.len() || *of == unit {
            continue;
        }
        if after.beds.is_empty() {
            return Err(Refusal::new("fault-unit-empty").text("unit", of));
        }
        changes.push((of.to_string(), shown(before), shown(&after)));
        draft.fact(Body::UnitSet {
            unit: of.clone(),
            beds: after.beds,
            channel: after.channel,
        });
    }
    if let Some(before) = asked.state.units.get(&unit) {
        let after = UnitState {
            beds: beds.clone(),
            channel: at,
        };
        changes.push((unit.to_string(), shown(before), shown(&after)));
    }
    tell(asked, &mut draft, changes);
    draft.fact(Body::UnitSet {
        unit: unit.clone(),
        beds,
        channel: at,
    });
    let place = at.map_or_else(|| channel(asked.facility.care_channel), channel);
    let text = say!(
        lang,
        "unit-set",
        unit = unit.as_str(),
        count = count,
        beds = beds::show(&names),
        channel = place
    );
    Ok(draft.private(Message::text(text)))
}

/// `/facility schedule`.
pub(super) fn schedule(
    asked: &Asked<'_>,
    what: What,
    when: Option<&Pattern>,
    unit: Option<&str>,
) -> Result<Decision, Refusal> {
    let unit = unit.map(|unit| find_unit(asked.state, unit)).transpose()?;
    let name = wish::schedule_name(what, unit);
    let before = asked.state.schedules.get(&name);
    let lang = asked.lang;
    if when.is_none() && before.is_none() {
        let whose = wish::schedule_words(lang, what, unit);
        return Err(Refusal::new("fault-schedule-none").text("what", whose));
    }
    if let Some(before) = before
        && rarer(asked, what, &before.pattern, when)
        && wish::waits(asked)
    {
        let when = when.map(Pattern::to_string);
        let unit = unit.cloned();
        return Ok(wish::ask(asked, Wish::Schedule { what, unit, when }));
    }
    let mut draft = asked.draft();
    let post_lang = asked.state.lang();
    let old = before.map(|schedule| schedule.pattern.to_string());
    tell(
        asked,
        &mut draft,
        vec![(
            wish::schedule_words(post_lang, what, unit),
            wish::when_words(post_lang, old.as_deref()),
            wish::when_words(post_lang, when.map(Pattern::to_string).as_deref()),
        )],
    );
    let whose = unit.map_or_else(|| say!(lang, "all-units"), Unit::to_string);
    let what_words = say!(lang, &format!("what-{}", what.as_str()));
    let Some(when) = when else {
        draft.fact(Body::ScheduleDropped { name });
        let text = say!(lang, "schedule-dropped", what = what_words, unit = whose);
        return Ok(draft.private(Message::text(text)));
    };
    let zone = &asked.facility.zone;
    draft.fact(schedule_body(what, unit, when, zone, asked.now));
    let five: Vec<String> = when
        .next_five(asked.now, zone)
        .iter()
        .map(|(_, at)| super::draft::day_time(*at))
        .collect();
    let text = say!(
        lang,
        "schedule-set",
        what = what_words,
        unit = whose,
        when = pattern_words(lang, &when.to_string()),
        five = five.join(", ")
    );
    Ok(draft.private(Message::text(text)))
}

/// A pattern as people read it, which reads back as the same pattern; the lines of cron stand as they are.
pub(super) fn pattern_words(lang: Lang, written: &str) -> String {
    let every = written
        .strip_prefix("every ")
        .and_then(|rest| rest.split_once("h from "));
    if let Some((hours, time)) = every {
        return say!(lang, "pattern-every", hours = hours, time = time);
    }
    let words = written.split(' ').map(|word| {
        if DAY_WORDS.contains(&word) {
            say!(lang, &format!("pattern-{word}"))
        } else {
            word.to_owned()
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

/// Whether a list that people rely on would come less often: its silence is to mean trouble, and nothing else.
fn rarer(asked: &Asked<'_>, what: What, before: &Pattern, after: Option<&Pattern>) -> bool {
    let relied_on = match what {
        What::DueList | What::Handover => true,
        What::Summary | What::Weekend => false,
    };
    let from = before.start(asked.now, &asked.facility.zone);
    let to = asked.now + TimeDelta::days(RARER_DAYS);
    let count = |pattern: &Pattern| {
        let slots = pattern.slots_between(from, to, &asked.facility.zone, SLOTS_COUNTED);
        slots.left_out + slots.due.len()
    };
    relied_on && after.map_or(0, count) < count(before)
}

/// The body of a schedule's record.
pub(super) fn schedule_body(
    what: What,
    unit: Option<&Unit>,
    when: &Pattern,
    zone: &Zone,
    now: DateTime<Utc>,
) -> Body {
    Body::ScheduleSet {
        name: wish::schedule_name(what, unit),
        what,
        unit: unit.cloned(),
        when: when.to_string(),
        from: when.start(now, zone),
    }
}

/// `/facility ladder`. A clinical policy like the others: an admin's change waits for a supervisor.
pub(super) fn ladder(asked: &Asked<'_>, ladder: Ladder) -> Decision {
    let Ladder {
        first,
        second,
        third,
        repeat,
    } = ladder;
    if wish::waits(asked) {
        let wish = Wish::Ladder {
            first,
            second,
            third,
            repeat,
        };
        return wish::ask(asked, wish);
    }
    let (lang, post_lang) = (asked.lang, asked.state.lang());
    let mut draft = asked.draft();
    tell(
        asked,
        &mut draft,
        vec![(
            say!(post_lang, "what-ladder"),
            ladder_figures(post_lang, asked.state.ladder),
            ladder_figures(post_lang, ladder),
        )],
    );
    draft.fact(Body::LadderSet {
        first,
        second,
        third,
        repeat,
    });
    let text = say!(lang, "ladder-set", ladder = ladder_words(lang, ladder));
    draft.private(Message::text(text))
}

/// Who is asked when.
pub(super) fn ladder_words(lang: Lang, ladder: Ladder) -> String {
    say!(
        lang,
        "ladder-words",
        first = i64::from(ladder.first),
        second = i64::from(ladder.second),
        third = i64::from(ladder.third),
        repeat = i64::from(ladder.repeat)
    )
}

/// The same by its figures alone.
pub(super) fn ladder_figures(lang: Lang, ladder: Ladder) -> String {
    say!(
        lang,
        "ladder-figures",
        first = i64::from(ladder.first),
        second = i64::from(ladder.second),
        third = i64::from(ladder.third),
        repeat = i64::from(ladder.repeat)
    )
}

/// What a policy decides, in a sentence.
pub(super) fn meaning(lang: Lang, row: &Policy) -> String {
    say!(lang, &format!("policy-{}", row.word))
}

/// `/facility policy`: one is shown, or set.
pub(super) fn policy(
    asked: &Asked<'_>,
    name: &str,
    value: Option<&str>,
) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let name = name.trim().to_lowercase();
    let Some(value) = value else {
        let row = policy::find(&name).ok_or_else(|| no_such(&name))?;
        return Ok(Decision::private(Message::text(settings::policy_card(
            state, lang, row,
        ))));
    };
    let read = state.policies.read(&name, value);
    let (row, value) = read.map_err(|fault| match fault {
        PolicyFault::NoSuch => no_such(&name),
        PolicyFault::NotAValue(_)
        | PolicyFault::OutOfBounds(_)
        | PolicyFault::Crossed
        | PolicyFault::ShiftsDoNotDivide
        | PolicyFault::OfficeBackwards => policy_fault(lang, fault),
    })?;
    // Who approved beds in posts, and when, is recorded with the set-up.
    if row.name == Name::BedsInPosts && value == 1 {
        return Err(Refusal::new("fault-policy-beds"));
    }
    let shown = wish::value_words(lang, row, value);
    if row.clinical && wish::waits(asked) {
        let name = row.word.to_owned();
        return Ok(wish::ask(asked, Wish::Policy { name, value }));
    }
    let mut draft = asked.draft();
    let post_lang = state.lang();
    tell(
        asked,
        &mut draft,
        vec![(
            row.word.to_owned(),
            wish::value_words(post_lang, row, state.policies.get(row.name)),
            wish::value_words(post_lang, row, value),
        )],
    );
    draft.fact(if row.name == Name::BedsInPosts {
        Body::BedsApproved { approved: false }
    } else {
        Body::PolicySet {
            name: row.word.to_owned(),
            value,
        }
    });
    let text = say!(
        lang,
        "policy-set",
        name = row.word,
        meaning = meaning(lang, row),
        value = shown
    );
    Ok(draft.private(Message::text(text)))
}

fn no_such(typed: &str) -> Refusal {
    let typed_shown = super::check::escaped(typed);
    let words = POLICIES.iter().map(|row| row.word);
    let near = match nearest::find(typed, words) {
        Match::One(name) => vec![name.to_owned()],
        Match::Several(names) | Match::Nearest(names) => {
            names.into_iter().map(str::to_owned).collect()
        }
    };
    if near.is_empty() {
        return Refusal::new("fault-policy-name").text("typed", typed_shown);
    }
    Refusal::new("fault-policy-near")
        .text("typed", typed_shown)
        .text("these", near.join(", "))
}

/// Why a value cannot be set.
pub(super) fn policy_fault(lang: Lang, fault: PolicyFault) -> Refusal {
    let bounds = |key, row: &Policy| {
        Refusal::new(key)
            .text("name", row.word)
            .text("least", wish::value_words(lang, row, row.least))
            .text("most", wish::value_words(lang, row, row.most))
            .text("default", wish::value_words(lang, row, row.default))
    };
    match fault {
        PolicyFault::NoSuch => Refusal::new("fault-wish-gone"),
        PolicyFault::NotAValue(row) if row.measure == Measure::YesNo => {
            Refusal::new("fault-policy-yes-no").text("name", row.word)
        }
        PolicyFault::NotAValue(row) => bounds("fault-policy-value", row),
        PolicyFault::OutOfBounds(row) => bounds("fault-policy-bounds", row),
        PolicyFault::Crossed => Refusal::new("fault-policy-crossed"),
        PolicyFault::ShiftsDoNotDivide => Refusal::new("fault-policy-shifts"),
        PolicyFault::OfficeBackwards => Refusal::new("fault-policy-office"),
    }
}

/// A channel as the chat shows it.
pub(super) fn channel(channel: Channel) -> String {
    format!("<#{channel}>")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pattern_reads_back_as_it_is_shown_in_every_language() {
        for text in [
            "daily 07:00 15:00",
            "weekdays 06:45",
            "weekends 09:00",
            "monday thursday 09:00",
            "tuesday wednesday friday saturday sunday 12:00",
            "every 8h from 07:00",
            "0 7 * * MON-FRI",
        ] {
            let pattern = Pattern::parse(text).expect("a pattern");
            assert_eq!(pattern_words(Lang::English, &pattern.to_string()), text);
            for lang in Lang::ALL {
                let shown = pattern_words(lang, &pattern.to_string());
                assert_eq!(Pattern::parse(&shown), Ok(pattern.clone()), "{shown}");
            }
        }
    }
}
