//! The list of what is due: what a shift has to see to, most urgent first. Decides what stands on it and in
//! which order; leaves its words to `slots` and `decide::look`.

use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};

use super::check_due;
use crate::choice::{FilterKind, Opening, Task};
use crate::decide::{cycle, losing, second_checks};
use crate::ids::{AlarmNo, Bed, Tag, Unit};
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;
use crate::rules::work_days;
use crate::rules::zone::Zone;
use crate::state::{Life, State, Surface, filter_fit};

/// A line of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DueItem {
    /// The surface.
    pub tag: Tag,
    /// The bed it is under.
    pub bed: Option<Bed>,
    /// The unit of that bed.
    pub unit: Option<Unit>,
    /// What is to be done.
    pub kind: DueKind,
    /// Since when.
    pub since: DateTime<Utc>,
    /// A turnover that is to come last and needs a sporicide.
    pub clean_last: bool,
    /// It comes due on days off and can be done before.
    pub ahead: Option<Ahead>,
}

/// Why something is shown before its day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ahead {
    /// A weekend comes between.
    Weekend,
    /// A holiday does.
    Holiday,
}

impl Ahead {
    /// The key of what is said behind the name.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Ahead::Weekend => "due-before-weekend",
            Ahead::Holiday => "due-before-holiday",
        }
    }
}

/// Whether work that can wait for its `day` is shown `today`: from that day on, and from the last work day before it where
/// it is a day off. `Some` of nothing where nothing needs to be said of it.
pub(super) fn shown(day: NaiveDate, today: NaiveDate) -> Option<Option<Ahead>> {
    if day <= today {
        return Some(None);
    }
    // Nothing beyond a long weekend is looked at further.
    if day - today > TimeDelta::days(6) {
        return None;
    }
    let from = work_days::last_work_day(day);
    if from > today {
        return None;
    }
    Some(work_days::is_work_day(today).then(|| {
        if work_days::over_a_weekend(today, day) {
            Ahead::Weekend
        } else {
            Ahead::Holiday
        }
    }))
}

/// What is to be done, the most urgent first.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DueKind {
    /// An alarm is open.
    Alarm(AlarmNo),
    /// It is out of service and still under a bed.
    StillUnder,
    /// A gap of its bed is over the limit.
    GapOver,
    /// A low or high reading is to be looked at again.
    Recheck,
    /// It could not be checked.
    TryAgain,
    /// It had no power, and plug, setting or air have not been looked at since.
    AfterPower,
    /// A checklist at its bed is not finished.
    Steps,
    /// Static mode was to have ended.
    StaticOver,
    /// A leave was to have ended.
    LeaveOver,
    /// The check of this shift.
    Check,
    /// An entry is to be looked at by somebody else.
    SecondCheck(Task),
    /// Its readings trend lower.
    LosingLoft,
    /// The filter has reached the maker's limit.
    FilterOld,
    /// The filter is to be looked at.
    FilterLook,
    /// A safety test is due.
    SafetyTest,
    /// The maker's maintenance is due.
    Maintenance,
    /// The outlet at its bed is to be tested.
    OutletTest,
    /// It was placed without a paper that has not come yet.
    PaperMissing,
    /// A turnover is not finished.
    Turnover,
    /// It waits for repair.
    Repair,
    /// It is kept for an inquiry.
    Held,
    /// A rented one stands idle.
    Idle,
    /// Its pickup has not been confirmed, or not come.
    Pickup,
}

/// What is due at `now`, in one unit or in all: the most urgent first, then by bed.
pub fn list(state: &State, unit: Option<&Unit>, now: DateTime<Utc>) -> Vec<DueItem> {
    let Some(facility) = &state.facility else {
        return Vec::new();
    };
    let shift = super::shift_start(state, now);
    let today = facility.zone.local(now).date();
    let mut items = Vec::new();
    for (tag, surface) in &state.surfaces {
        let bed = surface.bed();
        let of = bed.and_then(|bed| state.bed_units.get(bed));
        if unit.is_some() && of != unit {
            continue;
        }
        let mut add_ahead = |kind, since, ahead| {
            items.push(DueItem {
                tag: tag.clone(),
                bed: bed.cloned(),
                unit: of.cloned(),
                clean_last: surface.clean_last
                    && matches!(kind, DueKind::Turnover | DueKind::Repair | DueKind::Held),
                kind,
                since,
                ahead,
            });
        };
        if let Some(mark) = surface.cpr {
            // Nothing is asked in an emergency; a valve that was forgotten does stand here.
            let quiet = TimeDelta::minutes(state.policies.get(Name::CprQuiet));
            if mark.at + quiet <= now {
                add_ahead(DueKind::Steps, mark.at, None);
            }
            continue;
        }
        if let Some(hold) = &surface.hold {
            add_ahead(DueKind::Held, hold.mark.at, None);
        }
        if let Some(no) = surface.alarm {
            let opened = state.alarms.get(&no).map_or(now, |alarm| alarm.opened);
            add_ahead(DueKind::Alarm(no), opened, None);
        }
        for (kind, since, ahead) in super::house::of(state, surface, &facility.zone, today, now) {
            add_ahead(kind, since, ahead);
        }
        for (task, check) in second_checks(surface) {
            add_ahead(DueKind::SecondCheck(task), check.mark.at, None);
        }
        if matches!(surface.life, Life::Placed { .. })
            && let Some((kind, since, ahead)) = filter_due(state, surface, &facility.zone, now)
        {
            add_ahead(kind, since, ahead);
        }
        if let Some(found) = losing(state, surface, now) {
            add_ahead(DueKind::LosingLoft, found.newest, None);
        }
        let mut add = |kind, since| add_ahead(kind, since, None);
        match &surface.life {
            Life::Placed { .. } => {
                if surface.alarm.is_none()
                    && let Some(since) = check_due(state, tag, surface, shift)
                    && since <= now
                {
                    add(check_kind(state, tag), since);
                }
                if let Some(steps) = surface.open_steps() {
                    let kind = match steps.opening {
                        Opening::Power => DueKind::AfterPower,
                        Opening::Placed | Opening::Moved | Opening::Cpr => DueKind::Steps,
                    };
                    add(kind, steps.since);
                }
                if let Some(held) = surface.static_mode.filter(|held| held.until <= now) {
                    add(DueKind::StaticOver, held.until);
                }
                if let Some(leave) = surface.leave.filter(|leave| leave.until <= now) {
                    add(DueKind::LeaveOver, leave.until);
                }
            }
            Life::Soiled(turnover) => add(DueKind::Turnover, turnover.since),
            Life::OutOfService {
                since,
                under: Some(_),
                ..
            } => {
                add(DueKind::StillUnder, *since);
                // Until they lie on another it is checked like any.
                if let Some(since) = check_due(state, tag, surface, shift)
                    && since <= now
                {
                    add(DueKind::Check, since);
                }
                // Back in bed means: on a surface that is out of service.
                if let Some(leave) = surface.leave.filter(|leave| leave.until <= now) {
                    add(DueKind::LeaveOver, leave.until);
                }
            }
            // What is held waits for the inquiry and for nobody's tools.
            Life::OutOfService {
                since, under: None, ..
            } if surface.hold.is_none() => add(DueKind::Repair, *since),
            Life::OutOfService { under: None, .. } | Life::Ready { .. } | Life::Retired { .. } => {}
        }
    }
    items.sort_by(|a, b| {
        (&a.kind, a.clean_last, &a.unit, &a.bed, &a.tag).cmp(&(
            &b.kind,
            b.clean_last,
            &b.unit,
            &b.bed,
            &b.tag,
        ))
    });
    items
}

fn check_kind(state: &State, tag: &Tag) -> DueKind {
    match state.rechecks.get(tag).map(|recheck| recheck.after) {
        Some(Judgement::CouldNot) => DueKind::TryAgain,
        Some(Judgement::Low | Judgement::High | Judgement::BottomedOut | Judgement::Adequate) => {
            DueKind::Recheck
        }
        None => DueKind::Check,
    }
}

/// Filters go by calendar days in the facility's zone: the next look when whoever looked last was told, a new filter
/// at the maker's limit whatever the looks found.
fn filter_due(
    state: &State,
    surface: &Surface,
    zone: &Zone,
    now: DateTime<Utc>,
) -> Option<(DueKind, DateTime<Utc>, Option<Ahead>)> {
    let profile = state.profile_of(surface);
    if profile.filter == FilterKind::None {
        return None;
    }
    let added = zone.local(surface.added).date();
    // A rinse makes it no younger.
    let changed = surface.filter_changed.unwrap_or(added);
    let day = |from: NaiveDate, days: u16| from.checked_add_days(Days::new(u64::from(days)));
    let begins = |day: NaiveDate| zone.instant(day.and_time(chrono::NaiveTime::MIN));
    let old = begins(day(changed, profile.filter_max_days)?);
    if old <= now {
        return Some((DueKind::FilterOld, old, None));
    }
    // What the last look found wrong and left so is due until it is put right.
    if let Some(look) = &surface.filter
        && !filter_fit(look.finding, look.action)
    {
        return Some((DueKind::FilterLook, look.at, None));
    }
    let look = cycle::next_day(state, surface)?;
    let ahead = shown(look, zone.local(now).date())?;
    Some((DueKind::FilterLook, begins(look), ahead))
}
