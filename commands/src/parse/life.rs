//! The options of the commands that follow a surface through its life: at the bed, in turnover, out of service, in
//! a power failure, rented, on the shelf. Decides what each option's text says; looks nothing up.

use super::Given;
use crate::refusal::Refusal;
use crate::request::{FacilityFrame, Request};
use crate::rules::load::{self, Side};

type Read = Result<Request, Refusal>;

pub(crate) fn setting(given: &Given<'_>) -> Read {
    Ok(Request::Setting {
        surface: given.must("surface")?,
        set: given.word("set")?,
    })
}

pub(crate) fn move_to(given: &Given<'_>) -> Read {
    Ok(Request::Move {
        surface: given.must("surface")?,
        bed: given.must("bed")?,
    })
}

pub(crate) fn swap(given: &Given<'_>) -> Read {
    Ok(Request::Swap {
        bed: given.must("bed")?,
        surface: given.must("surface")?,
    })
}

pub(crate) fn leave(given: &Given<'_>) -> Read {
    Ok(Request::Leave {
        bed: given.must("bed")?,
        until: given.must("until")?,
        why: chosen!(given, "why", crate::choice::LeaveWhy)?,
    })
}

pub(crate) fn static_mode(given: &Given<'_>) -> Read {
    Ok(Request::Static {
        surface: given.must("surface")?,
        until: given.must("until")?,
    })
}

pub(crate) fn cpr(given: &Given<'_>) -> Read {
    Ok(Request::Cpr {
        surface: given.must("surface")?,
    })
}

pub(crate) fn mark(given: &Given<'_>) -> Read {
    Ok(Request::Mark {
        surface: given.must("surface")?,
        clean_last: must_choose!(given, "clean-last", crate::choice::Switch)?,
    })
}

pub(crate) fn pull(given: &Given<'_>) -> Read {
    Ok(Request::Pull {
        surface: given.must("surface")?,
        fault: must_choose!(given, "fault", crate::record::Fault)?,
        note: given.note()?,
    })
}

pub(crate) fn return_it(given: &Given<'_>) -> Read {
    Ok(Request::Return {
        surface: given.must("surface")?,
    })
}

pub(crate) fn hold(given: &Given<'_>) -> Read {
    Ok(Request::Hold {
        surface: given.must("surface")?,
        known: given.word("known")?,
    })
}

pub(crate) fn recall(given: &Given<'_>) -> Read {
    Ok(Request::Recall {
        profile: given.must("profile")?,
        lot: given.word("lot")?,
    })
}

pub(crate) fn zones(given: &Given<'_>) -> Read {
    Ok(Request::Zones {
        bed: given.must("bed")?,
        zones: [
            given.word("zone1")?,
            given.word("zone2")?,
            given.word("zone3")?,
            given.word("zone4")?,
            given.word("zone5")?,
            given.word("zone6")?,
            given.word("zone7")?,
        ],
        angle4: given.word("angle4")?,
    })
}

pub(crate) fn service(given: &Given<'_>) -> Read {
    Ok(Request::Service {
        surface: given.must("surface")?,
        work: must_choose!(given, "work", crate::choice::Work)?,
        outcome: must_choose!(given, "result", crate::choice::Outcome)?,
        on: given.word("on")?,
        next: given.word("next")?,
        note: given.note()?,
    })
}

pub(crate) fn outage(given: &Given<'_>) -> Read {
    Ok(Request::Outage {
        unit: given.word("unit")?,
    })
}

pub(crate) fn duty(given: &Given<'_>) -> Read {
    Ok(Request::Duty {
        unit: given.word("unit")?,
        until: given.word("until")?,
    })
}

pub(crate) fn handover(given: &Given<'_>) -> Read {
    Ok(Request::Handover {
        unit: given.word("unit")?,
    })
}

pub(crate) fn facility_phone(given: &Given<'_>) -> Read {
    Ok(Request::FacilityPhone {
        words: given.word("words")?,
    })
}

pub(crate) fn catchup(given: &Given<'_>) -> Read {
    Ok(Request::Catchup {
        unit: given.word("unit")?,
    })
}

/// The most that a surface is asked to carry, in pounds.
const CARRIED_MOST: u32 = 1_500;

/// What it must carry, in pounds.
fn capacity(typed: &str) -> Result<i64, Refusal> {
    match load::pounds(typed, Side::Up) {
        Ok(pounds) if (1..=CARRIED_MOST).contains(&pounds) => Ok(i64::from(pounds)),
        Ok(_) | Err(_) => Err(Refusal::new("fault-capacity")
            .text("typed", crate::decide::escaped(typed))
            .number("most", i64::from(CARRIED_MOST))),
    }
}

pub(crate) fn match_for(given: &Given<'_>) -> Read {
    Ok(Request::Match {
        kind: must_choose!(given, "kind", crate::rules::hand_check::Kind)?,
        width: given.word("width")?,
        capacity: given
            .word("capacity")?
            .map(|typed| capacity(&typed))
            .transpose()?,
        bed: given.word("bed")?,
    })
}

pub(crate) fn stock(given: &Given<'_>) -> Read {
    Ok(Request::Stock {
        item: given.word("item")?,
        count: given.may_whole("count", 0, 100_000)?,
    })
}

pub(crate) fn rental_start(given: &Given<'_>) -> Read {
    Ok(Request::RentalStart {
        surface: given.must("surface")?,
        rate: given.must("rate")?,
        reference: given.word("reference")?,
    })
}

pub(crate) fn rental_stop(given: &Given<'_>) -> Read {
    Ok(Request::RentalStop {
        surface: given.must("surface")?,
    })
}

pub(crate) fn rental_list(_: &Given<'_>) -> Read {
    Ok(Request::RentalList)
}

pub(crate) fn facility_product(given: &Given<'_>) -> Read {
    Ok(Request::FacilityProduct {
        name: given.must("name")?,
        method: chosen!(given, "method", crate::choice::Method)?,
        contact: given.may_whole("contact", 0, 120)?,
        sporicidal: chosen!(given, "sporicidal", crate::choice::Switch)?,
    })
}

pub(crate) fn facility_storage(given: &Given<'_>) -> Read {
    Ok(Request::FacilityStorage {
        dirty: given.must("dirty")?,
        clean: given.must("clean")?,
    })
}

pub(crate) fn facility_frame(given: &Given<'_>) -> Read {
    Ok(Request::FacilityFrame(FacilityFrame {
        beds: given.must("beds")?,
        width: given.word("width")?,
        length: given.word("length")?,
        rails: chosen!(given, "rails", crate::choice::Rails)?,
        outlet: chosen!(given, "outlet", crate::choice::Outlet)?,
        outlet_tested: given.word("outlet-tested")?,
        approved: given.word("approved")?,
    }))
}
