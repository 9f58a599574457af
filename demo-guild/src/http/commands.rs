//! Routes of the register of commands, global and of the guild.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, Query, Request, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::Value;

use super::{Answer, body, id};
use crate::chat::Chat;
use crate::clock::wall_ms;
use crate::hub::Hub;
use crate::problem;
use crate::register::{Scope, Stamp, in_locale};

type Of = State<Arc<Hub>>;

/// What may be asked of a list.
#[derive(Debug, Deserialize)]
pub struct Wanted {
    #[serde(default)]
    with_localizations: bool,
}

pub async fn list(
    State(hub): Of,
    Path(app): Path<String>,
    Query(wanted): Query<Wanted>,
    headers: HeaderMap,
) -> Answer {
    Ok(as_wanted(listed(&hub, &app, None)?, &wanted, &headers))
}

pub async fn list_guild(
    State(hub): Of,
    Path((app, guild)): Path<(String, String)>,
    Query(wanted): Query<Wanted>,
    headers: HeaderMap,
) -> Answer {
    let all = listed(&hub, &app, Some(&guild))?;
    Ok(as_wanted(all, &wanted, &headers))
}

/// A list leaves the translations out unless they are asked for, save the asker's own.
fn as_wanted(mut all: Json<Value>, wanted: &Wanted, headers: &HeaderMap) -> Json<Value> {
    if !wanted.with_localizations {
        let said = |name| headers.get(name).and_then(|value| value.to_str().ok());
        let locale = said("x-discord-locale").or_else(|| said("accept-language"));
        for command in all.0.as_array_mut().into_iter().flatten() {
            in_locale(command, locale.unwrap_or_default());
        }
    }
    all
}

pub async fn replace(State(hub): Of, Path(app): Path<String>, request: Request) -> Answer {
    replaced(&hub, &app, None, request).await
}

pub async fn replace_guild(
    State(hub): Of,
    Path((app, guild)): Path<(String, String)>,
    request: Request,
) -> Answer {
    replaced(&hub, &app, Some(&guild), request).await
}

pub async fn upsert(State(hub): Of, Path(app): Path<String>, request: Request) -> Answer<Response> {
    upserted(&hub, &app, None, request).await
}

pub async fn upsert_guild(
    State(hub): Of,
    Path((app, guild)): Path<(String, String)>,
    request: Request,
) -> Answer<Response> {
    upserted(&hub, &app, Some(&guild), request).await
}

pub async fn get(State(hub): Of, Path((app, command)): Path<(String, String)>) -> Answer {
    got(&hub, &app, None, &command)
}

pub async fn get_guild(
    State(hub): Of,
    Path((app, guild, command)): Path<(String, String, String)>,
) -> Answer {
    got(&hub, &app, Some(&guild), &command)
}

pub async fn patch(
    State(hub): Of,
    Path((app, command)): Path<(String, String)>,
    request: Request,
) -> Answer {
    patched(&hub, &app, None, &command, request).await
}

pub async fn patch_guild(
    State(hub): Of,
    Path((app, guild, command)): Path<(String, String, String)>,
    request: Request,
) -> Answer {
    patched(&hub, &app, Some(&guild), &command, request).await
}

pub async fn delete(
    State(hub): Of,
    Path((app, command)): Path<(String, String)>,
) -> Answer<StatusCode> {
    deleted(&hub, &app, None, &command)
}

pub async fn delete_guild(
    State(hub): Of,
    Path((app, guild, command)): Path<(String, String, String)>,
) -> Answer<StatusCode> {
    deleted(&hub, &app, Some(&guild), &command)
}

fn listed(hub: &Hub, app: &str, guild: Option<&str>) -> Answer {
    let chat = hub.chat();
    let scope = scope(&chat, app, guild)?;
    Ok(Json(
        chat.register.of(scope).map(|c| Value::clone(c)).collect(),
    ))
}

async fn replaced(hub: &Hub, app: &str, guild: Option<&str>, request: Request) -> Answer {
    let body = body::read(request).await?.json;
    {
        let mut chat = hub.chat();
        let scope = scope(&chat, app, guild)?;
        let stamp = stamp(hub, &chat);
        chat.register.replace(scope, &body, stamp)?;
        hub.commands_changed(&chat);
    }
    listed(hub, app, guild)
}

async fn upserted(hub: &Hub, app: &str, guild: Option<&str>, request: Request) -> Answer<Response> {
    let body = body::read(request).await?.json;
    let mut chat = hub.chat();
    let scope = scope(&chat, app, guild)?;
    let stamp = stamp(hub, &chat);
    let (command, new) = chat.register.upsert(scope, &body, stamp)?;
    hub.commands_changed(&chat);
    let status = if new {
        StatusCode::CREATED
    } else {
        StatusCode::OK
    };
    Ok((status, Json(&*command)).into_response())
}

fn got(hub: &Hub, app: &str, guild: Option<&str>, command: &str) -> Answer {
    let chat = hub.chat();
    let scope = scope(&chat, app, guild)?;
    let command = id(command, problem::UNKNOWN_COMMAND)?;
    Ok(Json(Value::clone(chat.register.get(scope, command)?)))
}

async fn patched(
    hub: &Hub,
    app: &str,
    guild: Option<&str>,
    command: &str,
    request: Request,
) -> Answer {
    let body = body::read(request).await?.json;
    let command = id(command, problem::UNKNOWN_COMMAND)?;
    let mut chat = hub.chat();
    let scope = scope(&chat, app, guild)?;
    let stamp = stamp(hub, &chat);
    let changed = chat.register.patch(scope, command, &body, stamp)?;
    hub.commands_changed(&chat);
    Ok(Json(Value::clone(&changed)))
}

fn deleted(hub: &Hub, app: &str, guild: Option<&str>, command: &str) -> Answer<StatusCode> {
    let command = id(command, problem::UNKNOWN_COMMAND)?;
    let mut chat = hub.chat();
    let scope = scope(&chat, app, guild)?;
    chat.register.remove(scope, command)?;
    hub.commands_changed(&chat);
    Ok(StatusCode::NO_CONTENT)
}

/// The scope of a route, where application and guild are ours.
fn scope(chat: &Chat, app: &str, guild: Option<&str>) -> Result<Scope, problem::Problem> {
    if app.parse() != Ok(chat.bot) {
        return Err(problem::UNKNOWN_APPLICATION);
    }
    match guild {
        None => Ok(None),
        Some(guild) if guild.parse() == Ok(chat.guild) => Ok(Some(chat.guild)),
        Some(_) => Err(problem::UNKNOWN_GUILD),
    }
}

fn stamp<'a>(hub: &'a Hub, chat: &Chat) -> Stamp<'a> {
    Stamp {
        mint: &hub.mint,
        wall_ms: wall_ms(),
        application: chat.bot,
    }
}
