//! The rules of the trade: values in, values out.
//!
//! Nothing here reads a clock, a file or the state of a facility, and nothing here speaks to
//! people: a rule answers with a value, and a fault carries what a sentence about it needs.
//! Where a rule rests on a published figure its doc names the source; the facility's policy, the
//! maker's instructions and licensed staff always decide over it.

pub(crate) mod named;

pub mod air;
pub mod air_in_text;
pub mod beds;
pub mod bleach;
pub mod day_ahead;
pub mod day_past;
pub mod drift;
pub mod export;
pub mod figure;
pub mod filter_cycle;
pub mod filter_life;
pub mod fleet_size;
pub mod frame;
pub mod gap;
pub mod guard;
pub mod hand_check;
pub mod holding;
pub mod import;
pub mod load;
pub mod look_first;
pub mod nearest;
pub mod order_point;
pub mod own_or_rent;
pub mod pace;
pub mod papers;
mod pattern;
pub mod period;
pub mod plain;
pub mod policy;
pub mod priority;
pub mod rent;
pub mod schedule;
pub mod set_up;
pub mod setting;
pub mod share;
pub(crate) mod spanish;
pub mod time_of_day;
pub mod trend;
pub mod turnover;
pub mod unseen;
pub mod until;
pub mod waits;
pub mod when;
pub mod work_days;
pub mod zone;
