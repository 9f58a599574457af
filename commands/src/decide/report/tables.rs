//! The tables of a report's page. Decides their columns and what stands in each cell; leaves their order to `page`.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::{Facts, between, minutes, part_words, tally};
use crate::choice::{Action, Finding, Task, Work};
use crate::decide::draft::Asked;
use crate::decide::duty::role_word;
use crate::decide::paper::{element, html, plain};
use crate::decide::timeline::line::{Pen, end_key, words};
use crate::decide::timeline::{Row, page::cells};
use crate::decide::{alarm, check, look};
use crate::evidence::{Figures, Followed, SetUpStory};
use crate::ids::{Bed, Tag};
use crate::past::Entry;
use crate::record::{Body, Record};
use crate::rules::hand_check::{Air, Band, Judgement};
use crate::rules::waits::Waits;
use crate::say;
use crate::state::{Life, Surface};
use crate::words::Lang;

/// The most rows of one table: what is more stands in the rows' file.
pub(super) const ROWS_MOST: usize = 1_500;

/// The longest word of a cell that is never broken, in characters.
const WORD_MOST: usize = 14;

/// A cell, taken apart already.
type Cell = String;

/// What the tables are made from.
pub(super) struct Sheet<'a, 'b> {
    pub asked: &'a Asked<'a>,
    pub facts: &'a Facts<'b>,
    pub moment: &'a dyn Fn(DateTime<Utc>) -> String,
}

/// A table with its heads, or that there is nothing. The newest rows are kept where there are too many.
fn table(lang: Lang, heads: &[&str], rows: Vec<Vec<Cell>>) -> String {
    if rows.is_empty() {
        return element("p", &say!(lang, "report-none"));
    }
    let left = rows.len().saturating_sub(ROWS_MOST);
    let mut text = String::new();
    if left > 0 {
        text.push_str(&element(
            "p",
            &say!(lang, "report-table-left", count = left as i64),
        ));
    }
    let heads: String = heads
        .iter()
        .map(|key| format!("<th>{}</th>", html(&say!(lang, key))))
        .collect();
    text.push_str(&format!(
        "<table>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n"
    ));
    for row in &rows[left..] {
        let cells: String = row.iter().map(|text| cell(text)).collect();
        text.push_str(&format!("<tr>{cells}</tr>\n"));
    }
    text.push_str("</tbody></table>\n");
    text
}

/// A cell; a word that would make its column wider than paper has room for may be broken.
fn cell(text: &str) -> String {
    let long = text
        .split_whitespace()
        .any(|word| word.chars().count() > WORD_MOST);
    let class = if long { " class=\"long\"" } else { "" };
    format!("<td{class}>{text}</td>")
}

impl Sheet<'_, '_> {
    fn lang(&self) -> Lang {
        self.asked.lang
    }

    fn pen(&self) -> Pen<'_> {
        Pen {
            lang: self.lang(),
            moment: self.moment,
            typed: plain,
            beds: self.facts.beds,
        }
    }

    fn at(&self, at: DateTime<Utc>) -> Cell {
        // A day is not broken where a column is narrow.
        match (self.moment)(at).split_once(' ') {
            Some((day, time)) => format!("<span>{}</span> {}", html(day), html(time)),
            None => html(&(self.moment)(at)),
        }
    }

    fn maybe(&self, at: Option<DateTime<Utc>>) -> Cell {
        at.map_or_else(|| self.dash(), |at| self.at(at))
    }

    fn dash(&self) -> Cell {
        html(&say!(self.lang(), "report-not-on-record"))
    }

    fn words(&self, key: &str) -> Cell {
        html(&say!(self.lang(), key))
    }

    fn no(no: impl std::fmt::Display) -> Cell {
        format!("#{no}")
    }

    /// A surface with the unit that it lay in.
    fn surface(&self, tag: &Tag, at: DateTime<Utc>) -> Cell {
        let evidence = self.facts.evidence;
        let bed = evidence.places.get(tag).and_then(|place| place.bed_at(at));
        self.placed(tag, bed, at)
    }

    fn placed(&self, tag: &Tag, bed: Option<&Bed>, at: DateTime<Utc>) -> Cell {
        let unit = bed.and_then(|bed| self.facts.evidence.settings.unit(bed, at));
        let mut text = tag.to_string();
        if let Some(unit) = unit {
            text = format!("{text}, {}", unit.as_str());
        }
        if let Some(bed) = bed.filter(|_| self.facts.beds) {
            text = format!(
                "{text}, {}",
                say!(self.lang(), "timeline-bed", bed = bed.as_str())
            );
        }
        html(&text)
    }

    fn after(&self, from: DateTime<Utc>, to: Option<DateTime<Utc>>) -> Cell {
        match to {
            Some(to) => html(&between(self.lang(), from, to)),
            None => self.words("report-still-open"),
        }
    }

    fn reading(&self, air: Air, band: Band, judged: Judgement) -> String {
        let lang = self.lang();
        say!(
            lang,
            "line-checked",
            air = check::show_air(lang, air, band),
            judged = say!(lang, &format!("judged-{}", judged.as_str()))
        )
    }

    /// Checks by unit and shift.
    pub fn checks(&self) -> String {
        let lang = self.lang();
        let number = |number: u32| number.to_string();
        let mut rows: Vec<Vec<Cell>> = Vec::new();
        let all = say!(lang, "report-all");
        let parts = self.facts.coverage.parts.iter();
        let parts = parts.map(|(part, of)| (part_words(lang, part), *of));
        for (part, of) in parts.chain([(all, self.facts.coverage.all)]) {
            let Some(share) = tally(lang, of) else {
                continue;
            };
            let missing = of.due - of.on_time();
            rows.push(vec![
                html(&part),
                html(&share),
                number(of.made),
                number(of.could_not),
                number(missing),
                number(of.missed_away),
            ]);
        }
        table(
            lang,
            &[
                "report-col-part",
                "report-col-on-time",
                "report-col-made",
                "report-col-could-not",
                "report-col-missing",
                "report-col-away",
            ],
            rows,
        )
    }

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
            lang,
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
        html(&super::spread(self.lang(), waits, of))
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
            lang,
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

    /// Low readings and what followed.
    pub fn lows(&self) -> String {
        let lang = self.lang();
        let row = |low: &crate::evidence::LowReading<'_>| {
            let followed: Vec<String> = low
                .followed
                .iter()
                .map(|(at, what)| {
                    let what = match what {
                        Followed::Checked(air, band, judged) => self.reading(*air, *band, *judged),
                        Followed::Alarm(no) => say!(lang, "report-alarm-no", no = no.to_string()),
                        Followed::Pulled(fault) => say!(
                            lang,
                            "line-pulled",
                            fault = say!(lang, look::fault_key(*fault))
                        ),
                        Followed::Released => say!(lang, "report-released"),
                    };
                    if *at <= low.at {
                        return what;
                    }
                    let after = between(lang, low.at, *at);
                    say!(lang, "report-after", after = after, what = what)
                })
                .collect();
            let followed = if followed.is_empty() {
                self.words("report-nothing-yet")
            } else {
                html(&followed.join("; "))
            };
            vec![
                Self::no(low.no),
                self.at(low.at),
                self.surface(low.tag, low.at),
                html(&self.reading(low.air, low.band, low.judged)),
                html(&role_word(lang, low.by)),
                followed,
            ]
        };
        table(
            lang,
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-surface",
                "report-col-reading",
                "report-col-role",
                "report-col-followed",
            ],
            self.facts.lows.iter().map(row).collect(),
        )
    }

    /// The register, as it stands now.
    pub fn register(&self) -> String {
        let lang = self.lang();
        let since = self.in_service();
        let state = self.asked.state;
        let retired_before = |surface: &Surface| matches!(surface.life, Life::Retired { since } if since < self.facts.evidence.span.from);
        let surfaces = state
            .surfaces
            .iter()
            .filter(|(_, surface)| !retired_before(surface));
        let row = |(tag, surface): (&Tag, &Surface)| {
            let profile = state.profile_of(surface);
            let day = |day: Option<chrono::NaiveDate>| {
                day.map_or_else(|| self.dash(), |day| html(&day.to_string()))
            };
            let served = |work: Work| {
                surface.served.get(&work).map_or_else(
                    || self.dash(),
                    |of| {
                        let how = say!(lang, &format!("outcome-{}", of.outcome.as_str()));
                        html(&format!("{} {how}", of.on))
                    },
                )
            };
            let numbers: Vec<&str> = [&surface.serial, &surface.lot]
                .into_iter()
                .filter_map(|text| text.as_deref())
                .collect();
            let filter = surface.filter.as_ref().map_or_else(
                || self.dash(),
                |look| {
                    let finding = say!(lang, &format!("finding-{}", look.finding.as_str()));
                    html(&format!("{} {finding}", (self.moment)(look.at)))
                },
            );
            let cleaned = surface.cleaned.as_ref().map(|clean| clean.at);
            vec![
                html(tag.as_str()),
                html(profile.name.as_str()),
                html(&numbers.join(" / ")),
                self.life(surface),
                day(since.get(tag).copied()),
                served(Work::SafetyTest),
                served(Work::Maintenance),
                filter,
                day(surface.filter_changed),
                self.maybe(cleaned),
            ]
        };
        table(
            lang,
            &[
                "report-col-surface",
                "report-col-profile",
                "report-col-serial",
                "report-col-state",
                "report-col-in-service",
                "report-col-safety-test",
                "report-col-maintenance",
                "report-col-filter-look",
                "report-col-filter-new",
                "report-col-cleaned",
            ],
            surfaces.map(row).collect(),
        )
    }

    /// The day each surface came into service, as it was entered in the register.
    fn in_service(&self) -> BTreeMap<&Tag, chrono::NaiveDate> {
        let zone = &self.asked.facility.zone;
        let added = |entry: &Entry<'_>| {
            if let Body::SurfaceAdded { in_service, .. } = &entry.record.body {
                Some(in_service.unwrap_or_else(|| zone.local(entry.at).date()))
            } else {
                None
            }
        };
        let entries = self.facts.evidence.entries.iter();
        entries
            .filter_map(|entry| Some((entry.record.body.surface()?, added(entry)?)))
            .collect()
    }

    /// Where a surface is now.
    fn life(&self, surface: &Surface) -> Cell {
        let lang = self.lang();
        let unit = |bed: &Bed| {
            let unit = self.asked.state.bed_units.get(bed);
            let unit = unit.map_or_else(String::new, |unit| unit.to_string());
            if self.facts.beds {
                format!("{unit} {bed}").trim().to_owned()
            } else {
                unit
            }
        };
        let text = match &surface.life {
            Life::Placed { bed, .. } => say!(lang, "report-life-placed", at = unit(bed)),
            Life::Soiled(_) => say!(lang, "report-life-soiled"),
            Life::Ready { .. } => say!(lang, "report-life-ready"),
            Life::OutOfService { fault, .. } => say!(
                lang,
                "line-pulled",
                fault = say!(lang, look::fault_key(*fault))
            ),
            Life::Retired { .. } => say!(lang, "line-retired"),
        };
        html(&text)
    }

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
            lang,
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
            None => self.words("report-rails-not-wanted"),
            Some(None) => self.dash(),
            Some(Some(at)) => self.at(at),
        }
    }

    /// Gaps as they were measured.
    pub fn zones(&self) -> String {
        let of = |body: &Body| matches!(body, Body::ZonesMeasured { .. } | Body::ZonesActed { .. });
        let rows = self.lines(of, true);
        self.lines_table(rows)
    }

    /// Out of service and back.
    pub fn outs(&self) -> String {
        let lang = self.lang();
        let row = |out: &crate::evidence::OutStory<'_>| {
            let tested = out.tested.map_or_else(
                || self.dash(),
                |(on, outcome)| {
                    let how = say!(lang, &format!("outcome-{}", outcome.as_str()));
                    html(&format!("{on} {how}"))
                },
            );
            vec![
                Self::no(out.no),
                self.at(out.at),
                self.surface(out.tag, out.at),
                self.words(look::fault_key(out.fault)),
                self.maybe(out.repaired),
                tested,
                self.maybe(out.returned),
                self.maybe(out.ready),
            ]
        };
        table(
            lang,
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-surface",
                "report-col-fault",
                "report-col-repaired",
                "report-col-tested",
                "report-col-returned",
                "report-col-ready",
            ],
            self.facts.outs.iter().map(row).collect(),
        )
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
            let ready = match (turn.ready, turn.pulled) {
                (Some(at), _) => html(&between(lang, turn.at, at)),
                (None, true) => self.words("report-went-out"),
                (None, false) => self.dash(),
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
                self.maybe(turn.ready),
                ready,
            ]
        };
        table(
            lang,
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

    /// Each cleaning.
    pub fn cleanings(&self) -> String {
        let rows = self.lines(|body| matches!(body, Body::Cleaned { .. }), true);
        self.lines_table(rows)
    }

    /// Looks at filters that found something, or changed it; the clean ones are counted.
    pub fn filters(&self) -> String {
        let clean = |body: &Body| {
            matches!(
                body,
                Body::FilterLooked {
                    finding: Finding::Clean,
                    action: Action::Left,
                    ..
                }
            )
        };
        let count = self.facts.count(clean);
        let rows = self.lines(
            |body| matches!(body, Body::FilterLooked { .. }) && !clean(body),
            true,
        );
        let mut text = element(
            "p",
            &say!(self.lang(), "report-filters-clean", count = count),
        );
        text.push_str(&self.lines_table(rows));
        text
    }

    /// Tests and maintenance.
    pub fn services(&self) -> String {
        let rows = self.lines(
            |body| matches!(body, Body::Serviced { .. } | Body::Repaired { .. }),
            true,
        );
        self.lines_table(rows)
    }

    /// Papers that were done without, with what was said to it.
    pub fn overrides(&self) -> String {
        let rows = self.lines(|body| matches!(body, Body::PaperWaived { .. }), true);
        self.lines_table(rows)
    }

    /// Entries of a kind in the order in which they happened, each as a line.
    fn lines(&self, of: impl Fn(&Body) -> bool, note: bool) -> Vec<Vec<Cell>> {
        let lang = self.lang();
        let line = |(entry, body): &(&Entry<'_>, &Body)| {
            let mut what = words(self.pen(), body);
            if let Some(said) = entry.record.note.as_deref().filter(|_| note) {
                what = format!("{what} “{}”", plain(said));
            }
            let at = entry.at;
            let surface = match (body.surface(), body.beds().first()) {
                (Some(tag), Some(bed)) => self.placed(tag, Some(bed), at),
                (Some(tag), None) => self.surface(tag, at),
                (None, Some(bed)) => {
                    let unit = self.facts.evidence.settings.unit(bed, at);
                    let unit = unit.map_or_else(String::new, |unit| unit.to_string());
                    let bed = if self.facts.beds { bed.as_str() } else { "" };
                    html(format!("{unit} {bed}").trim())
                }
                (None, None) => String::new(),
            };
            vec![
                Self::no(entry.record.no),
                self.at(at),
                surface,
                html(&what),
                html(&role_word(lang, entry.record.role)),
            ]
        };
        let chosen = self.facts.counting.iter().filter(|(_, body)| of(body));
        chosen.map(line).collect()
    }

    fn lines_table(&self, rows: Vec<Vec<Cell>>) -> String {
        table(
            self.lang(),
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-surface",
                "report-col-what",
                "report-col-role",
            ],
            rows,
        )
    }

    /// Kept for an inquiry.
    pub fn holds(&self) -> String {
        let row = |hold: &crate::evidence::HoldStory<'_>| {
            vec![
                Self::no(hold.no),
                self.at(hold.at),
                self.surface(hold.tag, hold.at),
                self.maybe(hold.reported),
                hold.ended
                    .map_or_else(|| self.words("report-still-held"), |at| self.at(at)),
            ]
        };
        table(
            self.lang(),
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-surface",
                "report-col-reported",
                "report-col-released",
            ],
            self.facts.holds.iter().map(row).collect(),
        )
    }

    /// Recalls that began in the period, or still have surfaces open.
    pub fn recalls(&self) -> String {
        let span = self.facts.evidence.span;
        let recalls = self.asked.state.recalls.iter().filter(|(_, recall)| {
            span.has(recall.since) || (recall.since < span.to && !recall.open.is_empty())
        });
        let rows = recalls.map(|(no, recall)| {
            vec![
                Self::no(no),
                self.at(recall.since),
                html(recall.profile.as_str()),
                html(recall.lot.as_deref().unwrap_or_default()),
                recall.all.len().to_string(),
                recall.open.len().to_string(),
            ]
        });
        table(
            self.lang(),
            &[
                "report-col-entry",
                "report-col-when",
                "report-col-profile",
                "report-col-lot",
                "report-col-surfaces",
                "report-col-open",
            ],
            rows.collect(),
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
            lang,
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
            lang,
            &["report-col-from", "report-col-until", "report-col-lasted"],
            self.facts.evidence.away().iter().map(row).collect(),
        )
    }

    /// How many sign-offs hold, by task: of nobody by name.
    pub fn sign_offs(&self) -> String {
        let lang = self.lang();
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
            lang,
            &["report-col-task", "report-col-current", "report-col-lapsed"],
            rows.collect(),
        )
    }

    /// What was corrected, remarked on, signed or taken back, as it read before and with its trail.
    pub fn corrected(&self) -> String {
        let lang = self.lang();
        let corrected = &self.facts.corrected;
        if corrected.is_empty() {
            return element("p", &say!(lang, "report-none"));
        }
        let left = corrected.len().saturating_sub(ROWS_MOST);
        let mut text = String::new();
        if left > 0 {
            text.push_str(&element(
                "p",
                &say!(lang, "report-table-left", count = left as i64),
            ));
        }
        let heads: String = [
            "timeline-col-entry",
            "timeline-col-when",
            "timeline-col-what",
            "report-col-role",
            "timeline-col-later",
        ]
        .iter()
        .map(|key| format!("<th>{}</th>", html(&say!(lang, key))))
        .collect();
        text.push_str(&format!(
            "<table>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n"
        ));
        let who = |record: &Record| role_word(lang, record.role);
        for entry in &corrected[left..] {
            let row = Row {
                entry: (*entry).clone(),
                tag: entry.record.body.surface().cloned(),
                gone_to: None,
            };
            text.push_str(&cells(self.asked, &row, &self.pen(), &who));
        }
        text.push_str("</tbody></table>\n");
        text
    }

    /// Looks out of turn.
    pub fn again(&self) -> String {
        let again = self.facts.coverage.rechecks;
        let (kept, booked) = (i64::from(again.kept), i64::from(again.booked));
        let lang = self.lang();
        element(
            "p",
            &say!(lang, "report-again", kept = kept, booked = booked),
        )
    }

    /// In how long half of the turnovers were over, of those begun in the period.
    pub fn turn_times(&self) -> Option<String> {
        let now = self.facts.evidence.now;
        let waits: Vec<crate::rules::waits::Wait> = self
            .facts
            .turns
            .iter()
            .map(|turn| {
                let lasted = turn.ready.unwrap_or(now) - turn.at;
                crate::rules::waits::Wait {
                    time: lasted.num_seconds().max(0) as f64 / 60.0,
                    over: turn.ready.is_some(),
                }
            })
            .collect();
        if waits.len() < super::FEW {
            return None;
        }
        let of = Waits::of(&waits)?;
        let lang = self.lang();
        let known = |time: Option<f64>| match time {
            Some(time) => minutes(lang, time),
            None => say!(lang, "report-not-known"),
        };
        let (half, most) = (known(of.median()), known(of.ninetieth()));
        let spread = say!(lang, "report-spread", half = half, most = most);
        Some(element(
            "p",
            &say!(lang, "report-turn-times", spread = spread),
        ))
    }
}
