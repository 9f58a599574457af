//! Everything that the program logs while a story is told. Decides what must never be in it: the words that people type
//! in a note, and what lets somebody answer in their place.

use std::io;
use std::sync::{Arc, Mutex, PoisonError};

use tracing_subscriber::fmt::MakeWriter;

/// Stands in every note and every odd text that people type in a story.
pub const CANARY: &str = "violet lantern";

/// Listens to what this thread logs.
#[derive(Clone, Default)]
pub struct Ears(Arc<Mutex<Vec<u8>>>);

/// What was logged.
pub struct Logged(String);

impl Ears {
    /// Does something and returns what it logged meanwhile, at every level.
    pub fn listen<T>(self, work: impl FnOnce() -> T) -> (T, Logged) {
        let subscriber = tracing_subscriber::fmt()
            .with_max_level(tracing::Level::TRACE)
            .with_ansi(false)
            .with_writer(self.clone())
            .finish();
        let done = tracing::subscriber::with_default(subscriber, work);
        let bytes = std::mem::take(&mut *self.0.lock().unwrap_or_else(PoisonError::into_inner));
        (done, Logged(String::from_utf8_lossy(&bytes).into_owned()))
    }
}

impl Logged {
    /// Lines that give something away.
    pub fn leaks(&self) -> Vec<String> {
        let secret = |line: &&str| line.contains(CANARY) || line.contains("token-");
        let lines = self.0.lines().filter(secret).take(3);
        lines
            .map(|line| format!("a line of the log gives away what was typed: {line}"))
            .collect()
    }
}

impl<'a> MakeWriter<'a> for Ears {
    type Writer = Pen;

    fn make_writer(&'a self) -> Pen {
        Pen(self.0.clone())
    }
}

/// Writes one line.
pub struct Pen(Arc<Mutex<Vec<u8>>>);

impl io::Write for Pen {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
