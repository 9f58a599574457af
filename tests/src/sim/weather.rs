//! What goes wrong in a story. Decides from its seed which faults it has and how often; a story without any is among
//! them. What a fault does is [`super::house`]'s.

use std::time::Duration;

use chrono::TimeDelta;
use fastrand::Rng;

/// How often each thing goes wrong, as a share of the times it could; 0 for what this story does not have.
#[derive(Clone, Debug, Default)]
pub struct Weather {
    /// A request never reaches the chat.
    pub lost: f64,
    /// The chat does what is asked, and its answer never comes back.
    pub unheard: f64,
    /// The chat asks to wait.
    pub limited: f64,
    /// The chat fails inside, before or after it did what was asked.
    pub failed: f64,
    /// The same event comes twice.
    pub twice: f64,
    /// An event is lost with its connection.
    pub missed: f64,
    /// An event comes minutes late.
    pub late: f64,
    /// The power fails at one of the commits of a step.
    pub cut_commit: f64,
    /// The power fails right after the chat took a request.
    pub cut_send: f64,
    /// Hours between power cuts out of the blue; none if 0.
    pub cut_hours: u32,
    /// Hours between times at which the disk is full; none if 0.
    pub full_hours: u32,
    /// Hours between steps of the computer's clock; none if 0.
    pub step_hours: u32,
    /// Hours between changes of somebody's roles; none if 0.
    pub role_hours: u32,
    /// Hours between times at which the chat can hardly be reached; none if 0.
    pub outage_hours: u32,
    /// Hours between times at which a channel lets nobody of ours in; none if 0.
    pub shut_hours: u32,
    /// Hours between times at which the connection that events come by breaks; none if 0.
    pub gap_hours: u32,
    /// Hardly anybody hears a call, so that an alarm climbs as far as it can.
    pub deaf: bool,
}

/// How long it is dark after a power cut, most often shortly.
pub fn dark(dice: &mut Rng) -> Duration {
    match dice.u8(0..10) {
        0..=5 => Duration::from_millis(dice.u64(200..5_000)),
        6..=8 => Duration::from_secs(dice.u64(5..900)),
        _ => Duration::from_secs(dice.u64(900..20 * 3_600)),
    }
}

/// How long the chat can hardly be reached: longer than it knows a nonce, more often than not.
pub fn outage(dice: &mut Rng) -> Duration {
    Duration::from_secs(match dice.u8(0..10) {
        0..=2 => dice.u64(5..90),
        3..=8 => dice.u64(90..1_800),
        _ => dice.u64(1_800..6 * 3_600),
    })
}

/// How long a channel lets nobody of ours in: until somebody sees it and puts it right.
pub fn shut(dice: &mut Rng) -> Duration {
    Duration::from_secs(dice.u64(600..8 * 3_600))
}

/// How long no event comes, until there is a connection again. For more than a minute without one the program starts again.
pub fn gap(dice: &mut Rng) -> Duration {
    Duration::from_millis(dice.u64(300..60_000))
}

/// A step of the clock, forwards or backwards, most often small.
pub fn step(dice: &mut Rng) -> TimeDelta {
    let seconds = match dice.u8(0..10) {
        0..=5 => dice.i64(3..120),
        6..=8 => dice.i64(120..3_700),
        _ => dice.i64(3_700..4 * 3_600),
    };
    TimeDelta::seconds(if dice.bool() { seconds } else { -seconds })
}

impl Weather {
    /// That of a story.
    pub fn of(dice: &mut Rng) -> Self {
        // Told beforehand, so that the rest of a story is the same with it and without.
        let mut before = dice.clone();
        let (told, gaps) = (before.u8(0..64), before.u8(0..64));
        let deaf = told.is_multiple_of(4);
        // One in eight is calm: what breaks there needs no fault.
        if dice.u8(0..8) == 0 {
            return Self {
                deaf,
                ..Self::default()
            };
        }
        let mut share = |most: f64| if dice.bool() { dice.f64() * most } else { 0.0 };
        let mut weather = Self {
            lost: share(0.05),
            unheard: share(0.05),
            limited: share(0.05),
            failed: share(0.05),
            twice: share(0.2),
            missed: share(0.05),
            late: share(0.05),
            cut_commit: share(0.01),
            cut_send: share(0.01),
            deaf,
            ..Self::default()
        };
        let mut hours = |from: u32, to: u32| if dice.bool() { dice.u32(from..to) } else { 0 };
        weather.cut_hours = hours(6, 200);
        weather.full_hours = hours(12, 200);
        weather.step_hours = hours(12, 200);
        weather.role_hours = hours(12, 200);
        weather.outage_hours = hours(6, 100);
        if told % 4 == 1 {
            weather.shut_hours = 12 + u32::from(told);
        }
        if gaps % 2 == 1 {
            weather.gap_hours = u32::from(gaps);
        }
        weather
    }

    /// The same while the chat can hardly be reached: of three requests one is done, and nobody hears of it.
    pub fn in_outage(&self) -> Self {
        Self {
            lost: 0.4,
            unheard: 0.2,
            failed: 0.3,
            limited: 0.0,
            ..self.clone()
        }
    }
}
