//! Taps for how a figure was reckoned. A tap carries what was typed; what the records say is read anew.

use super::{NotOurs, join};
use crate::request::Right;
use crate::rules::bleach::{Strength, Unit, Volume};
use crate::rules::hand_check::Kind;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "sum";

/// A tap on "why?", or on an answer to a question back.
#[derive(Clone, Debug, PartialEq)]
pub enum Sum {
    /// Of a mixture of bleach.
    Mix(Mixing),
    /// No why: so strong it is meant, or so much weaker.
    MixSure(Mixing),
    /// Of owning against renting.
    Cost(Costing),
    /// Of how many to own.
    Size(Sizing),
}

/// What is to be mixed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mixing {
    /// What the label says.
    pub stock: Strength,
    /// The strength wanted.
    pub target: Strength,
    /// How much of it, in thousandths of a millilitre.
    pub microlitres: u64,
    /// The measure it was typed in.
    pub unit: Unit,
}

/// What was typed about owning against renting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Costing {
    /// What one costs to buy, in cents.
    pub price: i64,
    /// What it brings at the end, in cents.
    pub salvage: Option<i64>,
    /// How long it lasts, in hundredths of a year.
    pub years: Option<u32>,
    /// Interest a year, in hundredths of a percent.
    pub interest: Option<u32>,
    /// What it costs a year besides, in cents.
    pub upkeep: Option<i64>,
    /// What renting one costs a day, in cents.
    pub rental: Option<i64>,
    /// Days of use a year, in hundredths.
    pub days: Option<u32>,
    /// The kind of surface whose records count; all of them if none.
    pub kind: Option<Kind>,
}

/// What was typed about how many to own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sizing {
    /// Admissions that need one, in millionths a day.
    pub admissions: Option<u32>,
    /// How long one is needed, in hundredths of a day.
    pub stay: Option<u32>,
    /// The share that may find none, in hundredths of a percent.
    pub shortfall: Option<u32>,
    /// How many beds could ask.
    pub beds: Option<u32>,
    /// The kind of surface; all of them if none.
    pub kind: Option<Kind>,
}

verbs! { Sum:
    Mix => "mix",
    MixSure => "mixsure",
    Cost => "cost",
    Size => "size",
}

impl Mixing {
    /// How much of it.
    pub fn volume(&self) -> Volume {
        #[expect(
            clippy::cast_precision_loss,
            reason = "a drum has fewer thousandths of a millilitre than a double has whole numbers"
        )]
        let ml = self.microlitres as f64 / 1000.0;
        Volume { ml }
    }

    fn join(&self, verb: &str) -> String {
        join(&[
            GROUP,
            verb,
            &self.stock.0.to_string(),
            &self.target.0.to_string(),
            &self.microlitres.to_string(),
            self.unit.as_str(),
        ])
    }

    fn read(parts: &[&str]) -> Result<Self, NotOurs> {
        let [stock, target, microlitres, unit] = parts else {
            return Err(NotOurs);
        };
        Ok(Self {
            stock: Strength(must(stock)?),
            target: Strength(must(target)?),
            microlitres: must(microlitres)?,
            unit: Unit::ALL
                .into_iter()
                .find(|one| one.as_str() == *unit)
                .ok_or(NotOurs)?,
        })
    }
}

impl Sum {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Sum::Mix(_) | Sum::MixSure(_) => Right::Upkeep,
            Sum::Cost(_) | Sum::Size(_) => Right::Reckon,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Sum::Mix(of) => of.join("mix"),
            Sum::MixSure(of) => of.join("mixsure"),
            Sum::Cost(of) => join(&[
                GROUP,
                "cost",
                &of.price.to_string(),
                &number(of.salvage),
                &number(of.years),
                &number(of.interest),
                &number(of.upkeep),
                &number(of.rental),
                &number(of.days),
                of.kind.map_or("", Kind::as_str),
            ]),
            Sum::Size(of) => join(&[
                GROUP,
                "size",
                &number(of.admissions),
                &number(of.stay),
                &number(of.shortfall),
                &number(of.beds),
                of.kind.map_or("", Kind::as_str),
            ]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read(parts: &[&str]) -> Result<Self, NotOurs> {
        Ok(match parts {
            ["mix", rest @ ..] => Sum::Mix(Mixing::read(rest)?),
            ["mixsure", rest @ ..] => Sum::MixSure(Mixing::read(rest)?),
            [
                "cost",
                price,
                salvage,
                years,
                interest,
                upkeep,
                rental,
                days,
                kind,
            ] => Sum::Cost(Costing {
                price: must(price)?,
                salvage: may(salvage)?,
                years: may(years)?,
                interest: may(interest)?,
                upkeep: may(upkeep)?,
                rental: may(rental)?,
                days: may(days)?,
                kind: kind_of(kind)?,
            }),
            ["size", admissions, stay, shortfall, beds, kind] => Sum::Size(Sizing {
                admissions: may(admissions)?,
                stay: may(stay)?,
                shortfall: may(shortfall)?,
                beds: may(beds)?,
                kind: kind_of(kind)?,
            }),
            _ => return Err(NotOurs),
        })
    }
}

fn number<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

fn must<T: std::str::FromStr>(text: &str) -> Result<T, NotOurs> {
    text.parse().map_err(|_| NotOurs)
}

fn may<T: std::str::FromStr>(text: &str) -> Result<Option<T>, NotOurs> {
    if text.is_empty() {
        return Ok(None);
    }
    must(text).map(Some)
}

fn kind_of(text: &str) -> Result<Option<Kind>, NotOurs> {
    if text.is_empty() {
        return Ok(None);
    }
    Kind::from_text(text).map(Some).ok_or(NotOurs)
}
