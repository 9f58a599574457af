//! The same conversations through everything that there is between a phone and the log: the demo guild
//! served on this machine, the whole bot connected to it over the protocol, a clock that is moved by hand.
//!
//! A step means what it means in memory ([`crate::talk::act`]); [`house`] does it with the demo guild's
//! people. What they notice is read off the guild ([`mirror`]) and must be what the file says, to the letter.
//! [`play`] compares; [`used`] keeps count of which command, option, button, menu and form was ever used, so
//! that one that nobody ever used is named. [`served`] starts a bot for tests that are no conversations, [`given`] fills in its commands.
//!
//! What the wire does not determine is the order between two channels, or between an answer and a message:
//! they are separate requests at the same moment. Messages of one channel keep their order.

pub mod clock;
pub mod given;
pub mod house;
pub mod mirror;
pub mod play;
pub mod served;
pub mod used;
