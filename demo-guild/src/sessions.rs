//! The gateway's sessions: what each has been told, so that one that resumes misses nothing.
//!
//! Decides who hears an event and under which number; the sockets are the gateway's.

use std::collections::{BTreeMap, VecDeque};
use std::fmt::Write as _;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use bytes::Bytes;
use tokio::sync::mpsc::UnboundedSender;

use crate::clock::Watch;

/// Events kept for a session that is away; one that missed more must start anew.
const KEPT_EVENTS: usize = 2_000;
/// Sessions kept for clients that are away: the newest so many, and no longer than so. The
/// platform says neither; a minute or two is what its clients count on (common practice).
const AWAY: usize = 4;
const AWAY_LONGEST: Duration = Duration::from_secs(180);

/// The intents that matter here, by the platform's bits.
pub mod intent {
    /// Guilds, channels and roles.
    pub const GUILDS: u64 = 1;
    /// Messages in guilds.
    pub const GUILD_MESSAGES: u64 = 1 << 9;
    /// Direct messages.
    pub const DIRECT_MESSAGES: u64 = 1 << 12;
    /// Members, presences and message texts: for approved applications only, which this is not.
    pub const PRIVILEGED: u64 = 1 << 1 | 1 << 8 | 1 << 15;
    /// All that exist.
    pub const ALL: u64 = ((1 << 17) - 1) | 1 << 20 | 1 << 21 | 1 << 24 | 1 << 25;
}

/// What a socket is told to do.
#[derive(Clone, Debug)]
pub enum Order {
    /// Send that text.
    Send(Bytes),
    /// Close, with that code or none.
    Close(Option<u16>),
    /// Be gone without a word.
    Drop,
}

/// One session.
#[derive(Debug)]
pub struct Session {
    intents: u64,
    shard: (u64, u64),
    seq: u64,
    backlog: VecDeque<(u64, Bytes)>,
    socket: Option<(u64, UnboundedSender<Order>)>,
    away: Option<Watch>,
}

/// All sessions, by id.
#[derive(Debug, Default)]
pub struct Sessions {
    all: Mutex<BTreeMap<String, Session>>,
}

/// Who hears an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hearing {
    /// Only sessions with one of these intents; 0 is everybody.
    pub intents: u64,
    /// The guild that it is from; 0 is a direct message.
    pub guild: u64,
}

impl Sessions {
    /// Adds a session whose socket is `socket`, known by `number`.
    pub fn add(
        &self,
        id: &str,
        intents: u64,
        shard: (u64, u64),
        number: u64,
        socket: UnboundedSender<Order>,
    ) {
        let (seq, backlog) = (0, VecDeque::new());
        let socket = Some((number, socket));
        let session = Session {
            intents,
            shard,
            seq,
            backlog,
            socket,
            away: None,
        };
        let mut all = self.locked();
        forget_stale(&mut all);
        all.insert(id.to_owned(), session);
    }

    /// Takes a session up again from `seq`: sends all after it, then RESUMED. False where the
    /// session is unknown or missed too much.
    pub fn resume(&self, id: &str, seq: u64, number: u64, socket: UnboundedSender<Order>) -> bool {
        let mut all = self.locked();
        let Some(session) = all.get_mut(id).filter(|s| seq <= s.seq) else {
            return false;
        };
        let oldest = session.backlog.front().map_or(session.seq + 1, |(n, _)| *n);
        if seq + 1 < oldest {
            all.remove(id);
            return false;
        }
        for (_, text) in session.backlog.iter().filter(|(n, _)| *n > seq) {
            // A socket that is gone is noticed by its own task.
            let _ = socket.send(Order::Send(text.clone()));
        }
        session.socket = Some((number, socket));
        session.away = None;
        session.tell("RESUMED", "{}");
        true
    }

    /// The socket is gone; the session stays to be resumed, unless it was told to end.
    pub fn detach(&self, id: &str, number: u64, ends: bool) {
        let mut all = self.locked();
        let Some(session) = all.get_mut(id) else {
            return;
        };
        if session.socket.as_ref().is_none_or(|(n, _)| *n == number) {
            session.socket = None;
            session.away = Some(Watch::start());
            if ends {
                all.remove(id);
            }
        }
    }

    /// Tells an event, with its data already in JSON, to those who hear it.
    pub fn tell(&self, hearing: Hearing, event: &str, data: &str) {
        for session in self.locked().values_mut() {
            let (shard, shards) = session.shard;
            let hers = (hearing.guild >> 22) % shards == shard;
            if hers && (hearing.intents == 0 || session.intents & hearing.intents != 0) {
                session.tell(event, data);
            }
        }
    }

    /// Tells one session.
    pub fn tell_one(&self, id: &str, event: &str, data: &str) {
        if let Some(session) = self.locked().get_mut(id) {
            session.tell(event, data);
        }
    }

    /// Whether somebody hears such events.
    pub fn heard(&self, intents: u64) -> bool {
        self.locked().values().any(|s| s.intents & intents != 0)
    }

    /// Gives every socket an order; how many there were.
    pub fn order(&self, order: &Order) -> usize {
        let all = self.locked();
        let sockets = all.values().filter_map(|s| s.socket.as_ref());
        sockets
            .filter(|(_, socket)| socket.send(order.clone()).is_ok())
            .count()
    }

    /// Forgets every session, so that none can be resumed.
    pub fn forget(&self) {
        self.locked().clear();
    }

    /// Whether there is any, connected or to be resumed.
    pub fn any(&self) -> bool {
        !self.locked().is_empty()
    }

    /// How many are connected.
    pub fn connected(&self) -> usize {
        self.locked()
            .values()
            .filter(|s| s.socket.is_some())
            .count()
    }

    fn locked(&self) -> MutexGuard<'_, BTreeMap<String, Session>> {
        self.all.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn forget_stale(all: &mut BTreeMap<String, Session>) {
    let ages = all
        .iter()
        .filter_map(|(id, s)| Some((s.away?.passed(), id.clone())));
    let mut ages: Vec<(Duration, String)> = ages.collect();
    ages.sort_unstable();
    let kept = ages
        .iter()
        .take(AWAY)
        .take_while(|(age, _)| *age <= AWAY_LONGEST)
        .count();
    for (_, id) in &ages[kept..] {
        all.remove(id);
    }
}

impl Session {
    fn tell(&mut self, event: &str, data: &str) {
        self.seq += 1;
        let mut text = String::with_capacity(data.len() + event.len() + 48);
        // Writing to a string cannot fail.
        let _ = write!(
            text,
            r#"{{"op":0,"t":"{event}","s":{},"d":{data}}}"#,
            self.seq
        );
        let text = Bytes::from(text);
        if let Some((_, socket)) = &self.socket {
            // A socket that is gone is noticed by its own task.
            let _ = socket.send(Order::Send(text.clone()));
        }
        self.backlog.push_back((self.seq, text));
        if self.backlog.len() > KEPT_EVENTS {
            self.backlog.pop_front();
        }
    }
}
