//! The part of the state that is what the clock has promised: who will be called, about what, and when. Decides
//! how a promise is kept and dropped; leaves whom to call, and how often, to `due`.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::State;
use crate::choice::Call;
use crate::ids::{Person, RecordNo, Tag};
use crate::record::{On, Record};

/// A promised call.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Booking {
    /// The record that made the promise: what its posts are known by.
    pub no: RecordNo,
    /// Whose entry made it.
    pub by: Option<Person>,
    /// When it was to be first.
    pub due: DateTime<Utc>,
    /// When it is next; `None` when everybody who can be called has been.
    pub next: Option<DateTime<Utc>>,
    /// How often somebody was called.
    pub step: u32,
    /// When the promise was made.
    pub made: DateTime<Utc>,
    /// When it was last said when it is next.
    pub set: DateTime<Utc>,
}

/// The promises in a snapshot: a list, since what a call is about is no text and cannot be a key there.
pub(super) mod listed {
    use std::collections::BTreeMap;

    use serde::{Deserialize, Deserializer, Serializer};

    use super::Booking;
    use crate::choice::Call;
    use crate::record::On;

    type Calls = BTreeMap<Call, BTreeMap<On, Booking>>;

    pub fn serialize<S: Serializer>(calls: &Calls, to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(
            calls
                .iter()
                .flat_map(|(call, of)| of.iter().map(move |(on, booking)| (call, on, booking))),
        )
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Calls, D::Error> {
        let list = Vec::<(Call, On, Booking)>::deserialize(from)?;
        let mut calls = Calls::new();
        for (call, on, booking) in list {
            calls.entry(call).or_default().insert(on, booking);
        }
        Ok(calls)
    }
}

/// Those that end when a surface leaves its bed.
const AT_THE_BED: [Call; 6] = [
    Call::Full,
    Call::Plug,
    Call::Steps,
    Call::Static,
    Call::Leave,
    Call::Cpr,
];

impl State {
    /// The promise about this, if there is one.
    pub fn booking(&self, on: &On, call: Call) -> Option<&Booking> {
        self.calls.get(&call)?.get(on)
    }

    /// Every promise about a surface.
    pub fn bookings_of(&self, tag: &Tag) -> Vec<(Call, Booking)> {
        let on = On::Surface(tag.clone());
        self.calls
            .iter()
            .filter_map(|(call, of)| Some((*call, of.get(&on)?.clone())))
            .collect()
    }

    pub(super) fn book(&mut self, record: &Record, on: &On, call: Call, due: DateTime<Utc>) {
        let booking = Booking {
            no: record.no,
            by: record.who,
            due,
            next: Some(due),
            step: 0,
            made: record.at,
            set: record.at,
        };
        self.calls
            .entry(call)
            .or_default()
            .insert(on.clone(), booking);
    }

    pub(super) fn unbook(&mut self, on: &On, call: Call) {
        if let Some(of) = self.calls.get_mut(&call) {
            of.remove(on);
            if of.is_empty() {
                self.calls.remove(&call);
            }
        }
    }

    pub(super) fn called(
        &mut self,
        record: &Record,
        on: &On,
        call: Call,
        step: u32,
        again: Option<DateTime<Utc>>,
    ) {
        if let Some(booking) = self.calls.get_mut(&call).and_then(|of| of.get_mut(on)) {
            booking.step = step;
            booking.next = again;
            booking.set = record.at;
        }
    }

    /// A surface is under its bed no more: what was promised there is void.
    pub(super) fn unbook_at_the_bed(&mut self, tag: &Tag) {
        let on = On::Surface(tag.clone());
        for call in AT_THE_BED {
            self.unbook(&on, call);
        }
    }

    /// A surface is out of service, under its bed or not: what was promised of its set-up is void. That the resident
    /// comes back, or that an emergency is over, is still to be asked.
    pub(super) fn unbook_what_a_pull_ends(&mut self, tag: &Tag) {
        let on = On::Surface(tag.clone());
        for call in [Call::Full, Call::Plug, Call::Steps, Call::Static] {
            self.unbook(&on, call);
        }
    }

    /// A turnover is over, or is no longer the next thing: what was promised in it is void.
    pub(super) fn unbook_the_turnover(&mut self, tag: &Tag) {
        let on = On::Surface(tag.clone());
        self.unbook(&on, Call::Turnover);
        self.unbook(&on, Call::Contact);
    }

    /// As it was promised before; whoever was called in the meantime has been called.
    pub(super) fn rebook(&mut self, tag: &Tag, before: Vec<(Call, Booking)>) {
        let on = On::Surface(tag.clone());
        for (call, now) in self.bookings_of(tag) {
            if !before
                .iter()
                .any(|(of, then)| *of == call && then.no == now.no)
            {
                self.unbook(&on, call);
            }
        }
        for (call, booking) in before {
            if self.booking(&on, call).is_none() {
                self.calls
                    .entry(call)
                    .or_default()
                    .insert(on.clone(), booking);
            }
        }
    }
}
