//! A channel: who reads it, its messages, and the nonces it remembers.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::sync::Arc;

use serde_json::Value;

use crate::ids::Id;
use crate::limits::NONCE_LIFE_MS;
use crate::message::Message;
use crate::shapes;

/// A channel with its messages.
#[derive(Debug)]
pub struct Channel {
    /// Its id.
    pub id: Id,
    /// Its name; of a direct channel the person's.
    pub name: String,
    /// Who reads it; `None` is everyone.
    pub readers: Option<BTreeSet<Id>>,
    /// Whether the bot may see it.
    pub bot: bool,
    /// What its own settings forbid the bot's role, as the platform's bits of permissions.
    pub forbidden: u64,
    /// The person of a direct channel.
    pub direct: Option<Id>,
    /// The partial object that an interaction carries, serialised once.
    pub partial_json: Arc<str>,
    pub(crate) messages: BTreeMap<Id, Arc<Message>>,
    pub(crate) nonces: VecDeque<(u64, Value, Id)>,
}

impl Channel {
    pub(crate) fn new(
        id: Id,
        name: &str,
        readers: Option<BTreeSet<Id>>,
        bot: bool,
        direct: Option<Id>,
    ) -> Channel {
        let partial_json = shapes::partial_channel(id, name, direct.is_some())
            .to_string()
            .into();
        let name = name.to_owned();
        let (messages, nonces) = (BTreeMap::new(), VecDeque::new());
        Channel {
            id,
            name,
            readers,
            bot,
            forbidden: 0,
            direct,
            partial_json,
            messages,
            nonces,
        }
    }

    /// Whether that person reads it.
    pub fn read_by(&self, person: Id) -> bool {
        self.readers.as_ref().is_none_or(|r| r.contains(&person))
    }

    /// Its messages, oldest first; those that are only thought about are left out.
    pub fn messages(&self) -> impl DoubleEndedIterator<Item = &Arc<Message>> {
        self.messages.values().filter(|m| !m.loading)
    }

    /// The message that a nonce stands for, while it is remembered.
    pub(crate) fn with_nonce(&mut self, nonce: &Value, now_ms: u64) -> Option<Arc<Message>> {
        while self
            .nonces
            .front()
            .is_some_and(|(at, ..)| now_ms.saturating_sub(*at) > NONCE_LIFE_MS)
        {
            self.nonces.pop_front();
        }
        let (_, _, id) = self
            .nonces
            .iter()
            .find(|(_, known, _)| same_nonce(known, nonce))?;
        self.messages.get(id).cloned()
    }
}

/// A nonce may be written as text or as a number.
fn same_nonce(a: &Value, b: &Value) -> bool {
    let plain = |v: &Value| v.as_str().map_or_else(|| v.to_string(), str::to_owned);
    a == b || plain(a) == plain(b)
}
