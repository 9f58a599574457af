//! The measured programs as processes of their own: built, started, looked at from outside, stopped.
//! Decides what is read of a process and where; leaves when to read it to the rounds.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use anyhow::{Context, ensure};
use bot::clock::mono;
use rustix::process::{Pid, Signal, kill_process};

/// How long a program may take to stop by itself.
const STOP_WITHIN: Duration = Duration::from_secs(10);

/// Where the programs are.
#[derive(Clone, Debug)]
pub struct Programs {
    folder: PathBuf,
}

impl Programs {
    /// Builds both programs as this one was built, into the folder where this one is.
    ///
    /// # Errors
    /// They do not build, or this program does not stand in a target folder.
    pub fn build() -> anyhow::Result<Programs> {
        let own = std::env::current_exe()?;
        // A test stands one folder further down.
        let folder = own
            .ancestors()
            .skip(1)
            .find(|folder| !folder.ends_with("deps"))
            .context("a folder of programs")?
            .to_owned();
        let target = folder.parent().context("a target folder")?;
        let mut cargo = Command::new(env!("CARGO"));
        // What cargo told this program of its own package is not for the building of others: ring is built anew where it finds
        // another name there, and with it half of all that there is.
        for (name, _) in std::env::vars_os() {
            let own = name.to_str().is_some_and(|name| {
                ["CARGO_PKG_", "CARGO_MANIFEST_", "CARGO_BIN_"]
                    .iter()
                    .any(|own| name.starts_with(own))
            });
            if own {
                cargo.env_remove(name);
            }
        }
        if cfg!(debug_assertions) {
            // Of the whole workspace, as its tests are: any other choice of packages makes another choice of features, and
            // everything that they share is built once more.
            cargo.args(["test", "--workspace", "--no-run"]);
        } else {
            cargo
                .args(["build", "--release", "--package", "loftwatch"])
                .args(["--package", "loftwatch-tests"])
                .args(["--bin", "loftwatch", "--bin", "bare"]);
        }
        cargo
            .args(["--quiet", "--target-dir"])
            .arg(target)
            .current_dir(env!("CARGO_MANIFEST_DIR"));
        let status = cargo.status().context("cargo")?;
        ensure!(status.success(), "the measured programs do not build");
        Ok(Programs { folder })
    }

    /// Where loftwatch is, for whoever asks it for something else than to serve.
    pub fn path(&self) -> PathBuf {
        self.folder.join("loftwatch")
    }

    /// Starts the bare bot.
    ///
    /// # Errors
    /// It cannot be started.
    pub fn bare(&self, url: &str, token: &str, data: &Path) -> anyhow::Result<Process> {
        let mut command = Command::new(self.folder.join("bare"));
        command.args([url, token]).arg(data.join("bare.db"));
        Process::start(command, data)
    }

    /// What starts loftwatch, for whoever sets more.
    pub fn run(&self, url: &str, token: &str, data: &Path, guilds: &[u64]) -> Command {
        let guilds: Vec<String> = guilds.iter().map(u64::to_string).collect();
        let mut command = Command::new(self.path());
        command
            .arg("run")
            .env("LOFTWATCH_TOKEN", token)
            .env("LOFTWATCH_CHAT_URL", url)
            .env("LOFTWATCH_DATA", data)
            .env("LOFTWATCH_GUILDS", guilds.join(","))
            .env_remove("RUST_LOG");
        command
    }

    /// Starts loftwatch with the three settings that it has anywhere, and the guilds it serves.
    ///
    /// # Errors
    /// It cannot be started.
    pub fn loftwatch(
        &self,
        url: &str,
        token: &str,
        data: &Path,
        guilds: &[u64],
    ) -> anyhow::Result<Process> {
        Process::start(self.run(url, token, data, guilds), data)
    }
}

/// A running program. Dropping it ends it as a power cut would.
pub struct Process {
    child: Child,
    log: PathBuf,
    /// When it was started.
    pub started: Duration,
}

/// Resident memory, in kB.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Memory {
    /// Now.
    pub now_kb: u64,
    /// The most so far.
    pub most_kb: u64,
}

impl Process {
    /// Starts it; what it says goes into a file in `data`.
    ///
    /// # Errors
    /// It cannot be started.
    pub fn start(mut command: Command, data: &Path) -> anyhow::Result<Process> {
        let log = data.join("said.txt");
        let out = File::options().create(true).append(true).open(&log)?;
        command
            .stdin(Stdio::null())
            .stdout(out.try_clone()?)
            .stderr(out);
        let started = mono();
        let child = command
            .spawn()
            .with_context(|| format!("{:?} does not start", command.get_program()))?;
        Ok(Process {
            child,
            log,
            started,
        })
    }

    /// Its process id.
    pub fn id(&self) -> u32 {
        self.child.id()
    }

    /// CPU time so far, user and system, in ms. The kernel tells it in ticks of 10 ms.
    ///
    /// # Errors
    /// The process has gone.
    pub fn cpu_ms(&self) -> anyhow::Result<f64> {
        let stat = self.proc("stat")?;
        // The name in parentheses may hold spaces; `utime` and `stime` are the 12th and 13th field after it.
        let after = stat.rsplit_once(')').context("a line of stat")?.1;
        let mut fields = after.split_whitespace().skip(11);
        let mut next = || -> anyhow::Result<u64> {
            Ok(fields.next().context("a shorter line of stat")?.parse()?)
        };
        let ticks = next()? + next()?;
        Ok(ticks as f64 * 1_000.0 / rustix::param::clock_ticks_per_second() as f64)
    }

    /// Resident memory.
    ///
    /// # Errors
    /// The process has gone.
    pub fn memory(&self) -> anyhow::Result<Memory> {
        let status = self.proc("status")?;
        let kb = |name: &str| -> anyhow::Result<u64> {
            let line = status.lines().find_map(|line| line.strip_prefix(name));
            let word = line.and_then(|line| line.split_whitespace().next());
            Ok(word.context("no such line in status")?.parse()?)
        };
        Ok(Memory {
            now_kb: kb("VmRSS:")?,
            most_kb: kb("VmHWM:")?,
        })
    }

    /// Asks it to stop as a supervisor of services would, and waits; says whether it had to be killed.
    ///
    /// # Errors
    /// It cannot be waited for.
    pub fn stop(mut self) -> anyhow::Result<bool> {
        let asked = mono();
        if let Some(pid) = i32::try_from(self.child.id()).ok().and_then(Pid::from_raw) {
            kill_process(pid, Signal::TERM)?;
        }
        while mono() - asked < STOP_WITHIN {
            if self.child.try_wait()?.is_some() {
                return Ok(false);
            }
            std::thread::sleep(Duration::from_millis(10));
        }
        self.child.kill()?;
        self.child.wait()?;
        Ok(true)
    }

    /// Still there; otherwise an error with what it said.
    ///
    /// # Errors
    /// It has ended.
    pub fn check(&mut self) -> anyhow::Result<()> {
        if let Some((code, said)) = self.ended()? {
            anyhow::bail!("a measured program ended by itself ({code:?}): {said}");
        }
        Ok(())
    }

    /// How it ended and what it said, once it has: its exit code, or none where it was killed.
    ///
    /// # Errors
    /// It cannot be asked after.
    pub fn ended(&mut self) -> anyhow::Result<Option<(Option<i32>, String)>> {
        let ended = self.child.try_wait()?;
        Ok(ended.map(|status| {
            let said = std::fs::read_to_string(&self.log).unwrap_or_default();
            (status.code(), said)
        }))
    }

    fn proc(&self, file: &str) -> anyhow::Result<String> {
        std::fs::read_to_string(format!("/proc/{}/{file}", self.child.id()))
            .context("a measured program has gone")
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        // Nothing to be done where it has gone already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// How busy the whole machine was, for telling how much of it was ours.
#[derive(Clone, Copy, Debug, Default)]
pub struct Machine {
    /// Busy time of all cores so far, in ms.
    busy_ms: f64,
    /// Of that taken by other machines on the same host.
    stolen_ms: f64,
}

impl Machine {
    /// Now; nothing where the kernel does not tell.
    pub fn now() -> Machine {
        let stat = std::fs::read_to_string("/proc/stat").unwrap_or_default();
        let line = stat.lines().next().unwrap_or_default();
        let ticks: Vec<f64> = line
            .split_whitespace()
            .skip(1)
            .filter_map(|word| word.parse().ok())
            .collect();
        let ms = 1_000.0 / rustix::param::clock_ticks_per_second() as f64;
        // user, nice, system, idle, iowait, irq, softirq, steal
        let of = |wanted: &[usize]| wanted.iter().filter_map(|n| ticks.get(*n)).sum::<f64>() * ms;
        Machine {
            busy_ms: of(&[0, 1, 2, 5, 6, 7]),
            stolen_ms: of(&[7]),
        }
    }

    /// Busy and stolen time since, in ms.
    pub fn since(self, before: Machine) -> (f64, f64) {
        (
            self.busy_ms - before.busy_ms,
            self.stolen_ms - before.stolen_ms,
        )
    }
}

/// CPU time of this process so far, in ms.
pub fn own_cpu_ms() -> f64 {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::ProcessCPUTime);
    time.tv_sec as f64 * 1_000.0 + time.tv_nsec as f64 / 1e6
}
