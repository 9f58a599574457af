//! Numbers as people type them beside a unit: `8,25 %`, `7½ years`, `3 500`, `3 a week`.
//!
//! Decides what a text says and when it could mean two numbers. Leaves to the caller which numbers make sense, and the
//! sentence that asks again.

use super::air;

/// Longer texts are no numbers.
const MAX_CHARS: usize = 40;

/// Why a text is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FigureFault {
    /// Less than nothing.
    Negative,
    /// A mark before three digits, such as `1.500`: fifteen hundred, or one and a half?
    Thousands,
    /// Not a number, or one of something else: a sentence should show the forms that are.
    Shape,
}

/// Reads a number and what stands behind it, in lower case: whole, decimal with a point or a comma, or with a fraction;
/// spaces may set off thousands.
///
/// # Errors
/// [`FigureFault`]; what is behind the number is the caller's to judge.
pub fn read(text: &str) -> Result<(f64, String), FigureFault> {
    if text.chars().count() > MAX_CHARS {
        return Err(FigureFault::Shape);
    }
    let plain = without_spaces(&air::plain_text(text));
    let plain = after_zero(&apart(&plain));
    let (negative, rest) = match plain.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, plain.as_str()),
    };
    if thousands(air::split_number(rest).0) {
        return Err(FigureFault::Thousands);
    }
    let (amount, rest) = air::amount(rest).map_err(|_| FigureFault::Shape)?;
    if !amount.value.is_finite() {
        return Err(FigureFault::Shape);
    }
    if negative && amount.value > 0.0 {
        return Err(FigureFault::Negative);
    }
    Ok((
        amount.value,
        rest.trim().trim_end_matches('.').trim().to_owned(),
    ))
}

/// Reads a number of these units, or a bare one.
///
/// # Errors
/// [`FigureFault`]; another unit is [`FigureFault::Shape`].
pub fn of(text: &str, units: &[&str]) -> Result<f64, FigureFault> {
    let (value, unit) = read(text)?;
    if unit.is_empty() || units.contains(&unit.as_str()) {
        Ok(value)
    } else {
        Err(FigureFault::Shape)
    }
}

/// So many decimals at most, without zeros at the end, thousands set off by commas: `1,234.5`.
#[must_use]
pub fn show(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
    let (sign, whole) = whole
        .strip_prefix('-')
        .map_or(("", whole), |whole| ("-", whole));
    let mut grouped = String::with_capacity(whole.len() + whole.len() / 3);
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    match part.trim_end_matches('0') {
        "" => format!("{sign}{grouped}"),
        part => format!("{sign}{grouped}.{part}"),
    }
}

/// Takes out the spaces that set off thousands: `3 500 ml` is `3500 ml`; other spaces stay.
pub(super) fn without_spaces(plain: &str) -> String {
    let words: Vec<&str> = plain.split(' ').collect();
    let digits = |word: &str| !word.is_empty() && word.bytes().all(|b| b.is_ascii_digit());
    let first = words.first().copied().unwrap_or_default();
    let lead = first.strip_prefix(['-', '$']).unwrap_or(first);
    if !digits(lead) || lead.len() > 3 {
        return plain.to_owned();
    }
    // The last group may have its unit or its cents with it: `3 500ml`, `4 200.50`.
    let group = |word: &str| {
        let end = word
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(word.len());
        // `3 500/4` would be a fraction.
        end == 3 && !word[end..].starts_with('/')
    };
    let mut joined = first.to_owned();
    let mut rest = words[1..].iter();
    for word in rest.by_ref() {
        if !group(word) {
            joined.push(' ');
            joined.push_str(word);
            break;
        }
        joined.push_str(word);
        if !digits(word) {
            break;
        }
    }
    for word in rest {
        joined.push(' ');
        joined.push_str(word);
    }
    joined
}

/// `3/week` with a space: what is behind the line is no fraction.
fn apart(plain: &str) -> String {
    match plain.split_once('/') {
        Some((before, after)) if after.trim_start().starts_with(char::is_alphabetic) => {
            format!("{before} /{after}")
        }
        _ => plain.to_owned(),
    }
}

/// `0,125` with a point: a comma behind nothing but a zero sets off no thousands.
pub(super) fn after_zero(plain: &str) -> String {
    match plain.strip_prefix("0,") {
        Some(rest) => format!("0.{rest}"),
        None => plain.to_owned(),
    }
}

/// Whether a number has one mark before exactly three digits, and something that counts before it.
pub(super) fn thousands(number: &str) -> bool {
    let three = |(before, after): (&str, &str)| {
        let zero = before.bytes().all(|b| b == b'0');
        !zero && after.len() == 3 && after.bytes().all(|b| b.is_ascii_digit())
    };
    number.split_once(['.', ',']).is_some_and(three)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn as_people_type_them() {
        for (text, value, unit) in [
            ("8.25", 8.25, ""),
            ("8,25 %", 8.25, "%"),
            ("7½ years", 7.5, "years"),
            ("7 1/2 años", 7.5, "años"),
            ("3 500", 3500.0, ""),
            ("3 500ml", 3500.0, "ml"),
            ("12\u{a0}345 678", 12_345_678.0, ""),
            ("3 a week", 3.0, "a week"),
            ("3/week", 3.0, "/week"),
            ("3 / week", 3.0, "/ week"),
            ("0.125", 0.125, ""),
            ("0,125", 0.125, ""),
            ("5 Yrs.", 5.0, "yrs"),
            ("-0", 0.0, ""),
        ] {
            assert_eq!(read(text), Ok((value, unit.to_owned())), "{text:?}");
        }
        assert_eq!(of("8,25%", &["%"]), Ok(8.25));
        assert_eq!(of("8", &["%"]), Ok(8.0));
        assert_eq!(of("8 years", &["%"]), Err(FigureFault::Shape));
    }

    #[test]
    fn faults_are_told_apart() {
        for (text, fault) in [
            ("", FigureFault::Shape),
            ("%", FigureFault::Shape),
            ("five", FigureFault::Shape),
            ("5.5.5", FigureFault::Shape),
            ("5 5", FigureFault::Shape),
            ("3 500/4", FigureFault::Shape),
            ("-5", FigureFault::Negative),
            ("−8 %", FigureFault::Negative),
            ("1,500", FigureFault::Thousands),
            ("1.500", FigureFault::Thousands),
        ] {
            assert_eq!(read(text), Err(fault), "{text:?}");
        }
    }

    /// Python 3.11.7 `f"{value:,.2f}"`, without the zeros at its end.
    #[test]
    fn shown_with_commas() {
        for (value, decimals, shown) in [
            (0.0, 0, "0"),
            (5.0, 2, "5"),
            (15.5, 2, "15.5"),
            (999.6, 0, "1,000"),
            (1234.504, 2, "1,234.5"),
            (-1234567.25, 2, "-1,234,567.25"),
        ] {
            assert_eq!(show(value, decimals), shown);
        }
    }

    proptest! {
        #[test]
        fn what_is_shown_without_thousands_is_read_back(hundredths in 0u32..99_999) {
            let value = f64::from(hundredths) / 100.0;
            prop_assert_eq!(of(&show(value, 2).replace(',', " "), &[]), Ok(value));
        }

        #[test]
        fn no_text_stops_the_reader(text in "\\PC{0,45}") {
            if let Ok((value, _)) = read(&text) {
                prop_assert!(value >= 0.0 && value.is_finite());
            }
        }

        #[test]
        fn nothing_like_a_number_stops_the_reader(text in "[-0-9., /½%a]{0,14}") {
            let _read = read(&text);
        }
    }
}
