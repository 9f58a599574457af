//! A desk in small: what people asked and what the clock brought, applied to a state and written to the store in
//! groups. Decides nothing of the trade, and drops answers and posts: nobody was in the chat yet.

use anyhow::{Context, bail};
use chrono::{DateTime, Utc};
use commands::ids::{Person, RecordNo};
use commands::message::Answer;
use commands::record::Record;
use commands::{Decision, Said, Source, State};
use store::{Prepared, Store};

use super::people::Staff;

/// Causes written in one transaction: a year of them is then a few dozen writes.
const GROUP: usize = 512;

/// The home as far as it has been lived.
pub(super) struct Lived<'s> {
    /// How things stand.
    pub state: State,
    store: &'s mut Store,
    waiting: Vec<Caused>,
    asked: u64,
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
        }
    }

    /// Somebody asks; the number of the first record that follows. What was due before comes first.
    ///
    /// # Errors
    /// Nothing was recorded: the core refused it, or had it already.
    pub fn ask(&mut self, who: &Staff, at: DateTime<Utc>, said: &Said) -> anyhow::Result<RecordNo> {
        self.until(at)?;
        self.asked += 1;
        // Small numbers: no id of the platform is one.
        let ask = who.ask(Source::interaction(self.asked), at);
        let decision = commands::answer(&self.state, &ask, said);
        if decision.entries.is_empty() {
            bail!("at {at} {said:?} was answered with {}", told(&decision));
        }
        self.take(ask.source, Some(ask.who), at, decision)
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
