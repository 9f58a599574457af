//! The ladder: who is asked at which minute, and when a promise about an alarm that was not kept begins it
//! again. Opening is minute 0; minutes are elapsed time, whatever the clocks do. Leaves to `outage` when the roll of a
//! power failure climbs it.

use chrono::{DateTime, TimeDelta, Utc};

use super::asking::{self, Asks};
use crate::decide::alarm_nobody as nobody;
use crate::decide::which_bed::which_button;
use crate::decide::{
    Draft, alarm_channel, alarm_edit, button, edit_calls, edit_newest_call, in_post, minutes_open,
    span, whom_to_phone,
};
use crate::decision::{Decision, Lane};
use crate::ids::{AlarmNo, Unit};
use crate::message::{Button, Look, Message};
use crate::record::{Body, On, Overrun};
use crate::role::Role;
use crate::rules::policy::Name;
use crate::said::Source;
use crate::say;
use crate::state::{Alarm, FIRST_REPEAT, Facility, Ladder, State, again_key, rung_key};
use crate::tap::Tap;

/// The last rung that asks somebody new, and is asked whatever happens: it says whom to phone.
pub(crate) const TOP: u32 = FIRST_REPEAT - 1;

/// Whom each rung asks: the unit's aides at once, then nurses, then supervisors, then everybody.
pub(crate) fn rung_roles(rung: u32) -> &'static [Role] {
    match rung {
        0 => &[Role::Aide],
        1 => &[Role::Aide, Role::Nurse],
        2 => &[Role::Nurse, Role::Supervisor],
        _ => &[Role::Aide, Role::Nurse, Role::Supervisor],
    }
}

/// The ladder of an alarm. Where nobody lies on the surface on record it stays with those who can look, who are called again
/// without an end but seldom: somebody may have moved it and not said so (common practice).
fn ladder_of(state: &State, alarm: &Alarm) -> Ladder {
    if !nobody::is_under(state, &alarm.tag) {
        return state.ladder;
    }
    let again = state.policies.get(Name::SpareAlarm);
    let again = u16::try_from(again).unwrap_or(u16::MAX);
    let first = state.ladder.first;
    Ladder {
        first,
        second: first.saturating_add(again),
        third: first.saturating_add(again.saturating_mul(2)),
        repeat: again,
    }
}

/// Whom a rung of an alarm asks.
fn alarm_asks(
    state: &State,
    alarm: &Alarm,
    unit: Option<&Unit>,
    rung: u32,
    now: DateTime<Utc>,
) -> Asks {
    if nobody::is_under(state, &alarm.tag) {
        return asking::safety(state, unit, rung_roles(rung.min(1)), now);
    }
    rung_asks(state, unit, rung, now)
}

/// Whom a rung asks. From the last new one on it is everybody of each role, whoever is on duty: those have been called
/// and nobody came, and somebody in another unit, or at home by a phone, can.
pub(crate) fn rung_asks(state: &State, unit: Option<&Unit>, rung: u32, now: DateTime<Utc>) -> Asks {
    let roles = rung_roles(rung);
    if rung >= TOP {
        asking::everybody(state, unit, roles, now)
    } else {
        asking::safety(state, unit, roles, now)
    }
}

/// The rungs whose calls, where they still wait to be sent, say nothing any more once `rung` is called: from the last new one
/// on it calls everybody whom they call, and says how it stands now.
pub(crate) fn overtaken(last: u32, rung: u32) -> Vec<u32> {
    if rung < TOP {
        return Vec::new();
    }
    // One from before the ladder began again has another name.
    let newest = (TOP..rung).contains(&last).then_some(last);
    (1..TOP).chain(newest).collect()
}

/// How far a ladder has been climbed: that of an alarm, or of the roll in a power failure.
#[derive(Clone, Copy)]
pub(crate) struct Climb {
    /// Minute 0.
    pub from: DateTime<Utc>,
    /// The newest rung that was asked.
    pub rung: u32,
    /// How many rungs were passed over: each moves those after it to its own minute.
    pub passed: u32,
    /// When it was asked.
    pub asked: DateTime<Utc>,
}

impl Climb {
    /// The next rung, and when it is asked: at the minute of the first one that has not been used, or sooner, where the one
    /// before it was called early. What people are told of the next call is this.
    pub fn next(self, ladder: Ladder) -> (u32, DateTime<Utc>) {
        let mut rung = self.rung + 1;
        let place = rung.saturating_sub(self.passed);
        let mut at = ladder.rung_at(self.from, place);
        // A rung that was called before its minute, because whoever had gone cannot, brings those after it nearer: each is
        // asked as long after the one before it as the ladder says, and never later than its own minute.
        let before = ladder.rung_at(self.from, place.saturating_sub(1));
        at = at.min(self.asked + (at - before));
        if rung >= FIRST_REPEAT {
            let repeat = TimeDelta::minutes(i64::from(ladder.repeat.max(1)));
            // The call before came late: a repeat whose minute was then, or is soon after, is no news.
            let late = (self.asked + repeat / 2 - at).num_seconds();
            let missed = late
                .max(0)
                .unsigned_abs()
                .div_ceil(repeat.num_seconds().unsigned_abs());
            let missed = u32::try_from(missed).unwrap_or(0);
            rung += missed;
            at += repeat * i32::try_from(missed).unwrap_or(0);
            // A ladder that was lengthened meanwhile silences nobody: counted from the last call, too.
            at = at.min(self.asked + repeat);
        }
        (rung, at)
    }

    /// The rung to ask at `now`. Nobody waits for a rung that is `empty`: the one after it is asked in its place. Where the
    /// one after that is due as well, nobody was there to ask the first: everybody is asked at once, by one call that says
    /// how it stands now, and of the repeats that were missed only the newest.
    pub fn newest(self, ladder: Ladder, now: DateTime<Utc>, empty: impl Fn(u32) -> bool) -> u32 {
        let (mut rung, at) = self.next(ladder);
        while rung < TOP && empty(rung) {
            rung += 1;
        }
        let after = (self.rung + 2).saturating_sub(self.passed);
        if ladder.rung_at(self.from, after) <= now {
            rung = rung.max(TOP);
        }
        if rung < FIRST_REPEAT {
            return rung;
        }
        let late = (now - at).num_minutes().max(0);
        rung + u32::try_from(late / i64::from(ladder.repeat.max(1))).unwrap_or(0)
    }
}

fn climb_of(alarm: &Alarm) -> Climb {
    Climb {
        from: alarm.ladder_from,
        rung: alarm.rung,
        passed: alarm.passed,
        asked: alarm.asked,
    }
}

/// The next rung of an alarm that nobody has taken, and when it is asked.
pub(crate) fn next_rung(state: &State, alarm: &Alarm) -> (u32, DateTime<Utc>) {
    climb_of(alarm).next(ladder_of(state, alarm))
}

/// What the clock has to do next about any alarm.
pub(super) fn next(state: &State) -> Option<(DateTime<Utc>, AlarmNo)> {
    state
        .alarms
        .iter()
        // While the CPR valve is open nobody is called, unless it was forgotten; the ladder begins again when that is over.
        .map(|(no, alarm)| {
            let at = wakes(state, alarm);
            let quiet = state.quiet_until(&alarm.tag);
            (quiet.map_or(at, |until| at.max(until)), *no)
        })
        .min()
}

/// When an alarm next wants the clock: the next rung, or the end of a promise.
fn wakes(state: &State, alarm: &Alarm) -> DateTime<Utc> {
    match overrun(state, alarm) {
        Some((_, at)) => at,
        None => next_rung(state, alarm).1,
    }
}

/// The promise of whoever took it that ends first, and when.
fn overrun(state: &State, alarm: &Alarm) -> Option<(Overrun, DateTime<Utc>)> {
    let (_, taken) = alarm.taken?;
    let within = |name| taken + TimeDelta::minutes(state.policies.get(name));
    let fixed = (Overrun::NotFixed, within(Name::FixWithin));
    let safe = (Overrun::NotSafe, within(Name::SafeWithin));
    let somebody = !nobody::is_under(state, &alarm.tag);
    // Where both end at once, what matters more is whether the person is safe.
    Some(if somebody && alarm.safe.is_none() && safe.1 <= fixed.1 {
        safe
    } else {
        fixed
    })
}

/// The next rung is asked, or the ladder begins again.
pub(super) fn climb(
    state: &State,
    facility: &Facility,
    no: AlarmNo,
    now: DateTime<Utc>,
) -> Option<(Source, Decision)> {
    let alarm = state.alarms.get(&no)?;
    let mut draft = Draft::for_clock(state, now);
    let lang = state.lang();
    let surface = in_post(state, lang, &alarm.tag);
    let unit = state.unit_of(&alarm.tag);
    let channel = alarm_channel(state, facility, &alarm.tag);
    let on = On::Surface(alarm.tag.clone());
    if let Some((why, at)) = overrun(state, alarm) {
        let source = Source(format!("again{no}.{}", at.timestamp()));
        let newest = draft.fact(Body::LadderRestarted { alarm: no, why });
        let mut after = alarm.clone();
        after.begin_again(now, why);
        after.newest = newest;
        alarm_edit(state, facility, &mut draft, no, &after, None);
        edit_calls(state, facility, &mut draft, &after, None);
        let (key, name) = match why {
            Overrun::NotSafe => ("post-not-safe", Name::SafeWithin),
            Overrun::NotFixed => ("post-not-fixed", Name::FixWithin),
        };
        let text = say!(
            lang,
            key,
            surface = surface,
            minutes = state.policies.get(name)
        );
        let asks = asking::safety(state, unit, &[Role::Aide, Role::Nurse], now);
        let post = (again_key(no, newest), channel, Lane::Escalation);
        let message = Message::text(text).buttons(buttons(state, no, alarm));
        draft.ask(facility, on, &asks, post, message);
        return Some((source, draft.decision));
    }
    let rung = ask_next(state, facility, &mut draft, no, alarm, now);
    let source = Source(format!("rung{no}.{}.{rung}", alarm.ladder_from.timestamp()));
    Some((source, draft.decision))
}

/// What is tapped under a call.
pub(super) fn buttons(state: &State, no: AlarmNo, alarm: &Alarm) -> Vec<Button> {
    let lang = state.lang();
    let take = button(lang, "button-take", Look::Main, &Tap::Take { alarm: no });
    let bed = which_button(state, lang, &alarm.tag);
    std::iter::once(take).chain(bed).collect()
}

/// The next rung is asked at `now`, and which one that is. `alarm` is as it stands once the draft is a fact.
pub(crate) fn ask_next(
    state: &State,
    facility: &Facility,
    draft: &mut Draft,
    no: AlarmNo,
    alarm: &Alarm,
    now: DateTime<Utc>,
) -> u32 {
    let lang = state.lang();
    let unit = state.unit_of(&alarm.tag);
    let asks = |rung| alarm_asks(state, alarm, unit, rung, now);
    let nobody = nobody::is_under(state, &alarm.tag);
    // Where nobody lies on it the rungs ask nobody new, and are asked: they are what calls again.
    let rung = climb_of(alarm).newest(ladder_of(state, alarm), now, |rung| {
        !nobody && alarm.called.covers(&asks(rung).called)
    });
    let newest = draft.fact(Body::AlarmAsked { alarm: no, rung });
    let mut after = alarm.clone();
    after.climb(now, rung);
    after.newest = newest;
    alarm_edit(state, facility, draft, no, &after, None);
    edit_newest_call(state, facility, draft, &after);
    let key = match (alarm.left, rung) {
        _ if nobody => "post-rung-nobody",
        (Some(_), _) => "post-rung-again",
        (None, 0..3) => "post-rung",
        (None, _) => "post-rung-top",
    };
    let mut text = say!(
        lang,
        key,
        surface = in_post(state, lang, &alarm.tag),
        span = span(lang, minutes_open(alarm, now))
    );
    if rung >= TOP && !nobody {
        text = format!("{text}\n{}", whom_to_phone(state, lang));
    }
    let post = (
        rung_key(no, alarm.ladder_from, rung),
        alarm_channel(state, facility, &alarm.tag),
        Lane::Escalation,
    );
    let message = Message::text(text).buttons(buttons(state, no, alarm));
    let on = On::Surface(alarm.tag.clone());
    draft.ask(facility, on, &asks(rung), post, message);
    let keys = |rung| rung_key(no, alarm.ladder_from, rung);
    draft.in_place_of(overtaken(alarm.rung, rung).into_iter().map(keys));
    rung
}

#[cfg(test)]
mod tests {
    use super::*;

    const LADDER: Ladder = Ladder {
        first: 2,
        second: 5,
        third: 10,
        repeat: 10,
    };

    fn at(minutes: i64) -> DateTime<Utc> {
        DateTime::UNIX_EPOCH + TimeDelta::minutes(minutes)
    }

    fn climbed(rung: u32, passed: u32, asked: i64) -> Climb {
        Climb {
            from: at(0),
            rung,
            passed,
            asked: at(asked),
        }
    }

    #[test]
    fn the_next_rung_and_its_minute() {
        // (rung, passed over, asked at minute) and what is next at which minute.
        for ((rung, passed, asked), next) in [
            ((0, 0, 0), (1, 2)),
            ((1, 0, 2), (2, 5)),
            ((2, 0, 5), (3, 10)),
            ((3, 0, 10), (4, 20)),
            ((4, 0, 20), (5, 30)),
            // Called before its minute, by whoever cannot go: the next is as long after it as the ladder says.
            ((1, 0, 1), (2, 4)),
            ((3, 0, 7), (4, 17)),
            // Called late: the next keeps its minute.
            ((1, 0, 4), (2, 5)),
            // The first was passed over, and each after it has the minute of the one before.
            ((2, 1, 2), (3, 5)),
            ((3, 1, 5), (4, 10)),
            ((4, 2, 5), (5, 10)),
            // A late call is followed by the first repeat that is at least half of the time between two away, no later than
            // that time after it.
            ((3, 0, 15), (4, 20)),
            ((3, 0, 16), (5, 26)),
            ((3, 0, 24), (5, 30)),
            ((3, 0, 25), (5, 30)),
            ((3, 0, 26), (6, 36)),
            ((3, 0, 47), (8, 57)),
        ] {
            let (next, minute) = next;
            assert_eq!(
                climbed(rung, passed, asked).next(LADDER),
                (next, at(minute)),
                "after rung {rung} at {asked}"
            );
        }
        // It was lengthened after the last call: from that call on, too.
        let longer = Ladder {
            repeat: 60,
            ..LADDER
        };
        assert_eq!(climbed(5, 0, 30).next(longer), (6, at(90)));
    }

    #[test]
    fn the_rung_that_is_asked() {
        let none = |_| false;
        let newest = |rung, asked, now| climbed(rung, 0, asked).newest(LADDER, at(now), none);
        assert_eq!(newest(0, 0, 2), 1);
        assert_eq!(newest(0, 0, 4), 1);
        // The second is due as well: everybody.
        assert_eq!(newest(0, 0, 5), TOP);
        assert_eq!(newest(1, 2, 9), 2);
        assert_eq!(newest(1, 2, 10), TOP);
        assert_eq!(newest(2, 5, 10), 3);
        assert_eq!(newest(2, 5, 19), 3);
        // Of the repeats that were missed the newest.
        assert_eq!(newest(3, 10, 29), 4);
        assert_eq!(newest(3, 10, 30), 5);
        assert_eq!(newest(3, 10, 45), 6);
        // One was passed over, and the one after the next has its minute.
        let passed = |now| climbed(1, 1, 0).newest(LADDER, at(now), none);
        assert_eq!((passed(2), passed(4), passed(5)), (2, 2, TOP));
        // Who is called already is not waited for, but the last new rung is asked all the same.
        let after = |rung| climbed(0, 0, 0).newest(LADDER, at(2), |empty| empty <= rung);
        assert_eq!((after(1), after(2), after(3), after(9)), (2, 3, 3, 3));
    }

    #[test]
    fn the_calls_that_the_newest_takes_the_place_of() {
        assert!(overtaken(0, 1).is_empty());
        assert!(overtaken(1, 2).is_empty());
        assert_eq!(overtaken(2, 3), [1, 2]);
        assert_eq!(overtaken(3, 4), [1, 2, 3]);
        assert_eq!(overtaken(7, 9), [1, 2, 7]);
        // The ladder began again.
        assert_eq!(overtaken(7, 3), [1, 2]);
    }
}
