//! Every moment, and every day, of the state at which something happened. Decides which they are: once a clock that was ahead
//! is put right, none of them may lie ahead of it, where it would refuse or silence what comes before it. Leaves where they go
//! then, what is still to come and what counts minutes to `clock`. Each part is taken apart by name, so that nothing that is
//! added to it is forgotten here.
//!
//! The moments that a surface's buttons are known by (`said`) are names, and stay: the buttons are out already. So do the
//! numbers of records, and the slots and shifts that lists are known by.

use chrono::{DateTime, NaiveDate, Utc};

use super::bed::{Frame, OverFact, ZonesFact};
use super::duty::{Duty, Handover, OnDuty, Told};
use super::staff::{LetIn, SecondCheck, SignOff, Staff};
use super::steps::{Mark, Steps};
use super::surface::{
    Before, CheckFact, CleanFact, EndedAlarm, FilterFact, HeldStill, Hold, Leave, Life, Rental,
    Service, Setting, Surface, Turnover, Waived,
};
use super::wish::{BedsApproval, Waiting};
use super::{Alarm, Booking, Outage, OutageOver, Recall, State, Stock};

/// What is done with each of them.
pub(super) trait Each {
    /// Something happened at this moment.
    fn at(&mut self, at: &mut DateTime<Utc>);
    /// Something happened on this day.
    fn on(&mut self, on: &mut NaiveDate);

    /// The same, where it happened at all.
    fn maybe_at(&mut self, at: &mut Option<DateTime<Utc>>) {
        if let Some(at) = at {
            self.at(at);
        }
    }

    /// The same of a day.
    fn maybe_on(&mut self, on: &mut Option<NaiveDate>) {
        if let Some(on) = on {
            self.on(on);
        }
    }

    /// Somebody said something.
    fn mark(&mut self, mark: &mut Mark) {
        self.at(&mut mark.at);
    }

    /// Those of several who did.
    fn marks<'a>(&mut self, marks: impl IntoIterator<Item = &'a mut Mark>) {
        for mark in marks {
            self.mark(mark);
        }
    }
}

impl State {
    /// Goes through all of them.
    pub(super) fn happened(&mut self, each: &mut impl Each) {
        let Self {
            head: _,
            facility: _,
            policies: _,
            wishes,
            beds_approval,
            ladder: _,
            // By what the clock shows: lists come again.
            schedules: _,
            set_back: _,
            units: _,
            profiles: _,
            surfaces,
            under: _,
            bed_units: _,
            alarms,
            // When one is due, and when somebody was asked, counts minutes.
            rechecks: _,
            calls,
            frames,
            outages,
            outages_over,
            products: _,
            storage: _,
            stock,
            recalls,
            staff,
            duty,
            last_unit: _,
        } = self;
        for Waiting {
            since,
            wish: _,
            who: _,
        } in wishes.values_mut()
        {
            each.at(since);
        }
        if let Some(BedsApproval { at, .. }) = beds_approval {
            each.at(at);
        }
        surfaces.values_mut().for_each(|one| surface(one, each));
        alarms.values_mut().for_each(|one| alarm(one, each));
        let booked = calls.values_mut().flat_map(|of| of.values_mut());
        booked.for_each(|one| booking(one, each));
        frames.values_mut().for_each(|one| frame(one, each));
        for Outage {
            seen, shift_over, ..
        } in outages.values_mut()
        {
            each.marks(seen.values_mut().map(|(_, mark)| mark));
            each.maybe_at(shift_over);
        }
        for OutageOver { from, to, .. } in outages_over {
            each.at(from);
            each.at(to);
        }
        for Stock {
            counted,
            since,
            uses,
            ..
        } in stock.values_mut()
        {
            each.at(counted);
            each.on(since);
            uses.iter_mut().for_each(|on| each.on(on));
        }
        for Recall { since, .. } in recalls.values_mut() {
            each.at(since);
        }
        people(staff, each);
        shifts(duty, each);
    }
}

fn surface(surface: &mut Surface, each: &mut impl Each) {
    let Surface {
        profile: _,
        serial: _,
        lot: _,
        owned: _,
        daily_cents: _,
        added,
        life: stage,
        checks,
        line,
        filter,
        filter_changed,
        filter_renewed,
        in_service,
        filter_looks,
        in_use,
        cleaned,
        alarm: _,
        last_alarm,
        steps: list,
        setting,
        leave,
        static_mode,
        // How long a valve is open counts minutes.
        cpr: _,
        instead_of: _,
        placements: _,
        clean_last: _,
        waived,
        repaired,
        hold,
        served,
        rental: rented,
        second_checks,
        newest: _,
        touched,
        before,
    } = surface;
    each.at(added);
    life(stage, each);
    for CheckFact { at, .. } in checks {
        each.at(at);
    }
    line.happened(each);
    if let Some(FilterFact { at, .. }) = filter {
        each.at(at);
    }
    each.maybe_on(filter_changed);
    each.maybe_on(filter_renewed);
    each.maybe_on(in_service);
    filter_looks.happened(each);
    in_use.happened(each);
    if let Some(CleanFact { at, .. }) = cleaned {
        each.at(at);
    }
    if let Some(EndedAlarm { at, .. }) = last_alarm {
        each.at(at);
    }
    if let Some(list) = list {
        steps(list, each);
    }
    if let Some(Setting { mark, text: _ }) = setting {
        each.mark(mark);
    }
    if let Some(Leave {
        since,
        said: _,
        why: _,
        until: _,
    }) = leave
    {
        each.at(since);
    }
    if let Some(HeldStill {
        since,
        said: _,
        until: _,
    }) = static_mode
    {
        each.at(since);
    }
    if let Some(Waived { mark, papers: _ }) = waived {
        each.mark(mark);
    }
    each.marks(repaired);
    if let Some(Hold {
        no: _,
        mark,
        known,
        reported,
    }) = hold
    {
        each.mark(mark);
        each.maybe_on(known);
        each.marks(reported);
    }
    for Service { on, at, .. } in served.values_mut() {
        each.on(on);
        each.at(at);
    }
    if let Some(rented) = rented {
        rental(rented, each);
    }
    for SecondCheck {
        mark,
        seen,
        entry: _,
    } in second_checks.values_mut()
    {
        each.mark(mark);
        each.marks(seen);
    }
    each.marks(touched);
    if let Some(Before {
        first: _,
        who: _,
        entered,
        surface: then,
        recheck: _,
        calls,
        alarm: _,
        settled: _,
    }) = before
    {
        each.at(entered);
        self::surface(then, each);
        calls.iter_mut().for_each(|(_, one)| booking(one, each));
    }
}

fn life(life: &mut Life, each: &mut impl Each) {
    match life {
        Life::Placed { since, .. }
        | Life::Ready { since }
        | Life::OutOfService { since, .. }
        | Life::Retired { since } => each.at(since),
        Life::Soiled(Turnover {
            since,
            said: _,
            reason: _,
            cleaned: _,
            filter: _,
            function: _,
            steps: _,
            shown,
            wet_until: _,
        }) => {
            each.at(since);
            each.marks(shown.values_mut());
        }
    }
}

fn steps(list: &mut Steps, each: &mut impl Each) {
    let Steps {
        opening: _,
        no: _,
        since,
        by: _,
        goes_on,
        wanted: _,
        done,
        missed,
        full: _,
    } = list;
    each.at(since);
    if let Some((_, since, _)) = goes_on {
        each.at(since);
    }
    each.marks(done.values_mut());
    each.marks(missed.values_mut());
}

fn rental(rental: &mut Rental, each: &mut impl Each) {
    let Rental {
        since,
        said: _,
        daily_cents: _,
        reference: _,
        arrived,
        called,
        confirmed,
        collected,
        idle_since,
    } = rental;
    each.at(since);
    each.marks(arrived.iter_mut().map(|(_, mark)| mark));
    each.marks(called);
    each.marks(confirmed.iter_mut().map(|(_, mark)| mark));
    each.marks(collected);
    each.maybe_at(idle_since);
}

/// What an alarm's ladder goes by counts minutes.
fn alarm(alarm: &mut Alarm, each: &mut impl Each) {
    let Alarm {
        shift_over,
        left,
        safe,
        ..
    } = alarm;
    each.maybe_at(shift_over);
    for (_, at) in left.iter_mut().chain(safe) {
        each.at(at);
    }
}

fn booking(booking: &mut Booking, each: &mut impl Each) {
    let Booking {
        no: _,
        by: _,
        due: _,
        next: _,
        step: _,
        made,
        set,
    } = booking;
    each.at(made);
    each.at(set);
}

fn frame(frame: &mut Frame, each: &mut impl Each) {
    let Frame {
        width: _,
        length: _,
        rails: _,
        outlet: _,
        outlet_tested,
        outlet_failed,
        approved: _,
        zones,
        over,
        changed,
    } = frame;
    each.maybe_on(outlet_tested);
    each.maybe_on(outlet_failed);
    if let Some(ZonesFact { at, acted, .. }) = zones {
        each.at(at);
        each.marks(acted);
    }
    if let Some(OverFact {
        since, acted, did, ..
    }) = over
    {
        each.at(since);
        each.marks(acted);
        each.marks(did.values_mut());
    }
    each.maybe_at(changed);
}

fn people(staff: &mut Staff, each: &mut impl Each) {
    let Staff {
        let_in,
        primers,
        sign_offs,
        // A round is one by the times between its checks: it begins anew where they make no sense.
        rounds: _,
    } = staff;
    for LetIn { mark, .. } in let_in.values_mut() {
        each.mark(mark);
    }
    primers.values_mut().for_each(|read| each.at(read));
    // The day until which one holds was read by whoever signed.
    let signed = sign_offs.values_mut().flat_map(|of| of.values_mut());
    for SignOff { mark, .. } in signed.flat_map(|of| of.values_mut()) {
        each.mark(mark);
    }
}

fn shifts(duty: &mut Duty, each: &mut impl Each) {
    let Duty {
        taken,
        used,
        // The shifts that were looked at are looked at again.
        looked: _,
        rounds: _,
        unclaimed: _,
        handovers,
        told,
        cards: _,
        phone: _,
    } = duty;
    for OnDuty { since, .. } in taken {
        each.at(since);
    }
    each.maybe_at(used);
    for Handover { at, accepted, .. } in handovers {
        each.at(at);
        if let Some((.., at)) = accepted {
            each.at(at);
        }
    }
    for Told { at, .. } in told {
        each.at(at);
    }
}
