//! Checks the rows of buttons and select menus of a message.
//!
//! Decides what is accepted in a row; newer layout components are refused, since nothing on the
//! page would draw them.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::{Need, length, list, not_among, object, required, text, whole};
use crate::limits::What;
use crate::problem::Faulty;

/// The kinds of component, by the platform's numbers.
pub mod kind {
    /// A row.
    pub const ROW: u64 = 1;
    /// A button.
    pub const BUTTON: u64 = 2;
    /// A select menu of given texts.
    pub const SELECT: u64 = 3;
    /// A text input.
    pub const INPUT: u64 = 4;
    /// A select menu of users.
    pub const SELECT_USER: u64 = 5;
    /// A select menu of roles.
    pub const SELECT_ROLE: u64 = 6;
    /// A select menu of users and roles.
    pub const SELECT_MENTIONABLE: u64 = 7;
    /// A select menu of channels.
    pub const SELECT_CHANNEL: u64 = 8;
}

const LINK: u64 = 5;

/// Checks a message's rows at where `faulty` is (in `components`).
pub fn rows(faulty: &mut Faulty, rows: &[Value]) {
    let mut known = BTreeSet::new();
    for (index, row) in rows.iter().enumerate() {
        faulty.at(index, |f| {
            let Some(body) = object(f, row) else { return };
            if body.get("type").and_then(Value::as_u64) != Some(kind::ROW) {
                f.key("type", |f| not_among(f, "1"));
                return;
            }
            let items = list(f, body, "components", Need::Must, What::Buttons);
            f.key("components", |f| self::row(f, items, &mut known));
        });
    }
}

/// A component's `custom_id`: there, of fit length, and the only one of its message or form.
pub(crate) fn custom_id<'a>(
    faulty: &mut Faulty,
    body: &'a Map<String, Value>,
    known: &mut BTreeSet<&'a str>,
) {
    let Some(id) = text(faulty, body, "custom_id", Need::Must, What::CustomId) else {
        return;
    };
    if !known.insert(id) {
        faulty.key("custom_id", |f| {
            f.here(
                "COMPONENT_CUSTOM_ID_DUPLICATED",
                "Component custom id cannot be duplicated",
            );
        });
    }
}

fn row<'a>(faulty: &mut Faulty, items: &'a [Value], known: &mut BTreeSet<&'a str>) {
    let alone = items.len() == 1;
    for (index, item) in items.iter().enumerate() {
        faulty.at(index, |f| {
            let Some(body) = object(f, item) else { return };
            match body.get("type").and_then(Value::as_u64) {
                Some(kind::BUTTON) => button(f, body, known),
                Some(of @ (kind::SELECT | kind::SELECT_USER..=kind::SELECT_CHANNEL)) => {
                    if !alone {
                        f.here(
                            "COMPONENT_LAYOUT_WIDTH_EXCEEDED",
                            "The specified component exceeds the maximum width",
                        );
                    }
                    select(f, body, of, known);
                }
                Some(_) => f.key("type", |f| not_among(f, "2, 3, 5, 6, 7, 8")),
                None => f.key("type", required),
            }
        });
    }
}

fn button<'a>(faulty: &mut Faulty, body: &'a Map<String, Value>, known: &mut BTreeSet<&'a str>) {
    let style = whole(faulty, body, "style", 1..=6);
    if style == Some(LINK) {
        text(faulty, body, "url", Need::Must, What::ButtonUrl);
        if body.get("custom_id").is_some_and(|id| !id.is_null()) {
            faulty.key("custom_id", |f| {
                f.here(
                    "BUTTON_COMPONENT_CUSTOM_ID_URL_MUTUALLY_EXCLUSIVE",
                    "A custom id and url cannot both be specified",
                );
            });
        }
    } else {
        if style.is_none() && body.get("style").is_none_or(Value::is_null) {
            faulty.key("style", required);
        }
        custom_id(faulty, body, known);
    }
    let label = text(faulty, body, "label", Need::May, What::ButtonLabel);
    let emoji = body.get("emoji").is_some_and(Value::is_object);
    if label.is_none_or(str::is_empty) && !emoji {
        faulty.here(
            "BUTTON_COMPONENT_INVALID",
            "A button must have a label or emoji",
        );
    }
}

fn select<'a>(
    faulty: &mut Faulty,
    body: &'a Map<String, Value>,
    of: u64,
    known: &mut BTreeSet<&'a str>,
) {
    custom_id(faulty, body, known);
    text(
        faulty,
        body,
        "placeholder",
        Need::May,
        What::SelectPlaceholder,
    );
    let most = What::SelectOptions.most() as u64;
    let least_picked = whole(faulty, body, "min_values", 0..=most).unwrap_or(1);
    let most_picked = whole(faulty, body, "max_values", 1..=most).unwrap_or(1);
    if least_picked > most_picked {
        faulty.key("min_values", |f| {
            f.here(
                "SELECT_COMPONENT_MIN_VALUES",
                "Min values cannot be above max values",
            );
        });
    }
    if of != kind::SELECT {
        return;
    }
    let options = list(faulty, body, "options", Need::Must, What::SelectOptions);
    faulty.key("options", |f| {
        let mut values = BTreeSet::new();
        for (index, option) in options.iter().enumerate() {
            f.at(index, |f| {
                let Some(option) = object(f, option) else {
                    return;
                };
                text(f, option, "label", Need::Must, What::SelectLabel);
                text(f, option, "description", Need::May, What::SelectDescription);
                let value = text(f, option, "value", Need::Must, What::SelectValue);
                if value.is_some_and(|value| !values.insert(value)) {
                    f.key("value", |f| {
                        f.here(
                            "SELECT_COMPONENT_OPTION_VALUE_DUPLICATED",
                            "The specified option value is already used",
                        );
                    });
                }
            });
        }
        let preset = options
            .iter()
            .filter(|o| o["default"].as_bool() == Some(true))
            .count();
        if preset as u64 > most_picked {
            f.here(
                "SELECT_COMPONENT_TOO_MANY_DEFAULT_VALUES",
                "The number of default values exceeds max values",
            );
        }
    });
    if most_picked > options.len() as u64 && !options.is_empty() {
        faulty.key("options", |f| {
            length(f, options.len(), What::SelectOptions);
            f.here(
                "BASE_TYPE_BAD_LENGTH",
                format!("Must be between {most_picked} and {most} in length."),
            );
        });
    }
}
