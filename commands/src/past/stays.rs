//! When each surface was in use, from what was entered since some moment and how the home stands now. Decides when a use
//! begins and ends; leaves what follows from it to whoever reckons.
//!
//! A surface is in use from when it goes under a bed until it is ready again, because nobody else can have it: its
//! turnover belongs to it, a repair does not. What was taken back never was.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};

use super::entries;
use crate::ids::{RecordNo, Tag};
use crate::record::{Body, Record};
use crate::rules::policy::Name;
use crate::state::{Life, State, Surface};

/// A use of a surface.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stay {
    /// The surface.
    pub tag: Tag,
    /// When it went under a bed; `None` where that was before the records that were read.
    pub from: Option<DateTime<Utc>>,
    /// Whether somebody asked for it then: not so where it was there already when it came into the register.
    pub asked: bool,
    /// When it came from under its bed; `None` where it is still there.
    pub left: Option<DateTime<Utc>>,
    /// When it was ready again, or in repair, or gone; `None` where it is still in use.
    pub free: Option<DateTime<Utc>>,
}

/// What is known of a surface as the records go by.
enum Now {
    /// Nothing yet: whether it was put out of service meanwhile.
    Unknown { pulled: bool },
    /// In nobody's use.
    Idle,
    /// In use; whether it was put out of service where it is.
    Used { stay: Stay, pulled: bool },
}

struct Follow {
    now: Now,
    /// The event that brought it into the register.
    came: Option<RecordNo>,
    /// How often it went under a bed since.
    placed: u32,
    /// It was in a turnover when the records began: of its first use, if it had one before.
    turning: bool,
    done: Vec<Stay>,
}

/// The uses of all surfaces, in the order of their tags and then in time, from what was read for
/// [`Wanted::Uses`](super::Wanted::Uses) of `since`.
pub fn stays(records: &[Record], state: &State, since: DateTime<Utc>) -> Vec<Stay> {
    let target = TimeDelta::hours(state.policies.get(Name::TurnoverHours));
    let mut all: BTreeMap<&Tag, Follow> = state
        .surfaces
        .keys()
        .map(|tag| (tag, Follow::new()))
        .collect();
    for entry in entries(records) {
        let Some(body) = entry.counts() else {
            continue;
        };
        let Some(tag) = body.surface() else {
            continue;
        };
        if let Some(follow) = all.get_mut(tag) {
            follow.goes_on(tag, body, entry.at, entry.record.first, (since, target));
        }
    }
    let ends = all.into_iter().flat_map(|(tag, follow)| {
        let surface = state.surfaces.get(tag);
        follow.ends(tag, surface)
    });
    ends.collect()
}

impl Follow {
    fn new() -> Self {
        Self {
            now: Now::Unknown { pulled: false },
            came: None,
            placed: 0,
            turning: false,
            done: Vec::new(),
        }
    }

    fn goes_on(
        &mut self,
        tag: &Tag,
        body: &Body,
        at: DateTime<Utc>,
        first: RecordNo,
        (since, target): (DateTime<Utc>, TimeDelta),
    ) {
        let before = std::mem::replace(&mut self.now, Now::Idle);
        self.now = if let Body::SurfaceAdded { .. } = body {
            self.came = Some(first);
            Now::Idle
        } else if let Body::Placed { .. } = body {
            if let Now::Used { mut stay, .. } = before {
                // Turnovers from before there were lists ended without a record of their own.
                let ready = stay.left.map_or(at, |left| (left + target).min(at));
                stay.left.get_or_insert(at);
                stay.free = Some(ready);
                self.done.push(stay);
            }
            self.placed += 1;
            let stay = Stay {
                from: Some(at),
                asked: self.came != Some(first),
                ..Stay::since_before(tag)
            };
            Now::Used {
                stay,
                pulled: false,
            }
        } else if let Body::Released { .. } = body {
            let (mut stay, pulled) = match before {
                Now::Used { stay, pulled } => (stay, pulled),
                Now::Unknown { pulled } => (Stay::since_before(tag), pulled),
                Now::Idle => return,
            };
            stay.left = Some(at);
            if pulled {
                // It goes to repair as it is.
                self.ends_with(stay, at)
            } else {
                Now::Used { stay, pulled }
            }
        } else if let Body::Pulled { .. } = body {
            match before {
                Now::Used { stay, .. } if stay.left.is_some() => self.ends_with(stay, at),
                Now::Used { stay, .. } => Now::Used { stay, pulled: true },
                Now::Unknown { .. } => Now::Unknown { pulled: true },
                Now::Idle => Now::Idle,
            }
        } else if let Body::Readied { .. } = body {
            match before {
                Now::Used { stay, .. } if stay.left.is_some() => self.ends_with(stay, at),
                // In its turnover when the records begin.
                Now::Unknown { pulled: false } => {
                    self.turning = true;
                    let stay = Stay {
                        left: Some(since),
                        ..Stay::since_before(tag)
                    };
                    self.ends_with(stay, at)
                }
                Now::Unknown { pulled: true } | Now::Idle => Now::Idle,
                under @ Now::Used { .. } => under,
            }
        } else if let Body::SurfaceRetired { .. } | Body::PickupCalled { .. } = body {
            match before {
                Now::Used { mut stay, .. } => {
                    stay.left.get_or_insert(at);
                    self.ends_with(stay, at)
                }
                Now::Unknown { .. } | Now::Idle => Now::Idle,
            }
        } else {
            before
        };
    }

    fn ends_with(&mut self, mut stay: Stay, at: DateTime<Utc>) -> Now {
        stay.free = Some(at);
        self.done.push(stay);
        Now::Idle
    }

    /// All uses, the last one as the surface stands now.
    fn ends(mut self, tag: &Tag, surface: Option<&Surface>) -> Vec<Stay> {
        // It came soiled, and had been under nobody.
        if self.turning && surface.is_none_or(|surface| surface.placements <= self.placed) {
            self.done.remove(0);
        }
        let life = surface.map(|surface| &surface.life);
        let under = match life {
            Some(Life::Placed { .. } | Life::OutOfService { under: Some(_), .. }) => true,
            Some(
                Life::Soiled(_)
                | Life::Ready { .. }
                | Life::OutOfService { under: None, .. }
                | Life::Retired { .. },
            )
            | None => false,
        };
        match (self.now, life) {
            (Now::Used { mut stay, .. }, Some(Life::Ready { since })) => {
                stay.left.get_or_insert(*since);
                stay.free = Some(*since);
                self.done.push(stay);
            }
            (Now::Used { stay, .. }, _) => self.done.push(stay),
            // Nothing happened to it: it is where it was.
            (Now::Unknown { .. }, _) if under => self.done.push(Stay::since_before(tag)),
            (Now::Unknown { .. }, Some(Life::Soiled(turnover))) if turnover.reason.is_some() => {
                self.done.push(Stay {
                    left: Some(turnover.since),
                    ..Stay::since_before(tag)
                });
            }
            (Now::Unknown { .. } | Now::Idle, _) => {}
        }
        self.done
    }
}

impl Stay {
    fn since_before(tag: &Tag) -> Self {
        Self {
            tag: tag.clone(),
            from: None,
            asked: false,
            left: None,
            free: None,
        }
    }

    /// For how much of the time between two moments it was under a bed.
    pub fn under(&self, from: DateTime<Utc>, to: DateTime<Utc>) -> TimeDelta {
        overlap((self.from, self.left), from, to)
    }
}

/// How much of the time between two moments lies in this span; an end that is open goes on.
pub fn overlap(
    (begin, end): (Option<DateTime<Utc>>, Option<DateTime<Utc>>),
    from: DateTime<Utc>,
    to: DateTime<Utc>,
) -> TimeDelta {
    let begin = begin.map_or(from, |begin| begin.max(from));
    let end = end.map_or(to, |end| end.min(to));
    (end - begin).max(TimeDelta::zero())
}
