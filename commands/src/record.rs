//! Every fact that a facility's log can hold. Decides the facts and how they are written as bytes;
//! leaves what follows from them to [`crate::state`], and the numbering, the notes and the chain to `store`.
//!
//! A body once written is never changed in meaning: a new shape is a new variant, or a new field with
//! a default. `tests/logs` keeps logs of every earlier version, and each must still open.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};
use serde::{Deserialize, Serialize};
use serde_json::error::Category;

use crate::choice::{
    Action, Call, Cause, Cleaning, Cover, FilterKind, Finding, FirstFill, GapAct, LeaveWhy,
    LoftAnswer, Method, Mode, Opening, Outcome, Outlet, Owned, Paper, Position, Rails,
    ReleaseReason, Roll, Site, Stand, Start, Step, Task, TurnStep, What, Work,
};
use crate::ids::{
    AlarmNo, Bed, Channel, ChatRole, HandoverNo, Item, OutageNo, Person, ProductName, ProfileName,
    RecallNo, RecordNo, ScheduleName, Tag, Unit,
};
use crate::role::Role;
use crate::rules::air::Tenths;
use crate::rules::drift::Reading;
use crate::rules::hand_check::{Air, Band, Check, Class, Judgement, Kind};
use crate::rules::named::named_enum;
use crate::rules::priority::{AlarmKind, Priority};
use crate::state::{CheckFact, CleanFact, FilterFact, FilterLooks};
use crate::words::Lang;

/// The version that bodies are written in.
pub const BODY_VERSION: u32 = 1;

/// A fact with its place in the log.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Its number; the log has no holes.
    pub no: RecordNo,
    /// When it happened, by facility time.
    pub at: DateTime<Utc>,
    /// When it was entered, by facility time.
    pub entered: DateTime<Utc>,
    /// Who entered it; nobody for the clock.
    pub who: Option<Person>,
    /// The role they acted in.
    pub role: Role,
    /// The first record of the event that caused this one: what one tap did is taken back together.
    pub first: RecordNo,
    /// What happened.
    pub body: Body,
    /// Free text, if it has not been erased.
    pub note: Option<String>,
}

/// What happened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "k", rename_all = "kebab-case")]
pub enum Body {
    /// The facility was set up, or set up again.
    FacilitySet {
        /// IANA name.
        zone: String,
        /// Where everybody reads.
        care_channel: Channel,
        /// Where supervisors read.
        supervisor_channel: Channel,
        /// Our roles to the chat's.
        roles: BTreeMap<Role, ChatRole>,
        /// The language that channels read.
        #[serde(default, skip_serializing_if = "is_default")]
        lang: Lang,
        /// Where upkeep reads, if it has a channel.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        upkeep_channel: Option<Channel>,
        /// What the home is called, for what is printed.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        home: Option<String>,
        /// The sign or the ISO 4217 code of its money.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        currency: Option<String>,
    },
    /// A unit left the home's list; its beds are in none.
    UnitDropped {
        /// The unit.
        unit: Unit,
    },
    /// A unit was named, or its beds or channel changed.
    UnitSet {
        /// The unit.
        unit: Unit,
        /// Its beds, in the order of a round.
        beds: Vec<Bed>,
        /// Where its people read; the care channel if none.
        channel: Option<Channel>,
    },
    /// A schedule was set.
    ScheduleSet {
        /// Its name.
        name: ScheduleName,
        /// What it posts.
        what: What,
        /// For one unit, or for all.
        unit: Option<Unit>,
        /// The pattern in its canonical text.
        when: String,
        /// Slots after this local time count.
        from: NaiveDateTime,
    },
    /// The ladder was set, in minutes.
    LadderSet {
        /// From opening to the first rung.
        first: u16,
        /// From opening to the second rung.
        second: u16,
        /// From opening to the third rung.
        third: u16,
        /// Between pings after that.
        repeat: u16,
    },
    /// An admin asks for another ladder, in minutes; it waits for a supervisor.
    LadderAsked {
        /// From opening to the first rung.
        first: u16,
        /// From opening to the second rung.
        second: u16,
        /// From opening to the third rung.
        third: u16,
        /// Between pings after that.
        repeat: u16,
    },
    /// A policy was set.
    PolicySet {
        /// Its name.
        name: String,
        /// Its value, in its own unit.
        value: i64,
    },
    /// An admin asks for a change of clinical policy; it waits for a supervisor.
    PolicyAsked {
        /// Its name.
        name: String,
        /// The wished value.
        value: i64,
    },
    /// An admin asks for another change that a supervisor must agree to.
    WishAsked {
        /// Which change.
        wish: Wish,
    },
    /// A wish is settled; the change itself, where one was agreed to, has its own record.
    WishEnded {
        /// The record that asked.
        wish: RecordNo,
        /// How.
        end: WishEnd,
    },
    /// A schedule was taken away.
    ScheduleDropped {
        /// Its name.
        name: ScheduleName,
    },
    /// The home said whether posts may show beds.
    BedsApproved {
        /// Whether they may.
        approved: bool,
    },
    /// A profile was entered.
    ProfileSet(Box<Profile>),
    /// A surface came into the register.
    SurfaceAdded {
        /// Its tag.
        tag: Tag,
        /// Its profile.
        profile: ProfileName,
        /// The maker's serial number.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        serial: Option<String>,
        /// The maker's lot.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lot: Option<String>,
        /// Owned or rented.
        owned: Owned,
        /// What a rented one costs a day, in cents.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        daily_cents: Option<i64>,
        /// Ready, or soiled.
        start: Start,
        /// The day its filter was last changed.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        filter_changed: Option<NaiveDate>,
        /// The day it came into service.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        in_service: Option<NaiveDate>,
        /// The day of its newest safety test.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        tested: Option<NaiveDate>,
    },
    /// A surface left for good.
    SurfaceRetired {
        /// The surface.
        tag: Tag,
    },
    /// A surface that had left is in the register again, and is turned over before it is used.
    SurfaceBroughtBack {
        /// The surface.
        tag: Tag,
    },
    /// A surface went under a bed.
    Placed {
        /// The surface.
        tag: Tag,
        /// The bed.
        bed: Bed,
        /// The surface whose place it took.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        instead_of: Option<Tag>,
    },
    /// A surface came from under a bed; its turnover began.
    Released {
        /// The surface.
        tag: Tag,
        /// Why.
        reason: ReleaseReason,
    },
    /// A hand check, or the reason why there was none.
    HandChecked {
        /// The surface.
        tag: Tag,
        /// The reading.
        air: Air,
        /// How it was judged.
        judged: Judgement,
        /// By which band.
        band: Band,
        /// Where the hand was.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        site: Option<Site>,
        /// How the person lay.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        position: Option<Position>,
        /// The mode it ran in.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        mode: Option<Mode>,
        /// Layers of linen and pads.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        layers: Option<u8>,
        /// The setting in use, as the panel shows it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        setting: Option<String>,
        /// When it is to be checked again, out of turn.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        recheck: Option<DateTime<Utc>>,
        /// In a round.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        round: bool,
        /// Entered from paper after a time without the chat.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        from_paper: bool,
        /// Looked at and felt from above, as its maker has it, and no hand under the person: it has no inches. In older records only
        /// what was found says so ([`Air::Within`]).
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        felt: bool,
    },
    /// Somebody was asked for a recheck that had not come.
    RecheckAsked {
        /// The surface.
        tag: Tag,
        /// The first time, or a later one.
        step: u32,
    },
    /// An alarm began.
    AlarmOpened {
        /// The surface.
        tag: Tag,
        /// What it is, as far as known.
        kind: AlarmKind,
        /// By the table.
        priority: Priority,
        /// It was not heard but found, by somebody who had put its cause right already.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        found: Option<Found>,
        /// Since when whoever reported it is let in no more: they may still raise one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        shift_over: Option<DateTime<Utc>>,
    },
    /// Somebody said more about what it is.
    AlarmNamed {
        /// The alarm.
        alarm: AlarmNo,
        /// What it is.
        kind: AlarmKind,
        /// By the table.
        priority: Priority,
    },
    /// Somebody is on the way.
    AlarmTaken {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// The resident is safe.
    ResidentSafe {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// Whoever was on the way cannot go.
    AlarmGivenUp {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// That the resident is safe was said by mistake.
    NotSafeYet {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// Somebody was asked, because nobody had taken it.
    AlarmAsked {
        /// The alarm.
        alarm: AlarmNo,
        /// Rung 1 to 3, then repeats from 4.
        rung: u32,
    },
    /// It was taken, but the promised time passed: the ladder begins again.
    LadderRestarted {
        /// The alarm.
        alarm: AlarmNo,
        /// Not safe in time, or not fixed in time.
        why: Overrun,
    },
    /// The cause was found; the check after it stands in its own record.
    AlarmCause {
        /// The alarm.
        alarm: AlarmNo,
        /// What it was.
        cause: Cause,
    },
    /// It is over.
    AlarmClosed {
        /// The alarm.
        alarm: AlarmNo,
        /// How it ended.
        end: AlarmEnd,
        /// The surface that alarms in truth, where its tag was wrong.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        is_at: Option<Tag>,
    },
    /// A filter was looked at.
    FilterLooked {
        /// The surface.
        tag: Tag,
        /// What was found.
        finding: Finding,
        /// What was done.
        action: Action,
        /// Days to the next look, as whoever looked was told; the profile's if none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        next: Option<u16>,
    },
    /// A surface was cleaned.
    Cleaned {
        /// The surface.
        tag: Tag,
        /// Why.
        reason: Cleaning,
        /// With what.
        method: Method,
        /// The product, from the facility's list.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        product: Option<String>,
        /// How the cover looked.
        cover: Cover,
    },
    /// Between residents it ran, filled and gave no alarm.
    FunctionShown {
        /// The surface.
        tag: Tag,
    },
    /// Out of service.
    Pulled {
        /// The surface.
        tag: Tag,
        /// Why.
        fault: Fault,
    },
    /// What one tap or command did was taken back by the person who did it.
    TakenBack {
        /// The first record of what was taken back.
        first: RecordNo,
        /// The surface it was about.
        tag: Tag,
        /// A nurse was called again for the low reading that stands again.
        #[serde(default, skip_serializing_if = "is_default")]
        called: bool,
    },
    /// Somebody will be called, once it is time.
    Booked {
        /// About what.
        on: On,
        /// What for.
        call: Call,
        /// When.
        due: DateTime<Utc>,
    },
    /// Nobody needs to be called for it any more.
    Unbooked {
        /// About what.
        on: On,
        /// What for.
        call: Call,
    },
    /// Somebody was called, because it was time.
    Called {
        /// About what.
        on: On,
        /// What for.
        call: Call,
        /// The first time, or a later one.
        step: u32,
        /// When somebody is called again, if ever.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        again: Option<DateTime<Utc>>,
    },
    /// A checklist at a bed was opened; one that was open before is replaced.
    StepsOpened {
        /// The surface.
        tag: Tag,
        /// Why.
        opening: Opening,
        /// What is to be done, in order.
        steps: Vec<Step>,
    },
    /// Things on the checklist are done.
    StepsDone {
        /// The surface.
        tag: Tag,
        /// Which.
        steps: Vec<Step>,
    },
    /// One thing on the checklist is not right yet.
    StepMissed {
        /// The surface.
        tag: Tag,
        /// Which.
        step: Step,
    },
    /// It fills.
    FillBegan {
        /// The surface.
        tag: Tag,
        /// When it should be full.
        full: DateTime<Utc>,
    },
    /// The setting in use, as the panel shows it.
    SettingSet {
        /// The surface.
        tag: Tag,
        /// The setting.
        setting: String,
    },
    /// A surface went to another bed with the resident aboard.
    Moved {
        /// The surface.
        tag: Tag,
        /// The bed it is under now.
        bed: Bed,
    },
    /// It was plugged in again.
    PluggedIn {
        /// The surface.
        tag: Tag,
        /// How long it had no power, in minutes.
        minutes: u16,
    },
    /// The bed is empty for a time; its surface stays.
    LeaveBegan {
        /// The surface.
        tag: Tag,
        /// Why.
        why: LeaveWhy,
        /// Until when. From then on it counts as occupied.
        until: DateTime<Utc>,
    },
    /// The resident is back in bed.
    LeaveEnded {
        /// The surface.
        tag: Tag,
    },
    /// Static mode for care or transfer.
    StaticBegan {
        /// The surface.
        tag: Tag,
        /// Until when.
        until: DateTime<Utc>,
    },
    /// It alternates again.
    StaticEnded {
        /// The surface.
        tag: Tag,
    },
    /// The CPR valve was opened.
    CprOpened {
        /// The surface.
        tag: Tag,
    },
    /// The emergency is over.
    CprOver {
        /// The surface.
        tag: Tag,
    },
    /// What a turnover must show before the surface is ready.
    TurnoverOpened {
        /// The surface.
        tag: Tag,
        /// What, in order.
        steps: Vec<TurnStep>,
    },
    /// A turnover showed something.
    TurnShown {
        /// The surface.
        tag: Tag,
        /// What.
        step: TurnStep,
    },
    /// What a turnover had shown no longer holds.
    TurnUndone {
        /// The surface.
        tag: Tag,
        /// What.
        steps: Vec<TurnStep>,
    },
    /// A disinfectant works until then.
    ContactBegan {
        /// The surface.
        tag: Tag,
        /// Until when it must stay wet.
        until: DateTime<Utc>,
    },
    /// Clean, whole, working: it may be placed.
    Readied {
        /// The surface.
        tag: Tag,
    },
    /// A nurse placed it although papers were missing.
    PaperWaived {
        /// The surface.
        tag: Tag,
        /// Which.
        papers: Vec<Paper>,
    },
    /// A surface is to be cleaned last and with a sporicide only, or no longer.
    Marked {
        /// The surface.
        tag: Tag,
        /// Whether it is.
        clean_last: bool,
    },
    /// A disinfectant came onto the home's list, or changed.
    ProductSet {
        /// Its name.
        name: ProductName,
        /// What kind it is.
        method: Method,
        /// How long it must stay wet, in minutes.
        contact_minutes: u16,
        /// Whether its label says that it kills spores.
        sporicidal: bool,
    },
    /// A disinfectant left the home's list.
    ProductDropped {
        /// Its name.
        name: ProductName,
    },
    /// Where surfaces stand that are not under a bed.
    StorageSet {
        /// The place for those that are to be cleaned.
        dirty: String,
        /// The place for those that are ready.
        clean: String,
    },
    /// It was repaired, or looked through and found whole.
    Repaired {
        /// The surface.
        tag: Tag,
    },
    /// It may go back into service, once its turnover is done.
    Returned {
        /// The surface.
        tag: Tag,
    },
    /// Kept untouched for an inquiry.
    Held {
        /// The surface.
        tag: Tag,
        /// The day on which somebody of the home first knew of the injury; that of the hold if none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        known: Option<NaiveDate>,
    },
    /// The injury was reported to those who must know.
    HoldReported {
        /// The surface.
        tag: Tag,
    },
    /// The inquiry is done with it.
    HoldReleased {
        /// The surface.
        tag: Tag,
    },
    /// A profile, or one lot of it, was recalled.
    RecallOpened {
        /// The profile.
        profile: ProfileName,
        /// The lot; all of them if none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lot: Option<String>,
        /// The surfaces found.
        tags: Vec<Tag>,
    },
    /// A surface of a recalled lot came into the register later.
    RecallJoined {
        /// The recall.
        recall: RecallNo,
        /// The surface.
        tag: Tag,
    },
    /// What is known of the beds' frames. What is left out stays as it was.
    FrameSet {
        /// The beds.
        beds: Vec<Bed>,
        /// The width of the deck, in tenths of a millimetre.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        width: Option<Tenths>,
        /// The length of the deck, in tenths of a millimetre.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        length: Option<Tenths>,
        /// The rails.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        rails: Option<Rails>,
        /// The wall outlet.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        outlet: Option<Outlet>,
        /// The day the outlet was last tested.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        outlet_tested: Option<NaiveDate>,
        /// The day the outlet failed its test.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        outlet_failed: Option<NaiveDate>,
        /// The profiles approved for the frame and its rails; an empty list approves all.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        approved: Option<Vec<ProfileName>>,
    },
    /// The gaps of a bed were measured.
    ZonesMeasured {
        /// The bed.
        bed: Bed,
        /// The surface that was there.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        tag: Option<Tag>,
        /// The readings, as they were judged.
        gaps: Vec<GapReading>,
        /// The angle at zone 4, in degrees.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        angle4: Option<u16>,
    },
    /// Something was done at once about a gap over the limit; a licensed assessment is still due.
    ZonesActed {
        /// The bed.
        bed: Bed,
        /// What; entries from before there was a list do not say.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        did: Option<GapAct>,
    },
    /// Work that leaves a paper was done.
    Serviced {
        /// The surface.
        tag: Tag,
        /// Which.
        work: Work,
        /// How it came out.
        outcome: Outcome,
        /// The day it was done.
        on: NaiveDate,
        /// The day of the next, where it is not a rule that says so.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        next: Option<NaiveDate>,
    },
    /// A unit has no power.
    OutageOpened {
        /// The unit.
        unit: Unit,
        /// Its surfaces, in the order in which they are looked at.
        order: Vec<Tag>,
        /// Since when whoever said so is let in no more: they may still say so.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        shift_over: Option<DateTime<Utc>>,
    },
    /// Somebody calls the roll.
    OutageTaken {
        /// Which.
        outage: OutageNo,
    },
    /// The roll is called again, in this order.
    OutageRolled {
        /// Which.
        outage: OutageNo,
        /// Its surfaces, in the order in which they are looked at.
        order: Vec<Tag>,
    },
    /// A surface was looked at.
    OutageSeen {
        /// Which.
        outage: OutageNo,
        /// The surface.
        tag: Tag,
        /// How it stands.
        roll: Roll,
    },
    /// Somebody was asked, because the roll was not finished.
    OutageAsked {
        /// Which.
        outage: OutageNo,
        /// Rung 1 to 3, then repeats from 4.
        rung: u32,
    },
    /// Somebody called the roll, but did not finish it in the promised time: its ladder begins again.
    OutageRestarted {
        /// Which.
        outage: OutageNo,
    },
    /// Power is back.
    OutageEnded {
        /// Which.
        outage: OutageNo,
    },
    /// A rented surface began to cost.
    RentalStarted {
        /// The surface.
        tag: Tag,
        /// What it costs a day, in cents.
        daily_cents: i64,
        /// The vendor's number for the rental.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reference: Option<String>,
    },
    /// A rented surface was looked through when it came.
    RentalArrived {
        /// The surface.
        tag: Tag,
        /// Whether it was clean, whole, complete and working.
        outcome: Outcome,
    },
    /// The vendor was asked to fetch it.
    PickupCalled {
        /// The surface.
        tag: Tag,
    },
    /// The vendor confirmed that it costs nothing from now on.
    PickupConfirmed {
        /// The surface.
        tag: Tag,
        /// The vendor's number for the pickup.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reference: Option<String>,
    },
    /// The vendor has fetched it.
    Collected {
        /// The surface.
        tag: Tag,
    },
    /// So many are on the shelf.
    StockCounted {
        /// Of what.
        item: Item,
        /// How many.
        count: u32,
    },
    /// Some were used, or put back where it was a mistake.
    StockUsed {
        /// Of what.
        item: Item,
        /// How many; below zero for those put back.
        count: i32,
        /// Somebody was asked to order more because of it.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        order: bool,
    },
    /// Somebody from outside was let in for a shift; what was said of them before holds no more.
    LetIn {
        /// Who.
        person: Person,
        /// As what.
        stand: Stand,
        /// Until when.
        until: DateTime<Utc>,
        /// The unit they work in.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        unit: Option<Unit>,
    },
    /// That ended before its time.
    LetInEnded {
        /// Who.
        person: Person,
    },
    /// Whoever entered this has read what somebody new must know.
    PrimerRead {},
    /// Somebody may do a task on surfaces of one profile without being looked after.
    SignedOff {
        /// Who.
        person: Person,
        /// For what.
        task: Task,
        /// On which surfaces.
        profile: ProfileName,
        /// The last day on which it holds.
        renew: NaiveDate,
    },
    /// That ended before its time.
    SignOffEnded {
        /// Who.
        person: Person,
        /// For what.
        task: Task,
        /// On which surfaces.
        profile: ProfileName,
    },
    /// An entry is kept, and somebody else is to look.
    SecondCheckWanted {
        /// The surface.
        tag: Tag,
        /// What was done.
        task: Task,
        /// The entry.
        entry: RecordNo,
    },
    /// Somebody else looked, and it is right; or entered it anew.
    SecondChecked {
        /// The surface.
        tag: Tag,
        /// What was done.
        task: Task,
        /// The entry that was looked at.
        entry: RecordNo,
        /// The new entry, where there is one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        anew: Option<RecordNo>,
    },
    /// Supervisors were told that a round was entered faster than hands can move, and how that was computed.
    PaceSaid {
        /// Who entered it.
        person: Person,
        /// The unit.
        unit: Unit,
        /// How many checks in a row.
        checks: u32,
        /// From the first to the last, in milliseconds.
        lasted_ms: u64,
        /// The middle one of the times between two checks, in milliseconds.
        middle_ms: u64,
        /// The home's figure, in seconds.
        limit: u16,
    },
    /// Somebody has a unit, in the role of this record.
    DutyTaken {
        /// The unit; the whole house if none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        unit: Option<Unit>,
        /// Until when.
        until: DateTime<Utc>,
    },
    /// Somebody has it no longer.
    DutyEnded {
        /// The unit; the whole house if none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        unit: Option<Unit>,
        /// Who had it, where somebody else says so.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        of: Option<Person>,
    },
    /// It was looked at who has which unit in a shift that had begun.
    ClaimsLooked {
        /// When the shift began.
        shift: DateTime<Utc>,
        /// The units that nobody had: the supervisors were told.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        unclaimed: Vec<Unit>,
    },
    /// It was looked at which units' rounds had been made in a shift that had begun.
    RoundsLooked {
        /// When the shift began.
        shift: DateTime<Utc>,
        /// The units whose checks had not been made: the supervisors were told.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        missed: Vec<Unit>,
    },
    /// A handover was posted.
    HandoverMade {
        /// The unit; all of them if none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        unit: Option<Unit>,
        /// When the shift that hands over began.
        shift: DateTime<Utc>,
    },
    /// The next shift accepted it.
    HandoverAccepted {
        /// Which.
        handover: HandoverNo,
    },
    /// Somebody was called; their phones rang.
    Told {
        /// About what.
        on: On,
        /// Everybody who holds these roles in the chat.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        roles: Vec<Role>,
        /// People who were on duty, in the role in which they were called.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        people: Vec<(Person, Role)>,
    },
    /// Whom to phone when nobody answers, in the home's own words.
    PhoneSet {
        /// Words and number; none if there is none any more.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        words: Option<String>,
    },
    /// Who made an entry says how it should have read, and in the note why. The entry stays as it was.
    Amended {
        /// The entry.
        entry: RecordNo,
        /// The surface that it was about until now.
        tag: Tag,
        /// How it reads now; none where it was entered by mistake.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        now: Option<Box<Body>>,
        /// When it happened, as it reads now.
        happened: DateTime<Utc>,
        /// What now stands of each surface that it was, or is, about.
        stands: Vec<Stands>,
    },
    /// Somebody remarks on an entry, in the note.
    Annotated {
        /// The entry.
        entry: RecordNo,
        /// The surface that it is about.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        tag: Option<Tag>,
        /// The remark that this one takes back; it says nothing else then.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        undoes: Option<RecordNo>,
    },
    /// The note of a record was erased from the file, because it held what it should not; the record stays.
    NoteErased {
        /// The record.
        of: RecordNo,
        /// The first record of what brought that about: the same words beside another of them went too.
        first: RecordNo,
        /// The surface that it is about.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        tag: Option<Tag>,
    },
    /// A supervisor signs an entry of somebody else, as it reads at this moment.
    Countersigned {
        /// The entry.
        entry: RecordNo,
        /// The surface that it is about.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        tag: Option<Tag>,
        /// The newest record about it that was seen.
        seen: RecordNo,
    },
    /// Somebody says what is to become of a surface whose readings trend lower.
    LoftAnswered {
        /// The surface.
        tag: Tag,
        /// What was found, or that it waits.
        answer: LoftAnswer,
        /// Until when it waits.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        until: Option<DateTime<Utc>>,
        /// What was found, where it was mended.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        cause: Option<Cause>,
    },
    /// A schedule's slot was posted.
    SlotFired {
        /// The schedule.
        name: ScheduleName,
        /// The slot, in local time.
        slot: NaiveDateTime,
        /// How many older ones were missed and are not posted.
        missed: u32,
    },
    /// loftwatch was away.
    Away {
        /// From.
        from: DateTime<Utc>,
        /// To.
        to: DateTime<Utc>,
    },
    /// The computer's clock was stepped while it counted. Moments of before read as that clock had it.
    ClockStepped {
        /// How far it went forward; below 0 if it was set back.
        seconds: i64,
    },
}

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// What stands of a surface after an entry about it was corrected: what an entry that had read so from the first would
/// have left. The fold keeps no history, so the record brings along what moves up into a gap.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stands {
    /// The surface.
    pub tag: Tag,
    /// The part of it that the entry is about.
    pub what: Standing,
    /// What becomes of a check that is booked out of turn.
    #[serde(default, skip_serializing_if = "is_default")]
    pub recheck: Rebook,
}

/// A part of what is kept of a surface.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// Its newest checks, oldest first.
    Checks {
        /// As many as are kept.
        newest: Vec<CheckFact>,
        /// Those of its readings that can be compared, oldest first; none in records from before they were kept, after
        /// which such a line begins anew.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        line: Vec<Reading>,
    },
    /// Its filter.
    Filter {
        /// The newest look.
        last: Option<FilterFact>,
        /// The day it was last changed or rinsed.
        changed: Option<NaiveDate>,
        /// The day it was last changed, whatever was rinsed since.
        #[serde(default, skip_serializing_if = "is_default")]
        new: New,
        /// The looks that are kept; records from before they were say nothing of them.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        looks: Option<FilterLooks>,
    },
    /// Its newest cleaning.
    Cleaned {
        /// It.
        last: Option<CleanFact>,
    },
}

/// The day a filter was new.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum New {
    /// Records from before a rinse and a change were told apart say nothing of it.
    #[default]
    Unsaid,
    /// Nobody said.
    Unknown,
    /// This day.
    On(NaiveDate),
}

impl New {
    /// The day, where it is known.
    #[must_use]
    pub fn day(self) -> Option<NaiveDate> {
        match self {
            Self::Unsaid | Self::Unknown => None,
            Self::On(day) => Some(day),
        }
    }
}

impl From<Option<NaiveDate>> for New {
    fn from(day: Option<NaiveDate>) -> Self {
        day.map_or(Self::Unknown, Self::On)
    }
}

/// What becomes of a check that is booked out of turn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rebook {
    /// It stays as it is.
    #[default]
    Stays,
    /// Nothing is booked any more.
    Drops,
    /// It is then.
    At(DateTime<Utc>),
}

/// What a call is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum On {
    /// A surface.
    Surface(Tag),
    /// A recall.
    Recall(RecallNo),
    /// A power failure.
    Outage(OutageNo),
    /// A unit.
    Unit(Unit),
    /// A change that waits for a supervisor, by the record that asked for it.
    Wish(RecordNo),
}

/// A change that an admin asks for and a supervisor must agree to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "of", rename_all = "kebab-case")]
pub enum Wish {
    /// A clinical policy.
    Policy {
        /// Its name.
        name: String,
        /// The wished value.
        value: i64,
    },
    /// Another ladder, in minutes.
    Ladder {
        /// From opening to the first rung.
        first: u16,
        /// From opening to the second rung.
        second: u16,
        /// From opening to the third rung.
        third: u16,
        /// Between pings after that.
        repeat: u16,
    },
    /// A list that would come less often, or no more.
    Schedule {
        /// What it posts.
        what: What,
        /// For one unit, or for all.
        unit: Option<Unit>,
        /// The wished pattern in its canonical text; none for never.
        when: Option<String>,
    },
    /// A disinfectant of the list.
    Product {
        /// Its name.
        name: ProductName,
        /// What kind it is.
        method: Method,
        /// How long it must stay wet, in minutes.
        contact_minutes: u16,
        /// Whether it kills spores.
        sporicidal: bool,
    },
    /// What may lie on frames.
    Approved {
        /// The beds.
        beds: Vec<Bed>,
        /// The profiles; all of them if none.
        profiles: Vec<ProfileName>,
    },
    /// A disinfectant off the list.
    ProductOff {
        /// Its name.
        name: ProductName,
    },
    /// Other chat roles for nurses or supervisors.
    Roles {
        /// Ours to the chat's; those that stay are not named.
        roles: BTreeMap<Role, ChatRole>,
    },
    /// Another reading of a profile that surfaces in the register have.
    Profile {
        /// As it would be.
        profile: Box<Profile>,
    },
}

named_enum! {
    /// How a wish was settled.
    pub enum WishEnd {
        /// A supervisor agreed.
        Agreed = "agreed",
        /// A supervisor did not.
        Declined = "declined",
        /// Nobody answered in time.
        Expired = "expired",
        /// Whoever asked for it took it back.
        Withdrawn = "withdrawn",
        /// It was set anew meanwhile.
        Overtaken = "overtaken",
    }
}

/// One gap as it was measured and judged.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct GapReading {
    /// The zone, 1 to 7.
    pub zone: u8,
    /// The reading.
    pub gap: Tenths,
    /// Whether it is over the limit.
    pub over: bool,
}

/// Which promise was not kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Overrun {
    /// Nobody said that the resident is safe.
    NotSafe,
    /// It was not fixed.
    NotFixed,
}

/// How an alarm ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AlarmEnd {
    /// The cause was put right and the check was adequate.
    Fixed,
    /// The surface is out of service and under nobody.
    OutOfService,
    /// The surface was released from the bed.
    Released,
    /// It was entered by mistake and taken back.
    TakenBack,
    /// It was said of the wrong surface; the right one has an alarm of its own.
    WrongTag,
}

/// How an alarm came to be known that nobody heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Found {
    /// Since when it was so, as far as anybody knows.
    pub since: Option<DateTime<Utc>>,
}

named_enum! {
    /// Why a surface is out of service.
    pub enum Fault {
        /// An alarm could not be put right.
        Alarm = "alarm",
        /// The cover is damaged.
        Cover = "cover",
        /// Wet or stained inside.
        WetInside = "wet-inside",
        /// The filter or its housing is damaged.
        Filter = "filter",
        /// The control unit.
        ControlUnit = "control-unit",
        /// The power cord or plug.
        Cord = "cord",
        /// A hose or its connector.
        Hose = "hose",
        /// A cell leaks.
        Leak = "leak",
        /// The CPR valve.
        CprValve = "cpr-valve",
        /// It failed a test of safety or maintenance.
        Test = "test",
        /// The maker recalled it.
        Recall = "recall",
        /// It is kept for an inquiry.
        Inquiry = "inquiry",
        /// It was rented and did not arrive as it should.
        Arrival = "arrival",
        /// Something else.
        Other = "other",
    }
}

/// What one make-and-model needs, from the maker's own instructions as the facility typed them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Profile {
    /// Its name.
    pub name: ProfileName,
    /// Overlay, replacement or integrated.
    pub class: Class,
    /// What it does.
    pub kind: Kind,
    /// Which check the maker wants.
    pub check: Check,
    /// Where the setting stands for the first fill.
    pub first_fill: FirstFill,
    /// Minutes until it is full.
    pub fill_minutes: u16,
    /// What can be done with its filter.
    pub filter: FilterKind,
    /// Days between two looks at it.
    pub filter_check_days: u16,
    /// The maker's limit for its age in days.
    pub filter_max_days: u16,
    /// Width in tenths of a millimetre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Option<Tenths>,
    /// Length in tenths of a millimetre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Tenths>,
    /// The weight it carries, in pounds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub capacity_lb: Option<u16>,
    /// The maker's table: up to this weight in pounds, this setting.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub settings: Vec<(u16, String)>,
    /// The maker's own band for the hand check; the facility's if none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band: Option<Band>,
    /// How long it holds its air without power, in minutes, as the maker says; unknown if none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds_minutes: Option<u16>,
    /// Whether the maker lets the home open the cover and look inside; taken to be so if nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cover_opens: Option<bool>,
    /// Days between two of the maker's maintenances.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub service_days: Option<u16>,
}

/// A record that this program cannot read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    /// It was written by a newer program.
    #[error(
        "the record was written in version {0} of the log's language; this program knows {BODY_VERSION}"
    )]
    Newer(u32),
    /// Its bytes are not a record.
    #[error("the record's bytes are not a record: {0}")]
    Garbled(String),
}

/// What is wrong with bytes that should be JSON, and where. The reader's own words quote what stands there, which somebody may have
/// typed, and these words reach the log.
#[must_use]
pub fn where_unreadable(fault: &serde_json::Error) -> String {
    let what = match fault.classify() {
        Category::Io => "they cannot be read",
        Category::Syntax => "they are no JSON",
        Category::Data => "they are JSON of something else",
        Category::Eof => "they end too early",
    };
    format!(
        "{what}, at byte {} of line {}",
        fault.column(),
        fault.line()
    )
}

impl Body {
    /// The body as bytes, in [`BODY_VERSION`].
    ///
    /// # Panics
    /// Never: every body is plain data, which a test writes out variant by variant.
    pub fn encode(&self) -> Vec<u8> {
        serde_json::to_vec(self).expect("a body is plain data")
    }

    /// Reads what [`Body::encode`] of this or an earlier version wrote.
    ///
    /// # Errors
    /// [`Unreadable`] when the version is newer than ours or the bytes are not a body.
    pub fn decode(version: u32, bytes: &[u8]) -> Result<Self, Unreadable> {
        if version > BODY_VERSION {
            return Err(Unreadable::Newer(version));
        }
        serde_json::from_slice(bytes).map_err(|fault| Unreadable::Garbled(where_unreadable(&fault)))
    }

    /// The word that names the variant in the file, for analysts and views.
    pub fn kind(&self) -> &'static str {
        match self {
            Body::FacilitySet { .. } => "facility-set",
            Body::UnitSet { .. } => "unit-set",
            Body::UnitDropped { .. } => "unit-dropped",
            Body::ScheduleSet { .. } => "schedule-set",
            Body::LadderSet { .. } => "ladder-set",
            Body::LadderAsked { .. } => "ladder-asked",
            Body::PolicySet { .. } => "policy-set",
            Body::PolicyAsked { .. } => "policy-asked",
            Body::WishAsked { .. } => "wish-asked",
            Body::WishEnded { .. } => "wish-ended",
            Body::ScheduleDropped { .. } => "schedule-dropped",
            Body::BedsApproved { .. } => "beds-approved",
            Body::ProfileSet(_) => "profile-set",
            Body::SurfaceAdded { .. } => "surface-added",
            Body::SurfaceBroughtBack { .. } => "surface-brought-back",
            Body::SurfaceRetired { .. } => "surface-retired",
            Body::Placed { .. } => "placed",
            Body::Released { .. } => "released",
            Body::HandChecked { .. } => "hand-checked",
            Body::RecheckAsked { .. } => "recheck-asked",
            Body::AlarmOpened { .. } => "alarm-opened",
            Body::AlarmNamed { .. } => "alarm-named",
            Body::AlarmTaken { .. } => "alarm-taken",
            Body::ResidentSafe { .. } => "resident-safe",
            Body::AlarmGivenUp { .. } => "alarm-given-up",
            Body::NotSafeYet { .. } => "not-safe-yet",
            Body::AlarmAsked { .. } => "alarm-asked",
            Body::LadderRestarted { .. } => "ladder-restarted",
            Body::AlarmCause { .. } => "alarm-cause",
            Body::AlarmClosed { .. } => "alarm-closed",
            Body::FilterLooked { .. } => "filter-looked",
            Body::Cleaned { .. } => "cleaned",
            Body::FunctionShown { .. } => "function-shown",
            Body::Pulled { .. } => "pulled",
            Body::TakenBack { .. } => "taken-back",
            Body::Booked { .. } => "booked",
            Body::Unbooked { .. } => "unbooked",
            Body::Called { .. } => "called",
            Body::StepsOpened { .. } => "steps-opened",
            Body::StepsDone { .. } => "steps-done",
            Body::StepMissed { .. } => "step-missed",
            Body::FillBegan { .. } => "fill-began",
            Body::SettingSet { .. } => "setting-set",
            Body::Moved { .. } => "moved",
            Body::PluggedIn { .. } => "plugged-in",
            Body::LeaveBegan { .. } => "leave-began",
            Body::LeaveEnded { .. } => "leave-ended",
            Body::StaticBegan { .. } => "static-began",
            Body::StaticEnded { .. } => "static-ended",
            Body::CprOpened { .. } => "cpr-opened",
            Body::CprOver { .. } => "cpr-over",
            Body::TurnoverOpened { .. } => "turnover-opened",
            Body::TurnShown { .. } => "turn-shown",
            Body::TurnUndone { .. } => "turn-undone",
            Body::ContactBegan { .. } => "contact-began",
            Body::Readied { .. } => "readied",
            Body::PaperWaived { .. } => "paper-waived",
            Body::Marked { .. } => "marked",
            Body::ProductSet { .. } => "product-set",
            Body::ProductDropped { .. } => "product-dropped",
            Body::StorageSet { .. } => "storage-set",
            Body::Repaired { .. } => "repaired",
            Body::Returned { .. } => "returned",
            Body::Held { .. } => "held",
            Body::HoldReported { .. } => "hold-reported",
            Body::HoldReleased { .. } => "hold-released",
            Body::RecallOpened { .. } => "recall-opened",
            Body::RecallJoined { .. } => "recall-joined",
            Body::FrameSet { .. } => "frame-set",
            Body::ZonesMeasured { .. } => "zones-measured",
            Body::ZonesActed { .. } => "zones-acted",
            Body::Serviced { .. } => "serviced",
            Body::OutageOpened { .. } => "outage-opened",
            Body::OutageTaken { .. } => "outage-taken",
            Body::OutageRolled { .. } => "outage-rolled",
            Body::OutageSeen { .. } => "outage-seen",
            Body::OutageAsked { .. } => "outage-asked",
            Body::OutageRestarted { .. } => "outage-restarted",
            Body::OutageEnded { .. } => "outage-ended",
            Body::RentalStarted { .. } => "rental-started",
            Body::RentalArrived { .. } => "rental-arrived",
            Body::PickupCalled { .. } => "pickup-called",
            Body::PickupConfirmed { .. } => "pickup-confirmed",
            Body::Collected { .. } => "collected",
            Body::StockCounted { .. } => "stock-counted",
            Body::StockUsed { .. } => "stock-used",
            Body::LetIn { .. } => "let-in",
            Body::LetInEnded { .. } => "let-in-ended",
            Body::PrimerRead {} => "primer-read",
            Body::SignedOff { .. } => "signed-off",
            Body::SignOffEnded { .. } => "sign-off-ended",
            Body::SecondCheckWanted { .. } => "second-check-wanted",
            Body::SecondChecked { .. } => "second-checked",
            Body::PaceSaid { .. } => "pace-said",
            Body::DutyTaken { .. } => "duty-taken",
            Body::DutyEnded { .. } => "duty-ended",
            Body::ClaimsLooked { .. } => "claims-looked",
            Body::RoundsLooked { .. } => "rounds-looked",
            Body::HandoverMade { .. } => "handover-made",
            Body::HandoverAccepted { .. } => "handover-accepted",
            Body::Told { .. } => "told",
            Body::PhoneSet { .. } => "phone-set",
            Body::Amended { .. } => "amended",
            Body::Annotated { .. } => "annotated",
            Body::Countersigned { .. } => "countersigned",
            Body::NoteErased { .. } => "note-erased",
            Body::LoftAnswered { .. } => "loft-answered",
            Body::SlotFired { .. } => "slot-fired",
            Body::Away { .. } => "away",
            Body::ClockStepped { .. } => "clock-stepped",
        }
    }

    /// The surface that the fact is about, where it names one itself.
    pub fn surface(&self) -> Option<&Tag> {
        match self {
            Body::SurfaceAdded { tag, .. }
            | Body::SurfaceRetired { tag }
            | Body::SurfaceBroughtBack { tag, .. }
            | Body::Placed { tag, .. }
            | Body::Released { tag, .. }
            | Body::HandChecked { tag, .. }
            | Body::RecheckAsked { tag, .. }
            | Body::AlarmOpened { tag, .. }
            | Body::FilterLooked { tag, .. }
            | Body::Cleaned { tag, .. }
            | Body::FunctionShown { tag }
            | Body::Pulled { tag, .. }
            | Body::StepsOpened { tag, .. }
            | Body::StepsDone { tag, .. }
            | Body::StepMissed { tag, .. }
            | Body::FillBegan { tag, .. }
            | Body::SettingSet { tag, .. }
            | Body::Moved { tag, .. }
            | Body::PluggedIn { tag, .. }
            | Body::LeaveBegan { tag, .. }
            | Body::LeaveEnded { tag, .. }
            | Body::StaticBegan { tag, .. }
            | Body::StaticEnded { tag, .. }
            | Body::CprOpened { tag, .. }
            | Body::CprOver { tag, .. }
            | Body::TurnoverOpened { tag, .. }
            | Body::TurnShown { tag, .. }
            | Body::TurnUndone { tag, .. }
            | Body::ContactBegan { tag, .. }
            | Body::Readied { tag, .. }
            | Body::PaperWaived { tag, .. }
            | Body::Marked { tag, .. }
            | Body::Repaired { tag, .. }
            | Body::Returned { tag, .. }
            | Body::Held { tag, .. }
            | Body::HoldReported { tag, .. }
            | Body::HoldReleased { tag, .. }
            | Body::RecallJoined { tag, .. }
            | Body::Serviced { tag, .. }
            | Body::OutageSeen { tag, .. }
            | Body::RentalStarted { tag, .. }
            | Body::RentalArrived { tag, .. }
            | Body::PickupCalled { tag, .. }
            | Body::PickupConfirmed { tag, .. }
            | Body::Collected { tag, .. }
            | Body::SecondCheckWanted { tag, .. }
            | Body::SecondChecked { tag, .. }
            | Body::Amended { tag, .. }
            | Body::LoftAnswered { tag, .. }
            | Body::TakenBack { tag, .. } => Some(tag),
            Body::ZonesMeasured { tag, .. }
            | Body::Annotated { tag, .. }
            | Body::Countersigned { tag, .. }
            | Body::NoteErased { tag, .. } => tag.as_ref(),
            Body::Booked { on, .. }
            | Body::Unbooked { on, .. }
            | Body::Called { on, .. }
            | Body::Told { on, .. } => match on {
                On::Surface(tag) => Some(tag),
                On::Recall(_) | On::Outage(_) | On::Unit(_) | On::Wish(_) => None,
            },
            Body::FacilitySet { .. }
            | Body::UnitSet { .. }
            | Body::UnitDropped { .. }
            | Body::ScheduleSet { .. }
            | Body::LadderSet { .. }
            | Body::LadderAsked { .. }
            | Body::PolicySet { .. }
            | Body::PolicyAsked { .. }
            | Body::WishAsked { .. }
            | Body::WishEnded { .. }
            | Body::ScheduleDropped { .. }
            | Body::BedsApproved { .. }
            | Body::ProfileSet(_)
            | Body::AlarmNamed { .. }
            | Body::AlarmTaken { .. }
            | Body::ResidentSafe { .. }
            | Body::AlarmGivenUp { .. }
            | Body::NotSafeYet { .. }
            | Body::AlarmAsked { .. }
            | Body::LadderRestarted { .. }
            | Body::AlarmCause { .. }
            | Body::AlarmClosed { .. }
            | Body::ProductSet { .. }
            | Body::ProductDropped { .. }
            | Body::StorageSet { .. }
            | Body::RecallOpened { .. }
            | Body::FrameSet { .. }
            | Body::ZonesActed { .. }
            | Body::OutageOpened { .. }
            | Body::OutageTaken { .. }
            | Body::OutageRolled { .. }
            | Body::OutageAsked { .. }
            | Body::OutageRestarted { .. }
            | Body::OutageEnded { .. }
            | Body::StockCounted { .. }
            | Body::StockUsed { .. }
            | Body::LetIn { .. }
            | Body::LetInEnded { .. }
            | Body::PrimerRead {}
            | Body::SignedOff { .. }
            | Body::SignOffEnded { .. }
            | Body::PaceSaid { .. }
            | Body::DutyTaken { .. }
            | Body::DutyEnded { .. }
            | Body::ClaimsLooked { .. }
            | Body::RoundsLooked { .. }
            | Body::HandoverMade { .. }
            | Body::HandoverAccepted { .. }
            | Body::PhoneSet { .. }
            | Body::SlotFired { .. }
            | Body::Away { .. }
            | Body::ClockStepped { .. } => None,
        }
    }

    /// The alarm that the fact is about, where it does not open it.
    pub fn alarm(&self) -> Option<AlarmNo> {
        if let Body::AlarmNamed { alarm, .. }
        | Body::AlarmTaken { alarm }
        | Body::ResidentSafe { alarm }
        | Body::AlarmGivenUp { alarm }
        | Body::NotSafeYet { alarm }
        | Body::AlarmAsked { alarm, .. }
        | Body::LadderRestarted { alarm, .. }
        | Body::AlarmCause { alarm, .. }
        | Body::AlarmClosed { alarm, .. } = self
        {
            return Some(*alarm);
        }
        None
    }

    /// The beds that the fact is about, where it is about beds.
    pub fn beds(&self) -> &[Bed] {
        if let Body::Placed { bed, .. }
        | Body::Moved { bed, .. }
        | Body::ZonesMeasured { bed, .. }
        | Body::ZonesActed { bed, .. } = self
        {
            return std::slice::from_ref(bed);
        }
        if let Body::FrameSet { beds, .. } = self {
            return beds;
        }
        &[]
    }

    /// Whether its author can say how it should have read: what was seen at a surface, and no step of something that
    /// other records build on.
    pub fn can_be_corrected(&self) -> bool {
        matches!(
            self,
            Body::HandChecked { .. } | Body::FilterLooked { .. } | Body::Cleaned { .. }
        )
    }

    /// The earlier record that this one corrects, remarks on or takes back.
    pub fn amends(&self) -> Option<RecordNo> {
        if let Body::TakenBack { first: of, .. }
        | Body::Amended { entry: of, .. }
        | Body::Annotated { entry: of, .. }
        | Body::Countersigned { entry: of, .. } = self
        {
            return Some(*of);
        }
        None
    }
}
