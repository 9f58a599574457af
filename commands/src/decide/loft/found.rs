//! What was found at a surface whose readings trended lower, from a list that is picked from and no free text. Decides what
//! is asked; leaves what follows to the answer itself.

use super::super::alarm;
use super::{answered, still};
use crate::choice::{Cause, LoftAnswer};
use crate::decide::draft::Asked;
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Answer, Menu, MenuEntry, Message};
use crate::refusal::Refusal;
use crate::say;
use crate::tap::{Loft, Tap};

/// "Found and mended": what was it?
pub(super) fn ask(asked: &Asked<'_>, tag: &Tag, since: i64) -> Result<Decision, Refusal> {
    still(asked, tag, since)?;
    let lang = asked.lang;
    let (tag, _) = asked.surface(tag.as_str())?;
    let tap = Tap::Loft(Loft::Found {
        tag: tag.clone(),
        since,
        cause: Cause::Other,
    });
    let entries = Cause::ALL.iter().map(|cause| MenuEntry {
        value: cause.as_str().to_owned(),
        label: alarm::cause_words(lang, *cause),
        about: None,
    });
    let menu = Menu {
        id: tap.id(),
        hint: say!(lang, "loft-found-hint"),
        entries: entries.collect(),
    };
    let text = say!(lang, "loft-found-ask", surface = asked.with_bed(tag));
    Ok(Decision {
        answer: Some(Answer::Private(Message::text(text).menu(menu))),
        ..Decision::default()
    })
}

/// It was this.
pub(super) fn found(
    asked: &Asked<'_>,
    tag: &Tag,
    since: i64,
    cause: Cause,
) -> Result<Decision, Refusal> {
    answered(asked, tag, since, LoftAnswer::Mended, Some(cause))
}
