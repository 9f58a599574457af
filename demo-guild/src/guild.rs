//! A guild being served, and the one handle to it that tests, load and the page share.
//!
//! Decides nothing of its own: each method passes on to where the thing is decided.

use std::sync::Arc;
use std::time::Duration;

use serde_json::Value;
use tokio::sync::{broadcast, watch};

use crate::chat::{Chat, Message};
use crate::clock::{Dial, Watch};
use crate::deeds::{self, Doer};
use crate::frames::{Frame, Happening};
use crate::hub::Hub;
use crate::ids::Id;
use crate::layout::Layout;
use crate::outcome::{Choice, Outcome};
use crate::rates::{Limits, Rates};
use crate::serve;
use crate::typed::Typed;

/// The bot's name, and what it is mentioned by.
const BOT_NAME: &str = "loftwatch";

/// How to serve a guild.
#[derive(Clone)]
pub struct Options {
    /// The port on 127.0.0.1; 0 takes a free one.
    pub port: u16,
    /// Which rate limits are on.
    pub limits: Limits,
    /// The clock that people live by.
    pub clock: Arc<dyn Dial>,
    /// Whether the page is served too.
    pub page: bool,
}

impl Options {
    /// For tests and load: a free port, no rate limits, the wall clock, no page.
    pub fn headless() -> Options {
        Options {
            port: 0,
            limits: Limits::off(),
            clock: crate::clock::WallDial::new(),
            page: false,
        }
    }
}

/// A cheap handle. The guild is served until the last handle is dropped or [`Guild::shutdown`].
#[derive(Clone)]
pub struct Guild {
    pub(crate) hub: Arc<Hub>,
    running: Arc<Running>,
}

struct Running {
    stop: watch::Sender<bool>,
}

impl Drop for Running {
    fn drop(&mut self) {
        self.stop.send_replace(true);
    }
}

impl Guild {
    /// Serves a guild on 127.0.0.1.
    ///
    /// # Errors
    /// The port is taken.
    pub async fn serve(layout: Layout, options: Options) -> anyhow::Result<Guild> {
        let listener = serve::listen(options.port).await?;
        let address = listener.local_addr()?;
        let chat = Chat::new(&layout, BOT_NAME);
        let rates = Rates::new(options.limits);
        // A platform token has three parts; the first one names the application.
        let token = format!("{}.demo.{}", chat.bot, Hub::plain_secret(16));
        let hub = Arc::new(Hub::new(chat, options.clock, rates, token, address));
        let (stop, stopped) = watch::channel(false);
        tokio::spawn(serve::accept(
            listener,
            Arc::clone(&hub),
            options.page,
            stopped,
        ));
        Ok(Guild {
            hub,
            running: Arc::new(Running { stop }),
        })
    }

    /// Stops serving: every connection ends.
    pub fn shutdown(&self) {
        self.running.stop.send_replace(true);
    }

    /// The address of the chat service and of the page: `http://127.0.0.1:port`.
    pub fn url(&self) -> String {
        self.hub.url()
    }

    /// The bot's token.
    pub fn token(&self) -> String {
        self.hub.token.clone()
    }

    /// The guild's id.
    pub fn guild_id(&self) -> Id {
        self.hub.chat().guild
    }

    /// The id of the guild that foreign commands come from.
    pub fn foreign_guild_id(&self) -> Id {
        self.hub.chat().foreign
    }

    /// Somebody invites the bot to that guild, too.
    pub fn invite_to_foreign(&self) {
        self.hub.invite_to_foreign();
    }

    /// Somebody removes the bot from that guild, where it is in it.
    pub fn remove_from_foreign(&self) {
        // It is not in it, then.
        let _ = self.hub.leave(self.foreign_guild_id());
    }

    /// That guild is not to be had for a while, until the bot is told of it anew.
    pub fn lose_foreign(&self) {
        self.hub.lose_foreign();
    }

    /// Whether the bot is in that guild.
    pub fn is_in_foreign(&self) -> bool {
        self.hub.chat().in_foreign
    }

    /// The bot's user id, which is also its application's.
    pub fn bot_id(&self) -> Id {
        self.hub.chat().bot
    }

    /// A person's id.
    ///
    /// # Panics
    /// The layout has no such person: the caller misspelt it.
    pub fn person(&self, name: &str) -> Id {
        let found = self
            .hub
            .chat()
            .people
            .iter()
            .find(|p| p.name == name)
            .map(|p| p.id);
        found.unwrap_or_else(|| panic!("the layout has no person {name}"))
    }

    /// A channel's id.
    ///
    /// # Panics
    /// The layout has no such channel.
    pub fn channel(&self, name: &str) -> Id {
        let chat = self.hub.chat();
        let mut all = chat.order.iter().filter_map(|id| chat.channels.get(id));
        let found = all.find(|c| c.name == name).map(|c| c.id);
        found.unwrap_or_else(|| panic!("the layout has no channel {name}"))
    }

    /// A role's id.
    ///
    /// # Panics
    /// The layout has no such role.
    pub fn role(&self, name: &str) -> Id {
        let found = self
            .hub
            .chat()
            .roles
            .iter()
            .find(|r| r.name == name)
            .map(|r| r.id);
        found.unwrap_or_else(|| panic!("the layout has no role {name}"))
    }

    /// The direct channel of a person with the bot. Commands, taps and words there are direct
    /// messages.
    ///
    /// # Panics
    /// There is no such person.
    pub fn direct(&self, person: Id) -> Id {
        self.hub
            .chat()
            .direct_with(person)
            .unwrap_or_else(|| panic!("there is no person {person}"))
    }

    /// A channel of a guild that the bot was not set up for. Commands there come from that guild.
    pub fn foreign_channel(&self) -> Id {
        self.hub.chat().foreign_channel
    }

    /// Makes a role that nobody has yet; whoever listens to the guild is told.
    pub fn make_role(&self, name: &str) -> Id {
        self.hub.make_role(name)
    }

    /// Deletes a role: nobody has it any more, and whoever listens to the guild is told.
    pub fn delete_role(&self, role: Id) {
        self.hub.delete_role(role);
    }

    /// Lets a channel's own settings forbid the bot's role what these bits of the platform's permissions stand for.
    pub fn forbid(&self, channel: Id, permissions: u64) {
        if let Some(channel) = self.hub.chat().channels.get_mut(&channel) {
            channel.forbidden = permissions;
        }
    }

    /// Gives a person those roles in place of the ones they have.
    pub fn set_roles(&self, person: Id, roles: &[Id]) {
        let mut chat = self.hub.chat();
        if let Some(person) = chat.people.iter_mut().find(|p| p.id == person) {
            person.roles = roles.to_vec();
            person.redraw();
        }
    }

    /// Sets the language of a person's client, by the platform's locale.
    pub fn set_locale(&self, person: Id, locale: &str) {
        let mut chat = self.hub.chat();
        if let Some(person) = chat.people.iter_mut().find(|p| p.id == person) {
            locale.clone_into(&mut person.locale);
        }
    }

    /// Lets a person manage the guild, or no longer.
    pub fn set_manages(&self, person: Id, manages: bool) {
        let mut chat = self.hub.chat();
        if let Some(person) = chat.people.iter_mut().find(|p| p.id == person) {
            person.manage_guild = manages;
            person.redraw();
        }
    }

    /// Sends a command: `command(ana, ward, "fleet add", &[("tag", "LW-07".into())])`. The kinds
    /// of options come from the registration. Users, roles and channels are given by id as text,
    /// files as `{"name": …, "text": …}`, with their `"bytes"` in place of the text,
    /// and `"lost": true` where the chat has lost them by the time that they are fetched.
    pub async fn command(
        &self,
        person: Id,
        channel: Id,
        path: &str,
        options: &[(&str, Value)],
    ) -> Outcome {
        self.sent(person, channel, path, options, true).await
    }

    /// The same from a client that looks at neither choices nor bounds nor what is missing.
    pub async fn command_unchecked(
        &self,
        person: Id,
        channel: Id,
        path: &str,
        options: &[(&str, Value)],
    ) -> Outcome {
        self.sent(person, channel, path, options, false).await
    }

    async fn sent(
        &self,
        person: Id,
        channel: Id,
        path: &str,
        options: &[(&str, Value)],
        checked: bool,
    ) -> Outcome {
        let typed = Typed {
            path,
            options,
            focused: None,
            checked,
        };
        deeds::command(
            &self.hub,
            Doer {
                person,
                channel,
                nonce: None,
            },
            typed,
        )
        .await
    }

    /// Sends a command from the guild that the bot was not set up for.
    pub async fn foreign_command(
        &self,
        person: Id,
        path: &str,
        options: &[(&str, Value)],
    ) -> Outcome {
        self.command(person, self.foreign_channel(), path, options)
            .await
    }

    /// Sends a command as a direct message.
    pub async fn direct_command(
        &self,
        person: Id,
        path: &str,
        options: &[(&str, Value)],
    ) -> Outcome {
        self.command(person, self.direct(person), path, options)
            .await
    }

    /// What completes the option `focused`, whose text so far is among the options; empty where
    /// nothing was answered.
    pub async fn complete(
        &self,
        person: Id,
        channel: Id,
        path: &str,
        options: &[(&str, Value)],
        focused: &str,
    ) -> Vec<Choice> {
        let outcome = self
            .completing(person, channel, path, options, focused)
            .await;
        outcome.answered.map(|a| a.choices).unwrap_or_default()
    }

    /// The same, and why nothing was answered.
    pub async fn completing(
        &self,
        person: Id,
        channel: Id,
        path: &str,
        options: &[(&str, Value)],
        focused: &str,
    ) -> Outcome {
        let typed = Typed {
            path,
            options,
            focused: Some(focused),
            checked: true,
        };
        deeds::command(
            &self.hub,
            Doer {
                person,
                channel,
                nonce: None,
            },
            typed,
        )
        .await
    }

    /// Taps a button of a message.
    pub async fn tap(&self, person: Id, message: Id, custom_id: &str) -> Outcome {
        deeds::tap(&self.hub, self.at(person, message), message, custom_id).await
    }

    /// Chooses from a select menu of a message.
    pub async fn choose(
        &self,
        person: Id,
        message: Id,
        custom_id: &str,
        values: &[&str],
    ) -> Outcome {
        let values: Vec<String> = values.iter().map(|v| (*v).to_owned()).collect();
        deeds::choose(
            &self.hub,
            self.at(person, message),
            message,
            custom_id,
            &values,
        )
        .await
    }

    /// Taps a button, or chooses these from a menu, that the message had once: a phone that has not drawn the
    /// message's newest state yet sends what it still shows.
    pub async fn act_on_old(
        &self,
        person: Id,
        message: Id,
        custom_id: &str,
        values: Option<&[&str]>,
    ) -> Outcome {
        let doer = self.at(person, message);
        deeds::act_on_old(&self.hub, doer, message, custom_id, values).await
    }

    /// Sends a form that was opened on the person's phone.
    pub async fn submit(
        &self,
        person: Id,
        channel: Id,
        custom_id: &str,
        fields: &[(&str, &str)],
    ) -> Outcome {
        let (doer, fields) = filled(person, channel, fields);
        deeds::submit(&self.hub, doer, custom_id, &fields).await
    }

    /// Sends a form that nobody opened, as only a client of somebody's own would.
    pub async fn forge_form(
        &self,
        person: Id,
        channel: Id,
        custom_id: &str,
        fields: &[(&str, &str)],
    ) -> Outcome {
        let (doer, fields) = filled(person, channel, fields);
        deeds::forge_form(&self.hub, doer, custom_id, &fields).await
    }

    /// Says something in a channel; a leading `@loftwatch` mentions the bot.
    ///
    /// # Errors
    /// A sentence for the person.
    pub fn say(&self, person: Id, channel: Id, text: &str) -> Result<Arc<Message>, String> {
        deeds::say(
            &self.hub,
            &Doer {
                person,
                channel,
                nonce: None,
            },
            text,
        )
    }

    /// Waits until a deferred answer has become a message; `None` after that long.
    pub async fn settled(&self, outcome: &Outcome, within: Duration) -> Option<Arc<Message>> {
        let started = Watch::start();
        let mut frames = self.subscribe();
        loop {
            if let Some(message) = self.original(outcome) {
                return Some(message);
            }
            let left = within.checked_sub(started.passed())?;
            // One that lags has missed frames, and looks again like any other.
            let heard = tokio::time::timeout(left, frames.recv()).await.ok()?;
            if matches!(heard, Err(broadcast::error::RecvError::Closed)) {
                return None;
            }
        }
    }

    /// The message that an interaction was answered with, as it stands now.
    pub fn original(&self, outcome: &Outcome) -> Option<Arc<Message>> {
        let chat = self.hub.chat();
        let original = chat.asking.get(outcome.interaction?)?.original?;
        chat.message(original).filter(|m| !m.loading).cloned()
    }

    /// The messages of a channel, oldest first; those for one person are among them.
    pub fn messages(&self, channel: Id) -> Vec<Arc<Message>> {
        let chat = self.hub.chat();
        chat.channels
            .get(&channel)
            .map(|c| c.messages().cloned().collect())
            .unwrap_or_default()
    }

    /// A message.
    pub fn message(&self, id: Id) -> Option<Arc<Message>> {
        self.hub.chat().message(id).cloned()
    }

    /// The registered commands, as the platform has them.
    pub fn commands(&self) -> Vec<Arc<Value>> {
        let chat = self.hub.chat();
        chat.register.seen_in(chat.guild)
    }

    /// Hears everything from now on: the same frames as the page.
    pub fn subscribe(&self) -> broadcast::Receiver<Arc<Frame>> {
        self.hub.subscribe()
    }

    /// Whether the bot is connected.
    pub fn bot_is_up(&self) -> bool {
        self.hub.is_up()
    }

    /// Waits until the bot is connected and has registered commands.
    pub async fn bot_ready(&self) {
        let mut changes = self.hub.changes();
        while !self.hub.is_up() || self.hub.chat().register.is_empty() {
            if changes.changed().await.is_err() {
                return;
            }
        }
    }

    /// Waits until the bot is not connected: for one that comes back by itself, while it is held off.
    pub async fn bot_gone(&self) {
        let mut changes = self.hub.changes();
        while self.hub.is_up() {
            if changes.changed().await.is_err() {
                return;
            }
        }
    }

    /// Tells every listener of the page something of the demo's own, such as its clock.
    pub fn announce(&self, what: Happening) {
        self.hub.happened(|| what);
    }

    /// A person where a message is.
    fn at(&self, person: Id, message: Id) -> Doer {
        let channel = self.message(message).map_or(Id(0), |m| m.channel);
        Doer {
            person,
            channel,
            nonce: None,
        }
    }
}

/// A form's fields, and who sends it where.
fn filled(person: Id, channel: Id, fields: &[(&str, &str)]) -> (Doer, Vec<(String, String)>) {
    let owned = |(id, text): &(&str, &str)| ((*id).to_owned(), (*text).to_owned());
    let doer = Doer {
        person,
        channel,
        nonce: None,
    };
    (doer, fields.iter().map(owned).collect())
}
