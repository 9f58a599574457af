//! Stand-in until the rules land.
use super::air::Tenths;
use serde::{Deserialize, Serialize};
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Air {
    /// x
    Measured(Tenths),
    /// x
    Under1,
    /// x
    Over,
    /// x
    Touching,
    /// x
    CouldNot(Why),
}
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Why {
    /// x
    Asleep,
    /// x
    Refused,
    /// x
    Out,
    /// x
    Isolation,
    /// x
    Other,
}
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Band {
    /// x
    pub low: Tenths,
    /// x
    pub high: Tenths,
}
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Judgement {
    /// x
    Adequate,
    /// x
    Low,
    /// x
    BottomedOut,
    /// x
    High,
    /// x
    CouldNot,
}
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Check {
    /// x
    Hand,
    /// x
    LookAndFeel,
    /// x
    None,
}
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    /// x
    Overlay,
    /// x
    Replacement,
    /// x
    Integrated,
}
/// x
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// x
    Alternating,
    /// x
    LowAirLoss,
    /// x
    Both,
    /// x
    Static,
}
