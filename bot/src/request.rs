//! What the bot asks of the chat platform and what comes back, as values. Decides routes, bodies and
//! what an answer means for a message's fate; leaves the sending to [`crate::courier`].

use std::fmt;
use std::time::Duration;

use bytes::Bytes;
use commands::decision::Lane;

use crate::clock::Ages;

/// A secret that lets whoever holds it answer one interaction. Never shown.
#[derive(Clone, PartialEq, Eq, Default)]
pub struct Token(pub String);

impl fmt::Debug for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Token")
    }
}

/// Where a request goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// The first answer to an interaction.
    Callback {
        /// The interaction.
        interaction: u64,
        /// Its secret.
        token: Token,
    },
    /// A change of the first answer, also after a deferral.
    Original {
        /// The interaction's secret.
        token: Token,
    },
    /// A new message.
    Post {
        /// The channel.
        channel: u64,
    },
    /// A change of one of our messages.
    Edit {
        /// The channel.
        channel: u64,
        /// The message.
        message: u64,
    },
    /// Messages of a channel, the newest first.
    History {
        /// The channel.
        channel: u64,
        /// Only those from before this one.
        before: Option<u64>,
    },
    /// The commands a guild has of ours.
    Commands {
        /// The guild.
        guild: u64,
    },
    /// Sets all the commands a guild has of ours.
    SetCommands {
        /// The guild.
        guild: u64,
    },
    /// Leaves a guild.
    Leave {
        /// The guild.
        guild: u64,
    },
    /// Where the gateway is.
    Gateway,
    /// Who we are.
    Me,
}

/// How many messages are read back at once when looking for one of ours: as many as the platform gives.
pub const HISTORY_MESSAGES: usize = 100;
/// So often at most. What people write in a channel in three days goes into it.
pub const HISTORY_PAGES: u32 = 10;

impl Route {
    /// The name it has in logs, where an address would give secrets away.
    pub fn name(&self) -> &'static str {
        match self {
            Route::Callback { .. } => "callback",
            Route::Original { .. } => "original",
            Route::Post { .. } => "post",
            Route::Edit { .. } => "edit",
            Route::History { .. } => "history",
            Route::Commands { .. } => "commands",
            Route::SetCommands { .. } => "set-commands",
            Route::Leave { .. } => "leave",
            Route::Gateway => "gateway",
            Route::Me => "me",
        }
    }

    /// The HTTP method.
    pub fn method(&self) -> hyper::Method {
        match self {
            Route::Callback { .. } | Route::Post { .. } => hyper::Method::POST,
            Route::Original { .. } | Route::Edit { .. } => hyper::Method::PATCH,
            Route::SetCommands { .. } => hyper::Method::PUT,
            Route::Leave { .. } => hyper::Method::DELETE,
            Route::History { .. } | Route::Commands { .. } | Route::Gateway | Route::Me => {
                hyper::Method::GET
            }
        }
    }

    /// The address below the service's own, for the application `app`.
    pub fn path(&self, app: u64) -> String {
        match self {
            Route::Callback { interaction, token } => {
                format!("/api/v10/interactions/{interaction}/{}/callback", token.0)
            }
            Route::Original { token } => {
                format!("/api/v10/webhooks/{app}/{}/messages/@original", token.0)
            }
            Route::Post { channel } => format!("/api/v10/channels/{channel}/messages"),
            Route::Edit { channel, message } => {
                format!("/api/v10/channels/{channel}/messages/{message}")
            }
            Route::History { channel, before } => {
                let before = before.map_or_else(String::new, |id| format!("&before={id}"));
                format!("/api/v10/channels/{channel}/messages?limit={HISTORY_MESSAGES}{before}")
            }
            Route::Commands { guild } | Route::SetCommands { guild } => {
                format!("/api/v10/applications/{app}/guilds/{guild}/commands")
            }
            Route::Leave { guild } => format!("/api/v10/users/@me/guilds/{guild}"),
            Route::Gateway => "/api/v10/gateway/bot".to_owned(),
            Route::Me => "/api/v10/users/@me".to_owned(),
        }
    }

    /// What shares one rate limit; `None` for the interaction routes, which never queue.
    pub fn bucket(&self) -> Option<(&'static str, u64)> {
        match self {
            Route::Callback { .. } | Route::Original { .. } => None,
            Route::Post { channel }
            | Route::Edit { channel, .. }
            | Route::History { channel, .. } => Some((self.name(), *channel)),
            Route::Commands { guild } | Route::SetCommands { guild } | Route::Leave { guild } => {
                Some((self.name(), *guild))
            }
            Route::Gateway | Route::Me => Some((self.name(), 0)),
        }
    }

    /// Whether the address names the application, which is known once the gateway is ready.
    pub fn needs_app(&self) -> bool {
        matches!(
            self,
            Route::Original { .. } | Route::Commands { .. } | Route::SetCommands { .. }
        )
    }
}

/// What a request carries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Body {
    /// Nothing.
    Empty,
    /// JSON.
    Json(Bytes),
    /// JSON and a file, parted by this line.
    Multipart {
        /// The parting line.
        boundary: String,
        /// All of it.
        bytes: Bytes,
    },
}

/// One request.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// Where to.
    pub route: Route,
    /// With what.
    pub body: Body,
    /// What goes first when there is much; the interaction routes pass all of them.
    pub lane: Lane,
}

/// What became of a request.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It was done; the number of the message it made, where it made one and said so.
    Made(Option<u64>),
    /// The messages that were asked for, newest first.
    Listed(Vec<Past>),
    /// The names of the commands that were asked for.
    Named(Vec<String>),
    /// It was refused and nothing was made: the HTTP status and the platform's own code, 0 if none.
    Refused {
        /// HTTP status.
        status: u16,
        /// The platform's code.
        code: u32,
    },
    /// Nothing was made; not again before this long.
    Limited(Duration),
    /// Surely nothing was made: it never left.
    NotMade,
    /// It may have been made.
    Unsure,
}

/// Where the next page of a channel begins, where this one does not go back to `since_ms`; `None` where it does, or is the last.
pub fn next_page(past: &[Past], since_ms: i64) -> Option<u64> {
    let oldest = past.iter().map(|one| one.id).min()?;
    (past.len() >= HISTORY_MESSAGES && Ages::made_ms(oldest) >= since_ms).then_some(oldest)
}

/// A message read back from a channel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Past {
    /// Its number.
    pub id: u64,
    /// Who wrote it.
    pub author: u64,
    /// Its text.
    pub text: String,
    /// Its nonce, where the platform gives it back.
    pub nonce: Option<String>,
}
