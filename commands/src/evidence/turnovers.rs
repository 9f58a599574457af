//! Turnovers: a surface between two residents. Decides when one begins, when it is over, and what breaks one off: a surface
//! that is kept for an inquiry, out of service, recalled or gone for good waits for nobody to clean it.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::Evidence;
use crate::choice::{Method, ReleaseReason};
use crate::ids::{RecordNo, Tag};
use crate::past::Entry;
use crate::record::{Body, Fault};

/// A surface between two residents.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnStory<'a> {
    /// The record that released it.
    pub no: RecordNo,
    /// When.
    pub at: DateTime<Utc>,
    /// The surface.
    pub tag: &'a Tag,
    /// Why it left the bed.
    pub reason: ReleaseReason,
    /// With what it was cleaned: what kind, and which product.
    pub cleaned: Vec<(Method, Option<&'a str>)>,
    /// When it was over, and how; nothing while it waits.
    pub end: Option<(DateTime<Utc>, TurnEnd)>,
}

/// How a turnover ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnEnd {
    /// It was ready.
    Ready,
    /// It went out of service, kept for an inquiry or recalled included: its way back is another.
    Out(Fault),
    /// It left for good, or went back to whom it is rented from.
    Gone,
    /// It came under a bed although nothing says that it was ready: a log from before there were lists.
    Placed,
}

impl TurnStory<'_> {
    /// When it was ready.
    #[must_use]
    pub fn ready(&self) -> Option<DateTime<Utc>> {
        self.end
            .filter(|(_, end)| *end == TurnEnd::Ready)
            .map(|(at, _)| at)
    }
}

/// One surface as its entries pass.
#[derive(Default)]
struct Going<'a> {
    out: bool,
    open: Option<TurnStory<'a>>,
    all: Vec<TurnStory<'a>>,
}

impl<'a> Going<'a> {
    fn ends(&mut self, at: DateTime<Utc>, end: TurnEnd) {
        if let Some(mut turn) = self.open.take() {
            turn.end = Some((at, end));
            self.all.push(turn);
        }
    }

    fn takes(&mut self, entry: &Entry<'_>, tag: &'a Tag, body: &'a Body) {
        match body {
            Body::Released { reason, .. } if !self.out => {
                self.open = Some(TurnStory {
                    no: entry.record.no,
                    at: entry.at,
                    tag,
                    reason: *reason,
                    cleaned: Vec::new(),
                    end: None,
                });
            }
            Body::Cleaned {
                method, product, ..
            } => {
                if let Some(turn) = &mut self.open {
                    turn.cleaned.push((*method, product.as_deref()));
                }
            }
            Body::Readied { .. } => {
                self.ends(entry.at, TurnEnd::Ready);
                self.out = false;
            }
            Body::Pulled { fault, .. } => {
                self.ends(entry.at, TurnEnd::Out(*fault));
                self.out = true;
            }
            Body::Held { .. } => {
                self.ends(entry.at, TurnEnd::Out(Fault::Inquiry));
                self.out = true;
            }
            Body::Returned { .. } => self.out = false,
            Body::SurfaceRetired { .. } | Body::Collected { .. } => {
                self.ends(entry.at, TurnEnd::Gone);
            }
            Body::Placed { .. } => {
                self.ends(entry.at, TurnEnd::Placed);
                self.out = false;
            }
            _ => {}
        }
    }
}

impl<'a> Evidence<'a> {
    /// Turnovers that began in the period.
    #[must_use]
    pub fn turnovers(&self) -> Vec<TurnStory<'a>> {
        let mut going: BTreeMap<&Tag, Going<'a>> = BTreeMap::new();
        for (entry, body) in self.all_counting() {
            if let Some(tag) = body.surface() {
                going.entry(tag).or_default().takes(entry, tag, body);
            }
        }
        let mut all: Vec<TurnStory<'_>> = going
            .into_values()
            .flat_map(|of| of.all.into_iter().chain(of.open))
            .filter(|turn| self.span.has(turn.at))
            .collect();
        all.sort_by_key(|turn| (turn.at, turn.no));
        all
    }
}
