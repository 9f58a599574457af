//! What follows from a correction. Decides it by what now is the newest of a surface, and by that alone: a low reading
//! calls a nurse and books another as it would have, one that was not low calls them off, a late one never begins a
//! ladder. What only becomes history changes nothing but the history.

use chrono::{NaiveDate, TimeDelta};

use super::super::draft::{Asked, Draft, clock_time, in_post, person};
use super::super::turnover::Going;
use super::super::{alarm, check, clean, cycle, leave, set_up, stock, turnover};
use super::Corrected;
use crate::choice::{Action, Call, Cleaning, Cover, Step, TurnStep};
use crate::decision::Decision;
use crate::ids::{AlarmNo, RecordNo, Tag};
use crate::message::Message;
use crate::past::{self, Entry, stand};
use crate::record::{AlarmEnd, Body, On, Rebook, Record, Standing, Stands};
use crate::refusal::Refusal;
use crate::rules::hand_check::Judgement;
use crate::rules::policy::Name;
use crate::rules::priority::{AlarmKind, Priority};
use crate::rules::turnover::{cleaning_counts, filter_fit, undoes};
use crate::say;
use crate::state::{CheckFact, FilterFact, FilterLooks, Life, Surface};

/// The facts, posts and sentences of a correction. `all` is the history of the surfaces that the entry was and is about.
pub(super) fn follows(
    asked: &Asked<'_>,
    entry: &Entry<'_>,
    all: &[Record],
    (from, to): (&Tag, &Tag),
    corrected: Corrected,
    reason: Option<String>,
    mut lines: Vec<String>,
) -> Result<Decision, Refusal> {
    let amended = |corrected: &Corrected, stands: Vec<Stands>| Body::Amended {
        entry: entry.record.no,
        tag: from.clone(),
        now: corrected.body.clone().map(Box::new),
        happened: corrected.at,
        stands,
    };
    // The log as it will be, to see what stands in it then.
    let mut later = all.to_vec();
    let next = asked.state.next_no();
    later.push(Record {
        no: next,
        at: asked.now,
        entered: asked.now,
        who: Some(asked.ask.who),
        role: asked.role,
        first: next,
        body: amended(&corrected, Vec::new()),
        note: None,
    });
    past::behind_the_later(&mut later, asked.now);
    let entries = past::entries(&later);
    let mut surfaces = vec![from];
    surfaces.extend((from != to).then_some(to));
    let mut draft = asked.draft();
    let mut stands = Vec::new();
    let mut calls = Vec::new();
    let change = Change {
        entry,
        corrected: &corrected,
        all,
        judged: judged(corrected.body.as_ref()),
    };
    for tag in surfaces {
        let (tag, surface) = asked.surface(tag.as_str())?;
        let Some(what) = stand(&entries, tag, &entry.record.body, &asked.facility.zone) else {
            continue;
        };
        let mut one = Stands {
            tag: tag.clone(),
            what,
            recheck: Rebook::Stays,
        };
        match &mut one.what {
            Standing::Checks { newest, .. } => {
                keep_told(newest, surface);
                let plan = checked(
                    asked,
                    &mut draft,
                    &change,
                    (tag, surface),
                    newest,
                    &mut lines,
                );
                one.recheck = plan.rebook;
                calls.push((tag, surface, plan));
            }
            Standing::Filter {
                last,
                new,
                looks: Some(looks),
                ..
            } => {
                let mut earlier = past::looks(&entries, tag);
                earlier.pop();
                let said = earlier.pop().and_then(|look| look.next);
                let kept = (looks as &FilterLooks, new.day(), said);
                again(asked, &change, (tag, surface), last, kept, &mut lines);
                let last = last.as_ref();
                looked(asked, &mut draft, &change, (tag, surface), last, &mut lines);
            }
            Standing::Filter { looks: None, .. } => {}
            Standing::Cleaned { .. } => {
                cleaned(
                    asked,
                    &mut draft,
                    &change,
                    (tag, surface),
                    &entries,
                    &mut lines,
                );
            }
        }
        stands.push(one);
    }
    // The last of the facts: nothing before it is what a take-back could go back to.
    let no = RecordNo(draft.first().0 + draft.decision.entries.len() as u64);
    for (tag, _, plan) in &calls {
        let of_tag = stands.iter_mut().find(|one| one.tag == **tag);
        if let (true, Some(Standing::Checks { newest, .. })) =
            (plan.nurse.is_some(), of_tag.map(|one| &mut one.what))
            && let Some(check) = newest.iter_mut().find(|check| check.no == entry.record.no)
        {
            check.told = Some(no);
        }
    }
    let mut body = amended(&corrected, stands);
    if let Body::Amended { now: Some(now), .. } = &mut body
        && let Body::HandChecked { recheck, .. } = now.as_mut()
    {
        // What it books is what follows from it now.
        let plan = calls.iter().find(|(tag, _, _)| *tag == to);
        match plan.map(|(_, _, plan)| plan.rebook) {
            Some(Rebook::At(due)) => *recheck = Some(due),
            Some(Rebook::Drops) => *recheck = None,
            Some(Rebook::Stays) | None => {}
        }
    }
    if let Body::Amended {
        now: Some(now),
        stands,
        ..
    } = &mut body
        && let Body::FilterLooked { tag, next, .. } = now.as_mut()
        && let Some(Standing::Filter { last, .. }) = stands
            .iter()
            .find(|one| one.tag == *tag)
            .map(|one| &one.what)
        && let Some(last) = last.as_ref().filter(|last| last.no == entry.record.no)
    {
        *next = last.next;
    }
    draft.fact_at(asked.now, body, reason);
    for (tag, surface, plan) in calls {
        tell(asked, &mut draft, &change, no, (tag, surface), plan);
    }
    lines.push(say!(asked.lang, "amend-kept"));
    Ok(draft.private(Message::text(lines.join("\n"))))
}

/// The correction that something follows from.
struct Change<'a> {
    entry: &'a Entry<'a>,
    corrected: &'a Corrected,
    all: &'a [Record],
    /// How it is judged now, where it is a check that counts.
    judged: Option<Judgement>,
}

impl Change<'_> {
    fn no(&self) -> RecordNo {
        self.entry.record.no
    }

    /// Whether the entry is about this surface as it reads now.
    fn is_at(&self, tag: &Tag) -> bool {
        let body = self.corrected.body.as_ref();
        body.is_some_and(|body| body.surface() == Some(tag))
    }

    /// What was recorded with the entry.
    fn beside(&self) -> impl Iterator<Item = &Record> {
        let first = self.entry.record.first;
        self.all.iter().filter(move |record| record.first == first)
    }
}

fn judged(body: Option<&Body>) -> Option<Judgement> {
    let Some(Body::HandChecked { judged, .. }) = body else {
        return None;
    };
    Some(*judged)
}

/// Which record called a nurse for a check is not in its own record.
fn keep_told(newest: &mut [CheckFact], surface: &Surface) {
    for check in newest {
        let known = surface.checks.iter().find(|known| known.no == check.no);
        check.told = known.and_then(|known| known.told);
    }
}

/// What a corrected check brings about at one surface.
struct Plan {
    rebook: Rebook,
    /// A nurse is called, for the first time or again.
    nurse: Option<bool>,
    /// Posts that say something that is no longer so.
    settle: Vec<String>,
}

fn checked(
    asked: &Asked<'_>,
    draft: &mut Draft,
    change: &Change<'_>,
    (tag, surface): (&Tag, &Surface),
    newest: &[CheckFact],
    lines: &mut Vec<String>,
) -> Plan {
    let lang = asked.lang;
    let mut plan = Plan {
        rebook: Rebook::Stays,
        nurse: None,
        settle: Vec::new(),
    };
    at_the_bed(asked, draft, change, (tag, surface), lines);
    let placed = match &surface.life {
        Life::Placed { no, .. } => Some(*no),
        Life::Soiled(_) | Life::Ready { .. } | Life::OutOfService { .. } | Life::Retired { .. } => {
            None
        }
    };
    let here = |check: &&CheckFact| placed.is_some_and(|placed| check.no > placed);
    let old = surface.check_here();
    let new = newest.last().filter(here);
    let reads = |check: Option<&CheckFact>| {
        check.map(|check| (check.no, check.at, check.air, check.judged))
    };
    if reads(old) == reads(new) {
        lines.push(say!(lang, "amend-history", tag = tag.as_str()));
        return plan;
    }
    let is_low_of_entry =
        |check: &&CheckFact| check.no == change.no() && check.judged == Judgement::Low;
    if let Some(old) = old.filter(is_low_of_entry)
        && new.filter(is_low_of_entry).is_none()
    {
        plan.settle.extend(check::low_post(surface, old));
    }
    let window = TimeDelta::minutes(asked.state.policies.get(Name::Recheck));
    let reopens = reopens(change, (tag, surface), newest, placed);
    let Some(new) = new else {
        plan.rebook = Rebook::Drops;
        lines.push(say!(lang, "amend-no-check", tag = tag.as_str()));
        plan.settle.extend(check::recheck_post(asked.state, tag));
        return plan;
    };
    let is_entry = new.no == change.no();
    let fresh = asked.now - new.at <= window;
    // One that could not be made in between does not make a low reading forgotten.
    let was_low = newest
        .iter()
        .rev()
        .skip(1)
        .filter(here)
        .find(|check| check.judged != Judgement::CouldNot)
        .is_some_and(|check| check::is_low(check.judged));
    plan.rebook = check::recheck(asked.state, surface, new.judged, was_low, new.at)
        .map_or(Rebook::Drops, |due| Rebook::At(due.max(asked.now)));
    if new.judged == Judgement::BottomedOut {
        if is_entry && fresh {
            lines.push(say!(lang, "check-bottomed-out-next"));
            match surface
                .alarm
                .and_then(|no| Some((no, asked.state.alarms.get(&no)?)))
            {
                Some((no, open)) => alarm::bottomed_out(asked, draft, no, open.clone()),
                None => {
                    let (kind, priority) = (AlarmKind::BottomedOut, Priority::High);
                    alarm::open(asked, draft, tag, kind, priority, None);
                }
            }
        } else if surface.alarm.is_none() {
            plan.rebook = Rebook::At(asked.now);
            lines.push(say!(lang, "check-bottomed-out-late"));
            plan.nurse = is_entry.then_some(was_low);
        }
    } else if let Some((kind, no)) = reopens {
        if fresh && is_entry || asked.now - change.entry.at <= window {
            let priority = alarm::priority_of(kind, surface, asked.now);
            alarm::open(asked, draft, tag, kind, priority, None);
            plan.rebook = Rebook::Drops;
            lines.push(say!(
                lang,
                "amend-alarm-again",
                surface = asked.with_bed(tag),
                alarm = no.to_string()
            ));
            return plan;
        }
        plan.rebook = Rebook::At(asked.now);
        lines.push(say!(
            lang,
            "amend-alarm-late",
            surface = asked.with_bed(tag),
            alarm = no.to_string()
        ));
        plan.nurse = (is_entry && new.judged == Judgement::Low).then_some(was_low);
    } else if new.judged == Judgement::Low && is_entry {
        let known = old.filter(is_low_of_entry).is_some();
        plan.nurse = (!known && surface.alarm.is_none()).then_some(was_low);
    }
    match plan.nurse {
        Some(true) => lines.push(say!(lang, "check-low-again")),
        Some(false) => lines.push(say!(lang, "check-low-next")),
        None => {}
    }
    match plan.rebook {
        Rebook::At(due) => lines.push(say!(
            lang,
            "check-recheck",
            at = clock_time(due),
            ago = super::super::draft::ago(due)
        )),
        Rebook::Drops if asked.state.rechecks.contains_key(tag) => {
            lines.push(say!(lang, "amend-recheck-off"));
        }
        Rebook::Drops | Rebook::Stays => {}
    }
    if surface.alarm.is_some() {
        lines.push(say!(lang, "amend-alarm-open", tag = tag.as_str()));
    }
    if plan.rebook != Rebook::Stays {
        plan.settle.extend(check::recheck_post(asked.state, tag));
    }
    plan
}

/// The alarm that this check closed, where nothing holds it closed any more: its kind, and which it was.
fn reopens(
    change: &Change<'_>,
    (tag, surface): (&Tag, &Surface),
    newest: &[CheckFact],
    placed: Option<RecordNo>,
) -> Option<(AlarmKind, AlarmNo)> {
    let holds = change.is_at(tag) && change.judged == Some(Judgement::Adequate);
    let since = newest.iter().any(|check| {
        check.no != change.no()
            && check.at >= change.entry.at
            && check.judged == Judgement::Adequate
    });
    let placed_before = placed.is_some_and(|placed| placed < change.no());
    if holds || since || !placed_before || surface.alarm.is_some() {
        return None;
    }
    let closed = change.beside().find_map(|record| {
        let Body::AlarmClosed {
            alarm,
            end: AlarmEnd::Fixed,
            ..
        } = record.body
        else {
            return None;
        };
        Some(alarm)
    })?;
    // A newer one has its own check.
    surface
        .last_alarm
        .as_ref()
        .filter(|ended| ended.no == closed)?;
    let named = change.all.iter().rev().find_map(|record| {
        if let Body::AlarmNamed { alarm, kind, .. } = &record.body
            && *alarm == closed
        {
            return Some(*kind);
        }
        if let Body::AlarmOpened { kind, .. } = &record.body
            && record.no.0 == closed.0
        {
            return Some(*kind);
        }
        None
    });
    Some((named.unwrap_or(AlarmKind::Unknown), closed))
}

/// What a check did besides: the set-up's check, the end of a leave, an alarm of its own.
fn at_the_bed(
    asked: &Asked<'_>,
    draft: &mut Draft,
    change: &Change<'_>,
    (tag, surface): (&Tag, &Surface),
    lines: &mut Vec<String>,
) {
    let lang = asked.lang;
    let holds = change.is_at(tag) && change.judged == Some(Judgement::Adequate);
    let about_tag = |record: &&Record| record.body.surface() == Some(tag);
    let ticks = |record: &&Record| matches!(&record.body, Body::StepsDone { steps, .. } if steps.contains(&Step::Check));
    let ticked = change.beside().filter(about_tag).find(ticks);
    // By its record too: the moment that the list keeps goes with a clock that is put right.
    let newest = change.all.iter().filter(about_tag).rfind(ticks);
    let is_newest = ticked.map(|record| record.no) == newest.map(|record| record.no);
    // The list is the same one, and the step stands on it as it was ticked with this check.
    if let (Some(ticked), Some(list), false) = (ticked, &surface.steps, holds)
        && list.no < ticked.no
        && list
            .done
            .get(&Step::Check)
            .is_some_and(|mark| is_newest || mark.at == ticked.at)
        && surface.bed().is_some()
    {
        draft.fact(Body::StepMissed {
            tag: tag.clone(),
            step: Step::Check,
        });
        let on = On::Surface(tag.clone());
        if asked.state.booking(&on, Call::Steps).is_none() {
            let within = TimeDelta::minutes(asked.state.policies.get(Name::SetUpWithin));
            draft.fact(Body::Booked {
                on,
                call: Call::Steps,
                due: asked.now + within,
            });
        }
        lines.push(say!(lang, "amend-step-again", tag = tag.as_str()));
    }
    let moved_here = change.is_at(tag) && change.entry.body.and_then(Body::surface) != Some(tag);
    let was_adequate = judged(change.entry.body) == Some(Judgement::Adequate);
    if let Some(now) = change.judged.filter(|_| change.is_at(tag)) {
        if (moved_here || !was_adequate) && ticked.is_none() {
            let at = change.corrected.at;
            let said = set_up::checked(asked, draft, tag, surface, at, now);
            lines.extend(said.map(|(said, _)| said));
        }
        let leave = surface
            .leave
            .filter(|leave| leave.since <= change.corrected.at);
        if moved_here && now != Judgement::CouldNot && leave.is_some() {
            leave::end(asked, draft, tag);
            lines.push(say!(lang, "leave-ended"));
        }
    }
    let gone = !change.is_at(tag) || change.judged == Some(Judgement::CouldNot);
    let ended = change
        .beside()
        .filter(about_tag)
        .any(|record| matches!(record.body, Body::LeaveEnded { .. }));
    if gone && ended && surface.leave.is_none() && surface.bed().is_some() {
        lines.push(say!(lang, "amend-leave", tag = tag.as_str()));
    }
}

/// Calls whom the corrected check calls, and takes back what earlier posts say.
fn tell(
    asked: &Asked<'_>,
    draft: &mut Draft,
    change: &Change<'_>,
    no: RecordNo,
    (tag, surface): (&Tag, &Surface),
    plan: Plan,
) {
    let lang = asked.state.lang();
    let reads = change.corrected.body.as_ref().filter(|_| change.is_at(tag));
    if let (Some(again), Some(Body::HandChecked { air, band, .. })) = (plan.nurse, reads) {
        check::call_nurse(asked, draft, no, tag, surface, *air, *band, None, again);
    }
    for post in plan.settle {
        let text = match reads {
            Some(Body::HandChecked {
                air, judged, band, ..
            }) => say!(
                lang,
                "post-amended",
                surface = in_post(asked.state, lang, tag),
                entry = change.no().to_string(),
                air = check::show_air(lang, *air, *band),
                judged = say!(lang, &format!("judged-{}", judged.as_str())),
                who = person(asked.ask.who)
            ),
            Some(_) | None => say!(
                lang,
                "post-amended-away",
                surface = in_post(asked.state, lang, tag),
                entry = change.no().to_string(),
                who = person(asked.ask.who)
            ),
        };
        let channel = alarm::channel(asked.state, asked.facility, tag);
        draft.edit(format!("{post}:{no}"), post, channel, Message::text(text));
    }
}

/// Where the corrected look is the newest, the next one is wanted by what it reads now; else it stays where its author was told.
fn again(
    asked: &Asked<'_>,
    change: &Change<'_>,
    (tag, surface): (&Tag, &Surface),
    last: &mut Option<FilterFact>,
    kept: (&FilterLooks, Option<NaiveDate>, Option<u16>),
    lines: &mut Vec<String>,
) {
    let before = i64::from(cycle::days(asked.state, surface));
    let Some(last) = last.as_mut() else { return };
    if last.no == change.no() {
        let next = cycle::amended(asked.state, (tag, surface), last, kept);
        last.next = cycle::kept(next);
    }
    let days = i64::from(cycle::held_days(asked.state, surface, last.next));
    if days != before && filter_fit(last.finding, last.action) {
        let (lang, tag) = (asked.lang, tag.as_str());
        lines.push(say!(
            lang,
            "amend-filter-days",
            tag = tag,
            days = days,
            before = before
        ));
    }
}

/// What a corrected look at a filter brings about: the shelf, and a turnover that counted on it. `last` is the look that
/// now is the newest.
fn looked(
    asked: &Asked<'_>,
    draft: &mut Draft,
    change: &Change<'_>,
    (tag, surface): (&Tag, &Surface),
    last: Option<&FilterFact>,
    lines: &mut Vec<String>,
) {
    let lang = asked.lang;
    let fit = last.map(|look| filter_fit(look.finding, look.action));
    let replaced = |body: Option<&Body>| {
        body.filter(|body| body.surface() == Some(tag))
            .is_some_and(|body| {
                matches!(
                    body,
                    Body::FilterLooked {
                        action: Action::Replaced,
                        ..
                    }
                )
            })
    };
    match (
        replaced(change.entry.body),
        replaced(change.corrected.body.as_ref()),
    ) {
        (true, false) => {
            stock::filter_on_shelf(asked.state, draft, surface, change.entry.record.first);
        }
        (false, true) => {
            let first = change.entry.record.first;
            if stock::was_on_shelf(asked.state, surface, first) {
                lines.extend(stock::filter_used(asked, draft, surface, Action::Replaced));
            }
        }
        (true, true) | (false, false) => {}
    }
    let counted = change
        .beside()
        .any(|record| shows(&record.body, tag, TurnStep::Filter));
    // A correction shows no step: whoever turns it over says so where the others are said.
    let going = Going::under_way(asked, tag, surface);
    if fit == Some(true) && going.is_some_and(|going| !going.has(TurnStep::Filter)) {
        lines.push(say!(lang, "amend-step-on-card", tag = tag.as_str()));
    }
    // What was seen before the turnover began is not what it asks for.
    let began = change
        .all
        .iter()
        .rfind(|record| matches!(&record.body, Body::TurnoverOpened { tag: of, .. } if of == tag));
    let in_turnover = |look: &FilterFact| began.is_none_or(|began| look.no > began.no);
    let holds = fit == Some(true) && last.is_some_and(in_turnover);
    if holds || !counted {
        if surface.bed().is_some() && fit == Some(false) {
            lines.push(say!(lang, "amend-filter-unfit", tag = tag.as_str()));
        }
        return;
    }
    no_longer_counts(asked, draft, (tag, surface), &[TurnStep::Filter], lines);
}

/// What a corrected cleaning brings about: a cover that lets fluid in, and a turnover that counted on it.
fn cleaned(
    asked: &Asked<'_>,
    draft: &mut Draft,
    change: &Change<'_>,
    (tag, surface): (&Tag, &Surface),
    entries: &[Entry<'_>],
    lines: &mut Vec<String>,
) {
    let damaged = |body: Option<&Body>| {
        matches!(
            body,
            Some(Body::Cleaned {
                cover: Cover::Damaged,
                ..
            })
        )
    };
    let newest = entries
        .iter()
        .filter(|entry| {
            let about = entry.counts().is_some_and(|body| {
                matches!(body, Body::Cleaned { .. }) && body.surface() == Some(tag)
            });
            about && entry.record.no > change.no()
        })
        .count()
        == 0;
    let is_damaged = damaged(change.corrected.body.as_ref()) && change.is_at(tag);
    let was_damaged =
        damaged(change.entry.body) && change.entry.body.and_then(Body::surface) == Some(tag);
    // What left the register is nobody's to take out of service.
    let there = !matches!(surface.life, Life::Retired { .. });
    if is_damaged && !was_damaged && newest && there {
        lines.push(clean::damaged(asked, draft, tag, surface));
        return;
    }
    if was_damaged && !is_damaged && matches!(surface.life, Life::OutOfService { .. }) {
        lines.push(say!(asked.lang, "amend-still-out", tag = tag.as_str()));
    }
    let counted = change
        .beside()
        .any(|record| shows(&record.body, tag, TurnStep::Cleaned));
    if !counted || change.is_at(tag) && counts(asked, surface, change.corrected.body.as_ref()) {
        return;
    }
    let all = undoes(
        Cleaning::BetweenResidents,
        crate::choice::Method::Other,
        Cover::Stained,
    );
    no_longer_counts(asked, draft, (tag, surface), all, lines);
}

fn shows(body: &Body, tag: &Tag, step: TurnStep) -> bool {
    matches!(body, Body::TurnShown { tag: of, step: shown } if of == tag && *shown == step)
}

/// Whether a cleaning, as it reads now, finishes its step of a turnover.
fn counts(asked: &Asked<'_>, surface: &Surface, body: Option<&Body>) -> bool {
    let Some(Body::Cleaned {
        reason: Cleaning::BetweenResidents,
        method,
        product,
        cover,
        ..
    }) = body
    else {
        return false;
    };
    let listed = product
        .as_deref()
        .and_then(|name| asked.state.products.get(name));
    let sporicidal = listed.is_some_and(|product| product.sporicidal);
    cleaning_counts(*method, *cover, surface.clean_last, sporicidal)
}

/// A step of the last turnover does not hold as it was entered: what is on the way is done again, what was ready is not
/// any more, and who lies on it is not forgotten.
fn no_longer_counts(
    asked: &Asked<'_>,
    draft: &mut Draft,
    (tag, surface): (&Tag, &Surface),
    steps: &[TurnStep],
    lines: &mut Vec<String>,
) {
    let lang = asked.lang;
    if let Some(mut going) = Going::under_way(asked, tag, surface) {
        if steps.iter().any(|step| going.has(*step)) {
            going.undo(draft, steps);
            if steps.contains(&TurnStep::Cleaned) {
                going.wet_no_more(asked, draft);
            }
            lines.push(going.left(lang));
        }
        return;
    }
    match &surface.life {
        Life::Ready { .. } => {
            turnover::open(asked, draft, tag, surface);
            lines.push(say!(lang, "amend-not-ready", tag = tag.as_str()));
        }
        Life::Placed { .. } => {
            lines.push(say!(lang, "amend-placed-so", surface = asked.with_bed(tag)))
        }
        Life::Soiled(_) | Life::OutOfService { .. } | Life::Retired { .. } => {}
    }
}
