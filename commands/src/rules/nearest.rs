//! Finds what a text means among known names: tags, beds, units, columns.
//!
//! Decides when two ways of writing are one name, and what to offer where nothing fits. Leaves to the caller
//! what the names stand for; a guess is only ever offered, never taken.

use super::spanish::without_accents;

/// How many names are offered.
pub const OFFERED_MAX: usize = 5;

/// Names less alike than this (1 is the same) are not offered.
const ALIKE_MIN: f64 = 0.6;

/// What a text means among known names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Match<'a> {
    /// One name, however written.
    One(&'a str),
    /// More than one name could be meant as written: ask.
    Several(Vec<&'a str>),
    /// None; the likeliest few, best first, perhaps none.
    Nearest(Vec<&'a str>),
}

/// Finds a name. Capitals, spaces, dashes and zeros before a number do not count: `lw7`, `LW 07` and `lw-7`
/// all mean `LW-07`. Where two names differ in nothing else, the one written the same way wins.
#[must_use]
pub fn find<'a>(text: &str, names: impl IntoIterator<Item = &'a str>) -> Match<'a> {
    let (typed, wanted) = (text.trim(), fold(text));
    let mut same = Vec::new();
    let mut alike = Vec::new();
    for name in names {
        let folded = fold(name);
        if folded == wanted && !wanted.is_empty() {
            same.push(name);
        } else if same.is_empty() {
            let score = likeness(&wanted, &folded);
            if score >= ALIKE_MIN {
                alike.push((score, name));
            }
        }
    }
    let exact = same.iter().copied().find(|name| *name == typed);
    let written = || {
        let mut same_letters = same
            .iter()
            .copied()
            .filter(|name| name.eq_ignore_ascii_case(typed));
        same_letters
            .next()
            .filter(|_| same_letters.next().is_none())
    };
    match (exact.or_else(written), same.as_slice()) {
        (Some(name), _) => Match::One(name),
        (None, [name]) => Match::One(name),
        (None, []) => {
            alike.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(b.1)));
            Match::Nearest(
                alike
                    .into_iter()
                    .take(OFFERED_MAX)
                    .map(|(_, name)| name)
                    .collect(),
            )
        }
        (None, _more) => Match::Several(same),
    }
}

/// Words that people put before a bed or a tag.
const BEFORE: [&str; 8] = [
    "bed",
    "room",
    "surface",
    "mattress",
    "cama",
    "habitacion",
    "superficie",
    "colchon",
];

/// Finds a tag or a bed, also with what people write around one: `bed 305`, `b305`, `LW-04 (bed 104)`. As it stands it
/// is looked for first, so that a bed that is called `B305` is found under that name.
#[must_use]
pub fn find_place<'a>(text: &str, names: impl IntoIterator<Item = &'a str> + Clone) -> Match<'a> {
    let as_typed = find(text, names.clone());
    if !matches!(as_typed, Match::Nearest(_)) {
        return as_typed;
    }
    for way in ways(text) {
        let found = find(&way, names.clone());
        if !matches!(found, Match::Nearest(_)) {
            return found;
        }
    }
    // What is offered is near to the name itself, not to the word before it.
    match ways(text).first() {
        Some(way) => find(way, names),
        None => as_typed,
    }
}

/// Whether a name may be what is being typed: it holds it, or what is left of it without a word such as `bed` before it.
#[must_use]
pub fn begun(typed: &str, name: &str) -> bool {
    let (wanted, name) = (fold(typed), fold(name));
    let word = BEFORE.contains(&without_accents(&wanted).as_str());
    let among = |way: &String| {
        let way = fold(way);
        !way.is_empty() && name.contains(&way)
    };
    word || name.contains(&wanted) || ways(typed).iter().any(among)
}

/// The ways to read a text without what stands around a name in it, the likeliest first; none where nothing does.
#[must_use]
pub fn ways(text: &str) -> Vec<String> {
    let mut ways: Vec<String> = Vec::new();
    let mut parts = vec![text.trim()];
    if let Some((before, inside)) = text.split_once('(') {
        parts = vec![before.trim(), inside.trim().trim_end_matches(')').trim()];
        ways.extend(parts.iter().map(|part| (*part).to_owned()));
    }
    for part in parts {
        let lower = without_accents(&part.to_lowercase());
        let word = lower
            .split(|c: char| !c.is_alphabetic())
            .next()
            .unwrap_or("");
        let first = if BEFORE.contains(&word) || word == "b" {
            part.chars().skip(word.chars().count()).collect::<String>()
        } else {
            continue;
        };
        let rest = first.trim_start_matches(|c: char| !c.is_alphanumeric());
        ways.push(rest.to_owned());
    }
    ways.retain(|way| !way.is_empty());
    ways
}

/// Words shorter than this are never read as a slip: too many of them are one letter apart.
const SLIP_CHARS_MIN: usize = 4;

/// Words at least this long may have two slips.
const TWO_SLIPS_CHARS_MIN: usize = 8;

/// The words of a closed list that a word may be a slip of: one letter wrong, missing, too many or in the wrong place (two
/// in a long word), the first one right. The nearest only; more than one where they are equally near.
///
/// For words of a sentence, which are echoed before anything is recorded. A name is never taken by its likeness.
#[must_use]
pub fn slips<'a>(word: &str, list: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let chars = word.chars().count();
    let mut best = match chars {
        0..SLIP_CHARS_MIN => return Vec::new(),
        SLIP_CHARS_MIN..TWO_SLIPS_CHARS_MIN => 1,
        TWO_SLIPS_CHARS_MIN.. => 2,
    };
    let mut found = Vec::new();
    for known in list {
        let near = known.len().abs_diff(word.len()) <= best
            && known.chars().count() >= SLIP_CHARS_MIN
            && known.chars().next() == word.chars().next();
        if !near {
            continue;
        }
        let distance = strsim::osa_distance(word, known);
        if distance < best {
            best = distance;
            found.clear();
        }
        if distance <= best {
            found.push(known);
        }
    }
    found
}

/// The form of a name in which two ways of writing it are equal: lower case, letters and digits only, no
/// zeros before a number; numbers that stand apart stay apart.
#[must_use]
pub fn fold(name: &str) -> String {
    let mut folded = String::with_capacity(name.len());
    let mut in_number = false;
    let mut apart = false;
    let mut zeros = false;
    for c in name.chars().flat_map(char::to_lowercase) {
        if !c.is_alphanumeric() {
            apart = true;
            continue;
        }
        if c.is_ascii_digit() {
            if !in_number || apart {
                close_zeros(&mut folded, zeros);
                if in_number {
                    folded.push(' ');
                }
                zeros = c == '0';
                if !zeros {
                    folded.push(c);
                }
            } else if zeros {
                zeros = c == '0';
                if !zeros {
                    folded.push(c);
                }
            } else {
                folded.push(c);
            }
            in_number = true;
        } else {
            close_zeros(&mut folded, zeros);
            zeros = false;
            in_number = false;
            folded.push(c);
        }
        apart = false;
    }
    close_zeros(&mut folded, zeros);
    folded
}

/// A number of nothing but zeros is 0.
fn close_zeros(folded: &mut String, zeros: bool) {
    if zeros {
        folded.push('0');
    }
}

/// How alike two folded names are, from 0 to 1. A name that ends or begins with what was typed is likely.
fn likeness(wanted: &str, name: &str) -> f64 {
    const ENDS_WITH: f64 = 0.95;
    const BEGINS_WITH: f64 = 0.9;
    if wanted.is_empty() {
        0.0
    } else if name.ends_with(wanted) {
        ENDS_WITH
    } else if name.starts_with(wanted) {
        BEGINS_WITH
    } else if wanted.len().abs_diff(name.len()) > wanted.len().max(name.len()) / 2 {
        0.0
    } else {
        strsim::normalized_damerau_levenshtein(wanted, name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const TAGS: &[&str] = &["LW-07", "LW-17", "LW-70", "AP-1", "AP-11", "214A", "214B"];

    fn among(text: &str) -> Match<'static> {
        find(text, TAGS.iter().copied())
    }

    #[test]
    fn ways_of_writing_one_name() {
        for text in ["LW-07", "lw7", "LW 07", "lw-7", " lw_007 ", "Lw07"] {
            assert_eq!(among(text), Match::One("LW-07"), "{text:?}");
        }
        assert_eq!(among("214b"), Match::One("214B"));
        assert_eq!(among("ap 1"), Match::One("AP-1"));
        assert_eq!(
            find("elm wing", ["Elm Wing", "Oak Wing"]),
            Match::One("Elm Wing")
        );
    }

    #[test]
    fn two_that_could_be_meant() {
        let names = ["LW-07", "LW-7"];
        assert_eq!(find("lw 7", names), Match::Several(vec!["LW-07", "LW-7"]));
        assert_eq!(find("LW-7", names), Match::One("LW-7"));
        assert_eq!(find("lw-07", names), Match::One("LW-07"));
        // Numbers that stand apart are not one number.
        assert_eq!(find("1-12", ["1-12", "11-2"]), Match::One("1-12"));
        assert_eq!(fold("1-12"), "1 12");
        assert_eq!(fold("112"), "112");
        assert_eq!(fold("A-00"), "a0");
        assert_eq!(fold("0-01"), "0 1");
    }

    #[test]
    fn the_likeliest_are_offered() {
        let Match::Nearest(near) = among("LV-07") else {
            panic!("found")
        };
        assert_eq!(near.first(), Some(&"LW-07"));
        let Match::Nearest(near) = among("214") else {
            panic!("found")
        };
        assert_eq!(near, ["214A", "214B"]);
        assert_eq!(among("zzzz"), Match::Nearest(vec![]));
        assert_eq!(among(""), Match::Nearest(vec![]));
        assert_eq!(among("--"), Match::Nearest(vec![]));
        assert_eq!(find("x", []), Match::Nearest(vec![]));
    }

    #[test]
    fn places_with_what_people_write_around_them() {
        let names = ["LW-04", "104", "305", "B12", "12"];
        for (typed, meant) in [
            ("bed 305", "305"),
            ("Bed305", "305"),
            ("b305", "305"),
            ("b 305", "305"),
            ("cama 305", "305"),
            ("habitaci\u{f3}n 305", "305"),
            ("LW-04 (bed 104)", "LW-04"),
            ("lw 4 (cama 104)", "LW-04"),
            ("surface lw4", "LW-04"),
            ("lw4", "LW-04"),
            ("lw 04", "LW-04"),
            ("b12", "B12"),
            ("bed 12", "12"),
        ] {
            assert_eq!(find_place(typed, names), Match::One(meant), "{typed}");
        }
        // A bed is found in the label of a surface.
        assert_eq!(
            find_place("LW-04 (bed 104)", ["104", "105"]),
            Match::One("104")
        );
        for typed in ["", "bed", "bed 3", "b30", "30", "305", "Cama 305"] {
            assert!(begun(typed, "305"), "{typed}");
        }
        assert!(!begun("bed 4", "305") && !begun("b4", "305"));
        for typed in ["bed", "(", "()", "bed (", "x305", "bedside"] {
            assert!(
                matches!(find_place(typed, names), Match::Nearest(_)),
                "{typed}"
            );
        }
        assert_eq!(
            find_place("bed 30", names),
            Match::Nearest(vec!["305"]),
            "near to the bed, not to the word"
        );
    }

    #[test]
    fn slips_of_a_word() {
        let list = ["filter", "filtro", "beeping", "pressure", "flat", "not"];
        for (typed, meant) in [
            ("filtr", vec!["filter", "filtro"]),
            ("beping", vec!["beeping"]),
            ("beepnig", vec!["beeping"]),
            ("presure", vec!["pressure"]),
            ("pressrue", vec!["pressure"]),
            ("flta", vec!["flat"]),
            ("now", vec![]),
            ("lat", vec![]),
            ("weeping", vec![]),
            ("", vec![]),
        ] {
            assert_eq!(slips(typed, list), meant, "{typed}");
        }
    }

    proptest! {
        #[test]
        fn every_name_is_found_as_written(names in prop::collection::hash_set("[A-Za-z]{0,2}[- ]?[0-9]{1,3}", 1..20)) {
            for name in &names {
                if name.trim() == name {
                    prop_assert_eq!(find(name, names.iter().map(String::as_str)), Match::One(name));
                }
            }
        }

        #[test]
        fn folding_twice_is_folding_once(text in "\\PC{0,20}") {
            let once = fold(&text);
            // A capital whose small form carries a mark of its own may lose the mark the second time.
            if once.is_ascii() {
                prop_assert_eq!(fold(&once), once);
            }
        }
    }
}
