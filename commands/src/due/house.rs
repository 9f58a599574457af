//! What is due of the house: gaps over the limit, tests, papers, rentals. Decides since when; leaves the words to `slots`.

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};

use super::DueKind;
use super::list::{Ahead, shown};
use crate::choice::Outlet;
use crate::decide::{idle_since, maintenance_day, still_missing, test_day};
use crate::rules::papers::months_after;
use crate::rules::policy::Name;
use crate::rules::zone::Zone;
use crate::state::{Life, State, Surface};

/// What is due about one surface at `now`, besides care at its bed and its turnover. `today` is the home's day.
pub(super) fn of(
    state: &State,
    surface: &Surface,
    zone: &Zone,
    today: NaiveDate,
    now: DateTime<Utc>,
) -> Vec<(DueKind, DateTime<Utc>, Option<Ahead>)> {
    let mut due = Vec::new();
    let bed = surface.bed();
    let frame = bed.and_then(|bed| state.frame(bed));
    if let Some(over) = frame.and_then(|frame| frame.over.as_ref()) {
        due.push((DueKind::GapOver, over.since, None));
    }
    let begins = |day: NaiveDate| zone.instant(day.and_time(NaiveTime::MIN));
    let waived = still_missing(state, surface, now);
    if let Some(mark) = surface.waived.as_ref().map(|waived| waived.mark)
        && !waived.is_empty()
    {
        due.push((DueKind::PaperMissing, mark.at, None));
    }
    let in_use = match &surface.life {
        Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } => true,
        // It must be tested before it is placed again anyway.
        Life::OutOfService { .. } | Life::Retired { .. } => false,
    };
    let leaving = surface
        .rental
        .as_ref()
        .is_some_and(|rental| rental.called.is_some());
    if in_use && !leaving && waived.is_empty() {
        let mut on = |kind, day: Option<NaiveDate>| {
            if let Some((day, ahead)) = day.and_then(|day| Some((day, shown(day, today)?))) {
                due.push((kind, begins(day), ahead));
            }
        };
        on(DueKind::SafetyTest, test_day(state, surface));
        on(DueKind::Maintenance, maintenance_day(state, surface));
    }
    // Ordinary outlets at beds; others by what the home has written of them (NFPA 99-2012, 6.3.4.1, from memory).
    if let Life::Placed { since, .. } = &surface.life
        && let Some(frame) = frame.filter(|frame| frame.outlet == Some(Outlet::Ordinary))
    {
        let months = state.policies.get(Name::OutletTestMonths);
        match frame.outlet_tested.map(|day| months_after(day, months)) {
            None => due.push((DueKind::OutletTest, *since, None)),
            Some(day) => {
                if let Some((day, ahead)) = day.and_then(|day| Some((day, shown(day, today)?))) {
                    due.push((DueKind::OutletTest, begins(day), ahead));
                }
            }
        }
    }
    due.extend(rental_due(state, surface, now).map(|(kind, since)| (kind, since, None)));
    due
}

fn rental_due(
    state: &State,
    surface: &Surface,
    now: DateTime<Utc>,
) -> Option<(DueKind, DateTime<Utc>)> {
    if matches!(surface.life, Life::Retired { .. }) {
        return None;
    }
    let rental = surface.rental.as_ref()?;
    if let Some(since) = idle_since(rental) {
        let due = since + TimeDelta::hours(state.policies.get(Name::IdleHours));
        return (due <= now).then_some((DueKind::Idle, due));
    }
    let called = rental.called.filter(|_| rental.collected.is_none())?;
    let from = rental.confirmed.as_ref().map_or(called, |(_, mark)| *mark);
    let due = from.at + super::calls::remind_again(state);
    (due <= now).then_some((DueKind::Pickup, due))
}
