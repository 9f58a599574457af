//! Checks of what the bot sends, against the platform's published limits.
//!
//! Decides what is accepted and where an error is noted; numbers are in `limits`, words in
//! `problem`.

pub mod command;
pub mod component;
pub mod form;
pub mod message;

use serde_json::{Map, Value};

use crate::limits::What;
use crate::problem::Faulty;

/// Whether a field must be there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Need {
    Must,
    May,
}

/// A text field, once its length is checked.
pub(crate) fn text<'a>(
    faulty: &mut Faulty,
    of: &'a Map<String, Value>,
    key: &'static str,
    need: Need,
    what: What,
) -> Option<&'a str> {
    let mut found = None;
    faulty.key(key, |f| match of.get(key) {
        None | Some(Value::Null) => {
            if need == Need::Must {
                required(f);
            }
        }
        Some(Value::String(text)) => {
            length(f, text.chars().count(), what);
            found = Some(text.as_str());
        }
        Some(_) => f.here(
            "STRING_TYPE_CONVERT",
            "Could not interpret the value as string.",
        ),
    });
    found
}

/// A list field, once its length is checked.
pub(crate) fn list<'a>(
    faulty: &mut Faulty,
    of: &'a Map<String, Value>,
    key: &'static str,
    need: Need,
    what: What,
) -> &'a [Value] {
    let mut found: &[Value] = &[];
    faulty.key(key, |f| match of.get(key) {
        None | Some(Value::Null) => {
            if need == Need::Must {
                required(f);
            }
        }
        Some(Value::Array(items)) => {
            length(f, items.len(), what);
            found = items;
        }
        Some(_) => f.here(
            "LIST_TYPE_CONVERT",
            "Only iterables may be used in a ListType.",
        ),
    });
    found
}

/// A whole number within bounds, where the field is there.
pub(crate) fn whole(
    faulty: &mut Faulty,
    of: &Map<String, Value>,
    key: &'static str,
    bounds: std::ops::RangeInclusive<u64>,
) -> Option<u64> {
    let mut found = None;
    faulty.key(key, |f| match of.get(key) {
        None | Some(Value::Null) => {}
        Some(value) => match value.as_u64() {
            Some(n) if bounds.contains(&n) => found = Some(n),
            Some(n) if n > *bounds.end() => f.here(
                "NUMBER_TYPE_MAX",
                format!(
                    "int value should be less than or equal to {}.",
                    bounds.end()
                ),
            ),
            Some(_) => f.here(
                "NUMBER_TYPE_MIN",
                format!(
                    "int value should be greater than or equal to {}.",
                    bounds.start()
                ),
            ),
            None => f.here("NUMBER_TYPE_COERCE", "Value is not int."),
        },
    });
    found
}

/// An object, or an error at where we are.
pub(crate) fn object<'a>(faulty: &mut Faulty, value: &'a Value) -> Option<&'a Map<String, Value>> {
    let found = value.as_object();
    if found.is_none() {
        faulty.here(
            "MODEL_TYPE_CONVERT",
            "Only dictionaries may be used in a ModelType",
        );
    }
    found
}

/// Whether a count lies within a limit; notes it where not.
pub(crate) fn length(faulty: &mut Faulty, count: usize, what: What) {
    let (least, most) = (what.least(), what.most());
    if (least..=most).contains(&count) {
        return;
    }
    if count == 0 {
        required(faulty);
    } else if least > 0 {
        faulty.here(
            "BASE_TYPE_BAD_LENGTH",
            format!("Must be between {least} and {most} in length."),
        );
    } else {
        faulty.here(
            "BASE_TYPE_MAX_LENGTH",
            format!("Must be {most} or fewer in length."),
        );
    }
}

/// The field must be there.
pub(crate) fn required(faulty: &mut Faulty) {
    faulty.here("BASE_TYPE_REQUIRED", "This field is required");
}

/// The value is none of those allowed.
pub(crate) fn not_among(faulty: &mut Faulty, allowed: &str) {
    faulty.here(
        "BASE_TYPE_CHOICES",
        format!("Value must be one of {{{allowed}}}."),
    );
}
