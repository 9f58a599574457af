//! The core of loftwatch: what people can ask, the rules of the trade, the state of a facility as a
//! fold of its records, and what is due.
//!
//! Values in, values out. There is no I/O here, no clock, no chat library and no SQL; whoever calls
//! says what time it is, and reads of the log what an answer says it wants. Four questions are the whole interface:
//!
//! - [`answer`]: somebody said something; what follows from it?
//! - [`tick`]: is anything due at this moment, and what follows from that?
//! - [`next_due`]: when should the caller look again?
//! - [`State::apply`]: this record is now a fact.

pub mod choice;
pub mod decide;
pub mod decision;
pub mod due;
pub mod evidence;
pub mod ids;
pub mod message;
pub mod parse;
pub mod past;
pub mod picture;
pub mod record;
pub mod refusal;
pub mod request;
pub mod role;
pub mod rules;
pub mod said;
pub mod state;
pub mod table;
pub mod tap;
pub mod words;

pub use decide::{answer, answer_from, answer_knowing, in_public};
pub use decision::Decision;
pub use due::{
    called_again, clock_stepped, next_due, put_back, returned, role_deleted, role_everybody,
    saved_again, tick, uncalled, undelivered, unsaved, without_backup,
};
pub use past::{Past, Wanted};
pub use said::{Ask, Said, Source};
pub use state::State;
