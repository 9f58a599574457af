//! What is measured without a chat: pure functions of the core. Decides how often, and takes the middle.

use std::hint::black_box;
use std::time::Duration;

use anyhow::ensure;
use bot::clock::{mono, wall};
use chrono::TimeDelta;
use commands::due;
use commands::ids::{Channel, ChatRole};

use crate::home::{self, Places};

/// Times a list is made.
const TIMES: usize = 21;

/// How long a due list takes.
#[derive(Clone, Copy, Debug, Default)]
pub struct DueList {
    /// Where every surface is due.
    pub all_due: Duration,
    /// In one unit of them.
    pub one_unit: Duration,
}

/// Makes the due list of a facility of that many surfaces.
///
/// # Errors
/// The list is not as long as it must be.
pub fn due_list(surfaces: usize) -> anyhow::Result<DueList> {
    eprintln!("due list over {surfaces} surfaces");
    let now = wall();
    let places = Places {
        care: Channel(1),
        supervisors: Channel(2),
        aide: ChatRole(3),
    };
    let state = home::state(surfaces, places, now - TimeDelta::days(3))?;
    let list = due::list(&state, None, now);
    ensure!(
        list.len() >= surfaces,
        "only {} of {surfaces} are due",
        list.len()
    );
    let unit = state.units.keys().next();
    Ok(DueList {
        all_due: middle(|| due::list(&state, None, now).len()),
        one_unit: middle(|| due::list(&state, unit, now).len()),
    })
}

fn middle(mut make: impl FnMut() -> usize) -> Duration {
    let mut took: Vec<Duration> = (0..TIMES)
        .map(|_| {
            let began = mono();
            black_box(make());
            mono() - began
        })
        .collect();
    took.sort_unstable();
    took[TIMES / 2]
}
