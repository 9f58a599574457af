//! Why a filter is looked at so often: the looks, what they say, what the home allows, and a picture of it; and the days of every care
//! unit. Decides what is said by what is known now; leaves the figures to the rule.

use chrono::Days;

use super::said::{early_words, left_dirty, left_words};
use super::{age_and_limit, at_age, days, early, learn, others, terms};
use crate::choice::{FilterKind, Finding};
use crate::decide::draft::{Asked, button};
use crate::decide::papers::day_of;
use crate::decision::Decision;
use crate::ids::{Tag, Unit};
use crate::message::{Look, Message};
use crate::picture::{self, Picture, lives::Lives};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::held;
use crate::rules::filter_cycle::{self, At, Learned, Looks, STEPS, Terms, Whose};
use crate::rules::filter_life::{Cycle, Life, Span, turnbull};
use crate::say;
use crate::state::{State, Surface};
use crate::tap::{Tap, Work};
use crate::words::Lang;

/// The most care units that one list shows.
const UNITS_SHOWN: usize = 20;

/// "Why?": the looks, what they say, what the home allows, what is assumed.
pub(in crate::decide) fn why(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
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
        apart: learned.apart,
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
        lines.extend(seen(lang, learned, age, held_days as f64));
        // The rule's own days before a whole step is taken of them.
        let shortest = free.days == 1 && free.chance > terms.chance + 1e-9;
        let days = i64::from(free.days);
        if shortest {
            lines.push(say!(
                lang,
                "cycle-even-a-day",
                chance = whole(free.chance * 100.0)
            ));
        }
        if days > held_days && !early {
            lines.push(say!(
                lang,
                "cycle-held",
                free = days,
                most = i64::from(terms.most)
            ));
        } else if days < held_days {
            lines.push(say!(lang, "cycle-sooner", free = days));
        }
    }
    lines
}

/// When half of them are dirty, and whether age matters.
fn half(lang: Lang, learned: &Learned) -> Option<String> {
    let key = match learned.life {
        Life::Weibull { .. } | Life::Exponential { .. } if learned.apart => "cycle-half-apart",
        Life::Weibull { .. } => "cycle-half-older",
        Life::Exponential { .. } => "cycle-half-steady",
        Life::NoFailures { .. } | Life::AllDirty { .. } => return None,
    };
    Some(say!(lang, key, half = whole(learned.half()?)))
}

/// What the curve and what was seen say apart, where a reader of the picture would see another figure than is said.
fn seen(lang: Lang, learned: &Learned, age: f64, days: f64) -> Option<String> {
    let percent = |share: f64| whole(share * 100.0);
    let seen = percent(learned.by_steps(age, days)?);
    let curve = percent(learned.by_curve(age, days)?);
    if seen == curve {
        return None;
    }
    let later = |span: &&Span| span.by.unwrap_or(span.after) > age;
    let filters = learned.from.spans.iter().filter(later).count() as i64;
    Some(if seen > curve {
        say!(lang, "cycle-seen-worse", curve = curve, filters = filters)
    } else {
        say!(lang, "cycle-seen", seen = seen, filters = filters)
    })
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
pub(in crate::decide) fn list(asked: &Asked<'_>) -> Decision {
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
