//! The gateway protocol on one socket: hello, identify or resume, heartbeats, events.
//!
//! Decides which close code a client earns; what a session is told is in `sessions`.
//! Source: the platform's reference, "Gateway" and "Opcodes and status codes".

use std::io::Write as _;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::Duration;

use axum::extract::ws::{CloseFrame, Message as Frame, Utf8Bytes, WebSocket};
use bytes::Bytes;
use flate2::Compression;
use flate2::write::ZlibEncoder;
use futures_util::stream::{SplitSink, SplitStream};
use futures_util::{SinkExt, StreamExt};
use serde_json::{Value, json};
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};

use crate::hub::Hub;
use crate::ids::Id;
use crate::limits::HEARTBEAT_MS;
use crate::sessions::{Order, intent};
use crate::shapes;

/// Close codes of the platform.
mod code {
    pub const UNKNOWN_OPCODE: u16 = 4001;
    pub const DECODE: u16 = 4002;
    pub const NOT_AUTHENTICATED: u16 = 4003;
    pub const AUTHENTICATION_FAILED: u16 = 4004;
    pub const ALREADY_AUTHENTICATED: u16 = 4005;
    pub const INVALID_SEQ: u16 = 4007;
    pub const TIMED_OUT: u16 = 4009;
    pub const INVALID_SHARD: u16 = 4010;
    pub const INVALID_INTENTS: u16 = 4013;
    pub const DISALLOWED_INTENTS: u16 = 4014;
}

/// Frames smaller than this go as plain text also to clients that asked for compression, which
/// the platform leaves to the server: packing an interaction costs more than it saves here.
const PACKED_FROM_BYTES: usize = 4_096;
/// Members asked for by id in one request (the platform's reference).
const CHUNK_IDS: usize = 100;

/// What the reader of a socket knows.
struct Reader {
    hub: Arc<Hub>,
    orders: UnboundedSender<Order>,
    number: u64,
    session: Option<String>,
}

/// Serves one socket until it closes.
pub async fn serve(hub: Arc<Hub>, socket: WebSocket, mut stop: tokio::sync::watch::Receiver<bool>) {
    let mut held_off = hub.held_off.subscribe();
    tokio::select! {
        _ = held_off.wait_for(|held_off| !held_off) => {}
        _ = stop.changed() => return,
    }
    let (orders, todo) = unbounded_channel();
    let (sink, stream) = socket.split();
    let number = hub.sockets.fetch_add(1, Ordering::Relaxed) + 1;
    let hello = json!({"op": 10, "d": {"heartbeat_interval": HEARTBEAT_MS, "_trace": []},
        "s": null, "t": null});
    let _ = orders.send(Order::Send(hello.to_string().into()));
    let mut reader = Reader {
        hub: Arc::clone(&hub),
        orders,
        number,
        session: None,
    };
    let (packed, packing) = tokio::sync::watch::channel(false);
    let ends = tokio::select! {
        ends = write(&hub, sink, todo, packing) => ends,
        ends = read(&mut reader, stream, packed) => ends,
        _ = stop.changed() => true,
    };
    if let Some(session) = &reader.session {
        hub.sessions.detach(session, number, ends);
        hub.bot_changed();
    }
}

/// Sends what is ordered, several frames in one go where several wait. Whether the session ends.
async fn write(
    hub: &Hub,
    mut sink: SplitSink<WebSocket, Frame>,
    mut todo: UnboundedReceiver<Order>,
    packing: tokio::sync::watch::Receiver<bool>,
) -> bool {
    let mut many = Vec::new();
    loop {
        if todo.recv_many(&mut many, 64).await == 0 {
            return false;
        }
        for order in many.drain(..) {
            match order {
                Order::Send(text) => {
                    if hub.silent.load(Ordering::Relaxed) {
                        continue;
                    }
                    let packed = *packing.borrow();
                    if sink.feed(frame(text, packed)).await.is_err() {
                        return false;
                    }
                }
                Order::Close(code) => {
                    let close = code.map(|code| CloseFrame {
                        code,
                        reason: Utf8Bytes::default(),
                    });
                    let _ = sink.send(Frame::Close(close)).await;
                    // Let the close frame be read before the connection goes.
                    tokio::time::sleep(Duration::from_millis(50)).await;
                    return matches!(code, Some(1000 | 1001 | 4004 | 4010..=4014));
                }
                Order::Drop => return false,
            }
        }
        if sink.flush().await.is_err() {
            return false;
        }
    }
}

fn frame(text: Bytes, packed: bool) -> Frame {
    if packed && text.len() >= PACKED_FROM_BYTES {
        let mut encoder = ZlibEncoder::new(Vec::with_capacity(text.len() / 4), Compression::fast());
        if let Ok(bytes) = encoder.write_all(&text).and_then(|()| encoder.finish()) {
            return Frame::Binary(bytes.into());
        }
    }
    Utf8Bytes::try_from(text).map_or_else(|_| Frame::Text(Utf8Bytes::default()), Frame::Text)
}

/// Reads until the socket closes. Whether the session ends with it.
async fn read(
    reader: &mut Reader,
    mut stream: SplitStream<WebSocket>,
    packed: tokio::sync::watch::Sender<bool>,
) -> bool {
    // The platform closes a connection that missed its beat; half as long again is given.
    let patience = Duration::from_millis(HEARTBEAT_MS + HEARTBEAT_MS / 2);
    loop {
        let frame = match tokio::time::timeout(patience, stream.next()).await {
            Err(_) => return reader.close(code::TIMED_OUT).await,
            Ok(None | Some(Err(_))) => return false,
            Ok(Some(Ok(frame))) => frame,
        };
        let value: Result<Value, _> = match &frame {
            Frame::Text(text) => serde_json::from_str(text),
            Frame::Binary(bytes) => serde_json::from_slice(bytes),
            Frame::Ping(_) | Frame::Pong(_) => continue,
            // A client that says goodbye with 1000 or 1001 gives its session up.
            Frame::Close(why) => {
                return why.as_ref().is_some_and(|w| matches!(w.code, 1000 | 1001));
            }
        };
        let Ok(value) = value else {
            return reader.close(code::DECODE).await;
        };
        if reader.hub.silent.load(Ordering::Relaxed) {
            continue;
        }
        if value["d"]["compress"].as_bool() == Some(true) {
            let _ = packed.send(true);
        }
        if let Err(code) = reader.take(&value).await {
            return reader.close(code).await;
        }
    }
}

impl Reader {
    fn send(&self, value: &Value) {
        let _ = self.orders.send(Order::Send(value.to_string().into()));
    }

    /// Orders the close and leaves it to the writer, which ends the connection.
    async fn close(&self, code: u16) -> bool {
        let _ = self.orders.send(Order::Close(Some(code)));
        std::future::pending().await
    }

    /// Takes one payload; an error is the close code earned.
    async fn take(&mut self, value: &Value) -> Result<(), u16> {
        let data = &value["d"];
        match value["op"].as_u64() {
            Some(1) => self.send(&json!({"op": 11, "d": null, "s": null, "t": null})),
            Some(2) => self.identify(data)?,
            Some(6) => self.resume(data)?,
            Some(3 | 4) if self.session.is_some() => {}
            Some(8) if self.session.is_some() => self.members(data),
            Some(3 | 4 | 8) => return Err(code::NOT_AUTHENTICATED),
            Some(_) => return Err(code::UNKNOWN_OPCODE),
            None => return Err(code::DECODE),
        }
        Ok(())
    }

    fn identify(&mut self, data: &Value) -> Result<(), u16> {
        if self.session.is_some() {
            return Err(code::ALREADY_AUTHENTICATED);
        }
        self.check_token(data)?;
        let intents = data["intents"].as_u64().ok_or(code::INVALID_INTENTS)?;
        if intents & !intent::ALL != 0 {
            return Err(code::INVALID_INTENTS);
        }
        if intents & intent::PRIVILEGED != 0 {
            return Err(code::DISALLOWED_INTENTS);
        }
        let shard = match data.get("shard").filter(|pair| !pair.is_null()) {
            None => (0, 1),
            Some(pair) => match (pair[0].as_u64(), pair[1].as_u64()) {
                (Some(shard), Some(of)) if shard < of => (shard, of),
                _ => return Err(code::INVALID_SHARD),
            },
        };
        if !self.hub.may_identify() {
            self.send(&json!({"op": 9, "d": false, "s": null, "t": null}));
            return Ok(());
        }
        // The platform resets the token of a bot that began too many.
        if !self.hub.take_session() {
            return Err(code::AUTHENTICATION_FAILED);
        }
        let id = self.hub.secret(16);
        let hub = &self.hub;
        let (ready, guild) = {
            let chat = hub.chat();
            let ready = json!({
                "v": shapes::VERSION, "user": shapes::me(&chat),
                "guilds": [{"id": chat.guild, "unavailable": true}], "session_id": id,
                "resume_gateway_url": hub.gateway_url(), "shard": [shard.0, shard.1],
                "application": {"id": chat.bot, "flags": 0}, "session_type": "normal",
                "private_channels": [], "presences": [], "relationships": [],
                "user_settings": {}, "geo_ordered_rtc_regions": [], "guild_join_requests": [],
                "auth": {}, "_trace": [],
            });
            let mine = (chat.guild.0 >> 22) % shard.1 == shard.0;
            let told = intents & intent::GUILDS != 0 && mine;
            (ready, told.then(|| shapes::guild_create(&chat)))
        };
        hub.sessions
            .add(&id, intents, shard, self.number, self.orders.clone());
        hub.sessions.tell_one(&id, "READY", &ready.to_string());
        if let Some(guild) = guild {
            hub.sessions
                .tell_one(&id, "GUILD_CREATE", &guild.to_string());
        }
        self.session = Some(id);
        hub.bot_changed();
        Ok(())
    }

    fn resume(&mut self, data: &Value) -> Result<(), u16> {
        if self.session.is_some() {
            return Err(code::ALREADY_AUTHENTICATED);
        }
        self.check_token(data)?;
        let seq = data["seq"].as_u64().ok_or(code::INVALID_SEQ)?;
        let id = data["session_id"].as_str().ok_or(code::DECODE)?;
        if self
            .hub
            .sessions
            .resume(id, seq, self.number, self.orders.clone())
        {
            self.session = Some(id.to_owned());
            self.hub.bot_changed();
        } else {
            self.send(&json!({"op": 9, "d": false, "s": null, "t": null}));
        }
        Ok(())
    }

    fn check_token(&self, data: &Value) -> Result<(), u16> {
        let given = data["token"].as_str().unwrap_or("");
        let plain = given.strip_prefix("Bot ").unwrap_or(given);
        if plain == self.hub.token {
            Ok(())
        } else {
            Err(code::AUTHENTICATION_FAILED)
        }
    }

    /// Answers a request for members by id. By name, or for all, would need the privileged
    /// intent, so nobody is found. A guild that the bot is not in, or that is not to be had, does not answer.
    fn members(&self, data: &Value) {
        let Some(session) = &self.session else { return };
        let guild = read_id(&data["guild_id"]);
        let home = {
            let chat = self.hub.chat();
            if !guild.is_some_and(|guild| chat.has_bot(guild)) {
                return;
            }
            guild == Some(chat.guild)
        };
        let ids = &data["user_ids"];
        let asked: Vec<Id> = match ids.as_array() {
            Some(ids) => ids.iter().filter_map(read_id).take(CHUNK_IDS).collect(),
            None => read_id(ids).into_iter().collect(),
        };
        let chunk = {
            let chat = self.hub.chat();
            let (mut members, mut not_found) = (Vec::new(), Vec::new());
            for id in asked {
                match chat.person(id).filter(|_| home) {
                    Some(person) => members.push(shapes::member(person, false)),
                    None if id == chat.bot => members.push(shapes::bot_member(&chat)),
                    None => not_found.push(id),
                }
            }
            json!({"guild_id": data["guild_id"], "members": members, "not_found": not_found,
                "chunk_index": 0, "chunk_count": 1, "nonce": data["nonce"]})
        };
        self.hub
            .sessions
            .tell_one(session, "GUILD_MEMBERS_CHUNK", &chunk.to_string());
    }
}

fn read_id(value: &Value) -> Option<Id> {
    value
        .as_str()
        .map_or_else(|| value.as_u64().map(Id), |text| text.parse().ok())
}
