//! The options of the commands about what is in the log already. Decides what each option's text says; looks nothing up.

use super::{Given, NOTE_CHARS_MAX, air_text, as_air};
use crate::choice::Switch;
use crate::refusal::Refusal;
use crate::request::{Amend, Request};

type Read = Result<Request, Refusal>;

pub(crate) fn amend(given: &Given<'_>) -> Read {
    let air = match given.word("air")? {
        Some(text) => Some(as_air(air_text(&text)?)),
        None => None,
    };
    let layers = given.may_whole("layers", 0, 20)?;
    Ok(Request::Amend(Box::new(Amend {
        entry: given.must("entry")?,
        reason: given
            .short("reason", NOTE_CHARS_MAX)?
            .ok_or_else(|| Refusal::new("fault-missing").text("option", "reason"))?,
        air,
        setting: given.word("setting")?,
        layers: layers.and_then(|layers| u8::try_from(layers).ok()),
        position: chosen!(given, "position", crate::choice::Position)?,
        mode: chosen!(given, "mode", crate::choice::Mode)?,
        finding: chosen!(given, "finding", crate::choice::Finding)?,
        action: chosen!(given, "action", crate::choice::Action)?,
        method: chosen!(given, "method", crate::choice::Method)?,
        cover: chosen!(given, "cover", crate::choice::Cover)?,
        surface: given.word("surface")?,
        when: given.word("when")?,
        strike: chosen!(given, "strike", crate::choice::Switch)? == Some(Switch::On),
    })))
}

pub(crate) fn report(given: &Given<'_>) -> Read {
    Ok(Request::Report {
        period: given.word("period")?,
        from: given.word("from")?,
        to: given.word("to")?,
    })
}

pub(crate) fn timeline(given: &Given<'_>) -> Read {
    Ok(Request::Timeline {
        what: given.must("what")?,
    })
}
