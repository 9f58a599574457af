//! Readings that were written on paper while the chat was away, entered at once: one a line, all or none. Decides what a
//! line says and what the answer shows; each reading is then judged and booked by `check`, as a late one is, and
//! nurses are called once for all of them.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::check::{self, Paper};
use super::draft::{Asked, Draft, clock_time, day_time, in_post, person};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::{Channel, Tag, Unit};
use crate::message::{Answer, ENTRIES_MAX, Field, File, Form, Menu, MenuEntry, Message};
use crate::parse::{air_text, air_unit_said, as_air};
use crate::record::{On, Record};
use crate::refusal::Refusal;
use crate::role::Role;
use crate::rules::hand_check::{Air, Judgement, judge};
use crate::say;
use crate::state::State;
use crate::tap::{Power, Tap};

/// Readings that one form takes.
const LINES_MAX: usize = 60;
/// Faults that one answer lists; the rest are counted.
const FAULTS_SHOWN: usize = 8;
/// Low readings that one answer lists; the rest are counted.
const LOW_SHOWN: usize = 10;
/// A text that comes back stands in the answer up to this length, in characters; a longer one comes as a file.
const BACK_CHARS_MAX: usize = 900;
/// The most words of a time, as in `20 min ago`.
const TIME_WORDS_MAX: usize = 4;

/// One line, read.
struct Reading {
    line: usize,
    tag: Tag,
    at: DateTime<Utc>,
    air: Air,
}

/// `/catchup`: the form.
pub(super) fn open(asked: &Asked<'_>, unit: Option<&str>) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let unit = match unit {
        Some(typed) => asked.unit(Some(typed))?.cloned(),
        None => None,
    };
    let tap = Power::Catchup {
        unit,
        text: String::new(),
    };
    let form = Form {
        id: Tap::Power(tap).id(),
        title: say!(lang, "form-paper-title"),
        fields: vec![Field {
            id: "lines".to_owned(),
            label: say!(lang, "form-lines"),
            hint: say!(lang, "form-lines-hint"),
            required: true,
            long: true,
        }],
    };
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// The form with its lines.
pub(super) fn enter(
    asked: &Asked<'_>,
    unit: Option<&Unit>,
    text: &str,
) -> Result<Decision, Refusal> {
    let lines: Vec<(usize, &str)> = text
        .lines()
        .enumerate()
        .map(|(place, line)| (place + 1, line.trim()))
        .filter(|(_, line)| !line.is_empty())
        .collect();
    if lines.is_empty() {
        return Err(Refusal::new("fault-paper-empty"));
    }
    if lines.len() > LINES_MAX {
        let no = Refusal::new("fault-paper-lines")
            .number("most", LINES_MAX as i64)
            .number("found", lines.len() as i64);
        return Ok(give_back(asked, vec![no.say(asked.lang)], text));
    }
    let mut faults: Vec<(usize, Refusal)> = Vec::new();
    let mut readings: Vec<Reading> = Vec::new();
    for (line, typed) in lines {
        let read = read(asked, unit, line, typed).and_then(|reading| {
            let twin = readings
                .iter()
                .find(|earlier| earlier.tag == reading.tag && earlier.at == reading.at);
            match twin {
                Some(twin) => {
                    Err(Refusal::new("fault-paper-twice").number("line", twin.line as i64))
                }
                None => Ok(reading),
            }
        });
        match read {
            Ok(reading) => readings.push(reading),
            Err(fault) => faults.push((line, fault)),
        }
    }
    // Oldest first, whatever the order on the paper: each is judged by what was known before it.
    readings.sort_by_key(|reading| reading.at);
    if faults.is_empty() {
        match record(asked, &readings) {
            Ok(decision) => return Ok(decision),
            Err(fault) => faults.push(fault),
        }
    }
    faults.sort_by_key(|(line, _)| *line);
    let count = faults.len();
    let mut said = vec![say!(asked.lang, "paper-refused", count = count as i64)];
    said.extend(faults.iter().take(FAULTS_SHOWN).map(|(line, fault)| {
        say!(
            asked.lang,
            "import-line",
            line = *line as i64,
            fault = fault.say(asked.lang)
        )
    }));
    if count > FAULTS_SHOWN {
        said.push(say!(
            asked.lang,
            "import-more-faults",
            count = (count - FAULTS_SHOWN) as i64
        ));
    }
    Ok(give_back(asked, said, text))
}

/// What was wrong, with the text as it was typed: nobody has to write it again.
fn give_back(asked: &Asked<'_>, mut said: Vec<String>, text: &str) -> Decision {
    let lang = asked.lang;
    if text.chars().count() > BACK_CHARS_MAX {
        said.push(say!(lang, "paper-back-file"));
        let mut message = Message::text(said.join("\n"));
        message.files.push(File::new("readings.txt", text));
        return Decision::private(message);
    }
    said.push(say!(lang, "paper-back"));
    // Three of these would end the block.
    let plain = text.replace("```", "'''");
    Decision::private(Message::text(format!(
        "{}\n```\n{}\n```",
        said.join("\n"),
        plain.trim_end()
    )))
}

/// A line: a bed or tag, when, and the reading. With two commas they say where each ends; without them, the one way in
/// which all three can be read does.
fn read(
    asked: &Asked<'_>,
    unit: Option<&Unit>,
    line: usize,
    typed: &str,
) -> Result<Reading, Refusal> {
    let parts: Vec<&str> = typed.splitn(3, [',', ';', '\t']).map(str::trim).collect();
    if let [surface, when, air] = parts[..] {
        return reading(asked, unit, line, surface, when, air);
    }
    let plain = typed.replace([',', ';', '\t'], " ");
    let words: Vec<&str> = plain.split_whitespace().collect();
    let mut found: Option<Reading> = None;
    let mut nearest: Option<Refusal> = None;
    let mut named = false;
    for name in 1..=2 {
        let surface = words[..name.min(words.len())].join(" ");
        if asked.surface(&surface).is_err() {
            continue;
        }
        named = true;
        let rest = &words[name.min(words.len())..];
        for time in 1..=TIME_WORDS_MAX.min(rest.len().saturating_sub(1)) {
            let (when, air) = (rest[..time].join(" "), rest[time..].join(" "));
            match reading(asked, unit, line, &surface, &when, &air) {
                Ok(read) => match &found {
                    Some(other)
                        if (&other.tag, other.at, other.air) != (&read.tag, read.at, read.air) =>
                    {
                        return Err(Refusal::new("fault-paper-commas"));
                    }
                    Some(_) => {}
                    None => found = Some(read),
                },
                Err(fault) => {
                    // The fault that comes furthest into the line says most.
                    if fault.key != "fault-when-shape" && fault.key != "fault-when-unit" {
                        nearest = Some(fault);
                    }
                }
            }
        }
    }
    if let Some(reading) = found {
        return Ok(reading);
    }
    if !named
        && let Some(first) = words.first()
        && let Err(fault) = asked.surface(first)
        && words.len() > 2
    {
        return Err(fault);
    }
    Err(nearest.unwrap_or_else(|| Refusal::new("fault-paper-shape")))
}

fn reading(
    asked: &Asked<'_>,
    unit: Option<&Unit>,
    line: usize,
    surface: &str,
    when: &str,
    air: &str,
) -> Result<Reading, Refusal> {
    let (tag, surface) = asked.surface(surface)?;
    if let Some(unit) = unit
        && asked.state.unit_of(tag) != Some(unit)
    {
        return Err(Refusal::new("fault-paper-unit")
            .text("tag", tag)
            .text("unit", unit));
    }
    let at = check::moment(asked, when)?;
    air_unit_said(super::asks_unit(asked.state), air)?;
    let air = as_air(air_text(air)?);
    // The same form sent twice, or a reading that somebody has typed already.
    if surface
        .checks
        .iter()
        .any(|check| check.at == at && check.air == air)
    {
        return Err(Refusal::new("fault-paper-there")
            .text("tag", tag)
            .text("at", day_time(at)));
    }
    Ok(Reading {
        line,
        tag: tag.clone(),
        at,
        air,
    })
}

/// Each reading in turn, on a state that knows the ones before it.
fn record(asked: &Asked<'_>, readings: &[Reading]) -> Result<Decision, (usize, Refusal)> {
    let lang = asked.lang;
    let mut draft = asked.draft();
    let first = draft.first();
    let mut state: State = asked.state.clone();
    let mut alarms = 0;
    let mut call: Vec<&Reading> = Vec::new();
    for (place, reading) in readings.iter().enumerate() {
        let known = draft.decision.entries.len();
        let paper = if readings[place + 1..]
            .iter()
            .any(|later| later.tag == reading.tag)
        {
            Paper::Followed
        } else {
            Paper::Newest
        };
        let step = Asked {
            state: &state,
            facility: asked.facility,
            ask: asked.ask,
            role: asked.role,
            lang,
            now: asked.now,
            shift_over: asked.shift_over,
            unknown: asked.unknown,
            past: asked.past,
        };
        let called = check::log_paper(
            &step,
            &mut draft,
            &reading.tag,
            reading.air,
            reading.at,
            paper,
        )
        .map_err(|fault| (reading.line, fault))?;
        call.extend(called.then_some(reading));
        for entry in &draft.decision.entries[known..] {
            let record = Record {
                no: state.next_no(),
                at: entry.at,
                entered: asked.now,
                who: Some(asked.ask.who),
                role: entry.role,
                first,
                body: entry.body.clone(),
                note: None,
            };
            alarms += i64::from(matches!(
                record.body,
                crate::record::Body::AlarmOpened { .. }
            ));
            // What the desk will do with it in a moment; where it cannot, the desk says so.
            if state.apply(&record).is_err() {
                return Err((reading.line, Refusal::new("fault-paper-shape")));
            }
        }
    }
    call_nurses(asked, &mut draft, &call);
    let mut text = vec![counts(asked, readings)];
    let low: Vec<String> = readings
        .iter()
        .filter(|reading| judged(asked, reading).is_some_and(is_low))
        .map(|reading| {
            let band = asked.state.surfaces.get(&reading.tag).map_or_else(
                || asked.state.policies.band(),
                |surface| check::band_of(asked.state, surface),
            );
            say!(
                lang,
                "paper-low",
                surface = asked.with_bed(&reading.tag),
                air = check::show_air(lang, reading.air, band),
                at = day_time(reading.at)
            )
        })
        .collect();
    if !low.is_empty() {
        text.push(say!(lang, "paper-lows"));
        text.extend(low.iter().take(LOW_SHOWN).cloned());
        if low.len() > LOW_SHOWN {
            text.push(say!(
                lang,
                "paper-more",
                count = (low.len() - LOW_SHOWN) as i64
            ));
        }
    }
    if alarms > 0 {
        text.push(say!(lang, "paper-alarms", count = alarms));
    }
    text.push(say!(lang, "paper-correct"));
    Ok(draft.private(Message::text(text.join("\n"))))
}

/// One call to each unit for all that the paper found low there: dozens at once would help nobody.
fn call_nurses(asked: &Asked<'_>, draft: &mut Draft, call: &[&Reading]) {
    let (state, lang) = (asked.state, asked.state.lang());
    let mut units: BTreeMap<Channel, Vec<&Reading>> = BTreeMap::new();
    for reading in call {
        let channel = super::alarm::channel(state, asked.facility, &reading.tag);
        units.entry(channel).or_default().push(reading);
    }
    let first = draft.first();
    for (channel, readings) in units {
        let who = person(asked.ask.who);
        let count = readings.len() as i64;
        // A notice on a phone shows the beginning: which surfaces comes first.
        let names: Vec<String> = readings
            .iter()
            .map(|reading| in_post(state, lang, &reading.tag))
            .collect();
        let mut lines = vec![say!(
            lang,
            "post-paper-low",
            surface = names.join(", "),
            count = count,
            who = who
        )];
        let mut entries = Vec::new();
        for reading in readings.iter().take(ENTRIES_MAX) {
            let Some(surface) = state.surfaces.get(&reading.tag) else {
                continue;
            };
            let name = in_post(state, lang, &reading.tag);
            let band = check::band_of(state, surface);
            lines.push(say!(
                lang,
                "paper-low",
                surface = name.clone(),
                air = check::show_air(lang, reading.air, band),
                at = day_time(reading.at)
            ));
            entries.push(MenuEntry {
                value: reading.tag.to_string(),
                label: name,
                about: None,
            });
        }
        let mut text = lines.join("\n");
        crate::due::truncate(&mut text);
        let menu = Menu {
            id: "pick".to_owned(),
            hint: say!(lang, "menu-pick"),
            entries,
        };
        let nurse = &[Role::Nurse];
        let asks = asking::in_channel(state, asked.facility, channel, nurse, asked.now);
        let asks = asks.by(asked.ask.who);
        for reading in &readings {
            draft.tell(On::Surface(reading.tag.clone()), &asks);
        }
        let message = asks.on(asked.facility, Message::text(text).menu(menu));
        draft.post(
            format!("low:{first}:{channel}"),
            channel,
            Lane::Reminder,
            message,
        );
    }
}

fn judged(asked: &Asked<'_>, reading: &Reading) -> Option<Judgement> {
    let surface = asked.state.surfaces.get(&reading.tag)?;
    Some(judge(reading.air, check::band_of(asked.state, surface)))
}

fn is_low(judged: Judgement) -> bool {
    match judged {
        Judgement::Low | Judgement::BottomedOut => true,
        Judgement::Adequate | Judgement::High | Judgement::CouldNot => false,
    }
}

/// How many there are of each kind, and from when to when.
fn counts(asked: &Asked<'_>, readings: &[Reading]) -> String {
    let lang = asked.lang;
    let (mut adequate, mut low, mut high, mut not) = (0i64, 0i64, 0i64, 0i64);
    for reading in readings {
        match judged(asked, reading) {
            Some(Judgement::Adequate) => adequate += 1,
            Some(Judgement::Low | Judgement::BottomedOut) => low += 1,
            Some(Judgement::High) => high += 1,
            Some(Judgement::CouldNot) | None => not += 1,
        }
    }
    let ends = (readings.first(), readings.last());
    let (from, to) = match ends {
        (Some(first), Some(last)) => (day_time(first.at), clock_time(last.at)),
        (None, _) | (_, None) => (String::new(), String::new()),
    };
    say!(
        lang,
        "paper-taken",
        count = readings.len() as i64,
        from = from,
        to = to,
        adequate = adequate,
        low = low,
        high = high,
        not = not
    )
}
