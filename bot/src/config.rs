//! The only reader of the environment and of flags. Decides what the program is told and refuses what
//! cannot be meant; everything else is set up in chat.

use std::collections::BTreeSet;
use std::ffi::{OsStr, OsString};
use std::fmt;
use std::io::Read;
use std::net::{IpAddr, SocketAddr};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Duration;

use chrono::TimeDelta;
use clap::builder::{TypedValueParser, ValueParserFactory};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::parser::ValueSource;
use clap::{Arg, Args, Parser, Subcommand};
use commands::ids::Guild;
use hyper::Uri;

/// The public chat service.
const PUBLIC: &str = "https://discord.com";
/// Where the facilities' files are if nothing is said.
const DATA: &str = "loftwatch-data";
/// From one backup to the next, and how many are kept, if nothing is said.
const HOURS: u32 = 24;
const KEEP: u32 = 14;
/// A token is far shorter.
const TOKEN_BYTES_MAX: u64 = 4_096;

/// Why the program ended. The numbers are a promise to whoever supervises it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Exit {
    /// It was asked to stop and has finished its work.
    Stopped = 0,
    /// Something that has no number of its own.
    Trouble = 1,
    /// The settings make no sense. Starting again does not help.
    Settings = 2,
    /// A facility's file cannot be used. Starting again does not help.
    Files = 3,
    /// Another loftwatch holds the folder. Starting again does not help.
    Busy = 4,
    /// The token or the intents were refused. Starting again does not help.
    Refused = 5,
    /// The chat service cannot be reached. Start again later.
    Unreachable = 6,
    /// The connection to the chat had gone silent. Start again.
    Silent = 7,
    /// `verify`, `check`, `backup` or `restore` found a file that is not whole; `run` ends with `Files`. Starting again does not help.
    Damaged = 8,
}

impl Exit {
    /// The one of two that says more, where several things are wrong. What is lost or cannot be used comes before what somebody
    /// mends in a setting, and that before what may be over when it is tried again: a supervisor of services must not start
    /// again and again what does not heal by itself.
    pub fn worse(self, other: Exit) -> Exit {
        if other.badness() > self.badness() {
            other
        } else {
            self
        }
    }

    fn badness(self) -> u8 {
        match self {
            Exit::Stopped => 0,
            Exit::Trouble => 1,
            Exit::Silent => 2,
            Exit::Unreachable => 3,
            Exit::Busy => 4,
            Exit::Refused => 5,
            Exit::Settings => 6,
            Exit::Files => 7,
            Exit::Damaged => 8,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        ExitCode::from(exit as u8)
    }
}

/// A team-chat assistant for a care home that owns its powered air mattresses.
#[derive(Debug, Parser)]
#[command(name = "loftwatch", version)]
#[command(
    after_help = "Exit codes: 0 stopped, 1 trouble, 2 settings, 3 files, 4 already running, \
    5 token refused, 6 chat service unreachable, 7 connection gone silent, \
    8 a file is damaged, 101 a mistake in loftwatch. \
    Only 1, 6, 7 and 101 are worth starting again for."
)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// With what.
    #[command(flatten)]
    pub told: Told,
}

/// What to do.
#[derive(Clone, Debug, Subcommand)]
pub enum Command {
    /// Serve the facilities until asked to stop.
    Run,
    /// Look at settings, the chat service, files and zone rules, and say what is wrong.
    Check,
    /// Read every facility's file from end to end and say whether it is whole.
    Verify {
        /// Say the hash of the record with this number too, to compare it with the seal of a report.
        #[arg(long, value_parser = number)]
        record: Option<u64>,
        /// Read this one file instead, for example a backup.
        file: Option<PathBuf>,
    },
    /// Copy every facility's file, also while the bot runs; each copy is read back and verified.
    Backup {
        /// The folder for the copies; the one of `--backup-folder` if none is said.
        folder: Option<PathBuf>,
    },
    /// Put a backup in the place of its facility's file. The bot must be stopped; the file that was there is kept.
    Restore {
        /// The backup.
        file: PathBuf,
    },
    /// List every file of a facility, in the data folder and among the backups; with --sure, remove them for good.
    Erase {
        /// The facility's guild, by number.
        #[arg(value_parser = number)]
        guild: u64,
        /// The same number once more: only then is anything removed. The bot must be stopped.
        #[arg(long, value_name = "GUILD", value_parser = number)]
        sure: Option<u64>,
    },
}

/// The settings as they were told.
#[derive(Args)]
pub struct Told {
    /// The bot's token, out of the environment.
    #[arg(skip)]
    token: Option<OsString>,
    /// Taken only to be refused in words of our own: the library's would show it once more.
    #[arg(long = "token", global = true, hide = true, num_args = 0..=1)]
    typed: Option<Option<OsString>>,
    /// A file that holds the token; only its owner may read it. Or the token stands in LOFTWATCH_TOKEN.
    #[arg(long, env = "LOFTWATCH_TOKEN_FILE", global = true)]
    token_file: Option<Said>,
    /// The address of the chat service; the public one if none is said.
    #[arg(long, env = "LOFTWATCH_CHAT_URL", global = true)]
    chat_url: Option<Said>,
    /// The folder with the facilities' files.
    #[arg(long, env = "LOFTWATCH_DATA", global = true, default_value = DATA)]
    data: Option<Said>,
    /// The guilds that are served, with commas between. On the public service they must be said.
    #[arg(long, env = "LOFTWATCH_GUILDS", global = true)]
    guilds: Vec<Said>,
    /// Where a watcher on this computer is told whether all is well, such as 127.0.0.1:9464; nowhere if nothing is said.
    #[arg(long, env = "LOFTWATCH_HEALTH", global = true)]
    health: Option<Said>,
    /// The folder that the running bot copies every facility's file to; without one it makes no backups.
    #[arg(long, env = "LOFTWATCH_BACKUPS", global = true)]
    backup_folder: Option<Said>,
    /// Hours from one backup to the next, 1 to 168; 24 if nothing is said.
    #[arg(long, env = "LOFTWATCH_BACKUP_HOURS", global = true)]
    backup_hours: Option<Said>,
    /// How many backups of each facility are kept, 1 to 1000, the oldest go first; 14 if nothing is said.
    #[arg(long, env = "LOFTWATCH_BACKUP_KEEP", global = true)]
    backup_keep: Option<Said>,
}

/// A setting as somebody wrote it. The library takes every text, so that what is not used is not judged and what is wrong is
/// said in words of our own, by the name that it was written with.
#[derive(Clone)]
struct Said {
    name: String,
    text: OsString,
    typed: bool,
}

impl Said {
    /// The setting, unless it is an empty line of the settings' file, which is one that was left out.
    fn there<'a>(
        said: Option<&'a Said>,
        example: &'static str,
    ) -> Result<Option<&'a Said>, Senseless> {
        match said {
            Some(said) if said.text.to_string_lossy().trim().is_empty() => {
                let typed = said.typed.then(|| said.unfit("it is empty", example));
                typed.map_or(Ok(None), Err)
            }
            said => Ok(said),
        }
    }

    /// The same as a name in the file system, with all of its blanks. It will be said wherever something is wrong with it, so it is
    /// not taken where it is a token.
    fn path(said: Option<&Said>, example: &'static str) -> Result<Option<PathBuf>, Senseless> {
        let Some(said) = Said::there(said, example)? else {
            return Ok(None);
        };
        if looks_like_token(&said.text) {
            let why = "what stands there looks like the bot's token, and a folder is to be named";
            return Err(said.unfit(why, example));
        }
        Ok(Some(PathBuf::from(&said.text)))
    }

    /// The token's file cannot be used. Only a path from the root is said: somebody may have written the token itself here, and what
    /// is said stays in the system's log. A token has no `/`, and an address with a secret in it does not begin with one.
    fn no_token(&self, why: &'static str) -> Senseless {
        let path = PathBuf::from(&self.text);
        if path.is_absolute() {
            return Senseless::TokenFile(path, self.name.clone(), why);
        }
        Senseless::HushedFile(self.name.clone(), why, self.as_in(TOKEN_FILE))
    }

    /// How it would be written.
    fn as_in(&self, example: &str) -> String {
        let between = if self.typed { ' ' } else { '=' };
        format!("{}{between}{example}", self.name)
    }

    /// What stands there; nothing that could be meant where it is no text.
    fn words(&self) -> &str {
        self.text.to_str().unwrap_or_default().trim()
    }

    /// A whole number up to a most, 1 at least.
    fn whole(
        said: Option<&Said>,
        most: u32,
        unsaid: u32,
        wrong: (&'static str, &'static str),
    ) -> Result<u32, Senseless> {
        let Some(said) = Said::there(said, wrong.1)? else {
            return Ok(unsaid);
        };
        let number = said.words().parse().ok();
        let number = number.filter(|number| (1..=most).contains(number));
        number.ok_or_else(|| said.unfit(wrong.0, wrong.1))
    }

    fn unfit(&self, why: &'static str, example: &'static str) -> Senseless {
        Senseless::Unfit {
            name: self.name.clone(),
            why,
            example: self.as_in(example),
        }
    }
}

impl ValueParserFactory for Said {
    type Parser = AsWritten;

    fn value_parser() -> AsWritten {
        AsWritten
    }
}

/// Takes whatever stands there.
#[derive(Clone)]
struct AsWritten;

impl TypedValueParser for AsWritten {
    type Value = Said;

    fn parse_ref(
        &self,
        command: &clap::Command,
        arg: Option<&Arg>,
        text: &OsStr,
    ) -> Result<Said, clap::Error> {
        self.parse_ref_(command, arg, text, ValueSource::CommandLine)
    }

    fn parse_ref_(
        &self,
        _command: &clap::Command,
        arg: Option<&Arg>,
        text: &OsStr,
        source: ValueSource,
    ) -> Result<Said, clap::Error> {
        let typed = source != ValueSource::EnvVariable;
        let option = || arg.and_then(Arg::get_long).unwrap_or_default();
        let line = || arg.and_then(Arg::get_env).unwrap_or_default();
        Ok(Said {
            name: if typed {
                format!("--{}", option())
            } else {
                line().to_string_lossy().into_owned()
            },
            text: text.to_owned(),
            typed,
        })
    }
}

/// A number that is typed.
fn number(text: &str) -> Result<u64, &'static str> {
    let number = text.parse();
    number.map_err(|_| "it must be a number, in digits alone, such as 123456789012345678")
}

impl fmt::Debug for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Told").finish_non_exhaustive()
    }
}

/// What the program works with.
#[derive(Clone, Debug)]
pub struct Settings {
    /// The bot's token.
    pub token: Secret,
    /// The chat service.
    pub service: Service,
    /// The folder with the facilities' files.
    pub data: PathBuf,
    /// The guilds that are served; `None` for every guild of a service of one's own.
    pub guilds: Option<BTreeSet<Guild>>,
    /// Backups by the running bot, where they are wished for.
    pub backups: Option<Backups>,
    /// Where a watcher is told whether all is well, on this computer.
    pub health: Option<SocketAddr>,
}

/// How the running bot keeps backups.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Backups {
    /// Where.
    pub folder: PathBuf,
    /// From one to the next.
    pub every: TimeDelta,
    /// How many of each facility, 1 at least.
    pub keep: usize,
}

/// Settings that make no sense, in a sentence.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Senseless {
    /// No token.
    #[error(
        "no token: set LOFTWATCH_TOKEN, or LOFTWATCH_TOKEN_FILE to a file that only its owner may read"
    )]
    NoToken,
    /// The token's file, and the setting that names it.
    #[error("the token file {0}, which {1} names, cannot be used: {2}")]
    TokenFile(PathBuf, String, &'static str),
    /// The same, where what stands there may be the token itself.
    #[error(
        "the token file that {0} names cannot be used: {1}. What stands there is not said, because it does not begin with a / and may be the token itself. Write it as in {2}"
    )]
    HushedFile(String, &'static str, String),
    /// The token in the environment.
    #[error("LOFTWATCH_TOKEN cannot be used: {0}")]
    Token(&'static str),
    /// One in each place.
    #[error("LOFTWATCH_TOKEN is set, and {0} as well: leave one of them out, best LOFTWATCH_TOKEN")]
    TwoTokens(String),
    /// A token that others can see.
    #[error(
        "a token is not taken from the command line, where every account of this computer can see it. Set LOFTWATCH_TOKEN_FILE, or say --token-file, to a file that only its owner may read; what was typed may have been seen, so make a new token on the application's page"
    )]
    TokenTyped,
    /// A setting with which nothing can be meant.
    #[error("{name} cannot be used: {why}. Write it as in {example}")]
    Unfit {
        /// The setting, as it was written.
        name: String,
        /// Why not.
        why: &'static str,
        /// One that would do.
        example: String,
    },
    /// No guilds.
    #[error(
        "LOFTWATCH_GUILDS must name the guilds to serve, because anybody can invite a bot on the public chat service. Write it as in LOFTWATCH_GUILDS=123456789012345678"
    )]
    NoGuilds,
    /// No folder for backups.
    #[error(
        "no folder for the backup: name one, as in loftwatch backup /mnt/safe, or set LOFTWATCH_BACKUPS"
    )]
    NoBackupFolder,
    /// Backups beside what they are to save.
    #[error(
        "the backups' folder is the data folder itself, or inside of it: name another, best on another disk or computer"
    )]
    BackupsInData,
    /// Nothing to restore from.
    #[error(
        "no backup is named, so nothing was restored. Type which file is to be put back, as in loftwatch restore /mnt/safe/42-2026-01-31T120000Z.loft"
    )]
    NoBackup,
    /// Nothing to erase.
    #[error(
        "no home is named, so nothing was removed. Type the number of its guild, as in loftwatch erase 42, which lists its files and removes none"
    )]
    NoHome,
}

impl Cli {
    /// What was typed, and the token of the environment, which is no argument: what is typed can be seen by every account.
    ///
    /// # Errors
    /// [`Senseless::TokenTyped`], or that nothing is named to work on; what is no command at all ends the program with the library's own words.
    pub fn read() -> Result<Self, Senseless> {
        let words: Vec<OsString> = std::env::args_os().collect();
        // Before the library reads them, which repeats what it does not understand.
        if words.iter().any(|word| holds_token(word)) {
            return Err(Senseless::TokenTyped);
        }
        let mut cli = match Cli::try_parse_from(words) {
            Ok(cli) => cli.allowed()?,
            Err(fault) => return Err(unnamed(&fault).unwrap_or_else(|| fault.exit())),
        };
        #[expect(
            clippy::disallowed_methods,
            reason = "this file is where the environment is read"
        )]
        let token = std::env::var_os("LOFTWATCH_TOKEN");
        // An empty line in the settings is one that was left out.
        cli.told.token = token.filter(|token| !token.is_empty());
        Ok(cli)
    }

    fn allowed(self) -> Result<Self, Senseless> {
        match self.told.typed {
            Some(_) => Err(Senseless::TokenTyped),
            None => Ok(self),
        }
    }
}

impl Told {
    /// The settings, if they make sense.
    ///
    /// # Errors
    /// [`Senseless`], in a sentence for whoever runs the computer.
    pub fn settings(&self) -> Result<Settings, Senseless> {
        Ok(Settings {
            token: self.token()?,
            service: self.service()?,
            guilds: self.served()?,
            backups: self.backups()?,
            data: self.data()?,
            health: self.health()?,
        })
    }

    /// All that makes no sense in them, each once.
    pub fn mistakes(&self) -> Vec<Senseless> {
        let all = [
            self.token().err(),
            self.service().err(),
            self.served().err(),
            self.backup_hours().err(),
            self.backup_keep().err(),
            self.backup_folder().err(),
            self.data().err(),
            self.health().err(),
        ];
        let mut mistakes: Vec<Senseless> = Vec::new();
        for one in all.into_iter().flatten() {
            // The backups' folder is compared with the data folder, and fails with it.
            if !mistakes.contains(&one) {
                mistakes.push(one);
            }
        }
        mistakes
    }

    fn token(&self) -> Result<Secret, Senseless> {
        let file = Said::there(self.token_file.as_ref(), TOKEN_FILE)?;
        let token = match (&self.token, file) {
            (Some(_), Some(file)) => return Err(Senseless::TwoTokens(file.name.clone())),
            (Some(token), None) => bare(&token.to_string_lossy()).map_err(Senseless::Token)?,
            (None, Some(file)) => {
                let token = token_in(Path::new(&file.text)).and_then(|token| bare(&token));
                token.map_err(|why| file.no_token(why))?
            }
            (None, None) => return Err(Senseless::NoToken),
        };
        Ok(Secret(token))
    }

    fn service(&self) -> Result<Service, Senseless> {
        match Said::there(self.chat_url.as_ref(), CHAT)? {
            Some(chat) => service_at(chat.words()).map_err(|why| chat.unfit(why, CHAT)),
            None => Service::at(PUBLIC),
        }
    }

    /// The guilds that are served; `None` for every one of a service of one's own.
    fn served(&self) -> Result<Option<BTreeSet<Guild>>, Senseless> {
        let guilds = self.guilds()?;
        // An address that cannot be used is no reason to ask for guilds as well.
        let public = self.service().is_ok_and(|service| service.is_public());
        if guilds.is_empty() && public {
            return Err(Senseless::NoGuilds);
        }
        Ok((!guilds.is_empty()).then_some(guilds))
    }

    fn backups(&self) -> Result<Option<Backups>, Senseless> {
        let (hours, keep) = (self.backup_hours()?, self.backup_keep()?);
        let folder = self.backup_folder()?;
        Ok(folder.map(|folder| Backups {
            folder,
            every: TimeDelta::hours(hours.into()),
            keep: keep as usize,
        }))
    }

    fn backup_hours(&self) -> Result<u32, Senseless> {
        Said::whole(self.backup_hours.as_ref(), 168, HOURS, EVERY)
    }

    fn backup_keep(&self) -> Result<u32, Senseless> {
        Said::whole(self.backup_keep.as_ref(), 1_000, KEEP, KEPT)
    }

    fn guilds(&self) -> Result<BTreeSet<Guild>, Senseless> {
        let mut guilds = BTreeSet::new();
        for said in &self.guilds {
            let Some(said) = Said::there(Some(said), GUILDS)? else {
                continue;
            };
            let wrong = || {
                said.unfit(
                    "guilds are named by their numbers, with commas between",
                    GUILDS,
                )
            };
            let numbers = said.words().split(',').map(str::trim);
            let before = guilds.len();
            for one in numbers.filter(|one| !one.is_empty()) {
                let number = one.parse().map_err(|_| wrong())?;
                if number == 0 {
                    return Err(said.unfit("no guild has the number 0", GUILDS));
                }
                guilds.insert(Guild(number));
            }
            if guilds.len() == before {
                return Err(wrong());
            }
        }
        Ok(guilds)
    }

    /// The guilds that are named, for work that would serve without: none where what is named makes no sense.
    pub fn remembered(&self) -> BTreeSet<Guild> {
        self.guilds().unwrap_or_default()
    }

    fn health(&self) -> Result<Option<SocketAddr>, Senseless> {
        let Some(said) = Said::there(self.health.as_ref(), HEALTH)? else {
            return Ok(None);
        };
        let at: SocketAddr = said
            .words()
            .parse()
            .map_err(|_| said.unfit("it must be an address in numbers and a port", HEALTH))?;
        if !at.ip().is_loopback() {
            return Err(said.unfit(
                "it must be an address of this computer alone, because who asks there is not asked who they are",
                HEALTH,
            ));
        }
        if at.port() == 0 {
            return Err(said.unfit(
                "with port 0 the system takes another one each time, which no watcher knows",
                HEALTH,
            ));
        }
        Ok(Some(at))
    }

    /// Where a backup goes that is asked for now.
    ///
    /// # Errors
    /// [`Senseless`] when no folder is named, or the data folder is.
    pub fn backups_at(&self, named: Option<PathBuf>) -> Result<PathBuf, Senseless> {
        let folder = match named {
            Some(named) => Some(named),
            None => self.backup_folder()?,
        };
        beside(folder.ok_or(Senseless::NoBackupFolder)?, &self.data()?)
    }

    /// The folder for backups, where one is named.
    ///
    /// # Errors
    /// [`Senseless`] when an empty name was typed, or it is the data folder or inside of it.
    pub fn backup_folder(&self) -> Result<Option<PathBuf>, Senseless> {
        let folder = Said::path(self.backup_folder.as_ref(), BACKUPS)?;
        let data = self.data()?;
        folder.map(|folder| beside(folder, &data)).transpose()
    }

    /// The folder with the facilities' files, for work that needs no chat.
    ///
    /// # Errors
    /// [`Senseless`] when an empty name was typed.
    pub fn data(&self) -> Result<PathBuf, Senseless> {
        let data = Said::path(self.data.as_ref(), "/var/lib/loftwatch")?;
        Ok(data.unwrap_or_else(|| DATA.into()))
    }
}

/// Settings as they may be written.
const TOKEN_FILE: &str = "/etc/loftwatch/token";
const CHAT: &str = "https://chat.example";
const GUILDS: &str = "123456789012345678,223456789012345678";
const HEALTH: &str = "127.0.0.1:9464";
const BACKUPS: &str = "/mnt/safe";
/// And what is wrong with any other.
const EVERY: (&str, &str) = ("it must be a whole number from 1 to 168", "24");
const KEPT: (&str, &str) = ("it must be a whole number from 1 to 1000", "14");

/// What was not named that is to be worked on; the library would list every setting as if it had to be typed.
fn unnamed(fault: &clap::Error) -> Option<Senseless> {
    if fault.kind() != ErrorKind::MissingRequiredArgument {
        return None;
    }
    let Some(ContextValue::Strings(lacks)) = fault.get(ContextKind::InvalidArg) else {
        return None;
    };
    match lacks.first()?.as_str() {
        "<FILE>" => Some(Senseless::NoBackup),
        "<GUILD>" => Some(Senseless::NoHome),
        _ => None,
    }
}

impl Settings {
    /// Settings made by hand, for a program that carries the bot inside itself.
    ///
    /// # Errors
    /// [`Senseless`] when the address cannot be used.
    pub fn new(
        token: &str,
        chat_url: &str,
        data: PathBuf,
        guilds: Option<BTreeSet<Guild>>,
    ) -> Result<Self, Senseless> {
        let service = Service::at(chat_url)?;
        Ok(Self {
            token: Secret(token.to_owned()),
            service,
            data,
            guilds,
            backups: None,
            health: None,
        })
    }

    /// Whether this guild is served.
    pub fn serves(&self, guild: Guild) -> bool {
        self.guilds
            .as_ref()
            .is_none_or(|guilds| guilds.contains(&guild))
    }
}

/// The flags for the log, which say how much is written and never what may be.
pub fn log_wish() -> Option<String> {
    #[expect(
        clippy::disallowed_methods,
        reason = "this file is where the environment is read"
    )]
    std::env::var("RUST_LOG").ok()
}

/// The backups' folder, if it is not that of the data, nor in there: what saves a folder must not go with it.
fn beside(backups: PathBuf, data: &Path) -> Result<PathBuf, Senseless> {
    if real(&backups).starts_with(real(data)) {
        return Err(Senseless::BackupsInData);
    }
    Ok(backups)
}

/// Where a folder really is, or will be if it is not there yet.
fn real(folder: &Path) -> PathBuf {
    let found = folder.ancestors().find_map(|above| {
        let nearest = Path::new(".").join(above);
        let nearest = std::fs::canonicalize(nearest).ok()?;
        Some(nearest.join(folder.strip_prefix(above).ok()?))
    });
    found.unwrap_or_else(|| folder.to_owned())
}

/// The folders that systemd makes before it starts the service, in the words in which it tells the service of them. `check` is told so
/// too by `loftwatch-as-service`.
pub fn made_at_start() -> Vec<PathBuf> {
    #[expect(
        clippy::disallowed_methods,
        reason = "this file is where the environment is read"
    )]
    let told = std::env::var_os("STATE_DIRECTORY").unwrap_or_default();
    std::env::split_paths(&told).collect()
}

/// How long the supervisor of services waits for a word that the program is alive, where it does.
pub fn watched() -> Option<Duration> {
    sd_notify::watchdog_enabled()
}

/// Whether a word of the command line is a token, or an option with one.
fn holds_token(word: &OsStr) -> bool {
    let text = word.to_string_lossy();
    let behind = text.split_once('=').map(|(_, behind)| behind);
    looks_like_token(word) || behind.is_some_and(|behind| looks_like_token(OsStr::new(behind)))
}

/// Whether it has the form of a bot's token: three words of letters, digits, `-` and `_` with dots between, of which the first
/// is its number written otherwise and the last is long. No name that this program gives a file has it.
fn looks_like_token(text: &OsStr) -> bool {
    let text = text.to_string_lossy();
    let text = text.trim().trim_start_matches("Bot ");
    let sign = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_');
    let words: Vec<&str> = text.split('.').collect();
    words.iter().all(|word| word.bytes().all(sign))
        && matches!(words[..], [id, at, key] if id.len() >= 18 && !at.is_empty() && key.len() >= 20)
}

/// The token alone.
fn bare(text: &str) -> Result<String, &'static str> {
    let text = text.trim();
    if text.lines().count() > 1 {
        return Err("it holds more than one line; leave nothing in it but the token");
    }
    let token = text.trim_start_matches("Bot ");
    if token.is_empty() {
        return Err("it is empty; put the token in it");
    }
    if !token.bytes().all(|byte| byte.is_ascii_graphic()) {
        return Err("it holds blanks or letters that no token has; copy the token again");
    }
    Ok(token.to_owned())
}

fn token_in(path: &Path) -> Result<String, &'static str> {
    use std::os::unix::fs::{MetadataExt, OpenOptionsExt};
    // A pipe is not waited for.
    let at_once = rustix::fs::OFlags::NONBLOCK.bits().cast_signed();
    let file = std::fs::OpenOptions::new()
        .read(true)
        .custom_flags(at_once)
        .open(path)
        .map_err(|why| not_opened(&why))?;
    // Asked of the open file, so that it cannot be another one by then.
    let about = file
        .metadata()
        .map_err(|_| "it cannot be looked at; look at its disk")?;
    if !about.is_file() {
        return Err("it is not a plain file; name the file that holds the token");
    }
    if about.mode() & 0o077 != 0 {
        return Err("others than its owner may read it; give it mode 600");
    }
    let mut token = String::new();
    file.take(TOKEN_BYTES_MAX)
        .read_to_string(&mut token)
        .map_err(|_| "it is not text; leave nothing in it but the token")?;
    Ok(token)
}

/// Why the token's file cannot be read, and what to do.
fn not_opened(why: &std::io::Error) -> &'static str {
    use std::io::ErrorKind as Kind;
    #[expect(
        clippy::wildcard_enum_match_arm,
        reason = "the list of the system's answers is not ours and grows"
    )]
    match why.kind() {
        Kind::NotFound | Kind::NotADirectory => {
            "it is not there; check the name, or make the file with the token in it, for this account alone (mode 600)"
        }
        Kind::PermissionDenied => {
            "this account may not open it; let it belong to the account that loftwatch runs as (mode 600), in a folder that this account may enter"
        }
        _ => "it cannot be opened; look at its disk",
    }
}

/// Text that is never shown.
#[derive(Clone, PartialEq, Eq)]
pub struct Secret(String);

impl Secret {
    /// The text itself, for a header.
    pub fn expose(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Secret")
    }
}

/// The chat service's address.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Service {
    base: String,
    host: String,
}

impl Service {
    /// The service at this address. Plain `http` is for this computer alone.
    ///
    /// # Errors
    /// [`Senseless::Unfit`]
    pub fn at(url: &str) -> Result<Self, Senseless> {
        service_at(url.trim()).map_err(|why| Senseless::Unfit {
            name: "the chat service's address".to_owned(),
            why,
            example: CHAT.to_owned(),
        })
    }

    /// The address without a slash at its end.
    pub fn base(&self) -> &str {
        &self.base
    }

    /// Whether it is the public one, however that came to be said: anybody there can invite a bot.
    fn is_public(&self) -> bool {
        self.base == PUBLIC
    }

    /// The address of a file as one to fetch, if it is on this service or on one of `hosts`.
    pub fn own_file(&self, url: &str, hosts: &[&str]) -> Option<Uri> {
        let uri: Uri = url.parse().ok()?;
        let own: Uri = self.base.parse().ok()?;
        let same = uri.scheme() == own.scheme() && uri.authority() == own.authority();
        let public = self.is_public()
            && uri.scheme_str() == Some("https")
            && uri.port().is_none()
            && uri.authority().is_some_and(|a| hosts.contains(&a.as_str()));
        (same || public).then_some(uri)
    }

    /// Its host, for sentences.
    pub fn host(&self) -> &str {
        &self.host
    }
}

fn service_at(url: &str) -> Result<Service, &'static str> {
    // One address has one base, however it is written.
    let url = url.trim_end_matches('/').to_ascii_lowercase();
    let url = match url.strip_suffix(":443") {
        Some(bare) if bare.starts_with("https:") => bare,
        _ => &url,
    };
    let uri: Uri = url.parse().map_err(|_| "it is no address")?;
    let authority = uri.authority().ok_or("it has no host")?;
    if authority.as_str().contains('@') || uri.query().is_some() || uri.path() != "/" {
        return Err("it must be only https, a host and perhaps a port");
    }
    match uri.scheme_str() {
        Some("https") => {}
        Some("http") if is_loopback(authority.host()) => {}
        Some("http") => return Err("plain http is for this computer alone; use https"),
        _ => return Err("it must begin with https://"),
    }
    Ok(Service {
        base: url.to_owned(),
        host: authority.host().to_owned(),
    })
}

fn is_loopback(host: &str) -> bool {
    let bare = host.trim_start_matches('[').trim_end_matches(']');
    host == "localhost"
        || bare
            .parse::<IpAddr>()
            .is_ok_and(|address| address.is_loopback())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(words: &[&str]) -> Result<Settings, Senseless> {
        told_beside(None, words)
    }

    fn told_beside(token: Option<&str>, words: &[&str]) -> Result<Settings, Senseless> {
        let words = ["loftwatch", "run"].iter().chain(words);
        let mut cli = Cli::try_parse_from(words).unwrap().allowed()?;
        cli.told.token = token.map(OsString::from);
        cli.told.settings()
    }

    #[test]
    fn the_manual_page_knows_every_question_and_every_setting() {
        use clap::CommandFactory;
        let page = include_str!("../deploy/loftwatch.1").replace("\\-", "-");
        let cli = Cli::command();
        let asked = cli.get_subcommands().flat_map(|one| {
            let own = one.get_arguments().filter_map(clap::Arg::get_long);
            std::iter::once(format!(".B {}\n", one.get_name()))
                .chain(own.map(|own| format!("--{own}")))
        });
        let settings = cli.get_arguments().filter_map(|one| {
            let env = one.get_env()?.to_str()?;
            Some(format!("--{} \" ({env})", one.get_long()?))
        });
        let all: Vec<String> = asked.chain(settings).collect();
        assert!(all.len() > 12, "{all:?}");
        for one in all {
            assert!(page.contains(&one), "{one:?} is not on the page");
        }
    }

    #[test]
    fn what_does_not_heal_by_itself_is_worse_than_what_may() {
        let heals = [Exit::Trouble, Exit::Silent, Exit::Unreachable];
        let stays = [
            Exit::Busy,
            Exit::Refused,
            Exit::Settings,
            Exit::Files,
            Exit::Damaged,
        ];
        for bad in stays {
            for mild in heals.into_iter().chain([Exit::Stopped]) {
                assert_eq!((mild.worse(bad), bad.worse(mild)), (bad, bad));
            }
        }
        let all = heals.into_iter().chain(stays);
        assert_eq!(all.fold(Exit::Stopped, Exit::worse), Exit::Damaged);
        assert_eq!(Exit::Settings.worse(Exit::Files), Exit::Files);
    }

    #[test]
    fn plain_http_is_for_this_computer_alone() {
        for good in [
            "http://127.0.0.1:7080/",
            "http://localhost:1",
            "http://[::1]:1",
            "https://chat.example",
        ] {
            assert!(Service::at(good).is_ok(), "{good}");
        }
        for bad in [
            "http://10.0.0.1",
            "ftp://127.0.0.1",
            "127.0.0.1:80",
            "https://a@b",
            "https://a/b",
            "https://a?b",
            "",
        ] {
            assert!(Service::at(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn whoever_watches_sits_at_this_computer() {
        let at = |health| {
            let at = ["--chat-url", "http://127.0.0.1:1", "--health", health];
            told_beside(Some("abc"), &at)
        };
        assert!(at("127.0.0.1:9464").is_ok() && at("[::1]:9464").is_ok());
        for open in ["0.0.0.0:9464", "10.0.0.7:9464", "[::]:9464"] {
            let said = at(open).unwrap_err().to_string();
            assert!(said.contains("of this computer alone"), "{open}: {said}");
            assert!(said.ends_with("--health 127.0.0.1:9464"), "{said}");
        }
    }

    #[test]
    fn files_come_from_the_service_itself() {
        let service = Service::at("http://127.0.0.1:7080").unwrap();
        assert!(
            service
                .own_file("http://127.0.0.1:7080/files/1", &FILE)
                .is_some()
        );
        for foreign in [
            "http://127.0.0.1:7081/f",
            "https://127.0.0.1:7080/f",
            "https://files.example/f",
            "file:///etc/passwd",
        ] {
            assert!(service.own_file(foreign, &FILE).is_none(), "{foreign}");
        }
        let public = Service::at(PUBLIC).unwrap();
        assert!(public.own_file("https://files.example/f", &FILE).is_some());
        for foreign in [
            "http://files.example/f",
            "https://files.example:81/f",
            // Whoever can have a name may have one that ends, or begins, like a known one.
            "https://evilfiles.example/f",
            "https://evil.files.example/f",
            "https://files.example.evil.example/f",
            "https://files.example@evil.example/f",
            "https://evil.example@files.example/f",
            "https://evil.example/files.example",
            "https://evil.example/?https://files.example",
        ] {
            assert!(public.own_file(foreign, &FILE).is_none(), "{foreign}");
        }
    }
    const FILE: [&str; 1] = ["files.example"];

    #[test]
    fn the_token_is_shown_nowhere() {
        let at = ["--chat-url", "http://127.0.0.1:1"];
        let settings = told_beside(Some("hush-hush"), &at).unwrap();
        assert!(!format!("{settings:?}").contains("hush"));
        let mut cli = Cli::try_parse_from(["loftwatch", "run", "--token", "hush-hush"]).unwrap();
        cli.told.token = Some("hush-hush".into());
        assert!(!format!("{cli:?}").contains("hush"));
    }

    #[test]
    fn a_token_that_is_typed_is_refused_whatever_is_asked() {
        for words in [
            &["run", "--token", "hush-hush"][..],
            &["run", "--token=hush-hush"],
            &["--token", "hush-hush", "verify"],
            &["check", "--token"],
        ] {
            let words = ["loftwatch"].iter().chain(words);
            let refused = Cli::try_parse_from(words).unwrap().allowed().unwrap_err();
            assert_eq!(refused, Senseless::TokenTyped);
            assert!(!refused.to_string().contains("hush"), "{refused}");
        }
        use clap::CommandFactory;
        let help = Cli::command().render_long_help().to_string();
        assert!(!help.contains("--token "), "{help}");
    }

    #[test]
    fn a_token_that_cannot_be_one_is_told_from_none() {
        let beside = |token| told_beside(Some(token), &["--guilds", "1"]).map(|_| ());
        assert_eq!(beside("Bot abc\n"), Ok(()));
        for (wrong, words) in [
            ("abc\ndef\n", "more than one line"),
            (" ", "it is empty"),
            ("abc def", "blanks"),
            ("abcé", "letters that no token has"),
        ] {
            let said = beside(wrong).unwrap_err().to_string();
            assert!(
                said.contains("LOFTWATCH_TOKEN") && said.contains(words),
                "{said}"
            );
        }
        let none = told(&["--guilds", "1"]).unwrap_err();
        assert_eq!(none, Senseless::NoToken);
    }

    #[test]
    fn all_that_makes_no_sense_is_known_and_each_once() {
        let mistakes = |words: &[&str]| {
            let words = ["loftwatch", "check"].iter().chain(words);
            let cli = Cli::try_parse_from(words).unwrap();
            let said = cli.told.mistakes();
            said.iter().map(Senseless::to_string).collect::<Vec<_>>()
        };
        let said = mistakes(&[
            "--token-file=/nowhere/token",
            "--chat-url=chat",
            "--guilds=five",
            "--backup-hours=day",
            "--backup-keep=all",
            "--backup-folder=/mnt/safe",
            "--data=",
            "--health=here",
        ]);
        for name in [
            "--token-file",
            "--chat-url",
            "--guilds",
            "--backup-hours",
            "--backup-keep",
            "--data",
            "--health",
        ] {
            let of_it = said.iter().filter(|one| one.contains(name));
            assert_eq!(of_it.count(), 1, "{name}: {said:#?}");
        }
        assert_eq!(said.len(), 7, "{said:#?}");
        let none = mistakes(&[]);
        assert_eq!(
            none,
            [
                Senseless::NoToken.to_string(),
                Senseless::NoGuilds.to_string()
            ]
        );
    }

    #[test]
    fn two_tokens_are_named_as_they_were_said() {
        let both = told_beside(Some("abc"), &["--token-file", "t"]).unwrap_err();
        let said = both.to_string();
        assert!(said.contains("LOFTWATCH_TOKEN is set"), "{said}");
        assert!(said.contains("--token-file as well"), "{said}");
    }

    #[test]
    fn the_public_service_needs_its_guilds_named() {
        let none = told_beside(Some("x"), &[]).unwrap_err();
        assert_eq!(none, Senseless::NoGuilds);
        // However it came to be said.
        for said in [
            PUBLIC.to_owned(),
            format!("{PUBLIC}/"),
            format!("{PUBLIC}:443"),
            PUBLIC.to_uppercase(),
        ] {
            let none = told_beside(Some("x"), &["--chat-url", &said]).map(|_| ());
            assert_eq!(none, Err(Senseless::NoGuilds), "{said}");
        }
        let own = told_beside(Some("x"), &["--chat-url", CHAT]);
        assert!(own.is_ok_and(|settings| settings.guilds.is_none()));
        let settings = told_beside(Some("x"), &["--guilds", "1,2"]).unwrap();
        assert!(settings.serves(Guild(2)) && !settings.serves(Guild(3)));
    }

    #[test]
    fn backups_have_bounds_and_a_folder_of_their_own() {
        let told_so = |words: &[&str]| {
            let all = ["--chat-url", "http://127.0.0.1:1"];
            told_beside(Some("x"), &[&all, words].concat())
        };
        assert_eq!(told_so(&[]).unwrap().backups, None);
        let backups = told_so(&["--backup-folder", "b"]).unwrap().backups.unwrap();
        assert_eq!((backups.every, backups.keep), (TimeDelta::hours(24), 14));
        let folder = tempfile::tempdir().unwrap();
        let data = folder.path().to_str().unwrap();
        let again = format!("{data}/.");
        let same = told_so(&["--data", &again, "--backup-folder", data]).unwrap_err();
        assert_eq!(same, Senseless::BackupsInData);
        std::fs::create_dir(folder.path().join("there")).unwrap();
        for inside in ["there", "not/yet", "there/../there/not"] {
            let inside = format!("{data}/{inside}");
            let refused = told_so(&["--data", data, "--backup-folder", &inside]).unwrap_err();
            assert_eq!(refused, Senseless::BackupsInData, "{inside}");
        }
        let beside = format!("{data}-not-in-there");
        assert!(told_so(&["--data", data, "--backup-folder", &beside]).is_ok());
        assert!(told_so(&["--data", "not-there", "--backup-folder", "not-there/b"]).is_err());
        for wrong in [
            ["--backup-hours", "0"],
            ["--backup-hours", "169"],
            ["--backup-keep", "0"],
        ] {
            let said = told_so(&wrong).unwrap_err().to_string();
            assert!(
                said.contains(wrong[0]) && said.contains("from 1 to"),
                "{said}"
            );
        }
    }

    /// `tests/tests/disk.rs` asks the program itself the same.
    #[test]
    fn a_setting_that_makes_no_sense_is_named_with_one_that_does() {
        for (option, wrong) in [
            ("--guilds", "5;6"),
            ("--guilds", "five"),
            ("--guilds", ","),
            ("--guilds", ""),
            ("--guilds", "0"),
            ("--guilds", "5,0"),
            ("--health", "127.0.0.1:0"),
            ("--health", "localhost:9464"),
            ("--health", "127.0.0.1"),
            ("--chat-url", "chat.example"),
            ("--backup-hours", "1.5"),
            ("--backup-keep", "1001"),
            ("--backup-folder", " "),
            ("--data", ""),
            ("--token-file", ""),
        ] {
            let words = ["--chat-url", "http://127.0.0.1:1", option, wrong];
            let words = &words[if option == "--chat-url" { 2 } else { 0 }..];
            let said = told_beside(Some("x"), words).unwrap_err().to_string();
            let begins = format!("{option} cannot be used: ");
            assert!(said.starts_with(&begins), "{option} {wrong}: {said}");
            assert!(said.contains(&format!("as in {option} ")), "{said}");
        }
        let spaced = told_beside(Some("x"), &["--guilds", " 5, 6 ,"]).unwrap();
        assert_eq!(spaced.guilds, Some([Guild(5), Guild(6)].into()));
    }

    /// Somebody writes the token itself where its file is to be named.
    #[test]
    fn a_token_in_the_place_of_its_file_is_not_said() {
        let token = "MTIzNDU2Nzg5MDEyMzQ1Njc4.GaBcDe.x9_not-a-real-one-0123456789abcdefghijk";
        let wrong = told(&["--token-file", token, "--guilds", "1"]).unwrap_err();
        let said = format!("{wrong} {wrong:?}");
        assert!(!said.contains(token), "{said}");
        assert!(said.contains("--token-file names"), "{said}");
        assert!(
            said.contains("as in --token-file /etc/loftwatch/token"),
            "{said}"
        );
        // Nor as part of an address, or with a word before it.
        for hush in [
            &format!("https://chat.example/{token}"),
            &format!("Bot {token}"),
        ] {
            let wrong = told(&["--token-file", hush, "--guilds", "1"]).unwrap_err();
            assert!(!format!("{wrong} {wrong:?}").contains(token), "{wrong}");
        }
    }

    #[test]
    fn a_token_in_the_place_of_anything_else_is_not_said_either() {
        let token = "MTIzNDU2Nzg5MDEyMzQ1Njc4.GaBcDe.x9_not-a-real-one-0123456789abcdefghijk";
        for option in [
            "--data",
            "--backup-folder",
            "--chat-url",
            "--guilds",
            "--health",
            "--backup-hours",
            "--backup-keep",
        ] {
            let words = ["--chat-url", "http://127.0.0.1:1", option, token];
            let words = &words[if option == "--chat-url" { 2 } else { 0 }..];
            let wrong = told_beside(Some("x"), words).unwrap_err();
            let said = format!("{wrong} {wrong:?}");
            assert!(said.contains(option) && !said.contains(token), "{said}");
        }
        for word in [token, &format!("--data={token}"), &format!("Bot {token}")] {
            assert!(holds_token(OsStr::new(word)), "{word}");
        }
        for name in [
            "1234567890123456789.before-2026-01-31T120000Z.loft",
            "1234567890123456789-2026-01-31T120000Z.loft",
            "1234567890123456789.restoring.loft",
            "/home/loftwatch-account/a.long.enough-name-of-a-file",
            "--data=/var/lib/loftwatch",
            "",
        ] {
            assert!(!holds_token(OsStr::new(name)), "{name}");
        }
    }

    #[test]
    fn a_token_file_that_cannot_be_opened_is_said_with_why() {
        let none = told(&["--token-file", "/nowhere/token", "--guilds", "1"]).unwrap_err();
        let said = none.to_string();
        assert!(said.contains("which --token-file names"), "{said}");
        assert!(said.contains("it is not there; check the name"), "{said}");
        let said = not_opened(&std::io::ErrorKind::PermissionDenied.into());
        assert!(said.contains("may not open it; let it belong"), "{said}");
    }

    #[test]
    fn a_token_file_that_others_may_read_is_refused() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("token");
        std::fs::write(&path, "abc\n").unwrap();
        let mode =
            |mode| std::fs::set_permissions(&path, std::fs::Permissions::from_mode(mode)).unwrap();
        let file = path.to_str().unwrap();
        mode(0o644);
        assert!(told(&["--token-file", file, "--chat-url", "http://127.0.0.1:1"]).is_err());
        mode(0o600);
        let settings = told(&["--token-file", file, "--chat-url", "http://127.0.0.1:1"]).unwrap();
        assert_eq!(settings.token.expose(), "abc");
        std::fs::write(&path, "abc\ndef\n").unwrap();
        let two = told(&["--token-file", file, "--guilds", "1"]).unwrap_err();
        let said = two.to_string();
        assert!(
            said.contains(file) && said.contains("more than one line"),
            "{said}"
        );
        let pipe = folder.path().join("pipe");
        let made = std::process::Command::new("mkfifo")
            .args(["-m", "600"])
            .arg(&pipe)
            .status();
        assert!(made.unwrap().success());
        let pipe = pipe.to_str().unwrap();
        let waits = told(&["--token-file", pipe, "--guilds", "1"]).unwrap_err();
        assert!(waits.to_string().contains("not a plain file"), "{waits}");
    }
}
