//! The part of the state that counts time, once the clock it was counted by was set back. Decides what goes on counting
//! as if nothing had been: a ladder, a promise, a recheck, a wait of minutes. What is meant for a time of day stays where
//! it is, and so does the contact time of a product, which may be late and never early. A list that was posted for a time
//! that is still to come by the clock of now comes again then.

use chrono::{DateTime, TimeDelta, Utc};

use super::State;
use crate::choice::Call;
use crate::record::Record;

/// What came this much too early stands, and does not come again at its time: it can still be read, and a clock that is put
/// right by a minute posts no list twice. Common practice, well under a shift.
const STANDS: TimeDelta = TimeDelta::minutes(30);

impl State {
    /// The clock was stepped. Forward, all that counts is early by the step and needs nothing.
    pub(super) fn clock_stepped(&mut self, record: &Record, seconds: i64) {
        let Some(back) = TimeDelta::try_seconds(seconds).filter(|step| *step < TimeDelta::zero())
        else {
            return;
        };
        for alarm in self.alarms.values_mut() {
            // By the clock of now it began then, whatever its record read.
            alarm.opened += back;
            alarm.ladder_from += back;
            alarm.asked += back;
            if let Some((_, at)) = &mut alarm.taken {
                *at += back;
            }
        }
        for outage in self.outages.values_mut() {
            outage.ladder_from += back;
            outage.asked += back;
            if let Some((_, at)) = &mut outage.taken {
                *at += back;
            }
        }
        for recheck in self.rechecks.values_mut() {
            recheck.due += back;
            if let Some(at) = &mut recheck.asked_at {
                *at += back;
            }
        }
        for mark in self
            .surfaces
            .values_mut()
            .filter_map(|one| one.cpr.as_mut())
        {
            mark.at += back;
        }
        let counted = self.calls.iter_mut().filter(|(call, _)| counts(**call));
        for booking in counted.flat_map(|(_, of)| of.values_mut()) {
            booking.due += back;
            if let Some(at) = &mut booking.next {
                *at += back;
            }
        }
        self.come_again(record);
    }

    /// What was posted, or looked at, for a time that is still to come was so by a wrong clock. Left where it is it would
    /// silence every list until then.
    fn come_again(&mut self, record: &Record) {
        let ahead = |at: DateTime<Utc>| at - record.at > STANDS;
        let mut again = false;
        if let Some(facility) = &self.facility {
            for schedule in self.schedules.values_mut() {
                if ahead(facility.zone.instant(schedule.last)) {
                    schedule.begin(record.at, &facility.zone);
                    again = true;
                }
            }
        }
        let looked = [&mut self.duty.looked, &mut self.duty.rounds];
        for shift in looked.into_iter().flatten() {
            if ahead(*shift) {
                *shift = record.at;
                again = true;
            }
        }
        if again {
            self.set_back = Some(record.no);
            // The word about them has the name of before, and is edited no more.
            self.duty.unclaimed.clear();
        }
    }
}

/// Whether a call comes so many minutes after something, rather than at a time of day or after days.
fn counts(call: Call) -> bool {
    match call {
        Call::Full | Call::Plug | Call::Steps | Call::Static | Call::Cpr | Call::Roll => true,
        Call::Contact
        | Call::Leave
        | Call::Turnover
        | Call::Hold
        | Call::Idle
        | Call::Pickup
        | Call::Recall
        | Call::Agree
        | Call::Handover => false,
    }
}
