//! What a file is told that is refused. Decides how many faults one answer lists and which words each has; leaves the
//! words to `words`.

use super::super::check;
use crate::choice::Start;
use crate::refusal::Refusal;
use crate::rules::import::{ImportFault, LineFault, Rejected};
use crate::say;
use crate::words::Lang;

/// Faults of a file that one answer lists; the rest are counted.
pub(super) const FAULTS_SHOWN: usize = 15;

/// A file that is refused: each fault with its line and what to write instead.
pub(super) fn rejection(lang: Lang, rejected: &Rejected) -> String {
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
    let plain = check::escaped;
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
