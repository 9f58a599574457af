//! How long a filter goes without a look. Decides which looks of the home go together and what its people read of it; leaves the
//! figures to `rules/filter_cycle`, and what is promised to the record of each look: the day it was told for does not move because
//! somebody looked at another filter.
//!
//! Use of filters from the shelf stays a count of what was used (`stock`): that is known, a life is an estimate of it.

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::draft::{Asked, button};
use super::papers::day_of;
use crate::choice::{Action, FilterKind, Finding};
use crate::decision::Decision;
use crate::ids::{RecordNo, Tag, Unit};
use crate::message::{Button, Look, Message};
use crate::picture::{self, Picture, lives::Lives};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::held;
use crate::rules::filter_cycle::{self, At, By, Learned, Looks, Next, STEPS, Terms, Whose, in_use};
use crate::rules::filter_life::{Cycle, Found, Life, MOST_LIVES, Span, dirty_within, turnbull};
use crate::rules::policy::{Name, Policies};
use crate::rules::turnover::filter_fit;
use crate::say;
use crate::state::{FilterFact, FilterLooks, Life as SurfaceLife, Looked, State, Surface};
use crate::tap::{Tap, Work};
use crate::words::Lang;

/// The most care units that one list shows.
const UNITS_SHOWN: usize = 20;

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
    let (new, renewed) = match action {
        Action::Left => (before.new_on(state), before.renewed_on(state)),
        // It is free of dust, and as old as it was.
        Action::Rinsed => (before.new_on(state), today),
        Action::Replaced => (today, today),
    };
    let at = At {
        left_dusty: action == Action::Left && finding != Finding::Clean,
        before: before.said.map(u32::from),
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

/// What is said of such a look: in its answer, on the card until the next look, and behind its "why".
fn early_words(lang: Lang, (finding, day): (Finding, u32)) -> String {
    say!(
        lang,
        "filter-early",
        finding = say!(lang, &format!("finding-{}", finding.as_str())),
        day = i64::from(day)
    )
}

/// What the answer to a look says where it found the filter dirty long before the usual.
pub(super) fn said_early(
    asked: &Asked<'_>,
    tag: &Tag,
    before: &Before<'_>,
    (finding, action): (Finding, Action),
    at: DateTime<Utc>,
) -> Option<String> {
    let looks = before.with(finding, action, day_of(asked.state, at));
    let found = early(asked.state, tag, before.surface, &looks)?;
    Some(early_words(asked.lang, found))
}

/// The same on a surface's card, until its next look.
pub(super) fn card_early(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Option<String> {
    let found = early(asked.state, tag, surface, &surface.filter_looks)?;
    Some(early_words(asked.lang, found))
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

/// A look at a filter that was left in.
#[derive(Clone, Copy)]
pub(super) struct Left<'a> {
    /// The surface's tag.
    pub tag: &'a Tag,
    /// What it was made at.
    pub before: &'a Before<'a>,
    /// What was found.
    pub finding: Finding,
    /// When.
    pub at: DateTime<Utc>,
}

impl Left<'_> {
    /// What is said instead of the next look where the filter is as old as its maker lets one be: from then on a look each day says
    /// nothing that the day before did not. Nothing where it is younger.
    pub(super) fn too_old(&self, asked: &Asked<'_>) -> Option<String> {
        let (state, lang) = (asked.state, asked.lang);
        let (age, most) = age_and_limit(
            state,
            self.before.surface,
            self.before.new_on(state),
            day_of(state, self.at),
        )?;
        let new = after_look(
            state,
            self.tag,
            self.before,
            (self.finding, Action::Replaced),
            self.at,
        )?;
        Some(say!(
            lang,
            "filter-over",
            age = age,
            most = most,
            days = i64::from(new.days)
        ))
    }

    /// Why the next look comes sooner than it did, though it was clean; nothing where it does not, or where the sentence says so.
    pub(super) fn sooner(&self, asked: &Asked<'_>, next: Next) -> Option<String> {
        let (state, surface) = (asked.state, self.before.surface);
        let sooner = surface.filter.is_some() && next.days < u32::from(days(state, surface));
        if self.finding != Finding::Clean || !sooner || next.by == By::Limit {
            return None;
        }
        let looks = self
            .before
            .with(self.finding, Action::Left, day_of(state, self.at));
        let wears = || {
            let learned = learn(state, self.tag, surface, &looks);
            learned.is_some_and(
                |learned| matches!(learned.life, Life::Weibull { shape, .. } if shape > 1.0),
            )
        };
        let key = match next.by {
            By::NoLonger | By::Most | By::Profile => "filter-sooner-policy",
            By::Chance | By::Growing if wears() => "filter-sooner-older",
            By::Chance | By::Growing | By::Dusty | By::AllDirty | By::Limit | By::Early => {
                "filter-sooner-looks"
            }
        };
        Some(say!(asked.lang, key))
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

/// An old filter that was left in and is to be looked at soon for its age: its age in days of use, and the days that a new one
/// would have from now. Nothing where a new one would have less than twice the days.
pub(super) fn new_instead(
    state: &State,
    tag: &Tag,
    before: &Before<'_>,
    finding: Finding,
    at: DateTime<Utc>,
    next: Next,
) -> Option<(u32, u32)> {
    let surface = before.surface;
    if state.profile_of(surface).filter != FilterKind::Replaceable {
        return None;
    }
    let new = after_look(state, tag, before, (finding, Action::Replaced), at)?;
    let since = (before.new_on(state), before.renewed_on(state));
    let age = at_age(state, surface, since, day_of(state, at)).age;
    (new.days >= 2 * next.days).then_some((age, new.days))
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

/// The sentence after a look, and the way to its reason.
pub(super) fn said(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    (next, action): (Next, Action),
) -> (String, Option<Button>) {
    let lang = asked.lang;
    let days_now = i64::from(next.days);
    let before = i64::from(days(asked.state, surface));
    // A new filter at the profile's days begins anew: how little the old one had left is no news of it.
    let anew = action != Action::Left && next.by == By::Profile;
    let known = surface.filter.is_some() && !anew;
    let text = if next.by == By::Limit {
        say!(lang, "filter-limit", days = days_now)
    } else if next.by == By::Early || known_early(asked, tag, surface) {
        // Once, to see whether the cause is there still: no new cycle.
        say!(lang, "filter-next", days = days_now)
    } else if known && before != days_now {
        say!(lang, "filter-every-now", days = days_now, before = before)
    } else if next.by == By::Profile {
        say!(lang, "filter-next", days = days_now)
    } else {
        say!(lang, "filter-every", days = days_now)
    };
    (
        text,
        (next.by != By::Profile).then(|| why_button(lang, tag)),
    )
}

/// Its name says of what it is, because a card has others.
fn why_button(lang: Lang, tag: &Tag) -> Button {
    let tap = Work::Cycle { tag: tag.clone() };
    button(lang, "button-filter-why", Look::Plain, &Tap::Work(tap))
}

/// The line of a surface's card: only where the days are not just the profile's.
pub(super) fn card_line(asked: &Asked<'_>, surface: &Surface) -> Option<String> {
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
pub(super) fn card_button(lang: Lang, tag: &Tag, surface: &Surface) -> Option<Button> {
    let look: &FilterFact = surface.filter.as_ref()?;
    look.next.map(|_| why_button(lang, tag))
}

/// "Why?": the looks, what they say, what the home allows, what is assumed.
pub(super) fn why(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let (tag, surface) = asked.surface(tag.as_str())?;
    let profile = state.profile_of(surface);
    if profile.filter == FilterKind::None {
        return Err(Refusal::new("fault-no-filter").text("tag", tag));
    }
    let held_days = i64::from(days(state, surface));
    let mut lines = vec![say!(
        lang,
        "cycle-head",
        surface = asked.with_bed(tag),
        days = held_days
    )];
    let in_use = &surface.in_use;
    let own = surface.filter_looks.say(in_use, in_use.here_since());
    lines.push(say!(
        lang,
        "cycle-own",
        looks = i64::from(own.looks),
        dirty = i64::from(own.dirty)
    ));
    if in_use.here_since().is_some() {
        lines.push(say!(lang, "cycle-moved"));
    }
    let changed = surface
        .filter_changed
        .unwrap_or(day_of(state, surface.added));
    let looked = surface.filter.as_ref().map_or(asked.now, |look| look.at);
    let renewed = surface
        .filter_renewed
        .unwrap_or(day_of(state, surface.added));
    let at = at_age(state, surface, (changed, renewed), day_of(state, looked));
    let mut drawn = None;
    let early = early(state, tag, surface, &surface.filter_looks);
    let left = left_dirty(surface);
    if let Some(found) = early {
        lines.push(early_words(lang, found));
        lines.extend(left.is_none().then(|| say!(lang, "cycle-early")));
    }
    let left = left.map(|finding| (finding, i64::from(at.age)));
    lines.extend(left.map(|found| left_words(lang, found, profile.filter)));
    if let Some(terms) = terms(&state.policies) {
        let learned = learn(state, tag, surface, &surface.filter_looks);
        lines.extend(reasons(
            lang,
            learned.as_ref(),
            at,
            (held_days, terms),
            (early.is_some(), left.is_some()),
        ));
        let left = left.map(|(finding, _)| finding);
        drawn = learned
            .and_then(|learned| drawing(asked, tag, (&learned, left), at, (held_days, terms)));
    } else {
        lines.push(say!(lang, "cycle-off"));
    }
    let limit = changed.checked_add_days(Days::new(profile.filter_max_days.into()));
    let over = age_and_limit(state, surface, changed, day_of(state, asked.now)).is_some();
    let key = if over {
        "cycle-limit-over"
    } else {
        "cycle-limit"
    };
    lines.push(say!(
        lang,
        key,
        days = i64::from(profile.filter_check_days),
        limit = i64::from(profile.filter_max_days),
        day = limit.map_or_else(String::new, |day| day.to_string())
    ));
    lines.push(say!(lang, "cycle-assumed"));
    let mut message = Message::text(lines.join("\n"));
    if may_list(asked) {
        let tap = Tap::Work(Work::Cycles);
        message = message.buttons(vec![button(lang, "button-cycles", Look::Plain, &tap)]);
    }
    message.picture = drawn.map(Box::new);
    Ok(Decision::private(message))
}

/// What the newest look found, where that was dirty and was left in.
fn left_dirty(surface: &Surface) -> Option<Finding> {
    let look = surface.filter.as_ref()?;
    (look.action == Action::Left && filter_cycle::found(look.finding) == Found::Dirty)
        .then_some(look.finding)
}

/// What is said of such a filter: on the card, and in place of a chance.
fn left_words(lang: Lang, (finding, day): (Finding, i64), kind: FilterKind) -> String {
    let key = match kind {
        FilterKind::Rinsable => "filter-left-dirty-rinse",
        FilterKind::Replaceable | FilterKind::None => "filter-left-dirty",
    };
    let finding = say!(lang, &format!("finding-{}", finding.as_str()));
    say!(lang, key, finding = finding, day = day)
}

/// The line of a surface's card about a filter that was found dirty and left in.
pub(super) fn card_left(asked: &Asked<'_>, surface: &Surface) -> Option<String> {
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

/// How long filters stayed clean, and when this one is looked at; nothing where there is no line to draw.
fn drawing(
    asked: &Asked<'_>,
    tag: &Tag,
    (learned, left): (&Learned, Option<Finding>),
    at: At,
    (held_days, terms): (i64, Terms),
) -> Option<Picture> {
    let (lang, spans) = (asked.lang, &learned.from.spans);
    let masses = turnbull(spans).ok()?;
    learned.half()?;
    let of = match learned.whose {
        Whose::Own => tag.to_string(),
        Whose::Unit => asked.state.unit_of(tag)?.to_string(),
        Whose::Home => say!(lang, "picture-lives-home"),
    };
    let days = u32::try_from(held_days).unwrap_or(1);
    let chance = learned.chance(f64::from(at.age), f64::from(days));
    let lives = Lives {
        tag: tag.as_str(),
        of: &of,
        count: spans.len(),
        masses: &masses,
        life: &learned.life,
        apart: learned.steps.is_some(),
        half: learned.half(),
        allowed: terms.chance,
        age: at.age,
        left,
        cycle: chance.filter(|_| left.is_none()).map(|chance| Cycle {
            days,
            chance,
            at_limit: false,
        }),
    };
    Some(picture::lives(lang, &lives))
}

/// Why the days are what they are, by what is known now.
fn reasons(
    lang: Lang,
    learned: Option<&Learned>,
    at: At,
    (held_days, terms): (i64, Terms),
    (early, left): (bool, bool),
) -> Vec<String> {
    let Some(learned) = learned else {
        return vec![say!(lang, "cycle-few", looks = i64::from(terms.looks))];
    };
    let from = &learned.from;
    let [looks, dirty, units] = [from.looks, from.dirty, from.units].map(i64::from);
    // As many as the picture says.
    let filters = from.spans.len() as i64;
    let by = match learned.whose {
        Whose::Own => say!(lang, "cycle-by-own", filters = filters),
        Whose::Unit => say!(
            lang,
            "cycle-by-unit",
            looks = looks,
            dirty = dirty,
            units = units,
            filters = filters
        ),
        Whose::Home => say!(
            lang,
            "cycle-by-home",
            looks = looks,
            dirty = dirty,
            units = units,
            filters = filters
        ),
    };
    let mut lines = vec![by];
    if let Life::NoFailures { mean_at_least } = learned.life {
        lines.push(say!(lang, "cycle-never", mean = whole(mean_at_least)));
        return lines;
    }
    if let Life::AllDirty { by } = learned.life {
        lines.push(say!(lang, "cycle-all-dirty", by = whole(by)));
        return lines;
    }
    lines.extend(half(lang, learned));
    // What is dirty already has no chance to become so.
    if left {
        return lines;
    }
    let age = f64::from(at.age);
    let longest = STEPS.last().copied().unwrap_or(1);
    if let (Some(as_held), Some(free)) = (
        learned.chance(age, held_days as f64),
        learned.cycle(age, terms.chance, longest),
    ) {
        lines.push(say!(
            lang,
            "cycle-chance",
            days = held_days,
            chance = whole(as_held * 100.0),
            most = whole(terms.chance * 100.0)
        ));
        lines.extend(seen(
            lang,
            learned,
            (age, held_days as f64),
            (as_held, terms.chance),
        ));
        let free = i64::from(free.days);
        if free > held_days && !early {
            lines.push(say!(
                lang,
                "cycle-held",
                free = free,
                most = i64::from(terms.most)
            ));
        } else if free < held_days {
            lines.push(say!(lang, "cycle-sooner", free = free));
        }
    }
    lines
}

/// When half of them are dirty, and whether age matters.
fn half(lang: Lang, learned: &Learned) -> Option<String> {
    let key = match learned.life {
        Life::Weibull { .. } | Life::Exponential { .. } if learned.steps.is_some() => {
            "cycle-half-apart"
        }
        Life::Weibull { .. } => "cycle-half-older",
        Life::Exponential { .. } => "cycle-half-steady",
        Life::NoFailures { .. } | Life::AllDirty { .. } => return None,
    };
    Some(say!(lang, key, half = whole(learned.half()?)))
}

/// What the steps of the picture say beside the curve's chance, where a reader would see another figure in them.
fn seen(
    lang: Lang,
    learned: &Learned,
    (age, days): (f64, f64),
    (said, allowed): (f64, f64),
) -> Option<String> {
    if learned.steps.is_some() {
        return None;
    }
    let [said, most] = [said, allowed].map(|share| whole(share * 100.0));
    let masses = turnbull(&learned.from.spans).ok()?;
    let seen = whole(dirty_within(&masses, age, days)? * 100.0);
    if seen == said {
        return None;
    }
    let later = |span: &&Span| span.by.unwrap_or(span.after) > age;
    let filters = learned.from.spans.iter().filter(later).count() as i64;
    let key = if seen > most {
        "cycle-seen-over"
    } else {
        "cycle-seen"
    };
    Some(say!(lang, key, seen = seen, filters = filters))
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "days up to some thousands, or of a hundred; what is beyond is cut off"
)]
fn whole(value: f64) -> i64 {
    value.round().clamp(0.0, 1e6) as i64
}

fn may_list(asked: &Asked<'_>) -> bool {
    let roles = Right::Maintain.roles();
    held(asked.state, asked.ask)
        .iter()
        .any(|role| roles.contains(role))
}

/// The days between looks as they hold now, by care unit.
pub(super) fn list(asked: &Asked<'_>) -> Decision {
    let (state, lang) = (asked.state, asked.lang);
    let mut lines = vec![say!(lang, "cycles-head")];
    for unit in state.units.keys() {
        for kind in [FilterKind::Replaceable, FilterKind::Rinsable] {
            lines.extend(unit_line(state, lang, unit, kind));
        }
    }
    let more = lines.len().saturating_sub(UNITS_SHOWN + 1);
    lines.truncate(UNITS_SHOWN + 1);
    if more > 0 {
        lines.push(say!(lang, "cycles-more", count = more as i64));
    }
    if lines.len() == 1 {
        lines.push(say!(lang, "cycles-none"));
    }
    lines.push(say!(lang, "cycles-foot"));
    Decision::private(Message::text(lines.join("\n")))
}

fn unit_line(state: &State, lang: Lang, unit: &Unit, kind: FilterKind) -> Option<String> {
    let here = |(tag, surface): &(&Tag, &Surface)| {
        state.unit_of(tag) == Some(unit) && state.profile_of(surface).filter == kind
    };
    let held = state.surfaces.iter().filter(here);
    let held: Vec<i64> = held
        .map(|(_, surface)| i64::from(days(state, surface)))
        .collect();
    let (least, most) = (held.iter().min()?, held.iter().max()?);
    let (looks, _) = others(state, kind, Some(unit), None);
    let name = match kind {
        FilterKind::Rinsable => say!(lang, "cycles-rinsable", unit = unit.as_str()),
        FilterKind::Replaceable | FilterKind::None => unit.to_string(),
    };
    let days = if least == most {
        say!(lang, "cycles-days", days = *least)
    } else {
        say!(lang, "cycles-days-from", least = *least, most = *most)
    };
    let line = say!(
        lang,
        "cycles-line",
        unit = name,
        days = days,
        looks = i64::from(looks.looks),
        dirty = i64::from(looks.dirty)
    );
    let learned = terms(&state.policies).and_then(|terms| {
        filter_cycle::learn(&looks, &Looks::default(), &Looks::default(), terms.looks)
    });
    let half = learned.and_then(|learned| learned.half());
    Some(match half {
        Some(half) => format!("{line}{}", say!(lang, "cycles-half", half = whole(half))),
        None => line,
    })
}
