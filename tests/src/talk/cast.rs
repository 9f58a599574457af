//! Who and what there is in a conversation's chat: people with their roles and languages, channels, roles, files.
//! Decides their numbers, which no conversation shows.

use std::collections::{BTreeMap, BTreeSet};

use commands::ids::{Channel, ChatRole, Person};
use commands::words::Lang;

/// The chat's roles, and the word a person's line names each by.
const ROLES: [(&str, &str, u64); 5] = [
    ("aide", "aides", 71),
    ("nurse", "nurses", 72),
    ("supervisor", "supervisors", 73),
    ("upkeep", "upkeep", 74),
    ("charge nurse", "charge-nurses", 75),
];
const FIRST_PERSON: u64 = 1_001;
const FIRST_CHANNEL: u64 = 501;

/// Everybody and everything with a name.
#[derive(Clone, Debug, Default)]
pub struct Cast {
    people: Vec<Member>,
    channels: Vec<String>,
    /// Chat roles that were deleted.
    pub deleted: BTreeSet<ChatRole>,
    /// Files that can be attached, by name.
    pub files: BTreeMap<String, Vec<u8>>,
}

/// A member of the chat.
#[derive(Clone, Debug)]
pub struct Member {
    /// Their name.
    pub name: String,
    /// Their number.
    pub id: Person,
    /// The chat's roles that they hold.
    pub roles: Vec<ChatRole>,
    /// Whether they may manage the chat.
    pub manages: bool,
    /// Where they usually speak.
    pub channel: Channel,
    /// What their client speaks.
    pub lang: Lang,
}

impl Cast {
    /// Adds or changes a person by a line such as `Ana, aide, in #elm`, `Mai, manages the chat, in #office` or
    /// `Lupe, aide, in #elm, speaks Spanish`. Where they speak and what stays as it was unless the line says it.
    ///
    /// # Errors
    /// Says what in the line is not understood.
    pub fn add(&mut self, line: &str) -> Result<(), String> {
        let mut parts = line.split(',').map(str::trim);
        let name = parts
            .next()
            .filter(|name| !name.is_empty())
            .ok_or("a person needs a name")?;
        let mut roles = Vec::new();
        let mut manages = false;
        let mut channel = None;
        let mut lang = None;
        for part in parts {
            if part == "manages the chat" {
                manages = true;
            } else if let Some(at) = part.strip_prefix("in #") {
                channel = Some(self.channel(at));
            } else if let Some(name) = part.strip_prefix("speaks ") {
                lang = Some(Lang::from_text(name).ok_or(format!("nobody speaks {name:?}"))?);
            } else if part == "no role" {
                roles.clear();
            } else if let Some((_, _, id)) = ROLES.iter().find(|(word, ..)| *word == part) {
                roles.push(ChatRole(*id));
            } else {
                return Err(format!("{part:?} is no role and no channel"));
            }
        }
        let known = self.people.iter().position(|person| person.name == name);
        let channel = match (channel, known) {
            (Some(channel), _) => channel,
            (None, Some(at)) => self.people[at].channel,
            (None, None) => return Err(format!("where does {name} speak? (in #elm)")),
        };
        let lang = lang
            .or_else(|| known.map(|at| self.people[at].lang))
            .unwrap_or_default();
        let id = Person(FIRST_PERSON + known.unwrap_or(self.people.len()) as u64);
        let member = Member {
            name: name.to_owned(),
            id,
            roles,
            manages,
            channel,
            lang,
        };
        match known {
            Some(at) => self.people[at] = member,
            None => self.people.push(member),
        }
        Ok(())
    }

    /// The chat has a role less: nobody holds it any more.
    pub fn delete(&mut self, role: ChatRole) {
        self.deleted.insert(role);
        for person in &mut self.people {
            person.roles.retain(|held| *held != role);
        }
    }

    /// The person of this name.
    pub fn person(&self, name: &str) -> Option<&Member> {
        self.people.iter().find(|person| person.name == name)
    }

    /// The person of this number.
    pub fn person_of(&self, who: Person) -> Option<&Member> {
        self.people.iter().find(|person| person.id == who)
    }

    /// Everybody, in the order in which they came.
    pub fn people(&self) -> &[Member] {
        &self.people
    }

    /// Every channel with its name, in the order in which they were named.
    pub fn channels(&self) -> impl Iterator<Item = (&str, Channel)> {
        (FIRST_CHANNEL..)
            .zip(&self.channels)
            .map(|(id, name)| (name.as_str(), Channel(id)))
    }

    /// The chat's roles with their names.
    pub fn roles() -> impl Iterator<Item = (&'static str, ChatRole)> {
        ROLES.iter().map(|(_, name, id)| (*name, ChatRole(*id)))
    }

    /// The channel of this name, without its sign; made when first named.
    pub fn channel(&mut self, name: &str) -> Channel {
        let at = self
            .channels
            .iter()
            .position(|there| there == name)
            .unwrap_or_else(|| {
                self.channels.push(name.to_owned());
                self.channels.len() - 1
            });
        Channel(FIRST_CHANNEL + at as u64)
    }

    /// A channel's name with its sign.
    pub fn channel_name(&self, channel: u64) -> String {
        let at = channel
            .checked_sub(FIRST_CHANNEL)
            .and_then(|at| usize::try_from(at).ok());
        at.and_then(|at| self.channels.get(at))
            .map_or_else(|| format!("#unknown-{channel}"), |name| format!("#{name}"))
    }

    /// A person's name.
    pub fn name(&self, who: u64) -> &str {
        self.people
            .iter()
            .find(|person| person.id.0 == who)
            .map_or("somebody unknown", |person| &person.name)
    }

    /// A role's name with its sign.
    pub fn role_name(&self, role: u64) -> String {
        ROLES.iter().find(|(_, _, id)| *id == role).map_or_else(
            || format!("@unknown-{role}"),
            |(_, name, _)| format!("@{name}"),
        )
    }

    /// The role of this name, without its sign.
    pub fn role(&self, name: &str) -> Option<ChatRole> {
        ROLES
            .iter()
            .find(|(_, there, _)| *there == name)
            .map(|(_, _, id)| ChatRole(*id))
    }
}
