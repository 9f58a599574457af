//! Routes that only read: the gateway's address, users, the guild, its roles, members, channels.

use std::sync::Arc;
use std::sync::atomic::Ordering;

use axum::Json;
use axum::extract::{Path, Request, State};
use axum::http::StatusCode;
use serde_json::{Value, json};

use super::{Answer, Refusal, body, id};
use crate::chat::Chat;
use crate::hub::Hub;
use crate::limits::SESSIONS_A_DAY;
use crate::problem::{self, Problem};
use crate::shapes;

type Of = State<Arc<Hub>>;

pub async fn gateway(State(hub): Of) -> Json<Value> {
    Json(json!({"url": hub.gateway_url()}))
}

pub async fn gateway_bot(State(hub): Of) -> Json<Value> {
    let left = hub.sessions_left.load(Ordering::Relaxed);
    let limit = json!({"total": SESSIONS_A_DAY, "remaining": left, "reset_after": 86_400_000, "max_concurrency": 1});
    Json(json!({"url": hub.gateway_url(), "shards": 1, "session_start_limit": limit}))
}

pub async fn me(State(hub): Of) -> Json<Value> {
    Json(shapes::me(&hub.chat()))
}

pub async fn my_guilds(State(hub): Of) -> Json<Value> {
    let chat = hub.chat();
    let foreign = chat.in_foreign.then_some((chat.foreign, shapes::ELSEWHERE));
    let guilds = std::iter::once((chat.guild, chat.guild_name.as_str())).chain(foreign);
    let guilds = guilds.map(|(id, name)| {
        json!({"id": id, "name": name, "icon": null, "banner": null, "owner": false,
            "permissions": shapes::BOT_PERMISSIONS.to_string(), "features": []})
    });
    Json(guilds.collect())
}

/// The bot leaves a guild.
pub async fn leave(State(hub): Of, Path(guild): Path<String>) -> Answer<StatusCode> {
    hub.leave(id(&guild, problem::UNKNOWN_GUILD)?)?;
    Ok(StatusCode::NO_CONTENT)
}

pub async fn user(State(hub): Of, Path(user): Path<String>) -> Answer {
    let user = id(&user, problem::UNKNOWN_USER)?;
    let chat = hub.chat();
    if user == chat.bot {
        return Ok(Json(shapes::me(&chat)));
    }
    let person = chat.person(user).ok_or(Refusal(problem::UNKNOWN_USER))?;
    Ok(Json(shapes::user(person.id, &person.name, false)))
}

pub async fn application(State(hub): Of) -> Json<Value> {
    let chat = hub.chat();
    Json(json!({
        "id": chat.bot, "name": chat.bot_name, "icon": null, "description": "", "type": null,
        "bot": shapes::me(&chat), "bot_public": false, "bot_require_code_grant": false,
        "summary": "", "verify_key": "0".repeat(64), "flags": 0, "hook": true, "owner": null,
        "team": null, "rpc_origins": [], "tags": [], "redirect_uris": [],
        "interactions_endpoint_url": null, "role_connections_verification_url": null,
        "integration_types_config": {"0": {}}, "approximate_guild_count": 1,
    }))
}

pub async fn guild(State(hub): Of, Path(guild): Path<String>) -> Answer {
    let chat = hub.chat();
    known(&chat, &guild)?;
    Ok(Json(shapes::guild(&chat)))
}

pub async fn channels(State(hub): Of, Path(guild): Path<String>) -> Answer {
    let chat = hub.chat();
    known(&chat, &guild)?;
    let seen = chat
        .order
        .iter()
        .filter_map(|id| chat.channels.get(id))
        .filter(|c| c.bot);
    Ok(Json(seen.map(|c| shapes::channel(&chat, c)).collect()))
}

pub async fn roles(State(hub): Of, Path(guild): Path<String>) -> Answer {
    let chat = hub.chat();
    known(&chat, &guild)?;
    Ok(Json(shapes::roles(&chat).into()))
}

pub async fn role(State(hub): Of, Path((guild, role)): Path<(String, String)>) -> Answer {
    let chat = hub.chat();
    known(&chat, &guild)?;
    let found = shapes::roles(&chat)
        .into_iter()
        .find(|r| r["id"] == role.as_str());
    found.map(Json).ok_or(Refusal(problem::UNKNOWN_ROLE))
}

pub async fn member(State(hub): Of, Path((guild, user)): Path<(String, String)>) -> Answer {
    let chat = hub.chat();
    known(&chat, &guild)?;
    let user = if user == "@me" {
        chat.bot
    } else {
        id(&user, problem::UNKNOWN_MEMBER)?
    };
    if user == chat.bot {
        return Ok(Json(shapes::bot_member(&chat)));
    }
    let person = chat.person(user).ok_or(Refusal(problem::UNKNOWN_MEMBER))?;
    Ok(Json(shapes::member(person, false)))
}

pub async fn channel(State(hub): Of, Path(channel): Path<String>) -> Answer {
    let channel = id(&channel, problem::UNKNOWN_CHANNEL)?;
    let chat = hub.chat();
    Ok(Json(shapes::channel(&chat, chat.channel_for_bot(channel)?)))
}

pub async fn typing(State(hub): Of, Path(channel): Path<String>) -> Answer<StatusCode> {
    let channel = id(&channel, problem::UNKNOWN_CHANNEL)?;
    hub.chat().channel_for_bot(channel)?;
    Ok(StatusCode::NO_CONTENT)
}

/// Opens the direct channel with a person, which is always there.
pub async fn open_direct(State(hub): Of, request: Request) -> Answer {
    let asked = body::read(request).await?.json;
    let person = asked["recipient_id"]
        .as_str()
        .and_then(|text| text.parse().ok());
    let chat = hub.chat();
    let channel = person
        .and_then(|p| chat.direct_with(p))
        .ok_or(Refusal(problem::UNKNOWN_USER))?;
    Ok(Json(shapes::channel(&chat, chat.channel_for_bot(channel)?)))
}

fn known(chat: &Chat, guild: &str) -> Result<(), Problem> {
    if guild.parse() == Ok(chat.guild) {
        Ok(())
    } else {
        Err(problem::UNKNOWN_GUILD)
    }
}
