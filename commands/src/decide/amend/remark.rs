//! Remarks: what is said beside an entry, which reads as before. Decides that a reading in a reason is asked about, since
//! whoever typed it may have meant to correct the entry, and until when a remark can be taken back.

use chrono::TimeDelta;

use super::super::draft::{Asked, button};
use super::super::entry::sign_button;
use super::super::timeline::line::{Pen, words};
use super::{amend_no, meant as entry_of};
use crate::decision::Decision;
use crate::ids::RecordNo;
use crate::message::{Button, Look, Message};
use crate::past::{self, Entry, Wanted};
use crate::record::{Body, Record};
use crate::refusal::Refusal;
use crate::request::Amend;
use crate::rules::air::{Tenths, Units, show};
use crate::rules::air_in_text::readings;
use crate::rules::hand_check::Air;
use crate::rules::policy::Name;
use crate::say;
use crate::tap::{self, Tap};

/// The remark is a fact beside the entry, which reads as before.
pub(super) fn annotate(asked: &Asked<'_>, entry: &Entry<'_>, reason: Option<String>) -> Decision {
    let lang = asked.lang;
    let mut draft = asked.draft();
    let no = entry.record.no;
    let now = entry.body.unwrap_or(&entry.record.body);
    let tag = now.surface().cloned();
    let airs = airs_meant(asked, entry, reason.as_deref());
    let body = Body::Annotated {
        entry: no,
        tag,
        undoes: None,
    };
    let remark = draft.fact_at(asked.now, body, reason);
    let what = words(Pen::chat(lang), now);
    let mut text = say!(lang, "amend-annotated", entry = no.to_string(), what = what);
    let mut buttons: Vec<Button> = Vec::new();
    if !airs.is_empty() {
        text.push('\n');
        text.push_str(&say!(lang, "amend-air-meant", entry = no.to_string()));
    }
    for air in airs {
        let tap = tap::Entry::Meant {
            remark,
            entry: no,
            air,
        };
        buttons.push(Button {
            id: Tap::Entry(tap).id(),
            label: say!(lang, "button-air-meant", air = show(air, Units::Inches)),
            look: Look::Main,
        });
    }
    buttons.extend(sign_button(asked, entry, remark));
    let back = tap::Entry::Unremark { remark, entry: no };
    buttons.push(button(
        lang,
        "button-take-back",
        Look::Plain,
        &Tap::Entry(back),
    ));
    draft.private(Message::text(text).buttons(buttons))
}

/// The readings in a reason that an own check does not have.
fn airs_meant(asked: &Asked<'_>, entry: &Entry<'_>, reason: Option<&str>) -> Vec<Tenths> {
    let Some(Body::HandChecked { air, .. }) = entry.counts() else {
        return Vec::new();
    };
    if entry.record.who != Some(asked.ask.who) {
        return Vec::new();
    }
    let mut all = readings(reason.unwrap_or_default());
    all.retain(|read| Air::Measured(*read) != *air);
    all
}

/// An entry with its remark of this number, as they were read.
fn find<'e, 'a>(
    entries: &'e [Entry<'a>],
    entry: RecordNo,
    remark: RecordNo,
) -> Option<(&'e Entry<'a>, &'a Record)> {
    let entry = entry_of(entries, entry, false)?;
    let found = entry.remarks.iter().find(|record| record.no == remark)?;
    Some((entry, found))
}

/// A remark of whoever asks, and its entry.
fn own<'e, 'a>(
    asked: &Asked<'_>,
    entries: &'e [Entry<'a>],
    no: RecordNo,
    remark: RecordNo,
) -> Result<(&'e Entry<'a>, &'a Record), Refusal> {
    let stale = || Refusal::new("fault-stale-tap");
    let (entry, said) = find(entries, no, remark).ok_or_else(stale)?;
    if said.who != Some(asked.ask.who) {
        return Err(Refusal::new("fault-take-back-other"));
    }
    Ok((entry, said))
}

/// "The reading was that": the entry is corrected, with the remark as its reason.
pub(in crate::decide) fn meant(
    asked: &Asked<'_>,
    remark: RecordNo,
    no: RecordNo,
    air: Tenths,
) -> Result<Decision, Refusal> {
    let wanted = Wanted::Entry(no);
    let Some(read) = asked.past.get(&wanted) else {
        return Ok(Decision::wanting(wanted));
    };
    let entries = past::entries(read);
    let (entry, said) = own(asked, &entries, no, remark)?;
    // Corrected since, or the remark is gone: what the card asked is answered.
    if entry.unremarked(remark) || entry.amended.iter().any(|record| record.no > remark) {
        return Err(Refusal::new("fault-stale-tap"));
    }
    let typed = Amend {
        entry: no.to_string(),
        reason: said.note.clone().unwrap_or_default(),
        air: Some(Air::Measured(air)),
        setting: None,
        layers: None,
        position: None,
        mode: None,
        finding: None,
        action: None,
        method: None,
        cover: None,
        surface: None,
        when: None,
        strike: false,
    };
    amend_no(asked, no, &typed)
}

/// A remark is taken back by whoever made it, within the minutes that the home has for that. Both stay in the log.
pub(in crate::decide) fn take_back(
    asked: &Asked<'_>,
    remark: RecordNo,
    no: RecordNo,
) -> Result<Decision, Refusal> {
    let wanted = Wanted::Entry(no);
    let Some(read) = asked.past.get(&wanted) else {
        return Ok(Decision::wanting(wanted));
    };
    let entries = past::entries(read);
    let (entry, said) = own(asked, &entries, no, remark)?;
    if entry.unremarked(remark) {
        return Err(Refusal::new("fault-remark-gone").text("entry", no));
    }
    let minutes = asked.state.policies.get(Name::TakeBack);
    if asked.now - said.entered > TimeDelta::minutes(minutes) {
        return Err(Refusal::new("fault-remark-late").number("minutes", minutes));
    }
    let mut draft = asked.draft();
    let tag = entry.body.unwrap_or(&entry.record.body).surface().cloned();
    draft.fact(Body::Annotated {
        entry: no,
        tag,
        undoes: Some(remark),
    });
    let text = say!(asked.lang, "remark-taken-back", entry = no.to_string());
    Ok(draft.private(Message::text(text)))
}
