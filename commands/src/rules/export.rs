//! Writes CSV that a spreadsheet opens without running anything in it.
//!
//! A cell that begins as a formula would gets an apostrophe in front, and so does what would begin one if a spreadsheet took a comma, a
//! semicolon, a tab or an end of a line inside of the cell for the end of it, whatever quotes stand there. Which signs begin a formula, and that separators and quotes inside of a
//! cell count too: OWASP's page on CSV injection (`www-community`, `CSV_Injection.md`, read as of August 2025: equals, plus, minus, at,
//! tab, carriage return, line feed), and its ASVS 5.0, requirement 1.2.10. Their full-width forms, which some spreadsheets read as
//! the plain signs: from memory. [`restore`] takes the apostrophes off again, and those only: what `import` reads is what was exported.

use std::borrow::Cow;

/// The signs with which a spreadsheet begins a formula, as typed and in full width.
const FORMULA_STARTS: &[char] = &[
    '=', '+', '-', '@', '\t', '\r', '\n', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}',
];

/// After these a spreadsheet may take a new cell to begin, whatever the quotes around say.
const SEPARATORS: &[char] = &[',', ';', '\t', '\r', '\n'];

/// Writes a header and rows, commas between and CR LF after each line (RFC 4180), as UTF-8 without a mark.
///
/// # Errors
/// A row that is not as long as the header.
pub fn write<R, C>(
    header: &[&str],
    rows: impl IntoIterator<Item = R>,
) -> Result<Vec<u8>, csv::Error>
where
    R: IntoIterator<Item = C>,
    C: AsRef<str>,
{
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(header)?;
    for row in rows {
        for cell in row {
            writer.write_field(defuse(cell.as_ref()).as_ref())?;
        }
        writer.write_record(None::<&[u8]>)?;
    }
    writer
        .into_inner()
        .map_err(|fault| csv::Error::from(fault.into_error()))
}

/// A cell with an apostrophe in front of whatever would begin a formula.
#[must_use]
pub fn defuse(cell: &str) -> Cow<'_, str> {
    beginnings(cell, |before| format!("{before}'"))
}

/// The cell that was [defused](defuse).
#[must_use]
pub fn restore(cell: &str) -> Cow<'_, str> {
    beginnings(cell, |before| {
        before.strip_suffix('\'').unwrap_or(before).to_owned()
    })
}

/// The cell with what `instead` makes of the quotes and apostrophes before each beginning of a formula: at the start of the cell, and behind
/// each separator in it.
fn beginnings(cell: &str, instead: impl Fn(&str) -> String) -> Cow<'_, str> {
    if !cell.contains(FORMULA_STARTS) {
        return Cow::Borrowed(cell);
    }
    let mut plain = String::with_capacity(cell.len() + 1);
    for piece in cell.split_inclusive(SEPARATORS) {
        let behind = piece.trim_start_matches(['\'', '"']);
        let before = &piece[..piece.len() - behind.len()];
        if behind.starts_with(FORMULA_STARTS) {
            plain.push_str(&instead(before));
        } else {
            plain.push_str(before);
        }
        plain.push_str(behind);
    }
    Cow::Owned(plain)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// OWASP's list, and the full-width forms.
    #[test]
    fn formulas_are_defused() {
        for cell in [
            "=1+1",
            "+1",
            "-1",
            "@SUM(A1)",
            "\t",
            "\r",
            "\n",
            "\u{ff1d}1",
            "\u{ff0b}1",
            "\u{ff0d}1",
            "\u{ff20}x",
            "'=1",
        ] {
            assert_eq!(defuse(cell), format!("'{cell}"));
            assert_eq!(restore(&defuse(cell)), cell);
        }
        for cell in [
            "", "1", "a=1", "LW-07", "'", "o'clock", "12 - 3", "'a", "a, b;c",
        ] {
            assert_eq!(defuse(cell), cell);
            assert_eq!(restore(cell), cell);
        }
    }

    /// The first is an example of OWASP's page, whose own answer leaves the formula behind the semicolon where a spreadsheet
    /// separates cells by that.
    #[test]
    fn formulas_behind_a_separator_are_defused() {
        for (cell, defused) in [
            ("=1+2\";=1+2", "'=1+2\";'=1+2"),
            ("pads,-2", "pads,'-2"),
            ("pads\n@x", "pads\n'@x"),
            ("\t=1", "'\t'=1"),
            ("pads;\"=1", "pads;\"'=1"),
            ("\"=1", "\"'=1"),
        ] {
            assert_eq!(defuse(cell), defused);
            assert_eq!(restore(defused), cell);
        }
    }

    proptest! {
        /// What is written begins no formula anywhere, and reads back as it was.
        #[test]
        fn every_text_comes_back(cell in "[=+@'\\-\t\r\n,;\"a1 \u{ff1d}\u{ff20}]{0,12}") {
            let defused = defuse(&cell);
            for piece in defused.split_inclusive(SEPARATORS) {
                let shown = piece.trim_start_matches('"');
                prop_assert!(!shown.starts_with(FORMULA_STARTS), "{defused:?}");
            }
            prop_assert_eq!(restore(&defused).into_owned(), cell);
        }
    }

    #[test]
    fn lines_and_quotes() {
        let bytes = write(&["tag", "note"], [["LW-07", "two, \"pads\""], ["=x", ""]]).unwrap();
        assert_eq!(
            String::from_utf8(bytes).unwrap(),
            "tag,note\r\nLW-07,\"two, \"\"pads\"\"\"\r\n'=x,\r\n"
        );
        assert!(write(&["tag", "note"], [["LW-07"]]).is_err());
        assert_eq!(
            write(&["tag"], Vec::<[&str; 1]>::new()).unwrap(),
            b"tag\r\n"
        );
    }
}
