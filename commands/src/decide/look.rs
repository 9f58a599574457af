//! What people read: the due list, a surface's card. Decides what is shown to whom; nothing here
//! records anything.

use chrono::{DateTime, Utc};

use super::alarm;
use super::check::{band_of, show_air};
use super::cycle;
use super::draft::{Asked, ago, button, clock_time, day_time, person, span, unit_of_channel};
use super::turnover::{self, missing};
use super::{
    leave, loft, pictures, second_check, set_up, set_up_calls, set_up_card, setting, static_mode,
    work,
};
use crate::choice::{Action, FilterKind, Opening, TurnStep};
use crate::decision::Decision;
use crate::due::{self, DueKind};
use crate::ids::{Tag, Unit};
use crate::message::{BUTTONS_MAX, Look, Message, ROWS_MAX};
use crate::record::{Fault, Profile};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::Role;
use crate::rules::hand_check::{Band, Check};
use crate::say;
use crate::state::{Life, State, Surface};
use crate::tap::{List, Tap};
use crate::words::Lang;

/// How many of the newest readings a card shows.
const READINGS_SHOWN: usize = 4;

/// `/due`.
pub(super) fn due(asked: &Asked<'_>, unit: Option<&str>) -> Result<Decision, Refusal> {
    let unit = scope(asked, unit)?;
    let all = work::of_scope(asked.state, asked, unit).len();
    let list = List {
        unit: unit.cloned(),
        all: u16::try_from(all).unwrap_or(u16::MAX),
        card: false,
    };
    Ok(Decision::private(work::message(asked, &list, None)))
}

/// The unit whose list somebody is shown; all of them if none.
pub(super) fn scope<'a>(
    asked: &Asked<'a>,
    unit: Option<&str>,
) -> Result<Option<&'a Unit>, Refusal> {
    let checks_too = Right::Check.roles().contains(&asked.role);
    // Upkeep's work is all over the house, and mostly under no bed.
    // A supervisor's too, but in a unit's own channel: where they last did something says nothing of what they look after.
    if unit.is_none() && asked.role == Role::Supervisor {
        Ok(unit_of_channel(asked.state, asked.ask))
    } else if unit.is_some() || checks_too {
        asked.unit(unit)
    } else {
        Ok(None)
    }
}

pub(crate) fn start_round(lang: Lang, unit: &Unit) -> crate::message::Button {
    crate::message::Button {
        id: Tap::StartRound { unit: unit.clone() }.id(),
        label: say!(lang, "button-start-round", unit = unit.as_str()),
        look: Look::Main,
    }
}

/// `/surface`.
pub(super) fn surface(asked: &Asked<'_>, typed: &str) -> Result<Decision, Refusal> {
    card(asked, typed, None)
}

/// A surface's card, with what is done next where somebody came to it for that.
pub(super) fn card(
    asked: &Asked<'_>,
    typed: &str,
    next: Option<String>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    let (state, lang) = (asked.state, asked.lang);
    let profile = state.profile_of(surface);
    let band = band_of(state, surface);
    let mut lines = vec![say!(
        lang,
        "surface-head",
        surface = asked.with_bed(tag),
        profile = profile.name.as_str()
    )];
    lines.push(life(asked, surface));
    lines.extend(place_line(asked, surface));
    if surface.clean_last {
        lines.push(say!(lang, "turn-marked"));
    }
    if let Some(hold) = &surface.hold {
        lines.push(say!(
            lang,
            "surface-held",
            who = hold.mark.who.map_or_else(String::new, person),
            since = day_time(hold.mark.at)
        ));
    }
    lines.extend(next.or_else(|| next_step(lang, tag, surface)));
    lines.extend(second_check::card_lines(asked, surface));
    lines.extend(at_the_bed(asked, tag, surface));
    lines.extend(profile_line(lang, profile));
    if let Some(no) = surface.alarm
        && let Some(open) = state.alarms.get(&no)
    {
        lines.push(say!(
            lang,
            "surface-alarm",
            kind = alarm::kind_words_where(lang, open.kind, alarm::pulled_for(surface)),
            ago = ago(open.opened)
        ));
        if let Some((who, at)) = open.taken {
            lines.push(say!(
                lang,
                "card-taken",
                who = person(who),
                at = clock_time(at)
            ));
        }
    }
    let readings: Vec<String> = surface
        .checks
        .iter()
        .rev()
        .take(READINGS_SHOWN)
        .map(|check| {
            say!(
                lang,
                "surface-reading",
                air = show_air(lang, check.air, band),
                judged = say!(lang, &format!("judged-{}", check.judged.as_str())),
                ago = ago(check.at)
            )
        })
        .collect();
    if readings.is_empty() {
        lines.push(say!(lang, "surface-no-readings"));
    } else {
        lines.push(say!(
            lang,
            "surface-readings",
            readings = readings.join("\n"),
            band = band_words(lang, band)
        ));
    }
    lines.extend(loft::card_line(asked, surface));
    if let Some(recheck) = state.rechecks.get(tag) {
        lines.push(say!(
            lang,
            "surface-recheck",
            at = clock_time(recheck.due),
            ago = ago(recheck.due)
        ));
    }
    // Of what has none nothing is said, nor of looks from before its profile said so.
    let has_filter = profile.filter != FilterKind::None;
    lines.extend(has_filter.then(|| match &surface.filter {
        Some(look) => {
            let key = match look.action {
                Action::Left => "surface-filter",
                Action::Replaced => "surface-filter-replaced",
                Action::Rinsed => "surface-filter-rinsed",
            };
            let finding = say!(lang, &format!("finding-{}", look.finding.as_str()));
            say!(lang, key, finding = finding, ago = ago(look.at))
        }
        None => match surface.filter_changed {
            Some(day) => say!(lang, "surface-filter-new", day = day.to_string()),
            None => say!(lang, "surface-no-filter"),
        },
    }));
    if has_filter {
        lines.extend(cycle::card_early(asked, tag, surface));
        lines.extend(cycle::card_left(asked, surface));
        lines.extend(cycle::card_line(asked, surface));
    }
    lines.push(match &surface.cleaned {
        Some(clean) => say!(
            lang,
            "surface-cleaned",
            reason = say!(lang, &format!("reason-{}", clean.reason.as_str())),
            ago = ago(clean.at)
        ),
        None => say!(lang, "surface-not-cleaned"),
    });
    if let Some(ended) = &surface.last_alarm {
        lines.push(say!(lang, "surface-last-alarm", ago = ago(ended.at)));
    }
    lines.extend(super::beds::card_lines(asked, surface));
    if profile.check != Check::None {
        lines.push(say!(lang, "surface-caution"));
    }
    let mut buttons = Vec::new();
    if set_up::placed_list(surface).is_some() && surface.cpr.is_none() {
        buttons.push(set_up_calls::card_button(lang, tag));
    }
    buttons.extend(static_mode::end_button(lang, tag, surface));
    buttons.extend(super::beds::card_buttons(asked, tag, surface));
    if let Some(no) = surface.alarm
        && let Some(open) = state.alarms.get(&no)
    {
        if open.taken.is_none() {
            buttons.push(button(
                lang,
                "button-take",
                Look::Main,
                &Tap::Take { alarm: no },
            ));
        }
        if open.safe.is_none() {
            buttons.push(button(
                lang,
                "button-safe",
                Look::Good,
                &Tap::Safe { alarm: no },
            ));
        }
    }
    buttons.extend(super::items::return_button(asked, tag, surface));
    if buttons.len() < BUTTONS_MAX && has_filter {
        buttons.extend(cycle::card_button(lang, tag, surface));
    }
    let mut message = Message::text(lines.join("\n"));
    for row in buttons.chunks(BUTTONS_MAX) {
        message = message.buttons(row.to_vec());
    }
    if let Some(leave) = &surface.leave {
        message = leave::rows(message, lang, tag, leave);
    }
    message.rows.extend(turnover::rows(asked, tag, surface));
    if message.rows.len() < ROWS_MAX {
        message = message.buttons(second_check::card_buttons(asked, tag, surface));
    }
    if message.rows.len() < ROWS_MAX {
        message = message.buttons(loft::card_buttons(asked, tag, surface));
    }
    if let Some(picture) = pictures::card_button(asked, tag, surface) {
        message = message.and_button(picture);
    }
    Ok(Decision::private(message))
}

/// What is typed next, where no button does it.
fn next_step(lang: Lang, tag: &Tag, surface: &Surface) -> Option<String> {
    let key = match &surface.life {
        Life::Soiled(turnover) if turnover.left().next() == Some(TurnStep::Cleaned) => {
            "turn-now-cleaned"
        }
        Life::OutOfService { under: None, .. } if surface.hold.is_none() => "surface-out-next",
        Life::Soiled(_)
        | Life::OutOfService { .. }
        | Life::Placed { .. }
        | Life::Ready { .. }
        | Life::Retired { .. } => return None,
    };
    Some(say!(lang, key, tag = tag.as_str()))
}

/// What belongs to the bed it is under: setting, set-up, leave, static mode, the CPR valve; the surface that took its
/// place, or whose place it took.
fn at_the_bed(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<String> {
    let lang = asked.lang;
    let mut lines = Vec::new();
    if surface.bed().is_some() {
        lines.extend(
            surface
                .setting
                .as_ref()
                .map(|_| setting::in_use_line(lang, surface)),
        );
    } else if let Some((new, _)) = asked
        .state
        .surfaces
        .iter()
        .find(|(_, other)| other.instead_of.as_ref() == Some(tag))
    {
        let name = asked.with_bed(new);
        lines.push(say!(lang, "surface-replaced", surface = name));
    }
    if let Some(old) = &surface.instead_of {
        lines.push(say!(lang, "surface-instead", tag = old.as_str()));
    }
    if let Some(mark) = &surface.cpr {
        lines.push(say!(lang, "surface-cpr", at = clock_time(mark.at)));
    } else if let Some(list) = set_up::placed_list(surface) {
        let left = set_up_card::left_words(lang, list);
        // A set-up that was begun before the power failed is one still.
        let key = match (list.opening, list.goes_on) {
            (Opening::Power, None | Some((Opening::Power, ..))) => "surface-steps-power",
            (Opening::Power, Some(_)) | (Opening::Placed | Opening::Moved | Opening::Cpr, _) => {
                "surface-steps"
            }
        };
        lines.push(say!(lang, key, left = left));
    }
    if let Some(leave) = &surface.leave {
        lines.push(leave::line(lang, leave, asked.now));
    }
    lines.extend(static_mode::line(lang, surface));
    lines
}

pub(super) fn life(asked: &Asked<'_>, surface: &Surface) -> String {
    let lang = asked.lang;
    match &surface.life {
        Life::Placed { bed, since, .. } => {
            let unit = asked
                .state
                .bed_units
                .get(bed)
                .map_or_else(String::new, Unit::to_string);
            say!(
                lang,
                "life-placed",
                bed = bed.as_str(),
                unit = unit,
                since = day_time(*since)
            )
        }
        Life::Soiled(turnover) => {
            let left: Vec<String> = missing(turnover)
                .into_iter()
                .map(|key| say!(lang, key))
                .collect();
            say!(
                lang,
                "life-soiled",
                since = day_time(turnover.since),
                left = left.join(", ")
            )
        }
        Life::Ready { since } => say!(lang, "life-ready", since = day_time(*since)),
        Life::OutOfService {
            since,
            fault,
            under,
        } => {
            let fault = say!(lang, fault_key(*fault));
            match under {
                Some(bed) => say!(
                    lang,
                    "life-out-under",
                    since = day_time(*since),
                    fault = fault,
                    bed = bed.as_str()
                ),
                None => say!(lang, "life-out", since = day_time(*since), fault = fault),
            }
        }
        Life::Retired { since } => say!(lang, "life-retired", since = day_time(*since)),
    }
}

/// Where it stands by the home's own rule, while it is under nobody.
pub(super) fn place_line(asked: &Asked<'_>, surface: &Surface) -> Option<String> {
    let storage = asked.state.storage.as_ref()?;
    let place = match &surface.life {
        Life::Ready { .. } => &storage.clean,
        Life::Soiled(_) => &storage.dirty,
        Life::Placed { .. } | Life::OutOfService { .. } | Life::Retired { .. } => return None,
    };
    let place = super::check::escaped(place);
    Some(say!(asked.lang, "surface-place", place = place))
}

fn profile_line(lang: Lang, profile: &Profile) -> Option<String> {
    let key = match profile.check {
        Check::Hand => return None,
        Check::LookAndFeel => "check-maker-look",
        Check::None => "check-maker-none",
    };
    Some(say!(lang, key))
}

fn band_words(lang: Lang, band: Band) -> String {
    use crate::rules::air::{Units, show};
    say!(
        lang,
        "band",
        low = show(band.low, Units::Inches),
        high = show(band.high, Units::Inches)
    )
}

/// The key of why something is out of service.
pub(super) fn fault_key(fault: Fault) -> &'static str {
    match fault {
        Fault::Alarm => "fault-is-alarm",
        Fault::Cover => "fault-is-cover",
        Fault::WetInside => "fault-is-wet",
        Fault::Filter => "fault-is-filter",
        Fault::ControlUnit => "fault-is-control-unit",
        Fault::Cord => "fault-is-cord",
        Fault::Hose => "fault-is-hose",
        Fault::Leak => "fault-is-leak",
        Fault::CprValve => "fault-is-cpr-valve",
        Fault::Test => "fault-is-test",
        Fault::Recall => "fault-is-recall",
        Fault::Inquiry => "fault-is-inquiry",
        Fault::Arrival => "fault-is-arrival",
        Fault::Other => "fault-is-other",
    }
}

/// An item's own words in suggestions: why it comes first.
pub(super) fn why_due(state: &State, lang: Lang, kind: &DueKind, now: DateTime<Utc>) -> String {
    match kind {
        DueKind::Alarm(no) => state.alarms.get(no).map_or_else(String::new, |open| {
            say!(
                lang,
                "suggest-alarm",
                span = span(lang, alarm::minutes_open(open, now))
            )
        }),
        DueKind::StillUnder
        | DueKind::GapOver
        | DueKind::AfterPower
        | DueKind::Steps
        | DueKind::StaticOver
        | DueKind::LeaveOver
        | DueKind::SafetyTest
        | DueKind::Maintenance
        | DueKind::OutletTest
        | DueKind::PaperMissing
        | DueKind::Held
        | DueKind::Idle
        | DueKind::Pickup
        | DueKind::Recheck
        | DueKind::TryAgain
        | DueKind::Check
        | DueKind::SecondCheck(_)
        | DueKind::LosingLoft
        | DueKind::FilterOld
        | DueKind::FilterLook
        | DueKind::Turnover
        | DueKind::Repair => say!(lang, &format!("{}-short", due::words_key(kind))),
    }
}
