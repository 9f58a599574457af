//! The three kinds of row: which columns they have, what each cell may be, and what may not stand twice.

use std::collections::HashMap;

use super::cells;
use super::read::{Column, Faults, Line, sheet};
use super::{
    BUILT_IN_PROFILE, BedRow, FilterKind, FirstFill, ImportFault, Imported, NUMBER_CHARS_MAX,
    Outlet, Owned, ProfileRow, Rails, Rejected, Scanned, SettingStep, Start, SurfaceRow, YesNo,
};
use crate::rules::hand_check::{Band, Check, Class, Kind};
use crate::rules::{beds as bed_names, nearest};
use crate::tap::{TAG_CHARS_MAX, UNIT_BYTES_MAX};

/// The longest names, in characters.
const PROFILE_MAX: usize = 40;
const SETTING_MAX: usize = 8;

/// What can be: no bed, filter or person is beyond these.
const FILL_MINUTES_MAX: u32 = 240;
const FILTER_DAYS_MAX: u32 = 730;
const HOLDS_MINUTES_MAX: u32 = 2_880;
const SERVICE_DAYS_MAX: u32 = 1_825;
const WIDTH_IN_MAX: u32 = 80;
const LENGTH_IN_MAX: u32 = 120;
const CAPACITY_LB_MAX: u32 = 2000;
const FRAME_IN_LEAST: u32 = 20;
const FRAME_IN_MOST: u32 = 120;
const STEPS_MAX: usize = 30;
const AIR_IN_MAX: u32 = 8;
const DAILY_RATE_MAX: u32 = 10_000;

/// Reads a cell of a list of words.
macro_rules! word {
    ($words:ty, $column:literal, $cell:expr) => {
        cells::word(
            $column,
            $cell,
            <$words>::from_text,
            <$words>::ALL,
            <$words>::as_str,
        )
    };
}

const fn required(name: &'static str) -> Column {
    Column {
        name,
        required: true,
    }
}

const fn optional(name: &'static str) -> Column {
    Column {
        name,
        required: false,
    }
}

/// Reads one row after another; a row's faults are all told. What reads well of a row with faults may come along, so that
/// the caller tells what does not fit the facility in the same answer.
fn rows<Row>(
    bytes: &[u8],
    columns: &[Column],
    mut read: impl FnMut(&Line, &mut RowFaults<'_>) -> Option<Row>,
) -> Result<Scanned<Row>, Rejected> {
    let mut faults = Faults::default();
    let sheet = sheet(bytes, columns, &mut faults)?;
    let mut rows = Vec::with_capacity(sheet.lines.len());
    for line in &sheet.lines {
        let mut row_faults = RowFaults {
            line: line.number,
            faults: &mut faults,
        };
        rows.extend(read(line, &mut row_faults));
    }
    Ok(faults.with(Imported {
        rows,
        extra_columns: sheet.extra_columns,
    }))
}

struct RowFaults<'a> {
    line: u64,
    faults: &'a mut Faults,
}

impl RowFaults<'_> {
    fn add(&mut self, fault: ImportFault) {
        self.faults.add(self.line, fault);
    }

    /// The value, or its fault told and nothing.
    fn take<T>(&mut self, cell: Result<T, ImportFault>) -> Option<T> {
        cell.map_err(|fault| self.add(fault)).ok()
    }

    /// Tells a name that an earlier row has; two ways of writing one name are one name.
    fn once(&mut self, column: &'static str, name: &str, seen: &mut HashMap<String, u64>) {
        let line = self.line;
        let first_line = *seen.entry(nearest::fold(name)).or_insert(line);
        if first_line != line {
            self.add(ImportFault::Twice { column, first_line });
        }
    }
}

/// Columns of a file of profiles.
pub(super) const PROFILES: [Column; 18] = [
    required("profile"),
    required("class"),
    required("kind"),
    required("check"),
    required("filter"),
    optional("first_fill"),
    optional("fill_minutes"),
    optional("filter_check_days"),
    optional("filter_max_days"),
    optional("width_in"),
    optional("length_in"),
    optional("capacity_lb"),
    optional("settings"),
    optional("low_in"),
    optional("high_in"),
    optional("holds_minutes"),
    optional("cover_opens"),
    optional("service_days"),
];

pub(super) fn profiles(bytes: &[u8]) -> Result<Scanned<ProfileRow>, Rejected> {
    let mut seen = HashMap::new();
    rows(bytes, &PROFILES, |line, faults| {
        let profile = faults.take(cells::model("profile", line.cell(0), PROFILE_MAX));
        if let Some(profile) = &profile {
            faults.once("profile", profile, &mut seen);
            if nearest::fold(profile) == BUILT_IN_PROFILE {
                faults.add(ImportFault::Reserved {
                    name: BUILT_IN_PROFILE,
                });
            }
        }
        let class = faults.take(word!(Class, "class", line.cell(1)));
        let kind = faults.take(word!(Kind, "kind", line.cell(2)));
        let check = faults.take(word!(Check, "check", line.cell(3)));
        let filter = faults.take(word!(FilterKind, "filter", line.cell(4)));
        let first_fill = match line.cell(5) {
            "" => Some(None),
            cell => faults.take(word!(FirstFill, "first_fill", cell)).map(Some),
        };
        let fill_minutes = faults.take(cells::whole(
            "fill_minutes",
            line.cell(6),
            1,
            FILL_MINUTES_MAX,
        ));
        let filter_check_days = faults.take(cells::whole(
            "filter_check_days",
            line.cell(7),
            1,
            FILTER_DAYS_MAX,
        ));
        let filter_max_days = faults.take(cells::whole(
            "filter_max_days",
            line.cell(8),
            1,
            FILTER_DAYS_MAX,
        ));
        if let (Some(Some(check)), Some(Some(most))) = (filter_check_days, filter_max_days)
            && check > most
        {
            faults.add(ImportFault::FilterDaysBackwards);
        }
        let width = faults.take(cells::inches("width_in", line.cell(9), 1, WIDTH_IN_MAX));
        let length = faults.take(cells::inches("length_in", line.cell(10), 1, LENGTH_IN_MAX));
        let capacity_lb = faults.take(cells::pounds("capacity_lb", line.cell(11), CAPACITY_LB_MAX));
        let settings = faults.take(settings(line.cell(12)));
        let band = faults.take(band(line.cell(13), line.cell(14)));
        let holds_minutes = faults.take(cells::whole(
            "holds_minutes",
            line.cell(15),
            0,
            HOLDS_MINUTES_MAX,
        ));
        let cover_opens = match line.cell(16) {
            "" => Some(None),
            cell => faults.take(word!(YesNo, "cover_opens", cell)).map(Some),
        };
        let service_days = faults.take(cells::whole(
            "service_days",
            line.cell(17),
            1,
            SERVICE_DAYS_MAX,
        ));
        Some(ProfileRow {
            line: line.number,
            profile: profile?,
            class: class?,
            kind: kind?,
            check: check?,
            first_fill: first_fill?,
            fill_minutes: fill_minutes?,
            filter: filter?,
            filter_check_days: filter_check_days?,
            filter_max_days: filter_max_days?,
            width: width?,
            length: length?,
            capacity_lb: capacity_lb?,
            settings: settings?,
            band: band?,
            holds_minutes: holds_minutes?,
            cover_opens: cover_opens?.map(|word| word == YesNo::Yes),
            service_days: service_days?,
        })
    })
}

/// Columns of a file of beds.
pub(super) const BEDS: [Column; 8] = [
    required("unit"),
    required("bed"),
    optional("frame_width_in"),
    optional("frame_length_in"),
    optional("rails"),
    optional("outlet"),
    optional("outlet_tested"),
    optional("approved"),
];

pub(super) fn beds(bytes: &[u8]) -> Result<Scanned<BedRow>, Rejected> {
    let mut seen = HashMap::new();
    rows(bytes, &BEDS, |line, faults| {
        let unit = faults.take(cells::name("unit", line.cell(0), UNIT_BYTES_MAX));
        let bed = faults.take(
            bed(line.cell(1)).and_then(|bed| bed.ok_or(ImportFault::Blank { column: "bed" })),
        );
        if let Some(bed) = &bed {
            faults.once("bed", bed, &mut seen);
        }
        let width = faults.take(cells::inches(
            "frame_width_in",
            line.cell(2),
            FRAME_IN_LEAST,
            FRAME_IN_MOST,
        ));
        let length = faults.take(cells::inches(
            "frame_length_in",
            line.cell(3),
            FRAME_IN_LEAST,
            FRAME_IN_MOST,
        ));
        let rails = match line.cell(4) {
            "" => Some(None),
            cell => faults.take(word!(Rails, "rails", cell)).map(Some),
        };
        let outlet = match line.cell(5) {
            "" => Some(None),
            cell => faults.take(word!(Outlet, "outlet", cell)).map(Some),
        };
        let outlet_tested = faults.take(cells::date("outlet_tested", line.cell(6)));
        Some(BedRow {
            line: line.number,
            unit: unit.unwrap_or_default(),
            bed: bed.unwrap_or_default(),
            width: width.flatten(),
            length: length.flatten(),
            rails: rails.flatten(),
            outlet: outlet.flatten(),
            outlet_tested: outlet_tested.flatten(),
            approved: approved(line.cell(7)),
        })
    })
}

/// Names with `;` between; `all` is the empty list, which approves all.
fn approved(cell: &str) -> Option<Vec<String>> {
    if cell.trim().is_empty() {
        return None;
    }
    if nearest::fold(cell) == "all" {
        return Some(Vec::new());
    }
    let names = cell.split([';', '|']).map(str::trim);
    Some(
        names
            .filter(|name| !name.is_empty())
            .map(str::to_owned)
            .collect(),
    )
}

/// Columns of a file of surfaces.
pub(super) const SURFACES: [Column; 11] = [
    required("tag"),
    required("profile"),
    optional("owned"),
    optional("state"),
    optional("serial"),
    optional("lot"),
    optional("daily_rate"),
    optional("bed"),
    optional("filter_changed"),
    optional("in_service"),
    optional("tested"),
];

pub(super) fn surfaces(bytes: &[u8]) -> Result<Scanned<SurfaceRow>, Rejected> {
    let (mut tags, mut under) = (HashMap::new(), HashMap::new());
    let mut serials = HashMap::new();
    rows(bytes, &SURFACES, |line, faults| {
        let tag = faults.take(cells::name("tag", line.cell(0), TAG_CHARS_MAX));
        if let Some(tag) = &tag {
            faults.once("tag", tag, &mut tags);
        }
        let profile = faults.take(cells::name("profile", line.cell(1), PROFILE_MAX));
        let owned = match line.cell(2) {
            "" => Some(Owned::Owned),
            cell => faults.take(word!(Owned, "owned", cell)),
        };
        let serial = faults.take(cells::register_number(
            "serial",
            line.cell(4),
            NUMBER_CHARS_MAX,
        ));
        // Two makers may give the same number: it is one number with its profile.
        if let (Some(profile), Some(Some(serial))) = (&profile, &serial) {
            faults.once("serial", &format!("{profile} / {serial}"), &mut serials);
        }
        let lot = faults.take(cells::register_number(
            "lot",
            line.cell(5),
            NUMBER_CHARS_MAX,
        ));
        let daily_rate_cents =
            faults.take(cells::cents("daily_rate", line.cell(6), DAILY_RATE_MAX));
        let bed = faults.take(bed(line.cell(7)));
        if let Some(Some(bed)) = &bed {
            faults.once("bed", bed, &mut under);
        }
        let state = match (line.cell(3), &bed) {
            ("", Some(Some(_))) => Some(Start::Ready),
            (cell, _) => faults.take(word!(Start, "state", cell)),
        };
        if let (Some(Start::Soiled), Some(Some(_))) = (state, &bed) {
            faults.add(ImportFault::SoiledUnderBed);
        }
        let filter_changed = faults.take(cells::date("filter_changed", line.cell(8)));
        let in_service = faults.take(cells::date("in_service", line.cell(9)));
        let tested = faults.take(cells::date("tested", line.cell(10)));
        Some(SurfaceRow {
            line: line.number,
            tag: tag.unwrap_or_default(),
            profile: profile.unwrap_or_default(),
            serial: serial.flatten(),
            lot: lot.flatten(),
            owned: owned.unwrap_or(Owned::Owned),
            daily_rate_cents: daily_rate_cents.flatten(),
            state: state.unwrap_or(Start::Soiled),
            bed: bed.flatten(),
            filter_changed: filter_changed.flatten(),
            in_service: in_service.flatten(),
            tested: tested.flatten(),
        })
    })
}

fn bed(cell: &str) -> Result<Option<String>, ImportFault> {
    if cell.is_empty() {
        return Ok(None);
    }
    let fault = ImportFault::BadName {
        column: "bed",
        most: bed_names::BED_NAME_MAX,
    };
    bed_names::name(cell).map(Some).map_err(|_| fault)
}

/// `120:1;160:2`, weights rising.
fn settings(cell: &str) -> Result<Vec<SettingStep>, ImportFault> {
    let mut steps: Vec<SettingStep> = Vec::new();
    for piece in cell
        .split([';', '|'])
        .map(str::trim)
        .filter(|piece| !piece.is_empty())
    {
        let (weight, setting) = piece.split_once(':').ok_or(ImportFault::BadSettings)?;
        let up_to_lb: u32 = weight
            .trim()
            .parse()
            .map_err(|_| ImportFault::BadSettings)?;
        let setting = setting.trim();
        let rising = steps.last().is_none_or(|last| last.up_to_lb < up_to_lb);
        let shaped = (1..=SETTING_MAX).contains(&setting.chars().count())
            && setting.chars().all(char::is_alphanumeric);
        if !rising
            || !shaped
            || up_to_lb == 0
            || up_to_lb > CAPACITY_LB_MAX
            || steps.len() == STEPS_MAX
        {
            return Err(ImportFault::BadSettings);
        }
        steps.push(SettingStep {
            up_to_lb,
            setting: setting.to_owned(),
        });
    }
    Ok(steps)
}

fn band(low: &str, high: &str) -> Result<Option<Band>, ImportFault> {
    let low = cells::inches("low_in", low, 0, AIR_IN_MAX)?;
    let high = cells::inches("high_in", high, 0, AIR_IN_MAX)?;
    match (low, high) {
        (None, None) => Ok(None),
        (Some(low), Some(high)) => Band::new(low, high)
            .map(Some)
            .map_err(|_| ImportFault::BadBand),
        (Some(_), None) | (None, Some(_)) => Err(ImportFault::BadBand),
    }
}
