//! The part of the state that is the home's shelves and lists: disinfectants, storage places, counted stock, recalls.

use std::collections::{BTreeSet, VecDeque};

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::State;
use crate::choice::{Call, Method};
use crate::ids::{Item, ProfileName, RecallNo, RecordNo, Tag};
use crate::record::{On, Record};

/// How many of an item's newest uses are kept.
const USES_KEPT: usize = 200;

/// A disinfectant of the home's list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Product {
    /// What kind it is.
    pub method: Method,
    /// How long it must stay wet, in minutes.
    pub contact_minutes: u16,
    /// Whether its label says that it kills spores.
    pub sporicidal: bool,
}

/// Where surfaces stand that are not under a bed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Storage {
    /// The place for those that are to be cleaned.
    pub dirty: String,
    /// The place for those that are ready.
    pub clean: String,
}

/// Something on the shelf that is counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stock {
    /// How many are there by the books; below zero where more were used than were counted.
    pub on_hand: i64,
    /// When they were last counted.
    pub counted: DateTime<Utc>,
    /// The record of that count: what an order is asked for once by.
    pub no: RecordNo,
    /// Whether an order was asked for since that count.
    pub asked: bool,
    /// Since which day uses are known.
    pub since: NaiveDate,
    /// The days of the newest uses, oldest first, one entry a piece.
    pub uses: VecDeque<NaiveDate>,
}

impl Stock {
    /// Since which day the uses that are kept are all there were.
    pub fn known_since(&self) -> NaiveDate {
        match self.uses.front() {
            Some(oldest) if self.uses.len() >= USES_KEPT => self.since.max(*oldest),
            _ => self.since,
        }
    }
}

/// A recall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Recall {
    /// The profile.
    pub profile: ProfileName,
    /// The lot; all of them if none.
    pub lot: Option<String>,
    /// Since when.
    pub since: DateTime<Utc>,
    /// Every surface that it found.
    pub all: BTreeSet<Tag>,
    /// Those that are neither put right nor retired.
    pub open: BTreeSet<Tag>,
}

impl State {
    /// The open recall that a surface is part of.
    pub fn recall_of(&self, tag: &Tag) -> Option<(RecallNo, &Recall)> {
        self.recalls
            .iter()
            .find(|(_, recall)| recall.open.contains(tag))
            .map(|(no, recall)| (*no, recall))
    }

    pub(super) fn stock_counted(&mut self, record: &Record, item: &Item, count: u32) {
        let day = self.day(record);
        let stock = self.stock.entry(item.clone()).or_insert_with(|| Stock {
            on_hand: 0,
            counted: record.at,
            no: record.no,
            asked: false,
            since: day,
            uses: VecDeque::new(),
        });
        stock.on_hand = i64::from(count);
        stock.counted = record.at;
        stock.no = record.no;
        stock.asked = false;
    }

    pub(super) fn stock_used(&mut self, record: &Record, item: &Item, count: i32, order: bool) {
        let day = self.day(record);
        let Some(stock) = self.stock.get_mut(item) else {
            return;
        };
        stock.on_hand -= i64::from(count);
        stock.asked |= order;
        for _ in 0..count.max(0) {
            stock.uses.push_back(day);
            if stock.uses.len() > USES_KEPT {
                stock.uses.pop_front();
            }
        }
        for _ in count.min(0)..0 {
            stock.uses.pop_back();
        }
    }

    pub(super) fn recall_ends_for(&mut self, tag: &Tag) {
        let mut over = Vec::new();
        for (no, recall) in &mut self.recalls {
            if recall.open.remove(tag) && recall.open.is_empty() {
                over.push(*no);
            }
        }
        for no in over {
            self.unbook(&On::Recall(no), Call::Recall);
        }
    }

    /// The home's day of a record.
    fn day(&self, record: &Record) -> NaiveDate {
        match &self.facility {
            Some(facility) => facility.zone.local(record.at).date(),
            None => record.at.date_naive(),
        }
    }
}
