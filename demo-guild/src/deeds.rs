//! What people do: commands, completions, taps, choices, forms and words, each made into an
//! interaction or a message as their client would.
//!
//! Decides what a client refuses on sight (a channel one cannot read, a button that is not there)
//! and how long a person waits; the page, tests and load all come through here.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use serde_json::{Map, Value, json};
use tokio::sync::oneshot;

use crate::asked::{Asked, Deed};
use crate::chat::{Author, Chat, Message, Person, Posted, Posting};
use crate::check::component::kind;
use crate::check::message::Draft;
use crate::clock::{Watch, wall_ms};
use crate::frames::Happening;
use crate::hub::Hub;
use crate::ids::Id;
use crate::limits::{FIRST_ANSWER_MS, What};
use crate::outcome::{Answer, Outcome};
use crate::sessions::Hearing;
use crate::shapes;
use crate::typed::{self, Typed};

/// A person somewhere, doing something; `nonce` is what the page knows it by.
#[derive(Clone, Debug)]
pub struct Doer {
    /// Who.
    pub person: Id,
    /// Where.
    pub channel: Id,
    /// What the page knows it by.
    pub nonce: Option<String>,
}

/// What is to be sent, once it is made.
struct Making {
    deed: Deed,
    data: String,
    shown: Option<String>,
    /// The form that is sent, and the interaction that opened it.
    form: Option<(String, Id)>,
}

/// Sends a command, or what completes one of its options, and waits for the answer.
pub async fn command(hub: &Hub, doer: Doer, typed: Typed<'_>) -> Outcome {
    let started = Watch::start();
    let sent = ask(hub, &doer, |chat, person| {
        let name = typed
            .path
            .trim_start_matches('/')
            .split_whitespace()
            .next()
            .unwrap_or("");
        let found = chat.register.find(chat.guild, name);
        let found = Arc::clone(found.ok_or_else(|| format!("There is no command /{name}."))?);
        may_use(chat, person, &found, doer.channel)?;
        let sent = typed::read(hub, chat, &found, typed)?;
        let deed = if typed.focused.is_some() {
            Deed::Complete
        } else {
            Deed::Command
        };
        Ok(Making {
            deed,
            data: sent.data,
            shown: Some(sent.shown),
            form: None,
        })
    });
    wait(hub, doer, started, sent).await
}

/// Taps a button.
pub async fn tap(hub: &Hub, doer: Doer, message: Id, custom_id: &str) -> Outcome {
    let started = Watch::start();
    let sent = ask(hub, &doer, |chat, person| {
        let found = component(chat, person, message, custom_id)?;
        if found["type"] != kind::BUTTON {
            return Err("This is no button.".to_owned());
        }
        let data = json!({"custom_id": custom_id, "component_type": kind::BUTTON, "id": 1});
        Ok(Making {
            deed: Deed::Component(message),
            data: data.to_string(),
            shown: None,
            form: None,
        })
    });
    wait(hub, doer, started, sent).await
}

/// Chooses from a select menu.
pub async fn choose(
    hub: &Hub,
    doer: Doer,
    message: Id,
    custom_id: &str,
    values: &[String],
) -> Outcome {
    let started = Watch::start();
    let sent = ask(hub, &doer, |chat, person| {
        let found = component(chat, person, message, custom_id)?;
        let of = found["type"].as_u64().unwrap_or(0);
        if of == kind::BUTTON {
            return Err("This is no menu.".to_owned());
        }
        let least = found["min_values"].as_u64().unwrap_or(1);
        let most = found["max_values"].as_u64().unwrap_or(1);
        if !(least..=most).contains(&(values.len() as u64)) {
            return Err(format!("Choose {least} to {most}."));
        }
        let options = found["options"].as_array().map_or(&[][..], Vec::as_slice);
        let known = |value: &String| options.iter().any(|o| o["value"] == value.as_str());
        if of == kind::SELECT && !values.iter().all(known) {
            return Err("This is not among the choices.".to_owned());
        }
        let mut data =
            json!({"custom_id": custom_id, "component_type": of, "values": values, "id": 1});
        if of != kind::SELECT {
            data["resolved"] = picked(chat, values)?;
        }
        Ok(Making {
            deed: Deed::Component(message),
            data: data.to_string(),
            shown: None,
            form: None,
        })
    });
    wait(hub, doer, started, sent).await
}

/// Taps a button, or chooses from a menu of texts, that the message had when the person's phone last drew it.
pub async fn act_on_old(
    hub: &Hub,
    doer: Doer,
    message: Id,
    custom_id: &str,
    values: Option<&[&str]>,
) -> Outcome {
    let started = Watch::start();
    let sent = ask(hub, &doer, |chat, person| {
        visible(chat, person, message)?;
        let data = match values {
            None => json!({"custom_id": custom_id, "component_type": kind::BUTTON, "id": 1}),
            Some(values) => json!({"custom_id": custom_id, "component_type": kind::SELECT,
                "values": values, "id": 1}),
        };
        Ok(Making {
            deed: Deed::Component(message),
            data: data.to_string(),
            shown: None,
            form: None,
        })
    });
    wait(hub, doer, started, sent).await
}

/// Sends a form that is open on the person's phone.
pub async fn submit(
    hub: &Hub,
    doer: Doer,
    custom_id: &str,
    fields: &[(String, String)],
) -> Outcome {
    let started = Watch::start();
    let sent = ask(hub, &doer, |chat, person| {
        let open = chat.asking.form(person.id, custom_id).cloned();
        let open = open.ok_or("This form is no longer open.")?;
        let mut rows = Vec::new();
        for field in &open.form.fields {
            let given = fields.iter().find(|(id, _)| *id == field.custom_id);
            let value = given
                .map(|(_, v)| v.as_str())
                .or(field.value.as_deref())
                .unwrap_or("");
            let long = value.chars().count() as u64;
            let least = field.min_length.unwrap_or(0).max(u64::from(field.required));
            let most = field.max_length.unwrap_or(What::InputValue.most() as u64);
            let empty_is_fine = long == 0 && !field.required;
            if !empty_is_fine && !(least..=most).contains(&long) {
                return Err(format!(
                    "{}: write {least} to {most} characters.",
                    field.label
                ));
            }
            let id = field.custom_id.as_str();
            let input = json!({"type": kind::INPUT, "id": 2, "custom_id": id, "value": value});
            rows.push(json!({"type": kind::ROW, "id": 1, "components": [input]}));
        }
        let data = json!({"custom_id": custom_id, "components": rows});
        Ok(Making {
            deed: Deed::Submit(open.on),
            data: data.to_string(),
            shown: None,
            form: Some((custom_id.to_owned(), open.by)),
        })
    });
    wait(hub, doer, started, sent).await
}

/// Sends a form that no client of the platform's own would: nobody opened it.
pub async fn forge_form(
    hub: &Hub,
    doer: Doer,
    custom_id: &str,
    fields: &[(String, String)],
) -> Outcome {
    let started = Watch::start();
    let sent = ask(hub, &doer, |_chat, _person| {
        let rows: Vec<_> = fields
            .iter()
            .map(|(id, value)| {
                let input = json!({"type": kind::INPUT, "id": 2, "custom_id": id, "value": value});
                json!({"type": kind::ROW, "id": 1, "components": [input]})
            })
            .collect();
        let data = json!({"custom_id": custom_id, "components": rows});
        Ok(Making {
            deed: Deed::Submit(None),
            data: data.to_string(),
            shown: None,
            form: None,
        })
    });
    wait(hub, doer, started, sent).await
}

/// Says something. A leading `@` and the bot's name become a mention of it.
///
/// # Errors
/// A sentence for the person.
pub fn say(hub: &Hub, doer: &Doer, text: &str) -> Result<Arc<Message>, String> {
    let mut chat = hub.chat();
    let person = allowed(&chat, doer)?;
    let author = Author {
        id: person.id,
        name: person.name.clone(),
        bot: false,
    };
    let bot = format!("@{}", chat.bot_name);
    let head = text
        .get(..bot.len())
        .filter(|head| head.eq_ignore_ascii_case(&bot));
    let content = head.map_or_else(
        || text.to_owned(),
        |head| format!("<@{}>{}", chat.bot, &text[head.len()..]),
    );
    if content.trim().is_empty() || content.chars().count() > What::Content.most() {
        return Err(format!("Write 1 to {} characters.", What::Content.most()));
    }
    let posting = Posting {
        id: hub.id(),
        channel: doer.channel,
        author,
        at: hub.now_ms(),
        wall_ms: wall_ms(),
        files: Vec::new(),
        cause: None,
        typed: None,
    };
    let draft = Draft {
        content: Some(content),
        ..Draft::default()
    };
    match chat
        .post(posting, draft)
        .map_err(|p| p.message.to_owned())?
    {
        Posted::New(message) => {
            hub.wrote(&chat, &message);
            Ok(message)
        }
        Posted::Same(message) => Ok(message),
    }
}

/// Makes the interaction and tells the bot of it, in one hold of the chat.
fn ask(
    hub: &Hub,
    doer: &Doer,
    make: impl FnOnce(&mut Chat, &Person) -> Result<Making, String>,
) -> Result<(Id, oneshot::Receiver<Answer>), String> {
    if !hub.sessions.any() {
        return Err(format!("{} is not connected.", hub.chat().bot_name));
    }
    let token: Arc<str> = hub.secret(32).into();
    let mut chat = hub.chat();
    let person = allowed(&chat, doer)?.clone();
    let Making {
        deed,
        data,
        shown,
        form,
    } = make(&mut chat, &person)?;
    let (waiter, answer) = oneshot::channel();
    let wall = wall_ms();
    let id = hub.mint.next(wall);
    let asked = Asked {
        id,
        token,
        person: person.id,
        channel: doer.channel,
        deed,
        nonce: doer.nonce.clone(),
        typed: shown,
        form,
        answered: false,
        refused: None,
        original: None,
        waiter: Some(waiter),
    };
    let from = match chat.channels.get(&doer.channel) {
        Some(channel) if channel.direct.is_some() => shapes::From::Direct,
        Some(_) if doer.channel == chat.foreign_channel => shapes::From::Foreign,
        Some(_) | None => shapes::From::Guild,
    };
    let next = |count: &AtomicUsize| {
        let less = |n: usize| n.checked_sub(1);
        count
            .fetch_update(Ordering::Relaxed, Ordering::Relaxed, less)
            .is_ok()
    };
    let mut event = shapes::interaction(&chat, &asked, &person, &data, from);
    if next(&hub.unreadable) {
        event = event.replacen(r#""type":"#, r#""type":9"#, 1);
    }
    let guild = match from {
        shapes::From::Guild => chat.guild.0,
        shapes::From::Foreign => chat.foreign.0,
        shapes::From::Direct => 0,
    };
    chat.asking.add(asked, wall);
    let twice = next(&hub.twice);
    let hearing = Hearing { intents: 0, guild };
    for _ in 0..=u8::from(twice) {
        hub.sessions.tell(hearing, "INTERACTION_CREATE", &event);
    }
    Ok((id, answer))
}

/// Waits for the first answer as long as the platform lets a bot take.
async fn wait(
    hub: &Hub,
    doer: Doer,
    started: Watch,
    sent: Result<(Id, oneshot::Receiver<Answer>), String>,
) -> Outcome {
    let mut outcome = match sent {
        Err(why) => Outcome::refused(why),
        Ok((id, answer)) => {
            let patience = Duration::from_millis(FIRST_ANSWER_MS);
            let answered = tokio::time::timeout(patience, answer)
                .await
                .ok()
                .and_then(Result::ok);
            let failed = answered.is_none().then(|| {
                let chat = hub.chat();
                let refused = chat.asking.get(id).and_then(|a| a.refused.as_deref());
                match refused {
                    Some(why) => format!("The answer of {} was refused: {why}", chat.bot_name),
                    None => format!("{} did not answer within 3 seconds.", chat.bot_name),
                }
            });
            Outcome {
                interaction: Some(id),
                answered,
                failed,
                waited: Duration::ZERO,
            }
        }
    };
    outcome.waited = started.passed();
    if let Some(why) = &outcome.failed {
        hub.happened(|| Happening::Failed {
            nonce: doer.nonce,
            why: why.clone(),
        });
    }
    outcome
}

fn allowed<'a>(chat: &'a Chat, doer: &Doer) -> Result<&'a Person, String> {
    let person = chat
        .person(doer.person)
        .ok_or("There is no such person here.")?;
    let channel = chat
        .channels
        .get(&doer.channel)
        .filter(|c| c.read_by(doer.person));
    channel.ok_or_else(|| format!("{} does not read this channel.", person.name))?;
    Ok(person)
}

/// Whether the platform's client shows that command to that person. In a direct message and in
/// the foreign guild, commands registered for the home are tried all the same, so that the bot's
/// own refusal can be tested.
fn may_use(chat: &Chat, person: &Person, command: &Value, channel: Id) -> Result<(), String> {
    let name = command["name"].as_str().unwrap_or("");
    let direct = chat
        .channels
        .get(&channel)
        .is_some_and(|c| c.direct.is_some());
    if direct && command["dm_permission"] == false {
        return Err(format!("/{name} cannot be used in direct messages."));
    }
    let needed = command["default_member_permissions"].as_str();
    let Some(needed) = needed.and_then(|bits| bits.parse::<u64>().ok()) else {
        return Ok(());
    };
    let has = shapes::permissions(person);
    if !direct && (needed == 0 || has & needed != needed) {
        return Err(format!("{} may not use /{name}.", person.name));
    }
    Ok(())
}

/// A message that the person sees.
fn visible<'a>(chat: &'a Chat, person: &Person, message: Id) -> Result<&'a Message, String> {
    let seen = chat.message(message).filter(|m| {
        !m.loading
            && m.ephemeral_for.is_none_or(|who| who == person.id)
            && chat
                .channels
                .get(&m.channel)
                .is_some_and(|c| c.read_by(person.id))
    });
    let seen = seen.ok_or("This message is gone.")?;
    Ok(seen)
}

/// A button or menu on a message that the person sees.
fn component(chat: &Chat, person: &Person, message: Id, custom_id: &str) -> Result<Value, String> {
    let rows = visible(chat, person, message)?
        .components
        .iter()
        .filter_map(|row| row["components"].as_array());
    let found = rows.flatten().find(|c| c["custom_id"] == custom_id);
    let found = found.ok_or("This button is no longer there.")?;
    if found["disabled"] == true {
        return Err("This button is switched off.".to_owned());
    }
    Ok(found.clone())
}

/// The objects of what was picked in a menu of users, roles or channels.
fn picked(chat: &Chat, values: &[String]) -> Result<Value, String> {
    let mut resolved: Map<String, Value> = Map::new();
    for value in values {
        let id: Id = value
            .parse()
            .map_err(|_| "Choose one of the list.".to_owned())?;
        let role = shapes::roles(chat)
            .into_iter()
            .find(|r| r["id"] == value.as_str());
        let (key, object) = if let Some(role) = role {
            ("roles", role)
        } else if let Some(person) = chat.person(id) {
            ("users", shapes::user(id, &person.name, false))
        } else if let Some(channel) = chat.channels.get(&id) {
            (
                "channels",
                shapes::partial_channel(id, &channel.name, false),
            )
        } else {
            return Err("There is no such one here.".to_owned());
        };
        resolved.entry(key).or_insert_with(|| json!({}))[value.as_str()] = object;
    }
    Ok(Value::Object(resolved))
}
