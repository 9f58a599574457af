//! How a reading of the invented months was entered: tapped on a card, typed in its form, as a command, late. Decides
//! the words and buttons; leaves what was found, and by whom, to whoever calls.

use std::collections::BTreeMap;

use anyhow::Context;
use chrono::{DateTime, TimeDelta, Utc};
use commands::Said;
use commands::ids::{RecordNo, Tag};
use commands::rules::air::{INCH_TENTHS, Tenths};
use commands::rules::hand_check::{Air, Band, Check};
use commands::said::Value;
use commands::tap::{Tap, air_word};

use super::super::people::Staff;
use super::{Months, tap};
use crate::home::setup::words;

/// What nurses write beside a recheck, at times.
const NOTES: [&str; 6] = [
    "two pads, one taken away",
    "hose was bent behind the bed",
    "head was raised for the meal",
    "panel had the setting from before",
    "sheet was pulled tight, loosened",
    "moved up the bed",
];
/// Of a thousand rechecks, so many carry a note.
const NOTED: u32 = 350;

/// How a reading was entered.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// A button of the round's card, or its menu.
    Card,
    /// The form behind that card.
    Form,
    /// `/handcheck`.
    Typed,
    /// `/handcheck`, a while after the hand was there.
    Late,
    /// `/handcheck` with position, layers and setting.
    Nurse,
}

/// Enters a reading.
pub(super) fn say(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    tag: &Tag,
    who: &Staff,
    air: Air,
    way: Way,
) -> anyhow::Result<RecordNo> {
    // Where the maker rules a hand out, nobody types inches.
    let check = months.state().profile_of(months.surface(tag)?).check;
    let way = if check == Check::LookAndFeel {
        Way::Card
    } else {
        way
    };
    let said = match way {
        Way::Card => on_card(months, at, tag, air)?,
        Way::Form => Said::Form {
            id: Tap::AirTyped {
                card: months.card(tag, at, true)?,
                air: String::new(),
                note: None,
            }
            .id(),
            fields: BTreeMap::from([("air".to_owned(), eighths(air))]),
        },
        Way::Typed => words(
            "handcheck",
            &[("surface", tag.as_str()), ("air", &eighths(air))],
        ),
        Way::Late => late(months, at, tag, air)?,
        Way::Nurse => nurse(months, tag, air)?,
    };
    months.lived.ask(who, at, &said)
}

fn on_card(months: &Months<'_>, at: DateTime<Utc>, tag: &Tag, air: Air) -> anyhow::Result<Said> {
    let card = months.card(tag, at, true)?;
    let check = months.state().profile_of(months.surface(tag)?).check;
    let air = match air {
        Air::Measured(tenths) => {
            let air = nearest_button(tenths, band(months, tag)?);
            // A look has a word for enough, and no inches.
            let looked = check == Check::LookAndFeel && matches!(air, Air::Measured(_));
            if looked { Air::Within } else { air }
        }
        Air::CouldNot(why) => {
            return Ok(Said::Tap {
                id: card.menu_id(),
                chosen: vec![air_word(Air::CouldNot(why))],
            });
        }
        Air::Within | Air::Under1 | Air::Over | Air::Touching => air,
    };
    Ok(tap(&Tap::Air { card, air }))
}

/// The button that a hand with gloves off would find for this reading.
fn nearest_button(tenths: Tenths, band: Band) -> Air {
    if tenths < band.low {
        return Air::Under1;
    }
    if tenths > band.high {
        return Air::Over;
    }
    let buttons = [band.low, band.middle(), band.high];
    let nearest = buttons
        .into_iter()
        .min_by_key(|button| (button.0 - tenths.0).abs());
    Air::Measured(nearest.unwrap_or(band.low))
}

/// A reading entered up to half an hour late, where the surface was not checked or moved since.
fn late(months: &mut Months<'_>, at: DateTime<Utc>, tag: &Tag, air: Air) -> anyhow::Result<Said> {
    let minutes = months.rng.i64(12..30);
    let then = at - TimeDelta::minutes(minutes + 1);
    let surface = months.surface(tag)?;
    let since_check = surface.check_here().is_some_and(|check| check.at < then);
    let ago = format!("{minutes} min ago");
    let air = eighths(air);
    let mut options = vec![("surface", tag.as_str()), ("air", air.as_str())];
    if since_check {
        options.push(("when", &ago));
    }
    Ok(words("handcheck", &options))
}

fn nurse(months: &mut Months<'_>, tag: &Tag, air: Air) -> anyhow::Result<Said> {
    const POSITIONS: [&str; 3] = ["back-flat", "back-raised", "side"];
    let position = POSITIONS[months.rng.usize(0..POSITIONS.len())];
    let layers = months.rng.i64(1..=3);
    let profile = months.state().profile_of(months.surface(tag)?);
    let settings = profile.settings.clone();
    let place = months.rng.usize(0..settings.len().max(1));
    let air = eighths(air);
    let mut options = vec![
        ("surface", tag.as_str()),
        ("air", &air),
        ("position", position),
    ];
    if let Some((_, setting)) = settings.get(place) {
        options.push(("setting", setting));
    }
    let note = NOTES[months.rng.usize(0..NOTES.len())];
    if months.chance(NOTED) {
        options.push(("note", note));
    }
    let mut said = words("handcheck", &options);
    if let Said::Command { options, .. } = &mut said {
        options.insert("layers".to_owned(), Value::Whole(layers));
    }
    Ok(said)
}

/// A reading as people write it: in eighths of an inch, or `none`.
fn eighths(air: Air) -> String {
    let Air::Measured(tenths) = air else {
        return "none".to_owned();
    };
    let eighths = (tenths.0 * 8 + INCH_TENTHS / 2).div_euclid(INCH_TENTHS);
    let (whole, rest) = (eighths / 8, eighths % 8);
    let (top, bottom) = match rest {
        // From two on a bare number could be centimetres, and is asked about.
        0 if whole > 1 => return format!("{whole} in"),
        0 => return whole.to_string(),
        4 => (1, 2),
        2 | 6 => (rest / 2, 4),
        _ => (rest, 8),
    };
    if whole > 1 {
        format!("{whole} {top}/{bottom} in")
    } else if whole == 0 {
        format!("{top}/{bottom}")
    } else {
        format!("{whole} {top}/{bottom}")
    }
}

/// What the hand finds there when nothing is wrong.
pub(super) fn usual(
    months: &mut Months<'_>,
    at: DateTime<Utc>,
    tag: &Tag,
) -> anyhow::Result<Tenths> {
    let (day, band) = (months.day(at), band(months, tag)?);
    let wear = months.wear.get(tag).context("no such surface")?;
    Ok(Tenths(wear.air(day, band, &mut months.rng)))
}

fn band(months: &Months<'_>, tag: &Tag) -> anyhow::Result<Band> {
    let state = months.state();
    let own = state.profile_of(months.surface(tag)?).band;
    Ok(own.unwrap_or_else(|| state.policies.band()))
}
