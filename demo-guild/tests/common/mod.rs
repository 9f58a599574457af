//! The invented home of these tests, and a bare client of its HTTP interface.
#![allow(dead_code, missing_docs)]

use demo_guild::{Guild, Layout};
use reqwest::{Method, StatusCode};
use serde_json::Value;

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
        Api { client: reqwest::Client::new(), root, token: guild.token() }
    }

    pub fn request(&self, method: Method, path: &str) -> reqwest::RequestBuilder {
        let url = format!("{}{path}", self.root);
        self.client.request(method, url).header("Authorization", format!("Bot {}", self.token))
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
    (status, serde_json::from_slice(&bytes).unwrap_or(Value::Null))
}
