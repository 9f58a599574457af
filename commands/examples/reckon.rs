//! Works out what a script asks on its standard input, a JSON object a line: `{"module": "bleach", "inputs": {…}}`.
//! Answers a line each, in the same order: the module's figures, or `{"fault": "…"}` where it refuses.
//!
//! It is there for `tests/reference/compare.py`, which holds these figures against other libraries. It decides nothing.

use std::io::{self, BufRead, Write};

use chrono::{DateTime, TimeDelta, Utc};
use commands::rules::air::Tenths;
use commands::rules::bleach::{self, Strength, Volume};
use commands::rules::drift::{self, Reading};
use commands::rules::filter_cycle::{self, At, Learned, Looks, STEPS, SURE, Terms as CycleTerms};
use commands::rules::filter_life::{self, Life, Span};
use commands::rules::fleet_size::{self, Demand, Estimate, Use};
use commands::rules::order_point;
use commands::rules::own_or_rent::{self, BreakEven, Terms};
use commands::rules::share;
use commands::rules::trend::{self, Chart, Crossing, Point};
use commands::rules::waits::{Wait, Waits};
use serde_json::{Value, json};

fn main() -> io::Result<()> {
    let mut out = io::BufWriter::new(io::stdout().lock());
    for line in io::stdin().lock().lines() {
        let question: Value = serde_json::from_str(&line?)?;
        let inputs = &question["inputs"];
        let answer = match question["module"].as_str() {
            Some("bleach") => bleach(inputs),
            Some("drift") => drift(inputs),
            Some("filter_cycle") => filter_cycle(inputs),
            Some("filter_life") => filter_life(inputs),
            Some("fleet_size") => fleet_size(inputs),
            Some("order_point") => order_point(inputs),
            Some("own_or_rent") => own_or_rent(inputs),
            Some("share") => share(inputs),
            Some("trend") => trend(inputs),
            Some("waits") => waits(inputs),
            other => fault(&format!("no module {other:?}")),
        };
        serde_json::to_writer(&mut out, &answer)?;
        out.write_all(b"\n")?;
    }
    out.flush()
}

fn fault(fault: &dyn std::fmt::Debug) -> Value {
    json!({ "fault": format!("{fault:?}") })
}

/// A number; one that is missing or none is no number, which every rule refuses.
fn number(inputs: &Value, key: &str) -> f64 {
    inputs[key].as_f64().unwrap_or(f64::NAN)
}

fn count(inputs: &Value, key: &str) -> u32 {
    let count = inputs[key].as_u64().unwrap_or(u64::MAX);
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn bleach(inputs: &Value) -> Value {
    let stock = Strength(count(inputs, "stock_ppm"));
    let target = Strength(count(inputs, "target_ppm"));
    let volume = Volume {
        ml: number(inputs, "ml"),
    };
    match bleach::mix(stock, target, volume) {
        Ok(mixture) => json!({
            "parts_of_water": mixture.parts_of_water,
            "bleach_ml": mixture.bleach.ml,
            "water_ml": mixture.water.ml,
            "bleach_ounces": mixture.bleach.count(bleach::Unit::Ounce),
            "made_ppm": bleach::made(stock, mixture.bleach, mixture.water),
        }),
        Err(why) => fault(&why),
    }
}

fn own_or_rent(inputs: &Value) -> Value {
    let terms = Terms {
        price_cents: number(inputs, "price_cents"),
        salvage_cents: number(inputs, "salvage_cents"),
        years: number(inputs, "years"),
        interest: number(inputs, "interest"),
        upkeep_cents: number(inputs, "upkeep_cents"),
        rental_cents: number(inputs, "rental_cents"),
    };
    let figures = || {
        let days = match own_or_rent::break_even(&terms)? {
            BreakEven::Days(days) | BreakEven::Never { days } => days,
        };
        let swings = own_or_rent::sensitivity(&terms)?;
        Ok::<_, own_or_rent::Input>(json!({
            "capital_recovery": own_or_rent::capital_recovery(terms.interest, terms.years)?,
            "annual_cost": own_or_rent::annual_cost(&terms)?,
            "days": days,
            "swings": swings.map(|swing| swing.days()),
        }))
    };
    figures().unwrap_or_else(|why| fault(&why))
}

fn fleet_size(inputs: &Value) -> Value {
    let at = |value: &Value| -> DateTime<Utc> {
        DateTime::UNIX_EPOCH + TimeDelta::seconds(value.as_i64().unwrap_or(0))
    };
    let uses: Vec<Use> = rows(&inputs["uses"])
        .map(|pair| Use {
            from: at(&pair[0]),
            to: (!pair[1].is_null()).then(|| at(&pair[1])),
            asked: true,
        })
        .collect();
    let estimate = |of: Estimate| json!([of.value, of.low, of.high]);
    let open = Demand::Open {
        load: number(inputs, "load"),
    };
    let beds = Demand::Beds {
        load: number(inputs, "load"),
        beds: count(inputs, "beds"),
    };
    let (surfaces, promise) = (count(inputs, "surfaces"), number(inputs, "promise"));
    let figures = || {
        let recorded = fleet_size::recorded(
            &uses,
            count(inputs, "found_none"),
            DateTime::UNIX_EPOCH,
            at(&inputs["to"]),
        )?;
        Ok::<_, fleet_size::FleetFault>(json!({
            "erlang": open.shortfall(surfaces)?,
            "engset": beds.shortfall(surfaces)?,
            "fewest": [open.fewest(promise)?, beds.fewest(promise)?],
            "curves": [open.curve(surfaces)?, beds.curve(surfaces)?],
            "offered": fleet_size::offered_load(promise, number(inputs, "load"))?,
            "requests_a_day": estimate(recorded.requests_a_day),
            "stay_days": estimate(recorded.stay_days),
            "load": [
                estimate(recorded.load(None)),
                estimate(recorded.load(Some(count(inputs, "beds")))),
            ],
        }))
    };
    figures().unwrap_or_else(|why| fault(&why))
}

fn rows(list: &Value) -> impl Iterator<Item = &Value> {
    list.as_array().into_iter().flatten()
}

fn numbers(list: &Value) -> Vec<f64> {
    rows(list)
        .map(|value| value.as_f64().unwrap_or(f64::NAN))
        .collect()
}

fn trend(inputs: &Value) -> Value {
    let values = numbers(&inputs["values"]);
    let points: Vec<Point> = numbers(&inputs["days"])
        .into_iter()
        .zip(&values)
        .map(|(days, value)| Point {
            days,
            value: *value,
        })
        .collect();
    let found = match trend::trend(&points) {
        Ok(found) => found,
        Err(why) => return fault(&why),
    };
    let newest = number(inputs, "newest");
    let crossing = crossing(found.crossing(number(inputs, "limit"), true, newest));
    let chart = Chart::of(&values).map(|chart| chart.in_steps(number(inputs, "step")));
    let out = |chart: &Chart| {
        values
            .iter()
            .filter(|value| chart.stands_out(**value))
            .count()
    };
    json!({
        "slope": found.slope,
        "level": found.value_at(0.0),
        "limits": [found.low, found.high],
        "s": found.significance.s,
        "variance": found.significance.variance,
        "p": found.significance.p,
        "crossing": crossing,
        "stand_out": chart.as_ref().map(out),
        "chart": chart.map(|chart| [chart.mean, chart.range, chart.low, chart.high, chart.range_high]),
    })
}

fn crossing(of: Crossing) -> Value {
    match of {
        Crossing::Past => json!("past"),
        Crossing::Never => json!("never"),
        Crossing::At {
            earliest,
            likely,
            latest,
        } => json!([earliest, likely, latest]),
    }
}

fn drift(inputs: &Value) -> Value {
    let whole = |value: &Value| value.as_i64().unwrap_or(0);
    let tenths = |value: &Value| Tenths(i32::try_from(whole(value)).unwrap_or(i32::MAX));
    let readings: Vec<Reading> = rows(&inputs["readings"])
        .map(|pair| {
            let at = DateTime::UNIX_EPOCH + TimeDelta::seconds(whole(&pair[0]));
            Reading::new(at, tenths(&pair[1]))
        })
        .collect();
    let low = tenths(&inputs["low"]);
    let asked = drift::Asked {
        readings: count(inputs, "at_least") as usize,
        days: whole(&inputs["days"]),
        odds: whole(&inputs["odds"]),
        fall: tenths(&inputs["fall"]),
        horizon: whole(&inputs["horizon"]),
    };
    let chance = drift::chance(&readings);
    let newest = drift::points(&readings)
        .last()
        .map_or(0.0, |point| point.days);
    let line = drift::line(&readings);
    json!({
        "chance": chance,
        "rare": asked.rare(chance),
        "line": line.as_ref().map(|line| (line.slope, line.value_at(0.0), line.low, line.high)),
        "crossing": line.map(|line| crossing(line.crossing(f64::from(low.0), true, newest))),
        "losing": drift::losing(&readings, low, &asked).is_some(),
    })
}

fn order_point(inputs: &Value) -> Value {
    let mean = number(inputs, "mean");
    match order_point::order_point(mean, number(inputs, "service")) {
        Ok(pieces) => json!({
            "pieces": pieces,
            "days_left": order_point::days_left(count(inputs, "on_hand"), mean),
        }),
        Err(why) => fault(&why),
    }
}

/// What is learned of these looks alone, and the days that follow where neither home nor maker bounds them.
fn filter_cycle(inputs: &Value) -> Value {
    let spans = spans(inputs);
    let of = u32::try_from(spans.len()).unwrap_or(u32::MAX);
    let own = Looks {
        dirty: u32::try_from(spans.iter().filter(|span| span.by.is_some()).count()).unwrap_or(0),
        looks: of,
        units: 1,
        spans,
    };
    let none = Looks::default();
    let Some(learned) = filter_cycle::learn(&own, &none, &none, 1) else {
        return fault(&"nothing is learned");
    };
    let longest = STEPS.last().copied().unwrap_or(1);
    let at = At {
        age: count(inputs, "age"),
        left_dusty: false,
        usual: longest,
        limit: longest,
        before: None,
        same: false,
        longest: 0,
    };
    let terms = CycleTerms {
        chance: number(inputs, "chance"),
        looks: 1,
        longer: true,
        most: longest,
    };
    let age = f64::from(at.age);
    let worse = learned.cycle(age, terms.chance, longest);
    let curve = learned.life.sure_cycle(age, terms.chance, longest, SURE);
    // The longest that both allow: how mass lies in what was seen is not unique, so whoever else reckons it holds that it is kept.
    let allowed = |days: u32| {
        let seen = learned.by_steps(age, f64::from(days));
        curve.is_some_and(|curve| days <= curve.days)
            && seen.is_none_or(|seen| seen <= terms.chance + 1e-9)
    };
    let kept = worse
        .is_some_and(|worse| (worse.days == 1 || allowed(worse.days)) && !allowed(worse.days + 1));
    let (apart, shape) = (learned.apart, matches!(learned.life, Life::Weibull { .. }));
    let by_curve = Learned {
        steps: None,
        ..learned
    };
    json!({
        "shape": shape,
        "apart": apart,
        "kept": kept,
        "days": curve.map(|cycle| cycle.days),
        "step": filter_cycle::next(Some(&by_curve), at, Some(terms)).days,
    })
}

fn spans(inputs: &Value) -> Vec<Span> {
    rows(&inputs["spans"])
        .map(|pair| Span {
            after: pair[0].as_f64().unwrap_or(f64::NAN),
            by: (!pair[1].is_null()).then(|| pair[1].as_f64().unwrap_or(f64::NAN)),
        })
        .collect()
}

fn filter_life(inputs: &Value) -> Value {
    let spans = spans(inputs);
    let figures = || {
        let life = filter_life::life(&spans)?;
        let found = match life {
            Life::Weibull {
                shape,
                scale,
                log_likelihood,
                ..
            } => json!(["weibull", shape, scale, log_likelihood]),
            Life::Exponential {
                mean,
                log_likelihood,
                ..
            } => json!(["exponential", mean, log_likelihood]),
            Life::NoFailures { mean_at_least } => json!(["no failures", mean_at_least]),
            Life::AllDirty { by } => json!(["all dirty", by]),
        };
        let chance = number(inputs, "chance");
        let cycle = life.cycle(number(inputs, "age"), chance, count(inputs, "limit"));
        let masses = filter_life::turnbull(&spans)?;
        let inside = |mass: &&filter_life::Mass, span: &Span| {
            mass.after >= span.after
                && mass.by.unwrap_or(f64::INFINITY) <= span.by.unwrap_or(f64::INFINITY)
        };
        let of = |span: &Span| {
            let covered = masses.iter().filter(|mass| inside(mass, span));
            covered.map(|mass| mass.share).sum::<f64>()
        };
        Ok::<_, filter_life::LifeFault>(json!({
            "life": found,
            "age": life.age_at(chance),
            "dirty_by": life.dirty_by(number(inputs, "limit")),
            "steady": match filter_life::steady(&spans)? {
                Life::Exponential { mean, .. } => json!(mean),
                other @ (Life::Weibull { .. } | Life::NoFailures { .. } | Life::AllDirty { .. }) => json!(other.age_at(0.5)),
            },
            "deviation": life.deviation(number(inputs, "age"), 7.0),
            "cycle": cycle.map(|cycle| json!([cycle.days, cycle.chance])),
            "spread": (spans.iter().map(|span| of(span).ln()).sum::<f64>() / spans.len() as f64).exp(),
            "spans": spans.iter().map(of).collect::<Vec<_>>(),
        }))
    };
    figures().unwrap_or_else(|why| fault(&why))
}

fn share(inputs: &Value) -> Value {
    match share::share(count(inputs, "on_time"), count(inputs, "of")) {
        Some(found) => json!({ "share": found.share, "limits": [found.low, found.high] }),
        None => fault(&"none"),
    }
}

fn waits(inputs: &Value) -> Value {
    let waits: Vec<Wait> = rows(&inputs["waits"])
        .map(|pair| Wait {
            time: pair[0].as_f64().unwrap_or(f64::NAN),
            over: pair[1].as_bool().unwrap_or(false),
        })
        .collect();
    match Waits::of(&waits) {
        Some(found) => json!({
            "times": found.steps.iter().map(|step| step.time).collect::<Vec<_>>(),
            "waiting": found.steps.iter().map(|step| step.waiting).collect::<Vec<_>>(),
            "median": found.median(),
            "ninetieth": found.ninetieth(),
            "within": found.within(number(inputs, "share")),
        }),
        None => fault(&"none"),
    }
}
