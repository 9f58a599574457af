//! The table of settings that were changed, so that it can be said what the limits were when. Decides how a change reads, on
//! the page and in a row of the file; leaves what is a change to `evidence`. A chat's own numbers, of people, roles and
//! channels, are said of none: "another" is all that a reader outside of the chat can take from them.

use super::{Cell, Sheet, table};
use crate::decide::duty::role_word;
use crate::decide::fleet::profiles;
use crate::decide::paper::{html, plain};
use crate::decide::wish::{schedule_words, value_words};
use crate::decide::{facility, frame, settings, shelf};
use crate::evidence::{Change, Changed};
use crate::ids::Bed;
use crate::record::Body;
use crate::role::Role;
use crate::rules::{beds, policy};
use crate::say;
use crate::state::{Frame, State};
use crate::words::Lang;

/// How one setting reads: what it is, as it was, as it is.
type Reads = (String, String, String);

impl Sheet<'_, '_> {
    /// What was set otherwise.
    pub fn settings(&self) -> String {
        let lang = self.lang();
        let row = |changed: &Changed<'_>| -> Vec<Vec<Cell>> {
            let (who, agreed) = match changed.asked_by {
                Some(asker) => (asker, role_word(lang, changed.record.role)),
                None => (changed.record.role, say!(lang, "report-agreed-none")),
            };
            let lines = reads(self.asked.state, lang, changed, self.facts.beds).into_iter();
            let line = |(what, from, to): Reads| {
                vec![
                    Self::no(changed.record.no),
                    self.at(changed.at),
                    html(&what),
                    html(&from),
                    html(&to),
                    html(&role_word(lang, who)),
                    html(&agreed),
                ]
            };
            lines.map(line).collect()
        };
        let heads = [
            "report-col-entry",
            "report-col-when",
            "report-col-what",
            "report-col-was",
            "report-col-set-to",
            "report-col-role",
            "report-col-agreed",
        ];
        let rows = self.facts.changes.iter().flat_map(row).collect();
        table(self, &heads, rows)
    }
}

/// A change in one line, as a row of the file has it.
pub(in crate::decide::report) fn line(
    state: &State,
    lang: Lang,
    changed: &Changed<'_>,
    beds: bool,
) -> String {
    let each = reads(state, lang, changed, beds).into_iter();
    let each =
        each.map(|(what, from, to)| say!(lang, "report-set", what = what, from = from, to = to));
    let what = plain(&each.collect::<Vec<_>>().join("; "));
    match changed.asked_by {
        None => what,
        Some(asker) => say!(
            lang,
            "report-set-agreed",
            what = what,
            asker = role_word(lang, asker),
            who = role_word(lang, changed.record.role)
        ),
    }
}

/// How it reads; `named` says whether beds may be.
fn reads(state: &State, lang: Lang, changed: &Changed<'_>, named: bool) -> Vec<Reads> {
    let none = || say!(lang, "report-set-none");
    let one = match &changed.what {
        Change::Policy { name, from, to } => {
            let Some(row) = policy::find(name) else {
                // One that this program has no more.
                let from = from.map_or_else(none, |from| from.to_string());
                return vec![((*name).to_owned(), from, to.to_string())];
            };
            let usual = || {
                let value = value_words(state, lang, row, row.default);
                say!(lang, "report-set-usual", value = value)
            };
            (
                // Marks of the chat are none on paper.
                format!("{name}: {}", facility::meaning(lang, row)).replace('`', ""),
                from.map_or_else(usual, |from| value_words(state, lang, row, from)),
                value_words(state, lang, row, *to),
            )
        }
        Change::Ladder { from, to } => (
            say!(lang, "what-ladder"),
            facility::ladder_figures(lang, *from),
            facility::ladder_figures(lang, *to),
        ),
        Change::Schedule {
            what,
            unit,
            from,
            to,
        } => {
            let when = |when: Option<&str>| {
                when.map_or_else(
                    || say!(lang, "when-never"),
                    |when| facility::pattern_words(lang, when),
                )
            };
            (schedule_words(lang, *what, *unit), when(*from), when(*to))
        }
        Change::Product { name, from, to } => {
            let of = |product: &Option<_>| {
                let none = || say!(lang, "not-on-the-list");
                let figures = |product| shelf::figures(lang, product);
                product.as_ref().map_or_else(none, figures)
            };
            let name = say!(lang, "report-set-product", name = plain(name.as_str()));
            (name, of(from), of(to))
        }
        Change::Storage { from, to } => {
            let both =
                |(dirty, clean): (&str, &str)| format!("{} / {}", plain(dirty), plain(clean));
            (
                say!(lang, "what-storage"),
                from.map_or_else(none, both),
                both(*to),
            )
        }
        Change::Profile { from, to } => {
            let (old, new) = profiles::changes_on_paper(*from, to);
            let name = plain(to.name.as_str());
            let old = if from.is_some() { old } else { none() };
            (say!(lang, "what-profile", profile = name), old, new)
        }
        Change::Unit {
            unit,
            from,
            to,
            channel,
        } => return unit_reads(lang, unit.as_str(), (*from, *to), *channel, named),
        Change::Facility { from, to } => return facility_reads(lang, *from, to),
        Change::Frame { beds, from, to } => {
            let what = if named {
                say!(lang, "report-set-frame", beds = bed_names(beds))
            } else {
                say!(lang, "report-set-frames", count = beds.len() as i64)
            };
            (what, frames(lang, from), frames(lang, to))
        }
    };
    vec![one]
}

fn bed_names(beds: &[Bed]) -> String {
    let names: Vec<String> = beds.iter().map(Bed::to_string).collect();
    beds::show(&names)
}

fn frames(lang: Lang, frames: &[Frame]) -> String {
    let of = |frame: &Frame| {
        let known = frame::words(lang, frame);
        known.unwrap_or_else(|| say!(lang, "frame-unknown"))
    };
    frames.iter().map(of).collect::<Vec<_>>().join(" / ")
}

fn unit_reads(
    lang: Lang,
    unit: &str,
    (from, to): (Option<&[Bed]>, Option<&[Bed]>),
    channel: bool,
    named: bool,
) -> Vec<Reads> {
    let what = || say!(lang, "report-by-unit", unit = plain(unit));
    let mut all = Vec::new();
    if from != to {
        let count = |beds: &[Bed]| say!(lang, "report-set-beds", count = beds.len() as i64);
        let of = |beds: &[Bed]| if named { bed_names(beds) } else { count(beds) };
        let none = || say!(lang, "report-set-none");
        let old = from.map_or_else(none, of);
        let mut new = to.map_or_else(|| say!(lang, "not-on-the-list"), of);
        if old == new {
            new = say!(lang, "report-set-not-same", what = new);
        }
        all.push((what(), old, new));
    }
    if channel {
        let what = say!(lang, "report-set-channel-of", what = what());
        all.push((
            what,
            say!(lang, "report-set-one"),
            say!(lang, "report-set-another"),
        ));
    }
    all
}

fn facility_reads(lang: Lang, from: Option<&Body>, to: &Body) -> Vec<Reads> {
    let Body::FacilitySet {
        zone,
        care_channel,
        supervisor_channel,
        roles,
        lang: speaks,
        upkeep_channel,
        home,
        currency,
    } = to
    else {
        return Vec::new();
    };
    let none = || say!(lang, "report-set-none");
    let Some(Body::FacilitySet {
        zone: zone_before,
        care_channel: care_before,
        supervisor_channel: supervisor_before,
        roles: roles_before,
        lang: spoke,
        upkeep_channel: upkeep_before,
        home: home_before,
        currency: currency_before,
    }) = from
    else {
        return vec![(say!(lang, "report-set-up"), none(), zone.clone())];
    };
    let mut all = Vec::new();
    let mut add = |what: String, (old, new): (String, String)| {
        if old != new {
            all.push((what, old, new));
        }
    };
    add(say!(lang, "what-zone"), (zone_before.clone(), zone.clone()));
    let both = [*spoke, *speaks].map(|of| settings::language(lang, of));
    add(say!(lang, "what-language"), both.into());
    let both = [home_before, home].map(|home| home.as_deref().map_or_else(none, plain));
    add(say!(lang, "what-home"), both.into());
    let both = [currency_before, currency].map(|of| of.as_deref().map_or_else(none, plain));
    add(say!(lang, "what-currency"), both.into());
    // Of what the chat knows by a number only that it is another.
    let other = |old: bool, new: bool, same: bool| {
        let word = |is: bool, key: &str| if is { say!(lang, key) } else { none() };
        match same {
            true => (String::new(), String::new()),
            false => (word(old, "report-set-one"), word(new, "report-set-another")),
        }
    };
    add(
        say!(lang, "what-care"),
        other(true, true, care_before == care_channel),
    );
    add(
        say!(lang, "what-supervisors"),
        other(true, true, supervisor_before == supervisor_channel),
    );
    add(
        say!(lang, "what-upkeep-channel"),
        other(
            upkeep_before.is_some(),
            upkeep_channel.is_some(),
            upkeep_before == upkeep_channel,
        ),
    );
    for role in Role::MAPPED {
        let (old, new) = (roles_before.get(&role), roles.get(&role));
        let what = say!(lang, "report-set-role", role = role_word(lang, role));
        add(what, other(old.is_some(), new.is_some(), old == new));
    }
    all
}
