//! Which bed a surface is under, for whoever asks: posts name tags only, until the home has approved beds there. Decides
//! which posts have the button for it and what it answers, to its asker alone.

use super::draft::{Asked, button, clock_time};
use crate::decision::Decision;
use crate::ids::{OutageNo, Tag};
use crate::message::{Button, Look, Message};
use crate::refusal::Refusal;
use crate::rules::policy::Name;
use crate::say;
use crate::state::State;
use crate::tap::{Power, Tap};
use crate::words::Lang;

/// Under a post about one surface; none where the post names the bed itself, or there is none.
pub(crate) fn which_button(state: &State, lang: Lang, tag: &Tag) -> Option<Button> {
    let bed = state.surfaces.get(tag)?.bed();
    let tap = Tap::WhichBed { tag: tag.clone() };
    (bed.is_some() && !named(state)).then(|| button(lang, "button-which-bed", Look::Plain, &tap))
}

/// Under the card of a power failure.
pub(crate) fn outage_button(state: &State, lang: Lang, no: OutageNo) -> Option<Button> {
    let tap = Tap::Power(Power::Beds { outage: no });
    (!named(state)).then(|| button(lang, "button-which-beds", Look::Plain, &tap))
}

fn named(state: &State) -> bool {
    state.policies.get(Name::BedsInPosts) == 1
}

/// "Which bed?"
pub(super) fn of(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let Some(bed) = surface.bed() else {
        return Err(Refusal::new("fault-under-no-bed").text("tag", tag));
    };
    let unit = asked.state.bed_units.get(bed);
    Ok(Decision::private(Message::text(say!(
        asked.lang,
        "which-bed",
        tag = tag.as_str(),
        bed = bed.as_str(),
        unit = unit.map_or("", |unit| unit.as_str())
    ))))
}

/// "Which beds?" in a power failure: those that are left in its roll come first, in its order.
pub(super) fn of_outage(asked: &Asked<'_>, no: OutageNo) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let Some(open) = asked.state.outages.get(&no) else {
        return Err(Refusal::new("fault-outage-over"));
    };
    let (seen, left): (Vec<&Tag>, Vec<&Tag>) = open
        .order
        .iter()
        .partition(|tag| open.seen.contains_key(*tag));
    let mut lines = vec![say!(
        lang,
        "which-beds",
        unit = open.unit.as_str(),
        at = clock_time(open.since)
    )];
    let names = |tags: Vec<&Tag>| {
        let names: Vec<String> = tags.into_iter().map(|tag| asked.with_bed(tag)).collect();
        names.join(", ")
    };
    if !left.is_empty() {
        lines.push(say!(lang, "which-beds-left", these = names(left)));
    }
    if !seen.is_empty() {
        lines.push(say!(lang, "which-beds-seen", these = names(seen)));
    }
    let mut text = lines.join("\n");
    crate::due::truncate(&mut text);
    Ok(Decision::private(Message::text(text)))
}
