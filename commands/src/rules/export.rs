//! Writes CSV that a spreadsheet opens without running anything in it.
//!
//! A cell that begins as a formula would (`=`, `+`, `-`, `@`, tab, carriage return) gets an apostrophe in front, the
//! usual advice against CSV injection (OWASP, from memory); `import` takes it off again.

use std::borrow::Cow;

/// The characters with which a spreadsheet begins a formula.
pub(super) const FORMULA_STARTS: &[char] = &['=', '+', '-', '@', '\t', '\r'];

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

/// A cell with an apostrophe in front where it would begin a formula.
#[must_use]
pub fn defuse(cell: &str) -> Cow<'_, str> {
    if cell.starts_with(FORMULA_STARTS) {
        Cow::Owned(format!("'{cell}"))
    } else {
        Cow::Borrowed(cell)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_defused() {
        for cell in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"] {
            assert_eq!(defuse(cell), format!("'{cell}"));
        }
        for cell in ["", "1", "a=1", "'=1", "LW-07"] {
            assert_eq!(defuse(cell), cell);
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
