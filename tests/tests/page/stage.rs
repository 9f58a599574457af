//! The demo to look at: the invented home with the real bot in this process, its clock standing at the demo's first
//! minute. Decides that each test has a home of its own; leaves the browser to `driver` and `browser`.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use bot::{Exit, Stop};
use chrono::{DateTime, Utc};
use demo_guild::Dial;
use demo_guild::show::{self, Show, Wishes};

use crate::browser::Page;
use crate::driver::{self, Screen};

/// The home with its history, made once; each test works in a copy.
static HOME: LazyLock<(PathBuf, DateTime<Utc>)> = LazyLock::new(|| {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("page-home");
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("the last run's home goes");
    }
    let home = show::folder(&wishes(&folder)).expect("a home");
    (folder, home.now)
});

/// Plays a test on a page of its own, where there is a browser.
pub fn on_stage(screen: Screen, play: impl FnOnce(&Page)) {
    on_stage_after(screen, |_| {}, play);
}

/// As [`on_stage`], in a home in which something was done before, through the chat.
pub fn on_stage_after(screen: Screen, before: impl FnOnce(&Show), play: impl FnOnce(&Page)) {
    if !driver::is_here() {
        return;
    }
    let (made, now) = &*HOME;
    let folder = tempfile::tempdir().expect("a folder");
    for file in fs::read_dir(made).expect("the home's folder") {
        let file = file.expect("a file of the home");
        fs::copy(file.path(), folder.path().join(file.file_name())).expect("a copy");
    }
    let show = Show::start(&wishes(folder.path()), *now, Stop::default()).expect("a show");
    // Time passes only where a test lets it.
    show.clock.set_rate(0.0);
    before(&show);
    let page = Page::open(&show.guild.url(), screen);
    play(&page);
    drop(page);
    assert_eq!(show.stop(), Exit::Stopped);
}

fn wishes(data: &Path) -> Wishes {
    Wishes {
        data: data.to_owned(),
        fresh: false,
        port: 0,
        headless: false,
    }
}
