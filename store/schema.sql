-- One facility's file, for readers. It is a dump of the newest format and is never run by the
-- program: `migrations.rs` makes the tables and `views.rs` the views, and a test keeps this page equal to them.
--
-- Times are milliseconds since 1970 UTC. Numbers of the chat platform (people, channels, interactions) are
-- 64 bits as the platform counts them.

-- The one row about the file itself.
CREATE TABLE about (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    guild INTEGER NOT NULL, -- whose file it is
    alive INTEGER           -- when the program was last known to run
) STRICT;

-- What made something happen: one tap, one message, one time that had come. It owns the records first,
-- first + 1 ... first + count - 1. The same event twice is refused by the key.
CREATE TABLE causes (
    source ANY NOT NULL PRIMARY KEY, -- 123: interaction 123; -123: message 123; anything else as text
    first INTEGER NOT NULL,          -- 0 when it made no record
    count INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- The log. Nothing updates or deletes a row.
CREATE TABLE records (
    no INTEGER PRIMARY KEY,   -- 1, 2, 3 ... without holes
    cause INTEGER NOT NULL,   -- number of the first record of the same cause
    at INTEGER NOT NULL,      -- when it happened
    entered INTEGER NOT NULL, -- when it was entered
    who INTEGER,              -- chat user; none for the clock
    role TEXT NOT NULL,       -- the role they acted in
    kind TEXT NOT NULL,       -- what it is about
    surface TEXT,             -- the tag, where it is about one
    amends INTEGER,           -- the earlier record that it corrects
    version INTEGER NOT NULL, -- of the body
    body TEXT NOT NULL,       -- JSON, the very bytes that were hashed
    note BLOB,                -- SHA-256 of salt and text of its note, where it had one
    hash BLOB NOT NULL        -- SHA-256 over the hash before it and all of the above; see chain.rs
) STRICT;

-- Few rows: only amendments are in it. Finds what was taken back.
CREATE INDEX records_by_amended ON records (amends) WHERE amends IS NOT NULL;

-- Everything about a surface, without reading the log from its beginning.
CREATE INDEX records_by_surface ON records (surface) WHERE surface IS NOT NULL;

-- Few rows: what happened to an alarm after it was opened.
CREATE INDEX records_by_alarm ON records (body ->> '$.alarm')
    WHERE kind IN ('alarm-named', 'alarm-taken', 'resident-safe', 'alarm-asked', 'ladder-restarted',
        'alarm-cause', 'alarm-closed');

-- Few rows: what came under which bed, and what is known of beds.
CREATE INDEX records_at_beds ON records (kind)
    WHERE kind IN ('placed', 'moved', 'frame-set', 'zones-measured', 'zones-acted');

-- Free text beside records. A row can be erased; its record stays and still verifies.
CREATE TABLE notes (
    no INTEGER PRIMARY KEY REFERENCES records (no),
    salt BLOB NOT NULL,
    text TEXT NOT NULL
) STRICT;

-- Answers that were decided and are not known to be given. Apart from the causes, so that the room they
-- take is used again.
CREATE TABLE owed (
    id INTEGER PRIMARY KEY, -- the interaction's number, negative for other causes
    source ANY NOT NULL,    -- as in causes
    interaction INTEGER NOT NULL,
    token TEXT NOT NULL,    -- the platform's, good for minutes
    channel INTEGER NOT NULL,
    who INTEGER NOT NULL,
    answer TEXT NOT NULL    -- JSON
    , lang TEXT NOT NULL DEFAULT 'en') STRICT; -- the language of who; it came with format 2

-- Messages for others.
CREATE TABLE outbox (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    key TEXT NOT NULL UNIQUE,    -- the alarm and the rung, the schedule and its slot
    channel INTEGER NOT NULL,
    edits TEXT,                  -- key of the post that it changes; none for a new message
    lane INTEGER NOT NULL,       -- 0 escalation, 1 reminder, 2 routine
    state TEXT NOT NULL CHECK (state IN ('waiting', 'sending', 'sent', 'dead')),
    entered INTEGER NOT NULL,
    not_before INTEGER NOT NULL, -- when it may be tried
    attempts INTEGER NOT NULL,
    sending_at INTEGER,          -- when it was first tried
    sent_as INTEGER,             -- the platform's number for the message
    why TEXT,                    -- why it was given up
    message TEXT NOT NULL        -- JSON; empty once sent or given up
) STRICT;

CREATE INDEX outbox_by_state ON outbox (state, lane);
CREATE INDEX outbox_by_edited ON outbox (edits) WHERE edits IS NOT NULL;

-- Small facts of the program.
CREATE TABLE settings (
    name TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- Shortcuts for start-up. May be deleted at any time.
CREATE TABLE snapshots (
    no INTEGER PRIMARY KEY,   -- the newest record that is in it
    version INTEGER NOT NULL, -- of the fold
    hash BLOB NOT NULL,       -- of that record
    state TEXT NOT NULL,      -- JSON
    digest BLOB NOT NULL      -- SHA-256 of version, hash and state
) STRICT;

CREATE TRIGGER records_stay BEFORE UPDATE ON records
BEGIN SELECT RAISE(ABORT, 'a record is never changed; add an amendment'); END;
CREATE TRIGGER records_remain BEFORE DELETE ON records
BEGIN SELECT RAISE(ABORT, 'a record is never deleted; add an amendment'); END;
CREATE TRIGGER causes_stay BEFORE UPDATE ON causes
BEGIN SELECT RAISE(ABORT, 'a cause is never changed'); END;
CREATE TRIGGER causes_remain BEFORE DELETE ON causes
BEGIN SELECT RAISE(ABORT, 'a cause is never deleted'); END;
-- Views for analysts. Times as text, lengths in millimetres; `taken_back` is 1 for what belongs in no count.

-- Each hand check, or why there was none.
CREATE VIEW hand_checks AS
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
FROM entries r;

-- Each alarm, with the first time that each thing happened to it.
CREATE VIEW alarms AS
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
WHERE r.kind = 'alarm-opened';

-- Each cleaning.
CREATE VIEW cleanings AS
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
FROM entries r;

-- Each look at a filter.
CREATE VIEW filter_checks AS
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
FROM entries r;

-- Each time a surface was under a bed.
CREATE VIEW placements AS
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
WHERE m.kind IN ('placed', 'moved');

-- What corrected, remarked on, signed or took back which entry: one row for each thing that a correction changed.
CREATE VIEW amendments AS
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
WHERE a.amends IS NOT NULL;
