//! One entry of the log: how it reads, how it read before, who said so and why. Decides who may sign it beside its author;
//! leaves correcting it to `amend`, and
//! erasing a note to `erase`.

pub(super) mod erase;

use super::amend::{in_short, remark};
use super::check::{escaped, quoted};
use super::draft::{Asked, button, day_time, person, with_bed};
use super::pictures;
use super::timeline;
use super::timeline::line::{Pen, changes, words};
use crate::decision::Decision;
use crate::ids::RecordNo;
use crate::message::{Answer, Button, Choice, Look, Message};
use crate::past::{self, Entry, Past, Wanted};
use crate::record::{Body, Record};
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::authorize;
use crate::said::Ask;
use crate::say;
use crate::state::State;
use crate::tap;
use crate::tap::Tap;
use crate::words::Lang;

/// A tap about what is in the log.
pub(super) fn tapped(asked: &Asked<'_>, tap: tap::Entry) -> Result<Decision, Refusal> {
    match tap {
        tap::Entry::Page { line, upto, skip } => timeline::page(asked, &line, upto, skip),
        tap::Entry::Corrections { line } => timeline::corrections(asked, &line),
        tap::Entry::Look { entry } => look(asked, entry),
        tap::Entry::Readings { tag } => pictures::readings(asked, tag.as_str()),
        tap::Entry::Alarm { tag, of } => pictures::alarm(asked, tag.as_str(), of),
        tap::Entry::Sign { entry, seen } => sign(asked, entry, seen),
        tap::Entry::Erase { entry, of } => erase::ask(asked, entry, of),
        tap::Entry::EraseSure { entry, of } => erase::sure(asked, entry, of),
        tap::Entry::Meant { remark, entry, air } => remark::meant(asked, remark, entry, air),
        tap::Entry::Unremark { remark, entry } => remark::take_back(asked, remark, entry),
    }
}

/// The entry of this number, and what was read about it.
fn read<'a>(asked: &Asked<'a>, no: RecordNo) -> Result<Option<&'a [Record]>, Refusal> {
    let Some(read) = asked.past.get(&Wanted::Entry(no)) else {
        return Ok(None);
    };
    if !read.iter().any(|record| record.no == no) {
        return Err(Refusal::new("fault-entry-none").text("entry", no));
    }
    Ok(Some(read))
}

fn look(asked: &Asked<'_>, no: RecordNo) -> Result<Decision, Refusal> {
    let Some(read) = read(asked, no)? else {
        return Ok(Decision::wanting(Wanted::Entry(no)));
    };
    let entries = past::entries(read);
    let Some(entry) = entries.iter().find(|entry| entry.record.no == no) else {
        // A correction or a remark: what it is about is looked at.
        let of = read.iter().find(|record| record.no == no);
        return match of.and_then(|record| record.body.amends()) {
            Some(of) => look(asked, of),
            None => Err(Refusal::new("fault-entry-none").text("entry", no)),
        };
    };
    Ok(Decision::private(shown(asked, entry)))
}

/// An entry with its trail.
fn shown(asked: &Asked<'_>, entry: &Entry<'_>) -> Message {
    let lang = asked.lang;
    let record = entry.record;
    let body = entry.body.unwrap_or(&record.body);
    let mut lines = vec![say!(
        lang,
        "entry-head",
        entry = record.no.to_string(),
        surface = body
            .surface()
            .map_or_else(String::new, |tag| asked.with_bed(tag)),
        what = match entry.counts() {
            Some(body) => words(Pen::chat(lang), body),
            None => format!("~~{}~~", words(Pen::chat(lang), body)),
        }
    )];
    lines.push(say!(
        lang,
        "entry-by",
        who = record.who.map_or_else(|| "loftwatch".to_owned(), person),
        at = day_time(entry.at)
    ));
    if record.entered != record.at {
        lines.push(say!(lang, "entry-entered", at = day_time(record.entered)));
    }
    lines.extend(
        record
            .note
            .as_deref()
            .map(|note| quoted(note).trim_start().to_owned()),
    );
    lines.extend(trail(asked, entry));
    let own = record.who == Some(asked.ask.who);
    if own && entry.taken_back.is_none() && record.body.can_be_corrected() {
        lines.push(say!(lang, "entry-correct"));
    }
    let sign = sign_button(asked, entry, entry.newest());
    let mut text = lines.join("\n");
    timeline::cut(&mut text);
    let message = Message::text(text).buttons(sign.into_iter().collect());
    match erase::buttons(asked, entry) {
        none if none.is_empty() => message,
        some => message.buttons(some),
    }
}

/// A line with the number of the entry that it is about, in a small way: what `/amend` is told.
pub(super) fn numbered(lang: Lang, line: &str, entry: RecordNo) -> String {
    say!(
        lang,
        "entry-numbered",
        line = line,
        entry = entry.to_string()
    )
}

/// What was said about an entry later, in order: what read otherwise before, why, and by whom.
pub(super) fn trail(asked: &Asked<'_>, entry: &Entry<'_>) -> Vec<String> {
    let lang = asked.lang;
    let mut later: Vec<&Record> = entry
        .amended
        .iter()
        .chain(&entry.remarks)
        .copied()
        .collect();
    later.extend(entry.taken_back);
    later.sort_by_key(|record| record.no);
    let reason = |record: &Record| {
        record
            .note
            .as_deref()
            .map_or_else(|| say!(lang, "entry-no-reason"), escaped)
    };
    let mut lines = Vec::new();
    for record in later {
        let who = record.who.map_or_else(|| "loftwatch".to_owned(), person);
        let at = day_time(record.at);
        if let Body::Amended { now, happened, .. } = &record.body {
            let place = entry.amended.iter().position(|one| one.no == record.no);
            let back = entry.amended.len() - 1 - place.unwrap_or_default();
            let now = (now.as_deref(), *happened);
            let differs = changes(Pen::chat(lang), entry.before(back), now);
            let what: Vec<String> = differs
                .iter()
                .map(|change| format!("{} ~~{}~~ {}", change.label, change.old, change.new))
                .collect();
            lines.push(say!(
                lang,
                "entry-amended",
                what = what.join("; "),
                who = who,
                at = at,
                reason = reason(record)
            ));
        } else if let Body::Annotated {
            undoes: Some(_), ..
        } = &record.body
        {
            lines.push(say!(lang, "entry-unremarked", who = who, at = at));
        } else if let Body::Annotated { .. } = &record.body {
            let mut reason = reason(record);
            if entry.unremarked(record.no) {
                reason = format!("~~{reason}~~");
            }
            lines.push(say!(
                lang,
                "entry-annotated",
                who = who,
                at = at,
                reason = reason
            ));
        } else if let Body::Countersigned { .. } = &record.body {
            lines.push(say!(lang, "entry-signed", who = who, at = at));
        } else {
            lines.push(say!(lang, "entry-taken-back", who = who, at = at));
        }
    }
    lines
}

/// The button to sign an entry, for a supervisor who did not make it and has not signed what it reads now.
pub(super) fn sign_button(asked: &Asked<'_>, entry: &Entry<'_>, seen: RecordNo) -> Option<Button> {
    let may = authorize(asked.state, asked.ask, Right::Countersign).is_ok();
    let theirs = entry.record.who.is_some_and(|who| who != asked.ask.who);
    (may && theirs && entry.taken_back.is_none() && !signed(entry, asked.ask.who)).then(|| {
        let tap = Tap::Entry(tap::Entry::Sign {
            entry: entry.record.no,
            seen,
        });
        button(asked.lang, "button-countersign", Look::Main, &tap)
    })
}

/// Whether somebody has signed an entry since it was last corrected.
fn signed(entry: &Entry<'_>, who: crate::ids::Person) -> bool {
    let corrected = entry.amended.last().map_or(RecordNo(0), |record| record.no);
    entry.remarks.iter().any(|record| {
        matches!(record.body, Body::Countersigned { .. })
            && record.who == Some(who)
            && record.no > corrected
    })
}

fn sign(asked: &Asked<'_>, no: RecordNo, seen: RecordNo) -> Result<Decision, Refusal> {
    let Some(read) = read(asked, no)? else {
        return Ok(Decision::wanting(Wanted::Entry(no)));
    };
    let entries = past::entries(read);
    let Some(entry) = entries.iter().find(|entry| entry.record.no == no) else {
        return Err(Refusal::new("fault-stale-tap"));
    };
    if entry.record.who.is_none_or(|who| who == asked.ask.who) {
        return Err(Refusal::new("fault-sign-own").text("entry", no));
    }
    if entry.taken_back.is_some() {
        return Err(Refusal::new("fault-amend-taken-back").text("entry", no));
    }
    if signed(entry, asked.ask.who) {
        return Err(Refusal::new("fault-sign-already").text("entry", no));
    }
    // What was shown is what is signed.
    let corrected = entry.amended.last().map_or(no, |record| record.no);
    if corrected > seen {
        let mut message = shown(asked, entry);
        message.text = format!("{}\n\n{}", say!(asked.lang, "entry-newer"), message.text);
        return Ok(Decision::private(message));
    }
    let body = entry.body.unwrap_or(&entry.record.body);
    let mut draft = asked.draft();
    draft.fact(Body::Countersigned {
        entry: no,
        tag: body.surface().cloned(),
        seen,
    });
    let text = say!(
        asked.lang,
        "entry-signed-now",
        entry = no.to_string(),
        what = words(Pen::chat(asked.lang), body)
    );
    Ok(draft.answer(Answer::Private(Message::text(text))))
}

/// The asker's newest entries that they can correct, as suggestions: the number, the surface, what it says, and when.
///
/// # Errors
/// They must be read first.
pub(super) fn own(
    state: &State,
    ask: &Ask,
    past: &Past,
    typed: &str,
) -> Result<Vec<Choice>, Wanted> {
    let wanted = Wanted::Own(ask.who);
    let Some(read) = past.get(&wanted) else {
        return Err(wanted);
    };
    let entries = past::entries(read);
    let lang = ask.lang;
    let time = |at: chrono::DateTime<chrono::Utc>| {
        let zone = state.facility.as_ref().map(|home| &home.zone);
        zone.map_or_else(String::new, |zone| {
            let (then, today) = (zone.local(at), zone.local(ask.at).date());
            let shape = if then.date() == today {
                "%H:%M"
            } else {
                "%Y-%m-%d %H:%M"
            };
            then.format(shape).to_string()
        })
    };
    let wanted = typed.trim();
    Ok(entries
        .iter()
        .rev()
        .filter(|entry| entry.taken_back.is_none() && entry.record.body.can_be_corrected())
        .filter(|entry| entry.record.who == Some(ask.who))
        .map(|entry| {
            let body = entry.body.unwrap_or(&entry.record.body);
            let label = say!(
                lang,
                "suggest-entry",
                entry = entry.record.no.to_string(),
                tag = body
                    .surface()
                    .map_or_else(String::new, |tag| with_bed(state, lang, tag)),
                what = match entry.body {
                    Some(body) => in_short(lang, body),
                    None => say!(lang, "line-struck"),
                },
                at = time(entry.at)
            );
            Choice {
                label,
                value: entry.record.no.to_string(),
            }
        })
        .filter(|choice| wanted.is_empty() || choice.label.contains(wanted))
        .collect())
}
