//! `/report`: what the log shows of a period, as a few sentences, a page to print and its rows. Decides which days are meant and
//! what is said of them in the chat; leaves the facts and figures to `evidence`, the page to `report::page` and the rows to
//! `report::rows`. It is of a home's work and of no person's: who did what stands in it by role only.

use chrono::{DateTime, Days, NaiveDate, NaiveTime, Utc};

use super::check::escaped;
use super::draft::{Asked, button};
use super::loft;
use super::timeline::cut;
use crate::decision::Decision;
use crate::evidence::{
    AlarmStory, Changed, Coverage, Evidence, Figures, HoldStory, LowReading, OutStory, OutageStory,
    Part, SetUpStory, Span, Tally, TurnStory, figures,
};
use crate::ids::Tag;
use crate::message::{Look, Message};
use crate::past::{Entry, Wanted};
use crate::picture;
use crate::record::Body;
use crate::refusal::Refusal;
use crate::rules::hand_check::Judgement;
use crate::rules::period::{self, DAYS_MOST, Period, PeriodFault};
use crate::rules::policy::Name;
use crate::rules::share::share;
use crate::rules::waits::Waits;
use crate::rules::zone::Zone;
use crate::say;
use crate::tap::{Report, Tap};
use crate::words::Lang;

mod drawn;
mod method;
mod page;
mod rows;
mod tables;

/// Of fewer alarms than this the shortest and the longest wait are said, and no share of them.
const FEW: usize = 5;
/// The period where none is typed.
const USUAL: &str = "last 30 days";

/// What is offered while a period is typed.
pub(super) fn offered(lang: Lang) -> [&'static str; 6] {
    match lang {
        Lang::English => [
            "last month",
            "this month",
            "last week",
            "last 30 days",
            "last 3 months",
            "last 12 months",
        ],
        Lang::Spanish => [
            "mes pasado",
            "este mes",
            "semana pasada",
            "últimos 30 días",
            "últimos 3 meses",
            "últimos 12 meses",
        ],
    }
}

/// `/report`.
pub(super) fn report(
    asked: &Asked<'_>,
    typed: Option<&str>,
    from: Option<&str>,
    to: Option<&str>,
) -> Result<Decision, Refusal> {
    let of = days(asked, typed, from, to)?;
    with_facts(asked, of, |facts| {
        let lang = asked.lang;
        let page = page::file(asked, facts);
        let (rows, left) = rows::file(
            asked,
            facts,
            page.text.len() + page.pictures.len() * drawn::ROOM,
        );
        let mut lines = vec![facts.head(lang)];
        lines.extend(facts.summary(lang));
        lines.push(say!(lang, "report-files"));
        lines.extend(left.map(|left| left.words(lang, of)));
        let mut text = lines.join("\n");
        cut(&mut text);
        let mut message = Message::text(text).buttons(vec![
            button(
                lang,
                "button-why",
                Look::Plain,
                &Tap::Report(Report::Why { of }),
            ),
            button(
                lang,
                "button-by-part",
                Look::Plain,
                &Tap::Report(Report::Parts { of }),
            ),
        ]);
        message.files = vec![page, rows];
        // One: a chat shows two side by side, each half as wide as a phone.
        let checks = drawn::checks(lang, facts).into_iter();
        message.picture = checks.chain(drawn::waits(lang, facts)).next().map(Box::new);
        message
    })
}

/// A button under it.
pub(super) fn tapped(asked: &Asked<'_>, tap: &Report) -> Result<Decision, Refusal> {
    let (Report::Why { of } | Report::Parts { of }) = tap;
    // A tap is trusted in nothing, the number of its days included.
    let of = Period::between(of.first, of.last, asked.today())
        .map_err(|fault| refused(fault, asked.today()))?;
    with_facts(asked, of, |facts| {
        let lang = asked.lang;
        let mut lines = match tap {
            Report::Why { .. } => method::chat(asked, facts),
            Report::Parts { .. } => facts.parts(lang),
        };
        lines.insert(0, facts.head(lang));
        let mut text = lines.join("\n");
        cut(&mut text);
        let mut message = Message::text(text);
        if matches!(tap, Report::Parts { .. }) {
            message.picture = drawn::waits(lang, facts).into_iter().next().map(Box::new);
        }
        message
    })
}

/// Reads the log and shows what is in it of these days, to the asker alone.
fn with_facts(
    asked: &Asked<'_>,
    of: Period,
    show: impl FnOnce(&Facts<'_>) -> Message,
) -> Result<Decision, Refusal> {
    let span = span(asked, of);
    let wanted = Wanted::Span(span);
    let Some(records) = asked.past.get(&wanted) else {
        return Ok(Decision::wanting(wanted));
    };
    let evidence = Evidence::of(records, &asked.facility.zone, span, asked.now);
    Ok(Decision::private(show(&Facts::of(asked, of, &evidence))))
}

impl Asked<'_> {
    fn today(&self) -> NaiveDate {
        self.facility.zone.local(self.now).date()
    }
}

/// From the first moment of the first day to the first moment after the last.
fn span(asked: &Asked<'_>, of: Period) -> Span {
    let midnight = |day: NaiveDate| asked.facility.zone.instant(day.and_time(NaiveTime::MIN));
    let after = of.last.checked_add_days(Days::new(1)).unwrap_or(of.last);
    Span {
        from: midnight(of.first),
        to: midnight(after),
    }
}

/// The days that are meant.
fn days(
    asked: &Asked<'_>,
    typed: Option<&str>,
    from: Option<&str>,
    to: Option<&str>,
) -> Result<Period, Refusal> {
    let today = asked.today();
    let read = match (typed, from, to) {
        (None, None, None) => period::parse(USUAL, today),
        (Some(typed), None, None) => {
            return period::parse(typed, today).map_err(|fault| {
                if matches!(fault, PeriodFault::Shape) {
                    Refusal::new("fault-period").text("typed", escaped(typed))
                } else {
                    refused(fault, today)
                }
            });
        }
        (None, Some(from), to) => {
            let to = to.map_or(Ok(today), |to| asked.day(to))?;
            let first = asked.day(from)?;
            if first > today {
                return Err(refused(PeriodFault::Ahead { first }, today));
            }
            Period::between(first, to, today)
        }
        (None, None, Some(_)) => return Err(Refusal::new("fault-period-to")),
        (Some(_), _, _) => return Err(Refusal::new("fault-period-twice")),
    };
    read.map_err(|fault| refused(fault, today))
}

fn refused(fault: PeriodFault, today: NaiveDate) -> Refusal {
    match fault {
        PeriodFault::Shape => Refusal::new("fault-period").text("typed", ""),
        PeriodFault::Ahead { first } => Refusal::new("fault-period-ahead")
            .text("first", first)
            .text("today", today),
        PeriodFault::Backwards { first, last } => Refusal::new("fault-period-backwards")
            .text("first", first)
            .text("last", last),
        PeriodFault::TooLong { days } => Refusal::new("fault-period-long")
            .number("days", days)
            .number("most", DAYS_MOST),
    }
}

/// What the log shows of some days, ready to be said.
struct Facts<'a> {
    of: Period,
    zone: &'a Zone,
    evidence: &'a Evidence<'a>,
    /// Whether beds may be named: the home has approved them.
    beds: bool,
    coverage: Coverage<'a>,
    alarms: Vec<AlarmStory<'a>>,
    lows: Vec<LowReading<'a>>,
    /// Surfaces that trend lower now.
    trending: Vec<&'a Tag>,
    set_ups: Vec<SetUpStory<'a>>,
    outs: Vec<OutStory<'a>>,
    turns: Vec<TurnStory<'a>>,
    holds: Vec<HoldStory<'a>>,
    outages: Vec<OutageStory<'a>>,
    /// What was set otherwise.
    changes: Vec<Changed<'a>>,
    /// Everything that happened in these days and counts, in order.
    counting: Vec<(&'a Entry<'a>, &'a Body)>,
    /// What was corrected, remarked on, signed or taken back.
    corrected: Vec<&'a Entry<'a>>,
}

impl<'a> Facts<'a> {
    fn of(asked: &Asked<'a>, of: Period, evidence: &'a Evidence<'a>) -> Self {
        let alarms = evidence.alarms();
        let has_trail = |entry: &&Entry<'_>| {
            let trail = !entry.amended.is_empty() || !entry.remarks.is_empty();
            trail || entry.taken_back.is_some()
        };
        let shown = |entry: &&Entry<'_>| rows::of_care(&entry.record.body);
        let entries = evidence.entries.iter();
        let mut corrected: Vec<&Entry<'_>> = entries
            .filter(|entry| evidence.span.has(entry.at) || evidence.span.has(entry.record.at))
            .filter(has_trail)
            .filter(shown)
            .collect();
        corrected.sort_by_key(|entry| (entry.at, entry.record.no));
        Self {
            of,
            zone: &asked.facility.zone,
            evidence,
            beds: asked.state.policies.get(Name::BedsInPosts) == 1,
            coverage: evidence.coverage(),
            lows: evidence.low_readings(&alarms),
            trending: loft::trending(asked).iter().map(|of| of.tag).collect(),
            alarms,
            set_ups: evidence.set_ups(),
            outs: evidence.outs(),
            turns: evidence.turnovers(),
            holds: evidence.holds(),
            outages: evidence.outages(),
            changes: evidence.changes(),
            counting: evidence.counting(),
            corrected,
        }
    }

    /// What an entry set otherwise, if it did.
    fn changed(&self, entry: &Entry<'_>) -> Option<&Changed<'a>> {
        let no = entry.record.no;
        let found = self.changes.binary_search_by_key(&no, |of| of.record.no);
        found.ok().map(|place| &self.changes[place])
    }

    fn count(&self, of: impl Fn(&Body) -> bool) -> i64 {
        self.counting.iter().filter(|(_, body)| of(body)).count() as i64
    }

    /// Which days.
    fn head(&self, lang: Lang) -> String {
        let (first, last) = (self.of.first.to_string(), self.of.last.to_string());
        let days = self.of.days();
        say!(lang, "report-head", first = first, last = last, days = days)
    }

    /// That the log knows nothing of some of them; nothing where it knows of all.
    fn begins(&self, lang: Lang) -> Option<String> {
        let zone = self.zone;
        let began = zone.local(self.evidence.began()?).date();
        let key = if began > self.of.last {
            "report-begins-after"
        } else if began > self.of.first {
            "report-begins"
        } else {
            return None;
        };
        Some(say!(lang, key, began = began.to_string()))
    }

    /// That the shift that is not over is not counted.
    fn running(&self, lang: Lang) -> Option<String> {
        let from = self.zone.local(self.coverage.running?).time();
        let from = from.format("%H:%M").to_string();
        Some(say!(lang, "report-running", from = from))
    }

    /// What they show, each in a sentence.
    fn summary(&self, lang: Lang) -> Vec<String> {
        let mut lines: Vec<String> = self.begins(lang).into_iter().collect();
        match figures(&self.alarms, self.evidence.now) {
            None => lines.push(say!(lang, "report-alarms-none")),
            Some(of) => {
                lines.push(say!(
                    lang,
                    "report-alarms",
                    count = of.count as i64,
                    taken = spread(lang, &of.taken, &of)
                ));
                let mut over = Vec::new();
                if of.open < of.count {
                    over.push(say!(
                        lang,
                        "report-alarms-over",
                        over = spread(lang, &of.over, &of)
                    ));
                }
                if of.open > 0 {
                    over.push(say!(lang, "report-alarms-open", count = of.open as i64));
                }
                lines.push(over.join(" "));
            }
        }
        lines.push(match tally(lang, self.coverage.all) {
            None => say!(lang, "report-checks-none"),
            Some(checks) => say!(lang, "report-checks", checks = checks),
        });
        let all = self.coverage.all;
        if all.could_not > 0 {
            let count = i64::from(all.could_not);
            lines.push(say!(lang, "report-could-not", count = count));
        }
        if all.missed_away > 0 {
            let count = i64::from(all.missed_away);
            lines.push(say!(lang, "report-missed-away", count = count));
        }
        lines.extend(self.running(lang));
        let again = self.coverage.rechecks;
        if again.booked > 0 {
            let (kept, booked) = (i64::from(again.kept), i64::from(again.booked));
            lines.push(say!(lang, "report-again", kept = kept, booked = booked));
        }
        let bottomed = self
            .lows
            .iter()
            .filter(|low| low.judged == Judgement::BottomedOut);
        let (lows, bottomed) = (self.lows.len() as i64, bottomed.count() as i64);
        lines.push(say!(lang, "report-lows", count = lows, bottomed = bottomed));
        if !self.trending.is_empty() {
            let tags: Vec<&str> = self.trending.iter().map(|tag| tag.as_str()).collect();
            lines.push(say!(lang, "report-trending", tags = tags.join(", ")));
        }
        if !self.set_ups.is_empty() {
            let complete = self.set_ups.iter().filter(|one| one.complete.is_some());
            lines.push(say!(
                lang,
                "report-set-ups",
                complete = complete.count() as i64,
                count = self.set_ups.len() as i64
            ));
        }
        lines.push(say!(
            lang,
            "report-house",
            out = self.outs.len() as i64,
            turns = self.turns.len() as i64,
            cleanings = self.count(|body| matches!(body, Body::Cleaned { .. })),
            filters = self.count(|body| matches!(body, Body::FilterLooked { .. }))
        ));
        let corrected = self.corrected.len() as i64;
        if corrected > 0 {
            lines.push(say!(lang, "report-corrected", count = corrected));
        }
        lines
    }

    /// Checks and alarms by unit and shift.
    fn parts(&self, lang: Lang) -> Vec<String> {
        let mut lines = vec![say!(lang, "report-parts-checks")];
        for (part, of) in &self.coverage.parts {
            if let Some(checks) = tally(lang, *of) {
                lines.push(format!("- {}: {checks}", part_words(lang, part)));
            }
        }
        if lines.len() == 1 {
            lines.push(say!(lang, "report-checks-none"));
        }
        lines.extend(self.running(lang));
        lines.push(say!(lang, "report-parts-alarms"));
        let before = lines.len();
        for (part, of) in self.alarms_by(|alarm| (alarm.unit.cloned(), alarm.shift)) {
            lines.push(say!(
                lang,
                "report-part-alarms",
                part = part_words(lang, &part),
                count = of.count as i64,
                taken = spread(lang, &of.taken, &of)
            ));
        }
        if lines.len() == before {
            lines.push(say!(lang, "report-alarms-none"));
        }
        lines
    }

    /// How long alarms took, in groups.
    fn alarms_by<K: Ord>(&self, key: impl Fn(&AlarmStory<'_>) -> K) -> Vec<(K, Figures)> {
        let mut groups: std::collections::BTreeMap<K, Vec<&AlarmStory<'_>>> =
            std::collections::BTreeMap::new();
        for alarm in &self.alarms {
            groups.entry(key(alarm)).or_default().push(alarm);
        }
        let now = self.evidence.now;
        let figures = |(key, alarms)| Some((key, figures(alarms, now)?));
        groups.into_iter().filter_map(figures).collect()
    }
}

/// A unit's shift.
fn part_words(lang: Lang, (unit, shift): &Part) -> String {
    let shift = shift.format("%H:%M").to_string();
    match unit {
        Some(unit) => say!(lang, "report-part", unit = unit.as_str(), shift = shift),
        None => say!(lang, "report-part-none", shift = shift),
    }
}

/// So many of so many, and between which shares chance may have moved it; nothing where none was due.
fn tally(lang: Lang, of: Tally) -> Option<String> {
    let share = share(of.on_time(), of.due)?;
    let hundred = |share: f64| (share * 100.0).round() as i64;
    if hundred(share.low) == hundred(share.high) {
        return Some(say!(
            lang,
            "report-share-sure",
            done = i64::from(of.on_time()),
            due = i64::from(of.due),
            share = hundred(share.low)
        ));
    }
    Some(say!(
        lang,
        "report-share",
        done = i64::from(of.on_time()),
        due = i64::from(of.due),
        low = hundred(share.low),
        high = hundred(share.high)
    ))
}

/// How long it took: half and nine of ten; of a few the shortest and the longest.
fn spread(lang: Lang, waits: &Waits, of: &Figures) -> String {
    if of.count >= FEW {
        return quantiles(lang, waits);
    }
    let ends = waits.steps.first().zip(waits.steps.last());
    match ends {
        None => say!(lang, "report-not-yet"),
        Some((first, last)) => {
            let (least, most) = (minutes(lang, first.time), minutes(lang, last.time));
            if least == most {
                say!(lang, "report-spread-one", after = most)
            } else {
                say!(lang, "report-spread-few", least = least, most = most)
            }
        }
    }
}

/// Within what half and nine of ten were over, as far as so many are over.
fn quantiles(lang: Lang, waits: &Waits) -> String {
    let half = waits.median().map(|time| minutes(lang, time));
    let most = waits.ninetieth().map(|time| minutes(lang, time));
    match (half, most) {
        (Some(half), Some(most)) => say!(lang, "report-spread", half = half, most = most),
        (Some(half), None) => say!(lang, "report-spread-half", half = half),
        (None, _) => say!(lang, "report-not-known"),
    }
}

/// A wait in whole minutes, hours or days, as the pictures say it.
fn minutes(lang: Lang, time: f64) -> String {
    picture::lasted(lang, time)
}

/// From one moment to another.
fn between(lang: Lang, from: DateTime<Utc>, to: DateTime<Utc>) -> String {
    minutes(lang, (to - from).num_seconds().max(0) as f64 / 60.0)
}
