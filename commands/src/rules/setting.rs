//! A control unit's setting as its panel shows it, and the maker's table of settings.
//!
//! Decides what may be kept as a setting, so that nobody's weight ever is. Leaves which setting is right to the care
//! plan or the order.

/// The longest setting, in characters.
pub const CHARS_MAX: usize = 24;

/// Why a text is no setting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SettingFault {
    /// Nothing was typed.
    Empty,
    /// Longer than any panel shows.
    Long,
    /// It looks like somebody's weight.
    Weight,
    /// It has signs in it that no panel shows.
    Signs,
}

/// Words that a weight is typed with.
const WEIGHTS: [&str; 19] = [
    "lb",
    "lbs",
    "pound",
    "pounds",
    "kg",
    "kgs",
    "kilo",
    "kilos",
    "kilogram",
    "kilograms",
    "stone",
    "stones",
    "weight",
    "weighs",
    "libra",
    "libras",
    "kilogramo",
    "kilogramos",
    "peso",
];

/// Reads a setting: `4`, `soft`, `Firm 2`, `35 mmHg`. A word of weight, a number of three digits or more, or a sign that no panel
/// shows is refused; a text that stands in the maker's own table is taken as it stands there.
///
/// # Errors
/// [`SettingFault`] says what to type instead; the text is not in it.
pub fn read(text: &str, table: &[(u16, String)]) -> Result<String, SettingFault> {
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if let Some((_, listed)) = table
        .iter()
        .find(|(_, listed)| listed.eq_ignore_ascii_case(&plain))
    {
        return Ok(listed.clone());
    }
    if plain.is_empty() {
        return Err(SettingFault::Empty);
    }
    if weighs(&plain) {
        return Err(SettingFault::Weight);
    }
    if plain.chars().count() > CHARS_MAX {
        return Err(SettingFault::Long);
    }
    let shown = |c: char| c.is_alphanumeric() || " .,-+/%½¼¾°".contains(c);
    if !plain.chars().all(shown) || !plain.chars().any(char::is_alphanumeric) {
        return Err(SettingFault::Signs);
    }
    Ok(plain)
}

/// Whether a text looks like a weight: a unit of weight in it, or a number as long as a grown person's in pounds.
fn weighs(plain: &str) -> bool {
    let lower = plain.to_lowercase();
    // "68kg" is a number and a word.
    let mut words: Vec<String> = Vec::new();
    let mut kind = None;
    for c in lower.chars() {
        let now = match c {
            c if c.is_numeric() => Some(true),
            c if c.is_alphabetic() => Some(false),
            _ => None,
        };
        match (now, words.last_mut()) {
            (Some(_), Some(word)) if now == kind => word.push(c),
            (Some(_), _) => words.push(c.to_string()),
            (None, _) => {}
        }
        kind = now;
    }
    words.iter().any(|word| {
        WEIGHTS.contains(&word.as_str())
            || (word.chars().count() >= 3 && word.chars().all(char::is_numeric))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> Vec<(u16, String)> {
        vec![(120, "1".into()), (160, "Soft".into()), (400, "120".into())]
    }

    #[test]
    fn what_a_panel_shows_is_taken() {
        for (text, kept) in [
            ("4", "4"),
            (" Firm  2 ", "Firm 2"),
            ("35 mmHg", "35 mmHg"),
            ("5.5", "5.5"),
            // The maker's own words, whatever they look like.
            ("soft", "Soft"),
            ("120", "120"),
        ] {
            assert_eq!(read(text, &table()).as_deref(), Ok(kept), "{text}");
        }
    }

    #[test]
    fn a_weight_is_never_kept() {
        for text in [
            "150 lb",
            "68 libras",
            "peso 68",
            "150lb",
            "68kg",
            "68 kg",
            "10 stone",
            "160",
            "weighs 90",
            "90 pounds",
            "1500",
            "95 LBS",
            "１６０",
        ] {
            assert_eq!(read(text, &table()), Err(SettingFault::Weight), "{text}");
        }
    }

    #[test]
    fn what_no_panel_shows_is_refused() {
        assert_eq!(read("  ", &table()), Err(SettingFault::Empty));
        assert_eq!(read("<@12>", &table()), Err(SettingFault::Signs));
        assert_eq!(read("...", &table()), Err(SettingFault::Signs));
        assert_eq!(
            read("as high as it goes for now", &table()),
            Err(SettingFault::Long)
        );
    }
}
