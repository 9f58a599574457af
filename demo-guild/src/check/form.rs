//! Checks a form (the platform's modal) and reads it for those who fill it in.
//!
//! Decides that only the classic form is known: rows of one text input each.

use std::collections::BTreeSet;

use serde::Serialize;
use serde_json::Value;

use super::component::{custom_id, kind};
use super::{Need, list, not_among, object, text, whole};
use crate::limits::What;
use crate::problem::Faulty;

/// A form shown to a person.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Form {
    /// What it is known by.
    pub custom_id: String,
    /// Its title.
    pub title: String,
    /// Its inputs, from the top.
    pub fields: Vec<Field>,
}

/// One text input.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Field {
    /// What it is known by.
    pub custom_id: String,
    /// Its label.
    pub label: String,
    /// What it says while empty.
    pub placeholder: Option<String>,
    /// Whether it must be filled.
    pub required: bool,
    /// Whether it has several lines.
    pub long: bool,
    /// The text that it starts with.
    pub value: Option<String>,
    /// The fewest characters.
    pub min_length: Option<u64>,
    /// The most characters.
    pub max_length: Option<u64>,
}

/// Checks a form at where `faulty` is (in `data`).
pub fn form(faulty: &mut Faulty, value: &Value) -> Option<Form> {
    let body = object(faulty, value)?;
    let id = text(faulty, body, "custom_id", Need::Must, What::CustomId);
    let title = text(faulty, body, "title", Need::Must, What::FormTitle);
    let rows = list(faulty, body, "components", Need::Must, What::Inputs);
    let mut known = BTreeSet::new();
    let mut fields = Vec::new();
    faulty.key("components", |f| {
        for (index, row) in rows.iter().enumerate() {
            f.at(index, |f| {
                let Some(row) = object(f, row) else { return };
                if row.get("type").and_then(Value::as_u64) != Some(kind::ROW) {
                    f.key("type", |f| not_among(f, "1"));
                    return;
                }
                let inner = row.get("components").and_then(Value::as_array);
                let inner = inner.map_or(&[][..], Vec::as_slice);
                f.key("components", |f| match inner {
                    [input] => f.at(0, |f| fields.extend(field(f, input, &mut known))),
                    [] => super::required(f),
                    _ => f.here("BASE_TYPE_BAD_LENGTH", "Must be between 1 and 1 in length."),
                });
            });
        }
    });
    Some(Form {
        custom_id: id?.to_owned(),
        title: title?.to_owned(),
        fields,
    })
}

fn field<'a>(
    faulty: &mut Faulty,
    input: &'a Value,
    known: &mut BTreeSet<&'a str>,
) -> Option<Field> {
    let body = object(faulty, input)?;
    if body.get("type").and_then(Value::as_u64) != Some(kind::INPUT) {
        faulty.key("type", |f| not_among(f, "4"));
        return None;
    }
    custom_id(faulty, body, known);
    let label = text(faulty, body, "label", Need::Must, What::InputLabel);
    let placeholder = text(
        faulty,
        body,
        "placeholder",
        Need::May,
        What::InputPlaceholder,
    );
    let value = text(faulty, body, "value", Need::May, What::InputValue);
    let most = What::InputValue.most() as u64;
    let style = whole(faulty, body, "style", 1..=2);
    if style.is_none() && body.get("style").is_none_or(Value::is_null) {
        faulty.key("style", super::required);
    }
    let min_length = whole(faulty, body, "min_length", 0..=most);
    let max_length = whole(faulty, body, "max_length", 1..=most);
    Some(Field {
        custom_id: body.get("custom_id")?.as_str()?.to_owned(),
        label: label?.to_owned(),
        placeholder: placeholder.map(str::to_owned),
        required: body
            .get("required")
            .and_then(Value::as_bool)
            .unwrap_or(true),
        long: style == Some(2),
        value: value.map(str::to_owned),
        min_length,
        max_length,
    })
}
