//! The options of the commands that reckon: bleach, owning or renting, how many to own. Decides what each option's text says
//! and what to type instead; looks nothing up.

use super::Given;
use crate::decide::escaped;
use crate::refusal::Refusal;
use crate::request::Request;
use crate::rules::bleach::{self, BleachFault};
use crate::rules::figure::{self, FigureFault};
use crate::rules::rent::{self, MoneyFault};
use crate::table::BEDS_MOST;
use crate::tap::{Costing, Mixing, Sizing};

type Read = Result<Request, Refusal>;

/// Units of time and what each is of a day; the mean month and year of the calendar.
const IN_DAYS: [(&[&str], f64); 4] = [
    (&["day", "days", "d", "día", "días", "dia", "dias"], 1.0),
    (&["week", "weeks", "semana", "semanas"], 7.0),
    (&["month", "months", "mes", "meses"], 30.436_875),
    (&["year", "years", "año", "años"], 365.242_5),
];

/// What stands between a count and the time that it is counted in.
const EACH: [&str; 8] = ["a la ", "al ", "por ", "per ", "each ", "a ", "/ ", "/"];

pub(crate) fn mix(given: &Given<'_>) -> Read {
    let (stock, target, volume) = (
        given.must("stock")?,
        given.must("target")?,
        given.must("volume")?,
    );
    let typed = stock;
    let stock = bleach::parse_stock(&typed).map_err(|fault| {
        if fault == BleachFault::PpmForPercent {
            return Refusal::new("fault-mix-stock-ppm");
        }
        strength_fault("stock", "fault-mix-stock", fault)
    })?;
    // No label says so little: 0.0825 is a share of one, and 8.25 % was meant.
    if stock.percent() < 1.0 && figure::of(&typed, &[]).is_ok() {
        return Err(Refusal::new("fault-mix-stock-share")
            .text("percent", figure::show(stock.percent() * 100.0, 2))
            .text("typed", figure::show(stock.percent(), 4)));
    }
    let target = bleach::parse_target(&target).map_err(|fault| {
        if fault == BleachFault::WhichUnit {
            return which_unit(&target);
        }
        strength_fault("target", "fault-mix-target", fault)
    })?;
    let (volume, unit) = bleach::parse_volume(&volume).map_err(|fault| match fault {
        BleachFault::WhichUnit => {
            Refusal::new("fault-mix-volume-unit").text("typed", escaped(&volume))
        }
        BleachFault::NoVolume => Refusal::new("fault-mix-volume-none"),
        BleachFault::Negative => less_than_nothing("volume", "1 L"),
        BleachFault::TooMuch => Refusal::new("fault-mix-volume-much"),
        BleachFault::Thousands => Refusal::new("fault-mix-volume-thousands"),
        BleachFault::Empty
        | BleachFault::NotBelowStock { .. }
        | BleachFault::PpmForPercent
        | BleachFault::TooStrong { .. }
        | BleachFault::Nothing
        | BleachFault::TooWeak { .. }
        | BleachFault::Ratio
        | BleachFault::TooLittle
        | BleachFault::Shape => Refusal::new("fault-mix-volume"),
    })?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "above 0 and no more than a drum"
    )]
    let microlitres = (volume.ml * 1000.0).round() as u64;
    Ok(Request::Mix(Mixing {
        stock,
        target,
        microlitres,
        unit,
    }))
}

/// A strength without a unit: asked back with each unit that makes sense of it.
fn which_unit(typed: &str) -> Refusal {
    let fits = |unit: &&&str| {
        let strength = bleach::parse_target(&format!("{typed} {unit}"));
        strength.is_ok_and(|strength| strength < bleach::STRONGEST_STOCK)
    };
    let fits: Vec<&&str> = ["ppm", "%"].iter().filter(fits).collect();
    match fits.as_slice() {
        [one] => Refusal::new("fault-mix-target-unit")
            .text("typed", escaped(typed))
            .text("unit", **one),
        [_, _, ..] => Refusal::new("fault-mix-target-units").text("typed", escaped(typed)),
        [] if bleach::parse_target(&format!("{typed} ppm")) == Err(BleachFault::Nothing) => {
            Refusal::new("fault-mix-target-none")
        }
        [] => Refusal::new("fault-mix-target"),
    }
}

fn less_than_nothing(option: &'static str, example: &'static str) -> Refusal {
    Refusal::new("fault-figure-negative")
        .text("option", option)
        .text("example", example)
}

fn strength_fault(option: &'static str, other: &'static str, fault: BleachFault) -> Refusal {
    match fault {
        BleachFault::Negative if option == "stock" => less_than_nothing(option, "8.25"),
        BleachFault::Negative => less_than_nothing(option, "5000 ppm"),
        BleachFault::Nothing if option == "stock" => Refusal::new("fault-mix-stock-none"),
        BleachFault::Nothing => Refusal::new("fault-mix-target-none"),
        BleachFault::Ratio => Refusal::new("fault-mix-ratio"),
        BleachFault::PpmForPercent => Refusal::new("fault-mix-percent").text("option", option),
        BleachFault::TooStrong { most } => Refusal::new("fault-mix-strong")
            .text("option", option)
            .text("most", figure::show(most.percent(), 2)),
        BleachFault::TooWeak { least } => Refusal::new("fault-mix-weak")
            .text("option", option)
            .number("least", i64::from(least.0)),
        BleachFault::Empty
        | BleachFault::NotBelowStock { .. }
        | BleachFault::WhichUnit
        | BleachFault::NoVolume
        | BleachFault::TooMuch
        | BleachFault::TooLittle
        | BleachFault::Thousands
        | BleachFault::Shape => Refusal::new(other),
    }
}

pub(crate) fn fleet_cost(given: &Given<'_>) -> Read {
    let price = money(given, "price", "4200", rent::parse_price)?
        .ok_or_else(|| Refusal::new("fault-missing").text("option", "price"))?;
    if price == 0 {
        return Err(Refusal::new("fault-price-none"));
    }
    let salvage = money(given, "salvage", "200", rent::parse_price)?;
    if salvage.is_some_and(|salvage| salvage > price) {
        return Err(Refusal::new("fault-salvage").text("price", rent::money(price)));
    }
    let years = ["years", "year", "yrs", "yr", "y", "años", "año"];
    Ok(Request::FleetCost(Costing {
        price,
        salvage,
        years: number(given, "years", "5", (0.5, 50.0), &years)?.map(hundredths),
        interest: interest(given)?.map(hundredths),
        upkeep: money(given, "upkeep", "300", rent::parse_price)?,
        rental: rental(given)?,
        days: number(given, "days", "200", (0.0, 365.0), IN_DAYS[0].0)?.map(hundredths),
        kind: chosen!(given, "kind", crate::rules::hand_check::Kind)?,
    }))
}

pub(crate) fn fleet_size(given: &Given<'_>) -> Read {
    let beds = given.may_whole("beds", 1, BEDS_MOST)?;
    Ok(Request::FleetSize(Sizing {
        admissions: admissions(given)?.map(millionths),
        stay: stay(given)?.map(hundredths),
        shortfall: shortfall(given)?.map(hundredths),
        beds: beds.and_then(|beds| u32::try_from(beds).ok()),
        kind: chosen!(given, "kind", crate::rules::hand_check::Kind)?,
    }))
}

fn interest(given: &Given<'_>) -> Result<Option<f64>, Refusal> {
    percent(
        given,
        ("interest", "8 %"),
        (0.0, 100.0),
        "fault-interest-share",
    )
}

fn shortfall(given: &Given<'_>) -> Result<Option<f64>, Refusal> {
    percent(given, ("shortfall", "5 %"), (0.1, 50.0), "fault-share")
}

/// A percentage. A bare number that is none of a percent is more often a share: 0.08 for 8 %.
fn percent(
    given: &Given<'_>,
    (name, example): (&'static str, &'static str),
    range: (f64, f64),
    asks: &'static str,
) -> Result<Option<f64>, Refusal> {
    let percent = ["%", "percent", "per cent", "por ciento"];
    let value = number(given, name, example, range, &percent)?;
    if let (Some(share), Some(text)) = (value, given.text(name))
        && share > 0.0
        && share < 0.5
        && figure::of(&text, &[]).is_ok()
    {
        return Err(Refusal::new(asks)
            .text("percent", figure::show(share * 100.0, 2))
            .text("typed", figure::show(share, 2)));
    }
    Ok(value)
}

/// Admissions a day, as they are counted by the day, the week, the month or the year.
fn admissions(given: &Given<'_>) -> Result<Option<f64>, Refusal> {
    counted(given, "admissions", "3 a week", (0.001, 100.0), |unit| {
        let of = EACH.iter().find_map(|each| unit.strip_prefix(each));
        in_days(of.unwrap_or(unit)).map(|days| 1.0 / days)
    })
}

/// A stay in days.
fn stay(given: &Given<'_>) -> Result<Option<f64>, Refusal> {
    counted(given, "stay", "40 days", (0.1, 3650.0), in_days)
}

fn in_days(unit: &str) -> Option<f64> {
    if unit.is_empty() {
        return Some(1.0);
    }
    IN_DAYS
        .iter()
        .find_map(|(units, days)| units.contains(&unit).then_some(*days))
}

fn number(
    given: &Given<'_>,
    name: &'static str,
    example: &'static str,
    range: (f64, f64),
    units: &[&str],
) -> Result<Option<f64>, Refusal> {
    counted(given, name, example, range, |unit| {
        (unit.is_empty() || units.contains(&unit)).then_some(1.0)
    })
}

/// A number times what its unit is worth, within its range.
fn counted(
    given: &Given<'_>,
    name: &'static str,
    example: &'static str,
    (least, most): (f64, f64),
    worth: impl Fn(&str) -> Option<f64>,
) -> Result<Option<f64>, Refusal> {
    let Some(text) = given.word(name)? else {
        return Ok(None);
    };
    let fault = |key| {
        Refusal::new(key)
            .text("option", name)
            .text("example", example)
    };
    let (count, unit) = figure::read(&text).map_err(|wrong| match wrong {
        FigureFault::Negative => fault("fault-figure-negative"),
        FigureFault::Thousands => fault("fault-figure-thousands"),
        FigureFault::Shape => fault("fault-figure"),
    })?;
    let value = count * worth(&unit).ok_or_else(|| fault("fault-figure"))?;
    if (least..=most).contains(&value) {
        return Ok(Some(value));
    }
    Err(fault("fault-figure-range")
        .text("least", figure::show(least, 3))
        .text("most", figure::show(most, 0)))
}

fn rental(given: &Given<'_>) -> Result<Option<i64>, Refusal> {
    match money(given, "rental", "38.50", rent::parse_money)? {
        Some(0) => Err(Refusal::new("fault-rental-free")),
        rate => Ok(rate),
    }
}

fn money(
    given: &Given<'_>,
    name: &'static str,
    example: &'static str,
    read: impl Fn(&str) -> Result<i64, MoneyFault>,
) -> Result<Option<i64>, Refusal> {
    let Some(text) = given.word(name)? else {
        return Ok(None);
    };
    let fault = |key| {
        Refusal::new(key)
            .text("option", name)
            .text("example", example)
    };
    read(&text).map(Some).map_err(|wrong| match wrong {
        MoneyFault::Empty | MoneyFault::Shape => fault("fault-amount"),
        MoneyFault::Negative => fault("fault-amount-negative"),
        MoneyFault::PartCents | MoneyFault::Comma => fault("fault-amount-comma"),
        MoneyFault::TooMuch { max } => fault("fault-amount-much").text("most", rent::money(max)),
    })
}

fn hundredths(value: f64) -> u32 {
    rounded(value * 100.0)
}

fn millionths(value: f64) -> u32 {
    rounded(value * 1e6)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "within the option's range, which is far within that of u32"
)]
fn rounded(value: f64) -> u32 {
    value.round() as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parse::typed;
    use crate::table::find;
    use crate::words::Lang;

    fn read(line: &str) -> Result<Request, String> {
        let path = line
            .trim_start_matches('/')
            .split(' ')
            .take(if line.starts_with("/fleet") { 2 } else { 1 })
            .collect::<Vec<_>>()
            .join(" ");
        let command = find(&path).unwrap();
        let options = typed(command, line).unwrap();
        (command.parse)(&Given(&options)).map_err(|no| no.key.to_owned())
    }

    fn sizing(line: &str) -> Sizing {
        match read(line) {
            Ok(Request::FleetSize(of)) => of,
            other => panic!("{line}: {other:?}"),
        }
    }

    fn costing(line: &str) -> Costing {
        match read(line) {
            Ok(Request::FleetCost(of)) => of,
            other => panic!("{line}: {other:?}"),
        }
    }

    #[test]
    fn amounts_as_people_write_them() {
        let one = costing(
            "/fleet cost price:$4,200 rental:38.50 a day years:7½ years interest:8,25 % upkeep:300 a year salvage:1 200",
        );
        assert_eq!(
            (one.price, one.rental, one.years, one.interest),
            (420_000, Some(3850), Some(750), Some(825))
        );
        assert_eq!((one.upkeep, one.salvage), (Some(30_000), Some(120_000)));
        let other = costing("/fleet cost price:3 500 days:200 días");
        assert_eq!((other.price, other.days), (350_000, Some(20_000)));
    }

    #[test]
    fn rates_by_the_day_the_week_the_month_and_the_year() {
        for (typed, millionths) in [
            ("0.1", 100_000),
            ("0,1", 100_000),
            ("3 a week", 428_571),
            ("3/week", 428_571),
            ("3 por semana", 428_571),
            ("3 a la semana", 428_571),
            ("7 per week", 1_000_000),
            ("2 al mes", 65_710),
            ("36.5 a year", 99_934),
        ] {
            let of = sizing(&format!("/fleet size admissions:{typed}"));
            assert_eq!(of.admissions, Some(millionths), "{typed}");
        }
        let of = sizing("/fleet size stay:6 weeks shortfall:0,5 % beds:40");
        assert_eq!(
            (of.stay, of.shortfall, of.beds),
            (Some(4200), Some(50), Some(40))
        );
    }

    #[test]
    fn what_cannot_be_read_says_what_to_type() {
        for (line, key) in [
            ("/fleet cost price:4,20", "fault-amount-comma"),
            ("/fleet cost price:4.200", "fault-amount-comma"),
            ("/fleet cost price:much", "fault-amount"),
            ("/fleet cost price:-5", "fault-amount-negative"),
            ("/fleet cost price:5,000,000", "fault-amount-much"),
            ("/fleet cost price:100 salvage:200", "fault-salvage"),
            ("/fleet cost price:100 rental:0", "fault-rental-free"),
            ("/fleet cost price:100 years:0", "fault-figure-range"),
            ("/fleet cost price:100 years:5 days", "fault-figure"),
            (
                "/fleet cost price:100 interest:0.08",
                "fault-interest-share",
            ),
            ("/fleet cost price:100 interest:800", "fault-figure-range"),
            ("/fleet cost price:100 days:366", "fault-figure-range"),
            ("/fleet size admissions:0", "fault-figure-range"),
            ("/fleet size admissions:-1", "fault-figure-negative"),
            ("/fleet size admissions:3 a fortnight", "fault-figure"),
            ("/fleet size stay:1.500", "fault-figure-thousands"),
            ("/fleet size shortfall:0", "fault-figure-range"),
            (
                "/mix stock:5000 target:500 ppm volume:1 L",
                "fault-mix-stock-ppm",
            ),
            (
                "/mix stock:8.25 target:500 volume:1 L",
                "fault-mix-target-unit",
            ),
            ("/mix stock:8.25 target:1:10 volume:1 L", "fault-mix-ratio"),
            (
                "/mix stock:8.25 target:500% volume:1 L",
                "fault-mix-percent",
            ),
            (
                "/mix stock:20 target:500 ppm volume:1 L",
                "fault-mix-strong",
            ),
            ("/mix stock:8.25 target:5 ppm volume:1 L", "fault-mix-weak"),
            (
                "/mix stock:strong target:5 ppm volume:1 L",
                "fault-mix-stock",
            ),
            ("/mix stock:8.25 target:weak volume:1 L", "fault-mix-target"),
            (
                "/mix stock:8.25 target:500 ppm volume:2",
                "fault-mix-volume-unit",
            ),
            (
                "/mix stock:8.25 target:500 ppm volume:0 L",
                "fault-mix-volume-none",
            ),
            (
                "/mix stock:8.25 target:500 ppm volume:300 L",
                "fault-mix-volume-much",
            ),
            (
                "/mix stock:8.25 target:500 ppm volume:1.500 mL",
                "fault-mix-volume-thousands",
            ),
            (
                "/mix stock:8.25 target:500 ppm volume:a bucket",
                "fault-mix-volume",
            ),
        ] {
            assert_eq!(read(line), Err(key.to_owned()), "{line}");
            for lang in Lang::ALL {
                assert!(crate::words::has(lang, key), "{lang:?} {key}");
            }
        }
    }
}
