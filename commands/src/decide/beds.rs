//! Beds: their frames and their gaps. Decides what fits where and what a gap over the limit begins; leaves the limits to
//! `rules::gap`.

use super::draft::Asked;
use crate::decision::Decision;
use crate::refusal::Refusal;
use crate::request::FacilityFrame;
use crate::tap::House;

/// `/zones`.
pub(super) fn zones(
    _asked: &Asked<'_>,
    _bed: &str,
    _zones: &[Option<String>; 7],
    _angle4: Option<&str>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/facility frame`.
pub(super) fn frame(_asked: &Asked<'_>, _typed: &FacilityFrame) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// A tap about the house.
pub(super) fn tapped(_asked: &Asked<'_>, _tap: House) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}
