//! What records do to one surface: it comes into the register, under a bed, out of it, through its turnover, out of service and
//! back; what was checked, looked at and cleaned there; what a take-back restores. Leaves what a surface is to `surface`.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

use super::filter::Looked;
use super::surface::{
    Before, CHECKS_KEPT, CheckFact, CleanFact, FilterFact, Life, Recheck, Surface, Turnover,
    filter_fit,
};
use super::{Impossible, State, impossible};
use crate::choice::{Action, Cleaning, FilterKind, Finding, ReleaseReason, Start, TurnStep};
use crate::ids::{Bed, ProfileName, RecordNo, Tag};
use crate::record::{Fault, Record};
use crate::rules::policy::Name;
use crate::rules::turnover::disinfects;

impl State {
    /// Whether the CPR valve of a surface is open: nobody is called about it then.
    pub fn in_emergency(&self, tag: &Tag) -> bool {
        self.surfaces
            .get(tag)
            .is_some_and(|surface| surface.cpr.is_some())
    }

    /// Until when an open CPR valve keeps everybody quiet about its surface, if it does: once a nurse was called about it
    /// and nobody said for as long again that it is over, it was forgotten, and whoever lies there lies on no air.
    pub(crate) fn quiet_until(&self, tag: &Tag) -> Option<DateTime<Utc>> {
        let opened = self.surfaces.get(tag)?.cpr?.at;
        let quiet = TimeDelta::minutes(self.policies.get(Name::CprQuiet));
        Some(opened + quiet * 2)
    }

    /// Whether it does so at a moment.
    pub(crate) fn quiet_at(&self, tag: &Tag, at: DateTime<Utc>) -> bool {
        self.quiet_until(tag).is_some_and(|until| at < until)
    }

    /// The day on which something happened, in the home's time.
    pub(super) fn day_of(&self, record: &Record) -> Option<NaiveDate> {
        let facility = self.facility.as_ref()?;
        Some(facility.zone.local(record.at).date())
    }

    /// How a surface begins: as it was said to come in.
    pub(super) fn first_life(&self, record: &Record, profile: &ProfileName, start: Start) -> Life {
        match start {
            Start::Ready => Life::Ready { since: record.at },
            Start::Soiled => {
                let filterless = self
                    .profiles
                    .get(profile)
                    .is_some_and(|profile| profile.filter == FilterKind::None);
                Life::Soiled(Turnover::begun(record.at, None, filterless))
            }
        }
    }

    pub(super) fn add(
        &mut self,
        record: &Record,
        tag: &Tag,
        surface: Surface,
    ) -> Result<(), Impossible> {
        if self.surfaces.contains_key(tag) {
            return Err(impossible(
                record,
                format!("but {tag} is in the register already"),
            ));
        }
        self.surfaces.insert(tag.clone(), surface);
        Ok(())
    }

    pub(super) fn placed(
        &mut self,
        record: &Record,
        tag: &Tag,
        bed: &Bed,
        instead_of: Option<&Tag>,
    ) -> Result<(), Impossible> {
        if let Some(other) = self.under.get(bed) {
            return Err(impossible(record, format!("under {bed}, where {other} is")));
        }
        let (day, unit) = (self.day_of(record), self.bed_units.get(bed).cloned());
        let surface = self.remember(record, tag)?;
        surface.life = Life::Placed {
            bed: bed.clone(),
            since: record.at,
            no: record.no,
        };
        surface.forget_the_bed();
        surface.in_use.came_to_bed(day, unit.as_ref());
        surface.instead_of = instead_of.cloned();
        surface.placements += 1;
        surface.waived = None;
        if let Some(rental) = &mut surface.rental {
            rental.idle_since = None;
        }
        self.under.insert(bed.clone(), tag.clone());
        if let (Some(who), Some(unit)) = (record.who, self.bed_units.get(bed).cloned()) {
            self.last_unit.insert(who, unit);
        }
        Ok(())
    }

    /// Released: a turnover begins; what was out of service stays so.
    pub(super) fn released(
        &mut self,
        record: &Record,
        tag: &Tag,
        reason: ReleaseReason,
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?.clone();
        let life = match &surface.life {
            Life::OutOfService { since, fault, .. } => Life::OutOfService {
                since: *since,
                fault: *fault,
                under: None,
            },
            Life::Placed { .. } | Life::Soiled(_) | Life::Ready { .. } | Life::Retired { .. } => {
                let filterless = self.profile_of(&surface).filter == FilterKind::None;
                Life::Soiled(Turnover::begun(record.at, Some(reason), filterless))
            }
        };
        self.remember(record, tag)?;
        let before = self.surface_mut(record, tag)?.before.take();
        self.leave_bed(record, tag, life)?;
        self.surface_mut(record, tag)?.before = before;
        Ok(())
    }

    pub(super) fn pulled(
        &mut self,
        record: &Record,
        tag: &Tag,
        fault: Fault,
    ) -> Result<(), Impossible> {
        // One that was found within another entry, a cleaning or a recall, is not taken back with that entry.
        let alarm = self.surface_mut(record, tag)?.alarm;
        let own = record.no == record.first || alarm.is_some_and(|no| no.0 == record.first.0);
        if own {
            self.remember(record, tag)?;
        }
        let surface = self.surface_mut(record, tag)?;
        let under = surface.bed().cloned();
        surface.life = Life::OutOfService {
            since: record.at,
            fault,
            under,
        };
        surface.repaired = None;
        // Nobody sets it up or turns it back any more: what it needs is another surface in its place.
        surface.steps = None;
        surface.static_mode = None;
        if !own {
            surface.before = None;
        }
        surface.newest = record.no;
        self.rechecks.remove(tag);
        self.unbook_the_turnover(tag);
        self.unbook_what_a_pull_ends(tag);
        Ok(())
    }

    pub(super) fn moved(&mut self, record: &Record, tag: &Tag, to: &Bed) -> Result<(), Impossible> {
        if let Some(other) = self.under.get(to) {
            return Err(impossible(record, format!("under {to}, where {other} is")));
        }
        if !matches!(self.surface_mut(record, tag)?.life, Life::Placed { .. }) {
            return Err(impossible(record, format!("{tag}, which is under no bed")));
        }
        self.remember(record, tag)?;
        self.rechecks.remove(tag);
        self.unbook_at_the_bed(tag);
        let (day, unit) = (self.day_of(record), self.bed_units.get(to).cloned());
        let surface = self.surface_mut(record, tag)?;
        surface.in_use.came_to_bed(day, unit.as_ref());
        let Life::Placed { bed, since, no } = &mut surface.life else {
            return Err(impossible(record, format!("{tag}, which is under no bed")));
        };
        let from = std::mem::replace(bed, to.clone());
        (*since, *no) = (record.at, record.no);
        surface.leave = None;
        surface.static_mode = None;
        self.under.remove(&from);
        self.under.insert(to.clone(), tag.clone());
        Ok(())
    }

    /// It may go back into service: what is left is a turnover.
    pub(super) fn returned(&mut self, record: &Record, tag: &Tag) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?.clone();
        let Life::OutOfService { under: None, .. } = surface.life else {
            return Err(impossible(
                record,
                format!("{tag}, which is not out of service and under no bed"),
            ));
        };
        let filterless = self.profile_of(&surface).filter == FilterKind::None;
        let surface = self.surface_mut(record, tag)?;
        surface.life = Life::Soiled(Turnover::begun(record.at, None, filterless));
        surface.before = None;
        surface.newest = record.no;
        Ok(())
    }

    /// It comes back as one that is to be turned over, whatever it was when it left.
    pub(super) fn brought_back(&mut self, record: &Record, tag: &Tag) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?.clone();
        if !matches!(surface.life, Life::Retired { .. }) {
            return Err(impossible(record, format!("{tag}, which is not retired")));
        }
        let filterless = self.profile_of(&surface).filter == FilterKind::None;
        let surface = self.surface_mut(record, tag)?;
        surface.life = Life::Soiled(Turnover::begun(record.at, None, filterless));
        surface.before = None;
        surface.newest = record.no;
        Ok(())
    }

    pub(super) fn readied(&mut self, record: &Record, tag: &Tag) -> Result<(), Impossible> {
        let recalled = self.recall_of(tag).is_some();
        let surface = self.surface_mut(record, tag)?;
        if matches!(surface.life, Life::Soiled(_)) {
            surface.life = Life::Ready { since: record.at };
        }
        // The tap that finished it can be taken back; a recall that ended with it cannot.
        surface
            .before
            .take_if(|before| recalled || before.first != record.first);
        surface.newest = record.no;
        self.unbook_the_turnover(tag);
        self.recall_ends_for(tag);
        Ok(())
    }

    /// What a turnover must show. A surface that was ready and is not any more begins one with it.
    pub(super) fn turnover_opened(
        &mut self,
        record: &Record,
        tag: &Tag,
        steps: &[TurnStep],
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        if matches!(surface.life, Life::Ready { .. }) {
            let filterless = !steps.contains(&TurnStep::Filter);
            surface.life = Life::Soiled(Turnover::begun(record.at, None, filterless));
        }
        if let Life::Soiled(turnover) = &mut surface.life {
            turnover.steps = steps.to_vec();
            turnover.shown.clear();
        }
        // Without its list a turnover would ask for less: an entry before it cannot be taken back any more.
        surface
            .before
            .take_if(|before| before.first != record.first);
        surface.newest = record.no;
        Ok(())
    }

    /// A change of a turnover that is under way; nothing where there is none.
    pub(super) fn turning(
        &mut self,
        record: &Record,
        tag: &Tag,
        change: impl FnOnce(&mut Turnover),
    ) -> Result<(), Impossible> {
        if let Life::Soiled(turnover) = &mut self.remember(record, tag)?.life {
            change(turnover);
        }
        Ok(())
    }

    pub(super) fn checked(
        &mut self,
        record: &Record,
        tag: &Tag,
        check: CheckFact,
        recheck: Option<DateTime<Utc>>,
    ) -> Result<(), Impossible> {
        let (no, after) = (check.no, check.judged);
        let surface = self.remember(record, tag)?;
        // A late entry takes its place by when the hand was there.
        let place = surface
            .checks
            .partition_point(|earlier| earlier.at <= check.at);
        let newest = place == surface.checks.len();
        surface.checks.insert(place, check);
        if surface.checks.len() > CHECKS_KEPT {
            surface.checks.pop_front();
        }
        match recheck {
            _ if !newest => {}
            Some(due) => {
                self.rechecks.insert(
                    tag.clone(),
                    Recheck {
                        no,
                        due,
                        after,
                        asked: 0,
                        asked_at: None,
                    },
                );
            }
            None => {
                self.rechecks.remove(tag);
            }
        }
        Ok(())
    }

    pub(super) fn filter_looked(
        &mut self,
        record: &Record,
        tag: &Tag,
        (finding, action): (Finding, Action),
        next: Option<u16>,
    ) -> Result<(), Impossible> {
        let day = self.day_of(record);
        let surface = self.remember(record, tag)?;
        surface.filter = Some(FilterFact {
            no: record.no,
            at: record.at,
            finding,
            action,
            next,
        });
        match action {
            Action::Left => {}
            Action::Rinsed => surface.filter_renewed = day,
            Action::Replaced => {
                surface.filter_changed = day;
                surface.filter_renewed = day;
            }
        }
        if let Some(on) = day {
            surface.filter_looks.push(Looked {
                no: record.no,
                on,
                finding,
                action,
            });
        }
        surface.turn(record.at, |turnover| {
            turnover.filter = filter_fit(finding, action)
        });
        Ok(())
    }

    pub(super) fn cleaned(
        &mut self,
        record: &Record,
        tag: &Tag,
        clean: CleanFact,
    ) -> Result<(), Impossible> {
        let between = clean.reason == Cleaning::BetweenResidents;
        let done = disinfects(clean.method, clean.cover);
        let surface = self.remember(record, tag)?;
        surface.cleaned = Some(clean);
        if between {
            surface.turn(record.at, |turnover| turnover.cleaned = done);
        }
        Ok(())
    }

    /// Keeps how a surface stood before the first record of an entry that may be taken back, and hands it out
    /// to be changed.
    pub(super) fn remember(
        &mut self,
        record: &Record,
        tag: &Tag,
    ) -> Result<&mut Surface, Impossible> {
        let recheck = self.rechecks.get(tag).cloned();
        let calls = self.bookings_of(tag);
        let open = self.surfaces.get(tag).and_then(|surface| surface.alarm);
        let alarm = open
            .and_then(|no| self.alarms.get(&no))
            .map(|alarm| (alarm.kind, alarm.priority));
        let surface = self.surface_mut(record, tag)?;
        surface.newest = record.no;
        if surface
            .before
            .as_ref()
            .is_some_and(|before| before.first == record.first)
        {
            return Ok(surface);
        }
        surface.before = None;
        let then = Box::new(surface.clone());
        surface.before = Some(Before {
            first: record.first,
            who: record.who,
            entered: record.entered,
            surface: then,
            recheck,
            calls,
            alarm,
            settled: false,
        });
        Ok(surface)
    }

    /// Somebody settled something about a surface that no entry before takes back with it.
    pub(super) fn settled(
        &mut self,
        record: &Record,
        tag: &Tag,
    ) -> Result<&mut Surface, Impossible> {
        let surface = self.surface_mut(record, tag)?;
        surface.newest = record.no;
        if let Some(before) = &mut surface.before {
            before.settled = true;
        }
        Ok(surface)
    }

    pub(super) fn take_back(
        &mut self,
        record: &Record,
        tag: &Tag,
        first: RecordNo,
    ) -> Result<(), Impossible> {
        let surface = self.surface_mut(record, tag)?;
        let then = surface
            .before
            .as_ref()
            .filter(|before| before.first == first)
            .map(|before| before.surface.bed().cloned());
        let now = surface.bed().cloned();
        let Some(then) = then else {
            return Err(impossible(
                record,
                format!("entry {first} of {tag}, which is not its newest"),
            ));
        };
        // It goes back to where it was.
        if then != now {
            if let Some(bed) = &then
                && let Some(other) = self.under.get(bed)
            {
                return Err(impossible(record, format!("under {bed}, where {other} is")));
            }
            if let Some(bed) = &now {
                self.under.remove(bed);
            }
            if let Some(bed) = then {
                self.under.insert(bed, tag.clone());
            }
        }
        let surface = self.surface_mut(record, tag)?;
        let Some(before) = surface.before.take() else {
            return Ok(());
        };
        let ended = surface.last_alarm.clone();
        *surface = *before.surface;
        // The alarm that the entry opened has been closed by a record of its own, which stays true.
        surface.last_alarm = ended;
        surface.newest = record.no;
        let open = surface.alarm;
        let open = open.filter(|no| self.alarms.contains_key(no));
        self.surface_mut(record, tag)?.alarm = open;
        self.rebook(tag, before.calls);
        // Whoever was asked for it in the meantime has been asked.
        let now = self.rechecks.remove(tag);
        if let Some(then) = before.recheck {
            let kept = now.filter(|now| now.no == then.no).unwrap_or(then);
            self.rechecks.insert(tag.clone(), kept);
        }
        Ok(())
    }

    pub(super) fn leave_bed(
        &mut self,
        record: &Record,
        tag: &Tag,
        life: Life,
    ) -> Result<(), Impossible> {
        self.rechecks.remove(tag);
        self.unbook_at_the_bed(tag);
        let day = self.day_of(record);
        let surface = self.surface_mut(record, tag)?;
        surface.newest = record.no;
        let bed = surface.bed().cloned();
        if bed.is_some() {
            surface.in_use.left_bed(day);
        }
        surface.life = life;
        surface.forget_the_bed();
        // What begins now shows all of it anew.
        surface.second_checks.clear();
        surface.before = None;
        if let Some(rental) = &mut surface.rental {
            rental.idle_since = Some(record.at);
        }
        if let Some(bed) = bed {
            self.under.remove(&bed);
        }
        Ok(())
    }
}

impl Turnover {
    /// A surface without a filter has nothing to look at there.
    fn begun(since: DateTime<Utc>, reason: Option<ReleaseReason>, filterless: bool) -> Self {
        Self {
            since,
            said: since,
            reason,
            cleaned: false,
            filter: filterless,
            function: false,
            steps: Vec::new(),
            shown: BTreeMap::new(),
            wet_until: None,
        }
    }
}

impl Surface {
    /// What belonged to the bed it was under.
    fn forget_the_bed(&mut self) {
        self.steps = None;
        self.setting = None;
        self.leave = None;
        self.static_mode = None;
        self.cpr = None;
        self.instead_of = None;
    }

    /// One step of a turnover; the last one makes the surface ready.
    pub(super) fn turn(&mut self, at: DateTime<Utc>, step: impl FnOnce(&mut Turnover)) {
        if let Life::Soiled(turnover) = &mut self.life {
            step(turnover);
            // One with a list of steps is ready when a record says so.
            if turnover.steps.is_empty() && turnover.complete() {
                self.life = Life::Ready { since: at };
            }
        }
    }
}
