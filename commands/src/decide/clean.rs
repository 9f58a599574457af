//! Cleaning, where a surface is or between residents. Decides with what it is done, what it counts for and what it
//! undoes, and that no product goes on top of another; leaves the steps after it to `turnover`.

use chrono::TimeDelta;

use super::draft::{Asked, Draft, button, clock_time, take_back};
use super::out;
use super::turnover::{self, Going};
use crate::choice::{Cleaning, Cover, Method, TurnStep};
use crate::decision::Decision;
use crate::ids::{ProductName, Tag};
use crate::message::{Look, Message, Row};
use crate::record::{Body, Fault};
use crate::refusal::Refusal;
use crate::request::Clean;
use crate::rules::nearest::{self, Match};
use crate::rules::turnover::{cleaning_counts, undoes};
use crate::say;
use crate::state::{Life, Product, Surface};
use crate::tap::{Began, Tap, Work};

/// What it was cleaned with.
struct With<'a> {
    /// As it is shown. One that is not on the list is free text: it is kept as a note is, so that it can be erased.
    name: Option<String>,
    /// As it stands on the home's list.
    listed: Option<&'a Product>,
    /// It was the only one of its kind and was not typed.
    taken: bool,
}

impl With<'_> {
    /// What the record itself says: a name that the home has put on its list.
    fn on_the_list(&self) -> Option<String> {
        self.listed.and(self.name.clone())
    }

    /// A product that is on no list.
    fn in_words(&self) -> Option<String> {
        self.name.clone().filter(|_| self.listed.is_none())
    }

    /// What is written beside the record: a product that is on no list, before what was noted.
    fn noted(&self, note: Option<String>) -> Option<String> {
        match (self.in_words(), note) {
            (Some(product), Some(note)) => Some(format!("{product}\n{note}")),
            (one, other) => one.or(other),
        }
    }
}

/// Outside of a turnover nothing says that a product was rinsed off; so long after it the question would be a nuisance
/// (common practice: contact times are at most some ten minutes).
const STILL_ON: TimeDelta = TimeDelta::hours(1);

/// `/clean`. Another product on top of one that was not rinsed off is asked about first.
pub(super) fn clean(asked: &Asked<'_>, typed: Clean) -> Result<Decision, Refusal> {
    match rinse_first(asked, &typed)? {
        Some(question) => Ok(question),
        None => rinsed(asked, typed),
    }
}

/// Bleach on a quaternary, or the other way round, can give off gas and leaves both weaker: labels and CDC's Guideline for
/// Disinfection, 2008 (from memory), forbid to mix them. Soap and water is what takes one off.
fn rinse_first(asked: &Asked<'_>, typed: &Clean) -> Result<Option<Decision>, Refusal> {
    let (tag, surface) = asked.surface(&typed.surface)?;
    let Some(before) = surface.cleaned.as_ref().filter(|before| {
        let other = match (&before.product, &typed.product) {
            (Some(before), Some(now)) => nearest::fold(before) != nearest::fold(now),
            // What it was stands at most in a note: it may have been another.
            (None, Some(_)) => true,
            (_, None) => false,
        };
        let wet = [before.method, typed.method]
            .iter()
            .all(|method| *method != Method::SoapAndWater);
        wet && (before.method != typed.method || other)
    }) else {
        return Ok(None);
    };
    let turnover = match &surface.life {
        Life::Soiled(turnover) if before.at >= turnover.since => Some(turnover),
        Life::Soiled(_)
        | Life::Placed { .. }
        | Life::Ready { .. }
        | Life::OutOfService { .. }
        | Life::Retired { .. } => None,
    };
    let is_off = match turnover {
        Some(turnover) => turnover
            .shown
            .get(&TurnStep::Dried)
            .is_some_and(|dried| dried.at >= before.at),
        None => asked.now - before.at >= STILL_ON,
    };
    if is_off {
        return Ok(None);
    }
    // What would be refused is refused before anybody is asked.
    let between = typed.reason == Cleaning::BetweenResidents;
    let with = with(asked, typed.product.clone(), typed.method, between)?;
    let lang = asked.lang;
    let name = match &before.product {
        Some(product) => super::check::escaped(product),
        None => say!(lang, &format!("method-{}", before.method.as_str())),
    };
    let mut text = say!(
        lang,
        "clean-rinse-first",
        surface = asked.with_bed(tag),
        product = name,
        at = clock_time(before.at)
    );
    if asked.guarded(typed.note.clone())?.is_some() {
        text.push('\n');
        text.push_str(&say!(lang, "clean-rinse-note"));
    }
    let tap = Tap::Work(Work::Rinsed {
        tag: tag.clone(),
        of: turnover.map_or(Began(0), |turnover| Began(turnover.said.timestamp() / 60)),
        reason: typed.reason,
        method: typed.method,
        cover: typed.cover,
        product: with.name.filter(|name| Work::fits_rinsed(name)),
    });
    let button = button(lang, "button-rinsed", Look::Good, &tap);
    let question = Message::text(text).buttons(vec![button]);
    Ok(Some(Decision::private(question)))
}

/// A cleaning with nothing below it that must come off first.
pub(super) fn rinsed(asked: &Asked<'_>, typed: Clean) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(&typed.surface)?;
    in_register(tag, surface)?;
    let lang = asked.lang;
    let note = asked.guarded(typed.note)?;
    let between = typed.reason == Cleaning::BetweenResidents;
    if between && surface.bed().is_some() {
        return Err(Refusal::new("fault-clean-still-under").text("tag", tag));
    }
    let with = with(asked, typed.product, typed.method, between)?;
    asked.guarded(with.in_words())?;
    let note = with.noted(note);
    let mut draft = asked.draft();
    let body = Body::Cleaned {
        tag: tag.clone(),
        reason: typed.reason,
        method: typed.method,
        product: with.on_the_list(),
        cover: typed.cover,
    };
    let record = draft.fact_at(asked.now, body, note);
    let logged = logged(asked, tag, typed.method, &with);
    let mut lines = vec![super::entry::numbered(lang, &logged, record)];
    if surface.clean_last {
        lines.push(say!(lang, "turn-marked"));
    }
    lines.push(say!(
        lang,
        &format!("clean-steps-{}", typed.method.as_str())
    ));
    match typed.cover {
        Cover::Damaged => {
            lines.push(damaged(asked, &mut draft, tag, surface));
            lines.push(say!(lang, "clean-caution"));
            // What put a surface out of service is not taken back by a button.
            return Ok(draft.private(Message::text(lines.join("\n"))));
        }
        Cover::Stained => lines.push(say!(lang, "clean-stained")),
        Cover::Intact => {}
    }
    let mut rows = Vec::new();
    match &surface.life {
        Life::Soiled(_) => {
            let going = Going::of(asked, tag, surface)?;
            let (more, going) = in_turnover(
                asked,
                &mut draft,
                going,
                (typed.reason, typed.method, typed.cover),
                &with,
            );
            lines.extend(more);
            rows = going.rows(asked, None);
        }
        // What was soiled on the shelf does not go to a resident as it is.
        Life::Ready { .. } if typed.reason == Cleaning::Soiled => {
            turnover::open(asked, &mut draft, tag, surface);
            lines.push(say!(lang, "clean-ready-soiled", tag = tag.as_str()));
        }
        Life::OutOfService { under: None, .. } => {
            lines.push(say!(lang, "clean-still-out", tag = tag.as_str()));
        }
        Life::Ready { .. }
        | Life::Placed { .. }
        | Life::OutOfService { .. }
        | Life::Retired { .. } => {}
    }
    lines.push(say!(lang, "clean-caution"));
    // A turnover that this began is not taken back by a button either.
    let began = matches!(surface.life, Life::Ready { .. }) && typed.reason == Cleaning::Soiled;
    if !began {
        rows.push(Row::Buttons(vec![take_back(lang, &draft, tag)]));
    }
    let mut message = Message::text(lines.join("\n"));
    message.rows = rows;
    Ok(draft.private(message))
}

fn logged(asked: &Asked<'_>, tag: &Tag, method: Method, with: &With<'_>) -> String {
    let lang = asked.lang;
    let surface = asked.with_bed(tag);
    let method = say!(lang, &format!("method-{}", method.as_str()));
    match &with.name {
        Some(product) => {
            let key = if with.taken {
                "clean-logged-taken"
            } else {
                "clean-logged-product"
            };
            let product = super::check::escaped(product);
            say!(
                lang,
                key,
                surface = surface,
                product = product,
                method = method
            )
        }
        None => say!(lang, "clean-logged", surface = surface, method = method),
    }
}

/// What a cleaning means for the turnover that is under way.
fn in_turnover<'a>(
    asked: &Asked<'_>,
    draft: &mut Draft,
    mut going: Going<'a>,
    (reason, method, cover): (Cleaning, Method, Cover),
    with: &With<'_>,
) -> (Vec<String>, Going<'a>) {
    let lang = asked.lang;
    let mut lines = Vec::new();
    let marked = going.surface.clean_last;
    let sporicidal = with.listed.is_some_and(|product| product.sporicidal);
    let between = reason == Cleaning::BetweenResidents;
    let counts = between && cleaning_counts(method, cover, marked, sporicidal);
    // A disinfectant that does not count leaves no claim behind either.
    let undone = if between && !counts && method != Method::SoapAndWater {
        undoes(reason, method, Cover::Stained)
    } else {
        undoes(reason, method, cover)
    };
    let had = going.has(TurnStep::Cleaned);
    going.undo(draft, undone);
    if counts {
        going.show(asked, draft, TurnStep::Cleaned);
        match with.listed {
            Some(product) => {
                let minutes = i64::from(product.contact_minutes);
                let until = asked.now + TimeDelta::minutes(minutes);
                going.wet(draft, until);
                let at = clock_time(until);
                lines.push(say!(lang, "clean-wet-until", at = at, minutes = minutes));
            }
            None => going.wet_no_more(asked, draft),
        }
        if asked.state.products.is_empty() {
            lines.push(say!(lang, "clean-no-list"));
        }
    } else {
        if between {
            going.not_cleaned();
        }
        if had && !going.has(TurnStep::Cleaned) {
            going.wet_no_more(asked, draft);
            lines.push(say!(lang, "clean-again"));
        }
        if between && method == Method::SoapAndWater {
            lines.push(say!(lang, "clean-soap-not-enough"));
        } else if between && cover == Cover::Stained {
            lines.push(say!(lang, "clean-stained-not-finished"));
        } else if between && cover == Cover::Intact && marked {
            let key = if asked.state.products.is_empty() {
                "clean-marked-no-list"
            } else {
                "clean-marked-not-sporicidal"
            };
            lines.push(say!(lang, key));
        }
    }
    lines.push(going.left(lang));
    (lines, going)
}

/// The product that was used. Between residents it is one of the home's list, if there is a list.
fn with<'a>(
    asked: &Asked<'a>,
    typed: Option<String>,
    method: Method,
    between: bool,
) -> Result<With<'a>, Refusal> {
    let products = &asked.state.products;
    let found = typed
        .as_deref()
        .map(|text| nearest::find(text, products.keys().map(ProductName::as_str)));
    if let Some(Match::One(name)) = found
        && let Some(product) = products.get(name)
    {
        if product.method != method {
            return Err(Refusal::new("fault-product-method")
                .text("name", super::check::escaped(name))
                .text("method", product.method.as_str()));
        }
        return Ok(With {
            name: Some(name.to_owned()),
            listed: Some(product),
            taken: false,
        });
    }
    // What is on the list has passed the guard as a label; anything else is free text.
    let free = asked.guarded(typed.clone())?;
    if !between || method == Method::SoapAndWater || products.is_empty() {
        return Ok(With {
            name: free,
            listed: None,
            taken: false,
        });
    }
    let of_kind: Vec<(&ProductName, &Product)> = products
        .iter()
        .filter(|(_, product)| product.method == method)
        .collect();
    let names = |list: &[(&ProductName, &Product)]| {
        let names: Vec<String> = list
            .iter()
            .map(|(name, _)| super::check::escaped(name.as_str()))
            .collect();
        names.join(", ")
    };
    match (of_kind.as_slice(), found) {
        ([], _) => {
            let all: Vec<String> = products
                .iter()
                .map(|(name, product)| {
                    let name = super::check::escaped(name.as_str());
                    format!("{name} ({})", product.method.as_str())
                })
                .collect();
            Err(Refusal::new("fault-product-none")
                .text("method", method.as_str())
                .text("these", all.join(", ")))
        }
        ([(name, product)], None) => Ok(With {
            name: Some(name.to_string()),
            listed: Some(product),
            taken: true,
        }),
        (several, None) => Err(Refusal::new("fault-product-which").text("these", names(several))),
        (several, Some(Match::Nearest(near) | Match::Several(near))) => {
            let text = super::check::escaped(typed.as_deref().unwrap_or_default());
            let near: Vec<(&ProductName, &Product)> = several
                .iter()
                .copied()
                .filter(|(name, _)| near.contains(&name.as_str()))
                .collect();
            let these = if near.is_empty() { several } else { &near };
            Err(Refusal::new("fault-product-unlisted")
                .text("typed", text)
                .text("these", names(these)))
        }
        // A name that is on the list was taken above.
        (several, Some(Match::One(_))) => {
            Err(Refusal::new("fault-product-which").text("these", names(several)))
        }
    }
}

/// A damaged cover lets fluid in: out of service, at once; under somebody the nurse is called.
pub(super) fn damaged(
    asked: &Asked<'_>,
    draft: &mut Draft,
    tag: &Tag,
    surface: &Surface,
) -> String {
    let lang = asked.lang;
    if matches!(surface.life, Life::OutOfService { .. }) {
        return say!(lang, "clean-damaged", tag = tag.as_str());
    }
    let under = out::take_out(asked, draft, tag, surface, Fault::Cover, None);
    let key = if under {
        "clean-damaged-under"
    } else {
        "clean-damaged"
    };
    say!(lang, key, tag = tag.as_str())
}

pub(super) fn in_register(tag: &Tag, surface: &Surface) -> Result<(), Refusal> {
    match &surface.life {
        Life::Retired { .. } => Err(Refusal::new("fault-retired").text("tag", tag)),
        Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } | Life::OutOfService { .. } => {
            Ok(())
        }
    }
}
