//! Threads and runtimes around the step machines: one thread a desk, one for all requests, one for the
//! gateway, one for backups where they are wished for. Decides how the program starts, waits and stops; everything else is decided by the parts.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::Duration;

use commands::ids::Guild;
use tokio::sync::Notify;
use tokio::sync::mpsc::{UnboundedReceiver, unbounded_channel};

use crate::clock::{self, Ages, Clock};
use crate::config::{Exit, Settings};
use crate::counters::Counters;
use crate::courier::{self, Parcel};
use crate::crew::Crew;
use crate::gateway::{self, Ears, Router};
use crate::health::Health;
use crate::http::{Fault, Gateway, Http};
use crate::keeper::Keeper;
use crate::pace::Left;
use crate::register::Catalogue;
use crate::status::{Status, Stop};
use crate::threads::{locked, thread};
use crate::watchdog;

/// The gateway's thread, and one at a backup, are waited for this long.
const GOODBYE: Duration = Duration::from_millis(1_500);
/// Tries of the gateway's address at start: half a minute.
const ADDRESS_TRIES: u32 = 7;
/// A token that was refused so often in a row is refused.
const REFUSED_TRIES: u32 = 3;

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
    keeper: Option<(Stop, JoinHandle<()>)>,
    watchdog: Option<(Stop, JoinHandle<()>)>,
}

/// Why a bot could not start.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// A thread or a runtime.
    #[error("{0}: {1}")]
    System(&'static str, std::io::Error),
    /// The data folder.
    #[error(
        "the data folder {0} cannot be used: {1}. Name a folder with --data or LOFTWATCH_DATA, one of this account's own on a disk of this computer"
    )]
    Folder(PathBuf, std::io::Error),
    /// The token.
    #[error("the token holds characters that no token has")]
    Token,
}

impl StartError {
    /// What the program ends with.
    pub fn exit(&self) -> Exit {
        match self {
            StartError::System(..) => Exit::Trouble,
            StartError::Folder(..) => Exit::Files,
            StartError::Token => Exit::Settings,
        }
    }
}

/// Starts the bot and returns at once; it connects, opens files and serves on threads of its own.
///
/// # Errors
/// [`StartError`] when not even that is possible. What goes wrong later ends it with an [`Exit`].
pub fn run(settings: Settings, clock: Arc<dyn Clock>, stop: Stop) -> Result<Running, StartError> {
    let mut homes = make_folder(&settings.data)
        .and_then(|()| homes_in(&settings.data))
        .map_err(|fault| StartError::Folder(settings.data.clone(), fault))?;
    let http = Http::new(&settings.service, &settings.token).map_err(|_| StartError::Token)?;
    let http = Arc::new(http);
    let status = Status::new(stop.clone());
    let counters = Arc::new(Counters::default());
    let (parcels, taken) = unbounded_channel();
    let crew = Arc::new(Crew {
        folder: settings.data.clone(),
        backups: settings.backups.as_ref().map(|kept| kept.folder.clone()),
        catalogue: Catalogue::of_table(),
        clock: clock.clone(),
        courier: parcels.clone(),
        status: status.clone(),
        counters: counters.clone(),
        threads: Mutex::default(),
    });
    let router = Arc::new(Router {
        desks: Mutex::default(),
        courier: parcels,
        counters,
        hire: {
            let crew = crew.clone();
            Box::new(move |guild| crew.hire(guild))
        },
        settings,
    });
    homes.retain(|guild| router.settings.serves(*guild));
    let named = router.settings.guilds.clone().unwrap_or_default();
    status.due(&homes, &named);
    // Reminders and escalations do not wait for the gateway.
    for guild in homes {
        router.open(guild);
    }
    let keeper = Keeper::start(&router, &status)
        .map_err(|fault| StartError::System("a thread for backups", fault))?;
    let (gateway_stop, courier_stop) = (Arc::new(Notify::new()), Arc::new(Notify::new()));
    let gateway = Arc::new(Mutex::new(None));
    let ears = Ears {
        router: router.clone(),
        pulse: Arc::default(),
        clock,
        status: status.clone(),
        http: http.clone(),
        own: Mutex::default(),
        ages: Mutex::new(Ages::default()),
    };
    let listening = Listening {
        status: status.clone(),
        stop: gateway_stop.clone(),
        thread: gateway.clone(),
    };
    let courier = {
        let stop = courier_stop.clone();
        let status = status.clone();
        thread("requests", move || {
            or_end(&status, || requests(http, taken, ears, listening, stop));
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
        keeper,
        watchdog: None,
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

    /// Tells the supervisor of services that the program is up, and that it is alive as often as `waited` asks for.
    ///
    /// # Errors
    /// When no thread can be had.
    pub fn watched(&mut self, waited: Option<Duration>) -> std::io::Result<()> {
        self.watchdog = watchdog::start(waited, &self.router, &self.status)?;
        Ok(())
    }

    /// Serves until somebody asks to stop or something ends it, then stops.
    pub fn wait(self) -> Exit {
        self.stop.wait();
        self.stop()
    }

    /// Takes no more requests, finishes those that wait, gives their answers and closes the files.
    pub fn stop(self) -> Exit {
        watchdog::stopping();
        if let Some((stop, watchdog)) = self.watchdog {
            stop.ask();
            if watchdog.join().is_err() {
                tracing::error!("the watchdog's thread had failed");
            }
        }
        self.gateway_stop.notify_one();
        // Before their threads are gathered: one that came later would be waited for by nobody, or for ever.
        self.router.close();
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
        if let Some((stop, keeper)) = self.keeper {
            stop.ask();
            if !left(&Mutex::new(Some(keeper))) {
                tracing::warn!("a backup was cut short, because the program stops");
            }
        }
        if !left(&self.gateway) {
            tracing::warn!("the gateway did not let go in time");
        }
        self.stop.ask();
        self.status.ended().unwrap_or(Exit::Stopped)
    }
}

/// Waits a little for a thread to come to its end; whether it did. A frozen one is left behind.
fn left(thread: &Mutex<Option<JoinHandle<()>>>) -> bool {
    let Some(thread) = locked(thread).take() else {
        return true;
    };
    let until = clock::mono() + GOODBYE;
    while !thread.is_finished() && clock::mono() < until {
        std::thread::sleep(Duration::from_millis(5));
    }
    thread.is_finished()
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
    let counters = ears.router.counters.clone();
    work_and_leave(runtime, async move {
        tokio::spawn(turn(listening.status.clone()));
        if let Some(at) = ears.router.settings.health {
            let health = Health {
                counters: counters.clone(),
                pulse: ears.pulse.clone(),
                status: listening.status.clone(),
            };
            tokio::spawn(Arc::new(health).serve(at));
        }
        let status = listening.status.clone();
        let listens = listen_and_watch(http.clone(), ears, listening);
        tokio::spawn(task_or_end(status, listens));
        courier::carry(http, counters, parcels, stop).await;
    });
}

/// Does the work of a thread, and ends the program where that fails: without the thread it would only seem to serve, and a restart
/// reads everything back.
pub(crate) fn or_end(status: &Status, work: impl FnOnce()) {
    if catch_unwind(AssertUnwindSafe(work)).is_err() {
        tracing::error!("a thread failed");
        status.end(Exit::Trouble);
    }
}

/// The same for a task, of which the runtime would keep to itself that it failed.
async fn task_or_end(status: Arc<Status>, work: impl Future<Output = ()> + Send + 'static) {
    if tokio::spawn(work).await.is_err_and(|end| end.is_panic()) {
        tracing::error!("a task failed");
        status.end(Exit::Trouble);
    }
}

/// Does the work, and waits for nothing that it left behind. A name is looked up by a thread of the runtime's that no one can call
/// back, for as long as the computer's resolver tries, which may be half a minute where the network is gone; the stop would wait for
/// it, and systemd ends for good what has not stopped in twenty seconds.
fn work_and_leave(runtime: tokio::runtime::Runtime, work: impl Future<Output = ()>) {
    runtime.block_on(work);
    runtime.shutdown_background();
}

/// Shows, when it is asked, that this runtime is not stuck.
async fn turn(status: Arc<Status>) {
    loop {
        status.turn().await;
    }
}

async fn listen_and_watch(http: Arc<Http>, ears: Ears, listening: Listening) {
    let Listening {
        status,
        stop,
        thread: known,
    } = listening;
    let pulse = ears.pulse.clone();
    let Gateway { address, left } = match find_gateway(&http).await {
        Ok(gateway) => gateway,
        Err(exit) => return status.end(exit),
    };
    let wait = left.map(Left::wait).unwrap_or_default();
    if !wait.is_zero() {
        let seconds = wait.as_secs();
        tracing::warn!(
            seconds,
            "few new connections are left today, so this one waits"
        );
        tokio::time::sleep(wait).await;
    }
    let ended = status.clone();
    let listen = move || {
        or_end(&ended, || {
            ended.end_unless_stopped(gateway::listen(ears, address, stop));
        });
    };
    match thread("gateway", listen) {
        Ok(gateway) => *locked(&known) = Some(gateway),
        Err(_fault) => return status.end(Exit::Trouble),
    }
    pulse.watch().await;
    status.end(Exit::Silent);
}

/// Where the gateway is, asked by ourselves: the library would fall back to the public one.
async fn find_gateway(http: &Http) -> Result<Gateway, Exit> {
    let (mut tries, mut refused) = (0, 0);
    loop {
        tries += 1;
        let fault = match http.gateway().await {
            Ok(gateway) => return Ok(gateway),
            Err(fault) => fault,
        };
        // Once it may be somebody else's answer, on the way.
        let is_refused = matches!(fault, Fault::Status { status: 401, .. });
        refused = if is_refused { refused + 1 } else { 0 };
        if refused >= REFUSED_TRIES {
            tracing::error!(%fault, "the token was refused");
            return Err(Exit::Refused);
        }
        if tries >= ADDRESS_TRIES {
            tracing::error!(%fault, "the chat service did not say where its gateway is; giving up");
            return Err(Exit::Unreachable);
        }
        tracing::warn!(%fault, "the chat service did not say where its gateway is; trying again");
        tokio::time::sleep(Duration::from_millis(250 << tries)).await;
    }
}

/// The guilds whose files are in the folder, as far as it can be read.
pub fn files(folder: &Path) -> Vec<Guild> {
    homes_in(folder).unwrap_or_default()
}

/// The guilds whose files are in the folder.
///
/// # Errors
/// The folder cannot be read: nobody knows then whether there are any.
pub(crate) fn homes_in(folder: &Path) -> std::io::Result<Vec<Guild>> {
    let mut guilds = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        let name = entry?.file_name();
        let guild = name.to_str().and_then(|name| name.strip_suffix(".loft"));
        guilds.extend(guild.and_then(|guild| guild.parse().ok()).map(Guild));
    }
    guilds.sort_unstable();
    Ok(guilds)
}

/// The folder, which only its owner may look into.
fn make_folder(folder: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    std::fs::DirBuilder::new()
        .recursive(true)
        .mode(0o700)
        .create(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fails() {
        panic!("as it must never")
    }

    #[test]
    fn what_fails_in_a_thread_or_a_task_ends_the_program() {
        let status = Status::new(Stop::default());
        or_end(&status, || {});
        assert_eq!(status.ended(), None);
        or_end(&status, fails);
        assert_eq!(status.ended(), Some(Exit::Trouble));
        let runtime = tokio::runtime::Builder::new_current_thread();
        let runtime = { runtime }.build().unwrap();
        let status = Status::new(Stop::default());
        runtime.block_on(task_or_end(status.clone(), async {}));
        assert_eq!(status.ended(), None);
        runtime.block_on(task_or_end(status.clone(), async { fails() }));
        assert_eq!(status.ended(), Some(Exit::Trouble));
    }

    #[test]
    fn a_name_that_is_still_looked_up_holds_up_no_stop() {
        let runtime = tokio::runtime::Builder::new_current_thread();
        let runtime = { runtime }.build().unwrap();
        let (found, looked_up) = std::sync::mpsc::channel::<()>();
        let (ends, ended) = std::sync::mpsc::channel();
        work_and_leave(runtime, async {
            let (begins, begun) = tokio::sync::oneshot::channel();
            drop(tokio::task::spawn_blocking(move || {
                begins.send(()).unwrap();
                // Not for ever: a test that waits for it is to fail.
                looked_up.recv_timeout(Duration::from_secs(20)).ok();
                ends.send(()).unwrap();
            }));
            begun.await.unwrap();
        });
        assert!(ended.try_recv().is_err(), "it was waited for");
        drop(found);
        ended.recv().unwrap();
    }
}
