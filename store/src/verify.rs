//! Whether the file is what was once written. Decides what is compared with what; leaves repair to a
//! backup.
//!
//! An altered, added or missing record is found by the chain, and its number is named. Cutting off the
//! newest records together with their causes leaves a whole, shorter chain: that can be seen only by comparing
//! [`Verified::tip`] with one written down elsewhere.

use std::collections::BTreeSet;
use std::path::Path;

use chrono::{DateTime, Utc};
use commands::State;
use commands::ids::RecordNo;
use commands::record::{Body, where_unreadable};
use rusqlite::types::{FromSqlError, FromSqlResult};
use rusqlite::{OptionalExtension, Row};

use crate::chain::{self, Hash, Link};
use crate::source::FromKey;
use crate::{Store, StoreError, migrations};
use commands::Source;

/// A file in which everything fits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verified {
    /// How many records.
    pub records: u64,
    /// How many causes.
    pub causes: u64,
    /// How many notes were compared with their hash.
    pub notes: u64,
    /// How many notes were erased; their hashes remain.
    pub erased: u64,
    /// How many snapshots were compared with the fold.
    pub snapshots: u64,
    /// How many messages and answers that wait could be read.
    pub waiting: u64,
    /// When the newest record was entered; nothing before the first.
    pub newest: Option<DateTime<Utc>>,
    /// The newest record's hash in hexadecimal: whoever keeps it elsewhere can tell later that nothing was cut off.
    pub tip: String,
}

/// The first thing that does not fit.
#[derive(Debug, thiserror::Error)]
pub enum Trouble {
    /// A record is not what was written, or the one before it is not.
    #[error(
        "{}. Keep a copy of the data folder and restore the newest backup in which record {no} verifies", self.found()
    )]
    Altered {
        /// The first that does not fit.
        no: RecordNo,
    },
    /// A number is missing.
    #[error(
        "{}. Keep a copy of the data folder and restore the newest backup that has it", self.found()
    )]
    Missing {
        /// The first that is missing.
        no: RecordNo,
    },
    /// A note is not the one that was written, or is gone without a record that it was erased.
    #[error(
        "{}. Keep a copy of the data folder and compare it with a backup", self.found()
    )]
    Note {
        /// Its record.
        no: RecordNo,
    },
    /// The causes and the records do not match.
    #[error(
        "{}. Keep a copy of the data folder and restore the newest good backup", self.found()
    )]
    Cause {
        /// The first record concerned.
        no: RecordNo,
    },
    /// A snapshot is not what the records give.
    #[error(
        "{}. The log is whole, and no backup is needed: start loftwatch anew, which removes a snapshot that is damaged. Where the same is said after that, please report it", self.found()
    )]
    Snapshot {
        /// The record it stands at.
        no: RecordNo,
    },
    /// An answer that cannot be read. What it confirms is in the log, so that no backup is worth going back to.
    #[error(
        "{}. What it confirms is recorded, and nothing else was reached by this; loftwatch gives it up when it is started again", self.found()
    )]
    Answer {
        /// Its row.
        row: i64,
    },
    /// A message that cannot be read.
    #[error(
        "{}. The log itself was not reached by this; restore the newest good backup", self.found()
    )]
    Waiting {
        /// Which.
        what: String,
    },
    /// SQLite finds the file itself broken.
    #[error(
        "{}. Stop loftwatch, keep a copy of the data folder and restore the newest good backup; check the disk", self.found()
    )]
    File(String),
    /// It could not be read so far, or a record cannot follow.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl Trouble {
    /// What does not fit, without what to do about it, which is another thing for a home's own file than for a backup.
    pub fn found(&self) -> String {
        match self {
            Self::Altered { no } => format!(
                "record {no} does not fit the chain: it, or the cause it belongs to, was altered after it was written"
            ),
            Self::Missing { no } => format!("record {no} is missing from the log"),
            Self::Note { no } => format!(
                "the note of record {no} was altered after it was written, belongs to no record, or is gone and no record says that \
                 it was erased"
            ),
            Self::Cause { no } => format!(
                "record {no} and the events in the log do not match: an event is missing, altered, or there twice"
            ),
            Self::Snapshot { no } => {
                format!("the snapshot at record {no} differs from what the records say")
            }
            Self::Answer { row } => format!("answer {row}, which is still owed, cannot be read"),
            Self::Waiting { what } => format!("{what} cannot be read"),
            Self::File(said) => format!("SQLite finds the file broken: {said}"),
            Self::Store(fault) => fault.found(),
        }
    }

    /// As [`StoreError::copying_to`].
    pub(crate) fn copying_to(self, folder: &Path) -> Self {
        if let Self::Store(fault) = self {
            return Self::Store(fault.copying_to(folder));
        }
        self
    }
}

impl From<rusqlite::Error> for Trouble {
    fn from(fault: rusqlite::Error) -> Self {
        Trouble::Store(fault.into())
    }
}

impl Store {
    /// Reads the whole file and compares: SQLite's own check, numbers, chain, causes, notes, the fold, snapshots,
    /// and whether what waits to be sent can be read.
    ///
    /// # Errors
    /// [`Trouble`] names the first thing that does not fit.
    pub fn verify(&self) -> Result<Verified, Trouble> {
        // All of it as it stood at one moment, also while somebody writes.
        let moment = self.conn.unchecked_transaction()?;
        self.whole_file()?;
        let (records, causes, tip) = self.chain_holds()?;
        let (notes, erased) = self.notes_hold()?;
        let snapshots = self.fold_holds()?;
        let waiting = self.waiting_reads()?;
        let newest = self.entered(RecordNo(records))?;
        drop(moment);
        Ok(Verified {
            records,
            causes,
            notes,
            erased,
            snapshots,
            waiting,
            newest,
            tip: chain::hex(&tip),
        })
    }

    fn whole_file(&self) -> Result<(), Trouble> {
        let said: String = self
            .conn
            .query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
        if said != "ok" {
            return Err(Trouble::File(said));
        }
        if !migrations::fits(&self.conn)? {
            let what = "it has not the tables and indexes of the format that it says it has";
            let what = what.to_owned();
            return Err(StoreError::Damaged { what }.into());
        }
        Ok(())
    }

    /// Walks causes and records side by side: every record is the next number, of the next cause, and its hash fits.
    fn chain_holds(&self) -> Result<(u64, u64, Hash), Trouble> {
        let mut causes = self
            .conn
            .prepare("SELECT source, first, count FROM causes WHERE count <> 0 ORDER BY first")?;
        let mut causes = causes.query([])?;
        let mut records = self.conn.prepare(
            "SELECT no, cause, at, entered, who, role, kind, surface, amends, version, body, note, hash
             FROM records ORDER BY no",
        )?;
        let mut records = records.query([])?;
        let mut scratch = Vec::new();
        let mut tip = chain::genesis(self.guild);
        let mut cause = (Source(String::new()), 0, 0);
        let mut number = 0;
        while let Some(row) = records.next()? {
            number += 1;
            let no = RecordNo(number);
            let found = row.get::<_, i64>(0)?.cast_unsigned();
            if found != number {
                return Err(Trouble::Missing { no });
            }
            if number == cause.1 + cause.2 || number == 1 {
                let next = causes.next()?.ok_or(Trouble::Cause { no })?;
                cause = read_cause(next).map_err(|_| Trouble::Cause { no })?;
                if cause.1 != number {
                    return Err(Trouble::Cause { no });
                }
            }
            match fits(row, &tip, &cause.0, &mut scratch) {
                Ok(Some(hash)) => tip = hash,
                Ok(None) | Err(_) => return Err(Trouble::Altered { no }),
            }
            if row.get::<_, i64>(1)?.cast_unsigned() != cause.1 {
                return Err(Trouble::Cause { no });
            }
        }
        let after = RecordNo(number + 1);
        if cause.1 + cause.2 > number + 1 {
            return Err(Trouble::Missing { no: after });
        }
        if causes.next()?.is_some() {
            return Err(Trouble::Missing { no: after });
        }
        let stray: bool = self.conn.query_row(
            "SELECT EXISTS (SELECT 1 FROM causes WHERE count < 0 OR (count = 0 AND first <> 0))",
            [],
            |row| row.get(0),
        )?;
        if stray {
            return Err(Trouble::Cause { no: after });
        }
        let count: i64 = self
            .conn
            .query_row("SELECT count(*) FROM causes", [], |row| row.get(0))?;
        Ok((number, count.cast_unsigned(), tip))
    }

    fn notes_hold(&self) -> Result<(u64, u64), Trouble> {
        let told = self.causes_erased_from()?;
        let mut statement = self.conn.prepare(
            "SELECT r.no, r.note, n.salt, n.text, r.cause FROM records r LEFT JOIN notes n ON n.no = r.no
             WHERE r.note IS NOT NULL OR n.no IS NOT NULL ORDER BY r.no",
        )?;
        let mut rows = statement.query([])?;
        let (mut held, mut erased) = (0, 0);
        while let Some(row) = rows.next()? {
            let no = RecordNo(row.get::<_, i64>(0)?.cast_unsigned());
            let note = row.get_ref(1)?.as_bytes_or_null().ok().flatten();
            let salt = row.get_ref(2)?.as_bytes_or_null().ok().flatten();
            let text = row.get_ref(3)?.as_bytes_or_null().ok().flatten();
            match (note, salt, text) {
                (Some(note), Some(salt), Some(text)) if note == chain::note_hash(salt, text) => {
                    held += 1;
                }
                (Some(_), None, None) if told.contains(&row.get(4)?) => erased += 1,
                _ => return Err(Trouble::Note { no }),
            }
        }
        let orphan: Option<i64> = self.conn.query_row(
            "SELECT min(no) FROM notes WHERE no NOT IN (SELECT no FROM records)",
            [],
            |row| row.get(0),
        )?;
        match orphan {
            Some(no) => Err(Trouble::Note {
                no: RecordNo(no.cast_unsigned()),
            }),
            None => Ok((held, erased)),
        }
    }

    /// The causes of which the log says that a note was erased. The same words beside another record of such a cause went with it,
    /// and are not there to be compared any more: so any note of the cause may be gone.
    fn causes_erased_from(&self) -> Result<BTreeSet<i64>, Trouble> {
        let mut told = BTreeSet::new();
        let mut cause_of = self
            .conn
            .prepare("SELECT cause FROM records WHERE no = ?1")?;
        let mut statement = self.conn.prepare(
            "SELECT no, version, body FROM records WHERE kind = 'note-erased' ORDER BY no",
        )?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let no = RecordNo(row.get::<_, i64>(0)?.cast_unsigned());
            let body = row.get_ref(2)?.as_bytes().map_err(rusqlite::Error::from)?;
            let body = Body::decode(row.get(1)?, body);
            let body = body.map_err(|why| StoreError::Unreadable { no, why })?;
            if let Body::NoteErased { of, .. } = body {
                let cause = cause_of.query_row([of.0.cast_signed()], |row| row.get::<_, i64>(0));
                told.extend(cause.optional()?);
            }
        }
        Ok(told)
    }

    /// Folds from the first record and compares at every snapshot of this program's fold. One of another
    /// version is passed over here as it is at start-up.
    fn fold_holds(&self) -> Result<u64, Trouble> {
        let mut kept = self.snapshots()?;
        if let Some(broken) = kept.iter().find(|kept| !kept.intact()) {
            return Err(Trouble::Snapshot { no: broken.no });
        }
        kept.retain(|kept| kept.version == i64::from(State::VERSION));
        // Oldest last, so that the next one to be met can be popped.
        let mut compared = 0;
        let mut wrong = None;
        let mut state = State::default();
        self.each_record_after(RecordNo(0), usize::MAX, |record| {
            state.apply(&record)?;
            while let Some(next) = kept.pop_if(|kept| kept.no <= record.no) {
                if self.usable(&next)?.as_ref() == Some(&state) {
                    compared += 1;
                } else {
                    wrong = wrong.or(Some(next.no));
                }
            }
            Ok(())
        })?;
        // One that stands after the last record, or where there is none.
        match wrong.or(kept.last().map(|kept| kept.no)) {
            Some(no) => Err(Trouble::Snapshot { no }),
            None => Ok(compared),
        }
    }

    fn waiting_reads(&self) -> Result<u64, Trouble> {
        let mut count = 0;
        // A backup from before an upgrade is read as it is; its answers have no language yet.
        if migrations::format(&self.conn)? >= migrations::ANSWERS_HAVE_A_LANGUAGE {
            let owing = self.owing()?;
            if let Some(row) = owing.spoilt.first() {
                return Err(Trouble::Answer { row: *row });
            }
            count += owing.answers.len() as u64;
        }
        let mut statement = self
            .conn
            .prepare("SELECT id, message FROM outbox WHERE state IN ('waiting', 'sending')")?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let id: i64 = row.get(0)?;
            let message = row.get_ref(1)?.as_bytes().map_err(rusqlite::Error::from)?;
            serde_json::from_slice::<commands::message::Message>(message).map_err(|why| {
                Trouble::Waiting {
                    what: format!("message {id} of the outbox ({})", where_unreadable(&why)),
                }
            })?;
            count += 1;
        }
        Ok(count)
    }
}

fn read_cause(row: &Row<'_>) -> rusqlite::Result<(Source, u64, u64)> {
    Ok((
        row.get::<_, FromKey>(0)?.0,
        row.get::<_, i64>(1)?.cast_unsigned(),
        row.get::<_, i64>(2)?.cast_unsigned(),
    ))
}

/// The record's hash, if it is the hash of its fields after `before`.
fn fits(
    row: &Row<'_>,
    before: &Hash,
    source: &Source,
    scratch: &mut Vec<u8>,
) -> FromSqlResult<Option<Hash>> {
    let value = |column: usize| row.get_ref(column).map_err(|_| FromSqlError::InvalidType);
    let number = |column: usize| value(column)?.as_i64();
    let maybe_number = |column: usize| {
        Ok::<_, FromSqlError>(value(column)?.as_i64_or_null()?.map(i64::cast_unsigned))
    };
    let note = match value(11)?.as_bytes_or_null()? {
        None => None,
        Some(bytes) => Some(bytes.try_into().map_err(|_| FromSqlError::InvalidType)?),
    };
    let link = Link {
        no: number(0)?.cast_unsigned(),
        cause: number(1)?.cast_unsigned(),
        at_ms: number(2)?,
        entered_ms: number(3)?,
        who: maybe_number(4)?,
        role: value(5)?.as_bytes()?,
        kind: value(6)?.as_bytes()?,
        surface: value(7)?.as_bytes_or_null()?,
        amends: maybe_number(8)?,
        version: u32::try_from(number(9)?).map_err(|_| FromSqlError::InvalidType)?,
        body: value(10)?.as_bytes()?,
        note,
        source,
    };
    let hash = chain::link(before, &link, scratch);
    Ok((value(12)?.as_bytes()? == hash).then_some(hash))
}
