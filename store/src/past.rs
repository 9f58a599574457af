//! Parts of the log that an answer wants. Decides how each is found without reading the log from its beginning; leaves
//! what its records mean, and which of them are shown, to `commands`.
//!
//! With a million records, ten years of a hundred surfaces, in CPU time of two shared cores (example `past`): an entry
//! with what is about it takes under 0.1 ms, somebody's newest entries 0.2 ms, a surface's ten years (10,000 records)
//! 48 ms, a bed's 74 ms. Without the indices of format 2 every record is looked at: 258 ms for the surface, 7.3 s for the
//! bed. They cost 18 bytes a record (251 against 233). What the last of the ten years says of uses has no index: the 100,000
//! records since are looked at, 15 ms of SQLite 3.40 alone, for a question that a supervisor asks now and then.

use chrono::{DateTime, Utc};
use commands::Wanted;
use commands::evidence::Span;
use commands::ids::{Bed, Person, RecordNo, Tag};
use commands::past::{ALARM_ENDS, BEFORE, FRAMES, OWN_OFFERED, Seal};
use commands::record::Record;
use rusqlite::{OptionalExtension, Params};

use crate::chain::{self, Hash};
use crate::log::{from_ms, read_record};
use crate::{Store, StoreError};

/// How far back somebody's own entries are looked for, in records: some weeks of a large home.
const OWN_WITHIN: u64 = 20_000;

/// A query for the numbers of records, as one that reads those records.
macro_rules! records_of {
    ($numbers:literal) => {
        concat!(
            "SELECT no, cause, at, entered, who, role, version, body,
                    CASE WHEN note IS NOT NULL
                         THEN (SELECT n.text FROM notes n WHERE n.no = r.no) END
             FROM records r WHERE no IN (",
            $numbers,
            ") ORDER BY no"
        )
    };
}

/// All that one event made, and whatever is about any of it.
const ENTRY: &str = records_of!(
    "SELECT no FROM records WHERE no BETWEEN ?1 AND ?2
     UNION SELECT no FROM records WHERE amends BETWEEN ?1 AND ?2"
);

/// All between two numbers that is about a surface, its alarms included, and whatever is about any of it. The order of
/// the joins is fixed, and `+` keeps an index away: what comes first is few.
const SURFACE: &str = records_of!(
    "WITH own AS (
         SELECT no, kind FROM records WHERE surface = ?1 AND no BETWEEN ?2 AND ?3
     ), moved AS (
         SELECT amends AS no FROM records
         WHERE amends BETWEEN ?2 AND ?3 AND kind = 'amended' AND body ->> '$.now.tag' = ?1
     )
     SELECT no FROM own
     UNION SELECT l.no FROM own o CROSS JOIN records l ON l.body ->> '$.alarm' = o.no
         WHERE o.kind = 'alarm-opened' AND l.kind IN ('alarm-named', 'alarm-taken', 'resident-safe',
             'alarm-asked', 'ladder-restarted', 'alarm-cause', 'alarm-closed')
     UNION SELECT no FROM moved
     UNION SELECT a.no FROM moved m CROSS JOIN records a ON a.amends = m.no
     UNION SELECT no FROM records WHERE amends BETWEEN ?2 AND ?3 AND +surface = ?1"
);

/// What is about a bed itself.
const BED: &str = records_of!(
    "SELECT no FROM records r
     WHERE kind IN ('placed', 'moved', 'frame-set', 'zones-measured', 'zones-acted')
         AND (body ->> '$.bed' = ?1
             OR EXISTS (SELECT 1 FROM json_each(r.body, '$.beds') b WHERE b.value = ?1))"
);

/// Each time that a surface came under a bed.
const CAME: &str = "SELECT no, surface, body ->> '$.bed' = ?1 FROM records
     WHERE kind IN ('placed', 'moved', 'frame-set', 'zones-measured', 'zones-acted') AND kind IN ('placed', 'moved')
     ORDER BY no";

/// Somebody's newest entries that can be corrected, and whatever is about them.
const OWN: &str = records_of!(
    "WITH own AS MATERIALIZED (
         SELECT no, cause FROM records
         WHERE no > ?2 AND who = ?1 AND kind IN ('hand-checked', 'filter-looked', 'cleaned')
         ORDER BY no DESC LIMIT ?3
     )
     SELECT no FROM own
     UNION SELECT a.no FROM own o CROSS JOIN records a ON a.amends = o.no
     UNION SELECT a.no FROM own o CROSS JOIN records a ON a.amends = o.cause"
);

/// What was entered from a number on about when surfaces were in use: the kinds of `USE_KINDS`, which a test holds.
const USES: &str = records_of!(
    "SELECT no FROM records WHERE no >= ?1 AND kind IN ('surface-added', 'surface-retired', 'placed', 'released',
         'pulled', 'readied', 'pickup-called', 'taken-back')"
);

/// What happened or was entered between two moments, and what came of its alarms; what of the time before frames it; every
/// correction, with what it corrects. One walk over the log: an index by time would be in the cost of every record, for a question of once a
/// month. The kinds are in two lists, each between commas, which is a fifth faster here than so many comparisons.
const SPAN: &str = records_of!(
    "SELECT no FROM records
     WHERE (entered >= ?1 AND (entered < ?2 OR at < ?2 OR instr(?4, ',' || kind || ',') > 0))
         OR instr(?3, ',' || kind || ',') > 0
     UNION SELECT amends FROM records WHERE amends IS NOT NULL"
);

impl Store {
    /// What stands at the end of the log.
    pub fn seal(&self) -> Seal {
        Seal {
            no: self.head,
            hash: chain::hex(&self.tip),
        }
    }

    /// The hash of a record, in hexadecimal; `None` where there is none of that number.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn hash_of(&self, no: RecordNo) -> Result<Option<String>, StoreError> {
        let hash: Option<Hash> = self
            .conn
            .prepare_cached("SELECT hash FROM records WHERE no = ?1")?
            .query_row([no.0.cast_signed()], |row| row.get(0))
            .optional()?;
        Ok(hash.as_ref().map(chain::hex))
    }

    /// When a record was entered; `None` where there is none of that number.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn entered(&self, no: RecordNo) -> Result<Option<DateTime<Utc>>, StoreError> {
        let ms: Option<i64> = self
            .conn
            .prepare_cached("SELECT entered FROM records WHERE no = ?1")?
            .query_row([no.0.cast_signed()], |row| row.get(0))
            .optional()?;
        ms.map(from_ms).transpose()
    }

    /// What the log has of this, in the order of its records.
    ///
    /// # Errors
    /// [`StoreError::Unreadable`] for a record of a newer program or of broken bytes; others when the file cannot be
    /// read.
    pub fn past(&self, wanted: &Wanted) -> Result<Vec<Record>, StoreError> {
        match wanted {
            Wanted::Entry(no) => self.entry(*no),
            Wanted::Surface(tag) => self.of_surface(tag, 0, i64::MAX),
            Wanted::Bed(bed) => self.of_bed(bed),
            Wanted::Own(who) => self.own(*who),
            Wanted::Uses(since) => self.uses(*since),
            Wanted::Span(span) => self.span(*span),
        }
    }

    /// Entries stand in the order in which they were made, so that the first of them is found by halving; a clock that was
    /// set back meanwhile moves the beginning by that much.
    fn uses(&self, since: DateTime<Utc>) -> Result<Vec<Record>, StoreError> {
        let since = since.timestamp_millis();
        let mut statement = self
            .conn
            .prepare_cached("SELECT entered FROM records WHERE no = ?1")?;
        let (mut from, mut to) = (1, self.head().0.cast_signed() + 1);
        while from < to {
            let middle = from + (to - from) / 2;
            let entered: i64 = statement.query_row([middle], |row| row.get(0))?;
            if entered < since {
                from = middle + 1;
            } else {
                to = middle;
            }
        }
        self.read(USES, [from])
    }

    fn entry(&self, no: RecordNo) -> Result<Vec<Record>, StoreError> {
        let cause: Option<i64> = self
            .conn
            .prepare_cached("SELECT cause FROM records WHERE no = ?1")?
            .query_row([no.0.cast_signed()], |row| row.get(0))
            .optional()?;
        let Some(cause) = cause else {
            return Ok(Vec::new());
        };
        // The records of a cause stand together.
        let after: Option<i64> = self
            .conn
            .prepare_cached(
                "SELECT no FROM records WHERE no > ?1 AND cause <> ?1 ORDER BY no LIMIT 1",
            )?
            .query_row([cause], |row| row.get(0))
            .optional()?;
        let last = after.map_or(i64::MAX, |after| after - 1);
        self.read(ENTRY, (cause, last))
    }

    fn of_surface(&self, tag: &Tag, from: i64, to: i64) -> Result<Vec<Record>, StoreError> {
        self.read(SURFACE, (tag.as_str(), from, to))
    }

    /// What is about the bed, and about each surface from when it came there until it came somewhere else.
    fn of_bed(&self, bed: &Bed) -> Result<Vec<Record>, StoreError> {
        let mut statement = self.conn.prepare_cached(CAME)?;
        let rows = statement.query_map([bed.as_str()], |row| {
            Ok((
                row.get::<_, i64>(0)?,
                row.get::<_, String>(1)?,
                row.get::<_, bool>(2)?,
            ))
        })?;
        let came = rows.collect::<Result<Vec<_>, _>>()?;
        let mut records = self.read(BED, [bed.as_str()])?;
        for (place, (no, surface, here)) in came.iter().enumerate() {
            if !here {
                continue;
            }
            let mut later = came[place + 1..].iter();
            let until = later
                .find(|(_, other, _)| other == surface)
                .map_or(i64::MAX, |(until, _, _)| *until);
            records.extend(self.of_surface(&surface.as_str().into(), *no, until)?);
        }
        records.sort_by_key(|record| record.no);
        records.dedup_by_key(|record| record.no);
        Ok(records)
    }

    fn span(&self, span: Span) -> Result<Vec<Record>, StoreError> {
        let (from, to) = ((span.from - BEFORE), (span.to + BEFORE));
        let list = |kinds: &[&str]| format!(",{},", kinds.join(","));
        let (frames, ends) = (list(&FRAMES), list(&ALARM_ENDS));
        self.read(
            SPAN,
            (from.timestamp_millis(), to.timestamp_millis(), frames, ends),
        )
    }

    fn own(&self, who: Person) -> Result<Vec<Record>, StoreError> {
        let since = self.head().0.saturating_sub(OWN_WITHIN);
        let most = i64::try_from(OWN_OFFERED).unwrap_or(i64::MAX);
        self.read(OWN, (who.0.cast_signed(), since.cast_signed(), most))
    }

    fn read(&self, sql: &'static str, of: impl Params) -> Result<Vec<Record>, StoreError> {
        let mut statement = self.conn.prepare_cached(sql)?;
        let mut rows = statement.query(of)?;
        let mut records = Vec::new();
        while let Some(row) = rows.next()? {
            records.push(read_record(row)?);
        }
        Ok(records)
    }
}
