//! How the surfaces of the invented home behave: the air under them, and the dirt in their filters. Decides what a
//! hand or a look would find; invented figures, chosen so that most readings are adequate.

use commands::choice::Finding;
use commands::rules::air::INCH_TENTHS;
use commands::rules::hand_check::Band;
use fastrand::Rng;

/// The surface that slowly loses loft, counted from 1.
pub(super) const FAILING: u32 = 7;
/// Its air at first, the day from which on it loses it, and a day's loss, in tenths of a millimetre: a week from the limit at
/// the end, so that a day is named on which it would be low.
const FAILING_AIR: f64 = 372.0;
const FAILING_FROM: f64 = 70.0;
const FAILING_LOSS: f64 = 4.4;
/// Days in which a filter in ordinary air goes from new to clogged.
const CLOG_DAYS: f64 = 60.0;
/// The share of dirt at which a filter looks dusty, and at which it is clogged.
const DUSTY: f64 = 0.7;
const CLOGGED: f64 = 0.9;

/// One surface.
#[derive(Clone, Debug)]
pub(super) struct Wear {
    /// Where its air stands in its band at first, from 0 at the low limit to 1 at the high one.
    share: f64,
    /// Air lost a day from [`FAILING_FROM`] on, in tenths of a millimetre.
    loss: f64,
    /// How far readings scatter, in tenths of a millimetre.
    scatter: f64,
    /// The dirt in its filter: 1 lets nothing through.
    dirt: f64,
    /// Up to which day its dirt is counted.
    counted: f64,
    /// How fast this one gets dirty against its neighbours.
    pace: f64,
}

impl Wear {
    /// The surface of that number.
    pub fn of(n: u32, rng: &mut Rng) -> Self {
        let failing = n == FAILING;
        Self {
            share: if failing {
                (FAILING_AIR - f64::from(INCH_TENTHS)) / f64::from(INCH_TENTHS / 2)
            } else {
                0.38 + rng.f64() * 0.3
            },
            loss: if failing { FAILING_LOSS } else { 0.0 },
            scatter: if failing { 7.0 } else { 14.0 },
            dirt: 0.1 + rng.f64() * 0.3,
            counted: 0.0,
            pace: 0.85 + rng.f64() * 0.3,
        }
    }

    /// The air a hand would find on that day, in tenths of a millimetre. Never outside of the band by
    /// chance alone: what is low or high there has a reason of its own.
    pub fn air(&self, day: f64, band: Band, rng: &mut Rng) -> i32 {
        let (low, high) = (f64::from(band.low.0), f64::from(band.high.0));
        // Three even throws together are nearly a bell.
        let throw = (rng.f64() + rng.f64() + rng.f64()) * 2.0 - 3.0;
        let lost = self.loss * (day - FAILING_FROM).max(0.0);
        let air = low + self.share * (high - low) - lost + throw * self.scatter;
        air.round().clamp(low, high) as i32
    }

    /// Somebody else lies on it.
    pub fn resettle(&mut self, rng: &mut Rng) {
        self.share = 0.38 + rng.f64() * 0.3;
    }

    /// What a look at the filter finds on that day, in air so dusty.
    pub fn look(&mut self, day: f64, dust: f64) -> Finding {
        self.dirt += (day - self.counted).max(0.0) * dust * self.pace / CLOG_DAYS;
        self.counted = day;
        match self.dirt {
            dirt if dirt < DUSTY => Finding::Clean,
            dirt if dirt < CLOGGED => Finding::Dusty,
            _ => Finding::Clogged,
        }
    }

    /// A new filter, or the rinsed one.
    pub fn renew(&mut self) {
        self.dirt = 0.0;
    }
}
