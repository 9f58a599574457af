//! What `/facility` sets: units, schedules, ladder, policies. Decides what may be set by whom; a change of clinical
//! policy by an admin waits for a supervisor. The zone, channels and roles are in `set_up`.

pub(super) mod set_up;

use chrono::{DateTime, TimeDelta, Utc};

use super::draft::{Asked, Draft, find_unit};
use super::{settings, wish};
use crate::choice::What;
use crate::decision::{Decision, Lane};
use crate::ids::{Bed, Channel, Unit};
use crate::message::Message;
use crate::record::{Body, Wish};
use crate::refusal::Refusal;
use crate::rules::beds;
use crate::rules::guard::{self, Field};
use crate::rules::import::is_name;
use crate::rules::nearest::{self, Match};
use crate::rules::policy::{self, Measure, Name, POLICIES, Policy, PolicyFault};
use crate::rules::schedule::{DAY_WORDS, Pattern};
use crate::rules::zone::Zone;
use crate::say;
use crate::state::{Facility, Ladder, Schedule, State, UnitState};
use crate::tap::UNIT_BYTES_MAX;
use crate::words::Lang;

/// Whether a list comes less often is counted over so many days.
const RARER_DAYS: i64 = 28;
/// Slots that are counted one by one; a pattern has fewer in that time.
const SLOTS_COUNTED: usize = 3_000;

/// The most units.
const UNITS_MAX: usize = 60;

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

pub(super) fn told(draft: &mut Draft, facility: &Facility, text: String) {
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
    // One that is there from before there was a rule is still the home's to change.
    let is_there = asked.state.units.keys().any(|unit| unit.as_str() == name);
    if name.len() > UNIT_BYTES_MAX || !is_name(name) && !is_there {
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

/// `/facility unit` with no beds: it was typed by mistake, or its beds are other units' by now.
pub(super) fn drop_unit(asked: &Asked<'_>, name: &str) -> Result<Decision, Refusal> {
    let state = asked.state;
    let unit = find_unit(state, name)?;
    let Some(before) = state.units.get(unit) else {
        return Err(Refusal::new("fault-unit-name").number("most", UNIT_BYTES_MAX as i64));
    };
    let used = before
        .beds
        .iter()
        .find_map(|bed| state.under.get_key_value(bed));
    if let Some((bed, tag)) = used {
        return Err(Refusal::new("fault-unit-in-use")
            .text("unit", unit)
            .text("bed", bed)
            .text("tag", tag));
    }
    if state.outage_of(unit).is_some() {
        return Err(Refusal::new("fault-unit-outage").text("unit", unit));
    }
    let mut draft = asked.draft();
    let of_unit = |schedule: &&Schedule| schedule.unit.as_ref() == Some(unit);
    for schedule in state.schedules.values().filter(of_unit) {
        let name = wish::schedule_name(schedule.what, schedule.unit.as_ref());
        draft.fact(Body::ScheduleDropped { name });
    }
    wish::unit_dropped(asked, &mut draft, unit);
    draft.fact(Body::UnitDropped { unit: unit.clone() });
    let names: Vec<String> = before.beds.iter().map(Bed::to_string).collect();
    let gone = say!(state.lang(), "not-on-the-list");
    let change = (unit.to_string(), beds::show(&names), gone);
    tell(asked, &mut draft, vec![change]);
    let text = say!(
        asked.lang,
        "unit-dropped",
        unit = unit.as_str(),
        beds = beds::show(&names)
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
    let wish = Wish::Schedule {
        what,
        unit: unit.cloned(),
        when: when.map(Pattern::to_string),
    };
    wish::overtaken(asked, &mut draft, &wish);
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
    let wish = Wish::Ladder {
        first,
        second,
        third,
        repeat,
    };
    let (lang, post_lang) = (asked.lang, asked.state.lang());
    let mut draft = asked.draft();
    if ladder == asked.state.ladder {
        wish::overtaken(asked, &mut draft, &wish);
        let text = say!(lang, "ladder-already", ladder = ladder_words(lang, ladder));
        return draft.private(Message::text(text));
    }
    if wish::waits(asked) {
        return wish::ask(asked, wish);
    }
    wish::overtaken(asked, &mut draft, &wish);
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
        PolicyFault::NotAValue(row) if value.contains(',') && is_number(value) => {
            Refusal::new("fault-policy-comma").text("name", row.word)
        }
        PolicyFault::NotAValue(row) if value.contains('.') && is_number(value) => {
            Refusal::new("fault-policy-whole").text("name", row.word)
        }
        PolicyFault::NotAValue(_)
        | PolicyFault::OutOfBounds(_)
        | PolicyFault::Crossed
        | PolicyFault::ShiftsDoNotDivide
        | PolicyFault::OfficeBackwards => policy_fault(asked.state, lang, fault),
    })?;
    // Who approved beds in posts, and when, is recorded with the set-up.
    if row.name == Name::BedsInPosts && value == 1 {
        return Err(Refusal::new("fault-policy-beds"));
    }
    let shown = wish::value_words(state, lang, row, value);
    let wish = Wish::Policy {
        name: row.word.to_owned(),
        value,
    };
    let mut draft = asked.draft();
    // One that follows another until it is set is not the same once it is set to it.
    let settled = state.policies.is_set(row.name) || row.name != Name::RecheckHigh;
    if settled && state.policies.get(row.name) == value && row.name != Name::BedsInPosts {
        wish::overtaken(asked, &mut draft, &wish);
        let text = say!(lang, "policy-already", name = row.word, value = shown);
        return Ok(draft.private(Message::text(text)));
    }
    if row.clinical && wish::waits(asked) {
        return Ok(wish::ask(asked, wish));
    }
    wish::overtaken(asked, &mut draft, &wish);
    let post_lang = state.lang();
    tell(
        asked,
        &mut draft,
        vec![(
            row.word.to_owned(),
            wish::value_words(state, post_lang, row, state.policies.get(row.name)),
            wish::value_words(state, post_lang, row, value),
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
    let lists = lists_stay(state, lang, row.word);
    let lines: Vec<String> = std::iter::once(text).chain(lists).collect();
    Ok(draft.private(Message::text(lines.join("\n"))))
}

/// Where shifts are moved, the lists that go on being posted at their old times.
pub(super) fn lists_stay(state: &State, lang: Lang, word: &str) -> Option<String> {
    let moved = [Name::ShiftStart, Name::ShiftHours].map(|name| policy::row(name).word);
    if !moved.contains(&word) || state.schedules.is_empty() {
        return None;
    }
    let these: Vec<String> = state
        .schedules
        .values()
        .map(|schedule| {
            let what = wish::schedule_words(lang, schedule.what, schedule.unit.as_ref());
            let when = schedule.pattern.to_string();
            format!("{what} {}", wish::when_words(lang, Some(&when)))
        })
        .collect();
    Some(say!(lang, "policy-lists-stay", these = these.join(" · ")))
}

/// Whether somebody typed a number, whatever its marks and unit.
fn is_number(text: &str) -> bool {
    let text = text.trim_start_matches(['$', ' ']);
    text.starts_with(|c: char| c.is_ascii_digit())
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

/// A value to type: the usual one, or one that means something where the usual one is that nobody has said.
fn example(row: &Policy) -> i64 {
    match (row.measure, row.default) {
        (Measure::MoneyADay | Measure::MoneyAYear, 0) => 3_500.clamp(row.least, row.most),
        (_, usual) => usual,
    }
}

/// Why a value cannot be set.
pub(super) fn policy_fault(state: &State, lang: Lang, fault: PolicyFault) -> Refusal {
    let bounds = |key, row: &Policy| {
        Refusal::new(key)
            .text("name", row.word)
            .text("least", wish::value_words(state, lang, row, row.least))
            .text("most", wish::value_words(state, lang, row, row.most))
            .text("default", wish::value_words(state, lang, row, example(row)))
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
