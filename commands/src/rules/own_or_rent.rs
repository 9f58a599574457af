//! What owning a surface costs a year, and from how many days of use a year it is cheaper than renting.
//!
//! Decides figures only, in cents and days. Leaves to the caller where price, upkeep and rates come from, whether
//! the vendor would rent by the day at all, and every sentence: it is a yardstick, and who buys decides.
//!
//! Source: the uniform series of engineering economy texts (Blank and Tarquin, Engineering Economy, ch. 6; Newnan and
//! others, Engineering Economic Analysis, eq. 6-4): what a price P with a salvage value S after n years at interest i comes to
//! as one even amount at each year's end is (P - S) (A/P,i,n) + S i, with (A/P,i,n) = i (1+i)^n / ((1+i)^n - 1).
//! Before tax, at one rate of interest, upkeep level over the years.
//!
//! The crate `financial` 1.1.5 was tried: it has no even payment, and one over its present value `pv` is up to
//! 2.8e-13 from the formula in exact fractions, over rates of .03% to 30% and 1 to 30 years. One line with `exp_m1` and `ln_1p`
//! is within 2.5e-16.

pub use super::rent::MAX_PRICE_CENTS;

/// The longest life, in years.
pub const MAX_YEARS: f64 = 50.0;

/// The highest interest, as a share a year: 100%. More is a percentage typed as a share.
pub const MAX_INTEREST: f64 = 1.0;

/// How far [`sensitivity`] moves an input each way, as a share of it: a fifth, common practice.
pub const SWING: f64 = 0.2;

/// Days in a year of use.
pub const YEAR_DAYS: f64 = 365.0;

/// What owning one rests on, and what renting one does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// What it costs to buy, in cents, 0 to [`MAX_PRICE_CENTS`].
    pub price_cents: f64,
    /// What it still brings at the end of its life, in cents, 0 to its price.
    pub salvage_cents: f64,
    /// How long it lasts, in years, above 0 and up to [`MAX_YEARS`]; parts of a year are taken.
    pub years: f64,
    /// Interest as a share a year: 0.08 is 8%; 0 to [`MAX_INTEREST`].
    pub interest: f64,
    /// Repairs, covers, filters, tests in a year, in cents, 0 to [`MAX_PRICE_CENTS`].
    pub upkeep_cents: f64,
    /// What renting one costs a day, in cents, above 0 and up to [`MAX_PRICE_CENTS`].
    pub rental_cents: f64,
}

/// One of the [`Terms`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Input {
    /// The price.
    Price,
    /// The salvage value.
    Salvage,
    /// The years it lasts.
    Years,
    /// The interest.
    Interest,
    /// The upkeep.
    Upkeep,
    /// The rental.
    Rental,
}

impl Input {
    /// All of them.
    pub const ALL: [Input; 6] = [
        Input::Price,
        Input::Salvage,
        Input::Years,
        Input::Interest,
        Input::Upkeep,
        Input::Rental,
    ];
}

/// From how many days of use a year owning is the cheaper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BreakEven {
    /// From so many days, 0 to [`YEAR_DAYS`]: below it renting is cheaper.
    Days(f64),
    /// Renting costs less even if it is used every day of the year.
    Never {
        /// The days that a year would need.
        days: f64,
    },
}

/// What one input does to the break-even.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    /// The input that is moved, with the others as they were.
    pub input: Input,
    /// Break-even days where it is a fifth less.
    pub less: f64,
    /// Break-even days where it is a fifth more.
    pub more: f64,
}

impl Swing {
    /// How many days lie between both.
    #[must_use]
    pub fn days(&self) -> f64 {
        (self.more - self.less).abs()
    }
}

/// The even amount at each year's end that pays back 1 in so many years: (A/P,i,n).
///
/// # Errors
/// [`Input::Interest`] or [`Input::Years`] is out of the range that [`Terms`] gives it.
pub fn capital_recovery(interest: f64, years: f64) -> Result<f64, Input> {
    if !(0.0..=MAX_INTEREST).contains(&interest) {
        return Err(Input::Interest);
    }
    if !(years > 0.0 && years <= MAX_YEARS) {
        return Err(Input::Years);
    }
    // i / (1 - (1+i)^-n) without the difference of two numbers near 1; as i goes to 0 it goes to 1/n.
    let paid = -(-years * interest.ln_1p()).exp_m1();
    let factor = if paid > 0.0 {
        interest / paid
    } else {
        years.recip()
    };
    if factor.is_finite() {
        Ok(factor)
    } else {
        Err(Input::Years)
    }
}

/// What owning one comes to a year, upkeep included, in cents.
///
/// # Errors
/// The [`Input`] that is out of its range or no number.
pub fn annual_cost(terms: &Terms) -> Result<f64, Input> {
    let money = |cents: f64| (0.0..=MAX_PRICE_CENTS as f64).contains(&cents);
    if !money(terms.price_cents) {
        return Err(Input::Price);
    }
    if !(0.0..=terms.price_cents).contains(&terms.salvage_cents) {
        return Err(Input::Salvage);
    }
    if !money(terms.upkeep_cents) {
        return Err(Input::Upkeep);
    }
    let factor = capital_recovery(terms.interest, terms.years)?;
    let lost = terms.price_cents - terms.salvage_cents;
    Ok(lost * factor + terms.salvage_cents * terms.interest + terms.upkeep_cents)
}

/// From how many days of use a year owning is cheaper than renting by the day.
///
/// # Errors
/// The [`Input`] that is out of its range or no number.
pub fn break_even(terms: &Terms) -> Result<BreakEven, Input> {
    let days = days(terms)?;
    Ok(if days <= YEAR_DAYS {
        BreakEven::Days(days)
    } else {
        BreakEven::Never { days }
    })
}

/// The three inputs that move the break-even most when each alone is a fifth less or more, the strongest first.
///
/// What would leave its range is moved to the edge of it: a salvage value above the price, years above the most.
/// Where two move it equally, the order of [`Input::ALL`] holds.
///
/// # Errors
/// The [`Input`] that is out of its range or no number.
pub fn sensitivity(terms: &Terms) -> Result<[Swing; 3], Input> {
    days(terms)?;
    let mut swings = Vec::with_capacity(Input::ALL.len());
    for input in Input::ALL {
        swings.push(Swing {
            input,
            less: days(&moved(terms, input, 1.0 - SWING))?,
            more: days(&moved(terms, input, 1.0 + SWING))?,
        });
    }
    swings.sort_by(|a, b| b.days().total_cmp(&a.days()));
    Ok([swings[0], swings[1], swings[2]])
}

/// Days a year at which a year's rent is what owning costs.
fn days(terms: &Terms) -> Result<f64, Input> {
    let owned = annual_cost(terms)?;
    if !(terms.rental_cents > 0.0 && terms.rental_cents <= MAX_PRICE_CENTS as f64) {
        return Err(Input::Rental);
    }
    let days = owned / terms.rental_cents;
    if days.is_finite() {
        Ok(days)
    } else {
        Err(Input::Rental)
    }
}

fn moved(terms: &Terms, input: Input, by: f64) -> Terms {
    let mut terms = *terms;
    let most = MAX_PRICE_CENTS as f64;
    match input {
        Input::Price => {
            terms.price_cents = (terms.price_cents * by).clamp(terms.salvage_cents, most)
        }
        Input::Salvage => {
            terms.salvage_cents = (terms.salvage_cents * by).min(terms.price_cents);
        }
        Input::Years => terms.years = (terms.years * by).min(MAX_YEARS),
        Input::Interest => terms.interest = (terms.interest * by).min(MAX_INTEREST),
        Input::Upkeep => terms.upkeep_cents = (terms.upkeep_cents * by).min(most),
        Input::Rental => terms.rental_cents = (terms.rental_cents * by).min(most),
    }
    terms
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const TERMS: Terms = Terms {
        price_cents: 320_000.0,
        salvage_cents: 20_000.0,
        years: 5.0,
        interest: 0.08,
        upkeep_cents: 30_000.0,
        rental_cents: 1_800.0,
    };

    fn close(found: f64, wanted: f64, within: f64) {
        assert!(
            (found - wanted).abs() <= within,
            "{found} is not {wanted} within {within}"
        );
    }

    /// The tables of (A/P,i,n) printed in engineering economy texts (Blank and Tarquin; Newnan and others), five places.
    #[test]
    fn factors_are_those_of_the_printed_tables() {
        for (percent, row) in [
            (3.0, &[(5.0, 0.21835), (10.0, 0.11723)][..]),
            (5.0, &[(5.0, 0.23097), (10.0, 0.12950)]),
            (6.0, &[(5.0, 0.23740), (7.0, 0.17914), (10.0, 0.13587)]),
            (7.0, &[(5.0, 0.24389), (10.0, 0.14238)]),
            (
                8.0,
                &[
                    (3.0, 0.38803),
                    (5.0, 0.25046),
                    (7.0, 0.19207),
                    (10.0, 0.14903),
                ],
            ),
            (
                10.0,
                &[
                    (3.0, 0.40211),
                    (5.0, 0.26380),
                    (7.0, 0.20541),
                    (10.0, 0.16275),
                    (20.0, 0.11746),
                ],
            ),
            (12.0, &[(5.0, 0.27741), (10.0, 0.17698)]),
            (
                15.0,
                &[
                    (2.0, 0.61512),
                    (3.0, 0.43798),
                    (5.0, 0.29832),
                    (10.0, 0.19925),
                ],
            ),
            // A period is a month in Blank and Tarquin's table 1.
            (
                0.25,
                &[
                    (1.0, 1.00250),
                    (2.0, 0.50188),
                    (3.0, 0.33500),
                    (6.0, 0.16813),
                    (12.0, 0.08469),
                    (20.0, 0.05132),
                    (24.0, 0.04298),
                ],
            ),
        ] {
            for (years, factor) in row {
                close(
                    capital_recovery(percent / 100.0, *years).unwrap(),
                    *factor,
                    0.000_005_1,
                );
            }
        }
        assert_eq!(capital_recovery(0.0, 5.0), Ok(0.2));
        close(capital_recovery(1e-17, 5.0).unwrap(), 0.2, 1e-15);
    }

    /// Blank and Tarquin, ch. 6: 50,000, salvage 5,000, 5 years at 10% is 12,371 a year (12,370.89 unrounded). Newnan and others, p. 180:
    /// 1,000, salvage 200, 10 years at 7% is 127.92 with a factor of four places (127.90 unrounded).
    #[test]
    fn worked_examples() {
        let terms = |price, salvage, years, interest| Terms {
            price_cents: price,
            salvage_cents: salvage,
            years,
            interest,
            upkeep_cents: 0.0,
            rental_cents: 100.0,
        };
        let first = terms(5_000_000.0, 500_000.0, 5.0, 0.10);
        close(annual_cost(&first).unwrap() / 100.0, 12_370.89, 0.005);
        let second = terms(100_000.0, 20_000.0, 10.0, 0.07);
        close(annual_cost(&second).unwrap() / 100.0, 127.90, 0.005);
    }

    /// Newnan and others, p. 180: repairs of 45, 90, 180, 135, 225 at 7% are 531.01 today, an even 129.51 a year.
    #[test]
    fn uneven_repairs_made_even() {
        let today: f64 = [45.0, 90.0, 180.0, 135.0, 225.0]
            .into_iter()
            .zip(1..)
            .map(|(cost, year)| cost / 1.07f64.powi(year))
            .sum();
        close(today, 531.01, 0.005);
        close(today * capital_recovery(0.07, 5.0).unwrap(), 129.51, 0.005);
    }

    #[test]
    fn where_owning_begins_to_pay() {
        // (320,000 - 20,000) x .25046 + 20,000 x .08 + 30,000 = 106,738 cents a year, by the printed factor.
        close(annual_cost(&TERMS).unwrap(), 106_738.0, 2.0);
        let Ok(BreakEven::Days(days)) = break_even(&TERMS) else {
            panic!("owning pays");
        };
        close(days, 59.3, 0.01);
        let dear = Terms {
            rental_cents: 200.0,
            ..TERMS
        };
        assert!(matches!(break_even(&dear), Ok(BreakEven::Never { days }) if days > 533.0));
        let free = Terms {
            price_cents: 0.0,
            salvage_cents: 0.0,
            upkeep_cents: 0.0,
            ..TERMS
        };
        assert_eq!(break_even(&free), Ok(BreakEven::Days(0.0)));
    }

    #[test]
    fn what_matters_most_comes_first() {
        let swings = sensitivity(&TERMS).unwrap();
        let inputs = swings.map(|swing| swing.input);
        assert_eq!(inputs, [Input::Rental, Input::Price, Input::Years]);
        // A fifth more rent needs a sixth fewer days, a fifth less a quarter more.
        close(swings[0].more * 1.2, 59.3, 0.01);
        close(swings[0].less * 0.8, 59.3, 0.01);
        let upkeep = Terms {
            upkeep_cents: 900_000.0,
            ..TERMS
        };
        assert_eq!(sensitivity(&upkeep).unwrap()[1].input, Input::Upkeep);
    }

    #[test]
    fn what_is_out_of_range_is_named() {
        let with = |change: fn(&mut Terms, f64), value| {
            let mut terms = TERMS;
            change(&mut terms, value);
            (break_even(&terms).err(), sensitivity(&terms).err())
        };
        let both = |input| (Some(input), Some(input));
        for value in [-1.0, f64::NAN, f64::INFINITY, 100_000_001.0] {
            assert_eq!(with(|t, v| t.price_cents = v, value), both(Input::Price));
            assert_eq!(
                with(|t, v| t.salvage_cents = v, value),
                both(Input::Salvage)
            );
            assert_eq!(with(|t, v| t.upkeep_cents = v, value), both(Input::Upkeep));
            assert_eq!(with(|t, v| t.rental_cents = v, value), both(Input::Rental));
        }
        assert_eq!(
            with(|t, v| t.salvage_cents = v, 320_001.0),
            both(Input::Salvage)
        );
        assert_eq!(with(|t, v| t.rental_cents = v, 0.0), both(Input::Rental));
        assert_eq!(with(|t, v| t.rental_cents = v, 1e-320), both(Input::Rental));
        for value in [-0.01, 8.0, f64::NAN] {
            assert_eq!(with(|t, v| t.interest = v, value), both(Input::Interest));
        }
        for value in [0.0, -5.0, 50.1, 1e-320, f64::NAN] {
            assert_eq!(with(|t, v| t.years = v, value), both(Input::Years));
        }
    }

    prop_compose! {
        fn terms()(price in 1_000.0..10_000_000.0, salvage in 0.0..1.0, years in 0.5..30.0, interest in 0.0..0.5,
                   upkeep in 0.0..500_000.0, rental in 100.0..50_000.0) -> Terms {
            Terms {
                price_cents: price,
                salvage_cents: price * salvage,
                years,
                interest,
                upkeep_cents: upkeep,
                rental_cents: rental,
            }
        }
    }

    proptest! {
        /// The three forms of one cost in Newnan and others, eq. 6-1, 6-3, 6-4; A/F is A/P less the interest.
        #[test]
        fn three_forms_agree(terms in terms()) {
            let ap = capital_recovery(terms.interest, terms.years).unwrap();
            let (p, s, i) = (terms.price_cents, terms.salvage_cents, terms.interest);
            let cost = annual_cost(&terms).unwrap() - terms.upkeep_cents;
            prop_assert!((p * ap - s * (ap - i) - cost).abs() <= 1e-9 * p);
            prop_assert!(((p - s) * (ap - i) + p * i - cost).abs() <= 1e-9 * p);
        }

        /// What is paid in each year buys back the price: a debt run year by year ends at nothing.
        #[test]
        fn the_debt_is_paid_at_the_end(interest in 0.0..1.0, years in 1u32..=50) {
            let paid = capital_recovery(interest, f64::from(years)).unwrap();
            let debt = (0..years).fold(1.0, |debt, _| debt * (1.0 + interest) - paid);
            prop_assert!(debt.abs() <= 1e-13 * (1.0 + interest).powi(years.cast_signed()) * f64::from(years));
        }

        /// At the break-even both cost the same; swings are sorted, and go the way they must.
        #[test]
        fn costs_meet_at_the_break_even(terms in terms()) {
            let days = match break_even(&terms).unwrap() {
                BreakEven::Days(days) => days,
                BreakEven::Never { days } => {
                    prop_assert!(days > YEAR_DAYS);
                    days
                }
            };
            prop_assert!((days * terms.rental_cents / annual_cost(&terms).unwrap() - 1.0).abs() < 1e-12);
            let swings = sensitivity(&terms).unwrap();
            prop_assert!(swings.is_sorted_by(|a, b| a.days() >= b.days()));
            for swing in swings {
                match swing.input {
                    Input::Price | Input::Interest | Input::Upkeep => prop_assert!(swing.more >= swing.less),
                    Input::Salvage | Input::Years | Input::Rental => prop_assert!(swing.more <= swing.less * (1.0 + 1e-12)),
                }
            }
        }

        #[test]
        fn no_numbers_stop_it(a: f64, b: f64, c: f64, d: f64, e: f64, f: f64) {
            let terms = Terms { price_cents: a, salvage_cents: b, years: c, interest: d, upkeep_cents: e, rental_cents: f };
            let _cost = annual_cost(&terms);
            let _swings = sensitivity(&terms);
            if let Ok(BreakEven::Days(days)) = break_even(&terms) {
                prop_assert!(days.is_finite() && days >= 0.0);
            }
        }
    }
}
