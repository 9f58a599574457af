//! The checklist at a bed: after a placement, a move, an opened CPR valve, a power loss; and the setting. Decides what is
//! asked in which order and when it is done; leaves which steps there are to `rules::set_up`.

use chrono::{DateTime, Utc};

use super::Notice;
use super::draft::Asked;
use crate::choice::Call;
use crate::decision::Decision;
use crate::ids::Tag;
use crate::refusal::Refusal;
use crate::state::{Facility, State};
use crate::tap::Bedside;

/// `/setting`.
pub(super) fn setting(
    _asked: &Asked<'_>,
    _typed: &str,
    _set: Option<String>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// A tap at the bed.
pub(super) fn tapped(_asked: &Asked<'_>, _tap: Bedside) -> Result<Decision, Refusal> {
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
