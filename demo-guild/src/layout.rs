//! What an invented home looks like: its roles, people and channels, before it is served.
//!
//! Decides which ids are given when none are named; leaves all behaviour to the chat.

use crate::ids::Id;

/// A guild to serve. Names are unique within their kind.
#[derive(Clone, Debug, Default)]
pub struct Layout {
    /// The guild's name.
    pub guild: String,
    /// Its id, or one is assigned.
    pub guild_id: Option<u64>,
    /// Its IANA zone, as the page's clock shows it.
    pub zone: String,
    /// Its roles, @everyone left out.
    pub roles: Vec<RoleSpec>,
    /// Its people, the bot left out.
    pub people: Vec<PersonSpec>,
    /// Its text channels.
    pub channels: Vec<ChannelSpec>,
    /// Names of the people whose phones the page shows first, left to right.
    pub phones: Vec<String>,
}

/// A role.
#[derive(Clone, Debug)]
pub struct RoleSpec {
    /// Its name.
    pub name: String,
    /// Its id, or one is assigned.
    pub id: Option<u64>,
}

/// A person.
#[derive(Clone, Debug)]
pub struct PersonSpec {
    /// The name shown.
    pub name: String,
    /// Their id, or one is assigned.
    pub id: Option<u64>,
    /// What they are in the demo (`aide`, `nurse` …), for the page only.
    pub job: String,
    /// Names of their roles.
    pub roles: Vec<String>,
    /// The language of their chat client.
    pub locale: String,
    /// Whether they may manage the guild.
    pub manage_guild: bool,
}

/// A text channel.
#[derive(Clone, Debug)]
pub struct ChannelSpec {
    /// Its name.
    pub name: String,
    /// Its id, or one is assigned.
    pub id: Option<u64>,
    /// Names of the people who read it; `None` is everyone.
    pub readers: Option<Vec<String>>,
    /// Whether the bot may see it and write there.
    pub bot: bool,
}

impl Layout {
    /// An empty guild of that name in that zone.
    pub fn new(guild: &str, zone: &str) -> Layout {
        Layout {
            guild: guild.to_owned(),
            zone: zone.to_owned(),
            ..Layout::default()
        }
    }

    /// With a role.
    #[must_use]
    pub fn role(mut self, name: &str) -> Layout {
        self.roles.push(RoleSpec {
            name: name.to_owned(),
            id: None,
        });
        self
    }

    /// With a person of that job and those roles, who reads American English.
    #[must_use]
    pub fn person(mut self, name: &str, job: &str, roles: &[&str]) -> Layout {
        self.people.push(PersonSpec {
            name: name.to_owned(),
            id: None,
            job: job.to_owned(),
            roles: roles.iter().map(|r| (*r).to_owned()).collect(),
            locale: "en-US".to_owned(),
            manage_guild: false,
        });
        self
    }

    /// The person added last may manage the guild.
    #[must_use]
    pub fn manager(mut self) -> Layout {
        if let Some(person) = self.people.last_mut() {
            person.manage_guild = true;
        }
        self
    }

    /// The person added last uses that language.
    #[must_use]
    pub fn locale(mut self, locale: &str) -> Layout {
        if let Some(person) = self.people.last_mut() {
            person.locale = locale.to_owned();
        }
        self
    }

    /// With a channel that everyone reads.
    #[must_use]
    pub fn channel(mut self, name: &str) -> Layout {
        let name = name.to_owned();
        self.channels.push(ChannelSpec {
            name,
            id: None,
            readers: None,
            bot: true,
        });
        self
    }

    /// With a channel that only those people (and the bot) read.
    #[must_use]
    pub fn closed_channel(mut self, name: &str, readers: &[&str]) -> Layout {
        let readers = Some(readers.iter().map(|r| (*r).to_owned()).collect());
        self.channels.push(ChannelSpec {
            name: name.to_owned(),
            id: None,
            readers,
            bot: true,
        });
        self
    }
}

/// 2025-01-06T00:00:00Z in ms: when everything in an invented guild was made.
const MADE_MS: u64 = 1_736_121_600_000;

/// Gives out the same ids in the same order in every run.
#[derive(Debug)]
pub(crate) struct Assigned {
    next: u64,
}

impl Assigned {
    pub(crate) fn new() -> Assigned {
        Assigned {
            next: Id::at_ms(MADE_MS).0 + 1,
        }
    }

    /// The id asked for, or the next one in the row.
    pub(crate) fn or(&mut self, asked: Option<u64>) -> Id {
        self.next += 1;
        Id(asked.unwrap_or(self.next))
    }
}
