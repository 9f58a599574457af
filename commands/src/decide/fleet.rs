//! The register: adding, importing, listing, exporting and retiring surfaces. Decides whether rows that a
//! file spells well also fit this facility: all of them go in, or none.

pub(super) mod profiles;

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, Utc};

use super::draft::{Asked, Draft};
use super::{facility, frame, recall, turnover, wish};
use crate::choice::{Export, FilterKind, Import, Outcome, Outlet, Owned, Rails, Start, Work};
use crate::decision::Decision;
use crate::due::ready_by_kind;
use crate::ids::{Bed, ProfileName, Tag, Unit};
use crate::message::{Answer, BUTTONS_MAX, Button, Field as FormField, File, Form, Look, Message};
use crate::record::{Body, Wish};
use crate::refusal::Refusal;
use crate::request::{FleetAdd, Right};
use crate::role::authorize;
use crate::rules::air::Tenths;
use crate::rules::beds::BedFault;
use crate::rules::guard::{self, Field, Found};
use crate::rules::import::{self, BedRow, ImportFault, LineFault, Rejected, Scanned, SurfaceRow};
use crate::rules::{self, export, nearest};
use crate::said::{FetchFault, FileRef};
use crate::say;
use crate::state::{Life, Surface, UnitState};
use crate::tap::{House, TAG_CHARS_MAX, Tap, UNIT_BYTES_MAX};
use crate::words::Lang;

/// Faults of a file that one answer lists; the rest are counted.
const FAULTS_SHOWN: usize = 15;
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

/// `/fleet import`, before its file has been fetched: whoever asks may, so let it be fetched.
pub(super) fn fetch(file: &FileRef) -> Result<Decision, Refusal> {
    if file.size > import::FILE_BYTES_MAX as u64 {
        return Err(too_large());
    }
    Ok(Decision {
        answer: Some(Answer::Fetch(file.url.clone())),
        ..Decision::default()
    })
}

/// `/fleet import`, with its file.
pub(super) fn import(
    asked: &Asked<'_>,
    what: Import,
    file: Result<Vec<u8>, FetchFault>,
) -> Result<Decision, Refusal> {
    let bytes = file.map_err(|fault| match fault {
        FetchFault::TooLarge => too_large(),
        FetchFault::Unavailable => Refusal::new("fault-file-unavailable"),
        FetchFault::Foreign => Refusal::new("fault-file-foreign"),
    })?;
    let mut draft = asked.draft();
    let mut waiting = Vec::new();
    let outcome = match what {
        Import::Profiles => import::profiles(&bytes)
            .and_then(|file| profiles::import(asked, &mut draft, file, &mut waiting)),
        Import::Beds => {
            import::beds(&bytes).and_then(|file| beds(asked, &mut draft, file, &mut waiting))
        }
        Import::Surfaces => {
            import::surfaces(&bytes).and_then(|file| surfaces(asked, &mut draft, file))
        }
    };
    let lang = asked.lang;
    Ok(match outcome {
        Ok((rows, extra)) => {
            let mut text = say!(
                lang,
                "import-done",
                count = rows as i64,
                what = say!(lang, &format!("import-{}", what.as_str()))
            );
            for line in waiting {
                text.push('\n');
                text.push_str(&line);
            }
            if let Some(placed) = brought_under(asked, &mut draft) {
                text.push('\n');
                text.push_str(&placed);
            }
            let recalled: Vec<&str> = draft
                .decision
                .entries
                .iter()
                .filter(|entry| matches!(entry.body, Body::RecallJoined { .. }))
                .filter_map(|entry| entry.body.surface())
                .map(Tag::as_str)
                .collect();
            if !recalled.is_empty() {
                let tags = recalled.join(", ");
                recall::tell_joined(asked, &mut draft);
                text.push('\n');
                text.push_str(&say!(lang, "import-recalled", tags = tags));
            }
            if let Some(unrated) = unrated(lang, &draft) {
                text.push('\n');
                text.push_str(&unrated);
            }
            if !extra.is_empty() {
                text.push('\n');
                text.push_str(&say!(
                    lang,
                    "import-extra",
                    columns = super::check::escaped(&extra.join(", "))
                ));
            }
            draft.private(Message::text(text))
        }
        Err(rejected) => {
            let message = Message::text(rejection(lang, &rejected));
            // Those that may be meant are one tap away, each by its own name.
            let mut back = Vec::new();
            for fault in rejected.faults.iter().take(FAULTS_SHOWN) {
                if let ImportFault::TagRetired { tag } = &fault.fault {
                    back.extend(way_back(asked, &Tag::from(tag.as_str())));
                }
            }
            back.truncate(BUTTONS_MAX);
            Decision::private(message.buttons(back))
        }
    })
}

/// Surfaces that came into the register under beds: what is not on record of them is said to the asker and to whoever
/// judges what is clinical.
fn brought_under(asked: &Asked<'_>, draft: &mut Draft) -> Option<String> {
    let entries = draft.decision.entries.iter();
    let placed: Vec<&Tag> = entries
        .filter(|entry| matches!(entry.body, Body::Placed { .. }))
        .filter_map(|entry| entry.body.surface())
        .collect();
    if placed.is_empty() {
        return None;
    }
    let count = placed.len() as i64;
    let tags: Vec<&str> = placed.iter().map(|tag| tag.as_str()).collect();
    let text = say!(
        asked.state.lang(),
        "told-imported-placed",
        count = count,
        tags = tags.join(", "),
        who = super::draft::person(asked.ask.who)
    );
    let mut text = text;
    crate::due::truncate(&mut text);
    facility::told(draft, asked.facility, text);
    Some(say!(asked.lang, "import-placed", count = count))
}

/// Rented surfaces whose rows do not say what a day costs: that is as well on record later, and nothing is reckoned till then.
fn unrated(lang: Lang, draft: &Draft) -> Option<String> {
    let tags: Vec<&str> = draft
        .decision
        .entries
        .iter()
        .filter_map(|entry| {
            if let Body::SurfaceAdded {
                tag,
                owned: Owned::Rented,
                daily_cents: None,
                ..
            } = &entry.body
            {
                Some(tag.as_str())
            } else {
                None
            }
        })
        .collect();
    (!tags.is_empty()).then(|| say!(lang, "import-unrated", tags = tags.join(", ")))
}

type Done = Result<(usize, Vec<String>), Rejected>;

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

fn beds(
    asked: &Asked<'_>,
    draft: &mut Draft,
    file: Scanned<BedRow>,
    waiting: &mut Vec<String>,
) -> Done {
    let Scanned {
        imported: file,
        mut faults,
        more,
    } = file;
    let tags = by_fold(asked.state.surfaces.keys().map(|tag| (tag.as_str(), tag)));
    let mut known: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for unit in asked.state.units.keys().map(Unit::as_str) {
        known.entry(nearest::fold(unit)).or_default().push(unit);
    }
    let mut typed: BTreeMap<&str, (Unit, Option<Found>)> = BTreeMap::new();
    let mut units: Grouped<Unit> = Grouped::default();
    let read = |row: &&BedRow| !row.unit.is_empty() && !row.bed.is_empty();
    for row in file.rows.iter().filter(read) {
        let (unit, found) = typed.entry(&row.unit).or_insert_with(|| {
            let alike = known.get(&nearest::fold(&row.unit));
            let unit = match nearest::find(&row.unit, alike.into_iter().flatten().copied()) {
                nearest::Match::One(name) => Unit::from(name),
                nearest::Match::Several(_) | nearest::Match::Nearest(_) => {
                    Unit::from(row.unit.as_str())
                }
            };
            let found = guard::check(unit.as_str(), Field::Note).err();
            (unit, found)
        });
        let bed = Bed::from(row.bed.as_str());
        if let Some(found) = *found {
            let fault = ImportFault::Guarded {
                column: "unit",
                found,
            };
            faults.push(LineFault {
                line: row.line,
                fault,
            });
        }
        if unit.as_str().len() > UNIT_BYTES_MAX {
            let fault = ImportFault::BadName {
                column: "unit",
                most: UNIT_BYTES_MAX,
            };
            faults.push(LineFault {
                line: row.line,
                fault,
            });
        }
        if let Some(tag) = tags.get(&nearest::fold(bed.as_str())) {
            faults.push(LineFault {
                line: row.line,
                fault: ImportFault::BedIsTag {
                    tag: tag.to_string(),
                },
            });
        }
        match asked.state.bed_units.get(&bed) {
            Some(of) if of != unit => faults.push(LineFault {
                line: row.line,
                fault: ImportFault::Elsewhere {
                    bed: row.bed.clone(),
                    unit: of.to_string(),
                    beds: with_beds_of(asked, unit, &bed),
                    to: unit.to_string(),
                },
            }),
            _ => units.add(unit.clone(), bed),
        }
    }
    let mut frames = frames(asked, &file.rows, &mut faults);
    // What may lie on a frame is no more an admin's word in a file than it is in a command.
    let mut to_ask: Vec<(Vec<ProfileName>, Vec<Bed>)> = Vec::new();
    if wish::waits(asked) {
        for (cells, beds) in &mut frames.groups {
            let Some(approved) = cells.approved.take() else {
                continue;
            };
            if beds.iter().any(|bed| frame::widens(asked, bed, &approved)) {
                to_ask.push((approved, beds.clone()));
            } else {
                cells.approved = Some(approved);
            }
        }
    }
    if to_ask.len() > profiles::ASKED_MOST {
        faults.push(LineFault {
            line: 0,
            fault: ImportFault::TooManyToAsk {
                most: profiles::ASKED_MOST,
            },
        });
    }
    rejected(faults, more)?;
    for (unit, new) in units.groups {
        let before = asked.state.units.get(&unit).cloned().unwrap_or(UnitState {
            beds: Vec::new(),
            channel: None,
        });
        let mut beds = before.beds;
        let mut there: BTreeSet<Bed> = beds.iter().cloned().collect();
        beds.extend(new.into_iter().filter(|bed| there.insert(bed.clone())));
        draft.fact(Body::UnitSet {
            unit,
            beds,
            channel: before.channel,
        });
    }
    for (frame, beds) in frames.groups {
        if let Some(profiles) = frame.approved.clone() {
            let beds = beds.clone();
            wish::overtaken(asked, draft, &Wish::Approved { beds, profiles });
        }
        draft.fact(Body::FrameSet {
            beds,
            width: frame.width,
            length: frame.length,
            rails: frame.rails,
            outlet: frame.outlet,
            outlet_tested: frame.outlet_tested,
            outlet_failed: None,
            approved: frame.approved,
        });
    }
    for (profiles, beds) in to_ask {
        let wish = Wish::Approved { beds, profiles };
        waiting.push(wish::add(asked, draft, wish).1);
    }
    Ok((file.rows.len(), file.extra_columns))
}

/// The beds of a unit, with one more, as they are typed.
fn with_beds_of(asked: &Asked<'_>, unit: &Unit, bed: &Bed) -> String {
    let there = asked.state.units.get(unit);
    let mut names: Vec<String> = there
        .into_iter()
        .flat_map(|unit| &unit.beds)
        .chain([bed])
        .map(Bed::to_string)
        .collect();
    names.sort();
    rules::beds::show(&names)
}

/// What rows of beds say of their frames.
#[derive(Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
struct FrameCells {
    width: Option<Tenths>,
    length: Option<Tenths>,
    rails: Option<Rails>,
    outlet: Option<Outlet>,
    outlet_tested: Option<NaiveDate>,
    approved: Option<Vec<ProfileName>>,
}

/// Beds whose rows say the same of their frames, together. Profiles that the facility does not know are faults.
fn frames(asked: &Asked<'_>, rows: &[BedRow], faults: &mut Vec<LineFault>) -> Grouped<FrameCells> {
    let profiles = &asked.state.profiles;
    let named = by_fold(profiles.keys().map(|name| (name.as_str(), name)));
    let mut unknown = Meant::default();
    let mut frames = Grouped::default();
    for row in rows {
        let mut approved = row.approved.as_ref().map(|_| Vec::new());
        for name in row.approved.iter().flatten() {
            match (named.get(&nearest::fold(name)), &mut approved) {
                (Some(known), Some(approved)) => approved.push((*known).clone()),
                (None, _) => faults.push(LineFault {
                    line: row.line,
                    fault: ImportFault::NoSuch {
                        column: "approved",
                        nearest: unknown.near(name, profiles.keys().map(ProfileName::as_str)),
                    },
                }),
                (Some(_), None) => {}
            }
        }
        let frame = FrameCells {
            width: row.width,
            length: row.length,
            rails: row.rails,
            outlet: row.outlet,
            outlet_tested: row.outlet_tested,
            approved,
        };
        if frame != FrameCells::default() {
            frames.add(frame, Bed::from(row.bed.as_str()));
        }
    }
    frames
}

/// Beds by what their rows have in common, in the order in which it was first said.
struct Grouped<Of> {
    groups: Vec<(Of, Vec<Bed>)>,
    places: BTreeMap<Of, usize>,
}

impl<Of> Default for Grouped<Of> {
    fn default() -> Self {
        Self {
            groups: Vec::new(),
            places: BTreeMap::new(),
        }
    }
}

impl<Of: Clone + Ord> Grouped<Of> {
    fn add(&mut self, of: Of, bed: Bed) {
        match self.places.get(&of) {
            Some(place) => self.groups[*place].1.push(bed),
            None => {
                self.places.insert(of.clone(), self.groups.len());
                self.groups.push((of, vec![bed]));
            }
        }
    }
}

/// What rows may mean by names that nothing has. To look for it costs as much as there are names, and no more faults are shown.
#[derive(Default)]
struct Meant(usize);

impl Meant {
    fn near<'a>(&mut self, text: &str, names: impl Iterator<Item = &'a str>) -> Option<String> {
        self.0 += 1;
        (self.0 <= import::FAULTS_MAX).then(|| near(text, names))?
    }
}

/// Names by how they would be taken.
fn by_fold<'a, Name>(
    names: impl Iterator<Item = (&'a str, &'a Name)>,
) -> BTreeMap<String, &'a Name> {
    names
        .map(|(text, name)| (nearest::fold(text), name))
        .collect()
}

fn surfaces(asked: &Asked<'_>, draft: &mut Draft, file: Scanned<SurfaceRow>) -> Done {
    let state = asked.state;
    let Scanned {
        imported: file,
        mut faults,
        more,
    } = file;
    let taken: BTreeMap<String, (&Tag, &Surface)> = state
        .surfaces
        .iter()
        .map(|(tag, surface)| (nearest::fold(tag.as_str()), (tag, surface)))
        .collect();
    let of_serial: BTreeMap<(&ProfileName, String), &Tag> = state
        .surfaces
        .iter()
        .filter_map(|(tag, surface)| {
            let serial = surface.serial.as_deref()?;
            Some(((&surface.profile, nearest::fold(serial)), tag))
        })
        .collect();
    let beds = by_fold(state.bed_units.keys().map(|bed| (bed.as_str(), bed)));
    let profiles = by_fold(state.profiles.keys().map(|name| (name.as_str(), name)));
    let (mut unknown_profiles, mut unknown_beds) = (Meant::default(), Meant::default());
    let today = asked.facility.zone.local(asked.now).date();
    // The fleet that a home begins with is under its residents already; after that a surface is placed by whoever may.
    let may_place = state.under.is_empty() || authorize(state, asked.ask, Right::Place).is_ok();
    let mut rows = Vec::new();
    for row in &file.rows {
        let mut fault = |fault| {
            faults.push(LineFault {
                line: row.line,
                fault,
            })
        };
        // What did not read is a fault already.
        if !row.tag.is_empty() && tag(&row.tag).is_none() {
            fault(ImportFault::BadName {
                column: "tag",
                most: TAG_CHARS_MAX,
            });
        }
        if let Some(bed) = beds.get(&nearest::fold(&row.tag)) {
            fault(ImportFault::TagIsBed {
                bed: bed.to_string(),
            });
        }
        if let Some(found) = identifies(&row.tag) {
            fault(ImportFault::Guarded {
                column: "tag",
                found,
            });
        }
        if let Some((there, surface)) = taken.get(&nearest::fold(&row.tag)) {
            let tag = there.to_string();
            fault(match surface.life {
                Life::Retired { .. } => ImportFault::TagRetired { tag },
                Life::Placed { .. }
                | Life::Soiled(_)
                | Life::Ready { .. }
                | Life::OutOfService { .. } => ImportFault::TagTaken { tag },
            });
        }
        for (column, day) in [
            ("filter_changed", row.filter_changed),
            ("in_service", row.in_service),
            ("tested", row.tested),
        ] {
            if day.is_some_and(|day| day > today) {
                fault(ImportFault::DateAhead { column });
            }
        }
        let profile = profiles.get(&nearest::fold(&row.profile)).copied();
        if let (Some(profile), Some(serial)) = (&profile, &row.serial)
            && let Some(other) = of_serial.get(&(profile, nearest::fold(serial)))
            && nearest::fold(other.as_str()) != nearest::fold(&row.tag)
        {
            fault(ImportFault::SerialTaken {
                tag: other.to_string(),
            });
        }
        if profile.is_none() && !row.profile.is_empty() {
            let names = state.profiles.keys().map(ProfileName::as_str);
            fault(ImportFault::NoSuch {
                column: "profile",
                nearest: unknown_profiles.near(&row.profile, names),
            });
        }
        if row.bed.is_some() && !may_place {
            fault(ImportFault::NurseMustPlace);
        }
        let bed = match &row.bed {
            None => None,
            Some(bed) => match state.bed_units.get_key_value(bed.as_str()) {
                None => {
                    fault(ImportFault::NoSuch {
                        column: "bed",
                        nearest: unknown_beds.near(bed, state.bed_units.keys().map(Bed::as_str)),
                    });
                    None
                }
                Some((bed, _)) => {
                    if let Some(other) = state.under.get(bed) {
                        fault(ImportFault::BedTaken {
                            bed: bed.to_string(),
                            tag: other.to_string(),
                        });
                    }
                    Some(bed)
                }
            },
        };
        rows.push((row, profile, bed));
    }
    rejected(faults, more)?;
    for (row, profile, bed) in rows {
        let Some(profile) = profile else { continue };
        let Some(tag) = tag(&row.tag) else {
            continue;
        };
        draft.fact(Body::SurfaceAdded {
            tag: tag.clone(),
            profile: profile.clone(),
            serial: row.serial.clone(),
            lot: row.lot.clone(),
            owned: row.owned,
            daily_cents: row.daily_rate_cents.map(i64::from),
            start: row.state,
            filter_changed: row.filter_changed,
            in_service: row.in_service,
            tested: row.tested,
        });
        if let Some(bed) = bed {
            draft.fact(Body::Placed {
                tag: tag.clone(),
                bed: bed.clone(),
                instead_of: None,
            });
        }
        // What is recalled is turned over once it has been corrected.
        let recalled = recall::join(asked, draft, &tag, profile, row.lot.as_deref());
        if !recalled && row.state == Start::Soiled && bed.is_none() {
            turnover::open_for(asked, draft, &tag, filter_of(asked, profile));
        }
    }
    Ok((file.rows.len(), file.extra_columns))
}

/// What can be done with the filter of a profile.
fn filter_of(asked: &Asked<'_>, profile: &ProfileName) -> FilterKind {
    asked
        .state
        .profiles
        .get(profile)
        .map_or(FilterKind::Replaceable, |profile| profile.filter)
}

/// All that is wrong with a file, by line: what it says by itself, and what does not fit the facility.
fn rejected(mut faults: Vec<LineFault>, more: usize) -> Result<(), Rejected> {
    if faults.is_empty() {
        return Ok(());
    }
    faults.sort_by_key(|fault| fault.line);
    let more = more + faults.len().saturating_sub(import::FAULTS_MAX);
    faults.truncate(import::FAULTS_MAX);
    Err(Rejected { faults, more })
}

fn near<'a>(text: &str, names: impl Iterator<Item = &'a str>) -> Option<String> {
    match nearest::find(text, names) {
        nearest::Match::One(name) => Some(name.to_owned()),
        nearest::Match::Several(names) | nearest::Match::Nearest(names) => {
            names.first().map(|name| (*name).to_owned())
        }
    }
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

fn too_large() -> Refusal {
    Refusal::new("fault-file-large").number("most", (import::FILE_BYTES_MAX / 1024 / 1024) as i64)
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

/// A file that is refused: each fault with its line and what to write instead.
fn rejection(lang: Lang, rejected: &Rejected) -> String {
    let total = rejected.faults.len() + rejected.more;
    let mut lines = vec![say!(lang, "import-refused", count = total as i64)];
    for LineFault { line, fault } in rejected.faults.iter().take(FAULTS_SHOWN) {
        let what = import_fault(fault).say(lang);
        lines.push(match line {
            0 => what,
            line => say!(lang, "import-line", line = *line as i64, fault = what),
        });
    }
    if total > FAULTS_SHOWN {
        lines.push(say!(
            lang,
            "import-more-faults",
            count = (total - FAULTS_SHOWN) as i64
        ));
    }
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    text
}

fn import_fault(fault: &ImportFault) -> Refusal {
    let plain = super::check::escaped;
    match fault {
        ImportFault::Empty => Refusal::new("csv-empty"),
        ImportFault::NoRows => Refusal::new("csv-no-rows"),
        ImportFault::TooLarge { most_bytes } => {
            Refusal::new("fault-file-large").number("most", (most_bytes / 1024 / 1024) as i64)
        }
        ImportFault::TooManyRows { most } => {
            Refusal::new("csv-too-many-rows").number("most", *most as i64)
        }
        ImportFault::NotUtf8 => Refusal::new("csv-not-utf8"),
        ImportFault::Workbook => Refusal::new("csv-workbook"),
        ImportFault::MissingColumn {
            column,
            nearest: Some(near),
        } => Refusal::new("csv-missing-column-near")
            .text("column", column)
            .text("near", plain(near)),
        ImportFault::MissingColumn {
            column,
            nearest: None,
        } => Refusal::new("csv-missing-column").text("column", column),
        ImportFault::MisnamedColumn { column, found } => Refusal::new("csv-missing-column-near")
            .text("column", column)
            .text("near", plain(found)),
        // Only the state of a surface may be left out by some rows and not by others.
        ImportFault::AbsentColumn { column, first_line } => Refusal::new("csv-absent-column")
            .text("column", column)
            .number("line", *first_line as i64)
            .text(
                "words",
                Start::ALL
                    .iter()
                    .map(|one| one.as_str())
                    .collect::<Vec<_>>()
                    .join(", "),
            ),
        ImportFault::ColumnTwice { column } => {
            Refusal::new("csv-column-twice").text("column", column)
        }
        ImportFault::CellCount { expected, found } => Refusal::new("csv-cell-count")
            .number("expected", *expected as i64)
            .number("found", *found as i64),
        ImportFault::BreakInCell => Refusal::new("csv-break-in-cell"),
        ImportFault::Blank { column } => Refusal::new("csv-blank").text("column", column),
        ImportFault::NotOneOf {
            column,
            words,
            nearest,
        } => {
            let near = nearest.map_or_else(|| words.join(", "), ToOwned::to_owned);
            Refusal::new("csv-not-one-of")
                .text("column", column)
                .text("words", near)
        }
        ImportFault::NotANumber { column } => {
            Refusal::new("csv-not-a-number").text("column", column)
        }
        ImportFault::NotALoad { column } => Refusal::new("csv-not-a-load").text("column", column),
        ImportFault::OutOfRange {
            column,
            least,
            most,
        } => Refusal::new("csv-out-of-range")
            .text("column", column)
            .number("least", i64::from(*least))
            .number("most", i64::from(*most)),
        ImportFault::NotADate { column } => Refusal::new("csv-not-a-date").text("column", column),
        ImportFault::BadName { column, most } => Refusal::new("csv-bad-name")
            .text("column", column)
            .number("most", *most as i64),
        ImportFault::BadSettings => Refusal::new("csv-bad-settings"),
        ImportFault::BadBand => Refusal::new("csv-bad-band"),
        ImportFault::FilterDaysBackwards => Refusal::new("csv-filter-days"),
        ImportFault::SoiledUnderBed => Refusal::new("csv-soiled-under-bed"),
        ImportFault::Twice { column, first_line } => Refusal::new("csv-twice")
            .text("column", column)
            .number("line", *first_line as i64),
        ImportFault::BedIsTag { tag } => Refusal::new("fault-bed-is-tag").text("tag", tag),
        ImportFault::NurseMustPlace => Refusal::new("csv-nurse-must-place"),
        ImportFault::TooManyToAsk { most } => {
            Refusal::new("csv-too-many-to-ask").number("most", *most as i64)
        }
        ImportFault::Reserved { name } => Refusal::new("csv-reserved").text("name", name),
        ImportFault::Guarded { column, found } => Refusal::new("csv-private")
            .text("column", column)
            .keys("what", [format!("private-{}", found.as_str())]),
        ImportFault::TagIsBed { bed } => Refusal::new("fault-tag-is-bed").text("bed", bed),
        ImportFault::DateAhead { column } => Refusal::new("csv-date-ahead").text("column", column),
        ImportFault::SerialTaken { tag } => Refusal::new("csv-serial-taken").text("tag", tag),
        ImportFault::TagRetired { tag } => Refusal::new("csv-tag-retired").text("tag", tag),
        ImportFault::TagTaken { tag } => Refusal::new("csv-tag-taken").text("tag", tag),
        ImportFault::NoSuch {
            column,
            nearest: Some(near),
        } => Refusal::new("csv-no-such-near")
            .text("column", column)
            .text("near", near),
        ImportFault::NoSuch {
            column,
            nearest: None,
        } => Refusal::new("csv-no-such").text("column", column),
        ImportFault::BedTaken { bed, tag } => Refusal::new("fault-bed-taken")
            .text("bed", bed)
            .text("tag", tag),
        ImportFault::Elsewhere {
            bed,
            unit,
            to,
            beds,
        } => Refusal::new("csv-bed-elsewhere")
            .text("bed", bed)
            .text("unit", unit)
            .text("to", to)
            .text("beds", beds),
    }
}
