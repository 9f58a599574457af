//! What the memory promises, through its public interface; damage is done through a raw connection.

#![allow(
    clippy::unwrap_used,
    reason = "helpers of tests may stop them; clippy.toml only covers the tests themselves"
)]

mod backup;
mod damage;
mod erase;
mod log;
mod outbox;
mod past;
mod random;
mod refusals;
mod samples;
mod schema;
mod snapshots;
mod verify;
mod views;
