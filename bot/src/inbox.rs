//! The letter box of one desk. Decides how much may wait and what is worth waking the desk for; a full
//! box refuses, so that one stalled desk never blocks the gateway, and nobody fills it alone, so that one phone never
//! shuts a unit out.

use std::collections::{BTreeMap, VecDeque};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use commands::Said;
use commands::ids::Person;

use crate::desk::Input;
use crate::event::Heard;

/// The most requests of people that wait at one desk.
const WAITING_MAX: usize = 256;
/// Of these, one person's: more than anybody taps in the time that a desk takes to look.
const WAITING_OF_ONE_MAX: usize = 8;
/// The most that a desk takes at once: one commit's worth.
pub const TAKEN_MAX: usize = 64;

/// Letters for one desk.
#[derive(Default)]
pub struct Inbox {
    inner: Mutex<Inner>,
    bell: Condvar,
    /// How often letters were looked for, or the desk said that it goes on.
    taken: AtomicU64,
}

#[derive(Default)]
struct Inner {
    letters: VecDeque<Input>,
    /// Good news that nobody waits for.
    quiet: Vec<Input>,
    /// Requests of people that wait: all, and each one's own.
    heard: usize,
    heard_of: BTreeMap<Person, usize>,
    rung: bool,
    closed: bool,
}

impl Inbox {
    /// A request of a person.
    ///
    /// # Errors
    /// The request itself, when the box is full or closed, or too many of the same person's wait.
    #[expect(
        clippy::result_large_err,
        reason = "the request goes back to be answered"
    )]
    pub fn offer(&self, heard: Heard) -> Result<(), Heard> {
        let mut inner = self.inner();
        if inner.closed {
            return Err(heard);
        }
        if is_typing(&heard) {
            // Each letter typed asks anew, and only the newest answer is looked at: it takes the place of the one before, and
            // none of what the person asks for.
            let who = heard.ask.who;
            inner.letters.retain(|letter| {
                !matches!(letter, Input::Heard(older) if older.ask.who == who && is_typing(older))
            });
            inner.letters.push_back(Input::Heard(heard));
            drop(inner);
            self.bell.notify_one();
            return Ok(());
        }
        if inner.heard >= WAITING_MAX {
            return Err(heard);
        }
        let own = inner.heard_of.entry(heard.ask.who).or_default();
        if *own >= WAITING_OF_ONE_MAX {
            return Err(heard);
        }
        *own += 1;
        inner.heard += 1;
        inner.letters.push_back(Input::Heard(heard));
        drop(inner);
        self.bell.notify_one();
        Ok(())
    }

    /// Something the desk asked for. Never refused: the desk bounds what it asks for.
    pub fn tell(&self, input: Input) {
        self.inner().letters.push_back(input);
        self.bell.notify_one();
    }

    /// Something that can wait until the desk is awake for another reason, or for a second.
    pub fn tell_quietly(&self, input: Input) {
        self.inner().quiet.push(input);
    }

    /// Wakes the desk: the clock was stepped.
    pub fn ring(&self) {
        self.inner().rung = true;
        self.bell.notify_one();
    }

    /// The desk cannot look for letters yet, because it still reads a long log; but it does not stand still.
    pub fn goes_on(&self) {
        self.taken.fetch_add(1, Ordering::Relaxed);
    }

    /// How often the desk looked for letters so far: one that is rung looks. While it reads its file, how often it went on.
    pub fn taken(&self) -> u64 {
        self.taken.load(Ordering::Relaxed)
    }

    /// Takes no more requests; what waits is still handed over.
    pub fn close(&self) {
        self.inner().closed = true;
        self.bell.notify_one();
    }

    /// Waits up to `limit` for letters and takes up to [`TAKEN_MAX`] of them. Returns whether the box
    /// is closed and empty.
    pub fn take(&self, limit: Duration, into: &mut Vec<Input>) -> bool {
        let nothing = |inner: &mut Inner| inner.letters.is_empty() && !inner.rung && !inner.closed;
        let mut inner = if limit == Duration::MAX {
            self.bell
                .wait_while(self.inner(), nothing)
                .unwrap_or_else(PoisonError::into_inner)
        } else {
            let waited = self.bell.wait_timeout_while(self.inner(), limit, nothing);
            waited.unwrap_or_else(PoisonError::into_inner).0
        };
        self.taken.fetch_add(1, Ordering::Relaxed);
        inner.rung = false;
        into.append(&mut inner.quiet);
        let count = inner.letters.len().min(TAKEN_MAX);
        for _ in 0..count {
            let Some(letter) = inner.letters.pop_front() else {
                break;
            };
            if let Input::Heard(heard) = &letter
                && !is_typing(heard)
            {
                inner.heard -= 1;
                let who = heard.ask.who;
                let left = inner.heard_of.get_mut(&who).map(|own| {
                    *own -= 1;
                    *own
                });
                if left == Some(0) {
                    inner.heard_of.remove(&who);
                }
            }
            into.push(letter);
        }
        inner.closed && inner.letters.is_empty()
    }

    fn inner(&self) -> MutexGuard<'_, Inner> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Whether it only asks what could be meant by what was typed so far.
fn is_typing(heard: &Heard) -> bool {
    matches!(heard.said, Said::Completing { .. })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::event::Way;
    use chrono::DateTime;
    use commands::ids::{Channel, Person};
    use commands::words::Lang;
    use commands::{Ask, Source};

    fn heard(id: u64, who: u64) -> Heard {
        let ask = Ask {
            source: Source::message(id),
            who: Person(who),
            chat_roles: Vec::new(),
            manages: false,
            deleted: Vec::new(),
            channel: Channel(1),
            lang: Lang::default(),
            at: DateTime::UNIX_EPOCH,
        };
        let said = Said::Mention {
            text: String::new(),
            files: false,
        };
        Heard {
            ask,
            said,
            way: Way::Message { id },
            act_by: Duration::MAX,
        }
    }

    #[test]
    fn a_full_box_refuses_and_takes_again_when_emptied() {
        let inbox = Inbox::default();
        for id in 0..WAITING_MAX as u64 {
            assert!(inbox.offer(heard(id, id)).is_ok());
        }
        assert!(inbox.offer(heard(999, 999)).is_err());
        let mut taken = Vec::new();
        assert!(!inbox.take(Duration::ZERO, &mut taken));
        assert_eq!(taken.len(), TAKEN_MAX);
        assert!(inbox.offer(heard(999, 999)).is_ok());
    }

    #[test]
    fn one_phone_shuts_nobody_out() {
        let inbox = Inbox::default();
        let taken = (0..WAITING_MAX as u64).filter(|id| inbox.offer(heard(*id, 7)).is_ok());
        assert_eq!(taken.count(), WAITING_OF_ONE_MAX);
        assert!(inbox.offer(heard(900, 8)).is_ok());
        let mut taken = Vec::new();
        inbox.take(Duration::ZERO, &mut taken);
        assert_eq!(taken.len(), WAITING_OF_ONE_MAX + 1);
        // What was taken is forgotten.
        assert!(inbox.offer(heard(901, 7)).is_ok());
        assert_eq!(inbox.inner().heard_of.len(), 1);
    }

    #[test]
    fn what_is_still_being_typed_takes_no_place_of_what_is_asked() {
        let inbox = Inbox::default();
        let typing = |id| {
            let mut typing = heard(id, 7);
            typing.said = Said::Completing {
                path: "alarm".into(),
                options: BTreeMap::new(),
                focused: "surface".into(),
            };
            typing
        };
        for id in 0..WAITING_MAX as u64 {
            assert!(inbox.offer(typing(id)).is_ok());
        }
        for id in 0..WAITING_OF_ONE_MAX as u64 {
            assert!(inbox.offer(heard(1_000 + id, 7)).is_ok());
        }
        let mut taken = Vec::new();
        inbox.take(Duration::ZERO, &mut taken);
        let Input::Heard(first) = &taken[0] else {
            panic!("nobody was heard")
        };
        // The newest alone.
        assert_eq!(first.ask.source, Source::message(WAITING_MAX as u64 - 1));
        assert_eq!(taken.len(), 1 + WAITING_OF_ONE_MAX);
        assert!(inbox.inner().heard_of.is_empty());
        assert_eq!(inbox.inner().heard, 0);
    }

    #[test]
    fn a_closed_box_hands_over_what_waits() {
        let inbox = Inbox::default();
        assert!(inbox.offer(heard(1, 1)).is_ok());
        inbox.close();
        assert!(inbox.offer(heard(2, 1)).is_err());
        let mut taken = Vec::new();
        assert!(inbox.take(Duration::MAX, &mut taken));
        assert_eq!(taken.len(), 1);
    }
}
