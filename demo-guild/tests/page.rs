//! The page's own interface: what it starts from, and that what it does is done and told in order.

// Helpers of a test may panic like the test itself.
#![allow(clippy::unwrap_used, clippy::wildcard_enum_match_arm)]

mod common;

use std::sync::{Arc, Mutex};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use common::{Api, Socket, home};
use demo_guild::{Dial, Guild, Options};
use futures_util::future::BoxFuture;
use reqwest::Method;
use serde_json::{Value, json};
use tokio::sync::watch;

async fn served() -> Guild {
    let layout = demo_guild::Layout {
        phones: vec!["Ana".into(), "Bo".into()],
        ..home()
    };
    Guild::serve(
        layout,
        Options {
            page: true,
            ..Options::headless()
        },
    )
    .await
    .unwrap()
}

async fn until(page: &mut Socket, kind: &str) -> Value {
    page.until(|v| v["t"] == kind).await
}

#[tokio::test]
async fn the_page_is_served_with_all_it_starts_from() {
    let guild = served().await;
    for (path, kind) in [
        ("/", "text/html"),
        ("/page.css", "text/css"),
        ("/page.js", "text/javascript"),
    ] {
        let part = reqwest::get(format!("{}{path}", guild.url()))
            .await
            .unwrap();
        assert!(
            part.headers()["content-type"]
                .to_str()
                .unwrap()
                .starts_with(kind)
        );
    }
    guild
        .say(guild.person("Ana"), guild.channel("north"), "hello")
        .unwrap();
    let text = reqwest::get(format!("{}/page/home", guild.url()))
        .await
        .unwrap()
        .text()
        .await
        .unwrap();
    let start: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(start["guild"]["name"], "Elm House");
    assert_eq!(start["people"][1]["role"], "nurse");
    assert_eq!(start["people"][1]["locale"], "es-ES");
    assert_eq!(
        start["channels"][1]["readers"],
        json!([guild.person("Cy").to_string()])
    );
    assert_eq!(start["phones"].as_array().unwrap().len(), 2);
    assert_eq!(start["clock"]["zone"], "America/Chicago");
    let north = guild.channel("north").to_string();
    assert_eq!(start["messages"][&north][0]["content"], "hello");
    assert_eq!(start["messages"][&north][0]["ephemeral_for"], Value::Null);
    let headless = Guild::serve(home(), Options::headless()).await.unwrap();
    assert_eq!(reqwest::get(headless.url()).await.unwrap().status(), 404);
}

#[tokio::test]
async fn another_site_that_is_open_in_the_browser_cannot_speak_for_anybody() {
    let guild = served().await;
    let (url, port) = (
        guild.url(),
        guild.url().rsplit_once(':').unwrap().1.to_owned(),
    );
    let here = format!("http://127.0.0.1:{port}");
    let named = format!("localhost:{port}");
    let by_name = format!("http://{named}");
    for (host, origin, status) in [
        (None, None, 200),
        (None, Some(here.as_str()), 200),
        (Some(named.as_str()), Some(by_name.as_str()), 200),
        // Another program's page on this computer, under either name of it.
        (Some(named.as_str()), Some("http://localhost:1"), 403),
        (None, Some("http://127.0.0.1:1"), 403),
        (None, Some("http://127.0.0.1"), 403),
        (None, Some(by_name.as_str()), 403),
        // A site elsewhere, one that says nothing of itself, and one whose own name leads here.
        (None, Some("https://elsewhere.example"), 403),
        (None, Some("null"), 403),
        (None, Some("http://127.0.0.1.elsewhere.example"), 403),
        (Some("elsewhere.example"), None, 403),
    ] {
        for path in ["/", "/page/home", "/page/live"] {
            let mut asked = reqwest::Client::new().get(format!("{url}{path}"));
            if let Some(host) = host {
                asked = asked.header("host", host);
            }
            if let Some(origin) = origin {
                asked = asked.header("origin", origin);
            }
            let said = asked.send().await.unwrap().status().as_u16();
            // What is no socket is told so, once it is let in.
            let wanted = if path == "/page/live" && status == 200 {
                400
            } else {
                status
            };
            assert_eq!(said, wanted, "{path} {host:?} {origin:?}");
        }
    }
}

/// A dial that takes its time for a step, as one does that has desks to wait for.
struct Slow {
    now: Arc<Mutex<DateTime<Utc>>>,
    changes: watch::Sender<u64>,
}

impl Dial for Slow {
    fn now(&self) -> DateTime<Utc> {
        *self.now.lock().unwrap()
    }
    fn rate(&self) -> f64 {
        0.0
    }
    fn next(&self) -> Option<DateTime<Utc>> {
        None
    }
    fn set_rate(&self, _rate: f64) {}
    fn step_to(&self, to: DateTime<Utc>) -> BoxFuture<'static, ()> {
        let now = Arc::clone(&self.now);
        Box::pin(async move {
            tokio::time::sleep(Duration::from_millis(100)).await;
            *now.lock().unwrap() = to;
        })
    }
    fn changed(&self) -> watch::Receiver<u64> {
        self.changes.subscribe()
    }
}

#[tokio::test]
async fn two_quick_presses_of_a_step_are_two_steps() {
    let start = DateTime::from_timestamp(1_800_000_000, 0).unwrap();
    let dial = Arc::new(Slow {
        now: Arc::new(Mutex::new(start)),
        changes: watch::Sender::new(0),
    });
    let options = Options {
        page: true,
        clock: Arc::clone(&dial) as Arc<dyn Dial>,
        ..Options::headless()
    };
    let guild = Guild::serve(home(), options).await.unwrap();
    let mut page = Socket::at(&guild, "/page/live").await;
    for nonce in ["1", "2"] {
        page.send(json!({"do": "clock", "nonce": nonce, "step_ms": 60_000}))
            .await;
    }
    for _ in 0..2 {
        until(&mut page, "done").await;
    }
    assert_eq!(dial.now() - start, TimeDelta::minutes(2));
}

#[tokio::test]
async fn a_command_its_card_and_its_form_go_through_the_page() {
    let guild = served().await;
    let api = Api::of(&guild);
    let mut page = Socket::at(&guild, "/page/live").await;
    let mut bot = Socket::open(&guild).await;
    bot.identify(&guild, 0).await;
    assert_eq!(until(&mut page, "bot").await["up"], true);
    let path = format!("/applications/{}/commands", guild.bot_id());
    let tag = json!({"type": 3, "name": "tag", "description": "d", "required": true, "autocomplete": true});
    let add = json!({"type": 1, "name": "add", "description": "d", "options": [tag]});
    let fleet = json!([{"name": "fleet", "description": "d", "options": [add]}]);
    api.send(Method::PUT, &path, &fleet).await;
    assert_eq!(
        until(&mut page, "commands").await["commands"][0]["name"],
        "fleet"
    );

    let (ana, north) = (
        guild.person("Ana").to_string(),
        guild.channel("north").to_string(),
    );
    let ask = |what: &str, nonce: &str, focused: bool| {
        let mut tag = json!({"name": "tag", "type": 3, "value": "LW-07"});
        if focused {
            tag["focused"] = true.into();
        }
        json!({"do": what, "nonce": nonce, "person": ana, "channel": north, "name": "fleet",
            "options": [{"name": "add", "type": 1, "options": [tag]}]})
    };
    let answer = async |bot: &mut Socket, body: Value| {
        let event = bot.until(|v| v["t"] == "INTERACTION_CREATE").await;
        let (id, token) = (event["d"]["id"].clone(), event["d"]["token"].clone());
        let path = format!(
            "/interactions/{}/{}/callback",
            id.as_str().unwrap(),
            token.as_str().unwrap()
        );
        assert!(api.send(Method::POST, &path, &body).await.0.is_success());
        event
    };
    page.send(ask("complete", "1", true)).await;
    answer(
        &mut bot,
        json!({"type": 8, "data": {"choices": [{"name": "LW-07", "value": "LW-07"}]}}),
    )
    .await;
    let choices = until(&mut page, "choices").await;
    assert_eq!(
        (&choices["nonce"], &choices["choices"][0]["name"]),
        (&json!("1"), &json!("LW-07"))
    );

    page.send(ask("command", "2", false)).await;
    let rows = json!([{"type": 1, "components": [{"type": 2, "style": 1, "custom_id": "go", "label": "Go"}]}]);
    let said = json!({"type": 4, "data": {"content": "added", "flags": 64, "components": rows}});
    let event = answer(&mut bot, said).await;
    assert_eq!(
        event["d"]["data"]["options"][0]["options"][0]["value"],
        "LW-07"
    );
    let message = page.next().await;
    assert_eq!(
        (&message["t"], &message["message"]["content"]),
        (&json!("message"), &json!("added"))
    );
    assert_eq!(message["message"]["ephemeral_for"], ana);
    assert_eq!(message["message"]["reply_to_command"], "/fleet add LW-07");
    assert_eq!(page.next().await, json!({"t": "done", "nonce": "2"}));

    let touch = json!({"do": "tap", "nonce": "3", "person": ana, "channel": north,
        "message": message["message"]["id"], "custom_id": "go"});
    page.send(touch).await;
    let input =
        json!({"type": 4, "style": 2, "custom_id": "why", "label": "Why", "required": false});
    let rows = json!([{"type": 1, "components": [input]}]);
    answer(
        &mut bot,
        json!({"type": 9, "data": {"custom_id": "f", "title": "T", "components": rows}}),
    )
    .await;
    let form = until(&mut page, "form").await;
    assert_eq!(
        (&form["person"], &form["channel_id"]),
        (&json!(ana), &json!(north))
    );
    assert_eq!(form["form"]["fields"][0]["long"], true);
    assert_eq!(page.next().await, json!({"t": "done", "nonce": "3"}));

    let submit = |nonce: &str| {
        json!({"do": "submit", "nonce": nonce, "person": ana, "channel": north,
            "custom_id": "f", "fields": {"why": "because"}})
    };
    // The bot says nothing to it: it is sent again from where it is still open.
    page.send(submit("unanswered")).await;
    bot.until(|v| v["t"] == "INTERACTION_CREATE").await;
    assert_eq!(until(&mut page, "failed").await["nonce"], "unanswered");
    page.send(submit("4")).await;
    let event = answer(
        &mut bot,
        json!({"type": 7, "data": {"content": "changed", "components": []}}),
    )
    .await;
    assert_eq!(
        event["d"]["data"]["components"][0]["components"][0]["value"],
        "because"
    );
    let edit = until(&mut page, "edit").await;
    assert_eq!(edit["message"]["content"], "changed");
    assert_eq!(until(&mut page, "done").await["nonce"], "4");
    // Once it was taken, it is closed.
    page.send(submit("again")).await;
    let failed = until(&mut page, "failed").await;
    assert_eq!(failed["why"], "This form is no longer open.");

    page.send(json!({"do": "say", "nonce": "5", "person": ana, "channel": north, "text": "hello"}))
        .await;
    assert_eq!(
        until(&mut page, "message").await["message"]["author"]["bot"],
        false
    );
    assert_eq!(page.next().await, json!({"t": "done", "nonce": "5"}));

    page.send(json!({"do": "clock", "nonce": "6", "step_ms": -1}))
        .await;
    let failed = until(&mut page, "failed").await;
    assert_eq!(failed["nonce"], "6");
    page.send(json!({"do": "dance", "nonce": "7"})).await;
    assert_eq!(until(&mut page, "failed").await["nonce"], "7");
}
