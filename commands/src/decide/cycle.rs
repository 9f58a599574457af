//! How long a filter goes without a look. Decides which looks of the home go together and what holds until the next; leaves the
//! figures to `rules/filter_cycle`, what is read of it to `said` and `why`, and what is promised to the record of each look: the day it was told for does not move because
//! somebody looked at another filter.
//!
//! Use of filters from the shelf stays a count of what was used (`stock`): that is known, a life is an estimate of it.

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::draft::Asked;
use super::papers::day_of;
use crate::choice::{Action, FilterKind, Finding};
use crate::ids::{RecordNo, Tag, Unit};
use crate::rules::filter_cycle::{self, At, By, Learned, Looks, Next, Terms, in_use};
use crate::rules::filter_life::MOST_LIVES;
use crate::rules::policy::{Name, Policies};
use crate::rules::turnover::filter_fit;
use crate::state::{FilterFact, FilterLooks, Looked, State, Surface};

mod said;
mod why;

pub(super) use said::{Seen, card_button, card_early, card_left, card_line};
pub(super) use why::{list, why};

/// What the home lets be learned; nothing where it has switched it off.
pub(crate) fn terms(policies: &Policies) -> Option<Terms> {
    let number = |name| u32::try_from(policies.get(name)).unwrap_or(0);
    (policies.get(Name::FilterLearn) == 1).then(|| Terms {
        chance: f64::from(number(Name::FilterChance)) / 100.0,
        looks: number(Name::FilterLooks),
        longer: policies.get(Name::FilterLonger) == 1,
        most: number(Name::FilterMost),
    })
}

/// The days that hold since a surface's last look.
pub(crate) fn days(state: &State, surface: &Surface) -> u16 {
    held_days(
        state,
        surface,
        surface.filter.as_ref().and_then(|look| look.next),
    )
}

/// The days that hold where these were said.
pub(super) fn held_days(state: &State, surface: &Surface, said: Option<u16>) -> u16 {
    let usual = state.profile_of(surface).filter_check_days;
    said.map_or(usual, |said| {
        let terms = terms(&state.policies);
        let days = filter_cycle::holds(Some(said.into()), usual.into(), terms);
        u16::try_from(days).unwrap_or(usual)
    })
}

/// The day of the next look, in the home's time; nothing for a surface without a filter.
pub(crate) fn next_day(state: &State, surface: &Surface) -> Option<NaiveDate> {
    let zone = &state.facility.as_ref()?.zone;
    if state.profile_of(surface).filter == FilterKind::None {
        return None;
    }
    let added = || zone.local(surface.added).date();
    let renewed = surface.filter_renewed.unwrap_or_else(added);
    let look = surface.filter.as_ref();
    let looked = look.map_or(renewed, |look| zone.local(look.at).date());
    let days = Days::new(days(state, surface).into());
    looked.max(renewed).checked_add_days(days)
}

/// What the looks of the home say of one filter. A control unit without looks in its care unit yet is taken by its neighbours'.
fn learn(state: &State, tag: &Tag, surface: &Surface, own: &FilterLooks) -> Option<Learned> {
    let terms = terms(&state.policies)?;
    let here = surface.in_use.unit();
    let own = own.say(&surface.in_use, surface.in_use.here_since());
    let (unit, home) = others(state, state.profile_of(surface).filter, here, Some(tag));
    filter_cycle::learn(&own, &unit, &home, terms.looks)
}

/// The looks at all filters of a kind but one: in a care unit, since each came there, and elsewhere, whenever it was.
fn others(
    state: &State,
    kind: FilterKind,
    here: Option<&Unit>,
    but: Option<&Tag>,
) -> (Looks, Looks) {
    let (mut unit, mut home) = (Looks::default(), Looks::default());
    for (tag, surface) in &state.surfaces {
        if Some(tag) == but || state.profile_of(surface).filter != kind {
            continue;
        }
        let in_use = &surface.in_use;
        if here.is_some() && in_use.unit() == here {
            unit.add(&surface.filter_looks.say(in_use, in_use.here_since()));
        } else if home.spans.len() < MOST_LIVES / 2 {
            // Half a thousand lives say what the whole of a large home would.
            home.add(&surface.filter_looks.say(in_use, None));
        }
    }
    (unit, home)
}

/// What a look is made at, besides what was found and done.
pub(super) struct Before<'a> {
    /// The surface, as it stood before.
    pub surface: &'a Surface,
    /// The looks, this one left out.
    pub looks: &'a FilterLooks,
    /// The day the filter that was found was new.
    pub changed: Option<NaiveDate>,
    /// The day it was new or rinsed.
    pub renewed: Option<NaiveDate>,
    /// The days that were said at the look before.
    pub said: Option<u16>,
}

/// When to look again after a look; nothing where it is to be put right first.
pub(super) fn after_look(
    state: &State,
    tag: &Tag,
    before: &Before<'_>,
    (finding, action): (Finding, Action),
    at: DateTime<Utc>,
) -> Option<Next> {
    if !filter_fit(finding, action) {
        return None;
    }
    let (surface, today) = (before.surface, day_of(state, at));
    let looks = before.with(finding, action, today);
    let learned = learn(state, tag, surface, &looks);
    // Days that were said once, to see whether a cause is there still, are no cycle to grow from.
    let once = early(state, tag, surface, before.looks).is_some();
    let (new, renewed) = match action {
        Action::Left => (before.new_on(state), before.renewed_on(state)),
        // It is free of dust, and as old as it was.
        Action::Rinsed => (before.new_on(state), today),
        Action::Replaced => (today, today),
    };
    let at = At {
        left_dusty: action == Action::Left && finding != Finding::Clean,
        before: before.said.map(u32::from),
        same: action == Action::Left && !once,
        longest: looks.longest(),
        ..at_age(state, surface, (new, renewed), today)
    };
    let next = filter_cycle::next(learned.as_ref(), at, terms(&state.policies));
    Some(match early(state, tag, surface, &looks) {
        Some((_, day)) if day < next.days => Next {
            days: day,
            by: By::Early,
        },
        Some(_) | None => next,
    })
}

/// The newest look, where it found a filter dirty long before the usual: what was found, and by which day of use.
fn early(
    state: &State,
    tag: &Tag,
    surface: &Surface,
    looks: &FilterLooks,
) -> Option<(Finding, u32)> {
    let (finding, day, without) = looks.newest_dirty(&surface.in_use)?;
    let usual = learn(state, tag, surface, &without);
    let profile = state.profile_of(surface).filter_check_days.into();
    filter_cycle::early(usual.as_ref(), f64::from(day), profile).then_some((finding, day))
}

/// Whether the look before was such a one, so that the days since are no cycle.
fn known_early(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> bool {
    early(asked.state, tag, surface, &surface.filter_looks).is_some()
}

impl Before<'_> {
    /// The looks with this one.
    fn with(&self, finding: Finding, action: Action, on: NaiveDate) -> FilterLooks {
        let mut looks = self.looks.clone();
        looks.push(Looked {
            no: RecordNo(u64::MAX),
            on,
            finding,
            action,
        });
        looks
    }

    /// The day the filter that was found was new; the day the surface came where nobody knows.
    fn new_on(&self, state: &State) -> NaiveDate {
        let surface = self.surface;
        self.changed.unwrap_or(day_of(state, surface.added))
    }

    /// The day it was new or rinsed, likewise.
    fn renewed_on(&self, state: &State) -> NaiveDate {
        let added = || day_of(state, self.surface.added);
        self.renewed.unwrap_or_else(added)
    }
}

/// How old a filter is that was new on a day, and the most days that its maker lets it be, where it is as old as that.
fn age_and_limit(
    state: &State,
    surface: &Surface,
    new: NaiveDate,
    today: NaiveDate,
) -> Option<(i64, i64)> {
    let most = i64::from(state.profile_of(surface).filter_max_days);
    let age = (today - new).num_days();
    (age >= most).then_some((age, most))
}

/// A filter that was new on a day, and new or rinsed on another, as it is today: it is as dusty as the days since the one make it, and its
/// maker's limit runs from the other.
fn at_age(
    state: &State,
    surface: &Surface,
    (new, renewed): (NaiveDate, NaiveDate),
    today: NaiveDate,
) -> At {
    let profile = state.profile_of(surface);
    let count = |days: i64| u32::try_from(days.max(0)).unwrap_or(0);
    let shelves = surface.in_use.shelves();
    let used = in_use(today, &shelves) - in_use(renewed, &shelves);
    let age = count((today - new).num_days());
    At {
        age: count(used.num_days()),
        left_dusty: false,
        usual: profile.filter_check_days.into(),
        limit: u32::from(profile.filter_max_days).saturating_sub(age),
        before: None,
        same: false,
        longest: 0,
    }
}

/// When to look again after a corrected look that is the newest, of all that are kept; the filter that is in it was `new` on a day, and at
/// the look before, these days were `said`.
pub(super) fn amended(
    state: &State,
    (tag, surface): (&Tag, &Surface),
    last: &FilterFact,
    (looks, new, said): (&FilterLooks, Option<NaiveDate>, Option<u16>),
) -> Option<Next> {
    let mut without = looks.clone();
    without.newest.retain(|look| look.no != last.no);
    let renewed = without
        .newest
        .iter()
        .rfind(|look| look.action != Action::Left);
    let began = without.before.map(|life| life.new);
    let before = Before {
        surface,
        looks: &without,
        // Where this look itself found it changed, nothing is asked of the one before.
        changed: new,
        renewed: renewed.map(|look| look.on).or(began),
        said,
    };
    after_look(state, tag, &before, (last.finding, last.action), last.at)
}

/// What a record keeps of it: nothing where the profile's days go on.
pub(super) fn kept(next: Option<Next>) -> Option<u16> {
    let next = next.filter(|next| next.by != By::Profile)?;
    u16::try_from(next.days).ok()
}
