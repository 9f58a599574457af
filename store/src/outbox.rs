//! Messages for others, from the decision to the platform's number for them. Decides which are ready, which
//! replace which and how long they are kept; leaves sending, waiting and giving up to `bot`.
//!
//! A row is `waiting`, then `sending` (marked before the request leaves), then `sent` or `dead`; a failure that may
//! pass makes it `waiting` again. `why` says why it is dead, or that a newer one overtook it on its way.

use std::collections::BTreeSet;

use chrono::{DateTime, TimeDelta, Utc};
use commands::decision::{Lane, Post, PostKind};
use commands::ids::{Channel, Guild};
use commands::message::Message;
use rusqlite::{Connection, OptionalExtension, Params, Row, Statement};
use sha2::{Digest, Sha256};

use crate::log::{Committed, Text, from_ms, not_readable, to_ms};
use crate::{Store, StoreError, settings};

/// Days for which a sent post's key and message number are kept, so that a card can be edited and a repeated
/// key is known. Far longer than the platform takes edits gladly.
pub const POST_KEPT_DAYS: i64 = 30;
/// Days for which a sent edit's key is kept.
pub const EDIT_KEPT_DAYS: i64 = 1;
/// How often sent rows are pruned.
const PRUNE_EVERY: TimeDelta = TimeDelta::hours(1);
/// The setting with the time by which rows are old, in milliseconds since 1970.
const AGED: &str = "aged";
/// How far that goes on at once, however far the clock does.
const AGED_AT_ONCE: TimeDelta = TimeDelta::days(1);

/// Bytes of the hash in a nonce: 24 hexadecimal characters, of the 25 that the platform takes.
const NONCE_BYTES: usize = 12;

/// A row of the outbox.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutRow {
    /// Its number, never given twice.
    pub id: i64,
    /// The post's key.
    pub key: String,
    /// Where to.
    pub channel: Channel,
    /// A new message or an edit.
    pub kind: PostKind,
    /// What goes first.
    pub lane: Lane,
    /// The message.
    pub message: Message,
    /// At most 25 characters, the same for the same key of the same facility: a repeat is recognised by the platform. A file that
    /// was restored from a backup gives keys once more to something else, and has other nonces for them from then on.
    pub nonce: String,
    /// When it was written, by the facility's time.
    pub entered: Option<DateTime<Utc>>,
    /// How often it was tried and must be tried again.
    pub attempts: u32,
    /// The message to edit, for an edit.
    pub edit_message: Option<(Channel, u64)>,
    /// When the first attempt began whose end is not known to be "not made"; kept over later attempts, so
    /// that a nonce is never trusted for longer than the platform remembers it.
    pub sending_at: Option<DateTime<Utc>>,
    /// A newer message took its place while it was on its way: it is not sent once more.
    pub overtaken: bool,
    /// Something of it in the file cannot be read, its message most likely, which is empty then: there is nothing to be sent, and
    /// nothing to do but to give it up.
    pub spoilt: bool,
}

/// What can be sent: everything new, and an edit once its message is known and no other edit of it is under way.
const SENDABLE: &str =
    "o.state = 'waiting' AND (o.edits IS NULL OR (t.sent_as IS NOT NULL AND NOT EXISTS (
    SELECT 1 FROM outbox s WHERE s.edits = o.edits AND s.state = 'sending')))";
const COLUMNS: &str =
    "o.id, o.key, o.channel, o.edits, o.lane, o.message, o.attempts, o.sending_at,
    t.channel, t.sent_as, o.entered, o.why IS NOT NULL";
const ROWS: &str = "outbox o LEFT JOIN outbox t ON t.key = o.edits";

impl Store {
    /// What can be sent at `now`: by lane, then in the order of their making. One that cannot be read is among them, and holds
    /// up none of the others.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn ready(&self, now: DateTime<Utc>, limit: usize) -> Result<Vec<OutRow>, StoreError> {
        let sql = READY.as_str();
        let limit = i64::try_from(limit).unwrap_or(i64::MAX);
        let mut statement = self.conn.prepare_cached(sql)?;
        let rows = statement.query_map((to_ms(now), limit), |row| self.row_or_spoilt(row))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The earliest moment at which [`Store::ready`] has something, perhaps in the past; `None` when nothing
    /// waits but what waits for something else.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn next_ready_at(&self) -> Result<Option<DateTime<Utc>>, StoreError> {
        let ms: Option<i64> = self
            .conn
            .prepare_cached(NEXT.as_str())?
            .query_row([], |row| row.get(0))?;
        ms.map(from_ms).transpose()
    }

    /// These are about to be sent. On disk before the request leaves, so that a crash leaves a trace.
    ///
    /// # Errors
    /// [`StoreError`]; nothing was marked then, and nothing may be sent.
    pub fn sending(&mut self, ids: &[i64], now: DateTime<Utc>) -> Result<(), StoreError> {
        self.write(|conn| {
            let mut statement = conn.prepare_cached(
                "UPDATE outbox SET state = 'sending', sending_at = coalesce(sending_at, ?2)
                 WHERE id = ?1 AND state IN ('waiting', 'sending')",
            )?;
            for id in ids {
                one(statement.execute((id, to_ms(now)))?, *id)?;
            }
            Ok(())
        })
    }

    /// It was sent, and the platform numbered the message so; `None` when the number is not known, after which
    /// it cannot be edited and edits of it are forgotten.
    ///
    /// # Errors
    /// [`StoreError`]; the row is then still marked as being sent.
    pub fn sent(&mut self, id: i64, message: Option<u64>) -> Result<(), StoreError> {
        self.write(|conn| {
            // The text is in the chat now; only the key and the number are of use.
            let changed = conn
                .prepare_cached(
                    "UPDATE outbox SET state = 'sent', sent_as = ?2, message = '', why = NULL
                     WHERE id = ?1 AND state IN ('waiting', 'sending')",
                )?
                .execute((id, message.map(u64::cast_signed)))?;
            one(changed, id)?;
            if message.is_none() {
                forget_edits(conn, id)?;
            }
            Ok(())
        })
    }

    /// It failed and may succeed later: not before `at`. Counts as an attempt. An earlier try may have made it all the same where it is
    /// `unsure`. What a newer one has overtaken meanwhile, edit or message, is forgotten instead; a message that may have been made
    /// stays on its way, so that it is looked for. Returns whether it does.
    ///
    /// # Errors
    /// [`StoreError`]; the row is then still marked as being sent.
    pub fn again(&mut self, id: i64, at: DateTime<Utc>, unsure: bool) -> Result<bool, StoreError> {
        self.write(|conn| {
            let changed = conn
                .prepare_cached(
                    "UPDATE outbox SET attempts = attempts + 1, not_before = ?2,
                        state = iif(?3 AND edits IS NULL AND why IS NOT NULL, 'sending', 'waiting'),
                        sending_at = iif(?3, coalesce(sending_at, ?2), NULL)
                     WHERE id = ?1 AND state IN ('waiting', 'sending')",
                )?
                .execute((id, to_ms(at), unsure))?;
            one(changed, id)?;
            conn.prepare_cached(
                "DELETE FROM outbox WHERE id = ?1 AND EXISTS (
                    SELECT 1 FROM outbox n
                    WHERE n.edits = outbox.edits AND n.state = 'waiting' AND n.id > outbox.id)",
            )?
            .execute([id])?;
            let overtaken: Option<(String, bool)> = conn
                .prepare_cached(
                    "SELECT key, state = 'sending' FROM outbox WHERE id = ?1 AND why IS NOT NULL",
                )?
                .query_row([id], |row| Ok((row.get(0)?, row.get(1)?)))
                .optional()?;
            let Some((key, looked_for)) = overtaken else {
                return Ok(false);
            };
            if !looked_for {
                forget_waiting(conn, &key)?;
            }
            Ok(looked_for)
        })
    }

    /// It will never be sent, and `why`. Edits of it are forgotten.
    ///
    /// # Errors
    /// [`StoreError`]; the row is then still marked as being sent.
    pub fn dead(&mut self, id: i64, why: &str) -> Result<(), StoreError> {
        self.write(|conn| {
            let changed = conn
                .prepare_cached(
                    "UPDATE outbox SET state = 'dead', message = '', why = ?2
                     WHERE id = ?1 AND state IN ('waiting', 'sending')",
                )?
                .execute((id, why))?;
            one(changed, id)?;
            forget_edits(conn, id)
        })
    }

    /// Rows marked as being sent: at start-up, those of which it is not known whether they were. Of those that cannot be read as
    /// [`Store::ready`] has it.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn unsettled(&self) -> Result<Vec<OutRow>, StoreError> {
        let mut statement = self.conn.prepare_cached(UNSETTLED.as_str())?;
        let rows = statement.query_map([], |row| self.row_or_spoilt(row))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The message that the post under this key made, if it was sent and its number is known.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn message_of(&self, key: &str) -> Result<Option<(Channel, u64)>, StoreError> {
        let found = self
            .conn
            .prepare_cached(
                "SELECT channel, sent_as FROM outbox
                 WHERE key = ?1 AND edits IS NULL AND sent_as IS NOT NULL",
            )?
            .query_row([key], |row| {
                Ok((row.get::<_, i64>(0)?, row.get::<_, i64>(1)?))
            })
            .optional()?;
        Ok(found.map(|(channel, id)| (Channel(channel.cast_unsigned()), id.cast_unsigned())))
    }

    /// The newest row of the outbox; 0 where it is empty.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn newest_row(&self) -> Result<i64, StoreError> {
        let mut statement = self
            .conn
            .prepare_cached("SELECT coalesce(max(id), 0) FROM outbox")?;
        Ok(statement.query_row([], |row| row.get(0))?)
    }

    /// Whether any message of ours is known to stand in this channel, or to have stood there.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn posted_in(&self, channel: Channel) -> Result<bool, StoreError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT EXISTS (SELECT 1 FROM outbox WHERE channel = ?1 AND sent_as IS NOT NULL)",
        )?;
        Ok(statement.query_row([channel.0.cast_signed()], |row| row.get(0))?)
    }

    /// The numbers of messages, from `since` on, that posts of the outbox are known to have made.
    ///
    /// # Errors
    /// [`StoreError`] when the file cannot be read.
    pub fn sent_since(&self, since: u64) -> Result<BTreeSet<u64>, StoreError> {
        let mut statement = self
            .conn
            .prepare_cached("SELECT sent_as FROM outbox WHERE sent_as >= ?1")?;
        let numbers = statement.query_map([since.cast_signed()], |row| row.get::<_, i64>(0))?;
        numbers.map(|number| Ok(number?.cast_unsigned())).collect()
    }

    pub(crate) fn prune_is_due(&self, now_ms: i64) -> bool {
        // A clock that went back prunes at once; that is harmless.
        self.pruned_ms
            .is_none_or(|last| (now_ms - last).abs() >= PRUNE_EVERY.num_milliseconds())
    }

    /// The row, or what of it says which it is. What SQLite itself says of the file is no fault of one row.
    fn row_or_spoilt(&self, row: &Row<'_>) -> rusqlite::Result<OutRow> {
        match self.read_row(row) {
            Err(fault) if fault.sqlite_error_code().is_none() => self.spoilt_row(row),
            read => read,
        }
    }

    fn spoilt_row(&self, row: &Row<'_>) -> rusqlite::Result<OutRow> {
        let key: String = row.get(1).unwrap_or_default();
        // Text that cannot be read names some message all the same.
        let of = row.get_ref(3)?.as_str_or_null().unwrap_or(Some(""));
        Ok(OutRow {
            id: row.get(0)?,
            nonce: nonce(self.guild, &key, self.restored),
            key,
            channel: Channel(row.get::<_, i64>(2)?.cast_unsigned()),
            kind: of.map_or(PostKind::New, |of| PostKind::Edit { of: of.to_owned() }),
            lane: lane_from(row.get(4)?),
            message: Message::default(),
            entered: DateTime::from_timestamp_millis(row.get(10)?),
            attempts: 0,
            edit_message: None,
            sending_at: None,
            overtaken: row.get(11)?,
            spoilt: true,
        })
    }

    fn read_row(&self, row: &Row<'_>) -> rusqlite::Result<OutRow> {
        let key: String = row.get(1)?;
        let target: (Option<i64>, Option<i64>) = (row.get(8)?, row.get(9)?);
        let message = serde_json::from_slice(row.get_ref(5)?.as_bytes()?);
        let sending_ms: Option<i64> = row.get(7)?;
        Ok(OutRow {
            id: row.get(0)?,
            nonce: nonce(self.guild, &key, self.restored),
            key,
            channel: Channel(row.get::<_, i64>(2)?.cast_unsigned()),
            kind: match row.get(3)? {
                None => PostKind::New,
                Some(of) => PostKind::Edit { of },
            },
            lane: lane_from(row.get(4)?),
            message: message.map_err(|fault| not_readable(5, &fault))?,
            entered: DateTime::from_timestamp_millis(row.get(10)?),
            attempts: row.get(6)?,
            edit_message: match target {
                (Some(channel), Some(id)) => {
                    Some((Channel(channel.cast_unsigned()), id.cast_unsigned()))
                }
                (None, _) | (_, None) => None,
            },
            sending_at: sending_ms.and_then(DateTime::from_timestamp_millis),
            overtaken: row.get(11)?,
            spoilt: false,
        })
    }
}

/// The statements are put together once, from constants only.
static READY: std::sync::LazyLock<String> = std::sync::LazyLock::new(|| {
    format!(
        "SELECT {COLUMNS} FROM {ROWS} WHERE {SENDABLE} AND o.not_before <= ?1 ORDER BY o.lane, o.id LIMIT ?2"
    )
});
static NEXT: std::sync::LazyLock<String> =
    std::sync::LazyLock::new(|| format!("SELECT min(o.not_before) FROM {ROWS} WHERE {SENDABLE}"));
static UNSETTLED: std::sync::LazyLock<String> = std::sync::LazyLock::new(|| {
    format!(
        "SELECT {COLUMNS} FROM {ROWS}
         WHERE o.state = 'sending' ORDER BY o.lane, o.id"
    )
});

/// Adds the posts of a cause. A key that is there already wins over the new post; a new edit takes the
/// place of the unsent ones of the same message, and a new message that of those it names.
pub(crate) fn enqueue(
    conn: &Connection,
    posts: &[Post],
    entered_ms: i64,
    made: &mut Committed,
) -> Result<(), StoreError> {
    let mut insert = conn.prepare_cached(
        "INSERT INTO outbox
            (key, channel, edits, lane, state, entered, not_before, attempts, message)
         VALUES (?1, ?2, ?3, ?4, 'waiting', ?5, ?5, 0, ?6)
         ON CONFLICT (key) DO NOTHING",
    )?;
    let mut replace = conn.prepare_cached(
        "DELETE FROM outbox WHERE edits = ?1 AND state = 'waiting' AND id < ?2 RETURNING id",
    )?;
    let mut bytes = Vec::new();
    for post in posts {
        let edits = match &post.kind {
            PostKind::New => None,
            PostKind::Edit { of } => Some(of),
        };
        bytes.clear();
        serde_json::to_writer(&mut bytes, &post.message).map_err(|fault| {
            StoreError::Misuse(format!("a message that is no plain data: {fault}"))
        })?;
        let inserted = insert.execute((
            &post.key,
            post.channel.0.cast_signed(),
            edits,
            lane_number(post.lane),
            entered_ms,
            Text(&bytes),
        ))?;
        if inserted == 0 {
            made.duplicates.push(post.key.clone());
            continue;
        }
        let id = conn.last_insert_rowid();
        let mut gone = Vec::new();
        for key in &post.in_place_of {
            made.overtaken.extend(overtake_sending(conn, key)?);
            gone.extend(forget_waiting(conn, key)?);
        }
        if let Some(of) = edits {
            gone.extend(ids(&mut replace, (of, id))?);
        }
        // Of this same group, perhaps: those are not there to be sent any more.
        made.outbox.retain(|id| !gone.contains(id));
        made.outbox.push(id);
    }
    Ok(())
}

/// Forgets a new message that still waits and was surely not made, and the edits that wait for it; which rows they were.
fn forget_waiting(conn: &Connection, key: &str) -> Result<Vec<i64>, StoreError> {
    let mut message = conn.prepare_cached(
        "DELETE FROM outbox WHERE key = ?1 AND edits IS NULL AND state = 'waiting' RETURNING id",
    )?;
    let mut gone = ids(&mut message, [key])?;
    if !gone.is_empty() {
        let mut edits = conn.prepare_cached(
            "DELETE FROM outbox WHERE edits = ?1 AND state = 'waiting' RETURNING id",
        )?;
        gone.extend(ids(&mut edits, [key])?);
    }
    Ok(gone)
}

/// The rows that a statement tells.
fn ids(statement: &mut Statement<'_>, about: impl Params) -> Result<Vec<i64>, StoreError> {
    let rows = statement.query_map(about, |row| row.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Marks a new message that is on its way, or whose fate is unsure: it may be there already, and is not sent once more.
fn overtake_sending(conn: &Connection, key: &str) -> Result<Option<i64>, StoreError> {
    Ok(conn
        .prepare_cached(
            "UPDATE outbox SET why = 'overtaken', state = 'sending'
             WHERE key = ?1 AND edits IS NULL
                AND (state = 'sending' OR state = 'waiting' AND sending_at IS NOT NULL) RETURNING id",
        )?
        .query_row([key], |row| row.get(0))
        .optional()?)
}

/// The time by which rows are old, which goes on with the clock as far as the program saw it go. A clock that is ahead by a month for
/// an hour would otherwise let the open alarm's card be forgotten, which could never be changed again, and the numbers by which our own
/// messages are known. It is never ahead of the clock, and where it is behind, because the program was away, it goes twice as fast.
pub(crate) fn age(conn: &Connection, now_ms: i64) -> Result<i64, StoreError> {
    let seen = |ms: Option<String>| ms.and_then(|ms| ms.parse::<i64>().ok());
    let last: Option<i64> = conn
        .prepare_cached("SELECT alive FROM about")?
        .query_row([], |row| row.get(0))?;
    // A file that never noted it is as old as when the program was last there.
    let before = seen(settings::value(conn, AGED)?).or(last);
    let aged = match (before, last) {
        (Some(before), Some(last)) => {
            let went = now_ms.saturating_sub(last).max(0).saturating_mul(2);
            now_ms.min(before.saturating_add(went.min(AGED_AT_ONCE.num_milliseconds())))
        }
        (None, _) | (_, None) => now_ms,
    };
    settings::set(conn, AGED, &aged.to_string())?;
    Ok(aged)
}

/// Forgets what was sent or given up long enough ago, and edits that wait for a message that will never come.
pub(crate) fn prune(conn: &Connection, now_ms: i64) -> Result<(), StoreError> {
    let before = |days| now_ms - TimeDelta::days(days).num_milliseconds();
    conn.prepare_cached(
        "DELETE FROM outbox
         WHERE (state IN ('sent', 'dead') AND entered < CASE
                    WHEN edits IS NOT NULL AND state = 'sent' THEN ?2 ELSE ?1 END)
            OR (state = 'waiting' AND edits IS NOT NULL AND entered < ?1)",
    )?
    .execute((before(POST_KEPT_DAYS), before(EDIT_KEPT_DAYS)))?;
    Ok(())
}

fn forget_edits(conn: &Connection, id: i64) -> Result<(), StoreError> {
    conn.prepare_cached(
        "DELETE FROM outbox WHERE state = 'waiting' AND edits IS NOT NULL
            AND edits = (SELECT key FROM outbox WHERE id = ?1 AND edits IS NULL)",
    )?
    .execute([id])?;
    Ok(())
}

fn one(changed: usize, id: i64) -> Result<(), StoreError> {
    if changed == 1 {
        return Ok(());
    }
    Err(StoreError::Misuse(format!(
        "row {id} of the outbox is not waiting to be sent"
    )))
}

/// The lanes' numbers in the file, in the order of sending.
fn lane_number(lane: Lane) -> i64 {
    match lane {
        Lane::Escalation => 0,
        Lane::Reminder => 1,
        Lane::Routine => 2,
    }
}

fn lane_from(number: i64) -> Lane {
    match number {
        0 => Lane::Escalation,
        1 => Lane::Reminder,
        _ => Lane::Routine,
    }
}

fn nonce(guild: Guild, key: &str, restored: Option<DateTime<Utc>>) -> String {
    use std::fmt::Write;
    let mut hasher = Sha256::new();
    hasher.update(guild.0.to_be_bytes());
    hasher.update(key.as_bytes());
    if let Some(at) = restored {
        // No key holds a zero, so that no two of these are one.
        hasher.update([0]);
        hasher.update(to_ms(at).to_be_bytes());
    }
    let hash = hasher.finalize();
    hash.iter()
        .take(NONCE_BYTES)
        .fold(String::with_capacity(2 * NONCE_BYTES), |mut out, byte| {
            // Writing to a String cannot fail.
            let _ = write!(out, "{byte:02x}");
            out
        })
}
