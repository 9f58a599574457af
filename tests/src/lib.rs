//! The spec of loftwatch. Decides how what it promises is written down and tried; there is no product
//! code here. [`talk`] runs the conversations of `scenarios/`, [`wire`] runs them
//! once more over the demo guild's protocol, [`sim`] lives
//! through months of faults that no conversation tells, [`planted`] holds bugs that it must find, and [`readers`] feeds every reader
//! of text with what nobody means.

use std::io::Write;

pub mod planted;
pub mod readers;
pub mod sim;
pub mod talk;
pub mod wire;

/// Says that a test left something out, and why. What a test that passes prints is kept from whoever runs it; this is not.
pub fn not_tested(why: &str) {
    // Where nobody can be told, nobody reads.
    let _ = writeln!(std::io::stderr(), "\n*** NOT TESTED: {why}. ***\n");
}
