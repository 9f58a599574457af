//! Out of service and back: pulled, repaired, returned, held for an inquiry, recalled. Decides what must be shown before a
//! surface may go back into its turnover.

use chrono::{DateTime, Utc};

use super::Notice;
use super::draft::Asked;
use crate::decision::Decision;
use crate::ids::{RecallNo, Tag};
use crate::record::Fault;
use crate::refusal::Refusal;
use crate::state::{Facility, State};
use crate::tap::Turn;

/// `/pull`.
pub(super) fn pull(
    _asked: &Asked<'_>,
    _typed: &str,
    _fault: Fault,
    _note: Option<String>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/return`.
pub(super) fn return_it(_asked: &Asked<'_>, _typed: &str) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/hold`.
pub(super) fn hold(_asked: &Asked<'_>, _typed: &str) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/recall`.
pub(super) fn recall(
    _asked: &Asked<'_>,
    _profile: &str,
    _lot: Option<&str>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// A tap in a turnover or out of service.
pub(super) fn tapped(_asked: &Asked<'_>, _tap: Turn) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// What the call about a hold says: the days to report that are left.
pub(super) fn hold_notice(
    _state: &State,
    _facility: &Facility,
    _tag: &Tag,
    _now: DateTime<Utc>,
) -> Option<Notice> {
    None
}

/// What the call about a recall says: what is still open, and what is still under somebody.
pub(super) fn recall_notice(_state: &State, _facility: &Facility, _no: RecallNo) -> Option<Notice> {
    None
}
