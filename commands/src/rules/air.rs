//! Stand-in until the rules land.
use serde::{Deserialize, Serialize};
/// Tenths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Tenths(pub i32);
