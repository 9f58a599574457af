//! The demo as a whole: the data folder, the home, the guild, and the real bot in the same process. Decides the order
//! in which they start and stop, and what whoever started it reads. The bot is handed the demo's clock; apart from that
//! it has the settings that it would have anywhere, and talks to the guild only over the protocol.

use std::collections::BTreeSet;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Duration;

use anyhow::{Context, bail};
use bot::{Exit, Running, Settings, Stop};
use chrono::{DateTime, Utc};
use clap::Parser;
use store::Store;

use crate::dial::DemoClock;
use crate::guild::{Guild, Options};
use crate::home::{self, Home};
use crate::rates::Limits;

/// The port when no other is wished for.
pub const PORT: u16 = 8060;
/// How long the bot may take to connect and register its commands.
const READY_WITHIN: Duration = Duration::from_secs(30);
/// What the store keeps in the folder, by the endings of its names. Nothing else is removed.
const OURS: [&str; 4] = ["loft", "loft-wal", "loft-shm", "lock"];

/// An invented care home's team chat on this computer, with loftwatch at work in it.
#[derive(Clone, Debug, Parser)]
#[command(name = "loftwatch-demo")]
pub struct Wishes {
    /// The folder that the home is kept in, for its owner only.
    #[arg(long, default_value = "demo-data")]
    pub data: PathBuf,
    /// Start over: forget what was done in the demo.
    #[arg(long)]
    pub fresh: bool,
    /// The port on this computer; a free one is taken when it is in use, or for 0.
    #[arg(long, default_value_t = PORT)]
    pub port: u16,
    /// Serve no page, for tests and for programs that talk to the guild.
    #[arg(long)]
    pub headless: bool,
}

/// A demo at work.
pub struct Show {
    /// The guild, to act in it.
    pub guild: Guild,
    /// The clock, to turn it.
    pub clock: DemoClock,
    bot: Running,
    // The guild is served from it; dropped last.
    runtime: tokio::runtime::Runtime,
}

/// Shows the demo until it is asked to stop.
///
/// # Errors
/// What kept it from starting, in a sentence.
pub fn run(wishes: &Wishes) -> anyhow::Result<ExitCode> {
    let stop = Stop::default();
    stop.at_signals().context("no thread for signals")?;
    let home = folder(wishes)?;
    let show = Show::start(wishes, home.now, stop.clone())?;
    let url = show.guild.url();
    if wishes.headless {
        println!("The guild is at {url}, without a page.");
    } else {
        println!("Open {url} in a browser.");
    }
    println!("To stop, press Ctrl-C here.");
    stop.wait();
    let exit = show.stop();
    if exit != Exit::Stopped {
        eprintln!("The bot ended by itself ({exit:?}).");
    }
    Ok(exit.into())
}

/// Prepares the folder and says what was kept or made.
///
/// # Errors
/// The folder or its file cannot be used.
pub fn folder(wishes: &Wishes) -> anyhow::Result<Home> {
    let shown = wishes.data.display();
    if wishes.fresh && forget(&wishes.data)? {
        println!("What was in {shown} is forgotten.");
    }
    let start = home::demo_start(home::demo_day()?)?;
    let mut store = Store::open(&wishes.data, home::guild())?;
    let home = home::prepare(&mut store, start, home::DEMO_SEED)
        .with_context(|| format!("the home in {shown} could not be prepared"))?;
    let records = home.records;
    if home.kept {
        println!("The home in {shown} was kept ({records} entries). --fresh starts over.");
    } else {
        let days = home::HISTORY_DAYS;
        println!("A new home is in {shown}, with {days} days behind it ({records} entries).");
    }
    Ok(home)
}

impl Show {
    /// Serves the guild and starts the bot; ready when it has registered its commands.
    ///
    /// # Errors
    /// No port is free, or the bot does not start.
    pub fn start(wishes: &Wishes, now: DateTime<Utc>, stop: Stop) -> anyhow::Result<Self> {
        let clock = DemoClock::running_from(now);
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            .enable_all()
            .build()
            .context("no runtime for the guild")?;
        let guild = runtime.block_on(serve(wishes, &clock))?;
        let guilds = Some(BTreeSet::from([home::guild()]));
        let settings = Settings::new(&guild.token(), &guild.url(), wishes.data.clone(), guilds)?;
        let bot = bot::run(settings, clock.clock(), stop)?;
        let show = Self {
            guild,
            clock,
            bot,
            runtime,
        };
        match show.bot.ready(READY_WITHIN) {
            Ok(()) => Ok(show),
            Err(why) => {
                show.stop();
                bail!("the bot did not become ready ({why:?})");
            }
        }
    }

    /// Stops the bot, so that it finishes what it does, then the guild.
    pub fn stop(self) -> Exit {
        let exit = self.bot.stop();
        self.guild.shutdown();
        self.runtime.shutdown_timeout(Duration::from_secs(1));
        exit
    }
}

/// Serves on the wished port, or on a free one when that is in use.
async fn serve(wishes: &Wishes, clock: &DemoClock) -> anyhow::Result<Guild> {
    let options = |port| Options {
        port,
        limits: Limits::published(),
        clock: clock.dial(),
        page: !wishes.headless,
    };
    match Guild::serve(home::layout(), options(wishes.port)).await {
        Ok(guild) => Ok(guild),
        Err(fault) if in_use(&fault) => {
            println!("Port {} is in use; another one is taken.", wishes.port);
            Guild::serve(home::layout(), options(0)).await
        }
        Err(fault) => Err(fault),
    }
}

fn in_use(fault: &anyhow::Error) -> bool {
    fault.downcast_ref::<std::io::Error>().is_some_and(|fault| {
        matches!(
            fault.kind(),
            ErrorKind::AddrInUse | ErrorKind::PermissionDenied
        )
    })
}

/// Removes the home's files from the folder, and nothing else; whether there were any.
fn forget(folder: &Path) -> anyhow::Result<bool> {
    // Opened first: a home that another demo has open is not pulled from under it.
    if !folder.join(format!("{}.loft", home::guild())).exists() {
        return Ok(false);
    }
    let store = Store::open(folder, home::guild())?;
    for ending in OURS {
        let file = folder.join(format!("{}.{ending}", home::guild()));
        match fs::remove_file(&file) {
            Err(fault) if fault.kind() != ErrorKind::NotFound => {
                return Err(fault).with_context(|| format!("{} stays", file.display()));
            }
            Ok(()) | Err(_) => {}
        }
    }
    drop(store);
    Ok(true)
}

#[cfg(test)]
mod tests {
    use chrono::TimeDelta;

    use super::*;
    use crate::clock::Dial;

    fn wishes(folder: &tempfile::TempDir) -> Wishes {
        Wishes {
            data: folder.path().join("data"),
            fresh: false,
            port: 0,
            headless: true,
        }
    }

    /// What stands in a channel once `enough` holds, or after ten seconds whatever is there.
    fn texts(show: &Show, channel: &str, enough: impl Fn(&[String]) -> bool) -> Vec<String> {
        show.runtime.block_on(async {
            for _ in 0..100 {
                let texts = said(show, channel);
                if enough(&texts) {
                    return texts;
                }
                tokio::time::sleep(Duration::from_millis(100)).await;
            }
            said(show, channel)
        })
    }

    fn said(show: &Show, channel: &str) -> Vec<String> {
        let messages = show.guild.messages(show.guild.channel(channel));
        messages
            .into_iter()
            .map(|message| message.content.clone())
            .collect()
    }

    #[test]
    fn the_real_bot_works_in_the_home_and_time_goes_on_after_a_stop() {
        let folder = tempfile::tempdir().unwrap();
        let wishes = wishes(&folder);
        let home = super::folder(&wishes).unwrap();
        let show = Show::start(&wishes, home.now, Stop::default()).unwrap();

        let (ana, elm) = (show.guild.person("Ana"), show.guild.channel("elm"));
        let asked = show.guild.command(ana, elm, "due", &[]);
        let outcome = show.runtime.block_on(asked);
        assert!(outcome.text().contains("LW-06"), "{outcome:?}");

        // At 06:59 somebody is asked for the recheck; at 07:00 the unit reads its shift card.
        let seven = home.now + TimeDelta::minutes(8);
        show.runtime.block_on(show.clock.step_to(seven));
        let texts = texts(&show, "elm", |texts| texts.len() >= 2);
        assert!(texts.len() >= 2, "{texts:?}");
        assert!(texts.iter().any(|text| text.contains("LW-04")), "{texts:?}");

        assert_eq!(show.stop(), Exit::Stopped);
        let again = super::folder(&wishes).unwrap();
        assert!(again.kept && again.now >= seven, "{again:?}");
        assert!(again.records > home.records);

        let show = Show::start(&wishes, again.now, Stop::default()).unwrap();
        assert!(Dial::now(&show.clock) >= seven);
        assert_eq!(show.stop(), Exit::Stopped);

        let fresh = Wishes {
            fresh: true,
            ..wishes
        };
        let new = super::folder(&fresh).unwrap();
        assert_eq!(
            (new.kept, new.now, new.records),
            (false, home.now, home.records)
        );
    }

    #[test]
    fn a_port_in_use_is_left_to_whoever_has_it() {
        let folder = tempfile::tempdir().unwrap();
        let taken = std::net::TcpListener::bind(("127.0.0.1", 0)).unwrap();
        let port = taken.local_addr().unwrap().port();
        let wishes = Wishes {
            port,
            ..wishes(&folder)
        };
        let home = super::folder(&wishes).unwrap();
        let show = Show::start(&wishes, home.now, Stop::default()).unwrap();
        assert!(!show.guild.url().ends_with(&format!(":{port}")));
        show.stop();
    }

    #[test]
    fn starting_over_removes_nothing_that_is_not_ours() {
        let folder = tempfile::tempdir().unwrap();
        let data = folder.path().to_owned();
        let home = home::guild();
        drop(Store::open(&data, home).unwrap());
        std::fs::write(data.join("letter.txt"), "dear").unwrap();
        std::fs::write(data.join("1.loft"), "another home's").unwrap();
        assert!(forget(&data).unwrap());
        assert!(data.join("letter.txt").exists() && data.join("1.loft").exists());
        assert!(!data.join(format!("{home}.loft")).exists());
        assert!(!forget(&data).unwrap());
    }
}
