//! Words that are in no dictionary and no code, and what each was for, so that one that is found somewhere says where it came from. Decides how
//! a word looks and the ways it is said; where it is said is the parent's.

use std::collections::{BTreeMap, BTreeSet};

use regex::bytes::Regex;

/// What a word was for.
struct Use {
    what: String,
    /// Whether a home may keep what was said there.
    may_be_kept: bool,
}

/// The words that were given out.
#[derive(Default)]
pub struct Words {
    of: BTreeMap<String, Use>,
}

impl Words {
    /// A word for something that no home keeps. It is in no dictionary and no code, and reads like no name.
    pub fn word(&mut self, what: impl Into<String>) -> String {
        self.new_word(what.into(), false)
    }

    /// A word for something that a home may keep.
    pub fn kept(&mut self, what: impl Into<String>) -> String {
        self.new_word(what.into(), true)
    }

    /// A word for something of which that is said.
    pub fn new_word(&mut self, what: String, may_be_kept: bool) -> String {
        const LETTERS: &[u8; 16] = b"bcdfghjklmnprstv";
        let n = self.of.len();
        let letters = (0..3).map(|place| char::from(LETTERS[(n >> (4 * place)) % 16]));
        let word = format!("qx{}xq", letters.collect::<String>());
        let of = Use { what, may_be_kept };
        let before = self.of.insert(word.clone(), of);
        assert!(before.is_none(), "there are not enough words");
        word
    }

    /// What the words that stand there were for.
    pub fn found(&self, bytes: &[u8]) -> BTreeSet<&str> {
        let uses = self.uses(bytes).into_iter();
        uses.map(|of| of.what.as_str()).collect()
    }

    /// The same of those that no home keeps.
    pub fn strays(&self, bytes: &[u8]) -> BTreeSet<&str> {
        let strays = self.uses(bytes).into_iter().filter(|of| !of.may_be_kept);
        strays.map(|of| of.what.as_str()).collect()
    }

    fn uses(&self, bytes: &[u8]) -> Vec<&Use> {
        let any = Regex::new("(?i)qx[a-z]{3}xq").unwrap();
        let words: BTreeSet<String> = any
            .find_iter(bytes)
            .map(|found| String::from_utf8_lossy(found.as_bytes()).to_lowercase())
            .collect();
        words.iter().filter_map(|word| self.of.get(word)).collect()
    }
}

/// The ways to say a word: as what may not be kept; between what could call somebody or pass for our own; as it is; as long as the platform
/// takes; and longer. What may not be kept comes first, because what is kept may leave no place for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    Refused,
    Acting,
    Plain,
    Long,
    TooLong,
}

impl Way {
    /// Every one.
    pub const ALL: [Way; 5] = [
        Way::Refused,
        Way::Acting,
        Way::Plain,
        Way::Long,
        Way::TooLong,
    ];

    /// The word said so, in as many characters as that at most where it is to be long.
    pub fn text(self, word: &str, most: usize) -> String {
        match self {
            Way::Plain => format!("hose {word} bent"),
            Way::Acting => format!(
                "\u{202e}{word}\u{200b} @everyone <@&1> **{word}** ||{word}|| ```{word}``` \u{2066}# {word}\u{e0041}\u{ad}"
            ),
            // An address of the web; as a link with other words on it where it would act.
            Way::Refused => format!("[{word}](http://{word}.example)"),
            Way::Long | Way::TooLong => {
                let more = usize::from(self == Way::TooLong);
                let mut text = word.to_owned();
                text.extend(" hose".chars().cycle().take(most + more - word.len()));
                text
            }
        }
    }
}
