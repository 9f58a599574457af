//! A reading that takes back one's own low one of a moment ago, asked back before it is taken. Decides when: a tap that was
//! meant for the next bed must not cancel a call to nurses, and one that was meant costs one tap more. A reading that
//! names its surface, typed with `/handcheck` or in the form of that name, is taken as it is.

use chrono::{DateTime, TimeDelta, Utc};

use super::{band_of, is_low, show_air};
use crate::choice::Roll;
use crate::decide::draft::{Asked, ago, button};
use crate::decide::outage::how_key;
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Look, Message};
use crate::rules::hand_check::{Air, Judgement, judge};
use crate::say;
use crate::state::Surface;
use crate::tap::{Card, Tap};

/// Nobody lets a surface fill and looks under it again in less.
const SOON: TimeDelta = TimeDelta::minutes(2);

/// The question, where there is one.
pub(super) fn asked_back(
    asked: &Asked<'_>,
    card: &Card,
    tag: &Tag,
    surface: &Surface,
    air: Air,
) -> Option<Decision> {
    let band = band_of(asked.state, surface);
    match judge(air, band) {
        Judgement::Adequate | Judgement::High => {}
        Judgement::Low | Judgement::BottomedOut | Judgement::CouldNot => return None,
    }
    let lang = asked.lang;
    let (before, at) = said_low(asked, tag, surface)?;
    let text = say!(
        lang,
        "check-asked-back",
        surface = asked.with_bed(tag),
        before = before,
        ago = ago(at),
        air = show_air(lang, air, band)
    );
    let tap = Tap::AirAgain {
        card: card.clone(),
        air,
    };
    let yes = button(lang, "button-measured-again", Look::Main, &tap);
    Some(Decision::private(Message::text(text).buttons(vec![yes])))
}

/// What the asker has just said of this surface, if that was low: as a reading, or in the roll of a power failure.
fn said_low(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Option<(String, DateTime<Utc>)> {
    let soon = |at: DateTime<Utc>| at <= asked.now && asked.now - at <= SOON;
    let own = Some(asked.ask.who);
    let check = surface
        .last_check()
        .filter(|check| check.who == own && is_low(check.judged) && soon(check.at));
    if let Some(check) = check {
        let band = band_of(asked.state, surface);
        return Some((show_air(asked.lang, check.air, band), check.at));
    }
    let unit = asked.state.unit_of(tag)?;
    let (_, open) = asked.state.outage_of(unit)?;
    let (how, mark) = open.seen.get(tag)?;
    let low = matches!(how, Roll::Low | Roll::Flat);
    (low && mark.who == own && soon(mark.at)).then(|| (say!(asked.lang, how_key(*how)), mark.at))
}
