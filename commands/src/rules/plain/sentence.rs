//! A message with everything found in it: names, phrases, lengths, moments, layers, a setting.
//!
//! Decides which piece belongs to what, each to one thing only, and what is left over. Leaves to `compose` what it all means.

use super::amounts::{self, Amount};
use super::causes;
use super::moments::{self, Moment};
use super::names::{self, Home, Name, Named};
use super::tokens::{self, Kind, Token};
use super::words::{self, Hit, Meaning};
use crate::choice::Position;
use crate::words::Lang;

/// No more layers than this are a count of layers.
const LAYERS_MAX: u8 = 20;

/// How far "to" may stand from "set".
const SET_REACH: usize = 8;

/// A setting that a message may name has at most so many characters.
const SETTING_CHARS_MAX: usize = 12;

/// What is wrong with a surface.
const TROUBLE: &[Meaning] = &[
    Meaning::Beeping,
    Meaning::Alarm,
    Meaning::LowPressure,
    Meaning::HighPressure,
    Meaning::NoPower,
    Meaning::Outage,
    Meaning::Stopped,
    Meaning::Fault,
    Meaning::NoLights,
    Meaning::OnePart,
    Meaning::NotAlternating,
    Meaning::Noise,
    Meaning::Hot,
    Meaning::Wet,
    Meaning::Low,
    Meaning::High,
];

/// A message, read.
pub(super) struct Sentence<'a> {
    pub tokens: Vec<Token>,
    /// The pieces with slips put right.
    words: Vec<String>,
    pub names: Vec<Name<'a>>,
    pub hits: Vec<Hit>,
    used: Vec<bool>,
    pub moments: Vec<Moment>,
    pub amounts: Vec<Amount>,
    pub layers: Option<u8>,
    pub setting: Option<String>,
    /// The head of the bed, where it is given in degrees.
    pub head: Option<Position>,
    /// What was wrong, where it is said.
    pub cause: Option<causes::Said>,
}

impl<'a> Sentence<'a> {
    pub fn read(text: &str, home: &Home<'a>) -> Self {
        Self::of_tokens(tokens::split(text), home)
    }

    /// As if these pieces were all of a message.
    pub fn of_tokens(tokens: Vec<Token>, home: &Home<'a>) -> Self {
        let vocabulary = words::vocabulary();
        let names = names::find(&tokens, home, vocabulary);
        let named = |at: usize| {
            names
                .iter()
                .any(|name| (name.start..name.end).contains(&at) && !name.weak)
        };
        let words = vocabulary.corrected(&tokens, named);
        let mut hits = Vec::new();
        let mut at = 0;
        while at < tokens.len() {
            let hit = (!named(at))
                .then(|| vocabulary.phrase(&tokens, &words, at, named))
                .flatten();
            at = hit.map_or(at + 1, |hit| hit.end);
            hits.extend(hit);
        }
        let used = (0..tokens.len())
            .map(|at| {
                named(at)
                    || hits
                        .iter()
                        .any(|hit| (hit.start..hit.end).contains(&at) && takes(hit))
            })
            .collect();
        let mut sentence = Self {
            tokens,
            words,
            names,
            hits,
            used,
            moments: Vec::new(),
            amounts: Vec::new(),
            layers: None,
            setting: None,
            head: None,
            cause: None,
        };
        sentence.find_head();
        sentence.find_setting();
        sentence.find_layers();
        sentence.moments = moments::find(&mut sentence);
        sentence.amounts = amounts::find(&mut sentence);
        sentence.find_cause();
        sentence
    }

    /// Whether a piece is there and belongs to nothing yet.
    pub fn free(&self, at: usize) -> bool {
        self.used.get(at) == Some(&false)
    }

    pub fn take(&mut self, start: usize, end: usize) {
        for used in self.used.iter_mut().take(end).skip(start) {
            *used = true;
        }
    }

    /// A word or a whole number, with its slips put right.
    pub fn word(&self, at: usize) -> Option<&str> {
        let token = self.tokens.get(at)?;
        match token.kind {
            Kind::Word => self.words.get(at).map(String::as_str),
            Kind::Whole => Some(&token.text),
            Kind::Decimal | Kind::Fraction | Kind::Clock | Kind::Mark(_) => None,
        }
    }

    /// Any piece.
    pub fn text(&self, at: usize) -> Option<&str> {
        self.words.get(at).map(String::as_str)
    }

    /// Whether a tag, a bed or a unit begins here, or a word that says so.
    pub fn is_place(&self, at: usize) -> bool {
        self.names.iter().any(|name| name.start == at)
            || self.tokens.get(at).is_some_and(names::is_marker)
            || matches!(self.word(at), Some("the" | "la" | "el"))
    }

    pub fn has(&self, meaning: Meaning) -> bool {
        self.hits.iter().any(|hit| hit.meaning == meaning)
    }

    pub fn has_any(&self, meanings: &[Meaning]) -> bool {
        meanings.iter().any(|meaning| self.has(*meaning))
    }

    /// Whether something wrong is said. What is denied counts only where nothing else is wrong: then it is asked about.
    pub fn says(&self, meaning: Meaning) -> bool {
        let asserted = !self.denies_trouble();
        self.hits
            .iter()
            .any(|hit| hit.meaning == meaning && !(asserted && self.denied(hit)))
    }

    /// Whether all that is wrong is denied.
    pub fn denies_trouble(&self) -> bool {
        let mut wrong = self
            .hits
            .iter()
            .filter(|hit| TROUBLE.contains(&hit.meaning))
            .peekable();
        wrong.peek().is_some() && wrong.all(|hit| self.denied(hit))
    }

    /// The language of most of the phrases in it; none where neither has more.
    pub fn lang(&self) -> Option<Lang> {
        let vocabulary = words::vocabulary();
        let (mut english, mut spanish) = (0, 0);
        for hit in &self.hits {
            let phrase: Vec<&str> = (hit.start..hit.end)
                .filter_map(|at| self.text(at))
                .filter(|word| *word != "-")
                .collect();
            match vocabulary.lang(&phrase.join(" ")) {
                Some(Lang::Spanish) => spanish += 1,
                Some(Lang::English) => english += 1,
                None => {}
            }
        }
        match english.cmp(&spanish) {
            std::cmp::Ordering::Less => Some(Lang::Spanish),
            std::cmp::Ordering::Greater => Some(Lang::English),
            std::cmp::Ordering::Equal => None,
        }
    }

    pub fn first(&self, meaning: Meaning) -> Option<&Hit> {
        self.hits.iter().find(|hit| hit.meaning == meaning)
    }

    /// Words and numbers that mean nothing here.
    pub fn unread(&self) -> usize {
        let in_hit = |at: usize| {
            self.hits
                .iter()
                .any(|hit| (hit.start..hit.end).contains(&at) && hit.meaning != Meaning::Amount)
        };
        let in_name = |at: usize| {
            self.names
                .iter()
                .any(|name| (name.start..name.end).contains(&at))
        };
        let counts = |at: usize, token: &Token| match token.kind {
            Kind::Mark(_) => false,
            Kind::Word => !matches!(token.text.as_str(), "one" | "two" | "uno" | "dos"),
            Kind::Whole | Kind::Decimal | Kind::Fraction | Kind::Clock => !in_name(at),
        };
        self.tokens
            .iter()
            .enumerate()
            .filter(|(at, token)| {
                self.free(*at) && !in_hit(*at) && counts(*at, token) && !names::is_marker(token)
            })
            .count()
    }

    /// Whether a phrase is denied: a "not" stands before it, at most three words away, and nothing ends the thought between.
    pub fn denied(&self, of: &Hit) -> bool {
        const WORDS_BETWEEN_MAX: usize = 3;
        self.hits
            .iter()
            .filter(|hit| hit.meaning == Meaning::Not && hit.end <= of.start)
            .any(|not| {
                let between = &self.tokens[not.end..of.start];
                let words = between
                    .iter()
                    .filter(|token| !matches!(token.kind, Kind::Mark(_)))
                    .count();
                let named = self
                    .names
                    .iter()
                    .filter(|name| name.start >= not.end && name.end <= of.start)
                    .map(|name| name.end - name.start)
                    .sum::<usize>();
                !between.iter().any(Token::is_break)
                    && !(not.end..of.start).any(|at| matches!(self.word(at), Some("but" | "pero")))
                    && words.saturating_sub(named) <= WORDS_BETWEEN_MAX
            })
    }

    /// "The hose came off, put it back on": such words say nothing else.
    fn find_cause(&mut self) {
        let Some(said) = causes::of(self) else { return };
        for at in &said.read {
            self.take(*at, at + 1);
        }
        self.cause = Some(said);
    }

    /// `hob 30`, `head of bed at 45`, `30 degrees`.
    fn find_head(&mut self) {
        for at in 0..self.tokens.len() {
            let number = self.tokens[at].kind == Kind::Whole
                && self.free(at)
                && self.tokens[at].text.len() <= 2;
            if !number {
                continue;
            }
            let degrees = matches!(self.word(at + 1), Some("degrees" | "deg" | "grados"))
                || self.text(at + 1) == Some("°");
            let mut before = at;
            while before > 0
                && matches!(
                    self.text(before - 1),
                    Some("at" | "up" | "a" | "is" | "=" | "to" | ":" | "raised")
                )
            {
                before -= 1;
            }
            let head = before
                .checked_sub(1)
                .and_then(|at| self.word(at))
                .is_some_and(|word| matches!(word, "hob" | "head" | "cabecera" | "cabeza"));
            let head_of_bed = before >= 3
                && self.word(before - 1) == Some("bed")
                && self.word(before - 2) == Some("of")
                && self.word(before - 3) == Some("head");
            let raised_phrase = self.hits.iter().any(|hit| {
                hit.meaning == Meaning::BackRaised && hit.end <= at && at - hit.end <= 1
            });
            if head || head_of_bed || raised_phrase || degrees {
                let flat = self.tokens[at].text.bytes().all(|byte| byte == b'0');
                self.head = Some(if flat {
                    Position::BackFlat
                } else {
                    Position::BackRaised
                });
                let start = if head_of_bed {
                    before - 3
                } else if head {
                    before - 1
                } else {
                    at
                };
                self.take(start, at + 1 + usize::from(degrees));
            }
        }
    }

    /// `setting 4`, `level: soft`, `nivel 4`.
    fn find_setting(&mut self) {
        let Some((start, mut at)) = self.setting_words() else {
            return;
        };
        if let Some(name) = self
            .names
            .iter()
            .find(|name| name.start == at && !name.weak)
        {
            at = name.end;
        }
        while matches!(
            self.text(at),
            Some("is" | "at" | "on" | "=" | ":" | "of" | "a" | "en" | "is at")
        ) {
            at += 1;
        }
        let Some(token) = self.tokens.get(at) else {
            return;
        };
        let word = matches!(
            self.word(at),
            Some(
                "soft"
                    | "firm"
                    | "medium"
                    | "low"
                    | "high"
                    | "max"
                    | "min"
                    | "suave"
                    | "firme"
                    | "medio"
                    | "bajo"
                    | "alto"
            )
        );
        let number = matches!(token.kind, Kind::Whole | Kind::Decimal) && self.free(at);
        if (word || number) && token.text.len() <= SETTING_CHARS_MAX {
            self.setting = Some(token.text.clone());
            // "Setting low" says nothing of the air.
            self.hits.retain(|hit| !(hit.start..hit.end).contains(&at));
            self.take(start, start + 1);
            self.take(at, at + 1);
        }
    }

    /// Where the words "setting", "level" begin and end, or those of `set 103 to 4`.
    fn setting_words(&self) -> Option<(usize, usize)> {
        if let Some(hit) = self.first(Meaning::AtSetting) {
            return Some((hit.start, hit.end));
        }
        let set = (0..self.tokens.len()).find(|at| matches!(self.word(*at), Some("set")))?;
        let to = (set + 1..self.tokens.len().min(set + SET_REACH))
            .find(|at| matches!(self.word(*at), Some("to" | "at" | "on")))?;
        let number = self.tokens.get(to + 1)?;
        (number.kind == Kind::Whole && !self.named(to + 1)).then_some((set, to + 1))
    }

    /// `2 pads`, `a sheet and a pad`, `layers: 2`, `dos capas`: all of them together.
    fn find_layers(&mut self) {
        let hits: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| hit.meaning == Meaning::Layer)
            .copied()
            .collect();
        let mut total: Option<u8> = None;
        let mut unsure = false;
        for hit in &hits {
            if self.denied(hit) {
                continue;
            }
            match self.count_of(hit) {
                Some((count, start, end)) => {
                    self.take(start, end);
                    total = Some(total.unwrap_or(0).saturating_add(count));
                }
                None => unsure = true,
            }
        }
        self.layers = total.filter(|count| !unsure && *count <= LAYERS_MAX);
    }

    /// How many of a kind of linen there are, and the pieces that say so.
    fn count_of(&self, hit: &Hit) -> Option<(u8, usize, usize)> {
        let number = |at: usize| {
            let word = self.word(at)?;
            match word {
                "a" | "an" | "un" | "una" | "one" | "single" => Some(1),
                "two" | "dos" | "both" => Some(2),
                "three" | "tres" => Some(3),
                "four" | "cuatro" => Some(4),
                "five" | "cinco" => Some(5),
                digits => digits.parse::<u8>().ok(),
            }
        };
        let usable = |at: usize| {
            self.tokens.get(at).is_some_and(|token| !token.is_break()) && !self.named(at)
        };
        // `2 pads`, `2 cloth pads`.
        for back in 1..=2 {
            let Some(at) = hit.start.checked_sub(back) else {
                break;
            };
            if back == 2 && !self.free(at + 1) {
                break;
            }
            if usable(at)
                && self
                    .tokens
                    .get(at)
                    .is_none_or(|token| token.kind != Kind::Whole || token.text.len() <= 2)
                && let Some(count) = number(at)
            {
                return Some((count, at, hit.end));
            }
        }
        // `layers 2`, `layers: 2`, `pads x2`; what follows may not go on as a length.
        let mut at = hit.end;
        while matches!(self.text(at), Some(":" | "=" | "x")) {
            at += 1;
        }
        let length = self
            .tokens
            .get(at + 1)
            .is_some_and(|token| token.kind == Kind::Fraction || token.is_mark('"'))
            || matches!(
                self.word(at + 1),
                Some("in" | "inch" | "inches" | "cm" | "mm")
            );
        let last = hit.end.saturating_sub(1);
        let plural = self
            .word(last)
            .is_some_and(|word| word.ends_with('s') || word == "chux");
        let followed = self
            .tokens
            .get(at)
            .is_some_and(|token| token.kind == Kind::Whole && token.text.len() <= 2);
        if plural && followed && !length && self.free(at) {
            return number(at).map(|count| (count, hit.start, at + 1));
        }
        // A sheet, a pad: one by itself.
        (!plural).then_some((1, hit.start, hit.end))
    }

    fn named(&self, at: usize) -> bool {
        self.names
            .iter()
            .any(|name| (name.start..name.end).contains(&at) && !name.weak)
    }

    /// The units that are named.
    pub fn units(&self) -> impl Iterator<Item = &'a str> {
        self.names.iter().filter_map(|name| match &name.named {
            Named::Unit(unit) => Some(*unit),
            Named::Tag(_) | Named::Bed(_) | Named::Several(_) | Named::Strange(_) => None,
        })
    }
}

/// Whether a phrase takes its pieces, so that they are part of no number. Small words by themselves do not.
fn takes(hit: &Hit) -> bool {
    let small = hit.end - hit.start == 1 && hit.meaning == Meaning::Filler;
    hit.meaning != Meaning::Amount && !small
}
