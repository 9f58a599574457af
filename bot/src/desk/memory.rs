//! One facility's state and file, side by side. Decides nothing but the numbering: a cause is decided on
//! the state and applied to it at once; whoever calls commits it or reads the state back from the file.

use std::collections::{BTreeMap, BTreeSet};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use chrono::{DateTime, Utc};
use commands::decision::Post;
use commands::ids::{Guild, Person, RecordNo};
use commands::message::Answer;
use commands::past::Read;
use commands::record::{Body, Record};
use commands::words::Lang;
use commands::{Decision, Source, State, Wanted};
use store::{Owed, Owing, Store, StoreError};

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
    /// What was last heard of each person's language, of those that were heard since the file was opened.
    languages: BTreeMap<Person, Lang>,
    /// Those of whom the file does not say so yet.
    unkept: BTreeSet<Person>,
}

/// The setting that keeps a person's language; it is no fact of the home, so that it stands in no record.
fn language_setting(who: Person) -> String {
    format!("language.{}", who.0)
}

/// So many people's languages are held; those of others are read from the file when they are wanted.
const LANGUAGES_MOST: usize = 1_000;

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
    pub(super) why: Why,
}

/// Why it could not be.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Why {
    /// What it needed of the log could not be read.
    Unread,
    /// A rule failed.
    Undecided,
    /// The state holds more than the file ever will.
    Spoilt,
}

/// Whether a whole channel reads the answer, which is then in the home's language and not in the asker's.
fn read_by_all(decision: &Decision, heard: &Heard) -> bool {
    match &decision.answer {
        Some(Answer::Shared(_)) => true,
        Some(Answer::Replace(_)) => matches!(heard.way, Way::Interaction { public: true, .. }),
        Some(Answer::Private(_) | Answer::Form(_) | Answer::Choices(_) | Answer::Fetch(_))
        | None => false,
    }
}

impl Memory {
    /// `goes_on` is called again and again while a long log is read.
    pub(super) fn open(
        folder: &Path,
        guild: Guild,
        goes_on: &dyn Fn(),
    ) -> Result<Self, StoreError> {
        Self::of(Store::open(folder, guild)?, goes_on)
    }

    /// As [`Memory::open`], of a file that was open before: one that is gone is not begun anew. Nobody is told that it goes on: there is a
    /// snapshot of this run, or few records.
    pub(super) fn reopen(folder: &Path, guild: Guild) -> Result<Self, StoreError> {
        Self::of(Store::reopen(folder, guild)?, &|| {})
    }

    fn of(store: Store, goes_on: &dyn Fn()) -> Result<Self, StoreError> {
        let state = store.replay_telling(goes_on)?;
        Ok(Self {
            store,
            state,
            since_snapshot: 0,
            languages: BTreeMap::new(),
            unkept: BTreeSet::new(),
        })
    }

    /// The answers that an earlier run still owed. One that cannot be read is worth neither the others nor the home, whose calls go
    /// out from here: it is given up, and what it confirms stays recorded.
    pub(super) fn owed(&mut self, guild: Guild) -> Result<Vec<(Source, Owed)>, StoreError> {
        let Owing { answers, spoilt } = self.store.owing()?;
        for row in &spoilt {
            tracing::warn!(
                guild = guild.0,
                row,
                "an owed answer cannot be read and is given up"
            );
        }
        if !spoilt.is_empty()
            && let Err(fault) = self.store.give_up_owed(&spoilt)
        {
            tracing::warn!(guild = guild.0, %fault, "an answer that cannot be read could not be forgotten");
        }
        Ok(answers)
    }

    /// The language in which somebody was last heard; the home's is as good a guess where that cannot be read.
    pub(super) fn last_language(&self, who: Person) -> Option<Lang> {
        if let Some(lang) = self.languages.get(&who) {
            return Some(*lang);
        }
        let kept = self.store.setting(&language_setting(who)).ok().flatten();
        kept.map(|code| Lang::of_locale(&code))
    }

    /// Somebody was heard in this language.
    pub(super) fn speaks(&mut self, who: Person, lang: Lang) {
        if self.languages.get(&who) == Some(&lang) {
            return;
        }
        // What would be guessed without it is not worth a write.
        let guess = self.last_language(who).unwrap_or_else(|| self.state.lang());
        if guess != lang {
            self.unkept.insert(who);
        }
        if self.languages.len() >= LANGUAGES_MOST {
            self.keep_languages();
            self.languages.clear();
        }
        self.languages.insert(who, lang);
    }

    /// Writes the languages that are not in the file yet: after what was recorded, never for a message that records nothing. What a
    /// power cut takes of it is a guess, and is heard again.
    pub(super) fn keep_languages(&mut self) {
        for who in std::mem::take(&mut self.unkept) {
            let Some(lang) = self.languages.get(&who) else {
                continue;
            };
            let kept = self.store.set_setting(&language_setting(who), lang.code());
            if let Err(fault) = kept {
                tracing::debug!(%fault, "a person's language is not kept");
            }
        }
    }

    /// The newest moment that the file knows of, by the clock of then.
    pub(super) fn newest_moment(&self) -> Result<Option<DateTime<Utc>>, StoreError> {
        let before = RecordNo(self.state.next_no().0.saturating_sub(2));
        let newest = self.store.records_after(before, 1)?;
        let newest = newest.first();
        // By which clock it was noted that the program is there is not known where the clock was stepped last of all.
        let stepped = newest.is_some_and(|record| matches!(record.body, Body::ClockStepped { .. }));
        let alive = self.store.last_alive()?.filter(|_| !stepped);
        Ok(newest.map(|record| record.entered).max(alive))
    }

    /// The end of the backup that the file was put back from, where nobody was told of that yet.
    pub(super) fn put_back(&self, now: Moment) -> Result<Option<DateTime<Utc>>, StoreError> {
        if self.store.put_back()?.is_none() {
            return Ok(None);
        }
        let ends = match self.store.put_back_at()? {
            None => self.newest_moment()?,
            known => known,
        };
        Ok(Some(ends.unwrap_or(now.facility)))
    }

    /// Decides one request and applies it. `pending` is what the causes before it in the same commit record: it is not
    /// in the file yet.
    pub(super) fn decide(
        &mut self,
        mut heard: Heard,
        pending: &[Cause],
        now: Moment,
    ) -> Result<Cause, Failed> {
        let mut decision = match self.decided(&heard, pending) {
            Ok(decision) => decision,
            Err(why) => {
                return Err(Failed {
                    heard: Box::new(heard),
                    why,
                });
            }
        };
        // Deciding is a function of what it is given, so the same is decided again in the other words.
        if heard.ask.lang != self.state.lang() && read_by_all(&decision, &heard) {
            heard.ask.lang = self.state.lang();
            if let Ok(again) = self.decided(&heard, pending) {
                decision = again;
            }
        }
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
                    why: Why::Spoilt,
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
                } => (owed::number(id, deferred), token.0, on_message.is_some()),
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

    /// What follows, with what it needs of the log.
    fn decided(&self, heard: &Heard, pending: &[Cause]) -> Result<Decision, Why> {
        let read = |wanted: &Wanted| {
            let mut records = self.store.past(wanted)?;
            let pending = pending.iter().flat_map(|cause| &cause.records);
            wanted.with_pending(&mut records, pending);
            let seal = matches!(wanted, Wanted::Span(_)).then(|| self.store.seal());
            Ok::<_, StoreError>(Read { records, seal })
        };
        let asked =
            AssertUnwindSafe(|| commands::answer_from(&self.state, &heard.ask, &heard.said, read));
        match catch_unwind(asked) {
            Ok(Ok(decision)) => Ok(decision),
            Ok(Err(fault)) => {
                tracing::error!(%fault, "the log could not be read");
                Err(Why::Unread)
            }
            Err(_panic) => {
                tracing::error!("deciding failed");
                Err(Why::Undecided)
            }
        }
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
                tracing::error!(no = fault.no.0, "a decision cannot follow on the state");
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
