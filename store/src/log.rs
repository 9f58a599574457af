//! The log: causes, their records and the answers owed. Decides how they are written, all of a group or
//! nothing, and read back; leaves what a record means to `commands`, and when to write to the desk.
//!
//! A hand check takes 251 bytes of the file, its cause, its place in every index and its share of every page
//! included (20,000 of them by the example `size`; 249 with 100,000, which replay in 0.11 s).

use chrono::{DateTime, Utc};
use commands::decision::Post;
use commands::ids::{Channel, Person, RecordNo};
use commands::message::Answer;
use commands::record::{BODY_VERSION, Body, Record, where_unreadable};
use commands::role::Role;
use commands::words::Lang;
use commands::{Source, State};
use rusqlite::types::{ToSqlOutput, ValueRef};
use rusqlite::{CachedStatement, Connection, OptionalExtension, Row, ToSql};
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::Error as WordError;

use crate::chain::{self, Hash, Link};
use crate::notes::{self, Salted};
use crate::outbox;
use crate::source::{FromKey, Key};
use crate::{Store, StoreError};

/// Records after which whoever waits for them to be read hears that it goes on: read in far less than a second.
const TOLD_EVERY: u64 = 4_096;

/// What one cause did, ready to be written.
#[derive(Clone, Debug)]
pub struct Prepared<'a> {
    /// The event.
    pub source: &'a Source,
    /// Who caused it; nobody for the clock. Each record says so itself; a cause without records keeps no one.
    pub who: Option<Person>,
    /// Numbered by the desk from [`Store::head`] on without a hole, and already applied to the state. Their times
    /// are whole milliseconds, since that is what the file keeps.
    pub records: &'a [Record],
    /// Messages for others.
    pub posts: &'a [Post],
    /// The answer owed to whoever asked, kept until [`Store::answered`].
    pub owed: Option<Owed>,
}

/// An answer that was decided and is perhaps not yet given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Owed {
    /// The interaction it answers.
    pub interaction: u64,
    /// The platform's token to answer it with.
    pub token: String,
    /// Where it was asked, and where it is posted if the token is too old.
    pub channel: Channel,
    /// Who asked.
    pub who: Person,
    /// The language that they are answered in.
    pub lang: Lang,
    /// The answer.
    pub answer: Answer,
}

/// The answers still owed, as far as the file has them in a form that can be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Owing {
    /// Those that can, oldest interaction first.
    pub answers: Vec<(Source, Owed)>,
    /// The rows of those that cannot: a spoilt byte, or another version's answer. What they confirm is in the log all the same.
    pub spoilt: Vec<i64>,
}

/// What a commit made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Committed {
    /// The rows of the outbox, in the order of the posts, without those left out.
    pub outbox: Vec<i64>,
    /// Keys that were in the outbox before: the first post under a key wins, and these were left out.
    pub duplicates: Vec<String>,
    /// Rows on their way whose place newer posts took: they are not to be sent once more.
    pub overtaken: Vec<i64>,
}

/// A cause that is in the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// Its first record; 0 where it made none.
    pub first: RecordNo,
    /// How many records it made.
    pub count: u64,
    /// The answer, if it is not known to be given.
    pub owed: Option<Owed>,
}

impl Store {
    /// Writes a group of causes in one transaction that is on disk when this returns: all of them or none.
    ///
    /// # Errors
    /// Nothing was written, unless it is [`StoreError::Unknown`]. [`StoreError::AlreadyCaused`] when a source of the
    /// group is in the log; [`StoreError::Misuse`] when the numbers do not follow on [`Store::head`].
    pub fn commit(
        &mut self,
        group: &[Prepared<'_>],
        entered: DateTime<Utc>,
    ) -> Result<Committed, StoreError> {
        self.commit_settling(group, &[], entered)
    }

    /// As [`Store::commit`], and forgets the answers to `given` in the same transaction, which saves the
    /// disk a transaction of their own.
    ///
    /// # Errors
    /// As [`Store::commit`]; the answers are then still owed.
    pub fn commit_settling(
        &mut self,
        group: &[Prepared<'_>],
        given: &[Source],
        entered: DateTime<Utc>,
    ) -> Result<Committed, StoreError> {
        self.certain()?;
        if group.is_empty() && given.is_empty() {
            return Ok(Committed::default());
        }
        check(self.head, group)?;
        let mut tip = self.tip;
        let mut made = Committed::default();
        let conn = &self.conn;
        let scratch = &mut self.scratch;
        let result = crate::write::transaction(conn, || {
            settle(conn, given)?;
            let mut writer = Writer::new(conn, scratch)?;
            for prepared in group {
                writer.cause(&mut tip, prepared)?;
                if !prepared.posts.is_empty() {
                    outbox::enqueue(conn, prepared.posts, to_ms(entered), &mut made)?;
                }
            }
            Ok(())
        });
        self.doubt(&result);
        self.measured();
        result?;
        self.tip = tip;
        if let Some(last) = group
            .iter()
            .rev()
            .find_map(|prepared| prepared.records.last())
        {
            self.head = last.no;
        }
        Ok(made)
    }

    /// Whether this event is in the log, and the answer that may still be owed for it.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn seen(&self, source: &Source) -> Result<Option<Seen>, StoreError> {
        let found = self
            .conn
            .prepare_cached("SELECT first, count FROM causes WHERE source = ?1")?
            .query_row([Key::from(source)], |row| {
                Ok((row.get::<_, i64>(0)?, row.get::<_, i64>(1)?))
            })
            .optional()?;
        let Some((first, count)) = found else {
            return Ok(None);
        };
        let owed = self
            .conn
            .prepare_cached(
                "SELECT interaction, token, channel, who, answer, lang FROM owed WHERE source = ?1",
            )?
            .query_row([Key::from(source)], read_owed);
        // One that cannot be read is given to nobody, and no reason to know nothing of its cause.
        let owed = if_readable(owed)?;
        Ok(Some(Seen {
            first: RecordNo(first.cast_unsigned()),
            count: count.cast_unsigned(),
            owed,
        }))
    }

    /// These answers were given: forgets them and their tokens. Unknown sources are no mistake.
    ///
    /// # Errors
    /// [`StoreError`]; they are then still owed.
    pub fn answered(&mut self, sources: &[Source]) -> Result<(), StoreError> {
        if sources.is_empty() {
            return Ok(());
        }
        self.write(|conn| settle(conn, sources))
    }

    /// All answers still owed, to be tried again after a restart. One that cannot be read holds up no other.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn owing(&self) -> Result<Owing, StoreError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT interaction, token, channel, who, answer, lang, source, id FROM owed ORDER BY id",
        )?;
        let mut rows = statement.query([])?;
        let mut owing = Owing::default();
        while let Some(row) = rows.next()? {
            let read = row
                .get(6)
                .and_then(|FromKey(source)| Ok((source, read_owed(row)?)));
            match if_readable(read)? {
                Some(answer) => owing.answers.push(answer),
                None => owing.spoilt.push(row.get(7)?),
            }
        }
        Ok(owing)
    }

    /// Answers that nobody can give, because they cannot be read: forgets them.
    ///
    /// # Errors
    /// [`StoreError`]; they are then still there.
    pub fn give_up_owed(&mut self, rows: &[i64]) -> Result<(), StoreError> {
        self.write(|conn| {
            let mut forget = conn.prepare_cached("DELETE FROM owed WHERE id = ?1")?;
            for row in rows {
                forget.execute([row])?;
            }
            Ok(())
        })
    }

    /// The records after number `no`, at most `limit` of them, in order.
    ///
    /// # Errors
    /// [`StoreError::Unreadable`] for a record of a newer program or of broken bytes; others when the file cannot
    /// be read.
    pub fn records_after(&self, no: RecordNo, limit: usize) -> Result<Vec<Record>, StoreError> {
        let mut records = Vec::new();
        self.each_record_after(no, limit, |record| {
            records.push(record);
            Ok(())
        })?;
        Ok(records)
    }

    /// Hands each record after `no` to `take`, without gathering them.
    pub(crate) fn each_record_after(
        &self,
        no: RecordNo,
        limit: usize,
        mut take: impl FnMut(Record) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        let limit = i64::try_from(limit).unwrap_or(i64::MAX);
        let mut statement = self.conn.prepare_cached(
            "SELECT no, cause, at, entered, who, role, version, body,
                    CASE WHEN note IS NOT NULL
                         THEN (SELECT n.text FROM notes n WHERE n.no = r.no) END
             FROM records r WHERE no > ?1 ORDER BY no LIMIT ?2",
        )?;
        let mut rows = statement.query((no.0.cast_signed(), limit))?;
        while let Some(row) = rows.next()? {
            take(read_record(row)?)?;
        }
        Ok(())
    }

    /// The records after the state's newest, applied to it.
    pub(crate) fn catch_up(&self, state: &mut State, goes_on: impl Fn()) -> Result<(), StoreError> {
        let after = RecordNo(state.next_no().0.saturating_sub(1));
        self.each_record_after(after, usize::MAX, |record| {
            if record.no.0.is_multiple_of(TOLD_EVERY) {
                goes_on();
            }
            Ok(state.apply(&record)?)
        })
    }
}

/// The statements that every cause needs, looked up once a group.
struct Writer<'c> {
    conn: &'c Connection,
    scratch: &'c mut Vec<u8>,
    cause: CachedStatement<'c>,
    record: CachedStatement<'c>,
    owed: CachedStatement<'c>,
    answer: Vec<u8>,
}

impl<'c> Writer<'c> {
    fn new(conn: &'c Connection, scratch: &'c mut Vec<u8>) -> Result<Self, StoreError> {
        Ok(Self {
            conn,
            scratch,
            cause: conn.prepare_cached(
                "INSERT INTO causes (source, first, count) VALUES (?1, ?2, ?3)",
            )?,
            record: conn.prepare_cached(
                "INSERT INTO records
                    (no, cause, at, entered, who, role, kind, surface, amends, version, body, note, hash)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)",
            )?,
            owed: conn.prepare_cached(
                "INSERT INTO owed (id, source, interaction, token, channel, who, answer, lang)
                 VALUES (coalesce(?1, (SELECT min(0, coalesce(min(id), 0)) - 1 FROM owed)),
                         ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            )?,
            answer: Vec::new(),
        })
    }

    fn cause(&mut self, tip: &mut Hash, prepared: &Prepared<'_>) -> Result<(), StoreError> {
        let first = match prepared.records.first() {
            Some(record) => record.no,
            None => RecordNo(0),
        };
        let key = Key::from(prepared.source);
        let count = prepared.records.len() as i64;
        self.cause
            .execute((key, first.0.cast_signed(), count))
            .map_err(|fault| caused(fault, prepared.source))?;
        for record in prepared.records {
            *tip = self.record(tip, prepared.source, record)?;
        }
        if let Some(owed) = &prepared.owed {
            self.owe(key, owed)?;
        }
        Ok(())
    }

    fn record(
        &mut self,
        before: &Hash,
        source: &Source,
        record: &Record,
    ) -> Result<Hash, StoreError> {
        let body = record.body.encode();
        let note = record.note.as_deref().map(Salted::new).transpose()?;
        let note_hash = note.as_ref().map(|note| &note.hash);
        let role = record.role.as_str();
        let kind = record.body.kind();
        let surface = record.body.surface().map(|tag| tag.as_str());
        let amends = record.body.amends();
        let at_ms = to_ms(record.at);
        let entered_ms = to_ms(record.entered);
        let link = Link {
            no: record.no.0,
            cause: record.first.0,
            at_ms,
            entered_ms,
            who: record.who.map(|who| who.0),
            role: role.as_bytes(),
            kind: kind.as_bytes(),
            surface: surface.map(str::as_bytes),
            amends: amends.map(|no| no.0),
            version: BODY_VERSION,
            body: &body,
            note: note_hash,
            source,
        };
        let hash = chain::link(before, &link, self.scratch);
        let fields: [&dyn ToSql; 13] = [
            &record.no.0.cast_signed(),
            &record.first.0.cast_signed(),
            &at_ms,
            &entered_ms,
            &record.who.map(|who| who.0.cast_signed()),
            &role,
            &kind,
            &surface,
            &amends.map(|no| no.0.cast_signed()),
            &BODY_VERSION,
            &Text(&body),
            &note_hash.map(|hash| &hash[..]),
            &&hash[..],
        ];
        self.record.execute(fields)?;
        if let Body::NoteErased { of, .. } = &record.body {
            notes::erase(self.conn, *of)?;
        }
        if let Some(note) = note {
            note.insert(self.conn, record.no)?;
        }
        Ok(hash)
    }

    fn owe(&mut self, key: Key<'_>, owed: &Owed) -> Result<(), StoreError> {
        self.answer.clear();
        serde_json::to_writer(&mut self.answer, &owed.answer).map_err(|fault| {
            StoreError::Misuse(format!("an answer that is no plain data: {fault}"))
        })?;
        self.owed.execute((
            owed_id(key),
            key,
            owed.interaction.cast_signed(),
            &owed.token,
            owed.channel.0.cast_signed(),
            owed.who.0.cast_signed(),
            Text(&self.answer),
            owed.lang.code(),
        ))?;
        Ok(())
    }
}

/// The row of an owed answer: the interaction's own number, so that forgetting it needs no index. Other
/// causes get the next free negative number and are found by a scan of the few that are owed.
fn owed_id(key: Key<'_>) -> Option<i64> {
    match key {
        Key::Number(n) if n > 0 => Some(n),
        Key::Number(_) | Key::Text(_) => None,
    }
}

fn settle(conn: &Connection, given: &[Source]) -> Result<(), StoreError> {
    if given.is_empty() {
        return Ok(());
    }
    let mut by_id = conn.prepare_cached("DELETE FROM owed WHERE id = ?1")?;
    let mut by_source = conn.prepare_cached("DELETE FROM owed WHERE source = ?1")?;
    for source in given {
        let key = Key::from(source);
        match owed_id(key) {
            Some(id) => by_id.execute([id])?,
            None => by_source.execute([key])?,
        };
    }
    Ok(())
}

/// Numbers without a hole, causes that name their first record, times that the file can keep.
fn check(head: RecordNo, group: &[Prepared<'_>]) -> Result<(), StoreError> {
    let mut next = head.next();
    for prepared in group {
        let first = next;
        for record in prepared.records {
            if record.no != next || record.first != first {
                return Err(StoreError::Misuse(format!(
                    "record {} of cause {} came where record {next} of cause {first} belongs",
                    record.no, record.first
                )));
            }
            if !whole_ms(record.at) || !whole_ms(record.entered) {
                return Err(StoreError::Misuse(format!(
                    "record {next} has a time finer than a millisecond"
                )));
            }
            next = next.next();
        }
    }
    Ok(())
}

fn whole_ms(time: DateTime<Utc>) -> bool {
    time.timestamp_subsec_nanos().is_multiple_of(1_000_000)
}

/// A duplicate source is a kind of its own, everything else is what it is.
fn caused(fault: rusqlite::Error, source: &Source) -> StoreError {
    let code = fault.sqlite_error().map(|fault| fault.extended_code);
    if code == Some(rusqlite::ffi::SQLITE_CONSTRAINT_PRIMARYKEY) {
        return StoreError::AlreadyCaused {
            source_key: source.0.clone(),
        };
    }
    fault.into()
}

/// Bytes that are UTF-8 by their making, bound as TEXT without looking at each again.
pub(crate) struct Text<'a>(pub &'a [u8]);

impl ToSql for Text<'_> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(ToSqlOutput::Borrowed(ValueRef::Text(self.0)))
    }
}

pub(crate) fn read_record(row: &Row<'_>) -> Result<Record, StoreError> {
    let no = RecordNo(row.get::<_, i64>(0)?.cast_unsigned());
    let damaged = |what: &str| StoreError::Damaged {
        what: format!("record {no} has {what}"),
    };
    let role: Result<Role, WordError> = Role::deserialize(
        row.get_ref(5)?
            .as_str()
            .map_err(|_| damaged("a role that is no text"))?
            .into_deserializer(),
    );
    let version = row
        .get(6)
        .map_err(|_| damaged("a version that is no number of one"))?;
    let body = row.get_ref(7)?.as_bytes().map_err(|_| damaged("no body"))?;
    Ok(Record {
        no,
        first: RecordNo(row.get::<_, i64>(1)?.cast_unsigned()),
        at: from_ms(row.get(2)?)?,
        entered: from_ms(row.get(3)?)?,
        who: row
            .get::<_, Option<i64>>(4)?
            .map(|who| Person(who.cast_unsigned())),
        role: role.map_err(|_| damaged("a role that this program does not know"))?,
        body: Body::decode(version, body).map_err(|why| StoreError::Unreadable { no, why })?,
        note: row.get(8)?,
    })
}

/// Nothing where there is no row, or where it cannot be read; an error where the file cannot.
fn if_readable<T>(read: rusqlite::Result<T>) -> rusqlite::Result<Option<T>> {
    match read {
        Ok(value) => Ok(Some(value)),
        Err(fault) if fault.sqlite_error().is_some() => Err(fault),
        Err(_) => Ok(None),
    }
}

fn read_owed(row: &Row<'_>) -> rusqlite::Result<Owed> {
    let answer = serde_json::from_slice(row.get_ref(4)?.as_bytes()?);
    Ok(Owed {
        interaction: row.get::<_, i64>(0)?.cast_unsigned(),
        token: row.get(1)?,
        channel: Channel(row.get::<_, i64>(2)?.cast_unsigned()),
        who: Person(row.get::<_, i64>(3)?.cast_unsigned()),
        answer: answer.map_err(|fault| not_readable(4, &fault))?,
        // A language that this program does not speak is answered as any other is.
        lang: Lang::of_locale(row.get_ref(5)?.as_str()?),
    })
}

/// A JSON column that does not read. What stands in it is not said.
pub(crate) fn not_readable(column: usize, fault: &serde_json::Error) -> rusqlite::Error {
    let why = where_unreadable(fault).into();
    rusqlite::Error::FromSqlConversionFailure(column, rusqlite::types::Type::Text, why)
}

/// The file's time: milliseconds since 1970 UTC.
pub(crate) fn to_ms(time: DateTime<Utc>) -> i64 {
    time.timestamp_millis()
}

pub(crate) fn from_ms(ms: i64) -> Result<DateTime<Utc>, StoreError> {
    DateTime::from_timestamp_millis(ms).ok_or_else(|| StoreError::Damaged {
        what: format!("{ms} is no time"),
    })
}
