//! A desk in small: what people asked and what the clock brought, applied to a state and written to the store in
//! groups. Decides nothing of the trade; of answers and posts it keeps the newest, so that somebody can tap on them.

use std::collections::{BTreeMap, VecDeque};

use anyhow::{Context, bail};
use chrono::{DateTime, Utc};
use commands::ids::{Person, RecordNo};
use commands::message::{Answer, Message};
use commands::record::Record;
use commands::{Ask, Decision, Said, Source, State};
use store::{Prepared, Store, StoreError};

use super::people::Staff;

/// Causes written in one transaction: a year of them is then a few dozen writes.
const GROUP: usize = 512;
/// How many of the newest posts somebody could still tap on.
const POSTED_KEPT: usize = 40;

/// The home as far as it has been lived.
pub(super) struct Lived<'s> {
    /// How things stand.
    pub state: State,
    store: &'s mut Store,
    waiting: Vec<Caused>,
    asked: u64,
    /// What each person was last answered.
    answers: BTreeMap<Person, Answer>,
    /// What was posted last, the newest first.
    posted: VecDeque<Message>,
}

/// One cause that is not yet written.
struct Caused {
    source: Source,
    who: Option<Person>,
    records: Vec<Record>,
}

impl<'s> Lived<'s> {
    /// Nothing has happened.
    pub fn new(store: &'s mut Store) -> Self {
        Self {
            state: State::default(),
            store,
            waiting: Vec::new(),
            asked: 0,
            answers: BTreeMap::new(),
            posted: VecDeque::new(),
        }
    }

    /// Somebody asks; the number of the first record that follows. What was due before comes first.
    ///
    /// # Errors
    /// Nothing was recorded: the core refused it, or had it already.
    pub fn ask(&mut self, who: &Staff, at: DateTime<Utc>, said: &Said) -> anyhow::Result<RecordNo> {
        let (ask, decision) = self.decide(who, at, said)?;
        if decision.entries.is_empty() {
            bail!("at {at} {said:?} was answered with {}", told(&decision));
        }
        self.take(ask.source, Some(ask.who), at, decision)
    }

    /// Somebody says something that may be a question only: a card, a form, a preview.
    ///
    /// # Errors
    /// Nothing was recorded, and nothing shown that could be tapped.
    pub fn say(&mut self, who: &Staff, at: DateTime<Utc>, said: &Said) -> anyhow::Result<()> {
        let (ask, decision) = self.decide(who, at, said)?;
        let more = match &decision.answer {
            Some(Answer::Private(message) | Answer::Shared(message) | Answer::Replace(message)) => {
                !message.rows.is_empty() || !message.files.is_empty()
            }
            Some(Answer::Form(_)) => true,
            Some(Answer::Choices(_) | Answer::Fetch(_)) | None => false,
        };
        if decision.entries.is_empty() && !more {
            bail!("at {at} {said:?} was answered with {}", told(&decision));
        }
        if let Some(answer) = &decision.answer {
            self.answers.insert(ask.who, answer.clone());
        }
        if decision.entries.is_empty() {
            return Ok(());
        }
        self.take(ask.source, Some(ask.who), at, decision)
            .map(|_| ())
    }

    /// What somebody was last answered.
    pub fn answer(&self, who: &Staff) -> Option<&Answer> {
        self.answers.get(&who.person())
    }

    /// What somebody could tap: what they were last answered, then what was posted, the newest first.
    pub fn shown(&self, who: &Staff) -> Vec<&Message> {
        let own = match self.answer(who) {
            Some(Answer::Private(message) | Answer::Shared(message) | Answer::Replace(message)) => {
                Some(message)
            }
            Some(Answer::Form(_) | Answer::Choices(_) | Answer::Fetch(_)) | None => None,
        };
        own.into_iter().chain(&self.posted).collect()
    }

    fn decide(
        &mut self,
        who: &Staff,
        at: DateTime<Utc>,
        said: &Said,
    ) -> anyhow::Result<(Ask, Decision)> {
        self.until(at)?;
        self.asked += 1;
        // Small numbers: no id of the platform is one.
        let ask = who.ask(Source::interaction(self.asked), at);
        let (state, store, waiting) = (&self.state, &*self.store, &self.waiting);
        let decision = commands::answer_from(state, &ask, said, |wanted| {
            let mut records = store.past(wanted)?;
            let pending = waiting.iter().flat_map(|caused| &caused.records);
            wanted.with_pending(&mut records, pending);
            Ok::<_, StoreError>(records)
        })?;
        Ok((ask, decision))
    }

    /// What the clock brings up to this moment.
    ///
    /// # Errors
    /// The store's, or a tick that brought nothing when its time had come.
    pub fn until(&mut self, to: DateTime<Utc>) -> anyhow::Result<()> {
        while let Some(at) = commands::next_due(&self.state).filter(|at| *at <= to) {
            let (source, decision) = commands::tick(&self.state, at)
                .with_context(|| format!("nothing was due at {at}"))?;
            self.take(source, None, at, decision)?;
        }
        Ok(())
    }

    /// Writes what is still waiting.
    ///
    /// # Errors
    /// The store's.
    pub fn finish(mut self) -> anyhow::Result<()> {
        self.write()
    }

    fn take(
        &mut self,
        source: Source,
        who: Option<Person>,
        entered: DateTime<Utc>,
        decision: Decision,
    ) -> anyhow::Result<RecordNo> {
        for post in decision.posts {
            self.posted.push_front(post.message);
        }
        self.posted.truncate(POSTED_KEPT);
        let first = self.state.next_no();
        let mut records = Vec::with_capacity(decision.entries.len());
        for entry in decision.entries {
            let record = Record {
                no: self.state.next_no(),
                at: entry.at,
                entered,
                who,
                role: entry.role,
                first,
                body: entry.body,
                note: entry.note,
            };
            self.state.apply(&record)?;
            records.push(record);
        }
        self.waiting.push(Caused {
            source,
            who,
            records,
        });
        if self.waiting.len() >= GROUP {
            self.write()?;
        }
        Ok(first)
    }

    fn write(&mut self) -> anyhow::Result<()> {
        let group: Vec<Prepared<'_>> = self.waiting.iter().map(Caused::prepared).collect();
        let entered = self.waiting.iter().flat_map(|caused| &caused.records);
        if let Some(entered) = entered.map(|record| record.entered).max() {
            self.store.commit(&group, entered)?;
        }
        self.waiting.clear();
        Ok(())
    }
}

impl Caused {
    fn prepared(&self) -> Prepared<'_> {
        Prepared {
            source: &self.source,
            who: self.who,
            records: &self.records,
            posts: &[],
            owed: None,
        }
    }
}

fn told(decision: &Decision) -> String {
    match &decision.answer {
        Some(Answer::Private(message) | Answer::Replace(message)) => message.text.clone(),
        other => format!("{other:?}"),
    }
}
