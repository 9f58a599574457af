//! The privacy guard: keeps what could identify a person out of free text.
//!
//! Decides whether a text may be kept and posted; what it finds is named by kind only, and neither the text
//! nor the match leaves this file. The kinds follow the identifiers of the safe-harbour list, 45 CFR
//! 164.514(b)(2)(i), as far as text shows them, with weights and diagnoses beside them, since a bed and a
//! condition together identify a person inside a home. It is a net with holes: it works by patterns and
//! word lists, so a rare surname alone in lower case passes. Pick-lists come before notes.

use std::sync::LazyLock;

use regex::{Regex, RegexSet};

use super::guard_words::{is_everyday, is_given_name, is_surname};
use super::named::named_enum;

named_enum! {
    /// The kind of what was found. Never the text of it.
    pub enum Found {
        /// A social security number.
        Social = "social",
        /// A record, chart, insurance or account number, or a long run of digits.
        RecordNumber = "record-number",
        /// A date of birth.
        BirthDate = "birth-date",
        /// A telephone number.
        Phone = "phone",
        /// An e-mail address.
        Email = "email",
        /// A web address.
        Link = "link",
        /// Somebody's age.
        Age = "age",
        /// Somebody's weight.
        Weight = "weight",
        /// A diagnosis or a condition of somebody's body.
        Diagnosis = "diagnosis",
        /// A serial number outside of the register.
        Serial = "serial",
        /// A person's name.
        Name = "name",
    }
}

/// Where the text stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// A note, a reason, a message.
    Note,
    /// A serial or lot number of the register, which is allowed to look like a number.
    Register,
}

/// Patterns by kind, in the order in which they are told.
const PATTERNS: &[(Found, &str)] = &[
    (
        Found::Email,
        r"(?i)[\p{L}\p{N}._%+-]+\s?@\s?[\p{L}\p{N}-]+\.[\p{L}]{2,}",
    ),
    (
        Found::Link,
        r"(?i)\bhttps?:/|\bwww\.|\b[a-z0-9-]+\.(?:com|org|net|edu|gov|info|io|co|health|care)\b(?:/|\b)",
    ),
    (Found::Social, r"\b\d{3}-\d{2}-\d{4}\b"),
    (
        Found::Social,
        r"(?i)\b(?:ssn|ss\s?#|social(?:\s+security)?(?:\s+(?:no\.?|number))?)\W{0,3}\d",
    ),
    (
        Found::BirthDate,
        r"(?i)\b(?:dob|d\.o\.b|date of birth|birth\s?da(?:te|y)|fecha de nacimiento)\b",
    ),
    (
        Found::BirthDate,
        r"(?i)\b(?:born|b\.)\s+(?:on\s+|in\s+)?(?:\d|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)",
    ),
    (
        Found::BirthDate,
        r"\b\d{1,2}[/.-]\d{1,2}[/.-](?:19\d\d|200\d)\b|\b(?:19\d\d|200\d)-\d{1,2}-\d{1,2}\b",
    ),
    (Found::BirthDate, r"\b\d{1,2}/\d{1,2}/[3-9]\d\b"),
    (
        Found::BirthDate,
        r"(?i)\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?\s+\d{1,2}(?:st|nd|rd|th)?,?\s+(?:19\d\d|200\d)\b",
    ),
    (
        Found::BirthDate,
        r"(?i)\b\d{1,2}(?:st|nd|rd|th)?\s+(?:of\s+)?(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?,?\s+(?:19\d\d|200\d)\b",
    ),
    (
        Found::Phone,
        r"\b\d{3}-\d{4}\b|\(\d{3}\)\s?\d{3}[-.\s]?\d{4}\b|\b\d{3}[-.\s]\d{3}[-.]\d{4}\b|\+\d[\d\s().-]{6,}\d|\b0\d{4}\s\d{6}\b",
    ),
    (
        Found::Phone,
        r"(?i)\b(?:phone|cell|mobile|tel|telephone|ring|text|call(?:\s+\p{L}+)?)\W{0,3}(?:no\.?|number|at|on)?\W{0,3}\d(?:[\s.-]?\d){6,}",
    ),
    (
        Found::RecordNumber,
        r"(?i)\b(?:mrn|medical record|med rec|chart\s*(?:#|no\b|num)|chart\s+\d{3,}|patient id|resident id|nhs no|nhs number|medicare|medicaid|insurance|policy\s*(?:#|no\b|number)|account\s*(?:#|no\b|number|\d))\b?",
    ),
    (
        Found::Age,
        r"(?i)\bage[ds]?\s*(?:of\s+|is\s+|:\s*)?\d{2,3}\b|\b\d{2,3}\s*-?\s*(?:yo|y/o|y\.o\.?|yof|yom)\b|\b(?:1[89]|[2-9]\d|1[01]\d)\s*-?\s*(?:years?|yrs?)\s*-?\s*(?:old|of age)\b",
    ),
    (
        Found::Age,
        r"(?i)\bin (?:his|her|their) (?:\d0s|(?:twen|thir|for|fif|six|seven|eigh|nine)ties)\b|\b(?:turns|turning|turned)\s+(?:[5-9]\d|1[01]\d)\b(?:\s*(?:$|[.,!;]|today|tomorrow|on|in|this))",
    ),
    (
        Found::Weight,
        r"(?i)\b\d{2,3}(?:[.,]\d)?\s*-?\s*(?:lbs?|pounds?|kgs?|kilos?|kilograms?|libras)\b|\b\d{1,2}\s*stone\b",
    ),
    (
        Found::Weight,
        r"(?i)\b(?:weighs?|weighed|weighing|weight|wt)\b[\s:=]*(?:is\s+|was\s+|of\s+|about\s+|now\s+)*\d",
    ),
    (
        Found::Diagnosis,
        r"(?i)\b(?:ulcers?|ulcerat\w+|pressure (?:injur\w+|sores?)|bed\s?sores?|skin tears?|sacral|wound (?:care|vac|dressing|bed)|wounds|necro\w+|slough|stage\s*(?:[1-4]|i{1,3}v?|iv)\b|unstageable|eschar)\b",
    ),
    (
        Found::Diagnosis,
        r"(?i)\b(?:dementia|alzheimer\w*|parkinson\w*|diabet\w+|cancer|tumou?r|chemo\w*|copd|chf|cva|tia|hiv|aids|hepatitis|mrsa|vre|esbl|c\.?\s?-?diff\w*|covid\w*|norovirus|scabies|shingles|sepsis|septic|pneumonia|influenza|uti|stroke (?:patient|resident|last|in)|had a stroke|post.?stroke|fractur\w+|broken hip|hip replacement|amput\w+|parapleg\w+|quadripleg\w+|hemipleg\w+|tetrapleg\w+|hospice|palliative|end of life|terminally|dying|incontinen\w+|catheter|colostomy|peg tube|dialysis|schizo\w+|bipolar|depress(?:ion|ed)|seizures?|epilep\w+|obes\w+|bariatric (?:resident|patient)|cellulitis|gangrene|edema|oedema|anemi\w+|diagnos\w+|dx|dnr)\b",
    ),
    (
        Found::Serial,
        r"(?i)\b(?:s/n|sn|serial)\b\W{0,3}(?:(?:no\.?|number|num|is)\W{0,2})*[a-z0-9-]*\d",
    ),
];

/// Runs of six digits and more, once what is known to be equipment talk is taken out.
static LONG_DIGITS: LazyLock<Option<Regex>> = LazyLock::new(|| Regex::new(r"\d{6,}").ok());

/// Equipment talk that would look like one of the kinds: rated loads, lot and part numbers, hour meters, a
/// cord wound around something.
static EQUIPMENT: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(concat!(
        r"(?i)\b(?:capacity|rated|rating|limit|max(?:imum)?|up to|holds|supports|safe load|test weight|sandbags?)\b",
        r"\W{0,3}(?:(?:is|of|for|at|to|load|limit|weight)\W{0,2})*\d{2,4}\s*-?\s*(?:lbs?|pounds?|kgs?|kilos?)\b",
        r"|\b\d{2,4}\s*-?\s*(?:lbs?|pounds?|kgs?)\s+(?:capacity|limit|rated|rating|max|model|frame|bed|version|sandbags?)\b",
        r"|\b(?:lot|batch|part|po|item|model|work order|wo|ticket)\b\W{0,2}(?:(?:no\.?|number|num)\W{0,2})?[a-z]{0,4}-?\d[a-z0-9-]*",
        r"|\b\d{4,9}\s*(?:h|hrs?|hours|cycles|pa|rpm|ppm|ml)\b",
    ))
    .ok()
});

static KINDS: LazyLock<Option<RegexSet>> =
    LazyLock::new(|| RegexSet::new(PATTERNS.iter().map(|(_, pattern)| *pattern)).ok());

/// Whether a text may be kept; otherwise the kind of what was found first.
///
/// # Errors
/// [`Found`], which names the kind and never the words.
pub fn check(text: &str, field: Field) -> Result<(), Found> {
    let plain = plain_text(text);
    if let Some(found) = by_pattern(&plain, field) {
        return Err(found);
    }
    if names_somebody(&plain) {
        Err(Found::Name)
    } else {
        Ok(())
    }
}

/// Full-width digits and odd dashes as typed ones; invisible characters gone; accents kept.
fn plain_text(text: &str) -> String {
    text.chars()
        .filter(|c| {
            !matches!(
                c,
                '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}' | '\u{ad}'
            )
        })
        .map(|c| match c {
            '\u{ff10}'..='\u{ff19}' => char::from_digit(u32::from(c) - 0xff10, 10).unwrap_or(c),
            '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
            '\u{2018}' | '\u{2019}' => '\'',
            '\u{a0}' | '\u{202f}' | '\u{2007}' => ' ',
            other => other,
        })
        .collect()
}

fn by_pattern(plain: &str, field: Field) -> Option<Found> {
    // A pattern that did not compile would let everything pass: a test holds that they all do, and here
    // the text is refused.
    let (Some(equipment), Some(kinds), Some(digits)) = (&*EQUIPMENT, &*KINDS, &*LONG_DIGITS) else {
        return Some(Found::RecordNumber);
    };
    // Equipment talk excuses weights and numbers, and nothing that is a form of its own.
    let excused = equipment.replace_all(plain, " , ");
    let counts = |found: Found, in_excused: bool| match (field, found) {
        (Field::Note, Found::Weight | Found::RecordNumber | Found::Serial) => in_excused,
        (Field::Register, Found::RecordNumber) => in_excused,
        (Field::Note, _) | (Field::Register, Found::Email | Found::Link | Found::BirthDate) => {
            !in_excused
        }
        (Field::Register, _) => false,
    };
    let first = |text: &str, in_excused: bool| {
        let hits = kinds.matches(text).into_iter();
        hits.filter_map(|index| PATTERNS.get(index))
            .map(|(found, _)| *found)
            .find(|found| counts(*found, in_excused))
    };
    let hit = first(plain, false).or_else(|| first(&excused, true));
    match hit {
        None if field == Field::Note && digits.is_match(&excused) => Some(Found::RecordNumber),
        found => found,
    }
}

/// A word of the text, with what a name rule asks about it.
struct Word<'a> {
    /// Without punctuation and without a possessive ending.
    text: &'a str,
    lower: String,
    possessive: bool,
    /// Something other than a space follows it, so that the next word does not continue it.
    ends_phrase: bool,
}

impl Word<'_> {
    /// `Alvarez`, `O'Brien`, `Smith-Jones`: capital first, small after.
    fn is_title_case(&self) -> bool {
        let mut letters = self.text.chars();
        letters.next().is_some_and(char::is_uppercase)
            && self.text.chars().count() >= 2
            && letters.any(char::is_lowercase)
            && self
                .text
                .chars()
                .all(|c| c.is_alphabetic() || c == '\'' || c == '-')
    }

    fn is_word(&self) -> bool {
        self.text.chars().count() >= 2
            && self
                .text
                .chars()
                .all(|c| c.is_alphabetic() || c == '\'' || c == '-')
    }

    /// Neither trade nor everyday word, so it may be a name.
    fn is_strange(&self) -> bool {
        self.is_word() && !is_everyday(&self.lower)
    }

    fn may_be_name(&self) -> bool {
        (self.is_title_case() && self.is_strange())
            || is_given_name(&self.lower)
            || is_surname(&self.lower)
    }
}

/// Words after which a capitalised strange word is a person.
const PERSON_BEFORE: &[&str] = &[
    "resident",
    "residents",
    "patient",
    "pt",
    "son",
    "daughter",
    "wife",
    "husband",
    "mother",
    "father",
    "mom",
    "dad",
    "mum",
    "brother",
    "sister",
    "niece",
    "nephew",
    "roommate",
    "guardian",
    "granddaughter",
    "grandson",
    "family",
    "named",
    "told",
    "asked",
    "tell",
    "ask",
    "called",
    "notified",
    "informed",
    "per",
    "nurse",
    "aide",
    "cna",
    "rn",
    "lpn",
    "doctor",
    "visitor",
    "hijo",
    "hija",
    "residente",
    "paciente",
];

/// Words before which a capitalised strange word is a person.
const PERSON_AFTER: &[&str] = &[
    "said",
    "says",
    "refused",
    "refuses",
    "complained",
    "complains",
    "wants",
    "wanted",
    "asked",
    "asks",
    "told",
    "fell",
    "died",
    "passed",
    "slept",
    "sleeps",
    "ate",
    "cried",
];

const TITLES: &[&str] = &[
    "mr", "mrs", "ms", "mx", "mister", "missus", "sr", "sra", "srta", "señor", "señora",
];

fn names_somebody(plain: &str) -> bool {
    let words = words(plain);
    words.iter().enumerate().any(|(index, word)| {
        let before = index.checked_sub(1).and_then(|before| words.get(before));
        let next = words.get(index + 1);
        titled(word, before, next) || alone(word, before, next) || pair(word, next)
    })
}

fn words(plain: &str) -> Vec<Word<'_>> {
    plain
        .split(|c: char| {
            c.is_whitespace() || matches!(c, ',' | ';' | ':' | '(' | ')' | '/' | '"' | '!' | '?')
        })
        .filter_map(|piece| {
            let text = piece.trim_matches(|c: char| !c.is_alphanumeric());
            let after = piece.len() - piece.trim_end_matches(|c: char| !c.is_alphanumeric()).len();
            let possessive = text.ends_with("'s");
            let text = text.strip_suffix("'s").unwrap_or(text);
            let lower = text.to_lowercase();
            let ends_phrase =
                after > 0 && !TITLES.contains(&lower.as_str()) && lower != "dr" && text.len() > 1;
            if text.is_empty() {
                None
            } else {
                Some(Word {
                    text,
                    lower,
                    possessive,
                    ends_phrase,
                })
            }
        })
        .collect()
}

/// `Mrs Alvarez`, `dr patel`; not `20 ms later`, `the Dr said`, `Ms unit`.
fn titled(word: &Word<'_>, before: Option<&Word<'_>>, next: Option<&Word<'_>>) -> bool {
    let Some(next) = next else { return false };
    if TITLES.contains(&word.lower.as_str()) {
        let measure = before.is_some_and(|word| word.text.chars().all(|c| c.is_ascii_digit()));
        return !measure && next.is_word() && (next.is_title_case() || next.is_strange());
    }
    match word.lower.as_str() {
        "dr" | "doctor" => !word.ends_phrase && next.is_word() && next.is_strange(),
        "miss" | "sister" | "father" | "rev" => {
            word.is_title_case() && next.may_be_name() && next.is_title_case()
        }
        _no_title => false,
    }
}

/// One word that is a name by itself, or by its neighbours.
fn alone(word: &Word<'_>, before: Option<&Word<'_>>, next: Option<&Word<'_>>) -> bool {
    if is_given_name(&word.lower)
        || (is_surname(&word.lower) && word.text.chars().any(char::is_uppercase))
    {
        return true;
    }
    if !(word.is_title_case() && word.is_strange()) {
        return false;
    }
    let introduced = before.is_some_and(|before| {
        !before.ends_phrase && PERSON_BEFORE.contains(&before.lower.as_str())
    });
    let acts =
        next.is_some_and(|next| !word.ends_phrase && PERSON_AFTER.contains(&next.lower.as_str()));
    introduced || acts || word.possessive
}

/// `Maria Alvarez`: two strange capitalised words in a row, or one beside a single initial.
fn pair(word: &Word<'_>, next: Option<&Word<'_>>) -> bool {
    let Some(next) = next else { return false };
    if word.ends_phrase || word.possessive {
        return false;
    }
    let strange = |word: &Word<'_>| word.is_title_case() && word.is_strange();
    let initial =
        |word: &Word<'_>| word.text.len() == 1 && word.text.chars().all(char::is_uppercase);
    strange(word) && strange(next)
        || (initial(word)
            && next.is_title_case()
            && next.is_strange()
            && !matches!(word.text, "A" | "I"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_patterns_compile() {
        assert!(KINDS.is_some() && EQUIPMENT.is_some() && LONG_DIGITS.is_some());
    }

    /// The table; its head says how a line is read.
    #[test]
    fn the_table() {
        let mut lines = 0;
        let mut wrong = Vec::new();
        for line in include_str!("guard_cases.txt").lines() {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            lines += 1;
            let (expected, text) = line.split_once(" | ").unwrap();
            let (field, expected) = match expected {
                "register-ok" => (Field::Register, Ok(())),
                "ok" => (Field::Note, Ok(())),
                kind => match kind.strip_prefix("register-") {
                    Some(kind) => (Field::Register, Err(Found::from_text(kind).unwrap())),
                    None => (Field::Note, Err(Found::from_text(kind).unwrap())),
                },
            };
            let found = check(text, field);
            if found != expected {
                wrong.push(format!("{text:?}: {found:?}, not {expected:?}"));
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        assert!(lines >= 150, "{lines} lines");
    }

    proptest! {
        #[test]
        fn no_text_stops_it(text in "\\PC{0,80}") {
            let _ = check(&text, Field::Note);
            let _ = check(&text, Field::Register);
        }

        /// Whatever stands around it, a number of the social security form is found.
        #[test]
        fn found_in_any_company(before in "[a-z ]{0,20}", after in "[a-z ]{0,20}") {
            prop_assert_eq!(check(&format!("{before} 123-45-6789 {after}"), Field::Note).is_err(), true);
        }
    }
}
