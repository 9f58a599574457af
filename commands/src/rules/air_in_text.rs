//! Finds readings in a sentence: `was 3/4 in, I mistyped`.
//!
//! Decides which words of it are a reading: a number with a fraction or a unit, read as `air` reads it. A bare number is
//! none, since it may count anything. Leaves to the caller to ask: nothing is taken over from here.

use super::air::{self, Said, Tenths};

/// A reading has no more words than `1 1/4 in .`
const WORDS_MOST: usize = 3;
/// So many are told apart; a sentence with more is no slip of one reading.
const FOUND_MOST: usize = 3;

/// The readings of a sentence in their order, each once, at most three.
#[must_use]
pub fn readings(text: &str) -> Vec<Tenths> {
    let words: Vec<&str> = text
        .split_whitespace()
        .map(|word| {
            word.trim_matches(|c: char| matches!(c, ',' | ';' | ':' | '.' | '(' | ')' | '!' | '?'))
        })
        .collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < words.len() && found.len() < FOUND_MOST {
        let longest = WORDS_MOST.min(words.len() - at);
        let read = (1..=longest)
            .rev()
            .find_map(|count| Some((count, reading(&words[at..at + count])?)));
        match read {
            Some((count, tenths)) => {
                if !found.contains(&tenths) {
                    found.push(tenths);
                }
                at += count;
            }
            None => at += 1,
        }
    }
    found
}

fn reading(words: &[&str]) -> Option<Tenths> {
    let text = words.join(" ");
    let starts = words
        .first()?
        .starts_with(|c: char| c.is_ascii_digit() || is_fraction(c));
    let bare = text.chars().all(|c| c.is_ascii_digit() || c == ' ');
    if !starts || bare {
        return None;
    }
    match air::parse(&text) {
        Ok(Said::Measured(tenths)) => Some(tenths),
        Ok(_) | Err(_) => None,
    }
}

fn is_fraction(c: char) -> bool {
    matches!(c, '\u{bc}'..='\u{be}' | '\u{2150}'..='\u{215e}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn readings_of_a_sentence() {
        for (text, meant) in [
            ("was 3/4 in", vec![191]),
            ("was 3/4, I mistyped", vec![191]),
            ("it was 1 1/4 in. not 3/4 in", vec![318, 191]),
            ("era 2 cm", vec![200]),
            ("read \u{bd}\" on the second look", vec![127]),
            ("3/4 in, yes 3/4 in", vec![191]),
            ("wrong bed", vec![]),
            ("two pads, 2 sheets, bed 104", vec![]),
            ("LW-07 and not LW-08", vec![]),
            ("touching", vec![]),
            ("", vec![]),
        ] {
            let found: Vec<i32> = readings(text).into_iter().map(|tenths| tenths.0).collect();
            assert_eq!(found, meant, "{text}");
        }
    }

    proptest! {
        #[test]
        fn nothing_breaks_it(text in "\\PC{0,60}") {
            assert!(readings(&text).len() <= FOUND_MOST);
        }
    }
}
