//! What `/facility` sets: zone, channels, roles, units, schedules, ladder, policies. Decides what may be
//! set by whom; a change of clinical policy by an admin waits for a supervisor.

use std::collections::BTreeMap;

use super::alarm::ping_roles;
use super::draft::{Asked, Draft, button, find_unit};
use crate::choice::What;
use crate::decision::{Decision, Lane};
use crate::ids::{Bed, Channel, ScheduleName, Unit};
use crate::message::{Answer, Look, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::request::FacilitySetup;
use crate::role::Role;
use crate::rules::beds;
use crate::rules::guard::{self, Field};
use crate::rules::nearest;
use crate::rules::policy::{self, POLICIES, Policy, PolicyFault};
use crate::rules::schedule::{DAY_WORDS, Pattern};
use crate::rules::zone::{self, Zone};
use crate::said::Ask;
use crate::say;
use crate::state::{Ladder, State};
use crate::tap::{Tap, UNIT_BYTES_MAX};
use crate::words::Lang;

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
    let mut seen: Vec<_> = roles.values().collect();
    seen.sort();
    seen.dedup();
    if seen.len() < roles.len() {
        return Err(Refusal::new("fault-same-role"));
    }
    let lang = ask.lang;
    let mut draft = Draft::new(state, role, ask.at);
    draft.fact(Body::FacilitySet {
        zone: zone.name().to_owned(),
        care_channel: typed.care_channel,
        supervisor_channel: typed.supervisor_channel,
        roles,
        lang: typed.lang.unwrap_or_else(|| state.lang()),
    });
    let mut text = say!(
        lang,
        "facility-set",
        zone = zone.name(),
        care = channel(typed.care_channel),
        supervisor = channel(typed.supervisor_channel)
    );
    if state.schedules.is_empty() {
        for (what, when) in FIRST_SCHEDULES {
            // These patterns are ours; a test reads them.
            let Ok(pattern) = Pattern::parse(when) else {
                continue;
            };
            draft.fact(schedule_body(what, None, &pattern, &zone, ask));
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

/// `/facility unit`.
pub(super) fn unit(
    asked: &Asked<'_>,
    name: &str,
    beds: &str,
    at: Option<Channel>,
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
    if let Some(bed) = beds.iter().find(|bed| {
        asked
            .state
            .bed_units
            .get(*bed)
            .is_some_and(|of| *of != unit)
    }) {
        let of = &asked.state.bed_units[bed];
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
    when: Pattern,
    unit: Option<&str>,
) -> Result<Decision, Refusal> {
    let unit = unit.map(|unit| find_unit(asked.state, unit)).transpose()?;
    let mut draft = asked.draft();
    draft.fact(schedule_body(
        what,
        unit,
        &when,
        &asked.facility.zone,
        asked.ask,
    ));
    let five: Vec<String> = when
        .next_five(asked.now, &asked.facility.zone)
        .iter()
        .map(|(_, at)| super::draft::day_time(*at))
        .collect();
    let lang = asked.lang;
    let whose = unit.map_or_else(|| say!(lang, "all-units"), Unit::to_string);
    let text = say!(
        lang,
        "schedule-set",
        what = say!(lang, &format!("what-{}", what.as_str())),
        unit = whose,
        when = pattern_words(lang, &when),
        five = five.join(", ")
    );
    Ok(draft.private(Message::text(text)))
}

/// A pattern as people read it, which reads back as the same pattern; the lines of cron stand as they are.
fn pattern_words(lang: Lang, pattern: &Pattern) -> String {
    let written = pattern.to_string();
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

fn schedule_body(what: What, unit: Option<&Unit>, when: &Pattern, zone: &Zone, ask: &Ask) -> Body {
    let name = match unit {
        Some(unit) => format!("{}:{unit}", what.as_str()),
        None => what.as_str().to_owned(),
    };
    Body::ScheduleSet {
        name: ScheduleName::from(name),
        what,
        unit: unit.cloned(),
        when: when.to_string(),
        from: when.start(ask.at, zone),
    }
}

/// `/facility ladder`. A clinical policy like the others: an admin's change waits for a supervisor.
pub(super) fn ladder(asked: &Asked<'_>, ladder: Ladder) -> Result<Decision, Refusal> {
    let Ladder {
        first,
        second,
        third,
        repeat,
    } = ladder;
    let lang = asked.lang;
    let mut draft = asked.draft();
    if asked.role == Role::Supervisor {
        draft.fact(Body::LadderSet {
            first,
            second,
            third,
            repeat,
        });
        return Ok(draft.private(Message::text(ladder_words(lang, "ladder-set", ladder))));
    }
    let record = draft.fact(Body::LadderAsked {
        first,
        second,
        third,
        repeat,
    });
    let post_lang = asked.state.lang();
    let wished = ladder_words(post_lang, "ladder-words", ladder);
    let now = ladder_words(post_lang, "ladder-words", asked.state.ladder);
    let text = say!(
        post_lang,
        "post-ladder-asked",
        who = super::draft::person(asked.ask.who),
        wished = wished,
        now = now
    );
    let confirm = Tap::ConfirmLadder { ladder };
    let message = Message::text(text)
        .buttons(vec![button(
            post_lang,
            "button-agree",
            Look::Caution,
            &confirm,
        )])
        .pinging(ping_roles(asked.facility, &[Role::Supervisor]));
    draft.post(
        format!("ladder:{record}"),
        asked.facility.supervisor_channel,
        Lane::Routine,
        message,
    );
    Ok(draft.private(Message::text(ladder_words(lang, "ladder-waits", ladder))))
}

/// A supervisor agrees to another ladder that somebody else asked for.
pub(super) fn confirm_ladder(asked: &Asked<'_>, ladder: Ladder) -> Result<Decision, Refusal> {
    if asked.state.ladder_asked != Some(ladder) {
        return Err(Refusal::new("fault-policy-gone"));
    }
    let Ladder {
        first,
        second,
        third,
        repeat,
    } = ladder;
    let mut draft = asked.draft();
    draft.fact(Body::LadderSet {
        first,
        second,
        third,
        repeat,
    });
    let text = format!(
        "{} {}",
        ladder_words(asked.lang, "ladder-set", ladder),
        say!(
            asked.lang,
            "ladder-agreed",
            who = super::draft::person(asked.ask.who)
        )
    );
    Ok(draft.answer(Answer::Replace(Message::text(text))))
}

fn ladder_words(lang: Lang, key: &str, ladder: Ladder) -> String {
    say!(
        lang,
        key,
        first = i64::from(ladder.first),
        second = i64::from(ladder.second),
        third = i64::from(ladder.third),
        repeat = i64::from(ladder.repeat)
    )
}

/// `/facility policy`.
pub(super) fn policy(asked: &Asked<'_>, name: &str, value: &str) -> Result<Decision, Refusal> {
    let (row, value) = asked
        .state
        .policies
        .read(name, value)
        .map_err(policy_fault)?;
    let lang = asked.lang;
    let mut draft = asked.draft();
    let shown = row.measure.show(value);
    let meaning = say!(lang, &format!("policy-{}", row.word));
    if row.clinical && asked.role != Role::Supervisor {
        let record = draft.fact(Body::PolicyAsked {
            name: row.word.to_owned(),
            value,
        });
        let post_lang = asked.state.lang();
        let text = say!(
            post_lang,
            "post-policy-asked",
            name = row.word,
            meaning = say!(post_lang, &format!("policy-{}", row.word)),
            value = shown.clone(),
            now = row.measure.show(asked.state.policies.get(row.name)),
            who = super::draft::person(asked.ask.who)
        );
        let confirm = Tap::ConfirmPolicy {
            word: row.word.to_owned(),
            value,
        };
        let message = Message::text(text)
            .buttons(vec![button(
                post_lang,
                "button-agree",
                Look::Caution,
                &confirm,
            )])
            .pinging(ping_roles(asked.facility, &[Role::Supervisor]));
        draft.post(
            format!("policy:{record}"),
            asked.facility.supervisor_channel,
            Lane::Routine,
            message,
        );
        let text = say!(
            lang,
            "policy-waits",
            name = row.word,
            meaning = meaning,
            value = shown
        );
        return Ok(draft.private(Message::text(text)));
    }
    draft.fact(Body::PolicySet {
        name: row.word.to_owned(),
        value,
    });
    let text = say!(
        lang,
        "policy-set",
        name = row.word,
        meaning = meaning,
        value = shown
    );
    Ok(draft.private(Message::text(text)))
}

/// A supervisor agrees to a change that somebody else asked for.
pub(super) fn confirm(asked: &Asked<'_>, word: &str, value: i64) -> Result<Decision, Refusal> {
    if asked.state.asked.get(word) != Some(&value) {
        return Err(Refusal::new("fault-policy-gone"));
    }
    let row = policy::find(word).ok_or_else(|| Refusal::new("fault-policy-gone"))?;
    // What was safe when it was asked for may cross another threshold by now.
    let (_, value) = asked
        .state
        .policies
        .read(word, &row.measure.show(value))
        .map_err(policy_fault)?;
    let mut draft = asked.draft();
    draft.fact(Body::PolicySet {
        name: word.to_owned(),
        value,
    });
    let text = say!(
        asked.lang,
        "policy-agreed",
        name = word,
        value = row.measure.show(value),
        who = super::draft::person(asked.ask.who)
    );
    Ok(draft.answer(Answer::Replace(Message::text(text))))
}

/// `/facility show`.
pub(super) fn show(asked: &Asked<'_>) -> Decision {
    let (state, facility, lang) = (asked.state, asked.facility, asked.lang);
    let mut lines = vec![say!(
        lang,
        "show-head",
        zone = facility.zone.name(),
        data = zone::database_version(),
        care = channel(facility.care_channel),
        supervisor = channel(facility.supervisor_channel)
    )];
    for (role, chat_role) in &facility.roles {
        lines.push(say!(
            lang,
            "show-role",
            role = say!(lang, &format!("role-{}", role.as_str())),
            chat = format!("<@&{chat_role}>")
        ));
    }
    for (name, unit) in &state.units {
        let names: Vec<String> = unit.beds.iter().map(Bed::to_string).collect();
        lines.push(say!(
            lang,
            "show-unit",
            unit = name.as_str(),
            beds = beds::show(&names)
        ));
    }
    let ladder = state.ladder;
    lines.push(say!(
        lang,
        "show-ladder",
        first = i64::from(ladder.first),
        second = i64::from(ladder.second),
        third = i64::from(ladder.third),
        repeat = i64::from(ladder.repeat)
    ));
    for schedule in state.schedules.values() {
        let whose = schedule
            .unit
            .as_ref()
            .map_or_else(|| say!(lang, "all-units"), Unit::to_string);
        lines.push(say!(
            lang,
            "show-schedule",
            what = say!(lang, &format!("what-{}", schedule.what.as_str())),
            unit = whose,
            when = pattern_words(lang, &schedule.pattern)
        ));
    }
    for (name, product) in &state.products {
        lines.push(super::shelf::product_words(lang, name, product));
    }
    if let Some(storage) = &state.storage {
        lines.push(say!(
            lang,
            "show-storage",
            dirty = super::check::escaped(&storage.dirty),
            clean = super::check::escaped(&storage.clean)
        ));
    }
    lines.push(say!(lang, "show-policies"));
    let special =
        |row: &&Policy| state.policies.is_set(row.name) || state.asked.contains_key(row.word);
    let own: Vec<&Policy> = POLICIES.iter().filter(special).collect();
    lines.extend(own.iter().map(|row| policy_line(state, lang, row)));
    let usual = (POLICIES.len() - own.len()) as i64;
    lines.push(say!(lang, "show-policies-usual", count = usual));
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    Decision::private(Message::text(text))
}

fn policy_line(state: &State, lang: Lang, row: &Policy) -> String {
    let key = if state.policies.is_set(row.name) {
        "show-policy-set"
    } else {
        "show-policy"
    };
    let mut line = say!(
        lang,
        key,
        name = row.word,
        value = row.measure.show(state.policies.get(row.name)),
        default = row.measure.show(row.default)
    );
    if let Some(wished) = state.asked.get(row.word) {
        line.push_str(&say!(
            lang,
            "show-policy-asked",
            value = row.measure.show(*wished)
        ));
    }
    line
}

fn policy_fault(fault: PolicyFault) -> Refusal {
    let all = || {
        POLICIES
            .iter()
            .map(|row| row.word)
            .collect::<Vec<_>>()
            .join(", ")
    };
    let bounds = |key, row: &Policy| {
        Refusal::new(key)
            .text("name", row.word)
            .text("least", row.measure.show(row.least))
            .text("most", row.measure.show(row.most))
            .text("default", row.measure.show(row.default))
    };
    match fault {
        PolicyFault::NoSuch => Refusal::new("fault-policy-name").text("these", all()),
        PolicyFault::NotAValue(row) => bounds("fault-policy-value", row),
        PolicyFault::OutOfBounds(row) => bounds("fault-policy-bounds", row),
        PolicyFault::Crossed => Refusal::new("fault-policy-crossed"),
        PolicyFault::ShiftsDoNotDivide => Refusal::new("fault-policy-shifts"),
        PolicyFault::OfficeBackwards => Refusal::new("fault-policy-office"),
    }
}

fn channel(channel: Channel) -> String {
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
            assert_eq!(pattern_words(Lang::English, &pattern), text);
            for lang in Lang::ALL {
                let shown = pattern_words(lang, &pattern);
                assert_eq!(Pattern::parse(&shown), Ok(pattern.clone()), "{shown}");
            }
        }
    }
}
