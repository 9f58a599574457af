//! What the home set otherwise in a period: each change with what held before it, who made it and who asked for it.
//! Decides what is a change of what; leaves the words to whoever shows it.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::Evidence;
use crate::choice::What;
use crate::ids::{Bed, Channel, ProductName, ScheduleName, Unit};
use crate::past::Entry;
use crate::record::{Body, Profile, Record, WishEnd};
use crate::role::Role;
use crate::rules::policy::{self, Name};
use crate::state::{Frame, Ladder, Product};

/// A setting that was changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed<'a> {
    /// The record that set it.
    pub record: &'a Record,
    /// When.
    pub at: DateTime<Utc>,
    /// The role that asked for it, where another had to agree: the record's own is the one that agreed.
    pub asked_by: Option<Role>,
    /// What.
    pub what: Change<'a>,
}

/// What was changed, as it was and as it is.
#[derive(Clone, Debug, PartialEq)]
pub enum Change<'a> {
    /// A policy; nothing from where it had never been set.
    Policy {
        /// Its word.
        name: &'a str,
        /// As it was.
        from: Option<i64>,
        /// As it is.
        to: i64,
    },
    /// The ladder.
    Ladder {
        /// As it was.
        from: Ladder,
        /// As it is.
        to: Ladder,
    },
    /// When a list comes.
    Schedule {
        /// Which list.
        what: What,
        /// Whose.
        unit: Option<&'a Unit>,
        /// As it was; never, where nothing.
        from: Option<&'a str>,
        /// As it is.
        to: Option<&'a str>,
    },
    /// A disinfectant of the home's list.
    Product {
        /// Its name.
        name: &'a ProductName,
        /// As it was; not on the list, where nothing.
        from: Option<Product>,
        /// As it is.
        to: Option<Product>,
    },
    /// The places for soiled and ready surfaces.
    Storage {
        /// As they were.
        from: Option<(&'a str, &'a str)>,
        /// As they are.
        to: (&'a str, &'a str),
    },
    /// A profile.
    Profile {
        /// As it was; none, where it is new.
        from: Option<&'a Profile>,
        /// As it is.
        to: &'a Profile,
    },
    /// A unit: its beds, and whether it has another channel.
    Unit {
        /// Its name.
        unit: &'a Unit,
        /// Its beds before; none, where it is new.
        from: Option<&'a [Bed]>,
        /// Its beds; none, where it left the home's list.
        to: Option<&'a [Bed]>,
        /// Whether its people read elsewhere than before.
        channel: bool,
    },
    /// What holds for the whole home: both are of that kind.
    Facility {
        /// As it was; none, where it was set up.
        from: Option<&'a Body>,
        /// As it is.
        to: &'a Body,
    },
    /// What is known of beds' frames: what each of them read before and reads now, where that differs among them several.
    Frame {
        /// The beds.
        beds: &'a [Bed],
        /// As they were.
        from: Vec<Frame>,
        /// As they are.
        to: Vec<Frame>,
    },
}

/// What holds, as the records pass.
#[derive(Default)]
struct Held<'a> {
    policies: BTreeMap<&'a str, i64>,
    ladder: Ladder,
    schedules: BTreeMap<&'a ScheduleName, (What, Option<&'a Unit>, &'a str)>,
    products: BTreeMap<&'a ProductName, Product>,
    storage: Option<(&'a str, &'a str)>,
    profiles: BTreeMap<&'a str, &'a Profile>,
    units: BTreeMap<&'a Unit, (&'a [Bed], Option<&'a Channel>)>,
    facility: Option<&'a Body>,
    frames: BTreeMap<&'a Bed, Frame>,
}

impl<'a> Held<'a> {
    /// Takes a record; what it changed, if it sets something and that is another than before.
    fn takes(&mut self, entry: &Entry<'a>, body: &'a Body) -> Option<Change<'a>> {
        match body {
            Body::PolicySet { name, value } => self.policy(name, *value),
            Body::BedsApproved { approved } => {
                self.policy(policy::row(Name::BedsInPosts).word, i64::from(*approved))
            }
            Body::LadderSet {
                first,
                second,
                third,
                repeat,
            } => {
                let to = Ladder {
                    first: *first,
                    second: *second,
                    third: *third,
                    repeat: *repeat,
                };
                let from = std::mem::replace(&mut self.ladder, to);
                (from != to).then_some(Change::Ladder { from, to })
            }
            Body::ScheduleSet {
                name,
                what,
                unit,
                when,
                from: _,
            } => {
                let unit = unit.as_ref();
                let from = self.schedules.insert(name, (*what, unit, when));
                let (from, to) = (from.map(|(_, _, when)| when), Some(when.as_str()));
                (from != to).then_some(Change::Schedule {
                    what: *what,
                    unit,
                    from,
                    to,
                })
            }
            Body::ScheduleDropped { name } => {
                let (what, unit, from) = self.schedules.remove(name)?;
                Some(Change::Schedule {
                    what,
                    unit,
                    from: Some(from),
                    to: None,
                })
            }
            Body::ProductSet {
                name,
                method,
                contact_minutes,
                sporicidal,
            } => {
                let to = Product {
                    method: *method,
                    contact_minutes: *contact_minutes,
                    sporicidal: *sporicidal,
                };
                let from = self.products.insert(name, to.clone());
                let to = Some(to);
                (from != to).then_some(Change::Product { name, from, to })
            }
            Body::ProductDropped { name } => {
                let from = Some(self.products.remove(name)?);
                let to = None;
                Some(Change::Product { name, from, to })
            }
            Body::StorageSet { dirty, clean } => {
                let to = (dirty.as_str(), clean.as_str());
                let from = self.storage.replace(to);
                (from != Some(to)).then_some(Change::Storage { from, to })
            }
            Body::ProfileSet(to) => {
                let to: &Profile = to;
                let from = self.profiles.insert(to.name.as_str(), to);
                (from != Some(to)).then_some(Change::Profile { from, to })
            }
            Body::UnitSet {
                unit,
                beds,
                channel,
            } => {
                let to = (beds.as_slice(), channel.as_ref());
                let from = self.units.insert(unit, to);
                (from != Some(to)).then_some(Change::Unit {
                    unit,
                    from: from.map(|(beds, _)| beds),
                    to: Some(beds),
                    channel: from.is_some_and(|(_, before)| before != channel.as_ref()),
                })
            }
            Body::UnitDropped { unit } => {
                let (beds, _) = self.units.remove(unit)?;
                Some(Change::Unit {
                    unit,
                    from: Some(beds),
                    to: None,
                    channel: false,
                })
            }
            Body::FacilitySet { .. } => {
                let from = self.facility.replace(body);
                (from != Some(body)).then_some(Change::Facility { from, to: body })
            }
            Body::FrameSet { beds, .. } => {
                let (mut from, mut to) = (Vec::new(), Vec::new());
                for bed in beds {
                    let frame = self.frames.entry(bed).or_default();
                    let before = frame.clone();
                    frame.takes(body, entry.at);
                    for (all, one) in [(&mut from, before), (&mut to, frame.clone())] {
                        // When it changed is no part of what it reads.
                        let one = Frame {
                            changed: None,
                            ..one
                        };
                        if !all.contains(&one) {
                            all.push(one);
                        }
                    }
                }
                (from != to).then_some(Change::Frame { beds, from, to })
            }
            _ => None,
        }
    }

    fn policy(&mut self, name: &'a str, to: i64) -> Option<Change<'a>> {
        let from = self.policies.insert(name, to);
        (from != Some(to)).then_some(Change::Policy { name, from, to })
    }
}

impl<'a> Evidence<'a> {
    /// What the home set otherwise in the period, in the order of the records.
    #[must_use]
    pub fn changes(&self) -> Vec<Changed<'a>> {
        // What was agreed to, by the first record of the tap that agreed: its change is of the same.
        let mut agreed = BTreeMap::new();
        let asked: BTreeMap<_, Role> = self
            .entries
            .iter()
            .map(|entry| (entry.record.no, entry.record.role))
            .collect();
        for entry in &self.entries {
            if let Body::WishEnded {
                wish,
                end: WishEnd::Agreed,
            } = entry.record.body
            {
                agreed.insert(entry.record.first, asked.get(&wish).copied());
            }
        }
        let mut held = Held::default();
        let mut all = Vec::new();
        for entry in &self.entries {
            let Some(body) = entry.counts() else { continue };
            let change = held.takes(entry, body);
            if let Some(what) = change.filter(|_| self.span.has(entry.at)) {
                all.push(Changed {
                    record: entry.record,
                    at: entry.at,
                    asked_by: agreed.get(&entry.record.first).copied().flatten(),
                    what,
                });
            }
        }
        all
    }
}
