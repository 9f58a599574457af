//! The surface itself: filters, cleaning, the steps of a turnover. Decides what may follow on what: nothing is
//! ready before cover, filter and function were seen to.

use chrono::{DateTime, Utc};

use super::Notice;
use super::alarm;
use super::draft::{Asked, Draft, button, in_post, person, take_back};
use crate::choice::{Action, Call, Cleaning, Cover, FilterKind, Finding, Method};
use crate::decision::{Decision, Lane};
use crate::ids::Tag;
use crate::message::{Answer, Button, Look, Message};
use crate::record::{Body, Fault};
use crate::refusal::Refusal;
use crate::request::Clean;
use crate::role::Role;
use crate::say;
use crate::state::{Facility, Life, State, Surface, Turnover, filter_fit};
use crate::tap::Tap;
use crate::words::Lang;

/// `/filter`.
pub(super) fn filter(
    asked: &Asked<'_>,
    typed: &str,
    finding: Finding,
    action: Action,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    in_register(tag, surface)?;
    let (mut draft, text) = look_at_filter(asked, tag, surface, finding, action)?;
    let mut buttons = turnover_buttons(asked, tag, &after_filter(surface, finding, action));
    buttons.push(take_back(asked.lang, &draft, tag));
    draft.decision.answer = Some(Answer::Private(Message::text(text).buttons(buttons)));
    Ok(draft.decision)
}

/// A turnover's filter step from its button.
pub(super) fn turn_filter(
    asked: &Asked<'_>,
    tag: &Tag,
    finding: Finding,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let turnover = turning(asked, tag, surface)?;
    if turnover.filter {
        return Ok(replaced(
            Message::text(say!(asked.lang, "turn-filter-already", tag = tag.as_str()))
                .buttons(turnover_buttons(asked, tag, surface)),
        ));
    }
    // What is dirty does not go to the next resident; a rinsable one that is whole is rinsed.
    let rinsable = asked.state.profile_of(surface).filter == FilterKind::Rinsable;
    let action = match finding {
        Finding::Clean => Action::Left,
        Finding::Dusty | Finding::Clogged if rinsable => Action::Rinsed,
        Finding::Dusty | Finding::Clogged | Finding::Damaged => Action::Replaced,
    };
    let (draft, text) = look_at_filter(asked, tag, surface, finding, action)?;
    let buttons = turnover_buttons(asked, tag, &after_filter(surface, finding, action));
    Ok(draft.answer(Answer::Replace(Message::text(text).buttons(buttons))))
}

/// A turnover's function step from its button.
pub(super) fn turn_function(asked: &Asked<'_>, tag: &Tag) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(tag.as_str())?;
    let turnover = turning(asked, tag, surface)?;
    let mut draft = asked.draft();
    if !turnover.function {
        draft.fact(Body::FunctionShown { tag: tag.clone() });
    }
    let after = after(surface, |turnover| turnover.function = true);
    let mut text = say!(asked.lang, "turn-function", tag = tag.as_str());
    text.push('\n');
    text.push_str(&what_is_left(asked.lang, tag, &after));
    let buttons = turnover_buttons(asked, tag, &after);
    Ok(draft.answer(Answer::Replace(Message::text(text).buttons(buttons))))
}

/// `/clean`.
pub(super) fn clean(asked: &Asked<'_>, typed: Clean) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(&typed.surface)?;
    in_register(tag, surface)?;
    let lang = asked.lang;
    let product = asked.guarded(typed.product)?;
    let note = asked.guarded(typed.note)?;
    let between = typed.reason == Cleaning::BetweenResidents;
    if between && surface.bed().is_some() {
        return Err(Refusal::new("fault-clean-still-under").text("tag", tag));
    }
    let mut draft = asked.draft();
    let body = Body::Cleaned {
        tag: tag.clone(),
        reason: typed.reason,
        method: typed.method,
        product,
        cover: typed.cover,
    };
    draft.fact_at(asked.now, body, note);
    let mut lines = vec![say!(
        lang,
        "clean-logged",
        surface = asked.with_bed(tag),
        method = say!(lang, &format!("method-{}", typed.method.as_str()))
    )];
    lines.push(say!(
        lang,
        &format!("clean-steps-{}", typed.method.as_str())
    ));
    let mut buttons = Vec::new();
    match typed.cover {
        Cover::Damaged => lines.push(damaged(asked, &mut draft, tag, surface)),
        Cover::Stained => lines.push(say!(lang, "clean-stained")),
        Cover::Intact => {}
    }
    if between {
        let done = typed.method != Method::SoapAndWater && typed.cover == Cover::Intact;
        if typed.method == Method::SoapAndWater {
            lines.push(say!(lang, "clean-soap-not-enough"));
        }
        if typed.cover != Cover::Damaged && matches!(surface.life, Life::Soiled(_)) {
            let after = after(surface, |turnover| turnover.cleaned = done);
            lines.push(what_is_left(lang, tag, &after));
            buttons = turnover_buttons(asked, tag, &after);
        }
    }
    lines.push(say!(lang, "clean-caution"));
    // What put a surface out of service is not taken back by a button.
    if typed.cover != Cover::Damaged {
        buttons.push(take_back(lang, &draft, tag));
    }
    Ok(draft.private(Message::text(lines.join("\n")).buttons(buttons)))
}

/// The facts and the sentence of one look at a filter.
fn look_at_filter(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &Surface,
    finding: Finding,
    action: Action,
) -> Result<(Draft, String), Refusal> {
    let lang = asked.lang;
    match (asked.state.profile_of(surface).filter, action) {
        (FilterKind::None, _) => return Err(Refusal::new("fault-no-filter").text("tag", tag)),
        (FilterKind::Replaceable, Action::Rinsed) => {
            return Err(Refusal::new("fault-filter-not-rinsed").text("tag", tag));
        }
        (FilterKind::Replaceable | FilterKind::Rinsable, _) => {}
    }
    let mut draft = asked.draft();
    draft.fact(Body::FilterLooked {
        tag: tag.clone(),
        finding,
        action,
    });
    super::stock::filter_used(asked, &mut draft, surface, action);
    let mut lines = vec![say!(
        lang,
        "filter-logged",
        surface = asked.with_bed(tag),
        finding = say!(lang, &format!("finding-{}", finding.as_str())),
        action = say!(lang, &format!("action-{}", action.as_str()))
    )];
    let left = action == Action::Left;
    match finding {
        Finding::Clogged if left => lines.push(say!(lang, "filter-clogged-left")),
        Finding::Damaged if left => lines.push(say!(lang, "filter-damaged-left")),
        Finding::Damaged if action == Action::Rinsed => {
            lines.push(say!(lang, "filter-damaged-rinsed"))
        }
        Finding::Dusty if left => lines.push(say!(lang, "filter-dusty-left")),
        Finding::Clean | Finding::Dusty | Finding::Clogged | Finding::Damaged => {}
    }
    if action == Action::Rinsed {
        lines.push(say!(lang, "filter-rinsed-dry"));
    }
    if filter_fit(finding, action) {
        let days = i64::from(asked.state.profile_of(surface).filter_check_days);
        lines.push(say!(lang, "filter-next", days = days));
    }
    if matches!(surface.life, Life::Soiled(_)) {
        lines.push(what_is_left(
            lang,
            tag,
            &after_filter(surface, finding, action),
        ));
    }
    Ok((draft, lines.join("\n")))
}

/// A damaged cover lets fluid in: out of service, at once; under somebody the nurse is called.
fn damaged(asked: &Asked<'_>, draft: &mut Draft, tag: &Tag, surface: &Surface) -> String {
    let lang = asked.lang;
    if matches!(surface.life, Life::OutOfService { .. }) {
        return say!(lang, "clean-damaged", tag = tag.as_str());
    }
    let record = draft.fact(Body::Pulled {
        tag: tag.clone(),
        fault: Fault::Cover,
    });
    let post_lang = Lang::default();
    let under = surface.bed().is_some();
    let key = if under {
        "post-cover-under"
    } else {
        "post-cover"
    };
    let text = say!(
        post_lang,
        key,
        surface = in_post(asked.state, post_lang, tag),
        who = person(asked.ask.who)
    );
    let roles: &[Role] = if under {
        &[Role::Nurse, Role::Upkeep]
    } else {
        &[Role::Upkeep]
    };
    let message = Message::text(text).pinging(alarm::ping_roles(asked.facility, roles));
    draft.post(
        format!("pulled:{record}"),
        alarm::channel(asked.state, asked.facility, tag),
        Lane::Reminder,
        message,
    );
    say!(
        lang,
        if under {
            "clean-damaged-under"
        } else {
            "clean-damaged"
        },
        tag = tag.as_str()
    )
}

fn in_register(tag: &Tag, surface: &Surface) -> Result<(), Refusal> {
    match &surface.life {
        Life::Retired { .. } => Err(Refusal::new("fault-retired").text("tag", tag)),
        Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } | Life::OutOfService { .. } => {
            Ok(())
        }
    }
}

fn turning<'a>(
    asked: &Asked<'_>,
    tag: &Tag,
    surface: &'a Surface,
) -> Result<&'a Turnover, Refusal> {
    match &surface.life {
        Life::Soiled(turnover) => Ok(turnover),
        Life::Ready { .. } => Err(Refusal::new("fault-ready-already").text("tag", tag)),
        Life::Placed { .. } | Life::OutOfService { .. } | Life::Retired { .. } => {
            Err(Refusal::new("fault-no-turnover").text("surface", asked.with_bed(tag)))
        }
    }
}

/// How the surface will stand once this step is a fact.
fn after(surface: &Surface, step: impl FnOnce(&mut Turnover)) -> Surface {
    let mut after = surface.clone();
    if let Life::Soiled(turnover) = &mut after.life {
        step(turnover);
    }
    after
}

fn after_filter(surface: &Surface, finding: Finding, action: Action) -> Surface {
    after(surface, |turnover| {
        turnover.filter = filter_fit(finding, action)
    })
}

fn what_is_left(lang: Lang, tag: &Tag, surface: &Surface) -> String {
    let left = match &surface.life {
        Life::Soiled(turnover) => missing(turnover),
        Life::Placed { .. }
        | Life::Ready { .. }
        | Life::OutOfService { .. }
        | Life::Retired { .. } => Vec::new(),
    };
    if left.is_empty() {
        return say!(lang, "turn-ready", tag = tag.as_str());
    }
    let left: Vec<String> = left.into_iter().map(|key| say!(lang, key)).collect();
    say!(
        lang,
        "turn-left",
        tag = tag.as_str(),
        left = left.join(", ")
    )
}

/// The keys of what a turnover still lacks.
pub(super) fn missing(turnover: &Turnover) -> Vec<&'static str> {
    [
        (turnover.cleaned, "lack-cleaned"),
        (turnover.filter, "lack-filter"),
        (turnover.function, "lack-function"),
    ]
    .into_iter()
    .filter(|(done, _)| !done)
    .map(|(_, key)| key)
    .collect()
}

/// Buttons for the steps of a turnover that are left and take one tap.
pub(super) fn turnover_buttons(asked: &Asked<'_>, tag: &Tag, surface: &Surface) -> Vec<Button> {
    let lang = asked.lang;
    let Life::Soiled(turnover) = &surface.life else {
        return Vec::new();
    };
    let mut buttons = Vec::new();
    if !turnover.filter {
        let dirty = match asked.state.profile_of(surface).filter {
            FilterKind::Rinsable => "button-filter-rinsed",
            FilterKind::Replaceable | FilterKind::None => "button-filter-replaced",
        };
        let filter = |finding| Tap::TurnFilter {
            tag: tag.clone(),
            finding,
        };
        buttons.push(button(
            lang,
            "button-filter-clean",
            Look::Good,
            &filter(Finding::Clean),
        ));
        buttons.push(button(lang, dirty, Look::Plain, &filter(Finding::Dusty)));
    }
    if !turnover.function {
        buttons.push(button(
            lang,
            "button-function",
            Look::Good,
            &Tap::TurnFunction { tag: tag.clone() },
        ));
    }
    buttons
}

fn replaced(message: Message) -> Decision {
    Decision {
        answer: Some(Answer::Replace(message)),
        ..Decision::default()
    }
}

/// What a promised call says.
pub(super) fn notice(
    _state: &State,
    _facility: &Facility,
    _call: Call,
    _tag: &Tag,
    _now: DateTime<Utc>,
) -> Option<Notice> {
    None
}
