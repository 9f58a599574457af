//! A surface for an admission. Decides what fits and what comes next; frame, lift and capacity are asked where they are not known.

use super::draft::Asked;
use crate::decision::Decision;
use crate::refusal::Refusal;
use crate::rules::hand_check::Kind;

/// `/match`.
pub(super) fn find(
    _asked: &Asked<'_>,
    _kind: Kind,
    _width: Option<&str>,
    _capacity: Option<i64>,
    _bed: Option<&str>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}
