//! Suggestions while somebody types: what is due or alarming in the asker's unit first. Decides what is
//! offered; nothing is offered to whom the command is not allowed.

use super::check::{band_of, show_air};
use super::draft::{unit_of_asker, with_bed};
use super::look::why_due;
use super::{entry, recall};
use crate::choice::{Owned, Task};
use crate::due::{self, DueKind};
use crate::ids::{Bed, ProfileName, Tag, Unit};
use crate::message::{Choice, ENTRIES_MAX, LINE_CHARS_MAX};
use crate::past::{Past, Wanted};
use crate::request::Right;
use crate::role::authorize;
use crate::rules::air::{self, AirFault};
use crate::rules::hand_check::{Air, Why, judge};
use crate::rules::nearest::{begun, fold};
use crate::rules::policy::POLICIES;
use crate::rules::zone;
use crate::said::{Ask, Options, Value};
use crate::say;
use crate::state::{Life, Product, State, Surface};
use crate::table::{self, COMMANDS};

/// What could be meant by what has been typed so far.
///
/// # Errors
/// What of the log must be read first.
pub(super) fn suggest(
    state: &State,
    ask: &Ask,
    path: &str,
    options: &Options,
    focused: &str,
    past: &Past,
) -> Result<Vec<Choice>, Wanted> {
    let Some(command) = table::find(path) else {
        return Ok(Vec::new());
    };
    if path != "help" && authorize(state, ask, command.right).is_err() {
        return Ok(Vec::new());
    }
    let typed = match options.get(focused) {
        Some(Value::Text(text)) => text.as_str(),
        _ => "",
    };
    let mut choices = match focused {
        "surface" if path == "swap" => spares(state, ask, options, typed, past),
        _ if path == "mix" => super::mix::suggest(state, ask.lang, focused, typed),
        "surface" => surfaces(state, ask, path, typed),
        "air" => airs(state, ask, options, typed),
        "bed" if path == "zones" => measured_beds(state, ask, typed),
        "bed" => beds(state, ask, path, typed),
        "set" => settings(state, options, typed),
        "item" => plain(
            typed,
            super::stock::items(state)
                .iter()
                .map(crate::ids::Item::as_str),
        ),
        "unit" if matches!(path, "duty" | "handover") => plain(
            typed,
            std::iter::once(super::duty::ALL).chain(state.units.keys().map(Unit::as_str)),
        ),
        "unit" => plain(typed, state.units.keys().map(Unit::as_str)),
        "name" if path == "facility unit" => plain(typed, state.units.keys().map(Unit::as_str)),
        "name" if path == "facility product" => products(state, ask, None, typed),
        "product" => products(state, ask, options.get("method"), typed),
        "lot" if path == "recall" => match options.get("profile") {
            Some(Value::Text(profile)) => plain(typed, recall::lots(state, profile).into_iter()),
            _ => Vec::new(),
        },
        "name" => policies(state, ask, typed),
        "profile" => plain(typed, state.profiles.keys().map(ProfileName::as_str)),
        "timezone" => zone_names(state, typed)
            .into_iter()
            .map(|name| choice(name.clone(), name))
            .collect(),
        "topic" => plain(typed, COMMANDS.iter().map(|command| command.path)),
        "entry" => entry::own(state, ask, past, typed)?,
        "period" => plain(typed, super::report::offered(ask.lang).into_iter()),
        "what" if path == "timeline" => {
            let mut choices = surfaces(state, ask, path, typed);
            choices.truncate(ENTRIES_MAX / 2);
            choices.extend(every_bed(state, ask, typed));
            if !typed.trim().is_empty() {
                choices.extend(policies(state, ask, typed));
            }
            choices
        }
        _ => Vec::new(),
    };
    // A value that is cut names something else, or nothing: who means it types it.
    choices.retain(|choice| length(&choice.value) <= LINE_CHARS_MAX);
    for choice in &mut choices {
        while length(&choice.label) > LINE_CHARS_MAX {
            choice.label.pop();
        }
    }
    choices.truncate(ENTRIES_MAX);
    Ok(choices)
}

/// Those that are due or alarming in the asker's unit, then the rest of that unit, then all others.
fn surfaces(state: &State, ask: &Ask, path: &str, typed: &str) -> Vec<Choice> {
    let unit = unit_of_asker(state, ask);
    let fits = |tag: &Tag, surface: &Surface| {
        let kind = match path {
            "place" | "swap" => {
                let taken = surface.owned.is_of_others() && surface.placements > 0;
                matches!(surface.life, Life::Ready { .. }) && !taken
            }
            "rental start" | "rental stop" => {
                surface.owned == Owned::Rented && !matches!(surface.life, Life::Retired { .. })
            }
            "release" | "handcheck" | "setting" | "move" | "static" | "cpr" => {
                surface.bed().is_some()
            }
            "fleet retire" => {
                surface.bed().is_none() && !matches!(surface.life, Life::Retired { .. })
            }
            "return" => {
                matches!(surface.life, Life::OutOfService { under: None, .. })
                    && surface.hold.is_none()
            }
            "pull" => !matches!(
                surface.life,
                Life::Retired { .. } | Life::OutOfService { .. }
            ),
            _ => !matches!(surface.life, Life::Retired { .. }),
        };
        kind && (begun(typed, tag.as_str())
            || surface.bed().is_some_and(|bed| begun(typed, bed.as_str())))
    };
    let mut choices: Vec<Choice> = Vec::new();
    let mut add = |tag: &Tag, why: Option<String>| {
        if choices.len() < ENTRIES_MAX && !choices.iter().any(|choice| choice.value == tag.as_str())
        {
            let name = with_bed(state, ask.lang, tag);
            let label = match why {
                Some(why) => say!(ask.lang, "suggest-why", surface = name, why = why),
                None => name,
            };
            choices.push(choice(label, tag.to_string()));
        }
    };
    let mut due = due::list(state, unit, ask.at);
    // What is soiled is what is cleaned, whatever else is more urgent in the house.
    if path == "clean" {
        due.sort_by_key(|item| item.kind != DueKind::Turnover);
    }
    for item in due {
        if state
            .surfaces
            .get(&item.tag)
            .is_some_and(|surface| wants(path, &item.kind) && fits(&item.tag, surface))
        {
            add(
                &item.tag,
                Some(why_due(state, ask.lang, &item.kind, ask.at)),
            );
        }
    }
    for here in [true, false] {
        for (tag, surface) in &state.surfaces {
            if (unit.is_some() && state.unit_of(tag) == unit) == here && fits(tag, surface) {
                add(tag, None);
            }
        }
    }
    choices
}

/// Ready ones to take the place of what is under the bed that was typed: those that fit first, each with kind and width.
fn spares(state: &State, ask: &Ask, options: &Options, typed: &str, past: &Past) -> Vec<Choice> {
    let mut others = surfaces(state, ask, "swap", typed);
    let asked = authorize(state, ask, Right::Place)
        .and_then(|role| super::draft::Asked::new(state, ask, role, past));
    let (Ok(asked), Some(Value::Text(bed))) = (asked, options.get("bed")) else {
        return others;
    };
    let Ok(bed) = super::place::find_bed(&asked, bed) else {
        return others;
    };
    let Some((_, old)) = super::moves::under(&asked, bed) else {
        return others;
    };
    let label =
        |tag: &str, about: String| say!(ask.lang, "suggest-why", surface = tag, why = about);
    let mut choices: Vec<Choice> = super::spare::ready(&asked, bed, old)
        .iter()
        .filter(|spare| others.iter().any(|other| other.value == spare.tag.as_str()))
        .map(|spare| {
            let about = super::spare::about(&asked, spare);
            choice(label(spare.tag.as_str(), about), spare.tag.to_string())
        })
        .collect();
    others.retain(|other| !choices.iter().any(|choice| choice.value == other.value));
    for other in others {
        let Some((tag, surface)) = state.surfaces.get_key_value(other.value.as_str()) else {
            continue;
        };
        let mut about = super::spare::facts(&asked, state.profile_of(surface));
        about.push(say!(ask.lang, "spare-misfit"));
        choices.push(choice(
            label(tag.as_str(), about.join(" · ")),
            other.value.clone(),
        ));
    }
    choices
}

/// Whether this kind of work is a reason to come first for this command.
fn wants(path: &str, kind: &DueKind) -> bool {
    match kind {
        DueKind::Alarm(_) | DueKind::StillUnder => true,
        DueKind::Recheck | DueKind::TryAgain | DueKind::Check => {
            matches!(path, "handcheck" | "surface" | "alarm")
        }
        DueKind::SecondCheck(task) => match task {
            Task::HandCheck => matches!(path, "handcheck" | "surface"),
            Task::Cleaning => matches!(path, "clean" | "surface"),
            Task::Filter => matches!(path, "filter" | "surface"),
            Task::SetUp | Task::Turnover => path == "surface",
        },
        DueKind::FilterOld | DueKind::FilterLook => matches!(path, "filter" | "surface"),
        DueKind::Turnover => matches!(path, "clean" | "filter" | "surface"),
        DueKind::Repair => matches!(path, "clean" | "filter" | "surface" | "return"),
        DueKind::GapOver | DueKind::OutletTest | DueKind::LosingLoft => path == "surface",
        DueKind::AfterPower | DueKind::Steps | DueKind::StaticOver | DueKind::LeaveOver => {
            matches!(path, "surface" | "setting" | "release")
        }
        DueKind::SafetyTest | DueKind::Maintenance | DueKind::PaperMissing => {
            matches!(path, "surface" | "service")
        }
        DueKind::Held => matches!(path, "surface" | "hold"),
        DueKind::Idle | DueKind::Pickup => matches!(path, "surface" | "rental stop"),
    }
}

/// Readings to choose instead of typing; what has been typed, as it would be judged; a number that lacks its unit, in
/// each unit that it could be in.
fn airs(state: &State, ask: &Ask, options: &Options, typed: &str) -> Vec<Choice> {
    let surface = match options.get("surface") {
        Some(Value::Text(tag)) => state.surfaces.get(tag.as_str()),
        _ => None,
    };
    let band = surface.map_or_else(|| state.policies.band(), |surface| band_of(state, surface));
    let judged = |text: String| {
        let air = match air::parse(&text).ok()? {
            air::Said::Measured(length) => Air::Measured(length),
            air::Said::CouldNot => Air::CouldNot(Why::Other),
        };
        let shown = match air {
            Air::CouldNot(_) => text.clone(),
            Air::Measured(_) | Air::Within | Air::Under1 | Air::Over | Air::Touching => {
                show_air(ask.lang, air, band)
            }
        };
        let words = say!(ask.lang, &format!("judged-{}", judge(air, band).as_str()));
        Some(choice(
            say!(ask.lang, "suggest-why", surface = shown, why = words),
            text,
        ))
    };
    match air::parse(typed) {
        Err(AirFault::Empty) => {
            // The whole quarters from the band's low limit, then what is outside of it, then that it could not be done.
            let offered = [
                "1 in", "1 1/4", "1 1/2", "3/4", "1/2", "1/4", "0", "1 3/4", "2 in",
            ];
            let none = say!(ask.lang, "air-none");
            offered
                .into_iter()
                .chain([none.as_str()])
                .filter_map(|text| judged(text.to_owned()))
                .collect()
        }
        Err(AirFault::WhichUnit { number }) => air::in_each_unit(&number)
            .into_iter()
            .filter_map(judged)
            .collect(),
        Ok(_) if super::asks_unit(state) && air::bare(typed).is_some() => air::bare(typed)
            .iter()
            .flat_map(|number| air::in_each_unit(number))
            .filter_map(judged)
            .collect(),
        Ok(_) => judged(typed.trim().to_owned()).into_iter().collect(),
        Err(_) => Vec::new(),
    }
}

/// Beds whose gaps may be measured: first those that are to be, then those of the asker's unit.
fn measured_beds(state: &State, ask: &Ask, typed: &str) -> Vec<Choice> {
    let unit = unit_of_asker(state, ask);
    let due = |bed: &Bed| {
        let over = state.frame(bed).is_some_and(|frame| frame.over.is_some());
        over || state
            .under
            .get(bed)
            .and_then(|tag| state.surfaces.get(tag))
            .is_some_and(|surface| super::beds::zones_wanted(state, surface))
    };
    let mut beds: Vec<(&Bed, &Unit)> = state
        .bed_units
        .iter()
        .filter(|(bed, _)| begun(typed, bed.as_str()))
        .collect();
    beds.sort_by_key(|(bed, of)| (Some(*of) != unit, !due(bed)));
    beds.into_iter()
        .take(ENTRIES_MAX)
        .map(|(bed, of)| {
            let label = say!(
                ask.lang,
                "suggest-bed",
                bed = bed.as_str(),
                unit = of.as_str()
            );
            choice(label, bed.to_string())
        })
        .collect()
}

/// All beds, those of the asker's unit first.
fn every_bed(state: &State, ask: &Ask, typed: &str) -> Vec<Choice> {
    let unit = unit_of_asker(state, ask);
    let mut beds: Vec<(&Bed, &Unit)> = state
        .bed_units
        .iter()
        .filter(|(bed, _)| begun(typed, bed.as_str()))
        .collect();
    beds.sort_by_key(|(_, of)| Some(*of) != unit);
    beds.into_iter()
        .take(ENTRIES_MAX)
        .map(|(bed, of)| {
            let label = say!(
                ask.lang,
                "suggest-bed",
                bed = bed.as_str(),
                unit = of.as_str()
            );
            choice(label, bed.to_string())
        })
        .collect()
}

/// The settings of the maker's table of the surface that was typed.
fn settings(state: &State, options: &Options, typed: &str) -> Vec<Choice> {
    let surface = match options.get("surface") {
        Some(Value::Text(tag)) => state.surfaces.get(tag.as_str()),
        _ => None,
    };
    let Some(surface) = surface else {
        return Vec::new();
    };
    let mut table: Vec<&str> = Vec::new();
    for (_, setting) in &state.profile_of(surface).settings {
        if !table.contains(&setting.as_str()) {
            table.push(setting);
        }
    }
    plain(typed, table.into_iter())
}

/// Beds for this command, those of the asker's unit first: free ones for a surface to go to, those with a surface for
/// what happens to one.
fn beds(state: &State, ask: &Ask, path: &str, typed: &str) -> Vec<Choice> {
    let unit = unit_of_asker(state, ask);
    let taken = matches!(path, "swap" | "leave");
    let mut beds: Vec<(&Bed, &Unit)> = state
        .bed_units
        .iter()
        .filter(|(bed, _)| state.under.contains_key(*bed) == taken && begun(typed, bed.as_str()))
        .collect();
    beds.sort_by_key(|(_, of)| Some(*of) != unit);
    beds.into_iter()
        .take(ENTRIES_MAX)
        .map(|(bed, of)| {
            choice(
                say!(
                    ask.lang,
                    "suggest-bed",
                    bed = bed.as_str(),
                    unit = of.as_str()
                ),
                bed.to_string(),
            )
        })
        .collect()
}

/// The home's disinfectants; where a method is chosen, those of it.
fn products(state: &State, ask: &Ask, method: Option<&Value>, typed: &str) -> Vec<Choice> {
    let wanted = fold(typed);
    let of_kind = |product: &Product| match method {
        Some(Value::Text(method)) => product.method.as_str() == method,
        _ => true,
    };
    state
        .products
        .iter()
        .filter(|(name, product)| of_kind(product) && fold(name.as_str()).contains(&wanted))
        .map(|(name, product)| {
            let label = super::shelf::plain_words(ask.lang, name, product);
            choice(label, name.to_string())
        })
        .collect()
}

/// The home's own zone first while nothing is typed: it is the one that stays.
fn zone_names(state: &State, typed: &str) -> Vec<String> {
    let own = state
        .facility
        .as_ref()
        .map(|facility| facility.zone.name().to_owned());
    let mut names = zone::suggest(typed, ENTRIES_MAX);
    if let Some(own) = own.filter(|own| fold(own).contains(&fold(typed))) {
        names.retain(|name| *name != own);
        names.insert(0, own);
        names.truncate(ENTRIES_MAX);
    }
    names
}

fn policies(state: &State, ask: &Ask, typed: &str) -> Vec<Choice> {
    let wanted = fold(typed);
    POLICIES
        .iter()
        // By its name, by what it decides, and by the page that it stands on.
        .filter(|row| {
            let page = say!(ask.lang, &format!("page-{}", row.name.group().as_str()));
            [
                row.word.to_owned(),
                super::facility::meaning(ask.lang, row),
                page,
            ]
            .iter()
            .any(|text| fold(text).contains(&wanted))
        })
        .map(|row| {
            let now = super::wish::value_words(state, ask.lang, row, state.policies.get(row.name));
            choice(
                say!(ask.lang, "suggest-policy", name = row.word, value = now),
                row.word.to_owned(),
            )
        })
        .collect()
}

fn plain<'a>(typed: &str, names: impl Iterator<Item = &'a str>) -> Vec<Choice> {
    let wanted = fold(typed);
    names
        .filter(|name| fold(name).contains(&wanted))
        .take(ENTRIES_MAX)
        .map(|name| choice(name.to_owned(), name.to_owned()))
        .collect()
}

fn choice(label: String, value: String) -> Choice {
    Choice { label, value }
}

/// As the strictest reading of the platform's limits counts: one choice over them and it takes none of the list.
fn length(text: &str) -> usize {
    text.encode_utf16().count()
}
