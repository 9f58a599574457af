//! How a report's figures were worked out: one line each, in the chat and on the page. Decides what is said of a figure's source
//! and its limits.

use super::Facts;
use crate::decide::draft::Asked;
use crate::rules::air::{self, Units};
use crate::rules::policy::Name;
use crate::rules::zone;
use crate::say;

/// Under the "why" button.
pub(super) fn chat(asked: &Asked<'_>, facts: &Facts<'_>) -> Vec<String> {
    let mut lines = checks(asked, facts);
    lines.extend(waits(asked));
    lines.push(say!(asked.lang, "report-how-limits"));
    lines.into_iter().map(|line| format!("- {line}")).collect()
}

/// On the page: the same, and what the rest of it is made of.
pub(super) fn page(asked: &Asked<'_>, facts: &Facts<'_>) -> Vec<String> {
    let lang = asked.lang;
    let mut lines = checks(asked, facts);
    lines.extend(waits(asked));
    lines.extend([
        say!(lang, "report-how-lows"),
        say!(lang, "report-how-set-ups"),
        say!(lang, "report-how-turns"),
        say!(lang, "report-how-register"),
        say!(lang, "report-how-settings"),
        say!(lang, "report-how-corrected"),
        say!(
            lang,
            "report-how-time",
            zone = asked.facility.zone.name(),
            rules = zone::database_version()
        ),
        home(asked),
        say!(lang, "report-how-people"),
        say!(lang, "report-how-limits"),
    ]);
    lines
}

fn checks(asked: &Asked<'_>, facts: &Facts<'_>) -> Vec<String> {
    let lang = asked.lang;
    let all = facts.coverage.all;
    let again = facts.coverage.rechecks;
    vec![
        say!(lang, "report-how-checks", due = i64::from(all.due)),
        say!(lang, "report-how-share"),
        say!(
            lang,
            "report-how-again",
            minutes = asked.state.policies.get(Name::Recheck),
            moot = i64::from(again.moot)
        ),
    ]
}

/// What the home has set, as it stands now.
fn home(asked: &Asked<'_>) -> String {
    let (state, lang) = (asked.state, asked.lang);
    let band = state.policies.band();
    let (low, high) = (
        air::show(band.low, Units::Inches),
        air::show(band.high, Units::Inches),
    );
    let ladder = &state.ladder;
    say!(
        lang,
        "report-how-home",
        low = low,
        high = high,
        first = i64::from(ladder.first),
        second = i64::from(ladder.second),
        third = i64::from(ladder.third),
        repeat = i64::from(ladder.repeat),
        months = state.policies.get(Name::SafetyTestMonths)
    )
}

fn waits(asked: &Asked<'_>) -> Vec<String> {
    let lang = asked.lang;
    vec![
        say!(lang, "report-how-alarms"),
        say!(lang, "report-how-waits"),
    ]
}
