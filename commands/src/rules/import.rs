//! Reads the register from CSV: bytes in, and typed rows or every fault with its line out.
//!
//! Decides what a file says by itself: columns, values, doubles within it. Whether a named profile or bed
//! exists is left to the caller, who knows the facility; each row has its line for that. All rows or none.

use chrono::NaiveDate;

use super::air::Tenths;
use super::guard::Found;
use super::hand_check::{Band, Check, Class, Kind};
use super::named::named_enum;
use crate::choice::{FilterKind, FirstFill, Import, Outlet, Owned, Rails, Start};

mod cells;
pub(crate) use cells::is_name;
mod read;
mod rows;

/// The largest file that is read.
pub const FILE_BYTES_MAX: usize = 2 * 1024 * 1024;

/// The most rows that are read, without the header.
pub const ROWS_MAX: usize = 20_000;

/// The most faults that are listed; the rest are counted.
pub const FAULTS_MAX: usize = 50;

/// The longest serial or lot number, in characters.
pub(crate) const NUMBER_CHARS_MAX: usize = 40;

/// The name of the built-in profile, which no file may bring.
pub const BUILT_IN_PROFILE: &str = "general";

/// The columns that a file may have, in words: those that must be there, and the others.
#[must_use]
pub fn columns(what: Import) -> (Vec<&'static str>, Vec<&'static str>) {
    let all: &[read::Column] = match what {
        Import::Profiles => &rows::PROFILES,
        Import::Beds => &rows::BEDS,
        Import::Surfaces => &rows::SURFACES,
    };
    let (must, may): (Vec<_>, Vec<_>) = all.iter().partition(|column| column.required);
    let names = |of: Vec<&read::Column>| of.iter().map(|column| column.name).collect();
    (names(must), names(may))
}

/// Rows as read, and what should be said about the file all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Imported<Row> {
    /// The rows, in the order of the file.
    pub rows: Vec<Row>,
    /// Columns that were not understood and not read, as written, shortened.
    pub extra_columns: Vec<String>,
}

/// A file as read so far: its rows, and every fault of its own. Of a row with faults, what does not read stands there
/// empty; whoever knows the facility looks at the rest, adds what does not fit and refuses all together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scanned<Row> {
    /// The rows.
    pub imported: Imported<Row>,
    /// What is wrong, by line.
    pub faults: Vec<LineFault>,
    /// How many faults were found beyond those listed.
    pub more: usize,
}

impl<Row> Scanned<Row> {
    /// The rows, where the file itself has no fault.
    ///
    /// # Errors
    /// [`Rejected`] with every fault that was found.
    pub fn all_or_none(self) -> Result<Imported<Row>, Rejected> {
        if self.faults.is_empty() {
            return Ok(self.imported);
        }
        Err(Rejected {
            faults: self.faults,
            more: self.more,
        })
    }
}

/// A file that is refused as a whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rejected {
    /// What is wrong, by line.
    pub faults: Vec<LineFault>,
    /// How many faults were found beyond those listed.
    pub more: usize,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineFault {
    /// The line in the file, the header being 1; 0 where it is the whole file.
    pub line: u64,
    /// What is wrong there.
    pub fault: ImportFault,
}

/// What is wrong, and what a sentence needs to say what to type instead. Never a cell's text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ImportFault {
    /// A bed that is named like a surface's tag.
    BedIsTag {
        /// The tag.
        tag: String,
    },
    /// A bed for a surface, by somebody who may not place one.
    NurseMustPlace,
    /// More changes that wait for somebody else than one file may ask for.
    TooManyToAsk {
        /// The most.
        most: usize,
    },
    /// Nothing in the file.
    Empty,
    /// A header and no rows.
    NoRows,
    /// Larger than is read.
    TooLarge {
        /// The most bytes.
        most_bytes: usize,
    },
    /// More rows than are read.
    TooManyRows {
        /// The most rows.
        most: usize,
    },
    /// Bytes that are no UTF-8: save the file as "CSV UTF-8".
    NotUtf8,
    /// A workbook of a spreadsheet program, whatever its name: save it as "CSV UTF-8".
    Workbook,
    /// A column that must be there is not.
    MissingColumn {
        /// Its name.
        column: &'static str,
        /// The column of the file that may have been meant.
        nearest: Option<String>,
    },
    /// A column that may be left out is not there, and one nearly named so is.
    MisnamedColumn {
        /// Its right name.
        column: &'static str,
        /// What the file calls it.
        found: String,
    },
    /// A column that may be left out is not there, and rows need it.
    AbsentColumn {
        /// Its name.
        column: &'static str,
        /// The line of the first row that needs it.
        first_line: u64,
    },
    /// A column twice.
    ColumnTwice {
        /// Its name.
        column: &'static str,
    },
    /// A row with more or fewer cells than the header.
    CellCount {
        /// Cells in the header.
        expected: usize,
        /// Cells in the row.
        found: usize,
    },
    /// A line break inside of a cell, often a quotation mark that is not closed.
    BreakInCell,
    /// Nothing where something must be.
    Blank {
        /// The column.
        column: &'static str,
    },
    /// Not one of the words that may stand there.
    NotOneOf {
        /// The column.
        column: &'static str,
        /// The words.
        words: Vec<&'static str>,
        /// The word that may have been meant.
        nearest: Option<&'static str>,
    },
    /// Not a number, or not a whole one where it must be.
    NotANumber {
        /// The column.
        column: &'static str,
    },
    /// Not a load in pounds or kilograms.
    NotALoad {
        /// The column.
        column: &'static str,
    },
    /// A number outside of what can be.
    OutOfRange {
        /// The column.
        column: &'static str,
        /// The least.
        least: u32,
        /// The most.
        most: u32,
    },
    /// Not a date as `2026-03-08`.
    NotADate {
        /// The column.
        column: &'static str,
    },
    /// Not a name of the allowed letters, or too long.
    BadName {
        /// The column.
        column: &'static str,
        /// The most characters.
        most: usize,
    },
    /// Not a table of settings as `120:1;160:2` with rising weights.
    BadSettings,
    /// Limits that are no band: both or neither, and low before high.
    BadBand,
    /// The look-at-least-every is longer than the change-at-least-every.
    FilterDaysBackwards,
    /// A soiled surface under a bed.
    SoiledUnderBed,
    /// What an earlier row has already.
    Twice {
        /// The column.
        column: &'static str,
        /// The earlier row's line.
        first_line: u64,
    },
    /// The name of the built-in profile.
    Reserved {
        /// The name.
        name: &'static str,
    },
    /// A day that is still to come, where something is said to have been done. Found by the caller, as the next seven are.
    DateAhead {
        /// The column.
        column: &'static str,
    },
    /// A serial number that a surface of that profile has already.
    SerialTaken {
        /// That surface.
        tag: String,
    },
    /// A tag of a surface that was retired.
    TagRetired {
        /// The tag.
        tag: String,
    },
    /// A tag that is in the facility's register already. Found by the caller, as the next four are.
    TagTaken {
        /// The tag.
        tag: String,
    },
    /// A tag that reads as one of the facility's beds.
    TagIsBed {
        /// The bed.
        bed: String,
    },
    /// A name that the facility does not know.
    NoSuch {
        /// The column.
        column: &'static str,
        /// The name that may have been meant.
        nearest: Option<String>,
    },
    /// A bed that another surface is under.
    BedTaken {
        /// The bed.
        bed: String,
        /// That surface.
        tag: String,
    },
    /// A bed that is in another unit.
    Elsewhere {
        /// The bed.
        bed: String,
        /// That unit.
        unit: String,
        /// The unit that the row names.
        to: String,
        /// The beds that this unit would have with it.
        beds: String,
    },
    /// Something that could identify a person.
    Guarded {
        /// The column.
        column: &'static str,
        /// The kind of it.
        found: Found,
    },
}

/// One step of the maker's table: up to so much weight, this setting.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct SettingStep {
    /// The most weight for it, in pounds.
    pub up_to_lb: u32,
    /// The setting, as the control unit shows it.
    pub setting: String,
}

named_enum! {
    /// Yes or no, in a cell.
    pub enum YesNo {
        /// Yes.
        Yes = "yes",
        /// No.
        No = "no",
    }
}

/// What one make and model needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProfileRow {
    /// Its line in the file.
    pub line: u64,
    /// The name that the facility gives it.
    pub profile: String,
    /// How it sits on the bed.
    pub class: Class,
    /// What it does with its air.
    pub kind: Kind,
    /// The check that its maker wants.
    pub check: Check,
    /// How it is first filled.
    pub first_fill: Option<FirstFill>,
    /// How long the first fill takes, in minutes.
    pub fill_minutes: Option<u32>,
    /// Its filter.
    pub filter: FilterKind,
    /// Look at the filter at least every so many days.
    pub filter_check_days: Option<u32>,
    /// Replace or rinse it at least every so many days: the maker's limit.
    pub filter_max_days: Option<u32>,
    /// Its width.
    pub width: Option<Tenths>,
    /// Its length.
    pub length: Option<Tenths>,
    /// The most weight that it is made for, in pounds.
    pub capacity_lb: Option<u32>,
    /// The maker's table of settings, weights rising; empty where none was entered.
    pub settings: Vec<SettingStep>,
    /// Its own band of adequate air, where the maker gives one.
    pub band: Option<Band>,
    /// How long it holds its air without power, in minutes.
    pub holds_minutes: Option<u32>,
    /// Whether the maker lets the home open the cover and look inside.
    pub cover_opens: Option<bool>,
    /// Days between two of the maker's maintenances.
    pub service_days: Option<u32>,
}

/// One bed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BedRow {
    /// Its line in the file.
    pub line: u64,
    /// The unit that it is in.
    pub unit: String,
    /// Its name, in capitals.
    pub bed: String,
    /// The width of its deck.
    pub width: Option<Tenths>,
    /// The length of its deck.
    pub length: Option<Tenths>,
    /// Its rails.
    pub rails: Option<Rails>,
    /// Its wall outlet.
    pub outlet: Option<Outlet>,
    /// When that was last tested.
    pub outlet_tested: Option<NaiveDate>,
    /// The names of the profiles approved for it, as written; an empty list approves all.
    pub approved: Option<Vec<String>>,
}

/// One surface.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SurfaceRow {
    /// Its line in the file.
    pub line: u64,
    /// Its tag, as written.
    pub tag: String,
    /// The name of its profile, as written.
    pub profile: String,
    /// Its serial number.
    pub serial: Option<String>,
    /// Its lot.
    pub lot: Option<String>,
    /// Whose it is.
    pub owned: Owned,
    /// What it costs a day, in hundredths of the currency.
    pub daily_rate_cents: Option<u32>,
    /// Its state. A surface under a bed is in use whatever stands here.
    pub state: Start,
    /// The bed that it is under, in capitals.
    pub bed: Option<String>,
    /// When its filter was last changed.
    pub filter_changed: Option<NaiveDate>,
    /// When it came into service.
    pub in_service: Option<NaiveDate>,
    /// When its newest safety test was.
    pub tested: Option<NaiveDate>,
}

/// Reads profiles.
///
/// Columns: `profile`, `class`, `kind`, `check`, `filter`; and, which may be blank or missing, `first_fill`, `fill_minutes`,
/// `filter_check_days`, `filter_max_days`, `width_in`, `length_in`, `capacity_lb`, `settings`, `low_in`, `high_in`,
/// `holds_minutes`, `cover_opens` (yes, no), `service_days`.
///
/// # Errors
/// [`Rejected`] where no row can be read at all.
pub fn profiles(bytes: &[u8]) -> Result<Scanned<ProfileRow>, Rejected> {
    rows::profiles(bytes)
}

/// Reads beds.
///
/// Columns: `unit`, `bed`; and, which may be blank or missing and then leave what is known as it is, `frame_width_in`,
/// `frame_length_in`, `rails`, `outlet`, `outlet_tested`, `approved` (names with `;` between, or `all`).
///
/// # Errors
/// [`Rejected`] where no row can be read at all.
pub fn beds(bytes: &[u8]) -> Result<Scanned<BedRow>, Rejected> {
    rows::beds(bytes)
}

/// Reads surfaces.
///
/// Columns: `tag`, `profile`; `state`, blank or missing only where there is a bed; `owned`, the home's own where it
/// is blank or missing; and, which may be too, `serial`, `lot`, `daily_rate`, `bed`, `filter_changed`, `in_service`,
/// `tested`.
///
/// # Errors
/// [`Rejected`] where no row can be read at all.
pub fn surfaces(bytes: &[u8]) -> Result<Scanned<SurfaceRow>, Rejected> {
    rows::surfaces(bytes)
}

#[cfg(test)]
mod tests;
