//! Recalls by profile and lot. Decides which surfaces a recall finds, that all of them are pulled at once, and where each
//! one is until its end.

use std::collections::BTreeMap;

use super::Notice;
use super::alarm;
use super::draft::{Asked, Draft, day_time, in_post, person, unit_channel};
use super::facility::channel;
use super::items::may;
use crate::choice::Call;
use crate::decision::{Decision, Lane};
use crate::due::asking;
use crate::due::calls::remind_again;
use crate::ids::{Channel, ProfileName, RecallNo, Tag, Unit};
use crate::message::{Answer, Button, Look, Message};
use crate::record::{Body, Fault, On};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::Role;
use crate::rules::nearest::{self, Match, fold};
use crate::say;
use crate::state::{Facility, Life, Recall, State, Surface};
use crate::tap::{Tap, Turn};
use crate::words::Lang;

/// Tags that one line names; the rest are counted.
const TAGS_SHOWN: usize = 20;

/// `/recall`.
pub(super) fn recall(
    asked: &Asked<'_>,
    profile: &str,
    lot: Option<&str>,
) -> Result<Decision, Refusal> {
    let profile = find_profile(asked.state, profile)?;
    let lot = lot
        .map(|lot| find_lot(asked.state, profile, lot))
        .transpose()?;
    let known = asked
        .state
        .recalls
        .iter()
        .rev()
        .find(|(_, recall)| is_of(recall, profile, lot.as_deref()));
    let found = affected(asked.state, profile, lot.as_deref());
    if let Some((_, recall)) = known {
        let mut message = Message::text(progress(asked.state, asked.lang, recall, |tag| {
            asked.with_bed(tag)
        }));
        // One that is over may come again: the maker found something new.
        if recall.open.is_empty() && !found.is_empty() && may(asked, Right::Supervise) {
            message = message.buttons(vec![pull_button(asked, &found, lot.is_some())]);
        }
        return Ok(Decision::private(message));
    }
    preview(asked, profile, lot.as_deref(), &found, None)
}

/// What a recall would pull, before it does.
fn preview(
    asked: &Asked<'_>,
    profile: &ProfileName,
    lot: Option<&str>,
    found: &[&Tag],
    said: Option<String>,
) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let what = what_words(lang, profile, lot);
    if found.is_empty() {
        return Err(Refusal::new("fault-recall-none").text("what", what));
    }
    let mut lines: Vec<String> = said.into_iter().collect();
    lines.push(say!(
        lang,
        "recall-preview",
        what = what,
        count = found.len() as i64
    ));
    let by_unit = under_by_unit(asked.state, found);
    if by_unit.is_empty() {
        lines.push(say!(lang, "recall-under-none"));
    } else {
        let under: usize = by_unit.values().map(Vec::len).sum();
        lines.push(say!(lang, "recall-under", count = under as i64));
        for (unit, tags) in by_unit {
            let names: Vec<String> = tags.iter().map(|tag| asked.with_bed(tag)).collect();
            lines.push(say!(
                lang,
                "recall-unit",
                unit = unit.map_or("-", Unit::as_str),
                tags = listed(lang, names)
            ));
        }
    }
    if !may(asked, Right::Supervise) {
        lines.push(say!(lang, "recall-supervisors-pull"));
        return Ok(Decision::private(Message::text(lines.join("\n"))));
    }
    lines.push(say!(lang, "recall-preview-foot"));
    let message =
        Message::text(lines.join("\n")).buttons(vec![pull_button(asked, found, lot.is_some())]);
    Ok(Decision::private(message))
}

fn pull_button(asked: &Asked<'_>, found: &[&Tag], lot: bool) -> Button {
    let tap = Turn::RecallAll {
        tag: found
            .first()
            .map_or_else(|| Tag::from(""), |tag| (*tag).clone()),
        lot,
        found: sum(found),
    };
    Button {
        id: Tap::Turn(tap).id(),
        label: say!(asked.lang, "button-recall", count = found.len() as i64),
        look: Look::Caution,
    }
}

/// "Pull all": every surface that was shown, and no other.
pub(super) fn pull_all(
    asked: &Asked<'_>,
    tag: &Tag,
    lot: bool,
    seen: u32,
) -> Result<Decision, Refusal> {
    let (_, surface) = asked.surface(tag.as_str())?;
    let (state, lang) = (asked.state, asked.lang);
    let profile = &surface.profile;
    let lot = if lot {
        Some(
            surface
                .lot
                .clone()
                .ok_or_else(|| Refusal::new("fault-stale-tap"))?,
        )
    } else {
        None
    };
    let found = affected(state, profile, lot.as_deref());
    let open = state
        .recalls
        .values()
        .find(|recall| recall.profile == *profile && recall.lot == lot && !recall.open.is_empty());
    if let Some(recall) = open {
        let said = say!(lang, "recall-already");
        let text = progress(state, lang, recall, |tag| asked.with_bed(tag));
        return Ok(Decision::private(Message::text(format!("{said}\n{text}"))));
    }
    if sum(&found) != seen {
        let said = say!(lang, "recall-changed");
        return preview(asked, profile, lot.as_deref(), &found, Some(said));
    }
    let mut draft = asked.draft();
    let record = draft.fact(Body::RecallOpened {
        profile: profile.clone(),
        lot: lot.clone(),
        tags: found.iter().map(|tag| (*tag).clone()).collect(),
    });
    let no = RecallNo(record.0);
    for tag in &found {
        pull_quietly(asked, &mut draft, tag);
    }
    draft.fact(Body::Booked {
        on: On::Recall(no),
        call: Call::Recall,
        due: asked.now + remind_again(asked.state),
    });
    tell(
        asked,
        &mut draft,
        no,
        &what_words(state.lang(), profile, lot.as_deref()),
        &found,
    );
    let under = under_by_unit(state, &found)
        .values()
        .map(Vec::len)
        .sum::<usize>();
    let mut text = say!(
        lang,
        "recall-pulled",
        count = found.len() as i64,
        under = under as i64
    );
    text.push('\n');
    text.push_str(&match asked.facility.roles.get(&Role::Upkeep) {
        Some(_) => say!(
            lang,
            "recall-told",
            channel = channel(asked.facility.upkeep_reads())
        ),
        None => say!(lang, "recall-told-no-upkeep"),
    });
    Ok(draft.answer(Answer::Replace(Message::text(text))))
}

/// Out of service without an alarm and a ladder for each: dozens of alarms at once would call everybody everywhere and
/// help nobody. A recalled surface still works; the recall is told once to each unit and chased as one until it is over.
fn pull_quietly(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag) {
    let Some(surface) = asked.state.surfaces.get(tag) else {
        return;
    };
    if matches!(surface.life, Life::OutOfService { .. }) {
        return;
    }
    draft.fact(Body::Pulled {
        tag: tag.clone(),
        fault: Fault::Recall,
    });
    if let Some(no) = surface.alarm
        && let Some(open) = asked.state.alarms.get(&no)
    {
        if surface.bed().is_some() {
            alarm::edit_pulled(asked, draft, no, open, Some(Fault::Recall));
        } else {
            alarm::end(
                asked,
                draft,
                no,
                open,
                crate::record::AlarmEnd::OutOfService,
            );
        }
    }
}

/// One post for each channel where residents lie on recalled surfaces, one for supervisors, and one where upkeep reads.
fn tell(asked: &Asked<'_>, draft: &mut Draft, no: RecallNo, what: &str, found: &[&Tag]) {
    let (state, facility) = (asked.state, asked.facility);
    let lang = state.lang();
    let mut channels: BTreeMap<Channel, Vec<String>> = BTreeMap::new();
    for (unit, tags) in under_by_unit(state, found) {
        let channel = unit_channel(state, facility, unit);
        let names = tags.iter().map(|tag| in_post(state, lang, tag));
        channels.entry(channel).or_default().extend(names);
    }
    for (channel, names) in &channels {
        let text = say!(
            lang,
            "post-recall-unit",
            what = what,
            tags = listed(lang, names.clone())
        );
        let asks = asking::in_channel(state, facility, *channel, &[Role::Nurse], asked.now);
        let asks = asks.by(asked.ask.who);
        let post = (format!("recall:{no}:{channel}"), *channel, Lane::Escalation);
        draft.ask(facility, On::Recall(no), &asks, post, Message::text(text));
    }
    let under: Vec<String> = channels.into_values().flatten().collect();
    let text = say!(
        lang,
        "post-recall",
        what = what,
        count = found.len() as i64,
        who = person(asked.ask.who),
        under = under_words(lang, under)
    );
    let mut posts = vec![("all", facility.supervisor_channel, vec![Role::Supervisor])];
    if facility.upkeep_reads() == facility.supervisor_channel {
        posts[0].2.push(Role::Upkeep);
    } else if facility.roles.contains_key(&Role::Upkeep) {
        posts.push(("upkeep", facility.upkeep_reads(), vec![Role::Upkeep]));
    }
    for (whose, channel, roles) in posts {
        let asks = asking::safety(state, None, &roles, asked.now).by(asked.ask.who);
        let post = (format!("recall:{no}:{whose}"), channel, Lane::Reminder);
        let message = Message::text(text.clone());
        draft.ask(facility, On::Recall(no), &asks, post, message);
    }
}

/// A surface that has just come into the register joins the recalls of its profile and lot, those that are over too, and
/// is pulled. Says whether it did.
pub(super) fn join(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    profile: &ProfileName,
    lot: Option<&str>,
) -> bool {
    let of = asked.state.recalls.iter().rev().find(|(_, recall)| {
        recall.profile == *profile
            && recall
                .lot
                .as_deref()
                .is_none_or(|of| lot.is_some_and(|lot| fold(lot) == fold(of)))
    });
    let Some((no, _)) = of else {
        return false;
    };
    draft.fact(Body::RecallJoined {
        recall: *no,
        tag: tag.clone(),
    });
    draft.fact(Body::Pulled {
        tag: tag.clone(),
        fault: Fault::Recall,
    });
    let (on, call) = (On::Recall(*no), Call::Recall);
    if asked.state.booking(&on, call).is_none() {
        let due = asked.now + remind_again(asked.state);
        draft.fact(Body::Booked { on, call, due });
    }
    true
}

/// What came into the register under a bed and joined a recall: each unit is told of its own, as for the others.
pub(super) fn tell_joined(asked: &Asked<'_>, draft: &mut Draft) {
    let (state, facility) = (asked.state, asked.facility);
    let lang = state.lang();
    let entries = &draft.decision.entries;
    let bed_of = |joined: &Tag| {
        entries.iter().find_map(|entry| {
            let Body::Placed { tag, bed, .. } = &entry.body else {
                return None;
            };
            (tag == joined).then_some(bed)
        })
    };
    let mut units: BTreeMap<(RecallNo, Channel), Vec<String>> = BTreeMap::new();
    for entry in entries {
        if let Body::RecallJoined { recall, tag } = &entry.body
            && let Some(bed) = bed_of(tag)
        {
            let channel = unit_channel(state, facility, state.bed_units.get(bed));
            let names = units.entry((*recall, channel)).or_default();
            names.push(tag.to_string());
        }
    }
    let first = draft.first();
    for ((no, channel), names) in units {
        let Some(recall) = state.recalls.get(&no) else {
            continue;
        };
        let text = say!(
            lang,
            "post-recall-unit",
            what = what_words(lang, &recall.profile, recall.lot.as_deref()),
            tags = listed(lang, names)
        );
        let asks = asking::in_channel(state, facility, channel, &[Role::Nurse], asked.now);
        let asks = asks.by(asked.ask.who);
        let post = (
            format!("recall:{no}:{channel}:{first}"),
            channel,
            Lane::Escalation,
        );
        draft.ask(facility, On::Recall(no), &asks, post, Message::text(text));
    }
}

/// Where each surface of a recall is, to its end.
fn progress(state: &State, lang: Lang, recall: &Recall, name: impl Fn(&Tag) -> String) -> String {
    let mut lines = vec![say!(
        lang,
        "recall-head",
        what = what_words(lang, &recall.profile, recall.lot.as_deref()),
        since = day_time(recall.since),
        open = recall.open.len() as i64,
        all = recall.all.len() as i64
    )];
    let mut groups: BTreeMap<Place, Vec<&Tag>> = BTreeMap::new();
    for tag in &recall.all {
        if let Some(surface) = state.surfaces.get(tag) {
            let place = place(surface, recall.open.contains(tag));
            groups.entry(place).or_default().push(tag);
        }
    }
    for (place, tags) in groups {
        let names = |tags: &[&Tag]| listed(lang, tags.iter().map(|tag| name(tag)).collect());
        let these = match place {
            // Who has to bring another surface reads where.
            Place::Under => under_by_unit(state, &tags)
                .into_iter()
                .map(|(unit, tags)| {
                    let unit = unit.map_or("-", Unit::as_str);
                    say!(lang, "recall-by-unit", unit = unit, tags = names(&tags))
                })
                .collect::<Vec<_>>()
                .join(" · "),
            Place::Held
            | Place::Waits
            | Place::Corrected
            | Place::Turnover
            | Place::Ready
            | Place::Retired => names(&tags),
        };
        lines.push(say!(
            lang,
            place_key(place),
            count = tags.len() as i64,
            tags = these
        ));
    }
    if recall.open.is_empty() {
        lines.push(say!(lang, "recall-over"));
    }
    lines.join("\n")
}

/// How far a recalled surface is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    Under,
    Held,
    Waits,
    Corrected,
    Turnover,
    Ready,
    Retired,
}

fn place(surface: &Surface, open: bool) -> Place {
    match &surface.life {
        Life::Retired { .. } => Place::Retired,
        _ if !open => Place::Ready,
        Life::OutOfService { under: Some(_), .. } | Life::Placed { .. } => Place::Under,
        Life::OutOfService { under: None, .. } if surface.hold.is_some() => Place::Held,
        Life::OutOfService { under: None, .. } if surface.repaired.is_some() => Place::Corrected,
        Life::OutOfService { under: None, .. } => Place::Waits,
        Life::Soiled(_) | Life::Ready { .. } => Place::Turnover,
    }
}

fn place_key(place: Place) -> &'static str {
    match place {
        Place::Under => "recall-is-under",
        Place::Held => "recall-is-held",
        Place::Waits => "recall-is-waiting",
        Place::Corrected => "recall-is-corrected",
        Place::Turnover => "recall-is-in-turnover",
        Place::Ready => "recall-is-ready",
        Place::Retired => "recall-is-retired",
    }
}

/// What the daily call about a recall says.
pub(super) fn notice(state: &State, facility: &Facility, no: RecallNo) -> Option<Notice> {
    let recall = state.recalls.get(&no)?;
    if recall.open.is_empty() {
        return None;
    }
    let lang = state.lang();
    let text = progress(state, lang, recall, |tag| in_post(state, lang, tag));
    Some(Notice {
        channel: facility.supervisor_channel,
        message: Message::text(text),
    })
}

/// Whether a recall is of this profile and lot, however the lot is written.
fn is_of(recall: &Recall, profile: &ProfileName, lot: Option<&str>) -> bool {
    recall.profile == *profile && recall.lot.as_deref().map(fold) == lot.map(fold)
}

/// The surfaces of a profile, or of one lot of it, that are still in the register.
fn affected<'a>(state: &'a State, profile: &ProfileName, lot: Option<&str>) -> Vec<&'a Tag> {
    state
        .surfaces
        .iter()
        .filter(|(_, surface)| surface.profile == *profile)
        .filter(|(_, surface)| !matches!(surface.life, Life::Retired { .. }))
        .filter(|(_, surface)| {
            lot.is_none_or(|lot| {
                surface
                    .lot
                    .as_deref()
                    .is_some_and(|of| fold(of) == fold(lot))
            })
        })
        .map(|(tag, _)| tag)
        .collect()
}

/// A list of tags as one number, so that a button can say which it showed (FNV-1a, 32 bits).
fn sum(tags: &[&Tag]) -> u32 {
    tags.iter()
        .flat_map(|tag| tag.as_str().bytes().chain([b'|']))
        .fold(0x811c_9dc5_u32, |sum, byte| {
            (sum ^ u32::from(byte)).wrapping_mul(0x0100_0193)
        })
}

fn under_by_unit<'a>(
    state: &'a State,
    tags: &[&'a Tag],
) -> BTreeMap<Option<&'a Unit>, Vec<&'a Tag>> {
    let mut units: BTreeMap<Option<&Unit>, Vec<&Tag>> = BTreeMap::new();
    for tag in tags {
        if state
            .surfaces
            .get(*tag)
            .is_some_and(|surface| surface.bed().is_some())
        {
            units.entry(state.unit_of(tag)).or_default().push(tag);
        }
    }
    units
}

fn under_words(lang: Lang, names: Vec<String>) -> String {
    if names.is_empty() {
        say!(lang, "recall-under-none")
    } else {
        say!(lang, "recall-still-under", tags = listed(lang, names))
    }
}

fn what_words(lang: Lang, profile: &ProfileName, lot: Option<&str>) -> String {
    let profile = super::check::escaped(profile.as_str());
    match lot {
        Some(lot) => {
            let lot = super::check::escaped(lot);
            say!(lang, "recall-what-lot", profile = profile, lot = lot)
        }
        None => profile,
    }
}

/// Names with commas between them; of many, the first and how many more.
fn listed(lang: Lang, mut names: Vec<String>) -> String {
    let more = names.len().saturating_sub(TAGS_SHOWN);
    names.truncate(TAGS_SHOWN);
    let mut text = names.join(", ");
    if more > 0 {
        text.push_str(&say!(lang, "due-more", count = more as i64));
    }
    text
}

pub(super) fn find_profile<'a>(state: &'a State, typed: &str) -> Result<&'a ProfileName, Refusal> {
    let names = || state.profiles.keys().map(ProfileName::as_str);
    match nearest::find(typed, names()) {
        Match::One(name) => state
            .profiles
            .get_key_value(name)
            .map(|(name, _)| name)
            .ok_or_else(|| Refusal::new("fault-stale-tap")),
        Match::Several(near) | Match::Nearest(near) => {
            let near = if near.is_empty() {
                names().collect()
            } else {
                near
            };
            Err(Refusal::new("fault-no-profile")
                .text("typed", super::check::escaped(typed))
                .text("these", near.join(", ")))
        }
    }
}

/// The lots of a profile that the register knows.
pub(super) fn lots<'a>(state: &'a State, profile: &str) -> Vec<&'a str> {
    let mut lots: Vec<&str> = state
        .surfaces
        .values()
        .filter(|surface| fold(surface.profile.as_str()) == fold(profile))
        .filter_map(|surface| surface.lot.as_deref())
        .collect();
    lots.sort_unstable();
    lots.dedup();
    lots
}

fn find_lot(state: &State, profile: &ProfileName, typed: &str) -> Result<String, Refusal> {
    let all = lots(state, profile.as_str());
    match nearest::find(typed, all.iter().copied()) {
        Match::One(lot) => Ok(lot.to_owned()),
        // Two ways of writing one lot are both found by either.
        Match::Several(same) => Ok(same
            .first()
            .map_or_else(|| typed.to_owned(), |lot| (*lot).to_owned())),
        Match::Nearest(_) if all.is_empty() => {
            Err(Refusal::new("fault-no-lots").text("profile", profile))
        }
        Match::Nearest(near) => {
            let near = if near.is_empty() { all } else { near };
            let near: Vec<String> = near.into_iter().map(super::check::escaped).collect();
            Err(Refusal::new("fault-no-lot")
                .text("typed", super::check::escaped(typed))
                .text("these", near.join(", ")))
        }
    }
}
