//! The power fails once, at each single place where it can. Decides what must be the same afterwards:
//! what the channels read, who was called, what each person was told. An answer may come late, as a
//! message to its person in the channel.

use std::collections::BTreeMap;
use std::time::Duration;

use anyhow::{Context, Result, ensure};
use commands::say;
use commands::words::{self, Lang};

use super::chat::{Called, Look, Posted};
use super::show::Show;
use super::talker::Talk;
use super::world::{Trouble, World};

/// The conversations whose every commit and every request is tried, by file. Each kind of message that calls somebody,
/// of card that changes, and of answer that takes a card's place belongs in one of them; `TALK=name` tries any other
/// conversation in the same way before its name is put here.
pub const NAMED: &[&str] = &[
    "low_reading",
    "bottomed_out",
    "could_not_check",
    "round",
    "round_twice_tapped",
    "alarm_climbs",
    "alarm_fixed",
    "alarm_not_safe",
    "alarm_fixed_but_low",
    "alarm_out_of_service",
    "alarm_two_at_once",
    "take_back",
    "turnover",
    "facility_policy",
    "fleet_import",
    "shift_cards",
    "time_away",
    "outage_climbs",
    "used_roll",
    "turnover_inspection",
    "used_contact_time",
    "set_up_late",
    "used_leave",
    "used_repair",
    "used_recall",
    "used_hold",
    "swap",
    "used_gap",
    "used_rental",
    "used_stock",
    "plain",
];

/// The program is up again before an answer is too late, or only after that.
const DOWN: [Duration; 2] = [Duration::from_millis(200), Duration::from_secs(5)];

/// Tries every place. Returns how many there are.
///
/// # Errors
/// The first place after which something is missing, doubled or different.
pub fn everywhere(talk: &mut Talk) -> Result<usize> {
    let (_, plain) = talk.run(Trouble::None)?;
    let wanted = End::of(&plain);
    let mut places: Vec<Trouble> = (1..=plain.commits).map(Trouble::CutCommit).collect();
    places.extend((1..=plain.chat.accepted).map(Trouble::CutRequest));
    for place in &places {
        for down in DOWN {
            talk.down(down);
            let (_, mut world) = talk.run(*place).with_context(|| format!("{place:?}"))?;
            ensure!(world.trouble == Trouble::None, "{place:?} never came");
            let end = End::of(&world);
            world
                .verify()
                .with_context(|| format!("{place:?}, down for {down:?}"))?;
            wanted
                .same(&end)
                .with_context(|| format!("{place:?}, down for {down:?}"))?;
        }
    }
    talk.down(DOWN[0]);
    Ok(places.len())
}

/// What can be read in the end.
#[derive(Debug, Default)]
struct End {
    /// In each channel, or by each person alone: what can be read, and who was called.
    shown: BTreeMap<(String, Called, String), usize>,
    /// Answers that came late, in a channel.
    late: BTreeMap<String, usize>,
}

impl End {
    fn of(world: &World) -> Self {
        let zone = world.zone();
        let show = Show {
            cast: &world.cast,
            zone: &zone,
        };
        let late = Lang::ALL.map(|lang| words::say(lang, "bot-answer-late", &[]));
        let mut end = Self::default();
        // One that still waits belongs to a command that was sent again.
        for one in world
            .chat
            .messages
            .iter()
            .filter(|one| one.look != Look::default())
        {
            let look = |look: &Look| show.look(look, world.now()).join("\n");
            if let Some(answer) = late_answer(one, &late) {
                *end.late.entry(look(&answer)).or_default() += 1;
                continue;
            }
            let place = match one.only {
                Some(who) => world.cast.name(who).to_owned(),
                None => world.cast.channel_name(one.channel),
            };
            *end.shown
                .entry((place, one.called.clone(), look(&one.look)))
                .or_default() += 1;
        }
        end
    }

    /// How many messages called whom, in each channel.
    fn calls(&self) -> BTreeMap<(&str, &Called), usize> {
        let mut calls = BTreeMap::new();
        for ((place, called, _), count) in self
            .shown
            .iter()
            .filter(|((place, ..), _)| place.starts_with('#'))
        {
            *calls.entry((place.as_str(), called)).or_default() += count;
        }
        calls
    }

    /// Whether `other` shows all that this shows, each once: what is missing came late, and what is more than
    /// that is a card that a late answer could not take the place of.
    fn same(&self, other: &Self) -> Result<()> {
        // Whatever they read in the end: as many messages in each channel, and as many calls.
        let calls = self.calls();
        ensure!(
            calls == other.calls(),
            "messages in a channel and whom they called: {calls:?}, not {:?}",
            other.calls()
        );
        let mut late = other.late.clone();
        let mut stale = late.values().sum::<usize>();
        for (shown, count) in &self.shown {
            for _ in other.shown.get(shown).copied().unwrap_or(0)..*count {
                // As the one person read it where the home has approved beds, else without them.
                let hidden = Lang::ALL.map(|lang| words::say(lang, "answer-hidden", &[]));
                let read = [shown.2.clone(), without_beds(&shown.2)];
                let key = read
                    .iter()
                    .chain(&hidden)
                    .find(|look| late.get(*look).is_some_and(|left| *left > 0));
                let came = key.and_then(|look| late.get_mut(look));
                *came.with_context(|| {
                    format!("missing in {} ({:?}):\n{}", shown.0, shown.1, shown.2)
                })? -= 1;
            }
        }
        for (shown, count) in &other.shown {
            let more = count.saturating_sub(self.shown.get(shown).copied().unwrap_or(0));
            ensure!(
                more <= stale,
                "too much in {} ({:?}):\n{}",
                shown.0,
                shown.1,
                shown.2
            );
            stale -= more;
        }
        let left: Vec<&String> = late
            .iter()
            .filter(|(_, left)| **left > 0)
            .map(|(look, _)| look)
            .collect();
        // An answer whose place a later one took is in no end of the plain run.
        ensure!(
            left.len() <= stale + other.late.len(),
            "answers that nobody asked for: {left:?}"
        );
        Ok(())
    }
}

/// An answer that came late, without its first line, or what took its place since: nothing else calls one person.
fn late_answer(one: &Posted, late: &[String]) -> Option<Look> {
    (one.only.is_none() && one.to_one().is_some()).then(|| match one.look.text.split_once('\n') {
        Some((head, text)) if late.iter().any(|late| head.ends_with(late)) => Look {
            text: text.to_owned(),
            ..one.look.clone()
        },
        _ => one.look.clone(),
    })
}

/// What one person read, as a whole channel may read it: posts show tags, not beds, until the home has approved them.
fn without_beds(look: &str) -> String {
    let mut plain = look.to_owned();
    for lang in Lang::ALL {
        let named = say!(lang, "surface-with-bed", tag = "", bed = "");
        let before = named.trim_end_matches(')');
        let mut parts = plain.split(before);
        let mut without = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            without.push_str(part.split_once(')').map_or(part, |(_, rest)| rest));
        }
        plain = without;
    }
    plain
}
