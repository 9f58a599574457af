//! The checklists at the beds of the invented months: after a placement, a move, a power loss. Decides who goes on with
//! one and when; the story's own are left to it for a while first.

use anyhow::Context;
use chrono::{DateTime, TimeDelta, Utc};
use commands::Said;
use commands::choice::Opening;
use commands::ids::Tag;
use commands::rules::hand_check::Air;
use commands::rules::set_up::{self, Stage};
use commands::state::{Steps, Surface};
use commands::tap::{Bedside, ListCard, Tap};

use super::super::people::{Job, Staff};
use super::entry::{self, Way};
use super::{Months, is_placed, story, tap};

/// How often somebody comes by, in minutes.
const EVERY_MINUTES: usize = 5;
/// Of a thousand times, so many nothing is done: somebody else needs help first.
const BUSY: u32 = 250;
/// The story goes on with its own lists itself for so long, in minutes.
const STORY_MINUTES: i64 = 50;

/// Somebody looks at all that is open.
#[derive(Clone, Copy, Debug)]
pub(super) struct Deed;

pub(super) fn plan(months: &mut Months<'_>) -> anyhow::Result<()> {
    for day in months.days() {
        for minute in (0..24 * 60).step_by(EVERY_MINUTES) {
            let at = months.at(day, minute)?;
            months.plan(at, super::Deed::Bedside(Deed));
        }
    }
    Ok(())
}

pub(super) fn happen(months: &mut Months<'_>, at: DateTime<Utc>, Deed: Deed) -> anyhow::Result<()> {
    let open = |(tag, surface): (&Tag, &Surface)| {
        let steps = surface.open_steps()?;
        let hands_free = is_placed(surface)
            && surface.alarm.is_none()
            && surface.cpr.is_none()
            && surface.away(at).is_none();
        let told =
            story::owns(tag.as_str()) && at - steps.since < TimeDelta::minutes(STORY_MINUTES);
        (hands_free && !told).then(|| (tag.clone(), steps.clone()))
    };
    let lists: Vec<(Tag, Steps)> = months.state().surfaces.iter().filter_map(open).collect();
    for (tag, steps) in lists {
        if !months.chance(BUSY) {
            go_on(months, at, &tag, &steps)?;
        }
    }
    Ok(())
}

/// Does what the list asks for next.
fn go_on(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    tag: &Tag,
    steps: &Steps,
) -> anyhow::Result<()> {
    let stage = set_up::next(steps.left()).context("nothing is left")?;
    let card = ListCard {
        tag: tag.clone(),
        list: steps.no,
        post: false,
    };
    let shown = match stage {
        Stage::Full if steps.full.is_some_and(|full| at < full) => return Ok(()),
        Stage::Check => {
            let who = nurse(months, at)?;
            let air = Air::Measured(entry::usual(months, at, tag)?);
            return entry::say(months, at, tag, &who, air, Way::Nurse).map(drop);
        }
        Stage::Setting => {
            let who = nurse(months, at)?;
            let said = setting(months, tag, steps, card)?;
            return months.lived.ask(&who, at, &said).map(drop);
        }
        Stage::Empty | Stage::Full | Stage::Rest | Stage::Rails => Bedside::Done { card, stage },
    };
    let who = if stage == Stage::Rails {
        nurse(months, at)?
    } else {
        months.aide_for(tag, at)?
    };
    months
        .lived
        .ask(&who, at, &tap(&Tap::Bedside(shown)))
        .map(drop)
}

/// The setting as it was, or one of the maker's table.
fn setting(
    months: &mut Months<'_>,
    tag: &Tag,
    steps: &Steps,
    card: ListCard,
) -> anyhow::Result<Said> {
    let surface = months.surface(tag)?;
    if surface.setting.is_some() && steps.opening != Opening::Placed {
        return Ok(tap(&Tap::Bedside(Bedside::Same { card })));
    }
    let table = months.state().profile_of(surface).settings.clone();
    let place = months.rng.usize(0..table.len().max(1));
    let (_, setting) = table.get(place).context("no table of settings")?;
    let chosen = vec![setting.clone()];
    let setting = String::new();
    let id = Tap::Bedside(Bedside::Set { card, setting }).id();
    Ok(Said::Tap { id, chosen })
}

fn nurse(months: &Months<'_>, at: DateTime<Utc>) -> anyhow::Result<Staff> {
    months.anybody(Job::Nurse, months.shift(at))
}
