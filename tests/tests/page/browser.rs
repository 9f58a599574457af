//! A browser with the demo's page open. Decides how things are found, waited for and tapped; leaves starting the browser
//! to `driver`, and what should be seen to the tests.
//!
//! Everything waits for what it looks for, and no test sleeps: a page that is slow is no failure, a page on which the
//! thing never comes is.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use fantoccini::error::CmdError;
use fantoccini::key::Key;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tokio::runtime::Runtime;

use crate::driver::{Driver, Screen, capabilities};

/// How long something may take to come; the machine may be busy with other tests.
const PATIENCE: Duration = Duration::from_secs(20);
/// How often it is looked for.
const LOOK_EVERY: Duration = Duration::from_millis(40);
/// What the browser says of a page, worst first, from which on it is a defect.
const DEFECTS: [&str; 2] = ["SEVERE", "WARNING"];
/// Puts what still moves where it is going.
const STILL: &str = "document.getAnimations().forEach(moving => moving.finish())";

/// A browser with the page open. Ends itself.
pub struct Page {
    client: Client,
    driver: Driver,
    runtime: Runtime,
    /// The browser's own folder, empty at first.
    profile: tempfile::TempDir,
    shots: PathBuf,
    screen: Screen,
}

/// One of the phones on the page.
#[derive(Clone, Copy)]
pub struct Phone<'a> {
    page: &'a Page,
    n: usize,
}

impl Page {
    /// Opens the page, and waits until its phones are there.
    pub fn open(url: &str, screen: Screen) -> Self {
        let driver = Driver::start();
        let profile = tempfile::tempdir().expect("a folder for the browser");
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .expect("a runtime");
        let capabilities = capabilities(profile.path(), screen);
        let client = runtime
            .block_on(
                ClientBuilder::new(HttpConnector::new())
                    .capabilities(capabilities)
                    .connect(&driver.url),
            )
            .expect("a session of the browser");
        let shots = Path::new(env!("CARGO_TARGET_TMPDIR")).join("page-pictures");
        fs::create_dir_all(&shots).expect("a folder for pictures");
        let page = Self {
            client,
            driver,
            runtime,
            profile,
            shots,
            screen,
        };
        page.run(page.client.goto(url));
        page.see("[data-test='phone-1']");
        page.until("loftwatch is connected", || {
            page.text("#try-next").contains("Tap one").then_some(())
        });
        page
    }

    /// The phone in this place, counted from 1. On a narrow screen it is brought to the front.
    pub fn phone(&self, n: usize) -> Phone<'_> {
        if matches!(self.screen, Screen::Phone) {
            let tab = format!("[data-test='tab-{n}']");
            let pressed = self.ask(
                "return document.querySelector(arguments[0]).ariaPressed",
                &tab,
            );
            if pressed != "true" {
                self.tap(&tab);
            }
        }
        Phone { page: self, n }
    }

    /// Gives a phone to somebody, with this channel open.
    pub fn hold(&self, phone: Phone<'_>, person: &str, channel: &str) {
        let switch = phone.at("[data-test='person-switch']");
        let choosing = async {
            let switch = self.client.find(Locator::Css(&switch)).await?;
            switch.select_by_label(person).await
        };
        self.run(choosing);
        phone.tap(&format!("channel-{channel}"));
    }

    /// Taps what this selector finds, once it is there and nothing lies on it.
    pub fn tap(&self, css: &str) {
        self.tap_at(Locator::Css(css), css);
    }

    /// Taps what shows exactly this text, as somebody would who reads the page. What is out of sight does not count.
    pub fn tap_text(&self, text: &str) {
        self.tap_words(&format!("normalize-space() = '{text}'"), text);
    }

    /// Taps the first thing that shows this text somewhere in it.
    pub fn tap_text_with(&self, text: &str) {
        self.tap_words(&format!("contains(normalize-space(), '{text}')"), text);
    }

    fn tap_words(&self, test: &str, text: &str) {
        let path =
            format!("//*[self::button or self::label or self::summary or @role='option'][{test}]");
        self.until(&format!("\"{text}\" in sight"), || {
            let found = self.run(self.client.find_all(Locator::XPath(&path)));
            found.into_iter().find(|found| {
                let sight = "const r = arguments[0].getBoundingClientRect(); \
                    const at = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2); \
                    return Boolean(at) && (arguments[0] === at || arguments[0].contains(at))";
                let element = serde_json::to_value(found).expect("a reference");
                let seen = self
                    .runtime
                    .block_on(self.client.execute(sight, vec![element]));
                // One that was drawn anew meanwhile is looked for again.
                seen.is_ok_and(|seen| seen == true) && self.runtime.block_on(found.click()).is_ok()
            })
        });
    }

    fn tap_at(&self, at: Locator<'_>, what: &str) {
        self.until(&format!("{what} to tap"), || {
            let tap = async { self.client.find(at).await?.click().await };
            match self.runtime.block_on(tap) {
                Ok(()) => Some(()),
                Err(CmdError::Standard(why)) => {
                    // Not there yet, not shown yet, drawn anew meanwhile, or a sheet is still rising over it.
                    assert!(!why.message.contains("invalid selector"), "{why}");
                    None
                }
                Err(why) => panic!("{what}: {why}"),
            }
        });
    }

    /// Types into what has the focus.
    pub fn keys(&self, text: &str) {
        let typing = async { self.client.active_element().await?.send_keys(text).await };
        self.run(typing);
    }

    /// Presses one key in what has the focus.
    pub fn press(&self, key: Key) {
        self.keys(&char::from(key).to_string());
    }

    /// Replaces what stands in a field.
    pub fn write(&self, css: &str, text: &str) {
        self.see(css);
        let writing = async {
            let field = self.client.find(Locator::Css(css)).await?;
            field.clear().await?;
            field.send_keys(text).await
        };
        self.run(writing);
    }

    /// Waits until something is shown there.
    pub fn see(&self, css: &str) {
        self.until(&format!("{css} to see"), || self.shown(css).then_some(()));
    }

    /// Waits until nothing is shown there.
    pub fn see_gone(&self, css: &str) {
        self.until(&format!("{css} to go"), || (!self.shown(css)).then_some(()));
    }

    /// Whether something is shown there now.
    pub fn shown(&self, css: &str) -> bool {
        let look = "return [...document.querySelectorAll(arguments[0])].some(e => e.checkVisibility() && e.getClientRects().length > 0)";
        self.ask(look, css) == true
    }

    /// What is written there now, with its first letter case kept; nothing where there is none.
    pub fn text(&self, css: &str) -> String {
        let look = "const e = document.querySelector(arguments[0]); return e ? e.innerText : ''";
        self.ask(look, css).as_str().unwrap_or_default().to_owned()
    }

    /// What is written in each thing of the kind that is shown.
    pub fn texts(&self, css: &str) -> Vec<String> {
        let look = "return [...document.querySelectorAll(arguments[0])].filter(e => e.checkVisibility()).map(e => e.innerText)";
        let texts = self.ask(look, css);
        serde_json::from_value(texts).expect("texts")
    }

    /// What stands in a field now.
    pub fn value(&self, css: &str) -> String {
        let look = "return document.querySelector(arguments[0]).value";
        self.ask(look, css).as_str().unwrap_or_default().to_owned()
    }

    /// What a script of one argument answers.
    pub fn ask(&self, script: &str, argument: &str) -> Value {
        self.run(self.client.execute(script, vec![json!(argument)]))
    }

    /// Waits until there is one.
    pub fn until<T>(&self, what: &str, mut look: impl FnMut() -> Option<T>) -> T {
        // Looks are counted rather than timed: on a busy machine each takes longer, and more time is then right.
        let looks = PATIENCE.as_millis() / LOOK_EVERY.as_millis();
        for _ in 0..looks {
            if let Some(found) = look() {
                return found;
            }
            std::thread::sleep(LOOK_EVERY);
        }
        let shot = self.shoot("not-found");
        panic!(
            "waited for {what}; what was there instead is in {}",
            shot.display()
        );
    }

    /// Keeps a picture of the page as it is now, and says where.
    pub fn shoot(&self, name: &str) -> PathBuf {
        let size = match self.screen {
            Screen::Phone => "phone",
            Screen::Desk => "desk",
            Screen::Tall => "tall",
        };
        let thread = std::thread::current();
        let test = thread.name().unwrap_or("page").replace("::", "-");
        let path = self.shots.join(format!("{test}-{name}-{size}.png"));
        self.ask(STILL, "");
        let picture = self.run(self.client.screenshot());
        fs::write(&path, picture).expect("the picture can be kept");
        println!("picture: {}", path.display());
        path
    }

    /// Fails when something is wider than the place it has, or when the browser complained about the page.
    pub fn is_sound(&self) {
        // The screen's own width: a page that is too wide makes the window count as wider, too.
        let (screen, _) = self.screen.size();
        let wide = "const places = [document.documentElement, ...document.querySelectorAll('.log, .sheet, .sheet-body')]; \
            return places.filter(e => e.scrollWidth > Math.min(e.clientWidth, arguments[0])).map(e => `${e.className || 'page'}: ${e.scrollWidth} wide`)";
        let wide = self.run(self.client.execute(wide, vec![json!(screen)]));
        assert_eq!(wide, json!([]), "too wide for {screen}");
        let complaints = self.complaints();
        assert!(complaints.is_empty(), "{complaints:#?}");
    }

    /// What the browser said of the page since it was asked last.
    fn complaints(&self) -> Vec<Value> {
        let asked = async {
            let session = self.client.session_id().await?.unwrap_or_default();
            let log = format!("{}/session/{session}/se/log", self.driver.url);
            let answer = reqwest::Client::new()
                .post(log)
                .body(json!({"type": "browser"}).to_string())
                .send()
                .await;
            Ok(answer
                .expect("the browser's log")
                .text()
                .await
                .expect("text"))
        };
        let text: String = self.run(asked);
        let mut answer: Value = serde_json::from_str(&text).expect("JSON");
        let said: Vec<Value> =
            serde_json::from_value(answer["value"].take()).expect("a list of lines");
        said.into_iter()
            .filter(|said| DEFECTS.iter().any(|level| said["level"] == *level))
            .collect()
    }

    fn run<T>(&self, doing: impl Future<Output = Result<T, CmdError>>) -> T {
        self.runtime
            .block_on(doing)
            .expect("the browser does as asked")
    }
}

impl Drop for Page {
    fn drop(&mut self) {
        // The browser is the driver's to end; without this it would outlive the driver.
        let closing = self.client.clone().close();
        let closed = self.runtime.block_on(closing);
        if let Err(why) = closed
            && !std::thread::panicking()
        {
            eprintln!(
                "the browser in {} was not closed: {why}",
                self.profile.path().display()
            );
        }
    }
}

impl Phone<'_> {
    /// A selector of something on this phone.
    pub fn at(self, css: &str) -> String {
        format!("[data-test='phone-{}'] {css}", self.n)
    }

    /// Taps what carries this mark on this phone; of several, the last, which is the newest entry's.
    pub fn tap(self, test: &str) {
        let path = format!(
            "(//*[@data-test='phone-{}']//*[@data-test='{test}'])[last()]",
            self.n
        );
        self.page.tap_at(
            Locator::XPath(&path),
            &format!("{test} on phone {}", self.n),
        );
    }

    /// Writes into the field of this option.
    pub fn write(self, option: &str, text: &str) {
        self.page
            .write(&self.at(&format!("[data-test='field-{option}']")), text);
    }

    /// Opens a command's sheet as somebody does who knows its name.
    pub fn command(self, name: &str) {
        self.tap("log-button");
        self.tap(&format!("command-{name}"));
        self.page
            .see(&self.at(&format!("[data-test='sheet-{name}']")));
    }

    /// The entries that are open on this phone, oldest first.
    pub fn entries(self) -> Vec<String> {
        self.page.texts(&self.at("[data-test='message']"))
    }

    /// Waits for an entry that holds all of these words, and gives it whole.
    pub fn entry(self, words: &[&str]) -> String {
        self.page.until(
            &format!("an entry with {words:?} on phone {}", self.n),
            || {
                let entries = self.entries().into_iter().rev();
                entries
                    .into_iter()
                    .find(|entry| words.iter().all(|word| entry.contains(word)))
            },
        )
    }

    /// How high the newest entry is, and the room for entries, in CSS pixels.
    pub fn newest_height(self) -> (u64, u64) {
        let look = "const log = document.querySelector(arguments[0]).getBoundingClientRect(); \
            const all = document.querySelectorAll(`${arguments[0]} [data-test='message']`); \
            return [all[all.length - 1].getBoundingClientRect().height, log.height].map(Math.ceil)";
        let heights = self.page.ask(look, &self.at("[data-test='log']"));
        let height = |place: usize| heights[place].as_u64().expect("a height");
        (height(0), height(1))
    }

    /// Fails when the newest entry has run out of sight, above or below.
    pub fn newest_is_in_sight(self) {
        let look = "const log = document.querySelector(arguments[0]).getBoundingClientRect(); \
            const all = document.querySelectorAll(`${arguments[0]} [data-test='message']`); \
            const last = all[all.length - 1].getBoundingClientRect(); \
            const fits = last.height <= log.height; \
            return fits ? last.bottom <= log.bottom + 2 && last.top >= log.top - 2 : last.top < log.bottom - 40";
        self.page.until("the newest entry in sight", || {
            (self.page.ask(look, &self.at("[data-test='log']")) == true).then_some(())
        });
    }
}
