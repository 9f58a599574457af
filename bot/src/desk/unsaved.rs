//! A file that takes nothing (a full disk, one that can only be read, a file that was taken away), or calls that cannot be made
//! though it does. Decides when people are told, who cannot be told through the outbox, and that they are told when it is over. The
//! words are `commands`'.

use std::time::Duration;

use commands::State;
use commands::decision::Lane;
use commands::ids::Channel;
use commands::message::Message;

use super::{Output, Tag};
use crate::clock::Moment;
use crate::request::{Request, Route};
use crate::wire::write;

/// While it lasts it is said again after this long: what is said so is not kept and not looked for.
const AGAIN_AFTER: Duration = Duration::from_secs(600);

/// What does not work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Fails {
    /// Nobody is called: what is due cannot be found out.
    Calling,
    /// Nothing is saved, so that nobody is called either.
    Saving,
}

/// Whether the file takes what is written and calls are made, and what people were told of it.
#[derive(Debug, Default)]
pub(crate) struct Unsaved {
    lasts: Option<Lasts>,
    /// Said as soon as may be: it is over.
    over: Vec<(Channel, Message)>,
}

#[derive(Debug)]
struct Lasts {
    what: Fails,
    /// As the home was when it began: it may not be readable later.
    told: Vec<(Channel, Message)>,
    /// When it was said last, if it was.
    said: Option<Duration>,
}

impl Unsaved {
    /// It failed. Of what lasts already only the worse is news.
    pub(crate) fn begins(&mut self, what: Fails, state: &State) {
        self.over.clear();
        if self.lasts.as_ref().is_some_and(|lasts| lasts.what >= what) {
            return;
        }
        let told = match what {
            Fails::Calling => commands::uncalled(state),
            Fails::Saving => commands::unsaved(state),
        };
        self.lasts = Some(Lasts {
            what,
            told,
            said: None,
        });
    }

    /// It worked.
    pub(crate) fn over(&mut self, what: Fails, state: &State) {
        let Some(lasts) = self.lasts.take_if(|lasts| lasts.what == what) else {
            return;
        };
        if lasts.said.is_some() {
            self.over = match what {
                Fails::Calling => commands::called_again(state),
                Fails::Saving => commands::saved_again(state),
            };
        }
    }

    /// What does not work, if anything.
    pub(crate) fn lasts(&self) -> Option<Fails> {
        self.lasts.as_ref().map(|lasts| lasts.what)
    }

    /// What is said now. `known` is that it was tried again and failed again, so that nobody is alarmed for another program's
    /// moment with the file.
    pub(crate) fn says(&mut self, known: bool, now: Moment) -> Vec<Output> {
        let mut said = std::mem::take(&mut self.over);
        if let Some(lasts) = &mut self.lasts
            && known
            && lasts.said.is_none_or(|at| now.mono >= at + AGAIN_AFTER)
        {
            lasts.said = Some(now.mono);
            said.clone_from(&lasts.told);
        }
        let send = |(n, (channel, message)): (usize, (Channel, Message))| Output::Send {
            tag: Tag::Nothing,
            request: Request {
                route: Route::Post { channel: channel.0 },
                body: write::post(&message, &format!("u{}.{n}", now.wall.timestamp()), None),
                lane: Lane::Escalation,
            },
        };
        said.into_iter().enumerate().map(send).collect()
    }
}
