//! One facility's state and file, side by side. Decides nothing but the numbering: a cause is decided on
//! the state and applied to it at once; whoever calls commits it or reads the state back from the file.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use commands::decision::Post;
use commands::ids::{Guild, Person};
use commands::message::Answer;
use commands::record::Record;
use commands::{Decision, Source, State};
use store::{Owed, Store, StoreError};

use super::reply::unanswered;
use crate::clock::Moment;
use crate::event::{Heard, Way};
use crate::owed;
use crate::wire::write;

/// The state and the file it is in.
pub(super) struct Memory {
    pub(super) store: Store,
    pub(super) state: State,
    /// Records since the newest snapshot.
    pub(super) since_snapshot: u64,
}

/// What one cause did, held back until it is on disk.
pub(super) struct Cause {
    pub(super) source: Source,
    pub(super) who: Option<Person>,
    pub(super) records: Vec<Record>,
    pub(super) posts: Vec<Post>,
    pub(super) owed: Option<Owed>,
    pub(super) reply: Option<Reply>,
}

/// How a cause is answered.
pub(super) enum Reply {
    /// Owed: kept with the cause.
    Owed { on_message: bool },
    /// Nothing was recorded, so nothing is lost when it does not come through.
    Plain { heard: Box<Heard>, answer: Answer },
}

/// A request that could not be decided.
pub(super) struct Failed {
    pub(super) heard: Box<Heard>,
    /// The state holds more than the file ever will.
    pub(super) state_spoilt: bool,
}

impl Memory {
    pub(super) fn open(folder: &Path, guild: Guild) -> Result<Self, StoreError> {
        let store = Store::open(folder, guild)?;
        let state = store.replay()?;
        Ok(Self {
            store,
            state,
            since_snapshot: 0,
        })
    }

    /// Decides one request and applies it.
    pub(super) fn decide(&mut self, heard: Heard, now: Moment) -> Result<Cause, Failed> {
        let state = &self.state;
        let asked = AssertUnwindSafe(|| commands::answer(state, &heard.ask, &heard.said));
        let Ok(mut decision) = catch_unwind(asked) else {
            tracing::error!("deciding failed");
            return Err(Failed {
                heard: Box::new(heard),
                state_spoilt: false,
            });
        };
        let recorded = !decision.entries.is_empty() || !decision.posts.is_empty();
        let answer = decision
            .answer
            .take()
            .unwrap_or_else(|| unanswered(&heard, recorded));
        let answer = match (answer, &heard.way) {
            (Answer::Replace(message), Way::Interaction { public: true, .. }) => {
                Answer::Replace(commands::in_public(&self.state, &message))
            }
            (answer, _) => answer,
        };
        let (source, who) = (heard.ask.source.clone(), heard.ask.who);
        let mut cause = match self.apply(source, Some(who), decision, now) {
            Ok(cause) => cause,
            Err(_spoilt) => {
                return Err(Failed {
                    heard: Box::new(heard),
                    state_spoilt: true,
                });
            }
        };
        if recorded && write::message_of(&answer).is_some() {
            let (interaction, token, on_message) = match heard.way {
                Way::Interaction {
                    id,
                    token,
                    on_message,
                    deferred,
                    ..
                } => (owed::number(id, deferred), token.0, on_message),
                Way::Message { id } => (id, String::new(), false),
            };
            cause.owed = Some(Owed {
                interaction,
                token,
                channel: heard.ask.channel,
                who,
                lang: heard.ask.lang,
                answer,
            });
            cause.reply = Some(Reply::Owed { on_message });
        } else {
            cause.reply = Some(Reply::Plain {
                heard: Box::new(heard),
                answer,
            });
        }
        Ok(cause)
    }

    /// Numbers and applies what a decision records. An error leaves the state spoilt.
    pub(super) fn apply(
        &mut self,
        source: Source,
        who: Option<Person>,
        decision: Decision,
        now: Moment,
    ) -> Result<Cause, ()> {
        let first = self.state.next_no();
        let mut records = Vec::with_capacity(decision.entries.len());
        for entry in decision.entries {
            let record = Record {
                no: self.state.next_no(),
                at: entry.at,
                entered: now.facility,
                who,
                role: entry.role,
                first,
                body: entry.body,
                note: entry.note,
            };
            if let Err(fault) = self.state.apply(&record) {
                tracing::error!(
                    source = source.0,
                    no = fault.no.0,
                    "a decision cannot follow on the state"
                );
                return Err(());
            }
            records.push(record);
        }
        Ok(Cause {
            source,
            who,
            records,
            posts: decision.posts,
            owed: None,
            reply: None,
        })
    }
}

impl Cause {
    /// Whether there is anything to write.
    pub(super) fn writes(&self) -> bool {
        !self.records.is_empty() || !self.posts.is_empty()
    }
}
