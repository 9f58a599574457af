//! Checks a registered command: its names, options, choices and size.
//!
//! Decides what the platform would accept at registration; how many commands there may be is the
//! register's.

use serde_json::{Map, Value};

use super::{Need, length, list, not_among, object, required, text};
use crate::limits::What;
use crate::problem::Faulty;

/// The kinds of option, by the platform's numbers.
pub mod kind {
    /// A subcommand.
    pub const SUBCOMMAND: u64 = 1;
    /// A group of subcommands.
    pub const GROUP: u64 = 2;
    /// Text.
    pub const TEXT: u64 = 3;
    /// A whole number.
    pub const WHOLE: u64 = 4;
    /// Yes or no.
    pub const FLAG: u64 = 5;
    /// A user.
    pub const USER: u64 = 6;
    /// A channel.
    pub const CHANNEL: u64 = 7;
    /// A role.
    pub const ROLE: u64 = 8;
    /// A user or a role.
    pub const MENTIONABLE: u64 = 9;
    /// A number.
    pub const NUMBER: u64 = 10;
    /// A file.
    pub const FILE: u64 = 11;
}

/// The languages the platform has (its published list).
const LOCALES: &[&str] = &[
    "ar", "bg", "cs", "da", "de", "el", "en-GB", "en-US", "es-419", "es-ES", "fi", "fr", "he",
    "hi", "hr", "hu", "id", "it", "ja", "ko", "lt", "nl", "no", "pl", "pt-BR", "ro", "ru", "sv-SE",
    "th", "tr", "uk", "vi", "zh-CN", "zh-TW",
];

/// Checks a whole command at where `faulty` is.
pub fn command(faulty: &mut Faulty, value: &Value) {
    let Some(body) = object(faulty, value) else {
        return;
    };
    if body
        .get("type")
        .is_some_and(|t| !t.is_null() && t.as_u64() != Some(1))
    {
        // The platform also has commands of the context menu; this guild has no such menu.
        faulty.key("type", |f| not_among(f, "1"));
    }
    named(faulty, body, true);
    let options = list(faulty, body, "options", Need::May, What::Options);
    faulty.key("options", |f| self::options(f, options, Depth::Top));
    let permissions = body
        .get("default_member_permissions")
        .unwrap_or(&Value::Null);
    let readable = match permissions {
        Value::Null | Value::Number(_) => true,
        Value::String(bits) => bits.parse::<u64>().is_ok(),
        Value::Bool(_) | Value::Array(_) | Value::Object(_) => false,
    };
    if !readable {
        faulty.key("default_member_permissions", |f| {
            f.here("BASE_TYPE_BAD_INT", "The value is no set of permissions.");
        });
    }
    if size(body) > What::CommandSize.most() {
        faulty.here(
            "APPLICATION_COMMAND_TOO_LARGE",
            format!(
                "Command exceeds maximum size ({})",
                What::CommandSize.most()
            ),
        );
    }
}

/// What counts towards the 8,000 characters of a command: its name, description, choice names and
/// values, and the same of all its options; the longest translation counts where it is longer.
pub fn size(body: &Map<String, Value>) -> usize {
    let own = longest(body, "name", "name_localizations")
        + longest(body, "description", "description_localizations");
    let values = body
        .get("value")
        .and_then(Value::as_str)
        .map_or(0, |v| v.chars().count());
    let below: usize = ["options", "choices"]
        .iter()
        .filter_map(|key| body.get(*key).and_then(Value::as_array))
        .flatten()
        .filter_map(Value::as_object)
        .map(size)
        .sum();
    own + values + below
}

/// Whether the name is one of the platform's: `^[-_\p{L}\p{N}]{1,32}$`, lower case where the
/// script has one.
pub fn name_is_fit(name: &str) -> bool {
    let fit = |c: char| c == '-' || c == '_' || c.is_alphanumeric();
    name.chars().all(fit) && name.to_lowercase() == name
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Depth {
    Top,
    Group,
    Subcommand,
}

fn options(faulty: &mut Faulty, options: &[Value], depth: Depth) {
    let mut names = std::collections::BTreeSet::new();
    let mut optional_seen = false;
    let calls = options.iter().filter(|o| is_call(o)).count();
    for (index, option) in options.iter().enumerate() {
        faulty.at(index, |f| {
            let Some(body) = object(f, option) else { return };
            if let Some(name) = named(f, body, true)
                && !names.insert(name) {
                    f.key("name", |f| {
                        f.here("APPLICATION_COMMAND_OPTIONS_NAME_ALREADY_EXISTS",
                            "Option name already exists");
                    });
                }
            let must = body.get("required").and_then(Value::as_bool).unwrap_or(false);
            if must && optional_seen {
                f.key("required", |f| {
                    f.here("APPLICATION_COMMAND_OPTIONS_REQUIRED_INVALID",
                        "Required options must be placed before non-required options");
                });
            }
            optional_seen |= !must;
            if calls != 0 && calls != options.len() {
                f.key("type", |f| {
                    f.here("APPLICATION_COMMAND_OPTIONS_TYPE_INVALID",
                        "Sub-command and sub-command group option types are mutually exclusive to all other types");
                });
            }
            self::option(f, body, depth);
        });
    }
}

fn is_call(option: &Value) -> bool {
    matches!(
        option.get("type").and_then(Value::as_u64),
        Some(kind::SUBCOMMAND | kind::GROUP)
    )
}

fn option(faulty: &mut Faulty, body: &Map<String, Value>, depth: Depth) {
    let Some(of) = body.get("type").and_then(Value::as_u64) else {
        faulty.key("type", required);
        return;
    };
    let allowed = match depth {
        Depth::Top => (kind::SUBCOMMAND..=kind::FILE).contains(&of),
        Depth::Group => of == kind::SUBCOMMAND,
        Depth::Subcommand => (kind::TEXT..=kind::FILE).contains(&of),
    };
    if !allowed {
        faulty.key("type", |f| match depth {
            Depth::Top => not_among(f, "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11"),
            Depth::Group => not_among(f, "1"),
            Depth::Subcommand => not_among(f, "3, 4, 5, 6, 7, 8, 9, 10, 11"),
        });
        return;
    }
    if matches!(of, kind::SUBCOMMAND | kind::GROUP) {
        let below = list(faulty, body, "options", Need::May, What::Options);
        let deeper = if of == kind::GROUP {
            Depth::Group
        } else {
            Depth::Subcommand
        };
        faulty.key("options", |f| options(f, below, deeper));
        return;
    }
    choices(faulty, body, of);
    bounds(faulty, body, of);
}

fn choices(faulty: &mut Faulty, body: &Map<String, Value>, of: u64) {
    let choices = list(faulty, body, "choices", Need::May, What::Choices);
    let completes = body
        .get("autocomplete")
        .and_then(Value::as_bool)
        .unwrap_or(false);
    let typed = matches!(of, kind::TEXT | kind::WHOLE | kind::NUMBER);
    if completes && !typed {
        faulty.key("autocomplete", |f| {
            f.here(
                "APPLICATION_COMMAND_AUTOCOMPLETE_INVALID_OPTION_TYPE",
                "Autocomplete is not available for this option type",
            );
        });
    }
    if completes && !choices.is_empty() {
        faulty.key("choices", |f| {
            f.here(
                "APPLICATION_COMMAND_AUTOCOMPLETE_CHOICES",
                "Autocomplete may not be set to true if choices are present",
            );
        });
    }
    if !typed && !choices.is_empty() {
        faulty.key("choices", |f| {
            f.here(
                "APPLICATION_COMMAND_CHOICES_INVALID_OPTION_TYPE",
                "Choices are not available for this option type",
            );
        });
    }
    faulty.key("choices", |f| {
        for (index, choice) in choices.iter().enumerate() {
            f.at(index, |f| {
                self::choice(f, choice, of, What::ChoiceName, What::ChoiceValue)
            });
        }
    });
}

/// Checks one choice, of an option or of an autocompletion's answer.
pub(crate) fn choice(faulty: &mut Faulty, choice: &Value, of: u64, name: What, value: What) {
    let Some(body) = object(faulty, choice) else {
        return;
    };
    text(faulty, body, "name", Need::Must, name);
    localized(faulty, body, "name_localizations", name);
    if of == kind::TEXT {
        text(faulty, body, "value", Need::Must, value);
        return;
    }
    let given = body.get("value").unwrap_or(&Value::Null);
    let fits = match of {
        kind::WHOLE => given.is_i64() || given.is_u64(),
        _ => given.is_number(),
    };
    if !fits {
        faulty.key("value", |f| {
            f.here("NUMBER_TYPE_COERCE", "Value is not a number.")
        });
    }
}

fn bounds(faulty: &mut Faulty, body: &Map<String, Value>, of: u64) {
    let most = What::OptionLength.most() as u64;
    let least = super::whole(faulty, body, "min_length", 0..=most);
    let longest = super::whole(faulty, body, "max_length", 1..=most);
    if (least.is_some() || longest.is_some()) && of != kind::TEXT {
        faulty.key("type", |f| not_among(f, "3"));
    }
    if let (Some(least), Some(longest)) = (least, longest)
        && least > longest
    {
        faulty.key("min_length", |f| {
            f.here("NUMBER_TYPE_MAX", "The least length is above the most.");
        });
    }
    for key in ["min_value", "max_value"] {
        let Some(bound) = body.get(key).filter(|b| !b.is_null()) else {
            continue;
        };
        let fits = match of {
            kind::WHOLE => bound.is_i64() || bound.is_u64(),
            kind::NUMBER => bound.is_number(),
            _ => false,
        };
        if !fits {
            faulty.key(key, |f| {
                f.here("NUMBER_TYPE_COERCE", "Value does not fit the option.")
            });
        }
    }
}

fn named<'a>(
    faulty: &mut Faulty,
    body: &'a Map<String, Value>,
    described: bool,
) -> Option<&'a str> {
    let name = text(faulty, body, "name", Need::Must, What::CommandName);
    if let Some(name) = name
        && !name_is_fit(name)
    {
        faulty.key("name", |f| {
            f.here(
                "APPLICATION_COMMAND_INVALID_NAME",
                "Command name is invalid",
            );
        });
    }
    localized(faulty, body, "name_localizations", What::CommandName);
    if described {
        text(faulty, body, "description", Need::Must, What::Description);
        localized(faulty, body, "description_localizations", What::Description);
    }
    name
}

fn localized(faulty: &mut Faulty, body: &Map<String, Value>, key: &'static str, what: What) {
    let Some(by_locale) = body.get(key).and_then(Value::as_object) else {
        return;
    };
    faulty.key(key, |f| {
        for (locale, value) in by_locale {
            let Some(locale) = LOCALES.iter().copied().find(|l| l == locale) else {
                not_among(f, &LOCALES.join(", "));
                continue;
            };
            f.key(locale, |f| match value.as_str() {
                Some(value) => {
                    length(f, value.chars().count(), what);
                    if what == What::CommandName && !name_is_fit(value) {
                        f.here(
                            "APPLICATION_COMMAND_INVALID_NAME",
                            "Command name is invalid",
                        );
                    }
                }
                None => f.here(
                    "STRING_TYPE_CONVERT",
                    "Could not interpret the value as string.",
                ),
            });
        }
    });
}

fn longest(body: &Map<String, Value>, key: &str, translations: &str) -> usize {
    let count = |v: &Value| v.as_str().map_or(0, |v| v.chars().count());
    let own = body.get(key).map_or(0, count);
    let others = body.get(translations).and_then(Value::as_object);
    others.map_or(own, |all| all.values().map(count).fold(own, usize::max))
}
