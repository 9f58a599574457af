//! Rented surfaces: from arrival to pickup. Decides what they cost so far and who is reminded of those that stand idle.

use chrono::{DateTime, Utc};

use super::Notice;
use super::draft::Asked;
use crate::choice::Call;
use crate::decision::Decision;
use crate::ids::Tag;
use crate::refusal::Refusal;
use crate::state::{Facility, State};

/// `/rental start`.
pub(super) fn start(
    _asked: &Asked<'_>,
    _typed: &str,
    _rate: &str,
    _reference: Option<String>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/rental stop`.
pub(super) fn stop(_asked: &Asked<'_>, _typed: &str) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/rental list`.
pub(super) fn list(_asked: &Asked<'_>) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// What a promised call says.
pub(super) fn notice(
    _state: &State,
    _facility: &Facility,
    _call: Call,
    _tag: &Tag,
    _now: DateTime<Utc>,
) -> Option<Notice> {
    None
}
