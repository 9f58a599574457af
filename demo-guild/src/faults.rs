//! Faults that a test asks for: answers that fail, arrive late or are lost.
//!
//! Decides which request a fault meets; leaves the failing to the routes and the gateway.

use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use crate::problem::Problem;

/// What goes wrong with a request.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// It is not done, and answered with that status and no body of ours (500, 502, 503 …).
    Status(u16),
    /// It is not done, and refused as the platform would: `TOO_MANY_EDITS`, `MISSING_ACCESS` ….
    Refused(Problem),
    /// It is not done, and answered 429 with that wait in seconds.
    TooMany(f64),
    /// It is not done: the connection drops before anything is read of it.
    Dropped,
    /// It is done, but the connection drops before its answer.
    AnswerLost,
    /// It is done, but its answer comes this much later.
    AnswerLate(Duration),
    /// It is done this much later.
    Late(Duration),
    /// It is done, and answered 200 with a body that is no JSON.
    Garbled,
}

/// A handle to the faults of a guild.
#[derive(Clone, Debug, Default)]
pub struct Faults {
    planned: Arc<Mutex<Vec<Planned>>>,
}

#[derive(Debug)]
struct Planned {
    method: String,
    path: String,
    left: usize,
    fault: Fault,
}

impl Faults {
    /// The next `n` requests that match meet the fault. A route is a method and a path below the
    /// interface's root where `*` stands for one segment: `POST /channels/*/messages`,
    /// `POST /interactions/*/*/callback`; `*` as the method is any. Faults planned first meet
    /// requests first.
    pub fn next(&self, n: usize, route: &str, fault: Fault) {
        let (method, path) = route.split_once(' ').unwrap_or(("*", route));
        let (method, path) = (method.to_owned(), path.to_owned());
        self.locked().push(Planned {
            method,
            path,
            left: n,
            fault,
        });
    }

    /// Forgets all that are planned.
    pub fn clear(&self) {
        self.locked().clear();
    }

    /// How many planned faults are still to come.
    pub fn left(&self) -> usize {
        self.locked().iter().map(|p| p.left).sum()
    }

    /// The fault that a request meets.
    pub(crate) fn meet(&self, method: &str, path: &str) -> Option<Fault> {
        let mut planned = self.locked();
        if planned.is_empty() {
            return None;
        }
        let at = planned
            .iter()
            .position(|p| (p.method == "*" || p.method == method) && matches(&p.path, path))?;
        planned[at].left -= 1;
        let fault = planned[at].fault.clone();
        planned.retain(|p| p.left > 0);
        Some(fault)
    }

    fn locked(&self) -> std::sync::MutexGuard<'_, Vec<Planned>> {
        self.planned.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn matches(pattern: &str, path: &str) -> bool {
    let (mut wanted, mut given) = (pattern.split('/'), path.split('/'));
    loop {
        match (wanted.next(), given.next()) {
            (None, None) => return true,
            (Some(w), Some(g)) if w == "*" || w == g => {}
            _ => return false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_meets_as_many_requests_of_its_route_as_were_asked_for() {
        let faults = Faults::default();
        faults.next(2, "POST /channels/*/messages", Fault::Status(503));
        assert_eq!(faults.meet("GET", "/channels/1/messages"), None);
        assert_eq!(faults.meet("POST", "/channels/1/messages/2"), None);
        assert_eq!(
            faults.meet("POST", "/channels/1/messages"),
            Some(Fault::Status(503))
        );
        assert_eq!(faults.left(), 1);
        assert_eq!(
            faults.meet("POST", "/channels/2/messages"),
            Some(Fault::Status(503))
        );
        assert_eq!(faults.meet("POST", "/channels/2/messages"), None);
    }
}
