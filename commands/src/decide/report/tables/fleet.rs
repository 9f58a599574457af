//! The tables of the surfaces themselves: the register, what was measured, mended, tested, kept and recalled.

use std::collections::{BTreeMap, BTreeSet};

use super::{Cell, Sheet, table};
use crate::choice::{Action, Finding, Work};
use crate::decide::loft;
use crate::decide::look;
use crate::decide::paper::{element, html};
use crate::ids::{Bed, Tag, Unit};
use crate::past::Entry;
use crate::record::Body;
use crate::say;
use crate::state::{Frame, Life, Surface};

impl Sheet<'_, '_> {
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
            let day = |day: Option<chrono::NaiveDate>| day.map_or_else(|| self.dash(), Self::day);
            let served = |work: Work| {
                surface.served.get(&work).map_or_else(
                    || self.dash(),
                    |of| {
                        let how = say!(lang, &format!("outcome-{}", of.outcome.as_str()));
                        format!("{} {}", Self::day(of.on), html(&how))
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
                    format!("{} {}", self.at(look.at), html(&finding))
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
                self.filter_new(surface),
                self.maybe(cleaned),
            ]
        };
        table(
            self,
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

    /// When its filter was last changed, and rinsed since: a rinsed one is no new one.
    fn filter_new(&self, surface: &Surface) -> Cell {
        let changed = surface.filter_changed;
        let new = changed.map_or_else(|| self.dash(), Self::day);
        match surface.filter_renewed.filter(|day| Some(*day) > changed) {
            None => new,
            Some(rinsed) => {
                let day = rinsed.to_string();
                let rinsed = say!(self.lang(), "report-filter-rinsed", day = day);
                format!("{new} {}", html(&rinsed))
            }
        }
    }

    /// Surfaces whose readings trend lower, as it stands now.
    pub fn trending(&self) -> String {
        let zone = &self.asked.facility.zone;
        let day = |at: Option<chrono::DateTime<chrono::Utc>>| {
            at.map_or_else(|| self.dash(), |at| Self::day(zone.local(at).date()))
        };
        let row = |of: loft::Lower<'_>| {
            let [from, likely, to] = match of.days {
                Some(days) => days.map(day),
                None => [
                    String::new(),
                    self.words("report-low-already"),
                    String::new(),
                ],
            };
            vec![
                self.surface(of.tag, self.asked.now),
                of.found.readings.to_string(),
                day(Some(of.found.first)),
                likely,
                from,
                to,
                of.aside.map_or_else(String::new, |until| day(Some(until))),
            ]
        };
        let trending = loft::trending(self.asked);
        if trending.is_empty() {
            return element("p", &say!(self.lang(), "report-trending-none"));
        }
        table(
            self,
            &[
                "report-col-surface",
                "report-col-readings",
                "report-col-since",
                "report-col-low-about",
                "report-col-low-from",
                "report-col-low-to",
                "report-col-aside",
            ],
            trending.into_iter().map(row).collect(),
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

    /// The beds as they stand now: rails, what is approved for them, when their gaps were last measured, by unit and, where
    /// beds may be named, each.
    pub fn beds(&self) -> String {
        let state = self.asked.state;
        let mut measured: BTreeMap<&Bed, usize> = BTreeMap::new();
        for (_, body) in &self.facts.counting {
            if let Body::ZonesMeasured { bed, .. } = body {
                *measured.entry(bed).or_default() += 1;
            }
        }
        let known: BTreeSet<&Bed> = state.bed_units.keys().chain(state.frames.keys()).collect();
        let mut units: BTreeMap<Option<&Unit>, [usize; 4]> = BTreeMap::new();
        for bed in &known {
            let frame = state.frame(bed);
            let of = units.entry(state.bed_units.get(*bed)).or_default();
            of[0] += 1;
            of[1] += usize::from(frame.is_some_and(|frame| frame.zones.is_some()));
            of[2] += usize::from(measured.contains_key(bed));
            of[3] += usize::from(frame.is_some_and(|frame| frame.over.is_some()));
        }
        let unit = |unit: Option<&Unit>| {
            unit.map_or_else(
                || self.words("report-unit-none"),
                |unit| html(unit.as_str()),
            )
        };
        let row = |(of, counts): (Option<&Unit>, [usize; 4])| {
            let counts = counts.map(|count| count.to_string());
            [unit(of)].into_iter().chain(counts).collect()
        };
        let heads = [
            "report-col-unit",
            "report-col-beds",
            "report-col-measured-ever",
            "report-col-measured",
            "report-col-gap-over",
        ];
        let mut text = table(self, &heads, units.into_iter().map(row).collect());
        if !self.facts.beds {
            return text;
        }
        let row = |bed: &&Bed| {
            let frame = state.frame(bed);
            let [rails, approved, at, over] = self.frame(frame);
            let count = measured.get(*bed).copied().unwrap_or_default();
            vec![
                html(bed.as_str()),
                unit(state.bed_units.get(*bed)),
                rails,
                approved,
                at,
                count.to_string(),
                over,
            ]
        };
        let heads = [
            "report-col-bed",
            "report-col-unit",
            "report-col-rails-of",
            "report-col-approved",
            "report-col-measured-last",
            "report-col-measured",
            "report-col-gap-over",
        ];
        text.push_str(&table(self, &heads, known.iter().map(row).collect()));
        text
    }

    /// Its rails, what is approved for it, when its gaps were last measured, and which were over the limit.
    fn frame(&self, frame: Option<&Frame>) -> [Cell; 4] {
        let lang = self.lang();
        let Some(frame) = frame else {
            return [(); 4].map(|()| self.dash());
        };
        let rails = frame.rails.map_or_else(
            || self.dash(),
            |rails| self.words(&format!("rails-{}", rails.as_str())),
        );
        let approved: Vec<&str> = frame.approved.iter().map(|name| name.as_str()).collect();
        let approved = if approved.is_empty() {
            self.words("report-approved-all")
        } else {
            html(&approved.join(", "))
        };
        let over = match (&frame.over, &frame.zones) {
            (Some(over), _) => {
                let zones: Vec<String> = over.zones.iter().map(u8::to_string).collect();
                let acted = over.acted.as_ref().map_or_else(
                    || say!(lang, "report-gap-open"),
                    |acted| say!(lang, "report-gap-acted", at = (self.moment)(acted.at)),
                );
                html(&format!("{}: {acted}", zones.join(", ")))
            }
            (None, Some(_)) => self.words("report-gap-none"),
            (None, None) => self.dash(),
        };
        let at = self.maybe(frame.zones.as_ref().map(|zones| zones.at));
        [rails, approved, at, over]
    }

    /// Gaps as they were measured, and what was done at once about one over its limit.
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
                    format!("{} {}", Self::day(on), html(&how))
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
            self,
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

    /// Tests and maintenance.
    pub fn services(&self) -> String {
        let rows = self.lines(
            |body| matches!(body, Body::Serviced { .. } | Body::Repaired { .. }),
            true,
        );
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
            self,
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
            self,
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
}
