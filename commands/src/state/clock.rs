//! The part of the state that counts time, once the clock it was counted by was set back. Decides what goes on counting
//! as if nothing had been, and that nothing that has happened stays ahead of the clock of now; leaves what has happened to
//! `moments`. There are four kinds of time:
//!
//! - Minutes: a ladder, a promise, a recheck, a wait. All of them go back by the step, whichever clock they were begun by: one
//!   that was begun before the clock went ahead comes early.
//! - Hours and days that go on from something: a turnover, a leave, a reminder. Those that were begun by the clock that was
//!   ahead go back by the step; the others are at their time. Of a leave nobody knows whether hours were said or a time of
//!   the day: it is asked about too early and not too late, since nobody looks at a bed meanwhile.
//! - A contact time: it may be late and never early, so one that was begun by the clock that was ahead begins again.
//! - What the clock on the wall shows: lists, the end of a shift, the day for a report. It stays where it is, or goes back by
//!   whole days. A list that was posted for a time that is still to come by the clock of now comes again then.
//!
//! What has happened keeps its order. What lay ahead of now goes back by the step, and no further than to the newest that
//! did not; how long ago the clock went ahead is not on record. Records themselves never change.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

use super::State;
use super::call::Booking;
use super::moments::Each;
use super::surface::{Life, Recheck, Surface};
use crate::choice::Call;
use crate::record::{On, Record};

/// What came this much too early stands, and does not come again at its time: it can still be read, and a clock that is put
/// right by a minute posts no list twice. Common practice, well under a shift.
const STANDS: TimeDelta = TimeDelta::minutes(30);

/// A step back.
#[derive(Clone, Copy)]
struct Step {
    /// What the clock shows now.
    now: DateTime<Utc>,
    /// The day it shows.
    today: NaiveDate,
    /// By how much it went back, below zero.
    back: TimeDelta,
}

impl State {
    /// The clock was stepped. Forward, all that counts is early by the step and needs nothing.
    pub(super) fn clock_stepped(&mut self, record: &Record, seconds: i64) {
        let Some(back) = TimeDelta::try_seconds(seconds).filter(|step| *step < TimeDelta::zero())
        else {
            return;
        };
        let step = Step {
            now: record.at,
            today: self
                .day_of(record)
                .unwrap_or_else(|| record.at.date_naive()),
            back,
        };
        self.ladders_back(back);
        for recheck in self.rechecks.values_mut() {
            step.recheck(recheck);
        }
        self.promises_back(&step);
        // Only now: what was begun by the clock that was ahead is known by lying ahead of now.
        self.happened_before(&step);
        self.come_again(record);
    }

    fn ladders_back(&mut self, back: TimeDelta) {
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
            outage.since += back;
            outage.ladder_from += back;
            outage.asked += back;
            if let Some((_, at)) = &mut outage.taken {
                *at += back;
            }
        }
    }

    fn promises_back(&mut self, step: &Step) {
        let calls = &self.calls;
        for (tag, surface) in &mut self.surfaces {
            let on = On::Surface(tag.clone());
            step.ends(surface, |call| calls.get(&call)?.get(&on));
            if let Some(before) = &mut surface.before {
                let calls = &before.calls;
                let of = |call| {
                    let mut calls = calls.iter();
                    calls.find(|(of, _)| *of == call).map(|(_, one)| one)
                };
                step.ends(&mut before.surface, of);
                for (call, booking) in &mut before.calls {
                    step.booking(*call, booking);
                }
                if let Some(recheck) = &mut before.recheck {
                    step.recheck(recheck);
                }
            }
        }
        for (call, of) in &mut self.calls {
            for booking in of.values_mut() {
                step.booking(*call, booking);
            }
        }
        for duty in self.duty.taken.iter_mut().filter(|of| step.ahead(of.since)) {
            duty.until += step.days();
        }
        let let_in = self.staff.let_in.values_mut();
        for let_in in let_in.filter(|of| step.ahead(of.mark.at)) {
            let_in.until += step.days();
        }
    }

    /// What has happened has happened by now.
    fn happened_before(&mut self, step: &Step) {
        let mut newest = Newest {
            step,
            at: DateTime::<Utc>::MIN_UTC,
            on: NaiveDate::MIN,
        };
        self.happened(&mut newest);
        self.happened(&mut Back(newest));
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

impl Step {
    /// By the clock that was ahead.
    fn ahead(&self, at: DateTime<Utc>) -> bool {
        at > self.now
    }

    /// The step in whole days, the nearest: what is meant for a time of the day stays at that time.
    fn days(&self) -> TimeDelta {
        -TimeDelta::days((TimeDelta::hours(12) - self.back).num_days())
    }

    fn recheck(&self, recheck: &mut Recheck) {
        recheck.due += self.back;
        if let Some(at) = &mut recheck.asked_at {
            *at += self.back;
        }
    }

    /// A promised call.
    fn booking(&self, call: Call, booking: &mut Booking) {
        let kind = counts(call);
        if matches!(kind, Counts::Minutes) {
            booking.due += self.back;
            if let Some(at) = &mut booking.next {
                *at += self.back;
            }
            return;
        }
        booking.due = self.end(kind, booking.made, booking.due);
        // The first time it is as it was promised, and from then on so long after the call before.
        let then = if booking.step > 0 {
            Counts::Hours
        } else {
            kind
        };
        let set = booking.set;
        booking.next = booking.next.map(|next| self.end(then, set, next));
    }

    /// The end, by the clock of now, of what was said at a moment to go on until then.
    fn end(&self, counts: Counts, said: DateTime<Utc>, until: DateTime<Utc>) -> DateTime<Utc> {
        if !self.ahead(said) {
            return until;
        }
        let whole = self.now + (until - said);
        match counts {
            Counts::Minutes | Counts::Hours => (until + self.back).min(whole),
            Counts::Leave if -self.back > STANDS => (until + self.back).min(whole),
            // No more than seconds or minutes: it stays the time of the day that was said.
            Counts::Leave => until,
            Counts::Contact => whole,
            Counts::TheWall => until + self.days(),
        }
    }

    /// What a surface waits for, as its calls do.
    fn ends<'a>(&self, surface: &mut Surface, booked: impl Fn(Call) -> Option<&'a Booking>) {
        if let Some(valve) = &mut surface.cpr {
            valve.at += self.back;
        }
        if let Some(held) = &mut surface.static_mode {
            held.until += self.back;
        }
        if let Some(full) = surface.steps.as_mut().and_then(|list| list.full.as_mut()) {
            *full += self.back;
        }
        if let (Some(leave), Some(booking)) = (&mut surface.leave, booked(Call::Leave)) {
            leave.until = self.end(Counts::Leave, booking.made, leave.until);
        }
        if let Life::Soiled(turnover) = &mut surface.life
            && let Some(until) = &mut turnover.wet_until
        {
            *until = match booked(Call::Contact) {
                Some(booking) => self.end(Counts::Contact, booking.made, *until),
                // Nothing has to stay wet any more.
                None => (*until).min(self.now),
            };
        }
        surface
            .line
            .aside_by(|said, until| self.end(Counts::Hours, said, until));
    }
}

/// The newest moment and the newest day on which something happened that are not ahead of now.
struct Newest<'a> {
    step: &'a Step,
    at: DateTime<Utc>,
    on: NaiveDate,
}

impl Each for Newest<'_> {
    fn at(&mut self, at: &mut DateTime<Utc>) {
        if *at <= self.step.now {
            self.at = self.at.max(*at);
        }
    }

    fn on(&mut self, on: &mut NaiveDate) {
        if *on <= self.step.today {
            self.on = self.on.max(*on);
        }
    }
}

/// Puts the others behind it, in their order.
struct Back<'a>(Newest<'a>);

impl Each for Back<'_> {
    fn at(&mut self, at: &mut DateTime<Utc>) {
        let Step { now, back, .. } = *self.0.step;
        if *at > now {
            *at = (*at + back).max(self.0.at).min(now);
        }
    }

    fn on(&mut self, on: &mut NaiveDate) {
        let today = self.0.step.today;
        if *on > today {
            let back = on.checked_add_signed(self.0.step.days());
            *on = back.unwrap_or(today).max(self.0.on).min(today);
        }
    }
}

/// How the time to a call is counted.
#[derive(Clone, Copy)]
enum Counts {
    /// So many minutes after something.
    Minutes,
    /// So many hours or days after something.
    Hours,
    /// As long as somebody is away.
    Leave,
    /// A contact time.
    Contact,
    /// By the clock on the wall.
    TheWall,
}

fn counts(call: Call) -> Counts {
    match call {
        Call::Full | Call::Plug | Call::Steps | Call::Static | Call::Cpr | Call::Roll => {
            Counts::Minutes
        }
        // That of a handover too: where its list comes again, it is asked for with that.
        Call::Turnover
        | Call::Idle
        | Call::Pickup
        | Call::Recall
        | Call::Agree
        | Call::Handover => Counts::Hours,
        Call::Leave => Counts::Leave,
        Call::Contact => Counts::Contact,
        Call::Hold => Counts::TheWall,
    }
}
