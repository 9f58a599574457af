//! Stand-in until the rules land.
use serde::{Deserialize, Serialize};
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AlarmKind {
    /// x
    Unknown,
    /// x
    LowPressure,
    /// x
    Power,
    /// x
    HighPressure,
    /// x
    Fault,
    /// x
    BottomedOut,
}
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Priority {
    /// x
    Low,
    /// x
    Medium,
    /// x
    High,
}
