//! The HTTP interface: who is let in, what is not there, when an interaction may be answered,
//! nonces, mentions, rate limits, and faults on demand.

// Helpers of a test may panic like the test itself.
#![allow(clippy::unwrap_used, clippy::wildcard_enum_match_arm)]

mod common;

use std::time::Duration;

use common::{Api, Socket, home, read};
use demo_guild::problem::TOO_MANY_EDITS;
use demo_guild::{Fault, Guild, Limits, Options};
use reqwest::{Method, StatusCode, multipart};
use serde_json::{Value, json};

async fn served(limits: Limits) -> (Guild, Api, String) {
    let guild = Guild::serve(
        home(),
        Options {
            limits,
            ..Options::headless()
        },
    )
    .await
    .unwrap();
    let api = Api::of(&guild);
    let messages = format!("/channels/{}/messages", guild.channel("north"));
    (guild, api, messages)
}

/// Asks `/probe` and gives the interaction as the bot got it; the outcome comes later.
async fn asked(guild: &Guild, api: &Api) -> (Value, tokio::task::JoinHandle<demo_guild::Outcome>) {
    let mut socket = Socket::open(guild).await;
    socket.identify(guild, 1).await;
    let path = format!("/applications/{}/commands", guild.bot_id());
    api.send(
        Method::PUT,
        &path,
        &json!([{"name": "probe", "description": "d"}]),
    )
    .await;
    let asking = guild.clone();
    let task = tokio::spawn(async move {
        asking
            .command(asking.person("Ana"), asking.channel("north"), "probe", &[])
            .await
    });
    let event = socket.until(|v| v["t"] == "INTERACTION_CREATE").await["d"].take();
    (event, task)
}

fn callback(event: &Value) -> String {
    let (id, token) = (
        event["id"].as_str().unwrap(),
        event["token"].as_str().unwrap(),
    );
    format!("/interactions/{id}/{token}/callback")
}

fn hook(event: &Value, rest: &str) -> String {
    let (app, token) = (
        event["application_id"].as_str().unwrap(),
        event["token"].as_str().unwrap(),
    );
    format!("/webhooks/{app}/{token}{rest}")
}

fn code(answer: (StatusCode, Value)) -> (u16, u64) {
    (answer.0.as_u16(), answer.1["code"].as_u64().unwrap_or(0))
}

#[tokio::test]
async fn strangers_are_kept_out_and_what_is_missing_says_so() {
    let (guild, api, messages) = served(Limits::off()).await;
    let root = format!("{}/api/v10", guild.url());
    let client = reqwest::Client::new();
    let bare = client
        .get(format!("{root}/users/@me"))
        .send()
        .await
        .unwrap();
    assert_eq!(bare.status(), 401);
    let wrong = client
        .get(format!("{root}/users/@me"))
        .header("Authorization", "Bot nonsense");
    let (status, body) = read(wrong.send().await.unwrap()).await;
    assert_eq!(
        (status.as_u16(), body),
        (401, json!({"message": "401: Unauthorized", "code": 0}))
    );
    let (app, home) = (guild.bot_id(), guild.guild_id());
    let missing = [
        ("/nowhere".to_owned(), 0),
        ("/channels/1".to_owned(), 10003),
        ("/channels/x/messages".to_owned(), 10003),
        ("/guilds/1".to_owned(), 10004),
        (format!("/guilds/{home}/members/1"), 10007),
        (format!("/guilds/{home}/roles/1"), 10011),
        (format!("{messages}/1"), 10008),
        ("/users/1".to_owned(), 10013),
        ("/applications/1/commands".to_owned(), 10002),
        (format!("/applications/{app}/commands/1"), 10063),
        (format!("/applications/{app}/guilds/1/commands"), 10004),
        (format!("/webhooks/{app}/t/messages/@original"), 10015),
    ];
    for (path, expected) in missing {
        assert_eq!(code(api.get(&path).await), (404, expected), "{path}");
    }
    assert_eq!(
        api.send(Method::DELETE, "/users/@me", &json!({})).await.0,
        405
    );
    let garbage = api
        .request(Method::POST, &messages)
        .body("{")
        .send()
        .await
        .unwrap();
    assert_eq!(code(read(garbage).await), (400, 50109));
    assert_eq!(
        code(api.send(Method::POST, &messages, &json!({})).await),
        (400, 50006)
    );
    for path in [
        "/users/@me",
        "/applications/@me",
        "/gateway",
        "/gateway/bot",
    ] {
        assert_eq!(api.get(path).await.0, 200, "{path}");
    }
    let member = format!("/guilds/{home}/members/{}", guild.person("Bo"));
    assert_eq!(
        api.get(&member).await.1["roles"],
        json!([guild.role("Nurses").to_string()])
    );
    assert_eq!(
        api.get(&format!("/guilds/{home}/roles"))
            .await
            .1
            .as_array()
            .unwrap()
            .len(),
        4
    );
}

#[tokio::test]
async fn an_interaction_is_answered_once_and_then_followed_up() {
    let (guild, api, messages) = served(Limits::off()).await;
    let (event, task) = asked(&guild, &api).await;
    for key in [
        "app_permissions",
        "entitlements",
        "locale",
        "version",
        "channel",
        "member",
        "attachment_size_limit",
        "authorizing_integration_owners",
        "guild_id",
        "context",
    ] {
        assert!(event.get(key).is_some(), "{key} is missing");
    }
    // Before the first answer there is nothing to edit or to follow.
    let early = api
        .send(
            Method::PATCH,
            &hook(&event, "/messages/@original"),
            &json!({"content": "x"}),
        )
        .await;
    assert_eq!(code(early), (404, 10015));
    let wrong = callback(&event).replace("/callback", "x/callback");
    let said = json!({"type": 4, "data": {"content": "one", "flags": 64}});
    assert_eq!(
        code(api.send(Method::POST, &wrong, &said).await),
        (404, 10062)
    );
    let with = format!("{}?with_response=true", callback(&event));
    let (status, body) = api.send(Method::POST, &with, &said).await;
    assert_eq!(
        (status.as_u16(), &body["resource"]["message"]["content"]),
        (200, &json!("one"))
    );
    assert_eq!(
        code(api.send(Method::POST, &with, &said).await),
        (400, 40060)
    );
    assert_eq!(task.await.unwrap().text(), "one");

    let original = hook(&event, "/messages/@original");
    assert_eq!(
        api.send(Method::PATCH, &original, &json!({"content": "two"}))
            .await
            .0,
        200
    );
    assert_eq!(api.get(&original).await.1["content"], "two");
    let (_, more) = api
        .send(
            Method::POST,
            &hook(&event, ""),
            &json!({"content": "three"}),
        )
        .await;
    let more_id = more["id"].as_str().unwrap();
    assert_eq!(
        api.get(&hook(&event, &format!("/messages/{more_id}")))
            .await
            .0,
        200
    );
    // The channel's readers see the follow-up, and not the answer to one person.
    let (_, list) = api.get(&messages).await;
    assert_eq!(list.as_array().unwrap().len(), 1);
    assert_eq!(list[0]["content"], "three");
    let first = guild.messages(guild.channel("north"))[0].clone();
    assert_eq!(
        code(api.get(&format!("{messages}/{}", first.id)).await),
        (404, 10008)
    );
    assert_eq!(api.send(Method::DELETE, &original, &json!({})).await.0, 204);
    assert_eq!(code(api.get(&original).await), (404, 10008));
}

#[tokio::test]
async fn a_first_answer_after_three_seconds_is_too_late() {
    let (guild, api, _) = served(Limits::off()).await;
    let (event, task) = asked(&guild, &api).await;
    let outcome = task.await.unwrap();
    assert_eq!(
        outcome.failed.as_deref(),
        Some("loftwatch did not answer within 3 seconds.")
    );
    tokio::time::sleep(Duration::from_millis(50)).await;
    let late = api
        .send(
            Method::POST,
            &callback(&event),
            &json!({"type": 4, "data": {"content": "x"}}),
        )
        .await;
    assert_eq!(code(late), (404, 10062));
}

#[tokio::test]
async fn a_follow_up_takes_the_place_of_a_deferral_and_keeps_who_sees_it() {
    let (guild, api, _) = served(Limits::off()).await;
    let (event, task) = asked(&guild, &api).await;
    let deferred = json!({"type": 5, "data": {"flags": 64}});
    assert_eq!(
        api.send(Method::POST, &callback(&event), &deferred).await.0,
        204
    );
    let outcome = task.await.unwrap();
    assert!(guild.original(&outcome).is_none());
    api.send(Method::POST, &hook(&event, ""), &json!({"content": "done"}))
        .await;
    let settled = guild
        .settled(&outcome, Duration::from_secs(1))
        .await
        .unwrap();
    assert_eq!(
        (settled.content.as_str(), settled.ephemeral_for),
        ("done", Some(guild.person("Ana")))
    );
    assert_eq!(guild.messages(guild.channel("north")).len(), 1);
}

#[tokio::test]
async fn an_enforced_nonce_makes_one_message() {
    let (guild, api, messages) = served(Limits::off()).await;
    let body = json!({"content": "wake", "nonce": "row-17", "enforce_nonce": true});
    let (_, first) = api.send(Method::POST, &messages, &body).await;
    let (_, again) = api.send(Method::POST, &messages, &body).await;
    assert_eq!(first["id"], again["id"]);
    let loose = json!({"content": "wake", "nonce": "row-17"});
    let (_, other) = api.send(Method::POST, &messages, &loose).await;
    assert_ne!(first["id"], other["id"]);
    let elsewhere = format!("/channels/{}/messages", guild.channel("office"));
    let (_, there) = api.send(Method::POST, &elsewhere, &body).await;
    assert_ne!(first["id"], there["id"]);
    assert_eq!(guild.messages(guild.channel("north")).len(), 2);
}

#[tokio::test]
async fn mentions_reach_only_whom_the_sender_allows() {
    let (guild, api, messages) = served(Limits::off()).await;
    let (aides, nurses, bo) = (
        guild.role("Aides"),
        guild.role("Nurses"),
        guild.person("Bo"),
    );
    let text = format!("<@&{aides}> <@&{nurses}> <@{bo}> @everyone <@&1>");
    let post = async |allowed: Value| {
        let body = json!({"content": text, "allowed_mentions": allowed, "flags": 4096});
        let (_, sent) = api.send(Method::POST, &messages, &body).await;
        let id = sent["id"].as_str().unwrap().parse().unwrap();
        let message = guild.message(id).unwrap();
        assert!(message.silent);
        (
            message.mention_roles.clone(),
            message.mentions.clone(),
            message.mention_everyone,
        )
    };
    assert_eq!(
        post(Value::Null).await,
        (vec![aides, nurses], vec![bo], true)
    );
    assert_eq!(post(json!({"parse": []})).await, (vec![], vec![], false));
    assert_eq!(
        post(json!({"roles": [nurses]})).await,
        (vec![nurses], vec![], false)
    );
    assert_eq!(
        post(json!({"parse": ["users"]})).await,
        (vec![], vec![bo], false)
    );
}

#[tokio::test]
async fn messages_are_edited_by_their_author_and_files_travel() {
    let (guild, api, messages) = served(Limits::off()).await;
    let said = guild
        .say(guild.person("Ana"), guild.channel("north"), "hello")
        .unwrap();
    let path = format!("{messages}/{}", said.id);
    let edit = api
        .send(Method::PATCH, &path, &json!({"content": "x"}))
        .await;
    assert_eq!(code(edit), (403, 50005));
    let part = multipart::Part::bytes(b"a,b\n".to_vec())
        .file_name("rows.csv")
        .mime_str("text/csv")
        .unwrap();
    let form = multipart::Form::new()
        .text(
            "payload_json",
            r#"{"content":"here","attachments":[{"id":0,"filename":"rows.csv"}]}"#,
        )
        .part("files[0]", part);
    let request = api.request(Method::POST, &messages).multipart(form);
    let (status, sent) = read(request.send().await.unwrap()).await;
    assert_eq!(status, 200);
    let file = &sent["attachments"][0];
    assert_eq!(
        (&file["filename"], &file["size"]),
        (&json!("rows.csv"), &json!(4))
    );
    let fetched = reqwest::get(file["url"].as_str().unwrap()).await.unwrap();
    assert_eq!(fetched.text().await.unwrap(), "a,b\n");
    let own = format!("{messages}/{}", sent["id"].as_str().unwrap());
    let (_, edited) = api
        .send(
            Method::PATCH,
            &own,
            &json!({"content": "there", "attachments": []}),
        )
        .await;
    assert_eq!(
        (&edited["content"], &edited["attachments"]),
        (&json!("there"), &json!([]))
    );
    assert!(edited["edited_timestamp"].is_string());
    // A picture of two dots by three, and what is read out in its place.
    let png = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x02\0\0\0\x03".to_vec();
    let part = multipart::Part::bytes(png).file_name("readings.png");
    let said =
        r#"{"attachments":[{"id":0,"filename":"readings.png","description":"Three readings."}]}"#;
    let form = multipart::Form::new()
        .text("payload_json", said)
        .part("files[0]", part);
    let request = api.request(Method::PATCH, &own).multipart(form);
    let (_, drawn) = read(request.send().await.unwrap()).await;
    let file = &drawn["attachments"][0];
    assert_eq!(
        (&file["description"], &file["width"], &file["height"]),
        (&json!("Three readings."), &json!(2), &json!(3))
    );
    assert_eq!(api.send(Method::DELETE, &own, &json!({})).await.0, 204);
    assert_eq!(code(api.get(&own).await), (404, 10008));
}

/// The platform's reference, "Localization": a list holds the translations only where they are asked for, and else
/// that of the asker's locale.
#[tokio::test]
async fn translations_are_kept_and_listed_as_they_are_asked_for() {
    let (guild, api, _) = served(Limits::off()).await;
    let path = format!("/applications/{}/commands", guild.bot_id());
    let body = json!([{
        "name": "clean", "description": "A cleaning",
        "description_localizations": {"es-ES": "Una limpieza", "es-419": "Una limpieza"},
        "options": [{
            "type": 3, "name": "reason", "description": "Why", "required": true,
            "choices": [{"name": "soiled", "value": "soiled", "name_localizations": {"es-ES": "sucia"}}],
        }],
    }]);
    assert_eq!(api.send(Method::PUT, &path, &body).await.0, 200);
    let plain = api.get(&path).await.1;
    assert_eq!(plain[0].get("description_localizations"), None);
    assert_eq!(plain[0].get("description_localized"), None);
    let whole = api.get(&format!("{path}?with_localizations=true")).await.1;
    assert_eq!(
        whole[0]["description_localizations"]["es-419"],
        "Una limpieza"
    );
    let asked = api
        .request(Method::GET, &path)
        .header("X-Discord-Locale", "es-ES");
    let own = read(asked.send().await.unwrap()).await.1;
    assert_eq!(own[0]["description_localized"], "Una limpieza");
    let choice = &own[0]["options"][0]["choices"][0];
    assert_eq!(
        (&choice["name_localized"], &choice["value"]),
        (&json!("sucia"), &json!("soiled"))
    );
    // What is too long, or in no language of the platform, is refused as the default would be.
    for (key, text) in [
        ("es-ES", "x".repeat(101)),
        ("es-AR", "Una limpieza".to_owned()),
    ] {
        let mut bad = body.clone();
        bad[0]["description_localizations"] = json!({key: text});
        assert_eq!(
            code(api.send(Method::PUT, &path, &bad).await),
            (400, 50035),
            "{key}"
        );
    }
}

#[tokio::test]
async fn commands_keep_their_id_and_an_unchanged_one_its_version() {
    let (guild, api, _) = served(Limits::off()).await;
    let path = format!(
        "/applications/{}/guilds/{}/commands",
        guild.bot_id(),
        guild.guild_id()
    );
    let one = json!({"name": "one", "description": "d"});
    let (status, made) = api.send(Method::POST, &path, &one).await;
    assert_eq!(status, 201);
    let (status, same) = api.send(Method::POST, &path, &one).await;
    assert_eq!((status.as_u16(), &same), (200, &made));
    let (_, all) = api
        .send(
            Method::PUT,
            &path,
            &json!([{"name": "one", "description": "new"}]),
        )
        .await;
    assert_eq!(all[0]["id"], made["id"]);
    assert_ne!(all[0]["version"], made["version"]);
    let single = format!("{path}/{}", made["id"].as_str().unwrap());
    let (_, patched) = api
        .send(Method::PATCH, &single, &json!({"description": "newer"}))
        .await;
    assert_eq!(patched["description"], "newer");
    let whole = format!("{path}?with_localizations=true");
    assert_eq!(api.get(&whole).await.1, json!([patched]));
    assert_eq!(api.send(Method::DELETE, &single, &json!({})).await.0, 204);
    assert!(guild.commands().is_empty());
}

#[tokio::test]
async fn a_channel_and_the_whole_have_their_rate_limits() {
    let (guild, api, messages) = served(Limits::published()).await;
    for left in (0..5).rev() {
        let sent = api
            .request(Method::POST, &messages)
            .json(&json!({"content": "x"}))
            .send()
            .await
            .unwrap();
        assert_eq!(sent.status(), 200);
        assert_eq!(
            sent.headers()["x-ratelimit-remaining"],
            left.to_string().as_str()
        );
        assert_eq!(sent.headers()["x-ratelimit-limit"], "5");
    }
    let refused = api
        .request(Method::POST, &messages)
        .json(&json!({"content": "x"}))
        .send()
        .await
        .unwrap();
    assert_eq!(refused.headers()["x-ratelimit-scope"], "user");
    assert!(refused.headers().contains_key("retry-after"));
    let (status, body) = read(refused).await;
    assert_eq!(status, 429);
    let wait = body["retry_after"].as_f64().unwrap();
    assert!(wait > 0.0 && wait <= 5.0 && body["global"] == false);
    let other = format!("/channels/{}/messages", guild.channel("office"));
    assert_eq!(
        api.send(Method::POST, &other, &json!({"content": "x"}))
            .await
            .0,
        200
    );

    let mut refused = None;
    for _ in 0..120 {
        let answer = api.request(Method::GET, "/users/@me").send().await.unwrap();
        if answer.status() == 429 {
            refused = Some(answer);
            break;
        }
    }
    let refused = refused.expect("the global gate never closed");
    assert_eq!(refused.headers()["x-ratelimit-global"], "true");
    // The interaction routes stay open meanwhile.
    let open = api
        .send(
            Method::POST,
            "/interactions/1/t/callback",
            &json!({"type": 4}),
        )
        .await;
    assert_eq!(code(open), (404, 10062));
}

#[tokio::test]
async fn faults_strike_as_planned() {
    let (guild, api, messages) = served(Limits::off()).await;
    let count = || guild.messages(guild.channel("north")).len();
    let body = json!({"content": "x"});
    let faults = guild.faults();
    faults.next(1, "POST /channels/*/messages", Fault::Status(503));
    faults.next(1, "POST /channels/*/messages", Fault::TooMany(1.5));
    assert_eq!(api.send(Method::POST, &messages, &body).await.0, 503);
    let (status, refused) = api.send(Method::POST, &messages, &body).await;
    assert_eq!(
        (status.as_u16(), refused["retry_after"].as_f64()),
        (429, Some(1.5))
    );
    assert_eq!(count(), 0);
    // A fresh connection each, since a pooled one that drops may be tried again by the client.
    let fresh = || {
        Api::of(&guild)
            .request(Method::POST, &messages)
            .json(&body)
            .send()
    };
    faults.next(1, "POST /channels/*/messages", Fault::Dropped);
    assert!(fresh().await.is_err());
    assert_eq!(count(), 0);
    faults.next(1, "POST /channels/*/messages", Fault::AnswerLost);
    assert!(fresh().await.is_err());
    assert_eq!(count(), 1);
    faults.next(1, "* /channels/*/messages", Fault::Garbled);
    let (status, garbled) = api.send(Method::POST, &messages, &body).await;
    assert_eq!((status.as_u16(), garbled), (200, Value::Null));
    assert_eq!((count(), faults.left()), (2, 0));
    faults.next(
        1,
        "POST /channels/*/messages",
        Fault::Refused(TOO_MANY_EDITS),
    );
    assert_eq!(
        code(api.send(Method::POST, &messages, &body).await),
        (429, 30046)
    );
    assert_eq!(count(), 2);
    assert_eq!(api.send(Method::POST, &messages, &body).await.0, 200);
}
