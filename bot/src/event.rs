//! What the chat brings to a desk. Decides the shape; [`crate::wire`] fills it in.

use std::time::Duration;

use commands::{Ask, Said};

use crate::request::Token;

/// Somebody said something in a facility's guild.
#[derive(Clone, Debug)]
pub struct Heard {
    /// Who, where and when.
    pub ask: Ask,
    /// What.
    pub said: Said,
    /// How the answer gets back.
    pub way: Way,
    /// Steady time after which it is too late to act on it.
    pub act_by: Duration,
}

/// How an answer gets back to whoever asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Way {
    /// Through the interaction.
    Interaction {
        /// Its number.
        id: u64,
        /// Its secret.
        token: Token,
        /// The number of the message of ours that it came from, if it did; an answer may take the place of that.
        on_message: Option<u64>,
        /// The whole channel sees that message, and what takes its place.
        public: bool,
        /// It was told to wait: the answer is a change of the first one.
        deferred: bool,
    },
    /// As an answer to this message in its channel.
    Message {
        /// Its number.
        id: u64,
    },
}
