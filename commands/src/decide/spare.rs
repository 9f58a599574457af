//! Another surface in the place of one: which ready ones fit there, in which order they are offered, what is said where one
//! does not. Decides how it is said; leaves what fits to `matching` and `beds`, and the swap itself to `moves`.

use super::draft::Asked;
use super::matching::{self, Fit};
use crate::ids::{Bed, Tag};
use crate::message::{ENTRIES_MAX, Menu, MenuEntry, Message};
use crate::record::Profile;
use crate::request::Right;
use crate::role::authorize;
use crate::rules::frame as frames;
use crate::say;
use crate::state::{Life, Surface};
use crate::tap::{Tap, Work};

/// Ready ones that a line of text names.
const NAMED: usize = 3;

/// A ready surface that fits, and what of it is not on record.
pub(super) struct Spare<'a> {
    pub tag: &'a Tag,
    pub surface: &'a Surface,
    lacks: Vec<&'static str>,
}

/// The ready surfaces that fit under this bed and do what the one there does: those that fit for sure first.
pub(super) fn ready<'a>(asked: &Asked<'a>, bed: &Bed, old: &Surface) -> Vec<Spare<'a>> {
    let profile = asked.state.profile_of(old);
    let mut found: Vec<Spare<'a>> = asked
        .state
        .surfaces
        .iter()
        .filter(|(_, surface)| matches!(surface.life, Life::Ready { .. }))
        .filter_map(|(tag, surface)| {
            let lacks = match matching::fits_instead(asked, tag, surface, bed, profile) {
                Fit::Yes => Vec::new(),
                Fit::Ask(lacks) => lacks,
                Fit::No => return None,
            };
            Some(Spare {
                tag,
                surface,
                lacks,
            })
        })
        .collect();
    found.sort_by_key(|spare| spare.lacks.len());
    found
}

/// What is ready for a bed, in a line: for whoever may not swap, and for those who fetch it.
pub(super) fn line(asked: &Asked<'_>, bed: &Bed, old: &Surface) -> String {
    let lang = asked.lang;
    let ready = ready(asked, bed, old);
    if ready.is_empty() {
        return say!(lang, "spare-none");
    }
    let names: Vec<String> = ready
        .iter()
        .take(NAMED)
        .map(|spare| {
            say!(
                lang,
                "spare-one",
                tag = spare.tag.as_str(),
                about = about(asked, spare)
            )
        })
        .collect();
    let said = say!(lang, "spare-ready", these = names.join(", "));
    match &asked.state.storage {
        Some(storage) => {
            let place = super::check::escaped(&storage.clean);
            format!("{said} {}", say!(lang, "match-storage", place = place))
        }
        None => said,
    }
}

/// What a spare is, in few words: its profile, kind and width, and what is to be asked of it.
pub(super) fn about(asked: &Asked<'_>, spare: &Spare<'_>) -> String {
    let profile = asked.state.profile_of(spare.surface);
    let mut parts = facts(asked, profile);
    parts.extend(spare.lacks.iter().map(|key| say!(asked.lang, key)));
    parts.join(" · ")
}

/// Profile, kind and width.
pub(super) fn facts(asked: &Asked<'_>, profile: &Profile) -> Vec<String> {
    let lang = asked.lang;
    let mut parts = vec![
        profile.name.to_string(),
        say!(lang, matching::kind_key(profile.kind)),
    ];
    if let Some(width) = profile.width {
        parts.push(say!(lang, "match-wide", width = frames::show(width)));
    }
    parts
}

/// The menu with which a nurse puts one of them in the place of another; none for whoever may not, or where none fits.
pub(super) fn menu(asked: &Asked<'_>, bed: &Bed, tag: &Tag, old: &Surface) -> Option<Menu> {
    authorize(asked.state, asked.ask, Right::Place).ok()?;
    let entries: Vec<MenuEntry> = ready(asked, bed, old)
        .iter()
        .take(ENTRIES_MAX)
        .map(|spare| MenuEntry {
            value: spare.tag.to_string(),
            label: spare.tag.to_string(),
            about: Some(about(asked, spare)),
        })
        .collect();
    if entries.is_empty() {
        return None;
    }
    let tap = Work::Swap {
        bed: bed.clone(),
        old: tag.clone(),
        new: "".into(),
    };
    Some(Menu {
        id: Tap::Work(tap).id(),
        hint: say!(asked.lang, "menu-swap"),
        entries,
    })
}

/// An answer with what is ready for the bed of this surface: the line, and the menu for whoever may.
pub(super) fn offered(
    asked: &Asked<'_>,
    mut message: Message,
    tag: &Tag,
    old: &Surface,
) -> Message {
    let Some(bed) = old.bed() else {
        return message;
    };
    message.text = format!("{}\n{}", message.text, line(asked, bed, old));
    match menu(asked, bed, tag, old) {
        Some(menu) => message.menu(menu),
        None => message,
    }
}

/// What does not fit about this surface in the place of another, each in a sentence; nothing where all that is on record
/// fits.
pub(super) fn misfits(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    bed: &Bed,
    old: (&Tag, &Surface),
) -> Vec<String> {
    let lang = asked.lang;
    let (here, there) = (
        asked.state.profile_of(surface),
        asked.state.profile_of(old.1),
    );
    let mut said = Vec::new();
    if !matching::does(here.kind, there.kind) {
        said.push(say!(
            lang,
            "misfit-kind",
            tag = tag.as_str(),
            kind = say!(lang, matching::kind_key(here.kind)),
            old = old.0.as_str(),
            other = say!(lang, matching::kind_key(there.kind))
        ));
    }
    if let (Some(least), Some(capacity)) = (there.capacity_lb, here.capacity_lb)
        && capacity < least
    {
        said.push(say!(
            lang,
            "misfit-capacity",
            tag = tag.as_str(),
            capacity = i64::from(capacity),
            old = old.0.as_str(),
            least = i64::from(least)
        ));
    }
    // What is too wide or too long was refused; what leaves a gap may lie there and is said.
    said.extend(super::beds::gaps_left(asked, bed, here));
    said
}
