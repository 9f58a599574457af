//! From bytes to lines of cells under known columns: encodings, separators, line ends, headers, limits.

use super::{
    FAULTS_MAX, FILE_BYTES_MAX, ImportFault, Imported, LineFault, ROWS_MAX, Rejected, Scanned,
};
use crate::rules::export;

/// Columns as alike as this (Jaro-Winkler, 0 to 1) are taken for a slip of the finger.
const ALIKE_MIN: f64 = 0.85;

/// How much of a file's own column name is said back, and how many of them.
const COLUMN_CHARS_MAX: usize = 40;
const EXTRA_COLUMNS_MAX: usize = 20;

/// How the files of spreadsheet programs begin: a ZIP archive's local header (APPNOTE 4.3.7), which ECMA-376 and ISO/IEC
/// 26300 workbooks are, and a compound file (MS-CFB 2.2), which the older ones are.
const WORKBOOKS: [&[u8]; 2] = [b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"];

/// A column that a file may have.
pub(super) struct Column {
    pub(super) name: &'static str,
    pub(super) required: bool,
}

/// A file under its columns.
pub(super) struct Sheet {
    pub(super) lines: Vec<Line>,
    pub(super) extra_columns: Vec<String>,
}

/// A row: its line in the file, and a cell for each column asked for, blank where the file has no such column.
pub(super) struct Line {
    pub(super) number: u64,
    cells: Vec<String>,
}

/// Collects faults up to a limit and counts the rest.
#[derive(Default)]
pub(super) struct Faults {
    listed: Vec<LineFault>,
    more: usize,
    /// Columns that the file lacks: that is one fault, not one in each row.
    missing: Vec<&'static str>,
    /// Columns that the file need not have and has not.
    absent: Vec<&'static str>,
}

impl Line {
    /// The cell of the column with that index in the columns asked for.
    pub(super) fn cell(&self, index: usize) -> &str {
        self.cells.get(index).map_or("", String::as_str)
    }
}

impl Faults {
    pub(super) fn add(&mut self, line: u64, fault: ImportFault) {
        if let ImportFault::Blank { column } = &fault
            && self.missing.contains(column)
        {
            return;
        }
        // A row that needs one of these after all: said of the file, once.
        let (line, fault) = if let ImportFault::Blank { column } = fault
            && self.absent.contains(&column)
        {
            self.missing.push(column);
            let first_line = line;
            (1, ImportFault::AbsentColumn { column, first_line })
        } else {
            (line, fault)
        };
        if self.listed.len() < FAULTS_MAX {
            self.listed.push(LineFault { line, fault });
        } else {
            self.more += 1;
        }
    }

    /// The rows, with all that was found.
    pub(super) fn with<Row>(mut self, imported: Imported<Row>) -> Scanned<Row> {
        self.listed.sort_by_key(|fault| fault.line);
        Scanned {
            imported,
            faults: self.listed,
            more: self.more,
        }
    }
}

/// Reads a file under the columns asked for. Faults of single rows are added to `faults`.
///
/// # Errors
/// [`Rejected`] where no rows can be read at all.
pub(super) fn sheet(
    bytes: &[u8],
    columns: &[Column],
    faults: &mut Faults,
) -> Result<Sheet, Rejected> {
    let text = text(bytes)?;
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator(&text))
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut records = reader.records();
    let Some(header) = records.next() else {
        return whole(0, ImportFault::Empty);
    };
    let Ok(header) = header else {
        return whole(1, ImportFault::NotUtf8);
    };
    let (places, extra_columns) = places(&header, columns, faults);
    let mut lines = Vec::new();
    for record in records {
        let Ok(record) = record else {
            return whole(0, ImportFault::NotUtf8);
        };
        let number = record
            .position()
            .map_or(0, |position| line_number(&text, position));
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        if lines.len() == ROWS_MAX {
            return whole(number, ImportFault::TooManyRows { most: ROWS_MAX });
        }
        if record.iter().any(|cell| cell.trim().contains('\n')) {
            faults.add(number, ImportFault::BreakInCell);
        } else if record.len() != header.len() {
            faults.add(
                number,
                ImportFault::CellCount {
                    expected: header.len(),
                    found: record.len(),
                },
            );
        } else {
            let cells = places
                .iter()
                .map(|place| plain_cell(place.and_then(|at| record.get(at)).unwrap_or_default()));
            lines.push(Line {
                number,
                cells: cells.collect(),
            });
        }
    }
    if lines.is_empty() && faults.listed.is_empty() {
        return whole(0, ImportFault::NoRows);
    }
    Ok(Sheet {
        lines,
        extra_columns,
    })
}

fn whole<T>(line: u64, fault: ImportFault) -> Result<T, Rejected> {
    Err(Rejected {
        faults: vec![LineFault { line, fault }],
        more: 0,
    })
}

/// The line that a row is on: the reader's own count stops before the blank lines that it passes over.
fn line_number(text: &str, position: &csv::Position) -> u64 {
    let before = usize::try_from(position.byte()).unwrap_or(usize::MAX);
    let rest = text.as_bytes().get(before..).unwrap_or_default();
    position.line() + rest.iter().take_while(|byte| **byte == b'\n').count() as u64
}

/// UTF-8 without its mark, every line ending with LF so that lines are counted alike.
fn text(bytes: &[u8]) -> Result<String, Rejected> {
    if bytes.len() > FILE_BYTES_MAX {
        return whole(
            0,
            ImportFault::TooLarge {
                most_bytes: FILE_BYTES_MAX,
            },
        );
    }
    if WORKBOOKS.iter().any(|magic| bytes.starts_with(magic)) {
        return whole(0, ImportFault::Workbook);
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) if text.trim().is_empty() => whole(0, ImportFault::Empty),
        // Two-byte text without a mark is full of zeros and otherwise valid.
        Ok(text) if text.contains('\0') => whole(1, ImportFault::NotUtf8),
        Ok(text) => Ok(text.replace("\r\n", "\n").replace('\r', "\n")),
        Err(fault) => {
            let good = bytes.get(..fault.valid_up_to()).unwrap_or_default();
            let good = String::from_utf8_lossy(good)
                .replace("\r\n", "\n")
                .replace('\r', "\n");
            whole(1 + good.matches('\n').count() as u64, ImportFault::NotUtf8)
        }
    }
}

/// The separator that the header uses most: comma, semicolon or tab.
pub(super) fn separator(text: &str) -> u8 {
    let header = text
        .lines()
        .find(|line| !line.trim().is_empty())
        .unwrap_or_default();
    let count = |sign: char| header.matches(sign).count();
    let (commas, semicolons, tabs) = (count(','), count(';'), count('\t'));
    if semicolons > commas && semicolons >= tabs {
        b';'
    } else if tabs > commas {
        b'\t'
    } else {
        b','
    }
}

/// A cell without spaces around it and without the apostrophes that `export` puts before a formula.
fn plain_cell(cell: &str) -> String {
    export::restore(cell.trim()).into_owned()
}

/// Where each column asked for stands in the file, and which columns of the file were not asked for.
fn places(
    header: &csv::StringRecord,
    columns: &[Column],
    faults: &mut Faults,
) -> (Vec<Option<usize>>, Vec<String>) {
    let found: Vec<String> = header.iter().map(column_name).collect();
    let known = |name: &str| columns.iter().any(|column| column.name == name);
    let extra: Vec<String> = found
        .iter()
        .filter(|name| !name.is_empty() && !known(name))
        .map(|name| name.chars().take(COLUMN_CHARS_MAX).collect())
        .collect();
    let mut places = Vec::with_capacity(columns.len());
    for column in columns {
        let mut at = found
            .iter()
            .enumerate()
            .filter(|(_, name)| *name == column.name)
            .map(|(index, _)| index);
        let place = at.next();
        if at.next().is_some() {
            faults.add(
                1,
                ImportFault::ColumnTwice {
                    column: column.name,
                },
            );
        }
        if place.is_none() {
            let nearest = nearest(column.name, &extra);
            // Only what is told once here need not be told in each row.
            if column.required || nearest.is_some() {
                faults.missing.push(column.name);
            }
            match nearest {
                nearest if column.required => {
                    faults.add(
                        1,
                        ImportFault::MissingColumn {
                            column: column.name,
                            nearest,
                        },
                    );
                }
                Some(found) => faults.add(
                    1,
                    ImportFault::MisnamedColumn {
                        column: column.name,
                        found,
                    },
                ),
                None => faults.absent.push(column.name),
            }
        }
        places.push(place);
    }
    (places, extra.into_iter().take(EXTRA_COLUMNS_MAX).collect())
}

fn column_name(written: &str) -> String {
    crate::rules::named::kebab(written).replace('-', "_")
}

fn nearest(column: &str, extra: &[String]) -> Option<String> {
    extra
        .iter()
        .map(|name| (strsim::jaro_winkler(name, column), name))
        .filter(|(score, _)| *score >= ALIKE_MIN)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name.clone())
}
