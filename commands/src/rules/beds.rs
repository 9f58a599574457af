//! Reads and writes a list of beds as people write it: `101-112, 114A`.
//!
//! Decides which names a list means. Leaves to the caller whether those beds are free to use.

use std::collections::BTreeSet;

/// No unit has more beds than this.
pub const BEDS_MAX: usize = 200;

/// The longest name of a bed, in characters.
pub const BED_NAME_MAX: usize = 8;

/// Runs shorter than this are written bed by bed.
const SHORTEST_RANGE: usize = 3;

/// Why a text is no list of beds. Each carries the piece that is wrong, which is at most a few characters of
/// what was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BedFault {
    /// Nothing was typed.
    Empty,
    /// Not a name of a bed: letters and digits only, eight at most, one digit at least.
    BadName {
        /// The piece as typed, shortened.
        piece: String,
    },
    /// A range that ends before it begins.
    Backwards {
        /// The piece as typed.
        piece: String,
    },
    /// A range of names with letters: each must be listed.
    LettersInRange {
        /// The piece as typed.
        piece: String,
    },
    /// A bed named twice.
    Twice {
        /// Its name.
        bed: String,
    },
    /// More beds than a unit can have.
    TooMany {
        /// The most that are taken.
        most: usize,
    },
}

/// Reads `101-112, 114A`: names and ranges of numbers, divided by commas, in the order given.
///
/// Letters become capitals. A range keeps the zeros at the front of its first number (`01-12`).
///
/// # Errors
/// [`BedFault`] with the offending piece.
pub fn parse(text: &str) -> Result<Vec<String>, BedFault> {
    let mut beds = Vec::new();
    let mut seen = BTreeSet::new();
    let text = text.replace(['–', '—', '‐', '‑', '−'], "-");
    for piece in text
        .split([',', ';', '\n'])
        .map(str::trim)
        .filter(|piece| !piece.is_empty())
    {
        for bed in beds_of(piece, BEDS_MAX - beds.len())? {
            if !seen.insert(bed.clone()) {
                return Err(BedFault::Twice { bed });
            }
            beds.push(bed);
        }
    }
    if beds.is_empty() {
        Err(BedFault::Empty)
    } else {
        Ok(beds)
    }
}

/// The name of one bed in capitals.
///
/// # Errors
/// [`BedFault::BadName`] or [`BedFault::Empty`].
pub fn name(text: &str) -> Result<String, BedFault> {
    let piece = text.trim();
    if piece.is_empty() {
        return Err(BedFault::Empty);
    }
    let plain = piece.chars().all(|c| c.is_ascii_alphanumeric())
        && piece.chars().any(|c| c.is_ascii_digit());
    if plain && piece.len() <= BED_NAME_MAX {
        Ok(piece.to_ascii_uppercase())
    } else {
        Err(bad(piece))
    }
}

/// Writes a list of beds, runs of numbers as ranges; reads back as the same list.
#[must_use]
pub fn show(beds: &[String]) -> String {
    let mut pieces = Vec::new();
    let mut rest = beds;
    while let Some(first) = rest.first() {
        let run = run_length(rest);
        let (head, tail) = rest.split_at(run);
        match head.last() {
            Some(last) if run >= SHORTEST_RANGE => pieces.push(format!("{first}-{last}")),
            _short => pieces.extend(head.iter().cloned()),
        }
        rest = tail;
    }
    pieces.join(", ")
}

/// Writes names as people read them, beds or tags: `104, 106–109, LW-07–09`. Runs that count up by one become ranges,
/// whatever stands before the number; in the order of their numbers. Each piece with how many names it stands for.
#[must_use]
pub fn grouped(names: &[String]) -> Vec<(String, usize)> {
    let mut parts: Vec<(&str, u64, usize, &str)> = Vec::with_capacity(names.len());
    for name in names {
        let digits = name.bytes().rev().take_while(u8::is_ascii_digit).count();
        let (head, tail) = name.split_at(name.len() - digits);
        parts.push((head, tail.parse().unwrap_or(0), digits, name));
    }
    parts.sort_unstable();
    parts.dedup();
    let mut pieces = Vec::new();
    let mut rest = parts.as_slice();
    while let Some((head, number, width, first)) = rest.first() {
        let run = (*number..)
            .zip(rest)
            .take_while(|(wanted, (of, number, digits, _))| {
                *digits > 0 && (of, number, digits) == (head, wanted, width)
            })
            .count()
            .max(1);
        let (these, after) = rest.split_at(run);
        match these.last() {
            Some((_, last, ..)) if run >= SHORTEST_RANGE => {
                pieces.push((format!("{first}–{last:0width$}", width = *width), run));
            }
            _short => pieces.extend(these.iter().map(|(.., name)| ((*name).to_owned(), 1))),
        }
        rest = after;
    }
    pieces
}

fn bad(piece: &str) -> BedFault {
    BedFault::BadName {
        piece: piece.chars().take(2 * BED_NAME_MAX).collect(),
    }
}

fn beds_of(piece: &str, room: usize) -> Result<Vec<String>, BedFault> {
    let Some((from, to)) = piece.split_once('-') else {
        return if room == 0 {
            Err(BedFault::TooMany { most: BEDS_MAX })
        } else {
            Ok(vec![name(piece)?])
        };
    };
    let (from, to) = (
        name(from).map_err(|_| bad(piece))?,
        name(to).map_err(|_| bad(piece))?,
    );
    let (Ok(first), Ok(last)) = (from.parse::<u32>(), to.parse::<u32>()) else {
        return Err(BedFault::LettersInRange {
            piece: format!("{from}-{to}"),
        });
    };
    if last < first {
        return Err(BedFault::Backwards {
            piece: format!("{from}-{to}"),
        });
    }
    if (last - first) as usize >= room {
        return Err(BedFault::TooMany { most: BEDS_MAX });
    }
    let width = from.len();
    Ok((first..=last)
        .map(|number| format!("{number:0width$}"))
        .collect())
}

/// How many names at the front count up by one, written as a range would write them.
fn run_length(beds: &[String]) -> usize {
    let Some(first) = beds.first() else { return 0 };
    let Ok(number) = first.parse::<u32>() else {
        return 1;
    };
    let width = first.len();
    let counted = (number..)
        .zip(beds)
        .take_while(|(number, bed)| format!("{number:0width$}") == **bed);
    counted.count().max(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn ranges_and_names_in_order() {
        let beds = parse("101-103, 114a; 7").unwrap();
        assert_eq!(beds, ["101", "102", "103", "114A", "7"]);
        assert_eq!(show(&beds), "101-103, 114A, 7");
        assert_eq!(parse("08–11").unwrap(), ["08", "09", "10", "11"]);
        assert_eq!(parse("101 - 102").unwrap(), ["101", "102"]);
        assert_eq!(show(&parse("101-102").unwrap()), "101, 102");
        assert_eq!(parse("5-5").unwrap(), ["5"]);
    }

    #[test]
    fn runs_are_short_whatever_stands_before_the_number() {
        let shown = |names: &[&str]| {
            let names: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
            let pieces = grouped(&names);
            let of: usize = pieces.iter().map(|(_, of)| of).sum();
            assert!(of <= names.len());
            let pieces: Vec<String> = pieces.into_iter().map(|(piece, _)| piece).collect();
            pieces.join(", ")
        };
        assert_eq!(shown(&["109", "104", "107", "106", "108"]), "104, 106–109");
        assert_eq!(shown(&["LW-09", "LW-07", "LW-08", "X1"]), "LW-07–09, X1");
        assert_eq!(shown(&["101", "102"]), "101, 102");
        assert_eq!(shown(&["99", "100", "101"]), "99, 100, 101");
        assert_eq!(shown(&["114A", "113", "114", "115"]), "113–115, 114A");
        assert_eq!(shown(&["LW-7", "LW-7"]), "LW-7");
        assert_eq!(shown(&[]), "");
    }

    #[test]
    fn faults_name_the_piece() {
        let bad = |piece: &str| BedFault::BadName {
            piece: piece.to_owned(),
        };
        for (text, fault) in [
            ("", BedFault::Empty),
            (" , ", BedFault::Empty),
            ("101, Elm", bad("Elm")),
            ("101, 1 2", bad("1 2")),
            ("101-", bad("101-")),
            ("-101", bad("-101")),
            ("101-103-105", bad("101-103-105")),
            ("101, 123456789", bad("123456789")),
            (
                "112-101",
                BedFault::Backwards {
                    piece: "112-101".into(),
                },
            ),
            (
                "101a-101c",
                BedFault::LettersInRange {
                    piece: "101A-101C".into(),
                },
            ),
            ("101-103, 102", BedFault::Twice { bed: "102".into() }),
            ("12a, 12A", BedFault::Twice { bed: "12A".into() }),
            ("1-201", BedFault::TooMany { most: 200 }),
            ("1-99999999", BedFault::TooMany { most: 200 }),
            ("1-200, 201", BedFault::TooMany { most: 200 }),
        ] {
            assert_eq!(parse(text), Err(fault), "{text:?}");
        }
        assert_eq!(parse("1-200").unwrap().len(), 200);
    }

    proptest! {
        #[test]
        fn reads_back_what_it_writes(text in "([0-9]{1,3}(-[0-9]{1,3})?[A-C]?, ?){0,6}") {
            if let Ok(beds) = parse(&text) {
                prop_assert!(beds.len() <= BEDS_MAX);
                prop_assert_eq!(parse(&show(&beds)), Ok(beds));
            }
        }

        #[test]
        fn no_text_stops_the_reader(text in "\\PC{0,60}") {
            let _ = parse(&text);
        }
    }
}
