//! The chat library's gateway, on a thread and runtime of its own. Decides which desk an event belongs
//! to and answers politely what belongs to none; nothing else in the program touches the chat library's
//! client. It can freeze its runtime or hang for ever, which is why a probe of ours watches it from
//! another one.

#![expect(
    clippy::wildcard_enum_match_arm,
    reason = "the chat library's lists are not ours and grow"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicBool, AtomicU32, AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use commands::decision::Lane;
use commands::ids::{ChatRole, Guild};
use commands::words;
use serenity::Client;
use serenity::all::{
    ChunkGuildFilter, ClientBuilder, Context, Event, GatewayIntents, GuildId, RawEventHandler,
    ShardMessenger, UserId,
};
use serenity::http::HttpBuilder;
use tokio::sync::Notify;
use tokio::sync::mpsc::UnboundedSender;

use crate::clock::{self, Ages, Clock};
use crate::config::{Exit, Settings};
use crate::counters::Counters;
use crate::courier::Parcel;
use crate::desk::{Input, Output, Tag, fail};
use crate::event::Heard;
use crate::inbox::Inbox;
use crate::pace::Own;
use crate::request::{Body, Request, Route};
use crate::status::Status;
use crate::threads::locked;
use crate::wire::{hear, write};

/// An interaction that arrives older than this can hardly be answered in time: it is not acted on.
pub const AGE_MAX: Duration = Duration::from_millis(2_500);
/// A gateway that said nothing for this long is asked for a sign of life.
const SILENT_AFTER: Duration = Duration::from_secs(20);
/// How long an answer to that may take.
const PROBE_ANSWERED_WITHIN: Duration = Duration::from_secs(10);
/// Probes without an answer after which the connection counts as dead: at most 45 s after its last word, which is sooner than the
/// chat library ends its own spinning on a socket that died.
const PROBES_UNANSWERED_MAX: u32 = 2;
/// How often it is looked at.
const LOOK_EVERY: Duration = Duration::from_secs(5);
/// How long the first connection may take.
const CONNECT_WITHIN: Duration = Duration::from_secs(60);
const HTTP_TIMEOUT: Duration = Duration::from_secs(10);
const PROBE_NONCE: &str = "loftwatch-probe";

/// Where a desk's letter box is, and who opens desks.
pub struct Router {
    /// Who is served.
    pub settings: Settings,
    /// Where desks are.
    pub desks: Mutex<Desks>,
    /// For what is answered in no desk's name.
    pub courier: UnboundedSender<Parcel>,
    /// What is counted.
    pub counters: Arc<Counters>,
    /// Opens a desk and returns its letter box.
    pub hire: Box<dyn Fn(Guild) -> Option<Arc<Inbox>> + Send + Sync>,
}

/// The desks that there are.
#[derive(Default)]
pub struct Desks {
    /// Letter boxes by guild.
    pub boxes: BTreeMap<Guild, Arc<Inbox>>,
    /// No more are opened: the program stops, and nobody would tell them so.
    closed: bool,
}

impl Router {
    /// The letter box of a guild's desk.
    pub fn inbox(&self, guild: Guild) -> Option<Arc<Inbox>> {
        locked(&self.desks).boxes.get(&guild).cloned()
    }

    /// The letter box of a guild that is served, opening its desk if need be; nothing once desks are closed.
    pub fn open(&self, guild: Guild) -> Option<Arc<Inbox>> {
        let mut desks = locked(&self.desks);
        if desks.closed {
            return None;
        }
        if let Some(inbox) = desks.boxes.get(&guild) {
            return Some(inbox.clone());
        }
        let inbox = (self.hire)(guild)?;
        desks.boxes.insert(guild, inbox.clone());
        Some(inbox)
    }

    /// Closes every letter box, and opens no desk any more.
    pub fn close(&self) {
        let mut desks = locked(&self.desks);
        desks.closed = true;
        desks.boxes.values().for_each(|inbox| inbox.close());
    }

    fn hand(&self, guild: Option<Guild>, heard: Heard) {
        let refused = match guild {
            None => Some((heard, "bot-no-direct")),
            Some(guild) => match self.inbox(guild) {
                None => Some((heard, "bot-not-here")),
                Some(inbox) => inbox
                    .offer(heard)
                    .err()
                    .map(|heard| (heard, "bot-too-busy")),
            },
        };
        if let Some((heard, key)) = refused {
            tracing::warn!(key, "a request was turned away");
            self.counters.turned_away();
            self.ask(fail(&heard, key));
        }
    }

    fn ask(&self, output: Option<Output>) {
        let outputs: Vec<Output> = output.into_iter().collect();
        if !outputs.is_empty() {
            // It only fails when the program is stopping.
            let _ = self.courier.send(Parcel {
                inbox: None,
                outputs,
            });
        }
    }
}

/// Signs of life of the gateway, read from another runtime.
#[derive(Default)]
pub struct Pulse {
    shard: Mutex<Option<ShardMessenger>>,
    /// Steady milliseconds of the last event.
    last_ms: AtomicU64,
    unanswered: AtomicU32,
    connected: AtomicBool,
    us: AtomicU64,
    app: AtomicU64,
    here: Mutex<Here>,
}

/// The guilds that answer: those we serve and are in, as long as the chat has them. One that is left, or that is not to be had for
/// a while, says nothing to a probe, and its silence would count as the connection's.
#[derive(Default)]
struct Here {
    guilds: BTreeSet<Guild>,
    asked: Option<Guild>,
}

impl Here {
    /// Whom to ask: another one each time, so that one that fails without a word is not taken for all of them.
    fn next(&mut self) -> Option<Guild> {
        let mut guilds = self.guilds.iter();
        let after = guilds.find(|guild| Some(**guild) > self.asked);
        self.asked = after.or(self.guilds.first()).copied();
        self.asked
    }
}

impl Pulse {
    /// Watches until the gateway is dead.
    pub async fn watch(&self) {
        let until = clock::mono() + CONNECT_WITHIN;
        while !self.connected.load(Ordering::Relaxed) {
            if clock::mono() >= until {
                tracing::error!("the gateway did not let us in within a minute");
                return;
            }
            tokio::time::sleep(LOOK_EVERY).await;
        }
        let mut wait = LOOK_EVERY;
        loop {
            tokio::time::sleep(wait).await;
            wait = LOOK_EVERY;
            let last = Duration::from_millis(self.last_ms.load(Ordering::Relaxed));
            if clock::mono().saturating_sub(last) < SILENT_AFTER {
                continue;
            }
            if self.unanswered.fetch_add(1, Ordering::Relaxed) >= PROBES_UNANSWERED_MAX {
                tracing::error!("the gateway has gone silent");
                return;
            }
            self.probe();
            wait = PROBE_ANSWERED_WITHIN;
        }
    }

    /// What is not well with the connection.
    pub(crate) fn wrong(&self) -> Option<&'static str> {
        if !self.connected.load(Ordering::Relaxed) {
            Some("the gateway has not let us in yet")
        } else if self.unanswered.load(Ordering::Relaxed) >= PROBES_UNANSWERED_MAX {
            Some("the gateway is silent")
        } else {
            None
        }
    }

    fn probe(&self) {
        let us = self.us.load(Ordering::Relaxed);
        let guild = locked(&self.here).next();
        let shard = locked(&self.shard);
        match (shard.as_ref(), guild) {
            (Some(shard), Some(guild)) if us != 0 => {
                let ourselves = ChunkGuildFilter::UserIds(vec![UserId::new(us)]);
                let nonce = Some(PROBE_NONCE.to_owned());
                shard.chunk_guild(GuildId::new(guild.0), None, false, ourselves, nonce);
            }
            // In no guild there is nothing to ask for, and nothing to miss.
            _ => self.unanswered.store(0, Ordering::Relaxed),
        }
    }

    fn seen(&self) {
        self.last_ms
            .store(clock::mono().as_millis() as u64, Ordering::Relaxed);
        self.unanswered.store(0, Ordering::Relaxed);
    }
}

/// Listens until told to stop or until the library gives up. Blocks the thread it is called on.
/// `address` is where the gateway is, as the service said when asked by ourselves.
pub fn listen(ears: Ears, address: String, stop: Arc<Notify>) -> Exit {
    let runtime = match tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
    {
        Ok(runtime) => runtime,
        Err(fault) => {
            tracing::error!(%fault, "no runtime for the gateway");
            return Exit::Trouble;
        }
    };
    runtime.block_on(async move {
        let mut client = match client(ears, address).await {
            Ok(client) => client,
            Err(exit) => return exit,
        };
        let shards = client.shard_manager.clone();
        tokio::select! {
            ended = client.start() => match ended {
                Ok(()) => Exit::Trouble,
                Err(fault) => refused(&fault),
            },
            () = stop.notified() => {
                // The library waits for the other side to say goodbye; we do not wait long for it.
                let _ = tokio::time::timeout(Duration::from_secs(1), shards.shutdown_all()).await;
                Exit::Stopped
            }
        }
    })
}

async fn client(ears: Ears, address: String) -> Result<Client, Exit> {
    let settings = &ears.router.settings;
    let web = reqwest::Client::builder()
        .timeout(HTTP_TIMEOUT)
        .connect_timeout(HTTP_TIMEOUT)
        .build()
        .map_err(|_fault| Exit::Trouble)?;
    let http = HttpBuilder::new(settings.token.expose())
        .client(web)
        .proxy(settings.service.base())
        .ratelimiter_disabled(true)
        .build();
    let intents = GatewayIntents::GUILDS | GatewayIntents::GUILD_MESSAGES;
    let client = ClientBuilder::new_with_http(http, intents)
        .raw_event_handler(ears)
        .await;
    let client = client.map_err(|fault| refused(&fault))?;
    // The library falls back to the public gateway when it cannot ask; ours has been asked.
    *client.ws_url.lock().await = address;
    Ok(client)
}

/// What the library's end means. Its errors are not logged: they hold addresses.
fn refused(fault: &serenity::Error) -> Exit {
    match fault {
        serenity::Error::Gateway(_) => {
            tracing::error!("the gateway refused the token or the intents");
            Exit::Refused
        }
        _ => {
            tracing::error!("the chat library gave up");
            Exit::Trouble
        }
    }
}

fn not_in(guild: Guild) {
    tracing::warn!(guild = guild.0, "the bot is not in a guild that is named");
}

/// What hears the gateway's events.
pub struct Ears {
    /// Where they go.
    pub router: Arc<Router>,
    /// Signs of life.
    pub pulse: Arc<Pulse>,
    /// Facility time.
    pub clock: Arc<dyn Clock>,
    /// Who waits for us to be ready.
    pub status: Arc<Status>,
    /// How often the library connected anew.
    pub own: Mutex<Own>,
    /// Told who we are.
    pub http: Arc<crate::http::Http>,
    /// How late things arrive.
    pub ages: Mutex<Ages>,
}

#[serenity::async_trait]
impl RawEventHandler for Ears {
    async fn raw_event(&self, context: Context, event: Event) {
        self.pulse.seen();
        self.hear(&context, event);
    }
}

impl Ears {
    fn hear(&self, context: &Context, event: Event) {
        match event {
            Event::InteractionCreate(event) => self.interaction(event.interaction),
            Event::MessageCreate(event) => self.message(event.message),
            Event::GuildCreate(event) => {
                let roles = event.guild.roles.keys();
                let roles = roles.map(|role| ChatRole(role.get())).collect();
                self.guild(Guild(event.guild.id.get()), roles);
            }
            Event::GuildDelete(event) => {
                let guild = Guild(event.guild.id.get());
                locked(&self.pulse.here).guilds.remove(&guild);
                // One that is not to be had for a while is told of in the same words, and is left by nobody.
                if !event.guild.unavailable && self.status.left(guild) {
                    not_in(guild);
                }
            }
            Event::GuildRoleCreate(event) => {
                let role = ChatRole(event.role.id.get());
                self.told(event.role.guild_id, Input::RoleMade(role));
            }
            Event::GuildRoleDelete(event) => {
                let role = ChatRole(event.role_id.get());
                self.told(event.guild_id, Input::RoleGone(role));
            }
            Event::Ready(event) => {
                let ready = event.ready;
                let anew = self.pulse.connected.load(Ordering::Relaxed);
                if anew && locked(&self.own).too_many(clock::mono()) {
                    tracing::error!("the gateway ends one connection after the other");
                    self.status.end(Exit::Unreachable);
                    return;
                }
                self.router.counters.connected();
                self.connected(context);
                self.pulse.us.store(ready.user.id.get(), Ordering::Relaxed);
                self.pulse
                    .app
                    .store(ready.application.id.get(), Ordering::Relaxed);
                self.http.set_app(ready.application.id.get());
                // A new session is told of each guild anew.
                locked(&self.pulse.here).guilds.clear();
                let guilds = ready.guilds.iter().map(|guild| Guild(guild.id.get()));
                let served = guilds.filter(|guild| self.router.settings.serves(*guild));
                let absent = self.status.connected(served);
                tracing::info!(guilds = ready.guilds.len(), "connected");
                absent.into_iter().for_each(not_in);
            }
            Event::Resumed(_) => self.connected(context),
            Event::Unknown(event) => {
                let count = self.router.counters.unread();
                tracing::warn!(kind = event.kind, count, "an event could not be read");
                if event.kind == "INTERACTION_CREATE" {
                    self.unread(&event.value);
                }
            }
            _ => {}
        }
    }

    fn connected(&self, context: &Context) {
        self.pulse.connected.store(true, Ordering::Relaxed);
        *locked(&self.pulse.shard) = Some(context.shard.clone());
    }

    fn age(&self, id: u64, now: Duration) -> Duration {
        locked(&self.ages).age(id, now)
    }

    fn interaction(&self, from: serenity::all::Interaction) {
        let now = clock::mono();
        let age = self.age(from.id().get(), now);
        if age > AGE_MAX {
            self.router.counters.late();
            tracing::warn!(
                age_ms = age.as_millis(),
                "an interaction arrived too late to be acted on"
            );
            return;
        }
        let act_by = now + (AGE_MAX - age);
        if let Some((guild, heard)) = hear::interaction(from, self.clock.now(), act_by) {
            self.router.hand(guild, heard);
        }
    }

    fn message(&self, message: serenity::all::Message) {
        self.age(message.id.get(), clock::mono());
        let us = self.pulse.us.load(Ordering::Relaxed);
        if let Some((guild, heard)) = hear::mention(message, us, self.clock.now(), Duration::MAX) {
            self.router.hand(Some(guild), heard);
        }
    }

    /// A desk that is open hears of it.
    fn told(&self, guild: GuildId, input: Input) {
        if let Some(inbox) = self.router.inbox(Guild(guild.get())) {
            inbox.tell(input);
        }
    }

    fn guild(&self, guild: Guild, roles: BTreeSet<ChatRole>) {
        self.status.joined(guild);
        if !self.router.settings.serves(guild) {
            if self.has_file(guild) {
                tracing::warn!(
                    guild = guild.0,
                    "a guild whose home's file is in the data folder is not on the list, so it is neither served nor left"
                );
                return;
            }
            tracing::warn!(guild = guild.0, "leaving a guild that is not on the list");
            let route = Route::Leave { guild: guild.0 };
            let request = Request {
                route,
                body: Body::Empty,
                lane: Lane::Routine,
            };
            self.router.ask(Some(Output::Send {
                tag: Tag::Nothing,
                request,
            }));
            return;
        }
        locked(&self.pulse.here).guilds.insert(guild);
        if let Some(inbox) = self.router.open(guild) {
            let (app, us) = (&self.pulse.app, &self.pulse.us);
            inbox.tell(Input::Joined {
                app: app.load(Ordering::Relaxed),
                us: us.load(Ordering::Relaxed),
                roles,
            });
        }
    }

    /// Whether there is a file of the guild's home, or that cannot be seen. Leaving is for guilds that are nobody's: one that has a
    /// home is most likely missing from the settings by mistake, and its people would have to invite the bot again.
    fn has_file(&self, guild: Guild) -> bool {
        let file = self.router.settings.data.join(format!("{guild}.loft"));
        let about = std::fs::symlink_metadata(file);
        about.map_or_else(|why| why.kind() != std::io::ErrorKind::NotFound, |_| true)
    }

    /// Somebody waits for an answer to something the chat library could not read.
    fn unread(&self, value: &serde_json::Value) {
        let Some((interaction, token, lang)) = hear::unread(value) else {
            return;
        };
        let body = write::callback_text(&words::say(lang, "bot-unreadable", &[]));
        let route = Route::Callback { interaction, token };
        let request = Request {
            route,
            body,
            lane: Lane::Reminder,
        };
        self.router.ask(Some(Output::Send {
            tag: Tag::Nothing,
            request,
        }));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A desk that is opened while the program stops would have a letter box that nobody closes, and the stop would wait for it for
    /// ever.
    #[test]
    fn once_desks_are_closed_none_is_opened() {
        let folder = std::path::PathBuf::new();
        let settings = Settings::new("t", "http://127.0.0.1:1", folder, None).unwrap();
        let (courier, _parcels) = tokio::sync::mpsc::unbounded_channel();
        let router = Router {
            settings,
            desks: Mutex::default(),
            courier,
            counters: Arc::default(),
            hire: Box::new(|_| Some(Arc::default())),
        };
        let inbox = router.open(Guild(7)).unwrap();
        assert!(!inbox.take(Duration::ZERO, &mut Vec::new()));
        router.close();
        assert!(inbox.take(Duration::ZERO, &mut Vec::new()), "it is closed");
        assert!(router.open(Guild(7)).is_none() && router.open(Guild(8)).is_none());
        assert!(router.inbox(Guild(8)).is_none());
    }

    #[test]
    fn every_guild_that_is_here_is_asked_in_turn_and_no_other_is() {
        let mut here = Here::default();
        assert_eq!(here.next(), None);
        here.guilds = [7, 8, 9].map(Guild).into();
        let asked: Vec<_> = (0..4).map(|_| here.next().unwrap().0).collect();
        assert_eq!(asked, [7, 8, 9, 7]);
        here.guilds.remove(&Guild(8));
        assert_eq!(here.next(), Some(Guild(9)));
        here.guilds.remove(&Guild(9));
        assert_eq!((here.next(), here.next()), (Some(Guild(7)), Some(Guild(7))));
        here.guilds.clear();
        assert_eq!(here.next(), None);
    }
}
