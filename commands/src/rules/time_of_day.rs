//! Reads a time of day as people type it: `7:00`, `0700`, `1:40 pm`.
//!
//! Decides nothing about which day is meant.

use chrono::NaiveTime;

/// Reads `07:00`, `7:00`, `7.00`, `0700`, `7am`, `7:05 pm`, `noon`, `midnight`; `None` for anything else.
///
/// A bare `7` is nothing: it could be morning or evening. Nor is `24:00`.
#[must_use]
pub fn parse(text: &str) -> Option<NaiveTime> {
    let plain = text.trim().to_lowercase();
    match plain.as_str() {
        "noon" => return NaiveTime::from_hms_opt(12, 0, 0),
        "midnight" => return NaiveTime::from_hms_opt(0, 0, 0),
        _a_number => {}
    }
    let plain = plain.replace("a.m.", "am").replace("p.m.", "pm");
    let (digits, half) = if let Some(rest) = plain.strip_suffix("am") {
        (rest.trim_end(), Some(0))
    } else if let Some(rest) = plain.strip_suffix("pm") {
        (rest.trim_end(), Some(12))
    } else {
        (plain.as_str(), None)
    };
    let (hour, minute) = hour_and_minute(digits, half.is_some())?;
    match half {
        None => NaiveTime::from_hms_opt(hour, minute, 0),
        Some(add) if (1..=12).contains(&hour) => {
            NaiveTime::from_hms_opt(hour % 12 + add, minute, 0)
        }
        Some(_) => None,
    }
}

fn hour_and_minute(digits: &str, hour_alone: bool) -> Option<(u32, u32)> {
    let number = |text: &str| {
        let plain = (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
        if plain {
            text.parse::<u32>().ok()
        } else {
            None
        }
    };
    if let Some((hour, minute)) = digits.split_once([':', '.']) {
        let minute = if minute.len() == 2 {
            number(minute)?
        } else {
            return None;
        };
        return Some((number(hour)?, minute));
    }
    if !digits.is_ascii() {
        return None;
    }
    match digits.len() {
        1 | 2 if hour_alone => Some((number(digits)?, 0)),
        3 | 4 => {
            let (hour, minute) = digits.split_at(digits.len() - 2);
            Some((number(hour)?, number(minute)?))
        }
        _other_length => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_people_type_them() {
        for (text, expected) in [
            ("07:00", "07:00"),
            ("7:00", "07:00"),
            ("7.00", "07:00"),
            ("0700", "07:00"),
            ("700", "07:00"),
            ("1340", "13:40"),
            ("1:40 pm", "13:40"),
            ("1:40PM", "13:40"),
            ("1:40 p.m.", "13:40"),
            ("7am", "07:00"),
            ("12 am", "00:00"),
            ("12:05 pm", "12:05"),
            ("midnight", "00:00"),
            ("Noon", "12:00"),
            ("23:59", "23:59"),
        ] {
            let time = parse(text).map(|time| time.format("%H:%M").to_string());
            assert_eq!(time.as_deref(), Some(expected), "{text:?}");
        }
    }

    #[test]
    fn what_is_no_time_of_day() {
        for text in [
            "", "7", "24:00", "12:60", "13 pm", "0 am", "7:5", "7:005", "-7:00", "+7:00", "７:00",
            "12345", "pm", "ten", "1:2:3", "é00",
        ] {
            assert_eq!(parse(text), None, "{text:?}");
        }
    }
}
