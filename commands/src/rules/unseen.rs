//! Characters that show nothing, or turn the direction of what stands beside them: they make one text look like another, reach
//! into the sentence around them and hide words from the privacy guard, and nobody types them at a bedside. Decides which they are;
//! whoever hears what was typed leaves them out before anything is read of it.
//!
//! Sources: Unicode Standard Annex 9, table of explicit directional formatting characters and isolates; Unicode Technical Report 36,
//! sections 2.5 and 3.6, of bidirectional and invisible text. The list is the Unicode property Default_Ignorable_Code_Point, with the
//! control characters and without the selectors that an emoji wears; from memory, and the tests hold the directional ones by name.

use std::borrow::Cow;

/// Whether it is one of them. Ends of lines and tabs are not.
#[must_use]
pub fn is_unseen(c: char) -> bool {
    match c {
        '\n' | '\r' | '\t' => false,
        c if c.is_control() => true,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' => {
            true
        }
        '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' => true,
        '\u{2060}'..='\u{206f}'
        | '\u{3164}'
        | '\u{feff}'
        | '\u{ffa0}'
        | '\u{fff0}'..='\u{fffb}' => true,
        '\u{1bca0}'..='\u{1bca3}' | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}' => true,
        _ => false,
    }
}

/// The text without them.
#[must_use]
pub fn without(text: &str) -> Cow<'_, str> {
    if text.chars().any(is_unseen) {
        Cow::Owned(text.chars().filter(|c| !is_unseen(*c)).collect())
    } else {
        Cow::Borrowed(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The explicit formatting characters and isolates of Unicode Standard Annex 9, by their names there.
    #[test]
    fn directions_are_not_taken_from_what_is_typed() {
        for turns in [
            '\u{202a}', '\u{202b}', '\u{202c}', '\u{202d}',
            '\u{202e}', // LRE, RLE, PDF, LRO, RLO
            '\u{2066}', '\u{2067}', '\u{2068}', '\u{2069}', // LRI, RLI, FSI, PDI
            '\u{200e}', '\u{200f}', '\u{61c}', // LRM, RLM, ALM
        ] {
            assert_eq!(without(&format!("1{turns}.25")), "1.25", "{turns:?}");
        }
    }

    /// Each end of what Unicode's Default_Ignorable_Code_Point and its controls have, written down here by code point.
    #[test]
    fn what_shows_nothing_is_not_taken_from_what_is_typed() {
        // Controls; soft hyphen, joiner of graphemes, fillers; Mongolian selectors and separator; without width; not assigned, and
        // annotations; shorthand and music; tags and selectors.
        for unseen in [
            0x00, 0x1b, 0x7f, 0x80, 0x9f, 0xad, 0x34f, 0x115f, 0x1160, 0x17b4, 0x17b5, 0x3164,
            0xffa0, 0x180b, 0x180e, 0x180f, 0x200b, 0x200c, 0x200d, 0x2060, 0x2064, 0x206a, 0x206f,
            0xfeff, 0xfff0, 0xfff8, 0xfffb, 0x1_bca0, 0x1_bca3, 0x1_d173, 0x1_d17a, 0xe_0000,
            0xe_0001, 0xe_0020, 0xe_0041, 0xe_007f, 0xe_0100, 0xe_01ef, 0xe_0fff,
        ] {
            let c = char::from_u32(unseen).unwrap();
            assert_eq!(without(&format!("1{c}.25")), "1.25", "{unseen:x}");
        }
    }

    #[test]
    fn what_can_be_seen_stays() {
        let seen = "1¼\" – señor Ñandú\n\t① 🛏 é e\u{301} لوفت";
        assert!(matches!(without(seen), Cow::Borrowed(same) if same == seen));
        assert_eq!(without("\u{feff}a\u{200b}b\u{ad}c\0d\u{1b}[2J"), "abcd[2J");
    }
}
