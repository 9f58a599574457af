//! Alarms of a surface that is under nobody: in the store, in its turnover, out of service. Decides that each says where the
//! record has it, that a wrong tag is put right with a tap, and that the alarm then begins where it belongs. Somebody may have
//! moved it and not said so, therefore the first call goes out as any; how it goes on is the quieter pace of `due::ladder`.

use chrono::TimeDelta;

use super::{Begun, begin, end_elsewhere, opened, own_card, priority_of, raised};
use crate::decide::check;
use crate::decide::draft::{Asked, button, unit_of_asker};
use crate::decision::Decision;
use crate::due::ladder;
use crate::ids::{AlarmNo, Tag};
use crate::message::{Answer, Button, ENTRIES_MAX, Field, Form, Look, Menu, MenuEntry, Message};
use crate::record::{AlarmEnd, Fault};
use crate::refusal::Refusal;
use crate::rules::nearest::{self, Match};
use crate::say;
use crate::state::{Life, State};
use crate::tap::{Astray, Tap};
use crate::words::Lang;

/// A tap about an alarm that may be of another surface.
pub(in crate::decide) fn tapped(asked: &Asked<'_>, tap: &Astray) -> Result<Decision, Refusal> {
    match tap {
        Astray::Which { alarm } => which(asked, *alarm),
        Astray::Is { alarm, tag } => is(asked, *alarm, tag.as_str()),
        Astray::Type { alarm } => form(asked, *alarm),
        Astray::Typed { alarm, surface } => is(asked, *alarm, surface),
    }
}

/// Whether, on record, nobody lies on it.
pub(crate) fn is_under(state: &State, tag: &Tag) -> bool {
    let surface = state.surfaces.get(tag);
    surface.is_some_and(|surface| surface.bed().is_none())
}

/// Where the record has a surface that is under nobody.
fn stands(state: &State, lang: Lang, tag: &Tag) -> Option<String> {
    let surface = state.surfaces.get(tag)?;
    let place = |of: &str| check::escaped(of);
    let storage = state.storage.as_ref();
    Some(match (&surface.life, storage) {
        (Life::Ready { .. }, Some(storage)) => {
            say!(lang, "stands-ready-in", place = place(&storage.clean))
        }
        (Life::Ready { .. }, None) => say!(lang, "stands-ready"),
        (Life::Soiled(_), _) => say!(lang, "stands-soiled"),
        (
            Life::OutOfService {
                under: None, fault, ..
            },
            _,
        ) if *fault == Fault::Inquiry => say!(lang, "stands-held"),
        (Life::OutOfService { under: None, .. }, _) => say!(lang, "stands-out"),
        (
            Life::Placed { .. } | Life::OutOfService { under: Some(_), .. } | Life::Retired { .. },
            _,
        ) => return None,
    })
}

/// On a card: where it is on record.
pub(super) fn card_line(state: &State, lang: Lang, tag: &Tag) -> Option<String> {
    let place = stands(state, lang, tag)?;
    Some(say!(lang, "card-under-nobody", place = place))
}

/// To whoever reports it: is it the right tag?
pub(super) fn raised_line(asked: &Asked<'_>, tag: &Tag) -> Option<String> {
    let place = stands(asked.state, asked.lang, tag)?;
    let tag = tag.as_str();
    Some(say!(
        asked.lang,
        "alarm-under-nobody",
        tag = tag,
        place = place
    ))
}

/// To whoever said it in everyday words and has not confirmed it yet.
pub(in crate::decide) fn echo_line(asked: &Asked<'_>, tag: &Tag) -> Option<String> {
    let place = stands(asked.state, asked.lang, tag)?;
    Some(say!(asked.lang, "plain-alarm-nobody", place = place))
}

/// The button that says so.
pub(super) fn wrong_tag_button(lang: Lang, no: AlarmNo) -> Button {
    let tap = Tap::Astray(Astray::Which { alarm: no });
    button(lang, "button-wrong-tag", Look::Plain, &tap)
}

/// "Wrong tag": which is it? What is written nearly so, then what lies under somebody in the asker's unit, then anywhere.
fn which(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    let (open, _) = opened(asked, no)?;
    let (state, lang) = (asked.state, asked.lang);
    let here = unit_of_asker(state, asked.ask);
    let likely = || state.under.values().filter(|tag| **tag != open.tag);
    let near = match nearest::find(open.tag.as_str(), likely().map(Tag::as_str)) {
        Match::One(one) => vec![one],
        Match::Several(several) | Match::Nearest(several) => several,
    };
    let mut tags: Vec<&Tag> = Vec::new();
    let near = likely().filter(|tag| near.contains(&tag.as_str()));
    let in_unit = likely().filter(|tag| here.is_some() && state.unit_of(tag) == here);
    for tag in near.chain(in_unit).chain(likely()) {
        if !tags.contains(&tag) && tags.len() < ENTRIES_MAX {
            tags.push(tag);
        }
    }
    let text = say!(lang, "wrong-tag-which", tag = open.tag.as_str());
    let mut message = Message::text(text);
    if let Some(first) = tags.first() {
        let id = Tap::Astray(Astray::Is {
            alarm: no,
            tag: (*first).clone(),
        })
        .id();
        message = message.menu(Menu {
            id,
            hint: say!(lang, "menu-surface"),
            entries: tags
                .iter()
                .map(|tag| MenuEntry {
                    value: tag.to_string(),
                    label: asked.with_bed(tag),
                    about: None,
                })
                .collect(),
        });
    }
    let typed = Tap::Astray(Astray::Type { alarm: no });
    let typed = button(lang, "button-type-tag", Look::Plain, &typed);
    Ok(Decision::private(message.buttons(vec![typed])))
}

/// The form for a tag that is not among those.
fn form(asked: &Asked<'_>, no: AlarmNo) -> Result<Decision, Refusal> {
    opened(asked, no)?;
    let lang = asked.lang;
    let id = Tap::Astray(Astray::Typed {
        alarm: no,
        surface: String::new(),
    })
    .id();
    let form = Form {
        id,
        title: say!(lang, "form-tag-title"),
        fields: vec![Field {
            id: "surface".to_owned(),
            label: say!(lang, "form-tag"),
            hint: say!(lang, "form-tag-hint"),
            required: true,
            long: false,
        }],
    };
    Ok(Decision {
        answer: Some(Answer::Form(form)),
        ..Decision::default()
    })
}

/// It is this one: the alarm of the wrong tag is closed, and this one's begins, unless it is open already.
fn is(asked: &Asked<'_>, no: AlarmNo, typed: &str) -> Result<Decision, Refusal> {
    let (open, _) = opened(asked, no)?;
    let (tag, surface) = asked.surface(typed)?;
    let lang = asked.lang;
    if *tag == open.tag {
        return Err(Refusal::new("fault-wrong-tag-same").text("tag", tag));
    }
    if matches!(surface.life, Life::Retired { .. }) {
        return Err(Refusal::new("fault-retired").text("tag", tag));
    }
    let mut draft = asked.draft();
    end_elsewhere(asked, &mut draft, no, open, AlarmEnd::WrongTag, Some(tag));
    let closed = say!(lang, "wrong-tag-closed", tag = open.tag.as_str());
    if let Some(other) = surface.alarm
        && let Some(there) = asked.state.alarms.get(&other)
    {
        let mut message = own_card(asked, other, there);
        let said = say!(lang, "wrong-tag-open", surface = asked.with_bed(tag));
        message.text = format!("{closed}\n{said}\n\n{}", message.text);
        return Ok(draft.private(message));
    }
    if let Some(mark) = &surface.cpr
        && asked.state.quiet_at(tag, asked.now)
    {
        let expected = crate::decide::cpr::expected(asked, tag, mark);
        return Ok(match expected.answer {
            Some(Answer::Private(mut message)) => {
                message.text = format!("{closed}\n{}", message.text);
                draft.private(message)
            }
            _another => draft.private(Message::text(closed)),
        });
    }
    let kind = open.kind;
    let begun = Begun {
        kind,
        priority: priority_of(kind, surface, asked.now),
        // What somebody wrote stays with the alarm that it was written for.
        note: None,
        pulled: None,
        cause: open.cause,
    };
    // It has alarmed since the first was opened: where that was a rung ago, that rung is asked at once.
    let first = i64::from(asked.state.ladder.first);
    let waited = asked.now - open.opened >= TimeDelta::minutes(first);
    let roles = ladder::rung_roles(u32::from(waited));
    let no = begin(asked, &mut draft, tag, begun, roles);
    let mut message = raised(asked, (tag, surface), no, kind);
    message.text = format!("{closed}\n{}", message.text);
    Ok(draft.private(message))
}
