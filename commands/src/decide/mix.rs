//! Bleach and water for a wanted strength. Decides what is said of it, protection first; leaves the amounts to
//! `rules::bleach`, the strength to whoever asks, and everything else to the label, the maker and the home's policy.
//! Nothing is recorded.

use chrono::TimeDelta;

use super::check::escaped;
use super::draft::{Asked, button, day_time};
use crate::choice::Method;
use crate::decision::Decision;
use crate::message::{Button, Choice, Look, Message};
use crate::refusal::Refusal;
use crate::rules::bleach::{
    self, BleachFault, Measured, Mixture, Strength, Unit, Volume, measured,
};
use crate::rules::figure;
use crate::rules::policy::Name;
use crate::say;
use crate::state::State;
use crate::tap::{Mixing, Sum, Tap};
use crate::words::Lang;

/// Strengths that are offered while somebody types: weak for surfaces, strong for spores (trade literature has them; which
/// is wanted is the home's policy).
const OFFERED_PPM: [u32; 4] = [500, 1_000, 5_000, 10_000];
/// Amounts that are offered while somebody types: what bottles, jugs and buckets hold.
const OFFERED_VOLUMES: [&str; 6] = ["1 L", "1 gal", "1 qt", "500 mL", "32 oz", "5 L"];

/// What is put together, exactly and as it can be measured.
struct Sums {
    exact: Mixture,
    bleach: Measured,
}

impl Sums {
    /// The parts of water to one of bleach as it is measured.
    fn water_parts(&self, all: Volume) -> f64 {
        (all.ml - self.bleach.volume.ml) / self.bleach.volume.ml
    }
}

/// The usual strength against spores, in ppm, and the strongest that trade literature has for surfaces: what is above is
/// asked back (common practice: 1:10 of household bleach is about 5,000 ppm; 10,000 for spills).
const USUAL_PPM: u32 = 5_000;
const STRONG_PPM: u32 = 10_000;

/// `/mix`. A strength that nobody uses on a surface is a slip of the point more often than it is meant.
pub(super) fn mix(asked: &Asked<'_>, mixing: Mixing) -> Result<Decision, Refusal> {
    if mixing.target.0 > STRONG_PPM {
        sums(asked, &mixing)?;
        return Ok(asked_back(asked.lang, mixing));
    }
    recipe(asked, mixing)
}

fn asked_back(lang: Lang, mixing: Mixing) -> Decision {
    let tenth = Mixing {
        target: Strength(mixing.target.0 / 10),
        ..mixing
    };
    let button = |key, look, of: Mixing| Button {
        id: Tap::Sum(Sum::MixSure(of)).id(),
        label: say!(
            lang,
            key,
            percent = percent(of.target),
            ppm = ppm(of.target)
        ),
        look,
    };
    let text = say!(
        lang,
        "mix-strong",
        percent = percent(mixing.target),
        ppm = ppm(mixing.target),
        times = figure::show(f64::from(mixing.target.0) / f64::from(USUAL_PPM), 1),
        usual = ppm(Strength(USUAL_PPM)),
        less = percent(tenth.target)
    );
    Decision::private(Message::text(text).buttons(vec![
        button("button-mix-less", Look::Good, tenth),
        button("button-mix-sure", Look::Caution, mixing),
    ]))
}

/// What is put together, and what it is to be handled like.
pub(super) fn recipe(asked: &Asked<'_>, mixing: Mixing) -> Result<Decision, Refusal> {
    let sums = sums(asked, &mixing)?;
    let (state, lang) = (asked.state, asked.lang);
    let hours = state.policies.get(Name::BleachHours);
    let mut lines = vec![
        say!(lang, "mix-protect"),
        say!(
            lang,
            "mix-amounts",
            bleach = pieces(lang, &sums.bleach),
            volume = volume(lang, mixing.volume(), mixing.unit)
        ),
        say!(
            lang,
            "mix-makes",
            ppm = ppm(mixing.target),
            percent = percent(mixing.target),
            stock = percent(mixing.stock),
            // Of what is measured, which stands above it; "why?" has the exact ones.
            parts = figure::show(sums.water_parts(mixing.volume()), 1)
        ),
    ];
    if !mixing.unit.is_metric()
        && !sums
            .bleach
            .pieces
            .iter()
            .any(|piece| piece.unit.is_metric())
    {
        lines.push(say!(
            lang,
            "mix-in-ml",
            bleach = ml(sums.bleach.volume),
            volume = ml(mixing.volume())
        ));
    }
    let usual = state.policies.get(Name::BleachStock);
    if usual != 0 && usual != i64::from(mixing.stock.0) {
        let usual = Strength(u32::try_from(usual).unwrap_or_default());
        lines.push(say!(lang, "mix-not-usual", usual = percent(usual)));
    }
    lines.push(say!(lang, "mix-order"));
    lines.push(say!(
        lang,
        "mix-label",
        ppm = ppm(mixing.target),
        made = day_time(asked.now),
        // Hours that have passed, whatever clocks on the wall did meanwhile.
        until = day_time(asked.now + TimeDelta::hours(hours)),
        hours = hours
    ));
    lines.push(say!(lang, "mix-first"));
    lines.push(contact(state, lang));
    lines.push(say!(lang, "mix-foot"));
    let tap = Tap::Sum(Sum::Mix(mixing));
    let why = button(lang, "button-why", Look::Plain, &tap);
    Ok(Decision::private(
        Message::text(lines.join("\n")).buttons(vec![why]),
    ))
}

/// "Why?" below it.
pub(super) fn why(asked: &Asked<'_>, mixing: Mixing) -> Result<Decision, Refusal> {
    let sums = sums(asked, &mixing)?;
    let lang = asked.lang;
    let water = Volume {
        ml: mixing.volume().ml - sums.bleach.volume.ml,
    };
    let made = bleach::made(mixing.stock, sums.bleach.volume, water).unwrap_or_default();
    let text = say!(
        lang,
        "mix-why",
        stock = percent(mixing.stock),
        percent = percent(mixing.target),
        ppm = ppm(mixing.target),
        parts = figure::show(sums.exact.parts_of_water, 2),
        exact = figure::show(sums.exact.bleach.ml, 2),
        measured = figure::show(sums.bleach.volume.ml, 1),
        volume = volume(lang, mixing.volume(), mixing.unit),
        made = figure::show(made, 0)
    );
    Ok(Decision::private(Message::text(text)))
}

/// What could be meant while a strength or an amount is typed.
pub(super) fn suggest(state: &State, lang: Lang, option: &str, typed: &str) -> Vec<Choice> {
    if state.policies.get(Name::BleachMixing) == 0 {
        return Vec::new();
    }
    match option {
        "stock" => stocks(state, lang, typed),
        "target" => targets(typed),
        "volume" => volumes(lang, typed),
        _ => Vec::new(),
    }
}

/// What the label says is read and not chosen from a list: only the home's usual bleach is offered, and what was typed as
/// it is read.
fn stocks(state: &State, lang: Lang, typed: &str) -> Vec<Choice> {
    let typed = bleach::parse_stock(typed).ok();
    let usual = state.policies.get(Name::BleachStock);
    let usual = u32::try_from(usual).ok().filter(|ppm| *ppm > 0);
    let choice = |strength: Strength| Choice {
        label: say!(
            lang,
            "suggest-mix-stock",
            percent = percent(strength),
            ppm = ppm(strength)
        ),
        value: format!("{} %", percent(strength)),
    };
    typed
        .into_iter()
        .chain(usual.map(Strength).filter(|_| typed.is_none()))
        .map(choice)
        .collect()
}

fn targets(typed: &str) -> Vec<Choice> {
    let choice = |strength: Strength| Choice {
        label: format!("{} ppm = {} %", ppm(strength), percent(strength)),
        value: format!("{} ppm", strength.0),
    };
    match bleach::parse_target(typed) {
        Ok(strength) => vec![choice(strength)],
        Err(BleachFault::Empty) => OFFERED_PPM.map(|ppm| choice(Strength(ppm))).to_vec(),
        // A number without a unit, in each unit that makes sense of it.
        Err(BleachFault::WhichUnit) => ["ppm", "%"]
            .iter()
            .filter_map(|unit| bleach::parse_target(&format!("{typed} {unit}")).ok())
            .filter(|strength| *strength < bleach::STRONGEST_STOCK)
            .map(choice)
            .collect(),
        Err(_) => Vec::new(),
    }
}

fn volumes(lang: Lang, typed: &str) -> Vec<Choice> {
    let choice = |text: &str| {
        let (amount, unit) = bleach::parse_volume(text).ok()?;
        Some(Choice {
            label: volume(lang, amount, unit),
            value: text.to_owned(),
        })
    };
    match bleach::parse_volume(typed) {
        Ok(_) => choice(typed.trim()).into_iter().collect(),
        Err(BleachFault::Empty) => OFFERED_VOLUMES.iter().filter_map(|it| choice(it)).collect(),
        Err(BleachFault::WhichUnit) => ["L", "mL", "gal", "qt", "oz"]
            .iter()
            .filter_map(|unit| choice(&format!("{} {unit}", typed.trim())))
            .collect(),
        Err(_) => Vec::new(),
    }
}

fn sums(asked: &Asked<'_>, mixing: &Mixing) -> Result<Sums, Refusal> {
    if asked.state.policies.get(Name::BleachMixing) == 0 {
        return Err(Refusal::new("fault-mix-off"));
    }
    let of_both = |key| {
        Refusal::new(key)
            .text("stock", both(mixing.stock))
            .text("target", both(mixing.target))
    };
    let fault = |fault| match fault {
        BleachFault::NotBelowStock { .. } => of_both("fault-mix-not-below"),
        BleachFault::TooLittle => Refusal::new("fault-mix-little"),
        // The reader of the options has refused what these say; a tap that is none of ours comes here too.
        BleachFault::Empty
        | BleachFault::PpmForPercent
        | BleachFault::TooStrong { .. }
        | BleachFault::Nothing
        | BleachFault::TooWeak { .. }
        | BleachFault::Ratio
        | BleachFault::WhichUnit
        | BleachFault::Negative
        | BleachFault::NoVolume
        | BleachFault::TooMuch
        | BleachFault::Thousands
        | BleachFault::Shape => Refusal::new("fault-stale-tap"),
    };
    let exact = bleach::mix(mixing.stock, mixing.target, mixing.volume()).map_err(fault)?;
    let bleach = measured(exact.bleach, mixing.unit).map_err(fault)?;
    // Nearly the bleach itself: measured up, it leaves hardly any room for water.
    if bleach.volume.ml * 20.0 >= mixing.volume().ml * 19.0 {
        return Err(of_both("fault-mix-nearly"));
    }
    Ok(Sums { exact, bleach })
}

/// How long it stays wet: as the home's list says where bleach is on it.
fn contact(state: &State, lang: Lang) -> String {
    let listed: Vec<String> = state
        .products
        .iter()
        .filter(|(_, product)| product.method == Method::Bleach)
        .map(|(name, product)| {
            say!(
                lang,
                "mix-contact-of",
                product = escaped(name.as_str()),
                minutes = i64::from(product.contact_minutes)
            )
        })
        .collect();
    if listed.is_empty() {
        say!(lang, "mix-contact-label")
    } else {
        say!(lang, "mix-contact-listed", products = listed.join(", "))
    }
}

fn percent(strength: Strength) -> String {
    figure::show(strength.percent(), 4)
}

/// A strength in both units, so that two that were typed in different ones can be compared.
fn both(strength: Strength) -> String {
    format!("{} % ({} ppm)", percent(strength), ppm(strength))
}

fn ppm(strength: Strength) -> String {
    figure::show(f64::from(strength.0), 0)
}

fn ml(volume: Volume) -> String {
    let decimals = usize::from(volume.ml < 100.0);
    format!("{} mL", figure::show(volume.ml, decimals))
}

/// An amount as it is measured: "¼ cup and 1 tablespoon".
fn pieces(lang: Lang, measured: &Measured) -> String {
    let all: Vec<String> = measured
        .pieces
        .iter()
        .map(|piece| counted(lang, piece.count, piece.unit))
        .collect();
    match all.as_slice() {
        [first @ .., last] if !first.is_empty() => {
            say!(
                lang,
                "mix-and",
                first = first.join(", "),
                last = last.as_str()
            )
        }
        _ => all.join(", "),
    }
}

/// An amount in the measure that it was typed in.
fn volume(lang: Lang, volume: Volume, unit: Unit) -> String {
    counted(lang, volume.count(unit), unit)
}

/// So many of a measure: metric in decimals, customary ones in quarters where they are.
fn counted(lang: Lang, count: f64, unit: Unit) -> String {
    let quarters = (count * 4.0).round();
    let in_quarters = (count * 4.0 - quarters).abs() < 1e-3;
    let amount = if unit.is_metric() || !in_quarters {
        figure::show(count, 2)
    } else {
        let part = match quarters.rem_euclid(4.0) {
            part if part < 0.5 => "",
            part if part < 1.5 => "¼",
            part if part < 2.5 => "½",
            _ => "¾",
        };
        match (quarters / 4.0).floor() {
            whole if whole < 0.5 && !part.is_empty() => part.to_owned(),
            whole => format!("{}{part}", figure::show(whole, 0)),
        }
    };
    // One, or part of one.
    let several = i64::from(count > 1.0 + 1e-3) + 1;
    let unit = match unit {
        Unit::Millilitre => return format!("{amount} mL"),
        Unit::Litre => return format!("{amount} L"),
        Unit::Teaspoon => say!(lang, "unit-teaspoon", count = several),
        Unit::Tablespoon => say!(lang, "unit-tablespoon", count = several),
        Unit::Ounce => say!(lang, "unit-ounce", count = several),
        Unit::Cup => say!(lang, "unit-cup", count = several),
        Unit::Quart => say!(lang, "unit-quart", count = several),
        Unit::Gallon => say!(lang, "unit-gallon", count = several),
    };
    format!("{amount} {unit}")
}
