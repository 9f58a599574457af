//! The register: adding, listing, exporting and retiring surfaces. Decides which tags are free to be given, and that what
//! is retired keeps its history; leaves files to `import`.

mod import;
pub(super) mod profiles;
mod refused;

pub(super) use import::{fetch, import};

use chrono::{DateTime, Utc};

use super::draft::Asked;
use super::{recall, turnover};
use crate::choice::{Export, FilterKind, Outcome, Owned, Start, Work};
use crate::decision::Decision;
use crate::due::ready_by_kind;
use crate::ids::{Bed, ProfileName, Tag};
use crate::message::{Answer, Button, Field as FormField, File, Form, Look, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::request::FleetAdd;
use crate::role::authorize;
use crate::rules::beds::BedFault;
use crate::rules::guard::{self, Field, Found};
use crate::rules::{export, nearest};
use crate::say;
use crate::state::{Life, Surface};
use crate::tap::{House, TAG_CHARS_MAX, Tap};
use crate::words::Lang;

/// The smallest file that goes out as a file and not as lines.
const LINES_SHOWN: usize = 25;

/// `/fleet add`.
pub(super) fn add(asked: &Asked<'_>, typed: FleetAdd) -> Result<Decision, Refusal> {
    let tag = tag(&typed.tag)
        .ok_or_else(|| Refusal::new("fault-tag").number("most", TAG_CHARS_MAX as i64))?;
    if let Some(found) = identifies(tag.as_str()) {
        return Err(super::draft::private_fault(found));
    }
    if let Some(bed) = bed_named(asked, tag.as_str()) {
        return Err(Refusal::new("fault-tag-is-bed").text("bed", bed));
    }
    if let Some((there, surface)) = asked
        .state
        .surfaces
        .iter()
        .find(|(there, _)| nearest::fold(there.as_str()) == nearest::fold(tag.as_str()))
    {
        // Its history stays its own: it comes back with that, or what is added is another surface with another tag.
        if let Life::Retired { since } = surface.life {
            return Ok(Decision::private(retired_card(asked, there, since)));
        }
        return Err(Refusal::new("fault-tag-taken").text("tag", there));
    }
    let profile = find_profile(asked, &typed.profile)?;
    for text in [&typed.serial, &typed.lot].into_iter().flatten() {
        guard::check(text, Field::Register).map_err(super::draft::private_fault)?;
    }
    let lang = asked.lang;
    let tested = typed
        .tested
        .as_deref()
        .map(|text| asked.day_past(text))
        .transpose()?;
    let mut draft = asked.draft();
    let lot = typed.lot.clone();
    draft.fact(Body::SurfaceAdded {
        tag: tag.clone(),
        profile: profile.clone(),
        serial: typed.serial,
        lot: typed.lot,
        owned: typed.owned,
        daily_cents: None,
        start: typed.start,
        filter_changed: None,
        in_service: None,
        tested,
    });
    let recalled = recall::join(asked, &mut draft, &tag, profile, lot.as_deref());
    // What is recalled is turned over once it has been corrected.
    if !recalled && typed.start == Start::Soiled {
        turnover::open_for(asked, &mut draft, &tag, filter_of(asked, profile));
    }
    let key = match typed.start {
        Start::Ready | Start::Soiled if recalled => "fleet-added-recalled",
        Start::Ready if typed.owned == Owned::Rented => "fleet-added-rented",
        Start::Ready if tested.is_none() => "fleet-added-untested",
        Start::Ready => "fleet-added-ready",
        Start::Soiled => "fleet-added-soiled",
    };
    let text = say!(lang, key, tag = tag.as_str(), profile = profile.as_str());
    Ok(draft.private(Message::text(text)))
}

/// The bed that a tag would be taken for.
fn bed_named<'a>(asked: &Asked<'a>, tag: &str) -> Option<&'a Bed> {
    let wanted = nearest::fold(tag);
    asked
        .state
        .bed_units
        .keys()
        .find(|bed| nearest::fold(bed.as_str()) == wanted)
}

/// What a tag or a profile's name must not hold. Makers name their models as they like, so a word that could be
/// somebody's name is let through here.
pub(super) fn identifies(text: &str) -> Option<Found> {
    guard::check(text, Field::Register)
        .err()
        .filter(|found| *found != Found::Name)
}

/// What can be done with the filter of a profile.
fn filter_of(asked: &Asked<'_>, profile: &ProfileName) -> FilterKind {
    asked
        .state
        .profiles
        .get(profile)
        .map_or(FilterKind::Replaceable, |profile| profile.filter)
}

/// `/fleet list`.
pub(super) fn list(asked: &Asked<'_>) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let here: Vec<(&Tag, &Surface)> = register(asked).collect();
    let others = |surface: &Surface| surface.owned.is_of_others();
    let count = |wanted: fn(&Life) -> bool| {
        here.iter()
            .filter(|(_, surface)| !others(surface) && wanted(&surface.life))
            .count() as i64
    };
    let of_others = here.iter().filter(|(_, surface)| others(surface)).count();
    let mut lines = vec![say!(
        lang,
        "fleet-head",
        count = (here.len() - of_others) as i64,
        placed = count(|life| matches!(life, Life::Placed { .. })),
        ready = count(|life| matches!(life, Life::Ready { .. })),
        soiled = count(|life| matches!(life, Life::Soiled(_))),
        out = count(|life| matches!(life, Life::OutOfService { .. }))
    )];
    if of_others > 0 {
        lines.push(say!(lang, "fleet-others", count = of_others as i64));
    }
    lines.extend(ready_by_kind(asked.state, lang));
    let mut by_state = here.clone();
    by_state.sort_by_key(|(_, surface)| order(&surface.life));
    for (tag, surface) in by_state.into_iter().take(LINES_SHOWN) {
        let line = say!(
            lang,
            "fleet-line",
            surface = asked.with_bed(tag),
            profile = surface.profile.as_str(),
            state = say!(lang, life_key(&surface.life))
        );
        lines.push(match surface.owned {
            Owned::Owned => line,
            Owned::Rented | Owned::Resident | Owned::Hospice => {
                let whose = say!(lang, &format!("owned-{}", surface.owned.as_str()));
                say!(lang, "fleet-whose", line = line, whose = whose)
            }
        });
    }
    if here.len() > LINES_SHOWN {
        lines.push(say!(
            lang,
            "fleet-more",
            count = (here.len() - LINES_SHOWN) as i64
        ));
    }
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    Ok(Decision::private(Message::text(text)))
}

/// What can be used now comes first, then what is being made so.
fn order(life: &Life) -> u8 {
    match life {
        Life::Ready { .. } => 0,
        Life::Soiled(_) => 1,
        Life::OutOfService { .. } => 2,
        Life::Placed { .. } => 3,
        Life::Retired { .. } => 4,
    }
}

/// `/fleet export`: the register as `/fleet import` reads it.
pub(super) fn export(asked: &Asked<'_>, what: Export) -> Result<Decision, Refusal> {
    match what {
        Export::Register => register_file(asked),
        Export::Profiles => profiles_file(asked),
        Export::Wall => super::wall::file(asked),
    }
}

fn profiles_file(asked: &Asked<'_>) -> Result<Decision, Refusal> {
    let (text, count) = profiles::export(asked)?;
    let day = asked.facility.zone.local(asked.now).date();
    let mut message = Message::text(say!(asked.lang, "profiles-exported", count = count as i64));
    message
        .files
        .push(File::new(format!("profiles-{day}.csv"), text));
    Ok(Decision::private(message))
}

fn register_file(asked: &Asked<'_>) -> Result<Decision, Refusal> {
    const COLUMNS: [&str; 12] = [
        "tag",
        "profile",
        "serial",
        "lot",
        "owned",
        "daily_rate",
        "state",
        "bed",
        "filter_changed",
        "in_service",
        "tested",
        // Not read back: where a surface is kept from use is no word of a spreadsheet's.
        "now",
    ];
    let rows = register(asked).map(|(tag, surface)| {
        let text = |text: &Option<String>| text.clone().unwrap_or_default();
        let state = match &surface.life {
            Life::Ready { .. } | Life::Placed { .. } => Start::Ready.as_str(),
            Life::Soiled(_) | Life::OutOfService { .. } | Life::Retired { .. } => {
                Start::Soiled.as_str()
            }
        };
        let rented = surface.rental.as_ref().map(|rental| rental.daily_cents);
        let rate = rented
            .or(surface.daily_cents)
            .map_or_else(String::new, |cents| {
                format!("{}.{:02}", cents / 100, cents % 100)
            });
        [
            tag.to_string(),
            surface.profile.to_string(),
            text(&surface.serial),
            text(&surface.lot),
            surface.owned.as_str().to_owned(),
            rate,
            state.to_owned(),
            surface.bed().map_or_else(String::new, Bed::to_string),
            surface
                .filter_changed
                .map_or_else(String::new, |day| day.to_string()),
            // As the evidence has it: since it came into the register, where nobody said otherwise.
            surface
                .in_service
                .unwrap_or_else(|| asked.facility.zone.local(surface.added).date())
                .to_string(),
            surface
                .served
                .get(&Work::SafetyTest)
                .filter(|test| test.outcome == Outcome::Passed)
                .map_or_else(String::new, |test| test.on.to_string()),
            plain_now(asked.lang, surface),
        ]
    });
    let bytes = export::write(&COLUMNS, rows).map_err(|_| Refusal::new("fault-export"))?;
    let text = String::from_utf8(bytes).map_err(|_| Refusal::new("fault-export"))?;
    let day = asked.facility.zone.local(asked.now).date();
    let mut message = Message::text(say!(
        asked.lang,
        "fleet-exported",
        count = register(asked).count() as i64
    ));
    message
        .files
        .push(File::new(format!("surfaces-{day}.csv"), text));
    Ok(Decision::private(message))
}

/// How it stands, in a cell.
fn plain_now(lang: Lang, surface: &Surface) -> String {
    if surface.hold.is_some() {
        return say!(lang, "state-held");
    }
    say!(lang, life_key(&surface.life))
}

/// `/fleet retire`.
pub(super) fn retire(asked: &Asked<'_>, typed: &str) -> Result<Decision, Refusal> {
    let (tag, surface) = may_retire(asked, typed)?;
    Ok(Decision::private(retiring(asked, tag, surface)))
}

/// What retiring it will do, before it does.
fn retiring(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Message {
    let lang = asked.lang;
    let mut lines = vec![say!(
        lang,
        "retire-ask",
        tag = tag.as_str(),
        profile = surface.profile.as_str(),
        state = say!(lang, life_key(&surface.life))
    )];
    if surface.alarm.is_some() {
        lines.push(say!(lang, "retire-ask-alarm"));
    }
    if surface
        .rental
        .as_ref()
        .is_some_and(|rental| rental.called.is_none())
    {
        lines.push(say!(lang, "retire-ask-rental", tag = tag.as_str()));
    }
    lines.push(say!(lang, "retire-ask-foot"));
    let tap = House::Retire {
        tag: tag.clone(),
        seen: newest(surface),
    };
    let yes = Button {
        id: Tap::House(tap).id(),
        label: say!(lang, "button-retire", tag = tag.as_str()),
        look: Look::Caution,
    };
    Message::text(lines.join("\n")).buttons(vec![yes])
}

/// When the newest entry about a surface was made, in seconds since 1970.
fn newest(surface: &Surface) -> i64 {
    surface.touched.map_or(0, |mark| mark.at.timestamp())
}

fn may_retire<'a>(asked: &Asked<'a>, typed: &str) -> Result<(&'a Tag, &'a Surface), Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    if let Some(bed) = surface.bed() {
        return Err(Refusal::new("fault-retire-under")
            .text("tag", tag)
            .text("bed", bed));
    }
    if matches!(surface.life, Life::Retired { .. }) {
        return Err(Refusal::new("fault-retired").text("tag", tag));
    }
    Ok((tag, surface))
}

/// "Retire it."
pub(super) fn retired(asked: &Asked<'_>, tag: &Tag, seen: i64) -> Result<Decision, Refusal> {
    let (tag, surface) = may_retire(asked, tag.as_str())?;
    if newest(surface) != seen {
        let mut message = retiring(asked, tag, surface);
        message.text = format!("{}\n{}", say!(asked.lang, "retire-changed"), message.text);
        return Ok(Decision::private(message));
    }
    let mut draft = asked.draft();
    if let Some(no) = surface.alarm
        && let Some(open) = asked.state.alarms.get(&no)
    {
        super::alarm::end(
            asked,
            &mut draft,
            no,
            open,
            crate::record::AlarmEnd::OutOfService,
        );
    }
    super::rental::gone(asked, &mut draft, tag);
    draft.fact(Body::SurfaceRetired { tag: tag.clone() });
    let text = say!(asked.lang, "fleet-retired", tag = tag.as_str());
    let message = Message::text(text).buttons(way_back(asked, tag));
    Ok(draft.answer(Answer::Replace(message)))
}

/// What is said of a tag that is retired.
fn retired_card(asked: &Asked<'_>, tag: &Tag, since: DateTime<Utc>) -> Message {
    let buttons = way_back(asked, tag);
    let key = if buttons.is_empty() {
        "retired-ask-supervisor"
    } else {
        "retired-ask"
    };
    let since = super::draft::day_time(since);
    let text = say!(asked.lang, key, tag = tag.as_str(), since = since);
    Message::text(text).buttons(buttons)
}

/// The button that brings a retired surface back, for whoever may.
pub(super) fn way_back(asked: &Asked<'_>, tag: &Tag) -> Vec<Button> {
    let tap = House::BringBack { tag: tag.clone() };
    if authorize(asked.state, asked.ask, tap.right()).is_err() {
        return Vec::new();
    }
    vec![Button {
        id: Tap::House(tap).id(),
        label: say!(asked.lang, "button-bring-back", tag = tag.as_str()),
        look: Look::Plain,
    }]
}

fn still_retired<'a>(asked: &Asked<'a>, tag: &Tag) -> Result<(&'a Tag, &'a Surface), Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    match surface.life {
        Life::Retired { .. } => Ok((tag, surface)),
        Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } | Life::OutOfService { .. } => {
            Err(Refusal::new("fault-back-already").text("tag", tag))
        }
    }
}

/// "Bring it back": why?
pub(super) fn bring_back(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, _) = still_retired(asked, tag)?;
    let lang = asked.lang;
    let tap = House::BroughtBack {
        tag: tag.clone(),
        reason: None,
    };
    let form = Form {
        id: Tap::House(tap).id(),
        title: say!(lang, "form-bring-back-title", tag = tag.as_str()),
        fields: vec![FormField {
            id: "reason".to_owned(),
            label: say!(lang, "form-bring-back"),
            hint: say!(lang, "form-bring-back-hint"),
            required: true,
            long: false,
        }],
    };
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// It is in the register again, whatever it was as it left: nobody knows where it has been, so it is turned over first.
pub(super) fn brought_back(
    asked: &Asked<'_>,
    tag: &Tag,
    reason: Option<String>,
) -> Result<Decision, Refusal> {
    let (tag, surface) = still_retired(asked, tag)?;
    let reason = asked.guarded(reason)?;
    if reason.is_none() {
        return Err(Refusal::new("fault-back-reason"));
    }
    let mut draft = asked.draft();
    let body = Body::SurfaceBroughtBack { tag: tag.clone() };
    draft.fact_at(asked.now, body, reason);
    let profile = &surface.profile;
    let recalled = recall::join(asked, &mut draft, tag, profile, surface.lot.as_deref());
    if recalled {
        recall::tell_joined(asked, &mut draft);
    } else {
        turnover::open_for(asked, &mut draft, tag, filter_of(asked, profile));
    }
    let key = if recalled {
        "brought-back-recalled"
    } else {
        "brought-back"
    };
    let text = say!(asked.lang, key, tag = tag.as_str());
    Ok(draft.private(Message::text(text)))
}

fn register<'a>(asked: &Asked<'a>) -> impl Iterator<Item = (&'a Tag, &'a Surface)> {
    asked
        .state
        .surfaces
        .iter()
        .filter(|(_, surface)| !matches!(surface.life, Life::Retired { .. }))
}

fn life_key(life: &Life) -> &'static str {
    match life {
        Life::Placed { .. } => "state-placed",
        Life::Soiled(_) => "state-soiled",
        Life::Ready { .. } => "state-ready",
        Life::OutOfService { .. } => "state-out",
        Life::Retired { .. } => "state-retired",
    }
}

/// A tag as it is kept: capitals, digits and dashes.
fn tag(text: &str) -> Option<Tag> {
    let text = text.trim().to_uppercase();
    let fits = |c: char| c.is_ascii_alphanumeric() || c == '-';
    (!text.is_empty() && text.len() <= TAG_CHARS_MAX && text.chars().all(fits))
        .then(|| Tag::from(text))
}

pub(super) fn find_profile<'a>(asked: &Asked<'a>, typed: &str) -> Result<&'a ProfileName, Refusal> {
    let all = || {
        asked
            .state
            .profiles
            .keys()
            .map(ProfileName::as_str)
            .collect::<Vec<_>>()
            .join(", ")
    };
    let no_such = || {
        Refusal::new("fault-no-profile")
            .text("typed", super::check::escaped(typed))
            .text("these", all())
    };
    match nearest::find(typed, asked.state.profiles.keys().map(ProfileName::as_str)) {
        nearest::Match::One(name) => asked
            .state
            .profiles
            .get_key_value(name)
            .map(|(name, _)| name)
            .ok_or_else(no_such),
        nearest::Match::Several(_) | nearest::Match::Nearest(_) => Err(no_such()),
    }
}

/// What is wrong with a list of beds.
pub(super) fn bed_fault(fault: BedFault) -> Refusal {
    match fault {
        BedFault::Empty => Refusal::new("fault-beds-empty"),
        BedFault::BadName { piece } => {
            Refusal::new("fault-beds-name").text("piece", super::check::escaped(&piece))
        }
        BedFault::Backwards { piece } => {
            Refusal::new("fault-beds-backwards").text("piece", super::check::escaped(&piece))
        }
        BedFault::LettersInRange { piece } => {
            Refusal::new("fault-beds-letters").text("piece", super::check::escaped(&piece))
        }
        BedFault::Twice { bed } => {
            Refusal::new("fault-beds-twice").text("bed", super::check::escaped(&bed))
        }
        BedFault::TooMany { most } => Refusal::new("fault-beds-many").number("most", most as i64),
    }
}
