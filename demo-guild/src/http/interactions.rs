//! Routes by which the bot answers an interaction; the interaction's token is their only key.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, Query, Request, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::{Answer, body, id};
use crate::answering;
use crate::check::message;
use crate::following;
use crate::hub::Hub;
use crate::problem;
use crate::shapes;

type Of = State<Arc<Hub>>;

/// What a first answer's query asks for.
#[derive(Debug, Deserialize)]
pub struct Wanted {
    #[serde(default)]
    with_response: bool,
}

pub async fn callback(
    State(hub): Of,
    Path((interaction, token)): Path<(String, String)>,
    Query(wanted): Query<Wanted>,
    request: Request,
) -> Answer<Response> {
    let interaction = id(&interaction, problem::UNKNOWN_INTERACTION)?;
    let body = body::read(request).await?;
    let resource = answering::first(&hub, interaction, &token, body, wanted.with_response)?;
    Ok(match resource {
        Some(resource) => Json(resource).into_response(),
        None => StatusCode::NO_CONTENT.into_response(),
    })
}

pub async fn follow_up(
    State(hub): Of,
    Path((app, token)): Path<(String, String)>,
    request: Request,
) -> Answer {
    ours(&hub, &app)?;
    let body = body::read(request).await?;
    let mut draft = message::message(body.json)?;
    draft.flags &= !message::LOADING;
    Ok(Json(following::follow_up(&hub, &token, draft, body.files)?))
}

pub async fn get(
    State(hub): Of,
    Path((app, token, message)): Path<(String, String, String)>,
) -> Answer {
    ours(&hub, &app)?;
    let meant = following::meant(&hub, &token, &message)?;
    let chat = hub.chat();
    let message = chat.message(meant).ok_or(problem::UNKNOWN_MESSAGE)?;
    Ok(Json(shapes::message(&chat, message)))
}

pub async fn edit(
    State(hub): Of,
    Path((app, token, message)): Path<(String, String, String)>,
    request: Request,
) -> Answer {
    ours(&hub, &app)?;
    let body = body::read(request).await?;
    let draft = message::message(body.json)?;
    Ok(Json(following::edit(
        &hub, &token, &message, draft, body.files,
    )?))
}

pub async fn delete(
    State(hub): Of,
    Path((app, token, message)): Path<(String, String, String)>,
) -> Answer<StatusCode> {
    ours(&hub, &app)?;
    let meant = following::meant(&hub, &token, &message)?;
    following::remove(&hub, meant)?;
    Ok(StatusCode::NO_CONTENT)
}

fn ours(hub: &Hub, app: &str) -> Answer<()> {
    if app.parse() == Ok(hub.chat().bot) {
        Ok(())
    } else {
        Err(problem::UNKNOWN_WEBHOOK.into())
    }
}
