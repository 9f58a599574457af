//! A file that takes nothing: a full disk, one that can only be read, a file that was taken away. Decides when people are told, who
//! cannot be told through the outbox, and that they are told when it is over. The words are `commands`'.

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

/// Whether the file takes what is written, and what people were told of it.
#[derive(Debug, Default)]
pub(super) struct Unsaved {
    lasts: Option<Lasts>,
    /// Said as soon as may be: it is over.
    over: Vec<(Channel, Message)>,
}

#[derive(Debug)]
struct Lasts {
    /// As the home was when it began: it may not be readable later.
    told: Vec<(Channel, Message)>,
    /// When it was said last, if it was.
    said: Option<Duration>,
}

impl Unsaved {
    /// Something could not be written.
    pub(super) fn begins(&mut self, state: &State) {
        self.lasts.get_or_insert_with(|| Lasts {
            told: commands::unsaved(state),
            said: None,
        });
        self.over.clear();
    }

    /// Something was written.
    pub(super) fn over(&mut self, state: &State) {
        if self.lasts.take().is_some_and(|lasts| lasts.said.is_some()) {
            self.over = commands::saved_again(state);
        }
    }

    /// Whether what was last to be written was not.
    pub(super) fn lasts(&self) -> bool {
        self.lasts.is_some()
    }

    /// What is said now. `known` is that it was tried again and failed again, so that nobody is alarmed for another program's
    /// moment with the file.
    pub(super) fn says(&mut self, known: bool, now: Moment) -> Vec<Output> {
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
