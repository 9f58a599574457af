//! The hash that chains each record to the one before it. Decides the bytes that are hashed, for ever:
//! a changed layout would make every old log look altered. Leaves comparing to `verify`.
//!
//! # The layout
//!
//! `hash(n) = SHA-256(hash(n - 1) ‖ fields of n)`, numbers big-endian, in this order:
//!
//! | field | bytes |
//! | --- | --- |
//! | hash of the record before, [`genesis`] for the first | 32 |
//! | number | 8 |
//! | number of the first record of the same cause | 8 |
//! | when it happened, ms since 1970 UTC | 8, signed |
//! | when it was entered, ms since 1970 UTC | 8, signed |
//! | who: 0, or 1 and the chat user | 1 or 9 |
//! | role | text |
//! | kind | text |
//! | surface: 0, or 1 and the tag | 1, or 1 and text |
//! | amends: 0, or 1 and the number | 1 or 9 |
//! | body version | 4 |
//! | body | text |
//! | note: 0, or 1 and SHA-256(salt ‖ text) | 1 or 33 |
//! | source of the cause, as [`commands::Source`] has it | text |
//!
//! where a text is its length in bytes (4) and its UTF-8 bytes.

use commands::Source;
use commands::ids::Guild;
use sha2::{Digest, Sha256};

/// A SHA-256.
pub(crate) type Hash = [u8; 32];

/// The fields of a record that are hashed, borrowed from wherever they are.
pub(crate) struct Link<'a> {
    pub no: u64,
    pub cause: u64,
    pub at_ms: i64,
    pub entered_ms: i64,
    pub who: Option<u64>,
    pub role: &'a [u8],
    pub kind: &'a [u8],
    pub surface: Option<&'a [u8]>,
    pub amends: Option<u64>,
    pub version: u32,
    pub body: &'a [u8],
    pub note: Option<&'a Hash>,
    pub source: &'a Source,
}

/// What the first record of a facility is chained to, so that one facility's log cannot stand in for another's.
pub(crate) fn genesis(guild: Guild) -> Hash {
    let mut hasher = Sha256::new();
    hasher.update(b"loftwatch log\0");
    hasher.update(guild.0.to_be_bytes());
    hasher.finalize().into()
}

/// The hash of a record. `scratch` is emptied and refilled: hashing one buffer costs half of hashing
/// a dozen small pieces.
pub(crate) fn link(before: &Hash, link: &Link<'_>, scratch: &mut Vec<u8>) -> Hash {
    scratch.clear();
    scratch.extend_from_slice(before);
    scratch.extend_from_slice(&link.no.to_be_bytes());
    scratch.extend_from_slice(&link.cause.to_be_bytes());
    scratch.extend_from_slice(&link.at_ms.to_be_bytes());
    scratch.extend_from_slice(&link.entered_ms.to_be_bytes());
    maybe(scratch, link.who, |out, who| {
        out.extend_from_slice(&who.to_be_bytes())
    });
    text(scratch, link.role);
    text(scratch, link.kind);
    maybe(scratch, link.surface, text);
    maybe(scratch, link.amends, |out, no| {
        out.extend_from_slice(&no.to_be_bytes())
    });
    scratch.extend_from_slice(&link.version.to_be_bytes());
    text(scratch, link.body);
    maybe(scratch, link.note, |out, note| out.extend_from_slice(note));
    text(scratch, link.source.0.as_bytes());
    Sha256::digest(&scratch).into()
}

/// A hash as people compare it.
pub(crate) fn hex(hash: &Hash) -> String {
    hash.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What a record keeps of its note.
pub(crate) fn note_hash(salt: &[u8], text: &[u8]) -> Hash {
    let mut hasher = Sha256::new();
    hasher.update(salt);
    hasher.update(text);
    hasher.finalize().into()
}

fn text(out: &mut Vec<u8>, bytes: &[u8]) {
    // SQLite takes no text of 4 GiB; one that came near would have been refused long before.
    let length = u32::try_from(bytes.len()).unwrap_or(u32::MAX);
    out.extend_from_slice(&length.to_be_bytes());
    out.extend_from_slice(bytes);
}

fn maybe<T>(out: &mut Vec<u8>, value: Option<T>, write: impl FnOnce(&mut Vec<u8>, T)) {
    match value {
        None => out.push(0),
        Some(value) => {
            out.push(1);
            write(out, value);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Outside check: the two values were computed with Python's `hashlib` and `struct` from the table above,
    /// not with this code.
    #[test]
    fn the_layout_is_the_documented_one() {
        assert_eq!(hex(&genesis(Guild(42))), GENESIS_42);
        let source = Source("i7".into());
        let first = Link {
            no: 1,
            cause: 1,
            at_ms: 1_700_000_000_000,
            entered_ms: 1_700_000_000_500,
            who: Some(9),
            role: b"aide",
            kind: b"placed",
            surface: Some(b"LW-07"),
            amends: None,
            version: 1,
            body: b"{}",
            note: Some(&[5; 32]),
            source: &source,
        };
        assert_eq!(
            hex(&link(&genesis(Guild(42)), &first, &mut Vec::new())),
            FIRST_42
        );
    }
    const GENESIS_42: &str = "f7714f9288f203a5374fe7f8a5525d9156fc6c09869efad9359077cf7c015c40";
    const FIRST_42: &str = "22d19714b94615ed9c96b5e94ccb9d34f65e80c8559b11c0721b04d56a19fd93";
}
