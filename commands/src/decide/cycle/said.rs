//! What is read of a filter's next look: in the answer to a look, and on a surface's card. Decides which sentence says why other days
//! hold than before; leaves the days to its parent and the rule, and the whole account to `why`.

use chrono::{DateTime, Days, Utc};

use super::{Before, after_look, age_and_limit, at_age, days, early, known_early, next_day};
use crate::choice::{Action, FilterKind, Finding};
use crate::decide::draft::{Asked, button};
use crate::decide::papers::day_of;
use crate::ids::Tag;
use crate::message::{Button, Look};
use crate::rules::filter_cycle::{self, By, Next};
use crate::rules::filter_life::Found;
use crate::rules::turnover::filter_fit;
use crate::say;
use crate::state::{FilterFact, Life as SurfaceLife, Surface};
use crate::tap::{Tap, Work};
use crate::words::Lang;

/// A look that is answered.
#[derive(Clone, Copy)]
pub(in crate::decide) struct Seen<'a> {
    /// The surface's tag.
    pub tag: &'a Tag,
    /// What it was made at.
    pub before: &'a Before<'a>,
    /// What was found, and what was done.
    pub finding: Finding,
    /// What was done about it.
    pub action: Action,
    /// When.
    pub at: DateTime<Utc>,
}

impl Seen<'_> {
    /// What is said where it found the filter dirty long before the usual.
    pub(in crate::decide) fn early(&self, asked: &Asked<'_>) -> Option<String> {
        let on = day_of(asked.state, self.at);
        let looks = self.before.with(self.finding, self.action, on);
        let found = early(asked.state, self.tag, self.before.surface, &looks)?;
        Some(early_words(asked.lang, found))
    }

    /// When to look again had it been replaced.
    fn if_new(&self, asked: &Asked<'_>) -> Option<Next> {
        let done = (self.finding, Action::Replaced);
        after_look(asked.state, self.tag, self.before, done, self.at)
    }

    /// What is said instead of the next look where a filter that was left in is as old as its maker lets one be: from then on a look
    /// each day says nothing that the day before did not. Nothing where it is younger.
    pub(in crate::decide) fn too_old(&self, asked: &Asked<'_>) -> Option<String> {
        if self.action != Action::Left {
            return None;
        }
        let (age, most) = age_and_limit(
            asked.state,
            self.before.surface,
            self.before.new_on(asked.state),
            day_of(asked.state, self.at),
        )?;
        Some(say!(
            asked.lang,
            "filter-over",
            age = age,
            most = most,
            days = i64::from(self.if_new(asked)?.days)
        ))
    }

    /// The sentence after it, with what made the days other than before, and the way to the whole reason.
    pub(in crate::decide) fn next(
        &self,
        asked: &Asked<'_>,
        next: Next,
    ) -> (String, Option<Button>) {
        let (lang, surface) = (asked.lang, self.before.surface);
        let days_now = i64::from(next.days);
        let before = i64::from(days(asked.state, surface));
        // A new filter at the profile's days begins anew: how little the old one had left is no news of it.
        let anew = self.action != Action::Left && next.by == By::Profile;
        let known = surface.filter.is_some() && !anew;
        let text = if next.by == By::Limit {
            say!(lang, "filter-limit", days = days_now)
        } else if next.by == By::EvenADay {
            say!(lang, "filter-even-a-day")
        } else if next.by == By::Early || known_early(asked, self.tag, surface) {
            // Once, to see whether the cause is there still: no new cycle.
            say!(lang, "filter-next", days = days_now)
        } else if known && before != days_now {
            let why = if days_now > before {
                self.later(asked, next)
            } else {
                self.sooner(asked, next)
            };
            say!(
                lang,
                "filter-every-now",
                days = days_now,
                before = before,
                why = why
            )
        } else if next.by == By::Profile {
            say!(lang, "filter-next", days = days_now)
        } else {
            say!(lang, "filter-every", days = days_now)
        };
        let why = next.by != By::Profile;
        (text, why.then(|| why_button(lang, self.tag)))
    }

    /// Why the next look comes later than the one before did.
    fn later(&self, asked: &Asked<'_>, next: Next) -> String {
        let surface = self.before.surface;
        // Where the days before were a new filter's too, its being new changes nothing.
        let was_new = surface.filter.as_ref().is_some_and(|look| {
            look.action != Action::Left
                && day_of(asked.state, look.at) == self.before.renewed_on(asked.state)
        });
        let key = match (next.by, self.action) {
            (By::Profile, _) => "filter-now-profile",
            (_, Action::Replaced) if !was_new => "filter-now-new",
            (_, Action::Rinsed) if !was_new => "filter-now-rinsed",
            (_, Action::Left | Action::Replaced | Action::Rinsed) => "filter-now-longer",
        };
        say!(asked.lang, key)
    }

    /// Why it comes sooner.
    fn sooner(&self, asked: &Asked<'_>, next: Next) -> String {
        let before = u32::from(days(asked.state, self.before.surface));
        // A new one would go as long as before: it is the age.
        let by_age = || {
            self.action == Action::Left
                && self
                    .if_new(asked)
                    .is_some_and(|new| new.by != By::Profile && new.days >= before)
        };
        let key = match next.by {
            By::NoLonger | By::Most => "filter-now-policy",
            By::Profile | By::Limit => "filter-now-profile",
            By::Dusty => "filter-now-dusty",
            By::AllDirty => "filter-now-all-dirty",
            By::Chance | By::Growing | By::EvenADay | By::Early if by_age() => "filter-now-older",
            By::Chance | By::Growing | By::EvenADay | By::Early => "filter-now-sooner",
        };
        say!(asked.lang, key)
    }

    /// An old filter that was left in and is to be looked at soon for its age: its age in days of use, and the days that a new one
    /// would have from now. Nothing where a new one would have less than twice the days.
    pub(in crate::decide) fn new_instead(
        &self,
        asked: &Asked<'_>,
        next: Next,
    ) -> Option<(u32, u32)> {
        let (state, surface) = (asked.state, self.before.surface);
        if self.action != Action::Left
            || state.profile_of(surface).filter != FilterKind::Replaceable
        {
            return None;
        }
        let new = self.if_new(asked)?;
        let since = (self.before.new_on(state), self.before.renewed_on(state));
        let age = at_age(state, surface, since, day_of(state, self.at)).age;
        (new.days >= 2 * next.days).then_some((age, new.days))
    }
}

/// What is said of such a look: in its answer, on the card until the next look, and behind its "why".
pub(super) fn early_words(lang: Lang, (finding, day): (Finding, u32)) -> String {
    say!(
        lang,
        "filter-early",
        finding = say!(lang, &format!("finding-{}", finding.as_str())),
        day = i64::from(day)
    )
}

/// What a surface's card says of such a look, until its next.
pub(in crate::decide) fn card_early(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
) -> Option<String> {
    let found = early(asked.state, tag, surface, &surface.filter_looks)?;
    Some(early_words(asked.lang, found))
}

/// Its name says of what it is, because a card has others.
fn why_button(lang: Lang, tag: &Tag) -> Button {
    let tap = Work::Cycle { tag: tag.clone() };
    button(lang, "button-filter-why", Look::Plain, &Tap::Work(tap))
}

/// The line of a surface's card: only where the days are not just the profile's.
pub(in crate::decide) fn card_line(asked: &Asked<'_>, surface: &Surface) -> Option<String> {
    let (state, lang) = (asked.state, asked.lang);
    let kind = state.profile_of(surface).filter;
    if kind != FilterKind::None && surface.bed().is_some() {
        let new = surface
            .filter_changed
            .unwrap_or(day_of(state, surface.added));
        if let Some((age, most)) = age_and_limit(state, surface, new, day_of(state, asked.now)) {
            return Some(say!(lang, "surface-filter-over", age = age, most = most));
        }
    }
    let look = surface.filter.as_ref()?;
    // Nothing wears on a shelf, and nothing is due there.
    if surface.bed().is_none() {
        return matches!(surface.life, SurfaceLife::Ready { .. })
            .then(|| say!(asked.lang, "surface-filter-shelf"));
    }
    look.next
        .filter(|_| filter_fit(look.finding, look.action))?;
    let day = next_day(asked.state, surface)?;
    let profile = state.profile_of(surface);
    let new = surface
        .filter_changed
        .unwrap_or(day_of(state, surface.added));
    let limit = new.checked_add_days(Days::new(profile.filter_max_days.into()));
    // Cut short by the maker's limit, it is no cycle that comes again.
    let key = if limit.is_some_and(|limit| day >= limit) {
        "surface-filter-cycle-limit"
    } else {
        "surface-filter-cycle"
    };
    Some(say!(
        asked.lang,
        key,
        days = i64::from(days(asked.state, surface)),
        day = day.to_string()
    ))
}

/// Its button.
pub(in crate::decide) fn card_button(lang: Lang, tag: &Tag, surface: &Surface) -> Option<Button> {
    let look: &FilterFact = surface.filter.as_ref()?;
    look.next.map(|_| why_button(lang, tag))
}

/// What the newest look found, where that was dirty and was left in.
pub(super) fn left_dirty(surface: &Surface) -> Option<Finding> {
    let look = surface.filter.as_ref()?;
    (look.action == Action::Left && filter_cycle::found(look.finding) == Found::Dirty)
        .then_some(look.finding)
}

/// What is said of such a filter: on the card, and in place of a chance.
pub(super) fn left_words(lang: Lang, (finding, day): (Finding, i64), kind: FilterKind) -> String {
    let key = match kind {
        FilterKind::Rinsable => "filter-left-dirty-rinse",
        FilterKind::Replaceable | FilterKind::None => "filter-left-dirty",
    };
    let finding = say!(lang, &format!("finding-{}", finding.as_str()));
    say!(lang, key, finding = finding, day = day)
}

/// The line of a surface's card about a filter that was found dirty and left in.
pub(in crate::decide) fn card_left(asked: &Asked<'_>, surface: &Surface) -> Option<String> {
    let (state, finding) = (asked.state, left_dirty(surface)?);
    let added = || day_of(state, surface.added);
    let since = (
        surface.filter_changed.unwrap_or_else(added),
        surface.filter_renewed.unwrap_or_else(added),
    );
    let on = day_of(state, surface.filter.as_ref()?.at);
    let day = i64::from(at_age(state, surface, since, on).age);
    let kind = state.profile_of(surface).filter;
    Some(left_words(asked.lang, (finding, day), kind))
}
