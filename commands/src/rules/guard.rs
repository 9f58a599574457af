//! The privacy guard: keeps what could identify a person out of free text.
//!
//! Decides whether a text may be kept and posted; what it finds is named by kind only, and neither the text
//! nor the match leaves this file. The kinds follow the identifiers of the safe-harbour list, 45 CFR
//! 164.514(b)(2)(i), as far as text shows them, with weights and diagnoses beside them, since a bed and a
//! condition together identify a person inside a home. It is a net with holes: it works by patterns and
//! word lists, so a rare surname alone in lower case passes. Pick-lists come before notes. It reads English and
//! Spanish at once, whoever types: both are typed in one home, often in one note.

use super::named::named_enum;
use super::spanish::without_accents;
use words::{is_everyday, is_given_alike, is_given_name, is_surname, is_surname_alike};

mod beside;
mod patterns;
mod words;

named_enum! {
    /// The kind of what was found. Never the text of it.
    pub enum Found {
        /// An e-mail address.
        Email = "email",
        /// A web address.
        Link = "link",
        /// A social security number.
        Social = "social",
        /// A date of birth.
        BirthDate = "birth-date",
        /// A telephone number.
        Phone = "phone",
        /// Where somebody lives.
        Address = "address",
        /// A record, chart, insurance or account number, or a long run of digits.
        RecordNumber = "record-number",
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

/// Whether a text may be kept; otherwise the kind of what was found first.
///
/// # Errors
/// [`Found`], which names the kind and never the words.
pub fn check(text: &str, field: Field) -> Result<(), Found> {
    check_knowing(text, field, &[])
}

/// As [`check`], where the words of `known`, such as the facility's names of units and profiles, are no names of
/// people.
///
/// # Errors
/// [`Found`], which names the kind and never the words.
pub fn check_knowing(text: &str, field: Field, known: &[&str]) -> Result<(), Found> {
    let plain = plain_text(text);
    if let Some(found) = patterns::find(&plain, field) {
        return Err(found);
    }
    let known: Vec<String> = known
        .iter()
        .flat_map(|name| name.split_whitespace())
        .map(|name| without_accents(&name.to_lowercase()))
        .collect();
    if names_somebody(&plain, &known) {
        Err(Found::Name)
    } else {
        Ok(())
    }
}

/// Whether a word, in lower case, is one of everyday or of the trade: then it is no slip of another.
#[must_use]
pub fn is_word(lower: &str) -> bool {
    is_everyday(lower)
}

/// Digits of other scripts and odd dashes as typed ones; invisible characters gone; accents kept.
fn plain_text(text: &str) -> String {
    text.chars()
        .filter(|c| {
            !matches!(
                c,
                '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}' | '\u{ad}'
            )
        })
        .map(|c| match c {
            '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
            '\u{2018}' | '\u{2019}' => '\'',
            '\u{a0}' | '\u{202f}' | '\u{2007}' => ' ',
            other => ascii_digit(other),
        })
        .collect()
}

/// A digit of another script as ours, anything else as it is.
fn ascii_digit(c: char) -> char {
    // Where the ten digits begin: Arabic, Persian, Devanagari, Bengali, Gujarati, Tamil, Thai, full width.
    const ZEROS: [u32; 8] = [
        0x0660, 0x06f0, 0x0966, 0x09e6, 0x0ae6, 0x0be6, 0x0e50, 0xff10,
    ];
    if c.is_ascii() {
        return c;
    }
    ZEROS
        .iter()
        .filter_map(|zero| u32::from(c).checked_sub(*zero))
        .find_map(|digit| char::from_digit(digit, 10))
        .unwrap_or(c)
}

/// A word of the text, with what a name rule asks about it.
struct Word<'a> {
    /// Without punctuation and without a possessive ending.
    text: &'a str,
    /// In small letters, without accents.
    lower: String,
    possessive: bool,
    /// A word that the facility uses for something else.
    known: bool,
    /// Something other than a space follows it, so that the next word does not continue it.
    ends_phrase: bool,
    /// A comma, a slash or the like follows it. Names are written across one: `Alvarez, Maria`.
    before_mark: bool,
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

    /// `ALVAREZ`: in capitals throughout, and longer than a label on a panel.
    fn is_shouted(&self) -> bool {
        self.text.chars().count() >= 4
            && self.is_word()
            && !self.text.chars().any(char::is_lowercase)
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
        self.is_word() && !self.known && !is_everyday(&self.lower)
    }

    /// Also each half of `mary-ann`.
    fn is_given_name(&self) -> bool {
        !self.known && self.lower.split('-').any(is_given_name)
    }

    /// Only where it has a capital: in small letters too many surnames are words.
    fn is_surname(&self) -> bool {
        !self.known
            && self.text.chars().any(char::is_uppercase)
            && self.lower.split('-').any(is_surname)
    }

    /// A given name that is a word of another meaning too.
    fn is_given_alike(&self) -> bool {
        !self.known && is_given_alike(&self.lower)
    }

    fn is_surname_alike(&self) -> bool {
        !self.known && is_surname_alike(&self.lower)
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
    "name",
    "nombre",
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
    "for",
    "by",
    "with",
    "visitor",
    "hijo",
    "hija",
    "residente",
    "paciente",
    "esposo",
    "esposa",
    "marido",
    "madre",
    "padre",
    "mama",
    "papa",
    "hermano",
    "hermana",
    "nieto",
    "nieta",
    "sobrino",
    "sobrina",
    "tio",
    "tia",
    "abuelo",
    "abuela",
    "companero",
    "companera",
    "familia",
    "familiar",
    "visitante",
    "llamado",
    "llamada",
    "enfermera",
    "enfermero",
    "auxiliar",
    "cuidador",
    "cuidadora",
    "supervisor",
    "supervisora",
    "por",
    "para",
    "con",
    // "w/" and "c/" for "with" and "con".
    "w",
    "c",
];

const TITLES: &[&str] = &[
    "mr", "mrs", "ms", "mx", "mister", "missus", "sr", "sra", "srta", "senor", "senora", "senorita",
];

fn names_somebody(plain: &str, known: &[String]) -> bool {
    let spaced = apart_at_dots(plain);
    let words = words(&spaced, known);
    beside::has_handle(plain, known)
        || words.iter().enumerate().any(|(index, word)| {
            let before = index.checked_sub(1).and_then(|before| words.get(before));
            let next = words.get(index + 1);
            titled(word, before, next)
                || alone(&words, index)
                || reported_to(&words, index)
                || belongs_to(&words, index)
                || pair(word, next)
                || beside::is_person(&words, index)
        })
}

/// `Mrs.Alvarez`, `Maria.Gonzalez`: a space behind a point between a title or two letters and two letters more.
fn apart_at_dots(plain: &str) -> String {
    let mut spaced = String::with_capacity(plain.len());
    for piece in plain.split_inclusive('.') {
        let opens = piece.chars().take(2).filter(|c| c.is_alphabetic()).count() == 2;
        let last_two = spaced
            .strip_suffix('.')
            .map(|left| left.chars().rev().take(2));
        let closes = last_two.is_some_and(|two| two.filter(|c| c.is_alphabetic()).count() == 2);
        if opens && closes {
            spaced.push(' ');
        }
        spaced.push_str(piece);
    }
    spaced
}

fn words<'a>(plain: &'a str, known: &[String]) -> Vec<Word<'a>> {
    let is_mark = |c: char| {
        matches!(
            c,
            ',' | ';' | ':' | '(' | ')' | '/' | '"' | '!' | '?' | '&' | '_'
        )
    };
    plain
        .split_inclusive(|c: char| c.is_whitespace() || is_mark(c))
        .filter_map(|piece| {
            let before_mark = piece.ends_with(is_mark);
            let piece = piece.trim_end_matches(|c: char| c.is_whitespace() || is_mark(c));
            let text = piece.trim_matches(|c: char| !c.is_alphanumeric());
            let after = piece.len() - piece.trim_end_matches(|c: char| !c.is_alphanumeric()).len();
            let possessive = text.ends_with("'s");
            let text = text.strip_suffix("'s").unwrap_or(text);
            let lower = without_accents(&text.to_lowercase());
            let shortened =
                TITLES.contains(&lower.as_str()) || matches!(lower.as_str(), "dr" | "dra");
            let ends_phrase = after > 0 && !shortened && text.len() > 1;
            if text.is_empty() {
                None
            } else {
                Some(Word {
                    text,
                    known: known.contains(&lower),
                    lower,
                    possessive,
                    ends_phrase,
                    before_mark,
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
        let letter = next.text.chars().count() == 1 && next.text.chars().all(char::is_alphabetic);
        // "20 ms a" and "sr." are no title of "a": there both are written as names are.
        let initial = letter
            && (!matches!(word.lower.as_str(), "ms" | "sr")
                || word.is_title_case() && next.text.chars().all(char::is_uppercase));
        return !measure
            && (initial || next.is_word() && (next.is_title_case() || next.is_strange()));
    }
    match word.lower.as_str() {
        "dr" | "doctor" | "dra" | "doctora" => {
            let of_somebody = !before.is_some_and(|before| is_article(&before.lower));
            !word.ends_phrase
                && next.is_word()
                && (next.is_strange()
                    || of_somebody && word.is_title_case() && next.is_title_case())
        }
        "miss" | "sister" | "father" | "rev" | "don" | "dona" => {
            word.is_title_case() && next.may_be_name() && next.is_title_case()
        }
        _no_title => false,
    }
}

/// Behind one, a word is no name: `an Allen key`, `the Dr. Ask first`.
fn is_article(lower: &str) -> bool {
    matches!(
        lower,
        "a" | "an" | "the" | "el" | "la" | "los" | "las" | "un" | "una"
    )
}

/// One word that is a name by itself, or by the word before it.
fn alone(words: &[Word<'_>], index: usize) -> bool {
    let Some(word) = words.get(index) else {
        return false;
    };
    let before = index.checked_sub(1).and_then(|before| words.get(before));
    if word.is_given_name() || word.is_surname() {
        return !beside::is_colour(words, index) && !beside::is_reed_part(words, index);
    }
    if !(word.is_title_case() && word.is_strange()) {
        return false;
    }
    let introduced = before.is_some_and(|before| {
        !before.ends_phrase && PERSON_BEFORE.contains(&before.lower.as_str())
    });
    introduced || word.possessive
}

/// `reported to Alvarez`: "to" alone would be a place as often.
fn reported_to(words: &[Word<'_>], index: usize) -> bool {
    const SPEAKING: &[&str] = &[
        "reported",
        "talked",
        "spoke",
        "spoken",
        "said",
        "gave",
        "given",
        "handed",
        "according",
        "report",
        "avise",
        "aviso",
        "avisado",
        "dije",
        "dijo",
        "dicho",
        "informe",
        "informo",
        "reporte",
        "llame",
        "pregunte",
        "pregunta",
        "avisa",
        "llama",
        "thanks",
        "gracias",
        "entregado",
    ];
    let (Some(word), Some(to), Some(verb)) = (
        words.get(index),
        index.checked_sub(1).and_then(|at| words.get(at)),
        index.checked_sub(2).and_then(|at| words.get(at)),
    ) else {
        return false;
    };
    matches!(to.lower.as_str(), "to" | "a")
        && SPEAKING.contains(&verb.lower.as_str())
        && word.is_title_case()
        && word.is_strange()
}

/// `cama de Alvarez`: what in Spanish stands for `Alvarez's bed`. "De" alone would be a place or a maker as often.
fn belongs_to(words: &[Word<'_>], index: usize) -> bool {
    const OWNED: &[&str] = &[
        "cama",
        "colchon",
        "superficie",
        "cuarto",
        "habitacion",
        "pieza",
        "bomba",
        "alarma",
        "hijo",
        "hija",
        "esposo",
        "esposa",
        "familia",
        "la",
        "el",
    ];
    let (Some(word), Some(of), Some(owned)) = (
        words.get(index),
        index.checked_sub(1).and_then(|at| words.get(at)),
        index.checked_sub(2).and_then(|at| words.get(at)),
    ) else {
        return false;
    };
    of.lower == "de"
        && !owned.ends_phrase
        && OWNED.contains(&owned.lower.as_str())
        && word.is_title_case()
        && word.is_strange()
}

/// `Maria Alvarez`, `MARIA ALVAREZ`: two strange capitalised words in a row, or one beside a single initial.
fn pair(word: &Word<'_>, next: Option<&Word<'_>>) -> bool {
    let Some(next) = next else { return false };
    if word.ends_phrase || word.possessive {
        return false;
    }
    let strange =
        |word: &Word<'_>| (word.is_title_case() || word.is_shouted()) && word.is_strange();
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
                "ok" | "missed" => (Field::Note, Ok(())),
                "stopped" => (Field::Note, Err(Found::Name)),
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
        assert!(lines >= 750, "{lines} lines");
    }

    #[test]
    fn names_of_units_are_known() {
        assert_eq!(check("spare for Lakeview", Field::Note), Err(Found::Name));
        assert_eq!(
            check_knowing("spare for Lakeview", Field::Note, &["Lakeview Wing"]),
            Ok(())
        );
        assert_eq!(
            check_knowing("Smith is short of filters", Field::Note, &["Smith"]),
            Ok(())
        );
        assert_eq!(
            check_knowing("Mrs Alvarez, Lakeview", Field::Note, &["Lakeview"]),
            Err(Found::Name)
        );
        // With a title it is a person all the same.
        assert_eq!(
            check_knowing("Sister Maria moved it", Field::Note, &["Maria"]),
            Err(Found::Name)
        );
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
