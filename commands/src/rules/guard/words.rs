//! The word lists of the privacy guard: which words are everyday or trade words, and which are names.
//!
//! Common practice, not a standard: the names are frequent given names and surnames, from memory. Those that are
//! everyday words or the names of tools and units as well ("Rose", "Will", "jean", "Baker") have lists of their own
//! and are names only by what stands beside them. Words are without accents.

use std::collections::HashSet;
use std::sync::LazyLock;

static EVERYDAY: LazyLock<HashSet<&'static str>> =
    LazyLock::new(|| include_str!("everyday.txt").split_whitespace().collect());

static EVERYDAY_SPANISH: LazyLock<HashSet<&'static str>> =
    LazyLock::new(|| include_str!("everyday_es.txt").split_whitespace().collect());

static GIVEN_NAMES: LazyLock<HashSet<&'static str>> =
    LazyLock::new(|| include_str!("given_names.txt").split_whitespace().collect());

static SURNAMES: LazyLock<HashSet<&'static str>> =
    LazyLock::new(|| include_str!("surnames.txt").split_whitespace().collect());

static GIVEN_ALIKE: LazyLock<HashSet<&'static str>> =
    LazyLock::new(|| include_str!("given_alike.txt").split_whitespace().collect());

static SURNAMES_ALIKE: LazyLock<HashSet<&'static str>> = LazyLock::new(|| {
    include_str!("surnames_alike.txt")
        .split_whitespace()
        .collect()
});

static PERSONAL: LazyLock<HashSet<&'static str>> = LazyLock::new(|| {
    include_str!("personal_verbs.txt")
        .split_whitespace()
        .collect()
});

static BODILY: LazyLock<HashSet<&'static str>> = LazyLock::new(|| {
    include_str!("bodily_verbs.txt")
        .split_whitespace()
        .collect()
});

/// Endings that make another form of an everyday word.
const ENDINGS: &[(&str, &str)] = &[
    ("s", ""),
    ("es", ""),
    ("ies", "y"),
    ("ed", ""),
    ("ed", "e"),
    ("d", ""),
    ("ing", ""),
    ("ing", "e"),
    ("er", ""),
    ("er", "e"),
    ("ly", ""),
    ("n't", ""),
    ("'ll", ""),
    ("'re", ""),
    ("'m", ""),
    ("'d", ""),
    ("'ve", ""),
];

/// Endings that make another form of a Spanish one.
const SPANISH_ENDINGS: &[(&str, &str)] =
    &[("s", ""), ("es", ""), ("a", "o"), ("as", "o"), ("os", "o")];

/// Shorter stems are not looked up: `ines` is no form of `in`.
const STEM_MIN: usize = 3;

/// A trade or everyday word in any of its forms, each part of `foot-end` by itself. Takes lower case.
pub(super) fn is_everyday(lower: &str) -> bool {
    is_listed(lower) || (lower.contains('-') && lower.split('-').all(is_listed))
}

/// A given name that is no everyday word. Takes lower case.
pub(super) fn is_given_name(lower: &str) -> bool {
    GIVEN_NAMES.contains(lower)
}

/// A surname that is no everyday word. Takes lower case.
pub(super) fn is_surname(lower: &str) -> bool {
    SURNAMES.contains(lower)
}

/// A given name that means something else as often. Takes lower case.
pub(super) fn is_given_alike(lower: &str) -> bool {
    GIVEN_ALIKE.contains(lower)
}

/// A surname that means something else as often. Takes lower case.
pub(super) fn is_surname_alike(lower: &str) -> bool {
    SURNAMES_ALIKE.contains(lower)
}

/// What only a person does, feels or says. Takes lower case.
pub(super) fn is_personal(lower: &str) -> bool {
    PERSONAL.contains(lower)
}

/// What a person does and a thing as well (`Bracket hit the rail`). Takes lower case.
pub(super) fn is_bodily(lower: &str) -> bool {
    BODILY.contains(lower)
}

fn is_listed(word: &str) -> bool {
    if EVERYDAY.contains(word) || is_spanish(word) {
        return true;
    }
    ENDINGS.iter().any(|(ending, instead)| {
        word.strip_suffix(ending)
            .filter(|stem| stem.len() >= STEM_MIN)
            .is_some_and(|stem| {
                let base = format!("{stem}{instead}");
                EVERYDAY.contains(base.as_str())
                    || doubled(stem).is_some_and(|stem| EVERYDAY.contains(stem))
            })
    })
}

fn is_spanish(word: &str) -> bool {
    EVERYDAY_SPANISH.contains(word)
        || SPANISH_ENDINGS.iter().any(|(ending, instead)| {
            word.strip_suffix(ending)
                .filter(|stem| stem.len() >= STEM_MIN)
                .is_some_and(|stem| EVERYDAY_SPANISH.contains(format!("{stem}{instead}").as_str()))
        })
}

/// `swapp` of `swapped` without its second p.
fn doubled(stem: &str) -> Option<&str> {
    let mut back = stem.chars().rev();
    let (last, before) = (back.next()?, back.next()?);
    if last == before {
        stem.strip_suffix(last)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forms_of_a_word() {
        for word in [
            "hose",
            "hoses",
            "swapped",
            "rinsing",
            "batteries",
            "foot-end",
            "doesn't",
            "tighter",
            "mangueras",
            "conectores",
            "dobladas",
        ] {
            assert!(is_everyday(word), "{word}");
        }
        assert!(!is_everyday("alvarez"));
    }

    #[test]
    fn no_word_is_both_everyday_and_a_name() {
        let both: Vec<_> = EVERYDAY
            .iter()
            .chain(EVERYDAY_SPANISH.iter())
            .filter(|word| is_given_name(word) || is_surname(word))
            .collect();
        assert!(both.is_empty(), "{both:?}");
    }

    #[test]
    fn a_name_like_a_word_is_not_also_a_name_by_itself() {
        let both: Vec<_> = GIVEN_ALIKE
            .iter()
            .chain(SURNAMES_ALIKE.iter())
            .filter(|word| is_given_name(word) || is_surname(word))
            .collect();
        assert!(both.is_empty(), "{both:?}");
    }
}
