//! The platform's published limits, in one table that every check and the generated test read.
//!
//! Decides the numbers; leaves what is counted, and how a refusal reads, to `check`.
//! Sources: the platform's published interface description (v10) where it states one, otherwise
//! its reference pages, from memory where marked (m).

use std::ops::RangeInclusive;

macro_rules! limits {
    ($($(#[$doc:meta])* $name:ident = $least:literal..=$most:expr;)*) => {
        /// What is limited. Lengths are in Unicode code points, lists in items, files in bytes.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum What { $($(#[$doc])* $name,)* }

        impl What {
            /// Every limit there is, for the generated test.
            pub const ALL: &'static [What] = &[$(What::$name,)*];

            /// The least and the most that is accepted.
            pub const fn range(self) -> RangeInclusive<usize> {
                match self { $(What::$name => $least..=$most,)* }
            }
        }
    };
}

limits! {
    /// Slash commands registered globally, or for one guild.
    Commands = 0..=100;
    /// Commands newly created in a day for one guild (or globally).
    CommandsADay = 0..=200;
    /// A command's, subcommand's or option's name.
    CommandName = 1..=32;
    /// A command's or option's description.
    Description = 1..=100;
    /// Options of a command or subcommand.
    Options = 0..=25;
    /// Choices of an option.
    Choices = 0..=25;
    /// A choice's name.
    ChoiceName = 1..=100;
    /// A text choice's value (m).
    ChoiceValue = 0..=100;
    /// Names, descriptions and choice values of one command together.
    CommandSize = 0..=8_000;
    /// A text option's bounds on its own length.
    OptionLength = 0..=6_000;
    /// Text of a message.
    Content = 0..=2_000;
    /// Embeds of a message.
    Embeds = 0..=10;
    /// Text of all embeds of a message together (m).
    EmbedSize = 0..=6_000;
    /// Title of an embed.
    EmbedTitle = 0..=256;
    /// Description of an embed.
    EmbedDescription = 0..=4_096;
    /// Fields of an embed.
    EmbedFields = 0..=25;
    /// Name of an embed's field.
    EmbedFieldName = 1..=256;
    /// Value of an embed's field.
    EmbedFieldValue = 1..=1_024;
    /// Footer of an embed.
    EmbedFooter = 0..=2_048;
    /// Author of an embed.
    EmbedAuthor = 0..=256;
    /// Rows of buttons and menus in a message.
    Rows = 0..=5;
    /// Buttons in a row.
    Buttons = 1..=5;
    /// What a button, menu, form or input is known by.
    CustomId = 1..=100;
    /// Label of a button.
    ButtonLabel = 0..=80;
    /// Address of a link button.
    ButtonUrl = 1..=512;
    /// Options of a select menu.
    SelectOptions = 1..=25;
    /// Label of a select menu's option.
    SelectLabel = 1..=100;
    /// Value of a select menu's option.
    SelectValue = 1..=100;
    /// Description of a select menu's option.
    SelectDescription = 0..=100;
    /// What an empty select menu says.
    SelectPlaceholder = 0..=150;
    /// Title of a form.
    FormTitle = 1..=45;
    /// Inputs of a form.
    Inputs = 1..=5;
    /// Label of an input.
    InputLabel = 1..=45;
    /// What an empty input says.
    InputPlaceholder = 0..=100;
    /// Text filled into an input, or typed by a person.
    InputValue = 0..=4_000;
    /// Choices answered to an autocompletion.
    Completions = 0..=25;
    /// Name of an autocompletion's choice.
    CompletionName = 1..=100;
    /// Text value of an autocompletion's choice (m).
    CompletionValue = 0..=100;
    /// Bytes of one uploaded file.
    Upload = 0..=10 * 1024 * 1024;
    /// Files of a message.
    Files = 0..=10;
    /// What is read out in the place of a file.
    FileDescription = 0..=1_024;
    /// A message's nonce.
    Nonce = 0..=25;
    /// Users, or roles, named in `allowed_mentions`.
    AllowedMentions = 0..=100;
}

impl What {
    /// The most that is accepted.
    pub const fn most(self) -> usize {
        *self.range().end()
    }

    /// The least that is accepted.
    pub const fn least(self) -> usize {
        *self.range().start()
    }
}

/// How long an interaction may wait for its first answer, in ms.
pub const FIRST_ANSWER_MS: u64 = 3_000;
/// How long an interaction's token serves, in ms.
pub const TOKEN_LIFE_MS: u64 = 15 * 60 * 1_000;
/// How long an enforced nonce is remembered, in ms. The platform says "the past few minutes".
pub const NONCE_LIFE_MS: u64 = 5 * 60 * 1_000;
/// What clients of the gateway are told to beat at, in ms.
pub const HEARTBEAT_MS: u64 = 41_250;
/// Requests a second over all routes but the interaction ones.
pub const GLOBAL_PER_SECOND: u32 = 50;
/// Messages a channel takes in [`CHANNEL_WINDOW_MS`] (m; the platform publishes it in headers only).
pub const CHANNEL_MESSAGES: u32 = 5;
/// The window of [`CHANNEL_MESSAGES`], in ms.
pub const CHANNEL_WINDOW_MS: u64 = 5_000;
/// New sessions a day; after that the platform resets the token.
pub const SESSIONS_A_DAY: u64 = 1_000;
/// The least time between two IDENTIFYs, in ms.
pub const IDENTIFY_SPACING_MS: u64 = 5_000;
