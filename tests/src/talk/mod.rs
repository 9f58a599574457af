//! Conversations with a clock: text files that a nurse could read aloud, run through the production
//! desk, delivery and store on one thread, against a small strict chat in memory.
//!
//! A file is a title, a home, a time to begin at, and steps. A step is a line that begins at the margin;
//! what is indented below it is what follows from it, and is compared exactly. Lines in brackets are
//! asides to the reader. `UPDATE_EXPECT=1 cargo test -p loftwatch-tests` writes what follows anew.
//!
//! ```text
//! A low reading is looked at again
//! home: elm
//! at 2026-03-02 07:10
//!
//! Ana: /handcheck surface:LW-07 air:3/4
//!   only Ana sees:
//!     …
//! time passes: 15 minutes
//!   at 07:25, #elm gets, calling @aides:
//!     …
//! Ana taps [On my way]
//! ```
//!
//! Every step that there is, is listed in `scenarios/README.md`; [`act`] reads them. A tap is on the
//! newest message that the person can see and that has the button; `on the card in #elm` is the newest
//! of that channel, and a card kept under a name keeps the buttons it had.
//!
//! Each conversation is run plainly; with a stop and start after every step; with the power cut after
//! every send; and, for those of [`crash::NAMED`], once for each single commit and each single request.

pub mod act;
pub mod cast;
pub mod chat;
pub mod crash;
pub mod disk;
pub mod script;
pub mod show;
pub mod stage;
pub mod talker;
pub mod world;
