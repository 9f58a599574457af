//! Cuts a message into words, numbers and marks.
//!
//! Decides where a piece ends and in which form it is compared: lower case, without accents and apostrophes, as people type
//! on a phone. Leaves what a piece means to the files beside it.

use std::sync::LazyLock;

use regex::Regex;

use crate::rules::air;
use crate::rules::spanish::without_accents;
use crate::rules::time_of_day;

/// One piece of a message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Token {
    /// As it is compared.
    pub text: String,
    pub kind: Kind,
    /// Nothing stood between it and the piece before it.
    pub glued: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Letters.
    Word,
    /// Digits only: `103`, `07`.
    Whole,
    /// `1.25` or `1,25`.
    Decimal,
    /// `3/4`.
    Fraction,
    /// `13:40`.
    Clock,
    /// Anything else, one sign at a time.
    Mark(char),
}

impl Token {
    pub fn is_mark(&self, mark: char) -> bool {
        self.kind == Kind::Mark(mark)
    }

    pub fn is_word(&self) -> bool {
        self.kind == Kind::Word
    }

    /// Whether a new thought may begin behind it.
    pub fn is_break(&self) -> bool {
        matches!(
            self.kind,
            Kind::Mark(',' | ';' | ':' | '.' | '!' | '?' | '(' | ')')
        )
    }
}

/// A chat's own marks for people, channels, times and pictures: no part of what was said.
static MARKUP: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"<(?:[@#][!&]?\d+|t:-?\d+(?::[a-zA-Z])?|a?:\w+:\d+)>").ok());

/// The text without the chat's marks.
pub(super) fn without_markup(text: &str) -> String {
    match &*MARKUP {
        Some(markup) => markup.replace_all(text, " ").into_owned(),
        None => text.to_owned(),
    }
}

/// Cuts a text into pieces.
pub(super) fn split(text: &str) -> Vec<Token> {
    let plain = air::plain_text(&text.replace('\n', " ; "))
        .replace("w/o ", "without ")
        .replace("w/", "with ");
    let mut tokens = Vec::new();
    let mut rest = plain.as_str();
    let mut glued = false;
    while let Some(first) = rest.chars().next() {
        if first.is_whitespace() {
            rest = rest.trim_start();
            glued = false;
            continue;
        }
        rest = if first.is_ascii_digit() {
            number(rest, glued, &mut tokens)
        } else if first.is_alphabetic() {
            word(rest, glued, &mut tokens)
        } else {
            tokens.push(Token {
                text: first.to_string(),
                kind: Kind::Mark(first),
                glued,
            });
            &rest[first.len_utf8()..]
        };
        glued = true;
    }
    tokens
}

/// Letters, with apostrophes among them.
fn word<'a>(text: &'a str, glued: bool, tokens: &mut Vec<Token>) -> &'a str {
    let mut end = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let joins = c == '\'' && chars.peek().is_some_and(|(_, next)| next.is_alphabetic());
        if !(c.is_alphabetic() || joins) {
            break;
        }
        end = at + c.len_utf8();
    }
    tokens.push(Token {
        text: compared(&text[..end]),
        kind: Kind::Word,
        glued,
    });
    &text[end..]
}

/// Digits, with one point, comma, slash or colon where that makes one number; else only up to it.
fn number<'a>(text: &'a str, glued: bool, tokens: &mut Vec<Token>) -> &'a str {
    let digits =
        |text: &str| text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let first = digits(text);
    let (whole, after) = text.split_at(first);
    let second = after.get(1..).map_or(0, digits);
    let both = &text[..first + if second > 0 { 1 + second } else { 0 }];
    // A third part makes a date or a list of it. Behind a point, a comma or a bed's number is none.
    let behind = &text[both.len()..];
    let third = behind.get(1..).map_or(0, digits);
    let listed = after.starts_with('.') && (behind.starts_with(',') || third > 2);
    let more = behind.starts_with(['.', ',', '/', ':']) && third > 0 && !listed;
    let kind = match (after.chars().next(), first, second) {
        (Some('.'), 1..=3, 1..=3) | (Some(','), 1, 1..=2) if !more => Some(Kind::Decimal),
        (Some('/'), 1..=2, 1..=2) if !more => Some(Kind::Fraction),
        (Some(':'), 1..=2, 2) if !more && time_of_day::parse(both).is_some() => Some(Kind::Clock),
        _no_number => None,
    };
    let (text, kind, rest) = match kind {
        Some(kind) => (both, kind, &text[both.len()..]),
        None => (whole, Kind::Whole, after),
    };
    tokens.push(Token {
        text: text.to_owned(),
        kind,
        glued,
    });
    rest
}

/// A word as it is compared: without apostrophes, and without the accents that Spanish has and phones leave out.
pub(super) fn compared(word: &str) -> String {
    without_accents(&word.replace('\'', ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<String> {
        split(text).into_iter().map(|token| token.text).collect()
    }

    #[test]
    fn pieces() {
        for (text, pieces) in [
            ("LW-07 isn't low!", "lw - 07 isnt low !"),
            ("214B 1¼", "214 b 1 1/4"),
            ("103:1 1/4, 2 pads", "103 : 1 1/4 , 2 pads"),
            ("3/4\" at 13:40", "3/4 \" at 13:40"),
            ("103,104", "103 , 104"),
            ("1,25 in", "1,25 in"),
            ("103/104", "103 / 104"),
            ("1.25,102", "1.25 , 102"),
            ("1.25/102", "1.25 / 102"),
            ("1,25,102", "1 , 25 , 102"),
            ("1.2.26", "1 . 2.26"),
            ("3/4/41", "3 / 4/41"),
            ("w/ 2 pads w/o sheet", "with 2 pads without sheet"),
            ("Dónde está", "donde esta"),
            ("3cm", "3 cm"),
            ("a\nb", "a ; b"),
        ] {
            assert_eq!(texts(text).join(" "), pieces, "{text:?}");
        }
    }

    #[test]
    fn marks_of_the_chat_are_no_words() {
        assert!(MARKUP.is_some());
        let text = "<@123> <@&9> <#44> <t:1700000000:R> <:ok:77> LW-07 <3";
        assert_eq!(without_markup(text).trim(), "LW-07 <3");
    }
}
