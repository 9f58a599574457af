//! What a reading leads to where a nurse took it: nobody is told to call the nurse, who is there. Decides what is said and
//! offered to whom after a reading that is not adequate; leaves what a reading is to `check`, the setting to `setting`,
//! and what is ready to `spare`.

use super::check::is_low;
use super::draft::{Asked, Draft};
use super::{setting, spare};
use crate::ids::Tag;
use crate::message::Message;
use crate::record::Body;
use crate::request::Right;
use crate::rules::hand_check::Judgement;
use crate::say;
use crate::state::{Life, Surface};

/// Whether the asker acts as one who decides about a setting.
pub(super) fn acts(asked: &Asked<'_>) -> bool {
    Right::Setting.roles().contains(&asked.role)
}

/// What comes next after a low or a high reading: whom it is for, what is in use, and at low again what is ready.
pub(super) fn next_words(
    asked: &Asked<'_>,
    surface: &Surface,
    judged: Judgement,
    again: bool,
) -> Vec<String> {
    let lang = asked.lang;
    let key = match (judged, again, acts(asked)) {
        (Judgement::High, _, false) => "check-high-next",
        (Judgement::High, _, true) => "check-high-next-nurse",
        (_, true, false) => "check-low-again",
        (_, true, true) => "check-low-again-nurse",
        (_, false, false) => "check-low-next",
        (_, false, true) => "check-low-next-nurse",
    };
    let mut lines = vec![say!(lang, key)];
    if acts(asked) && matches!(surface.life, Life::Placed { .. }) {
        lines.extend(setting::decide_lines(asked, surface));
    }
    if again && let Some(bed) = surface.bed() {
        lines.push(spare::line(asked, bed, surface));
    }
    lines
}

/// What comes next after a check that could not be made.
pub(super) fn could_not_words(asked: &Asked<'_>, was_low: bool) -> String {
    let key = match (was_low, acts(asked)) {
        (true, false) => "check-could-not-low",
        (true, true) => "check-could-not-low-nurse",
        (false, false) => "check-could-not-next",
        (false, true) => "check-could-not-next-nurse",
    };
    say!(asked.lang, key)
}

/// What is offered under the answer to a reading that is not adequate: the setting for a nurse, and where it takes
/// another surface, which.
pub(super) fn rows(
    asked: &Asked<'_>,
    draft: &Draft,
    tag: &Tag,
    surface: &Surface,
    message: Message,
) -> Message {
    let checked = draft.decision.entries.iter().find_map(|entry| {
        let Body::HandChecked {
            tag: of, judged, ..
        } = &entry.body
        else {
            return None;
        };
        (of == tag).then_some((*judged, entry.at))
    });
    let Some((judged, at)) = checked else {
        return message;
    };
    if surface.last_check().is_some_and(|check| check.at > at) || !acts(asked) {
        return message;
    }
    let was_low = surface
        .checks_here()
        .find(|check| check.judged != Judgement::CouldNot)
        .is_some_and(|check| is_low(check.judged));
    let another = judged == Judgement::BottomedOut || (judged == Judgement::Low && was_low);
    let mut message = message;
    if matches!(judged, Judgement::Low | Judgement::High) {
        message = setting::choose(asked, message, tag, surface);
    }
    if another && let Some(bed) = surface.bed() {
        message = match spare::menu(asked, bed, tag, surface) {
            Some(menu) => message.menu(menu),
            None => message,
        };
    }
    message
}
