//! What a message leaves open is asked back. Decides where buttons or a menu are offered, because the choices are few, and
//! where a sentence says what to type; each button is an entry that its writer confirms with it.

use super::caused;
use super::{
    Offer, air_label, as_air, band, check_offer, choice_button, echo, like, offer,
    reading as reading_of, said_of, together,
};
use crate::choice::{Action, Cleaning, Cover, FilterKind, Finding, Method};
use crate::decide::draft::{Asked, button, in_post, person};
use crate::decide::{alarm, check};
use crate::decision::{Decision, Lane};
use crate::ids::Tag;
use crate::message::{Answer, BUTTONS_MAX, Button, ENTRIES_MAX, Look, Menu, MenuEntry, Message};
use crate::parse::air_fault;
use crate::refusal::Refusal;
use crate::request::Right;
use crate::role::authorize;
use crate::rules::air::{self, AirFault, Said};
use crate::rules::look_first::Sign;
use crate::rules::plain::{About, AirSaid, Asks, Doubt, Example, Left, Own, Place, Understood};
use crate::rules::priority::AlarmKind;
use crate::say;
use crate::tap::{Plain, Spoken, Tap};

/// Something is missing, or can be meant in two ways.
pub(super) fn asked_back(asked: &Asked<'_>, ask: Asks, own: &Own) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let message = match ask {
        Asks::Which { tags, each } if both(&tags, &each) => return self::each(asked, &each),
        Asks::Which { tags, each } => which(asked, &tags, &each),
        Asks::Surface { of, likely, each } => no_name(asked, of, &likely, &each, own),
        Asks::NoSurface { typed, near, each } => {
            let typed = check::escaped(&typed);
            if near.is_empty() {
                return Err(Refusal::new("fault-no-surface").text("typed", typed));
            }
            let head = say!(
                lang,
                "fault-no-surface-near",
                typed = typed,
                these = names(asked, &near)
            );
            buttons_for(asked, head, &near, &each)
        }
        Asks::EmptyBed { .. } => Ok(Message::text(say!(lang, "plain-empty-bed"))),
        Asks::Unit { typed } => {
            return asked
                .unit(Some(&typed))
                .and(Err(Refusal::new("fault-no-units")));
        }
        Asks::BedOrReading { number } => {
            Ok(Message::text(say!(lang, "plain-ask-bed", number = number)))
        }
        Asks::Reading { about, among } => reading(asked, &about, &among),
        Asks::Air { about, fault } => unread(asked, &about, &fault),
        Asks::When { .. } => return Err(Refusal::new("fault-when-shape")),
        Asks::HowLow { tag } => how_far(asked, &tag, Far::Low),
        Asks::HowHigh { tag } => how_far(asked, &tag, Far::High),
        Asks::Kind { tag, among } => kind(asked, &tag, &among),
        Asks::Filter {
            tag,
            findings,
            actions,
        } => filter(asked, &tag, &findings, &actions),
        Asks::Clean {
            tag,
            reason,
            method,
            cover,
        } => clean(asked, &tag, reason, method, cover),
        Asks::Doubt { doubt, tag, of } => doubted(asked, doubt, tag.as_deref(), of.as_ref()),
        Asks::Each(several) => return each(asked, &several),
        Asks::Cause { of, among } => caused::which(asked, &of, &among),
        Asks::Some { taken, left } => return some(asked, &taken, &left),
        Asks::OneAtATime => Ok(Message::text(say!(lang, "plain-ask-one"))),
        Asks::TooLong => Ok(Message::text(say!(lang, "plain-ask-long"))),
    }?;
    Ok(Decision::private(message))
}

/// More surfaces than these in one message are asked about: which one?
const TOGETHER_MOST: usize = 3;

/// Whether a few surfaces were named with one thing that is whole for each: none of them is forgotten over the others.
fn both(tags: &[String], each: &[Understood]) -> bool {
    let entry = |what: &Understood| match what {
        Understood::HandCheck { .. }
        | Understood::Alarm { .. }
        | Understood::Caused(_)
        | Understood::Filter { .. }
        | Understood::Clean { .. } => true,
        Understood::Due { .. }
        | Understood::Where(_)
        | Understood::Outage { .. }
        | Understood::Match { .. }
        | Understood::OnDuty { .. }
        | Understood::Claim { .. }
        | Understood::Deed { .. }
        | Understood::Answered { .. }
        | Understood::Gaps { .. }
        | Understood::LookFirst { .. }
        | Understood::Help => false,
    };
    (2..=TOGETHER_MOST).contains(&tags.len()) && tags.len() == each.len() && each.iter().all(entry)
}

/// Several things in one message. Readings are echoed together, with one button; anything else has an echo of its own.
/// What cannot be is said in its place, unless that is all there is.
fn each(asked: &Asked<'_>, several: &[Understood]) -> Result<Decision, Refusal> {
    let mut messages = Vec::new();
    let mut good = false;
    for part in together::parts(asked, several) {
        let said = match part {
            together::Part::Alone(what) => one_of_several(asked, what),
            together::Part::Together(readings) => Ok(together::echo(asked, &readings)),
        };
        good |= said.is_ok();
        messages.push(said);
    }
    if !good {
        messages.into_iter().next().transpose()?;
        return Ok(Decision::default());
    }
    let lang = asked.lang;
    let mut messages = messages
        .into_iter()
        .map(|said| said.unwrap_or_else(|no| Message::text(no.say(lang))));
    let mut draft = asked.draft();
    let first = messages.next().unwrap_or_default();
    for (place, message) in messages.enumerate() {
        let key = format!("plain:{}:{}", asked.ask.source.0, place + 2);
        draft.post(key, asked.ask.channel, Lane::Routine, message);
    }
    Ok(draft.private(first))
}

/// What was taken is echoed as ever; under it stands what was not, each with what is asked about it.
fn some(asked: &Asked<'_>, taken: &[Understood], left: &[Left]) -> Result<Decision, Refusal> {
    let lang = asked.lang;
    let mut decision = each(asked, taken)?;
    let mut lines = Vec::new();
    for left in left {
        lines.push(match left {
            Left::NoSurface { typed, near } if near.is_empty() => {
                say!(lang, "plain-left-none", typed = check::escaped(typed))
            }
            Left::NoSurface { typed, near } => say!(
                lang,
                "plain-left-near",
                typed = check::escaped(typed),
                these = names(asked, near)
            ),
            Left::EmptyBed { bed } => say!(lang, "plain-left-empty", typed = check::escaped(bed)),
            Left::Unclear { tag } => {
                let tag = asked.surface(tag)?.0;
                say!(
                    lang,
                    "plain-left-unclear",
                    surface = in_post(asked.state, lang, tag)
                )
            }
        });
    }
    let Some(Answer::Private(message)) = &mut decision.answer else {
        return Ok(decision);
    };
    message.text = format!("{}\n{}", message.text, lines.join("\n"));
    Ok(decision)
}

fn one_of_several(asked: &Asked<'_>, what: &Understood) -> Result<Message, Refusal> {
    match what {
        Understood::LookFirst { .. } | Understood::Caused(_) => {
            super::understood(asked, what, false)
        }
        Understood::HandCheck { .. }
        | Understood::Alarm { .. }
        | Understood::Filter { .. }
        | Understood::Clean { .. }
        | Understood::Due { .. }
        | Understood::Where(_)
        | Understood::Help => echo(asked, what, false),
        Understood::Outage { .. }
        | Understood::OnDuty { .. }
        | Understood::Claim { .. }
        | Understood::Match { .. }
        | Understood::Gaps { .. }
        | Understood::Answered { .. }
        | Understood::Deed { .. } => super::understood(asked, what, false),
    }
}

fn names(asked: &Asked<'_>, tags: &[String]) -> String {
    let names: Vec<String> = tags
        .iter()
        .map(|tag| in_post(asked.state, asked.lang, &Tag::from(tag.as_str())))
        .collect();
    names.join(", ")
}

/// Which of these?
fn which(asked: &Asked<'_>, tags: &[String], each: &[Understood]) -> Result<Message, Refusal> {
    let head = say!(asked.lang, "plain-ask-which", these = names(asked, tags));
    buttons_for(asked, head, tags, each)
}

/// A button for each surface, where that is all that is missing.
fn buttons_for(
    asked: &Asked<'_>,
    head: String,
    tags: &[String],
    each: &[Understood],
) -> Result<Message, Refusal> {
    let mut message = Message::text(head);
    let mut row = Vec::new();
    for (tag, what) in tags.iter().zip(each).take(BUTTONS_MAX) {
        let label = in_post(asked.state, asked.lang, &Tag::from(tag.as_str()));
        row.extend(choice_button(asked, what, label)?);
    }
    let looks =
        |what: &Understood| matches!(what, Understood::Where(_) | Understood::LookFirst { .. });
    let after = if row.is_empty() {
        Some(say!(asked.lang, "plain-say-again"))
    } else if each.iter().all(looks) {
        None
    } else {
        Some(say!(asked.lang, "plain-echo", who = person(asked.ask.who)))
    };
    if let Some(after) = after {
        message.text = format!("{}\n{after}", message.text);
    }
    Ok(message.buttons(row))
}

/// No surface was named: a menu of those at which the writer most likely stands.
fn no_name(
    asked: &Asked<'_>,
    of: Example,
    likely: &[String],
    each: &[Understood],
    own: &Own,
) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let mut entries = Vec::new();
    let mut said = None;
    for (tag, what) in likely.iter().zip(each).take(ENTRIES_MAX) {
        // One that would be answered otherwise, such as an alarm that is open, is left out.
        if let Ok(Offer::Entry(echo, entry)) = offer(asked, what) {
            entries.push(MenuEntry {
                value: Plain::picked(&echo, &entry),
                label: in_post(asked.state, lang, &Tag::from(tag.as_str())),
                about: None,
            });
            said = Some((echo, entry));
        }
    }
    let example = match of {
        Example::Where => "where",
        Example::Filter => "filter",
        Example::Clean => "clean",
        Example::Alarm => "alarm",
        Example::HandCheck
        | Example::AlarmCard
        | Example::TakeBack
        | Example::Due
        | Example::LookFirst
        | Example::Command(_)
        | Example::Voice
        | Example::NoSurface
        | Example::Any => "check",
    };
    let head = say!(
        lang,
        "plain-ask-surface",
        example = like(asked, example, own)
    );
    let Some((echo, entry)) = said else {
        return Ok(Message::text(head));
    };
    let menu = Menu {
        id: Tap::Plain(Plain::Pick { echo, entry }).id(),
        hint: say!(lang, "menu-surface"),
        entries,
    };
    let who = say!(lang, "plain-echo-menu", who = person(asked.ask.who));
    Ok(Message::text(format!("{head}\n{who}")).menu(menu))
}

/// Which reading? What was named first, then the buttons of a hand check; each keeps what else was said.
pub(super) fn reading(
    asked: &Asked<'_>,
    about: &About,
    among: &[AirSaid],
) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let (tag, surface) = asked.surface(&about.tag)?;
    authorize(asked.state, asked.ask, Right::Check)?;
    let rest = reading_of(asked, surface, about)?;
    let band = band(asked.state, tag.as_str());
    let echo = said_of(asked, tag, check::seen(surface));
    let confirm = |air| {
        let entry = Spoken::Check(crate::tap::Reading {
            air,
            ..rest.clone()
        });
        Tap::Plain(Plain::Confirm {
            echo: echo.clone(),
            entry,
        })
        .id()
    };
    let named: Vec<Button> = among
        .iter()
        .filter_map(|said| as_air(asked, surface, *said))
        .take(BUTTONS_MAX)
        .map(|air| Button {
            id: confirm(air),
            label: air_label(asked, surface, air),
            look: Look::Main,
        })
        .collect();
    let could_not = |said: &AirSaid| matches!(said, AirSaid::CouldNot(_));
    let why = !among.is_empty() && among.iter().all(could_not);
    let key = if why { "plain-ask-why" } else { "ask-air" };
    let text = [
        say!(lang, key, surface = in_post(asked.state, lang, tag)),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ]
    .join("\n");
    let message = Message::text(text).buttons(named.clone());
    let menu = Plain::air_menu(&echo, &Spoken::Check(rest.clone()));
    let profile = asked.state.profile_of(surface);
    let mut message = check::buttons(message, lang, profile.check, band, confirm, menu);
    once(&mut message, &named);
    Ok(message)
}

/// A reading that was named already is not offered again: two buttons of one identifier are one too many.
fn once(message: &mut Message, named: &[Button]) {
    for row in message.rows.iter_mut().skip(usize::from(!named.is_empty())) {
        if let crate::message::Row::Buttons(buttons) = row {
            buttons.retain(|button| !named.iter().any(|other| other.id == button.id));
        }
    }
    message
        .rows
        .retain(|row| !matches!(row, crate::message::Row::Buttons(buttons) if buttons.is_empty()));
}

/// A number that is no reading: with the units in which it is one, if there are any.
fn unread(asked: &Asked<'_>, about: &About, fault: &AirFault) -> Result<Message, Refusal> {
    let AirFault::WhichUnit { number } = fault else {
        return Err(air_fault(fault.clone()));
    };
    let said: Vec<AirSaid> = air::in_each_unit(number)
        .iter()
        .filter_map(|text| match air::parse(text) {
            Ok(Said::Measured(length)) => Some(AirSaid::Measured(length)),
            Ok(Said::CouldNot) | Err(_) => None,
        })
        .collect();
    let mut message = reading(asked, about, &said)?;
    let why = air_fault(fault.clone()).say(asked.lang);
    message.text = format!("{why}\n{}", message.text);
    Ok(message)
}

/// In which direction a reading is off, where nobody said how far.
#[derive(Clone, Copy)]
enum Far {
    Low,
    High,
}

/// Soft or hard is no reading: how far, or what does the panel say?
fn how_far(asked: &Asked<'_>, tag: &str, far: Far) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let (tag, surface) = asked.surface(tag)?;
    let band = band(asked.state, tag.as_str());
    let (key, said, kind, sign) = match far {
        Far::Low => (
            "plain-ask-low",
            vec![AirSaid::Touching, AirSaid::Under(band.low)],
            AlarmKind::LowPressure,
            Sign::Soft,
        ),
        Far::High => (
            "plain-ask-high",
            vec![AirSaid::Over(band.high)],
            AlarmKind::HighPressure,
            Sign::Hard,
        ),
    };
    let name = in_post(asked.state, lang, tag);
    let tag_text = tag.to_string();
    let alarm = Understood::Alarm {
        tag: tag_text.clone(),
        kind,
    };
    let label = say!(
        lang,
        "plain-button-alarm",
        kind = alarm::kind_words(lang, kind)
    );
    // What is going down is an alarm first; a hand under it says how far.
    let mut row = Vec::new();
    let strong = match far {
        Far::Low => Look::Caution,
        Far::High => Look::Main,
    };
    row.extend(choice_button(asked, &alarm, label)?.map(|button| Button {
        look: strong,
        ..button
    }));
    // Whoever may not check, or where nobody lies on it, is still offered the alarm and the list.
    if Right::Check.roles().contains(&asked.role) && surface.bed().is_some() {
        let about = About {
            tag: tag.to_string(),
            ..About::default()
        };
        for said in said {
            if let Offer::Entry(echo, entry) = check_offer(asked, &about, said)? {
                let label = match &entry {
                    Spoken::Check(of) => air_label(asked, surface, of.air),
                    Spoken::Alarm { .. }
                    | Spoken::Found { .. }
                    | Spoken::Filter { .. }
                    | Spoken::Clean { .. }
                    | Spoken::Cpr
                    | Spoken::Away { .. }
                    | Spoken::Static { .. }
                    | Spoken::Set { .. } => continue,
                };
                let tap = Tap::Plain(Plain::Confirm { echo, entry });
                row.push(Button {
                    id: tap.id(),
                    label,
                    look: Look::Plain,
                });
            }
        }
    }
    let look = Understood::LookFirst {
        tag: Some(tag_text),
        sign,
    };
    row.extend(choice_button(asked, &look, say!(lang, "button-look"))?);
    let text = [
        say!(lang, key, surface = name),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ]
    .join("\n");
    Ok(Message::text(text).buttons(row))
}

fn kind(asked: &Asked<'_>, tag: &str, among: &[AlarmKind]) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let mut row = Vec::new();
    for kind in among {
        let alarm = Understood::Alarm {
            tag: tag.to_owned(),
            kind: *kind,
        };
        match offer(asked, &alarm)? {
            Offer::Instead(message) => return Ok(message),
            Offer::Entry(..) | Offer::Look(_) => {}
        }
        row.extend(choice_button(
            asked,
            &alarm,
            alarm::kind_words(lang, *kind),
        )?);
    }
    let name = in_post(asked.state, lang, asked.surface(tag)?.0);
    let text = [
        say!(lang, "plain-ask-kind", surface = name),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ]
    .join("\n");
    Ok(Message::text(text).buttons(row))
}

/// What was found, or done: buttons where one of the two is known.
fn filter(
    asked: &Asked<'_>,
    tag: &str,
    findings: &[Finding],
    actions: &[Action],
) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let (tag, surface) = asked.surface(tag)?;
    authorize(asked.state, asked.ask, Right::Upkeep)?;
    let kind = asked.state.profile_of(surface).filter;
    let possible = |action: &Action| *action != Action::Rinsed || kind != FilterKind::Replaceable;
    let all_findings = [
        Finding::Clean,
        Finding::Dusty,
        Finding::Clogged,
        Finding::Damaged,
    ];
    let all_actions: Vec<Action> = Action::ALL.iter().copied().filter(possible).collect();
    let known = |is_empty: bool| !is_empty;
    let some_findings = if findings.is_empty() {
        &all_findings[..]
    } else {
        findings
    };
    let some_actions = if actions.is_empty() {
        &all_actions[..]
    } else {
        actions
    };
    let name = in_post(asked.state, lang, tag);
    let mut row = Vec::new();
    if known(findings.is_empty()) || known(actions.is_empty()) {
        for finding in some_findings {
            for action in some_actions {
                let what = Understood::Filter {
                    tag: tag.to_string(),
                    finding: *finding,
                    action: *action,
                };
                let label = say!(
                    lang,
                    "plain-button-filter",
                    finding = say!(lang, &format!("finding-{}", finding.as_str())),
                    action = say!(lang, &format!("action-{}", action.as_str()))
                );
                row.extend(choice_button(asked, &what, label)?);
            }
        }
    }
    if row.is_empty() || row.len() > BUTTONS_MAX {
        let own = Own {
            surface: Some(tag.to_string()),
            ..Own::default()
        };
        let text = say!(
            lang,
            "plain-ask-filter-all",
            surface = name,
            example = like(asked, "filter", &own)
        );
        return Ok(Message::text(text));
    }
    let text = [
        say!(lang, "plain-ask-filter", surface = name),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ]
    .join("\n");
    Ok(Message::text(text).buttons(row))
}

/// What is missing of a cleaning: buttons where it is one thing.
fn clean(
    asked: &Asked<'_>,
    tag: &str,
    reason: Option<Cleaning>,
    method: Option<Method>,
    cover: Option<Cover>,
) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let (tag, surface) = asked.surface(tag)?;
    authorize(asked.state, asked.ask, Right::Upkeep)?;
    let name = in_post(asked.state, lang, tag);
    let entry = |reason, method, cover| Understood::Clean {
        tag: tag.to_string(),
        reason,
        method,
        cover,
    };
    let choices: Vec<(Understood, String)> = match (reason, method, cover) {
        (None, Some(method), Some(cover)) => Cleaning::ALL
            .iter()
            // With somebody still on it, it is not between residents.
            .filter(|reason| **reason != Cleaning::BetweenResidents || surface.bed().is_none())
            .map(|reason| {
                let label = say!(lang, &format!("reason-{}", reason.as_str()));
                (entry(*reason, method, cover), label)
            })
            .collect(),
        (Some(reason), None, Some(cover)) => Method::ALL
            .iter()
            .map(|method| {
                let label = say!(lang, &format!("method-{}", method.as_str()));
                (entry(reason, *method, cover), label)
            })
            .collect(),
        (Some(reason), Some(method), None) => Cover::ALL
            .iter()
            .map(|cover| {
                let label = say!(
                    lang,
                    "plain-button-cover",
                    cover = say!(lang, &format!("choice-cover-{}", cover.as_str()))
                );
                (entry(reason, method, *cover), label)
            })
            .collect(),
        (Some(_) | None, Some(_) | None, Some(_) | None) => Vec::new(),
    };
    let mut row = Vec::new();
    for (what, label) in choices {
        row.extend(choice_button(asked, &what, label)?);
    }
    if row.is_empty() {
        return clean_menu(asked, tag, reason, method, cover);
    }
    let key = match (reason, method) {
        (None, _) => "plain-ask-clean-reason",
        (Some(_), None) => "plain-ask-clean-method",
        (Some(_), Some(_)) => "plain-ask-clean-cover",
    };
    let text = [
        say!(lang, key, surface = name),
        say!(lang, "plain-echo", who = person(asked.ask.who)),
    ]
    .join("\n");
    Ok(Message::text(text).buttons(row))
}

/// More than one thing is missing of a cleaning: a menu of what it may have been, whole.
fn clean_menu(
    asked: &Asked<'_>,
    tag: &Tag,
    reason: Option<Cleaning>,
    method: Option<Method>,
    cover: Option<Cover>,
) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let (tag, surface) = asked.surface(tag.as_str())?;
    let in_bed = surface.bed().is_some();
    // With somebody still on it, it is not between residents.
    let reasons = Cleaning::ALL
        .iter()
        .copied()
        .filter(|of| reason.map_or(!in_bed || *of != Cleaning::BetweenResidents, |is| is == *of));
    let mut entries = Vec::new();
    let mut said = None;
    for reason in reasons {
        for method in Method::ALL
            .iter()
            .filter(|of| method.is_none_or(|is| is == **of))
        {
            for cover in Cover::ALL
                .iter()
                .filter(|of| cover.is_none_or(|is| is == **of))
            {
                let entry = Spoken::Clean {
                    reason,
                    method: *method,
                    cover: *cover,
                };
                let echo = said_of(asked, tag, surface.newest);
                entries.push(MenuEntry {
                    value: Plain::picked(&echo, &entry),
                    label: say!(
                        lang,
                        "plain-clean-choice",
                        reason = say!(lang, &format!("reason-{}", reason.as_str())),
                        method = say!(lang, &format!("method-{}", method.as_str())),
                        cover = say!(lang, &format!("choice-cover-{}", cover.as_str()))
                    ),
                    about: None,
                });
                said = Some((echo, entry));
            }
        }
    }
    let name = in_post(asked.state, lang, tag);
    let own = Own {
        surface: Some(tag.to_string()),
        ..Own::default()
    };
    // More than a menu holds: it is said again with what is missing.
    let Some((echo, entry)) = said.filter(|_| entries.len() <= ENTRIES_MAX) else {
        let text = say!(
            lang,
            "plain-ask-clean-all",
            surface = name,
            example = like(asked, "clean", &own)
        );
        return Ok(Message::text(text));
    };
    let menu = Menu {
        id: Tap::Plain(Plain::Pick { echo, entry }).id(),
        hint: say!(lang, "menu-clean"),
        entries,
    };
    let text = [
        say!(lang, "plain-ask-clean-rest", surface = name),
        say!(lang, "plain-echo-menu", who = person(asked.ask.who)),
    ];
    Ok(Message::text(text.join("\n")).menu(menu))
}

/// A question, a "not", a past, a doubt: nothing is recorded; what it would be, said plainly, is one tap away.
fn doubted(
    asked: &Asked<'_>,
    doubt: Doubt,
    tag: Option<&str>,
    of: Option<&Understood>,
) -> Result<Message, Refusal> {
    let lang = asked.lang;
    let name = match tag {
        Some(tag) => in_post(asked.state, lang, asked.surface(tag)?.0),
        None => String::new(),
    };
    // Of an open alarm it is said with a tap on its card: here it is.
    if let (Doubt::Over, Some(tag)) = (doubt, tag)
        && asked.surface(tag)?.1.alarm.is_some()
    {
        return caused::answered(asked, tag);
    }
    let key = match doubt {
        Doubt::Question => "plain-doubt-question",
        Doubt::Negation => "plain-doubt-not",
        Doubt::Over => "plain-doubt-over",
        Doubt::Past => "plain-doubt-past",
        Doubt::Unsure => "plain-doubt-unsure",
        Doubt::NotYet => "plain-doubt-not-yet",
    };
    let mut lines = vec![say!(lang, key, surface = name)];
    let mut row = Vec::new();
    // What is over, or is not so, is not recorded by a tap either.
    let may_be_so = !matches!(doubt, Doubt::Over | Doubt::Negation | Doubt::NotYet);
    if let (true, Some(what)) = (may_be_so, of) {
        match offer(asked, what)? {
            Offer::Entry(echo, entry) => {
                lines.push(super::describe(asked, &echo.tag, &entry));
                lines.push(say!(lang, "plain-echo", who = person(asked.ask.who)));
                let tap = Tap::Plain(Plain::Confirm { echo, entry });
                row.push(button(lang, "button-so-now", Look::Main, &tap));
            }
            Offer::Look(tap) => {
                row.push(button(lang, "button-look", Look::Plain, &Tap::Plain(tap)))
            }
            Offer::Instead(message) => return Ok(message),
        }
    }
    // "It stopped" may be the surface as well as the noise: the alarm is one tap away.
    if let (Doubt::Over, Some(tag)) = (doubt, tag)
        && Right::RaiseAlarm.roles().contains(&asked.role)
    {
        let still = Understood::Alarm {
            tag: tag.to_owned(),
            kind: AlarmKind::Unknown,
        };
        row.extend(choice_button(
            asked,
            &still,
            say!(lang, "plain-button-not-over"),
        )?);
    }
    if let Some(tag) = tag {
        let place = Understood::Where(Place::Surface(tag.to_owned()));
        row.extend(choice_button(asked, &place, say!(lang, "button-card"))?);
    }
    Ok(Message::text(lines.join("\n")).buttons(row))
}
