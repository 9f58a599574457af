//! The tables of what people do at beds and between residents: set-ups, turnovers, cleanings, and who may.

use std::collections::BTreeMap;

use super::super::{FEW, between, quantiles};
use super::{Cell, Sheet, table};
use crate::choice::Task;
use crate::decide::duty::role_word;
use crate::decide::look;
use crate::decide::paper::{element, html, plain};
use crate::evidence::{SetUpStory, TurnEnd};
use crate::record::Body;
use crate::rules::waits::{Wait, Waits};
use crate::say;

impl Sheet<'_, '_> {
    /// Placements with their checklists.
    pub fn set_ups(&self) -> String {
        let lang = self.lang();
        let row = |set_up: &SetUpStory<'_>| {
            let (done, left) = self.steps(set_up);
            let key = if set_up.moved {
                "report-moved"
            } else {
                "report-placed"
            };
            vec![
                Self::no(set_up.no),
                self.at(set_up.at),
                self.placed(set_up.tag, Some(set_up.bed), set_up.at),
                self.words(key),
                html(&role_word(lang, set_up.by)),
                done,
                left,
                self.rails(set_up),
            ]
        };
        table(
            self,
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-surface",
                "report-col-how",
                "report-col-role",
                "report-col-complete",
                "report-col-left",
                "report-col-rails",
            ],
            self.facts.set_ups.iter().map(row).collect(),
        )
    }

    /// How far a checklist came, and what was left of it.
    fn steps(&self, set_up: &SetUpStory<'_>) -> (Cell, Cell) {
        let lang = self.lang();
        let Some(steps) = &set_up.steps else {
            return (self.words("report-no-list"), String::new());
        };
        let done = match set_up.complete {
            Some(at) => {
                let after = between(lang, set_up.at, at);
                html(&say!(lang, "report-complete-after", after = after))
            }
            None => {
                let (left, all) = (steps.left().count() as i64, steps.wanted.len() as i64);
                html(&say!(lang, "report-done-of", done = all - left, of = all))
            }
        };
        let left: Vec<String> = steps
            .left()
            .map(|step| say!(lang, &format!("step-{}", step.as_str())))
            .collect();
        (done, html(&left.join(", ")))
    }

    fn rails(&self, set_up: &SetUpStory<'_>) -> Cell {
        match set_up.rails() {
            // Without a list nothing says whether the bed had any.
            None if set_up.steps.is_none() => self.dash(),
            None => self.words("report-rails-not-wanted"),
            Some(None) => self.dash(),
            Some(Some(at)) => self.at(at),
        }
    }

    /// Between two residents.
    pub fn turns(&self) -> String {
        let lang = self.lang();
        let row = |turn: &crate::evidence::TurnStory<'_>| {
            let with: Vec<String> = turn
                .cleaned
                .iter()
                .map(|(method, product)| match product {
                    Some(product) => plain(product),
                    None => say!(lang, &format!("method-{}", method.as_str())),
                })
                .collect();
            let took = match turn.end {
                Some((at, TurnEnd::Ready)) => html(&between(lang, turn.at, at)),
                Some((_, TurnEnd::Out(fault))) => html(&say!(
                    lang,
                    "report-went-out",
                    why = say!(lang, look::fault_key(fault))
                )),
                Some((_, TurnEnd::Gone)) => self.words("report-went-for-good"),
                Some((_, TurnEnd::Placed)) => self.words("report-went-into-use"),
                None => self.words("report-still-open"),
            };
            let with = if with.is_empty() {
                self.dash()
            } else {
                html(&with.join(", "))
            };
            vec![
                Self::no(turn.no),
                self.at(turn.at),
                html(turn.tag.as_str()),
                html(&say!(lang, "line-released", reason = turn.reason.as_str())),
                with,
                self.maybe(turn.ready()),
                took,
            ]
        };
        table(
            self,
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-surface",
                "report-col-why",
                "report-col-cleaned-with",
                "report-col-ready",
                "report-col-ready-after",
            ],
            self.facts.turns.iter().map(row).collect(),
        )
    }

    /// In how long half of the turnovers were over, of those begun in the period.
    pub fn turn_times(&self) -> Option<String> {
        let now = self.facts.evidence.now;
        let waits: Vec<Wait> = self
            .facts
            .turns
            .iter()
            .map(|turn| {
                // One that was broken off waits no more: it counts as longer than it had lasted then.
                let lasted = turn.end.map_or(now, |(at, _)| at) - turn.at;
                Wait {
                    time: lasted.num_seconds().max(0) as f64 / 60.0,
                    over: turn.ready().is_some(),
                }
            })
            .collect();
        if waits.len() < FEW {
            return None;
        }
        let of = Waits::of(&waits)?;
        let lang = self.lang();
        let spread = quantiles(lang, &of);
        Some(element(
            "p",
            &say!(lang, "report-turn-times", spread = spread),
        ))
    }

    /// Each cleaning.
    pub fn cleanings(&self) -> String {
        let rows = self.lines(|body| matches!(body, Body::Cleaned { .. }), true);
        self.lines_table(rows)
    }

    /// Papers that were done without, with what was said to it.
    pub fn overrides(&self) -> String {
        let rows = self.lines(|body| matches!(body, Body::PaperWaived { .. }), true);
        self.lines_table(rows)
    }

    /// How many sign-offs hold, by task: of nobody by name.
    pub fn sign_offs(&self) -> String {
        let today = self.asked.facility.zone.local(self.asked.now).date();
        let mut tasks: BTreeMap<Task, (u32, u32)> = BTreeMap::new();
        for (_, task, _, sign_off) in self.asked.state.staff.all_sign_offs() {
            let of = tasks.entry(task).or_default();
            if today <= sign_off.renew {
                of.0 += 1;
            } else {
                of.1 += 1;
            }
        }
        let rows = tasks.into_iter().map(|(task, (current, lapsed))| {
            vec![
                self.words(&format!("task-{}", task.as_str())),
                current.to_string(),
                lapsed.to_string(),
            ]
        });
        table(
            self,
            &["report-col-task", "report-col-current", "report-col-lapsed"],
            rows.collect(),
        )
    }
}
