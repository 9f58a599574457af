//! Moves, swaps, leaves, static mode and the CPR valve. Decides what each begins and how it ends.

use chrono::{DateTime, Utc};

use super::Notice;
use super::draft::Asked;
use crate::choice::Call;
use crate::choice::LeaveWhy;
use crate::decision::Decision;
use crate::ids::Tag;
use crate::refusal::Refusal;
use crate::state::{Facility, State};

/// `/move`.
pub(super) fn move_to(_asked: &Asked<'_>, _typed: &str, _bed: &str) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/swap`.
pub(super) fn swap(_asked: &Asked<'_>, _bed: &str, _typed: &str) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/leave`.
pub(super) fn leave(
    _asked: &Asked<'_>,
    _bed: &str,
    _until: &str,
    _why: Option<LeaveWhy>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/static`.
pub(super) fn static_mode(
    _asked: &Asked<'_>,
    _typed: &str,
    _until: &str,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/cpr`.
pub(super) fn cpr(_asked: &Asked<'_>, _typed: &str) -> Result<Decision, Refusal> {
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
