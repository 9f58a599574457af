//! Who was called about what in a shift, a line for each matter. Decides what of its calls is said: whom it reached, and
//! when first, and where there were more, the last and how many; leaves whom to call to `asking`.

use chrono::{DateTime, Utc};

use super::{Shift, names};
use crate::decide::{clock_time, in_post, person};
use crate::record::On;
use crate::role::Role;
use crate::say;
use crate::state::{Called, State, Told};
use crate::words::Lang;

/// The calls about one matter.
#[derive(Default)]
struct Calls {
    /// Whom they reached, in words, each when that was first.
    first: Vec<(String, DateTime<Utc>)>,
    /// Aides, nurses and supervisors have been called at once.
    everybody: bool,
    /// Calls in all.
    count: i64,
    /// Those that reached somebody new.
    new: i64,
    /// The newest.
    last: DateTime<Utc>,
}

impl Calls {
    fn add(&mut self, lang: Lang, at: DateTime<Utc>, called: &Called) {
        let before = self.first.len();
        let top = [Role::Aide, Role::Nurse, Role::Supervisor];
        let all = top.iter().all(|role| called.roles.contains(role));
        // Whoever stood on the rungs before is called with all the others: that is one word and not a name for each.
        let at_once = all && before > 0;
        if at_once && !self.everybody {
            self.first.push((say!(lang, "told-everybody"), at));
        }
        self.everybody |= all;
        let roles = called
            .roles
            .iter()
            .filter(|role| !(at_once && top.contains(role)));
        let who = roles
            .map(|role| say!(lang, &format!("told-{}", role.as_str())))
            .chain(called.people.iter().map(|(who, _)| person(*who)));
        for who in who {
            if !self.first.iter().any(|(known, _)| *known == who) {
                self.first.push((who, at));
            }
        }
        self.count += 1;
        self.new += i64::from(self.first.len() > before);
        self.last = at;
    }
}

impl Shift<'_> {
    /// Who was called about what in this shift, a line for each matter, in the order of their first calls; a line names so
    /// many at `most`.
    pub(super) fn told(&self, state: &State, lang: Lang, most: usize) -> Vec<String> {
        let mut about: Vec<(String, Calls)> = Vec::new();
        let in_shift = |told: &&Told| self.from <= told.at && told.at < self.to;
        for told in state.duty.told.iter().filter(in_shift) {
            let name = match &told.on {
                On::Surface(tag) if self.here(state, tag) => in_post(state, lang, tag),
                On::Unit(unit) if self.unit.is_none_or(|of| of == unit) => unit.to_string(),
                On::Surface(_) | On::Recall(_) | On::Outage(_) | On::Unit(_) | On::Wish(_) => {
                    continue;
                }
            };
            let place = match about.iter().position(|(of, _)| *of == name) {
                Some(place) => place,
                None => {
                    about.push((name, Calls::default()));
                    about.len() - 1
                }
            };
            about[place].1.add(lang, told.at, &told.called);
        }
        let whole = state.duty.told_since(self.from);
        about
            .into_iter()
            .map(|(name, calls)| told_line(lang, &name, calls, whole, most))
            .collect()
    }
}

/// The line of one matter; `whole` where none of its calls can have been forgotten.
fn told_line(lang: Lang, name: &str, calls: Calls, whole: bool, most: usize) -> String {
    let last = clock_time(calls.last);
    if !whole {
        // Whom the forgotten ones reached, and when, nobody can say.
        let count = calls.count;
        return say!(
            lang,
            "handover-told-least",
            surface = name,
            count = count,
            at = last
        );
    }
    let first = calls.first.into_iter();
    let who = first.map(|(who, at)| format!("{who} {}", clock_time(at)));
    let who = names(lang, who.collect(), most);
    if calls.count == calls.new {
        return say!(lang, "handover-told", surface = name, who = who);
    }
    say!(
        lang,
        "handover-told-often",
        surface = name,
        who = who,
        at = last,
        count = calls.count
    )
}
