//! Owning against renting. Decides which figures it rests on, each typed, from the home's policies or from its records, and
//! how the answer is said; leaves the arithmetic to `rules::own_or_rent`, and who buys what to the home. Nothing is recorded.

use super::draft::{Asked, button};
use super::matching;
use super::use_on_record::{DAYS_ENOUGH, OfOwn, OnRecord};
use crate::decision::Decision;
use crate::message::{Look, Message};
use crate::past::Wanted;
use crate::refusal::Refusal;
use crate::rules::figure;
use crate::rules::own_or_rent::{
    BreakEven, Input, Swing, Terms, YEAR_DAYS, annual_cost, break_even, capital_recovery,
    sensitivity,
};
use crate::rules::policy::Name;
use crate::rules::rent;
use crate::say;
use crate::state::State;
use crate::tap::{Costing, Sum, Tap};
use crate::words::Lang;

/// Where a figure is from.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Origin {
    Typed,
    Policy,
    Records,
}

/// How much one is used.
struct Used {
    days: f64,
    from: Origin,
}

/// All that the answer needs.
struct Figures<'a> {
    terms: Terms,
    years: Origin,
    interest: Origin,
    /// `None` where nobody has said anything of it, so that it is left out.
    upkeep: Option<Origin>,
    rental: Origin,
    /// How many rentals the recorded rate is of.
    rentals: usize,
    /// The recorded rate, in cents, and of how many rentals, where another one was typed.
    recorded_rental: Option<(i64, usize)>,
    /// For how many days a year one of the home's own was used, where another figure was typed.
    recorded_days: Option<f64>,
    /// What the home has set for renting, where its rentals say something else.
    instead_of: Option<i64>,
    own: f64,
    from_days: BreakEven,
    used: Option<Used>,
    of_own: OfOwn,
    records: OnRecord<'a>,
}

/// `/fleet cost`.
pub(super) fn cost(asked: &Asked<'_>, costing: Costing) -> Result<Decision, Refusal> {
    let figures = match Figures::of(asked, &costing)? {
        Ok(figures) => figures,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let lang = asked.lang;
    let money = Money::of(asked);
    let swings = sensitivity(&figures.terms).map_err(|_| Refusal::new("fault-stale-tap"))?;
    let mut lines = vec![figures.verdict(lang)];
    lines.push(say!(
        lang,
        "cost-each",
        own = money.whole(figures.own),
        rate = money.cents(figures.terms.rental_cents)
    ));
    if let Some(used) = &figures.used {
        lines.push(say!(
            lang,
            "cost-year",
            days = whole(used.days),
            // Of the days as they are shown, so that whoever multiplies finds the same.
            rent = money.whole(used.days.round() * figures.terms.rental_cents),
            own = money.whole(figures.own)
        ));
    }
    lines.extend(figures.sources(lang, money, &costing));
    lines.push(say!(lang, "cost-table-head"));
    lines.push(table(lang, &swings));
    lines.push(say!(lang, "cost-foot"));
    let tap = Tap::Sum(Sum::Cost(costing));
    let why = button(lang, "button-why", Look::Plain, &tap);
    Ok(Decision::private(
        Message::text(lines.join("\n")).buttons(vec![why]),
    ))
}

/// "Why?" below it.
pub(super) fn why(asked: &Asked<'_>, costing: Costing) -> Result<Decision, Refusal> {
    let figures = match Figures::of(asked, &costing)? {
        Ok(figures) => figures,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let (lang, money, terms) = (asked.lang, Money::of(asked), &figures.terms);
    let factor = capital_recovery(terms.interest, terms.years)
        .map_err(|_| Refusal::new("fault-stale-tap"))?;
    let (BreakEven::Days(days) | BreakEven::Never { days }) = figures.from_days;
    let mut lines = vec![say!(
        lang,
        "cost-why",
        price = money.cents(terms.price_cents),
        salvage = money.cents(terms.salvage_cents),
        factor = figure::show(factor, 5),
        interest = percent(terms.interest),
        years = figure::show(terms.years, 2),
        upkeep = money.cents(terms.upkeep_cents),
        own = money.cents(figures.own),
        rate = money.cents(terms.rental_cents),
        days = figure::show(days, 2)
    )];
    let of = figures.of_own;
    let known = figures.records.days();
    if known >= DAYS_ENOUGH && of.had_days > 0.0 {
        lines.push(say!(
            lang,
            "cost-why-used",
            used = whole(of.under_days),
            had = whole(of.had_days),
            year = whole(of.under_days / of.had_days * YEAR_DAYS),
            known = known,
            count = of.surfaces as i64,
            own = figures.records.own() as i64,
            turns = figure::show(of.left as f64 / of.had_days * YEAR_DAYS, 1)
        ));
        if of.part > 0 {
            lines.push(say!(lang, "cost-why-part", count = of.part as i64));
        }
        lines.push(say!(
            lang,
            "cost-why-mean",
            under = figure::show(figures.records.on_average(of.under_days), 1),
            had = figure::show(figures.records.on_average(of.had_days), 1)
        ));
    }
    lines.push(say!(lang, "cost-why-taken"));
    Ok(Decision::private(Message::text(lines.join("\n"))))
}

impl<'a> Figures<'a> {
    /// The figures, or what of the log they need.
    fn of(asked: &Asked<'a>, costing: &Costing) -> Result<Result<Self, Wanted>, Refusal> {
        let state = asked.state;
        let (rental_cents, rental, rentals) = rental(state, costing)?;
        let without_rental = Costing {
            rental: None,
            ..*costing
        };
        let recorded_rental = match (rental, self::rental(state, &without_rental)) {
            (Origin::Typed, Ok((cents, Origin::Records, count))) => Some((cents, count)),
            _ => None,
        };
        let set = Some(state.policies.get(Name::RentalDay)).filter(|cents| *cents > 0);
        let instead_of = set.filter(|cents| rental == Origin::Records && *cents != rental_cents);
        let records = match OnRecord::read(asked, costing.kind) {
            Ok(records) => records,
            Err(wanted) => return Ok(Err(wanted)),
        };
        let typed = |value: Option<u32>, name: Name| match value {
            Some(hundredths) => (f64::from(hundredths) / 100.0, Origin::Typed),
            None => (state.policies.get(name) as f64, Origin::Policy),
        };
        let (years, years_from) = typed(costing.years, Name::OwnYears);
        let (interest, interest_from) = typed(costing.interest, Name::OwnInterest);
        let policy = Some(state.policies.get(Name::OwnUpkeep)).filter(|cents| *cents > 0);
        let (upkeep, upkeep_from) = match (costing.upkeep, policy) {
            (Some(cents), _) => (cents, Some(Origin::Typed)),
            (None, Some(cents)) => (cents, Some(Origin::Policy)),
            (None, None) => (0, None),
        };
        let terms = Terms {
            price_cents: costing.price as f64,
            salvage_cents: costing.salvage.unwrap_or(0) as f64,
            years,
            interest: interest / 100.0,
            upkeep_cents: upkeep as f64,
            rental_cents: rental_cents as f64,
        };
        // The reader of the options has refused what is out of range; a tap that is none of ours comes here too.
        let own = annual_cost(&terms).map_err(|_| Refusal::new("fault-stale-tap"))?;
        let from_days = break_even(&terms).map_err(|_| Refusal::new("fault-stale-tap"))?;
        let of_own = records.of_own();
        let enough = records.days() >= DAYS_ENOUGH && of_own.had_days > 0.0;
        let recorded_days = enough.then(|| of_own.under_days / of_own.had_days * YEAR_DAYS);
        let used = match costing.days {
            Some(hundredths) => Some(Used {
                days: f64::from(hundredths) / 100.0,
                from: Origin::Typed,
            }),
            None => recorded_days.map(|days| Used {
                days,
                from: Origin::Records,
            }),
        };
        // What stands in the answer already is not said beside it.
        let recorded_days = recorded_days.filter(|_| costing.days.is_some());
        Ok(Ok(Self {
            terms,
            years: years_from,
            interest: interest_from,
            upkeep: upkeep_from,
            rental,
            rentals,
            recorded_rental,
            recorded_days,
            instead_of,
            own,
            from_days,
            used,
            of_own,
            records,
        }))
    }

    /// The first sentence.
    fn verdict(&self, lang: Lang) -> String {
        let days = match self.from_days {
            BreakEven::Days(days) => days,
            BreakEven::Never { days } => return say!(lang, "cost-never", days = upwards(days)),
        };
        let from = upwards(days);
        let Some(used) = &self.used else {
            return say!(lang, "cost-unknown", from = from);
        };
        let key = match (used.days >= days, used.from) {
            (true, Origin::Records) => "cost-own",
            (false, Origin::Records) => "cost-rent",
            (true, Origin::Typed | Origin::Policy) => "cost-own-typed",
            (false, Origin::Typed | Origin::Policy) => "cost-rent-typed",
        };
        say!(lang, key, from = from, used = whole(used.days))
    }

    /// Which figure is typed, which is the home's policy and which is on record.
    fn sources(&self, lang: Lang, money: Money<'_>, costing: &Costing) -> Vec<String> {
        let terms = &self.terms;
        let mut by = vec![(
            Origin::Typed,
            say!(lang, "cost-price", price = money.cents(terms.price_cents)),
        )];
        if costing.salvage.is_some() {
            let salvage = money.cents(terms.salvage_cents);
            by.push((Origin::Typed, say!(lang, "cost-salvage", salvage = salvage)));
        }
        let years = figure::show(terms.years, 2);
        by.push((self.years, say!(lang, "cost-years", years = years)));
        let interest = percent(terms.interest);
        by.push((
            self.interest,
            say!(lang, "cost-interest", interest = interest),
        ));
        if let Some(from) = self.upkeep {
            let upkeep = money.cents(terms.upkeep_cents);
            by.push((from, say!(lang, "cost-upkeep", upkeep = upkeep)));
        }
        let rate = money.cents(terms.rental_cents);
        // A median of all kinds says little of a kind: which it is of stands beside it.
        let of_kind = costing.kind.map_or_else(String::new, |kind| {
            let kind = say!(lang, matching::kind_key(kind));
            say!(lang, "cost-of-kind", kind = kind)
        });
        by.push((
            self.rental,
            match self.rental {
                Origin::Records => say!(
                    lang,
                    "cost-rental-of",
                    rate = rate,
                    kind = of_kind.as_str(),
                    count = self.rentals as i64
                ),
                Origin::Typed | Origin::Policy => say!(lang, "cost-rental", rate = rate),
            },
        ));
        if let Some(used) = &self.used {
            by.push((
                used.from,
                match used.from {
                    Origin::Records => say!(
                        lang,
                        "cost-used-of",
                        days = whole(used.days),
                        count = self.of_own.surfaces as i64,
                        part = match self.of_own.part {
                            0 => String::new(),
                            part => say!(lang, "cost-used-part", count = part as i64),
                        },
                        own = self.records.own() as i64,
                        had = whole(self.of_own.had_days),
                        known = self.records.days()
                    ),
                    Origin::Typed | Origin::Policy => {
                        say!(lang, "cost-used", days = whole(used.days))
                    }
                },
            ));
        }
        let mut lines = Vec::new();
        for from in [Origin::Typed, Origin::Policy, Origin::Records] {
            let what: Vec<&str> = by
                .iter()
                .filter(|(of, _)| *of == from)
                .map(|(_, what)| what.as_str())
                .collect();
            let what = what.join(" · ");
            if !what.is_empty() {
                lines.push(match from {
                    Origin::Typed => say!(lang, "cost-typed", what = what),
                    Origin::Policy => say!(lang, "cost-policy", what = what),
                    Origin::Records => say!(lang, "cost-records", what = what),
                });
            }
        }
        let beside = self.beside(lang, money, &of_kind);
        if !beside.is_empty() {
            lines.push(say!(lang, "cost-beside", what = beside.join(" · ")));
        }
        if let Some(set) = self.instead_of {
            let set = rent::money(set);
            lines.push(say!(lang, "cost-not-policy", set = set));
        }
        if self.upkeep.is_none() {
            lines.push(say!(lang, "cost-no-upkeep"));
        }
        if self.used.is_none() {
            let known = self.records.days();
            lines.push(say!(
                lang,
                "cost-too-little",
                known = known,
                enough = DAYS_ENOUGH
            ));
        }
        lines
    }
}

impl Figures<'_> {
    /// What is on record and was typed otherwise.
    fn beside(&self, lang: Lang, money: Money<'_>, of_kind: &str) -> Vec<String> {
        let mut beside = Vec::new();
        if let Some((cents, count)) = self.recorded_rental {
            beside.push(say!(
                lang,
                "cost-rental-of",
                rate = money.cents(cents as f64),
                kind = of_kind,
                count = count as i64
            ));
        }
        if let Some(days) = self.recorded_days {
            beside.push(say!(lang, "cost-used", days = whole(days)));
        }
        beside
    }
}

/// What renting one of the kind costs a day, in cents, where that is from, and of how many rentals it is the median.
fn rental(state: &State, costing: &Costing) -> Result<(i64, Origin, usize), Refusal> {
    if let Some(cents) = costing.rental {
        return Ok((cents, Origin::Typed, 0));
    }
    match matching::rates(state, costing.kind) {
        Some((cents, 0)) => Ok((cents, Origin::Policy, 0)),
        Some((cents, rentals)) => Ok((cents, Origin::Records, rentals)),
        None => Err(Refusal::new("fault-no-rental")),
    }
}

/// What a fifth more or less of the strongest figures does, as a block that a phone shows without breaking a line.
fn table(lang: Lang, swings: &[Swing]) -> String {
    // More days than a year has are never reached.
    let days = |days: f64| {
        if days > YEAR_DAYS {
            say!(lang, "cost-cell-never")
        } else {
            upwards(days)
        }
    };
    let head = format!(
        "{:14}{:>7}{:>7}",
        "",
        say!(lang, "cost-less"),
        say!(lang, "cost-more")
    );
    let mut lines = vec!["```".to_owned(), head];
    lines.extend(swings.iter().map(|swing| {
        let name = say!(lang, input_key(swing.input));
        format!("{name:14}{:>7}{:>7}", days(swing.less), days(swing.more))
    }));
    lines.push("```".to_owned());
    lines.join("\n")
}

fn input_key(input: Input) -> &'static str {
    match input {
        Input::Price => "input-price",
        Input::Salvage => "input-salvage",
        Input::Years => "input-years",
        Input::Interest => "input-interest",
        Input::Upkeep => "input-upkeep",
        Input::Rental => "input-rental",
    }
}

/// The first whole day at which it is so.
fn upwards(days: f64) -> String {
    figure::show((days - 1e-9).ceil().max(0.0), 0)
}

fn whole(value: f64) -> String {
    figure::show(value, 0)
}

fn percent(share: f64) -> String {
    figure::show(share * 100.0, 2)
}

/// How amounts are written: as the home does, in the language of whoever asked.
#[derive(Clone, Copy)]
struct Money<'a> {
    lang: Lang,
    sign: Option<&'a str>,
}

impl<'a> Money<'a> {
    fn of(asked: &Asked<'a>) -> Self {
        Self {
            lang: asked.lang,
            sign: asked.facility.currency.as_deref(),
        }
    }

    fn whole(self, cents: f64) -> String {
        rent::signed_whole(self.lang, self.sign, cents)
    }

    fn cents(self, value: f64) -> String {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "sums of money within the ranges of the rule"
        )]
        rent::signed(self.lang, self.sign, value.round() as i64)
    }
}
