//! The whole of it: a served guild with a conversation's people and channels in it, the bot connected to it, and the
//! clock. Decides how a step is done with the guild's people, and when all that follows from it has come.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use anyhow::{Context, Result, anyhow, bail, ensure};
use bot::clock::mono;
use bot::{Running, Settings, Stop};
use chrono::{DateTime, TimeDelta, Utc};
use commands::Said;
use commands::ids::{Channel, ChatRole, Guild as Facility, Person};
use commands::rules::zone::Zone;
use commands::said::{Picked, Value};
use commands::words::Lang;
use demo_guild::{
    ChannelSpec, Frame, Guild, Happening, Id, Kind, Layout, Options, Outcome, PersonSpec, RoleSpec,
};
use futures_util::future::join_all;
use serde_json::{Value as Json, json};
use store::Store;
use tempfile::TempDir;
use tokio::runtime::Handle;
use tokio::sync::broadcast::Receiver;

use super::clock::Watched;
use super::mirror;
use super::used::Used;
use crate::talk::act;
use crate::talk::cast::Cast;
use crate::talk::chat::{Chat, Noticed, What};
use crate::talk::disk::{self, Disk};
use crate::talk::script::Step;
use crate::talk::stage::{Kept, Scene, Stage, Thing};
use crate::talk::world::{home_zone, private, scratch};

const GUILD: u64 = 77;
/// What is expected has come by then, or it never will.
const PATIENCE: Duration = Duration::from_secs(12);
/// More moments than this between two steps mean that something stays due.
const MOMENTS_MAX: usize = 200_000;
const MINUTE: TimeDelta = TimeDelta::minutes(1);

/// The stage.
pub struct House {
    /// What was used so far.
    pub used: Used,
    cast: Cast,
    chat: Chat,
    kept: BTreeMap<String, Kept>,
    unanswered: Vec<Person>,
    /// What no phone would have sent in this step, in the phone's words.
    unsendable: RefCell<Vec<String>>,
    /// The zone that the home was set up in.
    zone: Zone,
    runtime: Handle,
    guild: Guild,
    frames: Receiver<Arc<Frame>>,
    /// Messages that are the answer to what somebody did in this step.
    answers: Vec<u64>,
    /// Who wrote the messages that are not the bot's.
    written: BTreeMap<u64, u64>,
    clock: Watched,
    bot: Option<Running>,
    root: TempDir,
    folder: PathBuf,
    folders: usize,
    /// Every minute is visited, because the file's note of when the program was last there is going to matter.
    minutely: bool,
}

impl House {
    /// Serves a guild with these people and channels at that moment, and connects the bot to it.
    ///
    /// # Errors
    /// When that is not possible.
    pub fn open(runtime: Handle, cast: &Cast, at: DateTime<Utc>, minutely: bool) -> Result<Self> {
        let clock = Watched::stopped_at(at);
        let options = Options {
            clock: clock.dial(),
            ..Options::headless()
        };
        let guild = runtime.block_on(Guild::serve(layout(cast), options))?;
        let root = scratch()?;
        let folder = root.path().join("0");
        private(&folder)?;
        let mut channels = Cast::default();
        for (name, _) in cast.channels() {
            channels.channel(name);
        }
        let mut house = Self {
            used: Used::default(),
            cast: channels,
            chat: Chat::default(),
            kept: BTreeMap::new(),
            unanswered: Vec::new(),
            unsendable: RefCell::default(),
            zone: home_zone(),
            runtime,
            frames: guild.subscribe(),
            guild,
            answers: Vec::new(),
            written: BTreeMap::new(),
            clock,
            bot: None,
            root,
            folder,
            folders: 1,
            minutely,
        };
        Stage::start(&mut house)?;
        Ok(house)
    }

    /// What the chat read so far is forgotten: the conversation begins.
    pub fn begin(&mut self) {
        self.chat.messages.clear();
    }

    /// Stops the bot; then its file must hold together, no answer be owed, and nothing more have come.
    ///
    /// # Errors
    /// What is wrong.
    pub fn close(mut self) -> Result<Used> {
        if self.bot.is_some() {
            Stage::stop(&mut self)?;
        }
        self.look();
        let left = std::mem::take(&mut self.chat.noticed);
        ensure!(left.is_empty(), "after the last step there came: {left:?}");
        let store = Store::open(&self.folder, Facility(GUILD))?;
        store
            .verify()
            .map_err(|trouble| anyhow!("the file does not hold together: {trouble:?}"))?;
        let owed = store.owing()?.answers;
        ensure!(owed.is_empty(), "answers are owed: {owed:?}");
        self.guild.shutdown();
        Ok(self.used)
    }

    /// Takes in what has happened in the guild.
    fn look(&mut self) {
        use tokio::sync::broadcast::error::TryRecvError;
        loop {
            match self.frames.try_recv() {
                Ok(frame) => self.happened(&frame),
                Err(TryRecvError::Empty | TryRecvError::Closed) => return,
                Err(TryRecvError::Lagged(missed)) => panic!("{missed} happenings were missed"),
            }
        }
    }

    fn happened(&mut self, frame: &Frame) {
        match &frame.what {
            Happening::Message { message } if message.author.bot => {
                self.used.show(message.id.0, &mirror::seen(message));
                let written = &self.written;
                mirror::wrote(&mut self.chat, message, |id| written.get(&id).copied());
            }
            Happening::Message { message } => {
                self.written.insert(message.id.0, message.author.id.0);
            }
            Happening::Edit { message } => {
                self.used.show(message.id.0, &mirror::seen(message));
                let answer = self.answers.iter().position(|id| *id == message.id.0);
                if let Some(place) = answer {
                    self.answers.remove(place);
                }
                mirror::rewrote(&mut self.chat, message, answer.is_some());
            }
            Happening::Gone { id, .. } => self.chat.messages.retain(|one| one.id != id.0),
            // Forms and suggestions are read off what came of what somebody did.
            Happening::Form { .. }
            | Happening::Choices { .. }
            | Happening::Done { .. }
            | Happening::Waiting { .. }
            | Happening::Failed { .. }
            | Happening::Commands { .. }
            | Happening::Clock { .. }
            | Happening::Bot { .. } => {}
        }
    }

    /// Waits until something happens in the guild; `false` when nothing did in time.
    fn wait(&mut self, limit: Duration) -> bool {
        let next = self
            .runtime
            .block_on(async { tokio::time::timeout(limit, self.frames.recv()).await });
        match next {
            Ok(Ok(frame)) => {
                self.happened(&frame);
                true
            }
            Ok(Err(why)) => panic!("the guild is not heard any more: {why}"),
            Err(_late) => false,
        }
    }

    /// What came of something that a person did.
    fn came(&mut self, thing: &Thing, outcome: &Outcome) -> Result<()> {
        if let Some(why) = &outcome.failed {
            let silent = why.contains("did not answer") || why.contains("is not connected");
            ensure!(silent, "{}: {why}", self.cast.name(thing.who.0));
            self.unanswered.push(thing.who);
            return Ok(());
        }
        self.used.by(&thing.said);
        let Some(answer) = &outcome.answered else {
            return Ok(());
        };
        let at = self.now();
        match answer.kind {
            Kind::Form => {
                let form = answer.form.as_ref().context("a form")?;
                self.used.show_form(&form.custom_id);
                mirror::opened(&mut self.chat, thing.who.0, thing.on, form, at);
            }
            Kind::Choices => {
                let text = |value: &Json| value.as_str().map_or(value.to_string(), str::to_owned);
                let list = answer.choices.iter();
                let list = list.map(|one| (one.name.clone(), text(&one.value)));
                let what = What::Offered(thing.who.0, list.collect());
                self.chat.noticed.push(Noticed { at, what });
            }
            Kind::Update => self.answers.extend(thing.on),
            Kind::Message | Kind::Deferred => {}
        }
        Ok(())
    }

    /// A command's option as a phone sends it.
    fn option(&self, value: &Value) -> Result<Json> {
        Ok(match value {
            Value::Text(text) => json!(text),
            Value::Whole(number) => json!(number),
            Value::Flag(flag) => json!(flag),
            Value::Role(role) => json!(role.0.to_string()),
            // It has the guild's own number.
            Value::Everybody => json!(self.guild.guild_id().to_string()),
            Value::Channel(channel) => json!(channel.0.to_string()),
            Value::Person(Picked::Member { who, .. } | Picked::Outside(who)) => {
                json!(who.0.to_string())
            }
            Value::Person(Picked::Program(_)) => json!(self.guild.bot_id().to_string()),
            Value::File(file) => {
                // One that no step of the conversation wrote is one that the chat has lost.
                let bytes = self.cast.files.get(&file.name);
                json!({"name": file.name, "bytes": bytes.map_or(&[][..], Vec::as_slice),
                    "lost": bytes.is_none()})
            }
        })
    }

    /// Whether this button or menu is on the message now.
    fn shows(&self, message: u64, id: &str) -> bool {
        let one = self.guild.message(Id(message));
        one.is_some_and(|one| mirror::seen(&one).ids().iter().any(|there| there == id))
    }

    async fn deed(&self, thing: &Thing) -> Result<Option<Outcome>> {
        let guild = &self.guild;
        let (who, channel) = (Id(thing.who.0), Id(thing.channel.0));
        let all = |options: &commands::said::Options| -> Result<Vec<(String, Json)>> {
            let one = |(name, value): (&String, &Value)| Ok((name.clone(), self.option(value)?));
            options.iter().map(one).collect()
        };
        Ok(Some(match &thing.said {
            Said::Command { path, options } => {
                let options = all(options)?;
                let outcome = guild.command(who, channel, path, &named(&options)).await;
                // No phone sends it. What the bot says to it nevertheless is part of the conversation.
                if outcome.interaction.is_none() && guild.bot_is_up() {
                    let why = outcome.failed.unwrap_or_default();
                    self.unsendable.borrow_mut().push(why);
                    guild
                        .command_unchecked(who, channel, path, &named(&options))
                        .await
                } else {
                    outcome
                }
            }
            Said::Completing {
                path,
                options,
                focused,
            } => {
                let options = all(options)?;
                guild
                    .completing(who, channel, path, &named(&options), focused)
                    .await
            }
            Said::Tap { id, chosen } => {
                let on = thing.on.context("a tap is on a message")?;
                let values: Vec<&str> = chosen.iter().map(String::as_str).collect();
                match (self.shows(on, id), values.is_empty()) {
                    (true, true) => guild.tap(who, Id(on), id).await,
                    (true, false) => guild.choose(who, Id(on), id, &values).await,
                    (false, true) => guild.act_on_old(who, Id(on), id, None).await,
                    (false, false) => guild.act_on_old(who, Id(on), id, Some(&values)).await,
                }
            }
            Said::Form { id, fields } => {
                let fields: Vec<(&str, &str)> = fields
                    .iter()
                    .map(|(id, text)| (id.as_str(), text.as_str()))
                    .collect();
                guild.submit(who, channel, id, &fields).await
            }
            Said::Mention { text, .. } => {
                guild
                    .say(who, channel, &format!("@loftwatch {text}"))
                    .map_err(anyhow::Error::msg)?;
                return Ok(None);
            }
            Said::Fetched { .. } => bail!("nobody does that"),
        }))
    }

    fn database(&self) -> PathBuf {
        database(&self.folder)
    }
}

impl Stage for House {
    fn scene(&mut self) -> Scene<'_> {
        Scene {
            cast: &mut self.cast,
            chat: &mut self.chat,
            kept: &mut self.kept,
        }
    }

    fn now(&self) -> DateTime<Utc> {
        self.clock.dial().now()
    }

    fn zone(&self) -> Zone {
        self.zone.clone()
    }

    fn pass_to(&mut self, until: DateTime<Utc>) -> Result<()> {
        ensure!(until >= self.now(), "time does not pass backwards");
        for _moment in 0..MOMENTS_MAX {
            if self.bot.is_some() {
                self.clock.rest()?;
            }
            self.look();
            let minute = (self.minutely && self.bot.is_some()).then(|| self.now() + MINUTE);
            let next = [self.clock.next(), minute].into_iter().flatten().min();
            let now = self.now();
            let to = next.map_or(until, |next| next.max(now).min(until));
            self.runtime.block_on(self.clock.dial().step_to(to));
            if self.now() >= until && next.is_none_or(|next| next > until) {
                return Ok(());
            }
        }
        bail!("something stays due at {}", self.now())
    }

    fn hear(&mut self, things: &[Thing]) -> Result<()> {
        self.look();
        for thing in things {
            if let Some(on) = thing.on {
                self.used.aim(on, &thing.said);
            }
        }
        let outcomes = self
            .runtime
            .block_on(join_all(things.iter().map(|thing| self.deed(thing))));
        self.used.unsendable.append(self.unsendable.get_mut());
        for (thing, outcome) in things.iter().zip(outcomes) {
            match outcome? {
                Some(outcome) => self.came(thing, &outcome)?,
                None => self.used.by(&thing.said),
            }
        }
        Ok(())
    }

    fn cast_changed(&mut self) -> Result<()> {
        for member in self.cast.people() {
            let roles: Vec<Id> = member.roles.iter().map(|role| Id(role.0)).collect();
            self.guild.set_roles(Id(member.id.0), &roles);
            self.guild.set_manages(Id(member.id.0), member.manages);
            self.guild.set_locale(Id(member.id.0), locale(member.lang));
        }
        Ok(())
    }

    fn role_deleted(&mut self, role: ChatRole) -> Result<()> {
        self.guild.delete_role(Id(role.0));
        Ok(())
    }

    fn stop(&mut self) -> Result<()> {
        let bot = self.bot.take().context("it does not run")?;
        let exit = bot.stop();
        ensure!(exit == bot::Exit::Stopped, "it ended with {exit:?}");
        self.runtime.block_on(async {
            tokio::time::timeout(PATIENCE, self.guild.bot_gone())
                .await
                .context("the bot has stopped and is still connected")
        })
    }

    fn start(&mut self) -> Result<()> {
        let settings = Settings::new(
            &self.guild.token(),
            &self.guild.url(),
            self.folder.clone(),
            Some([Facility(GUILD)].into()),
        )?;
        let running = bot::run(settings, self.clock.clock(), Stop::default())?;
        running
            .ready(PATIENCE)
            .map_err(|exit| anyhow!("it did not get ready: {exit:?}"))?;
        self.bot = Some(running);
        Ok(())
    }

    /// What is on disk at this moment is all that the program finds afterwards. That of before ends in its own time:
    /// a conversation cuts the power between two steps, when nothing is on its way.
    fn cut_power(&mut self) -> Result<()> {
        let folder = self.root.path().join(self.folders.to_string());
        self.folders += 1;
        private(&folder)?;
        disk::survives(&self.database(), &folder, None)?;
        self.stop()?;
        self.folder = folder;
        Ok(())
    }

    fn disk_becomes(&mut self, disk: Disk) -> Result<()> {
        disk::becomes(&self.database(), disk)
    }

    fn settle(&mut self, step: &Step, timed: bool) -> Result<()> {
        let mut wanted = act::blocks(&step.follows);
        wanted.retain(|block| !block.ends_with("gets no answer"));
        wanted.sort();
        let until = mono() + PATIENCE;
        loop {
            self.look();
            let mut seen: Vec<String> = act::noticed(self, timed)
                .iter()
                .map(|lines| act::block(lines))
                .collect();
            seen.sort();
            let left = until.saturating_sub(mono());
            if seen == wanted || left.is_zero() || !self.wait(left) {
                break;
            }
        }
        if self.bot.is_some() {
            self.clock.rest()?;
        }
        self.look();
        self.answers.clear();
        Ok(())
    }

    fn unanswered(&mut self) -> Vec<Person> {
        std::mem::take(&mut self.unanswered)
    }
}

/// A client's locale.
const fn locale(lang: Lang) -> &'static str {
    match lang {
        Lang::English => "en-US",
        Lang::Spanish => "es-419",
    }
}

/// A cast as a guild to serve, under the same numbers.
fn layout(cast: &Cast) -> Layout {
    let role_name = |id| {
        Cast::roles()
            .find(|(_, role)| *role == id)
            .map(|(name, _)| name)
    };
    Layout {
        guild: "The house".to_owned(),
        guild_id: Some(GUILD),
        zone: "America/Chicago".to_owned(),
        roles: Cast::roles()
            .map(|(name, id)| RoleSpec {
                name: name.to_owned(),
                id: Some(id.0),
            })
            .collect(),
        people: cast
            .people()
            .iter()
            .map(|member| PersonSpec {
                name: member.name.clone(),
                id: Some(member.id.0),
                job: String::new(),
                roles: member
                    .roles
                    .iter()
                    .filter_map(|id| role_name(*id))
                    .map(str::to_owned)
                    .collect(),
                locale: locale(member.lang).to_owned(),
                manage_guild: member.manages,
            })
            .collect(),
        channels: cast
            .channels()
            .map(|(name, Channel(id))| ChannelSpec {
                name: name.to_owned(),
                id: Some(id),
                readers: None,
                bot: true,
            })
            .collect(),
        phones: Vec::new(),
    }
}

fn named(options: &[(String, Json)]) -> Vec<(&str, Json)> {
    options
        .iter()
        .map(|(name, value)| (name.as_str(), value.clone()))
        .collect()
}

fn database(folder: &Path) -> PathBuf {
    folder.join(format!("{GUILD}.loft"))
}
