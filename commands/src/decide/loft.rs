//! Surfaces that lose loft, in words and taps. Decides when one is named, what is said of it and what a tap about it
//! records; leaves the line and the arithmetic to `rules::drift`, and what is drawn of both to [`crate::picture`]. It is
//! routine work: nothing here calls anybody.

mod found;

use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};

use super::check::{air_rows, band_of, escaped, show_air};
use super::draft::{Asked, button, day_time, person, take_back};
use super::{items, out};
use crate::choice::{Cause, LoftAnswer};
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Button, Look, Message};
use crate::past::{self, Wanted};
use crate::picture::readings::{Checked, Readings, Trending};
use crate::picture::usual::Usual;
use crate::picture::{self, Picture, axis};
use crate::record::{Body, Fault};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::rules::air::{INCH_TENTHS, Tenths, Units, show};
use crate::rules::drift::{self, How, Losing};
use crate::rules::hand_check::{Air, Band, Check, Judgement};
use crate::rules::trend::{Chart, Crossing};
use crate::say;
use crate::state::{CHECKS_KEPT, Life, State, Surface};
use crate::tap::{Loft, Tap};
use crate::words::Lang;

/// What is put aside comes back after so many days.
const ASIDE_DAYS: i64 = 3;
/// A date further ahead than this is no forecast.
const AHEAD_DAYS_MOST: f64 = 365.0;
/// So many of the newest readings are looked at for what is usual, and so many must be there.
const USUAL_MOST: usize = 40;
const USUAL_LEAST: usize = 10;
/// So many of those that stand out are named.
const NAMED_MOST: usize = 6;

/// The line of a surface that is to be looked at: it loses loft, and is not put aside at `now`.
pub(crate) fn losing(state: &State, surface: &Surface, now: DateTime<Utc>) -> Option<Losing> {
    aside(surface, now)
        .is_none()
        .then(|| falls(state, surface))?
}

/// The line of a surface that loses loft.
fn falls(state: &State, surface: &Surface) -> Option<Losing> {
    let line = &surface.line;
    let asked = drift::Asked::of(&state.policies);
    if !asked.rare(line.chance()) || !matches!(surface.life, Life::Placed { .. }) {
        return None;
    }
    drift::losing(line.readings(), band_of(state, surface).low, &asked)
}

/// A surface that trends lower, as a report lists it.
pub(super) struct Lower<'a> {
    /// Which.
    pub tag: &'a Tag,
    /// Its line.
    pub found: Losing,
    /// The days from which, on which and until which the line would be low; nothing where it is so already.
    pub days: Option<[Option<DateTime<Utc>>; 3]>,
    /// Until when it is put aside.
    pub aside: Option<DateTime<Utc>>,
}

/// Those that trend lower now, also those that are put aside.
pub(super) fn trending<'a>(asked: &Asked<'a>) -> Vec<Lower<'a>> {
    let state = asked.state;
    let found = state.surfaces.iter().filter_map(|(tag, surface)| {
        let found = falls(state, surface)?;
        let days = match found.crossing {
            Crossing::Past | Crossing::Never => None,
            Crossing::At {
                earliest,
                likely,
                latest,
            } => Some([earliest, Some(likely), latest].map(|days| {
                let ahead = |days: &f64| days - found.days <= AHEAD_DAYS_MOST;
                days.filter(ahead).map(|days| on_line(&found, days))
            })),
        };
        Some(Lower {
            tag,
            found,
            days,
            aside: aside(surface, asked.now),
        })
    });
    found.collect()
}

fn aside(surface: &Surface, now: DateTime<Utc>) -> Option<DateTime<Utc>> {
    surface.line.aside.filter(|until| now < *until)
}

/// Until when a line that begins at a moment names nobody, at least: so many days of readings it takes.
fn quiet_until(state: &State, begun: DateTime<Utc>) -> DateTime<Utc> {
    begun + TimeDelta::days(drift::Asked::of(&state.policies).days)
}

/// That somebody looked and found nothing, while that keeps the surface off the list.
fn nothing_line(asked: &Asked<'_>, surface: &Surface) -> Option<String> {
    let (who, at) = surface.line.nothing?;
    let until = quiet_until(asked.state, at);
    (asked.now < until).then(|| {
        say!(
            asked.lang,
            "surface-loft-nothing",
            who = who.map_or_else(String::new, person),
            at = day_time(at),
            day = day(asked, until)
        )
    })
}

/// What a surface's card says of it.
pub(super) fn card_line(asked: &Asked<'_>, surface: &Surface) -> Option<String> {
    let Some(found) = falls(asked.state, surface) else {
        return nothing_line(asked, surface);
    };
    let lang = asked.lang;
    // The card's other days are written as they are typed, and so is this one.
    let line = say!(
        lang,
        "surface-loft",
        when = when(asked, surface, &found, &|at| day(asked, at)),
        readings = found.readings as i64,
        days = whole(found.days)
    );
    Some(match aside(surface, asked.now) {
        Some(until) => say!(
            lang,
            "surface-loft-aside",
            line = line,
            day = day(asked, until)
        ),
        None => line,
    })
}

/// The buttons of a surface's card.
pub(super) fn card_buttons(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<Button> {
    let lang = asked.lang;
    let mut buttons = Vec::new();
    if falls(asked.state, surface).is_some() {
        buttons.push(why_button(lang, tag));
    }
    // Its line may have begun only now; what is kept of its checks tells that there are many.
    if surface.checks.len() == CHECKS_KEPT {
        let tap = Tap::Loft(Loft::Usual { tag: tag.clone() });
        buttons.push(button(lang, "button-loft-usual", Look::Plain, &tap));
    }
    buttons
}

fn why_button(lang: Lang, tag: &Tag) -> Button {
    let tap = Tap::Loft(Loft::Why { tag: tag.clone() });
    button(lang, "button-loft-why", Look::Plain, &tap)
}

/// The card of one that was chosen from the due list.
pub(super) fn card(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Message {
    let lang = asked.lang;
    let when = falls(asked.state, surface).map_or_else(String::new, |found| {
        when(asked, surface, &found, &|at| said_day(asked, at))
    });
    let message = Message::text(say!(
        lang,
        "work-loft",
        surface = asked.with_bed(tag),
        when = when
    ));
    let mut buttons = Vec::new();
    if let Some(since) = surface
        .line
        .said
        .filter(|_| items::may(asked, Right::Maintain))
    {
        let since = since.timestamp();
        for (key, look, answer) in [
            ("button-loft-mended", Look::Good, LoftAnswer::Mended),
            ("button-loft-nothing", Look::Plain, LoftAnswer::Nothing),
            ("button-loft-later", Look::Plain, LoftAnswer::Later),
        ] {
            let tag = tag.clone();
            let tap = Tap::Loft(Loft::Answer { tag, since, answer });
            buttons.push(button(lang, key, look, &tap));
        }
        let tap = Tap::Loft(Loft::Pull {
            tag: tag.clone(),
            since,
        });
        buttons.push(button(lang, "button-loft-pull", Look::Caution, &tap));
    }
    buttons.push(why_button(lang, tag));
    message.buttons(buttons)
}

/// A tap about it.
pub(super) fn tapped(asked: &Asked<'_>, tap: Loft) -> Result<Decision, Refusal> {
    match tap {
        Loft::Why { tag } => why(asked, &tag),
        Loft::Usual { tag } => usual(asked, &tag),
        Loft::Answer {
            tag,
            since,
            answer: LoftAnswer::Mended,
        } => found::ask(asked, &tag, since),
        Loft::Answer { tag, since, answer } => answered(asked, &tag, since, answer, None),
        Loft::Found { tag, since, cause } => found::found(asked, &tag, since, cause),
        Loft::Pull { tag, since } => {
            still(asked, &tag, since)?;
            out::pull(asked, tag.as_str(), Fault::Leak, None)
        }
    }
}

/// That it is named still, for the same line as the card showed.
fn still(asked: &Asked<'_>, tag: &Tag, since: i64) -> Result<(), Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let same = surface.line.said.is_some_and(|at| at.timestamp() == since);
    if same && losing(asked.state, surface, asked.now).is_some() {
        return Ok(());
    }
    Err(Refusal::new("fault-loft-gone").text("surface", asked.with_bed(tag)))
}

fn answered(
    asked: &Asked<'_>,
    tag: &Tag,
    since: i64,
    answer: LoftAnswer,
    cause: Option<Cause>,
) -> Result<Decision, Refusal> {
    still(asked, tag, since)?;
    let (tag, surface) = asked.surface(tag.as_str())?;
    let until = (answer == LoftAnswer::Later).then(|| asked.now + TimeDelta::days(ASIDE_DAYS));
    let quiet = match answer {
        LoftAnswer::Nothing => Some(quiet_until(asked.state, asked.now)),
        LoftAnswer::Later | LoftAnswer::Mended => until,
    };
    let mut draft = asked.draft();
    draft.fact(Body::LoftAnswered {
        tag: tag.clone(),
        answer,
        until,
        cause,
    });
    let text = say!(
        asked.lang,
        &format!("loft-{}", answer.as_str()),
        surface = asked.with_bed(tag),
        day = quiet.map_or_else(String::new, |quiet| day(asked, quiet))
    );
    let back = take_back(asked.lang, &draft, tag);
    let mut message = Message::text(text).buttons(vec![back]);
    // Off the list by a look alone: a fresh reading is what the next line begins with.
    let hand = asked.state.profile_of(surface).check == Check::Hand;
    if answer != LoftAnswer::Later && hand && items::may(asked, Right::Check) {
        message = air_rows(message, asked.state, asked.lang, tag, asked.now);
    }
    Ok(draft.private(message))
}

/// The figures behind the words.
fn why(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let lang = asked.lang;
    let Some(found) = falls(asked.state, surface) else {
        return Err(Refusal::new("fault-loft-gone").text("surface", asked.with_bed(tag)));
    };
    let read = match asked.past.whole(&Wanted::Surface(tag.clone())) {
        Ok(read) => read,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let low = band_of(asked.state, surface).low;
    let trend = &found.trend;
    let mut lines = vec![
        say!(
            lang,
            "loft-why",
            surface = asked.with_bed(tag),
            when = when(asked, surface, &found, &|at| said_day(asked, at)),
            readings = found.readings as i64,
            days = whole(found.days)
        ),
        say!(
            lang,
            "loft-why-fall",
            from = inches(trend.value_at(0.0)),
            to = inches(trend.value_at(found.days))
        ),
    ];
    let week = inches(-trend.slope * 7.0);
    lines.push(match (trend.high, trend.low) {
        (Some(gentle), Some(steep)) => say!(
            lang,
            "loft-why-week",
            week = week,
            from = inches(-gentle * 7.0),
            to = inches(-steep * 7.0)
        ),
        (Some(_) | None, _) => say!(lang, "loft-why-week-open", week = week),
    });
    lines.push(crossing(asked, &found, low));
    lines.push(say!(
        lang,
        "loft-why-chance",
        odds = say!(lang, seldom_key(surface.line.chance()))
    ));
    lines.push(say!(lang, "loft-why-method"));
    lines.push(say!(lang, "loft-why-assumes"));
    let mut message = Message::text(lines.join("\n"));
    let picture = falling(asked, (tag, surface), &found, &past::entries(&read));
    message.picture = Some(Box::new(picture));
    Ok(Decision::private(message))
}

/// The readings of the line, each as it was found, with the line and where it meets the limit.
fn falling(
    asked: &Asked<'_>,
    (tag, surface): (&Tag, &Surface),
    found: &Losing,
    entries: &[past::Entry<'_>],
) -> Picture {
    let local = |at: DateTime<Utc>| asked.facility.zone.local(at);
    let on_line: Vec<i64> = surface
        .line
        .readings()
        .iter()
        .map(|one| one.seconds())
        .collect();
    let checks = readings(entries, tag)
        .into_iter()
        .filter(|one| on_line.binary_search(&one.at.timestamp()).is_ok())
        .map(|one| Checked {
            at: local(one.at),
            air: one.found,
            judged: one.judged,
            felt: false,
        });
    let checks: Vec<Checked> = checks.collect();
    // What was found at this bed and setting meanwhile and does not count on the line: by a hand at another place, in another
    // posture or mode, through more layers.
    let meanwhile = entries.iter().filter(|entry| {
        let found_here = matches!(
            entry.counts(),
            Some(Body::HandChecked { tag: of, judged, .. }) if of == tag && *judged != Judgement::CouldNot
        );
        found_here && (found.first..=found.newest).contains(&entry.at)
    });
    let left_out = meanwhile.count().saturating_sub(checks.len());
    let since = local(found.first);
    let trend = Trending {
        since,
        oldest_days: 0.0,
        newest_days: found.days,
        trend: found.trend,
        crossing: found.crossing,
        ahead: drift::Asked::of(&asked.state.policies).horizon as f64,
    };
    let of = Readings {
        tag,
        check: asked.state.profile_of(surface).check,
        band: band_of(asked.state, surface),
        from: since,
        to: local(found.newest),
        checks,
        events: Vec::new(),
        trend: Some(trend),
        left_out,
    };
    picture::readings(asked.lang, &of)
}

/// How seldom chance brings it, of a million, in few steps: more digits would say more than anybody knows. A home asks for a
/// hundred at least.
fn seldom_key(chance: u32) -> &'static str {
    match chance {
        0..=100 => "loft-rows-ten-thousand",
        101..=1_000 => "loft-rows-thousand",
        1_001.. => "loft-rows-hundred",
    }
}

/// How near the limit is, in a few words: there already, by a day to come, or by one that is past.
fn when(
    asked: &Asked<'_>,
    surface: &Surface,
    found: &Losing,
    day: &dyn Fn(DateTime<Utc>) -> String,
) -> String {
    let lang = asked.lang;
    let Crossing::At { likely, .. } = found.crossing else {
        let low = show(band_of(asked.state, surface).low, Units::Inches);
        return say!(lang, "loft-by-past", low = low);
    };
    let on = on_line(found, likely);
    if on <= asked.now {
        say!(lang, "loft-by-now")
    } else {
        say!(lang, "loft-by-day", day = day(on))
    }
}

/// The moment that many days after the line begins.
fn on_line(found: &Losing, days: f64) -> DateTime<Utc> {
    // Further ahead than anybody forecasts, so that no sum overflows.
    let days = days.clamp(0.0, found.days + 100.0 * AHEAD_DAYS_MOST);
    found.first + TimeDelta::seconds((days * 86_400.0).round() as i64)
}

/// When the line meets the limit, and between which days.
fn crossing(asked: &Asked<'_>, found: &Losing, low: Tenths) -> String {
    let lang = asked.lang;
    let low = show(low, Units::Inches);
    let on = |days: f64| {
        let ahead = days - found.days;
        (ahead <= AHEAD_DAYS_MOST).then(|| said_day(asked, on_line(found, days)))
    };
    let Crossing::At {
        earliest,
        likely,
        latest,
    } = found.crossing
    else {
        return say!(lang, "loft-why-past", low = low);
    };
    let likely_day = on(likely).unwrap_or_default();
    match (earliest.and_then(on), latest.and_then(on)) {
        (Some(from), Some(to)) => say!(
            lang,
            "loft-why-day",
            low = low,
            day = likely_day,
            from = from,
            to = to
        ),
        (from, _) => say!(
            lang,
            "loft-why-day-open",
            low = low,
            day = likely_day,
            from = from.unwrap_or_else(|| said_day(asked, found.newest))
        ),
    }
}

/// How the readings of a control unit stand against what is usual for it, over all its beds.
fn usual(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let read = match asked.past.whole(&Wanted::Surface(tag.clone())) {
        Ok(read) => read,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let lang = asked.lang;
    let band = band_of(asked.state, surface);
    // "Under 1" is no number: its edge beside numbers would read as one, and as adequate.
    let (mut readings, mut open): (Vec<Compared>, Vec<Compared>) =
        readings(&past::entries(&read), tag)
            .into_iter()
            .partition(|one| matches!(one.found, Air::Measured(_)));
    let older = readings.len().saturating_sub(USUAL_MOST);
    readings.drain(..older);
    open.retain(|one| readings.first().is_none_or(|first| one.at >= first.at));
    let values: Vec<f64> = readings.iter().map(|one| f64::from(one.air.0)).collect();
    let eighth = f64::from(INCH_TENTHS) / 8.0;
    let chart = Chart::of(&values).filter(|_| values.len() >= USUAL_LEAST);
    let chart = chart.map(|chart| chart.in_steps(eighth));
    let Some(chart) = chart else {
        return Err(Refusal::new("fault-loft-few")
            .text("tag", escaped(tag.as_str()))
            .number("count", values.len() as i64)
            .number("least", USUAL_LEAST as i64));
    };
    let out: Vec<String> = readings
        .iter()
        .rev()
        .filter(|one| chart.stands_out(f64::from(one.air.0)))
        .map(|one| {
            say!(
                lang,
                "loft-usual-one",
                air = show(one.air, Units::Inches),
                day = said_day(asked, one.at)
            )
        })
        .collect();
    let mut lines = vec![say!(
        lang,
        "loft-usual",
        tag = tag.as_str(),
        out = out.len() as i64,
        count = values.len() as i64
    )];
    let these = |all: &[String]| {
        let more = all.len().saturating_sub(NAMED_MOST) as i64;
        let mut these: String = all[..all.len().min(NAMED_MOST)].join(", ");
        if more > 0 {
            these.push_str(&say!(lang, "due-more", count = more));
        }
        these
    };
    if !out.is_empty() {
        lines.push(say!(lang, "loft-usual-out", these = these(&out)));
    }
    let open: Vec<String> = open
        .iter()
        .rev()
        .map(|one| {
            let air = show_air(lang, one.found, one.band);
            let day = said_day(asked, one.at);
            say!(lang, "loft-usual-one", air = air, day = day)
        })
        .collect();
    if !open.is_empty() {
        lines.push(say!(lang, "loft-usual-open", these = these(&open)));
    }
    if falls(asked.state, surface).is_some() {
        lines.push(say!(lang, "loft-usual-falls"));
    }
    lines.push(say!(
        lang,
        "loft-usual-range",
        from = inches(chart.low.max(0.0)),
        to = inches(chart.high),
        mean = inches(chart.mean)
    ));
    if chart.low < f64::from(band.low.0) {
        let low = show(band.low, Units::Inches);
        lines.push(say!(lang, "loft-usual-below", low = low));
    }
    lines.push(say!(lang, "loft-usual-method"));
    lines.push(say!(lang, "loft-usual-assumes"));
    let zone = &asked.facility.zone;
    let drawn: Vec<(NaiveDateTime, Tenths)> = readings
        .iter()
        .map(|one| (zone.local(one.at), one.air))
        .collect();
    let of = Usual {
        tag,
        readings: &drawn,
        chart: &chart,
        adequate: band.low,
        inches,
    };
    let mut message = Message::text(lines.join("\n"));
    message.picture = Some(Box::new(picture::usual(lang, &of)));
    Ok(Decision::private(message))
}

/// A reading that can be compared.
struct Compared {
    at: DateTime<Utc>,
    /// As a number: an interval as its bound.
    air: Tenths,
    /// As it was found.
    found: Air,
    judged: Judgement,
    /// What was adequate.
    band: Band,
}

/// The readings of a surface that can be compared, whatever its bed and setting, oldest first.
fn readings(entries: &[past::Entry<'_>], tag: &Tag) -> Vec<Compared> {
    let mut readings: Vec<_> = entries
        .iter()
        .filter_map(|entry| {
            let Body::HandChecked {
                tag: of,
                air: found,
                judged,
                band,
                site,
                position,
                mode,
                layers,
                felt,
                ..
            } = entry.counts()?
            else {
                return None;
            };
            let how = How {
                site: *site,
                position: *position,
                mode: *mode,
                layers: *layers,
                setting: None,
                felt: *felt,
            };
            let air = drift::on_line(*found, *band, &how, None)?;
            let one = Compared {
                at: entry.at,
                air,
                found: *found,
                judged: *judged,
                band: *band,
            };
            (of == tag).then_some((entry.record.no, one))
        })
        .collect();
    readings.sort_by_key(|(no, one)| (one.at, *no));
    readings.into_iter().map(|(_, one)| one).collect()
}

/// A day as the pictures write it, for answers with one.
fn said_day(asked: &Asked<'_>, at: DateTime<Utc>) -> String {
    axis::day(asked.lang, asked.facility.zone.local(at))
}

fn day(asked: &Asked<'_>, at: DateTime<Utc>) -> String {
    asked.facility.zone.local(at).date().to_string()
}

/// Tenths of a millimetre as inches with two digits: an eighth would say more than a mean knows.
fn inches(tenths: f64) -> String {
    format!("{:.2}", tenths / f64::from(INCH_TENTHS))
}

fn whole(days: f64) -> i64 {
    days.round() as i64
}
