//! What a command is given, for every command of the one table: what it must have, such as its first example has it, and perhaps one option
//! more. Decides what fits each kind of option; what is tried with it, and what must come of it, is the tests'.

use commands::said::Value as As;
use commands::table::{Command, Opt, Takes};
use demo_guild::Id;
use serde_json::{Value, json};

/// What is picked where nothing is typed, and typed where the example has nothing.
#[derive(Clone, Debug)]
pub struct Picks {
    /// A channel.
    pub channel: Id,
    /// A role.
    pub role: Id,
    /// Somebody.
    pub person: Id,
    /// The tag of a surface.
    pub tag: &'static str,
    /// A file, as [`demo_guild::Guild::command`] takes one.
    pub file: Value,
}

impl Picks {
    /// The options that the command must have and, where one is named, that one with this text.
    pub fn given(
        &self,
        command: &Command,
        more: Option<(&str, &str)>,
    ) -> Vec<(&'static str, Value)> {
        let example = command.examples.first();
        let example = example.and_then(|line| commands::parse::typed(command, line));
        let example = example.unwrap_or_default();
        let given = |option: &Opt| {
            let (takes, name) = (option.takes, option.name);
            match (more, example.get(name)) {
                (Some((this, text)), _) if this == name => return json!(text),
                (_, Some(As::Whole(number))) => return json!(number),
                (_, Some(As::Text(text))) if !matches!(takes, Takes::File | Takes::Person) => {
                    return json!(text);
                }
                _ => {}
            }
            match takes {
                Takes::Text | Takes::Suggested => json!(self.tag),
                Takes::Choice(words) => json!(words[0]),
                Takes::Whole(least, _) => json!(least),
                Takes::Role => json!(self.role.to_string()),
                Takes::Channel => json!(self.channel.to_string()),
                Takes::Person => json!(self.person.to_string()),
                Takes::File => self.file.clone(),
            }
        };
        let is_more = |name: &str| more.is_some_and(|(this, _)| this == name);
        let wanted = command
            .options
            .iter()
            .filter(|option| option.required || is_more(option.name));
        wanted.map(|option| (option.name, given(option))).collect()
    }
}

/// Whether somebody types into it what they like.
pub fn is_typed(option: &Opt) -> bool {
    matches!(option.takes, Takes::Text | Takes::Suggested)
}
