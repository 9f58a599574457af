//! The lists behind a turnover: disinfectants, storage places, the marker of a surface. Decides what may stand on them.

use super::draft::Asked;
use crate::choice::{Method, Switch};
use crate::decision::Decision;
use crate::refusal::Refusal;

/// `/facility product`.
pub(super) fn product(
    _asked: &Asked<'_>,
    _name: &str,
    _method: Option<Method>,
    _contact: Option<i64>,
    _sporicidal: Option<Switch>,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/facility storage`.
pub(super) fn storage(_asked: &Asked<'_>, _dirty: &str, _clean: &str) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}

/// `/mark`.
pub(super) fn mark(
    _asked: &Asked<'_>,
    _typed: &str,
    _clean_last: Switch,
) -> Result<Decision, Refusal> {
    Err(Refusal::new("fault-unknown-command"))
}
