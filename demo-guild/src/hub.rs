//! Where the chat, the gateway's sessions and the listeners of the page meet.
//!
//! Decides who is told what when the chat changes. The chat's lock is held only for work in
//! memory, never while something is waited for.

use std::collections::VecDeque;
use std::net::SocketAddr;
use std::sync::atomic::{AtomicBool, AtomicU64, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use serde_json::json;
use tokio::sync::{broadcast, watch};

use crate::chat::{Attachment, Chat, Message, Role};
use crate::check::message::Draft;
use crate::clock::{Dial, Watch, wall_ms};
use crate::faults::Faults;
use crate::frames::{Frame, Happening};
use crate::ids::{Id, Mint};
use crate::limits::SESSIONS_A_DAY;
use crate::problem::{self, Problem};
use crate::rates::Rates;
use crate::sessions::{Hearing, Sessions, intent};
use crate::shapes;

/// Frames kept for a listener that is slow; one further behind misses the oldest.
const KEPT_FRAMES: usize = 4_096;

/// Files given with commands that are kept.
const KEPT_UPLOADS: usize = 64;

/// Everything a guild shares between its sockets and routes.
pub struct Hub {
    chat: Mutex<Chat>,
    /// Makes ids.
    pub mint: Mint,
    /// The demo clock.
    pub dial: Arc<dyn Dial>,
    /// Held by whoever moves it forward.
    pub turning: tokio::sync::Mutex<()>,
    /// The gateway's sessions.
    pub sessions: Sessions,
    /// Numbers the gateway's sockets.
    pub sockets: AtomicU64,
    /// Whether the gateway neither sends nor listens.
    pub silent: AtomicBool,
    /// Whether new connections to the gateway wait before it says anything.
    pub held_off: watch::Sender<bool>,
    /// Clients are told of a gateway there, where there is none.
    astray: Mutex<Option<SocketAddr>>,
    /// How many coming interactions are told twice.
    pub twice: AtomicUsize,
    /// How many are told as of a kind that there is not.
    pub unreadable: AtomicUsize,
    /// Rate limits.
    pub rates: Rates,
    /// Faults asked for.
    pub faults: Faults,
    /// The bot's token.
    pub token: String,
    address: SocketAddr,
    frames: broadcast::Sender<Arc<Frame>>,
    changes: watch::Sender<u64>,
    identified: Mutex<Option<Watch>>,
    /// New sessions that a client may still begin today.
    pub sessions_left: AtomicU64,
    uploads: Mutex<VecDeque<Attachment>>,
    up: AtomicBool,
}

impl Hub {
    /// A hub of that chat at that address.
    pub fn new(
        chat: Chat,
        dial: Arc<dyn Dial>,
        rates: Rates,
        token: String,
        address: SocketAddr,
    ) -> Hub {
        Hub {
            chat: Mutex::new(chat),
            mint: Mint::default(),
            dial,
            turning: tokio::sync::Mutex::default(),
            sessions: Sessions::default(),
            sockets: AtomicU64::new(0),
            silent: AtomicBool::new(false),
            held_off: watch::Sender::new(false),
            astray: Mutex::default(),
            twice: AtomicUsize::new(0),
            unreadable: AtomicUsize::new(0),
            rates,
            faults: Faults::default(),
            token,
            address,
            frames: broadcast::Sender::new(KEPT_FRAMES),
            changes: watch::Sender::new(0),
            sessions_left: AtomicU64::new(SESSIONS_A_DAY),
            identified: Mutex::new(None),
            uploads: Mutex::default(),
            up: AtomicBool::new(false),
        }
    }

    /// The chat, locked: for work in memory only.
    pub fn chat(&self) -> MutexGuard<'_, Chat> {
        self.chat.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A new id, of now.
    pub fn id(&self) -> Id {
        self.mint.next(wall_ms())
    }

    /// What the demo clock shows, in ms since the Unix epoch.
    pub fn now_ms(&self) -> i64 {
        self.dial.now().timestamp_millis()
    }

    /// That many random bytes, in hexadecimal.
    pub fn secret(&self, bytes: usize) -> String {
        Hub::plain_secret(bytes)
    }

    /// The same, before there is a hub.
    pub fn plain_secret(bytes: usize) -> String {
        const DIGITS: &[u8; 16] = b"0123456789abcdef";
        let mut raw = vec![0; bytes];
        if getrandom::fill(&mut raw).is_err() {
            // A machine without randomness cannot keep anybody out; what must differ still does.
            let time = wall_ms().to_be_bytes();
            raw.iter_mut()
                .zip(time.iter().cycle())
                .for_each(|(byte, of)| *byte = *of);
        }
        let pairs = raw.iter().flat_map(|byte| [byte >> 4, byte & 15]);
        pairs
            .map(|digit| char::from(DIGITS[usize::from(digit)]))
            .collect()
    }

    /// Keeps a file that a person gave with a command, for the bot to fetch.
    pub fn keep_upload(&self, file: Attachment) {
        let mut uploads = self.uploads.lock().unwrap_or_else(PoisonError::into_inner);
        uploads.push_back(file);
        if uploads.len() > KEPT_UPLOADS {
            uploads.pop_front();
        }
    }

    /// A file by the place it is served at.
    pub fn find_file(&self, channel: Id, id: Id) -> Option<Attachment> {
        let uploads = self.uploads.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(file) = uploads.iter().find(|f| f.id == id) {
            return Some(file.clone());
        }
        drop(uploads);
        let chat = self.chat();
        let mut files = chat
            .channels
            .get(&channel)?
            .messages()
            .rev()
            .flat_map(|m| &m.attachments);
        files.find(|f| f.id == id).cloned()
    }

    /// `http://127.0.0.1:port`.
    pub fn url(&self) -> String {
        format!("http://{}", self.address)
    }

    /// Tells clients of a gateway there from now on, or of the right one again.
    pub fn lead_astray(&self, to: Option<SocketAddr>) {
        *self.astray.lock().unwrap_or_else(PoisonError::into_inner) = to;
    }

    /// `ws://127.0.0.1:port/gateway`, of the right one or of where clients are led astray.
    pub fn gateway_url(&self) -> String {
        let astray = *self.astray.lock().unwrap_or_else(PoisonError::into_inner);
        format!("ws://{}/gateway", astray.unwrap_or(self.address))
    }

    /// Where a file is served.
    pub fn file_url(&self, channel: Id, id: Id, name: &str) -> String {
        let plain: String = name
            .chars()
            .map(|c| {
                if c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_') {
                    c
                } else {
                    '_'
                }
            })
            .collect();
        format!("http://{}/attachments/{channel}/{id}/{plain}", self.address)
    }

    /// Files as attachments of a message in that channel, with what the draft says in their place.
    pub fn attach(
        &self,
        channel: Id,
        files: Vec<crate::http::body::File>,
        draft: &Draft,
    ) -> Vec<Attachment> {
        files
            .into_iter()
            .map(|file| {
                let id = self.id();
                let url = self.file_url(channel, id, &file.name);
                let place = file.place.map(Id);
                let mut described = draft.described.iter();
                let description = described
                    .find(|(of, _)| Some(*of) == place)
                    .map(|(_, text)| text.clone());
                let (name, content_type, bytes) = (file.name, file.content_type, file.bytes);
                Attachment {
                    id,
                    name,
                    content_type,
                    url,
                    bytes,
                    description,
                }
            })
            .collect()
    }

    /// Hears everything from now on.
    pub fn subscribe(&self) -> broadcast::Receiver<Arc<Frame>> {
        self.frames.subscribe()
    }

    /// Tells the listeners, where there are any.
    pub fn happened(&self, what: impl FnOnce() -> Happening) {
        if self.frames.receiver_count() > 0 {
            // Nobody listening any more is no error.
            let _ = self.frames.send(Frame::new(what()));
        }
    }

    /// A message is new.
    pub fn wrote(&self, chat: &Chat, message: &Arc<Message>) {
        self.happened(|| Happening::Message {
            message: Arc::clone(message),
        });
        self.tell(chat, message, "MESSAGE_CREATE", || {
            shapes::message_event(chat, message).to_string()
        });
    }

    /// A message has changed.
    pub fn rewrote(&self, chat: &Chat, message: &Arc<Message>) {
        self.happened(|| Happening::Edit {
            message: Arc::clone(message),
        });
        self.tell(chat, message, "MESSAGE_UPDATE", || {
            shapes::message_event(chat, message).to_string()
        });
    }

    /// A message is gone.
    pub fn removed(&self, chat: &Chat, message: &Message) {
        let (channel_id, id) = (message.channel, message.id);
        self.happened(|| Happening::Gone { channel_id, id });
        self.tell(chat, message, "MESSAGE_DELETE", || {
            let mut gone = json!({"id": id, "channel_id": channel_id});
            if chat
                .channels
                .get(&channel_id)
                .is_some_and(|c| c.direct.is_none())
            {
                gone["guild_id"] = json!(chat.guild);
            }
            gone.to_string()
        });
    }

    /// The registered commands have changed.
    pub fn commands_changed(&self, chat: &Chat) {
        self.happened(|| Happening::Commands {
            commands: chat.register.seen_in(chat.guild),
        });
        self.changes.send_modify(|n| *n += 1);
    }

    /// A session came or went.
    pub fn bot_changed(&self) {
        let up = self.sessions.connected() > 0;
        if self.up.swap(up, Ordering::Relaxed) != up {
            self.happened(|| Happening::Bot { up });
        }
        self.changes.send_modify(|n| *n += 1);
    }

    /// Whether the bot is connected.
    pub fn is_up(&self) -> bool {
        self.sessions.connected() > 0
    }

    /// Told when a session comes or goes and when commands change.
    pub fn changes(&self) -> watch::Receiver<u64> {
        self.changes.subscribe()
    }

    /// Takes one of the new sessions of the day; whether there was one.
    pub fn take_session(&self) -> bool {
        let one_less = |left: u64| left.checked_sub(1);
        self.sessions_left
            .fetch_update(Ordering::Relaxed, Ordering::Relaxed, one_less)
            .is_ok()
    }

    /// Whether an IDENTIFY may come now.
    pub fn may_identify(&self) -> bool {
        let Some(spacing) = self.rates.limits().identify_ms else {
            return true;
        };
        let mut last = self
            .identified
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        if last.is_some_and(|at| at.passed() < Duration::from_millis(spacing)) {
            return false;
        }
        *last = Some(Watch::start());
        true
    }

    /// Makes a role, and tells the gateway.
    pub(crate) fn make_role(&self, name: &str) -> Id {
        let mut chat = self.chat();
        let (id, guild, position) = (self.id(), chat.guild, chat.roles.len() + 1);
        chat.roles.push(Role {
            id,
            name: name.to_owned(),
        });
        drop(chat);
        let hearing = Hearing {
            intents: intent::GUILDS,
            guild: guild.0,
        };
        let role = shapes::role(id, name, position);
        let data = serde_json::json!({"guild_id": guild, "role": role});
        self.sessions
            .tell(hearing, "GUILD_ROLE_CREATE", &data.to_string());
        id
    }

    /// Deletes a role, and tells the gateway.
    pub(crate) fn delete_role(&self, role: Id) {
        let mut chat = self.chat();
        chat.roles.retain(|there| there.id != role);
        for person in &mut chat.people {
            person.roles.retain(|held| *held != role);
            person.redraw();
        }
        let guild = chat.guild;
        drop(chat);
        let hearing = Hearing {
            intents: intent::GUILDS,
            guild: guild.0,
        };
        let data = serde_json::json!({"guild_id": guild, "role_id": role});
        self.sessions
            .tell(hearing, "GUILD_ROLE_DELETE", &data.to_string());
    }

    /// Somebody invites the bot to the foreign guild: it is told as of one that it joins.
    pub(crate) fn invite_to_foreign(&self) {
        let mut chat = self.chat();
        (chat.in_foreign, chat.foreign_away) = (true, false);
        let (guild, data) = (chat.foreign, shapes::foreign_create(&chat));
        drop(chat);
        let hearing = Hearing {
            intents: intent::GUILDS,
            guild: guild.0,
        };
        self.sessions
            .tell(hearing, "GUILD_CREATE", &data.to_string());
    }

    /// The foreign guild is not to be had for a while, which is told of as of one that is left.
    pub(crate) fn lose_foreign(&self) {
        let mut chat = self.chat();
        chat.foreign_away = true;
        let guild = chat.foreign;
        drop(chat);
        let hearing = Hearing {
            intents: intent::GUILDS,
            guild: guild.0,
        };
        let data = serde_json::json!({"id": guild, "unavailable": true});
        self.sessions
            .tell(hearing, "GUILD_DELETE", &data.to_string());
    }

    /// The bot leaves the foreign guild, or is removed. Its home it cannot leave here: what is shown would end.
    pub(crate) fn leave(&self, guild: Id) -> Result<(), Problem> {
        let mut chat = self.chat();
        if guild != chat.foreign || !chat.in_foreign {
            return Err(problem::UNKNOWN_GUILD);
        }
        chat.in_foreign = false;
        drop(chat);
        let hearing = Hearing {
            intents: intent::GUILDS,
            guild: guild.0,
        };
        let data = serde_json::json!({"id": guild});
        self.sessions
            .tell(hearing, "GUILD_DELETE", &data.to_string());
        Ok(())
    }

    /// Tells the gateway of a message, unless the bot may not see the channel, one person alone
    /// sees the message, or nobody hears.
    fn tell(&self, chat: &Chat, message: &Message, event: &str, data: impl FnOnce() -> String) {
        let Some(channel) = chat.channels.get(&message.channel).filter(|c| c.bot) else {
            return;
        };
        let (intents, guild) = if channel.direct.is_some() {
            (intent::DIRECT_MESSAGES, 0)
        } else {
            (intent::GUILD_MESSAGES, chat.guild.0)
        };
        if message.ephemeral_for.is_none() && self.sessions.heard(intents) {
            let hearing = Hearing { intents, guild };
            self.sessions.tell(hearing, event, &data());
        }
    }
}
