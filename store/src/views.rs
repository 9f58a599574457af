//! Views with plain names, so that a facility's own analyst can read the file with any SQLite tool.
//! Decides their columns; leaves what the words in them mean to `commands`, whose record bodies they read.
//!
//! Times are UTC, as `2026-03-01T13:40:00.000Z`. Lengths are millimetres. `taken_back` is 1 for what its writer
//! took back or, later, marked as entered by mistake (`struck` is then 1 too): it stays in the log and belongs in no
//! count. What was corrected is shown as it reads now, with `amended` 1, by whom and why; how it read before is in
//! `amendments`. A view is no part of the format: it is made anew whenever its text here differs from the file's.

use rusqlite::{Connection, OptionalExtension, TransactionBehavior};

/// Name and text of each view. The text is what `sqlite_schema` keeps, so that it can be compared.
pub(crate) const VIEWS: &[(&str, &str)] = &[
    ("hand_checks", HAND_CHECKS),
    ("alarms", ALARMS),
    ("cleanings", CLEANINGS),
    ("filter_checks", FILTER_CHECKS),
    ("placements", PLACEMENTS),
    ("amendments", AMENDMENTS),
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
WITH newest AS (
    SELECT a.amends AS entry, max(a.no) AS no FROM records a
    WHERE a.amends IS NOT NULL AND a.kind = 'amended'
    GROUP BY a.amends
), entries AS (
    SELECT e.no, e.cause, e.surface, e.entered, e.who, e.role, a.no AS amended_in, a.who AS amended_by,
        coalesce(a.body -> '$.now', e.body) AS body,
        coalesce(strftime('%Y-%m-%dT%H:%M:%fZ', a.body ->> '$.happened'),
            strftime('%Y-%m-%dT%H:%M:%fZ', e.at / 1000.0, 'unixepoch')) AS happened,
        a.no IS NOT NULL AND a.body -> '$.now' IS NULL AS struck
    FROM records e LEFT JOIN newest l ON l.entry = e.no LEFT JOIN records a ON a.no = l.no
    WHERE e.kind = 'hand-checked'
)
SELECT r.no AS record,
    r.happened AS happened,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.entered / 1000.0, 'unixepoch') AS entered,
    r.body ->> '$.tag' AS surface,
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
    r.struck OR EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back'
        AND t.surface = r.surface) AS taken_back,
    r.struck AS struck,
    r.amended_in IS NOT NULL AS amended,
    r.amended_by AS amended_by,
    (SELECT n.text FROM notes n WHERE n.no = r.amended_in) AS amend_reason,
    (SELECT count(*) FROM records t WHERE t.amends = r.no AND t.kind = 'annotated') AS remarks
FROM entries r";

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
    FROM records l JOIN records o ON o.no = l.body ->> '$.alarm'
    WHERE l.kind IN ('alarm-named', 'alarm-taken', 'resident-safe', 'alarm-closed', 'alarm-cause',
        'alarm-asked', 'ladder-restarted')
        AND NOT EXISTS (SELECT 1 FROM records t WHERE t.amends = l.cause AND t.kind = 'taken-back'
            AND t.surface = o.surface)
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
    EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back'
        AND t.surface = r.surface) AS taken_back,
    (SELECT count(*) FROM records t WHERE t.amends = r.no AND t.kind = 'annotated') AS remarks
FROM records r LEFT JOIN later l ON l.alarm = r.no
WHERE r.kind = 'alarm-opened'";

const CLEANINGS: &str = "CREATE VIEW cleanings AS
WITH newest AS (
    SELECT a.amends AS entry, max(a.no) AS no FROM records a
    WHERE a.amends IS NOT NULL AND a.kind = 'amended'
    GROUP BY a.amends
), entries AS (
    SELECT e.no, e.cause, e.surface, e.entered, e.who, e.role, a.no AS amended_in, a.who AS amended_by,
        coalesce(a.body -> '$.now', e.body) AS body,
        coalesce(strftime('%Y-%m-%dT%H:%M:%fZ', a.body ->> '$.happened'),
            strftime('%Y-%m-%dT%H:%M:%fZ', e.at / 1000.0, 'unixepoch')) AS happened,
        a.no IS NOT NULL AND a.body -> '$.now' IS NULL AS struck
    FROM records e LEFT JOIN newest l ON l.entry = e.no LEFT JOIN records a ON a.no = l.no
    WHERE e.kind = 'cleaned'
)
SELECT r.no AS record,
    r.happened AS happened,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.entered / 1000.0, 'unixepoch') AS entered,
    r.body ->> '$.tag' AS surface,
    r.body ->> '$.reason' AS reason,
    r.body ->> '$.method' AS method,
    r.body ->> '$.product' AS product,
    r.body ->> '$.cover' AS cover,
    r.who AS person,
    r.role AS role,
    (SELECT n.text FROM notes n WHERE n.no = r.no) AS note,
    r.struck OR EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back'
        AND t.surface = r.surface) AS taken_back,
    r.struck AS struck,
    r.amended_in IS NOT NULL AS amended,
    r.amended_by AS amended_by,
    (SELECT n.text FROM notes n WHERE n.no = r.amended_in) AS amend_reason,
    (SELECT count(*) FROM records t WHERE t.amends = r.no AND t.kind = 'annotated') AS remarks
FROM entries r";

const FILTER_CHECKS: &str = "CREATE VIEW filter_checks AS
WITH newest AS (
    SELECT a.amends AS entry, max(a.no) AS no FROM records a
    WHERE a.amends IS NOT NULL AND a.kind = 'amended'
    GROUP BY a.amends
), entries AS (
    SELECT e.no, e.cause, e.surface, e.entered, e.who, e.role, a.no AS amended_in, a.who AS amended_by,
        coalesce(a.body -> '$.now', e.body) AS body,
        coalesce(strftime('%Y-%m-%dT%H:%M:%fZ', a.body ->> '$.happened'),
            strftime('%Y-%m-%dT%H:%M:%fZ', e.at / 1000.0, 'unixepoch')) AS happened,
        a.no IS NOT NULL AND a.body -> '$.now' IS NULL AS struck
    FROM records e LEFT JOIN newest l ON l.entry = e.no LEFT JOIN records a ON a.no = l.no
    WHERE e.kind = 'filter-looked'
)
SELECT r.no AS record,
    r.happened AS happened,
    strftime('%Y-%m-%dT%H:%M:%fZ', r.entered / 1000.0, 'unixepoch') AS entered,
    r.body ->> '$.tag' AS surface,
    r.body ->> '$.finding' AS finding,
    r.body ->> '$.action' AS action,
    r.who AS person,
    r.role AS role,
    (SELECT n.text FROM notes n WHERE n.no = r.no) AS note,
    r.struck OR EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back'
        AND t.surface = r.surface) AS taken_back,
    r.struck AS struck,
    r.amended_in IS NOT NULL AS amended,
    r.amended_by AS amended_by,
    (SELECT n.text FROM notes n WHERE n.no = r.amended_in) AS amend_reason,
    (SELECT count(*) FROM records t WHERE t.amends = r.no AND t.kind = 'annotated') AS remarks
FROM entries r";

/// A placement begins when the surface is placed or moved there with the resident aboard, and ends with its next
/// release, placement or move. What was taken back ends nothing. A swap is the release of one surface and the
/// placement of another, which `instead_of` links.
const PLACEMENTS: &str = "CREATE VIEW placements AS
WITH moves AS (
    SELECT r.no, r.at, r.entered, r.kind, r.surface, r.body, r.who, r.role,
        EXISTS (SELECT 1 FROM records t WHERE t.amends = r.cause AND t.kind = 'taken-back'
        AND t.surface = r.surface) AS taken_back
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
    m.taken_back AS taken_back,
    (SELECT count(*) FROM records t WHERE t.amends = m.no AND t.kind = 'annotated') AS remarks
FROM moves m LEFT JOIN standing s ON s.no = m.no
WHERE m.kind IN ('placed', 'moved')";

/// One row for each thing that a correction changed, and one for each remark, signature and taking back. `entry` is the
/// record that it is about (of what was taken back, its first), `record` the one that says so.
const AMENDMENTS: &str = "CREATE VIEW amendments AS
WITH corrections AS (
    SELECT a.no, a.amends AS entry, a.body -> '$.now' AS now,
        CASE row_number() OVER each_entry WHEN 1 THEN e.body ELSE lag(a.body -> '$.now') OVER each_entry END AS before,
        strftime('%Y-%m-%dT%H:%M:%fZ', a.body ->> '$.happened') AS now_at,
        CASE row_number() OVER each_entry
            WHEN 1 THEN strftime('%Y-%m-%dT%H:%M:%fZ', e.at / 1000.0, 'unixepoch')
            ELSE strftime('%Y-%m-%dT%H:%M:%fZ', lag(a.body ->> '$.happened') OVER each_entry) END AS before_at
    FROM records a JOIN records e ON e.no = a.amends
    WHERE a.amends IS NOT NULL AND a.kind = 'amended'
    WINDOW each_entry AS (PARTITION BY a.amends ORDER BY a.no)
), fields AS (
    SELECT c.no, f.key AS field, json_extract(c.before, '$.' || f.key) AS old,
        json_extract(c.now, '$.' || f.key) AS new
    FROM corrections c, (SELECT x.no, k.key FROM corrections x, json_each(x.now) k
        UNION SELECT x.no, k.key FROM corrections x, json_each(x.before) k) f
    WHERE f.no = c.no AND c.now IS NOT NULL AND c.before IS NOT NULL
    UNION ALL SELECT c.no, 'happened', c.before_at, c.now_at FROM corrections c
    UNION ALL SELECT c.no, 'struck', c.before IS NULL, c.now IS NULL FROM corrections c
)
SELECT a.no AS record,
    a.amends AS entry,
    a.kind AS what,
    a.surface AS surface,
    f.field AS field,
    f.old AS old,
    f.new AS new,
    (SELECT n.text FROM notes n WHERE n.no = a.no) AS reason,
    a.who AS person,
    a.role AS role,
    strftime('%Y-%m-%dT%H:%M:%fZ', a.at / 1000.0, 'unixepoch') AS happened
FROM records a LEFT JOIN fields f ON f.no = a.no AND f.old IS NOT f.new
WHERE a.amends IS NOT NULL";
