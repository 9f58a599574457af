//! What the memory promises, through its public interface; damage is done through a raw connection.

mod log;
mod outbox;
mod random;
mod refusals;
mod samples;
mod schema;
mod snapshots;
mod verify;
mod views;
