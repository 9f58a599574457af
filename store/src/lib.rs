//! The memory of loftwatch: one SQLite file per facility holding its log and its outbox.
//!
//! Decides how facts are kept, how a file is opened and how its damage is found. Leaves every rule of
//! the trade to `commands`, and every sentence for people of the facility, every clock and every
//! network to `bot`: times come in as arguments. The sentences here are for whoever runs the computer.
//!
//! Reading order: `schema.sql`, then `open` (what is refused and why), `log` (the one write door),
//! `outbox`, `snapshots`, `verify`, then `backup`, `restore` and `erase`.
//!
//! # Invariants
//!
//! - A record and what it causes (its cause, its notes, its posts, the answer owed) are on disk together or not
//!   at all.
//! - The records of the log are numbered 1, 2, 3 … without holes, and each belongs to exactly one cause.
//! - Nothing updates or deletes a record or a cause.
//! - Only the holder of the lock file writes.

mod backup;
mod chain;
mod erase;
mod error;
mod log;
mod migrations;
mod notes;
mod open;
mod outbox;
mod past;
mod place;
mod restore;
mod settings;
mod snapshots;
mod source;
mod verify;
mod views;
mod write;

pub use backup::{Backup, back_up, backups, has_records, made_at, newest_backup, not_lost, prune};
pub use erase::{Erased, FilesOf, erase, files_of};
pub use error::StoreError;
pub use log::{Committed, Owed, Owing, Prepared, Seen};
pub use open::{APPLICATION_ID, SQLITE_OLDEST, Store};
pub use outbox::{EDIT_KEPT_DAYS, OutRow, POST_KEPT_DAYS};
pub use place::{free_bytes, inspect, inspect_backups, local_disk, made_in, takes_folders};
pub use restore::{Before, Past, Restored, owner_of, restore};
pub use snapshots::SNAPSHOTS_KEPT;
pub use verify::{Trouble, Verified};
