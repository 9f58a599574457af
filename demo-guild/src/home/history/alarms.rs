//! The alarms of the invented months: of every kind and cause, taken, made safe and fixed at plausible minutes; one
//! that nobody took until the third rung, one that was taken and forgotten, one that ended the surface's service.

use anyhow::Context;
use chrono::{DateTime, TimeDelta, Utc};
use commands::Said;
use commands::choice::Cause;
use commands::ids::{AlarmNo, Tag};
use commands::rules::hand_check::{Air, Check};
use commands::rules::priority::AlarmKind;
use commands::tap::Tap;

use super::super::people::Job;
use super::super::register;
use super::entry::{self, Way};
use super::rounds;
use super::{Months, is_placed, story, tap, wear};
use crate::home::setup::words;

/// How an alarm goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Course {
    /// Taken in minutes and fixed within the half hour.
    Plain,
    /// Nobody takes it before the third rung has asked everybody.
    Climbs,
    /// Taken, and not fixed in the promised time: the ladder begins again.
    Forgotten,
    /// It could not be put right: the resident goes onto another surface.
    Pulled,
}

/// What happened, in order: the kinds as reported, and the causes as found.
const ALARMS: [(AlarmKind, Cause, Course); 26] = [
    (AlarmKind::LowPressure, Cause::Hose, Course::Plain),
    (AlarmKind::Power, Cause::Unplugged, Course::Plain),
    (AlarmKind::Unknown, Cause::Hose, Course::Plain),
    (AlarmKind::LowPressure, Cause::CprValve, Course::Plain),
    (AlarmKind::Fault, Cause::Filter, Course::Plain),
    (AlarmKind::Power, Cause::Unplugged, Course::Plain),
    (AlarmKind::HighPressure, Cause::WrongSetting, Course::Plain),
    (AlarmKind::BottomedOut, Cause::CprValve, Course::Plain),
    (AlarmKind::LowPressure, Cause::Filter, Course::Plain),
    (AlarmKind::Unknown, Cause::Unplugged, Course::Plain),
    (AlarmKind::LowPressure, Cause::Hose, Course::Climbs),
    (AlarmKind::Power, Cause::SwitchedOff, Course::Plain),
    (AlarmKind::LowPressure, Cause::Leak, Course::Plain),
    (AlarmKind::Fault, Cause::Other, Course::Plain),
    (AlarmKind::Unknown, Cause::WrongSetting, Course::Plain),
    (AlarmKind::LowPressure, Cause::Hose, Course::Forgotten),
    (AlarmKind::HighPressure, Cause::WrongSetting, Course::Plain),
    (AlarmKind::Power, Cause::Unplugged, Course::Plain),
    (AlarmKind::LowPressure, Cause::Filter, Course::Plain),
    (AlarmKind::BottomedOut, Cause::Unplugged, Course::Plain),
    (AlarmKind::LowPressure, Cause::CprValve, Course::Plain),
    (AlarmKind::Unknown, Cause::Hose, Course::Plain),
    (AlarmKind::LowPressure, Cause::Leak, Course::Pulled),
    (AlarmKind::Fault, Cause::Filter, Course::Plain),
    (AlarmKind::Power, Cause::Unplugged, Course::Plain),
    (AlarmKind::LowPressure, Cause::Hose, Course::Plain),
];

/// The first and the last days have none.
const FIRST_DAY: i64 = 2;
const LAST_DAYS: i64 = 3;

/// A step of one alarm, named by its place in the list.
#[derive(Clone, Debug)]
pub(super) enum Deed {
    /// It is reported.
    Raise(usize),
    /// Somebody sees what kind it is.
    Name(AlarmNo),
    /// Somebody is on the way.
    Take(AlarmNo),
    /// The resident is safe.
    Safe(AlarmNo),
    /// It is fixed, and checked.
    Fix(usize, AlarmNo),
    /// It cannot be fixed.
    Pull(AlarmNo),
    /// Another surface takes its place.
    Swap(Tag),
}

/// Each at a moment of its own.
pub(super) fn plan(months: &mut Months<'_>) -> anyhow::Result<()> {
    let days = super::super::HISTORY_DAYS - LAST_DAYS - FIRST_DAY;
    for (place, (_, _, course)) in ALARMS.into_iter().enumerate() {
        let day = FIRST_DAY + place as i64 * days / ALARMS.len() as i64;
        let minute = match course {
            // At an hour when few are about.
            Course::Climbs => 3 * 60 + 12,
            Course::Forgotten => 18 * 60 + 40,
            Course::Pulled => 10 * 60 + 25,
            Course::Plain => months.rng.i64(0..24 * 60),
        };
        let at = months.at(months.from + TimeDelta::days(day), minute)?;
        let at = months.later(at, 0, 59);
        months.plan(at, super::Deed::Alarm(Deed::Raise(place)));
    }
    Ok(())
}

pub(super) fn happen(months: &mut Months<'_>, at: DateTime<Utc>, deed: Deed) -> anyhow::Result<()> {
    match deed {
        Deed::Raise(place) => raise(months, at, place),
        Deed::Name(alarm) => {
            let kind = AlarmKind::LowPressure;
            let id = Tap::NameAlarm { alarm, kind }.id();
            let chosen = vec![kind.as_str().to_owned()];
            by_aide(months, at, alarm, &Said::Tap { id, chosen })
        }
        Deed::Take(alarm) => by_aide(months, at, alarm, &tap(&Tap::Take { alarm })),
        Deed::Safe(alarm) => {
            let who = months.anybody(Job::Nurse, months.shift(at))?;
            months.lived.ask(&who, at, &tap(&Tap::Safe { alarm }))?;
            Ok(())
        }
        Deed::Fix(place, alarm) => fix(months, at, place, alarm),
        Deed::Pull(alarm) => {
            let who = months.anybody(Job::Nurse, months.shift(at))?;
            let tag = tag_of(months, alarm)?;
            months.lived.ask(&who, at, &tap(&Tap::Pull { alarm }))?;
            let soon = months.later(at, 9 * 60, 14 * 60);
            months.plan(soon, super::Deed::Alarm(Deed::Swap(tag)));
            Ok(())
        }
        Deed::Swap(tag) => swap(months, at, &tag),
    }
}

fn raise(months: &mut Months<'_>, at: DateTime<Utc>, place: usize) -> anyhow::Result<()> {
    let (kind, _, course) = ALARMS[place];
    let tag = somewhere(months, course)?;
    let who = months.aide_for(&tag, at)?;
    match kind {
        AlarmKind::BottomedOut => {
            entry::say(months, at, &tag, &who, Air::Touching, Way::Card)?;
        }
        AlarmKind::Unknown
        | AlarmKind::LowPressure
        | AlarmKind::Power
        | AlarmKind::HighPressure
        | AlarmKind::Fault => {
            let mut options = vec![("surface", tag.as_str()), ("kind", kind.as_str())];
            if place % 5 == 1 {
                options.push(("note", "lamp is on, the bed feels softer"));
            }
            months.lived.ask(&who, at, &words("alarm", &options))?;
        }
    }
    let opened = months.surface(&tag)?.alarm;
    let alarm = opened.context("no alarm was opened")?;
    // By day and night, most come within a few minutes; now and then nurses have to be asked first.
    let (comes, repair) = (months.rng.i64(30..430), months.rng.i64(240..1_050));
    let mut plan = |at, deed| months.plan(at, super::Deed::Alarm(deed));
    match course {
        Course::Plain => {
            // Whoever found it bottomed out stays there, and somebody else comes.
            let taken = later(&mut plan, at, comes, Deed::Take(alarm));
            if kind == AlarmKind::Unknown {
                later(&mut plan, taken, 95, Deed::Name(alarm));
            }
            let safe = later(&mut plan, taken, 210, Deed::Safe(alarm));
            later(&mut plan, safe, repair, Deed::Fix(place, alarm));
        }
        Course::Climbs => {
            let taken = later(&mut plan, at, 16 * 60 + 20, Deed::Take(alarm));
            let safe = later(&mut plan, taken, 130, Deed::Safe(alarm));
            later(&mut plan, safe, 700, Deed::Fix(place, alarm));
        }
        Course::Forgotten => {
            let taken = later(&mut plan, at, 140, Deed::Take(alarm));
            later(&mut plan, taken, 260, Deed::Safe(alarm));
            let again = later(&mut plan, taken, 32 * 60, Deed::Take(alarm));
            later(&mut plan, again, 420, Deed::Fix(place, alarm));
        }
        Course::Pulled => {
            let taken = later(&mut plan, at, 75, Deed::Take(alarm));
            let safe = later(&mut plan, taken, 240, Deed::Safe(alarm));
            later(&mut plan, safe, 560, Deed::Pull(alarm));
        }
    }
    Ok(())
}

/// Plans a step that many seconds after the one before, and says when that is.
fn later(
    plan: &mut impl FnMut(DateTime<Utc>, Deed),
    before: DateTime<Utc>,
    seconds: i64,
    deed: Deed,
) -> DateTime<Utc> {
    // A little earlier or later, as the clock of the step before has it.
    let at = before + TimeDelta::seconds(seconds + before.timestamp() % 47);
    plan(at, deed);
    at
}

fn fix(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    place: usize,
    alarm: AlarmNo,
) -> anyhow::Result<()> {
    let cause = ALARMS[place].1;
    let tag = tag_of(months, alarm)?;
    let who = months.anybody(Job::Nurse, months.shift(at))?;
    let check = months.state().profile_of(months.surface(&tag)?).check;
    let said = match check {
        Check::None => Said::Tap {
            id: Tap::Caused { alarm, cause }.id(),
            chosen: vec![cause.as_str().to_owned()],
        },
        Check::LookAndFeel => {
            let air = Air::Within;
            tap(&Tap::FixedAir { alarm, cause, air })
        }
        Check::Hand => {
            let air = Air::Measured(entry::usual(months, at, &tag)?);
            tap(&Tap::FixedAir { alarm, cause, air })
        }
    };
    months.lived.ask(&who, at, &said)?;
    Ok(())
}

/// The resident lies on another surface; this one waits for repair.
fn swap(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag) -> anyhow::Result<()> {
    let who = months.anybody(Job::Nurse, months.shift(at))?;
    let bed = months.surface(tag)?.bed().context("it is under no bed")?;
    let bed = bed.to_string();
    let release = [("surface", tag.as_str()), ("reason", "surface-change")];
    months.lived.ask(&who, at, &words("release", &release))?;
    super::care::place(months, at + TimeDelta::seconds(80), &bed)
}

fn by_aide(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    alarm: AlarmNo,
    said: &Said,
) -> anyhow::Result<()> {
    let tag = tag_of(months, alarm)?;
    let who = months.aide_for(&tag, at)?;
    months.lived.ask(&who, at, said)?;
    Ok(())
}

fn tag_of(months: &Months<'_>, alarm: AlarmNo) -> anyhow::Result<Tag> {
    let open = months.state().alarms.get(&alarm);
    Ok(open.context("the alarm is over")?.tag.clone())
}

/// Where it happens: under somebody, and not where the other stories are told.
fn somewhere(months: &mut Months<'_>, course: Course) -> anyhow::Result<Tag> {
    let state = months.state();
    let fits = |tag: &Tag| {
        let surface = &state.surfaces[tag];
        let hand = state.profile_of(surface).check == Check::Hand;
        is_placed(surface)
            && surface.alarm.is_none()
            && !state.rechecks.contains_key(tag)
            && tag.as_str() != register::tag(wear::FAILING)
            && !rounds::left_due(tag)
            && !story::owns(tag.as_str())
            && (hand || course == Course::Plain)
    };
    let tags: Vec<Tag> = state
        .surfaces
        .keys()
        .filter(|tag| fits(tag))
        .cloned()
        .collect();
    let place = months.rng.usize(0..tags.len().max(1));
    tags.get(place)
        .cloned()
        .context("no surface is under a bed")
}
