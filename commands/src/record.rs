//! Every fact that a facility's log can hold. Decides the facts and how they are written as bytes;
//! leaves what follows from them to [`crate::state`], and the numbering, the notes and the chain to `store`.
//!
//! A body once written is never changed in meaning: a new shape is a new variant, or a new field with
//! a default. `tests/logs` keeps logs of every earlier version, and each must still open.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};
use serde::{Deserialize, Serialize};

use crate::choice::{
    Action, Cause, Cleaning, Cover, FilterKind, Finding, FirstFill, Method, Mode, Owned, Position,
    ReleaseReason, Site, Start, What,
};
use crate::ids::{
    AlarmNo, Bed, Channel, ChatRole, Person, ProfileName, RecordNo, ScheduleName, Tag, Unit,
};
use crate::role::Role;
use crate::rules::air::Tenths;
use crate::rules::hand_check::{Air, Band, Check, Class, Judgement, Kind};
use crate::rules::priority::{AlarmKind, Priority};

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
    },
    /// A surface left for good.
    SurfaceRetired {
        /// The surface.
        tag: Tag,
    },
    /// A surface went under a bed.
    Placed {
        /// The surface.
        tag: Tag,
        /// The bed.
        bed: Bed,
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
    },
    /// Somebody was asked for a recheck that had not come.
    RecheckAsked {
        /// The surface.
        tag: Tag,
        /// First or second time.
        step: u8,
    },
    /// An alarm began.
    AlarmOpened {
        /// The surface.
        tag: Tag,
        /// What it is, as far as known.
        kind: AlarmKind,
        /// By the table.
        priority: Priority,
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
    },
    /// A filter was looked at.
    FilterLooked {
        /// The surface.
        tag: Tag,
        /// What was found.
        finding: Finding,
        /// What was done.
        action: Action,
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
}

/// Why a surface is out of service.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fault {
    /// An alarm could not be put right.
    Alarm,
    /// The cover is damaged.
    Cover,
    /// Wet or stained inside.
    WetInside,
    /// The filter or its housing is damaged.
    Filter,
    /// Something else.
    Other,
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
        serde_json::from_slice(bytes).map_err(|fault| Unreadable::Garbled(fault.to_string()))
    }

    /// The word that names the variant in the file, for analysts and views.
    pub fn kind(&self) -> &'static str {
        match self {
            Body::FacilitySet { .. } => "facility-set",
            Body::UnitSet { .. } => "unit-set",
            Body::ScheduleSet { .. } => "schedule-set",
            Body::LadderSet { .. } => "ladder-set",
            Body::LadderAsked { .. } => "ladder-asked",
            Body::PolicySet { .. } => "policy-set",
            Body::PolicyAsked { .. } => "policy-asked",
            Body::ProfileSet(_) => "profile-set",
            Body::SurfaceAdded { .. } => "surface-added",
            Body::SurfaceRetired { .. } => "surface-retired",
            Body::Placed { .. } => "placed",
            Body::Released { .. } => "released",
            Body::HandChecked { .. } => "hand-checked",
            Body::RecheckAsked { .. } => "recheck-asked",
            Body::AlarmOpened { .. } => "alarm-opened",
            Body::AlarmNamed { .. } => "alarm-named",
            Body::AlarmTaken { .. } => "alarm-taken",
            Body::ResidentSafe { .. } => "resident-safe",
            Body::AlarmAsked { .. } => "alarm-asked",
            Body::LadderRestarted { .. } => "ladder-restarted",
            Body::AlarmCause { .. } => "alarm-cause",
            Body::AlarmClosed { .. } => "alarm-closed",
            Body::FilterLooked { .. } => "filter-looked",
            Body::Cleaned { .. } => "cleaned",
            Body::FunctionShown { .. } => "function-shown",
            Body::Pulled { .. } => "pulled",
            Body::TakenBack { .. } => "taken-back",
            Body::SlotFired { .. } => "slot-fired",
            Body::Away { .. } => "away",
        }
    }

    /// The surface that the fact is about, where it names one itself.
    pub fn surface(&self) -> Option<&Tag> {
        match self {
            Body::SurfaceAdded { tag, .. }
            | Body::SurfaceRetired { tag }
            | Body::Placed { tag, .. }
            | Body::Released { tag, .. }
            | Body::HandChecked { tag, .. }
            | Body::RecheckAsked { tag, .. }
            | Body::AlarmOpened { tag, .. }
            | Body::FilterLooked { tag, .. }
            | Body::Cleaned { tag, .. }
            | Body::FunctionShown { tag }
            | Body::Pulled { tag, .. }
            | Body::TakenBack { tag, .. } => Some(tag),
            Body::FacilitySet { .. }
            | Body::UnitSet { .. }
            | Body::ScheduleSet { .. }
            | Body::LadderSet { .. }
            | Body::LadderAsked { .. }
            | Body::PolicySet { .. }
            | Body::PolicyAsked { .. }
            | Body::ProfileSet(_)
            | Body::AlarmNamed { .. }
            | Body::AlarmTaken { .. }
            | Body::ResidentSafe { .. }
            | Body::AlarmAsked { .. }
            | Body::LadderRestarted { .. }
            | Body::AlarmCause { .. }
            | Body::AlarmClosed { .. }
            | Body::SlotFired { .. }
            | Body::Away { .. } => None,
        }
    }

    /// The earlier record that this one corrects.
    pub fn amends(&self) -> Option<RecordNo> {
        if let Body::TakenBack { first, .. } = self {
            return Some(*first);
        }
        None
    }
}
