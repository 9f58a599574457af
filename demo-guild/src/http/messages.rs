//! Routes of a channel's messages.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, Query, Request, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::Value;

use super::{Answer, body, bucket_headers, id, seconds, too_many};
use crate::answering;
use crate::chat::{Posted, Posting};
use crate::check::message;
use crate::check::message::{EPHEMERAL, LOADING};
use crate::clock::wall_ms;
use crate::following;
use crate::hub::Hub;
use crate::problem;
use crate::shapes;

type Of = State<Arc<Hub>>;

/// Messages listed when no number is asked for, and at most (the platform's reference).
const LISTED: usize = 50;
const MOST_LISTED: usize = 100;

/// Where a list starts and how long it is.
#[derive(Debug, Deserialize)]
pub struct Span {
    limit: Option<usize>,
    before: Option<u64>,
    after: Option<u64>,
    around: Option<u64>,
}

/// Newest first.
pub async fn list(State(hub): Of, Path(channel): Path<String>, Query(span): Query<Span>) -> Answer {
    let channel = id(&channel, problem::UNKNOWN_CHANNEL)?;
    let limit = span.limit.unwrap_or(LISTED).clamp(1, MOST_LISTED);
    let chat = hub.chat();
    let seen = || -> Result<_, problem::Problem> {
        Ok(chat
            .channel_for_bot(channel)?
            .messages()
            .filter(|m| m.ephemeral_for.is_none()))
    };
    let mut found: Vec<_> = if let Some(after) = span.after {
        seen()?.filter(|m| m.id.0 > after).take(limit).collect()
    } else if let Some(around) = span.around {
        let mut near: Vec<_> = seen()?
            .rev()
            .filter(|m| m.id.0 < around)
            .take(limit / 2)
            .collect();
        near.extend(seen()?.filter(|m| m.id.0 >= around).take(limit - limit / 2));
        near
    } else {
        let before = span.before.unwrap_or(u64::MAX);
        seen()?
            .rev()
            .filter(|m| m.id.0 < before)
            .take(limit)
            .collect()
    };
    found.sort_by_key(|m| std::cmp::Reverse(m.id));
    Ok(Json(
        found
            .into_iter()
            .map(|m| shapes::message(&chat, m))
            .collect(),
    ))
}

pub async fn create(
    State(hub): Of,
    Path(channel): Path<String>,
    request: Request,
) -> Answer<Response> {
    let channel = id(&channel, problem::UNKNOWN_CHANNEL)?;
    let bucket = hub.rates.message(channel);
    if let Some(bucket) = bucket.filter(|b| b.spent) {
        return Ok(too_many(
            seconds(bucket.reset_after_ms),
            false,
            Some((&bucket, channel)),
        ));
    }
    let body = body::read(request).await?;
    let mut draft = message::message(body.json)?;
    // Only the answer to an interaction can be for one person, or be thought about.
    draft.flags &= !(EPHEMERAL | LOADING);
    let whole = {
        let mut chat = hub.chat();
        let posting = Posting {
            id: hub.id(),
            channel,
            author: chat.bot_author(),
            at: hub.now_ms(),
            wall_ms: wall_ms(),
            files: hub.attach(channel, body.files, &draft),
            cause: None,
            typed: None,
        };
        match chat.post(posting, draft)? {
            Posted::New(message) => {
                hub.wrote(&chat, &message);
                shapes::message(&chat, &message)
            }
            Posted::Same(message) => shapes::message(&chat, &message),
        }
    };
    let mut response = Json(whole).into_response();
    if let Some(bucket) = bucket {
        bucket_headers(response.headers_mut(), &bucket, channel);
    }
    Ok(response)
}

pub async fn get(State(hub): Of, Path((channel, message)): Path<(String, String)>) -> Answer {
    let channel = id(&channel, problem::UNKNOWN_CHANNEL)?;
    let message = id(&message, problem::UNKNOWN_MESSAGE)?;
    let chat = hub.chat();
    Ok(Json(shapes::message(
        &chat,
        chat.open_message(channel, message)?,
    )))
}

pub async fn edit(
    State(hub): Of,
    Path((channel, message)): Path<(String, String)>,
    request: Request,
) -> Answer<Json<Value>> {
    let channel = id(&channel, problem::UNKNOWN_CHANNEL)?;
    let message = id(&message, problem::UNKNOWN_MESSAGE)?;
    let body = body::read(request).await?;
    let draft = message::message(body.json)?;
    let mut chat = hub.chat();
    if chat.open_message(channel, message)?.author.id != chat.bot {
        return Err(problem::OTHERS_MESSAGE.into());
    }
    let changed = answering::change(&hub, &mut chat, message, draft, body.files)?;
    Ok(Json(shapes::message(&chat, &changed)))
}

pub async fn delete(
    State(hub): Of,
    Path((channel, message)): Path<(String, String)>,
) -> Answer<StatusCode> {
    let channel = id(&channel, problem::UNKNOWN_CHANNEL)?;
    let message = id(&message, problem::UNKNOWN_MESSAGE)?;
    hub.chat().open_message(channel, message)?;
    following::remove(&hub, message)?;
    Ok(StatusCode::NO_CONTENT)
}
