//! The gaps of a bed: measured, judged, acted on. Decides what is said of each, who is called for one over the limit, and
//! that it stays due until it was measured again; leaves the limits to `rules::gap`.

use super::draft::{
    Asked, Draft, clock_time, day_time, in_post, person, state_after, unit_channel,
};
use super::nurse;
use super::place::find_bed;
use crate::choice::{GapAct, Rails, Step};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::{Bed, Person, RecordNo, Tag};
use crate::message::{Answer, Menu, MenuEntry, Message};
use crate::record::{Body, GapReading, On};
use crate::refusal::Refusal;
use crate::role::Role;
use crate::rules::air::Tenths;
use crate::rules::gap::{self, AngleFault, Gap, GapFault, Zone};
use crate::say;
use crate::state::{Mark, OverFact, State};
use crate::tap::gap_acts_menu;
use crate::words::Lang;

/// The names of the options, zone by zone.
const OPTIONS: [&str; 7] = [
    "zone1", "zone2", "zone3", "zone4", "zone5", "zone6", "zone7",
];

/// `/zones`.
pub(super) fn zones(
    asked: &Asked<'_>,
    bed: &str,
    typed: &[Option<String>; 7],
    angle4: Option<&str>,
) -> Result<Decision, Refusal> {
    let bed = find_bed(asked, bed)?;
    let mut read: Vec<(Zone, Tenths)> = Vec::new();
    for ((zone, option), text) in Zone::ALL.into_iter().zip(OPTIONS).zip(typed) {
        if let Some(text) = text {
            let gap = gap::parse(text).map_err(|fault| gap_fault(option, fault))?;
            read.push((zone, gap));
        }
    }
    let angle = angle4
        .map(|text| gap::parse_angle(text).map_err(angle_fault))
        .transpose()?;
    if read.is_empty() {
        return Err(Refusal::new("fault-zones-none"));
    }
    if angle.is_some() && !read.iter().any(|(zone, _)| *zone == Zone::Z4) {
        return Err(Refusal::new("fault-angle-alone"));
    }
    let under = asked.state.under.get(bed);
    // Every surface that is tracked here is of air and has a control unit.
    let air = under.is_some();
    let judged: Vec<(Zone, Tenths, Gap)> = read
        .into_iter()
        .map(|(zone, gap)| (zone, gap, gap::judge(zone, gap, angle, air)))
        .collect();
    let mut draft = asked.draft();
    let no = draft.fact(Body::ZonesMeasured {
        bed: bed.clone(),
        tag: under.cloned(),
        gaps: judged
            .iter()
            .map(|(zone, gap, judged)| GapReading {
                zone: zone.number(),
                gap: *gap,
                over: *judged == Gap::Over,
            })
            .collect(),
        angle4: angle,
    });
    let over: Vec<u8> = judged
        .iter()
        .filter(|(.., judged)| *judged == Gap::Over)
        .map(|(zone, ..)| zone.number())
        .collect();
    let still = still_over(asked, bed, &judged, angle);
    let well = over.is_empty() && still.is_empty();
    let missing = missing(asked, bed, &judged);
    let step = open_step(asked, under);
    let settled = step.filter(|_| !well || missing.is_empty());
    if let Some(tag) = settled {
        settle_step(&mut draft, tag, well);
    }
    let lang = asked.lang;
    let mut lines = vec![match under {
        Some(tag) => say!(lang, "zones-head", bed = bed.as_str(), tag = tag.as_str()),
        None => say!(lang, "zones-head-empty", bed = bed.as_str()),
    }];
    lines.extend(
        judged
            .iter()
            .map(|(zone, gap, judged)| line(lang, *zone, *gap, *judged, air)),
    );
    let mut message = Message::default();
    if !over.is_empty() {
        call(asked, &mut draft, bed, under, no, &over);
        let key = match nurse::acts(asked) {
            true => "zones-act-nurse",
            false => "zones-act",
        };
        lines.push(say!(lang, key));
        message = message.menu(acts_menu(lang, bed, no));
    }
    if !still.is_empty() {
        lines.push(say!(
            lang,
            "zones-still-over",
            zones = numbers(still.into_iter())
        ));
    }
    if well
        && asked
            .state
            .frame(bed)
            .is_some_and(|frame| frame.over.is_some())
    {
        lines.push(say!(lang, "zones-over-ended"));
        over_no_more(asked, &mut draft, bed, under, no);
    }
    if settled.is_some() {
        lines.push(say!(
            lang,
            if well {
                "zones-step-done"
            } else {
                "zones-step-missed"
            }
        ));
    } else if step.is_some() {
        let zones = numbers(missing.into_iter());
        lines.push(say!(lang, "zones-step-open", zones = zones));
    }
    if under.is_none() {
        lines.push(say!(lang, "zones-again"));
    }
    lines.push(say!(lang, "zones-caution"));
    message.text = lines.join("\n");
    Ok(draft.private(message))
}

/// Something was done at once.
pub(super) fn acted(
    asked: &Asked<'_>,
    bed: &Bed,
    no: RecordNo,
    did: Option<GapAct>,
) -> Result<Decision, Refusal> {
    let bed = find_bed(asked, bed.as_str())?;
    let over = asked.state.frame(bed).and_then(|frame| frame.over.as_ref());
    let Some(over) = over else {
        return Err(Refusal::new("fault-gap-over-no-more").text("bed", bed));
    };
    if over.no != no {
        return Err(Refusal::new("fault-gap-newer").text("bed", bed));
    }
    let lang = asked.lang;
    let Some(did) = did else {
        let text = say!(lang, "zones-did-what", bed = bed.as_str());
        let message = Message::text(text).menu(acts_menu(lang, bed, no));
        return Ok(Decision::private(message));
    };
    if let Some(mark) = over.did.get(&did) {
        let text = say!(
            lang,
            "zones-acted-already",
            bed = bed.as_str(),
            did = act_words(lang, did),
            who = mark.who.map_or_else(String::new, person),
            at = clock_time(mark.at)
        );
        return Ok(Decision::private(Message::text(text)));
    }
    let mut draft = asked.draft();
    draft.fact(Body::ZonesActed {
        bed: bed.clone(),
        did: Some(did),
    });
    let under = asked.state.under.get(bed);
    let post_lang = asked.state.lang();
    let zones = numbers(over.zones.iter().copied());
    let frame = asked.state.frame(bed);
    let measured = frame
        .and_then(|frame| frame.zones.as_ref()?.who)
        .unwrap_or(asked.ask.who);
    let after = state_after(asked.state, Some(asked.ask.who), asked.now, &draft.decision);
    let over_now = after.frame(bed).and_then(|frame| frame.over.as_ref());
    let done = over_now.map_or_else(String::new, |over| done_words(post_lang, over));
    let text = format!(
        "{}\n{}",
        post(asked, bed, under, &zones, measured),
        say!(post_lang, "card-gap-acted", done = done)
    );
    let unit = asked.state.bed_units.get(bed);
    // It may go on: a rail is lowered first, and the assessment is asked for after that.
    let message = Message::text(text).menu(acts_menu(post_lang, bed, no));
    let first = draft.first();
    draft.edit(
        format!("gap:{no}:acted:{first}"),
        format!("gap:{no}"),
        unit_channel(asked.state, asked.facility, unit),
        message,
    );
    let text = say!(
        lang,
        "zones-acted",
        bed = bed.as_str(),
        did = act_words(lang, did)
    );
    Ok(draft.private(Message::text(text)))
}

/// What can be done at once, to choose from.
pub(super) fn acts_menu(lang: Lang, bed: &Bed, no: RecordNo) -> Menu {
    let entry = |did: &GapAct| MenuEntry {
        value: did.as_str().to_owned(),
        label: act_words(lang, *did),
        about: None,
    };
    Menu {
        id: gap_acts_menu(bed, no),
        hint: say!(lang, "menu-gap-acts"),
        entries: GapAct::ALL.iter().map(entry).collect(),
    }
}

fn act_words(lang: Lang, did: GapAct) -> String {
    say!(lang, &format!("gap-act-{}", did.as_str()))
}

/// What was done at once, each with who and when, in the order of the list.
fn done_words(lang: Lang, over: &OverFact) -> String {
    let one = |(did, mark): (&GapAct, &Mark)| {
        let who = mark.who.map_or_else(String::new, person);
        format!("{} ({who}, {})", act_words(lang, *did), day_time(mark.at))
    };
    let all: Vec<String> = over.did.iter().map(one).collect();
    all.join(", ")
}

/// A line of what was done at once; nothing where nobody has said.
pub(super) fn done_line(asked: &Asked<'_>, over: &OverFact) -> Option<String> {
    let lang = asked.lang;
    (!over.did.is_empty()).then(|| say!(lang, "card-gap-acted", done = done_words(lang, over)))
}

/// A surface's name with what was done at once about the gap at its bed, for a list.
pub(crate) fn with_acts(state: &State, lang: Lang, tag: &Tag, name: String) -> String {
    let bed = state.surfaces.get(tag).and_then(|surface| surface.bed());
    let over = bed.and_then(|bed| state.frame(bed)?.over.as_ref());
    let did: Vec<String> = over
        .into_iter()
        .flat_map(|over| over.did.keys())
        .map(|did| act_words(lang, *did))
        .collect();
    if did.is_empty() {
        return name;
    }
    say!(lang, "gap-with-acts", surface = name, did = did.join(", "))
}

/// Numbers of zones in a row: `2, 4`.
pub(super) fn numbers(zones: impl Iterator<Item = u8>) -> String {
    zones
        .map(|zone| zone.to_string())
        .collect::<Vec<_>>()
        .join(", ")
}

/// The zones that were over before and were not measured now: they stay so.
fn still_over(
    asked: &Asked<'_>,
    bed: &Bed,
    judged: &[(Zone, Tenths, Gap)],
    angle: Option<u16>,
) -> Vec<u8> {
    let before = asked.state.frame(bed).and_then(|frame| frame.over.as_ref());
    before
        .into_iter()
        .flat_map(|over| over.zones.iter().copied())
        .filter(|number| {
            !judged.iter().any(|(zone, _, judged)| match (zone, judged) {
                (_, Gap::Over) => zone.number() == *number,
                (Zone::Z4, _) => *number == 4 && angle.is_some(),
                (Zone::Z1 | Zone::Z2 | Zone::Z3 | Zone::Z5 | Zone::Z6 | Zone::Z7, _) => {
                    zone.number() == *number
                }
            })
        })
        .collect()
}

/// The zones with a limit that these readings leave out; none where the bed is known to have no rails.
fn missing(asked: &Asked<'_>, bed: &Bed, judged: &[(Zone, Tenths, Gap)]) -> Vec<u8> {
    let frame = asked.state.frame(bed);
    if frame.is_some_and(|frame| frame.rails == Some(Rails::None)) {
        return Vec::new();
    }
    Zone::ALL
        .into_iter()
        .filter(|zone| zone.limit().is_some())
        .filter(|zone| !judged.iter().any(|(read, ..)| read == zone))
        .map(Zone::number)
        .collect()
}

/// The surface at that bed whose open checklist still asks for rails and gaps.
fn open_step<'a>(asked: &Asked<'_>, under: Option<&'a Tag>) -> Option<&'a Tag> {
    under.filter(|tag| {
        asked
            .state
            .surfaces
            .get(*tag)
            .and_then(|surface| surface.open_steps())
            .is_some_and(|steps| steps.left().any(|step| step == Step::Rails))
    })
}

/// Rails and gaps were looked at again. One over the limit is not right yet.
fn settle_step(draft: &mut Draft, tag: &Tag, well: bool) {
    draft.fact(if well {
        Body::StepsDone {
            tag: tag.clone(),
            steps: vec![Step::Rails],
        }
    } else {
        Body::StepMissed {
            tag: tag.clone(),
            step: Step::Rails,
        }
    });
}

fn line(lang: Lang, zone: Zone, gap: Tenths, judged: Gap, air: bool) -> String {
    if let (Gap::Over, Some(limit)) = (judged, zone.limit()) {
        let key = match zone {
            Zone::Z4 => "zones-over-neck",
            Zone::Z1 | Zone::Z2 | Zone::Z3 | Zone::Z5 | Zone::Z6 | Zone::Z7 => "zones-over",
        };
        return say!(
            lang,
            key,
            zone = i64::from(zone.number()),
            gap = gap::show(gap),
            limit = gap::show(limit),
            degrees = i64::from(gap::WEDGE_DEGREES)
        );
    }
    let key = match judged {
        Gap::Within => "zones-within",
        // Only what has a limit is over one.
        Gap::Over => "zones-noted",
        Gap::Noted if air && zone.limit().is_some() => "zones-noted-air",
        Gap::Noted => "zones-noted",
        Gap::NotJudged => "zones-not-judged",
    };
    say!(
        lang,
        key,
        zone = i64::from(zone.number()),
        gap = gap::show(gap)
    )
}

/// Nurse and supervisor are called where the unit reads.
fn call(
    asked: &Asked<'_>,
    draft: &mut Draft,
    bed: &Bed,
    under: Option<&Tag>,
    no: RecordNo,
    over: &[u8],
) {
    let lang = asked.state.lang();
    let zones = numbers(over.iter().copied());
    let text = match under.filter(|_| nurse::acts(asked)) {
        Some(tag) => say!(
            lang,
            "post-gap-over-nurse",
            surface = in_post(asked.state, lang, tag),
            zones = zones.as_str(),
            who = person(asked.ask.who)
        ),
        None => post(asked, bed, under, &zones, asked.ask.who),
    };
    let message = Message::text(text).menu(acts_menu(lang, bed, no));
    let unit = asked.state.bed_units.get(bed);
    // A nurse who measured it is there already.
    let roles: &[Role] = match nurse::acts(asked) {
        true => &[Role::Supervisor],
        false => &[Role::Nurse, Role::Supervisor],
    };
    let asks = asking::safety(asked.state, unit, roles, asked.now).by(asked.ask.who);
    let post = (
        format!("gap:{no}"),
        unit_channel(asked.state, asked.facility, unit),
        Lane::Escalation,
    );
    match (under, unit) {
        (Some(tag), _) => {
            draft.ask(
                asked.facility,
                On::Surface(tag.clone()),
                &asks,
                post,
                message,
            );
        }
        (None, Some(unit)) => {
            draft.ask(asked.facility, On::Unit(unit.clone()), &asks, post, message);
        }
        (None, None) => draft.post(post.0, post.1, post.2, asks.on(asked.facility, message)),
    }
}

/// Measured again and not over: the post that called for it says so, and asks for nothing more.
fn over_no_more(
    asked: &Asked<'_>,
    draft: &mut Draft,
    bed: &Bed,
    under: Option<&Tag>,
    no: RecordNo,
) {
    let lang = asked.state.lang();
    let Some(over) = asked.state.frame(bed).and_then(|frame| frame.over.as_ref()) else {
        return;
    };
    let unit = asked.state.bed_units.get(bed);
    let name = match under {
        Some(tag) => in_post(asked.state, lang, tag),
        None => unit.map_or_else(String::new, ToString::to_string),
    };
    let text = say!(
        lang,
        "post-gap-over-ended",
        surface = name,
        zones = numbers(over.zones.iter().copied()),
        who = person(asked.ask.who),
        at = clock_time(asked.now)
    );
    draft.edit(
        format!("gap:{}:{no}", over.no),
        format!("gap:{}", over.no),
        unit_channel(asked.state, asked.facility, unit),
        Message::text(text),
    );
}

/// Posts show tags, not beds; a bed that no surface is under has only who measured it to be asked for.
fn post(
    asked: &Asked<'_>,
    bed: &Bed,
    under: Option<&Tag>,
    zones: &str,
    measured: Person,
) -> String {
    let lang = asked.state.lang();
    match under {
        Some(tag) => say!(
            lang,
            "post-gap-over",
            surface = in_post(asked.state, lang, tag),
            zones = zones,
            who = person(measured)
        ),
        None => say!(
            lang,
            "post-gap-over-empty",
            unit = asked
                .state
                .bed_units
                .get(bed)
                .map_or_else(String::new, ToString::to_string),
            zones = zones,
            who = person(measured)
        ),
    }
}

/// What is wrong with a length that was typed for this option: a gap, a width.
pub(super) fn gap_fault(option: &'static str, fault: GapFault) -> Refusal {
    match fault {
        GapFault::Empty | GapFault::NoNumber => {
            Refusal::new("fault-length-none").text("option", option)
        }
        GapFault::WhichUnit { number } => Refusal::new("fault-length-unit")
            .text("option", option)
            .text("number", number),
        GapFault::Negative => Refusal::new("fault-length-negative").text("option", option),
        GapFault::TooBig { max } => Refusal::new("fault-length-big")
            .text("option", option)
            .text("most", gap::show(max)),
        GapFault::TwoNumbers => Refusal::new("fault-length-two").text("option", option),
        GapFault::OddFraction => Refusal::new("fault-length-fraction").text("option", option),
        GapFault::UnknownUnit => Refusal::new("fault-length-unknown").text("option", option),
    }
}

fn angle_fault(fault: AngleFault) -> Refusal {
    match fault {
        AngleFault::NotWhole => Refusal::new("fault-angle-whole"),
        AngleFault::TooBig { max } => {
            Refusal::new("fault-angle-big").number("most", i64::from(max))
        }
        AngleFault::Empty
        | AngleFault::Negative
        | AngleFault::TwoNumbers
        | AngleFault::UnknownUnit
        | AngleFault::NoNumber => Refusal::new("fault-angle"),
    }
}

/// An answer that takes the place of the card that was tapped.
pub(super) fn replace(draft: Draft, message: Message) -> Decision {
    draft.answer(Answer::Replace(message))
}
