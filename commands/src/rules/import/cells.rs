//! Cells as typed values: each either the value or the fault that says what to type.

use chrono::NaiveDate;

use super::ImportFault;
use crate::rules::air::{INCH_TENTHS, Tenths};
use crate::rules::guard::{self, Field, Found};
use crate::rules::load::{self, Side};

/// Words as alike as this (Jaro-Winkler, 0 to 1) are offered for one that is not known.
const ALIKE_MIN: f64 = 0.75;

/// Whether a text has the signs of a name: letters, digits and few others, so that it can be typed, found and shown anywhere.
pub(crate) fn is_name(text: &str) -> bool {
    let allowed = |c: char| {
        c.is_alphanumeric()
            || matches!(
                c,
                ' ' | '-' | '_' | '.' | '/' | '&' | '(' | ')' | '+' | '\''
            )
    };
    text.chars().all(allowed) && text.chars().any(char::is_alphanumeric)
}

/// A cell that is a name.
pub(super) fn name(column: &'static str, cell: &str, most: usize) -> Result<String, ImportFault> {
    if cell.is_empty() {
        return Err(ImportFault::Blank { column });
    }
    if is_name(cell) && cell.chars().count() <= most {
        Ok(cell.to_owned())
    } else {
        Err(ImportFault::BadName { column, most })
    }
}

/// A maker's name for a model. Makers name theirs as they like, so a word that could be somebody's name is let through.
pub(super) fn model(column: &'static str, cell: &str, most: usize) -> Result<String, ImportFault> {
    let name = name(column, cell, most)?;
    match guard::check(&name, Field::Register) {
        Err(found) if found != Found::Name => Err(ImportFault::Guarded { column, found }),
        Ok(()) | Err(_) => Ok(name),
    }
}

/// A serial or lot number: a name that may begin with any sign, and that the guard lets pass.
pub(super) fn register_number(
    column: &'static str,
    cell: &str,
    most: usize,
) -> Result<Option<String>, ImportFault> {
    if cell.is_empty() {
        return Ok(None);
    }
    if cell.chars().count() > most || cell.chars().any(char::is_control) {
        return Err(ImportFault::BadName { column, most });
    }
    match guard::check(cell, Field::Register) {
        Ok(()) => Ok(Some(cell.to_owned())),
        Err(found) => Err(ImportFault::Guarded { column, found }),
    }
}

/// One of a closed list of words.
pub(super) fn word<T: Copy>(
    column: &'static str,
    cell: &str,
    from_text: fn(&str) -> Option<T>,
    all: &[T],
    as_str: fn(T) -> &'static str,
) -> Result<T, ImportFault> {
    if cell.is_empty() {
        return Err(ImportFault::Blank { column });
    }
    from_text(cell).ok_or_else(|| {
        let words: Vec<&'static str> = all.iter().map(|value| as_str(*value)).collect();
        let lower = cell.to_lowercase();
        let nearest = words
            .iter()
            .map(|word| (strsim::jaro_winkler(word, &lower), *word))
            .filter(|(score, _)| *score >= ALIKE_MIN)
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, word)| word);
        ImportFault::NotOneOf {
            column,
            words,
            nearest,
        }
    })
}

/// A whole number between two bounds, or nothing.
pub(super) fn whole(
    column: &'static str,
    cell: &str,
    least: u32,
    most: u32,
) -> Result<Option<u32>, ImportFault> {
    if cell.is_empty() {
        return Ok(None);
    }
    if !cell.bytes().all(|b| b.is_ascii_digit()) {
        return Err(ImportFault::NotANumber { column });
    }
    match cell.parse::<u32>() {
        Ok(number) if (least..=most).contains(&number) => Ok(Some(number)),
        Ok(_) | Err(_) => Err(ImportFault::OutOfRange {
            column,
            least,
            most,
        }),
    }
}

/// A load in pounds, bare or with its unit: `600`, `600 lb`, `272 kg`; or nothing.
pub(super) fn pounds(
    column: &'static str,
    cell: &str,
    most: u32,
) -> Result<Option<u32>, ImportFault> {
    if cell.is_empty() {
        return Ok(None);
    }
    match load::pounds(cell, Side::Down) {
        Ok(pounds) if (1..=most).contains(&pounds) => Ok(Some(pounds)),
        Ok(_) => Err(ImportFault::OutOfRange {
            column,
            least: 1,
            most,
        }),
        Err(_) => Err(ImportFault::NotALoad { column }),
    }
}

/// A length in inches, with a point or a comma, to the nearest tenth of a millimetre; or nothing.
pub(super) fn inches(
    column: &'static str,
    cell: &str,
    least: u32,
    most: u32,
) -> Result<Option<Tenths>, ImportFault> {
    let Some(inches) = decimal(column, cell)? else {
        return Ok(None);
    };
    if !(f64::from(least)..=f64::from(most)).contains(&inches) {
        return Err(ImportFault::OutOfRange {
            column,
            least,
            most,
        });
    }
    #[expect(clippy::cast_possible_truncation, reason = "bounded just above")]
    Ok(Some(Tenths(
        (inches * f64::from(INCH_TENTHS)).round() as i32
    )))
}

/// Money in hundredths, with two decimals at most; or nothing.
pub(super) fn cents(
    column: &'static str,
    cell: &str,
    most_whole: u32,
) -> Result<Option<u32>, ImportFault> {
    let digits = cell.trim_start_matches('$').trim();
    if digits.is_empty() {
        return Ok(None);
    }
    let (whole, part) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
    let plain = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || !plain(whole) || !plain(part) || part.len() > 2 {
        return Err(ImportFault::NotANumber { column });
    }
    let out_of_range = ImportFault::OutOfRange {
        column,
        least: 0,
        most: most_whole,
    };
    let whole: u32 = whole.parse().map_err(|_| out_of_range.clone())?;
    let part: u32 = format!("{part:0<2}")
        .parse()
        .map_err(|_| ImportFault::NotANumber { column })?;
    let cents = whole.checked_mul(100).map(|cents| cents + part);
    cents
        .filter(|cents| *cents <= most_whole * 100)
        .map(Some)
        .ok_or(out_of_range)
}

/// A date as `2026-03-08`, or nothing. No other order is guessed at.
pub(super) fn date(column: &'static str, cell: &str) -> Result<Option<NaiveDate>, ImportFault> {
    if cell.is_empty() {
        return Ok(None);
    }
    let shaped = cell.len() == 10 && cell.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    let date = if shaped {
        NaiveDate::parse_from_str(cell, "%Y-%m-%d").ok()
    } else {
        None
    };
    date.map(Some).ok_or(ImportFault::NotADate { column })
}

fn decimal(column: &'static str, cell: &str) -> Result<Option<f64>, ImportFault> {
    if cell.is_empty() {
        return Ok(None);
    }
    let plain = cell
        .bytes()
        .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b','));
    let number = if plain {
        cell.replace(',', ".").parse::<f64>().ok()
    } else {
        None
    };
    number.map(Some).ok_or(ImportFault::NotANumber { column })
}
