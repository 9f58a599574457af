//! The chat itself as plain data: people, roles, channels and messages.
//!
//! Decides who sees what, whom a message reaches and which message an enforced nonce stands for.
//! Leaves checks to `check`, interactions to `asked`, and telling anyone to the hub.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use crate::asked::Asking;
pub use crate::channel::Channel;
use crate::check::message::{Allowed, Draft, EPHEMERAL, LOADING, SILENT};
use crate::ids::Id;
use crate::layout::{Assigned, Layout};
pub use crate::message::{Attachment, Author, Cause, Message, Posted, Posting};
use crate::problem::{self, Problem};
use crate::register::Register;
use crate::shapes;

/// Messages kept in a channel; the oldest go first.
pub const KEPT_MESSAGES: usize = 5_000;

/// The whole chat.
#[derive(Debug)]
pub struct Chat {
    /// The guild's id, which is also @everyone's.
    pub guild: Id,
    /// The guild's name.
    pub guild_name: String,
    /// Its zone.
    pub zone: String,
    /// A guild that the bot was not invited to serve.
    pub foreign: Id,
    /// Whether somebody has invited the bot there all the same, and it has not left.
    pub in_foreign: bool,
    /// Whether that guild is not to be had for a while.
    pub foreign_away: bool,
    /// The one channel of that guild.
    pub foreign_channel: Id,
    /// The bot's user id, which is also its application's.
    pub bot: Id,
    /// The bot's name.
    pub bot_name: String,
    /// The role that the platform makes for the bot alone.
    pub bot_role: Id,
    /// Roles without @everyone.
    pub roles: Vec<Role>,
    /// People without the bot, in the layout's order.
    pub people: Vec<Person>,
    /// Text channels of the guild, then one direct channel a person.
    pub channels: BTreeMap<Id, Channel>,
    /// The guild's channels in the layout's order.
    pub order: Vec<Id>,
    /// Whose phones the page shows first.
    pub phones: Vec<Id>,
    /// The application's commands.
    pub register: Register,
    /// Interactions and forms that wait for something.
    pub asking: Asking,
    places: HashMap<Id, Id>,
}

/// A role.
#[derive(Clone, Debug)]
pub struct Role {
    /// Its id.
    pub id: Id,
    /// Its name.
    pub name: String,
}

/// A person.
#[derive(Clone, Debug)]
pub struct Person {
    /// Their id.
    pub id: Id,
    /// The name shown.
    pub name: String,
    /// What they are in the demo.
    pub job: String,
    /// Their roles.
    pub roles: Vec<Id>,
    /// The language of their chat client.
    pub locale: String,
    /// Whether they may manage the guild.
    pub manage_guild: bool,
    /// The platform's user object, serialised once.
    pub user_json: Arc<str>,
    /// The platform's member object as an interaction carries it, serialised once.
    pub member_json: Arc<str>,
}

impl Chat {
    /// The chat of a layout, before anyone spoke.
    pub fn new(layout: &Layout, bot_name: &str) -> Chat {
        let mut ids = Assigned::new();
        let guild = ids.or(layout.guild_id);
        let (bot, foreign) = (ids.or(None), ids.or(None));
        let roles: Vec<Role> = layout
            .roles
            .iter()
            .map(|r| Role {
                id: ids.or(r.id),
                name: r.name.clone(),
            })
            .collect();
        let role_id = |name: &String| roles.iter().find(|r| r.name == *name).map(|r| r.id);
        let mut people = Vec::new();
        for spec in &layout.people {
            let mut person = Person {
                id: ids.or(spec.id),
                name: spec.name.clone(),
                job: spec.job.clone(),
                roles: spec.roles.iter().filter_map(role_id).collect(),
                locale: spec.locale.clone(),
                manage_guild: spec.manage_guild,
                user_json: "".into(),
                member_json: "".into(),
            };
            person.redraw();
            people.push(person);
        }
        let person_id = |name: &String| people.iter().find(|p| p.name == *name).map(|p| p.id);
        let mut channels = BTreeMap::new();
        let mut order = Vec::new();
        for spec in &layout.channels {
            let readers = spec
                .readers
                .as_ref()
                .map(|r| r.iter().filter_map(person_id).collect());
            let channel = Channel::new(ids.or(spec.id), &spec.name, readers, spec.bot, None);
            order.push(channel.id);
            channels.insert(channel.id, channel);
        }
        for person in &people {
            let readers = Some(BTreeSet::from([person.id]));
            let channel = Channel::new(ids.or(None), &person.name, readers, true, Some(person.id));
            channels.insert(channel.id, channel);
        }
        let elsewhere = Channel::new(ids.or(None), "elsewhere", None, true, None);
        let foreign_channel = elsewhere.id;
        channels.insert(elsewhere.id, elsewhere);
        Chat {
            guild,
            guild_name: layout.guild.clone(),
            zone: layout.zone.clone(),
            foreign,
            in_foreign: false,
            foreign_away: false,
            foreign_channel,
            bot,
            bot_name: bot_name.to_owned(),
            bot_role: ids.or(None),
            phones: layout.phones.iter().filter_map(person_id).collect(),
            roles,
            people,
            channels,
            order,
            register: Register::default(),
            asking: Asking::default(),
            places: HashMap::new(),
        }
    }

    /// Whether the bot is in that guild, and it is to be had.
    pub fn has_bot(&self, guild: Id) -> bool {
        let foreign = guild == self.foreign && self.in_foreign && !self.foreign_away;
        guild == self.guild || foreign
    }

    /// A person.
    pub fn person(&self, id: Id) -> Option<&Person> {
        self.people.iter().find(|p| p.id == id)
    }

    /// A person's direct channel with the bot.
    pub fn direct_with(&self, person: Id) -> Option<Id> {
        self.channels
            .values()
            .find(|c| c.direct == Some(person))
            .map(|c| c.id)
    }

    /// A channel that the bot may see.
    ///
    /// # Errors
    /// 10003 where there is none, 50001 where the bot may not see it.
    pub fn channel_for_bot(&self, id: Id) -> Result<&Channel, Problem> {
        let channel = self.channels.get(&id).ok_or(problem::UNKNOWN_CHANNEL)?;
        if channel.bot {
            Ok(channel)
        } else {
            Err(problem::MISSING_ACCESS)
        }
    }

    /// The bot as an author.
    pub fn bot_author(&self) -> Author {
        Author {
            id: self.bot,
            name: self.bot_name.clone(),
            bot: true,
        }
    }

    /// A message, wherever it is.
    pub fn message(&self, id: Id) -> Option<&Arc<Message>> {
        self.channels.get(self.places.get(&id)?)?.messages.get(&id)
    }

    /// A message that the channel's readers see, for the channel's routes: an answer to one person
    /// only is unknown there.
    ///
    /// # Errors
    /// 10003, 50001 or 10008.
    pub fn open_message(&self, channel: Id, id: Id) -> Result<&Arc<Message>, Problem> {
        let found = self.channel_for_bot(channel)?.messages.get(&id);
        found
            .filter(|m| m.ephemeral_for.is_none())
            .ok_or(problem::UNKNOWN_MESSAGE)
    }

    /// Puts a new message into a channel.
    ///
    /// # Errors
    /// 10003, 50001, 50013 where the channel's own settings forbid it, or 50006 where there is nothing in it.
    pub fn post(&mut self, posting: Posting, draft: Draft) -> Result<Posted, Problem> {
        let thinking = draft.flags & LOADING != 0;
        if !thinking && draft.is_empty(posting.files.len()) {
            return Err(problem::EMPTY_MESSAGE);
        }
        if posting.author.bot && posting.cause.is_none() {
            let channel = self.channel_for_bot(posting.channel)?;
            if channel.forbidden & shapes::SEND_MESSAGES != 0 {
                return Err(problem::MISSING_PERMISSIONS);
            }
        }
        let reach = self.reach(
            draft.content.as_deref().unwrap_or(""),
            draft.allowed.as_ref(),
        );
        let channel = self
            .channels
            .get_mut(&posting.channel)
            .ok_or(problem::UNKNOWN_CHANNEL)?;
        if let Some(nonce) = draft.nonce.as_ref().filter(|_| draft.enforce_nonce)
            && let Some(same) = channel.with_nonce(nonce, posting.wall_ms)
        {
            return Ok(Posted::Same(same));
        }
        let ephemeral = draft.flags & EPHEMERAL != 0;
        let asker = posting.cause.map(|cause| cause.person);
        let message = Arc::new(Message {
            id: posting.id,
            channel: posting.channel,
            author: posting.author,
            content: draft.content.unwrap_or_default(),
            at: posting.at,
            edited: None,
            edited_wall: None,
            ephemeral_for: asker.filter(|_| ephemeral),
            components: draft.components.unwrap_or_else(|| Arc::from([])),
            embeds: draft.embeds.unwrap_or_else(|| Arc::from([])),
            attachments: posting.files,
            mention_roles: reach.roles,
            mentions: reach.users,
            mention_everyone: reach.everyone,
            flags: draft.flags,
            silent: draft.flags & SILENT != 0,
            loading: thinking,
            reply_to_command: posting.typed,
            cause: posting.cause,
            nonce: draft.nonce,
            answers: draft.answers,
        });
        if let (Some(nonce), true) = (&message.nonce, message.author.bot) {
            channel
                .nonces
                .push_back((posting.wall_ms, nonce.clone(), message.id));
        }
        channel.messages.insert(message.id, Arc::clone(&message));
        self.places.insert(message.id, message.channel);
        if channel.messages.len() > KEPT_MESSAGES
            && let Some((old, _)) = channel.messages.pop_first()
        {
            self.places.remove(&old);
        }
        Ok(Posted::New(message))
    }

    /// Changes a message. A thinking one becomes a whole one.
    ///
    /// # Errors
    /// 10008, or 50006 where nothing would be left of it.
    pub fn edit(
        &mut self,
        id: Id,
        draft: Draft,
        files: Vec<Attachment>,
        at: i64,
        wall_ms: u64,
    ) -> Result<Arc<Message>, Problem> {
        let reach = draft
            .content
            .as_deref()
            .map(|text| self.reach(text, draft.allowed.as_ref()));
        let place = self.places.get(&id).ok_or(problem::UNKNOWN_MESSAGE)?;
        let channel = self
            .channels
            .get_mut(place)
            .ok_or(problem::UNKNOWN_MESSAGE)?;
        let slot = channel
            .messages
            .get_mut(&id)
            .ok_or(problem::UNKNOWN_MESSAGE)?;
        let mut message = Message::clone(slot);
        if let Some(keep) = &draft.keep {
            message.attachments.retain(|a| keep.contains(&a.id));
        }
        message.attachments.extend(files);
        if let Some(reach) = reach {
            message.mention_roles = reach.roles;
            message.mentions = reach.users;
            message.mention_everyone = reach.everyone;
        }
        message.content = draft.content.unwrap_or(message.content);
        message.components = draft.components.unwrap_or(message.components);
        message.embeds = draft.embeds.unwrap_or(message.embeds);
        let nothing = message.content.is_empty()
            && message.components.is_empty()
            && message.embeds.is_empty()
            && message.attachments.is_empty();
        if nothing {
            return Err(problem::EMPTY_MESSAGE);
        }
        if message.loading {
            message.loading = false;
            message.flags &= !LOADING;
            message.at = at;
        } else {
            message.edited = Some(at);
            message.edited_wall = Some(wall_ms);
        }
        *slot = Arc::new(message);
        Ok(Arc::clone(slot))
    }

    /// Takes a message away.
    ///
    /// # Errors
    /// 10008.
    pub fn delete(&mut self, id: Id) -> Result<Arc<Message>, Problem> {
        let place = self.places.remove(&id).ok_or(problem::UNKNOWN_MESSAGE)?;
        let channel = self
            .channels
            .get_mut(&place)
            .ok_or(problem::UNKNOWN_MESSAGE)?;
        channel.messages.remove(&id).ok_or(problem::UNKNOWN_MESSAGE)
    }

    /// Whom a text reaches, given what its sender allows.
    fn reach(&self, content: &str, allowed: Option<&Allowed>) -> Reach {
        let mut reach = Reach::default();
        if !content.contains(['<', '@']) {
            return reach;
        }
        let role_allowed = |id| allowed.is_none_or(|a| a.any_role || a.roles.contains(&id));
        let user_allowed = |id| allowed.is_none_or(|a| a.any_user || a.users.contains(&id));
        for part in content.split("<@").skip(1) {
            let Some((inside, _)) = part.split_once('>') else {
                continue;
            };
            if let Some(role) = inside
                .strip_prefix('&')
                .and_then(|id| id.parse::<Id>().ok())
            {
                let known = self.roles.iter().any(|r| r.id == role);
                if known && role_allowed(role) && !reach.roles.contains(&role) {
                    reach.roles.push(role);
                }
            } else if let Ok(user) = inside.trim_start_matches('!').parse::<Id>() {
                let known = user == self.bot || self.person(user).is_some();
                if known && user_allowed(user) && !reach.users.contains(&user) {
                    reach.users.push(user);
                }
            }
        }
        let all = content.contains("@everyone") || content.contains("@here");
        reach.everyone = all && allowed.is_none_or(|a| a.everyone);
        reach
    }
}

#[derive(Default)]
struct Reach {
    roles: Vec<Id>,
    users: Vec<Id>,
    everyone: bool,
}

impl Person {
    /// Draws the cached objects again, after a change.
    pub fn redraw(&mut self) {
        self.user_json = shapes::user(self.id, &self.name, false).to_string().into();
        self.member_json = shapes::member(self, true).to_string().into();
    }
}
