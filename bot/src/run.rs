//! Threads and runtimes around the step machines: one thread a desk, one for all requests, one for the
//! gateway. Decides how the program starts, waits and stops; everything else is decided by the parts.

use std::collections::{BTreeMap, BTreeSet};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;
use std::time::Duration;

use commands::ids::Guild;
use store::StoreError;
use tokio::sync::Notify;
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};

use crate::clock::{self, Ages, Clock, Moment};
use crate::config::{Exit, Settings};
use crate::courier::{self, Parcel};
use crate::desk::{Desk, Input, Output, fail};
use crate::gateway::{self, Ears, Router};
use crate::http::{Fault, Http};
use crate::inbox::{Inbox, TAKEN_MAX};
use crate::register::Catalogue;

/// Address space, not memory: only what is touched counts. The chat library's decoder needs over half a
/// mebibyte in a debug build.
const STACK_BYTES: usize = 2 << 20;
/// A file that cannot be used is tried again after this long.
const REOPEN_AFTER: Duration = Duration::from_secs(30);
/// When stopping, answers on their way are waited for this long.
const DRAIN: Duration = Duration::from_secs(3);
/// The gateway's thread is waited for this long.
const GOODBYE: Duration = Duration::from_millis(1_500);
/// Tries of the chat service's address at start.
const ADDRESS_TRIES: u32 = 4;

/// Asks a running bot to stop. Clones ask the same one.
#[derive(Clone, Default)]
pub struct Stop(Arc<Bell>);

#[derive(Default)]
struct Bell {
    asked: Mutex<bool>,
    bell: Condvar,
}

impl Stop {
    /// Asks to stop.
    pub fn ask(&self) {
        *locked(&self.0.asked) = true;
        self.0.bell.notify_all();
    }

    /// Waits until somebody asks.
    pub fn wait(&self) {
        let waiting = |asked: &mut bool| !*asked;
        let asked = self.0.bell.wait_while(locked(&self.0.asked), waiting);
        drop(asked.unwrap_or_else(PoisonError::into_inner));
    }

    /// Asks when the operating system does (SIGTERM, SIGINT).
    ///
    /// # Errors
    /// When no thread can be had.
    pub fn at_signals(&self) -> std::io::Result<()> {
        let stop = self.clone();
        thread("signals", move || {
            let runtime = tokio::runtime::Builder::new_current_thread()
                .enable_io()
                .build()?;
            runtime.block_on(async {
                use tokio::signal::unix::{SignalKind, signal};
                let mut terminate = signal(SignalKind::terminate())?;
                let mut interrupt = signal(SignalKind::interrupt())?;
                tokio::select! { _ = terminate.recv() => {} _ = interrupt.recv() => {} }
                std::io::Result::Ok(())
            })?;
            tracing::info!("asked to stop");
            stop.ask();
            std::io::Result::Ok(())
        })
        .map(drop)
    }
}

/// How far the program has come, for whoever waits for it.
pub struct Status {
    inner: Mutex<Progress>,
    bell: Condvar,
    stop: Stop,
}

#[derive(Default)]
struct Progress {
    connected: bool,
    expected: BTreeSet<Guild>,
    registered: BTreeSet<Guild>,
    desks: BTreeSet<Guild>,
    failed: BTreeSet<Guild>,
    ended: Option<Exit>,
}

impl Status {
    fn new(stop: Stop) -> Arc<Self> {
        Arc::new(Self {
            inner: Mutex::default(),
            bell: Condvar::new(),
            stop,
        })
    }

    /// The gateway has let us in; these guilds are served.
    pub fn connected(&self, guilds: impl Iterator<Item = Guild>) {
        let mut inner = locked(&self.inner);
        inner.connected = true;
        inner.expected = guilds.collect();
        self.bell.notify_all();
    }

    fn registered(&self, guild: Guild) {
        locked(&self.inner).registered.insert(guild);
        self.bell.notify_all();
    }

    /// The program ends with this code; the first one counts.
    fn end(&self, exit: Exit) {
        locked(&self.inner).ended.get_or_insert(exit);
        self.bell.notify_all();
        self.stop.ask();
    }

    fn desk(&self, guild: Guild, works: bool) {
        let mut inner = locked(&self.inner);
        inner.desks.insert(guild);
        if works {
            inner.failed.remove(&guild);
        } else {
            inner.failed.insert(guild);
        }
        let none_left = inner.failed.len() == inner.desks.len();
        drop(inner);
        if none_left {
            self.end(Exit::Files);
        }
    }

    fn ready(&self, within: Duration) -> Result<(), Exit> {
        let not_yet = |inner: &mut Progress| {
            let all = inner.connected && inner.expected.is_subset(&inner.registered);
            inner.ended.is_none() && !all
        };
        let waited = self
            .bell
            .wait_timeout_while(locked(&self.inner), within, not_yet);
        let (inner, timeout) = waited.unwrap_or_else(PoisonError::into_inner);
        match inner.ended {
            Some(exit) => Err(exit),
            None if timeout.timed_out() => Err(Exit::Unreachable),
            None => Ok(()),
        }
    }
}

/// A bot at work. Dropping it does not stop it; [`Running::stop`] does.
pub struct Running {
    status: Arc<Status>,
    stop: Stop,
    router: Arc<Router>,
    crew: Arc<Crew>,
    gateway_stop: Arc<Notify>,
    courier_stop: Arc<Notify>,
    courier: JoinHandle<()>,
    gateway: Arc<Mutex<Option<JoinHandle<()>>>>,
}

/// Why a bot could not start.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// A thread, a runtime or the data folder.
    #[error("{0}: {1}")]
    System(&'static str, std::io::Error),
    /// The token.
    #[error("the token holds characters that no token has")]
    Token,
}

/// Starts the bot and returns at once; it connects, opens files and serves on threads of its own.
///
/// # Errors
/// [`StartError`] when not even that is possible. What goes wrong later ends it with an [`Exit`].
pub fn run(settings: Settings, clock: Arc<dyn Clock>, stop: Stop) -> Result<Running, StartError> {
    make_folder(&settings.data).map_err(|fault| StartError::System("the data folder", fault))?;
    let http = Http::new(&settings.service, &settings.token).map_err(|_| StartError::Token)?;
    let http = Arc::new(http);
    let status = Status::new(stop.clone());
    let (parcels, taken) = unbounded_channel();
    let crew = Arc::new(Crew {
        folder: settings.data.clone(),
        catalogue: Catalogue::of_table(),
        clock: clock.clone(),
        courier: parcels.clone(),
        status: status.clone(),
        threads: Mutex::default(),
    });
    let router = Arc::new(Router {
        desks: Mutex::new(BTreeMap::new()),
        courier: parcels,
        hire: {
            let crew = crew.clone();
            Box::new(move |guild| crew.hire(guild))
        },
        settings,
    });
    // Reminders and escalations do not wait for the gateway.
    for guild in files(&router.settings.data) {
        if router.settings.serves(guild) {
            router.open(guild);
        }
    }
    let (gateway_stop, courier_stop) = (Arc::new(Notify::new()), Arc::new(Notify::new()));
    let gateway = Arc::new(Mutex::new(None));
    let ears = Ears {
        router: router.clone(),
        pulse: Arc::default(),
        clock,
        status: status.clone(),
        http: http.clone(),
        ages: Mutex::new(Ages::default()),
    };
    let listening = Listening {
        status: status.clone(),
        stop: gateway_stop.clone(),
        thread: gateway.clone(),
    };
    let courier = {
        let stop = courier_stop.clone();
        thread("requests", move || {
            requests(http, taken, ears, listening, stop)
        })
        .map_err(|fault| StartError::System("a thread", fault))?
    };
    Ok(Running {
        status,
        stop,
        router,
        crew,
        gateway_stop,
        courier_stop,
        courier,
        gateway,
    })
}

impl Running {
    /// Waits until the bot is connected and its commands are registered.
    ///
    /// # Errors
    /// Why it ended, or [`Exit::Unreachable`] when it took longer than `within`.
    pub fn ready(&self, within: Duration) -> Result<(), Exit> {
        self.status.ready(within)
    }

    /// Serves until somebody asks to stop or something ends it, then stops.
    pub fn wait(self) -> Exit {
        self.stop.wait();
        self.stop()
    }

    /// Takes no more requests, finishes those that wait, gives their answers and closes the files.
    pub fn stop(self) -> Exit {
        self.gateway_stop.notify_one();
        let inboxes: Vec<_> = locked(&self.router.desks).values().cloned().collect();
        inboxes.iter().for_each(|inbox| inbox.close());
        let desks = std::mem::take(&mut *locked(&self.crew.threads));
        for desk in desks {
            if desk.join().is_err() {
                tracing::error!("a desk had failed");
            }
        }
        self.courier_stop.notify_one();
        if self.courier.join().is_err() {
            tracing::error!("the requests' thread had failed");
        }
        leave(&self.gateway);
        self.stop.ask();
        locked(&self.status.inner).ended.unwrap_or(Exit::Stopped)
    }
}

/// Waits a little for the library to say goodbye; a frozen one is left behind.
fn leave(gateway: &Mutex<Option<JoinHandle<()>>>) {
    let Some(gateway) = locked(gateway).take() else {
        return;
    };
    let until = clock::mono() + GOODBYE;
    while !gateway.is_finished() && clock::mono() < until {
        std::thread::sleep(Duration::from_millis(5));
    }
    if !gateway.is_finished() {
        tracing::warn!("the gateway did not let go in time");
    }
}

/// What the gateway's thread is started with and known by.
struct Listening {
    status: Arc<Status>,
    stop: Arc<Notify>,
    thread: Arc<Mutex<Option<JoinHandle<()>>>>,
}

/// The requests' thread: carries them, and watches the gateway from outside its runtime.
fn requests(
    http: Arc<Http>,
    parcels: UnboundedReceiver<Parcel>,
    ears: Ears,
    listening: Listening,
    stop: Arc<Notify>,
) {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build();
    let Ok(runtime) = runtime else {
        tracing::error!("no runtime for requests");
        listening.status.end(Exit::Trouble);
        return;
    };
    runtime.block_on(async move {
        tokio::spawn(listen_and_watch(http.clone(), ears, listening));
        courier::carry(http, parcels, stop).await;
    });
}

async fn listen_and_watch(http: Arc<Http>, ears: Ears, listening: Listening) {
    let Listening {
        status,
        stop,
        thread: known,
    } = listening;
    let pulse = ears.pulse.clone();
    let address = match find_gateway(&http).await {
        Ok(address) => address,
        Err(exit) => return status.end(exit),
    };
    let ended = status.clone();
    let listen = move || ended.end_unless_stopped(gateway::listen(ears, address, stop));
    match thread("gateway", listen) {
        Ok(gateway) => *locked(&known) = Some(gateway),
        Err(_fault) => return status.end(Exit::Trouble),
    }
    pulse.watch().await;
    status.end(Exit::Silent);
}

impl Status {
    fn end_unless_stopped(&self, exit: Exit) {
        if exit != Exit::Stopped {
            self.end(exit);
        }
    }
}

/// Where the gateway is, asked by ourselves: the library would fall back to the public one.
async fn find_gateway(http: &Http) -> Result<String, Exit> {
    let mut tries = 0;
    loop {
        tries += 1;
        match http.gateway().await {
            Ok(address) => return Ok(address),
            Err(fault @ Fault::Status { status: 401, .. }) => {
                tracing::error!(%fault, "the token was refused");
                return Err(Exit::Refused);
            }
            Err(fault) if tries >= ADDRESS_TRIES => {
                tracing::error!(%fault, "giving up");
                return Err(Exit::Unreachable);
            }
            Err(fault) => {
                tracing::warn!(%fault, "trying again");
                tokio::time::sleep(Duration::from_millis(250 << tries)).await;
            }
        }
    }
}

/// Those who work at desks.
struct Crew {
    folder: std::path::PathBuf,
    catalogue: Arc<Catalogue>,
    clock: Arc<dyn Clock>,
    courier: UnboundedSender<Parcel>,
    status: Arc<Status>,
    threads: Mutex<Vec<JoinHandle<()>>>,
}

impl Crew {
    /// Opens a desk on a thread of its own.
    fn hire(self: &Arc<Self>, guild: Guild) -> Option<Arc<Inbox>> {
        let inbox = Arc::new(Inbox::default());
        let bell = Arc::downgrade(&inbox);
        self.clock.subscribe(Box::new(move || {
            if let Some(inbox) = bell.upgrade() {
                inbox.ring();
            }
        }));
        let (crew, at) = (self.clone(), inbox.clone());
        let work = move || {
            let worked = catch_unwind(AssertUnwindSafe(|| crew.work(guild, &at)));
            if worked.is_err() {
                // Better a restart, which reads everything back, than a facility that nobody serves.
                tracing::error!(guild = guild.0, "a desk failed");
                crew.status.end(Exit::Trouble);
            }
        };
        match thread(&format!("desk-{guild}"), work) {
            Ok(thread) => locked(&self.threads).push(thread),
            Err(fault) => {
                tracing::error!(%fault, guild = guild.0, "no thread for a desk");
                return None;
            }
        }
        Some(inbox)
    }

    fn work(&self, guild: Guild, inbox: &Arc<Inbox>) {
        let Some(mut desk) = self.open(guild, inbox) else {
            return;
        };
        self.status.desk(guild, true);
        let mut inputs = Vec::with_capacity(TAKEN_MAX);
        let mut wait = Duration::ZERO;
        let mut closed = false;
        while !closed {
            closed = inbox.take(wait, &mut inputs);
            let now = clock::moment(&*self.clock);
            self.step(&mut desk, &mut inputs, inbox, now);
            wait = self.wait(&desk, now);
        }
        self.drain(&mut desk, inbox);
        desk.stop(clock::moment(&*self.clock));
        self.clock.armed(guild, None);
    }

    fn step(&self, desk: &mut Desk, inputs: &mut Vec<Input>, inbox: &Arc<Inbox>, now: Moment) {
        let outputs = desk.step(std::mem::take(inputs), now);
        for output in &outputs {
            if matches!(output, Output::Registered) {
                self.status.registered(desk.guild());
            }
        }
        if !outputs.is_empty() {
            // It only fails when the courier has gone, with the program.
            let _ = self.courier.send(Parcel {
                inbox: Some(inbox.clone()),
                outputs,
            });
        }
        self.clock.armed(desk.guild(), desk.next_due(now));
    }

    fn wait(&self, desk: &Desk, now: Moment) -> Duration {
        let due = [desk.next_due(now), desk.next_alive()]
            .into_iter()
            .flatten()
            .min();
        let due = due.map_or(Duration::MAX, |at| self.clock.real_until(at));
        let tries = desk
            .next_try()
            .map_or(Duration::MAX, |at| at.saturating_sub(clock::mono()));
        due.min(tries)
    }

    /// Waits a little for the answers that are on their way.
    fn drain(&self, desk: &mut Desk, inbox: &Arc<Inbox>) {
        let until = clock::mono() + DRAIN;
        let mut inputs = Vec::new();
        while desk.waits() && clock::mono() < until {
            std::thread::sleep(Duration::from_millis(5));
            inbox.take(Duration::ZERO, &mut inputs);
            let now = clock::moment(&*self.clock);
            self.step(desk, &mut inputs, inbox, now);
        }
    }

    /// Opens the facility's file, however long it takes; until then people are told that it does not work.
    fn open(&self, guild: Guild, inbox: &Arc<Inbox>) -> Option<Desk> {
        loop {
            let now = clock::moment(&*self.clock);
            match Desk::open(&self.folder, guild, self.catalogue.clone(), now) {
                Ok(desk) => return Some(desk),
                Err(fault) => {
                    tracing::error!(guild = guild.0, %fault, "a facility's file cannot be used");
                    if matches!(fault, StoreError::Locked { .. }) {
                        self.status.end(Exit::Busy);
                    }
                    self.status.desk(guild, false);
                }
            }
            let until = clock::mono() + REOPEN_AFTER;
            let mut inputs = Vec::new();
            while clock::mono() < until {
                let closed = inbox.take(until.saturating_sub(clock::mono()), &mut inputs);
                let heard = inputs.drain(..).filter_map(|input| match input {
                    Input::Heard(heard) => fail(&heard, "bot-nothing-recorded"),
                    Input::Fetched { .. } | Input::Came { .. } | Input::Joined { .. } => None,
                });
                let outputs: Vec<Output> = heard.collect();
                let _ = self.courier.send(Parcel {
                    inbox: None,
                    outputs,
                });
                if closed {
                    return None;
                }
            }
        }
    }
}

/// The guilds whose files are in the folder.
pub fn files(folder: &Path) -> Vec<Guild> {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Vec::new();
    };
    let names = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let mut guilds: Vec<Guild> = names
        .filter_map(|name| name.strip_suffix(".loft")?.parse().ok().map(Guild))
        .collect();
    guilds.sort_unstable();
    guilds
}

/// The folder, which only its owner may look into.
fn make_folder(folder: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    std::fs::DirBuilder::new()
        .recursive(true)
        .mode(0o700)
        .create(folder)
}

fn thread<T: Send + 'static>(
    name: &str,
    work: impl FnOnce() -> T + Send + 'static,
) -> std::io::Result<JoinHandle<T>> {
    std::thread::Builder::new()
        .name(name.to_owned())
        .stack_size(STACK_BYTES)
        .spawn(work)
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
