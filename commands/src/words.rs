//! Every sentence that loftwatch says, by key, in Fluent files: one folder a language under `words/`.
//! Decides how a sentence is looked up and filled in; leaves the wording to the files and the choice
//! of the sentence to whoever decides.

use std::sync::LazyLock;

#[doc(hidden)]
pub use fluent_bundle::FluentArgs;
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentResource, FluentValue};
use serde::{Deserialize, Serialize};
use unic_langid::{LanguageIdentifier, langid};

/// A language that every sentence exists in.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub enum Lang {
    /// English.
    #[default]
    #[serde(rename = "en")]
    English,
    /// Spanish.
    #[serde(rename = "es")]
    Spanish,
}

impl Lang {
    /// Every language.
    pub const ALL: [Lang; 2] = [Lang::English, Lang::Spanish];

    /// Their names in the setting of a home, in the same order.
    pub const WORDS: &'static [&'static str] = &["english", "spanish"];

    /// Reads a name as it is set; capitals are forgiven.
    pub fn from_text(text: &str) -> Option<Self> {
        let place = Self::WORDS
            .iter()
            .position(|word| word.eq_ignore_ascii_case(text.trim()))?;
        Self::ALL.get(place).copied()
    }

    /// Its code, which [`Lang::of_locale`] reads back.
    pub const fn code(self) -> &'static str {
        match self {
            Lang::English => "en",
            Lang::Spanish => "es",
        }
    }

    /// The language for a chat client's locale such as `en-US` or `es-419`; English for those that we do not speak.
    pub fn of_locale(locale: &str) -> Self {
        match locale.split('-').next() {
            Some("es") => Self::Spanish,
            Some(_) | None => Self::English,
        }
    }
}

/// A value in a sentence.
#[derive(Clone, Debug)]
pub enum Arg<'a> {
    /// Text.
    Text(&'a str),
    /// A number; the sentence picks its plural.
    Number(i64),
}

const ENGLISH: &[&str] = &[
    include_str!("words/en/common.ftl"),
    include_str!("words/en/catalogue.ftl"),
    include_str!("words/en/choices.ftl"),
    include_str!("words/en/facility.ftl"),
    include_str!("words/en/fleet.ftl"),
    include_str!("words/en/turn.ftl"),
    include_str!("words/en/checks.ftl"),
    include_str!("words/en/alarms.ftl"),
    include_str!("words/en/care.ftl"),
    include_str!("words/en/filters.ftl"),
    include_str!("words/en/bedside.ftl"),
    include_str!("words/en/due.ftl"),
    include_str!("words/en/power.ftl"),
    include_str!("words/en/house.ftl"),
    include_str!("words/en/faults.ftl"),
    include_str!("words/en/people.ftl"),
    include_str!("words/en/staff.ftl"),
    include_str!("words/en/entries.ftl"),
    include_str!("words/en/report.ftl"),
    include_str!("words/en/report_page.ftl"),
    include_str!("words/en/plain.ftl"),
    include_str!("words/en/look_first.ftl"),
    include_str!("words/en/pictures.ftl"),
    include_str!("words/en/loft.ftl"),
    include_str!("words/en/sums.ftl"),
    include_str!("words/en/bot.ftl"),
];

const SPANISH: &[&str] = &[
    include_str!("words/es/common.ftl"),
    include_str!("words/es/catalogue.ftl"),
    include_str!("words/es/choices.ftl"),
    include_str!("words/es/facility.ftl"),
    include_str!("words/es/fleet.ftl"),
    include_str!("words/es/turn.ftl"),
    include_str!("words/es/checks.ftl"),
    include_str!("words/es/alarms.ftl"),
    include_str!("words/es/care.ftl"),
    include_str!("words/es/filters.ftl"),
    include_str!("words/es/bedside.ftl"),
    include_str!("words/es/due.ftl"),
    include_str!("words/es/power.ftl"),
    include_str!("words/es/house.ftl"),
    include_str!("words/es/faults.ftl"),
    include_str!("words/es/people.ftl"),
    include_str!("words/es/staff.ftl"),
    include_str!("words/es/entries.ftl"),
    include_str!("words/es/report.ftl"),
    include_str!("words/es/report_page.ftl"),
    include_str!("words/es/plain.ftl"),
    include_str!("words/es/look_first.ftl"),
    include_str!("words/es/pictures.ftl"),
    include_str!("words/es/loft.ftl"),
    include_str!("words/es/sums.ftl"),
    include_str!("words/es/bot.ftl"),
];

static IN_ENGLISH: LazyLock<FluentBundle<FluentResource>> =
    LazyLock::new(|| bundle(langid!("en-US"), ENGLISH));
static IN_SPANISH: LazyLock<FluentBundle<FluentResource>> =
    LazyLock::new(|| bundle(langid!("es-419"), SPANISH));

fn bundle_of(lang: Lang) -> &'static FluentBundle<FluentResource> {
    match lang {
        Lang::English => &IN_ENGLISH,
        Lang::Spanish => &IN_SPANISH,
    }
}

/// The sentence under this key. A key that no file has is our own mistake, which a test over the
/// sources finds; in the field its name is better than nothing.
pub fn say(lang: Lang, key: &str, args: &[(&str, Arg<'_>)]) -> String {
    let mut filled = FluentArgs::with_capacity(args.len());
    for (name, value) in args {
        match value {
            Arg::Text(text) => filled.set(*name, FluentValue::from(*text)),
            Arg::Number(number) => filled.set(*name, FluentValue::from(*number)),
        }
    }
    render(lang, key, &filled)
}

/// As [`say`], for the [`say!`](crate::say) macro.
#[doc(hidden)]
pub fn render(lang: Lang, key: &str, args: &FluentArgs<'_>) -> String {
    let bundle = bundle_of(lang);
    let Some(pattern) = bundle.get_message(key).and_then(|message| message.value()) else {
        debug_assert!(false, "no sentence under {key}");
        return key.to_owned();
    };
    let mut faults = Vec::new();
    let text = bundle.format_pattern(pattern, Some(args), &mut faults);
    debug_assert!(faults.is_empty(), "{key}: {faults:?}");
    text.into_owned()
}

/// Whether a sentence exists under this key.
pub fn has(lang: Lang, key: &str) -> bool {
    bundle_of(lang).has_message(key)
}

/// `say!(lang, "key", name = value, …)`: the sentence under the key, filled in.
#[macro_export]
macro_rules! say {
    ($lang:expr, $key:expr $(, $name:ident = $value:expr)* $(,)?) => {{
        #[allow(unused_mut)]
        let mut args = $crate::words::FluentArgs::new();
        $(args.set(stringify!($name), $value);)*
        $crate::words::render($lang, $key, &args)
    }};
}
/// # Panics
/// When a file is not Fluent or a key stands twice: our own mistake, found by the first test that speaks.
fn bundle(lang: LanguageIdentifier, files: &[&str]) -> FluentBundle<FluentResource> {
    let mut bundle = FluentBundle::new_concurrent(vec![lang]);
    // Marks around every value would show up as boxes on some phones.
    bundle.set_use_isolating(false);
    for file in files {
        let resource = FluentResource::try_new((*file).to_owned())
            .unwrap_or_else(|(_, faults)| panic!("a file of words is not Fluent: {faults:?}"));
        bundle
            .add_resource(resource)
            .unwrap_or_else(|faults| panic!("a key stands twice in the words: {faults:?}"));
    }
    bundle
}
