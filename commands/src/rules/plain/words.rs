//! The closed list of words and phrases that a message is read by, and the slips of them.
//!
//! Decides what a phrase means and which word a slip was meant to be; `words.txt` has the phrases. Leaves what several
//! meanings in one message come to, to `compose`.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use super::tokens::{Kind, Token};
use crate::rules::guard;
use crate::rules::named::named_enum;
use crate::rules::nearest;
use crate::words::Lang;

named_enum! {
    /// What a phrase means, whatever language it is in.
    pub enum Meaning {
        /// It beeps.
        Beeping = "beeping",
        /// It beeped.
        Beeped = "beeped",
        /// An alarm, of no kind yet.
        Alarm = "alarm",
        /// Low pressure, as a panel says it.
        LowPressure = "low-pressure",
        /// High pressure, as a panel says it.
        HighPressure = "high-pressure",
        /// No power at one surface.
        NoPower = "no-power",
        /// It stopped: itself, or the noise that is named beside it.
        Stopped = "stopped",
        /// A fault, as a panel says it.
        Fault = "fault",
        /// The panel is dark.
        NoLights = "no-lights",
        /// Only one side or part.
        OnePart = "one-part",
        /// It no longer alternates.
        NotAlternating = "not-alternating",
        /// Noise or shaking.
        Noise = "noise",
        /// Heat, burning, smoke.
        Hot = "hot",
        /// Fluid inside.
        Wet = "wet",
        /// Something is wrong with it.
        NotWorking = "not-working",
        /// Soft, flat, low: how low is not said.
        Low = "low",
        /// Hard, high: how high is not said.
        High = "high",
        /// No air at all.
        Touching = "touching",
        /// A hand check was made.
        Check = "check",
        /// The trade's word for a reading, which may also be "less than".
        AirUnder = "air-under",
        /// Good, in no units.
        AllGood = "all-good",
        /// Looked at and felt from above, and right.
        Within = "within",
        /// It could not be checked.
        CannotCheck = "cannot-check",
        /// Because of sleep.
        Asleep = "asleep",
        /// Because of a no.
        Refused = "refused",
        /// Because nobody was in bed.
        Out = "out",
        /// Because of isolation.
        Isolation = "isolation",
        /// Measured in fingers or hands, which are no length.
        Fingers = "fingers",
        /// Under the buttocks.
        Buttocks = "buttocks",
        /// Under the hips.
        Hips = "hips",
        /// Under the shoulders.
        Shoulders = "shoulders",
        /// On the back, head flat.
        BackFlat = "back-flat",
        /// On the back, head raised.
        BackRaised = "back-raised",
        /// On the side.
        Side = "side",
        /// Alternating mode.
        Alternating = "alternating",
        /// Static mode.
        Static = "static",
        /// A filter.
        Filter = "filter",
        /// Dusty.
        Dusty = "dusty",
        /// Dirty: dusty or clogged.
        Dirty = "dirty",
        /// Clogged.
        Clogged = "clogged",
        /// A new one went in.
        Replaced = "replaced",
        /// Rinsed.
        Rinsed = "rinsed",
        /// Left in.
        Left = "left",
        /// Torn or broken.
        Damaged = "damaged",
        /// Clean: of a filter, how it looked.
        Clean = "clean",
        /// Was cleaned.
        Cleaned = "cleaned",
        /// Was washed: of a filter, rinsed.
        Washed = "washed",
        /// With soap and water.
        Soap = "soap",
        /// With a quaternary disinfectant.
        Quaternary = "quaternary",
        /// With bleach.
        Bleach = "bleach",
        /// With something that may be any of them.
        Wipes = "wipes",
        /// On its day.
        Routine = "routine",
        /// Because it was soiled.
        Soiled = "soiled",
        /// Between residents.
        BetweenResidents = "between-residents",
        /// The cover.
        Cover = "cover",
        /// Whole.
        Intact = "intact",
        /// Stained.
        Stained = "stained",
        /// What is due.
        Due = "due",
        /// Where something is.
        Where = "where",
        /// How something stands.
        Status = "status",
        /// What can be said here.
        Help = "help",
        /// What to look at first.
        LookFirst = "look-first",
        /// It is over.
        Over = "over",
        /// Somebody goes to it, or says that the resident is safe.
        Taking = "taking",
        /// No.
        Not = "not",
        /// Perhaps.
        Maybe = "maybe",
        /// One or the other.
        Or = "or",
        /// About as much.
        Approx = "approx",
        /// Less than.
        Almost = "almost",
        /// More than.
        More = "more",
        /// Just as much, or not.
        Barely = "barely",
        /// Some time ago.
        Past = "past",
        /// In the past tense.
        Was = "was",
        /// Still to be done.
        NotYet = "not-yet",
        /// How it ought to be.
        Ought = "ought",
        /// On a condition.
        If = "if",
        /// A question's beginning.
        Question = "question",
        /// For `/place`.
        Place = "place",
        /// For `/release`.
        Release = "release",
        /// For `/swap`.
        Swap = "swap",
        /// For `/move`.
        Move = "move",
        /// For `/leave`.
        Leave = "leave",
        /// Somebody is in bed again.
        BackInBed = "back-in-bed",
        /// For `/cpr`.
        Cpr = "cpr",
        /// For `/pull`.
        Pull = "pull",
        /// For `/return`.
        Return = "return",
        /// For `/hold`.
        Hold = "hold",
        /// For `/outage`.
        Outage = "outage",
        /// For `/stock`.
        Stock = "stock",
        /// For `/rental`.
        Rental = "rental",
        /// For `/zones`.
        Zones = "zones",
        /// For `/setting`.
        Setting = "setting",
        /// For `/recall`.
        Recall = "recall",
        /// For `/match`.
        Match = "match",
        /// Somebody new comes.
        Admission = "admission",
        /// A kind of surface.
        LowAirLoss = "low-air-loss",
        /// For `/service`.
        Service = "service",
        /// For `/catchup`.
        LateList = "late-list",
        /// What was said before was wrong.
        Mistake = "mistake",
        /// Somebody may be hurt: a voice is needed.
        Voice = "voice",
        /// About something that is no surface.
        Other = "other",
        /// Out, away: of whom or what is not said.
        Away = "away",
        /// The setting in use follows.
        AtSetting = "at-setting",
        /// A valve.
        Valve = "valve",
        /// Linen: counted, it is layers.
        Layer = "layer",
        /// A piece of a length.
        Amount = "amount",
        /// Says nothing here.
        Filler = "filler",
    }
}

/// A meaning in a message.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Hit {
    pub meaning: Meaning,
    pub start: usize,
    /// One past its last piece.
    pub end: usize,
}

/// The phrases, ready to be looked up.
pub(super) struct Vocabulary {
    /// By their first word, the longest first.
    phrases: BTreeMap<&'static str, Vec<(Vec<&'static str>, Meaning)>>,
    /// Every word that stands in a phrase.
    words: Vec<&'static str>,
    /// The phrases that are Spanish.
    spanish: BTreeSet<&'static str>,
}

/// Small words that both languages have: they say nothing of which it is.
const OF_BOTH: &[&str] = &[
    "no", "a", "me", "he", "as", "tag", "alto", "hospital", "error",
];

static VOCABULARY: LazyLock<Vocabulary> =
    LazyLock::new(|| Vocabulary::read(include_str!("words.txt")));

/// The vocabulary.
pub(super) fn vocabulary() -> &'static Vocabulary {
    &VOCABULARY
}

impl Vocabulary {
    fn read(text: &'static str) -> Self {
        let mut phrases: BTreeMap<&'static str, Vec<(Vec<&'static str>, Meaning)>> =
            BTreeMap::new();
        let (mut words, mut spanish) = (Vec::new(), BTreeSet::new());
        for (meaning, lang, list) in rows(text) {
            // A meaning that we do not know is found by a test.
            let Some(meaning) = Meaning::from_text(meaning) else {
                continue;
            };
            for phrase in list {
                let pieces: Vec<&'static str> = phrase.split_whitespace().collect();
                words.extend(pieces.iter().copied());
                if lang == Lang::Spanish {
                    spanish.insert(phrase);
                }
                if let Some(first) = pieces.first() {
                    phrases.entry(first).or_default().push((pieces, meaning));
                }
            }
        }
        for same_start in phrases.values_mut() {
            same_start.sort_by_key(|(pieces, _)| std::cmp::Reverse(pieces.len()));
        }
        words.sort_unstable();
        words.dedup();
        Self {
            phrases,
            words,
            spanish,
        }
    }

    /// The language of a phrase; none where it is in both.
    pub fn lang(&self, phrase: &str) -> Option<Lang> {
        if OF_BOTH.contains(&phrase) {
            return None;
        }
        Some(if self.spanish.contains(phrase) {
            Lang::Spanish
        } else {
            Lang::English
        })
    }

    /// Whether it is a word of some phrase.
    pub fn has(&self, word: &str) -> bool {
        self.words.binary_search(&word).is_ok()
    }

    /// The pieces with slips put right. A word of everyday is never a slip of another, nor one that could be two.
    pub fn corrected(&self, tokens: &[Token], named: impl Fn(usize) -> bool) -> Vec<String> {
        let right = |(at, token): (usize, &Token)| {
            if token.kind != Kind::Word
                || named(at)
                || self.has(&token.text)
                || guard::is_word(&token.text)
            {
                return token.text.clone();
            }
            let near = nearest::slips(&token.text, self.words.iter().copied());
            // "Beping" is nearer to "beeping" than "being", which says nothing, ever is.
            let says = |word: &&&str| self.alone(word) != Some(Meaning::Filler);
            let saying: Vec<&str> = near.iter().filter(says).copied().collect();
            match (near.as_slice(), saying.as_slice()) {
                ([one], _) | (_, [one]) => (*one).to_owned(),
                (_, [first, rest @ ..])
                    if rest
                        .iter()
                        .all(|word| self.alone(word) == self.alone(first)) =>
                {
                    (*first).to_owned()
                }
                (_, _) => token.text.clone(),
            }
        };
        tokens.iter().enumerate().map(right).collect()
    }

    /// What a word means by itself.
    fn alone(&self, word: &str) -> Option<Meaning> {
        let same_start = self.phrases.get(word)?;
        same_start
            .iter()
            .find(|(pieces, _)| pieces.len() == 1)
            .map(|(_, meaning)| *meaning)
    }

    /// The longest phrase that begins here. Dashes between its words do not count.
    pub fn phrase(
        &self,
        tokens: &[Token],
        words: &[String],
        start: usize,
        named: impl Fn(usize) -> bool,
    ) -> Option<Hit> {
        let same_start = self.phrases.get(words.get(start)?.as_str())?;
        same_start.iter().find_map(|(pieces, meaning)| {
            let mut at = start;
            for (place, piece) in pieces.iter().enumerate() {
                if place > 0 && tokens.get(at).is_some_and(|token| token.is_mark('-')) {
                    at += 1;
                }
                if named(at) || words.get(at).is_none_or(|word| word != piece) {
                    return None;
                }
                at += 1;
            }
            Some(Hit {
                meaning: *meaning,
                start,
                end: at,
            })
        })
    }
}

/// The rows of the file: a meaning, their language and its phrases.
fn rows(
    text: &'static str,
) -> impl Iterator<Item = (&'static str, Lang, impl Iterator<Item = &'static str>)> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| line.split_once(": "))
        .map(|(head, list)| {
            let (meaning, lang) = match head.strip_suffix(" es") {
                Some(meaning) => (meaning, Lang::Spanish),
                None => (head, Lang::English),
            };
            (meaning, lang, list.split(", ").map(str::trim))
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::plain::tokens;

    #[test]
    fn the_file_is_read_whole() {
        let text = include_str!("words.txt");
        let mut said: BTreeMap<&str, &str> = BTreeMap::new();
        for line in text.lines() {
            assert!(
                line.is_empty() || line.starts_with('#') || line.contains(": "),
                "{line}"
            );
        }
        for (meaning, _, list) in rows(text) {
            assert!(Meaning::from_text(meaning).is_some(), "{meaning}");
            for phrase in list {
                assert_eq!(tokens::compared(&phrase.to_lowercase()), phrase, "{phrase}");
                let before = said.insert(phrase, meaning);
                assert_eq!(before, None, "{phrase} stands twice");
            }
        }
        for meaning in Meaning::ALL {
            assert!(
                said.values().any(|word| *word == meaning.as_str()),
                "{meaning:?}"
            );
        }
    }

    #[test]
    fn slips_are_put_right_and_words_are_left() {
        let words = |text: &str| {
            let tokens = tokens::split(text);
            vocabulary().corrected(&tokens, |_| false).join(" ")
        };
        assert_eq!(words("beping filetr presure"), "beeping filter pressure");
        // Everyday words, short ones, and what could be two.
        assert_eq!(words("float fat nto"), "float fat nto");
    }
}
