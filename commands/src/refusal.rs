//! No, with a sentence: what was wrong and what to type instead. Decides how a refusal is carried;
//! its words are in `words`, under its key. A refusal records nothing and posts nothing.

use crate::words::{Arg, Lang, say};

/// A no. Two are equal when they say the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The key of its sentence.
    pub key: &'static str,
    /// What fills the sentence in.
    pub with: Vec<(&'static str, Fill)>,
}

/// What fills a sentence in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Text.
    Text(String),
    /// A number.
    Number(i64),
    /// A list of words that are sentences of their own, such as the names of roles.
    Keys(Vec<String>),
}

impl Refusal {
    /// A refusal whose sentence needs nothing filled in.
    pub fn new(key: &'static str) -> Self {
        Self {
            key,
            with: Vec::new(),
        }
    }

    /// Fills in a text.
    #[must_use]
    pub fn text(mut self, name: &'static str, text: impl ToString) -> Self {
        self.with.push((name, Fill::Text(text.to_string())));
        self
    }

    /// Fills in a number.
    #[must_use]
    pub fn number(mut self, name: &'static str, number: i64) -> Self {
        self.with.push((name, Fill::Number(number)));
        self
    }

    /// Fills in a list of words by their keys.
    #[must_use]
    pub fn keys(mut self, name: &'static str, keys: impl IntoIterator<Item = String>) -> Self {
        self.with
            .push((name, Fill::Keys(keys.into_iter().collect())));
        self
    }

    /// What it refuses is said by the command that was typed: a button has the name of its act, a command its own.
    #[must_use]
    pub(crate) fn of_command(mut self, path: &str) -> Self {
        let act = self.with.iter_mut().find(|(name, _)| *name == "act");
        if let Some((_, act)) = act.filter(|_| self.key.starts_with("fault-role")) {
            *act = Fill::Text(format!("`/{path}`"));
        }
        self
    }

    /// The sentence.
    pub fn say(&self, lang: Lang) -> String {
        let filled: Vec<(&str, String, Option<i64>)> = self
            .with
            .iter()
            .map(|(name, fill)| match fill {
                Fill::Text(text) => (*name, text.clone(), None),
                Fill::Number(number) => (*name, String::new(), Some(*number)),
                Fill::Keys(keys) => {
                    let words: Vec<String> = keys.iter().map(|key| say(lang, key, &[])).collect();
                    (*name, words.join(", "), None)
                }
            })
            .collect();
        let args: Vec<(&str, Arg<'_>)> = filled
            .iter()
            .map(|(name, text, number)| (*name, number.map_or(Arg::Text(text), Arg::Number)))
            .collect();
        say(lang, self.key, &args)
    }
}
