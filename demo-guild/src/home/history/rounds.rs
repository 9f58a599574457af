//! The hand checks of the invented months: a round in every unit and shift, rechecks after low and high readings, and
//! what could not be checked. Decides who checked what when, and what they found.

use anyhow::Context;
use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::{RecordNo, Tag};
use commands::rules::air::{INCH_TENTHS, Tenths};
use commands::rules::hand_check::{Air, Check, Judgement, Why};
use commands::tap::Tap;

use super::super::people::{Job, Shift, Staff};
use super::super::register::{self, UNITS};
use super::entry::{Way, say, usual};
use super::{Months, is_placed, story, tap, wear};

/// How often, of a thousand beds: passed over, day and night.
const MISSED: u32 = 22;
const MISSED_NIGHT: u32 = 45;
/// Not to be checked, by day and at night, when most are asleep.
const COULD_NOT: u32 = 25;
const COULD_NOT_NIGHT: u32 = 150;
/// Sagging or too firm, for a reason that a recheck finds gone.
const SAGGING: u32 = 9;
const TOO_FIRM: u32 = 4;
/// Typed instead of tapped; on a surface that somebody watches, nearly always.
const TYPED: u32 = 220;
const TYPED_WATCHED: u32 = 850;
/// The recheck comes only after loftwatch has asked for it.
const ASKED_FIRST: u32 = 250;
/// It is low again.
const LOW_AGAIN: u32 = 200;
/// Taken back at once, because it was the wrong bed.
const TAKEN_BACK: u32 = 2;
/// Entered later than made.
const LATE: u32 = 6;
/// Tries of what could not be checked, before it waits for the next shift.
const TRIES_MAX: u8 = 2;
/// In the last night these beds' surfaces of the first unit are passed over, and are due when the demo begins; the
/// last of them is then found low, so many minutes before.
const LEFT_DUE: [u32; 4] = [2, 6, 10, 4];
const LOW_BEFORE_MINUTES: i64 = 8;

/// What happens in a round or after it.
#[derive(Clone, Debug)]
pub(super) enum Deed {
    /// A shift begins: its rounds are planned.
    Shift(Shift),
    /// The hand under one bed.
    Bed { tag: Tag, who: Staff },
    /// The recheck of a low or high reading.
    Recheck { tag: Tag },
    /// Another try of what could not be checked.
    TryAgain { tag: Tag, tries: u8 },
    /// The entry was wrong and is taken back.
    TakeBack {
        first: RecordNo,
        tag: Tag,
        who: Staff,
    },
    /// The low reading that the demo begins with.
    LastLow { tag: Tag },
}

/// A round at every shift's start.
pub(super) fn plan(months: &mut Months<'_>) -> anyhow::Result<()> {
    for day in months.days() {
        for shift in [Shift::Day, Shift::Evening, Shift::Night] {
            let at = months.at(day, i64::from(shift.hour()) * 60)?;
            months.plan(at, super::Deed::Round(Deed::Shift(shift)));
        }
    }
    let [.., low] = LEFT_DUE;
    let tag = Tag::from(register::tag(low));
    let at = months.start - TimeDelta::minutes(LOW_BEFORE_MINUTES);
    months.plan(at, super::Deed::Round(Deed::LastLow { tag }));
    Ok(())
}

pub(super) fn happen(months: &mut Months<'_>, at: DateTime<Utc>, deed: Deed) -> anyhow::Result<()> {
    match deed {
        Deed::Shift(shift) => (0..UNITS.len()).try_for_each(|unit| begin(months, at, shift, unit)),
        Deed::Bed { tag, who } => bed(months, at, &tag, &who),
        Deed::Recheck { tag } => recheck(months, at, &tag),
        Deed::TryAgain { tag, tries } => try_again(months, at, &tag, tries),
        Deed::TakeBack { first, tag, who } => {
            if months
                .surface(&tag)?
                .before
                .as_ref()
                .is_some_and(|before| before.first == first)
            {
                let back = Tap::TakeBack {
                    first,
                    tag: tag.clone(),
                    then: commands::tap::Then::Beside,
                };
                months.lived.ask(&who, at, &tap(&back))?;
                again_soon(months, at, tag, who);
            }
            Ok(())
        }
        Deed::LastLow { tag } => {
            let who = months.anybody(Job::Aide, Shift::Night)?;
            let low = Air::Measured(Tenths(INCH_TENTHS * 3 / 4));
            say(months, at, &tag, &who, low, Way::Typed).map(drop)
        }
    }
}

/// The round of one unit in one shift: each aide begins and walks in an own way.
fn begin(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    shift: Shift,
    unit: usize,
) -> anyhow::Result<()> {
    let who = months.aide(unit, shift)?;
    let habit = (who.person().0 % 5) as i64;
    let mut moment = months.later(at, 12 * 60 + habit * 420, 30 * 60 + habit * 420);
    let (pace_from, pace_to) = (45 + habit * 8, 110 + habit * 20);
    let unit_name = UNITS[unit].name;
    let beds = &months
        .state()
        .units
        .get(unit_name)
        .context("no such unit")?
        .beds;
    let under = |bed| months.state().under.get(bed);
    let tags: Vec<Tag> = beds.iter().filter_map(under).cloned().collect();
    let missed = if shift == Shift::Night {
        MISSED_NIGHT
    } else {
        MISSED
    };
    for tag in tags {
        let check = months.state().profile_of(months.surface(&tag)?).check;
        let passed_over = if months.quiet(moment) {
            left_due(&tag)
        } else {
            months.chance(missed)
        };
        if check == Check::None || passed_over {
            continue;
        }
        moment = months.later(moment, pace_from, pace_to);
        months.plan(moment, super::Deed::Round(Deed::Bed { tag, who }));
    }
    Ok(())
}

fn bed(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag, who: &Staff) -> anyhow::Result<()> {
    let surface = months.surface(tag)?;
    let elsewhere = surface.away(at).is_some() || surface.cpr.is_some();
    if surface.bed().is_none() || surface.alarm.is_some() || elsewhere {
        return Ok(());
    }
    // What belongs to the story is told there.
    let quiet = months.quiet(at) || story::owns(tag.as_str());
    let could_not = if months.shift(at) == Shift::Night {
        COULD_NOT_NIGHT
    } else {
        COULD_NOT
    };
    if !quiet && months.chance(could_not) {
        let why = why_not(months, at);
        say(months, at, tag, who, Air::CouldNot(why), Way::Card)?;
        plan_try(months, at, tag, 1);
        return Ok(());
    }
    let air = match () {
        () if !quiet && months.chance(SAGGING) => Tenths(months.rng.i32(150..232)),
        () if !quiet && months.chance(TOO_FIRM) => Tenths(months.rng.i32(520..600)),
        () => usual(months, at, tag)?,
    };
    let typed = if register::tag(wear::FAILING) == tag.as_str() {
        TYPED_WATCHED
    } else {
        TYPED
    };
    let way = match () {
        () if !quiet && months.chance(LATE) => Way::Late,
        () if months.chance(typed) => Way::Form,
        () => Way::Card,
    };
    let first = say(months, at, tag, who, Air::Measured(air), way)?;
    follow(months, at, tag)?;
    if !quiet && months.chance(TAKEN_BACK) {
        let when = months.later(at, 15, 40);
        let deed = Deed::TakeBack {
            first,
            tag: tag.clone(),
            who: *who,
        };
        months.plan(when, super::Deed::Round(deed));
    }
    Ok(())
}

/// Whether the demo begins with this surface still to be checked, so that it stays where it is.
pub(super) fn left_due(tag: &Tag) -> bool {
    LEFT_DUE.iter().any(|n| register::tag(*n) == tag.as_str())
}

/// Books the next deed after a reading that was not adequate.
fn follow(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag) -> anyhow::Result<()> {
    let Some(booked) = months.state().rechecks.get(tag) else {
        return Ok(());
    };
    let due = booked.due;
    let when = if months.chance(ASKED_FIRST) {
        months.later(due, 3 * 60, 9 * 60)
    } else {
        months.later(due, -3 * 60, -10)
    };
    let deed = Deed::Recheck { tag: tag.clone() };
    months.plan(when.max(at), super::Deed::Round(deed));
    Ok(())
}

fn recheck(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag) -> anyhow::Result<()> {
    let Some(booked) = months.state().rechecks.get(tag) else {
        return Ok(());
    };
    let (after, surface) = (booked.after, months.surface(tag)?);
    if !is_placed(surface) || surface.alarm.is_some() {
        return Ok(());
    }
    let again = surface
        .checks
        .iter()
        .rev()
        .take(2)
        .filter(|check| check.judged == Judgement::Low)
        .count();
    let who = months.anybody(Job::Nurse, months.shift(at))?;
    let air = if after == Judgement::Low && again < 2 && months.chance(LOW_AGAIN) {
        Tenths(months.rng.i32(190..232))
    } else {
        usual(months, at, tag)?
    };
    say(months, at, tag, &who, Air::Measured(air), Way::Nurse)?;
    follow(months, at, tag)
}

fn try_again(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    tag: &Tag,
    tries: u8,
) -> anyhow::Result<()> {
    let surface = months.surface(tag)?;
    let waits = months
        .state()
        .rechecks
        .get(tag)
        .is_some_and(|booked| booked.after == Judgement::CouldNot);
    if !waits || !is_placed(surface) || surface.alarm.is_some() {
        return Ok(());
    }
    let who = months.aide_for(tag, at)?;
    if tries < TRIES_MAX && months.shift(at) == Shift::Night && months.chance(300) {
        say(months, at, tag, &who, Air::CouldNot(Why::Asleep), Way::Card)?;
        plan_try(months, at, tag, tries + 1);
        return Ok(());
    }
    let air = usual(months, at, tag)?;
    say(months, at, tag, &who, Air::Measured(air), Way::Typed).map(drop)
}

fn plan_try(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag, tries: u8) {
    let when = months.later(at, 42 * 60, 76 * 60);
    let deed = Deed::TryAgain {
        tag: tag.clone(),
        tries,
    };
    months.plan(when, super::Deed::Round(deed));
}

fn again_soon(months: &mut Months<'_>, at: DateTime<Utc>, tag: Tag, who: Staff) {
    let when = months.later(at, 60, 240);
    months.plan(when, super::Deed::Round(Deed::Bed { tag, who }));
}

fn why_not(months: &mut Months<'_>, at: DateTime<Utc>) -> Why {
    if months.shift(at) == Shift::Night {
        return Why::Asleep;
    }
    let day = [Why::Out, Why::Refused, Why::Out, Why::Isolation];
    day[months.rng.usize(0..day.len())]
}
