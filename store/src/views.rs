//! Views with plain names, so that a facility's own analyst can read the file with any SQLite tool.
//! Decides their columns; leaves what the words in them mean to `commands`, whose record bodies they read.
//!
//! Times are UTC, as `2026-03-01T13:40:00.000Z`. Lengths are millimetres. `taken_back` is 1 for what its writer
//! took back, which stays in the log and belongs in no count. A view is no part of the format: it is made anew
//! whenever its text here differs from the file's.

use rusqlite::{Connection, OptionalExtension, TransactionBehavior};

/// Name and text of each view. The text is what `sqlite_schema` keeps, so that it can be compared.
pub(crate) const VIEWS: &[(&str, &str)] = &[
    ("hand_checks", HAND_CHECKS),
    ("alarms", ALARMS),
    ("cleanings", CLEANINGS),
    ("filter_checks", FILTER_CHECKS),
    ("placements", PLACEMENTS),
];

/// Makes the views that are missing or of another text. Writes nothing when all are as they should be.
///
/// # Errors
/// What SQLite says; the views are then as they were.
pub(crate) fn refresh(conn: &mut Connection) -> rusqlite::Result<()> {
    let mut stale = Vec::new();
    for (name, text) in VIEWS {
        let found: Option<String> = conn
            .query_row(
                "SELECT sql FROM sqlite_schema WHERE type = 'view' AND name = ?1",
                [name],
                |row| row.get(0),
            )
            .optional()?;
        if found.as_deref() != Some(*text) {
            stale.push((name, text));
        }
    }
    if stale.is_empty() {
        return Ok(());
    }
    let change = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
    for (name, text) in stale {
        // A name cannot be a parameter; these are constants of this file.
        change.execute_batch(&format!("DROP VIEW IF EXISTS {name}; {text}"))?;
    }
    change.commit()
}

/// `air_mm` is there for a reading; otherwise `air` says which interval it was, or `why_not` why there was none.
const HAND_CHECKS: &str = "CREATE VIEW hand_checks AS
SELECT r.no AS record,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.at / 1000.0, 'unixepoch') AS happened,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.entered / 1000.0, 'unixepoch') AS entered,
    r.surface AS surface,
    CASE json_type(r.body, '$.air') WHEN 'text' THEN r.body ->> '$.air'
        ELSE CASE (SELECT a.type FROM json_each(r.body, '$.air') a)
            WHEN 'integer' THEN 'measured' ELSE 'could not check' END END AS air,
    (SELECT a.value / 10.0 FROM json_each(r.body, '$.air') a
        WHERE json_type(r.body, '$.air') = 'object' AND a.type = 'integer') AS air_mm,
    (SELECT a.value FROM json_each(r.body, '$.air') a
        WHERE json_type(r.body, '$.air') = 'object' AND a.type = 'text') AS why_not,
    r.body ->> '$.judged' AS judged,
    (r.body ->> '$.band.low') / 10.0 AS band_low_mm,
    (r.body ->> '$.band.high') / 10.0 AS band_high_mm,
    r.body ->> '$.site' AS site,
    r.body ->> '$.position' AS position,
    r.body ->> '$.mode' AS mode,
    r.body ->> '$.layers' AS layers,
    r.body ->> '$.setting' AS setting,
    r.body ->> '$.recheck' AS recheck_by,
    coalesce(r.body ->> '$.round', 0) AS in_round,
    r.who AS person,
    r.role AS role,
    (SELECT n.text FROM notes n WHERE n.no = r.no) AS note,
    EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back') AS taken_back
FROM records r
WHERE r.kind = 'hand-checked'";

/// One row an alarm, with the first time each thing happened to it.
const ALARMS: &str = "CREATE VIEW alarms AS
WITH later AS (
    SELECT l.body ->> '$.alarm' AS alarm,
        max(CASE l.kind WHEN 'alarm-named' THEN l.no END) AS named,
        min(CASE l.kind WHEN 'alarm-taken' THEN l.at END) AS taken,
        min(CASE l.kind WHEN 'resident-safe' THEN l.at END) AS safe,
        min(CASE l.kind WHEN 'alarm-closed' THEN l.at END) AS closed,
        max(CASE l.kind WHEN 'alarm-closed' THEN l.body ->> '$.end' END) AS ended,
        max(CASE l.kind WHEN 'alarm-cause' THEN l.no END) AS caused,
        count(CASE l.kind WHEN 'alarm-asked' THEN 1 END) AS asked,
        count(CASE l.kind WHEN 'ladder-restarted' THEN 1 END) AS restarted
    FROM records l
    WHERE l.kind IN ('alarm-named', 'alarm-taken', 'resident-safe', 'alarm-closed', 'alarm-cause',
        'alarm-asked', 'ladder-restarted')
        AND NOT EXISTS (SELECT 1 FROM records t WHERE t.amends = l.cause AND t.kind = 'taken-back')
    GROUP BY 1
)
SELECT r.no AS alarm,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.at / 1000.0, 'unixepoch') AS opened,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.entered / 1000.0, 'unixepoch') AS entered,
    r.surface AS surface,
    coalesce((SELECT n.body ->> '$.kind' FROM records n WHERE n.no = l.named), r.body ->> '$.kind') AS kind,
    coalesce((SELECT n.body ->> '$.priority' FROM records n WHERE n.no = l.named),
        r.body ->> '$.priority') AS priority,
    strftime('%Y-%m-%dT%H:%M:%fZ', l.taken / 1000.0, 'unixepoch') AS taken,
    strftime('%Y-%m-%dT%H:%M:%fZ', l.safe / 1000.0, 'unixepoch') AS resident_safe,
    strftime('%Y-%m-%dT%H:%M:%fZ', l.closed / 1000.0, 'unixepoch') AS closed,
    (l.taken - r.at) / 60000.0 AS minutes_to_taken,
    (l.safe - r.at) / 60000.0 AS minutes_to_safe,
    (l.closed - r.at) / 60000.0 AS minutes_to_closed,
    (SELECT c.body ->> '$.cause' FROM records c WHERE c.no = l.caused) AS cause,
    l.ended AS ended,
    coalesce(l.asked, 0) AS times_asked,
    coalesce(l.restarted, 0) AS ladder_restarts,
    r.who AS person,
    r.role AS role,
    (SELECT n.text FROM notes n WHERE n.no = r.no) AS note,
    EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back') AS taken_back
FROM records r LEFT JOIN later l ON l.alarm = r.no
WHERE r.kind = 'alarm-opened'";

const CLEANINGS: &str = "CREATE VIEW cleanings AS
SELECT r.no AS record,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.at / 1000.0, 'unixepoch') AS happened,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.entered / 1000.0, 'unixepoch') AS entered,
    r.surface AS surface,
    r.body ->> '$.reason' AS reason,
    r.body ->> '$.method' AS method,
    r.body ->> '$.product' AS product,
    r.body ->> '$.cover' AS cover,
    r.who AS person,
    r.role AS role,
    (SELECT n.text FROM notes n WHERE n.no = r.no) AS note,
    EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back') AS taken_back
FROM records r
WHERE r.kind = 'cleaned'";

const FILTER_CHECKS: &str = "CREATE VIEW filter_checks AS
SELECT r.no AS record,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.at / 1000.0, 'unixepoch') AS happened,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.entered / 1000.0, 'unixepoch') AS entered,
    r.surface AS surface,
    r.body ->> '$.finding' AS finding,
    r.body ->> '$.action' AS action,
    r.who AS person,
    r.role AS role,
    (SELECT n.text FROM notes n WHERE n.no = r.no) AS note,
    EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back') AS taken_back
FROM records r
WHERE r.kind = 'filter-looked'";

/// A placement begins when the surface is placed or moved there with the resident aboard, and ends with its next
/// release, placement or move. What was taken back ends nothing. A swap is the release of one surface and the
/// placement of another, which `instead_of` links.
const PLACEMENTS: &str = "CREATE VIEW placements AS
WITH moves AS (
    SELECT r.no, r.at, r.entered, r.kind, r.surface, r.body, r.who, r.role,
        EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back') AS taken_back
    FROM records r
    WHERE r.kind IN ('placed', 'moved', 'released')
), standing AS (
    SELECT m.no, lead(m.at) OVER each_surface AS until,
        CASE lead(m.kind) OVER each_surface WHEN 'released'
            THEN lead(m.body) OVER each_surface ->> '$.reason' END AS reason
    FROM moves m
    WHERE NOT m.taken_back
    WINDOW each_surface AS (PARTITION BY m.surface ORDER BY m.at, m.no)
)
SELECT m.no AS record,
    m.surface AS surface,
    m.body ->> '$.bed' AS bed,
    m.kind = 'moved' AS moved,
    m.body ->> '$.instead_of' AS instead_of,
    strftime('%Y-%m-%dT%H:%M:%fZ', m.at / 1000.0, 'unixepoch') AS placed,
    strftime('%Y-%m-%dT%H:%M:%fZ', m.entered / 1000.0, 'unixepoch') AS entered,
    strftime('%Y-%m-%dT%H:%M:%fZ', s.until / 1000.0, 'unixepoch') AS ended,
    s.reason AS release_reason,
    (s.until - m.at) / 86400000.0 AS days,
    m.who AS person,
    m.role AS role,
    (SELECT n.text FROM notes n WHERE n.no = m.no) AS note,
    m.taken_back AS taken_back
FROM moves m LEFT JOIN standing s ON s.no = m.no
WHERE m.kind IN ('placed', 'moved')";
