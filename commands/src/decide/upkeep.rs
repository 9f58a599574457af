//! Work that leaves a paper, and what is on the shelf. Decides when each is due and what a failed test leads to.

use super::draft::Asked;
use crate::choice::{Outcome, Work};
use crate::decision::Decision;
use crate::refusal::Refusal;

/// `/service`.
pub(super) fn service(
    _asked: &Asked<'_>,
    _typed: &str,
    _work: Work,
    _outcome: Outcome,
    _on: Option<&str>,
    _next: Option<&str>,
    _note: Option<String>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/stock`.
pub(super) fn stock(
    _asked: &Asked<'_>,
    _item: Option<&str>,
    _count: Option<i64>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}
