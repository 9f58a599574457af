//! How many surfaces to own. Decides which demand it rests on, typed or from the home's own records, which formula
//! applies, and how the answer is said; leaves the arithmetic to `rules::fleet_size` and the promise to the home. Nothing is
//! recorded.
//!
//! From the records it takes how many were in use day by day, which is what `/fleet cost` tells of the same days. Only where
//! one of both is typed is the other reckoned: each time that a surface went under a bed is a request, a rented one's and a
//! spare's too, because each took one that was ready. Requests that found none are on record nowhere, unless one was rented
//! for them.

use super::draft::{Asked, button};
use super::use_on_record::{DAYS_ENOUGH, OnRecord};
use crate::decision::Decision;
use crate::message::{Look, Message};
use crate::past::Wanted;
use crate::picture::{self, Picture, fleet::Fleet};
use crate::refusal::Refusal;
use crate::rules::figure;
use crate::rules::fleet_size::{
    Demand, Estimate, FEW_BEDS, FleetFault, Recorded, Use, offered_load, recorded,
};
use crate::rules::policy::Name;
use crate::say;
use crate::tap::{Sizing, Sum, Tap};
use crate::words::Lang;

/// With fewer stays that ended than these a mean would be a guess (common practice).
const ENDED_ENOUGH: u32 = 5;
/// Rows of the curve before and after the number that keeps the promise.
const ROWS_BEFORE: u32 = 3;
const ROWS_AFTER: u32 = 2;
/// Shares below this are said to be under it.
const LEAST_SAID: f64 = 0.001;
/// A bed's worth that is left free where the records say that none ever was.
const NEARLY_ALL: f64 = 0.999;

/// All that the answer needs.
struct Figures<'a> {
    demand: Demand,
    /// Surfaces in use on average if there were always one.
    load: Estimate,
    /// The share that may find none.
    promise: f64,
    need: u32,
    /// The same by the limits of the load; `None` where all of it was typed.
    range: Option<(u32, u32)>,
    recorded: Option<Recorded>,
    /// The home's beds, where all of what can ask is on record.
    home_beds: Option<u32>,
    records: OnRecord<'a>,
}

/// `/fleet size`.
pub(super) fn size(asked: &Asked<'_>, sizing: Sizing) -> Result<Decision, Refusal> {
    let figures = match Figures::of(asked, &sizing)? {
        Ok(figures) => figures,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let (lang, records) = (asked.lang, &figures.records);
    let own = u32::try_from(records.own()).unwrap_or(u32::MAX);
    let promise = promised(lang, figures.promise);
    let mut lines = vec![match figures.range {
        Some((low, high)) if low != high => say!(
            lang,
            "size-range",
            low = i64::from(low),
            high = i64::from(high),
            count = i64::from(figures.need),
            promise = promise,
            own = i64::from(own)
        ),
        range => {
            let need = say!(
                lang,
                "size-need",
                count = i64::from(figures.need),
                promise = promise,
                own = i64::from(own)
            );
            let sure = range.map(|(low, _)| say!(lang, "size-sure", count = i64::from(low)));
            [Some(need), sure]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join("\n")
        }
    }];
    let share = |surfaces: u32| figures.demand.shortfall(surfaces).map_err(size_fault);
    let out = u32::try_from(records.own_out()).unwrap_or(u32::MAX);
    // Whoever needs one today finds those that work, and no others.
    lines.push(if out > 0 {
        let working = own.saturating_sub(out);
        say!(
            lang,
            "size-now-out",
            own = i64::from(own),
            share = figures.one_in(lang, share(own)?),
            working = i64::from(working),
            less = figures.one_in(lang, share(working)?)
        )
    } else {
        say!(
            lang,
            "size-now",
            own = i64::from(own),
            share = figures.one_in(lang, share(own)?)
        )
    });
    if records.rented() > 0 {
        lines.push(say!(lang, "size-rented", count = records.rented() as i64));
    }
    lines.push(say!(lang, "size-table-head"));
    lines.push(figures.table(lang, own)?);
    lines.push(figures.source(lang, &sizing));
    lines.push(say!(lang, "size-foot"));
    let tap = Tap::Sum(Sum::Size(sizing));
    let why = button(lang, "button-why", Look::Plain, &tap);
    let mut message = Message::text(lines.join("\n")).buttons(vec![why]);
    message.picture = Some(Box::new(figures.curve(lang)?));
    Ok(Decision::private(message))
}

/// "Why?" below it. The whole curve is under the answer itself, which has the rows of it that matter.
pub(super) fn why(asked: &Asked<'_>, sizing: Sizing) -> Result<Decision, Refusal> {
    let figures = match Figures::of(asked, &sizing)? {
        Ok(figures) => figures,
        Err(wanted) => return Ok(Decision::wanting(wanted)),
    };
    let lang = asked.lang;
    let tenth = |value: f64| figure::show(value, 1);
    let load = &figures.load;
    let mut lines = vec![if figures.range.is_some() {
        say!(
            lang,
            "size-why-load-range",
            load = tenth(load.value),
            low = tenth(load.low),
            high = tenth(figures.can_be(load.high))
        )
    } else {
        say!(lang, "size-why-load", load = tenth(load.value))
    }];
    if let Some(recorded) = &figures.recorded {
        lines.extend(figures.of_records(lang, &sizing, recorded));
    }
    if let Some(count) = sizing.admissions {
        let count = figure::show(f64::from(count) / 1e6, 3);
        lines.push(say!(lang, "size-why-admissions", count = count));
    }
    if let Some(days) = sizing.stay {
        let days = figure::show(f64::from(days) / 100.0, 2);
        lines.push(say!(lang, "size-why-stay", days = days));
    }
    lines.push(match figures.demand {
        Demand::Beds { beds, .. } => match figures.home_beds {
            Some(home) if home < beds => say!(
                lang,
                "size-why-beds-turning",
                beds = i64::from(home),
                more = i64::from(beds - home),
                asking = i64::from(beds)
            ),
            Some(_) | None => say!(lang, "size-why-beds", beds = i64::from(beds)),
        },
        Demand::Open { .. } => say!(lang, "size-why-open"),
    });
    lines.push(say!(lang, "size-why-taken"));
    Ok(Decision::private(Message::text(lines.join("\n"))))
}

impl<'a> Figures<'a> {
    /// The figures, or what of the log they need.
    fn of(asked: &Asked<'a>, sizing: &Sizing) -> Result<Result<Self, Wanted>, Refusal> {
        let state = asked.state;
        let records = match OnRecord::read(asked, sizing.kind) {
            Ok(records) => records,
            Err(wanted) => return Ok(Err(wanted)),
        };
        let promise = sizing.shortfall.map_or_else(
            || state.policies.get(Name::FleetShortfall) as f64 / 100.0,
            |hundredths| f64::from(hundredths) / 10_000.0,
        );
        let admissions = sizing
            .admissions
            .map(|millionths| f64::from(millionths) / 1e6);
        let stay = sizing.stay.map(|hundredths| f64::from(hundredths) / 100.0);
        let recorded = match (admissions, stay) {
            (Some(_), Some(_)) => None,
            (None, _) | (_, None) => Some(enough(&records)?),
        };
        // What comes from outside has no end; what was typed about beds, and what is on record of the home's own, has.
        let home_beds = match (sizing.beds, &recorded) {
            (None, Some(_)) => u32::try_from(asked.state.bed_units.len())
                .ok()
                .filter(|beds| *beds > 0),
            (Some(_), _) | (None, None) => None,
        };
        let asking = sizing
            .beds
            .or(home_beds.map(|beds| beds + turning(&records)));
        let few = |load: f64| asking.filter(|beds| f64::from(*beds) < FEW_BEDS * load);
        let load = match (admissions, stay, &recorded) {
            (None, None, Some(known)) => known.load(few(known.in_use())),
            (Some(_), _, _) | (_, Some(_), _) | (None, None, None) => {
                load(admissions, stay, recorded.as_ref())?
            }
        };
        let typed = admissions.is_some() || stay.is_some();
        possible(sizing, &records, state.bed_units.len(), load.value)?;
        // What is typed beside what is on record of another time can be more than there is.
        if let Some(beds) = asking.filter(|beds| typed && load.value >= f64::from(*beds)) {
            return Err(Refusal::new("fault-size-fills")
                .text("load", figure::show(load.value, 0))
                .number("beds", i64::from(beds)));
        }
        let few = few(load.value);
        let demand = |load: f64| demand_of(load, few);
        let fewest = |load: f64| demand(load).fewest(promise).map_err(size_fault);
        let range = match recorded {
            Some(_) => Some((fewest(load.low)?, fewest(load.high)?)),
            None => None,
        };
        Ok(Ok(Self {
            demand: demand(load.value),
            need: fewest(load.value)?,
            range,
            promise,
            load,
            recorded,
            home_beds,
            records,
        }))
    }

    /// What the records say: how many were in use, or of what was not typed, how many ask and how long one is needed.
    fn of_records(&self, lang: Lang, sizing: &Sizing, recorded: &Recorded) -> Vec<String> {
        let tenth = |value: f64| figure::show(value, 1);
        let known = self.records.days();
        if sizing.admissions.is_some() || sizing.stay.is_some() {
            return vec![say!(
                lang,
                "size-why-records",
                known = known,
                requests = i64::from(recorded.requests),
                ended = i64::from(recorded.ended),
                stay = tenth(recorded.stay_days.value)
            )];
        }
        let in_use = self.records.in_use();
        let [own, rented, all] = [in_use.own, in_use.rented, recorded.in_use()]
            .map(|count| (count * 10.0).round() / 10.0);
        vec![
            say!(
                lang,
                "size-why-in-use",
                known = known,
                own = tenth(own),
                rented = tenth(rented),
                // What is left of the sum as it is shown, so that the three add up to it.
                turning = tenth((all - own - rented).max(0.0))
            ),
            say!(
                lang,
                "size-why-sure",
                ended = i64::from(recorded.ended),
                stay = figure::show(recorded.stay_days.value, 0)
            ),
        ]
    }

    /// How many surfaces are enough, drawn.
    fn curve(&self, lang: Lang) -> Result<Picture, Refusal> {
        let range = self
            .recorded
            .as_ref()
            .map(|_| [self.load.low, self.load.high].map(|load| demand_of(load, self.asking())));
        let curve = Fleet {
            demand: self.demand,
            range,
            promise: self.promise,
            owned: u32::try_from(self.records.own()).unwrap_or(u32::MAX),
        };
        picture::fleet(lang, &curve).map_err(size_fault)
    }

    /// How many beds can ask, where they are so few that it counts.
    fn asking(&self) -> Option<u32> {
        match self.demand {
            Demand::Beds { beds, .. } => Some(beds),
            Demand::Open { .. } => None,
        }
    }

    /// No more can be in use at once than beds can ask.
    fn can_be(&self, load: f64) -> f64 {
        match self.demand {
            Demand::Beds { beds, .. } => load.min(f64::from(beds)),
            Demand::Open { .. } => load,
        }
    }

    /// A few numbers of surfaces and how often each finds none ready, as a block that a phone shows without breaking a line.
    fn table(&self, lang: Lang, own: u32) -> Result<String, Refusal> {
        let last = self.need + ROWS_AFTER;
        let curve = self.demand.curve(last.max(own)).map_err(size_fault)?;
        let mut rows: Vec<u32> = (self.need.saturating_sub(ROWS_BEFORE).max(1)..=last).collect();
        if own > 0 && !rows.contains(&own) {
            rows.push(own);
            rows.sort_unstable();
        }
        let mut lines = vec!["```".to_owned()];
        for surfaces in rows {
            let Some(share) = curve.get(surfaces as usize) else {
                continue;
            };
            let mark = match (surfaces == self.need, surfaces == own) {
                (true, true) => say!(lang, "size-row-both"),
                (false, true) => say!(lang, "size-row-own"),
                (true, false) => say!(lang, "size-row-need"),
                (false, false) => String::new(),
            };
            // In a row there is no room for more words than these.
            let share = if *share < LEAST_SAID {
                say!(lang, "size-row-under")
            } else {
                self.one_in(lang, *share)
            };
            let line = format!("{surfaces:>4}  {share:18}{mark}");
            lines.push(line.trim_end().to_owned());
        }
        lines.push("```".to_owned());
        Ok(lines.join("\n"))
    }

    /// What it rests on.
    fn source(&self, lang: Lang, sizing: &Sizing) -> String {
        let typed = sizing.admissions.is_some() || sizing.stay.is_some();
        match &self.recorded {
            Some(_) if typed => say!(
                lang,
                "size-from-both",
                typed = typed_words(lang, sizing),
                known = self.records.days()
            ),
            Some(recorded) => say!(
                lang,
                "size-from-records",
                known = self.records.days(),
                load = figure::show(recorded.in_use(), 1)
            ),
            None => say!(lang, "size-from-typed", typed = typed_words(lang, sizing)),
        }
    }

    /// A share that was reckoned, in round words that never look better than it is: what breaks the promise never reads like it.
    fn one_in(&self, lang: Lang, share: f64) -> String {
        if share >= 0.9 {
            return say!(lang, "share-all");
        }
        if share > 0.5 {
            let tens = figure::show((share * 10.0).ceil(), 0);
            return say!(lang, "share-in-ten", count = tens);
        }
        if share < LEAST_SAID {
            return say!(lang, "share-under");
        }
        let one = 1.0 / share;
        let whole = one.floor();
        // A promise such as 3 in 100 lies between two whole numbers: what keeps it does not read as if it did not.
        let kept = share <= self.promise && whole < 1.0 / self.promise - 1e-9;
        let count = if kept {
            (one * 10.0).floor() / 10.0
        } else {
            whole
        };
        say!(lang, "share-one-in", count = figure::show(count, 1))
    }
}

/// The demand of a load, where so few beds can ask or many may.
fn demand_of(load: f64, few: Option<u32>) -> Demand {
    match few {
        Some(beds) => Demand::Beds {
            load: load.min(f64::from(beds) * NEARLY_ALL),
            beds,
        },
        None => Demand::Open { load },
    }
}

/// What was typed of who needs one and how long, each in the unit in which it was taken.
fn typed_words(lang: Lang, sizing: &Sizing) -> String {
    let admissions = sizing.admissions.map(|millionths| {
        let day = f64::from(millionths) / 1e6;
        say!(
            lang,
            "size-typed-admissions",
            day = figure::show(day, 2),
            week = figure::show(day * 7.0, 1)
        )
    });
    let stay = sizing.stay.map(|hundredths| {
        let days = figure::show(f64::from(hundredths) / 100.0, 2);
        say!(lang, "size-typed-stay", days = days)
    });
    let all: Vec<String> = admissions.into_iter().chain(stay).collect();
    all.join(", ")
}

/// What the records say of the demand.
///
/// # Errors
/// A [`Refusal`] that says what to type where they say too little.
fn enough(records: &OnRecord<'_>) -> Result<Recorded, Refusal> {
    let uses: Vec<Use> = records
        .stays
        .iter()
        .map(|stay| Use {
            from: stay.from.unwrap_or(records.from),
            to: stay.free,
            asked: stay.asked && stay.from.is_some(),
        })
        .collect();
    let known = recorded(&uses, 0, records.from, records.to).ok();
    let ended = known.map_or(0, |known| known.ended);
    known
        .filter(|known| known.ended >= ENDED_ENOUGH && records.days() >= DAYS_ENOUGH)
        .ok_or_else(|| {
            Refusal::new("fault-size-too-little")
                .number("known", records.days())
                .number("ended", i64::from(ended))
                .number("days", DAYS_ENOUGH)
                .number("stays", i64::from(ENDED_ENOUGH))
        })
}

/// Whether the home can be so: no more can be in use than there are beds.
///
/// # Errors
/// A [`Refusal`] that names the field and says what to type instead.
fn possible(
    sizing: &Sizing,
    records: &OnRecord<'_>,
    home: usize,
    load: f64,
) -> Result<(), Refusal> {
    let home = u32::try_from(home).unwrap_or(u32::MAX);
    if let Some(beds) = sizing.beds {
        let used = u32::try_from(records.under_bed()).unwrap_or(u32::MAX);
        if beds < used {
            return Err(Refusal::new("fault-size-beds-used")
                .number("beds", i64::from(beds))
                .number("used", i64::from(used)));
        }
    }
    // Who asks from outside the home's beds is typed as `beds`.
    let both = sizing.admissions.is_some() && sizing.stay.is_some();
    if both && sizing.beds.is_none() && home > 0 && load >= f64::from(home) {
        return Err(Refusal::new("fault-size-home")
            .text("load", figure::show(load, 1))
            .number("beds", i64::from(home)));
    }
    Ok(())
}

/// The offered load of what was typed, with what is recorded of the rest.
fn load(
    admissions: Option<f64>,
    stay: Option<f64>,
    recorded: Option<&Recorded>,
) -> Result<Estimate, Refusal> {
    let exact = |value: f64| Estimate {
        value,
        low: value,
        high: value,
    };
    let (admissions, stay) = match (admissions, stay, recorded) {
        (Some(admissions), None, Some(known)) => (exact(admissions), known.stay_days),
        (None, Some(stay), Some(known)) => (known.requests_a_day, exact(stay)),
        (Some(admissions), Some(stay), _) => (exact(admissions), exact(stay)),
        (None, None, _) | (None, _, None) | (_, None, None) => {
            return Err(Refusal::new("fault-stale-tap"));
        }
    };
    let times = |a: f64, b: f64| offered_load(a, b).map_err(size_fault);
    Ok(Estimate {
        value: times(admissions.value, stay.value)?,
        low: times(admissions.low, stay.low)?,
        high: times(admissions.high, stay.high)?,
    })
}

/// How many more beds can ask than there are, as it were: for each surface that is in its turnover on average one, because
/// it is in use and the bed it came from can ask again. To the nearest whole one, as the beds are.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "no more than there are surfaces"
)]
fn turning(records: &OnRecord<'_>) -> u32 {
    records.in_use().turning.round() as u32
}

fn size_fault(fault: FleetFault) -> Refusal {
    match fault {
        FleetFault::Load => Refusal::new("fault-size-load"),
        FleetFault::Requests
        | FleetFault::Stay
        | FleetFault::Beds
        | FleetFault::Shortfall
        | FleetFault::Window
        | FleetFault::Backwards
        | FleetFault::NoneEnded => Refusal::new("fault-stale-tap"),
    }
}

/// A promise as it is said: 5 % is 1 in 20, 3 % is 3 in 100.
fn promised(lang: Lang, share: f64) -> String {
    let one = 1.0 / share;
    if (one - one.round()).abs() < 1e-6 {
        return say!(lang, "share-one-in", count = figure::show(one, 0));
    }
    say!(
        lang,
        "share-in-hundred",
        count = figure::show(share * 100.0, 2)
    )
}
