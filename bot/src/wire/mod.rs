//! The chat platform's own spelling: [`hear`] turns its events into what was said, [`write`] turns
//! messages into its JSON, [`may`] reads what we are let do. Decides no word and no rule.

pub mod hear;
pub mod may;
pub mod write;
