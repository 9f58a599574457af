//! The one table of commands. Registration with the chat, `/help`, the parser and the README all read
//! it; the tests at its end check the table itself.

use crate::choice::{
    Action, Cleaning, Cover, Export, Finding, Import, LeaveWhy, Method, Mode, Outcome, Outlet,
    Owned, Position, Rails, ReleaseReason, Site, Stand, Start, Switch, Task, What, Work, YesNo,
};
use crate::parse::{self, Given, entry, life, staff, sums};
use crate::record::Fault;
use crate::refusal::Refusal;
use crate::request::{Request, Right};
use crate::rules::hand_check::Kind;
use crate::rules::look_first::Sign;
use crate::rules::priority::AlarmKind;
use crate::words::Lang;

/// A command.
#[derive(Clone, Copy)]
pub struct Command {
    /// Its name; a subcommand's after one space: `fleet add`.
    pub path: &'static str,
    /// The key of its one-line description in the words.
    pub about: &'static str,
    /// What one must be allowed to do.
    pub right: Right,
    /// Its options, required ones first.
    pub options: &'static [Opt],
    /// Lines that a person could type; each parses, which a test holds.
    pub examples: &'static [&'static str],
    /// Reads its options.
    pub parse: fn(&Given<'_>) -> Result<Request, Refusal>,
}

/// An option.
#[derive(Clone, Copy, Debug)]
pub struct Opt {
    /// Its name.
    pub name: &'static str,
    /// The key of its description in the words.
    pub about: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Must be given.
    pub required: bool,
}

/// What an option takes.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// Text.
    Text,
    /// Text with suggestions while it is typed.
    Suggested,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A whole number between two bounds.
    Whole(i64, i64),
    /// A chat role.
    Role,
    /// A text channel.
    Channel,
    /// Somebody of the chat.
    Person,
    /// A file.
    File,
}

const fn must(name: &'static str, about: &'static str, takes: Takes) -> Opt {
    Opt {
        name,
        about,
        takes,
        required: true,
    }
}

const fn may(name: &'static str, about: &'static str, takes: Takes) -> Opt {
    Opt {
        name,
        about,
        takes,
        required: false,
    }
}

const SURFACE: Opt = must("surface", "option-surface", Takes::Suggested);
const UNIT: Opt = may("unit", "option-unit", Takes::Suggested);
const NOTE: Opt = may("note", "option-note", Takes::Text);

/// The kinds of alarm that people choose from; `bottomed-out` comes from a hand check.
const ALARM_WORDS: &[&str] = &[
    AlarmKind::Unknown.as_str(),
    AlarmKind::LowPressure.as_str(),
    AlarmKind::Power.as_str(),
    AlarmKind::HighPressure.as_str(),
    AlarmKind::Fault.as_str(),
];

/// The faults that people choose from; the others come from what was found elsewhere.
const FAULT_WORDS: &[&str] = &[
    Fault::ControlUnit.as_str(),
    Fault::Cord.as_str(),
    Fault::Hose.as_str(),
    Fault::Leak.as_str(),
    Fault::CprValve.as_str(),
    Fault::Filter.as_str(),
    Fault::Cover.as_str(),
    Fault::WetInside.as_str(),
    Fault::Other.as_str(),
];

/// The most beds that a home is reckoned with.
pub(crate) const BEDS_MOST: i64 = 2_000;

/// The longest ladder rung that can be set, in minutes.
pub(crate) const RUNG_MINUTES_MOST: i64 = 60;

/// Every command, in the order in which help lists them. Those that share a first word are one group.
pub const COMMANDS: &[Command] = &[
    Command {
        path: "handcheck",
        about: "about-handcheck",
        right: Right::Check,
        options: &[
            SURFACE,
            must("air", "option-air", Takes::Suggested),
            may("site", "option-site", Takes::Choice(Site::WORDS)),
            may(
                "position",
                "option-position",
                Takes::Choice(Position::WORDS),
            ),
            may("mode", "option-mode", Takes::Choice(Mode::WORDS)),
            may("layers", "option-layers", Takes::Whole(0, 20)),
            may("setting", "option-setting", Takes::Text),
            may("when", "option-when", Takes::Text),
            NOTE,
        ],
        examples: &[
            "/handcheck surface:LW-07 air:1 1/4",
            "/handcheck surface:LW-07 air:3/4 position:back-raised layers:2",
        ],
        parse: parse::hand_check,
    },
    Command {
        path: "round",
        about: "about-round",
        right: Right::Check,
        options: &[UNIT],
        examples: &["/round", "/round unit:Elm"],
        parse: parse::round,
    },
    Command {
        path: "alarm",
        about: "about-alarm",
        right: Right::RaiseAlarm,
        options: &[
            SURFACE,
            may("kind", "option-alarm-kind", Takes::Choice(ALARM_WORDS)),
            NOTE,
        ],
        examples: &[
            "/alarm surface:LW-07",
            "/alarm surface:LW-07 kind:low-pressure",
        ],
        parse: parse::alarm,
    },
    Command {
        path: "lookfirst",
        about: "about-lookfirst",
        right: Right::Read,
        options: &[
            may("surface", "option-look-surface", Takes::Suggested),
            may("sign", "option-sign", Takes::Choice(Sign::WORDS)),
        ],
        examples: &["/lookfirst", "/lookfirst surface:LW-07 sign:soft"],
        parse: parse::look_first,
    },
    Command {
        path: "outage",
        about: "about-outage",
        right: Right::RaiseAlarm,
        options: &[UNIT],
        examples: &["/outage unit:Elm"],
        parse: life::outage,
    },
    Command {
        path: "due",
        about: "about-due",
        right: Right::Read,
        options: &[UNIT],
        examples: &["/due", "/due unit:Elm"],
        parse: parse::due,
    },
    Command {
        path: "duty",
        about: "about-duty",
        right: Right::Duty,
        options: &[
            may("unit", "option-duty-unit", Takes::Suggested),
            may("until", "option-duty-until", Takes::Text),
        ],
        examples: &["/duty", "/duty unit:Elm until:07:00", "/duty unit:all"],
        parse: life::duty,
    },
    Command {
        path: "handover",
        about: "about-handover",
        right: Right::Check,
        options: &[UNIT],
        examples: &["/handover", "/handover unit:Elm"],
        parse: life::handover,
    },
    Command {
        path: "surface",
        about: "about-surface",
        right: Right::Read,
        options: &[SURFACE],
        examples: &["/surface surface:LW-07"],
        parse: parse::surface,
    },
    Command {
        path: "clean",
        about: "about-clean",
        right: Right::Upkeep,
        options: &[
            SURFACE,
            must(
                "reason",
                "option-clean-reason",
                Takes::Choice(Cleaning::WORDS),
            ),
            must("method", "option-method", Takes::Choice(Method::WORDS)),
            must("cover", "option-cover", Takes::Choice(Cover::WORDS)),
            may("product", "option-product", Takes::Suggested),
            NOTE,
        ],
        examples: &["/clean surface:LW-07 reason:routine method:soap-and-water cover:intact"],
        parse: parse::clean,
    },
    Command {
        path: "mix",
        about: "about-mix",
        right: Right::Upkeep,
        options: &[
            must("stock", "option-mix-stock", Takes::Suggested),
            must("target", "option-mix-target", Takes::Suggested),
            must("volume", "option-mix-volume", Takes::Suggested),
        ],
        examples: &[
            "/mix stock:8.25 target:5000 ppm volume:1 L",
            "/mix stock:5.25 % target:0.1 % volume:1 gallon",
        ],
        parse: sums::mix,
    },
    Command {
        path: "filter",
        about: "about-filter",
        right: Right::Upkeep,
        options: &[
            SURFACE,
            must("finding", "option-finding", Takes::Choice(Finding::WORDS)),
            must("action", "option-action", Takes::Choice(Action::WORDS)),
        ],
        examples: &["/filter surface:LW-07 finding:dusty action:replaced"],
        parse: parse::filter,
    },
    Command {
        path: "place",
        about: "about-place",
        right: Right::Place,
        options: &[SURFACE, must("bed", "option-bed", Takes::Suggested)],
        examples: &["/place surface:LW-07 bed:103"],
        parse: parse::place,
    },
    Command {
        path: "release",
        about: "about-release",
        right: Right::Place,
        options: &[
            SURFACE,
            must(
                "reason",
                "option-release-reason",
                Takes::Choice(ReleaseReason::WORDS),
            ),
            may(
                "clean-last",
                "option-clean-last",
                Takes::Choice(Switch::WORDS),
            ),
        ],
        examples: &["/release surface:LW-07 reason:discharge"],
        parse: parse::release,
    },
    Command {
        path: "setting",
        about: "about-setting",
        right: Right::Setting,
        options: &[SURFACE, may("set", "option-set", Takes::Suggested)],
        examples: &["/setting surface:LW-07", "/setting surface:LW-07 set:4"],
        parse: life::setting,
    },
    Command {
        path: "swap",
        about: "about-swap",
        right: Right::Place,
        options: &[
            must("bed", "option-swap-bed", Takes::Suggested),
            must("surface", "option-swap-surface", Takes::Suggested),
        ],
        examples: &["/swap bed:103 surface:LW-20"],
        parse: life::swap,
    },
    Command {
        path: "move",
        about: "about-move",
        right: Right::Place,
        options: &[SURFACE, must("bed", "option-bed", Takes::Suggested)],
        examples: &["/move surface:LW-07 bed:104"],
        parse: life::move_to,
    },
    Command {
        path: "leave",
        about: "about-leave",
        right: Right::Place,
        options: &[
            must("bed", "option-leave-bed", Takes::Suggested),
            must("until", "option-until", Takes::Text),
            may("why", "option-leave-why", Takes::Choice(LeaveWhy::WORDS)),
        ],
        examples: &[
            "/leave bed:103 until:15:30 why:chair",
            "/leave bed:103 until:3 days why:hospital",
        ],
        parse: life::leave,
    },
    Command {
        path: "static",
        about: "about-static",
        right: Right::Check,
        options: &[SURFACE, must("until", "option-static-until", Takes::Text)],
        examples: &["/static surface:LW-07 until:45 min"],
        parse: life::static_mode,
    },
    Command {
        path: "cpr",
        about: "about-cpr",
        right: Right::Check,
        options: &[SURFACE],
        examples: &["/cpr surface:LW-07"],
        parse: life::cpr,
    },
    Command {
        path: "match",
        about: "about-match",
        right: Right::Spares,
        options: &[
            must("kind", "option-kind", Takes::Choice(Kind::WORDS)),
            may("width", "option-width", Takes::Text),
            may("capacity", "option-capacity", Takes::Text),
            may("bed", "option-bed", Takes::Suggested),
        ],
        examples: &[
            "/match kind:alternating",
            "/match kind:alternating width:36 in capacity:400 bed:104",
        ],
        parse: life::match_for,
    },
    Command {
        path: "zones",
        about: "about-zones",
        right: Right::Gaps,
        options: &[
            must("bed", "option-zones-bed", Takes::Suggested),
            may("zone1", "option-zone1", Takes::Text),
            may("zone2", "option-zone2", Takes::Text),
            may("zone3", "option-zone3", Takes::Text),
            may("zone4", "option-zone4", Takes::Text),
            may("angle4", "option-angle4", Takes::Text),
            may("zone5", "option-zone5", Takes::Text),
            may("zone6", "option-zone6", Takes::Text),
            may("zone7", "option-zone7", Takes::Text),
        ],
        examples: &[
            "/zones bed:103 zone1:110 mm zone2:100 mm zone3:4 3/4 in zone4:50 mm angle4:65",
        ],
        parse: life::zones,
    },
    Command {
        path: "mark",
        about: "about-mark",
        right: Right::Place,
        options: &[
            SURFACE,
            must(
                "clean-last",
                "option-clean-last",
                Takes::Choice(Switch::WORDS),
            ),
        ],
        examples: &["/mark surface:LW-07 clean-last:on"],
        parse: life::mark,
    },
    Command {
        path: "pull",
        about: "about-pull",
        right: Right::Pull,
        options: &[
            SURFACE,
            must("fault", "option-fault", Takes::Choice(FAULT_WORDS)),
            NOTE,
        ],
        examples: &["/pull surface:LW-07 fault:cord"],
        parse: life::pull,
    },
    Command {
        path: "return",
        about: "about-return",
        right: Right::Maintain,
        options: &[SURFACE],
        examples: &["/return surface:LW-07"],
        parse: life::return_it,
    },
    Command {
        path: "service",
        about: "about-service",
        right: Right::Maintain,
        options: &[
            SURFACE,
            must("work", "option-work", Takes::Choice(Work::WORDS)),
            must("result", "option-result", Takes::Choice(Outcome::WORDS)),
            may("on", "option-on", Takes::Text),
            may("next", "option-next", Takes::Text),
            NOTE,
        ],
        examples: &[
            "/service surface:LW-07 work:safety-test result:passed",
            "/service surface:LW-07 work:maintenance result:passed on:2026-03-01 next:2027-03-01",
        ],
        parse: life::service,
    },
    Command {
        path: "stock",
        about: "about-stock",
        right: Right::ReadShelf,
        options: &[
            may("item", "option-item", Takes::Suggested),
            may("count", "option-count", Takes::Whole(0, 100_000)),
        ],
        examples: &["/stock", "/stock item:filter general count:12"],
        parse: life::stock,
    },
    Command {
        path: "hold",
        about: "about-hold",
        right: Right::Supervise,
        options: &[SURFACE, may("known", "option-known", Takes::Text)],
        examples: &[
            "/hold surface:LW-07",
            "/hold surface:LW-07 known:2026-03-01",
        ],
        parse: life::hold,
    },
    Command {
        path: "recall",
        about: "about-recall",
        right: Right::ReadRecalls,
        options: &[
            must("profile", "option-profile", Takes::Suggested),
            may("lot", "option-lot", Takes::Suggested),
        ],
        examples: &["/recall profile:general lot:L22"],
        parse: life::recall,
    },
    Command {
        path: "rental start",
        about: "about-rental-start",
        right: Right::Supervise,
        options: &[
            SURFACE,
            must("rate", "option-rate", Takes::Text),
            may("reference", "option-reference", Takes::Text),
        ],
        examples: &["/rental start surface:LW-07 rate:38.50"],
        parse: life::rental_start,
    },
    Command {
        path: "rental stop",
        about: "about-rental-stop",
        right: Right::Supervise,
        options: &[SURFACE],
        examples: &["/rental stop surface:LW-07"],
        parse: life::rental_stop,
    },
    Command {
        path: "rental list",
        about: "about-rental-list",
        right: Right::ReadEvidence,
        options: &[],
        examples: &["/rental list"],
        parse: life::rental_list,
    },
    Command {
        path: "catchup",
        about: "about-catchup",
        right: Right::Check,
        options: &[UNIT],
        examples: &["/catchup", "/catchup unit:Elm"],
        parse: life::catchup,
    },
    Command {
        path: "agency",
        about: "about-agency",
        right: Right::Supervise,
        options: &[
            must("person", "option-agency-person", Takes::Person),
            must("role", "option-agency-role", Takes::Choice(Stand::WORDS)),
            must("until", "option-agency-until", Takes::Text),
            UNIT,
        ],
        examples: &[
            "/agency person:@Ana role:aide until:15:30",
            "/agency person:@Ana role:nurse until:8 h unit:Elm",
        ],
        parse: staff::agency,
    },
    Command {
        path: "signoff",
        about: "about-signoff",
        right: Right::Supervise,
        options: &[
            may("person", "option-signoff-person", Takes::Person),
            may("task", "option-task", Takes::Choice(Task::WORDS)),
            may("profile", "option-signoff-profile", Takes::Suggested),
            may("renew", "option-renew", Takes::Text),
        ],
        examples: &[
            "/signoff person:@Ana task:hand-check profile:general",
            "/signoff person:@Ana task:set-up profile:general renew:6 months",
            "/signoff",
        ],
        parse: staff::sign_off,
    },
    Command {
        path: "team",
        about: "about-team",
        right: Right::Supervise,
        options: &[may("person", "option-team-person", Takes::Person)],
        examples: &["/team", "/team person:@Ana"],
        parse: staff::team,
    },
    Command {
        path: "amend",
        about: "about-amend",
        right: Right::Amend,
        options: &[
            must("entry", "option-entry", Takes::Suggested),
            must("reason", "option-amend-reason", Takes::Text),
            may("air", "option-air", Takes::Suggested),
            may("surface", "option-amend-surface", Takes::Suggested),
            may("strike", "option-strike", Takes::Choice(Switch::WORDS)),
            may("when", "option-amend-when", Takes::Text),
            may("setting", "option-setting", Takes::Text),
            may("layers", "option-layers", Takes::Whole(0, 20)),
            may(
                "position",
                "option-position",
                Takes::Choice(Position::WORDS),
            ),
            may("mode", "option-mode", Takes::Choice(Mode::WORDS)),
            may("finding", "option-finding", Takes::Choice(Finding::WORDS)),
            may("action", "option-action", Takes::Choice(Action::WORDS)),
            may("method", "option-method", Takes::Choice(Method::WORDS)),
            may("cover", "option-cover", Takes::Choice(Cover::WORDS)),
        ],
        examples: &[
            "/amend entry:1234 reason:typed 3/4, was 1 1/4 air:1 1/4",
            "/amend entry:1234 reason:wrong surface surface:LW-08",
            "/amend entry:1234 reason:the resident was out strike:on",
        ],
        parse: entry::amend,
    },
    Command {
        path: "timeline",
        about: "about-timeline",
        right: Right::Read,
        options: &[must("what", "option-timeline", Takes::Suggested)],
        examples: &["/timeline what:LW-07", "/timeline what:103"],
        parse: entry::timeline,
    },
    Command {
        path: "report",
        about: "about-report",
        right: Right::ReadEvidence,
        options: &[
            may("period", "option-report-period", Takes::Suggested),
            may("from", "option-report-from", Takes::Text),
            may("to", "option-report-to", Takes::Text),
        ],
        examples: &[
            "/report",
            "/report period:last month",
            "/report from:2026-10-01 to:2026-10-31",
        ],
        parse: entry::report,
    },
    Command {
        path: "fleet list",
        about: "about-fleet-list",
        right: Right::ReadFleet,
        options: &[],
        examples: &["/fleet list"],
        parse: parse::fleet_list,
    },
    Command {
        path: "fleet add",
        about: "about-fleet-add",
        right: Right::ChangeFleet,
        options: &[
            must("tag", "option-tag", Takes::Text),
            must("profile", "option-profile", Takes::Suggested),
            may("serial", "option-serial", Takes::Text),
            may("lot", "option-lot", Takes::Text),
            may("owned", "option-owned", Takes::Choice(Owned::WORDS)),
            may("state", "option-state", Takes::Choice(Start::WORDS)),
            may("tested", "option-tested", Takes::Text),
        ],
        examples: &["/fleet add tag:LW-41 profile:general"],
        parse: parse::fleet_add,
    },
    Command {
        path: "fleet import",
        about: "about-fleet-import",
        right: Right::ChangeFleet,
        options: &[
            must("what", "option-import", Takes::Choice(Import::WORDS)),
            must("file", "option-file", Takes::File),
        ],
        examples: &["/fleet import what:surfaces file:surfaces.csv"],
        parse: parse::fleet_import,
    },
    Command {
        path: "fleet export",
        about: "about-fleet-export",
        right: Right::ReadFleet,
        options: &[may("what", "option-export", Takes::Choice(Export::WORDS))],
        examples: &["/fleet export", "/fleet export what:wall"],
        parse: parse::fleet_export,
    },
    Command {
        path: "fleet retire",
        about: "about-fleet-retire",
        right: Right::ChangeFleet,
        options: &[SURFACE],
        examples: &["/fleet retire surface:LW-07"],
        parse: parse::fleet_retire,
    },
    Command {
        path: "fleet cost",
        about: "about-fleet-cost",
        right: Right::Reckon,
        options: &[
            must("price", "option-price", Takes::Text),
            may("rental", "option-cost-rental", Takes::Text),
            may("years", "option-years", Takes::Text),
            may("interest", "option-interest", Takes::Text),
            may("upkeep", "option-cost-upkeep", Takes::Text),
            may("salvage", "option-salvage", Takes::Text),
            may("days", "option-days", Takes::Text),
            may("kind", "option-fleet-kind", Takes::Choice(Kind::WORDS)),
        ],
        examples: &[
            "/fleet cost price:4200",
            "/fleet cost price:4,200 rental:38.50 years:5 interest:8 % upkeep:300 salvage:200",
        ],
        parse: sums::fleet_cost,
    },
    Command {
        path: "fleet size",
        about: "about-fleet-size",
        right: Right::Reckon,
        options: &[
            may("admissions", "option-admissions", Takes::Text),
            may("stay", "option-stay", Takes::Text),
            may("shortfall", "option-shortfall", Takes::Text),
            may("beds", "option-size-beds", Takes::Whole(1, BEDS_MOST)),
            may("kind", "option-fleet-kind", Takes::Choice(Kind::WORDS)),
        ],
        examples: &[
            "/fleet size",
            "/fleet size admissions:3 a week stay:40 days shortfall:5 %",
        ],
        parse: sums::fleet_size,
    },
    Command {
        path: "facility setup",
        about: "about-facility-setup",
        right: Right::Settings,
        options: &[
            may("timezone", "option-timezone", Takes::Suggested),
            may("care-channel", "option-care-channel", Takes::Channel),
            may(
                "supervisor-channel",
                "option-supervisor-channel",
                Takes::Channel,
            ),
            may("aide", "option-role-aide", Takes::Role),
            may("nurse", "option-role-nurse", Takes::Role),
            may("supervisor", "option-role-supervisor", Takes::Role),
            may("upkeep", "option-role-upkeep", Takes::Role),
            may("upkeep-channel", "option-upkeep-channel", Takes::Channel),
            may("language", "option-language", Takes::Choice(Lang::WORDS)),
            may(
                "beds-in-posts",
                "option-beds-in-posts",
                Takes::Choice(YesNo::WORDS),
            ),
            may("home", "option-home", Takes::Text),
            may("currency", "option-currency", Takes::Text),
        ],
        examples: &[],
        parse: parse::facility_setup,
    },
    Command {
        path: "facility unit",
        about: "about-facility-unit",
        right: Right::Settings,
        options: &[
            must("name", "option-unit-name", Takes::Suggested),
            must("beds", "option-unit-beds", Takes::Text),
            may("channel", "option-unit-channel", Takes::Channel),
            may("take", "option-unit-take", Takes::Choice(YesNo::WORDS)),
        ],
        examples: &["/facility unit name:Elm beds:101-112, 114A"],
        parse: parse::facility_unit,
    },
    Command {
        path: "facility frame",
        about: "about-facility-frame",
        right: Right::Frames,
        options: &[
            must("beds", "option-beds", Takes::Text),
            may("width", "option-frame-width", Takes::Text),
            may("length", "option-frame-length", Takes::Text),
            may("rails", "option-rails", Takes::Choice(Rails::WORDS)),
            may("outlet", "option-outlet", Takes::Choice(Outlet::WORDS)),
            may("outlet-tested", "option-outlet-tested", Takes::Text),
            may("approved", "option-approved", Takes::Text),
        ],
        examples: &[
            "/facility frame beds:101-104 width:36 in length:80 in rails:split outlet:hospital-grade",
        ],
        parse: life::facility_frame,
    },
    Command {
        path: "facility product",
        about: "about-facility-product",
        right: Right::ChangeFleet,
        options: &[
            must("name", "option-product-name", Takes::Suggested),
            may("method", "option-method", Takes::Choice(Method::WORDS)),
            may("contact", "option-contact", Takes::Whole(0, 120)),
            may(
                "sporicidal",
                "option-sporicidal",
                Takes::Choice(Switch::WORDS),
            ),
        ],
        examples: &["/facility product name:Wipe A method:quaternary contact:3 sporicidal:off"],
        parse: life::facility_product,
    },
    Command {
        path: "facility storage",
        about: "about-facility-storage",
        right: Right::ChangeFleet,
        options: &[
            must("dirty", "option-dirty", Takes::Text),
            must("clean", "option-clean", Takes::Text),
        ],
        examples: &["/facility storage dirty:soiled utility room clean:store B"],
        parse: life::facility_storage,
    },
    Command {
        path: "facility schedule",
        about: "about-facility-schedule",
        right: Right::Settings,
        options: &[
            must("what", "option-what", Takes::Choice(What::WORDS)),
            must("when", "option-schedule-when", Takes::Text),
            UNIT,
        ],
        examples: &[
            "/facility schedule what:due-list when:every 8h from 07:00",
            "/facility schedule what:summary when:weekdays 06:45 unit:Elm",
            "/facility schedule what:summary when:never unit:Elm",
        ],
        parse: parse::facility_schedule,
    },
    Command {
        path: "facility ladder",
        about: "about-facility-ladder",
        right: Right::Policy,
        options: &[
            must("first", "option-first", Takes::Whole(1, RUNG_MINUTES_MOST)),
            must(
                "second",
                "option-second",
                Takes::Whole(1, RUNG_MINUTES_MOST),
            ),
            must("third", "option-third", Takes::Whole(1, RUNG_MINUTES_MOST)),
            must(
                "repeat",
                "option-repeat",
                Takes::Whole(1, RUNG_MINUTES_MOST),
            ),
        ],
        examples: &["/facility ladder first:5 second:10 third:15 repeat:5"],
        parse: parse::facility_ladder,
    },
    Command {
        path: "facility policy",
        about: "about-facility-policy",
        right: Right::Policy,
        options: &[
            must("name", "option-policy-name", Takes::Suggested),
            may("value", "option-policy-value", Takes::Text),
        ],
        examples: &[
            "/facility policy name:recheck",
            "/facility policy name:recheck value:20 min",
        ],
        parse: parse::facility_policy,
    },
    Command {
        path: "facility phone",
        about: "about-facility-phone",
        right: Right::ChangeFleet,
        options: &[may("words", "option-phone-words", Takes::Text)],
        examples: &["/facility phone words:charge nurse, extension 100"],
        parse: life::facility_phone,
    },
    Command {
        path: "facility show",
        about: "about-facility-show",
        right: Right::ReadSettings,
        options: &[],
        examples: &["/facility show"],
        parse: parse::facility_show,
    },
    Command {
        path: "help",
        about: "about-help",
        right: Right::Read,
        options: &[may("topic", "option-topic", Takes::Suggested)],
        examples: &["/help", "/help topic:alarm"],
        parse: parse::help,
    },
];

/// The command of this path.
pub fn find(path: &str) -> Option<&'static Command> {
    COMMANDS.iter().find(|command| command.path == path)
}

/// The key of what a group of subcommands is for.
pub fn group_about(group: &str) -> String {
    format!("group-{group}")
}

impl Opt {
    /// The key of the name that people pick this word by.
    pub fn choice(&self, word: &str) -> String {
        let option = self.about.strip_prefix("option-").unwrap_or(self.about);
        format!("choice-{option}-{word}")
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::words::{Lang, has, say};

    #[test]
    fn names_are_unique_and_fit_the_platform() {
        let mut paths = BTreeSet::new();
        for command in COMMANDS {
            assert!(paths.insert(command.path), "{} stands twice", command.path);
            assert!(command.options.len() <= 25, "{}", command.path);
            let mut names = BTreeSet::new();
            let mut optional = false;
            for option in command.options {
                assert!(
                    names.insert(option.name),
                    "{} {}",
                    command.path,
                    option.name
                );
                assert!(
                    option.name.len() <= 32
                        && option
                            .name
                            .bytes()
                            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
                );
                assert!(
                    !(option.required && optional),
                    "{}: required ones first",
                    command.path
                );
                optional |= !option.required;
            }
        }
    }

    #[test]
    fn everything_is_described_in_at_most_100_characters() {
        for command in COMMANDS {
            let keys = command
                .options
                .iter()
                .map(|option| option.about)
                .chain([command.about]);
            for key in keys {
                assert!(has(Lang::English, key), "no sentence under {key}");
                assert!(
                    say(Lang::English, key, &[]).chars().count() <= 100,
                    "{key} is too long"
                );
            }
            if let Some((group, _)) = command.path.split_once(' ') {
                assert!(
                    has(Lang::English, &group_about(group)),
                    "no sentence for the group {group}"
                );
            }
        }
    }

    #[test]
    fn every_example_parses() {
        for command in COMMANDS {
            for example in command.examples {
                let options = parse::typed(command, example)
                    .unwrap_or_else(|| panic!("{example} names no options"));
                // Files and people are picked from what the chat has, not typed.
                if command
                    .options
                    .iter()
                    .filter(|option| options.contains_key(option.name))
                    .any(|option| matches!(option.takes, Takes::File | Takes::Person))
                {
                    continue;
                }
                (command.parse)(&Given(&options))
                    .unwrap_or_else(|no| panic!("{example}: {}", no.say(Lang::English)));
            }
        }
    }
}
