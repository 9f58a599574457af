//! The tables of alarms, power failures and loftwatch's own absence.

use super::super::{between, spread};
use super::{Cell, Sheet, table};
use crate::decide::alarm;
use crate::decide::paper::html;
use crate::decide::timeline::line::end_key;
use crate::evidence::Figures;
use crate::rules::waits::Waits;
use crate::say;

impl Sheet<'_, '_> {
    /// How long alarms took, by cause, by unit, by shift and all together.
    pub fn waits(&self) -> String {
        let lang = self.lang();
        let facts = self.facts;
        let cause = |cause: Option<_>| {
            cause.map_or_else(
                || say!(lang, "report-cause-none"),
                |cause| alarm::cause_words(lang, cause),
            )
        };
        let mut rows: Vec<Vec<Cell>> = Vec::new();
        let mut add = |name: String, of: &Figures| {
            rows.push(vec![
                html(&name),
                of.count.to_string(),
                of.open.to_string(),
                self.quantiles(&of.taken, of),
                self.quantiles(&of.safe, of),
                self.quantiles(&of.over, of),
            ]);
        };
        for (of, figures) in facts.alarms_by(|alarm| alarm.cause) {
            add(say!(lang, "report-by-cause", cause = cause(of)), &figures);
        }
        for (of, figures) in facts.alarms_by(|alarm| alarm.unit.cloned()) {
            let unit = of.map_or_else(
                || say!(lang, "report-unit-none"),
                |unit| say!(lang, "report-by-unit", unit = unit.as_str()),
            );
            add(unit, &figures);
        }
        for (of, figures) in facts.alarms_by(|alarm| alarm.shift) {
            let shift = of.format("%H:%M").to_string();
            add(say!(lang, "report-by-shift", shift = shift), &figures);
        }
        for ((), figures) in facts.alarms_by(|_| ()) {
            add(say!(lang, "report-all"), &figures);
        }
        table(
            self,
            &[
                "report-col-group",
                "report-col-alarms",
                "report-col-open",
                "report-col-taken",
                "report-col-safe",
                "report-col-over",
            ],
            rows,
        )
    }

    fn quantiles(&self, waits: &Waits, of: &Figures) -> Cell {
        html(&spread(self.lang(), waits, of))
    }

    /// Each alarm.
    pub fn alarms(&self) -> String {
        let lang = self.lang();
        let row = |alarm: &crate::evidence::AlarmStory<'_>| {
            let over = alarm.over.map_or_else(
                || self.words("report-still-open"),
                |(at, end)| {
                    let took = between(lang, alarm.opened, at);
                    html(&format!("{took}: {}", say!(lang, end_key(end))))
                },
            );
            let cause = alarm.cause.map_or_else(
                || say!(lang, "report-cause-none"),
                |cause| alarm::cause_words(lang, cause),
            );
            vec![
                Self::no(alarm.no),
                self.at(alarm.opened),
                self.surface(alarm.tag, alarm.opened),
                html(&format!(
                    "{} ({})",
                    alarm::kind_words(lang, alarm.kind),
                    say!(lang, alarm::priority_key(alarm.priority))
                )),
                self.after(alarm.opened, alarm.taken),
                self.after(alarm.opened, alarm.safe),
                over,
                html(&cause),
                alarm.rung.to_string(),
            ]
        };
        table(
            self,
            &[
                "report-col-entry",
                "report-col-began",
                "report-col-surface",
                "report-col-what",
                "report-col-taken-after",
                "report-col-safe-after",
                "report-col-over-after",
                "report-col-cause",
                "report-col-called",
            ],
            self.facts.alarms.iter().map(row).collect(),
        )
    }

    /// Power failures.
    pub fn outages(&self) -> String {
        let lang = self.lang();
        let row = |outage: &crate::evidence::OutageStory<'_>| {
            vec![
                Self::no(outage.no),
                self.at(outage.at),
                html(outage.unit.as_str()),
                html(&say!(
                    lang,
                    "report-done-of",
                    done = outage.seen as i64,
                    of = outage.surfaces as i64
                )),
                self.after(outage.at, outage.ended),
            ]
        };
        table(
            self,
            &[
                "report-col-entry",
                "report-col-began",
                "report-col-unit",
                "report-col-looked-at",
                "report-col-lasted",
            ],
            self.facts.outages.iter().map(row).collect(),
        )
    }

    /// When loftwatch was away.
    pub fn away(&self) -> String {
        let lang = self.lang();
        let row = |span: &crate::evidence::Span| {
            vec![
                self.at(span.from),
                self.at(span.to),
                html(&between(lang, span.from, span.to)),
            ]
        };
        table(
            self,
            &["report-col-from", "report-col-until", "report-col-lasted"],
            self.facts.evidence.away().iter().map(row).collect(),
        )
    }
}
