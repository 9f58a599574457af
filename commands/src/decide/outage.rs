//! A unit without power: one incident, one roll. Decides in which order surfaces are looked at and what each answer begins;
//! leaves its ladder to `due`.

use chrono::{DateTime, Utc};

use super::draft::Asked;
use super::draft::Draft;
use crate::decision::Decision;
use crate::ids::OutageNo;
use crate::refusal::Refusal;
use crate::state::{Facility, State};
use crate::tap::Power;

/// `/outage`.
pub(super) fn outage(_asked: &Asked<'_>, _unit: Option<&str>) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/catchup`.
pub(super) fn catchup(_asked: &Asked<'_>, _unit: Option<&str>) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// A tap in a power failure.
pub(super) fn tapped(_asked: &Asked<'_>, _tap: Power) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// The roll is called again: holding times have run on.
pub(super) fn roll_again(
    _state: &State,
    _facility: &Facility,
    _draft: &mut Draft,
    _no: OutageNo,
    _now: DateTime<Utc>,
) {
}
