//! The gateway protocol: who may come in, what is told, what is replayed.

// Helpers of a test may panic like the test itself.
#![allow(clippy::unwrap_used, clippy::wildcard_enum_match_arm)]

mod common;

use common::{Api, Socket, home};
use demo_guild::{Guild, Limits, Options};
use reqwest::Method;
use serde_json::{Value, json};

const GUILDS: u64 = 1;
const GUILD_MESSAGES: u64 = 1 << 9;
const MESSAGE_CONTENT: u64 = 1 << 15;

async fn served() -> Guild {
    Guild::serve(home(), Options::headless()).await.unwrap()
}

fn identify(token: &str, intents: u64) -> Value {
    json!({"op": 2, "d": {"token": token, "intents": intents, "properties": {}}})
}

#[tokio::test]
async fn a_wrong_client_is_closed_with_the_code_it_earned() {
    let guild = served().await;
    let token = guild.token();
    let cases = [
        (identify("nonsense", 0), 4004),
        (identify(&token, MESSAGE_CONTENT), 4014),
        (identify(&token, 1 << 40), 4013),
        (json!({"op": 8, "d": {}}), 4003),
        (json!({"op": 77, "d": {}}), 4001),
        (json!({"d": {}}), 4002),
        (
            json!({"op": 2, "d": {"token": token, "intents": 0, "shard": [2, 2]}}),
            4010,
        ),
    ];
    for (payload, code) in cases {
        let mut socket = Socket::open(&guild).await;
        let hello = socket.next().await;
        assert_eq!(hello["d"]["heartbeat_interval"], 41_250);
        socket.send(payload.clone()).await;
        assert_eq!(socket.next().await, json!({"closed": code}), "{payload}");
    }
    let mut socket = Socket::open(&guild).await;
    socket.identify(&guild, 0).await;
    socket.send(identify(&token, 0)).await;
    assert_eq!(socket.next().await, json!({"closed": 4005}));
}

#[tokio::test]
async fn a_client_is_welcomed_with_what_its_intents_cover() {
    let guild = served().await;
    assert!(!guild.bot_is_up());
    let mut socket = Socket::open(&guild).await;
    let ready = socket.identify(&guild, GUILDS).await;
    assert!(guild.bot_is_up());
    let d = &ready["d"];
    assert_eq!(d["v"], 10);
    assert_eq!(d["application"]["id"], guild.bot_id().to_string());
    assert_eq!(
        d["guilds"][0],
        json!({"id": guild.guild_id().to_string(), "unavailable": true})
    );
    assert!(
        d["resume_gateway_url"]
            .as_str()
            .unwrap()
            .starts_with("ws://127.0.0.1:")
    );
    let create = socket.next().await;
    assert_eq!(
        (&create["t"], &create["s"]),
        (&json!("GUILD_CREATE"), &json!(2))
    );
    assert_eq!(create["d"]["channels"].as_array().unwrap().len(), 2);
    socket.send(json!({"op": 1, "d": 2})).await;
    assert_eq!(socket.next().await["op"], 11);

    let (bot, bo) = (guild.bot_id().to_string(), guild.person("Bo").to_string());
    let ask =
        json!({"guild_id": guild.guild_id(), "user_ids": [bot, bo, "1"], "limit": 0, "nonce": "p"});
    socket.send(json!({"op": 8, "d": ask})).await;
    let chunk = socket.next().await;
    assert_eq!(chunk["t"], "GUILD_MEMBERS_CHUNK");
    assert_eq!(chunk["d"]["members"].as_array().unwrap().len(), 2);
    assert_eq!(
        (&chunk["d"]["nonce"], &chunk["d"]["not_found"]),
        (&json!("p"), &json!(["1"]))
    );

    // Without the intent no message is told: the next thing heard is the beat's answer.
    guild
        .say(
            guild.person("Ana"),
            guild.channel("north"),
            "@loftwatch hello",
        )
        .unwrap();
    socket.send(json!({"op": 1, "d": 3})).await;
    assert_eq!(socket.next().await["op"], 11);
}

#[tokio::test]
async fn a_guild_that_the_bot_is_not_in_or_that_is_away_does_not_say_who_is_in_it() {
    let guild = served().await;
    let mut socket = Socket::open(&guild).await;
    socket.identify(&guild, 1).await;
    assert_eq!(socket.next().await["t"], "GUILD_CREATE");
    let (bot, bo) = (guild.bot_id().to_string(), guild.person("Bo").to_string());
    let foreign = guild.foreign_guild_id();
    let ask = json!({"op": 8, "d": {"guild_id": foreign, "user_ids": [bot, bo]}});
    let beat = json!({"op": 1, "d": 2});
    // What is answered first tells whether there is an answer: the beat's has no name.
    let mut told = Vec::new();
    socket.send(ask.clone()).await;
    socket.send(beat.clone()).await;
    told.push(socket.next().await["t"].clone());
    guild.invite_to_foreign();
    told.push(socket.next().await["t"].clone());
    socket.send(ask.clone()).await;
    let chunk = socket.next().await;
    assert_eq!(chunk["d"]["members"].as_array().unwrap().len(), 1);
    assert_eq!(chunk["d"]["not_found"], json!([bo]));
    guild.lose_foreign();
    let gone = socket.next().await;
    assert_eq!(gone["d"], json!({"id": foreign, "unavailable": true}));
    socket.send(ask.clone()).await;
    socket.send(beat.clone()).await;
    told.push(socket.next().await["t"].clone());
    guild.invite_to_foreign();
    told.push(socket.next().await["t"].clone());
    guild.remove_from_foreign();
    assert_eq!(socket.next().await["d"], json!({"id": foreign}));
    socket.send(ask).await;
    socket.send(beat).await;
    told.push(socket.next().await["t"].clone());
    let (joined, beaten) = (json!("GUILD_CREATE"), Value::Null);
    let wanted = [&beaten, &joined, &beaten, &joined, &beaten];
    assert_eq!(told.iter().collect::<Vec<_>>(), wanted);
}

#[tokio::test]
async fn a_resumed_session_hears_what_it_missed_and_a_lost_one_is_told() {
    let guild = served().await;
    let (ana, north) = (guild.person("Ana"), guild.channel("north"));
    let mut socket = Socket::open(&guild).await;
    let ready = socket.identify(&guild, GUILD_MESSAGES).await;
    let session = ready["d"]["session_id"].as_str().unwrap().to_owned();
    guild.say(ana, north, "@loftwatch one").unwrap();
    let first = socket.next().await;
    assert_eq!(first["d"]["content"], format!("<@{}> one", guild.bot_id()));
    drop(socket);
    guild.bot_gone().await;
    guild.say(ana, north, "@loftwatch two").unwrap();
    guild.say(ana, north, "three, for nobody").unwrap();
    let resume = |seq: u64| json!({"op": 6, "d": {"token": guild.token(), "session_id": session, "seq": seq}});
    let mut socket = Socket::open(&guild).await;
    socket.next().await;
    socket.send(resume(first["s"].as_u64().unwrap())).await;
    let two = socket.next().await;
    assert_eq!(two["d"]["content"], format!("<@{}> two", guild.bot_id()));
    assert_eq!(socket.next().await["d"]["content"], "");
    assert_eq!(socket.next().await["t"], "RESUMED");

    assert_eq!(guild.invalidate_sessions(false), 1);
    assert_eq!(
        socket.next().await,
        json!({"op": 9, "d": false, "s": null, "t": null})
    );
    let mut socket = Socket::open(&guild).await;
    socket.next().await;
    socket.send(resume(1)).await;
    assert_eq!(socket.next().await["op"], 9);
}

#[tokio::test]
async fn the_gateway_closes_and_falls_silent_on_demand() {
    let guild = served().await;
    for code in [None, Some(1001), Some(4000)] {
        let mut socket = Socket::open(&guild).await;
        socket.identify(&guild, 0).await;
        assert_eq!(guild.close_gateway(code), 1);
        // A close without a code reads as none.
        assert_eq!(socket.next().await, json!({"closed": code}));
        guild.bot_gone().await;
    }
    let mut socket = Socket::open(&guild).await;
    socket.identify(&guild, 0).await;
    guild.go_silent(true);
    socket.send(json!({"op": 1, "d": 1})).await;
    let wait = std::time::Duration::from_millis(200);
    assert!(tokio::time::timeout(wait, socket.next()).await.is_err());
    guild.go_silent(false);
    socket.send(json!({"op": 1, "d": 1})).await;
    assert_eq!(socket.next().await["op"], 11);
}

#[tokio::test]
async fn an_identify_right_after_another_must_wait() {
    let limits = Limits {
        identify_ms: Some(300),
        ..Limits::off()
    };
    let guild = Guild::serve(
        home(),
        Options {
            limits,
            ..Options::headless()
        },
    )
    .await
    .unwrap();
    let mut first = Socket::open(&guild).await;
    first.identify(&guild, 0).await;
    let mut second = Socket::open(&guild).await;
    second.next().await;
    second.send(identify(&guild.token(), 0)).await;
    assert_eq!(second.next().await["op"], 9);
    tokio::time::sleep(std::time::Duration::from_millis(350)).await;
    second.send(identify(&guild.token(), 0)).await;
    assert_eq!(second.next().await["t"], "READY");
}

#[tokio::test]
async fn the_bots_own_messages_are_told_with_their_text() {
    let guild = served().await;
    let mut socket = Socket::open(&guild).await;
    socket.identify(&guild, GUILD_MESSAGES).await;
    let api = Api::of(&guild);
    let path = format!("/channels/{}/messages", guild.channel("north"));
    let (_, sent) = api
        .send(
            Method::POST,
            &path,
            &json!({"content": "due now", "nonce": "n1"}),
        )
        .await;
    let heard = socket.next().await;
    assert_eq!(
        (&heard["t"], &heard["d"]["content"]),
        (&json!("MESSAGE_CREATE"), &json!("due now"))
    );
    assert_eq!(
        (&heard["d"]["id"], &heard["d"]["nonce"]),
        (&sent["id"], &json!("n1"))
    );
    let one = format!("{path}/{}", sent["id"].as_str().unwrap());
    api.send(Method::PATCH, &one, &json!({"content": "done"}))
        .await;
    assert_eq!(socket.next().await["t"], "MESSAGE_UPDATE");
    api.send(Method::DELETE, &one, &json!({})).await;
    assert_eq!(socket.next().await["t"], "MESSAGE_DELETE");
}

#[tokio::test]
async fn an_interaction_carries_the_roles_and_language_of_the_moment() {
    let guild = served().await;
    let mut socket = Socket::open(&guild).await;
    socket.identify(&guild, 0).await;
    let path = format!("/applications/{}/commands", guild.bot_id());
    let commands = json!([{"name": "probe", "description": "d"},
        {"name": "locked", "description": "d", "default_member_permissions": "32"}]);
    Api::of(&guild).send(Method::PUT, &path, &commands).await;
    let (bo, cy, north) = (
        guild.person("Bo"),
        guild.person("Cy"),
        guild.channel("north"),
    );
    let ask = |person, name: &'static str| {
        let guild = guild.clone();
        tokio::spawn(async move { guild.command(person, north, name, &[]).await })
    };
    let event = async |socket: &mut Socket| socket.until(|v| v["t"] == "INTERACTION_CREATE").await;

    let task = ask(bo, "probe");
    let told = event(&mut socket).await;
    task.abort();
    assert_eq!(told["d"]["locale"], "es-ES");
    assert_eq!(
        told["d"]["member"]["roles"],
        json!([guild.role("Nurses").to_string()])
    );
    guild.set_roles(bo, &[guild.role("Aides")]);
    let task = ask(bo, "probe");
    let told = event(&mut socket).await;
    task.abort();
    assert_eq!(
        told["d"]["member"]["roles"],
        json!([guild.role("Aides").to_string()])
    );

    // 32 is the platform's bit for managing the guild.
    let refused = guild.command(bo, north, "locked", &[]).await;
    assert_eq!(refused.failed.as_deref(), Some("Bo may not use /locked."));
    let task = ask(cy, "locked");
    let told = event(&mut socket).await;
    task.abort();
    let permissions: u64 = told["d"]["member"]["permissions"]
        .as_str()
        .unwrap()
        .parse()
        .unwrap();
    assert_eq!(permissions & 32, 32);
    guild.set_manages(cy, false);
    let refused = guild.command(cy, north, "locked", &[]).await;
    assert_eq!(refused.failed.as_deref(), Some("Cy may not use /locked."));
}

#[tokio::test]
async fn a_bot_can_be_told_what_no_up_to_date_client_would_send() {
    let guild = served().await;
    let mut socket = Socket::open(&guild).await;
    socket.identify(&guild, 0).await;
    let api = Api::of(&guild);
    let path = format!("/applications/{}/commands", guild.bot_id());
    let option = |of: u64, name: &str, rest: Value| {
        let mut option = json!({"type": of, "name": name, "description": "d"});
        for (key, value) in rest.as_object().unwrap() {
            option[key] = value.clone();
        }
        option
    };
    let words = json!({"choices": [{"name": "leak", "value": "leak"}], "required": true});
    let commands = json!([{"name": "probe", "description": "d", "options": [
        option(3, "word", words), option(4, "count", json!({"max_value": 5})), option(11, "file", json!({}))]}]);
    let (status, body) = api.send(Method::PUT, &path, &commands).await;
    assert!(status.is_success(), "{body}");
    let (ana, north) = (guild.person("Ana"), guild.channel("north"));
    let event = async |socket: &mut Socket| socket.until(|v| v["t"] == "INTERACTION_CREATE").await;

    for (options, why) in [
        (vec![("word", json!("hose"))], "word: choose one of leak."),
        (vec![("count", json!(6))], "count: write a number from"),
        (vec![("count", json!(5))], "needs word."),
    ] {
        let refused = guild.command(ana, north, "probe", &options).await;
        assert!(refused.failed.unwrap().contains(why), "{why}");
        let (asking, sent) = (guild.clone(), options.clone());
        let task =
            tokio::spawn(async move { asking.command_unchecked(ana, north, "probe", &sent).await });
        let told = event(&mut socket).await;
        task.abort();
        let given = &told["d"]["data"]["options"][0];
        assert_eq!(
            (given["name"].as_str(), &given["value"]),
            (Some(options[0].0), &options[0].1)
        );
    }
    // What is of the wrong kind cannot even be written down.
    let text = [("count", json!("many"))];
    let refused = guild.command_unchecked(ana, north, "probe", &text).await;
    assert!(refused.failed.unwrap().contains("not the kind of value"));

    for (lost, status) in [(false, 200), (true, 404)] {
        let file = json!({"name": "beds.csv", "bytes": [0xef, 0xbb, 0xbf, 0xe9], "lost": lost});
        let options = [("word", json!("leak")), ("file", file)];
        let asking = guild.clone();
        let task = tokio::spawn(async move { asking.command(ana, north, "probe", &options).await });
        let told = event(&mut socket).await;
        task.abort();
        let data = &told["d"]["data"];
        let id = data["options"][1]["value"].as_str().unwrap();
        let url = data["resolved"]["attachments"][id]["url"].as_str().unwrap();
        let fetched = reqwest::get(url).await.unwrap();
        assert_eq!(fetched.status().as_u16(), status);
        if !lost {
            let bytes = fetched.bytes().await.unwrap();
            assert_eq!(bytes[..], [0xef, 0xbb, 0xbf, 0xe9]);
        }
    }

    let rows = |id: &str| {
        json!({"content": "a card", "components": [{"type": 1, "components": [
            {"type": 2, "style": 2, "label": "Go", "custom_id": id}]}]})
    };
    let path = format!("/channels/{north}/messages");
    let (_, card) = api.send(Method::POST, &path, &rows("before")).await;
    let id = card["id"].as_str().unwrap();
    let path = format!("{path}/{id}");
    let (status, _) = api.send(Method::PATCH, &path, &rows("now")).await;
    assert!(status.is_success());
    let id: demo_guild::Id = id.parse().unwrap();
    let gone = guild.tap(ana, id, "before").await;
    assert_eq!(
        gone.failed.as_deref(),
        Some("This button is no longer there.")
    );
    let asking = guild.clone();
    let task = tokio::spawn(async move {
        let tapped = asking.act_on_old(ana, id, "before", None);
        let chosen = asking.act_on_old(ana, id, "menu", Some(&["leak"]));
        futures_util::future::join(tapped, chosen).await
    });
    let (tapped, chosen) = (event(&mut socket).await, event(&mut socket).await);
    task.abort();
    assert_eq!(tapped["d"]["data"]["custom_id"], "before");
    assert_eq!(tapped["d"]["message"]["id"], json!(id.to_string()));
    assert_eq!(chosen["d"]["data"]["values"], json!(["leak"]));
}

#[tokio::test]
async fn a_channel_closed_to_the_bot_stays_so() {
    let mut layout = home();
    layout.channels[0].bot = false;
    let guild = Guild::serve(layout, Options::headless()).await.unwrap();
    let mut socket = Socket::open(&guild).await;
    socket.identify(&guild, GUILDS | GUILD_MESSAGES).await;
    assert_eq!(
        socket.next().await["d"]["channels"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    guild
        .say(
            guild.person("Ana"),
            guild.channel("north"),
            "@loftwatch hello",
        )
        .unwrap();
    socket.send(json!({"op": 1, "d": 1})).await;
    assert_eq!(socket.next().await["op"], 11);
    let path = format!("/channels/{}/messages", guild.channel("north"));
    let (status, body) = Api::of(&guild)
        .send(Method::POST, &path, &json!({"content": "x"}))
        .await;
    assert_eq!((status.as_u16(), &body["code"]), (403, &json!(50001)));
}
