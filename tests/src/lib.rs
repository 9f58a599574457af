//! The spec of loftwatch. Decides how what it promises is written down and tried; there is no product
//! code here. [`talk`] runs the conversations of `scenarios/`, [`wire`] runs them
//! once more over the demo guild's protocol, [`sim`] lives
//! through months of faults that no conversation tells, [`planted`] holds bugs that it must find, and [`readers`] feeds every reader
//! of text with what nobody means.

pub mod planted;
pub mod readers;
pub mod sim;
pub mod talk;
pub mod wire;
