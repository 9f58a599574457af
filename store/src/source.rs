//! How the name of an event is written as a key of the file. Decides only that; what names an event is
//! [`Source`]'s own business.
//!
//! Almost every cause is an interaction, and its number as an INTEGER takes 8 bytes where its text takes 20.
//! So `i123` is kept as 123, `m123` as -123, and anything else as its text: one to one, both ways.

use commands::Source;
use rusqlite::ToSql;
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSqlOutput, ValueRef};

/// A source as a key of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Key<'a> {
    Number(i64),
    Text(&'a str),
}

impl<'a> From<&'a Source> for Key<'a> {
    fn from(source: &'a Source) -> Self {
        let text = source.0.as_str();
        let number = match text.as_bytes().first() {
            Some(b'i') => canonical(&text[1..]),
            Some(b'm') => canonical(&text[1..]).filter(|n| *n != 0).map(|n| -n),
            _ => None,
        };
        number.map_or(Key::Text(text), Key::Number)
    }
}

/// The number, if writing it out again gives the same digits.
fn canonical(digits: &str) -> Option<i64> {
    let plain = digits.bytes().all(|b| b.is_ascii_digit());
    let shortest = digits == "0" || !digits.starts_with('0');
    if plain && shortest {
        digits.parse().ok()
    } else {
        None
    }
}

impl ToSql for Key<'_> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(ToSqlOutput::Borrowed(match self {
            Key::Number(n) => ValueRef::Integer(*n),
            Key::Text(text) => ValueRef::Text(text.as_bytes()),
        }))
    }
}

/// A source read back from its key.
pub(crate) struct FromKey(pub Source);

impl FromSql for FromKey {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        Ok(FromKey(match value {
            ValueRef::Integer(n) if n >= 0 => Source(format!("i{n}")),
            ValueRef::Integer(n) => Source(format!("m{}", n.unsigned_abs())),
            ValueRef::Text(_) => Source(value.as_str()?.to_owned()),
            ValueRef::Null | ValueRef::Real(_) | ValueRef::Blob(_) => {
                return Err(FromSqlError::InvalidType);
            }
        }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn there_and_back(text: &str) -> Source {
        let source = Source(text.to_owned());
        let key = Key::from(&source);
        let value = match &key {
            Key::Number(n) => ValueRef::Integer(*n),
            Key::Text(text) => ValueRef::Text(text.as_bytes()),
        };
        FromKey::column_result(value).unwrap().0
    }

    #[test]
    fn common_sources_become_numbers() {
        assert_eq!(Key::from(&Source::interaction(7)), Key::Number(7));
        assert_eq!(Key::from(&Source::message(7)), Key::Number(-7));
        assert_eq!(Key::from(&Source::interaction(0)), Key::Number(0));
    }

    #[test]
    fn whatever_would_not_come_back_the_same_stays_text() {
        for text in [
            "i007",
            "m0",
            "i",
            "m",
            "",
            "i+7",
            "i-7",
            "i 7",
            "é7",
            "i18446744073709551615",
        ] {
            assert!(
                matches!(Key::from(&Source(text.into())), Key::Text(_)),
                "{text}"
            );
        }
    }

    proptest! {
        #[test]
        fn a_source_comes_back_as_it_was(text in "[im]?[0-9]{0,21}|.{0,30}") {
            prop_assert_eq!(there_and_back(&text).0, text);
        }
    }
}
