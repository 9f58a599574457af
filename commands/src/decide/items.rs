//! What each kind of work on a due list leads to: its buttons, its menu, its form. Decides what is asked, and that a card
//! which is older than what it is about records nothing; leaves what is recorded to the command that does the same.

use super::check;
use super::cycle;
use super::draft::{Asked, ago, button, day_time, person};
use super::{
    alarm, clean, filter, frame, loft, look, moves, out, rental, second_check, set_up, upkeep,
    zones,
};
use crate::choice::{
    Action, Cleaning, Cover, FilterKind, Finding, Method, Outcome, Paper, Work as Kind,
};
use crate::decision::Decision;
use crate::due::{DueItem, DueKind};
use crate::ids::{Bed, RecordNo, Tag};
use crate::message::{
    Answer, Button, ENTRIES_MAX, Field, Form, Look, Menu, MenuEntry, Message, ROWS_MAX, Row,
};
use crate::refusal::Refusal;
use crate::request::{Clean, FacilityFrame, Right};
use crate::role::held;
use crate::rules::spanish::without_accents;
use crate::say;
use crate::state::{Life, Surface};
use crate::tap::{Began, Tap, Work};

/// A line of a post about work was picked, outside of any list.
pub(super) fn pick(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, _) = asked.surface(tag.as_str())?;
    let items = super::work::of_scope(asked.state, asked, None);
    match items.iter().find(|item| item.tag == *tag) {
        Some(item) => Ok(Decision::private(card(asked, item)?)),
        None => picked_and_not_due(asked, tag),
    }
}

/// Picked from a post: a reading where it is under a bed and the asker may take one, else its card.
fn picked_and_not_due(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let placed = matches!(surface.life, Life::Placed { .. }) && surface.cpr.is_none();
    if placed && Right::Check.roles().contains(&asked.role) {
        return Ok(Decision::private(check::air_for(asked, tag, surface)));
    }
    look::surface(asked, tag.as_str())
}

/// The card of an item: what is to be done, and its taps.
pub(super) fn card(asked: &Asked<'_>, item: &DueItem) -> Result<Message, Refusal> {
    let (tag, surface) = asked.surface(item.tag.as_str())?;
    let decision = match &item.kind {
        DueKind::Alarm(no) => match asked.state.alarms.get(no) {
            Some(open) => return Ok(alarm::own_card(asked, *no, open)),
            None => look::surface(asked, tag.as_str())?,
        },
        DueKind::Steps if surface.cpr.is_some() => super::cpr::card(asked, tag, surface)?,
        DueKind::AfterPower | DueKind::Steps => set_up::show(asked, tag)?,
        DueKind::StaticOver => super::static_mode::card(asked, tag, surface),
        DueKind::LeaveOver => match &surface.leave {
            Some(leave) => super::leave::card(asked, tag, leave),
            None => look::surface(asked, tag.as_str())?,
        },
        DueKind::Recheck | DueKind::TryAgain | DueKind::Check => {
            return Ok(check::air_for(asked, tag, surface));
        }
        DueKind::SecondCheck(task) => second_check::card(asked, tag, *task)?,
        DueKind::FilterOld | DueKind::FilterLook => return Ok(filter_card(asked, tag, surface)),
        DueKind::LosingLoft => return Ok(loft::card(asked, tag, surface)),
        DueKind::SafetyTest => return Ok(service_card(asked, tag, surface, Kind::SafetyTest)),
        DueKind::Maintenance => return Ok(service_card(asked, tag, surface, Kind::Maintenance)),
        DueKind::PaperMissing => return Ok(papers_card(asked, tag, surface)),
        DueKind::OutletTest => return Ok(outlet_card(asked, tag, item.bed.as_ref())),
        DueKind::GapOver => return Ok(gap_card(asked, tag, item.bed.as_ref())),
        DueKind::StillUnder => swap_card(asked, tag, surface)?,
        DueKind::Turnover | DueKind::Repair => look::surface(asked, tag.as_str())?,
        DueKind::Idle => with_tap(
            asked,
            tag,
            Right::Supervise,
            "button-stop",
            Work::Stop { tag: tag.clone() },
        )?,
        DueKind::Held | DueKind::Pickup => look::surface(asked, tag.as_str())?,
    };
    Ok(match decision.answer {
        Some(Answer::Private(message) | Answer::Replace(message) | Answer::Shared(message)) => {
            message
        }
        Some(Answer::Form(_) | Answer::Choices(_) | Answer::Fetch(_)) | None => Message::default(),
    })
}

/// A tap of such a card.
pub(super) fn tapped(asked: &Asked<'_>, tap: Work) -> Result<Decision, Refusal> {
    match tap {
        Work::Filter {
            tag,
            seen,
            finding,
            action,
        } => {
            let (_, surface) = asked.surface(tag.as_str())?;
            if let Some(look) = surface.filter.as_ref().filter(|look| look.no > seen) {
                return Err(already(asked, &tag, surface, look.at));
            }
            filter::filter(asked, tag.as_str(), finding, action)
        }
        Work::Cycle { tag } => cycle::why(asked, &tag),
        Work::Cycles => Ok(cycle::list(asked)),
        Work::Served {
            tag,
            seen,
            work,
            outcome,
        } => {
            not_served_since(asked, &tag, seen, work)?;
            upkeep::service(asked, tag.as_str(), work, outcome, None, None, None)
        }
        Work::Serve { tag, seen, work } => {
            not_served_since(asked, &tag, seen, work)?;
            Ok(form(service_form(asked, &tag, seen, work)))
        }
        Work::ServeTyped {
            tag,
            seen,
            work,
            outcome,
            on,
            next,
            note,
        } => {
            not_served_since(asked, &tag, seen, work)?;
            let outcome = outcome_of(asked, &outcome)?;
            let (on, next) = (on.as_deref(), next.as_deref());
            upkeep::service(asked, tag.as_str(), work, outcome, on, next, note)
        }
        Work::Outlet { bed } => {
            let today = asked.facility.zone.local(asked.now).date();
            let tested = asked
                .state
                .frame(&bed)
                .and_then(|frame| frame.outlet_tested);
            if tested == Some(today) {
                return Err(Refusal::new("fault-outlet-already").text("bed", bed));
            }
            let typed = FacilityFrame {
                beds: bed.to_string(),
                width: None,
                length: None,
                rails: None,
                outlet: None,
                outlet_tested: Some(today.to_string()),
                approved: None,
            };
            frame::frame(asked, &typed)
        }
        Work::OutletBad { bed } => frame::outlet_failed(asked, &bed),
        Work::Zones { bed } => Ok(form(zones_form(asked, &bed))),
        Work::ZonesTyped { bed, zones, angle4 } => {
            let [one, two, three, four] = zones;
            let typed = [one, two, three, four, None, None, None];
            zones::zones(asked, bed.as_str(), &typed, angle4.as_deref())
        }
        Work::Cleaned {
            tag,
            of,
            method,
            cover,
            product,
        } => {
            super::turnover::same(asked, &tag, of)?;
            let typed = Clean {
                surface: tag.to_string(),
                reason: Cleaning::BetweenResidents,
                method,
                product,
                cover,
                note: None,
            };
            clean::clean(asked, typed)
        }
        Work::Rinsed {
            tag,
            of,
            reason,
            method,
            cover,
            product,
        } => {
            if of.0 != 0 {
                super::turnover::same(asked, &tag, of)?;
            }
            let typed = Clean {
                surface: tag.to_string(),
                reason,
                method,
                product,
                cover,
                note: None,
            };
            clean::rinsed(asked, typed)
        }
        Work::Return { tag } => out::return_it(asked, tag.as_str()),
        Work::Stop { tag } => rental::stop(asked, tag.as_str()),
        Work::Swap { bed, old, new } => {
            if asked.state.under.get(&bed) != Some(&old) {
                return Err(Refusal::new("fault-swap-gone")
                    .text("bed", bed)
                    .text("tag", old));
            }
            moves::swap(asked, bed.as_str(), new.as_str())
        }
        Work::SwapSure { bed, old, new } => {
            if asked.state.under.get(&bed) != Some(&old) {
                return Err(Refusal::new("fault-swap-gone")
                    .text("bed", bed)
                    .text("tag", old));
            }
            moves::swap_sure(asked, &bed, &new)
        }
        Work::Open { .. }
        | Work::Pick { .. }
        | Work::Next { .. }
        | Work::All { .. }
        | Work::In { .. } => Err(Refusal::new("fault-stale-tap")),
    }
}

fn form(form: Form) -> Decision {
    Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    }
}

/// Whether the asker may, in whichever of their roles: what they may not is not offered.
pub(super) fn may(asked: &Asked<'_>, right: Right) -> bool {
    held(asked.state, asked.ask)
        .iter()
        .any(|role| right.roles().contains(role))
}

fn work_button(asked: &Asked<'_>, key: &str, look: Look, tap: Work) -> Button {
    button(asked.lang, key, look, &Tap::Work(tap))
}

/// Somebody did it since the card was shown.
fn already(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    at: chrono::DateTime<chrono::Utc>,
) -> Refusal {
    let who = surface.touched.and_then(|mark| mark.who);
    Refusal::new("fault-work-already")
        .text("surface", asked.with_bed(tag))
        .text("who", who.map_or_else(String::new, person))
        .text("at", day_time(at))
}

fn filter_card(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Message {
    let lang = asked.lang;
    let mut text = say!(lang, "work-filter", surface = asked.with_bed(tag));
    if let Some(look) = &surface.filter {
        let finding = say!(lang, &format!("finding-{}", look.finding.as_str()));
        let line = say!(
            lang,
            "work-filter-last",
            finding = finding,
            ago = ago(look.at)
        );
        text = format!("{text}\n{line}");
    }
    let lines = [
        cycle::card_early(asked, tag, surface),
        cycle::card_line(asked, surface),
    ];
    for line in lines.into_iter().flatten() {
        text = format!("{text}\n{line}");
    }
    if !may(asked, Right::Upkeep) {
        return Message::text(text);
    }
    let seen = surface.filter.as_ref().map_or(RecordNo(0), |look| look.no);
    let tap = |key, look, finding, action| {
        let tap = Work::Filter {
            tag: tag.clone(),
            seen,
            finding,
            action,
        };
        work_button(asked, key, look, tap)
    };
    let rinsable = asked.state.profile_of(surface).filter == FilterKind::Rinsable;
    let mut buttons = vec![tap(
        "button-filter-clean",
        Look::Good,
        Finding::Clean,
        Action::Left,
    )];
    if rinsable {
        buttons.push(tap(
            "button-filter-rinsed",
            Look::Good,
            Finding::Dusty,
            Action::Rinsed,
        ));
    }
    let more = vec![
        tap(
            "button-filter-replaced",
            Look::Good,
            Finding::Dusty,
            Action::Replaced,
        ),
        tap(
            "button-filter-clogged",
            Look::Plain,
            Finding::Clogged,
            Action::Replaced,
        ),
        tap(
            "button-filter-damaged",
            Look::Caution,
            Finding::Damaged,
            Action::Replaced,
        ),
    ];
    Message::text(text)
        .buttons(buttons)
        .buttons(more)
        .buttons(vec![tap(
            "button-filter-left",
            Look::Caution,
            Finding::Dusty,
            Action::Left,
        )])
}

fn service_buttons(asked: &Asked<'_>, tag: &Tag, surface: &Surface, work: Kind) -> Vec<Button> {
    if !may(asked, Right::Maintain) {
        return Vec::new();
    }
    let seen = served(surface, work);
    let done = |key, look, outcome| {
        let tap = Work::Served {
            tag: tag.clone(),
            seen,
            work,
            outcome,
        };
        work_button(asked, key, look, tap)
    };
    let other = Work::Serve {
        tag: tag.clone(),
        seen,
        work,
    };
    vec![
        done("button-served-passed", Look::Good, Outcome::Passed),
        done("button-served-failed", Look::Caution, Outcome::Failed),
        work_button(asked, "button-serve", Look::Plain, other),
    ]
}

/// The newest of this work on record.
fn served(surface: &Surface, work: Kind) -> RecordNo {
    surface
        .served
        .get(&work)
        .map_or(RecordNo(0), |done| done.no)
}

fn service_card(asked: &Asked<'_>, tag: &Tag, surface: &Surface, work: Kind) -> Message {
    let lang = asked.lang;
    let words = say!(lang, &format!("work-{}", work.as_str()));
    let mut text = say!(
        lang,
        "work-service",
        surface = asked.with_bed(tag),
        work = words
    );
    if let Some(done) = surface.served.get(&work) {
        let line = say!(lang, "work-service-last", day = done.on.to_string());
        text = format!("{text}\n{line}");
    }
    Message::text(text).buttons(service_buttons(asked, tag, surface, work))
}

fn papers_card(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Message {
    let lang = asked.lang;
    let missing = super::papers::still_missing(asked.state, surface, asked.now);
    let text = say!(
        lang,
        "work-papers",
        surface = asked.with_bed(tag),
        missing = super::papers::names(lang, &missing)
    );
    let mut message = Message::text(text);
    for paper in missing {
        message = match paper {
            Paper::SafetyTest => {
                message.buttons(service_buttons(asked, tag, surface, Kind::SafetyTest))
            }
            Paper::Maintenance => {
                message.buttons(service_buttons(asked, tag, surface, Kind::Maintenance))
            }
            Paper::Arrival => message.buttons(rental::card_buttons(asked, tag, surface)),
        };
    }
    message
}

fn not_served_since(
    asked: &Asked<'_>,
    tag: &Tag,
    seen: RecordNo,
    work: Kind,
) -> Result<(), Refusal> {
    let (_, surface) = asked.surface(tag.as_str())?;
    match surface.served.get(&work) {
        Some(done) if done.no > seen => Err(already(asked, tag, surface, done.at)),
        Some(_) | None => Ok(()),
    }
}

fn field(asked: &Asked<'_>, id: &str, key: &str, required: bool, long: bool) -> Field {
    Field {
        id: id.to_owned(),
        label: say!(asked.lang, &format!("form-{key}")),
        hint: say!(asked.lang, &format!("form-{key}-hint")),
        required,
        long,
    }
}

fn service_form(asked: &Asked<'_>, tag: &Tag, seen: RecordNo, work: Kind) -> Form {
    let tap = Work::ServeTyped {
        tag: tag.clone(),
        seen,
        work,
        outcome: String::new(),
        on: None,
        next: None,
        note: None,
    };
    Form {
        id: Tap::Work(tap).id(),
        title: say!(asked.lang, "form-service-title", tag = tag.as_str()),
        fields: vec![
            field(asked, "result", "result", true, false),
            field(asked, "on", "day", false, false),
            field(asked, "next", "next-day", false, false),
            field(asked, "note", "note", false, true),
        ],
    }
}

/// A result as it is typed, in the asker's language, with its accents or without, or as the command has it.
fn outcome_of(asked: &Asked<'_>, typed: &str) -> Result<Outcome, Refusal> {
    let typed = without_accents(&typed.trim().to_lowercase());
    let word = |outcome: &Outcome| {
        without_accents(&say!(asked.lang, &format!("outcome-{}", outcome.as_str())))
    };
    Outcome::ALL
        .iter()
        .find(|outcome| typed == outcome.as_str() || typed == word(outcome))
        .copied()
        .ok_or_else(|| Refusal::new("fault-result"))
}

fn outlet_card(asked: &Asked<'_>, tag: &Tag, bed: Option<&Bed>) -> Message {
    let lang = asked.lang;
    let mut text = say!(lang, "work-outlet", surface = asked.with_bed(tag));
    let frame = bed.and_then(|bed| asked.state.frame(bed));
    if let Some(day) = frame.and_then(|frame| frame.outlet_failed) {
        text.push('\n');
        text.push_str(&say!(lang, "work-outlet-failed", day = day.to_string()));
    }
    let message = Message::text(text);
    match bed.filter(|_| may(asked, Right::Frames)) {
        Some(bed) => message.buttons(vec![
            work_button(
                asked,
                "button-outlet",
                Look::Good,
                Work::Outlet { bed: bed.clone() },
            ),
            work_button(
                asked,
                "button-outlet-bad",
                Look::Caution,
                Work::OutletBad { bed: bed.clone() },
            ),
        ]),
        None => message,
    }
}

fn gap_card(asked: &Asked<'_>, tag: &Tag, bed: Option<&Bed>) -> Message {
    let lang = asked.lang;
    let over = bed
        .and_then(|bed| asked.state.frame(bed))
        .and_then(|frame| frame.over.as_ref());
    let numbers = over.map_or_else(String::new, |over| {
        zones::numbers(over.zones.iter().copied())
    });
    let text = say!(
        lang,
        "work-gap",
        surface = asked.with_bed(tag),
        zones = numbers
    );
    let done = over.and_then(|over| zones::done_line(asked, over));
    let text = std::iter::once(text)
        .chain(done)
        .collect::<Vec<_>>()
        .join("\n");
    let mut message = Message::text(text);
    if let (Some(bed), true) = (bed, may(asked, Right::Gaps)) {
        if let Some(over) = over {
            message = message.menu(zones::acts_menu(lang, bed, over.no));
        }
        let again = Work::Zones { bed: bed.clone() };
        let again = work_button(asked, "button-zones", Look::Main, again);
        message = message.buttons(vec![again]);
    }
    message
}

fn zones_form(asked: &Asked<'_>, bed: &Bed) -> Form {
    let tap = Work::ZonesTyped {
        bed: bed.clone(),
        zones: [const { None }; 4],
        angle4: None,
    };
    let zone = |id| field(asked, id, id, false, false);
    Form {
        id: Tap::Work(tap).id(),
        title: say!(asked.lang, "form-zones-title", bed = bed.as_str()),
        fields: vec![
            zone("zone1"),
            zone("zone2"),
            zone("zone3"),
            zone("zone4"),
            zone("angle4"),
        ],
    }
}

/// Out of service and still under somebody: which ready one takes its place.
fn swap_card(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let Some(bed) = surface.bed().filter(|_| may(asked, Right::Place)) else {
        return look::card(asked, tag.as_str(), Some(say!(lang, "chosen-swap")));
    };
    let Some(menu) = super::spare::menu(asked, bed, tag, surface) else {
        return look::card(asked, tag.as_str(), Some(say!(lang, "chosen-swap-none")));
    };
    let mut decision = look::card(asked, tag.as_str(), Some(say!(lang, "chosen-swap")))?;
    if let Some(Answer::Private(message)) = &mut decision.answer {
        put_below(message, Row::Menu(menu));
    }
    Ok(decision)
}

/// A turnover that is to be cleaned next: with what, and how the cover looked.
pub(super) fn cleaned_menu(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    of: Began,
) -> Option<Menu> {
    (surface.hold.is_none() && may(asked, Right::Upkeep)).then(|| Menu {
        id: Work::cleaned_menu(tag, of),
        hint: say!(asked.lang, "menu-cleaned"),
        entries: cleaned_entries(asked, surface),
    })
}

/// The way back of one that is out of service and under nobody, for whoever may go it.
pub(super) fn return_button(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Option<Button> {
    let stored = matches!(surface.life, Life::OutOfService { under: None, .. });
    let free = stored && surface.hold.is_none() && may(asked, Right::Maintain);
    let tap = Work::Return { tag: tag.clone() };
    free.then(|| work_button(asked, "button-return", Look::Main, tap))
}

/// What it can have been cleaned with, by the home's list where there is one, each with the ways a cover can look.
fn cleaned_entries(asked: &Asked<'_>, surface: &Surface) -> Vec<MenuEntry> {
    let lang = asked.lang;
    let state = asked.state;
    let mut with: Vec<(Method, Option<&str>)> = state
        .products
        .iter()
        .filter(|(_, product)| product.sporicidal || !surface.clean_last)
        .map(|(name, product)| (product.method, Some(name.as_str())))
        .collect();
    if with.is_empty() {
        with = vec![(Method::Quaternary, None), (Method::Bleach, None)];
    }
    let covers = [Cover::Intact, Cover::Stained, Cover::Damaged];
    covers
        .into_iter()
        .flat_map(|cover| {
            with.iter()
                .map(move |(method, product)| (cover, *method, *product))
        })
        .take(ENTRIES_MAX)
        .map(|(cover, method, product)| {
            let what = match product {
                Some(product) => product.to_owned(),
                None => say!(lang, &format!("method-{}", method.as_str())),
            };
            let cover_words = say!(lang, &format!("work-cover-{}", cover.as_str()));
            MenuEntry {
                value: Work::cleaned_value(method, cover, product),
                label: say!(lang, "work-cleaned", what = what, cover = cover_words),
                about: None,
            }
        })
        .collect()
}

/// A surface's card with one more button, for whoever may.
fn with_tap(
    asked: &Asked<'_>,
    tag: &Tag,
    right: Right,
    key: &str,
    tap: Work,
) -> Result<Decision, Refusal> {
    let mut decision = look::surface(asked, tag.as_str())?;
    if may(asked, right)
        && let Some(Answer::Private(message)) = &mut decision.answer
    {
        let tap = work_button(asked, key, Look::Main, tap);
        put_below(message, Row::Buttons(vec![tap]));
    }
    Ok(decision)
}

/// What was asked for stands below a card, in the place of the card's last row where there is no other.
fn put_below(message: &mut Message, row: Row) {
    message.rows.truncate(ROWS_MAX - 1);
    message.rows.push(row);
}
