//! The state of a facility: a fold of its records. Decides what is remembered for decisions and that a
//! record can follow on what is there; leaves every rule to `decide`, so that a stricter rule never
//! makes an old log unreadable.

mod alarm;
mod bed;
mod call;
mod clock;
mod duty;
mod entries;
mod facility;
mod filter;
mod life;
mod line;
mod moments;
mod outage;
mod shelf;
mod staff;
mod steps;
mod surface;
mod wish;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

pub use alarm::Alarm;
pub(crate) use alarm::{again_key, rung_key, unchecked_key, worse_key};
pub use bed::{Frame, OverFact, ZonesFact};
pub use call::Booking;
pub(crate) use duty::FIRST_REPEAT;
pub use duty::{Called, Carded, Duty, Handover, OnDuty, REMEMBERED, Told};
pub(crate) use facility::GENERAL;
pub(crate) use facility::general_profile;
pub use facility::{Facility, Ladder, Schedule, UnitState};
pub use filter::{FilterLooks, InUse, LOOKS_KEPT, Looked};
pub use line::Line;
pub use outage::{Outage, OutageOver};
pub use shelf::{Product, Recall, Stock, Storage};
pub use staff::{LetIn, Pace, SecondCheck, SignOff, Staff};
pub use steps::{Mark, Steps};
pub use surface::{
    Before, CHECKS_KEPT, CheckFact, CleanFact, EndedAlarm, FilterFact, HeldStill, Hold, Leave,
    Life, OpenValve, Recheck, Rental, Service, Setting, Surface, Turnover, Waived, filter_fit,
};
pub use wish::{BedsApproval, Waiting};

use crate::choice::{Call, Outcome, TurnStep, Work};
use crate::ids::{
    AlarmNo, Bed, Item, OutageNo, Person, ProductName, ProfileName, RecallNo, RecordNo,
    ScheduleName, Tag, Unit,
};
use crate::record::{Body, On, Profile, Record, Wish};
use crate::role::Role;
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Policies;
use crate::rules::priority::AlarmKind;
use crate::words::Lang;

/// The state of a facility.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct State {
    /// The newest record's number, 0 before the first.
    head: u64,
    /// `None` until `/facility setup`.
    pub facility: Option<Facility>,
    /// What differs from home to home.
    pub policies: Policies,
    /// Changes that wait for a supervisor, by the record that asked for each.
    pub wishes: BTreeMap<RecordNo, Waiting>,
    /// What the home last said of beds in posts, since it says so in its set-up.
    pub beds_approval: Option<BedsApproval>,
    /// Who is asked next while an alarm is not taken, and when.
    pub ladder: Ladder,
    /// What is posted when.
    pub schedules: BTreeMap<ScheduleName, Schedule>,
    /// The newest step back of the clock after which something comes again that came by the wrong clock. What comes since has
    /// it in its name, so that it is not taken for what came then.
    pub set_back: Option<RecordNo>,
    /// The units.
    pub units: BTreeMap<Unit, UnitState>,
    /// What each make-and-model needs.
    pub profiles: BTreeMap<ProfileName, Profile>,
    /// The register.
    pub surfaces: BTreeMap<Tag, Surface>,
    /// Which surface is under which bed.
    pub under: BTreeMap<Bed, Tag>,
    /// Which unit a bed is in.
    pub bed_units: BTreeMap<Bed, Unit>,
    /// The alarms that are open.
    pub alarms: BTreeMap<AlarmNo, Alarm>,
    /// Checks that are booked out of turn: the only surfaces the clock has to watch.
    pub rechecks: BTreeMap<Tag, Recheck>,
    /// What else the clock has promised: whom to call for what, and when.
    #[serde(with = "call::listed")]
    pub calls: BTreeMap<Call, BTreeMap<On, Booking>>,
    /// What is known of the beds' frames.
    pub frames: BTreeMap<Bed, Frame>,
    /// The units without power.
    pub outages: BTreeMap<OutageNo, Outage>,
    /// Power failures that are over, as long as a handover tells of them, the newest last.
    pub outages_over: Vec<OutageOver>,
    /// The home's disinfectants.
    pub products: BTreeMap<ProductName, Product>,
    /// Where surfaces stand that are not under a bed.
    pub storage: Option<Storage>,
    /// What is counted on the shelf.
    pub stock: BTreeMap<Item, Stock>,
    /// The recalls, those that are over too: a surface that comes in later may be of their lot.
    pub recalls: BTreeMap<RecallNo, Recall>,
    /// Who is let in, signed off, and on a round.
    pub staff: Staff,
    /// Who has which unit, what was handed over, who was told what.
    pub duty: Duty,
    /// The unit in which somebody last did something.
    pub last_unit: BTreeMap<Person, Unit>,
}

/// A record that cannot follow on this state.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("record {no} cannot follow: {why}")]
pub struct Impossible {
    /// The record.
    pub no: RecordNo,
    /// Both sides, in a sentence.
    pub why: String,
}

impl Default for State {
    fn default() -> Self {
        let general = facility::general_profile();
        Self {
            head: 0,
            facility: None,
            policies: Policies::default(),
            wishes: BTreeMap::new(),
            beds_approval: None,
            ladder: Ladder::default(),
            schedules: BTreeMap::new(),
            set_back: None,
            units: BTreeMap::new(),
            profiles: BTreeMap::from([(general.name.clone(), general)]),
            surfaces: BTreeMap::new(),
            under: BTreeMap::new(),
            bed_units: BTreeMap::new(),
            alarms: BTreeMap::new(),
            rechecks: BTreeMap::new(),
            calls: BTreeMap::new(),
            frames: BTreeMap::new(),
            outages: BTreeMap::new(),
            outages_over: Vec::new(),
            products: BTreeMap::new(),
            storage: None,
            stock: BTreeMap::new(),
            recalls: BTreeMap::new(),
            staff: Staff::default(),
            duty: Duty::default(),
            last_unit: BTreeMap::new(),
        }
    }
}

impl State {
    /// The version of the fold: a snapshot made by another one is not read.
    pub const VERSION: u32 = 20;

    /// The number the next record gets.
    pub fn next_no(&self) -> RecordNo {
        RecordNo(self.head + 1)
    }

    /// The language that channels read.
    pub fn lang(&self) -> Lang {
        self.facility
            .as_ref()
            .map_or_else(Lang::default, |facility| facility.lang)
    }

    /// The unit that a surface's bed is in.
    pub fn unit_of(&self, tag: &Tag) -> Option<&Unit> {
        self.bed_units.get(self.surfaces.get(tag)?.bed()?)
    }

    /// The profile of a surface; the built-in one if it names none that is left.
    pub fn profile_of(&self, surface: &Surface) -> &Profile {
        self.profiles
            .get(&surface.profile)
            .unwrap_or_else(|| self.general())
    }

    /// The profile of surfaces that the home has typed none for.
    pub(crate) fn general(&self) -> &Profile {
        &self.profiles[facility::GENERAL]
    }

    /// This record is now a fact. A record that fails changes nothing.
    ///
    /// # Errors
    /// [`Impossible`] when the record names what is not there or stands in the wrong place.
    pub fn apply(&mut self, record: &Record) -> Result<(), Impossible> {
        let next = self.next_no();
        if record.no != next {
            return Err(Impossible {
                no: record.no,
                why: format!("it is not number {next}"),
            });
        }
        self.admit(record)?;
        self.head = record.no.0;
        Ok(())
    }

    fn admit(&mut self, record: &Record) -> Result<(), Impossible> {
        if let Some(tag) = record.body.surface()
            && !matches!(record.body, Body::SurfaceAdded { .. })
        {
            if !self.surfaces.contains_key(tag) {
                return Err(impossible(
                    record,
                    format!("no surface {tag} is in the register"),
                ));
            }
            if let (Some(who), Some(unit)) = (record.who, self.unit_of(tag).cloned()) {
                self.last_unit.insert(who, unit);
            }
            if record.who.is_some()
                && let Some(surface) = self.surfaces.get_mut(tag)
            {
                surface.touched = Some(Mark::of(record));
            }
        }
        match &record.body {
            Body::FacilitySet {
                zone,
                care_channel,
                supervisor_channel,
                roles,
                lang,
                upkeep_channel,
                home,
                currency,
            } => {
                self.set_facility(Facility {
                    zone: Self::known_zone(record, zone)?,
                    care_channel: *care_channel,
                    supervisor_channel: *supervisor_channel,
                    roles: roles.clone(),
                    lang: *lang,
                    upkeep_channel: *upkeep_channel,
                    home: home.clone(),
                    currency: currency.clone(),
                });
                // The shifts before are nobody's fault.
                self.duty.rounds.get_or_insert(record.at);
                Ok(())
            }
            Body::UnitSet {
                unit,
                beds,
                channel,
            } => self.set_unit(unit, beds, *channel),
            Body::NoteErased { of, first, tag } => {
                self.forget_note(*of, *first, tag.as_ref());
                Ok(())
            }
            Body::UnitDropped { unit } => {
                self.drop_unit(unit);
                Ok(())
            }
            Body::ScheduleSet {
                name,
                what,
                unit,
                when,
                from,
            } => self.set_schedule(record, name, *what, unit.clone(), when, *from),
            Body::SlotFired { name, slot, .. } => {
                self.slot_fired(record, name, *slot)?;
                self.carded(name, *slot);
                Ok(())
            }
            Body::LadderSet {
                first,
                second,
                third,
                repeat,
            } => {
                self.ladder = Ladder {
                    first: *first,
                    second: *second,
                    third: *third,
                    repeat: *repeat,
                };
                self.settle_ladder();
                Ok(())
            }
            Body::PolicySet { name, value } => {
                self.settle_policy(name);
                self.policies.set(name, *value);
                Ok(())
            }
            Body::LadderAsked { .. } | Body::PolicyAsked { .. } | Body::WishAsked { .. } => {
                if let Some(wish) = Wish::asked_in(&record.body) {
                    self.wished(record, wish);
                }
                Ok(())
            }
            Body::WishEnded { wish, .. } => {
                self.settle(*wish);
                Ok(())
            }
            Body::ScheduleDropped { name } => {
                self.schedules.remove(name);
                Ok(())
            }
            Body::BedsApproved { approved } => {
                self.beds_approved(record, *approved);
                Ok(())
            }
            Body::ProfileSet(profile) => {
                self.profiles
                    .insert(profile.name.clone(), (**profile).clone());
                Ok(())
            }
            Body::SurfaceAdded {
                tag,
                profile,
                serial,
                lot,
                owned,
                daily_cents,
                start,
                filter_changed,
                in_service,
                tested,
            } => {
                let mut surface = Surface::new(
                    record,
                    profile.clone(),
                    *owned,
                    self.first_life(record, profile, *start),
                );
                surface.serial.clone_from(serial);
                surface.lot.clone_from(lot);
                surface.daily_cents = *daily_cents;
                surface.filter_changed = *filter_changed;
                surface.filter_renewed = *filter_changed;
                surface.in_service = *in_service;
                surface.filter_looks = FilterLooks::new(*filter_changed);
                surface.in_use.left_bed(self.day_of(record));
                if let Some(on) = *tested {
                    let test = Service {
                        no: record.no,
                        on,
                        at: record.at,
                        outcome: Outcome::Passed,
                        next: None,
                    };
                    surface.served.insert(Work::SafetyTest, test);
                }
                self.add(record, tag, surface)
            }
            Body::SurfaceRetired { tag } => {
                self.recall_ends_for(tag);
                self.unbook_the_turnover(tag);
                self.leave_bed(record, tag, Life::Retired { since: record.at })?;
                self.follow_line(record, tag)
            }
            Body::Placed {
                tag,
                bed,
                instead_of,
            } => {
                self.placed(record, tag, bed, instead_of.as_ref())?;
                self.follow_line(record, tag)
            }
            Body::Released { tag, reason } => {
                self.released(record, tag, *reason)?;
                self.follow_line(record, tag)
            }
            Body::Pulled { tag, fault } => {
                self.pulled(record, tag, *fault)?;
                self.follow_line(record, tag)
            }
            Body::LoftAnswered { tag, .. } => {
                self.remember(record, tag)?;
                self.follow_line(record, tag)
            }
            Body::HandChecked {
                tag,
                air,
                judged,
                recheck,
                from_paper,
                ..
            } => {
                let check = CheckFact {
                    no: record.no,
                    at: record.at,
                    who: record.who,
                    air: *air,
                    judged: *judged,
                    from_paper: *from_paper,
                    told: None,
                };
                if !*from_paper && *judged != Judgement::CouldNot {
                    self.paced(record, tag);
                }
                if *judged == Judgement::CouldNot {
                    self.fix_unchecked(record, tag);
                }
                self.checked(record, tag, check, *recheck)?;
                self.follow_line(record, tag)
            }
            Body::RecheckAsked { tag, step } => {
                if let Some(recheck) = self.rechecks.get_mut(tag) {
                    recheck.asked = *step;
                    recheck.asked_at = Some(record.at);
                }
                Ok(())
            }
            Body::FilterLooked {
                tag,
                finding,
                action,
                next,
            } => self.filter_looked(record, tag, (*finding, *action), *next),
            Body::Cleaned {
                tag,
                reason,
                method,
                product,
                cover,
            } => {
                let clean = CleanFact {
                    at: record.at,
                    reason: *reason,
                    method: *method,
                    product: product.clone(),
                    cover: *cover,
                };
                self.cleaned(record, tag, clean)
            }
            Body::FunctionShown { tag } => {
                let surface = self.remember(record, tag)?;
                surface.turn(record.at, |turnover| turnover.function = true);
                self.turning(record, tag, |turnover| {
                    turnover.shown.insert(TurnStep::Function, Mark::of(record));
                })
            }
            Body::TakenBack { tag, first, called } => {
                self.take_back(record, tag, *first)?;
                if *called && let Some(check) = self.surface_mut(record, tag)?.checks.back_mut() {
                    check.told = Some(record.no);
                }
                Ok(())
            }
            Body::AlarmOpened {
                tag,
                kind,
                priority,
                found,
                shift_over,
            } => self.open_alarm(record, tag, (*kind, *priority), *found, *shift_over),
            Body::AlarmNamed {
                alarm,
                kind,
                priority,
            } => self.change_alarm(record, *alarm, |alarm| {
                alarm.kind = *kind;
                alarm.priority = *priority;
                if *kind == AlarmKind::BottomedOut {
                    alarm.call(worse_key(record.first));
                }
            }),
            Body::AlarmTaken { alarm } => self.change_alarm(record, *alarm, |alarm| {
                alarm.taken = record.who.map(|who| (who, record.at))
            }),
            Body::ResidentSafe { alarm } => self.change_alarm(record, *alarm, |alarm| {
                alarm.safe = record.who.map(|who| (who, record.at))
            }),
            Body::AlarmGivenUp { alarm } => self.change_alarm(record, *alarm, Alarm::give_up),
            Body::NotSafeYet { alarm } => {
                self.change_alarm(record, *alarm, |alarm| alarm.safe = None)
            }
            Body::AlarmAsked { alarm: no, rung } => self.change_alarm(record, *no, |alarm| {
                alarm.climb(record.at, *rung);
                alarm.call(rung_key(*no, alarm.ladder_from, *rung));
            }),
            Body::LadderRestarted { alarm: no, why } => self.change_alarm(record, *no, |alarm| {
                alarm.begin_again(record.at, *why);
                alarm.call(again_key(*no, record.no));
            }),
            Body::AlarmCause { alarm, cause } => {
                self.change_alarm(record, *alarm, |alarm| alarm.cause = Some(*cause))
            }
            Body::AlarmClosed { alarm, end, is_at } => {
                self.close_alarm(record, *alarm, *end, is_at.clone())
            }
            Body::Away { .. } => Ok(()),
            Body::ClockStepped { seconds } => {
                self.clock_stepped(record, *seconds);
                Ok(())
            }
            Body::LetIn {
                person,
                stand,
                until,
                unit,
            } => {
                self.let_in(record, *person, *stand, *until, unit.as_ref());
                Ok(())
            }
            Body::LetInEnded { person } => self.let_in_ended(record, *person),
            Body::PrimerRead {} => {
                self.primer_read(record);
                Ok(())
            }
            Body::SignedOff {
                person,
                task,
                profile,
                renew,
            } => {
                self.signed_off(record, *person, *task, profile, *renew);
                Ok(())
            }
            Body::SignOffEnded {
                person,
                task,
                profile,
            } => self.sign_off_ended(record, *person, *task, profile),
            Body::SecondCheckWanted { tag, task, entry } => {
                self.second_check_wanted(record, tag, *task, *entry)
            }
            Body::SecondChecked {
                tag, task, entry, ..
            } => self.second_checked(record, tag, *task, *entry),
            Body::PaceSaid { person, unit, .. } => {
                self.pace_said(record, *person, unit);
                Ok(())
            }
            Body::Booked { on, call, due } => {
                self.book(record, on, *call, *due);
                Ok(())
            }
            Body::Unbooked { on, call } => {
                self.unbook(on, *call);
                Ok(())
            }
            Body::Called {
                on,
                call,
                step,
                again,
            } => {
                self.called(record, on, *call, *step, *again);
                Ok(())
            }
            Body::StepsOpened {
                tag,
                opening,
                steps,
            } => self.open_steps(record, tag, *opening, steps),
            Body::StepsDone { tag, steps } => self.steps_done(record, tag, steps),
            Body::StepMissed { tag, step } => self.step_missed(record, tag, *step),
            Body::FillBegan { tag, full } => {
                if let Some(steps) = &mut self.remember(record, tag)?.steps {
                    steps.full = Some(*full);
                }
                Ok(())
            }
            Body::SettingSet { tag, setting } => {
                self.remember(record, tag)?;
                // By the setting before this one.
                self.follow_line(record, tag)?;
                self.surface_mut(record, tag)?.setting = Some(Setting {
                    text: setting.clone(),
                    mark: Mark::of(record),
                });
                Ok(())
            }
            Body::Moved { tag, bed } => {
                self.moved(record, tag, bed)?;
                self.follow_line(record, tag)
            }
            Body::PluggedIn { tag, .. } => self.remember(record, tag).map(|_| ()),
            Body::LeaveBegan { tag, why, until } => {
                let surface = self.remember(record, tag)?;
                // Longer away for the same reason is still the same leave.
                let (since, said) = surface
                    .leave
                    .filter(|leave| leave.why == *why)
                    .map_or((record.at, record.at), |leave| (leave.since, leave.said));
                surface.leave = Some(Leave {
                    why: *why,
                    since,
                    said,
                    until: *until,
                });
                Ok(())
            }
            Body::LeaveEnded { tag } => {
                self.remember(record, tag)?.leave = None;
                Ok(())
            }
            Body::StaticBegan { tag, until } => {
                let surface = self.remember(record, tag)?;
                let (since, said) = surface
                    .static_mode
                    .map_or((record.at, record.at), |held| (held.since, held.said));
                surface.static_mode = Some(HeldStill {
                    since,
                    said,
                    until: *until,
                });
                Ok(())
            }
            Body::StaticEnded { tag } => {
                self.remember(record, tag)?.static_mode = None;
                Ok(())
            }
            Body::CprOpened { tag } => {
                self.remember(record, tag)?.cpr = Some(OpenValve {
                    who: record.who,
                    at: record.at,
                    said: record.at,
                });
                Ok(())
            }
            Body::CprOver { tag } => {
                // Nobody was called while it kept quiet: the ladder begins here. One that went on since goes on.
                let quiet = self.quiet_at(tag, record.at);
                let surface = self.remember(record, tag)?;
                surface.cpr = None;
                let alarm = surface.alarm.filter(|_| quiet);
                if let Some(alarm) = alarm.and_then(|no| self.alarms.get_mut(&no)) {
                    alarm.resume(record.at);
                    alarm.newest = record.no;
                }
                Ok(())
            }
            Body::TurnoverOpened { tag, steps } => self.turnover_opened(record, tag, steps),
            Body::TurnShown { tag, step } => self.turning(record, tag, |turnover| {
                turnover.shown.insert(*step, Mark::of(record));
            }),
            Body::TurnUndone { tag, steps } => self.turning(record, tag, |turnover| {
                turnover.shown.retain(|step, _| !steps.contains(step));
            }),
            Body::ContactBegan { tag, until } => self.turning(record, tag, |turnover| {
                turnover.wet_until = Some(*until);
            }),
            Body::Readied { tag } => self.readied(record, tag),
            Body::PaperWaived { tag, papers } => {
                let surface = self.surface_mut(record, tag)?;
                surface.newest = record.no;
                surface.waived = Some(Waived {
                    papers: papers.clone(),
                    mark: Mark::of(record),
                });
                Ok(())
            }
            Body::Marked { tag, clean_last } => {
                self.remember(record, tag)?.clean_last = *clean_last;
                Ok(())
            }
            Body::ProductSet {
                name,
                method,
                contact_minutes,
                sporicidal,
            } => {
                let product = Product {
                    method: *method,
                    contact_minutes: *contact_minutes,
                    sporicidal: *sporicidal,
                };
                self.products.insert(name.clone(), product);
                Ok(())
            }
            Body::ProductDropped { name } => {
                self.products.remove(name);
                Ok(())
            }
            Body::StorageSet { dirty, clean } => {
                self.storage = Some(Storage {
                    dirty: dirty.clone(),
                    clean: clean.clone(),
                });
                Ok(())
            }
            Body::Repaired { tag } => {
                self.remember(record, tag)?.repaired = Some(Mark::of(record));
                Ok(())
            }
            Body::Returned { tag } => self.returned(record, tag),
            Body::SurfaceBroughtBack { tag } => self.brought_back(record, tag),
            Body::Held {
                tag,
                known: Some(day),
            } if self.is_held(tag) => self.known_since(record, tag, *day),
            Body::Held { tag, known } => self.change_hold(record, tag, |record| {
                Some(Hold {
                    no: record.no,
                    mark: Mark::of(record),
                    known: *known,
                    reported: None,
                })
            }),
            Body::HoldReported { tag } => {
                let mark = Mark::of(record);
                let surface = self.settled(record, tag)?;
                if let Some(hold) = &mut surface.hold {
                    hold.reported = Some(mark);
                }
                Ok(())
            }
            Body::HoldReleased { tag } => self.change_hold(record, tag, |_| None),
            Body::RecallOpened { profile, lot, tags } => {
                for tag in tags {
                    if self.surfaces.contains_key(tag) {
                        self.settled(record, tag)?;
                    }
                }
                let recall = Recall {
                    profile: profile.clone(),
                    lot: lot.clone(),
                    since: record.at,
                    all: tags.iter().cloned().collect(),
                    open: tags.iter().cloned().collect(),
                };
                self.recalls.insert(RecallNo(record.no.0), recall);
                Ok(())
            }
            Body::RecallJoined { recall, tag } => {
                let recall = self.recalls.get_mut(recall).ok_or_else(|| {
                    impossible(record, format!("names recall {recall}, which is not there"))
                })?;
                recall.all.insert(tag.clone());
                recall.open.insert(tag.clone());
                self.settled(record, tag)?;
                Ok(())
            }
            Body::FrameSet { beds, .. } => {
                for bed in beds {
                    let frame = self.frames.entry(bed.clone()).or_default();
                    frame.takes(&record.body, record.at);
                }
                Ok(())
            }
            Body::ZonesMeasured {
                bed,
                tag,
                gaps,
                angle4,
            } => {
                self.zones_measured(record, bed, tag.as_ref(), gaps, *angle4);
                Ok(())
            }
            Body::ZonesActed { bed, did } => {
                self.zones_acted(record, bed, *did);
                Ok(())
            }
            Body::Serviced {
                tag,
                work,
                outcome,
                on,
                next,
            } => {
                let service = Service {
                    no: record.no,
                    on: *on,
                    at: record.at,
                    outcome: *outcome,
                    next: *next,
                };
                let surface = self.remember(record, tag)?;
                surface.served.insert(*work, service);
                // What failed its test is not repaired: the next test counts only after another repair.
                let failed = (*work, *outcome) == (Work::SafetyTest, Outcome::Failed);
                if failed && matches!(surface.life, Life::OutOfService { .. }) {
                    surface.repaired = None;
                }
                Ok(())
            }
            Body::OutageOpened {
                unit,
                order,
                shift_over,
            } => self.open_outage(record, unit, order, *shift_over),
            Body::OutageTaken { outage } => self.change_outage(record, *outage, |outage| {
                outage.taken = record.who.map(|who| (who, record.at));
                outage
                    .callers
                    .extend(record.who.filter(|who| !outage.callers.contains(who)));
            }),
            Body::OutageRolled { outage, order } => self.roll_again(record, *outage, order),
            Body::OutageSeen { outage, tag, roll } => {
                self.change_outage(record, *outage, |outage| {
                    outage.seen.insert(tag.clone(), (*roll, Mark::of(record)));
                })
            }
            Body::OutageAsked { outage, rung } => {
                self.change_outage(record, *outage, |outage| outage.climb(record.at, *rung))
            }
            Body::OutageRestarted { outage } => self.change_outage(record, *outage, |outage| {
                outage.begin_again(record.at);
            }),
            Body::OutageEnded { outage } => self.end_outage(record, *outage),
            Body::RentalStarted {
                tag,
                daily_cents,
                reference,
            } => {
                let surface = self.remember(record, tag)?;
                let idle = surface.bed().is_none();
                surface.daily_cents = Some(*daily_cents);
                surface.rental = Some(Rental {
                    since: record.at,
                    said: record.at,
                    daily_cents: *daily_cents,
                    reference: reference.clone(),
                    arrived: None,
                    called: None,
                    confirmed: None,
                    collected: None,
                    idle_since: idle.then_some(record.at),
                });
                Ok(())
            }
            Body::RentalArrived { tag, outcome } => self.change_rental(record, tag, |rental| {
                rental.arrived = Some((*outcome, Mark::of(record)));
            }),
            Body::PickupCalled { tag } => self.change_rental(record, tag, |rental| {
                rental.called = Some(Mark::of(record));
            }),
            Body::PickupConfirmed { tag, reference } => self.change_rental(record, tag, |rental| {
                rental.confirmed = Some((reference.clone(), Mark::of(record)));
            }),
            Body::Collected { tag } => self.change_rental(record, tag, |rental| {
                rental.collected = Some(Mark::of(record));
            }),
            Body::Amended { entry, stands, .. } => self.amended(record, *entry, stands),
            Body::Annotated { entry, .. } | Body::Countersigned { entry, .. } => {
                Self::is_earlier(record, *entry)
            }
            Body::StockCounted { item, count } => {
                self.stock_counted(record, item, *count);
                Ok(())
            }
            Body::StockUsed { item, count, order } => {
                self.stock_used(record, item, *count, *order);
                Ok(())
            }
            Body::DutyTaken { unit, until } => {
                self.duty.take(record, unit.as_ref(), *until);
                Ok(())
            }
            Body::DutyEnded { unit, of } => {
                self.duty.end(record, unit.as_ref(), of.or(record.who));
                Ok(())
            }
            Body::ClaimsLooked { shift, unclaimed } => {
                self.duty.looked = Some(*shift);
                self.duty.unclaimed.clone_from(unclaimed);
                Ok(())
            }
            Body::RoundsLooked { shift, .. } => {
                self.duty.rounds = Some(*shift);
                Ok(())
            }
            Body::HandoverMade { unit, shift } => {
                self.duty.hand_over(record, unit.as_ref(), *shift);
                Ok(())
            }
            Body::HandoverAccepted { handover } => self.accepted(record, *handover),
            Body::Told { on, roles, people } => {
                self.told(record, on, roles, people);
                Ok(())
            }
            Body::PhoneSet { words } => {
                self.duty.phone.clone_from(words);
                Ok(())
            }
        }
    }

    /// Somebody was called about something: kept for the handover, and with the ladder that called them.
    fn told(&mut self, record: &Record, on: &On, roles: &[Role], people: &[(Person, Role)]) {
        let ladder = match on {
            On::Surface(tag) => self
                .surfaces
                .get(tag)
                .and_then(|surface| surface.alarm)
                .and_then(|no| self.alarms.get_mut(&no))
                .map(|alarm| &mut alarm.called),
            On::Outage(no) => self.outages.get_mut(no).map(|outage| &mut outage.called),
            On::Recall(_) | On::Unit(_) | On::Wish(_) => None,
        };
        if let Some(called) = ladder {
            called.add(roles, people);
        }
        // What a power failure was called by is gone when it is over; its unit stays.
        let on = match on {
            On::Outage(no) => match self.outages.get(no) {
                Some(open) => On::Unit(open.unit.clone()),
                None => on.clone(),
            },
            On::Surface(_) | On::Recall(_) | On::Unit(_) | On::Wish(_) => on.clone(),
        };
        self.duty.tell(record, &on, roles, people);
    }

    fn change_hold(
        &mut self,
        record: &Record,
        tag: &Tag,
        hold: impl FnOnce(&Record) -> Option<Hold>,
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        surface.hold = hold(record);
        // What was found before the inquiry is looked at again after it.
        surface.repaired = None;
        surface.before = None;
        surface.newest = record.no;
        Ok(())
    }

    fn is_held(&self, tag: &Tag) -> bool {
        self.surfaces
            .get(tag)
            .is_some_and(|surface| surface.hold.is_some())
    }

    /// The days of a hold count from another day: the hold itself goes on.
    fn known_since(
        &mut self,
        record: &Record,
        tag: &Tag,
        day: chrono::NaiveDate,
    ) -> Result<(), Impossible> {
        let surface = self.settled(record, tag)?;
        if let Some(hold) = &mut surface.hold {
            hold.known = Some(day);
        }
        Ok(())
    }

    fn change_rental(
        &mut self,
        record: &Record,
        tag: &Tag,
        change: impl FnOnce(&mut Rental),
    ) -> Result<(), Impossible> {
        let surface = self.remember(record, tag)?;
        let Some(rental) = &mut surface.rental else {
            return Err(impossible(record, format!("{tag}, which is not rented")));
        };
        change(rental);
        Ok(())
    }

    /// What a record about a surface does to the line of its readings.
    fn follow_line(&mut self, record: &Record, tag: &Tag) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        let in_use = surface
            .setting
            .as_ref()
            .map(|setting| setting.text.as_str());
        surface
            .line
            .follow(&record.body, (record.who, record.at), in_use);
        Ok(())
    }

    /// The surface that a record is about. `admit` has seen to it that it is there.
    fn surface_mut(&mut self, record: &Record, tag: &Tag) -> Result<&mut Surface, Impossible> {
        self.surfaces
            .get_mut(tag)
            .ok_or_else(|| impossible(record, format!("no surface {tag} is in the register")))
    }
}

fn impossible(record: &Record, why: String) -> Impossible {
    Impossible {
        no: record.no,
        why: format!("{} {why}", record.body.kind()),
    }
}
