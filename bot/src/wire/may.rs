//! What the bot may do in the channels of a guild. The reckoning, by the platform's published rules, is the chat library's; what we
//! need is [`crate::check`]'s.

use std::collections::BTreeMap;

use commands::ids::Channel;
use serenity::model::channel::GuildChannel;
use serenity::model::guild::{Member, PartialGuild};

/// A guild as the platform tells of it.
#[derive(serde::Deserialize)]
#[serde(transparent)]
pub struct Whole(PartialGuild);

/// One of its members.
#[derive(serde::Deserialize)]
#[serde(transparent)]
pub struct Somebody(Member);

/// Its channels.
#[derive(serde::Deserialize)]
#[serde(transparent)]
pub struct Channels(Vec<GuildChannel>);

impl Channels {
    /// What somebody may do in each, in the platform's bits: what their roles may, and what the channel's own settings change of it.
    pub fn may(&self, whole: &Whole, somebody: &Somebody) -> BTreeMap<Channel, u64> {
        let may = |one: &GuildChannel| {
            let may = whole.0.user_permissions_in(one, &somebody.0);
            (Channel(one.id.get()), may.bits())
        };
        self.0.iter().map(may).collect()
    }
}
