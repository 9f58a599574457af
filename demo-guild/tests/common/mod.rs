//! The invented home of these tests, and a bare client of its HTTP interface.
#![allow(dead_code, missing_docs)]

use demo_guild::{Guild, Layout};
use futures_util::{SinkExt, StreamExt};
use reqwest::{Method, StatusCode};
use serde_json::Value;
use tokio_tungstenite::tungstenite::Message as Frame;

pub fn home() -> Layout {
    Layout::new("Elm House", "America/Chicago")
        .role("Aides")
        .role("Nurses")
        .person("Ana", "aide", &["Aides"])
        .person("Bo", "nurse", &["Nurses"])
        .locale("es-ES")
        .person("Cy", "admin", &[])
        .manager()
        .channel("north")
        .closed_channel("office", &["Cy"])
}

/// A client with the bot's token.
pub struct Api {
    client: reqwest::Client,
    root: String,
    token: String,
}

impl Api {
    pub fn of(guild: &Guild) -> Api {
        let root = format!("{}/api/v10", guild.url());
        Api {
            client: reqwest::Client::new(),
            root,
            token: guild.token(),
        }
    }

    pub fn request(&self, method: Method, path: &str) -> reqwest::RequestBuilder {
        let url = format!("{}{path}", self.root);
        self.client
            .request(method, url)
            .header("Authorization", format!("Bot {}", self.token))
    }

    /// Status and JSON of an answer; null where there is none.
    pub async fn send(&self, method: Method, path: &str, body: &Value) -> (StatusCode, Value) {
        read(self.request(method, path).json(body).send().await.unwrap()).await
    }

    pub async fn get(&self, path: &str) -> (StatusCode, Value) {
        read(self.request(Method::GET, path).send().await.unwrap()).await
    }
}

pub async fn read(response: reqwest::Response) -> (StatusCode, Value) {
    let status = response.status();
    let bytes = response.bytes().await.unwrap();
    (
        status,
        serde_json::from_slice(&bytes).unwrap_or(Value::Null),
    )
}

/// A gateway client without a library: identifies and reads payloads as JSON.
pub struct Socket {
    inner: tokio_tungstenite::WebSocketStream<tokio::net::TcpStream>,
}

impl Socket {
    pub async fn open(guild: &Guild) -> Socket {
        Socket::at(guild, "/gateway/?v=10&encoding=json").await
    }

    pub async fn at(guild: &Guild, path: &str) -> Socket {
        let address = guild.url().replace("http://", "");
        let stream = tokio::net::TcpStream::connect(&address).await.unwrap();
        let url = format!("ws://{address}{path}");
        let (inner, _) = tokio_tungstenite::client_async(url, stream).await.unwrap();
        Socket { inner }
    }

    pub async fn send(&mut self, value: Value) {
        let text = Frame::Text(value.to_string().into());
        self.inner.send(text).await.unwrap();
    }

    /// The next payload; a close is `{"closed": code}`.
    pub async fn next(&mut self) -> Value {
        let wait = std::time::Duration::from_secs(5);
        let frame = tokio::time::timeout(wait, self.inner.next())
            .await
            .expect("nothing came");
        match frame {
            Some(Ok(Frame::Text(text))) => serde_json::from_str(&text).unwrap(),
            Some(Ok(Frame::Binary(bytes))) => {
                serde_json::from_reader(flate2::read::ZlibDecoder::new(&bytes[..])).unwrap()
            }
            Some(Ok(Frame::Close(close))) => {
                serde_json::json!({"closed": close.map(|c| u16::from(c.code))})
            }
            _ => serde_json::json!({"closed": null}),
        }
    }

    /// The next payload for which that holds.
    pub async fn until(&mut self, wanted: impl Fn(&Value) -> bool) -> Value {
        loop {
            let value = self.next().await;
            assert!(value.get("closed").is_none(), "closed: {value}");
            if wanted(&value) {
                return value;
            }
        }
    }

    /// Hello, identify, ready; the ready.
    pub async fn identify(&mut self, guild: &Guild, intents: u64) -> Value {
        assert_eq!(self.next().await["op"], 10);
        let properties = serde_json::json!({"os": "t", "browser": "t", "device": "t"});
        self.send(
            serde_json::json!({"op": 2, "d": {"token": guild.token(), "intents": intents,
            "compress": true, "properties": properties}}),
        )
        .await;
        self.until(|v| v["t"] == "READY").await
    }
}

/// The first answer to a command or completion of a fresh interaction.
pub async fn answer(guild: &Guild, completes: bool, body: &Value) -> (StatusCode, Value) {
    let api = Api::of(guild);
    let mut socket = Socket::open(guild).await;
    socket.identify(guild, 0).await;
    let command = serde_json::json!([{"name": "probe", "description": "d",
        "options": [{"type": 3, "name": "o", "description": "d", "autocomplete": true}]}]);
    let path = format!("/applications/{}/commands", guild.bot_id());
    assert!(api.send(Method::PUT, &path, &command).await.0.is_success());
    let asking = guild.clone();
    let asked = tokio::spawn(async move {
        let (ana, north) = (asking.person("Ana"), asking.channel("north"));
        let options = [("o", Value::from("x"))];
        if completes {
            asking.completing(ana, north, "probe", &options, "o").await
        } else {
            asking.command(ana, north, "probe", &options).await
        }
    });
    let event = socket.until(|v| v["t"] == "INTERACTION_CREATE").await;
    let (id, token) = (&event["d"]["id"], &event["d"]["token"]);
    let path = format!(
        "/interactions/{}/{}/callback",
        id.as_str().unwrap(),
        token.as_str().unwrap()
    );
    let answered = api.send(Method::POST, &path, body).await;
    asked.abort();
    answered
}
