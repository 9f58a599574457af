//! The one table of commands: registration, help, the parser and the README all read it.

/// A command.
#[derive(Clone, Copy, Debug)]
pub struct Command {
    /// Its name; a subcommand's after one space: `fleet add`.
    pub path: &'static str,
    /// The key of its one-line description in the words.
    pub about: &'static str,
    /// Its options, required ones first.
    pub options: &'static [Opt],
}

/// An option.
#[derive(Clone, Copy, Debug)]
pub struct Opt {
    /// Its name.
    pub name: &'static str,
    /// The key of its description in the words.
    pub about: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Must be given.
    pub required: bool,
}

/// What an option takes.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// Text.
    Text,
    /// Text with suggestions while it is typed.
    Suggested,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A whole number between two bounds.
    Whole(i64, i64),
    /// A chat role.
    Role,
    /// A text channel.
    Channel,
    /// A file.
    File,
}

/// Every command, in the order in which help lists them. Those that share a first word are one group.
pub const COMMANDS: &[Command] = &[];

/// What a group of subcommands is for: the key of its description.
pub fn group_about(group: &str) -> String {
    format!("group-{group}")
}
