//! A command as a person's client sends it: options found, checked and typed from the
//! registration.
//!
//! Decides what the client refuses before anything is sent; leaves sending to `deeds`.

use serde_json::{Map, Value, json};

use crate::chat::{Attachment, Chat};
use crate::check::command::kind;
use crate::hub::Hub;
use crate::ids::Id;
use crate::limits::What;
use crate::shapes;

/// What a person typed.
#[derive(Clone, Copy, Debug)]
pub struct Typed<'a> {
    /// The command and its subcommand: `fleet add`, with or without the slash.
    pub path: &'a str,
    /// The options, in the order typed.
    pub options: &'a [(&'a str, Value)],
    /// The option that the cursor is in, while completing.
    pub focused: Option<&'a str>,
    /// Whether the client looks at choices, bounds and what is missing. The platform leaves that to it, so that a
    /// bot cannot rely on it.
    pub checked: bool,
}

/// What is sent for it.
#[derive(Debug)]
pub struct Sent {
    /// The interaction's data, as JSON.
    pub data: String,
    /// What the answer shows as typed.
    pub shown: String,
}

/// Reads what was typed against the command's registration.
///
/// # Errors
/// A sentence for the person, where their client would not send it.
pub fn read(hub: &Hub, chat: &Chat, command: &Value, typed: Typed<'_>) -> Result<Sent, String> {
    let mut words = typed.path.trim_start_matches('/').split_whitespace();
    let name = words.next().unwrap_or("");
    let mut level = command;
    let mut calls = Vec::new();
    let mut shown = format!("/{name}");
    for word in words {
        let below = listed(level, "options")
            .iter()
            .find(|o| o["name"] == word && is_call(o));
        level = below.ok_or_else(|| format!("There is no {shown} {word}."))?;
        calls.push((word, &level["type"]));
        shown.push(' ');
        shown.push_str(word);
    }
    let known = listed(level, "options");
    if known.iter().any(is_call) {
        let names: Vec<&str> = known.iter().filter_map(|o| o["name"].as_str()).collect();
        return Err(format!("{shown} needs one of: {}.", names.join(", ")));
    }
    let mut resolved = Resolved::default();
    let mut options = Vec::new();
    for (given, value) in typed.options {
        let option = known.iter().find(|o| o["name"] == *given);
        let option = option.ok_or_else(|| format!("{shown} has no option {given}."))?;
        let focused = typed.focused == Some(given);
        let of = option["type"].as_u64().unwrap_or(kind::TEXT);
        let value = if focused || (typed.focused.is_some() && value.is_string()) {
            // While completing, the client sends what stands there so far.
            json!(plain(value))
        } else {
            let ask = (value, typed.checked);
            value_of(hub, chat, option, of, ask, &mut resolved)
                .map_err(|why| format!("{given}: {why}"))?
        };
        let mut sent = json!({"name": given, "type": of, "value": value});
        if focused {
            sent["focused"] = true.into();
        }
        shown.push(' ');
        shown.push_str(&shown_value(chat, of, &value, &resolved));
        options.push(sent);
    }
    if let Some(focused) = typed.focused {
        if !known
            .iter()
            .any(|o| o["name"] == focused && o["autocomplete"] == true)
        {
            return Err(format!("{focused} does not complete."));
        }
    } else if typed.checked {
        let missing = known
            .iter()
            .filter(|o| o["required"] == true)
            .find(|o| typed.options.iter().all(|(given, _)| o["name"] != *given));
        if let Some(missing) = missing {
            return Err(format!(
                "{shown} needs {}.",
                missing["name"].as_str().unwrap_or("more")
            ));
        }
    }
    for (word, of) in calls.into_iter().rev() {
        options = vec![json!({"name": word, "type": of, "options": options})];
    }
    let mut data = json!({
        "id": command["id"], "name": command["name"], "type": 1, "options": options,
    });
    if let Some(guild) = command.get("guild_id") {
        data["guild_id"] = guild.clone();
    }
    if !resolved.0.is_empty() {
        data["resolved"] = Value::Object(resolved.0);
    }
    Ok(Sent {
        data: data.to_string(),
        shown,
    })
}

/// Objects that options name, by kind and id.
#[derive(Debug, Default)]
struct Resolved(Map<String, Value>);

impl Resolved {
    fn add(&mut self, kind: &str, id: Id, object: Value) {
        let of = self.0.entry(kind).or_insert_with(|| json!({}));
        of[id.to_string()] = object;
    }

    fn file_name(&self, id: &str) -> Option<&str> {
        self.0.get("attachments")?.get(id)?["filename"].as_str()
    }
}

fn value_of(
    hub: &Hub,
    chat: &Chat,
    option: &Value,
    of: u64,
    (value, checked): (&Value, bool),
    resolved: &mut Resolved,
) -> Result<Value, String> {
    match of {
        kind::TEXT | kind::WHOLE | kind::NUMBER => {
            let value = match chosen(option, value) {
                Err(_) if !checked => value.clone(),
                chosen => chosen?,
            };
            let fits = match of {
                kind::TEXT => value.is_string(),
                kind::WHOLE => value.is_i64() || value.is_u64(),
                _ => value.is_number(),
            };
            if !fits {
                return Err("this is not the kind of value that fits here.".to_owned());
            }
            if checked {
                in_bounds(option, &value)?;
            }
            Ok(value)
        }
        kind::FLAG if value.is_boolean() => Ok(value.clone()),
        kind::FILE => {
            let file = upload(hub, value)?;
            resolved.add("attachments", file.id, shapes::attachment(&file, true));
            let id = json!(file.id);
            if value["lost"] != true {
                hub.keep_upload(file);
            }
            Ok(id)
        }
        kind::USER | kind::ROLE | kind::CHANNEL | kind::MENTIONABLE => {
            let id: Option<Id> = value.as_str().and_then(|text| text.parse().ok());
            let id = id.ok_or("choose one of the list.")?;
            resolve(chat, of, id, resolved)?;
            Ok(json!(id))
        }
        _ => Err("this is not the kind of value that fits here.".to_owned()),
    }
}

fn resolve(chat: &Chat, of: u64, id: Id, resolved: &mut Resolved) -> Result<(), String> {
    let everyone = id == chat.guild;
    let role = shapes::roles(chat)
        .into_iter()
        .find(|r| r["id"] == id.to_string().as_str());
    if let Some(role) = role.filter(|_| matches!(of, kind::ROLE | kind::MENTIONABLE) || everyone) {
        resolved.add("roles", id, role);
        return Ok(());
    }
    if let Some(person) = chat
        .person(id)
        .filter(|_| matches!(of, kind::USER | kind::MENTIONABLE))
    {
        let mut member = shapes::member(person, true);
        if let Some(member) = member.as_object_mut() {
            member.remove("user");
        }
        resolved.add("users", id, shapes::user(id, &person.name, false));
        resolved.add("members", id, member);
        return Ok(());
    }
    // A phone offers programs like people; what comes of it is the other side's to say.
    if id == chat.bot && matches!(of, kind::USER | kind::MENTIONABLE) {
        let mut member = shapes::bot_member(chat);
        if let Some(member) = member.as_object_mut() {
            member.remove("user");
        }
        member["permissions"] = "0".into();
        resolved.add("users", id, shapes::user(id, &chat.bot_name, true));
        resolved.add("members", id, member);
        return Ok(());
    }
    let channel = chat
        .channels
        .get(&id)
        .filter(|c| of == kind::CHANNEL && c.direct.is_none());
    let channel = channel.ok_or("there is no such one here.")?;
    let object = shapes::partial_channel(id, &channel.name, false);
    resolved.add("channels", id, object);
    Ok(())
}

/// The value of a choice, named by its name in any language or by its value, where there are choices.
fn chosen(option: &Value, value: &Value) -> Result<Value, String> {
    let choices = listed(option, "choices");
    if choices.is_empty() {
        return Ok(value.clone());
    }
    let translated = |c: &Value| {
        let names = c["name_localizations"].as_object();
        names.is_some_and(|names| names.values().any(|name| name == value))
    };
    let choice = choices
        .iter()
        .find(|c| c["value"] == *value || c["name"] == *value || translated(c));
    choice.map(|c| c["value"].clone()).ok_or_else(|| {
        let names: Vec<&str> = choices.iter().filter_map(|c| c["name"].as_str()).collect();
        format!("choose one of {}.", names.join(", "))
    })
}

fn in_bounds(option: &Value, value: &Value) -> Result<(), String> {
    if let Some(text) = value.as_str() {
        let long = text.chars().count() as u64;
        let least = option["min_length"].as_u64().unwrap_or(0);
        let most = option["max_length"]
            .as_u64()
            .unwrap_or(What::OptionLength.most() as u64);
        if !(least..=most).contains(&long) {
            return Err(format!("write {least} to {most} characters."));
        }
    }
    if let Some(number) = value.as_f64() {
        let least = option["min_value"].as_f64().unwrap_or(f64::NEG_INFINITY);
        let most = option["max_value"].as_f64().unwrap_or(f64::INFINITY);
        if !(least..=most).contains(&number) {
            return Err(format!("write a number from {least} to {most}."));
        }
    }
    Ok(())
}

/// A file that a person gives: `{"name": "beds.csv", "text": "…"}`, or `"bytes": [66, 101, …]` in place of the text.
/// With `"lost": true` the chat does not have it any more when the bot fetches it.
fn upload(hub: &Hub, value: &Value) -> Result<Attachment, String> {
    let text = value["text"].as_str().map(|text| text.as_bytes().to_vec());
    let byte = |one: &Value| one.as_u64().and_then(|one| u8::try_from(one).ok());
    let bytes = || value["bytes"].as_array()?.iter().map(byte).collect();
    let (name, bytes) = value["name"]
        .as_str()
        .zip(text.or_else(bytes))
        .ok_or("give a file.")?;
    if bytes.len() > What::Upload.most() {
        return Err("the file is larger than 10 MiB.".to_owned());
    }
    let id = hub.id();
    let url = hub.file_url(id, id, name);
    let content_type = Some("text/plain; charset=utf-8".to_owned());
    let bytes = bytes.into();
    Ok(Attachment {
        id,
        name: name.to_owned(),
        content_type,
        url,
        bytes,
        description: None,
    })
}

fn shown_value(chat: &Chat, of: u64, value: &Value, resolved: &Resolved) -> String {
    let text = plain(value);
    let id: Option<Id> = text.parse().ok();
    match of {
        kind::FILE => resolved.file_name(&text).unwrap_or("a file").to_owned(),
        kind::USER | kind::ROLE | kind::CHANNEL | kind::MENTIONABLE => id
            .and_then(|id| {
                let role = chat
                    .roles
                    .iter()
                    .find(|r| r.id == id)
                    .map(|r| r.name.clone());
                let program = (id == chat.bot).then(|| chat.bot_name.clone());
                let person = move || chat.person(id).map(|p| p.name.clone()).or(program);
                let channel = || chat.channels.get(&id).map(|c| c.name.clone());
                role.or_else(person).or_else(channel)
            })
            .unwrap_or(text),
        _ => text,
    }
}

fn plain(value: &Value) -> String {
    value
        .as_str()
        .map_or_else(|| value.to_string(), str::to_owned)
}

fn is_call(option: &Value) -> bool {
    matches!(
        option["type"].as_u64(),
        Some(kind::SUBCOMMAND | kind::GROUP)
    )
}

fn listed<'a>(of: &'a Value, key: &str) -> &'a [Value] {
    of[key].as_array().map_or(&[], Vec::as_slice)
}
