//! Erasing a note that holds what it should not, such as somebody's name. Decides who may, that it is asked first, and that
//! the erasing is a record of its own: the entry stays and still verifies. Leaves taking the text out of the file to `store`.

use chrono::{DateTime, Utc};

use super::super::alarm;
use super::super::check::quoted;
use super::super::draft::{Asked, button, day_time, person};
use super::super::{timeline, wish};
use super::read;
use crate::decision::Decision;
use crate::ids::RecordNo;
use crate::message::{Answer, BUTTONS_MAX, Button, Look, Message};
use crate::past::{self, Entry, Wanted};
use crate::record::{Body, Record};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::authorize;
use crate::say;
use crate::tap::{self, Tap};

/// A button for each note of an entry and of what was said about it, for whoever may.
pub(super) fn buttons(asked: &Asked<'_>, entry: &Entry<'_>) -> Vec<Button> {
    if authorize(asked.state, asked.ask, Right::Countersign).is_err() {
        return Vec::new();
    }
    let no = entry.record.no;
    let mut buttons: Vec<Button> = Vec::new();
    let mut noted: Vec<&Record> = with_notes(entry).collect();
    noted.sort_by_key(|record| record.no);
    for record in noted.into_iter().take(BUTTONS_MAX) {
        let tap = tap::Entry::Erase {
            entry: no,
            of: record.no,
        };
        let at = moment(asked, record.entered);
        let key = if record.no == no {
            "button-erase-note"
        } else if entry.remarks.iter().any(|remark| remark.no == record.no) {
            "button-erase-remark"
        } else {
            "button-erase-reason"
        };
        let mut label = say!(asked.lang, key, at = at);
        // Those of one minute stand in the order in which they were written, as above.
        let same = buttons
            .iter()
            .filter(|other| other.label.starts_with(&label));
        let before = same.count();
        if before > 0 {
            label = format!("{label} ({})", before + 1);
        }
        buttons.push(Button {
            id: Tap::Entry(tap).id(),
            label,
            look: Look::Plain,
        });
    }
    buttons
}

/// The button under a card of the supervisors' channel that shows the reason of what is declined at this moment: such a
/// record is on no timeline.
pub(in crate::decide) fn reason_button(asked: &Asked<'_>, no: RecordNo) -> Button {
    let tap = Tap::Entry(tap::Entry::Erase { entry: no, of: no });
    let at = moment(asked, asked.now);
    Button {
        id: tap.id(),
        label: say!(asked.state.lang(), "button-erase-reason", at = at),
        look: Look::Plain,
    }
}

/// When something was written, on a button: the home's own clock. The card above it has the day.
fn moment(asked: &Asked<'_>, at: DateTime<Utc>) -> String {
    let then = asked.facility.zone.local(at);
    then.format("%H:%M").to_string()
}

/// The records of an entry beside which something is written.
fn with_notes<'e, 'a>(entry: &'e Entry<'a>) -> impl Iterator<Item = &'a Record> + use<'e, 'a> {
    std::iter::once(entry.record)
        .chain(entry.amended.iter().copied())
        .chain(entry.remarks.iter().copied())
        .filter(|record| record.note.is_some())
}

/// What is asked about, if its note is there still.
fn found<'a>(
    asked: &Asked<'a>,
    no: RecordNo,
    of: RecordNo,
) -> Result<Option<(&'a Record, &'a Record)>, Refusal> {
    let Some(read) = read(asked, no)? else {
        return Ok(None);
    };
    let entries = past::entries(read);
    let gone = || Refusal::new("fault-note-gone").text("entry", of);
    let entry = entries
        .iter()
        .find(|entry| entry.record.no == no)
        .ok_or_else(gone)?;
    let record = with_notes(entry)
        .find(|record| record.no == of)
        .ok_or_else(gone)?;
    Ok(Some((entry.record, record)))
}

/// "Erase the note": what that does, before it does.
pub(super) fn ask(asked: &Asked<'_>, no: RecordNo, of: RecordNo) -> Result<Decision, Refusal> {
    let Some((_, record)) = found(asked, no, of)? else {
        return Ok(Decision::wanting(Wanted::Entry(no)));
    };
    let tap = tap::Entry::EraseSure { entry: no, of };
    let yes = button(
        asked.lang,
        "button-erase-sure",
        Look::Caution,
        &Tap::Entry(tap),
    );
    // Which words they are is seen by whoever erases them, and by nobody else.
    let words = record.note.as_deref().map_or_else(String::new, quoted);
    let by = say!(
        asked.lang,
        "erase-written",
        who = record.who.map_or_else(|| "loftwatch".to_owned(), person),
        at = day_time(record.entered)
    );
    let ask = say!(asked.lang, "erase-ask", entry = of.to_string());
    let mut text = format!("{by}{words}\n{ask}");
    timeline::cut(&mut text);
    Ok(Decision {
        answer: Some(Answer::Private(Message::text(text).buttons(vec![yes]))),
        ..Decision::default()
    })
}

/// Yes.
pub(super) fn sure(asked: &Asked<'_>, no: RecordNo, of: RecordNo) -> Result<Decision, Refusal> {
    let Some((entry, record)) = found(asked, no, of)? else {
        return Ok(Decision::wanting(Wanted::Entry(no)));
    };
    let mut draft = asked.draft();
    draft.fact(Body::NoteErased {
        of,
        first: record.first,
        tag: entry.body.surface().cloned(),
    });
    // A card in the chat that shows it is written anew without it.
    let surface = entry.body.surface();
    for (alarm, open) in asked.state.noted(of, record.first, surface) {
        let mut without = open.clone();
        without.note = None;
        alarm::edit(
            asked.state,
            asked.facility,
            &mut draft,
            alarm,
            &without,
            None,
        );
    }
    if let Body::WishEnded { wish, .. } = record.body
        && wish::without_reason(asked, &mut draft, wish, record).is_none()
    {
        return Ok(Decision::wanting(Wanted::Entry(wish)));
    }
    let text = say!(asked.lang, "note-erased", entry = of.to_string());
    Ok(draft.answer(Answer::Replace(Message::text(text))))
}
