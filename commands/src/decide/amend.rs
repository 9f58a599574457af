//! Correcting what was entered. Decides who may say that an entry should have read otherwise, what can be said of which
//! kind of entry, and how it is judged; leaves what follows from it to `amend::after`. The entry stays as it was.

use chrono::{DateTime, Utc};

use super::check::{band_of, escaped, moment_before, show_air};
use super::clean;
use super::draft::{Asked, day_time};
use super::timeline::line::{Change, Pen, changes, words};
use crate::choice::{Action, Cleaning, FilterKind};
use crate::decision::Decision;
use crate::ids::{RecordNo, Tag};
use crate::message::Message;
use crate::past::{self, Entry, Wanted, bed_at, beds_of};
use crate::record::{Body, Record};
use crate::refusal::Refusal;
use crate::request::{Amend, Right};
use crate::role::authorize;
use crate::rules::hand_check::{Band, judge};
use crate::say;
use crate::words::Lang;

mod after;
pub(super) mod remark;

/// `/amend`.
pub(super) fn amend(asked: &Asked<'_>, typed: Amend) -> Result<Decision, Refusal> {
    if ["last", "última", "ultima"].contains(&typed.entry.trim().to_lowercase().as_str()) {
        let Some(own) = asked.past.get(&Wanted::Own(asked.ask.who)) else {
            return Ok(Decision::wanting(Wanted::Own(asked.ask.who)));
        };
        let entries = past::entries(own);
        let newest = entries.iter().rev().find(|entry| {
            let theirs = entry.record.who == Some(asked.ask.who);
            theirs && entry.taken_back.is_none() && entry.record.body.can_be_corrected()
        });
        let newest = newest.ok_or_else(|| Refusal::new("fault-entry-last"))?;
        if typed.strike {
            is_last(asked, own, newest)?;
        }
        return amend_no(asked, newest.record.no, &typed);
    }
    // A tag or a bed is no number: the writer's own entries about that surface are.
    if number(&typed.entry).is_err()
        && let Ok((tag, _)) = asked.surface(&typed.entry)
    {
        return own_about(asked, tag);
    }
    amend_no(asked, number(&typed.entry)?, &typed)
}

/// Whether "last" is what the writer did last: a step, a pull, a repair is no entry that can be struck, and the entry behind
/// it is not struck in its place. Which it was is then said by its number.
fn is_last(asked: &Asked<'_>, own: &[Record], newest: &Entry<'_>) -> Result<(), Refusal> {
    let who = asked.ask.who;
    let theirs = own.iter().filter(|record| record.who == Some(who));
    let Some(entered) = theirs.map(|record| record.entered).max() else {
        return Ok(());
    };
    let later = asked.state.surfaces.iter().find_map(|(tag, surface)| {
        let mark = surface.touched?;
        (mark.who == Some(who) && mark.at > entered).then_some((tag, mark.at))
    });
    let Some((tag, at)) = later else {
        return Ok(());
    };
    let body = newest.body.unwrap_or(&newest.record.body);
    let about = body
        .surface()
        .map_or_else(String::new, |tag| asked.with_bed(tag));
    Err(Refusal::new("fault-amend-last")
        .text("surface", asked.with_bed(tag))
        .text("at", super::draft::clock_time(at))
        .text("entry", newest.record.no)
        .text("what", words(Pen::chat(asked.lang), body))
        .text("about", about)
        .text("when", day_time(newest.at)))
}

/// The writer's newest entries about a surface, which one of them was meant.
fn own_about(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    const SHOWN: usize = 3;
    let Some(own) = asked.past.get(&Wanted::Own(asked.ask.who)) else {
        return Ok(Decision::wanting(Wanted::Own(asked.ask.who)));
    };
    let entries = past::entries(own);
    let theirs = entries.iter().rev().filter(|entry| {
        let body = entry.body.unwrap_or(&entry.record.body);
        entry.record.who == Some(asked.ask.who)
            && entry.taken_back.is_none()
            && entry.record.body.can_be_corrected()
            && body.surface() == Some(tag)
    });
    let lines: Vec<String> = theirs
        .take(SHOWN)
        .map(|entry| {
            let body = entry.body.unwrap_or(&entry.record.body);
            let what = words(Pen::chat(asked.lang), body);
            format!("- #{} · {what} · {}", entry.record.no, day_time(entry.at))
        })
        .collect();
    let surface = asked.with_bed(tag);
    if lines.is_empty() {
        return Err(Refusal::new("fault-entry-tag-none").text("surface", surface));
    }
    let head = say!(asked.lang, "amend-which", surface = surface);
    Ok(Decision::private(Message::text(format!(
        "{head}\n{}",
        lines.join("\n")
    ))))
}

fn amend_no(asked: &Asked<'_>, no: RecordNo, typed: &Amend) -> Result<Decision, Refusal> {
    let wanted = Wanted::Entry(no);
    let Some(read) = asked.past.get(&wanted) else {
        return Ok(Decision::wanting(wanted));
    };
    let no_such = || Refusal::new("fault-entry-none").text("entry", no);
    let record = read.iter().find(|r| r.no == no).ok_or_else(no_such)?;
    if let Body::TakenBack { .. } = record.body {
        return Err(Refusal::new("fault-amend-taken-back").text("entry", no));
    }
    // A correction, a remark or a signature is about its entry, and so is what is said of it.
    if let Some(of) = record.body.amends() {
        return amend_no(asked, of, typed);
    }
    let entries = past::entries(read);
    let changes = Changes::of(typed);
    let entry = meant(&entries, no, !changes.is_empty()).ok_or_else(no_such)?;
    let no = entry.record.no;
    let own = entry.record.who == Some(asked.ask.who);
    let supervises = authorize(asked.state, asked.ask, Right::Countersign).is_ok();
    if !own && !supervises {
        return Err(Refusal::new("fault-amend-other").text("entry", no));
    }
    if !own && !changes.is_empty() {
        return Err(Refusal::new("fault-amend-author").text("entry", no));
    }
    let reason = asked.guarded(Some(typed.reason.clone()))?;
    if changes.is_empty() {
        return Ok(remark::annotate(asked, entry, reason));
    }
    if entry.taken_back.is_some() {
        return Err(Refusal::new("fault-amend-taken-back").text("entry", no));
    }
    changes.fit(no, &entry.record.body)?;
    correct(asked, entry, read, typed, reason)
}

/// The number of an entry as people type it or as a suggestion puts it in: digits, with `#` and brackets or without.
fn number(typed: &str) -> Result<RecordNo, Refusal> {
    let digits = typed
        .trim()
        .trim_matches(|c: char| matches!(c, '#' | '(' | ')' | '[' | ']' | ' '));
    digits
        .parse()
        .ok()
        .filter(|no| *no > 0)
        .map(RecordNo)
        .ok_or_else(|| Refusal::new("fault-entry-number").text("typed", escaped(typed)))
}

/// The entry of this number; where it cannot be corrected, the only one beside it in what one tap did that can.
fn meant<'e, 'a>(entries: &'e [Entry<'a>], no: RecordNo, correct: bool) -> Option<&'e Entry<'a>> {
    let entry = entries.iter().find(|entry| entry.record.no == no)?;
    if !correct || entry.record.body.can_be_corrected() {
        return Some(entry);
    }
    let mut beside = entries.iter().filter(|other| {
        other.record.first == entry.record.first && other.record.body.can_be_corrected()
    });
    match (beside.next(), beside.next()) {
        (Some(only), None) => Some(only),
        (Some(_) | None, _) => Some(entry),
    }
}

/// The options of `/amend` that say how an entry should have read.
struct Changes(Vec<&'static str>);

impl Changes {
    fn of(typed: &Amend) -> Self {
        let given = [
            ("air", typed.air.is_some()),
            ("surface", typed.surface.is_some()),
            ("strike", typed.strike),
            ("when", typed.when.is_some()),
            ("setting", typed.setting.is_some()),
            ("layers", typed.layers.is_some()),
            ("position", typed.position.is_some()),
            ("mode", typed.mode.is_some()),
            ("finding", typed.finding.is_some()),
            ("action", typed.action.is_some()),
            ("method", typed.method.is_some()),
            ("cover", typed.cover.is_some()),
        ];
        let given = given.into_iter().filter(|(_, given)| *given);
        Self(given.map(|(name, _)| name).collect())
    }

    fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether an entry of this kind has all of it.
    fn fit(&self, no: RecordNo, body: &Body) -> Result<(), Refusal> {
        let has: &[&str] = if matches!(body, Body::HandChecked { .. }) {
            &[
                "air", "surface", "strike", "when", "setting", "layers", "position", "mode",
            ]
        } else if matches!(body, Body::FilterLooked { .. }) {
            &["finding", "action", "surface", "strike", "when"]
        } else if matches!(body, Body::Cleaned { .. }) {
            &["method", "cover", "surface", "strike", "when"]
        } else {
            return Err(Refusal::new(instead_key(body)).text("entry", no));
        };
        if self.0.len() > 1 && self.0.contains(&"strike") {
            return Err(Refusal::new("fault-amend-strike").text("entry", no));
        }
        match self.0.iter().find(|name| !has.contains(name)) {
            Some(other) => Err(Refusal::new("fault-amend-option")
                .text("entry", no)
                .text("option", other)
                .text("these", has.join(", "))),
            None => Ok(()),
        }
    }
}

/// What is done instead about an entry that other records build on.
fn instead_key(body: &Body) -> &'static str {
    if body.alarm().is_some() || matches!(body, Body::AlarmOpened { .. }) {
        return "fault-amend-alarm";
    }
    if matches!(
        body,
        Body::Placed { .. } | Body::Released { .. } | Body::Moved { .. }
    ) {
        return "fault-amend-placing";
    }
    if matches!(body, Body::SettingSet { .. }) {
        return "fault-amend-setting";
    }
    if matches!(
        body,
        Body::TurnoverOpened { .. }
            | Body::TurnShown { .. }
            | Body::TurnUndone { .. }
            | Body::FunctionShown { .. }
            | Body::Readied { .. }
            | Body::Repaired { .. }
            | Body::Returned { .. }
    ) {
        return "fault-amend-turnover";
    }
    "fault-amend-kind"
}

/// How an entry is to read.
struct Corrected {
    body: Option<Body>,
    at: DateTime<Utc>,
}

fn correct(
    asked: &Asked<'_>,
    entry: &Entry<'_>,
    read: &[Record],
    typed: &Amend,
    reason: Option<String>,
) -> Result<Decision, Refusal> {
    // One that was struck is corrected from how it last read.
    let last = (0..=entry.amended.len())
        .find_map(|back| match back {
            0 => entry.body,
            back => entry.before(back - 1).0,
        })
        .unwrap_or(&entry.record.body);
    let Some(tag) = last.surface().cloned() else {
        return Err(Refusal::new("fault-amend-kind").text("entry", entry.record.no));
    };
    let to = match &typed.surface {
        Some(typed) => asked.surface(typed)?.0.clone(),
        None => tag.clone(),
    };
    let mut all: Vec<Record> = read.to_vec();
    for about in [&tag, &to] {
        match asked.past.whole(&Wanted::Surface(about.clone())) {
            Ok(history) => all.extend_from_slice(&history),
            Err(wanted) => return Ok(Decision::wanting(wanted)),
        }
    }
    all.sort_by_key(|record| record.no);
    all.dedup_by_key(|record| record.no);
    past::behind_the_later(&mut all, asked.now);
    let at = match &typed.when {
        // As it was meant when the entry was typed: nothing is done after it was entered.
        Some(text) => moment_before(asked, text, entry.record.entered)?,
        None => entry.at,
    };
    let corrected = Corrected {
        body: if typed.strike {
            None
        } else {
            Some(reads(asked, entry, last, &to, at, typed, &all)?)
        },
        at,
    };
    let same = entry.body == corrected.body.as_ref() && entry.at == at;
    if same {
        return Err(Refusal::new("fault-amend-same").text("entry", entry.record.no));
    }
    let is = (corrected.body.as_ref(), at);
    let was = (entry.body, entry.at);
    let differs = changes(Pen::chat_with_days(asked.lang), was, is);
    let lines = vec![said(asked, entry, last, &corrected, &differs)];
    after::follows(asked, entry, &all, (&tag, &to), corrected, reason, lines)
}

/// The first line of the answer: which entry, and what reads otherwise.
fn said(
    asked: &Asked<'_>,
    entry: &Entry<'_>,
    last: &Body,
    corrected: &Corrected,
    differs: &[Change],
) -> String {
    let lang = asked.lang;
    let no = entry.record.no.to_string();
    let surface = |body: &Body| {
        body.surface()
            .map_or_else(String::new, |tag| asked.with_bed(tag))
    };
    let Some(body) = &corrected.body else {
        return say!(
            lang,
            "amend-struck",
            entry = no,
            surface = surface(last),
            what = words(Pen::chat(lang), last)
        );
    };
    let differs: Vec<String> = differs
        .iter()
        .map(|change| {
            say!(
                lang,
                "amend-change",
                label = change.label.as_str(),
                old = change.old.as_str(),
                new = change.new.as_str()
            )
        })
        .collect();
    say!(
        lang,
        "amend-done",
        entry = no,
        surface = surface(body),
        what = differs.join("; ")
    )
}

/// The entry with what was typed in its place, judged anew.
fn reads(
    asked: &Asked<'_>,
    entry: &Entry<'_>,
    last: &Body,
    to: &Tag,
    at: DateTime<Utc>,
    typed: &Amend,
    all: &[Record],
) -> Result<Body, Refusal> {
    let (to, surface) = asked.surface(to.as_str())?;
    let moved = last.surface() != Some(to);
    let was_there = |needs_bed: bool| there(all, to, entry.record.no, at, needs_bed);
    let mut body = last.clone();
    if let Body::HandChecked {
        tag,
        air,
        judged,
        band,
        position,
        mode,
        layers,
        setting,
        felt,
        ..
    } = &mut body
    {
        if moved || typed.when.is_some() {
            was_there(true)?;
        }
        if moved {
            *band = band_then(all, to, at).unwrap_or_else(|| band_of(asked.state, surface));
        }
        *tag = to.clone();
        *air = typed.air.unwrap_or(*air);
        if typed.air.is_some() || moved {
            *felt = air.is_felt(asked.state.profile_of(surface).check);
        }
        // By the band of that time: a stricter one of today makes nobody's reading wrong.
        *judged = judge(*air, *band);
        *position = typed.position.or(*position);
        *mode = typed.mode.or(*mode);
        *layers = typed.layers.or(*layers);
        if let Some(text) = &typed.setting {
            let profile = asked.state.profile_of(surface);
            *setting = Some(super::setting::read(asked, profile, text)?);
        }
    } else if let Body::FilterLooked {
        tag,
        finding,
        action,
        // What its author was told then; what follows from it now is said anew.
        next: _,
    } = &mut body
    {
        if moved || typed.when.is_some() {
            was_there(false)?;
        }
        *tag = to.clone();
        *finding = typed.finding.unwrap_or(*finding);
        *action = typed.action.unwrap_or(*action);
        match (asked.state.profile_of(surface).filter, *action) {
            (FilterKind::None, _) => {
                return Err(Refusal::new("fault-no-filter").text("tag", to));
            }
            (FilterKind::Replaceable, Action::Rinsed) => {
                return Err(Refusal::new("fault-filter-not-rinsed").text("tag", to));
            }
            (FilterKind::Replaceable | FilterKind::Rinsable, _) => {}
        }
    } else if let Body::Cleaned {
        tag,
        reason,
        method,
        product,
        cover,
    } = &mut body
    {
        if moved || typed.when.is_some() {
            was_there(false)?;
        }
        let under = bed_at(&beds_of(all, to), entry.record.no).is_some();
        if moved && *reason == Cleaning::BetweenResidents && under {
            return Err(Refusal::new("fault-clean-still-under").text("tag", to));
        }
        if moved {
            clean::in_register(to, surface)?;
        }
        *tag = to.clone();
        if let Some(other) = typed.method.filter(|other| other != method) {
            *method = other;
            // A product of another kind was not what it was done with.
            let listed = product
                .as_deref()
                .and_then(|name| asked.state.products.get(name));
            if listed.is_none_or(|listed| listed.method != other) {
                *product = None;
            }
        }
        *cover = typed.cover.unwrap_or(*cover);
    } else {
        return Err(Refusal::new("fault-amend-kind").text("entry", entry.record.no));
    }
    Ok(body)
}

/// Whether a surface was in the register, and where it must be under a bed, when the entry was made and at that moment.
fn there(
    all: &[Record],
    tag: &Tag,
    entry: RecordNo,
    at: DateTime<Utc>,
    needs_bed: bool,
) -> Result<(), Refusal> {
    let nowhere = || Refusal::new("fault-amend-not-there").text("tag", tag);
    let of_tag = || {
        all.iter()
            .filter(|record| record.body.surface() == Some(tag) && record.no < entry)
    };
    if of_tag().next().is_none() {
        return Err(nowhere());
    }
    if !needs_bed {
        return Ok(());
    }
    let beds = beds_of(all, tag);
    bed_at(&beds, entry).ok_or_else(nowhere)?;
    let since = beds.iter().rfind(|(since, _)| *since <= entry);
    let came = since.and_then(|(since, _)| all.iter().find(|record| record.no == *since));
    match came {
        Some(came) if at < came.at => Err(Refusal::new("fault-before-placed")
            .text("tag", tag)
            .text("since", day_time(came.at))),
        Some(_) | None => Ok(()),
    }
}

/// The band that a surface's readings were judged by at that time: that of its reading before.
fn band_then(all: &[Record], tag: &Tag, at: DateTime<Utc>) -> Option<Band> {
    all.iter().rev().find_map(|record| {
        let Body::HandChecked { tag: of, band, .. } = &record.body else {
            return None;
        };
        (of == tag && record.at <= at).then_some(*band)
    })
}

/// An entry in a few words, for whoever chooses one.
pub(super) fn in_short(lang: Lang, body: &Body) -> String {
    if let Body::HandChecked { air, band, .. } = body {
        return show_air(lang, *air, *band);
    }
    words(Pen::chat(lang), body)
}
