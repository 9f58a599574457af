//! One file per rule of the trade.
pub mod air;
pub mod hand_check;
pub mod priority;
