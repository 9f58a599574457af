//! The core of loftwatch: what people can ask, the rules of the trade, the state of a facility as a
//! fold of its records, and what is due.
//!
//! Values in, values out. There is no I/O here, no clock, no chat library and no SQL; whoever calls
//! says what time it is. Four questions are the whole interface:
//!
//! - [`answer`]: somebody said something; what follows from it?
//! - [`tick`]: is anything due at this moment, and what follows from that?
//! - [`next_due`]: when should the caller look again?
//! - [`State::apply`]: this record is now a fact.

pub mod choice;
pub mod decision;
pub mod ids;
pub mod message;
pub mod record;
pub mod role;
pub mod rules;
pub mod said;
pub mod state;
pub mod table;
pub mod words;

use chrono::{DateTime, Utc};

pub use decision::Decision;
pub use said::{Ask, Said, Source};
pub use state::State;

/// Somebody said something: what follows from it. Refusals are answers too.
pub fn answer(state: &State, ask: &Ask, said: &Said) -> Decision {
    let _ = (state, ask, said);
    Decision::default()
}

/// The earliest thing that is due at `now`, with the cause it is recorded under; `None` when nothing
/// is. Call again after committing it, until there is nothing left.
pub fn tick(state: &State, now: DateTime<Utc>) -> Option<(Source, Decision)> {
    let _ = (state, now);
    None
}

/// The next moment at which [`tick`] will have something.
pub fn next_due(state: &State) -> Option<DateTime<Utc>> {
    let _ = state;
    None
}

/// The program was away between two moments: what the facility is told, if that was long enough to say.
pub fn returned(
    state: &State,
    from: DateTime<Utc>,
    to: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let _ = (state, from, to);
    None
}
