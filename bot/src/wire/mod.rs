//! The chat platform's own spelling: [`hear`] turns its events into what was said, [`write`] turns
//! messages into its JSON. Decides no word and no rule.

pub mod hear;
pub mod write;
