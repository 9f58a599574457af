//! What a step of a conversation means. Decides the sentences that can be written; each does one thing
//! to the stage, and what people noticed then is returned as lines. Leaves how it is done to the stage:
//! a desk in memory, or the whole program over the protocol.

use std::collections::BTreeMap;

use anyhow::{Context, Result, bail, ensure};
use chrono::{NaiveDate, NaiveDateTime, NaiveTime, TimeDelta};
use commands::Said;
use commands::ids::{Channel, Person};
use commands::parse;
use commands::said::{FileRef, Options, Picked, Value};
use commands::table::{self, Command, Takes};

use super::cast::Member;
use super::disk::Disk;
use super::script::Step;
use super::show::Show;
use super::stage::{Kept, Scene, Stage, Thing};

/// Does a step and says what followed.
///
/// # Errors
/// What in it is not understood or cannot be done.
pub fn perform(stage: &mut impl Stage, step: &Step) -> Result<Vec<String>> {
    Ok(perform_in_blocks(stage, step)?.concat())
}

/// The same, each thing that was noticed by itself.
///
/// # Errors
/// As [`perform`].
pub fn perform_in_blocks(stage: &mut impl Stage, step: &Step) -> Result<Vec<Vec<String>>> {
    stage.scene().chat.noticed.clear();
    stage.unanswered();
    let at = || format!("line {}: {}", step.number, step.says);
    let timed = act(stage, step).with_context(at)?;
    stage.settle(step, timed).with_context(at)?;
    let mut blocks = noticed(stage, timed);
    stage.scene().chat.noticed.clear();
    let without = stage.unanswered();
    let scene = stage.scene();
    blocks.extend(
        without
            .iter()
            .map(|who| vec![format!("{} gets no answer", scene.cast.name(who.0))]),
    );
    Ok(blocks)
}

/// What people noticed since the step began, as lines.
pub fn noticed(stage: &mut impl Stage, timed: bool) -> Vec<Vec<String>> {
    let zone = stage.zone();
    let scene = stage.scene();
    let show = Show {
        cast: scene.cast,
        zone: &zone,
    };
    scene
        .chat
        .noticed
        .iter()
        .map(|one| show.noticed(one, timed))
        .collect()
}

/// Something that was noticed as one text, as it stands in a file.
pub fn block(lines: &[String]) -> String {
    let lines: Vec<&str> = lines.iter().map(|line| line.trim_end()).collect();
    lines.join("\n").trim_end().to_owned()
}

/// What follows from a step, each thing by itself: what stands at the margin begins one.
pub fn blocks(follows: &[String]) -> Vec<String> {
    let mut blocks: Vec<Vec<String>> = Vec::new();
    for line in follows {
        match blocks.last_mut() {
            Some(last) if line.is_empty() || line.starts_with(' ') => last.push(line.clone()),
            Some(_) | None => blocks.push(vec![line.clone()]),
        }
    }
    blocks.iter().map(|lines| block(lines)).collect()
}

/// The time at which a conversation begins: `at 2026-03-02 07:10`.
pub fn date_and_time(text: &str) -> Option<NaiveDateTime> {
    let (day, time) = text.split_once(' ')?;
    Some(
        NaiveDate::parse_from_str(day, "%Y-%m-%d")
            .ok()?
            .and_time(time_of_day(time)?),
    )
}

fn time_of_day(text: &str) -> Option<NaiveTime> {
    NaiveTime::parse_from_str(text, "%H:%M").ok()
}

/// Returns whether time passed, so that what was noticed says when.
fn act(stage: &mut impl Stage, step: &Step) -> Result<bool> {
    let says = step.says.as_str();
    if let Some(when) = says.strip_prefix("at ") {
        let local = stage.zone().local(stage.now());
        let until = match (date_and_time(when), time_of_day(when)) {
            (Some(at), _) => at,
            (None, Some(time)) if time > local.time() => local.date().and_time(time),
            (None, Some(time)) => (local.date() + TimeDelta::days(1)).and_time(time),
            (None, None) => bail!("a time is written 07:10 or 2026-03-02 07:10"),
        };
        let until = stage.zone().instant(until);
        stage.pass_to(until)?;
        return Ok(true);
    }
    if let Some(how_long) = says.strip_prefix("time passes: ") {
        let until = stage.now() + length(how_long)?;
        stage.pass_to(until)?;
        return Ok(true);
    }
    match says {
        "people:" => {
            for line in &step.given {
                stage.scene().cast.add(line).map_err(anyhow::Error::msg)?;
            }
            stage.cast_changed()?;
            return Ok(false);
        }
        "loftwatch stops" => {
            stage.stop()?;
            return Ok(false);
        }
        "loftwatch starts" => {
            stage.start()?;
            return Ok(false);
        }
        "loftwatch stops and starts" => {
            stage.stop()?;
            stage.start()?;
            return Ok(false);
        }
        "the power fails" => {
            stage.cut_power()?;
            return Ok(false);
        }
        "the power fails and comes back" => {
            stage.cut_power()?;
            stage.start()?;
            return Ok(false);
        }
        "the disk is full" => {
            stage.disk_becomes(Disk::Shut)?;
            return Ok(false);
        }
        "the disk has room again" => {
            stage.disk_becomes(Disk::Roomy)?;
            return Ok(false);
        }
        _ => {}
    }
    if let Some(name) = says.strip_prefix("the chat loses its role @") {
        let role = stage
            .scene()
            .cast
            .role(name)
            .context("there is such a role")?;
        stage.scene().cast.delete(role);
        stage.role_deleted(role)?;
        return Ok(false);
    }
    if let Some(rest) = says.strip_prefix("the file ") {
        let (name, how) = rest
            .strip_suffix(':')
            .context("the line ends with a colon")?
            .split_once(", ")
            .unwrap_or((rest.trim_end_matches(':'), ""));
        let bytes = file(&step.given, how)?;
        stage.scene().cast.files.insert(name.to_owned(), bytes);
        return Ok(false);
    }
    if let Some(rest) = says.strip_prefix("keep ") {
        keep(&mut stage.scene(), rest)?;
        return Ok(false);
    }
    let things = person_acts(&mut stage.scene(), step)?;
    stage.hear(&things)?;
    Ok(false)
}

fn length(text: &str) -> Result<TimeDelta> {
    let (count, unit) = text
        .split_once(' ')
        .context("so: 15 minutes, 2 hours, 3 days")?;
    let count: i64 = count.parse()?;
    Ok(match unit.trim_end_matches('s') {
        "second" => TimeDelta::seconds(count),
        "minute" => TimeDelta::minutes(count),
        "hour" => TimeDelta::hours(count),
        "day" => TimeDelta::days(count),
        other => bail!("{other} is no length of time"),
    })
}

fn file(lines: &[String], how: &str) -> Result<Vec<u8>> {
    let end = if how.contains("Windows line ends") {
        "\r\n"
    } else {
        "\n"
    };
    let text: String = lines.iter().flat_map(|line| [line.as_str(), end]).collect();
    let mut bytes = match how {
        "in an old Windows code" => text
            .chars()
            .map(|c| u8::try_from(u32::from(c)).unwrap_or(b'?'))
            .collect(),
        ""
        | "with Windows line ends"
        | "with a byte order mark"
        | "with a byte order mark and Windows line ends" => text.into_bytes(),
        other => bail!("{other:?} is no way to write a file"),
    };
    if how.contains("byte order mark") {
        bytes.splice(0..0, [0xef, 0xbb, 0xbf]);
    }
    Ok(bytes)
}

/// `the card in #elm as "old"`, `Ana's card as "old"`.
fn keep(scene: &mut Scene<'_>, rest: &str) -> Result<()> {
    let (which, name) = rest.split_once(" as ").context("keep … as \"name\"")?;
    let with_parts = |look: &super::chat::Look| !look.rows.is_empty();
    let found = if let Some(channel) = which.strip_prefix("the card in #") {
        let channel = scene.cast.channel(channel);
        scene.chat.newest(0, Some(channel.0), with_parts)
    } else {
        let who = which
            .strip_suffix("'s card")
            .context("keep the card in #elm, or Ana's card")?;
        let who = scene.cast.person(who).context("nobody of that name")?.id;
        scene
            .chat
            .messages
            .iter()
            .rev()
            .find(|one| one.to_one() == Some(who.0) && with_parts(&one.look))
    };
    let found = found.context("there is no such card")?;
    let kept = Kept {
        look: found.look.clone(),
        message: found.id,
        channel: found.channel,
        only: found.only,
    };
    scene.kept.insert(quoted(name)?.to_owned(), kept);
    Ok(())
}

fn quoted(text: &str) -> Result<&str> {
    text.strip_prefix('"')
        .and_then(|text| text.strip_suffix('"'))
        .context("a name stands in quotes")
}

/// `Ana: /handcheck …`, `Ana in #oak: …`, `Ana is typing: …`, `Ana taps […]`, `Ana and Ben tap […]`,
/// `Ana chooses "…" in "…"`, `Ana fills in: air = 1; note = dry`.
fn person_acts(scene: &mut Scene<'_>, step: &Step) -> Result<Vec<Thing>> {
    let says = step.says.as_str();
    for (verb, several) in [(" taps ", false), (" tap ", true)] {
        if let Some((who, rest)) = says.split_once(verb)
            && !who.contains(':')
        {
            let names: Vec<&str> = if several {
                who.split(" and ").collect()
            } else {
                vec![who]
            };
            return names
                .into_iter()
                .map(|name| tap(scene, name, rest))
                .collect();
        }
    }
    if let Some((who, rest)) = says.split_once(" chooses ")
        && !who.contains(':')
    {
        return Ok(vec![choose(scene, who, rest)?]);
    }
    if let Some((who, rest)) = says.split_once(" fills in: ") {
        return Ok(vec![fill_in(scene, who, rest, &step.given)?]);
    }
    let (head, line) = says
        .split_once(": ")
        .context("this says nothing that a conversation knows")?;
    let (head, typing) = head
        .strip_suffix(" is typing")
        .map_or((head, false), |head| (head, true));
    let (name, channel) = match head.split_once(" in #") {
        Some((name, channel)) => (name, Some(scene.cast.channel(channel))),
        None => (head, None),
    };
    let member = person(scene, name)?;
    let channel = channel.unwrap_or(member.channel);
    let said = if let Some(text) = line.strip_prefix("@loftwatch") {
        Said::Mention {
            text: text.trim().to_owned(),
            files: false,
        }
    } else {
        let (path, options, focused) = command(scene, line)?;
        if typing {
            Said::Completing {
                path,
                options,
                focused,
            }
        } else {
            Said::Command { path, options }
        }
    };
    Ok(vec![Thing {
        who: member.id,
        channel,
        on: None,
        said,
    }])
}

/// What one person does by this line.
///
/// # Errors
/// What in it is not understood or cannot be done.
pub fn typed(scene: &mut Scene<'_>, line: &str) -> Result<Thing> {
    let step = Step {
        says: line.to_owned(),
        given: Vec::new(),
        follows: Vec::new(),
        number: 0,
    };
    person_acts(scene, &step)?
        .pop()
        .context("nobody does anything")
}

fn person(scene: &Scene<'_>, name: &str) -> Result<Member> {
    scene
        .cast
        .person(name)
        .cloned()
        .with_context(|| format!("nobody is called {name}"))
}

/// The number of the first entry that the newest message with one shows.
fn newest_number(scene: &Scene<'_>) -> Option<String> {
    let digits = |text: &str| -> String { text.chars().take_while(char::is_ascii_digit).collect() };
    scene.chat.messages.iter().rev().find_map(|message| {
        let parts = message.look.text.split('#').skip(1);
        parts.map(digits).find(|number| !number.is_empty())
    })
}

/// A command as it is typed. Roles, channels, people and files are picked by name, as a phone lets people do.
fn command(scene: &mut Scene<'_>, line: &str) -> Result<(String, Options, String)> {
    let words: Vec<&str> = line.trim_start_matches('/').split_whitespace().collect();
    let two = words.iter().take(2).copied().collect::<Vec<_>>().join(" ");
    let known: &Command = table::find(&two)
        .or_else(|| table::find(words.first().copied().unwrap_or_default()))
        .context("no such command")?;
    let mut options =
        parse::typed(known, line).context("an option that the command does not have")?;
    for option in known.options {
        let Some(Value::Text(text)) = options.get(option.name).cloned() else {
            continue;
        };
        if option.name == "entry" && text == "that" {
            let number = newest_number(scene).context("no entry's number is in sight")?;
            options.insert(option.name.to_owned(), Value::Text(number));
            continue;
        }
        let value = match option.takes {
            Takes::Role => {
                let name = text.strip_prefix('@').context("a role is written @aides")?;
                Value::Role(scene.cast.role(name).context("no such role")?)
            }
            Takes::Channel => Value::Channel(
                scene.cast.channel(
                    text.strip_prefix('#')
                        .context("a channel is written #elm")?,
                ),
            ),
            Takes::Person => {
                let name = text.strip_prefix('@').context("a person is written @Ana")?;
                let picked = if name == "loftwatch" {
                    Picked::Program(Person(0))
                } else {
                    let member = scene.cast.person(name);
                    let member = member.context("nobody is called so")?;
                    Picked::Member {
                        who: member.id,
                        chat_roles: member.roles.clone(),
                    }
                };
                Value::Person(picked)
            }
            Takes::File => {
                let size = scene.cast.files.get(&text).map_or(0, Vec::len) as u64;
                Value::File(FileRef {
                    name: text.clone(),
                    url: format!("https://files.invalid/{text}"),
                    size,
                })
            }
            Takes::Text | Takes::Suggested | Takes::Choice(_) | Takes::Whole(..) => continue,
        };
        options.insert(option.name.to_owned(), value);
    }
    let last = line.split_whitespace().rev().find_map(|word| {
        let (name, _) = word.split_once(':')?;
        known.options.iter().find(|option| option.name == name)
    });
    Ok((
        known.path.to_owned(),
        options,
        last.map_or_else(String::new, |option| option.name.to_owned()),
    ))
}

/// Where a button is looked for: on the newest message with it, in a channel, or on a kept card.
fn card<'w>(
    scene: &'w mut Scene<'_>,
    who: &Member,
    place: &str,
    fits: impl Fn(&super::chat::Look) -> bool,
) -> Result<(&'w super::chat::Look, u64, Channel)> {
    if let Some(name) = place.strip_prefix("on \"") {
        let name = name.trim_end_matches('"');
        let kept = scene
            .kept
            .get(name)
            .with_context(|| format!("no card is kept as {name:?}"))?;
        ensure!(
            kept.only.is_none_or(|only| only == who.id.0),
            "{} cannot see that card",
            who.name
        );
        ensure!(fits(&kept.look), "that card does not have it");
        return Ok((&kept.look, kept.message, Channel(kept.channel)));
    }
    let channel = match place.strip_prefix("on the card in #") {
        Some(channel) => Some(scene.cast.channel(channel).0),
        None => {
            ensure!(place.is_empty(), "{place:?} is no place");
            None
        }
    };
    let found = scene
        .chat
        .newest(who.id.0, channel, fits)
        .with_context(|| format!("no message that {} sees has it", who.name))?;
    Ok((&found.look, found.id, Channel(found.channel)))
}

fn tap(scene: &mut Scene<'_>, name: &str, rest: &str) -> Result<Thing> {
    let who = person(scene, name)?;
    let (label, place) = rest
        .strip_prefix('[')
        .and_then(|rest| rest.split_once(']'))
        .context("a button is written [its words]")?;
    let (look, message, channel) = card(scene, &who, place.trim(), |look| {
        look.button(label).is_some()
    })?;
    let id = look
        .button(label)
        .context("the button is there")?
        .to_owned();
    Ok(Thing {
        who: who.id,
        channel,
        on: Some(message),
        said: Said::Tap {
            id,
            chosen: Vec::new(),
        },
    })
}

fn choose(scene: &mut Scene<'_>, name: &str, rest: &str) -> Result<Thing> {
    let who = person(scene, name)?;
    let mut parts = rest
        .strip_prefix('"')
        .context("chooses \"entry\" in \"hint\"")?
        .splitn(2, "\" in \"");
    let entry = parts.next().unwrap_or_default();
    let (hint, place) = parts
        .next()
        .and_then(|rest| rest.split_once('"'))
        .context("chooses \"entry\" in \"hint\"")?;
    let (look, message, channel) = card(scene, &who, place.trim(), |look| {
        look.entry(hint, entry).is_some()
    })?;
    let (id, value) = look.entry(hint, entry).context("the entry is there")?;
    let said = Said::Tap {
        id: id.to_owned(),
        chosen: vec![value.to_owned()],
    };
    Ok(Thing {
        who: who.id,
        channel,
        on: Some(message),
        said,
    })
}

fn fill_in(scene: &mut Scene<'_>, name: &str, rest: &str, own: &[String]) -> Result<Thing> {
    let who = person(scene, name)?;
    let (form, on) = scene
        .chat
        .forms
        .get(&who.id.0)
        .cloned()
        .with_context(|| format!("{name} has no form"))?;
    let mut fields: BTreeMap<String, String> = form
        .fields
        .iter()
        .map(|(id, ..)| (id.clone(), String::new()))
        .collect();
    // A field of several lines has them below the step: `lines =`.
    for part in rest.split("; ").map(str::trim_end) {
        let (field, value) = part
            .split_once('=')
            .context("a field is written air = 1 1/4")?;
        let there = fields
            .get_mut(field.trim())
            .with_context(|| format!("the form has no field {field}"))?;
        match value.trim() {
            "" => *there = own.join("\n"),
            value => value.clone_into(there),
        }
    }
    for (id, _, _, required) in &form.fields {
        ensure!(
            !required || !fields[id].is_empty(),
            "the chat does not send the form while {id} is empty"
        );
    }
    let channel = on
        .and_then(|on| scene.chat.messages.iter().find(|one| one.id == on))
        .map_or(who.channel, |one| Channel(one.channel));
    Ok(Thing {
        who: who.id,
        channel,
        on,
        said: Said::Form {
            id: form.id,
            fields,
        },
    })
}
