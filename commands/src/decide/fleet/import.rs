//! Files of the register: `/fleet import`. Decides whether rows that a file spells well also fit this facility: all of
//! them go in, or none. Leaves the spelling to `rules::import`, profiles to `profiles`, and what a refused file is told to
//! `refused`.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::super::draft::{Asked, Draft};
use super::super::{check, facility, frame, recall, turnover, wish};
use super::refused::{FAULTS_SHOWN, rejection};
use super::{filter_of, identifies, profiles, tag, way_back};
use crate::choice::{Import, Outlet, Owned, Rails, Start};
use crate::decision::Decision;
use crate::ids::{Bed, ProfileName, Tag, Unit};
use crate::message::{Answer, BUTTONS_MAX, Message};
use crate::record::{Body, Wish};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::authorize;
use crate::rules::air::Tenths;
use crate::rules::guard::{self, Field, Found};
use crate::rules::import::{self, BedRow, ImportFault, LineFault, Rejected, Scanned, SurfaceRow};
use crate::rules::{self, nearest};
use crate::said::{FetchFault, FileRef};
use crate::say;
use crate::state::{Life, Surface, UnitState};
use crate::tap::{TAG_CHARS_MAX, UNIT_BYTES_MAX};
use crate::words::Lang;

/// How many rows went in, and the columns that nothing reads.
pub(super) type Done = Result<(usize, Vec<String>), Rejected>;

/// `/fleet import`, before its file has been fetched: whoever asks may, so let it be fetched.
pub(in crate::decide) fn fetch(file: &FileRef) -> Result<Decision, Refusal> {
    if file.size > import::FILE_BYTES_MAX as u64 {
        return Err(too_large());
    }
    Ok(Decision {
        answer: Some(Answer::Fetch(file.url.clone())),
        ..Decision::default()
    })
}

/// `/fleet import`, with its file.
pub(in crate::decide) fn import(
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
                    columns = check::escaped(&extra.join(", "))
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
    let mut text = say!(
        asked.state.lang(),
        "told-imported-placed",
        count = count,
        tags = tags.join(", "),
        who = super::super::draft::person(asked.ask.who)
    );
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

/// All that is wrong with a file, by line: what it says by itself, and what does not fit the facility.
pub(super) fn rejected(mut faults: Vec<LineFault>, more: usize) -> Result<(), Rejected> {
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

fn too_large() -> Refusal {
    Refusal::new("fault-file-large").number("most", (import::FILE_BYTES_MAX / 1024 / 1024) as i64)
}
