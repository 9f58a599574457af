//! Filters, cleaning and turnovers of the invented months. Decides who looked at what and when surfaces changed beds;
//! one is left soiled on the evening before the demo begins.

use anyhow::{Context, bail};
use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc, Weekday};
use commands::choice::{Action, FilterKind, Finding};
use commands::due::{DueKind, list};
use commands::ids::{Bed, Tag};
use commands::rules::turnover::Inspection;
use commands::state::{Life, Surface};
use commands::tap::{Began, Tap, Turn};

use super::super::people::Job;
use super::super::register::{self, UNITS};
use super::rounds;
use super::{Months, is_placed, story, tap, wear};
use crate::home::setup::words;

/// When the filters that are due in each unit are looked at, on work days: minutes after midnight.
const FILTER_MINUTES: [i64; 3] = [9 * 60 + 10, 10 * 60, 11 * 60];
/// A filter this near to the maker's limit is renewed whatever it looks like.
const DAYS_TO_LIMIT: i64 = 6;
/// Of a thousand dusty filters, so many are left for the next look.
const DUSTY_LEFT: u32 = 640;
/// Days of the history on which a bed is left in the morning, and filled again by another surface a few days later.
const LEAVINGS: [(i64, &str); 9] = [
    (5, "discharge"),
    (13, "transfer"),
    (22, "discharge"),
    (31, "discharge"),
    (39, "other"),
    (48, "discharge"),
    (57, "transfer"),
    (66, "discharge"),
    (75, "discharge"),
];
/// The surface released on this day is still soiled when the demo begins.
const LAST_LEAVING: i64 = super::super::HISTORY_DAYS - 1;
/// Spills in the night or after a meal, on every so many days.
const SPILL_DAYS: i64 = 4;

/// Something done to surfaces.
#[derive(Clone, Debug)]
pub(super) enum Deed {
    /// The looks at a unit's filters are planned.
    FilterDay(usize),
    /// A look at one filter.
    Filter(Tag),
    /// A surface was cleaned because it was its day.
    Routine(Tag),
    /// Somebody's surface was soiled.
    Spill,
    /// A bed is left.
    Release {
        reason: &'static str,
        finish: bool,
    },
    /// Steps of a turnover, in order.
    Soap(Tag),
    Disinfect(Tag),
    TurnFilter(Tag),
    Dried(Tag),
    Inspected(Tag),
    Parts(Tag),
    Function(Tag),
    /// A bed is filled again.
    Place {
        bed: String,
    },
}

pub(super) fn plan(months: &mut Months<'_>) -> anyhow::Result<()> {
    let from = months.from;
    for day in months.days() {
        filters_and_routine(months, day)?;
        if (day - from).num_days() % SPILL_DAYS == 2 {
            let minute = months.rng.i64(7 * 60..22 * 60);
            later(months, day, minute, Deed::Spill)?;
        }
    }
    for (day, reason) in LEAVINGS {
        let deed = Deed::Release {
            reason,
            finish: true,
        };
        later(months, from + TimeDelta::days(day), 10 * 60 + 20, deed)?;
    }
    let last = Deed::Release {
        reason: "discharge",
        finish: false,
    };
    later(months, from + TimeDelta::days(LAST_LEAVING), 16 * 60, last)?;
    // What came in soiled is turned over in the first week.
    let first = Tag::from(register::tag(register::SURFACES));
    turn_over(months, from + TimeDelta::days(1), 9 * 60, first)
}

fn filters_and_routine(months: &mut Months<'_>, day: NaiveDate) -> anyhow::Result<()> {
    if !matches!(day.weekday(), Weekday::Sat | Weekday::Sun) {
        for (unit, minute) in FILTER_MINUTES.into_iter().enumerate() {
            later(months, day, minute, Deed::FilterDay(unit))?;
        }
    }
    let number = u32::try_from(day.num_days_from_ce()).unwrap_or(0);
    for n in (1..=register::SURFACES).filter(|n| (number + n).is_multiple_of(7)) {
        let minute = 13 * 60 + i64::from(n % 60);
        later(months, day, minute, Deed::Routine(register::tag(n).into()))?;
    }
    Ok(())
}

pub(super) fn happen(months: &mut Months<'_>, at: DateTime<Utc>, deed: Deed) -> anyhow::Result<()> {
    match deed {
        Deed::FilterDay(unit) => filter_day(months, at, unit),
        Deed::Filter(tag) => filter(months, at, &tag),
        Deed::Routine(tag) => {
            if is_placed(months.surface(&tag)?) {
                clean(months, at, &tag, Job::Aide, ("routine", "soap-and-water"))?;
            }
            Ok(())
        }
        Deed::Spill => {
            let tag = anywhere(months)?;
            clean(months, at, &tag, Job::Aide, ("soiled", "quaternary"))
        }
        Deed::Release { reason, finish } => release(months, at, reason, finish),
        Deed::Soap(tag) => clean(
            months,
            at,
            &tag,
            Job::Upkeep,
            ("between-residents", "soap-and-water"),
        ),
        Deed::Disinfect(tag) => clean(
            months,
            at,
            &tag,
            Job::Upkeep,
            ("between-residents", "quaternary"),
        ),
        Deed::Dried(tag) => step(months, at, &tag, |tag, of| Turn::Dried { tag, of }),
        Deed::Inspected(tag) => step(months, at, &tag, |tag, of| Turn::Inspected {
            tag,
            of,
            found: Inspection::Whole,
        }),
        Deed::Parts(tag) => step(months, at, &tag, |tag, of| Turn::PartsWhole { tag, of }),
        Deed::TurnFilter(tag) => turn_filter(months, at, &tag),
        Deed::Function(tag) => {
            let who = months.anybody(Job::Upkeep, months.shift(at))?;
            let of = began(months, &tag)?;
            let shown = Tap::TurnFunction {
                tag: tag.clone(),
                of,
            };
            months.lived.ask(&who, at, &tap(&shown))?;
            Ok(())
        }
        Deed::Place { bed } => place(months, at, &bed),
    }
}

fn filter_day(months: &mut Months<'_>, at: DateTime<Utc>, unit: usize) -> anyhow::Result<()> {
    let state = months.state();
    let name = UNITS
        .get(unit)
        .map(|unit| commands::ids::Unit::from(unit.name));
    let due = list(state, name.as_ref(), at).into_iter();
    let tags: Vec<Tag> = due
        .filter(|item| matches!(item.kind, DueKind::FilterLook | DueKind::FilterOld))
        .map(|item| item.tag)
        .collect();
    let mut moment = at;
    for tag in tags {
        moment = months.later(moment, 150, 420);
        months.plan(moment, super::Deed::Care(Deed::Filter(tag)));
    }
    Ok(())
}

fn filter(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag) -> anyhow::Result<()> {
    if !is_placed(months.surface(tag)?) {
        return Ok(());
    }
    let finding = look(months, at, tag)?;
    let surface = months.surface(tag)?;
    let profile = months.state().profile_of(surface);
    let (kind, most) = (profile.filter, i64::from(profile.filter_max_days));
    let today = months.zone.local(at).date();
    let old = surface
        .filter_changed
        .is_none_or(|day| (today - day).num_days() + DAYS_TO_LIMIT >= most);
    let dirty = match finding {
        Finding::Clean => false,
        Finding::Dusty => !months.chance(DUSTY_LEFT),
        Finding::Clogged | Finding::Damaged => true,
    };
    let action = match kind {
        // A rinse makes none younger.
        FilterKind::Rinsable | FilterKind::Replaceable if old => Action::Replaced,
        FilterKind::Rinsable if dirty => Action::Rinsed,
        FilterKind::Replaceable if dirty => Action::Replaced,
        FilterKind::Rinsable | FilterKind::Replaceable | FilterKind::None => Action::Left,
    };
    if action != Action::Left {
        renew(months, tag);
    }
    let who = months.anybody(Job::Upkeep, months.shift(at))?;
    let options = [
        ("surface", tag.as_str()),
        ("finding", finding.as_str()),
        ("action", action.as_str()),
    ];
    months.lived.ask(&who, at, &words("filter", &options))?;
    Ok(())
}

/// What the filter looks like: as dirty as the air of its unit has made it.
fn look(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag) -> anyhow::Result<Finding> {
    let dust = months.unit_of(tag).map_or(1.0, |unit| UNITS[unit].dust);
    let day = months.day(at);
    let wear = months.wear.get_mut(tag).context("no such surface")?;
    Ok(wear.look(day, dust))
}

fn renew(months: &mut Months<'_>, tag: &Tag) {
    if let Some(wear) = months.wear.get_mut(tag) {
        wear.renew();
    }
}

fn clean(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    tag: &Tag,
    job: Job,
    (reason, method): (&str, &str),
) -> anyhow::Result<()> {
    let who = match job {
        Job::Aide => months.aide_for(tag, at)?,
        Job::Nurse | Job::Supervisor | Job::Upkeep | Job::Admin | Job::Agency => {
            months.anybody(job, months.shift(at))?
        }
    };
    let options = [
        ("surface", tag.as_str()),
        ("reason", reason),
        ("method", method),
        ("cover", "intact"),
    ];
    months.lived.ask(&who, at, &words("clean", &options))?;
    Ok(())
}

/// A resident has gone: the surface's turnover, and in a few days somebody else in that bed.
fn release(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    reason: &str,
    finish: bool,
) -> anyhow::Result<()> {
    let tag = anywhere(months)?;
    let bed = months.surface(&tag)?.bed().context("it is under no bed")?;
    let bed: Bed = bed.clone();
    let who = months.anybody(Job::Nurse, months.shift(at))?;
    let options = [("surface", tag.as_str()), ("reason", reason)];
    months.lived.ask(&who, at, &words("release", &options))?;
    if !finish {
        return Ok(());
    }
    let day = months.zone.local(at).date();
    turn_over(months, day, 11 * 60, tag)?;
    let days = months.rng.i64(1..=3);
    let bed = bed.to_string();
    later(
        months,
        day + TimeDelta::days(days),
        14 * 60,
        Deed::Place { bed },
    )
}

/// The steps between two residents, of which upkeep now and then takes soap first.
fn turn_over(months: &mut Months<'_>, day: NaiveDate, minute: i64, tag: Tag) -> anyhow::Result<()> {
    if months.chance(330) {
        later(months, day, minute, Deed::Soap(tag.clone()))?;
    }
    later(months, day, minute + 25, Deed::Disinfect(tag.clone()))?;
    later(months, day, minute + 50, Deed::Dried(tag.clone()))?;
    later(months, day, minute + 72, Deed::Inspected(tag.clone()))?;
    later(months, day, minute + 94, Deed::Parts(tag.clone()))?;
    later(months, day, minute + 116, Deed::TurnFilter(tag.clone()))?;
    later(months, day, minute + 138, Deed::Function(tag))
}

/// A step of a turnover that takes one tap.
fn step(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    tag: &Tag,
    tap_of: impl FnOnce(Tag, Began) -> Turn,
) -> anyhow::Result<()> {
    let Life::Soiled(turnover) = &months.surface(tag)?.life else {
        anyhow::bail!("{tag} is in no turnover");
    };
    let of = Began(turnover.since.timestamp() / 60);
    let who = months.anybody(Job::Upkeep, months.shift(at))?;
    let shown = Tap::Turn(tap_of(tag.clone(), of));
    months.lived.ask(&who, at, &tap(&shown))?;
    Ok(())
}

fn turn_filter(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag) -> anyhow::Result<()> {
    let filterless = months.state().profile_of(months.surface(tag)?).filter == FilterKind::None;
    if filterless {
        return Ok(());
    }
    // The button knows two outcomes: fit to go on, or a new one.
    let finding = match look(months, at, tag)? {
        Finding::Clean | Finding::Dusty => Finding::Clean,
        Finding::Clogged | Finding::Damaged => {
            renew(months, tag);
            Finding::Clogged
        }
    };
    let who = months.anybody(Job::Upkeep, months.shift(at))?;
    let tag = tag.clone();
    let of = began(months, &tag)?;
    let looked = Tap::TurnFilter { tag, of, finding };
    months.lived.ask(&who, at, &tap(&looked))?;
    Ok(())
}

/// When the turnover of a surface began, as its card says it.
fn began(months: &Months<'_>, tag: &Tag) -> anyhow::Result<Began> {
    let Life::Soiled(turnover) = &months.surface(tag)?.life else {
        bail!("{tag} is in no turnover");
    };
    Ok(Began(turnover.since.timestamp().div_euclid(60)))
}

/// The surface that has been ready longest goes under this bed.
pub(super) fn place(months: &mut Months<'_>, at: DateTime<Utc>, bed: &str) -> anyhow::Result<()> {
    let ready = months
        .state()
        .surfaces
        .iter()
        .filter_map(|(tag, surface)| match &surface.life {
            Life::Ready { since } if !story::owns(tag.as_str()) => Some((*since, tag)),
            Life::Ready { .. }
            | Life::Placed { .. }
            | Life::Soiled(_)
            | Life::OutOfService { .. }
            | Life::Retired { .. } => None,
        })
        .min();
    let tag = ready.context("no surface is ready")?.1.clone();
    let who = months.anybody(Job::Nurse, months.shift(at))?;
    let options = [("surface", tag.as_str()), ("bed", bed)];
    months.lived.ask(&who, at, &words("place", &options))?;
    if let Some(wear) = months.wear.get_mut(&tag) {
        wear.resettle(&mut months.rng);
    }
    Ok(())
}

/// Any surface under a bed where no other story is told.
fn anywhere(months: &mut Months<'_>) -> anyhow::Result<Tag> {
    let state = months.state();
    let fits = |tag: &Tag, surface: &Surface| {
        is_placed(surface)
            && surface.alarm.is_none()
            && tag.as_str() != register::tag(wear::FAILING)
            && !rounds::left_due(tag)
            && !story::owns(tag.as_str())
    };
    let tags: Vec<Tag> = state
        .surfaces
        .iter()
        .filter(|(tag, surface)| fits(tag, surface))
        .map(|(tag, _)| tag.clone())
        .collect();
    let place = months.rng.usize(0..tags.len().max(1));
    tags.get(place)
        .cloned()
        .context("no surface is under a bed")
}

fn later(months: &mut Months<'_>, day: NaiveDate, minute: i64, deed: Deed) -> anyhow::Result<()> {
    let at = months.at(day, minute)?;
    let at = months.later(at, 0, 19 * 60);
    months.plan(at, super::Deed::Care(deed));
    Ok(())
}
