//! The part of the state that is what waits for a supervisor, and what the home said of beds in posts. Decides what a
//! wish takes the place of and when it is gone; leaves who may ask and who may agree to `decide`.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::State;
use crate::choice::Call;
use crate::ids::{Person, RecordNo};
use crate::record::{Body, On, Record, Wish};
use crate::role::Role;
use crate::rules::policy::{self, Name};

/// A wish that waits.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Waiting {
    /// Which change.
    pub wish: Wish,
    /// Who asked for it.
    pub who: Option<Person>,
    /// Since when it waits.
    pub since: DateTime<Utc>,
}

/// What the home said of beds in posts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BedsApproval {
    /// Whether posts may show them.
    pub approved: bool,
    /// Who recorded it.
    pub who: Option<Person>,
    /// In which role; unknown of what was kept before that was remembered.
    #[serde(default)]
    pub role: Option<Role>,
    /// When.
    pub at: DateTime<Utc>,
}

impl Wish {
    /// What a record asks for, whichever of its three shapes it has.
    pub fn asked_in(body: &Body) -> Option<Wish> {
        if let Body::WishAsked { wish } = body {
            Some(wish.clone())
        } else if let Body::PolicyAsked { name, value } = body {
            Some(Wish::Policy {
                name: name.clone(),
                value: *value,
            })
        } else if let Body::LadderAsked {
            first,
            second,
            third,
            repeat,
        } = body
        {
            Some(Wish::Ladder {
                first: *first,
                second: *second,
                third: *third,
                repeat: *repeat,
            })
        } else {
            None
        }
    }

    /// Whether both are about the same thing: the newer takes the place of the older.
    pub fn same_matter(&self, other: &Wish) -> bool {
        match (self, other) {
            (Wish::Policy { name, .. }, Wish::Policy { name: of, .. }) => name == of,
            (Wish::Ladder { .. }, Wish::Ladder { .. }) => true,
            (
                Wish::Schedule { what, unit, .. },
                Wish::Schedule {
                    what: kind,
                    unit: of,
                    ..
                },
            ) => what == kind && unit == of,
            (
                Wish::Product { name, .. } | Wish::ProductOff { name },
                Wish::Product { name: of, .. } | Wish::ProductOff { name: of },
            ) => name == of,
            (Wish::Roles { .. }, Wish::Roles { .. }) => true,
            (Wish::Profile { profile }, Wish::Profile { profile: of }) => profile.name == of.name,
            (Wish::Approved { beds, .. }, Wish::Approved { beds: of, .. }) => beds == of,
            (
                Wish::Policy { .. }
                | Wish::Ladder { .. }
                | Wish::Schedule { .. }
                | Wish::Product { .. }
                | Wish::ProductOff { .. }
                | Wish::Roles { .. }
                | Wish::Profile { .. }
                | Wish::Approved { .. },
                _,
            ) => false,
        }
    }
}

impl State {
    pub(super) fn wished(&mut self, record: &Record, wish: Wish) {
        self.settle_where(|of| of.same_matter(&wish));
        let waiting = Waiting {
            wish,
            who: record.who,
            since: record.at,
        };
        self.wishes.insert(record.no, waiting);
    }

    pub(super) fn settle(&mut self, no: RecordNo) {
        self.wishes.remove(&no);
        self.unbook(&On::Wish(no), Call::Agree);
    }

    /// A policy was set: what was asked of it is settled.
    pub(super) fn settle_policy(&mut self, word: &str) {
        self.settle_where(|wish| matches!(wish, Wish::Policy { name, .. } if name == word));
        // Before there was a record of its own, the approval of beds was a policy like others.
        if word == policy::row(Name::BedsInPosts).word {
            self.beds_approval = None;
        }
    }

    pub(super) fn settle_ladder(&mut self) {
        self.settle_where(|wish| matches!(wish, Wish::Ladder { .. }));
    }

    pub(super) fn beds_approved(&mut self, record: &Record, approved: bool) {
        self.policies
            .set(policy::row(Name::BedsInPosts).word, i64::from(approved));
        self.beds_approval = Some(BedsApproval {
            approved,
            who: record.who,
            role: Some(record.role),
            at: record.at,
        });
    }

    fn settle_where(&mut self, about: impl Fn(&Wish) -> bool) {
        let settled: Vec<RecordNo> = self
            .wishes
            .iter()
            .filter(|(_, waiting)| about(&waiting.wish))
            .map(|(no, _)| *no)
            .collect();
        for no in settled {
            self.settle(no);
        }
    }
}
