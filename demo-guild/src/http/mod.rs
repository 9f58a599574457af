//! The platform's HTTP interface: routes, and what every request passes before its route.
//!
//! Decides who is let in (token, rate limits) and where a fault that a test asked for strikes.

pub mod body;
mod commands;
mod interactions;
mod messages;
mod reads;

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::body::Body as HttpBody;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use axum::routing::{delete, get, post};
use serde_json::{Value, json};

use crate::faults::Fault;
use crate::hub::Hub;
use crate::ids::Id;
use crate::problem::{self, Problem};
use crate::rates::Bucket;

/// Marks an answer that must not reach its asker: the listener drops the connection instead.
#[derive(Clone, Copy, Debug)]
pub struct Lost;

/// The interface's routes, below its root.
pub fn routes(hub: Arc<Hub>) -> Router {
    let scoped = "/applications/{app}/guilds/{guild}/commands";
    Router::new()
        .route("/gateway", get(reads::gateway))
        .route("/gateway/bot", get(reads::gateway_bot))
        .route("/users/@me", get(reads::me))
        .route("/users/@me/guilds", get(reads::my_guilds))
        .route("/users/@me/guilds/{guild}", delete(reads::leave))
        .route("/users/@me/channels", post(reads::open_direct))
        .route("/users/{user}", get(reads::user))
        .route("/applications/@me", get(reads::application))
        .route("/oauth2/applications/@me", get(reads::application))
        .route("/guilds/{guild}", get(reads::guild))
        .route("/guilds/{guild}/channels", get(reads::channels))
        .route("/guilds/{guild}/roles", get(reads::roles))
        .route("/guilds/{guild}/roles/{role}", get(reads::role))
        .route("/guilds/{guild}/members/{user}", get(reads::member))
        .route("/channels/{channel}", get(reads::channel))
        .route("/channels/{channel}/typing", post(reads::typing))
        .route(
            "/channels/{channel}/messages",
            get(messages::list).post(messages::create),
        )
        .route(
            "/channels/{channel}/messages/{message}",
            get(messages::get)
                .patch(messages::edit)
                .delete(messages::delete),
        )
        .route(
            "/applications/{app}/commands",
            get(commands::list)
                .put(commands::replace)
                .post(commands::upsert),
        )
        .route(
            "/applications/{app}/commands/{command}",
            get(commands::get)
                .patch(commands::patch)
                .delete(commands::delete),
        )
        .route(
            scoped,
            get(commands::list_guild)
                .put(commands::replace_guild)
                .post(commands::upsert_guild),
        )
        .route(
            &format!("{scoped}/{{command}}"),
            get(commands::get_guild)
                .patch(commands::patch_guild)
                .delete(commands::delete_guild),
        )
        .route(
            "/interactions/{id}/{token}/callback",
            post(interactions::callback),
        )
        .route("/webhooks/{app}/{token}", post(interactions::follow_up))
        .route(
            "/webhooks/{app}/{token}/messages/{message}",
            get(interactions::get)
                .patch(interactions::edit)
                .delete(interactions::delete),
        )
        .fallback(|| async { Refusal(problem::NOT_FOUND) })
        .method_not_allowed_fallback(|| async { Refusal(problem::METHOD) })
        .layer(DefaultBodyLimit::disable())
        .layer(axum::middleware::from_fn_with_state(
            Arc::clone(&hub),
            enter,
        ))
        .with_state(hub)
}

/// What every request passes.
async fn enter(State(hub): State<Arc<Hub>>, request: Request, next: Next) -> Response {
    let path = below_root(request.uri().path());
    let fault = hub.faults.meet(request.method().as_str(), path);
    let after = match fault {
        None => None,
        Some(Fault::Status(status)) => {
            return StatusCode::from_u16(status)
                .unwrap_or(StatusCode::BAD_GATEWAY)
                .into_response();
        }
        Some(Fault::Refused(problem)) => return Refusal(problem).into_response(),
        Some(Fault::TooMany(seconds)) => return too_many(seconds, false, None),
        Some(Fault::Dropped) => return lost(),
        Some(Fault::Late(wait)) => {
            tokio::time::sleep(wait).await;
            None
        }
        Some(fault @ (Fault::AnswerLost | Fault::AnswerLate(_) | Fault::Garbled)) => Some(fault),
    };
    // The interaction routes are exempt from the global gate and carry their own token.
    let exempt = path.starts_with("/interactions/") || path.starts_with("/webhooks/");
    if !exempt {
        if path != "/gateway" && !token_is_right(&hub, request.headers()) {
            return Refusal(problem::UNAUTHORIZED).into_response();
        }
        if let Some(bucket) = hub.rates.request() {
            return too_many(seconds(bucket.reset_after_ms), true, None);
        }
    }
    let response = next.run(request).await;
    match after {
        None => response,
        Some(Fault::AnswerLate(wait)) => {
            tokio::time::sleep(wait).await;
            response
        }
        Some(Fault::Garbled) => (StatusCode::OK, "<html>upstream</html>").into_response(),
        Some(
            Fault::AnswerLost
            | Fault::Status(_)
            | Fault::Refused(_)
            | Fault::TooMany(_)
            | Fault::Dropped
            | Fault::Late(_),
        ) => lost(),
    }
}

/// The path as the platform's reference writes it.
fn below_root(path: &str) -> &str {
    path.strip_prefix("/api/v10")
        .or_else(|| path.strip_prefix("/api"))
        .unwrap_or(path)
}

fn token_is_right(hub: &Hub, headers: &HeaderMap) -> bool {
    let given = headers
        .get(header::AUTHORIZATION)
        .and_then(|v| v.to_str().ok())
        .unwrap_or("");
    given
        .strip_prefix("Bot ")
        .is_some_and(|token| token == hub.token)
}

fn lost() -> Response {
    let mut response = Response::new(HttpBody::empty());
    response.extensions_mut().insert(Lost);
    response
}

fn seconds(ms: u64) -> f64 {
    std::time::Duration::from_millis(ms).as_secs_f64()
}

/// A 429 as the platform sends it.
fn too_many(wait_seconds: f64, global: bool, bucket: Option<(&Bucket, Id)>) -> Response {
    let body = json!({"message": "You are being rate limited.", "retry_after": wait_seconds,
        "global": global});
    let mut response = (StatusCode::TOO_MANY_REQUESTS, axum::Json(body)).into_response();
    let headers = response.headers_mut();
    let whole = Duration::from_secs_f64(wait_seconds.clamp(0.0, 86_400.0)).as_secs() + 1;
    set(headers, "retry-after", &whole.to_string());
    set(
        headers,
        "x-ratelimit-scope",
        if global { "global" } else { "user" },
    );
    if global {
        set(headers, "x-ratelimit-global", "true");
    }
    if let Some((bucket, channel)) = bucket {
        bucket_headers(headers, bucket, channel);
    }
    response
}

/// The headers of a bucket.
fn bucket_headers(headers: &mut HeaderMap, bucket: &Bucket, channel: Id) {
    set(headers, "x-ratelimit-limit", &bucket.limit.to_string());
    set(
        headers,
        "x-ratelimit-remaining",
        &bucket.remaining.to_string(),
    );
    set(
        headers,
        "x-ratelimit-reset",
        &format!("{:.3}", seconds(bucket.reset_ms)),
    );
    set(
        headers,
        "x-ratelimit-reset-after",
        &format!("{:.3}", seconds(bucket.reset_after_ms)),
    );
    set(
        headers,
        "x-ratelimit-bucket",
        &format!("{:032x}", channel.0),
    );
}

fn set(headers: &mut HeaderMap, name: &'static str, value: &str) {
    if let Ok(value) = HeaderValue::from_str(value) {
        headers.insert(HeaderName::from_static(name), value);
    }
}

/// A refusal as an answer.
#[derive(Debug)]
pub struct Refusal(pub Problem);

impl From<Problem> for Refusal {
    fn from(problem: Problem) -> Refusal {
        Refusal(problem)
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let status = StatusCode::from_u16(self.0.status).unwrap_or(StatusCode::BAD_REQUEST);
        (status, axum::Json(self.0.body())).into_response()
    }
}

/// What a route answers.
type Answer<T = axum::Json<Value>> = Result<T, Refusal>;

/// An id out of a path, or the refusal of something that is not there.
fn id(text: &str, missing: Problem) -> Result<Id, Refusal> {
    text.parse().map_err(|_| Refusal(missing))
}
