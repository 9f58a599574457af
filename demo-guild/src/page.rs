//! The page and its own interface: what it starts from, and one websocket for all that follows.
//!
//! Decides how the page's requests read; what they do is in `deeds`, as for everyone.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use axum::Json;
use axum::Router;
use axum::extract::ws::{Message as Frame, Utf8Bytes, WebSocket};
use axum::extract::{self, State, WebSocketUpgrade};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use chrono::{DateTime, TimeDelta, Utc};
use futures_util::{SinkExt, StreamExt};
use serde::Deserialize;
use serde_json::{Value, json};
use tokio::sync::{broadcast, watch};

use crate::deeds::{self, Doer};
use crate::frames::{self, Happening};
use crate::hub::Hub;
use crate::ids::Id;
use crate::shift;
use crate::typed::Typed;

const HTML: &str = include_str!("../page/index.html");
const CSS: &str = include_str!("../page/page.css");
const JS: &str = include_str!("../page/page.js");
const WORDS: &str = include_str!("../page/words.js");

/// Messages of a channel that the page starts with.
const SHOWN: usize = 50;
/// How often a running clock is told: fast enough that the page, which carries it on, is soon put right where it is held.
const CLOCK_EVERY: Duration = Duration::from_millis(250);
/// The furthest a step may go, so that a typing mistake does not run for years.
const LONGEST_STEP_DAYS: i64 = 400;
/// The fastest that the clock runs.
const FASTEST: f64 = 86_400.0;

/// The page's routes. Ends its sockets when told to stop.
pub fn routes(hub: Arc<Hub>, stop: watch::Receiver<bool>) -> Router {
    tokio::spawn(tell_clock(Arc::clone(&hub), stop.clone()));
    let live = move |State(hub): State<Arc<Hub>>, upgrade: WebSocketUpgrade| {
        let stop = stop.clone();
        async move { upgrade.on_upgrade(move |socket| live(hub, socket, stop)) }
    };
    let part = |kind: &'static str, text: &'static str| {
        get(move || async move {
            (
                [
                    (header::CONTENT_TYPE, kind),
                    (header::CACHE_CONTROL, "no-cache"),
                ],
                text,
            )
                .into_response()
        })
    };
    Router::new()
        .route("/", part("text/html; charset=utf-8", HTML))
        .route("/page.css", part("text/css; charset=utf-8", CSS))
        .route("/page.js", part("text/javascript; charset=utf-8", JS))
        .route("/words.js", part("text/javascript; charset=utf-8", WORDS))
        .route("/page/home", get(home))
        .route("/page/live", get(live))
        .layer(middleware::from_fn(of_this_computer))
        .with_state(hub)
}

/// Lets nobody in but a page that came from here: a browser asks on behalf of any site that is open in it, another program's
/// on this computer too, and a site may have its own name lead to this computer.
async fn of_this_computer(request: extract::Request, next: Next) -> Response {
    if comes_from_here(request.headers()) {
        return next.run(request).await;
    }
    let what = "This page answers only to itself, under 127.0.0.1 or localhost: open it under that address.\n";
    (StatusCode::FORBIDDEN, what).into_response()
}

fn comes_from_here(headers: &HeaderMap) -> bool {
    let said = |name| headers.get(name).map(HeaderValue::as_bytes);
    let Some(host) = said(header::HOST).filter(|host| is_here(host)) else {
        return false;
    };
    let from = said(header::ORIGIN).map(|origin| origin.strip_prefix(b"http://"));
    from.is_none_or(|from| from.is_some_and(|from| from.eq_ignore_ascii_case(host)))
}

/// Whether a host, with its port or without, is this computer.
fn is_here(host: &[u8]) -> bool {
    let Some(host) = std::str::from_utf8(host).ok() else {
        return false;
    };
    let name = match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|c| c.is_ascii_digit()) => name,
        Some(_) | None => host,
    };
    name == "127.0.0.1" || name.eq_ignore_ascii_case("localhost")
}

/// What the page starts from.
async fn home(State(hub): State<Arc<Hub>>) -> Json<Value> {
    let chat = hub.chat();
    let people: Vec<Value> = chat.people.iter()
        .map(|p| json!({"id": p.id, "name": p.name, "roles": p.roles, "role": p.job, "locale": p.locale}))
        .collect();
    let roles: Vec<Value> = chat
        .roles
        .iter()
        .map(|r| json!({"id": r.id, "name": r.name}))
        .collect();
    let shown = || chat.order.iter().filter_map(|id| chat.channels.get(id));
    let readers = |c: &crate::chat::Channel| -> Vec<Id> {
        chat.people
            .iter()
            .map(|p| p.id)
            .filter(|p| c.read_by(*p))
            .collect()
    };
    let channels: Vec<Value> = shown()
        .map(|c| json!({"id": c.id, "name": c.name, "readers": readers(c)}))
        .collect();
    let messages: BTreeMap<String, Vec<Value>> = shown()
        .map(|c| {
            let mut last: Vec<Value> = c
                .messages()
                .rev()
                .take(SHOWN)
                .map(|m| frames::seen(m))
                .collect();
            last.reverse();
            (c.id.to_string(), last)
        })
        .collect();
    let commands: Vec<Value> = chat
        .register
        .seen_in(chat.guild)
        .iter()
        .map(|c| Value::clone(c))
        .collect();
    Json(json!({
        "guild": {"id": chat.guild, "name": chat.guild_name},
        "bot": {"id": chat.bot, "name": chat.bot_name, "up": hub.is_up()},
        "people": people, "roles": roles, "channels": channels, "commands": commands,
        "phones": chat.phones, "clock": frames::clock(&*hub.dial, &chat.zone),
        "messages": messages,
    }))
}

/// One page: tells it everything, and does what it asks.
async fn live(hub: Arc<Hub>, socket: WebSocket, mut stop: watch::Receiver<bool>) {
    let (mut sink, mut stream) = socket.split();
    let mut heard = hub.subscribe();
    let telling = async {
        loop {
            let text = match heard.recv().await {
                Ok(frame) => frame.text().to_string(),
                // The page has missed frames: it starts afresh when its socket closes.
                Err(
                    broadcast::error::RecvError::Lagged(_) | broadcast::error::RecvError::Closed,
                ) => return,
            };
            if sink.send(Frame::Text(Utf8Bytes::from(text))).await.is_err() {
                return;
            }
        }
    };
    let doing = async {
        while let Some(Ok(frame)) = stream.next().await {
            let Frame::Text(text) = frame else { continue };
            match serde_json::from_str::<Request>(&text) {
                Ok(request) => {
                    tokio::spawn(take(Arc::clone(&hub), request));
                }
                Err(why) => {
                    let nonce = serde_json::from_str::<Value>(&text)
                        .ok()
                        .and_then(|v| v["nonce"].as_str().map(str::to_owned));
                    let why = format!("The page asked for something unknown: {why}.");
                    hub.happened(|| Happening::Failed { nonce, why });
                }
            }
        }
    };
    tokio::select! {
        () = telling => {}
        () = doing => {}
        _ = stop.changed() => {}
    }
}

/// What the page asks for.
#[derive(Debug, Deserialize)]
#[serde(tag = "do", rename_all = "lowercase")]
enum Request {
    Command(Asking),
    Complete(Asking),
    Tap(Touch),
    Choose(Touch),
    Submit {
        nonce: Option<String>,
        person: String,
        channel: String,
        custom_id: String,
        fields: BTreeMap<String, String>,
    },
    Say {
        nonce: Option<String>,
        person: String,
        channel: String,
        text: String,
    },
    Clock {
        nonce: Option<String>,
        rate: Option<f64>,
        step_ms: Option<i64>,
        to: Option<String>,
    },
}

#[derive(Debug, Deserialize)]
struct Asking {
    nonce: Option<String>,
    person: String,
    channel: String,
    name: String,
    #[serde(default)]
    options: Vec<Value>,
    file: Option<GivenFile>,
}

#[derive(Debug, Deserialize)]
struct GivenFile {
    option: String,
    name: String,
    text: String,
}

#[derive(Debug, Deserialize)]
struct Touch {
    nonce: Option<String>,
    person: String,
    channel: String,
    message: String,
    custom_id: String,
    #[serde(default)]
    values: Vec<String>,
}

/// Does it. How it went is told to every page, in the order that things happened.
async fn take(hub: Arc<Hub>, request: Request) {
    match request {
        Request::Command(asking) => ask(&hub, asking, false).await,
        Request::Complete(asking) => ask(&hub, asking, true).await,
        Request::Tap(touch) => {
            let doer = doer(touch.nonce, &touch.person, &touch.channel);
            deeds::tap(&hub, doer, id(&touch.message), &touch.custom_id).await;
        }
        Request::Choose(touch) => {
            let doer = doer(touch.nonce, &touch.person, &touch.channel);
            deeds::choose(
                &hub,
                doer,
                id(&touch.message),
                &touch.custom_id,
                &touch.values,
            )
            .await;
        }
        Request::Submit {
            nonce,
            person,
            channel,
            custom_id,
            fields,
        } => {
            let fields: Vec<(String, String)> = fields.into_iter().collect();
            deeds::submit(&hub, doer(nonce, &person, &channel), &custom_id, &fields).await;
        }
        Request::Say {
            nonce,
            person,
            channel,
            text,
        } => {
            let said = deeds::say(&hub, &doer(nonce.clone(), &person, &channel), &text);
            hub.happened(|| match said {
                Ok(_) => Happening::Done { nonce },
                Err(why) => Happening::Failed { nonce, why },
            });
        }
        Request::Clock {
            nonce,
            rate,
            step_ms,
            to,
        } => {
            let turned = turn(&hub, rate, step_ms, to.as_deref()).await;
            hub.happened(|| match turned {
                Ok(()) => Happening::Done { nonce },
                Err(why) => Happening::Failed { nonce, why },
            });
        }
    }
}

async fn ask(hub: &Hub, asking: Asking, completing: bool) {
    let mut path = asking.name;
    let mut level = asking.options.as_slice();
    while let [only] = level {
        if !matches!(only["type"].as_u64(), Some(1 | 2)) {
            break;
        }
        path = format!("{path} {}", only["name"].as_str().unwrap_or(""));
        level = only["options"].as_array().map_or(&[], Vec::as_slice);
    }
    let mut options: Vec<(&str, Value)> = level
        .iter()
        .filter_map(|o| Some((o["name"].as_str()?, o["value"].clone())))
        .collect();
    if let Some(file) = &asking.file {
        options.retain(|(name, _)| *name != file.option);
        options.push((&file.option, json!({"name": file.name, "text": file.text})));
    }
    let focused = level
        .iter()
        .find(|o| o["focused"] == true)
        .and_then(|o| o["name"].as_str());
    let doer = doer(asking.nonce, &asking.person, &asking.channel);
    if completing && focused.is_none() {
        let why = "No option is being completed.".to_owned();
        hub.happened(|| Happening::Failed {
            nonce: doer.nonce,
            why,
        });
        return;
    }
    let focused = focused.filter(|_| completing);
    deeds::command(
        hub,
        doer,
        Typed {
            path: &path,
            options: &options,
            focused,
            checked: true,
        },
    )
    .await;
}

/// Turns the demo clock; it never goes back.
async fn turn(
    hub: &Hub,
    rate: Option<f64>,
    step_ms: Option<i64>,
    to: Option<&str>,
) -> Result<(), String> {
    if let Some(rate) = rate {
        if !(0.0..=FASTEST).contains(&rate) {
            return Err(format!("The clock runs at 0 to {FASTEST} times."));
        }
        hub.dial.set_rate(rate);
    }
    if step_ms.is_none() && to.is_none() {
        return Ok(());
    }
    // One step after another, each from where the one before it ended: two quick presses are two steps.
    let _turning = hub.turning.lock().await;
    let now = hub.dial.now();
    let zone = hub.chat().zone.clone();
    let target: Option<DateTime<Utc>> = match (step_ms, to) {
        (Some(ms), _) => {
            if !(0..=LONGEST_STEP_DAYS * 86_400_000).contains(&ms) {
                return Err(format!(
                    "The clock steps forward, {LONGEST_STEP_DAYS} days at most."
                ));
            }
            Some(now + TimeDelta::milliseconds(ms))
        }
        (None, Some("shift")) => Some(shift::next(now, &zone)?),
        (None, Some("next")) => Some(hub.dial.next().ok_or("Nothing is due.")?),
        (None, Some(other)) => {
            return Err(format!("The clock does not know how to go to {other}."));
        }
        (None, None) => None,
    };
    if let Some(target) = target.filter(|t| *t > now) {
        hub.dial.step_to(target).await;
    }
    Ok(())
}

/// Tells the clock at every change, and every now and then while it runs or a step is held up.
async fn tell_clock(hub: Arc<Hub>, mut stop: watch::Receiver<bool>) {
    let mut changed = hub.dial.changed();
    let zone = hub.chat().zone.clone();
    loop {
        tokio::select! {
            turned = changed.changed() => if turned.is_err() { return },
            () = tokio::time::sleep(CLOCK_EVERY) => {
                if hub.dial.rate() == 0.0 && !hub.dial.held() {
                    continue;
                }
            }
            _ = stop.changed() => return,
        }
        hub.happened(|| Happening::Clock {
            clock: frames::clock(&*hub.dial, &zone),
        });
    }
}

fn doer(nonce: Option<String>, person: &str, channel: &str) -> Doer {
    Doer {
        person: id(person),
        channel: id(channel),
        nonce,
    }
}

/// An id that the page sent; one that is none finds nothing.
fn id(text: &str) -> Id {
    text.parse().unwrap_or(Id(0))
}

#[cfg(test)]
mod tests {
    use super::{JS, WORDS};

    fn roles() -> impl Iterator<Item = &'static str> {
        crate::home::staff().map(|who| who.job.as_str())
    }

    /// What the page says in a phone's language is there in Spanish, and nothing is there that it does not say.
    #[test]
    fn each_word_of_a_phones_frame_is_there_in_spanish() {
        let named: Vec<&str> = WORDS
            .lines()
            .filter_map(|line| line.strip_prefix("  ")?.strip_suffix(','))
            .filter_map(|line| {
                let (english, _) = line.split_once(": '")?;
                Some(english.trim_matches(['\'', '"']))
            })
            .collect();
        assert!(named.len() > 40, "{named:?}");
        for english in &named {
            let role = roles().any(|role| role == *english);
            let said = ['\'', '"'].iter().any(|mark| {
                let quoted = format!("{mark}{english}{mark}");
                JS.contains(&quoted)
            });
            assert!(role || said, "{english} is said nowhere");
        }
        for asked in JS.split("words(").skip(1) {
            let mark = asked.chars().next();
            let Some(mark) = mark.filter(|mark| matches!(mark, '\'' | '"')) else {
                continue;
            };
            let english = asked[1..].split(mark).next().unwrap_or_default();
            assert!(named.contains(&english), "{english} is not in Spanish");
        }
        for role in roles() {
            assert!(named.contains(&role), "{role} is not in Spanish");
        }
    }
}
