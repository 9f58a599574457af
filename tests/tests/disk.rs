//! The real program and its disk: a backup under load, a kill, the way back and what people then read; a disk that is full; a
//! backup that cannot be made; what `check` says; what is asked about something that is no file of a home; a home that leaves. The chat is the demo guild on this machine.

#![allow(clippy::unwrap_used, reason = "helpers of tests are tests")]

// The benchmark's, which use more of them.
#[allow(dead_code)]
#[path = "../src/bench/child.rs"]
mod child;
#[allow(dead_code)]
#[path = "../src/bench/home.rs"]
mod home;

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use bot::clock::{mono, wall};
use chrono::TimeDelta;
use commands::Source;
use commands::ids::{Channel, ChatRole, Guild as Facility};
use demo_guild::{Guild, Id, Layout, Options};
use loftwatch_tests::not_tested;
use serde_json::json;
use store::Store;
use tempfile::TempDir;
use tokio::sync::OnceCell;

use child::{Process, Programs};
use home::{Places, tag};

const PATIENCE: Duration = Duration::from_secs(30);
/// Bytes that a file may have where the disk is full: a little more than the home's own.
const FULL_AT_KB: u64 = 256;

static PROGRAMS: OnceCell<Programs> = OnceCell::const_new();

/// A guild, a home in a folder, and a second folder for backups.
struct House {
    guild: Guild,
    data: TempDir,
    safe: TempDir,
    program: PathBuf,
}

impl House {
    async fn open() -> House {
        House::since(TimeDelta::hours(1)).await
    }

    /// A home whose first entry is so long ago.
    async fn since(ago: TimeDelta) -> House {
        let build = || async { Programs::build().unwrap() };
        let program = PROGRAMS.get_or_init(build).await.path();
        let layout = Layout::new("Elm House", "America/Chicago")
            .role("aides")
            .channel("care")
            .channel("office")
            .person("Ana", "aide", &["aides"]);
        let guild = Guild::serve(layout, Options::headless()).await.unwrap();
        let data = tempfile::tempdir().unwrap();
        let places = Places {
            care: Channel(guild.channel("care").0),
            supervisors: Channel(guild.channel("office").0),
            aide: ChatRole(guild.role("aides").0),
        };
        let facility = Facility(guild.guild_id().0);
        let before = wall() - ago;
        drop(home::build(data.path(), facility, 4, places, before).unwrap());
        House {
            guild,
            data,
            safe: tempfile::tempdir().unwrap(),
            program,
        }
    }

    fn facility(&self) -> Facility {
        Facility(self.guild.guild_id().0)
    }

    /// The program with its settings, to be told what to do.
    fn command(&self) -> Command {
        let mut command = Command::new(&self.program);
        self.settings(&mut command);
        command
    }

    fn settings(&self, command: &mut Command) {
        command
            .env("LOFTWATCH_TOKEN", self.guild.token())
            .env("LOFTWATCH_CHAT_URL", self.guild.url())
            .env("LOFTWATCH_DATA", self.data.path())
            .env("LOFTWATCH_GUILDS", self.facility().0.to_string())
            .env_remove("LOFTWATCH_BACKUPS")
            .env_remove("RUST_LOG");
    }

    fn start(&self) -> Process {
        let mut command = self.command();
        command.arg("run");
        Process::start(command, self.data.path()).unwrap()
    }

    /// Does one thing and ends; what it said, and its exit code.
    async fn does(&self, words: &[&str]) -> (String, i32) {
        let mut command = self.command();
        command.args(words);
        finished(command).await
    }

    /// The same where a file may have so many KB, which is seen as a disk that is full.
    async fn does_on_a_full_disk(&self, kb: u64, words: &[&str]) -> (String, i32) {
        let mut command = Command::new("bash");
        let script = format!(r#"trap "" XFSZ; ulimit -f {kb}; exec "$0" "$@""#);
        command.args(["-c", &script]).arg(&self.program).args(words);
        self.settings(&mut command);
        finished(command).await
    }

    /// A copy of the program that another account may run; nothing where nobody can become one.
    fn for_nobody(&self) -> Option<PathBuf> {
        if !rustix::process::geteuid().is_root()
            || Command::new("setpriv").arg("-V").output().is_err()
        {
            not_tested("another account, which only the administrator can become");
            return None;
        }
        // Where nobody else may look into the folder of the build, the program is not to be had there either.
        let program = self.safe.path().join("loftwatch");
        std::fs::copy(&self.program, &program).unwrap();
        open(self.safe.path(), 0o755);
        Some(program)
    }

    fn as_nobody(&self, program: &Path, data: &Path, words: &[&str]) -> Command {
        let mut command = Command::new("setpriv");
        command.args(["--reuid=65534", "--regid=65534", "--clear-groups", "--"]);
        command.arg(program).args(words);
        self.settings(&mut command);
        command.env("LOFTWATCH_DATA", data);
        command
    }

    fn file(&self) -> PathBuf {
        self.data.path().join(format!("{}.loft", self.facility()))
    }

    /// One reading of a surface; its interaction and what was answered.
    async fn check(&self, n: usize) -> (Option<Id>, String) {
        let (ana, care) = (self.guild.person("Ana"), self.guild.channel("care"));
        let options = [("surface", json!(tag(n))), ("air", json!("1.25"))];
        let outcome = self.guild.command(ana, care, "handcheck", &options).await;
        (outcome.interaction, outcome.text().to_owned())
    }

    /// Waits until readings are answered again.
    async fn serves(&self) -> Id {
        let begun = mono();
        loop {
            let (interaction, text) = self.check(3).await;
            if text.contains("Adequate") {
                return interaction.unwrap();
            }
            assert!(mono() - begun < PATIENCE, "it does not serve: {text}");
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
    }

    fn said(&self, channel: &str, words: &str) -> usize {
        let posts = self.guild.messages(self.guild.channel(channel));
        let said = |text: &str| text.contains(words);
        posts
            .iter()
            .filter(|m| m.author.bot && said(&m.content))
            .count()
    }

    async fn hears(&self, channel: &str, words: &str) {
        let begun = mono();
        while self.said(channel, words) == 0 {
            assert!(mono() - begun < PATIENCE, "nobody said {words}");
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    fn store(&self) -> Store {
        Store::open(self.data.path(), self.facility()).unwrap()
    }
}

async fn finished(mut command: Command) -> (String, i32) {
    let done: Output = tokio::task::spawn_blocking(move || command.output())
        .await
        .unwrap()
        .unwrap();
    let said = [done.stdout, done.stderr].concat();
    let said = String::from_utf8(said).unwrap();
    (said, done.status.code().unwrap())
}

fn open(path: &Path, mode: u32) {
    use std::os::unix::fs::PermissionsExt;
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
}

fn only_file(folder: &Path) -> PathBuf {
    let files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    assert_eq!(files.len(), 1, "{files:?}");
    files[0].clone()
}

/// The rehearsal that `docs/operator.md` asks for, with people who go on working.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_home_is_backed_up_under_load_killed_restored_and_serves_again() {
    let house = Arc::new(House::open().await);
    let running = house.start();
    let first = house.serves().await;
    let enough = Arc::new(AtomicBool::new(false));
    let people: Vec<_> = (0..3)
        .map(|n| {
            let (house, enough) = (house.clone(), enough.clone());
            tokio::spawn(async move {
                let mut answered = Vec::new();
                while !enough.load(Ordering::Relaxed) {
                    let (interaction, text) = house.check(n).await;
                    if text.contains("Adequate") {
                        answered.extend(interaction);
                    }
                }
                answered
            })
        })
        .collect();
    tokio::time::sleep(Duration::from_millis(300)).await;
    let safe = house.safe.path().to_str().unwrap();
    let (said, exit) = house.does(&["backup", safe]).await;
    assert_eq!(exit, 0, "{said}");
    assert!(said.contains("read back and whole"), "{said}");
    let backup = only_file(house.safe.path());
    let backup = backup.to_str().unwrap();
    let (said, exit) = house.does(&["restore", backup]).await;
    assert_eq!(exit, 4, "restored below a running bot: {said}");
    let (said, exit) = house.does(&["verify"]).await;
    assert_eq!(exit, 0, "verified beside a running bot: {said}");
    let last = house.serves().await;
    drop(running);
    enough.store(true, Ordering::Relaxed);
    let mut answered = Vec::new();
    for person in people {
        answered.extend(person.await.unwrap());
    }
    assert!(!answered.is_empty());
    {
        let store = house.store();
        for interaction in answered.iter().chain([&first, &last]) {
            let seen = store.seen(&Source::interaction(interaction.0)).unwrap();
            assert!(seen.is_some(), "an answered entry is gone after the kill");
        }
    }

    let (said, exit) = house.does(&["restore", backup]).await;
    assert_eq!(exit, 0, "{said}");
    for words in [
        "whole where it stands now",
        "Lost are records",
        "is kept as",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    let (said, exit) = house.does(&["verify"]).await;
    assert_eq!(exit, 0, "{said}");
    let running = house.start();
    let again = house.serves().await;
    house
        .hears("office", "loftwatch was put back, from a backup")
        .await;
    assert!(!running.stop().unwrap());
    let running = house.start();
    house.serves().await;
    assert!(!running.stop().unwrap());
    assert_eq!(house.said("office", "was put back"), 1, "it is said once");
    let store = house.store();
    store.verify().unwrap();
    let seen = |interaction: Id| store.seen(&Source::interaction(interaction.0)).unwrap();
    assert!(seen(first).is_some() && seen(again).is_some());
    assert!(
        seen(last).is_none(),
        "the file that was killed was not replaced"
    );
}

/// A pipe that nobody reads on, and a disk that is full behind a `>`: what was asked is done by then.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_nothing_can_be_said_the_exit_code_is_still_that_of_what_was_done() {
    let house = House::open().await;
    for (words, code) in [
        (&["verify"][..], 0),
        (&["restore", "/nowhere/it.loft"], 3),
        (&["run", "--health", "here"], 2),
    ] {
        for closed in [false, true] {
            let deaf = || -> Stdio {
                if closed {
                    let (reads, writes) = std::io::pipe().unwrap();
                    drop(reads);
                    return writes.into();
                }
                let full = std::fs::File::options().write(true).open("/dev/full");
                full.unwrap().into()
            };
            let mut command = house.command();
            command.args(words).stdout(deaf()).stderr(deaf());
            let ended = command.status().unwrap().code();
            assert_eq!(ended, Some(code), "{words:?}, closed: {closed}");
        }
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_full_disk_is_told_to_who_entered_and_loses_nothing_that_was_answered() {
    let house = House::open().await;
    // A limit on the size of files in the place of a small disk: the program sees a write that fails, as there.
    let mut command = Command::new("bash");
    let script = format!(r#"trap "" XFSZ; ulimit -f {FULL_AT_KB}; exec "$0" run"#);
    command.args(["-c", &script]).arg(&house.program);
    house.settings(&mut command);
    let running = Process::start(command, house.data.path()).unwrap();
    let mut answered = vec![house.serves().await];
    let mut refused = Vec::new();
    let begun = mono();
    while refused.len() < 3 && mono() - begun < PATIENCE * 2 {
        let (interaction, text) = house.check(answered.len() % 3).await;
        if text.contains("Adequate") {
            answered.extend(interaction);
        } else {
            assert!(text.contains("Nothing was recorded"), "{text}");
            refused.extend(interaction);
        }
    }
    assert!(
        refused.len() >= 3,
        "the disk never was full: {} entries",
        answered.len()
    );
    assert!(!running.stop().unwrap(), "it did not stop when asked");
    let said = std::fs::read_to_string(house.data.path().join("said.txt")).unwrap();
    assert!(!said.contains("panicked"), "{said}");
    assert!(
        said.contains("a commit failed") || said.contains("cannot be used"),
        "{said}"
    );
    let (said, exit) = house.does(&["verify"]).await;
    assert_eq!(exit, 0, "{said}");
    {
        let store = house.store();
        for interaction in &answered {
            let seen = store.seen(&Source::interaction(interaction.0)).unwrap();
            assert!(seen.is_some(), "an answered entry is gone");
        }
        for interaction in &refused {
            let seen = store.seen(&Source::interaction(interaction.0)).unwrap();
            assert!(seen.is_none(), "what was said not to be recorded is there");
        }
    }
    let running = house.start();
    house.serves().await;
    assert!(!running.stop().unwrap());
}

/// The home's file below the running bot is taken away, put back, and cut short.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_file_that_is_not_what_it_was_is_told_to_all_and_begins_no_other() {
    let house = House::open().await;
    let file = house
        .data
        .path()
        .join(format!("{}.loft", house.facility().0));
    let watched = Health::free();
    let start = || {
        let mut command = house.command();
        command.arg("run").env("LOFTWATCH_HEALTH", &watched.at);
        Process::start(command, house.data.path()).unwrap()
    };
    let running = start();
    let last = house.serves().await;
    watched.says(200, "well").await;

    let away = house.safe.path().join("away.loft");
    std::fs::rename(&file, &away).unwrap();
    let (_, text) = house.check(1).await;
    assert!(text.contains("Nothing was recorded"), "{text}");
    for channel in ["care", "office"] {
        house.hears(channel, "I can save nothing").await;
    }
    watched.says(503, "takes nothing").await;
    assert_eq!(house.said("care", "I can save again"), 0);
    std::fs::rename(&away, &file).unwrap();
    let back = house.serves().await;
    for channel in ["care", "office"] {
        house.hears(channel, "I can save again").await;
        assert_eq!(house.said(channel, "I can save nothing"), 1, "{channel}");
    }
    watched.says(200, "well").await;
    assert!(!running.stop().unwrap());

    let whole = std::fs::read(&file).unwrap();
    let running = start();
    house.serves().await;
    std::fs::write(&file, "").unwrap();
    for n in 0..3 {
        let (_, text) = house.check(n).await;
        assert!(text.contains("Nothing was recorded"), "{text}");
    }
    watched.says(503, "takes nothing").await;
    drop(running);
    for path in [&file, &log_of(&file)] {
        let _ = std::fs::remove_file(path);
    }

    // Nobody is served from an empty home, with or without the file.
    for empty in [false, true] {
        if empty {
            std::fs::write(&file, "").unwrap();
        }
        for what in ["run", "check"] {
            let (said, exit) = house.does(&[what]).await;
            assert_eq!(exit, 3, "{what}: {said}");
            assert!(said.contains("is gone or empty"), "{what}: {said}");
        }
        assert_eq!(std::fs::metadata(&file).map_or(0, |about| about.len()), 0);
    }
    std::fs::write(&file, whole).unwrap();
    let running = house.start();
    house.serves().await;
    assert!(!running.stop().unwrap());
    let store = house.store();
    for interaction in [last, back] {
        let seen = store.seen(&Source::interaction(interaction.0)).unwrap();
        assert!(seen.is_some(), "an answered entry is gone");
    }
}

fn log_of(file: &Path) -> PathBuf {
    file.with_extension("loft-wal")
}

/// Where a watcher is told whether all is well.
struct Health {
    at: String,
}

impl Health {
    /// At an address that was free a moment ago.
    fn free() -> Self {
        let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
        Self {
            at: taken.local_addr().unwrap().to_string(),
        }
    }

    /// Waits until it says so.
    async fn says(&self, status: u16, words: &str) {
        self.tells("health", status, words).await;
    }

    /// Waits until that is among its counters.
    async fn counts(&self, words: &str) {
        self.tells("counters", 200, words).await;
    }

    async fn tells(&self, of: &str, status: u16, words: &str) {
        let begun = mono();
        loop {
            let answer = reqwest::get(format!("http://{}/{of}", self.at)).await;
            let mut said = String::new();
            if let Ok(answer) = answer {
                let found = answer.status().as_u16();
                said = answer.text().await.unwrap_or_default();
                if found == status && said.contains(words) {
                    return;
                }
            }
            assert!(mono() - begun < PATIENCE, "not {status} {words}: {said}");
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_running_bot_keeps_backups_and_tells_when_it_cannot() {
    let house = House::open().await;
    let folder = house.safe.path().join("kept");
    std::fs::write(&folder, "a file where the folder should be").unwrap();
    let watched = Health::free();
    let start = || {
        let mut command = house.command();
        command.arg("run").env("LOFTWATCH_BACKUPS", &folder);
        command.env("LOFTWATCH_HEALTH", &watched.at);
        Process::start(command, house.data.path()).unwrap()
    };
    let of = format!("{{guild=\"{}\"}}", house.facility().0);
    let running = start();
    house.hears("office", "there is none yet").await;
    watched
        .counts(&format!("loftwatch_backups_failed_total{of} 1\n"))
        .await;
    let newest = format!("loftwatch_newest_backup_timestamp_seconds{of} ");
    watched.counts(&format!("{newest}0\n")).await;
    let (said, exit) = house.does(&["verify"]).await;
    assert_eq!(exit, 0, "{said}");
    assert!(!running.stop().unwrap());
    std::fs::remove_file(&folder).unwrap();
    let running = start();
    let begun = mono();
    let made = || {
        let files = std::fs::read_dir(&folder).into_iter().flatten().flatten();
        files
            .filter(|file| file.path().extension().is_some_and(|end| end == "loft"))
            .count()
    };
    while made() == 0 {
        assert!(mono() - begun < PATIENCE, "no backup was made");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    // In the seconds of this century.
    watched.counts(&format!("{newest}1")).await;
    assert!(!running.stop().unwrap());
    assert_eq!(house.said("office", "there is none yet"), 1, "once a day");
    let file = only_file(&folder);
    let (said, exit) = house.does(&["verify", file.to_str().unwrap()]).await;
    assert_eq!(exit, 0, "{said}");
    let mut bytes = std::fs::read(&file).unwrap();
    bytes.truncate(bytes.len() - 4_096);
    std::fs::write(&file, bytes).unwrap();
    let (said, exit) = house.does(&["verify", file.to_str().unwrap()]).await;
    assert_eq!(exit, 8, "{said}");
    let (said, exit) = house.does(&["restore", file.to_str().unwrap()]).await;
    assert!(exit == 8 && said.contains("Nothing was restored"), "{said}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_home_whose_file_is_of_no_use_is_told_so_beside_one_that_is_served() {
    let house = House::open().await;
    let other = house.guild.foreign_guild_id();
    house.guild.invite_to_foreign();
    let file = house.data.path().join(format!("{other}.loft"));
    let (ana, options) = (
        house.guild.person("Ana"),
        [("surface", json!(tag(3))), ("air", json!("1.25"))],
    );
    // The home's own under the name of the other's, and what is no such file at all.
    let own = std::fs::read(house.file()).unwrap();
    for bytes in [own, b"SQLite format 3 of no use".to_vec()] {
        std::fs::copy(house.file(), &file).unwrap();
        std::fs::write(&file, &bytes).unwrap();
        let mut command = house.command();
        let both = format!("{},{other}", house.facility().0);
        command.arg("run").env("LOFTWATCH_GUILDS", both);
        let running = Process::start(command, house.data.path()).unwrap();
        house.serves().await;
        let told = house
            .guild
            .foreign_command(ana, "handcheck", &options)
            .await;
        assert!(told.text().contains("Nothing was recorded"), "{told:?}");
        house.serves().await;
        assert!(!running.stop().unwrap());
        assert_eq!(std::fs::read(&file).unwrap(), bytes, "it was touched");
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn check_says_what_is_there_and_what_lacks() {
    let house = House::open().await;
    let (said, exit) = house.does(&["check"]).await;
    assert_eq!(exit, 0, "{said}");
    for words in [
        "the token is right",
        "Clock: it agrees",
        "the bot's roles may do what it needs",
        "so it may in each of the 2 channels",
        "Zone rules: version 20",
        "its owner's alone",
        "is whole",
        "Backups: the running bot makes none",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    let mut wrong = house.command();
    wrong.arg("check").env("LOFTWATCH_TOKEN", "wrong");
    let (said, exit) = finished(wrong).await;
    assert!(exit == 5 && said.contains("token was refused"), "{said}");
    let mut elsewhere = house.command();
    elsewhere.arg("check").env("LOFTWATCH_GUILDS", "77");
    let (said, exit) = finished(elsewhere).await;
    assert!(exit == 2 && said.contains("not in guild 77"), "{said}");
    let (said, exit) = house.does(&["backup"]).await;
    assert!(exit == 2 && said.contains("LOFTWATCH_BACKUPS"), "{said}");
    // Send Messages and Attach Files, by the platform's published bits of permissions.
    let forbidden = 1 << 11 | 1 << 15;
    house.guild.forbid(house.guild.channel("office"), forbidden);
    let (said, exit) = house.does(&["check"]).await;
    let there = "in the supervisors' channel of guild";
    let what = "the channel's own settings forbid the bot Send Messages, Attach Files.";
    let all = exit == 5 && said.contains(there) && said.contains(what);
    assert!(all && !said.contains("so it may"), "{said}");
}

/// What systemd hears of a program that it waits for: that it is up, that it is alive, that it stops.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_supervisor_of_services_hears_that_it_is_alive() {
    let house = House::open().await;
    let at = house.safe.path().join("notify");
    let socket = std::os::unix::net::UnixDatagram::bind(&at).unwrap();
    socket.set_read_timeout(Some(PATIENCE)).unwrap();
    let mut command = house.command();
    command
        .arg("run")
        .env("NOTIFY_SOCKET", &at)
        .env("WATCHDOG_USEC", "6000000");
    let running = Process::start(command, house.data.path()).unwrap();
    let word = move || {
        let mut bytes = [0; 256];
        let length = socket.recv(&mut bytes).unwrap();
        String::from_utf8_lossy(&bytes[..length]).trim().to_owned()
    };
    // As many words as there are, because a machine that is slow for a moment leaves one out, as it should.
    let heard = tokio::task::spawn_blocking(move || {
        assert_eq!(
            [word(), word(), word()],
            ["READY=1", "WATCHDOG=1", "WATCHDOG=1"]
        );
        word
    });
    let word = heard.await.unwrap();
    assert!(!running.stop().unwrap());
    let last = tokio::task::spawn_blocking(move || {
        (0..60).map(|_| word()).find(|word| word != "WATCHDOG=1")
    });
    assert_eq!(last.await.unwrap().as_deref(), Some("STOPPING=1"));
}

/// Another account than the folder's, and a folder that takes no writes. Only the administrator can become somebody else.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_wrong_account_and_a_folder_that_takes_nothing_are_named() {
    let house = House::open().await;
    let Some(program) = house.for_nobody() else {
        return;
    };
    let as_nobody = |data: &Path| house.as_nobody(&program, data, &["check"]);
    let (said, exit) = finished(as_nobody(house.data.path())).await;
    assert!(
        exit == 3 && said.contains("belongs to the account"),
        "{said}"
    );
    let theirs = house.safe.path().join("theirs");
    std::fs::create_dir(&theirs).unwrap();
    std::os::unix::fs::chown(&theirs, Some(65_534), Some(65_534)).unwrap();
    open(&theirs, 0o500);
    let (said, exit) = finished(as_nobody(&theirs)).await;
    assert!(exit == 3 && said.contains("cannot be used"), "{said}");
    open(&theirs, 0o700);
    let (said, exit) = finished(as_nobody(&theirs)).await;
    assert_eq!(exit, 0, "{said}");
    let (said, exit) = finished(as_nobody(&theirs.join("not/yet"))).await;
    assert!(exit == 0 && said.contains("will be made"), "{said}");
    // Above this one the account may make nothing. Where systemd makes it before the first start, nothing is wrong.
    let new = house.safe.path().join("new");
    let (said, exit) = finished(as_nobody(&new)).await;
    assert!(exit == 3 && said.contains("WRONG: Data folder: "), "{said}");
    assert!(
        said.contains("cannot be made") && said.contains("Permission denied"),
        "{said}"
    );
    let mut promised = as_nobody(&new);
    promised.env("STATE_DIRECTORY", &new);
    let (said, exit) = finished(promised).await;
    assert!(exit == 0 && said.contains("will be made"), "{said}");
    assert!(!new.exists(), "check made it");
}

/// What cannot be read is neither said to be nothing nor blamed on the folder that the copy goes to.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_data_folder_that_cannot_be_read_or_only_be_read_is_named_and_not_the_backups() {
    let house = House::open().await;
    let Some(program) = house.for_nobody() else {
        return;
    };
    let (theirs, to) = (
        house.safe.path().join("theirs"),
        house.safe.path().join("to"),
    );
    let file = theirs.join(format!("{}.loft", house.facility()));
    let token = house.safe.path().join("token");
    std::fs::create_dir(&theirs).unwrap();
    std::fs::create_dir(&to).unwrap();
    std::fs::copy(house.file(), &file).unwrap();
    std::fs::write(&token, "x").unwrap();
    open(&token, 0o600);
    for path in [&theirs, &to, &file] {
        std::os::unix::fs::chown(path, Some(65_534), Some(65_534)).unwrap();
    }
    let asked = async |words: &[&str]| finished(house.as_nobody(&program, &theirs, words)).await;
    let backup = ["backup", to.to_str().unwrap()];
    open(&theirs, 0o000);
    for question in [&["verify"][..], &backup, &["check"]] {
        let (said, exit) = asked(question).await;
        assert_eq!(exit, 3, "{said}");
        assert!(said.contains("may not read the data folder"), "{said}");
        for wrong in ["there is no facility's file", "Files: none"] {
            assert!(!said.contains(wrong), "{said}");
        }
    }
    // SQLite cannot open the file of a home there: it has no room for the index of the log.
    open(&theirs, 0o500);
    let file = file.to_str().unwrap();
    for question in [&["verify"][..], &["verify", file], &backup] {
        let (said, exit) = asked(question).await;
        assert_eq!(exit, 3, "{said}");
        assert!(said.contains("This account cannot write in"), "{said}");
        assert!(said.contains("with -wal behind it"), "{said}");
        assert!(!said.contains("did not take it"), "{said}");
    }
    open(&theirs, 0o700);
    let (said, exit) = asked(&backup).await;
    assert_eq!(exit, 0, "{said}");
    // A backup is another matter.
    let made = only_file(&to);
    open(&to, 0o500);
    let (said, exit) = asked(&["verify", made.to_str().unwrap()]).await;
    assert_eq!(exit, 0, "{said}");

    let mut command = house.as_nobody(&program, &theirs, &["check"]);
    command
        .env_remove("LOFTWATCH_TOKEN")
        .env("LOFTWATCH_TOKEN_FILE", &token);
    let (said, exit) = finished(command).await;
    assert!(
        exit == 2 && said.contains("this account may not open it"),
        "{said}"
    );
}

/// Each is named as it was written, in the settings' file or behind the command, and stands in the way of nothing that does
/// not use it.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_setting_that_makes_no_sense_is_named_and_hinders_no_verify_or_restore() {
    let house = House::open().await;
    for (line, option, wrong) in [
        ("LOFTWATCH_GUILDS", "--guilds", "5;6"),
        ("LOFTWATCH_GUILDS", "--guilds", "five"),
        ("LOFTWATCH_GUILDS", "--guilds", "0"),
        ("LOFTWATCH_HEALTH", "--health", "localhost:9464"),
        ("LOFTWATCH_HEALTH", "--health", "127.0.0.1:0"),
        ("LOFTWATCH_HEALTH", "--health", "0.0.0.0:9464"),
        ("LOFTWATCH_CHAT_URL", "--chat-url", "chat.example"),
        ("LOFTWATCH_BACKUP_HOURS", "--backup-hours", "0"),
        ("LOFTWATCH_BACKUP_HOURS", "--backup-hours", "day"),
        ("LOFTWATCH_BACKUP_KEEP", "--backup-keep", "1001"),
    ] {
        for typed in [false, true] {
            let with = |words: &[&str]| {
                let mut command = house.command();
                command.args(words);
                if typed {
                    command.arg(format!("{option}={wrong}"));
                } else {
                    command.env(line, wrong);
                }
                finished(command)
            };
            let (said, exit) = with(&["check"]).await;
            let (name, other) = if typed {
                (option, line)
            } else {
                (line, option)
            };
            let begins = format!("WRONG: Settings: {name} cannot be used: ");
            assert!(exit == 2 && said.starts_with(&begins), "{wrong}: {said}");
            assert!(said.contains(&format!("Write it as in {name}")), "{said}");
            assert!(!said.contains(other) && !said.contains("--help"), "{said}");
            let (said, exit) = with(&["verify"]).await;
            assert_eq!(exit, 0, "{name} {wrong}: {said}");
        }
    }

    let senseless = |words: &[&str]| {
        let mut command = house.command();
        command.args(words).env("LOFTWATCH_GUILDS", "five");
        command
            .env("LOFTWATCH_HEALTH", "here")
            .env("LOFTWATCH_CHAT_URL", "there");
        command
            .env("LOFTWATCH_BACKUP_HOURS", "often")
            .env("LOFTWATCH_BACKUP_KEEP", "all");
        command.env("LOFTWATCH_TOKEN_FILE", "/nowhere/token");
        finished(command)
    };
    // All of them at once, each to be found by the same word; the one that serves names the first.
    let (said, exit) = senseless(&["check"]).await;
    assert_eq!(exit, 2, "{said}");
    for wrong in [
        "TOKEN_FILE",
        "GUILDS",
        "HEALTH",
        "CHAT_URL",
        "BACKUP_HOURS",
        "BACKUP_KEEP",
    ] {
        let line = said.lines().find(|line| line.contains(wrong));
        assert!(
            line.is_some_and(|line| line.starts_with("WRONG: Settings: ")),
            "{wrong}: {said}"
        );
    }
    assert!(said.ends_with("Mend this and ask again.\n"), "{said}");
    let (said, exit) = senseless(&["run"]).await;
    assert!(
        exit == 2 && said.starts_with("loftwatch: LOFTWATCH_"),
        "{said}"
    );
    let (said, exit) = senseless(&["backup", house.safe.path().to_str().unwrap()]).await;
    assert_eq!(exit, 0, "{said}");
    let made = only_file(house.safe.path());
    let (said, exit) = senseless(&["restore", made.to_str().unwrap()]).await;
    assert_eq!(exit, 0, "{said}");
    let (said, exit) = senseless(&["erase", &house.facility().to_string()]).await;
    assert_eq!(exit, 0, "{said}");
    for (asked, words) in [
        ("restore", "no backup is named"),
        ("erase", "no home is named"),
    ] {
        let (said, exit) = senseless(&[asked]).await;
        assert!(exit == 2 && said.contains(words), "{said}");
        assert!(
            said.contains(&format!("as in loftwatch {asked} ")),
            "{said}"
        );
        assert!(!said.contains("--"), "{said}");
    }

    // An empty line is one that was left out.
    let mut empty = house.command();
    for line in [
        "DATA",
        "GUILDS",
        "HEALTH",
        "BACKUPS",
        "BACKUP_HOURS",
        "BACKUP_KEEP",
        "TOKEN_FILE",
    ] {
        empty.env(format!("LOFTWATCH_{line}"), "");
    }
    empty.arg("check").current_dir(house.safe.path());
    let (said, exit) = finished(empty).await;
    assert!(
        exit == 0 && said.contains("every guild of this chat service"),
        "{said}"
    );
    let mut blanks = house.command();
    blanks.env("LOFTWATCH_GUILDS", format!(" {} , 77,", house.facility()));
    let (said, _) = finished({
        blanks.arg("check");
        blanks
    })
    .await;
    assert!(said.contains("2 guilds are served"), "{said}");

    // A backup that was altered, for which the data folder is not to blame.
    let altered = house.safe.path().join("altered.loft");
    let mut bytes = std::fs::read(&made).unwrap();
    let surface = tag(1).into_bytes();
    let place = bytes
        .windows(surface.len())
        .position(|some| *some == *surface);
    bytes[place.unwrap()] ^= 1;
    std::fs::write(&altered, bytes).unwrap();
    for asked in ["verify", "restore"] {
        let (said, exit) = house.does(&[asked, altered.to_str().unwrap()]).await;
        let named = format!("{} is not whole: ", altered.display());
        assert!(exit == 8 && said.contains(&named), "{exit} {said}");
        assert!(
            said.contains("Take another backup") && !said.contains("data folder"),
            "{said}"
        );
    }

    // A file where a folder is wanted.
    let file = made.to_str().unwrap();
    for words in [
        &["backup", file][..],
        &["restore", file, "--data", file],
        &["backup", "x", "--data", file],
    ] {
        let (said, exit) = house.does(words).await;
        assert!(
            exit == 3 && said.contains("is a file and no folder"),
            "{said}"
        );
    }
}

fn pipe(at: &Path) {
    let made = Command::new("mkfifo").args(["-m", "600"]).arg(at).status();
    assert!(made.unwrap().success());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn check_says_whether_the_next_backup_can_be_made() {
    let house = House::since(TimeDelta::hours(3)).await;
    let check = |folder: &Path, hours: &str| {
        let mut command = house.command();
        command.arg("check").args(["--backup-hours", hours]);
        command.env("LOFTWATCH_BACKUPS", folder);
        finished(command)
    };
    let safe = house.safe.path();
    let (said, exit) = check(safe, "24").await;
    assert!(exit == 0 && said.contains("takes files"), "{said}");
    assert!(said.contains("none of"), "{said}");
    let (said, exit) = check(&safe.join("new"), "24").await;
    assert!(exit == 0 && said.contains("will be made"), "{said}");
    assert!(!safe.join("new").exists(), "check made it");

    let file = safe.join("file");
    std::fs::write(&file, "").unwrap();
    let (said, exit) = check(&file, "24").await;
    assert!(exit == 3 && said.contains("WRONG: Backups: "), "{said}");
    assert!(said.contains("Name a folder"), "{said}");
    let (said, exit) = check(&safe.join("typo/b"), "24").await;
    assert!(exit == 3 && said.contains("WRONG: Backups: "), "{said}");
    assert!(
        said.contains("it is not there. Check the name, and that the disk it is on is mounted"),
        "{said}"
    );
    if rustix::process::geteuid().is_root() {
        let theirs = safe.join("theirs");
        std::fs::create_dir(&theirs).unwrap();
        std::os::unix::fs::chown(&theirs, Some(65_534), None).unwrap();
        let (said, exit) = check(&theirs, "24").await;
        assert!(
            exit == 3 && said.contains("belongs to the account with the number 65534"),
            "{said}"
        );
    }
    // Always mounted so that nothing can be written, where this system has it.
    let (said, exit) = check(Path::new("/proc/self"), "24").await;
    assert!(exit == 3 && said.contains("WRONG: Backups: "), "{said}");

    // Its first entry is older than twice the time from one backup to the next.
    let (said, exit) = check(safe, "1").await;
    assert!(
        exit == 3 && said.contains("WRONG: Backups: there is none of"),
        "{said}"
    );
    let (said, exit) = house.does(&["backup", safe.to_str().unwrap()]).await;
    assert_eq!(exit, 0, "{said}");
    let (said, exit) = check(safe, "1").await;
    assert!(
        exit == 0 && said.contains("Backups: the newest of"),
        "{said}"
    );
}

/// None of these is a file of a home that was damaged, and nothing was about to be recorded.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_no_file_of_a_home_is_named_for_what_it_is() {
    let house = House::open().await;
    let safe = house.safe.path();
    let letter = safe.join("letter");
    std::fs::write(&letter, "words").unwrap();
    let waits = safe.join("waits.loft");
    pipe(&waits);
    let lock = house.data.path().join(format!("{}.lock", house.facility()));
    for (file, words) in [
        (
            letter.as_path(),
            "is no file of loftwatch: it is no SQLite file",
        ),
        (&lock, "is no file of loftwatch"),
        (&waits, "is a pipe and no plain file"),
        (safe, "is a folder and no file"),
        (&safe.join("typo"), "Check the name"),
    ] {
        let (said, exit) = house.does(&["verify", file.to_str().unwrap()]).await;
        assert!(
            exit == 3 && said.contains(words),
            "{}: {exit} {said}",
            file.display()
        );
        for wrong in ["nothing was recorded", "damaged", "run `loftwatch verify`"] {
            assert!(!said.contains(wrong), "{}: {said}", file.display());
        }
    }
    let (said, exit) = house.does(&["restore", waits.to_str().unwrap()]).await;
    assert!(exit == 3 && said.contains("is a pipe"), "{said}");
    for data in [safe.join("typo"), letter] {
        let data = data.to_str().unwrap();
        let (said, exit) = house.does(&["verify", "--data", data]).await;
        assert!(exit == 3 && said.contains("--data"), "{data}: {said}");
    }
    // A folder that cannot be one does not get better by being started again.
    let file = lock.to_str().unwrap();
    let (said, exit) = house.does(&["run", "--data", file]).await;
    assert!(exit == 3 && said.contains("the data folder"), "{said}");
    let (said, exit) = house.does(&["verify", "--token", "x"]).await;
    assert!(exit == 2 && said.contains("LOFTWATCH_TOKEN_FILE"), "{said}");
    let mut both = house.command();
    both.arg("check").env("LOFTWATCH_TOKEN_FILE", &waits);
    let (said, exit) = finished(both).await;
    assert!(
        exit == 2 && said.contains("LOFTWATCH_TOKEN is set"),
        "{said}"
    );
    assert!(!said.contains("--token "), "{said}");
}

/// `run` refuses them, so whoever asks in order to know whether it would serve hears the same.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn check_and_verify_refuse_of_a_homes_file_what_run_does() {
    let house = House::open().await;
    let file = house.file();
    let aside = house.safe.path().join("aside.loft");
    std::fs::rename(&file, &aside).unwrap();
    let asked = async |words: &str| {
        for question in ["verify", "check"] {
            let (said, exit) = house.does(&[question]).await;
            assert!(
                exit == 3 && said.contains(words),
                "{question}: {exit} {said}"
            );
            let wrong = said
                .lines()
                .any(|line| line.starts_with("WRONG: ") && line.contains(words));
            assert_eq!(wrong, question == "check", "{said}");
        }
        let (said, exit) = house
            .does(&["backup", house.safe.path().to_str().unwrap()])
            .await;
        assert!(exit == 3 && said.contains(words), "{said}");
    };
    std::os::unix::fs::symlink(&aside, &file).unwrap();
    asked("is a link").await;
    std::fs::remove_file(&file).unwrap();
    pipe(&file);
    asked("is a pipe").await;
    std::fs::remove_file(&file).unwrap();
    std::fs::create_dir(&file).unwrap();
    asked("is a folder").await;
    std::fs::remove_dir(&file).unwrap();
    std::fs::rename(&aside, &file).unwrap();
    if rustix::process::geteuid().is_root() {
        std::os::unix::fs::chown(&file, Some(65_534), None).unwrap();
        asked("belongs to the account with the number 65534").await;
        std::os::unix::fs::chown(&file, Some(0), None).unwrap();
    }
    let bytes = std::fs::read(&file).unwrap();
    std::fs::write(&file, &bytes[..bytes.len() / 2]).unwrap();
    let (said, exit) = house.does(&["verify"]).await;
    assert!(
        exit == 8 && said.contains("restore the newest backup"),
        "{said}"
    );
    assert!(!said.contains("run `loftwatch verify`"), "{said}");
}

/// What is left of a home remembers it: its lock, what a restore set aside, a backup. Nobody is told that all is well without it.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_home_whose_file_is_gone_or_empty_is_missed_by_whoever_looks() {
    let house = House::open().await;
    let safe = house.safe.path().to_str().unwrap();
    let (said, exit) = house.does(&["backup", safe]).await;
    assert_eq!(exit, 0, "{said}");
    let backup = only_file(house.safe.path());
    let (said, exit) = house.does(&["restore", backup.to_str().unwrap()]).await;
    assert_eq!(exit, 0, "{said}");
    // Another home beside it, whose file is there.
    drop(Store::open(house.data.path(), Facility(77)).unwrap());
    let asked = async |words: &[&str]| {
        let mut command = house.command();
        // The folder of the backup remembers it, and the setting; the one that makes no sense hinders nobody.
        command.args(words).env("LOFTWATCH_BACKUPS", safe);
        if words != ["check"] {
            command.env("LOFTWATCH_HEALTH", "here");
        }
        finished(command).await
    };
    let left = |end: &str| {
        house
            .data
            .path()
            .join(format!("{}.{end}", house.facility()))
    };
    for empty in [false, true] {
        std::fs::remove_file(house.file()).unwrap();
        if empty {
            std::fs::write(house.file(), "").unwrap();
        }
        for words in [&["verify"][..], &["check"], &["backup", safe]] {
            let (said, exit) = asked(words).await;
            assert_eq!(exit, 3, "{words:?}: {said}");
            let gone = format!("{} is gone or empty", house.file().display());
            assert_eq!(said.matches(&gone).count(), 1, "{words:?}: {said}");
            assert!(said.contains("77.loft"), "{words:?}: {said}");
            for wrong in ["Files: none", "Move it out", "with --data", "it is empty"] {
                assert!(!said.contains(wrong), "{words:?}: {said}");
            }
        }
        std::fs::write(house.file(), "").unwrap();
    }
    // Each of them alone is enough; a home of which nothing is left is new.
    for path in [left("loft"), left("lock")] {
        std::fs::remove_file(path).unwrap();
    }
    let (said, exit) = asked(&["verify"]).await;
    assert!(exit == 3 && said.contains("is gone or empty"), "{said}");
    let folder = std::fs::read_dir(house.data.path()).unwrap();
    for path in folder.map(|entry| entry.unwrap().path()) {
        if path.display().to_string().contains(".before-") {
            std::fs::remove_file(path).unwrap();
        }
    }
    let (said, exit) = asked(&["verify"]).await;
    assert!(exit == 3 && said.contains("is gone or empty"), "{said}");
    let (said, exit) = house.does(&["verify"]).await;
    assert!(exit == 0 && !said.contains("gone"), "{said}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_backup_or_a_restore_without_room_names_the_disk_that_is_full() {
    let house = House::open().await;
    let safe = house.safe.path().canonicalize().unwrap();
    let (said, exit) = house
        .does_on_a_full_disk(64, &["backup", safe.to_str().unwrap()])
        .await;
    let full = format!("{} did not take it", safe.display());
    assert!(exit == 3 && said.contains(&full), "{exit} {said}");
    assert!(said.contains("Free some space"), "{said}");
    assert!(
        !said.contains("nothing was recorded") && !said.contains("data folder"),
        "{said}"
    );
    assert_eq!(std::fs::read_dir(&safe).unwrap().count(), 0);

    let (said, exit) = house.does(&["backup", safe.to_str().unwrap()]).await;
    assert_eq!(exit, 0, "{said}");
    let backup = only_file(&safe);
    let before = std::fs::read(house.file()).unwrap();
    let (said, exit) = house
        .does_on_a_full_disk(64, &["restore", backup.to_str().unwrap()])
        .await;
    assert!(
        exit == 3 && said.contains("Nothing was restored"),
        "{exit} {said}"
    );
    assert!(said.contains("Free some space"), "{said}");
    assert!(!said.contains("Check that it exists"), "{said}");
    assert_eq!(std::fs::read(house.file()).unwrap(), before);
    let left = std::fs::read_dir(house.data.path()).unwrap();
    let left: Vec<_> = left.map(|entry| entry.unwrap().file_name()).collect();
    let own = |name: &&std::ffi::OsString| name.to_string_lossy().contains("restoring");
    assert_eq!(left.iter().find(own), None, "{left:?}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_home_that_leaves_is_erased_when_its_number_was_typed_twice() {
    let house = House::open().await;
    let (guild, safe) = (house.facility().to_string(), house.safe.path());
    let backups = safe.to_str().unwrap().to_owned();
    let (said, exit) = house.does(&["backup", &backups]).await;
    assert_eq!(exit, 0, "{said}");
    let erase = async |more: &[&str]| {
        let words = [&["erase", &guild, "--backup-folder", &backups], more].concat();
        house.does(&words).await
    };
    let there = || std::fs::read_dir(safe).unwrap().count() + usize::from(house.file().exists());
    let (said, exit) = erase(&[]).await;
    assert!(
        exit == 0 && said.contains(&format!("--sure {guild}")),
        "{said}"
    );
    assert!(
        said.contains(&format!("{guild}.lock")) && said.contains("Nothing was removed"),
        "{said}"
    );
    let (said, exit) = erase(&["--sure", "7"]).await;
    assert!(exit == 2 && said.contains("Nothing was removed"), "{said}");
    let running = house.start();
    house.serves().await;
    let (said, exit) = erase(&["--sure", &guild]).await;
    assert!(exit == 4 && said.contains("Nothing was removed"), "{said}");
    assert!(!running.stop().unwrap());
    assert_eq!(there(), 2);
    // Where both are one folder, each file would be there twice.
    let data = house.data.path().to_str().unwrap();
    for inside in [data.to_owned(), format!("{data}/kept")] {
        let words = [
            "erase",
            &guild,
            "--sure",
            &guild,
            "--backup-folder",
            &inside,
        ];
        let (said, exit) = house.does(&words).await;
        assert!(exit == 2 && said.contains("inside of it"), "{said}");
    }
    assert_eq!(there(), 2);
    let paths = |said: &str| {
        let lines = said.lines().filter_map(|line| line.strip_prefix("  "));
        let paths = lines.map(|line| line.split(" (").next().unwrap().to_owned());
        paths.collect::<Vec<String>>()
    };
    // What another program made under such a name is in the way of the list as well.
    let foreign = house
        .data
        .path()
        .join(format!("{guild}.before-2026-01-31T120000Z.loft"));
    let recipes = rusqlite::Connection::open(&foreign).unwrap();
    recipes
        .execute_batch("CREATE TABLE recipes (name TEXT)")
        .unwrap();
    drop(recipes);
    for more in [&[][..], &["--sure", &guild]] {
        let (said, exit) = erase(more).await;
        assert!(
            exit == 3 && said.contains("another program made it"),
            "{more:?}: {said}"
        );
        assert!(said.contains("Nothing was removed"), "{said}");
        assert!(!said.contains("are what there is"), "{said}");
    }
    std::fs::remove_file(&foreign).unwrap();
    let listed = paths(&erase(&[]).await.0);
    let (said, exit) = erase(&["--sure", &guild]).await;
    assert_eq!(exit, 0, "{said}");
    assert!(listed.len() >= 3, "{listed:?}");
    assert_eq!(paths(&said), listed, "{said}");
    for words in [
        "gone for good",
        "Out of reach",
        "in the chat itself",
        "blocks of the disk",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert_eq!(there(), 0);
    let (said, exit) = erase(&["--sure", &guild]).await;
    assert!(
        exit == 3 && said.contains("there is no file of facility"),
        "{said}"
    );
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_made_private_is_said_in_the_log_with_the_mode_that_was_there() {
    use std::os::unix::fs::PermissionsExt;
    let house = House::open().await;
    let mode = |path: &Path, mode| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
    };
    mode(&house.file(), 0o644);
    let running = house.start();
    house.serves().await;
    assert!(!running.stop().unwrap());
    let said = std::fs::read_to_string(house.data.path().join("said.txt")).unwrap();
    let line = said
        .lines()
        .find(|line| line.contains("made its owner's alone"));
    let line = line.unwrap_or_else(|| panic!("{said}"));
    assert!(
        line.contains("INFO") && line.contains("a facility's file"),
        "{line}"
    );
    assert!(line.contains("644"), "{line}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_file_that_cannot_be_used_stops_its_own_home_alone() {
    let house = House::open().await;
    let bad = house.data.path().join("77.loft");
    let bytes = std::fs::read(house.file()).unwrap();
    std::fs::write(&bad, &bytes[..bytes.len() / 2]).unwrap();
    let watched = Health::free();
    let mut command = house.command();
    let both = format!("{},77", house.facility());
    command.arg("run").env("LOFTWATCH_GUILDS", both);
    command.env("LOFTWATCH_HEALTH", &watched.at);
    let running = Process::start(command, house.data.path()).unwrap();
    house.serves().await;
    watched
        .says(503, "the file of home 77 cannot be used")
        .await;
    watched.says(503, "the bot is not in guild 77").await;
    let (said, _) = house.does(&["check", "--health", &watched.at]).await;
    assert!(said.contains("a loftwatch answers that runs"), "{said}");
    assert!(!running.stop().unwrap());
    let mut alone = house.command();
    alone.arg("run").env("LOFTWATCH_GUILDS", "77");
    let (said, exit) = finished(alone).await;
    assert_eq!(exit, 3, "{said}");
    // Whoever reads it from end to end calls damage by its own number.
    let (said, exit) = house.does(&["check"]).await;
    assert_eq!(exit, 8, "{said}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_home_whose_file_cannot_be_opened_at_a_start_reads_that_nobody_is_called() {
    let house = House::open().await;
    // Another home's can be, so that the program goes on.
    drop(Store::open(house.data.path(), Facility(77)).unwrap());
    // Its file can still be read.
    let lock = house.data.path().join(format!("{}.lock", house.facility()));
    std::fs::remove_file(&lock).unwrap();
    std::fs::create_dir(&lock).unwrap();
    let mut command = house.command();
    let both = format!("{},77", house.facility());
    command.arg("run").env("LOFTWATCH_GUILDS", both);
    let running = Process::start(command, house.data.path()).unwrap();
    for channel in ["care", "office"] {
        house.hears(channel, "I can save nothing").await;
    }
    assert!(!running.stop().unwrap());
    std::fs::remove_dir(&lock).unwrap();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_named_guild_without_the_bot_is_told_of_and_a_home_is_not_left() {
    let house = House::open().await;
    let watched = Health::free();
    let log = house.data.path().join("said.txt");
    let logged = async |words: &str| {
        let begun = mono();
        while !std::fs::read_to_string(&log).unwrap().contains(words) {
            assert!(mono() - begun < PATIENCE, "not in the log: {words}");
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    };
    let start = || {
        let mut command = house.command();
        command.arg("run").env("LOFTWATCH_GUILDS", "43");
        command.env("LOFTWATCH_HEALTH", &watched.at);
        Process::start(command, house.data.path()).unwrap()
    };
    let running = start();
    watched.says(503, "the bot is not in guild 43").await;
    logged("the bot is not in a guild that is named").await;
    logged("it is neither served nor left").await;
    assert!(!running.stop().unwrap());
    let said = std::fs::read_to_string(&log).unwrap();
    assert!(!said.contains("leaving a guild"), "{said}");
    assert_eq!(said.matches("a guild that is named").count(), 1, "{said}");

    // Of a guild that has no home nobody misses anything.
    std::fs::rename(house.file(), house.safe.path().join("away.loft")).unwrap();
    let running = start();
    logged("leaving a guild that is not on the list").await;
    assert!(!running.stop().unwrap());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn check_says_whether_a_watcher_can_be_told_of_health() {
    let house = House::open().await;
    let free = Health::free().at;
    let (said, exit) = house.does(&["check", "--health", &free]).await;
    assert!(
        exit == 0 && said.contains(&format!("{free} is free")),
        "{said}"
    );
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let at = taken.local_addr().unwrap().to_string();
    let (said, exit) = house.does(&["check", "--health", &at]).await;
    assert!(exit == 2 && said.contains("WRONG: Health: "), "{said}");
    assert!(
        said.contains(&at) && said.contains("LOFTWATCH_HEALTH"),
        "{said}"
    );
}
