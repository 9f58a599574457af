//! A team chat on this machine: the platform's HTTP interface and gateway protocol on loopback,
//! strict to its published limits, with invented people in it who are driven by tests, by load
//! or by the page.
//!
//! Nothing here knows what the bot is for; the bot is not configured differently for it.

pub mod answering;
pub mod asked;
pub mod channel;
pub mod chat;
pub mod check;
pub mod clock;
pub mod deeds;
pub mod dial;
pub mod faults;
pub mod following;
pub mod frames;
pub mod gateway;
pub mod guild;
pub mod home;
pub mod http;
pub mod hub;
pub mod ids;
pub mod layout;
pub mod limits;
pub mod message;
pub mod outcome;
pub mod page;
pub mod problem;
pub mod rates;
pub mod register;
pub mod serve;
pub mod sessions;
pub mod shapes;
pub mod shift;
pub mod show;
pub mod typed;
pub mod upset;

pub use check::form::{Field, Form};
pub use clock::{Dial, WallDial};
pub use faults::{Fault, Faults};
pub use frames::{Frame, Happening};
pub use guild::{Guild, Options};
pub use ids::Id;
pub use layout::{ChannelSpec, Layout, PersonSpec, RoleSpec};
pub use message::Message;
pub use outcome::{Answer, Choice, Kind, Outcome};
pub use rates::Limits;
