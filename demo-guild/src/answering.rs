//! What the bot's first answer to an interaction does.
//!
//! Decides which answer fits which deed, and what the person who asked is told; limits are
//! checked in `check`, ages in `asked`.

use std::sync::Arc;

use serde_json::{Value, json};

use crate::asked::{Deed, OpenForm};
use crate::chat::{Cause, Chat, Message, Posted, Posting};
use crate::check;
use crate::check::command::kind as option_kind;
use crate::check::message::{Draft, EPHEMERAL, LOADING};
use crate::clock::wall_ms;
use crate::frames::Happening;
use crate::http::body::{Body, File};
use crate::hub::Hub;
use crate::ids::Id;
use crate::limits::What;
use crate::outcome::{Answer, Choice, Kind};
use crate::problem::{self, Faulty, Problem};
use crate::shapes;

/// The platform's numbers of first answers.
mod number {
    pub const MESSAGE: u64 = 4;
    pub const DEFERRED: u64 = 5;
    pub const DEFERRED_UPDATE: u64 = 6;
    pub const UPDATE: u64 = 7;
    pub const CHOICES: u64 = 8;
    pub const FORM: u64 = 9;
}

/// What is needed of an interaction while it is answered.
#[derive(Clone, Debug)]
pub(crate) struct Facts {
    pub id: Id,
    pub person: Id,
    pub channel: Id,
    pub deed: Deed,
    pub typed: Option<String>,
    pub nonce: Option<String>,
}

/// Takes the first answer. The resource that `with_response` asks for, where wanted.
///
/// # Errors
/// 10062, 40060, 50035 and what a message may be refused for.
pub fn first(
    hub: &Hub,
    id: Id,
    token: &str,
    body: Body,
    with_response: bool,
) -> Result<Option<Value>, Problem> {
    let now = wall_ms();
    let mut chat = hub.chat();
    let facts = {
        let asked = chat.asking.unanswered(id, token, now)?;
        let (typed, nonce) = (asked.typed.clone(), asked.nonce.clone());
        Facts {
            id,
            person: asked.person,
            channel: asked.channel,
            deed: asked.deed,
            typed,
            nonce,
        }
    };
    let number = body.json["type"].as_u64();
    let done = apply(hub, &mut chat, &facts, body);
    let asked = chat
        .asking
        .get_mut(id)
        .ok_or(problem::UNKNOWN_INTERACTION)?;
    let (answer, original) = match done {
        Ok(done) => done,
        Err(problem) => {
            asked.refused = Some(problem.body().to_string());
            return Err(problem);
        }
    };
    asked.answered = true;
    asked.original = original;
    let waiter = asked.waiter.take();
    // Only what was taken is closed: what got no answer can be sent again from where it is open.
    if let Some((form, by)) = asked.form.take() {
        chat.asking.close_form(facts.person, &form, by);
    }
    let nonce = facts.nonce.clone();
    hub.happened(|| match answer.kind {
        Kind::Deferred if facts.deed.on().is_none() => Happening::Waiting { nonce },
        Kind::Choices => Happening::Choices {
            nonce,
            choices: answer.choices.clone(),
        },
        Kind::Message | Kind::Update | Kind::Deferred | Kind::Form => Happening::Done { nonce },
    });
    let resource = with_response.then(|| resource(&chat, &facts, number, &answer, original));
    if let Some(waiter) = waiter {
        // Whoever waited may have given up.
        let _ = waiter.send(answer);
    }
    Ok(resource)
}

fn apply(
    hub: &Hub,
    chat: &mut Chat,
    facts: &Facts,
    mut body: Body,
) -> Result<(Answer, Option<Id>), Problem> {
    let data = body.json["data"].take();
    let mut faulty = Faulty::default();
    let Some(number) = fitting(&mut faulty, &body.json["type"], facts.deed) else {
        faulty.done()?;
        return Err(problem::UNKNOWN_INTERACTION);
    };
    let simple = |kind, message| Answer {
        kind,
        message,
        form: None,
        choices: Vec::new(),
    };
    match number {
        number::CHOICES => {
            let choices = choices(&mut faulty, &data);
            faulty.done()?;
            Ok((
                Answer {
                    choices,
                    ..simple(Kind::Choices, None)
                },
                None,
            ))
        }
        number::FORM => {
            let mut form = None;
            faulty.key("data", |f| form = check::form::form(f, &data));
            faulty.done()?;
            let Some(form) = form else {
                return Err(problem::UNKNOWN_INTERACTION);
            };
            let (person, channel_id) = (facts.person, facts.channel);
            let open = OpenForm {
                form: form.clone(),
                by: facts.id,
                channel: channel_id,
                on: facts.deed.on(),
            };
            chat.asking.open_form(person, open);
            hub.happened(|| Happening::Form {
                person,
                form: form.clone(),
                channel_id,
            });
            Ok((
                Answer {
                    form: Some(form),
                    ..simple(Kind::Form, None)
                },
                None,
            ))
        }
        number::DEFERRED_UPDATE => Ok((simple(Kind::Deferred, None), facts.deed.on())),
        number::UPDATE => {
            let draft = checked(faulty, data)?;
            let on = facts.deed.on().ok_or(problem::UNKNOWN_MESSAGE)?;
            let message = change(hub, chat, on, draft, body.files)?;
            Ok((simple(Kind::Update, Some(message)), Some(on)))
        }
        number::DEFERRED => {
            let mut draft = checked(faulty, data)?;
            draft = Draft {
                flags: draft.flags & EPHEMERAL | LOADING,
                ..Draft::default()
            };
            let message = write(hub, chat, facts, draft, Vec::new())?;
            Ok((simple(Kind::Deferred, None), Some(message.id)))
        }
        _ => {
            let draft = checked(faulty, data)?;
            let message = write(hub, chat, facts, draft, body.files)?;
            let id = message.id;
            Ok((simple(Kind::Message, Some(message)), Some(id)))
        }
    }
}

/// The number of the answer, where it fits what was done.
fn fitting(faulty: &mut Faulty, given: &Value, deed: Deed) -> Option<u64> {
    let fit: &[u64] = match deed {
        Deed::Complete => &[number::CHOICES],
        Deed::Command => &[number::MESSAGE, number::DEFERRED, number::FORM],
        Deed::Component(_) => &[
            number::MESSAGE,
            number::DEFERRED,
            number::DEFERRED_UPDATE,
            number::UPDATE,
            number::FORM,
        ],
        Deed::Submit(Some(_)) => &[
            number::MESSAGE,
            number::DEFERRED,
            number::DEFERRED_UPDATE,
            number::UPDATE,
        ],
        Deed::Submit(None) => &[number::MESSAGE, number::DEFERRED],
    };
    let number = given.as_u64().filter(|n| fit.contains(n));
    if number.is_none() {
        faulty.key("type", |f| {
            if given.is_null() {
                check::required(f);
            } else {
                let fit: Vec<String> = fit.iter().map(u64::to_string).collect();
                check::not_among(f, &fit.join(", "));
            }
        });
    }
    number
}

fn checked(mut faulty: Faulty, data: Value) -> Result<Draft, Problem> {
    let mut draft = Draft::default();
    faulty.key("data", |f| draft = check::message::read(f, data));
    faulty.done()?;
    Ok(draft)
}

fn choices(faulty: &mut Faulty, data: &Value) -> Vec<Choice> {
    let mut read = Vec::new();
    faulty.key("data", |f| {
        let Some(body) = check::object(f, data) else {
            return;
        };
        let listed = check::list(f, body, "choices", check::Need::Must, What::Completions);
        f.key("choices", |f| {
            for (index, choice) in listed.iter().enumerate() {
                let of = if choice["value"].is_number() {
                    option_kind::NUMBER
                } else {
                    option_kind::TEXT
                };
                f.at(index, |f| {
                    check::command::choice(
                        f,
                        choice,
                        of,
                        What::CompletionName,
                        What::CompletionValue,
                    );
                });
                let name = choice["name"].as_str().unwrap_or("").to_owned();
                read.push(Choice {
                    name,
                    value: choice["value"].clone(),
                });
            }
        });
    });
    read
}

/// Writes a message that answers an interaction.
pub(crate) fn write(
    hub: &Hub,
    chat: &mut Chat,
    facts: &Facts,
    draft: Draft,
    files: Vec<File>,
) -> Result<Arc<Message>, Problem> {
    let posting = Posting {
        id: hub.id(),
        channel: facts.channel,
        author: chat.bot_author(),
        at: hub.now_ms(),
        wall_ms: wall_ms(),
        files: hub.attach(facts.channel, files, &draft),
        cause: Some(Cause {
            interaction: facts.id,
            deed: facts.deed,
            person: facts.person,
        }),
        typed: facts.typed.clone(),
    };
    match chat.post(posting, draft)? {
        Posted::New(message) => {
            if !message.loading {
                hub.wrote(chat, &message);
            }
            Ok(message)
        }
        Posted::Same(message) => Ok(message),
    }
}

/// Changes a message of the bot's; one that was only thought about appears.
pub(crate) fn change(
    hub: &Hub,
    chat: &mut Chat,
    id: Id,
    draft: Draft,
    files: Vec<File>,
) -> Result<Arc<Message>, Problem> {
    let before = chat.message(id).ok_or(problem::UNKNOWN_MESSAGE)?;
    let (channel, loading) = (before.channel, before.loading);
    let files = hub.attach(channel, files, &draft);
    let message = chat.edit(id, draft, files, hub.now_ms(), wall_ms())?;
    if loading {
        hub.wrote(chat, &message);
    } else {
        hub.rewrote(chat, &message);
    }
    Ok(message)
}

fn resource(
    chat: &Chat,
    facts: &Facts,
    number: Option<u64>,
    answer: &Answer,
    original: Option<Id>,
) -> Value {
    let message = answer.message.as_ref().or_else(|| chat.message(original?));
    let deferred = answer.kind == Kind::Deferred;
    let mut resource = json!({"type": number});
    if let Some(message) = message {
        resource["message"] = shapes::message(chat, message);
    }
    json!({
        "interaction": {
            "id": facts.id, "type": facts.deed.number(), "activity_instance_id": null,
            "response_message_id": message.map(|m| m.id),
            "response_message_loading": deferred,
            "response_message_ephemeral": message.is_some_and(|m| m.ephemeral_for.is_some()),
            "channel_id": facts.channel, "guild_id": chat.guild,
        },
        "resource": resource,
    })
}
