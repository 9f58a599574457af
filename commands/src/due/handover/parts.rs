//! How the lines of a handover are laid on screens: as many on the card as a phone shows, the others in parts that are a
//! message each. Decides where one ends; leaves what the lines say to `handover`.

use super::{CHARS_MOST, LINE_CHARS, LINES_MOST};
use crate::message::TEXT_CHARS_MAX;
use crate::say;
use crate::words::Lang;

/// The most characters of a part: a message without the line that counts those after it.
const PART_CHARS: usize = TEXT_CHARS_MAX - 200;
/// What a line begins with that goes on from the one before.
const GOES_ON: &str = "… ";

/// As many lines as one screen holds, and how many those are; the rest is counted in a last line.
pub(super) fn fit(lang: Lang, shown: &mut Vec<String>, lines: &[String]) -> usize {
    let size = |lines: &[String]| {
        let chars: usize = lines.iter().map(|line| shown_chars(line) + 1).sum();
        let broken: usize = lines
            .iter()
            .map(|line| shown_chars(line).div_ceil(LINE_CHARS).max(1))
            .sum();
        (chars, broken)
    };
    // Room for the line that counts the rest, and for the one that says who accepted it.
    let spare = (100, 4);
    let (mut chars, mut broken) = size(shown);
    let mut kept = 0;
    for line in lines {
        let (more, breaks) = size(std::slice::from_ref(line));
        if chars + more + spare.0 > CHARS_MOST || broken + breaks + spare.1 > LINES_MOST {
            break;
        }
        chars += more;
        broken += breaks;
        kept += 1;
        shown.push(line.clone());
    }
    let left = lines.len() - kept;
    if left > 0 {
        shown.push(say!(lang, "handover-rest", count = left as i64));
    }
    kept
}

/// The lines that did not fit, in parts that are a message each: none is left out.
pub(crate) fn parts(lines: &[String]) -> Vec<Vec<String>> {
    let mut parts: Vec<Vec<String>> = Vec::new();
    let mut filled = 0;
    for line in lines.iter().flat_map(|line| broken(line)) {
        let chars = line.chars().count() + 1;
        match parts.last_mut() {
            Some(part) if filled + chars <= PART_CHARS => {
                part.push(line);
                filled += chars;
            }
            _ => {
                parts.push(vec![line]);
                filled = chars;
            }
        }
    }
    parts
}

/// A line that no part would hold, in pieces that one does, broken between what it names.
fn broken(line: &str) -> Vec<String> {
    // Room for what a piece begins with, and for the end of its line.
    let most = PART_CHARS - GOES_ON.chars().count() - 1;
    let mut pieces = Vec::new();
    let mut left = line.to_owned();
    while let Some((end, _)) = left.char_indices().nth(most) {
        let head = &left[..end];
        // After the mark that goes on, or nothing would be taken off.
        let from = GOES_ON.len();
        let cut = head
            .rfind(", ")
            .map(|at| at + 1)
            .or_else(|| head.rfind(' '))
            .filter(|at| *at > from)
            .unwrap_or(end);
        let after = format!("{GOES_ON}{}", left[cut..].trim_start());
        left.truncate(cut);
        pieces.push(std::mem::replace(&mut left, after));
    }
    pieces.push(left);
    pieces
}

/// How many characters of a text are seen: its markup is not, and times and names are written out by the phone.
fn shown_chars(text: &str) -> usize {
    // A time such as 02:10 PM, a name such as @Noor R.
    const WRITTEN_OUT: usize = 8;
    let plain = text.replace("**", "");
    let mut count = 0;
    let mut rest = plain.as_str();
    while let Some(at) = rest.find('<') {
        count += rest[..at].chars().count();
        match rest[at..].find('>') {
            Some(end) => {
                count += WRITTEN_OUT;
                rest = &rest[at + end + 1..];
            }
            None => {
                rest = &rest[at..];
                break;
            }
        }
    }
    count + rest.chars().count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_seen_is_counted_and_not_its_markup() {
        assert_eq!(
            shown_chars("**LW-07**: since <t:1761:t>, <@12> and no more"),
            43
        );
        assert_eq!(shown_chars("a < b"), 5);
        assert_eq!(shown_chars(""), 0);
    }

    #[test]
    fn a_long_handover_is_cut_and_the_rest_is_counted() {
        let lines: Vec<String> = (0..60).map(|no| format!("- **LW-{no:02}**: low")).collect();
        let mut shown = vec!["head".to_owned()];
        let kept = fit(Lang::English, &mut shown, &lines);
        assert_eq!(shown.len() - 2, kept);
        assert!(shown.len() <= LINES_MOST);
        let chars: usize = shown.iter().map(|line| shown_chars(line) + 1).sum();
        assert!(chars <= CHARS_MOST);
        assert!(
            shown.last().is_some_and(|last| last.contains("40")),
            "{shown:?}"
        );
        let parts = parts(&lines[kept..]);
        assert_eq!(parts, [lines[kept..].to_vec()]);
    }

    #[test]
    fn a_rest_beyond_one_message_goes_on_in_the_next_part() {
        let lines: Vec<String> = (0..200)
            .map(|no| format!("- **LW-{no:03}**: low"))
            .collect();
        let parts = parts(&lines);
        assert!(parts.len() > 1);
        for part in &parts {
            assert!(part.join("\n").chars().count() <= PART_CHARS);
        }
        assert_eq!(parts.concat(), lines);
    }

    #[test]
    fn a_line_beyond_one_message_is_broken_between_what_it_names() {
        let named: Vec<String> = (0..400).map(|no| format!("<@{no:019}>")).collect();
        let line = format!("- Called about **LW-01**: {}", named.join(", "));
        let parts = parts(&[line]);
        let said = parts.concat();
        assert!(said.iter().all(|piece| piece.chars().count() <= PART_CHARS));
        for name in &named {
            assert!(said.iter().any(|piece| piece.contains(name)), "{name}");
        }
    }

    #[test]
    fn a_word_beyond_one_message_is_broken_and_loses_nothing() {
        let said = parts(&["é".repeat(PART_CHARS + 1)]).concat();
        assert_eq!(said.len(), 2);
        let kept: usize = said.iter().map(|piece| piece.matches('é').count()).sum();
        assert_eq!(kept, PART_CHARS + 1);
    }
}
