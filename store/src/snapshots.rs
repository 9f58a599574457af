//! The state at some number, so that start-up need not fold the whole log. Decides which snapshots can be
//! trusted; leaves how often to make one to `bot`. A snapshot is a shortcut and never the truth: one that does
//! not fit is passed over, and removed when the file is opened to be written.

use commands::State;
use commands::ids::RecordNo;
use rusqlite::OptionalExtension;
use sha2::{Digest, Sha256};

use crate::chain::Hash;
use crate::log::Text;
use crate::{Store, StoreError};

/// How many are kept: the newest, and one to fall back on.
pub const SNAPSHOTS_KEPT: i64 = 2;

impl Store {
    /// The state of the facility: the newest usable snapshot with the records after it.
    ///
    /// # Errors
    /// [`StoreError::Impossible`] when a record cannot follow on those before it, [`StoreError::Unreadable`] when one
    /// cannot be read, others when the file cannot be read.
    pub fn replay(&self) -> Result<State, StoreError> {
        self.replay_telling(|| {})
    }

    /// The same, which takes long where a log of years has no snapshot; tells after every few thousand records that it goes on.
    ///
    /// # Errors
    /// As [`Store::replay`].
    pub fn replay_telling(&self, goes_on: impl Fn()) -> Result<State, StoreError> {
        let mut state = self.newest_snapshot()?.unwrap_or_default();
        self.catch_up(&mut state, goes_on)?;
        Ok(state)
    }

    /// Keeps the state as it is now, and the newest [`SNAPSHOTS_KEPT`] in all. Before the first record there is
    /// nothing to keep.
    ///
    /// # Errors
    /// [`StoreError::Misuse`] when the state is not that of the newest record; [`StoreError::Snapshot`] when it cannot be
    /// written as text. Nothing is lost then.
    pub fn snapshot(&mut self, state: &State) -> Result<(), StoreError> {
        let no = state.next_no().0.saturating_sub(1);
        if no != self.head.0 {
            return Err(StoreError::Misuse(format!(
                "a snapshot at record {no}, where the newest is {}",
                self.head
            )));
        }
        if no == 0 {
            return Ok(());
        }
        let bytes =
            serde_json::to_vec(state).map_err(|why| StoreError::Snapshot(why.to_string()))?;
        let tip = self.tip;
        let digest = digest(State::VERSION, &tip, &bytes);
        self.write(|conn| {
            conn.prepare_cached(
                "INSERT INTO snapshots (no, version, hash, state, digest) VALUES (?1, ?2, ?3, ?4, ?5)
                 ON CONFLICT (no) DO UPDATE SET version = excluded.version, hash = excluded.hash,
                    state = excluded.state, digest = excluded.digest",
            )?
            .execute((no.cast_signed(), State::VERSION, &tip[..], Text(&bytes), &digest[..]))?;
            conn.prepare_cached(
                "DELETE FROM snapshots
                 WHERE no NOT IN (SELECT no FROM snapshots ORDER BY no DESC LIMIT ?1)",
            )?
            .execute([SNAPSHOTS_KEPT])?;
            Ok(())
        })
    }

    fn newest_snapshot(&self) -> Result<Option<State>, StoreError> {
        for kept in self.snapshots()? {
            match self.usable(&kept)? {
                Some(state) => return Ok(Some(state)),
                None => tracing::info!(
                    record = kept.no.0,
                    "a snapshot is passed over: older, or damaged"
                ),
            }
        }
        Ok(None)
    }

    /// Removes the snapshots that are damaged. Those of another version of this program stay: it may be put back. Where the file takes
    /// no writes they stay too, and are passed over.
    pub(crate) fn drop_damaged_snapshots(&mut self) -> Result<(), StoreError> {
        let mut damaged = Vec::new();
        for kept in self.snapshots()? {
            if !self.stands(&kept)? {
                damaged.push(kept.no);
            }
        }
        if damaged.is_empty() {
            return Ok(());
        }
        let removed = self.write(|conn| {
            for no in &damaged {
                conn.execute("DELETE FROM snapshots WHERE no = ?1", [no.0.cast_signed()])?;
            }
            Ok(())
        });
        let count = damaged.len();
        match removed {
            Ok(()) => tracing::info!(count, "snapshots that were damaged are removed"),
            Err(fault @ StoreError::Unknown { .. }) => return Err(fault),
            Err(fault) => tracing::info!(count, %fault, "damaged snapshots could not be removed"),
        }
        Ok(())
    }

    /// The numbers of the snapshots, newest first.
    pub(crate) fn snapshots(&self) -> Result<Vec<Kept>, StoreError> {
        let mut statement = self.conn.prepare_cached(
            "SELECT no, version, hash, state, digest FROM snapshots ORDER BY no DESC",
        )?;
        let rows = statement.query_map([], |row| {
            Ok(Kept {
                no: RecordNo(row.get::<_, i64>(0)?.cast_unsigned()),
                version: row.get(1)?,
                hash: row.get(2)?,
                bytes: row.get_ref(3)?.as_bytes()?.to_vec(),
                digest: row.get(4)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The state of a snapshot that is of this program's fold, undamaged, and of this very log.
    pub(crate) fn usable(&self, kept: &Kept) -> Result<Option<State>, StoreError> {
        if kept.version != i64::from(State::VERSION) || !self.stands(kept)? {
            return Ok(None);
        }
        let state: Option<State> = serde_json::from_slice(&kept.bytes).ok();
        Ok(state.filter(|state| state.next_no() == kept.no.next()))
    }

    /// Whether it is undamaged and of this very log, whatever program folded it.
    fn stands(&self, kept: &Kept) -> Result<bool, StoreError> {
        if !kept.intact() {
            return Ok(false);
        }
        let hash: Option<Vec<u8>> = self
            .conn
            .prepare_cached("SELECT hash FROM records WHERE no = ?1")?
            .query_row([kept.no.0.cast_signed()], |row| row.get(0))
            .optional()?;
        Ok(hash.as_deref() == Some(&kept.hash[..]))
    }
}

/// A snapshot as it stands in the file.
pub(crate) struct Kept {
    pub no: RecordNo,
    pub version: i64,
    hash: Vec<u8>,
    bytes: Vec<u8>,
    digest: Vec<u8>,
}

impl Kept {
    /// Whether its bytes are those that were written.
    pub(crate) fn intact(&self) -> bool {
        let (Ok(version), Ok(hash)) =
            (u32::try_from(self.version), self.hash.as_slice().try_into())
        else {
            return false;
        };
        self.digest == digest(version, hash, &self.bytes)
    }
}

/// SHA-256(version ‖ hash of the record ‖ bytes): a flipped byte in a number would still read as a state.
fn digest(version: u32, hash: &Hash, bytes: &[u8]) -> Hash {
    let mut hasher = Sha256::new();
    hasher.update(version.to_be_bytes());
    hasher.update(hash);
    hasher.update(bytes);
    hasher.finalize().into()
}
