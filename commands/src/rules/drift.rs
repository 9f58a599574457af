//! Whether a surface loses loft: its readings fall over days, by more than chance and the grain of a reading explain.
//!
//! Decides which readings can be compared, how those that are no number count, and when a fall is worth a look. Leaves
//! slope and significance to `trend`, how many readings are kept to the state, what a home asks for to its policies, and
//! every sentence to `decide::loft`: "trending lower, inspect". A surface without a trend is not shown to be safe by it.
//!
//! How often it is wrong. A home looks at every surface after every reading, for months, so chance gets many tries. The
//! defaults were chosen by counting (`cargo run --release -p loftwatch-commands --example drift`: 1,000 invented surfaces each,
//! three readings a day, 8 % missed, scatter .08 in and .04 in between hands, told in quarters of an inch). Of steady ones 5 were
//! named in 90 days; 22 where the air wanders by .03 in from week to week, 291 where by .06 in: a slow turn of the person looks
//! like a leak. Of those that lose .02 in a day from 1.35 in on, half were named by day 13 and had a first low reading by day 18;
//! 885 were named before it (.01 in a day: 774, .04 in: 772). Told in eighths: 1, 13 and 249; 723 (570, 621). So a home of 40
//! steady surfaces looks in vain about once in three months, more often where people move about much, and a fast loss may be low
//! first. It is one more pair of eyes, and no alarm.
//!
//! One line is the readings of one placement and one setting. Off it stay a reading under hips or shoulders, with the head
//! raised or on the side, what was looked at and felt from above, in static mode, at another setting than the one in use, or through more layers than common: each
//! of these changes the reading by itself. What nobody said is taken to be as usual: buttocks, flat on the back.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::air::Tenths;
use super::hand_check::{Air, Band, DEFAULT_MOST_LAYERS, too_many_layers};
use super::policy::{Name, Policies};
use super::trend::{self, Crossing, Point, Trend};
use crate::choice::{Mode, Position, Site};

/// So many of the newest readings make a line: three weeks of one in each shift. More would find a slow loss later, not
/// sooner, because what was steady before weighs as much as what falls now.
pub const READINGS_KEPT: usize = 60;

/// The fewest readings that a home may ask for, and so the fewest whose significance is looked at.
pub const READINGS_LEAST: usize = 8;

/// A share of one is so many of these.
const MILLION: f64 = 1_000_000.0;

const DAY_SECONDS: f64 = 86_400.0;

/// A reading on a line: the second, and the air. Sixteen bytes, because every surface keeps many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reading(i64, Tenths);

impl Reading {
    /// So much air, at that second.
    #[must_use]
    pub fn new(at: DateTime<Utc>, air: Tenths) -> Self {
        Self(at.timestamp(), air)
    }

    /// When the hand was there, in seconds since 1970.
    #[must_use]
    pub fn seconds(self) -> i64 {
        self.0
    }

    /// When the hand was there.
    #[must_use]
    pub fn at(self) -> DateTime<Utc> {
        DateTime::from_timestamp(self.0, 0).unwrap_or_default()
    }

    /// The air, in tenths of a millimetre.
    #[must_use]
    pub fn air(self) -> Tenths {
        self.1
    }
}

/// How a reading was taken, as far as it was said.
#[derive(Clone, Copy, Debug, Default)]
pub struct How<'a> {
    /// Where the hand was.
    pub site: Option<Site>,
    /// How the person lay.
    pub position: Option<Position>,
    /// The mode.
    pub mode: Option<Mode>,
    /// Layers of linen and pads.
    pub layers: Option<u8>,
    /// The setting, as the panel showed it.
    pub setting: Option<&'a str>,
    /// It was looked at and felt from above: no hand was there, and what it found is on no line of readings.
    pub felt: bool,
}

/// What counts as losing loft, as the home has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// At least so many readings…
    pub readings: usize,
    /// …over at least so many days.
    pub days: i64,
    /// Chance alone brings such a fall once in so many looks at most.
    pub odds: i64,
    /// The line fell by at least so much: less may be one reading told as two numbers.
    pub fall: Tenths,
    /// The line would be below the band's low limit in so many days at most.
    pub horizon: i64,
}

/// A line that falls.
#[derive(Clone, Debug, PartialEq)]
pub struct Losing {
    /// How many readings.
    pub readings: usize,
    /// Over how many days.
    pub days: f64,
    /// The first reading: what the line's days count from.
    pub first: DateTime<Utc>,
    /// The newest.
    pub newest: DateTime<Utc>,
    /// The line, in tenths of a millimetre and days.
    pub trend: Trend,
    /// When it would meet the low limit.
    pub crossing: Crossing,
}

/// The air on the line; nothing where the reading does not belong there, or is no number. `in_use` is the setting of the
/// surface.
///
/// An interval counts as its bound, so that it ties with a reading right there: "under 1" falls less than it may, and so
/// the line does too. A look from above, and what could not be checked, are no numbers.
#[must_use]
pub fn on_line(air: Air, band: Band, how: &How<'_>, in_use: Option<&str>) -> Option<Tenths> {
    let usual = matches!(how.site, None | Some(Site::Buttocks))
        && matches!(how.position, None | Some(Position::BackFlat))
        && how.mode != Some(Mode::Static)
        && how
            .layers
            .is_none_or(|layers| !too_many_layers(layers, DEFAULT_MOST_LAYERS))
        && (how.setting.is_none() || in_use.is_none() || how.setting == in_use);
    let air = match air {
        Air::Measured(air) => air,
        Air::Under1 => band.low,
        Air::Over => band.high,
        Air::Touching => Tenths(0),
        Air::Within | Air::CouldNot(_) => return None,
    };
    (usual && !how.felt).then_some(air)
}

/// How often chance alone brings readings in an order that falls at least so clearly: Mann and Kendall's test, one-sided,
/// of a million looks. A million where they do not fall, or are fewer than [`READINGS_LEAST`].
#[must_use]
pub fn chance(readings: &[Reading]) -> u32 {
    let none = MILLION as u32;
    if readings.len() < READINGS_LEAST {
        return none;
    }
    match trend::mann_kendall(&points(readings)) {
        Ok(found) if found.s < 0 => (found.p / 2.0 * MILLION).ceil() as u32,
        Ok(_) | Err(_) => none,
    }
}

/// The line, where it falls as the home asks: `low` is the band's low limit. The caller has seen to it that chance is
/// small enough ([`chance`], [`Asked::rare`]); readings are in order of time.
#[must_use]
pub fn losing(readings: &[Reading], low: Tenths, asked: &Asked) -> Option<Losing> {
    let (first, newest) = (readings.first()?.at(), readings.last()?.at());
    let days = days_between(first, newest);
    if readings.len() < asked.readings || days < asked.days as f64 {
        return None;
    }
    let trend = line(readings)?;
    if -trend.slope * days < f64::from(asked.fall.0) {
        return None;
    }
    let crossing = trend.crossing(f64::from(low.0), true, days);
    let soon = match crossing {
        Crossing::Past => true,
        Crossing::Never => false,
        Crossing::At { likely, .. } => likely - days <= asked.horizon as f64,
    };
    soon.then_some(Losing {
        readings: readings.len(),
        days,
        first,
        newest,
        trend,
        crossing,
    })
}

impl Asked {
    /// As the home has it.
    #[must_use]
    pub fn of(policies: &Policies) -> Self {
        Self {
            readings: usize::try_from(policies.get(Name::LoftReadings)).unwrap_or(usize::MAX),
            days: policies.get(Name::LoftDays),
            odds: policies.get(Name::LoftOdds),
            fall: policies.length(Name::LoftFall),
            horizon: policies.get(Name::LoftAhead),
        }
    }

    /// Whether chance brings it so seldom as the home asks.
    #[must_use]
    pub fn rare(&self, chance: u32) -> bool {
        i64::from(chance).saturating_mul(self.odds) <= MILLION as i64
    }
}

/// The line through the readings, in tenths of a millimetre and days after the first; nothing where all are of one day.
///
/// Each day's readings, 24 hours from the first on, are one point at their mean. Most are told in quarters of an inch, and
/// so many of them tie that the middle slope of all pairs would be none at all until half an inch is lost.
#[must_use]
pub fn line(readings: &[Reading]) -> Option<Trend> {
    let of_days: Vec<Point> = points(readings)
        .chunk_by(|a, b| a.days.floor() == b.days.floor())
        .map(|of_day| {
            let count = of_day.len() as f64;
            Point {
                days: of_day.iter().map(|point| point.days).sum::<f64>() / count,
                value: of_day.iter().map(|point| point.value).sum::<f64>() / count,
            }
        })
        .collect();
    trend::trend(&of_days).ok()
}

/// The readings, in tenths of a millimetre and days after the first.
#[must_use]
pub fn points(readings: &[Reading]) -> Vec<Point> {
    let Some(first) = readings.first() else {
        return Vec::new();
    };
    readings
        .iter()
        .map(|reading| Point {
            days: days_between(first.at(), reading.at()),
            value: f64::from(reading.air().0),
        })
        .collect()
}

fn days_between(from: DateTime<Utc>, to: DateTime<Utc>) -> f64 {
    (to - from).num_seconds() as f64 / DAY_SECONDS
}

#[cfg(test)]
#[path = "drift/tests.rs"]
mod tests;
