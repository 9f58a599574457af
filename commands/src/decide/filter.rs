//! Looks at filters, by command and as a step of a turnover. Decides whether a filter is fit to go on.

use super::clean::in_register;
use super::cycle;
use super::draft::{Asked, Draft, take_back};
use super::turnover::{self, Going};
use crate::choice::{Action, FilterKind, Finding, TurnStep};
use crate::decision::Decision;
use crate::ids::Tag;
use crate::message::{Answer, Button, Message};
use crate::record::Body;
use crate::refusal::Refusal;
use crate::rules::turnover::filter_fit;
use crate::say;
use crate::state::Surface;
use crate::tap::Began;

/// `/filter`.
pub(super) fn filter(
    asked: &Asked<'_>,
    typed: &str,
    finding: Finding,
    action: Action,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    in_register(tag, surface)?;
    let mut draft = asked.draft();
    let text = look(asked, &mut draft, tag, surface, finding, action)?;
    let message = after(asked, &mut draft, tag, surface, (finding, action), text);
    Ok(draft.private(message))
}

/// A turnover's filter step from its button.
pub(super) fn turn_filter(
    asked: &Asked<'_>,
    tag: &Tag,
    of: Began,
    finding: Finding,
) -> Result<Decision, Refusal> {
    let going = turnover::same(asked, tag, of)?;
    let (tag, surface) = (going.tag, going.surface);
    if going.has(TurnStep::Filter) {
        let said = say!(asked.lang, "turn-filter-already", tag = tag.as_str());
        let message = going.card(asked, Some(said), None);
        return Ok(Decision {
            answer: Some(Answer::Replace(message)),
            ..Decision::default()
        });
    }
    // What is dirty does not go to the next resident; a rinsable one that is whole is rinsed.
    let rinsable = asked.state.profile_of(surface).filter == FilterKind::Rinsable;
    let action = match finding {
        Finding::Clean => Action::Left,
        Finding::Dusty | Finding::Clogged if rinsable => Action::Rinsed,
        Finding::Dusty | Finding::Clogged | Finding::Damaged => Action::Replaced,
    };
    let mut draft = asked.draft();
    let text = look(asked, &mut draft, tag, surface, finding, action)?;
    let message = after(asked, &mut draft, tag, surface, (finding, action), text);
    Ok(draft.answer(Answer::Replace(message)))
}

/// What a look means for a turnover that is under way, and what the person reads.
fn after(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
    (finding, action): (Finding, Action),
    (text, why): (String, Option<Button>),
) -> Message {
    let Some(mut going) = Going::under_way(asked, tag, surface) else {
        let back = take_back(asked.lang, draft, tag);
        let mut buttons = vec![back];
        buttons.extend(why);
        return Message::text(text).buttons(buttons);
    };
    if filter_fit(finding, action) {
        going.show(asked, draft, TurnStep::Filter);
    } else {
        going.undo(draft, &[TurnStep::Filter]);
    }
    turnover::go_on(asked, draft, going, Some(text))
}

/// The fact and the sentence of one look at a filter, and the way to the reason of its next.
fn look(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
    finding: Finding,
    action: Action,
) -> Result<(String, Option<Button>), Refusal> {
    let lang = asked.lang;
    match (asked.state.profile_of(surface).filter, action) {
        (FilterKind::None, _) => return Err(Refusal::new("fault-no-filter").text("tag", tag)),
        (FilterKind::Replaceable, Action::Rinsed) => {
            return Err(Refusal::new("fault-filter-not-rinsed").text("tag", tag));
        }
        (FilterKind::Replaceable | FilterKind::Rinsable, _) => {}
    }
    let before = cycle::Before {
        surface,
        looks: &surface.filter_looks,
        changed: surface.filter_changed,
        renewed: surface.filter_renewed,
        said: surface.filter.as_ref().and_then(|look| look.next),
    };
    let next = cycle::after_look(asked.state, tag, &before, (finding, action), draft.at);
    let record = draft.fact(Body::FilterLooked {
        tag: tag.clone(),
        finding,
        action,
        next: cycle::kept(next),
    });
    let left_on_shelf = super::stock::filter_used(asked, draft, surface, action);
    let logged = say!(
        lang,
        "filter-logged",
        surface = asked.with_bed(tag),
        finding = say!(lang, &format!("finding-{}", finding.as_str())),
        action = say!(lang, &format!("action-{}", action.as_str()))
    );
    let mut lines = vec![super::entry::numbered(lang, &logged, record)];
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
    let seen = cycle::Seen {
        tag,
        before: &before,
        finding,
        action,
        at: draft.at,
    };
    lines.extend(seen.early(asked));
    if action == Action::Rinsed {
        lines.push(say!(lang, "filter-rinsed-dry"));
    }
    if action != Action::Left && surface.bed().is_some() {
        lines.push(say!(lang, "filter-under"));
    }
    let (text, why) = next.map(|next| seen.next(asked, next)).unzip();
    if let Some(too_old) = next.and_then(|_| seen.too_old(asked)) {
        lines.push(too_old);
    } else {
        lines.extend(text);
        let new = next.and_then(|next| seen.new_instead(asked, next));
        lines.extend(new.map(|(age, days)| {
            say!(
                lang,
                "filter-new-instead",
                age = i64::from(age),
                days = i64::from(days)
            )
        }));
    }
    lines.extend(left_on_shelf);
    Ok((lines.join("\n"), why.flatten()))
}
