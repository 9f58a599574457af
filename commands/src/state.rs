//! Stand-in until the state lands.
use crate::ids::RecordNo;
use crate::record::Record;
use serde::{Deserialize, Serialize};
/// The state of a facility.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct State {
    /// The newest record's number, 0 before the first.
    head: u64,
}
/// A record that cannot follow on this state.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("record {no} cannot follow: {why}")]
pub struct Impossible {
    /// The record.
    pub no: RecordNo,
    /// Both sides, in a sentence.
    pub why: String,
}
impl State {
    /// The version of the fold: a snapshot of another one is not read.
    pub const VERSION: u32 = 1;
    /// The number the next record gets.
    pub fn next_no(&self) -> RecordNo {
        RecordNo(self.head + 1)
    }
    /// This record is now a fact. A record that fails changes nothing.
    ///
    /// # Errors
    /// [`Impossible`] when the record cannot follow.
    pub fn apply(&mut self, record: &Record) -> Result<(), Impossible> {
        if record.no != self.next_no() {
            return Err(Impossible {
                no: record.no,
                why: format!("the next is {}", self.next_no()),
            });
        }
        self.head += 1;
        Ok(())
    }
}
