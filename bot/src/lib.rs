//! The hands of loftwatch: the chat connection, the clock, one desk for each facility, delivery, and the
//! operator's command line. There is no rule of the trade here and no sentence for staff; those come
//! from `commands`.
//!
//! Reading order: [`desk`] is where everything meets; [`delivery`] and [`owed`] say what becomes of
//! messages and answers; [`run`] puts threads around them; [`gateway`], [`courier`] and [`http`] touch
//! the chat platform, whose spelling is [`wire`]'s alone. [`draw`] turns a picture's value into a PNG.
//!
//! Invariant: [`desk::Desk`], [`delivery::Delivery`], [`owed::Answers`], [`register::Registrar`] and
//! [`limiter::Limiter`] are step machines: values and the time in, requests out. They hold no thread, no
//! socket and no clock, so that a simulator drives the very code that runs.

pub mod check;
pub mod clock;
pub mod config;
pub mod counters;
pub mod courier;
mod crew;
pub mod delivery;
pub mod desk;
pub mod draw;
pub mod dump;
pub mod erase;
pub mod event;
pub mod gateway;
mod health;
pub mod http;
pub mod inbox;
pub mod keep;
mod keeper;
pub mod limiter;
pub mod log;
pub mod owed;
pub mod pace;
pub mod register;
pub mod request;
pub mod run;
pub mod status;
mod threads;
mod watchdog;
pub mod wire;

pub use clock::{Clock, SteppedClock, WallClock};
pub use config::{Exit, Settings};
pub use run::{Running, StartError, run};
pub use status::Stop;
