//! The browser and its driver as programs: whether they are here, how they are started and ended, and with what.
//! Decides that nothing leaves this machine and that nothing depends on its zone; leaves the page to `browser`.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

use loftwatch_tests::not_tested;
use serde_json::{Map, Value, json};

/// What Debian calls them.
const BROWSER: &str = "chromium";
const DRIVER: &str = "chromedriver";
/// A zone that is never the home's: what the page shows must not depend on where it is looked at.
const ELSEWHERE: &str = "Asia/Kathmandu";
/// No name but this machine's own is looked up, so nothing leaves it.
const FLAGS: [&str; 11] = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
    "--lang=en-US",
];
/// Without a screen there is no mouse either; this says that there is one, which points finely and can hover.
const MOUSE: &str = "--blink-settings=primaryPointerType=4,availablePointerTypes=4,primaryHoverType=2,availableHoverTypes=2";

/// What the page is looked at on.
#[derive(Clone, Copy, Debug)]
pub enum Screen {
    /// 390 by 844, touched.
    Phone,
    /// 1440 by 900, with a mouse.
    Desk,
    /// As wide, and high enough for long cards.
    Tall,
}

impl Screen {
    /// Width and height of the page on it, in CSS pixels.
    pub fn size(self) -> (u32, u32) {
        match self {
            Screen::Phone => (390, 844),
            Screen::Desk => (1440, 900),
            Screen::Tall => (1440, 1040),
        }
    }
}

/// The driver's process; it is ended when dropped.
pub struct Driver {
    process: Child,
    /// Where it listens.
    pub url: String,
}

/// Whether there is a browser to test with. Where tests must run, its absence is a failure.
pub fn is_here() -> bool {
    let missing: Vec<&str> = [BROWSER, DRIVER]
        .into_iter()
        .filter(|name| !on_path(name))
        .collect();
    if missing.is_empty() {
        return true;
    }
    let missing = missing.join(" and ");
    #[allow(
        clippy::disallowed_methods,
        reason = "whether tests may be left out is said by whoever runs them; it is no setting of the program"
    )]
    let must = std::env::var_os("CI").is_some();
    assert!(!must, "{missing} not found: the page cannot be tested");
    not_tested(&format!("the page, because {missing} was not found"));
    false
}

fn on_path(program: &str) -> bool {
    let asked = Command::new(program)
        .arg("--version")
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    asked.is_ok_and(|status| status.success())
}

impl Driver {
    /// Starts it on a free port.
    pub fn start() -> Self {
        let mut process = Command::new(DRIVER)
            .env("TZ", ELSEWHERE)
            .args(["--port=0", "--allowed-ips=127.0.0.1"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the driver");
        let out = BufReader::new(process.stdout.take().expect("what the driver says"));
        let mut lines = out.lines();
        let port = lines.by_ref().find_map(|line| {
            let line = line.ok()?;
            let port = line.split_once("successfully on port ")?.1;
            port.trim_end_matches('.').parse::<u16>().ok()
        });
        // Read on, so that the driver never waits for somebody to read.
        std::thread::spawn(move || lines.for_each(drop));
        let port = port.expect("the driver says its port");
        Self {
            process,
            url: format!("http://127.0.0.1:{port}"),
        }
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // Ended already, or ended now: either is the end of it.
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// What a session is asked for.
pub fn capabilities(profile: &Path, screen: Screen) -> Map<String, Value> {
    let mut flags: Vec<String> = FLAGS.iter().map(|flag| (*flag).to_owned()).collect();
    flags.push(format!("--user-data-dir={}", profile.display()));
    let (width, height) = screen.size();
    let touch = matches!(screen, Screen::Phone);
    if !touch {
        flags.push(MOUSE.to_owned());
    }
    // The emulated size is that of the page itself, which no window is smaller than otherwise.
    let metrics =
        json!({"width": width, "height": height, "pixelRatio": 1, "mobile": touch, "touch": touch});
    let wanted = json!({
        "browserName": "chrome",
        "goog:loggingPrefs": {"browser": "ALL"},
        "goog:chromeOptions": {
            "args": flags,
            "mobileEmulation": {"deviceMetrics": metrics},
        },
    });
    serde_json::from_value(wanted).expect("capabilities")
}
