//! What is known of beds' frames. Decides what may be said of them; leaves what fits them to `beds`.

use super::draft::Asked;
use super::fleet::{bed_fault, find_profile};
use super::zones::gap_fault;
use super::{facility, wish};
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::ids::{Bed, ProfileName};
use crate::message::Message;
use crate::record::{Body, Wish};
use crate::refusal::Refusal;
use crate::request::FacilityFrame;
use crate::role::Role;
use crate::rules::gap::GapFault;
use crate::rules::{beds, frame, nearest};
use crate::say;
use crate::state::Frame;
use crate::words::Lang;

/// The most beds' lines in one answer.
const LINES_SHOWN: usize = 10;
/// The words that approve every profile.
const ALL: [&str; 3] = ["all", "todos", "todas"];

/// `/facility frame`.
pub(super) fn frame(asked: &Asked<'_>, typed: &FacilityFrame) -> Result<Decision, Refusal> {
    let beds = known_beds(asked, &typed.beds)?;
    let length = |option, text: &Option<String>| {
        text.as_deref()
            .map(|text| frame::parse(text).map_err(|fault| size_fault(option, fault)))
            .transpose()
    };
    let width = length("width", &typed.width)?;
    let long = length("length", &typed.length)?;
    let outlet_tested = typed
        .outlet_tested
        .as_deref()
        .map(|text| asked.day_past(text))
        .transpose()?;
    let approved = typed
        .approved
        .as_deref()
        .map(|text| approved(asked, text))
        .transpose()?;
    let mut draft = asked.draft();
    let nothing = width.is_none()
        && long.is_none()
        && typed.rails.is_none()
        && typed.outlet.is_none()
        && outlet_tested.is_none()
        && approved.is_none();
    let mut after: Vec<(Bed, Frame)> = Vec::with_capacity(beds.len());
    for bed in &beds {
        let mut frame = asked.state.frame(bed).cloned().unwrap_or_default();
        frame.width = width.or(frame.width);
        frame.length = long.or(frame.length);
        frame.rails = typed.rails.or(frame.rails);
        frame.outlet = typed.outlet.or(frame.outlet);
        frame.outlet_tested = outlet_tested.or(frame.outlet_tested);
        if outlet_tested.is_some() {
            frame.outlet_failed = None;
        }
        if let Some(approved) = &approved {
            frame.approved = approved.iter().cloned().collect();
        }
        after.push((bed.clone(), frame));
    }
    let lang = asked.lang;
    let mut lines = Vec::new();
    // What may lie on a frame keeps a resident out of its gaps: an admin's word on it waits, the rest does not.
    let wider = approved
        .as_ref()
        .is_some_and(|approved| beds.iter().any(|bed| widens(asked, bed, approved)));
    if wider && wish::waits(asked) {
        if width.or(long).is_some() || typed.rails.is_some() || typed.outlet.is_some() {
            return Err(Refusal::new("fault-approved-alone"));
        }
        let profiles = approved.unwrap_or_default();
        return Ok(wish::ask(asked, Wish::Approved { beds, profiles }));
    }
    if let Some(approved) = &approved {
        let wish = Wish::Approved {
            beds: beds.clone(),
            profiles: approved.clone(),
        };
        wish::overtaken(asked, &mut draft, &wish);
        let post_lang = asked.state.lang();
        let names: Vec<String> = beds.iter().map(Bed::to_string).collect();
        let empty = std::collections::BTreeSet::new();
        let of = beds.first().and_then(|bed| asked.state.frame(bed));
        let before = of.map_or(&empty, |frame| &frame.approved);
        let change = (
            say!(post_lang, "what-approved", beds = beds::show(&names)),
            wish::approved_words(post_lang, before.iter()),
            wish::approved_words(post_lang, approved.iter()),
        );
        facility::tell(asked, &mut draft, vec![change]);
    }
    if !nothing {
        draft.fact(Body::FrameSet {
            beds,
            width,
            length: long,
            rails: typed.rails,
            outlet: typed.outlet,
            outlet_tested,
            outlet_failed: None,
            approved,
        });
        lines.push(say!(lang, "frame-set"));
    }
    lines.extend(shown(lang, &after));
    if !nothing && (width.is_some() || long.is_some() || typed.rails.is_some()) {
        lines.push(say!(lang, "frame-measure"));
    }
    Ok(draft.private(Message::text(lines.join("\n"))))
}

/// The outlet at a bed failed its test: whoever is there plugs over, and the nurse of the unit is told. It stays due until it
/// passes.
pub(super) fn outlet_failed(asked: &Asked<'_>, bed: &Bed) -> Result<Decision, Refusal> {
    let bed = super::place::find_bed(asked, bed.as_str())?;
    let (state, facility) = (asked.state, asked.facility);
    let today = facility.zone.local(asked.now).date();
    let mut draft = asked.draft();
    let no = draft.fact(Body::FrameSet {
        beds: vec![bed.clone()],
        width: None,
        length: None,
        rails: None,
        outlet: None,
        outlet_tested: None,
        outlet_failed: Some(today),
        approved: None,
    });
    let lang = asked.lang;
    let text = say!(lang, "outlet-failed", bed = bed.as_str());
    // Without a surface nobody lies there on anything that needs it.
    if let Some(tag) = state.under.get(bed) {
        let post_lang = state.lang();
        let post = say!(
            post_lang,
            "post-outlet-failed",
            surface = super::draft::in_post(state, post_lang, tag),
            who = super::draft::person(asked.ask.who)
        );
        let unit = state.bed_units.get(bed);
        let asks = asking::routine(state, unit, &[Role::Nurse], asked.now);
        draft.post(
            format!("outlet:{no}"),
            super::draft::unit_channel(state, facility, unit),
            Lane::Reminder,
            asks.on(facility, Message::text(post)),
        );
    }
    Ok(draft.private(Message::text(text)))
}

/// Whether more than before may lie on the frame; an empty list approves all.
pub(super) fn widens(asked: &Asked<'_>, bed: &Bed, approved: &[ProfileName]) -> bool {
    let before = asked.state.frame(bed).map(|frame| &frame.approved);
    let Some(before) = before.filter(|before| !before.is_empty()) else {
        return false;
    };
    approved.is_empty() || approved.iter().any(|name| !before.contains(name))
}

/// What is known of a frame, in one line; nothing where nothing is.
pub(super) fn words(lang: Lang, frame: &Frame) -> Option<String> {
    let mut parts = Vec::new();
    match (frame.width, frame.length) {
        (Some(width), Some(length)) => parts.push(say!(
            lang,
            "frame-size",
            width = frame::show(width),
            length = frame::show(length)
        )),
        (Some(width), None) => {
            parts.push(say!(lang, "frame-width", width = frame::show(width)));
        }
        (None, Some(length)) => {
            parts.push(say!(lang, "frame-length", length = frame::show(length)));
        }
        (None, None) => {}
    }
    if let Some(rails) = frame.rails {
        parts.push(say!(lang, &format!("rails-{}", rails.as_str())));
    }
    if let Some(outlet) = frame.outlet {
        parts.push(say!(lang, &format!("outlet-{}", outlet.as_str())));
    }
    if let Some(day) = frame.outlet_tested {
        parts.push(say!(lang, "frame-outlet-tested", day = day.to_string()));
    }
    if let Some(day) = frame.outlet_failed {
        parts.push(say!(lang, "frame-outlet-failed", day = day.to_string()));
    }
    if !frame.approved.is_empty() {
        let names: Vec<&str> = frame.approved.iter().map(ProfileName::as_str).collect();
        parts.push(say!(lang, "frame-approved", these = names.join(", ")));
    }
    (!parts.is_empty()).then(|| parts.join(" · "))
}

/// What is known of every bed's frame, for a file: none is only counted.
pub(super) fn all(asked: &Asked<'_>) -> Vec<String> {
    let beds = asked.state.bed_units.keys();
    let frames: Vec<(Bed, Frame)> = beds
        .map(|bed| {
            (
                bed.clone(),
                asked.state.frame(bed).cloned().unwrap_or_default(),
            )
        })
        .collect();
    grouped(asked.lang, &frames, usize::MAX)
}

/// Beds that are alike share a line.
fn shown(lang: Lang, frames: &[(Bed, Frame)]) -> Vec<String> {
    grouped(lang, frames, LINES_SHOWN)
}

fn grouped(lang: Lang, frames: &[(Bed, Frame)], most: usize) -> Vec<String> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (bed, frame) in frames {
        let words = words(lang, frame).unwrap_or_else(|| say!(lang, "frame-unknown"));
        match groups.iter_mut().find(|(of, _)| *of == words) {
            Some((_, beds)) => beds.push(bed.to_string()),
            None => groups.push((words, vec![bed.to_string()])),
        }
    }
    let more = groups.len().saturating_sub(most);
    let mut lines: Vec<String> = groups
        .into_iter()
        .take(most)
        .map(|(words, names)| say!(lang, "frame-line", beds = beds::show(&names), frame = words))
        .collect();
    if more > 0 {
        lines.push(say!(lang, "frame-more", count = more as i64));
    }
    lines
}

/// Beds of the home; those that it does not have are all named.
fn known_beds(asked: &Asked<'_>, typed: &str) -> Result<Vec<Bed>, Refusal> {
    let names = beds::parse(typed).map_err(bed_fault)?;
    let known = &asked.state.bed_units;
    let (here, unknown): (Vec<String>, Vec<String>) = names
        .into_iter()
        .partition(|name| known.contains_key(name.as_str()));
    if !unknown.is_empty() {
        return Err(Refusal::new("fault-beds-unknown").text("these", beds::show(&unknown)));
    }
    Ok(here.into_iter().map(Bed::from).collect())
}

/// Names of profiles with commas between; none for `all`.
fn approved(asked: &Asked<'_>, typed: &str) -> Result<Vec<ProfileName>, Refusal> {
    if ALL.contains(&nearest::fold(typed).as_str()) {
        return Ok(Vec::new());
    }
    let mut names = Vec::new();
    for piece in typed.split([',', ';']).map(str::trim) {
        if piece.is_empty() {
            continue;
        }
        let name = find_profile(asked, piece)?;
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    if names.is_empty() {
        return Err(Refusal::new("fault-approved-empty"));
    }
    Ok(names)
}

pub(super) fn size_fault(option: &'static str, fault: GapFault) -> Refusal {
    match fault {
        GapFault::TooBig { .. } => Refusal::new("fault-frame-size")
            .text("option", option)
            .number("least", i64::from(frame::LEAST_IN))
            .number("most", i64::from(frame::MOST_IN)),
        GapFault::WhichUnit { number } => Refusal::new("fault-frame-unit")
            .text("option", option)
            .text("number", number),
        other @ (GapFault::Empty
        | GapFault::Negative
        | GapFault::TwoNumbers
        | GapFault::OddFraction
        | GapFault::UnknownUnit
        | GapFault::NoNumber) => gap_fault(option, other),
    }
}
