//! The lists behind a turnover: disinfectants, storage places, the marker of a surface. Decides what may stand on them.

use super::draft::{Asked, Draft};
use super::turnover::{self, Going};
use super::{facility, wish};
use crate::choice::{Cleaning, Cover, Method, Switch};
use crate::decision::Decision;
use crate::ids::{ProductName, Tag};
use crate::message::Message;
use crate::record::{Body, Wish};
use crate::refusal::Refusal;
use crate::rules::guard::{self, Field, Found};
use crate::rules::nearest::{self, Match};
use crate::rules::turnover::undoes;
use crate::say;
use crate::state::{Life, Product, State, Surface};
use crate::words::Lang;

/// The longest name of a product or a place, in characters.
const NAME_CHARS_MAX: usize = 40;
/// How many products a list holds: as many as one menu of suggestions shows.
const PRODUCTS_MAX: usize = crate::message::ENTRIES_MAX;

/// `/facility product`.
pub(super) fn product(
    asked: &Asked<'_>,
    name: &str,
    method: Option<Method>,
    contact: Option<i64>,
    sporicidal: Option<Switch>,
) -> Result<Decision, Refusal> {
    let (state, lang) = (asked.state, asked.lang);
    let found = nearest::find(name, state.products.keys().map(ProductName::as_str));
    let known = match found {
        Match::One(name) => state.products.get_key_value(name),
        Match::Several(_) | Match::Nearest(_) => None,
    };
    if method.is_none() && contact.is_none() && sporicidal.is_none() {
        let (name, product) = known.ok_or_else(|| unknown(state, name))?;
        return Ok(Decision::private(Message::text(product_words(
            lang, name, product,
        ))));
    }
    let mut draft = asked.draft();
    if contact == Some(0) {
        let (name, product) = known.ok_or_else(|| unknown(state, name))?;
        let wish = Wish::ProductOff { name: name.clone() };
        // Where spores were found no other product will do.
        if only_sporicidal(state, name) && wish::waits(asked) {
            return Ok(wish::ask(asked, wish));
        }
        wish::overtaken(asked, &mut draft, &wish);
        let shown = super::check::escaped(name.as_str());
        let old = figures(state.lang(), product);
        let new = say!(state.lang(), "not-on-the-list");
        facility::tell(asked, &mut draft, vec![(shown, old, new)]);
        draft.fact(Body::ProductDropped { name: name.clone() });
        let key = if state.products.len() == 1 {
            "product-dropped-last"
        } else {
            "product-dropped"
        };
        let text = say!(lang, key, name = super::check::escaped(name.as_str()));
        return Ok(draft.private(Message::text(text)));
    }
    let before = known.map(|(_, product)| product);
    let method = method.or(before.map(|product| product.method));
    let contact = contact
        .and_then(|minutes| u16::try_from(minutes).ok())
        .or(before.map(|product| product.contact_minutes));
    let (Some(method), Some(contact_minutes)) = (method, contact) else {
        return Err(Refusal::new("fault-product-new"));
    };
    if method == Method::SoapAndWater {
        return Err(Refusal::new("fault-product-soap"));
    }
    let name = match known {
        Some((name, _)) => name.clone(),
        None if state.products.len() >= PRODUCTS_MAX => {
            return Err(Refusal::new("fault-products-many").number("most", PRODUCTS_MAX as i64));
        }
        None => ProductName::from(named(name, "name")?),
    };
    let product = Product {
        method,
        contact_minutes,
        sporicidal: sporicidal.map_or_else(
            || before.is_some_and(|product| product.sporicidal),
            |switch| switch == Switch::On,
        ),
    };
    // A shorter time, spores where none were, or a product that is new: whoever sets it up may be wrong about the label.
    let looser = before.is_none_or(|before| {
        contact_minutes < before.contact_minutes
            || product.method != before.method
            || (product.sporicidal && !before.sporicidal)
    });
    let wish = Wish::Product {
        name: name.clone(),
        method,
        contact_minutes,
        sporicidal: product.sporicidal,
    };
    if looser && wish::waits(asked) {
        return Ok(wish::ask(asked, wish));
    }
    wish::overtaken(asked, &mut draft, &wish);
    let post_lang = state.lang();
    let old = before.map_or_else(
        || say!(post_lang, "not-on-the-list"),
        |before| figures(post_lang, before),
    );
    let shown = super::check::escaped(name.as_str());
    facility::tell(
        asked,
        &mut draft,
        vec![(shown, old, figures(post_lang, &product))],
    );
    draft.fact(Body::ProductSet {
        name: name.clone(),
        method,
        contact_minutes,
        sporicidal: product.sporicidal,
    });
    let mut lines = vec![
        say!(lang, "product-set"),
        product_words(lang, &name, &product),
    ];
    if product.sporicidal && method == Method::Quaternary {
        lines.push(say!(lang, "product-quaternary-spores"));
    }
    Ok(draft.private(Message::text(lines.join("\n"))))
}

/// Whether this is the last product against spores while a surface waits to be cleaned with one.
fn only_sporicidal(state: &State, name: &ProductName) -> bool {
    let against = |of: &ProductName| state.products.get(of).is_some_and(|it| it.sporicidal);
    against(name)
        && state.surfaces.values().any(|surface| surface.clean_last)
        && !state.products.keys().any(|of| of != name && against(of))
}

fn unknown(state: &State, typed: &str) -> Refusal {
    let typed = super::check::escaped(typed);
    if state.products.is_empty() {
        return Refusal::new("fault-product-empty").text("typed", typed);
    }
    let all: Vec<String> = state
        .products
        .keys()
        .map(|name| super::check::escaped(name.as_str()))
        .collect();
    Refusal::new("fault-product-unknown")
        .text("typed", typed)
        .text("these", all.join(", "))
}

/// A product in a line.
pub(super) fn product_words(lang: Lang, name: &ProductName, product: &Product) -> String {
    let key = if product.sporicidal {
        "show-product-sporicidal"
    } else {
        "show-product"
    };
    say!(
        lang,
        key,
        name = super::check::escaped(name.as_str()),
        method = say!(lang, &format!("method-{}", product.method.as_str())),
        minutes = i64::from(product.contact_minutes)
    )
}

/// What is said of a product, without its name.
pub(super) fn figures(lang: Lang, product: &Product) -> String {
    let key = if product.sporicidal {
        "product-figures-sporicidal"
    } else {
        "product-figures"
    };
    say!(
        lang,
        key,
        method = say!(lang, &format!("method-{}", product.method.as_str())),
        minutes = i64::from(product.contact_minutes)
    )
}

/// A product in a suggestion, which shows no markup.
pub(super) fn plain_words(lang: Lang, name: &ProductName, product: &Product) -> String {
    let key = if product.sporicidal {
        "suggest-product-sporicidal"
    } else {
        "suggest-product"
    };
    say!(
        lang,
        key,
        name = name.as_str(),
        minutes = i64::from(product.contact_minutes)
    )
}

/// A name that is shown in posts: short, plain, and of nobody.
fn named(text: &str, option: &'static str) -> Result<String, Refusal> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() > NAME_CHARS_MAX {
        return Err(Refusal::new("fault-too-long")
            .text("option", option)
            .number("most", NAME_CHARS_MAX as i64));
    }
    let plain = |c: char| c.is_alphanumeric() || " -.,&/%+'()".contains(c);
    if !text.chars().any(char::is_alphanumeric) || !text.chars().all(plain) {
        return Err(Refusal::new("fault-plain-name").text("option", option));
    }
    guard::check(&text, Field::Register).map_err(super::draft::private_fault)?;
    // No organism either: a name here stands in what everybody reads about a surface.
    if guard::check(&text, Field::Note) == Err(Found::Diagnosis) {
        return Err(super::draft::private_fault(Found::Diagnosis));
    }
    Ok(text)
}

/// `/facility storage`.
pub(super) fn storage(asked: &Asked<'_>, dirty: &str, clean: &str) -> Result<Decision, Refusal> {
    let dirty = named(dirty, "dirty")?;
    let clean = named(clean, "clean")?;
    if nearest::fold(&dirty) == nearest::fold(&clean) {
        return Err(Refusal::new("fault-storage-same"));
    }
    let text = say!(
        asked.lang,
        "storage-set",
        dirty = super::check::escaped(&dirty),
        clean = super::check::escaped(&clean)
    );
    let mut draft = asked.draft();
    let post_lang = asked.state.lang();
    let places = |dirty: &str, clean: &str| {
        let (dirty, clean) = (super::check::escaped(dirty), super::check::escaped(clean));
        format!("{dirty} · {clean}")
    };
    let old = asked.state.storage.as_ref().map_or_else(
        || say!(post_lang, "not-on-the-list"),
        |before| places(&before.dirty, &before.clean),
    );
    let change = (say!(post_lang, "what-storage"), old, places(&dirty, &clean));
    facility::tell(asked, &mut draft, vec![change]);
    draft.fact(Body::StorageSet { dirty, clean });
    Ok(draft.private(Message::text(text)))
}

/// `/mark`.
pub(super) fn mark(
    asked: &Asked<'_>,
    typed: &str,
    clean_last: Switch,
) -> Result<Decision, Refusal> {
    let (tag, surface) = asked.surface(typed)?;
    super::clean::in_register(tag, surface)?;
    let lang = asked.lang;
    let on = clean_last == Switch::On;
    let surface_words = asked.with_bed(tag);
    if surface.clean_last == on {
        let key = if on {
            "mark-on-already"
        } else {
            "mark-off-already"
        };
        let text = say!(lang, key, surface = surface_words);
        return Ok(Decision::private(Message::text(text)));
    }
    let mut draft = asked.draft();
    if !on {
        draft.fact(Body::Marked {
            tag: tag.clone(),
            clean_last: false,
        });
        let text = say!(lang, "mark-off", surface = surface_words);
        return Ok(draft.private(Message::text(text)));
    }
    let mut lines = vec![say!(lang, "mark-on", surface = surface_words)];
    match &surface.life {
        // What was cleaned without a sporicide is cleaned again before anybody lies on it.
        Life::Ready { .. } => {
            turnover::open(asked, &mut draft, tag, surface);
            lines.push(say!(lang, "mark-on-ready"));
        }
        // One that was begun before turnovers had lists gets one, which knows the marker.
        Life::Soiled(before) if before.steps.is_empty() => {
            turnover::open(asked, &mut draft, tag, surface);
            lines.push(say!(lang, "mark-on-again"));
        }
        Life::Soiled(_) if !with_sporicide(asked.state, surface) => {
            let mut going = Going::of(asked, tag, surface)?;
            let all = undoes(Cleaning::Soiled, Method::SoapAndWater, Cover::Intact);
            if all.iter().any(|step| going.has(*step)) {
                going.undo(&mut draft, all);
                going.wet_no_more(asked, &mut draft);
                lines.push(say!(lang, "mark-on-again"));
            }
        }
        Life::Soiled(_)
        | Life::Placed { .. }
        | Life::OutOfService { .. }
        | Life::Retired { .. } => {}
    }
    set_mark(&mut draft, tag);
    Ok(draft.private(Message::text(lines.join("\n"))))
}

/// Cleaned last and with a sporicide only, from now on. Which organism it is for is nowhere asked, said or kept.
pub(super) fn set_mark(draft: &mut Draft, tag: &Tag) {
    draft.fact(Body::Marked {
        tag: tag.clone(),
        clean_last: true,
    });
}

fn with_sporicide(state: &State, surface: &Surface) -> bool {
    surface
        .cleaned
        .as_ref()
        .and_then(|clean| clean.product.as_deref())
        .and_then(|name| state.products.get(name))
        .is_some_and(|product| product.sporicidal)
}
