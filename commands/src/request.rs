//! What people can ask, typed: a closed list. Decides the questions; leaves to [`crate::parse`] how a
//! text becomes one, and to [`crate::decide`] what follows. Names of surfaces, beds and units are
//! still as they were typed: looking them up needs the state.

use crate::choice::{
    Action, Cleaning, Cover, Export, Finding, Import, LeaveWhy, Method, Mode, Outcome, Outlet,
    Owned, Position, Rails, ReleaseReason, Site, Stand, Start, Switch, Task, What, Work, YesNo,
};
use crate::ids::{Channel, ChatRole, Person};
use crate::record::Fault;
use crate::rules::hand_check::{Air, Kind};
use crate::rules::look_first::Sign;
use crate::rules::priority::AlarmKind;
use crate::rules::schedule::Pattern;
use crate::said::{FetchFault, FileRef};
use crate::state::Ladder;
use crate::tap::{Costing, Mixing, Sizing, Tap};
use crate::words::Lang;

/// A question.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// `/handcheck`.
    HandCheck(HandCheck),
    /// `/round`.
    Round {
        /// The unit as typed.
        unit: Option<String>,
    },
    /// `/alarm`.
    Alarm {
        /// The surface as typed.
        surface: String,
        /// What it is.
        kind: Option<AlarmKind>,
        /// Free text.
        note: Option<String>,
    },
    /// `/filter`.
    Filter {
        /// The surface as typed.
        surface: String,
        /// What was found.
        finding: Finding,
        /// What was done.
        action: Action,
    },
    /// `/clean`.
    Clean(Clean),
    /// `/mix`.
    Mix(Mixing),
    /// `/due`.
    Due {
        /// The unit as typed.
        unit: Option<String>,
    },
    /// `/surface`.
    Surface {
        /// The surface as typed.
        surface: String,
    },
    /// `/place`.
    Place {
        /// The surface as typed.
        surface: String,
        /// The bed as typed.
        bed: String,
    },
    /// `/release`.
    Release {
        /// The surface as typed.
        surface: String,
        /// Why.
        reason: ReleaseReason,
        /// Whether it is to be cleaned last and with a sporicide only.
        clean_last: Option<Switch>,
    },
    /// `/setting`.
    Setting {
        /// The surface as typed.
        surface: String,
        /// The new setting; only shown if none.
        set: Option<String>,
    },
    /// `/move`.
    Move {
        /// The surface as typed.
        surface: String,
        /// The other bed as typed.
        bed: String,
    },
    /// `/swap`.
    Swap {
        /// The bed as typed.
        bed: String,
        /// The surface that comes, as typed.
        surface: String,
    },
    /// `/leave`.
    Leave {
        /// The bed as typed.
        bed: String,
        /// Until when, as typed.
        until: String,
        /// Why.
        why: Option<LeaveWhy>,
    },
    /// `/static`.
    Static {
        /// The surface as typed.
        surface: String,
        /// Until when, as typed.
        until: String,
    },
    /// `/cpr`.
    Cpr {
        /// The surface as typed.
        surface: String,
    },
    /// `/mark`.
    Mark {
        /// The surface as typed.
        surface: String,
        /// Whether it is to be cleaned last and with a sporicide only.
        clean_last: Switch,
    },
    /// `/pull`.
    Pull {
        /// The surface as typed.
        surface: String,
        /// Why.
        fault: Fault,
        /// Free text.
        note: Option<String>,
    },
    /// `/return`.
    Return {
        /// The surface as typed.
        surface: String,
    },
    /// `/hold`.
    Hold {
        /// The surface as typed.
        surface: String,
        /// The day on which somebody of the home first knew of the injury, as typed; today if none.
        known: Option<String>,
    },
    /// `/recall`.
    Recall {
        /// The profile as typed.
        profile: String,
        /// The lot as typed.
        lot: Option<String>,
    },
    /// `/zones`.
    Zones {
        /// The bed as typed.
        bed: String,
        /// The readings of zones 1 to 7, as typed.
        zones: [Option<String>; 7],
        /// The angle at zone 4, as typed.
        angle4: Option<String>,
    },
    /// `/service`.
    Service {
        /// The surface as typed.
        surface: String,
        /// Which work.
        work: Work,
        /// How it came out.
        outcome: Outcome,
        /// The day it was done, as typed; today if none.
        on: Option<String>,
        /// The day of the next, as typed.
        next: Option<String>,
        /// Free text.
        note: Option<String>,
    },
    /// `/outage`.
    Outage {
        /// The unit as typed.
        unit: Option<String>,
    },
    /// `/catchup`.
    Catchup {
        /// The unit as typed.
        unit: Option<String>,
    },
    /// `/match`.
    Match {
        /// The kind of surface.
        kind: Kind,
        /// The width of the frame, as typed.
        width: Option<String>,
        /// What it must carry, in pounds. Asked, never kept.
        capacity: Option<i64>,
        /// The bed as typed.
        bed: Option<String>,
    },
    /// `/stock`.
    Stock {
        /// The item as typed; all of them if none.
        item: Option<String>,
        /// How many there are.
        count: Option<i64>,
    },
    /// `/rental start`.
    RentalStart {
        /// The surface as typed.
        surface: String,
        /// What it costs a day, as typed.
        rate: String,
        /// The vendor's number, as typed.
        reference: Option<String>,
    },
    /// `/rental stop`.
    RentalStop {
        /// The surface as typed.
        surface: String,
    },
    /// `/rental list`.
    RentalList,
    /// `/amend`.
    Amend(Box<Amend>),
    /// `/timeline`.
    Timeline {
        /// The tag or bed as typed.
        what: String,
    },
    /// `/report`.
    Report {
        /// The days, as typed.
        period: Option<String>,
        /// The first day, as typed.
        from: Option<String>,
        /// The last day, as typed.
        to: Option<String>,
    },
    /// `/facility product`.
    FacilityProduct {
        /// Its name.
        name: String,
        /// What kind it is.
        method: Option<Method>,
        /// How long it must stay wet, in minutes.
        contact: Option<i64>,
        /// Whether it kills spores.
        sporicidal: Option<Switch>,
    },
    /// `/facility storage`.
    FacilityStorage {
        /// The place for those that are to be cleaned.
        dirty: String,
        /// The place for those that are ready.
        clean: String,
    },
    /// `/facility frame`.
    FacilityFrame(FacilityFrame),
    /// `/fleet add`.
    FleetAdd(FleetAdd),
    /// `/fleet import`, before its file has been fetched.
    FleetImport {
        /// Which rows.
        what: Import,
        /// The file.
        file: FileRef,
    },
    /// `/fleet import`, with the file.
    FleetImported {
        /// Which rows.
        what: Import,
        /// Its bytes.
        file: Result<Vec<u8>, FetchFault>,
    },
    /// `/fleet list`.
    FleetList,
    /// `/fleet export`.
    FleetExport {
        /// The register, or what hangs on the wall.
        what: Export,
    },
    /// `/fleet cost`.
    FleetCost(Costing),
    /// `/fleet size`.
    FleetSize(Sizing),
    /// `/fleet retire`.
    FleetRetire {
        /// The surface as typed.
        surface: String,
    },
    /// `/facility setup`.
    FacilitySetup(FacilitySetup),
    /// `/facility unit`.
    FacilityUnit {
        /// The unit's name.
        name: String,
        /// Its beds as typed; none if it is to be removed.
        beds: Option<String>,
        /// Its channel.
        channel: Option<Channel>,
        /// Whether beds of other units come along.
        take: Option<YesNo>,
    },
    /// `/facility schedule`.
    FacilitySchedule {
        /// What is posted.
        what: What,
        /// When; none for never.
        when: Option<Pattern>,
        /// For which unit, as typed.
        unit: Option<String>,
    },
    /// `/facility ladder`.
    FacilityLadder(Ladder),
    /// `/facility policy`.
    FacilityPolicy {
        /// Its name as typed.
        name: String,
        /// Its value as typed; only shown if none.
        value: Option<String>,
    },
    /// `/duty`.
    Duty {
        /// The unit as typed, or the word for the whole house.
        unit: Option<String>,
        /// Until when, as typed; the end of the shift if none.
        until: Option<String>,
    },
    /// `/handover`.
    Handover {
        /// The unit as typed.
        unit: Option<String>,
    },
    /// `/facility phone`.
    FacilityPhone {
        /// Whom to phone and at which number; only shown if none.
        words: Option<String>,
    },
    /// `/facility show`.
    FacilityShow,
    /// `/agency`.
    Agency {
        /// Who is let in.
        person: Person,
        /// The chat roles that they hold anyway.
        chat_roles: Vec<ChatRole>,
        /// As what.
        stand: Stand,
        /// Until when, as typed.
        until: String,
        /// The unit as typed.
        unit: Option<String>,
    },
    /// `/signoff` alone: all sign-offs.
    SignOffs,
    /// `/signoff`: somebody may do a task without being looked after.
    SignOff {
        /// Who is signed off.
        person: Person,
        /// For which task.
        task: Task,
        /// On which profile, as typed.
        profile: String,
        /// The day by which it is renewed, as typed.
        renew: Option<String>,
    },
    /// `/team`.
    Team {
        /// One person; everybody if none.
        person: Option<Person>,
    },
    /// `/help`.
    Help {
        /// A command or a word.
        topic: Option<String>,
    },
    /// A button, a menu or a form.
    Tap(Tap),
    /// `/lookfirst`.
    LookFirst {
        /// The surface as typed.
        surface: Option<String>,
        /// What somebody at the bed can name.
        sign: Option<Sign>,
    },
    /// A plain message that mentions the bot.
    Mention {
        /// Its text.
        text: String,
        /// Whether files hang on it.
        files: bool,
    },
}

/// A hand check as it was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct HandCheck {
    /// The surface as typed.
    pub surface: String,
    /// The reading.
    pub air: Air,
    /// Where the hand was.
    pub site: Option<Site>,
    /// How the person lay.
    pub position: Option<Position>,
    /// The mode it ran in.
    pub mode: Option<Mode>,
    /// Layers of linen and pads.
    pub layers: Option<u8>,
    /// The setting in use.
    pub setting: Option<String>,
    /// When, as typed.
    pub when: Option<String>,
    /// Free text.
    pub note: Option<String>,
}

/// A cleaning as it was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Clean {
    /// The surface as typed.
    pub surface: String,
    /// Why.
    pub reason: Cleaning,
    /// With what.
    pub method: Method,
    /// The product.
    pub product: Option<String>,
    /// How the cover looked.
    pub cover: Cover,
    /// Free text.
    pub note: Option<String>,
}

/// A correction as it was typed. What is left out stays as it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Amend {
    /// The entry's number as typed.
    pub entry: String,
    /// Why, in the person's words.
    pub reason: String,
    /// The reading.
    pub air: Option<Air>,
    /// The setting in use.
    pub setting: Option<String>,
    /// Layers of linen and pads.
    pub layers: Option<u8>,
    /// How the person lay.
    pub position: Option<Position>,
    /// The mode it ran in.
    pub mode: Option<Mode>,
    /// What was found.
    pub finding: Option<Finding>,
    /// What was done.
    pub action: Option<Action>,
    /// With what it was cleaned.
    pub method: Option<Method>,
    /// How the cover looked.
    pub cover: Option<Cover>,
    /// The surface that it is about, as typed.
    pub surface: Option<String>,
    /// When it happened, as typed.
    pub when: Option<String>,
    /// It was entered by mistake.
    pub strike: bool,
}

/// A surface for the register as it was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct FleetAdd {
    /// Its tag.
    pub tag: String,
    /// Its profile.
    pub profile: String,
    /// The maker's serial number.
    pub serial: Option<String>,
    /// The maker's lot.
    pub lot: Option<String>,
    /// Whose it is.
    pub owned: Owned,
    /// How it comes in.
    pub start: Start,
    /// The day of its newest safety test, as typed.
    pub tested: Option<String>,
}

/// What is said of beds' frames, as it was typed. What is left out stays as it was.
#[derive(Clone, Debug, PartialEq)]
pub struct FacilityFrame {
    /// The beds as typed.
    pub beds: String,
    /// The width of the deck.
    pub width: Option<String>,
    /// The length of the deck.
    pub length: Option<String>,
    /// The rails.
    pub rails: Option<Rails>,
    /// The wall outlet.
    pub outlet: Option<Outlet>,
    /// The day the outlet was last tested.
    pub outlet_tested: Option<String>,
    /// The profiles approved for it, with commas between; `all` approves all.
    pub approved: Option<String>,
}

/// The set-up as it was typed. What is left out stays as it was.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FacilitySetup {
    /// IANA name.
    pub timezone: Option<String>,
    /// Where everybody reads.
    pub care_channel: Option<Channel>,
    /// Where supervisors read.
    pub supervisor_channel: Option<Channel>,
    /// The chat's role for aides.
    pub aide: Option<ChatRole>,
    /// For nurses.
    pub nurse: Option<ChatRole>,
    /// For supervisors.
    pub supervisor: Option<ChatRole>,
    /// For upkeep.
    pub upkeep: Option<ChatRole>,
    /// Where upkeep reads.
    pub upkeep_channel: Option<Channel>,
    /// The language that channels read.
    pub lang: Option<Lang>,
    /// Whether the home has approved beds in posts.
    pub beds_in_posts: Option<YesNo>,
    /// What the home is called.
    pub home: Option<String>,
    /// How its amounts of money are signed.
    pub currency: Option<Currency>,
}

/// How amounts of money are signed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Currency {
    /// Not at all.
    None,
    /// With this sign, or this ISO 4217 code.
    Sign(String),
}

/// What may be allowed or refused: coarser than a request, so that a command, its buttons, its menus,
/// its forms and its suggestions are held to the same answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Right {
    /// Read what is due, a surface's card, help.
    Read,
    /// Log a hand check or walk a round.
    Check,
    /// Raise an alarm.
    RaiseAlarm,
    /// Answer an alarm: take it, say safe, say what fixed it.
    AnswerAlarm,
    /// Call the roll of a unit without power; say that power is back.
    CallRoll,
    /// Put a surface out of service.
    Pull,
    /// Log a look at a filter, a cleaning, a step of a turnover.
    Upkeep,
    /// Place, release, move, swap; say that a bed is empty.
    Place,
    /// Read the maker's table of settings and record a change.
    Setting,
    /// Record the gaps of a bed.
    Gaps,
    /// Say that one has a unit, and until when.
    Duty,
    /// Accept a handover for the next shift.
    HandOver,
    /// Bring back into service, record tests and maintenance, count stock.
    Maintain,
    /// Read what a recall finds, and how far it is.
    ReadRecalls,
    /// Find a surface that is ready.
    Spares,
    /// Say what the beds' frames are like.
    Frames,
    /// Look a second time at what somebody else entered.
    LookAgain,
    /// Hold, recall, rent.
    Supervise,
    /// Correct an own entry, or remark on it. Whose it is, the entry says.
    Amend,
    /// Remark on and sign what others entered.
    Countersign,
    /// Read the register.
    ReadFleet,
    /// Change the register.
    ChangeFleet,
    /// Reckon what owning costs, and how many to own.
    Reckon,
    /// Read the evidence of a period, and what is rented at which price.
    ReadEvidence,
    /// Read what is on the shelf.
    ReadShelf,
    /// Change the facility's settings.
    Settings,
    /// Change a policy or the ladder.
    Policy,
    /// Agree to a change of clinical policy that somebody else asked for.
    ConfirmPolicy,
    /// Read the facility's settings.
    ReadSettings,
}
